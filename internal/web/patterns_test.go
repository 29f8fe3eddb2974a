package web

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/sheet"
	"thole/internal/units"
)

// cutParts are two invented parts and a drawing that is none.
func cutParts() []sheet.Pattern {
	outline := func(w, h float64) sheet.Drawing {
		return sheet.Drawing{MinX: -0.1, MinY: -0.1, MaxX: w + 0.1, MaxY: h + 0.1, Paths: []sheet.Path{
			{Role: sheet.Grid, Points: [][2]float64{{-0.1, 0}, {w + 0.1, 0}}},
			{Role: sheet.Skin, Name: "cut here", Points: [][2]float64{{0, 0}, {w, 0}, {w, h}, {0, h}}, Closed: true},
		}}
	}
	return []sheet.Pattern{
		{Name: "plan", Title: "Plan", Face: "seen from above", Drawing: outline(3, 1)},
		{Name: "mould-01", Title: "Mould 1", Face: "seen from astern", Drawing: outline(1.2, 0.5), Thickness: 0.018, Count: 1, Notes: []string{"a note"},
			Points: []sheet.PlotPoint{{Name: "keel"}, {Name: "sheer", X: -0.3, Y: 0.4, Bevel: math.Pi / 12, HasBevel: true}}},
		{Name: "plank-01", Title: "Plank 1", Face: "inside", Drawing: outline(2.4, 0.15), Thickness: 0.006, Count: 2, Points: []sheet.PlotPoint{{Name: "a"}}},
	}
}

