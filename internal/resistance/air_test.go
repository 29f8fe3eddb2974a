package resistance

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestAppendage(t *testing.T) {
	w := Water{1000, 1e-6}
	a := Appendage{Name: "rudder", Area: .1, Chord: .2, Thickness: .12}
	want := 500 * 4 * .2 * ITTC57(4e5) * (1 + .24 + 60*math.Pow(.12, 4))
	run(t, []check{
		{"rudder at 2 m/s", a.Drag(2, w, 0), want, 1e-12, "Hoerner (1965) ch. 6, by hand"},
		{"a rod", Appendage{Blunt: .01}.Drag(2, w, 0), 20, 1e-12, "½ rho Cd A v2"},
		{"at rest", a.Drag(0, w, 0), 0, 0, "nothing moves"},
	})
	if !(a.Drag(2, w, 1e-3) > a.Drag(2, w, 0)) {
		t.Error("growth on the rudder costs nothing")
	}
}

func TestAir(t *testing.T) {
	const kn = 1852. / 3600
	at10 := []Windage{{Area: 3, Drag: 1, Height: 10}}
	low := []Windage{{Area: 1.9, Drag: .9, Height: 1}}
	run(t, []check{
		{"3 m2 at 20 kn", must(AirDrag(at10, 0, Wind{Speed: 20 * kn})).Value, 194.52, .01, "½ rho Cd A V2, rho 1.225"},
		{"still air", must(AirDrag(at10, 2, Wind{})).Value, .5 * 1.225 * 3 * 4, 1e-12, "½ rho Cd A V2"},
		{"fair wind", must(AirDrag(at10, 2, Wind{Speed: 5, From: math.Pi})).Value, -.5 * 1.225 * 3 * 9, 1e-9, "3 m/s felt from astern"},
		{"beam wind", must(AirDrag(at10, 2, Wind{Speed: 5, From: math.Pi / 2})).Value, .5 * 1.225 * 3 * math.Sqrt(29) * 2, 1e-9, "the wind felt, its share along"},
		{"wind at 1 m", WindShare(1), .776, .001, "Hsu, Meindl & Gilhousen (1994): power 0.11 over sea, from memory"},
		{"15 kn on the nose of a rowing boat", must(AirDrag(low, 0, Wind{Speed: 15 * kn})).Value, 48, 12, "rowers' estimate, 1.9 m2 from ahead, drag area guessed: common practice, no source"},
	})
	rapid.Check(t, func(t *rapid.T) {
		p := []Windage{{Area: rapid.Float64Range(0, 5).Draw(t, "a"), Drag: 1, Height: rapid.Float64Range(0, 3).Draw(t, "h")}}
		w := Wind{rapid.Float64Range(0, 30).Draw(t, "w"), rapid.Float64Range(-7, 7).Draw(t, "from")}
		v := rapid.Float64Range(-3, 3).Draw(t, "v")
		a, b := must(AirDrag(p, v, w)).Value, must(AirDrag(p, v+.1, w)).Value
		m := must(AirDrag(p, v, Wind{w.Speed, -w.From})).Value
		both := must(AirDrag(append(p, p...), v, w)).Value
		if b < a-1e-12 || math.Abs(m-a) > 1e-12*(1+math.Abs(a)) || math.Abs(both-2*a) > 1e-9*(1+math.Abs(a)) {
			t.Fatalf("%g, faster %g, mirrored %g, twice %g", a, b, m, both)
		}
	})
	for _, bad := range []Windage{{Area: -1}, {Drag: math.NaN()}, {Height: -1}, {Area: math.Inf(1)}} {
		if _, err := AirDrag([]Windage{bad}, 0, Wind{}); err == nil {
			t.Errorf("%+v passes", bad)
		}
	}
	if _, err := AirDrag(nil, 0, Wind{Speed: -1}); err == nil {
		t.Error("a negative wind passes")
	}
}

