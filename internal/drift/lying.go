package drift

import (
	"cmp"
	"math"

	"thole/internal/heading"
)

// BeamOn is the drift of what is as slippery to wind and water from either side and neither
// turns nor forges ahead: the balance of two square laws.
//
// In:     wind m/s where the windage is; drag areas in air and water, coefficient times m2;
// densities kg/m3
// Out:    m/s
// Error:  ErrInput
// Source: rho_a CdA_a (W - v)2 = rho_w CdA_w v2, so v = W k / (1 + k), k2 = the ratio; closed form
func BeamOn(wind, inAir, inWater, air, water float64) (float64, error) {
	if err := cmp.Or(need("the wind", wind, 0, 150, "give 0 to 150 m/s"),
		need("the drag area in the wind", inAir, 0, 1e5, "give m2"),
		need("the drag area in the water", inWater, 1e-9, 1e5, "give more than 0 m2"),
		need("the density of air", air, 0.1, 10, "give about 1.2 kg/m3"),
		need("the density of water", water, 100, 2000, "give about 1025 kg/m3")); err != nil {
		return 0, err
	}
	k := math.Sqrt(air * inAir / (water * inWater))
	return wind * k / (1 + k), nil
}

// Lying is how she drifts, left alone, at one of the angles at which she lies.
type Lying struct {
	heading.LieRange
	Among Standing // of her middle speed
	// Steady is the pull on the line of the device that she lies to, N; nothing without one.
	Steady Bounds
}

// Left is how she drifts with nobody at the oars, the wind on the starboard side.
//
// In:     the boat, her towed things as they are; wind in m/s at 10 m; doubts, heading.Doubts()
// Out:    one for each stable angle
// Error:  as heading.Lies
func Left(b heading.Boat, wind float64, doubts []heading.Doubt) ([]Lying, error) {
	lies, err := heading.Lies(b, wind, heading.Control{}, doubts)
	if err != nil {
		return nil, err
	}
	var out []Lying
	for _, l := range lies {
		s, err := Among(l.Speed.Value, wind)
		if err != nil {
			return nil, err
		}
		out = append(out, Lying{LieRange: l, Among: s})
	}
	return out, nil
}

// To is how she lies to a sea anchor or behind a drogue.
//
// In:     the boat without it; the device; x m aft of station 0 of the fitting its line leaves:
// that at the bow for a sea anchor, at the stern for a drogue
// Out:    one for each stable angle; the steady pull has the device's own doubt in it
// Error:  as heading.Lies
func To(b heading.Boat, wind float64, d Device, x float64, doubts []heading.Doubt) ([]Lying, error) {
	area, err := d.DragArea()
	if err != nil {
		return nil, err
	}
	water := b.Water
	if water == 0 {
		water = heading.SeaWater
	}
	with := func(area float64) heading.Boat {
		c := b
		c.Towed = append(append([]heading.Towed(nil), b.Towed...), heading.Towed{X: x, DragArea: area})
		return c
	}
	out, err := Left(with(area.Value), wind, doubts)
	if err != nil {
		return nil, err
	}
	small, err := Left(with(area.Low), wind, nil)
	if err != nil {
		return nil, err
	}
	large, err := Left(with(area.High), wind, nil)
	if err != nil {
		return nil, err
	}
	pull := func(a, v float64) float64 { return water / 2 * a * v * v }
	for i := range out {
		l := &out[i]
		l.Steady = Bounds{Value: pull(area.Value, l.Speed.Value), Low: pull(area.Value, l.Speed.Low), High: pull(area.Value, l.Speed.High)}
		// The device's own doubt goes into the drift as one share more, and hardly into the pull,
		// which is what the wind makes it.
		if s, f := nearest(large, l.From.Value), nearest(small, l.From.Value); s != nil && f != nil {
			l.Speed.Shares = append(l.Speed.Shares, heading.Share{Name: "the device's drag", Low: f.Speed.Value, High: s.Speed.Value})
			l.Speed.Low = l.Speed.Value - math.Hypot(l.Speed.Value-l.Speed.Low, math.Max(0, l.Speed.Value-s.Speed.Value))
			l.Speed.High = l.Speed.Value + math.Hypot(l.Speed.High-l.Speed.Value, math.Max(0, f.Speed.Value-l.Speed.Value))
			for _, p := range []float64{pull(area.High, s.Speed.Value), pull(area.Low, f.Speed.Value)} {
				l.Steady.Low, l.Steady.High = math.Min(l.Steady.Low, p), math.Max(l.Steady.High, p)
			}
		}
	}
	return out, nil
}

// nearest is the lying at the angle next to one; nil for none.
func nearest(all []Lying, from float64) *Lying {
	var best *Lying
	for i := range all {
		if best == nil || math.Abs(all[i].From.Value-from) < math.Abs(best.From.Value-from) {
			best = &all[i]
		}
	}
	return best
}
