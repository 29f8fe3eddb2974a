package stow

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/levers"
	"thole/internal/questions/float"
	"thole/internal/questions/right"
	question "thole/internal/questions/stow"
	"thole/internal/stowage"
)

// TestDemos: what is found for both demonstration boats is better, and is so when its acts are written into the folder's own text.
//
// Source: the folder read again and asked
func TestDemos(t *testing.T) {
	if testing.Short() {
		t.Skip("solves two whole boats; left out with -short")
	}
	for _, name := range []string{"sanderling", "turnstone"} {
		d, faults := boatfolder.Open("../../../demo/" + name)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		f, faults := d.Read()
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		told := 0
		c := answer.NewCase(f)
		found, err := Run(context.Background(), c, 4, func(answer.Finding) { told++ })
		if err != nil {
			t.Fatal(err)
		}
		t.Log(found.Sentence)
		if told == 0 || !found.Done || len(found.Offers) != 1 || len(found.Sheet.Blocks) < 5 || found.Gap == nil || !(*found.Gap >= 0) || *found.Gap > 1 {
			t.Fatalf("%s: told %d times, then %+v", name, told, found)
		}
		edits, err := levers.Edits(f, d, found.Offers[0].Acts)
		if err != nil {
			t.Fatal(err)
		}
		next, faults := d.With(edits...)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		g, faults := next.Read()
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		was, err := question.Ask(context.Background(), c, answer.Options{Brief: true})
		if err != nil {
			t.Fatal(err)
		}
		now, err := question.Ask(context.Background(), answer.NewCaseFrom(g, c), answer.Options{Brief: true})
		if err != nil {
			t.Fatal(err)
		}
		a, b := was.Figures.(question.Figures), now.Figures.(question.Figures)
		if now.Verdict != answer.Yes || b.Handling > a.Handling/2 {
			t.Errorf("%s: written into the folder, %s; a handling of %.2f, before %.2f", name, now.Sentence, b.Handling, a.Handling)
		}
		for _, q := range []answer.Question{float.Question, right.Question} { // what is about trim, heel and height agrees
			var verdicts [2]answer.Verdict
			for i, one := range []*answer.Case{c, answer.NewCaseFrom(g, c)} {
				x, err := q.Ask(context.Background(), one, answer.Options{Brief: true})
				if err != nil {
					t.Fatal(err)
				}
				verdicts[i] = x.Verdict
			}
			if verdicts[1] != verdicts[0] && verdicts[1] != answer.Yes {
				t.Errorf("%s: %s was %s and is %s as planned", name, q.ID, verdicts[0], verdicts[1])
			}
		}
		noWorse(t, name, c, answer.NewCaseFrom(g, c))
		lowest := func(s []question.State) float64 {
			out := math.Inf(1)
			for _, x := range s {
				out = math.Min(out, *x.Height)
			}
			return out
		}
		if lowest(b.States) < lowest(a.States) {
			t.Errorf("%s: the height left fell from %.4f to %.4f m", name, lowest(a.States), lowest(b.States))
		}
		heavy := func(st []stowage.State) float64 { return st[0].Mass }
		before, _ := stowage.Worst(context.Background(), must(c.Trip()), []int{0})
		after, _ := stowage.Worst(context.Background(), must(answer.NewCase(g).Trip()), []int{0})
		if math.Abs(heavy(before)-heavy(after)) > 1e-9 {
			t.Errorf("%s: she weighed %.3f kg and weighs %.3f", name, heavy(before), heavy(after))
		}
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// small is a folder of a square-sided boat with two lockers.
func small(t *testing.T, stores string) *answer.Case {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"offsets.csv": "station,distance_mm,height_mm,halfbreadth_mm\n0,0,0,0\n0,0,0,500\n0,0,0,500\n0,0,600,500\n1,6000,0,0\n1,6000,0,500\n1,6000,0,500\n1,6000,600,500\n",
		"boat.yaml": `boat: Barge
hull: {offsets: offsets.csv}
compartments:
  - {number: 201, name: dry locker, from: 2.0 m, to: 2.5 m, side: starboard, top: 0.4 m, packing: 60%, reach: at the seat}
  - {number: 202, name: wet locker, from: 2.0 m, to: 2.5 m, side: port, top: 0.4 m, wet: yes, packing: 60%, reach: at the seat}
weights:
  - {what: hull, mass: 300 kg, at: [3 m, 0 m, 0.1 m]}
`,
		"voyage.yaml": "days: 7\n", "stores.csv": "what,count,mass,where,used,volume,group,apart,dry,pinned\n" + stores,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	f, faults := boatfolder.Read(dir)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return answer.NewCase(f)
}

// TestCollide: where no plan keeps the rules it is said which collide, and what would have to give.
//
// Source: 80 L that must lie dry, and one dry locker of 60 L
func TestCollide(t *testing.T) {
	found, err := Run(context.Background(), small(t, "flour,8,1 kg,201,,10 L,food,,yes,\n"), 2, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"cannot be had together", "the room in 201 dry locker", "flour dry", "more room in 201 dry locker"} {
		if !strings.Contains(found.Sentence, word) {
			t.Errorf("%q is not said: %s", word, found.Sentence)
		}
	}
	if found.Gap != nil {
		t.Errorf("a gap of %g where no plan keeps the rules", *found.Gap)
	}
}

// TestMendsAll: a folder with a broken rule that a plan can keep is offered that plan.
func TestMendsAll(t *testing.T) {
	found, err := Run(context.Background(), small(t, "flour,3,1 kg,202,,10 L,food,,yes,\nlamp oil,1,1 kg,201,,3 L,oil,food,,\n"), 2, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(found.Offers) != 1 || !strings.Contains(found.Sentence, "every rule is kept") {
		t.Errorf("%s; offers %+v", found.Sentence, found.Offers)
	}
}

// TestStopped: a search that is stopped at once gives what it has, at once.
func TestStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	began := time.Now()
	f, faults := boatfolder.Read("../../../demo/sanderling")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	found, err := Run(ctx, answer.NewCase(f), 60, nil)
	if err != nil || !found.Done || found.Sentence == "" {
		t.Errorf("%+v, %v", found, err)
	}
	if took := time.Since(began); took > 20*time.Second {
		t.Errorf("it took %v to stop", took)
	}
}

// TestNoVoyage: a boat that goes nowhere is stowed too; so is one that nothing is eaten on.
func TestNoVoyage(t *testing.T) {
	c := small(t, "flour,3,1 kg,202,,10 L,food,,yes,\nlamp oil,1,1 kg,201,,3 L,oil,food,,\n")
	f := *c.Folder
	f.Voyage = nil
	found, err := Run(context.Background(), answer.NewCase(&f), 2, nil)
	if err != nil || len(found.Offers) != 1 {
		t.Errorf("%+v, %v", found, err)
	}
}

// TestNothing: a folder with nothing to stow says so.
func TestNothing(t *testing.T) {
	if _, err := Run(context.Background(), small(t, "flour,3,1 kg,3 m; 0 m; 0.1 m,,10 L,food,,yes,\n"), 1, nil); !errors.Is(err, ErrNothing) {
		t.Error(err)
	}
}
