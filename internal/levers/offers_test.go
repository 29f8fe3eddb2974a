package levers

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/house/golden"
	"thole/internal/model"
	"thole/internal/questions"
	"thole/internal/questions/spare"
)

// Every offer of every question on the demos is an edit that reads without faults, and a lever that can be pasted: the text
// of it, put into whatif.yaml, makes the very same edits. What is offered is kept, so that a change of it is seen.
func TestOffersCanBeMade(t *testing.T) {
	for i, name := range demos {
		if testing.Short() && i > 0 {
			continue // one whole boat
		}
		d, f := opened(t, "../../demo/"+name)
		var b strings.Builder
		for _, q := range questions.Table {
			if testing.Short() && q.Group != answer.Aboard {
				continue // whole boats
			}
			a, err := q.Ask(context.Background(), answer.NewCase(f), answer.Options{Brief: true})
			if err != nil {
				t.Fatal(err)
			}
			pasted := "levers:\n"
			var want [][]boatfolder.Edit
			for _, o := range a.Offers {
				edits, err := Edits(f, d, o.Acts)
				if err != nil {
					t.Errorf("%s, %s, %s: %v", name, q.ID, o.Name, err)
					continue
				}
				n, faults := d.With(edits...)
				if len(faults) > 0 {
					t.Errorf("%s, %s, %s: %v", name, q.ID, o.Name, faults)
					continue
				}
				if _, faults = n.Read(); len(faults) > 0 || len(n.Changes()) == 0 {
					t.Errorf("%s, %s, %s: %v", name, q.ID, o.Name, faults)
				}
				pasted += boatfolder.LeverText(o.Name, o.Acts)
				want = append(want, edits)
				fmt.Fprintf(&b, "%s: %s\n  %s\n", q.ID, o.Name, o.Why)
				for _, c := range n.Changes() {
					fmt.Fprintf(&b, "  - %s\n  + %s\n", c.Before, c.After)
				}
			}
			if len(want) == 0 {
				continue
			}
			dir := copied(t, "../../demo/"+name)
			if err := os.WriteFile(filepath.Join(dir, "whatif.yaml"), []byte(pasted), 0o600); err != nil {
				t.Fatal(err)
			}
			d2, f2 := opened(t, dir)
			for i, l := range f2.Levers {
				edits, err := Edits(f2, d2, l.Acts)
				if l.Fault != "" || err != nil || fmt.Sprint(edits) != fmt.Sprint(want[i]) {
					t.Errorf("%s: pasted, %s: %s%v\n%v\nwant\n%v", name, l.Name, l.Fault, err, edits, want[i])
				}
			}
		}
		if !testing.Short() {
			golden.Check(t, name+"-offers.golden", []byte(b.String()))
		}
	}
}

// What an offer says that it takes away is gone when its edits are kept and the folder is asked anew, and nothing it does not tell has come.
//
// Source: the same question asked of the changed folder
func TestOffersHelp(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	ask := func(f *model.Folder) (answer.Answer, map[string]bool) {
		a, err := spare.Ask(context.Background(), answer.NewCase(f), answer.Options{Brief: true})
		if err != nil {
			t.Fatal(err)
		}
		out := map[string]bool{}
		for _, s := range a.Figures.(spare.Figures).Singles {
			out[fmt.Sprintf("%q when %s", s.Function, strings.TrimPrefix(s.Loss.What, "one of "))] = true
		}
		return a, out
	}
	for _, name := range demos {
		d, f := opened(t, "../../demo/"+name)
		a, was := ask(f)
		if len(a.Offers) < 4 || len(a.Offers) > 8 {
			t.Errorf("%s: %d offers", name, len(a.Offers))
		}
		for _, o := range a.Offers {
			edits, err := Edits(f, d, o.Acts)
			if err != nil {
				t.Fatal(err)
			}
			n, faults := d.With(edits...)
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			g, faults := n.Read()
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			_, now := ask(g)
			gone, said, _ := strings.Cut(strings.TrimPrefix(o.Why, "Takes away "), " ")
			count := 0
			for k := range was {
				if !now[k] {
					count++
					if c := strings.Count(said, k); c == 0 && !strings.Contains(said, " more.") {
						t.Errorf("%s: %s: %s is gone too", name, o.Name, k)
					}
				}
			}
			if fmt.Sprint(count) != gone || count == 0 {
				t.Errorf("%s: %s: %d are gone, said %s", name, o.Name, count, gone)
			}
			for k := range now {
				if !was[k] && !strings.Contains(said, "Makes") {
					t.Errorf("%s: %s makes %s", name, o.Name, k)
				}
			}
		}
	}
}
