package hydraulics

import (
	"cmp"
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// Face is how an opening lies.
type Face int

// The two ways an opening lies.
const (
	Upright Face = iota // in a wall: a slot, a scupper, a hole in the side
	Flat                // in a floor or a deck: a sole drain, a hatch
)

// Opening is a drain, a slot, a hole or a hatch: round, or else a rectangle.
//
// An upright opening that is part full works as a weir, and as an orifice when it is
// drowned: the speed that the head gives is summed over its wetted height, so one passes
// into the other without a step. A flat one passes the lesser of what it passes running
// full and what comes over its rim. Both are drowned when the far side stands above them.
type Opening struct {
	Name        string
	Face        Face
	Level       float64 // height of the lowest edge (upright) or of the plane (flat), m
	Width       float64 // m; of a round opening 0
	Height      float64 // m, up (upright) or the other side (flat); of a round opening 0
	Diameter    float64 // m; of a rectangle 0
	Coefficient float64 // discharge coefficient, flap and grating counted in
	Fall        float64 // m from Level down to the far end of its tube; 0 for a plain hole
	Flap        bool    // nothing comes in: a flap or valve shuts against the sea
	Full        bool    // flat: taken to run full to the last drop, as in the textbooks' tank
	Count       int     // how many alike; 0 counts as one
}

// Check says what is wrong with an opening, or nil.
func (o Opening) Check() error {
	err := cmp.Or(number("its level", o.Level), positive("its discharge coefficient", o.Coefficient, "(0.61 for a plain hole)"),
		notNegative("the fall of its tube", o.Fall, "m"))
	switch {
	case err != nil:
	case o.Count < 0:
		err = fmt.Errorf("%w: there are %d of it; give 1 or more", ErrInput, o.Count)
	case o.Diameter != 0 && (o.Width != 0 || o.Height != 0):
		err = fmt.Errorf("%w: it has a diameter and also a width or height; give one or the other", ErrInput)
	case o.Diameter != 0:
		err = positive("its diameter", o.Diameter, "m")
	default:
		err = cmp.Or(positive("its width", o.Width, "m"), positive("its height", o.Height, "m"))
	}
	if err != nil {
		return fmt.Errorf("opening %q: %w", o.Name, err)
	}
	return nil
}

// Area is the open area of all that are alike, m2.
func (o Opening) Area() float64 { return float64(o.count()) * o.one() }

// one is the area of one.
func (o Opening) one() float64 {
	if o.Diameter > 0 {
		return math.Pi / 4 * o.Diameter * o.Diameter
	}
	return o.Width * o.Height
}

func (o Opening) count() int { return max(1, o.Count) }

// Flow is what passes with the water at a level inside and another outside: m3/s,
// positive outwards. It never falls when the level inside rises. The opening is taken
// to have passed Check.
//
// Source: Torricelli and Poleni, the speed by head summed over the height; Du Buat below
// the far side's level. The tube's friction is not counted: it belongs in the coefficient
func (o *Opening) Flow(inside, outside float64) float64 {
	switch {
	case inside > outside:
		return float64(o.count()) * o.out(inside, outside)
	case outside > inside && !o.Flap:
		return -float64(o.count()) * o.in(inside, outside)
	}
	return 0
}

// out is the flow outwards through one, inside > outside.
func (o *Opening) out(inside, outside float64) float64 {
	if inside <= o.Level {
		return 0
	}
	if o.Fall == 0 {
		return o.mouth(inside, outside)
	}
	// The tube runs full and pulls with its whole fall, but no faster than water
	// can come over the rim of its mouth. (One that gulps air through a whirl passes less.)
	full := orifice(o.Coefficient*o.one(), inside-math.Max(outside, o.Level-o.Fall))
	if o.Face == Flat && o.Full {
		return full
	}
	return math.Min(full, weir(o.Coefficient*o.rim(), inside-o.Level, outside-o.Level))
}

// in is the flow inwards through one, outside > inside.
func (o *Opening) in(inside, outside float64) float64 {
	if outside <= o.Level {
		return 0
	}
	if o.Fall == 0 {
		return o.mouth(outside, inside)
	}
	return orifice(o.Coefficient*o.one(), outside-math.Max(inside, o.Level))
}

// mouth is the flow through one plain opening from the side that stands at up, above
// the opening's level, to the side that stands at down, below up.
func (o *Opening) mouth(up, down float64) float64 {
	switch {
	case o.Face == Flat:
		through := orifice(o.Coefficient*o.one(), up-math.Max(down, o.Level))
		if o.Full {
			return through
		}
		return math.Min(through, weir(o.Coefficient*o.rim(), up-o.Level, down-o.Level))
	case o.Diameter > 0:
		return o.Coefficient * root2G * o.round(up, down)
	}
	sill, top := o.Level, o.Level+o.Height
	q := weir(o.Coefficient*o.Width, up-sill, down-sill)
	if up > top {
		q -= weir(o.Coefficient*o.Width, up-top, down-top)
	}
	return math.Max(0, q) // two weirs that differ by rounding
}

// handover is the level inside at which the rim hands over to the hole or the tube:
// above it the opening runs full. Where it has none, its own level.
func (o *Opening) handover(outside float64) float64 {
	switch {
	case o.Face == Flat && o.Full || o.Face == Upright && o.Fall == 0:
		return o.Level
	case o.Fall == 0 || outside >= o.Level: // rim (2/3 d + down) sqrt d = area sqrt d
		down := math.Max(0, outside-o.Level)
		return o.Level + down + math.Max(0, 1.5*(o.one()/o.rim()-down))
	}
	more := math.Min(o.Fall, o.Level-outside)
	over := func(h float64) bool { return o.rim()*h*math.Sqrt(h)*2/3 < o.one()*math.Sqrt(h+more) }
	hi := o.one() / o.rim()
	for over(hi) {
		hi *= 2
	}
	return o.Level + halve(0, hi, over)
}

// rim is the length of the edge over which water comes in: all round a flat opening,
// the width of an upright one.
func (o *Opening) rim() float64 {
	switch {
	case o.Face == Upright:
		return o.Width + o.Diameter // one of them is nothing
	case o.Diameter > 0:
		return math.Pi * o.Diameter
	}
	return 2 * (o.Width + o.Height)
}

// round is the root of the head summed over the wetted face of an upright circle: m2.5.
// Good to: 1e-7 of itself (TestRoundAgainstQuadrature)
func (o *Opening) round(up, down float64) float64 {
	r := o.Diameter / 2
	bottom, top := o.Level, o.Level+o.Diameter
	hi := math.Min(top, up)
	lo := math.Max(bottom, math.Min(down, hi))
	drowned := 0.0
	if lo > bottom {
		drowned = segment(r, lo-bottom) * math.Sqrt(up-math.Max(down, bottom))
	}
	if hi <= lo {
		return drowned
	}
	// z = middle - half cos t makes the roots at both ends smooth.
	middle, half := (lo+hi)/2, (hi-lo)/2
	centre := bottom + r
	sum := 0.0
	for _, n := range arc {
		z := middle - half*n.cos
		chord := r*r - (z-centre)*(z-centre)
		if chord > 0 && up > z {
			sum += n.weight * math.Sqrt(chord*(up-z))
		}
	}
	return drowned + 2*half*sum
}

// segment is the area of a circle below a depth of water in it.
func segment(r, depth float64) float64 {
	if depth >= 2*r {
		return math.Pi * r * r
	}
	c := 1 - depth/r
	return r * r * (math.Acos(c) - c*math.Sqrt(1-c*c))
}

// node is one place of a sum over half a turn: its cosine, and its weight times its sine.
type node struct{ cos, weight float64 }

// arc holds the nodes of Gauss and Legendre over half a turn.
var arc = nodes(14)

func nodes(n int) []node {
	x, w := make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(x, w, 0, math.Pi)
	out := make([]node, n)
	for i := range x {
		out[i] = node{math.Cos(x[i]), w[i] * math.Sin(x[i])}
	}
	return out
}
