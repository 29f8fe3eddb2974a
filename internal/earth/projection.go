package earth

import "math"

// Projection lays the earth flat: metres east (x) and north (y) on the map.
type Projection interface {
	// To is where a place lies on the map; ok is false where the map does not reach.
	To(p Place) (x, y float64, ok bool)
	// From turns To round; ok is false off the map's edge.
	From(x, y float64) (p Place, ok bool)
}

// mercator is the projection on which courses are straight.
type mercator struct {
	e   *Ellipsoid
	lon float64 // of the middle
	end float64 // latitude at which it stops
}

// Mercator is the map on which a line of one course is straight, with lengths true at
// the equator, centred on a longitude, and ending at a latitude (both radians) because
// the poles lie at infinity.
//
// Good to: 1e-6 m (TestSnyder)
// Source: Snyder, Map Projections: a Working Manual, USGS PP 1395 (1987), eqs 7-6, 7-7
func (e *Ellipsoid) Mercator(centre, furthest float64) Projection {
	return mercator{e, centre, math.Min(math.Abs(furthest), 89.9*math.Pi/180)}
}

func (m mercator) To(p Place) (x, y float64, ok bool) {
	if !(math.Abs(p.Lat) <= m.end) || math.IsNaN(p.Lon) || math.IsInf(p.Lon, 0) {
		return 0, 0, false
	}
	return m.e.a * Half(p.Lon-m.lon), m.e.a * m.e.stretched(p.Lat), true
}

func (m mercator) From(x, y float64) (Place, bool) {
	psi := y / m.e.a
	lat := math.Atan(math.Sinh(psi))
	for range 12 { // Snyder's 7-9: each round gains two figures or more on the earth
		next := math.Atan(math.Sinh(psi + m.e.e*math.Atanh(m.e.e*math.Sin(lat))))
		if next == lat {
			break
		}
		lat = next
	}
	lon := x / m.e.a
	if !(math.Abs(lon) <= math.Pi+1e-12) || !(math.Abs(lat) <= m.end) {
		return Place{}, false
	}
	return Place{lat, Half(lon + m.lon)}, true
}

// equalArea is Lambert's azimuthal equal-area projection of the authalic sphere.
type equalArea struct {
	e        *Ellipsoid
	rq, qp   float64 // authalic radius, and q at the pole
	d        float64 // keeps distances at the middle true
	sin, cos float64 // of the middle's authalic latitude
	centre   Place
}

// EqualArea is Lambert's azimuthal equal-area map about a place: equal areas of sea are
// equal areas of map, so a density of boats may be counted on it. It reaches to the place opposite.
//
// Good to: 1e-3 m there and back to 18 000 km, 0.5 m within 10 km of a pole (TestSnyder,
// TestProjectionsTurnRound)
// Source: Snyder, USGS PP 1395, eqs 24-17 to 24-30, 3-11, 3-12, 3-16
func (e *Ellipsoid) EqualArea(centre Place) Projection {
	l := equalArea{e: e, qp: e.authalic(1), centre: centre}
	l.rq = e.a * math.Sqrt(l.qp/2)
	l.sin, l.cos = l.beta(centre.Lat)
	s, c := math.Sincos(centre.Lat)
	l.d = 1
	if !polar(centre.Lat) {
		l.d = e.a * c / (math.Sqrt(1-e.e2*s*s) * l.rq * l.cos)
	}
	return l
}

// authalic is Snyder's q at the sine of a latitude.
func (e *Ellipsoid) authalic(s float64) float64 {
	if e.e == 0 {
		return 2 * s
	}
	return (1 - e.e2) * (s/(1-e.e2*s*s) + math.Atanh(e.e*s)/e.e)
}

// beta is the sine and cosine of the authalic latitude.
func (l *equalArea) beta(lat float64) (sin, cos float64) {
	sin = clamp(l.e.authalic(math.Sin(lat)) / l.qp)
	return sin, math.Sqrt((1 - sin) * (1 + sin))
}

func (l equalArea) To(p Place) (x, y float64, ok bool) {
	if p.Check() != nil {
		return 0, 0, false
	}
	sb, cb := l.beta(p.Lat)
	sl, cl := math.Sincos(p.Lon - l.centre.Lon)
	k := 1 + l.sin*sb + l.cos*cb*cl
	if !(k > 1e-12) {
		return 0, 0, false
	}
	b := l.rq * math.Sqrt(2/k)
	return b * l.d * cb * sl, b / l.d * (l.cos*sb - l.sin*cb*cl), true
}

func (l equalArea) From(x, y float64) (Place, bool) {
	u, v := x/l.d, y*l.d
	rho := math.Hypot(u, v)
	if rho == 0 {
		return Place{l.centre.Lat, Half(l.centre.Lon)}, true
	}
	if !(rho < 2*l.rq) {
		return Place{}, false
	}
	sc, cc := math.Sincos(2 * math.Asin(rho/(2*l.rq)))
	sb := clamp(cc*l.sin + v*sc*l.cos/rho)
	lon := l.centre.Lon + math.Atan2(u*sc, rho*l.cos*cc-v*l.sin*sc)
	return Place{l.e.fromAuthalic(sb, l.qp), Half(lon)}, true
}

// fromAuthalic is the latitude whose authalic latitude has a given sine (Snyder's 3-16, Newton's rule
// on q; at a pole its slope is nothing and the pole is the answer).
func (e *Ellipsoid) fromAuthalic(sin, qp float64) float64 {
	lat := math.Asin(sin)
	for range 20 {
		s, c := math.Sincos(lat)
		if c < 1e-9 {
			return math.Copysign(math.Pi/2, sin)
		}
		w := 1 - e.e2*s*s
		step := (sin*qp - e.authalic(s)) * w * w / (2 * (1 - e.e2) * c)
		lat = math.Max(-math.Pi/2, math.Min(math.Pi/2, lat+step))
		if math.Abs(step) < 1e-15 {
			break
		}
	}
	return lat
}
