package byhand

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/sheet"
)

// paper is a folder's text for a test that makes its own edits by the plainest of means.
type paper map[string]string

func (p paper) Text(file string) (string, bool) { s, ok := p[file]; return s, ok }

var atList = regexp.MustCompile(`at: \[([^,\]]*), ([^,\]]*), ([^,\]]*)\]`)

// before is where a paper keeps a file as it was before its edits.
const before = "before "

func (p paper) Changes() []boatfolder.Change {
	var out []boatfolder.Change
	for name, s := range p {
		was, ok := p[before+name]
		if !ok {
			continue
		}
		old := strings.Split(was, "\n")
		for i, line := range strings.Split(s, "\n") {
			if line != old[i] {
				out = append(out, boatfolder.Change{File: name, Line: i + 1, Before: old[i], After: line})
			}
		}
	}
	return out
}

// Values finds the places of weights, one to a line as the demos write them, and of stores.
func (p paper) Values(file string) []boatfolder.Value {
	var out []boatfolder.Value
	if file == "stores.csv" {
		t, _ := readTable(p, file)
		at, _ := t.column("where")
		for i := range t.rows {
			out = append(out, boatfolder.Value{File: file, Key: t.key(i, at), Text: t.cell(i, at), Line: t.rows[i].line})
		}
		return out
	}
	n := 0
	_, rest, _ := strings.Cut(p[file], "\nweights:")
	for _, line := range strings.Split(rest, "\n") {
		if !strings.HasPrefix(strings.TrimSpace(line), "- {what") {
			continue
		}
		if m := atList.FindStringSubmatch(line); m != nil {
			for k := range 3 {
				out = append(out, boatfolder.Value{File: file, Key: fmt.Sprintf("weights[%d].at[%d]", n, k), Text: m[k+1]})
			}
		}
		n++
	}
	return out
}

// edited makes edits of table cells.
func (p paper) edited(t testing.TB, edits []boatfolder.Edit) paper {
	t.Helper()
	out := paper{}
	for k, v := range p {
		out[k] = v
	}
	for _, e := range edits {
		tab, _ := readTable(out, e.File)
		done := false
		for i := range tab.rows {
			for c := range tab.header {
				if tab.key(i, c) != e.Key {
					continue
				}
				lines := strings.Split(out[e.File], "\n")
				cells := strings.Split(lines[tab.rows[i].line-1], ",")
				if cells[c] != e.Was {
					t.Fatalf("%s: was %q, the edit says %q", e.Key, cells[c], e.Was)
				}
				cells[c] = e.Text
				lines[tab.rows[i].line-1] = strings.Join(cells, ",")
				if out[before+e.File] == "" {
					out[before+e.File] = out[e.File]
				}
				out[e.File] = strings.Join(lines, "\n")
				done = true
			}
		}
		if !done {
			t.Fatalf("%s %s: no such cell", e.File, e.Key)
		}
	}
	return out
}

