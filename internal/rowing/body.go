package rowing

import (
	"cmp"
	"fmt"
	"math"
)

// Sex chooses among the published tables.
type Sex int

// The two tables there are.
const (
	Man Sex = iota
	Woman
)

// Stature of adults: mean and standard deviation, metres.
//
// Source: Gordon et al., 2012 Anthropometric Survey of U.S. Army Personnel
// (NATICK/TR-15/007), stature, 4082 men and 1986 women; figures from memory. Soldiers
// are not everybody: other peoples' means differ by up to 0.10 m.
const (
	menMean, menDeviation     = 1.756, 0.0686
	womenMean, womenDeviation = 1.629, 0.0642
)

// Lengths of segments as shares of stature.
//
// Source: Drillis and Contini (1966), as printed by Winter, Biomechanics and Motor
// Control of Human Movement, fig. 4.1; from memory. Heights of ankle .039, knee .285,
// hip .530, shoulder .818; the rest are lengths and breadths.
const (
	ankleHeight  = 0.039
	kneeHeight   = 0.285
	hipHeight    = 0.530
	armpitHeight = 0.818 // of the shoulder joint
	upperArm     = 0.186
	forearm      = 0.146
	hand         = 0.108
	foot         = 0.152
	shoulders    = 0.259 // across both shoulder joints
	hips         = 0.191 // across the hips
)

// What the segments leave open.
const (
	// sittingHeight is seat to crown: .527 of stature for men and women alike. Source:
	// Huston, Principles of Biomechanics (2009), 50th percentiles 0.927 of 1.759 m and 0.853 of 1.618 m.
	sittingHeight = 0.527
	// gripShare of the hand lies between wrist and the middle of a closed fist. Modelling choice.
	gripShare = 0.47
	// ankleAlong is how far from the heel along the sole the ankle stands, as a share of the foot. Modelling choice.
	ankleAlong = 0.25
	// thighHalf is half the thickness of a thigh: sitting thigh clearance .097 of stature (army
	// survey above, from memory) less the height of the hip joint.
	thighHalf = 0.040
	// kneeHalf is half the thickness at the knee: with it the knee's height sitting is .315 of stature
	// (Huston: 0.553 of 1.759 m, .314).
	kneeHalf = 0.030
	// trunkHalf is half the depth of the trunk at the waist (0.23 m of 1.76 m, from memory).
	trunkHalf = 0.065
	// fistHalf is half the height of a fist round a handle, metres. Modelling choice.
	fistHalf = 0.045
)

// Body is a rower's lengths, metres. All are joint to joint.
type Body struct {
	Name      string
	Stature   float64
	Ankle     float64 // above the sole
	Foot      float64
	Shank     float64
	Thigh     float64
	HipHeight float64 // of the hip joint above the seat
	Trunk     float64 // hip to shoulder
	Head      float64 // shoulder to crown
	UpperArm  float64
	Forearm   float64 // elbow to the middle of the grip
	Shoulders float64 // across the shoulder joints
	Hips      float64 // across the hips
	ThighHalf float64 // half thickness of the thigh
	KneeHalf  float64
	TrunkHalf float64 // half depth of the trunk
}

// Percentile is the body below whose stature so many in a hundred are.
//
// In:     percent, 1 to 99
// Error:  ErrInput
// Good to: stature 5 mm between the two published surveys at the 5th and 95th percentile
// of men, 11 mm of women (TestStatures); a segment of one person differs from the share
// of stature by up to 4 % (19 in 20), which Setup.Fit carries
func Percentile(sex Sex, percent float64) (Body, error) {
	if err := within("the percentile", percent, 1, 99, "%"); err != nil {
		return Body{}, err
	}
	z := math.Sqrt2 * math.Erfinv(2*percent/100-1)
	switch sex {
	case Man:
		return OfStature(fmt.Sprintf("man, %s percentile", ordinal(percent)), menMean+z*menDeviation)
	case Woman:
		return OfStature(fmt.Sprintf("woman, %s percentile", ordinal(percent)), womenMean+z*womenDeviation)
	}
	return Body{}, fmt.Errorf("%w: no table of statures for sex %d; give Man or Woman", ErrInput, sex)
}

