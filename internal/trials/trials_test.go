package trials

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/afloat"
	"thole/internal/cuts"
	"thole/internal/hydro"
	"thole/internal/model"
	"thole/internal/units"
)

const (
	deg = math.Pi / 180
	sw  = 1025.0
)

type check struct {
	name   string
	got    float64
	want   float64
	tol    float64
	source string
}

func run(t *testing.T, rows []check) {
	t.Helper()
	for _, r := range rows {
		if r.source == "" {
			t.Errorf("%s: no source", r.name)
		}
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s: got %.9g, want %.9g within %g (%s)", r.name, r.got, r.want, r.tol, r.source)
		}
	}
}

// prism is a body of one outline, aft from 0.
func prism(length float64, outline []cuts.Point) *hydro.Body {
	sec := cuts.Outline(outline)
	var nodes []cuts.Node
	for _, s := range cuts.Along([]float64{0, length}, length/12, 3, false, false) {
		nodes = append(nodes, cuts.Node{X: s.X, Weight: s.Weight, Section: sec})
	}
	return &hydro.Body{Envelope: cuts.NewStack(nodes, cuts.Node{X: 0, Section: sec}, cuts.Node{X: length, Section: sec})}
}

func box(length, breadth, depth float64) *hydro.Body {
	h := breadth / 2
	return prism(length, []cuts.Point{{Y: -h}, {Y: h}, {Y: h, Z: depth}, {Y: -h, Z: depth}})
}

// log is a round body whose metacentre is its axis, at every heel. The polygon's area is the circle's.
func log(length, radius float64) *hydro.Body {
	const sides = 720
	out := make([]cuts.Point, sides)
	step := 2 * math.Pi / sides
	r := radius * math.Sqrt(step/math.Sin(step))
	for i := range out {
		s, c := math.Sincos(float64(i) * step)
		out[i] = cuts.Point{Y: r * s, Z: radius - r*c}
	}
	return prism(length, out)
}

