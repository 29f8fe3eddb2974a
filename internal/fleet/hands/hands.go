// Package hands is who does the work of a sweep: this process, others that it starts, and workers on other machines.
//
// With nothing asked for, this process does all, with a queue in its own memory. A sweep that has a name, other processes or other
// machines goes over a server's queue (package sweep/jetstream): one within this process, on the loopback unless told
// otherwise, or one that runs already.
package hands

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"time"

	"thole/internal/fleet"
	"thole/internal/sweep"
	"thole/internal/sweep/jetstream"
)

// TokenName is the name of the environment variable that holds a server's token where no file is given.
const TokenName = "THOLE_TOKEN"

// lease is how long a part stays with a worker that is not heard of.
const lease = 30 * time.Second

// berth is who works and where, with what a test sets otherwise.
type berth struct {
	fleet.Where
	state string                    // the folder for servers' files; empty: this user's
	lease time.Duration             // 0: the usual one
	begun func(worker, pid int)     // told of each process
	extra func(worker int) []string // more of a worker's environment
	doing func(part int)            // told of each part that this process begins
}

// Sweep does what a person wishes.
//
// Error:  as fleet.NewPlan and fleet.Run; *fleet.Stopped when the context ends; what Where cannot be; that all who worked have died
func Sweep(ctx context.Context, wish fleet.Wish, where fleet.Where, told fleet.Told) (fleet.Result, error) {
	p, err := fleet.NewPlan(wish)
	if err != nil {
		return fleet.Result{}, err
	}
	return berth{Where: where}.sweep(ctx, p, told)
}

// sweep does a plan.
func (w berth) sweep(ctx context.Context, p *fleet.Plan, told fleet.Told) (fleet.Result, error) {
	if err := w.check(); err != nil {
		return fleet.Result{}, err
	}
	q, address, token, end, err := w.queue(ctx)
	if err != nil {
		return fleet.Result{}, err
	}
	defer end()
	job := w.Job
	if job == "" {
		job = "unnamed-" + random(8)
		defer func() {
			// With the context's end nothing would be dropped any more.
			short, stop := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
			defer stop()
			if err := q.Forget(short, job); err != nil {
				w.say("What was done could not be dropped: " + err.Error())
			}
		}()
	}
	work, stop := context.WithCancelCause(ctx)
	var all sync.WaitGroup
	w.start(work, stop, &all, q, address, token)
	done := 0
	r, err := fleet.Run(work, q, job, p, func(n, parts int) {
		done = n
		if told != nil {
			told(n, parts)
		}
	})
	dead := context.Cause(work)
	stop(nil)
	all.Wait()
	switch {
	case err == nil:
		return r, nil
	case ctx.Err() != nil:
		return r, &fleet.Stopped{Done: done, Parts: int(p.Parts()), Job: w.Job, Cause: ctx.Err()}
	case errors.Is(err, context.Canceled) && dead != nil:
		return r, dead
	}
	return r, err
}

// check refuses what does not go together.
func (w berth) check() error {
	switch {
	case w.At != "" && w.Listen != "":
		return errors.New("the queue is either at an address that there is, or this process listens: give one of the two")
	case w.Workers < fleet.Here || w.Workers > 1000:
		return fmt.Errorf("%d workers: give 0 to 1000", w.Workers)
	case w.Workers == 0 && w.At == "" && w.Listen == "":
		return errors.New("with no workers here, somebody else must work: give the address of a queue, or one to listen at")
	case w.Job != "" && sweep.Name(w.Job) != nil:
		return fmt.Errorf("%q is no name for a sweep: letters, digits and hyphens, 64 at most", w.Job)
	case strings.HasPrefix(w.Job, "unnamed-"):
		return fmt.Errorf("%q is no name for a sweep: those that begin so are taken for what has none", w.Job)
	}
	return nil
}

// say tells a person something.
func (w berth) say(what string) {
	if w.Tell != nil {
		w.Tell(what)
	}
}

// queue opens the queue that is wanted.
func (w berth) queue(ctx context.Context) (q sweep.Queue, address, token string, end func(), err error) {
	while := w.lease
	if while == 0 {
		while = lease
	}
	if w.At == "" && w.Listen == "" && w.Workers == fleet.Here && w.Job == "" {
		m, err := sweep.NewMemory(while, nil)
		return m, "", "", func() {}, err
	}
	if token, err = secret(w.TokenFile); err != nil {
		return nil, "", "", nil, err
	}
	down := func() {}
	address = w.At
	if w.At == "" {
		var s *jetstream.Server
		if s, token, down, err = w.serve(token); err != nil {
			return nil, "", "", nil, err
		}
		address = s.Address()
		if w.Listen != "" {
			w.say("The queue is at " + address + ". On another machine: thole work " + address + " --token-file FILE")
		}
	}
	c, err := jetstream.Connect(ctx, address, token, while)
	if err != nil {
		down()
		return nil, "", "", nil, err
	}
	return c, address, token, func() { c.Close(); down() }, nil
}

