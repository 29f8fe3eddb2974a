package rowing

import "math"

// oarline is one oar in one water: everything that follows from the angle alone.
type oarline struct {
	gate        Point
	side        float64
	water       Water
	onGate      float64 // the water's height at the gate
	hand, blade float64 // arms from the pin
	cover       float64 // depth of the blade's middle in the drive, along z
	steep       float64 // of the water
	heel, trim  float64 // tangents
}

// line lays an oar of a set-up in its gate.
func (s Setup) line(w Water, side Side) oarline {
	g := Point{s.Gate.X, s.Gate.Half, s.Gate.Z}.mirrored(side)
	steep := w.steep()
	return oarline{gate: g, side: float64(side), water: w, onGate: w.height(g.X, g.Y), steep: steep,
		heel: math.Tan(w.Heel), trim: math.Tan(w.Trim),
		hand: s.Oar.HandArm(), blade: s.Oar.BladeArm(), cover: (s.Oar.Width/2 + s.Habits.Cover) * steep}
}

// elevation is the angle by which the handle stands above the blade, when the blade's
// middle is so deep (along z) under the water; ok is false where no angle puts it there.
//
// Formula: with k the rise of the water along the oar in plan, arm (sin e + k cos e) = gate
// above water + depth, exact for any heel and trim. For a level boat the handle's height is
// gate + hand arm / blade arm × (gate above the water + depth): the lever.
func (o *oarline) elevation(angle, depth float64) (e float64, ok bool) {
	k := 0.0
	if o.heel != 0 || o.trim != 0 {
		sin, cos := math.Sincos(angle)
		k = o.side*cos*o.heel - sin*o.trim
	}
	sine := (o.gate.Z - o.onGate + depth) / (o.blade * math.Sqrt(1+k*k))
	return math.Asin(clamp(sine, -1, 1)) - math.Atan(k), between(sine, -1, 1)
}

// at is a point of the oar so far inboard of the pin (outboard negative); angle is the
// handle's, aft of square to the boat.
func (o *oarline) at(angle, e, inboard float64) Point {
	rise, c := math.Sincos(e)
	sin, cos := math.Sincos(angle)
	c *= inboard
	return Point{o.gate.X + c*sin, o.gate.Y - o.side*c*cos, o.gate.Z + rise*inboard}
}

// drive is the hand with the blade buried.
func (o *oarline) drive(angle float64) Point {
	e, _ := o.elevation(angle, o.cover)
	return o.at(angle, e, o.hand)
}

// above is the hand with the feathered blade so far above the water.
func (o *oarline) above(angle, air float64) Point {
	e, _ := o.elevation(angle, -air*o.steep)
	return o.at(angle, e, o.hand)
}

// strikes is the least air between the oar's shaft and the boat's edges on its own side at an angle and
// elevation, and which edge; infinite where it crosses none.
func (s *Setup) strikes(o *oarline, angle, e float64) (air float64, edge int) {
	air, edge = math.Inf(1), -1
	sin, cos := math.Sincos(angle)
	dx, dy := -sin, o.side*cos // outboard, in plan
	slope := -math.Tan(e)
	inner, outer := -s.Oar.Inner()*math.Cos(e), (s.Oar.Length-s.Oar.Inner())*math.Cos(e)
	under := s.Oar.radius() / math.Cos(e)
	for i := range s.Edges {
		points := s.Edges[i].Points
		for j := 1; j < len(points); j++ {
			p, q := &points[j-1], &points[j]
			ex, ey := q.X-p.X, o.side*(q.Y-p.Y)
			det := dx*ey - dy*ex
			if det == 0 {
				continue // along the edge: it crosses it nowhere
			}
			px, py := p.X-o.gate.X, o.side*p.Y-o.gate.Y
			along, share := (px*ey-py*ex)/det, (px*dy-py*dx)/det
			if !between(share, 0, 1) || !between(along, inner, outer) {
				continue
			}
			if a := o.gate.Z + slope*along - under - (p.Z + share*(q.Z-p.Z)); a < air {
				air, edge = a, i
			}
		}
	}
	return air, edge
}
