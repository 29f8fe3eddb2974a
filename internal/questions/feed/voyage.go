package feed

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"thole/internal/answer"
	"thole/internal/climate"
	"thole/internal/crossing"
	"thole/internal/earth"
	"thole/internal/model"
	"thole/internal/provisions"
	"thole/internal/sustenance"
	"thole/internal/voyages"
)

// arrival is when she comes in. It serves as sustenance.Arrival.
type arrival struct {
	tally *voyages.Tally // nil where the planned days stand for it
	fixed float64        // the planned days then
	// median, tenth and twentieth are the days by which half, nine in ten and nineteen in twenty have arrived, of those that food can help.
	median, tenth, twentieth float64
	half                     float64 // half of the range that holds 19 in 20
}

// By is the share that has arrived by a day, of the passages that food can help: those that miss the landfall or end on land are none.
func (a *arrival) By(days float64) float64 {
	if a.tally == nil {
		if days >= a.fixed {
			return 1
		}
		return 0
	}
	return math.Min(1, a.tally.ArrivedBefore(days)/a.helped())
}

// helped is the share of all passages that food can help.
func (a *arrival) helped() float64 {
	if a.tally == nil {
		return 1
	}
	lost := float64(a.tally.Ends[voyages.Missed] + a.tally.Ends[voyages.Ashore])
	return math.Max(1e-9, 1-lost/math.Max(1, float64(a.tally.Passages)))
}

// told makes the quantiles; false where fewer than half of those that food can help arrive.
func (a *arrival) told() bool {
	// A hair less, so that rounding does not ask for one passage more than there is.
	at := func(share float64) (float64, bool) { return a.tally.ArrivalBy(share * a.helped() * (1 - 1e-12)) }
	if a.tally.Passages == 0 {
		return false
	}
	var ok bool
	if a.median, ok = at(0.5); !ok {
		return false
	}
	late := func(share float64) float64 { // where so many never arrive in the time that is simulated, its end stands for their day, which is too early
		if d, ok := at(share); ok {
			return d
		}
		return math.Max(a.median, a.tally.Most)
	}
	a.tenth, a.twentieth = late(0.9), late(0.95)
	first, ok := at(0.025)
	if !ok {
		first = a.median
	}
	a.half = (late(0.975) - first) / 2
	return true
}

// voyage makes the passages, or takes the planned days where none can be made.
func (q *ask) voyage(ctx context.Context, o answer.Options) error {
	detail, n := crossing.Whole, crossing.Passages
	if o.Bare {
		detail, n = crossing.Quick, crossing.Few
	}
	way, err := crossing.New(q.c, q.t, detail)
	var lacking *crossing.Lacking
	if err != nil && o.Bare && !errors.As(err, &lacking) { // a boat that the coarse table cannot be made of may have a fine one
		way, err = crossing.New(q.c, q.t, crossing.Whole)
	}
	var tally *voyages.Tally
	if err == nil {
		tally, err = way.Many(ctx, n, o.Progress)
	}
	if e := ctx.Err(); e != nil {
		return e
	}
	if err == nil {
		q.arrival = arrival{tally: tally}
		if q.arrival.told() {
			q.way = way
			q.weather()
			return nil
		}
		q.why = "fewer than half of the simulated passages that food can help ever arrive; see how long it will take"
	} else {
		q.why = fmt.Sprintf("no passage could be simulated: %v", err)
		if errors.As(err, &lacking) {
			l := lacking.Lacks[0]
			q.why = fmt.Sprintf("no passage can be simulated without %s: %s", l.File, l.Key)
		}
	}
	days := float64(max(1, q.planned()))
	q.rows = 1
	q.arrival = arrival{fixed: days, median: days, tenth: days, twentieth: days}
	return nil
}

// planned is the days that the stores are meant for.
func (q *ask) planned() int {
	if v := q.c.Folder.Voyage; v != nil && v.Days > 0 {
		return v.Days
	}
	return q.c.Folder.LastDay()
}

// weather makes the conditions by day: the climate of the place where the middle one of those still under way is, and the mean of
// the hours rowed.
func (q *ask) weather() {
	usual := 0.0
	var watches []model.Hours
	for _, w := range q.way.Spec.Rules.Habit.Watches {
		usual += (w.To - w.From) * (1 - q.way.Spec.Rules.Habit.Breaks)
		watches = append(watches, model.Hours{From: w.From, To: w.To})
	}
	t := q.arrival.tally
	q.rows = 1
	if usual > 0 && t.AtSeaS > 0 {
		q.rows = math.Min(1, 24*float64(t.RowedS)/float64(t.AtSeaS)/usual)
	}
	sky := climate.StandardSky()
	days := int(math.Ceil(math.Max(q.arrival.twentieth, float64(q.planned())))) + 1
	out := make([]sustenance.Conditions, days)
	for d := range out {
		when := q.way.Leave.Add(time.Duration(d) * 24 * time.Hour)
		at := q.place(d)
		s := sky.At(at.Lat, at.Lon, climate.MonthOf(when))
		_, _, wind := q.way.Spec.Climate.Wind(at.Lat, at.Lon, float64(when.Unix()))
		out[d] = provisions.Air{Celsius: s.AirC, Sun: s.Sun, Wind: wind}.On(watches, q.rows)
	}
	q.on = func(day int) sustenance.Conditions { return out[min(max(0, day), len(out)-1)] }
}

// place is where the middle one of those still under way is on a day; the landfall once nobody is.
func (q *ask) place(day int) earth.Place {
	left, ok := q.arrival.tally.LeftAt(day, 0.5)
	if !ok {
		left = 0
	}
	at, _ := q.way.Route.At(math.Max(0, q.way.Route.Length()-left))
	return at
}
