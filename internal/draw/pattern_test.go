package draw

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"thole/internal/house/gallery"
	"thole/internal/house/golden"
	"thole/internal/sheet"
)

// small is a bracket of 80 by 60 mm with one path of every kind.
func small() sheet.Pattern {
	return sheet.Pattern{Name: "knee", Title: "Knee, 30° ± 1°", Face: "seen from port", Thickness: 0.012, Count: 2, Notes: []string{"Grain along the long side."},
		Drawing: sheet.Drawing{MaxX: 0.08, MaxY: 0.06, Alt: "An invented knee.",
			Paths: []sheet.Path{
				{Role: sheet.Skin, Name: "cut here", Points: [][2]float64{{0, 0}, {0.08, 0}, {0, 0.06}, {0, 0}}, Closed: true},
				{Role: sheet.Grid, Points: [][2]float64{{0, 0.01}, {0.06, 0.01}}},
				{Role: sheet.Limit, Points: [][2]float64{{0.01, 0.05}, {0.02, 0.02}, {0.05, 0.01}}},
				{Role: sheet.Thing, Points: [][2]float64{{0.02, 0.015}}}},
			Labels: []sheet.Label{{X: 0.03, Y: 0.012, Text: "base line – 50 %", Anchor: "middle", Role: sheet.Grid}}},
		Points: []sheet.PlotPoint{{Name: "heel"}, {Name: "toe", X: 0.08, Bevel: -30 * math.Pi / 180, HasBevel: true}, {Name: "1-2", Y: 0.06, Bevel: math.Pi / 15, HasBevel: true}}}
}

func TestGoldenPattern(t *testing.T) {
	golden.Check(t, "knee.svg", PatternSVG(small(), 1, "3f9a1c"))
	var dxf, points bytes.Buffer
	if err := errors.Join(DXF(&dxf, small(), "3f9a1c"), Points(&points, small())); err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "knee.dxf", dxf.Bytes())
	golden.Check(t, "knee.csv", points.Bytes())
}

// read is what python3-ezdxf, an independent library, finds in a file.
type read struct {
	Version string                    `json:"version"`
	Errors  []string                  `json:"errors"`
	Fixes   []string                  `json:"fixes"`
	Layers  map[string][2]any         `json:"layers"` // colour and line
	Counts  map[string]map[string]int `json:"counts"` // by layer and kind
	Closed  []bool                    `json:"closed"`
	Corners []int                     `json:"corners"`
	Min     [2]float64                `json:"min"` // of all but words
	Max     [2]float64                `json:"max"`
	Head    [4]float64                `json:"head"`
	Words   []string                  `json:"words"`
}

const ezdxf = `
import sys, json, ezdxf
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
counts, xs, ys, closed, corners = {}, [], [], [], []
for e in doc.modelspace():
    k = counts.setdefault(e.dxf.layer, {})
    k[e.dxftype()] = k.get(e.dxftype(), 0) + 1
    at = []
    if e.dxftype() == "POINT": at = [e.dxf.location]
    if e.dxftype() == "LINE": at = [e.dxf.start, e.dxf.end]
    if e.dxftype() == "POLYLINE":
        at = list(e.points())
        closed.append(bool(e.is_closed)); corners.append(len(at))
    xs += [p.x for p in at]; ys += [p.y for p in at]
head = list(doc.header["$EXTMIN"])[:2] + list(doc.header["$EXTMAX"])[:2]
print(json.dumps({"version": doc.dxfversion, "errors": [e.message for e in audit.errors], "fixes": [e.message for e in audit.fixes],
  "layers": {l.dxf.name: [l.dxf.color, l.dxf.linetype] for l in doc.layers}, "counts": counts, "closed": closed, "corners": corners,
  "min": [min(xs), min(ys)], "max": [max(xs), max(ys)], "head": head,
  "words": [e.plain_text() for e in doc.modelspace().query("TEXT")]}))
`

