package earth

import (
	"fmt"
	"math"
)

// Way is how a leg runs between its ends.
type Way int

// The two ways: the shortest line, and the line of one course.
const (
	GreatCircle Way = iota
	RhumbLine
)

// Leg is one stretch of a route.
type Leg struct {
	From, To Place
	Way      Way
	Line     Line    // distance, and the course at each end
	Before   float64 // metres of the route before this leg
}

// Route is legs end to end.
type Route struct {
	e    *Ellipsoid
	legs []Leg
}

// Route joins places by legs of one way; two or more places, each other than the one
// before it.
//
// Error:  ErrInput, naming the leg
func (e *Ellipsoid) Route(way Way, places ...Place) (Route, error) {
	r := Route{e: e}
	if len(places) < 2 {
		return r, fmt.Errorf("%w: a route of %d places (give two or more)", ErrInput, len(places))
	}
	for _, to := range places[1:] {
		var err error
		if r, err = r.Then(way, places[len(r.legs)], to); err != nil {
			return Route{}, err
		}
	}
	return r, nil
}

// Then is the route with one more leg; from is looked at for the first leg only.
//
// Error:  ErrInput, naming the leg
func (r Route) Then(way Way, from, to Place) (Route, error) {
	before := 0.
	if n := len(r.legs); n > 0 {
		from, before = r.legs[n-1].To, r.Length()
	}
	if err := first(from.Check(), to.Check()); err != nil {
		return r, fmt.Errorf("leg %d: %w", len(r.legs)+1, err)
	}
	line := r.e.inverse(from, to)
	if way == RhumbLine {
		var err error
		if line, err = r.e.Rhumb(from, to); err != nil {
			return r, fmt.Errorf("leg %d: %w", len(r.legs)+1, err)
		}
	}
	if line.Distance == 0 {
		return r, fmt.Errorf("leg %d: %w: it ends where it starts", len(r.legs)+1, ErrInput)
	}
	legs := append(r.legs[:len(r.legs):len(r.legs)], Leg{from, to, way, line, before})
	return Route{r.e, legs}, nil
}

// Legs are the route's legs in order.
func (r Route) Legs() []Leg { return r.legs }

// Length is the route's length in m.
func (r Route) Length() float64 {
	if len(r.legs) == 0 {
		return 0
	}
	last := r.legs[len(r.legs)-1]
	return last.Before + last.Line.Distance
}

// At is the place, and the course there, so many metres along the route; before its
// start and past its end, the end places.
func (r Route) At(along float64) (Place, float64) {
	i := 0
	for i < len(r.legs)-1 && along >= r.legs[i+1].Before {
		i++
	}
	return r.e.on(r.legs[i], along-r.legs[i].Before)
}

// on is the place on a leg so far from its start, and the course there.
func (e *Ellipsoid) on(leg Leg, along float64) (Place, float64) {
	if !(along > 0) {
		return leg.From, leg.Line.Start
	}
	if along >= leg.Line.Distance {
		return leg.To, leg.Line.End
	}
	if leg.Way == RhumbLine {
		p, err := e.RhumbDirect(leg.From, leg.Line.Start, along)
		if err == nil {
			if polar(leg.From.Lat) { // down the meridian of where it goes
				p.Lon = leg.To.Lon
			}
			return p, leg.Line.Start
		}
	}
	return e.direct(leg.From, leg.Line.Start, along)
}

// Points are places along the route, none further than spacing m from the next, with
// every corner among them: what is needed to draw it or to test it against the land.
//
// Error:  ErrInput: a spacing that would give no end of points (over a million)
func (r Route) Points(spacing float64) ([]Place, error) {
	if !(spacing > 0) || r.Length()/spacing > 1e6 {
		return nil, fmt.Errorf("%w: points every %g m over %.0f m", ErrInput, spacing, r.Length())
	}
	out := []Place{r.legs[0].From}
	for _, leg := range r.legs {
		n := int(math.Ceil(leg.Line.Distance / spacing))
		for i := 1; i < n; i++ {
			p, _ := r.e.on(leg, leg.Line.Distance*float64(i)/float64(n))
			out = append(out, p)
		}
		out = append(out, leg.To)
	}
	return out, nil
}

// Progress is how a boat stands against the route: the leg beside which she is, her
// metres along the whole route, her metres to the right of it, and the metres of route
// left. The leg is the one whose stretch (its ends counted) is nearest to her.
type Progress struct {
	Leg                 int
	Along, Across, Left float64
}

// Progress says how a place stands against the route.
//
// Error:  ErrInput
// Good to: as OffTrack and OffRhumb; abeam of no part of a leg, the distance to its
// nearer end counts, with the side it lies on
func (r Route) Progress(at Place) (Progress, error) {
	best, found := Progress{}, math.Inf(1)
	if err := at.Check(); err != nil {
		return best, err
	}
	for i, leg := range r.legs {
		measure := r.e.OffTrack
		if leg.Way == RhumbLine {
			measure = r.e.OffRhumb
		}
		toFrom, toTo := r.e.inverse(leg.From, at), r.e.inverse(leg.To, at)
		near, along, across := toFrom.Distance, 0., math.Copysign(toFrom.Distance, math.Sin(toFrom.Start-leg.Line.Start))
		if toTo.Distance < near {
			near, along, across = toTo.Distance, leg.Line.Distance, math.Copysign(toTo.Distance, math.Sin(toTo.Start-leg.Line.End))
		}
		off, err := measure(leg.From, leg.To, at) // no foot: the nearer end stands for it
		if err == nil && off.Along >= 0 && off.Along <= leg.Line.Distance && math.Abs(off.Across) <= near {
			near, along, across = math.Abs(off.Across), off.Along, off.Across
		}
		if near < found {
			found = near
			best = Progress{i, leg.Before + along, across, r.Length() - leg.Before - along}
		}
	}
	return best, nil
}
