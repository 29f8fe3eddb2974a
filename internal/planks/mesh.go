package planks

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// mesh is a skin as triangles, on which the straightest lines are walked: each triangle is
// crossed in a straight line, and at a side the next one is unfolded into the plane of the last.
//
// Source: Polthier & Schmies, "Straightest geodesics on polyhedral surfaces" (1998)
type mesh struct {
	p      []r3.Vec
	tri    [][3]int
	beside [][3]int // the triangle beyond the side from corner e to e+1, or -1
	normal []r3.Vec
}

// newMesh splits a grid along the shorter diagonals, leaving out empty triangles.
func newMesh(grid [][]r3.Vec) *mesh {
	p := newPatch(grid)
	m := &mesh{p: p.at}
	sides := map[[2]int][2]int{}
	for _, v := range p.tris {
		a := p.at[v[0]]
		n := r3.Cross(r3.Sub(p.at[v[1]], a), r3.Sub(p.at[v[2]], a))
		if r3.Norm(n) < 1e-14 {
			continue
		}
		t := len(m.tri)
		m.tri, m.beside, m.normal = append(m.tri, v), append(m.beside, [3]int{-1, -1, -1}), append(m.normal, unit(n))
		for e := range 3 {
			k := [2]int{min(v[e], v[(e+1)%3]), max(v[e], v[(e+1)%3])}
			if o, ok := sides[k]; ok {
				m.beside[t][e], m.beside[o[0]][o[1]] = o[0], t
			} else {
				sides[k] = [2]int{t, e}
			}
		}
	}
	return m
}

// spot is a point of the mesh: its triangle and its place in space.
type spot struct {
	tri int
	p   r3.Vec
}

// path is a straightest line.
type path struct {
	spots []spot    // the triangle is the one that the piece of line after the spot lies in
	s     []float64 // length from the beginning
}

func (q *path) length() float64 { return q.s[len(q.s)-1] }

// at is the spot at a length and the direction there.
func (q *path) at(s float64) (spot, r3.Vec) {
	lo, hi := 0, len(q.s)-1
	for hi-lo > 1 {
		if m := (lo + hi) / 2; q.s[m] <= s {
			lo = m
		} else {
			hi = m
		}
	}
	a, b := q.spots[lo], q.spots[hi]
	f := 0.0
	if q.s[hi] > q.s[lo] {
		f = math.Min(math.Max((s-q.s[lo])/(q.s[hi]-q.s[lo]), 0), 1)
	}
	return spot{a.tri, mix(a.p, b.p, f)}, unit(r3.Sub(b.p, a.p))
}

// onto turns a direction into a triangle's plane.
func (m *mesh) onto(tri int, d r3.Vec) r3.Vec {
	n := m.normal[tri]
	return unit(r3.Sub(d, r3.Scale(r3.Dot(n, d), n)))
}

// walk follows the straightest line for a length or until the mesh ends.
func (m *mesh) walk(from spot, dir r3.Vec, length float64) (q path, last r3.Vec, out bool) {
	d := m.onto(from.tri, dir)
	q = path{spots: []spot{from}, s: []float64{0}}
	at, gone := from, 0.0
	for range 20 * len(m.tri) {
		t := m.tri[at.tri]
		n := m.normal[at.tri]
		best, side := math.Inf(1), -1
		for e := range 3 {
			a, b := m.p[t[e]], m.p[t[(e+1)%3]]
			outward := r3.Cross(r3.Sub(b, a), n)
			if toward := r3.Dot(d, outward); toward > 1e-14*r3.Norm(outward) {
				if s := math.Max(0, r3.Dot(r3.Sub(a, at.p), outward)/toward); s < best {
					best, side = s, e
				}
			}
		}
		if side < 0 {
			return q, d, true
		}
		if gone+best >= length {
			end := spot{at.tri, r3.Add(at.p, r3.Scale(length-gone, d))}
			q.add(end, length)
			return q, d, false
		}
		gone += best
		at.p = r3.Add(at.p, r3.Scale(best, d))
		next := m.beside[at.tri][side]
		if next < 0 {
			q.add(at, gone)
			return q, d, true
		}
		// the part along the side stays, the part across it turns into the next plane
		e := unit(r3.Sub(m.p[t[(side+1)%3]], m.p[t[side]]))
		along, across := r3.Dot(d, e), r3.Dot(d, r3.Cross(e, n))
		d = unit(r3.Add(r3.Scale(along, e), r3.Scale(across, r3.Cross(e, m.normal[next]))))
		at.tri = next
		q.add(at, gone)
	}
	return q, d, true
}

func (q *path) add(s spot, at float64) {
	if at-q.s[len(q.s)-1] < 1e-12 && len(q.s) > 1 {
		q.spots[len(q.spots)-1] = s
		return
	}
	q.spots, q.s = append(q.spots, s), append(q.s, at)
}

// through is the straightest line through a spot from edge to edge of the mesh.
func (m *mesh) through(at spot, dir r3.Vec) path {
	fore, _, _ := m.walk(at, dir, math.Inf(1))
	back, _, _ := m.walk(at, r3.Scale(-1, dir), math.Inf(1))
	q := path{}
	whole := back.length()
	for i := len(back.spots) - 1; i > 0; i-- {
		// backwards, a piece lies in the triangle that stood before it
		q.spots = append(q.spots, spot{back.spots[i-1].tri, back.spots[i].p})
		q.s = append(q.s, whole-back.s[i])
	}
	for i, s := range fore.spots {
		q.spots, q.s = append(q.spots, s), append(q.s, whole+fore.s[i])
	}
	return q
}

// across is the direction square to another in a triangle: to its left seen against the normal, or to its right.
func (m *mesh) across(tri int, d r3.Vec, left float64) r3.Vec {
	return r3.Scale(left, r3.Cross(m.normal[tri], d))
}

// inside is the spot of the mesh nearest the middle of a grid's quad.
func (m *mesh) inside(p r3.Vec) spot {
	best, near := spot{}, math.Inf(1)
	for t, v := range m.tri {
		c := r3.Scale(1.0/3, r3.Add(m.p[v[0]], r3.Add(m.p[v[1]], m.p[v[2]])))
		if d := dist(c, p); d < near {
			best, near = spot{t, c}, d
		}
	}
	return best
}

// gap is the distance of a spot from a path over the skin, and where along the path. The chord in space
// is lengthened to the arc that the turn between the two planes makes of it. ok is false past the path's ends.
func (m *mesh) gap(a spot, q *path) (d, s float64, ok bool) {
	best, at, f0 := math.Inf(1), 0, 0.0
	for i := 1; i < len(q.spots); i++ {
		b := q.spots[i-1].p
		e := r3.Sub(q.spots[i].p, b)
		f := 0.0
		if l := r3.Dot(e, e); l > 0 {
			f = math.Min(math.Max(r3.Dot(r3.Sub(a.p, b), e)/l, 0), 1)
		}
		if d := dist(a.p, r3.Add(b, r3.Scale(f, e))); d < best {
			best, at, f0 = d, i, f
		}
	}
	ok = !(at == 1 && f0 == 0) && !(at == len(q.spots)-1 && f0 == 1)
	half := between(m.normal[a.tri], m.normal[q.spots[at-1].tri]) / 2
	if half > 1e-6 && half < 1 {
		best *= half / math.Sin(half)
	}
	return best, q.s[at-1] + f0*(q.s[at]-q.s[at-1]), ok
}
