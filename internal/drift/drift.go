// Package drift works out how a boat drifts when nobody rows: beam-on, held by a sea
// anchor or slowed by a drogue; what the line must bear; and how she lies to an anchor.
//
// Lying is heading's balance of wind and water, with the device as one more drag at its
// fitting, and is set beside the published leeway of things adrift. Those were measured in
// real seas: what the waves and the wind-driven skin of the sea add is in them and is not in
// heading's balance, so that they bound it and do not merely check it.
//
// What is not looked at: waves, but for Jordan's design load; chafe, which cuts more lines
// than load; the line's stretch; a fouled or collapsed parachute; the strength of the deck
// under a fitting; the ground an anchor lies in.
//
// SI and radians; winds are at 10 m unless they say knots.
package drift

import (
	"errors"
	"fmt"
	"math"
)

// Units that the published tables are in.
const (
	Knot  = 1852.0 / 3600   // m/s, exact
	Foot  = 0.3048          // m, exact
	Pound = 0.45359237      // kg, exact
	Force = Pound * gravity // N in a pound-force, exact
)

const gravity = 9.80665 // m/s2, exact by definition

// ErrInput is wrapped by what names the thing, what was given and the mend.
var ErrInput = errors.New("this cannot be worked out as given")

// need refuses a number outside its limits.
func need(what string, v, least, most float64, mend string) error {
	if v >= least && v <= most && !math.IsNaN(v) {
		return nil
	}
	return fmt.Errorf("%w: %s is %g; %s", ErrInput, what, v, mend)
}

// Bounds is a figure with the ends between which it lies.
type Bounds struct {
	Value, Low, High float64
	// Outside says that the published range was left, and how.
	Outside string
}
