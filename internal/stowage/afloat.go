package stowage

import (
	"context"
	"math"
	"slices"

	"thole/internal/afloat"
	"thole/internal/units"
)

// Room is the scale on which room is shown.
func Room(s units.System) units.Scale {
	if s == units.Feet {
		const foot = 0.3048
		return units.Scale{Unit: "ft3", Factor: 1 / (foot * foot * foot), Places: 2}
	}
	return units.Scale{Unit: "L", Factor: 1000}
}

// State is how she lies and comes back on one day, with the crew in one place; or, of several places, at the worst of each.
type State struct {
	Day    int
	Mass   float64 // kg, crew counted in
	Trim   float64 // radians, by the stern positive
	Heel   float64 // radians, to starboard positive
	Height float64 // m of height of gravity left; NaN where it could not be found
	Err    error   // she finds no balance
}

// Days are a few days of a trip, its first and last among them.
func Days(t *afloat.Trip) []int {
	const few = 5
	var out []int
	for k := range few {
		out = append(out, (t.Days*k+(few-1)/2)/(few-1))
	}
	return slices.Compact(out)
}

// States are worked out afloat, and not foretold from moments.
//
// Error: the context's
func States(ctx context.Context, t *afloat.Trip, condition int, days []int) ([]State, error) {
	var out []State
	for _, d := range days {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		load := t.State(d, condition)
		f := t.Float(load, nil)
		s := State{Day: d, Mass: load.Mass, Err: f.Err, Height: math.NaN()}
		if f.Err == nil {
			s.Trim, s.Heel = f.Rest.Trim(), f.Rest.Heel
			if r := t.RightingAt(d, condition); r.Err == nil {
				s.Height = r.Headroom
			}
		}
		out = append(out, s)
	}
	return out, nil
}

// Worst are the states of several conditions at their worst: on each day the most trim and the most heel, whatever their side, and
// the least height.
//
// Error: the context's
func Worst(ctx context.Context, t *afloat.Trip, days []int) ([]State, error) {
	var out []State
	for c := range t.Conditions {
		states, err := States(ctx, t, c, days)
		if err != nil {
			return nil, err
		}
		if out == nil {
			out = states
			continue
		}
		for i, s := range states {
			w := &out[i]
			if w.Err != nil || s.Err != nil {
				if w.Err == nil {
					*w = s
				}
				continue
			}
			if math.Abs(s.Trim) > math.Abs(w.Trim) {
				w.Trim = s.Trim
			}
			if math.Abs(s.Heel) > math.Abs(w.Heel) {
				w.Heel = s.Heel
			}
			w.Height, w.Mass = least(w.Height, s.Height), math.Max(w.Mass, s.Mass)
		}
	}
	return out, nil
}

// least is the lesser of two, of which one may not be known: then nothing is.
func least(a, b float64) float64 {
	if math.IsNaN(a) || math.IsNaN(b) {
		return math.NaN()
	}
	return math.Min(a, b)
}
