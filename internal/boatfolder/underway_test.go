package boatfolder

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/model"
	"thole/internal/units"
)

// rowed is all that can be said of the box under way.
const rowed = `rowing:
  - name: main place
    seat: [3.10 m, 0 m, 0.60 m]
    travel: 500 mm
    stretcher: {at: [3.90 m, 0 m, 0.44 m], angle: 45 deg, places: [-50 mm, 0 mm, 50 mm]}
    gates: {at: [3.56 m, 0.82 m, 0.83 m], places: [-60 mm, 60 mm], above: 10 mm}
    oars: {length: 2.95 m, inboard: 0.87 m, blade: [520 mm, 170 mm], count: 2, grip: 40 mm}
  - name: sweep
    seat: [1.20 m, 0.10 m, 0.60 m]
    gates: {at: [1.50 m, -0.80 m, 0.85 m]}
    oars: {length: 3.50 m, inboard: 1.05 m}
    oars one side: yes
rudder: {at: [6.02 m, 0 m, 0.40 m], chord: 260 mm, depth: 560 mm, below: 360 mm, turns: 45 deg, balance: 15%, raised: yes}
boards:
  - {name: dagger board, at: [2.90 m, 0 m, 0.06 m], chord: 300 mm, depth: 500 mm}
  - {name: skeg, at: [5 m, 0 m, 0 m], chord: 1.2 m, depth: 150 mm, down: no}
windage:
  - {name: stay, at: [4.60 m, 0 m, 1.90 m], size: [2 m, 1 mm, 900 mm], kind: wire}
sea anchors:
  - {name: sea anchor, kind: parachute, diameter: 2.5 m, from: bow, line: {length: 70 m, diameter: 12 mm, strength: 22 kN}, fitting: 18 kN}
  - {name: drogue, kind: series drogue, diameter: 130 mm, cones: 60, line: {length: 60 m}}
anchors:
  - {name: kedge, kind: fluke, mass: 4 kg, chain: {length: 4 m, diameter: 6 mm}, line: {length: 50 m, strength: 4000 lbf}}
limits: {clearance: 25 mm, wind: 36 km/h, sector: 60 deg}
`

const bodied = "scrape: every 14 days\nwater temperature: 79 F\ncrew:\n  - name: rower\n    mass: 76 kg\n    places: {out: none}\n" +
	"    stature: 1.78 m\n    inside leg: 0.83 m\n    body: woman\n    age: 41\n    power: 75 W +- 15 W\n    hours: 12 h\n"

