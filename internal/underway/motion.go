package underway

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"thole/internal/heading"
	"thole/internal/motion"
	"thole/internal/resistance"
)

// Grain is how fine a table of motion is.
type Grain struct {
	Winds []float64 // knots, rising from 0
	Step  float64   // degrees of the wind's angle
	Loads int       // 3: the heaviest, the lightest and the one between; 2: the ends; 1: the one between
}

// Fine and Coarse are the two that are used. Modelling choice: Fine reads a course between two of its points to a fiftieth of the
// speed; Coarse is for comparing boats that differ little (package crossing tests how far its arrival is off).
var (
	Fine   = Grain{Winds: []float64{0, 4, 8, 12, 16, 20, 25, 30, 40}, Step: 10, Loads: 3}
	Coarse = Grain{Winds: []float64{0, 6, 12, 18, 25, 40}, Step: 30, Loads: 1}
)

const tableKnot = 1852.0 / 3600

// Turn is some of the crew at the oars together, and for how long each day.
type Turn struct {
	Condition int
	Who       []string
	Hours     float64
	crew      Crew
}

// Turns is who rows: those who are at the oars in the condition in which she is rowed (Conditions), and after them, in turn, those who
// have a place at the oars and are not among them.
//
// Out:    none where nobody has a place at the oars
// Error:  as Crew
func (w *Way) Turns() ([]Turn, error) {
	all, err := w.Crew()
	if err != nil {
		return nil, err
	}
	first, _ := Conditions(w.Trip)
	if first < 0 {
		return nil, nil
	}
	f := w.Trip.Folder
	sat := make([]bool, len(f.Voyage.Crew))
	var out []Turn
	add := func(condition int) {
		at := AtOars(f, w.Trip.Conditions[condition])
		t := Turn{Condition: condition, crew: all.at(at)}
		for _, r := range t.crew.Rowers {
			t.Who = append(t.Who, r.Name)
			t.Hours = math.Max(t.Hours, r.Hours)
		}
		for i, p := range at {
			sat[i] = sat[i] || p >= 0
		}
		out = append(out, t)
	}
	add(first)
	for i := range sat {
		for c := 0; c < len(w.Trip.Conditions) && !sat[i]; c++ {
			at := AtOars(f, w.Trip.Conditions[c])
			again := false
			for k, p := range at {
				again = again || p >= 0 && sat[k]
			}
			if at[i] >= 0 && !again {
				add(c)
			}
		}
	}
	return out, nil
}

// mean is the thrust of all turns by their hours: that of the mean power, all but for the curve of a blade's slip.
func mean(turns []Turn) func(v float64) resistance.Force {
	hours := 0.0
	for _, t := range turns {
		hours += t.Hours
	}
	return func(v float64) (sum resistance.Force) {
		for i := range turns {
			f := turns[i].crew.Thrust(v)
			sum.Value += f.Value * turns[i].Hours / hours
			sum.Spread += f.Spread * turns[i].Hours / hours
		}
		return sum
	}
}

// Motion is the table of how she moves, rowed and left to drift, over wind, angle to the wind and load: what a
// simulated passage reads. It is worked out once for a folder: on the lightest day, on the heaviest and on
// the one between, as she is rowed, with the power of her crew and rudder and boards as the folder has them. Who
// row in turns (Turns) drive her with the mean of their thrust by the hours of each, seated as the first.
//
// What it hangs on is all in the folder: shape, loads, windage, blades, crew, oars, paint and water. Left to
// drift she is taken with the crew at the oars still, which is a little more windage than asleep. The sea is flat:
// what waves take and give is not in it.
//
// In:     how fine; growth, days since the bottom was clean
// Error:  as At and motion.Build
func (w *Way) Motion(g Grain, growth float64) (*motion.Table, error) {
	v, err := w.keep.Keep(fmt.Sprintf("underway motion %v %v", g, growth), func() (any, error) { return w.motion(g, growth) })
	if err != nil {
		return nil, err
	}
	return v.(*motion.Table), nil
}

func (w *Way) motion(g Grain, growth float64) (*motion.Table, error) {
	turns, err := w.Turns()
	if err != nil {
		return nil, err
	}
	rowed := 0
	pull := func(float64) resistance.Force { return resistance.Force{} }
	if len(turns) > 0 {
		rowed, pull = turns[0].Condition, mean(turns)
	}
	thrust := slope(pull)
	at := map[float64]heading.Boat{}
	s := motion.Spec{Helm: heading.Helm{Rudder: true, Oars: true}}
	for _, day := range w.days(rowed, g.Loads) {
		y, err := w.Yaw(day, rowed)
		if err != nil {
			return nil, err
		}
		grown, err := y.Rowed.Boat.In(resistance.Condition{Water: w.Water, Days: growth})
		if err != nil {
			return nil, err
		}
		b := y.Boat(y.AsTold())
		b.Resistance = grown.Resistance
		at[y.State.Mass] = b
		s.Loads = append(s.Loads, y.State.Mass)
	}
	slices.Sort(s.Loads)
	s.Loads = slices.Compact(s.Loads)
	for _, k := range g.Winds {
		s.Winds = append(s.Winds, k*tableKnot)
	}
	for a := 0.0; a <= 180; a += g.Step {
		s.Angles = append(s.Angles, a*math.Pi/180)
	}
	s.Boat = func(load float64) (heading.Boat, error) { return at[load], nil }
	s.Thrust = func(float64) func(float64) float64 { return thrust }
	return motion.Build(s)
}

