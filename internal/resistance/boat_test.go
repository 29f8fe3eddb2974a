package resistance

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"thole/internal/cuts"
	"thole/internal/fairing"
	"thole/internal/hydro"
)

// demoBoat is the invented boat with a rudder, a board and what stands in the wind.
func demoBoat() *Boat {
	return must(NewBoat(demoHull(), Skin{Paint: 30e-6},
		[]Appendage{{Name: "rudder", Area: .12, Chord: .25, Thickness: .1}, {Name: "board", Area: .2, Chord: .35, Thickness: .06}},
		[]Windage{{Name: "hull and cabins", Area: 1.5, Drag: .8, Height: .6}, {Name: "rower", Area: .4, Drag: 1, Height: .9}}))
}

// steady is oars of half of a power, held at rest to 50 N: about what rowing's model of the stroke gives a heavy boat.
func steady(watts float64) Drive {
	return func(v float64) Force {
		f := math.Min(50, 0.5*watts/math.Max(v, 1e-9))
		return Force{f, 0.15 * f}
	}
}

func calm() Condition { return Condition{Water: SeaAt(20, 1025)} }

// TestDemoBand: sanity bounds of a loaded rowing boat.
func TestDemoBand(t *testing.T) {
	b := demoBoat()
	t.Logf("L %.2f B %.2f T %.2f, S %.2f m2, %.0f kg, Cp %.2f", b.Hull.Length, b.Hull.Beam, b.Hull.Draft, b.Hull.Wetted, b.Hull.Volume*1025, b.Hull.Cp())
	for _, v := range []float64{.5, 1, 1.5, 2, 2.5} {
		p := must(b.Parts(v, calm(), Wind{}))
		t.Logf("%.1f m/s: friction %.1f form %.1f growth %.1f waves %.1f hung %.1f air %.1f total %.1f ± %.1f N", v, p.Friction.Value, p.Form.Value, p.Growth.Value, p.Waves.Value, p.Appendages.Value, p.Air.Value, p.Total.Value, p.Total.Spread)
	}
	run(t, []check{{"6.8 m, 650 kg at 1 m/s", must(b.Parts(1, calm(), Wind{})).Total.Value, 22.5, 7.5, "15 to 30 N: common practice, no source"}})
	for _, d := range []float64{0, 7, 14, 21, 42} {
		p := must(b.Parts(1.2, Condition{Water: SeaAt(20, 1025), Days: d}, Wind{}))
		t.Logf("day %.0f: growth %.1f ± %.1f of %.1f N", d, p.Growth.Value, p.Growth.Spread, p.Total.Value)
	}
	table := must(b.In(calm()))
	for _, w := range []float64{0, 2.5, 5, 7.5, 10} {
		m := must(table.Speed(steady(100), Wind{Speed: w}))
		t.Logf("100 W, head wind %.1f m/s: %.2f ± %.2f m/s", w, m.Speed, m.Spread)
	}
	s, d, err := table.StopWind(steady(100), 0)
	t.Logf("stops at %.1f ± %.1f m/s %v", s, d, err)
	m := must(table.Speed(steady(100), Wind{}))
	run(t, []check{
		{"100 W in a calm", m.Speed * 3600 / 1852, 2.6, .6, "crossing averages of 1.5 to 3.3 kn are published for rowed boats; a calm is faster than the average"},
		{"head wind that stops a rower, kn", s * 3600 / 1852, 18, 7, "about 15 kn on the nose is stop: rowers' estimate, no source; seas left out here"},
	})
}

func TestParts(t *testing.T) {
	b := demoBoat()
	day := Condition{Water: SeaAt(20, 1025), Days: 12, Sea: Sea{.4, 2.5, .3}}
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-4, 4).Draw(t, "v")
		w := Wind{rapid.Float64Range(0, 15).Draw(t, "w"), rapid.Float64Range(0, 6.3).Draw(t, "from")}
		p := must(b.Parts(v, day, w))
		sum := p.Friction.Value + p.Form.Value + p.Growth.Value + p.Waves.Value + p.Transom.Value + p.Appendages.Value + p.Seas.Value + p.Air.Value
		if math.Abs(sum-p.Total.Value) > 1e-9*(1+math.Abs(sum)) || !(p.Total.Spread >= 0) {
			t.Fatalf("parts make %g, total %g ± %g", sum, p.Total.Value, p.Total.Spread)
		}
		back := must(b.Parts(-v, Condition{Water: day.Water, Days: 12}, Wind{}))
		ahead := must(b.Parts(v, Condition{Water: day.Water, Days: 12}, Wind{}))
		if math.Abs(back.Total.Value+ahead.Total.Value) > 1e-9*(1+math.Abs(ahead.Total.Value)) {
			t.Fatalf("%g ahead, %g astern", ahead.Total.Value, back.Total.Value)
		}
	})
	if a, z := must(b.Parts(1.2, Condition{Water: day.Water}, Wind{})), must(b.Parts(1.2, Condition{Water: day.Water, Days: 40}, Wind{})); !(z.Growth.Value > 3*a.Growth.Value && z.Growth.Spread > 0) {
		t.Errorf("growth %+v after %+v", z.Growth, a.Growth)
	}
}

