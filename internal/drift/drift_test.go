package drift

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
	"thole/internal/heading"
)

// check is one number against where it comes from.
type check struct {
	name           string
	got, want, tol float64
	source         string
}

func run(t *testing.T, rows []check) {
	t.Helper()
	for _, r := range rows {
		if r.source == "" {
			t.Errorf("%s: no source", r.name)
		}
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s: got %.10g, want %.10g within %g (%s)", r.name, r.got, r.want, r.tol, r.source)
		}
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

const deg = math.Pi / 180

// named finds a row of the leeway table.
func named(t *testing.T, words ...string) Leeway {
	t.Helper()
next:
	for _, l := range Leeways() {
		for _, w := range words {
			if !strings.Contains(l.Object, w) {
				continue next
			}
		}
		return l
	}
	t.Fatalf("no row %v", words)
	return Leeway{}
}

func TestLeeways(t *testing.T) {
	wind := 20 * Knot
	const hand = "SAR manual's table D-5, by hand at 20 kn"
	run(t, []check{
		{"kayak", named(t, "kayak").Speed(wind) / Knot, 0.46, 1e-12, hand},
		{"flat skiff", named(t, "flat bottom").Speed(wind) / Knot, 0.72, 1e-12, hand},
		{"deep ballast, light, no drogue", named(t, "deep ballast, 4 to 6", "no drogue, light").Speed(wind) / Knot, 0.72, 1e-12, hand},
		{"full keel's divergence", named(t, "full keel").Divergence, 48 * deg, 1e-12, "SAR manual's table D-5"},
		{"never upwind", named(t, "15 to 25", "drogue, heavy").Speed(0.5), 0, 0, "a drift is no less than nothing"},
		{"outrigger", named(t, "outrigger").Speed(10), 0.24, 1e-12, "Brushett et al. 2014, 2.40 % of the wind"},
	})
	for _, l := range Leeways() {
		if l.Source == "" || l.Object == "" || l.Share <= 0 {
			t.Errorf("row %+v", l)
		}
	}
	s := must(Among(0.46*Knot+0.001, wind))
	if s.Slower == nil || !strings.Contains(s.Slower.Object, "outrigger") && !strings.Contains(s.Slower.Object, "kayak") && !strings.Contains(s.Slower.Object, "windsurfer") || s.Faster == nil {
		t.Errorf("0.46 kn at 20 kn stands %+v", s)
	}
	slow, fast := must(Among(0, wind)), must(Among(9, wind))
	if slow.Rank != 1 || slow.Slower != nil || fast.Rank != fast.Of || fast.Faster != nil {
		t.Errorf("the ends: %+v, %+v", slow, fast)
	}
}

func TestDevices(t *testing.T) {
	const hand = "rho Cd A v2 / 2 by hand at 1 kn, rho 1025, worked values"
	pull := func(d, cd float64) float64 {
		return Drag(1025, must(Device{Diameter: d, Drag: cd}.DragArea()).Value, Knot)
	}
	row := must(SeriesDrogue().DragArea())
	para := must(Device{Kind: FlatCircular, Diameter: 2}.DragArea())
	at := must(DesignLoad(7500 * Pound))
	heavy := must(DesignLoad(60000 * Pound))
	light := must(DesignLoad(1000))
	past := must(DesignLoad(60000))
	stern, bow, err := DrogueDiameter(7500 * Pound)
	big, _, _ := DrogueDiameter(60000 * Pound)
	_, small, _ := DrogueDiameter(900)
	if err != nil {
		t.Fatal(err)
	}
	run(t, []check{
		{"1.2 m", pull(1.2, 0.8), 122.719, 5e-4, hand},
		{"1.8 m", pull(1.8, 0.8), 276.119, 5e-4, hand},
		{"2.5 m", pull(2.5, 0.8), 532.636, 5e-4, hand},
		{"3.0 m", pull(3.0, 0.8), 766.996, 5e-4, hand},
		{"1.2 m, Cd 1.3", pull(1.2, 1.3), 199.419, 5e-4, hand},
		{"3.0 m, Cd 1.3", pull(3.0, 1.3), 1246.37, 5e-3, hand},
		{"ninety cones", SeriesDrogue().Area() / Foot / Foot, 12.27185, 5e-6, "CG-D-20-87, by hand: ninety of 5 in"},
		{"a 4-ft disc", Device{Diameter: 4 * Foot}.Area() / Foot / Foot, 12.56637, 5e-6, "CG-D-20-87: the cone equal to them"},
		{"one for the other", SeriesDrogue().Area() / (Device{Diameter: 4 * Foot}).Area(), 1, 0.03, "CG-D-20-87 takes them as equal"},
		{"row's drag area", row.High / row.Low, 0.9 / 0.75, 1e-12, "Knacke, conical 0.75 to 0.90"},
		{"parachute", para.Value, math.Pi * 0.775, 1e-12, "Knacke, flat circular 0.75 to 0.80"},
		{"design load at 7500 lb", at.Value / Force, 7500, 1e-6, "CG-D-20-87: the displacement"},
		{"design load at 60000 lb", heavy.Value / Force, 36000, 1e-6, "CG-D-20-87: 60 % of the displacement"},
		{"design load at 1000 kg", light.Value, 9806.65, 1e-9, "held at the displacement below the report's range (modelling choice)"},
		{"and its high end", light.High / light.Value, 1 + 0.4*math.Log(7500*Pound/1000)/math.Log(8), 1e-12, "the report's trend run on"},
		{"past the end", past.Value / past.High, 1, 1e-12, "held at 60 % (modelling choice)"},
		{"drogue at 7500 lb", stern.Value, 4 * Foot, 1e-12, "CG-D-20-87"},
		{"drogue at 60000 lb", big.Value, 5.5 * Foot, 1e-12, "CG-D-20-87"},
		{"bow sea anchor, least", bow.Low, 8 * Foot, 1e-12, "CG-D-20-87: two to three times the drogue's"},
		{"bow sea anchor, greatest", bow.High, 12 * Foot, 1e-12, "CG-D-20-87"},
		{"breaking crest", BreakingCrest, 11.8872, 1e-9, "CG-D-20-87: 39 ft/s"},
		{"crest against wave theory", BreakingCrest, math.Sqrt(gravity * 300 * Foot / (2 * math.Pi)), 0.01 * BreakingCrest, "the speed of a wave of 300 ft, linear theory: a breaking crest runs with it"},
	})
	if light.Outside == "" || at.Outside != "" || small.Outside == "" || past.Outside == "" {
		t.Error("the report's range is not told")
	}
	if Cup.String() == "" || !strings.Contains(Kind(99).String(), "99") {
		t.Error("kinds without names")
	}
	for _, k := range kinds {
		if k.source == "" || k.low > k.high {
			t.Errorf("kind %+v", k)
		}
	}
}

func TestLines(t *testing.T) {
	inch := 0.0254
	r := must(Line(14e3))
	run(t, []check{
		{"10 mm", r.Diameter, 0.010, 1e-12, "nylon rope table, engineeringtoolbox.com"},
		{"10 mm breaks at", r.Strength, 3240 * Force, 0.01 * 3240 * Force, "Cordage Institute, nylon 3/8 in (9.5 mm): 3240 lb"},
		{"12 mm breaks at", must(Line(25e3)).Strength, 5670 * Force, 0.01 * 5670 * Force, "Cordage Institute, nylon 1/2 in: 5670 lb"},
		{"a half inch", 0.5 * inch, 0.012, 0.001, "the table's sizes in mm and in are nominal"},
		{"needed", must(Breaking(1000, 8, 0.5)), 16000, 1e-9, "factor over share, by hand"},
		{"wave of 8 s", WaveLength(8), 99.9, 0.05, "linear theory: 1.56 T2"},
	})
	for i := 1; i < len(nylon); i++ {
		if nylon[i][0] <= nylon[i-1][0] || nylon[i][1] <= nylon[i-1][1] {
			t.Errorf("row %d of the ropes does not rise", i)
		}
	}
}

func TestAnchors(t *testing.T) {
	const hand = "catenary, worked by hand"
	a := must(Catenary(1000, 15, 10))
	b := must(Catenary(500, 8, 6))
	whole := must(Rode(1000, 15, 10, a.Length))
	more := must(Rode(1000, 15, 10, 60))
	less := must(Rode(1000, 15, 10, 25))
	rope := must(Rode(1000, 1e-3, 10, 50))
	twenty := must(HoldingLoad(20*Foot, 15*Knot))
	working := must(HoldingLoad(30*Foot, 30*Knot))
	gale := must(HoldingLoad(20*Foot, 42*Knot))
	short := must(HoldingLoad(15*Foot, 30*Knot))
	storm := must(HoldingLoad(20*Foot, 50*Knot))
	run(t, []check{
		{"length", a.Length, 37.859389, 5e-7, hand},
		{"span", a.Span, 36.073152, 5e-7, hand},
		{"tension", a.Tension, 1150, 1e-9, hand},
		{"scope", a.Length / 10, 3.785939, 5e-7, hand},
		{"length, light", b.Length, 28.035692, 5e-7, hand},
		{"span, light", b.Span, 27.171640, 5e-7, hand},
		{"tension, light", b.Tension, 548, 1e-9, hand},
		{"just level: no lift", whole.Lift, 0, 1e-6, "the two forms meet"},
		{"just level: span", whole.Span, a.Span, 1e-6, "the two forms meet"},
		{"some on the ground", more.Ground, 60 - a.Length, 1e-9, "what does not hang lies"},
		{"its span", more.Span, a.Span + more.Ground, 1e-9, "what does not hang lies"},
		{"short: tension", less.Tension - 15*10, math.Hypot(1000, 1000*math.Tan(less.Lift)), 1e-6, "catenary: tension falls by w h down the line"},
		{"weightless rope: lift", rope.Lift, math.Asin(0.2), 1e-3, "a straight line at a scope of 5"},
		{"weightless rope: span", rope.Span, math.Sqrt(2500 - 100), 1e-3, "Pythagoras"},
		{"scope of 7", must(Scope(5, 0.5, 2, 7)), 52.5, 1e-12, "by hand"},
		{"swing", must(Swing(10, 50, 6.8)), math.Sqrt(2400) + 6.8, 1e-12, "Pythagoras"},
		{"20 ft, 15 kn", twenty.Value / Force, 90, 1e-9, "ABYC H-40 table"},
		{"30 ft, 30 kn", working.Value / Force, 700, 1e-9, "ABYC H-40 table"},
		{"20 ft, 42 kn, as printed", gale.Low / Force, 500, 1e-6, "ABYC H-40 table (a trap: not by the square)"},
		{"20 ft, 42 kn, by the square", gale.Value / Force, 360 * 1.96, 1e-6, "360 lb at 30 kn by the square of the wind"},
		{"15 ft", short.Value / Force, 360, 1e-9, "the table's first row"},
		{"25 ft, between", must(HoldingLoad(22.5*Foot, 30*Knot)).Value / Force, 425, 1e-9, "straight between 360 and 490"},
	})
	if short.Outside == "" || storm.Outside == "" || gale.Outside != "" {
		t.Error("the table's range is not told")
	}
	// Only from 15 to 30 kn do the figures grow as the square, 25 ft apart from rounding.
	for _, r := range holding {
		run(t, []check{{"15 to 30 kn", r[2] / r[1], 4, 0.09, "ABYC H-40: the square law, as the trap says"}})
	}
	rapid.Check(t, func(t *rapid.T) {
		pull := rapid.Float64Range(10, 1e4).Draw(t, "pull")
		weight := rapid.Float64Range(0.1, 50).Draw(t, "weight")
		height := rapid.Float64Range(1, 50).Draw(t, "height")
		length := height * rapid.Float64Range(1.01, 12).Draw(t, "scope")
		h := must(Rode(pull, weight, height, length))
		if h.Span > math.Sqrt(length*length-height*height)*(1+1e-9) || h.Lift < 0 || h.Tension < pull || math.IsNaN(h.Tension) {
			t.Fatalf("pull %g, weight %g, height %g, length %g: %+v", pull, weight, height, length, h)
		}
	})
}

// boat is an invented hull of 6.4 m with its cabins; nobody's.
func boat() heading.Boat {
	h := heading.Hull{Volume: 0.75}
	for i := 0; i <= 26; i++ {
		s := float64(i) / 26
		h.Stations = append(h.Stations, heading.Station{X: 6.4 * s, Depth: 0.32 * math.Pow(4*s*(1-s), 0.4), Beam: 1.3 * math.Pow(4*s*(1-s), 0.6)})
	}
	return heading.Boat{Hull: h, Resistance: heading.Quadratic(30), Coefficients: heading.Usual(), Parts: []heading.Part{
		{Name: "hull and cabins", Side: []heading.Strip{{Area: 3.2, X: 3.2, Height: 0.25}, {Area: 1.8, X: 3.6, Height: 0.8}},
			Front: []heading.Strip{{Area: 1.5, Height: 0.5}}, Shape: heading.ShapeFlat, Length: 6.6}}}
}

func TestBeamOn(t *testing.T) {
	k := math.Sqrt(1.225 * 4 / (1025 * 1.8 * 0.65))
	run(t, []check{
		{"closed form", must(BeamOn(10, 4, 1.8*0.65, 1.225, 1025)), 10 * k / (1 + k), 1e-12, "balance of two square laws"},
		{"no windage", must(BeamOn(10, 0, 1, 1.225, 1025)), 0, 0, "balance of two square laws"},
	})
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.Float64Range(0, 40).Draw(t, "wind")
		a, b := rapid.Float64Range(0.1, 20).Draw(t, "air"), rapid.Float64Range(0.1, 20).Draw(t, "water")
		v := must(BeamOn(w, a, b, 1.2, 1000))
		if left := 1.2*a*(w-v)*(w-v) - 1000*b*v*v; math.Abs(left) > 1e-9*(1+1.2*a*w*w) {
			t.Fatalf("left over %g", left)
		}
	})
}

