package feed

import (
	"context"
	"encoding/json"
	"math"
	"strings"
	"sync"
	"testing"
	"time"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/provisions"
	"thole/internal/sustenance"
	"thole/internal/units"
)

// check is one number against where it comes from.
type check struct {
	name   string
	got    float64
	low    float64
	high   float64
	source string
}

func run(t *testing.T, rows []check) {
	t.Helper()
	for _, r := range rows {
		if !(r.got >= r.low && r.got <= r.high) {
			t.Errorf("%s: got %.6g, want %.6g to %.6g (%s)", r.name, r.got, r.low, r.high, r.source)
		}
	}
}

var demos = []string{"sanderling", "turnstone"}

func folder(t testing.TB, name string) *model.Folder {
	t.Helper()
	f, faults := boatfolder.Read("../../../demo/" + name)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return f
}

// stay is a folder without a date, so that no passages are made and only the stores count.
func stay(t testing.TB, name string) *model.Folder {
	f := folder(t, name)
	v := *f.Voyage
	f.Voyage = &v
	v.Leave = time.Time{}
	return f
}

func asked(t testing.TB, f *model.Folder, o answer.Options) answer.Answer {
	t.Helper()
	a, err := Ask(context.Background(), answer.NewCase(f), o)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// full are the demo boats asked in full, once for all tests.
var full = struct {
	sync.Mutex
	of map[string]answer.Answer
}{of: map[string]answer.Answer{}}

func inFull(t testing.TB, name string) (answer.Answer, Figures) {
	t.Helper()
	full.Lock()
	defer full.Unlock()
	a, ok := full.of[name]
	if !ok {
		a = asked(t, folder(t, name), answer.Options{})
		full.of[name] = a
	}
	f, ok := a.Figures.(Figures)
	if !ok {
		t.Fatalf("%s: %s", name, a.Sentence)
	}
	return a, f
}

// TestDemosArePlausible: what is spent, eaten, lost and drunk on the demo boats lies within what was published of ocean rowers.
func TestDemosArePlausible(t *testing.T) {
	const (
		spent  = "49 Atlantic rowers: 2.5, deviation 1.0 (men) and 2.3, 0.4 (women) resting rates; two men round Britain 15.3 MJ (Reid et al. 2017); these row fewer hours, 10 and 11 against 12 to 18, not every day"
		lost   = "the same 49 lost 10.2, deviation 3.1 (men) and 10.0, 3.0 per cent (women) in 46 days; between nothing and two deviations over, their range with the spread told"
		tables = "10 h at 5.8 MET comes out 40 to 70 per cent above what was measured (2011 Compendium; checked beside a resting rate of 1755 kcal); 80 per cent for a small woman"
		water  = "no less than the food and drink of a day ashore, EFSA 2.0 to 2.5 L; no more than trainers' 10 L"
	)
	if testing.Short() {
		t.Skip("whole boats in full; TestOffers has one; left out with -short")
	}
	for _, name := range demos {
		_, f := inFull(t, name)
		mid := f.Days[min(len(f.Days), int(f.Arrival.Median/2))]
		for i, r := range f.Rowers {
			who := name + ", " + r.Name + ": "
			rest := r.Resting * sustenance.Day / mega
			run(t, []check{
				{who + "spent over resting", mid.Spent[i] / rest, 1.7, 2.6, spent},
				{who + "eaten over resting", mid.Eaten[i] / rest, 1.5, 2.6, "intake of the same 49: 2.5, deviation 0.5, and 2.3, 0.4"},
				{who + "eaten of what is packed", mid.Eaten[i] / mid.Offered[i], 0.5, 0.95, "Reid et al. 2017: 19.1 MJ packed, and so much eaten as to lose a kilogram in four days; crews bring food home"},
				{who + "lost in the middle case", r.Lost, -0.05, 0.10 + 2*0.031, lost},
				{who + "tables over measured", r.OverTable, 1.3, 1.8, tables},
			})
		}
		people := float64(len(f.Rowers))
		run(t, []check{
			{name + ": water a day each", mid.Water / people, 2, 10, water},
			{name + ": most water a day each", (mid.Water + mid.WaterSpread) / people, 3, 12, "a crew's diary has 8 L; race advice 10"},
			{name + ": into food each", mid.ForFood / people, 0.3, 1.5, "one litre of the diary's eight is in food; dried food needs 1 to 1.5 L a day (crews' pages)"},
		})
	}
}

// TestConserved: on every day the food left and what is gone make what was packed, and the water drunk was made, pumped or drawn.
//
// Source: conservation of mass and energy
func TestConserved(t *testing.T) {
	for _, name := range demos {
		f := folder(t, name)
		c := answer.NewCase(f)
		trip, err := c.Trip()
		if err != nil {
			t.Fatal(err)
		}
		p, err := provisions.Of(trip, nil)
		if err != nil {
			t.Fatal(err)
		}
		p.Plan.Stock.Drinking = 40
		l, err := p.Plan.Ledger()
		if err != nil {
			t.Fatal(err)
		}
		packed := 0.0
		for _, s := range f.Stores {
			if s.Use.Last > 0 {
				packed += float64(s.Energy) * float64(max(1, s.Count))
			}
		}
		gone, drawn, left := 0.0, 40.0, 40.0
		for _, d := range l.Days {
			gone += d.FoodGone.Value
			if math.Abs(d.FoodLeft.Value+gone-packed) > 1e-6*packed {
				t.Fatalf("%s, day %d: %g left and %g gone of %g", name, d.Day+1, d.FoodLeft.Value, gone, packed)
			}
			drawn = left + d.Made.Value + d.ByHand.Value + d.Missing.Value - d.Water.Value
			if left = d.DrinkingLeft.Value; math.Abs(left-drawn) > 1e-9*40 {
				t.Fatalf("%s, day %d: %g kg left, %g by what came and went", name, d.Day+1, left, drawn)
			}
		}
	}
}

// TestFollows: more food lasts longer, a makers' loss is felt, a hungrier crew has less, and a cut day's bag lasts.
//
// Source: property; without a date, so that only the stores move
func TestFollows(t *testing.T) {
	base := asked(t, stay(t, "sanderling"), answer.Options{Bare: true})
	if base.Margin == nil || base.Margin.Asked != 0 {
		t.Fatalf("%+v", base)
	}
	margin := func(change func(f *model.Folder) *model.Folder) float64 {
		a := asked(t, change(stay(t, "sanderling")), answer.Options{Bare: true})
		if a.Margin == nil {
			t.Fatal(a.Sentence)
		}
		return a.Margin.Value
	}
	if m := margin(func(f *model.Folder) *model.Folder { return provisions.More(f, 10) }); m < base.Margin.Value+9 || m > base.Margin.Value+16 {
		t.Errorf("ten more days of food: %.1f days, was %.1f; 10 and the leftovers of ten days", m, base.Margin.Value)
	}
	dry := func(f *model.Folder) *model.Folder {
		f.Boat.Makers = nil
		f.Boat.Weights[0].Drink = 0.05
		return f
	}
	if m := margin(dry); m > -60 {
		t.Errorf("50 L and no maker for 80 days: %.1f days", m)
	}
	if m := margin(func(f *model.Folder) *model.Folder { f.Voyage.Crew[0].Eats.Value = 1; return f }); m > base.Margin.Value-5 || m < -1 {
		t.Errorf("all of the bags eaten: %.1f days, was %.1f; at least the calendar's", m, base.Margin.Value)
	}
	if m := margin(func(f *model.Folder) *model.Folder { f.Voyage.Days = 60; return f }); math.Abs(m-base.Margin.Value-20) > 0.01 {
		t.Errorf("20 days fewer to go: %.2f days, was %.2f", m, base.Margin.Value)
	}
}

// TestCannotTell: what is missing is named, in the smallest folder too.
func TestCannotTell(t *testing.T) {
	f := folder(t, "sanderling")
	f.Voyage, f.Stores = nil, nil
	a := asked(t, f, answer.Options{})
	if a.Verdict != answer.CannotTell || len(a.Needs) == 0 || a.Needs[0].File != "voyage.yaml" {
		t.Errorf("%+v", a)
	}
	f = folder(t, "turnstone")
	for i := range f.Stores {
		f.Stores[i].Energy = 0
	}
	if a = asked(t, f, answer.Options{}); a.Verdict != answer.CannotTell || a.Needs[0].Key != "energy" || !strings.Contains(a.Needs[0].Why, "kcal") {
		t.Errorf("%+v", a)
	}
}

// TestWithoutADate: the planned days stand for the passages, which is said and listed.
func TestWithoutADate(t *testing.T) {
	a := asked(t, stay(t, "turnstone"), answer.Options{})
	listed := false
	for _, w := range a.Assumptions {
		listed = listed || w.What == "days of the passage" && w.File == "voyage.yaml: days"
	}
	if !listed || !strings.Contains(a.Sentence, "day 95") || a.Margin == nil {
		t.Errorf("%s %+v", a.Sentence, a.Assumptions)
	}
}

// TestAgrees: sentence, verdict, margin and figures say the same, and so does the ladder.
//
// Source: property
func TestAgrees(t *testing.T) {
	for i, name := range demos {
		if testing.Short() && i > 0 {
			continue // as above
		}
		a, f := inFull(t, name)
		least := math.Min(f.Food.Lasts, f.Water.Lasts)
		if math.Abs(a.Margin.Value-(least-f.Arrival.Median)) > 1e-9 || math.Abs(a.Margin.Asked-(f.Arrival.Twentieth-f.Arrival.Median)) > 1e-9 || a.Margin.Judge() != a.Verdict {
			t.Errorf("%s: margin %+v of %+v", name, *a.Margin, f.Arrival)
		}
		if a.Margin.Confidence != math.Min(f.Food.Chance, f.Water.Chance) {
			t.Errorf("%s: %+v", name, *a.Margin)
		}
		if f.Ten == nil || f.Ten.Lasts < f.Ten.Was+9 || f.Ten.Speed > f.Ten.SpeedWas || f.Ten.Mass < 10 {
			t.Errorf("%s: ten more days: %+v", name, f.Ten)
		}
		for i, row := range f.Ladder {
			for k, s := range row.Shares {
				if s.Share <= 0 || s.Share >= 1 || k > 0 && s.Share > row.Shares[k-1].Share || i > 0 && s.Share >= f.Ladder[i-1].Shares[k].Share {
					t.Errorf("%s: the later, and the longer it must last, the more must be cut: %+v", name, f.Ladder)
				}
			}
			for k, l := range row.Latest {
				if k > 0 && l.Day < row.Latest[k-1].Day || i > 0 && l.Day > f.Ladder[i-1].Latest[k].Day {
					t.Errorf("%s: a smaller bag may wait longer: %+v", name, f.Ladder)
				}
			}
		}
		if len(f.Ladder) == 0 || len(f.Cuts) == 0 || len(f.Failures) < 4 {
			t.Errorf("%s: nothing on cuts or failures", name)
		}
		for _, c := range f.Cuts {
			if c.Lasts < float64(c.Until)-0.5 || c.From < c.Decided {
				t.Errorf("%s: a cut that does not do: %+v", name, c)
			}
		}
		if _, err := json.Marshal(a); err != nil {
			t.Error(err)
		}
	}
}

// TestHostile: figures that nobody has are told or refused in words; no number that is not one comes out.
func TestHostile(t *testing.T) {
	if testing.Short() {
		t.Skip("nine folders in full; nothing in them runs at once")
	}
	base := answer.NewCase(stay(t, "turnstone"))
	if _, err := base.Trip(); err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(f *model.Folder){
		"a crumb":              func(f *model.Folder) { everyEnergy(f, 1) },
		"a mountain":           func(f *model.Folder) { everyEnergy(f, 9e7) },
		"a thousand days":      func(f *model.Folder) { f.Voyage.Days = 1000 },
		"one day":              func(f *model.Folder) { f.Voyage.Days = 1 },
		"no days":              func(f *model.Folder) { f.Voyage.Days = 0 },
		"a giant":              func(f *model.Folder) { f.Voyage.Crew[0].Mass.Value = 3000 },
		"a maker of nothing":   func(f *model.Folder) { f.Boat.Makers = []model.WaterMaker{{AnHour: 1e-9, Hours: 60}} },
		"a maker that stops":   func(f *model.Folder) { f.Boat.Makers[0].Until = 30 },
		"one that starts late": func(f *model.Folder) { f.Boat.Makers[0].From, f.Boat.Makers[0].Until = 500, 20 },
	} {
		f := stay(t, "turnstone")
		f.Boat.Makers = append([]model.WaterMaker(nil), f.Boat.Makers...)
		change(f)
		// The sheet of a thousand days is the same sheet, and righting on each of them takes its time.
		a, err := Ask(context.Background(), answer.NewCaseFrom(f, base), answer.Options{Day: 1, Brief: f.Voyage.Days == 1000 || name == "a giant"})
		if err != nil {
			t.Fatal(err)
		}
		if a.Sentence == "" || a.Verdict == "" || a.Margin == nil && len(a.Needs) == 0 {
			t.Errorf("%s: %+v", name, a)
		}
		for _, v := range []any{a, a.Sheet} {
			if _, err := json.Marshal(v); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

func everyEnergy(f *model.Folder, joules float64) {
	for i := range f.Stores {
		if f.Stores[i].Energy > 0 {
			f.Stores[i].Energy = units.Energy(joules)
		}
	}
}
