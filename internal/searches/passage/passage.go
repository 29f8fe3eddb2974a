// Package passage looks for a better day to leave, over the twelve months from the folder's own date on: half-months first, from
// few passages, then the dates about the best from more and more, for as long as it is let.
//
// Better is the day from which more arrive by the planned days without having met a season of tropical storms, then from which more arrive
// by then at all, then from which fewer miss the landfall or are set ashore (crossing.Departure.Better). In the end the folder is changed in memory and its passages
// are made anew: what is told of the best day is what that gave.
package passage

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"thole/internal/answer"
	"thole/internal/crossing"
	"thole/internal/model"
)

// Search is this search's row of the table.
var Search = answer.Search{ID: "passage", Title: "Look for a better day to leave",
	About: "It makes passages from dates over the twelve months after that of the folder, more of them from the better dates, and finds the day from which most arrive within the planned days and out of the season of tropical storms.",
	Run:   Run}

// Bounds of the search, modelling choices.
const (
	first  = 25  // passages from each date in the first round; each round doubles them
	most   = 800 // passages from a date at the end
	halves = 24  // half-months in the year looked at
	nearby = 2   // days apart that dates about the best come to lie
	fewest = 4   // dates that a round goes on with, at the least
)

// spread is the order in which the months are looked at, so that a search that is stopped early has looked all round the year.
var spread = [halves / 2]int{0, 6, 3, 9, 1, 7, 4, 10, 2, 8, 5, 11}

// perFinal is how many passages are made from the best date and the folder's own in the end, as for an answer; mostAgain is from how
// many dates that turn out to be best one after the other.
const (
	perFinal  = crossing.Passages
	mostAgain = 4
)

// Run looks for so many seconds, or until the context is done.
//
// Error: what the folder lacks for a passage to be made, or why none can be
func Run(ctx context.Context, c *answer.Case, seconds float64, found func(answer.Finding)) (answer.Finding, error) {
	return search(ctx, c, seconds, most, found)
}

// search looks until it has made so many passages from the best dates.
func search(ctx context.Context, c *answer.Case, seconds float64, most int, found func(answer.Finding)) (answer.Finding, error) {
	t, err := c.Trip()
	if err != nil {
		return answer.Finding{}, err
	}
	if c.Weightless() {
		return answer.Finding{}, errors.New("boat.yaml: weights: nothing in the folder says what she weighs")
	}
	x, err := crossing.New(c, t, crossing.Whole)
	if err != nil {
		return answer.Finding{}, err
	}
	r := &run{c: c, x: x, most: most, found: found}
	until, stop := context.WithTimeout(ctx, time.Duration(math.Min(seconds, 1e6)*float64(time.Second)))
	defer stop()
	if err := r.look(until); err != nil && until.Err() == nil {
		return answer.Finding{}, err
	}
	return r.finding(context.WithoutCancel(ctx))
}

// run is one search.
type run struct {
	c     *answer.Case
	x     *crossing.Crossing
	most  int
	found func(answer.Finding)
	dates []date // by day
	ended bool   // it looked as closely as it would
}

// date is a day of leaving and what came of it so far.
type date struct {
	later int // days after the folder's own
	crossing.Departure
}

// look makes passages from more and more dates.
func (r *run) look(ctx context.Context) error {
	own := r.c.Folder.Voyage.Leave
	months := crossing.Months(own, halves/2)
	var begin []int
	for _, half := range []int{0, 15} { // days into the month
		for _, i := range spread {
			begin = append(begin, int(math.Round(months[i].Sub(own).Hours()/24))+half)
		}
	}
	for _, later := range begin {
		if err := r.make(ctx, later, first); err != nil {
			return err
		}
		r.tell()
	}
	for n := 2 * first; n <= r.most; n *= 2 {
		for _, later := range r.next() {
			if err := r.make(ctx, later, n); err != nil {
				return err
			}
			r.tell()
		}
	}
	r.ended = true
	return nil
}

