package terminal

import (
	"math"
	"slices"
	"strings"

	"thole/internal/draw"
	"thole/internal/sheet"
)

// chartRows is how many lines the plot of a chart takes.
const chartRows = 16

// chart draws curves over one axis. Curves of different roles differ in how the
// line is made, several of one role in the letter laid along them.
func (p *page) chart(c *sheet.Chart) {
	p.heading(c.Heading)
	left := 0
	for _, v := range c.Y.Ticks {
		left = max(left, columns(p.look.say(draw.Number(v, c.Y.Places))))
	}
	cols := min(p.look.Width, 76) - left - 2
	cv := newCanvas(cols, chartRows, p.look)
	at := func(x, y float64) (float64, float64) {
		return (x - c.X.Min) / reach(c.X) * float64(cv.wide()-1), float64(cv.tall()-1) * (1 - (y-c.Y.Min)/reach(c.Y))
	}
	if c.Y.Min < 0 && c.Y.Max > 0 {
		_, y := at(c.X.Min, 0)
		step := 0
		cv.line(0, y, float64(cv.wide()-1), y, pen{on: 1, off: 3, sign: '.'}, &step)
	}
	legend := append(p.bars(cv, c, at), p.marks(cv, c, at)...)
	legend = append(p.curves(cv, c, at), legend...)
	p.line(p.look.say(draw.Named(c.Y)))
	p.plot(cv, c, left)
	for _, l := range legend {
		p.hang(2, l[0]+"  ", l[1])
	}
	if c.Alt != "" {
		p.para(0, c.Alt)
	}
}

// reach is an axis's length, never nothing.
func reach(a sheet.Axis) float64 {
	if a.Max > a.Min {
		return a.Max - a.Min
	}
	return 1
}

// curves draws every series and returns what each looks like.
func (p *page) curves(cv *canvas, c *sheet.Chart, at func(x, y float64) (float64, float64)) [][2]string {
	var legend [][2]string
	letter := 'a'
	for _, s := range c.Series {
		if s.Width > 0 {
			continue
		}
		pen, sample := p.pen(s.Role)
		tag := rune(0)
		if s.Role == sheet.Other {
			tag, letter = letter, letter+1
			sample = string(tag)
		}
		step, drawn := 0, 0
		n := min(len(s.X), len(s.Y))
		for i := range n {
			x, y := at(s.X[i], s.Y[i])
			if i > 0 && heaped(c) { // dots would lie under the signs of the bars
				px, py := at(s.X[i-1], s.Y[i-1])
				for k := 0.0; k <= math.Abs(x-px); k += 2 {
					t := k / math.Max(math.Abs(x-px), 1)
					cv.put(int(px+t*(x-px)), int(py+t*(y-py)), overBars)
				}
				sample = string(overBars)
			} else if i > 0 {
				px, py := at(s.X[i-1], s.Y[i-1])
				cv.line(px, py, x, y, pen, &step)
			}
			if tag != 0 && fits(x, y) && (n < 8 || i*8/n > drawn) {
				drawn = i * 8 / n
				if !cv.taken(int(x), int(y)) {
					cv.put(int(x), int(y), tag)
				}
			}
		}
		if s.Name != "" {
			legend = append(legend, [2]string{sample, s.Name})
		}
	}
	return legend
}

// fits tells whether a place is a number.
func fits(x, y float64) bool {
	return !math.IsNaN(x) && !math.IsNaN(y) && math.Abs(x) < 1e6 && math.Abs(y) < 1e6
}

// marks lays a digit at every named point and returns what they say.
func (p *page) marks(cv *canvas, c *sheet.Chart, at func(x, y float64) (float64, float64)) [][2]string {
	var legend [][2]string
	for i, m := range c.Marks {
		if x, y := at(m.X, m.Y); fits(x, y) {
			cv.put(int(math.Round(x)), int(math.Round(y)), tags[i%len(tags)])
			legend = append(legend, [2]string{string(tags[i%len(tags)]), m.Text})
		}
	}
	return legend
}

// tags name points and labels, in order.
var tags = []rune("123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ")

