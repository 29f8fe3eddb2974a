package weather

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

const knot = 1852.0 / 3600

// check is one number against something outside.
type check struct {
	name           string
	got, want, tol float64
	relative       bool
	source         string
}

func run(t *testing.T, rows []check) {
	t.Helper()
	for _, c := range rows {
		if c.source == "" {
			t.Errorf("%s: no source", c.name)
		}
		tol := c.tol
		if c.relative {
			tol *= math.Abs(c.want)
		}
		if !(math.Abs(c.got-c.want) <= tol) {
			t.Errorf("%s: got %.10g, want %.10g within %.3g (%s)", c.name, c.got, c.want, tol, c.source)
		}
	}
}

// TestPhilox: the generator's own known answers.
func TestPhilox(t *testing.T) {
	const f = 0xffffffff
	for _, c := range []struct {
		counter [4]uint32
		k0, k1  uint32
		want    [4]uint32
	}{ // source: Random123's kat_vectors, philox4x32 10 (from memory, high)
		{[4]uint32{}, 0, 0, [4]uint32{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}},
		{[4]uint32{f, f, f, f}, f, f, [4]uint32{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}},
		{[4]uint32{0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, 0xa4093822, 0x299f31d0, [4]uint32{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}},
	} {
		if got := philox(c.counter, c.k0, c.k1); got != c.want {
			t.Errorf("philox(%x): got %x, want %x", c.counter, got, c.want)
		}
	}
}

// quadrature is the mean of |x|^power beyond a speed for a normal vector, by brute force.
func quadrature(mean, sigma, from float64, power float64) float64 {
	sum, n, m := 0.0, 6000, 720
	top := mean + 12*sigma
	dr := (top - from) / float64(n)
	for i := range n {
		r := from + (float64(i)+0.5)*dr
		ring := 0.0
		for j := range m {
			th := 2 * math.Pi * float64(j) / float64(m)
			ring += math.Exp(-(r*r + mean*mean - 2*r*mean*math.Cos(th)) / (2 * sigma * sigma))
		}
		sum += ring * 2 * math.Pi / float64(m) / (2 * math.Pi * sigma * sigma) * r * math.Pow(r, power) * dr
	}
	return sum
}

func TestRiceMean(t *testing.T) {
	i0, i1 := bessel(1)
	j0, j1 := bessel(5)
	k0, k1 := bessel(20)
	l0, l1 := bessel(math.Nextafter(20, 21))
	run(t, []check{
		{"I0(1)", i0 * math.E, 1.2660658777520083, 1e-14, true, "Abramowitz & Stegun table 9.8 (from memory, high)"},
		{"I1(1)", i1 * math.E, 0.5651591039924851, 1e-14, true, "Abramowitz & Stegun table 9.8 (from memory, high)"},
		{"I0(5)", j0 * math.Exp(5), 27.239871823604442, 1e-14, true, "Abramowitz & Stegun table 9.8 (from memory, high)"},
		{"I1(5)", j1 * math.Exp(5), 24.335642142450524, 1e-14, true, "Abramowitz & Stegun table 9.8 (from memory, high)"},
		{"I0 where series meets asymptotic", l0, k0, 1e-13, true, "the two must agree"},
		{"I1 where series meets asymptotic", l1, k1, 1e-13, true, "the two must agree"},
		{"no mean", RiceMean(0, 2), 2 * math.Sqrt(math.Pi/2), 1e-14, true, "Rayleigh's mean, closed form"},
		{"little spread", RiceMean(10, 0.1), 10 + 0.01/20, 1e-8, true, "nu + sigma2/2nu, expansion; next term sigma4/8nu3"},
		{"mean 7.37 sigma 2", RiceMean(7.37, 2), quadrature(7.37, 2, 0, 1), 1e-7, true, "quadrature in the plane"},
		{"mean 1 sigma 4", RiceMean(1, 4), quadrature(1, 4, 0, 1), 1e-7, true, "quadrature in the plane"},
	})
	rapid.Check(t, func(t *rapid.T) {
		mean, sigma := rapid.Float64Range(0, 25).Draw(t, "mean"), rapid.Float64Range(0.05, 15).Draw(t, "sigma")
		if mean > 12*sigma {
			t.Skip("too steady to tell the spread from the mean speed")
		}
		if got := Sigma(mean, RiceMean(mean, sigma)); math.Abs(got-sigma) > 1e-9*(mean+sigma)*(1+mean/sigma) {
			t.Fatalf("Sigma undoes RiceMean: got %v, want %v", got, sigma)
		}
	})
}

func TestOver(t *testing.T) {
	run(t, []check{
		{"no mean", Over(0, 4, 6), math.Exp(-36.0 / 32), 1e-12, true, "Rayleigh's tail, closed form"},
		{"trade", Over(7.37, 2, 10), quadrature(7.37, 2, 10, 0), 1e-6, false, "quadrature in the plane"},
		{"westerly gale", Over(5.2, 8.5, Gale), quadrature(5.2, 8.5, Gale, 0), 1e-6, false, "quadrature in the plane"},
		{"sure", Over(5, 1, 0), 1, 0, false, "closed form"},
		{"no spread, under", Over(5, 0, 6), 0, 0, false, "closed form"},
		{"no spread, over", Over(7, 0, 6), 1, 0, false, "closed form"},
		{"steady, far form against near", Over(40, 1.001*40/30.0, 41), quadrature(40, 1.001*40/30.0, 41, 0), 2e-4, false, "quadrature in the plane"},
	})
}

// sample takes winds forward and gives their parts, by hours.
func sample(t *testing.T, m Model, step, u, v, speed, way float64, n int, passage uint64) (e, no, s []float64) {
	t.Helper()
	w, err := New(m, step)
	if err != nil {
		t.Fatal(err)
	}
	d := Draws{Seed: 7, Passage: passage}
	st := w.Begin(d)
	for k := range n {
		a, b := w.Wind(st, u, v, speed)
		e, no, s = append(e, a), append(no, b), append(s, math.Hypot(a, b))
		w.Next(&st, way, d, uint32(k+2))
	}
	return
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

func lag(x []float64, k int) float64 {
	m, sum := mean(x), 0.0
	for i := range len(x) - k {
		sum += (x[i] - m) * (x[i+k] - m)
	}
	return sum / float64(len(x)-k)
}

// TestClimatology: many years of wind have the climatology's mean vector and mean speed, and the
// spread that Rice gives.
func TestClimatology(t *testing.T) {
	for _, c := range []struct {
		place       string
		u, v, speed float64
	}{ // source: sample values of the climatology, data.md 1
		{"15N 40W January", -6.78, -2.89, 15.3 * knot},
		{"28N 18W December", -2.74, -2.68, 12.4 * knot},
		{"40N 30W July", 0.89, -0.06, 9.5 * knot},
		{"45N 30W January", 4.67, 2.26, 22.1 * knot},
	} {
		m := Usual()
		m.Season = 5 // so that the slow part, too, goes round often enough to be averaged
		e, n, s := sample(t, m, 6*3600, c.u, c.v, c.speed, 15000, 400000, 3)
		sigma := Sigma(math.Hypot(c.u, c.v), c.speed)
		gale := 0.0
		for _, x := range s {
			if x > 12 {
				gale++
			}
		}
		// 400,000 steps of six hours hold some 15,000 independent winds: 0.01 sigma; three of those.
		tol := 0.035 * sigma
		run(t, []check{
			{c.place + " u", mean(e), c.u, tol, false, "the climatology"},
			{c.place + " v", mean(n), c.v, tol, false, "the climatology"},
			{c.place + " speed", mean(s), c.speed, tol, false, "the climatology"},
			{c.place + " spread u", math.Sqrt(lag(e, 0)), sigma, tol, false, "Rice 1945"},
			{c.place + " spread v", math.Sqrt(lag(n, 0)), sigma, tol, false, "Rice 1945"},
			{c.place + " over 12 m/s", gale / float64(len(s)), Over(math.Hypot(c.u, c.v), sigma, 12), 0.012, false, "Marcum's Q"},
		})
	}
}

// TestLags: what is left of a departure after hours and miles.
func TestLags(t *testing.T) {
	m := Model{East: 48, North: 24, Reach: 500e3, Season: 45, Spread: 1}
	n := 400000
	e, no, _ := sample(t, m, 6*3600, 3, 0, 8, 0, n, 1)
	far, _, _ := sample(t, m, 6*3600, 3, 0, 8, 50e3, n, 1)
	fine, _, _ := sample(t, m, 3600, 3, 0, 8, 0, n, 1)
	r := func(x []float64, k int) float64 { return lag(x, k) / lag(x, 0) }
	run(t, []check{
		{"east, 6 h", r(e, 1), 0.8825, 0.006, false, "checks-voyage.md 6: AR(1), 6 h steps, tau 48 h"},
		{"east, 48 h", r(e, 8), math.Exp(-1), 0.02, false, "closed form"},
		{"north, 48 h", r(no, 8), math.Exp(-2), 0.02, false, "closed form"},
		{"east, 6 h and 50 km", r(far, 1), math.Exp(-6.0/48 - 0.1), 0.01, false, "closed form"},
		{"east, six steps of an hour", r(fine, 6), 0.8825, 0.01, false, "as by steps of 6 h: the step must not matter"},
		{"east with north", lag(mix(e, no), 0) - lag(e, 0) - lag(no, 0), 0, 0.03 * lag(e, 0), false, "independent, closed form"},
		{"40 days at 6 h hold", 160 / ((1 + 0.8825) / (1 - 0.8825)), 10.0, 0.05, false, "checks-voyage.md 6: independent samples"},
	})
}

func mix(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] + b[i]
	}
	return out
}

