package right

import (
	"context"
	"math"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/house/patience"
	"thole/internal/model"
)

// TestLeftOpen: a cabin hatch that the folder leaves open at sea counts in the verdict, by the very height that the matrix
// gives for that hatch open; a lid that shuts by itself does not, and neither does one shut.
//
// Source: the matrix (matrix_test.go) as the other way to the same state; that an open cabin costs her the way back is common practice, no source
func TestLeftOpen(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another, many times over: nothing for the race detector")
	}
	for _, name := range []string{"turnstone", "sanderling"}[:patience.Rounds(1, 2)] {
		shut := demo(t, name)
		whole, err := Ask(context.Background(), answer.NewCase(shut), answer.Options{Brief: true})
		if err != nil {
			t.Fatal(err)
		}
		for i, o := range shut.Boat.Openings {
			if o.Into == "" || !strings.Contains(o.Name, "aft cabin hatch") {
				continue
			}
			f := demo(t, name)
			f.Boat.Openings[i].Closed = false
			got, cells, err := inFull(f)
			if err != nil {
				t.Fatal(err)
			}
			if got.Verdict != answer.No || got.Margin.Value >= whole.Margin.Value || !strings.Contains(got.Sentence, o.Name) {
				t.Errorf("%s, %s left open: %s (%+v)", name, o.Name, got.Sentence, got.Margin)
			}
			least := math.Inf(1)
			for _, c := range cells {
				if c.Hatches == o.Name+" open" && c.Ballast == "full" && c.Water == "dry" && !strings.Contains(c.Crew, "strapped") {
					least = math.Min(least, c.Height)
				}
			}
			// the matrix looks at other days too, so it may find a little less; never more by much
			if got.Margin.Value < least-1e-3 || got.Margin.Value > least+5e-3 {
				t.Errorf("%s, %s left open: %.4f m left, the matrix says %.4f", name, o.Name, got.Margin.Value, least)
			}
			f.Boat.Openings[i].NonReturn = true
			if lid, err := Ask(context.Background(), answer.NewCase(f), answer.Options{Brief: true}); err != nil || lid.Margin.Value != whole.Margin.Value {
				t.Errorf("%s: a lid that shuts by itself: %+v, shut %+v (%v)", name, lid.Margin, whole.Margin, err)
			}
		}
	}
}

func inFull(f *model.Folder) (answer.Answer, []Cell, error) {
	a, err := Ask(context.Background(), answer.NewCase(f), answer.Options{})
	if err != nil {
		return a, nil, err
	}
	return a, a.Figures.(Figures).States, nil
}
