// Package shape turns a boat's measurements into stacks of cuts: the watertight
// envelope (hull and cabins less the wells), the wells, and the compartments.
//
// Where solids overlap, the volume counts once. A well that is open to the sea
// is no part of the envelope; one that is not is a pocket, dry until its rim
// goes under (hydro.Body).
package shape

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/cuts"
	"thole/internal/hydro"
	"thole/internal/model"
)

// Ship is a boat's solids as stacks of cuts. It does not change once built.
type Ship struct {
	Hull   *Solid
	Cabins []*Solid
	Wells  []Well
	Rooms  []Room // one for each compartment of the boat, in the same order
	Body   *hydro.Body
	// Sheer is the deck's edge on the starboard side, from the bow aft.
	Sheer []r3.Vec
	// Tolerance is how well a reading is known, full size, metres.
	Tolerance float64
}

// Well is a solid taken out of the hull.
type Well struct {
	*Solid
	OpenToTheSea bool
}

// Room is a compartment's inside.
type Room struct {
	Stack  *cuts.Stack
	Volume float64 // m³
	Centre r3.Vec
}

// work is the number of vertices that a stack is laid out for: more cuts when each
// is simple, so that a box is cut finely enough to be exact wherever its corners meet the water.
const work = 3600

// order of the quadrature within a panel.
const order = 3

// Build fairs the measurements and makes the stacks.
//
// Error: names the table that no surface could be laid over, and why
func Build(b *model.Boat) (*Ship, error) { return BuildFrom(b, nil, nil) }

// BuildFrom is Build for a boat that differs little from another whose ship there is: what was
// measured alike is not faired again, and one alike in everything that has a shape is that very ship.
func BuildFrom(b, was *model.Boat, ship *Ship) (*Ship, error) {
	if ship != nil && alike(b, was) {
		return ship, nil
	}
	s := &Ship{Tolerance: float64(b.Hull.Tolerance)}
	if b.Hull.FromModel {
		s.Tolerance *= b.Hull.Scale
	}
	var err error
	if ship != nil && s.Tolerance == ship.Tolerance && model.Alike(b.Hull.Readings, was.Hull.Readings) {
		s.Hull = ship.Hull.bare()
	} else if s.Hull, err = newSolid(b.Hull.File, b.Hull.Readings, s.Tolerance); err != nil {
		return nil, err
	}
	s.Hull.camber = float64(b.Camber)
	if b.Hull.Inside {
		s.Hull.skin = float64(b.Hull.Planking)
	}
	for i, c := range b.Cabins {
		var solid *Solid
		if ship != nil && i < len(was.Cabins) && model.Alike(c, was.Cabins[i]) {
			solid = ship.Cabins[i]
		} else if solid, err = newSolid(c.Name, c.Readings, float64(c.Tolerance)); err != nil {
			return nil, err
		}
		s.Cabins = append(s.Cabins, solid)
	}
	for i, w := range b.Wells {
		var solid *Solid
		if ship != nil && i < len(was.Wells) && model.Alike(w.Readings, was.Wells[i].Readings) && w.Name == was.Wells[i].Name {
			solid = ship.Wells[i].Solid
		} else if solid, err = newSolid(w.Name, w.Readings, 0); err != nil {
			return nil, err
		}
		s.Wells = append(s.Wells, Well{solid, w.OpenToTheSea})
	}
	s.layEnvelope()
	for i := range b.Compartments {
		room, err := s.room(b, &b.Compartments[i])
		if err != nil {
			return nil, err
		}
		s.Rooms = append(s.Rooms, room)
	}
	s.Sheer = s.sheer()
	return s, nil
}

// alike tells whether two boats have one shape, inside and out.
func alike(a, b *model.Boat) bool {
	wells := func(all []model.Well) []model.Well {
		out := slices.Clone(all)
		for i := range out {
			out[i].Drains = nil // holes in it, no part of its shape
		}
		return out
	}
	return model.Alike(a.Hull, b.Hull) && a.Camber == b.Camber && model.Alike(a.Cabins, b.Cabins) &&
		model.Alike(wells(a.Wells), wells(b.Wells)) && model.Alike(a.Compartments, b.Compartments)
}

