package heading

import (
	"cmp"
	"fmt"
	"math"
)

// Shape coefficients of things in the wind. Source: IMO MODU Code (2009), ch. 3, table 3-1,
// from memory; the height coefficient of its table 3-2 is 1.0 up to 15.3 m.
const (
	ShapeSphere     = 0.4
	ShapeCylinder   = 0.5  // of all sizes
	ShapeFlat       = 1.0  // hull, deckhouse
	ShapeClustered  = 1.1  // clustered deckhouses
	ShapeRig        = 1.25 // a lattice mast
	ShapeWires      = 1.2
	ShapeBeams      = 1.3 // exposed beams and girders
	ShapeSmallParts = 1.4
	ShapeIsolated   = 1.5 // isolated shapes: crane, beam
)

// A Strip is a piece of what the wind sees from the side or from ahead: so much area at one
// place and height.
type Strip struct {
	Area   float64 // m2
	X      float64 // m aft of station 0; of no use from ahead
	Height float64 // m above the water
}

// A Part is one thing that stands in the wind.
type Part struct {
	Name string
	// Side and Front are its areas seen from the beam and from ahead.
	Side, Front []Strip
	// Shape is its drag coefficient on those areas; Head, from ahead, is Shape where it is 0.
	Shape, Head float64
	// Length is that of a long body, m, along which the centre of pressure shifts to the
	// windward end in an oblique wind; 0 for what is no longer than high.
	Length float64
}

// Plain is a part given by its area, centre and height.
//
// In:     side and front areas m2; x m aft, height m of their centre above the water
func Plain(name string, side, front, x, height, shape, length float64) Part {
	return Part{Name: name, Side: []Strip{{side, x, height}}, Front: []Strip{{front, x, height}}, Shape: shape, Length: length}
}

// Corner is a corner of a side view: x m aft, z m above the water.
type Corner struct{ X, Z float64 }

