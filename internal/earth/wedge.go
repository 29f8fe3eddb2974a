package earth

import "math"

// wedge is a sector of the sea about a place, seen on the plane that touches the earth
// there: bearings true, distances measured along the earth (an azimuthal equidistant
// map), on which short pieces of coast are straight.
type wedge struct {
	p           [3]float64
	east, north [3]float64
	left, right [2]float64    // directions of its edges
	ahead       [2]float64    // and of its middle
	sides       [3][3]float64 // in space, square to each edge and ahead, pointing into the sector
	best        float64       // the reach, then the least distance found, in m
	at          [3]float64
}

func newWedge(p Place, toward, width, reach float64) wedge {
	s, c := math.Sincos(p.Lat)
	sl, cl := math.Sincos(p.Lon)
	w := wedge{p: space(p.Lat, p.Lon), east: [3]float64{-sl, cl, 0}, north: [3]float64{-s * cl, -s * sl, c}, best: reach}
	w.left[0], w.left[1] = math.Sincos(toward - width)
	w.right[0], w.right[1] = math.Sincos(toward + width)
	w.ahead[0], w.ahead[1] = math.Sincos(toward)
	for k := range 3 { // what clip keeps, seen in space: to the right of left, left of right, ahead
		w.sides[0][k] = w.left[1]*w.east[k] - w.left[0]*w.north[k]
		w.sides[1][k] = w.right[0]*w.north[k] - w.right[1]*w.east[k]
		w.sides[2][k] = w.ahead[0]*w.east[k] + w.ahead[1]*w.north[k]
	}
	return w
}

// misses says that a box lies wholly outside one of the sector's sides.
func (w *wedge) misses(n *node) bool {
	for i := range w.sides {
		most := 0.
		for k := range 3 {
			s := w.sides[i][k]
			most += math.Max(s*(float64(n.lo[k])-w.p[k]), s*(float64(n.hi[k])-w.p[k]))
		}
		if most < 0 {
			return true
		}
	}
	return false
}

// lay puts a point on the plane.
func (w *wedge) lay(q *[3]float64) [2]float64 {
	var e, n, sum float64
	for k := range 3 {
		d := q[k] - w.p[k]
		e += d * w.east[k]
		n += d * w.north[k]
		sum += d * d
	}
	flat := math.Hypot(e, n)
	if flat == 0 {
		return [2]float64{}
	}
	r := arc(math.Sqrt(sum)) / flat
	return [2]float64{e * r, n * r}
}

// search goes through the tree and keeps the nearest; it says whether there was any.
func (w *wedge) search(t *tree) bool {
	if len(t.nodes) == 0 {
		return false
	}
	var stack [deepest]int32
	found, depth := false, 1
	for depth > 0 {
		depth--
		n := &t.nodes[stack[depth]]
		reach := chord(w.best)
		if n.off(&w.p) >= reach*reach || w.misses(n) {
			continue
		}
		if n.run == 0 {
			a, b := n.b, n.b+1
			if t.nodes[a].off(&w.p) < t.nodes[b].off(&w.p) {
				a, b = b, a
			}
			stack[depth], stack[depth+1] = a, b
			depth += 2
			continue
		}
		from := w.lay(&t.at[n.b])
		for i := n.b; i < n.b+n.run; i++ {
			to := w.lay(&t.at[i+1])
			if share, d, ok := w.clip(from, to); ok && d < w.best {
				w.best, found = d, true
				for k := range 3 {
					w.at[k] = t.at[i][k] + share*(t.at[i+1][k]-t.at[i][k])
				}
			}
			from = to
		}
	}
	return found
}

// clip is the nearest to the middle of what of a line lies in the wedge: its share of
// the line and its distance.
func (w *wedge) clip(a, b [2]float64) (share, distance float64, ok bool) {
	lo, hi := 0., 1.
	keep := func(va, vb float64) { // keeps where the value, straight from va to vb, is not negative
		switch {
		case va < 0 && vb < 0:
			hi = -1
		case va < 0:
			lo = math.Max(lo, va/(va-vb))
		case vb < 0:
			hi = math.Min(hi, va/(va-vb))
		}
	}
	// To the right of the left edge and to the left of the right one; and, where the
	// sector is so narrow that both say the same of what lies astern, ahead of it.
	keep(a[0]*w.left[1]-a[1]*w.left[0], b[0]*w.left[1]-b[1]*w.left[0])
	keep(a[1]*w.right[0]-a[0]*w.right[1], b[1]*w.right[0]-b[0]*w.right[1])
	keep(a[0]*w.ahead[0]+a[1]*w.ahead[1], b[0]*w.ahead[0]+b[1]*w.ahead[1])
	if lo > hi {
		return 0, 0, false
	}
	dx, dy := b[0]-a[0], b[1]-a[1]
	if long := dx*dx + dy*dy; long > 0 {
		share = -(a[0]*dx + a[1]*dy) / long
	}
	share = math.Max(lo, math.Min(hi, share))
	return share, math.Hypot(a[0]+share*dx, a[1]+share*dy), true
}
