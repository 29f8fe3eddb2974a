package terminal

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/internal/draw"
	"thole/internal/sheet"
)

// The signs of a map's boxes by their step, where there is more than ASCII and where not. What stands for land is none of them.
var (
	tones      = []rune("·░▒▓█")
	tonesASCII = []rune(",:o%@")
)

// chartlet draws a map: land stippled within its coast, lines, boxes as tones, and a sign at every place and every boat.
// Where a day was asked for it is that day's boxes and boats; else those of all days, and where each boat ends.
func (p *page) chartlet(m *sheet.Map) {
	p.heading(m.Heading)
	dx, dy := m.MaxX-m.MinX, m.MaxY-m.MinY
	if dx > 0 && dy > 0 && !math.IsInf(dx, 0) && !math.IsInf(dy, 0) {
		p.mapped(m, dx, dy)
	}
	for _, s := range []string{m.Alt, m.Notice} {
		if s != "" {
			p.para(0, s)
		}
	}
}

// mapped draws a map of a size above nothing, and says what its signs mean.
func (p *page) mapped(m *sheet.Map, dx, dy float64) {
	// Degrees stand left of it and below it.
	left := 0
	for _, l := range m.Lines {
		if l.Role == sheet.Grid {
			left = max(left, columns(p.look.say(l.Name))+1)
		}
	}
	left = min(left, 12)
	cols := min(p.look.Width, 80) - left - 2
	k := math.Min(float64(2*cols-1)/dx, float64(4*tallest-1)/dy)
	cols = max(min(cols, int(math.Ceil((dx*k+1)/2))), 2)
	rows := max(int(math.Ceil((dy*k+1)/4)), 2)
	cv := newCanvas(cols, rows, p.look)
	at := func(x, y float64) (float64, float64) {
		return (x - m.MinX) * k, float64(cv.tall()-1) - (y-m.MinY)*k
	}
	boxes, on := m.All, (*sheet.MapOn)(nil)
	if p.day != nil && len(m.Days) > 0 {
		boxes = nil
		if on = m.On(*p.day); on != nil {
			boxes = on.Boxes
		}
	}
	p.land(cv, m, at)
	for _, l := range m.Lines {
		if l.Role != sheet.Grid {
			p.path(cv, l, at)
		}
	}
	if p.day == nil {
		for _, t := range m.Tracks {
			role := t.Role
			if role == sheet.Limit { // a boat that came to grief is no line that must not be passed
				role = sheet.Other
			}
			p.path(cv, sheet.Path{Role: role, Points: t.Points}, at)
		}
	}
	used := p.boxes(cv, m, boxes, at)
	for _, l := range m.Lines {
		// The signs of ASCII are too few for meridians; the degrees at the edges tell of them.
		if l.Role == sheet.Grid && p.look.Unicode {
			p.path(cv, l, at)
		}
	}
	legend := p.places(cv, m, at)
	p.framed(cv, m, left, at)
	p.mapKey(m, on, used, k)
	for _, l := range legend {
		p.hang(2, l[0]+"  ", l[1])
	}
}

// boxes lays its tone on every character of a box on which there is no land and no line, and tells which steps were used.
func (p *page) boxes(cv *canvas, m *sheet.Map, boxes []sheet.Box, at func(x, y float64) (float64, float64)) map[int]bool {
	used := map[int]bool{}
	for _, b := range boxes {
		x0, y0, x1, y1, ok := m.Corners(b)
		if !ok {
			continue
		}
		px0, py1 := at(x0, y0)
		px1, py0 := at(x1, y1)
		step := m.Step(b.Share)
		sign := p.look.tone(step, len(m.Steps))
		// A character is the box's whose edges its middle lies between; a box narrower than a character has at least one.
		for r := max(int(math.Ceil((py0-2)/4)), 0); r < cv.rows && (float64(4*r+2) <= py1 || 4*r+2 == int(py0)); r++ {
			for c := max(int(math.Ceil((px0-1)/2)), 0); c < cv.cols && (float64(2*c+1) <= px1 || 2*c+1 == int(px0)); c++ {
				if i := r*cv.cols + c; cv.dots[i] == 0 && cv.over[i] == 0 {
					cv.over[i] = sign
					used[step] = true
				}
			}
		}
	}
	return used
}

// tone is the sign of a step.
func (l Look) tone(step, of int) rune {
	signs := tonesASCII
	if l.Unicode {
		signs = tones
	}
	if of > len(signs) {
		step = step * len(signs) / of
	}
	return signs[min(max(step, 0), len(signs)-1)]
}

// land stipples what lies within the rings, even-odd, with a dot to each character, and draws its coast.
func (p *page) land(cv *canvas, m *sheet.Map, at func(x, y float64) (float64, float64)) {
	var rings [][][2]float64
	for _, ring := range m.Land {
		var r [][2]float64
		for _, q := range ring {
			x, y := at(q[0], q[1])
			if fits(x, y) {
				r = append(r, [2]float64{x, y})
			}
		}
		if len(r) > 2 {
			rings = append(rings, r)
		}
	}
	for y := range cv.tall() {
		yc := float64(y) + 0.01
		var cross []float64
		for _, r := range rings {
			for i, a := range r {
				if b := r[(i+1)%len(r)]; (a[1] <= yc) != (b[1] <= yc) {
					cross = append(cross, a[0]+(yc-a[1])/(b[1]-a[1])*(b[0]-a[0]))
				}
			}
		}
		slices.Sort(cross)
		for i := 0; i+1 < len(cross); i += 2 {
			for x := max(int(math.Ceil(cross[i])), 0); x < cv.wide() && float64(x) <= cross[i+1]; x++ {
				if (x+y)%4 == 0 && x%2 == 0 {
					cv.dot(x, y, '/')
				}
			}
		}
	}
	for _, r := range rings {
		step := 0
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if edge(m, at, a, b) {
				continue
			}
			cv.line(a[0], a[1], b[0], b[1], pen{sign: '/'}, &step)
		}
	}
}

