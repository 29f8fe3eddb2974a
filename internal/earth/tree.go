package earth

import (
	"math"
	"slices"
)

// The tree finds the nearest coast: the coast's points in space (metres from the
// earth's centre, on the ellipsoid), in runs of a few edges, under boxes within boxes.
// Straight lines through the earth order places as lines along it do, so poles and
// the 180th meridian are places like others.
type tree struct {
	at    [][3]float64
	nodes []node
}

// node is a box and what it holds: two nodes from b on, or, where run is more than 0,
// so many edges from point b on. The two come one after the other.
type node struct {
	lo, hi [3]float32
	b, run int32
}

// Modelling choices: edges a leaf, and the longest piece of an edge, in millionths of a
// degree, that is taken as straight in space (5.6 km: it dips 0.6 m and strays 2 m at most to 80 degrees of latitude).
const (
	leaf  = 8
	piece = micro / 20
)

// space is a place as metres from the earth's centre.
func space(lat, lon float64) [3]float64 {
	s, c := math.Sincos(lat)
	sl, cl := math.Sincos(lon)
	v := WGS84.a / math.Sqrt(1-WGS84.e2*s*s)
	return [3]float64{v * c * cl, v * c * sl, v * (1 - WGS84.e2) * s}
}

// plant makes the tree.
func (l *Land) plant() {
	t := &l.tree
	const rad = math.Pi / 180 / micro
	var leaves []node
	first := 0
	flush := func() {
		for b := first; b < len(t.at)-1; b += leaf {
			n := node{b: int32(b), run: int32(min(leaf, len(t.at)-1-b))}
			n.lo, n.hi = box(t.at[b : b+int(n.run)+1])
			leaves = append(leaves, n)
		}
		first = len(t.at)
	}
	for i := range len(l.rings) - 1 {
		for e := l.rings[i]; e < l.rings[i+1]-1; e++ {
			if l.seam(e) {
				flush()
				continue
			}
			x, y, dx, dy := float64(l.x[e]), float64(l.y[e]), float64(l.x[e+1]-l.x[e]), float64(l.y[e+1]-l.y[e])
			if first == len(t.at) {
				t.at = append(t.at, space(y*rad, x*rad))
			}
			n := int(math.Max(1, math.Ceil(math.Max(math.Abs(dx), math.Abs(dy))/piece)))
			for k := 1; k <= n; k++ {
				share := float64(k) / float64(n)
				t.at = append(t.at, space((y+share*dy)*rad, (x+share*dx)*rad))
			}
		}
		flush()
	}
	if len(leaves) == 0 {
		return
	}
	t.nodes = make([]node, 1, 2*len(leaves))
	t.grow(0, leaves)
}

// seam is an edge that is no coast: where the rings are cut along the 180th meridian
// or closed at a pole.
func (l *Land) seam(e int32) bool {
	edge := func(v, w int32, limit int32) bool { return v == w && (v == limit || v == -limit) }
	return edge(l.x[e], l.x[e+1], half) && l.y[e] != l.y[e+1] || edge(l.y[e], l.y[e+1], pole)
}

// grow fills a node with leaves, cut in two halves across their longest way.
func (t *tree) grow(at int, leaves []node) {
	if len(leaves) == 1 {
		t.nodes[at] = leaves[0]
		return
	}
	n := node{lo: leaves[0].lo, hi: leaves[0].hi}
	for _, f := range leaves[1:] {
		for k := range 3 {
			n.lo[k], n.hi[k] = min(n.lo[k], f.lo[k]), max(n.hi[k], f.hi[k])
		}
	}
	axis := 0
	for k := 1; k < 3; k++ {
		if n.hi[k]-n.lo[k] > n.hi[axis]-n.lo[axis] {
			axis = k
		}
	}
	slices.SortFunc(leaves, func(a, b node) int {
		ca, cb := a.lo[axis]+a.hi[axis], b.lo[axis]+b.hi[axis]
		switch {
		case ca < cb:
			return -1
		case ca > cb:
			return 1
		}
		return int(a.b - b.b) // the same tree every time
	})
	n.b = int32(len(t.nodes))
	t.nodes = append(t.nodes, node{}, node{})
	t.nodes[at] = n
	t.grow(int(n.b), leaves[:len(leaves)/2])
	t.grow(int(n.b)+1, leaves[len(leaves)/2:])
}

// box holds some points, rounded outward.
func box(at [][3]float64) (lo, hi [3]float32) {
	for k := range 3 {
		a, b := math.Inf(1), math.Inf(-1)
		for _, p := range at {
			a, b = math.Min(a, p[k]), math.Max(b, p[k])
		}
		lo[k] = math.Nextafter32(float32(a), float32(math.Inf(-1)))
		hi[k] = math.Nextafter32(float32(b), float32(math.Inf(1)))
	}
	return lo, hi
}

// off is the square of a point's distance from a box.
func (n *node) off(p *[3]float64) float64 {
	var sum float64
	for k := range 3 {
		d := 0.
		if v := float64(n.lo[k]) - p[k]; v > 0 {
			d = v
		} else if v := p[k] - float64(n.hi[k]); v > 0 {
			d = v
		}
		sum += d * d
	}
	return sum
}

// deepest is more than the tree's height can be: it halves 2^31 leaves at most.
const deepest = 64

// nearest is the square of the distance through the earth to the nearest coast, and the
// point of it, where it is less than limit; limit itself where it is not.
func (t *tree) nearest(p [3]float64, limit float64) (best float64, at [3]float64) {
	best = limit
	if len(t.nodes) == 0 {
		return best, at
	}
	var stack [deepest]struct {
		n   int32
		off float64
	}
	depth := 1
	stack[0].off = t.nodes[0].off(&p)
	for depth > 0 {
		depth--
		if stack[depth].off >= best {
			continue
		}
		n := &t.nodes[stack[depth].n]
		if n.run > 0 {
			for i := n.b; i < n.b+n.run; i++ {
				if d, q := toEdge(&p, &t.at[i], &t.at[i+1]); d < best {
					best, at = d, q
				}
			}
			continue
		}
		a, b := n.b, n.b+1
		offA, offB := t.nodes[a].off(&p), t.nodes[b].off(&p)
		if offA < offB { // the nearer on top
			a, b, offA, offB = b, a, offB, offA
		}
		stack[depth].n, stack[depth].off = a, offA
		stack[depth+1].n, stack[depth+1].off = b, offB
		depth += 2
	}
	return best, at
}

// toEdge is the square of the distance from p to the line from a to b, and the nearest
// point of it.
func toEdge(p, a, b *[3]float64) (float64, [3]float64) {
	var dot, long float64
	for k := range 3 {
		d := b[k] - a[k]
		dot += (p[k] - a[k]) * d
		long += d * d
	}
	share := 0.
	if long > 0 {
		share = math.Max(0, math.Min(1, dot/long))
	}
	var q [3]float64
	var sum float64
	for k := range 3 {
		q[k] = a[k] + share*(b[k]-a[k])
		sum += (p[k] - q[k]) * (p[k] - q[k])
	}
	return sum, q
}
