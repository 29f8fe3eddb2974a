package resistance

import (
	"fmt"
	"math"
)

// Wavemaking is a hull's wave resistance over the water's density by speed, worked out once. It does not change.
type Wavemaking struct{ track }

// Wavemaking runs Michell's integral at about a hundred speeds.
func (h *Hull) Wavemaking() *Wavemaking {
	// The curve of the wave resistance swings once as g L / v² grows by 2 pi: ten speeds a swing while it matters.
	root := math.Sqrt(Gravity * h.Length)
	var v []float64
	for k := 1 / (slowest * slowest); k > 1/(Fastest*Fastest); {
		v = append(v, root/math.Sqrt(k))
		switch {
		case k > 46:
			k -= 2.2
		case k > 12:
			k -= 0.62
		default:
			k *= 0.935
		}
	}
	v = append(v, Fastest*root)
	r := make([]float64, len(v))
	for i := range v {
		r[i] = h.Waves(v[i], 1)
	}
	return &Wavemaking{newTrack(v, r)}
}

// Between is the wave resistance of a hull that lies between others of the same shape at other drafts and trims,
// by the share of each; at its own speeds, those of the hull with the largest share.
//
// In:     shares that add up to 1, none below nothing
// Error:  ErrInput
func Between(of []*Wavemaking, shares []float64) (*Wavemaking, error) {
	if len(of) == 0 || len(of) != len(shares) {
		return nil, fmt.Errorf("%w: %d hulls and %d shares; give a share to each", ErrInput, len(of), len(shares))
	}
	sum, main := 0.0, 0
	for i, s := range shares {
		if of[i] == nil || len(of[i].x) == 0 || !(s >= 0) {
			return nil, fmt.Errorf("%w: share %d is %g of a hull; give each a hull and 0 or more", ErrInput, i+1, s)
		}
		sum += s
		if s > shares[main] {
			main = i
		}
	}
	if math.Abs(sum-1) > 1e-6 {
		return nil, fmt.Errorf("%w: the shares add up to %g; give 1", ErrInput, sum)
	}
	if shares[main] == 1 {
		return of[main], nil
	}
	x := of[main].x
	y := make([]float64, len(x))
	for i, v := range x {
		for k, w := range of {
			if shares[k] > 0 {
				y[i] += shares[k] * w.at(v)
			}
		}
	}
	return &Wavemaking{newTrack(x, y)}, nil
}

// at is the wave resistance over density at a speed of 0 or more.
func (w *Wavemaking) at(v float64) float64 {
	x, y := w.x, w.y
	last := len(x) - 1
	switch {
	case v <= x[0]:
		return y[0] * math.Pow(v/x[0], 6)
	case v >= x[last]:
		return y[last] * (v / x[last]) * (v / x[last])
	}
	return w.track.at(v)
}
