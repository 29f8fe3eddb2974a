package cuts

import (
	"math"
	"slices"
)

// touch is how near two outlines must run to count as lying on each other,
// metres. Far above rounding at boat size, far below anything one can saw.
const touch = 1e-9

// Union is everything inside a or b; where they overlap it counts once.
func Union(a, b Section) Section {
	return combine(a, b, func(w where) bool { return w == outside || w == along },
		func(w where) bool { return w == outside })
}

// Intersection is what lies inside both.
func Intersection(a, b Section) Section {
	return combine(a, b, func(w where) bool { return w == inside || w == along },
		func(w where) bool { return w == inside })
}

// Difference is a less what lies inside b.
func Difference(a, b Section) Section {
	hole := slices.Clone(b)
	hole.Turn()
	// Seen from the turned outline, "along" and "against" change places; the
	// inside of b is the outside of its complement.
	out := make(Section, 0, len(a)+len(b))
	out = keep(out, a, b, func(w where) bool { return w == outside || w == against })
	return keep(out, hole, a, func(w where) bool { return w == inside })
}

// combine keeps those pieces of either outline that the other's inside allows.
// An edge that both share is taken from a alone, so that it counts once.
func combine(a, b Section, ofA, ofB func(where) bool) Section {
	out := make(Section, 0, len(a)+len(b))
	out = keep(out, a, b, ofA)
	return keep(out, b, a, ofB)
}

// where is how a piece of one outline lies to another outline.
type where int

const (
	outside where = iota
	inside
	along   // on it, running the same way
	against // on it, running the other way
)

// keep appends to out the pieces of s that are wanted, splitting each edge
// where it meets o.
func keep(out Section, s, o Section, wanted func(where) bool) Section {
	if len(o) == 0 {
		if wanted(outside) {
			out = append(out, s...)
		}
		return out
	}
	min, max := o.Bounds()
	var stops []float64
	for _, e := range s {
		if math.Max(e.A.Y, e.B.Y) < min.Y-touch || math.Min(e.A.Y, e.B.Y) > max.Y+touch ||
			math.Max(e.A.Z, e.B.Z) < min.Z-touch || math.Min(e.A.Z, e.B.Z) > max.Z+touch {
			if wanted(outside) {
				out = append(out, e)
			}
			continue
		}
		stops = meetings(stops[:0], e, o)
		slices.Sort(stops)
		from := 0.0
		for _, to := range append(stops, 1) {
			if to-from < 1e-12 {
				continue
			}
			piece := Edge{A: at(e, from), B: at(e, to), Slant: e.Slant}
			if from == 0 && to == 1 {
				piece.Bulge = e.Bulge
			}
			if wanted(o.lies(piece)) {
				out = append(out, piece)
			}
			from = to
		}
	}
	return out
}

// at is the point a fraction of the way along an edge; exact at both ends.
func at(e Edge, t float64) Point {
	switch t {
	case 0:
		return e.A
	case 1:
		return e.B
	}
	return Point{e.A.Y + t*(e.B.Y-e.A.Y), e.A.Z + t*(e.B.Z-e.A.Z)}
}

// meetings appends the fractions along e at which it meets an edge of o.
func meetings(ts []float64, e Edge, o Section) []float64 {
	dy, dz := e.B.Y-e.A.Y, e.B.Z-e.A.Z
	length := math.Hypot(dy, dz)
	if length == 0 {
		return ts
	}
	add := func(t float64) {
		if t > 0 && t < 1 {
			ts = append(ts, t)
		}
	}
	for _, f := range o {
		// signed distances of f's ends from the line of e
		da := (dy*(f.A.Z-e.A.Z) - dz*(f.A.Y-e.A.Y)) / length
		db := (dy*(f.B.Z-e.A.Z) - dz*(f.B.Y-e.A.Y)) / length
		onA, onB := math.Abs(da) <= touch, math.Abs(db) <= touch
		if onA {
			add(((f.A.Y-e.A.Y)*dy + (f.A.Z-e.A.Z)*dz) / (length * length))
		}
		if onB {
			add(((f.B.Y-e.A.Y)*dy + (f.B.Z-e.A.Z)*dz) / (length * length))
		}
		if onA || onB || (da > 0) == (db > 0) {
			continue
		}
		p := at(f, da/(da-db))
		add(((p.Y-e.A.Y)*dy + (p.Z-e.A.Z)*dz) / (length * length))
	}
	return ts
}

// lies tells how a piece that crosses no edge of s lies to s, from its middle.
func (s Section) lies(piece Edge) where {
	m := at(piece, 0.5)
	winding, sure := 0, true
	for _, f := range s {
		dy, dz := f.B.Y-f.A.Y, f.B.Z-f.A.Z
		length2 := dy*dy + dz*dz
		if length2 == 0 {
			continue
		}
		t := ((m.Y-f.A.Y)*dy + (m.Z-f.A.Z)*dz) / length2
		side := dy*(m.Z-f.A.Z) - dz*(m.Y-f.A.Y)
		if t >= 0 && t <= 1 && math.Abs(side) <= touch*math.Sqrt(length2) {
			py, pz := piece.B.Y-piece.A.Y, piece.B.Z-piece.A.Z
			// A piece that only crosses f at its middle cannot occur: it was
			// split there. So it lies on f.
			if py*dy+pz*dz > 0 {
				return along
			}
			return against
		}
		// crossings of a ray from m to starboard
		if f.A.Y > m.Y && math.Abs(f.A.Z-m.Z) <= touch || f.B.Y > m.Y && math.Abs(f.B.Z-m.Z) <= touch {
			sure = false
		}
		if (f.A.Z > m.Z) != (f.B.Z > m.Z) {
			if y := f.A.Y + (m.Z-f.A.Z)/dz*dy; y > m.Y {
				if dz > 0 {
					winding++
				} else {
					winding--
				}
			}
		}
	}
	if !sure {
		winding = s.winding(m)
	}
	if winding > 0 {
		return inside
	}
	return outside
}

// winding counts how often an outline goes round a point that does not lie on it.
//
// Corners made by cutting agree only to rounding, and a ray that runs through such a place
// may slip between two edges that should meet. So rays are tried in several directions until one keeps clear of all corners.
func (s Section) winding(m Point) int {
	best, clearest := 0, -1.0
	for i := range 7 {
		sin, cos := math.Sincos(0.37 + 0.83*float64(i)) // no direction in which people build
		count, clear := 0, math.Inf(1)
		for _, f := range s {
			ay, az := (f.A.Y-m.Y)*cos+(f.A.Z-m.Z)*sin, (f.A.Z-m.Z)*cos-(f.A.Y-m.Y)*sin
			by, bz := (f.B.Y-m.Y)*cos+(f.B.Z-m.Z)*sin, (f.B.Z-m.Z)*cos-(f.B.Y-m.Y)*sin
			if ay > 0 {
				clear = math.Min(clear, math.Abs(az))
			}
			if by > 0 {
				clear = math.Min(clear, math.Abs(bz))
			}
			if (az > 0) != (bz > 0) && ay+(by-ay)*az/(az-bz) > 0 {
				if bz > 0 {
					count++
				} else {
					count--
				}
			}
		}
		if clear > touch {
			return count
		}
		if clear > clearest {
			best, clearest = count, clear
		}
	}
	return best
}
