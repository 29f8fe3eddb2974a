package voyages

import (
	"context"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// gap is a climate that knows nothing west of a longitude.
type gap struct{}

func (gap) Wind(_, lon, _ float64) (float64, float64, float64) {
	if lon < -2*deg {
		return math.NaN(), 0, 5
	}
	return 0, 0, 5
}

// TestHostile: what cannot be is refused by name; what is not a number is named with its place.
func TestHostile(t *testing.T) {
	for _, c := range []struct {
		change func(*Spec)
		says   string
	}{
		{func(s *Spec) { s.Climate = nil }, "climatology"},
		{func(s *Spec) { s.Route = nil }, "route"},
		{func(s *Spec) { s.Route[0].Within = 0 }, "point 1"},
		{func(s *Spec) { s.Route[0].Place = s.Start }, "point 1"},
		{func(s *Spec) { s.Route[0].Lat = math.NaN() }, "point 1"},
		{func(s *Spec) { s.Start.Lat = 89 * deg }, "the start"},
		{func(s *Spec) { s.Step = 3601 }, "step"},
		{func(s *Spec) { s.Step = math.NaN() }, "step"},
		{func(s *Spec) { s.Most = math.Inf(1) }, "most days"},
		{func(s *Spec) { s.Past = 0 }, "past"},
		{func(s *Spec) { s.Offing = -1 }, "offing"},
		{func(s *Spec) { s.Cell = -1 }, "cell"},
		{func(s *Spec) { s.Depart = math.NaN() }, "departure"},
		{func(s *Spec) { s.Wear.Least = 700 }, "load"},
		{func(s *Spec) { s.Wear.Sick = 1 }, "sickness"},
		{func(s *Spec) { s.Wear.Pace = math.NaN() }, "pace"},
		{func(s *Spec) { s.Wear.Every = -1 }, "rest"},
		{func(s *Spec) { s.Rules.Storm = 0 }, "nobody rows"},
		{func(s *Spec) { s.Rules.Ease = 0 }, "sea anchor"},
		{func(s *Spec) { s.Rules.Ahead = 7 }, "angle"},
		{func(s *Spec) { s.Rules.Habit.Watches = []Watch{{5, 3}} }, "watch 1"},
		{func(s *Spec) { s.Weather.East = 0 }, "east wind"},
	} {
		s := plain()
		c.change(&s)
		if _, err := New(s); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("wanted a fault that names %q, got %v", c.says, err)
		}
	}
	s := plain()
	s.Climate = gap{}
	r, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	if _, err = r.Run(context.Background(), 5, 100, 3, nil); err == nil || !strings.Contains(err.Error(), "longitude -2.") || !strings.Contains(err.Error(), "passage 5") {
		t.Errorf("a climate that is not a number: %v", err)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := r.Run(ctx, 0, 1000, 2, nil); err != context.Canceled {
		t.Errorf("stopped: %v", err)
	}
	a, b := plain(), plain()
	b.Most = 50
	ra, _ := New(a)
	rb, _ := New(b)
	if ra.NewTally().Add(rb.NewTally()) == nil {
		t.Error("tallies of two plans were added")
	}
}

// TestAnything: whatever the plan, a passage ends, in time and with numbers.
func TestAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := atlantic()
		f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		s.Start = Place{f("lat", -85, 85) * deg, f("lon", -180, 180) * deg}
		s.Route[1].Place = Place{f("to lat", -85, 85) * deg, f("to lon", -180, 180) * deg}
		s.Climate = steady{f("u", -30, 30), f("v", -30, 30), f("speed", 0, 40)}
		s.Currents = flow{f("set east", -3, 3), f("set north", -3, 3)}
		s.Rules.Allow, s.Rules.Idle = rapid.Bool().Draw(t, "allow"), rapid.Bool().Draw(t, "idle")
		s.Rules.Close, s.Rules.Wait = f("close", 0, 200e3), rapid.IntRange(0, 20).Draw(t, "wait")
		s.Doubts, s.Dragged = wrong(f("doubt", 0, 1)), swept(f("dragged", 0, 0.05))
		s.Most = f("most", 0.1, 20)
		s.Wear.Eaten = f("eaten", -5, 100)
		r, err := New(s)
		if err != nil {
			t.Skip(err)
		}
		p, err := r.Passage(rapid.Uint64().Draw(t, "passage"))
		if err != nil {
			t.Fatal(err)
		}
		if p.Days < 0 || p.Days > s.Most+1.0/24 || !(p.Gone >= 0) || !(math.Abs(p.Last.Lat) <= math.Pi/2) || p.End >= ends {
			t.Fatalf("%+v", p)
		}
	})
}

// TestWilson against printed intervals.
func TestWilson(t *testing.T) {
	src := "Newcombe 1998, Statistics in Medicine 17, table I, method 3 (from memory, high)"
	for _, c := range []struct {
		k, n      uint64
		low, high float64
	}{{81, 263, 0.2553, 0.3662}, {15, 148, 0.0624, 0.1605}, {0, 20, 0, 0.1611}, {1, 29, 0.0061, 0.1718}} {
		_, lo, hi := Wilson(c.k, c.n)
		run(t, []check{{"low", lo, c.low, 6e-5, src}, {"high", hi, c.high, 6e-5, src}})
	}
}
