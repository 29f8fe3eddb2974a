package underway

import (
	"errors"
	"math"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/resistance"
)

const knot = 1852.0 / 3600

type check struct {
	name           string
	got, want, tol float64
	source         string
}

func run(t *testing.T, all []check) {
	t.Helper()
	for _, c := range all {
		if c.source == "" {
			t.Errorf("%s has no source", c.name)
		}
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s: %g, want %g ± %g (%s)", c.name, c.got, c.want, c.tol, c.source)
		}
	}
}

// demo is a demonstration boat under way, and the condition in which she is rowed.
func demo(t testing.TB, name string) (*Way, int) {
	t.Helper()
	f, faults := boatfolder.Read("../../demo/" + name)
	if f == nil || len(faults) > 0 {
		t.Fatal(faults)
	}
	c := answer.NewCase(f)
	trip, err := c.Trip()
	if err != nil {
		t.Fatal(err)
	}
	rowed, _ := Conditions(trip)
	return New(c, trip), rowed
}

// TestDemosUnderOars: both invented boats lie in the bands that rowers tell of.
func TestDemosUnderOars(t *testing.T) {
	for _, name := range []string{"sanderling", "turnstone"} {
		w, cond := demo(t, name)
		for _, day := range []int{0, 13, w.Trip.Days} {
			r, err := w.At(day, cond)
			if err != nil {
				t.Fatal(err)
			}
			m, err := r.Speed(resistance.Wind{})
			stop, _, also := r.StopWind(0)
			if err != nil || also != nil {
				t.Fatal(err, also)
			}
			exact, err := w.hull(r.Attitude)
			if err != nil {
				t.Fatal(err)
			}
			p, err := r.Boat.Parts(1.4, resistance.Condition{Water: w.Water, Days: r.Scraped}, resistance.Wind{})
			if err != nil {
				t.Fatal(err)
			}
			run(t, []check{
				{name + ": speed in a calm, kn", m.Speed / knot, 2.3, 0.6, "crossing averages of 1.5 to 3.3 kn are published for rowed boats; a calm is faster than the average"},
				{name + ": head wind that stops her, kn", stop / knot, 16, 4, "about 15 kn on the nose is stop: rowers' estimate, no source; the sea left out here"},
				{name + ": drag area from ahead, m2", dragArea(r), 1.9, 0.4, "rowers' estimate, 1.9 m2 from ahead, no source"},
				{name + ": waves between the grid's points", p.Waves.Value, exact.Waves(1.4, w.Water.Density), 0.03 * p.Total.Value, "Michell's integral on the hull as she lies"},
				{name + ": resistance against thrust", m.Resistance.Value, r.Thrust(m.Speed).Value, 1e-6 * m.Resistance.Value, "the speed is where they are equal"},
			})
			watts, spread, err := r.Power(m.Speed, resistance.Wind{})
			if err != nil || math.Abs(watts-r.Crew.Power().Value) > 0.01*watts || !(spread > 0) {
				t.Errorf("%s: %g ± %g W for the speed of %g W (%v)", name, watts, spread, r.Crew.Power().Value, err)
			}
			if _, _, err := r.Power(6*knot, resistance.Wind{Speed: 15}); !errors.Is(err, ErrTooHard) {
				t.Errorf("%s: no hands too weak: %v", name, err)
			}
		}
	}
}

func dragArea(r *Rowed) float64 {
	sum := 0.0
	for _, p := range r.Boat.Windage {
		sum += p.Area * p.Drag
	}
	return sum
}

