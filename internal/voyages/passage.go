package voyages

import (
	"fmt"
	"math"

	"thole/internal/weather"
)

// End is how a passage ends.
type End uint8

// The ends.
const (
	Arrived   End = iota // within reach of the landfall
	Missed               // past it
	Ashore               // on other land
	OutOfTime            // still at sea
	ends
)

func (e End) String() string {
	return [...]string{"arrived", "missed", "ashore", "out of time"}[e]
}

// Mode is what is done with her in a step.
type Mode uint8

// The modes.
const (
	Rowing   Mode = iota
	Drifting      // left to herself
	Anchored      // to the sea anchor
)

// Passage is what is kept of one: small, so that many may be held.
type Passage struct {
	Number                    uint64
	End                       End
	Days                      float64 // to its end
	Last                      Place
	Gone, Water               float64 // m over the ground, and through the water
	Rowed, Drifted, Lay, Gale float64 // hours
	Stormy                    float64 // days within a season of tropical storms
	Wind, Sea                 float64 // m/s and m, the most met
	Near                      float64 // m, the least that land was known to be clear, start and landfall apart; 0 if never asked
}

// Moment is one step of a passage, for a replay: what held over it, and where she was at its start.
type Moment struct {
	Day                    float64
	Where                  Place
	East, North            float64 // wind, m/s
	Mode                   Mode    // what was mostly done
	Share                  float64 // of the step, rowed
	Sea, Load              float64 // m, kg
	TrackEast, TrackNorth  float64 // over the ground, m/s
	CurrentEast, CurrNorth float64
	Leg                    int  // the point she makes for
	Kept                   bool // the course wanted is the course made
}

// watcher is told of what happens on the way. A nil one costs nothing.
type watcher interface {
	midnight(day int, at vector, left float64)
	passed(point int, days float64)
	moment(Moment)
}

// state is one passage under way.
type state struct {
	r            *Runner
	d            weather.Draws
	at           vector
	when         float64
	leg          int
	wind         weather.State
	wE, wN, w    float64 // wind of this step
	load, pace   float64
	share        float64
	lie          Mode
	side         float64 // the side that the wind was last on when rowed, +1 starboard
	speed        float64 // as last rowed, for allowing for the set
	lat, lon     float64
	kept         bool
	hard         bool    // the wind has the sea anchor out
	near         bool    // land is close
	sheer        float64 // the turn that clears it, to starboard
	wantE, wantN float64 // the direction of the next point at the step's start
	lieE, lieN   float64 // her drift when not rowed, through the water
	water        float64 // her speed through it
	offE, offN   float64 // what the current is off its mean
}

// Passage makes one passage, by its number.
//
// Error:  where climate, current or boat give what is not a number
// Good to: the same to the last bit each time; order two in the step (TestOrder)
func (r *Runner) Passage(number uint64) (Passage, error) { return r.passage(number, nil, false) }

