package terminal

import (
	"thole/internal/answer"
	"thole/internal/sheet"
)

// block writes one block of a sheet.
func (p *page) block(b sheet.Block) {
	switch {
	case b.Text != nil:
		p.heading(b.Text.Heading)
		for i, s := range b.Text.Paragraphs {
			if i > 0 || b.Text.Heading == "" {
				p.gap()
			}
			p.para(0, s)
		}
	case b.Figures != nil:
		p.figures(b.Figures)
	case b.Table != nil:
		p.table(b.Table)
	case b.Chart != nil:
		p.chart(b.Chart)
	case b.Field != nil:
		p.field(b.Field)
	case b.Matrix != nil:
		label := 0
		for _, r := range b.Matrix.Rows {
			label = max(label, columns(p.look.say(r.Name)))
		}
		// a letter a column, and a space between groups
		for _, part := range b.Matrix.Split((p.look.Width - min(label, p.look.Width/3) - 3) * 3 / 4) {
			p.matrix(&part)
		}
	case b.Drawing != nil:
		p.drawing(b.Drawing)
	case b.Map != nil:
		p.chartlet(b.Map)
	case b.Solid != nil:
		p.heading(b.Solid.Heading)
		p.para(0, b.Solid.Alt)
	case b.Warning != nil:
		p.gap()
		p.hang(0, "! ", b.Warning.Text)
	case b.Sources != nil:
		p.heading("Sources")
		for _, r := range b.Sources.Rows {
			p.hang(0, p.look.bullet(), sourced(r.What, r.Source))
		}
	}
}

// sourced is a step and where it is printed.
func sourced(what, source string) string {
	if source == "" {
		return what
	}
	return what + " (" + source + ")"
}

// whole writes an answer and its whole sheet.
func (p *page) whole(a answer.Answer) {
	p.heading(a.Title)
	p.verdicts(0, a)
	p.gap()
	p.para(0, a.Sentence)
	if a.Margin != nil && a.Margin.What != "" {
		p.para(0, "The margin is the "+a.Margin.What+".")
	}
	if a.Worst != nil {
		p.para(0, tightest(a))
	}
	for _, b := range a.Sheet.Blocks {
		p.block(b)
	}
	p.offers(a.Offers)
	p.list("What is missing", missing(a))
	p.list("What was taken for granted", assumed(a))
	var steps []string
	for _, m := range a.Method {
		steps = append(steps, sourced(m.What, m.Source))
	}
	p.list("How this was worked out", steps)
	p.list("What this did not look at", a.NotLookedAt)
	p.list("Cautions", a.Cautions)
}
