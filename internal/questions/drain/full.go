package drain

import (
	"context"
	"math"

	"thole/internal/afloat"
	"thole/internal/hydro"
)

// water is how much stands in each pool, m³; open says which of them the sea has come into.
type water struct {
	volume []float64
	open   []bool
}

func (q *ask) none() water {
	return water{make([]float64, len(q.all)), make([]bool, len(q.all))}
}

func (w water) with(i int, volume float64) water {
	v := append([]float64(nil), w.volume...)
	v[i] = volume
	return water{v, w.open}
}

// body is the boat with water in her wells: each is a tank that holds so much, carried as loose
// liquid; one that the sea stands in as outside is no part of her.
func (q *ask) body(w water) *hydro.Body {
	b := &hydro.Body{Envelope: q.t.Ship.Body.Envelope}
	for i, p := range q.all {
		if w.open[i] {
			continue
		}
		b.Pockets = append(b.Pockets, hydro.Pocket{Name: p.Name, Stack: p.Stack})
		if w.volume[i] > 0 {
			b.Loose = append(b.Loose, hydro.Loose{Name: p.Name, Stack: p.Stack, Volume: w.volume[i], Ratio: 1})
		}
	}
	return b
}

// filled is how she lies with every well full to the brim.
type filled struct {
	water water
	rest  hydro.Rest
	// gm is her stiffness upright with that water in her, at a fixed volume of it.
	gm float64
	// swamped: the sea stands over a brim.
	swamped bool
	err     error
}

// settling is how often the water that the brim keeps in is worked out anew for how she lies.
const settling = 16

// fill fills every well to its brim as she then lies.
func (q *ask) fill(l hydro.Load, dry *hydro.Attitude) filled {
	f := filled{water: q.none()}
	a := hydro.Attitude{}
	if dry != nil {
		a = *dry
	}
	for i, p := range q.all {
		f.water.volume[i] = p.holds(a)
	}
	for range settling {
		b := q.body(f.water)
		var hold hydro.Rest
		if hold, f.err = hydro.Hold(b, l, q.t.Sea, a.Heel, dry); f.err != nil {
			return f
		}
		f.gm, f.rest = hold.Stiffness(l), hold
		if f.gm <= 0 {
			return f
		}
		if f.rest, f.err = hydro.Float(b, l, q.t.Sea, &hold.Attitude); f.err != nil {
			return f
		}
		f.gm = f.rest.Stiffness(l)
		a = f.rest.Attitude
		dry = &f.rest.Attitude
		change := 0.0
		for i, p := range q.all {
			if f.water.open[i] {
				continue
			}
			if p.spill(a) < 0 {
				f.water.open[i], f.swamped = true, true
				f.water.volume[i] = 0
				change = 1
				continue
			}
			v := p.holds(a)
			change = math.Max(change, math.Abs(v-f.water.volume[i])/p.whole)
			f.water.volume[i] = v
		}
		if change < 1e-7 {
			break
		}
	}
	return f
}

// Arm is one point of the curve with the wells full.
type Arm struct {
	Heel  float64 `json:"heel_deg"`
	Arm   float64 `json:"arm_m"`
	Dry   float64 `json:"arm_dry_m"` // of the same boat with the wells empty
	Water float64 `json:"water_kg"`  // what has not spilled
}

// mostHeel is how far the curve is taken.
const mostHeel = 60

// arms is the righting arms with the wells full: what stands above the rim at a heel has spilled,
// and where the rim goes under the sea stands in the well.
//
// Error: a heel at which she cannot be balanced ends the curve
func (q *ask) arms(ctx context.Context, l hydro.Load, f filled, dry *hydro.Attitude) []Arm {
	var out []Arm
	near, bare := f.rest.Attitude, *dry
	side := 1.0
	if l.G.Y < 0 {
		side = -1 // towards the heavy side
	}
	w := f.water
	for h := 0; h <= mostHeel; h += 5 {
		if ctx.Err() != nil {
			return out
		}
		heel := side * float64(h) * deg
		var r hydro.Rest
		var err error
		for range 6 {
			if r, err = hydro.Hold(q.body(w), l, q.t.Sea, heel, &near); err != nil {
				return out
			}
			near = r.Attitude
			w2, change := q.none(), 0.0
			for i, p := range q.all {
				w2.open[i] = w.open[i] || p.spill(r.Attitude) < 0
				if !w2.open[i] {
					w2.volume[i] = math.Min(w.volume[i], p.holds(r.Attitude))
				}
				change = math.Max(change, math.Abs(w2.volume[i]-w.volume[i])/p.whole)
			}
			w = w2
			if change < 1e-5 {
				break
			}
		}
		point := Arm{Heel: float64(h), Arm: side * r.Arm(l)}
		d, err := hydro.Hold(q.t.Ship.Body, l, q.t.Sea, heel, &bare)
		if err != nil {
			return out
		}
		bare, point.Dry = d.Attitude, side*d.Arm(l)
		for i, p := range q.all {
			v := w.volume[i]
			if w.open[i] {
				v = p.Stack.Below(r.Plane()).Volume
			}
			point.Water += v * q.t.Sea.Density
		}
		out = append(out, point)
	}
	return out
}

// loaded is one day in one crew place, looked at in full.
type loaded struct {
	day, cond int
	dry       afloat.Floating
	full      filled
	pools     []pouring
}
