package sustenance

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// anyone draws a person and a habit.
func anyone(t *rapid.T) Rower {
	p := Person{Sex: Sex(rapid.IntRange(0, 1).Draw(t, "sex")), Mass: rapid.Float64Range(45, 120).Draw(t, "mass"),
		Stature: rapid.Float64Range(1.5, 2.0).Draw(t, "stature"), Age: rapid.Float64Range(18, 70).Draw(t, "age")}
	return Usual(p, Habit{Hours: rapid.Float64Range(0, 18).Draw(t, "hours"), Power: rapid.Float64Range(0, 200).Draw(t, "power")})
}

// anyPlan draws a plan.
func anyPlan(t *rapid.T) *Plan {
	p := &Plan{Diet: SeaDiet(), Days: rapid.IntRange(1, 60).Draw(t, "days"),
		Stock: Stock{Drinking: rapid.Float64Range(0, 300).Draw(t, "water"), Reserve: 10, Ballast: 50}}
	for range rapid.IntRange(1, 2).Draw(t, "rowers") {
		p.Rowers = append(p.Rowers, anyone(t))
	}
	for range rapid.IntRange(0, 3).Draw(t, "bags") {
		p.Rations = append(p.Rations, Dried("bag", rapid.IntRange(0, 40).Draw(t, "of them"), rapid.Float64Range(0, 25e6).Draw(t, "energy")))
	}
	if rapid.Bool().Draw(t, "machine") {
		p.Makers = append(p.Makers, Electric(rapid.Float64Range(0, 4).Draw(t, "its hours")))
	}
	if rapid.Bool().Draw(t, "pump") {
		p.Makers = append(p.Makers, HandPump(rapid.Float64Range(0, 10).Draw(t, "its hours")))
	}
	if rapid.Bool().Draw(t, "cut") {
		p.Cuts = []Cut{{rapid.IntRange(0, 60).Draw(t, "from"), rapid.Float64Range(0, 1).Draw(t, "to")}}
	}
	air := Air{Celsius: rapid.Float64Range(0, 40).Draw(t, "air"), Humidity: rapid.Float64Range(0, 1).Draw(t, "humidity"),
		Wind: rapid.Float64Range(0, 25).Draw(t, "wind"), Sun: rapid.Float64Range(0, 900).Draw(t, "sun")}
	rows := rapid.Float64Range(0, 1.3).Draw(t, "rows")
	p.On = func(int) Conditions {
		return Conditions{Out: air, In: Air{Celsius: air.Celsius, Humidity: air.Humidity}, Rows: rows, Makes: 1}
	}
	return p
}

// finite walks a struct and finds a number that is none.
func finite(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Float64:
		return !math.IsNaN(v.Float()) && !math.IsInf(v.Float(), 0)
	case reflect.Struct:
		for i := range v.NumField() {
			if !finite(v.Field(i)) {
				return false
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			if !finite(v.Index(i)) {
				return false
			}
		}
	}
	return true
}

// TestLedgerHolds: whatever the plan, every number is one, food and water add up, nobody eats or drinks what is not
// there, and the same plan gives the same ledger.
func TestLedgerHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlan(t)
		l, err := p.Ledger()
		if err != nil {
			t.Fatal(err)
		}
		if !finite(reflect.ValueOf(*l)) {
			t.Fatal("a number that is none")
		}
		energy, _ := p.Rations.Total()
		energy *= float64(len(p.Rowers))
		water := p.Stock.Drinking
		for _, d := range l.Days {
			energy -= d.FoodGone.Value
			if math.Abs(energy-d.FoodLeft.Value) > 10 {
				t.Fatalf("day %d: %g J of food left, %g by the sum", d.Day, d.FoodLeft.Value, energy)
			}
			water += d.Made.Value + d.ByHand.Value + d.Missing.Value - d.Water.Value
			if math.Abs(water-d.DrinkingLeft.Value) > 1e-6 {
				t.Fatalf("day %d: %g kg of water left, %g by the sum", d.Day, d.DrinkingLeft.Value, water)
			}
			for _, r := range d.Each {
				if r.Eaten.Value > r.Offered.Value+1e-3 || r.Drunk.Value > r.Needs.Value+1e-9 || r.Able.Value < 0 || r.Able.Value > 1 || r.Fat.Value < 0 {
					t.Fatalf("day %d: %+v", d.Day, r)
				}
			}
		}
		again, err := p.Ledger()
		if err != nil || !reflect.DeepEqual(l, again) {
			t.Fatal("asked twice, answered differently", err)
		}
	})
}

