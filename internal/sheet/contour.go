package sheet

import (
	"math"
	"slices"
)

// Contour makes the contours of a field at some values, the field's limit among them.
//
// Good to: exact for a plane, whatever the spacing of the grid (TestContourOfAPlane); between the points of
// the grid values run straight along each side of a cell
// Source: marching squares; the middle of a cell decides where two lines could cross (closed form)
func (f *Field) Contour(levels []float64) {
	levels = slices.Clone(levels)
	if !slices.Contains(levels, f.Limit) {
		levels = append(levels, f.Limit)
	}
	slices.Sort(levels)
	f.Levels = nil
	if len(f.Xs) < 2 || len(f.Ys) < 2 {
		return
	}
	for _, v := range slices.Compact(levels) {
		g := grid{f: f, level: v}
		lines, areas := g.trace()
		f.Levels = append(f.Levels, Level{Value: v, Limit: v == f.Limit, Lines: lines, Areas: areas})
	}
	f.label()
}

// Levels chooses contours for a quantity with a limit at nothing: round steps, and closer ones near the limit.
func Levels(low, high float64) []float64 {
	_, _, ticks := Ticks(low, high)
	if len(ticks) < 2 {
		return ticks
	}
	step := ticks[1] - ticks[0]
	if low < 0 {
		ticks = append(ticks, -step/5)
	}
	ticks = append(ticks, step/5, 2*step/5)
	slices.Sort(ticks)
	return slices.DeleteFunc(slices.Compact(ticks), func(v float64) bool { return v < low || v > high })
}

// grid is a field with a rim of values below every level laid on its edges, so that every outline closes.
type grid struct {
	f     *Field
	level float64
}

// at is a point of the grid with its rim: column i from 0, row j from 0.
func (g *grid) at(i, j int) (x, y, v float64) {
	xs, ys := g.f.Xs, g.f.Ys
	x = xs[min(max(i-1, 0), len(xs)-1)]
	y = ys[min(max(j-1, 0), len(ys)-1)]
	if i == 0 || j == 0 || i > len(xs) || j > len(ys) {
		return x, y, math.Inf(-1)
	}
	return x, y, g.f.Values[j-1][i-1]
}

func (g *grid) in(i, j int) bool { _, _, v := g.at(i, j); return v >= g.level }

// side is one side between two points of the grid: to the right of (i, j), or up from it.
type side struct {
	i, j int
	up   bool
}

// cross is where the level crosses a side.
func (g *grid) cross(s side) [2]float64 {
	x0, y0, v0 := g.at(s.i, s.j)
	x1, y1, v1 := g.at(s.i+1, s.j)
	if s.up {
		x1, y1, v1 = g.at(s.i, s.j+1)
	}
	if math.IsInf(v0, 0) || math.IsInf(v1, 0) {
		if math.IsInf(v0, 0) {
			return [2]float64{x1, y1}
		}
		return [2]float64{x0, y0}
	}
	t := (g.level - v0) / (v1 - v0)
	return [2]float64{x0 + t*(x1-x0), y0 + t*(y1-y0)}
}

// step is a piece of an outline through one cell, the higher side on its left.
type step struct {
	to  side
	rim bool // it runs along the field's edge and is no part of the contour
}

// trace follows every outline of what is at least the level.
func (g *grid) trace() (lines, areas [][][2]float64) {
	steps := map[side]step{}
	var order []side
	for j := 0; j <= len(g.f.Ys); j++ {
		for i := 0; i <= len(g.f.Xs); i++ {
			rim := i == 0 || j == 0 || i == len(g.f.Xs) || j == len(g.f.Ys)
			for _, p := range g.cell(i, j) {
				steps[p[0]] = step{p[1], rim}
				order = append(order, p[0])
			}
		}
	}
	for _, s := range order {
		if _, left := steps[s]; !left {
			continue
		}
		var ring [][2]float64
		var rims []bool
		for {
			to, left := steps[s]
			if !left {
				break
			}
			delete(steps, s)
			ring, rims = append(ring, g.cross(s)), append(rims, to.rim)
			s = to.to
		}
		if area := lean(ring); len(area) > 2 {
			areas = append(areas, area)
		}
		lines = append(lines, split(ring, rims)...)
	}
	return lines, areas
}

