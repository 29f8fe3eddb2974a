package gallery

import (
	"context"
	"fmt"
	"math"

	"thole/internal/answer"
	"thole/internal/sheet"
)

// Patterns are two invented parts to cut and a drawing that is none: a mould of
// a round hull with bevels, a plank 5.2 m long, and lines of a hull.
func Patterns() []sheet.Pattern { return []sheet.Pattern{Mould(), Plank(), Lines()} }

// Mould is a round mould 1.2 m wide and 0.75 m high: a half ellipse under a
// straight top, with its centre line, set-up line and a bevel at every point.
func Mould() sheet.Pattern {
	const half, deep = 0.6, 0.6
	p := sheet.Pattern{Name: "mould-5", Title: "Mould 5, at 2.20 m", Face: "seen from astern; its body stands ahead of the line",
		Thickness: 0.018, Count: 1, Notes: []string{
			"Plank thickness of 9 mm is taken off square to the skin.",
			"Mark the centre line and the set-up line on both faces before it leaves the floor."},
		Drawing: sheet.Drawing{Heading: "Mould 5", MinX: -0.6, MaxX: 0.6, MinY: 0, MaxY: 0.75, Alt: "An invented round mould."}}
	outline := [][2]float64{{half, 0.75}, {-half, 0.75}}
	for i := 0; i <= 120; i++ {
		s, c := math.Sincos(math.Pi * float64(i) / 120)
		outline = append(outline, [2]float64{-half * c, deep * (1 - s)})
	}
	d := &p.Drawing
	d.Paths = []sheet.Path{
		{Role: sheet.Grid, Name: "centre line", Points: [][2]float64{{0, 0}, {0, 0.75}}},
		{Role: sheet.Limit, Name: "set-up line", Points: [][2]float64{{-half, 0.65}, {half, 0.65}}},
		{Role: sheet.Skin, Name: "cut here", Points: outline, Closed: true}}
	d.Labels = []sheet.Label{
		{X: 0.02, Y: 0.4, Text: "centre line", Anchor: "start", Role: sheet.Grid},
		{X: -0.2, Y: 0.66, Text: "set-up line, 0.650 m above base", Anchor: "middle", Role: sheet.Limit}}
	for i := 0; i <= 8; i++ {
		s, c := math.Sincos(math.Pi * float64(i) / 8)
		p.Points = append(p.Points, sheet.PlotPoint{Name: fmt.Sprintf("p%d", i+1), X: -half * c, Y: deep * (1 - s),
			Bevel: (12*s - 2) * math.Pi / 180, HasBevel: true})
	}
	return p
}

// Plank is a crescent 5.2 m long and about 0.16 m wide.
func Plank() sheet.Pattern {
	p := sheet.Pattern{Name: "plank-3", Title: "Plank 3, from the keel", Face: "inside of the plank, port; turn it over for starboard",
		Thickness: 0.006, Count: 2, Notes: []string{"Length along the upper edge, with the scarf: measure the lap before cutting."},
		Drawing: sheet.Drawing{Heading: "Plank 3", MinX: 0, MaxX: 5.2, MinY: 0, MaxY: 0.5, Alt: "An invented plank."}}
	low := func(x float64) float64 { u := x/2.6 - 1; return 0.32 * u * u }
	wide := func(x float64) float64 { u := x/2.6 - 1; return 0.06 + 0.12*(1-u*u) }
	var outline [][2]float64
	for i := 0; i <= 130; i++ {
		x := 5.2 * float64(i) / 130
		outline = append(outline, [2]float64{x, low(x)})
	}
	for i := 130; i >= 0; i-- {
		x := 5.2 * float64(i) / 130
		outline = append(outline, [2]float64{x, low(x) + wide(x)})
	}
	p.Drawing.Paths = []sheet.Path{{Role: sheet.Skin, Name: "cut here", Points: outline, Closed: true}}
	for i := 0; i <= 13; i++ {
		x := 0.4 * float64(i)
		p.Points = append(p.Points, sheet.PlotPoint{Name: fmt.Sprintf("lower %d", i), X: x, Y: low(x)})
	}
	for i := 0; i <= 13; i++ {
		x := 0.4 * float64(i)
		p.Points = append(p.Points, sheet.PlotPoint{Name: fmt.Sprintf("upper %d", i), X: x, Y: low(x) + wide(x)})
	}
	return p
}

// Lines is a drawing that is no part: a sheer and waterlines of an invented hull.
func Lines() sheet.Pattern {
	p := sheet.Pattern{Name: "lines", Title: "Lines", Face: "profile, bow to the left",
		Drawing: sheet.Drawing{Heading: "Lines", MaxX: 6.2, MaxY: 1, Alt: "Lines of an invented hull."}}
	for k := range 4 {
		var line [][2]float64
		for i := 0; i <= 62; i++ {
			x := float64(i) / 10
			u := x/3.1 - 1
			line = append(line, [2]float64{x, 0.2*float64(k) + 0.3*u*u})
		}
		role := sheet.Other
		if k == 0 {
			role = sheet.Skin
		}
		p.Drawing.Paths = append(p.Drawing.Paths, sheet.Path{Role: role, Points: line})
	}
	return p
}

// Cutting is a question whose answer holds the patterns.
func Cutting() answer.Question {
	return answer.Question{ID: "cutting", Title: "What shape do I cut?", Group: answer.Shape,
		Ask: func(context.Context, *answer.Case, answer.Options) (answer.Answer, error) {
			return answer.Answer{Question: "cutting", Title: "What shape do I cut?", Verdict: answer.Yes,
				Sentence: "Two invented parts, ready to cut.", Cautions: []string{answer.CalculatedNotTested}, Patterns: Patterns()}, nil
		}}
}
