package nesting

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// TestNoFitAgainstAreas: an offset lies in the no-fit region just when the shapes share
// area, which is summed by other means.
func TestNoFitAgainstAreas(t *testing.T) {
	shapes, err := prepare(boat(), bare(3, 3))
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range shapes {
		s.holes = nil
	}
	r := rand.New(rand.NewPCG(1, 1))
	ps, blocked := newPairs(), 0
	var sc scratch
	for range 3000 {
		a, b := r.IntN(len(shapes)), r.IntN(len(shapes))
		oa, ob := quarter(r.IntN(4), r.IntN(2) == 0), quarter(r.IntN(4), r.IntN(2) == 0)
		at := point{r.Float64() - 0.5, r.Float64() - 0.5}
		j := &job{shapes: shapes}
		shared := j.solid(laid{shape: a, pose: oa}).shared(j.solid(laid{shape: b, pose: ob, at: at}))
		clash := shared > 0
		if clash && shared < 1e-9 {
			continue // too near the edge to say
		}
		n := neighbour{ps.get(shapes, a, oa, b, ob), point{}}
		for _, across := range []bool{false, true} {
			v, w := at.y, at.x
			if across {
				v, w = w, v
			}
			sc.acc = sc.acc[:0]
			n.spans(v, across, true, &sc)
			in := false
			for _, s := range sc.acc {
				in = in || s.lo < w && w < s.hi
			}
			if in != clash {
				t.Errorf("%s %v against %s %v at %v, across %v: blocked %v, shared %g m2",
					shapes[a].name, oa, shapes[b].name, ob, at, across, in, shared)
			}
		}
		if clash {
			blocked++
		}
	}
	if blocked < 500 || blocked > 2500 {
		t.Errorf("%d of 3000 offsets overlap: the test looks at one side only", blocked)
	}
}

// TestWidened: the area of a grown outline.
func TestWidened(t *testing.T) {
	const g = 0.01
	round := 24 * g * g * math.Tan(math.Pi/24) // the area of the 24 sides about the circle
	ell := []point{{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}}
	bay := []point{{0, 0}, {1, 0}, {1, 1}, {0.5005, 1}, {0.5005, 0.5}, {0.4995, 0.5}, {0.4995, 1}, {0, 1}}
	for _, r := range []struct {
		name   string
		ring   []point
		want   float64
		source string
	}{
		{"rectangle", []point{{0, 0}, {2, 0}, {2, 1}, {0, 1}}, 2 + 6*g + round,
			"Steiner's formula, area + perimeter gap + disc; closed form"},
		{"inner corner", ell, 3 + 8*g + 1.25*round - g*g,
			"five outer quarter turns of the disc, one inner corner where two strips share a square; closed form"},
		{"a saw cut narrower than the gap closes", bay, 1 + 4*g + round,
			"the unit square's, the cut filled; closed form"},
	} {
		if got := area(widened(r.ring, g)); math.Abs(got-r.want) > 1e-7 {
			t.Errorf("%s: %.9f, want %.9f (%s)", r.name, got, r.want, r.source)
		}
	}
}

// TestWidenedKeepsClear: no point of a grown outline lies nearer than the gap, and the
// fallback is no narrower.
func TestWidenedKeepsClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		ring, err := clean(blob(r, "x", 0.05+r.Float64(), 5+r.IntN(60), 1).Outline)
		if err != nil {
			t.Skip("not a polygon")
		}
		g := 0.001 + 0.05*r.Float64()
		wide := widened(ring, g)
		body := newSolid([][]point{ring})
		for i, p := range wide {
			q := wide[(i+1)%len(wide)]
			mid := point{(p.x + q.x) / 2, (p.y + q.y) / 2}
			for _, v := range []point{p, mid} {
				if inside(ring, v) {
					t.Fatalf("%v lies within", v)
				}
				for _, s := range body.sides {
					if d := reach(s, v); d < g-tolerance/2 {
						t.Fatalf("%v is %g near, gap %g", v, d, g)
					}
				}
			}
		}
	})
}

// TestHull: the fallback of widened.
func TestHull(t *testing.T) {
	got := hull([]point{{0, 0}, {1, 1}, {2, 0}, {2, 2}, {0, 2}, {1, 0.5}})
	if len(got) != 4 || area(got) != 4 {
		t.Errorf("the hull of a square is %v", got)
	}
}

// TestClash: shared areas and distances by arithmetic.
func TestClash(t *testing.T) {
	at := func(x, y float64, ring ...point) []point {
		for i := range ring {
			ring[i] = ring[i].add(point{x, y})
		}
		return ring
	}
	square := func(x, y, a float64) []point { return at(x, y, point{0, 0}, point{a, 0}, point{a, a}, point{0, a}) }
	wedge := func(x, y float64) []point { return at(x, y, point{0, 0}, point{1, 0}, point{0, 1}) }
	for _, r := range []struct {
		name          string
		a, b          [][]point
		gap           float64
		shared, short float64
		source        string
	}{
		{"squares by a corner", [][]point{square(0, 0, 1)}, [][]point{square(0.75, 0.5, 1)}, 0, 0.125, 0, "0.25 x 0.5, arithmetic"},
		{"one within the other", [][]point{square(0, 0, 1)}, [][]point{square(0.25, 0.25, 0.5)}, 0.01, 0.25, 0, "0.5 squared"},
		{"within a hole", [][]point{square(0, 0, 1), square(0.2, 0.2, 0.6)}, [][]point{square(0.25, 0.25, 0.5)}, 0.05, 0, 0, "clear by 0.05, the gap"},
		{"too near in a hole", [][]point{square(0, 0, 1), square(0.2, 0.2, 0.6)}, [][]point{square(0.25, 0.25, 0.5)}, 0.06, 0, 0.01, "0.06 - 0.05"},
		{"over a hole's edge", [][]point{square(0, 0, 1), square(0.2, 0.2, 0.6)}, [][]point{square(0.3, 0.3, 0.6)}, 0, 0.11, 0, "0.36 less the hole's 0.25"},
		{"wedges crossed", [][]point{wedge(0, 0)}, [][]point{wedge(0.5, 0)}, 0, 0.125, 0, "a wedge of side 0.5"},
		{"touching", [][]point{square(0, 0, 1)}, [][]point{square(1, 0, 1)}, 0, 0, 0, "a shared side has no area"},
		{"corner to corner", [][]point{square(0, 0, 1)}, [][]point{square(1.03, 1.04, 1)}, 0.06, 0, 0.01, "3-4-5 triangle: 0.05 apart"},
		{"far", [][]point{square(0, 0, 1)}, [][]point{square(9, 9, 1)}, 0.06, 0, 0, "eight metres away"},
	} {
		shared, short, clash := newSolid(r.a).clash(newSolid(r.b), r.gap)
		if want := r.shared > 0 || r.short > 0; clash != want {
			t.Errorf("%s: clash %v, want %v", r.name, clash, want)
		}
		if clash && (math.Abs(shared-r.shared) > 1e-12 || math.Abs(short-r.short) > 1e-12) {
			t.Errorf("%s: %g m2, %g m short; want %g, %g (%s)", r.name, shared, short, r.shared, r.short, r.source)
		}
	}
}
