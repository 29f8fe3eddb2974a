package draw

import (
	"math"
	"unicode/utf8"

	"thole/internal/sheet"
)

// TextWidth estimates how wide a line of the sans face sets, in millimetres for
// a letter height in millimetres. Digits of that face are 0.6 em wide; the mean
// letter is a little narrower. Good to a tenth, which is enough to keep words apart.
func TextWidth(text string, size float64) float64 {
	w := 0.0
	for _, r := range text {
		switch r {
		case 'i', 'j', 'l', 'I', '.', ',', ':', ';', '\'', '|', '!':
			w += 0.28
		case ' ', 'f', 't', 'r', '(', ')', '-':
			w += 0.36
		case 'm', 'w', 'M', 'W', '—':
			w += 0.86
		default:
			w += 0.58
		}
	}
	return w * size
}

// box is the paper that a word covers.
func (w Word) box() Box {
	width := TextWidth(w.Text, w.Size)
	x := w.X
	switch w.Anchor {
	case "middle":
		x -= width / 2
	case "end":
		x -= width
	}
	return Box{x, w.Y - 0.78*w.Size, x + width, w.Y + 0.24*w.Size}
}

// moved returns the word shifted.
func (w Word) moved(dx, dy float64) Word {
	w.X += dx
	w.Y += dy
	return w
}

// place sets words where they do not lie on one another, near where they are
// wanted and off the lines as far as may be. A word that had to go far gets a
// thin leader back to its place. Words earlier in the list choose first.
func (p *Picture) place(tags []Word) {
	var taken []Box
	for _, w := range p.Words {
		taken = append(taken, w.box())
	}
	ink := p.inked()
	for _, t := range tags {
		if utf8.RuneCountInString(t.Text) == 0 {
			continue
		}
		t = p.inside(t)
		best, least := t, math.Inf(1)
		for _, step := range steps {
			try := p.inside(t.moved(step[0]*t.Size, step[1]*t.Size))
			far := math.Hypot(try.X-t.X, try.Y-t.Y) / t.Size
			if c := cost(try.box().grow(0.1*t.Size), taken, ink, far); c < least {
				best, least = try, c
			}
		}
		if math.Hypot(best.X-t.X, best.Y-t.Y) > leash*t.Size {
			p.Strokes = append(p.Strokes, leader(t, best))
		}
		taken = append(taken, best.box())
		p.Words = append(p.Words, best)
	}
}

// leash is how far a word may go without a leader, in letter heights.
const leash = 1.4

// cost says how bad a place for a word is: a word on a word is far worse than a
// word on a line, and both are worse than a word a little way off.
func cost(b Box, taken []Box, ink [][2]float64, far float64) float64 {
	c := 1.5 * far
	if far > leash {
		c += 3
	}
	for _, o := range taken {
		c += 100 * b.overlap(o)
	}
	for _, q := range ink {
		if q[0] > b.MinX && q[0] < b.MaxX && q[1] > b.MinY && q[1] < b.MaxY {
			c++
		}
	}
	return c
}

// inked are points along the picture's lines, a millimetre apart.
func (p *Picture) inked() [][2]float64 {
	var out [][2]float64
	add := func(a, b [2]float64) {
		n := int(math.Min(math.Ceil(math.Hypot(b[0]-a[0], b[1]-a[1])), 2000))
		for i := range n {
			t := float64(i) / float64(n)
			out = append(out, [2]float64{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])})
		}
	}
	for _, s := range p.Strokes {
		if s.Role == sheet.Sea || s.Role == sheet.Grid || s.Role == sheet.Pointer {
			continue
		}
		for i := 1; i < len(s.Points); i++ {
			add(s.Points[i-1], s.Points[i])
		}
		if n := len(s.Points); s.Closed && n > 2 {
			add(s.Points[n-1], s.Points[0])
		}
	}
	return out
}

// steps are the shifts tried, in letter heights.
var steps = func() [][2]float64 {
	out := [][2]float64{{0, 0}}
	for _, far := range []float64{0, 0.7, 1.2, 2, 2.8, 3.6, 4.8, 6} {
		for _, side := range []float64{0, 1, -1, 2, -2, 4, -4, 6, -6} {
			if far == 0 && side == 0 {
				continue
			}
			out = append(out, [2]float64{side, -far}, [2]float64{side, far})
		}
	}
	return out
}()

// inside shifts a word so that the paper holds it.
func (p *Picture) inside(w Word) Word {
	b := w.box()
	if b.MaxX > p.Width {
		w.X -= b.MaxX - p.Width
	}
	if b = w.box(); b.MinX < 0 {
		w.X -= b.MinX
	}
	if b.MinY < 0 {
		w.Y -= b.MinY
	}
	if b.MaxY > p.Height {
		w.Y -= b.MaxY - p.Height
	}
	return w
}

// leader is the thin line from where a word was wanted to where it stands.
func leader(wanted, stands Word) Stroke {
	b := stands.box()
	y := b.MinY
	if wanted.Y > stands.Y {
		y = b.MaxY
	}
	x := math.Min(math.Max(wanted.X, b.MinX), b.MaxX)
	return Stroke{Role: sheet.Pointer, Points: [][2]float64{{x, y}, {wanted.X, wanted.Y - 0.35*wanted.Size}}}
}
