package right

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"thole/internal/hydro"
	"thole/internal/model"
)

// The states that kill are few and far apart: a hatch open at the wrong moment, arriving light,
// ballast drunk, a body loose in the cabin, water on its floor. The matrix asks each with each.

// permeable is the share of a cabin that water can fill: bunks and gear take the rest.
// Common practice, no source (0.95 is what accommodation is taken at in ship practice).
const permeable = 0.95

// slop is the loose water on a cabin's floor that a few minutes' open hatch leaves, m³.
// A choice, no source.
const slop = 0.1

// bodily is the density of a person, kg/m³, for a body that slides.
// Source: about that of fresh water, common knowledge
const bodily = 1000

// Cell is one state of the matrix.
type Cell struct {
	Day     int     `json:"day"`
	Crew    string  `json:"crew"`
	Hatches string  `json:"hatches"` // shut, or the ones that are open: their spaces are full
	Ballast string  `json:"ballast"`
	Water   string  `json:"water"`
	Height  float64 `json:"height_left_m"` // below nothing she stays over somewhere
	At      float64 `json:"at_deg"`
	Verdict string  `json:"verdict"` // comes back, stays over, sinks, or no balance
}

// axis is one thing that may be so or so.
type ballastState struct {
	name  string
	share float64
}

// filled is sea water where fresh was.
const filled = 1.025

var ballasts = []ballastState{{"full", 1}, {"half", 0.5}, {"drunk", 0}, {"refilled with sea water", filled}}

// hatchState is which cabins stand full because their hatches were open.
type hatchState struct {
	name  string
	rooms []int
}

// cell numbers one state to work out.
type cell struct {
	day, cond int
	loose     bool
	hatch     hatchState
	ballast   ballastState
	wet       int // the room with slop in it, -1 for none
}

// matrix works out every state, on all cores.
func (q *ask) matrix(ctx context.Context) ([]Cell, error) {
	todo := q.cells()
	out := make([]Cell, len(todo))
	var runs [][2]int // states that differ by day and ballast alone, each started from the one before
	for i := range todo {
		if i == 0 || !todo[i].like(todo[i-1]) {
			runs = append(runs, [2]int{i, i})
		}
		runs[len(runs)-1][1] = i + 1
	}
	var next atomic.Int64
	var wg sync.WaitGroup
	for range max(1, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for {
				r := int(next.Add(1)) - 1
				if r >= len(runs) {
					return
				}
				var near *hydro.Curve
				for i := runs[r][0]; i < runs[r][1] && ctx.Err() == nil; i++ {
					out[i], near = q.cell(todo[i], near)
				}
			}
		})
	}
	wg.Wait()
	return out, ctx.Err()
}

// like tells whether two states differ by day and ballast alone.
func (k cell) like(o cell) bool {
	return k.cond == o.cond && k.loose == o.loose && k.hatch.name == o.hatch.name && k.wet == o.wet
}

// cells lists the states that the person could meet.
func (q *ask) cells() []cell {
	var days []int
	for i := 0; i <= 5; i++ {
		days = append(days, q.t.Days*i/5)
	}
	days = slices.Compact(days)
	hatches := q.hatchStates()
	bs := ballasts
	if s := q.t.State(0, 0); s.Ballast() == 0 {
		bs = bs[:1]
	}
	cabin := q.bunk()
	waters := []int{-1}
	if cabin >= 0 {
		waters = append(waters, cabin)
	}
	var out []cell
	for c := range q.t.Conditions {
		for _, h := range hatches {
			for _, w := range waters {
				if w >= 0 && slices.Contains(h.rooms, w) {
					continue // it is full already
				}
				for _, b := range bs {
					for _, d := range days {
						out = append(out, cell{day: d, cond: c, hatch: h, ballast: b, wet: w})
					}
				}
			}
		}
	}
	// A crew in the cabin who is not strapped in slides with her.
	if c := q.inCabin(); c >= 0 && cabin >= 0 {
		for _, b := range bs {
			for _, d := range days {
				out = append(out, cell{day: d, cond: c, loose: true, hatch: hatches[0], ballast: b, wet: -1})
			}
		}
	}
	return out
}

