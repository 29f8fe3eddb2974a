package questions

import (
	"context"
	"fmt"
	"sync"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
)

var demos = []string{"sanderling", "turnstone"}

func open(tb testing.TB, name string) *answer.Case {
	tb.Helper()
	f, faults := boatfolder.Read("../../demo/" + name)
	if len(faults) > 0 {
		tb.Fatal(faults)
	}
	return answer.NewCase(f)
}

// shared holds what was asked in full, by the boat's name.
var shared sync.Map

// inFull is what every question answers about a demo boat, sheets and all. That takes most of these tests' time, so it is
// asked once for all of them.
func inFull(tb testing.TB, name string) []answer.Answer {
	tb.Helper()
	once, _ := shared.LoadOrStore(name, sync.OnceValues(func() ([]answer.Answer, error) {
		c := open(tb, name)
		out := make([]answer.Answer, len(Table))
		for i, q := range Table {
			var err error
			if out[i], err = q.Ask(context.Background(), c, answer.Options{}); err != nil {
				return nil, fmt.Errorf("%s, %s: %w", name, q.ID, err)
			}
		}
		return out, nil
	}))
	all, err := once.(func() ([]answer.Answer, error))()
	if err != nil {
		tb.Fatal(err)
	}
	return all
}

// TestDemos: both demo boats are answered, hold, and say what they took for granted.
func TestDemos(t *testing.T) {
	if testing.Short() {
		t.Skip("each question's own tests ask it in full under the race detector")
	}
	for _, name := range demos {
		all := inFull(t, name)
		for i, q := range Table {
			a := all[i]
			if a.Verdict != answer.Yes && a.Verdict != answer.Close {
				t.Errorf("%s, %s: %s", name, q.ID, a.Sentence)
			}
			counted := false // what is counted has no spread
			if a.Margin != nil {
				_, counted = answer.Counted(a.Margin.Unit)
			}
			if a.Margin == nil || !(a.Margin.Spread > 0 || counted) ||
				len(a.Assumptions) == 0 || len(a.Cautions) == 0 || len(a.NotLookedAt) == 0 || len(a.Sheet.Blocks) == 0 {
				t.Errorf("%s, %s: an answer without its margin, assumptions, cautions or sheet: %+v", name, q.ID, a)
			}
			for _, m := range a.Method {
				if m.Source == "" {
					t.Errorf("%s, %s: a method without a source: %s", name, q.ID, m.What)
				}
			}
		}
	}
}

// BenchmarkCheck asks every question of a demo boat, all days and conditions, the folder read anew.
func BenchmarkCheck(b *testing.B) {
	for _, name := range demos {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				c := open(b, name)
				for _, q := range Table {
					if _, err := q.Ask(context.Background(), c, answer.Options{Brief: true}); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
}
