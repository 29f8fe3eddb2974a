package planks

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// spring is one length of the grid to be kept.
type spring struct {
	a, b int // ids
	l, w float64
}

// springs are the sides and diagonals of the quads, each weighed so that its squared
// change of length counts by the area of skin that it stands for.
func (p *patch) springs() []spring {
	area := map[[2]int]float64{}
	var order [][2]int
	add := func(a, b int, s float64) {
		if a == b {
			return
		}
		k := [2]int{min(a, b), max(a, b)}
		if _, ok := area[k]; !ok {
			order = append(order, k)
		}
		area[k] += s
	}
	for i := 0; i+1 < p.n; i++ {
		for j := 0; j+1 < p.m; j++ {
			a, b, c, d := p.quad(i, j)
			ac, bd := r3.Sub(p.at[c], p.at[a]), r3.Sub(p.at[d], p.at[b])
			s := r3.Norm(r3.Cross(ac, bd)) / 2
			for _, e := range [6][2]int{{a, b}, {b, c}, {c, d}, {d, a}, {a, c}, {b, d}} {
				add(e[0], e[1], s)
			}
		}
	}
	out := make([]spring, 0, len(order))
	for _, k := range order {
		l := dist(p.at[k[0]], p.at[k[1]])
		if area[k] > 0 && l > 0 {
			out = append(out, spring{k[0], k[1], l, math.Sqrt(area[k]) / l})
		}
	}
	return out
}

// When relaxing ends: after so many steps, or when a step is this small.
const (
	relaxSteps = 400
	relaxEnd   = 1e-10 // of the piece's size, a step
)

// relax moves the points of the flat piece until the lengths change least, and returns the
// last step as a share of the piece's size.
func (p *patch) relax() (float64, error) {
	ss := p.springs()
	number, count, width := p.order(ss)
	flat := p.flat
	size := 0.0
	for _, s := range ss {
		size = math.Max(size, s.l)
	}
	size *= math.Sqrt(float64(len(p.at)))
	energy := func(f [][2]float64) float64 {
		var e float64
		for _, s := range ss {
			d := s.w * (math.Hypot(f[s.b][0]-f[s.a][0], f[s.b][1]-f[s.a][1]) - s.l)
			e += d * d
		}
		return e
	}
	e, damp, slow, last := energy(flat), 1e-3, 0, 0.0
	for range relaxSteps {
		normal := mat.NewSymBandDense(2*count, width, nil)
		rhs := mat.NewVecDense(2*count, nil)
		p.assemble(ss, number, normal, rhs)
		var trace float64
		for k := range 2 * count {
			trace += normal.At(k, k)
		}
		var moved [][2]float64
		var step float64
		for {
			damped := mat.NewSymBandDense(2*count, width, slices.Clone(normal.RawSymBand().Data))
			for k := range 2 * count {
				damped.SetSymBand(k, k, damped.At(k, k)*(1+damp)+1e-12*trace/float64(2*count))
			}
			var ch mat.BandCholesky
			var x mat.VecDense
			if ch.Factorize(damped) && ch.SolveVecTo(&x, rhs) == nil {
				moved, step = shifted(flat, number, &x)
				if energy(moved) <= e {
					break
				}
			}
			if damp *= 10; damp > 1e8 { // no way down is left to find: rounding is all that remains
				return last / size, nil
			}
		}
		was := e
		flat, e, last = moved, energy(moved), step
		p.flat = flat
		damp = math.Max(damp/10, 1e-12)
		if step < relaxEnd*size {
			return step / size, nil
		}
		// a flat valley: the shape still slides, the lengths no longer change
		if was-e < 1e-12*e || e < 1e-28*size*size {
			if slow++; slow > 3 {
				return step / size, nil
			}
		} else {
			slow = 0
		}
	}
	return 0, ErrUnsettled
}

// assemble builds the normal equations of the change of each length.
func (p *patch) assemble(ss []spring, number []int, normal *mat.SymBandDense, rhs *mat.VecDense) {
	add := func(r, c int, v float64) {
		if r <= c {
			normal.SetSymBand(r, c, normal.At(r, c)+v)
		}
	}
	for _, s := range ss {
		dx, dy := p.flat[s.b][0]-p.flat[s.a][0], p.flat[s.b][1]-p.flat[s.a][1]
		l := math.Hypot(dx, dy)
		if l == 0 {
			continue
		}
		g := [2]float64{dx / l, dy / l}
		r, w := l-s.l, s.w*s.w
		a, b := 2*number[s.a], 2*number[s.b]
		for i := range 2 {
			rhs.SetVec(b+i, rhs.AtVec(b+i)-w*r*g[i])
			rhs.SetVec(a+i, rhs.AtVec(a+i)+w*r*g[i])
			for k := range 2 {
				v := w * g[i] * g[k]
				add(a+i, a+k, v)
				add(b+i, b+k, v)
				add(min(a, b)+i, max(a, b)+k, -v)
			}
		}
	}
}

// shifted moves the points by a step and tells the largest move.
func shifted(flat [][2]float64, number []int, x *mat.VecDense) ([][2]float64, float64) {
	out := make([][2]float64, len(flat))
	var most float64
	for k := range flat {
		out[k] = flat[k]
		if i := number[k]; i >= 0 {
			dx, dy := x.AtVec(2*i), x.AtVec(2*i+1)
			out[k][0] += dx
			out[k][1] += dy
			most = math.Max(most, math.Hypot(dx, dy))
		}
	}
	return out, most
}

// order numbers the points along or across, whichever keeps neighbours closer together.
func (p *patch) order(ss []spring) (number []int, count, width int) {
	used := make([]bool, len(p.at))
	for _, s := range ss {
		used[s.a], used[s.b] = true, true
	}
	for _, across := range []bool{true, false} {
		num, c := make([]int, len(p.at)), 0
		for k := range num {
			num[k] = -1
		}
		for k := range p.at {
			at := k
			if !across {
				at = k%p.n*p.m + k/p.n
			}
			if used[at] {
				num[at] = c
				c++
			}
		}
		w := 0
		for _, s := range ss {
			d := num[s.a] - num[s.b]
			w = max(w, d, -d)
		}
		if across || 2*w+1 < width {
			number, count, width = num, c, 2*w+1
		}
	}
	return number, count, width
}
