package drift

import (
	"cmp"
	"fmt"
	"math"
)

// Hanging is a line that hangs between the anchor and the boat.
type Hanging struct {
	Length  float64 // m that hang clear of the ground
	Span    float64 // m along the ground from anchor to boat, with what lies on the ground
	Tension float64 // N at the boat
	Lift    float64 // radians, the line's rise at the anchor; 0 while some lies on the ground
	Ground  float64 // m that lie on the ground
}

// Catenary is the least chain whose pull on the anchor stays level.
//
// In:     level pull N; weight of the line in water N/m; height from ground to fitting m
// Error:  ErrInput
// Source: s = sqrt(h2 + 2 h H / w), x = (H / w) asinh(w s / H), T = H + w h; closed form
func Catenary(pull, weight, height float64) (Hanging, error) {
	if err := hangs(pull, weight, height); err != nil {
		return Hanging{}, err
	}
	s := math.Sqrt(height*height + 2*height*pull/weight)
	return Hanging{Length: s, Span: pull / weight * math.Asinh(weight*s/pull), Tension: pull + weight*height}, nil
}

// hangs checks what a hanging line is asked with.
func hangs(pull, weight, height float64) error {
	return cmp.Or(need("the pull", pull, 1e-3, 1e8, "give more than 0 N"),
		need("the line's weight in water", weight, 1e-6, 1e5, "give more than 0 N/m; a rope in water has about a tenth of its weight in air"),
		need("the height from ground to fitting", height, 1e-3, 1e4, "give depth and freeboard together, m"))
}

// Rode is how a line of one kind and a given length hangs.
//
// In:     length m, more than the height; else as Catenary
// Error:  ErrInput
// Source: catenary between two heights: s2 = h2 + (2 a sinh(x / 2a))2, a = H / w; closed form
func Rode(pull, weight, height, length float64) (Hanging, error) {
	least, err := Catenary(pull, weight, height)
	if err != nil {
		return Hanging{}, err
	}
	if err := need("the length of line", length, height*(1+1e-9), 1e5, "give more than the depth and freeboard together"); err != nil {
		return Hanging{}, err
	}
	if length >= least.Length {
		least.Ground = length - least.Length
		least.Span += least.Ground
		return least, nil
	}
	a := pull / weight
	x := 2 * a * math.Asinh(math.Sqrt(length*length-height*height)/(2*a))
	low := math.Atanh(height/length) - x/(2*a)
	return Hanging{Length: length, Span: x, Tension: pull * math.Cosh(low+x/a), Lift: math.Atan(math.Sinh(low))}, nil
}

// Scope is the length of line for a ratio: depth, freeboard and the tide still to rise
// count together.
//
// In:     m; ratio, about 3 to 5 for chain and 7 to 10 for rope (common practice, no source)
// Error:  ErrInput
func Scope(depth, freeboard, rise, ratio float64) (float64, error) {
	if err := cmp.Or(need("the depth", depth, 0, 1e4, "give m"), need("the freeboard", freeboard, 0, 100, "give m"),
		need("the tide to rise", rise, 0, 20, "give m"), need("the scope", ratio, 1, 100, "give 1 or more")); err != nil {
		return 0, err
	}
	return (depth + freeboard + rise) * ratio, nil
}

// Swing is the radius of the circle that her far end sweeps, m: the span of the line pulled
// straight, the widest that it can be, and her length.
//
// Error:  ErrInput
// Source: Pythagoras
func Swing(height, line, length float64) (float64, error) {
	if err := cmp.Or(need("the height from ground to fitting", height, 0, 1e4, "give m"),
		need("the length of line", line, height, 1e5, "give the height or more"),
		need("the boat's length", length, 0, 1e3, "give m")); err != nil {
		return 0, err
	}
	return math.Sqrt(line*line-height*height) + length, nil
}

// holding is the horizontal load on an anchor by length overall: feet, then pounds at 15, 30
// and 42 knots. Source: ABYC H-40 as copied at mantusmarine.com and waterwayguide.com.
//
// TRAP: the copies disagree for 20 to 25 ft in strong winds, another copy has 45 and 60 kn for
// the same hulls, and only from 15 to 30 knots do the figures grow as the wind squared.
var holding = [...][4]float64{
	{20, 90, 360, 500}, {25, 125, 490, 720}, {30, 175, 700, 1400}, {35, 225, 900, 1800},
	{40, 300, 1200, 2400}, {50, 400, 1600, 3200}, {60, 500, 2000, 4000},
}

// HoldingLoad is the load that an anchor is to hold.
//
// In:     length overall m; wind m/s
// Out:    N: the 30-knot column by the square of the wind; the ends are that and what the table
// prints for the wind, which in strong winds is less. It is for power and sailing boats of the
// length, beamier and higher than a rowing boat
// Error:  ErrInput
// Source: ABYC H-40, straight between lengths and, for the print, winds
func HoldingLoad(length, wind float64) (Bounds, error) {
	if err := cmp.Or(need("the length overall", length, 1, 60*Foot, "give up to 18.3 m"),
		need("the wind", wind, 0, 60*Knot, "give up to 31 m/s")); err != nil {
		return Bounds{}, err
	}
	feet := length / Foot
	out := Bounds{}
	if feet < holding[0][0] {
		out.Outside = fmt.Sprintf("the table begins at %.1f m; her load is taken from there", holding[0][0]*Foot)
		feet = holding[0][0]
	}
	i := 1
	for i < len(holding)-1 && feet > holding[i][0] {
		i++
	}
	a, b := holding[i-1], holding[i]
	f := math.Min(1, (feet-a[0])/(b[0]-a[0]))
	at := func(k int) float64 { return (a[k] + f*(b[k]-a[k])) * Force }
	knots := wind / Knot
	square := at(2) * knots * knots / 900
	print := square
	switch {
	case knots <= 15:
		print = at(1) * knots * knots / 225
	case knots <= 30:
		print = at(1) + (at(2)-at(1))*(knots*knots-225)/(900-225)
	case knots <= 42:
		print = at(2) + (at(3)-at(2))*(knots*knots-900)/(1764-900)
	default:
		out.Outside = "the table ends at 42 knots"
		print = at(3)
	}
	out.Value, out.Low, out.High = square, math.Min(square, print), math.Max(square, print)
	return out, nil
}
