package sweep

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"sync"
	"time"
)

// Memory is a queue within this process.
type Memory struct {
	while time.Duration
	now   func() time.Time

	mu      sync.Mutex
	changed chan struct{} // closed and made anew when something changes
	waiting []*held
	out     map[*held]bool
	jobs    map[string]*work
	kept    map[[2]string][]byte // by work and name
}

// held is a part and what has become of it.
type held struct {
	part  Part
	tries int
	until time.Time
	owner *lease
	done  bool
}

// work is what the queue keeps of one.
type work struct {
	parts   int
	results []Result
}

// NewMemory makes a queue whose leases last a while.
//
// In:     now tells the time; nil is the clock
func NewMemory(while time.Duration, now func() time.Time) (*Memory, error) {
	if while < time.Millisecond {
		return nil, fmt.Errorf("sweep: %w: a lease of %v; give a millisecond or more", ErrInput, while)
	}
	if now == nil {
		now = time.Now
	}
	return &Memory{while: while, now: now, changed: make(chan struct{}), out: map[*held]bool{}, jobs: map[string]*work{}, kept: map[[2]string][]byte{}}, nil
}

// While is how long a lease lasts.
func (m *Memory) While() time.Duration { return m.while }

// tell wakes whoever waits. The lock is held.
func (m *Memory) tell() {
	close(m.changed)
	m.changed = make(chan struct{})
}

// Add puts the parts of one work on the queue.
func (m *Memory) Add(_ context.Context, parts []Part) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if len(parts) == 0 {
		return fmt.Errorf("sweep: %w: a work of no parts; split it first", ErrInput)
	}
	job := parts[0].Job
	if m.jobs[job] != nil {
		return nil
	}
	m.jobs[job] = &work{parts: len(parts)}
	for _, p := range parts {
		m.waiting = append(m.waiting, &held{part: p})
	}
	m.tell()
	return nil
}

// Take waits for a part.
func (m *Memory) Take(ctx context.Context) (Lease, error) {
	for {
		m.mu.Lock()
		m.overdue()
		if len(m.waiting) > 0 {
			h := m.waiting[0]
			m.waiting = m.waiting[1:]
			h.tries++
			h.until = m.now().Add(m.while)
			l := &lease{m: m, h: h, tries: h.tries}
			h.owner = l
			m.out[h] = true
			m.mu.Unlock()
			return l, nil
		}
		changed := m.changed
		m.mu.Unlock()
		wait := time.NewTimer(m.while / 4) // a lease may run out without a word
		select {
		case <-ctx.Done():
			wait.Stop()
			return nil, ctx.Err()
		case <-changed:
			wait.Stop()
		case <-wait.C:
		}
	}
}

// overdue puts back what no longer has a lease. The lock is held.
func (m *Memory) overdue() {
	now := m.now()
	for h := range m.out {
		if !now.Before(h.until) {
			delete(m.out, h)
			h.owner = nil
			m.waiting = append(m.waiting, h)
		}
	}
}

// Results gives each result of a work, from the first.
func (m *Memory) Results(ctx context.Context, job string, take func(Result) (bool, error)) error {
	for next := 0; ; {
		m.mu.Lock()
		w := m.jobs[job]
		if w == nil {
			m.mu.Unlock()
			return fmt.Errorf("sweep: %w: there is no work %q on the queue; add its parts first", ErrInput, job)
		}
		fresh, changed := w.results[next:], m.changed
		m.mu.Unlock()
		for _, r := range fresh {
			next++
			if more, err := take(r); err != nil || !more {
				return err
			}
		}
		if len(fresh) > 0 {
			continue
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-changed:
		}
	}
}

// Forget drops what is left of a work.
func (m *Memory) Forget(_ context.Context, job string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	delete(m.jobs, job)
	for k := range m.kept {
		if k[0] == job {
			delete(m.kept, k)
		}
	}
	kept := m.waiting[:0]
	for _, h := range m.waiting {
		if h.part.Job != job {
			kept = append(kept, h)
		}
	}
	m.waiting = kept
	for h := range m.out {
		if h.part.Job == job {
			delete(m.out, h)
			h.owner = nil
		}
	}
	m.tell()
	return nil
}

// Keep puts bytes beside a work.
func (m *Memory) Keep(_ context.Context, job, name string, data []byte) error {
	if err := errors.Join(Name(job), Name(name)); err != nil {
		return err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	k := [2]string{job, name}
	if before, had := m.kept[k]; had {
		if !bytes.Equal(before, data) {
			return fmt.Errorf("sweep: %q beside %q: %w", name, job, ErrDiffers)
		}
		return nil
	}
	m.kept[k] = bytes.Clone(data)
	return nil
}

// Kept gives what is kept beside a work.
func (m *Memory) Kept(_ context.Context, job, name string) ([]byte, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	b, had := m.kept[[2]string{job, name}]
	if !had {
		return nil, fmt.Errorf("sweep: %q beside %q: %w", name, job, ErrNone)
	}
	return bytes.Clone(b), nil
}

// lease is a part of Memory's that somebody has.
type lease struct {
	m     *Memory
	h     *held
	tries int
}

func (l *lease) Part() Part { return l.h.part }
func (l *lease) Tries() int { return l.tries }

func (l *lease) Renew(context.Context) error {
	l.m.mu.Lock()
	defer l.m.mu.Unlock()
	l.m.overdue()
	if l.h.owner != l || l.h.done {
		return ErrLost
	}
	l.h.until = l.m.now().Add(l.m.while)
	return nil
}

func (l *lease) Finish(_ context.Context, data []byte) error {
	return l.put(Result{Number: l.h.part.Number, Data: data})
}

func (l *lease) Fail(_ context.Context, why string) error {
	return l.put(Result{Number: l.h.part.Number, Fault: why})
}

// Release puts the part in front of those that wait.
func (l *lease) Release(context.Context) error {
	m := l.m
	m.mu.Lock()
	defer m.mu.Unlock()
	m.overdue()
	if l.h.owner != l || l.h.done {
		return ErrLost
	}
	delete(m.out, l.h)
	l.h.owner = nil
	m.waiting = append([]*held{l.h}, m.waiting...)
	m.tell()
	return nil
}

// put keeps a result and takes the part off the queue, whoever has it now.
func (l *lease) put(r Result) error {
	m := l.m
	m.mu.Lock()
	defer m.mu.Unlock()
	w := m.jobs[l.h.part.Job]
	if w == nil {
		return nil // forgotten meanwhile
	}
	w.results = append(w.results, r)
	l.h.done = true
	delete(m.out, l.h)
	for i, h := range m.waiting {
		if h == l.h {
			m.waiting = append(m.waiting[:i], m.waiting[i+1:]...)
			break
		}
	}
	m.tell()
	return nil
}
