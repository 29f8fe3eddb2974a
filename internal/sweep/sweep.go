// Package sweep splits a great work into parts that may be done anywhere, and puts the results
// together.
//
// Parts lie on a queue. A worker takes one on a lease, which it renews while it works; if the worker
// dies the lease runs out and another takes the part. So each part is done at least once. Its result
// is counted once: whoever gathers counts the first for each part, and refuses a second that
// differs, for then the work is not the same wherever it is done and no count of it holds.
//
// The queue is an interface: Memory is one in this process; others reach beyond it.
package sweep

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"time"
)

// ErrInput is wrapped by what names the thing, what was given and the mend.
var ErrInput = errors.New("this cannot be worked out as given")

// ErrDiffers says that one part was done twice with two results.
var ErrDiffers = errors.New("one part gave two results")

// ErrRefused is wrapped by a Do that will not begin a part which another worker can do: the part goes back on the queue at
// once, and the worker ends.
var ErrRefused = errors.New("this worker does not take this part")

// ErrNone says that nothing is kept under a name.
var ErrNone = errors.New("nothing is kept under that name")

// ErrLost says that a lease had run out, and the part may be with another.
var ErrLost = errors.New("the lease of this part has run out")

// Part is a share of a work: so many passages from a number on.
type Part struct {
	Job          string // the work that it is of, one word
	Number       int    // from 0
	First, Count uint64
	Plan         []byte // what to do; the queue does not look inside
}

// Split cuts a work into parts of a size; the last is what is left.
//
// Error:  ErrInput
func Split(job string, plan []byte, count, size uint64) ([]Part, error) {
	const most = 1 << 20
	switch {
	case !word(job):
		return nil, fmt.Errorf("sweep: %w: the work's name is %q; give letters, digits and hyphens, up to 64", ErrInput, job)
	case size == 0 || count == 0:
		return nil, fmt.Errorf("sweep: %w: %d passages in parts of %d; give one or more of each", ErrInput, count, size)
	case (count-1)/size >= most:
		return nil, fmt.Errorf("sweep: %w: %d passages in parts of %d are over %d parts; make the parts greater", ErrInput, count, size, most)
	}
	var out []Part
	for first := uint64(0); first < count; {
		n := min(size, count-first)
		out = append(out, Part{Job: job, Number: len(out), First: first, Count: n, Plan: plan})
		first += n
	}
	return out, nil
}

// word says that a name may stand in a queue's address.
func word(s string) bool {
	if s == "" || len(s) > 64 {
		return false
	}
	for _, c := range s {
		if !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-') {
			return false
		}
	}
	return true
}

// Lease is a part that a worker has for a while.
type Lease interface {
	Part() Part
	// Tries is how often the part has been taken, this time with it.
	Tries() int
	// Renew begins the while anew. Error: ErrLost
	Renew(ctx context.Context) error
	// Finish hands the result in. It is kept even if the lease has run out: it was work done.
	Finish(ctx context.Context, result []byte) error
	// Fail hands in why the part cannot be done; the gatherer is told and the part is not tried again.
	Fail(ctx context.Context, why string) error
	// Release gives the part back undone, to be taken again at once.
	Release(ctx context.Context) error
}

// Result is what came of a part.
type Result struct {
	Number int
	Data   []byte
	Fault  string // why it could not be done; then there is no data
}

// Queue holds parts and results. It may be used by many goroutines.
type Queue interface {
	// Add puts the parts of one work on the queue. Adding the same again changes nothing.
	Add(ctx context.Context, parts []Part) error
	// Take waits for a part.
	Take(ctx context.Context) (Lease, error)
	// While is how long a lease lasts.
	While() time.Duration
	// Results gives each result of a work at least once, also those from before it was asked,
	// until the context ends or take says stop.
	Results(ctx context.Context, job string, take func(Result) (more bool, err error)) error
	// Keep puts bytes beside a work, under a name of letters, digits and hyphens: what its parts' plan refers to and is too
	// great to go with each. The same again changes nothing. Error: ErrDiffers where others are kept there
	Keep(ctx context.Context, job, name string, data []byte) error
	// Kept gives them back. Error: ErrNone
	Kept(ctx context.Context, job, name string) ([]byte, error)
	// Forget drops what is left of a work, with what is kept beside it.
	Forget(ctx context.Context, job string) error
}

