package flood

import (
	"context"
	"math"
	"slices"
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

const sea = 1025.0

// box is a folder of a plain box that floats at a draft, with compartments.
func box(length, breadth, depth, draft, kg float64, rooms ...model.Compartment) *model.Folder {
	f := &model.Folder{}
	f.Boat.Name, f.Boat.Hull.Scale = "Box", 1
	for _, x := range []float64{0, length} {
		f.Boat.Hull.Readings.Stations = append(f.Boat.Hull.Readings.Stations, model.Station{X: x,
			Points: []model.Reading{{}, {Y: breadth / 2, Corner: true}, {Y: breadth / 2, Z: depth}}})
	}
	mass := length * breadth * draft * sea
	f.Boat.Weights = []model.Weight{{What: "all up", Count: 1, Mass: model.Mass{Value: units.Mass(mass), Tolerance: units.Mass(mass / 50)},
		Where: model.Place{At: r3.Vec{X: length / 2, Z: kg}, Compartment: -1, Tolerance: r3.Vec{X: 1e-9, Y: 1e-9, Z: 1e-9}}}}
	f.Boat.Compartments = rooms
	return f
}

func space(name string, from, to float64) model.Compartment {
	return model.Compartment{Name: name, From: from, To: to}
}

func answered(t *testing.T, f *model.Folder) (answer.Answer, Figures) {
	t.Helper()
	a, err := Ask(context.Background(), answer.NewCase(f), answer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	fig, ok := a.Figures.(Figures)
	if !ok {
		t.Fatalf("figures are %T: %s", a.Figures, a.Sentence)
	}
	return a, fig
}

// single is the loss of a compartment by name.
func (f Figures) single(name string) Loss {
	for _, l := range f.Singles {
		if l.Holed[0] == name {
			return l
		}
	}
	return Loss{Draft: math.NaN()}
}

// Boxes holed amidships, some with stores that keep water out.
func TestAmidships(t *testing.T) {
	const src = "bilged boxes, as in Barrass & Derrett, Bilging: draft = intact volume over the area left, closed form"
	for _, c := range []struct{ length, breadth, draft, room, share, want float64 }{
		{60, 8, 4, 12, 1, 5}, {60, 8, 4, 12, 0.85, 4.819277}, {60, 10, 4, 12, 0.6, 4.545455}, {30, 8, 3, 6, 0.75, 3.529412},
	} {
		mid := c.length / 2
		f := box(c.length, c.breadth, 10, c.draft, 2, space("hold", mid-c.room/2, mid+c.room/2))
		if c.share < 1 {
			packed := units.Mass((1 - c.share) * c.room * c.breadth * 10 * goods)
			f.Boat.Weights[0].Mass.Value -= packed
			f.Stores = []model.Store{{What: "cargo", Count: 1, Mass: model.Mass{Value: packed}, Where: model.Place{Compartment: 0}}}
		}
		_, fig := answered(t, f)
		l := fig.single("hold")
		run(t, []check{{"draft", l.Draft, c.want, 1e-6, src}, {"share", l.Permeability, c.share, 1e-9, "arithmetic"},
			{"the two methods apart", l.Disagree, 0, 1e-6, "property: lost buoyancy and added weight are one body, Barrass & Derrett, Bilging"}})
	}
	_, fig := answered(t, box(40, 6, 4, 2, 1.9, space("hold", 15, 25)))
	l := fig.single("hold")
	run(t, []check{{"draft", l.Draft, 2.666667, 1e-6, "Barrass & Derrett, exercise: box 40 x 6 m, 10 m bilged amidships"},
		{"GM", l.GM, 0.558333, 1e-6, "Barrass & Derrett, exercise: KB 1.333333, BM 1.125, KG 1.9"},
		{"freeboard", l.Freeboard, 4 - 2.666667, 1e-6, "arithmetic"}})
}

// tilt is the slope of the water against a box's bottom when a strip of width w, its middle off by m from
// the weight, floats at a mean depth a with the weight g up: the upright of the buoyancy passes through the weight.
func tilt(w, m, a, g float64) float64 {
	lo, hi := -1.0, 1.0
	for range 80 {
		t := (lo + hi) / 2
		if off := m + t*w*w/12/a + t*((a*a+t*t*w*w/12)/(2*a)-g); off < 0 {
			lo = t
		} else {
			hi = t
		}
	}
	return lo
}

// A box holed at its end, and one holed along its side.
func TestEndAndSide(t *testing.T) {
	const src = "trapezoid of displaced water, its centroid square below the weight: closed form"
	const same = "property: lost buoyancy and added weight are one body, Barrass & Derrett, Bilging"
	_, fig := answered(t, box(60, 8, 10, 4, 3, space("bow", 0, 6)))
	l := fig.single("bow")
	run(t, []check{{"trim", math.Tan(l.Trim * deg), tilt(54, 3, 60*4/54.0, 3), 1e-7, src}, {"heel", l.Heel, 0, 1e-4, "property: symmetry; the weight stands a hair off"},
		{"apart", l.Disagree, 0, 1e-6, same}})
	inboard := 3.0
	_, fig = answered(t, box(60, 8, 10, 4, 2.5, model.Compartment{Name: "side", From: 0, To: 60, Side: model.Starboard, Inboard: &inboard}))
	l = fig.single("side")
	run(t, []check{{"heel", math.Tan(l.Heel * deg), tilt(7, -0.5, 8*4/7.0, 2.5), 1e-7, src}, {"apart", l.Disagree, 0, 1e-6, same}})
	if l.Heel <= 0 {
		t.Errorf("holed to starboard she lists %g", l.Heel)
	}
}

// Equal compartments on both sides, holed together, give no list; alone they list her alike.
func TestPairs(t *testing.T) {
	in := 1.0
	f := box(20, 4, 3, 1, 0.8, model.Compartment{Name: "port", From: 4, To: 9, Side: model.Port, Inboard: &in},
		model.Compartment{Name: "starboard", From: 4, To: 9, Side: model.Starboard, Inboard: &in}, space("aft", 15, 20))
	_, fig := answered(t, f)
	const src = "property: symmetry"
	run(t, []check{{"alone", fig.single("port").Heel, -fig.single("starboard").Heel, 1e-4, src}})
	for _, p := range fig.Pairs {
		if slices.Equal(p.Holed, []string{"port", "starboard"}) {
			run(t, []check{{"together", p.Heel, 0, 1e-4, src}})
		}
	}
	if len(fig.Pairs) != 3 || fig.single("port").Heel > -0.1 {
		t.Errorf("%d pairs of three; port alone lists %g", len(fig.Pairs), fig.single("port").Heel)
	}
}

// The demo boat, worked by both methods in every compartment.
func TestDemoBothWays(t *testing.T) {
	f, faults := boatfolder.Read("../../../demo/sanderling")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	a, fig := answered(t, f)
	for _, l := range fig.Singles {
		run(t, []check{{"apart with " + l.Holed[0], l.Disagree, 0, 1e-6, "property: lost buoyancy and added weight are one body, Barrass & Derrett, Bilging"}})
		for _, o := range fig.Singles {
			if o.Score < fig.Singles[0].Score {
				t.Errorf("%s is not the worst", fig.Singles[0].Holed)
			}
		}
	}
	for _, p := range fig.Pairs {
		for _, name := range p.Holed {
			if alone := fig.single(name); p.Score > alone.Score+0.2 {
				t.Errorf("%v is better than %s alone: %g, %g", p.Holed, name, p.Score, alone.Score)
			}
		}
	}
	if len(fig.Pairs) != len(f.Boat.Compartments)*(len(f.Boat.Compartments)-1)/2 || len(a.Sheet.Blocks) < 7 {
		t.Errorf("%d pairs, %d blocks", len(fig.Pairs), len(a.Sheet.Blocks))
	}
}

// A hatch that stands open and goes under lets the sea on; what follows is what holing both gives.
func TestHatch(t *testing.T) {
	f := box(20, 4, 3, 1, 0.7, space("bow", 0, 2), space("next", 2, 4))
	f.Boat.Openings = []model.Opening{{Name: "hatch", At: r3.Vec{X: 2.2, Z: 1.15}, Width: 0.4, Height: 0.4, Into: "next"}}
	_, open := answered(t, f)
	f.Boat.Openings[0].Closed = true
	_, shut := answered(t, f)
	l := open.single("bow")
	if !slices.Equal(l.AlsoFlooded, []string{"next"}) {
		t.Fatalf("also floods %v", l.AlsoFlooded)
	}
	if l.Outcome != shut.Pairs[0].Outcome || math.Abs(l.Draft-shut.Pairs[0].Draft) > 1e-6 {
		t.Errorf("through the hatch %+v; both holed %+v", l, shut.Pairs[0])
	}
	if s := shut.single("bow"); len(s.AlsoFlooded) != 0 || s.Freeboard <= l.Freeboard || s.NearestOver >= 0 {
		t.Errorf("with the hatch shut %+v", s)
	}
	h := shut.Hatches[0]
	if h.Least >= 0 || h.Holed != "bow" || h.Outcome != shut.Pairs[0].Outcome {
		t.Errorf("the hatch: %+v", h)
	}
	run(t, []check{{"above the water, dry", h.Above, 0.15, 1e-6, "arithmetic: 1.15 m up, draft 1 m"},
		{"goes under at", goesUnderBox(t), math.Atan(0.5 / 1.5), 0.02, "wall-sided box: the point 1.5 m out and 0.5 m up, closed form; straight between 5 degrees"}})
}

// A bin under a cabin floods with it, and the cabin with the bin, once the water stands over the sole between them, unless the bin has a
// lid that is shut. What follows is what holing both gives.
//
// Source: the same boat with a lid, holed twice; a lid above the sea lets nothing through
func TestUnderCabin(t *testing.T) {
	made := func(sole float64, lid *model.Opening) Figures {
		f := box(20, 4, 3, 1, 0.7)
		den := model.Cabin{Name: "den"}
		for _, x := range []float64{14, 16} {
			den.Readings.Stations = append(den.Readings.Stations, model.Station{X: x,
				Points: []model.Reading{{Z: 2.9}, {Y: 1, Z: 2.9, Corner: true}, {Y: 1, Z: 4, Corner: true}, {Z: 4}}})
		}
		f.Boat.Cabins = []model.Cabin{den}
		f.Boat.Compartments = []model.Compartment{{Name: "den", Cabin: "den", From: 14, To: 16, Sole: &sole}, {Name: "bin", From: 14, To: 16, Top: &sole}, space("bow", 0, 2)}
		if lid != nil {
			f.Boat.Openings = []model.Opening{*lid}
		}
		_, fig := answered(t, f)
		return fig
	}
	lid := model.Opening{Name: "lid", At: r3.Vec{X: 15, Z: 0.9}, Width: 0.3, Height: 0.3, Into: "bin", Closed: true}
	open, shut, high := made(0.9, nil), made(0.9, &lid), made(2.5, nil)
	for _, other := range [][2]string{{"bin", "den"}, {"den", "bin"}} {
		l := open.single(other[0])
		if !slices.Equal(l.AlsoFlooded, other[1:]) {
			t.Errorf("with %s holed there floods too %v", other[0], l.AlsoFlooded)
		}
		for _, p := range shut.Pairs {
			if slices.Contains(p.Holed, "bin") && slices.Contains(p.Holed, "den") && math.Abs(p.Draft-l.Draft) > 1e-6 {
				t.Errorf("%s: draft %v, both holed %v", other[0], l.Draft, p.Draft)
			}
		}
		for name, fig := range map[string]Figures{"with a lid": shut, "above the sea": high} {
			if s := fig.single(other[0]); len(s.AlsoFlooded) > 0 || !(s.Draft < l.Draft-1e-3) && name == "with a lid" {
				t.Errorf("%s: %+v", name, s)
			}
		}
	}
	lid.Closed = false
	if l := made(0.9, &lid).single("den"); !slices.Equal(l.AlsoFlooded, []string{"bin"}) {
		t.Errorf("with the lid open: %+v", l)
	}
}

func goesUnderBox(t *testing.T) float64 {
	f := box(20, 4, 3, 1, 0.5, space("bow", 0, 1))
	f.Boat.Openings = []model.Opening{{Name: "vent", At: r3.Vec{X: 10, Y: 1.5, Z: 1.5}, Width: 0.1, Height: 0.1, Closed: true}}
	_, fig := answered(t, f)
	return fig.Hatches[0].Under * deg
}

func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		name string
		f    *model.Folder
		want answer.Verdict
		says string
	}{
		{"sinks", box(20, 4, 1.5, 1, 0.5, space("hold", 5, 15)), answer.No, "she sinks"},
		{"deck under", box(20, 4, 1.3, 1, 0.5, space("bow", 0, 2)), answer.No, "under water"},
		{"over", box(20, 4, 4, 1, 1.6, model.Compartment{Name: "side", From: 0, To: 20, Side: model.Port}), answer.No, "to port"},
		{"stays over", box(20, 4, 1.8, 1, 0.9, space("bow", 0, 1)), answer.Close, "not come back up"},
		{"deep without", box(20, 4, 0.9, 1, 0.5, space("bow", 0, 1)), answer.No, "nothing holed"},
	} {
		a, err := Ask(context.Background(), answer.NewCase(c.f), answer.Options{})
		if err != nil || a.Verdict != c.want || !strings.Contains(a.Sentence, c.says) {
			t.Errorf("%s: %v %s: %s", c.name, err, a.Verdict, a.Sentence)
			continue
		}
		if (a.Margin.Value > 0) == (a.Verdict == answer.No) {
			t.Errorf("%s: verdict %s with margin %+v", c.name, a.Verdict, a.Margin)
		}
	}
	// A round log with its weight low rights whatever is open to the sea in its middle.
	f := box(20, 1, 1, 0.4, 0.1, space("bow", 0, 0.2))
	for i := range f.Boat.Hull.Readings.Stations {
		st := &f.Boat.Hull.Readings.Stations[i]
		st.Points = nil
		for k := range 25 {
			s, c := math.Sincos(math.Pi * float64(k) / 24)
			st.Points = append(st.Points, model.Reading{Y: 0.5 * s, Z: 0.5 - 0.5*c})
		}
	}
	if a, _ := answered(t, f); a.Verdict == answer.No || strings.Contains(a.Sentence, "not come back") {
		t.Errorf("a log: %s", a.Sentence)
	}
}

