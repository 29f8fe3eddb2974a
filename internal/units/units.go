// Package units holds quantities with units: named types, how people write
// them, and how they are shown.
//
// Inside the program everything is SI and radians. A named type stands at
// package borders; a numeric kernel takes plain float64.
package units

// Length is in metres.
type Length float64

// Mass is in kilograms.
type Mass float64

// Angle is in radians.
type Angle float64

// Density is in kilograms a cubic metre.
type Density float64

// Volume is in cubic metres.
type Volume float64

// System is how lengths and weights are shown to the person.
type System int

// The systems of units a folder may ask for.
const (
	Metric System = iota
	Feet
)

// Scale turns an SI number into the number shown: shown = SI * Factor.
type Scale struct {
	Unit   string
	Factor float64
	Places int // digits behind the point that are worth showing
}
