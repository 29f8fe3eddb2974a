package heading

import (
	"cmp"
	"math"
)

// Gradient is the wind at a height over the wind at 10 m.
type Gradient struct {
	kind      gradientKind
	roughness float64
	exponent  float64
}

type gradientKind uint8

const (
	logarithmic gradientKind = iota
	power
	uniform
)

// lowest is the height below which the wind is taken as there, metres: among the crests no
// law of a flat sea holds (modelling choice).
const lowest = 0.1

// OpenSea is the roughness length of the open sea, metres. Source: the Davenport roughness
// classes, class 1 "sea", WMO Guide to Instruments and Methods of Observation, ch. 5, annex.
const OpenSea = 0.0002

// Logarithmic is the law of a wall: V(z) / V(10) = ln(z / z0) / ln(10 / z0).
//
// In:     roughness length in m; OpenSea where none is given (0)
// Source: WMO Guide to Instruments and Methods of Observation, ch. 5
func Logarithmic(roughness float64) Gradient {
	if roughness == 0 {
		roughness = OpenSea
	}
	return Gradient{kind: logarithmic, roughness: roughness}
}

// Power is V(z) / V(10) = (z / 10)^p; over open sea p is about 0.11, over land 1/7.
//
// Source: Hsu, Meindl and Gilhousen, J. Applied Meteorology 33 (1994): 0.11 +- 0.03
func Power(p float64) Gradient { return Gradient{kind: power, exponent: p} }

// Uniform is the same wind at every height, as the height coefficient of the IMO MODU Code
// has it up to 15.3 m.
func Uniform() Gradient { return Gradient{kind: uniform} }

// At is the wind's factor at a height in metres above the water; below 0.1 m, that there.
func (g Gradient) At(z float64) float64 {
	z = math.Max(z, lowest)
	switch g.kind {
	case power:
		return math.Pow(z/10, g.exponent)
	case uniform:
		return 1
	}
	z0 := g.roughness
	if z0 == 0 {
		z0 = OpenSea
	}
	return math.Max(0, math.Log(z/z0)/math.Log(10/z0))
}

// check refuses laws that mean nothing.
func (g Gradient) check() error {
	return cmp.Or(
		need("the sea's roughness length", g.roughness, 0, 0.05, "give 0 (the open sea) to 0.05 m"),
		need("the wind gradient's exponent", g.exponent, 0, 1, "give 0 to 1; 0.11 is the open sea"))
}
