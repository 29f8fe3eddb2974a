package earth

import "math"

// The cells are a lattice of quarter degrees over the earth. Each knows whether its
// south-west corner is land, and which edges of the coast touch it; so a place is
// judged by the few edges of its own cell, counted along an L from the place to the
// corner. Counting is in whole numbers. A place is taken to lie a little to the east
// and, by far less, to the north of its point, so that no edge ever meets it exactly.
// Modelling choice: the quarter degree, which leaves 96 of the world's cells in a hundred without
// an edge and the rest with eight as a rule, 140 at most, for 7 MB.
const (
	cell  = micro / 4
	nx    = 2 * half / cell
	ny    = 2 * pole / cell
	land  = 1 // bits of a cell: its corner is land
	coast = 2 // edges touch it
	risk  = 4 // a hazard's circle touches it
)

type cells struct {
	bits  []uint8
	start []int32 // of a cell's edges in edges
	edges []int32 // an edge is its first point's number
}

// column and row are a cell's; the pole and the 180th meridian belong to the last.
func column(x int32) int { return min(int(x+half)/cell, nx-1) }
func row(y int32) int    { return min(int(y+pole)/cell, ny-1) }

// index fills the cells.
func (l *Land) index() {
	c := &l.cells
	c.bits = make([]uint8, nx*ny)
	c.start = make([]int32, nx*ny+1)
	l.everyEdge(func(e int32) {
		l.touched(e, func(k int) { c.start[k+1]++ })
	})
	for k := range nx * ny {
		if c.start[k+1] > 0 {
			c.bits[k] = coast
		}
		c.start[k+1] += c.start[k]
	}
	c.edges = make([]int32, c.start[nx*ny])
	next := append([]int32(nil), c.start[:nx*ny]...)
	l.everyEdge(func(e int32) {
		l.touched(e, func(k int) {
			c.edges[next[k]] = e
			next[k]++
		})
	})
	l.corners()
	for i := range l.hazards {
		l.risks(&l.hazards[i])
	}
}

// everyEdge calls f with each edge that has a length.
func (l *Land) everyEdge(f func(e int32)) {
	for i := range len(l.rings) - 1 {
		for e := l.rings[i]; e < l.rings[i+1]-1; e++ {
			if l.x[e] != l.x[e+1] || l.y[e] != l.y[e+1] {
				f(e)
			}
		}
	}
}

// touched calls f with each cell that an edge touches, or nearly.
func (l *Land) touched(e int32, f func(k int)) {
	x1, y1, x2, y2 := l.x[e], l.y[e], l.x[e+1], l.y[e+1]
	if y1 > y2 {
		x1, y1, x2, y2 = x2, y2, x1, y1
	}
	for r := row(max(y1-1, -pole)); r <= row(min(y2+1, pole)); r++ {
		a, b := span(x1, y1, x2, y2, r)
		for k := column(int32(max(a, -half))); k <= column(int32(min(b, half))); k++ {
			f(r*nx + k)
		}
	}
}

// span is where a line, its lower end first, lies west to east within a row of cells, a
// little more taken on each side than rounding could lose.
func span(x1, y1, x2, y2 int32, r int) (a, b int64) {
	a, b = int64(x1), int64(x2)
	if y2 != y1 {
		slope := float64(x2-x1) / float64(y2-y1)
		south := float64(r)*cell - pole
		a = int64(float64(x1) + slope*(math.Max(south, float64(y1))-float64(y1)))
		b = int64(float64(x1) + slope*(math.Min(south+cell, float64(y2))-float64(y1)))
	}
	if a > b {
		a, b = b, a
	}
	return a - 2, b + 2
}

