// Package plan is the boat as she is stowed, to be looked at and rearranged: the outline of every compartment from
// above and from the side, what lies in it on a day and how much room is left, which one is opened on which day, and
// what carrying a thing to another place writes into the folder.
//
// The outlines are read off the same stacks of cuts that the volumes come from. Metres in the boat's frame. A thing in a
// compartment is drawn somewhere inside its outline: the folder does not say where, and nothing is worked out from it.
package plan

import (
	"math"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/sheet"
)

// Stowage is the whole boat on a day.
type Stowage struct {
	Views    []StowView   `json:"views"`
	Now      Stowed       `json:"now"`
	Calendar []OpenedWeek `json:"calendar"`
	// CanPin: the table of stores has a column that says what stays where it is.
	CanPin bool `json:"can_pin"`
}

// StowView is one look at her: from above, one for each layer of compartments that lie over one another, and each side
// from amidships. What lies in several layers is in the view of each side once.
type StowView struct {
	Name    string        `json:"name"`
	Drawing sheet.Drawing `json:"drawing"` // hull, cabins and wells
	Lockers []Outline     `json:"lockers"`
}

// Outline is a compartment in a view.
type Outline struct {
	Locker int          `json:"locker"` // index into Stowed.Lockers
	Points [][2]float64 `json:"points"`
	At     [2]float64   `json:"at"` // the upper corner in which its number stands
	// Spots are places inside it, for what lies there, as many as the fullest day needs.
	Spots []Dot `json:"spots"`
}

// Dot is where a thing is drawn.
type Dot struct {
	Thing  string     `json:"thing"` // its id
	At     [2]float64 `json:"at"`
	Radius float64    `json:"radius"` // goes by its mass
}

// Stowed is what lies where on a day, and how she floats with it.
type Stowed struct {
	Day     int      `json:"day"`
	Lockers []Locker `json:"lockers"` // in the folder's order
	Things  []Thing  `json:"things"`  // in the folder's order
	Afloat  Afloat   `json:"afloat"`
}

// Locker is a compartment on a day.
type Locker struct {
	Name   string `json:"name"`   // as people shout it: 202 fore bin port
	Short  string `json:"short"`  // its number, or its name
	Word   string `json:"word"`   // as the table of stores names it
	Side   string `json:"side"`   // port, starboard or both
	Reach  string `json:"reach"`  // at the seat, from the cabin or in calm
	Wet    bool   `json:"wet"`    // what must be dry may not lie there
	Hatch  string `json:"hatch"`  // the largest opening into it; empty for none known
	Usable string `json:"usable"` // how much goes into it
	Filled string `json:"filled"`
	Room   string `json:"room"` // what is left, or how much too much there is
	// Share is how full it is, 1 for full; Over: it holds more than goes into it.
	Share float64 `json:"share"`
	Over  bool    `json:"over"`
	Mass  string  `json:"mass"`
	Limit string  `json:"limit"` // the most that it may bear; empty when not given
	// TooHeavy: it bears more than its limit.
	TooHeavy bool `json:"too_heavy"`
	// Unknown is how many kinds of things in it have no volume, so that its room is less than it seems.
	Unknown int `json:"unknown"`

	UsableVolume float64 `json:"usable_m3"`
	FilledVolume float64 `json:"filled_m3"`
	MassIn       float64 `json:"mass_kg"`
	MassLimit    float64 `json:"limit_kg"` // 0 when not given
}

// Thing is a row of the stores, or a fixed weight that lies in a compartment.
type Thing struct {
	ID     string `json:"id"` // its file and row
	Name   string `json:"name"`
	Locker int    `json:"locker"` // -1: it lies at a point
	Count  int    `json:"count"`  // at the departure
	Left   int    `json:"left"`   // at the end of the day
	Mass   string `json:"mass"`   // of what is left
	Volume string `json:"volume"` // of what is left; empty when not known
	Group  string `json:"group"`
	Used   string `json:"used"` // the days on which it is used; empty when it is kept
	Reach  string `json:"reach"`
	Dry    bool   `json:"dry"` // it must lie dry
	Pinned bool   `json:"pinned"`
	Fixed  bool   `json:"fixed"` // a weight of boat.yaml: it is not carried about

	File   string `json:"file"`
	Line   int    `json:"line"`
	Key    string `json:"key"` // of its place
	Was    string `json:"was"` // what stands there
	PinKey string `json:"pin_key"`
	PinWas string `json:"pin_was"`

	MassLeft   float64 `json:"mass_kg"`
	VolumeLeft float64 `json:"volume_m3"`

	At [3]float64 `json:"-"` // where Locker is -1
}

// Afloat is how she lies on the day in the crew's place that is shown.
type Afloat struct {
	Trim      string `json:"trim"`
	Heel      string `json:"heel"`
	Freeboard string `json:"freeboard"`
	Why       string `json:"why"` // why she could not be floated; then the rest is empty

	TrimDeg    float64 `json:"trim_deg"`
	HeelDeg    float64 `json:"heel_deg"`
	FreeboardM float64 `json:"freeboard_m"`
}

// Draw is the whole stowage of a case on a day in a condition. d is what the case's folder was read from.
//
// Error: the shape could not be built, or there is no such day or condition
func Draw(c *answer.Case, d *boatfolder.Draft, day int, condition string) (Stowage, error) {
	now, err := Load(c, d, day, condition)
	if err != nil {
		return Stowage{}, err
	}
	t, err := c.Trip()
	if err != nil {
		return Stowage{}, err
	}
	p := &pen{trip: t, boat: &c.Folder.Boat, now: &now}
	out := Stowage{Views: p.views(), Now: now, Calendar: calendar(c.Folder, now.Lockers)}
	for _, th := range now.Things {
		out.CanPin = out.CanPin || th.PinKey != ""
	}
	return out, nil
}

// round leaves of a length what is finer than a tenth of a millimetre, so that it is short to send.
func round(v float64) float64 { return math.Round(v*1e4) / 1e4 }