func height(t *testing.T, b *hydro.Body, l hydro.Load, moment, heel float64) float64 {
	t.Helper()
	z, err := HeightOfGravity(b, hydro.Sea{Density: sw}, l, moment, heel)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

// TestHeightOfGravity: printed inclining examples, on bodies for which their formula is exact.
func TestHeightOfGravity(t *testing.T) {
	var rows []check
	// On a log the metacentre stays where it is, so that the formula for small heels holds at every heel.
	round := func(mass, km float64) (*hydro.Body, hydro.Load) {
		length := 1.6 * mass / sw / (math.Pi * km * km) // 5/8 of it under water
		return log(length, km), hydro.Load{Mass: mass, G: r3.Vec{X: length / 2, Z: km}}
	}
	const w15 = "Derrett, ex. 14.4: 1500 t, KM 3.1 m, KG 2.7 m, 10 t moved 10 m; list 9.462322 degrees"
	b, l := round(1.5e6, 3.1)
	rows = append(rows, check{"KG of the log", height(t, b, l, 1e5, 9.462322*deg), 2.7, 2e-6, w15},
		check{"GM by the formula", SmallHeel(1e5, 1.5e6, 9.462322*deg), 0.4, 1e-7, w15})
	const w16 = "Derrett, ex. 14.2: 4515 t, GM 0.4 m, 15 t moved 4.204461 m; list 2 degrees"
	b, l = round(4.515e6, 3)
	rows = append(rows, check{"KG of the log", height(t, b, l, 15e3*4.204461, 2*deg), 2.6, 2e-6, w16},
		check{"GM by the formula", SmallHeel(15e3*4.204461, 4.515e6, 2*deg), 0.4, 1e-6, w16})
	// On a box the wall-sided formula is exact: tan³ = 2 w d / (W BM) where the metacentric height is nothing.
	const w17 = "meomock.com: 12250 t, KM and KG 8 m, KB 3.8 m, 2 t moved 12 m; wall-sided formula, list 5.580821 degrees"
	const kb, bm = 3.8, 4.2
	breadth := math.Sqrt(12 * 2 * kb * bm)
	length := 12.25e6 / sw / (breadth * 2 * kb)
	rows = append(rows, check{"KG of the box", height(t, box(length, breadth, 12), hydro.Load{Mass: 12.25e6, G: r3.Vec{X: length / 2, Z: 7}}, 2e3*12, 5.580821*deg), 8, 1e-7, w17})
	// The wall-sided formula with a list to begin with: before and after each balance.
	const wall = "wall-sided formula, sin (GM + BM tan²/2) = y cos, written out for both heels"
	wide := math.Sqrt(12 * 0.3 * 0.8)
	l = hydro.Load{Mass: 6 * wide * 0.3 * sw, G: r3.Vec{X: 3, Z: 0.5}}
	lie := func(heel float64) float64 { return math.Tan(heel) * (0.15 + 0.8 - 0.6 + 0.8/2*sq(math.Tan(heel))) }
	l.G.Y = lie(0.02)
	rows = append(rows, check{"KG with a list", height(t, box(6, wide, 0.9), l, l.Mass*(lie(0.07)-lie(0.02)), 0.05), 0.6, 1e-8, wall},
		check{"the list taken off", height(t, box(6, wide, 0.9), l, -l.Mass*lie(0.02), -0.02), 0.6, 1e-7, wall})
	const example = "25 kg moved 1.2 m, 900 kg, 1.5 m of pendulum, 83.3 mm: tan 0.0555333; formula in Barrass & Derrett, p. 238"
	m := readMove(&model.Move{Mass: model.Mass{Value: 25}, Across: 1.2, Pendulum: 1.5, Deflection: 0.0833})
	rows = append(rows, check{"GM of the example", SmallHeel(m.Moment, 900, m.Heel), 0.600240, 5e-7, example})
	const rule = "GM = (f B / T)², f as in national fishing-vessel rules; B 1.8 m, T 2.0 s, arithmetic"
	for f, want := range map[float64]float64{0.88: 0.627264, 0.78: 0.492804, 0.75: 0.455625, 0.73: 0.431649} {
		rows = append(rows, check{"GM by the roll", RollHeight(f, 1.8, 2), want, 1e-12, rule})
	}
	run(t, rows)
}

// boat is a folder of a plain box, 6 m by 1.5 m by 0.8 m.
func boat(mass float64, g r3.Vec, doubt float64) *model.Folder {
	f := &model.Folder{}
	f.Boat.Hull.Scale = 1
	for _, x := range []float64{0, 6} {
		f.Boat.Hull.Readings.Stations = append(f.Boat.Hull.Readings.Stations, model.Station{X: x,
			Points: []model.Reading{{}, {Y: 0.75, Corner: true}, {Y: 0.75, Z: 0.8}}})
	}
	f.Boat.Weights = []model.Weight{{What: "all up", Count: 1, Mass: model.Mass{Value: units.Mass(mass), Tolerance: units.Mass(doubt), Given: true},
		Where: model.Place{At: g, Compartment: -1, Tolerance: r3.Vec{X: 0.01, Y: 1e-4, Z: 0.01}}}}
	return f
}

func trip(t *testing.T, f *model.Folder) *afloat.Trip {
	t.Helper()
	tr, err := afloat.New(f)
	if err != nil {
		t.Fatal(err)
	}
	return tr
}

// read gives the freeboards of a box afloat with a load, at both ends on both sides.
func read(t *testing.T, tr *afloat.Trip, l hydro.Load, off func() float64) []model.Freeboard {
	t.Helper()
	rest, err := hydro.Float(tr.Ship.Body, l, tr.Sea, nil)
	if err != nil {
		t.Fatal(err)
	}
	var out []model.Freeboard
	for _, x := range []float64{0.5, 5.5} {
		for side, y := range map[model.Side]float64{model.Port: -0.75, model.Starboard: 0.75} {
			out = append(out, model.Freeboard{X: x, Side: side, Height: rest.Above(r3.Vec{X: x, Y: y, Z: 0.8}) + off(), Tolerance: 0.003})
		}
	}
	return out
}

func exactly() float64 { return 0 }

// TestFloatedBoxes: a known weight put aboard is found again from four freeboards, for boxes heeled and trimmed.
func TestFloatedBoxes(t *testing.T) {
	const src = "round trip: the freeboards are those of a box afloat with the weight that is looked for; upright, Archimedes' arithmetic"
	for _, added := range []struct {
		mass float64
		at   r3.Vec
	}{{40, r3.Vec{X: 3, Z: 0.4}}, {25, r3.Vec{X: 5.2, Y: 0.3, Z: 0.4}}, {60, r3.Vec{X: 1.1, Y: -0.5, Z: 0.4}}, {7, r3.Vec{X: 4, Y: 0.6, Z: 0.4}}} {
		f := boat(1500, r3.Vec{X: 3, Z: 0.4}, 15)
		tr := trip(t, f)
		s := tr.State(0, 0).With(model.Item{Mass: added.mass, At: added.at})
		f.Trials = &model.Trials{Floated: []model.Floated{{Freeboards: read(t, tr, afloat.Load(&s), exactly)}}}
		r := Work(tr).Floated[0]
		if r.Err != nil {
			t.Fatal(r.Err)
		}
		u := r.Unexplained
		run(t, []check{
			{"weight", r.Mass, s.Mass, 1e-6 * s.Mass, src}, {"its place along", r.G.X, s.G.X, 1e-6, src}, {"its place across", r.G.Y, s.G.Y, 1e-6, src},
			{"unexplained", u.Mass, added.mass, 2e-3, src}, {"its place along", u.At.X, added.at.X, 1e-3, src}, {"its place across", u.At.Y, added.at.Y, 1e-3, src},
			{"misfit", r.Misfit, 0, 1e-6, src},
		})
		if added.mass > 20 && u.Cause != Weight {
			t.Errorf("%v kg: cause %v", added.mass, u.Cause)
		}
	}
	f := boat(1500, r3.Vec{X: 3, Z: 0.4}, 15)
	tr := trip(t, f)
	f.Trials = &model.Trials{Floated: []model.Floated{{Freeboards: []model.Freeboard{{X: 1, Height: 0.6}, {X: 5, Height: 0.6}}}}}
	run(t, []check{{"0.2 m of draft", Work(tr).Floated[0].Mass, 6 * 1.5 * 0.2 * 1025, 1e-6, "arithmetic: 6 x 1.5 x 0.2 m of sea water"}})
}

// TestFloatedNoise: with readings wrong by as much as they say, the true weight lies within the stated range nineteen
// times in twenty, and what the book has right is blamed on the readings.
func TestFloatedNoise(t *testing.T) {
	const rounds = 300
	rnd := rand.New(rand.NewPCG(1, 2))
	f := boat(1500, r3.Vec{X: 3, Z: 0.4}, 1)
	tr := trip(t, f)
	s := tr.State(0, 0)
	f.Trials = &model.Trials{Floated: []model.Floated{{}}}
	in, blamed, apart := 0.0, 0.0, 0.0
	for range rounds {
		f.Trials.Floated[0].Freeboards = read(t, tr, afloat.Load(&s), func() float64 { return 0.003 * half * rnd.NormFloat64() })
		r := Work(tr).Floated[0]
		if r.Err != nil {
			t.Fatal(r.Err)
		}
		if math.Abs(r.Mass-s.Mass) < sure*r.Deviation && math.Abs(r.G.X-s.G.X) < sure*math.Hypot(r.DeviationG.X, 1e-9) {
			in++
		}
		if r.Unexplained.Cause == ReadingError {
			blamed++
		}
		if r.Unexplained.Cause == Disagreement {
			apart++
		}
	}
	// 300 draws of 0.95 x 0.95 and of 0.95 lie within three deviations of these.
	const src = "the normal distribution: 19 in 20 each, three deviations of 300 draws"
	run(t, []check{{"weight and place within", in / rounds, 0.91, 0.05, src}, {"blamed on the readings", blamed / rounds, 0.95, 0.045, src}, {"disagreement", apart / rounds, 0.01, 0.018, src}})
	// The stated deviation by hand: four readings of 1.53 mm, the mean of them times 9.225 kg a millimetre.
	f.Trials.Floated[0].Freeboards = read(t, tr, afloat.Load(&s), exactly)
	run(t, []check{{"deviation of the weight", Work(tr).Floated[0].Deviation, 3 * half / 2 * 9.225, 1e-3, "arithmetic: a box's waterplane 9 m² of sea water, the mean of four readings"}})
}

// TestCauses: a thing in the wrong place is no weight, and readings that fit nothing are told so.
func TestCauses(t *testing.T) {
	f := boat(1500, r3.Vec{X: 3, Z: 0.4}, 15)
	tr := trip(t, f)
	cause := func(l hydro.Load, off func() float64) Unexplained {
		f.Trials = &model.Trials{Floated: []model.Floated{{Freeboards: read(t, tr, l, off)}}}
		r := Work(tr).Floated[0]
		if r.Err != nil {
			t.Fatal(r.Err)
		}
		return r.Unexplained
	}
	if u := cause(hydro.Load{Mass: 1500, G: r3.Vec{X: 3.1, Z: 0.4}}, exactly); u.Cause != Position || math.Abs(u.Shift.X-0.1) > 1e-6 {
		t.Errorf("a load 100 mm too far aft: %+v", u)
	}
	if u := cause(hydro.Load{Mass: 1512, G: r3.Vec{X: 3, Z: 0.4}}, exactly); u.Cause != ReadingError {
		t.Errorf("12 kg, 1.3 mm of draft: %+v", u)
	}
	f.Boat.Weights[0].Mass.Tolerance = 40
	if u := cause(hydro.Load{Mass: 1525, G: r3.Vec{X: 3, Z: 0.4}}, exactly); u.Cause != Within {
		t.Errorf("25 kg in 1500 ± 40: %+v", u)
	}
	f.Boat.Weights[0].Mass.Tolerance = 15
	if u := cause(hydro.Load{Mass: 1560, G: r3.Vec{X: 3.2, Z: 0.4}}, exactly); u.Cause != Both || u.Aboard {
		t.Errorf("60 kg that would have to stand beyond her stern: %+v", u)
	}
	if u := cause(hydro.Load{Mass: 1440, G: r3.Vec{X: 3, Z: 0.4}}, exactly); u.Cause != Weight || u.Aboard || math.Abs(u.Mass+60) > 1e-3 {
		t.Errorf("60 kg too much in the book: %+v", u)
	}
	f.Trials = &model.Trials{Floated: []model.Floated{{Freeboards: read(t, tr, hydro.Load{Mass: 1500, G: r3.Vec{X: 3, Z: 0.4}}, exactly)}}}
	f.Trials.Floated[0].Freeboards[0].Height += 0.02
	if u := Work(tr).Floated[0].Unexplained; u.Cause != Disagreement {
		t.Errorf("one reading of four 20 mm out: %+v", u)
	}
}

// TestInclinedBox: three moves on a box by the wall-sided formula, and what is refused.
func TestInclinedBox(t *testing.T) {
	f := boat(1500, r3.Vec{X: 3, Z: 0.40}, 15)
	tr := trip(t, f)
	draft := 1500 / (6 * 1.5 * sw)
	kb, bm := draft/2, 1.5*1.5/(12*draft)
	const kg = 0.43
	move := func(heel float64) model.Move {
		arm := math.Tan(heel) * (kb + bm - kg + bm/2*sq(math.Tan(heel)))
		return model.Move{Mass: model.Mass{Value: 25, Tolerance: 0.5}, Across: 1500 * arm / 25, Pendulum: 1.5, Deflection: 1.5 * math.Tan(heel)}
	}
	work := func(moves ...model.Move) Inclined {
		f.Trials = &model.Trials{Inclined: []model.Inclined{{Moves: moves}}, Rolled: []model.Rolled{
			{Rolls: 10, Seconds: 20}, {Trial: model.Trial{Date: time.Unix(0, 0)}, Rolls: 10, Seconds: 25}}}
		return Work(tr).Inclined[0]
	}
	in := work(move(2*deg), move(4*deg), move(-3*deg))
	if in.Err != nil {
		t.Fatal(in.Err)
	}
	const wall = "wall-sided formula, closed form"
	run(t, []check{{"height of gravity", in.Height, kg, 1e-7, wall}, {"GM", in.GM, kb + bm - kg, 1e-7, wall}, {"scatter", in.Scatter, 0, 1e-7, wall}, {"book", in.Book, 0.40, 1e-12, "the folder"}})
	if in.Deviation < 0.002 || in.Deviation > 0.05 || in.Loose {
		t.Errorf("deviation %v, loose %v", in.Deviation, in.Loose)
	}
	rolls := Work(tr).Rolled
	const roll = "GM = (f B / T)² solved for f: T √GM / B, arithmetic"
	run(t, []check{{"her own factor", rolls[0].Own, 2 * math.Sqrt(kb+bm-kg) / 1.5, 1e-7, roll}, {"by her own factor", rolls[0].ByOwn, (kb + bm - kg) * sq(2.5/2), 1e-6, roll}})

	wrong := move(3 * deg)
	wrong.Deflection = -wrong.Deflection
	far := move(3 * deg)
	far.Deflection *= 1.5
	for _, c := range []struct {
		name  string
		moves []model.Move
		want  error
	}{
		{"two moves", []model.Move{move(2 * deg), move(3 * deg)}, errFewMoves},
		{"none", nil, errFewMoves},
		{"too little and too much", []model.Move{move(2 * deg), move(3 * deg), move(0.3 * deg), move(9 * deg)}, errFewMoves},
		{"the wrong side", []model.Move{move(2 * deg), move(3 * deg), wrong}, errSide},
		{"scatter", []model.Move{move(3 * deg), move(-3 * deg), far}, errScatter},
	} {
		if in := work(c.moves...); !errors.Is(in.Err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, in.Err, c.want)
		}
	}
}

