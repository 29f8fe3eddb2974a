package right

import (
	"math"

	"thole/internal/hydro"
)

// Weather is the severe wind and rolling criterion, as a reference: it was made for
// ships of 24 m and over.
//
// Source: IMO 2008 IS Code (MSC.267(85)), part A 2.3; tables from memory, check your own copy
type Weather struct {
	Area   float64 // of the side above water, m²
	Lever  float64 // from its middle to half the draft, m
	Steady float64 // wind lever l_w1, m
	Gust   float64 // l_w2
	Heel   float64 // under the steady wind, radians
	Roll   float64 // back to windward, radians
	A, B   float64 // areas to be compared, m rad; B must not be less
}

// gravity is what the Code uses, m/s².
const gravity = 9.81

// table is a published table read between its rows.
type table [][2]float64

func (t table) at(x float64) float64 {
	if x <= t[0][0] {
		return t[0][1]
	}
	for i := 1; i < len(t); i++ {
		if x <= t[i][0] {
			f := (x - t[i-1][0]) / (t[i][0] - t[i-1][0])
			return t[i-1][1] + f*(t[i][1]-t[i-1][1])
		}
	}
	return t[len(t)-1][1]
}

var (
	rollX1 = table{{2.4, 1}, {2.5, .98}, {2.6, .96}, {2.7, .95}, {2.8, .93}, {2.9, .91}, {3.0, .90}, {3.1, .88}, {3.2, .86}, {3.4, .82}, {3.5, .80}}
	rollX2 = table{{.45, .75}, {.50, .82}, {.55, .89}, {.60, .95}, {.65, .97}, {.70, 1}}
	rollS  = table{{6, .100}, {7, .098}, {8, .093}, {12, .065}, {14, .053}, {16, .044}, {18, .038}, {20, .035}}
)

// RollBack is the angle to which she is taken to roll to windward, radians, without bilge keels.
//
// In: length, beam and draft of the water line in metres, block coefficient, height of gravity above the keel, metacentric height
// Source: IMO 2008 IS Code part A 2.3.4
func RollBack(length, beam, draft, cb, kg, gm float64) float64 {
	r := 0.73 + 0.6*(kg-draft)/draft
	c := 0.373 + 0.023*beam/draft - 0.043*length/100
	period := 2 * c * beam / math.Sqrt(gm)
	return 109 * rollX1.at(beam/draft) * rollX2.at(cb) * math.Sqrt(math.Max(0, r)*rollS.at(period)) * deg
}

// WindLever is the lever of a steady wind on a side area, metres; mass in kilograms.
//
// Source: IMO 2008 IS Code part A 2.3.2, P = 504 Pa
func WindLever(area, lever, mass float64) float64 {
	return 504 * area * lever / (gravity * mass)
}

// weather works the criterion out on the curve shown; ok is false where she has no stiffness.
func (q *ask) weather(h hydro.Hydrostatics) (w Weather, ok bool) {
	if h.GM <= 0 || h.Draft <= 0 || h.Length <= 0 {
		return w, false
	}
	w.Area, w.Lever = q.side(h)
	w.Steady = WindLever(w.Area, w.Lever, h.Mass)
	w.Gust = 1.5 * w.Steady
	kg := h.KB + h.BM - h.GM
	w.Roll = RollBack(h.Length, h.Beam, h.Draft, h.Cb, kg, h.GM)
	w.Heel = q.meets(w.Steady, 0)
	end := 50 * deg
	for _, o := range q.openings() {
		if !o.Closed && !o.NonReturn {
			end = math.Min(end, o.Heel*deg)
		}
	}
	gust := q.meets(w.Gust, 0)
	w.A = hydro.Simpson(w.Heel-w.Roll, gust, 2*deg, func(x float64) float64 { return w.Gust - q.anyArm(x) })
	if end > gust {
		w.B = hydro.Simpson(gust, end, 2*deg, func(x float64) float64 { return q.anyArm(x) - w.Gust })
	}
	return w, true
}

// anyArm is the arm at any heel; to the side not worked out it is taken as the same, turned about.
func (q *ask) anyArm(heel float64) float64 {
	sign := 1.0
	if q.curve.Even && heel < 0 {
		sign, heel = -1, -heel
	}
	p, err := q.curve.At(heel)
	if err != nil {
		return 0
	}
	return sign * p.Arm
}

// meets is the first heel at which the arm reaches a lever; 90 degrees where it never does.
func (q *ask) meets(lever, from float64) float64 {
	prev := from
	for h := from; h <= math.Pi/2; h += 2.5 * deg {
		if q.anyArm(h) >= lever {
			lo, hi := prev, h
			for range 20 {
				if mid := (lo + hi) / 2; q.anyArm(mid) < lever {
					lo = mid
				} else {
					hi = mid
				}
			}
			return hi
		}
		prev = h
	}
	return math.Pi / 2
}

// side is the area of the hull's and the cabins' side above water, and the lever from its middle to half the draft.
func (q *ask) side(h hydro.Hydrostatics) (area, lever float64) {
	const steps = 300
	ship := q.t.Ship
	from, to := ship.Hull.From, ship.Hull.To
	for _, c := range ship.Cabins {
		from, to = math.Min(from, c.From), math.Max(to, c.To)
	}
	d := (to - from) / steps
	var moment float64
	p := h.Rest.Plane()
	mid := 0.0
	for i := range steps {
		x := from + (float64(i)+0.5)*d
		top := math.Inf(-1)
		if x >= ship.Hull.From && x <= ship.Hull.To {
			_, top = ship.Hull.Span(x)
		}
		for _, c := range ship.Cabins {
			if x >= c.From && x <= c.To {
				_, head := c.Span(x)
				top = math.Max(top, head)
			}
		}
		water := p.Level + p.Slope*x
		if top <= water {
			continue
		}
		area += d * (top - water)
		moment += d * (top - water) * (top + water) / 2
		mid += d * (top - water) * water
	}
	if area == 0 {
		return 0, 0
	}
	return area, (moment-mid)/area + h.Draft/2
}

// SmallCraftWind is the wind heeling moment of the small-craft standard, newton metres.
//
// In: side area m², water line length m, mean draft m, wind m/s
// Source: ISO/FDIS 12217-1:2001 worksheets as printed; check your own copy
func SmallCraftWind(area, length, draft, wind float64) float64 {
	return 0.3 * area * (area/length + draft) * wind * wind
}

// SmallCraftRoll is the assumed roll angle of the small-craft standard in exposed waters, radians, for a
// displaced volume in m³.
//
// Source: ISO/FDIS 12217-1:2001 worksheets as printed (category B); check your own copy
func SmallCraftRoll(volume float64) float64 { return (20 + 20/volume) * deg }