// The freeboard with a compartment gone is as doubtful as her weight spread over what is left of her waterplane.
func TestDoubt(t *testing.T) {
	a, _ := answered(t, box(20, 4, 3, 1, 0.5, space("hold", 8, 12)))
	run(t, []check{{"spread", a.Margin.Spread, 1.0 / 50 * 20 / 16, 1e-5, "weight over density and the area left, closed form"},
		{"margin", a.Margin.Value, 3 - 20.0/16, 1e-6, "arithmetic"}})
}

func TestNoCompartments(t *testing.T) {
	a, err := Ask(context.Background(), answer.NewCase(box(20, 4, 3, 1, 0.5)), answer.Options{})
	if err != nil || a.Verdict != answer.CannotTell || len(a.Needs) != 1 || a.Needs[0].Key != "compartments" {
		t.Errorf("%v %+v", err, a)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Ask(ctx, answer.NewCase(box(20, 4, 3, 1, 0.5, space("bow", 0, 1))), answer.Options{}); err == nil {
		t.Error("answered after being stopped")
	}
}

// BenchmarkDemo asks one demo boat, its shape built beforehand.
func BenchmarkDemo(b *testing.B) {
	f, _ := boatfolder.Read("../../../demo/sanderling")
	c := answer.NewCase(f)
	for b.Loop() {
		if _, err := Ask(context.Background(), c, answer.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
