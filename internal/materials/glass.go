package materials

import "math"

// Units in which cloth and resin are sold in America.
const (
	Ounce      = 0.028349523125 // kg, NIST SP 811
	SquareYard = 0.83612736     // m2, NIST SP 811
	SquareFoot = 0.09290304     // m2, NIST SP 811
	Gallon     = 3.785411784e-3 // m3, US liquid, NIST SP 811
)

// Cloth turns ounces a square yard into kg/m2.
func Cloth(ounces float64) float64 { return ounces * Ounce / SquareYard }

// Laminate is what glass and resin make together.
type Laminate struct {
	Fibre     float64 // share of the volume that is glass
	Density   float64 // kg/m3
	Thickness float64 // metres, of one layer of the cloth asked for
}

// Laminate is the closed form for a laminate without voids: glass is the share by weight
// that is fibre, cloth its dry weight in kg/m2. A share outside 0 to 1 gives nothing.
//
//	fibre = (glass / Glass) / (glass / Glass + (1 - glass) / Resin)
//	density = fibre Glass + (1 - fibre) Resin
//	thickness = cloth / (fibre Glass)
func (r Rates) Laminate(glass, cloth float64) Laminate {
	if !(glass > 0 && glass <= 1) {
		return Laminate{}
	}
	f, m := glass/r.Glass, (1-glass)/r.Resin
	l := Laminate{Fibre: f / (f + m)}
	l.Density = l.Fibre*r.Glass + (1-l.Fibre)*r.Resin
	l.Thickness = cloth / (l.Fibre * r.Glass)
	return l
}

// Gallons is a rule of thumb to hold against the sum: resin in US gallons to lay one cloth
// on an area and fill it with three coats, 15 % waste counted in. Area in m2, cloth in
// kg/m2.
//
//	gallons = square feet (0.00085 ounces a square yard + 0.0075)
//
// Source: epoxyworks.com, read 2026
func Gallons(area, cloth float64) float64 {
	return area / SquareFoot * (0.00085*cloth/Cloth(1) + 0.0075)
}

// Fillet is the volume in m3 of a fillet of a radius, run along a corner: what a round
// stick leaves between itself and two faces that meet at an angle (radians). A right
// angle gives r² (1 - pi/4) for each metre. Faces that are one, or opposite, have none.
//
//	section = r² (1 / tan(angle / 2) - (pi - angle) / 2)
func Fillet(length, radius, angle float64) float64 {
	if !(angle > 0 && angle < math.Pi) {
		return 0
	}
	return length * radius * radius * (1/math.Tan(angle/2) - (math.Pi-angle)/2)
}
