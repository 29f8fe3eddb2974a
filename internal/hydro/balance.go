package hydro

import (
	"errors"
	"fmt"
	"math"

	"thole/internal/cuts"
)

// Errors of the balance.
var (
	ErrSinks     = errors.New("she sinks: no draft carries the weight")
	ErrNoWeight  = errors.New("the weight is nothing, or not a number")
	ErrNoBalance = errors.New("no trim balances her at this heel")
)

// Rest is a body in balance: where it lies, what it pushes aside there, and how
// nearly the balance was met.
type Rest struct {
	Attitude
	Sums       cuts.Sums
	Iterations int
	// Solid is the share of the displacement that is not loose liquid; arms are those of the whole.
	Solid float64
	// Residual is the greater of the volume's and the trimming moment's
	// imbalance, as shares of the volume and of volume times length.
	Residual float64
}

// good is the residual at which a balance counts as met.
const good = 1e-10

// steepest is the greatest slope of trim that is looked at: 60 degrees.
const steepest = 1.7320508

// Hold balances a body held at a heel and free to sink and trim.
//
// In:     heel in radians, starboard down positive; guess, a nearby balance, or nil
// Out:    the rest; Good to a residual of 1e-10
// Error:  ErrNoWeight, ErrSinks, ErrNoBalance
// Source: Newton's method on volume and trimming moment, the derivatives being the
// waterplane's area and moments (Rawson & Tupper, Basic Ship Theory, ch. 3)
func Hold(b *Body, l Load, sea Sea, heel float64, guess *Attitude) (Rest, error) {
	target, err := b.target(l, sea)
	if err != nil {
		return Rest{}, err
	}
	lo, hi := b.Envelope.Box()
	length := hi[0] - lo[0]
	a := Attitude{Heel: heel}
	if guess != nil {
		a.Level, a.Slope = guess.Level, guess.Slope
	} else {
		a.Level = math.NaN()
		a.Level = b.level(a, target, 1e-3)
	}
	r, ok := newton(b, l, target, length, a)
	if !ok {
		r, err = b.search(l, target, length, heel)
	}
	r.Solid = target / (target + b.liquid())
	return r, err
}

// target is the volume to push aside.
func (b *Body) target(l Load, sea Sea) (float64, error) {
	v := l.Mass / sea.Density
	switch {
	case !(l.Mass > 0) || !(sea.Density > 0) || math.IsInf(v, 0) || math.IsNaN(l.G.X+l.G.Y+l.G.Z):
		return 0, ErrNoWeight
	case v >= b.Volume():
		return 0, fmt.Errorf("%w: %.0f kg aboard, and all of her pushes aside only %.0f kg", ErrSinks, l.Mass, b.Volume()*sea.Density)
	}
	return v, nil
}

