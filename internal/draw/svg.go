package draw

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"sort"
	"strconv"
	"strings"

	"thole/internal/sheet"
)

// SVG draws a plane drawing or chart's picture as a scalable vector graphic.
//
// The same picture always gives the same bytes. Lengths are millimetres. Every
// stroke and word has its role as a class, so that a page may restyle it (by
// night, say); an embedded style gives the look on paper where none does. The
// picture's title and its sentence are there for those who cannot see it.
func (p Picture) SVG() []byte {
	b := &bytes.Buffer{}
	fmt.Fprintf(b, `<svg xmlns="http://www.w3.org/2000/svg" class="thole" role="img" width="%smm" height="%smm" viewBox="0 0 %s %s">`+"\n",
		p.n(p.Width), p.n(p.Height), p.n(p.Width), p.n(p.Height))
	if p.Title != "" {
		fmt.Fprintf(b, "<title>%s</title>\n", escape(p.Title))
	}
	if p.Alt != "" {
		fmt.Fprintf(b, "<desc>%s</desc>\n", escape(p.Alt))
	}
	fmt.Fprintf(b, "<style>\n%s</style>\n", style)
	clip := fmt.Sprintf("cut-%s-%s-%s-%s", p.n(p.Clip.MinX), p.n(p.Clip.MinY), p.n(p.Clip.MaxX), p.n(p.Clip.MaxY))
	clip = strings.ReplaceAll(clip, ".", "_")
	fmt.Fprintf(b, `<clipPath id="%s"><rect x="%s" y="%s" width="%s" height="%s"/></clipPath>`+"\n", clip,
		p.n(p.Clip.MinX), p.n(p.Clip.MinY), p.n(p.Clip.MaxX-p.Clip.MinX), p.n(p.Clip.MaxY-p.Clip.MinY))
	for _, s := range p.Strokes {
		p.stroke(b, s, clip)
	}
	for _, w := range p.Words {
		class := string(w.Role)
		if w.Light {
			class += " light"
		}
		fmt.Fprintf(b, `<text class="%s" x="%s" y="%s" font-size="%s" text-anchor="%s">%s</text>`+"\n",
			class, p.n(w.X), p.n(w.Y), p.n(w.Size), anchor(w.Anchor), escape(w.Text))
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// SVGAt draws a plane drawing at a true scale: at 10, 1 m measures 100 mm.
func SVGAt(d sheet.Drawing, scale float64) []byte { return AtScale(d, scale).SVG() }

// stroke writes one line, area or dot.
func (p Picture) stroke(w io.Writer, s Stroke, clip string) {
	class := string(s.Role)
	if s.filled() {
		class += " area"
	}
	if s.Turn > 0 {
		class += " turn" + strconv.Itoa(s.Turn%len(dashes))
	}
	extra := ""
	if s.Clipped && s.Radius == 0 {
		extra = fmt.Sprintf(` clip-path="url(#%s)"`, clip)
	}
	title := ""
	if s.Name != "" {
		title = "<title>" + escape(s.Name) + "</title>"
	}
	if s.Radius > 0 {
		kind := " dot"
		if s.Hollow {
			kind = " ring"
		}
		fmt.Fprintf(w, `<circle class="%s" cx="%s" cy="%s" r="%s"%s>%s</circle>`+"\n",
			class+kind, p.n(s.Points[0][0]), p.n(s.Points[0][1]), p.n(s.Radius), extra, title)
		return
	}
	var d strings.Builder
	run := func(points [][2]float64, closed bool) {
		for i, q := range points {
			d.WriteByte("ML"[min(i, 1)])
			d.WriteString(p.n(q[0]) + " " + p.n(q[1]))
		}
		if closed {
			d.WriteByte('Z')
		}
	}
	if len(s.Rings) > 0 {
		for _, r := range s.Rings {
			run(r, true)
		}
		fmt.Fprintf(w, `<path class="tone" fill="%s" fill-rule="evenodd" d="%s"%s>%s</path>`+"\n", css(s.tone()), d.String(), extra, title)
		return
	}
	run(s.Points, s.Closed)
	fmt.Fprintf(w, `<path class="%s" d="%s"%s>%s</path>`+"\n", class, d.String(), extra, title)
}

// n writes a coordinate, short and always the same.
func (p Picture) n(v float64) string {
	s := strconv.FormatFloat(v, 'f', p.places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

// anchor keeps only the three words that the format knows.
func anchor(a string) string {
	switch a {
	case "middle", "end":
		return a
	}
	return "start"
}

// escape makes words safe inside markup.
func escape(s string) string {
	b := &strings.Builder{}
	if err := xml.EscapeText(b, []byte(s)); err != nil {
		return ""
	}
	return b.String()
}

func css(i Ink) string { return fmt.Sprintf("#%02x%02x%02x", i.R, i.G, i.B) }

// style is the look on paper, written from the same table that the PDF uses.
var style = func() string {
	var b strings.Builder
	dash := func(d []float64) string {
		var t []string
		for _, v := range d {
			t = append(t, strconv.FormatFloat(v, 'g', -1, 64))
		}
		return strings.Join(t, " ")
	}
	b.WriteString(".thole path:not(.tone),.thole circle{fill:none;stroke-linejoin:round;stroke-linecap:butt}\n")
	b.WriteString(".thole text{font-family:'IBM Plex Sans',sans-serif;font-variant-numeric:tabular-nums}\n")
	var roles []string
	for r := range looks {
		roles = append(roles, string(r))
	}
	sort.Strings(roles)
	for _, r := range roles {
		l := looks[sheet.Role(r)]
		line := "stroke:none"
		if l.Line > 0 {
			line = fmt.Sprintf("stroke:%s;stroke-width:%g", css(l.Ink), l.Line)
		}
		if l.Dash != nil {
			line += ";stroke-dasharray:" + dash(l.Dash)
		}
		fmt.Fprintf(&b, ".thole .%s{%s}\n", r, line)
		if l.Fill != nil {
			fmt.Fprintf(&b, ".thole .%s.area{fill:%s}\n", r, css(*l.Fill))
		}
		fmt.Fprintf(&b, ".thole .%s.dot{fill:%s}\n.thole text.%s{fill:%s;stroke:none}\n", r, css(l.Ink), r, css(wordInk(sheet.Role(r))))
	}
	b.WriteString(".thole .ring,.thole text.light{fill:#fff}\n")
	for i, d := range dashes {
		if i > 0 {
			fmt.Fprintf(&b, ".thole .other.turn%d{stroke-dasharray:%s}\n", i, dash(d))
		}
	}
	return b.String()
}()
