package lists

import (
	"cmp"
	"slices"

	"thole/internal/model"
	"thole/internal/sheet"
)

// Entry is a line of the index by name.
type Entry struct {
	Thing
	Noun  string `json:"noun"` // the word that it stands under
	Where Place  `json:"where"`
}

// Names is the index by name at the end of a day: every store that is left and every fixed weight in a compartment, noun first.
func Names(f *model.Folder, on int) []Entry {
	var out []Entry
	for _, l := range Compartments(f, on) {
		for _, t := range l.Things {
			where := l.Place
			if t.Store >= 0 && !t.Spent {
				where = placeOf(f, f.Stores[t.Store].Where)
			}
			out = append(out, Entry{Thing: t, Noun: Noun(t.What), Where: where})
		}
	}
	at := order(f)
	slices.SortStableFunc(out, func(a, b Entry) int {
		return cmp.Or(byNoun(a.What, b.What), cmp.Compare(at[a.Where.Compartment], at[b.Where.Compartment]))
	})
	return out
}

// nameTable is the index by name.
func nameTable(f *model.Folder, on int) sheet.Table {
	t := sheet.Table{
		Columns: []sheet.Column{textColumn("look under"), textColumn("what"), {Name: "count"}, textColumn("no."), textColumn("where"), textColumn("side")},
	}
	under := ""
	for _, e := range Names(f, on) {
		noun := words(e.Noun)
		if e.Noun == under {
			noun = blank()
		}
		under = e.Noun
		t.Rows = append(t.Rows, []sheet.Cell{noun, words(e.What), number(e.Count), words(e.Where.number()), words(e.Where.Name), words(e.Where.Side)})
	}
	return t
}