// Section is the watertight outline at x: hull and cabins less the wells.
func (s *Ship) Section(x float64) cuts.Section {
	out := s.closed(x, 0, nil)
	for _, w := range s.Wells {
		out = cuts.Difference(out, w.Section(x, 0))
	}
	return out
}

// closed is the outline of the hull and the cabins that are wanted (all of them when the
// list is nil) with the wells still filled, the hull's skin moved by extra.
func (s *Ship) closed(x, extra float64, want []*Solid) cuts.Section {
	out := s.Hull.Section(x, extra)
	if want == nil {
		want = s.Cabins
	}
	for _, c := range want {
		if other := c.Section(x, 0); len(other) > 0 {
			out = cuts.Union(out, other)
		}
	}
	return out
}

// layEnvelope makes the body that floats.
func (s *Ship) layEnvelope() {
	breaks := append([]float64{s.Hull.From, s.Hull.To}, s.Hull.Surface.Stations()...)
	for _, c := range s.Cabins {
		breaks = append(breaks, c.From, c.To)
	}
	for _, w := range s.Wells {
		breaks = append(breaks, w.From, w.To)
	}
	length := s.Hull.To - s.Hull.From
	sides := len(s.Section((s.Hull.From + s.Hull.To) / 2))
	count := math.Min(math.Max(float64(work/max(sides, 1)), 45), 600)
	f := s.Hull.Surface
	from, to := s.Hull.From, s.Hull.To
	for _, c := range s.Cabins { // a cabin may reach past the hull's end
		from, to = math.Min(from, c.From), math.Max(to, c.To)
	}
	// Stations a usual distance apart are panels enough: twice the step that the count alone would give.
	at := cuts.Along(breaks, 2*length*order/count, order, f.ClosedFore && from == s.Hull.From, f.ClosedAft && to == s.Hull.To)
	nodes := make([]cuts.Node, len(at))
	for i, a := range at {
		nodes[i] = cuts.Node{X: a.X, Weight: a.Weight, Section: s.Section(a.X)}
	}
	s.Body = &hydro.Body{Envelope: cuts.NewStack(nodes, s.faces()...)}
	for i, w := range s.Wells {
		if !w.OpenToTheSea {
			s.Body.Pockets = append(s.Body.Pockets, s.pocket(i, at))
		}
	}
}

// faces are the flat ends that the sea may wet: transoms and cabin ends.
func (s *Ship) faces() []cuts.Node {
	var out []cuts.Node
	if !s.Hull.Surface.ClosedFore {
		out = append(out, cuts.Node{X: s.Hull.From, Section: s.Hull.Section(s.Hull.From, 0)})
	}
	if !s.Hull.Surface.ClosedAft {
		out = append(out, cuts.Node{X: s.Hull.To, Section: s.Hull.Section(s.Hull.To, 0)})
	}
	for _, c := range s.Cabins {
		for _, x := range []float64{c.From, c.To} {
			out = append(out, cuts.Node{X: x, Section: cuts.Difference(c.Section(x, 0), s.Hull.Section(x, 0))})
		}
	}
	return out
}

// pocket is the hull's volume inside a well that the sea does not stand in. Where
// wells overlap (a footwell in a rowing well) the room counts with the first.
func (s *Ship) pocket(i int, at []cuts.Station) hydro.Pocket {
	w := s.Wells[i]
	var nodes []cuts.Node
	var rim []r3.Vec
	for _, a := range at {
		well := w.Section(a.X, 0)
		if len(well) == 0 {
			continue
		}
		room := cuts.Intersection(well, s.closed(a.X, 0, nil))
		for _, o := range s.Wells[:i] {
			room = cuts.Difference(room, o.Section(a.X, 0))
		}
		nodes = append(nodes, cuts.Node{X: a.X, Weight: a.Weight, Section: room})
		edge, deck := w.Edge(a.X), s.Hull.Edge(a.X)
		z := math.Min(edge.Z, deck.Z+s.Hull.crown(deck.Y))
		rim = append(rim, r3.Vec{X: a.X, Y: edge.Y, Z: z}, r3.Vec{X: a.X, Y: -edge.Y, Z: z})
	}
	return hydro.Pocket{Name: w.Name, Stack: cuts.NewStack(nodes), Rim: rim}
}

