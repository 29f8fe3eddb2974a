// Package passage answers "How long will it take?": some hundreds of simulated passages, hour by hour, of the folder's boat and
// crew on the folder's date, through winds and currents made about the climate of the route.
//
// The margin is in days: the days that the stores are meant for (voyage.yaml: days) less the day by which half have arrived.
// What is asked is as much as lies between that and the day by which nineteen in twenty have arrived; the confidence is the share of all
// passages that arrive within the planned days, so that one which misses the landfall, is set ashore or is still at sea counts against
// it; the spread is half of what nineteen in twenty of those that arrive lie within. So the answer is yes when nineteen in twenty of
// all arrive in time, close when half do, and no when fewer do.
package passage

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/climate"
	"thole/internal/coast"
	"thole/internal/crossing"
	"thole/internal/hydro"
	"thole/internal/units"
	"thole/internal/voyages"
)

// Question is this question's row of the table.
var Question = answer.Question{ID: id, Title: title, Group: answer.UnderWay, Draws: "passages", Numbered: true, Ask: Ask}

const (
	id    = "passage"
	title = "How long will it take?"
)

// How many passages are made: for an answer, for a row of the lever table, and from each of the dates compared. Modelling choices:
// five hundred give the middle day to a tenth of the spread between passages, and a chance of one in twenty to two in a hundred.
const (
	whole   = crossing.Passages
	bare    = crossing.Few
	perDate = 100
	dates   = 12
)

const (
	knot  = 1852.0 / 3600
	mile  = 1852.0
	hours = 24.0
)

// Ask answers the question.
//
// Error: the shape could not be built, no such day or condition, no passage of the number asked for, or the context's
func Ask(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
	a := answer.Answer{Question: id, Title: title, Figures: struct{}{}, Method: method, NotLookedAt: notLookedAt,
		Cautions: []string{
			"Simulated, not forecast: what the sea of many years does to this boat and crew, not what it will do next. The middle day of arrival is a coin toss. Pack for the late day.",
			"Not for navigation. Official charts, an almanac, your own fixes and a look-out come before any of it; the coast here is good to a mile or two and knows few reefs.",
			answer.LocalRules,
		}}
	t, err := c.Trip()
	if err != nil {
		return a, err
	}
	if c.Weightless() {
		return c.NeedWeight(a), nil
	}
	day, _, err := o.Pick(t)
	if err != nil {
		return a, err
	}
	if err := ctx.Err(); err != nil {
		return a, err
	}
	q := &ask{c: c, t: t, o: o, sys: c.Folder.Boat.Units, day: day, n: whole}
	detail := crossing.Whole
	if o.Bare {
		q.n, detail = bare, crossing.Quick
	}
	q.x, err = crossing.New(c, t, detail)
	if err != nil && o.Bare { // a coarse table may hit on a wind in which no steady course is found, and a fine one not
		q.x, err = crossing.New(c, t, crossing.Whole)
	}
	if err != nil {
		return unmade(a, err)
	}
	q.budget()
	if q.tally, err = q.x.Many(ctx, q.n, q.told(0)); err != nil {
		if ctx.Err() != nil {
			return a, ctx.Err()
		}
		return unmade(a, err)
	}
	q.judge(&a)
	if o.Bare {
		return a, nil
	}
	a.Assumptions = append(a.Assumptions, c.Taken(t)...)
	for _, w := range q.x.Assumed {
		a.Assumptions = append(a.Assumptions, answer.Assumption(w))
	}
	f := q.figures()
	if o.Brief {
		a.Figures = *f
		return a, nil
	}
	if err := q.work(ctx, f); err != nil {
		return a, err
	}
	a.Figures = *f
	q.assume(&a)
	q.lay(&a, f)
	return a, nil
}

// unmade is the answer where no passage can be made: what the folder lacks, or why she cannot go.
func unmade(a answer.Answer, err error) (answer.Answer, error) {
	a.Verdict = answer.CannotTell
	var lacking *crossing.Lacking
	if errors.As(err, &lacking) && len(lacking.Lacks) > 0 {
		first := lacking.Lacks[0]
		a.Sentence = fmt.Sprintf("Cannot tell: %s says nothing of %s.", first.File, first.Key)
		if n := len(lacking.Lacks) - 1; n == 1 {
			a.Sentence = fmt.Sprintf("Cannot tell: %s says nothing of %s, and one thing more is missing.", first.File, first.Key)
		} else if n > 1 {
			a.Sentence = fmt.Sprintf("Cannot tell: %s says nothing of %s, and %d things more are missing.", first.File, first.Key, n)
		}
		for _, l := range lacking.Lacks {
			a.Needs = append(a.Needs, answer.Need(l))
		}
		return a, nil
	}
	a.Sentence = fmt.Sprintf("Cannot tell: no passage can be made: %v.", err)
	need := answer.Need{File: "boat.yaml", Key: "rowing", Why: err.Error()}
	switch {
	case errors.Is(err, hydro.ErrSinks):
		need.Key = "weights"
	case strings.HasPrefix(err.Error(), "voyage.yaml"):
		need.File, need.Key = "voyage.yaml", "from"
	}
	a.Needs = append(a.Needs, need)
	return a, nil
}

