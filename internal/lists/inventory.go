package lists

import (
	"fmt"

	"thole/internal/model"
	"thole/internal/sheet"
)

// Stock is what should be left of a store at the end of a day.
type Stock struct {
	Store int    `json:"store"`
	What  string `json:"what"`
	Where Place  `json:"where"`
	Left  int    `json:"left"`
	Count int    `json:"count"` // at the departure
	Used  string `json:"used,omitempty"`
}

// Inventory is what should be left of every store at the end of a day (0 is the departure), by compartment; those that should be
// gone stand there too, since perhaps they are not.
func Inventory(f *model.Folder, on int) []Stock {
	on = day(f, on)
	var out []Stock
	stocks := Stocks(f)
	for i := range f.Stores {
		s := &f.Stores[i]
		out = append(out, Stock{Store: i, What: s.What, Where: placeOf(f, s.Where), Left: stocks[i][on], Count: whole(s), Used: usedText(f, s.Use)})
	}
	inOrder(f, out, func(s Stock) int { return s.Where.Compartment }, func(s Stock) string { return s.What })
	return out
}

// mostCounts is how often a boat's stores are counted on paper: more columns than these have no room beside the names.
const mostCounts = 4

// Counts are days on which to count what is left, evenly over the trip, the last one its end.
func Counts(f *model.Folder) []int {
	var out []int
	for k := 1; k <= mostCounts; k++ {
		if d := f.LastDay() * k / mostCounts; d > 0 && (len(out) == 0 || d > out[len(out)-1]) {
			out = append(out, d)
		}
	}
	return out
}

// inventoryTable is the inventory of a day, with a column for what is there.
func inventoryTable(f *model.Folder, on int) sheet.Table {
	t := sheet.Table{Columns: []sheet.Column{textColumn("no."), textColumn("what"), {Name: "at the departure"}, {Name: fmt.Sprintf("left on day %d", day(f, on))}, textColumn("there are")}}
	for _, s := range Inventory(f, on) {
		t.Rows = append(t.Rows, []sheet.Cell{words(s.Where.Short()), words(s.What), number(s.Count), number(s.Left), blank()})
	}
	return t
}
