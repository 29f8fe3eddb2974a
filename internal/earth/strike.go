package earth

import "math"

// Strike is where a boat that goes straight first meets the land or a hazard.
type Strike struct {
	Share  float64 // of the way from start to end, 0 to 1
	At     Place
	Hazard int // which of Hazards; -1 for the coast
}

// Strikes says whether a boat that goes straight on a map of latitude and longitude,
// the shorter way round, meets the land or a hazard, and where first. One that starts ashore or
// in a hazard strikes at once.
//
// In:     places that Check finds nothing wrong with. The line is not a geodesic: for an
// hour's row of 10 km within 60 degrees of the equator the two part by 4 m at most; cut
// long lines up (Route.Points), and keep clear of the poles themselves.
// Good to: exact for the rings as held (touching is striking); hazards to 0.5 % of their radius
func (l *Land) Strikes(from, to Place) (Strike, bool) {
	ax, ay := whole(from)
	if l.inside(ax, ay) {
		return Strike{0, from, -1}, true
	}
	bx, by := whole(to)
	dx := bx - ax
	if dx >= half {
		dx -= 2 * half
	} else if dx < -half {
		dx += 2 * half
	}
	share, hazard, found, risky := 2., -1, false, false
	x1, y1, x2, y2 := ax, ay, ax+dx, by
	if y1 > y2 {
		x1, y1, x2, y2 = x2, y2, x1, y1
	}
	for r := row(y1); r <= row(y2); r++ {
		a, b := span(x1, y1, x2, y2, r)
		for col := floor(a + half); col <= floor(b+half); col++ {
			turn := (col + nx) / nx // 1 where the longitude is the usual one
			k := r*nx + col + nx - turn*nx
			bits := l.cells.bits[k]
			risky = risky || bits&risk != 0
			if bits&coast == 0 {
				continue
			}
			shift := int32(turn-1) * (2 * half)
			for _, e := range l.cells.edges[l.cells.start[k]:l.cells.start[k+1]] {
				if t, ok := meet(ax, ay, ax+dx, by, l.x[e]+shift, l.y[e], l.x[e+1]+shift, l.y[e+1]); ok && t < share {
					share, found = t, true
				}
			}
		}
	}
	if risky {
		for i := range l.hazards {
			if t, ok := l.hazards[i].meet(from, to); ok && t < share {
				share, hazard, found = t, i, true
			}
		}
	}
	if !found {
		return Strike{}, false
	}
	return Strike{share, Place{from.Lat + share*(to.Lat-from.Lat), Half(from.Lon + share*Half(to.Lon-from.Lon))}, hazard}, true
}

// floor is the cell a whole number of millionths lies in, counted from the 180th
// meridian, below nothing too; the line may have run once round either way.
func floor(v int64) int {
	if v < 0 {
		return -int((-v + cell - 1) / cell)
	}
	return int(v / cell)
}

// meet is the share of the line from a to b at which it first touches the edge from c
// to d, if it does. Source: orientations of three points, textbook (de Berg et al.,
// Computational Geometry, ch. 2), in whole numbers.
func meet(ax, ay, bx, by, cx, cy, dx, dy int32) (float64, bool) {
	if max(ax, bx) < min(cx, dx) || max(cx, dx) < min(ax, bx) || max(ay, by) < min(cy, dy) || max(cy, dy) < min(ay, by) {
		return 0, false
	}
	c, d := cross(ax, ay, bx, by, cx, cy), cross(ax, ay, bx, by, dx, dy)
	if c > 0 && d > 0 || c < 0 && d < 0 {
		return 0, false
	}
	a, b := cross(cx, cy, dx, dy, ax, ay), cross(cx, cy, dx, dy, bx, by)
	if a > 0 && b > 0 || a < 0 && b < 0 {
		return 0, false
	}
	if a != b {
		return float64(a) / (float64(a) - float64(b)), true
	}
	// Along one another: the first of the edge's ends, or the start if it is between.
	along := func(x, y int32) float64 {
		if bx != ax {
			return float64(x-ax) / float64(bx-ax)
		}
		if by != ay {
			return float64(y-ay) / float64(by-ay)
		}
		return 0
	}
	return math.Max(0, math.Min(along(cx, cy), along(dx, dy))), true
}

// meet is the share of a line at which it enters the hazard's circle, on a flat map
// whose longitudes are true at the hazard.
func (h *Hazard) meet(from, to Place) (float64, bool) {
	cos := math.Cos(h.At.Lat)
	r := h.Radius / WGS84.series[0]
	x, y := Half(from.Lon-h.At.Lon)*cos, from.Lat-h.At.Lat
	dx, dy := Half(to.Lon-from.Lon)*cos, to.Lat-from.Lat
	a, b, c := dx*dx+dy*dy, x*dx+y*dy, x*x+y*y-r*r
	if c <= 0 {
		return 0, true
	}
	if root := b*b - a*c; a > 0 && b < 0 && root >= 0 {
		if t := c / (-b + math.Sqrt(root)); t <= 1 {
			return t, true
		}
	}
	return 0, false
}
