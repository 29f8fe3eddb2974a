package trials

import (
	"errors"
	"math"

	"thole/internal/afloat"
	"thole/internal/hydro"
	"thole/internal/model"
)

// The factor of the roll rule: loaded and light coasters and fishing boats.
//
// Source: GM = (f B / T)², IMO 2008 IS Code part B and national fishing-vessel rules: 0.88 empty or ballasted, 0.73 to 0.78 loaded
const (
	LeastFactor = 0.73
	MostFactor  = 0.88
)

// fewestRolls is how many rolls make a count; one by itself cannot be timed by hand.
const fewestRolls = 5

var errFewRolls = errors.New("count five rolls or more, better ten: a watch stopped by hand cannot time fewer")

// Rolled is her stiffness from the time of small rolls.
type Rolled struct {
	Trial *model.Rolled
	Err   error // why it tells nothing

	Period, Deviation float64 // of one roll, seconds
	Beam              float64 // metres
	Low, High         float64 // metacentric height by the rule, with the least and the greatest factor
	Book              float64 // by the weights book
	BookDoubt         float64 // its standard deviation
	// Own is her own factor, where she was inclined with the same load; 0 elsewhere.
	Own float64
	// ByOwn is the metacentric height by her own factor from another roll, and its standard deviation; 0 without one.
	ByOwn, ByOwnDeviation float64
	own                   float64 // standard deviation of Own
}

// RollHeight is the metacentric height by the roll rule.
func RollHeight(factor, beam, period float64) float64 { return sq(factor * beam / period) }

func roll(t *afloat.Trip, trial *model.Rolled, inclined []Inclined) Rolled {
	r := Rolled{Trial: trial}
	a, err := bookOf(t, &trial.Trial)
	if err != nil {
		r.Err = err
		return r
	}
	if trial.Rolls < fewestRolls || !(trial.Seconds > 0) {
		r.Err = errFewRolls
		return r
	}
	n := float64(trial.Rolls)
	r.Period, r.Deviation = trial.Seconds/n, usualWatch*half/n
	_, high := t.Ship.Body.Envelope.Box()
	r.Beam = 2 * high[1]
	r.Low, r.High = RollHeight(LeastFactor, r.Beam, r.Period), RollHeight(MostFactor, r.Beam, r.Period)
	l := afloat.Load(&a.state)
	rest, err := hydro.Float(t.Ship.Body, l, a.sea, nil)
	if err != nil {
		r.Err = err
		return r
	}
	r.Book, r.BookDoubt = rest.Stiffness(l), a.state.DoubtG.Z
	for i := range inclined {
		in := &inclined[i]
		if in.Err == nil && in.GM > 0 && same(t, &in.Trial.Trial, &trial.Trial) {
			r.Own = r.Period * math.Sqrt(in.GM) / r.Beam
			r.own = r.Own * math.Hypot(r.Deviation/r.Period, in.Deviation/(2*in.GM))
		}
	}
	r.Err = finite(r.Period, r.Low, r.High, r.Own)
	return r
}

// byOwn uses the factor of the latest roll that was calibrated, other than this one.
func (r *Rolled) byOwn(all []Rolled) {
	if r.Err != nil {
		return
	}
	var best *Rolled
	for i := range all {
		o := &all[i]
		if o.Trial != r.Trial && o.Own > 0 && (best == nil || !o.Trial.Date.Before(best.Trial.Date)) {
			best = o
		}
	}
	if best != nil {
		r.ByOwn = RollHeight(best.Own, r.Beam, r.Period)
		r.ByOwnDeviation = 2 * r.ByOwn * math.Hypot(best.own/best.Own, r.Deviation/r.Period)
	}
}
