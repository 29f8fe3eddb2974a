// Package voyages simulates passages by the thousand: a boat rowed along a route through made-up
// weather, hour by hour, until she arrives, passes her landfall, is set ashore or runs out of time.
//
// One passage: the wind departs from its climatology as weather has it; by habit and daylight
// somebody rows or nobody does; rowed, she makes for the next point of the route as nearly as she
// can be kept; else she drifts or lies to a sea anchor by rule; the current carries all. She grows
// lighter as stores are eaten and slower as she fouls. Position goes forward on the sphere by the
// midpoint rule (Runge-Kutta of order two).
//
// Many passages differ by their number alone. What is kept of them are whole counts, so that parts
// done anywhere and added in any order give the same digits.
//
// Near land she is rowed round the clock and steers clear of it (Rules.Close), she waits for a wind to leave with (Rules.Wait), and
// a loose point is passed only when the way to the next is clear. What the mean current is wrong by is drawn once for each passage
// (Spec.Doubts).
//
// What is not looked at: the person's own judgement from day to day (she follows the rules given),
// damage but for the chance of a day lost, squalls, tropical storms (days within a season are
// counted, no storm is met), the flattening of the earth (a sphere of the mean radius: distances
// err by up to 0.5 %).
//
// SI and radians, east and north positive; times are seconds since 1970 began, UTC.
package voyages

import (
	"errors"
	"fmt"
	"math"

	"thole/internal/weather"
)

// ErrInput is wrapped by what names the thing, what was given and the mend.
var ErrInput = errors.New("this cannot be worked out as given")

// Climate is the mean wind of a place and time: the vector, towards east and north, and the mean of
// the speed, m/s at 10 m.
type Climate interface {
	Wind(lat, lon, when float64) (east, north, speed float64)
}

// Currents is the surface current, m/s towards east and north.
type Currents interface {
	Current(lat, lon, when float64) (east, north float64)
}

// Land knows how far land is at least, m; nothing or less is ashore. The bound may be short, which
// only costs time: she is asked again when she has gone so far.
type Land interface {
	Clear(lat, lon float64) float64
}

// Boat is how she moves through the water. Angles are those of where the wind comes from, to
// starboard positive; winds m/s at 10 m; loads kg. It must be safe for many goroutines.
type Boat interface {
	// Rowed is how she goes when a track is wanted that has the wind at an angle off it: the angle
	// off the nearest track she can be kept on, and her speed along that; kept if it is the one.
	Rowed(wind, off, load float64) (made, speed float64, kept bool)
	// Adrift is how she goes when left: to leeward, and to starboard of dead downwind when she
	// lies with the wind on her starboard side.
	Adrift(wind, load float64) (down, across float64)
	// Anchored is the same with the sea anchor out.
	Anchored(wind, load float64) (down, across float64)
}

// Seasons tells whether a place and time lie within a season of tropical storms.
type Seasons interface {
	Stormy(lat, lon, when float64) bool
}

// Doubts is how far the mean current of a place and time may be wrong, m/s: one standard deviation of the vector's length.
type Doubts interface {
	Error(lat, lon, when float64) float64
}

// Dragged is the current that a wind drags along at a latitude, m/s: that of its departure from the mean goes on top of the
// mean current.
type Dragged interface {
	Drag(lat, east, north float64) (de, dn float64)
}

// Place is a point of the earth, radians.
type Place struct{ Lat, Lon float64 }

// Point is a place to be passed, loosely or exactly.
type Point struct {
	Place
	// Within is how near it counts as passed, m. The last point's is the landfall's: arrived.
	Within float64
}

// Rules is what the person does when.
type Rules struct {
	Habit Habit
	// Allow says that she steers up-current by what she knows of the set, so as to go straight.
	Allow bool
	// Storm is the wind from which nobody rows and the sea anchor goes out, m/s.
	Storm float64
	// Against and Ahead are the wind, m/s, and the angle from ahead, radians, from which the sea
	// anchor goes out instead of rowing. 0 never.
	Against, Ahead float64
	// Ease is the share of those winds below which it comes in again, over 0 to 1.
	Ease float64
	// Idle puts the sea anchor out when nobody rows and she would drift back.
	Idle bool
	// Close is how near land nobody sleeps, m: she is rowed round the clock, but for breaks, sick or not, for two days at the
	// most, and against any wind under Storm. 0 never.
	Close float64
	// Wait is how many days she waits, before she leaves, for a wind that will be fair for two; after that a fair one on the day is
	// enough. 0 does not wait. Her days count from leaving.
	Wait int
}

