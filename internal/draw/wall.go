package draw

import (
	"fmt"
	"io"
	"math"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"thole/internal/draw/letters"
	"thole/internal/sheet"
)

// Figures that are read from two metres stand at least 16 minutes of arc high,
// 9.3 mm (ISO 9241-3, character height: 16 at least, 20 to 22 preferred).
// They grow with the room there is.
const (
	legible = 9.3 / letters.CapHeight
	giant   = 24.0
)

// bench is the margin of a wall sheet, which is pinned at its edges.
const bench = 10.0

// Wall writes a part as a sheet to pin up: its name in giant letters, the face
// drawn, the points to plot with their bevels, and the distances to check, to be
// read from two metres. A few points take an A4, more an A3, and a part with
// very many goes on over several sheets, each saying which it is.
func Wall(w io.Writer, p sheet.Pattern, stamp string) error {
	doc := newDoc(stamp)
	l := wallLayout(doc, p)
	per := l.blocks * l.rows
	pages := max((len(p.Points)+per-1)/per, 1)
	for i := range pages {
		doc.AddPageFormat("P", fpdf.SizeType{Wd: l.page[0], Ht: l.page[1]})
		points := p.Points[min(i*per, len(p.Points)):min((i+1)*per, len(p.Points))]
		l.head(p, i+1, pages)
		l.table(p, points)
		l.foot(p, stamp)
	}
	return finish(w, doc)
}

// wallSheet is how a wall sheet is laid out.
type wallSheet struct {
	doc    *fpdf.Fpdf
	page   [2]float64
	size   float64 // of the letters of the table
	rows   int     // points in one block of the table
	blocks int     // blocks side by side
	top    float64 // where the table begins
	bottom float64 // where the foot begins
	bevels bool
	checks []Check
	notes  []string
}

// wallLayout finds the least paper on which the letters can be read, and the
// largest letters that it has room for; very many points are shared out evenly
// over several sheets of A3.
func wallLayout(doc *fpdf.Fpdf, p sheet.Pattern) wallSheet {
	pages := [][2]float64{{A4.Width, A4.Height}, {A3.Width, A3.Height}, {A3.Height, A3.Width}}
	for _, page := range pages {
		if l, ok := largest(doc, p, page, len(p.Points)); ok {
			return l
		}
	}
	page := pages[len(pages)-1]
	l := wallOn(doc, p, page, legible)
	l.blocks, l.rows = max(l.blocks, 1), max(l.rows, 1)
	per := l.blocks * l.rows
	sheets := (len(p.Points) + per - 1) / per
	if even, ok := largest(doc, p, page, (len(p.Points)+sheets-1)/sheets); ok {
		return even
	}
	return l
}

// largest lays a wall sheet out with the largest letters at which it holds so
// many points; false when they could not be read any more.
func largest(doc *fpdf.Fpdf, p sheet.Pattern, page [2]float64, points int) (wallSheet, bool) {
	for size := giant; ; size -= 0.5 {
		l := wallOn(doc, p, page, math.Max(size, legible))
		if l.blocks > 0 && points <= l.blocks*l.rows {
			l.rows = max((points+l.blocks-1)/l.blocks, 1)
			return l, true
		}
		if size <= legible {
			return l, false
		}
	}
}

func wallOn(doc *fpdf.Fpdf, p sheet.Pattern, page [2]float64, size float64) wallSheet {
	l := wallSheet{doc: doc, page: page, size: size, checks: Checks(p)}
	for _, q := range p.Points {
		l.bevels = l.bevels || q.HasBevel
	}
	wide := page[0] - 2*bench
	doc.SetFont(letters.Sans, "", 0)
	doc.SetFontUnitSize(4)
	for _, n := range p.Notes {
		l.notes = append(l.notes, doc.SplitText(printable(n), wide)...)
	}
	l.top = bench + 52
	perLine := l.checksPerLine()
	l.bottom = page[1] - bench - 9 - 5.4*float64(len(l.notes))
	if n := len(l.checks); n > 0 {
		l.bottom -= 8 + l.lead()*float64((n+perLine-1)/perLine)
	}
	columns := l.columns(p)
	l.blocks = int((wide + gutter) / (sum(columns) + gutter))
	l.rows = int((l.bottom - l.top - 7) / l.lead())
	if l.rows < 1 {
		l.blocks = 0
	}
	return l
}

// gutter stands between two blocks of the table.
const gutter = 14.0

// lead is the height of a row.
func (l wallSheet) lead() float64 { return 1.12 * l.size }

// tenth shows a length to a tenth of a millimetre, as fine as a pencil line.
func tenth(v float64) string { return Number(v*1000, 1) }

// columns are the widths of a block's columns: name, x, y and bevel.
func (l wallSheet) columns(p sheet.Pattern) []float64 {
	out := make([]float64, 3, 4)
	if l.bevels {
		out = append(out, 0)
	}
	l.doc.SetFont(letters.Sans, "B", 0)
	l.doc.SetFontUnitSize(l.size)
	for _, q := range p.Points {
		for i, s := range l.cells(q) {
			out[i] = math.Max(out[i], l.doc.GetStringWidth(printable(s)))
		}
	}
	for i := range out {
		if i > 0 {
			out[i] += 0.5 * l.size
		}
	}
	out[0] = math.Min(out[0]+2, 70) // a longer name is set smaller
	return out
}

