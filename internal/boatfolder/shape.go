package boatfolder

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"thole/internal/model"
	"thole/internal/units"
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

// checkScalar reads one value by its kind.
func (r *reader) checkScalar(n *node, name string, s shape, example string) {
	var err error
	text := n.text
	switch s.kind {
	case words, filename, anyText:
		r.checkWords(n, name, example)
	case changeOfMass, changeOfShare, changeOfDays, changeOfDate:
		err = checkChange(text, s.kind)
	case namesByMark:
		r.checkNames(n, name, example)
	case sides:
		r.checkSides(n, name, example)
	case length:
		err = quantity(n, units.ParseLength)
	case mass:
		err = quantity(n, units.ParseMass)
		if err == nil && n.number <= 0 {
			r.fault(n.at, text, write(name, example), "%s %q is not above nothing", name, shorten(text))
		}
	case density:
		err = quantity(n, units.ParseDensity)
		if err == nil && !(n.number >= 900 && n.number <= 1300) {
			r.fault(n.at, text, "fresh water is 1000 kg/m3, the sea about 1025 kg/m3", "%s %q is not the density of water", name, shorten(text))
		}
	case volume:
		err = quantity(n, units.ParseVolume)
		if err == nil && n.number <= 0 {
			r.fault(n.at, text, write(name, example), "%s %q is not above nothing", name, shorten(text))
		}
	case angle:
		err = quantity(n, units.ParseAngle)
	case share:
		n.number, err = units.ParseShare(text)
	case latitude:
		err = quantity(n, units.ParseLatitude)
	case longitude:
		err = quantity(n, units.ParseLongitude)
	case days:
		var d int
		d, err = units.ParseDays(text)
		n.number = float64(d)
	case speed:
		err = quantity(n, units.ParseSpeed)
	case force:
		err = quantity(n, units.ParseForce)
	case power:
		err = quantity(n, units.ParsePower)
	case duration:
		err = quantity(n, units.ParseDuration)
	case temperature:
		var t units.Temperature
		t, err = units.ParseTemperature(text)
		n.number = float64(t)
	case everyDays:
		var d int
		d, err = units.ParseEvery(text)
		n.number = float64(d)
	case number, whole:
		err = r.checkNumber(n, name, s.kind, example)
	case dayOfTrip:
		err = r.checkDay(n, name, example)
	case yesNo:
		r.checkYesNo(n, name)
	case choice:
		if !slices.Contains(s.choices, text) {
			r.fault(n.at, text, meant(text, s.choices, "words here"), "%s %q is not known", name, shorten(text))
		}
	case date:
		r.checkDate(n, name, example)
	}
	r.quantityFault(n.at, name, n.quoted, err)
}

func quantity[Q ~float64](n *node, parse func(string) (Q, error)) error {
	value, half, given, err := units.WithTolerance(n.text, parse)
	n.number, n.half, n.given = float64(value), float64(half), given
	return err
}

// quantityFault tells an error of units at its very place in the file.
func (r *reader) quantityFault(at model.Source, name string, quoted bool, err error) {
	var e *units.Error
	if !errors.As(err, &e) {
		return
	}
	at.Column += utf8.RuneCountInString(e.Text[:e.Offset])
	if quoted {
		at.Column++
	}
	r.fault(at, e.Text, e.Mend, "%s %q %s", name, shorten(e.Text), e.Say)
}

// longestWords bounds free text, in bytes; a name is bounded more tightly by
// where it is shown.
const longestWords = 4000

func (r *reader) checkWords(n *node, name, example string) {
	if strings.TrimSpace(n.text) == "" {
		r.fault(n.at, "", write(name, example), "%s is empty", name)
		return
	}
	r.checkText(n.at, name, n.text)
}

// checkText refuses what cannot be shown.
func (r *reader) checkText(at model.Source, name, text string) {
	if len(text) > longestWords {
		r.fault(at, shorten(text), "make it shorter", "%s is longer than %d letters", name, longestWords)
		return
	}
	for _, c := range text {
		if unicode.IsControl(c) && c != '\n' && c != '\t' || c == utf8.RuneError {
			r.fault(at, shorten(text), "write it in plain letters", "%s has a character that cannot be shown", name)
			return
		}
	}
}

func (r *reader) checkNumber(n *node, name string, k kind, example string) error {
	v, err := units.ParseNumber(n.text)
	if err != nil {
		return err
	}
	n.number = v
	const most = 1e6
	switch {
	case k == whole && (v != float64(int(v)) || v < 1 || v > most):
		r.fault(n.at, n.text, write(name, example), "%s %q is not a whole number, 1 or more", name, shorten(n.text))
	case v <= 0 || v > most:
		r.fault(n.at, n.text, write(name, example), "%s %q is not a number above nothing", name, shorten(n.text))
	}
	return nil
}

// checkDay reads a day of the trip, the departure being 0.
func (r *reader) checkDay(n *node, name, example string) error {
	v, err := units.ParseNumber(n.text)
	if err != nil {
		return err
	}
	if n.number = v; v != math.Trunc(v) || v < 0 || v > mostDays {
		r.fault(n.at, n.text, write(name, example), "%s %q is not a day of the trip, from 0", name, shorten(n.text))
	}
	return nil
}

// mostDays bounds the days of a trip, as in units.ParseDays.
const mostDays = 1000

func (r *reader) checkYesNo(n *node, name string) {
	switch strings.ToLower(n.text) {
	case "yes", "true":
		n.number = 1
	case "no", "false":
	default:
		r.fault(n.at, n.text, write(name, "yes")+" or no", "%s %q is neither yes nor no", name, shorten(n.text))
	}
}

func (r *reader) checkDate(n *node, name, example string) {
	day, err := time.Parse(time.DateOnly, n.text)
	if err != nil {
		r.fault(n.at, n.text, write(name, example)+", year-month-day", "%s %q is not a date", name, shorten(n.text))
	} else if day.Year() < 1900 || day.Year() > 2200 {
		r.fault(n.at, n.text, "write a year from 1900 to 2200", "%s %q is too far away", name, shorten(n.text))
	}
}

func shorten(text string) string { return units.Shorten(text) }