// What is written is in the model, in SI. Sources of the factors: internal/units.
func TestUnderway(t *testing.T) {
	f := mustRead(t, map[string]string{"boat.yaml": smallest + rowed, "voyage.yaml": bodied})
	if len(f.Notes) > 0 {
		t.Errorf("remarks: %+v", f.Notes)
	}
	b := f.Boat
	below, clear, wind, sector := units.Length(0.36), units.Length(0.025), units.Speed(10), units.Angle(radians(60))
	same := cmp.Options{
		cmp.FilterPath(func(p cmp.Path) bool { return p.Last().Type() == sourceOf }, cmp.Ignore()),
		cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(1, math.Abs(a)) }),
	}
	for _, c := range []struct {
		name      string
		got, want any
	}{
		{"rowing", b.Rowing, []model.RowingPlace{
			{Name: "main place", Seat: r3.Vec{X: 3.1, Z: 0.6}, Travel: 0.5,
				Stretcher: &model.Stretcher{At: r3.Vec{X: 3.9, Z: 0.44}, Angle: math.Pi / 4, Places: []float64{-0.05, 0, 0.05}},
				Gates:     &model.Gates{At: r3.Vec{X: 3.56, Y: 0.82, Z: 0.83}, Places: []float64{-0.06, 0.06}, Above: 0.01},
				Oars:      &model.Oars{Length: 2.95, Inboard: 0.87, BladeLength: 0.52, BladeWidth: 0.17, Count: 2, Grip: 0.04}},
			{Name: "sweep", Seat: r3.Vec{X: 1.2, Y: 0.1, Z: 0.6}, OneSide: true,
				Gates: &model.Gates{At: r3.Vec{X: 1.5, Y: -0.8, Z: 0.85}, Places: []float64{0}}, Oars: &model.Oars{Length: 3.5, Inboard: 1.05, Count: 1}},
		}},
		{"rudder", b.Rudder, &model.Rudder{At: r3.Vec{X: 6.02, Z: 0.4}, Chord: 0.26, Depth: 0.56, Below: &below, Turns: math.Pi / 4, Balance: 0.15, Raised: true}},
		{"boards", b.Boards, []model.Board{{Name: "dagger board", At: r3.Vec{X: 2.9, Z: 0.06}, Chord: 0.3, Depth: 0.5, Down: true},
			{Name: "skeg", At: r3.Vec{X: 5}, Chord: 1.2, Depth: 0.15}}},
		{"windage", b.Windage, []model.WindPart{{Name: "stay", At: r3.Vec{X: 4.6, Z: 1.9}, Size: [3]units.Length{2, 0.001, 0.9}, Kind: model.WindWire}}},
		{"sea anchors", b.SeaAnchors, []model.SeaAnchor{
			{Name: "sea anchor", Kind: model.Parachute, Diameter: 2.5, From: model.Bow, Line: &model.Rope{Length: 70, Diameter: 0.012, Strength: 22000}, Fitting: 18000},
			{Name: "drogue", Kind: model.SeriesDrogue, Diameter: 0.13, Cones: 60, Line: &model.Rope{Length: 60}}}},
		{"anchors", b.Anchors, []model.Anchor{{Name: "kedge", Kind: model.Fluke, Mass: 4, Chain: &model.Rope{Length: 4, Diameter: 0.006},
			Line: &model.Rope{Length: 50, Strength: 4000 * 4.4482216152605}}}},
		{"limits", b.Limits, model.Limits{Clearance: &clear, Wind: &wind, Sector: &sector}},
	} {
		if diff := cmp.Diff(c.want, c.got, same); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
	v := f.Voyage
	p := v.Crew[0]
	if v.Scrape != 14 || math.Abs(float64(*v.WaterTemperature)-47/1.8) > 1e-12 || p.Stature != 1.78 || p.InsideLeg != 0.83 || p.Body != model.Woman ||
		p.Age != 41 || p.Power != (model.Power{Value: 75, Tolerance: 15, Given: true}) || p.Hours != 12*3600 {
		t.Errorf("read as %+v, %+v", v, p)
	}
	if g := b.Rowing[0].Gates.Source; g.Key != "rowing[0].gates" || g.File != boatFile || g.Line == 0 {
		t.Errorf("the gates' place in the file is %+v", g)
	}
	if got := mustRead(t, nil).Boat; got.Rowing != nil || got.Rudder != nil || got.SeaAnchors != nil || got.Limits.Wind != nil {
		t.Errorf("something from nothing: %+v", got)
	}
}

// sourceOf is left out where values are compared.
var sourceOf = reflect.TypeFor[model.Source]()

