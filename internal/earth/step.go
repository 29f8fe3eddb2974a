package earth

import "math"

// Stepper moves a boat by metres north and east, fast: it looks the scales of latitude
// and longitude up in a table. It is made once and may be used by many at a time.
type Stepper struct {
	e     *Ellipsoid
	table []scales
}

// scales are one over Ellipsoid.Scale at a latitude.
type scales struct{ north, east float64 }

// The table's step in radians, and the latitude past which steps are made along the
// geodesic, in full, because a degree of longitude changes too fast there.
// Modelling choices: they give the accuracy that Move states.
const (
	tableStep = math.Pi / 180 / 16
	tableEnd  = 85 * math.Pi / 180
)

// Stepper makes the table.
func (e *Ellipsoid) Stepper() *Stepper {
	s := &Stepper{e: e, table: make([]scales, int(tableEnd/tableStep)+3)}
	for i := range s.table {
		north, east := e.Scale(float64(i) * tableStep)
		s.table[i] = scales{1 / north, 1 / east}
	}
	return s
}

// Move is the place reached from p by so many metres north and east, along one course.
//
// In:     a place that Check finds nothing wrong with; metres, at most 50 km in all (an
// hour's or a day's row). It does not check.
// Good to: between 70 S and 70 N, for a step of d metres, 2e-6 d + 2e-14 d cubed
// (2 cm in 10 km, of which the cube is a mid-latitude step's own error) against
// RhumbDirect (TestMove); to 85 degrees ten times that; past it the step follows the
// geodesic that starts on the course, and runs over the pole as one would.
func (s *Stepper) Move(p Place, north, east float64) Place {
	if math.Abs(p.Lat) > tableEnd-0.01 {
		q, _ := s.e.direct(p, math.Atan2(east, north), math.Hypot(north, east))
		return q
	}
	perNorth, _ := s.scale(p.Lat)
	perNorth, perEast := s.scale(p.Lat + 0.5*north*perNorth)
	q := Place{p.Lat + north*perNorth, p.Lon + east*perEast}
	if q.Lon < -math.Pi || q.Lon >= math.Pi {
		q.Lon = Half(q.Lon)
	}
	return q
}

// Between is how many metres north and east one place lies from another, by the scales
// at the middle latitude: Move the other way round, for places near one another and
// within 85 degrees of the equator.
func (s *Stepper) Between(p, q Place) (north, east float64) {
	perNorth, perEast := s.scale((p.Lat + q.Lat) / 2)
	return (q.Lat - p.Lat) / perNorth, Half(q.Lon-p.Lon) / perEast
}

// scale looks up radians a metre, straight between the table's rows.
func (s *Stepper) scale(lat float64) (north, east float64) {
	x := math.Abs(lat) * (1 / tableStep)
	i := int(x)
	if i > len(s.table)-2 {
		i = len(s.table) - 2
	}
	x -= float64(i)
	a, b := &s.table[i], &s.table[i+1]
	return a.north + x*(b.north-a.north), a.east + x*(b.east-a.east)
}
