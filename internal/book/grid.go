package book

import (
	"strings"

	"thole/internal/draw/letters"
)

// grid is a table with ruled rows, to be written in by hand.
type grid struct {
	columns []ruled
	rows    [][]entry
}

// ruled is a column of a grid.
type ruled struct {
	name  string
	width float64 // mm
	right bool    // flush right
}

// entry is a cell of a grid: words, or boxes to cross off.
type entry struct {
	text    string
	heavy   bool
	boxes   int
	crossed bool // the boxes are
}

// Boxes are so large that a pencil finds them, and so many stand beside one another at most.
const (
	boxSize  = 3.8
	boxStep  = 4.5
	rowWhite = 1.6
)

// grid prints a grid; its header comes again on each page.
func (p *paper) grid(g *grid) {
	p.gridHead(g)
	for r, row := range g.rows {
		cells, tall := make([][]string, len(row)), 1
		for i, e := range row {
			p.entryLetters(e)
			cells[i] = p.doc.SplitText(e.text, g.columns[i].width-1)
			tall = max(tall, len(cells[i]))
		}
		room := float64(tall)*p.lead() + rowWhite
		if r == len(g.rows)-2 { // the last row, often a sum, is not left alone on the next page
			room += p.lead() + rowWhite
		}
		if p.doc.GetY()+room > 297-bottom {
			p.doc.AddPage()
			p.gridHead(g)
		}
		y, x := p.doc.GetY(), left
		deep := y + float64(tall)*p.lead() + rowWhite
		for i, e := range row {
			p.entryLetters(e)
			for k, s := range cells[i] {
				p.gridCell(g.columns[i], x, y+float64(k)*p.lead()+rowWhite/2, s)
			}
			p.boxes(e, x, y, deep-y, g.columns[i].width)
			x += g.columns[i].width
		}
		p.doc.SetDrawColor(150, 148, 142)
		p.doc.SetLineWidth(0.12)
		p.doc.Line(left, deep, x, deep)
		p.doc.SetXY(left, deep)
	}
	p.gap(2)
}

func (p *paper) entryLetters(e entry) {
	style := ""
	if e.heavy {
		style = "B"
	}
	p.set(letters.Sans, style, small)
}

func (p *paper) gridCell(c ruled, x, y float64, s string) {
	align := "L"
	if c.right {
		align = "R"
	}
	p.doc.SetXY(x, y)
	p.doc.CellFormat(c.width-1, p.lead(), s, "", 0, align, false, 0, "")
}

// boxes draws the boxes of a cell in its middle; where they have no room, one stands with their number.
func (p *paper) boxes(e entry, x, y, height, width float64) {
	if e.boxes == 0 {
		return
	}
	n, told := e.boxes, ""
	if float64(n)*boxStep > width {
		n, told = 1, "×"+strings.TrimSpace(e.text)
	}
	p.doc.SetDrawColor(28, 32, 38)
	p.doc.SetLineWidth(0.25)
	top := y + (height-boxSize)/2
	for k := range n {
		at := x + float64(k)*boxStep
		p.doc.Rect(at, top, boxSize, boxSize, "D")
		if e.crossed {
			p.doc.Line(at, top, at+boxSize, top+boxSize)
			p.doc.Line(at, top+boxSize, at+boxSize, top)
		}
	}
	if told != "" {
		p.doc.SetXY(x+boxStep, y+rowWhite/2)
		p.doc.CellFormat(width-boxStep, p.lead(), told, "", 0, "L", false, 0, "")
	}
}

// gridHead prints the names of the columns over a line.
func (p *paper) gridHead(g *grid) {
	p.set(letters.Sans, "B", small)
	heads, tall := make([][]string, len(g.columns)), 1
	for i, c := range g.columns {
		heads[i] = p.doc.SplitText(c.name, c.width-1)
		tall = max(tall, len(heads[i]))
	}
	p.need(float64(tall+2) * (p.lead() + rowWhite))
	y, x := p.doc.GetY(), left
	deep := y + float64(tall)*p.lead()
	for i, c := range g.columns {
		for k, s := range heads[i] {
			p.gridCell(c, x, deep-float64(len(heads[i])-k)*p.lead(), s)
		}
		x += c.width
	}
	p.doc.SetDrawColor(28, 32, 38)
	p.doc.SetLineWidth(0.25)
	p.doc.Line(left, deep+0.5, x, deep+0.5)
	p.doc.SetXY(left, deep+0.6)
}
