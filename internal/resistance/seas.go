package resistance

import (
	"cmp"
	"math"
)

// Sea is the waves she meets.
type Sea struct {
	Height float64 // significant, m
	Period float64 // mean, of the spectrum's first moment, s
	From   float64 // angle off the bow from which they come, radians: 0 ahead
}

func (s Sea) check() error {
	if err := within("the waves' height", s.Height, 0, 30, "m"); err != nil || s.Height == 0 {
		return err
	}
	return cmp.Or(within("the waves' period", s.Period, 0.5, 30, "s"), within("the waves' angle off the bow", s.From, -1e4, 1e4, "rad"))
}

// headed is how much of the added drag from ahead is left at an angle: all of it to 45 degrees as the rule says, then
// down to nothing at 90 degrees by the square of a cosine (modelling choice: seas from abaft the beam neither hold nor drive).
func headed(from float64) float64 {
	a := math.Abs(math.Remainder(from, 2*math.Pi))
	switch {
	case a <= math.Pi/4:
		return 1
	case a >= math.Pi/2:
		return 0
	}
	c := math.Cos(2 * (a - math.Pi/4))
	return c * c
}

// gyration is the radius of gyration in pitch over the length: the rule's usual quarter.
const gyration = 0.25

// AddedDrag is the mean added drag in head seas, N.
//
// What the length, beam, draft and block of the hull and the Froude number make of each wave of the spectrum: pitching
// and heaving on long ones, throwing back short ones.
//
// In:     speed m/s (at rest or astern as at rest: the rule then leaves only what is thrown back); density; sea
// Good to: a factor of two on a rowing boat. The rule was fitted to ships over 75 m, length over beam 4 to 9, Froude
// numbers 0.1 to 0.3; in those ratios a rowing boat is within it, in size, in shape above water and in steepness of seas not
// Source: STAwave-2, ITTC 7.5-04-01-01.1 (2014) and ISO 15016:2015 annex D, from memory; the spectrum is Bretschneider's
func (h *Hull) AddedDrag(v, density float64, s Sea) float64 {
	w := h.swell(s)
	return h.swelled(&w, v, density)
}

// waveSteps is how many bands the spectrum is cut into, of equal ratios of frequency.
const waveSteps = 112

// swell is a sea made ready for any speed.
type swell struct {
	share     float64            // for the angle off the bow
	first, by float64            // logarithm of the first frequency, and of the ratio to the next
	square    [waveSteps]float64 // twice the mean square of the amplitude in each band, m²
	back      float64            // the same summed, times the share of each wave that a hull of her draft throws back
}

func (h *Hull) swell(s Sea) (w swell) {
	w.share = headed(s.From)
	if !(s.Height > 0 && s.Period > 0) || w.share == 0 {
		w.share = 0
		return w
	}
	t4 := s.Period * s.Period * s.Period * s.Period
	a, c := 173*s.Height*s.Height/t4, 691/t4
	peak := math.Pow(0.8*c, 0.25)
	lo := 0.5 * peak
	// to four peaks, or past the waves that she answers to most, which are then the spectrum's short tail
	hi := math.Max(4*peak, math.Min(8*math.Sqrt(Gravity/h.Length), 20*peak))
	d := math.Log(hi/lo) / waveSteps
	w.first, w.by = math.Log(lo)+d/2, d
	for i := range w.square {
		o := math.Exp(w.first + float64(i)*d)
		o2 := o * o
		w.square[i] = 2 * a / (o2 * o2) * math.Exp(-c/(o2*o2)) * d // E(omega) omega d(ln omega)
		i1, k1 := besselI1K1(1.5 * o2 / Gravity * h.Draft)
		w.back += w.square[i] * math.Pi * math.Pi * i1 * i1 / (math.Pi*math.Pi*i1*i1 + k1*k1)
	}
	return w
}

// swelled is the added drag in a swell.
func (h *Hull) swelled(w *swell, v, density float64) float64 {
	if w.share == 0 {
		return 0
	}
	v = math.Max(v, 0)
	l, b, cb := h.Length, h.Beam, h.Cb()
	f1 := 0.692*math.Pow(v/math.Sqrt(h.Draft*Gravity), 0.769) + 1.81*math.Pow(cb, 6.95)
	sum := density / 2 * Gravity * b * f1 * w.back
	fn := v / math.Sqrt(Gravity*l)
	if a1 := 60.3 * math.Pow(cb, 1.34) * math.Pow(fn, 1.5) * math.Exp(-3.5*fn); a1 > 0 {
		// the logarithm of the reduced frequency, omega sqrt(L/g) kyy^(1/3) / (1.17 Fn^-0.143)
		reduced := w.first + math.Log(math.Sqrt(l/Gravity)*math.Cbrt(gyration)/1.17*math.Pow(fn, 0.143))
		short := -566 * math.Pow(l/b, -2.66)
		var motion float64
		for i, q := range &w.square {
			x := reduced + float64(i)*w.by
			b1, d1 := 11.0, 14.0
			if x >= 0 {
				b1, d1 = -8.5, short
			}
			motion += q * math.Exp(b1*x+b1/d1*(1-math.Exp(d1*x)))
		}
		sum += 4 * density * Gravity * b * b / l * a1 * motion
	}
	return w.share * sum
}

// besselI1K1 are the modified Bessel functions of the first order, both times exp(-x) so that neither runs over: only
// their ratio is wanted; x above 0.
//
// Good to: 3e-7 relative (TestBessel)
// Source: Abramowitz & Stegun 9.8.3, 9.8.4, 9.8.7, 9.8.8
func besselI1K1(x float64) (i1, k1 float64) {
	small := x / 3.75
	y := small * small
	if x <= 3.75 {
		i1 = x * (0.5 + y*(0.87890594+y*(0.51498869+y*(0.15084934+y*(0.02658733+y*(0.00301532+y*0.00032411)))))) * math.Exp(-x)
	} else {
		u := 1 / small
		i1 = (0.39894228 + u*(-0.03988024+u*(-0.00362018+u*(0.00163801+u*(-0.01031555+u*(0.02282967+u*(-0.02895312+u*(0.01787654-u*0.00420059)))))))) / math.Sqrt(x)
	}
	if x <= 2 {
		z := x * x / 4
		k := math.Log(x/2)*i1*math.Exp(x) + (1+z*(0.15443144+z*(-0.67278579+z*(-0.18156897+z*(-0.01919402+z*(-0.00110404-z*0.00004686))))))/x
		return i1, k * math.Exp(-x)
	}
	z := 2 / x
	k := (1.25331414 + z*(0.23498619+z*(-0.03655620+z*(0.01504268+z*(-0.00780353+z*(0.00325614-z*0.00068245)))))) / math.Sqrt(x)
	return i1, k * math.Exp(-2*x)
}
