package planks_test

import (
	"math"
	"testing"

	"thole/internal/cuts"
	"thole/internal/fairing"
	"thole/internal/planks"
)

// chined is a hard-chined hull with a raked stem and a transom, by formula.
func chined(tb testing.TB) *fairing.Surface {
	var cs []fairing.Cut
	var stem fairing.Profile
	for i := range 9 {
		f := float64(i) / 8
		x := 0.6 + 5.4*f
		b := math.Sin(math.Pi * (0.12 + 0.62*f))
		cs = append(cs, fairing.Cut{X: x, Points: []fairing.Point{
			{Point: cuts.Point{Z: 0.1 * (1 - f) * (1 - f)}},
			{Point: cuts.Point{Y: 0.62 * b, Z: 0.18 + 0.25*(1-f)*(1-f)}, Corner: true, Knuckle: "chine"},
			{Point: cuts.Point{Y: 0.85 * b, Z: 0.75 + 0.2*(1-f)*(1-f)}}}})
	}
	for i := range 8 {
		f := float64(i) / 7
		stem = append(stem, fairing.ProfilePoint{X: 0.6 * (1 - f), Z: 0.1 + 0.9*math.Pow(f, 1.2)})
	}
	s, err := fairing.Fit(cs, stem, nil, 0)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

func TestPanelsOfChinedHull(t *testing.T) {
	hull := chined(t)
	ps, err := planks.Panels(hull)
	if err != nil {
		t.Fatal(err)
	}
	if len(ps) != 2 {
		t.Fatalf("%d panels", len(ps))
	}
	for _, p := range ps {
		f := p.Flat
		t.Logf("%s to %s: ruled %v (%s), twist %.2f° at %.2f, off %.1f mm, %.3f × %.3f m, stretch %+.3f %% (mean %.3f)", p.Lower, p.Upper, p.Ruled, p.Why,
			p.Twist*180/math.Pi, p.TwistAt.X, 1000*p.Off, f.Length, f.Width, 100*f.Stretch.Max, 100*f.Stretch.Mean)
		run(t, []check{{"flat area", f.AreaFlat, f.AreaTrue, 5e-3 * f.AreaTrue, "a panel that nearly develops keeps its area"}})
	}
	// the chine is one line: both panels keep its length
	lower, upper := length(ps[1].Flat.Edges[0].Points), length(ps[0].Flat.Edges[2].Points)
	run(t, []check{{"the chine on both panels", lower, upper, 2e-3 * upper, "isometry of the common edge"}})
}

// TestPanelsOfDemo: the chined demo boat comes apart into three panels that share their chines.
func TestPanelsOfDemo(t *testing.T) {
	hull := chines(t)
	ps, err := planks.Panels(hull)
	if err != nil {
		t.Fatal(err)
	}
	if len(ps) != 3 {
		t.Fatalf("%d panels", len(ps))
	}
	for i, p := range ps {
		t.Logf("%s to %s: ruled %v (%s), twist %.2f°, off %.1f mm, stretch %+.3f %%, all but a hundredth under %.3f %%", p.Lower, p.Upper, p.Ruled, p.Why,
			p.Twist*180/math.Pi, 1000*p.Off, 100*p.Flat.Stretch.Max, 100*p.Flat.Stretch.Within)
		run(t, []check{{"flat area", p.Flat.AreaFlat, p.Flat.AreaTrue, 2e-3 * p.Flat.AreaTrue, "a panel that nearly develops keeps its area"}})
		if p.Ruled {
			run(t, []check{{"ruled: stretch", p.Flat.Stretch.Max, 0, 2e-3, "isometry; the rulings' own twist under its limit"}})
		}
		if i > 0 {
			below := length(ps[i-1].Flat.Edges[2].Points)
			run(t, []check{{"the common chine", length(p.Flat.Edges[0].Points), below, 2e-3 * below, "one line on both panels"}})
		}
		if s := p.Flat.Stretch; s.Within > math.Abs(s.Max) || s.Within < 0 {
			t.Errorf("%+v", s)
		}
	}
}

func length(p [][2]float64) float64 {
	var s float64
	for i := 1; i < len(p); i++ {
		s += math.Hypot(p[i][0]-p[i-1][0], p[i][1]-p[i-1][1])
	}
	return s
}

func TestLineOffWithKnuckle(t *testing.T) {
	hull := chined(t)
	s, err := planks.LineOff(hull, 5, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := planks.LineOff(hull, 1, nil); err == nil {
		t.Error("one strake over a chine: taken")
	}
	at := -1
	for i, l := range s.Lines {
		if l.Name == "chine" {
			at = i
		}
	}
	if at < 1 || !s.Lines[at].Fixed || s.Lines[0].Name != "keel" || s.Lines[5].Name != "sheer" {
		t.Fatalf("%+v", s.Lines)
	}
	corner := hull.Corners()[1]
	for _, x := range []float64{1, 2, 3.3, 5} {
		p, ok := s.At(at, x)
		want := hull.Half(x)[corner]
		if !ok {
			t.Fatal(x)
		}
		run(t, []check{{"the line lies on the chine", math.Hypot(p.Y-want.Y, p.Z-want.Z), 0, 1e-9, "its definition"}})
	}
	if _, err := planks.LineOff(hull, 5, []planks.Mark{{X: 3, Line: at, By: 0.01}}); err == nil {
		t.Error("a mark on the chine: taken")
	}
	all, err := planks.Lapped(s, planks.Laps{Width: 0.02, Thickness: 0.006, Gain: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range all {
		t.Logf("strake %d: %.3f × %.3f m, stretch %+.3f %%, bevel amidships %.1f°", p.Strake, p.Flat.Length, p.Flat.Width, 100*p.Flat.Stretch.Max, p.Stations[len(p.Stations)/2].Bevel*180/math.Pi)
	}
	// the bevel at the chine is the section's own corner where the lines run straight fore and aft; near enough where they nearly do
	x := 4.0
	h := hull.Half(x)
	turn := math.Atan2(h[corner+1].Z-h[corner].Z, h[corner+1].Y-h[corner].Y) - math.Atan2(h[corner].Z-h[corner-1].Z, h[corner].Y-h[corner-1].Y)
	for _, q := range all[at].Stations {
		if math.Abs(q.X-x) < 0.4 {
			run(t, []check{{"bevel at the chine", q.Bevel, turn, 0.05, "angle in the section; the line slants by less than 0.1 there"}})
		}
	}
}

// TestPlumbStem: a stem that stands upright has every line end at one x.
func TestPlumbStem(t *testing.T) {
	var cs []fairing.Cut
	for i := range 8 {
		x := 0.5 + 5*float64(i)/7
		c := fairing.Cut{X: x}
		for j := range 9 {
			f := float64(j) / 8
			b := 0.8 * math.Sin(math.Pi/2*math.Min(1, x/3))
			c.Points = append(c.Points, fairing.Point{Point: cuts.Point{Y: b * math.Pow(f, 0.6), Z: 0.7 * f * f}})
		}
		cs = append(cs, c)
	}
	stem := fairing.Profile{{X: 0.5, Z: 0}, {X: 0.2, Z: 0}, {X: 0.05, Z: 0.02}, {X: 0, Z: 0.1}, {X: 0, Z: 0.3}, {X: 0, Z: 0.5}, {X: 0, Z: 0.7}}
	hull, err := fairing.Fit(cs, stem, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	s, err := planks.LineOff(hull, 5, nil)
	if err != nil {
		t.Fatal(err)
	}
	last := -1.0
	for i, l := range s.Lines {
		c := s.Curve(i, 41)
		if l.From > 0.3 || c[0].Z <= last {
			t.Errorf("line %d begins at %.3f m, %.3f m high, above %.3f", i, l.From, c[0].Z, last)
		}
		last = c[0].Z
	}
	all, err := planks.Lapped(s, planks.Laps{Width: 0.02, Thickness: 0.006, Gain: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range all {
		t.Logf("strake %d: %.3f × %.3f m, stretch %+.3f %%, twist %.0f°/m", p.Strake, p.Flat.Length, p.Flat.Width, 100*p.Flat.Stretch.Max, p.Flat.Twist.Rate*180/math.Pi)
	}
}

// TestHullScales: a boat twice as large has planks twice as large.
func TestHullScales(t *testing.T) {
	shape := func(k float64) *fairing.Surface {
		return stations(t, 9, 11, 6*k, func(x, f float64) (float64, float64) {
			b := k * (0.3 + 0.5*math.Sin(math.Pi*x/(6*k)))
			s, c := math.Sincos(math.Pi / 2 * f)
			return b * s, k*0.7 - k*0.6*c
		})
	}
	lapped := func(k float64) []planks.Plank {
		s, err := planks.LineOff(shape(k), 5, nil)
		if err != nil {
			t.Fatal(err)
		}
		p, err := planks.Lapped(s, planks.Laps{Width: 0.02 * k, Thickness: 0.006 * k, Gain: 0.3 * k})
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	one, two := lapped(1), lapped(2)
	for i := range one {
		a, b := one[i].Flat, two[i].Flat
		run(t, []check{
			{"length", b.Length, 2 * a.Length, 1e-5, "scaling"},
			{"area", b.AreaFlat, 4 * a.AreaFlat, 1e-5, "scaling"},
			{"stretch", b.Stretch.Max, a.Stretch.Max, 1e-6, "scaling"},
			{"bend", b.Hardest.Curvature, a.Hardest.Curvature / 2, 1e-5, "scaling"},
			{"bevel", two[i].Stations[4].Bevel, one[i].Stations[4].Bevel, 1e-6, "scaling"},
		})
	}
}

func BenchmarkPlank(b *testing.B) {
	s, err := planks.LineOff(demo(b), 7, nil)
	if err != nil {
		b.Fatal(err)
	}
	all, err := planks.Lapped(s, planks.Laps{Width: 0.02, Thickness: 0.009})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := planks.Expand(all[2].Flat.True); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHull(b *testing.B) {
	hull := demo(b)
	for b.Loop() {
		s, err := planks.LineOff(hull, 7, nil)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := planks.Lapped(s, planks.Laps{Width: 0.02, Thickness: 0.009, Gain: 0.4}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPanels(b *testing.B) {
	hull := demo(b)
	for b.Loop() {
		if _, err := planks.Panels(hull); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkStrips(b *testing.B) {
	hull := demo(b)
	for b.Loop() {
		if _, err := planks.Strips(hull, 0.1, math.Pi/4); err != nil {
			b.Fatal(err)
		}
	}
}

// TestUprightSides: sides that stand upright are a cylinder; chine and sheer run alike in plan.
func TestUprightSides(t *testing.T) {
	var cs []fairing.Cut
	for i := range 13 {
		x := 0.5 * float64(i)
		y := 0.3 + 0.1*x*(6-x)/2 // a parabola, which the splines give back
		cs = append(cs, fairing.Cut{X: x, Points: []fairing.Point{
			{Point: cuts.Point{}}, {Point: cuts.Point{Y: y, Z: 0.1}, Corner: true, Knuckle: "chine"}, {Point: cuts.Point{Y: y, Z: 0.6 + 0.01*(x-3)*(x-3)}}}})
	}
	ps, err := planks.Panels(fitted(t, cs))
	if err != nil {
		t.Fatal(err)
	}
	side := ps[1]
	if !side.Ruled {
		t.Fatalf("not ruled: %s, twist %g, off %g", side.Why, side.Twist, side.Off)
	}
	// ∫√(1+(0.3-0.1x)²)dx over 0 to 6: 20·F(0.3) with F the integral of √(1+s²) from 0
	arc := 20 * (0.3*math.Sqrt(1.09) + math.Asinh(0.3)) / 2
	// area: height 0.5 + 0.01(x-3)² over the same arc, by Simpson's rule
	var area float64
	for i := range 61 {
		x := float64(i) / 10
		w := []float64{2, 4}[i%2]
		if i == 0 || i == 60 {
			w = 1
		}
		area += w * 0.1 / 3 * (0.5 + 0.01*(x-3)*(x-3)) * math.Sqrt(1+(0.3-0.1*x)*(0.3-0.1*x))
	}
	const src = "an upright cylinder over a parabola, closed form; the thread over its chord is good to 1e-5"
	run(t, []check{
		{"twist", side.Twist, 0, 2e-3, src},
		{"off the measured skin", side.Off, 0, 1e-4, src},
		{"lower edge", length(side.Flat.Edges[0].Points), arc, 2e-4, src},
		{"area", side.Flat.AreaFlat, area, 5e-4, "Simpson's rule, 60 steps"},
		{"stretch", side.Flat.Stretch.Max, 0, 1e-4, "isometry"},
		{"least radius", side.Flat.Hardest.Radius(), 1 / 0.1, 0.2, "the parabola's radius at its crown"},
	})
}

// TestPointedWithoutProfiles: ends of no width that no profile was measured for.
func TestPointedWithoutProfiles(t *testing.T) {
	hull := stations(t, 11, 9, 6, func(x, f float64) (float64, float64) {
		return 0.8 * x * (6 - x) / 9 * math.Pow(f, 0.6), 0.02*(x-3)*(x-3) + 0.6*f*f
	})
	s, err := planks.LineOff(hull, 5, nil)
	if err != nil {
		t.Fatal(err)
	}
	all, err := planks.Lapped(s, planks.Laps{Width: 0.02, Thickness: 0.006, Gain: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range all {
		run(t, []check{
			{"flat area", p.Flat.AreaFlat, p.Flat.AreaTrue, 5e-3 * p.Flat.AreaTrue, "planks nearly develop"},
			{"ends over the whole length", p.Flat.True[0][len(p.Flat.True[0])-1].X, 0, 1e-9, "the boat's own end"},
		})
	}
	if _, err := planks.Panels(hull); err != nil {
		t.Error(err)
	}
	if _, err := planks.Strips(hull, 0.1, math.Pi/4); err != nil {
		t.Error(err)
	}
}
