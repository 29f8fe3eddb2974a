// Package afloat is the boat afloat on every day of the trip in every condition:
// what several questions need, worked out once and shared.
package afloat

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/hydro"
	"thole/internal/model"
	"thole/internal/shape"
)

// SeaWater is the density taken when a folder names none.
//
// Source: a convention; EOS-80 (UNESCO 36) gives 1022 to 1028 for the open sea's surface
const SeaWater = 1025

// Trip is a loaded boat over all its days. It may be asked by many goroutines.
type Trip struct {
	Folder     *model.Folder
	Ship       *shape.Ship
	Sea        hydro.Sea
	Conditions []model.Condition
	Days       int // the last day; 0 is the departure
	rooms      []r3.Vec

	mu     sync.Mutex
	floats [][]Floating
	curves [][]Righting
	some   map[[2]int]Righting // of single days and conditions, as they were asked for
	// start is the curves of another trip, by day and condition, that those of this one are found from.
	start map[[2]int]*hydro.Curve
}

// New builds the ship of a folder.
//
// Error: the table that no surface could be laid over, or a compartment without room
func New(f *model.Folder) (*Trip, error) { return NewFrom(f, nil) }

// NewFrom is New for a folder that differs little from that of another trip, or nil: what has one
// shape is not worked out again.
func NewFrom(f *model.Folder, was *Trip) (*Trip, error) {
	var ship *shape.Ship
	var err error
	if was != nil {
		ship, err = shape.BuildFrom(&f.Boat, &was.Folder.Boat, was.Ship)
	} else {
		ship, err = shape.Build(&f.Boat)
	}
	if err != nil {
		return nil, err
	}
	t := &Trip{Folder: f, Ship: ship, Sea: hydro.Sea{Density: SeaWater}, Conditions: f.Conditions(), Days: f.LastDay()}
	if f.Boat.Water > 0 {
		t.Sea.Density = float64(f.Boat.Water)
	}
	if was != nil {
		t.start = was.curvesKnown()
	}
	for _, r := range ship.Rooms {
		t.rooms = append(t.rooms, r.Centre)
	}
	return t, nil
}

// Condition is the index of a condition by name; the first for an empty name,
// -1 for one that there is not.
func (t *Trip) Condition(name string) int {
	if name == "" {
		return 0
	}
	for i, c := range t.Conditions {
		if c.Name == name {
			return i
		}
	}
	return -1
}

// When says a day and a condition in words, for a sentence.
func (t *Trip) When(day, condition int) string {
	if t.Days == 0 && len(t.Conditions) == 1 {
		return model.AsLoaded
	}
	return fmt.Sprintf("on day %d with the crew %s", day, t.Conditions[condition].Name)
}

// State is the load at the end of a day in a condition.
func (t *Trip) State(day, condition int) model.State {
	return t.Folder.At(day, t.Conditions[condition], t.rooms)
}

// Load is what hydro floats.
func Load(s *model.State) hydro.Load { return hydro.Load{Mass: s.Mass, G: s.G} }

// Floating is where she lies on a day in a condition.
type Floating struct {
	State     model.State
	Rest      hydro.Rest
	Freeboard float64 // least height of the deck's edge above the water
	At        r3.Vec  // where that is
	Err       error
}

// Float finds where she lies, from a nearby rest if there is one.
func (t *Trip) Float(s model.State, near *hydro.Attitude) Floating {
	f := Floating{State: s}
	f.Rest, f.Err = hydro.Float(t.Ship.Body, Load(&s), t.Sea, near)
	if f.Err == nil {
		f.Freeboard, f.At = t.Freeboard(f.Rest.Attitude)
	}
	return f
}

// Freeboard is the least height of the deck's edge above the water on either side, and where.
func (t *Trip) Freeboard(a hydro.Attitude) (least float64, at r3.Vec) {
	least = math.Inf(1)
	for _, p := range t.Ship.Sheer {
		for _, side := range [2]float64{1, -1} {
			q := r3.Vec{X: p.X, Y: side * p.Y, Z: p.Z}
			if h := a.Above(q); h < least {
				least, at = h, q
			}
		}
	}
	return least, at
}

// Floats are all days in all conditions, [condition][day]. They are worked out at the first
// call; the caller may be told of progress.
//
// Error: only the context's; a state that cannot float carries its own
func (t *Trip) Floats(ctx context.Context, progress func(done, total int)) ([][]Floating, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.floats != nil {
		return t.floats, nil
	}
	out := make([][]Floating, len(t.Conditions))
	for i := range out {
		out[i] = make([]Floating, t.Days+1)
	}
	err := t.each(ctx, progress, func(c, from, to int) func(day int) {
		var near, before *hydro.Attitude
		return func(day int) {
			start := near
			if before != nil { // straight on from the two days before
				start = &hydro.Attitude{Heel: 2*near.Heel - before.Heel, Level: 2*near.Level - before.Level, Slope: 2*near.Slope - before.Slope}
			}
			f := t.Float(t.State(day, c), start)
			near, before = nil, near
			if f.Err == nil {
				near = &f.Rest.Attitude
			}
			if near == nil {
				before = nil
			}
			out[c][day] = f
		}
	})
	if err != nil {
		return nil, err
	}
	t.floats = out
	return out, nil
}

