package planks

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// exact is the change of length below which an unrolling needs no least-stretch solution.
const exact = 1e-7

// twisted is the turn of a ruling above which a piece of two edges is given points between them.
const twisted = 1e-4

// Expand lays a piece flat. A piece that can be unrolled is unrolled, triangle by
// triangle, every length kept. One that cannot is given the shape whose lengths change
// least: the sum over the grid's sides and diagonals of squared change by area.
//
// In:     rows from fore to aft, in each the points from the lower edge to the upper;
// neighbouring points may coincide (a pointed end, the apex of a cone)
// Out:    the flat piece; the grid given is not changed
// Error:  ErrFew, ErrNumber, ErrNothing, ErrFolds, ErrUnsettled
// Good to: the polyhedron through the points is laid out to rounding where it is developable;
// it is itself short of the curved skin by the square of the step over the radius, over 24 (TestDevelopables)
// Source: triangulation on the loft floor; Gauss-Newton with Levenberg's damping (Nocedal & Wright,
// Numerical Optimization, ch. 10)
func Expand(grid [][]r3.Vec) (Flat, error) {
	err := sound(grid)
	if err != nil {
		return Flat{}, err
	}
	f := Flat{Rulings: rulingTwists(grid)}
	if len(grid[0]) == 2 {
		for _, t := range f.Rulings {
			if t > twisted {
				grid = widened(grid, 5)
				break
			}
		}
	}
	f.True = grid
	p := newPatch(grid)
	if len(p.tris) == 0 {
		return Flat{}, ErrNothing
	}
	p.unroll()
	st, folded := p.stretch()
	if math.Abs(st.Max) > exact || folded {
		if f.Settled, st, err = p.least(); err != nil {
			return Flat{}, err
		}
	}
	f.Stretch = st
	f.Points = p.aligned()
	f.trace()
	f.AreaTrue, f.AreaFlat = p.area(), shoelace(f.Outline)
	f.bend()
	return f, nil
}

// least finds the least-stretch shape from a rough one, or, where that folds, from the unrolled one.
func (p *patch) least() (settled float64, st Stretch, err error) {
	unrolled := slices.Clone(p.flat)
	p.roll()
	for {
		var folded bool
		if settled, err = p.relax(); err == nil {
			if st, folded = p.stretch(); !folded {
				return settled, st, nil
			}
			err = ErrFolds
		}
		if unrolled == nil {
			return 0, Stretch{}, err
		}
		p.flat, unrolled = unrolled, nil
	}
}

// sound refuses what is not a grid of numbers.
func sound(grid [][]r3.Vec) error {
	if len(grid) < 2 || len(grid[0]) < 2 {
		return ErrFew
	}
	for _, row := range grid {
		if len(row) != len(grid[0]) {
			return ErrFew
		}
		for _, q := range row {
			if !finite(q) {
				return ErrNumber
			}
		}
	}
	return nil
}

// widened puts points between the two of each row.
func widened(grid [][]r3.Vec, across int) [][]r3.Vec {
	out := make([][]r3.Vec, len(grid))
	for i, row := range grid {
		for j := range across {
			out[i] = append(out[i], mix(row[0], row[1], float64(j)/float64(across-1)))
		}
	}
	return out
}

// patch is a grid being laid flat.
type patch struct {
	n, m  int
	at    []r3.Vec     // in space, by i*m+j
	id    []int        // the first of the points that coincide with it
	flat  [][2]float64 // by id
	tris  [][3]int     // ids of one triangulation, along the shorter diagonals
	where []Place      // the quad of each triangle
}

func newPatch(grid [][]r3.Vec) *patch {
	p := &patch{n: len(grid), m: len(grid[0])}
	lo, hi := grid[0][0], grid[0][0]
	for _, row := range grid {
		for _, q := range row {
			p.at = append(p.at, q)
			p.id = append(p.id, len(p.id))
			lo = r3.Vec{X: math.Min(lo.X, q.X), Y: math.Min(lo.Y, q.Y), Z: math.Min(lo.Z, q.Z)}
			hi = r3.Vec{X: math.Max(hi.X, q.X), Y: math.Max(hi.Y, q.Y), Z: math.Max(hi.Z, q.Z)}
		}
	}
	p.weld(1e-9 * dist(lo, hi))
	p.flat = make([][2]float64, len(p.at))
	for i := 0; i+1 < p.n; i++ {
		for j := 0; j+1 < p.m; j++ {
			a, b, c, d := p.quad(i, j)
			pair := [2][3]int{{a, b, c}, {a, c, d}}
			if dist(p.at[b], p.at[d]) < dist(p.at[a], p.at[c]) {
				pair = [2][3]int{{a, b, d}, {b, c, d}}
			}
			for _, t := range pair {
				if t[0] != t[1] && t[1] != t[2] && t[2] != t[0] {
					p.tris = append(p.tris, t)
					p.where = append(p.where, Place{i, j})
				}
			}
		}
	}
	if p.area() <= 1e-12*dist(lo, hi)*dist(lo, hi) {
		p.tris = nil
	}
	return p
}

