package planks

import (
	"fmt"
	"math"
	"slices"

	"thole/internal/fairing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Strip is one strip of a layer.
type Strip struct {
	Number  int // from fore to aft, 1 first
	Stretch int // which stretch between keel, knuckles and sheer it lies on, 0 the lowest
	Flat    Flat
	Length  float64 // of its straight edge
	// Widest and Narrowest are square to the straight edge, the ends' own slant left out: the
	// difference is what is planed off the edge that meets the neighbour.
	Widest, Narrowest float64
	// Angle is between the strip's middle and the fore-and-aft direction in the skin, 0 to π/2.
	Angle float64
	// Offcut is a last piece at an end of the boat, cut to fit, with no straight edge of its own.
	Offcut bool
}

// Layer is one layer of strips over a half skin.
type Layer struct {
	Strips            []Strip
	Width             float64 // of the stock
	Widest, Narrowest float64 // of all strips but offcuts
	// Stock is the length of stock for the half skin, offcuts counted.
	Stock float64
	// Fanned is how far at most a strip's angle has drifted from the one asked for, and
	// FannedAt that strip's number. Past a few degrees a builder starts again from a tapered strip.
	Fanned   float64
	FannedAt int
	// Slivers is how many scraps at the ends, shorter than five widths, are too crooked to lay out.
	Slivers int
}

const (
	stripRows   = 161 // of the mesh along the boat
	stripAcross = 33
	stripPlaces = 33 // rows of a strip laid flat
	stripMost   = 2000
)

// Strips lays one layer of strips of a stock width over a half skin, at an angle to the
// keel. The first lies amidships; on either side of it each next one follows the straightest line over the skin
// (the line along which a strip lies down without being bent edgeways), set off so far from its neighbour that the
// strip is nowhere wider than the stock. Its far edge is straight on the flat; the edge that meets the
// neighbour is spiled. A skin with knuckles gets a set of strips for each stretch between them.
//
// In:     width in metres; angle from the keel in radians, above 0 and under π: to π/2 a strip's upper end
// lies aft of its lower one, past that forward (the next layer)
// Out:    strips with a grid of three points across; ends are cut long to the skin's edge, its corners between two
// strips' ends left out
// Error:  a width or angle out of range; ErrSurface
// Good to: straight lines on the polyhedron of 160 by 32 meshes; on a cylinder within 0.05 % of the helix (TestStripsOnCylinder)
func Strips(surface *fairing.Surface, width, angle float64) (Layer, error) {
	if !(width > 1e-3) || math.IsInf(width, 0) {
		return Layer{}, fmt.Errorf("strips %g m wide: give a width above a millimetre", width)
	}
	if !(angle > 0 && angle < math.Pi) {
		return Layer{}, fmt.Errorf("strips at %.1f° to the keel: give an angle above 0° and under 180°", angle*180/math.Pi)
	}
	k, err := newSkin(surface)
	if err != nil {
		return Layer{}, err
	}
	out := Layer{Width: width, Narrowest: math.Inf(1)}
	for c := range len(k.corners) - 1 {
		grid := k.patch(c, stripRows, stripAcross)
		m := newMesh(grid)
		if len(m.tri) == 0 {
			continue
		}
		l := &layer{mesh: m, width: width, angle: angle, stretch: c}
		strips, err := l.lay(grid[stripRows/2][stripAcross/2])
		if err != nil {
			return Layer{}, err
		}
		out.Strips = append(out.Strips, strips...)
		out.Slivers += l.slivers
	}
	if len(out.Strips) == 0 {
		return Layer{}, ErrSurface
	}
	lean := math.Min(angle, math.Pi-angle)
	for i := range out.Strips {
		s := &out.Strips[i]
		s.Number = i + 1
		out.Stock += s.Flat.Length
		if s.Offcut {
			continue
		}
		out.Widest, out.Narrowest = math.Max(out.Widest, s.Widest), math.Min(out.Narrowest, s.Narrowest)
		if d := math.Abs(s.Angle - lean); d > out.Fanned {
			out.Fanned, out.FannedAt = d, s.Number
		}
	}
	if math.IsInf(out.Narrowest, 1) {
		out.Narrowest = 0
	}
	return out, nil
}

// layer is the strips of one stretch in the making.
type layer struct {
	mesh         *mesh
	width, angle float64
	stretch      int
	slivers      int
}

// lay starts amidships and goes both ways.
func (l *layer) lay(middle r3.Vec) ([]Strip, error) {
	at := l.mesh.inside(middle)
	// the mesh's normals point inwards, along × up; the keel's direction turned towards the sheer
	d := l.mesh.onto(at.tri, r3.Vec{X: 1})
	s, c := math.Sincos(l.angle)
	d = r3.Add(r3.Scale(c, d), r3.Scale(s, l.mesh.across(at.tri, d, 1)))
	first := l.mesh.through(at, d)
	aft, err := l.march(first, -1)
	if err != nil {
		return nil, err
	}
	fore, err := l.march(first, 1)
	if err != nil {
		return nil, err
	}
	slices.Reverse(fore)
	return append(fore, aft...), nil
}

// march lays strips to one side of a line until the skin ends.
func (l *layer) march(edge path, left float64) ([]Strip, error) {
	var out []Strip
	for range stripMost {
		base, room := l.base(&edge, left)
		if room < 1e-3*l.width {
			return out, nil
		}
		if room < l.width*(1-1e-9) {
			if s, ok := l.offcut(&edge, left); ok {
				out = append(out, s)
			} else {
				l.slivers++
			}
			return out, nil
		}
		next := l.next(&edge, base, left)
		if next.length() < 1e-3*l.width {
			return out, nil
		}
		s, err := l.strip(&edge, &next, left)
		switch {
		case err == nil:
			out = append(out, s)
		case next.length() < 5*l.width:
			l.slivers++
		default:
			return nil, err
		}
		edge = next
	}
	return nil, fmt.Errorf("more than %d strips of %.0f mm: give wider ones", stripMost, 1000*l.width)
}

// base is where along an edge the next strip is set off: the middle if there is room for
// a whole strip, or else where there is most.
func (l *layer) base(edge *path, left float64) (s, room float64) {
	for _, f := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9, 0.03, 0.97} {
		at, d := edge.at(f * edge.length())
		q, _, _ := l.mesh.walk(at, l.mesh.across(at.tri, d, left), l.width)
		if r := q.length(); r > room+1e-9 {
			s, room = f*edge.length(), r
		}
		if room >= l.width*(1-1e-9) {
			break
		}
	}
	return s, room
}

