package planks

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// roll lays a piece that does not unroll out roughly, to begin the least-stretch solution from: each
// strip between two rows is unrolled by itself and set against the one before, so that what does not fit
// is spread smoothly over the rows and nothing folds.
func (p *patch) roll() {
	rows := make([][]r3.Vec, p.n)
	for i := range rows {
		rows[i] = p.at[i*p.m : (i+1)*p.m]
	}
	strip := func(i int) (a, b [][2]float64) {
		q := newPatch(rows[i : i+2])
		if len(q.tris) == 0 {
			return nil, nil
		}
		q.unroll()
		for j := range 2 * p.m {
			f := q.flat[q.id[j]]
			if j < p.m {
				a = append(a, f)
			} else {
				b = append(b, f)
			}
		}
		return a, b
	}
	laid := make([][][2]float64, p.n)
	mid := (p.n - 1) / 2
	laid[mid], laid[mid+1] = strip(mid)
	if laid[mid] == nil {
		return
	}
	for i := mid + 1; i+1 < p.n; i++ {
		a, b := strip(i)
		laid[i+1] = against(a, b, laid[i])
	}
	for i := mid - 1; i >= 0; i-- {
		a, b := strip(i)
		laid[i] = against(b, a, laid[i+1])
	}
	for k := range p.at {
		p.flat[p.id[k]] = laid[k/p.m][k%p.m]
	}
}

// against moves row b as stiffly as row a is moved on to its place; a strip of no area leaves
// its rows on each other.
func against(a, b, place [][2]float64) [][2]float64 {
	if a == nil {
		return place
	}
	var ca, cp [2]float64
	n := float64(len(a))
	for j := range a {
		for k := range 2 {
			ca[k] += a[j][k] / n
			cp[k] += place[j][k] / n
		}
	}
	var dot, cross float64
	for j := range a {
		ax, ay, px, py := a[j][0]-ca[0], a[j][1]-ca[1], place[j][0]-cp[0], place[j][1]-cp[1]
		dot += ax*px + ay*py
		cross += ax*py - ay*px
	}
	s, c := math.Sincos(math.Atan2(cross, dot))
	out := make([][2]float64, len(b))
	for j := range b {
		x, y := b[j][0]-ca[0], b[j][1]-ca[1]
		out[j] = [2]float64{cp[0] + c*x - s*y, cp[1] + s*x + c*y}
	}
	return out
}
