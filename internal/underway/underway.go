// Package underway is the boat of a folder as she moves: what holds her back at the draft and trim of a day, what her crew
// drive her with, and from these her speed, the power for a speed and the head wind that stops her.
//
// Metres, newtons, watts, seconds, radians, knots nowhere. x runs aft from station 0; a wind's angle is where it comes from off
// the bow, 0 ahead. Every figure carries a spread: half the width of its 19-in-20 range.
//
// One model of the stroke (package rowing: a blade that slips) serves for the fit, the effort and the thrust. What the wave
// making hangs on, the hull at a mass and a trim, is worked out on a grid of both and kept by the boat's shape, so that
// another load costs little.
package underway

import (
	"fmt"
	"sync"

	"thole/internal/afloat"
	"thole/internal/hydro"
	"thole/internal/model"
	"thole/internal/resistance"
)

// Keeper keeps what was worked out: of a folder (Keep), and of its shape alone (KeepShape). A case of a folder is one.
type Keeper interface {
	Keep(key string, build func() (any, error)) (any, error)
	KeepShape(key string, build func() (any, error)) (any, error)
}

// Way is a folder's boat under way, on any day. It may be asked by many goroutines.
type Way struct {
	Trip    *afloat.Trip
	Water   resistance.Water
	Assumed []Assumed // what the folder did not give
	keep    Keeper

	rig   sync.Once
	crew  Crew
	fault error
}

// Assumed is a figure that the folder does not give, and what was taken.
type Assumed struct{ What, Value, Why, File string }

// Rowed is she on one day in one condition, as she is rowed: everything down that the folder has down, everybody at the oars who
// has a place there.
type Rowed struct {
	State    model.State
	Attitude hydro.Attitude // upright: a list is left out
	Scraped  float64        // days since the bottom was clean
	Boat     *resistance.Boat
	Table    *resistance.Table // in a flat sea
	Crew     Crew
	water    resistance.Water
	seen     *Yaw // what wind and water meet of her
}

// New makes a folder's boat ready to be asked how she moves.
func New(k Keeper, t *afloat.Trip) *Way {
	v, _ := k.Keep("underway", func() (any, error) { // nothing in it can fail
		w := &Way{Trip: t, keep: k}
		w.sea()
		return w, nil
	})
	return v.(*Way)
}

// At is she on a day in a condition, worked out once.
//
// Error:  a state in which she does not float, or figures that no answer can be made from; the error says which
func (w *Way) At(day, condition int) (*Rowed, error) {
	v, err := w.keep.Keep(fmt.Sprintf("underway %d %d", day, condition), func() (any, error) {
		return w.of(w.Trip.State(day, condition))
	})
	if err != nil {
		return nil, err
	}
	return v.(*Rowed), nil
}

// Resistance is what the water does at a speed in a flat calm, air left out, N, with the speed's sign.
func (r *Rowed) Resistance(v float64) float64 { return r.Table.Resistance(v) }

// Thrust is what the crew make together at a speed, mean over the stroke; astern as at rest.
func (r *Rowed) Thrust(v float64) resistance.Force { return r.Crew.Thrust(v) }

// Speed is what the crew make of her in a wind.
//
// Error:  as resistance.Table.Speed
func (r *Rowed) Speed(w resistance.Wind) (resistance.Made, error) {
	return r.Table.Speed(r.Crew.Thrust, w)
}

// StopWind is the wind at 10 m from an angle off the bow in which rowing just holds her.
//
// Error:  as resistance.Table.StopWind
func (r *Rowed) StopWind(from float64) (speed, spread float64, err error) {
	return r.Table.StopWind(r.Crew.Thrust, from)
}

// Power is what must come to the handles, from all of the crew together, to keep a speed in a wind, shared as they share it now.
//
// In:     m/s ahead, above 0
// Out:    W and its spread; 0 where the wind alone does it
// Error:  ErrTooHard where the hands cannot pull so hard for hours
func (r *Rowed) Power(v float64, w resistance.Wind) (watts, spread float64, err error) {
	return r.Crew.power(v, r.Table.Total(v, w))
}
