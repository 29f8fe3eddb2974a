// Package rowing is the rower and the oars: which body fits which seat,
// stretcher, gate and oar; how far the oar sweeps and how high the hands are,
// with the boat level, heeled, light or deep; what hits; how much force and
// thrust a stroke makes; and how much power a person gives for hours and weeks.
//
// The model of the body is a chain of rigid segments in the boat's plane of
// symmetry (foot, shank, thigh, trunk) with the arms in space, its lengths the
// published shares of stature (Drillis and Contini 1966). The oar is a straight
// rigid bar on a pin. The blade is a flat plate square to its own motion. All
// of it is geometry and quasi-steady; nothing here knows of waves, of the give
// of an oar, of shoes or of pain.
//
// Frame: x aft from station 0, y to starboard, z up from the base line, metres;
// angles in radians; heel positive to starboard, trim positive by the stern. The
// rower faces aft: at the catch the hands are far aft, at the finish at the body.
//
// Where a result rests on an estimate it comes with a spread: the half width of
// the range that holds 19 in 20. Least sure are how far a person will swing and
// crouch hour after hour, the blade's force coefficient, and the power a person
// keeps for weeks.
package rowing

import (
	"errors"
	"fmt"
	"math"
)

// ErrInput is returned, wrapped with what is wrong and the mend, for an input that cannot be.
var ErrInput = errors.New("rowing: cannot be")

// degree is one degree in radians.
const degree = math.Pi / 180

// Point is a point in the boat's frame, metres.
type Point struct{ X, Y, Z float64 }

// plus, times and minus are the arithmetic of points.
func (p Point) plus(q Point) Point      { return Point{p.X + q.X, p.Y + q.Y, p.Z + q.Z} }
func (p Point) minus(q Point) Point     { return Point{p.X - q.X, p.Y - q.Y, p.Z - q.Z} }
func (p Point) times(f float64) Point   { return Point{p.X * f, p.Y * f, p.Z * f} }
func (p Point) dot(q Point) float64     { return p.X*q.X + p.Y*q.Y + p.Z*q.Z }
func (p Point) length() float64         { return math.Sqrt(p.dot(p)) }
func (p Point) mirrored(s Side) Point   { return Point{p.X, p.Y * float64(s), p.Z} }
func between(x, low, high float64) bool { return x >= low && x <= high }

// Side is the side of the boat on which an oar works.
type Side int

// The two sides.
const (
	Port      Side = -1
	Starboard Side = 1
)

// Value is a number and the half width of its 19-in-20 range, in the same unit.
type Value struct{ Value, Spread float64 }

// within checks one input; name says what and where it is.
func within(name string, v, low, high float64, unit string) error {
	if between(v, low, high) {
		return nil
	}
	return fmt.Errorf("%w: %s is %g %s; give %g to %g %s", ErrInput, name, v, unit, low, high, unit)
}

// clamp keeps a number within two others.
func clamp(x, low, high float64) float64 { return math.Max(low, math.Min(high, x)) }

// falling finds where a rule stops being true: it holds at low and not at high. The
// answer is good to (high - low) / 2^30, far below a millimetre for angles of an oar.
func falling(low, high float64, holds func(float64) bool) float64 {
	for range 30 {
		mid := (low + high) / 2
		if holds(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}
