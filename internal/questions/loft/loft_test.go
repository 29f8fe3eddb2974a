package loft

import (
	"context"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/units"
)

type check struct {
	name   string
	got    float64
	want   float64
	tol    float64
	source string
}

func run(t *testing.T, rows []check) {
	t.Helper()
	for _, r := range rows {
		if r.source == "" {
			t.Errorf("%s: no source", r.name)
		}
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s: got %.9g, want %.9g within %g (%s)", r.name, r.got, r.want, r.tol, r.source)
		}
	}
}

func answered(t testing.TB, f *model.Folder) (answer.Answer, Figures) {
	t.Helper()
	a, err := Ask(context.Background(), answer.NewCase(f), answer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return a, a.Figures.(Figures)
}

// brief asks for the verdict alone.
func brief(t testing.TB, f *model.Folder) (answer.Answer, Figures) {
	t.Helper()
	a, err := Ask(context.Background(), answer.NewCase(f), answer.Options{Brief: true})
	if err != nil {
		t.Fatal(err)
	}
	return a, a.Figures.(Figures)
}

func demo(t testing.TB, name string) *model.Folder {
	t.Helper()
	f, faults := boatfolder.Read("../../../demo/" + name)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return f
}

// TestMisreading plants a slip of 3 mm on the model among the demo's readings, one place after
// another, and wants it found, and only it.
func TestMisreading(t *testing.T) {
	base := demo(t, "sanderling")
	clean, fig := brief(t, base)
	if clean.Verdict == answer.No || len(fig.Misread) > 0 {
		t.Fatalf("the demo as it is: %s", clean.Sentence)
	}
	for _, at := range [][2]int{{2, 5}, {4, 8}, {5, 3}, {6, 9}, {8, 6}} {
		f := demo(t, "sanderling")
		p := &f.Boat.Hull.Readings.Stations[at[0]].Points[at[1]]
		p.Y += 0.003 * f.Boat.Hull.Scale
		a, fig := brief(t, f)
		if a.Verdict != answer.No || len(fig.Misread) != 1 {
			t.Errorf("station %d point %d: %d misread: %s", at[0], at[1]+1, len(fig.Misread), a.Sentence)
			continue
		}
		m := fig.Misread[0]
		if m.Station != f.Boat.Hull.Readings.Stations[at[0]].Label || m.Point != at[1]+1 {
			t.Errorf("station %d point %d: found station %s point %d", at[0], at[1]+1, m.Station, m.Point)
		}
		if !strings.Contains(a.Sentence, "misread") || !strings.Contains(a.Sentence, "cuts.csv:") {
			t.Errorf("sentence does not lead to the line: %s", a.Sentence)
		}
		// square to the section the slip is less than across; what is said must be that, to a few millimetres
		ps := f.Boat.Hull.Readings.Stations[at[0]].Points
		a1, b1 := ps[at[1]-1], ps[at[1]+1]
		square := 0.003 * f.Boat.Hull.Scale * (b1.Z - a1.Z) / math.Hypot(b1.Y-a1.Y, b1.Z-a1.Z)
		if math.Abs(m.Off-square) > 0.008 {
			t.Errorf("station %d point %d: said to stand off %.1f mm, planted %.1f", at[0], at[1]+1, 1000*m.Off, 1000*square)
		}
	}
}

// TestOldTable: the table of a canoe of 1883 goes through, and the cells that the print makes doubtful stand out.
func TestOldTable(t *testing.T) {
	f, faults := boatfolder.Read("testdata/canoe")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	a, fig := answered(t, f)
	var named []string
	for _, w := range append(fig.Misread, fig.Worst...) {
		named = append(named, w.Station)
	}
	t.Log(a.Sentence)
	for _, doubtful := range []string{"3", "13"} {
		found := false
		for _, n := range named {
			found = found || n == doubtful
		}
		if !found {
			t.Errorf("station %s, whose cell is doubtful in print, is not among %v", doubtful, named)
		}
	}
	if a.Verdict != answer.No {
		t.Errorf("%s: %s", a.Verdict, a.Sentence)
	}
}

// box is a hull whose patterns can be told by arithmetic.
func box() *model.Folder {
	f := &model.Folder{}
	b := &f.Boat
	b.Hull.Scale, b.Hull.File, b.Hull.Planking = 1, "offsets.csv", 0.01
	for i, x := range []float64{0, 2, 4} {
		b.Hull.Readings.Stations = append(b.Hull.Readings.Stations, model.Station{Label: string(rune('0' + i)), X: x,
			Points: []model.Reading{{}, {Y: 0.5, Corner: true}, {Y: 0.5, Z: 0.4}}})
	}
	b.Weights = []model.Weight{{What: "all up", Count: 1, Mass: model.Mass{Value: 410}, Where: model.Place{At: r3.Vec{X: 2, Z: 0.1}, Compartment: -1}}}
	b.Compartments = []model.Compartment{{Name: "middle", From: 1, To: 3}}
	return f
}

func TestPatterns(t *testing.T) {
	f := box()
	a, fig := answered(t, f)
	const src = "box, arithmetic"
	run(t, []check{{"skin", fig.Skin, 2 * 4 * 0.9, 1e-9, src}, {"length", fig.Length, 4, 1e-12, src}, {"breadth", fig.Breadth, 1, 1e-12, src}})
	found := map[string]bool{}
	for _, p := range a.Patterns {
		found[p.Name] = true
		if p.Drawing.Alt == "" || p.Title == "" || p.Face == "" {
			t.Errorf("%s has no title, face or words for who cannot see it", p.Name)
		}
		if strings.HasPrefix(p.Name, "mould") || strings.HasPrefix(p.Name, "bulkhead") {
			for _, q := range p.Points {
				if q.Name == "sheer" {
					run(t, []check{{p.Name + ": sheer less the planking", q.X, 0.49, 1e-9, src}})
				}
				if q.Name == "keel" {
					run(t, []check{{p.Name + ": keel less the planking", q.Y, 0.01, 1e-9, src}})
				}
			}
		}
	}
	for _, want := range []string{"lines", "mould-01", "mould-03", "bulkhead-01", "bulkhead-02"} {
		if !found[want] {
			t.Errorf("no pattern %s among %v", want, found)
		}
	}
	if found["stem"] {
		t.Error("a box with flat ends has a stem")
	}
}

// TestStem: the rabbet of a wedge bow of plane sides.
func TestStem(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	f := box()
	f.Boat.Hull.Readings.Stations = nil
	const half = 15 * math.Pi / 180
	for i, x := range []float64{0, 1, 2, 4} {
		y := x * math.Tan(half)
		f.Boat.Hull.Readings.Stations = append(f.Boat.Hull.Readings.Stations, model.Station{Label: string(rune('0' + i)), X: x,
			Points: []model.Reading{{Y: y}, {Y: y, Z: 0.25}, {Y: y, Z: 0.5}}})
	}
	f.Boat.Loft.Siding = units.Length(0.04)
	a, _ := answered(t, f)
	const src = "wedge of plane sides at 15 degrees, closed form"
	for _, p := range a.Patterns {
		if p.Name != "stem" {
			continue
		}
		for _, q := range p.Points {
			if q.HasBevel {
				run(t, []check{{"rabbet", q.X, 0.02 / math.Tan(half), 1e-4, src}, {"bevel", q.Bevel, half, 1e-6, src}})
			} else {
				run(t, []check{{"apex", q.X, 0, 1e-6, src}})
			}
		}
		beard := p.Drawing.Paths[2].Points
		run(t, []check{{"bearding line", beard[3][0], (0.02 + 0.01/math.Cos(half)) / math.Tan(half), 1e-3, src}})
		return
	}
	t.Error("a sharp bow has no stem")
}

// TestDemosAreSawn: what is drawn of both demo boats is finite, named once, and adds up.
func TestDemosAreSawn(t *testing.T) {
	for i, name := range []string{"sanderling", "turnstone"} {
		if testing.Short() && i > 0 {
			continue
		}
		f := demo(t, name)
		a, fig := answered(t, f)
		seen := map[string]bool{}
		for _, p := range a.Patterns {
			if seen[p.Name] {
				t.Errorf("%s: two patterns are called %s", name, p.Name)
			}
			seen[p.Name] = true
			if _, err := json.Marshal(p); err != nil {
				t.Errorf("%s, %s: %v", name, p.Name, err)
			}
		}
		var skin float64
		for _, p := range fig.Parts {
			skin += float64(p.Count) * p.Area
		}
		laps := 2 * float64(f.Boat.Loft.Lap) * fig.Length * float64(max(0, f.Boat.Loft.Strakes-1))
		run(t, []check{{name + ": the skin's parts make the skin", skin, fig.Skin + laps, 0.04 * fig.Skin, "property: additivity of areas, laps counted"}})
		if len(fig.Sheets) != 2 {
			t.Errorf("%s: sheets %+v", name, fig.Sheets)
		}
		for _, s := range fig.Sheets {
			if s.Count < s.AtLeast || !(s.Waste > 0 && s.Waste < 0.7) {
				t.Errorf("%s: %+v", name, s)
			}
		}
	}
}

// TestNothingFits: moulds larger than any sheet are named, and nothing that is drawn is without bounds.
func TestNothingFits(t *testing.T) {
	f := box()
	f.Boat.Loft.SheetLength, f.Boat.Loft.SheetWidth = 0.3, 0.2
	a, fig := answered(t, f)
	for _, b := range a.Sheet.Blocks {
		if _, err := json.Marshal(b); err != nil {
			t.Errorf("%v: %+v", err, b)
		}
	}
	for _, s := range fig.Sheets {
		if s.Count != 0 {
			t.Errorf("%+v", s)
		}
	}
	if len(a.Sheet.Blocks) == 0 || !strings.Contains(a.Sentence, "will not go round") {
		t.Errorf("nothing said of parts that fit no sheet: %s", a.Sentence)
	}
}

// TestStrips: a cold-moulded skin is counted, and its layers cross.
func TestStrips(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	f := demo(t, "sanderling")
	f.Boat.Loft.Planking, f.Boat.Loft.Strip, f.Boat.Loft.Layers = "strips", 0.12, 2
	a, fig := answered(t, f)
	found := false
	for _, b := range a.Sheet.Blocks {
		if b.Table != nil && strings.Contains(b.Table.Heading, "strips") {
			found = true
			// one side's skin over the strip's width is the length of stock for a layer
			var length float64
			for _, r := range b.Table.Rows {
				if r[0].Value == 1 {
					length += r[2].Value
				}
			}
			run(t, []check{{"stock of a layer", length, fig.Skin / 2 / 0.12, 0.25 * fig.Skin / 2 / 0.12, "area over width; strips taper and ends are cut long, so within a quarter"}})
		}
	}
	if !found {
		t.Error("no table of strips")
	}
}

func TestScaleDoesNotMatter(t *testing.T) {
	f := demo(t, "sanderling")
	a, _ := brief(t, f)
	g := demo(t, "sanderling")
	for i := range g.Boat.Hull.Readings.Stations {
		s := &g.Boat.Hull.Readings.Stations[i]
		s.X *= 2
		for j := range s.Points {
			s.Points[j].Y *= 2
			s.Points[j].Z *= 2
		}
	}
	g.Boat.Hull.Scale *= 2
	g.Boat.Cabins, g.Boat.Wells, g.Boat.Compartments = nil, nil, nil
	b, _ := brief(t, g)
	run(t, []check{{"room left, on the model", b.Margin.Value / 2, a.Margin.Value, 2e-4, "property: the same readings at another scale"}})
}

func BenchmarkLoft(b *testing.B) {
	f := demo(b, "sanderling")
	for b.Loop() {
		answered(b, f)
	}
}
