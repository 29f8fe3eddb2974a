package cuts

import "math"

// span is the number of edges in a block: few enough that a block by the water is soon looked
// through, many enough that those clear of it are passed over by their box.
const span = 8

// few is the number of points below which a cut is soonest done edge by edge (BenchmarkClip).
const few = 22

// block is some edges in a row of one run, with a box about them.
type block struct {
	cy, cz, hy, hz float64
	last           int32 // the point at which its last edge ends
}

// sums are Green's integrals over a chain of edges, taken about the base line's middle: of a
// closed outline its area and the area's first moments.
type sums struct{ area, y, z float64 }

// add lays down what clip needs for the runs of a cut.
func (s *Stack) add(c *cut) {
	k := c.first
	for r := c.run; r < c.end; r++ {
		var sum sums
		for j := k; j < s.breaks[r]; j++ {
			if j > k {
				p, q := s.points[j-1], s.points[j]
				cross := p.Y*q.Z - q.Y*p.Z
				sum.area += cross / 2
				sum.y += (p.Y + q.Y) * cross / 6
				sum.z += (p.Z + q.Z) * cross / 6
			}
			s.sums = append(s.sums, sum)
		}
		for j := k; j < s.breaks[r]-1; j += span {
			last := min(j+span, s.breaks[r]-1)
			lo, hi := s.points[j], s.points[j]
			for _, p := range s.points[j : last+1] {
				lo.Y, hi.Y = math.Min(lo.Y, p.Y), math.Max(hi.Y, p.Y)
				lo.Z, hi.Z = math.Min(lo.Z, p.Z), math.Max(hi.Z, p.Z)
			}
			s.blocks = append(s.blocks, block{cy: (lo.Y + hi.Y) / 2, cz: (lo.Z + hi.Z) / 2, hy: (hi.Y - lo.Y) / 2, hz: (hi.Z - lo.Z) / 2, last: last})
		}
		s.ends = append(s.ends, int32(len(s.blocks)))
		k = s.breaks[r]
	}
}

// clear is how far a box must stand off the water to be passed over, metres: beyond rounding, so that
// the box and the points in it never tell two tales.
const clear = 1e-12

// A division takes several times as long as a product.
const third, sixth = 1.0 / 3, 1.0 / 6

// water is a plane as one cut sees it: the line up = level.
type water struct{ sin, cos, level float64 }

// part is what clip gives, while it is being added up.
type part struct{ area, across, up, b, o, oo float64 }

// clip integrates one cut below the water: area, first moments (up is about the water), and the moments
// 0, 1 and 2 of the waterline.
//
// The integrals over a chain of edges wholly under water are known beforehand about another
// axis. The two differ by a function of the chain's two ends alone (Stack.chain), so that only the
// edges that the water crosses are worked out, and the blocks of edges clear of it not even looked at.
//
// Good to: rounding; it agrees with the sum edge by edge (TestClipAgainstEdges)
// Source: Green's theorem; the two integrands have the same curl, so their difference is a gradient
func (s *Stack) clip(c *cut, sin, cos, level float64) (area, across, up, b, o, oo float64) {
	if s.breaks[c.end-1]-c.first < few {
		return s.edgeByEdge(c, sin, cos, level)
	}
	return s.byChains(c, sin, cos, level)
}

// byChains is clip by what is known of chains beforehand.
func (s *Stack) byChains(c *cut, sin, cos, level float64) (area, across, up, b, o, oo float64) {
	w := water{sin, cos, level}
	absSin, absCos := math.Abs(sin), math.Abs(cos)
	var m part
	k, first := c.block, c.first
	for r := c.run; r < c.end; r++ {
		p := s.points[first]
		e0 := p.Z*cos - p.Y*sin - level
		under := e0 < 0
		if under {
			s.chain(&m, &w, first, -1)
		}
		from := first
		for ; k < s.ends[r]; k++ {
			box := &s.blocks[k]
			off := box.cz*cos - box.cy*sin - level
			if math.Abs(off) > box.hz*absCos+box.hy*absSin+clear { // the run is as it was all through the block
				from = box.last
				continue
			}
			pts := s.points[from : box.last+1]
			e0 = pts[0].Z*cos - pts[0].Y*sin - level
			for j := 1; j < len(pts); j++ {
				q := pts[j]
				e1 := q.Z*cos - q.Y*sin - level
				if (e1 < 0) != under {
					s.cross(&m, &w, from+int32(j), e0, e1)
					under = !under
				}
				e0 = e1
			}
			from = box.last
		}
		first = s.breaks[r]
		if under {
			s.chain(&m, &w, first-1, 1)
		}
	}
	return m.area, m.across, m.up, m.b, m.o, m.oo
}