// TestMoreIsNeverLess: a bag or a kilogram of water more never shortens what lasts; a cut never either.
func TestMoreIsNeverLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlan(t)
		days := func(q *Plan) (float64, float64) {
			var y tally
			f, w, err := y.lasting(q, asIs, 0, false)
			if err != nil {
				t.Fatal(err)
			}
			return f, w
		}
		food, water := days(p)
		q := *p
		q.Stock.Drinking += 5
		if _, w := days(&q); w < water-1e-9 {
			t.Fatalf("5 kg of water more, and %g days instead of %g", w, water)
		}
		if len(p.Rations) > 0 {
			q = *p
			q.Rations = append(Rations{}, p.Rations...)
			q.Rations[len(q.Rations)-1].Days += 3
			if f, _ := days(&q); f < food-1e-6 {
				t.Fatalf("three bags more, and %g days instead of %g", f, food)
			}
		}
		if f, _ := days(p.cut(3, 0.5)); len(p.Cuts) == 0 && f < food-1e-6 {
			t.Fatalf("half rations, and %g days instead of %g", f, food)
		}
	})
}

// TestBodyKeepsEnergy: the stores give exactly what is missing, for any body and any day.
func TestBodyKeepsEnergy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := Body{Fat: rapid.Float64Range(3, 60).Draw(t, "fat"), Lean: rapid.Float64Range(35, 80).Draw(t, "lean")}
		eaten, spent := rapid.Float64Range(0, 30e6).Draw(t, "eaten"), rapid.Float64Range(5e6, 30e6).Draw(t, "spent")
		n, err := b.After(eaten, spent)
		if err != nil {
			t.Fatal(err)
		}
		gave := fatDensity*(b.Fat-n.Fat) + leanDensity*(b.Lean-n.Lean)
		if math.Abs(gave-(spent-eaten)) > 1 {
			t.Fatalf("%g J missing, %g J given", spent-eaten, gave)
		}
		if (spent > eaten) != (n.Fat < b.Fat) && spent != eaten {
			t.Fatal("fat goes the wrong way")
		}
	})
}

// TestHeatOrder: hotter, damper and harder never sweat less; more wind never asks for more while the air is cooler than skin.
func TestHeatOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Air{Celsius: rapid.Float64Range(10, 32).Draw(t, "air"), Humidity: rapid.Float64Range(0.2, 0.85).Draw(t, "humidity"),
			Wind: rapid.Float64Range(0.2, 3).Draw(t, "wind"), Sun: rapid.Float64Range(0, 600).Draw(t, "sun")}
		burnt := rapid.Float64Range(150, 600).Draw(t, "burnt")
		sweat := func(burnt float64, a Air) float64 {
			h, err := Balance(burnt, 0.15*burnt, 1.9, a, AtTheOars())
			if err != nil {
				t.Fatal(err)
			}
			return h.Sweat
		}
		s := sweat(burnt, a)
		sunny := a
		sunny.Sun += 100
		if sweat(burnt+20, a) < s-1e-9 || sweat(burnt, sunny) < s-1e-9 {
			t.Fatal("more work or more sun, and less sweat")
		}
	})
}

