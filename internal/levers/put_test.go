package levers

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"thole/internal/boatfolder"
	"thole/internal/model"
)

// lain counts the pieces of every name by where they lie, and their mass, from the table alone.
func lain(f *model.Folder) (map[string]int, float64) {
	out, mass := map[string]int{}, 0.0
	for _, s := range f.Stores {
		out[fmt.Sprintf("%s in %d at %v", s.What, s.Where.Compartment, s.Where.At)] += max(1, s.Count)
		mass += float64(s.Mass.Value) * float64(max(1, s.Count))
	}
	return out, mass
}

// sixty are puts of a whole re-stowage, with what must come of them: every row goes elsewhere, some in two parts.
func sixty(f *model.Folder) ([]model.Act, map[string]int) {
	rnd := rand.New(rand.NewPCG(3, 14))
	var acts []model.Act
	want, _ := lain(f)
	key := func(s *model.Store, room int) string { return fmt.Sprintf("%s in %d at %v", s.What, room, s.Where.At) }
	for i := range f.Stores {
		s := &f.Stores[i]
		if s.Where.Compartment < 0 {
			continue
		}
		left := max(1, s.Count)
		for parts := 2; parts > 0 && left > 0; parts-- {
			to := rnd.IntN(len(f.Boat.Compartments))
			if to == s.Where.Compartment {
				to = (to + 1) % len(f.Boat.Compartments)
			}
			n := left
			if parts > 1 {
				n = (left + 1) / 2
			}
			a := model.Act{Do: model.Put, What: []string{s.What}, From: f.Boat.Compartments[s.Where.Compartment].Name, To: fmt.Sprint(f.Boat.Compartments[to].Number), Count: n}
			if n == left && left == max(1, s.Count) {
				a.Count = 0
			}
			acts = append(acts, a)
			want[key(s, s.Where.Compartment)] -= n
			want[key(s, to)] += n
			left -= n
		}
	}
	for k, n := range want {
		if n == 0 {
			delete(want, k)
		}
	}
	return acts, want
}

// remarks are the lines of a file that hold no values.
func remarks(text string) []string {
	var out []string
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "#") || strings.TrimSpace(line) == "" {
			out = append(out, line)
		}
	}
	return out
}

// A whole re-stowage at one go: every piece is where it was put and aboard once, the mass is the same, rows stand in
// their order, remarks and every other cell stay.
//
// Source: counted by hand from the table, row by row (sixty)
func TestPutWholeStowage(t *testing.T) {
	for _, demo := range demos {
		d, f := opened(t, "../../demo/"+demo)
		acts, want := sixty(f)
		if demo == "sanderling" && len(acts) < 60 {
			t.Errorf("only %d puts", len(acts))
		}
		began := time.Now()
		edits, err := Edits(f, d, acts)
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
		t.Logf("%s: %d puts, %d edits, %v", demo, len(acts), len(edits), time.Since(began))
		got, mass := lain(g)
		_, was := lain(f)
		for k := range got {
			if got[k] != want[k] {
				t.Errorf("%s: %d of %s, want %d", demo, got[k], k, want[k])
			}
		}
		if len(got) != len(want) || math.Abs(mass-was) > 1e-9 {
			t.Errorf("%s: %d places and %v kg, want %d and %v", demo, len(got), mass, len(want), was)
		}
		before, _ := d.Text(storesFile)
		after, _ := n.Text(storesFile)
		if !slices.Equal(remarks(before), remarks(after)) {
			t.Errorf("%s: the remarks are no longer the same", demo)
		}
		i := -1
		for _, s := range g.Stores { // each row is the next old one, or one like the row above it
			like := func(k int) bool {
				o, now := f.Stores[k], s
				o.Where, o.Count, o.Source = s.Where, s.Count, s.Source
				if o.Use.Into != nil && now.Use.Into != nil && *o.Use.Into == *now.Use.Into {
					o.Use.Into = now.Use.Into
				}
				return reflect.DeepEqual(o, now)
			}
			switch {
			case i+1 < len(f.Stores) && like(i+1):
				i++
			case i >= 0 && like(i):
			default:
				t.Fatalf("%s: the row of %s is out of its order", demo, s.What)
			}
		}
		if i != len(f.Stores)-1 {
			t.Errorf("%s: %d rows of %d are left", demo, i+1, len(f.Stores))
		}
	}
}

// putDir is a folder with stores that share a name.
func putDir(t *testing.T) (*boatfolder.Draft, *model.Folder) {
	dir := box(t, "levers: [{name: x, days: +1}]\n")
	d, _ := opened(t, dir)
	var edits []boatfolder.Edit
	for i, c := range []string{"{number: 1, name: one, from: 0.5 m, to: 1.5 m}", "{number: 2, name: two, from: 1.5 m, to: 2.5 m}", "{name: bin, from: 2.5 m, to: 3.5 m}"} {
		edits = append(edits, boatfolder.Edit{File: boatFile, Key: fmt.Sprintf("compartments[%d]", i), Do: boatfolder.Insert, Text: c})
	}
	for i, row := range []string{"tins,9,1 kg,1,,weighed,,", "pans,,2 kg,1,,weighed,,", "tins,4,1 kg,1,,weighed,,", "tins,2,1 kg,2,,weighed,,", "flag,,100 g,1 m; 0 m; 0.5 m,,weighed,,"} {
		edits = append(edits, boatfolder.Edit{File: storesFile, Key: fmt.Sprintf("rows[%d]", i), Do: boatfolder.Insert, Text: row})
	}
	n, faults := d.With(edits...)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	f, faults := n.Read()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return n, f
}

