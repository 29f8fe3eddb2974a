package motion

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/interp"
	"pgregory.net/rapid"
	"thole/internal/heading"
)

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

const deg = math.Pi / 180

// boat is an invented hull of 6.4 m that settles 1 mm for every 6 kg; nobody's.
func boat(load float64) (heading.Boat, error) {
	h := heading.Hull{Volume: load / 1025}
	deep := 0.32 + (load-750)/6000
	for i := 0; i <= 26; i++ {
		s := float64(i) / 26
		h.Stations = append(h.Stations, heading.Station{X: 6.4 * s, Depth: deep * math.Pow(4*s*(1-s), 0.4), Beam: 1.3 * math.Pow(4*s*(1-s), 0.6)})
	}
	return heading.Boat{Hull: h, Resistance: heading.Quadratic(30 * load / 750), Oars: heading.Oars{Arm: 1.9},
		Foils: []heading.Foil{{Name: "rudder", Area: 0.1, X: 6.4, Span: 0.45, MaxAngle: 35 * deg, Behind: true, Mirrored: true},
			{Name: "board", Area: 0.22, X: 2.6, Span: 0.6, Mirrored: true}},
		Parts: []heading.Part{{Name: "hull and cabins", Side: []heading.Strip{{Area: 3.2, X: 3.2, Height: 0.25}, {Area: 1.8, X: 3.6, Height: 0.8}},
			Front: []heading.Strip{{Area: 1.5, Height: 0.5}}, Shape: heading.ShapeFlat, Length: 6.6}}}, nil
}

func spec(winds, angles, loads int) Spec {
	s := Spec{Boat: boat, Helm: heading.Helm{Rudder: true, Oars: true},
		Thrust: func(float64) func(float64) float64 {
			return func(u float64) float64 { return 60 / math.Max(u, 0.75) }
		}}
	for i := range winds {
		s.Winds = append(s.Winds, 14*float64(i)/float64(max(1, winds-1)))
	}
	for i := range angles {
		s.Angles = append(s.Angles, math.Pi*float64(i)/float64(angles-1))
	}
	for i := range loads {
		s.Loads = append(s.Loads, 600+150*float64(i))
	}
	return s
}

func TestPoints(t *testing.T) {
	s := spec(4, 7, 2)
	table := must(Build(s))
	for _, l := range s.Loads {
		m := must(heading.New(must(boat(l))))
		for _, w := range s.Winds {
			for _, a := range s.Angles {
				way := must(m.Row(w, a, s.Thrust(l), s.Helm))
				c := table.Row(w, a, l)
				// A spline through its points gives them back.
				if math.Abs(c.Ahead-way.Ahead)+math.Abs(c.Side-way.Side)+math.Abs(c.Rudder-way.Rudder) > 1e-12 || c.Held() != (way.Held && way.Ahead > 0) {
					t.Errorf("%g kg, %g m/s, %.0f degrees: %+v, not %+v", l, w, a/deg, c, way)
				}
			}
			if w == 0 {
				continue
			}
			d := table.Drift(w, l)
			best := math.Inf(1)
			var near heading.Rest
			for _, r := range must(m.Rests(w, heading.Control{})) {
				if r.Stable && r.From > -1e-6 && math.Abs(r.From-math.Pi/2) < best {
					best, near = math.Abs(r.From-math.Pi/2), r
				}
			}
			if math.Abs(math.Hypot(d.Down, d.Across)-near.Speed()) > 1e-9 || math.Abs(d.From-near.From) > 1e-9 {
				t.Errorf("%g kg, %g m/s adrift: %+v, not %+v", l, w, d, near)
			}
		}
	}
}

