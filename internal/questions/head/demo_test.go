package head

import (
	"context"
	"math"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/units"
)

func demo(t testing.TB, name string) *model.Folder {
	t.Helper()
	f, faults := boatfolder.Read("../../../demo/" + name)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return f
}

func asked(t testing.TB, f *model.Folder, o answer.Options) (answer.Answer, Figures) {
	t.Helper()
	a, err := Ask(context.Background(), answer.NewCase(f), o)
	if err != nil {
		t.Fatal(err)
	}
	g, _ := a.Figures.(Figures)
	return a, g
}

// TestDemos: both invented boats are answered with a range; what stands in the answer agrees with itself.
//
// Source: property; drift of boats 1 to 8 % of the wind, Allen and Plourde, USCG CG-D-08-99, and Brushett (2014)
func TestDemos(t *testing.T) {
	for _, name := range []string{"sanderling", "turnstone"} {
		f := demo(t, name)
		a, g := asked(t, f, answer.Options{})
		m := a.Margin
		if a.Verdict != answer.Yes && a.Verdict != answer.Close || m == nil || m.Spread < 10*deg {
			t.Fatalf("%s: %s, %+v: nobody knows it so well", name, a.Verdict, m)
		}
		if math.Abs(m.Value/deg-(g.Sector.Value-g.Asked)) > 1e-9 || g.Sector.Low >= g.Sector.Value || g.Sector.High <= g.Sector.Value {
			t.Errorf("%s: margin %+v, sector %+v", name, m, g.Sector)
		}
		for i, s := range g.Sectors {
			if i > 0 && s.Half > g.Sectors[i-1].Half+1e-6 {
				t.Errorf("%s: more courses in %.0f m/s than in less wind", name, s.Wind)
			}
			if s.Rudder > s.Half+1e-6 || s.Half < math.Max(s.Up, s.Down)-1e-6 {
				t.Errorf("%s: the best of all keeps less than one of them: %+v", name, s)
			}
		}
		for _, c := range g.Courses {
			if c.Course < 180-math.Max(g.Sector.Value, g.Sectors[2].Half)-1e-6 || math.Abs(c.Course-c.Leeway-c.Bow) > 0.5 || c.Speed <= 0 || math.Abs(c.Rudder) > 35+1e-9 {
				t.Errorf("%s: %+v", name, c)
			}
		}
		stable := 0
		for i := 1; i < len(g.Moments); i++ {
			if g.Moments[i-1].Value < 0 && g.Moments[i].Value >= 0 {
				stable++
			}
		}
		if stable == 0 || len(g.Lies) == 0 {
			t.Errorf("%s: nowhere does the moment bring her back, and %d rests", name, len(g.Lies))
		}
		byName := map[string]map[int]Drift{}
		for _, d := range g.Drifts {
			if byName[d.To] == nil {
				byName[d.To] = map[int]Drift{}
			}
			byName[d.To][int(math.Round(d.Wind/knot))] = d
		}
		for _, k := range []int{10, 20, 30, 40} {
			free, held := byName[""][k], byName["sea anchor"][k]
			if share := free.Speed.Value / (float64(k) * knot); share < 0.01 || share > 0.10 {
				t.Errorf("%s: left alone in %d kn she goes %.1f %% of the wind", name, k, 100*share)
			}
			if held.Speed.Value <= 0 || held.Speed.Value > free.Speed.Value/2 || held.From > 30 {
				t.Errorf("%s: in %d kn the sea anchor holds her so: %+v", name, k, held)
			}
		}
		if len(g.Devices) != 2 || len(g.Anchors) != 1 || len(g.Parts) < 6 {
			t.Errorf("%s: %d devices, %d anchors, %d parts", name, len(g.Devices), len(g.Anchors), len(g.Parts))
		}
	}
}

// TestGear: loads and strengths of Sanderling's gear by hand.
//
// Source: Jordan, USCG CG-D-20-87: the load is the displacement for a light boat; 0.9 in a splice, 0.85 wet; seven to one, Pythagoras
func TestGear(t *testing.T) {
	f := demo(t, "sanderling")
	_, g := asked(t, f, answer.Options{})
	c := answer.NewCase(f)
	trip, err := c.Trip()
	if err != nil {
		t.Fatal(err)
	}
	load := trip.State(0, trip.Condition(g.Left)).Mass * 9.80665
	d := g.Devices[0]
	for _, k := range []struct {
		name      string
		got, want float64
	}{
		{"load to build for", d.Design.Value, load}, {"line", d.Line.Factor, 20000 * 0.9 * 0.85 / load}, {"fitting", d.Fit.Factor, 18000 / load},
		{"drag area", d.Area, 0.775 * math.Pi / 4 * 2.7 * 2.7}, {"line out", g.Anchors[0].Lies[0].Out / 7, g.Anchors[0].Lies[1].Out/7 - 5},
		{"steady pull", d.Steady.Value, 0.5 * 1025 * d.Area * sq(speedTo(g, "sea anchor", 40))},
	} {
		if math.Abs(k.got-k.want) > 1e-3*math.Abs(k.want) {
			t.Errorf("%s: %g, want %g", k.name, k.got, k.want)
		}
	}
}

