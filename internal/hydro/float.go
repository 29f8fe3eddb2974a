package hydro

import (
	"fmt"
	"math"
)

// Float finds where a body lies free to sink, trim and heel: the stable rest
// that she comes to from upright.
//
// In:     guess, a nearby rest, or nil to start upright
// Out:    a stable rest; heel 180 degrees or less either way
// Error:  ErrNoWeight, ErrSinks, ErrNoBalance
// Good to: residual 1e-10; the heel of a tilted square log to 1e-4 degrees (TestSquareLog)
func Float(b *Body, l Load, sea Sea, guess *Attitude) (Rest, error) {
	if guess != nil { // a nearby rest is good enough to start all three at once
		if target, err := b.target(l, sea); err == nil {
			r := Rest{Attitude: *guess, Solid: target / (target + b.liquid()), Sums: b.Below(guess.Plane())}
			if r, err = settle(b, l, sea, r); err == nil && r.Stiffness(l) > 0 {
				return r, nil
			}
		}
	}
	a := Attitude{}
	if guess != nil {
		a = *guess
	}
	r, err := Hold(b, l, sea, a.Heel, guess)
	if err == nil {
		r, err = settle(b, l, sea, r)
	}
	if err == nil && r.Stiffness(l) > 0 {
		return r, nil
	}
	if err != nil {
		if _, plain := b.target(l, sea); plain != nil {
			return Rest{}, plain
		}
	}
	// Upright is no resting place: walk over to the side she falls to.
	curve, err := NewCurve(b, l, sea)
	if err != nil {
		return Rest{}, err
	}
	best := math.Inf(1)
	var found Rest
	for _, rest := range curve.Rests() {
		if rest.Stable && math.Abs(rest.Heel) < best-1e-9 {
			best, found = math.Abs(rest.Heel), rest.Rest
		}
	}
	if math.IsInf(best, 1) {
		return Rest{}, fmt.Errorf("%w: no heel is stable", ErrNoBalance)
	}
	return found, nil
}

// settle is Newton's method in level, slope and heel at once, from an attitude with its sums.
func settle(b *Body, l Load, sea Sea, r Rest) (Rest, error) {
	var err error
	target := l.Mass / sea.Density
	lo, hi := b.Envelope.Box()
	length := hi[0] - lo[0]
	iterations := r.Iterations
	for range 30 {
		k := r.stiffness(l)
		m := &r.Sums
		s, c := math.Sincos(r.Heel)
		up, across := l.G.Z*c-l.G.Y*s, l.G.Y*c+l.G.Z*s
		f := [3]float64{
			m.Volume - target,
			m.X - m.Volume*l.G.X + r.Slope*(m.Up-m.Volume*up),
			m.Across - m.Volume*across,
		}
		size := math.Max(math.Abs(f[0])/target, math.Max(math.Abs(f[1]), math.Abs(f[2]))/(target*length))
		if size < good {
			r.Iterations, r.Residual = iterations, size
			return r, nil
		}
		d, ok := solve3(k, f)
		if !ok || math.IsNaN(d[2]) {
			return Rest{}, ErrNoBalance
		}
		cap := math.Max(1, math.Max(math.Abs(d[2])/0.15, math.Abs(d[1])/0.15))
		r.Level -= d[0] / cap
		r.Slope -= d[1] / cap
		r.Heel -= d[2] / cap
		if math.Abs(r.Heel) > math.Pi/2 || math.Abs(r.Slope) > steepest {
			return Rest{}, ErrNoBalance
		}
		r.Sums = b.Below(r.Plane())
		if r.Sums.Breadth <= 0 { // lost the water: hold the heel and find it again
			if r, err = Hold(b, l, sea, r.Heel, nil); err != nil {
				return r, err
			}
		}
		iterations++
	}
	return Rest{}, ErrNoBalance
}

// solve3 solves three equations by Cramer's rule.
func solve3(k [3][3]float64, f [3]float64) (x [3]float64, ok bool) {
	det := func(m [3][3]float64) float64 {
		return m[0][0]*(m[1][1]*m[2][2]-m[1][2]*m[2][1]) - m[0][1]*(m[1][0]*m[2][2]-m[1][2]*m[2][0]) + m[0][2]*(m[1][0]*m[2][1]-m[1][1]*m[2][0])
	}
	d := det(k)
	if d == 0 {
		return x, false
	}
	for j := range x {
		m := k
		for i := range m {
			m[i][j] = f[i]
		}
		x[j] = det(m) / d
	}
	return x, true
}
