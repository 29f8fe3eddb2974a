package climate

import (
	"crypto/sha256"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"thole/internal/climate/layout"
	"thole/internal/weather"
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

const deg = math.Pi / 180

// TestEmbeddedFiles: what is embedded is what the recipe made.
func TestEmbeddedFiles(t *testing.T) {
	sums, err := data.ReadFile("data/SHA256SUMS")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(sums)), "\n")
	if len(lines) != 4 {
		t.Errorf("%d sums, want 4", len(lines))
	}
	for _, line := range lines {
		sum, name, _ := strings.Cut(line, "  ")
		if got := fmt.Sprintf("%x", sha256.Sum256(unpacked(name))); got != sum {
			t.Errorf("%s: sha256 %s, recorded %s", name, got, sum)
		}
	}
	for _, want := range []string{"FerretDatasets", "Unlicense", "Comprehensive Ocean-Atmosphere", "Esbensen", "Levitus", "AS IS", "Fleet Numerical"} {
		if !strings.Contains(Notice, want) {
			t.Errorf("the notice does not name %q", want)
		}
	}
}

// samples are read from the inputs themselves with numpy, bilinear, unsmoothed, one month's mean.
// At 45 S they are the analyses' vector and the heat budget's scalar mean.
var samples = []struct {
	lat, lon float64
	month    int
	u, v, kn float64
}{
	{15, -40, 1, -6.78, -2.89, 15.3}, {-10, -100, 6, -6.12, 3.56, 14.4}, {-15, -160, 9, -4.41, 1.66, 12.3},
	{-45, -100, 7, 4.58, -1.56, 20.9}, {28, -18, 12, -2.74, -2.68, 12.4}, {20, -30, 12, -5.18, -2.06, 13.0},
	{13, -59, 1, -6.65, -2.39, 14.6}, {40, -30, 7, .89, -.06, 9.5}, {45, -30, 1, 4.67, 2.26, 22.1},
	{15, 60, 7, 9.93, 9.97, 28.0}, {15, 60, 1, -3.59, -4.12, 12.0}, {30, -140, 7, -4.62, -2.91, 12.4},
}

func TestWindSamples(t *testing.T) {
	const source = "COADS by PMEL (45 S: FNOC analyses, Esbensen & Kushnir), interpolated with numpy"
	var biasU, biasV, bias float64
	for _, s := range samples {
		u, v, scalar := StandardWind().Mean(s.lat*deg, s.lon*deg, s.month-1)
		name := fmt.Sprintf("%g %g month %d", s.lat, s.lon, s.month)
		// 0.5 m/s: a place's own scatter of 0.35 m/s in the trades, which the smoothing takes out
		run(t, []check{{name + " u", u, s.u, .5, source}, {name + " v", v, s.v, .5, source}, {name + " scalar", scalar / Knot, s.kn, .8, source}})
		biasU, biasV, bias = biasU+u-s.u, biasV+v-s.v, bias+scalar/Knot-s.kn
	}
	n := float64(len(samples))
	run(t, []check{{"bias of u", biasU / n, 0, .1, source}, {"bias of v", biasV / n, 0, .1, source}, {"bias of the scalar mean, kn", bias / n, 0, .2, source}})
}

// TestMonthsKeepTheirMeans: the line through the knots, averaged over a month by a fine sum, is
// that month's given mean, also after the bytes' rounding.
func TestMonthsKeepTheirMeans(t *testing.T) {
	f, raw := StandardWind(), unpacked("wind.bin")
	for _, cell := range []struct{ row, col int }{{52, 159}, {40, 130}, {60, 165}} {
		lat, lon := layout.Lat(cell.row)*deg, layout.Lon(cell.col)*deg
		for month := range 12 {
			sum := 0.0
			const n = 400
			for i := range n {
				u, _, _ := f.Wind(lat, lon, Month(float64(month)+(float64(i)+.5)/n))
				sum += u / n
			}
			want := layout.Wind[0].Unpack(int8(raw[layout.Index(month, cell.row, cell.col)]))
			if math.Abs(sum-want) > 1e-4 {
				t.Errorf("row %d column %d month %d: mean of the line is %g, of the data %g", cell.row, cell.col, month+1, sum, want)
			}
		}
	}
	flat := [12]float64{3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3}
	for _, x := range lines(&flat) {
		if math.Abs(x-3) > 1e-12 {
			t.Errorf("a year without seasons has a knot of %g, not 3", x)
		}
	}
}

