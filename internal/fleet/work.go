package fleet

import (
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"thole/internal/answer"
	"thole/internal/crossing"
	"thole/internal/model"
	"thole/internal/sweep"
	"thole/internal/voyages"
)

// tries is how often a part is begun before it is given up: more than a few workers may be killed in it by bad luck.
const tries = 8

// How much a worker keeps made ready: plans, and of each the folders and the days last asked.
const (
	keptPlans = 2
	keptLoads = 2
	keptDays  = 16
)

// Worker does parts of sweeps: one at a time, on some cores.
type Worker struct {
	Queue sweep.Queue
	Cores int
	// Told, if not nil, is told of each part before it is begun.
	Told func(job, boat string, part int)

	plans recent[string, *opened]
	ready func(f *model.Folder, quick bool) (sailing, error) // nil is the crossing of the folder
}

// opened is a plan that parts are done of.
type opened struct {
	plan  *Plan
	loads recent[int, *fitted]
}

// fitted is a load made ready, or why it cannot be.
type fitted struct {
	boat  sailing
	fault error
	days  recent[string, *departing]
}

// sailing is a folder's passage, ready to be left on some day.
type sailing interface {
	// on is leaving on a day; zero is the folder's own. The departure has no runner yet.
	on(day time.Time) (*departure, error)
}

// departure is the passages of one load from one day.
type departure struct {
	spec    voyages.Spec
	runner  *voyages.Runner
	leave   time.Time
	planned int // days that the stores are meant for
	assumed []Assumed
	notes   []string
}

// departing is a departure, or why there is none.
type departing struct {
	departure *departure
	fault     error
}

// Assumed is what the folder does not say, and what was taken.
type Assumed struct {
	What  string `json:"what"`
	Value string `json:"value"`
	Why   string `json:"why"`
	File  string `json:"file"`
}

// done is what a part comes to, before its tally.
type done struct {
	// Fault is why no passage of the variant can be made; there is no tally then.
	Fault   string `json:"fault,omitempty"`
	Leave   string `json:"leave,omitempty"`
	Planned int    `json:"planned,omitempty"`
	// Assumed and Notes come with a variant's first part.
	Assumed []Assumed `json:"assumed,omitempty"`
	Notes   []string  `json:"notes,omitempty"`
}

// Work does parts until the context ends.
//
// Error:  the context's at its end; the queue's; sweep.ErrRefused where a sweep asks for another build of this program
func (w *Worker) Work(ctx context.Context) error { return sweep.Work(ctx, w.Queue, w.do, tries) }

// do does one part.
func (w *Worker) do(ctx context.Context, part sweep.Part) ([]byte, error) {
	o, err := w.open(ctx, part)
	if err != nil {
		return nil, err
	}
	p := o.plan
	row := part.First / p.Passages
	first := part.First % p.Passages
	if row >= uint64(p.Variants()) || part.Count == 0 || part.Count > p.Passages-first {
		return nil, fmt.Errorf("the plan of %q has no passages %d to %d", part.Job, part.First, part.First+part.Count)
	}
	if w.Told != nil {
		w.Told(part.Job, p.Boat, part.Number)
	}
	d, err := w.departure(o, int(row))
	if err != nil {
		return wrapped(done{Fault: err.Error()}, nil)
	}
	t, err := d.runner.Run(ctx, first, part.Count, max(1, w.Cores), nil)
	if err != nil {
		return nil, err
	}
	t.Where = nil // the map of where the boats are is most of a tally, and no row shows it
	head := done{Leave: d.leave.Format(time.DateOnly), Planned: d.planned}
	if first == 0 {
		head.Assumed, head.Notes = d.assumed, d.notes
	}
	return wrapped(head, t)
}

// open is the plan of a part, if this program may do it.
func (w *Worker) open(ctx context.Context, part sweep.Part) (*opened, error) {
	var o order
	if err := json.Unmarshal(part.Plan, &o); err != nil {
		return nil, fmt.Errorf("part %d of %q does not say what is to be done", part.Number, part.Job)
	}
	mine, err := own()
	if err != nil {
		return nil, fmt.Errorf("%w: %w", sweep.ErrRefused, err)
	}
	if !mine.Same(o.Build) {
		return nil, fmt.Errorf("%w: the sweep %q was begun by another build of this program (%s, climate %s; this one is %s, climate %s), which may give other digits: use one build on all machines",
			sweep.ErrRefused, part.Job, o.Build.Said, o.Build.Climate, mine.Said, mine.Climate)
	}
	return w.plans.get(part.Job+" "+o.Plan, keptPlans, func() (*opened, error) {
		p, err := fetch(ctx, w.Queue, part.Job, o)
		if err != nil {
			return nil, err
		}
		return &opened{plan: p}, nil
	})
}

