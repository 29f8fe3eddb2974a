package boatfolder

import (
	"math"
	"os"
	"strings"
	"testing"

	"thole/internal/model"
)

// seed adds the file of the starter and of each bad folder.
func seed(f *testing.F, name string, others ...string) {
	data, err := starter.ReadFile("starter/" + name)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(data))
	for _, text := range others {
		f.Add(text)
	}
	for _, c := range bad {
		if text, ok := c.files[name]; ok {
			f.Add(text)
		}
	}
}

// readWhole reads a folder made of the starter and one file more, and checks that
// faults or a sane model come back.
func readWhole(t *testing.T, name, text string) {
	files := memory{}
	for _, file := range []string{"boat.yaml", "offsets.csv", "fore-cabin.csv", "aft-cabin.csv", "stores.csv", "voyage.yaml", "needs.yaml", "trials.yaml", "whatif.yaml"} {
		data, err := starter.ReadFile("starter/" + file)
		if err != nil {
			t.Fatal(err)
		}
		files[file] = string(data)
	}
	files[name] = text
	f, faults := inMemory(files)
	if (f == nil) != (len(faults) > 0) {
		t.Fatalf("a folder %v and %d faults", f, len(faults))
	}
	for _, fault := range faults {
		lines := strings.Split(strings.ReplaceAll(strings.ReplaceAll(files[fault.File], "\r\n", "\n"), "\r", "\n"), "\n")
		if fault.Say == "" || fault.Mend == "" || fault.Line > len(lines)+1 || fault.Line > 0 && fault.Column < 1 {
			t.Fatalf("poor fault %+v", fault)
		}
	}
	if f != nil {
		sane(t, f)
		saneUnderway(t, f)
		saneTrials(t, f)
		sanePassage(t, f)
	}
}

func sane(t *testing.T, f *model.Folder) {
	finite := func(what string, all ...float64) {
		for _, v := range all {
			if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e12 {
				t.Fatalf("%s is %v", what, v)
			}
		}
	}
	place := func(p model.Place) {
		finite("a place", p.At.X, p.At.Y, p.At.Z, p.Tolerance.X, p.Tolerance.Y, p.Tolerance.Z)
		if p.Compartment < -1 || p.Compartment >= len(f.Boat.Compartments) {
			t.Fatalf("a place in compartment %d", p.Compartment)
		}
	}
	mass := func(m model.Mass) {
		finite("a mass", float64(m.Value), float64(m.Tolerance))
		if m.Value <= 0 || m.Tolerance < 0 {
			t.Fatalf("mass %+v", m)
		}
	}
	solid := func(r model.Readings) {
		if len(r.Stations) < 2 {
			t.Fatalf("%d stations", len(r.Stations))
		}
		for i, s := range r.Stations {
			finite("a station", s.X)
			if len(s.Points) == 0 || i > 0 && s.X <= r.Stations[i-1].X {
				t.Fatalf("station %+v", s)
			}
			for _, p := range s.Points {
				finite("a point", p.Y, p.Z)
				if p.Y < 0 {
					t.Fatalf("half-breadth %v", p.Y)
				}
			}
		}
	}
	b := f.Boat
	if b.Name == "" || b.Hull.Scale <= 0 || b.Hull.Tolerance < 0 {
		t.Fatalf("boat %+v", b)
	}
	solid(b.Hull.Readings)
	for _, c := range b.Cabins {
		solid(c.Readings)
	}
	for _, w := range b.Wells {
		solid(w.Readings)
		for _, d := range w.Drains {
			if finite("a drain", d.At.X, d.At.Y, d.At.Z, float64(d.Fall)); d.Count < 1 || d.Kind == "" || !(d.Diameter > 0 || d.Width > 0 && d.Height > 0) || d.Coefficient < 0 || d.Coefficient > 1 {
				t.Fatalf("drain %+v", d)
			}
		}
	}
	for _, c := range b.Compartments {
		if c.Name == "" || c.From >= c.To || c.Packing < 0 || c.Packing > 1 {
			t.Fatalf("compartment %+v", c)
		}
	}
	for _, w := range b.Weights {
		mass(w.Mass)
		place(w.Where)
		if w.Count < 1 || w.What == "" || w.Source.Line < 1 {
			t.Fatalf("weight %+v", w)
		}
	}
	for _, s := range f.Stores {
		finite("food and water", float64(s.Energy), float64(s.Soaks), float64(s.Drink))
		if s.Energy < 0 || s.Soaks < 0 || float64(s.Drink)*1000 > 1.06*float64(s.Mass.Value) {
			t.Fatalf("store %+v", s)
		}
		mass(s.Mass)
		place(s.Where)
		if s.Count < 1 || s.Use.First > s.Use.Last || s.Use.First < 0 {
			t.Fatalf("store %+v", s)
		}
		if s.Use.Into != nil {
			place(*s.Use.Into)
		}
	}
	if v := f.Voyage; v != nil {
		for _, p := range v.Crew {
			mass(p.Mass)
			for _, c := range p.Places {
				place(c.Where)
			}
		}
		finite("a waypoint", float64(v.From.Lat), float64(v.To.Lon))
		if math.Abs(float64(v.From.Lat)) > math.Pi/2 || v.Days < 0 {
			t.Fatalf("voyage %+v", v)
		}
	}
}

