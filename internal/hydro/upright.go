package hydro

import (
	"math"
)

// Hydrostatics is what a float plan says of a body at rest. Lengths are metres
// in the boat's frame; metacentric heights are square to the water she lies in.
type Hydrostatics struct {
	Rest       Rest
	Mass       float64 // kg
	Volume     float64 // m³
	Draft      float64 // of the lowest point of the body below the water
	LCB, TCB   float64 // x and y of the centre of buoyancy
	VCB        float64 // its z, above the base line
	KB         float64 // its height above the lowest point, square to the water
	BM, BML    float64 // from buoyancy to the transverse and lengthwise metacentres
	GM, GML    float64 // from gravity to them
	Waterplane float64 // area, m²
	LCF        float64 // x of the waterplane's centroid
	Wetted     float64 // m²
	Length     float64 // of the waterline
	Beam       float64 // of the waterline, greatest
	Midship    float64 // greatest immersed area of a cut, m²
	Cb, Cp     float64 // block and prismatic coefficients, on waterline length and beam and the draft
	Cwp        float64 // waterplane coefficient
}

// Upright works out the hydrostatics where the body rests from upright.
//
// Error: as Float
func Upright(b *Body, l Load, sea Sea) (Hydrostatics, error) {
	r, err := Float(b, l, sea, nil)
	if err != nil {
		return Hydrostatics{}, err
	}
	return Measure(b, l, r), nil
}

// Measure works out the hydrostatics of a rest.
//
// Good to: rounding for boxes and wedges; as the cuts elsewhere
// Source: Rawson & Tupper, Basic Ship Theory, ch. 3 (definitions)
func Measure(b *Body, l Load, r Rest) Hydrostatics {
	m := &r.Sums
	s, c := math.Sincos(r.Heel)
	tilt := 1 / math.Sqrt(1+r.Slope*r.Slope) // cosine of the trim
	v := m.Volume
	h := Hydrostatics{Rest: r, Mass: l.Mass, Volume: v, LCB: m.X / v}
	across, up := m.Across/v, m.Up/v
	h.TCB, h.VCB = across*c-up*s, across*s+up*c
	p := r.Plane()
	h.Draft = b.Envelope.Lowest(p)
	// depth of the buoyancy below the water, square to it
	h.KB = h.Draft - (r.Level+r.Slope*h.LCB-up)*tilt
	// The cut surface is longer than its shadow on the length by 1/cos(trim).
	area := m.Breadth / tilt
	if m.Breadth > 0 {
		xf, yf := m.BreadthX/m.Breadth, m.Offset/m.Breadth
		h.LCF = xf
		h.BM = (m.OffsetOffset/tilt - area*yf*yf) / v
		h.BML = (m.BreadthXX - m.Breadth*xf*xf) / (tilt * tilt * tilt) / v
	}
	h.Waterplane = area
	gUp := l.G.Z*c - l.G.Y*s
	lift := ((gUp - up) - r.Slope*(l.G.X-h.LCB)) * tilt // of G above B, square to the water
	h.GM, h.GML = h.BM-lift, h.BML-lift
	h.Wetted = b.Envelope.Wetted(p)
	e := b.Envelope.Waterline(p)
	h.Length, h.Beam, h.Midship = (e.To-e.From)/tilt, e.Beam, e.Area
	if box := h.Length * h.Beam * h.Draft; box > 0 {
		h.Cb = v / box
	}
	if h.Midship > 0 && h.Length > 0 {
		h.Cp = v / (h.Midship * h.Length)
	}
	if h.Length > 0 && h.Beam > 0 {
		h.Cwp = area / (h.Length * h.Beam)
	}
	return h
}
