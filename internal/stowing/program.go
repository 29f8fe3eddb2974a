package stowing

import (
	"math"

	"thole/internal/highs"
)

// program is the problem as a mixed-integer linear program, with the numbers of its
// columns; -1 where a column is not needed.
type program struct {
	j     *job
	m     highs.Model
	where [][]int   // kept item → place: units
	take  [][][]int // used item → block → place: units
	lies  [][]int   // item → place: 1 when any unit lies there (not for single units, nor where that costs nothing)
	open  [][]int   // block → place: 1 when opened
	holds []int     // see together
	mass  [][]int   // check day → place: mass of what is stowed there
	over  [3][]int  // trim, heel, height → check day: by how much it is outside
	worst [3]int    // trim, heel, height
	much  [][]int   // item → place: units over the share
	order []earlier
	side  int                         // the item of the mirror row; -1: none
	pour  func(row, check, place int) // adds the masses that change after a check day to a row
}

// build writes the program down. The comments name the symbols of the package's page.
func (j *job) build() *program {
	p := &program{j: j, side: -1}
	p.pour = p.byItem
	p.decide()
	p.cover()
	p.room()
	p.opening()
	p.apart()
	p.keep()
	p.balance()
	p.oneOfMany()
	return p
}

// table is a table of columns that are not there yet.
func table(n, m int) [][]int {
	out := make([][]int, n)
	for i := range out {
		out[i] = make([]int, m)
		for k := range out[i] {
			out[i][k] = -1
		}
	}
	return out
}

// decide makes w and f, with the price of reach, which is linear in them.
func (p *program) decide() {
	j := p.j
	p.where, p.lies, p.much = table(len(j.Items), len(j.Places)), table(len(j.Items), len(j.Places)), table(len(j.Items), len(j.Places))
	p.take = make([][][]int, len(j.Items))
	for i := range j.Items {
		if j.need[i] != nil {
			p.take[i] = table(len(j.span), len(j.Places))
		}
		for k := range j.Places {
			if !j.goes[i][k] || j.most[i][k] == 0 {
				continue
			}
			price := j.w.Reach * j.far[i][k]
			if j.Items[i].Units == 1 {
				price += j.fresh[i][k]
			}
			if j.need[i] == nil {
				p.where[i][k] = p.m.Whole(0, float64(j.most[i][k]), price)
				continue
			}
			for b, need := range j.need[i] {
				if need > 0 {
					p.take[i][b][k] = p.m.Whole(0, float64(min(need, j.most[i][k])), price)
				}
			}
		}
	}
}

// departure adds w[i,k], or the sum of f over the blocks, to a row.
func (p *program) departure(row, i, k int, value float64) {
	if c := p.where[i][k]; c >= 0 {
		p.m.Term(row, c, value)
	}
	for b := range p.take[i] {
		if c := p.take[i][b][k]; c >= 0 {
			p.m.Term(row, c, value)
		}
	}
}

// cover: all units are aboard, what is pinned lies there, shares and spread are counted.
func (p *program) cover() {
	j := p.j
	for i := range j.Items {
		n := float64(j.Items[i].Units)
		if j.need[i] == nil {
			r := p.m.Row(n, n)
			for k := range j.Places {
				p.departure(r, i, k, 1)
			}
		}
		for b, need := range j.need[i] {
			if need == 0 {
				continue
			}
			r := p.m.Row(float64(need), float64(need))
			for _, c := range p.take[i][b] {
				if c >= 0 {
					p.m.Term(r, c, 1)
				}
			}
		}
		for k := range j.Places {
			most := j.most[i][k]
			if pinned := j.Items[i].Pins[k]; pinned > 0 {
				r := p.m.Row(float64(pinned), math.Inf(1))
				p.departure(r, i, k, 1)
			}
			if !j.goes[i][k] || most == 0 {
				continue
			}
			if here := j.each[i] + j.fresh[i][k]; j.Items[i].Units > 1 && here > 0 {
				p.lies[i][k] = p.m.Whole(0, 1, here)
				r := p.m.Row(math.Inf(-1), 0)
				p.departure(r, i, k, 1)
				p.m.Term(r, p.lies[i][k], -float64(most))
			}
			if most > j.share[i] {
				p.much[i][k] = p.m.Column(0, math.Inf(1), j.w.Share)
				r := p.m.Row(math.Inf(-1), float64(j.share[i]))
				p.departure(r, i, k, 1)
				p.m.Term(r, p.much[i][k], -1)
			}
		}
		if j.Items[i].Units > 1 {
			p.m.Offset -= j.each[i]
		}
	}
}