// Day is what she weighs, kg, and the share of her speed that growth takes, both at the middle of a day; the share is less than
// nothing when she is cleaner than the boat given.
type Day struct{ Load, Foul float64 }

// Wear is how boat and body change on the way.
type Wear struct {
	// Days, where there are any, stand for Load, Eaten, Least, Fouling and Foulest; past the last, that.
	Days               []Day
	Load, Eaten, Least float64 // kg at the start; kg a day; kg that she cannot get below
	// Fouling is the share of her speed lost by each 30 days, and Foulest the most that is lost.
	Fouling, Foulest float64
	// Sick is the mean share of the rowing lost on the first day, drawn for each passage from
	// 0 to twice that (at most all); it falls evenly to nothing by SickDays.
	Sick, SickDays float64
	// Lost is the chance that a day is not rowed (injury, repair); Every makes each n-th a day of
	// rest, 0 none.
	Lost  float64
	Every int
	// Pace is the spread of the rower's speed between passages, as a share (normal, held within
	// three spreads).
	Pace float64
}

// Spec is what is simulated. It must not change while passages run.
type Spec struct {
	Seed     uint64
	Start    Place
	Depart   float64 // seconds since 1970 began, UTC
	Route    []Point // the last is the landfall
	Climate  Climate
	Currents Currents // nil is none
	// Doubts draws, for each passage, one error of the current, which turns neither with place nor time and is everywhere as
	// large as the doubt there (modelling choice: what a mean is wrong by, it is wrong by all the way). nil is none.
	Doubts  Doubts
	Dragged Dragged // nil is none
	Land    Land    // nil is none
	Seasons Seasons // nil is none
	Boat    Boat
	Weather weather.Model
	Rules   Rules
	Wear    Wear
	// Step, s, divides an hour or is whole hours up to 6 that divide a day. 3600 if 0.
	Step float64
	// Most is the days after which a passage counts as out of time.
	Most float64
	// Past is how far beyond the landfall she must be, along the way she came, to have missed it, m.
	Past float64
	// Offing is how far from the start land begins to count, m: she sets out from land.
	Offing float64
	// Cell is the side of the cells of the map of density, radians. A degree if 0.
	Cell float64
}

// Radius is the earth's mean radius, m. Source: IUGG, R1 of WGS84
const Radius = 6371008.8

// Runner is a checked Spec, ready to make passages. It may be used by many goroutines.
type Runner struct {
	s      Spec
	winds  *weather.Winds
	points []vector
	within []float64 // cosine of the angle
	ahead  []vector  // at each point, the way on past it
	start  vector
	past   float64 // sine of the angle
	steps  int
	perDay int
}

