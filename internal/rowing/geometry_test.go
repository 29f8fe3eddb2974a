package rowing

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// flat is still water under a boat that lies level.
var flat = Water{Name: "level", Level: 0.30}

// racing is a set-up after racing rigging, for one of a stature; the water's line is at 0.30 m.
func racing(stature float64) Setup {
	b, err := OfStature("racer", stature)
	if err != nil {
		panic(err)
	}
	return Setup{Body: b, Habits: Sliding(), Seat: Seat{Fore: 2.20, Aft: 3.15, Height: 0.38}, Gate: Gate{X: 3, Half: 0.80, Z: 0.55},
		Stretcher: Stretcher{X: 3.28, Z: 0.21, Angle: 42 * degree}, Oar: Oar{Length: 2.88, Inboard: 0.88, Blade: 0.44, Width: 0.21, Swivel: 0.04}}
}

// setups draws set-ups of every kind, most of which do not fit.
func setups(t *rapid.T) Setup {
	d := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	s := racing(d("stature", 1.45, 2.05))
	if rapid.Bool().Draw(t, "fixed") {
		s.Habits, s.Seat.Aft = FixedSeat(), s.Seat.Fore
		s.Seat.Fore += 0.6
		s.Seat.Aft = s.Seat.Fore
	}
	s.Stretcher.X += d("stretcher", -0.4, 0.4)
	s.Stretcher.Z += d("heels", -0.15, 0.2)
	s.Gate.Z += d("gate", -0.1, 0.4)
	s.Gate.Half += d("half", -0.2, 0.3)
	s.Oar.Inboard += d("inboard", -0.2, 0.3)
	s.Edges = []Edge{{"gunwale", []Point{{1, 0.6, 0.5}, {3, 0.7, 0.45}, {5, 0.6, 0.55}}}}
	return s
}

// TestLever: on a level boat the handle's height is the lever's, written out.
func TestLever(t *testing.T) {
	s := racing(1.8)
	st := must[Stroke](t)(s.Stroke(flat, Starboard))
	above, deep := 0.55-0.30, 0.21/2+0.02
	hand := 0.55 + 0.84/1.76*(above+deep) - 0.38
	clear := 0.55 + 0.84/1.76*(above-0.10) - 0.38
	run(t, []check{
		{"hand, blade buried", st.HandSquare, hand, 1e-12, "gate + hand arm / blade arm × (gate above the water + depth of the blade's middle)"},
		{"the same all along the arc", st.HandCatch, hand, 1e-12, "a level boat's water is the same everywhere"},
		{"hand, blade clear by 100 mm", st.HandClear, clear, 1e-12, "the same with the depth - 100 mm"},
	})
	high := flat
	high.Level -= 0.04
	lighter := must[Stroke](t)(s.Stroke(high, Starboard))
	run(t, []check{{"40 mm lighter lifts the hands", lighter.HandSquare - st.HandSquare, 0.04 * 0.84 / 1.76, 1e-12, "the lever"}})
}

// TestBladeDepth: however she heels and trims, the blade's middle is so deep under the water, measured square
// to the water in a frame that is level.
func TestBladeDepth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		w := Water{Level: 0.3, At: 3, Heel: rapid.Float64Range(-0.15, 0.15).Draw(t, "heel"), Trim: rapid.Float64Range(-0.05, 0.05).Draw(t, "trim")}
		side := rapid.SampledFrom([]Side{Port, Starboard}).Draw(t, "side")
		a := rapid.Float64Range(-1.2, 1.2).Draw(t, "angle")
		o := s.line(w, side)
		e, ok := o.elevation(a, o.cover)
		if !ok {
			t.Skip("the blade does not reach the water")
		}
		b := o.at(a, e, -s.Oar.BladeArm())
		// The plane through (At, 0, Level) with slopes tan Trim and tan Heel: distance by its unit normal.
		n := Point{-math.Tan(w.Trim), -math.Tan(w.Heel), 1}
		depth := -b.minus(Point{w.At, 0, w.Level}).dot(n) / n.length()
		if want := s.Oar.Width/2 + s.Habits.Cover; math.Abs(depth-want) > 1e-9 {
			t.Fatalf("the blade's middle is %.6f m deep, want %.6f", depth, want)
		}
		if l := b.minus(o.gate).length(); math.Abs(l-s.Oar.BladeArm()) > 1e-9 {
			t.Fatalf("the oar is %.6f m from pin to blade, want %.6f", l, s.Oar.BladeArm())
		}
	})
}

