package stowing

import (
	"fmt"
	"math"

	"thole/internal/highs"
)

// coarse is a smaller program whose optimum no plan can pass: items that obey the same
// rules are poured together, by litre and kilogram instead of by unit. What is whole stays
// whole only in which places are opened in a block and which sort a place holds. It is the
// program that gives a bound in seconds where the full one takes hours.
//
// It is a relaxation: from any plan that keeps the rules, the sums over its items keep every
// row here, at the same cost of opening and of trim, heel and height; what spreading and
// shares cost at least, item by item, is added as a constant.
type coarse struct {
	j     *job
	m     highs.Model
	pours []pour
	open  [][]int
	holds [][]int   // kind → place
	own   [][][]int // kind → block → place: opened for this kind, where it has kinds it must lie apart from
	sided int       // the kind of the mirror row; -1: none
	full  program   // lends balance its masses and rows
}

// pour is the items of one kind: used ones that obey the same rules, or kept ones.
type pour struct {
	items  []int
	used   bool
	litres [][]int // block (used) or 0 (kept) → place: column, -1 where there is none
	kilos  [][]int
	some   [][3]int // block, place, column: the part of a block's use that has neither volume nor mass
}

// coarsen writes the smaller program down.
func (j *job) coarsen() *coarse {
	c := &coarse{j: j, sided: -1, open: table(len(j.span), len(j.Places))}
	c.gather()
	c.m.Offset = j.atLeast()
	c.own = make([][][]int, len(c.pours))
	for n := range c.pours {
		c.own[n] = table(len(j.span), len(j.Places))
	}
	for n := range c.pours {
		c.fill(n)
	}
	c.room()
	c.sorts()
	c.balance()
	c.mirror()
	return c
}

// gather finds the kinds.
func (c *coarse) gather() {
	j := c.j
	at := map[string]int{}
	for i := range j.Items {
		if j.Items[i].Units == 0 {
			continue
		}
		key := fmt.Sprint(j.need[i] != nil, j.goes[i], j.Items[i].Group, j.Items[i].Apart)
		n, ok := at[key]
		if !ok {
			n = len(c.pours)
			at[key] = n
			c.pours = append(c.pours, pour{used: j.need[i] != nil})
		}
		c.pours[n].items = append(c.pours[n].items, i)
	}
}

// units is how many units of an item a pour has in a block.
func (c *coarse) units(p *pour, i, b int) float64 {
	if p.used {
		return float64(c.j.need[i][b])
	}
	return float64(c.j.Items[i].Units)
}

// fill makes the columns of a pour: litres and kilograms by block and place, the kilograms
// to a litre between the lightest and the heaviest of its items.
func (c *coarse) fill(n int) {
	j, p := c.j, &c.pours[n]
	blocks := 1
	if p.used {
		blocks = len(j.span)
	}
	p.litres, p.kilos = table(blocks, len(j.Places)), table(blocks, len(j.Places))
	for b := range blocks {
		litres, kilos, any := 0.0, 0.0, 0.0
		light, dense := math.Inf(1), 0.0
		for _, i := range p.items {
			it, u := &j.Items[i], c.units(p, i, b)
			if u == 0 {
				continue
			}
			any += u
			litres += 1000 * u * it.Volume
			kilos += u * it.Mass
			rho := math.Inf(1)
			if it.Volume > 0 {
				rho = it.Mass / (1000 * it.Volume)
			}
			light, dense = min(light, rho), max(dense, rho)
		}
		if any == 0 {
			continue
		}
		vol, mass := c.m.Row(litres, litres), c.m.Row(kilos, kilos)
		some := -1
		if litres == 0 && kilos == 0 {
			some = c.m.Row(1, 1)
		}
		for k := range j.Places {
			if !j.goes[p.items[0]][k] {
				continue
			}
			v, m := c.m.Column(0, litres, 0), c.m.Column(0, kilos, 0)
			p.litres[b][k], p.kilos[b][k] = v, m
			c.m.Term(vol, v, 1)
			c.m.Term(mass, m, 1)
			if light > 0 && !math.IsInf(light, 1) {
				r := c.m.Row(0, math.Inf(1))
				c.m.Term(r, m, 1)
				c.m.Term(r, v, -light)
			}
			if !math.IsInf(dense, 1) {
				r := c.m.Row(math.Inf(-1), 0)
				c.m.Term(r, m, 1)
				c.m.Term(r, v, -dense)
			}
			if !p.used {
				continue
			}
			o := c.opens(n, b, k)
			if litres > 0 {
				most := litres
				if !j.Lies {
					most = min(litres, 1000*j.Places[k].Volume)
				}
				c.shut(v, o, most)
			}
			if kilos > 0 {
				c.shut(m, o, kilos)
			}
			if some >= 0 {
				s := c.m.Column(0, 1, 0)
				p.some = append(p.some, [3]int{b, k, s})
				c.m.Term(some, s, 1)
				c.shut(s, o, 1)
			}
		}
	}
}

