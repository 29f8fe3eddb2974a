// Package lines draws the lines of a fair surface: waterlines, buttocks,
// diagonals and sections, their curvature, and the table of offsets that a
// builder lays down on the floor.
//
// Every line is read off the one surface, so the views agree by construction.
// Metres in the boat's frame; angles in radians.
package lines

import (
	"math"

	"thole/internal/cuts"
	"thole/internal/fairing"
)

// Kind is which plane a line lies in.
type Kind int

// The kinds of lines.
const (
	Waterline Kind = iota // level: At is its height
	Buttock               // upright, along the boat: At is its distance from the centre line
	Diagonal              // sloping down from the centre line: At is its height there, Slope its angle
)

// Plane is the plane of a line.
type Plane struct {
	Name  string
	Kind  Kind
	At    float64
	Slope float64 // of a diagonal, below level, radians
}

// out is the signed distance of a point of a section from the plane.
func (p Plane) out(q cuts.Point) float64 {
	switch p.Kind {
	case Buttock:
		return q.Y - p.At
	case Diagonal:
		s, c := math.Sincos(p.Slope)
		return (q.Z-p.At)*c + q.Y*s
	}
	return q.Z - p.At
}

// along is the line's own ordinate at a point: half-breadth of a waterline, height of a buttock,
// distance down the diagonal from the centre line.
func (p Plane) along(q cuts.Point) float64 {
	switch p.Kind {
	case Buttock:
		return q.Z
	case Diagonal:
		return math.Hypot(q.Y, q.Z-p.At)
	}
	return q.Y
}

// Line is a line along the boat: X rising, V the line's own ordinate.
type Line struct {
	Plane Plane
	X, V  []float64
	Y, Z  []float64 // the same points in the section
}

// Cross is where a section's girth crosses a plane, the lowest place first. Two crossings between
// neighbouring threads are not seen.
//
// Good to: 1e-9 m on the surface's own section
func Cross(g *fairing.Girth, p Plane) []cuts.Point {
	var out []cuts.Point
	at := func(s float64) (cuts.Point, float64) {
		q, _, _ := g.At(s)
		return q, p.out(q)
	}
	knots := g.Knots()
	var prev float64
	for i, s := range knots {
		q, v := at(s)
		switch {
		case v == 0:
			out = append(out, q)
		case i > 0 && prev != 0 && (v < 0) != (prev < 0):
			out = append(out, zero(at, knots[i-1], s, prev, v))
		}
		prev = v
	}
	return out
}

// zero closes in on a change of sign by false position, the idle end's weight halved each time.
//
// Source: the Illinois method; Dowell & Jarratt, BIT 11 (1971)
func zero(at func(s float64) (cuts.Point, float64), lo, hi, a, b float64) cuts.Point {
	var q cuts.Point
	last := 0
	for range 60 {
		s := lo - a*(hi-lo)/(b-a)
		var v float64
		if q, v = at(s); math.Abs(v) < 1e-11 || hi-lo < 1e-13 {
			break
		}
		if (v < 0) == (a < 0) {
			lo, a = s, v
			if last == 1 {
				b /= 2
			}
			last = 1
		} else {
			hi, b = s, v
			if last == -1 {
				a /= 2
			}
			last = -1
		}
	}
	return q
}

// Trace follows a plane's line along the surface at places no farther apart than step. Where the
// plane meets a section more than once the uppermost crossing is taken for
// waterlines and diagonals, the lowest for buttocks.
func Trace(s *fairing.Surface, p Plane, step float64) Line {
	from, to := s.Ends()
	n := max(8, int(math.Ceil((to-from)/step)))
	l := Line{Plane: p}
	for i := 0; i <= n; i++ {
		l.take(s, from+float64(i)/float64(n)*(to-from))
	}
	return l
}

func (l *Line) take(s *fairing.Surface, x float64) bool {
	g := s.Girth(x)
	hits := Cross(&g, l.Plane)
	if len(hits) == 0 {
		return false
	}
	q := hits[len(hits)-1]
	if l.Plane.Kind == Buttock {
		q = hits[0]
	}
	l.X, l.V = append(l.X, x), append(l.V, l.Plane.along(q))
	l.Y, l.Z = append(l.Y, q.Y), append(l.Z, q.Z)
	return true
}

// Curvature is the curvature of the line at its inner points, one a metre, by the circle
// through three neighbours; positive where the line is hollow seen from outside.
//
// Good to: exact on a circle whatever the spacing (TestCurvature)
func Curvature(x, v []float64) []float64 {
	k := make([]float64, len(x))
	for i := 1; i+1 < len(x); i++ {
		ax, ay := x[i]-x[i-1], v[i]-v[i-1]
		bx, by := x[i+1]-x[i], v[i+1]-v[i]
		cx, cy := x[i+1]-x[i-1], v[i+1]-v[i-1]
		d := math.Hypot(ax, ay) * math.Hypot(bx, by) * math.Hypot(cx, cy)
		if d > 0 {
			k[i] = 2 * (ax*by - ay*bx) / d
		}
	}
	return k
}

// Bending is the integral of the squared curvature along the line, one a metre.
func Bending(x, v []float64) float64 {
	k := Curvature(x, v)
	var sum float64
	for i := 1; i+1 < len(x); i++ {
		sum += k[i] * k[i] * (math.Hypot(x[i]-x[i-1], v[i]-v[i-1]) + math.Hypot(x[i+1]-x[i], v[i+1]-v[i])) / 2
	}
	return sum
}