// departure is a row's, made once and kept for a while. What it comes to hangs on the plan alone, and not on what this worker did
// before: every load is made ready from nothing.
func (w *Worker) departure(o *opened, row int) (*departure, error) {
	l, day := o.plan.variant(row)
	fit, _ := o.loads.get(l, keptLoads, func() (*fitted, error) {
		boat, err := w.fit(o.plan, l)
		return &fitted{boat: boat, fault: err}, nil
	})
	if fit.fault != nil {
		return nil, fit.fault
	}
	d, _ := fit.days.get(day, keptDays, func() (*departing, error) {
		d, err := fit.leave(o.plan, day)
		return &departing{d, err}, nil
	})
	return d.departure, d.fault
}

// fit reads the folder of a load and makes it ready.
func (w *Worker) fit(p *Plan, l int) (sailing, error) {
	d, err := p.draft(l)
	if err != nil {
		return nil, err
	}
	f, faults := d.Read()
	if len(faults) > 0 {
		return nil, faults
	}
	if v := f.Voyage; v != nil && v.Leave.IsZero() && len(p.Dates) > 0 {
		some := *v // a folder without a day of leaving is one all the same when days are given
		if some.Leave, err = day(p.Dates[0]); err != nil {
			return nil, err
		}
		f.Voyage = &some
	}
	if w.ready != nil {
		return w.ready(f, p.Quick)
	}
	return fromFolder(f, p.Quick)
}

// leave is a departure on a day, with the plan's seed.
func (f *fitted) leave(p *Plan, text string) (*departure, error) {
	on := time.Time{}
	if text != "" {
		var err error
		if on, err = day(text); err != nil {
			return nil, err
		}
	}
	d, err := f.boat.on(on)
	if err != nil {
		return nil, err
	}
	if p.Seed != 0 {
		d.spec.Seed = p.Seed
	}
	d.runner, err = voyages.New(d.spec)
	return d, err
}

// passage is a folder's crossing.
type passage struct{ c *crossing.Crossing }

// fromFolder makes the crossing of a folder.
func fromFolder(f *model.Folder, quick bool) (sailing, error) {
	c := answer.NewCase(f)
	t, err := c.Trip()
	if err != nil {
		return nil, err
	}
	detail := crossing.Whole
	if quick {
		detail = crossing.Quick
	}
	made, err := crossing.New(c, t, detail)
	if err != nil {
		return nil, err
	}
	return passage{made}, nil
}

func (p passage) on(day time.Time) (*departure, error) {
	c := p.c
	if day.IsZero() {
		day = c.Trip.Folder.Voyage.Leave
	} else {
		var err error
		if c, err = c.Leaving(day); err != nil {
			return nil, err
		}
	}
	d := &departure{spec: c.Spec, leave: day, planned: c.Planned, notes: c.Notes}
	for _, a := range c.Assumed {
		d.assumed = append(d.assumed, Assumed(a))
	}
	return d, nil
}

// wrapped is what goes back: the head's length, the head, the tally.
func wrapped(head done, t *voyages.Tally) ([]byte, error) {
	h, err := json.Marshal(head)
	if err != nil {
		return nil, err
	}
	out := append(binary.AppendUvarint(nil, uint64(len(h))), h...)
	if t == nil {
		return out, nil
	}
	b, err := t.MarshalBinary()
	return append(out, b...), err
}

// unwrapped takes it apart.
func unwrapped(b []byte) (head done, t *voyages.Tally, err error) {
	n, k := binary.Uvarint(b)
	if k <= 0 || n > uint64(len(b)-k) {
		return head, nil, errors.New("what came back is no result")
	}
	if err := json.Unmarshal(b[k:k+int(n)], &head); err != nil {
		return head, nil, errors.New("what came back is no result")
	}
	if head.Fault != "" {
		return head, nil, nil
	}
	t = &voyages.Tally{}
	return head, t, t.UnmarshalBinary(b[k+int(n):])
}

// recent keeps the last few things that were made. One goroutine uses it.
type recent[K comparable, V any] struct {
	keys []K // the one last asked is behind
	made map[K]V
}

// get gives what was made under a key, or makes it; a failure is not kept.
func (r *recent[K, V]) get(key K, most int, make func() (V, error)) (V, error) {
	v, had := r.made[key]
	if !had {
		var err error
		if v, err = make(); err != nil {
			return v, err
		}
		if r.made == nil {
			r.made = map[K]V{}
		}
		if len(r.keys) == most {
			delete(r.made, r.keys[0])
			r.keys = r.keys[1:]
		}
		r.made[key] = v
		r.keys = append(r.keys, key)
		return v, nil
	}
	for i, k := range r.keys {
		if k == key {
			r.keys = append(append(r.keys[:i:i], r.keys[i+1:]...), key)
			break
		}
	}
	return v, nil
}
