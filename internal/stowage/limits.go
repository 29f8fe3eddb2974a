package stowage

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/afloat"
	"thole/internal/hydro"
	"thole/internal/model"
	"thole/internal/stowing"
)

// The limits where boat.yaml names none, as the questions about floating and righting take them.
const (
	usualHeel   = 2 * math.Pi / 180
	usualTrim   = 3 * math.Pi / 180
	usualHeight = 0.020
)

// Asked is what is asked of heel and trim at rest, radians, and of the height of gravity left, metres.
type Asked struct{ Heel, Trim, Height float64 }

// AskedOf is what a boat is asked.
func AskedOf(b *model.Boat) Asked {
	a := Asked{usualHeel, usualTrim, usualHeight}
	if l := b.Limits.Heel; l != nil {
		a.Heel = float64(*l)
	}
	if l := b.Limits.Trim; l != nil {
		a.Trim = float64(*l)
	}
	if l := b.Limits.HeightLeft; l != nil {
		a.Height = float64(*l)
	}
	return a
}

// buoyancy is what the shape alone says of her, upright, at a mass: where the weight must lie along the boat, at the height of the
// base line, for her to trim so much.
type buoyancy struct {
	mass        float64
	bow, x, aft float64 // by the bow as much as asked at most, level, by the stern likewise
	across      float64 // height of the transverse metacentre above the base line, level
}

// masses are how many masses of the range are worked out; between them goes a straight line.
const masses = 7

// curves are the buoyancies over a range of masses.
type curves struct {
	slope float64 // of the trim asked at most
	at    []buoyancy
}

// newCurves works them out.
func newCurves(t *afloat.Trip, from, to, trim float64) (*curves, error) {
	out := &curves{slope: math.Tan(trim)}
	lo, hi := t.Ship.Body.Envelope.Box()
	x := (lo[0] + hi[0]) / 2
	for k := range masses {
		m := from + (to-from)*float64(k)/(masses-1)
		b := buoyancy{mass: m}
		for _, want := range []struct {
			slope float64
			x     *float64
		}{{0, &b.x}, {-out.slope, &b.bow}, {out.slope, &b.aft}} {
			l := hydro.Load{Mass: m, G: r3.Vec{X: x}}
			if want.slope != 0 {
				l.G.X = b.x
			}
			good := math.NaN()
			for range 16 { // Newton's method: she trims as the lengthwise metacentric height says
				r, err := hydro.Hold(t.Ship.Body, l, t.Sea, 0, nil)
				if err != nil && math.IsNaN(good) {
					return nil, err
				}
				if err != nil { // with an end out of the water the step was too long
					l.G.X = (l.G.X + good) / 2
					continue
				}
				good = l.G.X
				h := hydro.Measure(t.Ship.Body, l, r)
				if want.slope == 0 {
					b.across = h.GM // of a weight at the base line: the height above it
				}
				if math.Abs(r.Slope-want.slope) < 1e-7 {
					break
				}
				l.G.X += h.GML * (want.slope - r.Slope)
			}
			*want.x = good
		}
		x = b.x
		out.at = append(out.at, b)
	}
	return out, nil
}

// of is what the curves say of a mass.
func (c *curves) of(mass float64) buoyancy {
	step := (c.at[len(c.at)-1].mass - c.at[0].mass) / float64(len(c.at)-1)
	if step <= 0 {
		return c.at[0]
	}
	k := max(0, min(len(c.at)-2, int((mass-c.at[0].mass)/step)))
	a, b := c.at[k], c.at[k+1]
	u := (mass - a.mass) / step
	between := func(p, q float64) float64 { return p + (q-p)*u }
	return buoyancy{mass, between(a.bow, b.bow), between(a.x, b.x), between(a.aft, b.aft), between(a.across, b.across)}
}

// span is where the weight may lie along the boat, at a height, for a trim whose tangent is so much either way.
func (c *curves) span(mass, z, slope float64) (from, to float64) {
	k := c.of(mass)
	part := slope / c.slope
	return k.x + (k.bow-k.x)*part + z*slope, k.x + (k.aft-k.x)*part - z*slope
}

// slopeAt is the tangent of the trim with the weight at a place: a straight line from level to the trim asked at most, either way, and on.
func (c *curves) slopeAt(mass, x, z float64) float64 {
	k := c.of(mass)
	if x < k.x {
		return (x - k.x) / ((k.x-k.bow)/c.slope - z)
	}
	return (x - k.x) / ((k.aft-k.x)/c.slope - z)
}

// arms are how high the centre of gravity may lie at each heel, on some days (hydro.Curve.Heights).
type arms struct {
	days    []int
	heels   []float64
	heights [][]float64 // nil on a day on which no balance was found
	row     []float64
}

