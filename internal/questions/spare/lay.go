package spare

import (
	"context"
	"fmt"
	"strings"

	"thole/internal/answer"
	"thole/internal/sheet"
)

// mostRows bounds the table of pairs; the figures have them all.
const mostRows = 40

// lay lays the answer out for the faces.
func (q *ask) lay(ctx context.Context, a *answer.Answer) error {
	put := func(b sheet.Block) { a.Sheet.Blocks = append(a.Sheet.Blocks, b) }
	put(sheet.Block{Figures: q.counts(a)})
	m, err := q.matrix(ctx)
	if err != nil {
		return err
	}
	put(sheet.Block{Matrix: m})
	if len(q.f.Singles) > 0 {
		put(sheet.Block{Table: q.singleTable()})
	}
	if len(q.f.Pairs) > 0 {
		put(sheet.Block{Table: q.pairTable()})
	}
	if len(q.f.Lacks) > 0 {
		put(sheet.Block{Table: q.lackTable()})
	}
	if len(q.f.Dates) > 0 {
		put(sheet.Block{Table: q.dateTable()})
	}
	if len(q.f.Check) > 0 {
		put(sheet.Block{Table: q.checkTable()})
	}
	return nil
}

func (q *ask) counts(a *answer.Answer) *sheet.Figures {
	out := &sheet.Figures{Heading: "Counted"}
	row := func(name string, v int, why string) {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Value: float64(v), Why: why})
	}
	top := q.f.Functions[0].Rank
	row(fmt.Sprintf("single losses that end a function of rank %d", top), q.count(func(s *Single) bool { return s.Rank == top }), "each is a loss and a function that it ends alone")
	row("single losses that end any function", len(q.f.Singles), "of those that needs.yaml ranks")
	mended := q.count(func(s *Single) bool { return s.Mend != nil && s.Mend.Adds == 0 })
	row("of them taken away by one spare or move", mended, "each was made in memory and every single loss found again")
	row("pairs that end a function of any rank", len(q.f.Pairs), "of which neither loss does alone")
	if q.f.Best != nil {
		out.Rows = append(out.Rows, sheet.Figure{Name: "what takes away most", Text: q.f.Best.Said(), Why: fmt.Sprintf("it takes away %d single losses and makes %d, and adds %s", q.f.Best.Ends, q.f.Best.Adds, q.c.Folder.Boat.Units.Heavy().Show(q.f.Best.Mass))})
	}
	inputs := q.c.Inputs("needs.yaml: functions", "stores.csv", "boat.yaml: weights", "boat.yaml: compartments", "voyage.yaml: crew")
	out.Explain(func(name string) sheet.Account {
		acc := sheet.Account{Inputs: inputs, Source: handbook, Method: "minimal sets of losses that end a function, by trying all of them alone and in pairs"}
		if name == "what takes away most" || strings.HasPrefix(name, "of them taken") {
			acc.Method, acc.Source = "each spare and each move is made in memory, and the single losses are found again", "direct trial; no source needed"
		}
		return acc
	})
	return out
}

