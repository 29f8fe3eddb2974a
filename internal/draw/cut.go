package draw

import "math"

// run is a stretch of a line inside a box.
type run struct {
	points [][2]float64
	start  float64 // how far along the line it begins, so that dashes go on over a seam
}

// cut cuts a line to an upright box and returns the stretches inside it. A
// single point is a stretch where the box holds it.
//
// Source: Liang and Barsky, "A New Concept and Method for Line Clipping",
// ACM Transactions on Graphics 3(1), 1984
func cut(points [][2]float64, closed bool, b Box) []run {
	if len(points) == 1 {
		if q := points[0]; q[0] >= b.MinX && q[0] <= b.MaxX && q[1] >= b.MinY && q[1] <= b.MaxY {
			return []run{{points: points}}
		}
		return nil
	}
	var out []run
	along, open := 0.0, false
	n := len(points)
	last := n - 1
	if closed && n > 2 {
		last = n
	}
	for i := 0; i < last; i++ {
		p, q := points[i], points[(i+1)%n]
		length := math.Hypot(q[0]-p[0], q[1]-p[1])
		from, to, in := inside(p, q, b)
		if in {
			at := func(t float64) [2]float64 { return [2]float64{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])} }
			if !open || from > 0 {
				out = append(out, run{points: [][2]float64{at(from)}, start: along + from*length})
			}
			k := len(out) - 1
			out[k].points = append(out[k].points, at(to))
		}
		open = in && to == 1
		along += length
	}
	return out
}

// inside is the share of a straight line, from 0 to 1, that a box holds.
func inside(p, q [2]float64, b Box) (from, to float64, in bool) {
	from, to = 0, 1
	low, high := [2]float64{b.MinX, b.MinY}, [2]float64{b.MaxX, b.MaxY}
	for k := range 2 {
		d := q[k] - p[k]
		if d == 0 {
			if p[k] < low[k] || p[k] > high[k] {
				return 0, 0, false
			}
			continue
		}
		enter, leave := (low[k]-p[k])/d, (high[k]-p[k])/d
		if d < 0 {
			enter, leave = leave, enter
		}
		from, to = max(from, enter), min(to, leave)
	}
	return from, to, from <= to
}
