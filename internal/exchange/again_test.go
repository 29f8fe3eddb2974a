package exchange

import (
	"context"
	"encoding/json"
	"strings"
	"testing"

	"thole/internal/lists"
)

// TestAgain: a boat that was eaten from otherwise than planned: all that was counted and has days left is used, never more than was there, on
// days after the count; what is over is kept; and the plan can be written down for machines.
func TestAgain(t *testing.T) {
	if testing.Short() {
		t.Skip("a whole boat, floated on every day; left out with -short")
	}
	const dir, day = "../../demo/sanderling", 33
	in, err := read(out(t, dir, "inventory.csv", day))
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]int{"day bags 31-40 port": 5, "day bags 41-50 starboard": 3, "day bags 21-30 port": 2, "stove gas": 2}
	for _, row := range in.rows[1:] {
		if n, ok := want[row[2]]; ok {
			row[find(in.rows[0], counted)] = string(rune('0' + n))
		}
	}
	took, err := Take(dir, 0, "inventory.csv", write(guarded(in.rows), dialect{}))
	if err != nil {
		t.Fatal(err)
	}
	on, err := took.Again(context.Background(), 1)
	if err != nil {
		t.Fatal(err)
	}
	f := took.before
	used := make([]int, len(f.Stores))
	for _, w := range on.Weeks {
		if w.First <= day || w.Last > f.LastDay() {
			t.Errorf("week %d goes from day %d to %d", w.Number, w.First, w.Last)
		}
		for _, r := range w.Rows {
			used[r.Store] += r.Count
		}
	}
	stocks := lists.Stocks(f)
	for i := range f.Stores {
		s := &f.Stores[i]
		due, ok := want[s.What]
		if !ok {
			due = stocks[i][day]
		}
		if s.Use.Last <= day {
			due = 0 // kept
		}
		if used[i] != due {
			t.Errorf("%s: %d are used after day %d, and there are %d to use", s.What, used[i], day, due)
		}
	}
	if on.Sentence == "" || len(on.Sheet().Blocks) < len(on.Weeks) {
		t.Errorf("%q", on.Sentence)
	}
	if _, err := json.Marshal(on); err != nil {
		t.Error(err)
	}
	took, err = Take(dir, 0, storesFile, out(t, dir, storesFile, 0))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := took.Again(context.Background(), 1); err == nil || !strings.Contains(err.Error(), "only an inventory") {
		t.Errorf("a stores table: %v", err)
	}
}
