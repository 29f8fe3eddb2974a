package draw

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"pgregory.net/rapid"

	"thole/internal/house/gallery"
	"thole/internal/house/golden"
	"thole/internal/sheet"
)

func TestGoldenSVG(t *testing.T) {
	golden.Check(t, "drawing.svg", OfDrawing(*gallery.Drawing(), Page).SVG())
	golden.Check(t, "chart.svg", OfChart(*gallery.Chart(), Page).SVG())
	golden.Check(t, "bars.svg", OfChart(*gallery.Bars(), Page).SVG())
	golden.Check(t, "field.svg", OfField(*gallery.Field(), Page).SVG())
	golden.Check(t, "matrix.svg", OfMatrix(*gallery.Matrix(), Page).SVG())
	golden.Check(t, "map.svg", OfMap(*gallery.Map(), Page).SVG())
	golden.Check(t, "map-day.svg", OfMapOn(*gallery.Map(), *gallery.Map().On(40), Size{Width: 80, Height: 60, Text: 2.6}).SVG())
	golden.Check(t, "mark.svg", OfMark(MarkOf(0.011, 0.03, 0.014), Size{Width: 60, Height: 6, Text: 3}, "11 mm, close").SVG())
	golden.Check(t, "mark-untold.svg", OfMark(NoMark(), Size{Width: 60, Height: 6, Text: 3}, "cannot tell").SVG())
}

// TestTrueScale reads the numbers back: 1 m at 1:10 measures 100 mm, by the
// meaning of scale.
func TestTrueScale(t *testing.T) {
	d := sheet.Drawing{MinX: -0.5, MinY: -0.25, MaxX: 2.5, MaxY: 0.75, Alt: "a bar of one metre",
		Paths: []sheet.Path{{Role: sheet.Main, Points: [][2]float64{{0.25, 0}, {1.25, 0}}}, {Role: sheet.Main, Points: [][2]float64{{0, -0.25}, {0, 0.75}}}}}
	for _, c := range []struct{ scale, want float64 }{{10, 100}, {1, 1000}, {8, 125}} {
		b := SVGAt(d, c.scale)
		width, paths := readSVG(t, b)
		if want := 3 * c.want; math.Abs(width-want) > 0.001 {
			t.Errorf("1:%g: the sheet is %g mm wide, want %g", c.scale, width, want)
		}
		for i, p := range paths {
			got := math.Hypot(p[1][0]-p[0][0], p[1][1]-p[0][1])
			if math.Abs(got-c.want) > 0.001 {
				t.Errorf("1:%g: line %d measures %g mm, want %g", c.scale, i, got, c.want)
			}
		}
	}
}

// readSVG returns the width in millimetres and the points of every path, and
// fails where the markup is not well formed or its unit is not the millimetre.
func readSVG(t *testing.T, b []byte) (float64, [][][2]float64) {
	t.Helper()
	var width float64
	var paths [][][2]float64
	d := xml.NewDecoder(bytes.NewReader(b))
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return width, paths
		}
		if err != nil {
			t.Fatal(err)
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		attr := map[string]string{}
		for _, a := range e.Attr {
			attr[a.Name.Local] = a.Value
		}
		switch e.Name.Local {
		case "svg":
			mm, isMM := strings.CutSuffix(attr["width"], "mm")
			if width, err = strconv.ParseFloat(mm, 64); err != nil || !isMM {
				t.Fatalf("width %q", attr["width"])
			}
			if box := strings.Fields(attr["viewBox"]); len(box) != 4 || box[2] != mm {
				t.Fatalf("a unit is not a millimetre: width %s, viewBox %s", attr["width"], attr["viewBox"])
			}
		case "path":
			var points [][2]float64
			for _, s := range strings.FieldsFunc(strings.TrimSuffix(attr["d"], "Z"), func(r rune) bool { return r == 'M' || r == 'L' }) {
				xy := strings.Fields(s)
				x, e1 := strconv.ParseFloat(xy[0], 64)
				y, e2 := strconv.ParseFloat(xy[1], 64)
				if e1 != nil || e2 != nil {
					t.Fatal(s)
				}
				points = append(points, [2]float64{x, y})
			}
			paths = append(paths, points)
		}
	}
}

