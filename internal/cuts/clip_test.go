package cuts

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestClipAgainstEdges: the sums known beforehand give what every edge in turn gives, whatever the
// outline (holes, several runs, bulges) and however the water lies, along an edge among others.
//
// Source: property; the slow twin is Green's theorem edge by edge
func TestClipAgainstEdges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sec := blob(t, "one")
		if rapid.Bool().Draw(t, "hole") {
			sec = Difference(sec, blob(t, "two"))
		}
		if len(sec) == 0 {
			return
		}
		for i := range sec {
			if rapid.Bool().Draw(t, "swelled") {
				sec[i].Bulge = rapid.Float64Range(-1e-4, 1e-4).Draw(t, "bulge")
			}
		}
		if rapid.Bool().Draw(t, "shuffled") { // the order of edges does not matter
			sec = append(sec[len(sec)/2:], sec[:len(sec)/2]...)
		}
		s := NewStack([]Node{{X: 0, Weight: 1, Section: sec}})
		sin, cos := math.Sincos(rapid.Float64Range(-4, 4).Draw(t, "heel"))
		lo, hi := sec.Bounds()
		h := rapid.Float64Range(lo.Z-1, hi.Z+1).Draw(t, "level")
		if rapid.Bool().Draw(t, "through a corner") {
			p := sec[rapid.IntRange(0, len(sec)-1).Draw(t, "corner")].A
			h = p.Z*cos - p.Y*sin
		}
		var k, e part
		k.area, k.across, k.up, k.b, k.o, k.oo = s.byChains(&s.cuts[0], sin, cos, h)
		e.area, e.across, e.up, e.b, e.o, e.oo = s.edgeByEdge(&s.cuts[0], sin, cos, h)
		for name, pair := range map[string][2]float64{"area": {k.area, e.area}, "across": {k.across, e.across}, "up": {k.up, e.up},
			"breadth": {k.b, e.b}, "offset": {k.o, e.o}, "offset squared": {k.oo, e.oo}} {
			size := math.Max(1, math.Pow(math.Max(math.Abs(lo.Y)+math.Abs(hi.Y), math.Abs(lo.Z)+math.Abs(hi.Z)), 3))
			if math.Abs(pair[0]-pair[1]) > 1e-12*size {
				t.Fatalf("%s: %.15g, edge by edge %.15g", name, pair[0], pair[1])
			}
		}
	})
}

// BenchmarkClip: a round section of so many sides, half under water, both ways.
func BenchmarkClip(b *testing.B) {
	for _, n := range []int{8, 16, 24, 32, 64, 128} {
		loop := make([]Point, n)
		for i := range loop {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			loop[i] = Point{Y: cos, Z: sin}
		}
		s := NewStack([]Node{{X: 0, Weight: 1, Section: Outline(loop)}})
		sin, cos := math.Sincos(0.4)
		b.Run(fmt.Sprintf("edges/%d", n), func(b *testing.B) {
			for b.Loop() {
				s.edgeByEdge(&s.cuts[0], sin, cos, 0.1)
			}
		})
		b.Run(fmt.Sprintf("chains/%d", n), func(b *testing.B) {
			for b.Loop() {
				s.byChains(&s.cuts[0], sin, cos, 0.1)
			}
		})
	}
}