// TestTrackOfWaves: the waves between the speeds worked out.
func TestTrackOfWaves(t *testing.T) {
	for name, h := range map[string]*Hull{"demo": demoHull(), "wigley": wigley(7, .7, .4375, 61, 61)} {
		b := must(NewBoat(h, Skin{}, nil, nil))
		worst := 0.0
		for fn := .151; fn < .6; fn += .00137 {
			v := fn * math.Sqrt(Gravity*h.Length)
			worst = math.Max(worst, math.Abs(b.wavesAt(v)/h.Waves(v, 1)-1))
		}
		t.Logf("%s: %.4f", name, worst)
		if worst > .02 {
			t.Errorf("%s: %.3f out between speeds", name, worst)
		}
	}
}

func TestTable(t *testing.T) {
	b := demoBoat()
	day := Condition{Water: SeaAt(20, 1025), Days: 12, Sea: Sea{.4, 2.5, .3}}
	still, wavy := must(b.In(Condition{Water: day.Water, Days: 12})), must(b.In(day))
	for v := .2; v < 4.8; v += .0137 {
		c := day
		c.Sea = Sea{}
		p := must(b.Parts(v, c, Wind{5, .4}))
		f := still.Total(v, Wind{5, .4})
		run(t, []check{
			{"still", f.Value, p.Total.Value, 2e-3 * p.Total.Value, "Parts"}, {"spread", f.Spread, p.Total.Spread, 5e-3 * p.Total.Spread, "Parts"},
			{"astern", still.Resistance(-v), -still.Resistance(v), 0, "symmetry"},
		})
		p = must(b.Parts(v, day, Wind{}))
		run(t, []check{{"wavy", wavy.Resistance(v), p.Total.Value - p.Air.Value, .01 * p.Total.Value, "Parts"}})
	}
	if still.Resistance(0) != 0 {
		t.Error("resistance at rest")
	}
}

func TestStopWind(t *testing.T) {
	table := must(demoBoat().In(calm()))
	o := steady(100)
	s, spread, err := table.StopWind(o, 0)
	if err != nil || !(spread > 0) {
		t.Fatal(s, spread, err)
	}
	run(t, []check{
		{"stopped", must(table.Speed(o, Wind{Speed: s})).Speed, 0, 1e-6, "the wind that stops her stops her"},
		{"driven back", math.Copysign(1, must(table.Speed(o, Wind{Speed: s * 1.2})).Speed), -1, 0, "more wind drives her astern"},
		{"still going", math.Copysign(1, must(table.Speed(o, Wind{Speed: s * .8})).Speed), 1, 0, "less does not"},
		{"60 degrees off", must2(table.StopWind(o, math.Pi/3)), s * math.Sqrt2, 1e-9, "half of the force along"},
		{"adrift", must(table.Speed(Drive(Idle), Wind{})).Speed, 0, 0, "no wind, no power"},
	})
	fair := must(table.Speed(Drive(Idle), Wind{Speed: 10, From: math.Pi}))
	if !(fair.Speed > .2 && fair.Speed < 2) {
		t.Errorf("drifts at %g m/s before 10 m/s", fair.Speed)
	}
	if _, _, err := table.StopWind(o, math.Pi); !errors.Is(err, ErrNoWind) {
		t.Errorf("a fair wind stops her: %v", err)
	}
	bare := must(must(NewBoat(demoHull(), Skin{}, nil, nil)).In(calm()))
	if _, _, err := bare.StopWind(o, 0); !errors.Is(err, ErrNoWind) {
		t.Errorf("stopped with nothing in the wind: %v", err)
	}
	if _, err := table.Speed(func(float64) Force { return Force{Value: 9e5} }, Wind{}); !errors.Is(err, ErrTooFast) {
		t.Errorf("no end to her speed: %v", err)
	}
	if _, err := table.Speed(nil, Wind{}); !errors.Is(err, ErrInput) {
		t.Errorf("no drive passes: %v", err)
	}
}

