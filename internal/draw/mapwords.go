package draw

import (
	"math"

	"thole/internal/sheet"
)

// names marks the places of a map and sets their names beside them where they cover least; a name that would lie on
// another one, or run over the map's edge, is left out, the later ones first, and the numbers of days before any.
func (c *chartlet) names(labels, numbers []sheet.Label) {
	if c.k == 0 {
		return
	}
	var spots, taken []Box
	for _, l := range labels {
		if q := c.at(l.X, l.Y); spotted(l.Role) && c.within(q) {
			spots = append(spots, Box{q[0], q[1], q[0], q[1]}.grow(0.32*c.t))
		}
	}
	ink := c.p.inked()
	for _, l := range append(labels[:len(labels):len(labels)], numbers...) {
		q := c.at(l.X, l.Y)
		if l.Text == "" || !c.within(q) {
			continue
		}
		size := c.t
		if l.Role == sheet.Pointer {
			size = 0.8 * c.t
		}
		best, ok := c.stand(c.beside(l, q, size), append(taken[:len(taken):len(taken)], spots...), ink)
		if !ok && l.Role == sheet.Main { // a spot may be covered by a name that matters more
			best, ok = c.stand(c.beside(l, q, size), taken, ink)
		}
		if !ok {
			continue
		}
		taken = append(taken, best.box())
		if l.Role != sheet.Pointer {
			c.p.Strokes = append(c.p.Strokes, Stroke{Role: sheet.Other, Rings: [][][2]float64{best.box().grow(0.06 * size).ring()}})
		}
		c.p.Words = append(c.p.Words, best)
	}
	// Over the patches on which names stand, so that none hides a danger.
	for _, l := range labels {
		if q := c.at(l.X, l.Y); spotted(l.Role) && c.within(q) {
			c.spot(l, q)
		}
	}
}

// stand is the place of some for a word where it lies in the frame, on nothing that is taken, and on least ink.
func (c *chartlet) stand(places []Word, taken []Box, ink [][2]float64) (best Word, ok bool) {
	least := math.Inf(1)
	for i, w := range places {
		b := w.box()
		if !c.within([2]float64{b.MinX, b.MinY}) || !c.within([2]float64{b.MaxX, b.MaxY}) || meets(b.grow(0.08*w.Size), taken) {
			continue
		}
		if bad := cost(b, nil, ink, 0.4*float64(i)); bad < least {
			best, least = w, bad
		}
	}
	return best, !math.IsInf(least, 1)
}

// spotted tells whether a label's place is marked.
func spotted(r sheet.Role) bool {
	return r != sheet.Grid && r != sheet.Water && r != sheet.Sea && r != sheet.Pointer
}

// spot marks a place: a dot, or a cross for a danger.
func (c *chartlet) spot(l sheet.Label, q [2]float64) {
	if l.Role != sheet.Limit {
		c.p.Strokes = append(c.p.Strokes, Stroke{Role: l.Role, Name: l.Text, Points: [][2]float64{q}, Radius: 0.2 * c.t, Hollow: l.Role != sheet.Main})
		return
	}
	r := 0.28 * c.t
	for _, s := range []float64{r, -r} {
		c.p.Strokes = append(c.p.Strokes, Stroke{Role: sheet.Main, Name: l.Text, Points: [][2]float64{{q[0] - r, q[1] - s}, {q[0] + r, q[1] + s}}})
	}
}

// beside are the places for a name about its spot, the one that is asked for first.
func (c *chartlet) beside(l sheet.Label, q [2]float64, size float64) []Word {
	at := func(anchor string, dx, dy float64) Word {
		return Word{X: q[0] + dx*size, Y: q[1] + (dy+0.35)*size, Size: size, Text: l.Text, Anchor: anchor, Role: l.Role}
	}
	if !spotted(l.Role) && l.Role != sheet.Pointer {
		return []Word{at("middle", 0, 0), at("middle", 0, 1.2), at("middle", 0, -1.2)}
	}
	right := []Word{at("start", 0.6, 0), at("start", 0.45, -0.7), at("start", 0.45, 0.7)}
	left := []Word{at("end", -0.6, 0), at("end", -0.45, -0.7), at("end", -0.45, 0.7)}
	over := []Word{at("middle", 0, -1), at("middle", 0, 1)}
	switch l.Anchor {
	case "end":
		return append(append(left, over...), right...)
	case "middle":
		return append(append(over, right...), left...)
	}
	return append(append(right, over...), left...)
}

