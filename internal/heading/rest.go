package heading

import (
	"cmp"
	"fmt"
	"math"
)

// Lie is how she moves with the wind at an angle, the bow held there.
type Lie struct {
	From     float64 // where the wind comes from, off the bow, radians
	Ahead    float64 // speed through the water, m/s
	Side     float64 // to starboard, m/s
	Moment   float64 // left over, Nm, bow to starboard
	Residual float64 // of the two forces, as a share of the wind's and the oars'
}

// Speed is through the water, m/s.
func (l Lie) Speed() float64 { return math.Hypot(l.Ahead, l.Side) }

// Leeway is the track off the bow, to starboard positive, radians.
func (l Lie) Leeway() float64 { return math.Atan2(l.Side, l.Ahead) }

// Course is where the wind comes from, off the track: 0 is dead to windward, half a turn
// dead to leeward.
func (l Lie) Course() float64 { return wrap(l.From - l.Leeway()) }

// Divergence is the track off dead downwind, to starboard (clockwise) positive, radians.
func (l Lie) Divergence() float64 { return wrap(l.Leeway() - l.From - math.Pi) }

// tolerance is the share of the wind's and oars' force to which a steady state is solved.
const tolerance = 1e-10

// Slide finds the speeds at which she neither speeds up nor slows down with the bow held at
// an angle to the wind.
//
// In:     wind in m/s at 10 m; from where, off the bow; near, a like state to start from, or nil
// Error:  ErrInput, ErrUnconverged
// Good to: a residual of 1e-10 of the driving forces, 1e-6 where they have a corner
// Source: Newton's method with a pseudo-time step that grows as the residual falls (switched
// evolution relaxation, Mulder and van Leer, J. Comput. Phys. 59 (1985))
func (m *Model) Slide(wind, from float64, c Control, near *Lie) (Lie, error) {
	if err := cmp.Or(need("the wind", wind, 0, 150, "give 0 to 150 m/s"),
		need("the wind's angle", from, -1e6, 1e6, "give radians"),
		need("the rudder's angle", c.Rudder, -math.Pi/2, math.Pi/2, "give radians, a quarter turn at most"),
		need("the unevenness of the oars", c.Uneven, -1, 1, "give -1 to 1")); err != nil {
		return Lie{}, err
	}
	s, k := math.Sincos(from)
	wa, ws := -wind*k, -wind*s
	fx, fy, _ := m.forces(wa, ws, 0, 0, &c)
	scale := math.Hypot(fx, fy)
	if math.IsNaN(scale) || math.IsInf(scale, 0) {
		return Lie{}, fmt.Errorf("%w: the forces at rest are not numbers; check resistance and thrust", ErrInput)
	}
	l := Lie{From: wrap(from)}
	if scale < 1e-12 {
		return l, nil
	}
	guess := math.Sqrt(scale / (m.halfWater * m.extreme))
	if near != nil && near.Speed() > 1e-3*guess {
		l.Ahead, l.Side = near.Ahead, near.Side
		if l, ok := m.relax(l, wa, ws, scale, 100, &c); ok {
			return l, nil
		}
	}
	l.Ahead, l.Side = guess*fx/scale, guess*fy/scale
	if l, ok := m.relax(l, wa, ws, scale, 10, &c); ok {
		return l, nil
	}
	if l, ok := m.bracket(l, wa, ws, scale, &c); ok {
		return l, nil
	}
	return l, fmt.Errorf("%w: wind %.1f m/s from %.0f degrees off the bow", ErrUnconverged, wind, from*180/math.Pi)
}

// relax runs the pseudo-time Newton iteration from a state; step is the first time step in
// units of the speed's own time of decay.
func (m *Model) relax(l Lie, wa, ws, scale, step float64, c *Control) (Lie, bool) {
	u, v := l.Ahead, l.Side
	x, y, n := m.forces(wa, ws, u, v, c)
	r := math.Hypot(x, y)
	for range 60 {
		if r <= tolerance*scale {
			l.Ahead, l.Side, l.Moment, l.Residual = u, v, n, r/scale
			return l, true
		}
		h := 1e-6*math.Hypot(u, v) + 1e-9
		xu, yu, _ := m.forces(wa, ws, u+h, v, c)
		xv, yv, _ := m.forces(wa, ws, u, v+h, c)
		a, b := (xu-x)/h, (xv-x)/h
		d, e := (yu-y)/h, (yv-y)/h
		inertia := (math.Abs(a) + math.Abs(e) + 1e-9*scale) / step
		a, e = a-inertia, e-inertia
		det := a*e - b*d
		if det == 0 || math.IsNaN(det) {
			return l, false
		}
		du, dv := (-x*e+y*b)/det, (-y*a+x*d)/det
		// No stride longer than a few times the speed: the forces are square laws.
		if far, most := math.Hypot(du, dv), 2*math.Hypot(u, v)+1e-3; far > most {
			du, dv = du*most/far, dv*most/far
		}
		u, v = u+du, v+dv
		was := r
		x, y, n = m.forces(wa, ws, u, v, c)
		if r = math.Hypot(x, y); math.IsNaN(r) {
			return l, false
		}
		step = clamp(step*clamp(was/r, 0.3, 4), 1e-3, 1e12)
	}
	return l, false
}

