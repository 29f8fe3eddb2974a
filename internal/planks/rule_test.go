package planks

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func along(n int, f func(float64) r3.Vec) []r3.Vec {
	out := make([]r3.Vec, n)
	for i := range out {
		out[i] = f(float64(i) / float64(n-1))
	}
	return out
}

// TestRuleFindsRulings takes edges cut across known developables, askew to their rulings.
func TestRuleFindsRulings(t *testing.T) {
	const src = "the rulings of a cone pass through its apex, those of a cylinder are parallel; closed form"
	apex := r3.Vec{X: 0.3, Z: 3}
	// two plane curves on one cone, the upper one run at another pace
	base := func(f float64) r3.Vec { s, c := math.Sincos(0.4 + 1.6*f); return r3.Vec{X: 1 + c, Y: s} }
	high := func(f float64) r3.Vec { p := base(f); return mix(p, apex, 0.3+0.2*p.Y) }
	cone, err := Rule(along(200, base), along(200, func(f float64) r3.Vec { return high(f * (0.7 + 0.3*f)) }), 81)
	if err != nil {
		t.Fatal(err)
	}
	var miss float64
	for _, q := range cone.Rulings {
		miss = math.Max(miss, r3.Norm(r3.Cross(unit(r3.Sub(q.Upper, q.Lower)), r3.Sub(apex, q.Lower))))
	}
	// a cylinder along z whose upper edge slants
	low := func(f float64) r3.Vec { s, c := math.Sincos(1.2 * f); return r3.Vec{X: s, Y: c} }
	slant := func(f float64) r3.Vec { p := low(math.Pow(f, 1.3)); p.Z = 1 + 0.5*p.X; return p }
	cyl, err := Rule(along(200, low), along(200, slant), 81)
	if err != nil {
		t.Fatal(err)
	}
	var lean float64
	for _, q := range cyl.Rulings {
		lean = math.Max(lean, math.Hypot(q.Upper.X-q.Lower.X, q.Upper.Y-q.Lower.Y))
	}
	run(t, []check{
		{"cone: twist", cone.Twist, 0, 5e-5, src + "; the slope of a spline through 200 points is good to 1e-5 at its ends"},
		{"cone: rulings miss the apex by", miss, 0, 1e-5, src},
		{"cone: developable share", cone.Developable, 1, 0, src},
		{"cylinder: twist", cyl.Twist, 0, 1e-5, src + "; as the cone"},
		{"cylinder: rulings lean by", lean, 0, 1e-5, src},
		{"cylinder: stretch", laid(t, cyl.Grid()).Stretch.Max, 0, 1e-6, "isometry"},
	})
}

// TestRuleFans: a lower edge that stops short leaves a cone about its end.
func TestRuleFans(t *testing.T) {
	low := func(f float64) r3.Vec { s, c := math.Sincos(0.4 + 0.5*f); return r3.Vec{X: s, Y: c} }
	high := func(f float64) r3.Vec { s, c := math.Sincos(1.2 * f); return r3.Vec{X: s, Y: c, Z: 1} }
	for name, edges := range map[string][2]func(float64) r3.Vec{"lower": {low, high}, "upper": {high, low}} {
		r, err := Rule(along(200, edges[0]), along(200, edges[1]), 81)
		if err != nil {
			t.Fatal(err)
		}
		fans := 0
		for i, q := range r.Rulings {
			if q.Fan {
				fans++
			}
			if i > 0 && (q.LowerShare < r.Rulings[i-1].LowerShare || q.UpperShare < r.Rulings[i-1].UpperShare) {
				t.Errorf("%s: rulings run back at %d", name, i)
			}
		}
		if fans < 10 || fans > 80 {
			t.Errorf("%s: %d rulings in fans", name, fans)
		}
		f := laid(t, r.Grid())
		run(t, []check{
			{"the " + name + " edge short: twist", r.Twist, 0, 0.02, "a cone joins a cylinder along a common ruling; the first ruling past the join may be half a step off"},
			{"the " + name + " edge short: stretch", f.Stretch.Max, 0, 1e-3, "isometry"},
			{"the first ruling", dist(r.Rulings[0].Lower, edges[0](0)) + dist(r.Rulings[0].Upper, edges[1](0)), 0, 1e-9, "ends meet ends"},
		})
	}
}

// TestRuleToldNotDevelopable: two skew lines have no common tangent plane anywhere.
func TestRuleToldNotDevelopable(t *testing.T) {
	r, err := Rule(along(5, func(f float64) r3.Vec { return r3.Vec{X: f} }), along(5, func(f float64) r3.Vec { return r3.Vec{X: f, Y: 1, Z: 0.1 * f} }), 21)
	if err != nil {
		t.Fatal(err)
	}
	run(t, []check{
		{"twist of the middle ruling", r.Rulings[len(r.Rulings)/2].Twist * 180 / math.Pi, 5.710593, 0.05, "two lines at atan 0.1 to each other; a ruling square to both turns by that angle, a slanting one by nearly as much"},
		{"developable share", r.Developable, 0, 0, "skew lines lie in no common plane"},
	})
	if _, err := Rule(nil, nil, 5); err != ErrFew {
		t.Error(err)
	}
	p := r3.Vec{X: 1}
	if _, err := Rule([]r3.Vec{p, p}, []r3.Vec{{}, p}, 5); err != ErrNothing {
		t.Error(err)
	}
	if _, err := Rule([]r3.Vec{p, {X: math.NaN()}}, []r3.Vec{{}, p}, 5); err != ErrNumber {
		t.Error(err)
	}
}
