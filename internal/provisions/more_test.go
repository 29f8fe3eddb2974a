package provisions

import (
	"math"
	"testing"

	"thole/internal/boatfolder"
	"thole/internal/levers"
	"thole/internal/model"
)

// TestMoreIsTheLever: ten more days of food made in memory are, row by row, those that the lever writes into the files: the same
// days, mass, energy and water.
//
// Source: the lever's edit, read anew; masses are written to a gram
func TestMoreIsTheLever(t *testing.T) {
	for _, name := range demos {
		d, faults := boatfolder.Open("../../demo/" + name)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		f, faults := d.Read()
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		edits, err := levers.Edits(f, d, []model.Act{{Do: model.Food, Days: 10}})
		if err != nil {
			t.Fatal(err)
		}
		n, faults := d.With(edits...)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		want, faults := n.Read()
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		got := More(f, 10)
		if len(got.Stores) != len(want.Stores) {
			t.Fatalf("%s: %d rows, the lever makes %d", name, len(got.Stores), len(want.Stores))
		}
		for i := range got.Stores {
			g, w := &got.Stores[i], &want.Stores[i]
			off := func(what string, a, b float64, count int, tol float64) {
				a, b = a*float64(max(1, g.Count)), b*float64(max(1, count))
				if math.Abs(a-b) > tol*math.Max(math.Abs(b), 1e-9) {
					t.Errorf("%s, %s: %s %g, by the lever %g", name, g.What, what, a, b)
				}
			}
			if g.Use.First != w.Use.First || g.Use.Last != w.Use.Last {
				t.Errorf("%s, %s: used %+v, by the lever %+v", name, g.What, g.Use, w.Use)
			}
			off("mass", float64(g.Mass.Value), float64(w.Mass.Value), w.Count, 2e-3)
			off("energy", float64(g.Energy), float64(w.Energy), w.Count, 2e-3)
			off("water", float64(g.Soaks), float64(w.Soaks), w.Count, 5e-3)
			if f.Stores[i].Use.Last != 0 && f.Stores[i].Use.Last < f.LastDay() && g.Mass != f.Stores[i].Mass {
				t.Errorf("%s, %s: changed", name, g.What)
			}
		}
	}
}

// TestMoreOfNothing: a folder in which nothing is eaten is left as it is.
func TestMoreOfNothing(t *testing.T) {
	f := &model.Folder{Stores: []model.Store{{What: "stone"}}}
	if More(f, 10) != f || More(two(), 10).LastDay() != 40 {
		t.Error("what is not eaten cannot be eaten for longer")
	}
}
