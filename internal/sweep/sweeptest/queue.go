// Package sweeptest holds what every queue of sweep's must do, as a test.
package sweeptest

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"thole/internal/sweep"
)

// work is a part's: its range, in 16 bytes.
func work(p sweep.Part) []byte {
	return binary.BigEndian.AppendUint64(binary.BigEndian.AppendUint64(nil, p.First), p.Count)
}

// Queue tries a queue with short leases, a second at most.
func Queue(t *testing.T, q sweep.Queue) {
	ctx, stop := context.WithTimeout(context.Background(), 60*time.Second)
	defer stop()
	gather := func(t *testing.T, job string, parts int) (sum uint64, calls int, err error) {
		t.Helper()
		err = sweep.Gather(ctx, q, job, parts, func(n int, data []byte) error {
			calls++
			sum += binary.BigEndian.Uint64(data[8:])
			return nil
		}, nil)
		return
	}
	// workers starts some; what it gives back ends them.
	workers := func(n int, do sweep.Do, tries int) (end func()) {
		wctx, stop := context.WithCancel(ctx)
		var wg sync.WaitGroup
		for range n {
			wg.Go(func() { _ = sweep.Work(wctx, q, do, tries) })
		}
		return func() { stop(); wg.Wait() }
	}
	add := func(t *testing.T, job string, count, size uint64) []sweep.Part {
		t.Helper()
		parts, err := sweep.Split(job, []byte("plan"), count, size)
		if err == nil {
			err = q.Add(ctx, parts)
		}
		if err == nil {
			err = q.Add(ctx, parts) // adding the same again changes nothing
		}
		if err != nil {
			t.Fatal(err)
		}
		// A worker that is ended in the midst of a part leaves it to another: here, to nobody.
		t.Cleanup(func() {
			if err := q.Forget(ctx, job); err != nil {
				t.Error(err)
			}
		})
		return parts
	}

	t.Run("many workers, some of which die", func(t *testing.T) {
		parts := add(t, "dying", 1003, 50)
		wctx, end := context.WithCancel(ctx)
		var wg sync.WaitGroup
		var begun atomic.Int64
		for w := range 4 {
			wg.Go(func() {
				mine, die := context.WithCancel(wctx)
				defer die()
				err := sweep.Work(mine, q, func(ctx context.Context, p sweep.Part) ([]byte, error) {
					n := begun.Add(1)
					if string(p.Plan) != "plan" {
						return nil, errors.New("the plan was lost")
					}
					if w < 2 && n > 4 { // dies in the midst of a part, without a word
						die()
						return nil, ctx.Err()
					}
					return work(p), nil
				}, 10)
				if !errors.Is(err, context.Canceled) {
					t.Errorf("a worker ends with %v", err)
				}
			})
		}
		sum, calls, err := gather(t, "dying", len(parts))
		end()
		wg.Wait()
		if err != nil || sum != 1003 || calls != 21 {
			t.Errorf("%d passages in %d calls (%v), want 1003 in 21; begun %d", sum, calls, err, begun.Load())
		}
		if sum, _, err := gather(t, "dying", len(parts)); err != nil || sum != 1003 {
			t.Errorf("gathered again: %d (%v)", sum, err)
		}
	})

	t.Run("slow work keeps its lease, or is counted once", func(t *testing.T) {
		parts := add(t, "slow", 2, 1)
		defer workers(2, func(_ context.Context, p sweep.Part) ([]byte, error) {
			time.Sleep(q.While() * 5 / 2)
			return work(p), nil
		}, 10)()
		if sum, calls, err := gather(t, "slow", len(parts)); err != nil || sum != 2 || calls != 2 {
			t.Errorf("%d in %d calls (%v)", sum, calls, err)
		}
	})

	t.Run("a lease that ran out, and both finish", func(t *testing.T) {
		parts := add(t, "twice", 1, 1)
		first, err := q.Take(ctx)
		if err != nil {
			t.Fatal(err)
		}
		second, err := q.Take(ctx) // waits until the first has run out
		if err != nil {
			t.Fatal(err)
		}
		if first.Tries() != 1 || second.Tries() != 2 {
			t.Errorf("tries %d and %d", first.Tries(), second.Tries())
		}
		for _, l := range []sweep.Lease{second, first} {
			if err := l.Finish(ctx, work(l.Part())); err != nil {
				t.Fatal(err)
			}
		}
		if sum, calls, err := gather(t, "twice", len(parts)); err != nil || sum != 1 || calls != 1 {
			t.Errorf("%d in %d calls (%v)", sum, calls, err)
		}
		short, no := context.WithTimeout(ctx, 2*q.While())
		defer no()
		if l, err := q.Take(short); err == nil {
			t.Errorf("part %d is still on the queue", l.Part().Number)
		}
	})

	t.Run("two results that differ are refused", func(t *testing.T) {
		add(t, "differ", 2, 1)
		a, _ := q.Take(ctx)
		b, err := q.Take(ctx)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range []string{"0123456789abcdef", "0123456789abcdeF"} {
			if err := a.Finish(ctx, []byte(s)); err != nil {
				t.Fatal(err)
			}
		}
		if _, _, err := gather(t, "differ", 2); !errors.Is(err, sweep.ErrDiffers) {
			t.Errorf("got %v", err)
		}
		if err := b.Finish(ctx, work(b.Part())); err != nil {
			t.Error(err)
		}
	})

	t.Run("a part that cannot be done", func(t *testing.T) {
		parts := add(t, "faulty", 3, 1)
		end := workers(1, func(_ context.Context, p sweep.Part) ([]byte, error) {
			if p.Number == 1 {
				return nil, errors.New("no wind\nat 12 N")
			}
			return work(p), nil
		}, 3)
		_, _, err := gather(t, "faulty", len(parts))
		if err == nil || !strings.Contains(err.Error(), "part 1") || !strings.Contains(err.Error(), "no wind") {
			t.Errorf("got %v", err)
		}
		end()
	})

	t.Run("a part that kills whoever takes it is given up", func(t *testing.T) {
		parts := add(t, "killer", 1, 1)
		for range 2 {
			if _, err := q.Take(ctx); err != nil { // and nothing is heard of it again
				t.Fatal(err)
			}
		}
		defer workers(1, func(_ context.Context, p sweep.Part) ([]byte, error) { return work(p), nil }, 2)()
		if _, _, err := gather(t, "killer", len(parts)); err == nil || !strings.Contains(err.Error(), "begun 2 times") {
			t.Errorf("got %v", err)
		}
	})

	t.Run("forgotten", func(t *testing.T) {
		parts := add(t, "gone", 5, 1)
		if err := q.Forget(ctx, "gone"); err != nil {
			t.Fatal(err)
		}
		short, no := context.WithTimeout(ctx, q.While())
		defer no()
		if l, err := q.Take(short); err == nil {
			t.Errorf("part %d of %q is still there", l.Part().Number, l.Part().Job)
		}
		add(t, "gone", 5, 1)
		for range parts {
			l, err := q.Take(ctx)
			if err != nil {
				t.Fatal(err)
			}
			if err := l.Finish(ctx, work(l.Part())); err != nil {
				t.Fatal(err)
			}
		}
		if sum, _, err := gather(t, "gone", len(parts)); err != nil || sum != 5 {
			t.Errorf("after adding again: %d (%v)", sum, err)
		}
	})

	t.Run("what is kept beside a work", func(t *testing.T) {
		big := bytes.Repeat([]byte("0123456789abcdef"), 200_000) // 3.2 MB: more than one message of most servers
		for _, c := range []struct {
			name string
			data []byte
			err  error
		}{{"one", []byte("1"), nil}, {"one", []byte("1"), nil}, {"one", []byte("2"), sweep.ErrDiffers}, {"big", big, nil}, {"a b", nil, sweep.ErrInput}} {
			if err := q.Keep(ctx, "with", c.name, c.data); !errors.Is(err, c.err) || c.err == nil && err != nil {
				t.Errorf("keeping %s: %v", c.name, err)
			}
		}
		if err := q.Keep(ctx, "without", "one", []byte("other")); err != nil {
			t.Fatal(err)
		}
		if b, err := q.Kept(ctx, "with", "big"); err != nil || !bytes.Equal(b, big) {
			t.Errorf("%d bytes come back (%v)", len(b), err)
		}
		if _, err := q.Kept(ctx, "with", "none"); !errors.Is(err, sweep.ErrNone) {
			t.Errorf("what is not there: %v", err)
		}
		if err := q.Forget(ctx, "with"); err != nil {
			t.Fatal(err)
		}
		if _, err := q.Kept(ctx, "with", "one"); !errors.Is(err, sweep.ErrNone) {
			t.Errorf("after forgetting: %v", err)
		}
		if b, err := q.Kept(ctx, "without", "one"); err != nil || string(b) != "other" {
			t.Errorf("another work's: %q (%v)", b, err)
		}
		if err := q.Keep(ctx, "with", "one", []byte("2")); err != nil {
			t.Errorf("kept again: %v", err)
		}
	})

	t.Run("refused by one, done by another", func(t *testing.T) {
		parts := add(t, "refused", 3, 1)
		err := sweep.Work(ctx, q, func(context.Context, sweep.Part) ([]byte, error) {
			return nil, fmt.Errorf("of another make: %w", sweep.ErrRefused)
		}, 9)
		if !errors.Is(err, sweep.ErrRefused) {
			t.Errorf("the worker ends with %v", err)
		}
		begun := time.Now()
		defer workers(1, func(_ context.Context, p sweep.Part) ([]byte, error) { return work(p), nil }, 9)()
		if sum, _, err := gather(t, "refused", len(parts)); err != nil || sum != 3 {
			t.Errorf("%d (%v)", sum, err)
		}
		if q.While() > 400*time.Millisecond && time.Since(begun) > q.While() {
			t.Errorf("it waited %v for the lease to run out", time.Since(begun))
		}
	})
}
