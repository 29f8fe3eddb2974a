package crossing

import (
	"math"

	"thole/internal/motion"
	"thole/internal/underway"
)

// The steps of the table that passages read. Modelling choice: between its points runs are straight, and the whole one is so fine
// that this is not felt (TestBoatAgainstMotion).
const (
	windStep  = 0.5 // m/s
	angleStep = 5 * math.Pi / 180
	loadSteps = 4
	// coarser is how many times longer the steps of wind and angle are in a quick table.
	coarser = 2
)

// boat is how she moves, laid out for being read some hundred million times: evenly in load, wind and angle.
type boat struct {
	least, perLoad float64
	perWind        float64
	perAngle       float64
	loads          int
	winds, angles  int
	legs           []leg
	lies           []lie
}

// leg is what comes of wanting a track: the turn off it to the nearest that she can be kept on, and her speed along that.
//
// From the edge of what she can be kept on the turn grows as the way to it, so that it may be read straight between two points; how much
// of rudder and oars is in hand jumps there, and is left out.
type leg struct{ turn, speed float64 }

// kept is the turn off a track under which she is kept on it: a degree, what a table's edge is known to at best. Modelling choice.
const kept = math.Pi / 180

// lie is how she drifts, as shares of the wind, adrift and to the sea anchor.
type lie struct{ down, across, heldDown, heldAcross float64 }

// newBoat reads a table of motion, and how she lies to her sea anchor; adrift where held is nil.
func newBoat(t *motion.Table, held *underway.Held, low, high, top float64, d Detail) *boat {
	dw, da, nl := windStep, angleStep, loadSteps+1
	if d == Quick {
		dw, da, nl = dw*coarser, da*coarser, 2
	}
	if high-low < 1 {
		nl = 1
	}
	b := &boat{least: low, loads: nl, perWind: 1 / dw, perAngle: 1 / da, winds: int(math.Ceil(top/dw)) + 1, angles: int(math.Round(math.Pi/da)) + 1}
	if nl > 1 {
		b.perLoad = float64(nl-1) / (high - low)
	}
	for l := range nl {
		load := low
		if nl > 1 {
			load += (high - low) * float64(l) / float64(nl-1)
		}
		for w := range b.winds {
			wind := float64(w) * dw
			for a := range b.angles {
				want := math.Min(math.Pi, float64(a)*da)
				g := t.Leg(wind, want, load)
				b.legs = append(b.legs, leg{math.Remainder(g.Course-want, 2*math.Pi), g.Speed})
			}
			wind = math.Min(top, math.Max(dw, wind)) // of no wind there is no share; past the top they stay
			drift := t.Drift(wind, load)
			x := lie{down: drift.Down / wind, across: drift.Across / wind}
			x.heldDown, x.heldAcross = x.down, x.across
			if held != nil {
				d, a := held.Drift(wind, load)
				x.heldDown, x.heldAcross = d/wind, a/wind
			}
			b.lies = append(b.lies, x)
		}
	}
	return b
}

// cell is where a wind and a load lie.
func (b *boat) cell(wind, load float64) (w, l int, tw, tl float64) {
	x := min(wind*b.perWind, float64(b.winds-1))
	w = max(0, min(int(x), b.winds-2))
	tw = x - float64(w)
	if b.loads > 1 {
		y := max(0, min((load-b.least)*b.perLoad, float64(b.loads-1)))
		l = min(int(y), b.loads-2)
		tl = y - float64(l)
	}
	return w, l, tw, tl
}

// Rowed is as voyages.Boat has it. The table ends at its highest wind; past it, she goes as there.
func (b *boat) Rowed(wind, off, load float64) (made, speed float64, held bool) {
	a := math.Abs(off)
	for a > math.Pi {
		a = math.Abs(a - 2*math.Pi)
	}
	w, l, tw, tl := b.cell(wind, load)
	x := a * b.perAngle
	k := min(int(x), b.angles-2)
	ta := x - float64(k)
	var turn float64
	for i := range 2 {
		if tl == 0 && i == 1 {
			break
		}
		sl := 1 - tl
		if i == 1 {
			sl = tl
		}
		row := b.legs[((l+i)*b.winds+w)*b.angles+k:]
		p, q := &row[0], &row[1]
		r, s := &row[b.angles], &row[b.angles+1]
		wp, wq, wr, ws := sl*(1-tw)*(1-ta), sl*(1-tw)*ta, sl*tw*(1-ta), sl*tw*ta
		turn += wp*p.turn + wq*q.turn + wr*r.turn + ws*s.turn
		speed += wp*p.speed + wq*q.speed + wr*r.speed + ws*s.speed
	}
	if math.Abs(turn) < kept {
		return off, speed, true
	}
	if off < 0 {
		turn = -turn
	}
	return off + turn, speed, false
}

func (b *boat) lie(wind, load float64) lie {
	w, l, tw, tl := b.cell(wind, load)
	at := func(l int) lie {
		p, q := b.lies[l*b.winds+w], b.lies[l*b.winds+w+1]
		return lie{p.down + tw*(q.down-p.down), p.across + tw*(q.across-p.across), p.heldDown + tw*(q.heldDown-p.heldDown), p.heldAcross + tw*(q.heldAcross-p.heldAcross)}
	}
	p := at(l)
	if tl > 0 {
		q := at(l + 1)
		p = lie{p.down + tl*(q.down-p.down), p.across + tl*(q.across-p.across), p.heldDown + tl*(q.heldDown-p.heldDown), p.heldAcross + tl*(q.heldAcross-p.heldAcross)}
	}
	return p
}

// Adrift is as voyages.Boat has it; past the table's highest wind it grows with the wind.
func (b *boat) Adrift(wind, load float64) (down, across float64) {
	x := b.lie(wind, load)
	return x.down * wind, x.across * wind
}

// Anchored is the same to the sea anchor.
func (b *boat) Anchored(wind, load float64) (down, across float64) {
	x := b.lie(wind, load)
	return x.heldDown * wind, x.heldAcross * wind
}
