package nesting

import (
	"math"
	"sort"
)

// segment is one signed side of a convolution.
type segment struct {
	a, b point
	sign int8
}

// curve is a closed set of signed segments. The offsets about which it winds are those
// at which two shapes overlap: the number of windings is the Euler characteristic
// of what they have in common, and that is the number of its pieces when neither has a
// hole.
type curve struct {
	segments []segment
	box      box
	bands    [][]rung // by height, what crosses a band
	perBand  float64  // bands a metre
}

// rung is a segment as a row meets it: at heights from lo up to and not with hi it lies
// at x = at + slope y.
type rung struct {
	lo, hi, at, slope float64
	sign              int8
}

// sides is a ring with the angles of its sides, ready for convolution.
type sides struct {
	ring   []point
	angle  []float64 // of the side that leaves each point
	sorted []int     // sides by angle
}

func newSides(ring []point) *sides {
	s := &sides{ring: ring}
	for i, p := range ring {
		d := ring[(i+1)%len(ring)].sub(p)
		s.angle = append(s.angle, math.Atan2(d.y, d.x))
		s.sorted = append(s.sorted, i)
	}
	sort.SliceStable(s.sorted, func(i, k int) bool { return s.angle[s.sorted[i]] < s.angle[s.sorted[k]] })
	return s
}

// turn is the arc of directions at a point: counter-clockwise from lo to hi, with the
// sign of the turn. A point where nothing turns has sign 0.
func (s *sides) turn(i int) (lo, hi float64, sign int8) {
	in, out := s.angle[(i+len(s.ring)-1)%len(s.ring)], s.angle[i]
	switch d := out - in; {
	case d == 0:
		return 0, 0, 0
	case d > 0 && d < math.Pi || d < -math.Pi:
		return in, out, 1
	default:
		return out, in, -1
	}
}

// within calls f for every side whose direction lies on an arc. Where directions are
// equal, the arc's owner counts as turned a hair forward of the sides if ahead is set,
// and back if not: used once each way, the two halves of a convolution always close.
func (s *sides) within(lo, hi float64, ahead bool, f func(side int)) {
	at := func(v float64) int {
		return sort.Search(len(s.sorted), func(k int) bool {
			a := s.angle[s.sorted[k]]
			return a > v || a == v && !ahead
		})
	}
	i, k := at(lo), at(hi)
	n := len(s.sorted)
	if lo > hi {
		k += n
	}
	for ; i < k; i++ {
		f(s.sorted[i%n])
	}
}

// convolve is the boundary of the offsets t at which p and q+t overlap, if q is given
// turned by half a turn.
func convolve(p, q *sides) *curve {
	c := &curve{}
	half := func(fixed, moving *sides, ahead bool) {
		for i, v := range fixed.ring {
			if lo, hi, sign := fixed.turn(i); sign != 0 {
				moving.within(lo, hi, ahead, func(k int) {
					a, b := moving.ring[k], moving.ring[(k+1)%len(moving.ring)]
					c.segments = append(c.segments, segment{a.add(v), b.add(v), sign})
				})
			}
		}
	}
	half(p, q, true)
	half(q, p, false)
	c.index()
	return c
}

// index sorts the segments into bands by height.
func (c *curve) index() {
	c.box = box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, s := range c.segments {
		b := around([]point{s.a, s.b})
		c.box.x0, c.box.x1 = math.Min(c.box.x0, b.x0), math.Max(c.box.x1, b.x1)
		c.box.y0, c.box.y1 = math.Min(c.box.y0, b.y0), math.Max(c.box.y1, b.y1)
	}
	n := min(64, 1+len(c.segments)/4)
	c.bands = make([][]rung, n)
	c.perBand = float64(n) / (c.box.y1 - c.box.y0)
	for _, s := range c.segments {
		if s.a.y == s.b.y {
			continue
		}
		slope := (s.b.x - s.a.x) / (s.b.y - s.a.y)
		r := rung{s.a.y, s.b.y, s.a.x - slope*s.a.y, slope, -s.sign}
		if r.lo > r.hi {
			r.lo, r.hi, r.sign = r.hi, r.lo, s.sign
		}
		for k := c.band(r.lo); k <= c.band(r.hi); k++ {
			c.bands[k] = append(c.bands[k], r)
		}
	}
}

// band is the band at a height.
func (c *curve) band(y float64) int {
	return max(0, min(len(c.bands)-1, int((y-c.box.y0)*c.perBand)))
}
