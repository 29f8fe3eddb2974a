package underway

import (
	"errors"
	"fmt"
	"math"

	"thole/internal/model"
	"thole/internal/resistance"
	"thole/internal/rowing"
)

// usualHours at the oars in a day: what crossings were rowed at, 8 to 12 for one alone; common practice, no source.
const usualHours = 10

// usualAge and usualMass are of a rower of whom neither is told.
const usualAge, usualMass = 40, 75

// ErrTooHard is a speed that hands cannot keep.
var ErrTooHard = errors.New("harder than the hands can pull for hours")

// Rower is one of the crew at the oars.
type Rower struct {
	Fitted
	Name   string
	Power  rowing.Value // W at the handles
	Hours  float64      // a day
	Blades rowing.Blades
	Pace   rowing.Pace
	curve  []resistance.Force // thrust by speed
}

// Crew is everybody who rows, in the best setting of each.
type Crew struct {
	Rowers []Rower
	Lacks  []Lacks // why there are none
}

// The thrust is read off a table to this speed, m/s, in so many steps.
const (
	fastest = 6.0
	speeds  = 90
)

// Crew is all of the crew at the places that they row from, worked out once.
//
// Error:  a state in which she does not float, or measures that cannot be
func (w *Way) Crew() (Crew, error) {
	w.rig.Do(func() { w.crew, w.fault = w.people() })
	return w.crew, w.fault
}

func (w *Way) people() (Crew, error) {
	seats, lacks := w.seats()
	c := Crew{Lacks: lacks}
	if len(lacks) > 0 {
		return c, nil
	}
	waters, err := w.Waters(false)
	if err != nil {
		return c, err
	}
	for i := range seats {
		best, err := seats[i].Best(waters)
		if err != nil {
			return c, err
		}
		r := Rower{Fitted: best, Pace: rowing.Hours()}
		p := &w.Trip.Folder.Voyage.Crew[best.Person]
		r.Name, r.Hours = p.Name, hours(p)
		if r.Power, err = power(p); err != nil {
			return c, err
		}
		r.Blades = best.Setup.Blades(best.Fit.Stroke)
		r.Blades.Density = w.Water.Density
		// It hangs on the rower and the oars alone, and so is the same for every load of the shape.
		curve, err := w.keep.KeepShape(fmt.Sprintf("underway thrust %v %v %v", r.Blades, r.Power, r.Pace), func() (any, error) {
			err := r.tabulate()
			return r.curve, err
		})
		if err != nil {
			return c, fmt.Errorf("%s: %w", r.Name, err)
		}
		r.curve = curve.([]resistance.Force)
		c.Rowers = append(c.Rowers, r)
	}
	return c, nil
}

// hours at the oars in a day.
func hours(p *model.Person) float64 {
	if p.Hours > 0 {
		return float64(p.Hours) / 3600
	}
	return usualHours
}

// power is what a person keeps up for those hours: as told, or by published figures on the first day.
func power(p *model.Person) (rowing.Value, error) {
	if p.Power.Value > 0 {
		return rowing.Value{Value: float64(p.Power.Value), Spread: float64(p.Power.Tolerance)}, nil
	}
	r := rowing.Rower{Name: p.Name, Mass: float64(p.Mass.Value), Stature: float64(p.Stature), Age: float64(p.Age)}
	if p.Body == model.Woman {
		r.Sex = rowing.Woman
	}
	if r.Age == 0 {
		r.Age = usualAge
	}
	if r.Mass == 0 {
		r.Mass = usualMass
	}
	h := hours(p)
	d, err := r.Day(rowing.Plan{{Hours: 24, On: h, Off: 24 - h}}, 0, rowing.Weeks())
	return d.Power, err
}

// CrewTaken lists what was taken of the crew's strength.
func (w *Way) CrewTaken() (out []Assumed) {
	if w.Trip.Folder.Voyage == nil {
		return nil
	}
	sys := w.Trip.Folder.Boat.Units
	for i := range w.Trip.Folder.Voyage.Crew {
		p := &w.Trip.Folder.Voyage.Crew[i]
		if p.Hours == 0 {
			out = append(out, Assumed{"hours at the oars of " + p.Name, fmt.Sprintf("%d h a day", usualHours), "common practice, no source", fmt.Sprintf("voyage.yaml: crew[%d].hours", i)})
		}
		if p.Power.Value == 0 {
			if v, err := power(p); err == nil {
				out = append(out, Assumed{"power of " + p.Name, fmt.Sprintf("%.0f W ± %.0f W", v.Value, v.Spread), "a healthy adult over those hours, by Wilkie (1960) and the energy a body turns over for weeks", fmt.Sprintf("voyage.yaml: crew[%d].power", i)})
			}
		} else if !p.Power.Given {
			out = append(out, Assumed{"how well the power of " + p.Name + " is known", "± " + sys.Power(p.Power.Tolerance), "no +- behind it", fmt.Sprintf("voyage.yaml: crew[%d].power", i)})
		}
		if p.InsideLeg == 0 && p.Stature > 0 {
			out = append(out, Assumed{"legs of " + p.Name, "as others of that stature", "Drillis and Contini (1966)", fmt.Sprintf("voyage.yaml: crew[%d].inside leg", i)})
		}
	}
	return out
}

