package highs

import (
	"context"
	"fmt"
	"math"
	"time"
)

// feasible is the most by which a solution may break a rule: the solver's own tolerance,
// 1e-6, with room for rounding.
const feasible = 2e-6

// grace is how long the solver may go on after it was told to stop, before it is cut off.
// It looks up between nodes and between steps of the simplex method, which on a large
// first program can be far apart.
const grace = 400 * time.Millisecond

// Solve looks for the best solution until it is proved, the time is over or ctx is done.
// When it is stopped it gives back the best solution that the solver had told it of (or
// the start, where that breaks no rule), with the bound reached: being stopped is no error.
//
// A linear program (no integer column) has no solution before its end: stopped, it gives
// back the start or nothing.
//
// Good to: 1e-6 in bounds and rows, 1e-6 in wholeness (integer columns are rounded before
// they are returned where that breaks no rule)
// Error: ErrEmpty, ErrInfeasible, ErrUnbounded, ErrSolver, or words about the model
func Solve(ctx context.Context, m *Model, opt Options) (*Solution, error) {
	lay, err := m.lay()
	if err != nil {
		return nil, err
	}
	if math.IsNaN(opt.Seconds) || opt.Seconds < 0 || math.IsNaN(opt.Gap) || opt.Gap < 0 {
		return nil, fmt.Errorf("a solve of %v seconds to a gap of %v makes no sense: give numbers of 0 or more", opt.Seconds, opt.Gap)
	}
	w := &watch{model: m, opt: opt, best: math.NaN(), bound: math.Inf(-1), out: map[string]uint32{}}
	if m.Maximise {
		w.bound = math.Inf(1)
	}
	if opt.Start != nil && m.Breach(opt.Start) <= feasible {
		w.x = append([]float64(nil), opt.Start...)
		w.best = m.Value(w.x)
	}
	if ctx.Err() != nil {
		return w.stopped(), nil
	}
	began := time.Now()
	machine, err := await(ctx, opt.Seconds)
	if err != nil {
		return nil, err
	}
	if machine == nil {
		return w.stopped(), nil
	}
	if opt.Seconds > 0 { // what compiling took counts
		opt.Seconds = max(0.001, opt.Seconds-time.Since(began).Seconds())
		w.opt = opt
	}

	// Two contexts: the caller's asks the solver to stop; ours cuts it off when it does not.
	hard, cut := context.WithCancel(context.WithValue(context.WithoutCancel(ctx), watching{}, w))
	defer cut()
	done := make(chan struct{})
	defer close(done)
	go func() {
		var over <-chan time.Time
		if opt.Seconds > 0 {
			t := time.NewTimer(time.Duration(opt.Seconds * float64(time.Second)))
			defer t.Stop()
			over = t.C
		}
		select {
		case <-done:
			return
		case <-ctx.Done():
		case <-over:
		}
		w.stop.Store(true)
		select {
		case <-done:
		case <-time.After(grace):
			cut()
		}
	}()

	in, err := machine.start(hard)
	if err != nil {
		if w.stop.Load() {
			return w.stopped(), nil
		}
		return nil, err
	}
	defer in.close()
	w.in = in
	s, err := w.run(lay)
	if err != nil && w.stop.Load() && hard.Err() != nil {
		return w.stopped(), nil
	}
	return s, err
}

// await waits for the solver to be compiled; nil when the time is over before.
func await(ctx context.Context, seconds float64) (*machine, error) {
	type made struct {
		m   *machine
		err error
	}
	done := make(chan made, 1)
	go func() {
		m, err := ready()
		done <- made{m, err}
	}()
	var over <-chan time.Time
	if seconds > 0 {
		t := time.NewTimer(time.Duration(seconds * float64(time.Second)))
		defer t.Stop()
		over = t.C
	}
	select {
	case got := <-done:
		return got.m, got.err
	case <-ctx.Done():
	case <-over:
	}
	return nil, nil
}

