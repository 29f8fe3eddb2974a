package rowing

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// odd draws numbers that somebody's file may hold.
func odd(t *rapid.T, name string, usual float64) float64 {
	return rapid.OneOf(rapid.Just(usual), rapid.Float64Range(-3, 3),
		rapid.SampledFrom([]float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, 5e-324})).Draw(t, name)
}

// TestHostile: whatever goes in, either a plain error or only finite numbers come out.
func TestHostile(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		for _, v := range []*float64{&s.Body.Stature, &s.Body.Thigh, &s.Body.Trunk, &s.Seat.Fore, &s.Seat.Aft, &s.Seat.Height, &s.Stretcher.X, &s.Stretcher.Angle,
			&s.Gate.Half, &s.Gate.Z, &s.Oar.Length, &s.Oar.Inboard, &s.Oar.Blade, &s.Oar.Grip, &s.Habits.Shin, &s.Habits.TrunkAft, &s.Habits.Cover} {
			if rapid.IntRange(0, 11).Draw(t, "spoil") == 0 {
				*v = odd(t, "value", *v)
			}
		}
		s.Oar.Sweep = rapid.Bool().Draw(t, "sweep")
		w := Water{Name: "odd", Level: odd(t, "level", 0.3), Heel: odd(t, "heel", 0.1), Trim: odd(t, "trim", 0)}
		fit, err := s.Fit([]Water{flat, w})
		if err != nil {
			if !errors.Is(err, ErrInput) {
				t.Fatal(err)
			}
			return
		}
		for _, c := range fit.Checks {
			if math.IsNaN(c.Margin) || math.IsInf(c.Margin, 0) || math.IsNaN(c.Spread) || math.IsInf(c.Spread, 0) {
				t.Fatalf("%+v", c)
			}
		}
		f := fit.Stroke.figures()
		for i := range f {
			if math.IsNaN(f[i]) || math.IsInf(f[i], 0) {
				t.Fatalf("%+v", fit.Stroke)
			}
		}
		if _, err := s.FromSide(w, AtCatch); err != nil {
			t.Fatal(err)
		}
	})
}

// TestHostileStroke: the same of blades and power.
func TestHostileStroke(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := Blades{HandArm: odd(t, "hand", 0.8), BladeArm: odd(t, "blade", 2), Catch: odd(t, "catch", 1), Finish: odd(t, "finish", 0.6), Area: odd(t, "area", 0.16)}
		p, err := b.Pull(odd(t, "power", 80), odd(t, "rate", 18), odd(t, "speed", 1))
		if err == nil {
			for _, v := range []float64{p.Handle, p.Blade, p.Efficiency.Value, p.Efficiency.Spread, p.Thrust.Value, p.Thrust.Spread, p.Drive.Value, p.Drive.Spread, p.Share, p.Hand} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%+v: %+v", b, p)
				}
			}
			if p.Efficiency.Value >= 1 {
				t.Fatalf("efficiency %g", p.Efficiency.Value)
			}
		} else if !errors.Is(err, ErrInput) {
			t.Fatal(err)
		}
		r := Rower{Mass: odd(t, "mass", 70), Stature: odd(t, "stature", 1.7), Age: odd(t, "age", 40), Fitness: Fitness(rapid.IntRange(-1, 4).Draw(t, "fitness"))}
		d, err := r.Day(Plan{{odd(t, "spell", 12), odd(t, "on", 2), odd(t, "off", 2)}}, odd(t, "day", 3), Weeks())
		if err == nil && (math.IsNaN(d.Power.Value+d.Power.Spread+d.Energy.Value+d.Energy.Spread) || d.Power.Value < 0) {
			t.Fatalf("%+v: %+v", r, d)
		}
	})
}

