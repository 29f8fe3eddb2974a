package hydro

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"
)

// Step is the heel between two points of a curve, 5 degrees.
const Step = 5 * math.Pi / 180

// flat is the arm below which two opposite arms count as none, metres: a body
// that lies anywhere (a log afloat with its weight in its axis) has no rests.
const flat = 2e-6

// Curve is the righting arms of one loaded body over all heels, free to trim.
type Curve struct {
	Heels []float64 // radians, from the most to port to the most to starboard
	Arms  []float64 // metres, positive when they push the heel down towards zero
	Holds []Rest
	// Even is true when she is alike on both sides: then only 0 to 180 degrees are worked out.
	Even bool
	body *Body
	load Load
	sea  Sea
}

// NewCurve works out the righting arms from 0 to 180 degrees in steps of 5, and on
// the other side too when the weight lies off the centre line.
//
// Out:    37 or 73 points
// Error:  as Hold
// Good to: 1e-6 m on a box and on a cylinder (TestArmsOfBoxes, TestArmsOfCylinder)
// Source: Barrass & Derrett, Ship Stability for Masters and Mates, "Moments of statical
// stability at large angles"; trim is free, so each arm is that of a boat adrift
func NewCurve(b *Body, l Load, sea Sea) (*Curve, error) {
	return NewCurveNear(b, l, sea, nil, nil)
}

// NewCurveNear is NewCurve started from the curve of a like load, which saves most of the
// steps; before is the one before that in a row (yesterday's of yesterday), or nil. Either may be nil.
func NewCurveNear(b *Body, l Load, sea Sea, near, before *Curve) (*Curve, error) {
	even := math.Abs(l.G.Y) < 1e-9 && b.even()
	c := &Curve{Even: even, body: b, load: l, sea: sea}
	n := 37
	first := 0
	if !even {
		n, first = 73, -36
	}
	c.Heels, c.Arms, c.Holds = make([]float64, n), make([]float64, n), make([]Rest, n)
	for i := range n {
		c.Heels[i] = float64(first+i) * Step
	}
	zero := -first
	guessAt := func(i, step int) *Attitude {
		if near != nil && len(near.Holds) == n {
			a := near.Holds[i].Attitude
			if before != nil && len(before.Holds) == n {
				a.Level += a.Level - before.Holds[i].Level
				a.Slope += a.Slope - before.Holds[i].Slope
			}
			return &a
		}
		p, q := i-step, i-2*step
		if step == 0 || p < 0 || p >= n {
			return nil
		}
		a := c.Holds[p].Attitude
		if q >= 0 && q < n && (q-zero)*step >= 0 {
			o := c.Holds[q].Attitude
			a.Level += a.Level - o.Level
			a.Slope += a.Slope - o.Slope
		}
		return &a
	}
	hold := func(i, step int) error {
		r, err := Hold(b, l, sea, c.Heels[i], guessAt(i, step))
		if err != nil {
			return err
		}
		c.Holds[i], c.Arms[i] = r, r.Arm(l)
		return nil
	}
	if err := hold(zero, 0); err != nil {
		return nil, err
	}
	for i := zero + 1; i < n; i++ {
		if err := hold(i, 1); err != nil {
			return nil, err
		}
	}
	for i := zero - 1; i >= 0; i-- {
		if err := hold(i, -1); err != nil {
			return nil, err
		}
	}
	if even { // upside down and upright she is the same on both sides: no arm at all
		c.Arms[0], c.Arms[n-1] = 0, 0
	}
	return c, nil
}

// Point is one point of a curve worked out by itself.
type Point struct {
	Heel, Arm float64
	Rest      Rest
}

// At works out the arm at any heel of the curve, from its nearest point.
func (c *Curve) At(heel float64) (Point, error) {
	i := int(math.Round((heel - c.Heels[0]) / Step))
	i = max(0, min(i, len(c.Heels)-1))
	r, err := Hold(c.body, c.load, c.sea, heel, &c.Holds[i].Attitude)
	if err != nil {
		return Point{}, err
	}
	return Point{Heel: heel, Arm: r.Arm(c.load), Rest: r}, nil
}

