package model

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/units"
)

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9 {
		t.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

func point(x, y, z float64) Place { return Place{At: r3.Vec{X: x, Y: y, Z: z}, Compartment: -1} }

func TestUse(t *testing.T) {
	u := Use{First: 1, Last: 80}
	near(t, "leaving", u.Left(0), 1)
	near(t, "half way", u.Left(40), 0.5)
	near(t, "the last evening", u.Left(80), 0)
	near(t, "long after", u.Left(500), 0)
	near(t, "kept", Use{}.Left(300), 1)
	once := Use{First: 12, Last: 12}
	near(t, "the evening before", once.Left(11), 1)
	near(t, "that evening", once.Left(12), 0)
	// What goes on each day adds up to all of it.
	var gone float64
	for d := 1; d <= 90; d++ {
		gone += (Use{First: 7, Last: 61}).Left(d-1) - (Use{First: 7, Last: 61}).Left(d)
	}
	near(t, "all of it", gone, 1)
}

func folder() *Folder {
	into := Place{Compartment: 0}
	return &Folder{
		Boat: Boat{
			Compartments: []Compartment{{Name: "locker"}},
			Weights:      []Weight{{What: "hull", Count: 1, Mass: Mass{Value: 300, Tolerance: 30}, Where: point(3, 0, 0.4)}},
		},
		Stores: []Store{
			{What: "food", Count: 80, Mass: Mass{Value: 1}, Where: Place{Compartment: 0}, Use: Use{First: 1, Last: 80}},
			{What: "water", Count: 1, Mass: Mass{Value: 20}, Where: point(4, 0.2, 0.1), Use: Use{First: 1, Last: 10, Into: &into}},
		},
		Voyage: &Voyage{Days: 60, Crew: []Person{
			{Name: "a", Mass: Mass{Value: 70}, Places: []CrewPlace{{Name: "at the oars", Where: point(3.5, 0, 0.8)}, {Name: "outside", Where: Place{None: true}}}},
			{Name: "b", Mass: Mass{Value: units.Mass(60)}, Places: []CrewPlace{{Name: "at the oars", Where: point(2.5, 0, 0.8)}, {Name: "outside", Where: Place{None: true}}}},
		}},
	}
}

func TestAt(t *testing.T) {
	f := folder()
	cs := f.Conditions()
	if len(cs) != 4 || cs[0].Name != "both at the oars" || cs[3].Name != "both outside" || cs[1].Name != "a at the oars, b outside" {
		t.Fatalf("conditions %+v", cs)
	}
	if f.LastDay() != 80 {
		t.Errorf("last day %d: the food lasts longer than the voyage is meant to", f.LastDay())
	}
	rooms := []r3.Vec{{X: 5, Y: 0, Z: 0.2}}
	s := f.At(0, cs[0], rooms)
	near(t, "mass leaving", s.Mass, 300+80+20+130)
	near(t, "x", s.G.X, (300*3+80*5+20*4+70*3.5+60*2.5)/530)
	near(t, "y", s.G.Y, 20*0.2/530)
	near(t, "mass arriving, outside", f.At(80, cs[3], rooms).Mass, 320)
	// Water moved into the locker leaves the weight and moves the centre.
	a, b := f.At(0, cs[0], rooms), f.At(10, cs[0], rooms)
	near(t, "mass after ten days", a.Mass-b.Mass, 10)
	near(t, "list after ten days", b.G.Y, 0)
	near(t, "doubt of the mass", s.Doubt, 30/1.959964)
}

// TestDoubt: the centre of two equal weights, one of them doubtful by d, is doubtful by d L / 4M of the sum.
func TestDoubt(t *testing.T) {
	f := &Folder{Boat: Boat{Weights: []Weight{
		{What: "a", Mass: Mass{Value: 100, Tolerance: 10}, Where: Place{At: r3.Vec{}, Compartment: -1, Tolerance: r3.Vec{X: 1e-12}}},
		{What: "b", Mass: Mass{Value: 100}, Where: Place{At: r3.Vec{X: 2}, Compartment: -1, Tolerance: r3.Vec{X: 1e-12}}},
	}}}
	s := f.At(0, f.Conditions()[0], nil)
	// G = 2 mb / (ma + mb), dG/dma = -2 mb / (ma + mb)², closed form
	if want := 10 / 1.959964 * 2 * 100 / (200 * 200); math.Abs(s.DoubtG.X-want) > 1e-9 {
		t.Errorf("doubt of the centre %g, want %g (JCGM 100:2008, 5.1, closed form)", s.DoubtG.X, want)
	}
	near(t, "roll radius of two weights on the centre line", s.Gyration.X, 0)
	near(t, "yaw radius", s.Gyration.Z, 1)
}
