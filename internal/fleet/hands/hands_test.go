package hands

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"thole/internal/fleet"
)

// What a test tells its own program, when that is started as a worker.
const (
	stallAt = "THOLE_TEST_STALL" // a file to be made when a part has been begun, which is then never finished
	waitFor = "THOLE_TEST_WAIT"  // a file to be waited for before anything is done
)

func TestMain(m *testing.M) {
	if os.Getenv(withParent) == "" || len(os.Args) < 3 {
		os.Exit(m.Run())
	}
	for name := os.Getenv(waitFor); name != ""; time.Sleep(10 * time.Millisecond) {
		if _, err := os.Stat(name); err == nil {
			break
		}
	}
	err := Work(context.Background(), os.Args[2], "", 1, func(string, string, int) {
		if name := os.Getenv(stallAt); name != "" {
			_ = os.WriteFile(name, nil, 0o600)
			select {}
		}
	})
	if err != nil && !errors.Is(err, context.Canceled) {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// plan is a small sweep of a demonstration boat.
func plan(t *testing.T, w fleet.Wish) *fleet.Plan {
	t.Helper()
	if testing.Short() {
		t.Skip("simulates passages of a whole boat; left out with -short")
	}
	w.Folder, w.Quick = filepath.Join("..", "..", "..", "demo", "sanderling"), true
	p, err := fleet.NewPlan(w)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func text(t *testing.T, r fleet.Result) []byte {
	t.Helper()
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestProcesses: two processes, and a third that is killed in the midst of a part, give the bytes that one process gives alone.
func TestProcesses(t *testing.T) {
	p := plan(t, fleet.Wish{Passages: 250, Dates: fleet.Dates{Leave: "2027-01-12,2027-04-01"}, Tries: []string{"home with half the jugs drunk"}})
	ctx, stop := context.WithTimeout(context.Background(), 90*time.Second)
	defer stop()
	alone, err := berth{Where: fleet.Where{Workers: fleet.Here}}.sweep(ctx, p, nil)
	if err != nil {
		t.Fatal(err)
	}
	begun := filepath.Join(t.TempDir(), "begun")
	killed := make(chan error, 1)
	ended := atomic.Int64{}
	several, err := berth{Where: fleet.Where{Workers: 3, Tell: func(string) { ended.Add(1) }}, state: t.TempDir(), lease: time.Second,
		extra: func(i int) []string {
			if i == 0 {
				return []string{stallAt + "=" + begun}
			}
			return []string{waitFor + "=" + begun}
		},
		begun: func(i, pid int) {
			if i == 0 {
				go func() { killed <- kill(ctx, pid, begun) }()
			}
		}}.sweep(ctx, p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := <-killed; err != nil || ended.Load() != 1 {
		t.Fatalf("the one worker was not killed: %v; %d ended", err, ended.Load())
	}
	if got, want := text(t, several), text(t, alone); !bytes.Equal(got, want) {
		t.Errorf("by processes\n%s\nby one\n%s", got, want)
	}
	if len(alone.Rows) != 2 || alone.Rows[0].Sum == alone.Rows[1].Sum {
		t.Errorf("the variants do not differ: %s", text(t, alone))
	}
}

// kill ends a process as nothing else does, once it has begun a part.
func kill(ctx context.Context, pid int, begun string) error {
	for ; ctx.Err() == nil; time.Sleep(10 * time.Millisecond) {
		if _, err := os.Stat(begun); err == nil {
			p, err := os.FindProcess(pid)
			if err != nil {
				return err
			}
			return p.Kill()
		}
	}
	return ctx.Err()
}

// TestTakenUp: a sweep with a name is stopped and taken up again; what was done is not done again, and the figures are the same.
func TestTakenUp(t *testing.T) {
	p := plan(t, fleet.Wish{Passages: 500})
	ctx, end := context.WithTimeout(context.Background(), 90*time.Second)
	defer end()
	parts := int(p.Parts())
	state := t.TempDir()
	doing := map[int]bool{}
	w := berth{Where: fleet.Where{Workers: fleet.Here, Job: "winter"}, state: state, lease: time.Second, doing: func(part int) { doing[part] = true }}
	some, stop := context.WithCancel(ctx)
	had := 0
	_, err := w.sweep(some, p, func(n, _ int) {
		if had = n; n == 3 {
			if _, err := w.sweep(ctx, p, nil); err == nil || !strings.Contains(err.Error(), "another process") {
				t.Errorf("the same sweep twice at once: %v", err)
			}
			stop()
		}
	})
	var stopped *fleet.Stopped
	if !errors.As(err, &stopped) || stopped.Job != "winter" || stopped.Done != had || had >= parts {
		t.Fatalf("stopped at %d of %d: %v", had, parts, err)
	}
	clear(doing)
	again, err := w.sweep(ctx, p, nil)
	if err != nil || len(doing) > parts-had {
		t.Fatalf("taken up: %d parts begun of %d that were left (%v)", len(doing), parts-had, err)
	}
	alone, err := berth{Where: fleet.Where{Workers: fleet.Here}}.sweep(ctx, p, nil)
	if err != nil || !bytes.Equal(text(t, again), text(t, alone)) {
		t.Errorf("taken up\n%s\nat once (%v)\n%s", text(t, again), err, text(t, alone))
	}
	clear(doing)
	if _, err := w.sweep(ctx, p, nil); err != nil || len(doing) > 0 {
		t.Errorf("asked for a third time: %d parts begun (%v)", len(doing), err)
	}
	other := plan(t, fleet.Wish{Passages: 501})
	if _, err := w.sweep(ctx, other, nil); err == nil || !strings.Contains(err.Error(), "another one") {
		t.Errorf("another sweep under the name: %v", err)
	}
	if err := w.forget(ctx); err != nil {
		t.Fatal(err)
	}
	if left, _ := filepath.Glob(filepath.Join(state, "*")); len(left) > 0 {
		t.Errorf("after forgetting there is still %v", left)
	}
}

// TestStoppedUnnamed: a sweep without a name leaves nothing.
func TestStoppedUnnamed(t *testing.T) {
	p := plan(t, fleet.Wish{Passages: 400})
	ctx, stop := context.WithCancel(context.Background())
	state := t.TempDir()
	_, err := berth{Where: fleet.Where{Workers: 1}, state: state}.sweep(ctx, p, func(int, int) { stop() })
	var stopped *fleet.Stopped
	if !errors.As(err, &stopped) || stopped.Job != "" || !errors.Is(err, context.Canceled) || !strings.Contains(err.Error(), "lost") {
		t.Errorf("stopped: %v", err)
	}
	if left, _ := filepath.Glob(filepath.Join(state, "*")); len(left) > 0 {
		t.Errorf("there is still %v", left)
	}
}