// TestLimbs: no limb changes its length, and at the catch the straight arm holds the handle.
func TestLimbs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		st, err := s.Stroke(flat, Starboard)
		if err != nil {
			t.Fatal(err)
		}
		b := s.Body
		inPlane := func(p, q Point) float64 { return math.Hypot(p.X-q.X, p.Z-q.Z) }
		same := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-6 {
				t.Fatalf("%s: %.6f m, want %.6f", what, got, want)
			}
		}
		for _, p := range []Pose{st.Catch, st.Finish} {
			same("thigh", inPlane(p.Hip, p.Knee), b.Thigh)
			if d := inPlane(p.Hip, p.Ankle); d < b.Thigh+b.Shank-1e-9 {
				same("shank", inPlane(p.Knee, p.Ankle), b.Shank)
			}
			same("upper arm", p.Elbow.minus(p.Shoulder).length(), b.UpperArm)
			if d := p.Hand.minus(p.Shoulder).length(); d <= b.Reach() {
				same("forearm", p.Hand.minus(p.Elbow).length(), b.Forearm)
			}
		}
		if st.OarEnd == ByHabit {
			same("reach at the catch", st.Catch.Hand.minus(st.Catch.Shoulder).length(), b.Reach())
		}
	})
}

// TestMoved: a boat that is moved along and raised as a whole fits as before; port is starboard's mirror image, heel too.
func TestMoved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		dx, dz := rapid.Float64Range(-1, 5).Draw(t, "along"), rapid.Float64Range(-1, 2).Draw(t, "up")
		w := []Water{flat, {Name: "heeled", Level: 0.31, At: 3, Heel: 0.17}}
		q, moved := s, append([]Water(nil), w...)
		q.Seat.Fore, q.Seat.Aft, q.Seat.Height = q.Seat.Fore+dx, q.Seat.Aft+dx, q.Seat.Height+dz
		q.Stretcher.X, q.Stretcher.Z, q.Gate.X, q.Gate.Z = q.Stretcher.X+dx, q.Stretcher.Z+dz, q.Gate.X+dx, q.Gate.Z+dz
		q.Edges = []Edge{{Name: "gunwale"}}
		for _, p := range s.Edges[0].Points {
			q.Edges[0].Points = append(q.Edges[0].Points, Point{p.X + dx, p.Y, p.Z + dz})
		}
		if q.Seat.Fixed() != s.Seat.Fixed() {
			q.Seat.Aft = q.Seat.Fore
		}
		for i := range moved {
			moved[i].Level += dz
			moved[i].At += dx
		}
		mirror := append([]Water(nil), w...)
		mirror[1].Heel *= -1
		a, b, c := s.margins(w), q.margins(moved), s.margins(mirror)
		for i := range a {
			if math.Abs(a[i].Margin-b[i].Margin) > 1e-6 {
				t.Fatalf("%s: %.7f, moved %.7f", a[i].Kind, a[i].Margin, b[i].Margin)
			}
			if math.Abs(a[i].Margin-c[i].Margin) > 1e-9 {
				t.Fatalf("%s: %.7f heeled to starboard, %.7f to port", a[i].Kind, a[i].Margin, c[i].Margin)
			}
		}
	})
}

// TestEdge: the shaft over a straight gunwale, level boat, written out.
func TestEdge(t *testing.T) {
	s := racing(1.8)
	s.Edges = []Edge{{"gunwale", []Point{{0, 0.9, 0.5}, {6, 0.9, 0.5}}}}
	o := s.line(flat, Starboard)
	const a = 0.5
	e, _ := o.elevation(a, o.cover)
	air, i := s.strikes(&o, a, e)
	run(t, []check{{"air", air, 0.55 - 0.1/math.Cos(a)*math.Tan(e) - 0.025/math.Cos(e) - 0.5, 1e-12,
		"0.1 m outboard of the pin, down the slope of the oar, less the shaft's radius"}})
	if i != 0 {
		t.Errorf("struck edge %d", i)
	}
	s.Edges[0].Points = []Point{{0, 0.9, 0.5}, {1, 0.9, 0.5}}
	if air, _ := s.strikes(&o, a, e); !math.IsInf(air, 1) {
		t.Errorf("an edge that the oar does not cross is %g m away", air)
	}
}