// TestErrors: what cannot be is refused with a mend.
func TestErrors(t *testing.T) {
	fail := func(what string, err error) {
		t.Helper()
		if !errors.Is(err, ErrInput) {
			t.Errorf("%s: %v", what, err)
		}
	}
	s := racing(1.75)
	_, err := s.Fit(nil)
	fail("no water", err)
	_, err = s.Mends(nil)
	fail("no water", err)
	_, err = Fits(Bodies(), []Place{{Name: "bare"}}, s, []Water{flat})
	fail("no stretcher", err)
	_, err = s.Stroke(flat, 0)
	fail("no side", err)
	_, err = Percentile(Man, 0)
	fail("percentile 0", err)
	_, err = Percentile(Sex(7), 50)
	fail("no such table", err)
	_, err = OfStature("", math.NaN())
	fail("no stature", err)
	_, err = ScullGear(2, 0, 0)
	fail("no span", err)
	_, err = SweepGear(2, 0.85, 2)
	fail("swivel wider than the spread", err)
	_, err = ErgometerPower(0)
	fail("no pace", err)
	_, err = ErgometerPace(-1)
	fail("negative power", err)
	_, err = Champion.Lasts(25)
	fail("25 hours", err)
	_, err = Plan{{20, 2, 2}, {10, 1, 1}}.Hours()
	fail("30 hours in a day", err)
	_, err = Together(nil, nil, 0, Weeks())
	fail("nobody", err)
	_, err = Burnt(100, 12, 0)
	fail("no efficiency", err)
	_, _, err = RuleOar(0)
	fail("no span", err)
	_, _, err = s.Path(flat, Port, 0)
	fail("no steps", err)
	b := s.Blades(must[Stroke](t)(s.Stroke(flat, Starboard)))
	_, err = b.PullOf(20, 18, -2)
	fail("driven astern faster than pulled", err)
	if p := must[Pull](t)(b.PullOf(200, 18, -0.2)); p.Efficiency.Value >= 0 || p.Thrust.Value <= 0 {
		t.Errorf("pulled against while going astern: %+v", p)
	}
	d := must[Day](t)(Rower{Mass: 70, Stature: 1.7, Age: 40}.Day(nil, 0, Weeks()))
	if d.Power.Value != 0 || d.Energy.Value <= 0 {
		t.Errorf("a day of rest: %+v", d)
	}
}

// TestPath: the way of the hands begins at the body and ends at the catch.
func TestPath(t *testing.T) {
	s := racing(1.75)
	st := must[Stroke](t)(s.Stroke(flat, Port))
	in, out, err := s.Path(flat, Port, 10)
	if err != nil || len(in) != 11 || len(out) != 11 {
		t.Fatal(err, len(in), len(out))
	}
	if in[0].minus(st.Finish.Hand.mirrored(Port)).length() > 1e-9 || in[10].minus(st.Catch.Hand.mirrored(Port)).length() > 1e-9 || out[5].Z >= in[5].Z {
		t.Errorf("%v, %v", in, out)
	}
}

// bench is a set-up with edges and three waters, as a question asks it.
func bench() (Setup, []Water) {
	s := racing(1.75)
	s.Edges = []Edge{{"gunwale", nil}}
	for i := range 20 {
		s.Edges[0].Points = append(s.Edges[0].Points, Point{1 + 0.2*float64(i), 0.7, 0.45})
	}
	return s, []Water{flat, {Name: "light", Level: 0.26}, {Name: "heeled", Level: 0.3, Heel: 10 * degree}}
}

func BenchmarkMargins(b *testing.B) {
	s, w := bench()
	b.ReportAllocs()
	for b.Loop() {
		s.margins(w)
	}
}

func BenchmarkFit(b *testing.B) {
	s, w := bench()
	b.ReportAllocs()
	for b.Loop() {
		s.fit(w)
	}
}

func BenchmarkMends(b *testing.B) {
	s, w := bench()
	s.Stretcher.X += 0.15
	for b.Loop() {
		if _, err := s.Mends(w); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPairs(b *testing.B) {
	s, w := bench()
	s.Gate.Half = 2.5
	for b.Loop() {
		if _, err := s.Mends(w); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkMatrix: six bodies, three places, six holes, three waters.
func BenchmarkMatrix(b *testing.B) {
	s, w := bench()
	var holes []Stretcher
	for i := range 6 {
		h := s.Stretcher
		h.X += 0.05 * float64(i-3)
		holes = append(holes, h)
	}
	places := []Place{{"a", s.Seat, s.Gate, holes}, {"b", s.Seat, s.Gate, holes}, {"c", s.Seat, s.Gate, holes}}
	for b.Loop() {
		if _, err := Fits(Bodies(), places, s, w); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPull(b *testing.B) {
	s, _ := bench()
	st, err := s.Stroke(flat, Starboard)
	if err != nil {
		b.Fatal(err)
	}
	bl := s.Blades(st)
	for b.Loop() {
		if _, err := bl.Pull(75, 18, 1); err != nil {
			b.Fatal(err)
		}
	}
}
