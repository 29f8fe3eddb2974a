package boatfolder

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"thole/internal/model"
)

var demos = []string{"sanderling", "turnstone"}

func demo(t testing.TB, name string) *Draft {
	t.Helper()
	d, faults := Open("../../demo/" + name)
	if faults != nil {
		t.Fatal(faults)
	}
	return d
}

// A draft without edits is the folder.
func TestDraftIsTheFolder(t *testing.T) {
	for _, name := range demos {
		d := demo(t, name)
		want, faults := Read("../../demo/" + name)
		if faults != nil {
			t.Fatal(faults)
		}
		for range 2 { // what is kept of the first reading is not changed by it
			got, faults := d.Read()
			if diff := cmp.Diff(want, got); diff != "" || faults != nil {
				t.Errorf("%s: %v\n%s", name, faults, diff)
			}
		}
		if stamp, err := Stamp("../../demo/" + name); err != nil || d.Stamp() != stamp {
			t.Errorf("%s: stamp %s, want %s, %v", name, d.Stamp(), stamp, err)
		}
		files := d.Files()
		if files[0] != "boat.yaml" || !slices.Contains(files, "README.md") || !slices.Contains(files, "aft-cabin.csv") || slices.Index(files, "aft-cabin.csv") > slices.Index(files, "stores.csv") {
			t.Errorf("%s: files %v", name, files)
		}
		if _, ok := d.Text("boatfolder.go"); ok || len(d.Changes()) > 0 {
			t.Errorf("%s: a text that is not there, or changes %v", name, d.Changes())
		}
	}
}

// A draft with edits is read as the folder would be that has them in its files.
func TestDraftReadsItsEdits(t *testing.T) {
	d, faults := demo(t, "sanderling").With(Edit{File: "boat.yaml", Key: "weights[0].mass", Text: "100 kg +- 1 kg"}, Edit{File: "cuts.csv", Key: "rows[0].height_mm", Text: "7.5"})
	if faults != nil {
		t.Fatal(faults)
	}
	files := memory{}
	for _, name := range d.Files() {
		files[name], _ = d.Text(name)
	}
	want, faults := newReader(files).folder("../../demo/sanderling")
	if faults != nil {
		t.Fatal(faults)
	}
	got, faults := d.Read()
	if diff := cmp.Diff(want, got); diff != "" || faults != nil {
		t.Errorf("%v\n%s", faults, diff)
	}
	if got.Boat.Weights[0].Mass != (model.Mass{Value: 100, Tolerance: 1, Given: true, Known: model.Calculated}) || d.Stamp() == demo(t, "sanderling").Stamp() {
		t.Errorf("mass %+v", got.Boat.Weights[0].Mass)
	}
	d, faults = d.With(Edit{File: "boat.yaml", Key: "weights[0].mass", Text: "100"})
	if faults != nil {
		t.Fatal(faults)
	}
	if f, faults := d.Read(); f != nil || len(faults) != 1 || faults[0].Key != "weights[0].mass" || faults[0].Mend != "write 100 kg" {
		t.Errorf("faults %v", faults)
	}
}

// Every value of every file may be set to what it is, and nothing changes; each mass and each coordinate to another, and
// its own line alone does.
func TestEveryValue(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another, many times over: nothing for the race detector")
	}
	for _, name := range demos {
		d := demo(t, name)
		other := map[string]string{"mass": "12.34 kg +- 1 kg", "length": "12.34 mm", "number": "12.34", "words": "a: b, #c"}
		count := map[string]int{}
		for _, file := range d.Files() {
			text, _ := d.Text(file)
			lines := strings.Split(text, "\n")
			line, column := 0, 0
			for _, v := range d.Values(file) {
				if v.Line < line || v.Line == line && v.Column < column || v.Key == "" || v.File != file {
					t.Errorf("%s %s: %+v out of order", name, file, v)
				}
				line, column = v.Line, v.Column
				count[v.Kind]++
				shown := string([]rune(lines[v.Line-1])[v.Column-1:][:v.Width])
				if strings.Trim(shown, `"'`) != v.Text {
					t.Errorf("%s %s:%d:%d: %q stands there, not %q", name, file, v.Line, v.Column, shown, v.Text)
				}
				e := Edit{File: file, Key: v.Key, Of: v.Of, Was: v.Text, Text: v.Text}
				if same, faults := d.With(e); faults != nil || len(same.changed) > 0 {
					t.Errorf("%s: %v, changes %+v", name, faults, e)
				}
				if e.Text = other[v.Kind]; e.Text == "" {
					continue
				}
				changed, faults := d.With(e)
				if faults != nil {
					t.Errorf("%s: %v", name, faults)
					continue
				}
				c := changed.Changes()
				runes := []rune(lines[v.Line-1])
				before, behind := string(runes[:v.Column-1]), string(runes[v.Column-1+v.Width:])
				if len(c) != 1 || c[0].File != file || c[0].Line != v.Line || !strings.HasPrefix(c[0].After, before) || !strings.HasSuffix(c[0].After, behind) {
					t.Errorf("%s %+v: changes %+v", name, v, c)
				}
				if v.Kind == "mass" && len(c) == 1 && c[0].After != before+e.Text+behind {
					t.Errorf("%s: %q", name, c[0].After)
				}
			}
		}
		for _, kind := range []string{"mass", "length", "number", "words", "choice", "yes or no", "date", "latitude", "file", "share", "whole number"} {
			if count[kind] == 0 && !(kind == "number" && name == "turnstone") {
				t.Errorf("%s: no value is a %s: %v", name, kind, count)
			}
		}
	}
}

