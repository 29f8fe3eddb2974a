package planks_test

import (
	"math"
	"testing"

	"thole/internal/boatfolder"
	"thole/internal/cuts"
	"thole/internal/fairing"
	"thole/internal/planks"
	"thole/internal/shape"
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

// demo is the hull of the round demo boat, chines that of the chined one.
func demo(tb testing.TB) *fairing.Surface { return read(tb, "../../demo/sanderling") }

func chines(tb testing.TB) *fairing.Surface { return read(tb, "../../demo/turnstone") }

func read(tb testing.TB, folder string) *fairing.Surface {
	tb.Helper()
	f, faults := boatfolder.Read(folder)
	if len(faults) > 0 {
		tb.Fatal(faults)
	}
	s, err := shape.Build(&f.Boat)
	if err != nil {
		tb.Fatal(err)
	}
	return s.Hull.Surface
}

func fitted(tb testing.TB, cs []fairing.Cut) *fairing.Surface {
	tb.Helper()
	s, err := fairing.Fit(cs, nil, nil, 0)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

// stations makes a surface from sections given over f, 0 at the keel to 1 at the sheer.
func stations(tb testing.TB, n, m int, length float64, at func(x, f float64) (y, z float64)) *fairing.Surface {
	var cs []fairing.Cut
	for i := range n {
		c := fairing.Cut{X: length * float64(i) / float64(n-1)}
		for j := range m {
			y, z := at(c.X, float64(j)/float64(m-1))
			c.Points = append(c.Points, fairing.Point{Point: cuts.Point{Y: y, Z: z}})
		}
		cs = append(cs, c)
	}
	return fitted(tb, cs)
}

// pipe is the starboard quarter of a cylinder lying along the boat.
func pipe(tb testing.TB, radius, length float64) *fairing.Surface {
	return stations(tb, 13, 25, length, func(_, f float64) (float64, float64) {
		s, c := math.Sincos(math.Pi / 2 * f)
		return radius * s, radius * (1 - c)
	})
}

func TestLappedOnCylinder(t *testing.T) {
	const n, radius, length, lap = 6, 0.8, 5.0, 0.02
	s, err := planks.LineOff(pipe(t, radius, length), n, nil)
	if err != nil {
		t.Fatal(err)
	}
	all, err := planks.Lapped(s, planks.Laps{Width: lap, Thickness: 0.006, Gain: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	const src = "regular polygon in a circle, closed form; the spline through 25 points is good to 1e-5"
	chord := 2 * radius * math.Sin(math.Pi/4/n)
	for i, p := range all {
		whole := chord
		if i > 0 {
			whole += lap
		}
		run(t, []check{
			{"length", p.Flat.Length, length, 1e-6, src},
			{"width", p.Flat.Width, whole, 1e-5, src},
			{"area", p.Flat.AreaFlat, whole * length, 1e-4, src},
			{"stretch", p.Flat.Stretch.Max, 0, 1e-5, "isometry"},
			{"twist", p.Flat.Twist.Rate, 0, 1e-4, "a cylinder's planks are straight"},
		})
		if len(p.Stations) != 13 {
			t.Errorf("strake %d: %d stations", i+1, len(p.Stations))
		}
		for _, at := range p.Stations {
			want := check{"bevel of the lowest", at.Bevel, 0, 0, "there is no plank below"}
			if i > 0 {
				want = check{"bevel", at.Bevel, math.Pi / 2 / n, 1e-4, src}
			}
			run(t, []check{want, {"width at a station", at.Width, chord, 1e-5, src}, {"with the lap", at.Whole, whole, 1e-5, src}})
		}
		if i > 0 {
			run(t, []check{
				{"gain begins fore", p.Fore.X, 0.3, 1e-6, "a straight line"},
				{"gain begins aft", p.Aft.X, 4.7, 1e-6, "a straight line"},
				{"flush at the end", p.Stations[0].Deep, 0.003, 1e-9, "half the thickness"},
				{"nothing amidships", p.Stations[6].Deep, 0, 0, "past the gain"},
			})
		}
	}
}

// girth is the length of a half section, by chords over a fine cut of the curve.
func girth(s *fairing.Surface, x, to float64) float64 {
	g := s.Girth(x)
	best, at := math.Inf(1), 0.0
	for i := 0; i <= 20000; i++ {
		l := g.Length * float64(i) / 20000
		if p, _, _ := g.At(l); math.Abs(p.Z-to) < best {
			best, at = math.Abs(p.Z-to), l
		}
	}
	return at / g.Length
}

func TestLineOffShares(t *testing.T) {
	hull := demo(t)
	const n = 7
	s, err := planks.LineOff(hull, n, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range s.Stations() {
		if x < 0.3 || x > 6.5 {
			continue // the last stations stand within the held ends of some lines
		}
		whole := hull.Girth(x).Length
		for line := 1; line < n; line++ {
			p, ok := s.At(line, x)
			if !ok {
				t.Fatalf("line %d is not there at %.2f m", line, x)
			}
			run(t, []check{{"share of the girth in metres", girth(hull, x, p.Z) * whole, float64(line) / n * whole, 1e-3, "girth shared out by its definition, measured on fairing's own curve"}})
		}
	}
	// every line runs from stem to stern
	for line := range s.Lines {
		c := s.Curve(line, 101)
		if c[0].Y > 1e-3 || c[100].Y > 1e-3 {
			t.Errorf("line %d begins %.4f m and ends %.4f m off the centre line", line, c[0].Y, c[100].Y)
		}
		for i := 1; i < len(c); i++ {
			if c[i].X <= c[i-1].X {
				t.Errorf("line %d runs back at %.3f m", line, c[i].X)
			}
		}
	}
}

func TestMarks(t *testing.T) {
	hull := pipe(t, 0.8, 8)
	marks := []planks.Mark{{X: 4, Line: 2, By: 0.03}, {X: 2, Line: 2, By: 0}, {X: 1, Line: 4, By: -0.01}}
	plain, err := planks.LineOff(hull, 6, nil)
	if err != nil {
		t.Fatal(err)
	}
	moved, err := planks.LineOff(hull, 6, marks)
	if err != nil {
		t.Fatal(err)
	}
	at := func(s *planks.Strakes, line int, x float64) float64 {
		p, ok := s.At(line, x)
		if !ok {
			t.Fatal(line, x)
		}
		return 0.8 * math.Acos(1-p.Z/0.8)
	}
	const src = "girth of a circle, closed form; chords of the girth are short by 2e-5"
	for _, m := range marks {
		run(t, []check{{"moved by", at(moved, m.Line, m.X) - at(plain, m.Line, m.X), m.By, 2e-4, src}})
	}
	run(t, []check{
		{"other lines stay", at(moved, 3, 4) - at(plain, 3, 4), 0, 1e-9, "nothing moved them"},
		{"far off it dies away", at(moved, 2, 7.5) - at(plain, 2, 7.5), 0, 0.03 / 20, "a beam on an elastic foundation swings back by e^-π = 0.043 of the load's place"},
	})
	// fair: no kink at the mark; ripple's own second derivative at the load is 2·(3π/4)²·0.03/reach² = 0.083 1/m
	d := 0.05
	for x := 2.2; x < 6; x += d {
		k := (at(moved, 2, x-d) - 2*at(moved, 2, x) + at(moved, 2, x+d)) / (d * d)
		if math.Abs(k) > 0.09 {
			t.Errorf("the moved line bends by %.3f 1/m at %.2f m", k, x)
		}
	}
	for name, bad := range map[string][]planks.Mark{
		"keel": {{X: 4, Line: 0, By: 0.01}}, "sheer": {{X: 4, Line: 6, By: 0.01}}, "none": {{X: 4, Line: 9}},
		"off the boat": {{X: 9, Line: 1}}, "crossing": {{X: 4, Line: 1, By: 0.4}}, "NaN": {{X: math.NaN(), Line: 1}},
		"below the keel": {{X: 4, Line: 1, By: -0.9}}, "twice": {{X: 4, Line: 1}, {X: 4, Line: 1, By: 0.1}},
	} {
		if _, err := planks.LineOff(hull, 6, bad); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	if _, err := planks.LineOff(hull, 0, nil); err == nil {
		t.Error("no strakes: taken")
	}
	for _, laps := range []planks.Laps{{}, {Width: 0.15, Thickness: 0.01}, {Width: math.NaN(), Thickness: 1}} {
		if _, err := planks.Lapped(plain, laps); err == nil {
			t.Errorf("%v: taken", laps)
		}
	}
}

// wedge is a chined prism: a bottom that rises to the chine and a flaring side.
func wedge(tb testing.TB) *fairing.Surface {
	var cs []fairing.Cut
	for i := range 9 {
		cs = append(cs, fairing.Cut{X: 0.5 * float64(i), Points: []fairing.Point{
			{Point: cuts.Point{}}, {Point: cuts.Point{Y: 0.6, Z: 0.2}, Corner: true, Knuckle: "chine"}, {Point: cuts.Point{Y: 0.8, Z: 0.7}}}})
	}
	return fitted(tb, cs)
}

func TestPanelsOfPrism(t *testing.T) {
	ps, err := planks.Panels(wedge(t))
	if err != nil {
		t.Fatal(err)
	}
	if len(ps) != 2 || ps[0].Upper != "chine" || ps[1].Lower != "chine" || !ps[0].Ruled || !ps[1].Ruled {
		t.Fatalf("panels %+v", ps)
	}
	run(t, []check{
		{"bottom: length", ps[0].Flat.Length, 4, 1e-9, "prism, closed form"},
		{"bottom: width", ps[0].Flat.Width, math.Hypot(0.6, 0.2), 1e-9, "prism, closed form"},
		{"side: width", ps[1].Flat.Width, math.Hypot(0.2, 0.5), 1e-9, "prism, closed form"},
		{"side: off", ps[1].Off, 0, 1e-9, "plane"},
	})
}

// TestPanelOfCone lofts a flare cut from a cone whose apex lies on the base line far aft: its
// sections are straight where they are measured at chine and sheer only if the rulings are, so the
// panel is measured by many points.
func TestPanelOfCone(t *testing.T) {
	// the cone (y² + z²) = ((8-x)/8)², from 20 to 70 degrees: one panel, sections round
	hull := stations(t, 17, 13, 4, func(x, f float64) (float64, float64) {
		s, c := math.Sincos((20 + 50*f) * math.Pi / 180)
		r := (8 - x) / 8
		return r * s, -r * c
	})
	ps, err := planks.Panels(hull)
	if err != nil {
		t.Fatal(err)
	}
	slant := math.Hypot(8, 1)
	angle := 50 * math.Pi / 180 / slant // developed
	area := angle * (slant*slant - slant*slant/4) / 2
	run(t, []check{
		{"panels", float64(len(ps)), 1, 0, "no knuckle"},
		{"stretch", ps[0].Flat.Stretch.Max, 0, 2e-4, "a cone is developable; a patch of 13 points across turns by 0.073 each, and its diagonals fall short by the 24th of that squared"},
		{"area", ps[0].Flat.AreaFlat, area, 8e-4, "sector of a cone, closed form; twelve chords fall short by (0.073)²/24 = 2.2e-4 of it"},
		{"true area", ps[0].Flat.AreaTrue, area, 8e-4, "sector of a cone, closed form"},
	})
}

func TestPlanksOfDemo(t *testing.T) {
	hull := demo(t)
	s, err := planks.LineOff(hull, 7, nil)
	if err != nil {
		t.Fatal(err)
	}
	all, err := planks.Lapped(s, planks.Laps{Width: 0.02, Thickness: 0.009, Gain: 0.4})
	if err != nil {
		t.Fatal(err)
	}
	var area float64
	for _, p := range all {
		f := p.Flat
		area += f.AreaFlat
		t.Logf("strake %d: %.3f × %.3f m, stretch %+.2f %% (mean %.3f), least radius %.2f m, twist %.1f°/m, settled %.1g", p.Strake, f.Length, f.Width,
			100*f.Stretch.Max, 100*f.Stretch.Mean, f.Hardest.Radius(), f.Twist.Rate*180/math.Pi, f.Settled)
		if math.Abs(f.AreaFlat/f.AreaTrue-1) > 5e-3 {
			t.Errorf("strake %d: %.4f m² flat, %.4f m² true", p.Strake, f.AreaFlat, f.AreaTrue)
		}
	}
	t.Logf("both sides %.2f m²", 2*area)
}
