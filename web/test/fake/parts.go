package main

import (
	"fmt"
	"math"

	"thole/internal/sheet"
)

// parts are made-up parts to cut: a plan, two moulds with points and one part
// that lists none.
func parts() []sheet.Pattern {
	plan := sheet.Drawing{Heading: "Plan", MaxX: 6.8, MinY: -0.1, MaxY: 0.9, Alt: "The hull's half-breadth at the sheer."}
	edge := sheet.Path{Role: sheet.Skin, Name: "sheer"}
	for i := range 41 {
		x, y, _ := hull(float64(i)/40, 1)
		edge.Points = append(edge.Points, [2]float64{x, y})
	}
	plan.Paths = []sheet.Path{{Role: sheet.Grid, Points: [][2]float64{{0, 0}, {6.8, 0}}}, edge}
	out := []sheet.Pattern{{Name: "plan", Title: "Plan of Whimbrel, half of her", Face: "seen from above; bow to the left", Drawing: plan}}
	for i, along := range []float64{0.3, 0.5} {
		out = append(out, mould(i+1, along))
	}
	return append(out, sheet.Pattern{Name: "knee", Title: "Knee", Face: "either face", Thickness: 0.024, Count: 2,
		Drawing: sheet.Drawing{MaxX: 0.3, MaxY: 0.3, Alt: "A knee with equal arms.", Paths: []sheet.Path{
			{Role: sheet.Skin, Name: "cut here", Points: [][2]float64{{0.02, 0.02}, {0.28, 0.02}, {0.02, 0.28}}, Closed: true}}}})
}

func mould(n int, along float64) sheet.Pattern {
	p := sheet.Pattern{Name: fmt.Sprintf("mould-%02d", n), Title: fmt.Sprintf("Mould %d, %.3f m aft of station 0", n, 6.8*along),
		Face: "its body stands ahead of the face drawn", Thickness: 0.018, Count: 1,
		Notes: []string{"9 mm taken off square to the skin.", "Check: set-up line to keel 1.129 m."}}
	p.Drawing = sheet.Drawing{Heading: p.Title, MinX: -0.9, MaxX: 0.9, MinY: -0.05, MaxY: 1.25, Alt: "A mould, keel down, squared off at the set-up line.",
		Paths: []sheet.Path{{Role: sheet.Main, Name: "set-up line", Points: [][2]float64{{-0.8, 1.2}, {0.8, 1.2}}}}}
	skin := sheet.Path{Role: sheet.Skin, Name: "cut here"}
	for side := -1.0; side <= 1; side += 2 {
		for i := range 19 {
			up := float64(i) / 18
			if side < 0 {
				up = 1 - up
			}
			_, y, z := hull(along, up)
			skin.Points = append(skin.Points, [2]float64{side * y, z})
			if side > 0 {
				p.Points = append(p.Points, sheet.PlotPoint{Name: fmt.Sprint(i), X: y, Y: z, Bevel: (up - 0.4) * 30 * math.Pi / 180, HasBevel: true})
			}
		}
	}
	p.Points[0].Name, p.Points[18].Name = "keel", "sheer"
	p.Drawing.Paths = append(p.Drawing.Paths, skin)
	return p
}
