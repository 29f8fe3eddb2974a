package stow

import (
	"fmt"

	"thole/internal/stowing"
)

// refused is the share of the time that is kept to say which of the wishes cannot be had.
const refused = 0.12

// wish is trim, heel or height.
type wish struct {
	kind stowing.Kind
	name string
}

// refuse says of what is asked of trim, heel and height, and the plan does not have, whether any stowage could: of each by itself, and
// where each could be had, which do not go together.
func (r *run) refuse(seconds float64) error {
	if len(r.plan.Rules) > 0 {
		return nil
	}
	states := r.b.Forecast(&r.plan.Figures)
	trim, heel := steepest(states)
	var missed []wish
	for _, w := range []struct {
		wish
		missed bool
	}{
		{wish{stowing.TrimByBow, "the trim"}, trim > r.b.Asked.Trim},
		{wish{stowing.HeelToPort, "the heel"}, heel > r.b.Asked.Heel},
		{wish{stowing.TooHigh, "the height left"}, low(states) < r.b.Asked.Height},
	} {
		if w.missed {
			missed = append(missed, w.wish)
		}
	}
	alone := false
	seconds = max(quick, seconds)
	for _, w := range missed {
		no, err := r.alone(w, seconds/float64(len(missed)+1))
		if err != nil {
			return err
		}
		alone = alone || no
	}
	if len(missed) == 0 || alone && len(missed) == 1 {
		return nil
	}
	why, err := stowing.Explain(r.ctx, r.p, stowing.Options{Seconds: seconds})
	if err != nil {
		return err
	}
	switch {
	case len(why.Wishes) > 1 && !why.WishesMinimal:
		r.no = append(r.no, fmt.Sprintf("Not all of these wishes can be had together with any stowage; which of them are at odds was not found in the time: %s.", r.colliding(why.Wishes)))
	case len(why.Wishes) > 1:
		r.no = append(r.no, fmt.Sprintf("These wishes cannot be had together with any stowage: %s. The plan gives way where that costs least by the prices below.", r.colliding(why.Wishes)))
	case !alone:
		r.no = append(r.no, "The plan does not have all that is wished of trim, heel and height. Whether another stowage has, was not decided in the time.")
	}
	return nil
}

// alone tells whether a wish cannot be had though everything else were given up, and says so.
func (r *run) alone(w wish, seconds float64) (bool, error) {
	scale := []float64{1}
	if w.kind == stowing.TooHigh { // so much lower, whatever she weighs
		var err error
		if scale, err = stowing.Masses(r.p); err != nil {
			return false, err
		}
	}
	least, err := stowing.Ease(r.ctx, r.p, w.kind, scale, seconds)
	if err != nil || least <= 0 || w.kind == stowing.TooHigh && r.b.Wished.Height-least >= r.b.Asked.Height {
		return false, err
	}
	rules := "that keeps the rules"
	if r.room {
		rules = "that keeps the rules and leaves room to spare"
	}
	if w.kind != stowing.TooHigh {
		r.no = append(r.no, fmt.Sprintf("What is wished of %s cannot be had with any stowage %s, though nothing else were wished.", w.name, rules))
		return true, nil
	}
	fine := r.c.Folder.Boat.Units.Fine()
	r.best = r.b.Wished.Height - least
	r.no = append(r.no, fmt.Sprintf("%s of height left is asked, and it cannot be had with any stowage %s: on some day none leaves more than about %s, though nothing else were wished (foretold from the curves, good to 5 mm for a plan that moves nearly everything). The least that would have to give is %s of what is asked; or less lies high that is no store in a compartment, or more lies low.",
		fine.Show(r.b.Asked.Height), rules, fine.Show(r.best), fine.Show(r.b.Asked.Height-r.best)))
	return true, nil
}
