package sustenance

import (
	"errors"
	"math"
	"testing"
)

// plain is a rower who eats all that is given: then the food is arithmetic.
func plain(days int) *Plan {
	p := atlantic(man, 60)
	p.Rations = Rations{Dried("full", days, 10e6)}
	p.Rowers[0].Appetite = Appetite{Most: Value{5, 0}, Liked: Value{1, 0}}
	return p
}

func TestArrival(t *testing.T) {
	h := Histogram{First: 50, Arrived: []float64{10, 20, 40, 20, 8, 2}}
	lost := Histogram{First: 50, Arrived: h.Arrived, Never: 25}
	n := Normal{85, 15}
	run(t, []check{
		{"before the first", h.By(50), 0, 0, "definition"},
		{"half way through a day", h.By(51.5), 0.20, 1e-12, "10 + half of 20, of 100"},
		{"after the last", h.By(60), 1, 0, "definition"},
		{"19 in 20", float64(must[int](t)(DaysFor(h, NineteenIn20))), 55, 0, "90 have arrived within day 53, 98 within 54: 55 days of food"},
		{"half", float64(must[int](t)(DaysFor(h, 0.5))), 53, 0, "30 within two days, 70 within three"},
		{"some never arrive", lost.By(60), 0.8, 1e-12, "100 of 125"},
		{"normal, 19 in 20", float64(must[int](t)(DaysFor(n, NineteenIn20))), math.Ceil(85 + 1.644854*15), 0, "quantile of the normal distribution, tables"},
	})
	if _, err := DaysFor(lost, NineteenIn20); !errors.Is(err, ErrInput) {
		t.Errorf("a fifth never arrive, and food for 19 in 20 is told: %v", err)
	}
}

