package resistance

import (
	"fmt"
	"math"
)

// Oars is what drives her: rowers and blades, all taken together, averaged over the stroke.
//
// The thrust at a speed is the least of three, each of which falls or stays as the speed grows:
//
//   - by efficiency: no blade gives more than Best of the power that reaches it, T = Best · Power · Kept / v;
//   - by slip: blades of that area must move astern through the water to find the force, and power is spent on the slip,
//     Power · Kept = T (v + slip), T = Share · ½ rho Coefficient Area slip²;
//   - by the handle: hands pull no harder than Pull for hours, however slowly the handle comes, T = Share · Pull / Gear.
//
// The last two make the thrust at rest finite: a modelling choice, no measurement of a rower held fast for hours is
// behind it.
type Oars struct {
	Power       float64 // at the handles, W
	Kept        float64 // share of it that reaches the blades: friction at the gate, bending, the boat's surging
	Best        float64 // highest efficiency of a blade
	Area        float64 // of all blades, one face, m²
	Coefficient float64 // of drag of a blade square on
	Share       float64 // of the stroke's time that blades pull
	Gear        float64 // outboard over inboard, to the middle of the blade
	Pull        float64 // mean over the drive, all hands, N
}

// Rowing is a pair of oars for each rower with the usual figures, at a power each.
//
// Best 0.74 lies in the middle of the published 0.67 to 0.82 (Affeld & others 1993: a quarter to a third lost; 0.75 to
// 0.82 commonly quoted). A blade's coefficient square on is 2.0 (Caplan & Gardner 2007: flat plate 2.0, curved ones 1.9
// to 2.07). Two blades of 0.12 m² each, a drive of 0.4 of the stroke, gear 2.3, 350 N on the handles in the drive and
// 0.95 kept are modelling choices: give your own.
func Rowing(power float64, rowers int) Oars {
	n := float64(rowers)
	return Oars{Power: power * n, Kept: 0.95, Best: 0.74, Area: 0.24 * n, Coefficient: 2.0, Share: 0.4, Gear: 2.3, Pull: 350 * n}
}

// Which of the three holds the thrust, and how far it may be out (modelling choices; the first from the published range).
const (
	ByNothing    = "no power"
	ByEfficiency = "the blade's best efficiency"
	BySlip       = "the blade's slip"
	ByHandle     = "the pull on the handles"

	bestDoubt   = 0.10 // 0.67 to 0.82 about 0.74
	slipDoubt   = 0.20
	handleDoubt = 0.30
)

func (o Oars) check() error {
	return first(within("the power at the handles", o.Power, 0, 1e5, "W"), within("the share of power that reaches the blades", o.Kept, 0.01, 1, ""),
		within("the blade's best efficiency", o.Best, 0.01, 1, ""), within("the blades' area", o.Area, 1e-3, 100, "m2"),
		within("the blade's coefficient", o.Coefficient, 0.1, 5, ""), within("the drive's share of the stroke", o.Share, 0.05, 1, ""),
		within("the gear", o.Gear, 0.1, 20, ""), within("the pull on the handles", o.Pull, 0, 1e5, "N"))
}

// Push is the oars' thrust, mean over the stroke.
type Push struct {
	Thrust     Force
	Limit      string  // which of the three holds it
	Efficiency float64 // thrust times speed over the power at the handles; 0 at rest
}

// Thrust is what the oars give at a speed.
//
// In:     m/s through the water; astern as at rest; density kg/m³
// Error:  ErrInput
func (o Oars) Thrust(v, density float64) (Push, error) {
	if err := first(o.check(), within("the speed", v, -100, 100, "m/s"), within("the water's density", density, 500, 2000, "kg/m3")); err != nil {
		return Push{}, err
	}
	t, limit := o.thrust(v, density)
	p := Push{Thrust: Force{t, doubtOf(limit) * t}, Limit: limit}
	if o.Power > 0 && v > 0 {
		p.Efficiency = t * v / o.Power
	}
	return p, nil
}

// doubtOf is how far a thrust may be out, as a share, by what holds it.
func doubtOf(limit string) float64 {
	switch limit {
	case ByEfficiency:
		return bestDoubt
	case ByHandle:
		return handleDoubt
	}
	return slipDoubt
}

// grip is the thrust of the blades over the slip squared.
func (o Oars) grip(density float64) float64 {
	return o.Share * density / 2 * o.Coefficient * o.Area
}

func (o Oars) thrust(v, density float64) (float64, string) {
	p := o.Power * o.Kept
	if p == 0 || o.Pull == 0 {
		return 0, ByNothing
	}
	v = math.Max(v, 0)
	k := o.grip(density)
	slip := math.Cbrt(p / k) // enough at rest, too much at any speed: Newton comes down on the root
	for range 60 {
		f, d := k*slip*slip*(v+slip)-p, k*slip*(2*v+3*slip)
		next := slip - f/d
		if !(next < slip) || slip-next < 1e-15*slip {
			break
		}
		slip = next
	}
	t, limit := k*slip*slip, BySlip
	if v > 0 && o.Best*p/v < t {
		t, limit = o.Best*p/v, ByEfficiency
	}
	if most := o.Share * o.Pull / o.Gear; most < t {
		t, limit = most, ByHandle
	}
	return t, limit
}

// power is what must come to the handles for a thrust at a speed.
//
// Error:  ErrInput where the hands would have to pull harder than Pull
func (o Oars) power(thrust, v, density float64) (float64, error) {
	if thrust <= 0 {
		return 0, nil
	}
	if most := o.Share * o.Pull / o.Gear; thrust > most*(1+1e-9) {
		return 0, fmt.Errorf("%w: %.0f N is more than the %.0f N that a pull of %.0f N on the handles gives; go slower, or gear lower", ErrTooHard, thrust, most, o.Pull)
	}
	v = math.Max(v, 0)
	slip := math.Sqrt(thrust / o.grip(density))
	return math.Max(thrust*(v+slip), thrust*v/o.Best) / o.Kept, nil
}