// weld gives neighbours that coincide one number.
func (p *patch) weld(near float64) {
	var root func(int) int
	root = func(k int) int {
		if p.id[k] != k {
			p.id[k] = root(p.id[k])
		}
		return p.id[k]
	}
	join := func(a, b int) {
		if dist(p.at[a], p.at[b]) > near {
			return
		}
		a, b = root(a), root(b)
		p.id[max(a, b)] = min(a, b)
	}
	for i := range p.n {
		for j := range p.m {
			if i+1 < p.n {
				join(i*p.m+j, (i+1)*p.m+j)
			}
			if j+1 < p.m {
				join(i*p.m+j, i*p.m+j+1)
			}
		}
	}
	for k := range p.id {
		root(k)
	}
}

// quad is the ids of a mesh of the grid, counter-clockwise on the flat.
func (p *patch) quad(i, j int) (a, b, c, d int) {
	k := i*p.m + j
	return p.id[k], p.id[k+p.m], p.id[k+p.m+1], p.id[k+1]
}

// unroll lays the triangles out one beside the other, from the middle of the piece on.
func (p *patch) unroll() {
	beside := map[[2]int][]int{}
	side := func(a, b int) [2]int { return [2]int{min(a, b), max(a, b)} }
	for t, v := range p.tris {
		for e := range 3 {
			s := side(v[e], v[(e+1)%3])
			beside[s] = append(beside[s], t)
		}
	}
	first, best := 0, math.Inf(1)
	for t, w := range p.where {
		d := math.Hypot(float64(2*w.Row+2-p.n), float64(2*w.Across+2-p.m))
		if d < best {
			first, best = t, d
		}
	}
	placed, seen := make([]bool, len(p.at)), make([]bool, len(p.tris))
	v := p.tris[first]
	p.flat[v[1]] = [2]float64{dist(p.at[v[0]], p.at[v[1]]), 0}
	placed[v[0]], placed[v[1]] = true, true
	p.set(v[0], v[1], v[2])
	placed[v[2]], seen[first] = true, true
	for queue := []int{first}; len(queue) > 0; queue = queue[1:] {
		v := p.tris[queue[0]]
		for e := range 3 {
			for _, t := range beside[side(v[e], v[(e+1)%3])] {
				if seen[t] {
					continue
				}
				seen[t] = true
				w := p.tris[t]
				for k := range 3 { // the corner opposite the common side
					a, b, c := w[k], w[(k+1)%3], w[(k+2)%3]
					if placed[a] && placed[b] && !placed[c] {
						p.set(a, b, c)
						placed[c] = true
					}
				}
				queue = append(queue, t)
			}
		}
	}
	p.strays(placed)
}

// set puts c on the flat at its distances from a and b, to the left of a→b.
func (p *patch) set(a, b, c int) {
	ab, ac := r3.Sub(p.at[b], p.at[a]), r3.Sub(p.at[c], p.at[a])
	l := r3.Norm(ab)
	x := r3.Dot(ab, ac) / l
	y := r3.Norm(r3.Cross(ab, ac)) / l
	fa, fb := p.flat[a], p.flat[b]
	ex, ey := fb[0]-fa[0], fb[1]-fa[1]
	fl := math.Hypot(ex, ey)
	ex, ey = ex/fl, ey/fl
	p.flat[c] = [2]float64{fa[0] + x*ex - y*ey, fa[1] + x*ey + y*ex}
}

// strays are points that no triangle reached, where a piece pinches to a line: they
// are laid out along their row or column from the nearest placed one.
func (p *patch) strays(placed []bool) {
	for again := true; again; {
		again = false
		for k := range p.at {
			if p.id[k] != k || placed[k] {
				continue
			}
			for _, step := range []int{-p.m, p.m, -1, 1} {
				q := k + step
				if q < 0 || q >= len(p.at) || (step*step == 1 && q/p.m != k/p.m) || !placed[p.id[q]] {
					continue
				}
				d := dist(p.at[k], p.at[q])
				dir := [2]float64{1, 0}
				if step*step == 1 {
					dir = [2]float64{0, 1}
				}
				if step < 0 {
					d = -d
				}
				f := p.flat[p.id[q]]
				p.flat[k] = [2]float64{f[0] - d*dir[0], f[1] - d*dir[1]}
				placed[k], again = true, true
				break
			}
		}
	}
}

// area is the true area, the mean of both triangulations.
func (p *patch) area() float64 {
	var s float64
	p.each(func(_ Place, v [3]int) { s += p.trueArea(v) / 2 })
	return s
}

func (p *patch) trueArea(v [3]int) float64 {
	a := p.at[v[0]]
	return r3.Norm(r3.Cross(r3.Sub(p.at[v[1]], a), r3.Sub(p.at[v[2]], a))) / 2
}

