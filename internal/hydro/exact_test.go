package hydro

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/cuts"
)

const (
	deg = math.Pi / 180
	sw  = 1025.0
)

// check is one number against where it comes from.
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
func prism(length float64, panels int, outline []cuts.Point) *Body {
	sec := cuts.Outline(outline)
	var nodes []cuts.Node
	for _, s := range cuts.Along([]float64{0, length}, length/float64(panels), 3, false, false) {
		nodes = append(nodes, cuts.Node{X: s.X, Weight: s.Weight, Section: sec})
	}
	return &Body{Envelope: cuts.NewStack(nodes,
		cuts.Node{X: 0, Section: sec}, cuts.Node{X: length, Section: sec})}
}

func box(length, breadth, depth float64) *Body {
	h := breadth / 2
	return prism(length, 12, []cuts.Point{{Y: -h}, {Y: h}, {Y: h, Z: depth}, {Y: -h, Z: depth}})
}

// round is a log of circular outline as a polygon whose vertices stand out so
// that its area is the circle's.
func round(length, radius float64, sides int) *Body {
	out := make([]cuts.Point, sides)
	step := 2 * math.Pi / float64(sides)
	r := radius * math.Sqrt(step/math.Sin(step))
	for i := range out {
		s, c := math.Sincos(float64(i) * step)
		out[i] = cuts.Point{Y: r * s, Z: radius - r*c}
	}
	return prism(length, 6, out)
}

func TestArmsOfBoxes(t *testing.T) {
	b := box(65, 12, 8)
	l := Load{Mass: 65 * 12 * 4 * sw, G: r3.Vec{X: 32.5, Z: 4}}
	const printed = "Barrass & Derrett, Ship Stability for Masters and Mates, p. 130 (box 65 x 12 x 8 m), wall-sided formula and exact clipping, closed form"
	var rows []check
	for heel, want := range map[float64]float64{5: 0.088156413, 10: 0.181746574, 20: 0.409983478, 30: 0.75, 33.690068: 0.924500327,
		35: 0.986766306, 40: 1.133651595, 45: 1.178511302, 60: 0.981481481, 80: 0.364191072, 90: 0, 120: -0.981481481, 150: -0.75} {
		r, err := Hold(b, l, Sea{sw}, heel*deg, nil)
		if err != nil {
			t.Fatal(err)
		}
		rows = append(rows, check{"arm of the box", r.Arm(l), want, 1e-6, printed})
	}
	run(t, rows)
}

func TestHydrostaticsOfBoxes(t *testing.T) {
	b := box(8, 1.5, 0.9)
	l := Load{Mass: 4920, G: r3.Vec{X: 4, Z: 0.45}}
	h, err := Upright(b, l, Sea{sw})
	if err != nil {
		t.Fatal(err)
	}
	const src = "box, closed form: KB T/2, BM B²/12T, BML L²/12T"
	run(t, []check{
		{"draft", h.Draft, 0.4, 1e-9, src},
		{"KB", h.KB, 0.2, 1e-9, src},
		{"BM", h.BM, 1.5 * 1.5 / 12 / 0.4, 1e-8, src},
		{"BML", h.BML, 13.3333333333, 1e-7, src},
		{"GML", h.GML, 13.0833333333, 1e-7, "checks: 80.4625 kg m a centimetre of trim, closed form"},
		{"waterplane", h.Waterplane, 12, 1e-8, src},
		{"LCF", h.LCF, 4, 1e-8, src},
		{"wetted", h.Wetted, 12 + 2*0.4*(8+1.5), 1e-8, "box, closed form"},
		{"Cb", h.Cb, 1, 1e-6, src},
		{"Cp", h.Cp, 1, 1e-6, src},
		{"Cwp", h.Cwp, 1, 1e-6, src},
		{"GM is the arm's slope", h.GM, h.Rest.Stiffness(l), 1e-9, "Rawson & Tupper, Basic Ship Theory: GM is dGZ/dheel upright"},
	})
	l.G.X = 4 + 80*3.0/4920
	r, err := Float(b, l, Sea{sw}, nil)
	if err != nil {
		t.Fatal(err)
	}
	run(t, []check{{"80 kg moved 3 m aft", 100 * 8 * r.Slope, 2.982735, 1e-5, "box trim by moments, exact form"}})
}

func TestArmsOfWedge(t *testing.T) {
	b := prism(3, 6, []cuts.Point{{}, {Y: 1, Z: 1.5}, {Y: -1, Z: 1.5}})
	l := Load{Mass: 3 * (4.0 / 3) / 2 * sw, G: r3.Vec{X: 1.5, Z: 0.9}}
	var rows []check
	for heel, want := range map[float64]float64{5: 0.005630706, 20: 0.031680626, 40: 0.110468576, 60: 0.127261078, 90: 0.128595479, 120: 0.050437622, 150: -0.030542655} {
		r, err := Hold(b, l, Sea{sw}, heel*deg, nil)
		if err != nil {
			t.Fatal(err)
		}
		rows = append(rows, check{"arm of the wedge", r.Arm(l), want, 1e-6, "wedge prism, exact clipping of a triangle, closed form"})
	}
	run(t, rows)
}

func TestArmsOfCylinder(t *testing.T) {
	var rows []check
	for _, sides := range []int{48, 96, 192} {
		b := round(4, 0.5, sides)
		for _, share := range []float64{0.2, 0.5, 0.8} {
			l := Load{Mass: share * math.Pi / 4 * 4 * sw, G: r3.Vec{X: 2, Z: 0.4}}
			for _, heel := range []float64{7, 45, 90, 133, 171} {
				r, err := Hold(b, l, Sea{sw}, heel*deg, nil)
				if err != nil {
					t.Fatal(err)
				}
				n := float64(sides) / 48
				rows = append(rows, check{"arm of the cylinder", r.Arm(l), 0.1 * math.Sin(heel*deg), 6e-4 / n / n,
					"circle: GZ = (R - KG) sin heel at every draft, closed form; second order in the sides"})
			}
		}
	}
	run(t, rows)
}

