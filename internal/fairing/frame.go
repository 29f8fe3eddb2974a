package fairing

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Frame is the skin at one place of one thread.
type Frame struct {
	P r3.Vec
	// Below and Above are the outward unit normals on the side towards the keel and
	// on the side towards the sheer; they differ at a knuckle only.
	Below, Above r3.Vec
}

// Frames are the skin's places and normals at x, thread by thread from keel to sheer.
//
// Good to: the normal, third order in the spacing of the threads
func (s *Surface) Frames(x float64) []Frame {
	half := s.Half(x)
	dy, dz := s.slope(x)
	out := make([]Frame, len(half))
	for k, p := range half {
		out[k].P = r3.Vec{X: x, Y: p.Y, Z: p.Z}
	}
	for c := 1; c < len(s.corner); c++ {
		from, to := s.corner[c-1], s.corner[c]
		t := make([]float64, 0, to-from+1)
		y, z := make([]float64, 0, to-from+1), make([]float64, 0, to-from+1)
		index := make([]int, 0, to-from+1)
		for k := from; k <= to; k++ {
			if n := len(t); n > 0 {
				d := math.Hypot(half[k].Y-y[n-1], half[k].Z-z[n-1])
				if d < 1e-9 {
					continue
				}
				t = append(t, t[n-1]+d)
			} else {
				t = append(t, 0)
			}
			y, z, index = append(y, half[k].Y), append(z, half[k].Z), append(index, k)
		}
		if len(t) < 2 {
			continue
		}
		sy, sz := NewSpline(t, y), NewSpline(t, z)
		for i, k := range index {
			_, ty, _ := sy.Derivatives(t[i])
			_, tz, _ := sz.Derivatives(t[i])
			n := r3.Cross(r3.Vec{Y: ty, Z: tz}, r3.Vec{X: 1, Y: dy[k], Z: dz[k]})
			if l := r3.Norm(n); l > 0 {
				n = r3.Scale(1/l, n)
			}
			if i > 0 || k > from {
				out[k].Below = n
			}
			if i < len(index)-1 {
				out[k].Above = n
			}
		}
	}
	for k := range out {
		if out[k].Below == (r3.Vec{}) {
			out[k].Below = out[k].Above
		}
		if out[k].Above == (r3.Vec{}) {
			out[k].Above = out[k].Below
		}
	}
	return out
}
