package sheet

import "math"

// Ticks chooses round steps for an axis that must show from low to high, and
// widens it to them: five to nine ticks.
func Ticks(low, high float64) (min, max float64, ticks []float64) {
	if !(high > low) {
		high = low + 1
	}
	step := math.Pow(10, math.Floor(math.Log10((high-low)/5)))
	for _, k := range []float64{1, 2, 5, 10} {
		if (high-low)/(step*k) <= 8 {
			step *= k
			break
		}
	}
	min, max = math.Floor(low/step+1e-9)*step, math.Ceil(high/step-1e-9)*step
	for i := 0; min+float64(i)*step <= max+step/2; i++ {
		// tidy away what floating point leaves behind
		ticks = append(ticks, math.Round((min+float64(i)*step)*1e9)/1e9)
	}
	return min, max, ticks
}