// TestSteps: the tightest place is found by 24 steps as by 400.
func TestSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setups(t)
		m := s.margins([]Water{flat})
		st, _ := s.stroke(flat, Starboard)
		o := s.line(flat, Starboard)
		least := math.Inf(1)
		for j := range 401 {
			a := -st.FinishAngle + st.Arc()*float64(j)/400
			e, _ := o.elevation(a, o.cover)
			air, _ := s.strikes(&o, a, e)
			least = math.Min(least, air)
		}
		if c := m[iDriveEdge]; c.Asked && math.Abs(c.Margin-least) > 0.001 {
			t.Fatalf("air %.5f by %d steps, %.5f by 400", c.Margin, steps, least)
		}
	})
}

// TestTaller: longer arms reach further, higher gates lift the hands, a stretcher further aft takes from the finish.
func TestTaller(t *testing.T) {
	s := racing(1.75)
	s.Habits.SweepMost = 1.3
	at := func(s Setup) Stroke { return must[Stroke](t)(s.Stroke(flat, Starboard)) }
	long := s
	long.Body.UpperArm += 0.03
	up, aft := s.With(Change{RaiseGate, 0.05}), s.With(Change{MoveStretcher, 0.05})
	if a, b := at(s), at(long); b.CatchAngle <= a.CatchAngle || b.FinishAngle != a.FinishAngle {
		t.Errorf("longer arms: catch %g to %g, finish %g to %g", a.CatchAngle, b.CatchAngle, a.FinishAngle, b.FinishAngle)
	}
	run(t, []check{{"gate 50 mm up lifts the hand", at(up).HandSquare - at(s).HandSquare, 0.05 * (1 + 0.84/1.76), 1e-12, "the lever: both the pin and the slope"}})
	if a, b := at(s), at(aft); b.FinishAngle >= a.FinishAngle || b.CatchAngle <= a.CatchAngle {
		t.Errorf("stretcher aft: catch %g to %g, finish %g to %g", a.CatchAngle, b.CatchAngle, a.FinishAngle, b.FinishAngle)
	}
}

// TestMends: what is told mends it, and a step less does not.
func TestMends(t *testing.T) {
	s := racing(1.75)
	s.Stretcher.X += 0.15
	waters := []Water{flat, {Name: "light", Level: 0.26}}
	mends := must[[]Mend](t)(s.Mends(waters))
	if len(mends) == 0 {
		t.Fatal("nothing mends a stretcher 150 mm too far aft")
	}
	for _, m := range mends {
		q := s
		for _, c := range m.Changes {
			q = q.With(c)
		}
		if fit := must[Fit](t)(q.Fit(waters)); fit.Fits() != m.Fits {
			t.Errorf("%v: told fits %v, is %v: %v", m.Changes, m.Fits, fit.Fits(), fit.Misfits())
		}
		if c := m.Changes[0]; len(m.Changes) == 1 {
			c.By -= math.Copysign(grid, c.By)
			if q := s.With(c); q.short(waters) == 0 {
				t.Errorf("%v: a step less does it too", m.Changes)
			}
		}
	}
	if good := must[[]Mend](t)(s.With(mends[0].Changes[0]).Mends(waters)); good != nil {
		t.Errorf("a set-up that fits is mended: %v", good)
	}
	hopeless := s
	hopeless.Gate.Half = 2.5
	m := must[[]Mend](t)(hopeless.Mends(waters))
	if len(m) != 1 || m[0].Fits || len(m[0].Left) == 0 {
		t.Errorf("gates five metres apart are mended by %+v", m)
	}
	for _, p := range parts {
		if s := (Change{p.part, -0.02}).String(); !strings.Contains(s, "20 mm") {
			t.Errorf("%s: %q", p.part, s)
		}
	}
}

// TestFits: the matrix holds what each set-up says by itself, and is the same each time.
func TestFits(t *testing.T) {
	s := racing(1.75)
	var holes []Stretcher
	for _, dx := range []float64{-0.1, 0, 0.1} {
		h := s.Stretcher
		h.X += dx
		holes = append(holes, h)
	}
	places := []Place{{"bow", s.Seat, s.Gate, holes}, {"aft", s.Seat, Gate{"", 3.05, 0.8, 0.57}, holes[:2]}}
	waters := []Water{flat, {Name: "heeled", Level: 0.3, Heel: 10 * degree}}
	m := must[Matrix](t)(Fits(Bodies(), places, s, waters))
	if len(m.Cells) != 6*5 || len(m.Best) != 12 {
		t.Fatalf("%d cells and %d bests, want 30 and 12", len(m.Cells), len(m.Best))
	}
	if again := must[Matrix](t)(Fits(Bodies(), places, s, waters)); !reflect.DeepEqual(m, again) {
		t.Error("the matrix differs from one time to the next")
	}
	for _, c := range m.Cells {
		q := s
		q.Body, q.Seat, q.Gate, q.Stretcher = Bodies()[c.Body], s.Seat, places[c.Place].Gate, places[c.Place].Stretchers[c.Stretcher]
		if fit := must[Fit](t)(q.Fit(waters)); !reflect.DeepEqual(fit, c.Fit) {
			t.Fatalf("cell %+v differs from the set-up by itself", c)
		}
	}
	some := false
	for _, b := range m.Best {
		some = some || b.Fits
		if c := m.Cells[b.Cell]; c.Body != b.Body || c.Place != b.Place || b.Fits != c.Fit.Fits() || b.Fits && b.Mends != nil || !b.Fits && len(b.Mends) == 0 {
			t.Errorf("best %+v is not its cell's", b)
		}
	}
	if !some {
		t.Error("a usual racing rig fits nobody")
	}
}

