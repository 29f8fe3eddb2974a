package drift

import (
	"cmp"
	"fmt"
	"math"
)

// Rope is a size of three-strand nylon.
type Rope struct {
	Diameter float64 // m
	Strength float64 // N, least breaking strength, new and dry
}

// nylon is the least breaking strength of three-strand nylon, mm and kN. Source: table of
// nylon rope strengths at engineeringtoolbox.com, which the Cordage Institute's figures for
// nylon (3240 lb at 3/8 in, 5670 lb at 1/2 in) stand behind; wet nylon has a tenth to a fifth less
// (from memory).
var nylon = [...][2]float64{
	{5, 3.91}, {6, 6.61}, {8, 10.2}, {10, 14.4}, {11, 19.2}, {12, 25.2}, {14, 32.0}, {16, 39.6},
	{18, 56.8}, {22, 76.9}, {24, 98.9}, {26, 112}, {28, 126}, {30, 155}, {32, 170}, {36, 216},
}

// Shares of a new rope's strength that are left, and factors over the load.
//
// Sources: knots take a third to a half of the strength, a good splice a tenth (general rope
// tables; from memory); wet, see nylon; a factor of 8 on a working load, Gerr, The Elements of
// Boat Strength, as quoted; 2 on a load that is itself the greatest to be met, common practice, no source
const (
	ShareSpliced  = 0.9
	ShareKnotted  = 0.5
	ShareWet      = 0.85
	FactorWorking = 8.0
	FactorPeak    = 2.0
)

// Breaking is the new strength that a line or fitting needs, N.
//
// In:     load N; factor of safety, 1 or more; share of the strength left by knots, splices and water
// Error:  ErrInput
func Breaking(load, factor, share float64) (float64, error) {
	if err := cmp.Or(need("the load", load, 0, 1e8, "give N"),
		need("the factor of safety", factor, 1, 50, "give 1 or more"),
		need("the share of strength that is left", share, 0.05, 1, "give 0.05 to 1")); err != nil {
		return 0, err
	}
	return load * factor / share, nil
}

// Line is the thinnest three-strand nylon rope that has a breaking strength.
//
// In:     breaking strength needed, N
// Error:  ErrInput when none of the table has it
func Line(breaking float64) (Rope, error) {
	if err := need("the strength", breaking, 0, 1e9, "give N"); err != nil {
		return Rope{}, err
	}
	for _, r := range nylon {
		if r[1]*1e3 >= breaking {
			return Rope{r[0] / 1e3, r[1] * 1e3}, nil
		}
	}
	return Rope{}, fmt.Errorf("%w: a strength of %.0f N is past the table's end at 36 mm; check load and factor", ErrInput, breaking)
}

// WaveLength is the length of a wave in deep water by its period, m: g T2 / 2 pi. A line as
// long as one wave, or two, lets boat and sea anchor rise together (common practice, no source).
//
// Source: linear theory of waves, closed form
func WaveLength(period float64) float64 { return gravity * period * period / (2 * math.Pi) }
