package hands

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"thole/internal/fleet"
	"thole/internal/sweep"
	"thole/internal/sweep/jetstream"
)

// TestCheck: what does not go together, and what may not be reached, is refused.
func TestCheck(t *testing.T) {
	t.Setenv(TokenName, "")
	empty := filepath.Join(t.TempDir(), "empty")
	if err := os.WriteFile(empty, []byte(" \n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		where fleet.Where
		says  string
	}{
		{fleet.Where{At: "nats://127.0.0.1:1", Listen: "127.0.0.1:0", Workers: fleet.Here}, "one of the two"},
		{fleet.Where{Workers: 0}, "somebody else must work"},
		{fleet.Where{Workers: -2}, "0 to 1000"},
		{fleet.Where{Workers: fleet.Here, Job: "a b"}, "no name"},
		{fleet.Where{Workers: fleet.Here, Job: "../up"}, "no name"},
		{fleet.Where{Workers: fleet.Here, Listen: "0.0.0.0:0"}, "long random word"},
		{fleet.Where{Workers: fleet.Here, Listen: ":0"}, "long random word"},
		{fleet.Where{Workers: fleet.Here, Listen: "here"}, "host:port"},
		{fleet.Where{Workers: fleet.Here, Listen: "127.0.0.1:0", TokenFile: empty}, "holds no token"},
		{fleet.Where{Workers: fleet.Here, At: "nats://127.0.0.1:1", TokenFile: filepath.Join(t.TempDir(), "none")}, "cannot be read"},
		{fleet.Where{Workers: fleet.Here, At: "nats://127.0.0.1:1"}, "no queue at"},
	} {
		_, err := berth{Where: c.where, state: t.TempDir()}.sweep(context.Background(), &fleet.Plan{}, nil)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v", c.where, err)
		}
	}
	if err := Work(context.Background(), "nats://127.0.0.1:1", "", 0, nil); err == nil || !strings.Contains(err.Error(), "no queue at") {
		t.Errorf("a worker with nobody there: %v", err)
	}
}

// TestToken: a server of ours lets in nobody without its token, on the loopback too.
func TestToken(t *testing.T) {
	t.Setenv(TokenName, "")
	w := berth{Where: fleet.Where{Workers: 1}, state: t.TempDir()}
	q, address, token, end, err := w.queue(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	defer end()
	if q == nil || len(token) < 32 || strings.Contains(address, token) {
		t.Errorf("the address %q and a token of %d letters", address, len(token))
	}
	if err := Work(context.Background(), address, "", 1, nil); err == nil {
		t.Error("a worker without the token was let in")
	}
}

// TestAddress: a server that runs already, reached by its address with the token of a file; a worker comes from elsewhere.
func TestAddress(t *testing.T) {
	p := plan(t, fleet.Wish{Passages: 100})
	t.Setenv(TokenName, "")
	ctx, stop := context.WithTimeout(context.Background(), 60*time.Second)
	defer stop()
	file := filepath.Join(t.TempDir(), "token")
	if err := os.WriteFile(file, []byte("a-token-of-this-test\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := jetstream.Serve(t.TempDir(), "127.0.0.1", 0, "a-token-of-this-test")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	begun := make(chan string, 10)
	elsewhere, end := context.WithCancel(ctx)
	ended := make(chan error, 1)
	go func() {
		ended <- Work(elsewhere, s.Address(), file, 0, func(job, boat string, _ int) { begun <- boat })
	}()
	w := berth{Where: fleet.Where{At: s.Address(), TokenFile: file, Job: "by-address"}}
	r, err := w.sweep(ctx, p, nil)
	if err != nil || len(r.Rows) != 1 || r.Rows[0].Median == nil {
		t.Errorf("%+v (%v)", r.Rows, err)
	}
	if boat := <-begun; boat != p.Boat {
		t.Errorf("the worker worked on %q", boat)
	}
	end()
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Errorf("the worker ends with %v", err)
	}
	if err := w.forget(ctx); err != nil {
		t.Error(err)
	}
	q, err := jetstream.Connect(ctx, s.Address(), "a-token-of-this-test", time.Second)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(q.Close)
	if _, err := q.Kept(ctx, "by-address", "plan"); !errors.Is(err, sweep.ErrNone) {
		t.Errorf("the plan is still there: %v", err)
	}
}
