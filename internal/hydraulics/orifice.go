package hydraulics

import (
	"cmp"
	"fmt"
	"math"
)

// Orifice is the flow through a drowned opening: positive from the side named first.
//
// In:     discharge coefficient; area in m2; the levels of the water on the two sides
// above the opening's middle, in m (a free outlet: 0)
// Out:    m3/s
// Error:  ErrInput
// Source: Torricelli; Q = Cd A sqrt(2 g h)
func Orifice(cd, area, inside, outside float64) (float64, error) {
	if err := cmp.Or(positive("the discharge coefficient", cd, ""), positive("the area", area, "m2"),
		number("the level inside", inside), number("the level outside", outside)); err != nil {
		return 0, err
	}
	head := inside - outside
	return math.Copysign(orifice(cd*area, math.Abs(head)), head), nil
}

// orifice is a flow by coefficient times area and a head that is not negative.
func orifice(cdArea, head float64) float64 { return cdArea * root2G * math.Sqrt(head) }

// Weir is the free flow over a sill.
//
// In:     discharge coefficient; width in m; head of the still water above the sill in m
// Out:    m3/s
// Error:  ErrInput
// Source: Poleni; Q = 2/3 Cd b sqrt(2 g) h^1.5
func Weir(cd, width, head float64) (float64, error) {
	if err := cmp.Or(positive("the discharge coefficient", cd, ""), positive("the width", width, "m"),
		notNegative("the head", head, "m")); err != nil {
		return 0, err
	}
	return weir(cd*width, head, 0), nil
}

// weir is the flow over a sill by coefficient times width, with the water on the far
// side standing down above the sill: what falls freely, and below it what is drowned.
// Source: Du Buat's formula for a drowned weir, from memory; it is the speed by head
// summed over the wetted height
func weir(cdWidth, up, down float64) float64 {
	if down < 0 {
		down = 0
	}
	fall := up - down
	return cdWidth * root2G * math.Sqrt(fall) * (fall*2/3 + down)
}

// Submerged is the share of the free flow that still passes over a weir whose sill is
// drowned from the far side: the measured law, to hold against the summed one that
// Opening uses (the two agree to 6 % for a rectangular weir).
//
// In:     heads of the two sides above the sill in m, up > 0
// Out:    share, 0 to 1; 1 while the far side is below the sill
// Error:  ErrInput when a head is not a number, up is not positive, or down is above up
// Source: Villemonte (1947), Engineering News-Record 139: (1 - (down/up)^1.5)^0.385, from
// memory; check your own copy
func Submerged(up, down float64) (float64, error) {
	if err := cmp.Or(positive("the head upstream", up, "m"), number("the head downstream", down)); err != nil {
		return 0, err
	}
	if down > up {
		return 0, fmt.Errorf("%w: the far side stands at %g m, above the near side's %g m; swap them", ErrInput, down, up)
	}
	return math.Pow(1-math.Pow(math.Max(0, down)/up, 1.5), 0.385), nil
}

// TankTime is the time in which a tank of straight sides falls from one head to
// another through an opening that runs full, with nothing coming in.
//
// In:     tank's area m2; coefficient; opening's area m2; heads from >= to >= 0 in m
// Out:    s
// Error:  ErrInput
// Source: closed form t = 2 A (sqrt from - sqrt to) / (Cd a sqrt(2 g))
func TankTime(tank, cd, area, from, to float64) (float64, error) {
	if err := fall(from, to, positive("the tank's area", tank, "m2"),
		positive("the discharge coefficient", cd, ""), positive("the opening's area", area, "m2")); err != nil {
		return 0, err
	}
	return 2 * tank * (math.Sqrt(from) - math.Sqrt(to)) / (cd * area * root2G), nil
}

// WeirTime is the time in which a tank of straight sides falls from one head over a
// sill to another. It never falls to the sill itself: to must be above 0.
//
// In:     tank's area m2; coefficient; sill's width m; heads from >= to > 0 in m
// Out:    s
// Error:  ErrInput
// Source: closed form t = 2 A (to^-1/2 - from^-1/2) / (2/3 Cd b sqrt(2 g))
func WeirTime(tank, cd, width, from, to float64) (float64, error) {
	if err := fall(from, to, positive("the tank's area", tank, "m2"), positive("the discharge coefficient", cd, ""),
		positive("the sill's width", width, "m"), positive("the lower head (a weir never empties a tank)", to, "m")); err != nil {
		return 0, err
	}
	return 3 * tank * (1/math.Sqrt(to) - 1/math.Sqrt(from)) / (cd * width * root2G), nil
}

// EqualiseTime is the time in which two tanks of straight sides come level through a
// drowned opening between them.
//
// In:     tanks' areas m2; coefficient; opening's area m2; difference of levels >= 0 in m
// Out:    s
// Error:  ErrInput
// Source: closed form t = 2 A1 A2 / (A1 + A2) sqrt(dh) / (Cd a sqrt(2 g))
func EqualiseTime(one, two, cd, area, difference float64) (float64, error) {
	if err := cmp.Or(positive("a tank's area", one, "m2"), positive("a tank's area", two, "m2"),
		positive("the discharge coefficient", cd, ""), positive("the opening's area", area, "m2"),
		notNegative("the difference of levels", difference, "m")); err != nil {
		return 0, err
	}
	return 2 * one * two / (one + two) * math.Sqrt(difference) / (cd * area * root2G), nil
}

// fall checks two heads of a falling tank after what was checked before.
func fall(from, to float64, before ...error) error {
	if err := cmp.Or(append(before, notNegative("the first head", from, "m"), notNegative("the last head", to, "m"))...); err != nil {
		return err
	}
	if to > from {
		return fmt.Errorf("%w: the last head, %g m, is above the first, %g m; a draining tank falls", ErrInput, to, from)
	}
	return nil
}
