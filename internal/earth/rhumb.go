package earth

import (
	"fmt"
	"math"
)

// steep is the change of latitude, as a share of the distance from the pole (of a radian
// at most), under which stretched latitude and the meridian's length are integrated
// instead of taken from differences, which cancel. Modelling choice: at this step both
// hold eleven figures or more.
const steep = 0.05

// gentle says that two latitudes lie nearer than steep.
func gentle(a, b float64) bool {
	colatitude := math.Pi/2 - math.Max(math.Abs(a), math.Abs(b))
	return math.Abs(b-a) < steep*math.Min(1, colatitude)
}

// Rhumb is the line of one constant course from one place to another, the shorter way
// round. To or from a pole it is the meridian.
//
// Error:  ErrInput
// Good to: 1e-6 m against RhumbSolve (TestRhumbAgainstGeographicLib)
// Source: Karney, "The area of rhumb polygons", Stud. Geophys. Geod. 68 (2024); closed
// forms of the isometric and rectifying latitudes
func (e *Ellipsoid) Rhumb(from, to Place) (Line, error) {
	if err := places(from, to); err != nil {
		return Line{}, err
	}
	up := e.meridian(to.Lat) - e.meridian(from.Lat)
	if polar(from.Lat) || polar(to.Lat) {
		course := 0.
		if up < 0 {
			course = math.Pi
		}
		return Line{math.Abs(up), course, course}, nil
	}
	if gentle(from.Lat, to.Lat) {
		up = e.along(from.Lat, to.Lat-from.Lat)
	}
	across := Half(to.Lon-from.Lon) / e.ratio(from.Lat, to.Lat)
	course := Turn(math.Atan2(across, up))
	return Line{math.Hypot(across, up), course, course}, nil
}

// RhumbDirect is the place at a distance in m along a constant course. A negative
// distance goes backward.
//
// Error:  ErrInput; ErrPole, naming the distance at which the pole is reached
// Good to: 1e-6 m against RhumbSolve
// Source: as Rhumb
func (e *Ellipsoid) RhumbDirect(from Place, course, distance float64) (Place, error) {
	if err := first(from.Check(), finite("the course", course), finite("the distance", distance)); err != nil {
		return Place{}, err
	}
	sin, cos := math.Sincos(course)
	start := e.meridian(from.Lat)
	if end := start + distance*cos; math.Abs(end) > e.quarter*(1+1e-15) {
		to := (math.Copysign(e.quarter, end) - start) / cos
		return Place{}, fmt.Errorf("%w: it ends there after %.0f m, short of the %.0f m asked for", ErrPole, to, distance)
	}
	lat := e.latitude(start + distance*cos)
	if polar(from.Lat) || polar(lat) {
		return Place{math.Max(-math.Pi/2, math.Min(math.Pi/2, lat)), Half(from.Lon)}, nil
	}
	return Place{lat, Half(from.Lon + distance*sin*e.ratio(from.Lat, lat))}, nil
}

// polar says that a latitude is a pole, to rounding.
func polar(lat float64) bool { return math.Abs(lat) >= math.Pi/2-1e-12 }

// ratio is radians of stretched latitude a metre of meridian, between two latitudes:
// one over the radius of a mean parallel.
func (e *Ellipsoid) ratio(a, b float64) float64 {
	if !gentle(a, b) {
		return (e.stretched(b) - e.stretched(a)) / (e.meridian(b) - e.meridian(a))
	}
	var up, along float64
	for i, x := range gaussX {
		north, east := e.Scale(a + (b-a)*x)
		along += gaussW[i] * north
		up += gaussW[i] * north / east
	}
	return up / along
}

// along is the meridian's length over a short step of latitude.
func (e *Ellipsoid) along(lat, d float64) float64 {
	var sum float64
	for i, x := range gaussX {
		north, _ := e.Scale(lat + d*x)
		sum += gaussW[i] * north
	}
	return sum * d
}

// Gauss-Legendre with five points on 0 to 1.
//
// Source: Abramowitz & Stegun, table 25.4
var (
	gaussX = [5]float64{0.5 - 0.9061798459386640/2, 0.5 - 0.5384693101056831/2, 0.5, 0.5 + 0.5384693101056831/2, 0.5 + 0.9061798459386640/2}
	gaussW = [5]float64{0.2369268850561891 / 2, 0.4786286704993665 / 2, 0.5688888888888889 / 2, 0.4786286704993665 / 2, 0.2369268850561891 / 2}
)
