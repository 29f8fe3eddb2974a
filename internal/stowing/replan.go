package stowing

import (
	"context"
	"fmt"
	"maps"
)

// Left is the problem that is left after a day, with what then lies in each place
// (item → place → units), whether or not it was eaten as planned: what is left is used
// evenly until its last day, and where its last day is over, it is kept. Nothing is carried
// to another place: only the order of use is open. Trip.Limits are those of the old trip;
// a caller whose limits follow the mass sets them anew from Masses.
func Left(p *Problem, day int, stock [][]int) (*Problem, error) {
	if _, err := prepare(p); err != nil {
		return nil, err
	}
	if day < 0 || day >= p.Trip.Days {
		return nil, fmt.Errorf("a new plan after day %d of %d has nothing to plan: give a day from 0 to %d", day, p.Trip.Days, p.Trip.Days-1)
	}
	if len(stock) != len(p.Items) {
		return nil, fmt.Errorf("what is left is given for %d items, and there are %d", len(stock), len(p.Items))
	}
	out := &Problem{Places: p.Places, Weights: p.Weights, Lies: true, Trip: p.Trip}
	out.Trip.Days -= day
	if len(p.Trip.Rest) > 1 {
		out.Trip.Rest = p.Trip.Rest[day:]
	}
	if len(p.Trip.Limits) > 1 {
		out.Trip.Limits = p.Trip.Limits[day:]
	}
	for i, it := range p.Items {
		if len(stock[i]) != len(p.Places) {
			return nil, fmt.Errorf("what is left of item %q (number %d) is given for %d places, and there are %d", it.Name, i, len(stock[i]), len(p.Places))
		}
		it.Units, it.Pins, it.Banned = 0, map[int]int{}, nil
		for k, n := range stock[i] {
			if n < 0 {
				return nil, fmt.Errorf("what is left of item %q (number %d) in place number %d is %d units: give 0 or more", it.Name, i, k, n)
			}
			if n > 0 {
				it.Pins[k] = n
				it.Units += n
			}
		}
		if it.Last -= day; it.Last < 1 {
			it.First, it.Last = 0, 0
		} else {
			it.First = max(1, it.First-day)
		}
		out.Items = append(out.Items, it)
	}
	return out, nil
}

// Replan plans the use of what is left after a day. The plan's days count from there: its
// Use[0] is the next day.
func Replan(ctx context.Context, p *Problem, day int, stock [][]int, opt Options) (*Plan, error) {
	left, err := Left(p, day, stock)
	if err != nil {
		return nil, err
	}
	return Solve(ctx, left, opt)
}

// Cost is what a pin costs.
type Cost struct {
	Without, With *Plan
	Objective     float64    // of the best plans found, with less without
	Range         [2]float64 // within which the true cost lies, given both bounds
}

// PinCost solves the problem without and with a pin (at least so many units of an item in
// a place), each for half of the time. A pin never makes the best plan better: the lower
// end of the range is never below 0.
func PinCost(ctx context.Context, p *Problem, item, place, units int, opt Options) (*Cost, error) {
	if item < 0 || item >= len(p.Items) || place < 0 || place >= len(p.Places) || units < 0 {
		return nil, fmt.Errorf("%d units of item number %d in place number %d cannot be pinned: items are 0 to %d, places 0 to %d", units, item, place, len(p.Items)-1, len(p.Places)-1)
	}
	if opt.Seconds <= 0 {
		opt.Seconds = 10
	}
	opt.Seconds /= 2
	free, pinned := *p, *p
	free.Items, pinned.Items = append([]Item(nil), p.Items...), append([]Item(nil), p.Items...)
	pins := maps.Clone(p.Items[item].Pins)
	delete(pins, place)
	free.Items[item].Pins = pins
	pins = maps.Clone(pins)
	if pins == nil {
		pins = map[int]int{}
	}
	pins[place] = units
	pinned.Items[item].Pins = pins

	without, err := Solve(ctx, &free, opt)
	if err != nil {
		return nil, err
	}
	moved := without.Layout.Clone()
	for k := range p.Places {
		if miss := units - moved.Where[item][place]; miss > 0 && k != place {
			moved.Move(item, k, place, min(miss, moved.Where[item][k]-pins[k]))
		}
	}
	opt.Start = &moved
	with, err := Solve(ctx, &pinned, opt)
	if err != nil {
		return nil, err
	}
	// The plan with the pin is one without it, too.
	if len(with.Rules) == 0 && (len(without.Rules) > 0 || with.Objective < without.Objective) {
		better := *with
		better.Bound = min(without.Bound, with.Objective)
		better.Gap = (better.Objective - better.Bound) / max(better.Objective, 1e-9)
		better.Proved = without.Proved && better.Gap == 0
		without = &better
	}
	return &Cost{Without: without, With: with, Objective: with.Objective - without.Objective,
		Range: [2]float64{max(0, with.Bound-without.Objective), with.Objective - without.Bound}}, nil
}
