package boatfolder

import (
	"math"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"thole/internal/model"
)

// A lever that is written again is read as the same acts: those of the demos and of a new folder, and names that yaml would take amiss.
func TestLeverText(t *testing.T) {
	dir := t.TempDir() + "/new"
	if err := Starter(dir); err != nil {
		t.Fatal(err)
	}
	check := func(name string, want, got []model.Act) {
		t.Helper()
		if len(got) != len(want) {
			t.Errorf("%s: %d acts, want %d", name, len(got), len(want))
			return
		}
		for i := range got {
			a, b := got[i], want[i]
			if math.Abs(float64(a.Change.Mass-b.Change.Mass)) < 1e-9 && math.Abs(a.Change.Share-b.Change.Share) < 1e-12 {
				a.Change, a.By = b.Change, b.By // rounding; the shift is looked at below
			}
			a.Source = b.Source
			if !reflect.DeepEqual(a, b) || math.Abs(got[i].By.X-b.By.X)+math.Abs(got[i].By.Y-b.By.Y)+math.Abs(got[i].By.Z-b.By.Z) > 1e-9 {
				t.Errorf("%s:\n%+v\nwant\n%+v", name, got[i], b)
			}
		}
	}
	for _, d := range []string{dir, "../../demo/sanderling", "../../demo/turnstone"} {
		f, faults := Read(d)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		to := t.TempDir()
		if err := os.CopyFS(to, os.DirFS(d)); err != nil {
			t.Fatal(err)
		}
		text := "levers:\n"
		for _, l := range f.Levers {
			text += LeverText(l.Name, l.Acts)
		}
		if err := os.WriteFile(filepath.Join(to, "whatif.yaml"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		g, faults := Read(to)
		if len(faults) > 0 {
			t.Fatalf("%s\n%v", text, faults)
		}
		for i, l := range g.Levers {
			if l.Name != f.Levers[i].Name {
				t.Errorf("%q, want %q", l.Name, f.Levers[i].Name)
			}
			check(l.Name, f.Levers[i].Acts, l.Acts)
		}
	}
	acts := []model.Act{
		{Do: model.Put, What: []string{"no: \"1\" of [two], {three}"}, From: "201", To: "- hold", Count: 2},
		{Do: model.Put, What: []string{"a", "yes"}, To: "#1"},
		{Do: model.Another, What: []string{"torch"}},
		{Do: model.Stow, What: []string{"rice: a"}, Portions: []model.Portion{{In: "201", Count: 3, First: 1, Last: 21}, {In: "- hold", Count: 1, First: 22, Last: 22}}},
		{Do: model.Leave, Months: -2},
	}
	f := mustRead(t, map[string]string{"voyage.yaml": oneVoyage, "whatif.yaml": "levers:\n" + LeverText("100 % more: a # b", acts)})
	check(f.Levers[0].Name, acts, f.Levers[0].Acts)
	if f.Levers[0].Name != "100 % more: a # b" {
		t.Error(f.Levers[0].Name)
	}
}
