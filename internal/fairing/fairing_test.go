package fairing

import (
	"math"
	"math/rand/v2"
	"testing"

	"thole/internal/cuts"
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
			t.Errorf("%s: got %.12g, want %.12g within %g (%s)", r.name, r.got, r.want, r.tol, r.source)
		}
	}
}

func TestBatten(t *testing.T) {
	const src = "natural cubic spline (a thin beam, free ends), closed form"
	three := NewBatten([]float64{0, 1, 2}, []float64{0, 1, 0})
	five := NewBatten([]float64{0, 1, 2, 3, 4}, []float64{0, 1, 0, 1, 0})
	uneven := NewBatten([]float64{0, 1, 3, 4, 6}, []float64{0, 0.5, 1.2, 1.3, 1.0})
	slope := func(s Spline, t float64) float64 { _, d, _ := s.Derivatives(t); return d }
	run(t, []check{
		{"three ducks: y(.5)", three.At(0.5), 0.6875, 1e-12, src},
		{"three ducks: end slope", slope(three, 0), 1.5, 1e-12, src},
		{"three ducks: moment", three.m[1], -3, 1e-12, src},
		{"five ducks: y(.5)", five.At(0.5), 0.767857143, 1e-9, src},
		{"five ducks: y(1.5)", five.At(1.5), 0.446428571, 1e-9, src},
		{"five ducks: bending energy", five.Bending(), 27.428571, 1e-6, src},
		{"uneven: y(2)", uneven.At(2), 0.918145161, 1e-9, src},
		{"uneven: y(5)", uneven.At(5), 1.204838710, 1e-9, src},
		{"uneven: end slope", slope(uneven, 6), -0.223118, 1e-6, src},
	})
}

func TestSplineRunsOn(t *testing.T) {
	knots := []float64{0, 0.3, 1.1, 2, 2.4}
	y := make([]float64, len(knots))
	for i, k := range knots {
		y[i] = 2 - 3*k + 0.7*k*k
	}
	s := NewSpline(knots, y)
	line := NewSpline([]float64{0, 2}, []float64{1, 5})
	run(t, []check{
		{"a parabola", s.At(1.7), 2 - 3*1.7 + 0.7*1.7*1.7, 1e-12, "exact for a parabola, closed form"},
		{"a parabola at its end", s.At(0.1), 2 - 0.3 + 0.007, 1e-12, "exact for a parabola, closed form"},
		{"two points", line.At(1.5), 4, 1e-12, "a straight line"},
	})
}

// canoe is a fair hull given by formula; the corner makes it a chined one.
func canoe(stations, points int) []Cut {
	var cs []Cut
	for i := range stations {
		x := 6.8 * float64(i) / float64(stations-1)
		xi := 2*x/6.8 - 1
		half := 0.87 * (1 - xi*xi)
		keel, sheer := 0.1+0.2*math.Pow(xi, 4), 0.7+0.2*xi*xi
		c := Cut{X: x}
		for j := range points {
			f := float64(j) / float64(points-1)
			c.Points = append(c.Points, Point{Point: cuts.Point{Y: half * math.Sin(math.Pi/2*math.Pow(f, 0.8)), Z: keel + (sheer-keel)*f*f}})
		}
		cs = append(cs, c)
	}
	return cs
}

func read(cs []Cut, step, noise float64, r *rand.Rand) []Cut {
	out := make([]Cut, len(cs))
	for i, c := range cs {
		out[i].X = c.X
		for _, p := range c.Points {
			q := p
			if p.Y > 0 {
				q.Y = math.Round((p.Y+noise*r.NormFloat64())/step) * step
			}
			q.Z = math.Round((p.Z+noise*r.NormFloat64())/step) * step
			out[i].Points = append(out[i].Points, q)
		}
	}
	return out
}

// apart is the root mean square distance between two sets of readings, square to the sections.
func apart(a, b []Cut) float64 {
	var sum, n float64
	for i := range a {
		ps := a[i].Points
		for j := 1; j+1 < len(ps); j++ {
			ty, tz := ps[j+1].Y-ps[j-1].Y, ps[j+1].Z-ps[j-1].Z
			l := math.Hypot(ty, tz)
			if l == 0 {
				continue
			}
			d := (tz*(b[i].Points[j].Y-ps[j].Y) - ty*(b[i].Points[j].Z-ps[j].Z)) / l
			sum += d * d
			n++
		}
	}
	return math.Sqrt(sum / n)
}

// TestFairingComesNearer: readings of a fair hull with errors end nearer to the hull than they were.
func TestFairingComesNearer(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	truth := canoe(11, 15)
	for _, noise := range []float64{0.001, 0.0016, 0.003} { // full size: 0.12 to 0.4 mm on a model at 1:8
		given := read(truth, 0.0001, noise, r)
		s, err := Fit(given, nil, nil, 3*noise)
		if err != nil {
			t.Fatal(err)
		}
		before, after := apart(truth, given), apart(truth, s.Faired())
		t.Logf("noise %.1f mm: %.2f mm before, %.2f mm after", 1000*noise, 1000*before, 1000*after)
		if after > 0.8*before {
			t.Errorf("noise %.1f mm: %.2f mm from the true hull after fairing, %.2f before", 1000*noise, 1000*after, 1000*before)
		}
		for _, m := range s.Moves {
			if m.Suspect {
				t.Errorf("station %d point %d of a well-measured hull is called misread", m.Station, m.Point)
			}
		}
	}
}

func TestMisreadIsFound(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	given := read(canoe(11, 14), 0.004, 0.0012, r)
	given[5].Points[7].Y += 0.030 // 3 mm on a model at 1:10
	s, err := Fit(given, nil, nil, 0.005)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range s.Moves {
		if m.Suspect != (m.Station == 5 && m.Point == 7) {
			t.Errorf("station %d point %d: suspect %v, stands out %.1f mm", m.Station, m.Point, m.Suspect, 1000*m.Off)
		}
	}
}

