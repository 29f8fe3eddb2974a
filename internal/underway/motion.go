package underway

import (
	"math"
	"slices"

	"thole/internal/heading"
	"thole/internal/motion"
)

// The points of the table of motion: winds in knots, and the steps of the angle, degrees. Modelling choice: fine
// enough that a course between two of them is read to a fiftieth of the speed.
var tableWinds = []float64{0, 4, 8, 12, 16, 20, 25, 30, 40}

const (
	tableStep = 10
	tableKnot = 1852.0 / 3600
)

// Motion is the table of how she moves, rowed and left to drift, over wind, angle to the wind and load: what a
// simulated passage reads. It is worked out once for a folder: on the lightest day, on the heaviest and on
// the one between, as she is rowed, with the power of her crew and rudder and boards as the folder has them.
//
// What it hangs on is all in the folder: shape, loads, windage, blades, crew, oars, paint and water. Left to
// drift she is taken with the crew at the oars still, which is a little more windage than asleep.
//
// Error:  as At and motion.Build
func (w *Way) Motion() (*motion.Table, error) {
	v, err := w.keep.Keep("underway motion", func() (any, error) { return w.motion() })
	if err != nil {
		return nil, err
	}
	return v.(*motion.Table), nil
}

func (w *Way) motion() (*motion.Table, error) {
	rowed, _ := Conditions(w.Trip)
	rowed = max(rowed, 0)
	at := map[float64]*Yaw{}
	s := motion.Spec{Helm: heading.Helm{Rudder: true, Oars: true}}
	for _, day := range w.Spread(rowed) {
		y, err := w.Yaw(day, rowed)
		if err != nil {
			return nil, err
		}
		at[y.State.Mass] = y
		s.Loads = append(s.Loads, y.State.Mass)
	}
	slices.Sort(s.Loads)
	s.Loads = slices.Compact(s.Loads)
	for _, k := range tableWinds {
		s.Winds = append(s.Winds, k*tableKnot)
	}
	for a := 0; a <= 180; a += tableStep {
		s.Angles = append(s.Angles, float64(a)*math.Pi/180)
	}
	s.Boat = func(load float64) (heading.Boat, error) { return at[load].Boat(at[load].AsTold()), nil }
	s.Thrust = func(load float64) func(float64) float64 { return at[load].Thrust }
	return motion.Build(s)
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