func TestLying(t *testing.T) {
	wind := 25 * Knot
	left := must(Left(boat(), wind, heading.Doubts()))
	sea := Device{Kind: FlatCircular, Diameter: 12 * Foot}
	to := must(To(boat(), wind, sea, 0, heading.Doubts()))
	behind := must(To(boat(), wind, SeriesDrogue(), 6.4, heading.Doubts()[:2]))
	if len(left) == 0 || len(to) == 0 || len(behind) == 0 {
		t.Fatalf("she lies nowhere: %d, %d, %d", len(left), len(to), len(behind))
	}
	bow, beam, stern := to[0], left[0], behind[len(behind)-1]
	// Bow or stern come well round, though she may lie askew: light boats sheer about on one line.
	if bow.From.Value > 45*deg || stern.From.Value < 135*deg {
		t.Errorf("to the sea anchor from %.0f degrees, before the drogue from %.0f", bow.From.Value/deg, stern.From.Value/deg)
	}
	area := must(sea.DragArea())
	run(t, []check{
		{"to a 12-ft parachute in 25 kn", bow.Speed.Value / Knot, 10. / 21, 0.3, "a log read: 2.5 t lost 10 miles in 21 hours to a 12-ft parachute in 25 kn; waves were in that"},
		{"pull at that speed", bow.Steady.Value, heading.SeaWater / 2 * area.Value * bow.Speed.Value * bow.Speed.Value, 1e-9, "rho Cd A v2 / 2"},
	})
	var up, below float64
	for _, sh := range bow.Speed.Shares {
		below += math.Pow(math.Min(0, math.Min(sh.Low, sh.High)-bow.Speed.Value), 2)
		up += math.Pow(math.Max(0, math.Max(sh.Low, sh.High)-bow.Speed.Value), 2)
	}
	run(t, []check{
		{"slowest", bow.Speed.Low, bow.Speed.Value - math.Sqrt(below), 1e-12, "JCGM 100, 5.1.2: the root of the squares, the device's among them"},
		{"quickest", bow.Speed.High, bow.Speed.Value + math.Sqrt(up), 1e-12, "JCGM 100, 5.1.2"},
	})
	if last := bow.Speed.Shares[len(bow.Speed.Shares)-1]; !strings.Contains(last.Name, "device") || !(last.High < bow.Speed.Value && last.Low > bow.Speed.Value) {
		t.Errorf("the device's own doubt: %+v", last)
	}
	if bow.Speed.Value > beam.Speed.Value/2 || stern.Speed.Value < bow.Speed.Value {
		t.Errorf("beam-on %.2f, to the sea anchor %.2f, before the drogue %.2f m/s", beam.Speed.Value, bow.Speed.Value, stern.Speed.Value)
	}
	if beam.Speed.Value < beam.Among.CraftLow/2 || beam.Speed.Value > beam.Among.CraftHigh {
		t.Errorf("a drift of %.3f of the wind stands outside all boats: %+v", beam.Among.Share, beam.Among)
	}
	if !(bow.Speed.Low < bow.Speed.Value && bow.Speed.Value < bow.Speed.High && bow.Steady.Low < bow.Steady.Value && bow.Steady.Value < bow.Steady.High) {
		t.Errorf("no doubt about the sea anchor: %+v, %+v", bow.Speed, bow.Steady)
	}
}