// newton balances volume and trim from a start; it tells whether it got there.
func newton(b *Body, l Load, target, length float64, a Attitude) (Rest, bool) {
	sin, cos := math.Sincos(a.Heel)
	up := l.G.Z*cos - l.G.Y*sin // of the centre of gravity
	lo, hi := b.Envelope.Box()
	reach := math.Hypot(hi[1]-lo[1], hi[2]-lo[2]) / 4
	last := math.Inf(1)
	scale := 1.0
	best := a
	for i := 1; i <= 40; i++ {
		m := b.Below(cuts.Plane{Sin: sin, Cos: cos, Level: a.Level, Slope: a.Slope})
		t := a.Slope
		r1 := m.Volume - target
		r2 := m.X - m.Volume*l.G.X + t*(m.Up-m.Volume*up)
		size := math.Max(math.Abs(r1)/target, math.Abs(r2)/(target*length))
		if size < good {
			return Rest{Attitude: a, Sums: m, Iterations: i, Residual: size}, true
		}
		if size > 2*last && scale > 1.0/64 { // overshot: back, and shorter
			scale /= 2
			a.Level, a.Slope = (a.Level+best.Level)/2, (a.Slope+best.Slope)/2
			continue
		}
		if size < last {
			last, best = size, a
		}
		scale = math.Min(1, 2*scale)
		// Where the water stands h = Level + t x, lever and its change with depth:
		da1, dt1 := m.Breadth, m.BreadthX
		da2 := m.BreadthX - l.G.X*m.Breadth + t*(a.Level*m.Breadth+t*m.BreadthX-up*m.Breadth)
		dt2 := m.BreadthXX - l.G.X*m.BreadthX + t*(a.Level*m.BreadthX+t*m.BreadthXX-up*m.BreadthX) + m.Up - m.Volume*up
		det := da1*dt2 - dt1*da2
		if m.Breadth <= 0 || math.Abs(det) < 1e-14 {
			return Rest{}, false
		}
		dLevel := -(r1*dt2 - r2*dt1) / det
		dSlope := -(r2*da1 - r1*da2) / det
		// The step is held to what one waterplane can speak for; the level is
		// moved as seen amidships so that a turn does not throw it.
		if over := math.Abs(dSlope) / 0.2; over > 1 {
			dLevel, dSlope = dLevel/over, dSlope/over
		}
		mid := (lo[0] + hi[0]) / 2
		if over := math.Abs(dLevel+dSlope*mid) / reach; over > 1 {
			dLevel, dSlope = dLevel/over, dSlope/over
		}
		a.Level += scale * dLevel
		a.Slope += scale * dSlope
		if math.Abs(a.Slope) > steepest || math.IsNaN(a.Slope) {
			return Rest{}, false
		}
	}
	if last < 1e-8 { // rounding of a body whose corners meet the water
		a = best
		return Rest{Attitude: a, Sums: b.Below(a.Plane()), Iterations: 40, Residual: last}, true
	}
	return Rest{}, false
}

// level finds the water level at a held heel and slope that gives the volume, as near as fine,
// by Newton's method within halved bounds: the volume grows with the level whatever the shape.
// It starts at a.Level where that is within the bounds.
func (b *Body) level(a Attitude, target, fine float64) float64 {
	p := a.Plane()
	lo, hi := b.Envelope.Box()
	low, high := math.Inf(1), math.Inf(-1)
	for i := range 8 {
		x, y, z := pick(lo, hi, i)
		h := z*p.Cos - y*p.Sin - p.Slope*x
		low, high = math.Min(low, h), math.Max(high, h)
	}
	if !(p.Level > low && p.Level < high) {
		p.Level = (low + high) / 2
	}
	for range 60 {
		m := b.Below(p)
		if m.Volume < target {
			low = p.Level
		} else {
			high = p.Level
		}
		next := p.Level + (target-m.Volume)/m.Breadth
		if !(next > low && next < high) { // no water cut, or too far: halve
			next = (low + high) / 2
		}
		done := math.Abs(next-p.Level) < fine*(1+math.Abs(next))
		p.Level = next
		if done || high-low < fine*(1+math.Abs(next)) {
			break
		}
	}
	return p.Level
}

func pick(lo, hi [3]float64, corner int) (x, y, z float64) {
	at := [2][3]float64{lo, hi}
	return at[corner&1][0], at[corner>>1&1][1], at[corner>>2&1][2]
}

