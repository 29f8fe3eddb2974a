package earth

import (
	"fmt"
	"math"
)

// Off is where a place lies from a line: how far to the right of it (left negative),
// how far along it from its start (behind the start negative), the foot of the
// perpendicular and the line's course there. Lengths in m.
type Off struct {
	Across, Along float64
	Foot          Place
	Course        float64
}

// footRounds bounds the search for a foot; four rounds are usual, a dozen for a place
// nearly a quarter of the earth away. footMet is when it has been met, in m.
const (
	footRounds = 60
	footMet    = 1e-6
)

// OffTrack is how a place lies from the shortest line between two others, drawn on past
// both ends: cross-track and along-track distances.
//
// Error:  ErrInput: a line between places that are one, or a place so near to a quarter
// of the earth away that no foot of the perpendicular can be told from another
// Good to: 1e-6 m along and across, against closed forms on the equator and a search
// for the least distance (TestOffTrackExact, TestOffTrackIsLeast)
// Source: the right spherical triangle at the foot, solved again from each new foot
// with the ellipsoid's own distance and course until nothing is left to move
func (e *Ellipsoid) OffTrack(from, to, at Place) (Off, error) {
	if err := places(from, to, at); err != nil {
		return Off{}, err
	}
	line := e.inverse(from, to)
	if line.Distance == 0 {
		return Off{}, fmt.Errorf("%w: a line from a place to itself has no course", ErrInput)
	}
	return e.offCourse(from, line.Start, at)
}

// offCourse is OffTrack for the line that leaves a place on a course.
func (e *Ellipsoid) offCourse(from Place, start float64, at Place) (Off, error) {
	radius := e.series[0] // of the sphere whose meridian is as long
	foot, course, along := from, start, 0.
	for range footRounds {
		to := e.inverse(foot, at)
		if to.Distance < footMet {
			return Off{0, along, foot, course}, nil
		}
		angle, off := to.Distance/radius, to.Start-course
		sin, cos := math.Sincos(off)
		step := radius * math.Atan2(math.Sin(angle)*cos, math.Cos(angle))
		along += step
		foot, course = e.direct(from, start, along)
		if math.Abs(step) < footMet {
			return Off{math.Copysign(to.Distance, sin), along, foot, course}, nil
		}
	}
	return Off{}, fmt.Errorf("%w: the place lies a quarter of the earth off the line, and has no one nearest point on it", ErrInput)
}

// OffRhumb is how a place lies from the line of constant course between two others,
// drawn on past both ends.
//
// Error:  ErrInput: a line between places that are one, to or from a pole, or a place
// from which no nearest point was met
// Good to: 1e-3 m (TestOffRhumbIsLeast); the nearest point is sought from the first
// guess on a flat Mercator map, and is the one beside it where a long line has several
func (e *Ellipsoid) OffRhumb(from, to, at Place) (Off, error) {
	line, err := e.Rhumb(from, to)
	if err != nil {
		return Off{}, err
	}
	if err := at.Check(); err != nil {
		return Off{}, err
	}
	if line.Distance == 0 || polar(from.Lat) || polar(to.Lat) {
		return Off{}, fmt.Errorf("%w: a line from a place to itself, or to a pole, has no one course", ErrInput)
	}
	sin, cos := math.Sincos(line.Start)
	guess, err := e.Rhumb(from, at)
	if err != nil {
		return Off{}, err
	}
	along := guess.Distance * math.Cos(guess.Start-line.Start)
	for range footRounds {
		foot, err := e.RhumbDirect(from, line.Start, along)
		if err != nil {
			return Off{}, fmt.Errorf("%w: the line runs over a pole before it is abeam of the place", ErrInput)
		}
		v := e.inverse(foot, at)
		forward := math.Cos(v.Start - line.Start)
		step := v.Distance * forward
		if v.Distance < footMet || math.Abs(step) < 1e-4 {
			return Off{v.Distance * (math.Sin(v.Start)*cos - math.Cos(v.Start)*sin), along + step, foot, line.Start}, nil
		}
		// A rhumb line bends toward the pole by tan(lat) sin(course) a radius: Newton's
		// step is the flat one divided by how much nearer that brings the place.
		bend := 1 + v.Distance/e.a*math.Tan(foot.Lat)*sin*math.Sin(v.Start-line.Start)
		if bend < 0.25 {
			bend = 0.25
		}
		along += step / bend
	}
	return Off{}, fmt.Errorf("%w: no nearest point was met: the place is too far off the line", ErrInput)
}
