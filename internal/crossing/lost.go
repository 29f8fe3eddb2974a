package crossing

import (
	"context"
	"fmt"
	"math"
	"runtime"

	"thole/internal/earth"
	"thole/internal/voyages"
)

// Reach tells at one distance before the landfall how far to either side she may stand off the route and still reach it.
type Reach struct {
	Before      float64     // m of the route left
	On          earth.Place // the route's own place there
	Day         float64     // after leaving, by which half have come so near
	OffLeft     float64     // m to the left of the way from which Asked of the passages still arrive; the search's end when LeftOpen
	OffRight    float64     // the same to the right
	Left, Right earth.Place
	// LeftOpen and RightOpen say that even the search's end still arrives.
	LeftOpen, RightOpen bool
	Share               float64 // of those that begin on the route and arrive
}

// The search for the line. Modelling choices: the distances, sea miles; how far off it looks; how many passages are made from each
// place, the same draws from all; and to what it closes in.
var befores = []float64{25, 50, 100, 200, 400}

const (
	farthest  = 240 * mile
	first     = 15 * mile
	closing   = 2 * mile
	perPlace  = 100
	forDay    = 200               // passages by which the day there is told
	afterwait = 2.5               // times the days that the way should take, after which she is late beyond use
	slowest   = 15 * mile / 86400 // m/s, for that
)

// Lost is the line beyond which the landfall can no longer be reached by so many: at each of some distances before it, in
// the weather of the season at which she comes there.
//
// From a place she makes for the landfall by what points of the route are left, as always. That fewer arrive from further off is
// taken for granted between one try and the next.
//
// In:     asked, the share that is to arrive, over 0 to 1
// Out:    where even from the route fewer arrive, nothing to either side
// Error:  the context's; the runner's
// Good to: 2 sea miles of the search and what 100 passages tell of a share: 5 % of all (one standard deviation) at an even chance. In a
// current alone, the triangle that can no longer be closed (TestLostTriangle)
func (c *Crossing) Lost(ctx context.Context, asked float64) ([]Reach, error) {
	if !(asked > 0 && asked <= 1) {
		return nil, fmt.Errorf("crossing: the share that is to arrive is %v; give one over 0 to 1", asked)
	}
	v, err := c.keep.Keep(fmt.Sprintf("crossing %d lost %s %v", c.detail, c.Leave, asked), func() (any, error) { return c.lost(ctx, asked) })
	if err != nil {
		return nil, err
	}
	return v.([]Reach), nil
}

func (c *Crossing) lost(ctx context.Context, asked float64) ([]Reach, error) {
	t, err := c.Many(ctx, forDay, nil)
	if err != nil {
		return nil, err
	}
	var out []Reach
	for _, b := range befores {
		before := b * mile
		if before > 0.8*c.Route.Length() {
			break
		}
		if before < 2*c.Spec.Route[len(c.Spec.Route)-1].Within {
			continue // she has all but arrived
		}
		r := Reach{Before: before}
		var course float64
		r.On, course = c.Route.At(c.Route.Length() - before)
		day, ok := t.WithinBy(before, 0.5)
		if !ok {
			day = float64(c.Planned) // few come so far: as if when the stores are out
		}
		r.Day = day
		off := func(m float64) (earth.Place, error) { // to the right
			p, _, err := earth.WGS84.Direct(r.On, course+math.Pi/2, m)
			return p, err
		}
		share := func(m float64) (float64, error) {
			p, err := off(m)
			if err != nil {
				return 0, err
			}
			return c.arriving(ctx, p, before, r.Day)
		}
		if r.Share, err = share(0); err != nil {
			return nil, err
		}
		for _, side := range []float64{-1, 1} {
			m, open, err := edge(asked, r.Share, func(m float64) (float64, error) { return share(side * m) })
			if err != nil {
				return nil, err
			}
			p, err := off(side * m)
			if err != nil {
				return nil, err
			}
			if side < 0 {
				r.OffLeft, r.LeftOpen, r.Left = m, open, p
			} else {
				r.OffRight, r.RightOpen, r.Right = m, open, p
			}
		}
		out = append(out, r)
	}
	return out, nil
}

// edge is how far a share stays at what is asked: doubled until it does not, then halved.
func edge(asked, here float64, share func(m float64) (float64, error)) (m float64, open bool, err error) {
	if here < asked {
		return 0, false, nil
	}
	low, high := 0.0, first
	for {
		s, err := share(high)
		if err != nil {
			return 0, false, err
		}
		if s < asked {
			break
		}
		if high >= farthest {
			return farthest, true, nil
		}
		low, high = high, math.Min(farthest, 2*high)
	}
	for high-low > closing {
		mid := (low + high) / 2
		s, err := share(mid)
		if err != nil {
			return 0, false, err
		}
		if s < asked {
			high = mid
		} else {
			low = mid
		}
	}
	return low, false, nil
}

// arriving is the share that arrive from a place of those that leave it on a day of the passage; none from land.
func (c *Crossing) arriving(ctx context.Context, from earth.Place, before, day float64) (float64, error) {
	s := c.Spec
	if s.Land != nil && !(s.Land.Clear(from.Lat, from.Lon) > 0) {
		return 0, nil
	}
	s.Start, s.Depart = voyages.Place(from), s.Depart+day*86400
	s.Offing, s.Wear.Sick, s.Rules.Wait = 0, 0, 0
	if n := int(day); n > 0 && len(s.Wear.Days) > 0 {
		s.Wear.Days = s.Wear.Days[min(n, len(s.Wear.Days)-1):]
	}
	s.Most = math.Ceil(10 + afterwait*before/slowest/86400)
	s.Route = c.ahead(before)
	r, err := voyages.New(s)
	if err != nil {
		return 0, err
	}
	t, err := r.Run(ctx, 0, perPlace, runtime.GOMAXPROCS(0), nil)
	if err != nil {
		return 0, err
	}
	return float64(t.Ends[voyages.Arrived]) / float64(t.Passages), nil
}

// ahead are the points of the route that lie ahead with so much of it left.
func (c *Crossing) ahead(left float64) []voyages.Point {
	legs := c.Route.Legs()
	at := c.Route.Length() - left
	for i, l := range legs {
		if end := l.Before + l.Line.Distance; end > at+1 {
			return c.Spec.Route[i:]
		}
	}
	return c.Spec.Route[len(c.Spec.Route)-1:]
}