// search balances where Newton does not get there: it walks the trim between
// sixty degrees either way to the change from bow-up to bow-down moment that is
// stable in trim and nearest to level, and from there goes on by Newton's method,
// or by halving where that leads away.
func (b *Body) search(l Load, target, length, heel float64) (Rest, error) {
	sin, cos := math.Sincos(heel)
	up := l.G.Z*cos - l.G.Y*sin
	last, about := Attitude{Level: math.NaN()}, 0.0 // and the place along the boat about which the water then turns
	moment := func(t, fine float64) (float64, Attitude, cuts.Sums) {
		a := Attitude{Heel: heel, Slope: t, Level: last.Level + (last.Slope-t)*about}
		a.Level = b.level(a, target, fine)
		m := b.Below(a.Plane())
		last, about = a, m.X/m.Volume
		return m.X - m.Volume*l.G.X + t*(m.Up-m.Volume*up), a, m
	}
	const steps, rough, fine = 24, 1e-5, 1e-13
	slope := func(i int) float64 { return math.Tan(math.Pi / 3 * float64(i) / steps) }
	bestAt, found := math.Inf(1), Rest{}
	prev, _, _ := moment(slope(-steps), rough)
	for i := -steps + 1; i <= steps; i++ {
		next, _, _ := moment(slope(i), rough)
		lo, hi := slope(i-1), slope(i)
		// More trim by the stern must bring the buoyancy aft.
		if prev < 0 && next >= 0 && math.Min(math.Abs(lo), math.Abs(hi)) < bestAt {
			mid := (lo + hi) / 2
			start := Attitude{Heel: heel, Slope: mid, Level: last.Level + (last.Slope-mid)*about}
			if r, ok := newton(b, l, target, length, start); ok && r.Slope > lo && r.Slope < hi {
				found, bestAt, prev = r, math.Abs(r.Slope), next
				continue
			}
			for range 45 {
				mid := (lo + hi) / 2
				if v, _, _ := moment(mid, fine); v < 0 {
					lo = mid
				} else {
					hi = mid
				}
			}
			v, a, m := moment((lo+hi)/2, fine)
			found = Rest{Attitude: a, Sums: m, Iterations: steps, Residual: math.Abs(v) / (target * length)}
			bestAt = math.Abs(a.Slope)
		}
		prev = next
	}
	if math.IsInf(bestAt, 1) || found.Residual > 1e-6 {
		return Rest{}, fmt.Errorf("%w (%.1f degrees)", ErrNoBalance, heel*180/math.Pi)
	}
	return found, nil
}

// Arm is the righting arm of a rest held at its heel: how far the buoyancy
// acts to the low side of the weight, metres, positive when it turns her upright from starboard.
func (r *Rest) Arm(l Load) float64 {
	s, c := math.Sincos(r.Heel)
	return r.Solid * (r.Sums.Across/r.Sums.Volume - (l.G.Y*c + l.G.Z*s))
}

// Stiffness is the slope of the righting arm with heel at a rest, the trim and the
// sinkage free: metres a radian; at an upright rest it is the metacentric height.
func (r *Rest) Stiffness(l Load) float64 {
	k := r.stiffness(l)
	v := r.Sums.Volume / r.Solid
	// free in level and slope: take out what they give way
	det := k[0][0]*k[1][1] - k[0][1]*k[1][0]
	if det == 0 {
		return k[2][2] / v
	}
	a := -(k[0][2]*k[1][1] - k[0][1]*k[1][2]) / det
	t := -(k[1][2]*k[0][0] - k[0][2]*k[1][0]) / det
	return (k[2][2] + k[2][0]*a + k[2][1]*t) / v
}

// stiffness is the change of the three balances (volume, trimming moment,
// heeling moment) with level, slope and heel.
func (r *Rest) stiffness(l Load) [3][3]float64 {
	s, c := math.Sincos(r.Heel)
	m, t, gx := &r.Sums, r.Slope, l.G.X
	up, across := l.G.Z*c-l.G.Y*s, l.G.Y*c+l.G.Z*s
	h := r.Level - up
	return [3][3]float64{
		{m.Breadth, m.BreadthX, m.Offset},
		{
			m.BreadthX - gx*m.Breadth + t*(h*m.Breadth+t*m.BreadthX),
			m.BreadthXX - gx*m.BreadthX + t*(h*m.BreadthX+t*m.BreadthXX) + m.Up - m.Volume*up,
			m.OffsetX - gx*m.Offset + t*(h*m.Offset+t*m.OffsetX) - t*(m.Across-m.Volume*across),
		},
		{
			m.Offset - across*m.Breadth,
			m.OffsetX - across*m.BreadthX,
			m.OffsetOffset - across*m.Offset + m.Up - m.Volume*up,
		},
	}
}
