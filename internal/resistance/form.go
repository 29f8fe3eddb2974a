package resistance

import "math"

// HoltropForm is the form factor k: what a hull's thickness adds to its friction, as a share of it.
//
// In:     length, beam, draft and volume of the hull; the prismatic coefficient; centre of volume as a percentage of the
// length forward of the middle; stern shape, -10 for V sections, 0 ordinary, +10 for U sections
// Good to: fitted to ships of Cp 0.55 to 0.85 and length over beam 3.9 to 15; a rowing boat stands at its edge
// Source: Holtrop & Mennen, International Shipbuilding Progress 29 (1982), with its worked ship (TestHoltrop)
func HoltropForm(length, beam, draft, cp, centre, stern float64) float64 {
	cp = math.Max(0.3, math.Min(cp, 0.9)) // its terms have no meaning beyond
	run := length * (1 - cp + 0.06*cp*centre/(4*cp-1))
	t := draft / length
	var c12 float64
	switch {
	case t > 0.05:
		c12 = math.Pow(t, 0.2228446)
	case t > 0.02:
		c12 = 48.20*math.Pow(t-0.02, 2.078) + 0.479948
	default:
		c12 = 0.479948
	}
	c13 := 1 + 0.003*stern
	return c13*(0.93+c12*math.Pow(beam/run, 0.92497)*math.Pow(0.95-cp, -0.521448)*math.Pow(1-cp+0.0225*centre, 0.6906)) - 1
}

// WatanabeForm is a second opinion on the form factor.
//
// Source: Watanabe (1970s), k = -0.095 + 25.6 Cb / ((L/B)² sqrt(B/T)), from memory
func WatanabeForm(length, beam, draft, cb float64) float64 {
	return -0.095 + 25.6*cb/((length/beam)*(length/beam)*math.Sqrt(beam/draft))
}

// Form is the hull's form factor k and its doubt: the mean of Holtrop & Mennen and of Watanabe, both made for ships,
// held to 0..0.6; the spread is their difference, never under 0.06.
func (h *Hull) Form() (k, spread float64) {
	middle := (h.From + h.To) / 2
	centre := math.Max(-5, math.Min(100*(middle-h.Centre)/h.Length, 5)) // forward of the middle, in %
	a := HoltropForm(h.Length, h.Beam, h.Draft, h.Cp(), centre, 0)
	b := WatanabeForm(h.Length, h.Beam, h.Draft, h.Cb())
	hold := func(k float64) float64 { return math.Max(0, math.Min(k, 0.6)) }
	a, b = hold(a), hold(b)
	return (a + b) / 2, math.Max(0.06, math.Abs(a-b))
}

// TransomDrag is what an immersed transom drags along, N.
//
// In:     speed m/s, 0 or more; density kg/m³
// Source: Holtrop & Mennen (1982): ½ rho v² A c6, c6 = 0.2 (1 - 0.2 Fn) of the transom, nothing once it is dry (Fn 5)
func (h *Hull) TransomDrag(v, density float64) float64 {
	if h.Transom == 0 || v <= 0 {
		return 0
	}
	fn := v / math.Sqrt(2*Gravity*h.Transom/(h.Beam+h.Beam*h.Waterplane/(h.Length*h.Beam)))
	return density / 2 * v * v * h.Transom * 0.2 * math.Max(0, 1-0.2*fn)
}