func TestRice(t *testing.T) {
	const scipy = "scipy 1.10.1, stats.rice(a).mean()"
	run(t, []check{
		{"no mean wind", weather.RiceMean(0, 1), math.Sqrt(math.Pi / 2), 1e-14, "Rayleigh's mean, closed form"},
		{"a = 0.5", weather.RiceMean(.5, 1), 1.3304473406107031, 1e-12, scipy},
		{"a = 1", weather.RiceMean(1, 1), 1.5485724605511455, 1e-12, scipy},
		{"a = 2", weather.RiceMean(2, 1), 2.2723834280687423, 1e-12, scipy},
		{"a = 5", weather.RiceMean(5, 1), 5.101069639492126, 1e-12, scipy},
		{"a = 20", weather.RiceMean(20, 1), 20.025015684057216, 1e-11, scipy},
		{"scaled", weather.RiceMean(3, 1.5), 1.5 * 2.2723834280687423, 1e-12, "scaling"},
		{"no spread", weather.RiceMean(7, 0), 7, 0, "closed form"},
		{"steady wind", Sigma(5, 5), 0, 0, "closed form"},
		{"no mean", Sigma(0, 1), math.Sqrt(2 / math.Pi), 1e-9, "Rayleigh's mean, closed form"},
		{"steadiness of the trades", Steadiness(-6.78, -2.89, 15.3*Knot), .94, .005, "COADS at 15 N 40 W in January, computed with numpy"},
		// seven winds of a textbook kind: from 065 at 14 kn, 075/18, 080/15, 050/10, 095/12, 070/20, 330/5
		{"steadiness of seven winds", Steadiness(12.29, 0, 13.43), .915, .0005, "arithmetic"},
	})
	rapid.Check(t, func(t *rapid.T) {
		scalar := rapid.Float64Range(.1, 30).Draw(t, "scalar")
		mean := scalar * rapid.Float64Range(0, 1).Draw(t, "steadiness")
		if got := weather.RiceMean(mean, Sigma(mean, scalar)); math.Abs(got-scalar) > 2e-5*scalar {
			t.Fatalf("mean %g scalar %g: the spread gives back %g", mean, scalar, got)
		}
		if got, want := Sigma(mean, scalar), weather.Sigma(mean, scalar); math.Abs(got-want) > 1e-5*scalar {
			t.Fatalf("mean %g scalar %g: table %g, halving %g", mean, scalar, got, want)
		}
	})
	for _, x := range []float64{math.NaN(), math.Inf(1), -1, 0} {
		if s := Sigma(x, x); math.IsNaN(s) || s < 0 {
			t.Errorf("Sigma(%g, %g) is %g", x, x, s)
		}
	}
}

// TestWindEverywhere: there is a wind at every place and time, no shorter than its vector, the
// same after a turn of the earth or a year, and without jumps.
func TestWindEverywhere(t *testing.T) {
	f := StandardWind()
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-math.Pi/2, math.Pi/2).Draw(t, "lat")
		lon := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "lon")
		m := Month(rapid.Float64Range(0, 12).Draw(t, "month"))
		u, v, s := f.Wind(lat, lon, m)
		if !(s >= math.Hypot(u, v)-1e-6) || !(s < 25) {
			t.Fatalf("wind %g %g with a scalar mean of %g", u, v, s)
		}
		if u2, v2, s2 := f.Wind(lat, lon+2*math.Pi, m+12); math.Abs(u-u2)+math.Abs(v-v2)+math.Abs(s-s2) > 1e-6 {
			t.Fatalf("a turn and a year later %g %g %g, not %g %g %g", u2, v2, s2, u, v, s)
		}
		if u2, v2, s2 := f.Wind(lat, lon, m+1e-6); math.Abs(u-u2)+math.Abs(v-v2)+math.Abs(s-s2) > 1e-3 {
			t.Fatalf("a moment later %g %g %g, not %g %g %g", u2, v2, s2, u, v, s)
		}
	})
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, 2} {
		for _, at := range [][3]float64{{x, 0, 1}, {0, x, 1}, {0, 0, x}, {x, x, x}} {
			u, v, s := f.Wind(at[0], at[1], Month(at[2]))
			if math.IsNaN(u + v + s) {
				t.Errorf("the wind at %v is %g %g %g", at, u, v, s)
			}
			c, d := StandardCurrent().Current(at[0], at[1], Month(at[2]))
			if e := StandardCurrent().Error(at[0], at[1], Month(at[2])); math.IsNaN(c+d+e) || e <= 0 {
				t.Errorf("the current at %v is %g %g, its error %g", at, c, d, e)
			}
			StandardSky().At(at[0], at[1], Month(at[2]))
			StandardSky().Origin(at[0], at[1], Month(at[2]))
			Storms(at[0], at[1])
			f.Origin(at[0], at[1], Month(at[2]))
			f.Sigma(at[0], at[1], Month(at[2]))
		}
	}
}

