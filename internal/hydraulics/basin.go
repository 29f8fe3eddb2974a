package hydraulics

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/interp"
)

// Basin is how much water stands in a well or a compartment at each level.
type Basin struct {
	bottom, top  float64
	breaks       []float64 // levels between which the area is smooth, ends counted
	area, volume func(level float64) float64
}

// Box is a basin of straight sides.
//
// In:     heights of bottom and top in m; area in m2
// Error:  ErrInput
func Box(bottom, top, area float64) (Basin, error) {
	return Areas([]float64{bottom, top}, []float64{area, area})
}

// Areas is a basin by the area of its water surface at some levels, straight between.
//
// In:     levels in m, rising; areas in m2, none negative, not all nothing
// Error:  ErrInput, naming the row
// Good to: rounding: the volume of such a basin is summed exactly
func Areas(levels, areas []float64) (Basin, error) {
	if err := rising(levels, len(areas)); err != nil {
		return Basin{}, err
	}
	sums := make([]float64, len(levels))
	for i, a := range areas {
		if err := notNegative(fmt.Sprintf("row %d: the area", i+1), a, "m2"); err != nil {
			return Basin{}, err
		}
		if i > 0 {
			sums[i] = sums[i-1] + (levels[i]-levels[i-1])*(a+areas[i-1])/2
			if sums[i] <= sums[i-1] {
				return Basin{}, fmt.Errorf("%w: rows %d and %d: no area between %g and %g m; cut the empty end off", ErrInput, i, i+1, levels[i-1], levels[i])
			}
		}
	}
	levels, areas = append([]float64(nil), levels...), append([]float64(nil), areas...)
	at := func(z float64) (int, float64) {
		i := max(0, min(len(levels)-2, sort.SearchFloat64s(levels, z)-1))
		return i, (z - levels[i]) / (levels[i+1] - levels[i])
	}
	return Basin{levels[0], levels[len(levels)-1], levels,
		func(z float64) float64 { i, s := at(z); return areas[i] + s*(areas[i+1]-areas[i]) },
		func(z float64) float64 {
			i, s := at(z)
			return sums[i] + (z-levels[i])*(areas[i]+s*(areas[i+1]-areas[i])/2)
		}}, nil
}

// Volumes is a basin by the volume of water in it at some levels; between them a
// smooth curve that rises wherever the table does, and whose slope is the area.
//
// In:     levels in m, rising; volumes in m3, rising
// Error:  ErrInput, naming the row
// Source: Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5 (1984), as in gonum/interp
func Volumes(levels, volumes []float64) (Basin, error) {
	if err := rising(levels, len(volumes)); err != nil {
		return Basin{}, err
	}
	for i, v := range volumes {
		if !finite(v) || i > 0 && v <= volumes[i-1] {
			return Basin{}, fmt.Errorf("%w: row %d: volume %g m3; the volume must rise with the level", ErrInput, i+1, v)
		}
	}
	var curve interp.FritschButland
	if err := curve.Fit(levels, volumes); err != nil {
		return Basin{}, fmt.Errorf("%w: %w", ErrInput, err)
	}
	v0 := volumes[0]
	return Basin{levels[0], levels[len(levels)-1], append([]float64(nil), levels...),
		curve.PredictDerivative, func(z float64) float64 { return curve.Predict(z) - v0 }}, nil
}

// rising checks the levels of a table.
func rising(levels []float64, rows int) error {
	if len(levels) < 2 || len(levels) != rows {
		return fmt.Errorf("%w: a table of %d levels and %d values; give as many of each, two or more", ErrInput, len(levels), rows)
	}
	for i, z := range levels {
		if !finite(z) || i > 0 && z <= levels[i-1] {
			return fmt.Errorf("%w: row %d: level %g m; the levels must rise", ErrInput, i+1, z)
		}
	}
	return nil
}

// Permeable is the same space with only a share of it open to water.
//
// In:     share, above 0 to 1
// Error:  ErrInput
func (b Basin) Permeable(share float64) (Basin, error) {
	if !(share > 0 && share <= 1) {
		return Basin{}, fmt.Errorf("%w: a permeability of %g; give more than 0, at most 1", ErrInput, share)
	}
	area, volume := b.area, b.volume
	b.area = func(z float64) float64 { return share * area(z) }
	b.volume = func(z float64) float64 { return share * volume(z) }
	return b, nil
}

// Bottom is the height of the lowest place, m.
func (b Basin) Bottom() float64 { return b.bottom }

// Top is the height at which it overflows or is full, m.
func (b Basin) Top() float64 { return b.top }

// Area is the water's surface at a level, m2; below the bottom and above the top, that there.
func (b Basin) Area(level float64) float64 { return b.area(b.within(level)) }

// Volume is the water in it at a level, m3; nothing below the bottom, no more above the top.
func (b Basin) Volume(level float64) float64 { return b.volume(b.within(level)) }

func (b Basin) within(level float64) float64 { return math.Max(b.bottom, math.Min(b.top, level)) }

// Level is the level at which a volume of water stands.
//
// In:     m3, from nothing to the full volume
// Out:    m; Good to rounding
// Error:  ErrOutside
// Source: Newton's method kept between two levels by halving
func (b Basin) Level(volume float64) (float64, error) {
	full := b.volume(b.top)
	if !(volume >= 0 && volume <= full*(1+1e-12)) {
		return 0, fmt.Errorf("%w: it holds 0 to %.4g m3, not %g m3", ErrOutside, full, volume)
	}
	lo, hi := b.bottom, b.top
	z := lo + (hi-lo)*volume/full
	for range 100 {
		miss := b.volume(z) - volume
		if miss > 0 {
			hi = z
		} else {
			lo = z
		}
		next := z - miss/b.area(z)
		if !(next >= lo && next <= hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-z) <= 1e-16*(b.top-b.bottom) || next == z {
			return next, nil
		}
		z = next
	}
	return z, nil
}