// tabulate works the thrust out by speed, with what the doubts of power and blade do to it.
func (r *Rower) tabulate() error {
	r.curve = make([]resistance.Force, speeds+1)
	for i := range r.curve {
		f, err := r.push(fastest*float64(i)/speeds, r.Power)
		if err != nil {
			return err
		}
		r.curve[i] = f
	}
	return nil
}

// push is the thrust of a power at a speed.
func (r *Rower) push(v float64, p rowing.Value) (resistance.Force, error) {
	at, err := r.Blades.Steady(p.Value, v, r.Pace)
	if err != nil {
		return resistance.Force{}, err
	}
	f := resistance.Force{Value: at.Thrust.Value, Spread: at.Thrust.Spread}
	if less := p.Value - p.Spread; p.Spread > 0 {
		weak, err := r.Blades.Steady(math.Max(less, 0.05*p.Value), v, r.Pace)
		if err != nil {
			return f, err
		}
		f.Spread = math.Hypot(f.Spread, at.Thrust.Value-weak.Thrust.Value)
	}
	return f, nil
}

// Pull is the rower's stroke at a speed.
//
// Error:  as rowing.Blades.Steady
func (r *Rower) Pull(v float64) (rowing.Pull, error) {
	return r.Blades.Steady(r.Power.Value, v, r.Pace)
}

// Thrust is what one rower makes at a speed; astern as at rest.
func (r *Rower) Thrust(v float64) resistance.Force {
	u := math.Max(0, math.Min(v/fastest, 1)) * speeds
	i := min(int(u), speeds-1)
	t := u - float64(i)
	a, b := r.curve[i], r.curve[i+1]
	return resistance.Force{Value: a.Value + t*(b.Value-a.Value), Spread: a.Spread + t*(b.Spread-a.Spread)}
}

// Thrust is what all of them make together; what is not known of one blade is not known of the other, so spreads add up.
func (c Crew) Thrust(v float64) resistance.Force {
	var sum resistance.Force
	for i := range c.Rowers {
		f := c.Rowers[i].Thrust(v)
		sum.Value, sum.Spread = sum.Value+f.Value, sum.Spread+f.Spread
	}
	return sum
}

// Power is what all of them put into the handles.
func (c Crew) Power() rowing.Value {
	var sum rowing.Value
	for _, r := range c.Rowers {
		sum.Value, sum.Spread = sum.Value+r.Power.Value, sum.Spread+r.Power.Spread
	}
	return sum
}

// at is those who sit at the oars in a condition.
func (c Crew) at(sits []int) Crew {
	var out Crew
	for _, r := range c.Rowers {
		if r.Person < len(sits) && sits[r.Person] == r.Place {
			out.Rowers = append(out.Rowers, r)
		}
	}
	out.Lacks = c.Lacks
	return out
}

// With is the same crew at so many times their power.
//
// In:     share above 0
// Error:  as rowing.Blades.Steady
func (c Crew) With(share float64) (Crew, error) {
	out := Crew{Rowers: append([]Rower(nil), c.Rowers...)}
	for i := range out.Rowers {
		out.Rowers[i].Power = rowing.Value{Value: share * c.Rowers[i].Power.Value, Spread: 0}
		if err := out.Rowers[i].tabulate(); err != nil {
			return out, err
		}
	}
	return out, nil
}

// power is what must come to the handles for a force at a speed, everybody giving the same share of their own.
func (c Crew) power(v float64, f resistance.Force) (watts, spread float64, err error) {
	if f.Value <= 0 || len(c.Rowers) == 0 {
		return 0, 0, nil
	}
	made := func(share float64) (thrust resistance.Force, given float64, err error) {
		for i := range c.Rowers {
			r := &c.Rowers[i]
			p, err := r.Blades.Steady(share*r.Power.Value, v, r.Pace)
			if err != nil {
				return thrust, 0, err
			}
			thrust.Value += p.Thrust.Value
			thrust.Spread += p.Thrust.Spread
			given += p.Power
		}
		return thrust, given, nil
	}
	find := func(want float64) (float64, resistance.Force, error) {
		low, high := 1e-3, 12.0
		top, _, err := made(high)
		if err == nil && top.Value < want {
			return 0, top, fmt.Errorf("%w: %.0f N asked, %.0f N at most", ErrTooHard, want, top.Value)
		}
		for i := 0; err == nil && i < 32; i++ {
			m := math.Sqrt(low * high)
			var at resistance.Force
			if at, _, err = made(m); at.Value < want {
				low = m
			} else {
				high = m
			}
		}
		if err != nil {
			return 0, top, err
		}
		at, given, err := made(high)
		return given, at, err
	}
	watts, at, err := find(f.Value)
	if err != nil {
		return 0, 0, err
	}
	// The doubts of resistance and blade, as a force, by the steepness of the power.
	nudged, _, err := find(f.Value * 0.99)
	if err != nil {
		return 0, 0, err
	}
	return watts, (watts - nudged) / (0.01 * f.Value) * math.Hypot(f.Spread, at.Spread), nil
}