func must2(v, _ float64, err error) float64 { return must(v, err) }

// TestLoads: deeper is slower.
func TestLoads(t *testing.T) {
	var boats []*Boat
	for _, d := range []float64{.22, .27, .32} {
		h := must(HullOf(func(x, z float64) float64 {
			s := x/3.4 - 1
			return .56 * (1 - s*s) * math.Sqrt(math.Max(0, 1-z*z/(d*d)))
		}, 0, 6.8, d, 41, 41))
		boats = append(boats, must(NewBoat(h, Skin{}, nil, nil)))
	}
	m := must(CalmSpeeds(boats, steady(100), calm()))
	if !(m[0].Speed > m[1].Speed && m[1].Speed > m[2].Speed) {
		t.Errorf("%v", m)
	}
	if _, err := CalmSpeeds([]*Boat{nil}, steady(100), calm()); !errors.Is(err, ErrInput) {
		t.Error("no boat passes")
	}
}

// TestFromSurface: a faired spindle against its closed form, level and trimmed, and by sections.
func TestFromSurface(t *testing.T) {
	const l, r = 7.0, .5
	var given []fairing.Cut
	for i := range 15 {
		x := l * float64(i) / 14
		s := 2*x/l - 1
		c := fairing.Cut{X: x}
		for j := range 13 {
			a := math.Pi / 2 * float64(j) / 12
			rad := r * (1 - s*s)
			c.Points = append(c.Points, fairing.Point{Point: cuts.Point{Y: rad * math.Sin(a), Z: -rad * math.Cos(a)}})
		}
		given = append(given, c)
	}
	s := must(fairing.Fit(given, nil, nil, 0))
	h := must(FromSurface(s, 0, hydro.Attitude{}))
	volume := math.Pi / 2 * r * r * l * 8 / 15
	var skin float64
	for i := range 10000 {
		x := (float64(i) + .5) / 5000
		u := x - 1
		skin += math.Pi * r * (1 - u*u) * math.Hypot(1, r*4/l*u) * l / 10000
	}
	const source = "closed form of the parabolic spindle (skin by a plain sum)"
	run(t, []check{
		{"volume", h.Volume, volume, .002 * volume, source}, {"wetted", h.Wetted, skin, .002 * skin, source}, {"length", h.Length, l, .01, source},
		{"beam", h.Beam, 2 * r, .002, source}, {"draft", h.Draft, r, .002, source}, {"centre", h.Centre, l / 2, 1e-3, source},
	})
	exact := must(HullOf(func(x, z float64) float64 {
		u := 2*x/l - 1
		rad := r * (1 - u*u)
		return math.Sqrt(math.Max(0, rad*rad-z*z))
	}, 0, l, r, 121, 600))
	for _, v := range []float64{1.3, 2, 2.6} {
		w := exact.Waves(v, 1025)
		run(t, []check{{"waves", h.Waves(v, 1025), w, .01 * w, "the same integral on the exact spindle, finely cut"}})
	}
	up := must(FromSurface(s, 0, hydro.Attitude{Level: -.1}))
	heeled := must(FromSurface(s, 0, hydro.Attitude{Level: -.1 * math.Cos(.2), Heel: .2}))
	trimmed := must(FromSurface(s, 0, hydro.Attitude{Level: -.1 - .02*l/2, Slope: .02}))
	half := func(x float64) cuts.Section {
		p := s.Rib(x, 0).Points
		var out cuts.Section
		for i := 1; i < len(p); i++ {
			out = append(out, cuts.Edge{A: p[i-1], B: p[i], Slant: 1})
		}
		for i := len(p) - 1; i > 0; i-- {
			out = append(out, cuts.Edge{A: cuts.Point{Y: -p[i].Y, Z: p[i].Z}, B: cuts.Point{Y: -p[i-1].Y, Z: p[i-1].Z}, Slant: 1})
		}
		return out
	}
	cut := must(FromSections(half, 0, l, hydro.Attitude{Level: -.1}))
	fat := must(FromSurface(s, .009, hydro.Attitude{Level: -.1}))
	run(t, []check{
		{"heel left out", heeled.Volume, up.Volume, 1e-9, "the water at the centre plane"}, {"sections", cut.Volume, up.Volume, 1e-9, "the same outlines"},
		{"sections' waves", cut.Waves(2, 1025), up.Waves(2, 1025), 1e-9, "the same outlines"},
		{"planking", fat.Volume - up.Volume, .009 * up.Wetted, .1 * .009 * up.Wetted, "thickness times skin"},
		{"trim about the middle", trimmed.Volume, up.Volume, .01 * up.Volume, "wall-sided to the second order"},
	})
	if !(trimmed.Centre > up.Centre+.05) {
		t.Errorf("centre at %g trimmed by the stern, %g level", trimmed.Centre, up.Centre)
	}
	for _, bad := range []hydro.Attitude{{Level: -9}, {Level: math.NaN()}, {Heel: 2}, {Slope: 3}} {
		if _, err := FromSurface(s, 0, bad); !errors.Is(err, ErrInput) {
			t.Errorf("%+v passes: %v", bad, err)
		}
	}
}

