// Package crossing is the passage of a boat folder made ready to be simulated: her motion, her crew's day, her stores, the
// winds and currents of her route and the land about it, put together for package voyages.
//
// What hangs on the folder is worked out once and kept by its case; passages made for one question serve the next.
package crossing

import (
	"fmt"
	"math"
	"time"

	"thole/internal/afloat"
	"thole/internal/climate"
	"thole/internal/earth"
	"thole/internal/underway"
	"thole/internal/units"
	"thole/internal/voyages"
	"thole/internal/weather"
)

// Lacks is what a folder does not say and no passage can be made without.
type Lacks struct{ File, Key, Why string }

// Lacking is the error of a folder that lacks inputs: all of them.
type Lacking struct{ Lacks []Lacks }

// Error names the first and how many there are.
func (l *Lacking) Error() string {
	return l.Lacks[0].File + ": " + l.Lacks[0].Key + ": " + l.Lacks[0].Why
}

// Assumed is what the folder does not give, and what was taken.
type Assumed struct{ What, Value, Why, File string }

// Detail is how finely the boat's motion is tabled.
type Detail int

// The details: Whole for an answer, Quick for a row of the lever table (a coarser table of motion; TestQuickAgainstWhole).
const (
	Whole Detail = iota
	Quick
)

// Crossing is a folder's passage ready to be made any number of times. It may be used by many goroutines.
type Crossing struct {
	Trip    *afloat.Trip
	Way     *underway.Way
	Spec    voyages.Spec
	Runner  *voyages.Runner
	Route   earth.Route
	Places  []earth.Place // from, the points between, to
	Leave   time.Time     // UTC
	Planned int           // days that the stores are meant for
	Assumed []Assumed
	Notes   []string // what was taken of the person's own files, what stands in the way of the route, ...

	keep   underway.Keeper
	detail Detail
	made   *made
}

// seed draws the same chances for every folder, so that two boats or two loads can be compared by the same weather.
const seed = 1

// departing is the hour of the sun's mean time at which she leaves: modelling choice.
const departing = 8

// New puts a folder's passage together, once for each detail.
//
// Error:  *Lacking, where inputs are missing; else why she cannot be rowed or the route not be sailed
func New(k underway.Keeper, t *afloat.Trip, d Detail) (*Crossing, error) {
	v, err := k.Keep(fmt.Sprintf("crossing %d", d), func() (any, error) { return build(k, t, d) })
	if err != nil {
		return nil, err
	}
	return v.(*Crossing), nil
}

func build(k underway.Keeper, t *afloat.Trip, d Detail) (*Crossing, error) {
	c := &Crossing{Trip: t, keep: k, detail: d}
	if l := lacking(t); len(l) > 0 {
		return nil, &Lacking{l}
	}
	c.Way = underway.New(k, t)
	turns, err := c.Way.Turns()
	if err != nil {
		return nil, err
	}
	crew, err := c.Way.Crew()
	if err != nil {
		return nil, err
	}
	var l []Lacks
	for _, x := range crew.Lacks {
		l = append(l, Lacks(x))
	}
	if len(l) == 0 && len(turns) == 0 {
		l = append(l, Lacks{"voyage.yaml", "crew[0].places", "nobody has a place at the oars: name one that lies on a rowing seat of boat.yaml"})
	}
	if len(l) > 0 {
		return nil, &Lacking{l}
	}
	c.taken()
	v := t.Folder.Voyage
	c.Planned = v.Days
	if c.Planned == 0 {
		c.Planned = t.Days
	}
	c.Spec.Seed = seed
	// A passage that takes twice the stores and a month is not one that was meant.
	c.Spec.Most = math.Max(120, math.Min(400, float64(2*c.Planned+30)))
	if err := c.route(); err != nil {
		return nil, err
	}
	if err := c.seas(); err != nil {
		return nil, err
	}
	c.leaves(v.Leave)
	c.take("the time of the day when she leaves", fmt.Sprintf("%d h by the sun", departing), "modelling choice", "")
	if err := c.boat(turns); err != nil {
		return nil, err
	}
	c.weather()
	return c, c.ready()
}

// boat is how she moves, what the crew make of her, and how both change.
func (c *Crossing) boat(turns []underway.Turn) error {
	grain := underway.Fine
	if c.detail == Quick {
		grain = underway.Coarse
	}
	table, err := c.Way.Motion(grain, c.middling())
	if err != nil {
		return err
	}
	held, err := c.Way.Held(grain)
	if err != nil {
		return err
	}
	if c.Spec.Wear, err = c.wear(turns, c.detail); err != nil {
		return err
	}
	low, high := math.Inf(1), 0.0
	for _, d := range c.Spec.Wear.Days {
		low, high = math.Min(low, d.Load), math.Max(high, d.Load)
	}
	c.Spec.Boat = newBoat(table, held, low, high, grain.Winds[len(grain.Winds)-1]*knot, c.detail)
	made, err := c.Way.Calm(c.Way.Midway(), c.middling())
	if err != nil {
		return err
	}
	if made.Speed > 0 {
		c.Spec.Wear.Pace = math.Min(0.3, made.Spread/twenty/made.Speed)
		c.take("how well her speed is known", fmt.Sprintf("± %.0f %%", 100*twenty*c.Spec.Wear.Pace),
			"the doubts of the crew's power, of the blades and of her resistance, in a calm; drawn once for each passage", "voyage.yaml: crew; trials.yaml")
	}
	stops := 0.0
	if made.Speed > 0 {
		stops, err = c.Way.Stops(c.Way.Midway(), c.middling())
		if err != nil {
			return err
		}
	}
	c.Spec.Rules = c.rules(stops)
	c.Spec.Rules.Habit = c.habit(turns)
	c.take("what waves do to her speed", "nothing", "the table of her motion is of flat water: head seas slow her, following ones help", "")
	return nil
}

