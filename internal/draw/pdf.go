package draw

import "codeberg.org/go-pdf/fpdf"

// PDF draws the picture on the current page with its upper left corner at
// (x, y), both in millimetres; the document must have been made in millimetres.
// Words are set in the named font family, which must hold the letters used.
func (p Picture) PDF(doc *fpdf.Fpdf, x, y float64, family string) {
	for _, s := range p.Strokes {
		p.paint(doc, s, x, y)
	}
	for _, w := range p.Words {
		c := wordInk(w.Role)
		if w.Light {
			c = toned(0)
		}
		doc.SetFont(family, "", 0)
		doc.SetFontUnitSize(w.Size)
		doc.SetTextColor(c.R, c.G, c.B)
		left := x + w.X
		switch w.Anchor {
		case "middle":
			left -= doc.GetStringWidth(w.Text) / 2
		case "end":
			left -= doc.GetStringWidth(w.Text)
		}
		doc.Text(left, y+w.Y, w.Text)
	}
	doc.SetTextColor(ink.R, ink.G, ink.B)
	doc.SetDrawColor(ink.R, ink.G, ink.B)
	doc.SetLineWidth(thin)
}

// paint draws one stroke.
func (p Picture) paint(doc *fpdf.Fpdf, s Stroke, x, y float64) {
	l := LookOf(s.Role)
	doc.SetDrawColor(l.Ink.R, l.Ink.G, l.Ink.B)
	doc.SetLineWidth(max(l.Line, thin))
	doc.SetLineJoinStyle("round")
	if s.Radius > 0 {
		fill, how := l.Ink, "F"
		if s.Hollow {
			fill, how = Ink{255, 255, 255}, "FD"
		}
		doc.SetFillColor(fill.R, fill.G, fill.B)
		doc.Circle(x+s.Points[0][0], y+s.Points[0][1], s.Radius, how)
		return
	}
	if s.Clipped {
		doc.ClipRect(x+p.Clip.MinX, y+p.Clip.MinY, p.Clip.MaxX-p.Clip.MinX, p.Clip.MaxY-p.Clip.MinY, false)
		defer doc.ClipEnd()
	}
	if d := s.dash(); d != nil {
		doc.SetDashPattern(d, 0)
		defer doc.SetDashPattern(nil, 0)
	}
	if len(s.Rings) > 0 {
		t := s.tone()
		doc.SetFillColor(t.R, t.G, t.B)
		for _, r := range s.Rings {
			doc.MoveTo(x+r[0][0], y+r[0][1])
			for _, q := range r[1:] {
				doc.LineTo(x+q[0], y+q[1])
			}
			doc.ClosePath()
		}
		doc.DrawPath("F*")
		return
	}
	doc.MoveTo(x+s.Points[0][0], y+s.Points[0][1])
	for _, q := range s.Points[1:] {
		doc.LineTo(x+q[0], y+q[1])
	}
	how := "D"
	if s.Closed {
		doc.ClosePath()
	}
	if s.filled() {
		doc.SetFillColor(l.Fill.R, l.Fill.G, l.Fill.B)
		how = "FD"
		if l.Line == 0 {
			how = "F"
		}
	}
	doc.DrawPath(how)
}
