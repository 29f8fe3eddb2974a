package spare

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
)

// A box of a boat with a cabin's hatch, three lockers and two people.
const (
	boxBoat = `boat: Box
hull: {offsets: offsets.csv}
cabins:
  - {name: den, offsets: den.csv}
compartments:
  - {number: 1, name: fore locker, from: 0.1 m, to: 1 m}
  - {number: 2, name: port locker, from: 2 m, to: 3 m, side: port}
  - {number: 3, name: starboard locker, from: 2 m, to: 3 m, side: starboard}
  - {number: 4, name: den, from: 4 m, to: 5 m, sole: 0.3 m, in: den}
  - {number: 5, name: under the den, from: 4 m, to: 5 m, top: 0.3 m}
openings:
  - {name: hatch, at: [2.5 m, -0.3 m, 0.8 m], size: [200 mm, 200 mm], into: port locker, closed: yes}
weights:
  - {what: hull, mass: 300 kg, at: [3 m, 0 m, 0.3 m]}
  - {what: rudder blade, mass: 4 kg, at: [5.9 m, 0 m, 0.3 m], dry: no, provides: [rudder]}
  - {what: cells, mass: 12 kg, in: under the den, provides: [battery]}
`
	boxOffsets = "station,distance_mm,height_mm,halfbreadth_mm\n0,0,0,0\n0,0,0,750\n0,0,800,750\n1,6000,0,0\n1,6000,0,750\n1,6000,800,750\n"
	boxDen     = "station,distance_mm,height_mm,halfbreadth_mm\n0,4000,700,0\n0,4000,700,400\n0,4000,1200,400\n0,4000,1200,0\n1,5000,700,0\n1,5000,700,400\n1,5000,1200,400\n1,5000,1200,0\n"
	boxVoyage  = "leave: 2027-01-10\ndays: 20\ncrew:\n  - {name: Ann, mass: 70 kg, places: {inside: {in: den}}}\n  - {name: Bob, mass: 80 kg, places: {inside: {in: den}}}\n"
	boxStores  = `what,count,mass,where,used,provides,needs,dry,expires,inspect
oars,2,3 kg,port locker,,oars,,no,,
spare oars,2,3 kg,starboard locker,,oars,,no,,
lamp,1,1 kg,fore locker,,light,battery,,,
torch,1,1 kg,port locker,,light,,yes,2027-01-20,
bread,1,5 kg,starboard locker,days 1-10,eat,,,,
beans,2,5 kg,fore locker,days 1-20,eat,,,,2027-01-05
windlass,1,5 kg,fore locker,,haul,crew of two,no,,
raft,1,20 kg,1.5 m; 0 m; 0.9 m,,raft,,no,2027-03-01,
`
	boxNeeds = `functions:
  - {name: stay alive, rank: 5, any of: [dry den, raft]}
  - {name: steer, rank: 4, any of: [rudder, scull]}
  - {name: scull, all of: [oars, crew]}
  - {name: row, rank: 3, of: 2, from: [oars]}
  - {name: light, rank: 2}
  - {name: eat, rank: 4}
  - {name: haul, rank: 1}
  - {name: fly, rank: 1, any of: [wings]}
checklist:
  - {what: seals, by: 2027-01-20, done: no}
  - {what: beacon, by: 2027-01-01, done: yes}
`
)

