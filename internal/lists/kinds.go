package lists

import (
	"thole/internal/model"
	"thole/internal/sheet"
)

// List is one of the lists, for those who show them all.
type List struct {
	Kind  string // one word
	Title string
	Of    func(f *model.Folder, day int) any         // its value
	Sheet func(f *model.Folder, day int) sheet.Sheet // laid out to be read
	Flat  func(f *model.Folder, day int) sheet.Table // as one table, for a spreadsheet
}

// All are the lists in the order in which they are shown. Those that are of no day pass it over.
var All = []List{
	{"compartments", "What lies where", func(f *model.Folder, day int) any { return Compartments(f, day) }, compartmentSheet, compartmentTable},
	{"names", "Where to find it", func(f *model.Folder, day int) any { return Names(f, day) }, one(nameTable), namesFlat},
	{"weeks", "What is taken when", func(f *model.Folder, _ int) any { return Weeks(f) }, weekSheet, weekTable},
	{"shopping", "What is to be got", func(f *model.Folder, _ int) any { return Shopping(f) }, shoppingSheet, shoppingTable},
	{"weighing", "What is still to be weighed", func(f *model.Folder, _ int) any { return Weighing(f) }, weighingSheet, weighingTable},
	{"inventory", "What should be left", func(f *model.Folder, day int) any { return Inventory(f, day) }, one(inventoryTable), inventoryTable},
}

// one is the sheet of a list that is a single table.
func one(table func(*model.Folder, int) sheet.Table) func(*model.Folder, int) sheet.Sheet {
	return func(f *model.Folder, day int) sheet.Sheet {
		t := table(f, day)
		return sheet.Sheet{Blocks: []sheet.Block{{Table: &t}}}
	}
}

// namesFlat is the index with its word on every row, so that it can be sorted anew.
func namesFlat(f *model.Folder, on int) sheet.Table {
	t := nameTable(f, on)
	for i, e := range Names(f, on) {
		t.Rows[i][0] = words(e.Noun)
	}
	return t
}
