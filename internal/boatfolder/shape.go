package boatfolder

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// kind is what a value must be.
type kind int

const (
	words    kind = iota // free text
	filename             // a file inside the folder
	length               // a quantity, with +- where wanted, and so on to angle
	mass
	density
	volume
	angle
	share     // 60%
	days      // 80 or 80 days
	whole     // a whole number, 1 or more
	dayOfTrip // a whole number, 0 or more
	number
	yesNo
	choice // one of shape.choices
	date   // 2027-01-12
	latitude
	longitude
	tuple      // a list of as many values as shape.parts has
	listOf     // a list of shape.item
	keyed      // a mapping with shape.keys
	namedPlace // a mapping from names of the person's own to shape.item
	crewPlace  // a point, {in: compartment} or none
	oneOrMore  // a shape.item, or a list of them
	anyText    // any one value, as it is to stand in a file
	changeOfMass
	changeOfShare
	changeOfDays
	changeOfDate
	namesByMark // names with ; between, in a table's cell
	sides       // 300 x 200 x 150 mm
	speed
	force
	power
	duration
	temperature // without +-
	everyDays   // every 14 days
	seaWay      // over the sea: 8 nmi
	energy
	percent      // a share that may be more than the whole
	nearShare    // a share that may carry a +-, in hundredths of the whole
	clock        // 06:00-10:00
	onDay        // day 3, or 3
	daysOrNone   // 5 days, or 0 days
	changeOfTime // -1 h
)

// shape is what a value must look like. One table of shapes (keys.go) serves
// the reader and the published schemas, so the two cannot drift apart.
type shape struct {
	kind    kind
	choices []string
	parts   []key               // of a tuple
	item    *shape              // of a list
	keys    []key               // of a mapping
	either  [][]string          // exactly one of each group must be there
	with    map[string][]string // a key that needs others beside it
	most    int                 // items of a list; 0 for mostItems
}

// key is one key of a mapping, or one part of a tuple.
type key struct {
	name    string
	shape   shape
	need    bool
	example string // as written behind the key: 42 kg
	about   string
}

// check compares a value with its shape, tells every fault in it, and reads
// its quantities.
func (r *reader) check(n *node, name string, s shape, example string) {
	before := len(r.faults)
	if before > enoughFaults {
		n.bad = true
		return
	}
	switch s.kind {
	case keyed:
		r.checkKeys(n, name, s)
		return
	case namedPlace:
		r.checkNamed(n, name, s, example)
		return
	case listOf:
		if n.form != list {
			r.wrongForm(n, name, "a list", example)
			n.bad = true
			return
		}
		if most := cmp.Or(s.most, mostItems); len(n.items) > most {
			r.fault(n.items[most].at, "", "is it the right file?", "%s has more than %d items", name, most)
			n.bad = true
			return
		}
		for _, item := range n.items {
			r.check(item, one(name), *s.item, example)
		}
		return
	case oneOrMore:
		if n.form == list {
			r.check(n, name, shape{kind: listOf, item: s.item, most: mostTogether}, example)
		} else {
			r.check(n, name, *s.item, example)
		}
		return
	case tuple:
		r.checkTuple(n, name, s, example)
	case crewPlace:
		r.checkCrewPlace(n, name, s, example)
	default:
		if n.form != scalar {
			r.wrongForm(n, name, "one value", example)
		} else {
			r.checkScalar(n, name, s, example)
		}
	}
	n.bad = len(r.faults) > before
}

// mostTogether bounds the acts of a kind, and the names, in one lever.
const mostTogether = 100

// mostItems bounds a list that has no bound of its own.
const mostItems = 1000

// one is the name of an item of a list: of weights, a weight.
func one(plural string) string {
	if plural == "by" {
		return "point between"
	}
	if plural == "crew" {
		return "person"
	}
	if plural == "rowing" {
		return "rowing place"
	}
	if plural == "watches" {
		return "watch"
	}
	return strings.TrimSuffix(plural, "s")
}

func (r *reader) wrongForm(n *node, name, want, example string) {
	if name == "" {
		name = "the file"
	}
	is := map[form]string{nothing: "is empty", scalar: fmt.Sprintf("is %q", shorten(n.text)), list: "is a list", mapping: "is a set of keys"}[n.form]
	if n.form == nothing {
		r.fault(n.at, "", write(name, example), "%s is empty", name)
		return
	}
	r.fault(n.at, n.text, write(name, example), "%s %s where %s is due", name, is, want)
}

func write(name, example string) string {
	if name == "the file" {
		return "docs/boat-folder.md shows one"
	}
	return fmt.Sprintf("write %s: %s", name, example)
}

