package climate

import "math"

// The wind of an hour is taken as the mean wind and a part that is normal and alike in all
// directions (a modelling choice). The mean of its speed is then Rice's, from which the spread
// that gives the scalar mean follows.

// RiceMean is the mean speed of a wind whose mean vector has length mean and whose east and north
// part each stray by sigma.
//
// In:     mean and sigma >= 0, one unit
// Out:    the scalar mean, in that unit; NaN in gives NaN out
// Good to: 1e-12 of it (TestRice)
// Source: Rice 1945, Bell System Technical Journal 24, 46: sigma sqrt(pi/2) L(-mean^2/(2 sigma^2)), L the Laguerre function of order 1/2
func RiceMean(mean, sigma float64) float64 {
	if sigma <= 0 || mean/sigma > 1e7 {
		return mean
	}
	y := mean * mean / (4 * sigma * sigma)
	i0, i1 := bessel(y)
	return sigma * math.Sqrt(math.Pi/2) * ((1+2*y)*i0 + 2*y*i1)
}

// bessel is the modified Bessel function of order 0 and 1, each times exp(-y).
//
// Source: Abramowitz & Stegun 9.6.10 (series) and 9.7.1 (large y)
func bessel(y float64) (i0, i1 float64) {
	if y < 30 {
		term, sum0, sum1 := 1.0, 1.0, 1.0
		for k := 1.0; k < 200; k++ {
			term *= y * y / 4 / (k * k)
			sum0 += term
			sum1 += term / (k + 1)
			if term < 1e-17*sum0 {
				break
			}
		}
		e := math.Exp(-y)
		return e * sum0, e * sum1 * y / 2
	}
	large := func(mu float64) float64 {
		term, sum := 1.0, 1.0
		for k := 1.0; k < 40; k++ {
			next := -term * (mu - (2*k-1)*(2*k-1)) / (k * 8 * y)
			if math.Abs(next) >= math.Abs(term) || math.Abs(next) < 1e-17 {
				break
			}
			term = next
			sum += term
		}
		return sum / math.Sqrt(2*math.Pi*y)
	}
	return large(0), large(4)
}

// sigmas is sigma over the scalar mean, against the root of one less the steadiness, in which it
// is nearly a straight line.
var sigmas = func() (t [513]float64) {
	for i := range t {
		q := float64(i) / float64(len(t)-1)
		t[i] = exactSigma(1-q*q, 1)
	}
	return t
}()

// exactSigma finds by halving the sigma with which the scalar mean is what it is.
func exactSigma(mean, scalar float64) float64 {
	if mean >= scalar {
		return 0
	}
	low, high := 0.0, scalar // at no mean wind sigma is 0.8 of the scalar mean, and less with one
	for range 60 {
		if mid := (low + high) / 2; RiceMean(mean, mid) < scalar {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// Sigma is the spread of the east and of the north part of the wind that makes the mean speed
// what it is.
//
// In:     length of the mean vector, scalar mean, both >= 0, one unit
// Out:    sigma in that unit; 0 where the scalar mean is not more than the vector's length
// Good to: 1e-6 of the scalar mean (TestRice)
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
