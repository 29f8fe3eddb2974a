package nesting

import (
	"fmt"
	"math"
	"sort"
)

// tolerance is how much clearance may be short of the gap, in metres; overlap may be so
// thin a film all along a part, times a fiftieth.
const tolerance = 1e-6

// Fault is what is wrong with a layout.
type Fault struct {
	Placement, Other int // places in the list that was checked; Other is -1 where there is none
	Text             string
}

// String is the fault in words.
func (f Fault) String() string { return f.Text }

// Check measures a layout with the parts' real polygons, by other means than those it was
// made with: the area that two parts share, summed exactly between the heights at which
// anything begins, ends or crosses, and the least distance of their sides.
//
// Good to: a micrometre of clearance, a film of 0.02 micrometres of overlap
func Check(parts []Part, stock Stock, placements []Placement) []Fault {
	var faults []Fault
	seen := map[[2]int]bool{}
	solids := make([]*solid, len(placements))
	for i, p := range placements {
		s, err := p.solid(parts)
		if err == nil && seen[[2]int{p.Part, p.Copy}] {
			err = fmt.Errorf("%s lies there twice", p.named(parts))
		}
		if err != nil {
			faults = append(faults, Fault{i, -1, err.Error()})
			continue
		}
		seen[[2]int{p.Part, p.Copy}] = true
		solids[i] = s
		m := stock.Margin
		over := max(m-s.box.x0, m-s.box.y0, s.box.x1-(stock.Length-m), s.box.y1-(stock.Width-m))
		if over > tolerance {
			faults = append(faults, Fault{i, -1, fmt.Sprintf("%s reaches %.1f mm beyond the usable part of sheet %d",
				p.named(parts), over*1000, p.Sheet+1)})
		}
	}
	for i, a := range solids {
		for k := i + 1; k < len(solids); k++ {
			if b := solids[k]; a != nil && b != nil && placements[i].Sheet == placements[k].Sheet {
				if shared, short, clash := a.clash(b, stock.Gap); clash {
					faults = append(faults, Fault{i, k, clashText(placements[i].named(parts), placements[k].named(parts),
						placements[i].Sheet, shared, short)})
				}
			}
		}
	}
	return faults
}

func clashText(a, b string, sheet int, shared, short float64) string {
	if shared > 0 {
		return fmt.Sprintf("%s and %s overlap by %.1f cm2 on sheet %d", a, b, shared*1e4, sheet+1)
	}
	return fmt.Sprintf("%s and %s lie %.2f mm nearer than the gap on sheet %d", a, b, short*1000, sheet+1)
}

// named is a placement's part and copy, as said to the person.
func (p Placement) named(parts []Part) string {
	part := parts[p.Part]
	if part.Count > 1 {
		return fmt.Sprintf("%q (%d of %d)", part.Name, p.Copy+1, part.Count)
	}
	return fmt.Sprintf("%q", part.Name)
}

// solid is the placed part, from the outline as it was given.
func (p Placement) solid(parts []Part) (*solid, error) {
	if p.Part < 0 || p.Part >= len(parts) {
		return nil, fmt.Errorf("a placement names part %d of %d", p.Part+1, len(parts))
	}
	if p.Copy < 0 || p.Copy >= parts[p.Part].Count {
		return nil, fmt.Errorf("%q: copy %d of %d", parts[p.Part].Name, p.Copy+1, parts[p.Part].Count)
	}
	if p.Sheet < 0 || p.Sheet >= maxSheets || !finite(p.X) || !finite(p.Y) || !finite(p.Angle) {
		return nil, fmt.Errorf("%s: sheet %d at (%g, %g) turned %g is not a place", p.named(parts), p.Sheet+1, p.X, p.Y, p.Angle)
	}
	rings := make([][]point, 0, 1+len(parts[p.Part].Holes))
	for _, raw := range append([][][2]float64{parts[p.Part].Outline}, parts[p.Part].Holes...) {
		rings = append(rings, p.lay(raw))
	}
	return newSolid(rings), nil
}

// lay moves a ring to its place; quarter turns are exact.
func (p Placement) lay(raw [][2]float64) []point {
	sin, cos := math.Sincos(p.Angle)
	if q, ok := quarters(p.Angle); ok {
		sin, cos = [4]float64{0, 1, 0, -1}[q], [4]float64{1, 0, -1, 0}[q]
	}
	ring := make([]point, len(raw))
	for i, v := range raw {
		x, y := v[0], v[1]
		if p.Flip {
			y = -y
		}
		ring[i] = point{cos*x - sin*y + p.X, sin*x + cos*y + p.Y}
	}
	return ring
}

// quarters is an angle in quarter turns, 0 to 3, if it is so many.
func quarters(angle float64) (int, bool) {
	q := angle / (math.Pi / 2)
	n := math.Round(q)
	return int(math.Mod(n, 4)+4) % 4, math.Abs(q-n) < 1e-9
}

