package heading

import "cmp"

// Coefficients are the numbers of the model that nobody knows for this boat. Vary moves
// each between its ends.
type Coefficients struct {
	Shape    float64  // times every shape coefficient in the wind
	Cross    float64  // Blendermann's cross-force parameter, for oblique winds on long parts
	Shift    float64  // of the wind's centre of pressure, lengths per radian off the beam
	Gradient Gradient // of the wind with height

	CrossFlow  float64 // times the cross-flow drag of the hull
	Lead       float64 // how far ahead of the profile's the centre of that drag lies, lengths
	Forebody   float64 // times the slender-body force and moment
	Cut        float64 // how much further aft, in lengths, the flow leaves the hull
	Resistance float64 // times the surge resistance

	FoilSlope  float64 // times the lift slope of rudder and board
	Plate      float64 // drag coefficient of a foil broadside on
	Stall      float64 // times the angle of stall
	Straighten float64 // share of the drift that a rudder behind the hull feels
	Wake       float64 // share of the speed that it does not feel
}

// Usual are the coefficients as published.
//
// Source: shapes as they stand in the tables; cross-force parameter 0.4 and shift 0.18,
// Blendermann (1994), for small ships, from memory; a square plate broadside on 1.17, Hoerner,
// Fluid-Dynamic Drag, ch. 3; straightening 0.6 and wake 0.15 are modelling choices in the
// range that ship manoeuvring finds for a rudder without a propeller
func Usual() Coefficients {
	return Coefficients{
		Shape: 1, Cross: 0.4, Shift: 0.18, Gradient: Logarithmic(OpenSea),
		CrossFlow: 1, Forebody: 1, Resistance: 1,
		FoilSlope: 1, Plate: 1.17, Stall: 1, Straighten: 0.6, Wake: 0.15,
	}
}

// Doubt is one coefficient with its two ends, between which it lies 19 times in 20 as
// far as can be judged.
type Doubt struct {
	Name, Source string
	Low, High    func(*Coefficients)
}

// Doubts are the doubtful coefficients, the usual ends of each.
//
// Source: beside each; where nothing is published the ends are a judgement, and say so
func Doubts() []Doubt {
	return []Doubt{
		{"wind's force by shape", "IMO MODU Code against measured ships (Blendermann 1994: 0.8 to 1.1): a quarter either way, judged",
			func(c *Coefficients) { c.Shape *= 0.75 }, func(c *Coefficients) { c.Shape *= 1.25 }},
		{"oblique wind", "Blendermann 1994, cross-force parameter 0 to 0.8 over all ships",
			func(c *Coefficients) { c.Cross = 0 }, func(c *Coefficients) { c.Cross = 0.8 }},
		{"shift of the wind's centre", "Blendermann 1994 gives 0.18; a boat with two cabins and a waist was not among his: 0.08 to 0.28, judged",
			func(c *Coefficients) { c.Shift = 0.08 }, func(c *Coefficients) { c.Shift = 0.28 }},
		{"wind near the water", "roughness of the sea a tenth and ten times the open sea's class",
			func(c *Coefficients) { c.Gradient = Logarithmic(OpenSea / 10) }, func(c *Coefficients) { c.Gradient = Logarithmic(OpenSea * 10) }},
		{"hull's cross-flow drag", "Hoerner's curve against round and sharp bilges and keels: 0.7 to 1.5, judged",
			func(c *Coefficients) { c.CrossFlow *= 0.7 }, func(c *Coefficients) { c.CrossFlow *= 1.5 }},
		{"where the cross-flow drag acts", "Hooft, Schiffstechnik 41 (1994), from memory: the drag is not even along a hull; 3 % of the length either way, judged",
			func(c *Coefficients) { c.Lead = -0.03 }, func(c *Coefficients) { c.Lead = 0.03 }},
		{"flow past the forebody", "slender-body theory on a blunt surface hull: 0.7 to 1.2, judged",
			func(c *Coefficients) { c.Forebody *= 0.7 }, func(c *Coefficients) { c.Forebody *= 1.2 }},
		{"where the flow leaves the hull", "Hopkins's bodies scatter by about a tenth of the length; more for hulls",
			func(c *Coefficients) { c.Cut -= 0.15 }, func(c *Coefficients) { c.Cut += 0.1 }},
		{"resistance", "a tenth less to a third more for roughness, growth and waves, judged",
			func(c *Coefficients) { c.Resistance *= 0.9 }, func(c *Coefficients) { c.Resistance *= 1.33 }},
		{"lift of rudder and board", "a flat board against the section measured: 0.8 to 1.1, judged",
			func(c *Coefficients) { c.FoilSlope *= 0.8 }, func(c *Coefficients) { c.FoilSlope *= 1.1 }},
		{"rudder and board broadside", "Hoerner's plates: 1.0 to 1.4 by aspect ratio and the free surface",
			func(c *Coefficients) { c.Plate = 1.0 }, func(c *Coefficients) { c.Plate = 1.4 }},
		{"stall", "a fifth either way, judged",
			func(c *Coefficients) { c.Stall *= 0.8 }, func(c *Coefficients) { c.Stall *= 1.2 }},
		{"flow at the rudder", "straightening 0.3 to 1 over ships' sterns",
			func(c *Coefficients) { c.Straighten = 0.3 }, func(c *Coefficients) { c.Straighten = 1 }},
		{"wake at the rudder", "0 to 0.3 over small craft, judged",
			func(c *Coefficients) { c.Wake = 0 }, func(c *Coefficients) { c.Wake = 0.3 }},
	}
}

// check refuses coefficients that mean nothing.
func (c *Coefficients) check() error {
	return cmp.Or(
		need("the multiplier of shape", c.Shape, 0, 10, "give about 1"),
		need("the cross-force parameter", c.Cross, 0, 1.5, "give 0 to 1"),
		need("the shift of the wind's centre", c.Shift, -0.5, 0.5, "give 0 to 0.3"),
		c.Gradient.check(),
		need("the multiplier of cross-flow drag", c.CrossFlow, 0.01, 10, "give about 1"),
		need("the lead of cross-flow drag", c.Lead, -0.5, 0.5, "give about 0"),
		need("the multiplier of the forebody", c.Forebody, 0, 10, "give about 1"),
		need("the shift of the cut", c.Cut, -1, 1, "give about 0"),
		need("the multiplier of resistance", c.Resistance, 0.01, 100, "give about 1"),
		need("the multiplier of lift", c.FoilSlope, 0.01, 10, "give about 1"),
		need("the plate's drag", c.Plate, 0.1, 3, "give about 1.2"),
		need("the multiplier of stall", c.Stall, 0.1, 3, "give about 1"),
		need("the straightening", c.Straighten, 0, 2, "give 0 to 1"),
		need("the wake", c.Wake, 0, 0.9, "give 0 to 0.3"))
}
