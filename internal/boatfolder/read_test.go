package boatfolder

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"thole/internal/model"
	"thole/internal/units"
)

// smallest is the smallest folder of docs/boat-folder.md with the water of the
// design's.
const smallest = `boat: Test hull
hull:
  offsets: offsets.csv          # or  cuts: cuts.csv  with  scale: 8
weights:
  - {what: all up, mass: 620 kg, at: [3.10 m, 0 m, 0.42 m]}
water: 1025 kg/m3               # optional; sea water if left out
`

// box is 6 m long, 1.5 m broad and 0.8 m deep.
const box = `station,distance_mm,height_mm,halfbreadth_mm
0,0,0,0
0,0,0,750
0,0,800,750
1,6000,0,0
1,6000,0,750
1,6000,800,750
`

// memory is a folder of strings.
type memory map[string]string

func (m memory) read(name string) ([]byte, error) {
	if err := inside(name); err != nil {
		return nil, err
	}
	text, ok := m[name]
	if !ok {
		return nil, absent{refusal{"is not in the folder", ""}}
	}
	return []byte(text), tooLarge(name, []byte(text))
}

func (m memory) names() []string {
	var out []string
	for name := range m {
		out = append(out, name)
	}
	return out
}

func inMemory(files map[string]string) (*model.Folder, Faults) {
	return newReader(memory(files)).folder("memory")
}

// with gives the smallest folder with other files beside or instead.
func with(files map[string]string) memory {
	out := memory{"boat.yaml": smallest, "offsets.csv": box}
	for name, text := range files {
		out[name] = text
	}
	return out
}

func mustRead(t *testing.T, files map[string]string) *model.Folder {
	t.Helper()
	f, faults := inMemory(with(files))
	if len(faults) > 0 {
		t.Fatalf("faults:\n%v", faults)
	}
	return f
}

func onDisk(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range with(files) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestSmallest(t *testing.T) {
	f, faults := Read(onDisk(t, map[string]string{"other.yaml": ":::", "log.db": "\x00", "readme.txt": "x"}))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	b := f.Boat
	if b.Name != "Test hull" || b.Water != 1025 || len(b.Hull.Readings.Stations) != 2 || b.Hull.Scale != 1 || b.Hull.Tolerance != 0 {
		t.Errorf("read as %+v", b)
	}
	want := model.Weight{
		What: "all up", Count: 1,
		Mass:   model.Mass{Value: 620, Tolerance: 93},
		Where:  model.Place{Compartment: -1},
		Source: model.Source{File: "boat.yaml", Line: 5, Column: 5, Key: "weights[0]"},
	}
	want.Where.At.X, want.Where.At.Z = 3.1, 0.42
	if diff := cmp.Diff(want, b.Weights[0]); diff != "" {
		t.Error(diff)
	}
	if f.Voyage != nil || f.Stores != nil {
		t.Error("a voyage or stores from nothing")
	}
}

func TestStarter(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "boat")
	if err := Starter(dir); err != nil {
		t.Fatal(err)
	}
	f, faults := Read(dir)
	if len(faults) > 0 {
		t.Fatalf("faults:\n%v", faults)
	}
	if len(f.Notes) > 0 {
		t.Errorf("notes: %+v", f.Notes)
	}
	if len(f.Boat.Cabins) != 2 || len(f.Boat.Wells) != 1 || len(f.Stores) == 0 || f.Voyage == nil || len(f.Voyage.Crew[0].Places) != 3 {
		t.Errorf("read as %+v", f)
	}
	if err := Starter(dir); err == nil || !strings.Contains(err.Error(), "is not empty") {
		t.Errorf("written over: %v", err)
	}
	// Every key of the tables is explained in the starter.
	for _, p := range published {
		text, _ := starter.ReadFile("starter/" + p.name + ".yaml")
		var walk func(s shape)
		walk = func(s shape) {
			for _, k := range s.keys {
				if !strings.Contains(string(text), k.name+":") {
					t.Errorf("the starter does not show %s", k.name)
				}
				walk(k.shape)
			}
			if s.item != nil {
				walk(*s.item)
			}
		}
		walk(p.shape)
	}
}

