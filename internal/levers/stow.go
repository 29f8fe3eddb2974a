package levers

import (
	"fmt"
	"slices"
	"strings"

	"thole/internal/model"
)

// restow is what becomes of one row of the stores: a portion, or nothing, and the portions that rows below it take.
type restow struct {
	row   int
	own   *model.Portion
	below []model.Portion
}

// stow writes where all pieces of some stores lie and when they are used: rows that say so already stay, others are written anew, rows are put in
// below the first or taken out as there are more portions or fewer. All acts are followed before a line is written.
func (p *pen) stow(acts []model.Act) error {
	var rows []restow
	for _, a := range acts {
		for _, name := range a.What {
			more, err := p.restow(name, a.Portions)
			if err != nil {
				return err
			}
			rows = append(rows, more...)
		}
	}
	slices.SortFunc(rows, func(a, b restow) int { return b.row - a.row }) // the last first: no index changes under an edit that is still to be made
	for _, r := range rows {
		if err := p.portion(r); err != nil {
			return err
		}
	}
	return nil
}

// restow shares portions out among the rows of a name.
func (p *pen) restow(name string, portions []model.Portion) ([]restow, error) {
	var rows []int
	have, want := 0, 0
	for i, s := range p.f.Stores {
		if model.PlainName(s.What) == model.PlainName(name) {
			rows = append(rows, i)
			have += max(1, s.Count)
		}
	}
	if len(rows) == 0 {
		return nil, fmt.Errorf("nothing in stores.csv is called %q", name)
	}
	left := slices.Clone(portions)
	for k := range left {
		want += left[k].Count
		if p.compartment(left[k].In) < 0 {
			return nil, fmt.Errorf("no compartment is called %q", left[k].In)
		}
		if kept := p.f.Stores[rows[0]].Use.Last == 0; kept != (left[k].Last == 0) {
			return nil, fmt.Errorf("%s is kept, or used up: say days for what is used up, and none for what is kept", name)
		}
	}
	if want != have {
		return nil, fmt.Errorf("there are %d of %s, not %d", have, name, want)
	}
	var out []restow
	for _, r := range rows { // rows that need no change
		s := &p.f.Stores[r]
		k := slices.IndexFunc(left, func(o model.Portion) bool {
			return !s.Where.None && p.compartment(o.In) == s.Where.Compartment && o.Count == max(1, s.Count) && o.First == s.Use.First && o.Last == s.Use.Last
		})
		if k >= 0 {
			left = slices.Delete(left, k, k+1)
			continue
		}
		out = append(out, restow{row: r})
	}
	for k := range out {
		if len(left) > 0 {
			out[k].own = &left[0]
			left = left[1:]
		}
	}
	if len(left) > 0 { // then every row that changes has its portion
		if len(out) == 0 {
			out = append(out, restow{row: rows[0]})
		}
		out[len(out)-1].below = left
	}
	return out, nil
}

// portion writes one row, and those below it.
func (p *pen) portion(r restow) error {
	s := p.f.Stores[r.row]
	key := fmt.Sprintf("rows[%d]", r.row)
	for k := len(r.below) - 1; k >= 0; k-- {
		cells := map[string]string{"where": p.callIt(p.compartment(r.below[k].In)), "count": fmt.Sprint(r.below[k].Count)}
		if r.below[k].Last > 0 {
			cells["used"] = p.span(key, r.below[k])
		}
		text, err := p.rowLike(r.row, cells)
		if err != nil {
			return err
		}
		p.insert(storesFile, fmt.Sprintf("rows[%d]", r.row+1), text)
	}
	switch {
	case r.own == nil && len(r.below) > 0:
	case r.own == nil:
		p.remove(storesFile, key, s.What)
	default:
		if to := p.compartment(r.own.In); s.Where.None || to != s.Where.Compartment {
			p.set(storesFile, key+".where", s.What, p.callIt(to))
		}
		if r.own.Count != max(1, s.Count) {
			p.set(storesFile, key+".count", s.What, fmt.Sprint(r.own.Count))
		}
		if r.own.First != s.Use.First || r.own.Last != s.Use.Last {
			p.set(storesFile, key+".used", s.What, p.span(key, *r.own))
		}
	}
	return nil
}

// span is when a portion is used, as the row says it of itself: what it says of where it goes to stays.
func (p *pen) span(key string, o model.Portion) string {
	v, _ := p.value(storesFile, key+".used")
	return daysForm.ReplaceAllLiteralString(strings.TrimSpace(v.Text), o.Used())
}