// withEzdxf reads a file with that library.
func withEzdxf(t *testing.T, dxf []byte) read {
	t.Helper()
	python := ""
	for _, p := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(p, "-c", "import ezdxf").Run() == nil {
			python = p
			break
		}
	}
	if python == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("python3 has no ezdxf here, and CI must have it (Debian: python3-ezdxf)")
		}
		t.Skip("python3 has no ezdxf on this machine (Debian: python3-ezdxf), so that nothing independent read this file")
	}
	file := filepath.Join(t.TempDir(), "x.dxf")
	if err := os.WriteFile(file, dxf, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(python, "-c", ezdxf, file).Output()
	if err != nil {
		var e *exec.ExitError
		if errors.As(err, &e) {
			t.Fatalf("%v\n%s", err, e.Stderr)
		}
		t.Fatal(err)
	}
	var r read
	if err := json.Unmarshal(out, &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// TestDXFReads: an independent library opens every kind of pattern without a
// complaint and finds everything where it was put.
func TestDXFReads(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another, many times over: nothing for the race detector")
	}
	for _, p := range append(gallery.Patterns(), small()) {
		t.Run(p.Name, func(t *testing.T) {
			var b bytes.Buffer
			if err := DXF(&b, p, "3f9a1c"); err != nil {
				t.Fatal(err)
			}
			r := withEzdxf(t, b.Bytes())
			if r.Version != "AC1009" || len(r.Errors)+len(r.Fixes) > 0 {
				t.Errorf("version %s, errors %v, mended %v", r.Version, r.Errors, r.Fixes)
			}
			want := map[string]map[string]int{}
			add := func(layer, kind string) {
				if want[layer] == nil {
					want[layer] = map[string]int{}
				}
				want[layer][kind]++
			}
			for _, q := range p.Drawing.Paths {
				kind := "POLYLINE"
				if n := len(q.Points); n < 3 {
					kind = []string{"", "POINT", "LINE"}[n]
				}
				add(strings.ToUpper(string(q.Role)), kind)
			}
			for _, l := range p.Drawing.Labels {
				add(strings.ToUpper(string(l.Role)), "TEXT")
			}
			for range p.Points {
				add("POINTS", "POINT")
				add("POINTS", "TEXT")
			}
			for range len(notes(p, "x")) {
				add("NOTES", "TEXT")
			}
			if fmt.Sprint(r.Counts) != fmt.Sprint(want) {
				t.Errorf("holds %v, want %v", r.Counts, want)
			}
			for l := range want {
				if _, ok := r.Layers[l]; !ok {
					t.Errorf("layer %s is not in the table of layers", l)
				}
			}
			low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
			for _, q := range p.Drawing.Paths {
				for _, v := range q.Points {
					for k := range 2 {
						low[k], high[k] = math.Min(low[k], v[k]*1000), math.Max(high[k], v[k]*1000)
					}
				}
			}
			for k := range 2 {
				// A nanometre: a thousandth of what any machine can cut.
				for _, d := range []float64{r.Min[k] - low[k], r.Max[k] - high[k], r.Head[k] - low[k], r.Head[k+2] - high[k]} {
					if !(math.Abs(d) < 1e-6) {
						t.Errorf("extents %v %v (head %v), want %v %v", r.Min, r.Max, r.Head, low, high)
					}
				}
			}
		})
	}
	var b bytes.Buffer
	if err := DXF(&b, small(), "3f9a1c"); err != nil {
		t.Fatal(err)
	}
	r := withEzdxf(t, b.Bytes())
	// The triangle's first corner is given twice; the flag closes it instead.
	if fmt.Sprint(r.Closed, r.Corners) != "[true false] [3 3]" {
		t.Errorf("closed %v, corners %v", r.Closed, r.Corners)
	}
	if got := strings.Join(r.Words, "|"); got != "base line - 50 %|heel|toe  -30.0°|1-2  +12.0°|Knee, 30° ± 1°|seen from port|12 mm thick, cut 2|folder 3f9a1c, millimetres, full size" {
		t.Errorf("words: %s", got)
	}
}

// TestPointsTable: what a reader of csv finds, by plane trigonometry: the knee's
// corners are a right triangle of 60, 80 and 100 mm.
func TestPointsTable(t *testing.T) {
	var b bytes.Buffer
	if err := Points(&b, small()); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil || len(rows) != 4 {
		t.Fatal(err, rows)
	}
	for i, want := range []string{"heel 0.000 0.000  0.000 0.000 0.000 60.000", "toe 80.000 0.000 -30.000 80.000 80.000 80.000 100.000",
		"point 1-2 0.000 60.000 12.000 0.000 100.000 60.000 0.000"} {
		if got := strings.Join(rows[i+1], " "); got != want {
			t.Errorf("row %d: %q, want %q", i+1, got, want)
		}
	}
	// What a spreadsheet would take for something else than a name.
	for name, want := range map[string]string{"1-2": "point 1-2", "=A1": "point =A1", "-3": "point -3", "007": "point 007", "1e5": "point 1e5",
		"mar 3": "point mar 3", "Sept5": "point Sept5", "true": "point true", "p5": "p5", "marten": "point marten", "sheer": "sheer", "Küche": "Küche", "": "point "} {
		if got := safe(name); got != want {
			t.Errorf("%q is written %q, want %q", name, got, want)
		}
	}
	p := small()
	p.Points[0].Name = "Bügel"
	b.Reset()
	if err := Points(&b, p); err != nil || !strings.HasPrefix(b.String(), "\ufeffname") {
		t.Errorf("letters beyond ASCII without the mark: %v %q", err, b.String()[:8])
	}
}

// TestChecks: the distances that show a part is true, by Pythagoras.
func TestChecks(t *testing.T) {
	rect := sheet.Pattern{Points: []sheet.PlotPoint{{Name: "a"}, {Name: "b", X: 4}, {Name: "c", X: 4, Y: 3}, {Name: "d", Y: 3}}}
	if got, want := fmt.Sprint(Checks(rect)), "[a – c, 5000.0 mm d – b, 5000.0 mm a – b, 4000.0 mm a – d, 3000.0 mm]"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if c := Checks(sheet.Pattern{Points: []sheet.PlotPoint{{Name: "a"}, {Name: "b"}}}); len(c) != 0 {
		t.Errorf("two points in one place: %v", c)
	}
	if c := Checks(sheet.Pattern{Points: []sheet.PlotPoint{{Name: "a", X: math.NaN()}}}); len(c) != 0 {
		t.Errorf("no point at all: %v", c)
	}
}

// TestSamePaper: the same patterns print the same bytes, today and tomorrow.
func TestSamePaper(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	once := func() []byte {
		var b bytes.Buffer
		if err := errors.Join(Tile(&b, gallery.Patterns(), A3, "x"), Wall(&b, gallery.Mould(), "x")); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	a := once()
	time.Sleep(1100 * time.Millisecond) // a PDF's dates are good to a second
	if !bytes.Equal(a, once()) {
		t.Error("two printings of the same patterns differ")
	}
	if !bytes.Contains(a, []byte("/PrintScaling /None")) {
		t.Error("nothing asks the printer not to scale")
	}
	if _, err := ask([]byte("%PDF-1.3\nnot the library's way")); err == nil {
		t.Error("a document without a catalogue is taken")
	}
}

// TestCutKeepsLength: cut to the boxes of a grid, a line's pieces together are as
// long as the line (additivity), and each lies in its box.
func TestCutKeepsLength(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(2, 8).Draw(r, "n")
		var points [][2]float64
		for range n {
			points = append(points, [2]float64{rapid.Float64Range(0, 30).Draw(r, "x"), rapid.Float64Range(0, 20).Draw(r, "y")})
		}
		closed := rapid.Bool().Draw(r, "closed")
		// The grid's lines stand at places that no drawn number is likely to share.
		xs, ys := []float64{-1, 9.1234567, 21.7654321, 31}, []float64{-1, 7.3141592, 21}
		total := 0.0
		for i := range len(xs) - 1 {
			for j := range len(ys) - 1 {
				for _, run := range cut(points, closed, Box{xs[i], ys[j], xs[i+1], ys[j+1]}) {
					for k, q := range run.points {
						if q[0] < xs[i]-1e-9 || q[0] > xs[i+1]+1e-9 || q[1] < ys[j]-1e-9 || q[1] > ys[j+1]+1e-9 {
							r.Fatalf("%v lies outside its box", q)
						}
						if k > 0 {
							total += math.Hypot(q[0]-run.points[k-1][0], q[1]-run.points[k-1][1])
						}
					}
				}
			}
		}
		want := 0.0
		for i := 1; i < n; i++ {
			want += math.Hypot(points[i][0]-points[i-1][0], points[i][1]-points[i-1][1])
		}
		if closed && n > 2 {
			want += math.Hypot(points[0][0]-points[n-1][0], points[0][1]-points[n-1][1])
		}
		if math.Abs(total-want) > 1e-9*(1+want) {
			r.Errorf("%g, want %g", total, want)
		}
	})
}