// Righting is how she comes back on a day in a condition.
type Righting struct {
	State    model.State
	Headroom float64 // how much higher her centre of gravity could lie, metres
	At       float64 // the heel at which that is used up first, radians
	// Curve is her arms as if she had no list, which Headroom has put on; nil where it was let go.
	Curve *hydro.Curve
	Err   error
}

// Righting works out how she comes back in a state. near and before are as for hydro.NewCurveNear.
func (t *Trip) Righting(s model.State, near, before *hydro.Curve) Righting {
	r := Righting{State: s}
	// A list of a few millimetres is put on afterwards: half the heels to work out.
	l := Load(&s)
	y := l.G.Y
	l.G.Y = 0
	if r.Curve, r.Err = hydro.NewCurveNear(t.Ship.Body, l, t.Sea, near, before); r.Err == nil {
		r.Headroom, r.At = r.Curve.HeadroomOffCentre(y)
	}
	return r
}

// Curve is her righting arms in a state.
func (t *Trip) Curve(s *model.State, near *hydro.Curve) (*hydro.Curve, error) {
	return hydro.NewCurveNear(t.Ship.Body, Load(s), t.Sea, near, nil)
}

// RightingAt is Righting on a day in a condition, worked out once.
func (t *Trip) RightingAt(day, condition int) Righting { return t.righting(day, condition, nil) }

// righting is RightingAt, started from the same state's curve of a like trip, or else from a like curve of this one.
func (t *Trip) righting(day, condition int, near *hydro.Curve) Righting {
	at := [2]int{day, condition}
	t.mu.Lock()
	r, known := t.some[at]
	if before := t.start[at]; before != nil {
		near = before
	} else if near == nil {
		near = t.alike(at)
	}
	t.mu.Unlock()
	if known {
		return r
	}
	r = t.Righting(t.State(day, condition), near, nil)
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.some == nil {
		t.some = map[[2]int]Righting{}
	}
	t.some[at] = r
	return r
}

// curvesKnown are the curves that there are by now, by day and condition; before there are any, those that this trip
// started from.
func (t *Trip) curvesKnown() map[[2]int]*hydro.Curve {
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(t.some) == 0 {
		return t.start
	}
	out := make(map[[2]int]*hydro.Curve, len(t.some))
	for at, r := range t.some {
		out[at] = r.Curve
	}
	return out
}

// alike is the curve of the state most like one, of those there are: the nearest day, of the same condition
// before others. It always chooses the same, so that what comes of it is the same to the last digit.
func (t *Trip) alike(at [2]int) *hydro.Curve {
	var best *hydro.Curve
	least := [3]int{math.MaxInt}
	for k, r := range t.some {
		apart := [3]int{max(at[0]-k[0], k[0]-at[0]), k[0], k[1]}
		if k[1] != at[1] {
			apart[0] += t.Days/4 + 1
		}
		if r.Curve != nil && (best == nil || slices.Compare(apart[:], least[:]) < 0) {
			best, least = r.Curve, apart
		}
	}
	return best
}

// Rightings are all days in all conditions, [condition][day], as Floats.
func (t *Trip) Rightings(ctx context.Context, progress func(done, total int)) ([][]Righting, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.curves != nil {
		return t.curves, nil
	}
	out := make([][]Righting, len(t.Conditions))
	for i := range out {
		out[i] = make([]Righting, t.Days+1)
	}
	err := t.each(ctx, progress, func(c, from, to int) func(day int) {
		var near, before *hydro.Curve
		return func(day int) {
			r := t.Righting(t.State(day, c), near, before)
			near, before = r.Curve, near
			r.Curve = nil // a few hundred of them would be kept for nothing
			out[c][day] = r
		}
	})
	if err != nil {
		return nil, err
	}
	t.curves = out
	return out, nil
}

// run is the days that one worker does in a row, so that each starts from the day before.
const run = 12

// each does all days of all conditions on all cores. start is called for a run
// of days and gives the function that does one of them.
func (t *Trip) each(ctx context.Context, progress func(done, total int), start func(condition, from, to int) func(day int)) error {
	type job struct{ condition, from, to int }
	var jobs []job
	for c := range t.Conditions {
		for d := 0; d <= t.Days; d += run {
			jobs = append(jobs, job{c, d, min(d+run, t.Days+1)})
		}
	}
	total := len(t.Conditions) * (t.Days + 1)
	var next, done atomic.Int64
	var wg sync.WaitGroup
	var tell sync.Mutex
	for range min(runtime.GOMAXPROCS(0), len(jobs)) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(jobs) {
					return
				}
				j := jobs[i]
				do := start(j.condition, j.from, j.to)
				for d := j.from; d < j.to; d++ {
					if ctx.Err() != nil {
						return
					}
					do(d)
				}
				n := int(done.Add(int64(j.to - j.from)))
				if progress != nil {
					tell.Lock()
					progress(n, total)
					tell.Unlock()
				}
			}
		})
	}
	wg.Wait()
	return ctx.Err()
}