// TestRefusals: what cannot be is refused by name, nothing panics.
func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	bad := func(name string, err error) {
		t.Helper()
		if !errors.Is(err, ErrInput) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, x := range []float64{nan, inf, -inf, -1} {
		_, err := Person{Mass: x, Stature: 1.8, Age: 30}.Resting(Mifflin)
		bad("mass", err)
		_, err = Burning(x, 80, 0.2)
		bad("power", err)
		_, _, err = Gross(100, x)
		bad("efficiency", err)
		_, err = ByTable(80, []Activity{{"x", x, 3}, {"rest", 24, 1}})
		bad("hours", err)
		_, err = man.Spending(Habit{Hours: x, Power: 60})
		bad("habit", err)
		_, err = Balance(300, 0, 1.9, Air{Celsius: 20, Humidity: x}, AtTheOars())
		bad("humidity", err)
		_, err = Body{Fat: 10, Lean: 60}.After(x, 10e6)
		bad("eaten", err)
		_, err = HandPump(3).HoursFor(x)
		bad("water wanted", err)
		_, err = RaftDays(x, 2)
		bad("reserve", err)
		_, err = man.WithoutWater(Air{Celsius: 20, Humidity: 0.5}, InTheCabin(), x)
		bad("drunk", err)
		_, err = DaysFor(Normal{80, 10}, x)
		bad("chance", err)
		_, err = Chance(Normal{80, 10}, Value{x, 1})
		bad("lasts", err)
		p := atlantic(man, 60)
		p.Stock.Drinking = x
		_, err = p.Ledger()
		bad("stock", err)
		p = atlantic(man, 60)
		p.On = func(int) Conditions { c := Trades(); c.Rows = x; return c }
		_, err = p.Lasts()
		bad("conditions", err)
		p = atlantic(man, 60)
		p.Rations[0].Energy = x
		_, err = p.LeastCut(3, 60)
		bad("ration", err)
		_, _, err = atlantic(man, 60).Latest(3, x, 60)
		bad("share", err)
		_, err = atlantic(man, 60).Choices(3, x)
		bad("until", err)
	}
	_, err := man.Resting(Equation(9))
	bad("equation", err)
	_, err = Person{Sex: 5, Mass: 80, Stature: 1.8, Age: 30}.Body()
	bad("sex", err)
	for _, change := range []func(*Plan){
		func(p *Plan) { p.Rowers = nil }, func(p *Plan) { p.Days = 0 }, func(p *Plan) { p.Days = 1 << 40 },
		func(p *Plan) { p.Makers = make([]Maker, 9) }, func(p *Plan) { p.Cuts = []Cut{{5, 1}, {3, 1}} }, func(p *Plan) { p.Diet.Fat = 2 },
		func(p *Plan) { p.Rowers[0].Thirst.Urine = Value{nan, 0} }, func(p *Plan) { p.Rowers[0].Oars.Clo = nan }, func(p *Plan) { p.Rations[0].Days = -1 },
	} {
		p := atlantic(man, 60)
		change(p)
		_, err := p.Ledger()
		bad("plan", err)
		_, err = p.WaterToCarry()
		bad("plan", err)
	}
	_, err = DaysFor(nil, 0.5)
	bad("no arrival", err)
	empty := atlantic(man, 60)
	empty.Rations = nil
	if l, err := empty.Lasts(); err != nil || l.Food.Value != 0 {
		t.Errorf("without food: %+v %v", l, err)
	}
}

// two are a crew of two for the benchmarks.
func two() *Plan {
	p := atlantic(man, 60)
	p.Rowers = append(p.Rowers, Usual(woman, Habit{Hours: 12, Power: 45}))
	p.Days = 100
	return p
}

func BenchmarkDay(b *testing.B) {
	p := two()
	var t tally
	if err := t.start(p, asIs, 0); err != nil {
		b.Fatal(err)
	}
	c := Trades()
	b.ReportAllocs()
	for i := range b.N {
		t.step(i%50, c)
	}
}

func BenchmarkLedgerOf100Days(b *testing.B) {
	p := two()
	b.ReportAllocs()
	for range b.N {
		if _, err := p.Ledger(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkChoices(b *testing.B) {
	p := two()
	p.Rations[0].Days = 60
	b.ReportAllocs()
	for range b.N {
		if _, err := p.Choices(20, 90); err != nil {
			b.Fatal(err)
		}
	}
}

// TestDayAllocatesNothing: the inner step.
func TestDayAllocatesNothing(t *testing.T) {
	p := two()
	var y tally
	if err := y.start(p, asIs, 0); err != nil {
		t.Fatal(err)
	}
	c := Trades()
	if n := testing.AllocsPerRun(100, func() { y.step(3, c) }); n != 0 {
		t.Errorf("a day allocates %g times", n)
	}
}
