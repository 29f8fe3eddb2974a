package shape

import (
	"math"
	"testing"

	"thole/internal/hydro"
	"thole/internal/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// bench is a round-bilged decked hull of demo size with two cabins.
func bench(tb testing.TB) *Ship {
	lines := func(x, f float64) (float64, float64) {
		xi := 2*x/6.8 - 1
		half := 0.875 * math.Pow(math.Max(0, 1-xi*xi), 0.75)
		keel := 0.1 + 0.25*xi*xi*xi*xi
		sheer := 0.72 + 0.2*xi*xi
		return half * math.Pow(f, 0.35), keel + (sheer-keel)*f*f
	}
	b := measured(11, 14, 6.8, lines, 1, 0)
	b.Camber = 0.05
	for _, ends := range [][2]float64{{0.6, 1.8}, {4.4, 6.2}} {
		var r model.Readings
		for i := range 4 {
			x := ends[0] + (ends[1]-ends[0])*float64(i)/3
			st := model.Station{X: x}
			for k := range 6 {
				s, c := math.Sincos(math.Pi / 2 * float64(k) / 5)
				st.Points = append(st.Points, model.Reading{Y: 0.55 * c, Z: 0.7 + 0.45*s})
			}
			r.Stations = append(r.Stations, st)
		}
		b.Cabins = append(b.Cabins, model.Cabin{Name: "cabin", Readings: r})
	}
	s, err := Build(b)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

var load = hydro.Load{Mass: 800, G: r3.Vec{X: 3.4, Z: 0.42}}

func BenchmarkBuild(b *testing.B) {
	for b.Loop() {
		bench(b)
	}
}

func BenchmarkBelow(b *testing.B) {
	s := bench(b)
	r, err := hydro.Hold(s.Body, load, hydro.Sea{Density: sw}, 0.6, nil)
	if err != nil {
		b.Fatal(err)
	}
	p := r.Plane()
	cuts, points := s.Body.Envelope.Size()
	b.ReportMetric(float64(cuts), "cuts")
	b.ReportMetric(float64(points), "points")
	b.ReportAllocs()
	for b.Loop() {
		s.Body.Envelope.Below(p)
	}
}

func BenchmarkEquilibrium(b *testing.B) {
	s := bench(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := hydro.Float(s.Body, load, hydro.Sea{Density: sw}, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCurve(b *testing.B) {
	s := bench(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := hydro.NewCurve(s.Body, load, hydro.Sea{Density: sw}); err != nil {
			b.Fatal(err)
		}
	}
}
