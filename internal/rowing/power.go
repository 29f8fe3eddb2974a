package rowing

import (
	"cmp"
	"fmt"
	"math"
)

// Fitness is whose power is asked for.
type Fitness int

// The three for whom there are published figures.
const (
	Healthy  Fitness = iota // a healthy adult, not trained; a labourer's day
	Trained                 // three quarters of a champion: Wilkie's ordinary healthy people at their best
	Champion                // champion athletes
)

// horsepower in watts.
const horsepower = 745.7

// ordinary is what ordinary healthy people give of a champion's power: less than 70 to 80 per cent.
//
// Source: Wilkie, "Man as a source of mechanical power", Ergonomics 3 (1960) 1-8, abstract
const ordinary = 0.75

// lasting is a power that lasts so many hours, and its half width, 19 in 20.
type lasting struct{ hours, watts, spread float64 }

// curves are the published points; between them, and past the last, straight lines of log power on log time.
//
// Source: Healthy: 50 to 150 W for an hour, a labourer's 75 W (0.1 hp) for eight, published summaries of human
// power. Champion: Wilkie 1960: 0.5 to 0.4 hp from 5 to 150 minutes, perhaps 0.2 hp all day (taken as eight hours).
// Half widths other than 50 W at an hour are modelling choices.
var curves = map[Fitness][]lasting{
	Healthy:  {{1, 100, 50}, {8, 75, 25}},
	Trained:  {{5.0 / 60, ordinary * 0.5 * horsepower, 85}, {2.5, ordinary * 0.4 * horsepower, 70}, {8, ordinary * 0.2 * horsepower, 35}},
	Champion: {{5.0 / 60, 0.5 * horsepower, 60}, {2.5, 0.4 * horsepower, 50}, {8, 0.2 * horsepower, 40}},
}

// String names a fitness.
func (f Fitness) String() string {
	switch f {
	case Healthy:
		return "a healthy adult"
	case Trained:
		return "a trained rower"
	case Champion:
		return "a champion"
	}
	return fmt.Sprintf("fitness %d", int(f))
}

// Lasts is the mechanical power that a person keeps up for so many hours of one day.
//
// In:     hours, 5 minutes to 24 hours
// Out:    watts at the handle; past eight hours it is drawn out beyond the published points and the spread grows with it
// Error:  ErrInput
// Source: see curves
func (f Fitness) Lasts(hours float64) (Value, error) {
	rows, ok := curves[f]
	if !ok {
		return Value{}, fmt.Errorf("%w: no figures for %v; give Healthy, Trained or Champion", ErrInput, f)
	}
	if err := within("the hours", hours, 5.0/60, 24, "h"); err != nil {
		return Value{}, err
	}
	i := 1
	for i < len(rows)-1 && hours > rows[i].hours {
		i++
	}
	a, b := rows[i-1], rows[i]
	s := math.Log(hours/a.hours) / math.Log(b.hours/a.hours)
	line := func(p, q float64) float64 { return math.Exp(math.Log(p) + s*math.Log(q/p)) }
	watts := line(a.watts, b.watts)
	share := a.spread/a.watts + clamp(s, 0, 1)*(b.spread/b.watts-a.spread/a.watts)
	if s > 1 {
		share += (s - 1) * beyond
	}
	return Value{watts, watts * share}, nil
}

// beyond is how fast the relative spread grows past the last published point. Modelling choice.
const beyond = 0.15

// Spell is a part of the day with its watches.
type Spell struct {
	Hours   float64 // of the clock
	On, Off float64 // hours at the oars and hours of rest, over and over
}

// Plan is a day's watches for each rower.
type Plan []Spell

// Hours is how long each rows in a day.
//
// Error:  ErrInput: a spell that cannot be, or more than 24 h
func (p Plan) Hours() (float64, error) {
	clock, rowed := 0.0, 0.0
	for i, s := range p {
		at := fmt.Sprintf("spell %d of the day: ", i+1)
		if err := cmp.Or(within(at+"its length", s.Hours, 0, 24, "h"), within(at+"the time on", s.On, 0, 24, "h"), within(at+"the time off", s.Off, 0, 24, "h")); err != nil {
			return 0, err
		}
		if s.On == 0 {
			clock += s.Hours
			continue
		}
		clock += s.Hours
		rowed += s.Hours * s.On / (s.On + s.Off)
	}
	if clock > 24+1e-9 {
		return 0, fmt.Errorf("%w: the day's spells add up to %g h; give 24 h or less", ErrInput, clock)
	}
	return rowed, nil
}

