package rowing

import (
	"cmp"
	"fmt"
)

// ScullGear is the gearing of a pair of sculls: outboard over half the span. With the
// swivel's width given it is outboard over half of (span - swivel), the other convention;
// 0 leaves it out.
//
// In:     metres; outboard is from the button's face to the blade's tip
// Out:    a number without a unit; larger is heavier
// Error:  ErrInput
// Source: gearing conventions of rowing coaching notes; scull 288/88, span 160: 2.5, and 2.564 with a swivel of 4 cm
func ScullGear(outboard, span, swivel float64) (float64, error) {
	if err := cmp.Or(within("the outboard", outboard, 0.1, 8, "m"), within("the span", span, 0.1, 10, "m"), within("the swivel's width", swivel, 0, span/2, "m")); err != nil {
		return 0, err
	}
	return outboard / ((span - swivel) / 2), nil
}

// SweepGear is the gearing of a sweep oar: outboard over the spread (centre plane to pin);
// with the swivel's width given, outboard over (spread - swivel/2).
//
// Out, Error: as ScullGear
// Source: as ScullGear; oar 374/114, spread 85: 3.0588
func SweepGear(outboard, spread, swivel float64) (float64, error) {
	if err := cmp.Or(within("the outboard", outboard, 0.1, 8, "m"), within("the spread", spread, 0.05, 5, "m"), within("the swivel's width", swivel, 0, spread, "m")); err != nil {
		return 0, err
	}
	return outboard / (spread - swivel/2), nil
}

// HandleOverlap is how far the handles of two sculls pass each other when square to the
// boat: twice the inboard less the span; with the swivel's width given, that is added.
//
// Source: overlap conventions of rowing coaching notes; inboard 88, span 160: 16 cm, and 20 with a swivel of 4 cm
func HandleOverlap(inboard, span, swivel float64) float64 { return 2*inboard - span + swivel }

// Lever is what the rower feels: blade's arm over hand's arm, both from the pin to the middle of
// blade and hand. A pull of 100 N at the hand is 100/Lever at the blade; the blade goes Lever times as fast as the hand.
func (o Oar) Lever() float64 { return o.BladeArm() / o.HandArm() }

// Gears is one oar in one gate by every convention.
type Gears struct {
	Plain    float64 // outboard over half span (spread)
	Swivel   float64 // the same with the swivel's width taken off
	Lever    float64 // blade's arm over hand's arm
	Overlap  float64 // metres, at the handles' ends; nothing for a sweep oar
	Overhang float64 // sweep oar: the handle's end past the centre plane, metres
}

// Gears names the gearing of an oar in a gate.
//
// Error:  ErrInput
func (o Oar) Gears(half float64) (Gears, error) {
	if err := o.valid(); err != nil {
		return Gears{}, err
	}
	out := Gears{Lever: o.Lever()}
	outboard := o.Length - o.Inboard
	var err, also error
	if o.Sweep {
		out.Plain, err = SweepGear(outboard, half, 0)
		out.Swivel, also = SweepGear(outboard, half, o.Swivel)
		out.Overhang = o.Inner() - half
	} else {
		out.Plain, err = ScullGear(outboard, 2*half, 0)
		out.Swivel, also = ScullGear(outboard, 2*half, o.Swivel)
		out.Overlap = HandleOverlap(o.Inboard, 2*half, o.Swivel)
	}
	return out, cmp.Or(err, also)
}

// RuleOar is the oar by the old rule of seven to eighteen: inboard half the span and 50 mm,
// length 25/7 of the inboard.
//
// In:     span in m
// Error:  ErrInput
// Source: published rule of thumb for rowing on open water; span 1.6 m: 0.85 and 3.04 m
func RuleOar(span float64) (inboard, length float64, err error) {
	if err := within("the span", span, 0.4, 4, "m"); err != nil {
		return 0, 0, err
	}
	inboard = span/2 + 0.05
	return inboard, inboard * 25 / 7, nil
}

