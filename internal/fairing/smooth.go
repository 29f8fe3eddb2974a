package fairing

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Move is how far the fairing moved one reading.
type Move struct {
	Station, Point int
	DY, DZ         float64 // metres, fair less measured
	Normal         float64 // square to the section, metres
	Suspect        bool    // contradicted by its neighbours both ways: left out of the fairing
	Off            float64 // how far a suspect stands off what its neighbours make, metres, outwards positive
}

// smooth moves the readings to the least bending that lies within the
// tolerance, and returns what it moved. Bending is that of the threads along
// and the stations across, together the bending of a thin plate. The stiffness is raised until
// the readings' root mean square residual, square to the section, is a third of the tolerance, so
// that next to none is moved by more than the tolerance. Readings found misread are left out.
//
// Source: Reinsch, Smoothing by spline functions, Numer. Math. 10 (1967) (stiffness from the
// residual); Wahba, Spline Models for Observational Data, ch. 4 (degrees of freedom, deleted residuals)
func smooth(g grid, tolerance float64, misread map[[2]int]float64) []Move {
	first, n := offsets(g.stations)
	p := newPlate(g, bending(g, first, n), first, n)
	for at := range misread {
		p.missing[first[at[0]]+at[1]] = true
	}
	best := p.stiffen(tolerance / 3)
	var moves []Move
	for i := range g.stations {
		s := &g.stations[i]
		for j := range s.points {
			k := first[i] + j
			off, suspect := misread[[2]int{i, j}]
			m := Move{Station: i, Point: j, Normal: best.normal[k], Suspect: suspect, Off: off,
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
