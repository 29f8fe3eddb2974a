package fairing

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// again is how often what was smoothed away is smoothed and put back: a plain batten
// flattens every curve a little and would make each hull smaller than it was measured.
//
// Source: "twicing", Tukey, Exploratory Data Analysis (1977), ch. 16
const again = 2

// plate is the readings under a bending energy taken apart into its modes, so
// that any stiffness is tried at the cost of a product.
type plate struct {
	grid    grid
	first   []int
	y, z    []float64 // the readings
	centre  []int     // those on the centre line, whose breadth stays nothing
	missing []bool    // those left out
	modes   *mat.Dense
	bend    []float64 // energy of each mode
}

func newPlate(g grid, energy *mat.SymDense, first []int, n int) *plate {
	p := &plate{grid: g, first: first, y: make([]float64, n), z: make([]float64, n), missing: make([]bool, n), bend: make([]float64, n)}
	for i := range g.stations {
		for j, q := range g.stations[i].points {
			k := first[i] + j
			p.y[k], p.z[k] = q.Y, q.Z
			if q.Y == 0 {
				p.centre = append(p.centre, k)
			}
		}
	}
	var e mat.EigenSym
	p.modes = mat.NewDense(n, n, nil)
	if e.Factorize(energy, true) {
		e.Values(p.bend)
		e.VectorsTo(p.modes)
	}
	for i, v := range p.bend {
		p.bend[i] = math.Max(0, v)
	}
	return p
}

// fit is the readings as one stiffness makes them.
type fit struct {
	y, z   []float64
	normal []float64 // fair less measured, square to the section
	hat    []float64 // how much of each fair value is its own reading, 0 to 1
	trace  float64   // sum of hat over the readings used
}

// hat is the smoother at a stiffness as a matrix.
func (p *plate) hat(stiff float64) *mat.SymDense {
	n := len(p.bend)
	scaled := mat.NewDense(n, n, nil)
	scaled.Apply(func(i, k int, v float64) float64 {
		lost := stiff * p.bend[k] / (1 + stiff*p.bend[k])
		return v * math.Sqrt(1-math.Pow(lost, again+1))
	}, p.modes)
	h := mat.NewSymDense(n, nil)
	h.SymOuterK(1, scaled)
	return h
}

// solve smooths both coordinates. Readings left out take the value that the rest
// foretell; centre-line readings keep a breadth of nothing.
func (p *plate) solve(stiff float64) fit {
	n := len(p.bend)
	h := p.hat(stiff)
	z := p.fillIn(h, p.z)
	y := p.fillIn(h, p.y)
	f := fit{z: times(h, z), hat: make([]float64, n)}
	f.y = times(h, p.held(h, y))
	for _, k := range p.centre {
		f.y[k] = 0
	}
	for i := range n {
		if !p.missing[i] {
			f.hat[i] = h.At(i, i)
			f.trace += f.hat[i]
		}
	}
	f.normal = residuals(p.grid, p.first, f.y, f.z)
	return f
}

func times(h *mat.SymDense, v []float64) []float64 {
	out := mat.NewVecDense(len(v), nil)
	out.MulVec(h, mat.NewVecDense(len(v), v))
	return out.RawVector().Data
}

// fillIn replaces the readings left out by values that the smoother returns unchanged.
func (p *plate) fillIn(h *mat.SymDense, v []float64) []float64 {
	var out []int
	for i, gone := range p.missing {
		if gone {
			out = append(out, i)
		}
	}
	v = slices.Clone(v)
	if len(out) == 0 {
		return v
	}
	a := mat.NewDense(len(out), len(out), nil)
	b := mat.NewVecDense(len(out), nil)
	for r, i := range out {
		v[i] = 0
		for c, j := range out {
			a.Set(r, c, -h.At(i, j))
		}
		a.Set(r, r, 1-h.At(i, i))
	}
	seen := times(h, v)
	for r, i := range out {
		b.SetVec(r, seen[i])
	}
	var x mat.VecDense
	if x.SolveVec(a, b) == nil {
		for r, i := range out {
			v[i] = x.AtVec(r)
		}
	}
	return v
}

