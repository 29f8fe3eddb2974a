package levers

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"thole/internal/boatfolder"
	"thole/internal/house/golden"
	"thole/internal/model"
	"thole/internal/units"
)

var demos = []string{"sanderling", "turnstone"}

// opened reads a folder into memory.
func opened(t testing.TB, dir string) (*boatfolder.Draft, *model.Folder) {
	t.Helper()
	d, faults := boatfolder.Open(dir)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	f, faults := d.Read()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return d, f
}

// copied is a copy of a folder's files that may be written to.
func copied(t testing.TB, from string) string {
	t.Helper()
	dir := t.TempDir()
	entries, err := os.ReadDir(from)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		b, err := os.ReadFile(filepath.Join(from, e.Name()))
		if err == nil && !e.IsDir() {
			err = os.WriteFile(filepath.Join(dir, e.Name()), b, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// Every lever of the demos and of a new folder is an edit that reads without faults and changes something.
func TestEveryLeverReads(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	dirs := []string{filepath.Join(t.TempDir(), "new")}
	if err := boatfolder.Starter(dirs[0]); err != nil {
		t.Fatal(err)
	}
	for _, name := range demos {
		dirs = append(dirs, "../../demo/"+name)
	}
	for _, dir := range dirs {
		d, f := opened(t, dir)
		all := List(f, d)
		given := 0
		for _, l := range all {
			if !l.Own {
				given++
			}
			if l.Fault != "" {
				t.Errorf("%s: %s: %s", dir, l.Name, l.Fault)
				continue
			}
			n, faults := d.With(l.Edits...)
			if len(faults) > 0 {
				t.Errorf("%s: %s cannot be made:\n%v", dir, l.Name, faults)
				continue
			}
			if _, faults = n.Read(); len(faults) > 0 {
				t.Errorf("%s: %s makes faults:\n%v", dir, l.Name, faults)
			}
			if len(n.Changes()) == 0 {
				t.Errorf("%s: %s changes no line", dir, l.Name)
			}
		}
		if dir != dirs[0] && (given < 30 || given > 50) {
			t.Errorf("%s: %d levers are offered", dir, given)
		}
	}
}

// The levers of the demos, each with the first lines that it writes.
func TestGoldenLevers(t *testing.T) {
	for _, name := range demos {
		d, f := opened(t, "../../demo/"+name)
		var b strings.Builder
		for i, l := range List(f, d) {
			n, faults := d.With(l.Edits...)
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			changes := n.Changes()
			fmt.Fprintf(&b, "%d %s [%s", i+1, l.Name, l.Group)
			if l.Own {
				b.WriteString(", own")
			}
			fmt.Fprintf(&b, "] %d lines\n", len(changes))
			for _, c := range changes[:min(3, len(changes))] {
				fmt.Fprintf(&b, "  %s:%d\n  - %s\n  + %s\n", c.File, c.Line, c.Before, c.After)
			}
		}
		golden.Check(t, name+".golden", []byte(b.String()))
	}
}

// compiled makes one act on a folder and reads it again.
func compiled(t testing.TB, d *boatfolder.Draft, f *model.Folder, acts ...model.Act) (*boatfolder.Draft, *model.Folder) {
	t.Helper()
	edits, err := Edits(f, d, acts)
	if err != nil {
		t.Fatal(err)
	}
	n, faults := d.With(edits...)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	out, faults := n.Read()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return n, out
}

// stores is the mass of all stores, and of those in a compartment.
func stores(f *model.Folder, in string) (all, there float64) {
	for _, s := range f.Stores {
		m := float64(s.Mass.Value) * float64(max(1, s.Count))
		all += m
		if c := s.Where.Compartment; c >= 0 && f.Boat.Compartments[c].Name == in {
			there += m
		}
	}
	return all, there
}

// What is moved leaves one compartment and arrives in the other, and nothing is lost.
//
// Source: the act's own words in docs/boat-folder.md; conservation of mass.
func TestMove(t *testing.T) {
	for _, name := range demos {
		d, f := opened(t, "../../demo/"+name)
		from, to := "bunk bin port", "fore bin port"
		if name == "turnstone" {
			from, to = "berth bin port", "fore bin port"
		}
		whole, had := stores(f, from)
		_, before := stores(f, to)
		for want := 1.0; want < had; want += 1.7 {
			a := model.Act{Do: model.MoveStores, From: from, To: to}
			a.Change.Mass = units.Mass(want)
			_, g := compiled(t, d, f, a)
			all, left := stores(g, from)
			_, now := stores(g, to)
			if math.Abs(all-whole) > 0.02 || math.Abs(had-left-(now-before)) > 0.02 {
				t.Errorf("%s, %.1f kg: %.3f kg of %.3f are left, %.3f went and %.3f came", name, want, all, whole, had-left, now-before)
			}
			if math.Abs(had-left-want) > near*want+0.02 {
				t.Errorf("%s, %.1f kg: %.3f kg are moved", name, want, had-left)
			}
		}
	}
}

// A hull made fuller is broader by the square of a sine, and nowhere else; a cabin's crown rises and its foot does not.
//
// Source: docs/boat-folder.md, whatif.yaml; the rounding is half a tenth of a millimetre, or a thirty-second of an inch.
func TestShapes(t *testing.T) {
	for _, name := range demos {
		d, f := opened(t, "../../demo/"+name)
		good := 0.0001
		if name == "turnstone" {
			good = 0.0254/32 + 1e-6
		}
		from, to := 3.5, 6.6
		a := model.Act{Do: model.Fuller, Start: from, End: to}
		a.Change.Share, a.Change.ByShare = 0.05, true
		_, g := compiled(t, d, f, a)
		most := 0.0
		for i, s := range f.Boat.Hull.Readings.Stations {
			for j, p := range s.Points {
				q := g.Boat.Hull.Readings.Stations[i].Points[j]
				want := p.Y
				if s.X > from && s.X < to {
					swell := math.Sin(math.Pi * (s.X - from) / (to - from))
					want *= 1 + 0.05*swell*swell
				}
				most = math.Max(most, q.Y-p.Y)
				if math.Abs(q.Y-want) > good || q.Z != p.Z || q.Corner != p.Corner {
					t.Errorf("%s, station %s, point %d: half-breadth %.5f, want %.5f", name, s.Label, j, q.Y, want)
				}
			}
		}
		if most < 0.02 {
			t.Errorf("%s: nowhere fuller by more than %.4f m", name, most)
		}
		a = model.Act{Do: model.Raise, Part: "cabin", Name: "Aft cabin"}
		a.By.Z = 0.05
		_, g = compiled(t, d, f, a)
		for i, s := range f.Boat.Cabins[0].Readings.Stations {
			low, high := math.Inf(1), math.Inf(-1)
			for j, p := range s.Points {
				q := g.Boat.Cabins[0].Readings.Stations[i].Points[j]
				low, high = math.Min(low, p.Z), math.Max(high, p.Z)
				if q.Y != p.Y || q.Z < p.Z-1e-9 || q.Z > p.Z+0.05+1e-4 {
					t.Errorf("%s, cabin station %s, point %d: %+v from %+v", name, s.Label, j, q, p)
				}
			}
			first, last := g.Boat.Cabins[0].Readings.Stations[i].Points[0], g.Boat.Cabins[0].Readings.Stations[i].Points[len(s.Points)-1]
			if math.Abs(first.Z-low) > 1e-9 || math.Abs(last.Z-high-0.05) > 1e-4 {
				t.Errorf("%s, cabin station %s: from %.4f to %.4f, was %.4f to %.4f", name, s.Label, first.Z, last.Z, low, high)
			}
		}
	}
}

// A sole goes up with its drains, hatches, lockers and the crew over it.
func TestSole(t *testing.T) {
	d, f := opened(t, "../../demo/sanderling")
	a := model.Act{Do: model.Raise, Part: "well", Name: "rowing well"}
	a.By.Z = 0.02
	n, g := compiled(t, d, f, a)
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s at %v, want %v (all of 0.42 m in boat.yaml that lies on the sole)", what, got, want)
		}
	}
	near("drain", g.Boat.Wells[0].Drains[0].At.Z, 0.44)
	near("top of the water hold", *g.Boat.Compartments[4].Top, 0.44)
	near("sole of the side pocket", *g.Boat.Compartments[9].Sole, 0.44)
	near("hatch 300", g.Boat.Openings[4].At.Z, 0.44)
	near("hatch 305, in the side", g.Boat.Openings[9].At.Z, 0.56)
	near("sole of the fore cabin", *g.Boat.Compartments[1].Sole, 0.42)
	near("the rower's seat", g.Voyage.Crew[0].Places[0].Where.At.Z, 0.82)
	near("the rower's bunk", g.Voyage.Crew[0].Places[1].Where.At.Z, 0.48)
	if len(n.Changes()) != 16 {
		t.Errorf("%d lines change", len(n.Changes()))
	}
}

// Food for more days, and back, is the food there was; and each day's share does not change.
func TestFood(t *testing.T) {
	for _, name := range demos {
		d, f := opened(t, "../../demo/"+name)
		rate := func(f *model.Folder) float64 {
			last, sum := f.LastDay(), 0.0
			for _, s := range f.Stores {
				if s.Use.Last == last {
					sum += float64(s.Mass.Value) * float64(max(1, s.Count)) / float64(s.Use.Last-s.Use.First+1)
				}
			}
			return sum
		}
		n, more := compiled(t, d, f, model.Act{Do: model.Food, Days: 7})
		was, _ := stores(f, "")
		now, _ := stores(more, "")
		if more.LastDay() != f.LastDay()+7 || math.Abs(now-was-7*rate(f)) > 0.05 || math.Abs(rate(more)-rate(f)) > 0.002 {
			t.Errorf("%s: %d days, %.3f kg more, %.4f kg a day; was %.4f", name, more.LastDay(), now-was, rate(more), rate(f))
		}
		_, back := compiled(t, n, more, model.Act{Do: model.Food, Days: -7})
		if again, _ := stores(back, ""); back.LastDay() != f.LastDay() || math.Abs(again-was) > 0.05 {
			t.Errorf("%s: back to %.3f kg, was %.3f", name, again, was)
		}
	}
}

// What goes all on the last day is put off; it is not eaten once more on each day.
func TestFoodOfOneDay(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new")
	if err := boatfolder.Starter(dir); err != nil {
		t.Fatal(err)
	}
	d, f := opened(t, dir)
	_, g := compiled(t, d, f, model.Act{Do: model.Food, Days: 7})
	for i, s := range g.Stores {
		if s.What == "water for the day" && (s.Use.First != 67 || s.Use.Last != 67 || s.Mass.Value != f.Stores[i].Mass.Value) {
			t.Errorf("%+v", s)
		}
	}
}

// What is added and left out again leaves the very bytes.
func TestAddAndLeaveOut(t *testing.T) {
	d, f := opened(t, "../../demo/sanderling")
	n, g := compiled(t, d, f, model.Act{Do: model.Add, What: []string{"stone"}, Item: "{what: stone, mass: 9 kg, at: [3 m, 0 m, 0.2 m]}"})
	if len(g.Boat.Weights) != len(f.Boat.Weights)+1 {
		t.Fatal("nothing is added")
	}
	back, _ := compiled(t, n, g, model.Act{Do: model.LeaveOut, What: []string{"Stone"}})
	was, _ := d.Text("boat.yaml")
	if now, _ := back.Text("boat.yaml"); now != was || len(back.Changes()) != 0 {
		t.Errorf("%+v", back.Changes())
	}
}

// A month later keeps to the calendar.
//
// Source: the Gregorian calendar
func TestLeaves(t *testing.T) {
	d, f := opened(t, "../../demo/sanderling")
	for _, c := range []struct {
		months, days int
		want         string
	}{{1, 0, "2027-02-12"}, {-1, 0, "2026-12-12"}, {0, 14, "2027-01-26"}, {0, -14, "2026-12-29"}} {
		_, g := compiled(t, d, f, model.Act{Do: model.Leave, Months: c.months, Days: c.days})
		if got := g.Voyage.Leave.Format("2006-01-02"); got != c.want {
			t.Errorf("%+v: %s", c, got)
		}
	}
	last := f.Voyage.Leave.AddDate(0, 0, 19) // 31 January
	if got := later(last, 1, 0).Format("2006-01-02"); got != "2027-02-28" {
		t.Errorf("a month after 31 January: %s", got)
	}
}

// Acts that have nothing to work on say so; one that does nothing is no lever.
func TestActsThatCannotBeMade(t *testing.T) {
	d, f := opened(t, "../../demo/sanderling")
	for _, c := range []struct {
		act  model.Act
		want string
	}{
		{model.Act{Do: model.Shift, What: []string{"hand radio"}}, "is stowed in fore cabin"},
		{model.Act{Do: model.LeaveOut, What: []string{"rower"}}, "one of the crew"},
		{model.Act{Do: model.Shut, What: []string{"aft cabin hatch"}}, "changes nothing"},
		{model.Act{Do: model.Open, What: []string{"door"}}, `no opening is called "door"`},
		{model.Act{Do: model.MoveStores, From: "400", To: "500x"}, "no compartment"},
		{model.Act{Do: model.Raise, Part: "compartment", Name: "300"}, "has no sole"},
		{model.Act{Do: model.Fuller, Start: 40, End: 50, Change: model.MassChange{Share: 0.1}}, "no station"},
	} {
		if _, err := Edits(f, d, []model.Act{c.act}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v", c.act, err)
		}
	}
	own := slices.IndexFunc(f.Levers, func(l model.Lever) bool { return l.Fault != "" })
	if own >= 0 {
		t.Error(f.Levers[own].Fault)
	}
}

// A lever of whatif.yaml sets any value, with the quotation marks that the file needs, and its acts see one another.
func TestSet(t *testing.T) {
	dir := box(t, `levers:
  - name: all
    add: {what: "stone, two", mass: 5 kg, at: [1 m, 0 m, 0.1 m]}
    set:
      - {"boat.yaml: about": "one: two # three"}
      - {"boat.yaml: weights[2].mass": 6 kg}
`)
	d, f := opened(t, dir)
	all := List(f, d)
	if all[0].Fault != "" {
		t.Fatal(all[0].Fault)
	}
	n, faults := d.With(all[0].Edits...)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	g, faults := n.Read()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if g.Boat.About != "one: two # three" || len(g.Boat.Weights) != 3 || g.Boat.Weights[2].What != "stone, two" || g.Boat.Weights[2].Mass.Value != 6 {
		t.Errorf("%+v", g.Boat)
	}
}
