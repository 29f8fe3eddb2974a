package voyages

import "math"

// vector is a point of the unit sphere, or a direction at one.
type vector struct{ x, y, z float64 }

func (a vector) dot(b vector) float64      { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vector) minus(b vector) vector     { return vector{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vector) plus(b vector) vector      { return vector{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vector) times(k float64) vector    { return vector{a.x * k, a.y * k, a.z * k} }
func (a vector) unit() vector              { return a.times(1 / math.Sqrt(a.dot(a))) }
func (a vector) lat() float64              { return math.Atan2(a.z, math.Sqrt(a.x*a.x+a.y*a.y)) }
func (a vector) lon() float64              { return math.Atan2(a.y, a.x) }
func (a vector) place() Place              { return Place{a.lat(), a.lon()} }
func (a vector) chord(b vector) float64    { d := a.minus(b); return math.Sqrt(d.dot(d)) }
func (a vector) distance(b vector) float64 { return 2 * Radius * math.Asin(math.Min(1, a.chord(b)/2)) }
func (a vector) axes() (east, north vector) { // not at a pole
	c := math.Sqrt(a.x*a.x + a.y*a.y)
	east = vector{-a.y / c, a.x / c, 0}
	north = vector{-a.z * east.y, a.z * east.x, c}
	return
}

// toVector is the unit vector of a place.
func toVector(p Place) vector {
	sp, cp := math.Sincos(p.Lat)
	sl, cl := math.Sincos(p.Lon)
	return vector{cp * cl, cp * sl, sp}
}

// onward is the point after going by a displacement, m, at a point: along the great circle, its
// length as the tangent's for a step that is short against the earth (30 km errs by 0.2 m).
func (a vector) onward(d vector) vector { return a.plus(d.times(1 / Radius)).unit() }

// Distance is the way between two places on the sphere, m.
func Distance(a, b Place) float64 { return toVector(a).distance(toVector(b)) }