// solid is a placed part as sides, holes among them: inside is where a line has crossed
// an odd number.
type solid struct {
	sides [][2]point
	box   box
	round float64 // length of all sides
}

func newSolid(rings [][]point) *solid {
	s := &solid{box: around(rings[0])}
	for _, ring := range rings {
		s.round += perimeter(ring)
		for i, p := range ring {
			s.sides = append(s.sides, [2]point{p, ring[(i+1)%len(ring)]})
		}
	}
	return s
}

// clash measures the area that two solids share and by how much they are nearer than
// the gap, and tells whether either is more than rounding.
func (s *solid) clash(o *solid, gap float64) (shared, short float64, clash bool) {
	reach := gap + tolerance
	if s.box.x0 > o.box.x1+reach || o.box.x0 > s.box.x1+reach || s.box.y0 > o.box.y1+reach || o.box.y0 > s.box.y1+reach {
		return 0, 0, false
	}
	if a := s.shared(o); a > tolerance/50*math.Min(s.round, o.round) {
		return a, 0, true
	}
	if gap == 0 {
		return 0, 0, false
	}
	short = gap - s.distance(o, gap)
	return 0, short, short > tolerance
}

// shared is the area of the intersection. Between two neighbouring heights at which a
// side begins, ends or crosses another one its width is linear.
func (s *solid) shared(o *solid) float64 {
	lo, hi := math.Max(s.box.y0, o.box.y0), math.Min(s.box.y1, o.box.y1)
	if hi <= lo {
		return 0
	}
	heights := []float64{lo, hi}
	add := func(y float64) {
		if y > lo && y < hi {
			heights = append(heights, y)
		}
	}
	for _, a := range s.sides {
		add(a[0].y)
	}
	for _, b := range o.sides {
		add(b[0].y)
		bb := around(b[:])
		for _, a := range s.sides {
			if ab := around(a[:]); ab.x1 < bb.x0 || ab.x0 > bb.x1 || ab.y1 < bb.y0 || ab.y0 > bb.y1 {
				continue
			}
			u, v := a[1].sub(a[0]), b[1].sub(b[0])
			if d := u.cross(v); d != 0 {
				if t := b[0].sub(a[0]).cross(v) / d; t >= 0 && t <= 1 {
					add(a[0].y + t*u.y)
				}
			}
		}
	}
	sort.Float64s(heights)
	var sum float64
	for i := 1; i < len(heights); i++ {
		if y0, y1 := heights[i-1], heights[i]; y1 > y0 {
			sum += (y1 - y0) * common(s.chords((y0+y1)/2), o.chords((y0+y1)/2))
		}
	}
	return sum
}

// chords are where a solid begins and ends along a height, in order.
func (s *solid) chords(y float64) []float64 {
	var xs []float64
	for _, e := range s.sides {
		if (e[0].y > y) != (e[1].y > y) {
			xs = append(xs, e[0].x+(e[1].x-e[0].x)*(y-e[0].y)/(e[1].y-e[0].y))
		}
	}
	sort.Float64s(xs)
	return xs
}

// common is the length that two lists of chords share.
func common(a, b []float64) float64 {
	var sum float64
	for i, k := 0, 0; i+1 < len(a) && k+1 < len(b); {
		if d := math.Min(a[i+1], b[k+1]) - math.Max(a[i], b[k]); d > 0 {
			sum += d
		}
		if a[i+1] < b[k+1] {
			i += 2
		} else {
			k += 2
		}
	}
	return sum
}

// distance is the least distance of two solids' sides, as far as it is below enough.
func (s *solid) distance(o *solid, enough float64) float64 {
	least := enough
	for _, a := range s.sides {
		ab := around(a[:])
		if ab.x0 > o.box.x1+least || o.box.x0 > ab.x1+least || ab.y0 > o.box.y1+least || o.box.y0 > ab.y1+least {
			continue
		}
		for _, b := range o.sides {
			bb := around(b[:])
			if ab.x0 > bb.x1+least || bb.x0 > ab.x1+least || ab.y0 > bb.y1+least || bb.y0 > ab.y1+least {
				continue
			}
			if meet(a[0], a[1], b[0], b[1]) {
				return 0
			}
			least = min(least, reach(a, b[0]), reach(a, b[1]), reach(b, a[0]), reach(b, a[1]))
		}
	}
	return least
}

// reach is the distance from a point to a side.
func reach(side [2]point, p point) float64 {
	d, v := side[1].sub(side[0]), p.sub(side[0])
	t := 0.0
	if n := d.dot(d); n > 0 {
		t = math.Max(0, math.Min(1, v.dot(d)/n))
	}
	return math.Hypot(v.x-t*d.x, v.y-t*d.y)
}