// edge tells whether a piece of a ring runs along the map's edge, where it was cut and there is no coast.
func edge(m *sheet.Map, at func(x, y float64) (float64, float64), a, b [2]float64) bool {
	west, south := at(m.MinX, m.MinY)
	east, north := at(m.MaxX, m.MaxY)
	for i, edges := range [][2]float64{{west, east}, {south, north}} {
		for _, v := range edges {
			if math.Abs(a[i]-v) < 0.5 && math.Abs(b[i]-v) < 0.5 {
				return true
			}
		}
	}
	return false
}

// places lays a sign at every place and at every boat, and returns what they stand for. What lies on one sign shares it.
func (p *page) places(cv *canvas, m *sheet.Map, at func(x, y float64) (float64, float64)) [][2]string {
	var legend [][2]string
	stand := map[int]int{} // a character of the map to its line of the legend
	lay := func(q [2]float64, text string) {
		x, y := at(q[0], q[1])
		px, py := int(math.Round(x)), int(math.Round(y))
		if !fits(x, y) || px < 0 || py < 0 || px >= cv.wide() || py >= cv.tall() {
			return
		}
		i := py/4*cv.cols + px/2
		if at, ok := stand[i]; ok {
			legend[at][1] += "; " + text
			return
		}
		if len(legend) == len(tags) {
			return
		}
		tag := tags[len(legend)]
		cv.over[i], stand[i] = tag, len(legend)
		legend = append(legend, [2]string{string(tag), text})
	}
	for _, l := range m.Labels {
		if l.Text != "" && l.Role != sheet.Grid && l.Role != sheet.Water && l.Role != sheet.Sea {
			lay([2]float64{l.X, l.Y}, l.Text)
		}
	}
	for _, t := range m.Tracks {
		last := t.First + len(t.Points) - 1
		if p.day == nil {
			if q, _, ok := t.At(last); ok {
				lay(q, fmt.Sprintf("%s: its end, day %d", t.Name, last))
			}
			continue
		}
		if q, ended, ok := t.At(*p.day); ok {
			text := fmt.Sprintf("%s on day %d", t.Name, *p.day)
			if ended {
				text = fmt.Sprintf("%s: its end, day %d", t.Name, last)
			}
			lay(q, text)
		}
	}
	return legend
}

// framed writes the map with its degrees beside it and below it.
func (p *page) framed(cv *canvas, m *sheet.Map, left int, at func(x, y float64) (float64, float64)) {
	wall, bar, ends := "|", "-", [4]string{"+", "+", "+", "+"}
	if p.look.Unicode {
		wall, bar, ends = "│", "─", [4]string{"┌", "┐", "└", "┘"}
	}
	beside, below := make([]string, cv.rows), ""
	for _, l := range m.Lines {
		if l.Role != sheet.Grid || l.Name == "" || len(l.Points) < 2 {
			continue
		}
		name := p.look.say(l.Name)
		a, b := l.Points[0], l.Points[len(l.Points)-1]
		x, y := at(a[0], a[1])
		if math.Abs(b[0]-a[0]) >= math.Abs(b[1]-a[1]) {
			if r := int(y) / 4; y >= 0 && r < cv.rows && columns(name) < left && beside[r] == "" {
				beside[r] = name
			}
			continue
		}
		// The name of a meridian stands under it, where there is room.
		from := left + 1 + int(x)/2 - columns(name)/2
		if from > columns(below) && from+columns(name) <= left+cv.cols+2 {
			below = pad(below, from) + name
		}
	}
	p.line(strings.Repeat(" ", left) + ends[0] + strings.Repeat(bar, cv.cols) + ends[1])
	for r, l := range cv.lines() {
		p.line(pad(padLeft(beside[r], left-1), left) + wall + pad(l, cv.cols) + wall)
	}
	p.line(strings.Repeat(" ", left) + ends[2] + strings.Repeat(bar, cv.cols) + ends[3])
	if below != "" {
		p.line(below)
	}
}

// mapKey says what the tones and lines mean, where the boats are in words, and how far a column reaches.
func (p *page) mapKey(m *sheet.Map, on *sheet.MapOn, used map[int]bool, k float64) {
	means, said := m.AllMeans, ""
	if p.day != nil && len(m.Days) > 0 {
		means = m.DayMeans
		said = fmt.Sprintf("Day %d: no boat is at sea yet.", *p.day)
	}
	if on != nil {
		said = fmt.Sprintf("Day %d", on.Day)
		if on.Said != "" {
			said += ": " + on.Said
		}
		said = strings.TrimRight(said, ".") + "."
	}
	if said != "" {
		p.para(0, said)
	}
	var parts []string
	for i, s := range m.Steps {
		if used[i] {
			parts = append(parts, string(p.look.tone(i, len(m.Steps)))+" "+s.Text)
		}
	}
	if len(parts) > 0 {
		if means != "" {
			means += ": "
		}
		p.para(2, means+strings.Join(parts, "; "))
	}
	for _, l := range m.Keyed() {
		_, sample := p.pen(l.Role)
		p.hang(2, sample+"  ", l.Name)
	}
	if m.Mile > 0 {
		const bar = 10
		p.para(2, "10 columns are "+draw.Number(round(2*bar/k/m.Mile), 0)+" sea miles in the middle of the map.")
	}
}

// round leaves two digits of a length.
func round(v float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(v))-1)
	return math.Round(v/ten) * ten
}
