package flood

import (
	"cmp"
	"context"
	"errors"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/hydro"
	"thole/internal/model"
)

// Outcome is what becomes of her.
type Outcome string

// What becomes of her with compartments open to the sea.
const (
	Floats Outcome = "floats"
	Under  Outcome = "deck under" // she floats, with the deck's edge under water
	Over   Outcome = "over"       // she lies over, or no rest upright was found
	Sinks  Outcome = "sinks"
)

// lies is the heel at rest from which she is said to lie over.
//
// Source: International Convention on Load Lines 1966, regulation 27 (15 degrees after damage), from memory
const lies = 15 * deg

// state is a day with the crew in a place, nothing holed.
type state struct {
	day, cond int
	dry       afloat.Floating
	shares    []float64
}

// result is where she lies with rooms open to the sea.
type result struct {
	state   *state
	holed   []int
	flooded []int // the holed ones first, then those that an open hatch let the sea into
	body    *hydro.Body
	load    hydro.Load
	rest    afloat.Floating
	outcome Outcome
	score   float64 // freeboard, m; negative by how far she is from floating upright
	// Of single losses only: the other method's difference, and the arms in the state where she has least to spare dry.
	disagree float64
	arms     *arms
}

// flood lets the sea into the holed rooms, through each opening that is open and goes under into what lies behind it, and
// from a cabin into what lies under it without a lid of its own, and back, until nothing more does. It starts from a nearby attitude.
func (q *ask) flood(s *state, holed []int, near *hydro.Attitude, open func(*model.Opening) bool) result {
	r := result{state: s, holed: holed, flooded: slices.Clone(holed), load: afloat.Load(&s.dry.State)}
	for range len(q.rooms) + 1 {
		var f []hydro.Flooded
		for _, i := range r.flooded {
			f = append(f, q.rooms[i].flooded(s.shares[i]))
		}
		r.body = q.t.Ship.Body.With(f, nil)
		r.rest = afloat.Floating{State: s.dry.State}
		r.rest.Rest, r.rest.Err = hydro.Float(r.body, r.load, q.t.Sea, near)
		if r.rest.Err != nil {
			break
		}
		near = &r.rest.Rest.Attitude
		more := false
		for i := range q.c.Folder.Boat.Openings {
			o := &q.c.Folder.Boat.Openings[i]
			if !open(o) || near.Above(o.At) > 0 {
				continue
			}
			for _, k := range q.behind(o) {
				if !slices.Contains(r.flooded, k) {
					r.flooded, more = append(r.flooded, k), true
				}
			}
		}
		for _, p := range q.lidless {
			a, b := slices.Contains(r.flooded, p.cabin), slices.Contains(r.flooded, p.below)
			if a == b || !p.under(near) {
				continue
			}
			if more = true; a {
				r.flooded = append(r.flooded, p.below)
			} else {
				r.flooded = append(r.flooded, p.cabin)
			}
		}
		if !more {
			break
		}
	}
	q.weigh(&r)
	return r
}

// weigh gives a result its outcome and its score. What she lacks of buoyancy when she sinks counts as
// the depth of that much water over her dry waterplane; a list beyond the limit as how far it carries her side down.
func (q *ask) weigh(r *result) {
	_, hi := q.t.Ship.Body.Envelope.Box()
	switch {
	case errors.Is(r.rest.Err, hydro.ErrSinks):
		r.outcome = Sinks
		lack := r.load.Mass/q.t.Sea.Density - r.body.Volume()
		plane := math.Max(r.state.dry.Rest.Sums.Breadth, 1e-3)
		r.score = -math.Max(1e-6, lack/plane)
	case r.rest.Err != nil:
		r.outcome, r.score = Over, -hi[1]
	default:
		r.rest.Freeboard, r.rest.At = q.t.Freeboard(r.rest.Rest.Attitude)
		r.outcome, r.score = Floats, r.rest.Freeboard
		if over := math.Abs(r.rest.Rest.Heel) - lies; over > 0 {
			r.outcome, r.score = Over, math.Min(r.score, -over*hi[1])
		} else if r.score <= 0 {
			r.outcome = Under
		}
	}
}

// leftOpen are the openings that are not closed at sea.
func leftOpen(o *model.Opening) bool { return o.Admits() }

// work floats her dry in every state, then holed singly and in pairs.
func (q *ask) work(ctx context.Context, progress func(done, total int)) error {
	for _, d := range q.days {
		shares := q.shares(d)
		for _, c := range q.conds {
			q.states = append(q.states, state{day: d, cond: c, shares: shares})
		}
	}
	n := len(q.rooms)
	pairs := min(n, mostPaired)
	pairs = pairs * (pairs - 1) / 2
	tell := newTeller(progress, len(q.states)*(1+n+pairs)+n)
	if err := parallel(ctx, len(q.states), func(i int) {
		s := &q.states[i]
		s.dry = q.t.Float(q.t.State(s.day, s.cond), nil)
		tell.did(1)
	}); err != nil {
		return err
	}
	all := make([]result, len(q.states)*n)
	if err := parallel(ctx, len(all), func(i int) {
		if s := &q.states[i/n]; s.dry.Err == nil {
			all[i] = q.flood(s, []int{i % n}, &s.dry.Rest.Attitude, leftOpen)
		}
		tell.did(1)
	}); err != nil || q.sunk() != nil {
		return err
	}
	q.singles = worstOf(all, n)
	q.worst = q.singles[0]
	if q.bare {
		return q.worry(ctx, all, tell)
	}
	if err := q.workPairs(ctx, all, tell, false); err != nil {
		return err
	}
	if err := q.lightest(ctx); err != nil {
		return err
	}
	if err := parallel(ctx, len(q.singles), func(i int) {
		r := &q.singles[i]
		r.disagree = q.disagreement(r)
		r.arms = q.armsOf(&all[q.light*n+r.holed[0]])
		tell.did(1)
	}); err != nil {
		return err
	}
	q.openings(all)
	return ctx.Err()
}