// held shifts the centre-line readings so that their fair breadth comes out as nothing.
func (p *plate) held(h *mat.SymDense, v []float64) []float64 {
	m := len(p.centre)
	if m == 0 {
		return v
	}
	a := mat.NewSymDense(m, nil)
	b := mat.NewVecDense(m, nil)
	seen := times(h, v)
	for r, i := range p.centre {
		b.SetVec(r, -seen[i])
		for c := r; c < m; c++ {
			a.SetSym(r, c, h.At(i, p.centre[c]))
		}
		a.SetSym(r, r, a.At(r, r)+1e-9) // neighbours on the stem may be all but one reading
	}
	var c mat.Cholesky
	var x mat.VecDense
	if c.Factorize(a) && c.SolveVecTo(&x, b) == nil {
		v = slices.Clone(v)
		for r, i := range p.centre {
			v[i] += x.AtVec(r)
		}
	}
	return v
}

// stiffen raises the stiffness until the residual amounts to the reading error. A surface that
// may bend leaves less residual than there was error, by the root of the share of freedom that it
// has left to the readings, so the error is judged by the quotient of the two. Readings worse than
// they were said to be show a greater error however limp the surface: then that is taken, as long
// as the residual itself stays within what was said.
func (p *plate) stiffen(aim float64) fit {
	const limp, stiff = -8.0, 2.0 // powers of ten
	seen := math.Inf(1)           // the reading error as a limp surface shows it
	fair := func(power float64) (fit, bool) {
		f := p.solve(math.Pow(10, power))
		rms, n := p.rms(&f)
		free := math.Max(0, n-f.trace) / n
		shown := rms / math.Sqrt(math.Max(free, 1e-9))
		if free < 0.1 { // too limp to show anything
			return f, rms <= aim
		}
		seen = math.Min(seen, shown)
		return f, rms <= aim && shown <= math.Max(aim, 1.1*seen)
	}
	best, _ := fair(limp)
	at := limp
	for power := limp + 1; power <= stiff; power++ {
		f, ok := fair(power)
		if !ok {
			break
		}
		best, at = f, power
	}
	lo, hi := at, at+1
	for range 3 {
		mid := (lo + hi) / 2
		if f, ok := fair(mid); ok {
			lo, best = mid, f
		} else {
			hi = mid
		}
	}
	return best
}

// rms is the root mean square residual of the readings used, and their number.
func (p *plate) rms(f *fit) (rms, n float64) {
	for i, v := range f.normal {
		if !p.missing[i] {
			rms += v * v
			n++
		}
	}
	return math.Sqrt(rms / math.Max(1, n)), math.Max(1, n)
}

// outlying is how many of its own standard deviations a reading must stand out to count as
// misread: far beyond what an honest slip of the rule does once among a thousand.
const outlying = 6

// alone tells whether a reading's own section bears out that it stands off by so much.
func (p *plate) alone(i int, off float64) bool {
	k := len(p.first) - 1
	for p.first[k] > i {
		k--
	}
	seen, ok := p.grid.stations[k].contradicted(i - p.first[k])
	return !ok || seen*off > 0 && math.Abs(seen) > math.Abs(off)/2
}

// drop leaves out the reading that stands out most, if the others contradict it by
// more than three tolerances and by far more than they scatter; it tells whether there was one.
func (p *plate) drop(f *fit, tolerance float64) bool {
	var sizes []float64
	for i, v := range f.normal {
		if !p.missing[i] && f.hat[i] < 0.999 {
			sizes = append(sizes, math.Abs(v)/math.Sqrt(1-f.hat[i]))
		}
	}
	if len(sizes) == 0 {
		return false
	}
	slices.Sort(sizes)
	spread := math.Max(1.4826*sizes[len(sizes)/2], tolerance/6)
	worst, at := 0.0, -1
	for i, v := range f.normal {
		free := 1 - f.hat[i]
		if p.missing[i] || free < 0.001 || math.Abs(v)/free < 3*tolerance {
			continue
		}
		if d := math.Abs(v) / math.Sqrt(free) / spread; d > worst && p.alone(i, -v/free) {
			worst, at = d, i
		}
	}
	if at < 0 || worst < outlying {
		return false
	}
	p.missing[at] = true
	return true
}
