package earth

import "math"

// Line is how one place lies from another: a distance in m, the course at the start and
// the course at the end, both in the direction of travel.
type Line struct {
	Distance   float64
	Start, End float64
}

// Inverse is the shortest line from one place to another.
//
// Error:  ErrInput
// Good to: 1.5e-8 m on the earth. Between places exactly opposite more than one line is
// shortest and one of them is given; where the distance is 0 the courses mean nothing.
// Source: Karney, "Algorithms for geodesics", J. Geodesy 87 (2013), by tidwall/geodesic
func (e *Ellipsoid) Inverse(from, to Place) (Line, error) {
	if err := places(from, to); err != nil {
		return Line{}, err
	}
	return e.inverse(from, to), nil
}

// inverse is Inverse between places already found to be places.
func (e *Ellipsoid) inverse(from, to Place) Line {
	var s, a1, a2 float64
	lat1, lon1 := from.degrees()
	lat2, lon2 := to.degrees()
	e.g.Inverse(lat1, lon1, lat2, lon2, &s, &a1, &a2)
	return Line{s, Turn(a1 * math.Pi / 180), Turn(a2 * math.Pi / 180)}
}

// Direct is the place at a distance in m along the shortest line that starts on a
// course, and the course there. A negative distance goes backward.
//
// Error:  ErrInput
// Good to: 1.5e-8 m on the earth
// Source: as Inverse
func (e *Ellipsoid) Direct(from Place, course, distance float64) (Place, float64, error) {
	if err := first(from.Check(), finite("the course", course), finite("the distance", distance)); err != nil {
		return Place{}, 0, err
	}
	to, end := e.direct(from, course, distance)
	return to, end, nil
}

func (e *Ellipsoid) direct(from Place, course, distance float64) (Place, float64) {
	var lat, lon, a float64
	lat1, lon1 := from.degrees()
	e.g.Direct(lat1, lon1, course*180/math.Pi, distance, &lat, &lon, &a)
	p := Degrees(lat, lon)
	return Place{p.Lat, Half(p.Lon)}, Turn(a * math.Pi / 180)
}

// degrees is Degrees with the latitude kept within the poles, past which rounding may
// take it by a hair and the library would answer with nothing.
func (p Place) degrees() (lat, lon float64) {
	lat, lon = p.Degrees()
	return math.Max(-90, math.Min(90, lat)), lon
}

// places is the first fault of some places.
func places(all ...Place) error {
	for _, p := range all {
		if err := p.Check(); err != nil {
			return err
		}
	}
	return nil
}

// first is the first of some errors that is one.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
