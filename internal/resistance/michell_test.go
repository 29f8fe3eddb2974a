package resistance

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// check is one number against where it comes from.
type check struct {
	name   string
	got    float64
	want   float64
	tol    float64 // of the value itself
	source string
}

func run(t *testing.T, rows []check) {
	t.Helper()
	for _, r := range rows {
		if r.source == "" {
			t.Errorf("%s: no source", r.name)
		}
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s: got %.8g, want %.8g within %g (%s)", r.name, r.got, r.want, r.tol, r.source)
		}
	}
}

// must is a value that came without an error.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// wigley is the parabolic hull of length l, beam b, draft d.
func wigley(l, b, d float64, stations, depths int) *Hull {
	return must(HullOf(func(x, z float64) float64 {
		s := 2*x/l - 1
		return b / 2 * (1 - s*s) * (1 - z*z/(d*d))
	}, 0, l, d, stations, depths))
}

// TestMichellWigley: the integral on the parabolic hull, L/B 10, L/T 16.
func TestMichellWigley(t *testing.T) {
	const source = "Michell's integral on the Wigley hull, two independent quadratures agreeing to 1e-6; curve as in the 1979 workshop and Tuck (1989)"
	want := []struct{ fn, cw, r float64 }{
		{.150, .36169, 6.054321e-7}, {.175, .45331, 1.032803e-6}, {.200, .88756, 2.641220e-6}, {.225, .87373, 3.290706e-6},
		{.250, 1.06392, 4.946915e-6}, {.266, .94346, 4.966313e-6}, {.267, .97551, 5.173675e-6}, {.289, 1.98676, 1.234487e-5},
		{.300, 2.14167, 1.433970e-5}, {.313, 1.91757, 1.397606e-5},
	}
	h := wigley(1, 0.1, 0.0625, 61, 121)
	for _, w := range want {
		v := w.fn * math.Sqrt(Gravity)
		r := h.Waves(v, 1000)
		run(t, []check{
			{"R/(rho g L3)", r / (1000 * Gravity), w.r, 0.003 * w.r, source},
			{"CW", r / (500 * v * v * .148790631) * 1000, w.cw, 0.003 * w.cw, source},
		})
		t.Logf("Fn %.3f: %.7e, %+.4f %%", w.fn, r/(1000*Gravity), 100*(r/(1000*Gravity)/w.r-1))
	}
}

// slow is |J|² by brute force: f_x by differences on a fine grid.
func slow(f func(x, z float64) float64, l, d, kappa, omega float64) float64 {
	const n, m = 4000, 400
	var re, im float64
	for i := range n {
		x0, x1 := l*float64(i)/n, l*float64(i+1)/n
		var g float64
		for j := range m {
			z := d * (float64(j) + .5) / m
			g += (f(x1, z) - f(x0, z)) * math.Exp(-kappa*z) * d / m
		}
		s, c := math.Sincos(omega * (x0 + x1) / 2)
		re, im = re+g*c, im+g*s
	}
	return re*re + im*im
}

// TestKernelAgainstBruteForce: an asymmetric rockered hull, sine and cosine parts both at work.
func TestKernelAgainstBruteForce(t *testing.T) {
	const l, d = 6.8, 0.3
	f := func(x, z float64) float64 {
		s := x / l
		keel := d * (0.4 + 2.4*s*(1-s))
		if z >= keel {
			return 0
		}
		u := z / keel
		return 2.1 * s * s * (1 - s) * math.Sqrt(1-u) * (1 + 0.3*u)
	}
	h := must(NewHull(stationsOf(f, func(x float64) float64 { s := x / l; return d * (0.4 + 2.4*s*(1-s)) }, l, 61, 200)))
	for _, w := range []struct{ kappa, omega float64 }{{2, 1.5}, {5, 6}, {30, 12}, {80, 20}, {300, 35}} {
		got, want := h.waves.square(w.kappa, w.omega), slow(f, l, d, w.kappa, w.omega)
		run(t, []check{{"|J|2", got, want, 0.02 * want, "plain sums on 4000 by 400 cells (2 % is the brute force's own, by the root at the keel)"}})
	}
}

