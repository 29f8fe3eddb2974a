// Package stow looks for a better stowage: a place for every store that lies in a compartment and the order of using them up, so that
// every rule of the stowage is kept and trim, heel and height of gravity stay within what is asked on every day, at the least handling.
//
// It starts from the stowage as written, so that what it gives is never worse, and says how far from the best it may at most be. What is
// pinned stays. In the end the folder is changed in memory as the plan says, judged again and floated on a few days: what is told
// of the plan is what that gave, not what was foretold.
package stow

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/stowage"
	"thole/internal/stowing"
)

// Search is this search's row of the table.
var Search = answer.Search{ID: "stow", Title: "Look for a better stowage",
	About: "It looks for a place for everything in a compartment and for the order to use it in, so that every rule is kept and trim, heel and height stay within what is asked, at the least handling. It moves what is not pinned, and may split a row over places and days; nothing is added or left ashore.",
	Run:   Run}

// ErrNothing is a folder with nothing to stow.
var ErrNothing = errors.New("there is nothing to plan: no row of stores.csv lies in a compartment (fill the column where with a compartment's number or name)")

// least is how much better a plan must be to be offered, of what the layout as written costs.
const least = 0.005

// explain is the share of the time that is kept to say which rules collide, where no plan keeps them.
const explain = 0.3

// Run looks for so many seconds, or until the context is done.
//
// Error: there is nothing to stow, or the shape could not be built
func Run(ctx context.Context, c *answer.Case, seconds float64, found func(answer.Finding)) (answer.Finding, error) {
	t, err := c.Trip()
	if err != nil {
		return answer.Finding{}, err
	}
	r := &run{ctx: ctx, c: c, t: t, best: math.NaN()}
	if err := r.ready(); err != nil {
		return answer.Finding{}, err
	}
	opt := stowing.Options{Seconds: seconds, Start: &r.s.Written, Progress: func(p stowing.Progress) {
		if found != nil {
			found(r.told(p.Layout, p.Objective, p.Bound))
		}
	}}
	began := time.Now()
	r.spare()
	if !r.room && r.was.rules() > 0 {
		opt.Seconds *= 1 - explain
	}
	pinned := r.pinned()
	if len(pinned) > 0 && seconds >= leastPins {
		opt.Seconds -= pinShare * seconds
	}
	opt.Seconds -= refused * seconds
	plan, err := stowing.Solve(ctx, r.p, opt)
	if plan == nil {
		return answer.Finding{}, err
	}
	r.plan = plan // a failure of the solver leaves a plan without a bound
	if len(plan.Rules) > 0 {
		left := math.Max(1, seconds-time.Since(began).Seconds())
		if r.why, err = stowing.Explain(ctx, r.p, stowing.Options{Seconds: left}); err != nil {
			return answer.Finding{}, err
		}
	}
	if err := r.refuse(refused * seconds); err != nil {
		return answer.Finding{}, err
	}
	if seconds >= leastPins {
		if err := r.unpin(pinned, pinShare*seconds); err != nil {
			return answer.Finding{}, err
		}
	}
	return r.finding()
}

// run is one search.
type run struct {
	ctx  context.Context
	c    *answer.Case
	t    *afloat.Trip
	s    *stowage.Stowage
	b    *stowage.Balance
	p    *stowing.Problem // what is solved
	room bool             // its places are filled only so far that they are sure to hold
	was  *side
	now  *side
	plan *stowing.Plan
	why  *stowing.Account
	left []string // things that no act can tell apart
	pins []pin
	no   []string // what of trim, heel and height cannot be had, in words
	best float64  // no stowage leaves more height; NaN where that is not known
}

// side is a stowage as it lies: before or after.
type side struct {
	s      *stowage.Stowage
	judged *stowage.Judgement
	states []stowage.State
	figure *stowing.Figures // with the moments of the first balance
}

func (s *side) rules() int { return len(s.judged.Broken) }