func TestHostile(t *testing.T) {
	good := []Point{{0, .3}, {.5, .1}, {.6, 0}}
	st := func(x ...float64) []Station {
		var s []Station
		for _, v := range x {
			s = append(s, Station{X: v, Points: good})
		}
		return s
	}
	dry := st(0, 1, 2)
	for i := range dry {
		dry[i].Points = []Point{{.5, -.1}, {.6, -.3}}
	}
	flat := st(0, 1, 2)
	for i := range flat {
		flat[i].Points = []Point{{0, .3}, {0, 0}}
	}
	for name, s := range map[string][]Station{"none": nil, "two": st(0, 1), "backwards": st(0, 2, 1), "nan": st(0, math.NaN(), 2), "huge": st(0, 1, 1e9),
		"dry": dry, "no breadth": flat, "empty": make([]Station, 3), "nan point": {{0, good}, {1, []Point{{math.NaN(), 1}}}, {2, good}}} {
		if _, err := NewHull(s); !errors.Is(err, ErrInput) {
			t.Errorf("%s passes: %v", name, err)
		}
	}
	b := demoBoat()
	for _, v := range []float64{math.NaN(), math.Inf(1), 1e6} {
		if _, err := b.Parts(v, calm(), Wind{}); !errors.Is(err, ErrInput) {
			t.Errorf("%g m/s passes", v)
		}
	}
	for _, c := range []Condition{{}, {Water: Water{1025, 0}}, {Water: SeaAt(20, 1025), Days: -1}, {Water: SeaAt(20, 1025), Sea: Sea{Height: 1}}, {Water: SeaAt(20, 1025), Sea: Sea{-1, 3, 0}}} {
		if _, err := b.In(c); !errors.Is(err, ErrInput) {
			t.Errorf("%+v passes", c)
		}
	}
	if _, err := NewBoat(nil, Skin{}, nil, nil); !errors.Is(err, ErrInput) {
		t.Error("no hull passes")
	}
	for _, a := range []Appendage{{Area: -1}, {Area: 1}, {Area: 1, Chord: math.NaN()}, {Area: 1, Chord: 1, Thickness: 9}} {
		if _, err := NewBoat(demoHull(), Skin{}, []Appendage{a}, nil); !errors.Is(err, ErrInput) {
			t.Errorf("%+v passes", a)
		}
	}
	for _, s := range []Skin{{Paint: -1}, {Growth: []Growth{{5, .1, ""}}}, {Growth: []Growth{{5, .001, ""}, {5, .001, ""}}}} {
		if _, err := NewBoat(demoHull(), s, nil, nil); !errors.Is(err, ErrInput) {
			t.Errorf("%+v passes", s)
		}
	}
}

func BenchmarkNewBoat(b *testing.B) {
	h := demoHull()
	for b.Loop() {
		must(NewBoat(h, Skin{}, nil, nil))
	}
}

func BenchmarkIn(b *testing.B) {
	boat := demoBoat()
	for b.Loop() {
		must(boat.In(Condition{Water: SeaAt(20, 1025), Days: 5, Sea: Sea{.5, 3, 0}}))
	}
}

func BenchmarkResistance(b *testing.B) {
	table := must(demoBoat().In(calm()))
	b.ReportAllocs()
	v := 0.0
	for b.Loop() {
		v += table.Resistance(1.234)
	}
}

func BenchmarkSpeed(b *testing.B) {
	table := must(demoBoat().In(Condition{Water: SeaAt(20, 1025), Days: 5, Sea: Sea{.5, 3, 0}}))
	o := steady(100)
	b.ReportAllocs()
	for b.Loop() {
		must(table.Speed(o, Wind{5, .3}))
	}
}
