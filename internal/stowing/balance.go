package stowing

import (
	"math"
	"sort"
)

// balance: mass[c,k] is what lies in place k on check day c, so that the rows of trim, heel
// and height have one term a place and not one a decision.
func (p *program) balance() {
	j := p.j
	weights := [3]float64{j.w.Trim, j.w.Heel, j.w.Height}
	asked := [3]bool{}
	for _, d := range j.ends {
		l := j.limits[d]
		asked[0] = asked[0] || !math.IsInf(l.XMin, -1) || !math.IsInf(l.XMax, 1)
		asked[1] = asked[1] || !math.IsInf(l.YMax, 1)
		asked[2] = asked[2] || !math.IsInf(l.ZMax, 1)
	}
	for q := range p.over {
		p.worst[q] = -1
		asked[q] = asked[q] && weights[q] > 0
	}
	if !asked[0] && !asked[1] && !asked[2] {
		return
	}
	p.masses()
	for q := range p.over {
		if !asked[q] {
			continue
		}
		p.worst[q] = p.m.Column(0, math.Inf(1), weights[q])
		for c, d := range j.ends {
			over := p.m.Column(0, math.Inf(1), weights[q]/float64(len(j.ends)))
			p.over[q] = append(p.over[q], over)
			r := p.m.Row(0, math.Inf(1))
			p.m.Term(r, p.worst[q], 1)
			p.m.Term(r, over, -1)
			l, m := j.limits[d], j.rest[d].Moment
			switch q {
			case 0:
				p.upTo(c, over, 1, l.XMax-m.X, func(k int) float64 { return j.Places[k].At.X })
				p.upTo(c, over, -1, m.X-l.XMin, func(k int) float64 { return j.Places[k].At.X })
			case 1:
				p.upTo(c, over, 1, l.YMax-m.Y, func(k int) float64 { return j.Places[k].At.Y })
				p.upTo(c, over, -1, l.YMax+m.Y, func(k int) float64 { return j.Places[k].At.Y })
			case 2:
				p.upTo(c, over, 1, l.ZMax-m.Z, func(k int) float64 { return j.Places[k].At.Z })
			}
		}
	}
}

// upTo: sign · sum of arm · mass <= most + over.
func (p *program) upTo(c, over int, sign, most float64, arm func(int) float64) {
	if math.IsInf(most, 1) {
		return
	}
	r := p.m.Row(math.Inf(-1), most)
	for k := range p.j.Places {
		if a := arm(k); a != 0 {
			p.m.Term(r, p.mass[c][k], sign*a)
		}
	}
	p.m.Term(r, over, -1)
}

// masses makes mass[c,k], from the last check day back: what is left, then what each block
// had still to be used.
func (p *program) masses() {
	j := p.j
	p.mass = table(len(j.ends), len(j.Places))
	for c := len(j.ends) - 1; c >= 0; c-- {
		for k := range j.Places {
			p.mass[c][k] = p.m.Column(math.Inf(-1), math.Inf(1), 0)
			r := p.m.Row(0, 0)
			p.m.Term(r, p.mass[c][k], -1)
			if c < len(j.ends)-1 {
				p.m.Term(r, p.mass[c+1][k], 1)
			}
			p.pour(r, c, k)
		}
	}
}

// byItem adds to a row what separates the mass in place k on check day c from that on the
// next: what the block between uses, or what is left at the end.
func (p *program) byItem(row, c, k int) {
	j := p.j
	for i := range j.Items {
		col := -1
		switch {
		case c == len(j.ends)-1 && j.need[i] == nil:
			col = p.where[i][k]
		case c < len(j.ends)-1 && j.need[i] != nil:
			col = p.take[i][c][k]
		}
		if col >= 0 && j.Items[i].Mass > 0 {
			p.m.Term(row, col, j.Items[i].Mass)
		}
	}
}

// earlier says that of two items alike in everything, the first lies in the lower places.
type earlier struct{ a, b int }