// TestSameInBoth: the picture's strokes are the same ones on screen and on paper;
// what the PDF holds is read back from its page stream.
func TestSameInBoth(t *testing.T) {
	p := AtScale(sheet.Drawing{MaxX: 1, MaxY: 0.5, Paths: []sheet.Path{{Role: sheet.Main, Points: [][2]float64{{0, 0}, {1, 0.5}}}}}, 10)
	doc := fpdf.New("P", "mm", "A4", "")
	doc.SetCompression(false)
	doc.AddPage()
	p.PDF(doc, 20, 30, "Helvetica")
	var b bytes.Buffer
	if err := doc.Output(&b); err != nil {
		t.Fatal(err)
	}
	// 100 mm is 283.46 points of 1/72 inch: from x = 20 mm = 56.69 pt to 120 mm = 340.16 pt.
	if s := b.String(); !strings.Contains(s, "56.69") || !strings.Contains(s, "340.16") {
		t.Error("the line of 100 mm is not 283.46 pt in the PDF")
	}
}

// TestLabelsApart: no two labels lie on one another while the paper has room.
func TestLabelsApart(t *testing.T) {
	d := sheet.Drawing{MaxX: 6, MaxY: 2, Alt: "crowded"}
	for range 8 {
		d.Labels = append(d.Labels, sheet.Label{X: 3, Y: 1, Text: "a locker", Anchor: "middle", Role: sheet.Space})
	}
	p := OfDrawing(d, Page)
	if len(p.Words) != 8 {
		t.Fatalf("%d labels of 8", len(p.Words))
	}
	for i, w := range p.Words {
		b := w.box()
		if b.MinX < 0 || b.MinY < 0 || b.MaxX > p.Width || b.MaxY > p.Height {
			t.Errorf("label %d is off the paper: %+v", i, b)
		}
		for j := range i {
			if o := b.overlap(p.Words[j].box()); o > 0 {
				t.Errorf("labels %d and %d share %g mm²", i, j, o)
			}
		}
	}
}

// TestStrange: nothing odd in a drawing stops it or puts a non-number on paper.
func TestStrange(t *testing.T) {
	nan := math.NaN()
	odd := []sheet.Drawing{{}, {MaxX: 1, MaxY: 1, Paths: []sheet.Path{{}, {Points: [][2]float64{{nan, 0}, {1, 1}}}, {Points: [][2]float64{{1, 1}}}}},
		{MaxX: 1, MaxY: 1, Labels: []sheet.Label{{X: nan, Text: "x"}, {Text: `<&">`}}}}
	for i, d := range odd {
		b := OfDrawing(d, Page).SVG()
		if bytes.Contains(b, []byte("NaN")) {
			t.Errorf("%d: a non-number on paper", i)
		}
		readSVG(t, b)
	}
	c := sheet.Chart{Series: []sheet.Series{{X: []float64{0, 1, 2}, Y: []float64{0, nan, 1}}}, Marks: []sheet.Mark{{X: nan}}}
	if b := OfChart(c, Page).SVG(); bytes.Contains(b, []byte("NaN")) {
		t.Error("a non-number on a chart")
	}
}

// TestEveryRoleHasALook reads the roles from the gallery of constants.
func TestEveryRoleHasALook(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range []sheet.Role{sheet.Main, sheet.Other, sheet.Limit, sheet.Water, sheet.Sea, sheet.Body, sheet.Space, sheet.Thing, sheet.Grid, sheet.Skin, sheet.Pointer} {
		l, ok := looks[r]
		if !ok {
			t.Errorf("%s has no look", r)
		}
		if l.Line != 0 && l.Line != thin && l.Line != heavy {
			t.Errorf("%s has a third weight of line", r)
		}
		seen[string(r)] = true
	}
	if len(seen) != len(looks) {
		t.Errorf("%d looks for %d roles", len(looks), len(seen))
	}
	if reflect.DeepEqual(LookOf("never heard of"), Look{}) {
		t.Error("a role that is not known is not drawn")
	}
}

// TestMarkOrder: a larger margin never stands further left, and everything is on the scale.
func TestMarkOrder(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		asked, spread := rapid.Float64Range(0, 5).Draw(r, "asked"), rapid.Float64Range(0, 5).Draw(r, "spread")
		a, b := rapid.Float64Range(-1e3, 1e3).Draw(r, "a"), rapid.Float64Range(-1e3, 1e3).Draw(r, "b")
		if asked == 0 && spread == 0 {
			asked = 1
		}
		m, n := MarkOf(a, asked, spread), MarkOf(b, asked, spread)
		if (a < b && m.Dot > n.Dot) || m.Low > m.Dot || m.Dot > m.High || m.Low < 0 || m.High > 1 {
			r.Errorf("%v %v: %+v %+v", a, b, m, n)
		}
	})
	if m := MarkOf(math.NaN(), 1, 1); m.Told {
		t.Error("a margin that is no number is told")
	}
	// The margin asked for stands half way between the stroke and the right end.
	if m := MarkOf(2, 2, 0); math.Abs(m.Dot-(0.35+1)/2) > 1e-12 {
		t.Errorf("the margin asked for stands at %g", m.Dot)
	}
}
