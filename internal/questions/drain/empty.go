package drain

import (
	"context"
	"math"
	"sort"

	"gonum.org/v1/gonum/integrate/quad"

	"thole/internal/hydro"
)

// stage is how she lies with so much water in a well.
type stage struct {
	volume   float64
	attitude hydro.Attitude
}

// stages is how many volumes between full and empty have a balance of their own.
const stages = 10

// Moment is a point of the time in which a well empties.
type Moment struct {
	Time  float64 `json:"time_s"`
	Water float64 `json:"water_kg"`
	Depth float64 `json:"depth_m"` // over the middle of the sole; less than nothing when only a corner is wet
	Sea   float64 `json:"sea_m"`   // of the sea outside, measured likewise
}

// pouring is a well emptying on a day in a crew place.
type pouring struct {
	full   float64 // m³ at the brim
	rest   float64 // m³ that stay in for good
	half   float64 // s; +Inf when it never gets there
	clear  float64 // s to 20 mm over the sole
	sole   float64 // s to the sole itself
	track  []Moment
	heaved bool // she fell over while it emptied
	err    error
}

// emptying is a well with her attitudes by the water in it.
type emptying struct {
	*pool
	stages []stage // most water first
	last   float64 // level found last: the next is not far
}

// attitude is how she lies with a volume in the well, straight between the stages.
func (e *emptying) attitude(v float64) hydro.Attitude {
	i := sort.Search(len(e.stages), func(i int) bool { return e.stages[i].volume <= v })
	if i == 0 {
		return e.stages[0].attitude
	}
	if i == len(e.stages) {
		return e.stages[i-1].attitude
	}
	a, b := e.stages[i-1], e.stages[i]
	f := (v - b.volume) / (a.volume - b.volume)
	mix := func(p, q float64) float64 { return q + f*(p-q) }
	return hydro.Attitude{Heel: mix(a.attitude.Heel, b.attitude.Heel), Level: mix(a.attitude.Level, b.attitude.Level), Slope: mix(a.attitude.Slope, b.attitude.Slope)}
}

// flow is what leaves with a volume of water in the well, m³/s.
func (e *emptying) flow(v float64) float64 {
	a := e.attitude(v)
	inside := e.level(a, v, e.last)
	e.last = inside
	sea := a.Level / math.Sqrt(1+a.Slope*a.Slope)
	q := 0.0
	for i := range e.outlets {
		o := e.outlets[i].opening
		o.Level = height(a, e.outlets[i].at)
		q += o.Flow(inside, sea)
	}
	return q
}

// points is the order of the sum over one step.
const points = 6

var nodes, weights = func() (x, w []float64) {
	x, w = make([]float64, points), make([]float64, points)
	quad.Legendre{}.FixedLocations(x, w, 0, 1)
	return x, w
}()

// step is the time from one volume down to another.
//
// Good to: 0.1 % of the whole (TestPublishedTimes)
// Source: dt = dV / Q by Gauss and Legendre; V = b + (a - b) u², which takes away the root that an
// outlet dies with
func (e *emptying) step(a, b float64) float64 {
	t := 0.0
	for i, u := range nodes {
		q := e.flow(b + (a-b)*u*u)
		if !(q > 0) {
			return math.Inf(1)
		}
		t += weights[i] * 2 * u * (a - b) / q
	}
	return t
}

