package model

import (
	"math"
	"time"

	"gonum.org/v1/gonum/spatial/r3"
)

// Reach is how well a place is reached; a smaller one is the better.
type Reach int

// From where a compartment is reached.
const (
	ReachUnsaid Reach = iota
	AtTheSeat
	FromTheCabin
	InCalm // only in calm
)

// String is the reach as the folder writes it.
func (r Reach) String() string {
	switch r {
	case AtTheSeat:
		return "at the seat"
	case FromTheCabin:
		return "from the cabin"
	case InCalm:
		return "in calm"
	}
	return ""
}

// Dryness is what water does to a thing.
type Dryness int

// What water does to a thing.
const (
	DryUnsaid Dryness = iota
	KeepDry           // it must lie dry
	MayBeWet          // water does it no harm
)

// Hatch is the largest opening that leads into a compartment, or into the cabin whose inside it takes in; nil for none.
func (b *Boat) Hatch(i int) *Opening {
	c := &b.Compartments[i]
	var best *Opening
	for k := range b.Openings {
		o := &b.Openings[k]
		own := o.Into != "" && (o.Into == c.Name || o.Into == c.Cabin)
		if own && (best == nil || float64(o.Width)*float64(o.Height) > float64(best.Width)*float64(best.Height)) {
			best = o
		}
	}
	return best
}

// Under is the cabin that a compartment lies under and whose inside it is no part of, by their places along
// the boat: most of it, with a top of its own; empty for none.
func (b *Boat) Under(i int) string {
	c := &b.Compartments[i]
	if c.Cabin != "" || c.Top == nil {
		return ""
	}
	name, most := "", (c.To-c.From)/2
	for k := range b.Compartments {
		over := &b.Compartments[k]
		if over.Cabin == "" || over.Sole == nil || *over.Sole < *c.Top-0.05 {
			continue
		}
		if both := math.Min(c.To, over.To) - math.Max(c.From, over.From); both > most {
			name, most = over.Cabin, both
		}
	}
	return name
}

// FloodsWith is the cabin, by index, with which a compartment floods, and whether the two are one; -1 for none. It floods with the
// cabin that it takes in, and with one that it lies under, unless it has a lid of its own: an opening into it, and none that
// is left open at sea.
func (b *Boat) FloodsWith(i int) (cabin int, same bool) {
	name, same := b.Compartments[i].Cabin, true
	if name == "" {
		if same = false; b.lidded(i) {
			return -1, false
		}
		name = b.Under(i)
	}
	for k := range b.Cabins {
		if name != "" && b.Cabins[k].Name == name {
			return k, same
		}
	}
	return -1, false
}

// lidded tells whether a compartment has an opening of its own, and all of them are shut at sea.
func (b *Boat) lidded(i int) bool {
	own := false
	for k := range b.Openings {
		o := &b.Openings[k]
		if o.Into == "" || o.Into != b.Compartments[i].Name {
			continue
		}
		if o.Admits() {
			return false
		}
		own = true
	}
	return own
}

// Below are the compartments that flood with the cabin that a compartment takes in, because they lie under it without a lid of their own.
func (b *Boat) Below(i int) []int {
	cabin := b.Compartments[i].Cabin
	if cabin == "" {
		return nil
	}
	var out []int
	for k := range b.Compartments {
		if at, same := b.FloodsWith(k); at >= 0 && !same && b.Cabins[at].Name == cabin {
			out = append(out, k)
		}
	}
	return out
}

// ReachOf is how well a compartment is reached, and whether the folder says so. Where it does not: at the seat if its
// hatch lies in a well, from the cabin if it takes in a cabin or lies under one, else only in calm.
func (b *Boat) ReachOf(i int) (reach Reach, given bool) {
	c := &b.Compartments[i]
	switch {
	case c.Reach != ReachUnsaid:
		return c.Reach, true
	case c.Cabin != "" || b.Under(i) != "":
		return FromTheCabin, false
	}
	if o := b.Hatch(i); o != nil {
		for k := range b.Wells {
			if b.Wells[k].covers(o.At) {
				return AtTheSeat, false
			}
		}
	}
	return InCalm, false
}

// covers tells whether a point lies over or beside a well's floor, seen from above.
func (w *Well) covers(p r3.Vec) bool {
	const slack = 0.02 // a hatch on its side
	fore, aft, half := math.Inf(1), math.Inf(-1), 0.0
	for _, s := range w.Readings.Stations {
		fore, aft = math.Min(fore, s.X), math.Max(aft, s.X)
		for _, r := range s.Points {
			half = math.Max(half, r.Y)
		}
	}
	return p.X >= fore-slack && p.X <= aft+slack && math.Abs(p.Y) <= half+slack
}

// Needs is needs.yaml: what the trip needs, and what is to be looked at before it.
type Needs struct {
	Functions []Function
	Checklist []Check
	Source    Source
}

// Function is what the trip needs, or a part of it that others name. One without a rule is provided by any one thing
// that names it.
type Function struct {
	Name string
	Rank int // how bad its loss is: 5 life to 1 nuisance; 0 for one that only others name
	// AnyOf, AllOf or Least of From: the names of functions, of conditions, of what things provide or of things. At most one is given.
	AnyOf, AllOf, From []string
	Least              int
	Source             Source
}

// Check is a line of the checklist.
type Check struct {
	What   string
	Asks   string // who asks for it
	By     time.Time
	Done   bool
	Source Source
}

// Conditions are the names that functions and needs may use without anything providing them.
var Conditions = []string{"battery", "dry cabin", "crew", "crew of two", "calm"}
