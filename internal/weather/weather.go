// Package weather makes winds in time out of a climatology, and waves out of wind.
//
// A climatology knows, for each place and month, the mean vector of the wind and the mean of its
// speed. Between them lies the spread: here the wind is a bivariate normal about the mean vector,
// alike in all directions, as wide as makes the mean of its speed what it is (Rice). What
// departs from the mean dies away with the hours and with the way gone, so that the boat has
// days of head wind and days of fair. A slower part stays for weeks: one year is not another.
//
// Source: Rice, Mathematical analysis of random noise, Bell System Technical Journal 24 (1945), for
// the mean speed; the autoregression of first order is the standard model of persistence (Wilks,
// Statistical Methods in the Atmospheric Sciences, chapter on time series). That sea winds are so
// spread is a modelling choice. It gives gales as the tail of the normal: real tails are
// heavier where storms pass, so that gales are, if anything, too few.
//
// What is not looked at: squalls and other gusts shorter than a step, the turn of the wind with a
// passing front, land and sea breezes, tropical storms.
//
// SI and radians. Vectors point where the wind blows to, east and north. The same input gives the
// same figures to the last bit on one kind of machine, however many work at it.
package weather

import (
	"errors"
	"fmt"
	"math"
)

// ErrInput is wrapped by what names the thing, what was given and the mend.
var ErrInput = errors.New("this cannot be worked out as given")

// Model is how winds depart from their climatology. A person who knows better changes it.
type Model struct {
	// East and North are the hours in which what is left of a departure falls to 1/e.
	East, North float64
	// Reach is the way gone over which it falls to 1/e, metres.
	Reach float64
	// Year is the spread of one year's mean about the climatology's, each way, m/s, and Season the
	// days over which it falls to 1/e. It is part of the spread, not on top of it.
	Year, Season float64
	// Spread widens or narrows the departures. At 1 the mean of the speed is the climatology's.
	Spread float64
}

// Usual is the model that is used unless another is given.
//
// Source: East and North: sea winds remember 1 to 2 days in middle latitudes and 2 to 4 in the
// trades, the zonal part longer than the meridional (Monahan 2012, Journal of Climate 25(19), for
// the order of the two; the days from memory): 60 and 42 hours lie between. Year: monthly
// means of 1982 to 1992 spread by 1.0 m/s in both trades and 2.5 at 40 N 30 W (data.md). Reach,
// Season and the shape: modelling choices, no source
func Usual() Model {
	return Model{East: 60, North: 42, Reach: 1.0e6, Year: 1.0, Season: 45, Spread: 1}
}

// leastSpread is the least spread as a share of the mean speed, for where rounding has made the
// vector's mean as long as the mean speed or longer (modelling choice: the steadiest trades are 0.95
// steady, of which Rice makes 0.3).
const leastSpread = 0.15

// mostYear is the most of the variance that a year's departure may take (modelling choice).
const mostYear = 0.5

// Winds makes winds. It does not change once made and may be used by many goroutines.
type Winds struct {
	m                  Model
	spread             []float64 // (sigma/mean speed)2 by steadiness 0 to 1
	step               float64   // s, what keepEast, keepNorth and keepYear are for
	keepEast, keepNrth float64
	keepYear           float64
}

