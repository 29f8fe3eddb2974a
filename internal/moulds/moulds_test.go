package moulds

import (
	"math"
	"testing"

	"thole/internal/cuts"
	"thole/internal/fairing"
)

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

// cone is a half cone frustum of radius r0 + k x about a level axis, its lower half.
func cone(r0, k float64, n int) *fairing.Surface {
	var cs []fairing.Cut
	for i := range 9 {
		x := 4 * float64(i) / 8
		c := fairing.Cut{X: x}
		r := r0 + k*x
		for j := range n {
			s, cos := math.Sincos(math.Pi / 2 * float64(j) / float64(n-1))
			c.Points = append(c.Points, fairing.Point{Point: cuts.Point{Y: r * s, Z: 1 - r*cos}})
		}
		cs = append(cs, c)
	}
	f, err := fairing.Fit(cs, nil, nil, 0)
	if err != nil {
		panic(err)
	}
	return f
}

// TestDeductionOnACone: square to the skin a thickness is farther in the plane of the mould.
func TestDeductionOnACone(t *testing.T) {
	const deduct = 0.009
	for _, deg := range []float64{0, 10, 30, 40} {
		k := math.Tan(deg * math.Pi / 180)
		s := cone(0.4, k, 41)
		m := Shape(s, 2, deduct, 0.02)
		r := 0.4 + 2*k
		want := r - deduct/math.Cos(deg*math.Pi/180)
		const src = "cone: thickness over the cosine of its half angle, closed form (9 mm is 10.4 mm at 30 degrees, 11.7 at 40)"
		for _, p := range m.Edge {
			run(t, []check{
				{"radius of the mould", math.Hypot(p.Y, p.Z-1), want, 2e-5, src},
				{"bevel", p.Bevel, -deg * math.Pi / 180, 1e-4, "the cone's half angle, opening aft, closed form"},
			})
		}
	}
}

func TestNothingDeducted(t *testing.T) {
	s := cone(0.5, 0.1, 21)
	m := Shape(s, 1.3, 0, 0.01)
	if len(m.Edge) < 80 {
		t.Errorf("%d points on %.2f m of edge", len(m.Edge), 0.63*math.Pi/2)
	}
	for _, p := range m.Edge {
		run(t, []check{{"radius", math.Hypot(p.Y, p.Z-1), 0.63, 2e-5, "cone, closed form"}})
	}
	if !Shape(s, 3.5, 0, 0.01).Ahead || Shape(s, 0.5, 0, 0.01).Ahead {
		t.Error("moulds stand on the wrong side of their lines: the body belongs towards amidships of the after body's line, and the other way forward")
	}
}

// TestChine: two flat sides keep a sharp corner, moved in by the mitre.
func TestChine(t *testing.T) {
	var cs []fairing.Cut
	for _, x := range []float64{0, 1, 2, 3} {
		cs = append(cs, fairing.Cut{X: x, Points: []fairing.Point{{}, {Point: cuts.Point{Y: 0.6}, Corner: true, Knuckle: "chine"}, {Point: cuts.Point{Y: 0.6, Z: 0.5}}}})
	}
	s, err := fairing.Fit(cs, nil, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	m := Shape(s, 1.5, 0.01, 0.05)
	const src = "box less a thickness, arithmetic"
	var corner Point
	for _, p := range m.Edge {
		if p.Corner && p.Y > 0.1 && p.Z < 0.1 {
			corner = p
		}
	}
	run(t, []check{
		{"foot", m.Edge[0].Z, 0.01, 1e-9, src},
		{"chine out", corner.Y, 0.59, 1e-9, src},
		{"chine up", corner.Z, 0.01, 1e-9, src},
		{"sheer", m.Edge[len(m.Edge)-1].Y, 0.59, 1e-9, src},
	})
	if p, ok := m.At(0.25); !ok || math.Abs(p.Y-0.59) > 1e-9 {
		t.Errorf("at 250 mm up: %+v %v", p, ok)
	}
}

func BenchmarkShape(b *testing.B) {
	s := cone(0.4, 0.2, 21)
	for b.Loop() {
		Shape(s, 2, 0.009, 0.01)
	}
}
