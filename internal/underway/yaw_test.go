package underway

import (
	"context"
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/heading"
	"thole/internal/hydro"
	"thole/internal/model"
	"thole/internal/units"
)

// demoWay is an invented boat under way.
func demoWay(t testing.TB, name string) *Way {
	t.Helper()
	f, faults := boatfolder.Read("../../demo/" + name)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c := answer.NewCase(f)
	trip, err := c.Trip()
	if err != nil {
		t.Fatal(err)
	}
	return New(c, trip)
}

// TestHung: a rudder and a board in level water, against figures worked out by hand.
//
// Source: areas of rectangles
func TestHung(t *testing.T) {
	y := &Yaw{Attitude: hydro.Attitude{Level: 0.3}, View: heading.Silhouette{From: 0, To: 7, Under: heading.Outline{Area: 1.5, X: 3, Height: -0.12}}, Rowed: &Rowed{}}
	y.hang(&model.Rudder{At: r3.Vec{X: 6.5, Z: 0.4}, Chord: 0.25, Depth: 0.6})
	y.board(&model.Board{Name: "board", At: r3.Vec{X: 2.6}, Chord: 0.3, Depth: 0.5, Down: true})
	y.board(&model.Board{Name: "skeg", At: r3.Vec{X: 6}, Chord: 1.2, Depth: 0.2, Down: true})
	r, b, k := y.Blades[0], y.Blades[1], y.Blades[2]
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"rudder under water", r.Span, 0.5}, {"its area", r.Area, 0.125}, {"its quarter chord", r.X, 6.5625}, {"the usual stop", r.MaxAngle, 35 * math.Pi / 180},
		{"board", b.Area, 0.15}, {"its quarter chord", b.X, 2.525}, {"all under water", y.Lateral(Setting{true, true}).Area, 1.5 + 0.125 + 0.15 + 0.24},
		{"board up", y.Lateral(Setting{Rudder: true}).Area, 1.5 + 0.125 + 0.24}, {"rudder up too", y.Lateral(Setting{}).Area, 1.74},
		{"its centre", y.Lateral(Setting{}).X, (1.5*3 + 0.24*6) / 1.74}, {"its depth", y.Lateral(Setting{}).Height, (1.5*-0.12 + 0.24*-0.4) / 1.74},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%s: %g, want %g", c.name, c.got, c.want)
		}
	}
	if !b.Lifts || k.Lifts || !k.Behind || b.Behind {
		t.Errorf("a board deeper than it is long lifts, a skeg does not and stands in the wake: %+v, %+v", b, k)
	}
	y.hang(&model.Rudder{At: r3.Vec{X: 6.5, Z: 1.5}, Chord: 0.25, Depth: 0.6})
	if !y.Blades[3].Up {
		t.Error("a rudder clear of the water is not up")
	}
}

// TestBox: what stands in the wind, the part under water left out; its drag area as strips.
//
// Source: areas of rectangles
func TestBox(t *testing.T) {
	y := &Yaw{Attitude: hydro.Attitude{Level: 0.3}}
	y.stands(&model.WindPart{Name: "locker", At: r3.Vec{X: 3, Z: 0.5}, Size: [3]units.Length{1, 0.5, 0.6}, Kind: model.WindBox})
	y.stands(&model.WindPart{Name: "drowned", At: r3.Vec{X: 3, Z: 0.1}, Size: [3]units.Length{1, 0.5, 0.2}})
	if len(y.Exposed) != 1 {
		t.Fatalf("%d parts, want the locker alone", len(y.Exposed))
	}
	area, x, height := y.Exposed[0].Area()
	front := 0.0
	for _, s := range y.Exposed[0].Front {
		front += s.Area
	}
	if math.Abs(area-0.5) > 1e-12 || math.Abs(front-0.25) > 1e-12 || math.Abs(x-3) > 1e-12 || math.Abs(height-0.25) > 1e-12 {
		t.Errorf("area %g, from ahead %g, at %g, %g up; want 0.5, 0.25, 3, 0.25", area, front, x, height)
	}
}

// TestDemoYaw: the windage of the two invented boats is theirs and the crew's; heavy she shows less than light.
//
// Source: property; a seated person's drag area is 0.4 to 0.6 m2 whole (Hoerner, Fluid-Dynamic Drag, ch. 3, from memory), of which the hull hides the lower half
func TestDemoYaw(t *testing.T) {
	for _, name := range []string{"sanderling", "turnstone"} {
		w := demoWay(t, name)
		rowed, left := Conditions(w.Trip)
		if rowed < 0 || left < 0 || rowed == left {
			t.Fatalf("%s: rowed in condition %d, left in %d", name, rowed, left)
		}
		days := w.Spread(rowed)
		if len(days) != 3 {
			t.Fatalf("%s: days %v, want heaviest, middle, lightest", name, days)
		}
		heavy, light := must(w.Yaw(days[0], rowed)), must(w.Yaw(days[2], rowed))
		if heavy.State.Mass <= light.State.Mass || heavy.Windage().Area >= light.Windage().Area || heavy.View.Under.Area <= light.View.Under.Area {
			t.Errorf("%s: heavier she must show less to the wind and more to the water", name)
		}
		rower := 0.0
		for _, e := range heavy.Exposed {
			if e.Kind == "rower" {
				for _, s := range e.Front {
					rower += s.Area * e.Shape
				}
			}
		}
		if rower < 0.2 || rower > 0.6 {
			t.Errorf("%s: a rower of %.2f m2", name, rower)
		}
		if a, b := must(w.Yaw(0, rowed)).Windage().Area, must(w.Yaw(0, left)).Windage().Area; a <= b {
			t.Errorf("%s: nobody at the oars, and as much in the wind", name)
		}
	}
}