func (r *Runner) passage(number uint64, tell watcher, moments bool) (Passage, error) {
	s := &r.s
	st := state{r: r, d: weather.Draws{Seed: s.Seed, Passage: number}, at: r.start, when: s.Depart, side: 1, lie: Drifting}
	p := Passage{Number: number, End: OutOfTime, Near: math.Inf(1)}
	st.wind = r.winds.Begin(st.d)
	z, _ := st.d.Normals(0, weather.StreamBody)
	pace := max(0, 1+s.Wear.Pace*max(-3, min(3, z)))
	sick, _ := st.d.Uniforms(1, weather.StreamBody)
	sick = min(1, 2*s.Wear.Sick*sick)
	// Of the current's error, each part is the length's over root two.
	errE, errN := st.d.Normals(2, weather.StreamBody)
	doubt := 0.0
	var sea weather.Sea
	hours := s.Step / 3600
	var up, down float64
	idle := false
	r.wait(&st)
	left, awake := st.when, 0.0
	clear, off := 0.0, false // way that she may go before land is asked again; out of the start's offing
	total := len(r.points)
	offing := 2 * math.Sin(min(s.Offing/Radius, math.Pi)/2)
	for k := range r.steps {
		day := float64(k) / float64(r.perDay)
		st.lat, st.lon = st.at.lat(), st.at.lon()
		if k%r.perDay == 0 {
			n := k / r.perDay
			if tell != nil {
				tell.midnight(n, st.at, r.left(st.at, st.leg))
			}
			up, down = Sun(st.lat, st.when+43200)
			u, _ := st.d.Uniforms(uint32(n), weather.StreamDay)
			idle = u < s.Wear.Lost || s.Wear.Every > 0 && (n+1)%s.Wear.Every == 0
			if s.Doubts != nil {
				doubt = s.Doubts.Error(st.lat, st.lon, st.when) / math.Sqrt2
			}
			if s.Seasons != nil && s.Seasons.Stormy(st.lat, st.lon, st.when) {
				p.Stormy++
			}
		}
		// The wind of the step, and the sea that it raises.
		u, v, speed := s.Climate.Wind(st.lat, st.lon, st.when)
		st.wE, st.wN = r.winds.Wind(st.wind, u, v, speed)
		st.w = math.Sqrt(st.wE*st.wE + st.wN*st.wN)
		sea.Next(st.w, s.Step)
		p.Wind, p.Sea = max(p.Wind, st.w), max(p.Sea, sea.Height)
		if st.w >= weather.Gale {
			p.Gale += hours
		}
		// What she weighs, how foul she is, and how much of the step is rowed.
		if days := s.Wear.Days; len(days) > 0 {
			d := &days[min(int(day), len(days)-1)]
			st.load, st.pace = d.Load, pace*(1-d.Foul)
		} else {
			st.load = max(s.Wear.Least, s.Wear.Load-s.Wear.Eaten*day)
			st.pace = pace * (1 - min(s.Wear.Foulest, s.Wear.Fouling*day/30))
		}
		st.share = 0
		if !idle {
			local := st.when/3600 + st.lon*12/math.Pi
			local -= 24 * math.Floor(local/24)
			st.share = s.Rules.Habit.share(local, hours, up, down)
			if day < s.Wear.SickDays {
				st.share *= 1 - sick*(1-day/s.Wear.SickDays)
			}
		}
		if s.Rules.Close > 0 && s.Land != nil {
			if clear < s.Rules.Close {
				clear = s.Land.Clear(st.lat, st.lon)
			}
			if st.near = clear < s.Rules.Close; !st.near {
				awake = 0
			} else if awake < mostAwake {
				awake += hours
				st.share = 1 - s.Rules.Habit.Breaks
			}
			if st.near && clear > 0 {
				st.sheer = r.sheer(&st, clear)
			} else {
				st.sheer = 0
			}
		}
		var ce, cn float64
		if s.Currents != nil {
			ce, cn = s.Currents.Current(st.lat, st.lon, st.when)
		}
		de, dn := doubt*errE, doubt*errN
		if s.Dragged != nil {
			e, n := s.Dragged.Drag(st.lat, st.wE-u, st.wN-v)
			de, dn = de+e, dn+n
		}
		st.offE, st.offN = de, dn
		ce, cn = ce+de, cn+dn
		v1 := st.decide(ce, cn)
		mid := st.at.onward(v1.times(s.Step / 2))
		if s.Currents != nil {
			// Half a step away a plane is as good as the sphere.
			c := math.Sqrt(st.at.x*st.at.x + st.at.y*st.at.y)
			ce, cn = s.Currents.Current(st.lat+v1.z*s.Step/(2*Radius*c),
				st.lon+(v1.y*st.at.x-v1.x*st.at.y)/c*s.Step/(2*Radius*c), st.when+s.Step/2)
			ce, cn = ce+de, cn+dn
		}
		v2, water := st.onward(mid, ce, cn)
		next := st.at.onward(v2.times(s.Step))
		way := math.Sqrt(v2.dot(v2)) * s.Step
		if bad := way + st.w; math.IsNaN(bad) || math.IsInf(bad, 0) {
			return p, fmt.Errorf("voyages: the wind, the current or the boat's speed at latitude %.2f, longitude %.2f degrees, day %.1f is not a number (passage %d); mend what gives it there",
				st.lat*180/math.Pi, st.lon*180/math.Pi, day, number)
		}
		if moments {
			tell.moment(st.moment(day, v2, sea.Height))
		}
		// Where the step ends: whole, or at the landfall.
		done, part := r.reach(&st, next, tell, day)
		p.Gone += way * part
		p.Water += water * s.Step * part
		p.Rowed += hours * st.share * part
		if st.lie == Anchored {
			p.Lay += hours * (1 - st.share) * part
		} else {
			p.Drifted += hours * (1 - st.share) * part
		}
		if done {
			st.at = st.at.onward(v2.times(s.Step * part))
			p.End, p.Days = Arrived, day+part*hours/24
			break
		}
		st.at = next
		st.when = left + float64(k+1)*s.Step
		p.Days = float64(k+1) / float64(r.perDay)
		if st.leg == total-1 && st.at.dot(r.ahead[total-1]) > r.past {
			p.End = Missed
			break
		}
		if s.Land != nil {
			if !off && st.at.chord(r.start) >= offing {
				off, clear = true, 0
			}
			if clear -= way; off && clear <= 0 {
				c := s.Land.Clear(st.at.lat(), st.at.lon())
				if !(c > 0) {
					p.End, p.Near = Ashore, 0
					break
				}
				if math.Acos(min(1, st.at.dot(r.points[total-1])))*Radius > 2*c {
					p.Near = min(p.Near, c)
				}
				clear = c
			}
		}
		r.winds.Next(&st.wind, way, st.d, uint32(k+2))
	}
	if math.IsInf(p.Near, 1) {
		p.Near = 0
	}
	p.Last = st.at.place()
	return p, nil
}

