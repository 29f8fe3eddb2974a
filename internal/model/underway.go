package model

import (
	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/units"
)

// What the boat is rowed, steered, held and stopped with. A figure that the folder does not give is nothing or nil;
// the question that needs it takes a default and lists it, or says that it is missing.

// RowingPlace is a place from which she is rowed. The rower faces aft: the feet lie aft of the seat, the gates between.
type RowingPlace struct {
	Name      string
	Seat      r3.Vec       // top of the seat under the hips; a sliding one at its bow stop
	Travel    units.Length // of a sliding seat, aft from its bow stop; 0 for a fixed one
	Stretcher *Stretcher
	Gates     *Gates
	Oars      *Oars
	OneSide   bool // one oar on one side; else a pair
	Source    Source
}

// Stretcher is the board that the feet press against.
type Stretcher struct {
	At     r3.Vec      // the heels, midway between the feet
	Angle  units.Angle // of the board to the level; 0 when not given
	Places []float64   // how far aft of At it can stand; one of nothing for a fixed one
	Source Source
}

// Gates are what the oars work in.
type Gates struct {
	// At is the pin on starboard at the height on which the oar rests; port is alike. Of one oar on one side it is
	// that one's, with its side in Y.
	At     r3.Vec
	Places []float64    // how far aft of At the pins can stand; one of nothing for fixed ones
	Above  units.Length // how much higher the starboard oar rests than the port one
	Source Source
}

// Oars are those of a rowing place, all alike.
type Oars struct {
	Length, Inboard         units.Length // whole, and from the handle's end to the pin
	BladeLength, BladeWidth units.Length // 0 when not given
	Count                   int          // in use at once: 2, or 1 on one side
	Grip                    units.Length // thickness of the handle; 0 when not given
	Source                  Source
}

// Rudder is the blade that she is steered with.
type Rudder struct {
	At           r3.Vec        // top of the blade at its leading edge, amidships
	Chord, Depth units.Length  // fore and aft, and from At down
	Below        *units.Length // how much of the depth stands below the hull, in clear water; nil when not given
	Turns        units.Angle   // each way; 0 when not given
	Balance      float64       // share of the chord forward of the stock
	Raised       bool          // lifted out of the water
	Source       Source
}

// Board is a dagger board, a centreboard or a skeg.
type Board struct {
	Name         string
	At           r3.Vec       // where its middle leaves the hull
	Chord, Depth units.Length // fore and aft, and below the hull
	Down         bool
	Source       Source
}

// WindKind is the form of what stands in the wind.
type WindKind string

// The forms of what stands in the wind, as boat.yaml names them; empty when not given.
const (
	WindBox     WindKind = "box"
	WindRounded WindKind = "rounded"
	WindPole    WindKind = "pole"
	WindRail    WindKind = "rail"
	WindWire    WindKind = "wire"
)

// WindPart is a thing above the deck, beside hull and cabins.
type WindPart struct {
	Name   string
	At     r3.Vec          // its middle
	Size   [3]units.Length // along, across, up
	Kind   WindKind
	Source Source
}

// Rope is a line or a chain with what it breaks at.
type Rope struct {
	Length   units.Length
	Diameter units.Length // of a chain, of its link's wire; 0 when not given
	Strength units.Force  // 0 when not given
	Source   Source
}

// SeaAnchorKind is how a sea anchor is made.
type SeaAnchorKind string

// The kinds of sea anchor and drogue, as boat.yaml names them.
const (
	Parachute    SeaAnchorKind = "parachute"
	Cone         SeaAnchorKind = "cone"
	SeriesDrogue SeaAnchorKind = "series drogue"
)

// End is an end of the boat.
type End string

// The ends of the boat, as boat.yaml names them; empty when not given.
const (
	Bow   End = "bow"
	Stern End = "stern"
)

// SeaAnchor is a sea anchor or a drogue.
type SeaAnchor struct {
	Name     string
	Kind     SeaAnchorKind
	Diameter units.Length // laid flat of a parachute, of the mouth of a cone, of one cone of a series
	Cones    int          // of a series drogue; else 0
	From     End
	Line     *Rope
	Fitting  units.Force // what the fitting breaks at; 0 when not given
	Source   Source
}

// AnchorKind is the form of an anchor.
type AnchorKind string

// The forms of anchors, as boat.yaml names them.
const (
	Fluke  AnchorKind = "fluke"
	Plough AnchorKind = "plough"
	Claw   AnchorKind = "claw"
)

// Anchor is one for the ground.
type Anchor struct {
	Name        string
	Kind        AnchorKind
	Mass        units.Mass
	Chain, Line *Rope
	Source      Source
}

// Power is what a person gives at the handles, kept up for the hours of a day, with the half width of its 19-in-20 range.
type Power struct {
	Value, Tolerance units.Power // both 0 when not given
	Given            bool        // the tolerance was given
}

// Build is a person's build, for the published proportions; empty when not given.
type Build string

// The builds that published proportions are given for.
const (
	Man   Build = "man"
	Woman Build = "woman"
)
