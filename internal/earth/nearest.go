package earth

import (
	"fmt"
	"math"
)

// Near is the nearest land: how far in m, on what bearing, and where.
type Near struct {
	Distance float64
	Bearing  float64
	At       Place
	Hazard   int // which of Hazards; -1 for the coast
}

// planted is the tree, made when it is first asked for.
func (l *Land) planted() *tree {
	l.once.Do(l.plant)
	return &l.tree
}

// arc is the length along the earth of a straight line through it, and chord the other
// way round.
func arc(chord float64) float64 {
	d := 2 * WGS84.series[0]
	return d * math.Asin(math.Min(1, chord/d))
}

func chord(arc float64) float64 {
	d := 2 * WGS84.series[0]
	return d * math.Sin(math.Min(math.Pi/2, math.Max(0, arc)/d))
}

// Distance is how far the coast is, in m, as far as limit: where there is none nearer,
// limit. It is the coastline's distance, ashore too; hazards are not counted.
//
// In:     a place that Check finds nothing wrong with; the smaller the limit, the faster
// Good to: 3 m near the coast, 1e-5 of the distance to 1000 km, 1e-3 beyond (TestDistance)
func (l *Land) Distance(p Place, limit float64) float64 {
	if !(limit > 0) {
		return 0
	}
	reach := chord(math.Min(limit, math.Pi*WGS84.series[0]))
	best, _ := l.planted().nearest(space(p.Lat, p.Lon), reach*reach)
	if best >= reach*reach {
		return limit
	}
	return math.Min(limit, arc(math.Sqrt(best)))
}

// sureTo is how far Clear looks, in m: further off it says only that it is so far.
// Modelling choice: some weeks' row, and a search that stays fast in mid-ocean.
const sureTo = 500e3

// Clear is how far a boat at a latitude and longitude (radians) may go, any way, and
// surely meet neither coast nor hazard, in m, to 500 km; 0 where she is ashore or in a hazard.
//
// In:     a place that Check finds nothing wrong with
// Good to: never too long; short by at most 3 m and 1e-5 of a coast's distance, 1 % of a
// hazard's, or because it looks no further than 500 km
func (l *Land) Clear(lat, lon float64) float64 {
	p := Place{lat, lon}
	if l.OnLand(p) {
		return 0
	}
	d := l.Distance(p, sureTo)*(1-1e-5) - 3
	for i := range l.hazards {
		h := &l.hazards[i]
		if math.Abs(lat-h.At.Lat)*6.33e6 > d+h.Radius { // less than any meridian's radius
			continue
		}
		d = math.Min(d, apart(h.At, p)*0.99-h.Radius)
	}
	return math.Max(0, d)
}

// Nearest is the nearest coast or hazard; ok is false where there is neither. In a
// hazard's circle the distance is 0 and the bearing that of its middle.
//
// Error:  ErrInput
// Good to: 3 m to 1000 km; further off, which of two coasts is nearer to 1e-3 of the
// distance, its own distance and bearing to 3 m
func (l *Land) Nearest(p Place) (near Near, ok bool, err error) {
	if err := p.Check(); err != nil {
		return Near{}, false, err
	}
	best, q := l.planted().nearest(space(p.Lat, p.Lon), math.Inf(1))
	near.Hazard = -1
	if !math.IsInf(best, 1) {
		near = l.sight(p, surface(q))
		ok = true
	}
	for i, h := range l.hazards {
		v := WGS84.inverse(p, h.At)
		if d := math.Max(0, v.Distance-h.Radius); !ok || d < near.Distance {
			at, _ := WGS84.direct(p, v.Start, d)
			near, ok = Near{d, v.Start, at, i}, true
		}
	}
	return near, ok, nil
}

// sight is how a point of the coast lies from a place.
func (l *Land) sight(p, at Place) Near {
	v := WGS84.inverse(p, at)
	return Near{v.Distance, v.Start, at, -1}
}

// surface is the place at a point on the ellipsoid, or a few metres within it.
func surface(q [3]float64) Place {
	return Place{math.Atan2(q[2], math.Hypot(q[0], q[1])*(1-WGS84.e2)), Half(math.Atan2(q[1], q[0]))}
}

// Lee is the nearest coast or hazard within a sector: the shore on to which a boat that
// drifts toward some direction, give or take, is set.
//
// In:     the direction of drift and half the sector's width, at most a right angle, in
// radians; reach in m, at most 2000 km
// Out:    ok is false where there is none within reach
// Error:  ErrInput
// Good to: 1e-4 of the distance within 500 km, 1e-3 to 2000 km; the sector's edges to 0.1 degree
// (TestLee)
func (l *Land) Lee(p Place, toward, width, reach float64) (near Near, ok bool, err error) {
	if err := first(p.Check(), finite("the direction", toward)); err != nil {
		return Near{}, false, err
	}
	if !(width >= 0 && width <= math.Pi/2) || !(reach > 0 && reach <= 2e6) {
		return Near{}, false, fmt.Errorf("%w: a sector of %g radians each way and %g m (give 0 to pi/2, and 0 to 2e6)", ErrInput, width, reach)
	}
	w := newWedge(p, toward, width, reach)
	if w.search(l.planted()) {
		v := WGS84.inverse(p, surface(w.at))
		near, ok = Near{v.Distance, v.Start, surface(w.at), -1}, true
		reach = math.Min(reach, v.Distance)
	}
	for i, h := range l.hazards {
		if at, bearing, in := h.within(p, toward, width); in && at < reach {
			q, _ := WGS84.direct(p, bearing, at)
			near, ok, reach = Near{at, bearing, q, i}, true, at
		}
	}
	return near, ok, nil
}

// within is the distance and bearing of the first of a hazard's circle within a sector.
func (h *Hazard) within(p Place, toward, width float64) (distance, bearing float64, ok bool) {
	v := WGS84.inverse(p, h.At)
	if v.Distance <= h.Radius {
		return 0, v.Start, true
	}
	off := Half(v.Start - toward)
	over := math.Max(0, math.Abs(off)-width) // how far the middle lies outside the sector
	// The sector's own edge meets the circle where the triangle of the middle says (flat).
	across := v.Distance * math.Sin(over)
	if over >= math.Pi/2 || across > h.Radius {
		return 0, 0, false
	}
	distance = v.Distance*math.Cos(over) - math.Sqrt(h.Radius*h.Radius-across*across)
	return distance, Turn(v.Start - math.Copysign(over, off)), true
}
