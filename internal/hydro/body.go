// Package hydro floats a stack of cuts: equilibrium, hydrostatics, righting
// arms and every heel at which a body would lie.
//
// Metres, kilograms and radians, in the boat's frame (x aft, y to starboard, z
// up); heel positive to starboard, trim positive by the stern.
package hydro

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/cuts"
)

// Body is what floats: a watertight envelope, and pockets such as a footwell
// that are dry until their rim goes under.
type Body struct {
	Envelope *cuts.Stack
	Pockets  []Pocket
	Flooded  []Flooded
	Loose    []Loose
}

// Pocket is a space open at the top, dry while the whole of its rim stands
// above the water.
type Pocket struct {
	Name  string
	Stack *cuts.Stack
	Rim   []r3.Vec
}

// Load is what the body carries, itself included.
type Load struct {
	Mass float64 // kg
	G    r3.Vec  // centre of gravity
}

// Sea is what she floats in.
type Sea struct {
	Density float64 // kg/m³
}

// Below is what of the body lies under a plane and keeps the water out, less what stands in it:
// its net buoyancy, which carries all that is solid.
func (b *Body) Below(p cuts.Plane) cuts.Sums {
	m := b.Envelope.Below(p)
	for i := range b.Pockets {
		if b.Pockets[i].dry(p) {
			o := b.Pockets[i].Stack.Below(p)
			m.Add(&o)
		}
	}
	for i := range b.Flooded {
		o := b.Flooded[i].Stack.Below(p)
		m.AddShare(&o, -b.Flooded[i].Share)
	}
	for i := range b.Loose {
		o := b.Loose[i].standing(p)
		m.AddShare(&o, -b.Loose[i].Ratio)
	}
	return m
}

// Volume is the greatest net volume that the body can push aside.
func (b *Body) Volume() float64 {
	v := b.Envelope.Volume() - b.liquid()
	for i := range b.Pockets {
		v += b.Pockets[i].Stack.Volume()
	}
	for i := range b.Flooded {
		v -= b.Flooded[i].Share * b.Flooded[i].Stack.Volume()
	}
	return v
}

func (k *Pocket) dry(p cuts.Plane) bool {
	for _, r := range k.Rim {
		if above(p, r) <= 0 {
			return false
		}
	}
	return true
}

// above is how far a point stands above a plane, along the plane of a cut.
func above(p cuts.Plane, r r3.Vec) float64 {
	return r.Z*p.Cos - r.Y*p.Sin - p.Level - p.Slope*r.X
}

// Above is how far a point stands above the water of an attitude, square to it.
func (a Attitude) Above(r r3.Vec) float64 {
	p := a.Plane()
	return above(p, r) / math.Sqrt(1+p.Slope*p.Slope)
}

// Attitude is how a body lies: Level and Slope place the water as in cuts.Plane.
type Attitude struct {
	Heel  float64
	Level float64
	Slope float64 // tangent of the trim
}

// Trim is the trim angle in radians, by the stern positive.
func (a Attitude) Trim() float64 { return math.Atan(a.Slope) }

// Plane is the water in the boat's frame.
func (a Attitude) Plane() cuts.Plane {
	s, c := math.Sincos(a.Heel)
	return cuts.Plane{Sin: s, Cos: c, Level: a.Level, Slope: a.Slope}
}