// TestAlsoAboard: what was aboard for the trial only is taken off again.
func TestAlsoAboard(t *testing.T) {
	f := boat(1500, r3.Vec{X: 3, Z: 0.4}, 15)
	tr := trip(t, f)
	helper := model.Weight{What: "helper", Count: 1, Mass: model.Mass{Value: 80}, Where: model.Place{At: r3.Vec{X: 2, Z: 0.9}, Compartment: -1}}
	all := tr.State(0, 0).With(model.Item{Mass: 80, At: helper.Where.At}, model.Item{Mass: 50, At: r3.Vec{X: 4, Z: 0.7}})
	l := afloat.Load(&all)
	trial := model.Trial{Also: []model.Weight{helper}}
	var moves []model.Move
	for _, heel := range []float64{0.04, -0.04, 0.06} {
		// The heel of each moment, on the body itself.
		near, err := hydro.Hold(tr.Ship.Body, l, tr.Sea, heel, nil)
		if err != nil {
			t.Fatal(err)
		}
		arm := near.Arm(l) / math.Cos(heel)
		moves = append(moves, model.Move{Mass: model.Mass{Value: 25, Tolerance: 0.1}, Across: l.Mass * arm / 25, Angle: heel})
	}
	f.Trials = &model.Trials{Floated: []model.Floated{{Trial: trial, Freeboards: read(t, tr, l, exactly)}}, Inclined: []model.Inclined{{Trial: trial, Moves: moves}}}
	r := Work(tr)
	if r.Floated[0].Err != nil || r.Inclined[0].Err != nil {
		t.Fatal(r.Floated[0].Err, r.Inclined[0].Err)
	}
	u := r.Floated[0].Unexplained
	const src = "sum of weights and moments, written out"
	// The trimmed box's freeboards use the book's height, off by 6 mm at half a degree of trim: 0.05 mm of 1630 kg along.
	run(t, []check{
		{"unexplained", u.Mass, 50, 1e-2, src}, {"along", u.At.X, 4, 5e-3, src}, {"up", u.At.Z, 0.7, 5e-3, src},
		{"height of gravity without the helper", r.Inclined[0].Height, (1500*0.4 + 50*0.7) / 1550, 1e-4, src},
	})
	if !u.Height || !r.Inclined[0].Measured {
		t.Error("the inclining does not use the freeboards, or they not it")
	}
}

