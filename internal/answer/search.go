package answer

import (
	"fmt"
	"math"
)

// HowFar says in words how far a finding may be from the best there is.
func (f Finding) HowFar() string {
	percent := func(step float64) float64 { return math.Ceil(100**f.Gap/step-1e-9) * step } // never less than it is
	switch {
	case f.Gap == nil:
		return "how far from the best is not known yet"
	case *f.Gap <= 1e-9:
		return "the best there is"
	case *f.Gap < 0.099:
		return fmt.Sprintf("at most %.1f %% from the best", percent(0.1))
	}
	return fmt.Sprintf("at most %.0f %% from the best", math.Min(999, percent(1)))
}
