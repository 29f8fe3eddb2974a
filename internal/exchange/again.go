package exchange

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/internal/afloat"
	"thole/internal/lists"
	"thole/internal/model"
	"thole/internal/sheet"
	"thole/internal/stowage"
	"thole/internal/stowing"
)

// Onward is the order in which what is left after a day is to be used, planned anew.
type Onward struct {
	Day   int          `json:"day"`
	Weeks []lists.Week `json:"weeks"`
	// Objective is what the plan costs, by internal/stowing's measure, and Bound what no plan can cost less than.
	Objective float64  `json:"objective"`
	Bound     float64  `json:"bound"`
	Broken    []string `json:"broken,omitempty"` // what is asked and not kept
	Sentence  string   `json:"sentence"`

	folder *model.Folder
}

// Sheet lays the order out.
func (o *Onward) Sheet() sheet.Sheet {
	out := lists.WeekSheet(o.folder, o.Weeks)
	out.Blocks = append([]sheet.Block{{Text: &sheet.Text{Heading: fmt.Sprintf("From day %d on", o.Day+1), Paragraphs: []string{o.Sentence}}}}, out.Blocks...)
	return out
}

// Again plans anew out of which compartment the rest is taken on each day after an inventory, so that trim, heel and height stay within what the
// folder asks at the least handling. Nothing is carried elsewhere: what was counted, and of all else what should be left, lies where the folder
// has it, and is used evenly until its last day; what is left when its days are over is kept. It looks for so many seconds.
//
// Error: when this is no inventory, its day is the last, or the folder cannot be floated
func (t *Taking) Again(ctx context.Context, seconds float64) (*Onward, error) {
	if t.What != inventory {
		return nil, errors.New("only an inventory can be planned on from (it has a column of what there is)")
	}
	f := t.before
	trip, err := afloat.New(f)
	if err != nil {
		return nil, err
	}
	s, err := stowage.New(trip)
	if err != nil {
		return nil, err
	}
	b, err := s.Balanced(ctx)
	if err != nil {
		return nil, err
	}
	left := make([]int, len(f.Stores))
	for i, stock := range lists.Stocks(f) {
		left[i] = stock[min(t.Day, len(stock)-1)]
	}
	for _, c := range t.Stock {
		left[c.Store] = c.Counted
	}
	stock := make([][]int, len(f.Stores))
	for i := range stock {
		stock[i] = make([]int, len(s.Places))
		if k := f.Stores[i].Where.Compartment; k >= 0 {
			stock[i][k] = left[i]
		}
	}
	p, err := b.Again(t.Day, stock)
	if err != nil {
		return nil, err
	}
	plan, err := stowing.Solve(ctx, p, stowing.Options{Seconds: seconds})
	if err != nil {
		return nil, err
	}
	out := &Onward{Day: t.Day, Objective: plan.Objective, Bound: plan.Bound, folder: f}
	for _, br := range slices.Concat(plan.Rules, plan.Broken) {
		if said := kinds[br.Kind]; said != "" && !slices.Contains(out.Broken, said) {
			out.Broken = append(out.Broken, said)
		}
	}
	out.Weeks = lists.WeeksAfter(f, t.Day, onward(f, s, plan, t.Day, left), left)
	out.say(plan)
	return out, nil
}

// kinds are what a plan may not keep, in words. Size, dryness and the like are settled where a thing lies already.
var kinds = map[stowing.Kind]string{
	stowing.TrimByBow: "trim by the bow", stowing.TrimByStern: "trim by the stern", stowing.HeelToPort: "heel to port", stowing.HeelToStarboard: "heel to starboard",
	stowing.TooHigh: "height of the centre of gravity", stowing.NoRoom: "room", stowing.TooHeavy: "what a compartment may bear",
}

// say puts into a sentence what the plan keeps, and how far from the best it may be.
func (o *Onward) say(plan *stowing.Plan) {
	o.Sentence = "What is left, used in this order, keeps trim, heel and height within what is asked on every day that was looked at."
	if len(o.Broken) > 0 {
		o.Sentence = "Used in this order, what is left does not keep everything that is asked: " + strings.Join(o.Broken, ", ") + "."
	}
	switch {
	case plan.Proved:
		o.Sentence += " No order is better."
	case plan.Gap >= 0 && !math.IsInf(plan.Gap, 0):
		o.Sentence += fmt.Sprintf(" By what it costs in handling and in what is not kept, no order is better by more than %.0f %%.", 100*plan.Gap)
	}
	o.Sentence += " Nothing is carried from one compartment to another. It is for the eating, not for the sea: how she lies is seen, and felt, on the day."
}

// onward is the plan as a calendar: each unit out of the row of its item that lies in that place. What lies at a point is used as before.
func onward(f *model.Folder, s *stowage.Stowage, plan *stowing.Plan, day int, left []int) [][]lists.Take {
	left = slices.Clone(left)
	out := make([][]lists.Take, max(0, f.LastDay()-day))
	usual := lists.Calendar(f)
	for d := range out {
		if d < len(plan.Use) {
			for _, use := range plan.Use[d] {
				units := use.Units
				for _, r := range s.Items[use.Item].Rows {
					if n := min(units, left[r]); n > 0 && f.Stores[r].Where.Compartment == use.Place {
						out[d] = append(out[d], lists.Take{Store: r, Compartment: use.Place, Units: n})
						left[r], units = left[r]-n, units-n
					}
				}
			}
		}
		for _, t := range usual[day+d] {
			if n := min(t.Units, left[t.Store]); n > 0 && t.Compartment < 0 {
				out[d] = append(out[d], lists.Take{Store: t.Store, Compartment: -1, Units: n})
				left[t.Store] -= n
			}
		}
	}
	return out
}