func TestStraightStaysStraight(t *testing.T) {
	var cs []Cut
	for _, x := range []float64{0, 1.3, 2, 4.5, 6} {
		k := x / 6
		cs = append(cs, Cut{X: x, Points: []Point{{Point: cuts.Point{}}, {Point: cuts.Point{Y: 0.2 + 0.5*k, Z: 0.1 * k}, Corner: true, Knuckle: "chine"},
			{Point: cuts.Point{Y: 0.4 + 0.6*k, Z: 0.5 + 0.2*k}}}})
	}
	for _, tolerance := range []float64{0, 0.004} {
		s, err := Fit(cs, nil, nil, tolerance)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range []float64{0.4, 1.9, 3.3, 5.9} {
			k := x / 6
			h := s.Half(x)
			if len(h) != 3 {
				t.Fatalf("%d points on a section of two straight sides", len(h))
			}
			const src = "straight lines, closed form"
			run(t, []check{{"chine out", h[1].Y, 0.2 + 0.5*k, 1e-9, src}, {"chine up", h[1].Z, 0.1 * k, 1e-9, src}, {"sheer out", h[2].Y, 0.4 + 0.6*k, 1e-9, src}})
		}
	}
}

func TestMirrored(t *testing.T) {
	cs := canoe(9, 11)
	for i, j := 0, len(cs)-1; i < j; i, j = i+1, j-1 {
		cs[i].Points, cs[j].Points = cs[j].Points, cs[i].Points
	}
	a, err := Fit(canoe(9, 11), nil, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	b, err := Fit(cs, nil, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []float64{0.1, 1.7, 3.3, 6.6} {
		p, q := a.Half(x), b.Half(6.8-x)
		for k := range p {
			if math.Hypot(p[k].Y-q[k].Y, p[k].Z-q[k].Z) > 1e-9 {
				t.Fatalf("x %.1f: the hull seen from its other end differs by %g", x, math.Hypot(p[k].Y-q[k].Y, p[k].Z-q[k].Z))
			}
		}
	}
}

// TestStemProfile: a hull cut from a cone by its raked stem line runs out on that line.
func TestStemProfile(t *testing.T) {
	// half-breadth (x - rake(z)) / 4 with the stem line x = 0.8 (1 - z)
	stem := func(z float64) float64 { return 0.8 * (1 - z) }
	var cs []Cut
	for _, x := range []float64{0.2, 0.5, 0.9, 1.5, 2.2, 3} {
		c := Cut{X: x}
		foot := math.Max(0, 1-x/0.8)
		for j := range 9 {
			z := foot + (1-foot)*float64(j)/8
			c.Points = append(c.Points, Point{Point: cuts.Point{Y: (x - stem(z)) / 4, Z: z}})
		}
		cs = append(cs, c)
	}
	var profile Profile
	for j := range 9 {
		z := float64(j) / 8
		profile = append(profile, ProfilePoint{X: stem(z), Z: z})
	}
	s, err := Fit(cs, profile, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	from, _ := s.Ends()
	const src = "a wedge of straight rulings ending on a straight raked stem, closed form"
	run(t, []check{{"foremost point", from, 0, 1e-9, src}})
	for _, x := range []float64{0.02, 0.1, 0.15, 0.35} {
		h := s.Half(x)
		run(t, []check{
			{"stem height", h[0].Z, 1 - x/0.8, 2e-3, src},
			{"sheer half-breadth", h[len(h)-1].Y, x / 4, 1e-3, src},
		})
		for _, p := range h {
			run(t, []check{{"half-breadth", p.Y, math.Max(0, (x-stem(p.Z))/4), 2e-3, src}})
		}
	}
}

func TestKnucklePartWay(t *testing.T) {
	cs := canoe(7, 9)
	for _, i := range []int{2, 3, 4} {
		cs[i].Points[4].Knuckle, cs[i].Points[4].Corner = "chine", true
	}
	s, err := Fit(cs, nil, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	at := s.Half(cs[3].X)[s.Corners()[1]]
	run(t, []check{{"the knuckle is a thread", math.Hypot(at.Y-cs[3].Points[4].Y, at.Z-cs[3].Points[4].Z), 0, 1e-9, "the reading itself"}})
}

func TestRefusals(t *testing.T) {
	one := canoe(5, 5)[2:3]
	if _, err := Fit(one, nil, nil, 0); err == nil {
		t.Error("one station made a surface")
	}
	flat := canoe(5, 5)
	for i := range flat {
		for j := range flat[i].Points {
			flat[i].Points[j].Y = 0
		}
	}
	if _, err := Fit(flat, nil, nil, 0); err == nil {
		t.Error("a hull without width made a surface")
	}
	crossed := canoe(3, 6)
	for i := range crossed {
		a, b := 2, 3
		if i == 1 {
			a, b = b, a
		}
		crossed[i].Points[a].Knuckle, crossed[i].Points[b].Knuckle = "a", "b"
		crossed[i].Points[a].Corner, crossed[i].Points[b].Corner = true, true
	}
	if _, err := Fit(crossed, nil, nil, 0); err == nil {
		t.Error("knuckles that change places made a surface")
	}
}

func BenchmarkFairing(b *testing.B) {
	given := read(canoe(11, 15), 0.004, 0.001, rand.New(rand.NewPCG(1, 1)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Fit(given, nil, nil, 0.004); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRib(b *testing.B) {
	s, err := Fit(canoe(11, 15), nil, nil, 0)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		s.Rib(2.345, 0)
	}
}
