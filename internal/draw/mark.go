package draw

import (
	"math"

	"thole/internal/sheet"
)

// Mark is where a margin stands on its scale. Every place is a share of the
// scale's length from the left. Right of the limit the margin holds.
type Mark struct {
	Limit float64 // the upright stroke
	Asked float64 // the margin asked for
	Dot   float64 // the margin
	Low   float64 // the ends of its spread
	High  float64
	Told  bool // false: it cannot be told, and the dot is hollow
}

// The scale leaves more room on the side where things hold.
const limitAt = 0.35

// MarkOf places a margin on its scale.
//
// In:  the margin, the margin asked for and the half width of its range, in one unit
// Out: places from 0 to 1. The margin asked for stands half way between the limit
// and the right end; a margin of any size still falls on the scale, because
// distance is squeezed as v/(1+v) with v in margins asked for. Order is kept:
// a larger margin always stands further right.
func MarkOf(value, asked, spread float64) Mark {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return NoMark()
	}
	unit := asked
	switch {
	case unit > 0:
	case spread > 0:
		unit = 2 * spread
	case value != 0:
		unit = math.Abs(value)
	default:
		unit = 1
	}
	// v/(1+v) written as 1 - 1/(1+v): each step of that keeps its order when it is
	// rounded, which the quotient does not.
	at := func(v float64) float64 {
		rest := 1 / (1 + math.Abs(v/unit))
		if v < 0 {
			return limitAt * rest
		}
		return limitAt + (1-limitAt)*(1-rest)
	}
	if !(spread > 0) || math.IsInf(spread, 0) {
		spread = 0
	}
	return Mark{Limit: limitAt, Asked: at(unit), Dot: at(value), Low: at(value - spread), High: at(value + spread), Told: true}
}

// NoMark is the scale of a margin that cannot be told.
func NoMark() Mark {
	return Mark{Limit: limitAt, Asked: limitAt + (1-limitAt)/2, Dot: limitAt, Low: limitAt, High: limitAt}
}

// OfMark draws a margin mark on paper.
func OfMark(m Mark, s Size, alt string) Picture {
	h := s.Height
	mid := h / 2
	p := Picture{Width: s.Width, Height: h, Alt: alt, places: 2, Clip: Box{0, 0, s.Width, h}}
	line := func(role sheet.Role, x0, y0, x1, y1 float64) {
		p.Strokes = append(p.Strokes, Stroke{Role: role, Points: [][2]float64{{x0, y0}, {x1, y1}}})
	}
	x := func(share float64) float64 { return share * s.Width }
	line(sheet.Other, 0, mid, s.Width, mid)
	limit := func() { line(sheet.Skin, x(m.Limit), 0.08*h, x(m.Limit), 0.92*h) }
	if !m.Told {
		limit()
		p.Strokes = append(p.Strokes, Stroke{Role: sheet.Other, Points: [][2]float64{{x(m.Dot), mid}}, Radius: 0.26 * h, Hollow: true})
		return p
	}
	line(sheet.Other, x(m.Asked), 0.36*h, x(m.Asked), 0.64*h)
	bar := 0.11 * h
	p.Strokes = append(p.Strokes,
		Stroke{Role: sheet.Thing, Closed: true, Points: [][2]float64{
			{x(m.Low), mid - bar}, {x(m.High), mid - bar}, {x(m.High), mid + bar}, {x(m.Low), mid + bar}}})
	limit()
	p.Strokes = append(p.Strokes,
		Stroke{Role: sheet.Main, Points: [][2]float64{{x(m.Dot), mid}}, Radius: 0.24 * h})
	return p
}