// TestOnlySheetsThatHold: of the paper over a part only what holds something is
// printed, and it hangs together; two pieces far apart get the sheets between.
func TestOnlySheetsThatHold(t *testing.T) {
	ring := func(n int) sheet.Pattern {
		return sheet.Pattern{Name: "ring", Thickness: 0.01, Drawing: sheet.Drawing{MaxX: 1, MaxY: 1,
			Paths: []sheet.Path{{Role: sheet.Skin, Closed: true, Points: [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}}[:n]}}}}
	}
	square := spread(OfPattern(ring(4), 1), A4)
	if all := square.rows * square.columns; len(square.tiles) != 2*(square.rows+square.columns)-4 {
		t.Errorf("a square of 1 m takes %d sheets of %d, want those of its rim", len(square.tiles), all)
	}
	// Two points a metre apart both ways: the sheets of both and a way between them.
	apart := spread(OfPattern(sheet.Pattern{Thickness: 1, Drawing: sheet.Drawing{MaxX: 1, MaxY: 1}, Points: []sheet.PlotPoint{{}, {X: 1, Y: 1}}}, 1), A4)
	if n := len(apart.tiles); n != apart.rows+apart.columns-1 {
		t.Errorf("two points take %d sheets, want %d", n, apart.rows+apart.columns-1)
	}
	held := [][]bool{{true, false, false}, {false, false, false}, {false, false, true}}
	connect(held)
	n := 0
	for _, row := range held {
		for _, h := range row {
			if h {
				n++
			}
		}
	}
	if _, rest := pieces(held); n != 5 || len(rest) != 0 {
		t.Errorf("joined by %d sheets, %d left over: %v", n, len(rest), held)
	}
	rapid.Check(t, func(r *rapid.T) {
		held := make([][]bool, rapid.IntRange(1, 6).Draw(r, "rows"))
		columns := rapid.IntRange(1, 6).Draw(r, "columns")
		was := map[[2]int]bool{}
		for i := range held {
			held[i] = make([]bool, columns)
			for k := range held[i] {
				held[i][k] = rapid.Bool().Draw(r, "held")
				was[[2]int{i, k}] = held[i][k]
			}
		}
		connect(held)
		_, rest := pieces(held)
		for at, h := range was {
			if h && !held[at[0]][at[1]] {
				r.Errorf("sheet %v is lost", at)
			}
		}
		if len(rest) > 0 {
			r.Errorf("%v hang on nothing", rest)
		}
	})
}

