package fairing

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestWeightsAgainstSplines: the factors of the knots are the values of the splines through one at a knot
// and nothing at the others.
//
// Source: property; the slow twin draws each of those splines
func TestWeightsAgainstSplines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "knots")
		knots, unit := make([]float64, n), make([]float64, n)
		for i := 1; i < n; i++ {
			knots[i] = knots[i-1] + rapid.Float64Range(0.05, 2).Draw(t, "step")
		}
		at := rapid.Float64Range(-0.3, knots[n-1]+0.3).Draw(t, "at")
		for i, w := range weights(knots, at) {
			unit[i] = 1
			want := NewSpline(knots, unit).At(at)
			unit[i] = 0
			if math.Abs(w-want) > 1e-9*(1+math.Abs(want)) {
				t.Fatalf("knot %d of %v at %g: %.12g, by its spline %.12g", i, knots, at, w, want)
			}
		}
	})
}