// sheer samples the deck's edge.
func (s *Ship) sheer() []r3.Vec {
	const steps = 96
	out := make([]r3.Vec, 0, steps+1)
	for i := 0; i <= steps; i++ {
		x := s.Hull.From + float64(i)/steps*(s.Hull.To-s.Hull.From)
		e := s.Hull.Edge(x)
		out = append(out, r3.Vec{X: x, Y: e.Y, Z: e.Z})
	}
	return out
}

// room is the inside of a compartment.
func (s *Ship) room(b *model.Boat, c *model.Compartment) (Room, error) {
	from, to := math.Max(c.From, s.Hull.From), math.Min(c.To, s.Hull.To)
	want := []*Solid{}
	for _, cabin := range s.Cabins {
		if cabin.Name == c.Cabin {
			want = append(want, cabin)
			from, to = math.Max(c.From, math.Min(s.Hull.From, cabin.From)), math.Min(c.To, math.Max(s.Hull.To, cabin.To))
		}
	}
	if to-from < 1e-6 {
		return Room{}, fmt.Errorf("%s:%d: compartment %q lies beyond the boat's ends (%.2f m to %.2f m)", c.Source.File, c.Source.Line, c.Name, s.Hull.From, s.Hull.To)
	}
	inner := 0.0
	if !b.Hull.Inside {
		inner = -float64(b.Hull.Planking)
	} else {
		inner = -s.Hull.skin
	}
	breaks := []float64{from, to}
	add := func(xs ...float64) {
		for _, x := range xs {
			if x > from && x < to {
				breaks = append(breaks, x)
			}
		}
	}
	add(s.Hull.Surface.Stations()...)
	for _, cabin := range want {
		add(cabin.From, cabin.To)
	}
	for _, w := range s.Wells {
		add(w.From, w.To)
	}
	limit := bounds(c)
	var nodes []cuts.Node
	for _, a := range cuts.Along(breaks, 0.5, order, false, false) {
		sec := s.closed(a.X, inner, want)
		for _, w := range s.Wells {
			sec = cuts.Difference(sec, w.Section(a.X, 0))
		}
		nodes = append(nodes, cuts.Node{X: a.X, Weight: a.Weight, Section: cuts.Intersection(sec, limit)})
	}
	st := cuts.NewStack(nodes)
	r := Room{Stack: st, Volume: st.Volume()}
	r.Centre.X, r.Centre.Y, r.Centre.Z = st.Centroid()
	if r.Volume < 1e-6 {
		return Room{}, fmt.Errorf("%s:%d: compartment %q has no room in it: look at its sole, top and side", c.Source.File, c.Source.Line, c.Name)
	}
	return r, nil
}

// bounds are the planes that a compartment lies between, as outlines across.
func bounds(c *model.Compartment) cuts.Section {
	const far = 50.0
	low, high, in, out := -far, far, 0.0, far
	if c.Sole != nil {
		low = *c.Sole
	}
	if c.Top != nil {
		high = *c.Top
	}
	if c.Inboard != nil {
		in = *c.Inboard
	}
	if c.Outboard != nil {
		out = *c.Outboard
	}
	switch {
	case c.Side == model.Starboard:
		return cuts.Rectangle(in, low, out, high)
	case c.Side == model.Port:
		return cuts.Rectangle(-out, low, -in, high)
	case in > 0:
		return append(cuts.Rectangle(in, low, out, high), cuts.Rectangle(-out, low, -in, high)...)
	}
	return cuts.Rectangle(-out, low, out, high)
}