// hatchStates are all shut, each cabin's hatch open, and all of them open. What lies under a cabin without a lid of its own fills with it.
func (q *ask) hatchStates() []hatchState {
	out := []hatchState{{name: "shut"}}
	var cabins, all []int
	for _, o := range q.c.Folder.Boat.Openings {
		room := q.room(o.Into)
		if o.NonReturn || room < 0 || q.c.Folder.Boat.Compartments[room].Cabin == "" || slices.Contains(cabins, room) {
			continue
		}
		rooms := append([]int{room}, q.c.Folder.Boat.Below(room)...)
		cabins, all = append(cabins, room), append(all, rooms...)
		out = append(out, hatchState{name: o.Name + " open", rooms: rooms})
		if len(cabins) == 3 {
			break
		}
	}
	if len(cabins) > 1 {
		out = append(out, hatchState{name: "all cabin hatches open", rooms: all})
	}
	return out
}

// room is the compartment that an opening leads into, by its own name or its cabin's; -1 for none.
func (q *ask) room(into string) int {
	for i, c := range q.c.Folder.Boat.Compartments {
		if c.Name == into {
			return i
		}
	}
	for i, c := range q.c.Folder.Boat.Compartments {
		if c.Cabin != "" && c.Cabin == into {
			return i
		}
	}
	return -1
}

// bunk is the largest compartment that has a cabin over it, -1 where there is none.
func (q *ask) bunk() int {
	best := -1
	for i, c := range q.c.Folder.Boat.Compartments {
		if c.Cabin != "" && (best < 0 || q.t.Ship.Rooms[i].Volume > q.t.Ship.Rooms[best].Volume) {
			best = i
		}
	}
	return best
}

// inCabin is the condition in which the whole crew lies within the largest cabin; -1 for none.
func (q *ask) inCabin() int {
	b := q.bunk()
	if b < 0 {
		return -1
	}
	room := &q.c.Folder.Boat.Compartments[b]
	for c := range q.t.Conditions {
		s := q.t.State(0, c)
		inside, any := true, false
		for _, it := range s.Items {
			if it.Crew {
				any = true
				inside = inside && it.At.X > room.From && it.At.X < room.To
			}
		}
		if any && inside {
			return c
		}
	}
	return -1
}

// body is what floats in a state, and what it carries.
func (q *ask) body(k cell) (*hydro.Body, model.State) {
	s := q.t.State(k.day, k.cond)
	s = s.WithBallast(k.ballast.share)
	var flooded []hydro.Flooded
	var loose []hydro.Loose
	for _, r := range k.hatch.rooms {
		flooded = append(flooded, hydro.Flooded{Stack: q.t.Ship.Rooms[r].Stack, Share: permeable})
	}
	if k.wet >= 0 {
		r := &q.t.Ship.Rooms[k.wet]
		loose = append(loose, hydro.Loose{Stack: r.Stack, Volume: math.Min(slop, r.Volume/2), Ratio: 1})
	}
	if k.loose {
		r := &q.t.Ship.Rooms[q.bunk()]
		crew := s.Mass
		s = s.WithoutCrew()
		crew -= s.Mass
		loose = append(loose, hydro.Loose{Stack: r.Stack, Volume: math.Min(crew/bodily, r.Volume/2), Ratio: bodily / q.t.Sea.Density})
	}
	return q.t.Ship.Body.With(flooded, loose), s
}

