package rowing

import (
	"cmp"
	"fmt"
	"math"
)

// Blades is the mechanics of one rower's stroke: the oar's arms, its arc, and the blade in the water.
//
// Model: the mean force at the handle, square to the oar, is the same through the drive; the oar has no mass;
// the blade is a plate moving square to itself through still water, force = ½ ρ C A slip². Then the blade's
// efficiency, the share of the handle's work that drives the boat, is the mean over the arc of
// V cos a / (V cos a + slip), with V the boat's speed and a the oar's angle from square. A real blade also
// lifts at the catch like a wing, which is left out, and so does a little better at large angles. The time the blade
// takes to enter and leave the water and the hull's surge are left out too: in a racing stroke the drive comes out
// about a quarter shorter than is measured.
type Blades struct {
	HandArm, BladeArm float64 // from the pin, metres
	Catch, Finish     float64 // radians, from square, both positive in a good stroke
	Area              float64 // of all the blades together, m2
	Coefficient       Value   // of force, on Area; the zero Value means the default
	Density           float64 // of the water, kg/m3; 0 means sea water
}

// BladeForce is the force coefficient of a blade square to the flow.
//
// Source: flat plate of aspect 2 to 3 in a free stream 1.15 to 1.2 (Hoerner, Fluid-Dynamic Drag, from memory);
// tests on quarter-scale oar blades about 1.2 square on (Caplan and Gardner 2007, from memory). Near the surface
// and swinging it may be a quarter more or less.
var BladeForce = Value{1.2, 0.3}

// bladeShape is a blade's area over length times width. Modelling choice: blades are rounded.
const bladeShape = 0.8

// salt is the density of sea water, kg/m3.
const salt = 1025.0

// Blades are the stroke's mechanics for a set-up; both oars for a sculler.
func (s Setup) Blades(st Stroke) Blades {
	n := 2.0
	if s.Oar.Sweep {
		n = 1
	}
	return Blades{HandArm: s.Oar.HandArm(), BladeArm: s.Oar.BladeArm(), Catch: st.CatchAngle, Finish: st.FinishAngle,
		Area: n * bladeShape * s.Oar.Blade * s.Oar.Width}
}

// Pull is a stroke under way. Forces are of all the rower's oars together, newtons.
type Pull struct {
	Handle     float64 // mean through the drive, square to the oar
	Blade      float64 // the same at the blade
	Efficiency Value   // share of the handle's power that drives the boat
	Thrust     Value   // forward, the mean over the whole cycle
	Power      float64 // at the handle, mean over the whole cycle, watts
	Rate       float64 // strokes a minute
	Drive      Value   // seconds with the blade in the water
	Share      float64 // of the cycle spent in the drive
	Slip       float64 // of the blade through the water, m/s
	Hand       float64 // mean speed of the hands in the drive, m/s
	Work       float64 // joules a stroke
	Cautions   []string
}

// Limits of a person's pull, for the cautions.
const (
	// handleAllDay is the most mean force at the handle for hours: about a fifth of a strong pull of 1.2 kN held
	// in a rowing posture, the share of the greatest force that intermittent work bears for hours (Rohmert 1960:
	// 15 % if held). From memory; both differ by half between people.
	handleAllDay = 250.0
	// handleMost is about what racers reach for minutes, from memory: means of 350 to 450 N through the drive.
	handleMost = 450.0
	// driveShareMost: at racing rates the drive takes about half the cycle, and less at low rates (published rhythm
	// tables, from memory); more leaves no time to come forward.
	driveShareMost = 0.55
	// handMost is the hands' mean speed past which a loaded drive is out of reach for hours, m/s. Modelling choice; racing 1.5 to 2.2.
	handMost = 1.8
)

