package weather

import "math"

// gravity is the standard one, m/s2 (CGPM 1901, exact).
const gravity = 9.80665

// Coefficients of the wave formulas, by the formula's own names.
const (
	// Sverdrup, Munk & Bretschneider as in the Shore Protection Manual (1977): gH/U2 = A tanh(B
	// (gF/U2)^0.42), gT/(2 pi U) = C tanh(D (gF/U2)^0.25).
	smbA, smbB, smbC, smbD = 0.283, 0.0125, 1.20, 0.077
	// Hasselmann and others 1973 (JONSWAP): gH/U2 = A (gF/U2)^1/2, gTp/U = B (gF/U2)^1/3; the
	// least duration for a fetch gt/U = C (gF/U2)^2/3 (Shore Protection Manual 1984).
	jonA, jonB, jonC = 0.0016, 0.286, 68.8
	// Pierson & Moskowitz 1964: H = 0.0246 U2 with U at 10 m, s2/m; the peak at 0.877 g/U19.5.
	pmH, pmPeak = 0.0246, 0.877
	// U at 19.5 m over U at 10 m, as the height's two forms, 0.21 U2/g and 0.0246 U2, imply.
	pmUp = 1.0718
)

// Waves are a sea: significant height m and period s.
type Waves struct{ Height, Period float64 }

// SMB is the sea raised by a steady wind over a fetch, for as long as that takes.
//
// In:     wind m/s at 10 m; fetch m
// Out:    significant height and significant period
// Source: Sverdrup, Munk & Bretschneider, Shore Protection Manual 1977; deep water
func SMB(wind, fetch float64) Waves {
	if !(wind > 0 && fetch > 0) {
		return Waves{}
	}
	x := gravity * fetch / (wind * wind)
	return Waves{
		Height: wind * wind / gravity * smbA * math.Tanh(smbB*math.Pow(x, 0.42)),
		Period: 2 * math.Pi * wind / gravity * smbC * math.Tanh(smbD*math.Pow(x, 0.25)),
	}
}

// JONSWAP is the sea raised by a steady wind over a fetch, never above the fully developed.
//
// In:     wind m/s at 10 m; fetch m
// Out:    significant height and peak period
// Source: Hasselmann and others 1973; the cap is Pierson & Moskowitz's, without which the law, good
// for short fetches, grows for ever
func JONSWAP(wind, fetch float64) Waves {
	if !(wind > 0 && fetch > 0) {
		return Waves{}
	}
	x := gravity * fetch / (wind * wind)
	full := Full(wind)
	return Waves{
		Height: min(full.Height, wind*wind/gravity*jonA*math.Sqrt(x)),
		Period: min(full.Period, wind/gravity*jonB*math.Cbrt(x)),
	}
}

// FetchFor is the fetch that gives what a wind has raised in a time without bounds, m.
//
// In:     wind m/s; lasting s
// Source: Shore Protection Manual 1984: gt/U = 68.8 (gF/U2)^2/3
func FetchFor(wind, lasting float64) float64 {
	if !(wind > 0 && lasting > 0) {
		return 0
	}
	return wind * wind / gravity * math.Pow(gravity*lasting/(wind*jonC), 1.5)
}

// Grown is the sea raised by a steady wind over a fetch in a time: the shorter of the two bounds it.
//
// In:     wind m/s at 10 m; fetch m; lasting s
func Grown(wind, fetch, lasting float64) Waves {
	return JONSWAP(wind, min(fetch, FetchFor(wind, lasting)))
}

// Full is the fully developed sea.
//
// In:     wind m/s at 10 m
// Out:    significant height and peak period
// Source: Pierson & Moskowitz, Journal of Geophysical Research 69 (1964)
func Full(wind float64) Waves {
	if !(wind > 0) {
		return Waves{}
	}
	return Waves{Height: pmH * wind * wind, Period: 2 * math.Pi / pmPeak * pmUp * wind / gravity}
}

// fall is the time in which the sea above what the wind holds up falls to 1/e, s: a day (modelling
// choice: swell loses height by spreading and by travelling on, not by one rate).
const fall = 86400

// Sea is a sea in the open ocean that grows and falls with the wind.
type Sea struct {
	Height float64 // significant, m

	step, keep float64 // what is left of the fall after a step
}

// Next takes the sea on under a wind.
//
// In:     wind m/s at 10 m; step s
// Good to: a steady wind from a flat sea gives Grown with no end of fetch (TestSeaGrows)
// Source: Grown's law by time has H^(4/3) rising evenly with the time, so that a sea
// already there goes on from its height (the method of the equivalent duration, Shore
// Protection Manual 1984)
func (s *Sea) Next(wind, step float64) {
	full := pmH * wind * wind
	if step != s.step {
		s.step, s.keep = step, math.Exp(-step/fall)
	}
	if s.Height >= full {
		s.Height = full + (s.Height-full)*s.keep
		return
	}
	// H = A U2/g (g t/(C U))^(3/4), so H^(4/3) = rate t with rate below.
	k := jonA * wind * wind / gravity
	rate := k * math.Cbrt(k) * gravity / (jonC * wind)
	y := s.Height*math.Cbrt(s.Height) + rate*step
	r := math.Sqrt(y)
	s.Height = min(full, r*math.Sqrt(r)) // y^(3/4)
}
