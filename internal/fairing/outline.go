package fairing

import (
	"math"

	"thole/internal/cuts"
)

// Ends are the surface's least and greatest x.
func (s *Surface) Ends() (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for i := range s.threads {
		from, to = math.Min(from, s.threads[i].from), math.Max(to, s.threads[i].to)
	}
	return from, to
}

// Stations are the places of the measured stations that the surface runs through.
func (s *Surface) Stations() []float64 { return s.stops }

// Faired are the readings as the fairing left them.
func (s *Surface) Faired() []Cut { return s.faired }

// Corners are the indices into Half of keel, knuckles and sheer.
func (s *Surface) Corners() []int { return s.corner }

// Half is the half section at x from keel to sheer: always as many points, the
// same index always on the same thread. Past the end of a thread its point is
// the profile's at x.
func (s *Surface) Half(x float64) []cuts.Point {
	return s.half(make([]cuts.Point, len(s.threads)), x)
}

// Top is the last of Half, the point on the sheer, without the rest of it.
func (s *Surface) Top(x float64) cuts.Point { return s.one(x, len(s.threads)-1) }

// Foot is the first of Half, the point on the keel, without the rest of it.
func (s *Surface) Foot(x float64) cuts.Point { return s.one(x, 0) }

// one is an outermost point of Half, the first or the last.
func (s *Surface) one(x float64, k int) cuts.Point {
	from, to := s.Ends()
	x = math.Min(math.Max(x, from), to)
	lo, hi := -1, -1 // the threads that reach x
	for i := range s.threads {
		if x >= s.threads[i].from && x <= s.threads[i].to {
			if lo < 0 {
				lo = i
			}
			hi = i
		}
	}
	switch {
	case lo < 0:
		return cuts.Point{Z: s.threads[k].z.y[0]}
	case k < lo:
		return s.onProfile(x, lo-1, lo)
	case k > hi:
		return s.onProfile(x, hi, hi+1)
	}
	p := s.threads[k].at(x)
	p.Y = math.Max(0, p.Y)
	return p
}

func (s *Surface) half(out []cuts.Point, x float64) []cuts.Point {
	from, to := s.Ends()
	x = math.Min(math.Max(x, from), to)
	lo, hi := -1, -1 // the threads that reach x
	for k := range s.threads {
		th := &s.threads[k]
		if x >= th.from && x <= th.to {
			if lo < 0 {
				lo = k
			}
			hi = k
			p := th.at(x)
			p.Y = math.Max(0, p.Y)
			out[k] = p
		}
	}
	if lo < 0 { // between two threads' ends: the profile alone
		for k := range out {
			out[k] = cuts.Point{Z: s.threads[k].z.y[0]}
		}
		return out
	}
	for k := range out {
		if k < lo {
			out[k] = s.onProfile(x, lo-1, lo)
		} else if k > hi {
			out[k] = s.onProfile(x, hi, hi+1)
		} else if th := &s.threads[k]; x < th.from || x > th.to {
			out[k] = out[k-1] // a hollow profile: fold the missing thread away
		}
	}
	return out
}

// onProfile is the profile's point at x between the ends of two neighbouring threads.
func (s *Surface) onProfile(x float64, a, b int) cuts.Point {
	e, first := s.stem, true
	if x > s.threads[a].to || x > s.threads[b].to {
		e, first = s.stern, false
	}
	if e == nil {
		k := a
		if x >= s.threads[b].from && x <= s.threads[b].to {
			k = b
		}
		p := s.threads[k].at(x)
		return cuts.Point{Z: p.Z}
	}
	// the ends' shares, from where their threads meet the profile
	if first {
		return cuts.Point{Z: e.height(x, s.threads[a].fore, s.threads[b].fore)}
	}
	return cuts.Point{Z: e.height(x, s.threads[a].aft, s.threads[b].aft)}
}

// slope is how far the points run out per metre along the boat, by a central difference.
func (s *Surface) slope(x float64) (dy, dz []float64) {
	from, to := s.Ends()
	d := 1e-5 * (to - from)
	a, b := math.Max(from, x-d), math.Min(to, x+d)
	p, q := s.Half(a), s.Half(b)
	dy, dz = make([]float64, len(p)), make([]float64, len(p))
	for k := range p {
		dy[k], dz[k] = (q[k].Y-p[k].Y)/(b-a), (q[k].Z-p[k].Z)/(b-a)
	}
	return dy, dz
}

// Ribbed is a half section made ready for sums: points from keel to sheer and
// the slant of the skin between each two.
type Ribbed struct {
	Points []cuts.Point
	Slant  []float64 // of the side from point i to i+1
	Bulge  []float64 // of the same side, as in cuts.Edge
}

