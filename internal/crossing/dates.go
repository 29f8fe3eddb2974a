package crossing

import (
	"context"
	"math"
	"time"

	"thole/internal/voyages"
)

// Departure is what comes of leaving on a day.
type Departure struct {
	Leave time.Time
	Tally *voyages.Tally
}

// Depart makes the first n passages from each of some days, told of passages done of all.
//
// Error:  the context's, with the departures done until then; the runner's
func (c *Crossing) Depart(ctx context.Context, days []time.Time, n int, progress func(done, total int)) ([]Departure, error) {
	var out []Departure
	for i, on := range days {
		from, err := c.Leaving(on)
		if err != nil {
			return out, err
		}
		if from.Leave.Equal(c.Leave) { // what is made from it serves here
			from = c
		}
		var told func(done, total int)
		if progress != nil {
			told = func(done, _ int) { progress(i*n+done, len(days)*n) }
		}
		t, err := from.Many(ctx, n, told)
		if err != nil {
			return out, err
		}
		out = append(out, Departure{Leave: on, Tally: t})
	}
	return out, nil
}

// By is the share of all its passages that have arrived so many days after leaving.
func (d Departure) By(days int) float64 { return d.Tally.ArrivedBefore(float64(days)) }

// Bad is the share of them that miss the landfall or are set ashore.
func (d Departure) Bad() float64 {
	if d.Tally.Passages == 0 {
		return 0
	}
	return float64(d.Tally.Ends[voyages.Missed]+d.Tally.Ends[voyages.Ashore]) / float64(d.Tally.Passages)
}

// Stormy is the share of them that are at sea within a season of tropical storms.
func (d Departure) Stormy() float64 {
	if d.Tally.Passages == 0 {
		return 0
	}
	return float64(d.Tally.Stormy) / float64(d.Tally.Passages)
}

// coarse is how far two shares must be apart to be told apart when days of leaving are compared: one in twenty. Modelling
// choice: a hundred passages give a share to nearly a tenth, but the same weather is drawn for every day, which takes most of that away.
const coarse = 0.05

// Clear is the share of them that arrive within the planned days and meet no season of tropical storms, the two taken as
// independent: those that meet one are mostly the late ones, so that it is never less than this.
func (d Departure) Clear(planned int) float64 { return d.By(planned) * (1 - d.Stormy()) }

// Better tells whether a day is the better one to leave on: from it more arrive by the planned days without having met a season of
// tropical storms; of equals (to one in twenty) more arrive by the planned days at all; of those fewer miss or are set ashore; and
// last, the middle one is sooner there. The season stands first, since a boat that cannot run from a storm has no business there.
func (d Departure) Better(o Departure, planned int) bool {
	step := func(share float64) float64 { return math.Round(share / coarse) }
	for _, pair := range [][2]float64{{d.Clear(planned), o.Clear(planned)}, {d.By(planned), o.By(planned)}, {o.Bad(), d.Bad()}} {
		if a, b := step(pair[0]), step(pair[1]); a != b {
			return a > b
		}
	}
	return d.middle() < o.middle()
}

// Worth tells whether a day is so much better than another that a departure should be moved for it: by one in twenty in the first of
// those things that differs by as much, or by two days of the middle one. Modelling choice: less is chance.
func (d Departure) Worth(o Departure, planned int) bool {
	for _, gain := range []float64{d.Clear(planned) - o.Clear(planned), d.By(planned) - o.By(planned), o.Bad() - d.Bad()} {
		if math.Abs(gain) >= coarse {
			return gain > 0
		}
	}
	return o.middle()-d.middle() >= 2
}

// middle is the day by which half have arrived; past all days where they never do.
func (d Departure) middle() float64 {
	if m, ok := d.Tally.ArrivalBy(0.5); ok {
		return m
	}
	return math.Inf(1)
}

// Months are a day and the same day of each of the n-1 months after it; the 31st becomes the last day of a shorter month.
func Months(from time.Time, n int) []time.Time {
	out := make([]time.Time, 0, n)
	for i := range n {
		first := time.Date(from.Year(), from.Month(), 1, from.Hour(), from.Minute(), from.Second(), 0, from.Location()).AddDate(0, i, 0)
		last := first.AddDate(0, 1, -1).Day()
		out = append(out, first.AddDate(0, 0, min(from.Day(), last)-1))
	}
	return out
}
