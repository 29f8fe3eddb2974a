package rowing

import (
	"cmp"
	"math"
)

// Pace is how a person strokes for hours.
type Pace struct {
	Rate  float64 // strokes a minute that are kept while she moves freely
	Share float64 // of the cycle that the drive takes at most
	Most  float64 // N, the hardest mean pull at the handles
}

// Hours is the pace kept for hours in a heavy boat.
//
// Source: rates of 18 to 22 a minute in heavy boats, common practice, no source; the drive at most 45 % of the cycle at low rates,
// published rhythm tables, from memory; the pull as the cautions of a Pull
func Hours() Pace { return Pace{Rate: 20, Share: 0.45, Most: handleAllDay} }

// Steady is the stroke of a power kept for hours at any speed. At a free speed the rate is the pace's. Where the drive would then take
// too much of the cycle (a slow boat, a strong head wind) the rower strokes slower and pulls harder; and where the pull would then
// be too hard, pulls as hard as may be and gives less than the power. So the thrust at rest is finite.
//
// In:     power in W at the handles, above 0; speed in m/s, astern as at rest
// Out:    Power of the pull is what is really given
// Error:  ErrInput
func (b Blades) Steady(power, speed float64, p Pace) (Pull, error) {
	speed = math.Max(0, speed)
	if err := cmp.Or(b.valid(), within("the power", power, 1e-3, 3000, "W"), within("the rate", p.Rate, 4, 60, "a minute"), within("the speed", speed, 0, 10, "m/s"),
		within("the drive's share", p.Share, 0.1, 0.9, ""), within("the hardest pull", p.Most, 1, 3000, "N")); err != nil {
		return Pull{}, err
	}
	run := b.HandArm * (b.Catch + b.Finish)
	force := func(rate float64) float64 { return power * 60 / (rate * run) }
	share := func(force, rate float64) float64 {
		_, seconds := b.drive(speed, b.slip(force*b.HandArm/b.BladeArm, b.coefficient().Value))
		return seconds * rate / 60
	}
	rate := p.Rate
	if share(force(rate), rate) > p.Share { // slower and harder shortens the drive's share twice over
		low, high := 1e-3, rate
		for range 40 {
			if m := (low + high) / 2; share(force(m), m) > p.Share {
				high = m
			} else {
				low = m
			}
		}
		rate = low
	}
	f := force(rate)
	if f > p.Most {
		f = p.Most
		rate = math.Min(p.Rate, rate*p.Share/math.Max(share(f, rate), 1e-9))
	}
	return b.pull(f, rate, speed)
}
