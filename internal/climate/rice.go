package climate

import (
	"math"

	"thole/internal/weather"
)

// The wind of an hour is taken as the mean wind and a part that is normal and alike in all
// directions (a modelling choice). The mean of its speed is then Rice's (package weather), from which
// the spread that gives the scalar mean follows.

// sigmas is sigma over the scalar mean, against the root of one less the steadiness, in which it
// is nearly a straight line.
var sigmas = func() (t [513]float64) {
	for i := range t {
		q := float64(i) / float64(len(t)-1)
		t[i] = weather.Sigma(1-q*q, 1)
	}
	return t
}()

// Sigma is the spread of the east and of the north part of the wind that makes the mean speed
// what it is.
//
// In:     length of the mean vector, scalar mean, both >= 0, one unit
// Out:    sigma in that unit; 0 where the scalar mean is not more than the vector's length
// Good to: 1e-6 of the scalar mean against weather.Sigma (TestRice), and some hundred times as fast
func Sigma(mean, scalar float64) float64 {
	if !(scalar > 0) || !(mean < scalar) {
		return 0
	}
	x := math.Sqrt(1-math.Max(0, mean)/scalar) * float64(len(sigmas)-1)
	i := min(int(x), len(sigmas)-2)
	f := x - float64(i)
	return scalar * (sigmas[i]*(1-f) + sigmas[i+1]*f)
}

// Steadiness is how much of the wind's run goes one way: length of the mean vector over the
// scalar mean, 0 to 1; 0 where there is no wind.
func Steadiness(u, v, scalar float64) float64 {
	if !(scalar > 0) {
		return 0
	}
	return math.Min(1, math.Hypot(u, v)/scalar)
}