// TestScalarIsNotLess: at every knot of every cell, and so in between.
func TestScalarIsNotLess(t *testing.T) {
	k := StandardWind().grid.knots
	for i := 0; i < len(k); i += 3 {
		if length := math.Hypot(float64(k[i]), float64(k[i+1])); float64(k[i+2]) < length-1e-5 {
			t.Fatalf("knot %d of cell %d: a vector of %g m/s and a scalar mean of %g", i/3%12, i/36, length, k[i+2])
		}
	}
}

// TestCoverage: ships reach as much of the sea as was counted in the inputs.
func TestCoverage(t *testing.T) {
	const source = "counted in COADS's UWND over cells more than half sea by etopo5, weighted by area, with numpy"
	f := StandardWind()
	share := func(south, north float64, month int, good func(Origin) bool) float64 {
		have, all := 0.0, 0.0
		for r := range layout.Rows {
			if la := layout.Lat(r); la > south && la < north {
				for c := range layout.Cols {
					if o := f.Origin(la*deg, layout.Lon(c)*deg, Month(month)-.5); o != Land {
						all += math.Cos(la * deg)
						if good(o) {
							have += math.Cos(la * deg)
						}
					}
				}
			}
		}
		return have / all
	}
	ships := func(o Origin) bool { return o == Ships || o == Blended }
	run(t, []check{ // 0.01: here a cell is sea from a third on
		{"40 S to 40 N January", share(-40, 40, 1, ships), .997, .01, source},
		{"40 S to 40 N July", share(-40, 40, 7, ships), .997, .01, source},
		{"40 S to 60 N July", share(-40, 60, 7, ships), .996, .01, source},
		{"all of the sea", share(-90, 90, 7, func(o Origin) bool { return o != Spread }), 1, 0, "the fill leaves none"},
	})
}

func TestSky(t *testing.T) {
	const source = "ESKU or COADS, interpolated with numpy"
	f := StandardSky()
	at := func(lat, lon float64, month int, q int) float64 {
		x, _ := f.grid.mean(lat*deg, lon*deg, month-1, q)
		return x
	}
	rows := []check{
		{"air at 15 N 40 W", at(15, -40, 1, 0), 24.5, .4, source}, {"sea", at(15, -40, 1, 1), 25.3, .4, source},
		{"pressure", at(15, -40, 1, 2), 101570, 60, source}, {"air at 28 N 18 W", at(28, -18, 12, 0), 19.7, .4, source},
		{"pressure of the Azores high", at(40, -30, 7, 2), 102500, 100, source},
		{"sun at 45 N 30 W in January", at(45, -30, 1, 4), 42, 6, source}, {"in December", at(45, -30, 12, 4), 37, 6, source},
	}
	for m, want := range []float64{180, 211, 237, 230, 231, 218, 215, 223, 232, 216, 194, 171} {
		rows = append(rows, check{fmt.Sprintf("sun at 15 N 40 W, month %d", m+1), at(15, -40, m+1, 4), want, 8, source})
	}
	run(t, rows)
	rapid.Check(t, func(t *rapid.T) {
		s := f.At(rapid.Float64Range(-1.5, 1.5).Draw(t, "lat"), rapid.Float64Range(-4, 4).Draw(t, "lon"), Month(rapid.Float64Range(0, 12).Draw(t, "m")))
		if s.Cloud < 0 || s.Cloud > 1 || s.Sun < 0 || s.Sun > 420 || s.AirC < -40 || s.AirC > 36 || s.SeaC < -5 || s.SeaC > 36 || s.Pressure < 96000 || s.Pressure > 104000 {
			t.Fatalf("%+v", s)
		}
	})
}

func TestSpreadBetweenYears(t *testing.T) {
	const source = "FNOC analyses 1982-1992, standard deviation of a month's mean u, with numpy"
	sd := func(lat, lon float64, month int) float64 {
		x, _ := years().mean(lat*deg, lon*deg, month-1, 0)
		return x
	}
	run(t, []check{
		{"15 N 40 W January", sd(15, -40, 1), 1.2, .15, source}, {"10 S 100 W June", sd(-10, -100, 6), 1, .15, source},
		{"40 N 30 W January", sd(40, -30, 1), 2.5, .3, source},
	})
	if e, n := StandardSpread(15*deg, -40*deg, .5); e <= 0 || n <= 0 {
		t.Errorf("spread %g %g", e, n)
	}
}

