package motion

import (
	"errors"
	"fmt"
	"math"
	"sort"
)

// grid is the points along one side of a table.
type grid []float64

// rising checks the points along a side.
func rising(what string, v []float64, lo, hi float64) (grid, error) {
	if len(v) == 0 {
		return nil, fmt.Errorf("%w: no %s; give one or more", ErrInput, what)
	}
	for i, x := range v {
		if !(x >= lo && x <= hi) || i > 0 && x <= v[i-1] {
			return nil, fmt.Errorf("%w: %s %d is %g; they must rise, from %g to %g", ErrInput, what, i+1, x, lo, hi)
		}
	}
	return append(grid(nil), v...), nil
}

// seat is a place on a side: the four points about it and their weights.
type seat struct {
	at [4]int
	h  float64 // the step
	t  float64 // the share of it
	n  int     // points there are: 1, 2 or 4
	// Spacings before and after the step, and one over all three, for the slopes.
	d0, d2     float64
	i0, i1, i2 float64
}

// find places a value on a side; past an end it stays there.
func (g grid) find(x float64) seat {
	if len(g) == 1 {
		return seat{n: 1}
	}
	x = math.Max(g[0], math.Min(g[len(g)-1], x))
	i := sort.SearchFloat64s(g, x)
	if i > 0 {
		i--
	}
	i = min(i, len(g)-2)
	s := seat{n: 4, h: g[i+1] - g[i]}
	s.t = (x - g[i]) / s.h
	s.at = [4]int{max(0, i-1), i, i + 1, min(len(g)-1, i+2)}
	s.d0, s.d2 = g[i]-g[s.at[0]], g[s.at[3]]-g[i+1]
	s.i1 = 1 / s.h
	if s.d0 > 0 {
		s.i0 = 1 / s.d0
	}
	if s.d2 > 0 {
		s.i2 = 1 / s.d2
	}
	return s
}

// blend is the value at a seat, given the values at its points: a cubic whose slopes keep it
// between its neighbours.
//
// Source: Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5 (1984): the weighted harmonic mean of
// the two steps' slopes, none at a turn
func (s *seat) blend(v *[4]float64) float64 {
	if s.n == 1 {
		return v[0]
	}
	m := (v[2] - v[1]) * s.i1
	a, b := m, m
	if s.d0 > 0 {
		a = harmonic((v[1]-v[0])*s.i0, m, s.d0, s.h)
	}
	if s.d2 > 0 {
		b = harmonic(m, (v[3]-v[2])*s.i2, s.h, s.d2)
	}
	t := s.t
	u := 1 - t
	return v[1]*(1+2*t)*u*u + v[2]*t*t*(3-2*t) + s.h*(a*t*u*u-b*t*t*u)
}

// harmonic is the slope at a point between two steps of given slopes and lengths.
func harmonic(p, q, hp, hq float64) float64 {
	if p*q <= 0 {
		return 0
	}
	w, z := 2*hq+hp, hq+2*hp
	return (w + z) * p * q / (w*q + z*p)
}

// Row is how she goes when rowed with the wind at an angle to the bow.
//
// In:     wind m/s; from, radians either side; load kg. Past the table's ends, that at the end
// Out:    for a wind on the port side (from below 0) the mirror image
// Good to: the table's points exactly; between them as fine as its steps
func (t *Table) Row(wind, off, load float64) Cell {
	a := math.Abs(math.Remainder(off, 2*math.Pi))
	w, k, l := t.winds.find(wind), t.angles.find(a), t.loads.find(load)
	var out [fields]float64
	for f := range out {
		out[f] = t.blend3(t.rowed[f], &l, &w, &k)
	}
	c := Cell{out[ahead], out[side], out[rudder], out[uneven], out[margin]}
	if math.Remainder(off, 2*math.Pi) < 0 {
		c.Side, c.Rudder, c.Uneven = -c.Side, -c.Rudder, -c.Uneven
	}
	return c
}