// Custom is one measure beside what is customary.
type Custom struct {
	What      string
	Value     float64
	Low, High float64
	Unit      string // m or rad
	Source    string
}

// Usual tells whether the measure lies in the customary range.
func (c Custom) Usual() bool { return between(c.Value, c.Low, c.High) }

// String says it in words.
func (c Custom) String() string {
	k, unit := 1000.0, "mm"
	if c.Unit == "rad" {
		k, unit = 1/degree, "degrees"
	}
	where := "as is usual"
	if c.Value < c.Low {
		where = "less than usual"
	} else if c.Value > c.High {
		where = "more than usual"
	}
	return fmt.Sprintf("%s: %.0f %s, %s (%.0f to %.0f)", c.What, k*c.Value, unit, where, k*c.Low, k*c.High)
}

// coaching is where the ranges come from.
const (
	coachingFixed   = "published set-up notes for fixed seats"
	coachingSliding = "published rigging notes for sliding seats"
)

// Customs lays the set-up's measures beside the ranges in published set-up notes. They describe
// what people do; being outside is no fault by itself.
//
// Error:  ErrInput
func (s Setup) Customs(w Water) ([]Custom, error) {
	st, err := s.Stroke(w, Starboard)
	if err != nil {
		return nil, err
	}
	half := s.Seat.length() / 2
	rise := s.Gate.Z - s.Seat.Height
	depth := s.Seat.Height - s.Stretcher.Z
	inboard, length, err := RuleOar(2 * s.Gate.Half)
	if err != nil {
		return nil, err
	}
	out := []Custom{
		{"gate above the seat", rise, 0.13, 0.30, "m", coachingFixed + " (about 180 mm)"},
		{"inboard", s.Oar.Inboard, inboard - 0.03, inboard + 0.03, "m", "half span and 50 mm, ± 30 mm"},
		{"oar's length", s.Oar.Length, length - 0.2, length + 0.2, "m", "25/7 of the inboard, ± 200 mm; rough-water scullers go shorter"},
	}
	if s.Oar.Sweep {
		out = out[:1]
	}
	if s.Seat.Fixed() {
		return append(out,
			Custom{"gate aft of the seat's after edge", s.Gate.X - (s.Seat.Aft + half), 0.28, 0.33, "m", coachingFixed},
			Custom{"heels below the seat", depth, 0.20, 0.28, "m", coachingFixed},
			Custom{"feet apart", s.Stretcher.apart(), 0.25, 0.35, "m", coachingFixed + " (about 300 mm)"}), nil
	}
	return append(out,
		Custom{"heels below the seat", depth, 0.12, 0.20, "m", coachingSliding + " (about 150 mm for 1.75 m, deeper for long legs)"},
		Custom{"stretcher's angle", s.Stretcher.Angle, 39 * degree, 45 * degree, "rad", coachingSliding + " (42 degrees)"},
		Custom{"work-through: seat's after edge past the pin at the catch", st.Catch.Hip.X + half - s.Gate.X, 0.05, 0.20, "m", coachingSliding},
		Custom{"slide", s.Seat.Aft - s.Seat.Fore, 0.60, 0.90, "m", coachingSliding},
		Custom{"behind the work: pin to the fore end of the seat's travel", s.Gate.X - (s.Seat.Fore - half), 0.60, 0.67, "m", coachingSliding}), nil
}

// Seated is the seat above the heels that a body wants, metres: about 150 mm for a rower of 1.75 m on a
// sliding seat and in proportion; 200 to 280 mm on a fixed one, 200 at least for stiff or older bodies.
//
// Source: published rigging notes for the figures; the proportion is a modelling choice
func (b Body) Seated(fixed bool) (low, high float64) {
	if fixed {
		return 0.20, 0.28
	}
	middle := 0.15 * b.Stature / 1.75
	return middle - 0.02, middle + 0.03
}
