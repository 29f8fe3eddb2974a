package trials

import (
	"math"

	"thole/internal/afloat"
	"thole/internal/model"
)

// Turned is a recorded capsize test and what has changed in the folder since.
type Turned struct {
	Trial *model.TurnedOver
	Err   error // the folder has no longer such a day or crew place

	Today model.State // the same load by the folder today
	// Heavier and Higher are today less then; meaningful where the test has them written down.
	Heavier, Higher float64
	// Beyond: either differs by more than is doubtful.
	Beyond bool
	// Changed: the folder is not the one that bears the test's stamp.
	Changed bool
	// Silent: the test says nothing to compare with.
	Silent bool
}

// Half a kilogram and half a millimetre are what rounding makes of a figure written down.
const (
	roundedMass   = 0.5
	roundedHeight = 0.0005
)

func turned(t *afloat.Trip, trial *model.TurnedOver) Turned {
	r := Turned{Trial: trial}
	a, err := bookOf(t, &trial.Trial)
	if err != nil {
		r.Err = err
		return r
	}
	r.Today = a.state
	r.Silent = trial.Mass == nil && trial.Height == nil && trial.Stamp == ""
	// Both figures come from the same book, so that its doubts fall on both alike: what changed in it
	// is known better than either, and only the tolerance written down with the figure is allowed for.
	if trial.Mass != nil {
		r.Heavier = a.state.Mass - float64(trial.Mass.Value)
		allowed := roundedMass
		if trial.Mass.Given {
			allowed = math.Max(allowed, float64(trial.Mass.Tolerance))
		}
		r.Beyond = math.Abs(r.Heavier) > allowed
	}
	if trial.Height != nil {
		r.Higher = a.state.G.Z - *trial.Height
		r.Beyond = r.Beyond || math.Abs(r.Higher) > math.Max(roundedHeight, trial.HeightTolerance)
	}
	r.Changed = trial.Stamp != "" && trial.Stamp != t.Folder.Stamp
	return r
}
