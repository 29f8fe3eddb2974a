package levers

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"thole/internal/model"
	"thole/internal/units"
)

// near is how close to the mass asked for a whole number of things must come before one of them is split.
const near = 0.05

// parcel is what of a row of the stores is moved: all of it, so many of its things, or so much of one mass.
type parcel struct {
	row   int
	all   bool
	count int        // of the row's things, where not all
	one   units.Mass // of each thing moved, where it is not the row's own
	left  units.Mass // of each thing that stays, likewise
}

// parcels picks so much of a compartment's stores: whole rows, the heaviest first, then part of a row. What is pinned stays.
//
// Out: what is moved, and how heavy it is
func parcels(f *model.Folder, from int, want units.Mass) ([]parcel, units.Mass) {
	var rows []int
	total := func(i int) units.Mass {
		return f.Stores[i].Mass.Value * units.Mass(max(1, f.Stores[i].Count))
	}
	for i, s := range f.Stores {
		if s.Where.Compartment == from && !s.Pinned {
			rows = append(rows, i)
		}
	}
	slices.SortStableFunc(rows, func(a, b int) int { return int(math.Copysign(1, float64(total(b)-total(a)))) })
	var out []parcel
	var moved units.Mass
	var rest []int
	for _, i := range rows {
		if moved+total(i) <= want*(1+1e-9) {
			out, moved = append(out, parcel{row: i, all: true}), moved+total(i)
		} else {
			rest = append(rest, i)
		}
	}
	if short := want - moved; short > want*near && len(rest) > 0 {
		// The row whose things come nearest.
		best, error := parcel{row: -1}, units.Mass(math.Inf(1))
		for _, i := range rest {
			s := f.Stores[i]
			if s.Count < 2 {
				continue
			}
			n := min(math.Round(float64(short/s.Mass.Value)), float64(s.Count-1))
			if off := units.Mass(math.Abs(float64(short - s.Mass.Value*units.Mass(n)))); n > 0 && off < error {
				best, error = parcel{row: i, count: int(n)}, off
			}
		}
		if error > want*near { // part of one thing
			i := rest[0]
			s := f.Stores[i]
			best = parcel{row: i, count: max(1, s.Count), one: short / units.Mass(max(1, s.Count))}
			best.left = s.Mass.Value - best.one
			moved += short
		} else {
			moved += f.Stores[best.row].Mass.Value * units.Mass(best.count)
		}
		out = append(out, best)
	}
	slices.SortFunc(out, func(a, b parcel) int { return b.row - a.row })
	return out, moved
}

// move puts so much of the stores of one compartment into another.
//
// Out: how much is moved
func (p *pen) move(a model.Act) (units.Mass, error) {
	from, to := p.compartment(a.From), p.compartment(a.To)
	if from < 0 || to < 0 {
		return 0, fmt.Errorf("no compartment is called %q or %q", a.From, a.To)
	}
	picked, moved := parcels(p.f, from, a.Change.Mass)
	if len(picked) == 0 {
		return 0, fmt.Errorf("no stores that are not pinned are in %s", p.f.Boat.Compartments[from].Name)
	}
	where := p.callIt(to)
	for _, k := range picked { // the last row first
		key := fmt.Sprintf("rows[%d]", k.row)
		name := p.f.Stores[k.row].What
		if k.all {
			p.set(storesFile, key+".where", name, where)
			continue
		}
		cells := map[string]string{"where": where}
		t := model.Thing{Weight: -1, Store: k.row, Person: -1}
		if k.one > 0 {
			v, _ := p.value(storesFile, key+".mass")
			cells["mass"] = units.MassLike(v.Text, k.one, goodMass/units.Mass(2*k.count))
			whole := k.one + k.left
			for _, c := range contentKeys {
				if v, ok := p.value(storesFile, key+"."+c); ok && v.Text != "" {
					cells[c] = units.TimesLike(v.Text, float64(k.one/whole))
				}
			}
			p.mass(t, k.left, k.count)
			p.contents(t, float64(k.left/whole))
		} else {
			cells["count"] = fmt.Sprint(k.count)
			p.set(storesFile, key+".count", name, fmt.Sprint(p.f.Stores[k.row].Count-k.count))
		}
		row, err := p.rowLike(k.row, cells)
		if err != nil {
			return 0, err
		}
		p.insert(storesFile, fmt.Sprintf("rows[%d]", k.row+1), row)
	}
	return moved, nil
}

// rowLike is a row of the stores written again with other cells.
func (p *pen) rowLike(row int, cells map[string]string) (string, error) {
	text, ok := p.d.Text(storesFile)
	lines := strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(strings.TrimPrefix(text, "\ufeff")), "\n")
	at := p.f.Stores[row].Source.Line
	if !ok || at < 1 || at > len(lines) {
		return "", errors.New("the stores' row is not found")
	}
	header := ""
	for _, line := range lines {
		if strings.Trim(line, " \t,;") != "" && line[0] != '#' {
			header = line
			break
		}
	}
	comma := ','
	if strings.Count(header, ";") > strings.Count(header, ",") {
		comma = ';'
	}
	split := func(line string) ([]string, error) {
		r := csv.NewReader(strings.NewReader(line))
		r.Comma, r.LazyQuotes, r.FieldsPerRecord = comma, true, -1
		return r.Read()
	}
	names, err := split(header)
	if err != nil {
		return "", err
	}
	record, err := split(lines[at-1])
	if err != nil {
		return "", err
	}
	for i, name := range names {
		if text, ok := cells[model.PlainName(strings.TrimSpace(name))]; ok {
			for len(record) <= i {
				record = append(record, "")
			}
			record[i] = text
		}
	}
	var out strings.Builder
	w := csv.NewWriter(&out)
	w.Comma = comma
	err = errors.Join(w.Write(record))
	w.Flush()
	return strings.TrimRight(out.String(), "\n"), errors.Join(err, w.Error())
}

var daysForm = regexp.MustCompile(`(?i)days? *[0-9]+( *(-|–|to) *[0-9]+)?`)

// food makes what is used up until the last day last longer, at the rate of that day, or leaves the last days' ashore.
func (p *pen) food(a model.Act) error {
	last := 0
	for _, s := range p.f.Stores {
		last = max(last, s.Use.Last)
	}
	if last == 0 || last+a.Days < 1 {
		return errors.New("nothing in stores.csv is used up, or not for so long")
	}
	for i := len(p.f.Stores) - 1; i >= 0; i-- {
		s := p.f.Stores[i]
		key := fmt.Sprintf("rows[%d]", i)
		end := last + a.Days
		v, _ := p.value(storesFile, key+".used")
		switch {
		case s.Use.Last == 0, a.Days > 0 && s.Use.Last < last, a.Days < 0 && s.Use.Last <= end:
			continue
		case s.Use.First == s.Use.Last: // used at one go, on the last day
			p.set(storesFile, key+".used", s.What, daysForm.ReplaceAllLiteralString(v.Text, fmt.Sprintf("day %d", end)))
			continue
		case s.Use.First > end:
			p.remove(storesFile, key, s.What)
			continue
		}
		days := float64(s.Use.Last - s.Use.First + 1)
		p.amount(model.Thing{Weight: -1, Store: i, Person: -1}, float64(end-s.Use.First+1)/days)
		span := fmt.Sprintf("days %d-%d", s.Use.First, end)
		if s.Use.First == end {
			span = fmt.Sprintf("day %d", end)
		}
		p.set(storesFile, key+".used", s.What, daysForm.ReplaceAllLiteralString(v.Text, span))
	}
	return nil
}
