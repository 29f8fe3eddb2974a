package earth

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

var everywhere = Window{-math.Pi / 2, math.Pi / 2, -math.Pi, math.Pi}

// TestOutlineKeepsToTolerance: every point of the coast lies within the tolerance of
// the line that is drawn, and a finer line holds every point of a coarser one.
func TestOutlineKeepsToTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := must(NewLand(islands(t), nil))
		tolerance := rapid.Float64Range(10, 1e5).Draw(t, "tolerance")
		coarse, fine := l.Outline(everywhere, tolerance, 0), l.Outline(everywhere, tolerance/3, 0)
		if len(coarse) != len(l.rings)-1 || len(fine) != len(coarse) {
			t.Fatalf("%d and %d rings of %d", len(coarse), len(fine), len(l.rings)-1)
		}
		for i, ring := range coarse {
			if len(ring) < 3 || len(fine[i]) < len(ring) {
				t.Fatalf("ring %d has %d points, and %d when finer", i, len(ring), len(fine[i]))
			}
			for e := l.rings[i]; e < l.rings[i+1]; e++ {
				lat, lon := float64(l.y[e])/micro, float64(l.x[e])/micro
				cos, off := math.Cos(rad(lat)), math.Inf(1)
				for k := range ring {
					a, b := ring[k], ring[(k+1)%len(ring)]
					ax, ay := (deg(a.Lon)-lon)*cos, deg(a.Lat)-lat
					dx, dy := (deg(b.Lon)-deg(a.Lon))*cos, deg(b.Lat)-deg(a.Lat)
					s := 0.
					if d := dx*dx + dy*dy; d > 0 {
						s = math.Max(0, math.Min(1, -(ax*dx+ay*dy)/d))
					}
					off = math.Min(off, math.Hypot(ax+s*dx, ay+s*dy))
				}
				if off*micro*lengthOfMicro > tolerance*1.001+1 {
					t.Fatalf("a point lies %g m off a line of tolerance %g", off*micro*lengthOfMicro, tolerance)
				}
			}
		}
	})
}

// TestBumpDropsOut: a bump on a straight shore is drawn as long as it is higher than the
// tolerance, and no longer. Source: by hand: it is a tenth of a degree high, 11.1 km, and
// its feet lie 0.09 degree, 10.0 km, off the lines from the corners to its top.
func TestBumpDropsOut(t *testing.T) {
	l := must(NewLand(Rings{StepLon: 0.01, StepLat: 0.01, Rings: [][][2]int32{
		{{0, 0}, {2000, 0}, {2000, -1000}, {0, -1000}}, {{0, 2000}, {900, 2000}, {1000, 2010}, {1100, 2000}, {2000, 2000}, {2000, 1000}, {0, 1000}},
	}}, nil))
	for _, r := range []struct {
		tolerance float64
		points    int
	}{{0, 7}, {9900, 7}, {10100, 5}, {11000, 5}, {11200, 4}, {2e6, 3}} {
		if got := l.Outline(everywhere, r.tolerance, 0)[1]; len(got) != r.points {
			t.Errorf("with a tolerance of %g m the bump has %d points, want %d: %v", r.tolerance, len(got), r.points, got)
		}
	}
}

func TestOutlineWindow(t *testing.T) {
	l := world()
	area := func(w Window) float64 {
		var sum float64
		for _, ring := range l.Outline(w, 0, 0) {
			for i, p := range ring {
				q := ring[(i+1)%len(ring)]
				if p.Lat < w.South-1e-9 || p.Lat > w.North+1e-9 || p.Lon < w.West-1e-9 || p.Lon > w.East+1e-9 {
					t.Errorf("%v lies outside %v", p, w)
				}
				sum += deg(p.Lon)*deg(q.Lat) - deg(q.Lon)*deg(p.Lat)
			}
		}
		return math.Abs(sum / 2)
	}
	win := func(s, n, w, e float64) Window { return Window{rad(s), rad(n), rad(w), rad(e)} }
	const source = "areas of squares in square degrees"
	run(t, []check{
		{"whole", area(win(-5, 5, -5, 5)), 4, 1e-6, source},
		{"a quarter", area(win(0, 5, 0, 5)), 1, 1e-6, source},
		{"within the land", area(win(-0.5, 0.5, -0.5, 0.5)), 1, 1e-6, source},
		{"past the 180th meridian, eastward", area(win(5, 15, 170, 190)), 8, 1e-6, source},
		{"past it, westward", area(win(5, 15, -190, -170)), 8, 1e-6, source},
		{"nothing there", area(win(20, 30, 0, 10)), 0, 0, source},
	})
	if got := l.Outline(win(30, 50, 30, 50), 0, 0); len(got) != 1 || len(got[0]) != 1 {
		t.Errorf("the rock is drawn as %v", got)
	}
	if got := l.Outline(win(30, 50, 30, 50), 0, 1000); got != nil {
		t.Errorf("the rock is drawn though it has no extent: %v", got)
	}
	for _, w := range []Window{{}, {1, 0, 0, 1}, {0, 1, 1, 0}, {0, 1, 0, 10}, {math.NaN(), 1, 0, 1}, {0, 1, math.NaN(), 1}, {0, 1, 1e9, 1e9 + 1}} {
		if got := l.Outline(w, 1, 0); got != nil {
			t.Errorf("%v gives %v", w, got)
		}
	}
}