// serve starts the server within this process. Its files go when the sweep has no name.
func (w berth) serve(token string) (s *jetstream.Server, with string, end func(), err error) {
	host, port := "127.0.0.1", 0
	if w.Listen != "" {
		var text string
		if host, text, err = net.SplitHostPort(w.Listen); err == nil {
			port, err = strconv.Atoi(text)
		}
		if err != nil {
			return nil, "", nil, fmt.Errorf("%q is nothing to listen at (write host:port, as 192.168.1.5:4222)", w.Listen)
		}
		if host == "" {
			host = "0.0.0.0"
		}
		if token == "" && !local(host) {
			return nil, "", nil, fmt.Errorf("whoever reaches %s could read the folder and hand in false results: put a long random word into a file and name it (token file), or into %s", w.Listen, TokenName)
		}
	}
	if token == "" {
		token = random(24) // other users of this machine reach the loopback too
	}
	dir, drop, err := w.folder()
	if err != nil {
		return nil, "", nil, err
	}
	if s, err = jetstream.Serve(dir, host, port, token); err != nil {
		drop()
		return nil, "", nil, err
	}
	return s, token, func() { s.Close(); drop() }, nil
}

// local tells whether a host is this machine's own loopback.
func local(host string) bool {
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// folder is where the server keeps its files, held against other processes of ours.
func (w berth) folder() (dir string, drop func(), err error) {
	if w.Job == "" {
		dir, err = os.MkdirTemp(w.state, "thole-sweep-")
		return dir, func() { os.RemoveAll(dir) }, err
	}
	dir, err = w.kept()
	if err == nil {
		err = os.MkdirAll(dir, 0o700)
	}
	if err != nil {
		return "", nil, fmt.Errorf("there is no folder to keep the sweep %q in: %w", w.Job, err)
	}
	f, err := os.OpenFile(filepath.Join(dir, "lock"), os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return "", nil, fmt.Errorf("the folder of the sweep %q cannot be held: %w", w.Job, err)
	}
	if !lockFile(f) {
		f.Close()
		return "", nil, fmt.Errorf("the sweep %q is being done by another process: let it finish, or give this one another name", w.Job)
	}
	return dir, func() { f.Close() }, nil
}

// kept is the folder of a named sweep.
func (w berth) kept() (string, error) {
	state := w.state
	if state == "" {
		cache, err := os.UserCacheDir()
		if err != nil {
			return "", err
		}
		state = filepath.Join(cache, "thole", "sweeps")
	}
	return filepath.Join(state, w.Job), nil
}

// Forget drops all that is kept of a named sweep.
func Forget(ctx context.Context, where fleet.Where) error { return berth{Where: where}.forget(ctx) }

func (w berth) forget(ctx context.Context) error {
	if w.Job == "" {
		return errors.New("say the name of the sweep to be forgotten")
	}
	if err := w.check(); err != nil {
		return err
	}
	if w.At == "" {
		dir, drop, err := w.folder()
		if err != nil {
			return err
		}
		defer drop()
		return os.RemoveAll(dir)
	}
	q, _, _, end, err := w.queue(ctx)
	if err != nil {
		return err
	}
	defer end()
	return q.Forget(ctx, w.Job)
}

// secret is the token of a file, or of the environment, or none.
func secret(file string) (string, error) {
	if file == "" {
		return os.Getenv(TokenName), nil
	}
	b, err := os.ReadFile(file)
	if err != nil {
		return "", fmt.Errorf("the token cannot be read: %w", err)
	}
	token := strings.TrimSpace(string(b))
	if token == "" || strings.ContainsAny(token, " \t\r\n") {
		return "", fmt.Errorf("%s holds no token: write one long random word into it", file)
	}
	return token, nil
}

// random is a word of so many random bytes.
func random(n int) string {
	b := make([]byte, n)
	_, _ = rand.Read(b) // it never fails: the program would end
	return hex.EncodeToString(b)
}

// share is the cores for each of so many workers.
func share(workers int) int { return max(1, runtime.NumCPU()/workers) }
