package crossing

import (
	"bytes"
	"context"
	"errors"
	"math"
	"runtime"
	"testing"

	"thole/internal/answer"
	"thole/internal/underway"
	"thole/internal/voyages"
)

// TestManyGrows: however a number of passages was come by, and by however many cores, the tally is the same to the last byte.
//
// Source: one worker's run of them all
func TestManyGrows(t *testing.T) {
	c := of(t, answer.NewCase(folder(t, "sanderling")), Quick) // its own, of which nothing was made before
	was := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(was)
	last := 0
	for _, n := range []int{20, 50, 35, 50} {
		told := 0
		got, err := c.Many(context.Background(), n, func(done, of int) {
			if done < told || done > of || of != n {
				t.Errorf("%d of %d after %d", done, of, told)
			}
			told = done
		})
		if err != nil {
			t.Fatal(err)
		}
		want, err := c.Runner.Run(context.Background(), 0, uint64(n), 1, nil)
		if err != nil {
			t.Fatal(err)
		}
		a, _ := got.MarshalBinary()
		b, _ := want.MarshalBinary()
		if !bytes.Equal(a, b) {
			t.Errorf("%d passages grown from %d are not those made at once", n, last)
		}
		last = n
		runtime.GOMAXPROCS(2)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := c.Many(ctx, 80, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if got := many(t, c, 80); got.Passages != 80 {
		t.Errorf("after a cancelled run %d passages", got.Passages)
	}
}

// TestTracks: the passages shown are where the tally says.
func TestTracks(t *testing.T) {
	c := demo(t, "sanderling", Quick)
	tally := many(t, c, 80)
	all, err := c.Tracks(context.Background(), tally)
	if err != nil {
		t.Fatal(err)
	}
	names := map[string]Track{}
	for _, x := range all {
		names[x.Name] = x
		p, err := c.Runner.Passage(x.Number)
		if err != nil || p != x.Passage || len(x.Moments) == 0 || x.Number >= 80 {
			t.Errorf("%s: passage %d is %+v, made again %+v (%v)", x.Name, x.Number, x.Passage, p, err)
		}
	}
	mid, _ := tally.ArrivalBy(0.5 * float64(tally.Ends[voyages.Arrived]) / 80)
	run(t, []check{{"the middle one's day", names["one in two"].Passage.Days, mid, 1, "the tally; 80 passages lie half a day apart in the middle"}})
	if e, l := names["one in twenty early"].Passage.Days, names["one in twenty late"].Passage.Days; !(e < mid && mid < l) {
		t.Errorf("early %.1f, middle %.1f, late %.1f", e, mid, l)
	}
	if n := tally.Ends[voyages.Missed]; n > 0 && names["missed"].Passage.End != voyages.Missed {
		t.Errorf("%d missed, and none is shown", n)
	}
}

// heavier is a case made from another, of the same shape: a store weighs a tenth more.
func heavier(b testing.TB, name string, base *answer.Case) *answer.Case {
	f := *folder(b, name)
	f.Stores = append(f.Stores[:0:0], f.Stores...)
	f.Stores[0].Mass.Value *= 1.1
	return answer.NewCaseFrom(&f, base)
}

// TestQuickAgainstWhole: the coarse table of motion serves for comparing.
//
// Source: the fine one
func TestQuickAgainstWhole(t *testing.T) {
	if testing.Short() {
		t.Skip("two fine tables and their passages; left out with -short")
	}
	const n = 150
	for _, name := range []string{"sanderling", "turnstone"} {
		w, _ := many(t, demo(t, name, Whole), n).ArrivalBy(0.5)
		q, _ := many(t, demo(t, name, Quick), n).ArrivalBy(0.5)
		if w == 0 || math.Abs(q-w) > 0.03*w {
			t.Errorf("%s: one in two by %.1f days from the coarse table, %.1f from the fine one", name, q, w)
		}
	}
}

// TestBoatAgainstMotion: what passages read is the table of motion.
//
// Source: motion.Table, asked itself
func TestBoatAgainstMotion(t *testing.T) {
	if testing.Short() {
		t.Skip("a fine table; left out with -short")
	}
	c := demo(t, "sanderling", Whole)
	table, err := c.Way.Motion(underway.Fine, c.middling())
	if err != nil {
		t.Fatal(err)
	}
	b := c.Spec.Boat
	worst, sum, n := 0.0, 0.0, 0.0
	for wind := 0.3; wind < 15; wind += 0.73 {
		for off := -179.0; off < 180; off += 7.3 {
			for _, load := range []float64{790, 860} {
				want := table.Leg(wind, off*deg, load)
				made, speed, kept := b.Rowed(wind, off*deg, load)
				if turn := math.Remainder(made-off*deg, 2*math.Pi); kept != (turn == 0) || math.Abs(turn) > math.Pi/2+1e-9 && math.Abs(math.Remainder(want.Course-off*deg, 2*math.Pi)) < math.Pi/2 {
					t.Errorf("wind %.1f from %.0f: made %.1f, kept %v", wind, off, made/deg, kept)
				}
				d := math.Hypot(speed*math.Cos(made)-want.Speed*math.Cos(want.Course), speed*math.Sin(made)-want.Speed*math.Sin(want.Course))
				worst = math.Max(worst, d)
				sum, n = sum+d*d, n+1
			}
		}
		down, across := b.Adrift(wind, 830)
		w := table.Drift(wind, 830)
		if math.Hypot(down-w.Down, across-w.Across) > 0.01+0.03*w.Down {
			t.Errorf("adrift in %.1f m/s: %.3f and %.3f, want %.3f and %.3f", wind, down, across, w.Down, w.Across)
		}
	}
	t.Logf("velocities: %.3f m/s root mean square, %.3f at most", math.Sqrt(sum/n), worst)
	if rms := math.Sqrt(sum / n); rms > 0.02 {
		t.Errorf("velocities are %.3f m/s off (root mean square)", rms)
	}
}