// twenty turns a standard deviation into the half width of a 19-in-20 range.
const twenty = 1.959964

// leaves sets the departure: an hour of the sun's mean time on a date.
func (c *Crossing) leaves(on time.Time) {
	date := time.Date(on.Year(), on.Month(), on.Day(), 0, 0, 0, 0, time.UTC)
	sun := departing - c.Places[0].Lon*12/math.Pi
	c.Leave = date.Add(time.Duration(sun * float64(time.Hour))).Round(time.Minute)
	c.Spec.Depart = float64(c.Leave.Unix())
}

// weather is how winds depart from their climatology.
func (c *Crossing) weather() {
	w := c.Trip.Folder.Voyage.Weather
	m := weather.Usual()
	given := func(to *float64, v float64, set bool, what, value, why, key string) {
		if set {
			*to = v
		} else if what != "" {
			c.take(what, value, why, "voyage.yaml: weather."+key)
		}
	}
	given(&m.East, float64(w.East)/3600, w.East > 0, "how long the wind's east part departs", fmt.Sprintf("%.0f h", m.East), "until 1/e is left; between 1 to 2 days of middle latitudes and 2 to 4 of the trades (from memory)", "east")
	given(&m.North, float64(w.North)/3600, w.North > 0, "how long its north part departs", fmt.Sprintf("%.0f h", m.North), "the same; shorter than the east part (Monahan 2012)", "north")
	given(&m.Reach, float64(w.Reach), w.Reach > 0, "how far a departure reaches", c.way(m.Reach), "modelling choice", "reach")
	given(&m.Season, float64(w.Season), w.SeasonGiven && w.Season > 0, "how long a year's departure lasts", fmt.Sprintf("%.0f days", m.Season), "until 1/e is left; modelling choice", "season")
	if w.Spread != nil {
		m.Spread = *w.Spread
	}
	if w.YearGiven {
		m.Year = float64(w.Year)
	} else {
		m.Year = c.years()
		c.take("how much one year's mean wind differs from another's", c.speed(m.Year), "mean along the route of monthly means 1982 to 1992", "voyage.yaml: weather.year")
	}
	c.take("gales", "the tail of the normal", "real tails are heavier where storms pass: gales are, if anything, too few; no squall and no tropical storm is met", "")
	c.Spec.Weather = m
}

// years is the spread of a month's mean wind between years, each way, as a mean along the route at her pace.
func (c *Crossing) years() float64 {
	const tries = 12
	sum := 0.0
	for i := range tries {
		f := (float64(i) + 0.5) / tries
		at, _ := c.Route.At(f * c.Route.Length())
		e, n := climate.StandardSpread(at.Lat, at.Lon, month(c.Spec.Depart+f*float64(c.Planned)*86400))
		sum += (e*e + n*n) / 2
	}
	return math.Sqrt(sum / tries)
}

// ready checks the passage and makes its runner.
func (c *Crossing) ready() error {
	r, err := voyages.New(c.Spec)
	if err != nil {
		return fmt.Errorf("voyage.yaml: %w", err)
	}
	c.Runner, c.made = r, c.madeOf()
	return nil
}

// Leaving is the same boat and load on another day, the wind and the season with it.
func (c *Crossing) Leaving(on time.Time) (*Crossing, error) {
	v, err := c.keep.Keep(fmt.Sprintf("crossing %d leaving %s", c.detail, on.UTC().Format(time.DateOnly)), func() (any, error) {
		o := *c
		o.leaves(on.UTC())
		if !o.Trip.Folder.Voyage.Weather.YearGiven {
			o.Spec.Weather.Year = o.years()
		}
		return &o, o.ready()
	})
	if err != nil {
		return nil, err
	}
	return v.(*Crossing), nil
}

// lacking is what the folder lacks for a passage.
func lacking(t *afloat.Trip) (out []Lacks) {
	v := t.Folder.Voyage
	put := func(key, why string) { out = append(out, Lacks{"voyage.yaml", key, why}) }
	if v == nil || !v.From.Given {
		put("from", "where she leaves: {name: Mindelo, at: [16.886 N, 24.988 W]}")
	}
	if v == nil || !v.To.Given {
		put("to", "where she is bound: {name: Bridgetown, at: [13.10 N, 59.63 W]}")
	}
	if v == nil || v.Leave.IsZero() {
		put("leave", "the winds and the season are those of the date: 2027-01-12")
	}
	if v == nil || v.Days == 0 && t.Days == 0 {
		put("days", "how many days the stores are meant for")
	}
	return out
}

// taken lists what was taken of the boat and the crew.
func (c *Crossing) taken() {
	for _, all := range [][]underway.Assumed{c.Way.Assumed, c.Way.CrewTaken(), c.Way.RigTaken()} {
		for _, a := range all {
			c.Assumed = append(c.Assumed, Assumed(a))
		}
	}
}

func (c *Crossing) take(what, value, why, file string) {
	c.Assumed = append(c.Assumed, Assumed{what, value, why, file})
}

func (c *Crossing) note(format string, args ...any) {
	c.Notes = append(c.Notes, fmt.Sprintf(format, args...))
}

func (c *Crossing) speed(v float64) string { return c.Trip.Folder.Boat.Units.Speed(units.Speed(v)) }
func (c *Crossing) way(m float64) string   { return c.Trip.Folder.Boat.Units.Way(units.Length(m)) }
