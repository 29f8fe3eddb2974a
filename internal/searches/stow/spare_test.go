package stow

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/levers"
	"thole/internal/questions/spare"
)

// singles are the single losses of a folder, as the question about them finds them, by what is lost and what that ends.
func singles(t *testing.T, c *answer.Case) []string {
	t.Helper()
	a, err := spare.Question.Ask(context.Background(), c, answer.Options{Brief: true})
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, s := range a.Figures.(spare.Figures).Singles {
		for _, day := range s.Days {
			out = append(out, s.Loss.What+" ends "+s.Function+map[bool]string{true: " leaving", false: " on the last day"}[day == 0])
		}
	}
	return out
}

// noWorse: a plan makes no single loss that there was not.
//
// Source: the fault tree of the question spare, which knows nothing of stowing
func noWorse(t *testing.T, name string, was, now *answer.Case) {
	t.Helper()
	before, after := singles(t, was), singles(t, now)
	for _, s := range after {
		if !slices.Contains(before, s) {
			t.Errorf("%s: as planned %s, which it did not as written", name, s)
		}
	}
	t.Logf("%s: %d single losses as written, %d as planned", name, len(before), len(after))
}

// lockers is a boat of three lockers at the seat and one far off, with what is needed and the stores given.
func lockers(t *testing.T, needs, stores string) (*boatfolder.Draft, *answer.Case) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"offsets.csv": "station,distance_mm,height_mm,halfbreadth_mm\n0,0,0,0\n0,0,0,500\n0,0,0,500\n0,0,600,500\n1,6000,0,0\n1,6000,0,500\n1,6000,0,500\n1,6000,600,500\n",
		"boat.yaml": `boat: Barge
hull: {offsets: offsets.csv}
compartments:
  - {number: 201, name: first locker, from: 2.0 m, to: 2.5 m, side: starboard, top: 0.4 m, packing: 60%, reach: at the seat}
  - {number: 202, name: second locker, from: 2.0 m, to: 2.5 m, side: port, top: 0.4 m, packing: 60%, reach: at the seat}
  - {number: 301, name: far locker, from: 4.0 m, to: 4.5 m, top: 0.4 m, packing: 60%, reach: in calm}
  - {number: 302, name: further locker, from: 5.0 m, to: 5.5 m, top: 0.4 m, packing: 60%, reach: in calm}
weights:
  - {what: hull, mass: 300 kg, at: [3 m, 0 m, 0.1 m]}
`,
		"voyage.yaml": "days: 14\n", "needs.yaml": needs, "stores.csv": "what,count,mass,where,used,volume,provides,needs,dry,pinned\n" + stores,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	d, faults := boatfolder.Open(dir)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	f, faults := d.Read()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return d, answer.NewCase(f)
}

// TestNoNewLosses: food that is least work in one locker at the seat stays in two, so that one flooded locker does not end it; with which needs, how
// many are counted, and to the end of the trip. Each is a case in which the best plan by handling alone would make a single loss.
func TestNoNewLosses(t *testing.T) {
	for _, row := range []struct{ name, needs, stores string }{
		{"food of two kinds", "functions:\n  - {name: eat, rank: 4, any of: [rice, bread]}\n", "rice,14,1 kg,301,days 1-14,1 L,,,yes,\nbread,14,1 kg,302,days 1-14,1 L,,,yes,\n"},
		{"one of them eaten before the end", "functions:\n  - {name: eat, rank: 4, any of: [food]}\n", "rice,14,1 kg,301,days 1-14,1 L,food,,yes,\nbread,14,1 kg,302,days 1-14,1 L,food,,yes,\nbeans,7,1 kg,202,days 1-7,1 L,food,,yes,\n"},
		{"one that needs a pot and one that does not", "functions:\n  - {name: eat, rank: 4, any of: [food]}\n", "rice,14,1 kg,301,days 1-14,1 L,food,pot,yes,\nbread,14,1 kg,302,days 1-14,1 L,food,,yes,\nbeans,14,1 kg,301,days 1-14,1 L,food,,yes,\npot,1,1 kg,202,,2 L,,,yes,\n"},
		{"two of three that are counted", "functions:\n  - {name: see, rank: 4, of: 2, from: [lamp]}\n", "lamps,2,1 kg,302,days 1-14,1 L,lamp,,yes,\nmore lamps,2,1 kg,301,days 1-14,1 L,lamp,,yes,\n"},
	} {
		d, c := lockers(t, row.needs, row.stores)
		found, err := Run(context.Background(), c, 2, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(found.Offers) != 1 {
			t.Errorf("%s: nothing better found: %s", row.name, found.Sentence)
			continue
		}
		edits, err := levers.Edits(c.Folder, d, found.Offers[0].Acts)
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
		noWorse(t, row.name, c, answer.NewCaseFrom(g, c))
	}
}
