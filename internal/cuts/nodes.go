package cuts

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/integrate/quad"
)

// Station is a place along the length with its weight in a quadrature.
type Station struct{ X, Weight float64 }

// Along places quadrature nodes along the length: Gauss-Legendre in panels
// between breaks, no panel longer than longest; one shorter than a third of that has two nodes. Where an end is closed the
// solid may run out like a square root of the distance (a round bow), so
// that panel is stretched by a square, which makes the integrand smooth again.
//
// In:     breaks in any order, at least two different ones
// Good to: exact for polynomials of degree 2 order - 1 in a plain panel
// Source: Davis & Rabinowitz, Methods of Numerical Integration, sec. 2.7 and 2.12
func Along(breaks []float64, longest float64, order int, closedFore, closedAft bool) []Station {
	b := slices.Clone(breaks)
	slices.Sort(b)
	b = slices.CompactFunc(b, func(p, q float64) bool { return math.Abs(q-p) < 1e-9 })
	if len(b) < 2 {
		return nil
	}
	x, w := rule(order)
	xs, ws := rule(min(2, order)) // a short panel needs no more
	var out []Station
	for i := 1; i < len(b); i++ {
		n := max(1, int(math.Ceil((b[i]-b[i-1])/longest-1e-9)))
		step := (b[i] - b[i-1]) / float64(n)
		for k := range n {
			from := b[i-1] + float64(k)*step
			fore := closedFore && i == 1 && k == 0
			aft := closedAft && i == len(b)-1 && k == n-1
			if step < longest/3 && !fore && !aft {
				out = append(out, panel(xs, ws, from, step, fore, aft)...)
			} else {
				out = append(out, panel(x, w, from, step, fore, aft)...)
			}
		}
	}
	return out
}

// rule is the Gauss-Legendre rule on 0 to 1.
func rule(order int) (x, w []float64) {
	x, w = make([]float64, order), make([]float64, order)
	quad.Legendre{}.FixedLocations(x, w, 0, 1)
	return x, w
}

func panel(x, w []float64, from, step float64, fore, aft bool) []Station {
	out := make([]Station, len(x))
	for i, u := range x {
		switch {
		case fore && aft: // u(3u-2u²): flat at both ends
			out[i] = Station{from + step*u*u*(3-2*u), step * w[i] * 6 * u * (1 - u)}
		case fore:
			out[i] = Station{from + step*u*u, step * w[i] * 2 * u}
		case aft:
			out[i] = Station{from + step*(1-(1-u)*(1-u)), step * w[i] * 2 * (1 - u)}
		default:
			out[i] = Station{from + step*u, step * w[i]}
		}
	}
	return out
}