// Lie is a heel at which she would lie.
type Lie struct {
	Rest
	Stable bool
}

// beside is how far from a zero at a point of the curve its sides are looked at, radians.
const beside = 2e-3

// knot is a heel and its arm.
type knot struct{ heel, arm float64 }

// Rests are all heels at which the arm is nothing, from the most to port to the
// most to starboard. For a boat that is alike on both sides only 0 to 180 degrees are given.
func (c *Curve) Rests() []Lie {
	var out []Lie
	add := func(r Rest) {
		for _, o := range out {
			if math.Abs(o.Heel-r.Heel) < beside/2 {
				return
			}
		}
		out = append(out, Lie{Rest: r, Stable: r.Stiffness(c.load) > 0})
	}
	ks := c.knots(func(i int) { add(c.Holds[i]) })
	for i := 1; i < len(ks); i++ {
		a, b := ks[i-1], ks[i]
		switch {
		case b.heel-a.heel < 3*beside: // the two sides of a zero already taken
		case (a.arm < 0) != (b.arm < 0):
			if p, err := c.zero(a.heel, b.heel, a.arm, b.arm); err == nil {
				add(p.Rest)
			}
		case i+1 < len(ks) && (b.arm < 0) == (ks[i+1].arm < 0) &&
			math.Abs(b.arm) < math.Abs(a.arm) && math.Abs(b.arm) <= math.Abs(ks[i+1].arm):
			// A hollow or a hump between points of one sign may reach across and back.
			for _, p := range c.dip(a, ks[i+1]) {
				add(p.Rest)
			}
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Heel < out[j].Heel })
	return out
}

// knots are the curve's points, each zero among them handed to found and replaced by a point
// on either side, so that what the arm does there shows.
func (c *Curve) knots(found func(i int)) []knot {
	var ks []knot
	n := len(c.Heels)
	none := func(i int) bool { return i >= 0 && i < n && math.Abs(c.Arms[i]) < flat }
	for i, h := range c.Heels {
		if !none(i) {
			ks = append(ks, knot{h, c.Arms[i]})
			continue
		}
		if none(i-1) && (none(i+1) || i == n-1) || i == 0 && none(1) {
			continue // no arm far and wide: she lies anywhere
		}
		found(i)
		if i > 0 {
			ks = append(ks, knot{h - beside, c.arm(h - beside)})
		}
		if i < n-1 {
			ks = append(ks, knot{h + beside, c.arm(h + beside)})
		}
	}
	return ks
}

func (c *Curve) arm(heel float64) float64 {
	p, err := c.At(heel)
	if err != nil {
		return 0
	}
	return p.Arm
}

// zero closes in on a change of sign, by false position and halving in turn.
func (c *Curve) zero(lo, hi, a, b float64) (Point, error) {
	var p Point
	var err error
	for i := range 80 {
		mid := (lo + hi) / 2
		if i%2 == 0 && a != b {
			mid = lo - a*(hi-lo)/(b-a)
		}
		p, err = c.At(mid)
		if err != nil {
			return p, err
		}
		if math.Abs(p.Arm) < 1e-12 || hi-lo < 1e-10 {
			return p, nil
		}
		if (p.Arm < 0) == (a < 0) {
			lo, a = mid, p.Arm
		} else {
			hi, b = mid, p.Arm
		}
	}
	return p, nil
}

// dip looks for a pair of zeros between two points of the same sign.
func (c *Curve) dip(a, b knot) []Point {
	sign := 1.0
	if a.arm < 0 {
		sign = -1
	}
	least := c.least(a.heel, b.heel, sign)
	if least.Arm*sign >= 0 {
		return nil
	}
	var out []Point
	if p, err := c.zero(a.heel, least.Heel, a.arm, least.Arm); err == nil {
		out = append(out, p)
	}
	if p, err := c.zero(least.Heel, b.heel, least.Arm, b.arm); err == nil {
		out = append(out, p)
	}
	return out
}

