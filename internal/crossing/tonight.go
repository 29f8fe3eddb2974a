package crossing

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"thole/internal/coast"
	"thole/internal/earth"
	"thole/internal/voyages"
)

// Night is how far she may be set in a night at a place and time.
type Night struct {
	Hours float64 // nobody rows
	// Toward is where the middle of the drift goes, radians from north; Middle its length; Far the length that one night in
	// twenty exceeds, in whatever direction; all m. Adrift and to the sea anchor.
	Toward, Middle, Far             float64
	AnchToward, AnchMiddle, AnchFar float64
	// Keep is the distance from anything to leeward within which she should not sleep: Far, how far her own place may be
	// wrong, and the sea room that the coast's own error asks for; and the same to the sea anchor.
	Keep, AnchKeep float64
}

const (
	nights      = 1000   // drawn
	nightStep   = 600    // s
	longest     = 72     // h
	endless     = 1e9    // m/s: no wind
	nothing     = 1e-9   // m/s: any wind
	nowhere     = 5000e3 // m: further than any night's drift
	oneInTwenty = 0.95
)

// Tonight is how far she may be set in a night at a place: how near to land one may drift.
//
// The weather is any that the season has, not the one that she sees: a steady wind tonight sets her where that wind goes.
//
// In:     hours that nobody rows, over 0 to 72; doubt, m, how far her own place may be wrong
// Error:  hours or a place that cannot be; the context's; the runner's
// Good to: in a steady wind and current, their speeds times the hours (TestTonightSteady); one night in twenty of 1000 is known to 4 %
// of its distance or better
func (c *Crossing) Tonight(ctx context.Context, at earth.Place, when time.Time, hours, doubt float64) (Night, error) {
	if !(hours > 0 && hours <= longest) || !(doubt >= 0) {
		return Night{}, fmt.Errorf("crossing: a night of %v h with a doubt of %v m; give over 0 to %d h, and 0 m or more", hours, doubt, longest)
	}
	if err := at.Check(); err != nil {
		return Night{}, err
	}
	n := Night{Hours: hours}
	var err error
	if n.Toward, n.Middle, n.Far, err = c.drifts(ctx, at, when, hours, endless); err != nil {
		return n, err
	}
	if n.AnchToward, n.AnchMiddle, n.AnchFar, err = c.drifts(ctx, at, when, hours, nothing); err != nil {
		return n, err
	}
	n.Keep, n.AnchKeep = n.Far+doubt+coast.StandOff, n.AnchFar+doubt+coast.StandOff
	return n, nil
}

// drifts makes the nights. In any wind from storm on the sea anchor is out.
func (c *Crossing) drifts(ctx context.Context, at earth.Place, when time.Time, hours, storm float64) (toward, middle, far float64, err error) {
	s := c.Spec
	s.Start, s.Depart, s.Step = voyages.Place(at), float64(when.Unix()), nightStep
	away := 0.5 // radians of latitude, toward the equator
	if at.Lat > 0 {
		away = -away
	}
	s.Route = []voyages.Point{{Place: voyages.Place{Lat: at.Lat + away, Lon: at.Lon}, Within: 1}}
	s.Past, s.Land, s.Seasons = nowhere, nil, nil
	s.Rules = voyages.Rules{Storm: storm, Ease: 1}
	if day := int(when.Sub(c.Leave).Hours() / 24); day > 0 && len(s.Wear.Days) > 0 {
		s.Wear.Days = s.Wear.Days[min(day, len(s.Wear.Days)-1):]
	}
	s.Most = hours / 24
	r, err := voyages.New(s)
	if err != nil {
		return 0, 0, 0, err
	}
	var east, north float64
	lengths := make([]float64, nights)
	for i := range lengths {
		if i%100 == 0 && ctx.Err() != nil {
			return 0, 0, 0, ctx.Err()
		}
		p, err := r.Passage(uint64(i))
		if err != nil {
			return 0, 0, 0, err
		}
		e := (p.Last.Lon - at.Lon) * math.Cos((p.Last.Lat+at.Lat)/2)
		e = math.Remainder(e, 2*math.Pi) * voyages.Radius
		north += (p.Last.Lat - at.Lat) * voyages.Radius / nights
		east += e / nights
		lengths[i] = voyages.Distance(s.Start, p.Last)
	}
	slices.Sort(lengths)
	return earth.Turn(math.Atan2(east, north)), math.Hypot(east, north), lengths[int(oneInTwenty*nights)], nil
}
