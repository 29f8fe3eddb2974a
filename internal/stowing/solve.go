package stowing

import (
	"context"
	"errors"
	"math"
	"sync"
	"time"

	"thole/internal/highs"
)

// Options say how long to look.
type Options struct {
	Seconds  float64        // 0: ten
	Gap      float64        // enough when the gap is no more than this; 0: prove it
	Progress func(Progress) // called when a better plan or a better bound is known
	Seed     uint64         // another course of the search
	Start    *Layout        // a plan to begin with, if it belongs to the problem
}

// Progress is how far a solve is.
type Progress struct {
	Objective float64 // of the best plan so far; NaN before the first that keeps the rules
	Bound     float64
	Gap       float64
	Layout    Layout // the best so far, for the callee to keep
}

// Take is units of one item out of one place on one day.
type Take struct{ Item, Place, Units int }

// Plan is a layout with all that follows from it.
type Plan struct {
	Layout
	Figures
	Use        [][]Take // by day, from day 1 on at index 0: what to take out of which place
	Bound      float64  // no plan that keeps the rules has a lower objective
	Gap        float64  // (Objective - Bound) / Objective; +Inf while rules are broken
	Proved     bool     // no plan is better (within 1e-6)
	Impossible bool     // proved: no plan keeps the rules; Account says why
}

// Solve looks for the best plan. When the time is over, or ctx is done, it gives back the
// best so far: that is no error. A plan always comes back; where it has Rules, it breaks them.
//
// Error: words about the problem, or a failure of the solver (the plan found without it
// still comes back)
func Solve(ctx context.Context, p *Problem, opt Options) (*Plan, error) {
	j, err := prepare(p)
	if err != nil {
		return nil, err
	}
	if opt.Seconds <= 0 || math.IsNaN(opt.Seconds) {
		opt.Seconds = 10
	}
	r := &run{j: j, opt: opt, began: time.Now(), e: j.evaluator(), bound: j.floor()}
	if opt.Start != nil && r.e.Check(*opt.Start) == nil {
		r.offer(opt.Start.Clone())
	}
	go highs.Warm() // compiled while the search begins; a failure is told by the solve
	s := j.newSearch(opt.Seed)
	if r.has { // a person changes what is, and does not begin with an empty boat
		s.state.load(r.best)
		s.note()
	} else {
		s.greedy()
	}
	r.offer(s.best)
	s.anneal(ctx, time.Duration(min(1.5, 0.15*opt.Seconds, perLot*float64(len(s.lots)))*float64(time.Second)), func() { r.offer(s.best) })
	r.offer(s.best)
	if r.done() || ctx.Err() != nil {
		return r.plan(false), nil
	}

	// The search goes on beside the solver: the one betters the plan, the other the bound.
	searching, stop := context.WithCancel(ctx)
	over := make(chan struct{})
	go func() {
		defer close(over)
		r.goOn(searching)
	}()
	impossible, err := r.prove(ctx)
	if r.left() < 0.05 || r.done() || impossible || r.small {
		stop()
	}
	<-over
	stop()
	return r.plan(impossible), err
}

// perLot is for how many seconds a lot is worth searching before the solver begins.
const perLot = 0.002

// goOn searches anew, in turn from nothing and from the best, until the time is over.
//
// It waits a little first: a small program is solved before it would have begun.
func (r *run) goOn(ctx context.Context) {
	select {
	case <-ctx.Done():
		return
	case <-time.After(300 * time.Millisecond):
	}
	for n := uint64(1); r.left() > 0.02 && ctx.Err() == nil && !r.done(); n++ {
		s := r.j.newSearch(r.opt.Seed + 1000*n)
		if n%2 == 0 {
			r.mu.Lock()
			best := r.best.Clone()
			r.mu.Unlock()
			s.state.load(best)
			s.note()
		} else {
			s.greedy()
		}
		s.anneal(ctx, time.Duration(min(2, r.left())*float64(time.Second)), func() { r.offer(s.best) })
		r.offer(s.best)
	}
}

// run is one solve under way.
type run struct {
	j     *job
	opt   Options
	began time.Time
	small bool // the full program was solved to its end or for all the time there was

	mu    sync.Mutex
	e     *Evaluator
	best  Layout
	fig   Figures
	has   bool
	bound float64
}

// offer takes a layout when it is better than the best: first by the rules, then by the
// objective.
func (r *run) offer(l Layout) {
	r.mu.Lock()
	defer r.mu.Unlock()
	var f Figures
	r.e.Evaluate(l, &f)
	if r.has {
		rules, was := broken(f.Rules), broken(r.fig.Rules)
		if rules > was || rules == was && f.Objective >= r.fig.Objective-1e-9 {
			return
		}
	}
	r.best, r.fig, r.has = l, f, true
	r.tell()
}

// broken is how many rules are broken, for comparison.
func broken(rules []Breach) int { return len(rules) }

// raise takes a better bound.
func (r *run) raise(bound float64) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if bound > r.bound+1e-9 {
		r.bound = bound
		r.tell()
	}
}

