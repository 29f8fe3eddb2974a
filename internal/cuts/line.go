package cuts

import (
	"math"
)

// Tangle finds the first place at which a line of points folds back on itself, crosses itself or touches itself:
// the index of the point at which the later of the two pieces ends, -1 for a line that does none of these. Points that stand on one another
// in a row count as one.
func Tangle(line []Point) (at int, folds bool) {
	index := make([]int, 0, len(line))
	for i := range line {
		if i == 0 || line[i] != line[i-1] {
			index = append(index, i)
		}
	}
	p := func(i int) Point { return line[index[i]] }
	for i := 0; i+1 < len(index); i++ {
		if i+2 < len(index) && foldsBack(p(i), p(i+1), p(i+2)) {
			return index[i+2], true
		}
		for j := i + 2; j+1 < len(index); j++ {
			if meet(p(i), p(i+1), p(j), p(j+1)) {
				return index[j+1], false
			}
		}
	}
	return -1, false
}

// side is above 0 when c lies to the left of the line from a to b.
func side(a, b, c Point) float64 { return (b.Y-a.Y)*(c.Z-a.Z) - (b.Z-a.Z)*(c.Y-a.Y) }

func foldsBack(a, b, c Point) bool {
	along := (b.Y-a.Y)*(c.Y-b.Y) + (b.Z-a.Z)*(c.Z-b.Z)
	return along < 0 && math.Abs(side(a, b, c)) <= 1e-12
}

// meet tells whether two pieces of a line have a point in common.
func meet(a, b, c, d Point) bool {
	if max(a.Y, b.Y) < min(c.Y, d.Y) || max(c.Y, d.Y) < min(a.Y, b.Y) ||
		max(a.Z, b.Z) < min(c.Z, d.Z) || max(c.Z, d.Z) < min(a.Z, b.Z) {
		return false
	}
	return side(a, b, c)*side(a, b, d) <= 0 && side(c, d, a)*side(c, d, b) <= 0
}
