package hydraulics

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
)

// strips is the flow through an upright slot by its definition: the speed of the head,
// strip by strip, the root at the surface taken away by z = up - s^2.
func strips(cd, width, sill, top, up, down float64) float64 {
	top = math.Min(top, up)
	speed := func(s float64) float64 {
		return 2 * s * math.Sqrt(2*G*(up-math.Max(up-s*s, down)))
	}
	cut := math.Max(sill, math.Min(top, down))
	return cd * width * (quad.Fixed(speed, math.Sqrt(up-cut), math.Sqrt(up-sill), 60, nil, 0) +
		quad.Fixed(speed, math.Sqrt(up-top), math.Sqrt(up-cut), 60, nil, 0))
}

// TestOpenings: what an opening passes, dry, part full, full and drowned.
func TestOpenings(t *testing.T) {
	const summed = "the speed by head summed over the height, Gauss-Legendre of gonum v0.17"
	slot := Opening{Level: 0.1, Width: 0.12, Height: 0.06, Coefficient: 0.6}
	for _, up := range []float64{0.11, 0.16, 0.17, 0.3} {
		for _, down := range []float64{-1, 0.1, 0.105, 0.13, 0.165, 0.25} {
			if down < up {
				want := strips(0.6, 0.12, 0.1, 0.16, up, down)
				run(t, []check{{"slot", slot.Flow(up, down), want, 1e-9 * want, summed}})
			}
		}
	}
	drain := Opening{Face: Flat, Diameter: 0.05, Coefficient: 0.6}
	hatch := Opening{Face: Flat, Level: 0.4, Width: 0.5, Height: 0.4, Coefficient: 0.6}
	tube := drain
	tube.Fall = 0.15
	side := Opening{Diameter: 0.05, Coefficient: 0.6, Fall: 0.15}
	pipe := Opening{Width: 0.04, Height: 0.05, Coefficient: 0.6, Fall: 0.15, Count: 3}
	area := disc(0.05)
	sqrt := func(h float64) float64 { return math.Sqrt(2 * G * h) }
	const rim = "weir over the rim: 2/3 Cd sqrt(2 g) x its length x h^1.5"
	run(t, []check{
		{"nothing above the sill", slot.Flow(0.1, -1), 0, 0, "definition"},
		{"slot all under water", slot.Flow(0.3, 0.2), 0.6 * 0.12 * 0.06 * sqrt(0.1), 1e-15, torricelli},
		{"slot, sea running in", slot.Flow(0.2, 0.3), -0.6 * 0.12 * 0.06 * sqrt(0.1), 1e-15, torricelli},
		{"drain, drowned mouth", drain.Flow(0.3, -1), 0.6 * area * sqrt(0.3), 1e-15, torricelli},
		{"drain, sea over it", drain.Flow(0.3, 0.2), 0.6 * area * sqrt(0.1), 1e-15, torricelli},
		{"drain, 5 mm of water", drain.Flow(0.005, -1), 0.6 * math.Pi * 0.05 * 2 / 3 * sqrt(0.005) * 0.005, 1e-15, rim},
		{"its rim hands over at 3/8 of the bore", drain.handover(-1), 0.375 * 0.05, 1e-15, "closed form: 2/3 pi D h = pi D2/4"},
		{"hatch, sea 20 mm over the coaming", hatch.Flow(0, 0.42), -0.6 * 1.8 * 2 / 3 * sqrt(0.02) * 0.02, 1e-15, rim},
		{"tube pulls with its fall", tube.Flow(0.3, -1), 0.6 * area * sqrt(0.45), 1e-15, torricelli},
		{"tube into the sea", tube.Flow(0.3, -0.05), 0.6 * area * sqrt(0.35), 1e-15, torricelli},
		{"tube, 5 mm of water", tube.Flow(0.005, -1), 0.6 * math.Pi * 0.05 * 2 / 3 * sqrt(0.005) * 0.005, 1e-15, rim},
		{"sea up the tube, dry sole", tube.Flow(-0.1, 0.3), -0.6 * area * sqrt(0.3), 1e-15, torricelli + " over the mouth"},
		{"sea up the tube, wet sole", tube.Flow(0.1, 0.3), -0.6 * area * sqrt(0.2), 1e-15, torricelli},
		{"sea below the mouth", tube.Flow(-0.1, -0.05), 0, 0, "water does not run uphill"},
		{"tube in the side, 5 mm", side.Flow(0.005, -1), 0.6 * 0.05 * 2 / 3 * sqrt(0.005) * 0.005, 1e-15, rim},
		{"three square tubes, 5 mm", pipe.Flow(0.005, -1), 3 * 0.6 * 0.04 * 2 / 3 * sqrt(0.005) * 0.005, 1e-15, rim},
		{"three square tubes, area", pipe.Area(), 3 * 0.04 * 0.05, 1e-18, "closed form"},
	})
	// A tube's rim hands over where the two laws agree.
	h := tube.handover(-1)
	run(t, []check{{"tube's rim", math.Pi * 0.05 * 2 / 3 * h * math.Sqrt(h), area * math.Sqrt(h+0.15), 1e-12, "definition: weir over the rim = tube running full"}})
}
