package hydro

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/cuts"
)

// boxStack is a box between two places, breadths and heights.
func boxStack(x0, x1, y0, y1, z0, z1 float64) *cuts.Stack {
	sec := cuts.Rectangle(y0, z0, y1, z1)
	var nodes []cuts.Node
	for _, s := range cuts.Along([]float64{x0, x1}, (x1-x0)/4, 3, false, false) {
		nodes = append(nodes, cuts.Node{X: s.X, Weight: s.Weight, Section: sec})
	}
	return cuts.NewStack(nodes)
}

// TestLooseWaterAtLargeAngles is the shift across of a half-full tank's water.
func TestLooseWaterAtLargeAngles(t *testing.T) {
	l := Loose{Stack: boxStack(0, 1, -0.5, 0.5, 0, 0.3), Volume: 0.15, Ratio: 1}
	var rows []check
	for heel, want := range map[float64]float64{1: .009697258, 5: .048605166, 10: .097970913, 16.6992: .166820942, 20: .193278822, 30: .221530398, 45: .213899801, 60: .181201905, 90: .075} {
		s, c := math.Sincos(heel * deg)
		m := l.standing(cuts.Plane{Sin: s, Cos: c})
		// across, less what it would be with the water frozen at half depth
		rows = append(rows, check{"shift", m.Across/m.Volume - 0.075*s, want, 1e-6, "tank 1.0 x 0.3 m half full, closed form by clipping the rectangle"},
			check{"volume kept", m.Volume, 0.15, 1e-12, "property: the volume is kept"})
	}
	run(t, rows)
}

// TestFreeSurface: for small heels loose water costs i rho / displacement.
func TestFreeSurface(t *testing.T) {
	// 8153.75 t in all; a tank 15 x 10 x 2 m of sea water pumped to half, Derrett p. 195
	b := box(100, 20, 10)
	tank := boxStack(42.5, 57.5, -5, 5, 0, 2)
	solid := 8153.75e3 - 15*10*2*sw
	half := Loose{Stack: tank, Volume: 150, Ratio: 1}
	l := Load{Mass: solid, G: r3.Vec{X: 50, Z: 4}}
	free := b.With(nil, []Loose{half})
	r, err := Hold(free, l, Sea{sw}, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	// the same water frozen
	total := solid + 150*sw
	frozen := Load{Mass: total, G: r3.Vec{X: (solid*50 + 150*sw*50) / total, Z: (solid*4 + 150*sw*0.5) / total}}
	f, err := Hold(b, frozen, Sea{sw}, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	loss := 15 * 1000.0 / 12 * sw / total
	run(t, []check{
		{"loss of metacentric height", f.Stiffness(frozen) - r.Stiffness(l), loss, 2e-4, "Barrass & Derrett p. 195: i rho / displacement (0.16015625 m at its displacement of 8000 t), closed form"},
		{"the same draft", r.Level, f.Level, 1e-7, "Archimedes"},
	})
	x, y, z, second := half.Upright()
	run(t, []check{{"its centre", math.Hypot(math.Hypot(x-50, y), z-0.5), 0, 1e-9, "box, arithmetic"}, {"second moment of its surface", second, 15 * 1000.0 / 12, 1e-6, "l b³ / 12, closed form"}})
	run(t, []check{{"i rho / displacement at 8000 t", 15 * 1000.0 / 12 * 1.025 / 8000, 0.16015625, 1e-9, "Barrass & Derrett p. 195"}})
}

// TestBilged: boxes with a compartment amidships open to the sea.
func TestBilged(t *testing.T) {
	const src = "bilged box, lost buoyancy: problem set as quoted in the checks; Barrass & Derrett, Bilging"
	for _, c := range []struct{ length, breadth, draft, compartment, share, want float64 }{
		{60, 8, 4, 12, 1, 5}, {60, 8, 4, 12, 0.85, 4.819277}, {60, 10, 4, 12, 0.6, 4.545455}, {30, 8, 3, 6, 0.75, 3.529412},
	} {
		mid := c.length / 2
		b := box(c.length, c.breadth, 10).With([]Flooded{{Stack: boxStack(mid-c.compartment/2, mid+c.compartment/2, -c.breadth/2, c.breadth/2, 0, 10), Share: c.share}}, nil)
		l := Load{Mass: c.length * c.breadth * c.draft * sw, G: r3.Vec{X: mid, Z: 2}}
		r, err := Hold(b, l, Sea{sw}, 0, nil)
		if err != nil {
			t.Fatal(err)
		}
		run(t, []check{{"draft", r.Level, c.want, 1e-6, src}})
	}
	b := box(40, 6, 4).With([]Flooded{{Stack: boxStack(15, 25, -3, 3, 0, 4), Share: 1}}, nil)
	l := Load{Mass: 40 * 6 * 2 * sw, G: r3.Vec{X: 20, Z: 1.9}}
	r, err := Hold(b, l, Sea{sw}, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	run(t, []check{{"draft", r.Level, 2.666667, 1e-6, src}, {"GM", r.Stiffness(l), 0.558333, 1e-6, "Barrass & Derrett exercise: box 40 x 6 m, 10 m bilged amidships, KG 1.9, lost buoyancy"}})
}

// TestLostBuoyancyIsAddedWater: the sea in a compartment may be taken as lost buoyancy or as so much weight of
// loose water; she lies alike.
func TestLostBuoyancyIsAddedWater(t *testing.T) {
	room := boxStack(3.5, 5.5, 0, 0.8, 0, 0.7)
	l := Load{Mass: 2500, G: r3.Vec{X: 3.1, Y: -0.02, Z: 0.25}}
	lost, err := Float(box(6, 1.6, 0.9).With([]Flooded{{Stack: room, Share: 1}}, nil), l, Sea{sw}, nil)
	if err != nil {
		t.Fatal(err)
	}
	v := room.Below(lost.Plane()).Volume
	added, err := Float(box(6, 1.6, 0.9).With(nil, []Loose{{Stack: room, Volume: v, Ratio: 1}}), l, Sea{sw}, nil)
	if err != nil {
		t.Fatal(err)
	}
	const src = "property: both methods describe one floating body (Barrass & Derrett, Bilging)"
	run(t, []check{
		{"heel", added.Heel / deg, lost.Heel / deg, 1e-6, src},
		{"trim", added.Slope, lost.Slope, 1e-8, src},
		{"level", added.Level, lost.Level, 1e-7, src},
	})
}
