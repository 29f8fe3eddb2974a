package heading

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// rower is an invented boat of the size of an ocean rower: 6.5 m, two cabins, a rudder and a
// board; nobody's.
func rower() Boat {
	h := Hull{Volume: 0.75}
	for i := 0; i <= 26; i++ {
		s := float64(i) / 26
		h.Stations = append(h.Stations, Station{X: 0.2 + 6.2*s, Depth: 0.32 * math.Pow(4*s*(1-s), 0.4), Beam: 1.3 * math.Pow(4*s*(1-s), 0.6)})
	}
	b := Boat{Hull: h, Resistance: Quadratic(30), Oars: Oars{Arm: 1.9}, Coefficients: Usual()}
	b.Parts = []Part{
		{Name: "hull and cabins", Side: []Strip{{3.2, 3.3, 0.25}, {0.7, 1.2, 0.75}, {1.1, 5.4, 0.8}}, Front: []Strip{{0.7, 0, 0.25}, {0.8, 0, 0.8}}, Shape: ShapeFlat, Length: 6.8},
		Plain("rower", 0.35, 0.4, 3.2, 0.8, ShapeFlat, 0),
	}
	b.Foils = []Foil{
		{Name: "rudder", Area: 0.10, X: 6.4, Span: 0.45, MaxAngle: 35 * deg, Behind: true, Mirrored: true},
		{Name: "board", Area: 0.22, X: 2.6, Span: 0.6, Mirrored: true},
	}
	return b
}

// even is a steady rower's thrust: so many watts at the blades, and no more than a pull can give.
func even(watts float64) func(float64) float64 {
	return func(u float64) float64 { return watts / math.Max(u, watts/80) }
}

func TestLyingBeamOn(t *testing.T) {
	b := Boat{Hull: box(6, 0.3, 1.2), Resistance: Quadratic(3), Coefficients: Usual(),
		Parts: []Part{Plain("hull", 4, 1.5, 3, 0.5, ShapeFlat, 6)}}
	b.Coefficients.Gradient = Uniform()
	rests := must(must(New(b)).Rests(10, Control{}))
	k := math.Sqrt(Air * 4 / (SeaWater * CrossFlow(1.2, 0.3) * 1.8))
	if len(rests) != 4 {
		t.Fatalf("a boat alike at both ends lies at %d angles, not 4: %+v", len(rests), rests)
	}
	for i, want := range []float64{-90, 0, 90, 180} {
		r := rests[i]
		run(t, []check{{"angle", math.Abs(wrap(r.From - want*deg)), 0, 1e-6, "symmetry fore and aft"}})
		if math.Abs(want) == 90 {
			run(t, []check{
				{"speed", r.Speed(), 10 * k / (1 + k), 1e-8, "balance of two square laws, closed form"},
				{"downwind", r.Divergence(), 0, 1e-6, "symmetry"},
			})
		}
	}
	// A symmetrical body has the wind's centre shift to windward and the water's too: which
	// wins says whether she lies beam-on.
	without := b
	without.Coefficients.Shift = 0
	for _, r := range must(must(New(without)).Rests(10, Control{})) {
		if beam := math.Abs(math.Abs(r.From)-90*deg) < 1e-3; beam != r.Stable {
			t.Errorf("with the water's moment alone: %.0f degrees stable %v", r.From/deg, r.Stable)
		}
	}
}

func TestWeathercock(t *testing.T) {
	lies := func(f func(*Boat)) (out []float64) {
		b := rower()
		f(&b)
		for _, r := range must(must(New(b)).Rests(12, Control{})) {
			if r.Stable {
				out = append(out, math.Abs(r.From))
			}
		}
		return out
	}
	plain := lies(func(*Boat) {})
	mast := lies(func(b *Boat) { b.Parts = append(b.Parts, Plain("screen on the bow", 1.5, 0.1, 0.3, 1, ShapeFlat, 0)) })
	stern := lies(func(b *Boat) { b.Parts = append(b.Parts, Plain("screen aft", 1.5, 0.1, 6.2, 1, ShapeFlat, 0)) })
	bow := lies(func(b *Boat) { b.Towed = []Towed{{X: 0, DragArea: 6}} })
	drogue := lies(func(b *Boat) { b.Towed = []Towed{{X: 6.6, DragArea: 6}} })
	for _, l := range [][]float64{plain, mast, stern, bow, drogue} {
		if len(l) == 0 {
			t.Fatal("she lies nowhere")
		}
	}
	// Signs, by the plain mechanics of a weathercock.
	if !(mast[0] > plain[0] && plain[0] > stern[0]) {
		t.Errorf("windage forward must turn the bow away, windage aft up to the wind: %v, %v, %v", mast, plain, stern)
	}
	if bow[0] > 15*deg || drogue[0] < 165*deg {
		t.Errorf("a sea anchor must hold the bow up, a drogue the stern: %v, %v", bow, drogue)
	}
}

