// Package model holds the boat, its load and its voyage as plain values.
//
// Everything is SI and radians: metres, kilograms, days as day numbers. Points
// are in the boat's frame: x aft from station 0, y to starboard, z up from the
// base line. The package reads no file and draws nothing; boatfolder fills it.
package model

import (
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/units"
)

// Folder is one boat folder, read and found valid.
type Folder struct {
	Dir    string // where it was read from
	Boat   Boat
	Stores []Store
	Voyage *Voyage // nil when the folder has none
	Trials *Trials // nil when the folder has none
	Needs  *Needs  // nil when the folder has none
	Levers []Lever // whatif.yaml, in its order
	Notes  []Note  // what the reader passed over or took for granted
	// Stamp marks the content of all files but trials.yaml and whatif.yaml, so that it can be written down in the first.
	Stamp string
}

// Note says what the reader did with something it found.
type Note struct {
	Where Source
	What  string // what was taken: "reading left blank: station 4, row 7"
	Why   string
}

// Source leads a person to the line that a value came from.
type Source struct {
	File   string // relative to the folder
	Line   int    // 1 is the first
	Column int    // 1 is the first
	Key    string // hull.scale, weights[3].mass
}

// Boat is boat.yaml.
type Boat struct {
	Name         string
	About        string
	Units        units.System
	Water        units.Density // 0 when not given
	Hull         Hull
	Camber       units.Length // crown of the deck above its edge at her widest; 0 is flat
	Cabins       []Cabin
	Wells        []Well
	Compartments []Compartment
	Openings     []Opening
	Pumps        []Pump
	Weights      []Weight
	Marks        []Mark
	Limits       Limits
	Loft         Loft
	Rowing       []RowingPlace
	Rudder       *Rudder // nil when the folder has none
	Boards       []Board
	Windage      []WindPart
	SeaAnchors   []SeaAnchor
	Anchors      []Anchor
	Makers       []WaterMaker
}

// Loft is how she is to be built; what is nothing was not said.
type Loft struct {
	Planking string // lapped, panels or strips; empty when not said
	Strakes  int
	Lap      units.Length
	Strip    units.Length // width of a diagonal strip
	Angle    units.Angle  // of the strips to the keel
	Layers   int
	Moulds   []float64 // places; the measured stations when empty
	Mould    units.Length
	Stringer units.Length
	SetUp    *float64 // height of the set-up line
	Siding   units.Length
	Scarf    float64 // length over thickness

	SheetLength, SheetWidth units.Length

	Source Source
}

// Hull is the measured hull.
type Hull struct {
	File      string       // the table it was read from
	FromModel bool         // read from a half model's cuts
	Scale     float64      // full size over model; 1 for offsets
	Tolerance units.Length // of a reading, on the thing measured
	// ToleranceGiven is false where Tolerance is the default.
	ToleranceGiven bool
	Inside         bool         // readings are to the inside of the planking
	Planking       units.Length // 0 when not given
	Readings       Readings
	Source         Source
}

// Readings is a table of measured points, already full size.
type Readings struct {
	Stations []Station // from the bow aft, ascending X
	Stem     []r3.Vec  // points of the stem profile from the foot up, Y = 0; may be empty
	Stern    []r3.Vec  // likewise at the stern
}

// Station is one cut: points from keel to sheer on the starboard side.
type Station struct {
	Label  string
	X      float64
	Points []Reading
}

// Reading is one measured point of a station, full size.
type Reading struct {
	Z, Y    float64 // height above base, half-breadth
	Corner  bool    // the section is sharp here (a doubled row, or a knuckle)
	Knuckle string  // the sharp line along the boat that it belongs to, if named
	Source  Source
}

// Cabin is a watertight solid on the deck, closed flat at its ends.
type Cabin struct {
	Name      string
	Readings  Readings
	Tolerance units.Length
	Source    Source
}

// Well is a solid taken out of the hull.
type Well struct {
	Name     string
	Readings Readings
	// OpenToTheSea: water stands in it as outside. A well that is not open
	// is dry until its rim goes under.
	OpenToTheSea bool
	Drains       []Drain
	Source       Source
}

// Drain is a hole through which a well empties over the side.
type Drain struct {
	Name string
	// At is the lowest point of its inner end. An even number of them off the centre line
	// stands half on either side.
	At            r3.Vec
	Diameter      units.Length // 0 for a rectangle
	Width, Height units.Length // 0 for a round one
	Kind          DrainKind
	Flap          bool         // shuts against the sea
	Fall          units.Length // of a tube, from its inner end down to its outer
	Count         int
	Coefficient   float64 // of discharge; 0 when not given
	Source        Source
}

// DrainKind is how a drain is made.
type DrainKind string

// The kinds of drain, as boat.yaml names them.
const (
	Tube        DrainKind = "tube"
	Slot        DrainKind = "slot"
	FreeingPort DrainKind = "freeing port"
)

// Side is a side of the boat.
type Side int

// The sides a compartment may lie on.
const (
	Both Side = iota
	Port
	Starboard
)

// Compartment is a closed part of the inside.
type Compartment struct {
	Number            int // 0 when not numbered
	Name              string
	From, To          float64
	Side              Side
	Sole, Top         *float64 // nil: the skin, the deck
	Inboard, Outboard *float64 // nil: the centre line, the skin
	Cabin             string   // the cabin whose inside it takes in; empty for none
	Wet               bool
	Packing           float64    // share of the volume that can be filled; 0 when not given
	Reach             Reach      // unsaid when not given: Boat.ReachOf
	Limit             units.Mass // the most that it may bear; 0 when not given
	Source            Source
}

