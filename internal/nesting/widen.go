package nesting

import (
	"math"
	"sort"
)

// disc is a polygon about a circle: 24 sides, some square to the axes so that straight
// parts lie at the gap exactly; elsewhere it stands out by 0.9 % at most.
func disc(radius float64) []point {
	const n = 24
	ring := make([]point, n)
	r := radius / math.Cos(math.Pi/n)
	for i := range ring {
		sin, cos := math.Sincos((float64(i) + 0.5) * 2 * math.Pi / n)
		ring[i] = point{r * cos, r * sin}
	}
	return ring
}

// widened is the outer edge of a ring grown by the gap on all sides. Where the growth
// closes a bay, the bay is lost. Should rounding break the walk round the edge, the
// convex hull is taken instead, which is wider and as safe.
func widened(ring []point, gap float64) []point {
	if gap == 0 {
		return ring
	}
	round := disc(gap)
	c := convolve(newSides(ring), newSides(round))
	if out, ok := walk(c.edges()); ok && area(out) >= area(ring) {
		return out
	}
	var all []point
	for _, p := range ring {
		for _, q := range round {
			all = append(all, p.add(q))
		}
	}
	return hull(all)
}

// edges are the pieces of a curve that have all of it to their left and none to their right.
func (c *curve) edges() [][2]point {
	const hair = 1e-8
	var out [][2]point
	for i, s := range c.segments {
		if s.sign < 0 {
			continue
		}
		d := s.b.sub(s.a)
		cuts := []float64{0, 1}
		for k, o := range c.segments {
			e := o.b.sub(o.a)
			if det := d.cross(e); k != i && o.sign > 0 && det != 0 {
				v := o.a.sub(s.a)
				t, u := v.cross(e)/det, v.cross(d)/det
				if t > 0 && t < 1 && u >= -1e-9 && u <= 1+1e-9 {
					cuts = append(cuts, t)
				}
			}
		}
		sort.Float64s(cuts)
		long := math.Hypot(d.x, d.y)
		off := point{d.y / long * hair, -d.x / long * hair}
		for k := 1; k < len(cuts); k++ {
			t := (cuts[k-1] + cuts[k]) / 2
			mid := point{s.a.x + t*d.x, s.a.y + t*d.y}
			if (cuts[k]-cuts[k-1])*long > hair/10 && c.winding(mid.add(off)) == 0 && c.winding(mid.sub(off)) != 0 {
				out = append(out, [2]point{{s.a.x + cuts[k-1]*d.x, s.a.y + cuts[k-1]*d.y},
					{s.a.x + cuts[k]*d.x, s.a.y + cuts[k]*d.y}})
			}
		}
	}
	return out
}

// winding is how often a curve goes round a point.
func (c *curve) winding(p point) int {
	w := 0
	for _, r := range c.bands[c.band(p.y)] {
		if r.lo <= p.y && p.y < r.hi && r.at+r.slope*p.y < p.x {
			w += int(r.sign)
		}
	}
	return w
}

// walk joins edges to the ring that begins at the leftmost of them.
func walk(edges [][2]point) ([]point, bool) {
	const join = 1e-6
	start := -1
	for i, e := range edges {
		if start < 0 || e[0].x < edges[start][0].x {
			start = i
		}
	}
	if start < 0 {
		return nil, false
	}
	used := make([]bool, len(edges))
	var raw [][2]float64
	for at := start; ; {
		used[at] = true
		raw = append(raw, [2]float64{edges[at][0].x, edges[at][0].y})
		end, next, least := edges[at][1], -1, join
		for i, e := range edges {
			if d := math.Hypot(e[0].x-end.x, e[0].y-end.y); d < least && (!used[i] || i == start) {
				next, least = i, d
			}
		}
		if next == start {
			break
		}
		if next < 0 {
			return nil, false
		}
		at = next
	}
	if len(raw) > 2*maxPoints {
		return nil, false
	}
	ring, err := clean(raw)
	return ring, err == nil
}

// hull is the convex hull, counter-clockwise (Andrew's monotone chain).
func hull(points []point) []point {
	sort.Slice(points, func(i, k int) bool {
		a, b := points[i], points[k]
		return a.x < b.x || a.x == b.x && a.y < b.y
	})
	var ring []point
	chain := func(p point, floor int) {
		for len(ring) >= floor+2 && ring[len(ring)-1].sub(ring[len(ring)-2]).cross(p.sub(ring[len(ring)-1])) <= 0 {
			ring = ring[:len(ring)-1]
		}
		ring = append(ring, p)
	}
	for _, p := range points {
		chain(p, 0)
	}
	floor := len(ring) - 1
	for i := len(points) - 2; i >= 0; i-- {
		chain(points[i], floor)
	}
	return ring[:len(ring)-1]
}
