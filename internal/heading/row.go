package heading

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Helm is what may be used to hold a course, in this order: the rudder to its stops, then
// the oars unevenly.
type Helm struct{ Rudder, Oars bool }

// Way is how she goes, rowed with the wind at an angle to the bow.
type Way struct {
	Lie
	Rudder float64 // radians, positive turns her to starboard when going ahead
	Uneven float64 // -1 to 1: 1 rows on the port side alone
	Held   bool    // rudder and oars can balance the moment there
	// Margin is the share of rudder and oars still in hand, 1 when none of it is needed; where she
	// is not held, less than nothing: the moment left over as a share of what they can make.
	Margin float64
}

// MadeGood is the speed made good towards a course, m/s.
//
// In:     the course wanted, as where the wind comes from off it, in radians
func (w Way) MadeGood(course float64) float64 { return w.Speed() * math.Cos(w.Course()-course) }

// controls is the greatest demand on a helm: one for each means that there is.
func (m *Model) controls(h Helm) float64 {
	most := 0.0
	if h.Rudder && m.rudder >= 0 {
		most++
	}
	if h.Oars && m.oars.Arm > 0 {
		most++
	}
	return most
}

// control is what rudder and oars do at a demand, positive to starboard.
func (m *Model) control(h Helm, demand float64, thrust func(float64) float64) Control {
	c := Control{Thrust: thrust}
	rest := math.Abs(demand)
	if h.Rudder && m.rudder >= 0 {
		c.Rudder = math.Copysign(math.Min(rest, 1)*m.blades[m.rudder].max, demand)
		rest = math.Max(0, rest-1)
	}
	if h.Oars && m.oars.Arm > 0 {
		c.Uneven = math.Copysign(math.Min(rest, 1), demand)
	}
	return c
}

// steps is the number of demands tried on each side for each means.
const steps = 10

// Row finds how she goes with the bow held at an angle to the wind, and what holds it there.
//
// In:     wind m/s at 10 m; from where, off the bow; thrust N by speed ahead, or nil
// Out:    where she cannot be held, the state in which the moment left over is least. Where the flow
// over the board may cling or be stalled, the state that she comes to from going straight ahead is
// looked for first, then the one from lying still.
// Error:  ErrInput, ErrUnconverged
// Good to: 1e-7 of a means' travel
func (m *Model) Row(wind, from float64, thrust func(float64) float64, h Helm) (Way, error) {
	moving, err := m.row(wind, from, thrust, h, &Lie{Ahead: m.straight(wind, from, thrust)})
	if err != nil || moving.Held && moving.Ahead > 0 {
		return moving, err
	}
	still, err := m.row(wind, from, thrust, h, nil)
	if err != nil || still.Held && (still.Ahead > 0 || !moving.Held) || !moving.Held && still.Margin > moving.Margin {
		return still, err
	}
	return moving, nil
}

// straight is the speed ahead at which thrust, wind and resistance balance on a straight track;
// none when she is blown astern.
func (m *Model) straight(wind, from float64, thrust func(float64) float64) float64 {
	s, k := math.Sincos(from)
	c := Control{Thrust: thrust}
	lo, hi := 0.0, 20.0
	for range 30 {
		u := (lo + hi) / 2
		if x, _, _ := m.forces(-wind*k, -wind*s, u, 0, &c); x > 0 {
			lo = u
		} else {
			hi = u
		}
	}
	return lo
}

// row is Row from one start.
func (m *Model) row(wind, from float64, thrust func(float64) float64, h Helm, near *Lie) (Way, error) {
	at := func(demand float64) (Lie, error) {
		l, err := m.Slide(wind, from, m.control(h, demand, thrust), near)
		near = &l
		return l, err
	}
	done := func(l Lie, demand, margin float64, held bool) Way {
		c := m.control(h, demand, nil)
		return Way{Lie: l, Rudder: c.Rudder, Uneven: c.Uneven, Held: held, Margin: margin}
	}
	straight, err := at(0)
	if err != nil {
		return Way{}, err
	}
	most := m.controls(h)
	small := 1e-9 * (1 + m.moment(wind))
	if math.Abs(straight.Moment) <= small {
		return done(straight, 0, 1, true), nil
	}
	best, demand := straight, 0.0
	lo, hi := straight.Moment, straight.Moment
	sides := [2]float64{-math.Copysign(1, straight.Moment), math.Copysign(1, straight.Moment)}
	ends := [2]Lie{straight, straight}
	var astern *Way
	for means := range int(most) { // all of the rudder either way before any of the oars
		for k, side := range sides {
			was, wasAt := ends[k], side*float64(means)
			near = &was
			for i := 1; i <= steps; i++ {
				d := side * (float64(means) + float64(i)/steps)
				l, err := at(d)
				if err != nil {
					return Way{}, err
				}
				if (l.Moment < 0) != (was.Moment < 0) {
					found := l
					x, err := root(wasAt, d, was.Moment, l.Moment, 1e-8, func(x float64) (float64, error) {
						l, err := at(x)
						found = l
						return l.Moment, err
					})
					if err != nil {
						return Way{}, err
					}
					// Where the flow jumps from clinging to stalled the moment may change sign without
					// ever being nothing.
					if math.Abs(found.Moment) <= 1e3*small {
						w := done(found, x, 1-math.Abs(x)/most, true)
						if w.Ahead > 0 {
							return w, nil
						}
						if astern == nil {
							astern = &w
						}
					}
					near = &l
				}
				if math.Abs(l.Moment) < math.Abs(best.Moment) {
					best, demand = l, d
				}
				lo, hi = math.Min(lo, l.Moment), math.Max(hi, l.Moment)
				was, wasAt = l, d
			}
			ends[k] = was
		}
	}
	if l, d, ok := m.trim(wind, best, demand, thrust, h); ok {
		if w := done(l, d, 1-math.Abs(d)/most, true); w.Ahead > 0 || astern == nil {
			return w, nil
		}
	}
	if astern != nil {
		return *astern, nil
	}
	margin := -1.0
	if hi > lo {
		margin = -math.Abs(best.Moment) / (hi - lo)
	}
	return done(best, demand, margin, false), nil
}

