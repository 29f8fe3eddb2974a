package resistance

import (
	"cmp"
	"fmt"
	"math"
)

// Appendage is a rudder, a board, a skeg, or a thing that just stands in the flow.
type Appendage struct {
	Name      string
	Area      float64 // of one side, m²; both sides are wetted
	Chord     float64 // mean, along the flow, m
	Thickness float64 // greatest, over the chord
	// Blunt is drag area for what is no foil (a scoop, a strut, a rope): coefficient times area, m².
	Blunt float64
}

// check is nil where a drag can be made of it.
func (a Appendage) check() error {
	name := a.Name
	if name == "" {
		name = "an appendage"
	}
	if err := cmp.Or(within(name+"'s area", a.Area, 0, 100, "m2"), within(name+"'s blunt drag area", a.Blunt, 0, 100, "m2")); err != nil {
		return err
	}
	if a.Area == 0 {
		return nil
	}
	return cmp.Or(within(name+"'s chord", a.Chord, 1e-3, longest, "m"), within(name+"'s thickness over chord", a.Thickness, 0, 1, ""))
}

// Drag is the appendage's drag, edge on to the flow, N.
//
// In:     speed m/s, 0 or more; water; sand roughness of its skin, m
// Good to: 30 %; at a rudder's small Reynolds number the skin may be laminar (lower) and the joint to the hull sheds (higher)
// Source: Hoerner, Fluid-Dynamic Drag (1965), ch. 6: friction of both sides times 1 + 2 t/c + 60 (t/c)⁴
func (a Appendage) Drag(v float64, w Water, sand float64) float64 {
	if v <= 0 {
		return 0
	}
	area := a.Blunt
	if a.Area > 0 {
		re := v * a.Chord / w.Viscosity
		t := a.Thickness
		area += 2 * a.Area * (friction(re) + RoughRise(re, sand/a.Chord)) * (1 + 2*t + 60*t*t*t*t)
	}
	return w.Density / 2 * v * v * area
}

// Windage is a part of the boat that stands in the wind, seen from ahead: hull above water, a cabin, a rower, oars.
type Windage struct {
	Name   string
	Area   float64 // from ahead, m²
	Drag   float64 // coefficient; about 0.8 to 1.2 for a bluff part, 0.4 to 0.6 for a rounded one
	Height float64 // of its middle above the water, m
}

// check is nil where a drag can be made of it.
func (p Windage) check() error {
	name := p.Name
	if name == "" {
		name = "a part in the wind"
	}
	return cmp.Or(within(name+"'s area", p.Area, 0, 1000, "m2"), within(name+"'s drag coefficient", p.Drag, 0, 3, ""),
		within(name+"'s height above the water", p.Height, 0, 100, "m"))
}

// Wind is the wind at 10 m, as forecasts give it.
type Wind struct {
	Speed float64 // m/s
	From  float64 // angle off the bow from which it comes, radians: 0 ahead, pi astern
}

func (w Wind) check() error {
	return cmp.Or(within("the wind's speed", w.Speed, 0, 150, "m/s"), within("the wind's angle off the bow", w.From, -1e4, 1e4, "rad"))
}

const (
	// airDensity is the standard atmosphere's at sea level, kg/m³.
	airDensity = 1.225
	// shear is the power by which the wind grows with height over open sea.
	//
	// Source: Hsu, Meindl & Gilhousen, J. Applied Meteorology 33 (1994): 0.11, from memory
	shear = 0.11
	// lowestWind is the height below which the wind is held: among the waves the law has no meaning. Modelling choice.
	lowestWind = 0.3
)

// WindShare is how much of the 10 m wind blows at a height, 0.3 m at the lowest.
func WindShare(height float64) float64 { return math.Pow(math.Max(height, lowestWind)/10, shear) }

// blow is all the parts made ready: drag area and the share of the 10 m wind of each.
type blow struct{ area, share float64 }

func blows(parts []Windage) []blow {
	out := make([]blow, len(parts))
	for i, p := range parts {
		out[i] = blow{p.Area * p.Drag, WindShare(p.Height)}
	}
	return out
}

// air is the wind's force along the boat at a speed through the water, holding her back when positive: each part's
// drag lies along the wind it feels, and what counts is its share along the boat.
func air(parts []blow, v float64, w Wind) float64 {
	s, c := math.Sincos(w.From)
	var sum float64
	for _, p := range parts {
		along, across := w.Speed*p.share*c+v, w.Speed*p.share*s
		sum += p.area * math.Sqrt(along*along+across*across) * along
	}
	return airDensity / 2 * sum
}

// AirDrag is the wind's force along the boat, N: positive holds her back, negative drives her.
//
// The frontal drag area is taken for every angle of the wind; the side force is no part of this.
//
// In:     parts; speed through the water, m/s (astern negative); the wind at 10 m
// Error:  ErrInput
// Good to: 30 %, the coefficients being what they are
// Source: ½ rho Cd A |u| u with the wind felt at each part's height
func AirDrag(parts []Windage, v float64, w Wind) (Force, error) {
	if err := w.check(); err != nil {
		return Force{}, err
	}
	if err := within("the speed", v, -100, 100, "m/s"); err != nil {
		return Force{}, err
	}
	for i, p := range parts {
		if err := p.check(); err != nil {
			return Force{}, fmt.Errorf("part %d in the wind: %w", i+1, err)
		}
	}
	f := air(blows(parts), v, w)
	return Force{f, airDoubt * math.Abs(f)}, nil
}