// corners finds which cells' corners are land: along each row of corners every edge
// that crosses it changes land to sea and back.
func (l *Land) corners() {
	flips := make([]uint8, nx*ny)
	l.everyEdge(func(e int32) {
		x1, y1, x2, y2 := l.x[e], l.y[e], l.x[e+1], l.y[e+1]
		if y1 > y2 {
			x1, y1, x2, y2 = x2, y2, x1, y1
		}
		for r := row(y1); r <= row(y2); r++ {
			y := int32(r*cell - pole)
			if (y1 > y) == (y2 > y) {
				continue
			}
			k := column(int32(float64(x1) + float64(x2-x1)/float64(y2-y1)*float64(y-y1)))
			for k > 0 && cross(x1, y1, x2, y2, int32((k-1)*cell-half), y) <= 0 {
				k--
			}
			for k < nx && cross(x1, y1, x2, y2, int32(k*cell-half), y) > 0 {
				k++
			}
			if k < nx {
				flips[r*nx+k] ^= 1
			}
		}
	})
	for r := range ny {
		is := uint8(0)
		for k := r * nx; k < (r+1)*nx; k++ {
			is ^= flips[k]
			l.cells.bits[k] |= is * land
		}
	}
}

// cross is positive when a line from its lower end (1) to its upper (2) passes to the
// east of a point, in whole numbers that cannot overflow.
func cross(x1, y1, x2, y2, px, py int32) int64 {
	return int64(x2-x1)*int64(py-y1) - int64(y2-y1)*int64(px-x1)
}

// inside says whether a point is land.
func (l *Land) inside(px, py int32) bool {
	col, r := column(px), row(py)
	k := r*nx + col
	bits := l.cells.bits[k]
	in := bits&land != 0
	if bits&coast == 0 {
		return in
	}
	cx, cy := int32(col*cell-half), int32(r*cell-pole)
	for _, e := range l.cells.edges[l.cells.start[k]:l.cells.start[k+1]] {
		x1, y1, x2, y2 := l.x[e], l.y[e], l.x[e+1], l.y[e+1]
		if (y1 > py) != (y2 > py) { // it may cross the way west to the corner's meridian
			if !(x1 > px && x2 > px || x1 <= cx && x2 <= cx) {
				if y1 > y2 {
					x1, y1, x2, y2 = x2, y2, x1, y1
				}
				if cross(x1, y1, x2, y2, px, py) <= 0 && cross(x1, y1, x2, y2, cx, py) > 0 {
					in = !in
				}
			}
		}
		if (x1 > cx) != (x2 > cx) { // or the way south along it to the corner
			if x1 > x2 {
				x1, y1, x2, y2 = x2, y2, x1, y1
			}
			a, b := cross(y1, x1, y2, x2, py, cx), cross(y1, x1, y2, x2, cy, cx)
			rises := y2 > y1
			if (a > 0 || a == 0 && rises) != (b > 0 || b == 0 && rises) {
				in = !in
			}
		}
	}
	return in
}

// risky says whether a hazard touches a point's cell.
func (c *cells) risky(x, y int32) bool { return c.bits[row(y)*nx+column(x)]&risk != 0 }

// risks marks the cells that a hazard touches, and a few more.
func (l *Land) risks(h *Hazard) {
	reach := h.Radius/WGS84.series[0]*1.01 + 2*math.Pi/(180*micro)
	wide := math.Pi
	if c := math.Cos(math.Abs(h.At.Lat) + reach); math.Abs(h.At.Lat)+reach < math.Pi/2 && reach < c {
		wide = math.Asin(reach/c) * 1.01
	}
	_, south := whole(Place{h.At.Lat - reach, 0})
	_, north := whole(Place{h.At.Lat + reach, 0})
	west := int(math.Floor((h.At.Lon - wide) * 180 / math.Pi * micro / cell))
	east := int(math.Floor((h.At.Lon + wide) * 180 / math.Pi * micro / cell))
	east = min(east, west+nx-1)
	for r := row(south); r <= row(north); r++ {
		for k := west; k <= east; k++ {
			l.cells.bits[r*nx+((k+nx/2)%nx+nx)%nx] |= risk
		}
	}
}