// tell passes the progress on.
func (r *run) tell() {
	if r.opt.Progress == nil {
		return
	}
	p := Progress{Objective: r.fig.Objective, Bound: r.bound, Gap: r.gap(), Layout: r.best.Clone()}
	if len(r.fig.Rules) > 0 {
		p.Objective = math.NaN()
	}
	r.opt.Progress(p)
}

// gap is how far the best is from the bound, as a part of it.
func (r *run) gap() float64 {
	if len(r.fig.Rules) > 0 {
		return math.Inf(1)
	}
	d := r.fig.Objective - r.bound
	if d <= 2*rounding {
		return 0
	}
	return d / max(r.fig.Objective, 1e-9)
}

// done tells whether the best is good enough.
func (r *run) done() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.gap() <= r.opt.Gap
}

// left is how many seconds are left.
func (r *run) left() float64 { return r.opt.Seconds - time.Since(r.began).Seconds() }

// fullSize is how many columns the full program may have to be tried: beyond, its first
// linear program alone takes longer than a person waits.
const fullSize = 3000

// prove has the solver raise the bound with the coarse program, and better plan and bound
// with the full one where that is small enough. It tells whether no plan keeps the rules.
func (r *run) prove(ctx context.Context) (bool, error) {
	p := r.j.build()
	r.small = len(p.m.Columns) <= fullSize
	seconds := r.left()
	if r.small { // whose own bound is soon the better one
		seconds *= 0.15
	}
	if c := r.j.coarsen(); len(c.m.Columns) > 0 && seconds > 0.02 {
		opt := highs.Options{Seconds: seconds, Gap: r.opt.Gap, Progress: func(_, bound, _ float64) { r.raise(bound - rounding) }}
		if best, ok := r.start(); ok {
			opt.Start = c.values(best)
		}
		s, err := highs.Solve(ctx, &c.m, opt)
		if errors.Is(err, highs.ErrInfeasible) {
			return true, nil
		}
		if err != nil {
			return false, err
		}
		r.raise(s.Bound - rounding)
	}
	if !r.small || len(p.m.Columns) == 0 || r.left() < 0.02 || r.done() || ctx.Err() != nil {
		return false, nil
	}
	opt := highs.Options{Seconds: r.left(), Gap: r.opt.Gap,
		Found:    func(x []float64) { r.offer(p.layout(x)) },
		Progress: func(_, bound, _ float64) { r.raise(bound - rounding) }}
	if best, ok := r.start(); ok {
		opt.Start = p.values(best)
	}
	s, err := highs.Solve(ctx, &p.m, opt)
	if errors.Is(err, highs.ErrInfeasible) {
		return true, nil
	}
	if err != nil {
		return false, err
	}
	if s.X != nil {
		r.offer(p.layout(s.X))
	}
	r.raise(s.Bound - rounding)
	return false, nil
}

// rounding is taken off the solver's bounds: its rows hold to 1e-6.
const rounding = 1e-6

// start is the best so far, if it keeps the rules.
func (r *run) start() (Layout, bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.best, len(r.fig.Rules) == 0
}

// plan is what is known in the end.
func (r *run) plan(impossible bool) *Plan {
	out := &Plan{Layout: r.best, Figures: r.fig, Bound: min(r.bound, r.fig.Objective), Gap: r.gap(), Impossible: impossible}
	if len(r.fig.Rules) > 0 {
		out.Bound = r.bound
	}
	out.Proved = out.Gap == 0
	out.Use = r.e.use(r.best)
	return out
}

// use is the layout's use day by day.
func (e *Evaluator) use(l Layout) [][]Take {
	j := e.j
	out := make([][]Take, j.Trip.Days)
	for i := range j.Items {
		for b := range l.Take[i] {
			clear(e.turn)
			done, total := 0, j.need[i][b]
			for d := j.ends[b] + 1; d <= j.ends[b+1]; d++ {
				from := len(out[d-1])
				for range j.daily[i][d-1] {
					k := next(l.Take[i][b], e.turn, done, total)
					e.turn[k]++
					done++
					add(&out[d-1], from, i, k)
				}
			}
		}
	}
	return out
}

// add counts one unit more on a day's list.
func add(day *[]Take, from, item, place int) {
	for n := from; n < len(*day); n++ {
		if (*day)[n].Place == place {
			(*day)[n].Units++
			return
		}
	}
	*day = append(*day, Take{item, place, 1})
}

// floor is a bound that needs no solver: in each block at least one place is opened, as easy
// as the easiest into which each item used then can go.
func (j *job) floor() float64 {
	sum := 0.0
	for b := range j.span {
		dearest := 0.0
		for i := range j.Items {
			if j.need[i] == nil || j.need[i][b] == 0 {
				continue
			}
			least := math.Inf(1)
			for k := range j.Places {
				if j.goes[i][k] {
					least = min(least, j.w.Open[j.Places[k].Reach])
				}
			}
			if !math.IsInf(least, 1) {
				dearest = max(dearest, least)
			}
		}
		sum += j.span[b] * dearest
	}
	return sum
}
