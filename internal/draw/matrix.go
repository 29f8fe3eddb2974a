package draw

import (
	"strings"

	"thole/internal/sheet"
)

// OfMatrix lays a matrix out: a square for each state, filled by how it stands to its limit, its value
// within. It takes the width given and as much height as its rows need, at most the height given.
func OfMatrix(m sheet.Matrix, s Size) Picture {
	p := Picture{Width: s.Width, Title: m.Heading, Alt: m.Alt, places: 2}
	t := 0.82 * s.Text
	label := 0.0
	for _, r := range m.Rows {
		label = max(label, TextWidth(r.Name, t))
	}
	label = min(label+1.2*t, 0.34*s.Width)
	gaps := groups(m.Columns)
	cell := (s.Width - label) / (float64(len(m.Columns)) + 0.5*float64(max(gaps-1, 0)))
	cell = min(cell, 14)
	head, y := p.columns(m, label, cell, t)
	y = p.matrixKey(m, t, y) + 0.4*t
	tall := min(cell, 1.9*t, max((s.Height-y-1.5*t*float64(groups(m.Rows)))/float64(max(len(m.Rows), 1)), 1.3*t))
	for i, r := range m.Rows {
		if r.Group != "" && (i == 0 || m.Rows[i-1].Group != r.Group) {
			y += 1.5 * t
			p.Words = append(p.Words, Word{X: 0, Y: y - 0.4*t, Size: t, Text: r.Group, Anchor: "start", Role: sheet.Main})
		}
		p.Words = append(p.Words, Word{X: label - 0.5*t, Y: y + tall/2 + 0.33*t, Size: t, Text: fit(r.Name, t, label-0.6*t), Anchor: "end", Role: sheet.Pointer})
		for c := range m.Columns {
			if i < len(m.Cells) && c < len(m.Cells[i]) {
				p.spot(m, m.Cells[i][c], Box{head[c], y, head[c] + cell, y + tall}, t)
			}
		}
		y += tall
	}
	p.Height = y + 0.3*t
	p.Clip = Box{0, 0, p.Width, p.Height}
	return p
}

// groups counts the runs of one group among heads.
func groups(lines []sheet.Line) int {
	n := 0
	for i, l := range lines {
		if i == 0 || lines[i-1].Group != l.Group {
			n++
		}
	}
	return n
}

// columns sets the heads of the columns and gives where each begins, and the height taken.
func (p *Picture) columns(m sheet.Matrix, label, cell, t float64) ([]float64, float64) {
	x, at := label, make([]float64, len(m.Columns))
	for c, l := range m.Columns {
		if c > 0 && m.Columns[c-1].Group != l.Group {
			x += cell / 2
		}
		at[c] = x
		x += cell
	}
	lines := 0
	for c, l := range m.Columns {
		if l.Group == "" || c > 0 && m.Columns[c-1].Group == l.Group {
			continue
		}
		last := c
		for last+1 < len(m.Columns) && m.Columns[last+1].Group == l.Group {
			last++
		}
		for k, text := range broken(l.Group, t, at[last]+cell-at[c]) {
			p.Words = append(p.Words, Word{X: at[c], Y: t * (0.9 + 1.2*float64(k)), Size: t, Text: text, Anchor: "start", Role: sheet.Main})
			lines = max(lines, k+1)
		}
	}
	y := 1.2*t*float64(lines) + t
	for c, l := range m.Columns {
		p.Words = append(p.Words, Word{X: at[c] + cell/2, Y: y, Size: 0.9 * t, Text: l.Name, Anchor: "middle", Role: sheet.Pointer})
	}
	return at, y + 0.5*t
}

// matrixKey says what each filling means and gives where it ends.
func (p *Picture) matrixKey(m sheet.Matrix, t, y float64) float64 {
	x := 0.0
	y += 0.6 * t
	for _, k := range m.Key {
		wide := 2.4*t + TextWidth(k.Text, t)
		if x > 0 && x+wide > p.Width {
			x, y = 0, y+1.7*t
		}
		p.square(k.Standing, Box{x, y, x + 1.8*t, y + 1.2*t}, k.Text, t)
		p.Words = append(p.Words, Word{X: x + 2.3*t, Y: y + 0.95*t, Size: t, Text: k.Text, Anchor: "start", Role: sheet.Main})
		x += wide + 1.4*t
	}
	return y + 1.6*t
}

// spot draws one state.
func (p *Picture) spot(m sheet.Matrix, s sheet.Spot, b Box, t float64) {
	if s.Standing == sheet.Absent {
		return
	}
	p.square(s.Standing, b, s.Said, t)
	text := Number(s.Value, m.Places)
	if s.Untold {
		text = ""
		for _, k := range m.Key {
			if k.Standing == s.Standing {
				text = k.Letter
			}
		}
	}
	size := min(0.85*t, 0.62*(b.MaxY-b.MinY))
	for size > 1 && TextWidth(text, size) > b.MaxX-b.MinX-0.9 {
		size -= 0.1
	}
	w := Word{X: (b.MinX + b.MaxX) / 2, Y: (b.MinY+b.MaxY)/2 + 0.35*size, Size: size, Text: text, Anchor: "middle", Role: sheet.Main}
	w.Light = s.Standing == sheet.Short || s.Standing == sheet.Lost
	if s.Standing == sheet.Tight {
		p.Strokes = append(p.Strokes, Stroke{Role: sheet.Other, Rings: [][][2]float64{w.box().grow(0.1).ring()}})
	}
	p.Words = append(p.Words, w)
}

// square fills a state's square by its standing.
func (p *Picture) square(s sheet.Standing, b Box, name string, t float64) {
	rings := [][][2]float64{b.ring()}
	p.free(func(q *Picture) {
		switch s {
		case sheet.Tight:
			q.area(rings, 0, name)
			q.hatched(rings, 0.38*t, true)
		case sheet.Short:
			q.area(rings, 0.72, name)
		case sheet.Lost:
			q.area(rings, 1, name)
		case sheet.Holds:
			q.area(rings, 0, name)
		}
	})
	p.Strokes = append(p.Strokes, Stroke{Role: sheet.Other, Points: b.ring(), Closed: true, Name: name})
}

// broken breaks a text into lines of a width; a word that is longer stands by itself.
func broken(text string, size, width float64) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		if n := len(out); n > 0 && TextWidth(out[n-1]+" "+word, size) <= width {
			out[n-1] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

// fit shortens a text to a width.
func fit(text string, size, width float64) string {
	if TextWidth(text, size) <= width {
		return text
	}
	r := []rune(text)
	for len(r) > 1 && TextWidth(string(r)+"…", size) > width {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}
