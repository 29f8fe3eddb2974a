package draw

import (
	"fmt"
	"io"
	"math"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"thole/internal/draw/letters"
	"thole/internal/sheet"
)

// beforeCutting is the caution on every sheet of a pattern.
const beforeCutting = "Measure the bars before cutting, both of them. Plot the listed points where paper is damp."

// mostSheets is more than anybody joins; past it the paper was chosen wrongly.
const mostSheets = 2000

// Tile writes patterns at their true size as a PDF, each over as many sheets as
// it takes, to be joined at the seams.
//
// Every sheet has bars of 100 mm in both directions and a check square of
// 100 mm, because printers scale and paper stretches; its place in the whole;
// and at the seams it shares, numbered marks that must lie on one another. Only
// sheets that hold something are printed, with those needed to join them. The
// same patterns always give the same bytes.
//
// Error: the writer's own, or a part that would take more than 2000 sheets
// Good to: 0.005 mm on paper that is printed true (coordinates are written to
// 0.01 points), see TestPaperMeasuresTrue
func Tile(w io.Writer, patterns []sheet.Pattern, p Paper, stamp string) error {
	doc := newDoc(stamp)
	for _, part := range patterns {
		scale := scaleOf(part, p)
		pic := OfPattern(part, scale)
		t, err := sheets(part, pic, p)
		if err != nil {
			return err
		}
		for i := range t.tiles {
			s := sheetOf{doc: doc, t: t, n: i, pic: pic, part: part, scale: scale, stamp: stamp}
			s.print()
		}
	}
	return finish(w, doc)
}

// Sheets tells how many sheets a pattern takes and at which scale it is printed.
//
// Error: as Tile
func Sheets(part sheet.Pattern, p Paper) (n int, scale string, err error) {
	s := scaleOf(part, p)
	t, err := sheets(part, OfPattern(part, s), p)
	return len(t.tiles), ratio(s), err
}

// sheets spreads a part over the paper, unless that would be absurd.
func sheets(part sheet.Pattern, pic Picture, p Paper) (tiling, error) {
	// Looked at before anything is laid out: a wrong unit must not fill the memory.
	if n := (pic.Width/100 + 1) * (pic.Height/100 + 1); !(n < 100*mostSheets) {
		return tiling{}, fmt.Errorf("%s is %.0f by %.0f m: that is no pattern to print", part.Name, pic.Width/1000, pic.Height/1000)
	}
	t := spread(pic, p)
	if n := len(t.tiles); n > mostSheets {
		return t, fmt.Errorf("%s takes %d sheets of %s: print it on a roll", part.Name, n, p.Name)
	}
	return t, nil
}

// scaleOf is the scale a pattern is printed at: full size for a part, and for
// what is no part the one asked for or the largest usual one that fits a sheet.
func scaleOf(part sheet.Pattern, p Paper) float64 {
	if part.Thickness > 0 {
		return 1
	}
	if p.Scale > 0 {
		return p.Scale
	}
	long, broad := math.Max(p.Width, p.Height)-2*edge-strip-2*rim, math.Min(p.Width, p.Height)-2*edge-strip-foot-2*rim
	if p.Height == 0 {
		long = longest - 2*edge - strip - foot - 2*rim
	}
	d := part.Drawing
	w, h := 1000*math.Max(d.MaxX-d.MinX, d.MaxY-d.MinY), 1000*math.Min(d.MaxX-d.MinX, d.MaxY-d.MinY)
	// The usual scales of ISO 5455, with 1:1 for what is small.
	for _, scale := range []float64{1, 2, 5, 10, 20, 50} {
		if w/scale <= long && h/scale <= broad {
			return scale
		}
	}
	return 100
}

// newDoc begins a paper without a date of its own: the same patterns print the same bytes.
func newDoc(stamp string) *fpdf.Fpdf {
	doc := fpdf.New("P", "mm", "A4", "")
	letters.AddPlain(doc)
	doc.SetCatalogSort(true)
	doc.SetCreationDate(time.Unix(0, 0).UTC())
	doc.SetModificationDate(time.Unix(0, 0).UTC())
	doc.SetCreator("Thole", true)
	doc.SetProducer("Thole", true)
	doc.SetSubject(folder(stamp), true)
	doc.SetLang("en-GB")
	doc.SetMargins(0, 0, 0)
	doc.SetAutoPageBreak(false, 0)
	doc.SetCellMargin(0)
	return doc
}