// Rib is the half section at x for areas and moments. On a curved stretch the
// vertices stand outside the curve, so that the polygon's area and moments are the
// curve's to fourth order (Swell); corners stay where they are. With skin it is moved out by that much, square to the surface (inwards when negative).
//
// Source: the mean of a parabola over its chord is two thirds of its height, closed form
func (s *Surface) Rib(x, skin float64) Ribbed {
	p := s.Half(x)
	dy, dz := s.slope(x)
	if skin != 0 {
		p = pushed(p, dy, dz, skin)
	}
	out := make([]cuts.Point, len(p))
	copy(out, p)
	for c := 1; c < len(s.corner); c++ {
		from, to := s.corner[c-1], s.corner[c]
		copy(out[from:], Swell(p[from:to+1]))
	}
	r := Ribbed{Points: out, Slant: make([]float64, len(out)-1), Bulge: make([]float64, len(out)-1)}
	for c := 1; c < len(s.corner); c++ {
		for k := s.corner[c-1] + 1; k+1 < s.corner[c]; k++ {
			r.Bulge[k] = bulge(p, k)
		}
	}
	for k := range r.Slant {
		ey, ez := out[k+1].Y-out[k].Y, out[k+1].Z-out[k].Z
		length := math.Hypot(ey, ez)
		r.Slant[k] = 1
		if length > 1e-9 {
			run := (ez*(dy[k]+dy[k+1]) - ey*(dz[k]+dz[k+1])) / (2 * length)
			r.Slant[k] = math.Sqrt(1+run*run) * arc(p, k, r.Bulge[k]) / length
		}
	}
	return r
}

// arc is the length of the curve behind a side: its chord and a 24th of the squared turn.
func arc(p []cuts.Point, k int, bulge float64) float64 {
	chord := math.Hypot(p[k+1].Y-p[k].Y, p[k+1].Z-p[k].Z)
	if chord == 0 {
		return 0
	}
	turn := 12 * bulge / (chord * chord)
	return chord * (1 + turn*turn/24)
}

// bulge is the curvature × length³ / 12 of the side from k to k+1, from the mean of the second
// differences at its ends; positive where the curve is hollow to the solid's side, that is, bowed outwards.
func bulge(p []cuts.Point, k int) float64 {
	ey, ez := p[k+1].Y-p[k].Y, p[k+1].Z-p[k].Z
	// second differences, along the outward normal (ez, -ey)
	dy := (p[k-1].Y - p[k].Y - p[k+1].Y + p[k+2].Y) / 2
	dz := (p[k-1].Z - p[k].Z - p[k+1].Z + p[k+2].Z) / 2
	return -(ez*dy - ey*dz) / 12
}

// Swell moves the inner vertices of a smooth curve's polygon, taken at equal
// steps, outside the curve so that the polygon keeps the curve's area to fourth order.
// The first and last stay; the vertices next to them make up for that.
func Swell(p []cuts.Point) []cuts.Point {
	out := make([]cuts.Point, len(p))
	copy(out, p)
	last := len(p) - 1
	for k := 1; k < last; k++ {
		f := 1.0 / 12
		if k == 1 {
			f += 0.5 / 12
		}
		if k == last-1 {
			f += 0.5 / 12
		}
		out[k].Y -= f * (p[k-1].Y - 2*p[k].Y + p[k+1].Y)
		out[k].Z -= f * (p[k-1].Z - 2*p[k].Z + p[k+1].Z)
	}
	return out
}

// pushed moves a half section out by a skin's thickness square to the surface:
// in the plane of the section that is the thickness times the slant. At corners both sides'
// moves meet in a mitre; a point on the centre line stays on it.
func pushed(p []cuts.Point, dy, dz []float64, skin float64) []cuts.Point {
	n := len(p)
	out := make([]cuts.Point, n)
	for k := range p {
		a, aok := side(p, dy, dz, k-1, skin)
		b, bok := side(p, dy, dz, k, skin)
		switch {
		case !aok && !bok:
			out[k] = p[k]
			continue
		case !aok:
			a = b
		case !bok:
			b = a
		}
		// the mitre: the point whose distance along either normal is that side's move
		det := a.ny*b.nz - a.nz*b.ny
		if math.Abs(det) < 0.02 {
			m := (a.move + b.move) / 2
			ny, nz := a.ny+b.ny, a.nz+b.nz
			l := math.Hypot(ny, nz)
			out[k] = cuts.Point{Y: p[k].Y + m*ny/l, Z: p[k].Z + m*nz/l}
		} else {
			out[k] = cuts.Point{Y: p[k].Y + (a.move*b.nz-b.move*a.nz)/det, Z: p[k].Z + (b.move*a.ny-a.move*b.ny)/det}
		}
		out[k].Y = math.Max(0, out[k].Y)
	}
	if p[0].Y == 0 && n > 1 {
		// the keel: where the moved first side meets the centre line
		if f, ok := side(p, dy, dz, 0, skin); ok && math.Abs(f.nz) > 1e-6 {
			out[0] = cuts.Point{Z: p[0].Z + f.move/f.nz}
			if ny := math.Abs(f.ny / f.nz); ny > 3 { // nearly upright: a post, not a point
				out[0] = cuts.Point{Z: p[0].Z}
			}
		}
	}
	return out
}

// normal is one side's outward direction in the section and how far it moves.
type normal struct{ ny, nz, move float64 }

func side(p []cuts.Point, dy, dz []float64, k int, skin float64) (normal, bool) {
	if k < 0 || k+1 >= len(p) {
		return normal{}, false
	}
	ey, ez := p[k+1].Y-p[k].Y, p[k+1].Z-p[k].Z
	l := math.Hypot(ey, ez)
	if l < 1e-9 {
		return normal{}, false
	}
	ny, nz := ez/l, -ey/l
	run := (ny*(dy[k]+dy[k+1]) + nz*(dz[k]+dz[k+1])) / 2
	return normal{ny, nz, skin * math.Sqrt(1+run*run)}, true
}
