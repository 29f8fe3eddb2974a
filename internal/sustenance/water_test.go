package sustenance

import (
	"math"
	"testing"
)

// TestDailyWater: a day ashore, and a day of racing, against what is advised and what was drunk.
func TestDailyWater(t *testing.T) {
	ashore := func(p Person) float64 {
		w := must[Value](t)(p.Resting(Mifflin)).Value * 1.5
		air := Air{Celsius: 20, Humidity: 0.5, Wind: 0.1}
		return must[Losses](t)(p.Losses(w, 0, 0, w, air, air, AtTheOars(), Dress{Clo: 0.6, Sits: true}, Plenty(), SeaDiet(), w*Day)).Need
	}
	const advised = "food and drink together, temperate: EFSA 2.5 kg men and 2.0 women, IOM 3.7 and 2.7, from memory: between the two bodies' figures, less a fifth"
	run(t, []check{
		{"a man ashore", ashore(man), (2.5 + 3.7) / 2, 1.1, advised},
		{"a woman ashore", ashore(woman), (2.0 + 2.7) / 2, 0.75, advised},
	})
	p := atlantic(man, 75)
	p.Rowers[0].Habit.Hours = 14
	p.Days = 20
	p.On = func(int) Conditions {
		c := Trades()
		c.Out.Celsius, c.Out.Wind = 28, 2
		return c
	}
	w := must[*Ledger](t)(p.Ledger()).Days[10].Each[0]
	if w.Needs.High() < 8 || w.Needs.Value > 10 {
		t.Errorf("%.1f +- %.1f kg are told for a racer's hot day; one crew drank and ate 8, and 10 is race advice that was not used up (crews' diaries)", w.Needs.Value, w.Needs.Spread)
	}
	s := w.Sweat.Value / 14
	if s < 0.15 || s > 2 {
		t.Errorf("%.2f kg of sweat an hour; ACSM gives 0.5 to 2 for hard exercise, less at half the power", s)
	}
}

// TestSecondOpinion: the regression on 101 people agrees with the heat balance where both hold:
// little wind, and clothes like theirs. In a breeze it tells less than must evaporate.
func TestSecondOpinion(t *testing.T) {
	for _, c := range []struct {
		name   string
		clo    float64
		air    Air
		burnt  float64
		source string
	}{
		{"28 C, light work", 0.5, Air{Celsius: 28, Humidity: 0.8, Wind: 0.5}, 300, "Gonzalez et al. 2009, standard error 0.1 kg an hour and m2; 0.2 for 19 in 20"},
		{"30 C, damp", 0.6, Air{Celsius: 30, Humidity: 0.8, Wind: 0.5}, 350, "Gonzalez et al. 2009, as above"},
		{"35 C, dry", 1.0, Air{Celsius: 35, Humidity: 0.4, Wind: 0.6}, 350, "Gonzalez et al. 2009, as above"},
		{"33 C, more clothes", 0.8, Air{Celsius: 33, Humidity: 0.5, Wind: 1}, 400, "Gonzalez et al. 2009, as above"},
	} {
		h := must[Heat](t)(Balance(c.burnt, 0.15*c.burnt, 1.9, c.air, Dress{Clo: c.clo, Sits: true, Acclimatised: true}))
		a, b := h.Sweat/latent*Hour, SweatByRegression(h.Required, h.Most)
		if math.Abs(a-b) > 0.2 {
			t.Errorf("%s: %.3f by balance, %.3f by regression (%s); %+v", c.name, a, b, c.source, h)
		}
	}
	run(t, []check{{"the regression", SweatByRegression(300, 200), 0.4311, 1e-9, "147 + 1.527 x 300 - 0.87 x 200 = 431.1 g, Gonzalez et al. 2009"}})
}