// meets tells whether a box shares paper with one of others.
func meets(b Box, others []Box) bool {
	for _, o := range others {
		if b.overlap(o) > 0 {
			return true
		}
	}
	return false
}

// key says under a map what its tones and lines mean and how long a sea mile is on it; y is the foot of its first line,
// and what is returned the foot of its last.
func (c *chartlet) key(tn turns, y float64) float64 {
	t, x := c.t, 0.0
	put := func(text string, sample float64, draw func(q *Picture, b Box)) {
		wide := TextWidth(text, t) + sample
		if x > 0 && x+wide > c.p.Width {
			x, y = 0, y+1.6*t
		}
		if draw != nil {
			c.p.free(func(q *Picture) { draw(q, Box{x, y - 0.85*t, x + sample - 0.5*t, y + 0.1*t}) })
		}
		c.p.Words = append(c.p.Words, Word{X: x + sample, Y: y, Size: t, Text: fit(text, t, c.p.Width-sample), Anchor: "start", Role: sheet.Main})
		x += wide + 1.3*t
	}
	if len(c.m.All) > 0 {
		if c.m.AllMeans != "" {
			put(c.m.AllMeans+":", 0, nil)
		}
		for i, s := range c.m.Steps {
			put(s.Text, 2.3*t, func(q *Picture, b Box) {
				q.area([][][2]float64{b.ring()}, stepTone(i, len(c.m.Steps)), s.Text)
				q.Strokes = append(q.Strokes, Stroke{Role: sheet.Space, Points: b.ring(), Closed: true})
			})
		}
		x, y = 0, y+1.6*t
	}
	if c.m.Mile > 0 && c.k > 0 {
		miles, long := c.scale()
		put(Number(miles, pointed(miles))+" sea miles in the middle of the map", long+0.6*t, func(q *Picture, b Box) {
			foot := b.MaxY - 0.2*t
			q.Strokes = append(q.Strokes, Stroke{Role: sheet.Main, Points: [][2]float64{{b.MinX, foot - 0.4*t}, {b.MinX, foot}, {b.MinX + long, foot}, {b.MinX + long, foot - 0.4*t}}})
		})
	}
	line := func(role sheet.Role, name string) {
		put(name, 3.1*t, func(q *Picture, b Box) {
			half := (b.MinY + b.MaxY) / 2
			q.Strokes = append(q.Strokes, Stroke{Role: role, Turn: tn.of(role, name), Points: [][2]float64{{b.MinX, half}, {b.MaxX, half}}})
		})
	}
	for _, l := range c.m.Keyed() {
		line(l.Role, l.Name)
	}
	for _, track := range c.m.Tracks {
		if track.Name != "" {
			line(trackRole(track), track.Name)
		}
	}
	return y
}

// scale is a round number of sea miles that takes between a twelfth and a quarter of the map's width, and its length.
func (c *chartlet) scale() (miles, long float64) {
	mile := c.m.Mile * c.k
	most := (c.p.Clip.MaxX - c.p.Clip.MinX) / 4 / mile
	ten := math.Pow(10, math.Floor(math.Log10(most)))
	miles = ten
	for _, n := range []float64{2, 5} {
		if n*ten <= most {
			miles = n * ten
		}
	}
	return miles, miles * mile
}

// pointed is how many digits a round number needs behind the point.
func pointed(v float64) int {
	return max(0, -int(math.Floor(math.Log10(v)+1e-9)))
}
