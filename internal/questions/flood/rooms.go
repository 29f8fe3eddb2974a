package flood

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/afloat"
	"thole/internal/cuts"
	"thole/internal/hydro"
	"thole/internal/model"
)

// goods is the density at which stores displace water, kg/m³: that of fresh water, so that what is
// lighter, as most food in bags is, keeps more out than is counted. Common practice, no source.
const goods = 1000

// leastShare keeps a space that is written as packed solid from keeping all water out.
const leastShare = 0.05

// room is a compartment as it floods.
type room struct {
	index  int
	name   string // with its number, as written on the locker
	stack  *cuts.Stack
	volume float64
	centre r3.Vec
}

func roomsOf(t *afloat.Trip) []room {
	var out []room
	for i, r := range t.Ship.Rooms {
		c := &t.Folder.Boat.Compartments[i]
		name := c.Name
		if c.Number > 0 {
			name = fmt.Sprintf("%d %s", c.Number, c.Name)
		}
		out = append(out, room{index: i, name: name, stack: r.Stack, volume: r.Volume, centre: r.Centre})
	}
	return out
}

// passage is where water passes between a cabin and a room under it that has no lid of its own: anywhere along the room's top.
type passage struct {
	cabin, below int
	rim          []r3.Vec
}

// passages are those of all rooms.
func passages(t *afloat.Trip) []passage {
	b := &t.Folder.Boat
	var out []passage
	for i := range b.Compartments {
		for _, k := range b.Below(i) {
			lo, hi := t.Ship.Rooms[k].Stack.Box()
			p := passage{cabin: i, below: k}
			for _, x := range []float64{lo[0], hi[0]} {
				for _, y := range []float64{lo[1], hi[1]} {
					p.rim = append(p.rim, r3.Vec{X: x, Y: y, Z: *b.Compartments[k].Top})
				}
			}
			out = append(out, p)
		}
	}
	return out
}

// under tells whether the water stands over any of it: the cautious end, since where in the sole its lid lies is not written.
func (p *passage) under(at *hydro.Attitude) bool {
	return slices.ContainsFunc(p.rim, func(c r3.Vec) bool { return at.Above(c) <= 0 })
}

// short is a room's number where it has one, for narrow tables.
func (q *ask) short(i int) string {
	if n := q.c.Folder.Boat.Compartments[i].Number; n > 0 {
		return fmt.Sprint(n)
	}
	return q.rooms[i].name
}

// within tells whether a place is in a room.
func (q *ask) within(p model.Place, i int) bool { return q.t.Ship.Within(&q.c.Folder.Boat, p, i) }

// shares are the rooms' permeabilities on a day: 1 less what lies in them displaces.
func (q *ask) shares(day int) []float64 {
	f := q.c.Folder
	packed := make([]float64, len(q.rooms))
	put := func(p model.Place, mass float64) {
		for i := range q.rooms {
			if mass > 0 && q.within(p, i) {
				packed[i] += mass / goods
				return
			}
		}
	}
	for _, w := range f.Boat.Weights {
		if w.Where.Compartment >= 0 || w.Ballast { // what is only placed by a point may be the boat's own wood
			put(w.Where, float64(w.Mass.Value)*float64(max(1, w.Count)))
		}
	}
	for _, s := range f.Stores {
		whole, left := float64(s.Mass.Value)*float64(max(1, s.Count)), s.Use.Left(day)
		put(s.Where, whole*left)
		if s.Use.Into != nil {
			put(*s.Use.Into, whole*(1-left))
		}
	}
	for i := range packed {
		packed[i] = math.Max(leastShare, 1-packed[i]/q.rooms[i].volume)
	}
	return packed
}

// flooded is a room open to the sea, and loose the same room with so much of the sea in it that it
// takes where that stands: its stores thin the water rather than the space, which weighs the same at the same place.
func (r *room) flooded(share float64) hydro.Flooded {
	return hydro.Flooded{Name: r.name, Stack: r.stack, Share: share}
}

func (r *room) loose(p cuts.Plane, share float64) hydro.Loose {
	return hydro.Loose{Name: r.name, Stack: r.stack, Volume: r.stack.Below(p).Volume, Ratio: share}
}

// overlap tells whether two compartments claim the same place, by the planes they are written between.
func (q *ask) overlap(i, j int) bool {
	const slack = 0.01
	a, b := &q.c.Folder.Boat.Compartments[i], &q.c.Folder.Boat.Compartments[j]
	alo, ahi := q.rooms[i].stack.Box()
	blo, bhi := q.rooms[j].stack.Box()
	for k := range 3 {
		if math.Min(ahi[k], bhi[k])-math.Max(alo[k], blo[k]) < slack {
			return false
		}
	}
	in := func(c *model.Compartment) (from, to float64) {
		to = math.Inf(1)
		if c.Inboard != nil {
			from = *c.Inboard
		}
		if c.Outboard != nil {
			to = *c.Outboard
		}
		return from, to
	}
	af, at := in(a)
	bf, bt := in(b)
	return math.Min(at, bt)-math.Max(af, bf) >= slack
}

// behind are the rooms that an opening leads into: the compartment of that name, or all within a cabin.
func (q *ask) behind(o *model.Opening) []int {
	if o.Into == "" {
		return nil
	}
	var cabin []int
	for i, c := range q.c.Folder.Boat.Compartments {
		if c.Name == o.Into {
			return []int{i}
		}
		if c.Cabin == o.Into {
			cabin = append(cabin, i)
		}
	}
	return cabin
}