// least is the height of gravity left with the centre of gravity at a height and off the centre line, on a day: between the days worked
// out each heel goes by a straight line. NaN where it is not known.
func (a *arms) least(day int, z, y float64) float64 {
	k := 0
	for k+1 < len(a.days) && a.days[k+1] <= day {
		k++
	}
	row := a.heights[k]
	if a.days[k] < day && k+1 < len(a.days) {
		next := a.heights[k+1]
		if row == nil || next == nil {
			return math.NaN()
		}
		u := float64(day-a.days[k]) / float64(a.days[k+1]-a.days[k])
		a.row = a.row[:0]
		for i := range row {
			a.row = append(a.row, row[i]+(next[i]-row[i])*u)
		}
		row = a.row
	}
	if row == nil {
		return math.NaN()
	}
	h, _, _ := hydro.LeastHeight(a.heels, row, z, y, math.Abs(y) > 1e-9)
	return h
}

// Balance is what the days ask of the moments of what is stowed. It is for one goroutine at a time.
type Balance struct {
	Problem stowing.Problem // with rest and limits
	Asked   Asked           // of the folder
	// Wished is what the limits in the problem ask: of heel and trim no more than as written or than half of what the folder asks,
	// whichever is more, and in any case a little less than it asks, of height a little more, for what the forecast and the days between the check days are out by.
	Wished Asked
	s      *Stowage
	c      *curves
	shift  []float64   // by day: what was added to the rest's y moment so that the limits of all conditions lie evenly about nothing
	apart  [][]r3.Vec  // condition → day: its moment less that of the first condition
	mass   [][]float64 // condition → day
	arms   []arms      // by condition
}

// reserve is the share of what is asked that is kept back. No source: judgement; TestForecast says what the forecast is out by.
const reserve = 0.03

// reserveHeight is what is asked of the height left beyond what the folder asks, likewise.
const reserveHeight = 0.005

// Balanced puts the rest and the limits of every day into the problem. The limits are those of the worst of all places of the crew, each day:
//
//   - trim from where the weight must lie for her to trim so much at the day's mass, upright; heel from the metacentric height, level: a
//     moment of m·GM·tan(limit); both with the centre of gravity as high as it lies as written;
//   - height from the righting arms of a few days as written: as high as the centre of gravity may lie so that the height asked is left.
//
// Good to: on both demonstration boats (TestForecast) as written 0.03 deg of trim, 0.002 deg of heel and 1 mm of height; for a plan that moves
// nearly everything 0.08 deg of trim, 0.5 deg of heel and 5 mm of height, most of it from things of one piece that are used up slowly and were
// carried across: a plan lets them go at one go, half way through their days
// Source: Barrass & Derrett, Ship Stability for Masters and Mates (moments to trim and to heel); KN curves for the height
func (s *Stowage) Balanced(ctx context.Context) (*Balance, error) {
	t := s.Trip
	b := &Balance{Problem: s.Problem, Asked: AskedOf(&t.Folder.Boat), s: s}
	load := make([][]model.State, len(t.Conditions))
	from, to := math.Inf(1), 0.0
	for c := range t.Conditions {
		for d := range t.Days + 1 {
			st := t.State(d, c)
			load[c] = append(load[c], st)
			from, to = math.Min(from, st.Mass), math.Max(to, st.Mass)
		}
	}
	var err error
	if b.c, err = newCurves(t, from, to, b.Asked.Trim); err != nil {
		return nil, err
	}
	b.apart, b.mass, b.shift = make([][]r3.Vec, len(load)), make([][]float64, len(load)), make([]float64, t.Days+1)
	for c := range load {
		for d := range load[c] {
			b.apart[c] = append(b.apart[c], r3.Sub(moment(&load[c][d]), moment(&load[0][d])))
			b.mass[c] = append(b.mass[c], load[c][d].Mass)
		}
	}
	if err := b.heights(ctx); err != nil {
		return nil, err
	}
	written, err := b.rest(load[0])
	if err != nil {
		return nil, err
	}
	b.wish(written)
	b.limits(load)
	return b, nil
}

func moment(s *model.State) r3.Vec { return r3.Scale(s.Mass, s.G) }

// few is how many days the righting arms are worked out for.
const few = 7

