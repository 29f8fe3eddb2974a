package drain

import (
	"context"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/answer"
	"thole/internal/hydraulics"
	"thole/internal/hydro"
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

func box(from, to, half, low, high float64) model.Readings {
	var r model.Readings
	for _, x := range []float64{from, to} {
		r.Stations = append(r.Stations, model.Station{X: x, Points: []model.Reading{{Z: low}, {Z: low, Y: half, Corner: true}, {Z: high, Y: half}}})
	}
	return r
}

// barge is a box boat with a box well amidships, its sole at a height and its rim at the deck.
func barge(length, half, depth, mass, kg, wellLength, wellHalf, sole float64, drains ...model.Drain) *model.Folder {
	f := &model.Folder{}
	f.Boat.Hull.Scale = 1
	f.Boat.Hull.Readings = box(0, length, half, 0, depth)
	f.Boat.Wells = []model.Well{{Name: "well", OpenToTheSea: true, Drains: drains,
		Readings: box((length-wellLength)/2, (length+wellLength)/2, wellHalf, sole, depth+2)}}
	f.Boat.Weights = []model.Weight{{What: "all up", Count: 1, Mass: model.Mass{Value: units.Mass(mass), Given: true}, Where: model.Place{At: r3.Vec{X: length / 2, Z: kg}, Compartment: -1}}}
	return f
}

func tube(x, y, z, diameter float64, count int) model.Drain {
	return model.Drain{Name: "tube", At: r3.Vec{X: x, Y: y, Z: z}, Diameter: units.Length(diameter), Kind: model.Tube, Count: count, Coefficient: 0.6}
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

// TestPublishedTimes empties the same well as the worked figures: 1.08 m² by 0.40 m.
func TestPublishedTimes(t *testing.T) {
	c := answer.NewCase(barge(6, 1, 1, 2000, 0.4, 1.2, 0.45, 0.6))
	trip, err := c.Trip()
	if err != nil {
		t.Fatal(err)
	}
	p := (&ask{c: c, t: trip}).pools()[0]
	time := func(o hydraulics.Opening, sea, to float64) float64 {
		e := &emptying{pool: p}
		p.outlets = []outlet{{at: r3.Vec{X: 3, Z: 0.6}, opening: o}}
		for _, v := range []float64{p.whole, 0} {
			e.stages = append(e.stages, stage{v, hydro.Attitude{Level: sea}})
		}
		times, _, _ := e.run(context.Background(), []float64{to * p.area})
		return times[0]
	}
	full := hydraulics.Opening{Face: hydraulics.Flat, Diameter: 0.05, Coefficient: 0.6, Count: 2, Full: true}
	falling := full
	falling.Fall = 1
	weir := hydraulics.Opening{Width: 0.3, Height: 1, Coefficient: 0.6}
	const src = "t = 2 A (sqrt h1 - sqrt h2) / (Cd a sqrt 2g), closed form with g = 9.80665"
	run(t, []check{
		{"area of the sole", p.area, 1.08, 1e-9, "1.2 m by 0.9 m"},
		{"two 50 mm drains, free", time(full, -10, 0), 130.9174, 0.13, src},
		{"the same to 10 mm", time(full, -10, 0.010), 110.2175, 0.11, src},
		{"the sea 0.15 m below the sole", time(falling, 0.45, 0), 73.34404, 0.07, src + ", heads 0.55 and 0.15 m"},
		{"a slot 0.3 m wide, to 50 mm", time(weir, -10, 0.05), 11.75019, 0.01, "t = 2 A (h2^-1/2 - h1^-1/2) / (2/3 Cd b sqrt 2g), closed form"},
	})
	if v := time(weir, -10, 0); !math.IsInf(v, 1) {
		t.Errorf("over a sill the last of it takes for ever, not %g s", v)
	}
}

// TestBoxFull: a box boat with her well full, by the rule for slack tanks.
func TestBoxFull(t *testing.T) {
	const mass, kg, rho = 2000.0, 0.4, 1025.0
	a, fig := answered(t, barge(6, 1, 1, mass, kg, 2, 0.5, 0.6, tube(3, 0, 0.6, 0.05, 4)))
	water := 2 * 1 * 0.4
	volume := mass/rho + water
	draft := volume / 12
	g := (mass*kg + rho*water*0.8) / (mass + rho*water)
	gm := draft/2 + 6*8/12.0/volume - g - 2*1/12.0/volume
	const src = "box: draft by Archimedes; GM = KB + BM - KG - i/V, Barrass & Derrett, slack tanks"
	run(t, []check{
		{"water", fig.Full.Water, rho * water, 0.02, src},
		{"draft", fig.Full.Draft, draft, 1e-5, src},
		{"freeboard", fig.Full.Freeboard, 1 - draft, 1e-5, src},
		{"trim", fig.Full.Trim, 0, 1e-6, "symmetry"},
		{"GM with the well full", fig.Full.GM, gm, 1e-4, src},
		{"GM empty", fig.Full.GMDry, mass/rho/24 + 4/(mass/rho) - kg, 1e-6, src},
		{"sole above the sea, full", fig.Wells[0].SoleAboveFull, 0.6 - draft, 1e-5, src},
	})
	// heeled by 30 degrees the rim's low side keeps a prism: a triangle of half the breadth times its rise, or less
	for _, p := range fig.Arms {
		if p.Heel != 20 {
			continue
		}
		tn := math.Tan(20 * deg) // 0.36 m across the metre, less than the well is deep
		run(t, []check{{"water kept at 20 degrees", p.Water, rho * 2 * (0.4 - tn/2), 0.5, "a box tilted about its rim loses half of breadth² tan(heel)"}})
	}
	if a.Verdict != answer.Yes {
		t.Errorf("%s: %s", a.Verdict, a.Sentence)
	}
}

// TestTimeThroughAsk: a barge so large that the water does not move her.
func TestTimeThroughAsk(t *testing.T) {
	const half = 10
	_, fig := answered(t, barge(60, half, 1, 360*1025, 0.4, 1.2, 0.45, 0.6, tube(30, 0, 0.6, 0.05, 2)))
	whole := 2 * 1.08 / (0.6 * 2 * math.Pi / 4 * 0.0025 * math.Sqrt(2*hydraulics.G))
	const src = "t = 2 A (sqrt h1 - sqrt h2) / (Cd a sqrt 2g), closed form; the rim takes over below 3/8 of the bore, 18.75 mm"
	run(t, []check{
		{"half", *fig.Wells[0].Half, whole * (math.Sqrt(0.4) - math.Sqrt(0.2)), 0.05, src},
		{"clear", *fig.Wells[0].Clear, whole * (math.Sqrt(0.4) - math.Sqrt(0.02)), 0.1, src},
	})
	if fig.Wells[0].Sole != nil {
		t.Errorf("over the rim of a sole drain the last of it takes for ever, not %g s", *fig.Wells[0].Sole)
	}
}

// TestRising: as she empties she rises, and the sea outside falls with her; with the sea over the drains throughout,
// two tanks of straight sides come level.
//
// Source: closed form t = 2 A1 A2 / (A1 + A2) sqrt(dh) / (Cd a sqrt 2g), with the boat in the part of the second tank
func TestRising(t *testing.T) {
	const mass = 7810.0 // kg: a solid box of 12 m² would lie 0.635 m deep, and the sole is at 0.5
	_, fig := answered(t, barge(6, 1, 1.2, mass, 0.3, 2, 0.5, 0.5, tube(3, 0, 0.5, 0.05, 2)))
	w := fig.Wells[0]
	// the level inside less the sea's, as the volume v leaves: dh = dv/A - dv/12, A the well's 2 m²
	draftFull := (mass + w.Mass) / 1025 / 12
	head := 1.2 - draftFull
	per := 1/2.0 - 1/12.0
	a := 0.6 * 2 * math.Pi / 4 * 0.0025 * math.Sqrt(2*hydraulics.G)
	half := 2 / (a * per) * (math.Sqrt(head) - math.Sqrt(head-per*w.Volume/2))
	rest := w.Volume - head/per
	run(t, []check{
		{"half", *w.Half, half, 0.002 * half, "dt = dv / (Cd a sqrt(2 g h)), h falling straight with v; closed form"},
		{"what stays", w.Stays, rest * 1025, 2, "levels meet: head over (1/A - 1/waterplane)"},
	})
	if w.Clear != nil {
		t.Errorf("a well whose sole lies below the sea clears in %g s", *w.Clear)
	}
}

func TestSoleBelowTheSea(t *testing.T) {
	a, fig := answered(t, barge(6, 1, 1.2, 8000, 0.3, 2, 0.5, 0.5, tube(3, 0, 0.5, 0.05, 2)))
	if a.Verdict != answer.No || !strings.Contains(a.Sentence, "below the sea") || a.Margin.Value >= 0 {
		t.Errorf("%s: %s %+v", a.Verdict, a.Sentence, a.Margin)
	}
	// open to the sea: her waterplane has a hole of 2 m² and the room below the sole keeps its buoyancy
	draft := (8000/1025.0 - 2*0.5) / (12 - 2)
	run(t, []check{{"sole above the sea", fig.Wells[0].SoleAbove, 0.5 - draft, 1e-6, "lost buoyancy of a box, closed form"}})
}

func TestNoDrains(t *testing.T) {
	a, fig := answered(t, barge(6, 1, 1, 2000, 0.4, 1, 0.25, 0.6))
	if a.Verdict != answer.Close || !strings.Contains(a.Sentence, "17 bucket loads") {
		t.Errorf("%s: %s", a.Verdict, a.Sentence)
	}
	run(t, []check{
		{"bailing", fig.Wells[0].Bailing, 1 * 0.5 * 0.4 / 0.012 / 8 * 60, 0.1, "12 L a bucket, eight a minute: common practice, no source"},
		{"pumping", fig.Wells[0].Pumping, 1 * 0.5 * 0.4 / 0.010 * 60, 1, "10 L a minute to 6 m, ISO 15083 as quoted"},
	})
}

func TestDrainsTooHigh(t *testing.T) {
	a, _ := answered(t, barge(6, 1, 1, 2000, 0.4, 2, 0.5, 0.6, tube(3, 0.5, 0.7, 0.05, 4)))
	if a.Verdict != answer.No || !strings.Contains(a.Sentence, "too high") {
		t.Errorf("%s: %s", a.Verdict, a.Sentence)
	}
}

func TestUnstableFull(t *testing.T) {
	a, fig := answered(t, barge(6, 0.55, 1, 1000, 0.3, 4, 0.45, 0.6, tube(3, 0, 0.6, 0.05, 4)))
	if a.Verdict != answer.No || !strings.Contains(a.Sentence, "not stable upright") || fig.Full.Stable || !(a.Margin.Value < 0) {
		t.Errorf("%s: %s %+v", a.Verdict, a.Sentence, fig.Full)
	}
}

// TestSwamped: full to the brim she lies so deep that the sea comes over it.
func TestSwamped(t *testing.T) {
	f := barge(6, 1, 1, 12*0.48*1025, 0.3, 2, 0.5, 0.3, tube(3, 0, 0.3, 0.05, 4))
	f.Boat.Wells[0].Readings = box(2, 4, 0.5, 0.3, 0.5)
	a, fig := answered(t, f)
	// closed and full she would lie (12 x 0.48 + 0.4) / 12 = 0.513 m deep, her rim at 0.5
	if a.Verdict != answer.No || !strings.Contains(a.Sentence, "over the rim") || !fig.Full.Swamped {
		t.Errorf("%s: %s", a.Verdict, a.Sentence)
	}
	run(t, []check{{"draft", fig.Full.Draft, (12*0.48 - 2*0.3 + 2*0.5) / 12, 2e-3, "lost buoyancy of a box: the sea stands in 2 m² from 0.3 to the rim at 0.5 m, and her whole waterplane carries her above it"}})
}

func TestNoWell(t *testing.T) {
	f := barge(6, 1, 1, 2000, 0.4, 2, 0.5, 0.6)
	f.Boat.Wells = nil
	a, err := Ask(context.Background(), answer.NewCase(f), answer.Options{})
	if err != nil || a.Verdict != answer.Yes || !strings.Contains(a.Sentence, "no well") {
		t.Errorf("%v %s", err, a.Sentence)
	}
}

// TestOverlapping: a footwell in the sole of a well is one with it; what lies in it below its drain stays.
func TestOverlapping(t *testing.T) {
	f := barge(6, 1, 1, 2000, 0.4, 2, 0.5, 0.6, tube(2.2, 0, 0.6, 0.05, 4))
	f.Boat.Wells = append(f.Boat.Wells, model.Well{Name: "footwell", OpenToTheSea: true, Readings: box(3, 3.5, 0.2, 0.4, 3)})
	_, fig := answered(t, f)
	if len(fig.Wells) != 1 || fig.Wells[0].Name != "well" {
		t.Fatalf("%+v", fig.Wells)
	}
	trim := math.Abs(fig.Full.Trim)
	run(t, []check{
		{"volume", fig.Wells[0].Volume, 2*1*0.4 + 0.5*0.4*0.2, 0.002 + 2*trim*deg, "sum of two boxes; a little less with the trim that the footwell gives"},
		{"what stays", fig.Wells[0].Stays, 1025 * 0.5 * 0.4 * 0.2, 12, "the footwell's box, and what little the trim holds back"},
	})
}
