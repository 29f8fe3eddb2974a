// Package crossing is the passage of a boat folder made ready to be simulated: her motion, her crew's day, her stores, the
// winds and currents of her route and the land about it, put together for package voyages.
//
// What hangs on the folder is worked out once and kept by its case; passages made for one question serve the next.
package crossing

import (
	"context"
	"errors"
	"time"

	"thole/internal/afloat"
	"thole/internal/earth"
	"thole/internal/underway"
	"thole/internal/voyages"
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

// The details: Whole for an answer, Quick for a row of the lever table (a coarser table of motion; see TestQuickAgainstWhole).
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
}

// New puts a folder's passage together, once for each detail.
//
// Error:  *Lacking, where inputs are missing; else why she cannot be rowed or the route not be sailed
func New(k underway.Keeper, t *afloat.Trip, d Detail) (*Crossing, error) {
	return nil, errors.New("crossing: not built")
}

// Leaving is the same boat and load on another day, the wind and the season with it.
func (c *Crossing) Leaving(on time.Time) (*Crossing, error) {
	return nil, errors.New("crossing: not built")
}

// Many makes the first n passages and tallies them; what was made before is not made again.
//
// In:     progress, if not nil, is told of passages done of n
// Error:  the context's, with the tally of none; the runner's
func (c *Crossing) Many(ctx context.Context, n int, progress func(done, total int)) (*voyages.Tally, error) {
	return nil, errors.New("crossing: not built")
}

// Spread is the days of arrival of a tally as package sustenance asks them.
type Spread struct{ *voyages.Tally }

// By is the share of all passages that have arrived so many days after leaving.
func (s Spread) By(days float64) float64 { return s.ArrivedBefore(days) }

// Track is one passage for a map and a table.
type Track struct {
	Number  uint64
	Name    string // "one in two", "one in ten late", ...
	Passage voyages.Passage
	Moments []voyages.Moment
}

// Tracks are the passages whose arrival is nearest to being early, middling and late (one in twenty, one in two, nineteen in
// twenty), and one of each other end that befell more than one in a hundred.
func (c *Crossing) Tracks(ctx context.Context, t *voyages.Tally) ([]Track, error) {
	return nil, errors.New("crossing: not built")
}

// Reach tells at one distance before the landfall how far to either side she may stand off the route and still reach it.
type Reach struct {
	Before      float64     // m of the route left
	On          earth.Place // the route's own place there
	North       float64     // m to the left of the way from which Asked of the passages still arrive; the search's end when OpenNorth
	South       float64     // the same to the right
	Left, Right earth.Place
	// LeftOpen and RightOpen say that even the search's end still arrives.
	LeftOpen, RightOpen bool
	Share               float64 // of those that begin on the route and arrive
}

// Lost is the line beyond which the landfall can no longer be reached by so many: at each of some distances before it, in
// the weather of the season at which she comes there.
//
// In:     asked, the share that is to arrive, over 0 to 1
func (c *Crossing) Lost(ctx context.Context, asked float64) ([]Reach, error) {
	return nil, errors.New("crossing: not built")
}

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

// Tonight is how far she may be set in a night at a place: how near to land one may drift.
//
// In:     hours that nobody rows; doubt, m, how far her own place may be wrong
func (c *Crossing) Tonight(ctx context.Context, at earth.Place, when time.Time, hours, doubt float64) (Night, error) {
	return Night{}, errors.New("crossing: not built")
}
