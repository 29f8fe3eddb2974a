package drain

import (
	"context"
	"math"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
)

func open(tb testing.TB, name string) *answer.Case {
	tb.Helper()
	f, faults := boatfolder.Read("../../../demo/" + name)
	if len(faults) > 0 {
		tb.Fatal(faults)
	}
	return answer.NewCase(f)
}

// TestDemos: the invented boats are answered with a time, and their figures hang together.
func TestDemos(t *testing.T) {
	for _, name := range []string{"sanderling", "turnstone"} {
		a, err := Ask(context.Background(), open(t, name), answer.Options{})
		if err != nil {
			t.Fatal(err)
		}
		f, ok := a.Figures.(Figures)
		if !ok {
			t.Fatalf("%s: %s", name, a.Sentence)
		}
		if a.Verdict != answer.Yes && a.Verdict != answer.Close || len(f.Wells) != 1 || f.Wells[0].Clear == nil {
			t.Errorf("%s: %s: %s", name, a.Verdict, a.Sentence)
			continue
		}
		w := f.Wells[0]
		for i := 1; i < len(w.Track); i++ {
			if w.Track[i].Time <= w.Track[i-1].Time || w.Track[i].Water >= w.Track[i-1].Water {
				t.Errorf("%s: the track runs back at %v", name, w.Track[i])
			}
		}
		if !(*w.Half < *w.Clear) || !(w.SoleAboveFull < w.SoleAbove) || !(f.Full.GM < f.Full.GMDry) || math.Abs(w.Mass-f.Full.Water) > 1e-6 {
			t.Errorf("%s: %+v", name, f)
		}
	}
}

func BenchmarkDemo(b *testing.B) {
	for b.Loop() {
		c := open(b, "sanderling")
		if _, err := Ask(context.Background(), c, answer.Options{Brief: true}); err != nil {
			b.Fatal(err)
		}
	}
}
