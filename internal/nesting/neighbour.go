package nesting

import "math"

// neighbour is a shape on the sheet as one that is to be laid beside it sees it.
type neighbour struct {
	link
	at point
}

// spans adds to acc what a neighbour blocks along a row (across = false) or a column.
// Looking a hair to both sides (close), and counting only what is blocked on both, lets
// shapes touch and lets a shape into a slot that it fits exactly.
func (n *neighbour) spans(v float64, across, close bool, s *scratch) {
	s1, s2, d := n.sx, n.sy, v-n.at.y
	if across {
		s1, s2, d = n.sy, n.sx, v-n.at.x
	}
	d *= s2
	line := (*curve).row
	if across {
		line = (*curve).column
	}
	first := true
	for _, c := range n.curves {
		if lo, hi := c.box.y0, c.box.y1; !across && (d < lo || d > hi) {
			return
		}
		if close {
			s.one, s.two = line(c, d+touch, s, s.one[:0]), line(c, d-touch, s, s.two[:0])
			s.spare = both(s.one, s.two, s.spare[:0])
		} else {
			s.spare = line(c, d, s, s.spare[:0])
		}
		if first {
			s.blocked, first = append(s.blocked[:0], s.spare...), false
			continue
		}
		s.one = append(s.one[:0], s.blocked...)
		s.blocked = both(s.one, s.spare, s.blocked[:0])
	}
	shift := n.at.x
	if across {
		shift = n.at.y
	}
	for _, b := range s.blocked {
		if s1 < 0 {
			b = span{-b.hi, -b.lo}
		}
		s.acc = append(s.acc, span{b.lo + shift, b.hi + shift})
	}
}

// leftmost is the first place from lo on that no span of acc holds.
func (s *scratch) leftmost(lo, hi float64) (float64, bool) {
	for i := 1; i < len(s.acc); i++ {
		for k := i; k > 0 && s.acc[k].lo < s.acc[k-1].lo; k-- {
			s.acc[k], s.acc[k-1] = s.acc[k-1], s.acc[k]
		}
	}
	for _, b := range s.acc {
		if b.lo >= lo-touch {
			break
		}
		if b.hi > lo+touch {
			lo = b.hi
		}
	}
	if lo > hi+touch {
		return 0, false
	}
	return math.Min(lo, hi), true
}

// back is how far down (or left) a free place can slide from v before it touches.
func (s *scratch) back(v, lo float64) float64 {
	for _, b := range s.acc {
		if b.hi <= v+touch && b.hi > lo {
			lo = b.hi
		}
	}
	return math.Min(v, lo)
}
