package afloat

import (
	"context"
	"math"

	"gonum.org/v1/gonum/mat"

	"thole/internal/hydro"
	"thole/internal/model"
)

// enough is the number of states up to which all are worked out rather than searched.
const enough = 16

// Tightest finds the day and the condition in which she has least height of gravity left, without
// working out every state: from a few it is foretold how high the centre of gravity could lie in the
// others, and whatever could be the least by that, within three times what the foretelling was out by so far, is worked out as well.
//
// Out:    as the least of Rightings; one in which she sinks, or finds no balance, comes before all others
// Error:  only the context's
// Good to: the same state as all of them worked out gives, or one within a tenth of a millimetre of
// it (TestTightestAgainstAll: both demonstration boats, changed at random)
func (t *Trip) Tightest(ctx context.Context) (r Righting, condition int, err error) {
	t.mu.Lock()
	known := t.curves
	t.mu.Unlock()
	if known == nil && len(t.Conditions)*(t.Days+1) > enough {
		s := t.newSearch()
		if s.run(ctx) {
			return s.best, s.bestAt / (t.Days + 1), ctx.Err()
		}
	}
	if known, err = t.Rightings(ctx, nil); err != nil {
		return r, 0, err
	}
	var worst *Righting
	for c := range known {
		for d := range known[c] {
			k := &known[c][d]
			if worst == nil || k.Err != nil && worst.Err == nil || (k.Err != nil) == (worst.Err != nil) && k.Headroom < worst.Headroom {
				worst, condition = k, c
			}
		}
	}
	return *worst, condition, nil
}

// search is one search among all states; a state's index is condition × days + day.
type search struct {
	t      *Trip
	states []model.State
	at     [][]float64 // terms of each state
	tried  []tried
	done   []bool
	best   Righting
	bestAt int
	errs   []float64 // what the foretelling was out by, newest last, metres
}

// tried is a state worked out.
type tried struct {
	state   int
	curve   *hydro.Curve
	heights []float64
}

// terms are those of the polynomial by which the heights are foretold: of mass, place along the boat
// and height of the centre of gravity, each from -1 to 1 over all states.
func terms(m, x, z float64) []float64 { return []float64{1, m, x, z, m * m, m * x, x * x} }

func (t *Trip) newSearch() *search {
	n := len(t.Conditions) * (t.Days + 1)
	s := &search{t: t, states: make([]model.State, n), at: make([][]float64, n), done: make([]bool, n), bestAt: -1}
	lo, hi := [3]float64{}, [3]float64{}
	key := func(i int) [3]float64 { return [3]float64{s.states[i].Mass, s.states[i].G.X, s.states[i].G.Z} }
	for i := range s.states {
		s.states[i] = t.State(i%(t.Days+1), i/(t.Days+1))
		for j, v := range key(i) {
			if i == 0 {
				lo[j], hi[j] = v, v
			}
			lo[j], hi[j] = math.Min(lo[j], v), math.Max(hi[j], v)
		}
	}
	for i := range s.at {
		var u [3]float64
		for j, v := range key(i) {
			if hi[j] > lo[j] {
				u[j] = 2*(v-lo[j])/(hi[j]-lo[j]) - 1
			}
		}
		s.at[i] = terms(u[0], u[1], u[2])
	}
	return s
}

// run searches; false when some state has no balance, so that all must be looked at.
func (s *search) run(ctx context.Context) bool {
	for len(s.tried) < 8 {
		if ctx.Err() != nil {
			return true
		}
		if !s.try(s.farthest(), math.NaN()) {
			return false
		}
	}
	for ctx.Err() == nil {
		fit := s.fit()
		least, at := math.Inf(1), -1
		for i := range s.states {
			if !s.done[i] {
				if h := s.foretold(fit, i); h < least {
					least, at = h, i
				}
			}
		}
		if at < 0 || len(s.errs) > 2 && least > s.best.Headroom+s.doubt() {
			return true
		}
		if !s.try(at, least) {
			return false
		}
	}
	return true
}

// doubt is by how much a foretold height may be out: three times the worst of the last few.
func (s *search) doubt() float64 {
	worst := 1e-4
	for _, e := range s.errs[max(0, len(s.errs)-4):] {
		worst = math.Max(worst, e)
	}
	return 3 * worst
}

// farthest is the state least like any that was tried; the first ones are the ends of the trip in the first crew place,
// which others look at as well.
func (s *search) farthest() int {
	if n := len(s.tried); n < 2 {
		return n * s.t.Days
	}
	far, at := -1.0, 0
	for i := range s.states {
		near := math.Inf(1)
		for _, k := range s.tried {
			near = math.Min(near, s.apart(i, k.state))
		}
		if near > far && !s.done[i] {
			far, at = near, i
		}
	}
	return at
}

func (s *search) apart(i, j int) float64 {
	a, b := s.at[i], s.at[j]
	return (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]) + (a[3]-b[3])*(a[3]-b[3])
}

// try works a state out, starting from the most like one; false when there is no balance.
func (s *search) try(i int, foretold float64) bool {
	var near *hydro.Curve
	best := math.Inf(1)
	for _, k := range s.tried {
		if d := s.apart(i, k.state); d < best {
			best, near = d, k.curve
		}
	}
	r := s.t.righting(i%(s.t.Days+1), i/(s.t.Days+1), near)
	if r.Err != nil {
		return false
	}
	s.done[i] = true
	s.tried = append(s.tried, tried{i, r.Curve, r.Curve.Heights(nil)})
	if !math.IsNaN(foretold) {
		s.errs = append(s.errs, math.Abs(foretold-r.Headroom))
	}
	if s.bestAt < 0 || r.Headroom < s.best.Headroom || r.Headroom == s.best.Headroom && i < s.bestAt {
		s.best, s.bestAt = r, i
	}
	return true
}

// fit finds the polynomials of all heights by least squares; what the states do not settle is kept small.
func (s *search) fit() *mat.Dense {
	n, heels := len(s.at[0]), len(s.tried[0].heights)
	normal, right := mat.NewSymDense(n, nil), mat.NewDense(n, heels, nil)
	for _, k := range s.tried {
		a := s.at[k.state]
		// Where it matters is near the least, so what lies near counts most.
		w := 1 / (0.05 + s.apart(k.state, s.bestAt))
		for i := range n {
			for j := i; j < n; j++ {
				normal.SetSym(i, j, normal.At(i, j)+w*a[i]*a[j])
			}
			row := right.RawRowView(i)
			for j, h := range k.heights {
				row[j] += w * a[i] * h
			}
		}
	}
	for i := range n {
		normal.SetSym(i, i, normal.At(i, i)*(1+1e-9)+1e-9)
	}
	var chol mat.Cholesky
	out := mat.NewDense(n, heels, nil)
	if !chol.Factorize(normal) || chol.SolveTo(out, right) != nil {
		return nil
	}
	return out
}

// foretold is the height left that a state should have; nothing, so that it is worked out, where there is no fit.
func (s *search) foretold(fit *mat.Dense, i int) float64 {
	if fit == nil {
		return math.Inf(-1)
	}
	c := s.tried[0].curve
	heights := make([]float64, len(c.Heels))
	for k, v := range s.at[i] {
		for j, w := range fit.RawRowView(k) {
			heights[j] += v * w
		}
	}
	g := s.states[i].G
	h, _, _ := hydro.LeastHeight(c.Heels, heights, g.Z, g.Y, math.Abs(g.Y) > 1e-9)
	return h
}
