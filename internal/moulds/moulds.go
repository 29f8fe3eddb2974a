// Package moulds takes moulds, bulkheads, posts and their bevels off a fair
// surface: what is sawn, at its true size.
//
// A thickness (planking, stringers) is taken off square to the skin in three
// dimensions, not in the plane of the mould: the mould's edge is the section, at its
// own place, of the surface that lies that deep inside the skin. Metres in the boat's
// frame; bevels in radians.
package moulds

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/cuts"
	"thole/internal/fairing"
)

// Point is a place on a mould's edge.
type Point struct {
	Y, Z float64
	// Bevel is how far the edge leans from square: positive where the skin runs in towards the stern.
	Bevel  float64
	Corner bool
}

// Mould is a half section, less what lies on it.
type Mould struct {
	X     float64 // of its face, the plane that the outline is drawn in
	Edge  []Point // from keel to sheer, corners marked
	Ahead bool    // its body stands ahead of the face
}

// Shape makes a mould at x with so much taken off square to the skin.
//
// In:     deduct in metres, 0 or more; step, the greatest distance between points of the edge
// Out:    the body of the mould stands from its face towards amidships, so that its edge can be
// left square and touches the skin on the line; on the other side it would have to be bevelled back to it
// Good to: 1e-5 m on a cone and on a cylinder (TestDeductionOnACone)
// Source: the parallel surface, closed form; each thread's point is solved for the place where
// its inner side stands in the mould's plane
func Shape(s *fairing.Surface, x, deduct, step float64) Mould {
	from, to := s.Ends()
	m := Mould{X: x, Ahead: x > (from+to)/2}
	frames := s.Frames(x)
	corner := s.Corners()
	for c := 1; c < len(corner); c++ {
		a, b := corner[c-1], corner[c]
		var pts []Point
		for k := a; k <= b; k++ {
			upper := k == a // at the stretch's first thread its own side is the one above
			p, n := inner(s, x, deduct, k, upper, frames[k])
			pts = append(pts, Point{Y: p.Y, Z: p.Z, Bevel: math.Asin(clamp(n.X))})
		}
		m.join(refine(pts, step))
	}
	if len(m.Edge) > 0 && s.Half(x)[0].Y == 0 {
		m.toCentre()
	}
	return m
}

func clamp(v float64) float64 { return math.Max(-1, math.Min(1, v)) }

// inner is the point of a thread's inner side that stands in the plane at x, and its normal. The skin's own
// point lies a little fore or aft of the plane where the skin runs in.
func inner(s *fairing.Surface, x, deduct float64, k int, upper bool, at fairing.Frame) (p, n r3.Vec) {
	pick := func(f fairing.Frame) r3.Vec {
		if upper {
			return f.Above
		}
		return f.Below
	}
	from, to := s.Ends()
	f := at
	for range 6 {
		n = pick(f)
		next := math.Max(from, math.Min(to, x+deduct*n.X))
		if math.Abs(next-f.P.X) < 1e-9 {
			break
		}
		f = s.Frames(next)[k]
	}
	n = pick(f)
	p = r3.Sub(f.P, r3.Scale(deduct, n))
	p.X = x
	return p, n
}

// refine puts points between, along a spline, so that none are farther apart than step.
func refine(pts []Point, step float64) []Point {
	var t, y, z, b []float64
	for _, p := range pts {
		if n := len(t); n > 0 {
			d := math.Hypot(p.Y-y[n-1], p.Z-z[n-1])
			if d < 1e-9 {
				continue
			}
			t = append(t, t[n-1]+d)
		} else {
			t = append(t, 0)
		}
		y, z, b = append(y, p.Y), append(z, p.Z), append(b, p.Bevel)
	}
	if len(t) < 2 {
		return pts
	}
	sy, sz, sb := fairing.NewSpline(t, y), fairing.NewSpline(t, z), fairing.NewSpline(t, b)
	var out []Point
	for i := 1; i < len(t); i++ {
		n := max(1, int(math.Ceil((t[i]-t[i-1])/step)))
		for k := range n {
			at := t[i-1] + float64(k)/float64(n)*(t[i]-t[i-1])
			out = append(out, Point{Y: sy.At(at), Z: sz.At(at), Bevel: sb.At(at)})
		}
	}
	last := len(t) - 1
	return append(out, Point{Y: y[last], Z: z[last], Bevel: b[last]})
}

