package climate

import "math"

// grid is a lattice of cells with up to five quantities, each a straight line from mid-month to
// mid-month whose mean over every month is that month's given mean.
type grid struct {
	south, west float64 // radians, the first cell's centre
	step        float64 // radians of latitude between rows
	stride      float64 // radians of longitude between columns
	rows, cols  int
	round       bool // the columns go round the earth
	fill        bool // cells that are not valid still have a value, used where all four corners are so
	n           int  // quantities
	knots       []float32
	valid       []bool
}

// gain undoes what a straight line does to a month's mean: with knots a, the mean of month i is
// (a[i-1] + 6 a[i] + a[i+1]) / 8, and this is the inverse of that circulant matrix.
// Source: Taylor, Williamson & Zwiers 2000, PCMDI report 60 (for sea surface temperature); closed form
var gain = func() (g [12]float64) {
	for k := range g {
		for j := range 12 {
			a := 2 * math.Pi * float64(j) / 12
			g[k] += math.Cos(a*float64(k)) / (.75 + .25*math.Cos(a)) / 12
		}
	}
	return g
}()

// lines turns twelve monthly means into the knots at mid-month that keep them.
func lines(means *[12]float64) (knots [12]float64) {
	for i := range knots {
		for j, m := range means {
			knots[i] += gain[(i-j+12)%12] * m
		}
	}
	return knots
}

// newGrid makes room.
func newGrid(south, west, step, stride float64, rows, cols, n int) *grid {
	return &grid{south: south, west: west, step: step, stride: stride, rows: rows, cols: cols, n: n,
		round: math.Abs(float64(cols)*stride-2*math.Pi) < 1e-6,
		knots: make([]float32, rows*cols*12*n), valid: make([]bool, rows*cols)}
}

// set gives a cell its twelve monthly means of a quantity.
func (g *grid) set(cell, quantity int, means *[12]float64) {
	for m, x := range lines(means) {
		g.knots[(cell*12+m)*g.n+quantity] = float32(x)
	}
}

// corners are the four cells round a place and their weights, which add up to one.
type corners struct {
	cell   [4]int
	weight [4]float64
}

// find is where a place lies in the lattice; false if it does not, or only among cells without
// data.
//
// The weights are bilinear over the cells that are valid. A place within half a cell of the
// lattice's edge belongs to it; one further out, or that is no number, does not.
func (g *grid) find(lat, lon float64, c *corners) bool {
	y := (lat - g.south) / g.step
	if !(y >= -.5-1e-9 && y <= float64(g.rows)-.5+1e-9) {
		return false
	}
	x := (lon - g.west) / g.stride
	if turn := 2 * math.Pi / g.stride; !(x >= -.5-1e-9 && x < turn-.5) {
		x -= turn * math.Floor((x+.5+1e-9)/turn)
		if !(x >= -.5-1e-9 && x < turn) {
			return false
		}
	}
	if !g.round && x > float64(g.cols)-.5+1e-9 {
		return false
	}
	y = math.Max(0, math.Min(y, float64(g.rows-1)))
	j := min(int(y), max(g.rows-2, 0))
	fy := y - float64(j)
	i, next := 0, 0
	if g.round {
		if x < 0 {
			x += float64(g.cols)
		}
		i = min(int(x), g.cols-1)
		next = i + 1
		if next == g.cols {
			next = 0
		}
	} else {
		x = math.Max(0, math.Min(x, float64(g.cols-1)))
		i = min(int(x), max(g.cols-2, 0))
		next = min(i+1, g.cols-1)
	}
	fx := x - float64(i)
	low, high := j*g.cols, min(j+1, g.rows-1)*g.cols
	c.cell = [4]int{low + i, low + next, high + i, high + next}
	plain := [4]float64{(1 - fy) * (1 - fx), (1 - fy) * fx, fy * (1 - fx), fy * fx}
	sum := 0.0
	for k, cell := range c.cell {
		c.weight[k] = 0
		if g.valid[cell] {
			c.weight[k] = plain[k]
			sum += plain[k]
		}
	}
	if sum > 1e-9 {
		for k := range c.weight {
			c.weight[k] /= sum
		}
		return true
	}
	c.weight = plain
	return g.fill
}

// value interpolates every quantity at a place and a time into out, which has room for them.
func (g *grid) value(lat, lon float64, m Month, out []float64) bool {
	var c corners
	if !g.find(lat, lon, &c) {
		return false
	}
	a, b, f := m.split()
	n := g.n
	out = out[:n]
	for q := range out {
		out[q] = 0
	}
	for k, cell := range c.cell {
		w := c.weight[k]
		if w == 0 {
			continue
		}
		before, after := g.knots[(cell*12+a)*n:][:n], g.knots[(cell*12+b)*n:][:n]
		for q := range out {
			out[q] += w * (float64(before[q])*(1-f) + float64(after[q])*f)
		}
	}
	return true
}

// mean is the mean of a quantity over a month (0 is January) at a place.
func (g *grid) mean(lat, lon float64, month, quantity int) (float64, bool) {
	var c corners
	if !g.find(lat, lon, &c) {
		return 0, false
	}
	sum := 0.0
	for k, cell := range c.cell {
		at := func(m int) float64 { return float64(g.knots[(cell*12+(month+m+12)%12)*g.n+quantity]) }
		sum += c.weight[k] * (at(-1) + 6*at(0) + at(1)) / 8
	}
	return sum, true
}

// nearest is the cell in which a place lies, or -1.
func (g *grid) nearest(lat, lon float64) int {
	var c corners
	if !g.find(lat, lon, &c) {
		return -1
	}
	best := 0
	for k, w := range c.weight {
		if w > c.weight[best] {
			best = k
		}
	}
	return c.cell[best]
}
