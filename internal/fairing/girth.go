package fairing

import (
	"math"

	"thole/internal/cuts"
)

// Girth is a half section as a smooth curve from keel to sheer, sharp at its
// knuckles and measured along its length.
type Girth struct {
	pieces []piece
	Length float64 // metres of skin from keel to sheer
}

// piece is one smooth stretch, over its own girth.
type piece struct {
	from, to float64 // girth from the keel
	y, z     Spline
}

// Girth is the half section at x as a curve.
func (s *Surface) Girth(x float64) Girth {
	half := s.Half(x)
	var g Girth
	for c := 1; c < len(s.corner); c++ {
		pts := half[s.corner[c-1] : s.corner[c]+1]
		t, y, z := []float64{g.Length}, []float64{pts[0].Y}, []float64{pts[0].Z}
		for i := 1; i < len(pts); i++ {
			d := math.Hypot(pts[i].Y-pts[i-1].Y, pts[i].Z-pts[i-1].Z)
			if d < 1e-9 {
				continue
			}
			t, y, z = append(t, t[len(t)-1]+d), append(y, pts[i].Y), append(z, pts[i].Z)
		}
		if len(t) < 2 {
			continue
		}
		p := piece{from: t[0], y: NewSpline(t, y), z: NewSpline(t, z)}
		p.stretch()
		g.pieces = append(g.pieces, p)
		g.Length = p.to
	}
	return g
}

// stretch replaces chords by the curve's own lengths, so that girth is girth.
func (p *piece) stretch() {
	old := p.y.t
	t := make([]float64, len(old))
	t[0] = old[0]
	for i := 1; i < len(old); i++ {
		// Simpson on the speed, four steps a side
		h := (old[i] - old[i-1]) / 4
		var l float64
		for k := 0; k <= 4; k++ {
			_, dy, _ := p.y.Derivatives(old[i-1] + float64(k)*h)
			_, dz, _ := p.z.Derivatives(old[i-1] + float64(k)*h)
			l += []float64{1, 4, 2, 4, 1}[k] * math.Hypot(dy, dz)
		}
		t[i] = t[i-1] + l*h/3
	}
	p.y, p.z = NewSpline(t, p.y.y), NewSpline(t, p.z.y)
	p.to = t[len(t)-1]
}

// At is the point at a girth from the keel, and the unit tangent there towards the sheer.
func (g *Girth) At(girth float64) (p cuts.Point, ty, tz float64) {
	if len(g.pieces) == 0 {
		return cuts.Point{}, 0, 1
	}
	k := 0
	for k < len(g.pieces)-1 && girth > g.pieces[k].to {
		k++
	}
	q := &g.pieces[k]
	girth = math.Min(math.Max(girth, 0), g.Length)
	y, dy, _ := q.y.Derivatives(girth)
	z, dz, _ := q.z.Derivatives(girth)
	l := math.Hypot(dy, dz)
	if l == 0 {
		return cuts.Point{Y: y, Z: z}, 0, 1
	}
	return cuts.Point{Y: math.Max(0, y), Z: z}, dy / l, dz / l
}

// Stops are the girths of keel, knuckles and sheer.
func (g *Girth) Stops() []float64 {
	out := []float64{0}
	for _, p := range g.pieces {
		out = append(out, p.to)
	}
	return out
}

// Knots are the girths of the threads that the curve runs through, from keel to sheer.
func (g *Girth) Knots() []float64 {
	var out []float64
	for i, p := range g.pieces {
		if i > 0 {
			out = append(out, p.y.t[1:]...)
		} else {
			out = append(out, p.y.t...)
		}
	}
	return out
}
