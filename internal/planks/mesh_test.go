package planks

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// TestStraightest: on a sphere the straightest line is a great circle, on a plane a straight one.
func TestStraightest(t *testing.T) {
	for _, grid := range [][][]r3.Vec{dome(81, 1, 0.5), saddle(9, 9)} {
		m := newMesh(grid)
		q := m.through(m.inside(grid[len(grid)/2][len(grid)/3]), r3.Vec{X: 1, Y: 0.7})
		if q.length() < 0.9 || len(q.spots) < 9 {
			t.Fatal(q.length(), len(q.spots))
		}
	}
	m := newMesh(dome(81, 1, 0.5))
	at := m.inside(unit(r3.Vec{X: 0.2, Y: -0.1, Z: 1}))
	q := m.through(at, r3.Vec{X: 1, Y: 0.7})
	_, d := q.at(q.length() / 2)
	mid, _ := q.at(q.length() / 2)
	plane := unit(r3.Cross(mid.p, d))
	var off float64
	for _, s := range q.spots {
		off = math.Max(off, math.Abs(r3.Dot(plane, unit(s.p))))
	}
	run(t, []check{{"off the great circle", off, 0, 2e-3, "great circles are a sphere's straightest lines; facets of 1/80 turn by 0.013 each and a line's way over them wanders by less than a sixth of that"}})

	flat := newMesh(strip(5, 7, func(f float64) r3.Vec { return r3.Vec{X: 2 * f} }, func(f float64) r3.Vec { return r3.Vec{X: 2*f + 0.1, Y: 1, Z: 0.3} }))
	a := flat.inside(r3.Vec{X: 1, Y: 0.5, Z: 0.15})
	p := flat.through(a, r3.Vec{X: 1, Y: 0.3})
	first, last := p.spots[0].p, p.spots[len(p.spots)-1].p
	run(t, []check{{"on a plane", p.length(), dist(first, last), 1e-12, "a straight line is the shortest"}})
}
