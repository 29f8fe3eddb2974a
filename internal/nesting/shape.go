package nesting

import (
	"fmt"
	"math"
)

// orient is one of the eight ways to lay a part: turned by a quarter or not, then
// mirrored in either axis by a sign. Signs alone make half turns and flips.
type orient struct {
	turned bool
	sx, sy float64
}

// upright is a part as it was drawn.
var upright = orient{sx: 1, sy: 1}

// quarter is the way of lying after a flip across the x axis and q quarter turns.
func quarter(q int, flip bool) orient {
	o := orient{turned: q%2 == 1, sx: 1, sy: 1}
	if q >= 2 {
		o.sx, o.sy = -1, -1
	}
	if flip && o.turned {
		o.sx = -o.sx
	} else if flip {
		o.sy = -o.sy
	}
	return o
}

// apply lays a point.
func (o orient) apply(p point) point {
	if o.turned {
		p = point{-p.y, p.x}
	}
	return point{o.sx * p.x, o.sy * p.y}
}

// lay lays a ring and keeps it counter-clockwise.
func (o orient) lay(ring []point) []point {
	out := make([]point, len(ring))
	for i, p := range ring {
		out[i] = o.apply(p)
	}
	if o.sx*o.sy < 0 {
		reverse(out)
	}
	return out
}

// pose is a way of lying that a shape may take, with its box there.
type pose struct {
	orient
	quarter int
	flip    bool
	box     box
}

// shape is a part made ready: rings clean and counter-clockwise.
type shape struct {
	name  string
	ring  []point
	wide  []point // the ring, wider by the gap
	holes [][]point
	box   box
	area  float64 // holes taken off
	poses []pose  // those allowed, each different from the others
}

// prepare checks every part and makes its shape.
func prepare(parts []Part, stock Stock) ([]*shape, error) {
	var shapes []*shape
	copies := 0
	for i, p := range parts {
		s, err := p.shape(stock)
		if err != nil {
			return nil, fmt.Errorf("part %d %q: %w", i+1, p.Name, err)
		}
		if copies += p.Count; copies > maxCopies {
			return nil, fmt.Errorf("part %d %q: more than %d pieces in all (lay them in lots)", i+1, p.Name, maxCopies)
		}
		shapes = append(shapes, s)
	}
	return shapes, nil
}

// shape checks one part.
func (p Part) shape(stock Stock) (*shape, error) {
	if p.Count < 0 || p.Count > maxCopies {
		return nil, fmt.Errorf("count %d (write 0 to %d)", p.Count, maxCopies)
	}
	if p.Grain != Any && p.Grain != Along {
		return nil, fmt.Errorf("grain %d is neither Any nor Along", p.Grain)
	}
	if !finite(p.Thickness) || p.Thickness < 0 {
		return nil, fmt.Errorf("thickness %g m", p.Thickness)
	}
	if p.Thickness > 0 && stock.Thickness > 0 && math.Abs(p.Thickness-stock.Thickness) > 1e-5 {
		return nil, fmt.Errorf("it is %g mm thick and the sheet %g mm (lay each thickness by itself)",
			p.Thickness*1000, stock.Thickness*1000)
	}
	ring, err := clean(p.Outline)
	if err != nil {
		return nil, fmt.Errorf("outline: %w", err)
	}
	s := &shape{name: p.Name, ring: ring, wide: widened(ring, stock.Gap), box: around(ring), area: area(ring)}
	for i, raw := range p.Holes {
		hole, err := clean(raw)
		if err != nil {
			return nil, fmt.Errorf("hole %d: %w", i+1, err)
		}
		if err := s.open(hole); err != nil {
			return nil, fmt.Errorf("hole %d: %w", i+1, err)
		}
	}
	s.poses = poses(p, s)
	return s, nil
}

// open cuts a hole that lies within the outline and clear of the other holes.
func (s *shape) open(hole []point) error {
	for i, p := range hole {
		q := hole[(i+1)%len(hole)]
		for _, ring := range append([][]point{s.ring}, s.holes...) {
			for k, r := range ring {
				if meet(p, q, r, ring[(k+1)%len(ring)]) {
					return fmt.Errorf("it meets the outline or another hole near (%.4f, %.4f)", p.x, p.y)
				}
			}
		}
	}
	if !inside(s.ring, hole[0]) {
		return fmt.Errorf("it lies outside the outline")
	}
	for _, h := range s.holes {
		if inside(h, hole[0]) || inside(hole, h[0]) {
			return fmt.Errorf("it lies within another hole")
		}
	}
	s.holes = append(s.holes, hole)
	s.area -= area(hole)
	return nil
}

// poses lists the ways a part may lie, leaving out those that look the same.
func poses(p Part, s *shape) []pose {
	var out []pose
	var seen [][][]point
	for _, flip := range []bool{false, true} {
		for q := range 4 {
			if flip && !p.MayFlip || p.Grain == Along && q%2 == 1 {
				continue
			}
			o := quarter(q, flip)
			rings := [][]point{o.lay(s.ring)}
			for _, h := range s.holes {
				rings = append(rings, o.lay(h))
			}
			same := false
			for _, old := range seen {
				same = same || alike(old, rings)
			}
			if !same {
				seen = append(seen, rings)
				out = append(out, pose{o, q, flip, around(rings[0])})
			}
		}
	}
	return out
}

// alike tells whether two sets of rings are the same but for a shift. It may miss some
// likeness, which costs time and nothing else.
func alike(a, b [][]point) bool {
	p, q := around(a[0]), around(b[0])
	shift := point{q.x0 - p.x0, q.y0 - p.y0}
	for k := range a {
		n := len(a[k])
		start := -1
		for i, v := range b[k] {
			if near(a[k][0].add(shift), v) {
				start = i
			}
		}
		if start < 0 {
			return false
		}
		for i, v := range a[k] {
			if !near(v.add(shift), b[k][(start+i)%n]) {
				return false
			}
		}
	}
	return true
}

// near tells whether two points are one, to a nanometre.
func near(a, b point) bool { return math.Abs(a.x-b.x) < 1e-9 && math.Abs(a.y-b.y) < 1e-9 }
