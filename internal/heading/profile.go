package heading

import (
	"fmt"
	"math"

	"thole/internal/cuts"
	"thole/internal/hydro"
)

// Silhouette is a solid as wind and water see it while it floats.
type Silhouette struct {
	Hull  Hull    // under water; its volume too
	Under Outline // the underwater profile: its centre's height is below nothing, metres
	Above Outline // what of it stands above the water, seen from the beam
	// Side and Front are the strips of what stands above the water, for a Part.
	Side, Front []Strip
	From, To    float64 // m aft: the reach of the side view
}

// Outline is the area of a side view and its centre.
type Outline struct{ Area, X, Height float64 }

// Part is what stands above the water as one long body.
//
// In:     the shape coefficient, ShapeFlat for a hull with its cabins
func (s Silhouette) Part(name string, shape float64) Part {
	return Part{Name: name, Side: s.Side, Front: s.Front, Shape: shape, Length: s.To - s.From}
}

// levels is the number of strips, by height, of what stands above the water.
const levels = 60

// slab is one cut as seen from the side and from ahead.
type slab struct {
	x, depth, top, beam float64
	clear               float64 // how far the keel stands above the water; below nothing when wet
}

// wet are the stations under water; where the keel comes out between two cuts there is one more, of
// no depth.
func wet(s []slab) (out []Station) {
	for i, b := range s {
		if i > 0 && (b.clear < 0) != (s[i-1].clear < 0) {
			a := s[i-1]
			out = append(out, Station{X: a.x + (b.x-a.x)*a.clear/(a.clear-b.clear)})
		}
		if b.clear < 0 {
			out = append(out, Station{X: b.x, Depth: b.depth, Beam: b.beam})
		}
	}
	return out
}

// Profile measures the lateral areas of a stack of cuts at an attitude: under water, with the
// depth and breadth of every cut, and above, as the hull's and cabins' side and front views.
//
// In:     the envelope (hull and cabins), or any one solid of it; where the water lies
// Out:    heights are square to the water in the plane of a cut; a hull without water under it
// has no stations
// Error:  ErrInput for an empty stack
// Good to: second order in the spacing of the cuts: 0.1 % for a wedge and a parabola of
// forty cuts. A side view has no holes: under an overhang the whole height counts
// Source: the trapezoidal rule; past the last cut on either end the edges run on straight, for as
// far as three tenths of the step before it
func Profile(s *cuts.Stack, a hydro.Attitude) (Silhouette, error) {
	var out Silhouette
	if s == nil {
		return out, fmt.Errorf("%w: no solid to look at", ErrInput)
	}
	p := a.Plane()
	if !finite(p.Sin) || !finite(p.Cos) || !finite(p.Level) || !finite(p.Slope) {
		return out, fmt.Errorf("%w: the water's place is not a number", ErrInput)
	}
	var slabs []slab
	type view struct{ lo, hi float64 }
	front := map[int]view{}
	var high float64
	s.Each(func(x float64, runs [][]cuts.Point) {
		b := slab{x: x, depth: math.Inf(-1), top: math.Inf(-1)}
		for _, run := range runs {
			for _, q := range run {
				up := q.Z*p.Cos - q.Y*p.Sin - p.Level - p.Slope*x
				b.depth, b.top = math.Max(b.depth, -up), math.Max(b.top, up)
			}
		}
		b.beam = breadth(runs, p, p.Level+p.Slope*x)
		b.clear = -b.depth
		b.depth, b.top = math.Max(0, b.depth), math.Max(0, b.top)
		high = math.Max(high, b.top)
		slabs = append(slabs, b)
	})
	if len(slabs) == 0 {
		return out, fmt.Errorf("%w: the solid has no cuts", ErrInput)
	}
	if high > 0 {
		s.Each(func(x float64, runs [][]cuts.Point) {
			for k := range levels {
				z := high * (float64(k) + 0.5) / levels
				if lo, hi, ok := reach(runs, p, p.Level+p.Slope*x+z); ok {
					v, had := front[k]
					if !had {
						v = view{lo, hi}
					}
					front[k] = view{math.Min(v.lo, lo), math.Max(v.hi, hi)}
				}
			}
		})
	}
	slabs = ends(slabs)
	out.From, out.To = slabs[0].x, slabs[len(slabs)-1].x
	out.Hull.Stations = wet(slabs)
	out.Hull.Volume = s.Below(p).Volume
	area, x, depth := out.Hull.Lateral()
	out.Under = Outline{area, x, -depth}
	out.Side = sideStrips(slabs, high)
	for _, s := range out.Side {
		out.Above.Area += s.Area
		out.Above.X += s.Area * s.X
		out.Above.Height += s.Area * s.Height
	}
	if out.Above.Area > 0 {
		out.Above.X /= out.Above.Area
		out.Above.Height /= out.Above.Area
	}
	for k := range levels {
		if v, ok := front[k]; ok && v.hi > v.lo {
			h := high / levels
			out.Front = append(out.Front, Strip{Area: (v.hi - v.lo) * h, Height: (float64(k) + 0.5) * h})
		}
	}
	return out, nil
}

