package fleet

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"thole/internal/boatfolder"
	"thole/internal/sweep"
)

// planName is what a plan is kept under beside its work.
const planName = "plan"

// Bounds of what a worker unpacks: what comes from a queue comes from other machines.
const (
	mostPlan   = 64 << 20
	mostFolder = 192 << 20 // its tables, and a wind, a current and sets
	mostFiles  = 2000
)

// order is what goes with each part: which plan, and who may do it.
type order struct {
	Plan  string `json:"plan"` // its sum
	Build Build  `json:"build"`
}

// send puts a plan on a queue: the plan and its files beside the work, then its parts.
//
// Error:  the queue's; that the work of this name is another one
func (p *Plan) send(ctx context.Context, q sweep.Queue, job string) error {
	text, err := p.bytes()
	if err != nil {
		return err
	}
	err = q.Keep(ctx, job, planName, packed(text))
	if errors.Is(err, sweep.ErrDiffers) {
		return fmt.Errorf("the sweep called %q is another one, of other files, days, tries or passages, or by another build of this program: give this one another name, or forget that one", job)
	}
	for _, f := range p.Files {
		if err == nil {
			err = q.Keep(ctx, job, f.Sum, packed(p.content[f.Name]))
		}
	}
	if err != nil {
		return err
	}
	plan, err := json.Marshal(order{Plan: sum(text), Build: p.Build})
	if err != nil {
		return err
	}
	var parts []sweep.Part
	for v := range uint64(p.Variants()) {
		for first := uint64(0); first < p.Passages; first += p.Size {
			// Passages are numbered on through the variants, so that a part says which one it is of.
			parts = append(parts, sweep.Part{Job: job, Number: len(parts), First: v*p.Passages + first, Count: min(p.Size, p.Passages-first), Plan: plan})
		}
	}
	return q.Add(ctx, parts)
}

// fetch gets the plan of a part, checked against its sum, with its files.
func fetch(ctx context.Context, q sweep.Queue, job string, o order) (*Plan, error) {
	text, err := kept(ctx, q, job, planName, o.Plan, mostPlan)
	if err != nil {
		return nil, err
	}
	p := &Plan{content: map[string][]byte{}}
	if err := json.Unmarshal(text, p); err != nil {
		return nil, fmt.Errorf("the plan of %q cannot be read: %w", job, err)
	}
	if p.Size == 0 || p.Passages == 0 || p.Passages > mostPassages || len(p.Files) > mostFiles || p.Variants() > mostVariants {
		return nil, fmt.Errorf("the plan of %q asks for what no plan may", job)
	}
	room := int64(mostFolder)
	for _, f := range p.Files {
		if room -= int64(f.Size); f.Size < 0 || room < 0 {
			return nil, fmt.Errorf("the folder of %q is more than %d MB", job, mostFolder>>20)
		}
		if p.content[f.Name], err = kept(ctx, q, job, f.Sum, f.Sum, int64(f.Size)); err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	return p, nil
}

// kept gets something kept beside a work, unpacked and checked against its sum.
func kept(ctx context.Context, q sweep.Queue, job, name, want string, most int64) ([]byte, error) {
	small, err := q.Kept(ctx, job, name)
	if err != nil {
		return nil, err
	}
	data, err := unpacked(small, most)
	if err == nil && sum(data) != want {
		err = errors.New("it is not what was sent")
	}
	if err != nil {
		return nil, fmt.Errorf("what is kept beside %q under %q: %w", job, name, err)
	}
	return data, nil
}

// packed is data in less room. The same data give the same bytes.
func packed(data []byte) []byte {
	var b bytes.Buffer
	z, _ := gzip.NewWriterLevel(&b, gzip.BestCompression) // the level is one of its own
	_, _ = z.Write(data)                                  // a buffer takes everything
	_ = z.Close()
	return b.Bytes()
}

// unpacked is what was packed, if it is no more than so much.
func unpacked(small []byte, most int64) ([]byte, error) {
	z, err := gzip.NewReader(bytes.NewReader(small))
	if err != nil {
		return nil, err
	}
	data, err := io.ReadAll(io.LimitReader(z, most+1))
	if err != nil {
		return nil, err
	}
	if int64(len(data)) > most {
		return nil, fmt.Errorf("it is more than %d bytes", most)
	}
	return data, nil
}

// draft is the folder of a load, from the plan's own files.
func (p *Plan) draft(l int) (*boatfolder.Draft, error) {
	d := boatfolder.FromFiles(p.Boat, p.content)
	for _, edits := range p.Loads[l].Edits {
		var faults boatfolder.Faults
		if d, faults = d.With(edits...); len(faults) > 0 {
			return nil, faults
		}
	}
	return d, nil
}
