package sustenance

import (
	"math"
	"testing"
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

// must gives a value or fails.
func must[T any](t *testing.T) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// The people of the checks.
var (
	man    = Person{Name: "man", Sex: Man, Mass: 80, Stature: 1.80, Age: 35}
	woman  = Person{Name: "woman", Sex: Woman, Mass: 65, Stature: 1.68, Age: 30}
	young  = Person{Name: "young man", Sex: Man, Mass: 92, Stature: 1.86, Age: 28}
	senior = Person{Name: "older woman", Sex: Woman, Mass: 70, Stature: 1.70, Age: 55}
)

// kcal is a rate in kcal a day.
func kcal(t *testing.T, p Person, e Equation) float64 {
	t.Helper()
	return must[Value](t)(p.Resting(e)).Value * Day / Kilocalorie
}

func TestResting(t *testing.T) {
	const worked, table = "the equations as printed, worked independently to a tenth of a kcal", "Schofield 1985, the same table printed in kJ, which is rounded"
	kj := 1000.0 / Kilocalorie
	run(t, []check{
		{"man, Mifflin", kcal(t, man, Mifflin), 1755.0, 0.05, worked},
		{"man, 1919", kcal(t, man, HarrisFirst), 1830.8, 0.05, worked},
		{"man, 1984", kcal(t, man, HarrisLater), 1825.2, 0.05, worked},
		{"woman, Mifflin", kcal(t, woman, Mifflin), 1389.0, 0.05, worked},
		{"woman, 1919", kcal(t, woman, HarrisFirst), 1447.2, 0.05, worked},
		{"woman, 1984", kcal(t, woman, HarrisLater), 1439.2, 0.05, worked},
		{"young man, Mifflin", kcal(t, young, Mifflin), 1947.5, 0.05, worked},
		{"young man, 1919", kcal(t, young, HarrisFirst), 2073.1, 0.05, worked},
		{"young man, 1984", kcal(t, young, HarrisLater), 2054.5, 0.05, worked},
		{"older woman, Mifflin", kcal(t, senior, Mifflin), 1326.5, 0.05, worked},
		{"older woman, 1919", kcal(t, senior, HarrisFirst), 1381.8, 0.05, worked},
		{"older woman, 1984", kcal(t, senior, HarrisLater), 1383.4, 0.05, worked},
		{"man, Schofield", kcal(t, man, Schofield), (48*80 + 3653) * kj, 10, table},
		{"woman, Schofield", kcal(t, woman, Schofield), (34*65 + 3538) * kj, 10, table},
		{"young man, Schofield", kcal(t, young, Schofield), (63*92 + 2896) * kj, 10, table},
		{"older woman, Schofield", kcal(t, senior, Schofield), (34*70 + 3538) * kj, 10, table},
		{"man of 70, Schofield", kcal(t, Person{Sex: Man, Mass: 80, Stature: 1.8, Age: 70}, Schofield), (49*80 + 2459) * kj, 10, table},
		{"boy of 16, Schofield", kcal(t, Person{Sex: Man, Mass: 60, Stature: 1.7, Age: 16}, Schofield), (74*60 + 2754) * kj, 10, table},
		{"skin of 80 kg, 1.80 m", man.Skin(), 1.996, 0.001, "DuBois and DuBois 1916, by hand: 0.007184 x 6.439 x 43.16"},
		{"fat of 80 kg, 1.80 m, 35 years", man.FatShare().Value, 0.215, 0.001, "Deurenberg 1991, by hand: 1.2 x 24.69 + 0.23 x 35 - 16.2 = 21.5 per cent"},
	})
	for _, p := range []Person{man, woman, young, senior} {
		all := must[[]Value](t)(p.Summary())
		if spread := all[len(all)-1].Value/all[0].Value - 1; spread > byFormula {
			t.Errorf("%s: the equations differ by %.0f per cent, more than the spread says", p.Name, 100*spread)
		}
	}
}

func TestEfficiency(t *testing.T) {
	const fukunaga = "Fukunaga et al. 1986: gross 17.5 per cent at 124 to 182 W, where net is 19.8; people rest at 80 to 100 W"
	const hand = "arithmetic on the published efficiencies"
	rows := []check{}
	for _, w := range []float64{124, 153, 182} {
		rows = append(rows, check{"gross efficiency", w / must[float64](t)(Burning(w, 90, Net.Value)), 0.175, 0.006, fukunaga})
	}
	for _, c := range []struct{ power, efficiency, burnt, kcal, sweat float64 }{{60, 0.175, 342.9, 295, 0.42}, {90, 0.175, 514.3, 442, 0.63}, {100, 0.22, 454.5, 391, 0.525}} {
		burnt, heat, err := Gross(c.power, c.efficiency)
		if err != nil {
			t.Fatal(err)
		}
		rows = append(rows, check{"burnt", burnt, c.burnt, 0.05, hand}, check{"kcal an hour", burnt * Hour / Kilocalorie, c.kcal, 0.6, hand + ", cut to a kcal"},
			check{"kg an hour to shed the heat", heat * Hour / latent, c.sweat, 0.005, hand + ", 2.43 MJ/kg"})
	}
	run(t, rows)
}

// TestTableIsTooHigh: the sum that most plans are made with, and what was measured.
func TestTableIsTooHigh(t *testing.T) {
	const compendium = "2011 Compendium: 10 h at the rate named, 14 h of sleep, chores and sitting, 80 kg; 14 h come to 1532 kcal"
	work := must[float64](t)(ByTable(80, RowersDay(10, RowingWork))) / Kilocalorie
	easy := must[float64](t)(ByTable(80, RowersDay(10, RowingEasy))) / Kilocalorie
	s := must[Spending](t)(man.Spending(Habit{Hours: 12, Power: 60}))
	const reid, cohort = 15.3e6 / Kilocalorie, 2.5 * 1755.0
	run(t, []check{
		{"ten hours of work by the table", work, 6172, 25, compendium},
		{"ten easy hours by the table", easy, 4332, 25, compendium},
		{"the table's excess over two men round Britain", work/reid - 1, 0.69, 0.02, "Reid et al. 2017: 15.3 MJ a day"},
		{"the table's excess over the Atlantic's men", work/cohort - 1, 0.41, 0.02, "49 Atlantic rowers: 2.5 resting rates"},
		{"easy hours are near what was measured", easy / 1755, 2.47, 0.02, "2.3 to 2.6 resting rates measured on ocean rowers"},
		{"taken: men", s.Taken.Value / (s.Resting.Value * Day), 2.5, 1e-9, "49 Atlantic rowers"},
		{"taken: women", must[Spending](t)(woman.Spending(Habit{Hours: 12, Power: 45})).Taken.Value / (1389 * Kilocalorie), 2.3, 1e-6, "49 Atlantic rowers"},
		{"kcal of 15.3 MJ", reid, 3657, 1, "arithmetic"},
		{"mean of the two printed", (16.4 + 14.9) / 2, 15.65, 1e-9, "Reid et al. 2017: the abstract's own mean, 15.3, does not agree with its two numbers"},
	})
	two := Person{Sex: Man, Mass: 85, Stature: 1.83, Age: 28} // their mass and stature are not printed in the abstract
	r := must[Spending](t)(two.Spending(Habit{Hours: 12, Power: 70}))
	for _, mj := range []float64{14.9, 15.3, 16.4} {
		if e := mj * 1e6; e < r.Taken.Low() || e > r.Taken.High() {
			t.Errorf("%.1f MJ were measured; %.1f +- %.1f are told", mj, r.Taken.Value/1e6, r.Taken.Spread/1e6)
		}
	}
	if s.OverTab < 1.4 || s.OverTab > 1.9 {
		t.Errorf("the table is %.2f of what is taken", s.OverTab)
	}
}

func TestFood(t *testing.T) {
	const atwater = "Atwater's factors 4, 4, 9"
	kc := Atwater(0.500, 0.150, 0.120) / Kilocalorie
	d := SeaDiet()
	bag := Dried("", 1, 5000*Kilocalorie)
	all := Atwater(0.5, 0.15, 0.12)
	run(t, []check{
		{"500 g, 150 g, 120 g", kc, 3680, 1e-9, atwater},
		{"its carbohydrate", 2000 / kc, 0.54, 0.005, atwater},
		{"its protein", d.Protein, 600.0 / 3680, 0.0005, atwater},
		{"its fat", d.Fat, 1080.0 / 3680, 0.0005, atwater},
		{"water of burning it", d.WaterOfBurning() * all, 0.5*0.60 + 0.15*0.41 + 0.12*1.07, 0.001, "0.60, 0.41 and 1.07 g of water a gram, textbooks"},
		{"kcal a gram of bag", 5000 / (1000 * bag.Mass), 4.7, 0.5, "makers' 4.2 to 5.2; a plan of 500,000 kcal weighed 102 kg"},
		{"water for dried food", bag.Water, 1.25, 0.4, "1 to 1.5 kg a day, crews' figures, no published source"},
		{"raft's food in kcal", RaftFood / Kilocalorie, 2390, 1, "LSA Code: 10,000 kJ, printed as 2400 kcal too"},
	})
}

func TestMakers(t *testing.T) {
	e := Electric(3)
	run(t, []check{
		{"6 kg by the small pump", must[Value](t)(HandPump(10).HoursFor(6)).Value, 10, 1e-9, "6 L at 0.6 L/h"},
		{"4.5 kg by the large one", must[Value](t)(LargeHandPump(10).HoursFor(4.5)).Value, 2, 0.45, "crews' figure: 4.5 L in two hours; its spread"},
		{"Ah a kilogram at 12 V", e.Energy / WattHour / 12, 0.8, 0.1, "0.7 to 0.9, makers' figures"},
		{"Wh a kilogram over the least", e.Energy / WattHour / 0.767, 12.5, 12.5 - 1, "0.767 Wh/L, the theoretical least: must be above it"},
		{"raft: 20 kg for two", must[float64](t)(RaftDays(20, 2)), 21, 1e-9, "a dry day, then 0.5 kg each"},
	})
}