func (l wallSheet) cells(q sheet.PlotPoint) []string {
	out := []string{q.Name, tenth(q.X), tenth(q.Y)}
	if l.bevels {
		out = append(out, bevel(q))
	}
	return out
}

// head is the part's name, as large as the sheet is wide, and the face.
func (l wallSheet) head(p sheet.Pattern, page, pages int) {
	wide := l.page[0] - 2*bench
	room := wide
	if pages > 1 {
		setWord(l.doc, "B", 12, ink, l.page[0]-bench, bench+10, "end", fmt.Sprintf("%d of %d", page, pages))
		room -= l.doc.GetStringWidth("88 of 88") + 4
	}
	size, text := fitted(l.doc, "B", 30, 12, room, p.Title)
	setWord(l.doc, "B", size, ink, bench, bench+24, "start", text)
	size, text = fitted(l.doc, "", 12, 6, wide, p.Face)
	setWord(l.doc, "", size, ink, bench, bench+40, "start", text)
	l.rule(bench+46, heavy)
}

func (l wallSheet) rule(y, weight float64) {
	l.doc.SetDrawColor(ink.R, ink.G, ink.B)
	l.doc.SetLineWidth(weight)
	l.doc.Line(bench, y, l.page[0]-bench, y)
}

// table lists points, a block beside a block.
func (l wallSheet) table(p sheet.Pattern, points []sheet.PlotPoint) {
	columns := l.columns(p)
	names := []string{"", "x mm", "y mm", "bevel"}
	for b := 0; b < l.blocks && b*l.rows < len(points); b++ {
		left := bench + float64(b)*(l.page[0]-2*bench+gutter)/float64(l.blocks)
		y := l.top + 4
		x := left
		for i, w := range columns {
			x += w
			setWord(l.doc, "", 6, grey, x, y, "end", names[i])
		}
		for n, q := range points[b*l.rows : min((b+1)*l.rows, len(points))] {
			y := l.top + 6 + l.lead()*(float64(n)+0.86)
			if n > 0 {
				l.doc.SetDrawColor(pale.R, pale.G, pale.B)
				l.doc.SetLineWidth(thin)
				l.doc.Line(left, y-0.86*l.lead(), left+sum(columns), y-0.86*l.lead())
			}
			x := left
			for i, s := range l.cells(q) {
				if i == 0 {
					size, text := fitted(l.doc, "", l.size, 5, columns[0]-2, s)
					setWord(l.doc, "", size, ink, left, y, "start", text)
				} else {
					setWord(l.doc, "B", l.size, ink, x+columns[i], y, "end", s)
				}
				x += columns[i]
			}
		}
	}
}

// ends names what a distance is measured between.
func ends(c Check) string { return c.From + " – " + c.To + "  " }

// checkWidth is the room that the longest distance takes.
func (l wallSheet) checkWidth() float64 {
	l.doc.SetFont(letters.Sans, "B", 0)
	l.doc.SetFontUnitSize(l.size)
	longest := 0.0
	for _, c := range l.checks {
		longest = math.Max(longest, l.doc.GetStringWidth(printable(ends(c)+tenth(c.Length))))
	}
	return longest
}

// checksPerLine is how many distances stand side by side.
func (l wallSheet) checksPerLine() int {
	return max(int((l.page[0]-2*bench+gutter)/(l.checkWidth()+gutter)), 1)
}

// foot lists the distances to check, the notes and the folder.
func (l wallSheet) foot(p sheet.Pattern, stamp string) {
	y := l.bottom
	if len(l.checks) > 0 {
		l.rule(y, thin)
		setWord(l.doc, "", 6, grey, bench, y+7, "start", "straight across, mm: if one is out, the sheet is not square or not true")
		y += 8
		per := l.checksPerLine()
		wide := (l.page[0] - 2*bench + gutter) / float64(per)
		for i, c := range l.checks {
			size := l.size * math.Min(1, (l.page[0]-2*bench)/l.checkWidth())
			x, y := bench+wide*float64(i%per), y+l.lead()*(float64(i/per)+0.86)
			setWord(l.doc, "", size, ink, x, y, "start", ends(c))
			setWord(l.doc, "B", size, ink, x+l.doc.GetStringWidth(printable(ends(c))), y, "start", tenth(c.Length))
		}
		y += l.lead() * float64((len(l.checks)+per-1)/per)
	}
	for _, n := range l.notes {
		y += 5.4
		setWord(l.doc, "", 4, ink, bench, y, "start", strings.TrimSpace(n))
	}
	text := joined(", ", Cutting(p), folder(stamp), "positive bevel leans away from the face drawn")
	if !l.bevels {
		text = joined(", ", Cutting(p), folder(stamp))
	}
	size, text := fitted(l.doc, "", 4, 2.4, l.page[0]-2*bench, text)
	setWord(l.doc, "", size, grey, bench, l.page[1]-bench, "start", text)
}
