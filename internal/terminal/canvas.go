package terminal

import (
	"math"
	"strings"
)

// canvas is a field of characters to draw on. Lines of dots are eight to a
// character where the terminal shows braille, one to a character where it does
// not; single characters lie over the dots.
type canvas struct {
	cols, rows int
	look       Look
	dots       []uint8 // braille bits, one byte a character
	over       []rune  // 0 where nothing lies over
	flat       []rune  // what ASCII shows for the dots
}

func newCanvas(cols, rows int, look Look) *canvas {
	n := cols * rows
	return &canvas{cols, rows, look, make([]uint8, n), make([]rune, n), make([]rune, n)}
}

// wide and tall are how many dots the canvas has across and down: two by four a
// character, so that dots stand about square.
func (c *canvas) wide() int { return 2 * c.cols }
func (c *canvas) tall() int { return 4 * c.rows }

// bits are the braille dots of a character, by row and column.
var bits = [4][2]uint8{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}

// dot sets one dot; sign is what ASCII shows for it.
func (c *canvas) dot(x, y int, sign rune) {
	if x < 0 || y < 0 || x >= c.wide() || y >= c.tall() {
		return
	}
	i := y/4*c.cols + x/2
	c.dots[i] |= bits[y%4][x%2]
	c.flat[i] = sign
}

// put lays a character over the dots at a dot's place. It tells whether the
// place was free of another one.
func (c *canvas) put(x, y int, sign rune) bool {
	if x < 0 || y < 0 || x >= c.wide() || y >= c.tall() {
		return false
	}
	i := y/4*c.cols + x/2
	free := c.over[i] == 0
	c.over[i] = sign
	return free
}

// taken tells whether a character lies at a dot's place, or the place is outside.
func (c *canvas) taken(x, y int) bool {
	return x < 0 || y < 0 || x >= c.wide() || y >= c.tall() || c.over[y/4*c.cols+x/2] != 0
}

// pen says how a line is drawn.
type pen struct {
	on, off int  // dots drawn and left out; off 0 is unbroken
	sign    rune // what ASCII shows
	glyph   rune // where set, a character is laid instead of dots
}

// line draws from one dot to another; step counts along a broken line and is
// handed on from piece to piece.
func (c *canvas) line(x0, y0, x1, y1 float64, p pen, step *int) {
	x0, y0, x1, y1, ok := c.within(x0, y0, x1, y1)
	if !ok {
		return
	}
	n := int(math.Ceil(math.Max(math.Abs(x1-x0), math.Abs(y1-y0))))
	for i := 0; i <= n; i++ {
		t := 0.0
		if n > 0 {
			t = float64(i) / float64(n)
		}
		x, y := int(math.Round(x0+t*(x1-x0))), int(math.Round(y0+t*(y1-y0)))
		*step++
		if p.off > 0 && *step%(p.on+p.off) >= p.on {
			continue
		}
		if p.glyph != 0 {
			if !c.taken(x, y) {
				c.put(x, y, p.glyph)
			}
			continue
		}
		c.dot(x, y, p.sign)
	}
}

// within cuts a line to the canvas and a little around it (Liang and Barsky's
// way), so that a line to far away costs no more than one that stays.
func (c *canvas) within(x0, y0, x1, y1 float64) (a, b, d, e float64, ok bool) {
	for _, v := range []float64{x0, y0, x1, y1} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return 0, 0, 0, 0, false
		}
	}
	t0, t1 := 0.0, 1.0
	dx, dy := x1-x0, y1-y0
	for _, edge := range [4][2]float64{{-dx, x0 + 1}, {dx, float64(c.wide()) - x0}, {-dy, y0 + 1}, {dy, float64(c.tall()) - y0}} {
		p, q := edge[0], edge[1]
		if p == 0 {
			if q < 0 {
				return 0, 0, 0, 0, false
			}
			continue
		}
		r := q / p
		if p < 0 {
			t0 = math.Max(t0, r)
		} else {
			t1 = math.Min(t1, r)
		}
	}
	if t0 > t1 {
		return 0, 0, 0, 0, false
	}
	return x0 + t0*dx, y0 + t0*dy, x0 + t1*dx, y0 + t1*dy, true
}

// fill sets every dot inside a polygon (even-odd rule) for which keep is true.
func (c *canvas) fill(points [][2]float64, sign rune, keep func(x, y int) bool) {
	for y := range c.tall() {
		yc := float64(y) + 0.01
		var cross []float64
		for i := range points {
			a, b := points[i], points[(i+1)%len(points)]
			if (a[1] <= yc) != (b[1] <= yc) {
				cross = append(cross, a[0]+(yc-a[1])/(b[1]-a[1])*(b[0]-a[0]))
			}
		}
		for x := range c.wide() {
			left := 0
			for _, at := range cross {
				if at < float64(x) {
					left++
				}
			}
			if left%2 == 1 && keep(x, y) {
				c.dot(x, y, sign)
			}
		}
	}
}

// lines are the rows of the canvas as text.
func (c *canvas) lines() []string {
	out := make([]string, c.rows)
	for r := range c.rows {
		var b strings.Builder
		for k := range c.cols {
			i := r*c.cols + k
			switch {
			case c.over[i] != 0:
				b.WriteRune(c.over[i])
			case c.dots[i] == 0:
				b.WriteByte(' ')
			case c.look.Unicode:
				b.WriteRune(rune(0x2800) + rune(c.dots[i]))
			default:
				b.WriteRune(c.flat[i])
			}
		}
		out[r] = strings.TrimRight(b.String(), " ")
	}
	return out
}
