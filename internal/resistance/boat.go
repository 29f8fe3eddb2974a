package resistance

import (
	"cmp"
	"fmt"
	"math"
)

// How well each part is known, as a share of it: half of the 19-in-20 range. Modelling choices, each with its ground.
const (
	frictionDoubt  = 0.05 // between friction lines, and laminar patches at a few million Reynolds
	transomDoubt   = 0.50
	appendageDoubt = 0.30
	airDoubt       = 0.30 // coefficients by part, sheltering, the wind among the waves
	seasDoubt      = 1.00 // a ship's rule on a small boat: from nothing to twice
	growthDoubt    = 2.0  // growth comes in half or in twice the days
)

// WaveDoubt is how far Michell's integral may be out on a real rowing boat, as a share of it: thin-ship theory on a hull
// with length over beam of 5 makes humps too high and hollows too deep. A modelling choice.
const WaveDoubt = 0.40

// Boat is a hull at one draft and trim with what hangs on it. It does not change once made and may be used by many
// goroutines.
type Boat struct {
	Hull       *Hull
	Skin       Skin
	Appendages []Appendage
	Windage    []Windage

	form, formSpread float64
	waves            *Wavemaking
	blows            []blow
}

// Condition is the day: the water, how long since she was scraped, the sea.
type Condition struct {
	Water Water
	Days  float64 // since the bottom was clean
	Sea   Sea
}

func (c Condition) check() error {
	return cmp.Or(c.Water.check(), within("the days since scraping", c.Days, 0, 1e5, ""), c.Sea.check())
}

// Fastest is the Froude number to which the wave resistance is worked out; past it the coefficient is held.
const Fastest = 0.6

// NewBoat makes a boat ready for any speed: it runs Michell's integral at about a hundred speeds once.
//
// Error:  ErrInput, naming the part and the figure
// Good to: between its speeds 2 % of the wave resistance above a Froude number of 0.15 (TestTrackOfWaves)
func NewBoat(h *Hull, s Skin, hung []Appendage, stands []Windage) (*Boat, error) {
	if h == nil || h.waves == nil {
		return nil, errNoHull
	}
	return NewBoatMaking(h, h.Wavemaking(), s, hung, stands)
}

var errNoHull = fmt.Errorf("%w: no hull; make one by NewHull, HullOf, FromSurface or FromSections", ErrInput)

// NewBoatMaking is NewBoat with a wave resistance that was worked out before, of this hull or between hulls near it
// (Between), which spares nearly all of the work.
//
// Error:  as NewBoat
func NewBoatMaking(h *Hull, w *Wavemaking, s Skin, hung []Appendage, stands []Windage) (*Boat, error) {
	if h == nil || h.waves == nil {
		return nil, errNoHull
	}
	if w == nil || len(w.x) == 0 {
		return nil, fmt.Errorf("%w: no wave resistance; make it by Hull.Wavemaking", ErrInput)
	}
	if err := s.check(); err != nil {
		return nil, err
	}
	for i, a := range hung {
		if err := a.check(); err != nil {
			return nil, fmt.Errorf("appendage %d: %w", i+1, err)
		}
	}
	for i, p := range stands {
		if err := p.check(); err != nil {
			return nil, fmt.Errorf("part %d in the wind: %w", i+1, err)
		}
	}
	b := &Boat{Hull: h, Skin: s, Appendages: hung, Windage: stands, blows: blows(stands), waves: w}
	b.form, b.formSpread = h.Form()
	return b, nil
}

// wavesAt is the wave resistance over density at a speed of 0 or more.
func (b *Boat) wavesAt(v float64) float64 { return b.waves.at(v) }

// Parts is what holds her back, part by part.
type Parts struct {
	Friction   Force // smooth skin
	Form       Force
	Growth     Force // roughness of paint and growth
	Waves      Force
	Transom    Force
	Appendages Force
	Seas       Force // added drag
	Air        Force
	Total      Force
	Sand       float64 // roughness of the bottom reckoned with, m
	Reynolds   float64
	Froude     float64
}

// Parts takes the resistance at a speed apart.
//
// In:     speed through the water, m/s, astern negative (the hull is then taken to be as good backwards as forwards);
// the day; the wind at 10 m
// Error:  ErrInput
func (b *Boat) Parts(v float64, c Condition, w Wind) (Parts, error) {
	if err := cmp.Or(within("the speed", v, -100, 100, "m/s"), c.check(), w.check()); err != nil {
		return Parts{}, err
	}
	p := b.water(math.Abs(v), c)
	if v < 0 {
		for _, f := range []*Force{&p.Friction, &p.Form, &p.Growth, &p.Waves, &p.Transom, &p.Appendages} {
			f.Value = -f.Value
		}
	}
	s := b.Hull.AddedDrag(v, c.Water.Density, c.Sea)
	p.Seas = Force{s, seasDoubt * s}
	a := air(b.blows, v, w)
	p.Air = Force{a, airDoubt * math.Abs(a)}
	p.Total = p.calm().plus(p.Seas).plus(p.Air)
	return p, nil
}

// calm is what the water does where there are no waves.
func (p *Parts) calm() Force {
	f := p.Friction.plus(p.Form).plus(p.Growth).plus(p.Waves)
	return f.plus(p.Transom).plus(p.Appendages)
}

// water is the parts in calm water at a speed of 0 or more.
func (b *Boat) water(v float64, c Condition) Parts {
	h, w := b.Hull, c.Water
	re := v * h.WettedLength / w.Viscosity
	p := Parts{Sand: b.Skin.Sand(c.Days), Reynolds: re, Froude: v / math.Sqrt(Gravity*h.Length)}
	push := w.Density / 2 * v * v * h.Wetted // times a coefficient
	f := push * friction(re)
	p.Friction = Force{f, frictionDoubt * f}
	p.Form = Force{b.form * f, b.formSpread * f}
	early, late := b.Skin.Sand(c.Days*growthDoubt), b.Skin.Sand(c.Days/growthDoubt)
	rise := func(sand float64) float64 { return push * RoughRise(re, sand/h.WettedLength) }
	p.Growth.Value = rise(p.Sand)
	if early != late {
		p.Growth.Spread = math.Max(rise(early)-p.Growth.Value, p.Growth.Value-rise(late))
	}
	waves := w.Density * b.wavesAt(v)
	p.Waves = Force{waves, WaveDoubt * waves}
	t := h.TransomDrag(v, w.Density)
	p.Transom = Force{t, transomDoubt * t}
	for _, a := range b.Appendages {
		d := a.Drag(v, w, p.Sand)
		p.Appendages.Value += d
		p.Appendages.Spread += appendageDoubt * d // what is wrong for one is wrong for all
	}
	return p
}