// days are those on which a table's loads are taken.
func (w *Way) days(condition, loads int) []int {
	days := w.Spread(condition)
	switch {
	case loads == 1:
		return days[len(days)/2 : len(days)/2+1]
	case loads == 2 && len(days) == 3:
		return []int{days[0], days[2]}
	}
	return days
}

// Midway is the day on which she is half-way between her heaviest and her lightest as she is rowed.
func (w *Way) Midway() int {
	rowed, _ := Conditions(w.Trip)
	return w.days(max(0, rowed), 1)[0]
}

// slope reads a thrust off a table to mostSpeed: it is asked thousands of times.
func slope(pull func(float64) resistance.Force) func(float64) float64 {
	y := Yaw{}
	y.pulls(pull)
	return y.Thrust
}

// grown is she on a day with growth of an age on her bottom, and who drive her.
func (w *Way) grown(day int, age float64) (*resistance.Table, func(v float64) resistance.Force, error) {
	turns, err := w.Turns()
	if err != nil {
		return nil, nil, err
	}
	if len(turns) == 0 {
		return nil, nil, errNobody
	}
	r, err := w.At(day, turns[0].Condition)
	if err != nil {
		return nil, nil, err
	}
	t, err := r.Boat.In(resistance.Condition{Water: w.Water, Days: age})
	return t, mean(turns), err
}

var errNobody = errors.New("voyage.yaml: crew: nobody has a place at the oars")

// Calm is the speed that the crew drive her at in a calm, those in turn as in Motion, with growth of an age on her bottom.
//
// In:     the day, for her load; growth, days since the bottom was clean
// Error:  as At and resistance.Table.Speed; nobody at the oars
func (w *Way) Calm(day int, growth float64) (resistance.Made, error) {
	t, pull, err := w.grown(day, growth)
	if err != nil {
		return resistance.Made{}, err
	}
	return t.Speed(pull, resistance.Wind{})
}

// Stops is the wind from ahead at 10 m in which the crew just hold her, as Calm; 0 where none does.
//
// Error:  as Calm
func (w *Way) Stops(day int, growth float64) (float64, error) {
	t, pull, err := w.grown(day, growth)
	if err != nil {
		return 0, err
	}
	wind, _, err := t.StopWind(pull, 0)
	if errors.Is(err, resistance.ErrNoWind) {
		return 0, nil
	}
	return wind, err
}

// Grown is how much faster the crew drive her in a calm with growth of some ages on her bottom than with growth of another, as a
// share.
//
// In:     the day, for her load; ages and than, days since the bottom was clean
// Error:  as Calm
func (w *Way) Grown(day int, ages []float64, than float64) ([]float64, error) {
	speed := func(age float64) (float64, error) {
		t, pull, err := w.grown(day, age)
		if err != nil {
			return 0, err
		}
		return t.Calm(pull)
	}
	base, err := speed(than)
	if err != nil {
		return nil, err
	}
	out := make([]float64, len(ages))
	for i, age := range ages {
		v, err := speed(age)
		if err != nil {
			return nil, err
		}
		if base > 0 {
			out[i] = v/base - 1
		}
	}
	return out, nil
}

// Spread is the days on which she is heaviest, half-way and lightest in a condition, in that order; fewer where they are
// alike within a kilogram.
func (w *Way) Spread(condition int) []int {
	masses := make([]float64, w.Trip.Days+1)
	for d := range masses {
		masses[d] = w.Trip.State(d, condition).Mass
	}
	nearest := func(m float64) int {
		best := 0
		for d := range masses {
			if math.Abs(masses[d]-m) < math.Abs(masses[best]-m) {
				best = d
			}
		}
		return best
	}
	high, low := slices.Max(masses), slices.Min(masses)
	days := []int{nearest(high)}
	if high-low > 1 {
		if mid := nearest((high + low) / 2); math.Abs(masses[mid]-high) > 0.5 && math.Abs(masses[mid]-low) > 0.5 {
			days = append(days, mid)
		}
		days = append(days, nearest(low))
	}
	return days
}
