package boatfolder

import (
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"thole/internal/model"
	"thole/internal/units"
)

// What is said of a thing for stowing it and of what it serves: sizes, lists of names in one cell, reach, dates.

// reachWords are the words for how well a place is reached, the best first, as model.Reach counts them.
var reachWords = []string{"at the seat", "from the cabin", "in calm"}

func reachNamed(n *node) model.Reach {
	if n == nil {
		return model.ReachUnsaid
	}
	return model.Reach(1 + slices.Index(reachWords, n.text))
}

func dryness(n *node) model.Dryness {
	switch {
	case n == nil:
		return model.DryUnsaid
	case n.yes():
		return model.KeepDry
	}
	return model.MayBeWet
}

// dateOf is a date that has been checked; none where there is none.
func dateOf(n *node) time.Time {
	day, _ := time.Parse(time.DateOnly, n.str())
	return day
}

// namesIn are the names in a cell, with ; between, or in a yaml list; blank ones and those given twice are left out.
func namesIn(n *node) []string {
	if n == nil {
		return nil
	}
	var all []string
	for _, item := range n.all() {
		all = append(all, item.text)
	}
	if n.form == scalar {
		all = strings.Split(n.text, ";")
	}
	var out []string
	for _, name := range all {
		name = strings.Join(strings.Fields(name), " ")
		if name != "" && !slices.ContainsFunc(out, func(o string) bool { return plainName(o) == plainName(name) }) {
			out = append(out, name)
		}
	}
	return out
}

// mostNames bounds the names in one cell.
const mostNames = 50

func (r *reader) checkNames(n *node, name, example string) {
	r.checkWords(n, name, example)
	switch names := namesIn(n); {
	case len(names) == 0:
		r.fault(n.at, n.text, write(name, example), "%s %q has no name in it", name, shorten(n.text))
	case len(names) > mostNames:
		r.fault(n.at, n.text, "name the ones that matter", "%s has more than %d names", name, mostNames)
	}
}

// checkSides reads the three sides of a thing: 300 x 200 x 150 mm, or each with a unit of its own.
func (r *reader) checkSides(n *node, name, example string) {
	parts := strings.FieldsFunc(n.text, func(c rune) bool { return c == 'x' || c == 'X' || c == '×' })
	if len(parts) != 3 {
		r.fault(n.at, n.text, write(name, example), "%s %q has %d sides where three are due", name, shorten(n.text), len(parts))
		return
	}
	last := strings.TrimSpace(parts[2])
	unit := strings.TrimLeft(last, "0123456789., /-")
	column := n.at.Column
	n.items = nil
	for _, part := range parts {
		text := strings.TrimSpace(part)
		at := n.at
		at.Column = column + utf8.RuneCountInString(part) - utf8.RuneCountInString(strings.TrimLeft(part, " "))
		column += utf8.RuneCountInString(part) + 1
		if _, err := units.ParseNumber(text); err == nil && unit != "" {
			text += " " + unit
		}
		side := &node{form: scalar, text: text, at: at}
		r.check(side, name, shape{kind: length}, "300 mm")
		if !side.bad && side.number <= 0 {
			r.fault(at, text, write(name, example), "%s %q is not above nothing", name, shorten(text))
		}
		n.items = append(n.items, side)
	}
}

// sidesOf are a thing's three sides, the longest first.
func sidesOf(n *node) [3]units.Length {
	var out [3]units.Length
	if n == nil {
		return out
	}
	for i, side := range n.items {
		out[i] = units.Length(side.number)
	}
	slices.Sort(out[:])
	slices.Reverse(out[:])
	return out
}