// reach moves on to the next point when one is passed, and says whether she arrived and at what
// part of the step; 1 if she did not.
func (r *Runner) reach(st *state, next vector, tell watcher, day float64) (bool, float64) {
	for st.leg < len(r.points) {
		in, part := r.enter(st.at, next, st.leg)
		last := st.leg == len(r.points)-1
		abeam := next.dot(r.ahead[st.leg]) > 0
		if !in && (last || !abeam) || in && !last && !abeam && !r.sees(next, st.leg+1) {
			return false, 1
		}
		if !in {
			part = 1
		}
		if tell != nil {
			tell.passed(st.leg, day+part/float64(r.perDay))
		}
		if last {
			return true, part
		}
		st.leg++
	}
	return false, 1
}

// enter says whether a step comes within reach of a point, at its nearest, and where it does.
func (r *Runner) enter(a, b vector, point int) (bool, float64) {
	c, d := r.points[point], b.minus(a)
	l := d.dot(d)
	reach := 2 - 2*r.within[point] // the chord squared
	f := a.minus(c)
	if f.dot(f) <= reach {
		return true, 0
	}
	if l == 0 {
		return false, 0
	}
	// |f + t d|2 = reach; the first root.
	h, k := f.dot(d), f.dot(f)-reach
	disc := h*h - l*k
	if disc < 0 {
		return false, 0
	}
	t := (-h - math.Sqrt(disc)) / l
	return t >= 0 && t <= 1, t
}

// left is the way still to go by the route, m.
func (r *Runner) left(at vector, leg int) float64 {
	sum := 0.0
	for i := leg; i < len(r.points); i++ {
		sum += at.distance(r.points[i])
		at = r.points[i]
	}
	return sum
}

// moment is the step for a replay.
func (st *state) moment(day float64, ground vector, sea float64) Moment {
	e, n := st.at.axes()
	m := Moment{Day: day, Where: Place{st.lat, st.lon}, East: st.wE, North: st.wN, Mode: st.lie, Share: st.share, Sea: sea, Load: st.load,
		TrackEast: ground.dot(e), TrackNorth: ground.dot(n), Leg: st.leg, Kept: st.kept}
	if st.share > 0.5 {
		m.Mode = Rowing
	}
	if c := st.r.s.Currents; c != nil {
		m.CurrentEast, m.CurrNorth = c.Current(st.lat, st.lon, st.when)
	}
	m.CurrentEast, m.CurrNorth = m.CurrentEast+st.offE, m.CurrNorth+st.offN
	return m
}