// TestSpread: what a doubt does is what changing that input does; heavier doubt is wider.
func TestSpread(t *testing.T) {
	s := racing(1.75)
	f := must[Fit](t)(s.Fit([]Water{flat}))
	want := coverSpread * 0.84 / 1.76
	run(t, []check{{"hand's height", f.HandSquare.Spread, want, 1e-9, "only how deep the blade is carried bears on it: through the lever"}})
	for _, c := range f.Checks {
		if c.Asked && (c.Spread < 0 || math.IsNaN(c.Spread)) || c.String() == "" {
			t.Errorf("%s: spread %g", c.Kind, c.Spread)
		}
	}
	if f.CatchAngle.Spread == 0 && f.Stroke.OarEnd == ByHabit || f.FinishAngle.Spread < 2*degree {
		t.Errorf("the ends of the stroke are told too surely: %+v, %+v", f.CatchAngle, f.FinishAngle)
	}
}

// TestFigures: drawn to scale, from both sides, at both ends.
func TestFigures(t *testing.T) {
	for _, sweep := range []bool{false, true} {
		s := racing(1.75)
		s.Oar.Sweep = sweep
		s.Edges = []Edge{{"gunwale", []Point{{1, 0.6, 0.5}, {5, 0.6, 0.5}}}}
		for _, phase := range []Phase{AtCatch, AtFinish} {
			side := must[[]Line](t)(s.FromSide(flat, phase))
			above := must[[]Line](t)(s.FromAbove(flat, phase))
			traits := map[Trait]int{}
			for _, l := range append(side, above...) {
				traits[l.Trait]++
				for _, p := range l.Points {
					if math.IsNaN(p[0]+p[1]) || math.IsInf(p[0]+p[1], 0) {
						t.Fatalf("%s: %v", l.Name, p)
					}
				}
			}
			for _, want := range []Trait{Limb, HeadLine, OarShaft, OarBlade, BoatPart, PinMark, Surface, HandPath} {
				if traits[want] == 0 {
					t.Errorf("no %s is drawn", want)
				}
			}
			leg := side[3]
			for _, l := range side {
				if l.Name == "leg" {
					leg = l
				}
			}
			thigh := math.Hypot(leg.Points[4][0]-leg.Points[3][0], leg.Points[4][1]-leg.Points[3][1])
			run(t, []check{{"the thigh as drawn", thigh, s.Body.Thigh, 1e-9, "to scale by definition"}})
		}
	}
}

// TestCustoms: measures beside the customary ranges.
func TestCustoms(t *testing.T) {
	s := racing(1.75)
	list := must[[]Custom](t)(s.Customs(flat))
	byName := map[string]Custom{}
	for _, c := range list {
		byName[c.What] = c
		if c.Source == "" || c.String() == "" || c.Low > c.High {
			t.Errorf("%+v", c)
		}
	}
	if c := byName["gate above the seat"]; !c.Usual() || math.Abs(c.Value-0.17) > 1e-12 {
		t.Errorf("%v", c)
	}
	s.Seat.Aft, s.Habits = s.Seat.Fore, FixedSeat()
	fixed := must[[]Custom](t)(s.Customs(flat))
	if len(fixed) == len(list) || fixed[3].Low != 0.28 {
		t.Errorf("a fixed seat has its own ranges: %v", fixed)
	}
	low, high := s.Body.Seated(false)
	run(t, []check{{"heels below the seat, 1.75 m", (low + high) / 2, 0.155, 0.0051, "about 150 mm for a rower of 1.75 m, published rigging notes"}})
}