// next are the days that the next round goes on with: the better half, the folder's own, and the days half-way from the best to its neighbours.
func (r *run) next() []int {
	ranked := slices.Clone(r.dates)
	slices.SortStableFunc(ranked, func(a, b date) int {
		switch {
		case a.Better(b.Departure, r.x.Planned):
			return -1
		case b.Better(a.Departure, r.x.Planned):
			return 1
		}
		return cmp.Compare(a.later, b.later)
	})
	out := []int{0}
	best := ranked[0].later
	// A round of half as many dates with twice as many passages costs what the one before did, less what is made already.
	for _, d := range ranked[:min(len(ranked), max(fewest, len(ranked)/3))] {
		out = append(out, d.later)
	}
	at := slices.IndexFunc(r.dates, func(d date) bool { return d.later == best })
	for _, side := range []int{at - 1, at + 1} {
		if side >= 0 && side < len(r.dates) {
			if gap := r.dates[side].later - best; gap >= 2*nearby || gap <= -2*nearby {
				out = append(out, best+gap/2)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// make makes the first n passages from a day.
func (r *run) make(ctx context.Context, later, n int) error {
	made, err := r.x.Depart(ctx, []time.Time{r.c.Folder.Voyage.Leave.AddDate(0, 0, later)}, n, nil)
	if err != nil {
		return err
	}
	i, there := slices.BinarySearchFunc(r.dates, later, func(d date, l int) int { return cmp.Compare(d.later, l) })
	if there {
		r.dates[i].Departure = made[0]
	} else {
		r.dates = slices.Insert(r.dates, i, date{later, made[0]})
	}
	return nil
}

// best is the best date so far, and the folder's own; nil before it has been made.
func (r *run) best() (best, own *date) {
	for i := range r.dates {
		d := &r.dates[i]
		if d.later == 0 {
			own = d
		}
		if best == nil || d.Better(best.Departure, r.x.Planned) {
			best = d
		}
	}
	return best, own
}

// tell tells how far it has come.
func (r *run) tell() {
	if r.found == nil {
		return
	}
	best, own := r.best()
	r.found(answer.Finding{Sentence: r.sentence(best, own)})
}

// finding is what the search ends with: the best date and the folder's own, each from as many passages; the best made in memory.
//
// Error: the runner's; the folder cannot be asked
func (r *run) finding(ctx context.Context) (answer.Finding, error) {
	f := answer.Finding{Done: true, Sentence: "No passage was made in so short a time: let it look for longer."}
	best, _ := r.best()
	if best == nil {
		return f, nil
	}
	if err := r.make(ctx, 0, perFinal); err != nil {
		return f, err
	}
	// Made in full another may turn out to be best: the best of all is made so until it has been.
	again := map[int]bool{0: true}
	for range mostAgain {
		b, _ := r.best()
		if best = b; again[b.later] {
			break
		}
		if err := r.remake(ctx, b); err != nil {
			return f, err
		}
		again[b.later] = true
	}
	for i := range r.dates {
		if d := &r.dates[i]; again[d.later] && (!again[best.later] || d.Better(best.Departure, r.x.Planned)) {
			best = d
		}
	}
	_, own := r.best()
	f.Sentence = r.sentence(best, own)
	if best.later != 0 && best.Worth(own.Departure, r.x.Planned) {
		f.Offers = []answer.Offer{{Name: "leave on " + best.Leave.Format("2 January 2006"), Why: r.because(best, own), Acts: []model.Act{{Do: model.Leave, Days: best.later}}}}
	} else if best.later != 0 {
		f.Sentence = fmt.Sprintf("No date in the year is clearly better than that of the folder: %s.", r.of(own))
	}
	r.lay(&f, best)
	return f, nil
}

// remake makes the passages of a date from the folder changed in memory.
func (r *run) remake(ctx context.Context, d *date) error {
	folder := *r.c.Folder
	voyage := *folder.Voyage
	voyage.Leave = voyage.Leave.AddDate(0, 0, d.later)
	folder.Voyage = &voyage
	c := answer.NewCaseFrom(&folder, r.c)
	t, err := c.Trip()
	if err != nil {
		return err
	}
	x, err := crossing.New(c, t, crossing.Whole)
	if err != nil {
		return err
	}
	tally, err := x.Many(ctx, perFinal, nil)
	if err != nil {
		return err
	}
	d.Tally = tally
	return nil
}
