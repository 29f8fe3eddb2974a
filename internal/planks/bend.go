package planks

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// local is the skin's curvature at one spot: along the rows' run, square to it in the
// skin, and the mixed part, which is the twist in radians per metre. Signed.
type local struct{ along, across, twist float64 }

// hardest is the greatest curvature in any direction and its angle from the run.
func (c local) hardest() (curvature, angle float64) {
	mean, diff := (c.along+c.across)/2, (c.along-c.across)/2
	r := math.Hypot(diff, c.twist)
	turn := math.Atan2(c.twist, diff) / 2 // direction of the algebraically greatest
	k := mean + r
	if math.Abs(mean-r) > math.Abs(k) {
		k, turn = mean-r, turn+math.Pi/2
	}
	turn = math.Abs(math.Remainder(turn, math.Pi))
	return math.Abs(k), turn
}

// bend finds the curvatures at every row but the outermost and the worst of them.
//
// Good to: exact on a circle met square; second order in the step elsewhere
// Source: circle through three points; the second fundamental form (do Carmo, Differential
// Geometry of Curves and Surfaces, ch. 3)
func (f *Flat) bend() {
	g := f.True
	n, m := len(g), len(g[0])
	f.bends = make([][]local, n)
	for i := range n {
		f.bends[i] = make([]local, m)
	}
	size := math.Sqrt(f.AreaTrue)
	for i := 1; i+1 < n; i++ {
		for j := range m {
			c, ok := curvatures(g, i, j, size)
			if !ok {
				continue
			}
			f.bends[i][j] = c
			at := Place{i, j}
			if k := math.Abs(c.along); k > f.Along.Curvature {
				f.Along = Bend{Curvature: k, At: at}
			}
			if k := math.Abs(c.across); k > f.Across.Curvature {
				f.Across = Bend{Curvature: k, Angle: math.Pi / 2, At: at}
			}
			if k, a := c.hardest(); k > f.Hardest.Curvature {
				f.Hardest = Bend{Curvature: k, Angle: a, At: at}
			}
			if t := math.Abs(c.twist); t > f.Twist.Rate {
				f.Twist = Twist{Rate: t, At: at}
			}
		}
	}
}

// curvatures at a point of the grid; not ok where the piece pinches to nothing.
func curvatures(g [][]r3.Vec, i, j int, size float64) (local, bool) {
	m := len(g[0])
	lo, hi := max(j-1, 0), min(j+1, m-1)
	du, dv := r3.Sub(g[i+1][j], g[i-1][j]), r3.Sub(g[i][hi], g[i][lo])
	lu, lv := r3.Norm(du), r3.Norm(dv)
	normal := r3.Cross(du, dv)
	if lu < 1e-6*size || lv < 1e-3*size/float64(m) || r3.Norm(normal) < 0.05*lu*lv {
		return local{}, false
	}
	sin := r3.Norm(normal) / (lu * lv)
	cos := r3.Dot(du, dv) / (lu * lv)
	normal = unit(normal)
	ku, ok := bent(g[i-1][j], g[i][j], g[i+1][j], normal, size)
	if !ok {
		return local{}, false
	}
	kv := 0.0
	if m > 2 {
		k := min(max(j, 1), m-2)
		if kv, ok = bent(g[i][k-1], g[i][k], g[i][k+1], normal, size); !ok {
			return local{}, false
		}
	}
	mixed := r3.Dot(normal, r3.Sub(r3.Sub(g[i+1][hi], g[i+1][lo]), r3.Sub(g[i-1][hi], g[i-1][lo]))) / (lu * lv)
	// from the grid's own directions to ones that are square to each other
	twist := (mixed - cos*ku) / sin
	return local{along: ku, across: (kv - cos*cos*ku - 2*cos*sin*twist) / (sin * sin), twist: twist}, true
}

// bent is the curvature of the circle through three points, the part of it along a normal.
func bent(a, b, c, normal r3.Vec, size float64) (float64, bool) {
	ab, bc, ac := r3.Sub(b, a), r3.Sub(c, b), r3.Sub(c, a)
	l := r3.Norm(ab) * r3.Norm(bc) * r3.Norm(ac)
	if r3.Norm(ab) < 1e-7*size || r3.Norm(bc) < 1e-7*size || l == 0 {
		return 0, false
	}
	cross := r3.Cross(ab, bc)
	// the curvature vector lies in the plane of the three, square to the chord
	toward := unit(r3.Cross(cross, ac))
	return 2 * r3.Norm(cross) / l * r3.Dot(toward, normal), true
}

// rulingTwists are the angles between the surface's normals at both ends of each row,
// the rows taken for rulings.
func rulingTwists(g [][]r3.Vec) []float64 {
	n, m := len(g), len(g[0])
	out := make([]float64, n)
	for i := range n {
		r := r3.Sub(g[i][m-1], g[i][0])
		a := r3.Cross(edgeTangent(g, i, 0), r)
		b := r3.Cross(edgeTangent(g, i, m-1), r)
		// an edge shrunk to a point (a cone's apex) has no tangent and asks for no turn
		if r3.Norm(a) > 1e-9*r3.Norm(r) && r3.Norm(b) > 1e-9*r3.Norm(r) {
			out[i] = between(a, b)
		}
	}
	return out
}

// edgeTangent is the unit direction of an edge at a row, from a parabola through three rows.
func edgeTangent(g [][]r3.Vec, i, j int) r3.Vec {
	n := len(g)
	if n == 2 {
		return unit(r3.Sub(g[1][j], g[0][j]))
	}
	k := min(max(i, 1), n-2)
	a, b := r3.Sub(g[k][j], g[k-1][j]), r3.Sub(g[k+1][j], g[k][j])
	la, lb := r3.Norm(a), r3.Norm(b)
	if la == 0 || lb == 0 {
		return unit(r3.Add(a, b))
	}
	da, db := r3.Scale(1/la, a), r3.Scale(1/lb, b) // slopes of the two sides
	dd := r3.Scale(1/(la+lb), r3.Sub(db, da))
	mid := r3.Add(da, r3.Scale(la, dd))
	switch {
	case i < k:
		mid = r3.Sub(mid, r3.Scale(2*la, dd))
	case i > k:
		mid = r3.Add(mid, r3.Scale(2*lb, dd))
	}
	return unit(mid)
}
