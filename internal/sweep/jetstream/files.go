package jetstream

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"

	js "github.com/nats-io/nats.go/jetstream"

	"thole/internal/sweep"
)

// What is kept beside a work lies in an object store, which cuts it into messages of its own and checks it when it is put
// together again: so a folder may be greater than a message may be. Names there are the work's and its own.

// Keep puts bytes beside a work.
func (q *Queue) Keep(ctx context.Context, job, name string, data []byte) error {
	if err := errors.Join(sweep.Name(job), sweep.Name(name)); err != nil {
		return err
	}
	switch before, err := q.Kept(ctx, job, name); {
	case err == nil && bytes.Equal(before, data):
		return nil
	case err == nil:
		return fmt.Errorf("sweep: %q beside %q: %w", name, job, sweep.ErrDiffers)
	case !errors.Is(err, sweep.ErrNone):
		return err
	}
	if _, err := q.files.PutBytes(ctx, job+"/"+name, data); err != nil {
		return fmt.Errorf("sweep: %q beside %q does not go to the queue: %w", name, job, err)
	}
	return nil
}

// Kept gives what is kept beside a work.
func (q *Queue) Kept(ctx context.Context, job, name string) ([]byte, error) {
	b, err := q.files.GetBytes(ctx, job+"/"+name)
	if errors.Is(err, js.ErrObjectNotFound) {
		err = sweep.ErrNone
	}
	if err != nil {
		return nil, fmt.Errorf("sweep: %q beside %q: %w", name, job, err)
	}
	return b, nil
}

// drop takes away all that is kept beside a work.
func (q *Queue) drop(ctx context.Context, job string) error {
	all, err := q.files.List(ctx)
	if errors.Is(err, js.ErrNoObjectsFound) {
		return nil
	}
	for _, o := range all {
		if strings.HasPrefix(o.Name, job+"/") {
			if gone := q.files.Delete(ctx, o.Name); err == nil {
				err = gone
			}
		}
	}
	return err
}
