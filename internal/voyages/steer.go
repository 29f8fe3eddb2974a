package voyages

import "math"

// wanted is the direction of the next point at a place, or the one that clears the land: east and north, of length 1.
func (st *state) wanted(at, e, n vector) (float64, float64) {
	q := st.r.points[st.leg]
	a, b := q.dot(e), q.dot(n)
	l := math.Sqrt(a*a + b*b)
	if l < 1e-15 {
		return 0, 1
	}
	if st.sheer == 0 {
		return a / l, b / l
	}
	sin, cos := math.Sincos(st.sheer)
	return (a*cos + b*sin) / l, (b*cos - a*sin) / l
}

// off is the angle of where the wind comes from off a direction, to starboard positive.
func (st *state) off(e, n float64) float64 {
	return math.Atan2(-st.wE*n+st.wN*e, -st.wE*e-st.wN*n)
}

// decide settles what is done in a step: rowing or not, and how she lies when not; and gives her way
// over the ground at its start, m/s.
func (st *state) decide(ce, cn float64) vector {
	rules := &st.r.s.Rules
	st.kept = true
	st.lieE, st.lieN = 0, 0
	east, north := st.at.axes()
	e, n := st.wanted(st.at, east, north)
	st.wantE, st.wantN = e, n
	ease := 1.0
	if st.hard {
		ease = rules.Ease
	}
	st.hard = st.w >= rules.Storm*ease ||
		rules.Against > 0 && !st.near && st.w >= rules.Against*ease && math.Abs(st.off(e, n)) <= rules.Ahead
	if st.hard {
		st.share, st.lie = 0, Anchored
		st.lieE, st.lieN = st.lying(Anchored)
		return st.ground(east, north, ce, cn, 0, 0)
	}
	st.lie = Drifting
	var re, rn float64
	if st.share > 0 {
		ae, an := st.allowed(ce, cn)
		re, rn = st.rowed(e, n, ae, an)
	}
	if st.share == 1 && st.kept {
		return st.ground(east, north, ce, cn, re, rn)
	}
	st.lieE, st.lieN = st.lying(Drifting)
	back := st.lieE*e + st.lieN*n
	if rules.Idle && back < 0 {
		ae, an := st.lying(Anchored)
		if good := ae*e + an*n; good > back {
			st.lie, st.lieE, st.lieN, back = Anchored, ae, an, good
		}
	}
	if !st.kept && re*e+rn*n <= back {
		st.share = 0 // she would lose less by lying than by what course she can keep
	}
	return st.ground(east, north, ce, cn, re, rn)
}

// sameWay is the cosine of the turn within a step up to which the point's bearing at its midst is
// followed (modelling choice: it matters within a few steps' way of a point alone).
const sameWay = 0.5

// onward is her way over the ground at a place in the midst of a step, m/s, and her speed through
// the water; what was decided at the step's start holds.
func (st *state) onward(at vector, ce, cn float64) (vector, float64) {
	east, north := at.axes()
	var re, rn float64
	if st.share > 0 {
		e, n := st.wanted(at, east, north)
		if e*st.wantE+n*st.wantN < sameWay {
			e, n = st.wantE, st.wantN // close by or past the point: finish the step as begun
		}
		ae, an := st.allowed(ce, cn)
		re, rn = st.rowed(e, n, ae, an)
	}
	v := st.ground(east, north, ce, cn, re, rn)
	return v, st.water
}

// allowed is the current that she steers against.
func (st *state) allowed(ce, cn float64) (float64, float64) {
	if st.r.s.Rules.Allow {
		return ce, cn
	}
	return 0, 0
}

// ground puts together what she does while rowed and while not, and the current.
func (st *state) ground(east, north vector, ce, cn, re, rn float64) vector {
	k := st.share
	ve, vn := re*k+st.lieE*(1-k), rn*k+st.lieN*(1-k)
	st.water = math.Sqrt(ve*ve + vn*vn)
	ve, vn = ve+ce, vn+cn
	return vector{east.x*ve + north.x*vn, east.y*ve + north.y*vn, north.z * vn}
}

// lying is her drift, m/s east and north.
func (st *state) lying(m Mode) (float64, float64) {
	if st.w == 0 {
		return 0, 0
	}
	var down, across float64
	if m == Anchored {
		down, across = st.r.s.Boat.Anchored(st.w, st.load)
	} else {
		down, across = st.r.s.Boat.Adrift(st.w, st.load)
	}
	le, ln := st.wE/st.w, st.wN/st.w
	across *= st.side
	return down*le + across*ln, down*ln - across*le
}

// rowed is how she goes when rowed for a direction over the ground, m/s east and north through the
// water, with a current to allow for.
//
// Source: triangle of velocities: the water's way across the track is the current's, turned
// about, with the speed as last rowed. Where the current across is more than her
// speed she cannot hold the track, and points so as to make good the nearest.
func (st *state) rowed(e, n, ce, cn float64) (float64, float64) {
	we, wn := e, n
	if ce != 0 || cn != 0 {
		across := ce*n - cn*e // to the right of the track
		if st.speed > math.Abs(across) {
			s := -across / st.speed
			c := math.Sqrt(1 - s*s)
			we, wn = c*e+s*n, c*n-s*e
		} else if rate := math.Hypot(ce, cn); across != 0 {
			// Square to what she makes good, on the side of the track: abaft square to the current by the angle whose sine is the ratio.
			s := max(0, min(1, st.speed/rate))
			c := math.Sqrt(1 - s*s)
			de, dn := ce/rate, cn/rate
			side := math.Copysign(1, across) // the track lies to the left of the current's set
			we, wn = -side*dn*c-de*s, side*de*c-dn*s
		}
	}
	off := 0.0
	if st.w > 0 {
		off = st.off(we, wn)
	}
	made, speed, kept := st.r.s.Boat.Rowed(st.w, off, st.load)
	st.kept = kept
	speed *= st.pace
	st.speed = speed
	if off < 0 {
		st.side = -1
	} else {
		st.side = 1
	}
	if st.w > 0 && made != off {
		fe, fn := -st.wE/st.w, -st.wN/st.w
		s, c := math.Sincos(made)
		we, wn = fe*c-fn*s, fn*c+fe*s
	}
	return we * speed, wn * speed
}