// blend3 blends angle by angle, then wind by wind, then load by load.
func (t *Table) blend3(v []float64, l, w, k *seat) float64 {
	var loads, winds, angles [4]float64
	nw, na := len(t.winds), len(t.angles)
	for i := range l.n {
		for j := range w.n {
			row := v[(l.at[i]*nw+w.at[j])*na:]
			for m := range k.n {
				angles[m] = row[k.at[m]]
			}
			winds[j] = k.blend(&angles)
		}
		loads[i] = w.blend(&winds)
	}
	return l.blend(&loads)
}

// Drift is how she goes when nobody rows.
//
// In:     wind m/s; load kg. Past the table's ends, that at the end
func (t *Table) Drift(wind, load float64) Adrift {
	w, l := t.winds.find(wind), t.loads.find(load)
	var out [drifts]float64
	nw := len(t.winds)
	most := 0
	for f := range out {
		var loads, winds [4]float64
		for i := range l.n {
			for j := range w.n {
				r := l.at[i]*nw + w.at[j]
				winds[j] = t.adrift[f][r]
				most = max(most, t.alternates[r])
			}
			loads[i] = w.blend(&winds)
		}
		out[f] = l.blend(&loads)
	}
	return Adrift{out[from], out[down], out[across], most}
}

// ErrNotKept says that no heading that she can be held on has a track.
var ErrNotKept = errors.New("she cannot be kept on this course")

// Keep is how she goes when rowed along a track, and the angle of the wind to her bow.
//
// In:     wind m/s; course, where the wind comes from off the track, radians either side; load kg
// Error:  ErrNotKept
// Good to: 1e-6 radians of the table's own smooth figures
func (t *Table) Keep(wind, course, load float64) (off float64, c Cell, err error) {
	want := math.Abs(math.Remainder(course, 2*math.Pi))
	sign := 1.0
	if math.Remainder(course, 2*math.Pi) < 0 {
		sign = -1
	}
	miss := func(a float64) (float64, Cell) {
		c := t.Row(wind, a, load)
		return math.Abs(math.Remainder(a-c.Leeway(), 2*math.Pi)) - want, c
	}
	// One track may be had on several headings: crabbing along with the wind before the beam, and pointed nearly where she goes.
	// The fastest is the one that is rowed.
	const parts = 4
	best := -1.0
	take := func(at float64, how Cell) {
		if v := how.Speed(); how.Held() && v > best {
			best, off, c = v, sign*at, flip(how, sign)
		}
	}
	n := (len(t.angles) - 1) * parts
	was, cw := miss(t.angles[0])
	wasAt := t.angles[0]
	if math.Abs(was) < 1e-9 {
		take(wasAt, cw)
	}
	for i := 1; i <= n; i++ {
		g := (i - 1) / parts
		at := t.angles[g] + (t.angles[g+1]-t.angles[g])*float64((i-1)%parts+1)/parts
		is, ci := miss(at)
		if math.Abs(is) < 1e-9 {
			take(at, ci)
		}
		if (is < 0) != (was < 0) {
			lo, hi, flo := wasAt, at, was
			for hi-lo > 1e-8 {
				mid := (lo + hi) / 2
				if f, _ := miss(mid); (f < 0) == (flo < 0) {
					lo = mid
				} else {
					hi = mid
				}
			}
			if f, c := miss(lo); math.Abs(f) < 1e-6 {
				take(lo, c)
			}
		}
		was, wasAt = is, at
	}
	if best >= 0 {
		return off, c, nil
	}
	return 0, Cell{}, fmt.Errorf("%w: wind %.1f m/s from %.0f degrees off the track, %.0f kg", ErrNotKept, wind, want*180/math.Pi, load)
}

// flip mirrors a cell for a wind on the port side.
func flip(c Cell, sign float64) Cell {
	c.Side, c.Rudder, c.Uneven = sign*c.Side, sign*c.Rudder, sign*c.Uneven
	return c
}
