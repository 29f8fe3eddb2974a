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
}

// hat is the smoother at a stiffness, the matrix that makes fair values of readings: modes times kept times
// modes transposed. It is never multiplied out; only a few of its elements are wanted.
type hat struct {
	modes *mat.Dense
	kept  []float64 // the share of each mode that stays
}

func (p *plate) hat(stiff float64) hat {
	h := hat{p.modes, make([]float64, len(p.bend))}
	for k, bend := range p.bend {
		lost := stiff * bend / (1 + stiff*bend)
		h.kept[k] = 1 - math.Pow(lost, again+1)
	}
	return h
}

// at is one element.
func (h hat) at(i, j int) float64 {
	a, b := h.modes.RawRowView(i), h.modes.RawRowView(j)
	v := 0.0
	for k, s := range h.kept {
		v += a[k] * s * b[k]
	}
	return v
}

// times smooths readings.
func (h hat) times(v []float64) []float64 {
	n := len(v)
	inner, out := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	inner.MulVec(h.modes.T(), mat.NewVecDense(n, v))
	for k, s := range h.kept {
		inner.SetVec(k, inner.AtVec(k)*s)
	}
	out.MulVec(h.modes, inner)
	return out.RawVector().Data
}

// solve smooths both coordinates. Readings left out take the value that the rest
// foretell; centre-line readings keep a breadth of nothing.
func (p *plate) solve(stiff float64) fit {
	n := len(p.bend)
	h := p.hat(stiff)
	z := p.fillIn(h, p.z)
	y := p.fillIn(h, p.y)
	f := fit{z: h.times(z), hat: make([]float64, n)}
	f.y = h.times(p.held(h, y))
	for _, k := range p.centre {
		f.y[k] = 0
	}
	for i := range n {
		if !p.missing[i] {
			f.hat[i] = h.at(i, i)
		}
	}
	f.normal = residuals(p.grid, p.first, f.y, f.z)
	return f
}

// fillIn replaces the readings left out by values that the smoother returns unchanged.
func (p *plate) fillIn(h hat, v []float64) []float64 {
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
			a.Set(r, c, -h.at(i, j))
		}
		a.Set(r, r, 1-h.at(i, i))
	}
	seen := h.times(v)
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
func (p *plate) held(h hat, v []float64) []float64 {
	m := len(p.centre)
	if m == 0 {
		return v
	}
	a := mat.NewSymDense(m, nil)
	b := mat.NewVecDense(m, nil)
	seen := h.times(v)
	for r, i := range p.centre {
		b.SetVec(r, -seen[i])
		for c := r; c < m; c++ {
			a.SetSym(r, c, h.at(i, p.centre[c]))
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
		left, shown, free := p.spread(&f)
		if free < 0.1 { // too limp to show anything
			return f, left <= aim
		}
		seen = math.Min(seen, shown)
		return f, left <= aim && shown <= math.Max(aim, 1.1*seen)
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

// spread is the root mean square residual of the readings used, the error that it shows by the
// freedom that they have, and the mean of that freedom.
func (p *plate) spread(f *fit) (left, shown, free float64) {
	n := 0.0
	for i, v := range f.normal {
		if !p.missing[i] {
			left += v * v
			free += math.Max(0, 1-f.hat[i])
			n++
		}
	}
	n = math.Max(1, n)
	left, free = math.Sqrt(left/n), free/n
	return left, left / math.Sqrt(math.Max(free, 1e-9)), free
}