// Rower is a person as a source of power.
type Rower struct {
	Name    string
	Sex     Sex
	Mass    float64 // kg
	Stature float64 // m
	Age     float64 // years
	Fitness Fitness
}

// RestingPower is the metabolic rate of a person lying still, watts.
//
// Error:  ErrInput
// Good to: 10 % of a person (19 in 20 about twice that), as its authors found for healthy adults
// Source: Mifflin and St Jeor, American Journal of Clinical Nutrition 51 (1990) 241-247:
// kcal/day = 10 kg + 6.25 cm - 5 years + 5 (men) or - 161 (women); from memory
func (r Rower) RestingPower() (float64, error) {
	if err := cmp.Or(within("the mass", r.Mass, 30, 250, "kg"), within("the stature", r.Stature, 1.2, 2.3, "m"), within("the age", r.Age, 14, 100, "years")); err != nil {
		return 0, err
	}
	day := 10*r.Mass + 625*r.Stature - 5*r.Age + 5
	if r.Sex == Woman {
		day -= 166
	}
	return day * kilocalorie / (24 * hour), nil
}

// Units of energy and time.
const (
	kilocalorie = 4184.0 // joules
	hour        = 3600.0 // seconds
)

// Toll is how weeks at sea tell on a rower.
type Toll struct {
	Efficiency Value   // mechanical work over the energy of the food burnt while rowing
	Ceiling    Value   // most energy spent a day for weeks, in resting rates
	Chores     float64 // rate of spending while not at the oars, in resting rates
	Floor      Value   // share of the first day's power that is left in the end
	Days       float64 // time in which the loss is nearly two thirds done
}

// Weeks is the toll taken for granted.
//
// Source: efficiency 20 % with 16 to 24 %, exercise physiology textbooks, from memory; ceiling: 2.5 resting rates in
// men and 2.3 in women measured on 49 Atlantic rowers over 46 days, who lost 10 % of their mass, and Thurber et al.,
// Science Advances 5 (2019) eaaw0341, 2.5 for months (from memory); chores 1.3, usual activity tables; that power falls
// to 85 % with a time of 15 days is a modelling choice after that loss of mass, and the least sure of these.
func Weeks() Toll {
	return Toll{Efficiency: Value{0.20, 0.04}, Ceiling: Value{2.5, 0.5}, Chores: 1.3, Floor: Value{0.85, 0.15}, Days: 15}
}

// Burnt is the energy of food burnt by mechanical work, joules.
//
// In:     power in W, hours, efficiency above 0 to 1
// Error:  ErrInput
// Source: definition; 100 W for 12 h at 20 %: 5162.5 kcal
func Burnt(power, hours, efficiency float64) (float64, error) {
	if err := cmp.Or(within("the power", power, 0, 3000, "W"), within("the hours", hours, 0, 24, "h"), within("the efficiency", efficiency, 0.01, 1, "")); err != nil {
		return 0, err
	}
	return power * hours * hour / efficiency, nil
}

// Day is one rower's day.
type Day struct {
	Hours   float64 // at the oars
	Curve   Value   // W that last so long, by the published curve
	Ceiling Value   // W above which the day costs more energy than crews keep up for weeks
	Fresh   Value   // share left after so many days
	Power   Value   // W at the handle while rowing: the lower of the two, times Fresh
	Limit   string  // which of the two it was
	Rowing  Value   // J of food burnt at the oars
	Energy  Value   // J of food burnt in the whole day
}

