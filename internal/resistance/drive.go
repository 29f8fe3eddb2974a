package resistance

import "fmt"

// Drive is what pushes her: the mean thrust over whole strokes by the speed through the water, N; astern as at rest. How oars
// make it is no part of this package: one model of the stroke serves for the fit, the effort and the speed.
type Drive func(v float64) Force

// Idle is no drive: nobody rows.
func Idle(float64) Force { return Force{} }

// drives is nil where there is a drive whose thrust at rest is a number.
func drives(d Drive) error {
	if d == nil {
		return fmt.Errorf("%w: nothing drives her; give a thrust by speed, or Idle", ErrInput)
	}
	return within("the thrust at rest", d(0).Value, -1e6, 1e6, "N")
}
