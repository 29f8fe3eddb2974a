package planks

import (
	"errors"
	"math"

	"thole/internal/fairing"

	"gonum.org/v1/gonum/spatial/r3"
)

// ErrSurface is a surface that no piece can be taken from.
var ErrSurface = errors.New("the surface has no length or no girth to take planks from")

// skin is a half surface over two shares: u along every thread from its own fore end to
// its aft one, and v across, the number of the thread (its fractions lie between two). A row
// of constant u therefore runs down the stem, and no piece of it shrinks to nothing there.
type skin struct {
	surface *fairing.Surface
	corners []int
	from    []float64 // least x of each thread
	to      []float64
	y, z    []fairing.Spline // of each thread over u
	stops   []float64
	fore    bool // the threads run on past the first station, on to a stem
	aft     bool
}

// skinSteps is how many places of each thread are taken from the surface. They crowd at
// the ends, where a thread may meet the stem square: the error between them, of fourth
// order, is some hundredths of a millimetre on a boat.
const skinSteps = 96

func newSkin(s *fairing.Surface) (*skin, error) {
	k := &skin{surface: s, corners: s.Corners(), stops: s.Stations()}
	a, b := s.Ends()
	if !(b-a > 1e-6) || len(k.corners) < 2 || len(k.stops) < 2 {
		return nil, ErrSurface
	}
	first, last := k.stops[0], k.stops[len(k.stops)-1]
	k.fore, k.aft = first-a > 1e-6, b-last > 1e-6
	n := k.corners[len(k.corners)-1] + 1
	for i := range n {
		from, to := a, b
		if k.fore {
			from = k.begins(i, a, first)
		}
		if k.aft {
			to = k.begins(i, b, last)
		}
		k.from, k.to = append(k.from, from), append(k.to, to)
	}
	u := make([]float64, skinSteps+1)
	for j := range u {
		u[j] = float64(j) / skinSteps
	}
	for i := range n {
		y, z := make([]float64, len(u)), make([]float64, len(u))
		for j := range u {
			p := s.Half(k.from[i] + eased(u[j])*(k.to[i]-k.from[i]))[i]
			y[j], z[j] = p.Y, p.Z
		}
		if k.fore {
			y[0] = 0
		}
		if k.aft {
			y[len(y)-1] = 0
		}
		k.y, k.z = append(k.y, fairing.NewSpline(u, y)), append(k.z, fairing.NewSpline(u, z))
	}
	return k, nil
}

// eased spreads the places along a thread so that they crowd at its ends.
func eased(u float64) float64 { return (1 - math.Cos(math.Pi*u)) / 2 }

// begins is where a thread leaves the profile, between its end and the outermost station.
func (k *skin) begins(thread int, end, station float64) float64 {
	if thread == 0 {
		return station // the keel line becomes the stem there
	}
	out, in := end, station
	if !k.there(thread, in) {
		return in
	}
	for range 48 {
		if mid := (out + in) / 2; k.there(thread, mid) {
			in = mid
		} else {
			out = mid
		}
	}
	return in
}

// there tells whether a thread reaches x: past its end the surface puts its point on the
// profile, or on the thread below it where the profile is hollow.
func (k *skin) there(thread int, x float64) bool {
	half := k.surface.Half(x)
	return half[thread].Y > 0 && half[thread] != half[thread-1]
}

// whole is the x nearest to an end's place at which every thread of a stretch that ends higher on the
// profile is there: the place itself on a raked stem, a little inside it on a hollow one.
func (k *skin) whole(c int, p r3.Vec, fore bool) float64 {
	x, u := p.X, 0.0
	if !fore {
		u = 1
	}
	for i := k.corners[c]; i <= k.corners[c+1]; i++ {
		switch {
		case k.z[i].At(u) <= p.Z:
		case fore:
			x = math.Max(x, k.from[i])
		default:
			x = math.Min(x, k.to[i])
		}
	}
	return x
}

// across is a curve over v, sharp at the corners.
type across struct {
	x, y, z []fairing.Spline // one for each stretch
}

func newAcross(corners []int, p []r3.Vec) *across {
	c := &across{}
	for i := 1; i < len(corners); i++ {
		var t, x, y, z []float64
		for j := corners[i-1]; j <= corners[i]; j++ {
			t, x, y, z = append(t, float64(j)), append(x, p[j].X), append(y, p[j].Y), append(z, p[j].Z)
		}
		c.x, c.y, c.z = append(c.x, fairing.NewSpline(t, x)), append(c.y, fairing.NewSpline(t, y)), append(c.z, fairing.NewSpline(t, z))
	}
	return c
}

// row is the curve of the skin at a constant u.
func (k *skin) row(u float64) *across {
	p := make([]r3.Vec, len(k.from))
	e := eased(u)
	for i := range p {
		p[i] = r3.Vec{X: k.from[i] + e*(k.to[i]-k.from[i]), Y: k.y[i].At(u), Z: k.z[i].At(u)}
	}
	return newAcross(k.corners, p)
}

// look reads a rising table between its lines.
func look(x, y []float64, at float64) float64 {
	lo, hi := 0, len(x)-1
	for hi-lo > 1 {
		if m := (lo + hi) / 2; x[m] <= at {
			lo = m
		} else {
			hi = m
		}
	}
	if x[hi] == x[lo] {
		return y[lo]
	}
	f := math.Min(math.Max((at-x[lo])/(x[hi]-x[lo]), 0), 1)
	return y[lo] + f*(y[hi]-y[lo])
}
