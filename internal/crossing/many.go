package crossing

import (
	"context"
	"runtime"
	"sync/atomic"

	"thole/internal/voyages"
)

// made are the tallies that were made before, by how many passages they hold.
type made struct {
	turn  chan struct{} // holds one token: who has it may look and add
	tally map[int]*voyages.Tally
}

func newMade() *made {
	m := &made{turn: make(chan struct{}, 1), tally: map[int]*voyages.Tally{}}
	m.turn <- struct{}{}
	return m
}

// Many makes the first n passages and tallies them; what was made before is not made again.
//
// In:     progress, if not nil, is told of passages done of n
// Out:    a tally that is kept and must not be changed
// Error:  the context's, with the tally of none; the runner's
// Good to: the same digits for any number of cores, and however n was come by (TestManyGrows)
func (c *Crossing) Many(ctx context.Context, n int, progress func(done, total int)) (*voyages.Tally, error) {
	n = max(0, n)
	select {
	case <-ctx.Done():
		return nil, ctx.Err()
	case <-c.made.turn:
		defer func() { c.made.turn <- struct{}{} }()
	}
	before := 0
	for k := range c.made.tally {
		if k <= n && k > before {
			before = k
		}
	}
	if before == n && n > 0 {
		return c.made.tally[n], nil
	}
	var done atomic.Int64
	done.Store(int64(before))
	var told func(uint64)
	if progress != nil {
		told = func(k uint64) { progress(int(done.Add(int64(k))), n) }
	}
	t, err := c.Runner.Run(ctx, uint64(before), uint64(n-before), runtime.GOMAXPROCS(0), told)
	if err != nil {
		return nil, err
	}
	if before > 0 {
		if err := t.Add(c.made.tally[before]); err != nil {
			return nil, err
		}
	}
	c.made.tally[n] = t
	return t, nil
}

// Spread is the days of arrival of a tally as package sustenance asks them.
type Spread struct{ *voyages.Tally }

// By is the share of all passages that have arrived so many days after leaving.
func (s Spread) By(days float64) float64 { return s.ArrivedBefore(days) }
