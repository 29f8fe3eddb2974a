package resistance

import (
	"math"
	"sort"
)

// track is a curve through points that never swings between them: where the points rise it rises, and it turns only at
// a point. Its slopes are those of a parabola through three points, cut to what keeps that true.
//
// Good to: third order in the spacing
// Source: Hyman, SIAM J. Sci. Stat. Comput. 4 (1983), on Fritsch & Carlson (1980)
type track struct{ x, y, d []float64 }

func newTrack(x, y []float64) track {
	n := len(x)
	t := track{x, y, make([]float64, n)}
	slope := func(i int) float64 { return (y[i+1] - y[i]) / (x[i+1] - x[i]) }
	for i := 1; i+1 < n; i++ {
		a, b := slope(i-1), slope(i)
		if a*b > 0 {
			h, k := x[i]-x[i-1], x[i+1]-x[i]
			d := (a*k + b*h) / (h + k)
			most := 3 * math.Min(math.Abs(a), math.Abs(b))
			t.d[i] = math.Max(-most, math.Min(d, most))
		}
	}
	t.d[0], t.d[n-1] = slope(0), slope(n-2)
	return t
}

// at is the curve between its first and last point.
func (t track) at(x float64) float64 {
	i := min(max(sort.SearchFloat64s(t.x, x), 1), len(t.x)-1)
	return t.in(i-1, x)
}

// in is the curve on its span i.
func (t track) in(i int, x float64) float64 {
	h := t.x[i+1] - t.x[i]
	s := (x - t.x[i]) / h
	u := 1 - s
	return u*u*((1+2*s)*t.y[i]+s*h*t.d[i]) + s*s*((1+2*u)*t.y[i+1]-u*h*t.d[i+1])
}

// spans is how many steps of speed a table has.
const spans = 240

// Table is a boat on one day: her resistance by speed worked out once, so that asking costs some nanoseconds. It does
// not change once made and may be used by many goroutines.
type Table struct {
	boat   *Boat
	day    Condition
	step   float64
	top    float64
	calm   track // divided by speed squared, which is nearly even
	doubt  track // likewise
	seas   track // N
	hasSea bool
}

// In makes the table of a day.
//
// Error:  ErrInput
// Good to: 0.2 % of Parts' water resistance between 0.2 m/s and a Froude number of 0.6 (TestTable)
func (b *Boat) In(c Condition) (*Table, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	t := &Table{boat: b, day: c, top: Fastest * math.Sqrt(Gravity*b.Hull.Length)}
	t.step = t.top / spans
	x, y, d := make([]float64, spans+1), make([]float64, spans+1), make([]float64, spans+1)
	for i := range x {
		x[i] = t.step * float64(i)
		v := math.Max(x[i], t.step/1000) // the limit at rest
		p := b.water(v, c)
		f := p.calm()
		y[i], d[i] = f.Value/(v*v), f.Spread/(v*v)
	}
	t.calm, t.doubt = newTrack(x, y), newTrack(x, d)
	if c.Sea.Height > 0 && headed(c.Sea.From) > 0 {
		const coarse = 24
		t.hasSea = true
		w := b.Hull.swell(c.Sea)
		sx, sy := make([]float64, coarse+1), make([]float64, coarse+1)
		for i := range sx {
			f := float64(i) / coarse
			sx[i] = t.top * f * f // it grows fastest from rest
			sy[i] = b.Hull.swelled(&w, sx[i], c.Water.Density)
		}
		t.seas = newTrack(sx, sy)
	}
	return t, nil
}

// Resistance is what the water does at a speed, waves of the sea with it, wind left out, N: with the speed's sign in calm
// water. Past the table's end the coefficient is held.
func (t *Table) Resistance(v float64) float64 { return t.along(t.calm, v)*v*math.Abs(v) + t.sea(v) }

// along is a track at an absolute speed.
func (t *Table) along(k track, v float64) float64 {
	v = math.Abs(v)
	if !(v < t.top) {
		return k.y[spans]
	}
	return k.in(min(int(v/t.step), spans-1), v)
}

// sea is the added drag; astern it is as at rest.
func (t *Table) sea(v float64) float64 {
	switch {
	case !t.hasSea:
		return 0
	case v <= 0:
		return t.seas.y[0]
	case v >= t.top:
		return t.seas.y[len(t.seas.y)-1]
	}
	return t.seas.at(v)
}

// Total is the whole resistance at a speed in a wind, and its spread; a negative one drives her.
//
// In:     m/s, astern negative; a wind in range (Speed and the others refuse one that is not)
func (t *Table) Total(v float64, w Wind) Force {
	water := Force{t.along(t.calm, v) * v * math.Abs(v), t.along(t.doubt, v) * v * v}
	s, a := t.sea(v), air(t.boat.blows, v, w)
	return water.plus(Force{s, seasDoubt * s}).plus(Force{a, airDoubt * math.Abs(a)})
}

// total is Total without the spread.
func (t *Table) total(v float64, w Wind) float64 { return t.Resistance(v) + air(t.boat.blows, v, w) }