// TestAdopted: taken into the book, the unexplained weight leaves nothing to explain.
func TestAdopted(t *testing.T) {
	f := boat(1500, r3.Vec{X: 3, Z: 0.4}, 15)
	tr := trip(t, f)
	l := hydro.Load{Mass: 1553, G: r3.Vec{X: 3.05, Y: 0.01, Z: 0.4}}
	f.Trials = &model.Trials{Floated: []model.Floated{{Freeboards: read(t, tr, l, exactly)}}}
	u := Work(tr).Floated[0].Unexplained
	if u.Cause != Weight || !u.Aboard {
		t.Fatalf("%+v", u)
	}
	f.Boat.Weights = append(f.Boat.Weights, model.Weight{What: "unexplained", Count: 1, Mass: model.Mass{Value: units.Mass(u.Mass)}, Where: model.Place{At: u.At, Compartment: -1}})
	again := Work(tr).Floated[0]
	const src = "property: what is taken into the book is no longer found missing"
	run(t, []check{{"weight left", again.Unexplained.Mass, 0, 1e-4, src}, {"shift along", again.Unexplained.Shift.X, 0, 1e-6, src}, {"shift across", again.Unexplained.Shift.Y, 0, 1e-6, src}, {"misfit of the book", again.BookMisfit, 0, 1e-6, src}})
}

