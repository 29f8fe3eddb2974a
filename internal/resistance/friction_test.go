package resistance

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestITTC57(t *testing.T) {
	const printed = "Tupper, Introduction to Naval Architecture, table 8.3"
	const line = "closed form 0.075/(log10 Re - 2)2"
	run(t, []check{
		{"1e5", ITTC57(1e5), .008333, 5e-7, printed}, {"5e5", ITTC57(5e5), .005482, 5e-7, printed},
		{"1e6", ITTC57(1e6), .004688, 6e-7, printed}, {"5e6", ITTC57(5e6), .003397, 5e-7, printed},
		{"1e7", ITTC57(1e7), .003000, 5e-7, printed}, {"5e7", ITTC57(5e7), .002309, 5e-7, printed},
		{"5e8", ITTC57(5e8), .001671, 5e-7, printed}, {"1e9", ITTC57(1e9), .001531, 5e-7, printed},
		{"1e10", ITTC57(1e10), .001172, 5e-7, printed}, {"5.62e6", ITTC57(5.62e6), .003325, 1e-6, "NPL Ship Report 142, example"},
		{"2e6", ITTC57(2e6), .004054304, 1e-9, line}, {"7e6", ITTC57(7e6), .003194892, 1e-9, line},
		{"1.5e7", ITTC57(1.5e7), .002799351, 1e-9, line}, {"3e7", ITTC57(3e7), .002500095, 1e-9, line},
	})
	for _, re := range []float64{-1, 0, 10, math.NaN()} {
		if !math.IsNaN(ITTC57(re)) {
			t.Errorf("Reynolds %g has a coefficient", re)
		}
	}
}

// TestRacingSingle: skin drag of a racing single, and skin's share of the whole.
func TestRacingSingle(t *testing.T) {
	alpha := 500 * 2.25 * ITTC57(3.3e7)
	run(t, []check{{"alpha", alpha, 2.77, 0.002, "sanderroosendaal.wordpress.com 2010-11-18: L 8.2, S 2.25, Re 3.3e7, N s2/m2"}})
	// A hull of those figures at 1:43 for 500 m, 100 kg: skin is about 80 % of the whole.
	const l, d = 8.2, .125
	keel := func(x float64) float64 { s := 2*x/l - 1; return .02 + d*(1-s*s) }
	h := must(NewHull(stationsOf(func(x, z float64) float64 {
		s := 2*x/l - 1
		return .14 * (1 - s*s) * math.Sqrt(math.Max(0, 1-z/keel(x)))
	}, keel, l, 61, 40)))
	b := must(NewBoat(h, Skin{}, nil, []Windage{{Area: .55, Drag: .9, Height: .6}}))
	p := must(b.Parts(4.854, Condition{Water: Water{1000, 1.139e-6}}, Wind{}))
	t.Logf("S %.2f m2, %.0f kg, skin %.1f N, waves %.1f N, form %.1f N, air %.1f N, whole %.1f N", h.Wetted, h.Volume*1000, p.Friction.Value, p.Waves.Value, p.Form.Value, p.Air.Value, p.Total.Value)
	run(t, []check{{"skin's share", p.Friction.Value / p.Total.Value, .8, .12, "Dudhia's 80 % as quoted there, with air, hull measures common practice"}})
}

func TestRough(t *testing.T) {
	const source = "Prandtl & Schlichting's fully rough plate (1.89 + 1.62 log10 l/k)^-2.5, Schlichting, Boundary-Layer Theory, from memory"
	for _, k := range []float64{1e-3, 1e-4, 1e-5} {
		const re = 1e10
		want := math.Pow(1.89-1.62*math.Log10(k), -2.5)
		x := plate(re, k)
		run(t, []check{{"fully rough", 1 / (x * x), want, .1 * want, source}})
	}
	x := plate(1e7, 0)
	run(t, []check{
		{"smooth, 1e7", 1 / (x * x), .00294, .00002, "Schoenherr's line as tabled (ATTC 1947), 1e7: 2.934e-3, from memory"},
		{"heavy barnacles on a frigate at 15 kn", RoughRise(7.717*124.4/1.1883e-6, .01/124.4) / ITTC57(7.717*124.4/1.1883e-6) * .5, .86, .25,
			"Schultz (2007): power +86 % at cruising speed with heavy calcareous fouling (seen in its abstract); that friction is about half of her resistance there, from memory"},
		{"light slime on it", RoughRise(7.717*124.4/1.1883e-6, .0001/124.4) / ITTC57(7.717*124.4/1.1883e-6) * .5, .11, .04, "the same paper, +11 %, from memory"},
	})
	if r := RoughRise(1e6, 50); !(r > 0 && r < 1) {
		t.Errorf("a skin rougher than long adds %g", r)
	}
	if RoughRise(8e6, 30e-6/6.8) > .15*ITTC57(8e6) {
		t.Error("clean paint adds more than 15 % at a rowed boat's speed")
	}
	if Townsin(150e-6/6.8, 8e6) > 0 {
		t.Error("Townsin's allowance for paint is not nothing at a rowed boat's Reynolds number")
	}
	if BowdenDavison(150e-6/6.8) < .5*ITTC57(8e6) {
		t.Error("Bowden and Davison's allowance has become sensible for a small boat, and its comment wrong")
	}
	rapid.Check(t, func(t *rapid.T) {
		re := math.Pow(10, rapid.Float64Range(4, 10).Draw(t, "re"))
		r := math.Pow(10, rapid.Float64Range(-8, -2).Draw(t, "r"))
		a, b := RoughRise(re, r), RoughRise(re, r*1.1)
		if !(a >= 0 && b >= a && b < 1) {
			t.Fatalf("rises %g and %g", a, b)
		}
	})
}