// Opening is a hatch, a vent or a hole.
type Opening struct {
	Name   string
	At     r3.Vec
	Width  units.Length
	Height units.Length
	Into   string // a compartment or cabin
	Closed bool
	// NonReturn: a vent that shuts by itself when it goes under, if it works.
	NonReturn bool
	Source    Source
}

// Admits tells whether the sea comes in through the opening once it is under.
func (o *Opening) Admits() bool { return !o.Closed && !o.NonReturn }

// Pump is a bilge pump: one worked by hand has a stroke, an electric one a flow.
type Pump struct {
	Name   string
	Hand   bool
	Stroke units.Volume // of a hand pump's full stroke
	Rate   float64      // strokes a second
	Flow   float64      // m³/s of an electric pump with nothing to lift
	Shut   units.Length // the lift at which an electric pump moves nothing; 0 when not given
	Bore   units.Length // of the hose; 0 when not given
	Length units.Length // of the hose; 0 when not given
	Outlet *float64     // height at which the hose ends; nil for the deck's edge
	// Reaches are the compartments that its suction can be put into, by index.
	Reaches []int
	Source  Source
}

// Known says how a mass came to be known.
type Known int

// How a mass came to be known.
const (
	Unsaid Known = iota
	Estimated
	Weighed
	Calculated
)

// Mass is a mass with the half width of its 19-in-20 range.
type Mass struct {
	Value     units.Mass
	Tolerance units.Mass // the usual one for how it is known when Given is false
	Given     bool
	Known     Known
}

// Place is where something is: a point, or a compartment by index.
type Place struct {
	At          r3.Vec
	Tolerance   r3.Vec // half widths of the 19-in-20 range, 0 where not given
	Compartment int    // index into Boat.Compartments, or -1 for the point At
	None        bool   // not aboard
}

// Weight is a fixed thing aboard.
type Weight struct {
	What    string
	Count   int
	Mass    Mass // of one
	Where   Place
	Ballast bool
	// Provides are the functions that it serves or words that they name, and Needs what it is of no use without.
	Provides, Needs []string
	Dry             Dryness
	Expires         time.Time    // the last day on which it is good; zero when not given
	Inspect         time.Time    // the day by which it is to be looked at; zero when not given
	Drink           units.Volume // fresh water in one
	Kept            Keeping
	Source          Source
}

// Mark is a height at which the water should stand.
type Mark struct {
	Name   string
	X, Z   float64
	Source Source
}

// Limits is what the person asks of the boat; nil where nothing was said.
type Limits struct {
	Freeboard  *units.Length
	HeightLeft *units.Length
	Heel       *units.Angle
	Trim       *units.Angle
	Clearance  *units.Length // least room round the hands, the knees and the oars
	Wind       *units.Speed  // in which she is to keep her course
	Sector     *units.Angle  // courses to be kept so far either side of dead downwind
}

// Store is a row of stores.csv. What was not said is the zero of its kind.
type Store struct {
	What     string
	Count    int
	Mass     Mass // of one
	Where    Place
	Use      Use
	Volume   units.Volume    // of one
	Size     [3]units.Length // of one, the longest side first
	Group    string          // food, fuel, tools, ...
	Apart    []string        // groups that it may not lie with
	Dry      Dryness
	Most     float64      // share of them that may lie in one compartment
	Reach    Reach        // the least convenient place allowed
	Pinned   bool         // it stays where it is
	Provides []string     // the functions that it serves or words that they name
	Needs    []string     // functions, words or conditions that it is of no use without
	Expires  time.Time    // the last day on which it is good
	Inspect  time.Time    // the day by which it is to be looked at
	Energy   units.Energy // food energy of one; 0 when it is no food or not said
	Soaks    units.Volume // water that one needs to be food
	Drink    units.Volume // fresh water in one
	Kept     Keeping
	Notes    string
	Source   Source
}

// Use is when a store is used up.
type Use struct {
	// First and Last are days counted from 1; both 0 for a store that is kept.
	// The mass goes evenly from the start of First to the end of Last.
	First, Last int
	// Into is where the mass goes; nil when it leaves the boat.
	Into *Place
}

// Voyage is voyage.yaml.
type Voyage struct {
	From, To Waypoint
	By       []Waypoint
	Leave    time.Time // zero when not given
	Days     int
	Crew     []Person
	// Scrape is after how many days the bottom is scraped again; 0 for never.
	Scrape           int
	WaterTemperature *units.Temperature // nil when not given
	// Wind and Current are the person's own, by month; nil for the embedded ones. Sets are currents of parts of the sea.
	Wind, Current, Sets *File
	Habits              Habits
	Rules               Rules
	Weather             Weather
	Diet                Diet
	Source              Source
}

// Waypoint is a named place on the earth, degrees north and east.
type Waypoint struct {
	Name     string
	Lat, Lon units.Angle
	Within   units.Length // how near counts as passed or, of the landfall, as arrived; 0 when not given
	Given    bool
}

// Person is one of the crew and the places that they may be in.
type Person struct {
	Name   string
	Mass   Mass
	Places []CrewPlace // in the order of the file

	// Of the body, for the oars; each nothing when not given.
	Stature, InsideLeg units.Length
	Body               Build
	Age                int
	Power              Power
	Hours              units.Duration // at the oars in a day

	// Of the body, for food and water.
	Fat     Range // share of the mass that is fat
	Eats    Range // share of a full day's bag that is eaten once at sea
	Seasick *int  // days until all of that is eaten; 0 never sick; nil when not said
}

// CrewPlace is a named place for a person.
type CrewPlace struct {
	Name  string
	Where Place
}
