// Package book is the face on paper: what must survive a dead battery, as a PDF
// to print and bind.
//
// Letters are large enough for a wet cabin, and everything reads in black. The
// same folder always gives the same bytes: the only date in the book is the
// voyage's own. The package shows answers and works nothing out; a new question
// is printed by itself.
package book

import (
	"fmt"
	"io"
	"strings"
	"time"

	"thole/internal/answer"
	"thole/internal/draw"
	"thole/internal/draw/letters"
	"thole/internal/levers"
	"thole/internal/model"
	"thole/internal/portrait"
)

// Print writes the book of a boat: a title page that begins with the cautions,
// the boat cut open, every answer on a line, what would change them, then every answer in full,
// and last the lists that are used on board.
func Print(w io.Writer, c *answer.Case, answers []answer.Answer, changes levers.Result, stamp string) error {
	p := newPaper(c.Folder, stamp)
	p.title(answers, stamp)
	p.overview(c, answers)
	p.levers(changes)
	for _, a := range answers {
		p.answer(a)
	}
	p.lists(c.Folder)
	return p.doc.Output(w)
}

// date is the only date a book may bear: the day the voyage leaves. A folder
// without one gives the first day of the calendar that PDF counts from.
func date(f *model.Folder) time.Time {
	if f.Voyage != nil && !f.Voyage.Leave.IsZero() {
		return f.Voyage.Leave.UTC()
	}
	return time.Unix(0, 0).UTC()
}

// title is the first page.
func (p *paper) title(answers []answer.Answer, stamp string) {
	p.doc.AddPage()
	p.doc.SetY(34)
	p.set(letters.Sans, "", small)
	p.lines("The book of", flush)
	p.set(letters.Serif, "B", 34)
	p.lines(p.folder.Boat.Name, flush)
	p.rule(2)
	if p.folder.Boat.About != "" {
		p.set(letters.Serif, "I", plain)
		p.lines(p.folder.Boat.About, flush)
		p.gap(2)
	}
	p.set(letters.Serif, "", plain)
	if s := voyage(p.folder.Voyage); s != "" {
		p.lines(s, flush)
	}
	p.set(letters.Sans, "", small)
	p.lines("Printed from folder "+stamp+". If the folder has changed since, this book is out of date.", flush)
	p.gap(4)
	p.heading("Before anything else")
	for _, s := range cautions(answers) {
		p.item(s)
	}
	p.item("Every answer here is an aid to judgement. Local rules, a qualified surveyor or naval architect, " +
		"and real tests of the real boat stand above it.")
}

// voyage is the voyage in a sentence.
func voyage(v *model.Voyage) string {
	if v == nil {
		return ""
	}
	var parts []string
	if v.From.Name != "" && v.To.Name != "" {
		parts = append(parts, v.From.Name+" to "+v.To.Name)
	}
	if !v.Leave.IsZero() {
		parts = append(parts, "leaving "+v.Leave.Format("2 January 2006"))
	}
	if v.Days > 0 {
		parts = append(parts, fmt.Sprintf("stores for %d days", v.Days))
	}
	if len(parts) == 0 {
		return ""
	}
	return strings.Join(parts, ", ") + "."
}

// cautions lists the cautions of all answers, each once, in order.
func cautions(answers []answer.Answer) []string {
	var out []string
	seen := map[string]bool{}
	for _, a := range answers {
		for _, s := range a.Cautions {
			if !seen[s] {
				seen[s] = true
				out = append(out, s)
			}
		}
	}
	return out
}

// overview is the boat cut open and every answer on a line.
func (p *paper) overview(c *answer.Case, answers []answer.Answer) {
	p.doc.AddPage()
	d, err := portrait.Draw(c, 0, "")
	if err != nil {
		p.heading("Cut open along her length")
		p.para("She could not be drawn: " + err.Error())
	} else {
		if d.Heading == "" {
			d.Heading = "Cut open along her length"
		}
		p.drawing(&d)
	}
	p.heading("The questions")
	p.set(letters.Sans, "", small)
	p.lines("On each scale the upright stroke is the limit, the dot the margin, the bar how far it may be out; the short stroke "+
		"is the margin asked for. Right of the limit it holds, across it is close, left of it is short; a hollow dot cannot be told.", flush)
	p.gap(2)
	for _, a := range answers {
		p.need(24)
		p.set(letters.Serif, "B", plain)
		p.lines(a.Title, flush)
		p.verdict(a)
		p.para(a.Sentence)
		p.gap(2)
	}
}

// answer is one answer in full, on pages of its own.
func (p *paper) answer(a answer.Answer) {
	p.doc.AddPage()
	p.set(letters.Serif, "B", 22)
	p.lines(a.Title, flush)
	p.gap(1)
	p.verdict(a)
	p.gap(1)
	p.set(letters.Serif, "", 14)
	p.lines(a.Sentence, flush)
	p.gap(2)
	var about []string
	if a.Margin != nil && a.Margin.What != "" {
		about = append(about, "The margin is the "+a.Margin.What+".")
	}
	if a.Worst != nil {
		s := fmt.Sprintf("Tightest on day %d", a.Worst.Day)
		if a.Worst.Condition != "" {
			s += ", " + a.Worst.Condition
		}
		about = append(about, s+".")
	}
	if len(about) > 0 {
		p.para(strings.Join(about, " "))
	}
	p.list("Cautions", a.Cautions)
	var missing []string
	for _, n := range a.Needs {
		missing = append(missing, n.File+": "+n.Key+": "+n.Why)
	}
	p.list("What is missing", missing)
	for _, b := range a.Sheet.Blocks {
		p.block(b)
	}
	var helps []string
	for _, o := range a.Offers {
		helps = append(helps, o.Name+". "+o.Why)
	}
	p.list("What would mend it", helps)
	var steps []string
	for _, m := range a.Method {
		steps = append(steps, sourced(m.What, m.Source))
	}
	p.list("How this was worked out", steps)
	p.list("What was taken for granted", assumed(a))
	p.list("What this did not look at", a.NotLookedAt)
}

// assumed lists what was taken for granted.
func assumed(a answer.Answer) []string {
	var out []string
	for _, s := range a.Assumptions {
		t := strings.TrimSpace(s.What + " " + s.Value)
		if s.Why != "" {
			t += ", " + s.Why
		}
		if s.File != "" {
			t += " (" + s.File + ")"
		}
		out = append(out, t)
	}
	return out
}

// sourced is a step and where it is printed.
func sourced(what, source string) string {
	if source == "" {
		return what
	}
	return what + " (" + source + ")"
}

// verdict is a line with the margin mark, the word and the margin.
func (p *paper) verdict(a answer.Answer) {
	m := draw.NoMark()
	word := string(a.Verdict)
	if a.Margin != nil && a.Verdict != answer.CannotTell {
		m = draw.MarkOf(a.Margin.Value, a.Margin.Asked, a.Margin.Spread)
	}
	const height, width = 6.0, 56.0
	p.need(height)
	y := p.doc.GetY()
	draw.OfMark(m, draw.Size{Width: width, Height: height}, word).PDF(p.doc, left, y, letters.Sans)
	x := left + width + 5
	p.set(letters.Sans, "B", plain)
	p.doc.Text(x, y+4.4, word)
	if a.Margin != nil && a.Verdict != answer.CannotTell {
		x += p.doc.GetStringWidth(string(answer.CannotTell)) + 6
		p.set(letters.Sans, "", plain)
		p.doc.Text(x, y+4.4, a.Margin.Shown)
	}
	p.doc.SetXY(left, y+height+1)
}
