package rowing

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// ocean is an ocean boat's sculls: 3.05 m with 0.86 m inboard, blades 0.5 by 0.17 m.
func ocean() Blades {
	return Blades{HandArm: 0.80, BladeArm: 1.94, Catch: 60 * degree, Finish: 30 * degree, Area: 2 * bladeShape * 0.5 * 0.17}
}

// TestSteady: the stroke kept for hours at any speed.
func TestSteady(t *testing.T) {
	b := ocean()
	rest, err := b.Steady(75, 0, Hours())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name           string
		got, want, tol float64
		source         string
	}{
		{"thrust at rest", rest.Thrust.Value, 50, 12, "a steady rower makes some 40 to 60 N: rowers' estimate, common practice, no source"},
		{"power at rest", rest.Power, rest.Handle * b.HandArm * (b.Catch + b.Finish) * rest.Rate / 60, 1e-9, "work of the drive times the rate, closed form"},
		{"pull at rest", rest.Handle, handleAllDay, 1e-6, "the hardest pull that is kept for hours"},
	} {
		if math.Abs(c.got-c.want) > c.tol {
			t.Errorf("%s: %g, want %g ± %g (%s)", c.name, c.got, c.want, c.tol, c.source)
		}
	}
	shell := Blades{HandArm: 0.80, BladeArm: 1.75, Catch: 62 * degree, Finish: 38 * degree, Area: 0.165}
	fast, err := shell.Steady(400, 4.85, Pace{Rate: 32, Share: 0.55, Most: 500})
	if err != nil || fast.Efficiency.Value < 0.67 || fast.Efficiency.Value > 0.82 {
		t.Errorf("a racing single's blades work at %.2f (%v); 0.67 to 0.82 is published (Affeld et al. 1993 and others)", fast.Efficiency.Value, err)
	}
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(20, 300).Draw(t, "power")
		v := rapid.Float64Range(0, 3).Draw(t, "speed")
		pace := Hours()
		a, err := b.Steady(p, v, pace)
		c, also := b.Steady(p, v+0.05, pace)
		d, third := b.Steady(p*1.1, v, pace)
		if err != nil || also != nil || third != nil {
			t.Fatal(err, also, third)
		}
		if a.Power > p*(1+1e-9) || a.Handle > pace.Most*(1+1e-9) || a.Rate > pace.Rate*(1+1e-9) || a.Share > pace.Share*(1+1e-6) {
			t.Fatalf("beyond what is kept: %+v", a)
		}
		if c.Thrust.Value > a.Thrust.Value*(1+1e-6) || d.Thrust.Value < a.Thrust.Value*(1-1e-6) {
			t.Fatalf("thrust %g, faster %g, stronger %g", a.Thrust.Value, c.Thrust.Value, d.Thrust.Value)
		}
		if a.Thrust.Value*v > a.Power {
			t.Fatalf("more comes out than goes in: %+v", a)
		}
	})
	for _, bad := range []struct{ power, speed float64 }{{0, 1}, {math.NaN(), 1}, {75, math.NaN()}, {75, 50}} {
		if _, err := b.Steady(bad.power, bad.speed, Hours()); !errors.Is(err, ErrInput) {
			t.Errorf("%+v passes: %v", bad, err)
		}
	}
}

// TestChecks: the checks alone are those of the fit.
func TestChecks(t *testing.T) {
	s := racing(1.80)
	s.Edges = []Edge{{"gunwale", []Point{{1, 0.6, 0.5}, {3, 0.7, 0.45}}}}
	w := []Water{flat}
	fit, err := s.Fit(w)
	got, also := s.Checks(w)
	if err != nil || also != nil {
		t.Fatal(err, also)
	}
	for i, c := range got {
		if c.Kind != fit.Checks[i].Kind || c.Margin != fit.Checks[i].Margin {
			t.Errorf("%v, in the fit %v", c, fit.Checks[i])
		}
	}
}
