package shape

import (
	"math"
	"testing"

	"thole/internal/hydro"
	"thole/internal/model"
	"thole/internal/units"

	"gonum.org/v1/gonum/spatial/r3"
)

const sw = 1025.0

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

// measured makes a boat of stations given by y(x, z) at n stations of m points, heights from foot(x)
// to top; round is the step to which a half model at the scale is read, 0 for exact.
func measured(n, m int, length float64, section func(x float64, f float64) (y, z float64), scale, round float64) *model.Boat {
	b := &model.Boat{}
	b.Hull.Scale = 1
	if round > 0 {
		b.Hull.FromModel, b.Hull.Scale, b.Hull.Tolerance = true, scale, units.Length(0.0005)
	}
	read := func(v float64) float64 {
		if round == 0 {
			return v
		}
		return math.Round(v/scale/round) * round * scale
	}
	for i := range n {
		x := length * float64(i) / float64(n-1)
		st := model.Station{X: x}
		for j := range m {
			y, z := section(x, float64(j)/float64(m-1))
			st.Points = append(st.Points, model.Reading{Y: read(y), Z: read(z)})
		}
		b.Hull.Readings.Stations = append(b.Hull.Readings.Stations, st)
	}
	return b
}

// parabolic is the parabolic hull, from keel to waterline.
func parabolic(length, beam, draft float64) func(x, f float64) (float64, float64) {
	return func(x, f float64) (float64, float64) {
		xi := 2*x/length - 1
		z := draft * f
		return beam / 2 * (1 - xi*xi) * (1 - (1-f)*(1-f)), z
	}
}

func upright(t *testing.T, s *Ship, mass float64, g r3.Vec) hydro.Hydrostatics {
	t.Helper()
	h, err := hydro.Upright(s.Body, hydro.Load{Mass: mass, G: g}, hydro.Sea{Density: sw})
	if err != nil {
		t.Fatal(err)
	}
	return h
}

const wigley = "parabolic (Wigley) hull, closed form: V 4/9 LBT, KB 5T/8, BM 3/35 B²/T, BML 3/40 L²/T, S/L² 0.14879"

// topsides carries a hull's stations up wall-sided by so much above its last point.
func topsides(b *model.Boat, height float64) {
	for i := range b.Hull.Readings.Stations {
		st := &b.Hull.Readings.Stations[i]
		top := st.Points[len(st.Points)-1]
		for k := 1; k <= 3; k++ {
			p := top
			p.Z += height * float64(k) / 3
			st.Points = append(st.Points, p)
		}
	}
}

func TestParabolicHull(t *testing.T) {
	const length, beam, draft = 10.0, 1.0, 0.625
	for _, round := range []float64{0, 0.0005} {
		b := measured(15, 13, length, parabolic(length, beam, draft), 10, round)
		topsides(b, 0.3)
		s, err := Build(b)
		if err != nil {
			t.Fatal(err)
		}
		p := hydro.Attitude{Level: draft}
		r := hydro.Rest{Attitude: p, Sums: s.Body.Below(p.Plane())}
		h := hydro.Measure(s.Body, hydro.Load{Mass: 1, G: r3.Vec{X: 5, Z: 0.3}}, r)
		rel, area := 0.002, 0.005
		if round > 0 {
			rel, area = 0.006, 0.01
		}
		t.Logf("round %g: V %.6f (%.4f%%) KB %.5f BM %.5f BML %.4f S %.4f L %.4f B %.4f", round, h.Volume, 100*(h.Volume/2.7777778-1), h.KB, h.BM, h.BML, h.Wetted, h.Length, h.Beam)
		run(t, []check{
			{"volume", h.Volume, 2.7777778, 2.7777778 * rel, wigley},
			{"LCB", h.LCB, 5, 0.01, wigley},
			{"KB", h.KB, 0.390625, 0.01 * draft, wigley},
			{"BM", h.BM, 0.137142857, 0.137 * 3 * rel, wigley},
			{"BML", h.BML, 12, 12 * 2 * rel, wigley},
			{"waterplane", h.Waterplane, 6.666667, 6.67 * rel, wigley},
			{"wetted", h.Wetted, 14.8790631, 14.88 * area, wigley},
			{"Cb", h.Cb, 4.0 / 9, 0.004, wigley},
			{"Cp", h.Cp, 2.0 / 3, 0.005, wigley},
			{"Cwp", h.Cwp, 2.0 / 3, 0.004, wigley},
		})
	}
}

