package earth

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestMove: the error stated for a step, against the exact line of one course.
func TestMove(t *testing.T) {
	s := WGS84.Stepper()
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-84.5, 84.5).Draw(t, "lat")
		p := Degrees(lat, rapid.Float64Range(-180, 180).Draw(t, "lon"))
		d := rapid.Float64Range(0, 50e3).Draw(t, "distance")
		course := rapid.Float64Range(0, 2*math.Pi).Draw(t, "course")
		q := s.Move(p, d*math.Cos(course), d*math.Sin(course))
		want, err := WGS84.RhumbDirect(p, course, d)
		if err != nil {
			t.Fatal(err)
		}
		bound := 1e-6 + 2e-6*d + 2e-14*d*d*d
		if top := math.Max(math.Abs(lat), math.Abs(deg(want.Lat))); top > 84.4 {
			t.Skip()
		} else if top > 70 {
			bound *= 10
		}
		if miss := WGS84.inverse(q, want).Distance; miss > bound {
			t.Fatalf("a step of %g m misses by %g, over %g", d, miss, bound)
		}
		north, east := s.Between(p, q)
		if math.Hypot(north-d*math.Cos(course), east-d*math.Sin(course)) > 2e-5*d+1e-3 {
			t.Fatalf("between gives %g, %g", north, east)
		}
	})
}

// TestMoveAtThePole: steps there follow the geodesic, over the pole too.
func TestMoveAtThePole(t *testing.T) {
	s := WGS84.Stepper()
	p := s.Move(Degrees(89.99, 0), 5000, 0)
	lat, lon := p.Degrees()
	run(t, []check{
		{"latitude", lat, 90 - (5000-1116.9)/111694, 1e-5, "closed form: 1117 m to the pole, the rest down the other side"},
		{"longitude", math.Abs(lon), 180, 1e-9, "the meridian opposite"},
	})
	for _, p := range []Place{Degrees(90, 0), Degrees(-90, 0), Degrees(0, 180)} {
		q := s.Move(p, 3, 4)
		if q.Check() != nil || math.Abs(WGS84.inverse(p, q).Distance-5) > 1e-3 {
			t.Errorf("from %v to %v", p, q)
		}
	}
}

func BenchmarkMove(b *testing.B) {
	s := WGS84.Stepper()
	p, north := Degrees(28, -17), 3000.
	b.ReportAllocs()
	for b.Loop() {
		north = -north
		p = s.Move(p, north, -3000)
	}
}