var method = []answer.Method{
	{What: "each passage goes hour by hour from the start: wind, sea, who rows, how she goes, current; until she arrives, passes the landfall, touches land or is out of time. The same numbers are drawn for every folder, date and lever, so differences are sharper than the answers",
		Source: "midpoint rule (Runge-Kutta of order two) on the sphere; Philox 4x32-10: Salmon, Moraes, Dror and Shaw (SC11, 2011)"},
	{What: "wind: the mean vector of place and month and a departure from it, as wide as makes the mean speed what it is, that dies away with the hours and the way gone; a slower part makes years differ",
		Source: climate.StandardWind().Source + "; Rice, Bell System Technical Journal 24 (1945); first-order autoregression: Wilks, Statistical Methods in the Atmospheric Sciences"},
	{What: "sea: grows and falls with the wind", Source: "Shore Protection Manual (1977, 1984); Pierson and Moskowitz (1964)"},
	{What: "current: the mean of place and month", Source: climate.StandardCurrent().Source},
	{What: "the boat: speed and course by wind, angle and load from the balance of wind, hull, blades and rudder; adrift and to the sea anchor likewise",
		Source: "as for the oars and for the head to the wind: ITTC-57; Michell (1898); Hoerner (1965); Allen and Plourde, USCG CG-D-08-99"},
	{What: "land: a boat that comes within the coast or a listed hazard is ashore", Source: "Natural Earth 1:10 million; hazards from memory"},
	{What: "seasons of tropical storms, as published by basin; days within one are counted, no storm is met", Source: "NOAA JetStream; NHC"},
	{What: "ranges of chances", Source: "Wilson, Journal of the American Statistical Association 22 (1927)"},
	{What: "days by which a share has arrived are order statistics of all passages, those that never arrive counted last", Source: "David and Nagaraja, Order Statistics"},
}

var notLookedAt = []string{
	"what the person decides from day to day beyond the rules given; damage but for days lost; hunger and wear on the rower's power",
	"squalls, the turn of the wind as a front passes, gales heavier than the tail of the normal, tropical storms",
	"eddies, tides, the lee of islands; what waves do to her speed",
	"ships; she makes for the points as given and turns off only from land close by",
	"a measured current: the embedded one is worked out and errs by its own size in places",
}

type ask struct {
	c   *answer.Case
	t   *afloat.Trip
	o   answer.Options
	sys units.System
	day int
	n   int
	all int // steps to tell of

	x     *crossing.Crossing
	tally *voyages.Tally
	deep  *deep // nil until worked out, which only a whole answer is
}

// What the parts of the work are counted as, in passages.
const (
	costTracks = 20
	costLost   = 300
)

// budget is how many steps will be told of.
func (q *ask) budget() {
	q.all = q.n
	if !q.o.Brief && !q.o.Bare {
		q.all += dates*perDate + costTracks + costLost
	}
}

// told tells of steps done after those before; nil where nobody listens.
func (q *ask) told(before int) func(done, total int) {
	if q.o.Progress == nil {
		return nil
	}
	return func(done, _ int) { q.o.Progress(min(before+done, q.all), q.all) }
}

// assume lists what this question itself takes for granted.
func (q *ask) assume(a *answer.Answer) {
	a.Assumptions = append(a.Assumptions,
		answer.Assumption{What: "how far her own place may be wrong at dusk", Value: fmt.Sprintf("%.0f nm", placeDoubt/mile), Why: "good noon practice from a low boat errs by as much; a satellite fix is far better for as long as it works (common practice, no source)"},
		answer.Assumption{What: "a night in which nobody rows", Value: fmt.Sprintf("%.1f h", q.night()), Why: "the longest time between watches; where somebody always rows, a night lost to weather or sickness", File: "voyage.yaml: habits.watches"},
		answer.Assumption{What: "sea room kept from the coast drawn", Value: fmt.Sprintf("%.0f nm", coast.StandOff/mile), Why: "a coastline at 1:10 million errs by a mile or two"})
}