// TestMotion: the table at its points is the balance itself, the same twice, and made in time.
//
// Source: heading.Row and heading.Rests asked at single points
func TestMotion(t *testing.T) {
	for i, name := range []string{"sanderling", "turnstone"} {
		if testing.Short() && i > 0 {
			continue // one table is watched for races
		}
		w := demoWay(t, name)
		start := time.Now()
		table := must(w.Motion(Fine, 0))
		t.Logf("%s: %v", name, time.Since(start))
		rowed, _ := Conditions(w.Trip)
		y := must(w.Yaw(w.Spread(rowed)[0], rowed))
		m := must(heading.New(y.Boat(y.AsTold())))
		thrust := slope(mean(must(w.Turns())))
		for _, k := range []float64{8, 20} {
			for _, from := range []float64{90, 150, 180} {
				a := from * math.Pi / 180
				want := must(m.Row(k*tableKnot, a, thrust, heading.Helm{Rudder: true, Oars: true}))
				got := table.Row(k*tableKnot, a, y.State.Mass)
				if math.Abs(got.Ahead-want.Ahead) > 1e-9 || math.Abs(got.Side-want.Side) > 1e-9 || got.Held() != (want.Held && want.Ahead > 0) {
					t.Errorf("%s, %.0f kn from %.0f: %+v, asked at the point %+v", name, k, from, got, want)
				}
			}
		}
		// A course that may be had on two headings is had on the faster.
		for _, from := range []float64{100, 120, 140, 160} {
			way := must(m.Row(18*tableKnot, from*math.Pi/180, thrust, heading.Helm{Rudder: true, Oars: true}))
			if got := table.Leg(18*tableKnot, way.Course(), y.State.Mass); way.Held && got.Speed < 0.95*way.Speed() {
				t.Errorf("%s: %.2f m/s on a course that is had at %.2f with 18 kn from %.0f off the bow", name, got.Speed, way.Speed(), from)
			}
		}
		calm, head, astern := table.Row(0, 0, y.State.Mass).Speed(), table.Row(12*tableKnot, 0, y.State.Mass).Ahead, table.Row(12*tableKnot, math.Pi, y.State.Mass).Speed()
		if !(head < calm && calm < astern) || calm < 0.7 || calm > 1.8 {
			t.Errorf("%s: %.2f m/s against 12 kn, %.2f in a calm, %.2f before it; crossings average 1.0 to 1.7 m/s", name, head, calm, astern)
		}
		if d := table.Drift(20*tableKnot, y.State.Mass); d.Down < 0.01*20*tableKnot || d.Down > 0.08*20*tableKnot {
			t.Errorf("%s: drifts at %.2f m/s in 20 kn; boats adrift go 1 to 8 %% of the wind (Allen and Plourde, CG-D-08-99)", name, d.Down)
		}
		again := must(demoWay(t, name).Motion(Fine, 0))
		for _, a := range []float64{0.3, 1.1, 2.6} {
			if table.Row(9, a, 800) != again.Row(9, a, 800) {
				t.Errorf("%s: the table is another when made again", name)
			}
		}
	}
}

func BenchmarkMotion(b *testing.B) {
	f, faults := boatfolder.Read("../../demo/sanderling")
	if len(faults) > 0 {
		b.Fatal(faults)
	}
	for b.Loop() {
		c := answer.NewCase(f)
		trip := must(c.Trip())
		must(trip.Floats(context.Background(), nil))
		must(New(c, trip).Motion(Fine, 0))
	}
}

var _ Keeper = (*answer.Case)(nil)

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// TestTurns: who is not at the oars in the first condition rows in turn, and the mean of their thrust drives her.
func TestTurns(t *testing.T) {
	w := demoWay(t, "turnstone")
	turns := must(w.Turns())
	if len(turns) != 2 || turns[0].Who[0] != "bow" || turns[1].Who[0] != "stroke" || turns[0].Hours != 11 {
		t.Fatalf("%+v", turns)
	}
	all := must(w.Crew())
	a, b := all.at(AtOars(w.Trip.Folder, w.Trip.Conditions[turns[0].Condition])), all.at(AtOars(w.Trip.Folder, w.Trip.Conditions[turns[1].Condition]))
	run(t, []check{{"thrust at 1.3 m/s", mean(turns)(1.3).Value, (a.Thrust(1.3).Value + b.Thrust(1.3).Value) / 2, 1e-9, "the mean, their hours being alike"},
		{"mean power, W", (a.Power().Value + b.Power().Value) / 2, 75, 1e-9, "voyage.yaml: 85 and 65 W"}})
	f := *w.Trip.Folder
	v := *f.Voyage
	v.Crew = append(v.Crew[:0:0], v.Crew...)
	p := v.Crew[1].Places
	v.Crew[1].Places = append(p[:0:0], p[1], p[0], p[2])
	f.Voyage = &v
	c := answer.NewCase(&f)
	both := must(New(c, must(c.Trip())).Turns())
	if len(both) != 1 || len(both[0].Who) != 2 {
		t.Errorf("both at the oars first: %+v", both)
	}
}
