package feed

import (
	"context"
	"errors"
	"math"
	"slices"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/provisions"
	"thole/internal/resistance"
	"thole/internal/sustenance"
	"thole/internal/underway"
)

const (
	knot = 1852.0 / 3600
	// ten is how many more days of food are tried.
	ten = 10
	// longest is the most days of a ledger that are shown.
	longest = 400
)

// keep keeps the ledger until the day of nineteen in twenty, or as long as the stores are meant for.
func (q *ask) keep() error {
	q.days = min(longest, max(q.planned(), int(math.Ceil(q.arrival.twentieth))))
	var err error
	q.ledger, err = q.plan(q.days).Ledger()
	return err
}

// ten asks the folder again with ten more days of food in it.
func (q *ask) ten(ctx context.Context) (*TenFigures, error) {
	if q.c.Weightless() {
		return nil, nil
	}
	f := provisions.More(q.c.Folder, ten)
	c := answer.NewCaseFrom(f, q.c)
	t, err := c.Trip()
	if err != nil {
		return nil, err
	}
	p, err := provisions.Of(t, q.on)
	if err != nil || len(p.Lacks) > 0 {
		return nil, err
	}
	lasts, err := p.Plan.Lasts()
	if err != nil {
		return nil, err
	}
	out := &TenFigures{Days: ten, Lasts: lasts.Food.Value, Was: q.lasts.Food.Value, Mass: t.State(0, 0).Mass - q.t.State(0, 0).Mass}
	out.SpeedWas, out.Speed = calm(q.c, q.t), calm(c, t)
	was, _, err := q.t.Tightest(ctx)
	if err != nil {
		return nil, err
	}
	now, _, err := t.Tightest(ctx)
	if err != nil {
		return nil, err
	}
	if out.HeightKnown = was.Err == nil && now.Err == nil; out.HeightKnown {
		out.HeightWas, out.Height, out.HeightDay = was.Headroom, now.Headroom, now.State.Day
	}
	out.LeavingWas, out.Leaving, out.LeavingKnown = least(q.t), least(t), true
	if out.LeavingKnown = !math.IsNaN(out.LeavingWas) && !math.IsNaN(out.Leaving); !out.LeavingKnown {
		out.LeavingWas, out.Leaving = 0, 0
	}
	return out, ctx.Err()
}

// least is the least height of gravity left on leaving, of all places of the crew; not a number where it cannot be told.
func least(t *afloat.Trip) float64 {
	low := math.Inf(1)
	for i := range t.Conditions {
		r := t.RightingAt(0, i)
		if r.Err != nil {
			return math.NaN()
		}
		low = math.Min(low, r.Headroom)
	}
	return low
}

// calm is the speed in a calm on leaving, knots; 0 where nobody rows or she cannot be told.
func calm(c *answer.Case, t *afloat.Trip) float64 {
	rowed, _ := underway.Conditions(t)
	if rowed < 0 {
		return 0
	}
	at, err := underway.New(c, t).At(0, rowed)
	if err != nil || len(at.Crew.Rowers) == 0 {
		return 0
	}
	made, err := at.Speed(resistance.Wind{})
	if err != nil {
		return 0
	}
	return made.Speed / knot
}

// turns are the days on which it is shown how to cut: after some weeks of daily runs, and the day asked for.
func (q *ask) turns() []int {
	out := []int{20, 40, 60}
	if q.day > 0 {
		out = append(out, q.day)
	}
	slices.Sort(out)
	out = slices.Compact(out)
	return slices.DeleteFunc(out, func(d int) bool { return float64(d) >= q.lasts.Food.Value })
}

// untils are the days until which food may have to last: past its end in steps, and the day of nineteen in twenty where it ends before.
func (q *ask) untils() []int {
	first := int(math.Ceil((q.lasts.Food.Value + 1) / 5))
	var out []int
	for _, k := range []int{0, 1, 2, 4, 6, 8} {
		out = append(out, 5*(first+k))
	}
	if late := int(math.Ceil(q.arrival.twentieth)); float64(late) > q.lasts.Food.Value {
		out = append(out, late)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// ladder is by when to cut, if food must last until a day.
func (q *ask) ladder() ([]LadderFigures, error) {
	if !q.lasts.FoodEnds {
		return nil, nil
	}
	p := q.plan(q.days)
	var out []LadderFigures
	for _, until := range q.untils() {
		row := LadderFigures{Until: until}
		for _, from := range q.turns() {
			share, err := p.LeastCut(from-1, float64(until)) // the ledger's first day is 0
			if err != nil && !errors.Is(err, sustenance.ErrInput) {
				return nil, err
			}
			if err != nil {
				share = 0 // the food is gone before that day whatever is cut
			}
			row.Shares = append(row.Shares, ShareFrom{from, share})
		}
		for _, s := range sustenance.Steps {
			if s >= 1 {
				continue
			}
			day, ok, err := p.Latest(0, s, float64(until))
			if err != nil {
				return nil, err
			}
			if !ok {
				day = -1
			}
			row.Latest = append(row.Latest, LatestShare{s, day + 1})
		}
		out = append(out, row)
	}
	return out, nil
}

// until is the day that the ways to cut are shown for: that of nineteen in twenty where the food ends before it, else a fifth past its end.
func (q *ask) until() int {
	if late := math.Ceil(q.arrival.twentieth); late > q.lasts.Food.Value {
		return int(late)
	}
	return int(math.Ceil(1.2 * q.lasts.Food.Value))
}

// cuts are the ways to make the food last, decided on some days, each with what it costs.
func (q *ask) cuts() ([]CutFigures, error) {
	if !q.lasts.FoodEnds {
		return nil, nil
	}
	until := q.until()
	var out []CutFigures
	for _, on := range q.turns() {
		choices, err := q.plan(q.days).Choices(on-1, float64(until))
		if errors.Is(err, sustenance.ErrInput) {
			continue // by then it is too late for any
		}
		if err != nil {
			return nil, err
		}
		for i, c := range choices {
			if i > 0 && c.From == choices[0].From && c.Share > choices[0].Share-0.01 {
				continue // the step is the least cut
			}
			f := CutFigures{Decided: on, From: c.From + 1, Share: c.Share, Starts: c.Starts, Until: until, Lasts: c.Lasts, Says: c.Says}
			for _, l := range c.Lost {
				if l.Value >= f.Lost {
					f.Lost, f.Spread = l.Value, l.Spread
				}
			}
			out = append(out, f)
		}
	}
	return out, nil
}