// A value tells what may be written there.
func TestValues(t *testing.T) {
	d := draftOf(map[string]string{"stores.csv": "what,mass,where\nrope,2 kg,\n", "boat.yaml": smallest + "units:\nwells:\n  - {name: é, offsets: 'a b', open to the sea: yes}\n"})
	want := map[string]Value{
		"weights[0].at[2]":         {File: "boat.yaml", Key: "weights[0].at[2]", Of: "all up", Line: 5, Column: 52, Width: 6, Text: "0.42 m", Kind: "length", What: "above the base line"},
		"units":                    {File: "boat.yaml", Key: "units", Line: 7, Column: 7, Kind: "choice", Choices: []string{"metric", "feet"}, What: "how answers are shown; metric if left out"},
		"wells[0].offsets":         {File: "boat.yaml", Key: "wells[0].offsets", Of: "é", Line: 9, Column: 24, Width: 5, Text: "a b", Kind: "file", What: "its table of points, full size"},
		"wells[0].open to the sea": {File: "boat.yaml", Key: "wells[0].open to the sea", Of: "é", Line: 9, Column: 48, Width: 3, Text: "yes", Kind: "yes or no", What: "no when it keeps the sea out until its rim goes under; yes if left out"},
		"rows[0].mass":             {File: "stores.csv", Key: "rows[0].mass", Of: "rope", Line: 2, Column: 6, Width: 4, Text: "2 kg", Kind: "mass", What: "of one"},
		"rows[0].where":            {File: "stores.csv", Key: "rows[0].where", Of: "rope", Line: 2, Column: 11, Kind: "words", What: "a compartment's name or number, or a point x; y; z"},
	}
	for _, file := range []string{"boat.yaml", "stores.csv"} {
		for _, v := range d.Values(file) {
			if w, ok := want[v.Key]; ok {
				if diff := cmp.Diff(w, v); diff != "" {
					t.Error(diff)
				}
				delete(want, v.Key)
			}
		}
	}
	if len(want) > 0 {
		t.Errorf("not among the values: %v", want)
	}
	if v := d.Values("README.md"); v != nil {
		t.Errorf("values of a text: %v", v)
	}
}

// The table of levers does this forty times; the aim is under 6 ms.
func BenchmarkWithRead(b *testing.B) {
	d := demo(b, "sanderling")
	b.ReportAllocs()
	for b.Loop() {
		e, faults := d.With(Edit{File: "boat.yaml", Key: "weights[3].mass", Text: "13 kg"})
		if faults != nil {
			b.Fatal(faults)
		}
		if _, faults := e.Read(); faults != nil {
			b.Fatal(faults)
		}
	}
}

// The same with the hull's readings, and with many stores.
func BenchmarkWithReadTables(b *testing.B) {
	d := demo(b, "sanderling")
	var edits []Edit
	for _, v := range d.Values("stores.csv") {
		if v.Kind == "mass" {
			edits = append(edits, Edit{File: v.File, Key: v.Key, Of: v.Of, Text: "1.5 kg"})
		}
	}
	edits = append(edits, Edit{File: "cuts.csv", Key: "rows[40].halfbreadth_mm", Text: "90"})
	b.ReportAllocs()
	for b.Loop() {
		e, faults := d.With(edits...)
		if faults != nil {
			b.Fatal(faults)
		}
		_, _ = e.Read()
	}
}
