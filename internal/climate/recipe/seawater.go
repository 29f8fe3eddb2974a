package main

import "math"

// density is that of sea water, EOS-80.
//
// In:     practical salinity; temperature degC (IPTS-68); sea pressure dbar
// Out:    kg/m3
// Good to: 1e-5 kg/m3 on the published check value (TestDensity)
// Source: Fofonoff & Millard 1983, UNESCO Technical Papers in Marine Science 44; every number from there
func density(s, t, p float64) float64 {
	r := math.Sqrt(s)
	rho := 999.842594 + t*(6.793952e-2+t*(-9.095290e-3+t*(1.001685e-4+t*(-1.120083e-6+t*6.536332e-9)))) +
		s*(.824493+t*(-4.0899e-3+t*(7.6438e-5+t*(-8.2467e-7+t*5.3875e-9)))) +
		s*r*(-5.72466e-3+t*(1.0227e-4-t*1.6546e-6)) + 4.8314e-4*s*s
	k := 19652.21 + t*(148.4206+t*(-2.327105+t*(1.360477e-2-t*5.155288e-5))) +
		s*(54.6746+t*(-.603459+t*(1.09987e-2-t*6.1670e-5))) +
		s*r*(7.944e-2+t*(1.6483e-2-t*5.3009e-4))
	a := 3.239908 + t*(1.43713e-3+t*(1.16092e-4-t*5.77905e-7)) +
		s*(2.2838e-3+t*(-1.0981e-5-t*1.6078e-6)) + 1.91075e-4*s*r
	b := 8.50935e-5 + t*(-6.12293e-6+t*5.2787e-8) + s*(-9.9348e-7+t*(2.0816e-8+t*9.1697e-10))
	bar := p / 10
	return rho / (1 - bar/(k+bar*(a+bar*b)))
}

// pressure is the sea pressure at a depth, dbar.
//
// Source: Saunders 1981, Practical conversion of pressure to depth, J. Phys. Oceanogr. 11, 573
func pressure(depth, lat float64) float64 {
	x := math.Sin(lat * math.Pi / 180)
	c := (5.92 + 5.25*x*x) * 1e-3
	return ((1 - c) - math.Sqrt((1-c)*(1-c)-8.84e-6*depth)) / 4.42e-6
}

// height is the dynamic height of the surface over the last depth given, J/kg: the integral of
// the specific volume's anomaly over pressure, by trapezia between the depths.
func height(depths, temp, salt []float64, lat float64) float64 {
	sum, lastP, last := 0.0, 0.0, 0.0
	for i, d := range depths {
		p := pressure(d, lat)
		anomaly := 1/density(salt[i], temp[i], p) - 1/density(35, 0, p)
		if i > 0 {
			sum += (p - lastP) * 1e4 * (anomaly + last) / 2
		}
		lastP, last = p, anomaly
	}
	return sum
}
