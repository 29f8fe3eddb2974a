package flood

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/afloat"
	"thole/internal/hydro"
	"thole/internal/model"
)

// arms is how she comes back with compartments open to the sea.
type arms struct {
	reach  float64 // how far from her rest she may be heeled, to the worse side, and come back; radians
	height float64 // how much higher her centre of gravity could lie, m
	stays  []float64
}

// turned is the body whose arms are looked at: heeled far enough, the sea in a cabin gets into what lies under it without a lid
// of its own, and back.
func (q *ask) turned(r *result) *hydro.Body {
	var rooms []hydro.Flooded
	in := slices.Clone(r.flooded)
	for i := 0; i < len(in); i++ {
		rooms = append(rooms, q.rooms[in[i]].flooded(r.state.shares[in[i]]))
		for _, p := range q.lidless {
			for _, both := range [2][2]int{{p.cabin, p.below}, {p.below, p.cabin}} {
				if in[i] == both[0] && !slices.Contains(in, both[1]) {
					in = append(in, both[1])
				}
			}
		}
	}
	if len(in) == len(r.flooded) {
		return r.body
	}
	return q.t.Ship.Body.With(rooms, nil)
}

// armsOf works out the arms of a loss that leaves her afloat; nil when there are none to speak of.
func (q *ask) armsOf(r *result) *arms {
	if r.rest.Err != nil {
		return nil
	}
	curve, err := hydro.NewCurve(q.turned(r), r.load, q.t.Sea)
	if err != nil {
		return nil
	}
	out := &arms{}
	out.height, _ = curve.Headroom()
	heel := r.rest.Rest.Heel
	port, starboard := math.Pi, math.Pi
	for _, l := range curve.Rests() {
		d := l.Heel - heel
		switch {
		case l.Stable && math.Abs(d) > 1*deg:
			h := l.Heel
			if h < 1e-3-math.Pi { // upside down is one place, from whichever side
				h += 2 * math.Pi
			}
			if !slices.ContainsFunc(out.stays, func(o float64) bool { return math.Abs(o-h) < 1e-3 }) {
				out.stays = append(out.stays, h)
			}
		case !l.Stable && d > 0:
			starboard = math.Min(starboard, d)
		case !l.Stable && d < 0:
			port = math.Min(port, -d)
		}
	}
	out.reach = math.Min(port, starboard)
	return out
}

// disagreement floats her by the other method, the sea in her as so much loose water, and gives the
// greatest difference of the two rests, found from where she floated dry: of heel and trim in radians, of the water's height in metres.
//
// Source: Barrass & Derrett, Ship Stability for Masters and Mates, Bilging: lost buoyancy and added weight describe one body
func (q *ask) disagreement(r *result) float64 {
	var water []hydro.Loose
	p := r.rest.Rest.Plane()
	for _, i := range r.flooded {
		water = append(water, q.rooms[i].loose(p, r.state.shares[i]))
	}
	o, err := hydro.Float(q.t.Ship.Body.With(nil, water), r.load, q.t.Sea, &r.state.dry.Rest.Attitude)
	if err != nil {
		return math.Pi
	}
	a, b := r.rest.Rest.Attitude, o.Attitude
	mid := (q.t.Ship.Hull.From + q.t.Ship.Hull.To) / 2
	return math.Max(math.Abs(a.Level+a.Slope*mid-b.Level-b.Slope*mid), math.Max(math.Abs(a.Heel-b.Heel), math.Abs(a.Trim()-b.Trim())))
}

// openings finds how near each opening comes to the water, dry and with one compartment holed, and
// what follows if it stands open there.
func (q *ask) openings(all []result) {
	var curve *hydro.Curve
	if len(q.c.Folder.Boat.Openings) > 0 {
		load := afloat.Load(&q.states[0].dry.State)
		curve, _ = hydro.NewCurve(q.t.Ship.Body, load, q.t.Sea)
	}
	for i := range q.c.Folder.Boat.Openings {
		o := &q.c.Folder.Boat.Openings[i]
		h := Hatch{Name: o.Name, Into: o.Into, Closed: o.Closed, Above: math.Inf(1), Least: math.Inf(1), Under: 180, Outcome: Floats}
		for k := range q.states {
			h.Above = math.Min(h.Above, q.states[k].dry.Rest.Above(o.At))
		}
		if curve != nil {
			h.Under = goesUnder(curve, o.At) / deg
		}
		least := -1
		for k := range all {
			if r := &all[k]; r.rest.Err == nil && r.rest.Rest.Above(o.At) < h.Least {
				h.Least, least = r.rest.Rest.Above(o.At), k
			}
		}
		if least < 0 {
			h.Least = h.Above
		} else {
			r := &all[least]
			h.Holed, h.Outcome = q.rooms[r.holed[0]].name, r.outcome
			if h.Least <= 0 && o.Closed {
				left := func(p *model.Opening) bool { return p.Admits() || p == o }
				h.Outcome = q.flood(r.state, r.holed, &r.rest.Rest.Attitude, left).outcome
			}
		}
		q.hatches = append(q.hatches, h)
	}
}

// goesUnder is the least heel, to either side, at which a point of the boat goes under as she is heeled
// with nothing holed; a half turn when it never does. Between the curve's points it goes by a straight line.
func goesUnder(c *hydro.Curve, at r3.Vec) float64 {
	zero := len(c.Heels) - 37
	first := math.Pi
	walk := func(step int, at r3.Vec) {
		before := c.Holds[zero].Above(at)
		if before <= 0 {
			first = 0
			return
		}
		for i := zero + step; i >= 0 && i < len(c.Heels); i += step {
			now := c.Holds[i].Above(at)
			if now <= 0 {
				first = math.Min(first, math.Abs(c.Heels[i])-hydro.Step*now/(now-before))
				return
			}
			before = now
		}
	}
	walk(1, at)
	if c.Even {
		at.Y = -at.Y
		walk(1, at)
	} else {
		walk(-1, at)
	}
	return first
}
