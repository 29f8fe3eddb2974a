// Package lists makes the lists that a boat is packed, found in, eaten from and counted by: by compartment, by name,
// by week, what is to be bought, what is still to be weighed, and what should be left on a day.
//
// Each is a plain value made from the folder alone, and can be laid out as a table of a sheet in the folder's units.
// Things are counted in whole units, as they are taken out; masses are of what lies there, so that they may differ by
// a part of one unit from those of model.State, where a store goes evenly.
package lists

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"thole/internal/model"
	"thole/internal/sheet"
	"thole/internal/units"
)

// heavy is the scale for the mass of a thing: finer than that of the whole boat, since a snack weighs a quarter of a pound.
func heavy(s units.System) units.Scale {
	scale := s.Heavy()
	scale.Places = 2
	return scale
}

// massColumn is a column of masses, in the folder's units.
func massColumn(name string, s units.System) sheet.Column {
	scale := heavy(s)
	return sheet.Column{Name: name, Unit: scale.Unit, Places: scale.Places}
}

func massCell(kg float64, s units.System) sheet.Cell {
	return sheet.Cell{Value: kg * heavy(s).Factor}
}

func words(s string) sheet.Cell { return sheet.Cell{Text: s, Empty: s == ""} }

func number(n int) sheet.Cell { return sheet.Cell{Value: float64(n)} }

// blank is a cell to be filled in by hand.
func blank() sheet.Cell { return sheet.Cell{Empty: true} }

// things counts things in words.
func things(n int) string {
	if n == 1 {
		return "1 thing"
	}
	return fmt.Sprintf("%d things", n)
}

// textColumn is a column of words.
func textColumn(name string) sheet.Column { return sheet.Column{Name: name, Text: true} }

// Place is where something lies, as people call it.
type Place struct {
	Compartment int    `json:"compartment"`      // index into the boat's compartments; -1 for a point
	Number      int    `json:"number,omitempty"` // 0 when it has none
	Name        string `json:"name"`             // of the compartment, or the point in words
	Side        string `json:"side,omitempty"`   // port or starboard; empty for both
}

// String is what people shout: the number, or the name of what has none.
func (p Place) String() string {
	if p.Number > 0 {
		return fmt.Sprint(p.Number)
	}
	return p.Name
}

// Short is what a compartment is called in a narrow column: its number, or its name where it has none; empty for a point.
func (p Place) Short() string {
	if p.Compartment < 0 {
		return ""
	}
	return p.String()
}

// number is the number in words, empty for what has none.
func (p Place) number() string {
	if p.Number > 0 {
		return fmt.Sprint(p.Number)
	}
	return ""
}

// placeOf names a place of the folder.
func placeOf(f *model.Folder, at model.Place) Place {
	if at.Compartment >= 0 {
		c := &f.Boat.Compartments[at.Compartment]
		return Place{Compartment: at.Compartment, Number: c.Number, Name: c.Name, Side: sideName(c.Side)}
	}
	if at.None {
		return Place{Compartment: -1, Name: "not aboard"}
	}
	return Place{Compartment: -1, Name: pointName(f, at), Side: sideOf(at.At.Y)}
}

// pointName says where a point is: its place along the boat and up, on which side, in the folder's units.
func pointName(f *model.Folder, at model.Place) string {
	u := f.Boat.Units
	return fmt.Sprintf("%s aft, %s up", u.Length(units.Length(at.At.X)), u.Length(units.Length(at.At.Z)))
}

// middle is how near to the centre line something counts as being on it.
const middle = 0.02

func sideOf(y float64) string {
	switch {
	case y < -middle:
		return sideName(model.Port)
	case y > middle:
		return sideName(model.Starboard)
	}
	return ""
}

func sideName(s model.Side) string {
	switch s {
	case model.Port:
		return "port"
	case model.Starboard:
		return "starboard"
	}
	return ""
}

// usedText says when a store is used, as the folder writes it; empty for one that is kept.
func usedText(f *model.Folder, u model.Use) string {
	if u.Last == 0 {
		return ""
	}
	text := fmt.Sprintf("days %d-%d", u.First, u.Last)
	if u.First == u.Last {
		text = fmt.Sprintf("day %d", u.First)
	}
	if u.Into != nil {
		text += " into " + placeOf(f, *u.Into).String()
	}
	return text
}

// Noun is the word under which a thing is looked for in an index: that before the first of what only tells more (in, for,
// of, with, a comma, a figure), without the words of place behind it. So "day bags 1-10 port" stands under bags and
// "emergency water in pouches" under water. It is the whole name where no such word is found.
func Noun(what string) string {
	var kept []string
	for _, w := range strings.Fields(what) {
		plain := strings.ToLower(strings.Trim(w, ",;:.()\""))
		if len(kept) > 0 && (more[plain] || plain == "" || plain[0] >= '0' && plain[0] <= '9') {
			break
		}
		kept = append(kept, strings.TrimRight(w, ",;:"))
		if strings.HasSuffix(w, ",") || strings.HasSuffix(w, ";") || strings.HasSuffix(w, ":") {
			break
		}
	}
	for len(kept) > 1 && besides[strings.ToLower(kept[len(kept)-1])] {
		kept = kept[:len(kept)-1]
	}
	if len(kept) == 0 {
		return what
	}
	return kept[len(kept)-1]
}

var (
	more    = set("in", "for", "of", "and", "with", "to", "from", "on", "at", "by", "under", "without", "&", "+", "the", "a", "an", "its", "or")
	besides = set("day", "days", "week", "weeks", "port", "starboard", "fore", "aft", "left", "right", "bow", "stroke", "no")
)

func set(list ...string) map[string]bool {
	out := map[string]bool{}
	for _, w := range list {
		out[w] = true
	}
	return out
}

// byNoun orders names for finding: by their nouns, then by the rest.
func byNoun(a, b string) int {
	return cmp.Or(cmp.Compare(strings.ToLower(Noun(a)), strings.ToLower(Noun(b))), cmp.Compare(strings.ToLower(a), strings.ToLower(b)), cmp.Compare(a, b))
}

// day checks that a day is one of the trip's: from 0, the departure, to the last.
func day(f *model.Folder, n int) int { return min(max(n, 0), f.LastDay()) }

// inOrder sorts what lies in places: by the compartments' numbers, then by name.
func inOrder[T any](f *model.Folder, all []T, place func(T) int, what func(T) string) {
	at := order(f)
	slices.SortStableFunc(all, func(a, b T) int {
		return cmp.Or(cmp.Compare(at[place(a)], at[place(b)]), byNoun(what(a), what(b)))
	})
}

// Mass is a mass of things in the folder's units, without the unit, to as many places as the lists show.
func Mass(f *model.Folder, kg float64) string {
	scale := heavy(f.Boat.Units)
	return strings.TrimSuffix(scale.Show(kg), " "+scale.Unit)
}
