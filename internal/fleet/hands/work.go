package hands

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"thole/internal/fleet"
	"thole/internal/sweep"
	"thole/internal/sweep/jetstream"
)

// withParent is the environment variable that tells a worker to end when its standard input does: when who started it is gone,
// however that came about.
const withParent = "THOLE_WITH_PARENT"

// Work does parts of whatever sweeps lie on the queue at an address, until the context ends.
//
// In:     cores to work on, 0 for all; told as fleet.Worker has it
// Error:  the context's; the queue's; sweep.ErrRefused where a sweep was begun by another build of this program
func Work(ctx context.Context, address, tokenFile string, cores int, told func(job, boat string, part int)) error {
	token, err := secret(tokenFile)
	if err != nil {
		return err
	}
	if cores < 0 || cores > 4096 {
		return fmt.Errorf("%d cores: give 1 or more, or 0 for all", cores)
	}
	if cores == 0 {
		cores = runtime.NumCPU()
	}
	if os.Getenv(withParent) != "" {
		alone, stop := context.WithCancel(ctx)
		defer stop()
		go func() {
			_, _ = io.Copy(io.Discard, os.Stdin)
			stop()
		}()
		ctx = alone
	}
	q, err := jetstream.Connect(ctx, address, token, lease)
	if err != nil {
		return err
	}
	defer q.Close()
	w := fleet.Worker{Queue: q, Cores: cores, Told: told}
	return w.Work(ctx)
}

// start sets who is wanted to work, until the context ends. When the last of them has died it stops the context with why.
func (w berth) start(ctx context.Context, stop context.CancelCauseFunc, all *sync.WaitGroup, q sweep.Queue, address, token string) {
	if w.Workers == fleet.Here {
		all.Go(func() {
			here := fleet.Worker{Queue: q, Cores: runtime.NumCPU()}
			if w.doing != nil {
				here.Told = func(_, _ string, part int) { w.doing(part) }
			}
			if err := here.Work(ctx); err != nil && ctx.Err() == nil {
				stop(err)
			}
		})
		return
	}
	left := atomic.Int64{}
	left.Store(int64(w.Workers))
	for i := range w.Workers {
		all.Go(func() {
			err := w.child(ctx, i, address, token)
			if ctx.Err() != nil {
				return
			}
			if left.Add(-1) > 0 {
				w.say(fmt.Sprintf("A worker has ended (%v); the others take up its part.", err))
				return
			}
			stop(fmt.Errorf("the last worker has ended: %w", err))
		})
	}
}

// child runs a worker's process to its end. The token goes by the environment, since whoever may list processes reads command
// lines.
func (w berth) child(ctx context.Context, i int, address, token string) error {
	self, err := os.Executable()
	if err != nil {
		return err
	}
	c := exec.CommandContext(ctx, self, "work", address, "--cores", strconv.Itoa(share(w.Workers)))
	c.Env = append(os.Environ(), TokenName+"="+token, withParent+"=yes")
	if w.extra != nil {
		c.Env = append(c.Env, w.extra(i)...)
	}
	in, err := c.StdinPipe() // held open while this process lives
	if err != nil {
		return err
	}
	defer in.Close()
	said := &tail{}
	c.Stderr = said
	// It ends by itself when its input does; what does not is killed.
	c.Cancel = in.Close
	c.WaitDelay = 5 * time.Second
	if err := c.Start(); err != nil {
		return err
	}
	if w.begun != nil {
		w.begun(i, c.Process.Pid)
	}
	err = c.Wait()
	if words := strings.TrimSpace(said.String()); words != "" {
		return errors.New(words)
	}
	if err == nil {
		err = errors.New("it ended by itself")
	}
	return err
}

// tail keeps the last of what is written to it.
type tail struct {
	mu sync.Mutex
	b  bytes.Buffer
}

const mostSaid = 4096

func (t *tail) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.b.Write(p)
	if over := t.b.Len() - mostSaid; over > 0 {
		t.b.Next(over)
	}
	return len(p), nil
}

func (t *tail) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.b.String()
}