func TestBessel(t *testing.T) {
	for _, x := range []float64{.01, .3, 1, 1.99, 2.01, 3.7, 3.8, 9} {
		var i1, k1 float64 // integral representations, by plain sums
		const n = 200000
		for k := range n {
			a := math.Pi * (float64(k) + .5) / n
			i1 += math.Exp(x*(math.Cos(a)-1)) * math.Cos(a) / n
			u := 12 * (float64(k) + .5) / n
			k1 += math.Exp(-x*(math.Cosh(u)+1)) * math.Cosh(u) * 12 / n
		}
		gi, gk := besselI1K1(x)
		const source = "integral representations, Abramowitz & Stegun 9.6.19 and 9.6.24"
		run(t, []check{{"I1", gi, i1, 3e-7 * i1, source}, {"K1", gk, k1, 3e-7 * k1, source}})
	}
}

func TestAddedDrag(t *testing.T) {
	h := demoHull()
	r := func(v, height, period, from float64) float64 {
		return h.AddedDrag(v, 1025, Sea{height, period, from})
	}
	one := r(1.2, .5, 3, 0)
	t.Logf("0.5 m, 3 s, 1.2 m/s: %.1f N; 1 m, 4.5 s: %.1f N; 2 m, 7 s: %.1f N; 0.2 m, 1.7 s: %.1f N", one, r(1.2, 1, 4.5, 0), r(1.2, 2, 7, 0), r(1.2, .2, 1.7, 0))
	run(t, []check{
		{"height twice", r(1.2, 1, 3, 0), 4 * one, 1e-9 * one, "of the second degree in the height"},
		{"either bow", r(1.2, .5, 3, -1.2), r(1.2, .5, 3, 1.2), 1e-12, "symmetry"},
		{"40 degrees off", r(1.2, .5, 3, .7), one, 1e-12, "the rule: as from ahead within 45 degrees"},
		{"from astern", r(1.2, .5, 3, math.Pi), 0, 0, "modelling choice"},
		{"flat", r(1.2, 0, 3, 0), 0, 0, "no sea"},
		{"long swell", r(1.2, 1, 20, 0), 0, .1, "she rides over it: no added drag in very long waves"},
	})
	// By hand at one frequency: a spectrum so high and slow that only what is thrown back is left, and a plain sum.
	const v, hs, tm = 1.5, .4, 2.2
	l, b, d, cb := h.Length, h.Beam, h.Draft, h.Cb()
	fn := v / math.Sqrt(Gravity*l)
	sum := 0.0
	for w := .3; w < 40; w += .0005 {
		x := math.Sqrt(l/Gravity) * math.Pow(.25, 1./3) / (1.17 * math.Pow(fn, -.143)) * w
		b1, d1 := 11., 14.
		if x >= 1 {
			b1, d1 = -8.5, -566*math.Pow(l/b, -2.66)
		}
		raw := math.Pow(x, b1) * math.Exp(b1/d1*(1-math.Pow(x, d1))) * 60.3 * math.Pow(cb, 1.34) * math.Pow(fn, 1.5) * math.Exp(-3.5*fn)
		i1, k1 := besselI1K1(1.5 * w * w / Gravity * d)
		f1 := .692*math.Pow(v/math.Sqrt(d*Gravity), .769) + 1.81*math.Pow(cb, 6.95)
		back := math.Pi * math.Pi * i1 * i1 / (math.Pi*math.Pi*i1*i1 + k1*k1) * f1
		e := 173 * hs * hs / math.Pow(tm, 4) / math.Pow(w, 5) * math.Exp(-691/math.Pow(tm*w, 4))
		sum += 2 * .0005 * e * (4*1025*Gravity*b*b/l*raw + .5*1025*Gravity*b*back)
	}
	run(t, []check{{"spectrum", r(v, hs, tm, 0), sum, .02 * sum, "STAwave-2 written out and summed in 80 000 steps; our range ends at four peaks"}})
	for v := 0.1; v < 2; v += .1 {
		if r(v, .5, 3, 0) < r(v-.1, .5, 3, 0) {
			t.Errorf("less added drag at %g m/s than slower", v)
		}
	}
}
