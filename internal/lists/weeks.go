package lists

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"thole/internal/model"
	"thole/internal/sheet"
)

// Week is seven days of the calendar, the last one perhaps fewer.
type Week struct {
	Number int `json:"number"` // 1 is the first
	First  int `json:"first"`  // its first day
	Last   int `json:"last"`   // its last
	// Begins is its first day's date; zero where the voyage's is not known.
	Begins time.Time `json:"begins,omitzero"`
	Rows   []Draw    `json:"rows"` // by the compartments' numbers
}

// Draw is what is taken of one store in a week.
type Draw struct {
	Store  int     `json:"store"`
	What   string  `json:"what"`
	Where  Place   `json:"where"`
	Into   *Place  `json:"into,omitempty"` // where what is used goes, when not away
	Days   []int   `json:"days"`           // units on each day of the week
	Count  int     `json:"count"`          // of them all
	MassKg float64 `json:"mass_kg"`
	Left   int     `json:"left"` // units there at the end of the week
}

// Weeks is the calendar by week.
func Weeks(f *model.Folder) []Week {
	left := make([]int, len(f.Stores))
	for i := range f.Stores {
		left[i] = whole(&f.Stores[i])
	}
	return WeeksAfter(f, 0, Calendar(f), left)
}

// WeeksAfter is another calendar by week: of what is taken on the days after a day, the next one first, when so much of each store is left
// at its end. The weeks are those of the trip, the first of them perhaps a part of one.
func WeeksAfter(f *model.Folder, day int, calendar [][]Take, left []int) []Week {
	var out []Week
	left = slices.Clone(left)
	for k, takes := range calendar {
		d := day + k // days from the departure to the morning of this one
		if k == 0 || d%7 == 0 {
			w := Week{Number: d/7 + 1, First: d + 1, Last: min(d-d%7+7, day+len(calendar)), Rows: []Draw{}}
			if f.Voyage != nil && !f.Voyage.Leave.IsZero() {
				w.Begins = f.Voyage.Leave.AddDate(0, 0, d)
			}
			out = append(out, w)
		}
		w := &out[len(out)-1]
		for _, t := range takes {
			r := w.row(f, t.Store)
			r.Days[d+1-w.First] += t.Units
			r.Count += t.Units
			r.MassKg += float64(t.Units) * float64(f.Stores[t.Store].Mass.Value)
			left[t.Store] -= t.Units
			r.Left = left[t.Store]
		}
	}
	for k := range out {
		inOrder(f, out[k].Rows, func(r Draw) int { return r.Where.Compartment }, func(r Draw) string { return r.What })
	}
	return out
}

// row is the week's row of a store, made when it is met first.
func (w *Week) row(f *model.Folder, store int) *Draw {
	for i := range w.Rows {
		if w.Rows[i].Store == store {
			return &w.Rows[i]
		}
	}
	s := &f.Stores[store]
	r := Draw{Store: store, What: s.What, Where: placeOf(f, s.Where), Days: make([]int, w.Last-w.First+1)}
	if s.Use.Into != nil {
		into := placeOf(f, *s.Use.Into)
		r.Into = &into
	}
	w.Rows = append(w.Rows, r)
	return &w.Rows[len(w.Rows)-1]
}

// Title is the week in a line.
func (w *Week) Title() string {
	text := fmt.Sprintf("Week %d, days %d to %d", w.Number, w.First, w.Last)
	if w.First == w.Last {
		text = fmt.Sprintf("Week %d, day %d", w.Number, w.First)
	}
	if !w.Begins.IsZero() {
		text += w.Begins.Format(", from 2 January")
	}
	return text
}

// MassKg is the mass of all that is taken in the week and leaves the boat.
func (w *Week) MassKg() float64 {
	sum := 0.0
	for _, r := range w.Rows {
		if r.Into == nil {
			sum += r.MassKg
		}
	}
	return sum
}

// Open says which compartments are opened in the week, by side: to port 202 and 306, to starboard 201, in the middle 400.
func (w *Week) Open() string {
	sides := []struct{ side, say string }{{"port", "to port"}, {"starboard", "to starboard"}, {"", "in the middle"}}
	var parts []string
	for _, s := range sides {
		var names []string
		for _, r := range w.Rows {
			if r.Where.Side == s.side && r.Where.Compartment >= 0 && (len(names) == 0 || names[len(names)-1] != r.Where.String()) {
				names = append(names, r.Where.String())
			}
		}
		if len(names) > 0 {
			parts = append(parts, s.say+" "+strings.Join(names, ", "))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "Open " + strings.Join(parts, "; ") + "."
}

// weekSheet is the calendar, laid out.
func weekSheet(f *model.Folder, _ int) sheet.Sheet { return WeekSheet(f, Weeks(f)) }

// WeekSheet lays weeks out, a table for each.
func WeekSheet(f *model.Folder, weeks []Week) sheet.Sheet {
	u := f.Boat.Units
	var out sheet.Sheet
	for _, w := range weeks {
		if len(w.Rows) == 0 {
			out.Blocks = append(out.Blocks, sheet.Block{Text: &sheet.Text{Heading: w.Title(), Paragraphs: []string{"nothing is taken"}}})
			continue
		}
		t := sheet.Table{Heading: w.Title(), Columns: []sheet.Column{textColumn("no."), textColumn("what")}}
		for d := w.First; d <= w.Last; d++ {
			t.Columns = append(t.Columns, sheet.Column{Name: fmt.Sprint(d)})
		}
		t.Columns = append(t.Columns, sheet.Column{Name: "then left"}, massColumn("mass", u))
		for _, r := range w.Rows {
			row := []sheet.Cell{words(r.Where.Short()), words(r.goes())}
			for _, n := range r.Days {
				c := number(n)
				c.Empty = n == 0
				row = append(row, c)
			}
			t.Rows = append(t.Rows, append(row, number(r.Left), massCell(r.MassKg, u)))
		}
		t.Note = strings.TrimSpace(w.Open() + fmt.Sprintf(" %s leaves the boat.", heavy(u).Show(w.MassKg())))
		out.Blocks = append(out.Blocks, sheet.Block{Table: &t})
	}
	if len(out.Blocks) == 0 {
		out.Blocks = []sheet.Block{{Text: &sheet.Text{Paragraphs: []string{"Nothing aboard is used up on the way."}}}}
	}
	return out
}

// goes is a row's name with where it goes.
func (r *Draw) goes() string {
	if r.Into == nil {
		return r.What
	}
	return r.What + " (into " + r.Into.String() + ")"
}

// weekTable is the calendar as one table, a row for each store in each week.
func weekTable(f *model.Folder, _ int) sheet.Table {
	t := sheet.Table{Columns: []sheet.Column{{Name: "week"}, {Name: "from day"}, {Name: "to day"}, textColumn("no."), textColumn("compartment"), textColumn("side"), textColumn("what"),
		{Name: "count"}, massColumn("mass", f.Boat.Units), {Name: "then left"}, textColumn("into")}}
	for _, w := range Weeks(f) {
		for _, r := range w.Rows {
			into := blank()
			if r.Into != nil {
				into = words(r.Into.String())
			}
			t.Rows = append(t.Rows, []sheet.Cell{number(w.Number), number(w.First), number(w.Last), words(r.Where.number()), words(r.Where.Name), words(r.Where.Side), words(r.What),
				number(r.Count), massCell(r.MassKg, f.Boat.Units), number(r.Left), into})
		}
	}
	return t
}
