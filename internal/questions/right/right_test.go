package right

import (
	"context"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/answer"
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

// prism is a folder of a body of one outline, its points from keel up.
func prism(length float64, outline [][2]float64, mass float64, g r3.Vec) *model.Folder {
	f := &model.Folder{}
	f.Boat.Hull.Scale = 1
	for _, x := range []float64{0, length} {
		st := model.Station{X: x}
		for i, p := range outline {
			st.Points = append(st.Points, model.Reading{Y: p[0], Z: p[1], Corner: i > 0 && i < len(outline)-1})
		}
		f.Boat.Hull.Readings.Stations = append(f.Boat.Hull.Readings.Stations, st)
	}
	f.Boat.Weights = []model.Weight{{What: "all up", Count: 1, Mass: model.Mass{Value: units.Mass(mass)}, Where: model.Place{At: g, Compartment: -1}}}
	return f
}

func answered(t *testing.T, f *model.Folder, o answer.Options) (answer.Answer, Figures) {
	t.Helper()
	a, err := Ask(context.Background(), answer.NewCase(f), o)
	if err != nil {
		t.Fatal(err)
	}
	fig, ok := a.Figures.(Figures)
	if !ok {
		t.Fatalf("figures are %T: %s", a.Figures, a.Sentence)
	}
	return a, fig
}

func TestBox(t *testing.T) {
	f := prism(65, [][2]float64{{0, 0}, {6, 0}, {6, 8}}, 3198000, r3.Vec{X: 32.5, Z: 4})
	a, fig := answered(t, f, answer.Options{Heels: []float64{0, 10 * deg, 30 * deg, 150 * deg}})
	const src = "Barrass & Derrett, Ship Stability for Masters and Mates, p. 130: box 65 x 12 x 8 m, exact values"
	// below the deck's edge and above the bilge GZ = (GM + BM tan²/2) sin; its integral from 0 is closed
	wall := func(h float64) float64 { return 1*(1-math.Cos(h)) + 1.5*(1/math.Cos(h)+math.Cos(h)-2) }
	run(t, []check{
		{"GM", fig.GM, 1, 1e-6, src},
		{"arm at 10 degrees", fig.Curve[1].Arm, 0.181746574, 1e-6, src},
		{"arm at 30 degrees", fig.Curve[2].Arm, 0.75, 1e-6, src},
		{"arm at 150 degrees", fig.Curve[3].Arm, -0.75, 1e-6, src},
		{"area to 30 degrees", fig.Area30, wall(30 * deg), 1e-5, "integral of the wall-sided formula, closed form"},
		{"vanishing", fig.Vanishing, 90, 1e-6, "antisymmetry of a box with its weight at half depth"},
	})
	if a.Verdict != answer.No || !strings.Contains(a.Sentence, "upside down") {
		t.Errorf("%s: %s", a.Verdict, a.Sentence)
	}
	if a.Margin.Value >= 0 {
		t.Errorf("margin %v of a box that stays upside down", a.Margin.Value)
	}
}

// TestRound: a round log with its weight low rights from any heel, by its weight alone.
func TestRound(t *testing.T) {
	var outline [][2]float64
	const n = 24
	for i := 0; i <= n; i++ {
		s, c := math.Sincos(math.Pi * float64(i) / n)
		outline = append(outline, [2]float64{0.5 * s, 0.5 - 0.5*c})
	}
	f := prism(4, outline, 1600, r3.Vec{X: 2, Z: 0.38})
	for i := range f.Boat.Hull.Readings.Stations {
		for j := range f.Boat.Hull.Readings.Stations[i].Points {
			f.Boat.Hull.Readings.Stations[i].Points[j].Corner = false
		}
	}
	a, fig := answered(t, f, answer.Options{})
	const src = "circle: GZ = (R - KG) sin heel at every draft, closed form"
	rows := []check{
		{"vanishing", fig.Vanishing, 180, 0, src},
		{"height left", fig.HeightLeft, 0.12, 2e-4, src},
		{"area to 40 degrees", fig.Area40, 0.12 * (1 - math.Cos(40*deg)), 1e-4, src},
		{"greatest arm", fig.MostArm, 0.12, 2e-4, src},
	}
	for _, p := range fig.Curve {
		rows = append(rows, check{"arm", p.Arm, 0.12 * math.Sin(p.Heel*deg), 2e-4, src})
	}
	run(t, rows)
	if a.Verdict != answer.Yes || len(fig.Rests) != 2 || fig.Rests[1].Stable {
		t.Errorf("%s: %s; rests %+v", a.Verdict, a.Sentence, fig.Rests)
	}
}

func TestOffCentre(t *testing.T) {
	f := prism(6, [][2]float64{{0, 0}, {1, 0}, {1, 0.9}}, 2000, r3.Vec{X: 3, Y: 0.05, Z: 0.4})
	_, fig := answered(t, f, answer.Options{})
	draft := 2000 / 1025.0 / 12
	gm := draft/2 + 4.0/12/draft - 0.4
	// wall-sided with the weight off the centre line: (GM + BM tan²/2) sin = y cos
	bm := 4.0 / 12 / draft
	heel := math.Atan(0.05 / gm)
	for range 50 {
		tn := math.Tan(heel)
		heel -= ((gm+bm*tn*tn/2)*tn - 0.05) / ((gm + 1.5*bm*tn*tn) * (1 + tn*tn))
	}
	first := fig.Rests[0]
	for _, r := range fig.Rests {
		if r.Heel > 0 && r.Stable && r.Heel < 45 {
			first = r
		}
	}
	run(t, []check{{"list", first.Heel, heel / deg, 1e-5, "wall-sided formula with an offset weight, closed form"}})
}

func TestRules(t *testing.T) {
	run(t, []check{
		{"screening, 13.5 ft and 23 245 lb", Screening(13.5*0.3048, 23245*0.45359237), 1.892128, 1e-6, "Joint Committee on Safety from Capsizing (1985), as quoted"},
		{"screening, 7.67 ft and 2490 lb", Screening(7.67*0.3048, 2490*0.45359237), 2.263544, 1e-6, "Joint Committee on Safety from Capsizing (1985), as quoted"},
		{"roll, f 0.88", 1.8 * 0.88 / math.Sqrt(0.627264), RollPeriod(0.88, 1.8, 0.627264), 1e-9, "GM = (f B / T)²: B 1.8 m, T 2 s, f .88 gives 0.627264"},
		{"roll, f 0.73", RollPeriod(0.73, 1.8, 0.431649), 2, 1e-6, "GM = (f B / T)²: B 1.8 m, T 2 s, f .73 gives 0.431649"},
	})
}

func TestWeather(t *testing.T) {
	const code = "IMO 2008 IS Code part A 2.3, worked through: L 20, B 6, d 1.8, CB .55, KG 2.2, GM .6"
	const worksheet = "filled worksheet of ISO 12217-1: A 14 m², L 7.9 m, T .54 m, 17 m/s"
	run(t, []check{
		{"roll back", RollBack(20, 6, 1.8, 0.55, 2.2, 0.6) / deg, 23.554640, 1e-5, code},
		{"wind lever, A 40, Z 2.5, 120 t", WindLever(40, 2.5, 120000), 0.0428135, 1e-7, code},
		{"small craft's wind moment", SmallCraftWind(14, 7.9, 0.54, 17), 2806.490, 1e-3, worksheet},
		{"small craft's roll, 1 m³", SmallCraftRoll(1) / deg, 40, 1e-9, "ISO 12217-1 worksheets: category B, 20 + 20/V"},
		{"small craft's roll, 0.8 m³", SmallCraftRoll(0.8) / deg, 45, 1e-9, "ISO 12217-1 worksheets: category B, 20 + 20/V"},
	})
	// the side of a box: above its water, with the lever to half its draft
	f := prism(6, [][2]float64{{0, 0}, {1, 0}, {1, 0.9}}, 6*2*0.3*1025, r3.Vec{X: 3, Z: 0.25})
	c := answer.NewCase(f)
	trip, err := c.Trip()
	if err != nil {
		t.Fatal(err)
	}
	s := trip.State(0, 0)
	curve, err := trip.Curve(&s, nil)
	if err != nil {
		t.Fatal(err)
	}
	q := &ask{c: c, t: trip, curve: curve}
	w, ok := q.weather(hydro.Measure(trip.Ship.Body, curve.Load(), curve.Holds[0]))
	if !ok {
		t.Fatal("a stable box has no weather criterion")
	}
	run(t, []check{{"side", w.Area, 3.6, 1e-6, "box, arithmetic"}, {"lever", w.Lever, 0.3 + 0.15, 1e-6, "box, arithmetic"},
		{"the arm meets the wind", q.anyArm(w.Heel), w.Steady, 1e-6, "property: the heel under a steady wind"}})
	if w.B <= w.A {
		t.Errorf("a box 2 m wide and 0.9 m deep fails: %+v", w)
	}
}

func TestCannotTell(t *testing.T) {
	f := prism(6, [][2]float64{{0, 0}, {1, 0}, {1, 0.9}}, 1, r3.Vec{})
	f.Boat.Weights = nil
	a, err := Ask(context.Background(), answer.NewCase(f), answer.Options{})
	if err != nil || a.Verdict != answer.CannotTell || len(a.Needs) == 0 || a.Needs[0].Key != "weights" {
		t.Errorf("%v %+v", err, a)
	}
}

func TestSinking(t *testing.T) {
	f := prism(6, [][2]float64{{0, 0}, {1, 0}, {1, 0.5}}, 7000, r3.Vec{X: 3, Z: 0.2})
	a, err := Ask(context.Background(), answer.NewCase(f), answer.Options{})
	if err != nil || a.Verdict != answer.No || a.Margin.Value >= 0 {
		t.Errorf("%v %s %+v", err, a.Sentence, a.Margin)
	}
}