// Pull is the stroke that puts so much power into the handles at a rate, the boat moving at a speed.
//
// In:     power in W at the handles, above 0; rate in strokes a minute, 4 to 60; speed in m/s through the water, -3 to 10
// Out:    Efficiency nothing or below at a speed of nothing or below; spreads from the blade's coefficient and 10 % in the work of
// what differs from a stroke of even force
// Error:  ErrInput; also where the boat goes astern faster than the blade can be pulled
// Good to: the integral 1e-9 of the closed form (TestSlipIntegral); the model about 15 % in efficiency (racing: 0.67 to 0.82 published)
func (b Blades) Pull(power, rate, speed float64) (Pull, error) {
	if err := cmp.Or(b.valid(), within("the power", power, 1e-3, 3000, "W"), within("the rate", rate, 4, 60, "a minute")); err != nil {
		return Pull{}, err
	}
	return b.pull(power*60/rate/(b.HandArm*(b.Catch+b.Finish)), rate, speed)
}

// PullOf is the stroke of so much mean force at the handles.
//
// In:     force in N; the rest as Pull
// Error:  as Pull
func (b Blades) PullOf(force, rate, speed float64) (Pull, error) {
	if err := cmp.Or(b.valid(), within("the force", force, 1e-3, 3000, "N"), within("the rate", rate, 4, 60, "a minute")); err != nil {
		return Pull{}, err
	}
	return b.pull(force, rate, speed)
}

// Bollard is a stroke with the boat held: what the oars pull on a line made fast.
//
// In, Error: as PullOf
func (b Blades) Bollard(force, rate float64) (Pull, error) { return b.PullOf(force, rate, 0) }

// evenness is the relative spread that comes of calling the force even through the drive. Modelling choice.
const evenness = 0.10

// loaded is the relative spread of the drive's time: what entry, release and surge may add. Modelling choice after racing.
const loaded = 0.25

// pull works out a stroke of a force.
func (b Blades) pull(force, rate, speed float64) (Pull, error) {
	if err := within("the speed", speed, -3, 10, "m/s"); err != nil {
		return Pull{}, err
	}
	c := b.coefficient()
	arc := b.Catch + b.Finish
	p := Pull{Handle: force, Blade: force * b.HandArm / b.BladeArm, Rate: rate, Work: force * b.HandArm * arc}
	p.Power = p.Work * rate / 60
	p.Slip = b.slip(p.Blade, c.Value)
	if sure := b.slip(p.Blade, c.Value+c.Spread); speed+sure <= 0 {
		return Pull{}, fmt.Errorf("%w: astern at %g m/s: %.0f N at the handles pulls the blade no faster than %.2g m/s through the water, and the oar would be driven back; give more force or less speed astern", ErrInput, -speed, force, sure)
	}
	eff, drive := b.drive(speed, p.Slip)
	low, slow := b.drive(speed, b.slip(p.Blade, c.Value-c.Spread))
	high, quick := b.drive(speed, b.slip(p.Blade, c.Value+c.Spread))
	p.Efficiency = Value{eff, math.Hypot((high-low)/2, evenness*eff*(1-eff))}
	p.Drive = Value{drive, math.Hypot((quick-slow)/2, loaded*drive)}
	cycle := 60 / rate
	p.Share = drive / cycle
	p.Hand = b.HandArm * arc / drive
	// Thrust by the impulse of one drive; the same as efficiency × power / speed wherever the boat moves.
	p.Thrust.Value = p.Blade * b.impulse(speed, p.Slip) / cycle
	t0, t1 := p.Blade*b.impulse(speed, b.slip(p.Blade, c.Value-c.Spread))/cycle, p.Blade*b.impulse(speed, b.slip(p.Blade, c.Value+c.Spread))/cycle
	p.Thrust.Spread = math.Hypot((t1-t0)/2, evenness*p.Thrust.Value)
	p.Cautions = p.cautions()
	return p, nil
}

