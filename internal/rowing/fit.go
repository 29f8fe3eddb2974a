package rowing

import "math"

// Fit is one set-up looked at in all its waters.
type Fit struct {
	Stroke Stroke // in the first water, starboard
	Checks []Check
	// Spreads of the stroke's figures.
	CatchAngle, FinishAngle, Arc, Run        Value
	HandCatch, HandSquare, HandFinish, Clear Value
}

// Fits tells whether every check that counts holds.
func (f Fit) Fits() bool { return f.Worst() == nil }

// Sure tells whether the answer of Fits stays the same over the spread of every input.
func (f Fit) Sure() bool {
	sure := true
	for _, c := range f.Checks {
		if !c.counts() {
			continue
		}
		if !c.Holds() && c.Sure() {
			return true // one sure misfit settles it
		}
		sure = sure && c.Sure()
	}
	return sure
}

// Misfits are the checks that do not hold, those only noted left out.
func (f Fit) Misfits() []Check {
	var out []Check
	for _, c := range f.Checks {
		if c.counts() && !c.Holds() {
			out = append(out, c)
		}
	}
	return out
}

// Worst is the misfit that is largest beside its spread; nil if all holds.
func (f Fit) Worst() *Check {
	var worst *Check
	least := 0.0
	for i := range f.Checks {
		c := &f.Checks[i]
		if r := c.Margin / (c.Spread + 1e-3); c.counts() && !c.Holds() && (worst == nil || r < least) {
			worst, least = c, r
		}
	}
	return worst
}

// What is not known of a person who has not been measured in the boat: half widths, 19 in 20.
const (
	// legsSpread, trunkSpread and armsSpread are shares of the segment. From memory: sitting height over
	// stature varies by 1.5 % (standard deviation) among adults, limbs about as much.
	legsSpread  = 0.03
	trunkSpread = 0.03
	armsSpread  = 0.04
	// girthSpread is the share by which thigh and trunk differ in thickness. Modelling choice.
	girthSpread = 0.25
	// swingSpread is the trunk's, at either end. Modelling choice: half the range between coaching's and racers' figures.
	swingSpread = 8 * degree
	// shinSpread: twice the standard deviation of 6.7 degrees (Kleshnev 2024).
	shinSpread = 13.4 * degree
	// coverSpread and clearSpread are how well a blade is carried, metres; gapSpread how near the body the hand stops. Modelling choices.
	coverSpread, clearSpread = 0.04, 0.05
	gapSpread                = 0.03
	// hipSpread is of the hip joint above the seat and along it, metres: flesh and posture. Modelling choice.
	hipSpread = 0.02
)

// doubts changes one unknown each by so many of its half widths.
var doubts = [...]func(s *Setup, f float64){
	func(s *Setup, f float64) {
		s.Body.Shank *= 1 + f*legsSpread
		s.Body.Thigh *= 1 + f*legsSpread
	},
	func(s *Setup, f float64) { s.Body.Trunk *= 1 + f*trunkSpread },
	func(s *Setup, f float64) {
		s.Body.UpperArm *= 1 + f*armsSpread
		s.Body.Forearm *= 1 + f*armsSpread
	},
	func(s *Setup, f float64) {
		s.Body.ThighHalf *= 1 + f*girthSpread
		s.Body.KneeHalf *= 1 + f*girthSpread
		s.Body.TrunkHalf *= 1 + f*girthSpread
	},
	func(s *Setup, f float64) { s.Body.HipHeight += f * hipSpread },
	func(s *Setup, f float64) { s.Habits.TrunkFore += f * swingSpread },
	func(s *Setup, f float64) { s.Habits.TrunkAft += f * swingSpread },
	func(s *Setup, f float64) { s.Habits.Shin += f * shinSpread },
	func(s *Setup, f float64) { s.Habits.Cover += f * coverSpread },
	func(s *Setup, f float64) { s.Habits.Clear += f * clearSpread },
	func(s *Setup, f float64) { s.Habits.Gap += f * gapSpread },
}

// Fit looks at everything in every water, with spreads.
//
// In:     waters, one or more: the boat level at each day's draft, and heeled; the first is the one whose stroke is shown
// Out:    a check for each kind, each the worst of all waters; spreads from changing each unknown by its half width
// (JCGM 100:2008, 5.1.2: root of the sum of squares), limbs measured on the person included
// Error:  ErrInput
func (s Setup) Fit(waters []Water) (Fit, error) {
	if err := s.valid(waters); err != nil {
		return Fit{}, err
	}
	return s.fit(waters), nil
}

// Checks is what Fit looks at without the spreads, for trying many set-ups: twenty times as quick.
//
// In, Error: as Fit
func (s Setup) Checks(waters []Water) ([]Check, error) {
	if err := s.valid(waters); err != nil {
		return nil, err
	}
	m := s.margins(waters)
	return m[:], nil
}

// shown are the stroke's figures that carry a spread.
const shown = 8

// figures takes them out of a stroke.
func (s *Stroke) figures() [shown]float64 {
	return [shown]float64{s.CatchAngle, s.FinishAngle, s.Arc(), s.Run, s.HandCatch, s.HandSquare, s.HandFinish, s.HandClear}
}

// fit is Fit after the checks.
func (s *Setup) fit(waters []Water) Fit {
	m := s.margins(waters)
	stroke, _ := s.stroke(waters[0], Starboard)
	var squares [len(kinds)]float64
	var sums [shown]float64
	for _, change := range doubts {
		up, down := *s, *s
		change(&up, 1)
		change(&down, -1)
		a, b := up.margins(waters), down.margins(waters)
		for i := range m {
			if a[i].Asked && b[i].Asked {
				d := (a[i].Margin - b[i].Margin) / 2
				squares[i] += d * d
			}
		}
		sa, _ := up.stroke(waters[0], Starboard)
		sb, _ := down.stroke(waters[0], Starboard)
		fa, fb := sa.figures(), sb.figures()
		for i := range fa {
			d := (fa[i] - fb[i]) / 2
			sums[i] += d * d
		}
	}
	for i := range m {
		m[i].Spread = math.Sqrt(squares[i])
	}
	f := Fit{Stroke: stroke, Checks: append([]Check(nil), m[:]...)}
	at := stroke.figures()
	for i, v := range [shown]*Value{&f.CatchAngle, &f.FinishAngle, &f.Arc, &f.Run, &f.HandCatch, &f.HandSquare, &f.HandFinish, &f.Clear} {
		*v = Value{at[i], math.Sqrt(sums[i])}
	}
	return f
}
