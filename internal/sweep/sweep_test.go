package sweep_test

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"thole/internal/sweep"
	"thole/internal/sweep/sweeptest"
)

func TestMemory(t *testing.T) {
	q, err := sweep.NewMemory(200*time.Millisecond, nil)
	if err != nil {
		t.Fatal(err)
	}
	sweeptest.Queue(t, q)
}

// TestSplit: the parts cover the work, each passage once.
func TestSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		count, size := rapid.Uint64Range(1, 1e6).Draw(t, "count"), rapid.Uint64Range(1, 1e6).Draw(t, "size")
		parts, err := sweep.Split("x", nil, count, size)
		if err != nil {
			t.Fatal(err)
		}
		next := uint64(0)
		for i, p := range parts {
			if p.Number != i || p.First != next || p.Count == 0 || p.Count > size {
				t.Fatalf("part %d is %+v", i, p)
			}
			next += p.Count
		}
		if next != count {
			t.Fatalf("the parts cover %d of %d", next, count)
		}
	})
	for _, c := range []struct {
		job         string
		count, size uint64
	}{{"", 1, 1}, {"a b", 1, 1}, {"a.*", 1, 1}, {strings.Repeat("a", 65), 1, 1}, {"a", 0, 1}, {"a", 1, 0}, {"a", 1 << 63, 1}} {
		if _, err := sweep.Split(c.job, nil, c.count, c.size); !errors.Is(err, sweep.ErrInput) {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

// TestHostile: results that cannot be, and works that are not there.
func TestHostile(t *testing.T) {
	if _, err := sweep.NewMemory(0, nil); err == nil {
		t.Error("a lease of nothing was taken")
	}
	q, _ := sweep.NewMemory(time.Second, nil)
	ctx := context.Background()
	if err := q.Add(ctx, nil); err == nil {
		t.Error("a work of no parts was taken")
	}
	none := func(int, []byte) error { return nil }
	if err := sweep.Gather(ctx, q, "nowhere", 1, none, nil); !errors.Is(err, sweep.ErrInput) {
		t.Errorf("a work that is not there: %v", err)
	}
	if err := sweep.Gather(ctx, q, "x", 0, none, nil); !errors.Is(err, sweep.ErrInput) {
		t.Errorf("no parts: %v", err)
	}
	parts, _ := sweep.Split("x", nil, 3, 1)
	if err := q.Add(ctx, parts); err != nil {
		t.Fatal(err)
	}
	var l sweep.Lease
	for range 3 {
		l, _ = q.Take(ctx)
	}
	if err := l.Finish(ctx, []byte("third")); err != nil {
		t.Fatal(err)
	}
	if err := sweep.Gather(ctx, q, "x", 2, none, nil); !errors.Is(err, sweep.ErrInput) {
		t.Errorf("a result of a part that there is not: %v", err)
	}
	stopped, stop := context.WithCancel(ctx)
	stop()
	if err := sweep.Gather(stopped, q, "x", 3, none, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	if err := sweep.Gather(ctx, q, "x", 3, func(int, []byte) error { return errors.New("full") }, nil); err == nil || !strings.Contains(err.Error(), "part 2") {
		t.Errorf("an add that fails: %v", err)
	}
}

// TestClock: a lease runs out by the clock, and not before.
func TestClock(t *testing.T) {
	now := time.Unix(0, 0)
	q, _ := sweep.NewMemory(time.Minute, func() time.Time { return now })
	ctx := context.Background()
	parts, _ := sweep.Split("x", nil, 1, 1)
	_ = q.Add(ctx, parts)
	a, _ := q.Take(ctx)
	now = now.Add(59 * time.Second)
	if err := a.Renew(ctx); err != nil {
		t.Errorf("before its time: %v", err)
	}
	now = now.Add(60 * time.Second)
	if err := a.Renew(ctx); !errors.Is(err, sweep.ErrLost) {
		t.Errorf("after its time: %v", err)
	}
	b, err := q.Take(ctx)
	if err != nil || b.Tries() != 2 {
		t.Fatalf("taken again: %v", err)
	}
}
