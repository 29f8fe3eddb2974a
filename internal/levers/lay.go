package levers

import (
	"strings"

	"thole/internal/answer"
	"thole/internal/sheet"
)

// Sheet lays the table out: a lever a row, a question a column, what helps most on top. With margins each cell
// has the new margin too, where there is room for it.
func (r Result) Sheet(margins bool) sheet.Table {
	t := sheet.Table{Columns: []sheet.Column{{Name: "lever", Text: true}}}
	var ids []string
	for _, a := range r.Base {
		ids = append(ids, a.Question)
		t.Columns = append(t.Columns, sheet.Column{Name: a.Question})
	}
	now := []sheet.Cell{{Text: "as she is"}}
	for _, a := range r.Base {
		now = append(now, sheet.Cell{Text: standing(a, margins)})
	}
	t.Rows = append(t.Rows, now)
	for _, row := range r.Telling() {
		cells := []sheet.Cell{{Text: r.Levers[row.Lever].Name}}
		for i := range ids {
			cells = append(cells, sheet.Cell{Text: strings.Join(row.Cells[i].Said(margins), ", ")})
		}
		t.Rows = append(t.Rows, cells)
	}
	t.Note = r.Note()
	return t
}

// Note says how the table is read.
func (r Result) Note() string {
	s := "Each figure is how much the question's margin changes; the word with it is the verdict, where that changes."
	for _, a := range r.Base {
		if a.Question == r.Tightest {
			s += " What helps most where she is tightest (" + a.Question + ": " + a.Title + ") comes first."
		}
	}
	for i, why := range r.Faults {
		if why != nil {
			s += " " + r.Base[i].Title + " could not be asked: " + strings.TrimRight(why.Error(), ".") + "."
		}
	}
	return s
}

// Standing is the answers as the folder stands, in the order of the columns.
func (r Result) Standing(margins bool) []string {
	var out []string
	for _, a := range r.Base {
		out = append(out, standing(a, margins))
	}
	return out
}

// Telling are the rows that change something, in their order.
func (r Result) Telling() []Row {
	var out []Row
	for _, row := range r.Rows {
		if row.Trouble == "" && !row.Nothing {
			out = append(out, row)
		}
	}
	return out
}

// notAsked stands in the cells of a question that could not be asked.
const notAsked = "not asked"

// standing is an answer as it is, in a cell.
func standing(a answer.Answer, margins bool) string {
	if a.Verdict == "" {
		return notAsked
	}
	if a.Margin == nil || a.Verdict == answer.CannotTell || !margins {
		return string(a.Verdict)
	}
	return a.Margin.Shown + ", " + string(a.Verdict)
}

// Said is what a cell says, a line each: the change, with margins the new margin, and the verdict where it changes.
func (c Cell) Said(margins bool) []string {
	if c.Trouble != "" {
		return []string{notAsked}
	}
	out := []string{c.Shown}
	if margins && c.Known && c.Margin != nil && c.Shown != "0" {
		out = append(out, "to "+c.Margin.Shown)
	}
	if c.Verdict != c.Was && c.Shown != string(c.Verdict) {
		out = append(out, string(c.Verdict))
	}
	return out
}

// Number is how a lever is called by a figure: its place in the list, from 1.
func (r Row) Number() int { return r.Lever + 1 }

// Cautions go with the table wherever it is shown.
func (r Result) Cautions() []string {
	out := []string{answer.CalculatedNotTested}
	for _, l := range r.Levers {
		if l.Group == hatches {
			return append(out, answer.NotWithHatchOpen)
		}
	}
	return out
}

// Idle are the levers that change nothing any question looks at.
func (r Result) Idle() []string {
	var out []string
	for _, row := range r.Rows {
		if row.Nothing {
			out = append(out, r.Levers[row.Lever].Name)
		}
	}
	return out
}

// Troubled are the levers that could not be asked, each with why.
func (r Result) Troubled() []string {
	var out []string
	for _, row := range r.Rows {
		if row.Trouble != "" {
			out = append(out, r.Levers[row.Lever].Name+": "+row.Trouble)
		}
	}
	return out
}
