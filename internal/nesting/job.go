package nesting

import (
	"fmt"
	"math"
	"sort"
)

// job is what stays the same through a search.
type job struct {
	parts  []Part
	stock  Stock
	shapes []*shape // of the parts; then those of fixed parts at odd angles
	pairs  *pairs
	fixed  []Placement
	base   []sheet // the sheets with what is fixed on them
	held   []int   // copies of each part that are fixed
	odd    []int   // those of them that lie in a way the search would not lay them
}

// item is one piece to be laid.
type item struct{ part, copy int }

// fix takes the placements that the person made and checks them.
func (j *job) fix(fixed []Placement) (notes []string, err error) {
	j.held, j.odd = make([]int, len(j.parts)), make([]int, len(j.parts))
	j.fixed = append([]Placement(nil), fixed...)
	for i := range j.fixed {
		j.fixed[i].Fixed = true
	}
	if faults := Check(j.parts, j.stock, j.fixed); len(faults) > 0 {
		return nil, fmt.Errorf("fixed: %s (move one, or let it go)", faults[0])
	}
	for _, p := range j.fixed {
		for len(j.base) <= p.Sheet {
			j.base = append(j.base, sheet{})
		}
		l := laid{shape: p.Part, at: point{p.X, p.Y}}
		q, square := quarters(p.Angle)
		if l.pose = quarter(q, p.Flip); !square {
			l.shape, l.pose = j.turned(p), upright
		}
		s := j.shapes[l.shape]
		l.bound(s)
		j.base[p.Sheet].put(l, s.area)
		j.held[p.Part]++
		part := j.parts[p.Part]
		across := part.Grain == Along && (!square || q%2 == 1)
		if across {
			notes = append(notes, fmt.Sprintf("%s is fixed across the grain", p.named(j.parts)))
		}
		if p.Flip && !part.MayFlip {
			notes = append(notes, fmt.Sprintf("%s is fixed with its other face up", p.named(j.parts)))
		}
		if across || !square || p.Flip && !part.MayFlip {
			j.odd[p.Part]++
		}
	}
	return notes, nil
}

// turned makes a shape of a part fixed at an odd angle.
func (j *job) turned(p Placement) int {
	at := p
	at.X, at.Y = 0, 0
	lay := func(ring []point) []point {
		raw := make([][2]float64, len(ring))
		for i, v := range ring {
			raw[i] = [2]float64{v.x, v.y}
		}
		out := at.lay(raw)
		if area(out) < 0 {
			reverse(out)
		}
		return out
	}
	from := j.shapes[p.Part]
	s := &shape{name: from.name, ring: lay(from.ring), wide: lay(from.wide), area: from.area}
	s.box = around(s.ring)
	for _, h := range from.holes {
		s.holes = append(s.holes, lay(h))
	}
	j.shapes = append(j.shapes, s)
	return len(j.shapes) - 1
}

// items lists the pieces to be laid, and the parts that no sheet can take. Ways of lying
// that do not fit the sheet are struck off.
func (j *job) items(r *Result) []item {
	taken := map[item]bool{}
	for _, p := range j.fixed {
		taken[item{p.Part, p.Copy}] = true
	}
	length, width := j.stock.usable()
	var items []item
	for i, part := range j.parts {
		s := j.shapes[i]
		miss := Misfit{Part: i, OverLength: math.Inf(1)}
		var fit []pose
		for _, p := range s.poses {
			long, wide := math.Max(0, p.box.x1-p.box.x0-length), math.Max(0, p.box.y1-p.box.y0-width)
			if long <= touch && wide <= touch {
				fit = append(fit, p)
			}
			if long+wide < miss.OverLength+miss.OverWide {
				miss.OverLength, miss.OverWide = long, wide
			}
		}
		s.poses = fit
		if len(fit) == 0 {
			if part.Count > j.held[i] {
				r.Unfit = append(r.Unfit, miss)
			}
			continue
		}
		for c := range part.Count {
			if it := (item{i, c}); !taken[it] {
				items = append(items, it)
			}
		}
	}
	return items
}

// finish writes a layout down.
func (j *job) finish(r *Result, best *layout) {
	r.Placements = append(r.Placements, j.fixed...)
	sheets := j.copied()
	for _, s := range best.steps {
		p := j.shapes[s.part].poses[s.pose]
		r.Placements = append(r.Placements, Placement{Part: s.part, Copy: s.copy, Sheet: s.sheet,
			X: s.at.x, Y: s.at.y, Angle: float64(p.quarter) * math.Pi / 2, Flip: p.flip})
		j.replay(&sheets, s)
	}
	sort.Slice(r.Placements, func(i, k int) bool {
		a, b := r.Placements[i], r.Placements[k]
		return a.Part < b.Part || a.Part == b.Part && a.Copy < b.Copy
	})
	least := math.Inf(1)
	for _, s := range sheets {
		if len(s.laid) == 0 {
			continue
		}
		r.Sheets++
		r.Used += s.area
		if s.area < least {
			least = s.area
			r.Offcut = j.stock.Length - j.stock.Margin - s.end() - j.stock.Gap
		}
	}
	r.Offcut = math.Max(0, r.Offcut)
	if r.Sheets > 0 {
		r.Waste = 1 - r.Used/(float64(r.Sheets)*j.stock.Length*j.stock.Width)
	}
}

// end is how far along the sheet anything reaches.
func (s *sheet) end() float64 {
	var x float64
	for _, l := range s.laid {
		x = math.Max(x, l.box.x1)
	}
	return x
}

// copied is the sheets as they are before anything but the fixed is laid.
func (j *job) copied() []sheet {
	out := make([]sheet, len(j.base))
	for i, s := range j.base {
		out[i] = sheet{append([]laid(nil), s.laid...), s.area}
	}
	return out
}

// replay lays a step again.
func (j *job) replay(sheets *[]sheet, s step) {
	for len(*sheets) <= s.sheet {
		*sheets = append(*sheets, sheet{})
	}
	p := &j.shapes[s.part].poses[s.pose]
	l := laid{shape: s.part, pose: p.orient, at: s.at}
	l.bound(j.shapes[s.part])
	(*sheets)[s.sheet].put(l, j.shapes[s.part].area)
}

// bound notes the boxes of a laid shape and of its holes.
func (l *laid) bound(s *shape) {
	l.box = moved(l.pose.turn(s.box), l.at)
	for _, h := range s.holes {
		l.holes = append(l.holes, moved(l.pose.turn(around(h)), l.at))
	}
}

// turn lays a box.
func (o orient) turn(b box) box {
	return around([]point{o.apply(point{b.x0, b.y0}), o.apply(point{b.x1, b.y1})})
}

// moved is a box shifted.
func moved(b box, by point) box { return box{b.x0 + by.x, b.y0 + by.y, b.x1 + by.x, b.y1 + by.y} }