// TestWithoutWater: what the wars' boats showed.
func TestWithoutWater(t *testing.T) {
	at := func(c float64) Dry {
		return must[Dry](t)(man.WithoutWater(Air{Celsius: c, Humidity: 0.7, Wind: 1}, InTheCabin(), 0))
	}
	for _, c := range []float64{15, 20, 25} {
		d := at(c)
		if d.Days.Low() > 8 || d.Days.High() < 12 {
			t.Errorf("%g C: %.1f +- %.1f days; sailors were told 8 to 12, and 11 is the longest recorded (ibiblio, Abandon Ship; Natural History on Critchley)", c, d.Days.Value, d.Days.Spread)
		}
	}
	run(t, []check{
		{"in heat", at(35).Days.Value, 0.15 * 80 / at(35).PerDay, 1e-9, "Adolph 1947: 15 per cent of the mass above 90 F"},
		{"in the cool", at(20).Days.Value, 0.20 * 80 / at(20).PerDay, 1e-9, "Adolph 1947: between 15 and 25 per cent"},
	})
	if a, b := at(25).Days.Value, at(35).Days.Value; b > a/2 {
		t.Errorf("%.1f days at 25 C and %.1f at 35: heat shortens them to less than half (Adolph 1947)", a, b)
	}
	run(t, []check{{"the camp's ration, in trade-wind shade", at(26).PerDay, 1.2, 0.5, "raft manuals: 0.5 kg a day does not hold the balance, about 1 does, from memory"}})
	if d := must[Dry](t)(man.WithoutWater(Air{Celsius: 26, Humidity: 0.8, Wind: 1}, InTheCabin(), CampRation)); !math.IsInf(d.Days.Value, 1) {
		t.Errorf("2.5 kg a day keep a resting person: %.1f days", d.Days.Value)
	}
	for _, c := range []struct {
		share        float64
		want, source string
	}{
		{0.01, "thirst at most", "Adolph 1947"}, {0.07, "sick, dizzy; speech and walking fail", "Adolph 1947: nausea at 5, walking fails to 10 per cent"},
		{0.12, "delirium", "Adolph 1947: past 10"}, {0.2, "death, in heat at 15 per cent and anywhere at 25", "Adolph 1947"},
	} {
		if got := Dryness(c.share); got != c.want {
			t.Errorf("%g: %q, want %q (%s)", c.share, got, c.want, c.source)
		}
	}
}

// TestPour: what is made, drawn, pumped and missed adds up, reserve and ballast stay.
func TestPour(t *testing.T) {
	p := atlantic(man, 60)
	p.Stock = Stock{Drinking: 20, Reserve: 9, Ballast: 80}
	electric, hand := Electric(1.1), HandPump(2)
	electric.Breaks, hand.From = 10, 5
	p.Makers = []Maker{electric, hand}
	l := must[*Ledger](t)(p.Ledger())
	left, dryFrom := 20.0, -1
	for _, d := range l.Days {
		next := left - d.Water.Value + d.Made.Value + d.ByHand.Value + d.Missing.Value
		run(t, []check{
			{"the tank", d.DrinkingLeft.Value, next, 1e-9, "conservation of mass"},
			{"pumping", d.HandHours.Value * 0.6, d.ByHand.Value, 1e-9, "0.6 kg an hour"},
			{"electricity", d.Electricity.Value, d.Made.Value * electric.Energy, 1e-6, "J a kilogram"},
		})
		left = next
		if d.Made.Value > 5.5+1e-9 || d.Day >= 10 && d.Made.Value > 0 || d.ByHand.Value > 1.2+1e-9 || d.Day < 5 && d.ByHand.Value > 0 {
			t.Errorf("day %d: made %.2f, by hand %.2f", d.Day, d.Made.Value, d.ByHand.Value)
		}
		if d.DrinkingLeft.Value > 0 && d.ByHand.Value > 1e-9 {
			t.Errorf("day %d: pumping by hand with water in the tank", d.Day)
		}
		if dryFrom < 0 && d.Missing.Value > 0 {
			dryFrom = d.Day
		}
	}
	if l.Wet || dryFrom < 10 {
		t.Fatalf("the water holds until the machine breaks and not after: first dry day %d", dryFrom)
	}
	last := l.Days[p.Days-1].Each[0]
	if !(last.Lacks.Value > 0 && last.Mass.Value < l.Days[dryFrom-1].Each[0].Mass.Value) {
		t.Error("who drinks too little dries out")
	}
	lasts := must[Lasts](t)(p.Lasts())
	run(t, []check{{"until the water runs out", lasts.Water.Value, float64(dryFrom) + 0.5, 0.5, "the ledger's own first dry day"}})
	p.Stock.Reserve, p.Stock.Ballast = 0, 0
	q := must[*Ledger](t)(p.Ledger())
	for d := range l.Days {
		if l.Days[d].DrinkingLeft != q.Days[d].DrinkingLeft || l.Days[d].Missing != q.Days[d].Missing {
			t.Fatal("reserve or ballast was drawn on")
		}
	}
}

