package fairing

import "math"

// contradicted tells how far a reading stands off the curve through its neighbours on
// its own section, square to it: positive outwards, as the residual measured less fair would be. ok is false where
// there are too few neighbours to say.
//
// A hull bends hard towards its ends, and a plate that must follow there foretells
// a sound reading badly from the stations on either side; its own section
// does not. A slip of the rule stands out on both.
func (s *station) contradicted(j int) (off float64, ok bool) {
	ps := s.points
	from, to := 0, len(ps)-1
	for k := range s.own { // the smooth stretch that the reading stands in
		if s.own[k] && s.index[k] < j {
			from = max(from, s.index[k])
		}
		if s.own[k] && s.index[k] > j {
			to = min(to, s.index[k])
		}
	}
	var near [][2]float64
	take := func(k int) { near = append(near, [2]float64{ps[k].Y, ps[k].Z}) }
	for k := max(from, j-2); k <= min(to, j+2); k++ {
		if k != j {
			take(k)
		}
	}
	for k := j + 3; len(near) < 3 && k <= to; k++ {
		take(k)
	}
	for k := j - 3; len(near) < 3 && k >= from; k-- {
		take(k)
	}
	if len(near) < 3 {
		return 0, false
	}
	// a frame along the section at the reading
	a, b := ps[max(from, j-1)], ps[min(to, j+1)]
	ty, tz := b.Y-a.Y, b.Z-a.Z
	l := math.Hypot(ty, tz)
	if l == 0 {
		return 0, false
	}
	ty, tz = ty/l, tz/l
	along := func(y, z float64) float64 { return (y-ps[j].Y)*ty + (z-ps[j].Z)*tz }
	out := func(y, z float64) float64 { return (y-ps[j].Y)*tz - (z-ps[j].Z)*ty }
	var foretold float64
	for i, p := range near { // Lagrange's polynomial at the reading's own place along
		w := 1.0
		for k, q := range near {
			if k != i {
				d := along(p[0], p[1]) - along(q[0], q[1])
				if d == 0 {
					return 0, false
				}
				w *= -along(q[0], q[1]) / d
			}
		}
		foretold += w * out(p[0], p[1])
	}
	return -foretold, true
}