// TestYears: one year's mean differs from another's by what was asked, and no more in all.
func TestYears(t *testing.T) {
	m := Usual()
	m.East, m.North, m.Season, m.Year = 24, 24, 1e5, 1.5 // a year's part that does not move
	var means, all []float64
	for p := range 400 {
		e, _, _ := sample(t, m, 6*3600, 5, 0, 8, 0, 2000, uint64(p))
		means = append(means, mean(e))
		all = append(all, e...)
	}
	sigma := Sigma(5, 8)
	n := 2000.0 / ((1 + math.Exp(-0.25)) / (1 - math.Exp(-0.25)))
	run(t, []check{
		{"between years", math.Sqrt(lag(means, 0)), math.Sqrt(1.5*1.5 + (sigma*sigma-1.5*1.5)/n), 0.12, true, "asked, and the mean of n independent; 400 years tell it to 4 %"},
		{"in all", math.Sqrt(lag(all, 0)), sigma, 0.03, true, "Rice 1945"},
	})
}

func TestWaves(t *testing.T) {
	a, b := SMB(10, 100e3), SMB(15, 200e3)
	c, d := JONSWAP(10, 100e3), JONSWAP(15, 200e3)
	src := "checks-voyage.md 6 (formulas of the Shore Protection Manual 1977 and Hasselmann 1973)"
	run(t, []check{
		{"SMB H 10 m/s 100 km", a.Height, 1.54, 0.005, false, src},
		{"SMB T", a.Period, 4.96, 0.005, false, src},
		{"SMB H 15 m/s 200 km", b.Height, 3.32, 0.005, false, src},
		{"SMB T", b.Period, 7.28, 0.005, false, src},
		{"JONSWAP H 10 m/s 100 km", c.Height, 1.62, 0.005, false, src},
		{"JONSWAP T", c.Period, 6.24, 0.005, false, src},
		{"JONSWAP H 15 m/s 200 km", d.Height, 3.43, 0.005, false, src},
		{"JONSWAP T", d.Period, 9.00, 0.005, false, src},
		{"hours for 12 m/s to raise what 200 km let it", gravity * 1 / 12 * timeFor(12, 200e3), 6 * math.Pi / jonB * math.Pow(gravity*200e3/144, 2.0/3), 0.05 * jonC * math.Pow(gravity*200e3/144, 2.0/3), false,
			"energy goes down the fetch at the group speed of the peak, g T/4 pi, integrated: closed form; the spectrum's mean frequency is some per cent above the peak's"},
		{"full 5 m/s", Full(5).Height, 0.61, 0.01, false, "Pierson & Moskowitz, checks-voyage.md 6"},
		{"full 10 m/s", Full(10).Height, 2.46, 0.01, false, "Pierson & Moskowitz, checks-voyage.md 6"},
		{"full 15 m/s", Full(15).Height, 5.54, 0.01, false, "Pierson & Moskowitz, checks-voyage.md 6"},
		{"JONSWAP capped, 8 m/s 1000 km", JONSWAP(8, 1000e3).Height, 1.6, 0.03, false, "checks-voyage.md 6: 4.09 uncapped, 1.6 fully developed"},
		{"JONSWAP uncapped would be", 64 / gravity * jonA * math.Sqrt(gravity*1e6/64), 4.09, 0.01, false, "checks-voyage.md 6"},
	})
}