// room: volumes in litres, so that coefficients are near 1, and masses.
func (p *program) room() {
	j := p.j
	if j.Lies {
		return
	}
	for k := range j.Places {
		pl := &j.Places[k]
		vol, mass := p.m.Row(math.Inf(-1), 1000*pl.Volume), -1
		if pl.MassLimit > 0 {
			mass = p.m.Row(math.Inf(-1), pl.MassLimit)
		}
		for i := range j.Items {
			it := &j.Items[i]
			if it.Volume > 0 {
				p.departure(vol, i, k, 1000*it.Volume)
			}
			if mass >= 0 && it.Mass > 0 {
				p.departure(mass, i, k, it.Mass)
			}
		}
	}
}

// opening: nothing is taken out of a place that is shut. One row serves all items that may
// lie in the same places: far fewer rows than one an item, and nearly as good a bound.
func (p *program) opening() {
	j := p.j
	p.open = table(len(j.span), len(j.Places))
	for b := range j.span {
		for k := range j.Places {
			for _, class := range j.classes {
				need, row := 0, -1
				for _, i := range class {
					c := p.take[i][b][k]
					if c < 0 {
						continue
					}
					if p.open[b][k] < 0 {
						p.open[b][k] = p.m.Whole(0, 1, j.span[b]*j.w.Open[j.Places[k].Reach])
					}
					if row < 0 {
						row = p.m.Row(math.Inf(-1), 0)
					}
					need += min(j.need[i][b], j.most[i][k])
					p.m.Term(row, c, 1)
				}
				if row >= 0 {
					p.m.Term(row, p.open[b][k], -float64(need))
				}
			}
		}
	}
}

// apart: for two sorts of items that must lie apart, a place holds the one or the other.
// Items are of one sort when they must lie apart from the same items.
func (p *program) apart() {
	j := p.j
	if j.Lies {
		return
	}
	sorts, _ := j.sorts()
	holds := table(len(sorts), len(j.Places))
	for s, items := range sorts {
		for k := range j.Places {
			for _, i := range items {
				if !j.goes[i][k] || j.most[i][k] == 0 {
					continue
				}
				if holds[s][k] < 0 {
					holds[s][k] = p.m.Whole(0, 1, 0)
					p.holds = append(p.holds, s, k, holds[s][k])
				}
				r := p.m.Row(math.Inf(-1), 0)
				if c := p.lies[i][k]; c >= 0 {
					p.m.Term(r, c, 1)
					p.m.Term(r, holds[s][k], -1)
					continue
				}
				p.departure(r, i, k, 1)
				p.m.Term(r, holds[s][k], -float64(j.most[i][k]))
			}
		}
	}
	for a := range sorts {
		for b := a + 1; b < len(sorts); b++ {
			if !j.apart[sorts[a][0]][sorts[b][0]] {
				continue
			}
			for k := range j.Places {
				if holds[a][k] >= 0 && holds[b][k] >= 0 {
					r := p.m.Row(math.Inf(-1), 1)
					p.m.Term(r, holds[a][k], 1)
					p.m.Term(r, holds[b][k], 1)
				}
			}
		}
	}
}

// sorts gathers the items that must lie apart from anything by what they must lie apart
// from, and gives the sort of each item (-1: none). No two items of one sort must lie apart
// from each other: neither does so from itself.
func (j *job) sorts() (sorts [][]int, of []int) {
	of = make([]int, len(j.Items))
	for i := range j.Items {
		of[i] = -1
		any := false
		for _, a := range j.apart[i] {
			any = any || a
		}
		if !any {
			continue
		}
		for s, items := range sorts {
			if same(j.apart[i], j.apart[items[0]]) {
				of[i] = s
			}
		}
		if of[i] < 0 {
			of[i] = len(sorts)
			sorts = append(sorts, nil)
		}
		sorts[of[i]] = append(sorts[of[i]], i)
	}
	return sorts, of
}

// same tells whether two rows agree.
func same(a, b []bool) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}
