package stow

import (
	"cmp"
	"fmt"
	"slices"

	"thole/internal/sheet"
	"thole/internal/stowing"
)

// What the pins cost is found with a share of the time, where there is enough of it, for the heaviest few that a person has pinned.
const (
	pinShare  = 0.2
	leastPins = 5 // seconds
	mostPins  = 2
)

// pin is a thing that stays where it is, and what that costs.
type pin struct {
	item, place, units int
	cost               *stowing.Cost
}

// pinned are the heaviest things that the person has pinned.
func (r *run) pinned() []pin {
	var out []pin
	for i := range r.s.Items {
		if !r.s.Store(i).Pinned {
			continue
		}
		for k, n := range r.s.Problem.Items[i].Pins {
			out = append(out, pin{i, k, n, nil})
		}
	}
	heavy := func(p pin) float64 { return float64(p.units) * r.s.Problem.Items[p.item].Mass }
	slices.SortFunc(out, func(a, b pin) int { return cmp.Or(cmp.Compare(heavy(b), heavy(a)), a.item-b.item, a.place-b.place) })
	return out[:min(mostPins, len(out))]
}

// unpin finds what each pin costs, beginning with the plan found.
func (r *run) unpin(pinned []pin, seconds float64) error {
	if len(r.plan.Rules) > 0 {
		return nil
	}
	for _, p := range pinned {
		if r.ctx.Err() != nil {
			return nil
		}
		cost, err := stowing.PinCost(r.ctx, r.p, p.item, p.place, p.units, stowing.Options{Seconds: seconds / float64(len(pinned)), Start: &r.plan.Layout})
		if err != nil {
			return err
		}
		if p.cost = cost; len(cost.With.Rules) == 0 && len(cost.Without.Rules) == 0 {
			r.pins = append(r.pins, p)
		}
	}
	return nil
}

func (r *run) pinTable() *sheet.Table {
	t := &sheet.Table{Heading: "What the pins cost", Columns: []sheet.Column{{Name: "pinned", Text: true}, {Name: "in", Text: true}, {Name: "saved without it, as found", Places: 2}, {Name: "at most", Places: 2}},
		Note: fmt.Sprintf("In the same measure as all prices together; found in a short time for the heaviest %d.", mostPins)}
	for _, p := range r.pins {
		t.Rows = append(t.Rows, []sheet.Cell{{Text: r.s.Name(p.item)}, {Text: r.s.Problem.Places[p.place].Name}, {Value: max(0, p.cost.Objective)}, {Value: p.cost.Range[1]}})
	}
	return t
}