// reach is the least and greatest place across at a level of a cut.
func reach(runs [][]cuts.Point, p cuts.Plane, level float64) (lo, hi float64, ok bool) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, run := range runs {
		for i := 1; i < len(run); i++ {
			a := run[i-1].Z*p.Cos - run[i-1].Y*p.Sin - level
			b := run[i].Z*p.Cos - run[i].Y*p.Sin - level
			if (a < 0) == (b < 0) {
				continue
			}
			f := a / (a - b)
			u := run[i-1].Y*p.Cos + run[i-1].Z*p.Sin
			v := run[i].Y*p.Cos + run[i].Z*p.Sin
			u += f * (v - u)
			lo, hi = math.Min(lo, u), math.Max(hi, u)
		}
	}
	return lo, hi, hi >= lo
}

// breadth is how broad a cut is at a level.
func breadth(runs [][]cuts.Point, p cuts.Plane, level float64) float64 {
	if lo, hi, ok := reach(runs, p, level); ok {
		return hi - lo
	}
	return 0
}

// ends carries the first and last cut on to where the solid ends: the cuts stand at the
// nodes of a quadrature, a little inside it.
func ends(s []slab) []slab {
	n := len(s)
	if n < 2 {
		return s
	}
	on := func(a, b slab) slab {
		d := a.x - b.x
		if math.Abs(d) < 1e-9 {
			return a
		}
		step := d * 0.291 // as the nodes of three-point Gauss stand from the end of their panel
		run := func(u, v float64) float64 { return u + (u-v)*step/d }
		e := slab{x: a.x + step, top: math.Max(0, run(a.top, b.top)), beam: math.Max(0, run(a.beam, b.beam)), clear: run(a.clear, b.clear)}
		e.depth = math.Max(0, -e.clear)
		return e
	}
	return append(append([]slab{on(s[0], s[1])}, s...), on(s[n-1], s[n-2]))
}

// sideStrips are the strips by height of a side view whose upper edge runs straight between
// cuts, and whose lower edge is the water, or the keel where that is clear of it.
func sideStrips(s []slab, high float64) []Strip {
	if high <= 0 {
		return nil
	}
	h := high / levels
	var area, mx [levels]float64
	for i := 1; i < len(s); i++ {
		a, b := s[i-1], s[i]
		d := b.x - a.x
		if d <= 0 {
			continue
		}
		for k := range levels {
			// How much of the strip is filled at the ends and in the middle (Simpson).
			z := float64(k) * h
			f := func(top float64) float64 { return clamp((top-z)/h, 0, 1) }
			p, q, r := f(a.top), f((a.top+b.top)/2), f(b.top)
			area[k] += d * h * (p + 4*q + r) / 6
			mx[k] += d * h * (p*a.x + 4*q*(a.x+b.x)/2 + r*b.x) / 6
		}
	}
	var out []Strip
	for k := range levels {
		if area[k] > 0 {
			out = append(out, Strip{Area: area[k], X: mx[k] / area[k], Height: (float64(k) + 0.5) * h})
		}
	}
	return out
}
