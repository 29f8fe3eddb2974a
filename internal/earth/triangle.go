package earth

import (
	"errors"
	"fmt"
	"math"
)

// ErrCannotHold is a track that the boat cannot make good: the current sets her off it,
// or back along it, whatever she steers.
var ErrCannotHold = errors.New("earth: cannot hold the track")

// Current is a motion over the ground: the direction toward which it sets, and its rate
// in m/s. Leeway may be added to it, as a motion downwind (see Plus).
type Current struct {
	Set, Rate float64
}

// Plus is two motions together.
func (c Current) Plus(d Current) Current {
	ce, cn := c.parts()
	de, dn := d.parts()
	return motion(ce+de, cn+dn)
}

func (c Current) parts() (east, north float64) {
	s, cos := math.Sincos(c.Set)
	return c.Rate * s, c.Rate * cos
}

func motion(east, north float64) Current {
	return Current{Turn(math.Atan2(east, north)), math.Hypot(east, north)}
}

// Steered is the answer of the current triangle. Angles in radians, speeds in m/s.
type Steered struct {
	Heading float64 // to steer
	Track   float64 // made good over the ground
	Ground  float64 // speed over the ground along the track
	Needs   float64 // the least speed through the water that would hold the track wanted (just more than this)
}

// MadeGood is the track and speed over the ground on a heading.
func MadeGood(heading, speed float64, c Current) (track, ground float64) {
	e, n := c.parts()
	s, cos := math.Sincos(heading)
	m := motion(e+speed*s, n+speed*cos)
	return m.Set, m.Rate
}

// Steer is what to steer to make good a track, rowing at a speed through the water in a
// current.
//
// Error:  ErrInput; ErrCannotHold, with the reason and the speed it would need. The
// answer then holds the heading that brings the track nearest to the one wanted, and
// that track: it is the best that can be done, not what was asked.
// Good to: rounding
// Source: the triangle of velocities, closed form (any textbook of navigation)
func Steer(track, speed float64, c Current) (Steered, error) {
	if err := first(finite("the track", track), finite("the speed", speed), finite("the set", c.Set), finite("the rate", c.Rate)); err != nil {
		return Steered{}, err
	}
	if speed < 0 {
		return Steered{}, fmt.Errorf("%w: the speed is %g m/s (give 0 or more)", ErrInput, speed)
	}
	off := c.Set - track
	across, along := c.Rate*math.Sin(off), c.Rate*math.Cos(off) // to the right of the track; along it
	needs := math.Abs(across)
	if along <= 0 { // and she must beat what sets her back
		needs = math.Abs(c.Rate)
	}
	if math.Abs(across) <= speed {
		correct := math.Asin(clamp(-across / speedOr1(speed)))
		if ground := along + speed*math.Cos(correct); ground > 0 {
			return Steered{Turn(track + correct), Turn(track), ground, needs}, nil
		}
	}
	best := nearest(track, speed, c)
	best.Needs = needs
	why := "the current sets her back along it"
	if math.Abs(across) > speed {
		why = "the current sets her off it"
	}
	return best, fmt.Errorf("%w: %s: %.2f m/s through the water against a current of %.2f m/s; it would take more than %.2f m/s", ErrCannotHold, why, speed, c.Rate, needs)
}

// nearest is the heading that brings the track as near as may be to the one wanted, in
// a current that outruns the boat: she can make good only tracks within asin(speed/rate)
// of the set, and the outermost of them by heading square to it.
func nearest(track, speed float64, c Current) Steered {
	if c.Rate < 0 {
		c = Current{c.Set + math.Pi, -c.Rate}
	}
	side := 1. // the wanted track lies to the right of the set
	if math.Sin(track-c.Set) < 0 {
		side = -1
	}
	cone := math.Pi / 2
	if c.Rate > 0 {
		cone = math.Asin(clamp(speed / c.Rate))
	}
	made := c.Set + side*cone
	return Steered{
		Heading: Turn(made + side*math.Pi/2),
		Track:   Turn(made),
		Ground:  math.Sqrt(math.Max(0, c.Rate*c.Rate-speed*speed)),
	}
}

func clamp(x float64) float64 { return math.Max(-1, math.Min(1, x)) }

// speedOr1 keeps a boat that does not move in a current that does not cross from
// dividing nothing by nothing.
func speedOr1(v float64) float64 {
	if v == 0 {
		return 1
	}
	return v
}