func (q *ask) singleTable() *sheet.Table {
	heavy := q.c.Folder.Boat.Units.Heavy()
	t := &sheet.Table{Heading: "One loss that ends a function, worst first", Columns: []sheet.Column{{Name: "rank"}, {Name: "no more", Text: true}, {Name: "when", Text: true},
		{Name: "from", Text: true}, {Name: "cheapest spare or move", Text: true}, {Name: "adds", Unit: heavy.Unit, Places: 1}, {Name: "takes off"}},
		Note: "From: leaving, or only on the last day, when the rest is used up. Each spare and each move was tried: it takes this loss off, and so many single losses in all. A move adds no weight, but it shifts some; whether it finds room is for the stowage."}
	for _, s := range q.f.Singles {
		row := []sheet.Cell{{Value: float64(s.Rank), Loud: s.Rank >= grave}, {Text: s.Function, Loud: s.Rank >= grave}, {Text: s.Loss.What}, {Text: q.from(s.Days)}}
		if s.Mend == nil {
			row = append(row, sheet.Cell{Text: "none found"}, sheet.Cell{Empty: true}, sheet.Cell{Empty: true})
		} else {
			said := s.Mend.Said()
			if s.Mend.Adds > 0 {
				said += fmt.Sprintf(" (but it makes %d new)", s.Mend.Adds)
			}
			row = append(row, sheet.Cell{Text: said}, sheet.Cell{Value: s.Mend.Mass * heavy.Factor}, sheet.Cell{Value: float64(s.Mend.Ends)})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// from tells on which of the days looked at something holds.
func (q *ask) from(days []int) string {
	if days[0] == q.days[0] && len(days) < len(q.days) {
		return "leaving only"
	}
	if days[0] == q.days[0] {
		return "leaving"
	}
	return "the last day"
}

func (q *ask) pairTable() *sheet.Table {
	t := &sheet.Table{Heading: "Two losses that end what neither ends alone, by harm", Columns: []sheet.Column{{Name: "rank"}, {Name: "harm"}, {Name: "one", Text: true}, {Name: "and", Text: true}, {Name: "no more", Text: true}, {Name: "from", Text: true}},
		Note: "Rank: of the worst function that they end; harm: the ranks of all of them together."}
	if n := len(q.f.Pairs) - mostRows; n > 0 {
		t.Note += fmt.Sprintf(" The %d that do least harm are left out here.", n)
	}
	for _, fn := range q.f.Functions {
		if !fn.Whole {
			t.Note += fmt.Sprintf(" Not all pairs that end %s could be listed.", quote(fn.Name))
		}
	}
	for _, p := range q.f.Pairs[:min(mostRows, len(q.f.Pairs))] {
		t.Rows = append(t.Rows, []sheet.Cell{{Value: float64(p.Rank), Loud: p.Rank >= grave}, {Value: float64(p.Harm)}, {Text: p.Losses[0].What}, {Text: p.Losses[1].What}, {Text: strings.Join(p.Ends, ", ")}, {Text: q.from(p.Days)}})
	}
	return t
}

func (q *ask) lackTable() *sheet.Table {
	t := &sheet.Table{Heading: "Named, but nothing aboard provides it", Columns: []sheet.Column{{Name: "name", Text: true}, {Name: "named by", Text: true}}}
	for _, l := range q.f.Lacks {
		by := strings.Join(l.By, ", ")
		if by == "" {
			by = "needs of a thing, which is then of no use"
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: l.Name}, {Text: by}})
	}
	return t
}

func (q *ask) dateTable() *sheet.Table {
	t := &sheet.Table{Heading: "In date, and to be looked at", Columns: []sheet.Column{{Name: "what", Text: true}, {Name: "", Text: true}, {Name: "on", Text: true}, {Name: "that is", Text: true}, {Name: "serves", Text: true}},
		Note: "As the folder has them. Out of date at sea stands first, then what falls due to be looked at there: have it looked at before leaving. Whether an inspection was done, the checklist says."}
	for _, d := range q.f.Dates {
		kind := "to be looked at"
		if d.Kind == "expires" {
			kind = "good until"
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: d.What, Loud: d.Spoils}, {Text: kind}, {Text: d.On}, {Text: d.Standing, Loud: d.Spoils || d.Due}, {Text: d.For, Empty: d.For == ""}})
	}
	return t
}

func (q *ask) checkTable() *sheet.Table {
	t := &sheet.Table{Heading: "Checklist", Columns: []sheet.Column{{Name: "what", Text: true}, {Name: "asked for by", Text: true}, {Name: "by", Text: true}, {Name: "done", Text: true}},
		Note: "Your own, from needs.yaml: a starting list. Ask the organiser and the authority what they ask for."}
	for _, c := range q.f.Check {
		done := "no"
		if c.Done {
			done = "yes"
		}
		by := sheet.Cell{Text: c.By, Empty: c.By == "", Loud: c.Late}
		if c.Late {
			by.Text += ", after leaving"
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: c.What, Loud: !c.Done}, {Text: c.Asks, Empty: c.Asks == ""}, by, {Text: done, Loud: !c.Done}})
	}
	return t
}
