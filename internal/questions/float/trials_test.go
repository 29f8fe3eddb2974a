package float

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/sheet"
	"thole/internal/units"
)

// texts gathers all words of a sheet.
func texts(a answer.Answer) string {
	var out []string
	for _, b := range a.Sheet.Blocks {
		if b.Text != nil {
			out = append(out, append([]string{b.Text.Heading}, b.Text.Paragraphs...)...)
		}
		if b.Table != nil {
			out = append(out, b.Table.Heading)
		}
	}
	return strings.Join(out, "\n")
}

func table(a answer.Answer, heading string) *sheet.Table {
	for _, b := range a.Sheet.Blocks {
		if b.Table != nil && strings.HasPrefix(b.Table.Heading, heading) {
			return b.Table
		}
	}
	return nil
}

// TestFloatedAgainstTheBook: a box 60 kg heavier than her book says so, and the line that it gives is one that the
// reader takes, after which nothing is left to explain.
func TestFloatedAgainstTheBook(t *testing.T) {
	// 6 x 1.5 m of sea water: 9.225 kg a millimetre, so that 1500 kg and 60 more leave 630.894 mm of 800.
	f := box(6, 1.5, 0.8, 1500, r3.Vec{X: 3, Z: 0.4})
	f.Boat.Weights[0].Mass.Tolerance = 15
	for _, x := range []float64{0.5, 5.5} {
		f.Trials = orNew(f.Trials)
		f.Trials.Floated[0].Freeboards = append(f.Trials.Floated[0].Freeboards, model.Freeboard{X: x, Side: model.Both, Height: 0.8 - 1560/9225.0})
	}
	a, _ := answered(t, f)
	rows := table(a, "Measured afloat against the book").Rows
	for i, want := range []string{"1560 kg", "3.000 m", "0 mm"} {
		if !strings.HasPrefix(rows[i][1].Text, want) {
			t.Errorf("row %d: %q, want %s (Archimedes, arithmetic)", i, rows[i][1].Text, want)
		}
	}
	if len(table(a, "Her freeboards").Rows) != 4 || !rows[0][3].Loud {
		t.Error("four readings, and the weight's row stands out")
	}
	if !strings.Contains(texts(a), "A weight explains it best: she is 60 kg ± ") {
		t.Error(texts(a))
	}
	if c := a.Cautions[len(a.Cautions)-1]; !strings.Contains(c, "60 kg") {
		t.Errorf("caution %q", c)
	}
	at := strings.Index(texts(a), "- {what: unexplained")
	line, _, _ := strings.Cut(texts(a)[at:], "\n")
	dir := t.TempDir()
	for name, text := range map[string]string{
		"boat.yaml":   "boat: Box\nhull: {offsets: o.csv}\nweights:\n  - {what: all up, mass: 1500 kg, at: [3 m, 0 m, 0.4 m]}\n  " + line + "\n",
		"o.csv":       "station,distance_m,height_m,halfbreadth_m\n0,0,0,0\n0,0,0,0.75\n0,0,0.8,0.75\n1,6,0,0\n1,6,0,0.75\n1,6,0.8,0.75\n",
		"trials.yaml": "floated: [{date: 2026-09-14, freeboards: [{at: 0.5 m, side: both, height: 630.9 mm}, {at: 5.5 m, side: both, height: 630.9 mm}]}]\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	adopted, faults := boatfolder.Read(dir)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if a, _ = answered(t, adopted); !strings.Contains(texts(a), "Nothing is left to explain") {
		t.Error(texts(a))
	}
}

func orNew(t *model.Trials) *model.Trials {
	if t == nil {
		t = &model.Trials{Floated: []model.Floated{{}}}
	}
	return t
}

// TestFloatedSays: each way that freeboards can fail to agree has its own words; none is silent.
func TestFloatedSays(t *testing.T) {
	both := func(x, h float64) model.Freeboard { return model.Freeboard{X: x, Side: model.Both, Height: h} }
	level := 0.8 - 1500/9225.0
	for _, c := range []struct {
		name string
		f    []model.Freeboard
		want string
	}{
		{"too few", []model.Freeboard{both(1, level)}, "tell nothing: three freeboards"},
		{"one place", []model.Freeboard{both(1, level), both(1.1, level)}, "too close together"},
		{"as the book", []model.Freeboard{both(1, level), both(5, level)}, "Nothing is left to explain"},
		{"lighter", []model.Freeboard{both(1, level+0.02), both(5, level+0.02)}, "The book is too heavy"},
		{"trimmed", []model.Freeboard{both(1, level+0.04), both(5, level-0.04)}, "A wrong place explains it best"},
		{"twisted", []model.Freeboard{both(1, level), {X: 5, Side: model.Port, Height: level + 0.03}, {X: 5, Side: model.Starboard, Height: level - 0.03}}, "do not agree with one another"},
	} {
		f := box(6, 1.5, 0.8, 1500, r3.Vec{X: 3, Z: 0.4})
		f.Boat.Weights[0].Mass.Tolerance = 15
		f.Boat.Units = units.Metric
		f.Trials = &model.Trials{Floated: []model.Floated{{Freeboards: c.f}}}
		if a, _ := answered(t, f); !strings.Contains(texts(a), c.want) {
			t.Errorf("%s: want %q in\n%s", c.name, c.want, texts(a))
		}
	}
}
