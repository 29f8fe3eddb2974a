package draw

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"

	"thole/internal/sheet"
)

// The layers of a DXF beside those of the roles: what a cutter must not follow.
const (
	pointLayer = "POINTS"
	noteLayer  = "NOTES"
)

// DXF writes a part for a plotter or a router: release 12 of the format in
// ASCII, which everything reads.
//
// Units are millimetres at full size in the drawing's frame, y up. Each role has
// a layer of its own name in capitals, so that a shop can follow SKIN and leave
// GRID alone; plotted points lie on POINTS, and on NOTES, under the drawing,
// stand title, face, thickness, count and the folder's stamp. Closed paths are
// closed polylines, a path of two points is a line, of one point a point.
//
// Error: only the writer's own, or a coordinate that is not a number
// Good to: 1e-9 mm
// Source: Autodesk, DXF Reference (R12: AC1009), group codes by section
func DXF(w io.Writer, p sheet.Pattern, stamp string) error {
	d := &dxf{}
	box, ok := extents(p)
	if !ok {
		return fmt.Errorf("%s holds no line and no point that could be cut", p.Name)
	}
	d.head(box)
	d.tables(p)
	d.put(0, "SECTION", 2, "ENTITIES")
	for _, path := range p.Drawing.Paths {
		d.path(path)
	}
	for _, l := range p.Drawing.Labels {
		if finite([][2]float64{{l.X, l.Y}}) {
			d.text(layerOf(l.Role), l.Text, l.X*1000, l.Y*1000, 6, l.Anchor)
		}
	}
	for _, q := range p.Points {
		if finite([][2]float64{{q.X, q.Y}}) {
			d.put(0, "POINT", 8, pointLayer)
			d.at(10, q.X*1000, q.Y*1000)
			d.text(pointLayer, bevelled(q), q.X*1000+3, q.Y*1000+3, 5, "start")
		}
	}
	y := box.MinY - 20
	for _, s := range notes(p, stamp) {
		d.text(noteLayer, s, box.MinX, y, 8, "start")
		y -= 14
	}
	d.put(0, "ENDSEC", 0, "EOF")
	_, err := w.Write(d.Bytes())
	return err
}