// BenchmarkHeightOfGravity is one move on a box.
func BenchmarkHeightOfGravity(b *testing.B) {
	body, l := box(6, 1.5, 0.8), hydro.Load{Mass: 1500, G: r3.Vec{X: 3.1, Y: 0.004, Z: 0.4}}
	for b.Loop() {
		if _, err := HeightOfGravity(body, hydro.Sea{Density: sw}, l, 30, 2*deg); err != nil {
			b.Fatal(err)
		}
	}
}

// TestTurned: what changed since a capsize test.
func TestTurned(t *testing.T) {
	f := boat(1500, r3.Vec{X: 3, Z: 0.4}, 15)
	f.Stamp = "now"
	tr := trip(t, f)
	work := func(mass, z float64, stamp string) Turned {
		f.Trials = &model.Trials{Turned: []model.TurnedOver{{Mass: &model.Mass{Value: units.Mass(mass)}, Height: &z, Stamp: stamp}}}
		return Work(tr).Turned[0]
	}
	if r := work(1500.3, 0.4004, "now"); r.Beyond || r.Changed || r.Silent {
		t.Errorf("rounding: %+v", r)
	}
	if r := work(1500, 0.4, "then"); r.Beyond || !r.Changed {
		t.Errorf("another stamp: %+v", r)
	}
	if r := work(1490, 0.39, ""); !r.Beyond || r.Changed || math.Abs(r.Heavier-10) > 1e-9 || math.Abs(r.Higher-0.01) > 1e-9 {
		t.Errorf("10 kg more: %+v", r)
	}
}