// TestSpindleConverges doubles the stations and the points and wants second order or better.
func TestSpindleConverges(t *testing.T) {
	const length, radius = 8.0, 0.8
	spindle := func(x, f float64) (float64, float64) {
		r := radius * math.Sin(math.Pi*math.Min(1, x/length))
		sin, cos := math.Sincos(math.Pi * f)
		return r * sin, radius - r*cos
	}
	want := math.Pi * radius * radius * length / 2
	const src = "body of revolution of a sine, closed form: V = pi R² L / 2"
	var last float64
	for _, n := range []int{5, 9, 17} {
		s, err := Build(measured(n, n, length, spindle, 1, 0))
		if err != nil {
			t.Fatal(err)
		}
		e := math.Abs(s.Body.Volume() - want)
		t.Logf("%d stations of %d points: error %.3g of %.4g", n, n, e, want)
		if last > 0 && e > last/4 {
			t.Errorf("%d stations: error %.3g, want a quarter of %.3g or less (%s)", n, e, last, src)
		}
		last = e
	}
}

func TestEllipsoid(t *testing.T) {
	const a, bb, c = 5.0, 1.0, 0.5
	full := func(x, f float64) (float64, float64) {
		xi := x/a - 1
		k := math.Sqrt(math.Max(0, 1-xi*xi))
		sin, cos := math.Sincos(math.Pi * f)
		return bb * k * sin, c - c*k*cos
	}
	const src = "half ellipsoid, closed form: V 2/3 pi a b c, KB 5c/8, BM 3b²/8c, BML 3a²/8c, curved surface 19.174143"
	for _, n := range []int{21, 41} {
		// stations closer at the ends, as one measures a round bow
		boat := measured(n, n, 1, func(u, f float64) (float64, float64) { return full(a*(1-math.Cos(math.Pi*u)), f) }, 1, 0)
		for i := range boat.Hull.Readings.Stations {
			boat.Hull.Readings.Stations[i].X = a * (1 - math.Cos(math.Pi*float64(i)/float64(n-1)))
		}
		s, err := Build(boat)
		if err != nil {
			t.Fatal(err)
		}
		half := 2.0 / 3 * math.Pi * a * bb * c
		h := upright(t, s, half*sw, r3.Vec{X: a, Z: 0.3})
		k := math.Pow(20/float64(n-1), 2)
		t.Logf("%d: V %.7f draft %.6f KB %.6f BM %.6f BML %.5f S %.5f", n, s.Body.Volume(), h.Draft, h.KB, h.BM, h.BML, h.Wetted)
		run(t, []check{
			{"whole volume", s.Body.Volume(), 2 * half, 2e-3 * half * k, src},
			{"draft", h.Draft, 0.5, 1e-3 * k, src},
			{"KB", h.KB, 0.3125, 1e-3 * k, src},
			{"BM", h.BM, 0.75, 4e-3 * k, src},
			{"BML", h.BML, 18.75, 0.1 * k, src},
			{"wetted", h.Wetted, 19.174143, 0.02 * k, src},
		})
	}
}

func TestBoxFromFourReadings(t *testing.T) {
	b := &model.Boat{}
	b.Hull.Scale = 1
	for _, x := range []float64{0, 6} {
		b.Hull.Readings.Stations = append(b.Hull.Readings.Stations, model.Station{X: x, Points: []model.Reading{
			{}, {Y: 1}, {Y: 1, Z: 0.5}}})
	}
	s, err := Build(b)
	if err != nil {
		t.Fatal(err)
	}
	run(t, []check{{"box 6 x 2 x 0.5 m in the sea, t", s.Body.Volume() * sw / 1000, 6.15, 1e-6, "arithmetic"}})
	if len(s.Hull.Surface.Assumed) != 2 {
		t.Errorf("%d corners taken for such, want 2", len(s.Hull.Surface.Assumed))
	}
}
