package nesting

import "sync"

// span is an open interval of offsets that is blocked.
type span struct{ lo, hi float64 }

// pair is the no-fit region of two shapes in a given position to each other: blocked is
// what every one of its curves blocks. The first curve keeps the outlines apart; each of
// the others frees the offsets at which one shape lies within a hole of the other.
type pair struct{ curves []*curve }

// pairKey names a pair: the first shape is drawn upright or turned, the other mirrored
// against it. All eight by eight ways of lying come down to these by signs.
type pairKey struct {
	a, b           int32
	turnA, turnB   bool
	mirrorX, flipY bool
}

// pairs keeps the no-fit regions that have been asked for. What it answers does not
// depend on who asked first, so that chains may share it.
type pairs struct {
	mu   sync.RWMutex
	made map[pairKey]*pair
}

func newPairs() *pairs {
	return &pairs{made: map[pairKey]*pair{}}
}

// link is a pair as seen from one part lying on the sheet: signs turn the offsets of
// the sheet into those of the pair.
type link struct {
	*pair
	sx, sy float64
}

// get finds the link from shape a lying by oa to shape b by ob.
func (ps *pairs) get(shapes []*shape, a int, oa orient, b int, ob orient) link {
	sx, sy := oa.sx, oa.sy
	if a > b { // what b keeps from a is what a keeps from b, the other way round
		a, b, oa, ob = b, a, ob, oa
		sx, sy = -oa.sx, -oa.sy
	}
	key := pairKey{int32(a), int32(b), oa.turned, ob.turned, oa.sx*ob.sx < 0, oa.sy*ob.sy < 0}
	ps.mu.RLock()
	p := ps.made[key]
	ps.mu.RUnlock()
	if p == nil {
		p = ps.make(shapes[a], orient{oa.turned, 1, 1}, shapes[b], orient{ob.turned, oa.sx * ob.sx, oa.sy * ob.sy})
		ps.mu.Lock()
		ps.made[key] = p
		ps.mu.Unlock()
	}
	return link{p, sx, sy}
}

// make works out a pair. Of two outlines one is widened by the gap.
func (ps *pairs) make(a *shape, oa orient, b *shape, ob orient) *pair {
	rb := ob.lay(b.ring)
	wa, wb := oa.lay(a.wide), ob.lay(b.wide)
	p := &pair{curves: []*curve{convolve(newSides(wa), newSides(about(rb)))}}
	for _, h := range a.holes {
		if hole := oa.lay(h); mayHold(hole, wb) {
			f := frame(hole, grown(around(wa), wb))
			p.curves = append(p.curves, convolve(newSides(f), newSides(about(wb))))
		}
	}
	for _, h := range b.holes {
		if hole := ob.lay(h); mayHold(hole, wa) {
			f := frame(hole, grown(around(rb), wa))
			p.curves = append(p.curves, convolve(newSides(wa), newSides(about(f))))
		}
	}
	return p
}

// mayHold tells whether a ring could lie within a hole.
func mayHold(hole, ring []point) bool {
	h, r := around(hole), around(ring)
	return h.x1-h.x0 >= r.x1-r.x0-touch && h.y1-h.y0 >= r.y1-r.y0-touch
}

// about turns a ring by half a turn.
func about(ring []point) []point { return orient{false, -1, -1}.lay(ring) }

// grown is a box with room for a ring on every side.
func grown(b box, ring []point) box {
	r := around(ring)
	w, h := r.x1-r.x0+1, r.y1-r.y0+1
	return box{b.x0 - w, b.y0 - h, b.x1 + w, b.y1 + h}
}

// frame is everything in a box but a hole, as one ring that runs in to the hole's
// leftmost point and out again, so that it has no hole itself.
func frame(hole []point, b box) []point {
	left := 0
	for i, p := range hole {
		if q := hole[left]; p.x < q.x || p.x == q.x && p.y < q.y {
			left = i
		}
	}
	corner := point{b.x0, b.y0}
	ring := []point{corner, {b.x1, b.y0}, {b.x1, b.y1}, {b.x0, b.y1}, corner}
	for i := range hole {
		ring = append(ring, hole[(left-i+len(hole))%len(hole)])
	}
	return append(ring, hole[left])
}

// scratch is room that a row or column is worked out in.
type scratch struct {
	hits       []hit
	one, two   []span
	acc, spare []span
	blocked    []span
	work       int // segments looked at: the measure of effort
}

// hit is where a line crosses a segment.
type hit struct {
	at   float64
	sign int8
}

// row finds the spans of x that a curve blocks at a height.
func (c *curve) row(y float64, s *scratch, out []span) []span {
	if y < c.box.y0 || y > c.box.y1 {
		return out
	}
	s.hits = s.hits[:0]
	band := c.bands[c.band(y)]
	s.work += len(band) + 4
	for i := range band {
		if r := &band[i]; r.lo <= y && y < r.hi {
			s.hits = append(s.hits, hit{r.at + r.slope*y, r.sign})
		}
	}
	return s.wound(out)
}

// column finds the spans of y that a curve blocks at a distance along.
func (c *curve) column(x float64, s *scratch, out []span) []span {
	if x < c.box.x0 || x > c.box.x1 {
		return out
	}
	s.hits = s.hits[:0]
	s.work += len(c.segments)/2 + 4
	for i := range c.segments {
		g := &c.segments[i]
		if left := g.a.x <= x; left != (g.b.x <= x) {
			sign := g.sign
			if !left {
				sign = -sign
			}
			s.hits = append(s.hits, hit{g.a.y + (g.b.y-g.a.y)*(x-g.a.x)/(g.b.x-g.a.x), sign})
		}
	}
	return s.wound(out)
}

// wound turns the hits of a line into the spans about which the curve winds.
func (s *scratch) wound(out []span) []span {
	sortHits(s.hits)
	w := 0
	for i, h := range s.hits {
		if w != 0 {
			if prev := s.hits[i-1].at; h.at > prev {
				if n := len(out); n > 0 && out[n-1].hi == prev {
					out[n-1].hi = h.at
				} else {
					out = append(out, span{prev, h.at})
				}
			}
		}
		w += int(h.sign)
	}
	return out
}

// sortHits is an insertion sort: the lists are short.
func sortHits(h []hit) {
	for i := 1; i < len(h); i++ {
		for k := i; k > 0 && h[k].at < h[k-1].at; k-- {
			h[k], h[k-1] = h[k-1], h[k]
		}
	}
}

// both leaves what two lists of spans have in common.
func both(a, b, out []span) []span {
	for i, k := 0, 0; i < len(a) && k < len(b); {
		lo, hi := max(a[i].lo, b[k].lo), min(a[i].hi, b[k].hi)
		if lo < hi {
			out = append(out, span{lo, hi})
		}
		if a[i].hi < b[k].hi {
			i++
		} else {
			k++
		}
	}
	return out
}
