package passage

import (
	"context"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/crossing"
	"thole/internal/levers"
	"thole/internal/model"
	question "thole/internal/questions/passage"
)

func open(t testing.TB, name string) (*model.Folder, *boatfolder.Draft) {
	t.Helper()
	d, faults := boatfolder.Open("../../../demo/" + name)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	f, faults := d.Read()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return f, d
}

// TestFindsBetter: of a boat that would leave in July, into the Atlantic's season of storms, a better day is found; it is so when the act is
// written into the folder's own text and that is asked.
//
// Source: the folder read again and asked; the season June to November: NOAA
func TestFindsBetter(t *testing.T) {
	if testing.Short() {
		t.Skip("thousands of passages; left out with -short")
	}
	_, d := open(t, "sanderling")
	d, faults := d.With(boatfolder.Edit{File: "voyage.yaml", Key: "leave", Text: "2027-07-01"})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	f, faults := d.Read()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	told := 0
	c := answer.NewCase(f)
	found, err := search(context.Background(), c, 300, first, func(answer.Finding) { told++ })
	if err != nil {
		t.Fatal(err)
	}
	t.Log(found.Sentence)
	if told < halves || !found.Done || len(found.Offers) != 1 || len(found.Sheet.Blocks) < 3 {
		t.Fatalf("told %d times, then %+v", told, found)
	}
	if _, err := json.Marshal(found.Sheet); err != nil {
		t.Fatal(err)
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
	if found.Offers[0].Name != "leave on "+g.Voyage.Leave.Format("2 January 2006") || g.Voyage.Leave.Sub(f.Voyage.Leave) > 366*24*time.Hour {
		t.Errorf("%q, and she leaves on %s", found.Offers[0].Name, g.Voyage.Leave)
	}
	of := func(c *answer.Case) question.Figures {
		a, err := question.Ask(context.Background(), c, answer.Options{Brief: true})
		if err != nil {
			t.Fatal(err)
		}
		return a.Figures.(question.Figures)
	}
	was, now := of(c), of(answer.NewCase(g))
	if now.ByPlanned.Value < was.ByPlanned.Value-0.05 || now.Storms.Chance.Value > was.Storms.Chance.Value {
		t.Errorf("as written %+v and storms %+v, as found %+v and %+v", was.ByPlanned, was.Storms.Chance, now.ByPlanned, now.Storms.Chance)
	}
	// What the table says of the best date is what the folder says.
	row := slices.IndexFunc(found.Sheet.Blocks[0].Table.Rows, func(r []cellOf) bool { return r[0].Loud })
	if row < 0 || math.Abs(found.Sheet.Blocks[0].Table.Rows[row][4].Value-100*now.ByPlanned.Value) > 1e-9 {
		t.Errorf("row %d, %.1f %% in the folder", row, 100*now.ByPlanned.Value)
	}
}

// TestBetter: days of leaving are put in order by what counts, in its order; to one in twenty.
//
// Source: the rule as written down
func TestBetter(t *testing.T) {
	for _, c := range []struct {
		name   string
		a, b   crossing.Departure
		better bool
		source string
	}{
		{"out of the season before more in time", departure(80, 10, 0), departure(100, 0, 100), true, "the first rule"},
		{"more in time", departure(90, 10, 0), departure(70, 0, 0), true, "the first rule, no season on either"},
		{"more in time, all in a season", departure(90, 10, 100), departure(70, 0, 100), true, "the second rule"},
		{"as many, fewer astray", departure(80, 0, 0), departure(80, 20, 0), true, "the third rule"},
		{"two in a hundred more in time, and astray", departure(82, 18, 0), departure(80, 0, 0), false, "less than one in twenty does not tell: the third rule"},
	} {
		if got := c.a.Better(c.b, 100); got != c.better {
			t.Errorf("%s: %v (%s)", c.name, got, c.source)
		}
		if c.a.Better(c.b, 100) && c.b.Better(c.a, 100) {
			t.Errorf("%s: each is better", c.name)
		}
		if c.b.Worth(c.a, 100) && c.better {
			t.Errorf("%s: the worse one is worth moving to", c.name)
		}
	}
}

// TestStopped: stopped before it began or given no time, it ends without a fault; what lacks inputs is an error that names them.
func TestStopped(t *testing.T) {
	f, _ := open(t, "turnstone")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	c := answer.NewCase(f)
	if got, err := Run(ctx, c, 5, nil); err != nil || !got.Done || got.Sentence == "" {
		t.Errorf("stopped: %+v, %v", got, err)
	}
	began := time.Now()
	if got, err := Run(context.Background(), c, 0.01, nil); err != nil || !got.Done || time.Since(began) > 20*time.Second {
		t.Errorf("no time: %+v, %v", got, err)
	}
	g := *f
	g.Voyage = nil
	if _, err := Run(context.Background(), answer.NewCase(&g), 1, nil); err == nil || !strings.Contains(err.Error(), "voyage.yaml: from") {
		t.Errorf("no voyage: %v", err)
	}
}