func TestStamp(t *testing.T) {
	dir := onDisk(t, nil)
	stamp := func() string {
		s, err := Stamp(dir)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	first := stamp()
	if len(first) != 16 || stamp() != first {
		t.Errorf("stamps %q and %q of one folder", first, stamp())
	}
	os.WriteFile(filepath.Join(dir, "notes.txt"), []byte("x"), 0o600)
	if stamp() != first {
		t.Error("another file changes the stamp")
	}
	os.WriteFile(filepath.Join(dir, "offsets.csv"), []byte(box+"# x\n"), 0o600)
	if stamp() == first {
		t.Error("a changed table leaves the stamp")
	}
	if _, err := Stamp(filepath.Join(dir, "none")); err == nil {
		t.Error("a stamp of no folder")
	}
}

func TestCutsAreScaled(t *testing.T) {
	f := mustRead(t, map[string]string{
		"boat.yaml": strings.Replace(smallest, "offsets: offsets.csv", "cuts: cuts.csv\n  scale: 8", 1),
		"cuts.csv": "\ufeffknuckle; Half-Breadth (mm); height_mm; distance_mm; station\r\n" +
			"; 0; 20,5; 0; bow\r\n" +
			"; 0; 5; 400; 1\r\n" +
			"chine; 9,5; 20; 400; 1\r\n" +
			"; 9,5; 20; 400; 1\r\n" +
			"; ; 30; 400; 1\r\n" +
			"; 21,5; 55; 400; 1\r\n" +
			"; 0; 0; 10; stem\r\n; 0; 55; 0; stem\r\n",
	})
	h := f.Boat.Hull
	if !h.FromModel || h.Scale != 8 || h.Tolerance != 0.0005 || h.ToleranceGiven {
		t.Errorf("hull %+v", h)
	}
	if x := h.Readings.Stations[1].X; x != 3.2 { // 8 x 400 mm
		t.Errorf("station 1 at %v", x)
	}
	p := h.Readings.Stations[1].Points
	if len(p) != 3 || !p[1].Corner || p[1].Knuckle != "chine" || p[1].Y != 0.076 || p[1].Z != 0.16 {
		t.Errorf("points %+v", p)
	}
	if p[1].Source.Line != 4 || p[1].Source.Column != 13 {
		t.Errorf("source %+v", p[1].Source)
	}
	if len(h.Readings.Stem) != 2 || h.Readings.Stem[0].X != 0.08 {
		t.Errorf("stem %+v", h.Readings.Stem)
	}
	if len(f.Notes) != 1 || f.Notes[0].What != "station 1: a reading left out" || f.Notes[0].Where.Line != 6 {
		t.Errorf("notes %+v", f.Notes)
	}
}

// Inches and feet in the columns' names.
func TestColumnUnits(t *testing.T) {
	f := mustRead(t, map[string]string{"offsets.csv": "station,distance_ft,height_in,half breadth_cm\n" +
		"a,0,3 1/2,0\na,0,24,30\nb,10,0,0\nb,10,24,30\n"})
	s := f.Boat.Hull.Readings.Stations
	if math.Abs(s[1].X-3.048) > 1e-12 || math.Abs(s[0].Points[0].Z-0.0889) > 1e-12 || s[0].Points[1].Y != 0.3 {
		t.Errorf("stations %+v", s)
	}
}

// The classic table of docs/boat-folder.md.
func TestClassic(t *testing.T) {
	boat := strings.ReplaceAll(smallest, "at: [3.10 m", "at: [0.5 m")
	f := mustRead(t, map[string]string{"boat.yaml": boat, "offsets.csv": `measure,line,0,1,2,3
distance,,0,1-0-0,2-0-0,3-0-0
height,keel,1-0-0,0-3-2,0-1-0,0-0-4
height,chine,1-0-0,0-8-1,0-6-2,0-6-0
height,sheer,2-2-4,2-1-0,1-11-7+,1-11-0
half-breadth,chine,0,0-6-2,1-0-0,1-4-4
half-breadth,sheer,0,0-9-3,1-2-5,1-7-2
half breadth,waterline 1-0-0,,0-7-1,1-1-0,1-5-2
height,buttock 0-6-0,–,0-7-7,0-3-1,0-1-6
`})
	s := f.Boat.Hull.Readings.Stations
	if len(s) != 4 || math.Abs(s[2].X-0.6096) > 1e-12 {
		t.Fatalf("stations %+v", s)
	}
	// Station 1, in inches: keel, buttock 6, chine, waterline 12, sheer.
	want := [][2]float64{{3.25, 0}, {7.875, 6}, {8.125, 6.25}, {12, 7.125}, {25, 9.375}}
	for i, w := range want {
		p := s[1].Points[i]
		if math.Abs(p.Z-w[0]*0.0254) > 1e-12 || math.Abs(p.Y-w[1]*0.0254) > 1e-12 || p.Corner != (i == 2) {
			t.Errorf("point %d is %+v, want %v in", i, p, w)
		}
	}
	if p := s[0].Points; len(p) != 2 || p[0].Knuckle != "chine" || !p[0].Corner {
		t.Errorf("station 0: %+v", p)
	}
}

// Source: W. P. Stephens, Canoe and Boat Building (1883), cruising canoe, table
// of offsets as printed (public domain), with its two doubtful cells.
func TestPublishedTable(t *testing.T) {
	data, err := os.ReadFile("testdata/stephens-1883.csv")
	if err != nil {
		t.Fatal(err)
	}
	boat := strings.ReplaceAll(smallest, "at: [3.10 m", "at: [2.1 m")
	f := mustRead(t, map[string]string{"boat.yaml": boat, "offsets.csv": string(data)})
	s := f.Boat.Hull.Readings.Stations
	if len(s) != 15 || math.Abs(s[14].X-14*0.3048) > 1e-9 || s[7].Label != "X" {
		t.Fatalf("%d stations, the last at %v", len(s), s[len(s)-1].X)
	}
	widest := 0.0
	for _, st := range s {
		for _, p := range st.Points {
			widest = max(widest, p.Y)
		}
	}
	// The plate calls her 14 ft by 30 in; the greatest half-breadth printed is 1-2-7.
	if math.Abs(widest-14.875*0.0254) > 1e-12 {
		t.Errorf("greatest half-breadth %v m", widest)
	}
	if p := s[3].Points; len(p) != 5 || math.Abs(p[1].Y-0.5*0.0254) > 1e-12 {
		t.Errorf("the doubtful cell of station 3: %+v", p)
	}
	if len(f.Notes) == 0 {
		t.Error("nothing said of the heights that are not printed")
	}
}

func TestWholeModel(t *testing.T) {
	f := mustRead(t, map[string]string{
		"boat.yaml": strings.Replace(smallest, "weights:\n", `units: feet
deck: {camber: 2 in}
wells:
  - {name: trunk, from: 2 m, to: 2.5 m, half-breadth: 40 mm, sole: 0}
compartments:
  - {number: 203, name: port locker, from: 1.9 m, to: 2.6 m, side: port, sole: 0.10 m, top: 0.55 m, wet: yes, packing: 60%}
openings:
  - {name: lid, at: [2 m, -0.3 m, 0.8 m], size: [300 mm, 200 mm], into: 203, closed: yes}
limits: {freeboard: 250 mm, height left: 30 mm, heel: 1 deg, trim: 1.5 deg}
marks:
  - {name: bow, at: [0.4 m, 0.30 m]}
weights:
  - {what: cell, mass: 10 kg +- 1 kg, count: 2, in: 203, known: weighed, ballast: yes}
  - {what: keel, mass: 10 kg, at: [1 m +- 50 mm, 0, 0.1 m], known: calculated}
`, 1),
		"stores.csv":  "mass;what;where;used\n2,4 kg;beans;port locker;days 1-80\n1 kg;tin;\"2 m; 0 m; 0,5 m\";day 12\n3 kg +- 1 kg;bag;203;Days 2-9 into Port Locker\n",
		"voyage.yaml": "from: {name: Mindelo, at: [16.886 N, 24.988 W]}\nleave: 2027-01-12\ndays: 80 days\ncrew:\n  - name: rower\n    mass: 76 kg +- 2 kg\n    places:\n      at the oars: [3.42 m, 0 m, 0.78 m]\n      below: {in: port locker}\n      outside: none\n",
	})
	b := f.Boat
	if b.Units != units.Feet || math.Abs(float64(b.Camber)-0.0508) > 1e-12 {
		t.Errorf("boat %+v", b)
	}
	// Highest sheer 0.8 m, and 2 m above it.
	if w := b.Wells[0]; !w.OpenToTheSea || math.Abs(w.Readings.Stations[0].Points[2].Z-2.8) > 1e-12 || len(f.Notes) != 0 {
		t.Errorf("well %+v, notes %+v", w, f.Notes)
	}
	c := b.Compartments[0]
	if c.Side != model.Port || *c.Sole != 0.1 || c.Inboard != nil || !c.Wet || c.Packing != 0.6 || c.Source.Key != "compartments[0]" {
		t.Errorf("compartment %+v", c)
	}
	if o := b.Openings[0]; o.Into != "port locker" || !o.Closed || o.Width != 0.3 {
		t.Errorf("opening %+v", o)
	}
	if w := b.Weights[0]; w.Count != 2 || w.Where.Compartment != 0 || w.Mass.Tolerance != 1 || !w.Mass.Given || !w.Ballast {
		t.Errorf("weight %+v", w)
	}
	if w := b.Weights[1]; w.Where.Tolerance.X != 0.05 || math.Abs(float64(w.Mass.Tolerance)-1) > 1e-12 || w.Mass.Given {
		t.Errorf("weight %+v", w)
	}
	if l := b.Limits; *l.HeightLeft != 0.03 || math.Abs(float64(*l.Trim)-1.5*math.Pi/180) > 1e-12 {
		t.Errorf("limits %+v", l)
	}
	s := f.Stores
	if len(s) != 3 || s[0].Mass.Value != 2.4 || s[0].Use.Last != 80 || s[1].Where.At.Z != 0.5 || s[1].Use.First != 12 || s[2].Use.Into.Compartment != 0 {
		t.Errorf("stores %+v", s)
	}
	v := f.Voyage
	if v.Days != 80 || v.Leave.Format("2006-01-02") != "2027-01-12" || !v.From.Given || v.To.Given || v.From.Lon > 0 {
		t.Errorf("voyage %+v", v)
	}
	if p := v.Crew[0].Places; len(p) != 3 || p[0].Name != "at the oars" || p[1].Where.Compartment != 0 || !p[2].Where.None {
		t.Errorf("places %+v", p)
	}
}

func TestNearest(t *testing.T) {
	for _, r := range []struct{ word, want string }{
		{"halfbreath_mm", "halfbreadth_mm"}, {"hieght_mm", "height_mm"}, {"Station", "station"}, {"weather", ""},
	} {
		if got := nearest(r.word, pointsHeader); got != r.want {
			t.Errorf("nearest to %q is %q, want %q", r.word, got, r.want)
		}
	}
}

func TestFaultsAreAnError(t *testing.T) {
	_, faults := Read(filepath.Join(t.TempDir(), "none"))
	var err error = faults
	var all Faults
	if !errors.As(err, &all) || len(all) != 1 || !strings.Contains(err.Error(), "the folder is not there (name the folder that holds boat.yaml)") {
		t.Errorf("%v", err)
	}
}
