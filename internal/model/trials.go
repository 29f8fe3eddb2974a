package model

import (
	"slices"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/units"
)

// Trials is trials.yaml: what was measured afloat.
type Trials struct {
	Floated  []Floated
	Inclined []Inclined
	Rolled   []Rolled
	Turned   []TurnedOver
}

// Trial is what every trial says of itself.
type Trial struct {
	Date    time.Time
	Day     int           // the folder's day whose load was aboard
	Crew    string        // a condition of the folder; empty for the first
	Water   units.Density // 0: the folder's
	Also    []Weight      // aboard for the trial and not in the folder
	Remarks string
	Source  Source
}

// Floated is a set of freeboards read at one time.
type Floated struct {
	Trial
	Freeboards []Freeboard
}

// Freeboard is a height of the deck's edge above the water, square to it.
type Freeboard struct {
	X         float64
	Side      Side    // Both: the same was read on either side
	Height    float64 // metres
	Tolerance float64 // half width of the 19-in-20 range; 0 where not given
	Source    Source
}

// Inclined is an inclining experiment.
type Inclined struct {
	Trial
	Moves []Move
}

// Move is a weight moved across from where it stood when she lay at rest, and the heel that it made.
type Move struct {
	Mass            Mass
	Across          float64 // metres, to starboard positive
	AcrossTolerance float64 // 0 where not given
	Pendulum        float64 // its length; 0 where the angle was read
	Deflection      float64 // of the pendulum, to starboard positive
	Angle           float64 // radians, to starboard positive, where there is no pendulum
	Tolerance       float64 // of the deflection or the angle; 0 where not given
	Source          Source
}

// Rolled is a count of small rolls in still water.
type Rolled struct {
	Trial
	Rolls   int
	Seconds float64 // for all of them
}

// TurnedOver is a recorded capsize test.
type TurnedOver struct {
	Trial
	Ballast string
	Hatches string
	Seconds float64 // until she was upright; 0 where not said
	Righted bool
	// What was worked out when the test was made; nil where not written down.
	Mass   *Mass
	Height *float64 // of gravity above the base line
	// HeightTolerance is 0 where not given.
	HeightTolerance float64
	Stamp           string
}

// With is a state with more aboard.
func (s State) With(items ...Item) State {
	if len(items) == 0 {
		return s
	}
	s.Items = append(slices.Clip(s.Items), items...)
	s.Mass = 0
	s.sum()
	return s
}

// Items are weights as things aboard. rooms are the compartments' centres, in the order of Boat.Compartments.
func Items(weights []Weight, rooms []r3.Vec) []Item {
	var out []Item
	for _, w := range weights {
		at, tolerance := w.Where.At, w.Where.Tolerance
		if c := w.Where.Compartment; c >= 0 && c < len(rooms) {
			at = rooms[c]
		}
		if tolerance == (r3.Vec{}) {
			tolerance = PlaceTolerance
		}
		n := float64(max(1, w.Count))
		out = append(out, Item{What: w.What, Mass: float64(w.Mass.Value) * n, At: at, Doubt: float64(w.Mass.Tolerance) * n * half,
			Shift: r3.Scale(half, tolerance), Known: w.Mass.Known, Given: w.Mass.Given})
	}
	return out
}
