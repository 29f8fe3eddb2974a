package shape

import (
	"math"

	"thole/internal/model"
)

// Within tells whether a place lies in a compartment: by name, or a point between the planes that the
// compartment is written between and within its inside's box. A point on the centre line lies in both sides' compartments.
func (s *Ship) Within(b *model.Boat, p model.Place, i int) bool {
	if p.None {
		return false
	}
	if p.Compartment >= 0 {
		return p.Compartment == i
	}
	c := &b.Compartments[i]
	lo, hi := s.Rooms[i].Stack.Box()
	at := p.At
	switch {
	case at.X < c.From || at.X > c.To, at.Y < lo[1] || at.Y > hi[1], at.Z < lo[2] || at.Z > hi[2],
		c.Side == model.Port && at.Y > 0, c.Side == model.Starboard && at.Y < 0,
		c.Inboard != nil && math.Abs(at.Y) < *c.Inboard, c.Outboard != nil && math.Abs(at.Y) > *c.Outboard:
		return false
	}
	return true
}