// saneUnderway checks what she is rowed, steered and held with: no length, strength or power is below nothing, and
// a rowing place can be rowed from.
func saneUnderway(t *testing.T, f *model.Folder) {
	positive := func(what string, all ...float64) {
		for _, v := range all {
			if !(v >= 0 && v < 1e7) {
				t.Fatalf("%s is %v", what, v)
			}
		}
	}
	b := f.Boat
	for _, p := range b.Rowing {
		positive("a travel", float64(p.Travel))
		if s := p.Stretcher; s != nil && (s.At.X <= p.Seat.X || len(s.Places) == 0 || s.Angle < 0) {
			t.Fatalf("stretcher %+v of %+v", s, p)
		}
		if g := p.Gates; g != nil && (g.At.X <= p.Seat.X || g.At.Z <= p.Seat.Z || g.At.Y == 0 || len(g.Places) == 0 || p.Stretcher != nil && g.At.X >= p.Stretcher.At.X) {
			t.Fatalf("gates %+v of %+v", g, p)
		}
		if o := p.Oars; o != nil {
			positive("an oar", float64(o.Inboard), float64(o.Length-o.Inboard-o.BladeLength), float64(o.BladeWidth), float64(o.Grip), float64(o.Count-1))
		}
	}
	if r := b.Rudder; r != nil {
		positive("a rudder", float64(r.Chord), float64(r.Depth), float64(r.Turns), r.Balance)
		if r.Chord == 0 || r.Depth == 0 || r.Below != nil && (*r.Below < 0 || *r.Below > r.Depth) {
			t.Fatalf("rudder %+v", r)
		}
	}
	for _, x := range b.Boards {
		positive("a board", float64(x.Chord), float64(x.Depth))
	}
	for _, w := range b.Windage {
		if w.Size[0] <= 0 || w.Size[1] <= 0 || w.Size[2] <= 0 {
			t.Fatalf("windage %+v", w)
		}
	}
	rope := func(l *model.Rope) {
		if l != nil && (l.Length <= 0 || l.Diameter < 0 || l.Strength < 0) {
			t.Fatalf("rope %+v", l)
		}
	}
	for _, a := range b.SeaAnchors {
		rope(a.Line)
		if a.Kind == "" || a.Diameter <= 0 || a.Fitting < 0 || (a.Kind == model.SeriesDrogue) != (a.Cones > 0) {
			t.Fatalf("sea anchor %+v", a)
		}
	}
	for _, a := range b.Anchors {
		rope(a.Chain)
		rope(a.Line)
		if a.Kind == "" || a.Mass <= 0 {
			t.Fatalf("anchor %+v", a)
		}
	}
	if f.Voyage != nil {
		for _, p := range f.Voyage.Crew {
			positive("a person", float64(p.Stature), float64(p.InsideLeg), float64(p.Age), float64(p.Power.Value), float64(p.Power.Tolerance), float64(p.Hours))
		}
	}
}

