// Package motion is the table of how a boat moves: rowed and left to drift, by wind, angle to
// the wind and load, so that a passage can be simulated by looking it up a million times.
//
// A table is built from functions that the caller gives for each load: the boat (with her
// resistance at that draft) and the rower's thrust by speed. The balance itself is heading's.
// Between its points every figure runs smoothly and never beyond its neighbours. A table
// does not change once built and may be read by many goroutines; the same input gives the same
// table to the last bit, however many work at it.
//
// SI and radians. Angles to the wind are those of where it comes from off the bow, 0 to half
// a turn; she is taken as alike on both sides.
package motion

import (
	"errors"
	"fmt"
	"math"
	"sync"

	"thole/internal/heading"
)

// ErrInput is wrapped by what names the thing, what was given and the mend.
var ErrInput = errors.New("this cannot be worked out as given")

// Spec is what a table is built from.
type Spec struct {
	Winds  []float64 // m/s at 10 m, rising, from 0 or more
	Angles []float64 // radians, rising, from 0 to half a turn
	Loads  []float64 // kg, rising: the boat's mass with all that is in her
	// Boat is the boat at a load. It is called once for each.
	Boat func(load float64) (heading.Boat, error)
	// Thrust is what the rower makes at a speed ahead, N, with the boat at a load.
	Thrust func(load float64) func(speed float64) float64
	// Helm is what may hold her course; Idle, how she is left when nobody rows (rudder lashed).
	Helm heading.Helm
	Idle heading.Control
}

// Cell is how she goes when rowed.
type Cell struct {
	Ahead, Side float64 // through the water, m/s
	Rudder      float64 // radians
	Uneven      float64 // -1 to 1
	Margin      float64 // as heading.Way's: below nothing she cannot be held so
}

// Speed is through the water, m/s.
func (c Cell) Speed() float64 { return math.Hypot(c.Ahead, c.Side) }

// Leeway is the track off the bow, to starboard positive, radians; the wind is to starboard.
func (c Cell) Leeway() float64 { return math.Atan2(c.Side, c.Ahead) }

// Held says that rudder and oars hold her there and she goes ahead.
func (c Cell) Held() bool { return c.Margin >= 0 && c.Ahead > 0 }

// Adrift is how she goes when left.
type Adrift struct {
	From       float64 // where the wind comes from off the bow, radians
	Down       float64 // m/s to leeward
	Across     float64 // m/s to starboard of dead downwind, with the wind on her starboard side
	Alternates int     // other stable angles at which she may lie instead
}

// Table is the motion of a boat over wind, angle and load.
type Table struct {
	winds, angles, loads grid
	rowed                [fields][]float64 // load by load, wind by wind, angle by angle
	adrift               [drifts][]float64 // load by load, wind by wind
	alternates           []int
	legs                 [strides][]float64 // load by load, wind by wind, course by course (the angles)
}

// The figures of a cell, and of a drift.
const (
	ahead = iota
	side
	rudder
	uneven
	margin
	fields
)

const (
	from = iota
	down
	across
	drifts
)

// least is the margin to which one that is far below nothing is cut, so that it does not
// drag its neighbours down with it.
const least = -1

// Build works the table out.
//
// Error:  ErrInput; those of the caller's functions; heading's, with the load, wind and angle
// Good to: at its points, as heading.Row and heading.Rests
func Build(s Spec) (*Table, error) {
	t := &Table{}
	var err error
	if t.winds, err = rising("wind", s.Winds, 0, 100); err != nil {
		return nil, err
	}
	if t.angles, err = rising("angle", s.Angles, 0, math.Pi+1e-12); err != nil {
		return nil, err
	}
	if t.loads, err = rising("load", s.Loads, 1e-3, 1e7); err != nil {
		return nil, err
	}
	if s.Boat == nil || s.Thrust == nil {
		return nil, fmt.Errorf("%w: no boat or no thrust by load; give both functions", ErrInput)
	}
	type loaded struct {
		model  *heading.Model
		thrust func(float64) float64
	}
	var at []loaded
	for _, l := range s.Loads {
		b, err := s.Boat(l)
		if err != nil {
			return nil, fmt.Errorf("load %.0f kg: %w", l, err)
		}
		m, err := heading.New(b)
		if err != nil {
			return nil, fmt.Errorf("load %.0f kg: %w", l, err)
		}
		at = append(at, loaded{m, s.Thrust(l)})
	}
	nw, na := len(s.Winds), len(s.Angles)
	rows := len(s.Loads) * nw
	for i := range t.rowed {
		t.rowed[i] = make([]float64, rows*na)
	}
	for i := range t.adrift {
		t.adrift[i] = make([]float64, rows)
	}
	t.alternates = make([]int, rows)
	faults := make([]error, rows)
	row := func(r int) error {
		m, wind := at[r/nw], s.Winds[r%nw]
		for k, angle := range s.Angles {
			w, err := m.model.Row(wind, angle, m.thrust, s.Helm)
			if err != nil {
				return fmt.Errorf("load %.0f kg: %w", s.Loads[r/nw], err)
			}
			i := r*na + k
			t.rowed[ahead][i], t.rowed[side][i] = w.Ahead, w.Side
			t.rowed[rudder][i], t.rowed[uneven][i] = w.Rudder, w.Uneven
			t.rowed[margin][i] = math.Max(least, w.Margin)
		}
		return t.left(r, m.model, wind, s.Idle)
	}
	// Each row is worked out by itself, so that the order in which they are done leaves no trace.
	work := make(chan int)
	var done sync.WaitGroup
	for range 2 {
		done.Add(1)
		go func() {
			defer done.Done()
			for r := range work {
				faults[r] = row(r)
			}
		}()
	}
	for r := range rows {
		work <- r
	}
	close(work)
	done.Wait()
	if err := errors.Join(faults...); err != nil {
		return nil, err
	}
	t.layLegs()
	return t, nil
}

// left is how she drifts in a wind: at the stable angle nearest to beam-on, where a boat
// that is let go comes to lie first.
func (t *Table) left(r int, m *heading.Model, wind float64, idle heading.Control) error {
	t.adrift[from][r] = math.Pi / 2
	if wind < 1e-3 {
		return nil
	}
	idle.Thrust = nil
	rests, err := m.Rests(wind, idle)
	if err != nil {
		return err
	}
	best := math.Inf(1)
	count := 0
	for _, l := range rests {
		if !l.Stable || l.From < -1e-6 {
			continue
		}
		count++
		if off := math.Abs(l.From - math.Pi/2); off < best {
			best = off
			s, c := math.Sincos(l.Divergence())
			t.adrift[from][r] = math.Max(0, l.From)
			t.adrift[down][r] = l.Speed() * c
			t.adrift[across][r] = l.Speed() * s
		}
	}
	t.alternates[r] = max(0, count-1)
	return nil
}