// each visits the four triangles of every quad, two for either diagonal, without empty ones.
func (p *patch) each(do func(Place, [3]int)) {
	for i := 0; i+1 < p.n; i++ {
		for j := 0; j+1 < p.m; j++ {
			a, b, c, d := p.quad(i, j)
			for _, v := range [4][3]int{{a, b, c}, {a, c, d}, {a, b, d}, {b, c, d}} {
				if v[0] != v[1] && v[1] != v[2] && v[2] != v[0] {
					do(Place{i, j}, v)
				}
			}
		}
	}
}

// stretch finds the principal changes of length in every triangle.
func (p *patch) stretch() (s Stretch, folded bool) {
	var sum, area float64
	var all [][2]float64
	p.each(func(at Place, v [3]int) {
		a, b, c := p.at[v[0]], p.at[v[1]], p.at[v[2]]
		ab, ac := r3.Sub(b, a), r3.Sub(c, a)
		l := r3.Norm(ab)
		x, y := r3.Dot(ab, ac)/l, r3.Norm(r3.Cross(ab, ac))/l
		if y < 1e-6*math.Max(l, math.Abs(x)) { // a needle says nothing about the direction across it
			return
		}
		fa, fb, fc := p.flat[v[0]], p.flat[v[1]], p.flat[v[2]]
		// the map from the true triangle to the flat one
		j00, j10 := (fb[0]-fa[0])/l, (fb[1]-fa[1])/l
		j01, j11 := ((fc[0]-fa[0])-j00*x)/y, ((fc[1]-fa[1])-j10*x)/y
		e, g := (j00+j11)/2, (j10-j01)/2
		h, k := (j00-j11)/2, (j10+j01)/2
		q, r := math.Hypot(e, g), math.Hypot(h, k)
		if q <= r {
			folded = true
			return
		}
		most := 1/(q-r) - 1
		if least := 1/(q+r) - 1; math.Abs(least) > math.Abs(most) {
			most = least
		}
		w := l * y / 2
		sum, area = sum+w*math.Abs(most), area+w
		all = append(all, [2]float64{math.Abs(most), w})
		if math.Abs(most) > math.Abs(s.Max) {
			s.Max, s.At = most, at
		}
	})
	if area > 0 {
		s.Mean = sum / area
	}
	slices.SortFunc(all, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	for left := 0.99 * area; len(all) > 0; all = all[1:] {
		if s.Within = all[0][0]; left < all[0][1] {
			break
		}
		left -= all[0][1]
	}
	return s, folded
}

// aligned turns the flat piece so that it runs along x, with its least x and y at nothing.
func (p *patch) aligned() [][][2]float64 {
	mid := func(i int) [2]float64 {
		a, b := p.flat[p.id[i*p.m]], p.flat[p.id[i*p.m+p.m-1]]
		return [2]float64{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	}
	a, b := mid(0), mid(p.n-1)
	ex, ey := b[0]-a[0], b[1]-a[1]
	if l := math.Hypot(ex, ey); l > 1e-12 {
		ex, ey = ex/l, ey/l
	} else {
		ex, ey = 1, 0
	}
	out := make([][][2]float64, p.n)
	lo := [2]float64{math.Inf(1), math.Inf(1)}
	for i := range p.n {
		for j := range p.m {
			q := p.flat[p.id[i*p.m+j]]
			x, y := q[0]*ex+q[1]*ey, q[1]*ex-q[0]*ey
			out[i] = append(out[i], [2]float64{x, y})
			lo[0], lo[1] = math.Min(lo[0], x), math.Min(lo[1], y)
		}
	}
	for i := range out {
		for j := range out[i] {
			out[i][j][0] -= lo[0]
			out[i][j][1] -= lo[1]
		}
	}
	return out
}

// trace draws the outline and its sides.
func (f *Flat) trace() {
	n, m := len(f.Points), len(f.Points[0])
	e := []Edge{{Name: "lower"}, {Name: "aft end"}, {Name: "upper"}, {Name: "fore end"}}
	for i := range n {
		e[0].Points = append(e[0].Points, f.Points[i][0])
		e[2].Points = append(e[2].Points, f.Points[n-1-i][m-1])
	}
	for j := range m {
		e[1].Points = append(e[1].Points, f.Points[n-1][j])
		e[3].Points = append(e[3].Points, f.Points[0][m-1-j])
	}
	f.Edges = e
	for _, side := range e {
		for _, q := range side.Points[:len(side.Points)-1] {
			if k := len(f.Outline); k == 0 || math.Hypot(q[0]-f.Outline[k-1][0], q[1]-f.Outline[k-1][1]) > 1e-9 {
				f.Outline = append(f.Outline, q)
			}
		}
	}
	for _, row := range f.Points {
		for _, q := range row {
			f.Length, f.Width = math.Max(f.Length, q[0]), math.Max(f.Width, q[1])
		}
	}
}

// shoelace is the area inside an outline, positive when it runs counter-clockwise.
func shoelace(o [][2]float64) float64 {
	var s float64
	for i, a := range o {
		b := o[(i+1)%len(o)]
		s += a[0]*b[1] - b[0]*a[1]
	}
	return s / 2
}