// edgeByEdge is clip without sums and boxes: quicker where a cut has few edges.
func (s *Stack) edgeByEdge(c *cut, sin, cos, h float64) (area, across, up, b, o, oo float64) {
	k := c.first
	for r := c.run; r < c.end; r++ {
		pts := s.points[k:s.breaks[r]]
		k = s.breaks[r]
		e0 := pts[0].Z*cos - pts[0].Y*sin - h
		x0 := pts[0].Y*cos + pts[0].Z*sin
		bulge := s.bulge[int(k)-len(pts) : k]
		for j := 1; j < len(pts); j++ {
			q := pts[j]
			e1 := q.Z*cos - q.Y*sin - h
			x1 := q.Y*cos + q.Z*sin
			switch {
			case e0 < 0 && e1 < 0:
				d := x0 - x1
				area += d * (e0 + e1)
				across += d * (x0*(e0+e0+e1) + x1*(e0+e1+e1))
				up += d * (e0*e0 + e0*e1 + e1*e1)
			case e0 < 0: // comes up through the water
				f := e0 / (e0 - e1)
				xc := x0 + (x1-x0)*f
				d := x0 - xc
				area += d * e0
				across += d * e0 * (x0 + x0 + xc)
				up += d * e0 * e0
				if bulge[j] != 0 {
					gain, shift := bowed(bulge[j], f, e1-e0, x1-x0)
					area += 2 * gain
					across += 6 * gain * xc
					xc += shift
				}
				b += xc
				o += xc * xc
				oo += xc * xc * xc
			case e1 < 0: // goes down through it
				f := e0 / (e0 - e1)
				xc := x0 + (x1-x0)*f
				d := xc - x1
				area += d * e1
				across += d * e1 * (xc + x1 + x1)
				up += d * e1 * e1
				if bulge[j] != 0 {
					gain, shift := bowed(bulge[j], f, e1-e0, x1-x0)
					area -= 2 * gain
					across -= 6 * gain * xc
					xc += shift
				}
				b -= xc
				o -= xc * xc
				oo -= xc * xc * xc
			}
			e0, x0 = e1, x1
		}
	}
	return area / 2, across / 6, up / 6, b, o / 2, oo / 3
}

// chain adds (sign 1) or takes off (-1) the integrals about the water from the run's start to a point,
// less what depends on the start: at the two ends of a chain they give the chain.
func (s *Stack) chain(m *part, w *water, at int32, sign float64) {
	p, k := s.points[at], &s.sums[at]
	u, v := p.Y*w.cos+p.Z*w.sin, p.Z*w.cos-p.Y*w.sin
	h := w.level
	m.area += sign * (k.area + u*(h-v/2))
	m.across += sign * (k.y*w.cos + k.z*w.sin + u*u*(h/2-v*third))
	m.up += sign * (k.z*w.cos - k.y*w.sin - h*k.area - u*(v*v*sixth+h*(h-v)/2))
}

// cross works out the edge that ends at a point and that the water crosses, from e0 above it to e1.
func (s *Stack) cross(m *part, w *water, at int32, e0, e1 float64) {
	p, q := s.points[at-1], s.points[at]
	x0, x1 := p.Y*w.cos+p.Z*w.sin, q.Y*w.cos+q.Z*w.sin
	f := e0 / (e0 - e1)
	xc := x0 + (x1-x0)*f
	sign, xu, eu := 1.0, x0, e0 // the end under water
	if e1 < 0 {
		sign, xu, eu = -1, x1, e1
		s.chain(m, w, at, -1)
	} else {
		s.chain(m, w, at-1, 1)
	}
	d := sign * (xu - xc)
	m.area += d * eu / 2
	m.across += d * eu * (xu + xu + xc) * sixth
	m.up += d * eu * eu * sixth
	if bulge := s.bulge[at]; bulge != 0 {
		gain, shift := bowed(bulge, f, e1-e0, x1-x0)
		m.area += sign * gain
		m.across += sign * gain * xc
		xc += shift
	}
	m.b += sign * xc
	m.o += sign * xc * xc / 2
	m.oo += sign * xc * xc * xc * third
}
