package spare

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/house/golden"
)

// TestDemosGolden: what is said of the demo boats, so that a change of it is seen. A golden, no source.
func TestDemosGolden(t *testing.T) {
	for _, name := range []string{"sanderling", "turnstone"} {
		f, faults := boatfolder.Read("../../../demo/" + name)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		a, fig := ask1(t, f)
		if len(fig.Lacks) > 0 {
			t.Errorf("%s: nothing provides %+v", name, fig.Lacks)
		}
		var b strings.Builder
		fmt.Fprintf(&b, "%s\n%s, %s\n\n", a.Sentence, a.Verdict, a.Margin.Shown)
		for _, s := range fig.Singles {
			said := "none found"
			if s.Mend != nil {
				said = fmt.Sprintf("%s, %.1f kg, takes off %d, makes %d", s.Mend.Said(), s.Mend.Mass, s.Mend.Ends, s.Mend.Adds)
			}
			fmt.Fprintf(&b, "%d %s: %s, days %v: %s\n", s.Rank, s.Function, s.Loss.What, s.Days, said)
		}
		b.WriteString("\n")
		for _, p := range fig.Pairs {
			fmt.Fprintf(&b, "%d %d %s and %s: %s, days %v\n", p.Rank, p.Harm, p.Losses[0].What, p.Losses[1].What, strings.Join(p.Ends, ", "), p.Days)
		}
		b.WriteString("\n")
		for _, d := range fig.Dates {
			fmt.Fprintf(&b, "%s %s %s: %s (%s)\n", d.On, d.Kind, d.What, d.Standing, d.For)
		}
		golden.Check(t, name+".golden", []byte(b.String()))
	}
}

// BenchmarkBare is what the lever table pays once a lever, and the whole answer beside it.
func BenchmarkBare(b *testing.B) {
	f, faults := boatfolder.Read("../../../demo/sanderling")
	if len(faults) > 0 {
		b.Fatal(faults)
	}
	c := answer.NewCase(f)
	if _, err := c.Trip(); err != nil {
		b.Fatal(err)
	}
	for _, bare := range []bool{true, false} {
		b.Run(fmt.Sprintf("bare=%v", bare), func(b *testing.B) {
			for b.Loop() {
				if _, err := Ask(context.Background(), c, answer.Options{Bare: bare}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