func TestMonthOf(t *testing.T) {
	at := func(y int, mo time.Month, d, h int) float64 {
		return float64(MonthOf(time.Date(y, mo, d, h, 0, 0, 0, time.UTC)))
	}
	run(t, []check{
		{"new year", at(2027, 1, 1, 0), 0, 0, "definition"}, {"middle of January", at(2027, 1, 16, 12), .5, 1e-12, "definition"},
		{"middle of February in a leap year", at(2028, 2, 15, 12), 1.5, 1e-12, "definition"}, {"end of the year", at(2027, 12, 31, 12), 11 + 30.5/31, 1e-12, "definition"},
	})
}

// TestGridAgainstPlain: on made-up lattices, the quick interpolation against a slow one written
// from the definition.
func TestGridAgainstPlain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, cols := rapid.IntRange(1, 5).Draw(t, "rows"), rapid.IntRange(1, 6).Draw(t, "cols")
		round := rapid.Bool().Draw(t, "round") && cols > 2
		stride := 10 * deg
		if round {
			stride = 2 * math.Pi / float64(cols)
		}
		g := newGrid(-.3, rapid.Float64Range(-6, 6).Draw(t, "west"), 5*deg, stride, rows, cols, 1)
		if g.round != round && cols*10 != 360 {
			t.Fatalf("round is %v", g.round)
		}
		vals := make([]float64, rows*cols)
		for i := range vals {
			vals[i] = rapid.Float64Range(-9, 9).Draw(t, "value")
			g.valid[i] = rapid.IntRange(0, 3).Draw(t, "valid") > 0
			year := [12]float64{}
			for m := range year {
				year[m] = vals[i]
			}
			g.set(i, 0, &year)
		}
		lat := g.south + g.step*rapid.Float64Range(-.49, float64(rows)-.51).Draw(t, "y")
		x := rapid.Float64Range(0, float64(cols)-1).Draw(t, "x")
		lon := g.west + stride*x
		var out [1]float64
		ok := g.value(lat, lon+2*math.Pi*float64(rapid.IntRange(-2, 2).Draw(t, "turns")), 3, out[:])
		sum, weight := 0.0, 0.0
		for j := range rows {
			for i := range cols {
				y := math.Max(0, math.Min(float64(rows-1), (lat-g.south)/g.step))
				w := math.Max(0, 1-math.Abs(y-float64(j))) * math.Max(0, 1-math.Abs(x-float64(i)))
				if g.valid[j*cols+i] {
					sum, weight = sum+w*vals[j*cols+i], weight+w
				}
			}
		}
		if ok != (weight > 1e-9) && math.Abs(weight-1e-9) > 1e-8 {
			t.Fatalf("found %v with a weight of %g", ok, weight)
		}
		if ok && weight > 1e-6 && math.Abs(out[0]-sum/weight) > 1e-5 {
			t.Fatalf("quick %g, slow %g", out[0], sum/weight)
		}
	})
}

// TestNoAllocation: the questions of a passage cost no memory.
func TestNoAllocation(t *testing.T) {
	w, c := StandardWind(), StandardCurrent()
	if n := testing.AllocsPerRun(100, func() {
		w.Wind(.3, -.6, 2.2)
		c.Current(.3, -.6, 2.2)
		c.Error(.3, -.6, 2.2)
		StandardSky().At(.3, -.6, 2.2)
		StandardSpread(.3, -.6, 2.2)
		w.Sigma(.3, -.6, 2.2)
		if b := Storms(.3, -.6); b != nil {
			b.Season(7)
		}
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

var sink float64

func BenchmarkWind(b *testing.B) {
	f := StandardWind()
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		u, _, s := f.Wind(.2+float64(i%1000)*1e-4, -.6-float64(i%777)*1e-3, Month(float64(i%1200)/100))
		sink += u + s
	}
}

func BenchmarkCurrent(b *testing.B) {
	f := StandardCurrent()
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		u, _ := f.Current(.2+float64(i%1000)*1e-4, -.6-float64(i%777)*1e-3, Month(float64(i%1200)/100))
		sink += u
	}
}

func BenchmarkSigma(b *testing.B) {
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		sink += Sigma(float64(i%100)/20, 6)
	}
}

func BenchmarkStorms(b *testing.B) {
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if Storms(.25, -1-float64(i%100)*.01) != nil {
			sink++
		}
	}
}

func BenchmarkUnpackWind(b *testing.B) {
	for b.Loop() {
		g, _ := embedded("wind.bin", layout.Wind)
		sink += float64(g.knots[0])
	}
}