// cautions says where a stroke is one that a person would not keep.
func (p Pull) cautions() []string {
	var out []string
	if p.Share > driveShareMost {
		out = append(out, fmt.Sprintf("the drive would take %.0f %% of each stroke's time: a rate of %.0f with this oar leaves no time to come forward; row fewer strokes a minute or a lighter gear", 100*p.Share, p.Rate))
	}
	if p.Handle > handleMost {
		out = append(out, fmt.Sprintf("%.0f N at the handles is more than racers hold for minutes", p.Handle))
	} else if p.Handle > handleAllDay {
		out = append(out, fmt.Sprintf("%.0f N at the handles is more than is likely to be kept for hours (about %.0f N)", p.Handle, handleAllDay))
	}
	if p.Hand > handMost {
		out = append(out, fmt.Sprintf("the hands would have to go %.1f m/s; a heavier gear slows them", p.Hand))
	}
	return out
}

// coefficient is the blade's, or the default.
func (b Blades) coefficient() Value {
	if b.Coefficient.Value == 0 {
		return BladeForce
	}
	return b.Coefficient
}

// density is the water's, or sea water's.
func (b Blades) density() float64 {
	if b.Density == 0 {
		return salt
	}
	return b.Density
}

// slip is the speed of the blade through the water, square to itself, that gives a force.
func (b Blades) slip(force, coefficient float64) float64 {
	return math.Sqrt(force / (0.5 * b.density() * coefficient * b.Area))
}

// parts of Simpson's rule over the arc.
const simpson = 64

// over integrates over the oar's angle from catch to finish.
func (b Blades) over(f func(cos float64) float64) float64 {
	h := (b.Catch + b.Finish) / simpson
	sum := 0.0
	for i := range simpson + 1 {
		w := 2.0
		if i == 0 || i == simpson {
			w = 1
		} else if i%2 == 1 {
			w = 4
		}
		sum += w * f(math.Cos(-b.Catch+float64(i)*h))
	}
	return sum * h / 3
}

// drive is the blade's efficiency and the drive's time: the oar turns at (V cos a + slip) / arm.
func (b Blades) drive(speed, slip float64) (efficiency, seconds float64) {
	arc := b.Catch + b.Finish
	efficiency = b.over(func(c float64) float64 { return speed * c / (speed*c + slip) }) / arc
	seconds = b.over(func(c float64) float64 { return b.BladeArm / (speed*c + slip) })
	return efficiency, seconds
}

// impulse is the integral over the drive of cos a dt.
func (b Blades) impulse(speed, slip float64) float64 {
	return b.over(func(c float64) float64 { return c * b.BladeArm / (speed*c + slip) })
}

// valid checks blades.
func (b Blades) valid() error {
	c := b.coefficient()
	return cmp.Or(within("the hand's arm", b.HandArm, 0.05, 4, "m"), within("the blade's arm", b.BladeArm, 0.05, 7, "m"),
		within("the catch", b.Catch, -1.4, 1.4, "rad"), within("the finish", b.Finish, -1.4, 1.4, "rad"), within("the arc", b.Catch+b.Finish, 0.05, 2.8, "rad"),
		within("the blades' area", b.Area, 1e-3, 2, "m2"), within("the blade's coefficient", c.Value, 0.1, 5, ""),
		within("its spread", c.Spread, 0, 0.9*c.Value, ""), within("the water's density", b.density(), 500, 1500, "kg/m3"))
}

// ErgometerPower is the power shown by a rowing ergometer at a pace.
//
// In:     pace in seconds a metre, above 0
// Out:    watts
// Error:  ErrInput
// Source: P = 2.80 / pace³, the usual ergometers' formula; 2:00 for 500 m: 202.5 W
func ErgometerPower(pace float64) (float64, error) {
	if err := within("the pace", pace, 0.05, 10, "s/m"); err != nil {
		return 0, err
	}
	return 2.80 / (pace * pace * pace), nil
}

// ErgometerPace is the pace at a power, seconds a metre.
//
// Error:  ErrInput
// Source: as ErgometerPower
func ErgometerPace(power float64) (float64, error) {
	if err := within("the power", power, 1e-2, 1e5, "W"); err != nil {
		return 0, err
	}
	return math.Cbrt(2.80 / power), nil
}
