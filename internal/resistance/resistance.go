// Package resistance is what holds a rowed boat back and what drives her: skin friction with paint and
// growth, form, wave making by Michell's integral on the real hull, appendages, air and seas;
// and, with a thrust by speed that the caller gives, her speed and the head wind that stops her.
//
// Metres, newtons, watts, seconds, radians; x aft, depths below the water downwards. Angles of wind and sea
// are where they come from, off the bow: 0 ahead, pi astern. Speeds are through the water.
// Every force carries a spread: the half width of the range that should hold it 19 times in 20.
//
// What is least sure, worst first: the added drag in waves (a rule made for ships, a factor of two), the growth
// on her bottom by days (a modelling choice), wave
// making of a hull this beamy (thin-ship theory), and laminar patches on a clean bow, which nothing here knows of.
//
// Sources: ITTC-57 (friction line), Michell (1898) (waves), Holtrop & Mennen (1982) (form), Schultz (2007)
// (growth), ITTC STAwave-2 (seas), Hoerner (1965) (appendages). Those marked from memory in the code are to be
// checked against your own copy.
package resistance

import (
	"cmp"
	"errors"
	"fmt"
	"math"
)

// Gravity is the standard acceleration of free fall, m/s².
const Gravity = 9.80665

// ErrInput is a figure that no answer can be made from; the error says which and how to mend it.
var ErrInput = errors.New("this cannot be worked with")

// Force is a force along the boat and how well it is known, both in newtons; positive holds her back.
type Force struct {
	Value  float64 // N
	Spread float64 // N, half width of the 19-in-20 range
}

// plus is the sum of two forces whose doubts have nothing to do with each other.
func (f Force) plus(g Force) Force {
	return Force{f.Value + g.Value, math.Hypot(f.Spread, g.Spread)}
}

// Water is what she floats in.
type Water struct {
	Density   float64 // kg/m³
	Viscosity float64 // kinematic, m²/s
}

// seaViscosity is the kinematic viscosity of sea water of 3.5 % salt at 0, 5, ... 30 degrees Celsius, 1e-6 m²/s.
//
// Source: ITTC table of water properties (10th ITTC, 1963), from memory
var seaViscosity = [...]float64{1.8284, 1.5614, 1.3538, 1.1883, 1.0537, 0.9425, 0.8493}

// SeaAt is sea water of a temperature, at the density given.
//
// In:     degrees Celsius, held to 0..30; density in kg/m³
// Good to: 1 % of the viscosity between the table's temperatures
func SeaAt(celsius, density float64) Water {
	last := len(seaViscosity) - 1
	at := math.Max(0, math.Min(celsius/5, float64(last)))
	i := min(int(at), last-1)
	if math.IsNaN(celsius) {
		return Water{Density: density, Viscosity: math.NaN()} // refused where it is used
	}
	f := at - float64(i)
	a, b := math.Log(seaViscosity[i]), math.Log(seaViscosity[i+1])
	return Water{Density: density, Viscosity: 1e-6 * math.Exp(a+f*(b-a))}
}

// check is nil where the water is water.
func (w Water) check() error {
	return cmp.Or(within("the water's density", w.Density, 500, 2000, "kg/m3"),
		within("the water's viscosity", w.Viscosity, 1e-7, 1e-4, "m2/s"))
}

// within is an error that names a figure outside its range, or not a number.
func within(what string, v, lo, hi float64, unit string) error {
	if v >= lo && v <= hi {
		return nil
	}
	return fmt.Errorf("%w: %s is %g %s; give %g to %g", ErrInput, what, v, unit, lo, hi)
}