// Name checks what is to be a work's name, or that of something kept beside one.
//
// Error:  ErrInput
func Name(s string) error {
	if !word(s) {
		return fmt.Errorf("sweep: %w: the name %q; give letters, digits and hyphens, up to 64", ErrInput, s)
	}
	return nil
}

// Do is the work of a part: the same bytes whoever does it.
type Do func(ctx context.Context, p Part) ([]byte, error)

// Work takes parts and does them until the context ends.
//
// In:     tries, the most that a part is begun before it is given up: it may be what kills workers
// Error:  the queue's; the context's at its end; what do refuses
func Work(ctx context.Context, q Queue, do Do, tries int) error {
	for {
		l, err := q.Take(ctx)
		if err != nil {
			return err
		}
		if l.Tries() > tries {
			why := fmt.Sprintf("part %d was begun %d times and never finished", l.Part().Number, l.Tries()-1)
			if err := l.Fail(ctx, why); err != nil {
				return err
			}
			continue
		}
		data, err := one(ctx, q.While(), l, do)
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case errors.Is(err, ErrLost):
			continue // another has it
		case errors.Is(err, ErrRefused):
			if lost := l.Release(ctx); lost != nil {
				return errors.Join(err, lost) // its lease will run out
			}
			return err
		case err != nil:
			err = l.Fail(ctx, err.Error())
		default:
			err = l.Finish(ctx, data)
		}
		if err != nil {
			return err
		}
	}
}

// one does one part and keeps its lease meanwhile.
func one(ctx context.Context, while time.Duration, l Lease, do Do) ([]byte, error) {
	ctx, stop := context.WithCancel(ctx)
	lost := make(chan error, 1)
	go func() {
		defer close(lost)
		tick := time.NewTicker(while / 3)
		defer tick.Stop()
		for {
			select {
			case <-ctx.Done():
				return
			case <-tick.C:
				if err := l.Renew(ctx); errors.Is(err, ErrLost) {
					lost <- err
					stop()
					return
				}
			}
		}
	}()
	data, err := do(ctx, l.Part())
	stop()
	if gone := <-lost; gone != nil && err != nil {
		return nil, gone // stopped for want of the lease; had it been done, the result would stand
	}
	return data, err
}

// Gather waits for all the parts of a work and adds each once, as they come.
//
// In:     parts, how many there are; add is called once for each part, one at a time; done, if not
// nil, is told how many are in
// Error:  ErrDiffers; a part's own fault; those of add and of the queue
func Gather(ctx context.Context, q Queue, job string, parts int, add func(number int, data []byte) error, done func(n int)) error {
	seen := make(map[int][sha256.Size]byte, parts)
	if parts <= 0 {
		return fmt.Errorf("sweep: %w: %d parts to gather; give one or more", ErrInput, parts)
	}
	err := q.Results(ctx, job, func(r Result) (bool, error) {
		if r.Number < 0 || r.Number >= parts {
			return false, fmt.Errorf("sweep: %w: a result of part %d of %q, which has %d parts; give the new work another name", ErrInput, r.Number, job, parts)
		}
		sum := sha256.Sum256(r.Data)
		before, had := seen[r.Number]
		if had {
			if r.Fault == "" && before != sum {
				return false, fmt.Errorf("sweep: part %d of %q: %w: its worker is not the same program, or the machine is at fault; do the work again with one version", r.Number, job, ErrDiffers)
			}
			return len(seen) < parts, nil
		}
		if r.Fault != "" {
			return false, fmt.Errorf("sweep: part %d of %q: %s", r.Number, job, r.Fault)
		}
		if err := add(r.Number, r.Data); err != nil {
			return false, fmt.Errorf("sweep: part %d of %q: %w", r.Number, job, err)
		}
		seen[r.Number] = sum
		if done != nil {
			done(len(seen))
		}
		return len(seen) < parts, nil
	})
	if err == nil && len(seen) < parts {
		err = ctx.Err()
	}
	return err
}
