package draw

import (
	"math"
	"strconv"
	"strings"

	"thole/internal/sheet"
)

// OfChart lays a chart out: the plot with its grid, axes named with their unit,
// a key line for the curves, and the named points.
func OfChart(c sheet.Chart, s Size) Picture {
	p := Picture{Width: s.Width, Height: s.Height, Title: c.Heading, Alt: c.Alt, places: 2}
	t := s.Text
	top := 1.6 * t
	if len(c.Series) > 1 {
		top += 1.6 * t * float64(p.key(c.Series, t, top))
	}
	left := 0.0
	for _, v := range c.Y.Ticks {
		left = math.Max(left, TextWidth(Number(v, c.Y.Places), t))
	}
	left += 0.8 * t
	frame := Box{left, top, s.Width - 1.2*t, s.Height - 3.2*t}
	p.Clip = frame
	at := func(x, y float64) [2]float64 {
		return [2]float64{
			frame.MinX + (x-c.X.Min)/span(c.X)*(frame.MaxX-frame.MinX),
			frame.MaxY - (y-c.Y.Min)/span(c.Y)*(frame.MaxY-frame.MinY),
		}
	}
	p.axes(c, frame, at, t)
	for i, curve := range bars(c.Series) {
		p.bars(curve, i, at)
	}
	turn := map[sheet.Role]int{}
	for _, curve := range c.Series {
		if curve.Width > 0 {
			continue
		}
		for _, run := range runs(curve) {
			line := Stroke{Role: curve.Role, Name: curve.Name, Clipped: true, Turn: turn[curve.Role]}
			for _, q := range run {
				line.Points = append(line.Points, at(q[0], q[1]))
			}
			p.Strokes = append(p.Strokes, line)
		}
		turn[curve.Role]++
	}
	var tags []Word
	for _, m := range c.Marks {
		q := at(m.X, m.Y)
		if !finite([][2]float64{q}) {
			continue
		}
		p.Strokes = append(p.Strokes, Stroke{Role: m.Role, Points: [][2]float64{q}, Radius: 0.32 * t})
		tags = append(tags, Word{X: q[0] + 0.6*t, Y: q[1] - 0.5*t, Size: t, Text: m.Text, Anchor: "start", Role: m.Role})
	}
	p.place(tags)
	return p
}

// span is an axis's length, never nothing.
func span(a sheet.Axis) float64 {
	if a.Max > a.Min {
		return a.Max - a.Min
	}
	return 1
}

// runs splits a curve where a value is missing.
func runs(s sheet.Series) [][][2]float64 {
	var out [][][2]float64
	var run [][2]float64
	for i := 0; i < len(s.X) && i < len(s.Y); i++ {
		q := [2]float64{s.X[i], s.Y[i]}
		if finite([][2]float64{q}) {
			run = append(run, q)
			continue
		}
		if len(run) > 0 {
			out, run = append(out, run), nil
		}
	}
	if len(run) > 0 {
		out = append(out, run)
	}
	return out
}

// axes draws the grid, the numbers and the names.
func (p *Picture) axes(c sheet.Chart, f Box, at func(x, y float64) [2]float64, t float64) {
	line := func(role sheet.Role, a, b [2]float64) {
		p.Strokes = append(p.Strokes, Stroke{Role: role, Points: [][2]float64{a, b}})
	}
	last := math.Inf(-1)
	for _, v := range c.X.Ticks {
		q := at(v, c.Y.Min)
		line(sheet.Grid, [2]float64{q[0], f.MinY}, [2]float64{q[0], f.MaxY})
		w := Word{X: q[0], Y: f.MaxY + 1.2*t, Size: t, Text: Number(v, c.X.Places), Anchor: "middle", Role: sheet.Pointer}
		if b := w.box(); b.MinX > last {
			p.Words, last = append(p.Words, w), b.MaxX+0.4*t
		}
	}
	for _, v := range c.Y.Ticks {
		q := at(c.X.Min, v)
		line(sheet.Grid, [2]float64{f.MinX, q[1]}, [2]float64{f.MaxX, q[1]})
		p.Words = append(p.Words, Word{X: f.MinX - 0.4*t, Y: q[1] + 0.35*t, Size: t, Text: Number(v, c.Y.Places), Anchor: "end", Role: sheet.Pointer})
	}
	line(sheet.Other, [2]float64{f.MinX, f.MinY}, [2]float64{f.MinX, f.MaxY})
	foot := f.MaxY
	if c.Y.Min < 0 && c.Y.Max > 0 {
		foot = at(c.X.Min, 0)[1]
	}
	line(sheet.Other, [2]float64{f.MinX, foot}, [2]float64{f.MaxX, foot})
	p.Words = append(p.Words,
		Word{X: 0, Y: 0.9 * t, Size: t, Text: Named(c.Y), Anchor: "start", Role: sheet.Main},
		Word{X: f.MaxX, Y: f.MaxY + 2.7*t, Size: t, Text: Named(c.X), Anchor: "end", Role: sheet.Main})
}

// key sets a sample and the name of each curve in lines under y and returns how
// many lines it took.
func (p *Picture) key(curves []sheet.Series, t, y float64) int {
	x, lines := 0.0, 1
	turn, piled := map[sheet.Role]int{}, 0
	for _, c := range curves {
		w := 3.4*t + TextWidth(c.Name, t)
		if x > 0 && x+w > p.Width {
			x, lines = 0, lines+1
		}
		foot := y + 1.6*t*float64(lines) - 0.7*t
		p.Words = append(p.Words, Word{X: x + 2.8*t, Y: foot, Size: t, Text: c.Name, Anchor: "start", Role: sheet.Main})
		if c.Width > 0 {
			p.free(func(q *Picture) { q.filled(Box{x, foot - 0.8*t, x + 2.2*t, foot + 0.1*t}, piled, c.Name) })
			x, piled = x+w+1.4*t, piled+1
			continue
		}
		p.Strokes = append(p.Strokes, Stroke{Role: c.Role, Turn: turn[c.Role],
			Points: [][2]float64{{x, foot - 0.3*t}, {x + 2.4*t, foot - 0.3*t}}})
		x += w + 1.4*t
		turn[c.Role]++
	}
	return lines
}

// Named is an axis's name with its unit.
func Named(a sheet.Axis) string {
	if a.Unit == "" {
		return a.Name
	}
	return a.Name + ", " + a.Unit
}

// Number writes a value with so many digits behind the point and a true minus.
func Number(v float64, places int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "?"
	}
	if places < 0 {
		places = 0
	}
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return strings.Replace(s, "-", "−", 1)
}
