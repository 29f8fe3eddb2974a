package draw

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"thole/internal/house/gallery"
	"thole/internal/sheet"
)

// tool finds an independent program; without it a test is left out, but not in CI.
func tool(t *testing.T, name, from string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is not here, and CI must have it (Debian: %s)", name, from)
	}
	t.Skipf("%s is not on this machine (Debian: %s), so that nothing measured this paper", name, from)
	return ""
}

// line is a stroke of two points as an independent program reads it, millimetres.
type line struct {
	a, b   [2]float64
	width  float64
	dashed bool
}

// along is the axis a stroke lies along: 0 level, 1 upright, -1 neither.
func (l line) along() int {
	switch {
	case math.Abs(l.a[1]-l.b[1]) < 0.02:
		return 0
	case math.Abs(l.a[0]-l.b[0]) < 0.02:
		return 1
	}
	return -1
}

func (l line) length() float64 { return math.Hypot(l.b[0]-l.a[0], l.b[1]-l.a[1]) }

// printed returns the straight strokes of every page as poppler's pdftocairo sees
// them. (Its own habit is to shrink a page to its idea of the paper, as a print
// shop does; both its options are needed to keep it from that.)
func printed(t *testing.T, pdf []byte) [][]line {
	t.Helper()
	cairo := tool(t, "pdftocairo", "poppler-utils")
	dir := t.TempDir()
	file := filepath.Join(dir, "x.pdf")
	if err := os.WriteFile(file, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	var pages [][]line
	for n := 1; n <= bytes.Count(pdf, []byte("/Type /Page\n")); n++ {
		page := strconv.Itoa(n)
		out, err := exec.Command(cairo, "-svg", "-noshrink", "-nocenter", "-f", page, "-l", page, file, "-").CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		pages = append(pages, strokes(t, out))
	}
	return pages
}

// strokes reads the straight strokes of a drawing.
func strokes(t *testing.T, svg []byte) []line {
	t.Helper()
	const point = 25.4 / 72 // mm, by definition
	var lines []line
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return lines
		}
		if err != nil {
			t.Fatal(err)
		}
		e, ok := tok.(xml.StartElement)
		if !ok || e.Name.Local != "path" {
			continue
		}
		attr := map[string]string{}
		for _, a := range e.Attr {
			attr[a.Name.Local] = a.Value
		}
		width, dashed := -1.0, strings.Contains(attr["style"], "stroke-dasharray:")
		for _, s := range strings.Split(attr["style"], ";") {
			if v, ok := strings.CutPrefix(s, "stroke-width:"); ok {
				width = number(t, v) * point
			}
		}
		if width < 0 {
			continue
		}
		m := [6]float64{1, 0, 0, 1, 0, 0}
		if s, ok := strings.CutPrefix(attr["transform"], "matrix("); ok {
			for i, v := range strings.Split(strings.TrimSuffix(s, ")"), ",") {
				m[i] = number(t, v)
			}
		}
		at := func(x, y string) [2]float64 {
			u, v := number(t, x), number(t, y)
			return [2]float64{(m[0]*u + m[2]*v + m[4]) * point, (m[1]*u + m[3]*v + m[5]) * point}
		}
		var first, last [2]float64
		f := strings.Fields(attr["d"])
		for i := 0; i < len(f); i++ {
			switch f[i] {
			case "M":
				first = at(f[i+1], f[i+2])
				last = first
				i += 2
			case "L":
				q := at(f[i+1], f[i+2])
				lines = append(lines, line{last, q, width, dashed})
				last = q
				i += 2
			case "C":
				last = at(f[i+5], f[i+6])
				i += 6
			case "Z":
				if last != first {
					lines = append(lines, line{last, first, width, dashed})
				}
			}
		}
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// crosses finds where an upright and a level stroke of a length halve one another.
func crosses(lines []line, length float64) [][2]float64 {
	var out [][2]float64
	middle := func(l line) [2]float64 { return [2]float64{(l.a[0] + l.b[0]) / 2, (l.a[1] + l.b[1]) / 2} }
	for _, l := range lines {
		for _, m := range lines {
			p, q := middle(l), middle(m)
			if l.along() == 0 && m.along() == 1 && math.Abs(l.length()-length) < 0.02 && math.Abs(m.length()-length) < 0.02 &&
				math.Hypot(p[0]-q[0], p[1]-q[1]) < 0.02 {
				out = append(out, p)
			}
		}
	}
	return out
}

// bar is a part that is a level line of exactly one metre, and an upright one, off
// its middle, so that neither lies on a seam.
func bar() sheet.Pattern {
	return sheet.Pattern{Name: "bar", Title: "Bar", Face: "either", Thickness: 0.01, Count: 1,
		Drawing: sheet.Drawing{MinX: 0.2, MaxX: 1.2, MinY: -0.7, MaxY: 0.3, Paths: []sheet.Path{
			{Role: sheet.Skin, Points: [][2]float64{{0.2, 0.04}, {1.2, 0.04}}},
			{Role: sheet.Skin, Points: [][2]float64{{0.63, -0.7}, {0.63, 0.3}}}}}}
}

// measured is one sheet as a ruler finds it.
type measured struct {
	low, high [2]float64       // the seams through the match marks, far away where there is none
	inside    [2]float64       // how much of the heavy lines lies between the seams
	ends      [2][2][2]float64 // by axis: how far the heavy line lies from either mark, at the low and the high seam
}

// measure reads a sheet of a part whose heavy lines are level or upright.
func measure(t *testing.T, page int, lines []line) measured {
	t.Helper()
	m := measured{low: [2]float64{-1e9, -1e9}, high: [2]float64{1e9, 1e9}}
	marks := crosses(lines, 10)
	var on [2][2][]float64 // by axis across the seam and side: where along the seam its marks stand
	for _, s := range lines {
		if !s.dashed {
			continue
		}
		k := 1 - s.along() // the axis across the seam
		side := 0
		// A low seam has its sheet's 5 mm of lap and the margin before it, a high one
		// lies far from the page's corner.
		if s.a[k] > 60 {
			side, m.high[k] = 1, s.a[k]
		} else {
			m.low[k] = s.a[k]
		}
		for _, c := range marks {
			if math.Abs(c[k]-s.a[k]) < 0.01 {
				on[k][side] = append(on[k][side], c[1-k])
			}
		}
		if len(on[k][side]) < 2 {
			t.Fatalf("sheet %d: a seam has %d match marks on it, want 2", page, len(on[k][side]))
		}
	}
	for _, l := range lines {
		if l.width < 0.4 || l.dashed { // only what is cut is heavy
			continue
		}
		k := l.along()
		across := l.a[1-k]
		if across < m.low[1-k] || across > m.high[1-k] {
			continue // it lies on the neighbour's side of the seam
		}
		m.inside[k] += math.Max(0, math.Min(math.Max(l.a[k], l.b[k]), m.high[k])-math.Max(math.Min(l.a[k], l.b[k]), m.low[k]))
		for side := range 2 {
			if at := on[k][side]; len(at) >= 2 {
				m.ends[k][side] = [2]float64{across - math.Min(at[0], at[1]), across - math.Max(at[0], at[1])}
			}
		}
	}
	return m
}

// TestPaperMeasuresTrue measures what is printed with a program that is not ours.
// The want of every length is the meaning of full size: 1 m is 1000 mm.
func TestPaperMeasuresTrue(t *testing.T) {
	for _, c := range []struct {
		paper  Paper
		sheets int // at most
	}{{A4, 14}, {A3, 8}, {Paper{Name: "roll", Width: 300}, 5}, {Paper{Name: "roll", Width: 1200}, 1}} {
		t.Run(fmt.Sprint(c.paper.Name, c.paper.Width), func(t *testing.T) {
			var b bytes.Buffer
			if err := Tile(&b, []sheet.Pattern{bar()}, c.paper, "x"); err != nil {
				t.Fatal(err)
			}
			pages := printed(t, b.Bytes())
			var sum [2]float64
			var before [2]*measured
			for i, lines := range pages {
				proves(t, i+1, lines)
				m := measure(t, i+1, lines)
				for k := range 2 {
					if sum[k] += m.inside[k]; m.inside[k] == 0 {
						continue
					}
					// Laid on one another at the marks, the line goes on without a step.
					if last := before[k]; last != nil {
						for n := range 2 {
							if step := last.ends[k][1][n] - m.ends[k][0][n]; math.Abs(step) > 0.02 {
								t.Errorf("sheet %d: the line steps by %.3f mm where it is joined", i+1, step)
							}
						}
					}
					before[k] = &m
				}
			}
			// 0.1 mm is a fifth of the line's own breadth.
			if math.Abs(sum[0]-1000) > 0.1 || math.Abs(sum[1]-1000) > 0.1 {
				t.Errorf("between the match marks of %d sheets: %.3f mm level and %.3f mm upright, want 1000", len(pages), sum[0], sum[1])
			}
			if len(pages) == 0 || len(pages) > c.sheets {
				t.Errorf("%d sheets, want at most %d", len(pages), c.sheets)
			}
		})
	}
}

// TestScaleMeasuresTrue: a drawing that is no part is printed at the scale asked
// for; 1 m at 1:10 is 100 mm, by the meaning of scale.
func TestScaleMeasuresTrue(t *testing.T) {
	p := bar()
	p.Thickness = 0
	for _, c := range []struct{ asked, want float64 }{{10, 100}, {8, 125}, {0, 100}} {
		var b bytes.Buffer
		if err := Tile(&b, []sheet.Pattern{p}, Paper{Name: "a4", Width: 210, Height: 297, Scale: c.asked}, "x"); err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, l := range printed(t, b.Bytes())[0] {
			if l.width > 0.4 {
				n++
				if math.Abs(l.length()-c.want) > 0.02 {
					t.Errorf("1:%g: 1 m measures %.3f mm, want %g", c.asked, l.length(), c.want)
				}
			}
		}
		if n != 2 {
			t.Errorf("1:%g: %d lines", c.asked, n)
		}
	}
}

// proves checks that a sheet has a bar of 100 mm each way and a check square of
// 100 mm with its crosses.
func proves(t *testing.T, page int, lines []line) {
	t.Helper()
	var bars [2]bool
	for _, l := range lines {
		// A bar is told by its ten ticks and the one more that begins it.
		if k := l.along(); k >= 0 && math.Abs(l.length()-100) < 0.05 && ticks(lines, l) == 11 {
			bars[k] = true
		}
	}
	if !bars[0] || !bars[1] {
		t.Errorf("sheet %d: bars of 100 mm: level %v, upright %v", page, bars[0], bars[1])
	}
	corners := crosses(lines, 6)
	if len(corners) < 4 {
		t.Fatalf("sheet %d: %d corners of a check square", page, len(corners))
	}
	a := corners[0]
	found := map[string]bool{}
	for _, q := range corners[1:4] {
		dx, dy := math.Abs(q[0]-a[0]), math.Abs(q[1]-a[1])
		for name, want := range map[string][2]float64{"level": {100, 0}, "upright": {0, 100}, "across": {100, 100}} {
			if math.Abs(dx-want[0]) < 0.05 && math.Abs(dy-want[1]) < 0.05 {
				found[name] = true
			}
		}
	}
	if len(found) != 3 {
		t.Errorf("sheet %d: the check square's corners are %v", page, corners[:4])
	}
}

// ticks counts the short strokes that end on a stroke at every 10 mm of it.
func ticks(lines []line, l line) int {
	k, n := l.along(), 0
	from := math.Min(l.a[k], l.b[k])
	for _, m := range lines {
		if m.along() != 1-k || m.length() > 4 || math.Abs(m.a[1-k]-l.a[1-k]) > 0.02 && math.Abs(m.b[1-k]-l.a[1-k]) > 0.02 {
			continue
		}
		if tenth := (m.a[k] - from) / 10; math.Abs(tenth-math.Round(tenth)) < 0.01 {
			n++
		}
	}
	return n
}

// TestSheetsSay reads the words of every sheet back with an independent program.
func TestSheetsSay(t *testing.T) {
	text := tool(t, "pdftotext", "poppler-utils")
	info := tool(t, "pdfinfo", "poppler-utils")
	var b bytes.Buffer
	if err := Tile(&b, gallery.Patterns(), A4, "3f9a1c"); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "x.pdf")
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	var errs bytes.Buffer
	c := exec.Command(text, "-layout", file, "-")
	c.Stderr = &errs
	out, err := c.Output()
	if err != nil || errs.Len() > 0 {
		t.Fatal(err, errs.String())
	}
	pages := strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
	count := map[string]int{}
	for _, p := range pages {
		for _, q := range gallery.Patterns() {
			if strings.Contains(p, q.Title) && strings.Contains(p, q.Face) {
				count[q.Title]++
			}
		}
	}
	seen := map[string]int{}
	for i, p := range pages {
		flat := strings.Join(strings.Fields(p), " ")
		for _, q := range gallery.Patterns() {
			if !strings.Contains(p, q.Title) {
				continue
			}
			seen[q.Title]++
			for _, want := range []string{fmt.Sprintf("%d of %d", seen[q.Title], count[q.Title]), "folder 3f9a1c", "row ", "column ",
				"Measure the bars before cutting", "Plot the listed points where paper is damp", "100 mm", "check square"} {
				if !strings.Contains(flat, want) {
					t.Errorf("page %d of %s does not say %q", i+1, q.Title, want)
				}
			}
			want := "scale 1:1,"
			if q.Thickness == 0 {
				want = "scale 1:50,"
			}
			if !strings.Contains(flat, want) {
				t.Errorf("page %d of %s does not say %q", i+1, q.Title, want)
			}
		}
	}
	if count["Lines"] != 1 || count["Plank 3, from the keel"] < 2 {
		t.Errorf("sheets: %v", count)
	}
	for _, want := range []string{"p5 +10.0°", "set-up line", "upper 13", "18 mm thick, cut 1", "100 mm of paper, 5 m of boat"} {
		if !strings.Contains(strings.Join(strings.Fields(string(out)), " "), want) {
			t.Errorf("no sheet says %q", want)
		}
	}
	said, err := exec.Command(info, file).CombinedOutput()
	if err != nil || !bytes.Contains(said, []byte("595.28 x 841.89")) || bytes.Contains(said, []byte("rror")) {
		t.Errorf("%v\n%s", err, said) // A4 is 210 by 297 mm (ISO 216)
	}
}
