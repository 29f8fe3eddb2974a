package stowing

import "math"

// atLeast is what spread, parts, moves, share and reach cost at least, item by item, wherever the
// others lie.
func (j *job) atLeast() float64 {
	sum := 0.0
	for i := range j.Items {
		n := j.Items[i].Units
		if n == 0 {
			continue
		}
		most, far, old := 0, math.Inf(1), 0
		for k := range j.Places {
			if j.goes[i][k] {
				most = max(most, j.most[i][k])
				far = min(far, j.far[i][k])
				if j.fresh[i][k] == 0 {
					old += j.most[i][k]
				}
			}
		}
		if !math.IsInf(far, 1) {
			sum += j.w.Reach * far * float64(n)
		}
		if j.Lies || most == 0 {
			continue
		}
		if old < n {
			sum += j.w.Move
		}
		least := math.Inf(1)
		for places := (n + most - 1) / most; places <= n; places++ {
			c := j.w.Share * float64(max(0, n-places*j.share[i]))
			least = min(least, c+j.each[i]*float64(places-1))
		}
		sum += least
	}
	return sum
}

// values writes a layout as a solution of the coarse program.
func (c *coarse) values(l Layout) []float64 {
	j := c.j
	if c.turned(l) {
		l = mirrorImage(l, j.mirror())
	}
	x := make([]float64, len(c.m.Columns))
	for n := range c.pours {
		p := &c.pours[n]
		for b := range p.litres {
			for k := range j.Places {
				for _, i := range p.items {
					c.put(x, n, i, b, k, l)
				}
			}
		}
		for _, s := range p.some {
			units, all := 0, 0
			for _, i := range p.items {
				units += l.Take[i][s[0]][s[1]]
				all += j.need[i][s[0]]
			}
			x[s[2]] = float64(units) / float64(all)
		}
	}
	c.full.weigh(l, x)
	return x
}

// put adds an item's units in a place to a solution.
func (c *coarse) put(x []float64, n, i, b, k int, l Layout) {
	p, it := &c.pours[n], &c.j.Items[i]
	u := 0
	if p.used {
		u = l.Take[i][b][k]
	} else {
		u = l.Where[i][k]
	}
	if u == 0 || p.litres[b][k] < 0 {
		return
	}
	x[p.litres[b][k]] += 1000 * float64(u) * it.Volume
	x[p.kilos[b][k]] += float64(u) * it.Mass
	if p.used {
		x[c.open[b][k]] = 1
		if o := c.own[n][b][k]; o >= 0 {
			x[o] = 1
		}
	}
	if h := c.holds[n][k]; h >= 0 {
		x[h] = 1
	}
}

// turned tells whether a layout is the mirror image of what the program asks.
func (c *coarse) turned(l Layout) bool {
	s := 0.0
	if c.sided < 0 {
		return false
	}
	for _, i := range c.pours[c.sided].items {
		for k, n := range l.Take[i][0] {
			s += float64(n) * c.j.Items[i].Volume * sign(c.j.Places[k].At.Y)
		}
	}
	return s > 0
}
