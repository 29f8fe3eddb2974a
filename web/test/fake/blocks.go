package main

import (
	"fmt"
	"math"

	"thole/internal/house/gallery"
	"thole/internal/sheet"
)

// hull is a made-up hull's half-breadth at a share of the length and the depth.
func hull(along, up float64) (x, y, z float64) {
	x = 6.8 * along
	sheer := 0.78 + 0.5*(along-0.45)*(along-0.45)
	keel := 0.32 * math.Pow(math.Abs(2*along-0.96), 4)
	z = keel + (sheer-keel)*up
	y = 0.82 * math.Pow(math.Sin(math.Pi*(0.04+0.92*along)), 0.75) * math.Pow(up, 0.42)
	return x, y, z
}

func section(along, turn float64) [][2]float64 {
	var points [][2]float64
	for side := -1.0; side <= 1; side += 2 {
		for i := range 13 {
			up := float64(i) / 12
			if side < 0 {
				up = 1 - up
			}
			_, y, z := hull(along, up)
			y, z = side*y, z-0.35
			points = append(points, [2]float64{y*math.Cos(turn) + z*math.Sin(turn), z*math.Cos(turn) - y*math.Sin(turn)})
		}
	}
	return points
}

func arms(day int) (heels, arm, earlier []float64) {
	for h := 0.0; h <= 180; h += 5 {
		r := h * math.Pi / 180
		heels = append(heels, h)
		earlier = append(earlier, 1000*(0.19*math.Sin(r)+0.06*math.Sin(2*r)+0.03*math.Sin(4*r)))
		fade := 1 - float64(day)/300
		arm = append(arm, 1000*(fade*0.19*math.Sin(r)+0.06*math.Sin(2*r)+0.03*math.Sin(4*r)))
	}
	return heels, arm, earlier
}

func rightBlocks(day int, condition string) []sheet.Block {
	heels, arm, earlier := arms(day)
	turn := 148 * math.Pi / 180
	return []sheet.Block{
		{Chart: &sheet.Chart{
			Heading: "The arm that turns her upright",
			X:       sheet.Axis{Name: "heel", Unit: "deg", Max: 180, Ticks: []float64{0, 30, 60, 90, 120, 150, 180}},
			Y:       sheet.Axis{Name: "righting arm", Unit: "mm", Min: -50, Max: 300, Ticks: []float64{-50, 0, 50, 100, 150, 200, 250, 300}},
			Series: []sheet.Series{
				{Name: fmt.Sprintf("day %d, %s", day, condition), X: heels, Y: arm, Role: sheet.Main},
				{Name: "day 0", X: heels, Y: earlier, Role: sheet.Other},
				{Name: "least arm asked for", X: []float64{0, 180}, Y: []float64{20, 20}, Role: sheet.Limit},
			},
			Marks: []sheet.Mark{{X: 145, Y: arm[29], Text: "least arm", Role: sheet.Main}},
			Alt:   "The righting arm stays above nothing from 0 to 180 degrees of heel; it is least at 148 degrees.",
		}},
		{Drawing: &sheet.Drawing{
			Heading: "Held at 148 degrees", MinX: -1.2, MaxX: 1.2, MinY: -0.9, MaxY: 0.9,
			Paths: []sheet.Path{
				{Role: sheet.Sea, Points: [][2]float64{{-1.2, -0.9}, {1.2, -0.9}, {1.2, 0.1}, {-1.2, 0.1}}, Closed: true},
				{Role: sheet.Body, Name: "the hull at station 5", Points: section(0.5, turn), Closed: true},
				{Role: sheet.Water, Name: "the sea", Points: [][2]float64{{-1.2, 0.1}, {1.2, 0.1}}},
				{Role: sheet.Thing, Name: "centre of gravity", Points: [][2]float64{{0.02, 0.05}, {0.06, 0.09}, {0.02, 0.13}, {-0.02, 0.09}}, Closed: true},
				{Role: sheet.Pointer, Points: [][2]float64{{0.05, 0.1}, {0.6, 0.55}}},
			},
			Labels: []sheet.Label{{X: 0.62, Y: 0.57, Text: "gravity", Anchor: "start", Role: sheet.Main}, {X: -1.15, Y: 0.14, Text: "the sea", Anchor: "start", Role: sheet.Water}},
			Alt:    "A cross-section of the hull lying at 148 degrees in the water.",
		}},
		{Figures: &sheet.Figures{Heading: "On this day", Rows: []sheet.Figure{
			{Name: "Least arm", Value: arm[29], Unit: "mm", Places: 0, Spread: 17},
			{Name: "at a heel of", Value: 148, Unit: "deg", Places: 0},
			{Name: "Arm runs out at", Text: "never", Why: "the first heel at which the arm falls to nothing"},
			{Name: "Area under the curve to 30°", Value: 0.0213, Unit: "m·rad", Places: 4},
			{Name: "Displacement", Value: 1014 - 4.5*float64(day), Unit: "kg", Places: 0, Spread: 31},
		}}},
		{Table: &sheet.Table{
			Heading: "Least arm by day and crew place",
			Columns: []sheet.Column{{Name: "day", Text: true}, {Name: "at the oars", Unit: "mm"}, {Name: "in the cabin", Unit: "mm"}, {Name: "outside", Unit: "mm"}, {Name: "displacement", Unit: "kg"}},
			Rows: [][]sheet.Cell{
				{{Text: "0"}, {Value: 61}, {Value: 58}, {Value: 72}, {Value: 1014}},
				{{Text: "30"}, {Value: 49}, {Value: 46}, {Value: 60}, {Value: 879}},
				{{Text: "61"}, {Value: 41}, {Value: 38, Loud: true}, {Value: 52}, {Value: 740}},
				{{Text: "80"}, {Value: 43}, {Value: 40}, {Empty: true}, {Value: 662}},
			},
			Note: "Outside: in the water on a tether; she does not carry the rower's weight.",
		}},
		{Field: gallery.Field()},
		{Matrix: gallery.Matrix()},
		{Map: gallery.Map()},
		{Solid: rightSolid(turn)},
		{Warning: &sheet.Warning{Text: "An open hatch undoes all of this: with the aft hatch open she fills at 104 degrees."}},
		{Sources: &sheet.Sources{Rows: []sheet.Source{{What: "Righting arms, free to trim", Source: "invented for a test"}}}},
	}
}

