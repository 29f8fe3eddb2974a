package weather

import "math"

// RiceMean is the mean length of a vector that is normal about a mean, alike in all directions.
//
// In:     mean the length of the mean vector, 0 or more; sigma the standard deviation each way
// Out:    in the unit of both; NaN in gives NaN out
// Good to: 1e-12 relative (package climate's TestRice, against a general library; TestRiceMean)
// Source: Rice 1945: sigma sqrt(pi/2) L(-mean2/2 sigma2), L Laguerre's of order one half, written
// with modified Bessel functions (Abramowitz & Stegun 13.6.9)
func RiceMean(mean, sigma float64) float64 {
	if sigma <= 0 || mean/sigma > 1e7 {
		return mean
	}
	y := mean * mean / (4 * sigma * sigma)
	i0, i1 := bessel(y)
	return sigma * math.Sqrt(math.Pi/2) * ((1+2*y)*i0 + 2*y*i1)
}

// Sigma is the spread each way that gives a mean speed to a vector whose mean has a length.
//
// In:     mean the length of the mean vector; speed the mean of the speed
// Out:    0 where the mean is as long as the speed or longer
// Good to: what the difference of the two lets be told: rounding over the spread (TestRiceMean)
// Source: RiceMean turned about by halving, which rises with sigma
func Sigma(mean, speed float64) float64 {
	if !(speed > mean) {
		return 0
	}
	lo, hi := 0.0, speed // at most sqrt(2/pi) of the speed, where the mean is nothing
	for range 60 {
		mid := (lo + hi) / 2
		if RiceMean(mean, mid) < speed {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// Over is the share of the time that the wind is over a speed.
//
// In:     mean, sigma as RiceMean's; speed m/s
// Good to: 1e-6 for a mean up to 30 sigma (TestOver); steadier, 2e-4: the normal along the mean
// Source: Marcum's Q of order one, as Poisson's mixture of gamma tails (Johnson, Kotz &
// Balakrishnan, Continuous Univariate Distributions 2, noncentral chi-square)
func Over(mean, sigma, speed float64) float64 {
	if speed <= 0 {
		return 1
	}
	if sigma <= 0 {
		if mean > speed {
			return 1
		}
		return 0
	}
	a, b := mean*mean/(2*sigma*sigma), speed*speed/(2*sigma*sigma)
	if a > 450 || b > 650 {
		// Along the mean, with the little that the sideways part adds.
		return math.Erfc((speed-mean-sigma*sigma/(2*math.Max(mean, speed)))/(sigma*math.Sqrt2)) / 2
	}
	weight, term := math.Exp(-a), math.Exp(-b) // Poisson of a at k; of b at k
	tail := term                               // gamma tail: Poisson of b up to k
	sum, left := weight*tail, 1-weight
	for k := 1; k < 4000 && left > 1e-16; k++ {
		weight *= a / float64(k)
		term *= b / float64(k)
		tail += term
		sum += weight * math.Min(tail, 1)
		left -= weight
		if float64(k) > a && weight < 1e-18 {
			break
		}
	}
	return math.Min(sum, 1)
}

// bessel is exp(-y) I0(y) and exp(-y) I1(y) for y of 0 or more.
//
// Source: Abramowitz & Stegun 9.6.10 (series) and 9.7.1 (for large y; at 20 its least term is
// under 1e-16)
func bessel(y float64) (i0, i1 float64) {
	if y <= 20 {
		q := y * y / 4
		t0, t1 := 1.0, y/2
		i0, i1 = t0, t1
		for k := 1.0; t0 > 1e-18*i0 || t1 > 1e-18*i1; k++ {
			t0 *= q / (k * k)
			t1 *= q / (k * (k + 1))
			i0 += t0
			i1 += t1
		}
		e := math.Exp(-y)
		return i0 * e, i1 * e
	}
	return asymptotic(y, 0), asymptotic(y, 4)
}

// asymptotic is exp(-y) I(y) for large y; mu is four times the order squared.
func asymptotic(y, mu float64) float64 {
	sum, t := 1.0, 1.0
	for k := 1.0; k < 40; k++ {
		odd := 2*k - 1
		next := -t * (mu - odd*odd) / (k * 8 * y)
		if math.Abs(next) >= math.Abs(t) {
			break
		}
		t = next
		sum += t
		if math.Abs(t) < 1e-17 {
			break
		}
	}
	return sum / math.Sqrt(2*math.Pi*y)
}
