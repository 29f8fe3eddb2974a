package provisions

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"thole/internal/afloat"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/sustenance"
	"thole/internal/units"
)

// check is one number against where it comes from.
type check struct {
	name   string
	got    float64
	want   float64
	tol    float64
	source string
}

func run(t *testing.T, rows []check) {
	t.Helper()
	for _, r := range rows {
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s: got %.9g, want %.9g within %g (%s)", r.name, r.got, r.want, r.tol, r.source)
		}
	}
}

var demos = []string{"sanderling", "turnstone"}

func demo(t testing.TB, name string) *model.Folder {
	t.Helper()
	f, faults := boatfolder.Read("../../demo/" + name)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return f
}

func of(t testing.TB, f *model.Folder) *Provisions {
	t.Helper()
	p, err := Of(&afloat.Trip{Folder: f}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// two is a folder of two people with bags of two sizes, a reserve, ballast water and a maker.
func two() *model.Folder {
	f := &model.Folder{Voyage: &model.Voyage{Days: 30}}
	for _, n := range []string{"a", "b"} {
		f.Voyage.Crew = append(f.Voyage.Crew, model.Person{Name: n, Mass: model.Mass{Value: 75}})
	}
	f.Stores = []model.Store{
		{What: "full bags", Count: 20, Mass: model.Mass{Value: 2}, Energy: 40e6, Soaks: 0.002, Use: model.Use{First: 1, Last: 20}},
		{What: "short bags", Count: 5, Mass: model.Mass{Value: 3}, Energy: 60e6, Soaks: 0.003, Use: model.Use{First: 21, Last: 30}},
		{What: "wet rations", Count: 10, Mass: model.Mass{Value: 0.5}, Energy: 3e6, Kept: model.KeptReserve},
		{What: "pouches", Count: 20, Mass: model.Mass{Value: 0.5}, Drink: 0.0005, Kept: model.KeptReserve},
		{What: "jug", Mass: model.Mass{Value: 10}, Drink: 0.01},
	}
	f.Boat.Weights = []model.Weight{{What: "ballast jugs", Count: 6, Mass: model.Mass{Value: 10}, Ballast: true, Drink: 0.01}}
	f.Boat.Makers = []model.WaterMaker{{Name: "desalinator", AnHour: 0.005, Spread: 0.001, Hours: 7200, Draws: 50, From: 3, Until: 12}}
	return f
}

// TestByHand: bags, kinds of water and makers of a small folder, by hand.
func TestByHand(t *testing.T) {
	p := of(t, two())
	if len(p.Lacks) > 0 || len(p.Plan.Rations) != 2 || len(p.Plan.Makers) != 1 {
		t.Fatalf("%+v", p)
	}
	full, short, m := p.Plan.Rations[0], p.Plan.Rations[1], p.Plan.Makers[0]
	run(t, []check{
		{"days of full bags", float64(full.Days), 20, 0, "the calendar's days 1 to 20"},
		{"a full bag for one", full.Energy, 20e6, 1, "40 MJ for two"},
		{"its mass", full.Mass, 1, 1e-9, "2 kg for two"},
		{"its water", full.Water, 1, 1e-9, "2 L for two"},
		{"days of short bags", float64(short.Days), 10, 0, "days 21 to 30"},
		{"a short bag for one", short.Energy, 15e6, 1, "5 x 60 MJ over 10 days for two"},
		{"emergency food", p.Plan.Spare, 30e6, 1, "10 x 3 MJ"},
		{"drinking", p.Plan.Stock.Drinking, 10, 1e-9, "one jug of 10 L"},
		{"reserve", p.Plan.Stock.Reserve, 10, 1e-9, "20 x 0.5 L"},
		{"ballast", p.Plan.Stock.Ballast, 60, 1e-9, "6 x 10 L, ballast since the weight is"},
		{"made an hour", m.PerHour.Value, 5, 1e-9, "5 L of water, 1000 kg/m3"},
		{"energy for a kilogram", m.Energy, 36e3, 1e-6, "50 W for 3600 s over 5 kg"},
		{"first day of it", float64(m.From), 2, 0, "the third day, the first being 0 in the ledger"},
		{"day it stops", float64(m.Breaks), 11, 0, "the twelfth"},
		{"days of the passage", float64(p.Plan.Days), 30, 0, "voyage.yaml"},
	})
}

// TestConserved: whatever the rows, the bags hold what the calendar holds, and nobody's plan is not a number.
//
// Source: conservation
func TestConserved(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		f := two()
		f.Stores = nil
		used, kept := 0.0, 0.0
		for range rapid.IntRange(1, 6).Draw(rt, "rows") {
			s := model.Store{What: "food", Count: rapid.IntRange(0, 50).Draw(rt, "count"), Mass: model.Mass{Value: units.Mass(rapid.Float64Range(0, 5).Draw(rt, "mass"))},
				Energy: units.Energy(rapid.SampledFrom([]float64{0, 1, 1e6, 2e7}).Draw(rt, "energy")), Soaks: units.Volume(rapid.Float64Range(0, 0.003).Draw(rt, "soaks"))}
			if rapid.Bool().Draw(rt, "eaten") {
				s.Use.First = rapid.IntRange(1, 60).Draw(rt, "first")
				s.Use.Last = s.Use.First + rapid.IntRange(0, 60).Draw(rt, "days")
			}
			if rapid.Bool().Draw(rt, "apart") {
				s.Kept = model.KeptReserve
			}
			e := float64(s.Energy) * float64(max(1, s.Count))
			if s.Use.Last > 0 && s.Kept == "" {
				used += e
			} else {
				kept += e
			}
			f.Stores = append(f.Stores, s)
		}
		p, err := Of(&afloat.Trip{Folder: f}, nil)
		if err != nil {
			rt.Skip("more than anybody can eat") // bags past what the ledger takes are an error, said plainly
		}
		if len(p.Lacks) > 0 {
			if used > 0 {
				rt.Fatalf("there is food, and %+v", p.Lacks)
			}
			return
		}
		each, _ := p.Plan.Rations.Total()
		if math.Abs(2*each-used) > 1e-9*used || math.Abs(p.Plan.Spare-kept) > 1e-9*kept {
			rt.Fatalf("bags %g and spare %g, the rows %g and %g", 2*each, p.Plan.Spare, used, kept)
		}
		lasts, err := p.Plan.Lasts()
		if err != nil || math.IsNaN(lasts.Food.Value+lasts.Food.Spread+lasts.Water.Value+lasts.Water.Spread) {
			rt.Fatalf("%+v, %v", lasts, err)
		}
	})
}

