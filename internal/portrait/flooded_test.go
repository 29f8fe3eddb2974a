package portrait

import (
	"math"
	"testing"
)

// TestUnder: what of a square lies under a slope, by the shoelace formula against the trapezoid's closed form.
func TestUnder(t *testing.T) {
	square := [][2]float64{{0, 0}, {2, 0}, {2, 2}, {0, 2}}
	for _, c := range []struct {
		level, slope, want float64
		source             string
	}{
		{1, 0, 2, "half of a square of 2"},
		{0.5, 0.5, 2, "trapezoid of sides 0.5 and 1.5, 2 long"},
		{-1, 0, 0, "all of it above the water"},
		{3, 0, 4, "all of it under"},
		{-1, 1, 0.5, "triangle of 1 by 1"},
	} {
		out := under(square, func(p [2]float64) float64 { return p[1] - c.level - c.slope*p[0] })
		area := 0.0
		for i, b := range out {
			a := out[(i+len(out)-1)%len(out)]
			area += (a[0]*b[1] - b[0]*a[1]) / 2
		}
		if math.Abs(area-c.want) > 1e-12 {
			t.Errorf("level %g, slope %g: %g, want %g (%s)", c.level, c.slope, area, c.want, c.source)
		}
	}
}
