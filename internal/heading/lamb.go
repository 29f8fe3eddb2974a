package heading

import "math"

// AddedMass is the inertia of the water round a prolate spheroid as shares of the water it
// displaces: k1 end-on, k2 broadside; k' is the share of its moment of inertia.
type AddedMass struct{ End, Side, Turn float64 }

// Spheroid is the added mass of a prolate spheroid.
//
// In:     fineness, length over diameter, 1 or more
// Error:  ErrInput
// Good to: 1e-6 of the closed form, the sphere included
// Source: Lamb, Hydrodynamics, sec. 114 and 115
func Spheroid(fineness float64) (AddedMass, error) {
	if err := need("length over diameter", fineness, 1, 1e6, "give 1 (a sphere) or more"); err != nil {
		return AddedMass{}, err
	}
	e2 := 1 - 1/(fineness*fineness)
	if e2 < 1e-14 {
		return AddedMass{End: 0.5, Side: 0.5}, nil
	}
	a := 2 * (1 - e2) * tail(e2)
	b := 1 - a/2 // since alpha + 2 beta = 2
	d := b - a
	if e2 < 0.01 {
		// b - a cancels: it is 1 - 1.5 a, taken from the same series.
		d = 1 - 3*(1-e2)*tail(e2)
	}
	return AddedMass{
		End:  a / (2 - a),
		Side: b / (2 - b),
		Turn: e2 * e2 * d / ((2 - e2) * (2*e2 - (2-e2)*d)),
	}, nil
}

// tail is (artanh e - e) / e^3 = 1/3 + e2/5 + e2^2/7 + ...
func tail(e2 float64) float64 {
	if e2 < 0.1 {
		sum, p := 0.0, 1.0
		for k := 3.0; k < 61; k += 2 {
			sum += p / k
			p *= e2
		}
		return sum
	}
	e := math.Sqrt(e2)
	return (math.Atanh(e) - e) / (e * e2)
}

// Munk is the moment with which a deeply sunk body in a steady ideal stream turns itself
// broadside, Nm: (k2 - k1) rho V2 volume sin(2 drift) / 2.
//
// In:     density kg/m3; speed m/s; volume m3; drift, the angle of the stream to the axis
// Source: Munk, NACA report 184 (1924)
func Munk(density, speed, volume, drift float64, k AddedMass) float64 {
	return 0.5 * density * speed * speed * (k.Side - k.End) * volume * math.Sin(2*drift)
}