func folder(t *testing.T, change map[string]string) *model.Folder {
	t.Helper()
	dir := t.TempDir()
	files := map[string]string{"boat.yaml": boxBoat, "offsets.csv": boxOffsets, "den.csv": boxDen, "voyage.yaml": boxVoyage, "stores.csv": boxStores, "needs.yaml": boxNeeds}
	for name, text := range change {
		files[name] = text
	}
	for name, text := range files {
		if text == "" {
			continue
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	f, faults := boatfolder.Read(dir)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return f
}

func ask1(t *testing.T, f *model.Folder) (answer.Answer, Figures) {
	t.Helper()
	a, err := Question.Ask(context.Background(), answer.NewCase(f), answer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	fig, _ := a.Figures.(Figures)
	return a, fig
}

// said are the single losses as: function by loss, days.
func said(f Figures) []string {
	var out []string
	for _, s := range f.Singles {
		out = append(out, fmt.Sprintf("%s: %s %v", s.Function, s.Loss.What, s.Days))
	}
	slices.Sort(out)
	return out
}

// TestBoxSingles: the single losses of a small folder.
//
// Source: by hand. Four oars of which two are needed: no single ends rowing, and of pairs the two that
// flood both lockers do not, since water does an oar no harm. The lamp is in 1 and needs the cells in 5; the torch in 2. Bread is gone
// on the last day, and so is one of the beans' two pieces: then the beans' last piece, and locker 1, end eating. The windlass takes both hands.
func TestBoxSingles(t *testing.T) {
	a, f := ask1(t, folder(t, nil))
	want := []string{
		"eat: 1 fore locker floods [19]", "eat: beans fails [19]",
		"haul: Ann is hurt [0 19]", "haul: Bob is hurt [0 19]", "haul: windlass fails [0 19]",
	}
	got := said(f)
	for i := range got {
		got[i] = strings.Replace(got[i], "one of beans", "beans", 1)
	}
	if !slices.Equal(got, want) {
		t.Errorf("singles\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	var pairs []string
	for _, p := range f.Pairs {
		if p.Rank == 2 || p.Rank == 5 {
			pairs = append(pairs, fmt.Sprintf("%s: %s and %s", p.Ends[0], p.Losses[0].What, p.Losses[1].What))
		}
	}
	slices.Sort(pairs)
	// Light: lamp, fore locker, cells, battery, the den (which takes the locker under it) or that locker, each with the torch or the port locker.
	if len(pairs) != 1+12 || pairs[12] != "stay alive: den floods and raft fails" {
		t.Errorf("pairs: %q", pairs)
	}
	if a.Verdict != answer.Close || a.Margin.Value != 1 || a.Margin.Confidence != 1 {
		t.Errorf("%s: %+v", a.Sentence, a.Margin)
	}
	if len(f.Lacks) != 1 || f.Lacks[0].Name != "wings" || f.Functions[len(f.Functions)-1].Least != 0 {
		t.Errorf("nothing provides %+v; %+v", f.Lacks, f.Functions)
	}
}

// TestSpareTakesOneAway: the mend found for a single loss, written into the folder, takes it away. Source: the folder asked anew.
func TestSpareTakesOneAway(t *testing.T) {
	_, f := ask1(t, folder(t, nil))
	for _, s := range f.Singles {
		if s.Loss.Kind == "person" {
			if s.Mend != nil {
				t.Errorf("%+v is mended by %+v", s, *s.Mend)
			}
			continue
		}
		if s.Mend == nil || s.Mend.Adds > 0 || s.Mend.Said() == "" {
			t.Errorf("%+v has no mend: %+v", s, s.Mend)
		}
	}
	i := slices.IndexFunc(f.Singles, func(s Single) bool { return s.Loss.What == "windlass fails" })
	if m := f.Singles[i].Mend; m.Do != "spare" || m.Mass != 5 || m.To != "" {
		t.Errorf("the windlass: %+v", *m)
	}
	_, f = ask1(t, folder(t, map[string]string{"stores.csv": boxStores + "second windlass,1,5 kg,fore locker,,haul,crew of two,no,,\n"}))
	if got := said(f); slices.ContainsFunc(got, func(s string) bool { return strings.Contains(s, "windlass") }) {
		t.Errorf("with a spare: %q", got)
	}
}

// TestBatteryApart: the battery is lost with all its pieces, but for one that is wired apart; and a spare wired to the others is no mend.
// Source: by hand. Of the lamp alone provides light, the cells and their spare both fail when the battery is lost.
func TestBatteryApart(t *testing.T) {
	one := strings.Replace(boxStores, "torch,1,1 kg,port locker,,light", "torch,1,1 kg,port locker,,glow", 1)
	lost := func(stores string) (bool, Figures) {
		_, f := ask1(t, folder(t, map[string]string{"stores.csv": stores}))
		return slices.ContainsFunc(said(f), func(s string) bool { return s == "light: the battery is lost [0 19]" }), f
	}
	is, f := lost(one)
	i := slices.IndexFunc(f.Singles, func(s Single) bool { return s.Loss.Kind == "battery" })
	if !is || f.Singles[i].Mend == nil || f.Singles[i].Mend.Do != "another battery" {
		t.Errorf("%q", said(f))
	}
	if is, f = lost(one + "spare cells,1,12 kg,fore locker,,battery,,,,\n"); !is {
		t.Errorf("with a spare on the same wires: %q", said(f))
	}
	if is, f = lost(one + "spare cells,1,12 kg,fore locker,,battery apart,,,,\n"); is {
		t.Errorf("with one wired apart: %q", said(f))
	}
}

// TestBothInOne: with every oar in one locker, and oars that water spoils, that locker is a single loss, and a move takes it away.
// Source: by hand
func TestBothInOne(t *testing.T) {
	stores := strings.ReplaceAll(strings.ReplaceAll(boxStores, "oars,,no", "oars,,yes"), "starboard locker,,oars", "port locker,,oars")
	needs := strings.Replace(boxNeeds, "of: 2, from: [oars]", "any of: [oars]", 1)
	a, f := ask1(t, folder(t, map[string]string{"stores.csv": stores, "needs.yaml": needs}))
	i := slices.IndexFunc(f.Singles, func(s Single) bool { return s.Function == "row" })
	if i < 0 || f.Singles[i].Loss.What != "2 port locker floods" || f.Singles[i].Mend == nil || f.Singles[i].Mend.Do != "move" || f.Singles[i].Mend.Mass != 0 {
		t.Fatalf("%s; %q", a.Sentence, said(f))
	}
	// The rank decides the verdict: of the highest rank written, one single loss is a no.
	a, _ = ask1(t, folder(t, map[string]string{"stores.csv": stores, "needs.yaml": strings.Replace(needs, "row, rank: 3", "row, rank: 5", 1)}))
	if a.Verdict != answer.No || a.Margin.Value != 0 || a.Margin.Confidence != 0 || !strings.Contains(a.Sentence, "port locker floods") {
		t.Errorf("%s: %s %+v", a.Verdict, a.Sentence, a.Margin)
	}
	a, _ = ask1(t, folder(t, map[string]string{"needs.yaml": "functions:\n  - {name: fly, rank: 5, any of: [wings]}\n"}))
	if a.Verdict != answer.No || a.Margin.Value != -1 {
		t.Errorf("%s: %s %+v", a.Verdict, a.Sentence, a.Margin)
	}
}

// TestDates: leaving on 10 January for 20 days. Source: the calendar
func TestDates(t *testing.T) {
	a, f := ask1(t, folder(t, nil))
	want := map[string]string{
		"torch expires": "on day 10 at sea", "beans inspect": "5 days before leaving", "raft expires": "30 days after the last day",
	}
	for _, d := range f.Dates {
		if k := d.What + " " + d.Kind; want[k] != d.Standing || d.Spoils != (d.What == "torch") {
			t.Errorf("%s: %+v", k, d)
		}
	}
	if len(f.Dates) != len(want) || f.Dates[0].What != "torch" {
		t.Errorf("%+v", f.Dates)
	}
	if len(f.Check) != 2 || f.Check[0].What != "seals" || !f.Check[0].Late || f.Check[1].Late {
		t.Errorf("checklist %+v", f.Check)
	}
	// What is to be looked at on a day at sea is told before what is not.
	_, f = ask1(t, folder(t, map[string]string{"stores.csv": strings.Replace(boxStores, "2027-01-05", "2027-01-15", 1)}))
	if d := f.Dates[1]; d.What != "beans" || !d.Due || d.Spoils || d.Standing != "on day 5 at sea" {
		t.Errorf("%+v", f.Dates)
	}
	// A raft out of date at sea is told: a function of rank 5 rests on it.
	a, _ = ask1(t, folder(t, map[string]string{"stores.csv": strings.Replace(boxStores, "2027-03-01", "2027-01-09", 1)}))
	if a.Verdict != answer.Close || !strings.Contains(a.Sentence, "raft") || !strings.Contains(a.Sentence, "1 day before leaving") {
		t.Error(a.Sentence)
	}
	a, f = ask1(t, folder(t, map[string]string{"voyage.yaml": ""}))
	if slices.ContainsFunc(f.Dates, func(d Date) bool { return d.Spoils }) || a.Verdict == answer.CannotTell {
		t.Errorf("with no voyage: %s %+v", a.Sentence, f.Dates)
	}
}

// TestHostile: nothing that the reader lets through stops it.
func TestHostile(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	many := boxStores
	for i := range 3000 {
		many += fmt.Sprintf("thing %d,9,1 kg,%d,,light; eat,oars; battery,,,\n", i, 1+i%5)
	}
	round := boxStores + "a,1,1 kg,1,,a1,b1,,,\nb,1,1 kg,1,,b1,a1,,,\n"
	for name, change := range map[string]map[string]string{
		"no needs.yaml":           {"needs.yaml": ""},
		"no function":             {"needs.yaml": "checklist: []\n"},
		"no rank":                 {"needs.yaml": "functions: [{name: a}]\n"},
		"no crew":                 {"voyage.yaml": ""},
		"things that need round":  {"stores.csv": round, "needs.yaml": boxNeeds[:strings.Index(boxNeeds, "checklist")] + "  - {name: z, rank: 1, any of: [a1]}\n"},
		"a function and its part": {"needs.yaml": "functions: [{name: oars, rank: 5, all of: [spare oars]}, {name: torch, rank: 1, of: 2, from: [oars, battery, calm, crew of two, dry cabin]}]\n"},
		"thousands":               {"stores.csv": many},
		"too many to count":       {"stores.csv": boxStores + "beads,100000,1 g,1,,oars,,,,\n"},
		"a battery on itself":     {"stores.csv": boxStores + "charger,1,1 kg,1,,battery,battery,,,\n"},
	} {
		t.Run(name, func(t *testing.T) {
			a, _ := ask1(t, folder(t, change))
			if a.Sentence == "" || (a.Margin == nil) != (a.Verdict == answer.CannotTell) || a.Verdict == answer.CannotTell && (len(a.Needs) == 0 || a.Needs[0].Why == "") {
				t.Errorf("%+v", a)
			}
			if _, err := json.Marshal(a); err != nil {
				t.Error(err)
			}
		})
	}
}