// TestWaterToCarry: carrying exactly so much, nobody is short on any day, and a little less is too little.
func TestWaterToCarry(t *testing.T) {
	p := atlantic(man, 60)
	p.Makers = nil
	p.Rowers[0].Thirst = Scant()
	kg := must[Value](t)(p.WaterToCarry())
	run(t, []check{{"kg a day without a machine", kg.Value / 46, 3.5, 0.7, "3 to 4 kg a day carried when nothing is made, crews' practice, no published source"}})
	p.Makers = []Maker{HandPump(6)}
	run(t, []check{{"hand pumps are not counted on", must[Value](t)(p.WaterToCarry()).Value, kg.Value, 0, "definition"}})
	p.Makers = nil
	p.Stock.Drinking = kg.Value * 1.0001
	if !must[*Ledger](t)(p.Ledger()).Wet {
		t.Error("what is told to be enough is not")
	}
	p.Stock.Drinking = kg.Value * 0.999
	if must[*Ledger](t)(p.Ledger()).Wet {
		t.Error("less than what is told to be enough is enough")
	}
}

// TestThickerUrine: going short of less than the urine can give up dries nobody.
func TestThickerUrine(t *testing.T) {
	p := atlantic(man, 60)
	p.Stock = Stock{}
	need := must[*Ledger](t)(p.Ledger()).Days[0].Water.Value
	for _, c := range []struct{ short, lacks float64 }{{0.8, 0}, {1.5, 0.5}} {
		p.Makers = []Maker{{Name: "exact", PerHour: Value{Value: need - c.short}, Hours: 1}}
		d := must[*Ledger](t)(p.Ledger()).Days[0]
		run(t, []check{
			{"missing", d.Missing.Value, c.short, 1e-9, "arithmetic"},
			{"lacking", d.Each[0].Lacks.Value, c.lacks, 1e-9, "1.5 kg of urine can become 0.5"},
		})
	}
}

// TestHowSureWaterIs: how long a tank lasts is as uncertain as what is drunk of it.
func TestHowSureWaterIs(t *testing.T) {
	p := atlantic(man, 60)
	p.Makers, p.Stock.Drinking = nil, 100
	lasts := must[Lasts](t)(p.Lasts()).Water
	sum := Value{}
	for _, d := range must[*Ledger](t)(p.Ledger()).Days[:int(lasts.Value)] {
		sum = plus(sum, d.Water)
	}
	want := sum.Spread / sum.Value
	run(t, []check{{"relative spread", lasts.Spread / lasts.Value, want, 0.25 * want, "days = tank / need, to first order; the range below reaches further than the one above"}})
}

// TestWeakSun: half the sun makes half the water, by machine and not by hand.
func TestWeakSun(t *testing.T) {
	p := atlantic(man, 60)
	p.Stock = Stock{}
	p.Makers = []Maker{Electric(0.5), HandPump(1)}
	p.On = func(d int) Conditions {
		c := Trades()
		c.Makes = 1 - 0.5*float64(d)
		return c
	}
	p.Days = 2
	l := must[*Ledger](t)(p.Ledger())
	run(t, []check{
		{"full sun", l.Days[0].Made.Value, 2.5, 1e-9, "half an hour at 5 kg"},
		{"half", l.Days[1].Made.Value, 1.25, 1e-9, "half of it"},
		{"by hand", l.Days[1].ByHand.Value, 0.6, 1e-9, "an hour at 0.6 kg"},
	})
}