// folder writes a paper out and reads it.
func (p paper) folder(t testing.TB) *model.Folder {
	t.Helper()
	dir := t.TempDir()
	for name, s := range p {
		if strings.HasPrefix(name, before) {
			continue
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(s), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	f, faults := boatfolder.Read(dir)
	if faults != nil {
		t.Fatal(faults)
	}
	return f
}

func demo(t testing.TB, name string) (paper, *model.Folder) {
	t.Helper()
	dir := filepath.Join("..", "..", "demo", name)
	p := paper{}
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range files {
		b, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		p[e.Name()] = string(b)
	}
	f, faults := boatfolder.Read(dir)
	if faults != nil {
		t.Fatal(faults)
	}
	return p, f
}

var box = paper{
	"boat.yaml": `boat: Box
hull:
  offsets: offsets.csv
weights:
  - {what: all up, mass: 620 kg, at: [2 m, 0, 0.30 m +- 15 mm]}
  - {what: chain, mass: 20 kg, at: [1-6-0, -0-3-4, 0.30 m]}
water: 1000 kg/m3
`,
	"offsets.csv": `# a box
station,distance_mm,height_mm,halfbreadth_mm
0,0,0,0
0,0,0,500
0,0,0,500
0,0,600,500
1,4000,0,0
1,4000,0,500
1,4000,0,500
1,4000,600,500
`,
}

func handle(t testing.TB, v Views, name string) Handle {
	t.Helper()
	for _, h := range v.Handles {
		if strings.HasPrefix(h.Name, name) {
			return h
		}
	}
	t.Fatalf("no handle %q", name)
	return Handle{}
}

// at is a drawing's line by name at a place, by straight lines between its points.
func at(d sheet.Drawing, name string, role sheet.Role, axis int, v float64) (out []float64) {
	for _, p := range d.Paths {
		if p.Name != name || p.Role != role {
			continue
		}
		for i := 1; i < len(p.Points); i++ {
			a, b := p.Points[i-1], p.Points[i]
			lo, hi := math.Min(a[axis], b[axis]), math.Max(a[axis], b[axis])
			if v < lo-1e-9 || v > hi+1e-9 || hi == lo {
				continue
			}
			t := (v - a[axis]) / (b[axis] - a[axis])
			out = append(out, a[1-axis]+t*(b[1-axis]-a[1-axis]))
		}
	}
	return out
}

// TestViewsAgree: what one view shows of a place, the others show too. Property, tolerance 0.1 mm as
// fine as a line can be laid down on the floor.
func TestViewsAgree(t *testing.T) {
	for _, name := range []string{"sanderling", "turnstone"} {
		p, f := demo(t, name)
		c := answer.NewCase(f)
		v, err := draw(c, p, 0, "")
		if err != nil {
			t.Fatal(err)
		}
		checked := 0
		for _, st := range f.Boat.Hull.Readings.Stations {
			for _, line := range v.Plan.Paths {
				if line.Role != sheet.Other {
					continue
				}
				level := at(v.Profile, line.Name, sheet.Grid, 0, st.X)
				if len(level) != 1 {
					t.Fatalf("%s: the profile has %d strokes of %s", name, len(level), line.Name)
				}
				for _, y := range at(v.Plan, line.Name, sheet.Other, 0, st.X) {
					least := math.Inf(1)
					for _, other := range at(v.Body, "station "+st.Label, sheet.Main, 1, level[0]) {
						least = math.Min(least, math.Abs(math.Abs(other)-y))
					}
					if checked++; !(least < 1e-4) {
						t.Errorf("%s, station %s, %s: plan %.5f, the section is %.5f off", name, st.Label, line.Name, y, least)
					}
				}
			}
			for _, line := range v.Profile.Paths {
				if line.Role != sheet.Other {
					continue
				}
				out := at(v.Plan, line.Name, sheet.Grid, 0, st.X)
				for _, z := range at(v.Profile, line.Name, sheet.Other, 0, st.X) {
					least := math.Inf(1)
					for _, hand := range []float64{1, -1} {
						for _, other := range at(v.Body, "station "+st.Label, sheet.Main, 0, hand*out[0]) {
							least = math.Min(least, math.Abs(other-z))
						}
					}
					if checked++; !(least < 1e-4) {
						t.Errorf("%s, station %s, %s: profile %.5f, the section is %.5f off", name, st.Label, line.Name, z, least)
					}
				}
			}
		}
		if checked < 60 {
			t.Errorf("%s: only %d places were looked at", name, checked)
		}
	}
}

// TestHandles: every reading of both demos, and every weight put down by a point, has a handle at its place that leads
// to its line.
func TestHandles(t *testing.T) {
	for _, name := range []string{"sanderling", "turnstone"} {
		p, f := demo(t, name)
		v, err := draw(answer.NewCase(f), p, 0, "")
		if err != nil {
			t.Fatal(err)
		}
		ids := map[string]bool{}
		readings, weights := 0, 0
		for _, h := range v.Handles {
			if ids[h.ID] {
				t.Errorf("%s: two handles are called %s", name, h.ID)
			}
			ids[h.ID] = true
			if h.Line < 1 || h.Place == "" || h.Key == "" || h.Free == [3]bool{} {
				t.Errorf("%s: %+v", name, h)
			}
			switch h.Kind {
			case Reading:
				readings++
				if h.Written == "" || h.Fair == "" && !h.End {
					t.Errorf("%s: %+v", name, h)
				}
			case Weight:
				weights++
			}
		}
		r, points := f.Boat.Hull.Readings, 0
		for _, st := range r.Stations {
			points += len(st.Points)
		}
		if want := points + len(r.Stem) + len(r.Stern); readings != want {
			t.Errorf("%s: %d handles of %d readings", name, readings, want)
		}
		if weights < 20 {
			t.Errorf("%s: %d weights", name, weights)
		}
	}
}

func to(v float64) *float64 { return &v }

func BenchmarkDraw(b *testing.B) {
	p, f := demo(b, "sanderling")
	c := answer.NewCase(f)
	if _, err := c.Trip(); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := draw(c, p, 30, ""); err != nil {
			b.Fatal(err)
		}
	}
}