// cell is the pieces of outline through the cell to the right of and above (i, j).
func (g *grid) cell(i, j int) [][2]side {
	low, right, high, left := side{i, j, false}, side{i + 1, j, true}, side{i, j + 1, false}, side{i, j, true}
	n := 0
	for k, in := range []bool{g.in(i, j), g.in(i+1, j), g.in(i+1, j+1), g.in(i, j+1)} {
		if in {
			n |= 1 << k
		}
	}
	switch n {
	case 1:
		return [][2]side{{low, left}}
	case 2:
		return [][2]side{{right, low}}
	case 3:
		return [][2]side{{right, left}}
	case 4:
		return [][2]side{{high, right}}
	case 6:
		return [][2]side{{high, low}}
	case 7:
		return [][2]side{{high, left}}
	case 8:
		return [][2]side{{left, high}}
	case 9:
		return [][2]side{{low, high}}
	case 11:
		return [][2]side{{right, high}}
	case 12:
		return [][2]side{{left, right}}
	case 13:
		return [][2]side{{low, right}}
	case 14:
		return [][2]side{{left, low}}
	case 5, 10:
		_, _, a := g.at(i, j)
		_, _, b := g.at(i+1, j)
		_, _, c := g.at(i+1, j+1)
		_, _, d := g.at(i, j+1)
		joined := (a+b+c+d)/4 >= g.level
		switch {
		case n == 5 && joined:
			return [][2]side{{low, right}, {high, left}}
		case n == 5:
			return [][2]side{{low, left}, {high, right}}
		case joined:
			return [][2]side{{left, low}, {right, high}}
		}
		return [][2]side{{right, low}, {left, high}}
	}
	return nil
}

// split takes the pieces along the field's edges out of an outline.
func split(ring [][2]float64, rims []bool) [][][2]float64 {
	n := len(ring)
	first := slices.Index(rims, true)
	if first < 0 { // an island: its line closes
		return [][][2]float64{tidy(append(slices.Clone(ring), ring[0]))}
	}
	var out [][][2]float64
	var run [][2]float64
	for k := 1; k <= n; k++ {
		at := (first + k) % n
		if rims[at] {
			if len(run) > 0 {
				out = append(out, tidy(append(run, ring[at])))
			}
			run = nil
			continue
		}
		run = append(run, ring[at])
	}
	return slices.DeleteFunc(out, func(l [][2]float64) bool { return len(l) < 2 })
}

// tidy drops a point that lies on the one before.
func tidy(line [][2]float64) [][2]float64 { return slices.Compact(line) }

// lean drops points that a closed outline does not need: those on a straight side.
func lean(ring [][2]float64) [][2]float64 {
	ring = tidy(slices.Clone(ring))
	for len(ring) > 1 && ring[0] == ring[len(ring)-1] {
		ring = ring[:len(ring)-1]
	}
	var out [][2]float64
	for i, p := range ring {
		a, b := ring[(i+len(ring)-1)%len(ring)], ring[(i+1)%len(ring)]
		if len(out) > 0 {
			a = out[len(out)-1]
		}
		if (p[0]-a[0])*(b[1]-p[1]) != (p[1]-a[1])*(b[0]-p[0]) || (p[0]-a[0])*(b[0]-p[0])+(p[1]-a[1])*(b[1]-p[1]) < 0 {
			out = append(out, p)
		}
	}
	return out
}

// label finds for each level the point of its line with most room: far from other levels, from the edges
// and from the labels placed before.
func (f *Field) label() {
	wide, tall := f.Xs[len(f.Xs)-1]-f.Xs[0], f.Ys[len(f.Ys)-1]-f.Ys[0]
	share := func(p [2]float64) [2]float64 { return [2]float64{(p[0] - f.Xs[0]) / wide, (p[1] - f.Ys[0]) / tall} }
	far := func(a, b [2]float64) float64 { return math.Hypot(2*(a[0]-b[0]), a[1]-b[1]) } // a map is about twice as wide as high
	var placed [][2]float64
	for k := range f.Levels {
		best := -1.0
		for _, line := range f.Levels[k].Lines {
			for _, p := range line {
				q := share(p)
				room := math.Min(math.Min(2*q[0], 2*(1-q[0])), math.Min(q[1], 1-q[1]))
				for o := range f.Levels {
					if o == k || room < best {
						continue
					}
					for _, other := range f.Levels[o].Lines {
						for _, r := range other {
							room = math.Min(room, far(q, share(r)))
						}
					}
				}
				for _, l := range placed {
					room = math.Min(room, far(q, l)/2)
				}
				if room > best {
					best, f.Levels[k].At = room, p
				}
			}
		}
		if best >= 0 {
			placed = append(placed, share(f.Levels[k].At))
		}
	}
}

// Round keeps so many digits behind the point of every number of the field that is sent, and of its contours what can be seen.
func (f *Field) Round(places int) {
	k := math.Pow(10, float64(places))
	for _, row := range f.Values {
		for i, v := range row {
			row[i] = math.Round(v*k) / k
		}
	}
	grain := func(a Axis) float64 {
		if !(a.Max > a.Min) {
			return 1e-6
		}
		return math.Pow(10, math.Floor(math.Log10(a.Max-a.Min))-4)
	}
	kx, ky := 1/grain(f.X), 1/grain(f.Y)
	for l := range f.Levels {
		for _, set := range [][][][2]float64{f.Levels[l].Lines, f.Levels[l].Areas} {
			for _, line := range set {
				for i, p := range line {
					line[i] = [2]float64{math.Round(p[0]*kx) / kx, math.Round(p[1]*ky) / ky}
				}
			}
		}
		p := f.Levels[l].At
		f.Levels[l].At = [2]float64{math.Round(p[0]*kx) / kx, math.Round(p[1]*ky) / ky}
	}
}