// TestHostile: whatever is written down, an answer or an error, never a number that is not one.
func TestHostile(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	f := boat(1500, r3.Vec{X: 3, Z: 0.4}, 15)
	tr := trip(t, f)
	values := []float64{0, 0.3, -0.3, 5, -5, 1e9, -1e9, 1e-9, 1e300, math.Inf(1), math.NaN()}
	rnd := rand.New(rand.NewPCG(3, 4))
	v := func() float64 { return values[rnd.IntN(len(values))] }
	for range 400 {
		f.Trials = &model.Trials{
			Floated: []model.Floated{{}}, Inclined: []model.Inclined{{}}, Rolled: []model.Rolled{{Rolls: rnd.IntN(12), Seconds: v()}, {Trial: model.Trial{Day: 400, Crew: "x"}}},
			Turned: []model.TurnedOver{{}, {Trial: model.Trial{Crew: "gone"}}}}
		for range rnd.IntN(6) {
			f.Trials.Floated[0].Freeboards = append(f.Trials.Floated[0].Freeboards, model.Freeboard{X: v(), Side: model.Side(rnd.IntN(3)), Height: v(), Tolerance: math.Abs(v())})
			f.Trials.Inclined[0].Moves = append(f.Trials.Inclined[0].Moves, model.Move{Mass: model.Mass{Value: units.Mass(math.Abs(v()))}, Across: v(), Pendulum: v(), Deflection: v(), Angle: v()})
		}
		r := Work(tr)
		for _, x := range r.Floated {
			if x.Err == nil && finite(x.Mass, x.G.X, x.G.Y, x.Deviation, x.DeviationG.X, x.DeviationG.Y) != nil {
				t.Fatalf("%+v of %+v", x, f.Trials.Floated[0])
			}
		}
		for _, x := range r.Inclined {
			if x.Err == nil && finite(x.Height, x.Deviation, x.GM, x.Scatter) != nil {
				t.Fatalf("%+v of %+v", x, f.Trials.Inclined[0])
			}
		}
		for _, x := range r.Rolled {
			if x.Err == nil && finite(x.Period, x.Low, x.High, x.Own, x.ByOwn) != nil {
				t.Fatalf("%+v", x)
			}
		}
	}
}