// TestChanceOfTwoNormals: arrival and food both on bell curves: the difference is on one too.
func TestChanceOfTwoNormals(t *testing.T) {
	phi := func(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
	for _, c := range []struct{ mean, deviation, lasts, spread float64 }{{85, 15, 95, 16}, {60, 8, 60, 0}, {60, 8, 80, 4}, {90, 3, 80, 20}} {
		got := must[float64](t)(Chance(Normal{c.mean, c.deviation}, Value{c.lasts, c.spread}))
		want := phi((c.lasts - c.mean) / math.Hypot(c.deviation, c.spread/1.959964))
		run(t, []check{{"chance", got, want, 0.002, "difference of two independent normal variables"}})
	}
}

// TestCutsByHand: bags that are all eaten.
func TestCutsByHand(t *testing.T) {
	p := plain(60)
	day, ok, err := p.Latest(0, 0.75, 70)
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	run(t, []check{
		{"days of bags", must[Lasts](t)(p.Lasts()).Food.Value, 60, 1e-9, "60 bags, one a day"},
		{"from day 30 to 90", must[float64](t)(p.LeastCut(30, 90)), 0.5, 2e-4, "30 bags for 60 days"},
		{"from day 0 to 80", must[float64](t)(p.LeastCut(0, 80)), 0.75, 2e-4, "60 bags for 80 days"},
		{"no need", must[float64](t)(p.LeastCut(10, 60)), 1, 0, "60 bags for 60 days"},
		{"three quarters, as late as may be, to 70", float64(day), 30, 0, "d + 0.75 (70 - d) = 60"},
		{"half a bag left counts", must[Lasts](t)(func() *Plan { q := plain(60); q.Cuts = []Cut{{0, 0.8}}; return q }().Lasts()).Food.Value, 75, 1e-6, "60 / 0.8"},
	})
	earlier := plain(60)
	earlier.Cuts = []Cut{{0, 0.8}, {50, 0.1}}
	run(t, []check{{"an earlier cut is kept and a later one dropped", must[float64](t)(earlier.LeastCut(30, 90)), 0.6, 2e-4, "60 - 0.8 x 30 = 36 bags for 60 days"}})
	if _, ok, _ := p.Latest(40, 0.75, 90); ok {
		t.Error("20 bags at three quarters do not make 50 days")
	}
	if _, err := p.LeastCut(70, 90); !errors.Is(err, ErrInput) {
		t.Errorf("the food is gone on day 60, and a cut from day 70 is told to help: %v", err)
	}
	choices := must[[]Choice](t)(p.Choices(20, 80))
	if len(choices) != 3 {
		t.Fatalf("two thirds now, three fifths and a half later: %+v", choices)
	}
	run(t, []check{
		{"now", choices[0].Share, 2.0 / 3, 2e-4, "40 bags for 60 days"},
		{"three fifths", float64(choices[1].From), 30, 0, "d + 0.6 (80 - d) = 60"},
		{"a half", float64(choices[2].From), 40, 0, "d + 0.5 (80 - d) = 60"},
	})
	for _, c := range choices {
		if c.Lasts < 80-1e-6 || c.Says == "" || len(c.Mass) != 1 {
			t.Errorf("%+v", c)
		}
	}
	if got := must[[]Choice](t)(p.Choices(20, 60)); got != nil {
		t.Errorf("no cut is needed: %+v", got)
	}
}

// TestSicknessLengthens: what the sick do not eat lasts longer.
func TestSicknessLengthens(t *testing.T) {
	p := plain(60)
	p.Rowers[0].Appetite.Kept = 1
	p.Rowers[0].Appetite.SickDays = 14
	longer := must[Lasts](t)(p.Lasts()).Food.Value - 60
	run(t, []check{
		{"two weeks sick", longer, 7.5, 1e-6, "by hand: 0.5 of the bags on the mean of 14 days that rise from nothing: sum of (1 - d/14) = 7.5"},
		{"of a crew's log", longer, 7, 4, "one crew: full rations lasted a week longer, since seasickness ate less"},
	})
}

func TestPhasesAndExtra(t *testing.T) {
	p := plain(60)
	p.Rations = Rations{Dried("full", 60, 10e6), Dried("less", 40, 7.5e6)}
	p.Days, p.Spare = 110, 20e6
	l := must[*Ledger](t)(p.Ledger())
	f := l.Phases(p)
	if len(f) != 3 || f[2].Name != "no food" || l.Fed {
		t.Fatalf("two kinds of bags, and none for the last ten days: %+v", f)
	}
	food, water, err := p.Extra(10)
	if err != nil {
		t.Fatal(err)
	}
	run(t, []check{
		{"full to", float64(f[0].Last), 59, 0, "60 bags"},
		{"offered", f[0].Offered.Value, 10e6, 1e-3, "the bag"},
		{"less eaten", f[1].Eaten.Value, 7.5e6, 1e-3, "the bag"},
		{"less to", float64(f[1].Last), 99, 0, "40 bags more"},
		{"nothing eaten", f[2].Eaten.Value, 0, 0, "no bag"},
		{"ten more days of food", food, 10 * p.Rations[1].Mass, 1e-9, "ten of the last bags"},
		{"and of water", water, 0, 0, "the machine makes more than is drunk"},
		{"emergency food", must[Value](t)(p.SpareDays()).Value, 20e6 / (1.3 * 1755 * Kilocalorie), 1e-9, "definition"},
	})
	p.Makers = nil
	_, water, _ = p.Extra(10)
	mean := 0.0
	for _, d := range must[*Ledger](t)(p.Ledger()).Days {
		mean += d.Water.Value / 110
	}
	run(t, []check{{"water for ten days, nothing made", water, 10 * mean, 1e-9, "definition"}})
}

// TestSpreadOfLasting: a rower who rests, likes 0.8 +- 0.1 of the bags and keeps what is left.
func TestSpreadOfLasting(t *testing.T) {
	p := plain(60)
	p.Rowers[0].Habit = Habit{}
	p.Rowers[0].Appetite = Appetite{Most: Value{5, 0}, Liked: Value{0.8, 0.1}, Kept: 1}
	l := must[Lasts](t)(p.Lasts())
	// So much of a bag a day, until less than a whole one is left to open: that rest is the last part of a day.
	days := func(a float64) float64 { n := math.Ceil(59/a - 1e-9); return n + 60 - a*n }
	liking, resting := (days(0.7)-days(0.9))/2, (days(0.8*0.8)-days(0.8*1.2))/2
	run(t, []check{
		{"days", l.Food.Value, 74.8, 1e-6, "74 days of 0.8 bags leave 0.8 of one"},
		{"spread", l.Food.Spread, math.Hypot(liking, resting), 1e-6, "both halves of the range by hand; who rests a fifth dearer eats a fifth more"},
	})
}