// worry works out only what the verdict hangs on, and no more of that once one thing has settled it: a loss that
// she cannot bear or can only just, then one from which she does not come back up, a pair that costs her, a hatch left open.
func (q *ask) worry(ctx context.Context, all []result, tell *teller) error {
	if q.margin().Judge() != answer.Yes {
		return ctx.Err()
	}
	if err := q.lightest(ctx); err != nil {
		return err
	}
	n := len(q.rooms)
	// The large ones first: it is they that hold her over.
	slices.SortStableFunc(q.singles, func(a, b result) int { return cmp.Compare(q.rooms[b.holed[0]].volume, q.rooms[a.holed[0]].volume) })
	for i := range q.singles {
		r := &q.singles[i]
		if r.arms = q.armsOf(&all[q.light*n+r.holed[0]]); r.arms != nil && len(r.arms.stays) > 0 || ctx.Err() != nil {
			return ctx.Err()
		}
	}
	slices.SortStableFunc(q.singles, func(a, b result) int { return cmp.Compare(a.score, b.score) })
	if err := q.workPairs(ctx, all, tell, true); err != nil || len(q.pairs) > 0 && q.pairs[0].outcome != Floats {
		return err
	}
	q.openings(all)
	return ctx.Err()
}

// lightest finds the state in which she comes back up least willingly with nothing holed: there it is
// asked whether she does with a compartment open to the sea.
func (q *ask) lightest(ctx context.Context) error {
	least := math.Inf(1)
	for i := range q.states {
		height := math.Inf(-1) // no balance at some heel comes before all
		if r := q.t.RightingAt(q.states[i].day, q.states[i].cond); r.Err == nil {
			height = r.Headroom
		}
		if height < least {
			least, q.light = height, i
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
	}
	return nil
}

// workPairs holes every pair, from where she lies with the first. Once she sinks, or finds no balance, the days and crew places
// that come after are not looked at for that pair: nothing is worse, and the search for a balance that there is not is the dearest.
// With enough, the first pair that costs her ends the work, and only what was looked at by then is kept.
func (q *ask) workPairs(ctx context.Context, all []result, tell *teller, enough bool) error {
	n := min(len(q.singles), mostPaired)
	for _, r := range q.singles[:n] {
		q.paired = append(q.paired, r.holed[0])
	}
	slices.Sort(q.paired)
	var both [][]int
	for i, a := range q.paired {
		for _, b := range q.paired[i+1:] {
			both = append(both, []int{a, b})
		}
	}
	worst := make([]result, len(both))
	on, stop := context.WithCancel(ctx)
	defer stop()
	err := parallel(on, len(both), func(i int) {
		for s := range q.states {
			first := &all[s*len(q.rooms)+both[i][0]]
			near := &first.rest.Rest.Attitude
			if first.rest.Err != nil {
				near = &q.states[s].dry.Rest.Attitude
			}
			r := q.flood(&q.states[s], both[i], near, leftOpen)
			if s == 0 || r.score < worst[i].score {
				worst[i] = r
			}
			tell.did(1)
			if r.rest.Err != nil {
				tell.did(len(q.states) - 1 - s)
				break
			}
		}
		if enough && worst[i].outcome != Floats {
			stop()
		}
	})
	if ctx.Err() != nil {
		return err
	}
	q.pairs = slices.DeleteFunc(worst, func(r result) bool { return r.holed == nil })
	slices.SortStableFunc(q.pairs, func(a, b result) int { return cmp.Compare(a.score, b.score) })
	return nil
}

// sunk is the first state in which she does not float even with nothing holed, or nil.
func (q *ask) sunk() *state {
	for i := range q.states {
		if q.states[i].dry.Err != nil {
			return &q.states[i]
		}
	}
	return nil
}

// worstOf keeps of each loss, n of them a state, the state in which it is worst, and sorts them worst first.
func worstOf(all []result, n int) []result {
	out := slices.Clone(all[:n])
	for i, r := range all {
		if r.score < out[i%n].score {
			out[i%n] = r
		}
	}
	slices.SortStableFunc(out, func(a, b result) int { return cmp.Compare(a.score, b.score) })
	return out
}

// parallel does n things on all cores.
//
// Error: the context's
func parallel(ctx context.Context, n int, do func(i int)) error {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		wg.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				do(i)
			}
		})
	}
	wg.Wait()
	return ctx.Err()
}

// teller tells of progress, by hundredths.
type teller struct {
	mu          sync.Mutex
	progress    func(done, total int)
	done, total int
	told        int
}

func newTeller(progress func(done, total int), total int) *teller {
	return &teller{progress: progress, total: max(1, total)}
}

func (t *teller) did(n int) {
	if t.progress == nil {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.done += n
	if now := 100 * t.done / t.total; now != t.told {
		t.told = now
		t.progress(t.done, t.total)
	}
}
