package flood

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/answer"
	"thole/internal/hydraulics"
	"thole/internal/model"
)

func store(what string, in int, provides ...string) model.Store {
	return model.Store{What: what, Count: 1, Mass: model.Mass{Value: 1}, Where: model.Place{Compartment: in}, Provides: provides}
}

// What only one compartment provides is lost with it; what another, or the open deck, provides too is not.
func TestLost(t *testing.T) {
	f := box(20, 4, 3, 1, 0.5, space("bow", 0, 4), space("next", 4, 8))
	f.Stores = []model.Store{
		store("stove", 0, "Cooking"), store("radio", 0, "calling", "position"), store("hand set", 1, "CALLING"), store("flares", 0, "signals"),
		{What: "beacon", Count: 1, Mass: model.Mass{Value: 1}, Where: model.Place{Compartment: 0}, Provides: []string{"alarm"}, Dry: model.MayBeWet},
		{What: "sextant", Count: 1, Mass: model.Mass{Value: 1}, Where: model.Place{At: r3.Vec{X: 10, Z: 3.2}, Compartment: -1}, Provides: []string{"position"}},
		{What: "mirror", Count: 1, Mass: model.Mass{Value: 1}, Where: model.Place{At: r3.Vec{X: 6, Z: 1}, Compartment: -1}, Provides: []string{"signals"}},
		{What: "second stove", Count: 1, Mass: model.Mass{Value: 1}, Where: model.Place{Compartment: 1}, Provides: []string{"cooking"}, Use: model.Use{First: 1, Last: 2}},
	}
	_, fig := answered(t, f)
	bow, next := fig.Wet[0], fig.Wet[1]
	if len(bow.Lost) != 0 || len(bow.Items) != 4 {
		t.Errorf("leaving, bow: %+v", bow)
	}
	if !slices.Contains(next.Items, "mirror") || len(next.Lost) != 0 {
		t.Errorf("leaving, next: %+v", next)
	}
	f.Stores = f.Stores[:len(f.Stores)-1] // the second stove gone, the first is the only one
	_, fig = answered(t, f)
	if got := fig.Wet[0].Lost; !slices.Equal(got, []string{"Cooking"}) {
		t.Errorf("bow loses %v", got)
	}
	f.Boat.Weights = append(f.Boat.Weights, model.Weight{What: "bolted stove", Count: 1, Mass: model.Mass{Value: 0.001}, Where: model.Place{Compartment: 1}, Provides: []string{"cooking"}})
	if _, fig = answered(t, f); len(fig.Wet[0].Lost) != 0 {
		t.Errorf("bow loses %v, which a fixed thing provides too", fig.Wet[0].Lost)
	}
}

// The hole's flow, the times and the pumps on a box.
func TestFillingAndPumping(t *testing.T) {
	top := 1.0
	low := space("low", 40, 41)
	low.Top = &top
	f := box(100, 20, 4, 2, 1, space("bow", 0, 2), low, space("high", 50, 52))
	sole := 2.5
	f.Boat.Compartments[2].Sole = &sole
	outlet := 3.0
	f.Boat.Pumps = []model.Pump{
		{Name: "hand", Hand: true, Stroke: 0.0004, Rate: 40.0 / 60, Bore: 0.025, Length: 2, Outlet: &outlet, Reaches: []int{1}},
		{Name: "electric", Flow: 0.5e-3, Shut: 4, Bore: 0.05, Length: 1, Reaches: []int{0}},
		{Name: "weak", Flow: 0.5e-3, Shut: 2, Reaches: []int{1}},
	}
	a, fig := answered(t, f)
	bow, deep, high := fig.Filling[0], fig.Filling[1], fig.Filling[2]
	const src = "a round hole of diameter D with its upper edge at the surface: 8/15 Cd sqrt(2 g) D^2.5, closed form of the summed speed"
	run(t, []check{
		{"through the hole at the water line", bow.First, 8.0 / 15 * hydraulics.Sharp * math.Sqrt(2*hydraulics.G) * math.Pow(holeSize, 2.5), 1e-9, src},
		{"water in the low one", deep.Water, 20, 1e-6, "arithmetic: 1 x 20 x 1 m, all under water"},
		// Most of the time the level is below the hole and the head 1.025 m; the tolerance is for the last of it.
		{"minutes to fill the low one", deep.Minutes, 0.95 * 20 / (hydraulics.Sharp * math.Pi / 4 * holeSize * holeSize * math.Sqrt(2*hydraulics.G*1.025)) / 60, 1, "Torricelli, constant head: V / (Cd A sqrt(2 g h))"},
	})
	if !high.Dry || high.Minutes != 0 || high.Water != 0 {
		t.Errorf("above the water: %+v", high)
	}
	by := map[string]Pumping{}
	for _, p := range fig.Pumping {
		by[p.Pump] = p
	}
	hand := by["hand"]
	run(t, []check{
		{"strokes", float64(hand.Strokes), math.Ceil(20 / (0.0004 * strokeFill)), 0, "arithmetic: 20 m³ in strokes of 0.32 L"},
		{"minutes", hand.Minutes, 62500 / 40.0, 1e-6, "arithmetic: 62 500 strokes at 40 a minute"},
		{"lift", hand.Lift, 3, 1e-9, "arithmetic: from the bottom to the outlet"},
		{"lift to the deck's edge", by["electric"].Lift, 4, 1e-6, "the box is 4 m deep"},
		{"a pump that cannot lift so high", by["weak"].Flow, 0, 0, "2 m of lift against 4"},
	})
	if hand.Beats || !slices.Equal(fig.Unreached, []string{"high"}) {
		t.Errorf("%+v; unreached %v", hand, fig.Unreached)
	}
	taken := func(what string) bool {
		return slices.ContainsFunc(a.Assumptions, func(s answer.Assumption) bool { return s.What == what })
	}
	if taken("greatest lift of pump weak") || !taken("bore of the hose of pump weak") || taken("bore of the hose of pump hand") {
		t.Errorf("taken for granted: %+v", a.Assumptions)
	}
}
