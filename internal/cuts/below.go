package cuts

import "math"

// Below returns what of the solid lies below a plane.
//
// In coordinates with the water along the axis the closing sides add nothing to Green's
// integrals, so no outline is put together again and nothing is allocated. Only the edges near the
// water are looked at (clip).
//
// Good to: rounding across each cut; along the length the order of the quadrature
// Source: Green's theorem on straight edges, closed form
func (s *Stack) Below(p Plane) Sums {
	var m Sums
	sin, cos := p.Sin, p.Cos
	absSin, absCos := math.Abs(sin), math.Abs(cos)
	for i := range s.cuts {
		c := &s.cuts[i]
		h := p.Level + p.Slope*c.x
		centre := c.cz*cos - c.cy*sin - h
		reach := c.hz*absCos + c.hy*absSin
		if centre >= reach {
			continue
		}
		if centre <= -reach {
			v := c.weight * c.a
			m.Volume += v
			m.X += v * c.x
			m.Across += c.weight * (c.my*cos + c.mz*sin)
			m.Up += c.weight * (c.mz*cos - c.my*sin)
			continue
		}
		area, across, up, b, o, oo := s.clip(c, sin, cos, h)
		m.Volume += c.weight * area
		m.X += c.weight * area * c.x
		m.Across += c.weight * across
		m.Up += c.weight * (up + h*area)
		wb, wo := c.weight*b, c.weight*o
		m.Breadth += wb
		m.BreadthX += wb * c.x
		m.BreadthXX += wb * c.x * c.x
		m.Offset += wo
		m.OffsetX += wo * c.x
		m.OffsetOffset += c.weight * oo
	}
	return m
}

// bowed is what the curve behind a swelled side adds where the water crosses
// the side at the share f: area up to there, and how far the crossing stands farther out.
// The curve's distance outside the side is bulge (6f(1-f) - 1) over the side's length.
func bowed(bulge, f, rise, run float64) (gain, shift float64) {
	gain = -bulge * f * (1 - f) * (1 - 2*f)
	shift = bulge * (6*f*(1-f) - 1) / rise
	// A side that lies almost along the water is crossed somewhere on it, no farther out.
	if most := math.Abs(run) / 4; math.Abs(shift) > most {
		shift = math.Copysign(most, shift)
	}
	return gain, shift
}

// Wetted is the area of skin below a plane, flat ends included, in square
// metres. It follows the skin's slope along the boat by each edge's Slant.
func (s *Stack) Wetted(p Plane) float64 {
	var area float64
	for i := range s.cuts {
		c := &s.cuts[i]
		h := p.Level + p.Slope*c.x
		k := c.first
		for r := c.run; r < c.end; r++ {
			for j := k + 1; j < s.breaks[r]; j++ {
				a, q := s.points[j-1], s.points[j]
				ea := a.Z*p.Cos - a.Y*p.Sin - h
				eq := q.Z*p.Cos - q.Y*p.Sin - h
				area += c.weight * s.slant[j] * math.Hypot(q.Y-a.Y, q.Z-a.Z) * under(ea, eq)
			}
			k = s.breaks[r]
		}
	}
	for _, f := range s.faces {
		area += f.section.below(p.Sin, p.Cos, p.Level+p.Slope*f.x)
	}
	return area
}

// under is the share of an edge that lies below zero, given its ends' heights.
func under(a, b float64) float64 {
	switch {
	case a < 0 && b < 0:
		return 1
	case a < 0:
		return a / (a - b)
	case b < 0:
		return b / (b - a)
	}
	return 0
}

// below is the area of a section under a line.
func (s Section) below(sin, cos, h float64) float64 {
	var area float64
	for _, e := range s {
		e0 := e.A.Z*cos - e.A.Y*sin - h
		e1 := e.B.Z*cos - e.B.Y*sin - h
		x0 := e.A.Y*cos + e.A.Z*sin
		x1 := e.B.Y*cos + e.B.Z*sin
		xc := x0 + (x1-x0)*(e0/(e0-e1))
		switch {
		case e0 < 0 && e1 < 0:
			area += (x0 - x1) * (e0 + e1) / 2
		case e0 < 0:
			area += (x0 - xc) * e0 / 2
		case e1 < 0:
			area += (xc - x1) * e1 / 2
		}
	}
	return area
}

// Lowest is how far the solid reaches below a plane at most, measured square
// to the water; negative when all of it stands clear above.
func (s *Stack) Lowest(p Plane) float64 {
	deepest := math.Inf(-1)
	tilt := 1 / math.Sqrt(1+p.Slope*p.Slope)
	for i := range s.cuts {
		c := &s.cuts[i]
		h := p.Level + p.Slope*c.x
		for _, q := range s.points[c.first:s.breaks[c.end-1]] {
			deepest = math.Max(deepest, h-(q.Z*p.Cos-q.Y*p.Sin))
		}
	}
	return deepest * tilt
}
