// Package hydraulics works out how fast water leaves a well through its drains,
// comes into a compartment through a hole or a hatch, and is pumped out again.
//
// Everything is SI: metres, square and cubic metres, seconds, cubic metres a second;
// heads are metres of the water that flows, and heights are measured up from any
// datum, so long as it is the same one for the basin, its openings and the sea.
//
// The building stones, from the small to the large:
//
//   - Orifice, Weir, Submerged and the closed forms for a tank of straight sides;
//   - Opening: one drain, slot, hole or hatch, with its tube and its flap;
//   - Basin: how much water stands at which level;
//   - Draining: a basin, its openings, the sea outside and perhaps a pump: where the
//     water comes to rest, and how long that takes; Equalise for two basins;
//   - Hose, HandPump, ElectricPump: what a pump gives through its hose at a height;
//   - Yardstick: what published rules ask, beside what is had.
//
// What is not looked at: the boat's motion (water that surges to one end leaves faster
// and slower by turns), waves that top the well up again, air that cannot get out of a
// closed compartment (it would slow the filling, so the times here are short ones), the
// speed with which the water arrives at the opening, and surface tension in slots of a
// few millimetres.
package hydraulics

import (
	"errors"
	"fmt"
	"math"
)

// G is the standard acceleration of gravity in m/s2 (exact by definition,
// 3rd General Conference on Weights and Measures, 1901).
const G = 9.80665

// root2G is the square root of 2 g: a head's root times this is its speed.
var root2G = math.Sqrt(2 * G)

// Errors, to be told apart with errors.Is; what is returned also names the thing, what
// was given and the mend.
var (
	ErrInput       = errors.New("this cannot be worked out as given")
	ErrOutside     = errors.New("the level lies outside the basin")
	ErrUnconverged = errors.New("the sum did not settle")
)

// finite tells whether a number is one.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// positive refuses what is not a number greater than nothing.
func positive(what string, v float64, unit string) error {
	if v > 0 && finite(v) {
		return nil
	}
	return fmt.Errorf("%w: %s is %g; give more than 0 %s", ErrInput, what, v, unit)
}

// notNegative refuses what is not a number, or less than nothing.
func notNegative(what string, v float64, unit string) error {
	if v >= 0 && finite(v) {
		return nil
	}
	return fmt.Errorf("%w: %s is %g; give 0 %s or more", ErrInput, what, v, unit)
}

// number refuses what is not a number.
func number(what string, v float64) error {
	if finite(v) {
		return nil
	}
	return fmt.Errorf("%w: %s is %g; give a height in metres", ErrInput, what, v)
}