// least finds the smallest sign*arm between two heels by golden section.
func (c *Curve) least(lo, hi, sign float64) Point {
	const g = 0.6180339887498949
	x1, x2 := hi-g*(hi-lo), lo+g*(hi-lo)
	p1, e1 := c.At(x1)
	p2, e2 := c.At(x2)
	for range 24 {
		if e1 != nil || e2 != nil {
			break
		}
		if p1.Arm*sign < p2.Arm*sign {
			hi, x2, p2 = x2, x1, p1
			x1 = hi - g*(hi-lo)
			p1, e1 = c.At(x1)
		} else {
			lo, x1, p1 = x1, x2, p2
			x2 = lo + g*(hi-lo)
			p2, e2 = c.At(x2)
		}
	}
	if p1.Arm*sign < p2.Arm*sign {
		return p1
	}
	return p2
}

// Vanishing is the first heel to starboard, going on from upright, at which a positive arm
// falls to nothing; 180 degrees if it never does, 0 if no arm is positive.
func (c *Curve) Vanishing() float64 {
	zero := len(c.Heels) - 37
	positive := false
	for i := zero; i < len(c.Heels); i++ {
		switch {
		case c.Arms[i] > flat:
			positive = true
		case positive && c.Arms[i] < -flat:
			lo := i - 1
			for c.Arms[lo] <= 0 && lo > zero {
				lo--
			}
			if p, err := c.zero(c.Heels[lo], c.Heels[i], c.Arms[lo], c.Arms[i]); err == nil {
				return p.Heel
			}
			return c.Heels[i]
		}
	}
	if !positive {
		return 0
	}
	// the last step before upside down may fall through zero by itself
	for _, r := range c.Rests() {
		if r.Heel > 1e-3 && r.Heel < math.Pi-1e-3 && !r.Stable {
			return r.Heel
		}
	}
	return math.Pi
}

// Area is the area under the arms between two heels, metre radians, in steps of half the curve's.
//
// Source: Simpson's rule, exact for a cubic
func (c *Curve) Area(from, to float64) float64 { return Simpson(from, to, Step/2, c.arm) }

// Simpson integrates a function by Simpson's rule in an even number of steps no longer than so much.
func Simpson(from, to, longest float64, f func(float64) float64) float64 {
	n := max(2, 2*int(math.Ceil((to-from)/(2*longest)-1e-9)))
	h := (to - from) / float64(n)
	var sum float64
	for i := 0; i <= n; i++ {
		w := 2.0
		switch {
		case i == 0 || i == n:
			w = 1
		case i%2 == 1:
			w = 4
		}
		sum += w * f(from+float64(i)*h)
	}
	return sum * h / 3
}

// Least is the smallest arm between two heels on the side worked out, refined between points.
func (c *Curve) Least(from, to float64) Point {
	best := -1
	for i, h := range c.Heels {
		if h >= from-1e-9 && h <= to+1e-9 && (best < 0 || c.Arms[i] < c.Arms[best]) {
			best = i
		}
	}
	p := Point{Heel: c.Heels[best], Arm: c.Arms[best], Rest: c.Holds[best]}
	lo, hi := math.Max(from, p.Heel-Step), math.Min(to, p.Heel+Step)
	if q := c.least(lo, hi, 1); q.Arm < p.Arm && q.Rest.Sums.Volume > 0 {
		return q
	}
	return p
}

// Most is the greatest arm between two heels, refined between points.
func (c *Curve) Most(from, to float64) Point {
	best := -1
	for i, h := range c.Heels {
		if h >= from-1e-9 && h <= to+1e-9 && (best < 0 || c.Arms[i] > c.Arms[best]) {
			best = i
		}
	}
	p := Point{Heel: c.Heels[best], Arm: c.Arms[best], Rest: c.Holds[best]}
	lo, hi := math.Max(from, p.Heel-Step), math.Min(to, p.Heel+Step)
	if q := c.least(lo, hi, -1); q.Arm > p.Arm && q.Rest.Sums.Volume > 0 {
		return q
	}
	return p
}

