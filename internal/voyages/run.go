package voyages

import (
	"context"
	"sync"
)

// Run makes passages, from a number on, and tallies them.
//
// In:     workers, 1 or more; done, if not nil, is told of passages done since last told, from
// any goroutine
// Out:    the tally, also what there is of it when stopped
// Error:  the context's; that of the passage with the lowest number that fails
// Good to: the same digits with any number of workers (TestCores)
func (r *Runner) Run(ctx context.Context, first, count uint64, workers int, done func(n uint64)) (*Tally, error) {
	const bunch = 32 // passages taken at a time: some ten milliseconds of work
	workers = max(1, workers)
	var mu sync.Mutex
	next, end := first, first+count
	var failed error
	failedAt := end
	take := func() (uint64, uint64) {
		mu.Lock()
		defer mu.Unlock()
		from := next
		next = min(end, next+bunch)
		return from, next
	}
	total := r.NewTally()
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			own := r.NewTally()
			c := counter{t: own}
			for ctx.Err() == nil {
				from, to := take()
				if from == to {
					break
				}
				for n := from; n < to && ctx.Err() == nil; n++ {
					c.last = 0
					p, err := r.passage(n, &c, false)
					if err != nil {
						mu.Lock()
						if n < failedAt {
							failed, failedAt = err, n
						}
						next = end
						mu.Unlock()
						break
					}
					own.add(p)
				}
				if done != nil {
					done(to - from)
				}
			}
			mu.Lock()
			defer mu.Unlock()
			if err := total.Add(own); err != nil && failed == nil {
				failed = err
			}
		})
	}
	wg.Wait()
	if failed != nil {
		return nil, failed
	}
	return total, ctx.Err()
}

// Replay makes one passage again and keeps every step.
//
// Good to: the passage is that of Passage and of Run to the last bit (TestReplay)
func (r *Runner) Replay(number uint64) (Passage, []Moment, error) {
	k := keeper{}
	p, err := r.passage(number, &k, true)
	return p, k.moments, err
}

// keeper keeps the steps of a passage.
type keeper struct{ moments []Moment }

func (k *keeper) midnight(int, vector, float64) {}
func (k *keeper) passed(int, float64)           {}
func (k *keeper) moment(m Moment)               { k.moments = append(k.moments, m) }
