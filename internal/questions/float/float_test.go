package float

import (
	"context"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/answer"
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

// box is a folder of a plain box.
func box(length, breadth, depth, mass float64, g r3.Vec) *model.Folder {
	f := &model.Folder{}
	f.Boat.Hull.Scale = 1
	for _, x := range []float64{0, length} {
		f.Boat.Hull.Readings.Stations = append(f.Boat.Hull.Readings.Stations, model.Station{X: x,
			Points: []model.Reading{{}, {Y: breadth / 2, Corner: true}, {Y: breadth / 2, Z: depth}}})
	}
	f.Boat.Weights = []model.Weight{{What: "all up", Count: 1, Mass: model.Mass{Value: units.Mass(mass), Tolerance: units.Mass(mass / 20)}, Where: model.Place{At: g, Compartment: -1}}}
	return f
}

func answered(t *testing.T, f *model.Folder) (answer.Answer, Figures) {
	t.Helper()
	a, err := Ask(context.Background(), answer.NewCase(f), answer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	fig, _ := a.Figures.(Figures)
	return a, fig
}

func TestPublishedBoxes(t *testing.T) {
	const ft, lb = 0.3048, 0.45359237
	f := box(100*ft, 30*ft, 8*ft, 500000*lb, r3.Vec{X: 50 * ft, Z: 4 * ft})
	f.Boat.Water = units.Density(62.4 * lb / (ft * ft * ft))
	_, a := answered(t, f)
	const hyd = "hydrauliclearning.com: barge 100 x 30 ft, 500 000 lb, 62.4 lb/ft³, KG 4 ft, exact"
	run(t, []check{
		{"draft, ft", a.Draft / ft, 2.670940, 1e-6, hyd},
		{"KB, ft", a.KB / ft, 1.335470, 1e-6, hyd},
		{"BM, ft", a.BM / ft, 28.08, 1e-5, hyd},
		{"GM, ft", a.GM / ft, 25.415470, 1e-5, hyd},
	})
	_, a = answered(t, box(6, 2, 0.5, 3075, r3.Vec{X: 3, Z: 0.25}))
	run(t, []check{
		{"freeboard", a.Freeboard, 0.25, 1e-9, "arithmetic: 6 x 2 x 0.25 m of sea water is 3075 kg"},
		{"to sink her a centimetre", a.Immersion, 123, 1e-6, "arithmetic: 12 m² of a centimetre"},
	})
	_, a = answered(t, box(8, 1.5, 0.9, 4920, r3.Vec{X: 4, Z: 0.45}))
	run(t, []check{{"moment to trim a centimetre", a.TrimMoment, 80.4625, 1e-5, "box 8 x 1.5 x 0.4 m, KG 0.45 m: M GML / 100 L, closed form"}})
}

// TestScaling: twice the size is eight times the weight and twice the lengths.
func TestScaling(t *testing.T) {
	_, a := answered(t, box(6, 2, 0.5, 3000, r3.Vec{X: 3.1, Y: 0.02, Z: 0.2}))
	_, b := answered(t, box(12, 4, 1, 24000, r3.Vec{X: 6.2, Y: 0.04, Z: 0.4}))
	const src = "property: geometric similarity"
	run(t, []check{{"draft", b.Draft, 2 * a.Draft, 1e-8, src}, {"trim", b.Trim, a.Trim, 1e-8, src}, {"heel", b.Heel, a.Heel, 1e-8, src}, {"GM", b.GM, 2 * a.GM, 1e-7, src}})
}

func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		name string
		f    *model.Folder
		want answer.Verdict
		says string
	}{
		{"floats", box(6, 2, 0.8, 3075, r3.Vec{X: 3, Z: 0.25}), answer.Yes, "Yes"},
		{"deep", box(6, 2, 0.3, 3075, r3.Vec{X: 3, Z: 0.15}), answer.Close, "less than the 100 mm asked for"},
		{"sinks", box(6, 2, 0.2, 3075, r3.Vec{X: 3, Z: 0.1}), answer.No, "sinks"},
		{"awash at the bow", box(6, 2, 0.5, 3075, r3.Vec{X: 2, Z: 0.2}), answer.No, "under water"},
		{"lists", box(6, 2, 0.8, 3075, r3.Vec{X: 3, Y: 0.06, Z: 0.25}), answer.Close, "to starboard"},
		{"lolls", box(6, 1, 2, 6150, r3.Vec{X: 3, Z: 1.2}), answer.No, "lies over"},
		{"trims", box(6, 2, 1.2, 3075, r3.Vec{X: 4, Z: 0.25}), answer.Close, "by the stern"},
	} {
		a, _ := answered(t, c.f)
		if a.Verdict != c.want || !strings.Contains(a.Sentence, c.says) {
			t.Errorf("%s: %s: %s", c.name, a.Verdict, a.Sentence)
		}
		if a.Margin == nil || (a.Margin.Value > 0) == (a.Verdict == answer.No) {
			t.Errorf("%s: verdict %s with margin %+v", c.name, a.Verdict, a.Margin)
		}
	}
}

// TestDoubt: the freeboard of a box is as doubtful as its weight spread over its waterplane.
func TestDoubt(t *testing.T) {
	f := box(6, 2, 0.8, 3075, r3.Vec{X: 3, Z: 0.25})
	f.Boat.Weights[0].Where.Tolerance = r3.Vec{X: 1e-9, Y: 1e-9, Z: 1e-9}
	a, _ := answered(t, f)
	run(t, []check{{"± of the freeboard", a.Margin.Spread, 3075 / 20.0 / 1025 / 12, 1e-5, "weight over density and waterplane, closed form"}})
}

func TestNoSuchDay(t *testing.T) {
	c := answer.NewCase(box(6, 2, 0.8, 3075, r3.Vec{X: 3, Z: 0.25}))
	if _, err := Ask(context.Background(), c, answer.Options{Day: 3}); err == nil {
		t.Error("day 3 of a boat without a voyage was answered")
	}
	if _, err := Ask(context.Background(), c, answer.Options{Condition: "aloft"}); err == nil {
		t.Error("a condition that there is not was answered")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Ask(ctx, answer.NewCase(box(6, 2, 0.8, 3075, r3.Vec{X: 3, Z: 0.25})), answer.Options{}); err == nil {
		t.Error("answered after being stopped")
	}
}
