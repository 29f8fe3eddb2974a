package crossing

import (
	"context"
	"math"
	"testing"
	"time"

	"thole/internal/coast"
	"thole/internal/earth"
	"thole/internal/voyages"
	"thole/internal/weather"
)

// still is the same wind everywhere, or none.
type still struct{ u, v float64 }

func (s still) Wind(_, _, _ float64) (float64, float64, float64) {
	return s.u, s.v, math.Hypot(s.u, s.v)
}

// flow is the same current everywhere.
type flow struct{ u, v float64 }

func (f flow) Current(_, _, _ float64) (float64, float64) { return f.u, f.v }

// raft is rowed at one speed any way, and drifts by shares of the wind.
type raft struct{ speed, down, across, held float64 }

func (r raft) Rowed(_, off, _ float64) (float64, float64, bool) { return off, r.speed, true }
func (r raft) Adrift(w, _ float64) (float64, float64)           { return r.down * w, r.across * w }
func (r raft) Anchored(w, _ float64) (float64, float64)         { return r.held * w, 0 }

func steady(wind still, current flow, b raft) voyages.Spec {
	m := weather.Usual()
	m.Spread = 0
	return voyages.Spec{Seed: 1, Depart: 1.8e9, Route: []voyages.Point{{Place: voyages.Place{Lat: 0, Lon: -10 * deg}, Within: arrived}}, Climate: wind, Currents: current,
		Boat: b, Weather: m, Rules: voyages.Rules{Allow: true, Storm: 50, Ease: 1, Habit: voyages.Habit{Watches: []voyages.Watch{{From: 0, To: 24}}}},
		Wear: voyages.Wear{Load: 500}, Most: 60, Past: past}
}

// TestLostTriangle: in a current along the way, twice as fast as she rows, the line beyond which she cannot come in is that on which the
// triangle of velocities can just be closed.
//
// Source: closed form: sin a = speed over current; off the way by x tan a, and the circle of arrival over cos a further
func TestLostTriangle(t *testing.T) {
	c := bare(t, steady(still{}, flow{-1, 0}, raft{speed: 0.5}), earth.Place{}, earth.Degrees(0, -10))
	got, err := c.Lost(context.Background(), 0.5)
	if err != nil {
		t.Fatal(err)
	}
	a := math.Asin(0.5)
	if len(got) != len(befores) {
		t.Fatalf("%d distances", len(got))
	}
	for _, r := range got {
		want := r.Before*math.Tan(a) + arrived/math.Cos(a)
		if open := want > farthest; open != r.LeftOpen || open != r.RightOpen {
			t.Errorf("%.0f miles before: open %v, %v, the line lies %.0f miles off", r.Before/mile, r.LeftOpen, r.RightOpen, want/mile)
		} else if !open {
			run(t, []check{
				{"left, miles", r.OffLeft / mile, want / mile, 3 + 0.02*want/mile, "the triangle; the search closes to 2 miles, and past the line she is not steered at the best angle"},
				{"right, miles", r.OffRight / mile, want / mile, 3 + 0.02*want/mile, "the same"},
			})
		}
		if r.Share != 1 {
			t.Errorf("from the way itself %.2f arrive", r.Share)
		}
		run(t, []check{{"day", r.Day, math.Ceil((10*deg*voyages.Radius - r.Before) / 1.5 / 86400), 1, "way over the sum of speeds"}})
	}
	if _, err := c.Lost(context.Background(), 0); err == nil {
		t.Error("none asked is no fault")
	}
}

// TestTonightSteady: in a steady wind and current she drifts by their speeds times the hours.
//
// Source: closed form
func TestTonightSteady(t *testing.T) {
	s := steady(still{-8, 0}, flow{0, 0.1}, raft{down: 0.04, across: 0.01, held: 0.01})
	c := bare(t, s, earth.Place{}, earth.Degrees(0, -10))
	n, err := c.Tonight(context.Background(), earth.Degrees(10, -5), time.Unix(1.8e9, 0), 10, 1500)
	if err != nil {
		t.Fatal(err)
	}
	// The wind blows west; to starboard of that is north.
	free, held := math.Hypot(0.32, 0.08+0.1)*36000, math.Hypot(0.08, 0.1)*36000
	run(t, []check{
		{"adrift, m", n.Middle, free, 0.002 * free, "speed times hours; the sphere and the plane"},
		{"adrift, far", n.Far, free, 0.001 * free, "no other night"},
		{"adrift, toward", n.Toward, 2*math.Pi - math.Atan2(0.32, 0.18), 0.002, "the sum of the velocities"},
		{"to the sea anchor, m", n.AnchMiddle, held, 0.002 * held, "speed times hours"},
		{"to the sea anchor, toward", n.AnchToward, 2*math.Pi - math.Atan2(0.08, 0.1), 0.002, "the sum of the velocities"},
		{"keep off", n.Keep, n.Far + 1500 + coast.StandOff, 1e-6, "the sum"},
		{"keep off to the sea anchor", n.AnchKeep, n.AnchFar + 1500 + coast.StandOff, 1e-6, "the sum"},
	})
	if _, err := c.Tonight(context.Background(), earth.Degrees(10, -5), time.Unix(1.8e9, 0), 0, 0); err == nil {
		t.Error("a night of no hours is no fault")
	}
}

// TestTonightTurns: in a wind that turns from night to night the middle is less than the length, and one night in twenty is further.
func TestTonightTurns(t *testing.T) {
	s := steady(still{0, 0}, flow{}, raft{down: 0.04, held: 0.01})
	s.Climate = variable(6)
	s.Weather = weather.Usual()
	c := bare(t, s, earth.Place{}, earth.Degrees(0, -10))
	n, err := c.Tonight(context.Background(), earth.Degrees(20, -40), time.Unix(1.8e9, 0), 1, 0)
	if err != nil {
		t.Fatal(err)
	}
	sigma := 6 / math.Sqrt(math.Pi/2) // of Rayleigh's mean
	run(t, []check{
		{"far", n.Far, 0.04 * 3600 * sigma * math.Sqrt(-2*math.Log(0.05)), 0.06 * n.Far, "an hour in one wind: Rayleigh's 19 in 20; 1000 nights tell it to 2 %"},
		{"middle", n.Middle, 0, 4 * 0.04 * 3600 * sigma / math.Sqrt(nights), "no way more than another"},
		{"to the sea anchor", n.AnchFar, n.Far / 4, 0.01 * n.Far, "a quarter of the leeway"},
	})
}

// variable is a wind with no mean.
type variable float64

func (v variable) Wind(_, _, _ float64) (float64, float64, float64) { return 0, 0, float64(v) }
