package book

import (
	"fmt"
	"strings"

	"thole/internal/draw"
	"thole/internal/draw/letters"
	"thole/internal/sheet"
)

// pageWord is the page's number at its foot.
func pageWord(n int) string { return fmt.Sprintf("%d of {pages}", n) }

// block prints one block of a sheet.
func (p *paper) block(b sheet.Block) {
	switch {
	case b.Text != nil:
		p.heading(b.Text.Heading)
		for _, s := range b.Text.Paragraphs {
			p.para(s)
		}
	case b.Figures != nil:
		p.figures(b.Figures)
	case b.Table != nil:
		p.table(b.Table)
	case b.Chart != nil:
		p.picture(b.Chart.Heading, draw.OfChart(*b.Chart, pictureSize), b.Chart.Alt)
	case b.Field != nil:
		p.picture(b.Field.Heading, draw.OfField(*b.Field, pictureSize), b.Field.Alt+" "+b.Field.Note)
	case b.Matrix != nil:
		for _, part := range b.Matrix.Split(mostColumns) {
			p.picture(part.Heading, draw.OfMatrix(part, matrixSize), strings.TrimSpace(part.Alt+" "+part.Note))
		}
	case b.Drawing != nil:
		p.drawing(b.Drawing)
	case b.Map != nil:
		p.chart(b.Map)
	case b.Solid != nil:
		p.heading(b.Solid.Heading)
		p.para(b.Solid.Alt)
	case b.Warning != nil:
		p.warning(b.Warning.Text)
	case b.Sources != nil:
		var rows []string
		for _, r := range b.Sources.Rows {
			rows = append(rows, sourced(r.What, r.Source))
		}
		p.list("Sources", rows)
	}
}

// pictureSize is the paper a picture may take: a little less than half a page.
var pictureSize = draw.Size{Width: width, Height: 108, Text: 3.7}

// mostColumns of a matrix are as many as have room for their numbers on a page.
const mostColumns = 26

// matrixSize leaves room for a heading and a sentence beside a matrix of many rows.
var matrixSize = draw.Size{Width: width, Height: height - 44, Text: 3.7}

// drawing prints a plane drawing.
func (p *paper) drawing(d *sheet.Drawing) {
	p.picture(d.Heading, draw.OfDrawing(*d, pictureSize), d.Alt)
}

// picture prints a picture under its heading, with its sentence beneath, all on one page.
func (p *paper) picture(heading string, pic draw.Picture, alt string) {
	p.need(pic.Height + 30)
	p.heading(heading)
	y := p.doc.GetY()
	// A break in the middle of a picture would put its words on another page.
	p.doc.SetAutoPageBreak(false, 0)
	pic.PDF(p.doc, left, y, letters.Sans)
	p.doc.SetAutoPageBreak(true, bottom)
	p.doc.SetXY(left, y+pic.Height+2)
	if alt != "" {
		p.set(letters.Serif, "I", small)
		p.lines(alt, flush)
		p.gap(2)
	}
}

// chart prints a map with where the boats are on any day, and small ones with where they are on some days under it.
func (p *paper) chart(m *sheet.Map) {
	p.picture(m.Heading, draw.OfMap(*m, mapSize), strings.TrimSpace(m.Alt+" "+m.Notice))
	days := m.Parts(mostMaps)
	if len(days) < 2 {
		return
	}
	if m.DayMeans != "" {
		p.set(letters.Serif, "", small)
		p.need(p.lead() + 40)
		p.lines("Day by day: "+m.DayMeans+"; the tones are those above.", flush)
		p.gap(1)
	}
	for len(days) > 0 {
		row := days[:min(2, len(days))]
		days = days[len(row):]
		tall := 0.0
		var pics []draw.Picture
		for _, on := range row {
			pics = append(pics, draw.OfMapOn(*m, *on, halfMap))
			tall = max(tall, pics[len(pics)-1].Height)
		}
		p.need(tall + 20)
		y, foot := p.doc.GetY(), 0.0
		for i, on := range row {
			x := left + float64(i)*(width-halfMap.Width)
			p.doc.SetAutoPageBreak(false, 0)
			pics[i].PDF(p.doc, x, y, letters.Sans)
			p.doc.SetAutoPageBreak(true, bottom)
			p.set(letters.Sans, "B", small)
			p.doc.SetXY(x, y+tall+1)
			p.doc.CellFormat(halfMap.Width, p.lead(), fmt.Sprintf("Day %d", on.Day), "", 2, "L", false, 0, "")
			p.set(letters.Serif, "I", small)
			p.doc.MultiCell(halfMap.Width, p.lead(), on.Said, "", "L", false)
			foot = max(foot, p.doc.GetY())
		}
		p.doc.SetY(foot)
		p.gap(2)
	}
}

// mapSize is the paper of a map: its room under the map is for its legend. mostMaps small ones stand two by two below it.
var (
	mapSize = draw.Size{Width: width, Height: 150, Text: 3.4}
	halfMap = draw.Size{Width: width/2 - 4, Height: 70, Text: 2.9}
)

const mostMaps = 4

// warning stands between two heavy lines, so that it is seen in black print too.
func (p *paper) warning(s string) {
	p.set(letters.Serif, "B", plain)
	n := float64(len(p.doc.SplitText(s, width-indented)))
	p.need(n*p.lead() + 8)
	p.gap(2)
	y := p.doc.GetY()
	p.doc.SetXY(left, y)
	p.lines(s, indented)
	p.doc.SetDrawColor(28, 32, 38)
	p.doc.SetLineWidth(0.9)
	p.doc.Line(left+1.5, y+0.5, left+1.5, p.doc.GetY()-0.5)
	p.gap(2)
}

// figures prints named numbers, their points under one another.
func (p *paper) figures(f *sheet.Figures) {
	p.heading(f.Heading)
	const name = 74.0
	p.set(letters.Sans, "", plain)
	whole := 0.0
	for _, r := range f.Rows {
		if r.Text == "" {
			whole = max(whole, p.doc.GetStringWidth(before(draw.Number(r.Value, r.Places))))
		}
	}
	for _, r := range f.Rows {
		p.set(letters.Sans, "", plain)
		names := p.doc.SplitText(r.Name, name-4)
		p.need(float64(len(names)+1) * p.lead())
		y := p.doc.GetY()
		value, x := r.Text, left+name
		if r.Text == "" {
			value = draw.Number(r.Value, r.Places)
			x += whole - p.doc.GetStringWidth(before(value))
			if r.Spread > 0 {
				value += " ± " + draw.Number(r.Spread, r.Places)
			}
			if r.Unit != "" {
				value += " " + r.Unit
			}
		}
		p.doc.SetXY(x, y)
		p.doc.CellFormat(210-right-x, p.lead(), value, "", 0, "L", false, 0, "")
		for i, s := range names {
			p.doc.SetXY(left, y+float64(i)*p.lead())
			p.doc.CellFormat(name, p.lead(), s, "", 0, "L", false, 0, "")
		}
		p.doc.SetXY(left, y+float64(len(names))*p.lead())
		if r.Why != "" {
			p.set(letters.Serif, "I", small)
			p.lines(r.Why, indented)
		}
	}
	p.accounts(f)
	p.gap(2)
}

// before is the part of a number before its point.
func before(s string) string {
	for i, r := range s {
		if r == '.' {
			return s[:i]
		}
	}
	return s
}
