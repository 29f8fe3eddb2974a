package book

import (
	"strconv"

	"thole/internal/draw/letters"
	"thole/internal/lists"
	"thole/internal/model"
)

// A label: two stand beside one another, and are so deep at least.
const (
	labelWidth = 83.0
	labelLeast = 56.0
	labelWhite = 4.0 // between two
	labelEdge  = 3.5 // white inside the edge
	numberSize = 58.0
)

// labels prints a label for every compartment, to be cut out and stuck under its lid: the number large enough for a head torch
// and for shouting, the side, and what lies in it.
func (p *paper) labels(f *model.Folder) {
	all := lists.Compartments(f, 0)
	if n := len(all); n > 0 && all[n-1].Compartment < 0 {
		all = all[:n-1] // what stands at a point has no lid
	}
	if len(all) == 0 {
		return
	}
	p.chapter("Labels to cut out")
	p.doc.SetAutoPageBreak(false, 0)
	for i := 0; i < len(all); i += 2 {
		pair := all[i:min(i+2, len(all))]
		deep := labelLeast
		for k := range pair {
			deep = max(deep, p.labelDepth(&pair[k]))
		}
		deep = min(deep, height)
		if p.doc.GetY()+deep > 297-bottom {
			p.doc.AddPage()
		}
		y := p.doc.GetY()
		for k := range pair {
			p.label(&pair[k], left+float64(k)*(labelWidth+labelWhite), y, deep)
		}
		p.doc.SetXY(left, y+deep+labelWhite)
	}
	p.doc.SetAutoPageBreak(true, bottom)
}

// inside is what a label says of the things, in the order of the list.
func inside(l *lists.Locker) []string {
	var out []string
	for _, t := range l.Things {
		s := t.What
		if t.Count > 1 {
			s = strconv.Itoa(t.Count) + " " + s
		}
		if t.Used != "" {
			s += ", " + t.Used
		}
		out = append(out, s)
	}
	return out
}

// labelLetters are those of the list on a label; the depth of its head is that of the number.
func (p *paper) labelLetters() { p.set(letters.Sans, "", small) }

const labelHead = 25.0

// labelDepth is how deep a label has to be for all that it says.
func (p *paper) labelDepth(l *lists.Locker) float64 {
	p.labelLetters()
	n := 0
	for _, s := range inside(l) {
		n += len(p.doc.SplitText(s, labelWidth-2*labelEdge-3))
	}
	return labelHead + float64(n)*p.lead() + 2*labelEdge
}

// label draws one label in its cutting line.
func (p *paper) label(l *lists.Locker, x, y, deep float64) {
	p.doc.SetDrawColor(106, 104, 98)
	p.doc.SetLineWidth(0.18)
	p.doc.SetDashPattern([]float64{1.6, 1.6}, 0)
	p.doc.Rect(x, y, labelWidth, deep, "D")
	p.doc.SetDashPattern(nil, 0)
	beside := x + labelEdge
	name := 15.0
	if l.Number > 0 {
		p.set(letters.Sans, "B", numberSize)
		p.doc.Text(beside, y+labelEdge+17, strconv.Itoa(l.Number))
		beside += p.doc.GetStringWidth(strconv.Itoa(l.Number)) + 4
	} else {
		name = 22
	}
	p.doc.SetXY(beside, y+labelEdge)
	p.set(letters.Sans, "B", name)
	room := x + labelWidth - labelEdge - beside
	lines := p.doc.SplitText(l.Name, room)
	for len(lines) > 2 && name > 9 { // long names are set smaller
		name--
		p.set(letters.Sans, "B", name)
		lines = p.doc.SplitText(l.Name, room)
	}
	at := y + labelEdge
	for _, s := range lines {
		p.doc.SetXY(beside, at)
		p.doc.CellFormat(room, p.lead(), s, "", 0, "L", false, 0, "")
		at += p.lead()
	}
	p.set(letters.Sans, "", 9)
	for _, s := range p.doc.SplitText(l.About(), room) {
		p.doc.SetXY(beside, at)
		p.doc.CellFormat(room, p.lead(), s, "", 0, "L", false, 0, "")
		at += p.lead()
	}
	p.doc.SetDrawColor(28, 32, 38)
	p.doc.SetLineWidth(0.5)
	p.doc.Line(x+labelEdge, y+labelHead, x+labelWidth-labelEdge, y+labelHead)
	p.labelLetters()
	at, last := y+labelHead+1.5, y+deep-labelEdge
	for _, s := range inside(l) {
		lines := p.doc.SplitText(s, labelWidth-2*labelEdge-3)
		if at+float64(len(lines)+1)*p.lead() > last && p.labelDepth(l) > deep {
			lines, last = []string{"and more: the load plan has them all"}, 0
		}
		for k, line := range lines {
			indent := 0.0
			if k > 0 {
				indent = 3
			}
			p.doc.SetXY(x+labelEdge+indent, at)
			p.doc.CellFormat(labelWidth-2*labelEdge-indent, p.lead(), line, "", 0, "L", false, 0, "")
			at += p.lead()
		}
		if last == 0 {
			return
		}
	}
}