// TestSquareLog finds the tilted rests of the square log.
func TestSquareLog(t *testing.T) {
	const src = "E.N. Gilbert, How things float, Am. Math. Monthly 98 (1991); closed form"
	b := prism(4, 6, []cuts.Point{{Y: -0.5}, {Y: 0.5}, {Y: 0.5, Z: 1}, {Y: -0.5, Z: 1}})
	var rows []check
	for s, want := range map[float64]float64{0.15: 0, 0.21: 0, 0.22: 13.674945, 0.23: 19.485619, 0.24: 23.485487, 0.25: 26.565051,
		0.26: 29.630476, 0.27: 33.690068, 0.28: 41.185925, 0.30: 45, 0.45: 45, 0.80: 0} {
		l := Load{Mass: s * 4 * sw, G: r3.Vec{X: 2, Z: 0.5}}
		r, err := Float(b, l, Sea{sw}, nil)
		if err != nil {
			t.Fatal(s, err)
		}
		rows = append(rows, check{"tilt of the log", math.Abs(r.Heel) / deg, want, 2e-4, src})
	}
	run(t, rows)
	l := Load{Mass: 0.25 * 4 * sw, G: r3.Vec{X: 2, Z: 0.5}}
	c, err := NewCurve(b, l, Sea{sw})
	if err != nil {
		t.Fatal(err)
	}
	want := []float64{0, 26.565051, 45, 63.434949, 90, 116.565051, 135, 153.434949, 180}
	rests := c.Rests()
	if len(rests) != len(want) {
		t.Fatalf("%d rests, want %d", len(rests), len(want))
	}
	for i, r := range rests {
		run(t, []check{{"rest", r.Heel / deg, want[i], 1e-4, src}})
		if r.Stable != (i%2 == 1) {
			t.Errorf("rest at %.1f degrees: stable %v", want[i], r.Stable)
		}
	}
}

func TestSinks(t *testing.T) {
	if _, err := Hold(box(4, 1, 0.5), Load{Mass: 2051, G: r3.Vec{X: 2}}, Sea{sw}, 0, nil); err == nil {
		t.Error("2051 kg in a box that pushes aside 2050 kg floats")
	}
	for _, m := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := Hold(box(4, 1, 0.5), Load{Mass: m}, Sea{sw}, 0, nil); err == nil {
			t.Errorf("a mass of %v floats", m)
		}
	}
}

// TestStiffness checks the analytic slopes against differences.
func TestStiffness(t *testing.T) {
	b := box(6, 1.6, 0.8)
	l := Load{Mass: 3000, G: r3.Vec{X: 3.2, Y: 0.05, Z: 0.3}}
	for _, heel := range []float64{0, 0.2, 0.9, 2.2} {
		const d = 1e-5
		r, err := Hold(b, l, Sea{sw}, heel, nil)
		if err != nil {
			t.Fatal(err)
		}
		p, _ := Hold(b, l, Sea{sw}, heel+d, &r.Attitude)
		m, _ := Hold(b, l, Sea{sw}, heel-d, &r.Attitude)
		run(t, []check{{"slope of the arm", r.Stiffness(l), (p.Arm(l) - m.Arm(l)) / (2 * d), 2e-5, "central difference of the same arms, closed form of the derivative"}})
	}
}

func TestHeadroomOffCentre(t *testing.T) {
	b := round(4, 0.5, 48)
	for _, y := range []float64{0, 0.004, -0.01} {
		l := Load{Mass: 1400, G: r3.Vec{X: 2.05, Z: 0.4}}
		even, err := NewCurve(b, l, Sea{sw})
		if err != nil {
			t.Fatal(err)
		}
		l.G.Y = y
		exact, err := NewCurve(b, l, Sea{sw})
		if err != nil {
			t.Fatal(err)
		}
		h, _ := even.HeadroomOffCentre(y)
		want, _ := exact.Headroom()
		run(t, []check{{"height left with a list", h, want, 5e-6, "the same curve worked out with the weight where it is"}})
	}
}

// TestHeadroom raises the weight by what is left and finds the hollow just touching nothing.
func TestHeadroom(t *testing.T) {
	b := prism(4, 6, []cuts.Point{{Y: -0.5, Z: 0.1}, {}, {Y: 0.5, Z: 0.1}, {Y: 0.7, Z: 0.6}, {Y: 0.25, Z: 1.2}, {Y: -0.25, Z: 1.2}, {Y: -0.7, Z: 0.6}})
	l := Load{Mass: 900, G: r3.Vec{X: 2, Z: 0.3}}
	c, err := NewCurve(b, l, Sea{sw})
	if err != nil {
		t.Fatal(err)
	}
	h, at := c.Headroom()
	if h <= 0 || at < 20*deg || at > 179*deg {
		t.Fatalf("height left %.3f m at %.0f degrees: the shape no longer tries this", h, at/deg)
	}
	for _, over := range []float64{-0.002, 0.002} {
		up, err := NewCurve(b, l.Raised(r3.Vec{Z: h + over}), Sea{sw})
		if err != nil {
			t.Fatal(err)
		}
		stays := false
		for _, r := range up.Rests() {
			stays = stays || r.Stable && r.Heel > 1e-6
		}
		if stays != (over > 0) {
			t.Errorf("raised %.0f mm past what is left: stays over %v", 1000*over, stays)
		}
	}
}
