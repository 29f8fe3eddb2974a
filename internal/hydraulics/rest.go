package hydraulics

import (
	"fmt"
	"math"
)

// Rest is where water that stands at a level comes to rest if left alone: at the sea's
// level, at the sill of the lowest opening, on the bottom, where a pump holds what
// comes in, or at the brim.
//
// In:     level in m, within the basin
// Out:    Good to rounding
// Error:  ErrInput, ErrOutside
func (d Draining) Rest(from float64) (Rest, error) {
	if err := d.Check(); err != nil {
		return Rest{}, err
	}
	b := d.Basin
	if !(from >= b.bottom && from <= b.top) {
		return Rest{}, fmt.Errorf("%w: from %g m; it reaches from %g to %g m", ErrOutside, from, b.bottom, b.top)
	}
	q := d.Flow(from)
	if !finite(q) {
		return Rest{}, fmt.Errorf("%w: the flow at %g m is %g m3/s; look at the pump and the sea", ErrInput, from, q)
	}
	if q == 0 {
		return Rest{Level: from, Volume: b.volume(from), InTime: true}, nil
	}
	end := b.bottom
	if q < 0 {
		end = b.top
	}
	// runs: the water still moves the way it began.
	runs := func(z float64) bool { return d.Flow(z)*q > 0 }
	marks := d.marks(from, end)
	tiny := 1e-13 * (b.top - b.bottom)
	for i := 1; i < len(marks); i++ {
		on, off := marks[i-1], marks[i]
		switch at := d.Flow(off); {
		case !finite(at):
			return Rest{}, fmt.Errorf("%w: the flow at %g m is %g m3/s; look at the pump and the sea", ErrInput, off, at)
		case at*q > 0:
			continue
		}
		inner := off - math.Copysign(tiny, off-on)
		if runs(inner) {
			return d.rest(from, off), nil
		}
		for range 200 {
			m := (on + off) / 2
			if m == on || m == off {
				break
			}
			if runs(m) {
				on = m
			} else {
				off = m
			}
		}
		return d.rest(from, off), nil
	}
	return Rest{Level: end, Volume: b.volume(end), InTime: true, Brim: q < 0}, nil
}

// rest tells whether a rest is reached in time: the flow must not die as fast as the
// distance does, very close by.
func (d Draining) rest(from, level float64) Rest {
	return Rest{Level: level, Volume: d.Basin.volume(level),
		InTime: d.dies(level, (from-level)*1e-9) < 0.99}
}

// dies is the power of the distance from a rest with which the level's speed dies there:
// a half at an orifice, one and a half over a weir, one where a pump holds a hole.
func (d Draining) dies(level, step float64) float64 {
	near := math.Abs(d.Flow(level+step/4)) / math.Max(d.Basin.area(level+step/4), 1e-300)
	far := math.Abs(d.Flow(level+step)) / math.Max(d.Basin.area(level+step), 1e-300)
	if !(near > 0 && far > 0) {
		return math.Inf(1)
	}
	return math.Log(far/near) / math.Log(4)
}

// Levelled is where two basins end.
type Levelled struct {
	Run          Run // the first basin's
	First, Other float64
}

// Equalise is how two basins come level through openings between them, that lie at
// heights measured as the basins are. A flap opens from the first to the other.
//
// In:     the basins and the levels in them, m; the openings
// Out:    the run of the first, to its rest, and both levels at its end
// Error:  ErrInput, ErrOutside when one would overflow, ErrUnconverged
// Good to: as Run; EqualiseTime is its closed form
func Equalise(one Basin, levelOne float64, two Basin, levelTwo float64, openings []Opening) (Levelled, error) {
	if one.area == nil || two.area == nil {
		return Levelled{}, fmt.Errorf("%w: two basins are needed; make them with Box, Areas or Volumes", ErrInput)
	}
	if !(levelTwo >= two.bottom && levelTwo <= two.top) {
		return Levelled{}, fmt.Errorf("%w: the other basin reaches from %g to %g m, not %g m", ErrOutside, two.bottom, two.top, levelTwo)
	}
	all := one.Volume(levelOne) + two.volume(levelTwo)
	full := two.volume(two.top)
	other := func(level float64) float64 {
		z, err := two.Level(math.Max(0, math.Min(full, all-one.volume(level))))
		if err != nil {
			return math.NaN()
		}
		return z
	}
	d := Draining{Basin: one, Openings: openings, Sea: other}
	rest, err := d.Rest(levelOne)
	if err != nil {
		return Levelled{}, err
	}
	if moved := all - rest.Volume; moved > full*(1+1e-9) || moved < -1e-9*full || rest.Brim {
		return Levelled{}, fmt.Errorf("%w: one basin overflows or runs dry before they are level", ErrOutside)
	}
	run, err := d.Run(levelOne, rest.Level)
	return Levelled{Run: run, First: run.To, Other: other(run.To)}, err
}
