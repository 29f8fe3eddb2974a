// Package trials sets what was measured afloat against the weights book: weight and
// centre from freeboards, height of gravity from inclining, stiffness from the roll, and
// what has changed since she was last turned over.
//
// What a trial cannot tell it does not guess: its Err says what to measure again.
package trials

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/afloat"
	"thole/internal/hydro"
	"thole/internal/model"
)

// How well a reading is known where trials.yaml does not say, as half widths of the
// 19-in-20 range. Common practice, no source.
const (
	usualFreeboard  = 0.003  // metres, in a harbour's calm
	usualDeflection = 0.002  // metres, of a damped pendulum
	usualAngle      = 0.0017 // radians, a tenth of a degree
	usualAcross     = 0.005  // metres
	usualPendulum   = 0.002  // metres, of its length
	usualWatch      = 0.5    // seconds, started and stopped by hand
)

// half turns a 19-in-20 half width into a standard deviation.
const half = 1 / 1.959964

// Report is all trials of a folder worked out.
type Report struct {
	Floated  []Floated
	Inclined []Inclined
	Rolled   []Rolled
	Turned   []Turned
}

// Work works out all trials of a folder. A trial that can tell nothing carries its own error.
func Work(t *afloat.Trip) Report {
	var r Report
	all := t.Folder.Trials
	if all == nil {
		return r
	}
	for i := range all.Floated {
		r.Floated = append(r.Floated, float(t, &all.Floated[i]))
	}
	for i := range all.Inclined {
		r.Inclined = append(r.Inclined, incline(t, &all.Inclined[i], r.Floated))
	}
	for i := range r.Floated {
		if f := &r.Floated[i]; f.Err == nil {
			f.explain(t, r.Inclined)
		}
	}
	for i := range all.Rolled {
		r.Rolled = append(r.Rolled, roll(t, &all.Rolled[i], r.Inclined))
	}
	for i := range r.Rolled {
		r.Rolled[i].byOwn(r.Rolled)
	}
	for i := range all.Turned {
		r.Turned = append(r.Turned, turned(t, &all.Turned[i]))
	}
	return r
}

// aboard is what the book says was aboard at a trial.
type aboard struct {
	bare  model.State // by the folder alone
	state model.State // with what was aboard besides
	extra model.State // that by itself
	sea   hydro.Sea
}

// errNoPlace is of a crew place that the folder no longer has.
var errNoPlace = errors.New("the folder has no such day or crew place")

func bookOf(t *afloat.Trip, trial *model.Trial) (aboard, error) {
	cond := t.Condition(trial.Crew)
	if cond < 0 || trial.Day < 0 || trial.Day > t.Days {
		return aboard{}, fmt.Errorf("%w (day %d, %q)", errNoPlace, trial.Day, trial.Crew)
	}
	var rooms []r3.Vec
	for _, r := range t.Ship.Rooms {
		rooms = append(rooms, r.Centre)
	}
	a := aboard{bare: t.State(trial.Day, cond), sea: t.Sea}
	items := model.Items(trial.Also, rooms)
	a.state = a.bare.With(items...)
	a.extra = model.State{}.With(items...)
	if trial.Water > 0 {
		a.sea.Density = float64(trial.Water)
	}
	return a, nil
}

// same tells whether two trials were made with the same load of the folder.
func same(t *afloat.Trip, a, b *model.Trial) bool {
	return a.Day == b.Day && t.Condition(a.Crew) == t.Condition(b.Crew)
}

// or is a half width where it was given, and the usual one elsewhere.
func or(given, usual float64) float64 {
	if given > 0 {
		return given
	}
	return usual
}

// finite refuses a number that is none.
func finite(all ...float64) error {
	for _, v := range all {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return errNotANumber
		}
	}
	return nil
}

var errNotANumber = errors.New("the readings give no number: look for a slip of the unit")
