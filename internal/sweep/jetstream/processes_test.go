package jetstream

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"testing"
	"time"

	"thole/internal/sweep"
	"thole/internal/voyages"
	"thole/internal/weather"
)

// The names under which this test's own program is told that it is a worker.
const workerAt, workerSlow = "THOLE_TEST_WORKER_AT", "THOLE_TEST_WORKER_SLOW"

func TestMain(m *testing.M) {
	if at := os.Getenv(workerAt); at != "" {
		if err := worker(at, os.Getenv(workerSlow) != ""); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// raft goes with the wind, and is rowed a little.
type raft struct{}

func (raft) Wind(lat, _, _ float64) (float64, float64, float64) { return -5 - math.Cos(lat), 1, 7 }
func (raft) Rowed(w, off, _ float64) (float64, float64, bool) {
	return off, 0.8 - 0.03*w*math.Cos(off), true
}
func (raft) Adrift(w, _ float64) (float64, float64)   { return 0.03 * w, 0 }
func (raft) Anchored(w, _ float64) (float64, float64) { return 0.01 * w, 0 }
func (raft) Current(_, lon, when float64) (float64, float64) {
	return -0.1, 0.05 * math.Sin(lon+when/1e6)
}

// runner is the work that all do.
func runner() (*voyages.Runner, error) {
	const degree = math.Pi / 180
	return voyages.New(voyages.Spec{Seed: 5, Start: voyages.Place{Lat: 20 * degree, Lon: -20 * degree},
		Route:   []voyages.Point{{Place: voyages.Place{Lat: 15 * degree, Lon: -45 * degree}, Within: 50e3}},
		Climate: raft{}, Currents: raft{}, Boat: raft{}, Weather: weather.Usual(),
		Rules: voyages.Rules{Habit: voyages.Habit{Watches: []voyages.Watch{{From: 6, To: 18}}}, Storm: 15, Ease: 0.8},
		Wear:  voyages.Wear{Load: 500, Least: 400, Eaten: 1, Pace: 0.1}, Most: 100, Past: 50e3})
}

// worker does parts until it is killed.
func worker(at string, slow bool) error {
	ctx := context.Background()
	q, err := Connect(ctx, at, "", time.Second)
	if err != nil {
		return err
	}
	r, err := runner()
	if err != nil {
		return err
	}
	return sweep.Work(ctx, q, func(ctx context.Context, p sweep.Part) ([]byte, error) {
		if slow {
			time.Sleep(time.Hour) // begun, and killed before it is done
		}
		t, err := r.Run(ctx, p.First, p.Count, 1, nil)
		if err != nil {
			return nil, err
		}
		return t.MarshalBinary()
	}, 5)
}

// TestProcesses: two worker processes and one that is killed in the midst of a part give the same
// result, to the last digit, as one process.
func TestProcesses(t *testing.T) {
	const count, size = 300, 25
	r, err := runner()
	if err != nil {
		t.Fatal(err)
	}
	alone, err := r.Run(context.Background(), 0, count, 2, nil)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(context.Background(), 90*time.Second)
	defer stop()
	s := serve(t, t.TempDir())
	q := connect(t, s.Address(), time.Second)
	start := func(slow string) *exec.Cmd {
		c := exec.Command(os.Args[0])
		c.Env = append(os.Environ(), workerAt+"="+s.Address(), workerSlow+"="+slow)
		c.Stderr = os.Stderr
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = c.Process.Kill(); _ = c.Wait() })
		return c
	}
	parts, err := sweep.Split("atlantic", nil, count, size)
	if err != nil {
		t.Fatal(err)
	}
	if err := q.Add(ctx, parts); err != nil {
		t.Fatal(err)
	}
	victim := start("yes")
	for { // until it has a part
		i, err := q.parts.Info(ctx)
		if err != nil {
			t.Fatal(err)
		}
		if i.NumAckPending > 0 {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	if err := victim.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	start("")
	start("")
	sum, largest := r.NewTally(), 0
	err = sweep.Gather(ctx, q, "atlantic", len(parts), func(_ int, b []byte) error {
		var p voyages.Tally
		if err := p.UnmarshalBinary(b); err != nil {
			return err
		}
		largest = max(largest, len(b))
		return sum.Add(&p)
	}, nil)
	if err != nil {
		t.Fatal(err)
	}
	got, _ := sum.MarshalBinary()
	want, _ := alone.MarshalBinary()
	if !bytes.Equal(got, want) || sum.Passages != count {
		t.Errorf("%d passages by processes differ from %d by one", sum.Passages, alone.Passages)
	}
	t.Logf("%d parts, the largest result %d bytes; arrived %d of %d", len(parts), largest, sum.Ends[voyages.Arrived], sum.Passages)
}
