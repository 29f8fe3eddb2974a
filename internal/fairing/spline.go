// Package fairing turns measured points into a fair surface, as a batten does:
// through the points where they are exact, and with the least bending that the
// measuring tolerance allows where they are not.
//
// A station is a curve from keel to sheer, sharp at its knuckles and measured
// along its girth. Threads run along the boat through equal shares of the girth
// between knuckles and end on the stem and stern profiles. Both are cubic
// splines over the chord, so straight things stay exactly straight and a round
// bow may meet the stem square.
//
// The package imports only cuts, and knows nothing of files.
package fairing

import "sort"

// Spline is a cubic spline through points, with continuous curvature. At its
// ends the curvature runs on unchanged (the third derivative is zero in the
// first and last spans), so a parabola comes back exactly; two points make a
// straight line.
type Spline struct {
	t, y, m []float64 // knots, values, second derivatives
}

// NewSpline draws a spline through y over the rising knots t.
//
// Good to: exact for a parabola; fourth order in the spacing for smooth data
// Source: de Boor, A Practical Guide to Splines, ch. IV (cubic splines and their end conditions)
func NewSpline(t, y []float64) Spline {
	return Spline{t: t, y: y, m: moments(t, y, true)}
}

// NewBatten draws the natural spline: a thin batten, free beyond its last
// ducks. Small slopes only: a batten bent far follows the elastica instead.
//
// Source: de Boor, A Practical Guide to Splines, ch. IV; the linear beam, closed form
func NewBatten(t, y []float64) Spline {
	return Spline{t: t, y: y, m: moments(t, y, false)}
}

// moments solves the three-term recurrence for the second derivatives. With
// run the end spans keep their neighbour's curvature; without it the ends are free.
func moments(t, y []float64, run bool) []float64 {
	n := len(t)
	m := make([]float64, n)
	if n < 3 {
		return m
	}
	for i := 1; i < n-1; i++ {
		h0, h1 := t[i]-t[i-1], t[i+1]-t[i]
		m[i] = (y[i+1]-y[i])/h1 - (y[i]-y[i-1])/h0
	}
	recur(t, m, run)
	if run {
		m[0], m[n-1] = m[1], m[n-2]
	}
	return m
}

// recur solves the recurrence, whose matrix is symmetric, for a right side that stands in
// v from 1 to the last but one; the solution takes its place.
func recur(t, v []float64, run bool) {
	n := len(t)
	diag := make([]float64, n)
	upper := func(i int) float64 { return (t[i+1] - t[i]) / 6 }
	for i := 1; i < n-1; i++ {
		diag[i] = (t[i+1] - t[i-1]) / 3
	}
	if run {
		diag[1] += (t[1] - t[0]) / 6
		diag[n-2] += (t[n-1] - t[n-2]) / 6
	}
	for i := 2; i < n-1; i++ {
		f := upper(i-1) / diag[i-1]
		diag[i] -= f * upper(i-1)
		v[i] -= f * v[i-1]
	}
	for i := n - 2; i >= 1; i-- {
		if i < n-2 {
			v[i] -= upper(i) * v[i+1]
		}
		v[i] /= diag[i]
	}
}

// span is the index of the interval that holds t; the outer ones reach on.
func (s Spline) span(t float64) int {
	i := sort.SearchFloat64s(s.t, t) - 1
	return max(0, min(i, len(s.t)-2))
}

// At is the value at t; beyond the ends the last span runs on.
func (s Spline) At(t float64) float64 {
	v, _, _ := s.Derivatives(t)
	return v
}

// Derivatives are the value, slope and second derivative at t.
func (s Spline) Derivatives(t float64) (v, d, dd float64) {
	if len(s.t) == 1 {
		return s.y[0], 0, 0
	}
	return s.within(s.span(t), t)
}

// within are the derivatives by the polynomial of one span.
func (s Spline) within(i int, t float64) (v, d, dd float64) {
	h := s.t[i+1] - s.t[i]
	a, b := (s.t[i+1]-t)/h, (t-s.t[i])/h
	v = a*s.y[i] + b*s.y[i+1] + h*h/6*(a*(a*a-1)*s.m[i]+b*(b*b-1)*s.m[i+1])
	d = (s.y[i+1]-s.y[i])/h + h/6*((1-3*a*a)*s.m[i]+(3*b*b-1)*s.m[i+1])
	dd = a*s.m[i] + b*s.m[i+1]
	return v, d, dd
}

// Bending is the bending energy, the integral of the squared second derivative.
func (s Spline) Bending() float64 {
	var e float64
	for i := 1; i < len(s.t); i++ {
		a, b := s.m[i-1], s.m[i]
		e += (s.t[i] - s.t[i-1]) / 3 * (a*a + a*b + b*b)
	}
	return e
}

// weights are the factors by which each knot's value enters the value at t.
//
// The value is a sum of two knots' values and two second derivatives; these are the recurrence's
// solution, and since its matrix is symmetric one solution with the two factors on the right serves all knots.
func weights(t []float64, at float64) []float64 {
	n := len(t)
	w := make([]float64, n)
	if n == 1 {
		w[0] = 1
		return w
	}
	i := Spline{t: t}.span(at)
	h := t[i+1] - t[i]
	a, b := (t[i+1]-at)/h, (at-t[i])/h
	w[i], w[i+1] = a, b
	if n == 2 {
		return w
	}
	x := make([]float64, n)
	put := func(k int, v float64) { x[max(1, min(k, n-2))] += v } // an end runs on from its neighbour
	put(i, h*h/6*a*(a*a-1))
	put(i+1, h*h/6*b*(b*b-1))
	recur(t, x, true)
	for k := 1; k < n-1; k++ {
		h0, h1 := t[k]-t[k-1], t[k+1]-t[k]
		w[k-1] += x[k] / h0
		w[k] -= x[k]/h0 + x[k]/h1
		w[k+1] += x[k] / h1
	}
	return w
}