// trim settles speeds and demand together by Newton's method, from a state near by: it follows
// one branch where there are two, the board stalled or not.
func (m *Model) trim(wind float64, l Lie, demand float64, thrust func(float64) float64, h Helm) (Lie, float64, bool) {
	most := m.controls(h)
	if most == 0 {
		return l, 0, false
	}
	s, k := math.Sincos(l.From)
	f := func(p [3]float64) (r [3]float64) {
		c := m.control(h, p[2], thrust)
		r[0], r[1], r[2] = m.forces(-wind*k, -wind*s, p[0], p[1], &c)
		return r
	}
	p := [3]float64{l.Ahead, l.Side, demand}
	c := m.control(h, 0, thrust)
	fx, fy, _ := m.forces(-wind*k, -wind*s, 0, 0, &c)
	scale := math.Hypot(fx, fy)
	for range 40 {
		r := f(p)
		// The Jacobian by columns; Cramer's rule for three unknowns.
		var j [3][3]float64
		for i, step := range [3]float64{1e-6, 1e-6, 1e-6} {
			q := p
			q[i] += step
			e := f(q)
			for n := range 3 {
				j[i][n] = (e[n] - r[n]) / step
			}
		}
		if math.Hypot(r[0], r[1]) <= tolerance*scale && math.Abs(r[2]) <= tolerance*scale*m.length {
			steady := j[0][0]+j[1][1] < 0 && j[0][0]*j[1][1]-j[1][0]*j[0][1] > 0
			l.Ahead, l.Side, l.Moment, l.Residual = p[0], p[1], r[2], math.Hypot(r[0], r[1])/scale
			return l, p[2], steady && math.Abs(p[2]) <= most
		}
		det := triple(j[0], j[1], j[2])
		if det == 0 || math.IsNaN(det) {
			return l, 0, false
		}
		d := [3]float64{triple(r, j[1], j[2]) / det, triple(j[0], r, j[2]) / det, triple(j[0], j[1], r) / det}
		stride := math.Max(1, math.Max(math.Hypot(d[0], d[1])/0.3, math.Abs(d[2])/0.2))
		for i := range p {
			p[i] -= d[i] / stride
		}
		p[2] = clamp(p[2], -most-0.1, most+0.1)
	}
	return l, 0, false
}

// triple is the determinant of three columns.
func triple(a, b, c [3]float64) float64 {
	return a[0]*(b[1]*c[2]-b[2]*c[1]) - b[0]*(a[1]*c[2]-a[2]*c[1]) + c[0]*(a[1]*b[2]-a[2]*b[1])
}

// moment is the size of the wind's moments, Nm, to tell a small one by.
func (m *Model) moment(wind float64) float64 {
	area := 0.0
	for i := range m.sails {
		area += m.sails[i].side + m.sails[i].front
	}
	return m.halfAir * wind * wind * area * m.length
}

// Arc is a run of courses that she can be kept on: where the wind comes from off the track
// and off the bow, radians, from the one nearer the wind.
type Arc struct{ Course, Bow [2]float64 }

// slice is the step between the headings of a sector, and edge how finely its ends are found.
const (
	slice = 5 * math.Pi / 180
	edge  = 0.05 * math.Pi / 180
)

