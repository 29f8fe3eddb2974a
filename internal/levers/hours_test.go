package levers

import (
	"math"
	"os"
	"strings"
	"testing"

	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/units"
)

// edited is a copy of a demo with lines of one of its files changed.
func edited(t *testing.T, demo, file string, pairs ...string) (*boatfolder.Draft, *model.Folder) {
	t.Helper()
	dir := copied(t, "../../demo/"+demo)
	data, err := os.ReadFile(dir + "/" + file)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			t.Fatalf("%q is not in %s", pairs[i], file)
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	if err := os.WriteFile(dir+"/"+file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return opened(t, dir)
}

// An hour less is an hour less of each of the crew, and the watches keep their share of it; as many hours more, and it is as it was.
func TestHours(t *testing.T) {
	d, f := edited(t, "sanderling", "voyage.yaml", `"06:00-09:30", "10:30-13:00"`, `"10:30-13:00", "06:00-09:30"`, "hours: 10 h", "hours: 600 min")
	whole := func(f *model.Folder) float64 {
		sum := 0.0
		for _, w := range f.Voyage.Habits.Watches {
			sum += w.To - w.From
		}
		return sum
	}
	less, after := compiled(t, d, f, model.Act{Do: model.MoreHours, Time: units.Duration(-3600)})
	if after.Voyage.Crew[0].Hours != 9*3600 || math.Abs(whole(after)-0.9*whole(f)) > 4./60 {
		t.Errorf("%v and %v, of %v", after.Voyage.Crew[0].Hours, whole(after), whole(f))
	}
	text, _ := less.Text("voyage.yaml")
	if !strings.Contains(text, "hours: 540 min") || !strings.Contains(text, `["10:30-12:45", "06:00-09:09"`) {
		t.Errorf("written as\n%s", text)
	}
	if _, back := compiled(t, less, after, model.Act{Do: model.MoreHours, Time: units.Duration(3600)}); math.Abs(whole(back)-whole(f)) > 4./60 || back.Voyage.Crew[0].Hours != f.Voyage.Crew[0].Hours {
		t.Errorf("back to %v", back.Voyage.Habits.Watches)
	}
	// Two who fill the day between them cannot row more, and are not offered it.
	dd, ff := opened(t, "../../demo/turnstone")
	if _, err := Edits(ff, dd, []model.Act{{Do: model.MoreHours, Time: units.Duration(3600)}}); err == nil {
		t.Error("more than the day has")
	}
	_, after = compiled(t, dd, ff, model.Act{Do: model.MoreHours, Time: units.Duration(-1800)})
	if c := after.Voyage.Crew; c[0].Hours != 10.5*3600 || c[1].Hours != 10.5*3600 {
		t.Errorf("%v and %v", c[0].Hours, c[1].Hours)
	}
	var names []string
	for _, l := range List(ff, dd) {
		names = append(names, l.Name)
	}
	all := strings.Join(names, "\n")
	for word, want := range map[string]bool{"an hour less at the oars": true, "an hour more at the oars": false, "leave a month later": true, "leave a month earlier": true,
		"a week more of food": true, "more ballast": true, "one more": false} {
		if strings.Contains(all, word) != want {
			t.Errorf("%q among the levers offered: %v", word, !want)
		}
	}
}

// Energy and water go with the mass where part of a thing is taken, and another of a weight holds what that one holds. Source: sums.
func TestContentsGoWithMass(t *testing.T) {
	sums := func(f *model.Folder) (energy, soaks, mass float64) {
		for _, s := range f.Stores {
			n := float64(max(1, s.Count))
			energy, soaks, mass = energy+n*float64(s.Energy), soaks+n*float64(s.Soaks), mass+n*float64(s.Mass.Value)
		}
		return energy, soaks, mass
	}
	d, f := edited(t, "sanderling", "stores.csv", "day bags 1-10 port,5,1.15 kg", "day bags 1-10 port,1,5.75 kg", "food,fuel,yes,,,,,,4550 kcal,1.4 L", "food,fuel,yes,,,,,,22750 kcal,7.0 L")
	e, w, m := sums(f)
	_, after := compiled(t, d, f, model.Act{Do: model.MoveStores, From: "202", To: "402", Change: model.MassChange{Mass: 8}})
	if e2, w2, m2 := sums(after); math.Abs(e2-e) > 1e-3*e || math.Abs(w2-w) > 1e-3*w || math.Abs(m2-m) > 0.02 {
		t.Errorf("moved: %v J, %v m3, %v kg of %v, %v, %v", e2, w2, m2, e, w, m)
	}
	// Ten days more of food hold ten days more of energy.
	d, f = opened(t, "../../demo/sanderling")
	e, _, _ = sums(f)
	_, after = compiled(t, d, f, model.Act{Do: model.Food, Days: 10})
	const day = (4550 + 550) * 4184.0
	if e2, _, _ := sums(after); math.Abs(e2-e-10*day) > 0.01*10*day {
		t.Errorf("ten days more hold %v J more, of %v a day", e2-e, day)
	}
	// Ballast water that is poured off is not drunk any more.
	_, after = compiled(t, d, f, model.Act{Do: model.MoreBallast, Change: model.MassChange{Share: -0.45, ByShare: true}})
	for i, w := range after.Boat.Weights {
		was := f.Boat.Weights[i]
		if w.Drink == 0 {
			continue
		}
		if got, want := float64(w.Drink)*float64(w.Count), 0.55*float64(was.Drink)*float64(was.Count); math.Abs(got-want) > 2e-3*want {
			t.Errorf("%s: %v m3 left, want %v", w.What, got, want)
		}
	}
	_, after = compiled(t, d, f, model.Act{Do: model.Another, What: []string{"water jugs of 10 L"}})
	found := 0
	for _, w := range after.Boat.Weights {
		if w.What == "water jugs of 10 L" && math.Abs(float64(w.Drink)-0.01) < 1e-12 {
			found++
		}
	}
	if found != 2 {
		t.Errorf("%d lots of jugs that hold water", found)
	}
}