// pen is how a role's line is made, and a sample of it for the list below.
func (p *page) pen(r sheet.Role) (pen, string) {
	if !p.look.Unicode {
		switch r {
		case sheet.Main, sheet.Skin:
			return pen{sign: '#'}, "##"
		case sheet.Limit:
			return pen{glyph: '=', on: 1}, "=="
		case sheet.Water, sheet.Sea:
			return pen{glyph: '~', on: 1}, "~~"
		case sheet.Grid, sheet.Pointer:
			return pen{sign: '.', on: 1, off: 3}, ". "
		case sheet.Thing:
			return pen{sign: 'x'}, "xx"
		case sheet.Space:
			return pen{sign: ':', on: 2, off: 2}, "::"
		}
		return pen{sign: '.'}, ".."
	}
	switch r {
	case sheet.Main, sheet.Skin, sheet.Thing, sheet.Body:
		return pen{}, "⠤⠤"
	case sheet.Limit:
		return pen{glyph: '╌', on: 1}, "╌╌"
	case sheet.Water, sheet.Sea:
		return pen{glyph: '~', on: 1}, "~~"
	case sheet.Grid, sheet.Pointer:
		return pen{on: 1, off: 5}, "⠄ "
	case sheet.Space:
		return pen{on: 2, off: 2}, "⠄⠄"
	}
	return pen{on: 1, off: 2}, "⠄⠄"
}

// heaps are the signs that rows of bars are made of, in order.
var heaps = []rune("-/:#x")

// overBars is a curve's sign where there are bars.
const overBars = 'o'

// heaped tells whether a chart has bars.
func heaped(c *sheet.Chart) bool {
	return slices.ContainsFunc(c.Series, func(s sheet.Series) bool { return s.Width > 0 })
}

// bars fills the bars with the sign of their row and returns what each stands for.
func (p *page) bars(cv *canvas, c *sheet.Chart, at func(x, y float64) (float64, float64)) [][2]string {
	var legend [][2]string
	for _, s := range c.Series {
		if s.Width <= 0 {
			continue
		}
		sign := heaps[len(legend)%len(heaps)]
		for i := range min(len(s.X), len(s.Y), len(s.Base)) {
			x0, y0 := at(s.X[i]-s.Width/2, s.Base[i])
			x1, y1 := at(s.X[i]+s.Width/2, s.Base[i]+s.Y[i])
			if !fits(x0, y0) || !fits(x1, y1) {
				continue
			}
			for x := int(math.Round(x0/2)) * 2; x < int(math.Round(x1/2))*2; x += 2 {
				for y := int(math.Round(y1/4)) * 4; y < int(math.Round(y0/4))*4; y += 4 {
					cv.put(x, y, sign)
				}
			}
		}
		legend = append(legend, [2]string{string(sign), s.Name})
	}
	return legend
}

// plot writes the canvas between its axes, with the numbers beside and under it.
func (p *page) plot(cv *canvas, c *sheet.Chart, left int) {
	wall, corner, floor := "|", "+", "-"
	if p.look.Unicode {
		wall, corner, floor = "│", "└", "─"
	}
	names := make([]string, cv.rows)
	for _, v := range c.Y.Ticks {
		r := int(math.Round(float64(cv.tall()-1)*(1-(v-c.Y.Min)/reach(c.Y)))) / 4
		if r >= 0 && r < cv.rows {
			names[r] = p.look.say(draw.Number(v, c.Y.Places))
		}
	}
	for r, l := range cv.lines() {
		p.line(padLeft(names[r], left) + " " + wall + l)
	}
	p.line(strings.Repeat(" ", left+1) + corner + strings.Repeat(floor, cv.cols))
	under := strings.Repeat(" ", left+2)
	for _, v := range c.X.Ticks {
		s := p.look.say(draw.Number(v, c.X.Places))
		x := left + 2 + int(math.Round((v-c.X.Min)/reach(c.X)*float64(cv.cols-1))) - columns(s)/2
		x = min(x, left+2+cv.cols-columns(s))
		if x >= columns(under)+1 || columns(strings.TrimSpace(under)) == 0 && x >= 0 {
			under = pad(under[:min(len(under), max(x, 0))], x) + s
		}
	}
	p.line(under)
	name := p.look.say(draw.Named(c.X))
	p.line(padLeft(name, left+2+cv.cols))
}