func TestRefusals(t *testing.T) {
	nan := math.NaN()
	of := func(_ any, err error) error { return err }
	_, _, drogue := DrogueDiameter(nan)
	for name, err := range map[string]error{
		"beam-on, no hull":    of(BeamOn(10, 1, 0, 1.2, 1000)),
		"beam-on, NaN":        of(BeamOn(nan, 1, 1, 1.2, 1000)),
		"among, no wind":      of(Among(1, 0)),
		"among, NaN":          of(Among(nan, 10)),
		"device, no size":     of(Device{}.DragArea()),
		"device, unknown":     of(Device{Kind: 99, Diameter: 1}.DragArea()),
		"device, NaN":         of(Device{Diameter: 1, Drag: nan}.DragArea()),
		"to no device":        of(To(boat(), 10, Device{}, 0, nil)),
		"design load":         of(DesignLoad(0)),
		"drogue":              drogue,
		"breaking, no factor": of(Breaking(1, 0, 1)),
		"line, too strong":    of(Line(1e8)),
		"line, NaN":           of(Line(nan)),
		"catenary, no pull":   of(Catenary(0, 1, 1)),
		"rode, short":         of(Rode(100, 1, 10, 9)),
		"scope":               of(Scope(5, 1, 0, 0.5)),
		"swing":               of(Swing(10, 5, 6)),
		"holding, long":       of(HoldingLoad(40, 10)),
		"holding, negative":   of(HoldingLoad(6, -1)),
	} {
		if !errors.Is(err, ErrInput) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func BenchmarkTo(b *testing.B) {
	d := Device{Kind: FlatCircular, Diameter: 3}
	for b.Loop() {
		must(To(boat(), 12, d, 0, heading.Doubts()))
	}
}

func BenchmarkRode(b *testing.B) {
	for b.Loop() {
		must(Rode(1000, 15, 10, 25))
	}
}
