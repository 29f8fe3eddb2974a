package drain

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/answer"
	"thole/internal/cuts"
	"thole/internal/hydraulics"
	"thole/internal/hydro"
	"thole/internal/model"
	"thole/internal/shape"
	"thole/internal/units"
)

// left is how deep the water may still stand, taken over the whole sole, when the well counts as clear.
const left = 0.020

// brimful is the share of a well's whole room up to which it is filled at most: pressed against
// its lid a liquid could not move, and there is no lid.
const brimful = 1 - 1e-5

// outlet is one hole of a drain where it stands.
type outlet struct {
	drain   int // index into pool.drains
	at      r3.Vec
	opening hydraulics.Opening // its Level is set for each attitude
}

// drained is a drain as it is worked with.
type drained struct {
	model.Drain
	well  string
	face  hydraulics.Face
	area  float64 // of all that are alike
	given bool    // its coefficient was given
}

// pool is a well, with those that open into it, as it holds water and lets it go.
type pool struct {
	shape.Basin
	drains  []drained
	outlets []outlet
	whole   float64 // its room up to the deck
	area    float64 // of the sole
	under   float64 // room below the sole: a footwell's
	clear   float64 // water in it when it counts as clear
}

// pools makes every well of the ship ready.
func (q *ask) pools() []*pool {
	var out []*pool
	for _, b := range q.t.Ship.Basins() {
		p := &pool{Basin: b, whole: b.Stack.Volume()}
		low := math.Inf(1)
		for _, s := range b.Sole {
			low = math.Min(low, s.Z)
		}
		flat := func(z float64) float64 { return b.Stack.Below(cuts.Plane{Cos: 1, Level: z}).Volume }
		p.under, p.clear = flat(low), flat(low+left)
		p.area = (p.clear - p.under) / left
		if !(p.area > 0) {
			continue // it lies outside of the hull
		}
		for _, w := range b.Wells {
			for _, d := range q.c.Folder.Boat.Wells[w].Drains {
				p.put(d, q.t.Ship.Wells[w])
			}
		}
		out = append(out, p)
	}
	return out
}

// put adds a drain of a well.
func (p *pool) put(d model.Drain, w shape.Well) {
	v := drained{Drain: d, well: w.Name, face: hydraulics.Upright, given: d.Coefficient > 0}
	o := hydraulics.Opening{Name: d.Name, Diameter: float64(d.Diameter), Width: float64(d.Width), Height: float64(d.Height),
		Fall: float64(d.Fall), Flap: d.Flap, Count: 1}
	if inSole(d, w) {
		v.face = hydraulics.Flat
	}
	if !v.given {
		v.Coefficient = usual(d)
	}
	o.Face, o.Coefficient = v.face, v.Coefficient
	v.Count = max(1, d.Count)
	v.area = o.Area() * float64(v.Count)
	index := len(p.drains)
	p.drains = append(p.drains, v)
	if math.Abs(d.At.Y) > 1e-6 && v.Count%2 == 0 {
		o.Count = v.Count / 2
		other := d.At
		other.Y = -other.Y
		p.outlets = append(p.outlets, outlet{index, d.At, o}, outlet{index, other, o})
		return
	}
	o.Count = v.Count
	p.outlets = append(p.outlets, outlet{index, d.At, o})
}

// inSole tells whether a tube leads down through the sole: its mouth stands clear of the well's sides.
func inSole(d model.Drain, w shape.Well) bool {
	if d.Kind != model.Tube || d.At.X <= w.From || d.At.X >= w.To {
		return false
	}
	half := float64(d.Diameter+d.Width) / 2
	rib := w.Surface.Half(d.At.X)
	side := 0.0
	for _, r := range rib {
		if r.Z <= d.At.Z+flush {
			side = math.Max(side, r.Y)
		}
	}
	return d.At.Z <= rib[0].Z+flush && math.Abs(d.At.Y) < side-half && d.At.X > w.From+half && d.At.X < w.To-half
}

// flush is how far above the sole the mouth of a tube still counts as lying in it.
const flush = 5e-3

