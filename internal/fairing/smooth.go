package fairing

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Move is how far the fairing moved one reading.
type Move struct {
	Station, Point int
	DY, DZ         float64 // metres, fair less measured
	Normal         float64 // square to the section, metres
	Suspect        bool    // stands out so far that it was left out of the fairing
	Fair           float64 // how far from the fair surface that the others make, metres
}

// again is how often the residual is smoothed and put back ("twicing"): a plain batten
// flattens every curve a little and would make each hull smaller than it was measured.
//
// Source: Tukey, Exploratory Data Analysis (1977), ch. 16
const again = 2

// pin holds a centre-line reading on the centre line.
const pin = 1e9

// smooth moves the readings to the least bending that lies within the
// tolerance, and returns what it moved. Bending is that of the threads along
// and the stations across, together the bending of a thin plate; the stiffness is raised until
// the readings' root mean square residual, square to the section, is a third of the tolerance, so that next to none is
// moved by more than the tolerance.
//
// Source: Reinsch, Smoothing by spline functions, Numer. Math. 10 (1967) (stiffness from the
// residual); Wahba, Spline Models for Observational Data, sec. 4 (deleted residuals)
func smooth(g grid, tolerance float64) []Move {
	first, n := offsets(g.stations)
	bend := bending(g, first, n)
	weight := make([]float64, n)
	for i := range weight {
		weight[i] = 1
	}
	var best fit
	for range 4 {
		best = stiffen(g, bend, weight, first, tolerance/3)
		if !best.drop(weight, tolerance) {
			break
		}
	}
	var moves []Move
	for i := range g.stations {
		s := &g.stations[i]
		for j := range s.points {
			k := first[i] + j
			m := Move{Station: i, Point: j, Normal: best.normal[k], Fair: best.deleted[k], Suspect: weight[k] < 1,
				DY: best.y[k] - s.points[j].Y, DZ: best.z[k] - s.points[j].Z}
			moves = append(moves, m)
			s.points[j].Y, s.points[j].Z = math.Max(0, best.y[k]), best.z[k]
		}
	}
	return moves
}

// offsets numbers all readings in one row.
func offsets(st []station) (first []int, n int) {
	first = make([]int, len(st))
	for i := range st {
		first[i] = n
		n += len(st[i].points)
	}
	return first, n
}

// bending is the quadratic form of the plate's bending energy in the readings,
// the chord parameters held.
func bending(g grid, first []int, n int) *mat.SymDense {
	e := mat.NewSymDense(n, nil)
	threads := len(g.rows[0])
	for k := range threads {
		t := make([]float64, len(g.stations))
		var py, pz float64
		for i := range g.stations {
			y, z := g.rows[i][k].of(g.stations[i].points)
			if i > 0 {
				dx := g.stations[i].x - g.stations[i-1].x
				t[i] = t[i-1] + math.Sqrt(sq(dx)+sq(y-py)+sq(z-pz))
			}
			py, pz = y, z
		}
		width := 0.0
		for i := range g.stations {
			width += g.stations[i].stops[len(g.stations[i].stops)-1]
		}
		width /= float64(len(g.stations) * threads)
		addEnergy(e, energy(t), width, func(i int) (int, row) { return first[i], g.rows[i][k] })
	}
	length := g.stations[len(g.stations)-1].x - g.stations[0].x
	for i := range g.stations {
		s := &g.stations[i]
		for k := 0; k+1 < len(s.stops); {
			from, to := s.piece(k)
			if to-from > 1 && s.chord[to] > s.chord[from] {
				unit := func(j int) (int, row) { return first[i], row{first: from + j, w: []float64{1}} }
				addEnergy(e, energy(s.chord[from:to+1]), length/float64(len(g.stations)), unit)
			}
			for k++; k+1 < len(s.stops) && !s.own[k]; k++ {
			}
		}
	}
	return e
}

// energy is the matrix E for which y'Ey is the bending energy of the batten through y over t.
//
// Source: Green & Silverman, Nonparametric Regression and Generalized Linear Models, sec. 2.1.2 (Q R⁻¹ Q')
func energy(t []float64) *mat.SymDense {
	n := len(t)
	e := mat.NewSymDense(n, nil)
	if n < 3 {
		return e
	}
	unit := make([]float64, n)
	second := make([][]float64, n)
	for i := range unit {
		unit[i] = 1
		second[i] = moments(t, unit, false)
		unit[i] = 0
	}
	for i := range n {
		for j := i; j < n; j++ {
			var v float64
			for k := 1; k < n; k++ {
				a0, a1, b0, b1 := second[i][k-1], second[i][k], second[j][k-1], second[j][k]
				v += (t[k] - t[k-1]) / 6 * (2*a0*b0 + a0*b1 + a1*b0 + 2*a1*b1)
			}
			e.SetSym(i, j, v)
		}
	}
	return e
}

