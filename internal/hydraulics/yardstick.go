package hydraulics

import (
	"cmp"
	"fmt"
	"math"
)

// Yardstick is what a published rule asks, beside what is had. None was made for rowing
// boats: they are shown to compare with, and prove nothing.
type Yardstick struct {
	Name   string
	Asked  float64
	Had    float64
	Unit   string // SI
	Most   bool   // asked is the most allowed; otherwise the least
	Source string
	Memory bool // the figures are from memory: check your own copy of the rule
}

// Margin is how far what is had lies on the good side of what is asked, in Unit.
func (y Yardstick) Margin() float64 {
	if y.Most {
		return y.Asked - y.Had
	}
	return y.Had - y.Asked
}

// Category is a design category, A (ocean) to D (sheltered water).
type Category byte

// recess is what is asked of a quick-draining recess in a category.
type recess struct{ minutes, sole float64 }

var recesses = map[Category]recess{'A': {0.3, 0.15}, 'B': {0.4, 0.10}, 'C': {0.6, 0.075}, 'D': {0.9, 0.05}}

const fromISO = "ISO 11812 (cockpits and recesses), from memory: buy the standard before claiming that it is met"

// Well is a cockpit or well as the rules measure it.
type Well struct {
	Volume    float64 // m3, to the level at which it spills over
	Length    float64 // m, of the hull
	Breadth   float64 // m, the greatest of the hull
	Freeboard float64 // m, amidships, as the rule measures it
	Waterline float64 // m, length of the waterline
	Sole      float64 // m, of the sole above the loaded waterline
	Drains    float64 // m2, all drains
	DrainTime float64 // s, worked out or measured
}

// Check says what is wrong with a well's measures, or nil.
func (w Well) Check() error {
	err := cmp.Or(positive("the volume", w.Volume, "m3"), positive("the hull's length", w.Length, "m"),
		positive("the hull's breadth", w.Breadth, "m"), positive("the freeboard", w.Freeboard, "m"),
		positive("the waterline's length", w.Waterline, "m"), notNegative("the drains' area", w.Drains, "m2"),
		notNegative("the time to drain", w.DrainTime, "s"), number("the sole's height", w.Sole))
	if err != nil {
		return fmt.Errorf("well: %w", err)
	}
	return nil
}

// QuickDraining is what the standard for quick-draining recesses asks of a category.
//
// Error:  ErrInput
// Source: ISO 11812, from memory: time 0.3, 0.4, 0.6, 0.9 minutes over k = V/(L B F), never
// above 5 minutes; sole 0.15, 0.10, 0.075, 0.05 m above the waterline
func (w Well) QuickDraining(c Category) ([]Yardstick, error) {
	asked, ok := recesses[c]
	if !ok {
		return nil, fmt.Errorf("%w: design category %q; give A, B, C or D", ErrInput, string(c))
	}
	if err := w.Check(); err != nil {
		return nil, err
	}
	k := w.Volume / (w.Length * w.Breadth * w.Freeboard)
	return []Yardstick{
		{"time to drain", 60 * math.Min(5, asked.minutes/k), w.DrainTime, "s", true, fromISO, true},
		{"sole above the loaded waterline", asked.sole, w.Sole, "m", false, fromISO, true},
	}, nil
}

// Offshore is what the rules for ocean racing ask of a cockpit; strict is their highest
// two categories.
//
// Error:  ErrInput
// Source: Offshore Special Regulations, as quoted in sailnet.com (volume 6 % or 9 % of
// waterline x breadth x freeboard) and bristol27.com (four drains of 3/4 in, empty in 3
// minutes); sole 2 % of the waterline, from memory
func (w Well) Offshore(strict bool) ([]Yardstick, error) {
	if err := w.Check(); err != nil {
		return nil, err
	}
	share := 0.09
	if strict {
		share = 0.06
	}
	const from = "Offshore Special Regulations, as quoted by owners' pages; check your own copy"
	return []Yardstick{
		{"volume of the cockpit", share * w.Waterline * w.Breadth * w.Freeboard, w.Volume, "m3", true, from, false},
		{"area of the drains", 4 * math.Pi / 4 * math.Pow(0.75*inch, 2), w.Drains, "m2", false, from, false},
		{"time to drain", 180, w.DrainTime, "s", true, from, false},
		{"sole above the loaded waterline", 0.02 * w.Waterline, w.Sole, "m", false, from, true},
	}, nil
}

const (
	inch = 0.0254
	foot = 0.3048
)

// Exposure is the share of the drainage asked in a water.
type Exposure float64

// The three waters of the rule.
const (
	Exposed            Exposure = 1
	PartiallyProtected Exposure = 0.5
	Protected          Exposure = 0.1
)

// SmallPassenger is the least drainage of a well in a small passenger vessel.
//
// In:     recess is the well's length, m; exposure
// Error:  ErrInput
// Source: 46 CFR 178.450: square inches = cubic feet x length of the recess over two thirds
// of the length on deck, x 1, 0.5 or 0.1. Its metric line prints 4389.12 as a factor; the
// units want it as a divisor (28316.846592 / 6.4516 = 4389.12), which is what is done here
func (w Well) SmallPassenger(recess float64, exposure Exposure) (Yardstick, error) {
	if err := cmp.Or(w.Check(), positive("the recess's length", recess, "m"), positive("the exposure", float64(exposure), "")); err != nil {
		return Yardstick{}, err
	}
	area := w.Volume / (foot * foot * foot) * inch * inch * recess / (2.0 / 3 * w.Length) * float64(exposure)
	return Yardstick{"area of the drains", area, w.Drains, "m2", false, "46 CFR 178.450", false}, nil
}

// BilgePump is the least capacity of a bilge pump by the hull's length.
//
// In:     hull's length m; what is had, m3/s
// Error:  ErrInput
// Source: ISO 15083, as quoted by plusstd.com: 10 l/min to 6 m, 15 to 12 m, 30 above; by
// hand at no more than 45 strokes a minute
func BilgePump(length, had float64) (Yardstick, error) {
	if err := cmp.Or(positive("the hull's length", length, "m"), notNegative("the pump's flow", had, "m3/s")); err != nil {
		return Yardstick{}, err
	}
	litres := 30.0
	switch {
	case length <= 6:
		litres = 10
	case length < 12:
		litres = 15
	}
	return Yardstick{"capacity of the bilge pump", litres / 60e3, had, "m3/s", false,
		"ISO 15083, as quoted by plusstd.com; check your own copy", false}, nil
}

// MostStrokes is the rate, in strokes a second, that a hand pump's capacity may be
// claimed at (45 a minute). Source: ISO 15083, as quoted by plusstd.com
const MostStrokes = 45.0 / 60