// TestLacks: what nothing sensible can be taken for is asked for, by file and key.
func TestLacks(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(f *model.Folder)
		want   string
	}{
		{"no voyage", func(f *model.Folder) { f.Voyage = nil }, "voyage.yaml: crew"},
		{"nobody", func(f *model.Folder) { f.Voyage.Crew = nil }, "voyage.yaml: crew"},
		{"a body without mass", func(f *model.Folder) { f.Voyage.Crew[1].Mass.Value = 0 }, "voyage.yaml: crew[1].mass"},
		{"no energy", func(f *model.Folder) {
			for i := range f.Stores {
				f.Stores[i].Energy = 0
			}
		}, "stores.csv: energy"},
		{"nothing eaten", func(f *model.Folder) { f.Stores[0].Use, f.Stores[1].Use = model.Use{}, model.Use{} }, "stores.csv: used"},
		{"no water", func(f *model.Folder) { f.Stores, f.Boat.Weights, f.Boat.Makers = f.Stores[:3], nil, nil }, "boat.yaml: water makers"},
	} {
		f := two()
		c.change(f)
		p := of(t, f)
		if len(p.Lacks) == 0 || p.Lacks[0].File+": "+p.Lacks[0].Key != c.want || p.Lacks[0].Why == "" {
			t.Errorf("%s: %+v, want %s", c.name, p.Lacks, c.want)
		}
	}
}

