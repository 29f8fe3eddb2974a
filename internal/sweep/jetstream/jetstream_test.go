package jetstream

import (
	"context"
	"testing"
	"time"

	"thole/internal/sweep"
	"thole/internal/sweep/sweeptest"
)

// serve starts a server for a test.
func serve(t *testing.T, folder string) *Server {
	t.Helper()
	s, err := Serve(folder, "", 0, "")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	return s
}

// connect reaches it.
func connect(t *testing.T, address string, while time.Duration) *Queue {
	t.Helper()
	q, err := Connect(context.Background(), address, "", while)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(q.Close)
	return q
}

func TestQueue(t *testing.T) {
	sweeptest.Queue(t, connect(t, serve(t, t.TempDir()).Address(), 500*time.Millisecond))
}

// TestComesBack: parts and results outlive the server.
func TestComesBack(t *testing.T) {
	folder, ctx := t.TempDir(), context.Background()
	s, err := Serve(folder, "", 0, "")
	if err != nil {
		t.Fatal(err)
	}
	q := connect(t, s.Address(), 500*time.Millisecond)
	parts, _ := sweep.Split("long", nil, 4, 1)
	if err := q.Add(ctx, parts); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		l, err := q.Take(ctx)
		if err != nil {
			t.Fatal(err)
		}
		if err := l.Finish(ctx, []byte{byte(l.Part().Number)}); err != nil {
			t.Fatal(err)
		}
	}
	q.Close()
	s.Close()
	q = connect(t, serve(t, folder).Address(), time.Hour) // the lease stays what it was
	if q.While() != 500*time.Millisecond {
		t.Errorf("a lease of %v", q.While())
	}
	wctx, stop := context.WithTimeout(ctx, 30*time.Second)
	defer stop()
	done := 0
	go sweep.Work(wctx, q, func(_ context.Context, p sweep.Part) ([]byte, error) {
		done++
		return []byte{byte(p.Number)}, nil
	}, 9)
	got := 0
	if err := sweep.Gather(wctx, q, "long", 4, func(n int, b []byte) error {
		if n != int(b[0]) {
			t.Errorf("part %d has the result of %d", n, b[0])
		}
		got++
		return nil
	}, nil); err != nil || got != 4 || done > 2 {
		t.Errorf("%d gathered, %d done after the server came back (%v)", got, done, err)
	}
}

// TestDoors: what may not be reached, is not; who has no token stays out.
func TestDoors(t *testing.T) {
	if _, err := Serve(t.TempDir(), "0.0.0.0", 0, ""); err == nil {
		t.Error("open to all without a token")
	}
	if _, err := Serve("", "", 0, ""); err == nil {
		t.Error("no folder")
	}
	s, err := Serve(t.TempDir(), "127.0.0.1", 0, "a-token-of-this-test")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	if _, err := Connect(context.Background(), s.Address(), "", time.Second); err == nil {
		t.Error("let in without the token")
	}
	q, err := Connect(context.Background(), s.Address(), "a-token-of-this-test", time.Second)
	if err != nil {
		t.Fatal(err)
	}
	q.Close()
	if _, err := Connect(context.Background(), "nats://127.0.0.1:1", "", time.Second); err == nil {
		t.Error("nobody is there")
	}
}
