package gallery

import (
	"fmt"
	"math"

	"thole/internal/sheet"
)

// Field is arms over heel and day of an invented boat that, light, stays over.
func Field() *sheet.Field {
	f := &sheet.Field{Heading: "Arms by heel and day", Alt: "The arm is greatest at 45 degrees on day 0; from day 50 on there is none about 140 degrees.",
		X:         sheet.Axis{Name: "heel to starboard", Unit: "deg", Max: 180, Ticks: []float64{0, 30, 60, 90, 120, 150, 180}},
		Y:         sheet.Axis{Name: "day", Max: 80, Ticks: []float64{0, 20, 40, 60, 80}},
		LimitName: "no arm: she lies there", Under: "the arm heels her further", Shown: 6, Begin: 14, ShownName: "day 60, the day shown", Note: "Every tenth day; invented figures."}
	low, high := 0.0, 0.0
	for d := 0.0; d <= 80; d += 10 {
		f.Ys = append(f.Ys, d)
		var row []float64
		for h := 0.0; h <= 180; h += 10 {
			r := h * math.Pi / 180
			v := math.Round(1000*((0.15-d/1000)*math.Sin(r)+0.08*math.Sin(2*r)+0.03*math.Sin(4*r))*10) / 10
			row = append(row, v)
			low, high = math.Min(low, v), math.Max(high, v)
		}
		f.Values = append(f.Values, row)
	}
	for h := 0.0; h <= 180; h += 10 {
		f.Xs = append(f.Xs, h)
	}
	f.Z = sheet.Axis{Name: "arm", Unit: "mm"}
	f.Z.Min, f.Z.Max, f.Z.Ticks = sheet.Ticks(low, high)
	f.Contour(sheet.Levels(low, high))
	f.Round(1)
	return f
}

// Matrix has every standing in two groups of rows and columns.
func Matrix() *sheet.Matrix {
	m := &sheet.Matrix{Heading: "The matrix", Across: "crew place, and day", Down: "hatches, and ballast", Unit: "mm", Alt: "Of 24 invented states she comes back in 10.",
		Key: []sheet.Word{{Standing: sheet.Holds, Letter: "·", Text: "comes back"}, {Standing: sheet.Tight, Letter: "o", Text: "comes back, by less than asked"},
			{Standing: sheet.Short, Letter: "X", Text: "stays over"}, {Standing: sheet.Lost, Letter: "S", Text: "sinks, or no balance"}},
		Note: "Invented figures."}
	for _, g := range []string{"at the oars", "in the cabin, not strapped"} {
		for _, d := range []string{"0", "40", "80"} {
			m.Columns = append(m.Columns, sheet.Line{Group: g, Name: d})
		}
	}
	standings := []sheet.Standing{sheet.Holds, sheet.Tight, sheet.Short, sheet.Lost, sheet.Absent}
	for i, g := range []string{"hatches shut", "aft hatch open"} {
		for j, b := range []string{"full", "drunk"} {
			m.Rows = append(m.Rows, sheet.Line{Group: g, Name: "ballast " + b})
			var row []sheet.Spot
			for k := range m.Columns {
				n := (i*3 + j + k/2) % len(standings)
				s := sheet.Spot{Standing: standings[n], Value: float64(60 - 40*n - k), Untold: n > 2}
				s.Said = fmt.Sprintf("%s, day %s; %s, ballast %s: state %d", m.Columns[k].Group, m.Columns[k].Name, g, b, n)
				row = append(row, s)
			}
			m.Cells = append(m.Cells, row)
		}
	}
	return m
}

// Bars is weights along an invented boat, piled up, with what bears them as a line.
func Bars() *sheet.Chart {
	c := &sheet.Chart{Heading: "Weights along her", Alt: "Most of the weight lies amidships; she is borne up more at the ends.",
		X: sheet.Axis{Name: "aft of station 0", Unit: "m", Max: 6, Ticks: []float64{0, 1, 2, 3, 4, 5, 6}},
		Y: sheet.Axis{Name: "a metre of her length", Unit: "kg", Max: 250, Ticks: []float64{0, 50, 100, 150, 200, 250}}}
	base := make([]float64, 6)
	for i, name := range []string{"the boat", "fixed gear", "stores", "crew", "ballast"} {
		s := sheet.Series{Name: name, Role: sheet.Thing, Width: 1}
		for k := range 6 {
			x := float64(k) + 0.5
			v := math.Round(60 * math.Exp(-(x-2-float64(i)/2)*(x-2-float64(i)/2)))
			s.X, s.Y, s.Base = append(s.X, x), append(s.Y, v), append(s.Base, base[k])
			base[k] += v
		}
		c.Series = append(c.Series, s)
	}
	line := sheet.Series{Name: "borne by the water", Role: sheet.Main}
	for k := range 6 {
		x := float64(k) + 0.5
		line.X, line.Y = append(line.X, x), append(line.Y, math.Round(160*math.Sin(math.Pi*x/6)))
	}
	c.Series = append(c.Series, line)
	return c
}