// Sector is the courses that she can be kept on and makes headway, wind on the starboard
// side (she is taken as alike on both).
//
// In:     wind m/s at 10 m; thrust N by speed ahead
// Out:    arcs from the wind's eye round; none where she can be kept on no course
// Error:  ErrInput, ErrUnconverged
// Good to: 0.05 degrees at the ends; an arc of less than 5 degrees may be missed
func (m *Model) Sector(wind float64, thrust func(float64) float64, h Helm) ([]Arc, error) {
	var out []Arc
	var was Way
	kept := func(w Way) bool { return w.Held && w.Ahead > 0 }
	alike := func(a, b Way) bool { return kept(a) && math.Abs(course(a)-course(b)) < 3*slice }
	span := func(a, b Way, from, to float64) {
		out = append(out, Arc{Course: [2]float64{course(a), course(b)}, Bow: [2]float64{math.Min(from, to), math.Max(from, to)}})
	}
	// reach goes from a heading that is kept towards another as far as it stays kept, and alike.
	reach := func(in Way, a, b float64) error {
		whole, start := in, a
		for math.Abs(b-a) > edge {
			mid, err := m.Row(wind, (a+b)/2, thrust, h)
			if err != nil {
				return err
			}
			if alike(mid, in) {
				in, a = mid, (a+b)/2
			} else {
				b = (a + b) / 2
			}
		}
		span(whole, in, start, a)
		return nil
	}
	for i := 0; i <= int(math.Round(math.Pi/slice)); i++ {
		from := float64(i) * slice
		w, err := m.Row(wind, from, thrust, h)
		if err != nil {
			return nil, err
		}
		switch {
		case i == 0:
		case kept(w) && alike(was, w):
			span(was, w, from-slice, from)
		default:
			// One is not kept, or the flow jumps between clinging and stalled, which is no run of courses.
			if kept(was) {
				err = reach(was, from-slice, from)
			}
			if kept(w) && err == nil {
				err = reach(w, from, from-slice)
			}
			if err != nil {
				return nil, err
			}
		}
		was = w
	}
	// Dead into the wind or before it she is balanced on a point whatever the helm: no course.
	return slices.DeleteFunc(merged(out), func(a Arc) bool { return a.Bow[1]-a.Bow[0] <= edge }), nil
}

// merged joins arcs whose courses overlap: the same track may be kept on two headings.
func merged(arcs []Arc) []Arc {
	for i := range arcs {
		if a := &arcs[i].Course; a[0] > a[1] {
			a[0], a[1] = a[1], a[0]
		}
	}
	slices.SortFunc(arcs, func(a, b Arc) int { return cmp.Compare(a.Course[0], b.Course[0]) })
	var out []Arc
	for _, a := range arcs {
		if n := len(out) - 1; n >= 0 && a.Course[0] <= out[n].Course[1]+edge {
			out[n].Course[1] = math.Max(out[n].Course[1], a.Course[1])
			out[n].Bow = [2]float64{math.Min(out[n].Bow[0], a.Bow[0]), math.Max(out[n].Bow[1], a.Bow[1])}
			continue
		}
		out = append(out, a)
	}
	return out
}

// course is a way's course without its side.
func course(w Way) float64 { return math.Abs(w.Course()) }

// Keep finds the heading that keeps her on a course, her leeway and what holds her.
//
// In:     wind m/s at 10 m; course, as where the wind comes from off the track, 0 to half a
// turn, on the starboard side; thrust N by speed ahead
// Error:  ErrNotKept when no heading that can be held has that track and makes headway, else as Row
func (m *Model) Keep(wind, want float64, thrust func(float64) float64, h Helm) (Way, error) {
	if err := need("the course off the wind", want, 0, math.Pi+1e-12, "give 0 to half a turn"); err != nil {
		return Way{}, err
	}
	var was Way
	var miss float64
	for i := 0; i <= int(math.Round(math.Pi/slice)); i++ {
		from := float64(i) * slice
		w, err := m.Row(wind, from, thrust, h)
		if err != nil {
			return Way{}, err
		}
		off := course(w) - want
		if off == 0 && w.Held && w.Ahead > 0 {
			return w, nil
		}
		if i > 0 && (off < 0) != (miss < 0) && (w.Held || was.Held) {
			found := w
			_, err := root(from-slice, from, miss, off, 1e-9, func(x float64) (float64, error) {
				w, err := m.Row(wind, x, thrust, h)
				found = w
				return course(w) - want, err
			})
			if err != nil {
				return Way{}, err
			}
			if found.Held && found.Ahead > 0 && math.Abs(course(found)-want) < 1e-3 {
				return found, nil
			}
		}
		if i == int(math.Round(math.Pi/slice)) && math.Abs(off) < 1e-6 && w.Held && w.Ahead > 0 {
			return w, nil // dead downwind
		}
		was, miss = w, off
	}
	return Way{}, fmt.Errorf("%w: wind %.1f m/s from %.0f degrees off the track", ErrNotKept, wind, want*180/math.Pi)
}