// Rows are split and followed as the manual says.
//
// Source: docs/boat-folder.md, put
func TestPut(t *testing.T) {
	put := func(what, from, to string, count int) model.Act {
		return model.Act{Do: model.Put, What: strings.Split(what, ";"), From: from, To: to, Count: count}
	}
	for _, c := range []struct {
		name  string
		acts  []model.Act
		want  string // what, count, where of each row
		fault string
	}{
		{"a row", []model.Act{put("pans", "", "bin", 0)}, "tins 9 1; pans  bin; tins 4 1; tins 2 2; flag  point", ""},
		{"part of a row", []model.Act{put("tins", "2", "bin", 1)}, "tins 9 1; pans  1; tins 4 1; tins 1 2; tins 1 bin; flag  point", ""},
		{"over two rows", []model.Act{put("tins", "one", "2", 10)}, "tins 9 2; pans  1; tins 3 1; tins 1 2; tins 2 2; flag  point", ""},
		{"names together", []model.Act{put("pans;flag", "", "2", 0)}, "tins 9 1; pans  2; tins 4 1; tins 2 2; flag  2", ""},
		{"there and on", []model.Act{put("tins", "2", "bin", 2), put("tins", "bin", "1", 1)}, "tins 9 1; pans  1; tins 4 1; tins 1 bin; tins 1 1; flag  point", ""},
		{"there and back", []model.Act{put("tins", "1", "bin", 3), put("tins", "bin", "1", 3)}, "", "changes nothing"},
		{"to three places", []model.Act{put("tins", "1", "bin", 3), put("tins", "1", "2", 3)}, "tins 3 1; tins 3 bin; tins 3 2; pans  1; tins 4 1; tins 2 2; flag  point", ""},
		{"with another act", []model.Act{put("tins", "2", "bin", 1), {Do: model.LeaveOut, What: []string{"pans"}}, put("flag", "", "1", 0)}, "tins 9 1; tins 4 1; tins 1 2; tins 1 bin; flag  1", ""},
		{"another of two", []model.Act{{Do: model.Another, What: []string{"tins"}, From: "2", To: "bin", Count: 3}}, "tins 9 1; pans  1; tins 4 1; tins 2 2; tins 3 bin; flag  point", ""},
		{"another beside it", []model.Act{{Do: model.Another, What: []string{"flag"}}}, "tins 9 1; pans  1; tins 4 1; tins 2 2; flag  point; flag 1 point", ""},
		{"another weight", []model.Act{{Do: model.Another, What: []string{"stone"}, To: "bin"}, {Do: model.Put, What: []string{"pans"}, To: "bin"}}, "tins 9 1; pans  bin; tins 4 1; tins 2 2; flag  point", ""},
		{"another of none", []model.Act{{Do: model.Another, What: []string{"kite"}}}, "", `nothing in stores.csv is called "kite"`},
		{"none so called", []model.Act{put("tin", "1", "2", 0)}, "", `nothing in stores.csv is called "tin"`},
		{"two places", []model.Act{put("tins", "", "bin", 0)}, "", "they lie in 1 one and 2 two (say which: from)"},
		{"more than there are", []model.Act{put("tins", "1", "2", 14)}, "", "there are 13 of tins there, not 14"},
		{"no such place", []model.Act{put("tins", "1", "3", 0)}, "", `no compartment is called "3"`},
	} {
		d, f := putDir(t)
		edits, err := Edits(f, d, c.acts)
		if c.fault != "" {
			if err == nil || !strings.Contains(err.Error(), c.fault) {
				t.Errorf("%s: %v, want %s", c.name, err, c.fault)
			}
			continue
		}
		n, faults := d.With(edits...)
		if err != nil || len(faults) > 0 {
			t.Errorf("%s: %v, %v", c.name, err, faults)
			continue
		}
		rows := map[string][3]string{}
		for _, v := range n.Values(storesFile) {
			row, column, _ := strings.Cut(v.Key, ".")
			at := rows[row]
			if k := slices.Index([]string{"what", "count", "where"}, column); k >= 0 {
				if at[k] = v.Text; strings.Contains(v.Text, ";") { // a point, whichever
					at[k] = "point"
				}
			}
			rows[row] = at
		}
		keys := make([]string, 0, len(rows))
		for k := range rows {
			keys = append(keys, k)
		}
		slices.SortFunc(keys, func(a, b string) int { return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b)) })
		var got []string
		for _, k := range keys {
			cells := rows[k]
			got = append(got, strings.Join(cells[:], " "))
		}
		if strings.Join(got, "; ") != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, strings.Join(got, "; "), c.want)
		}
	}
}

// Another of a weight is one like it in boat.yaml: in a compartment, or where the first stands.
//
// Source: docs/boat-folder.md, another
func TestAnotherWeight(t *testing.T) {
	d, f := putDir(t)
	for to, want := range map[string]string{"bin": "in: bin", "": "at: [2 m, 0 m, 0.15 m]"} {
		edits, err := Edits(f, d, []model.Act{{Do: model.Another, What: []string{"stone"}, To: to}})
		if err != nil {
			t.Fatal(err)
		}
		n, faults := d.With(edits...)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		text, _ := n.Text(boatFile)
		if !strings.Contains(text, "  - {what: stone, mass: 20 kg +- 1 kg, "+want+"}\n") {
			t.Errorf("%q:\n%s", to, text)
		}
		if g, faults := n.Read(); len(faults) > 0 || len(g.Boat.Weights) != len(f.Boat.Weights)+1 || g.Boat.Weights[2].Ballast {
			t.Error(faults)
		}
	}
}
