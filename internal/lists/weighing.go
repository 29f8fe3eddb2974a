package lists

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"thole/internal/model"
	"thole/internal/sheet"
)

// Unweighed is a thing whose mass is not weighed.
type Unweighed struct {
	Store    int     `json:"store"`  // -1 for what is no store
	Weight   int     `json:"weight"` // -1 for what is no fixed weight
	What     string  `json:"what"`
	Where    *Place  `json:"where,omitempty"` // nil for one of the crew
	Count    int     `json:"count"`
	OneKg    float64 `json:"one_kg"`
	SpreadKg float64 `json:"spread_kg"` // half width of the 19-in-20 range, of all of them
	Known    string  `json:"known"`
	// LeftKg is the spread of the boat's weight at the departure, once this and all above it in the list are weighed.
	LeftKg float64 `json:"left_kg"`
}

// Scales is the weighing list.
type Scales struct {
	SpreadKg float64     `json:"spread_kg"` // of the boat's weight at the departure, as the folder has it now
	MassKg   float64     `json:"mass_kg"`
	Rows     []Unweighed `json:"rows"` // the widest spread first
}

// onScales is how well a weighed thing is known: as docs/boat-folder.md takes it where no other spread is given.
const onScales = 0.02

// Weighing is what is aboard at the departure and not weighed, the widest spread first. Spreads are independent of one another
// and add by their squares, but those of the pieces of one row, which are out together.
func Weighing(f *model.Folder) Scales {
	var out Scales
	square := 0.0
	add := func(u Unweighed, m model.Mass, where model.Place) {
		if where.None {
			return
		}
		u.OneKg = float64(m.Value)
		u.SpreadKg = float64(u.Count) * float64(m.Tolerance)
		out.MassKg += float64(u.Count) * u.OneKg
		square += u.SpreadKg * u.SpreadKg
		if m.Known != model.Weighed {
			u.Known = m.Known.String()
			out.Rows = append(out.Rows, u)
		}
	}
	for i := range f.Boat.Weights {
		w := &f.Boat.Weights[i]
		where := placeOf(f, w.Where)
		add(Unweighed{Store: -1, Weight: i, What: w.What, Where: &where, Count: max(1, w.Count)}, w.Mass, w.Where)
	}
	for i := range f.Stores {
		s := &f.Stores[i]
		where := placeOf(f, s.Where)
		add(Unweighed{Store: i, Weight: -1, What: s.What, Where: &where, Count: whole(s)}, s.Mass, s.Where)
	}
	if f.Voyage != nil {
		for i := range f.Voyage.Crew {
			p := &f.Voyage.Crew[i]
			if len(p.Places) > 0 {
				add(Unweighed{Store: -1, Weight: -1, What: p.Name, Count: 1}, p.Mass, p.Places[0].Where)
			}
		}
	}
	out.SpreadKg = math.Sqrt(square)
	slices.SortStableFunc(out.Rows, func(a, b Unweighed) int { return cmp.Compare(b.SpreadKg, a.SpreadKg) })
	for i := range out.Rows {
		r := &out.Rows[i]
		then := math.Min(r.SpreadKg, onScales*float64(r.Count)*r.OneKg)
		square += then*then - r.SpreadKg*r.SpreadKg
		r.LeftKg = math.Sqrt(max(square, 0))
	}
	return out
}

// weighingSheet is the weighing list with what it would do.
func weighingSheet(f *model.Folder, on int) sheet.Sheet {
	s := Weighing(f)
	if len(s.Rows) == 0 {
		return sheet.Sheet{Blocks: []sheet.Block{{Text: &sheet.Text{Paragraphs: []string{"Everything aboard is weighed."}}}}}
	}
	t := weighingTable(f, on)
	u := heavy(f.Boat.Units)
	t.Note = fmt.Sprintf("She weighs %s ± %s at the departure. What is left of that ± stands there once a thing and all above it are weighed, "+
		"good to 2 %%. It is of the weight alone: what lies high or far out does more to trim and righting than its weight tells.", u.Show(s.MassKg), u.Show(s.SpreadKg))
	return sheet.Sheet{Blocks: []sheet.Block{{Table: &t}}}
}

// weighingTable is the weighing list.
func weighingTable(f *model.Folder, _ int) sheet.Table {
	u := f.Boat.Units
	t := sheet.Table{Columns: []sheet.Column{textColumn("what"), textColumn("no."), {Name: "count"}, massColumn("one", u), massColumn("± of all", u), textColumn("known"), massColumn("± left", u), textColumn("weighed")}}
	for _, r := range Weighing(f).Rows {
		where := blank()
		if r.Where != nil {
			where = words(r.Where.Short())
		}
		t.Rows = append(t.Rows, []sheet.Cell{words(r.What), where, number(r.Count), massCell(r.OneKg, u), massCell(r.SpreadKg, u), words(r.Known), massCell(r.LeftKg, u), blank()})
	}
	return t
}
