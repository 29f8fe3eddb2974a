package nesting

import (
	"fmt"
	"math"
)

// point is a place or a direction, metres.
type point struct{ x, y float64 }

func (p point) sub(q point) point     { return point{p.x - q.x, p.y - q.y} }
func (p point) add(q point) point     { return point{p.x + q.x, p.y + q.y} }
func (p point) cross(q point) float64 { return p.x*q.y - p.y*q.x }
func (p point) dot(q point) float64   { return p.x*q.x + p.y*q.y }

// box is an upright rectangle.
type box struct{ x0, y0, x1, y1 float64 }

// around is the smallest box about a ring.
func around(ring []point) box {
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range ring {
		b.x0, b.x1 = math.Min(b.x0, p.x), math.Max(b.x1, p.x)
		b.y0, b.y1 = math.Min(b.y0, p.y), math.Max(b.y1, p.y)
	}
	return b
}

// area is the signed area of a ring, counter-clockwise positive.
func area(ring []point) float64 {
	var sum float64
	for i := 1; i+1 < len(ring); i++ {
		sum += ring[i].sub(ring[0]).cross(ring[i+1].sub(ring[0]))
	}
	return sum / 2
}

// perimeter is the length of a ring.
func perimeter(ring []point) float64 {
	var sum float64
	for i, p := range ring {
		d := ring[(i+1)%len(ring)].sub(p)
		sum += math.Hypot(d.x, d.y)
	}
	return sum
}

// clean reads a ring: it drops doubled points and those on a straight run, turns it
// counter-clockwise, and refuses what is not a simple polygon.
func clean(raw [][2]float64) ([]point, error) {
	if len(raw) > maxPoints {
		return nil, fmt.Errorf("%d points are more than %d (thin them out)", len(raw), maxPoints)
	}
	var ring []point
	for i, p := range raw {
		if !finite(p[0]) || !finite(p[1]) || math.Abs(p[0]) > 1000 || math.Abs(p[1]) > 1000 {
			return nil, fmt.Errorf("point %d (%g, %g) is not a place on a boat (write metres)", i+1, p[0], p[1])
		}
		q := point{p[0], p[1]}
		if n := len(ring); n > 0 && ring[n-1] == q {
			continue
		}
		ring = append(ring, q)
	}
	for len(ring) > 1 && ring[0] == ring[len(ring)-1] {
		ring = ring[:len(ring)-1]
	}
	if len(ring) < 3 {
		return nil, fmt.Errorf("it has %d points, a polygon needs three", len(ring))
	}
	if a, b, crossed := crossing(ring); crossed {
		return nil, fmt.Errorf("it crosses or touches itself at (%.4f, %.4f) and (%.4f, %.4f)", a.x, a.y, b.x, b.y)
	}
	a := area(ring)
	if math.Abs(a) < 1e-9 {
		return nil, fmt.Errorf("it has no area")
	}
	if a < 0 {
		reverse(ring)
	}
	return straightened(ring), nil
}

// straightened leaves out points that lie exactly on the line of their neighbours.
func straightened(ring []point) []point {
	var out []point
	for i, p := range ring {
		prev, next := ring[(i+len(ring)-1)%len(ring)], ring[(i+1)%len(ring)]
		if p.sub(prev).cross(next.sub(p)) != 0 {
			out = append(out, p)
		}
	}
	return out
}

// crossing finds two sides of a ring that meet where they should not.
func crossing(ring []point) (a, b point, found bool) {
	n := len(ring)
	for i := range ring {
		p, q := ring[i], ring[(i+1)%n]
		if next := ring[(i+2)%n]; q.sub(p).cross(next.sub(q)) == 0 && q.sub(p).dot(next.sub(q)) < 0 {
			return p, q, true // it turns back on itself
		}
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue
			}
			if r, s := ring[j], ring[(j+1)%n]; meet(p, q, r, s) {
				return p, r, true
			}
		}
	}
	return point{}, point{}, false
}

// meet tells whether two closed segments have a point in common.
func meet(p, q, r, s point) bool {
	d1, d2 := q.sub(p).cross(r.sub(p)), q.sub(p).cross(s.sub(p))
	d3, d4 := s.sub(r).cross(p.sub(r)), s.sub(r).cross(q.sub(r))
	if (d1 > 0) != (d2 > 0) && (d3 > 0) != (d4 > 0) && d1 != 0 && d2 != 0 && d3 != 0 && d4 != 0 {
		return true
	}
	on := func(d float64, a, b, c point) bool {
		return d == 0 && math.Min(a.x, b.x) <= c.x && c.x <= math.Max(a.x, b.x) &&
			math.Min(a.y, b.y) <= c.y && c.y <= math.Max(a.y, b.y)
	}
	return on(d1, p, q, r) || on(d2, p, q, s) || on(d3, r, s, p) || on(d4, r, s, q)
}

// reverse turns a ring the other way round.
func reverse(ring []point) {
	for i, j := 0, len(ring)-1; i < j; i, j = i+1, j-1 {
		ring[i], ring[j] = ring[j], ring[i]
	}
}

// inside tells whether a point lies in a ring; on the edge it may say either.
func inside(ring []point, p point) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.y > p.y) != (b.y > p.y) && p.x < a.x+(b.x-a.x)*(p.y-a.y)/(b.y-a.y) {
			in = !in
		}
	}
	return in
}