// run follows the water from full down through every target, most first. What is never reached is +Inf;
// rest is where the water stays.
func (e *emptying) run(ctx context.Context, targets []float64) (times []float64, track []Moment, rest float64) {
	from := e.stages[0].volume
	times = make([]float64, len(targets))
	for i := range times {
		times[i] = math.Inf(1)
		if targets[i] >= from {
			times[i] = 0
		}
	}
	rest = e.rest()
	marks := append([]float64(nil), targets...)
	const steps = 24
	for i := range steps + 1 {
		marks = append(marks, rest+(from-rest)*math.Pow(1-float64(i)/steps, 1.5))
	}
	sort.Sort(sort.Reverse(sort.Float64Slice(marks)))
	t, v := 0.0, from
	track = append(track, e.moment(0, from))
	still := rest + 1e-6*e.whole // where a sill only ever comes nearer
	for _, m := range marks {
		end := m <= still
		if m >= v || ctx.Err() != nil || m < rest-1e-9*e.whole {
			continue
		}
		dt := e.step(v, m)
		if end && (math.IsInf(dt, 0) || e.dies(rest)) {
			break
		}
		t, v = t+dt, m
		if math.IsInf(t, 0) {
			break
		}
		track = append(track, e.moment(t, v))
		for i, target := range targets {
			if target == m {
				times[i] = t
			}
		}
	}
	return times, track, rest
}

// dies tells whether the flow runs out before the water does, as over a sill: then the last of it takes for ever.
func (e *emptying) dies(rest float64) bool {
	near, far := e.flow(rest+1e-9*e.whole), e.flow(rest+4e-9*e.whole)
	return !(near > 0 && far > 0) || math.Log(far/near)/math.Log(4) > 0.95
}

// rest is the volume at which the flow ends.
func (e *emptying) rest() float64 {
	from := e.stages[0].volume
	const steps = 60
	prev := from
	for i := 1; i <= steps; i++ {
		v := from * (1 - float64(i)/steps)
		if i == steps {
			v = 1e-9 * e.whole
		}
		if e.flow(v) > 0 {
			prev = v
			continue
		}
		on, off := prev, v
		for range 40 {
			m := (on + off) / 2
			if e.flow(m) > 0 {
				on = m
			} else {
				off = m
			}
		}
		return on
	}
	return 0
}

func (e *emptying) moment(t, v float64) Moment {
	a := e.attitude(v)
	_, middle := e.soleAbove(a)
	sea := a.Level / math.Sqrt(1+a.Slope*a.Slope)
	return Moment{Time: t, Water: v, Sea: -middle, Depth: e.level(a, v, e.last) - sea - middle}
}

// fallen is the heel, over that at rest, beyond which she counts as having fallen over, 10 degrees.
const fallen = 10 * deg

// pour empties one well on a day, the others still full.
func (q *ask) pour(ctx context.Context, i int, l hydro.Load, f filled) pouring {
	p := q.all[i]
	out := pouring{full: f.water.volume[i], half: math.Inf(1), clear: math.Inf(1), sole: math.Inf(1)}
	if f.water.open[i] {
		out.full = p.Stack.Below(f.rest.Plane()).Volume
		out.rest = out.full
		return out
	}
	if len(p.outlets) == 0 {
		out.rest = out.full
		return out
	}
	e := &emptying{pool: p, last: math.NaN()}
	near := f.rest.Attitude
	for k := 0; k <= stages; k++ {
		v := out.full * (1 - float64(k)/stages)
		r := f.rest
		if k > 0 {
			if ctx.Err() != nil {
				out.err = ctx.Err()
				return out
			}
			if n := len(e.stages); n > 1 { // straight on from the two before
				a, b := e.stages[n-1].attitude, e.stages[n-2].attitude
				near = hydro.Attitude{Heel: 2*a.Heel - b.Heel, Level: 2*a.Level - b.Level, Slope: 2*a.Slope - b.Slope}
			}
			if r, out.err = hydro.Float(q.body(f.water.with(i, v)), l, q.t.Sea, &near); out.err != nil {
				return out
			}
		}
		if math.Abs(r.Heel-f.rest.Heel) > fallen {
			out.heaved = true
		}
		near = r.Attitude
		e.stages = append(e.stages, stage{v, r.Attitude})
	}
	times, track, rest := e.run(ctx, []float64{out.full / 2, p.clear, p.under})
	out.half, out.clear, out.sole, out.track, out.rest = times[0], times[1], times[2], track, rest
	if p.clear >= out.full {
		out.clear = 0 // never deeper than that
	}
	for k := range out.track {
		out.track[k].Water *= q.t.Sea.Density
	}
	return out
}