func TestRestsGrowWithTheWind(t *testing.T) {
	// Square laws throughout: angles are those of any wind, speeds in proportion.
	m := must(New(rower()))
	a, b := must(m.Rests(4, Control{})), must(m.Rests(16, Control{}))
	for i := range a {
		run(t, []check{
			{"angle", a[i].From, b[i].From, 1e-6, "square laws: no scale of speed"},
			{"speed", 4 * a[i].Speed(), b[i].Speed(), 1e-6, "square laws: no scale of speed"},
		})
	}
	stable := 0
	for _, r := range a {
		if r.Stable {
			stable++
		}
	}
	if 2*stable != len(a) {
		t.Errorf("%d stable rests of %d: half must be", stable, len(a))
	}
}

func TestMirror(t *testing.T) {
	m := must(New(rower()))
	rapid.Check(t, func(t *rapid.T) {
		wind := rapid.Float64Range(0, 30).Draw(t, "wind")
		from := rapid.Float64Range(-3, 3).Draw(t, "from")
		u := rapid.Float64Range(-3, 3).Draw(t, "u")
		v := rapid.Float64Range(-3, 3).Draw(t, "v")
		c := Control{Rudder: rapid.Float64Range(-0.6, 0.6).Draw(t, "rudder"), Uneven: rapid.Float64Range(-1, 1).Draw(t, "uneven"), Thrust: even(60)}
		x, y, n := m.Forces(wind, from, u, v, c)
		p := c
		p.Rudder, p.Uneven = -c.Rudder, -c.Uneven
		xm, ym, nm := m.Forces(wind, -from, u, -v, p)
		tol := 1e-9 * (1 + math.Abs(x) + math.Abs(y) + math.Abs(n))
		if math.Abs(x-xm)+math.Abs(y+ym)+math.Abs(n+nm) > tol {
			t.Fatalf("%g %g %g is not the mirror image of %g %g %g", x, y, n, xm, ym, nm)
		}
	})
}

func TestSlideSettles(t *testing.T) {
	m := must(New(rower()))
	rapid.Check(t, func(t *rapid.T) {
		wind := rapid.Float64Range(0, 60).Draw(t, "wind")
		from := rapid.Float64Range(-4, 4).Draw(t, "from")
		c := Control{Rudder: rapid.Float64Range(-0.6, 0.6).Draw(t, "rudder"), Thrust: even(rapid.Float64Range(1, 300).Draw(t, "watts"))}
		l, err := m.Slide(wind, from, c, nil)
		if err != nil {
			t.Fatal(err)
		}
		x, y, _ := m.Forces(wind, from, l.Ahead, l.Side, c)
		x0, y0, _ := m.Forces(wind, from, 0, 0, c)
		if math.Hypot(x, y) > 1e-9*math.Hypot(x0, y0) {
			t.Fatalf("left over %g N of %g", math.Hypot(x, y), math.Hypot(x0, y0))
		}
	})
}

// TestSize: a boat twice as large, with twice the lines and four times the areas, drifts alike.
func TestSize(t *testing.T) {
	small, large := rower(), rower()
	const k = 2.0
	for i := range large.Hull.Stations {
		s := &large.Hull.Stations[i]
		s.X, s.Depth, s.Beam = k*s.X, k*s.Depth, k*s.Beam
	}
	for i := range large.Parts {
		p := &large.Parts[i]
		p.Length *= k
		for j := range p.Side {
			p.Side[j] = Strip{k * k * p.Side[j].Area, k * p.Side[j].X, p.Side[j].Height}
		}
		for j := range p.Front {
			p.Front[j].Area *= k * k
		}
	}
	for i := range large.Foils {
		f := &large.Foils[i]
		f.Area, f.Span, f.X = k*k*f.Area, k*f.Span, k*f.X
	}
	large.Resistance = Quadratic(k * k * 30)
	a, b := must(must(New(small)).Rests(9, Control{})), must(must(New(large)).Rests(9, Control{}))
	for i := range a {
		run(t, []check{
			{"angle", b[i].From, a[i].From, 1e-7, "similarity: forces as length squared, moments as its cube"},
			{"speed", b[i].Speed(), a[i].Speed(), 1e-7, "similarity"},
		})
	}
}

