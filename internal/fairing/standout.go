package fairing

import (
	"math"
	"slices"

	"thole/internal/cuts"
)

// standouts finds misread points, one after another, before anything is
// faired. A slip of the rule stands off the line through its neighbours along the boat, while the
// points beside it on its own section do not; and it stands off the curve through those, by as much. Where the
// hull itself bends hard, one of the three says otherwise. Each one found is set on the line
// that its neighbours make before the next is looked for, so that it does not speak against them.
//
// In:     cuts with their corners named, in order; limit, how far off counts, metres
// Out:    the points found, by cut and point, and how far each stands off; cs itself is changed there
// Source: deleted residuals from Lagrange's polynomials through four neighbours, closed form
func standouts(cs []Cut, order []string, limit float64) map[[2]int]float64 {
	found := map[[2]int]float64{}
	for range 12 {
		st := layOut(cs, order)
		best, at := 0.0, [2]int{-1}
		var put cuts.Point
		for i := 1; i+1 < len(st); i++ { // an end station has others on one side only
			off, fair := st[i].offLength(st, i)
			for j := range off {
				if _, done := found[[2]int{i, j}]; done {
					continue
				}
				if by := st[i].agreed(off, j); math.Abs(by) > math.Max(limit, math.Abs(best)) {
					best, at, put = by, [2]int{i, j}, fair[j]
				}
			}
		}
		if at[0] < 0 {
			break
		}
		found[at] = best
		cs[at[0]].Points[at[1]].Point = put
	}
	return found
}

// offLength is how far each point of a station stands off the section that the lines along the
// boat would make of their neighbours, outwards positive, and the place on it. NaN where they do not say.
func (s *station) offLength(st []station, i int) (off []float64, fair []cuts.Point) {
	off, fair = make([]float64, len(s.points)), make([]cuts.Point, len(s.points))
	line := make([]cuts.Point, 0, len(s.points))
	for j := range s.points {
		off[j] = math.NaN()
		if q, ok := alongOthers(st, i, j); ok {
			line = append(line, q)
		}
	}
	if len(line) < 2 || len(line) < len(s.points) {
		return off, fair
	}
	for j, p := range s.points {
		off[j], fair[j] = offLine(line, p.Point)
	}
	return off, fair
}

// offLine is the distance of a point from a run of points, positive on its right hand, which
// is outwards going from keel to sheer, and the nearest place; the first and last sides reach on.
func offLine(line []cuts.Point, p cuts.Point) (off float64, at cuts.Point) {
	best := math.Inf(1)
	for k := 1; k < len(line); k++ {
		a, b := line[k-1], line[k]
		ty, tz := b.Y-a.Y, b.Z-a.Z
		l := math.Hypot(ty, tz)
		if l < 1e-9 {
			continue
		}
		t := ((p.Y-a.Y)*ty + (p.Z-a.Z)*tz) / (l * l)
		if k > 1 {
			t = math.Max(0, t)
		}
		if k < len(line)-1 {
			t = math.Min(1, t)
		}
		q := cuts.Point{Y: a.Y + t*ty, Z: a.Z + t*tz}
		if d := math.Hypot(p.Y-q.Y, p.Z-q.Z); d < best {
			best, at = d, q
			off = math.Copysign(d, (p.Y-a.Y)*tz-(p.Z-a.Z)*ty)
		}
	}
	at.Y = math.Max(0, at.Y)
	return off, at
}

// agreed is how far a point stands off by the lesser of what the length says, less what it says of the
// points beside (a whole station that lies in a bend is off alike), and what its section says;
// nothing unless they say much the same.
func (s *station) agreed(off []float64, j int) float64 {
	n := len(off)
	var beside float64 // what the points beside it say
	switch {
	case n < 3:
		return 0
	case j == 0:
		beside = 2*off[1] - off[2]
	case j == n-1:
		beside = 2*off[n-2] - off[n-3]
	default:
		beside = (off[j-1] + off[j+1]) / 2
	}
	// At keel, sheer and corners the section has no curve to speak by, and the length must by itself.
	length, other := off[j]-beside, off[j]
	if across, ok := s.contradicted(j); ok && j > 0 && j < n-1 && !s.points[j].Corner {
		other = across
	}
	least := math.Min(math.Abs(length), math.Abs(other))
	if math.IsNaN(length+other) || length*other <= 0 || 2*least < math.Max(math.Abs(length), math.Abs(other)) {
		return 0
	}
	return math.Copysign(least, length)
}

// alongOthers is where the neighbouring stations would have a point: a cubic over x through the
// points at the same share of the girth between the same knuckles.
func alongOthers(st []station, i, j int) (cuts.Point, bool) {
	s := &st[i]
	k := 0
	for k < len(s.stops)-2 && s.chord[j] > s.stops[k+1]+1e-12 {
		k++
	}
	share := 0.0
	if w := s.stops[k+1] - s.stops[k]; w > 0 {
		share = (s.chord[j] - s.stops[k]) / w
	}
	near := []int{}
	for d := 1; len(near) < 4 && (i-d >= 0 || i+d < len(st)); d++ {
		for _, n := range [2]int{i - d, i + d} {
			if n >= 0 && n < len(st) && len(near) < 4 {
				near = append(near, n)
			}
		}
	}
	if len(near) < 3 {
		return cuts.Point{}, false
	}
	slices.Sort(near)
	var out cuts.Point
	for _, a := range near {
		w := 1.0
		for _, b := range near {
			if b != a {
				w *= (s.x - st[b].x) / (st[a].x - st[b].x)
			}
		}
		o := &st[a]
		y, z := o.row(o.stops[k]+share*(o.stops[k+1]-o.stops[k]), k).of(o.points)
		out.Y += w * y
		out.Z += w * z
	}
	out.Y = math.Max(0, out.Y)
	return out, true
}