// oneOfMany takes away plans that are mirror images or renumberings of others, none of which
// is better: of kept items alike in everything the first lies in the lower places, and
// where the boat and her load are the same on both sides, the first item that can lie on
// either lies no more to starboard than to port.
func (p *program) oneOfMany() {
	j := p.j
	if j.Lies {
		return
	}
	last := map[string]int{}
	for i := range j.Items {
		if j.need[i] != nil || j.Items[i].Units == 0 {
			continue
		}
		key := j.alike(i)
		if a, ok := last[key]; ok && len(j.Items[i].Pins) == 0 {
			p.order = append(p.order, earlier{a, i})
			r := p.m.Row(math.Inf(-1), 0)
			for k := range j.Places {
				p.departure(r, a, k, float64(k))
				p.departure(r, i, k, -float64(k))
			}
		}
		last[key] = i
	}
	twin := j.mirror()
	if twin == nil {
		return
	}
	for i := range j.Items {
		if j.Items[i].Units == 0 || p.inOrder(i) {
			continue
		}
		r := -1
		for k := range j.Places {
			if twin[k] == k || !j.goes[i][k] || j.most[i][k] == 0 {
				continue
			}
			if r < 0 {
				r = p.m.Row(math.Inf(-1), 0)
				p.side = i
			}
			p.departure(r, i, k, sign(j.Places[k].At.Y))
		}
		if r >= 0 {
			return
		}
	}
}

// inOrder tells whether an item already stands in a row of order: both rows at once could
// forbid a plan and its mirror image.
func (p *program) inOrder(i int) bool {
	for _, o := range p.order {
		if o.a == i || o.b == i {
			return true
		}
	}
	return false
}

// sign is -1, 0 or 1.
func sign(v float64) float64 {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// mirror is the image of every place, or nil where the problem is not the same on both
// sides.
func (j *job) mirror() []int {
	if len(j.Keeps) > 0 {
		return nil
	}
	for _, d := range j.ends {
		if math.Abs(j.rest[d].Moment.Y) > slack {
			return nil
		}
	}
	twin := make([]int, len(j.Places))
	taken := make([]bool, len(j.Places))
	for k := range j.Places {
		twin[k] = -1
		for q := range j.Places {
			if !taken[q] && j.twins(k, q) {
				twin[k] = q
				taken[q] = true
				break
			}
		}
		if twin[k] < 0 {
			return nil
		}
	}
	for k, q := range twin {
		if twin[q] != k {
			return nil
		}
	}
	return twin
}

// twins tells whether two places are each other's image, for every item.
func (j *job) twins(a, b int) bool {
	p, q := j.Places[a], j.Places[b]
	if p.At.X != q.At.X || p.At.Y != -q.At.Y || p.At.Z != q.At.Z || p.Volume != q.Volume || p.Reach != q.Reach || p.MassLimit != q.MassLimit {
		return false
	}
	if a == b {
		return true
	}
	for i := range j.Items {
		if len(j.Items[i].Pins) > 0 || j.goes[i][a] != j.goes[i][b] || j.most[i][a] != j.most[i][b] || j.fresh[i][a] != j.fresh[i][b] {
			return false
		}
	}
	return p.At.Y != 0
}

// mirrorImage is the layout with every place's load in its twin.
func mirrorImage(l Layout, twin []int) Layout {
	out := l.Clone()
	for i := range l.Where {
		for k, q := range twin {
			out.Where[i][q] = l.Where[i][k]
			for b := range l.Take[i] {
				out.Take[i][b][q] = l.Take[i][b][k]
			}
		}
	}
	return out
}

// sortAlike gives items alike in everything their places in the order that the program asks.
func (p *program) sortAlike(l *Layout) {
	next := map[int]int{}
	start := map[int]bool{}
	for _, o := range p.order {
		next[o.a] = o.b
		start[o.a] = true
	}
	for _, o := range p.order {
		delete(start, o.b)
	}
	for a := range start {
		var rows [][]int
		for i, ok := a, true; ok; i, ok = next[i] {
			rows = append(rows, l.Where[i])
		}
		sort.SliceStable(rows, func(x, y int) bool { return rank(rows[x]) < rank(rows[y]) })
		for i, n, ok := a, 0, true; ok; i, ok = next[i] {
			l.Where[i] = rows[n]
			n++
		}
	}
}

// rank is the sum of place numbers over the units.
func rank(where []int) int {
	s := 0
	for k, n := range where {
		s += k * n
	}
	return s
}