// addEnergy puts a curve's energy, through the rows that make its points, into the whole.
func addEnergy(e *mat.SymDense, curve *mat.SymDense, scale float64, at func(int) (int, row)) {
	n := curve.SymmetricDim()
	for i := range n {
		bi, ri := at(i)
		for j := range n {
			bj, rj := at(j)
			c := scale * curve.At(i, j)
			for a, wa := range ri.w {
				for b, wb := range rj.w {
					p, q := bi+ri.first+a, bj+rj.first+b
					if p <= q {
						e.SetSym(p, q, e.At(p, q)+c*wa*wb)
					}
				}
			}
		}
	}
}

// fit is the readings as one stiffness makes them.
type fit struct {
	y, z    []float64
	normal  []float64 // residual square to the section, fair less measured
	deleted []float64 // the same, had the reading itself been left out
	spread  float64   // robust standard deviation of normal
}

// stiffen raises the stiffness until the residual reaches the reading error.
func stiffen(g grid, bend *mat.SymDense, weight []float64, first []int, aim float64) fit {
	lo, hi := -14.0, 4.0 // powers of ten of the stiffness
	for range 16 {
		mid := (lo + hi) / 2
		f := solve(g, bend, weight, first, mid, false)
		if f.rms(weight) <= aim {
			lo = mid
		} else {
			hi = mid
		}
	}
	return solve(g, bend, weight, first, lo, true)
}

func (f *fit) rms(weight []float64) float64 {
	var s, n float64
	for i, v := range f.normal {
		if weight[i] == 1 {
			s += v * v
			n++
		}
	}
	return math.Sqrt(s / n)
}

// drop takes the weight off the reading that stands out most, if it stands out
// by more than three tolerances and four spreads; it tells whether there was one.
func (f *fit) drop(weight []float64, tolerance float64) bool {
	worst, at := 0.0, -1
	for i, d := range f.deleted {
		if weight[i] == 1 && math.Abs(d) > worst {
			worst, at = math.Abs(d), i
		}
	}
	if at < 0 || worst < 3*tolerance || worst < 4*f.spread {
		return false
	}
	weight[at] = 1e-6
	return true
}

func solve(g grid, bend *mat.SymDense, weight []float64, first []int, power float64, deleted bool) fit {
	n := len(weight)
	stiff := math.Pow(10, power)
	y, z := make([]float64, n), make([]float64, n)
	wy := make([]float64, n)
	for i := range g.stations {
		for j, p := range g.stations[i].points {
			k := first[i] + j
			y[k], z[k], wy[k] = p.Y, p.Z, weight[k]
			if p.Y == 0 {
				wy[k] = pin
			}
		}
	}
	f := fit{deleted: make([]float64, n)}
	f.y, _ = penalised(bend, stiff, wy, y, false)
	var hat []float64
	f.z, hat = penalised(bend, stiff, weight, z, deleted)
	f.normal = residuals(g, first, f.y, f.z)
	if !deleted {
		return f
	}
	size := make([]float64, 0, n)
	for i, v := range f.normal {
		f.deleted[i] = v / math.Max(1e-6, 1-hat[i]*weight[i])
		size = append(size, math.Abs(v))
	}
	slices.Sort(size)
	f.spread = 1.4826 * size[n/2]
	return f
}

// penalised solves (W + stiff K) v = W target and, if wanted, gives the diagonal of the inverse.
func penalised(bend *mat.SymDense, stiff float64, w, target []float64, wantInverse bool) (v, inverse []float64) {
	n := len(w)
	a := mat.NewSymDense(n, nil)
	rhs := mat.NewVecDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			a.SetSym(i, j, stiff*bend.At(i, j))
		}
		a.SetSym(i, i, a.At(i, i)+w[i])
		rhs.SetVec(i, w[i]*target[i])
	}
	var c mat.Cholesky
	inverse = make([]float64, n)
	if !c.Factorize(a) {
		return slices.Clone(target), inverse
	}
	var out mat.VecDense
	if c.SolveVecTo(&out, rhs) != nil {
		return slices.Clone(target), inverse
	}
	for range again { // what was smoothed away is smoothed and put back
		var more mat.VecDense
		for i := range n {
			rhs.SetVec(i, w[i]*(target[i]-out.AtVec(i)))
		}
		if c.SolveVecTo(&more, rhs) != nil {
			break
		}
		out.AddVec(&out, &more)
	}
	var inv mat.SymDense
	if wantInverse && c.InverseTo(&inv) == nil {
		for i := range n {
			inverse[i] = inv.At(i, i)
		}
	}
	return out.RawVector().Data, inverse
}

// residuals are the moves square to each section's own run of points.
func residuals(g grid, first []int, y, z []float64) []float64 {
	out := make([]float64, len(y))
	for i := range g.stations {
		ps := g.stations[i].points
		for j := range ps {
			a, b := ps[max(j-1, 0)], ps[min(j+1, len(ps)-1)]
			ty, tz := b.Y-a.Y, b.Z-a.Z
			length := math.Hypot(ty, tz)
			dy, dz := y[first[i]+j]-ps[j].Y, z[first[i]+j]-ps[j].Z
			if length == 0 {
				out[first[i]+j] = math.Hypot(dy, dz)
				continue
			}
			out[first[i]+j] = (tz*dy - ty*dz) / length
		}
	}
	return out
}
