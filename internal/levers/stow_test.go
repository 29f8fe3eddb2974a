package levers

import (
	"slices"
	"strings"
	"testing"

	"thole/internal/boatfolder"
	"thole/internal/model"
)

// portionsOf are the rows of a name as a folder has them, by the number of their compartment.
func portionsOf(f *model.Folder, name string) []model.Portion {
	var out []model.Portion
	for _, s := range f.Stores {
		if s.What == name {
			p := &pen{f: f}
			out = append(out, model.Portion{In: p.callIt(s.Where.Compartment), Count: max(1, s.Count), First: s.Use.First, Last: s.Use.Last})
		}
	}
	return out
}

// TestStow: rows are split, moved, joined and left alone as the lots say; nothing else of the table changes.
//
// Source: the manual of whatif.yaml
func TestStow(t *testing.T) {
	d, faults := boatfolder.Open("../../demo/sanderling")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	f, faults := d.Read()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	snacks := []model.Portion{{In: "306", Count: 21, First: 1, Last: 42}, {In: "301", Count: 9, First: 43, Last: 60}, {In: "306", Count: 10, First: 61, Last: 80}}
	rations := []model.Portion{{In: "202", Count: 4}, {In: "401", Count: 10}}
	acts := []model.Act{
		{Do: model.Stow, What: []string{"snacks starboard"}, Portions: snacks},
		{Do: model.Stow, What: []string{"wet rations"}, Portions: rations},
		{Do: model.Stow, What: []string{"anchor"}, Portions: []model.Portion{{In: "302", Count: 1}}},
	}
	apply := func(d *boatfolder.Draft, f *model.Folder, acts []model.Act) (*boatfolder.Draft, *model.Folder) {
		t.Helper()
		edits, err := Edits(f, d, acts)
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
		return next, g
	}
	next, g := apply(d, f, acts)
	if got := portionsOf(g, "snacks starboard"); !slices.Equal(got, snacks) {
		t.Errorf("snacks lie %v, want %v", got, snacks)
	}
	if got := portionsOf(g, "wet rations"); !slices.Equal(got, rations) {
		t.Errorf("rations lie %v, want %v", got, rations)
	}
	if len(g.Stores) != len(f.Stores)+3 {
		t.Errorf("%d rows, want %d", len(g.Stores), len(f.Stores)+3)
	}
	was, _ := d.Text("stores.csv")
	now, _ := next.Text("stores.csv")
	changed := 0
	for _, line := range strings.Split(was, "\n") {
		if !strings.Contains(now, line) {
			changed++
		}
	}
	if changed != 3 {
		t.Errorf("%d lines were changed, want those of three rows", changed)
	}
	// And back: three rows become one again, word for word.
	_, back := apply(next, g, []model.Act{
		{Do: model.Stow, What: []string{"snacks starboard"}, Portions: []model.Portion{{In: "305", Count: 40, First: 1, Last: 80}}},
		{Do: model.Stow, What: []string{"wet rations"}, Portions: []model.Portion{{In: "202", Count: 14}}},
		{Do: model.Stow, What: []string{"anchor"}, Portions: []model.Portion{{In: "301", Count: 1}}},
	})
	for _, name := range []string{"snacks starboard", "wet rations", "anchor"} {
		if got, want := portionsOf(back, name), portionsOf(f, name); !slices.Equal(got, want) {
			t.Errorf("%s lie %v, want %v", name, got, want)
		}
	}
	for _, bad := range []struct {
		say string
		act model.Act
	}{
		{"there are 14", model.Act{Do: model.Stow, What: []string{"wet rations"}, Portions: rations[:1]}},
		{"no compartment", model.Act{Do: model.Stow, What: []string{"anchor"}, Portions: []model.Portion{{In: "999", Count: 1}}}},
		{"nothing in stores.csv", model.Act{Do: model.Stow, What: []string{"piano"}, Portions: rations}},
		{"say days", model.Act{Do: model.Stow, What: []string{"anchor"}, Portions: []model.Portion{{In: "302", Count: 1, First: 1, Last: 2}}}},
		{"changes nothing", model.Act{Do: model.Stow, What: []string{"anchor"}, Portions: []model.Portion{{In: "301", Count: 1}}}},
	} {
		if _, err := Edits(f, d, []model.Act{bad.act}); err == nil || !strings.Contains(err.Error(), bad.say) {
			t.Errorf("%v: %v, want %q", bad.act.What, err, bad.say)
		}
	}
}
