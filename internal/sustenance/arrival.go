package sustenance

import (
	"fmt"
	"math"
)

// Arrival is the spread of the day on which a passage ends.
type Arrival interface {
	// By is the chance to have arrived so many days after leaving; it never falls as the days grow.
	By(days float64) float64
}

// Histogram is a count of simulated passages by the day of arrival.
type Histogram struct {
	First   int       // day of the first count
	Arrived []float64 // passages that arrived within the day First, the next, ...
	Never   float64   // passages that did not arrive in the time that was simulated
}

// By is the share of passages that arrived within so many days; within a day they are spread evenly.
func (h Histogram) By(days float64) float64 {
	sum, by := h.Never, 0.0
	for i, n := range h.Arrived {
		sum += n
		by += n * clamp(days-float64(h.First+i), 0, 1)
	}
	if sum <= 0 {
		return 0
	}
	return by / sum
}

// Normal is arrival days on a bell curve, for when nothing better is known.
type Normal struct{ Mean, Deviation float64 }

// By is the normal distribution's.
func (n Normal) By(days float64) float64 {
	return 0.5 * math.Erfc((n.Mean-days)/(n.Deviation*math.Sqrt2))
}

// NineteenIn20 is the chance that is asked for when nobody says otherwise.
const NineteenIn20 = 0.95

// DaysFor is the least whole number of days of food with which such a chance is reached.
//
// In:     chance above 0 and below 1
// Error:  ErrInput: a chance that no number of days reaches, because too many passages do not arrive at all
// Good to: the arrival's
// Source: definition of a quantile
func DaysFor(a Arrival, chance float64) (int, error) {
	if a == nil {
		return 0, fmt.Errorf("%w: no arrival days; give a histogram", ErrInput)
	}
	if err := within("the chance", chance, 1e-6, 1-1e-6, ""); err != nil {
		return 0, err
	}
	if end := a.By(most); !(end >= chance) {
		return 0, fmt.Errorf("%w: only %.3g of the passages arrive at all, and %.3g is asked; simulate longer or ask less", ErrInput, end, chance)
	}
	low, high := 0, most
	for low < high {
		if mid := (low + high) / 2; a.By(float64(mid)) >= chance {
			high = mid
		} else {
			low = mid + 1
		}
	}
	return low, nil
}

// normal95 is the half width of 19 in 20 over the standard deviation.
const normal95 = 1.959964

// Chance is the chance that stores which last so long outlast the passage.
//
// In:     days that the stores last, with their spread, taken as a bell curve that has nothing to do with the wind
// Out:    the mean of By over that curve, by 400 equal slices of it
// Error:  ErrInput
// Good to: 0.002 against two bell curves (TestChanceOfTwoNormals)
// Source: P(arrival < lasts) = E[By(lasts)]
func Chance(a Arrival, lasts Value) (float64, error) {
	if a == nil {
		return 0, fmt.Errorf("%w: no arrival days; give a histogram", ErrInput)
	}
	if err := valued("the days that the stores last", lasts, 0, 1e5, "days"); err != nil {
		return 0, err
	}
	const slices = 400
	sum := 0.0
	for i := range slices {
		z := math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/slices-1)
		sum += a.By(math.Max(0, lasts.Value+z*lasts.Spread/normal95))
	}
	return sum / slices, nil
}
