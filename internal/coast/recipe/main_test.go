package main

import (
	"reflect"
	"testing"
)

// TestJoin: arcs end to end, one of them turned round, the shared points once. Source:
// the TopoJSON specification (2013), section 2.1.4, arc indexes, and a square by hand.
func TestJoin(t *testing.T) {
	all := [][][2]int32{{{0, 0}, {5, 0}, {5, 5}}, {{0, 0}, {0, 5}, {0, 5}, {5, 5}}}
	got := join(all, []int{0, ^1})
	if want := [][2]int32{{0, 0}, {5, 0}, {5, 5}, {0, 5}}; !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// area is twice a ring's area, in steps of the lattice.
func area(ring [][2]int32) int {
	sum := 0
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		sum += int(p[0])*int(q[1]) - int(q[0])*int(p[1])
	}
	return max(sum, -sum)
}

// TestCut: squares and a cap whose areas are known, whole, cut by the 180th meridian,
// and closed at the pole.
func TestCut(t *testing.T) {
	for _, r := range []struct {
		name  string
		ring  [][2]int32
		parts int
		area  int // twice, of all parts
	}{
		{"whole", [][2]int32{{10, 10}, {20, 10}, {20, 20}, {10, 20}}, 1, 200},
		{"cut, begun in the west", [][2]int32{{round - 10, 10}, {10, 10}, {10, 20}, {round - 10, 20}}, 2, 400},
		{"cut, begun in the east", [][2]int32{{10, 10}, {10, 20}, {round - 10, 20}, {round - 10, 10}}, 2, 400},
		{"up to it", [][2]int32{{round - 10, 10}, {round, 10}, {round, 20}, {round - 10, 20}}, 1, 200},
		{"up to it, by its other name", [][2]int32{{round - 10, 10}, {0, 10}, {0, 20}, {round - 10, 20}}, 1, 200},
		{"round the pole", [][2]int32{{0, 100}, {30000, 100}, {60000, 100}, {90000, 100}}, 1, 2 * round * (100 - southern)},
		{"nothing", nil, 0, 0},
	} {
		parts, sum := cut(r.ring), 0
		real := 0
		for _, p := range parts {
			if a := area(p); a > 0 {
				real++
				sum += a
			}
			for _, q := range p {
				if q[0] < 0 || q[0] > round {
					t.Errorf("%s: a point at %v lies off the map", r.name, q)
				}
			}
		}
		if real != r.parts || sum != r.area {
			t.Errorf("%s: %d parts of twice %d, want %d of %d: %v", r.name, real, sum, r.parts, r.area, parts)
		}
	}
}