// heights finds how high the centre of gravity may lie.
func (b *Balance) heights(ctx context.Context) error {
	t := b.s.Trip
	for c := range t.Conditions {
		var a arms
		for k := range few {
			d := (t.Days*k + (few-1)/2) / (few - 1)
			if len(a.days) > 0 && d == a.days[len(a.days)-1] {
				continue
			}
			if err := ctx.Err(); err != nil {
				return err
			}
			r := t.RightingAt(d, c)
			a.days = append(a.days, d)
			if r.Err != nil || r.Curve == nil {
				a.heights = append(a.heights, nil)
				continue
			}
			a.heels = r.Curve.Heels
			a.heights = append(a.heights, r.Curve.Heights(nil))
		}
		b.arms = append(b.arms, a)
	}
	return nil
}

// rest is the boat without what is stowed, by day, in the first condition; it gives the moments of the layout as written.
func (b *Balance) rest(load []model.State) (*stowing.Figures, error) {
	e, err := stowing.NewEvaluator(&b.s.Problem)
	if err != nil {
		return nil, err
	}
	f := &stowing.Figures{}
	e.Evaluate(b.s.Written, f)
	for d := range load {
		m := moment(&load[d])
		b.Problem.Trip.Rest = append(b.Problem.Trip.Rest, stowing.Load{Mass: load[d].Mass - f.Days[d].Mass, Moment: r3.Sub(m, f.Days[d].Moment)})
		f.Days[d] = stowing.Load{Mass: load[d].Mass, Moment: m}
	}
	return f, nil
}

// wish chooses what a plan is asked.
func (b *Balance) wish(written *stowing.Figures) {
	var heel, trim float64
	for _, s := range b.Forecast(written) {
		heel, trim = math.Max(heel, math.Abs(s.Heel)), math.Max(trim, math.Abs(s.Trim))
	}
	b.Wished = b.Asked
	b.Wished.Height += reserveHeight
	b.Wished.Heel = math.Min((1-reserve)*b.Asked.Heel, math.Max(b.Asked.Heel/2, heel))
	b.Wished.Trim = math.Min((1-reserve)*b.Asked.Trim, math.Max(b.Asked.Trim/2, trim))
}

// limits turns what is wished into moments of the whole boat in the first condition.
func (b *Balance) limits(load [][]model.State) {
	heel, trim := math.Tan(b.Wished.Heel), math.Tan(b.Wished.Trim)
	for d := range load[0] {
		l := stowing.Limits{XMin: math.Inf(-1), XMax: math.Inf(1), ZMax: math.Inf(1)}
		yMin, yMax := math.Inf(-1), math.Inf(1)
		for c := range load {
			st := &load[c][d]
			off := b.apart[c][d]
			bow, aft := b.c.span(st.Mass, st.G.Z, trim)
			l.XMin, l.XMax = math.Max(l.XMin, st.Mass*bow-off.X), math.Min(l.XMax, st.Mass*aft-off.X)
			wide := st.Mass * math.Max(0, b.c.of(st.Mass).across-st.G.Z) * heel
			yMin, yMax = math.Max(yMin, -wide-off.Y), math.Min(yMax, wide-off.Y)
			if left := b.arms[c].least(d, st.G.Z, st.G.Y); !math.IsNaN(left) {
				l.ZMax = math.Min(l.ZMax, st.Mass*(st.G.Z+left-b.Wished.Height)-off.Z)
			}
		}
		// The solver asks the same of both sides: what the crew's places make uneven goes into the rest.
		middle := (yMin + yMax) / 2
		b.shift[d] = -middle
		b.Problem.Trip.Rest[d].Moment.Y -= middle
		l.YMax = math.Max(0, (yMax-yMin)/2)
		b.Problem.Trip.Limits = append(b.Problem.Trip.Limits, l)
	}
}

// Forecast is how she would lie, by day and at the worst of all crew places, by the moments of a layout that was judged
// with this balance: foretold from the curves, and not worked out afloat.
func (b *Balance) Forecast(f *stowing.Figures) []State {
	var out []State
	for d := range f.Days {
		w := State{Day: d, Height: math.Inf(1)}
		for c := range b.mass {
			m := b.mass[c][d]
			g := r3.Scale(1/m, r3.Add(r3.Sub(f.Days[d].Moment, r3.Vec{Y: b.shift[d]}), b.apart[c][d]))
			if trim := math.Atan(b.c.slopeAt(m, g.X, g.Z)); math.Abs(trim) > math.Abs(w.Trim) {
				w.Trim = trim
			}
			if gm := b.c.of(m).across - g.Z; gm > 0 {
				if heel := math.Atan(g.Y / gm); math.Abs(heel) > math.Abs(w.Heel) {
					w.Heel = heel
				}
			}
			w.Height, w.Mass = least(w.Height, b.arms[c].least(d, g.Z, g.Y)), math.Max(w.Mass, m)
		}
		out = append(out, w)
	}
	return out
}
