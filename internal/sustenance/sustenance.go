// Package sustenance is the food and the water that rowers need, can take in, carry and make on a
// passage, day by day, and what becomes of their bodies when the one is less than the other.
//
// Energy: resting metabolism by published equations; the work at the oars by power, hours and a
// published efficiency; the total brought to what was measured on ocean rowers, since sums of
// activities come out 40 to 70 per cent too high for long days (TestTableIsTooHigh). What is eaten is
// the least of what is packed, what a stomach takes at sea, and what sickness leaves. What is missing
// comes off the body: two stores, fat and lean, in the shares that Forbes found.
//
// Water: the sweat that a published heat balance asks for, breath, skin, urine, less what the burnt
// food makes and holds; carried, made by a machine or by hand. Sealed reserve and ballast are kept
// apart and never drawn on here.
//
// Time: how many days the stores last, the chance that this is enough for a given spread of arrival
// days, and the least cut of rations that makes them last.
//
// Every figure comes with a spread, the half width of the range that holds 19 in 20, because the
// people differ more than the formulas. What is not looked at: illness but for seasickness in the
// first days, salt and vitamins, cold water on the skin, the will to eat.
//
// Frame: SI, but hours and days where people count in them; water in kilograms, one to a litre; air
// in degrees Celsius; energy in joules.
package sustenance

import (
	"errors"
	"fmt"
	"math"
)

// ErrInput is wrapped by what names the thing, what was given and the mend.
var ErrInput = errors.New("sustenance: cannot be")

// Units of energy and time.
const (
	Kilocalorie = 4184.0  // joules, thermochemical, exact
	Hour        = 3600.0  // seconds
	Day         = 86400.0 // seconds
)

// Value is a number and the half width of its 19-in-20 range, in the same unit.
type Value struct{ Value, Spread float64 }

// times scales a value with its spread.
func (v Value) times(f float64) Value { return Value{v.Value * f, v.Spread * math.Abs(f)} }

// Low and High are the ends of the 19-in-20 range.
func (v Value) Low() float64 { return v.Value - v.Spread }

// High is the upper end of the 19-in-20 range.
func (v Value) High() float64 { return v.Value + v.Spread }

// within checks one input; what says what it is and where.
func within(what string, v, low, high float64, unit string) error {
	if v >= low && v <= high {
		return nil
	}
	return fmt.Errorf("%w: %s is %g %s; give %g to %g %s", ErrInput, what, v, unit, low, high, unit)
}

// valued checks a value and its spread.
func valued(what string, v Value, low, high float64, unit string) error {
	return first(within(what, v.Value, low, high, unit), within("the spread of "+what, v.Spread, 0, high-low, unit))
}

// first is the first error of a list.
func first(errs ...error) error {
	for _, e := range errs {
		if e != nil {
			return e
		}
	}
	return nil
}

// clamp keeps a number within two others.
func clamp(x, low, high float64) float64 { return math.Max(low, math.Min(high, x)) }
