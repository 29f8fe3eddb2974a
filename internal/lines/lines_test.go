package lines

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

func arc(f func(x float64) float64, from, to float64, n int) (x, v []float64) {
	for i := 0; i <= n; i++ {
		x = append(x, from+(to-from)*float64(i)/float64(n))
		v = append(v, f(x[i]))
	}
	return x, v
}

func TestCurvature(t *testing.T) {
	circle := func(x float64) float64 { return math.Sqrt(100 - x*x) }
	uneven := []float64{-3, -1, 0.2, 4}
	v := make([]float64, 4)
	for i, x := range uneven {
		v[i] = circle(x)
	}
	k := Curvature(uneven, v)
	px, pv := arc(func(x float64) float64 { return x * x / 20 }, 0, 10, 4000)
	pk := Curvature(px, pv)
	run(t, []check{
		{"circle, uneven spacing", k[1], -0.1, 1e-12, "three-point curvature of a circle of 10 m, closed form"},
		{"circle, uneven spacing", k[2], -0.1, 1e-12, "three-point curvature of a circle of 10 m, closed form"},
		{"parabola at 5", pk[2000], 0.0715541753, 1e-7, "parabola y = x²/20, closed form"},
		{"parabola's bending", Bending(px, pv), 0.0589255651, 1e-4, "parabola y = x²/20 from 0 to 10, integral of squared curvature, closed form"},
	})
	sx, sv := make([]float64, 2001), make([]float64, 2001)
	for i := range sx {
		s, c := math.Sincos(math.Pi * float64(i) / 2000)
		sx[i], sv[i] = -2*c, 2*s
	}
	run(t, []check{{"half circle's bending", Bending(sx, sv), math.Pi / 2, 2e-3, "half circle of 2 m, closed form"}})
}

// spindle is a body of revolution about a level axis 0.8 m up, its lower half.
func spindle() *fairing.Surface {
	var cs []fairing.Cut
	for i := range 15 {
		x := 6 * float64(i) / 14
		r := 0.7 * (1 - math.Pow(x/3-1, 2))
		c := fairing.Cut{X: x}
		for j := range 15 {
			s, cos := math.Sincos(math.Pi / 2 * float64(j) / 14)
			c.Points = append(c.Points, fairing.Point{Point: cuts.Point{Y: r * s, Z: 0.8 - r*cos}})
		}
		cs = append(cs, c)
	}
	s, err := fairing.Fit(cs, nil, nil, 0)
	if err != nil {
		panic(err)
	}
	return s
}

func TestTraces(t *testing.T) {
	s := spindle()
	r := func(x float64) float64 { return 0.7 * (1 - math.Pow(x/3-1, 2)) }
	const src = "body of revolution, closed form"
	wl := Trace(s, Plane{Kind: Waterline, At: 0.5}, 0.1)
	for i, x := range wl.X {
		want := math.Sqrt(math.Max(0, r(x)*r(x)-0.09))
		if want > 0.1 { // beside its ends a waterline falls off like a root
			run(t, []check{{"waterline", wl.V[i], want, 2e-4, src}})
		}
	}
	bt := Trace(s, Plane{Kind: Buttock, At: 0.3}, 0.1)
	for i, x := range bt.X {
		if r(x) > 0.35 {
			run(t, []check{{"buttock", bt.V[i], 0.8 - math.Sqrt(r(x)*r(x)-0.09), 2e-4, src}})
		}
	}
	dg := Trace(s, Plane{Kind: Diagonal, At: 0.8, Slope: math.Pi / 4}, 0.1)
	for i, x := range dg.X {
		run(t, []check{{"diagonal through the axis", dg.V[i], r(x), 2e-4, src}})
	}
	if len(wl.X) < 20 || len(bt.X) < 20 || len(dg.X) < 50 {
		t.Errorf("lines of %d, %d and %d points", len(wl.X), len(bt.X), len(dg.X))
	}
}

// TestViewsAgree: a point of a waterline is a point of the section there and of the buttock through it.
func TestViewsAgree(t *testing.T) {
	s := spindle()
	for _, x := range []float64{0.7, 1.9, 3.3, 5.1} {
		g := s.Girth(x)
		wl := Cross(&g, Plane{Kind: Waterline, At: 0.45})
		if len(wl) == 0 {
			continue
		}
		bt := Cross(&g, Plane{Kind: Buttock, At: wl[0].Y})
		run(t, []check{{"height of the buttock through the waterline's point", bt[0].Z, 0.45, 1e-7, "property: one surface, so the views agree"}})
	}
}

func TestTable(t *testing.T) {
	s := spindle()
	xs := s.Stations()
	labels := make([]string, len(xs))
	o := Tabulate(s, labels, xs, Usual(s))
	if len(o.Stations) != 15 || math.Abs(o.Stations[14].X-6) > 1e-12 || math.Abs(o.Stations[3].Gap-6.0/14) > 1e-12 {
		t.Errorf("stations %+v", o.Stations)
	}
	kinds := map[bool]int{}
	for _, r := range o.Rows {
		kinds[r.Height]++
		if r.Name == "sheer" && !r.Height {
			run(t, []check{{"sheer half-breadth amidships", r.Values[7], 0.7, 1e-6, "body of revolution, closed form"}})
		}
	}
	if kinds[true] < 3 || kinds[false] < 4 {
		t.Errorf("rows %+v", kinds)
	}
}