// next is the straightest line that runs beside an edge, no farther off than a strip's width.
func (l *layer) next(edge *path, base, left float64) path {
	off := l.width
	var q path
	for range 12 {
		at, d := edge.at(base)
		side, arrived, _ := l.mesh.walk(at, l.mesh.across(at.tri, d, left), off)
		end := side.spots[len(side.spots)-1]
		q = l.mesh.through(end, l.mesh.across(end.tri, arrived, -left))
		most := 0.0
		for i := range stripPlaces {
			p, _ := q.at(q.length() * float64(i) / (stripPlaces - 1))
			if g, _, ok := l.mesh.gap(p, edge); ok {
				most = math.Max(most, g)
			}
		}
		if most <= l.width*(1+1e-4) {
			return q
		}
		off *= l.width / most
	}
	return q
}

// strip takes the piece between two neighbouring edges.
func (l *layer) strip(edge, next *path, left float64) (Strip, error) {
	s := Strip{Stretch: l.stretch, Length: next.length(), Narrowest: math.Inf(1)}
	var grid [][]r3.Vec
	for i := range stripPlaces {
		f := float64(i) / (stripPlaces - 1)
		a, _ := edge.at(f * edge.length())
		b, d := next.at(f * next.length())
		if i == stripPlaces/2 {
			s.Angle = between(d, l.mesh.onto(b.tri, r3.Vec{X: 1}))
			s.Angle = math.Min(s.Angle, math.Pi-s.Angle)
		}
		if g, _, ok := l.mesh.gap(b, edge); ok {
			s.Widest, s.Narrowest = math.Max(s.Widest, g), math.Min(s.Narrowest, g)
		}
		grid = append(grid, l.row(a, b, left))
	}
	if math.IsInf(s.Narrowest, 1) {
		s.Narrowest = 0
	}
	f, err := Expand(grid)
	if err != nil {
		return Strip{}, fmt.Errorf("a strip %.2f m long: %w", s.Length, err)
	}
	s.Flat = f
	return s, nil
}

// row is three points of the skin from one edge to the other, the strip's lower edge (to
// the right of its run) first.
func (l *layer) row(a, b spot, left float64) []r3.Vec {
	chord := r3.Sub(b.p, a.p)
	mid := mix(a.p, b.p, 0.5)
	if r3.Norm(chord) > 1e-9 {
		// the middle one is stood off the chord as far as a circle through both ends with their slopes stands
		half := between(l.mesh.normal[a.tri], l.mesh.normal[b.tri]) / 2
		out := unit(r3.Add(l.mesh.normal[a.tri], l.mesh.normal[b.tri]))
		sag := r3.Norm(chord) / 2 * math.Tan(half/2)
		if r3.Dot(r3.Sub(l.mesh.normal[b.tri], l.mesh.normal[a.tri]), chord) < 0 {
			sag = -sag // normals point inwards: they close on a round skin, whose arc is outside the chord
		}
		mid = r3.Add(mid, r3.Scale(sag, out))
	}
	if left > 0 {
		return []r3.Vec{a.p, mid, b.p}
	}
	return []r3.Vec{b.p, mid, a.p}
}

// offcut is what is left between the last edge and the end of the skin.
func (l *layer) offcut(edge *path, left float64) (Strip, bool) {
	s := Strip{Stretch: l.stretch, Offcut: true, Length: edge.length()}
	var grid [][]r3.Vec
	for i := range stripPlaces {
		// a hair inside the ends, where there is still skin to either side
		f := 1e-3 + (1-2e-3)*float64(i)/(stripPlaces-1)
		a, d := edge.at(f * edge.length())
		q, _, _ := l.mesh.walk(a, l.mesh.across(a.tri, d, left), l.width)
		b := q.spots[len(q.spots)-1]
		s.Widest = math.Max(s.Widest, q.length())
		if i == stripPlaces/2 {
			s.Angle = between(d, l.mesh.onto(a.tri, r3.Vec{X: 1}))
			s.Angle = math.Min(s.Angle, math.Pi-s.Angle)
		}
		grid = append(grid, l.row(a, b, left))
	}
	f, err := Expand(grid)
	if err != nil { // a sliver
		return s, false
	}
	s.Flat = f
	return s, true
}