func sq(v float64) float64 { return v * v }

func speedTo(g Figures, to string, knots float64) float64 {
	for _, d := range g.Drifts {
		if d.To == to && math.Abs(d.Wind-knots*knot) < 1e-6 {
			return d.Speed.Value
		}
	}
	return math.NaN()
}

// TestChanges: what ought to help or harm does.
//
// Source: mechanics: a screen on the bow turns her off; a larger rudder, more power and less wind keep more courses
func TestChanges(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another, many times over: nothing for the race detector")
	}
	sector := func(change func(*model.Folder)) float64 {
		f := demo(t, "turnstone")
		change(f)
		_, g := asked(t, f, answer.Options{Brief: true})
		return g.Sector.Value
	}
	was := sector(func(*model.Folder) {})
	if v := sector(func(f *model.Folder) { w := units.Speed(14 * knot); f.Boat.Limits.Wind = &w }); v <= was {
		t.Errorf("in 14 kn %.1f degrees, in 20 kn %.1f", v, was)
	}
	if v := sector(func(f *model.Folder) { f.Voyage.Crew[0].Power.Value *= 1.5 }); v <= was {
		t.Errorf("with half as much power again %.1f degrees, without %.1f", v, was)
	}
	if v := sector(func(f *model.Folder) { f.Boat.Rudder.Raised = true }); math.Abs(v-was) > 2 { // but for its drag
		t.Errorf("the rudder lifted in the folder: %.1f degrees, was %.1f; it is down for the courses", v, was)
	}
	turns := func(change func(*model.Folder)) float64 {
		f := demo(t, "sanderling")
		change(f)
		_, g := asked(t, f, answer.Options{})
		return g.Moments[12].Value // the wind 60 degrees off the bow
	}
	plain := turns(func(*model.Folder) {})
	screen := func(x float64) func(*model.Folder) {
		return func(f *model.Folder) {
			w := f.Boat.Windage[0]
			w.At.X, w.At.Z, w.Size, w.Kind = x, 1.2, [3]units.Length{1, 0.05, 0.8}, model.WindBox
			f.Boat.Windage = append(f.Boat.Windage, w)
		}
	}
	if fore, aft := turns(screen(0.8)), turns(screen(5.8)); fore > plain-10 || aft < plain+10 {
		t.Errorf("a screen forward must turn the bow off the wind and one aft up to it: %.0f, %.0f, %.0f N m", fore, plain, aft)
	}
}

// TestMissing: without a rudder, oars or a rower it cannot be told, and says what is wanted; without the wind, the sector and
// the windage it takes the usual and says so.
func TestMissing(t *testing.T) {
	f := demo(t, "sanderling")
	f.Boat.Rudder = nil
	f.Boat.Rowing = nil
	a, _ := asked(t, f, answer.Options{})
	if a.Verdict != answer.CannotTell || len(a.Needs) != 2 || a.Needs[0].Key != "rudder" || a.Needs[1].Key != "rowing" {
		t.Errorf("%s, %+v", a.Verdict, a.Needs)
	}
	f = demo(t, "sanderling")
	f.Voyage.Crew = nil
	if a, _ = asked(t, f, answer.Options{}); a.Verdict != answer.CannotTell || len(a.Needs) != 1 || a.Needs[0].File != "voyage.yaml" {
		t.Errorf("%s, %+v", a.Verdict, a.Needs)
	}
	f = demo(t, "sanderling")
	f.Boat.Limits.Wind, f.Boat.Limits.Sector, f.Boat.Windage, f.Boat.Boards, f.Boat.SeaAnchors, f.Boat.Anchors = nil, nil, nil, nil, nil, nil
	f.Boat.Rudder.Turns = 0
	a, _ = asked(t, f, answer.Options{})
	for _, want := range []string{"limits.wind", "limits.sector", "boat.yaml: windage", "rudder.turns"} {
		found := false
		for _, s := range a.Assumptions {
			found = found || strings.Contains(s.File, want)
		}
		if !found {
			t.Errorf("nothing is said of %s", want)
		}
	}
}

func BenchmarkBare(b *testing.B) {
	for _, name := range []string{"sanderling", "turnstone"} {
		f := demo(b, name)
		base := answer.NewCase(f)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Ask(context.Background(), answer.NewCaseFrom(f, base), answer.Options{Bare: true}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkFull(b *testing.B) {
	for _, name := range []string{"sanderling", "turnstone"} {
		f := demo(b, name)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Ask(context.Background(), answer.NewCase(f), answer.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