// Two folders are alike whatever line a thing stands on, and no longer so when any figure of it differs.
func TestUnderwayAlike(t *testing.T) {
	files := map[string]string{"boat.yaml": smallest + rowed, "voyage.yaml": bodied}
	was := mustRead(t, files)
	moved := mustRead(t, map[string]string{"boat.yaml": "# one line down\n" + smallest + rowed, "voyage.yaml": "# too\n" + bodied})
	if !model.Alike(was.Boat, moved.Boat) || !model.Alike(was.Voyage, moved.Voyage) {
		t.Error("a remark makes another boat")
	}
	changed := 0
	for _, c := range [][2]string{
		{"0.60 m]\n    travel", "0.61 m]\n    travel"}, {"travel: 500", "travel: 510"}, {"angle: 45", "angle: 44"}, {"-50 mm, 0 mm", "-50 mm, 1 mm"}, {"0.82 m", "0.83 m"},
		{"above: 10", "above: 11"}, {"2.95 m", "2.96 m"}, {"0.87 m", "0.88 m"}, {"[520 mm, 170", "[520 mm, 171"}, {"grip: 40", "grip: 41"}, {"below: 360", "below: 350"},
		{"raised: yes", "raised: no"}, {"balance: 15%", "balance: 14%"}, {"depth: 150 mm, down: no", "depth: 150 mm, down: yes"}, {"1 mm, 900 mm", "1 mm, 910 mm"},
		{"kind: wire", "kind: pole"}, {"diameter: 2.5", "diameter: 2.6"}, {"from: bow", "from: stern"}, {"cones: 60", "cones: 61"}, {"strength: 22 kN", "strength: 23 kN"},
		{"fitting: 18", "fitting: 19"}, {"kind: fluke", "kind: claw"}, {"mass: 4 kg", "mass: 5 kg"}, {"4000 lbf", "4001 lbf"}, {"36 km/h", "37 km/h"}, {"sector: 60", "sector: 61"},
		{"every 14", "every 15"}, {"79 F", "80 F"}, {"1.78 m", "1.79 m"}, {"0.83 m\n    body", "0.84 m\n    body"}, {"woman", "man"}, {"age: 41", "age: 42"}, {"+- 15 W", "+- 16 W"}, {"12 h", "11 h"},
	} {
		other := map[string]string{}
		for name, text := range files {
			if other[name] = strings.Replace(text, c[0], c[1], 1); other[name] != text {
				changed++
			}
		}
		now := mustRead(t, other)
		if model.Alike(was.Boat, now.Boat) && model.Alike(was.Voyage, now.Voyage) {
			t.Errorf("%q for %q makes the same boat", c[1], c[0])
		}
	}
	if changed != 34 {
		t.Errorf("%d changes were made", changed)
	}
}

// What is rare is read, with a remark; one on each of these.
func TestRareFigures(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"travel: 500", "travel: 200", `travel "200 mm" is rare`},
		{"travel: 500 mm", "travel: 500 mm +- 10 mm", `the +- of rowing[0].travel passed over`},
		{"angle: 45 deg", "angle: 70 deg", `angle "70 deg" is rare`},
		{"[3.90 m, 0 m, 0.44 m]", "[3.90 m, 0 m, 0.64 m]", `the heels of "main place" lie above the seat`},
		{"[3.90 m", "[4.60 m", `the stretcher of "main place" is 1.500 m from the seat`},
		{"3.56 m, 0.82 m, 0.83", "3.56 m, 0.70 m, 0.83", `the gate of "main place" stands 50 mm inside the deck's edge`},
		{"0.82 m, 0.83 m", "0.82 m, 0.75 m", `the gate of "main place" stands 50 mm below the deck's edge`},
		{"0.82 m, 0.83 m", "0.82 m, 1.05 m", `the gate of "main place" is 450 mm from the seat`},
		{"length: 2.95 m, inboard: 0.87 m", "length: 2.30 m, inboard: 0.76 m", `length "2.30 m" is rare`},
		{"inboard: 0.87 m", "inboard: 1.10 m", `the outboard part of an oar of "main place" is 1.7 times its inboard part`},
		{"inboard: 0.87 m", "inboard: 0.99 m", `the handles of "main place" overlap by 340 mm`},
		{"turns: 45", "turns: 60", `turns "60 deg" is rare`},
		{"diameter: 2.5 m", "diameter: 9 m", `diameter "9 m" is rare`},
		{"cones: 60", "cones: 300", `cones "300" is rare`},
		{"strength: 22 kN", "strength: 2.2 kN", `strength "2.2 kN" is rare`},
		{"wind: 36 km/h", "wind: 30 m/s", `wind "30 m/s" is rare`},
		{"power: 75 W", "power: 300 W", `power "300 W +- 15 W" is rare`},
		{"stature: 1.78 m", "stature: 1.40 m", `stature "1.40 m" is rare`},
	} {
		files := map[string]string{"boat.yaml": smallest + rowed, "voyage.yaml": bodied}
		was := files["boat.yaml"] + files["voyage.yaml"]
		for name, text := range files {
			files[name] = strings.Replace(text, c.old, c.new, 1)
		}
		if files["boat.yaml"]+files["voyage.yaml"] == was {
			t.Fatalf("%q is not there", c.old)
		}
		f := mustRead(t, files)
		if !slices.ContainsFunc(f.Notes, func(n model.Note) bool { return n.What == c.want && n.Why != "" && n.Where.Line > 0 }) {
			t.Errorf("%s: want %q in %+v", c.new, c.want, f.Notes)
		}
	}
}