// stationsOf follows a hull's own keel with points crowded to it.
func stationsOf(f func(x, z float64) float64, keel func(x float64) float64, l float64, n, m int) []Station {
	var st []Station
	for i := range n {
		x := l * float64(i) / float64(n-1)
		s := Station{X: x}
		for j := range m + 1 {
			u := 1 - float64(j)/float64(m)
			z := keel(x) * (1 - (1-u)*(1-u))
			s.Points = append(s.Points, Point{f(x, z), z})
		}
		st = append(st, s)
	}
	return st
}

// TestMichellScales: thin-ship theory is exactly of the second degree in the beam; a hull twice as long at the same
// Froude number has eight times the resistance; and running her backwards changes nothing.
func TestMichellScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fn := rapid.Float64Range(0.09, 0.6).Draw(t, "fn")
		lean := rapid.Float64Range(-.8, .8).Draw(t, "lean")
		shape := func(k, l float64, back bool) *Hull {
			return must(HullOf(func(x, z float64) float64 {
				s := 2*x/l - 1
				if back {
					s = -s
				}
				return k * l * .05 * (1 - s*s) * (1 + lean*s) * (1 - z*z/(l*l*.0036))
			}, 0, l, .06*l, 41, 25))
		}
		v := fn * math.Sqrt(Gravity)
		one := shape(1, 1, false).Waves(v, 1000)
		run2 := func(what string, got, want, tol float64) {
			if !(math.Abs(got-want) <= tol*want) {
				t.Fatalf("%s: %g, want %g", what, got, want)
			}
		}
		run2("beam twice", shape(2, 1, false).Waves(v, 1000), 4*one, 1e-12)
		run2("length twice", shape(1, 2, false).Waves(v*math.Sqrt2, 1000), 8*one, 1e-6) // the sum may end a step earlier
		run2("backwards", shape(1, 1, true).Waves(v, 1000), one, 1e-6)
		run2("density", shape(1, 1, false).Waves(v, 2000), 2*one, 1e-12)
	})
}

// TestMichellConverges: halving the spacing of stations divides the error by about eight or more.
func TestMichellConverges(t *testing.T) {
	f := func(x, z float64) float64 {
		return .05 * math.Sin(math.Pi*x) * (1 + .4*math.Cos(math.Pi*x)) * (1 - z/.06)
	}
	at := func(n int) float64 { return must(HullOf(f, 0, 1, .06, n, 31)).Waves(.3*math.Sqrt(Gravity), 1000) }
	exact := at(481)
	coarse, fine := math.Abs(at(31)/exact-1), math.Abs(at(61)/exact-1)
	t.Logf("errors %.2e, %.2e", coarse, fine)
	if !(fine < coarse/5) || fine > 1e-3 {
		t.Errorf("error %.2e with 31 stations, %.2e with 61", coarse, fine)
	}
}

// TestWavesHostile: nonsense is refused by NaN, still water is none.
func TestWavesHostile(t *testing.T) {
	h := wigley(1, .1, .0625, 21, 21)
	for _, v := range []float64{-1, math.NaN(), math.Inf(1)} {
		if r := h.Waves(v, 1000); !math.IsNaN(r) {
			t.Errorf("%g m/s makes %g N", v, r)
		}
	}
	if h.Waves(0, 1000) != 0 {
		t.Error("waves at rest")
	}
	for _, v := range []float64{1e-9, 1e-3, 30, 1e4} {
		if r := h.Waves(v, 1000); !(r >= 0) || math.IsInf(r, 0) {
			t.Errorf("%g m/s makes %g N", v, r)
		}
	}
}

func BenchmarkWaves(b *testing.B) {
	h := demoHull()
	for _, v := range []float64{1, 2} {
		b.Run(map[float64]string{1: "1mps", 2: "2mps"}[v], func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				h.Waves(v, 1025)
			}
		})
	}
}

// demoHull is an invented double-ended rowing boat, 6.8 m on the waterline and 650 kg.
func demoHull() *Hull {
	const l, half, d = 6.8, .56, .27
	keel := func(x float64) float64 { s := 2*x/l - 1; return d * (1 - .75*s*s*s*s) }
	f := func(x, z float64) float64 {
		s := 2*x/l - 1
		k := keel(x)
		if z >= k {
			return 0
		}
		return half * (1 - s*s) * (1 + .12*s) * math.Sqrt(1-z/k)
	}
	return must(NewHull(stationsOf(f, keel, l, 53, 40)))
}