func TestRowing(t *testing.T) {
	m := must(New(rower()))
	bare := rower()
	bare.Parts = nil
	calm := must(must(New(bare)).Row(0, 0.3, even(60), Helm{Rudder: true}))
	// Even oars and no wind: thrust against resistance and the two foils' profile drag.
	drag := 30 + SeaWater/2*profileDrag*(0.10*0.85*0.85+0.22)
	run(t, []check{
		{"calm", calm.Ahead, math.Cbrt(60 / drag), 1e-6, "power = drag times speed, closed form"},
		{"calm, straight", calm.Side, 0, 1e-9, "symmetry"},
		{"calm, rudder", calm.Rudder, 0, 0, "symmetry"},
	})
	head := must(m.Row(8, 0, even(60), Helm{Rudder: true}))
	beam := must(m.Row(8, 90*deg, even(60), Helm{Rudder: true, Oars: true}))
	x0, _, n0 := m.Forces(0, 0, 0, 0, Control{Thrust: func(float64) float64 { return 50 }})
	x1, _, n1 := m.Forces(0, 0, 0, 0, Control{Uneven: 1, Thrust: func(float64) float64 { return 50 }})
	x2, _, n2 := m.Forces(0, 0, 0, 0, Control{Uneven: -0.5, Thrust: func(float64) float64 { return 50 }})
	run(t, []check{
		{"both oars", x0, 50, 1e-12, "by hand"},
		{"both oars turn nothing", n0, 0, 1e-12, "by hand"},
		{"port oar alone", x1, 25, 1e-12, "by hand: half of it"},
		{"port oar alone turns to starboard", n1, 25 * 1.9, 1e-12, "by hand: 25 N, 1.9 m off"},
		{"port oar eased by half", x2, 37.5, 1e-12, "by hand: 25 and 12.5 N"},
		{"port oar eased by half turns to port", n2, -12.5 * 1.9, 1e-12, "by hand"},
	})
	if !(head.Ahead < calm.Ahead && beam.Side < 0 && beam.Leeway() < 0) {
		t.Errorf("a head wind must slow her and a wind on the starboard beam set her to port: %+v, %+v", head, beam)
	}
	_, _, left := m.Forces(8, 90*deg, beam.Ahead, beam.Side, Control{Rudder: beam.Rudder, Uneven: beam.Uneven, Thrust: even(60)})
	if !beam.Held || math.Abs(left) > 1e-4 {
		t.Errorf("held with %g Nm left over: %+v", left, beam)
	}
	none := must(m.Row(8, 90*deg, even(60), Helm{}))
	if none.Held || none.Margin >= 0 {
		t.Errorf("held by nothing: %+v", none)
	}
	if got := beam.MadeGood(beam.Course()); math.Abs(got-beam.Speed()) > 1e-12 {
		t.Errorf("made good along her own track %g of %g", got, beam.Speed())
	}
}

func TestKeep(t *testing.T) {
	m := must(New(rower()))
	both := Helm{Rudder: true, Oars: true}
	for _, want := range []float64{70, 90, 120, 150, 180} {
		w, err := m.Keep(7, want*deg, even(60), both)
		if err != nil {
			t.Errorf("%g degrees: %v", want, err)
			continue
		}
		run(t, []check{{"track", math.Abs(w.Course()), want * deg, 1e-6, "the course asked for"}})
	}
	arcs := must(m.Sector(7, even(60), both))
	if len(arcs) == 0 {
		t.Fatal("no course at all")
	}
	// What the sector says can be kept, can; what lies well outside, cannot.
	for _, a := range arcs {
		mid := (a.Course[0] + a.Course[1]) / 2
		if _, err := m.Keep(7, mid, even(60), both); err != nil {
			t.Errorf("%.0f degrees is in the sector: %v", mid/deg, err)
		}
	}
	if _, err := m.Keep(25, 20*deg, even(60), both); !errors.Is(err, ErrNotKept) {
		t.Errorf("kept close to a gale: %v", err)
	}
}

// width is all of a sector's arcs together.
func width(arcs []Arc) (w float64) {
	for _, a := range arcs {
		w += a.Course[1] - a.Course[0]
	}
	return w
}