// stopped is what a solve that was ended early has.
func (w *watch) stopped() *Solution {
	return &Solution{Status: Stopped, X: w.x, Objective: w.best, Bound: w.bound, Gap: gapOf(w.best, w.bound)}
}

// The solver's model statuses, from its C interface.
const (
	statusOptimal    = 7
	statusInfeasible = 8
	statusEither     = 9
	statusUnbounded  = 10
	statusTime       = 13
	statusIterations = 14
	statusUnknown    = 15
	statusSolutions  = 16
	statusInterrupt  = 17
)

// run passes the model, solves it, and reads the result.
func (w *watch) run(lay *matrix) (*Solution, error) {
	h, err := w.in.call("Highs_create")
	if err != nil {
		return nil, err
	}
	if err := w.prepare(h, lay); err != nil {
		return nil, err
	}
	code, err := w.in.call("Highs_run", h)
	if err != nil {
		return nil, err
	}
	status, err := w.in.call("Highs_getModelStatus", h)
	if err != nil {
		return nil, err
	}
	switch int32(status) {
	case statusOptimal:
	case statusInfeasible:
		return nil, ErrInfeasible
	case statusUnbounded, statusEither:
		return nil, ErrUnbounded
	case statusTime, statusIterations, statusUnknown, statusSolutions, statusInterrupt:
	default:
		return nil, fmt.Errorf("%w: it ended with code %d and status %d", ErrSolver, int32(code), int32(status))
	}
	if err := w.read(h, lay.whole, int32(status) == statusOptimal); err != nil {
		return nil, err
	}
	s := w.stopped()
	if int32(status) == statusOptimal {
		s.Status = Optimal
		if s.X == nil {
			return nil, fmt.Errorf("%w: it says optimal, and its solution breaks a rule of the model by more than %v", ErrSolver, feasible)
		}
	}
	return s, nil
}

// read takes the solver's final solution and bound into the watch.
func (w *watch) read(h uint64, whole, optimal bool) error {
	n, rows := len(w.model.Columns), len(w.model.Rows)
	at, err := w.in.room(16 * (n + rows))
	if err != nil {
		return err
	}
	p := uint64(at)
	if _, err := w.in.call("Highs_getSolution", h, p, p+8*uint64(n), p+16*uint64(n), p+16*uint64(n)+8*uint64(rows)); err != nil {
		return err
	}
	x, ok := w.in.floats(at, n)
	if ok && (whole || optimal) {
		tidy(w.model, x)
		// The solver's rows are scaled; what it calls optimal may miss a row by a little more
		// than its tolerance, which the value of a proved optimum is not to be denied for.
		slack := feasible
		if optimal {
			slack = 1e-4
		}
		if v := w.model.Value(x); w.model.Breach(x) <= slack && w.improves(v) {
			w.best, w.x = v, x
		}
	}
	if w.x != nil {
		tidy(w.model, w.x)
		w.best = w.model.Value(w.x)
	}
	switch {
	case whole:
		bound, err := w.in.info(h, "mip_dual_bound")
		if err != nil {
			return err
		}
		if !math.IsNaN(bound) && math.Abs(bound) < huge {
			w.bound = tighter(w.model.Maximise, w.bound, bound)
		}
		// A bound past a solution that holds is rounding.
		if w.x != nil && (w.model.Maximise && w.bound < w.best || !w.model.Maximise && w.bound > w.best) {
			w.bound = w.best
		}
	case optimal:
		w.bound = w.best
	}
	return nil
}

// tidy rounds the integer columns, where the rounded solution breaks the rules no more.
func tidy(m *Model, x []float64) {
	y := append([]float64(nil), x...)
	for j, c := range m.Columns {
		if c.Integer {
			y[j] = math.Round(y[j])
		}
	}
	if m.Breach(y) <= max(feasible, m.Breach(x)) {
		copy(x, y)
	}
}