// TestBetween: no figure goes beyond the eight points about it.
func TestBetween(t *testing.T) {
	table := must(Build(spec(5, 13, 3)))
	rapid.Check(t, func(t *rapid.T) {
		v := [4]float64{}
		for i := range v {
			v[i] = rapid.Float64Range(-5, 5).Draw(t, "v")
		}
		g := grid{0, rapid.Float64Range(0.1, 2).Draw(t, "a"), 3, 3 + rapid.Float64Range(0.1, 5).Draw(t, "b")}
		x := rapid.Float64Range(g[0], g[3]).Draw(t, "x")
		s := g.find(x)
		p := [4]float64{v[s.at[0]], v[s.at[1]], v[s.at[2]], v[s.at[3]]}
		y := s.blend(&p)
		if lo, hi := math.Min(p[1], p[2]), math.Max(p[1], p[2]); y < lo-1e-12 || y > hi+1e-12 {
			t.Fatalf("%g at %g leaves %g to %g", y, x, lo, hi)
		}
	})
	// The mirror image, and the ends.
	a, b := table.Row(7, 1, 700), table.Row(7, -1, 700)
	if a.Ahead != b.Ahead || a.Side != -b.Side || a.Rudder != -b.Rudder {
		t.Errorf("%+v is not the mirror image of %+v", b, a)
	}
	if table.Row(99, 1, 9999) != table.Row(14, 1, 900) {
		t.Error("past its ends the table does not stay there")
	}
}

// TestBlend: the curve is that of a general library in a step with two neighbours.
func TestBlend(t *testing.T) {
	g := grid{0, 1, 3.5, 4.2}
	v := [4]float64{0, 1, 5, 5.5}
	var curve interp.FritschButland
	if err := curve.Fit(g, v[:]); err != nil {
		t.Fatal(err)
	}
	for _, x := range []float64{1, 1.4, 2, 2.9, 3.5} {
		s := g.find(x)
		p := [4]float64{v[s.at[0]], v[s.at[1]], v[s.at[2]], v[s.at[3]]}
		if x > 1 && math.Abs(s.blend(&p)-curve.Predict(x)) > 1e-12 {
			t.Errorf("at %g: %g, gonum/interp v0.17 makes %g", x, s.blend(&p), curve.Predict(x))
		}
	}
}

// TestFiner: half the steps come nearer the balance itself.
func TestFiner(t *testing.T) {
	m := must(heading.New(must(boat(600))))
	off := func(winds, angles int) (worst float64) {
		s := spec(winds, angles, 1)
		table := must(Build(s))
		for _, w := range []float64{2.3, 4.1, 6.6} {
			for a := 0.11; a < math.Pi; a += 0.23 {
				way := must(m.Row(w, a, s.Thrust(600), s.Helm))
				worst = math.Max(worst, math.Abs(table.Row(w, a, 600).Ahead-way.Ahead))
			}
		}
		return worst
	}
	coarse, fine := off(5, 7), off(17, 25)
	if fine > coarse/3 || fine > 0.02 {
		t.Errorf("four times the points: %g, then %g m/s off", coarse, fine)
	}
}

func TestKeep(t *testing.T) {
	table := must(Build(spec(8, 24, 1)))
	m := must(heading.New(must(boat(600))))
	s := spec(8, 24, 1)
	for _, want := range []float64{0, 60, 90, 135, 180} {
		off, c, err := table.Keep(6, want*deg, 600)
		if err != nil {
			t.Errorf("%g degrees: %v", want, err)
			continue
		}
		if got := math.Abs(off - c.Leeway()); math.Abs(got-want*deg) > 1e-6 {
			t.Errorf("asked for %g degrees, got %g", want, got/deg)
		}
		way := must(m.Keep(6, want*deg, s.Thrust(600), s.Helm))
		if math.Abs(way.Speed()-c.Speed()) > 0.03 {
			t.Errorf("%g degrees: %g m/s by the table, %g by the balance", want, c.Speed(), way.Speed())
		}
	}
	off, c, err := table.Keep(6, -90*deg, 600)
	if err != nil || off >= 0 || c.Side <= 0 {
		t.Errorf("wind to port must set her to starboard: %g, %+v, %v", off, c, err)
	}
	if _, _, err := table.Keep(14, 0.2, 600); !errors.Is(err, ErrNotKept) {
		t.Errorf("kept close to a gale: %v", err)
	}
}

