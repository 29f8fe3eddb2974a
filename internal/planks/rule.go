package planks

import (
	"math"

	"thole/internal/fairing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Ruling is one straight line across a plate, from its lower edge to its upper one.
type Ruling struct {
	Lower, Upper r3.Vec
	// LowerShare and UpperShare are how far along each edge it stands, 0 fore to 1 aft.
	LowerShare, UpperShare float64
	// Twist is the angle between the tangent planes at its two ends: nothing where the
	// plate unrolls.
	Twist float64
	// Fan tells that it belongs to a cone about one end of an edge.
	Fan bool
}

// Ruled is a plate between two edges.
type Ruled struct {
	Rulings []Ruling // from fore to aft
	// Twist is the greatest of any ruling, and At the ruling that has it.
	Twist float64
	At    int
	// Developable is the share of the rulings whose twist is under a thousandth of a radian.
	Developable float64
}

// Grid is the rulings as rows of two points, for Expand.
func (r *Ruled) Grid() [][]r3.Vec {
	g := make([][]r3.Vec, len(r.Rulings))
	for i, q := range r.Rulings {
		g[i] = []r3.Vec{q.Lower, q.Upper}
	}
	return g
}

// untwisted is the twist under which a ruling counts as one of a developable.
const untwisted = 1e-3

// atEnd is the share of an edge from its end that counts as the end.
const atEnd = 1e-6

// trial is how many places along each edge are tried before partners are found exactly.
const trial = 120

// Rule finds the plate that unrolls between two edges: for each point of the lower edge
// the partner on the upper one at which both edges and the ruling lie in one plane. Partners
// never run back. Where an end of one edge has its partner inside the other, a cone
// about that end closes the plate. Where there is no partner the one with the least twist
// stands, and its twist is told: there the plate is not developable.
//
// In:     points along each edge from fore to aft, joined by cubic splines over the chord
// (points that coincide with the one before are left out); n rulings at least, 2 or more
// Error:  ErrFew, ErrNumber; ErrNothing where an edge has no length
// Good to: the splines' own exactness, fourth order in the spacing (TestRuleFindsRulings)
// Source: the common tangent plane of a developable (do Carmo, ch. 3); the choice between
// several partners by dynamic programming, least sum of squared twists
func Rule(lower, upper []r3.Vec, n int) (Ruled, error) {
	if n < 2 {
		return Ruled{}, ErrFew
	}
	a, err := newCurve(lower)
	if err != nil {
		return Ruled{}, err
	}
	b, err := newCurve(upper)
	if err != nil {
		return Ruled{}, err
	}
	partner := pairs(a, b)
	var rulings []Ruling
	for i := range n {
		s := float64(i) / float64(n-1)
		t := partner.At(s)
		if t > 0 && t < 1 {
			t = sharpen(a, b, s, t)
		}
		if t < atEnd {
			t = 0
		} else if t > 1-atEnd {
			t = 1
		}
		if k := len(rulings); k > 0 {
			t = math.Max(t, rulings[k-1].UpperShare)
		}
		rulings = append(rulings, newRuling(a, b, s, t))
	}
	r := Ruled{Rulings: fanned(a, b, rulings, n)}
	good := 0
	for i, q := range r.Rulings {
		if q.Twist < untwisted {
			good++
		}
		if q.Twist > r.Twist {
			r.Twist, r.At = q.Twist, i
		}
	}
	r.Developable = float64(good) / float64(len(r.Rulings))
	return r, nil
}

// curve is an edge as splines over the share of its chord.
type curve struct{ x, y, z fairing.Spline }

func newCurve(points []r3.Vec) (*curve, error) {
	var t, x, y, z []float64
	var last r3.Vec
	for i, p := range points {
		if !finite(p) {
			return nil, ErrNumber
		}
		if i > 0 {
			d := dist(p, last)
			if d < 1e-9 {
				continue
			}
			t = append(t, t[len(t)-1]+d)
		} else {
			t = append(t, 0)
		}
		x, y, z, last = append(x, p.X), append(y, p.Y), append(z, p.Z), p
	}
	if len(points) < 2 {
		return nil, ErrFew
	}
	if len(t) < 2 {
		return nil, ErrNothing
	}
	total := t[len(t)-1]
	for i := range t {
		t[i] /= total
	}
	return &curve{fairing.NewSpline(t, x), fairing.NewSpline(t, y), fairing.NewSpline(t, z)}, nil
}

// at is the point and the derivative by share at a share of the chord.
func (c *curve) at(s float64) (p, d r3.Vec) {
	p.X, d.X, _ = c.x.Derivatives(s)
	p.Y, d.Y, _ = c.y.Derivatives(s)
	p.Z, d.Z, _ = c.z.Derivatives(s)
	return p, d
}

// turn is the signed angle from the tangent plane at the lower end of a ruling to that at
// the upper one, about the ruling.
func turn(pa, da, pb, db r3.Vec) float64 {
	r := unit(r3.Sub(pb, pa))
	na, nb := r3.Cross(da, r), r3.Cross(db, r)
	return math.Atan2(r3.Dot(r, r3.Cross(na, nb)), r3.Dot(na, nb))
}

func newRuling(a, b *curve, s, t float64) Ruling {
	pa, da := a.at(s)
	pb, db := b.at(t)
	return Ruling{Lower: pa, Upper: pb, LowerShare: s, UpperShare: t, Twist: math.Abs(turn(pa, da, pb, db))}
}

// pairs is a first set of partners, by dynamic programming over a lattice of places on
// both edges: the least sum of squared twists, never running back, and among nearly equal
// sums the most even spacing.
func pairs(a, b *curve) fairing.Spline {
	const even = 2e-3 // weight of uneven spacing against twist, small enough never to hide a partner
	type spot struct{ p, d r3.Vec }
	sa, sb := make([]spot, trial+1), make([]spot, trial+1)
	for i := range sa {
		sa[i].p, sa[i].d = a.at(float64(i) / trial)
		sb[i].p, sb[i].d = b.at(float64(i) / trial)
	}
	cost := make([]float64, trial+1)
	from := make([][]int, trial+1)
	for i := range sa {
		next := make([]float64, trial+1)
		from[i] = make([]int, trial+1)
		for j := range sb {
			w := turn(sa[i].p, sa[i].d, sb[j].p, sb[j].d)
			best := 0.0
			if i > 0 {
				best = math.Inf(1)
				for k := 0; k <= j; k++ {
					d := float64(j - k - 1)
					if c := cost[k] + even*d*d/trial; c < best {
						best, from[i][j] = c, k
					}
				}
			}
			next[j] = best + w*w
			if i == 0 || i == trial { // a fan at either end is as uneven as it is wide
				d := float64(j)
				if i == trial {
					d = trial - d
				}
				next[j] += even * d / trial
			}
		}
		cost = next
	}
	last := 0
	for j := range cost {
		if cost[j] < cost[last] {
			last = j
		}
	}
	s, t := make([]float64, trial+1), make([]float64, trial+1)
	for i := trial; i >= 0; i-- {
		s[i], t[i] = float64(i)/trial, float64(last)/trial
		last = from[i][last]
	}
	// the lattice's stairs made a line
	for range 3 {
		w := append([]float64(nil), t...)
		for i := 1; i < trial; i++ {
			if t[i] > 0 && t[i] < 1 {
				w[i] = (t[i-1] + 2*t[i] + t[i+1]) / 4
			}
		}
		t = w
	}
	return fairing.NewSpline(s, t)
}

// sharpen finds the partner near a first guess: where the turn changes its sign, or else
// where it is least.
func sharpen(a, b *curve, s, t float64) float64 {
	pa, da := a.at(s)
	f := func(t float64) float64 {
		pb, db := b.at(t)
		return turn(pa, da, pb, db)
	}
	const reach, steps = 4.0 / trial, 16
	lo := math.Max(0, t-reach)
	step := (math.Min(1, t+reach) - lo) / steps
	best, near := t, math.Inf(1)
	was := f(lo)
	for i := 1; i <= steps; i++ {
		x := lo + float64(i)*step
		v := f(x)
		if was*v <= 0 && math.Abs(v-was) < 1 {
			l, h, fl := x-step, x, was
			for range 60 {
				m := (l + h) / 2
				if fm := f(m); fm*fl <= 0 {
					h = m
				} else {
					l, fl = m, fm
				}
			}
			if d := math.Abs((l+h)/2 - t); d < near {
				best, near = (l+h)/2, d
			}
		}
		was = v
	}
	if !math.IsInf(near, 1) {
		return best
	}
	// golden section on the size of the turn
	const g = 0.6180339887498949
	l, h := lo, lo+steps*step
	for range 50 {
		m1, m2 := h-g*(h-l), l+g*(h-l)
		if math.Abs(f(m1)) < math.Abs(f(m2)) {
			h = m2
		} else {
			l = m1
		}
	}
	return (l + h) / 2
}

// fanned closes the ends with cones about the ends of the edges, and fills in rulings
// where two neighbours stand far apart on the upper edge.
func fanned(a, b *curve, rs []Ruling, n int) []Ruling {
	// rulings that all start from one end of the upper edge are a cone about it
	for i := 0; i+1 < len(rs) && rs[i].UpperShare <= 0 && rs[i+1].UpperShare <= 0; i++ {
		rs[i].Fan, rs[i].Twist = true, 0
	}
	for i := len(rs) - 1; i > 0 && rs[i].UpperShare >= 1 && rs[i-1].UpperShare >= 1; i-- {
		rs[i].Fan, rs[i].Twist = true, 0
	}
	var out []Ruling
	fan := func(s, from, to float64, whole bool) {
		k := max(1, int(math.Ceil((to-from)*float64(n-1))))
		for i := range k {
			q := newRuling(a, b, s, from+(to-from)*float64(i)/float64(k))
			q.Fan, q.Twist = true, 0
			if whole || i > 0 {
				out = append(out, q)
			}
		}
	}
	if t := rs[0].UpperShare; t > 0 {
		fan(0, 0, t, true)
	}
	for i, q := range rs {
		if i > 0 {
			p := rs[i-1]
			gap := q.UpperShare - p.UpperShare
			if k := int(math.Ceil(gap * float64(n-1) / 2)); k > 1 {
				for j := 1; j < k; j++ {
					f := float64(j) / float64(k)
					out = append(out, newRuling(a, b, p.LowerShare+f*(q.LowerShare-p.LowerShare), p.UpperShare+f*gap))
				}
			}
		}
		out = append(out, q)
	}
	if t := rs[len(rs)-1].UpperShare; t < 1 {
		fan(1, t, 1, false)
		q := newRuling(a, b, 1, 1)
		q.Fan, q.Twist = true, 0
		out = append(out, q)
	}
	return out
}
