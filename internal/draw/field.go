package draw

import (
	"thole/internal/sheet"
)

// OfField lays a field out as a map: tones that darken with the quantity, contours with their values,
// the limit's contour heavy, hatching where the quantity is under it, and the row that is shown elsewhere.
func OfField(f sheet.Field, s Size) Picture {
	p := Picture{Width: s.Width, Height: s.Height, Title: f.Heading, Alt: f.Alt, places: 2}
	t := s.Text
	left := 0.0
	for _, v := range f.Y.Ticks {
		left = max(left, TextWidth(Number(v, f.Y.Places), t))
	}
	frame := Box{left + 0.8*t, 1.6*t + 1.6*t*float64(p.fieldKey(f, t)), s.Width - 1.2*t, s.Height - 3.2*t}
	p.Clip = frame
	at := func(x, y float64) [2]float64 {
		return [2]float64{
			frame.MinX + (x-f.X.Min)/span(f.X)*(frame.MaxX-frame.MinX),
			frame.MaxY - (y-f.Y.Min)/span(f.Y)*(frame.MaxY-frame.MinY),
		}
	}
	all := func(lines [][][2]float64) [][][2]float64 {
		out := make([][][2]float64, len(lines))
		for i, l := range lines {
			for _, q := range l {
				out[i] = append(out[i], at(q[0], q[1]))
			}
		}
		return out
	}
	p.tones(f, all, frame)
	p.axes(sheet.Chart{X: f.X, Y: f.Y}, frame, at, t)
	for _, l := range f.Levels {
		role := sheet.Other
		if l.Limit {
			role = sheet.Main
		}
		for _, line := range all(l.Lines) {
			p.Strokes = append(p.Strokes, Stroke{Role: role, Points: line, Clipped: true, Name: Number(l.Value, f.Z.Places)})
		}
	}
	if f.Shown >= 0 && f.Shown < len(f.Ys) {
		y := f.Ys[f.Shown]
		p.Strokes = append(p.Strokes, Stroke{Role: sheet.Other, Turn: 3, Points: [][2]float64{at(f.X.Min, y), at(f.X.Max, y)}, Name: f.ShownName})
	}
	for _, l := range f.Levels {
		if len(l.Lines) > 0 {
			q := at(l.At[0], l.At[1])
			p.tag(Word{X: q[0], Y: q[1] + 0.33*t, Size: 0.9 * t, Text: Number(l.Value, f.Z.Places), Anchor: "middle", Role: sheet.Main}, frame)
		}
	}
	if f.Shown >= 0 && f.Shown < len(f.Ys) {
		p.shownName(f, at, frame, t)
	}
	return p
}

// darkest is the tone of the highest band; letters on it must still be read.
const darkest = 0.42

// tones paints the bands from the limit up, and hatches what lies under it.
func (p *Picture) tones(f sheet.Field, all func([][][2]float64) [][][2]float64, frame Box) {
	over := 0
	for _, l := range f.Levels {
		if l.Value >= f.Limit {
			over++
		}
	}
	k := 0
	for _, l := range f.Levels {
		if l.Value < f.Limit {
			continue
		}
		rings := all(l.Areas)
		if l.Limit {
			p.hatched(append([][][2]float64{frame.ring()}, rings...), 1.6, true)
		}
		k++
		p.area(rings, darkest*float64(k-1)/float64(max(over-1, 1)), "")
	}
}

// shownName names the row that is shown elsewhere, where it covers no contour's value.
func (p *Picture) shownName(f sheet.Field, at func(x, y float64) [2]float64, frame Box, t float64) {
	var best Word
	least := -1.0
	for _, x := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
		q := at(f.X.Min+x*span(f.X), f.Ys[f.Shown])
		w := Word{X: q[0], Y: q[1] - 0.35*t, Size: 0.9 * t, Text: f.ShownName, Anchor: "middle", Role: sheet.Main}
		covered := 0.0
		for _, o := range p.Words {
			covered += w.box().grow(0.3 * t).overlap(o.box())
		}
		if least < 0 || covered < least {
			best, least = w, covered
		}
	}
	p.tag(best, frame)
}

// tag sets a word on a spot of bare paper, within the frame.
func (p *Picture) tag(w Word, frame Box) {
	b := w.box()
	w = w.moved(max(0, frame.MinX-b.MinX)-max(0, b.MaxX-frame.MaxX), max(0, frame.MinY-b.MinY)-max(0, b.MaxY-frame.MaxY))
	p.Strokes = append(p.Strokes, Stroke{Role: sheet.Other, Rings: [][][2]float64{w.box().grow(0.12 * w.Size).ring()}})
	p.Words = append(p.Words, w)
}

// fieldKey says what the map shows, in lines that begin beside the name of the upright axis, and gives how
// many it took beyond that one.
func (p *Picture) fieldKey(f sheet.Field, t float64) int {
	x, y, lines := TextWidth(Named(f.Y), t)+2*t, 0.9*t, 0
	put := func(text string, sample func(q *Picture, b Box)) {
		wide := TextWidth(text, t)
		if sample != nil {
			wide += 2.6 * t
		}
		if x+wide > p.Width {
			x, y, lines = 0, y+1.6*t, lines+1
		}
		if sample != nil {
			p.free(func(q *Picture) { sample(q, Box{x, y - 0.8*t, x + 2.2*t, y + 0.05*t}) })
			x, wide = x+2.6*t, wide-2.6*t
		}
		p.Words = append(p.Words, Word{X: x, Y: y, Size: t, Text: text, Anchor: "start", Role: sheet.Main})
		x += wide + 1.4*t
	}
	put("in the map: "+Named(f.Z), nil)
	for _, l := range f.Levels {
		if !l.Limit || len(l.Lines) == 0 {
			continue
		}
		put(f.LimitName, func(q *Picture, b Box) {
			y := (b.MinY + b.MaxY) / 2
			q.Strokes = append(q.Strokes, Stroke{Role: sheet.Main, Points: [][2]float64{{b.MinX, y}, {b.MaxX, y}}})
		})
		put(f.Under, func(q *Picture, b Box) {
			q.hatched([][][2]float64{b.ring()}, 1.2, true)
			q.Strokes = append(q.Strokes, Stroke{Role: sheet.Other, Points: b.ring(), Closed: true})
		})
	}
	return lines
}