func rightSolid(turn float64) *sheet.Solid {
	s := &sheet.Solid{
		Heading: "How she lies", Up: [3]float64{0, math.Sin(turn), math.Cos(turn)}, Level: -0.42,
		Alt: "The hull lying on her side at 148 degrees, two thirds of her above the water.",
	}
	for _, side := range []float64{-1, 1} {
		surface := sheet.Surface{Role: sheet.Skin, Name: "hull"}
		for i := range 21 {
			var row [][3]float64
			for j := range 13 {
				x, y, z := hull(float64(i)/20, float64(j)/12)
				row = append(row, [3]float64{x, side * y, z})
			}
			surface.Rows = append(surface.Rows, row)
		}
		s.Surfaces = append(s.Surfaces, surface)
	}
	deck := sheet.Surface{Role: sheet.Body, Name: "deck"}
	for i := range 21 {
		x, y, z := hull(float64(i)/20, 1)
		deck.Rows = append(deck.Rows, [][3]float64{{x, -y, z}, {x, 0, z + 0.05}, {x, y, z}})
	}
	s.Surfaces = append(s.Surfaces, deck)
	return s
}

func floatBlocks(day int, _ string) []sheet.Block {
	return []sheet.Block{
		{Figures: &sheet.Figures{Rows: []sheet.Figure{
			{Name: "Draft", Value: 0.342 - 0.0008*float64(day), Unit: "m", Places: 3, Why: "to the deepest point of the keel"},
			{Name: "Trim by the stern", Value: 0.52, Unit: "deg", Places: 2},
			{Name: "Metacentric height", Value: 0.318, Unit: "m", Places: 3, Spread: 0.02},
			{Name: "Beam", Text: "5 ft 4 3/8 in"},
		}}},
		{Text: &sheet.Text{Heading: "Reading the marks", Paragraphs: []string{"The marks are cut 22 mm lower than she floats on leaving; the lockers that come into use first lie aft, so she rises by the stern."}}},
	}
}

func loftBlocks(int, string) []sheet.Block {
	d := &sheet.Drawing{Heading: "Body plan", MinX: -0.95, MaxX: 0.95, MinY: -0.5, MaxY: 0.75, Alt: "Eleven stations of the hull seen from the end."}
	for i := range 11 {
		d.Paths = append(d.Paths, sheet.Path{Role: sheet.Other, Name: fmt.Sprintf("station %d", i), Points: section(float64(i)/10, 0)})
	}
	d.Paths = append(d.Paths, sheet.Path{Role: sheet.Grid, Points: [][2]float64{{0, -0.5}, {0, 0.75}}})
	d.Paths[5].Role = sheet.Main
	offsets := &sheet.Table{Heading: "Table of offsets", Columns: []sheet.Column{{Name: "line", Text: true}}}
	heights := []sheet.Cell{{Text: "half-breadth at the sheer"}}
	for i := range 13 {
		x, y, _ := hull(float64(i)/12, 1)
		offsets.Columns = append(offsets.Columns, sheet.Column{Name: fmt.Sprintf("%.3f", x), Unit: "mm"})
		heights = append(heights, sheet.Cell{Value: 1000 * y})
	}
	offsets.Rows = [][]sheet.Cell{heights}
	return []sheet.Block{{Drawing: d}, {Table: offsets}}
}

func floodBlocks(int, string) []sheet.Block {
	return []sheet.Block{{Table: &sheet.Table{
		Columns: []sheet.Column{{Name: "open to the sea", Text: true}, {Name: "least coaming", Unit: "mm"}, {Name: "heel", Unit: "deg", Places: 1}},
		Rows: [][]sheet.Cell{
			{{Text: "fore cabin"}, {Value: 61}, {Value: 0.2}},
			{{Text: "aft cabin"}, {Value: 88}, {Value: 0.1}},
			{{Text: "fore cabin and port food locker 301"}, {Value: -46, Loud: true}, {Value: 4.8}},
		},
	}}}
}