// Headroom is how much higher the centre of gravity could lie, straight up, before she would lie at
// some heel other than upright, metres; negative by how much it would have to come down. A rise of G by d takes
// d sin(heel) off every arm, so it is the least of arm over sine, the ends taken
// in the limit (the metacentric height, and the want of it upside down). With a list
// the quotient means nothing within 20 degrees of the ends, and only the limits are taken there.
//
// Out:    the height, and the heel at which it is used up first
// Source: the correction of righting arms for height of gravity, Barrass & Derrett, "KN curves and GZ"
func (c *Curve) Headroom() (height, heel float64) { return c.HeadroomOffCentre(0) }

// HeadroomOffCentre is Headroom with the weight moved y to starboard of where the curve was
// worked out. That takes y cos(heel) off every arm; the trim, which hardly
// follows, is left as it was.
//
// Good to: a micrometre for an offset of a centimetre (TestHeadroomOffCentre)
func (c *Curve) HeadroomOffCentre(y float64) (height, heel float64) {
	height, at, side := LeastHeight(c.Heels, c.Heights(nil), c.load.G.Z, y, !c.Even || math.Abs(y) > 1e-9)
	if at < 0 {
		return height, 0
	}
	heel = side * c.Heels[at]
	if at == 0 || at == len(c.Heels)-1 || math.Abs(math.Sin(heel)) < 1e-6 {
		return height, heel
	}
	// a parabola through three points about the least
	ratio := func(h float64) float64 {
		s, cos := math.Sincos(h)
		return (c.arm(h) - side*y*cos) / s
	}
	mid := c.Heels[at]
	p, q := ratio(mid-Step/2), ratio(mid+Step/2)
	if curve := p - 2*height + q; curve > 0 {
		x := mid + math.Max(-1, math.Min(1, (p-q)/(2*curve)))*Step/2
		if r := ratio(x); r < height {
			return r, side * x
		}
	}
	return height, heel
}

// Heights are, for each heel of the curve, how high above the base line the centre of gravity could lie before
// the arm there is used up; upright and upside down the limit of that. They hang on the mass, on
// the centre's place along the boat and, through the trim, a little on its height. They are put into dst if it is long enough.
//
// Source: cross curves of stability, Barrass & Derrett, "KN curves": the height is KN over the sine of heel
func (c *Curve) Heights(dst []float64) []float64 {
	if len(dst) != len(c.Heels) {
		dst = make([]float64, len(c.Heels))
	}
	for i, h := range c.Heels {
		s, cos := math.Sincos(h)
		if math.Abs(s) < 1e-6 {
			dst[i] = c.load.G.Z + cos*c.Holds[i].Stiffness(c.load)
		} else {
			dst[i] = c.load.G.Z + c.Arms[i]/s
		}
	}
	return dst
}

// LeastHeight is the least of the heights at some heels (Curve.Heights), less z, with the weight moved y to starboard of where
// they were worked out: its value, the heel's index (-1 for none) and the side, 1 or -1, to which it is.
// With a list, heels within 20 degrees of the ends are passed over, as Headroom says.
func LeastHeight(heels, heights []float64, z, y float64, lists bool) (height float64, at int, side float64) {
	height, at, side = math.Inf(1), -1, 1
	for i, h := range heels {
		s, cos := math.Sincos(h)
		off := 0.0
		if math.Abs(s) >= 1e-6 {
			if lists && math.Abs(s) < 0.342 {
				continue
			}
			off = math.Abs(y * cos / s)
		}
		if v := heights[i] - z - off; v < height {
			height, at, side = v, i, 1
			if y*cos/s < 0 && off != 0 {
				side = -1
			}
		}
	}
	return height, at, side
}

// Load is what the curve was worked out for.
func (c *Curve) Load() Load { return c.load }

// Raised is the same load with its centre of gravity moved.
func (l Load) Raised(by r3.Vec) Load {
	l.G = r3.Add(l.G, by)
	return l
}