// TestAssumed: what two says nothing of is listed with its file and key; the demo boats say it, and it is not.
func TestAssumed(t *testing.T) {
	said := func(p *Provisions) string {
		var all []string
		for _, a := range p.Assumed {
			if a.What == "" || a.Value == "" || a.Why == "" || !strings.Contains(a.File, ": ") {
				t.Errorf("an assumption without its words: %+v", a)
			}
			all = append(all, a.File)
		}
		return strings.Join(all, "\n") + "\n"
	}
	bare := said(of(t, two()))
	for _, key := range []string{"crew[0].body", "crew[0].stature", "crew[1].age", "crew[0].body fat", "crew[0].hours", "crew[0].power", "crew[0].eats", "crew[0].seasick", "diet", "leave"} {
		if !strings.Contains(bare, "voyage.yaml: "+key+"\n") {
			t.Errorf("%s is not listed in\n%s", key, bare)
		}
	}
	for _, name := range demos {
		full := said(of(t, demo(t, name)))
		for _, key := range []string{"stature", "age", "body fat", "hours", "power", "eats", "seasick", "diet", "energy: ", "soaks", "an hour", "draws"} {
			if strings.Contains(full, key+"\n") {
				t.Errorf("%s says %s, and it is listed:\n%s", name, key, full)
			}
		}
	}
}

// TestHostile: figures that nobody's body or bag has are a plain error or an answer, and no panic.
func TestHostile(t *testing.T) {
	for name, change := range map[string]func(f *model.Folder){
		"a giant":               func(f *model.Folder) { f.Voyage.Crew[0].Mass.Value = 5000 },
		"an ant":                func(f *model.Folder) { f.Voyage.Crew[0].Mass.Value = 1e-6 },
		"a tower":               func(f *model.Folder) { f.Voyage.Crew[0].Stature = 90 },
		"all fat":               func(f *model.Folder) { f.Voyage.Crew[0].Fat.Value = 1 },
		"twenty of them":        func(f *model.Folder) { f.Voyage.Crew = append(f.Voyage.Crew, make([]model.Person, 18)...) },
		"a sun in a bag":        func(f *model.Folder) { f.Stores[0].Energy = 1e30 },
		"a sea in a bag":        func(f *model.Folder) { f.Stores[0].Soaks = 1e9 },
		"more than the day has": func(f *model.Folder) { f.Boat.Makers[0].Hours = 1e6 },
		"protein and fat":       func(f *model.Folder) { one := 1.0; f.Voyage.Diet = model.Diet{Fat: &one, Protein: &one} },
		"nine makers": func(f *model.Folder) {
			for range 9 {
				f.Boat.Makers = append(f.Boat.Makers, model.WaterMaker{AnHour: 0.001})
			}
		},
	} {
		f := two()
		change(f)
		p, err := Of(&afloat.Trip{Folder: f}, nil)
		if err == nil && len(p.Lacks) == 0 {
			_, err = p.Plan.Lasts()
		}
		if err == nil && name != "twenty of them" {
			t.Errorf("%s: taken without a word", name)
		}
		if err != nil && !strings.Contains(err.Error(), "sustenance") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestSunned: the sun of some hours over the day's mean, closed forms of half a sine.
func TestSunned(t *testing.T) {
	at := func(from, to float64) float64 { return sunned([]model.Hours{{From: from, To: to}}) }
	const half = "the mean of half a sine of twelve hours, by hand"
	run(t, []check{
		{"all day and night", at(0, 24), 1, 1e-12, half},
		{"from six to six", at(6, 18), 2, 1e-12, half},
		{"at noon", at(11.999, 12.001), math.Pi, 1e-6, "the top of the sine is pi times the day's mean"},
		{"at night", at(19, 23), 0, 1e-12, "no sun"},
		{"morning and afternoon", sunned([]model.Hours{{From: 6, To: 12}, {From: 12, To: 18}}), 2, 1e-12, half},
		{"nothing said", sunned(nil), 1, 0, "any hours"},
	})
	sum := 0.0
	const n = 4000
	for i := range n {
		h := 8.5 + 6*(float64(i)+0.5)/n
		sum += math.Pi * math.Max(0, math.Sin(math.Pi*(h-6)/12)) / n
	}
	run(t, []check{{"half past eight to half past two", at(8.5, 14.5), sum, 1e-6, "midpoint rule of the same sine"}})
	c := Air{Celsius: 26, Sun: 175, Wind: 7}.On([]model.Hours{{From: 6, To: 18}}, 1)
	if tr := sustenance.Trades(); c.Out != tr.Out || c.In != tr.In || c.Rows != 1 || c.Makes != tr.Makes {
		t.Errorf("the trades by On are %+v, as written %+v", c, tr)
	}
}