// opens is the column that lets a kind be taken out of a place in a block. For a kind that
// must lie apart from others it is the kind's own, and what the two kinds open of a place is
// together no more than the place opened: without that, half of a place opened for each
// would count as one.
func (c *coarse) opens(n, b, k int) int {
	if c.open[b][k] < 0 {
		c.open[b][k] = c.m.Whole(0, 1, c.j.span[b]*c.j.w.Open[c.j.Places[k].Reach])
	}
	own := -1
	for o := range c.pours {
		q := &c.pours[o]
		if !q.used || c.j.Lies || !c.j.apart[c.pours[n].items[0]][q.items[0]] {
			continue
		}
		if own < 0 {
			own = c.m.Column(0, 1, 0)
			c.own[n][b][k] = own
			c.shut(own, c.open[b][k], 1)
		}
		if other := c.own[o][b][k]; other >= 0 {
			r := c.m.Row(math.Inf(-1), 0)
			c.m.Term(r, own, 1)
			c.m.Term(r, other, 1)
			c.m.Term(r, c.open[b][k], -1)
		}
	}
	if own >= 0 {
		return own
	}
	return c.open[b][k]
}

// shut: x <= most · o.
func (c *coarse) shut(x, o int, most float64) {
	r := c.m.Row(math.Inf(-1), 0)
	c.m.Term(r, x, 1)
	c.m.Term(r, o, -most)
}

// each calls f with every column of a table of a pour in a place.
func (p *pour) each(t [][]int, k int, f func(col int)) {
	for b := range t {
		if t[b][k] >= 0 {
			f(t[b][k])
		}
	}
}

// room: volumes and masses.
func (c *coarse) room() {
	j := c.j
	if j.Lies {
		return
	}
	for k := range j.Places {
		vol, mass := c.m.Row(math.Inf(-1), 1000*(j.Places[k].Volume+slack)), -1
		if j.Places[k].MassLimit > 0 {
			mass = c.m.Row(math.Inf(-1), j.Places[k].MassLimit+slack)
		}
		for n := range c.pours {
			p := &c.pours[n]
			p.each(p.litres, k, func(col int) { c.m.Term(vol, col, 1) })
			if mass >= 0 {
				p.each(p.kilos, k, func(col int) { c.m.Term(mass, col, 1) })
			}
		}
	}
}

// sorts: a place holds the one or the other of two kinds that must lie apart.
func (c *coarse) sorts() {
	j := c.j
	c.holds = table(len(c.pours), len(j.Places))
	if j.Lies {
		return
	}
	for a := range c.pours {
		for b := range c.pours {
			if a == b || !j.apart[c.pours[a].items[0]][c.pours[b].items[0]] {
				continue
			}
			for k := range j.Places {
				x, y := c.hold(a, k), c.hold(b, k)
				if a < b && x >= 0 && y >= 0 {
					r := c.m.Row(math.Inf(-1), 1)
					c.m.Term(r, x, 1)
					c.m.Term(r, y, 1)
				}
			}
		}
	}
}

// hold is the column of a place that holds a kind, -1 where the kind does not go.
func (c *coarse) hold(n, k int) int {
	p := &c.pours[n]
	if !c.j.goes[p.items[0]][k] || c.holds[n][k] >= 0 {
		return c.holds[n][k]
	}
	h := c.m.Whole(0, 1, 0)
	c.holds[n][k] = h
	for n, t := range [][][]int{p.litres, p.kilos} {
		r, sum := c.m.Row(math.Inf(-1), 0), 0.0
		p.each(t, k, func(col int) {
			c.m.Term(r, col, 1)
			sum += c.m.Columns[col].Upper
		})
		if n == 0 {
			sum = min(sum, 1000*(c.j.Places[k].Volume+slack))
		}
		c.m.Term(r, h, -sum)
	}
	return h
}

// balance uses the rows of the full program, with masses made of what is poured.
func (c *coarse) balance() {
	p := &c.full
	p.j, p.m = c.j, c.m
	p.pour = func(row, check, k int) {
		last := len(c.j.ends) - 1
		for n := range c.pours {
			q := &c.pours[n]
			switch {
			case check == last && !q.used:
				if col := q.kilos[0][k]; col >= 0 {
					p.m.Term(row, col, 1)
				}
			case check < last && q.used:
				if col := q.kilos[check][k]; col >= 0 {
					p.m.Term(row, col, 1)
				}
			}
		}
	}
	p.balance()
	c.m = p.m
}

// mirror: where both sides are the same, the first used kind's first block lies no more to
// starboard than to port.
func (c *coarse) mirror() {
	if c.j.Lies || c.j.mirror() == nil {
		return
	}
	for n := range c.pours {
		p := &c.pours[n]
		if !p.used {
			continue
		}
		c.sided = n
		r := c.m.Row(math.Inf(-1), 0)
		for k, col := range p.litres[0] {
			if y := sign(c.j.Places[k].At.Y); col >= 0 && y != 0 {
				c.m.Term(r, col, y)
			}
		}
		return
	}
}