// bracket finds the state by halving, where Newton's method runs round a corner of the
// thrust or the stall: the sideways speed that balances each speed ahead, and of those the one at
// which the forces ahead change sign.
func (m *Model) bracket(l Lie, wa, ws, scale float64, c *Control) (Lie, bool) {
	most := 10 * (1 + math.Sqrt(scale/(m.halfWater*m.extreme)) + math.Hypot(wa, ws))
	var v, x, y, n float64
	at := func(u float64) float64 {
		lo, hi := -most, most
		for range 80 {
			v = (lo + hi) / 2
			if x, y, n = m.forces(wa, ws, u, v, c); y > 0 {
				lo = v
			} else {
				hi = v
			}
		}
		return x
	}
	lo, hi := -most, most
	for range 80 {
		l.Ahead = (lo + hi) / 2
		if at(l.Ahead) > 0 {
			lo = l.Ahead
		} else {
			hi = l.Ahead
		}
	}
	l.Side, l.Moment, l.Residual = v, n, math.Hypot(x, y)/scale
	return l, l.Residual < corner
}

// corner is the residual, as a share of the driving forces, with which a state found by
// halving is taken.
const corner = 1e-6

// Rest is an angle at which she lies.
type Rest struct {
	Lie
	// Stable says that a small turn off it makes a moment that turns her back. That is judged
	// for slow turning; whether she swings to and fro about it is not.
	Stable bool
}

// grain is the number of angles looked at round the compass.
const grain = 144

// Rests are all angles to the wind at which the moments cancel, from -180 to 180 degrees,
// rudder and oars held as they are: the stable ones are where she lies if left alone.
//
// In:     wind in m/s at 10 m, above 0
// Out:    as many stable as unstable ones
// Error:  ErrInput, ErrUnconverged
// Good to: 1e-9 radians between angles that differ by more than 2.5 degrees
func (m *Model) Rests(wind float64, c Control) ([]Rest, error) {
	if err := need("the wind", wind, 1e-3, 150, "give more than 0, at most 150 m/s"); err != nil {
		return nil, err
	}
	// The grid stands half a step off dead ahead and astern, where the moment is nothing by symmetry.
	angle := func(i int) float64 { return (float64(i)+0.5)*2*math.Pi/grain - math.Pi }
	var ring [grain + 1]Lie
	for i := range grain {
		var near *Lie
		if i > 0 {
			near = &ring[i-1]
		}
		l, err := m.Slide(wind, angle(i), c, near)
		if err != nil {
			return nil, err
		}
		ring[i] = l
	}
	ring[grain] = ring[0]
	var out []Rest
	for i := range grain {
		a, b := ring[i], ring[i+1]
		if (a.Moment < 0) == (b.Moment < 0) {
			continue
		}
		at, to := angle(i), angle(i+1)
		l, err := m.zero(wind, at, to, a, b, c)
		if err != nil {
			return nil, err
		}
		// Turning the bow to starboard lessens From: a moment that grows with From turns her back.
		out = append(out, Rest{Lie: l, Stable: b.Moment > a.Moment})
	}
	return out, nil
}

// zero finds the angle between two at which the moment is nothing.
func (m *Model) zero(wind, at, to float64, a, b Lie, c Control) (Lie, error) {
	near := a
	_, err := root(at, to, a.Moment, b.Moment, 1e-10, func(x float64) (float64, error) {
		l, err := m.Slide(wind, x, c, &near)
		near = l
		return l.Moment, err
	})
	return near, err
}

// root finds where a function that changes sign between two places is nothing, by false
// position with halved weights (Illinois) and by halving when that is slow; the function is called last
// at the root.
func root(a, b, fa, fb, tol float64, f func(float64) (float64, error)) (float64, error) {
	x := a
	last := 0
	for i := range 200 {
		x = (a*fb - b*fa) / (fb - fa)
		if i%4 == 3 || !(x > math.Min(a, b) && x < math.Max(a, b)) {
			x = (a + b) / 2
		}
		y, err := f(x)
		if err != nil {
			return x, err
		}
		if y == 0 || math.Abs(b-a) < tol {
			return x, nil
		}
		if (y < 0) == (fa < 0) {
			a, fa = x, y
			if last == -1 {
				fb /= 2
			}
			last = -1
		} else {
			b, fb = x, y
			if last == 1 {
				fa /= 2
			}
			last = 1
		}
	}
	return x, nil
}