// New makes winds that go forward by a step.
//
// In:     step s
// Error:  ErrInput
func New(m Model, step float64) (*Winds, error) {
	for _, x := range []struct {
		name       string
		value      float64
		least, top float64
		unit       string
	}{
		{"hours that an east wind's departure lasts", m.East, 0.1, 1e4, "hours"},
		{"hours that a north wind's departure lasts", m.North, 0.1, 1e4, "hours"},
		{"reach of a departure", m.Reach, 1e3, 1e12, "metres"},
		{"spread of one year about the mean", m.Year, 0, 20, "m/s"},
		{"days that a year's departure lasts", m.Season, 1, 1e5, "days"},
		{"widening of the spread", m.Spread, 0, 5, "(1 is the climatology's)"},
		{"step", step, 1, 86400, "s"},
	} {
		if !(x.value >= x.least && x.value <= x.top) {
			return nil, fmt.Errorf("weather: %w: the %s is %v; give one from %v to %v %s", ErrInput, x.name, x.value, x.least, x.top, x.unit)
		}
	}
	w := &Winds{m: m, step: step, spread: make([]float64, spreadCells+1)}
	for i := range w.spread {
		r := float64(i) / spreadCells
		s := Sigma(r, 1)
		w.spread[i] = s * s
	}
	w.keepEast = math.Exp(-step / (m.East * 3600))
	w.keepNrth = math.Exp(-step / (m.North * 3600))
	w.keepYear = math.Exp(-step / (m.Season * 86400))
	return w, nil
}

// spreadCells is how many steps the table of spread by steadiness has. The square of the spread
// is smooth, so that straight lines between err by 1e-6 of the squared mean speed or less.
const spreadCells = 512

// State is where the weather stands: departures in spreads, fast and slow.
type State struct{ East, North, YearEast, YearNorth float64 }

// Begin is the weather at the start of a passage, drawn from all that it may be.
func (w *Winds) Begin(d Draws) State {
	var s State
	s.East, s.North = d.Normals(0, StreamBegin)
	s.YearEast, s.YearNorth = d.Normals(1, StreamBegin)
	return s
}

// Next takes the weather one step on, for a boat that has gone some way meanwhile.
//
// In:     way m; step the number of the step, which chooses the draw
// Good to: exactly, variance 1 and correlation exp(-t/hours - way/reach) (TestLags)
// Source: autoregression of first order, closed form. The way counts as gone along
// a line: turning back does not bring back the weather (modelling choice)
func (w *Winds) Next(s *State, way float64, d Draws, step uint32) {
	far := 1.0
	if way > 0 {
		far = math.Exp(-way / w.m.Reach)
	}
	a, b := d.Normals(step, StreamWind)
	ke, kn := w.keepEast*far, w.keepNrth*far
	s.East = ke*s.East + math.Sqrt(1-ke*ke)*a
	s.North = kn*s.North + math.Sqrt(1-kn*kn)*b
	if w.m.Year > 0 {
		// Slow: once a day is enough, and costs a draw in 24.
		n := uint32(max(1, math.Round(86400/w.step)))
		if step%n == 0 {
			c, e := d.Normals(step, StreamYear)
			k := math.Pow(w.keepYear, float64(n))
			f := math.Sqrt(1 - k*k)
			s.YearEast = k*s.YearEast + f*c
			s.YearNorth = k*s.YearNorth + f*e
		}
	}
}

// Wind is the wind of a state at a place with a mean vector and a mean speed.
//
// In, Out: m/s, towards east and north
func (w *Winds) Wind(s State, u, v, speed float64) (east, north float64) {
	variance := w.variance(u, v, speed)
	slow := min(w.m.Year*w.m.Year, mostYear*variance)
	fs, ss := math.Sqrt(variance-slow)*w.m.Spread, math.Sqrt(slow)*w.m.Spread
	return u + fs*s.East + ss*s.YearEast, v + fs*s.North + ss*s.YearNorth
}

// Spread is the standard deviation each way at a place, m/s.
func (w *Winds) Spread(u, v, speed float64) float64 {
	return math.Sqrt(w.variance(u, v, speed)) * w.m.Spread
}

func (w *Winds) variance(u, v, speed float64) float64 {
	if !(speed > 0) {
		return 0
	}
	r := math.Sqrt(u*u+v*v) / speed
	least := leastSpread * leastSpread
	if !(r < 1) {
		return least * speed * speed
	}
	x := r * spreadCells
	i := int(x)
	t := x - float64(i)
	s := w.spread[i]*(1-t) + w.spread[i+1]*t
	if s < least {
		s = least
	}
	return s * speed * speed
}