// TestStrangePatterns: nothing odd in a pattern stops the writing or puts a
// non-number on paper; what cannot be printed says why.
func TestStrangePatterns(t *testing.T) {
	nan := math.NaN()
	for i, p := range []sheet.Pattern{
		{Name: "empty"},
		{Name: "flat", Drawing: sheet.Drawing{MaxX: 1, Paths: []sheet.Path{{Role: sheet.Main, Points: [][2]float64{{0, 0}, {1, 0}}}}}},
		{Name: "holes", Thickness: 1, Title: strings.Repeat("a very long name ", 40), Face: "\U0001F6A3 rowing", Notes: []string{strings.Repeat("note ", 300)},
			Drawing: sheet.Drawing{MaxX: 1, MaxY: 1, Paths: []sheet.Path{{}, {Points: [][2]float64{{nan, 1}, {0, 0}}}, {Role: "odd", Points: [][2]float64{{0, 0}, {1, 1}}}},
				Labels: []sheet.Label{{X: nan, Text: "x"}, {Text: "\U0001F6A3"}}}, Points: []sheet.PlotPoint{{Name: "a", X: nan}, {Name: strings.Repeat("b", 90)}}},
	} {
		var b bytes.Buffer
		if err := errors.Join(Tile(&b, []sheet.Pattern{p}, A4, "x"), Wall(&b, p, ""), Points(&b, p)); err != nil {
			t.Errorf("%d: %v", i, err)
		}
		b.Write(PatternSVG(p, 1, ""))
		err := DXF(&b, p, "")
		if (p.Name == "empty") != (err != nil) {
			t.Errorf("%d: DXF: %v", i, err)
		}
		if bytes.Contains(b.Bytes(), []byte("NaN")) {
			t.Errorf("%d: a non-number is written", i)
		}
	}
	far := sheet.Pattern{Name: "far", Thickness: 1, Drawing: sheet.Drawing{MaxX: 5000, MaxY: 5000, Paths: []sheet.Path{{Role: sheet.Main, Points: [][2]float64{{0, 0}, {5000, 5000}}}}}}
	if err := Tile(io.Discard, []sheet.Pattern{far}, A4, ""); err == nil || !strings.Contains(err.Error(), "5000") {
		t.Errorf("a part of 5 km: %v", err)
	}
	for _, c := range []struct {
		name  string
		width float64
		says  string
	}{{"a4", 0, ""}, {"a3", 0, ""}, {"roll", 0, ""}, {"roll", 0.61, ""}, {"roll", 0.1, "100 mm"}, {"roll", nan, "wide"}, {"letter", 0, `"letter"`}} {
		if _, err := PaperNamed(c.name, c.width); (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s %g: %v", c.name, c.width, err)
		}
	}
}

