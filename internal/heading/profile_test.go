package heading

import (
	"math"
	"testing"

	"thole/internal/cuts"
	"thole/internal/hydro"
)

func attitude(level float64) hydro.Attitude { return hydro.Attitude{Level: level} }

// stack is a solid with rectangular sections between a keel and a top, of a half-breadth.
func stack(length float64, keel, top, half func(x float64) float64, count int) *cuts.Stack {
	var nodes []cuts.Node
	for _, s := range cuts.Along([]float64{0, length}, length/float64(count), 3, false, false) {
		nodes = append(nodes, cuts.Node{X: s.X, Weight: s.Weight, Section: cuts.Rectangle(-half(s.X), keel(s.X), half(s.X), top(s.X))})
	}
	return cuts.NewStack(nodes)
}

func flat(v float64) func(float64) float64 { return func(float64) float64 { return v } }

func TestProfile(t *testing.T) {
	box := must(Profile(stack(6, flat(0), flat(1), flat(0.75), 8), attitude(0.3)))
	trimmed := must(Profile(stack(6, flat(0), flat(1), flat(0.75), 8), hydro.Attitude{Level: 0.15, Slope: 0.05}))
	sheer := func(x float64) float64 { return 0.6 + 0.4*math.Pow((x-3)/3, 2) }
	keel := func(x float64) float64 { return 0.4 * math.Pow((x-3)/3, 2) }
	round := must(Profile(stack(6, keel, sheer, flat(0.75), 12), attitude(0.4)))
	heeled := must(Profile(stack(6, flat(-0.5), flat(0.5), flat(0.5), 8), hydro.Attitude{Heel: 45 * deg}))
	front := func(s Silhouette) (sum float64) {
		for _, v := range s.Front {
			sum += v.Area
		}
		return sum
	}
	run(t, []check{
		{"box: underwater profile", box.Under.Area, 1.8, 1.8e-3, "L T"},
		{"box: its centre", box.Under.X, 3, 1e-9, "symmetry"},
		{"box: its depth", box.Under.Height, -0.15, 1e-9, "T / 2"},
		{"box: above", box.Above.Area, 4.2, 4.2e-3, "L F"},
		{"box: its height", box.Above.Height, 0.35, 1e-9, "F / 2"},
		{"box: from ahead", front(box), 1.05, 1e-9, "B F"},
		{"box: volume", box.Hull.Volume, 2.7, 1e-9, "L B T"},
		{"box: beam", box.Hull.Stations[2].Beam, 1.5, 1e-12, "B"},
		{"trimmed box: underwater profile", trimmed.Under.Area, 1.8, 4e-3, "mean of 0.15 and 0.45, times 6"},
		{"trimmed box: its centre", trimmed.Under.X, 6 * (0.15 + 2*0.45) / (3 * 0.6), 4e-3, "centroid of a trapezoid"},
		{"round: underwater profile", round.Under.Area, 1.6, 1.6e-3, "parabola: 2/3 L T"},
		{"round: its depth", round.Under.Height, -0.16, 1e-3, "parabola: 2/5 T"},
		{"round: above", round.Above.Area, 6*0.2 + 6*0.4/3, 4e-3, "parabola: a third of its height over the line"},
		{"heeled square: underwater profile", heeled.Under.Area, 6 * math.Sqrt(0.5), 5e-3, "half the diagonal"},
		{"heeled square: from ahead", front(heeled), 0.5, 1e-3, "half the square"},
	})
	// The side view's strips make the part's moments.
	area, x, height := box.Part("hull", ShapeFlat).Area()
	run(t, []check{
		{"part's area", area, box.Above.Area, 1e-12, "the same strips"},
		{"part's centre", x, box.Above.X, 1e-12, "the same strips"},
		{"part's height", height, box.Above.Height, 1e-12, "the same strips"},
	})
	high := must(Profile(stack(6, flat(0), flat(1), flat(0.75), 8), attitude(-0.1)))
	if len(high.Hull.Stations) != 0 || high.Hull.Volume != 0 {
		t.Errorf("a hull clear of the water has stations: %+v", high.Hull)
	}
	if _, err := New(Boat{Hull: high.Hull, Resistance: Quadratic(1)}); err == nil {
		t.Error("a hull clear of the water has a heading")
	}
}

// TestProfileConverges: finer cuts, nearer the parabola, by at least first order at the ends.
func TestProfileConverges(t *testing.T) {
	keel := func(x float64) float64 { return 0.4 * math.Pow((x-3)/3, 2) }
	off := func(n int) float64 {
		return math.Abs(must(Profile(stack(6, keel, flat(1), flat(0.5), n), attitude(0.4))).Under.Area - 1.6)
	}
	if a, b := off(4), off(16); b > a/6 {
		t.Errorf("four times the cuts: %g, then %g off", a, b)
	}
}
