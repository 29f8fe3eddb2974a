package book

import (
	"codeberg.org/go-pdf/fpdf"

	"thole/internal/draw/letters"
	"thole/internal/model"
)

// The page: A4, in millimetres, with room on the left to bind it.
const (
	left   = 24.0
	right  = 16.0
	top    = 18.0
	bottom = 22.0
	width  = 210 - left - right
	height = 297 - top - bottom
)

// Letter sizes in points.
const (
	plain = 12.0
	small = 10.5
)

// flush and indented are where lines of text begin.
const (
	flush    = 0.0
	indented = 6.0
)

// paper is a book being written.
type paper struct {
	doc    *fpdf.Fpdf
	folder *model.Folder
	size   float64 // of the letters now set
}

// newPaper begins a book: fonts, margins, and the foot of every page.
func newPaper(f *model.Folder, stamp string) *paper {
	doc := fpdf.New("P", "mm", "A4", "")
	p := &paper{doc: doc, folder: f}
	letters.Add(doc)
	doc.SetCatalogSort(true)
	doc.SetCreationDate(date(f))
	doc.SetModificationDate(date(f))
	doc.SetTitle("The book of "+f.Boat.Name, true)
	doc.SetCreator("Thole", true)
	doc.SetProducer("Thole", true)
	doc.SetSubject("folder "+stamp, true)
	doc.SetLang("en-GB")
	doc.SetMargins(left, top, right)
	doc.SetAutoPageBreak(true, bottom)
	doc.SetCellMargin(0)
	doc.AliasNbPages("{pages}")
	doc.SetFooterFunc(func() {
		y := 297 - bottom + 6
		doc.SetDrawColor(106, 104, 98)
		doc.SetLineWidth(0.18)
		doc.Line(left, y, 210-right, y)
		doc.SetFont(letters.Sans, "", 9.5)
		doc.SetTextColor(70, 70, 70)
		doc.SetXY(left, y+1.5)
		doc.CellFormat(width, 5, f.Boat.Name+", folder "+stamp, "", 0, "L", false, 0, "")
		// The number of pages is filled in at the end, so its width is guessed.
		doc.SetXY(210-right-doc.GetStringWidth("188 of 88"), y+1.5)
		doc.CellFormat(0, 5, pageWord(doc.PageNo()), "", 0, "L", false, 0, "")
		doc.SetTextColor(28, 32, 38)
	})
	doc.SetTextColor(28, 32, 38)
	return p
}

// set chooses the letters: family, style and size in points.
func (p *paper) set(family, style string, size float64) {
	p.size = size
	p.doc.SetFont(family, style, size)
}

// lead is the height of a line of the letters now set, in millimetres.
func (p *paper) lead() float64 { return p.size * 25.4 / 72 * 1.38 }

// lines sets a text, wrapped, from an indent.
func (p *paper) lines(s string, indent float64) {
	p.doc.SetX(left + indent)
	p.doc.MultiCell(width-indent, p.lead(), s, "", "L", false)
}

// para is a paragraph of sentences.
func (p *paper) para(s string) {
	p.set(letters.Serif, "", plain)
	p.lines(s, flush)
	p.gap(1.5)
}

// item is one of a list, with a dash before it.
func (p *paper) item(s string) {
	p.set(letters.Serif, "", plain)
	n := len(p.doc.SplitText(s, width-indented))
	p.need(float64(min(n, 3)) * p.lead())
	p.doc.SetX(left)
	p.doc.CellFormat(indented, p.lead(), "–", "", 0, "L", false, 0, "")
	p.lines(s, indented)
	p.gap(0.8)
}

// list is a heading and its items, if there are any.
func (p *paper) list(name string, items []string) {
	if len(items) == 0 {
		return
	}
	p.heading(name)
	for _, s := range items {
		p.item(s)
	}
}

// heading stands over what follows and is never left alone at a page's foot.
func (p *paper) heading(s string) {
	if s == "" {
		return
	}
	p.gap(3)
	p.need(26)
	p.set(letters.Serif, "B", 15)
	p.lines(s, flush)
	p.gap(1)
}

// gap leaves some millimetres empty, unless a page has just begun.
func (p *paper) gap(mm float64) {
	if p.doc.GetY() > top+1 {
		p.doc.SetY(p.doc.GetY() + mm)
	}
}

// need begins a new page when less than so many millimetres are left.
func (p *paper) need(mm float64) {
	if p.doc.GetY()+min(mm, height) > 297-bottom {
		p.doc.AddPage()
	}
}

// rule is a thin line across the page.
func (p *paper) rule(after float64) {
	y := p.doc.GetY() + 1
	p.doc.SetDrawColor(28, 32, 38)
	p.doc.SetLineWidth(0.18)
	p.doc.Line(left, y, 210-right, y)
	p.doc.SetY(y + 1 + after)
}