// timeFor is the time in which a wind raises what a fetch lets it, s, by halving.
func timeFor(wind, fetch float64) float64 {
	lo, hi := 0.0, 1e7
	for range 80 {
		if mid := (lo + hi) / 2; FetchFor(wind, mid) < fetch {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// TestSeaGrows: step by step the sea is what the law by time gives at once, and falls when the wind does.
func TestSeaGrows(t *testing.T) {
	var s Sea
	for h := 1; h <= 8; h++ {
		s.Next(12, 3600)
		run(t, []check{{"12 m/s", s.Height, Grown(12, math.Inf(1), float64(h)*3600).Height, 1e-9, true, "Grown, the closed form"}})
	}
	for range 400 {
		s.Next(12, 3600)
	}
	run(t, []check{{"at last", s.Height, Full(12).Height, 1e-9, true, "fully developed"}})
	for range 24 {
		s.Next(0, 3600)
	}
	run(t, []check{{"a day of calm", s.Height, Full(12).Height / math.E, 1e-9, true, "closed form of the fall"}})
	rapid.Check(t, func(t *rapid.T) {
		var s Sea
		top := 0.0
		for _, w := range rapid.SliceOf(rapid.Float64Range(0, 60)).Draw(t, "winds") {
			s.Next(w, 3600)
			top = math.Max(top, w)
			if !(s.Height >= 0 && s.Height <= Full(top).Height*(1+1e-12)) {
				t.Fatalf("a sea of %v m after winds up to %v", s.Height, top)
			}
		}
	})
}

func TestScales(t *testing.T) {
	for i, f := range Beauforts {
		if f.Number != i || i > 0 && f.Low <= Beauforts[i-1].High {
			t.Errorf("force %d is out of order", i)
		}
		mid := f.Knots * knot
		if i > 0 && i < 12 && (mid < f.Low-0.3 || mid > f.High+0.3) {
			t.Errorf("force %d: the mean of the UK Met Office's table, %v kn, is not within WMO 1100's limits", i, f.Knots)
		}
		if b := 0.836 * math.Pow(float64(i), 1.5); i > 0 && i < 12 && Beaufort(b).Number != i {
			t.Errorf("v = 0.836 B^1.5 = %.2f gives force %d, not %d", b, Beaufort(b).Number, i)
		}
	}
	for _, c := range []struct {
		h    float64
		want int
	}{{0, 0}, {0.05, 1}, {0.4, 2}, {1.25, 3}, {2, 4}, {3.9, 5}, {5, 6}, {8, 7}, {12, 8}, {15, 9}, {1000, 9}} {
		if got := StateOf(c.h).Code; got != c.want {
			t.Errorf("a sea of %v m: state %d, want %d (WMO 3700)", c.h, got, c.want)
		}
	}
	if Beaufort(math.NaN()).Number != 0 || Beaufort(-3).Number != 0 || Beaufort(1e9).Number != 12 {
		t.Error("a wind outside the scale must be at its end")
	}
}

// TestHostile: what cannot be, is refused, or gives nothing but not a number is never given.
func TestHostile(t *testing.T) {
	for _, change := range []func(*Model){
		func(m *Model) { m.East = 0 }, func(m *Model) { m.North = math.NaN() }, func(m *Model) { m.Reach = -1 },
		func(m *Model) { m.Year = math.Inf(1) }, func(m *Model) { m.Season = 0 }, func(m *Model) { m.Spread = -0.1 },
	} {
		m := Usual()
		change(&m)
		if _, err := New(m, 3600); err == nil {
			t.Errorf("%+v was taken", m)
		}
	}
	if _, err := New(Usual(), 0); err == nil {
		t.Error("a step of nothing was taken")
	}
	for _, w := range []Waves{SMB(math.NaN(), 1), JONSWAP(10, -1), Full(-1), Grown(10, 1e5, 0), SMB(0, 0)} {
		if w != (Waves{}) {
			t.Errorf("waves %v out of nothing", w)
		}
	}
	w, _ := New(Usual(), 3600)
	if a, _ := w.Wind(State{}, math.NaN(), 0, 5); !math.IsNaN(a) {
		t.Error("a mean that is not a number must not become one")
	}
	rapid.Check(t, func(t *rapid.T) {
		u, v := rapid.Float64Range(-40, 40).Draw(t, "u"), rapid.Float64Range(-40, 40).Draw(t, "v")
		speed := rapid.Float64Range(-5, 60).Draw(t, "speed")
		a, b := w.Wind(State{1, -2, 0.5, 3}, u, v, speed)
		if math.IsNaN(a) || math.IsNaN(b) || w.Spread(u, v, speed) < 0 {
			t.Fatalf("wind %v %v", a, b)
		}
	})
}

func BenchmarkNext(b *testing.B) {
	w, _ := New(Usual(), 3600)
	d := Draws{Seed: 1}
	s := w.Begin(d)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		w.Next(&s, 1500, d, uint32(i))
		w.Wind(s, -6.78, -2.89, 7.87)
	}
}

func BenchmarkSea(b *testing.B) {
	var s Sea
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		s.Next(float64(i%20), 3600)
	}
}
