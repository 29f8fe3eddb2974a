// Package heading works out where a boat points and how she slides: where she lies
// when left alone in a wind, what rudder, board or uneven oars must do to hold her on a
// course, which courses they can hold, and her leeway.
//
// The model is a steady balance of surge, sway and yaw in the plane of the water:
//
//   - wind on what stands above the water, part by part: drag by the shape coefficients
//     of the IMO MODU Code, oblique winds by Blendermann's cross-force parameter and his
//     shift of the centre of pressure towards the windward end, and the wind's growth with
//     height;
//   - water on the hull: the surge resistance that the caller gives; the flow past the
//     forebody at a drift angle by slender-body theory (Munk's moment and Jones's lift are
//     its two sums), cut off where the flow leaves the afterbody after Hopkins, NACA RM
//     A51C14; cross-flow drag of every station by Hoerner's curve;
//   - water on rudder and board: lift and drag after Whicker and Fehlner up to the stall
//     and of a flat plate beyond it;
//   - oars even or uneven, and towed things such as a sea anchor.
//
// This is the least certain answer of all that the program gives. The two greatest
// moments, the wind's and the water's, nearly cancel, and neither is known to better than
// a quarter; so each answer is to be run through Vary, which moves every doubtful
// coefficient to its ends, and to be told as a range.
//
// What is not looked at: waves (which push her downwind, turn her beam-on and roll the
// rudder out), heel, the lee of a crest, yawing to and fro about a rest, the oars' drag
// while they lie in the water, and current (all speeds are through the water).
//
// SI and radians. Places along the boat are x aft of station 0, as in the boat's frame.
// Speeds are ahead and to starboard, moments turn the bow to starboard, and a wind's angle
// is where it comes from: 0 from ahead, a quarter turn from the starboard beam.
package heading

import (
	"errors"
	"fmt"
	"math"
)

const (
	// SeaWater is the density of sea water taken where none is given, kg/m3 (a convention).
	SeaWater = 1025.0
	// Air is the density of air taken where none is given, kg/m3 (ICAO standard atmosphere at 15 C).
	Air = 1.225
)

// Errors, to be told apart with errors.Is; what is returned also names the thing, what
// was given and the mend.
var (
	ErrInput       = errors.New("this cannot be worked out as given")
	ErrUnconverged = errors.New("no steady state was found")
	ErrNotKept     = errors.New("she cannot be kept on this course")
)

// finite tells whether a number is one.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// need refuses a number outside its limits.
func need(what string, v, least, most float64, mend string) error {
	if finite(v) && v >= least && v <= most {
		return nil
	}
	return fmt.Errorf("%w: %s is %g; %s", ErrInput, what, v, mend)
}

// wrap brings an angle to (-pi, pi].
func wrap(a float64) float64 {
	a = math.Remainder(a, 2*math.Pi)
	if a <= -math.Pi {
		return math.Pi
	}
	return a
}

// clamp keeps a number between two others.
func clamp(v, lo, hi float64) float64 { return math.Max(lo, math.Min(hi, v)) }