// TestGrowthAndLoad: between two scrapings she only gets slower, on the day after one faster again; nobody at the oars makes no thrust.
func TestGrowthAndLoad(t *testing.T) {
	w, cond := demo(t, "sanderling")
	last := math.Inf(1)
	for _, day := range []int{0, 5, 10, 13} {
		r, err := w.At(day, cond)
		if err != nil {
			t.Fatal(err)
		}
		m, err := r.Speed(resistance.Wind{})
		if err != nil || m.Speed > last {
			t.Fatalf("day %d: %g m/s after %g (%v)", day, m.Speed, last, err)
		}
		last = m.Speed
	}
	r, err := w.At(14, cond)
	if err != nil {
		t.Fatal(err)
	}
	if m, err := r.Speed(resistance.Wind{}); err != nil || !(m.Speed > last) {
		t.Errorf("scraped she makes %g m/s after %g (%v)", m.Speed, last, err)
	}
	for c := range w.Trip.Conditions {
		idle := true
		for _, at := range AtOars(w.Trip.Folder, w.Trip.Conditions[c]) {
			idle = idle && at < 0
		}
		if !idle {
			continue
		}
		r, err := w.At(0, c)
		if err != nil || r.Thrust(0).Value != 0 || len(r.Crew.Rowers) != 0 {
			t.Errorf("%s: thrust %v (%v)", w.Trip.Conditions[c].Name, r.Thrust(0), err)
		}
	}
}

// TestBestSetting: no other setting leaves more room, and the room is that of the fit.
func TestBestSetting(t *testing.T) {
	w, _ := demo(t, "turnstone")
	crew, err := w.Crew()
	waters, also := w.Waters(false)
	if err != nil || also != nil {
		t.Fatal(err, also)
	}
	if len(crew.Rowers) != 2 || len(waters) != 2 {
		t.Fatalf("%d rowers, %d waters", len(crew.Rowers), len(waters))
	}
	for _, r := range crew.Rowers {
		for g := range r.Gates {
			for h := range r.Holes {
				if left, _, err := Room(r.Seat.Setup(g, h), waters); err != nil || left > r.Left+2*even {
					t.Errorf("%s: %g m in gate place %d, hole %d; best told %g (%v)", r.Name, left, g, h, r.Left, err)
				}
			}
		}
	}
}

// TestMissing: what is missing is named, each with its key; power and hours have defaults that are listed.
func TestMissing(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(f *model.Folder)
		key    string
	}{
		{"no rowing place", func(f *model.Folder) { f.Boat.Rowing = nil }, "rowing"},
		{"no gates", func(f *model.Folder) { f.Boat.Rowing[0].Gates = nil }, "rowing[0].gates"},
		{"no stretcher", func(f *model.Folder) { f.Boat.Rowing[0].Stretcher = nil }, "rowing[0].stretcher"},
		{"no oars", func(f *model.Folder) { f.Boat.Rowing[0].Oars = nil }, "rowing[0].oars"},
		{"no stature", func(f *model.Folder) { f.Voyage.Crew[0].Stature = 0 }, "crew[0].stature"},
		{"nobody", func(f *model.Folder) { f.Voyage.Crew = nil }, "crew"},
		{"a giant", func(f *model.Folder) { f.Voyage.Crew[0].Stature = 9 }, "crew[0].stature"},
	} {
		f, _ := boatfolder.Read("../../demo/sanderling")
		c.change(f)
		k := answer.NewCase(f)
		trip, err := k.Trip()
		if err != nil {
			t.Fatal(err)
		}
		crew, err := New(k, trip).Crew()
		if err != nil || len(crew.Lacks) != 1 || crew.Lacks[0].Key != c.key || crew.Lacks[0].Why == "" {
			t.Errorf("%s: %+v (%v)", c.name, crew.Lacks, err)
		}
	}
	f, _ := boatfolder.Read("../../demo/sanderling")
	p := &f.Voyage.Crew[0]
	p.Power, p.Hours, p.InsideLeg = model.Power{}, 0, 0
	k := answer.NewCase(f)
	trip, _ := k.Trip()
	w := New(k, trip)
	crew, err := w.Crew()
	if err != nil || len(w.CrewTaken()) != 3 {
		t.Fatalf("%v %v", w.CrewTaken(), err)
	}
	run(t, []check{{"power by default, W", crew.Rowers[0].Power.Value, 75, 25, "a labourer's 75 W for 8 h; ordinary people below 80 % of 0.2 hp all day (Wilkie 1960)"}})
}

// BenchmarkAt is she on a day in a condition with the grid of waves worked out before.
func BenchmarkAt(b *testing.B) {
	w, cond := demo(b, "sanderling")
	if _, err := w.At(0, cond); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := w.of(w.Trip.State(0, cond)); err != nil {
			b.Fatal(err)
		}
	}
}