// usual is the coefficient of discharge where none is given.
//
// Source: hydraulics.Discharges and Hindrances: a short tube, a sharp edge, a light hinged flap
func usual(d model.Drain) float64 {
	c := hydraulics.Sharp
	if d.Kind == model.Tube {
		c = hydraulics.ShortTube
	}
	if d.Flap {
		if h, ok := hydraulics.Find(hydraulics.Hindrances(), "light hinged flap, lifted by the flow"); ok {
			c *= h.Value
		}
	}
	return c
}

// height is how far a point stands above the base line, square to the water of an attitude.
func height(a hydro.Attitude, r r3.Vec) float64 {
	s, c := math.Sincos(a.Heel)
	return (r.Z*c - r.Y*s - a.Slope*r.X) / math.Sqrt(1+a.Slope*a.Slope)
}

// holds is the water that stays in at an attitude: all below the lowest of the rim.
func (p *pool) holds(a hydro.Attitude) float64 {
	low := math.Inf(1)
	for _, r := range p.Rim {
		low = math.Min(low, height(a, r))
	}
	plane := a.Plane()
	plane.Level = low * math.Sqrt(1+a.Slope*a.Slope)
	return math.Min(p.Stack.Below(plane).Volume, p.whole*brimful)
}

// spill is how far the lowest of the rim stands above the sea.
func (p *pool) spill(a hydro.Attitude) float64 {
	low := math.Inf(1)
	for _, r := range p.Rim {
		low = math.Min(low, a.Above(r))
	}
	return low
}

// soleAbove is how far the lowest of the sole stands above the sea, and its middle.
func (p *pool) soleAbove(a hydro.Attitude) (low, middle float64) {
	low = math.Inf(1)
	for _, r := range p.Sole {
		h := a.Above(r)
		low = math.Min(low, h)
		middle += h / float64(len(p.Sole))
	}
	return low, middle
}

// level is the height at which a volume of water stands in the well at a heel and a slope,
// measured as height measures; near is a level not far from it, or not a number.
//
// Good to: 1e-10 of the room
// Source: Newton's method within halved bounds; the volume grows with the level whatever the shape
func (p *pool) level(a hydro.Attitude, volume, near float64) float64 {
	plane := a.Plane()
	tilt := math.Sqrt(1 + a.Slope*a.Slope)
	lo, hi := p.Stack.Box()
	low, high := math.Inf(1), math.Inf(-1)
	for i := range 8 {
		r := r3.Vec{X: lo[0], Y: lo[1], Z: lo[2]}
		if i&1 > 0 {
			r.X = hi[0]
		}
		if i&2 > 0 {
			r.Y = hi[1]
		}
		if i&4 > 0 {
			r.Z = hi[2]
		}
		h := height(a, r) * tilt
		low, high = math.Min(low, h), math.Max(high, h)
	}
	plane.Level = near * tilt
	if !(plane.Level > low && plane.Level < high) {
		plane.Level = low + (high-low)*math.Min(1, math.Max(0, volume/p.whole))
	}
	for range 60 {
		m := p.Stack.Below(plane)
		if math.Abs(m.Volume-volume) <= 1e-10*p.whole {
			break
		}
		if m.Volume < volume {
			low = plane.Level
		} else {
			high = plane.Level
		}
		next := plane.Level + (volume-m.Volume)/m.Breadth
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		plane.Level = next
	}
	return plane.Level / tilt
}

// taken lists the coefficients that were not given.
func (q *ask) taken(a *answer.Answer) {
	for _, p := range q.all {
		for _, d := range p.drains {
			if d.given {
				continue
			}
			why := "a sharp edge"
			if d.Kind == model.Tube {
				why = "a short tube running full"
			}
			if d.Flap {
				why += ", four fifths of it for a light flap"
			}
			a.Assumptions = append(a.Assumptions, answer.Assumption{What: "discharge coefficient of " + d.Name, Value: fmt.Sprintf("%.2f", d.Coefficient),
				Why: why + " (textbook values, from memory)", File: "boat.yaml: wells.drains.coefficient"})
		}
		if len(p.drains) == 0 {
			a.Assumptions = append(a.Assumptions, answer.Assumption{What: "drains of the " + p.Name, Value: "none", Why: "none are listed", File: "boat.yaml: wells.drains"})
		}
	}
}

// size writes how large a drain is.
func (d *drained) size(sys units.System) string {
	if d.Diameter > 0 {
		return sys.Length(d.Diameter)
	}
	return sys.Length(d.Width) + " by " + sys.Length(d.Height)
}
