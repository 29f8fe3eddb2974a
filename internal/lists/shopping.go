package lists

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"thole/internal/model"
	"thole/internal/sheet"
	"thole/internal/units"
)

// Purchase is what is to be got of one name in one group, over all rows of the stores.
type Purchase struct {
	Group  string  `json:"group,omitempty"`
	What   string  `json:"what"`
	Count  int     `json:"count"`
	OneKg  float64 `json:"one_kg,omitempty"` // mass of one; 0 where they differ
	MassKg float64 `json:"mass_kg"`
	Litres float64 `json:"litres,omitempty"` // of all whose volume is given
	// GoodUntil is the day up to which it must keep: the last day of its use, or the voyage's end for what is kept; zero where the
	// voyage's dates are not known. Expires is the earliest that the rows give.
	GoodUntil time.Time `json:"good_until,omitzero"`
	Expires   time.Time `json:"expires,omitzero"`
}

// Late tells whether what is there goes bad before it is used.
func (p *Purchase) Late() bool {
	return !p.Expires.IsZero() && !p.GoodUntil.IsZero() && p.Expires.Before(p.GoodUntil)
}

// Shopping is what is to be got, by group and then by name, noun first; rows of one name and group are added up.
func Shopping(f *model.Folder) []Purchase {
	type key struct{ group, what string }
	at := map[key]int{}
	var out []Purchase
	for i := range f.Stores {
		s := &f.Stores[i]
		k := key{model.PlainName(s.Group), model.PlainName(s.What)}
		n, one := whole(s), float64(s.Mass.Value)
		if _, met := at[k]; !met {
			at[k] = len(out)
			out = append(out, Purchase{Group: s.Group, What: s.What, OneKg: one})
		}
		p := &out[at[k]]
		if p.OneKg != one {
			p.OneKg = 0
		}
		p.Count += n
		p.MassKg += float64(n) * one
		p.Litres += float64(n) * float64(s.Volume) * 1000
		if until := goodUntil(f, s); until.After(p.GoodUntil) {
			p.GoodUntil = until
		}
		if !s.Expires.IsZero() && (p.Expires.IsZero() || s.Expires.Before(p.Expires)) {
			p.Expires = s.Expires
		}
	}
	slices.SortStableFunc(out, func(a, b Purchase) int {
		// What has no group comes last.
		return cmp.Or(cmp.Compare(btoi(a.Group == ""), btoi(b.Group == "")), cmp.Compare(strings.ToLower(a.Group), strings.ToLower(b.Group)), byNoun(a.What, b.What))
	})
	return out
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// goodUntil is the last day on which a store is needed; zero where that is not known.
func goodUntil(f *model.Folder, s *model.Store) time.Time {
	if f.Voyage == nil || f.Voyage.Leave.IsZero() {
		return time.Time{}
	}
	last := s.Use.Last
	if last == 0 {
		last = f.LastDay()
	}
	return f.Voyage.Leave.AddDate(0, 0, max(last, 1)-1)
}

// shoppingSheet is the shopping list, a table for each group with its sum.
func shoppingSheet(f *model.Folder, _ int) sheet.Sheet {
	u := f.Boat.Units
	var out sheet.Sheet
	all := Shopping(f)
	for from := 0; from < len(all); {
		to := from
		t := sheet.Table{Heading: all[from].Group, Columns: []sheet.Column{textColumn("what"), {Name: "count"}, massColumn("one", u), massColumn("mass", u), textColumn("must keep until"), textColumn("there are")}}
		if t.Heading == "" {
			t.Heading = "of no group"
		}
		count, mass := 0, 0.0
		var late []string
		for ; to < len(all) && model.PlainName(all[to].Group) == model.PlainName(all[from].Group); to++ {
			p := &all[to]
			one := massCell(p.OneKg, u)
			one.Empty = p.OneKg == 0
			t.Rows = append(t.Rows, []sheet.Cell{words(p.What), number(p.Count), one, massCell(p.MassKg, u), words(dateText(p.GoodUntil)), blank()})
			count, mass = count+p.Count, mass+p.MassKg
			if p.Late() {
				late = append(late, fmt.Sprintf("%s: good only until %s", p.What, dateText(p.Expires)))
			}
		}
		t.Note = strings.Join(append([]string{fmt.Sprintf("%s, %s", things(count), heavy(u).Show(mass))}, late...), "; ") + "."
		out.Blocks = append(out.Blocks, sheet.Block{Table: &t})
		from = to
	}
	if len(out.Blocks) == 0 {
		out.Blocks = []sheet.Block{{Text: &sheet.Text{Paragraphs: []string{"There are no stores."}}}}
	}
	return out
}

// shoppingTable is the shopping list as one table.
func shoppingTable(f *model.Folder, _ int) sheet.Table {
	u := f.Boat.Units
	t := sheet.Table{Columns: []sheet.Column{textColumn("group"), textColumn("what"), {Name: "count"}, massColumn("one", u), massColumn("mass", u), {Name: "volume", Unit: "L", Places: 1}, textColumn("must keep until"), textColumn("expires"), textColumn("there are")}}
	for _, p := range Shopping(f) {
		one := massCell(p.OneKg, u)
		one.Empty = p.OneKg == 0
		t.Rows = append(t.Rows, []sheet.Cell{words(p.Group), words(p.What), number(p.Count), one, massCell(p.MassKg, u), {Value: p.Litres, Empty: p.Litres == 0}, words(dateText(p.GoodUntil)), words(dateText(p.Expires)), blank()})
	}
	if u == units.Feet {
		const cubicFoot = 28.316846592 // litres; the international foot
		t.Columns[5] = sheet.Column{Name: "volume", Unit: "ft3", Places: 2}
		for i := range t.Rows {
			t.Rows[i][5].Value /= cubicFoot
		}
	}
	return t
}

func dateText(d time.Time) string {
	if d.IsZero() {
		return ""
	}
	return d.Format("2006-01-02")
}
