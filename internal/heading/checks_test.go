package heading

import (
	"errors"
	"math"
	"testing"
)

// check is one number against where it comes from.
type check struct {
	name           string
	got, want, tol float64
	source         string
}

func run(t *testing.T, rows []check) {
	t.Helper()
	for _, r := range rows {
		if r.source == "" {
			t.Errorf("%s: no source", r.name)
		}
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s: got %.10g, want %.10g within %g (%s)", r.name, r.got, r.want, r.tol, r.source)
		}
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

const deg = math.Pi / 180

func TestSpheroids(t *testing.T) {
	const lamb = "Lamb, Hydrodynamics, sec. 114-115, closed form"
	for _, r := range [][5]float64{
		{1.5, .303749, .622084, .095124, .318335},
		{2, .210015, .704210, .239424, .494195},
		{3, .121969, .803899, .465678, .681930},
		{4, .081557, .859761, .607938, .778203},
		{5, .059121, .894261, .699851, .835139},
		{6, .045183, .917123, .762315, .871941},
		{8, .029253, .944728, .839395, .915475},
		{10, .020706, .960235, .883538, .939529},
	} {
		k := must(Spheroid(r[0]))
		run(t, []check{
			{"k1", k.End, r[1], 6e-7, lamb},
			{"k2", k.Side, r[2], 6e-7, lamb},
			{"k'", k.Turn, r[3], 6e-7, lamb},
			{"k2 - k1", k.Side - k.End, r[4], 1.1e-6, lamb},
		})
	}
	four, eight, ten := must(Spheroid(4)), must(Spheroid(8)), must(Spheroid(10))
	near := must(Spheroid(1.0005))
	run(t, []check{
		{"4 end", four.End, .082, 5e-4, "Lamb sec. 115, printed table"},
		{"4 side", four.Side, .860, 5e-4, "Lamb sec. 115, printed table"},
		{"8 end", eight.End, .029, 5e-4, "Lamb sec. 115, printed table"},
		{"8 side", eight.Side, .945, 5e-4, "Lamb sec. 115, printed table"},
		{"10 end", ten.End, .021, 5e-4, "Lamb sec. 115, printed table"},
		{"10 side", ten.Side, .960, 5e-4, "Lamb sec. 115, printed table"},
		{"a sphere", must(Spheroid(1)).End, 0.5, 0, "Lamb sec. 92: half the displaced mass"},
		{"nearly a sphere", near.Side, 0.5, 1e-3, "Lamb sec. 92: half the displaced mass"},
		{"nearly a sphere, turned", near.Turn / (1e-3 * 1e-3), 1.0 / 6, 1e-3, "closed form: k' = e^4 / 6 as e goes to nothing"},
		{"the series meets the logarithm", must(Spheroid(1.0540925)).Turn / must(Spheroid(1.0540926)).Turn, 1, 1e-5, "continuity at e2 = 0.1"},
		{"Munk, 10 degrees", Munk(1025, 1.5, 0.6, 10*deg, eight), 216.6337, 5e-4, "Munk's formula with Lamb's coefficients, worked by hand"},
		{"Munk, slender", Munk(1025, 1.5, 0.6, 10*deg, AddedMass{Side: 1}), 236.6352, 5e-4, "Munk's formula, k2 - k1 = 1, worked by hand"},
	})
}

func TestWindage(t *testing.T) {
	b := Boat{Hull: box(6, 0.3, 1.2), Resistance: Quadratic(3), Coefficients: Usual()}
	b.Coefficients.Gradient = Uniform()
	b.Parts = []Part{Plain("board", 3, 0, 3, 1, ShapeFlat, 0)}
	m := must(New(b))
	_, y, n := m.Forces(20*1852./3600, 90*deg, 0, 0, Control{})
	trapezoid := []Corner{{0, 0}, {6, 0}, {6, 0.4}, {0, 1}}
	var area, x float64
	for _, s := range must(PolygonStrips(trapezoid, 7)) {
		area, x = area+s.Area, x+s.Area*s.X
	}
	long := b
	long.Parts = []Part{Plain("hull", 3, 1.5, 3, 1, ShapeFlat, 6)}
	ml := must(New(long))
	q := 0.5 * Air * 100
	_, yo, no := ml.Forces(10, 45*deg, 0, 0, Control{})
	xs, _, _ := ml.Forces(10, math.Pi, 0, 0, Control{})
	run(t, []check{
		{"3 m2, 20 kn", -y, 194.5200, 5e-5, "F = rho Cd A V2 / 2 by hand, IMO MODU Code's flat shape"},
		{"its moment", n, 0, 1e-12, "the board stands amidships"},
		{"trapezoid's centre", x / area, 2.571429, 5e-7, "closed form h (a + 2 b) / (3 (a + b))"},
		{"trapezoid's area", area, 4.2, 1e-12, "closed form"},
		{"from astern", xs, q * 1.5, 1e-9, "F = rho Cd A V2 / 2 by hand"},
		{"45 degrees, across", -yo, q * 3 * math.Sqrt(0.5) / (1 - 0.2*0.5), 1e-9, "Blendermann 1994 by hand: sin / (1 - delta/2 (1 - CDl/CDt) sin2 2a)"},
		{"45 degrees, arm", no / yo, 0.18 * 6 * math.Pi / 4, 1e-9, "Blendermann 1994 by hand: 0.18 (90 degrees - a) of the length ahead"},
		{"log law at 2 m", Logarithmic(OpenSea).At(2), math.Log(1e4) / math.Log(5e4), 1e-12, "WMO guide: ln(z/z0) / ln(10/z0)"},
		{"log law at 10 m", Logarithmic(0).At(10), 1, 1e-15, "definition"},
		{"log law near the water", Logarithmic(0).At(-1), Logarithmic(0).At(0.1), 0, "modelling choice: none lower than 0.1 m"},
		{"power law at 2 m", Power(0.11).At(2), math.Pow(0.2, 0.11), 1e-15, "Hsu, Meindl and Gilhousen 1994"},
		{"the two laws at 2 m over open sea", Power(0.11).At(2), Logarithmic(0).At(2), 0.02, "Hsu, Meindl and Gilhousen 1994: the power is fitted to the law at sea"},
	})
}

// box is a wall-sided hull of one depth and beam from x = 0.
func box(length, depth, beam float64) Hull {
	return Hull{Stations: []Station{{X: 0, Depth: depth, Beam: beam}, {X: length / 2, Depth: depth, Beam: beam}, {X: length, Depth: depth, Beam: beam}},
		Volume: length * depth * beam}
}

// spheroid is the lower half of a prolate spheroid, from x = 0.
func spheroid(length, depth float64, n int) Hull {
	var h Hull
	for i := 0; i <= n; i++ {
		c := math.Cos(math.Pi * float64(i) / float64(n))
		d := depth * math.Sqrt(math.Max(0, 1-c*c))
		h.Stations = append(h.Stations, Station{X: length / 2 * (1 - c), Depth: d, Beam: 2 * d})
	}
	h.Volume = math.Pi / 3 * length * depth * depth
	return h
}

func TestHull(t *testing.T) {
	c := Usual()
	h := spheroid(6, 0.375, 400)
	uncut := c
	uncut.Cut = 1
	whole := h.ready(3, 1025, &uncut)
	cut := h.ready(3, 1025, &c)
	munk := Munk(1025, 1, h.Volume, 1e-6, must(Spheroid(8))) / 1e-6
	b := box(6, 0.3, 1.2)
	plate := b.ready(3, 1025, &c)
	k := must(Spheroid(10))
	lateral, x, depth := b.Lateral()
	wedge := Hull{Stations: []Station{{X: 0}, {X: 6, Depth: 0.6, Beam: 1}}}
	aw, xw, dw := wedge.Lateral()
	// Clarke's first terms: Y'v = -pi (T/L)2, N'v = -pi (T/L)2 / 2, of rho L2 / 2 and rho L3 / 2.
	clarke := math.Pi * 0.05 * 0.05 * 1025 / 2 * (k.Side - k.End)
	turned := Hull{Stations: make([]Station, 0, 401)}
	for i := range h.Stations {
		s := h.Stations[len(h.Stations)-1-i]
		s.X = 6 - s.X
		turned.Stations = append(turned.Stations, s)
	}
	run(t, []check{
		{"spheroid, uncut: Munk's moment", -whole.ahead.n, munk, 2e-5 * munk, "Munk, NACA 184, with Lamb's k2 - k1"},
		{"spheroid, uncut: no lift", whole.ahead.y, 0, 1e-9, "d'Alembert's paradox"},
		{"spheroid, uncut, astern", -whole.astern.n, munk, 2e-5 * munk, "Munk, NACA 184: the moment is even in the speed"},
		{"spheroid, cut: share of Munk's", cut.ahead.n / whole.ahead.n, 0.77, 0.02, "Hopkins's cut at 0.905 of the length on a parabola of areas, by hand"},
		{"plate: lift", -plate.ahead.y, clarke * 100 * 0.36, 1e-9, "Jones 1946; Clarke, Gedling and Hine 1983, first term"},
		{"plate: moment", -plate.ahead.n, clarke * 0.5 * 216, 1e-9, "Clarke, Gedling and Hine 1983, first term"},
		{"plate: cross-flow", plate.drag, 1025. / 2 * 1.8 * CrossFlow(1.2, 0.3), 1e-9, "rho Cd A / 2 by hand"},
		{"plate: cross-flow amidships", plate.dragArm, 0, 1e-9, "symmetry"},
		{"lateral area", lateral, 1.8, 1e-12, "L T"},
		{"its centre", x, 3, 1e-12, "L / 2"},
		{"its depth", depth, 0.15, 1e-12, "T / 2"},
		{"wedge's area", aw, 1.8, 1e-12, "L T / 2"},
		{"wedge's centre", xw, 4, 1e-12, "2 L / 3"},
		{"wedge's depth", dw, 0.2, 1e-12, "T / 3"},
		{"square section", CrossFlow(2, 1), 0.83, 0.05, "Hoerner's curve at B / 2T = 1, Faltinsen 1990 ch. 6, read off"},
		{"plate section", CrossFlow(0, 1), 1.98, 0.05, "Hoerner, Fluid-Dynamic Drag, ch. 3: a plate in two dimensions"},
		{"shallow section", CrossFlow(4, 1), 0.65, 0.05, "Hoerner's curve at B / 2T = 2, Faltinsen 1990 ch. 6, read off"},
		{"far section", CrossFlow(40, 1), 0.56, 0, "the curve's last point"},
		{"no section", CrossFlow(1, 0), 0, 0, "nothing under water"},
		{"turned end for end", turned.ready(3, 1025, &c).ahead.n, cut.ahead.n, 1e-9, "symmetry"},
	})
	lead := c
	lead.Lead = 0.03
	run(t, []check{{"drag led forward", b.ready(3, 1025, &lead).dragArm, plate.drag * 0.03 * 6, 1e-9, "3 % of the length ahead"}})
	// A hull deeper aft, sailed backwards, is one deeper forward.
	aft := Hull{Stations: []Station{{X: 0, Depth: 0.1, Beam: 1}, {X: 6, Depth: 0.5, Beam: 1}}}
	fore := Hull{Stations: []Station{{X: 0, Depth: 0.5, Beam: 1}, {X: 6, Depth: 0.1, Beam: 1}}}
	a, f := aft.ready(3, 1025, &c), fore.ready(3, 1025, &c)
	run(t, []check{
		{"backwards, lift", a.astern.y, -f.ahead.y, 1e-9, "a turn by half a circle"},
		{"backwards, moment", a.astern.n, f.ahead.n, 1e-9, "a turn by half a circle"},
	})
}

func TestFoils(t *testing.T) {
	c := Usual()
	f := Foil{Name: "fin", Area: 0.04, Span: 0.2, MaxAngle: 45 * deg}
	b := f.ready(0, 1000, &c)
	lift, drag := b.coefficients(10 * deg)
	flat, broad := b.coefficients(90 * deg)
	x, y, _ := b.force(2, 0, 10*deg)
	run(t, []check{
		{"tip drag, taper 0.654", TipDrag(0.654, false), 0.558, 5e-4, "Prestero, MIT thesis 2001, table of fin parameters, after Whicker and Fehlner"},
		{"slope at aspect ratio 2.21", Slope(2.21), 3.12, 0.55, "Prestero 2001 prints 3.12 by Hoerner's formula; the two differ by a sixth"},
		{"slope at aspect ratio 1", Slope(1), 1.8 * math.Pi / (1.8 + math.Sqrt(5)), 1e-12, "Whicker and Fehlner by hand"},
		{"slope at nearly none", Slope(1e-6) / JonesSlope(1e-6), 3.6 / 3.8, 1e-5, "Jones 1946: the formula's limit is 0.947 of his"},
		{"slope of a very long foil", Slope(1e9), 1.8 * math.Pi, 1e-6, "Whicker and Fehlner's limit, 0.9 of 2 pi"},
		{"lift at 10 degrees, aspect ratio 1", lift, 1.40115*10*deg + 0.8*math.Pow(10*deg, 2), 1e-4, "Whicker and Fehlner by hand, rounded tip"},
		{"drag at 10 degrees", drag, 0.0065 + lift*lift/(0.9*math.Pi), 1e-12, "Whicker and Fehlner by hand"},
		{"broadside, drag", broad, 1.17 + 0.0065, 1e-12, "Hoerner, a square plate"},
		{"broadside, lift", flat, 0, 1e-12, "symmetry"},
		{"rudder to starboard: force to port", y, -0.5 * 1000 * 0.04 * 4 * lift, 1e-9, "definition of lift"},
		{"and drag", x, -0.5 * 1000 * 0.04 * 4 * drag, 1e-9, "definition of drag"},
		{"mirrored", Foil{Area: 0.04, Span: 0.2, Mirrored: true}.AspectRatio(), 2, 1e-12, "mirror image"},
	})
	// No step anywhere.
	for _, a := range []float64{0.3, 1, 3} {
		f.Span = math.Sqrt(a * f.Area)
		b := f.ready(0, 1000, &c)
		for i := 1; i <= 900; i++ {
			l0, d0 := b.coefficients(float64(i-1) * 0.1 * deg)
			l1, d1 := b.coefficients(float64(i) * 0.1 * deg)
			if math.Abs(l1-l0) > 0.03 || math.Abs(d1-d0) > 0.03 {
				t.Fatalf("aspect ratio %g: a step at %.1f degrees", a, float64(i)*0.1)
			}
		}
	}
}

func TestResistances(t *testing.T) {
	r := must(Resistances([]float64{0.5, 1, 2}, []float64{1, 4, 16}))
	for _, v := range []float64{0.1, 0.7, 1.5, 3} {
		run(t, []check{{"square law", r(v), 4 * v * v, 1e-12, "closed form"}})
	}
	run(t, []check{{"astern of nothing", r(-1), 0, 0, "definition"}})
}

func TestRefusals(t *testing.T) {
	nan := math.NaN()
	good := Boat{Hull: box(6, 0.3, 1.2), Resistance: Quadratic(3), Parts: []Part{Plain("hull", 3, 1, 3, 0.5, 1, 6)}}
	m := must(New(good))
	of := func(_ any, err error) error { return err }
	with := func(f func(*Boat)) error {
		b := good
		b.Coefficients = Usual()
		f(&b)
		return of(New(b))
	}
	for name, err := range map[string]error{
		"no hull":              with(func(b *Boat) { b.Hull = Hull{} }),
		"dry hull":             with(func(b *Boat) { b.Hull = box(6, 0, 1) }),
		"no length":            with(func(b *Boat) { b.Hull = box(0, 1, 1) }),
		"hull backwards":       with(func(b *Boat) { b.Hull = box(-6, 1, 1) }),
		"depth not a number":   with(func(b *Boat) { b.Hull = box(6, nan, 1) }),
		"no resistance":        with(func(b *Boat) { b.Resistance = nil }),
		"negative windage":     with(func(b *Boat) { b.Parts = []Part{Plain("x", -1, 1, 1, 1, 1, 0)} }),
		"no shape":             with(func(b *Boat) { b.Parts = []Part{Plain("x", 1, 1, 1, 1, 0, 0)} }),
		"under water":          with(func(b *Boat) { b.Parts = []Part{Plain("x", 1, 1, 1, -1, 1, 0)} }),
		"no area":              with(func(b *Boat) { b.Foils = []Foil{{Name: "rudder", Span: 1}} }),
		"no span":              with(func(b *Boat) { b.Foils = []Foil{{Name: "rudder", Area: 1}} }),
		"towed":                with(func(b *Boat) { b.Towed = []Towed{{DragArea: -1}} }),
		"density":              with(func(b *Boat) { b.Water = 1 }),
		"coefficients":         with(func(b *Boat) { b.Coefficients.CrossFlow = nan }),
		"roughness":            with(func(b *Boat) { b.Coefficients.Gradient = Logarithmic(3) }),
		"oars":                 with(func(b *Boat) { b.Oars.OneSide = 0.1 }),
		"wind":                 of(m.Slide(-1, 0, Control{}, nil)),
		"wind not a number":    of(m.Slide(nan, 0, Control{}, nil)),
		"hurricane past all":   of(m.Slide(1e6, 0, Control{}, nil)),
		"rudder":               of(m.Slide(5, 0, Control{Rudder: 4}, nil)),
		"thrust not a number":  of(m.Slide(5, 0, Control{Thrust: math.Log}, nil)), /* of nothing */
		"no wind":              of(m.Rests(0, Control{})),
		"course":               of(m.Keep(5, -1, nil, Helm{})),
		"spheroid":             of(Spheroid(0.5)),
		"two corners":          of(PolygonStrips([]Corner{{0, 0}, {1, 1}}, 3)),
		"no area drawn":        of(PolygonStrips([]Corner{{0, 0}, {1, 0}, {2, 0}}, 3)),
		"corner not a number":  of(PolygonStrips([]Corner{{0, 0}, {1, 0}, {2, nan}}, 3)),
		"resistance, one row":  of(Resistances([]float64{1}, []float64{1})),
		"resistance, falling":  of(Resistances([]float64{2, 1}, []float64{1, 1})),
		"resistance, negative": of(Resistances([]float64{1, 2}, []float64{1, -1})),
		"no stack":             of(Profile(nil, attitude(0))),
	} {
		if !errors.Is(err, ErrInput) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := m.Keep(30, 10*deg, nil, Helm{}); !errors.Is(err, ErrNotKept) {
		t.Errorf("kept into a gale without oars or rudder: %v", err)
	}
}
