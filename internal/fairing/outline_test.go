package fairing

import (
	"testing"

	"pgregory.net/rapid"

	"thole/internal/cuts"
)

// TestOutermostPoints: foot and top by themselves are the ends of the half section, past the ends of keel
// and sheer too.
//
// Source: property; the slow twin is Half
func TestOutermostPoints(t *testing.T) {
	var stations []Cut
	for _, x := range []float64{0.5, 1.5, 3, 4.5, 5.5} {
		w := x * (6 - x) / 9
		stations = append(stations, Cut{X: x, Points: []Point{
			{Point: cuts.Point{Z: 0.2 - 0.1*w}}, {Point: cuts.Point{Y: 0.5 * w, Z: 0.3}}, {Point: cuts.Point{Y: 0.7 * w, Z: 0.6}}, {Point: cuts.Point{Y: 0.75 * w, Z: 0.9}}}})
	}
	stem := Profile{{X: 0.5, Z: 0.15}, {X: 0.2, Z: 0.3}, {X: 0.05, Z: 0.6}, {X: 0, Z: 1}}
	stern := Profile{{X: 5.5, Z: 0.15}, {X: 5.8, Z: 0.3}, {X: 5.95, Z: 0.6}, {X: 6, Z: 1}}
	for _, ends := range [][2]Profile{{nil, nil}, {stem, nil}, {stem, stern}} {
		s, err := Fit(stations, ends[0], ends[1], 0.004)
		if err != nil {
			t.Fatal(err)
		}
		rapid.Check(t, func(t *rapid.T) {
			x := rapid.Float64Range(-0.5, 6.5).Draw(t, "x")
			half := s.Half(x)
			if foot, top := s.Foot(x), s.Top(x); foot != half[0] || top != half[len(half)-1] {
				t.Fatalf("at %g: foot %v, top %v; the half section has %v and %v", x, foot, top, half[0], half[len(half)-1])
			}
		})
	}
}