// Edits and the page know the new keys by the tables of keys.
func TestUnderwayEdits(t *testing.T) {
	d := draftOf(map[string]string{"boat.yaml": smallest + rowed, "offsets.csv": box, "voyage.yaml": bodied})
	kinds := map[string]string{}
	for _, file := range []string{"boat.yaml", "voyage.yaml"} {
		for _, v := range d.Values(file) {
			kinds[v.Key] = v.Kind
		}
	}
	for key, want := range map[string]string{
		"rowing[0].gates.at[2]": "length", "rowing[0].stretcher.places[1]": "length", "sea anchors[0].line.strength": "force", "limits.wind": "speed", "windage[0].kind": "choice",
		"scrape": "days", "water temperature": "temperature", "crew[0].power": "power", "crew[0].hours": "time",
	} {
		if kinds[key] != want {
			t.Errorf("%s is %q, want %q", key, kinds[key], want)
		}
	}
	after, faults := d.With(
		Edit{File: "boat.yaml", Key: "rowing[0].gates.places[1]", Of: "main place", Was: "60 mm", Text: "70 mm"}, Edit{File: "boat.yaml", Key: "rudder.raised", Text: "no"},
		Edit{File: "boat.yaml", Key: "anchors[0].line.strength", Of: "kedge", Text: "18 kN"}, Edit{File: "voyage.yaml", Key: "scrape", Text: "every 20 days"},
		Edit{File: "boat.yaml", Key: "boards[1]", Do: Remove, Of: "skeg"},
	)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	f, faults := after.Read()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if b := f.Boat; b.Rowing[0].Gates.Places[1] != 0.07 || b.Rudder.Raised || b.Anchors[0].Line.Strength != 18000 || f.Voyage.Scrape != 20 || len(b.Boards) != 1 {
		t.Errorf("read as %+v", b)
	}
}

// In the demo boats the crew sits on the seats, the gates stand on the deck's edge or outside, and the heels can be reached. By the
// proportions of people, from memory: someone sitting has the centre of mass 0.1 to 0.35 m above the seat and up to 0.25 m forward of the hips.
func TestDemosAreRowed(t *testing.T) {
	for _, dir := range []string{"../../demo/sanderling", "../../demo/turnstone"} {
		f, faults := Read(dir)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		b := f.Boat
		if len(f.Notes) > 0 {
			t.Errorf("%s: remarks %+v", dir, f.Notes)
		}
		if len(b.Rowing) != len(f.Voyage.Crew) || b.Rudder == nil || len(b.Boards) != 1 || len(b.SeaAnchors) != 2 || len(b.Anchors) != 1 || len(b.Windage) < 4 {
			t.Fatalf("%s: %+v", dir, b)
		}
		for i, p := range b.Rowing {
			who := f.Voyage.Crew[i]
			at := slices.IndexFunc(who.Places, func(c model.CrewPlace) bool { return c.Name == "at the oars" })
			mass := who.Places[at].Where.At
			if up := mass.Z - p.Seat.Z; mass.X < p.Seat.X || mass.X > p.Seat.X+float64(p.Travel)+0.25 || up < 0.1 || up > 0.35 || mass.Y != p.Seat.Y {
				t.Errorf("%s: %s at %v does not sit on %v", dir, who.Name, mass, p.Seat)
			}
			if y, z, ok := (&reader{boat: b}).edgeAt(p.Gates.At.X); !ok || p.Gates.At.Y < y-0.001 || p.Gates.At.Z < z {
				t.Errorf("%s: the gates %v are not on the deck's edge %v %v", dir, p.Gates.At, y, z)
			}
			leg := math.Hypot(p.Stretcher.At.X-p.Seat.X, p.Stretcher.At.Z-p.Seat.Z)
			if leg > float64(who.InsideLeg)+0.01 || leg < 0.85*float64(who.InsideLeg) || who.Power.Value == 0 || who.Hours == 0 {
				t.Errorf("%s: %s's heels are %.3f m from the seat, the leg %.3f", dir, who.Name, leg, who.InsideLeg)
			}
		}
	}
}