// New checks a Spec.
//
// Error:  ErrInput, naming the first fault and its mend
func New(s Spec) (*Runner, error) {
	bad := func(what string, got any, mend string) error {
		return fmt.Errorf("voyages: %w: %s is %v; %s", ErrInput, what, got, mend)
	}
	if s.Step == 0 {
		s.Step = 3600
	}
	if s.Cell == 0 {
		s.Cell = math.Pi / 180
	}
	perDay := math.Round(86400 / s.Step)
	switch {
	case s.Climate == nil || s.Boat == nil:
		return nil, bad("the wind's climatology or the boat", "missing", "give both")
	case len(s.Route) == 0:
		return nil, bad("the route", "empty", "give a landfall at least")
	case !(s.Step >= 60 && s.Step <= 6*3600) || perDay*s.Step != 86400:
		return nil, bad("the step", s.Step, "give 60 to 21600 s, a whole number of them in a day")
	case !(s.Most > 0 && s.Most <= 1000):
		return nil, bad("the most days", s.Most, "give over 0 to 1000")
	case !(s.Past > 0 && s.Past < Radius):
		return nil, bad("how far past the landfall counts as missed", s.Past, "give some thousands of metres")
	case !(s.Offing >= 0 && s.Offing < Radius):
		return nil, bad("the offing", s.Offing, "give 0 m or more")
	case !(s.Cell >= 1e-4 && s.Cell <= 1):
		return nil, bad("the cell of the map", s.Cell, "give 0.0001 to 1 radians")
	case !(math.Abs(s.Depart) < 1e12):
		return nil, bad("the departure", s.Depart, "give seconds since 1970 began")
	case !(s.Wear.Load >= 0 && s.Wear.Load < 1e6 && math.Abs(s.Wear.Eaten) < 1e4 && s.Wear.Least >= 0 && s.Wear.Least <= s.Wear.Load):
		return nil, bad("the load, what is eaten of it or its least", s.Wear.Load, "give kg, kg a day, and a least that is not over the load")
	case !(s.Rules.Storm > 0):
		return nil, bad("the wind from which nobody rows", s.Rules.Storm, "give m/s over 0")
	case !(s.Rules.Against >= 0 && s.Rules.Ahead >= 0 && s.Rules.Ahead <= math.Pi):
		return nil, bad("the wind or angle for the sea anchor", s.Rules.Ahead, "give 0 or more m/s and 0 to half a turn")
	case !(s.Rules.Ease > 0 && s.Rules.Ease <= 1):
		return nil, bad("the share at which the sea anchor comes in", s.Rules.Ease, "give over 0 to 1")
	case !(s.Rules.Close >= 0 && s.Rules.Close < Radius):
		return nil, bad("how near land nobody sleeps", s.Rules.Close, "give 0 m or more")
	case !(s.Rules.Wait >= 0 && s.Rules.Wait <= mostWait):
		return nil, bad("the days that she waits for a wind", s.Rules.Wait, "give 0 to 60")
	case s.Wear.Every < 0:
		return nil, bad("the days from rest to rest", s.Wear.Every, "give 0 for none, or 2 or more")
	}
	for name, v := range map[string]float64{"the fouling in 30 days": s.Wear.Fouling, "the most fouling": s.Wear.Foulest,
		"the share lost to sickness": s.Wear.Sick, "the chance of a lost day": s.Wear.Lost, "the spread of pace": s.Wear.Pace} {
		if !(v >= 0 && v < 1) {
			return nil, bad(name, v, "give a share of 0 or more, under 1")
		}
	}
	if !(s.Wear.SickDays >= 0 && s.Wear.SickDays < 1000) {
		return nil, bad("the days of sickness", s.Wear.SickDays, "give 0 or more")
	}
	for i, d := range s.Wear.Days {
		if !(d.Load >= 0 && d.Load < 1e6 && d.Foul > -1 && d.Foul < 1) {
			return nil, bad(fmt.Sprintf("the load or the growth of day %d", i+1), d, "give kg, and a share of her speed within -1 to 1")
		}
	}
	if err := s.Rules.Habit.check(); err != nil {
		return nil, err
	}
	winds, err := weather.New(s.Weather, s.Step)
	if err != nil {
		return nil, err
	}
	r := &Runner{s: s, winds: winds, past: math.Sin(math.Min(s.Past/Radius, math.Pi/2)), perDay: int(perDay)}
	r.steps = int(math.Ceil(s.Most * perDay))
	if r.start, err = place(s.Start, "the start"); err != nil {
		return nil, err
	}
	from := r.start
	for i, p := range s.Route {
		v, err := place(p.Place, fmt.Sprintf("point %d of the route", i+1))
		if err != nil {
			return nil, err
		}
		if !(p.Within > 0 && p.Within < Radius) {
			return nil, bad(fmt.Sprintf("how near point %d counts as passed", i+1), p.Within, "give metres over 0")
		}
		way := v.minus(from.times(from.dot(v))) // only to see that there is a way
		if way.dot(way) < 1e-20 {
			return nil, bad(fmt.Sprintf("point %d of the route", i+1), "where the one before is, or opposite it", "leave it out or move it")
		}
		onward := v.times(from.dot(v)).minus(from).unit()
		r.points, r.ahead = append(r.points, v), append(r.ahead, onward)
		r.within = append(r.within, math.Cos(p.Within/Radius))
		from = v
	}
	return r, nil
}

// place checks a place and turns it into a vector.
func place(p Place, name string) (vector, error) {
	if !(math.Abs(p.Lat) <= 85*math.Pi/180 && math.Abs(p.Lon) <= 2*math.Pi) {
		return vector{}, fmt.Errorf("voyages: %w: %s is at latitude %v, longitude %v radians; give a latitude up to 85 degrees and a longitude up to a turn", ErrInput, name, p.Lat, p.Lon)
	}
	return toVector(p), nil
}