// Day is what a rower gives on a day of the trip under a plan of watches.
//
// In:     day of the trip, 0 the first; rest between watches earns nothing back within the day: the total of hours
// rules (modelling choice, on the low side for short watches)
// Out:    no power and no rowing for a plan without time at the oars
// Error:  ErrInput
// Good to: a third, for a person not tested; see Weeks for what is least sure
func (r Rower) Day(p Plan, day float64, t Toll) (Day, error) {
	rest, err := r.RestingPower()
	if err != nil {
		return Day{}, err
	}
	hours, err := p.Hours()
	if err == nil {
		err = cmp.Or(t.valid(), within("the day", day, 0, 2000, ""))
	}
	if err != nil {
		return Day{}, err
	}
	gone := 1 - math.Exp(-day/t.Days)
	d := Day{Hours: hours, Fresh: Value{1 - (1-t.Floor.Value)*gone, t.Floor.Spread * gone}}
	idle := t.Chores * rest * (24 - hours) * hour
	if hours >= 5.0/60 {
		if d.Curve, err = r.Fitness.Lasts(hours); err != nil {
			return Day{}, err
		}
		spare := t.Ceiling.Value*rest*24*hour - idle
		d.Ceiling.Value = math.Max(0, t.Efficiency.Value*spare/(hours*hour))
		d.Ceiling.Spread = math.Hypot(d.Ceiling.Value*t.Efficiency.Spread/t.Efficiency.Value, t.Efficiency.Value*t.Ceiling.Spread*rest*24/hours)
		low := d.Curve
		d.Limit = "the power a person keeps up for the day's hours"
		if d.Ceiling.Value < d.Curve.Value {
			low, d.Limit = d.Ceiling, "the energy a body turns over for weeks"
		}
		d.Power = product(low, d.Fresh)
	}
	e := t.Efficiency
	d.Rowing.Value = d.Power.Value * hours * hour / e.Value
	if d.Power.Value > 0 {
		d.Rowing.Spread = d.Rowing.Value * math.Hypot(d.Power.Spread/d.Power.Value, e.Spread/e.Value)
	}
	d.Energy = Value{d.Rowing.Value + idle, math.Hypot(d.Rowing.Spread, restSpread*idle)}
	return d, nil
}

// restSpread is the relative spread of a resting rate told by the formula.
const restSpread = 0.2

// product multiplies two values with spreads that have nothing to do with each other.
func product(a, b Value) Value {
	return Value{a.Value * b.Value, math.Hypot(a.Spread*b.Value, b.Spread*a.Value)}
}

// valid checks a toll.
func (t Toll) valid() error {
	return cmp.Or(within("the efficiency", t.Efficiency.Value, 0.01, 1, ""), within("its spread", t.Efficiency.Spread, 0, 1, ""),
		within("the ceiling", t.Ceiling.Value, 1, 10, "resting rates"), within("its spread", t.Ceiling.Spread, 0, 5, "resting rates"),
		within("the chores", t.Chores, 1, 5, "resting rates"), within("the share left", t.Floor.Value, 0, 1, ""), within("its spread", t.Floor.Spread, 0, 1, ""),
		within("the days it takes", t.Days, 0.1, 1000, ""))
}

// Crew is a day of all rowers together.
type Crew struct {
	Each    []Day
	Rowed   float64 // hours of the day with at least one at the oars, watches shifted against each other
	All     float64 // hours with everyone at the oars
	Mean    Value   // W at the handles, the mean of 24 hours
	Energy  Value   // J of food burnt by all
	Summary string
}

// Together is the day of one or two rowers who keep the same plan, each resting while the other rows as far as the
// plan allows.
//
// In:     one or two rowers
// Out:    spreads added as if the rowers err together, since the same guesses stand behind both
// Error:  ErrInput, naming the rower
func Together(rowers []Rower, p Plan, day float64, t Toll) (Crew, error) {
	if len(rowers) < 1 || len(rowers) > 2 {
		return Crew{}, fmt.Errorf("%w: %d rowers; give one or two", ErrInput, len(rowers))
	}
	var c Crew
	for _, r := range rowers {
		d, err := r.Day(p, day, t)
		if err != nil {
			return Crew{}, fmt.Errorf("rower %q: %w", r.Name, err)
		}
		c.Each = append(c.Each, d)
		c.Mean.Value += d.Power.Value * d.Hours / 24
		c.Mean.Spread += d.Power.Spread * d.Hours / 24
		c.Energy.Value += d.Energy.Value
		c.Energy.Spread += d.Energy.Spread
	}
	n := float64(len(rowers))
	for _, s := range p {
		if s.On > 0 {
			share := s.On / (s.On + s.Off)
			c.Rowed += s.Hours * math.Min(1, n*share)
			c.All += s.Hours * math.Max(0, n*share-(n-1))
		}
	}
	c.Summary = fmt.Sprintf("each rows %.1f h a day; somebody rows %.1f h, all together %.1f h", c.Each[0].Hours, c.Rowed, c.All)
	return c, nil
}
