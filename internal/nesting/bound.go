package nesting

import (
	"math"
	"sort"
)

// bound is the least number of sheets, by three arguments.
//
// Area: two parts a gap apart do not overlap when each is grown by half the gap, and lie
// in the usable sheet grown by as much. A shape of area A grows to (sqrt A + sqrt(pi) g/2)²
// at least (Brunn and Minkowski), and no sheet holds more than its area.
//
// Long: parts that must lie with more than half the usable length all cross the sheet's
// middle line. What each takes of it, with the gap, is packed into the width as in one
// dimension, for which there are good bounds. Wide is the same across.
//
// Source: Schneider, Convex Bodies: The Brunn-Minkowski Theory; Martello and Toth,
// Knapsack Problems (1990), ch. 8 (the bound L2); Fekete and Schepers, "New classes of
// fast lower bounds for bin packing problems", Mathematical Programming 91 (2001)
func (j *job) bound(unfit []Misfit) Bound {
	out := map[int]bool{}
	for _, m := range unfit {
		out[m.Part] = true
	}
	length, width := j.stock.usable()
	gap := j.stock.Gap
	var sum float64
	var long, wide []float64
	for i, p := range j.parts {
		s := j.shapes[i]
		n := p.Count
		if out[i] {
			n = j.held[i]
		}
		root := math.Sqrt(s.area) + math.Sqrt(math.Pi)*gap/2
		sum += float64(n) * root * root
		n -= j.odd[i]
		if n <= 0 || len(s.poses) == 0 {
			continue
		}
		l, w := s.least(length, width)
		for range n {
			if l > 0 {
				long = append(long, l+gap)
			}
			if w > 0 {
				wide = append(wide, w+gap)
			}
		}
	}
	held := 0
	for _, s := range j.base {
		if len(s.laid) > 0 {
			held++
		}
	}
	b := Bound{
		Area: int(math.Ceil(sum/((length+gap)*(width+gap)) - 1e-9)),
		Long: bins(long, width+gap),
		Wide: bins(wide, length+gap),
	}
	b.Sheets = max(b.Area, b.Long, b.Wide, held)
	return b
}

// least is what a shape takes of the sheet's middle line at least, across and along, in
// whatever pose and place it lies; 0 if it can keep off the line.
func (s *shape) least(length, width float64) (across, along float64) {
	across, along = math.Inf(1), math.Inf(1)
	for _, p := range s.poses {
		var rings [][]point
		var turned [][]point
		for _, r := range append([][]point{s.ring}, s.holes...) {
			lay := p.lay(r)
			rings = append(rings, lay)
			t := make([]point, len(lay))
			for i, v := range lay {
				t[i] = point{v.y, v.x}
			}
			turned = append(turned, t)
		}
		across = math.Min(across, narrowest(rings, length))
		along = math.Min(along, narrowest(turned, width))
	}
	return across, along
}

// narrowest is the least section of a shape, square to x, over all the places at which
// the middle of a room of the given length can cut it; 0 if it need not cut it at all.
// The section is linear between corners, and may jump at them.
func narrowest(rings [][]point, length float64) float64 {
	b := around(rings[0])
	lo, hi := b.x1-length/2, b.x0+length/2 // the middle, seen from the shape pushed right and left
	if b.x1-b.x0 <= length/2+touch || lo <= b.x0 || hi >= b.x1 {
		return 0
	}
	if hi < lo {
		hi = lo
	}
	cuts := []float64{lo, hi}
	var flat [][]point
	for _, r := range rings {
		t := make([]point, len(r))
		for i, p := range r {
			t[i] = point{p.y, p.x} // a solid's chords run square to y
			if p.x > lo && p.x < hi {
				cuts = append(cuts, p.x)
			}
		}
		flat = append(flat, t)
	}
	sort.Float64s(cuts)
	body := newSolid(flat)
	section := func(x float64) float64 {
		var sum float64
		xs := body.chords(x)
		for i := 0; i+1 < len(xs); i += 2 {
			sum += xs[i+1] - xs[i]
		}
		return sum
	}
	least := section((lo + hi) / 2)
	for i := 1; i < len(cuts); i++ {
		a, d := cuts[i-1], cuts[i]-cuts[i-1]
		if d < touch {
			continue
		}
		one, two := section(a+d/3), section(a+2*d/3)
		least = math.Min(least, math.Min(2*one-two, 2*two-one))
	}
	return math.Max(0, least-touch)
}

// bins is the larger of two lower bounds on the bins of one size that hold items.
func bins(items []float64, bin float64) int {
	return max(l2(items, bin), dual(items, bin))
}

// dual is Fekete and Schepers' bound: sizes rounded down to multiples of one k-th of a
// bin, when a bin is divided by k+1, still fit where the items did.
func dual(items []float64, bin float64) int {
	best := 0
	for k := 1.0; k <= 24; k++ {
		var sum float64
		for _, w := range items {
			x := w / bin
			if n := math.Round((k + 1) * x); math.Abs((k+1)*x-n) < 1e-7 {
				sum += x
			} else {
				sum += math.Floor((k+1)*x) / k
			}
		}
		best = max(best, int(math.Ceil(sum-1e-6)))
	}
	return best
}

// l2 is Martello and Toth's lower bound on the bins of one size that hold items.
func l2(items []float64, bin float64) int {
	best := 0
	tries := append([]float64{0}, items...)
	for _, k := range tries {
		if k > bin/2+touch {
			continue
		}
		var large, middle, small int
		var middles, smalls float64
		for _, w := range items {
			switch {
			case w > bin-k+touch:
				large++
			case w > bin/2+touch:
				middle++
				middles += w
			case w >= k:
				small++
				smalls += w
			}
		}
		spare := float64(middle)*bin - middles
		n := large + middle + max(0, int(math.Ceil((smalls-spare)/bin-1e-6)))
		best = max(best, n)
	}
	return best
}