func TestPartsAreListed(t *testing.T) {
	r := newRig(t)
	status, body, head := r.get(t, "/api/patterns/last?day=3")
	if status != 200 || head.Get("Cache-Control") != fresh {
		t.Fatal(status, body, head)
	}
	var got []PartListed
	if err := json.Unmarshal([]byte(body), &got); err != nil {
		t.Fatal(err)
	}
	want := []PartListed{
		{Name: "plan", Title: "Plan", Face: "seen from above", Width: 3.2, Height: 1.2, Size: "3.200 m × 1.200 m"},
		{Name: "mould-01", Title: "Mould 1", Face: "seen from astern", Thickness: 0.018, Count: 1, Width: 1.2, Height: 0.5, HasPoints: true, HasBevel: true, Thick: "18 mm", Size: "1.200 m × 500 mm"},
		{Name: "plank-01", Title: "Plank 1", Face: "inside", Thickness: 0.006, Count: 2, Width: 2.4, Height: 0.15, HasPoints: true, Thick: "6 mm", Size: "2.400 m × 150 mm"},
	}
	for i := range got {
		// What is subtracted in floating point is compared to a micrometre.
		got[i].Width, got[i].Height = math.Round(got[i].Width*1e6)/1e6, math.Round(got[i].Height*1e6)/1e6
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	_, body, _ = r.get(t, "/api/ask/last?day=3")
	var asked Asked
	if err := json.Unmarshal([]byte(body), &asked); err != nil || len(asked.Parts) != 3 {
		t.Errorf("the answer lists %d parts, want 3: %v", len(asked.Parts), err)
	}
	if n := r.asked.Load(); n != 1 {
		t.Errorf("the question was asked %d times, want once: the answer is kept", n)
	}
	if _, body, _ := r.get(t, "/api/patterns/first"); strings.TrimSpace(body) != "[]" {
		t.Errorf("an answer without parts lists %s", body)
	}
}

func TestAPartComesWhole(t *testing.T) {
	r := newRig(t)
	status, body, _ := r.get(t, "/api/patterns/last/mould-01")
	var got Part
	if err := json.Unmarshal([]byte(body), &got); status != 200 || err != nil {
		t.Fatal(status, err, body)
	}
	sent, want := must(json.Marshal(got.Pattern)), must(json.Marshal(cutParts()[1]))
	if string(sent) != string(want) {
		t.Errorf("the pattern is changed on its way:\n%s\n%s", sent, want)
	}
	if w := []PointShown{{Name: "keel", Across: "0.0", Up: "0.0"}, {"sheer", "−300.0", "400.0", "+15.0°"}}; !slices.Equal(got.Shown, w) {
		t.Errorf("shown %+v, want %+v", got.Shown, w)
	}
	// 3-4-5 triangle
	if w := []string{"keel to sheer: 500.0 mm"}; !slices.Equal(got.Checks, w) {
		t.Errorf("checks %q, want %q", got.Checks, w)
	}
	if got.Number != 2 || got.Of != 3 || got.Before == nil || got.Before.Name != "plan" || got.Next == nil || got.Next.Name != "plank-01" || got.Unit != "mm" || got.Stamp != "first" {
		t.Errorf("%+v", got)
	}
}

func TestPartsThatAreNotThere(t *testing.T) {
	r := newRig(t)
	for _, c := range []struct {
		path, says string
		want       int
	}{
		{"/api/patterns/last/mould-99", "plan, mould-01, plank-01", 404},
		{"/api/patterns/first/mould-01", "has no parts to cut", 404},
		{"/api/patterns/second", "first, breaks, waits, last", 404},
		{"/api/patterns/second/mould-01", "there is no question", 404},
		{"/api/patterns/breaks", "the program's fault", 500},
		{"/api/patterns/last?day=81", "last day of the trip, 80", 422},
		{"/api/patterns/last/..%2f..%2fboat", "", 404},
		{"/api/patterns/last/" + strings.Repeat("x", 200), "", 422},
	} {
		got, body, _ := r.get(t, c.path)
		if got != c.want || !strings.Contains(body, c.says) {
			t.Errorf("%s: status %d, want %d with %q: %s", c.path, got, c.want, c.says, body)
		}
	}
	_, description, _ := r.get(t, "/api/openapi.json")
	for _, path := range []string{`"/api/patterns/{id}"`, `"/api/patterns/{id}/{name}"`, `"has_bevel"`} {
		if !strings.Contains(description, path) {
			t.Errorf("the description lacks %s", path)
		}
	}
}

func TestPagesOfParts(t *testing.T) {
	r := newRig(t)
	for path, want := range map[string]int{
		"/last/parts": 200, "/last/parts/mould-01": 200, "/last/parts/mould-01/wall?point=4": 200,
		"/last/parts/": 404, "/last/other": 404, "/third/parts/mould-01": 404, "/last/parts/mould-01/other": 404,
		"/last/parts/mould-01/wall/more": 404, "/last/parts/..%2f..%2fgo.mod": 404,
	} {
		got, body, _ := r.get(t, path)
		if got != want || (got == 200) != strings.Contains(body, `<div id="page">`) {
			t.Errorf("%s: status %d, want %d: %s", path, got, want, body)
		}
	}
}

// Lengths as they are read from two metres.
func TestPlotted(t *testing.T) {
	const mm = "closed form: metres times 1000, to a tenth"
	const inches = "NIST Special Publication 811 (2008), Appendix B.8: 1 in = 25.4 mm, 1 ft = 0.3048 m"
	for _, c := range []struct {
		metres float64
		system units.System
		want   string
		source string
	}{
		{0, units.Metric, "0.0", mm},
		{-1e-9, units.Metric, "0.0", mm},
		{0.41234, units.Metric, "412.3", mm},
		{-1.5, units.Metric, "−1500.0", mm},
		{0.4572, units.Feet, "1-6-0", inches},
		{-0.4572, units.Feet, "−1-6-0", inches},
		{0.7112 + 4*0.0254/8, units.Feet, "2-4-4", inches},
		{0.0254 / 16, units.Feet, "0-0-0+", inches},
	} {
		if c.source == "" {
			t.Fatal("no source")
		}
		if got := plotted(c.metres, c.system); got != c.want {
			t.Errorf("%v m in %v: %q, want %q (%s)", c.metres, c.system, got, c.want, c.source)
		}
	}
	if lengthUnit(units.Feet) != "feet-inches-eighths" || length(0.5, units.Metric) != "500.0 mm" {
		t.Error("lengths without their unit")
	}
}

// A part that is not finite cannot be sent, and is refused before it is kept.
func TestAPartOfNoNumbersIsRefused(t *testing.T) {
	bad := cutParts()
	bad[1].Points[0].X = math.NaN()
	if _, err := size(answer.Answer{Patterns: bad}); err == nil || !strings.Contains(err.Error(), "parts to cut") {
		t.Error(err)
	}
	some, err := size(answer.Answer{Patterns: cutParts()})
	none, _ := size(answer.Answer{})
	if err != nil || some <= none {
		t.Errorf("the parts do not count: %d with, %d without: %v", some, none, err)
	}
}