// ready makes ready the folder as written.
func (r *run) ready() error {
	s, err := stowage.New(r.t)
	if err != nil {
		return err
	}
	if r.s = s; len(s.Items) == 0 {
		return ErrNothing
	}
	if r.b, err = s.Balanced(r.ctxLast()); err != nil {
		return err
	}
	j, err := s.NewJudge(&r.b.Problem)
	if err != nil {
		return err
	}
	r.was = &side{s: s}
	if r.was.judged, err = j.Of(s.Written); err != nil {
		return err
	}
	r.was.figure = &r.was.judged.Figures
	r.was.states, err = stowage.Worst(r.ctxLast(), r.t, stowage.Days(r.t))
	return err
}

// quick is for how many seconds it is tried whether a plan can leave room to spare.
const quick = 0.5

// spare has the plan leave so much room in each place that it is sure to hold what lies there, where a plan can.
func (r *run) spare() {
	r.p = &r.b.Problem
	roomy := r.s.WithRoom(r.p)
	plan, err := stowing.Solve(r.ctxLast(), roomy, stowing.Options{Seconds: quick, Gap: 1, Start: &r.s.Written})
	if err == nil && len(plan.Rules) == 0 {
		r.p, r.room = roomy, true
	}
}

// told is how far the search has come.
func (r *run) told(l stowing.Layout, objective, bound float64) answer.Finding {
	f := answer.Finding{Sentence: "looking for a stowage that keeps every rule"}
	j, err := r.s.NewJudge(&r.b.Problem)
	if err != nil || math.IsNaN(objective) {
		return f
	}
	now, err := j.Of(l)
	if err != nil {
		return f
	}
	f.Sentence, f.Gap = r.sentence(now, bound), gap(objective, bound)
	return f
}

// gap is how far a plan may at most be from the best; nil where that is not known.
func gap(objective, bound float64) *float64 {
	if !(objective > 0) || !(bound > 0) || math.IsInf(bound, 0) {
		return nil
	}
	g := math.Max(0, (objective-bound)/objective)
	return &g
}

// sentence tells a layout against the one as written.
func (r *run) sentence(now *stowage.Judgement, bound float64) string {
	was := r.was.judged
	if len(now.Broken) == 0 && len(was.Broken) == 0 && now.Figures.Objective >= was.Figures.Objective*(1-least) {
		if g := gap(now.Figures.Objective, bound); g != nil && *g < least {
			return "The stowage as written is as good as any: no plan does with less."
		}
		return "So far nothing better than the stowage as written" + r.atBest(now.Figures.Objective, bound)
	}
	text := fmt.Sprintf("Found a stowage with %s", r.handling(now.Figures.Handling))
	if n, m := len(was.Broken), len(now.Broken); n > m && m == 0 {
		text += fmt.Sprintf(" that keeps every rule (as written %s broken)", count(n, "is", "are"))
	} else if m > 0 {
		text += fmt.Sprintf(", but %s broken", rules(m))
	}
	f := r.b.Forecast(&now.Figures)
	height := math.Inf(1)
	for _, s := range f {
		height = math.Min(height, s.Height)
	}
	if !math.IsNaN(height) && !math.IsInf(height, 0) {
		before := math.Inf(1)
		for _, s := range r.b.Forecast(r.was.figure) {
			before = math.Min(before, s.Height)
		}
		fine := r.c.Folder.Boat.Units.Fine()
		text += fmt.Sprintf("; least height left about %s, as written %s", fine.Show(height), fine.Show(before))
	}
	return text + r.atBest(now.Figures.Objective, bound)
}

// handling compares the work with that of the stowage as written.
func (r *run) handling(now float64) string {
	was := r.was.judged.Figures.Handling
	switch {
	case was <= 0:
		return fmt.Sprintf("a handling of %.2f", now)
	case now > was*(1+least):
		return fmt.Sprintf("%.0f %% more handling", 100*(now/was-1))
	case now < was*(1-least):
		return fmt.Sprintf("%.0f %% less handling", 100*(1-now/was))
	}
	return "as much handling"
}

// atBest says by how much any plan could better it.
func (r *run) atBest(objective, bound float64) string {
	none := "no plan can"
	if r.room {
		none = "no plan that leaves as much room to spare can"
	}
	g := gap(objective, bound)
	switch {
	case g == nil:
		return "."
	case *g < least:
		return "; " + none + " be better."
	}
	return fmt.Sprintf("; %s be better by more than %.0f %%, all prices together.", none, math.Ceil(100**g))
}

func rules(n int) string { return count(n, "rule is", "rules are") }

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
