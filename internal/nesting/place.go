package nesting

import (
	"cmp"
	"math"
	"slices"
)

// touch is how near, in metres, two shapes count as touching where they are placed: far
// above rounding, far below what the final check allows.
const touch = 1e-9

// laid is a shape that lies on a sheet.
type laid struct {
	shape int
	pose  orient
	at    point
	box   box   // on the sheet
	holes []box // of its holes
}

// sheet is what has been laid on one sheet so far.
type sheet struct {
	laid []laid
	area float64
}

// put adds a shape.
func (s *sheet) put(l laid, area float64) {
	s.laid = append(s.laid, l)
	s.area += area
}

// spot is a place found for a shape, and how good it is (less is better).
type spot struct {
	pose  int
	at    point
	score float64
}

// bench is where layouts are made: one for each chain of the search.
type bench struct {
	*job
	scratch
	careful bool // measure every place with the final check, not only the whole layout
	beside  []neighbour
	rows    []height
}

// place finds a place for a gene on a sheet: in the pose it would rather have if that
// goes, and in the best of all otherwise.
func (b *bench) place(s *sheet, g gene) (spot, bool) {
	best := spot{score: math.Inf(1)}
	if g.rather != anyPose {
		b.pose(s, g.part, g.rather, g.aim, &best)
	}
	for k := range b.shapes[g.part].poses {
		if k != g.rather && (g.rather == anyPose || math.IsInf(best.score, 1)) {
			b.pose(s, g.part, k, g.aim, &best)
		}
	}
	return best, !math.IsInf(best.score, 1)
}

// pose looks for a better place in one way of lying.
func (b *bench) pose(s *sheet, part, k int, aim float64, best *spot) {
	p := &b.shapes[part].poses[k]
	length, width := b.stock.usable()
	m := b.stock.Margin
	room := box{m - p.box.x0, m - p.box.y0, m + length - p.box.x1, m + width - p.box.y1}
	room.x1, room.y1 = math.Max(room.x0, room.x1), math.Max(room.y0, room.y1)
	score := func(at point) float64 {
		x, y := (at.x+p.box.x1-m)/length, (at.y+p.box.y1-m)/width
		return aim*x + (1-aim)*y + 1e-3*(x+y)
	}
	b.beside = b.beside[:0]
	for i := range s.laid {
		l := &s.laid[i]
		b.beside = append(b.beside, neighbour{b.pairs.get(b.shapes, l.shape, l.pose, part, p.orient), l.at})
	}
	var few [3]spot
	for i := range few {
		few[i].score = best.score
	}
	rows := b.heights(s, p.box, room)
	b.work += 4 * len(rows)
	for _, y := range rows {
		worst := &few[len(few)-1]
		if score(point{room.x0, y.at}) >= worst.score {
			continue
		}
		x, ok := b.row(y, room, func(x float64) bool { return score(point{x, y.at}) >= worst.score })
		if at := (point{x, y.at}); ok && score(at) < worst.score {
			*worst = spot{k, at, score(at)}
			for i := len(few) - 1; i > 0 && few[i].score < few[i-1].score; i-- {
				few[i], few[i-1] = few[i-1], few[i]
			}
		}
	}
	start := best.score
	for _, f := range few {
		if f.score >= start {
			break
		}
		f.at = b.slide(f.at, room)
		f.score = score(f.at)
		if f.score < best.score && (!b.careful || b.stands(s, part, p, f.at)) {
			*best = f
		}
	}
}

// row finds the leftmost free place of a row. It gives up as soon as what has been
// looked at leaves none that is good enough; the neighbour that said so is asked first
// in the next row, where it mostly says so again.
func (b *bench) row(y height, room box, poor func(x float64) bool) (float64, bool) {
	b.acc = b.acc[:0]
	x := room.x0
	for i := range b.beside {
		n := len(b.acc)
		b.beside[i].spans(y.at, false, y.close, &b.scratch)
		for _, s := range b.acc[n:] {
			if s.lo < x-touch && s.hi > x+touch {
				x = s.hi
			}
		}
		if x > room.x1+touch || x > room.x0 && poor(x) {
			b.beside[0], b.beside[i] = b.beside[i], b.beside[0]
			return 0, false
		}
	}
	return b.leftmost(room.x0, room.x1)
}

// height is a row to look along; close where something may be touched exactly there.
type height struct {
	at    float64
	close bool
}

// heights are the rows to look along: evenly spread ones, and those at which the part
// would just lie on or under another, or in its hole.
func (b *bench) heights(s *sheet, p, room box) []height {
	const even = 24
	b.rows = append(b.rows[:0], height{room.y0, true}, height{room.y1, true})
	if room.y1-room.y0 > touch {
		for i := 1; i < even; i++ {
			b.rows = append(b.rows, height{room.y0 + (room.y1-room.y0)*float64(i)/even, false})
		}
		for i := range s.laid {
			o := &s.laid[i].box
			g := b.stock.Gap
			b.close(room, o.y1+g-p.y0, o.y0-g-p.y1)
			for _, h := range s.laid[i].holes {
				if h.y1-h.y0 >= p.y1-p.y0+2*g {
					b.close(room, h.y0+g-p.y0, h.y1-g-p.y1)
				}
			}
		}
	}
	slices.SortFunc(b.rows, func(a, c height) int { return cmp.Compare(a.at, c.at) })
	n := 1
	for _, y := range b.rows[1:] {
		if y.at > b.rows[n-1].at+touch {
			b.rows[n] = y
			n++
		} else {
			b.rows[n-1].close = true
		}
	}
	return b.rows[:n]
}

// close adds rows to look along closely.
func (b *bench) close(room box, ys ...float64) {
	for _, y := range ys {
		if y > room.y0 && y < room.y1 {
			b.rows = append(b.rows, height{y, true})
		}
	}
}

// slide moves a free place down and left until it touches both ways.
func (b *bench) slide(at point, room box) point {
	for range 6 {
		from := at
		b.acc = b.acc[:0]
		for i := range b.beside {
			b.beside[i].spans(at.x, true, true, &b.scratch)
		}
		at.y = b.back(at.y, room.y0)
		b.acc = b.acc[:0]
		for i := range b.beside {
			b.beside[i].spans(at.y, false, true, &b.scratch)
		}
		at.x = b.back(at.x, room.x0)
		if from.x-at.x < 1e-5 && from.y-at.y < 1e-5 {
			break
		}
	}
	return at
}

// stands measures a place against its neighbours with the real polygons.
func (b *bench) stands(s *sheet, part int, p *pose, at point) bool {
	me := b.solid(laid{shape: part, pose: p.orient, at: at})
	for _, l := range s.laid {
		if _, _, clash := me.clash(b.solid(l), b.stock.Gap); clash {
			return false
		}
	}
	return true
}

// solid is a laid shape as the final check sees it.
func (j *job) solid(l laid) *solid {
	s := j.shapes[l.shape]
	rings := [][]point{l.pose.lay(s.ring)}
	for _, h := range s.holes {
		rings = append(rings, l.pose.lay(h))
	}
	for _, ring := range rings {
		for i := range ring {
			ring[i] = ring[i].add(l.at)
		}
	}
	return newSolid(rings)
}