// notes is what must stand on every copy of a part.
func notes(p sheet.Pattern, stamp string) []string {
	out := []string{p.Title}
	for _, s := range []string{p.Face, Cutting(p), joined(", ", folder(stamp), "millimetres, full size")} {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// Cutting says from what a part is cut and how often.
func Cutting(p sheet.Pattern) string {
	thick, count := "", ""
	if p.Thickness > 0 {
		thick = short(math.Round(p.Thickness*1e5)/100) + " mm thick"
	}
	if p.Count > 0 {
		count = fmt.Sprintf("cut %d", p.Count)
	}
	return joined(", ", thick, count)
}

// dxf is a file being written: pairs of a group code and a value, a line each.
type dxf struct{ bytes.Buffer }

// put writes pairs.
func (d *dxf) put(pairs ...any) {
	for i := 0; i+1 < len(pairs); i += 2 {
		fmt.Fprintf(d, "%3d\r\n%v\r\n", pairs[i], pairs[i+1])
	}
}

// at writes a point; y and z follow x by ten and twenty in the group codes.
func (d *dxf) at(code int, x, y float64) {
	d.put(code, decimal(x), code+10, decimal(y), code+20, "0.0")
}

// decimal writes a number, always with a point so that no reader takes it for a
// whole number.
func decimal(v float64) string {
	s := short(math.Round(v*1e9) / 1e9)
	if !strings.Contains(s, ".") {
		s += ".0"
	}
	if s == "-0.0" {
		return "0.0"
	}
	return s
}

func (d *dxf) head(box Box) {
	d.put(999, "millimetres, full size", 0, "SECTION", 2, "HEADER", 9, "$ACADVER", 1, "AC1009")
	d.put(9, "$EXTMIN")
	d.at(10, box.MinX, box.MinY)
	d.put(9, "$EXTMAX")
	d.at(10, box.MaxX, box.MaxY)
	// Decimal lengths, and a cross for a point: release 12 has no word for the
	// unit, so that it stands in words as well.
	d.put(9, "$LUNITS", 70, 2, 9, "$PDMODE", 70, 2, 9, "$PDSIZE", 40, "5.0", 0, "ENDSEC")
}

func (d *dxf) tables(p sheet.Pattern) {
	layers := used(p)
	d.put(0, "SECTION", 2, "TABLES", 0, "TABLE", 2, "LTYPE", 70, 2,
		0, "LTYPE", 2, "CONTINUOUS", 70, 0, 3, "solid", 72, 65, 73, 0, 40, "0.0",
		0, "LTYPE", 2, "DASHED", 70, 0, 3, "dashed", 72, 65, 73, 2, 40, "10.0", 49, "6.0", 49, "-4.0",
		0, "ENDTAB", 0, "TABLE", 2, "LAYER", 70, len(layers))
	for _, l := range layers {
		line, colour := "CONTINUOUS", 7
		switch l {
		case "LIMIT":
			line, colour = "DASHED", 1
		case "GRID", "POINTER", noteLayer:
			colour = 8
		case "WATER":
			colour = 5
		case pointLayer:
			colour = 3
		}
		d.put(0, "LAYER", 2, l, 70, 0, 62, colour, 6, line)
	}
	d.put(0, "ENDTAB", 0, "TABLE", 2, "STYLE", 70, 1,
		0, "STYLE", 2, "STANDARD", 70, 0, 40, "0.0", 41, "1.0", 50, "0.0", 71, 0, 42, "5.0", 3, "txt", 4, "",
		0, "ENDTAB", 0, "ENDSEC")
}

// used lists the layers in the order in which they are first drawn on. Layer 0
// is there because the format wants it.
func used(p sheet.Pattern) []string {
	out := []string{"0"}
	seen := map[string]bool{}
	add := func(l string) {
		if !seen[l] {
			seen[l] = true
			out = append(out, l)
		}
	}
	for _, q := range p.Drawing.Paths {
		add(layerOf(q.Role))
	}
	for _, l := range p.Drawing.Labels {
		add(layerOf(l.Role))
	}
	add(pointLayer)
	add(noteLayer)
	return out
}

// layerOf is the layer of a role.
func layerOf(r sheet.Role) string {
	if _, ok := looks[r]; !ok {
		r = sheet.Other
	}
	return strings.ToUpper(string(r))
}

func (d *dxf) path(path sheet.Path) {
	q := path.Points
	layer := layerOf(path.Role)
	switch {
	case !finite(q):
		return
	case len(q) == 1:
		d.put(0, "POINT", 8, layer)
		d.at(10, q[0][0]*1000, q[0][1]*1000)
		return
	case len(q) == 2:
		d.put(0, "LINE", 8, layer)
		d.at(10, q[0][0]*1000, q[0][1]*1000)
		d.at(11, q[1][0]*1000, q[1][1]*1000)
		return
	}
	closed := 0
	if path.Closed {
		closed = 1
		if q[0] == q[len(q)-1] {
			q = q[:len(q)-1] // the flag closes it; a corner twice would be an edge of no length
		}
	}
	d.put(0, "POLYLINE", 8, layer, 66, 1, 70, closed)
	d.at(10, 0, 0)
	for _, v := range q {
		d.put(0, "VERTEX", 8, layer)
		d.at(10, v[0]*1000, v[1]*1000)
	}
	d.put(0, "SEQEND", 8, layer)
}

// text writes a line of words, h high.
func (d *dxf) text(layer, s string, x, y, h float64, anchor string) {
	if s == "" {
		return
	}
	how := map[string]int{"middle": 1, "end": 2}[anchor]
	d.put(0, "TEXT", 8, layer)
	d.at(10, x, y)
	d.put(40, decimal(h), 1, dxfText(s), 72, how)
	if how > 0 {
		d.at(11, x, y)
	}
}

// dxfText keeps words to the ASCII that release 12 allows.
func dxfText(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '°':
			b.WriteString("%%d")
		case r == '±':
			b.WriteString("%%p")
		case r == '−' || r == '–' || r == '—':
			b.WriteByte('-')
		case r == '%':
			b.WriteString("%%%")
		case r < ' ':
			b.WriteByte(' ')
		case r <= '~':
			b.WriteRune(r)
		case r <= 0xffff:
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}

// extents is the box of everything that is cut or plotted, millimetres.
func extents(p sheet.Pattern) (Box, bool) {
	b := Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	add := func(x, y float64) {
		b = Box{min(b.MinX, x*1000), min(b.MinY, y*1000), max(b.MaxX, x*1000), max(b.MaxY, y*1000)}
	}
	for _, path := range p.Drawing.Paths {
		if finite(path.Points) {
			for _, q := range path.Points {
				add(q[0], q[1])
			}
		}
	}
	for _, q := range p.Points {
		if finite([][2]float64{{q.X, q.Y}}) {
			add(q.X, q.Y)
		}
	}
	return b, b.MinX <= b.MaxX
}
