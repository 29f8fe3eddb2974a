// Package faulttree finds what ends a function of the boat: which failure alone, which
// two together, and what change takes such a failure away.
//
// A Tree is written as what provides what (success logic): to steer takes the rudder and
// its lines, or an oar over the stern, which needs two hands. From it follows what fails
// when (failure logic): where any one provider serves, all must fail; where all are
// needed, one failing is enough; where k of n are needed, n-k+1 failing end it.
//
// A minimal cut set is a set of failures that ends a function, and does not when any one
// of them is left out. Short ones are found by trying every combination, 64 at a time
// (Cuts up to order 3), which no shape of tree can make slow beyond what is reckoned
// beforehand; all of them, and probabilities, by a binary decision diagram, which is
// bounded and says when the bound was met.
//
// There is no "not": a failure never mends anything. Failures are independent of each
// other but for the causes given, and the order in which they come does not matter.
//
// Source: Vesely and others, Fault Tree Handbook, NUREG-0492 (1981); Vesely and Narum,
// PREP and KITT, IN-1349 (1970) (combination testing); Rauzy, "New algorithms for fault
// trees analysis", Reliability Engineering and System Safety 40 (1993) (diagrams)
package faulttree

// Kind is what sort of thing fails or happens; it changes nothing in the logic but where
// a Move takes an item from.
type Kind int

// The kinds of basic event.
const (
	Item        Kind = iota // a thing aboard breaks, or is lost
	Person                  // someone is hurt
	Battery                 // the battery is lost
	Compartment             // a compartment floods
	Cabin                   // a cabin floods
	Other                   // anything else
)

// String is the kind in plain words.
func (k Kind) String() string {
	switch k {
	case Item:
		return "item"
	case Person:
		return "person"
	case Battery:
		return "battery"
	case Compartment:
		return "compartment"
	case Cabin:
		return "cabin"
	}
	return "other"
}

// place says whether things lie in it.
func (k Kind) place() bool { return k == Compartment || k == Cabin }

// Event is a basic event: something that works until it fails by itself, by a cause, or
// for want of what it needs.
type Event struct {
	Name string
	Kind Kind
	// Needs are the events, causes, gates and functions without any one of which it is of
	// no use. A cause is needed in the sense that it must not happen.
	Needs []string
}

// Cause fails a set of things at once: a compartment floods and everything in it is wet.
type Cause struct {
	Name string
	Kind Kind
	// Fails are the events it fails, and the causes it brings with it. Causes may bring
	// each other: two compartments joined by a hole.
	Fails []string
}

// Rule is how many of a gate's inputs must work.
type Rule int

// The rules.
const (
	AnyOf   Rule = iota // one is enough
	AllOf               // every one is needed
	AtLeast             // as many as Least are needed
)

// String is the rule in plain words.
func (r Rule) String() string {
	switch r {
	case AnyOf:
		return "any of"
	case AllOf:
		return "all of"
	case AtLeast:
		return "at least"
	}
	return "unknown rule"
}

// Gate is provided by other nodes: events, causes not happening, gates, functions.
type Gate struct {
	Name  string
	Rule  Rule
	Least int // for AtLeast, how many; else nothing
	Of    []string
}

// Dual is the same gate read the other way: as success logic becomes failure logic, and
// back. The dual of the dual is the gate.
//
// Source: NUREG-0492, ch. VII, de Morgan's theorem
func (g Gate) Dual() Gate {
	switch g.Rule {
	case AnyOf:
		g.Rule = AllOf
	case AllOf:
		g.Rule = AnyOf
	case AtLeast:
		g.Least = len(g.Of) - g.Least + 1
	}
	return g
}

// Function is a gate that the trip needs.
type Function struct {
	Gate
	// Weight is how bad its end is, in any one measure for the whole tree; more is worse.
	Weight float64
}

// Tree is what provides what. All names are of one family: no two nodes share one.
type Tree struct {
	Events    []Event
	Causes    []Cause
	Gates     []Gate
	Functions []Function
}