// TestWallIsRead: an independent program finds every point on the wall sheet, in
// figures that can be read from two metres: at least 16 minutes of arc, which is
// 2000 mm x tan(16/60 deg) = 9.3 mm (ISO 9241-3).
func TestWallIsRead(t *testing.T) {
	text := tool(t, "pdftotext", "poppler-utils")
	for _, p := range []sheet.Pattern{gallery.Mould(), gallery.Plank()} {
		var b bytes.Buffer
		if err := Wall(&b, p, "3f9a1c"); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "x.pdf")
		if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(text, "-bbox", file, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		sizes := map[string]float64{}
		for _, l := range strings.Split(string(out), "\n") {
			var x0, y0, x1, y1 float64
			if _, err := fmt.Sscanf(strings.TrimSpace(l), `<word xMin="%f" yMin="%f" xMax="%f" yMax="%f">`, &x0, &y0, &x1, &y1); err == nil {
				_, rest, _ := strings.Cut(l, ">")
				w, _, _ := strings.Cut(rest, "<")
				sizes[w] = math.Max(sizes[w], y1-y0)
			}
		}
		// The box of a word is as high as ascender and descender of the face, 1.3 of
		// its size (the font's own hhea table: 1025 and 275 of 1000); a figure is
		// 0.698 of its size.
		least := 2000 * math.Tan(16.0/60*math.Pi/180) / 0.698 * 1.3 / 25.4 * 72
		for _, q := range p.Points {
			for _, v := range []float64{q.X, q.Y} {
				w := strings.Replace(strconv.FormatFloat(v*1000, 'f', 1, 64), "-", "−", 1)
				if w == "−0.0" {
					w = "0.0"
				}
				if sizes[w] < least-0.5 {
					t.Errorf("%s: %s of %s stands %.1f pt high, want %.1f", p.Name, w, q.Name, sizes[w], least)
				}
			}
		}
		for _, w := range []string{"folder", "thick,", "bevel"} {
			if _, ok := sizes[w]; !ok && (w != "bevel" || p.Name == "mould-5") {
				t.Errorf("%s does not say %q", p.Name, w)
			}
		}
	}
}