func (r *reader) checkKeys(n *node, name string, s shape) {
	if n.form != mapping {
		r.wrongForm(n, name, "a set of keys", keysExample(s))
		n.bad = true
		return
	}
	var known []string
	for _, k := range s.keys {
		known = append(known, k.name)
	}
	for _, p := range n.pairs {
		i := slices.IndexFunc(s.keys, func(k key) bool { return k.name == p.key })
		if i < 0 {
			r.fault(p.keyAt, p.key, meant(p.key, known, "keys here"), "unknown key %q", shorten(p.key))
			continue
		}
		r.check(p.value, p.key, s.keys[i].shape, s.keys[i].example)
	}
	for _, k := range s.keys {
		if k.need && !n.has(k.name) && !misspelt(n, k.name, known) {
			r.fault(n.at, "", write(k.name, k.example), "%s has no %s", title(name, n), k.name)
		}
	}
	for _, group := range s.either {
		r.exactlyOne(n, name, group, s, known)
	}
	for _, k := range s.keys {
		for _, other := range s.with[k.name] {
			if n.has(k.name) && !n.has(other) && !misspelt(n, other, known) {
				r.fault(n.at, "", write(other, exampleOf(s, other)), "%s has %s but no %s", title(name, n), k.name, other)
			}
		}
	}
}

func (r *reader) exactlyOne(n *node, name string, group []string, s shape, known []string) {
	var there []string
	for _, k := range group {
		if n.has(k) || misspelt(n, k, known) {
			there = append(there, k)
		}
	}
	switch len(there) {
	case 1:
	case 0:
		r.fault(n.at, "", write(group[0], exampleOf(s, group[0])), "%s has neither %s", title(name, n), strings.Join(group, " nor "))
	default:
		r.fault(n.at, "", "keep one of them", "%s has both %s", title(name, n), strings.Join(there, " and "))
	}
}

func exampleOf(s shape, name string) string {
	for _, k := range s.keys {
		if k.name == name {
			return k.example
		}
	}
	return ""
}

func keysExample(s shape) string {
	var parts []string
	for _, k := range s.keys {
		if k.need {
			parts = append(parts, k.name+": "+k.example)
		}
	}
	if len(parts) == 0 && len(s.keys) > 0 {
		parts = []string{s.keys[0].name + ": " + s.keys[0].example}
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// misspelt tells whether an unknown key stands where this one may be meant, so
// that one slip is told once.
func misspelt(n *node, name string, known []string) bool {
	for _, p := range n.pairs {
		if !slices.Contains(known, p.key) && nearest(p.key, known) == name {
			return true
		}
	}
	return false
}

// title names a mapping by what it calls itself: weight "battery".
func title(name string, n *node) string {
	for _, k := range []string{"what", "name"} {
		if v := n.get(k); v != nil && v.form == scalar {
			return fmt.Sprintf("%s %q", name, shorten(v.text))
		}
	}
	if name == "" {
		return "the file"
	}
	return name
}

func (r *reader) checkNamed(n *node, name string, s shape, example string) {
	if n.form != mapping {
		r.wrongForm(n, name, "a set of names", example)
		n.bad = true
		return
	}
	for _, p := range n.pairs {
		if strings.TrimSpace(p.key) == "" {
			r.fault(p.keyAt, p.key, "write a name before the colon", "an empty name")
		}
		r.check(p.value, p.key, *s.item, exampleOf(shape{keys: s.item.keys}, ""))
	}
}

func (r *reader) checkTuple(n *node, name string, s shape, example string) {
	if n.form != list || len(n.items) != len(s.parts) {
		var parts []string
		for _, p := range s.parts {
			parts = append(parts, p.name)
		}
		want := fmt.Sprintf("[%s]", strings.Join(parts, ", "))
		if n.form == list {
			r.fault(n.at, "", write(name, example), "%s has %d values where %s is due", name, len(n.items), want)
		} else {
			r.wrongForm(n, name, want, example)
		}
		return
	}
	for i, p := range s.parts {
		r.check(n.items[i], p.name, p.shape, p.example)
	}
}

func (r *reader) checkCrewPlace(n *node, name string, s shape, _ string) {
	const example = "[3.42 m, 0 m, 0.78 m], {in: fore cabin locker} or none"
	switch {
	case n.form == scalar && n.text == "none":
	case n.form == mapping:
		r.checkKeys(n, name, shape{kind: keyed, keys: s.keys})
	case n.form == list:
		r.checkTuple(n, name, shape{kind: tuple, parts: s.parts}, example)
	default:
		r.wrongForm(n, name, "a place", example)
	}
}
