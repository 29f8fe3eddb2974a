package draw

import (
	"fmt"
	"math"

	"thole/internal/sheet"
)

// Paper is what patterns are printed on, in millimetres.
type Paper struct {
	Name   string
	Width  float64
	Height float64 // 0 is a roll, cut off where the part ends
	// Scale is for what is no part, a lines drawing: 10 is 1:10, and 0 the largest
	// usual one that fits a sheet. Parts are always printed at their true size.
	Scale float64
}

// The papers by name; a roll has the usual width of a large printer.
var (
	A4   = Paper{Name: "a4", Width: 210, Height: 297}
	A3   = Paper{Name: "a3", Width: 297, Height: 420}
	Roll = Paper{Name: "roll", Width: 914}
)

// The narrowest roll that has room for the foot of a sheet, and the widest taken.
const (
	leastRoll = 210
	mostRoll  = 3000
)

// longest is the most that one sheet of a roll may measure: the PDF format ends
// at 14400 units of 1/72 inch, 5080 mm (PDF Reference 1.6, appendix C).
const longest = 5000

// PaperNamed finds a paper; the width, metres, counts for a roll only, 0 is the usual.
//
// Error: a paper that is not known, or a roll too narrow or too wide
func PaperNamed(name string, rollWidth float64) (Paper, error) {
	switch name {
	case A4.Name:
		return A4, nil
	case A3.Name:
		return A3, nil
	case Roll.Name:
		p := Roll
		if rollWidth != 0 {
			p.Width = rollWidth * 1000
		}
		if !(p.Width >= leastRoll && p.Width <= mostRoll) {
			return p, fmt.Errorf("a roll %.0f mm wide cannot be used (%d to %d mm)", p.Width, leastRoll, mostRoll)
		}
		return p, nil
	}
	return Paper{}, fmt.Errorf("there is no paper %q (write %s, %s or %s)", name, A4.Name, A3.Name, Roll.Name)
}

// The parts of a sheet in millimetres: an edge that no printer reaches, strips
// for the bars above and on the left, and the foot with the words.
const (
	edge  = 8.0
	strip = 7.0
	foot  = 27.0
	// lap is what two sheets share, half of it each side of the seam.
	lap = 10.0
	// rim is left around a part; more than half a lap, so that what lies on its edge
	// falls inside the outermost seams.
	rim = 6.0
)

// tile is one sheet of a pattern.
type tile struct {
	row, column int // from the upper left, from 0
	window      Box // what it shows, in the picture's millimetres
}

// tiling is how a picture is spread over sheets.
type tiling struct {
	page          [2]float64 // width and height of each sheet
	size          [2]float64 // of the window on each sheet
	first         [2]float64 // upper left corner of the first window, in the picture
	rows, columns int
	tiles         []tile // those that are printed, in reading order
	at            map[[2]int]int
}

// spread lays a picture over the paper, upright or lying, whichever takes fewer
// sheets.
func spread(pic Picture, p Paper) tiling {
	pages := [][2]float64{{p.Width, p.Height}, {p.Height, p.Width}}
	if p.Height == 0 {
		pages = [][2]float64{{cutOff(pic.Width, edge+strip+edge), p.Width}, {p.Width, cutOff(pic.Height, edge+strip+foot+edge)}}
	}
	var best tiling
	for i, page := range pages {
		t := over(pic, page)
		if i == 0 || len(t.tiles) < len(best.tiles) ||
			len(t.tiles) == len(best.tiles) && page[0]*page[1] < best.page[0]*best.page[1] {
			best = t
		}
	}
	return best
}

// cutOff is how long the sheets of a roll are: the part's length, or equal
// lengths where it is longer than a sheet may be.
func cutOff(length, margins float64) float64 {
	n := across(length, longest-margins)
	return math.Max((length-lap)/float64(n)+lap+margins, leastRoll)
}

// across is how many windows of a size, lapping, cover a length.
func across(length, window float64) int {
	if length <= window {
		return 1
	}
	return int(math.Ceil((length - lap) / (window - lap)))
}

// over spreads a picture over pages of a size. The room to spare is shared out
// so that the fewest sheets hold something: a centre line along a seam would take
// a second row of sheets for nothing.
func over(pic Picture, page [2]float64) tiling {
	best := laid(pic, page, [2]float64{})
	if best.rows*best.columns > 400 {
		return best
	}
	for _, x := range []float64{0, -0.9, 0.9} {
		for _, y := range []float64{0, -0.9, 0.9} {
			if t := laid(pic, page, [2]float64{x, y}); len(t.tiles) < len(best.tiles) {
				best = t
			}
		}
	}
	return best
}