// sanePassage checks what the crossing is made with: shares are of a whole, watches come one after the other within a day.
func sanePassage(t *testing.T, f *model.Folder) {
	for _, m := range f.Boat.Makers {
		if !(m.AnHour > 0) || m.Spread < 0 || m.Spread >= m.AnHour || m.Hours < 0 || m.Hours > 24*3600 || m.Hand && m.Draws > 0 || m.Until > 0 && m.From >= m.Until {
			t.Fatalf("water maker %+v", m)
		}
	}
	v := f.Voyage
	if v == nil {
		return
	}
	last := 0.0
	for _, w := range v.Habits.Watches {
		if w.From < last || w.To <= w.From || w.To > 24 {
			t.Fatalf("watches %+v", v.Habits.Watches)
		}
		last = w.To
	}
	for _, s := range []*float64{v.Habits.Breaks, v.Habits.Lost, v.Rules.In, v.Diet.Fat, v.Diet.Protein} {
		if s != nil && !(*s >= 0 && *s <= 1) {
			t.Fatalf("a share of %v", *s)
		}
	}
	if r := v.Rules; r.Stop < 0 || r.Against < 0 || r.Stop > 0 && r.Against > r.Stop || r.Ahead < 0 || float64(r.Ahead) > math.Pi+1e-9 {
		t.Fatalf("rules %+v", r)
	}
	if w := v.Weather; w.East < 0 || w.North < 0 || w.Reach < 0 || w.Year < 0 || w.Season < 0 || w.CurrentDoubt < 0 || w.Spread != nil && !(*w.Spread >= 0 && *w.Spread <= 10) {
		t.Fatalf("weather %+v", w)
	}
	for _, p := range v.Crew {
		if p.Fat.Value < 0 || p.Fat.Value > 1 || p.Eats.Value < 0 || p.Eats.Value > 1 || p.Seasick != nil && *p.Seasick < 0 {
			t.Fatalf("person %+v", p)
		}
	}
}

// saneTrials checks the numbers of trials.yaml.
func saneTrials(t *testing.T, f *model.Folder) {
	if f.Trials == nil {
		return
	}
	finite := func(all ...float64) {
		for _, v := range all {
			if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e12 {
				t.Fatalf("a trial has %v", v)
			}
		}
	}
	trial := func(x model.Trial) {
		if x.Date.IsZero() || x.Day < 0 || x.Day > f.LastDay() || x.Source.Line < 1 {
			t.Fatalf("trial %+v", x)
		}
	}
	for _, x := range f.Trials.Floated {
		trial(x.Trial)
		for _, b := range x.Freeboards {
			finite(b.X, b.Height, b.Tolerance)
		}
	}
	for _, x := range f.Trials.Inclined {
		trial(x.Trial)
		for _, m := range x.Moves {
			finite(float64(m.Mass.Value), m.Across, m.Pendulum, m.Deflection, m.Angle, m.Tolerance)
			if m.Mass.Value <= 0 || m.Across == 0 || m.Pendulum < 0 {
				t.Fatalf("move %+v", m)
			}
		}
	}
	for _, x := range f.Trials.Rolled {
		trial(x.Trial)
		if finite(x.Seconds); x.Rolls < 1 || x.Seconds <= 0 {
			t.Fatalf("rolls %+v", x)
		}
	}
	for _, x := range f.Trials.Turned {
		trial(x.Trial)
	}
}

func FuzzBoat(f *testing.F) {
	seed(f, "boat.yaml", smallest, smallest+rowed, withJugs+makers)
	f.Fuzz(func(t *testing.T, text string) { readWhole(t, "boat.yaml", text) })
}

func FuzzPoints(f *testing.F) {
	seed(f, "offsets.csv", box)
	f.Fuzz(func(t *testing.T, text string) { readWhole(t, "offsets.csv", text) })
}

func FuzzClassic(f *testing.F) {
	data, err := os.ReadFile("testdata/stephens-1883.csv")
	if err != nil {
		f.Fatal(err)
	}
	_, table, _ := strings.Cut(string(data), "measure,line,")
	f.Add(table)
	f.Add("0,1\ndistance,,0,10-0-0\nheight,keel,0,0\nheight,sheer,2-0-0,2-0-0\nhalf-breadth,sheer,1-0-0,1-0-0\nheight,buttock 0-6-0,0-1-0,-\n")
	f.Fuzz(func(t *testing.T, text string) { readWhole(t, "offsets.csv", "measure,line,"+text) })
}

func FuzzStores(f *testing.F) {
	seed(f, "stores.csv", fedTable)
	f.Fuzz(func(t *testing.T, text string) { readWhole(t, "stores.csv", text) })
}

func FuzzVoyage(f *testing.F) {
	seed(f, "voyage.yaml", bodied, crossed)
	f.Fuzz(func(t *testing.T, text string) { readWhole(t, "voyage.yaml", text) })
}

func FuzzTrials(f *testing.F) {
	seed(f, "trials.yaml", allTrials)
	f.Fuzz(func(t *testing.T, text string) { readWhole(t, "trials.yaml", text) })
}

func FuzzWhatif(f *testing.F) {
	seed(f, "whatif.yaml", levers)
	f.Fuzz(func(t *testing.T, text string) { readWhole(t, "whatif.yaml", text) })
}