// ordinal writes a percentile as it is said.
func ordinal(p float64) string {
	n := int(math.Round(p))
	if n/10 != 1 {
		switch n % 10 {
		case 1:
			return fmt.Sprintf("%dst", n)
		case 2:
			return fmt.Sprintf("%dnd", n)
		case 3:
			return fmt.Sprintf("%drd", n)
		}
	}
	return fmt.Sprintf("%dth", n)
}

// OfStature is a body of published proportions. Any length that has been measured on the
// person may be written over it.
//
// In:     stature in m, 1.2 to 2.3
// Error:  ErrInput
// Source: Drillis and Contini (1966)
func OfStature(name string, stature float64) (Body, error) {
	if err := within("the stature", stature, 1.2, 2.3, "m"); err != nil {
		return Body{}, err
	}
	const trunk = armpitHeight - hipHeight
	return Body{
		Name: name, Stature: stature,
		Ankle: ankleHeight * stature, Foot: foot * stature,
		Shank: (kneeHeight - ankleHeight) * stature, Thigh: (hipHeight - kneeHeight) * stature,
		HipHeight: (sittingHeight - (1 - armpitHeight) - trunk) * stature,
		Trunk:     trunk * stature, Head: (1 - armpitHeight) * stature,
		UpperArm: upperArm * stature, Forearm: (forearm + gripShare*hand) * stature,
		Shoulders: shoulders * stature, Hips: hips * stature,
		ThighHalf: thighHalf * stature, KneeHalf: kneeHalf * stature, TrunkHalf: trunkHalf * stature,
	}, nil
}

// Bodies is the row of people to try a boat on: women and men at the 5th, 50th and 95th percentile.
func Bodies() []Body {
	var out []Body
	for _, sex := range []Sex{Woman, Man} {
		for _, p := range []float64{5, 50, 95} {
			b, err := Percentile(sex, p)
			if err == nil { // the constants above are within their range
				out = append(out, b)
			}
		}
	}
	return out
}

// Reach is shoulder to the middle of the grip with the arm straight, metres.
func (b Body) Reach() float64 { return b.UpperArm + b.Forearm }

// leg is the distance from hip to ankle with the knee at an angle (straight is half a turn).
func (b Body) leg(knee float64) float64 {
	return math.Sqrt(b.Thigh*b.Thigh + b.Shank*b.Shank - 2*b.Thigh*b.Shank*math.Cos(knee))
}

// knee is the angle of the knee at a distance from hip to ankle.
func (b Body) knee(distance float64) float64 {
	c := (b.Thigh*b.Thigh + b.Shank*b.Shank - distance*distance) / (2 * b.Thigh * b.Shank)
	return math.Acos(clamp(c, -1, 1))
}

// valid checks a body.
func (b Body) valid() error {
	return cmp.Or(
		within("the stature", b.Stature, 1.2, 2.3, "m"),
		within("the ankle's height", b.Ankle, 0.01, 0.3, "m"), within("the foot", b.Foot, 0.1, 0.5, "m"),
		within("the shank", b.Shank, 0.15, 0.8, "m"), within("the thigh", b.Thigh, 0.15, 0.8, "m"),
		within("the hip's height", b.HipHeight, 0.01, 0.3, "m"), within("the trunk", b.Trunk, 0.2, 1, "m"),
		within("the head", b.Head, 0.1, 0.6, "m"),
		within("the upper arm", b.UpperArm, 0.1, 0.6, "m"), within("the forearm", b.Forearm, 0.1, 0.6, "m"),
		within("the shoulders", b.Shoulders, 0.1, 0.8, "m"), within("the hips", b.Hips, 0.1, 0.8, "m"),
		within("the thigh's half thickness", b.ThighHalf, 0, 0.2, "m"), within("the knee's half thickness", b.KneeHalf, 0, 0.2, "m"),
		within("the trunk's half depth", b.TrunkHalf, 0, 0.4, "m"))
}
