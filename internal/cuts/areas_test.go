package cuts

import (
	"math"
	"testing"
)

// TestAreasSumToBelow: a box of 4 by 2 by 1 m, trimmed so that its submerged section grows from 0.4 to 0.8 m²
// along it. Source: closed form; a plane across a box leaves sections in proportion to the level.
func TestAreasSumToBelow(t *testing.T) {
	var nodes []Node
	for i := range 8 {
		nodes = append(nodes, Node{X: 0.25 + 0.5*float64(i), Weight: 0.5, Section: Rectangle(-1, 0, 1, 1)})
	}
	s := NewStack(nodes)
	p := Plane{Cos: 1, Level: 0.2, Slope: 0.05}
	xs, areas := s.Areas(p)
	sum := 0.0
	for i, x := range xs {
		if want := 2 * (0.2 + 0.05*x); math.Abs(areas[i]-want) > 1e-12 {
			t.Errorf("at %g m: %g m², want %g", x, areas[i], want)
		}
		sum += 0.5 * areas[i]
	}
	if v := s.Below(p).Volume; math.Abs(sum-v) > 1e-12 {
		t.Errorf("the areas sum to %g m³, Below gives %g", sum, v)
	}
	if _, a := s.Areas(Plane{Cos: 1, Level: 5}); math.Abs(a[3]-2) > 1e-12 {
		t.Errorf("all under water: %g m²", a[3])
	}
	if _, a := s.Areas(Plane{Cos: 1, Level: -5}); a[3] != 0 {
		t.Errorf("all above water: %g m²", a[3])
	}
}