// PolygonStrips are the strips of a side view drawn as a polygon, cut level every so often.
//
// In:     three corners or more, in either sense, above the water; count of strips
// Out:    strips whose areas and first moments sum to the polygon's to rounding
// Error:  ErrInput
// Source: trapezia between two levels, closed form; clipping by half planes
func PolygonStrips(corners []Corner, count int) ([]Strip, error) {
	if len(corners) < 3 || count < 1 || count > 10000 {
		return nil, fmt.Errorf("%w: a side view of %d corners in %d strips; give three corners or more, and 1 to 10000 strips", ErrInput, len(corners), count)
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range corners {
		if !finite(c.X) || !finite(c.Z) {
			return nil, fmt.Errorf("%w: a corner at (%g, %g); give numbers", ErrInput, c.X, c.Z)
		}
		lo, hi = math.Min(lo, c.Z), math.Max(hi, c.Z)
	}
	var out []Strip
	for i := range count {
		a := lo + (hi-lo)*float64(i)/float64(count)
		b := lo + (hi-lo)*float64(i+1)/float64(count)
		area, mx, mz := centroid(cutAt(cutAt(corners, a, 1), b, -1))
		if area > 0 {
			out = append(out, Strip{area, mx / area, mz / area})
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%w: the side view encloses no area; check its corners", ErrInput)
	}
	return out, nil
}

// cutAt keeps what of a polygon lies above (way 1) or below (-1) a level.
func cutAt(p []Corner, level, way float64) []Corner {
	var out []Corner
	for i, q := range p {
		r := p[(i+1)%len(p)]
		dq, dr := (q.Z-level)*way, (r.Z-level)*way
		if dq >= 0 {
			out = append(out, q)
		}
		if dq*dr < 0 {
			f := dq / (dq - dr)
			out = append(out, Corner{q.X + (r.X-q.X)*f, level})
		}
	}
	return out
}

// centroid is a polygon's area and first moments, whichever way round it runs.
func centroid(p []Corner) (area, mx, mz float64) {
	for i, q := range p {
		r := p[(i+1)%len(p)]
		c := q.X*r.Z - r.X*q.Z
		area += c / 2
		mx += c * (q.X + r.X) / 6
		mz += c * (q.Z + r.Z) / 6
	}
	if area < 0 {
		return -area, -mx, -mz
	}
	return area, mx, mz
}

// check refuses parts that mean nothing.
func (p Part) check() error {
	for _, s := range append(append([]Strip(nil), p.Side...), p.Front...) {
		if err := cmp.Or(
			need("the windage area of "+p.Name, s.Area, 0, 1e4, "give 0 m2 or more"),
			need("the place of "+p.Name, s.X, -1e3, 1e3, "give metres aft of station 0"),
			need("the height of "+p.Name, s.Height, 0, 1e3, "give metres above the water, 0 or more")); err != nil {
			return err
		}
	}
	return cmp.Or(
		need("the shape coefficient of "+p.Name, p.Shape, 0.01, 5, "give one of the table, 0.4 to 1.5"),
		need("the end-on shape coefficient of "+p.Name, p.Head, 0, 5, "give one of the table, or 0 for the same as from the side"),
		need("the length of "+p.Name, p.Length, 0, 1e3, "give 0 m or more"))
}

// Area is the side area and its centre's place and height; nothing for none.
func (p Part) Area() (area, x, height float64) {
	for _, s := range p.Side {
		area += s.Area
		x += s.Area * s.X
		height += s.Area * s.Height
	}
	if area > 0 {
		x, height = x/area, height/area
	}
	return area, x, height
}

// sail is a part made ready: drag areas (shape times area) with the mean square of the
// wind's factor over them, and the arm of the beam force ahead of the origin.
type sail struct {
	side, front float64 // m2
	factor      float64 // root mean square of the gradient over the larger view
	arm         float64
	length      float64
	cross       float64 // half the cross-force parameter times (1 - end-on over beam drag)
}

// ready weighs a part's strips by the square of the wind at their height.
func (p Part) ready(ref float64, g Gradient, c *Coefficients) sail {
	var side, sidew, arm, front, frontw float64
	for _, s := range p.Side {
		f := g.At(s.Height)
		side += s.Area
		sidew += s.Area * f * f
		arm += s.Area * f * f * (ref - s.X)
	}
	for _, s := range p.Front {
		f := g.At(s.Height)
		front += s.Area
		frontw += s.Area * f * f
	}
	head := p.Head
	if head == 0 {
		head = p.Shape
	}
	s := sail{length: p.Length}
	// One factor serves both views; the front's area takes up the difference.
	switch {
	case sidew > 0:
		s.factor = math.Sqrt(sidew / side)
		s.arm = arm / sidew
	case frontw > 0:
		s.factor = math.Sqrt(frontw / front)
	default:
		return s
	}
	s.side = c.Shape * p.Shape * side
	s.front = c.Shape * head * frontw / (s.factor * s.factor)
	if s.side > 0 && p.Length > 0 {
		s.cross = c.Cross / 2 * math.Max(0, 1-s.front/s.side)
	}
	return s
}

// force is the wind's force and moment on a part.
//
// In:     the true wind's velocity (10 m) and the boat's, ahead and to starboard
// Source: Blendermann, J. Wind Eng. Ind. Aerodyn. 51 (1994): CX, CY over 1 - delta/2 (1 - CDl/CDt)
// sin2(2 angle), and the arm s - 0.18 (angle - 90 degrees) of the length; from memory
func (s *sail) force(wa, ws, u, v, halfRho, shift float64) (x, y, n float64) {
	ax, ay := wa*s.factor-u, ws*s.factor-v
	speed := math.Sqrt(ax*ax + ay*ay)
	if speed == 0 {
		return 0, 0, 0
	}
	q := halfRho * speed
	if s.cross > 0 {
		c, d := ax/speed, ay/speed
		q /= 1 - s.cross*4*c*c*d*d
	}
	x, y = q*s.front*ax, q*s.side*ay
	arm := s.arm
	if s.length > 0 {
		// The angle of the bow to where the wind comes from has the cosine -ax / speed.
		arm += shift * s.length * math.Asin(clamp(-ax/speed, -1, 1))
	}
	return x, y, y * arm
}