func (q *ask) cell(k cell, near *hydro.Curve) (Cell, *hydro.Curve) {
	out := Cell{Day: k.day, Crew: q.t.Conditions[k.cond].Name, Hatches: k.hatch.name, Ballast: k.ballast.name, Water: "dry"}
	if k.loose {
		out.Crew += ", not strapped"
	}
	if k.wet >= 0 {
		out.Water = fmt.Sprintf("%.0f L loose in %s", 1000*slop, q.c.Folder.Boat.Compartments[k.wet].Name)
	}
	body, s := q.body(k)
	h, at, near, err := height(body, &s, q.t.Sea, near)
	out.Height, out.At = h, at/deg
	switch {
	case err != nil:
		out.Height, out.At, out.Verdict = -1, 0, "sinks or cannot be balanced"
	case h > 0:
		out.Verdict = "comes back"
	default:
		out.Verdict = "stays over"
	}
	return out, near
}

// height is the height of gravity left to a body with a load; a list is put on afterwards. near is the curve of a
// like state, or nil.
func height(b *hydro.Body, s *model.State, sea hydro.Sea, near *hydro.Curve) (left, at float64, c *hydro.Curve, err error) {
	l := hydro.Load{Mass: s.Mass, G: s.G}
	y := l.G.Y
	l.G.Y = 0
	if c, err = hydro.NewCurveNear(b, l, sea, near, nil); err != nil {
		return 0, 0, nil, err
	}
	if !c.Even { // what stands in her lists her too: work it out as it is
		l.G.Y = y
		if c, err = hydro.NewCurveNear(b, l, sea, near, nil); err != nil {
			return 0, 0, nil, err
		}
		y = 0
	}
	left, at = c.HeadroomOffCentre(y)
	return left, at, c, nil
}

// Ballast is the least ballast with which she still comes back up, on a day.
type Ballast struct {
	Day   int     `json:"day"`
	Least float64 `json:"least_kg"`
	Has   float64 `json:"has_kg"`
	Crew  string  `json:"crew"`
	Never bool    `json:"never,omitempty"` // not even with all of it
}

// leastBallast halves the ballast, on a few days, in the worst crew place.
func (q *ask) leastBallast() []Ballast {
	var out []Ballast
	if s := q.t.State(0, 0); s.Ballast() == 0 {
		return out
	}
	for _, d := range slices.Compact([]int{0, q.t.Days / 2, q.t.Days}) {
		worst := Ballast{Day: d, Least: -1}
		for c := range q.t.Conditions {
			s := q.t.State(d, c)
			all := s.Ballast()
			left := func(share float64) float64 {
				w := s.WithBallast(share)
				h, _, _, err := height(q.t.Ship.Body, &w, q.t.Sea, nil)
				if err != nil {
					return -1
				}
				return h
			}
			need := all
			never := left(1) <= 0
			if !never {
				lo, hi := 0.0, 1.0
				if left(0) > 0 {
					hi = 0
				}
				for range 9 {
					if hi == 0 {
						break
					}
					if mid := (lo + hi) / 2; left(mid) > 0 {
						hi = mid
					} else {
						lo = mid
					}
				}
				need = hi * all
			}
			if need > worst.Least || never {
				worst.Least, worst.Has, worst.Crew, worst.Never = need, all, q.t.Conditions[c].Name, never
			}
		}
		out = append(out, worst)
	}
	return out
}

// mostWater is the most loose water in the largest cabin with which she still comes back up on the last
// day, in the worst crew place, m³; negative where there is no cabin.
func (q *ask) mostWater() float64 {
	room := q.bunk()
	if room < 0 {
		return -1
	}
	least := math.Inf(1)
	for c := range q.t.Conditions {
		s := q.t.State(q.t.Days, c)
		left := func(v float64) float64 {
			b := q.t.Ship.Body.With(nil, []hydro.Loose{{Stack: q.t.Ship.Rooms[room].Stack, Volume: v, Ratio: 1}})
			h, _, _, err := height(b, &s, q.t.Sea, nil)
			if err != nil {
				return -1
			}
			return h
		}
		lo, hi := 0.0, 0.9*q.t.Ship.Rooms[room].Volume
		if left(0) <= 0 {
			return 0
		}
		for range 9 {
			if mid := (lo + hi) / 2; left(mid) > 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		least = math.Min(least, lo)
	}
	return least
}
