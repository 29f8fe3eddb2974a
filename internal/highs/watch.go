package highs

import (
	"context"
	"math"
	"sync/atomic"
	"time"

	"github.com/tetratelabs/wazero/api"
)

// The solver's callbacks, by their numbers in its C interface.
const (
	simplexStep  = 1
	interiorStep = 2
	better       = 4 // an improving solution of a whole-number program
	mipStep      = 6
)

// often is the time between two reports of the search.
const often = 200 * time.Millisecond

// watch follows one solve from outside: it keeps the best solution as soon as there is
// one, so that nothing is lost when the solve is ended, and it passes on the wish to stop.
type watch struct {
	in          *instance
	model       *Model
	opt         Options
	stop        atomic.Bool
	told        time.Time
	best, bound float64 // best is NaN before the first solution
	x           []float64
	out         map[string]uint32 // where a field stands in the solver's report, from its start
}

// watching is the key under which a call's context holds its watch.
type watching struct{}

// called is what the solver calls: (type, message, report, answer, own data).
func called(ctx context.Context, _ api.Module, s []uint64) {
	w, ok := ctx.Value(watching{}).(*watch)
	if !ok {
		return
	}
	kind, data, answer := int32(s[0]), uint32(s[2]), uint32(s[3])
	switch kind {
	case simplexStep, interiorStep, mipStep:
		if w.stop.Load() {
			w.in.memory.WriteUint32Le(answer, 1)
		}
		if kind == mipStep && time.Since(w.told) > often {
			w.tell(data)
		}
	case better:
		w.found(data)
	}
}

// field reads a number from the solver's report. The fields keep their places in it, so
// the solver is asked for each only once.
func (w *watch) field(data uint32, name string) float64 {
	at, known := w.out[name]
	if !known {
		p, err := w.in.item(data, name)
		if err != nil || p == 0 {
			return math.NaN()
		}
		at = p - data
		w.out[name] = at
	}
	v, ok := w.in.memory.ReadFloat64Le(data + at)
	if !ok {
		return math.NaN()
	}
	return v
}

// item is the address of a field of the solver's report.
func (in *instance) item(data uint32, name string) (uint32, error) {
	text, err := in.text(name)
	if err != nil {
		return 0, err
	}
	p, err := in.call("Highs_getCallbackDataOutItem", uint64(data), uint64(text))
	return uint32(p), err
}

// found keeps a better solution.
func (w *watch) found(data uint32) {
	p, err := w.in.item(data, "mip_solution")
	if err != nil || p == 0 {
		return
	}
	x, ok := w.in.floats(p, len(w.model.Columns))
	if !ok || w.model.Breach(x) > feasible {
		return
	}
	v := w.model.Value(x)
	if !w.improves(v) {
		return
	}
	w.best, w.x = v, x
	if w.opt.Found != nil {
		w.opt.Found(append([]float64(nil), x...))
	}
	w.tell(data)
}

// improves tells whether a value is better than the best so far.
func (w *watch) improves(v float64) bool {
	if w.model.Maximise {
		return math.IsNaN(w.best) || v > w.best
	}
	return math.IsNaN(w.best) || v < w.best
}

// tell reads the bound and passes it on with the best.
func (w *watch) tell(data uint32) {
	w.told = time.Now()
	bound := w.field(data, "mip_dual_bound")
	if math.IsNaN(bound) || math.Abs(bound) >= huge {
		bound = w.bound
	}
	w.bound = tighter(w.model.Maximise, w.bound, bound)
	if w.opt.Progress != nil {
		w.opt.Progress(w.best, w.bound, gapOf(w.best, w.bound))
	}
}

// tighter is the better of two bounds.
func tighter(maximise bool, a, b float64) float64 {
	if maximise {
		return min(a, b)
	}
	return max(a, b)
}
