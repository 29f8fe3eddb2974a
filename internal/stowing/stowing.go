// Package stowing finds a place for every item and the order in which stores are used, so
// that trim, heel and height stay within what is asked on every day, at the least handling.
//
// # The problem
//
// Days are numbered from 1; state d is the boat after day d, state 0 is the departure. The
// days are cut into blocks of equal length (a week, or more where the program would grow
// too large). Decided are, in whole units,
//
//	w[i,p]    units of item i that lie in place p at departure
//	f[i,p,b]  units of item i taken out of p in block b, for what is used up
//
// with sum over p of f[i,p,b] = what item i is used in block b (its units, spread evenly
// over its days of use), w[i,p] = sum over b of f[i,p,b], and sum over p of w[i,p] = units.
//
// Rules (always): a place holds no more than its volume and its mass; what is larger than
// an opening does not go through it; what must be dry lies dry; groups that must lie apart
// do; nothing lies where it is banned; what is pinned stays; of what is to be kept in several
// places so much lies in those that count (Keep). All hold at departure and, as stocks only
// fall, on every later day; a Keep that is for the end holds to the last piece used.
//
// Wishes (at a price): on every check day (departure, and the end of each block) the x
// moment within bounds, |y moment| and z moment below a bound; no more than a share of an
// item in one place; nothing in a place that is harder to reach than its item allows.
//
// The objective is
//
//	sum over blocks and places opened in them of Open[reach] · (days of the block / days)
//	+ Spread · (places in which an item lies, less one, over the items that are kept)
//	+ for trim, heel, height: weight · (worst check day + mean of the check days)
//	+ Share · units over the share + Reach · units · steps too far
//	+ Part · (places in which an item lies, less one, over the items that are used up)
//	+ Move · (places in which an item lies and did not lie before)
//
// so that 1 is the work of having one easy place open on every day of the trip. Stores that
// are used up lie in many places by their nature (a week's bags together); what that costs
// is the opening, and a little for each place more that a person has to write down. Moments
// are linear in what is decided, because the mass on each day is given by the use alone.
// The whole is a mixed-integer linear program (file program.go): a quick search gives a
// good plan, HiGHS betters it and gives the bound that no plan can pass.
//
// Days between two check days are worked out unit by unit and reported, not priced: what
// is taken out of several places in one block is taken in turn, so that they lie close to
// the line between the check days.
//
// Source: Martello & Toth, Knapsack Problems (1990), ch. 6-8 (assignment and packing);
// Chinneck, Feasibility and Infeasibility in Optimization (2008), ch. 6-7 (elastic programs,
// the deletion filter)
package stowing

import "gonum.org/v1/gonum/spatial/r3"

// Side is the side of the boat on which a place lies.
type Side int

// The sides.
const (
	Both Side = iota // amidships, or across the boat
	Port
	Starboard
)

// Reach is how hard a place is to get at, easiest first.
type Reach int

// The reaches, easiest first.
const (
	AtSeat    Reach = iota // from the rowing seat
	FromCabin              // from inside a cabin
	InCalm                 // only in calm weather
	reaches
)

// Place is one compartment, or one part of it that is packed by itself.
type Place struct {
	Name      string
	Volume    float64    // usable, m³
	At        r3.Vec     // centre of what lies there, m
	Side      Side       // shown with the plan; the moments go by At
	Wet       bool       // what must be dry may not lie here
	Opening   [2]float64 // clear width and height, m; 0, 0: not known, everything goes through
	Reach     Reach
	MassLimit float64 // kg; 0: none
}

// Item is one kind of thing, in units that are alike.
type Item struct {
	Name        string
	Units       int
	Mass        float64      // of one unit, kg
	Volume      float64      // of one unit as packed, m³
	Size        [3]float64   // of one unit, m; 0, 0, 0: not known
	Dry         bool         // needs a dry place
	Group       string       // what Apart of other items names
	Apart       []string     // groups with which it may not lie in one place
	MostShare   float64      // never more than this share of its units in one place; 0: no wish (one unit is always allowed)
	Reach       Reach        // the worst reach wished for
	AnyReach    bool         // Reach does not matter
	First, Last int          // first and last day on which it is used; 0, 0: kept
	Pins        map[int]int  // place → units, at least, that must lie there
	Banned      map[int]bool // places in which it may not lie
	Was         map[int]bool // places in which it lies now: Move is the price of any other; nil: it lies nowhere yet
}

// Keep is a rule about several items and places: of these at least so many units lie there.
// So of two things of which one stands in for the other both do not come to lie in one place.
type Keep struct {
	Name  string
	Of    []Part
	Least int
	// ToEnd counts of what is used up only what is used in the last block in which it is: that
	// lies there until all of it is used up.
	ToEnd bool
}

// Part is an item in a place.
type Part struct{ Item, Place int }

// Load is a mass and its first moment.
type Load struct {
	Mass   float64 // kg
	Moment r3.Vec  // kg m
}

// Limits are what is wished of the boat's whole moment on one day; ±Inf where nothing is.
type Limits struct {
	XMin, XMax float64 // kg m: trim
	YMax       float64 // kg m, of |y moment|: heel
	ZMax       float64 // kg m: height
}

// Trip is the time over which the stores are used.
type Trip struct {
	Days   int      // how many days
	Rest   []Load   // all that is not stowed here, by state 0..Days; one for all states, or none
	Limits []Limits // by state 0..Days; one for all states, or none
	Block  int      // days of a block; 0: a week, or more where the program would be too large
}

// Weights are the prices of the objective. The zero Weights are the usual ones.
type Weights struct {
	Open   [3]float64 // a place of each reach, open on every day
	Spread float64    // each further place in which an item that is kept lies
	Part   float64    // each further place in which an item that is used up lies
	Move   float64    // each place in which an item lies that it does not lie in now
	Trim   float64    // per kg m outside
	Heel   float64    // per kg m outside
	Height float64    // per kg m above
	Share  float64    // per unit over the share
	Reach  float64    // per unit and step of reach too far
}

// UsualWeights are prices by which a broken wish is dearer than any saving of work: a
// place only reached in calm weather is four times the work of one at the seat, 10 kg m
// outside the trim costs as much as one more place open on every day. People forget moves and
// labels: a further place of what is used up costs as much as an easy place open on four days of
// a hundred, a thing in a place new to it as much as one on two days. No source: judgement.
func UsualWeights() Weights {
	return Weights{Open: [3]float64{1, 2, 4}, Spread: 0.05, Part: 0.04, Move: 0.02, Trim: 0.1, Heel: 0.2, Height: 0.2, Share: 2, Reach: 1}
}

// Problem is what is to be stowed, where, for which trip.
type Problem struct {
	Places  []Place
	Items   []Item
	Keeps   []Keep
	Trip    Trip
	Weights Weights // zero: UsualWeights
	Lies    bool    // everything already lies where Pins says (all units pinned): only the order of use is sought, and rules are not applied again
}

// Layout is where everything lies at departure and out of which place it is used.
type Layout struct {
	Where [][]int   // item → place → units
	Take  [][][]int // item → block → place → units; nil for an item that is kept
}

// Clone is a copy that shares nothing.
func (l Layout) Clone() Layout {
	var out Layout
	for _, w := range l.Where {
		out.Where = append(out.Where, append([]int(nil), w...))
	}
	for _, t := range l.Take {
		var blocks [][]int
		for _, b := range t {
			blocks = append(blocks, append([]int(nil), b...))
		}
		out.Take = append(out.Take, blocks)
	}
	return out
}
