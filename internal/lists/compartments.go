package lists

import (
	"fmt"
	"strings"

	"thole/internal/model"
	"thole/internal/sheet"
)

// Thing is what lies in a place: a row of the stores or a fixed weight, or what is left of one that was used.
type Thing struct {
	Store  int     `json:"store"`           // index into the stores; -1 for a fixed weight
	Weight int     `json:"weight"`          // index into the boat's weights; -1 for a store
	Spent  bool    `json:"spent,omitempty"` // what has been used of a store and was moved here
	What   string  `json:"what"`
	Count  int     `json:"count"`
	MassKg float64 `json:"mass_kg"` // of all of them
	Used   string  `json:"used,omitempty"`
	Group  string  `json:"group,omitempty"`
	Notes  string  `json:"notes,omitempty"`
}

// Locker is a compartment with all that lies in it, for packing and for the label on its lid.
type Locker struct {
	Place
	Reach   string  `json:"reach"`
	Wet     bool    `json:"wet,omitempty"`
	LimitKg float64 `json:"limit_kg,omitempty"` // 0 when none was given
	Things  []Thing `json:"things"`
	Count   int     `json:"count"`
	MassKg  float64 `json:"mass_kg"`
}

// Compartments are all compartments at the end of a day (0 is the departure), by number, with what lies in them, noun first; last,
// where there is any, what stands at a point of its own, the fixed parts of the boat left out.
func Compartments(f *model.Folder, on int) []Locker {
	on = day(f, on)
	at := order(f)
	out := make([]Locker, len(at))
	for i, k := range at {
		l := Locker{Place: Place{Compartment: -1, Name: "in no compartment"}, Things: []Thing{}}
		if i >= 0 {
			c := &f.Boat.Compartments[i]
			reach, _ := f.Boat.ReachOf(i)
			l.Place, l.Reach, l.Wet, l.LimitKg = placeOf(f, model.Place{Compartment: i}), reach.String(), c.Wet, float64(c.Limit)
		}
		out[k] = l
	}
	put := func(where model.Place, t Thing) {
		if where.None || t.Count == 0 {
			return
		}
		l := &out[at[where.Compartment]]
		l.Things = append(l.Things, t)
		l.Count += t.Count
		l.MassKg += t.MassKg
	}
	for i := range f.Boat.Weights {
		if w := &f.Boat.Weights[i]; w.Where.Compartment >= 0 {
			n := max(1, w.Count)
			put(w.Where, Thing{Store: -1, Weight: i, What: w.What, Count: n, MassKg: float64(n) * float64(w.Mass.Value)})
		}
	}
	stocks := Stocks(f)
	for i := range f.Stores {
		s := &f.Stores[i]
		left := stocks[i][on]
		t := Thing{Store: i, Weight: -1, What: s.What, Count: left, MassKg: float64(left) * float64(s.Mass.Value), Used: usedText(f, s.Use), Group: s.Group, Notes: s.Notes}
		put(s.Where, t)
		if s.Use.Into != nil {
			t.Spent, t.What, t.Used = true, s.What+" (used)", ""
			t.Count = whole(s) - left
			t.MassKg = float64(t.Count) * float64(s.Mass.Value)
			put(*s.Use.Into, t)
		}
	}
	for k := range out {
		inOrder(f, out[k].Things, func(Thing) int { return -1 }, func(t Thing) string { return t.What })
	}
	if last := len(out) - 1; len(out[last].Things) == 0 {
		out = out[:last]
	}
	return out
}

// Title is the compartment in a line: 202 fore bin port.
func (l *Locker) Title() string {
	if l.Number > 0 {
		return fmt.Sprintf("%d  %s", l.Number, l.Name)
	}
	return l.Name
}

// About is what is to be known of a compartment before it is opened.
func (l *Locker) About() string {
	var out []string
	if l.Side != "" && !strings.Contains(strings.ToLower(l.Name), l.Side) {
		out = append(out, l.Side)
	}
	if l.Reach != "" {
		out = append(out, "reached "+l.Reach)
	}
	if l.Wet {
		out = append(out, "wet")
	}
	return strings.Join(out, ", ")
}

// compartmentSheet is the packing list, a table for each compartment.
func compartmentSheet(f *model.Folder, on int) sheet.Sheet {
	u := f.Boat.Units
	out := sheet.Sheet{Blocks: []sheet.Block{{Text: &sheet.Text{Paragraphs: []string{"What lies where " + dayName(day(f, on)) + "."}}}}}
	all, count := 0.0, 0
	for _, l := range Compartments(f, on) {
		all, count = all+l.MassKg, count+l.Count
		head := l.Title()
		if about := l.About(); about != "" {
			head += " (" + about + ")"
		}
		if len(l.Things) == 0 {
			out.Blocks = append(out.Blocks, sheet.Block{Text: &sheet.Text{Heading: head, Paragraphs: []string{"empty"}}})
			continue
		}
		t := sheet.Table{Heading: head, Columns: []sheet.Column{textColumn("what"), {Name: "count"}, massColumn("mass", u), textColumn("used")}}
		for _, th := range l.Things {
			t.Rows = append(t.Rows, []sheet.Cell{words(th.What), number(th.Count), massCell(th.MassKg, u), words(th.Used)})
		}
		t.Note = fmt.Sprintf("%s, %s", things(l.Count), heavy(u).Show(l.MassKg))
		if l.LimitKg > 0 {
			t.Note += fmt.Sprintf("; it may bear %s", heavy(u).Show(l.LimitKg))
		}
		out.Blocks = append(out.Blocks, sheet.Block{Table: &t})
	}
	out.Blocks = append(out.Blocks, sheet.Block{Text: &sheet.Text{Heading: "All together", Paragraphs: []string{
		fmt.Sprintf("%s, %s. What is fixed in a compartment is counted; the boat's own parts and her gear at a point of its own are not, unless they are stores.", things(count), heavy(u).Show(all))}}})
	return out
}

// compartmentTable is the packing list as one table, a row for each thing.
func compartmentTable(f *model.Folder, on int) sheet.Table {
	u := f.Boat.Units
	t := sheet.Table{Columns: []sheet.Column{textColumn("no."), textColumn("compartment"), textColumn("side"), textColumn("what"), {Name: "count"}, massColumn("mass", u), textColumn("used"), textColumn("group"), textColumn("notes")}}
	for _, l := range Compartments(f, on) {
		for _, th := range l.Things {
			t.Rows = append(t.Rows, []sheet.Cell{words(l.number()), words(l.Name), words(l.Side), words(th.What), number(th.Count), massCell(th.MassKg, u), words(th.Used), words(th.Group), words(th.Notes)})
		}
	}
	return t
}

// dayName is a day in words.
func dayName(n int) string {
	if n == 0 {
		return "at the departure"
	}
	return fmt.Sprintf("at the end of day %d", n)
}