func TestGrowth(t *testing.T) {
	s := Skin{Paint: 30e-6}
	run(t, []check{
		{"clean", s.Sand(0), 30e-6, 0, "its own table"}, {"a week", s.Sand(7), 100e-6, 1e-12, "its own table"},
		{"two weeks", s.Sand(14), 100e-6 * math.Sqrt(3), 1e-12, "equal ratios between rows"}, {"a year", s.Sand(365), .01, 1e-12, "the last row holds"},
		{"perfectly smooth", Skin{}.Sand(0), 0, 0, "asked for"}, {"no growth", Skin{Paint: 1e-4, Growth: []Growth{}}.Sand(99), 1e-4, 0, "an empty table"},
	})
	last := 0.0
	for d := 0.0; d < 400; d += .5 {
		if k := s.Sand(d); k < last {
			t.Fatalf("smoother on day %g", d)
		} else {
			last = k
		}
	}
}

func TestSeaAt(t *testing.T) {
	const source = "ITTC water properties, 3.5 % salt, from memory"
	run(t, []check{
		{"15", SeaAt(15, 1025).Viscosity, 1.1883e-6, 1e-12, source}, {"30", SeaAt(35, 1025).Viscosity, .8493e-6, 1e-12, source},
		{"18", SeaAt(18, 1025).Viscosity, 1.105e-6, .01e-6, "same table at 18 degrees, from memory"},
	})
	if SeaAt(math.NaN(), 1025).check() == nil {
		t.Error("water of no temperature passes")
	}
}

func TestHoltrop(t *testing.T) {
	const ship = "Holtrop & Mennen (1982), worked ship: L 205, B 32, T 10, volume 37500, Cp .5833, lcb -0.75 %, U stern: 1+k1 1.156, from memory"
	run(t, []check{
		{"1+k1", 1 + HoltropForm(205, 32, 10, .5833, -.75, 10), 1.156, .0006, ship},
		{"Watanabe, same ship", 1 + WatanabeForm(205, 32, 10, 37500/(205*32*10.)), 1.156, .06, "the two agree on an ordinary ship"},
	})
	k, s := demoHull().Form()
	t.Logf("demo: k %.3f, spread %.3f", k, s)
	if k < .05 || k > .35 || s <= 0 {
		t.Errorf("form factor %g, spread %g", k, s)
	}
}

func TestHullMeasures(t *testing.T) {
	const source = "closed form of the Wigley hull (S by quadrature)"
	h := wigley(10, 1, .625, 41, 41)
	run(t, []check{
		{"volume", h.Volume, 25. / 9, .003, source}, {"waterplane", h.Waterplane, 20. / 3, 1e-9, source}, {"wetted", h.Wetted, 14.8790631, .015, source},
		{"midship", h.Midship, .4166667, .0004, source}, {"Cp", h.Cp(), 2. / 3, 1e-3, source}, {"Cb", h.Cb(), 4. / 9, 1e-3, source},
		{"length", h.Length, 10, 1e-12, source}, {"draft", h.Draft, .625, 1e-12, source}, {"centre", h.Centre, 5, 1e-9, source},
		{"run in", h.RunIn, 5 * (1 - math.Sqrt(.05)), .25, "95 % of a parabola's height, to a station's spacing"}, {"transom", h.Transom, 0, 0, "both ends sharp"},
	})
	// A box: transom as wide as herself; and points above the water do not matter.
	var st []Station
	for i := range 5 {
		st = append(st, Station{X: float64(i), Points: []Point{{0, .5}, {1, .5}, {1, -.7}, {0, -.7}}})
	}
	box := must(NewHull(st))
	run(t, []check{
		{"box volume", box.Volume, 4, 1e-12, "closed form"}, {"box transom", box.Transom, 1, 1e-12, "closed form"}, {"box beam", box.Beam, 2, 0, "closed form"},
		{"box skin", box.Wetted, 4 * (2 + 2*.5), 1e-9, "closed form, ends left out"},
		{"transom drag", box.TransomDrag(.1, 1000), 500 * .01 * .2 * (1 - .2*.1/math.Sqrt(2*Gravity/4)), 1e-12, "Holtrop & Mennen (1982), by hand"},
		{"dry transom", box.TransomDrag(50, 1000), 0, 0, "clean from a Froude number of 5"},
	})
}
