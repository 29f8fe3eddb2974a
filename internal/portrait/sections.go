package portrait

import (
	"fmt"
	"math"

	"thole/internal/afloat"
	"thole/internal/hydro"
	"thole/internal/sheet"
)

// Sections is the body plan: her measured cuts seen from ahead on the right (the fore
// body) and from astern on the left (the after body), with cabins dashed and the water amidships at an attitude.
func Sections(t *afloat.Trip, a hydro.Attitude) sheet.Drawing {
	p := pen{trip: t}
	hull := t.Ship.Hull
	lo, hi := t.Ship.Body.Envelope.Box()
	width := hi[1] * 1.15
	p.d.MinX, p.d.MaxX, p.d.MinY, p.d.MaxY = -width, width, lo[2]-0.08, hi[2]+0.08
	mid := (hull.From + hull.To) / 2
	pl := a.Plane()
	// across the paper the after body is turned over, so the water's slope is shown level
	level := (pl.Level + pl.Slope*mid) / pl.Cos
	p.add(sheet.Sea, "the sea", true, [][2]float64{{-width, level}, {width, level}, {width, p.d.MinY}, {-width, p.d.MinY}})
	p.add(sheet.Grid, "centre line", false, [][2]float64{{0, p.d.MinY}, {0, p.d.MaxY}})
	stations := hull.Surface.Stations()
	side := func(x float64) float64 {
		if x > mid {
			return -1
		}
		return 1
	}
	for i, x := range stations {
		var line [][2]float64
		for _, q := range hull.Surface.Half(x) {
			line = append(line, [2]float64{side(x) * q.Y, q.Z})
		}
		top := line[len(line)-1]
		_, crown := hull.Span(x)
		const steps = 6
		for k := 1; k <= steps; k++ {
			f := 1 - float64(k)/steps
			line = append(line, [2]float64{top[0] * f, top[1] + (crown-top[1])*(1-f*f)})
		}
		role := sheet.Other
		if i == nearest(stations, mid) {
			role = sheet.Skin
		}
		p.add(role, fmt.Sprintf("cut at %.2f m", x), false, line)
	}
	for _, c := range t.Ship.Cabins {
		for _, x := range []float64{c.From, c.To} {
			var line [][2]float64
			for _, q := range c.Surface.Half(x) {
				line = append(line, [2]float64{side((c.From+c.To)/2) * q.Y, q.Z})
			}
			p.add(sheet.Limit, c.Name, false, line)
		}
	}
	p.add(sheet.Water, "water amidships", false, [][2]float64{{-width, level}, {width, level}})
	p.d.Labels = append(p.d.Labels,
		sheet.Label{X: -width, Y: p.d.MaxY - 0.04, Text: "after body", Anchor: "start", Role: sheet.Grid},
		sheet.Label{X: width, Y: p.d.MaxY - 0.04, Text: "fore body", Anchor: "end", Role: sheet.Grid})
	p.d.Heading = "Her cuts, faired"
	p.d.Alt = fmt.Sprintf("Body plan of %d cuts: the fore body on the right, the after body on the left, cabins dashed, the water amidships %.0f mm above the base line.", len(stations), 1000*level)
	return p.d
}

// nearest is the index of the station nearest amidships.
func nearest(stations []float64, mid float64) int {
	best := 0
	for i, x := range stations {
		if math.Abs(x-mid) < math.Abs(stations[best]-mid) {
			best = i
		}
	}
	return best
}