// join appends a stretch, meeting the one before in a sharp corner where their inner sides cross.
func (m *Mould) join(next []Point) {
	if len(next) == 0 {
		return
	}
	next[0].Corner, next[len(next)-1].Corner = true, true
	if len(m.Edge) < 2 || len(next) < 2 {
		m.Edge = append(m.Edge, next...)
		return
	}
	// the last side of one and the first of the other, as lines
	a, b := m.Edge[len(m.Edge)-2], m.Edge[len(m.Edge)-1]
	c, d := next[0], next[1]
	det := (b.Y-a.Y)*(d.Z-c.Z) - (b.Z-a.Z)*(d.Y-c.Y)
	scale := math.Hypot(b.Y-a.Y, b.Z-a.Z) * math.Hypot(d.Y-c.Y, d.Z-c.Z)
	if math.Abs(det) > 0.02*scale {
		t := ((c.Y-a.Y)*(d.Z-c.Z) - (c.Z-a.Z)*(d.Y-c.Y)) / det
		p := Point{Y: a.Y + t*(b.Y-a.Y), Z: a.Z + t*(b.Z-a.Z), Bevel: (b.Bevel + c.Bevel) / 2, Corner: true}
		m.Edge[len(m.Edge)-1] = p
		m.Edge = append(m.Edge, next[1:]...)
		return
	}
	m.Edge = append(m.Edge, next[1:]...)
}

// toCentre carries the edge's foot along its first side to the centre line.
func (m *Mould) toCentre() {
	for len(m.Edge) > 2 && m.Edge[1].Y < 0 {
		m.Edge = m.Edge[1:]
	}
	a, b := m.Edge[0], m.Edge[1]
	if a.Y != 0 && b.Y != a.Y {
		f := -a.Y / (b.Y - a.Y)
		if z := a.Z + f*(b.Z-a.Z); math.Abs(z-a.Z) < 0.1 {
			m.Edge[0].Y, m.Edge[0].Z = 0, z
		}
	}
	m.Edge[0].Y = math.Max(0, m.Edge[0].Y)
}

// At is the point of the edge at a height, the uppermost if there are more; ok is false beyond its ends.
func (m *Mould) At(z float64) (p Point, ok bool) {
	for i := len(m.Edge) - 1; i > 0; i-- {
		a, b := m.Edge[i-1], m.Edge[i]
		if (a.Z <= z) != (b.Z <= z) {
			f := (z - a.Z) / (b.Z - a.Z)
			return Point{Y: a.Y + f*(b.Y-a.Y), Z: z, Bevel: a.Bevel + f*(b.Bevel-a.Bevel)}, true
		}
	}
	return Point{}, false
}

// Nearest is the point of the edge nearest to a point of the skin: where a strake's mark falls.
func (m *Mould) Nearest(q cuts.Point) Point {
	best, out := math.Inf(1), Point{}
	for i := 1; i < len(m.Edge); i++ {
		a, b := m.Edge[i-1], m.Edge[i]
		dy, dz := b.Y-a.Y, b.Z-a.Z
		l := dy*dy + dz*dz
		if l == 0 {
			continue
		}
		f := math.Max(0, math.Min(1, ((q.Y-a.Y)*dy+(q.Z-a.Z)*dz)/l))
		p := Point{Y: a.Y + f*dy, Z: a.Z + f*dz, Bevel: a.Bevel + f*(b.Bevel-a.Bevel)}
		if d := math.Hypot(p.Y-q.Y, p.Z-q.Z); d < best {
			best, out = d, p
		}
	}
	return out
}
