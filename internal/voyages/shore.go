package voyages

import "math"

// mostAwake is how long she is rowed round the clock close to land, h: modelling choice, two days without sleep to speak of.
const mostAwake = 48

// calm is the wind that keeps nobody in port, m/s: force 2. Modelling choice.
const calm = 3.3

// waiting marks the draws of the days in port, so that those of the passage stay the same.
const waiting = 1 << 30

// wait lets the weather of the start go on until the wind will blow from astern, or hardly, for two days, and the days with it.
//
// Whether it will is known: such a forecast is there for the asking, and holds well for so long. When the days that she waits are over,
// a fair wind on the day will do; in the end she goes in any.
func (r *Runner) wait(st *state) {
	for day := range mostWait {
		if day >= r.s.Rules.Wait && (r.s.Rules.Wait == 0 || r.fair(*st, 0)) || r.fair(*st, foretold) {
			return
		}
		for k := range r.perDay {
			r.winds.Next(&st.wind, 0, st.d, uint32(waiting+day*r.perDay+k))
		}
		st.when += 86400
	}
}

// abaft is the cosine of the angle off dead astern of the way out within which a wind is fair to leave with: four points. Modelling choice.
const abaft = 0.7

// foretold is for how many days a wind must be fair before she leaves, and mostWait how many days she stays in port at the very most:
// modelling choices.
const (
	foretold = 2
	mostWait = 60
)

// fair says that the wind will blow from within four points of astern, not too hard to row in, or hardly at all, on leaving and for some days, day by day.
func (r *Runner) fair(st state, days int) bool {
	lat, lon := st.at.lat(), st.at.lon()
	east, north := st.at.axes()
	e, n := st.wanted(st.at, east, north)
	for step := 0; ; {
		u, v, speed := r.s.Climate.Wind(lat, lon, st.when)
		we, wn := r.winds.Wind(st.wind, u, v, speed)
		if w := math.Sqrt(we*we + wn*wn); w >= r.s.Rules.Storm || w > calm && we*e+wn*n < abaft*w {
			return false
		}
		if step == days*r.perDay {
			return true
		}
		for range r.perDay {
			r.winds.Next(&st.wind, 0, st.d, uint32(step+2)) // as they will be drawn on the way
			step++
		}
		st.when += 86400
	}
}

// The way to a point is tried against the land in steps as long as the land is known to be clear, and not shorter than these metres.
const closeLook = 300.0

// sees says that the straight way from a place to a point of the route, to where it counts as passed, is clear of land.
func (r *Runner) sees(at vector, point int) bool {
	if r.s.Land == nil {
		return true
	}
	to := r.points[point]
	for at.dot(to) < r.within[point] {
		c := r.s.Land.Clear(at.lat(), at.lon())
		if !(c > 0) {
			return false
		}
		left := at.distance(to)
		step := math.Min(math.Max(c, closeLook), left) / left
		at = at.times(1 - step).plus(to.times(step)).unit() // along the great circle; the step's length does not matter to a metre
	}
	return true
}

// What keeps her off a shore while she is rowed close to land (Rules.Close). Modelling choices: how far ahead she looks, m; how near her
// way may come to land; and by how much she turns off at a time, and at the most.
const (
	lookout  = 25e3
	seaRoom  = 3e3
	turnStep = 15 * math.Pi / 180
	turns    = 8
)

// sheer is the angle off the way to the point, to starboard, by which she clears the land ahead: the least that does, to the side to
// which she has sheered off already where both do; nothing where none does.
func (r *Runner) sheer(st *state, clear float64) float64 {
	east, north := st.at.axes()
	was := st.sheer
	st.sheer = 0
	e, n := st.wanted(st.at, east, north)
	far := math.Min(lookout, st.at.distance(r.points[st.leg])-math.Acos(math.Min(1, r.within[st.leg]))*Radius)
	room := math.Min(seaRoom, 0.8*clear) // closer already: not much closer still
	side := 1.0
	if was < 0 {
		side = -1
	}
	for k := range 2*turns + 1 {
		a := side * turnStep * float64((k+1)/2)
		if k%2 == 0 {
			a = -a
		}
		s, c := math.Sincos(a)
		ae, an := e*c+n*s, n*c-e*s
		if r.open(st.at, east.times(ae).plus(north.times(an)), far, room) {
			return a
		}
	}
	return 0
}

// open says that a way of some length keeps so far from land.
func (r *Runner) open(at, way vector, far, room float64) bool {
	for gone := 0.0; gone < far; {
		p := at.onward(way.times(gone))
		c := r.s.Land.Clear(p.lat(), p.lon())
		if c < room {
			return false
		}
		gone += math.Max(c-room, closeLook)
	}
	return true
}