func TestSectors(t *testing.T) {
	m := must(New(rower()))
	winds := []float64{4, 8, 12}
	if testing.Short() {
		winds = winds[2:]
	}
	for _, wind := range winds {
		oars := width(must(m.Sector(wind, even(60), Helm{Oars: true})))
		rudder := width(must(m.Sector(wind, even(60), Helm{Rudder: true})))
		both := width(must(m.Sector(wind, even(60), Helm{Rudder: true, Oars: true})))
		if both < rudder-0.02 || both < oars-0.02 {
			t.Errorf("%g m/s: more to steer with keeps fewer courses: %.1f of %.1f and %.1f degrees", wind, both/deg, rudder/deg, oars/deg)
		}
	}
	light, strong := width(must(m.Sector(3, even(60), Helm{Rudder: true}))), width(must(m.Sector(12, even(60), Helm{Rudder: true})))
	if strong > light {
		t.Errorf("a strong wind leaves more courses than a light one: %g, %g", strong/deg, light/deg)
	}
}

func TestVary(t *testing.T) {
	c := Usual()
	two := []Doubt{
		{"a", "test", func(c *Coefficients) { c.Shape -= 3 }, func(c *Coefficients) { c.Shape += 3 }},
		{"b", "test", func(c *Coefficients) { c.Plate -= 2 }, func(c *Coefficients) { c.Plate += 2 }},
	}
	r := must(Vary(c, two, func(c Coefficients) ([]float64, error) { return []float64{c.Shape + 2*c.Plate, 7}, nil }))
	run(t, []check{
		{"value", r[0].Value, 1 + 2*1.17, 1e-12, "the sum itself"},
		{"spread", r[0].Half(), 5, 1e-12, "JCGM 100, 5.1.2: the root of 3^2 + 4^2"},
		{"none", r[1].Half(), 0, 0, "an answer that hangs on nothing"},
	})
	if r[0].Worst() != "b" {
		t.Errorf("the worst doubt is %q", r[0].Worst())
	}
	lost := must(Vary(c, two, func(c Coefficients) ([]float64, error) {
		if c.Plate < 0 {
			return nil, ErrNotKept
		}
		return []float64{c.Plate}, nil
	}))
	if len(lost[0].Lost) != 1 || lost[0].Lost[0] != "b" {
		t.Errorf("lost: %v", lost[0].Lost)
	}
	if _, err := Vary(c, two, func(c Coefficients) ([]float64, error) { return nil, ErrNotKept }); !errors.Is(err, ErrNotKept) {
		t.Errorf("an answer from none: %v", err)
	}
	doubts := Doubts()
	if testing.Short() {
		doubts = doubts[:3]
	}
	lies := must(Lies(rower(), 8, Control{}, doubts))
	again := must(Lies(rower(), 8, Control{}, doubts))
	for i, l := range lies {
		if l.From.Low > l.From.Value || l.From.High < l.From.Value || l.From.Half() == 0 || l.From.Low != again[i].From.Low {
			t.Errorf("range of a rest: %+v", l.From)
		}
	}
	kept := must(Kept(rower(), 6, 120*deg, even(60), Helm{Rudder: true, Oars: true}, doubts))
	arcs := must(Arcs(rower(), 12, even(60), Helm{Rudder: true}, doubts))
	if kept.Leeway.Half() == 0 || len(arcs) == 0 || arcs[0].From.Half() == 0 {
		t.Errorf("no doubt about the leeway or the sector: %+v, %+v", kept.Leeway, arcs)
	}
	for _, d := range Doubts() {
		if d.Source == "" || d.Name == "" {
			t.Errorf("a doubt without name or source: %+v", d)
		}
		low, high := Usual(), Usual()
		d.Low(&low)
		d.High(&high)
		if low == Usual() || high == Usual() || low == high {
			t.Errorf("%s: an end that is no end", d.Name)
		}
	}
}

func BenchmarkForces(b *testing.B) {
	m := must(New(rower()))
	c := Control{Rudder: 0.2, Thrust: even(60)}
	b.ReportAllocs()
	for b.Loop() {
		m.Forces(8, 1, 0.8, -0.2, c)
	}
}

func BenchmarkRests(b *testing.B) {
	m := must(New(rower()))
	for b.Loop() {
		must(m.Rests(8, Control{}))
	}
}

func BenchmarkRow(b *testing.B) {
	m := must(New(rower()))
	for b.Loop() {
		must(m.Row(8, 1.2, even(60), Helm{Rudder: true, Oars: true}))
	}
}

func BenchmarkSector(b *testing.B) {
	m := must(New(rower()))
	for b.Loop() {
		must(m.Sector(8, even(60), Helm{Rudder: true, Oars: true}))
	}
}

func BenchmarkArcs(b *testing.B) {
	for b.Loop() {
		must(Arcs(rower(), 8, even(60), Helm{Rudder: true}, Doubts()))
	}
}