// laid spreads a picture with the room to spare shared out: 0 leaves it in the
// middle of the sheets, -1 pushes it to the left or the top, 1 to the other side.
func laid(pic Picture, page, push [2]float64) tiling {
	t := tiling{page: page, size: [2]float64{page[0] - 2*edge - strip, page[1] - 2*edge - strip - foot}, at: map[[2]int]int{}}
	need := [2]float64{pic.Width, pic.Height}
	t.columns, t.rows = across(need[0], t.size[0]), across(need[1], t.size[1])
	for i, n := range [2]int{t.columns, t.rows} {
		covered := float64(n)*(t.size[i]-lap) + lap
		t.first[i] = -(covered - need[i]) / 2 * (1 + push[i])
	}
	held := make([][]bool, t.rows)
	for r := range held {
		held[r] = make([]bool, t.columns)
	}
	t.hold(pic, held)
	connect(held)
	for r := range held {
		for c := range held[r] {
			if held[r][c] {
				t.at[[2]int{r, c}] = len(t.tiles)
				t.tiles = append(t.tiles, tile{r, c, t.window(r, c)})
			}
		}
	}
	return t
}

// window is what the sheet in a row and column shows.
func (t tiling) window(row, column int) Box {
	x := t.first[0] + float64(column)*(t.size[0]-lap)
	y := t.first[1] + float64(row)*(t.size[1]-lap)
	return Box{x, y, x + t.size[0], y + t.size[1]}
}

// hold marks the sheets that something falls on, each up to its seams.
func (t tiling) hold(pic Picture, held [][]bool) {
	mark := func(points [][2]float64, closed bool) {
		all := Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		for _, q := range points {
			all = Box{min(all.MinX, q[0]), min(all.MinY, q[1]), max(all.MaxX, q[0]), max(all.MaxY, q[1])}
		}
		for r := range held {
			for c := range held[r] {
				b := t.window(r, c).grow(-lap / 2)
				if !held[r][c] && all.MinX <= b.MaxX && all.MaxX >= b.MinX && all.MinY <= b.MaxY && all.MaxY >= b.MinY {
					held[r][c] = len(cut(points, closed, b)) > 0
				}
			}
		}
	}
	for _, s := range pic.Strokes {
		if s.Role != sheet.Pointer { // a leader goes with its word
			mark(s.Points, s.Closed)
		}
	}
	for _, w := range pic.Words {
		b := w.box()
		mark([][2]float64{{(b.MinX + b.MaxX) / 2, (b.MinY + b.MaxY) / 2}}, false)
	}
}

// connect adds the sheets without which what is printed could not be joined: a
// piece that hangs on no seam has no true distance from the rest.
func connect(held [][]bool) {
	for {
		piece, rest := pieces(held)
		if len(rest) == 0 {
			return
		}
		from, to, least := rest[0], rest[0], math.MaxInt
		for _, a := range piece {
			for _, b := range rest {
				if d := far(a, b); d < least {
					from, to, least = a, b, d
				}
			}
		}
		for at := from; at != to; {
			if at[0] != to[0] {
				at[0] += sign(to[0] - at[0])
			} else {
				at[1] += sign(to[1] - at[1])
			}
			held[at[0]][at[1]] = true
		}
	}
}

// pieces are the marked sheets that hang together with the first one, and the rest.
func pieces(held [][]bool) (piece, rest [][2]int) {
	in := map[[2]int]bool{}
	for r := range held {
		for c := range held[r] {
			if !held[r][c] {
				continue
			}
			if len(piece) == 0 {
				piece = append(piece, [2]int{r, c})
				in[piece[0]] = true
				for i := 0; i < len(piece); i++ {
					for _, step := range [][2]int{{0, 1}, {1, 0}, {0, -1}, {-1, 0}} {
						n := [2]int{piece[i][0] + step[0], piece[i][1] + step[1]}
						if n[0] >= 0 && n[0] < len(held) && n[1] >= 0 && n[1] < len(held[0]) && held[n[0]][n[1]] && !in[n] {
							in[n] = true
							piece = append(piece, n)
						}
					}
				}
			}
			if !in[[2]int{r, c}] {
				rest = append(rest, [2]int{r, c})
			}
		}
	}
	return piece, rest
}

func sign(v int) int {
	if v < 0 {
		return -1
	}
	return 1
}

// far is how many steps apart two sheets lie.
func far(a, b [2]int) int {
	return sign(a[0]-b[0])*(a[0]-b[0]) + sign(a[1]-b[1])*(a[1]-b[1])
}