func TestSameEachTime(t *testing.T) {
	if a, b := must(Build(spec(4, 9, 2))), must(Build(spec(4, 9, 2))); !reflect.DeepEqual(a, b) {
		t.Error("two tables of the same input differ")
	}
}

func TestRefusals(t *testing.T) {
	gone := errors.New("no such load")
	for name, f := range map[string]func(*Spec){
		"no winds":         func(s *Spec) { s.Winds = nil },
		"winds falling":    func(s *Spec) { s.Winds = []float64{3, 2} },
		"wind negative":    func(s *Spec) { s.Winds = []float64{-1} },
		"wind not numbers": func(s *Spec) { s.Winds = []float64{math.NaN()} },
		"angles":           func(s *Spec) { s.Angles = []float64{0, 4} },
		"loads":            func(s *Spec) { s.Loads = []float64{0} },
		"no boat":          func(s *Spec) { s.Boat = nil },
		"no thrust":        func(s *Spec) { s.Thrust = nil },
	} {
		s := spec(2, 3, 1)
		f(&s)
		if _, err := Build(s); !errors.Is(err, ErrInput) {
			t.Errorf("%s: %v", name, err)
		}
	}
	s := spec(2, 3, 1)
	s.Boat = func(float64) (heading.Boat, error) { return heading.Boat{}, gone }
	if _, err := Build(s); !errors.Is(err, gone) {
		t.Errorf("the caller's error is lost: %v", err)
	}
	s.Boat = func(float64) (heading.Boat, error) { return heading.Boat{}, nil }
	if _, err := Build(s); !errors.Is(err, heading.ErrInput) {
		t.Errorf("no hull: %v", err)
	}
}

func BenchmarkBuild(b *testing.B) {
	s := spec(8, 24, 3)
	for b.Loop() {
		must(Build(s))
	}
}

func BenchmarkRead(b *testing.B) {
	table := must(Build(spec(8, 24, 3)))
	b.ReportAllocs()
	for b.Loop() {
		table.Row(6.3, 1.1, 700)
	}
}

func TestLegs(t *testing.T) {
	table := must(Build(spec(8, 25, 2)))
	for _, wind := range []float64{2, 6, 10} {
		for _, want := range []float64{15, 60, 97.5, 150, 180} {
			l := table.Leg(wind, want*deg, 600)
			// At a point of the table it is Keep; between, near it.
			if _, c, err := table.Keep(wind, want*deg, 600); err == nil && l.Kept() && math.Abs(c.Speed()-l.Speed) > 0.05 {
				t.Errorf("%g m/s, %g degrees: %g m/s, not %g", wind, want, l.Speed, c.Speed())
			}
			if l.Kept() && math.Abs(l.Course-want*deg) > 1e-6 && wind == 2 {
				t.Errorf("%g degrees wanted and kept, %g made", want, l.Course/deg)
			}
		}
	}
	gale := table.Leg(14, 20*deg, 600)
	if gale.Kept() || gale.Course < 45*deg || gale.Speed <= 0 {
		t.Errorf("into a gale she makes %+v", gale)
	}
	if p, s := table.Leg(6, -1, 600), table.Leg(6, 1, 600); p.Course != -s.Course || p.Speed != s.Speed {
		t.Errorf("%+v is not the mirror image of %+v", p, s)
	}
	idle := spec(3, 7, 1)
	idle.Thrust = func(float64) func(float64) float64 { return nil }
	if l := must(Build(idle)).Leg(14, 1, 600); l.Kept() || l.Speed <= 0 || math.IsNaN(l.Speed) {
		t.Errorf("with no oars she drifts: %+v", l)
	}
	one := spec(1, 2, 1)
	one.Angles = one.Angles[:1]
	if l := must(Build(one)).Leg(3, 1, 600); math.IsNaN(l.Speed) {
		t.Errorf("one angle: %+v", l)
	}
}

func BenchmarkLeg(b *testing.B) {
	table := must(Build(spec(8, 24, 3)))
	b.ReportAllocs()
	for b.Loop() {
		table.Leg(6.3, 1.1, 700)
	}
}