// sheetOf is one sheet being printed.
type sheetOf struct {
	doc   *fpdf.Fpdf
	t     tiling
	n     int
	pic   Picture
	part  sheet.Pattern
	scale float64
	stamp string
}

// print prints the sheet: what it shows of the part, then what proves it true
// and says where it belongs.
func (s sheetOf) print() {
	s.doc.AddPageFormat("P", fpdf.SizeType{Wd: s.t.page[0], Ht: s.t.page[1]})
	s.square()
	s.seams()
	s.lines()
	s.bars()
	s.foot()
}

// windowLeft and windowTop are where the window stands on the page.
const (
	windowLeft = edge + strip
	windowTop  = edge + strip
)

// lines draws what falls on the sheet. Areas are left empty: ink over metres of
// paper makes it cockle, and only lines are cut.
func (s sheetOf) lines() {
	win := s.t.tiles[s.n].window
	dx, dy := windowLeft-win.MinX, windowTop-win.MinY
	doc := s.doc
	for _, q := range s.pic.Strokes {
		l := LookOf(q.Role)
		if l.Line == 0 {
			continue
		}
		c := wordInk(q.Role) // reference lines are cut and marked from: not paler than a pencil
		doc.SetDrawColor(c.R, c.G, c.B)
		doc.SetFillColor(c.R, c.G, c.B)
		doc.SetLineWidth(l.Line)
		doc.SetLineJoinStyle("round")
		for _, r := range cut(q.Points, q.Closed, win) {
			if q.Radius > 0 {
				doc.Circle(r.points[0][0]+dx, r.points[0][1]+dy, q.Radius, "F")
				continue
			}
			if d := q.dash(); d != nil {
				doc.SetDashPattern(d, math.Mod(r.start, sum(d)))
			}
			doc.MoveTo(r.points[0][0]+dx, r.points[0][1]+dy)
			for _, p := range r.points[1:] {
				doc.LineTo(p[0]+dx, p[1]+dy)
			}
			if q.Closed && len(r.points) == len(q.Points)+1 {
				doc.ClosePath()
			}
			doc.DrawPath("D")
			doc.SetDashPattern(nil, 0)
		}
	}
	doc.ClipRect(windowLeft, windowTop, s.t.size[0], s.t.size[1], false)
	for _, w := range s.pic.Words {
		if w.box().overlap(win) > 0 {
			s.word("", w.Size, wordInk(w.Role), w.X+dx, w.Y+dy, w.Anchor, w.Text)
		}
	}
	doc.ClipEnd()
}

func sum(list []float64) float64 {
	total := 0.0
	for _, v := range list {
		total += v
	}
	return total
}

// word sets a line of text; x and y are its foot at the anchor.
func (s sheetOf) word(style string, size float64, c Ink, x, y float64, anchor, text string) {
	setWord(s.doc, style, size, c, x, y, anchor, text)
}

// setWord sets a line of text on a page in the plain face.
func setWord(doc *fpdf.Fpdf, style string, size float64, c Ink, x, y float64, anchor, text string) {
	text = printable(text)
	doc.SetFont(letters.Sans, style, 0)
	doc.SetFontUnitSize(size)
	doc.SetTextColor(c.R, c.G, c.B)
	switch anchor {
	case "middle":
		x -= doc.GetStringWidth(text) / 2
	case "end":
		x -= doc.GetStringWidth(text)
	}
	doc.Text(x, y, text)
}

// fitted is the largest letter size up to one wished for at which a text is no
// wider than the room, and the text, cut short where even the least is too wide.
func fitted(doc *fpdf.Fpdf, style string, size, least, room float64, text string) (float64, string) {
	text = printable(text)
	doc.SetFont(letters.Sans, style, 0)
	doc.SetFontUnitSize(size)
	if w := doc.GetStringWidth(text); w > room {
		size = math.Max(least, 0.999*size*room/w)
	}
	doc.SetFontUnitSize(size)
	if doc.GetStringWidth(text) <= room {
		return size, text
	}
	r := []rune(text)
	for len(r) > 1 && doc.GetStringWidth(string(r)+"…") > room {
		r = r[:len(r)-1]
	}
	return size, string(r) + "…"
}

// printable keeps to the letters that a font can hold at all; the library that
// sets them breaks on others.
func printable(s string) string {
	r := []rune(s)
	for i, c := range r {
		if c > 0xffff {
			r[i] = '?'
		} else if c < ' ' {
			r[i] = ' '
		}
	}
	return string(r)
}
