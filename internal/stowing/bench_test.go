package stowing

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"
)

// voyage is an invented boat of 14 places and a load of n items for a trip of so many days,
// about four fifths full: bags of food by the day for two, kept things of all sizes, things
// that must be dry, fuel that may not lie with food, spares to be split.
func voyage(n, days int, seed uint64) *Problem {
	r := rand.New(rand.NewPCG(seed, 1))
	p := &Problem{}
	place := func(name string, x, y, z, litres float64, reach Reach, wet bool) {
		side := Both
		if y > 0 {
			side = Starboard
		} else if y < 0 {
			side = Port
		}
		p.Places = append(p.Places, Place{Name: name, Volume: litres / 1000, At: r3.Vec{X: x, Y: y, Z: z}, Side: side, Reach: reach, Wet: wet, Opening: [2]float64{0.35, 0.5}})
	}
	place("100", 0.6, 0, 0.45, 160, InCalm, true)
	place("200", 1.6, -0.3, 0.25, 110, FromCabin, false)
	place("201", 1.6, 0.3, 0.25, 110, FromCabin, false)
	for k := range 3 {
		place(fmt.Sprint(300+2*k), 2.6+0.7*float64(k), -0.35, 0.2, 130, AtSeat, k == 1)
		place(fmt.Sprint(301+2*k), 2.6+0.7*float64(k), 0.35, 0.2, 130, AtSeat, k == 1)
	}
	place("400", 4.9, -0.3, 0.25, 120, FromCabin, false)
	place("401", 4.9, 0.3, 0.25, 120, FromCabin, false)
	place("402", 5.4, 0, 0.6, 90, FromCabin, false)
	place("500", 6.2, 0, 0.45, 150, InCalm, true)
	place("306", 3.6, 0, 0.15, 120, AtSeat, false)
	whole := 0.0
	for _, pl := range p.Places {
		whole += pl.Volume
	}
	used := n / 4
	food := 0.55 * whole / float64(used)
	for i := range n {
		it := Item{Name: fmt.Sprint("thing ", i), Units: 1, AnyReach: true}
		switch {
		case i < used:
			it.Units = []int{days, 2 * days, days / 2, days / 7}[i%4]
			it.First, it.Last = 1, days
			it.Volume = food * (0.6 + 0.8*r.Float64()) / float64(it.Units)
			it.Mass = it.Volume * (350 + 200*r.Float64())
			it.Group, it.Apart, it.Dry = "food", []string{"fuel"}, true
			if i%9 == 8 {
				it.Group, it.Apart, it.Dry = "fuel", []string{"food"}, false
			}
		default:
			it.Units = 1 + r.IntN(3)/2*(1+r.IntN(3))
			it.Volume = 0.25 * whole / float64(n-used) * (0.2 + 1.6*r.Float64()) / float64(it.Units)
			it.Mass = it.Volume * (200 + 800*r.Float64())
			side := math.Cbrt(it.Volume)
			it.Size = [3]float64{side * 0.7, side, side * 1.3}
			it.Dry = r.IntN(2) == 0
			if it.Units > 1 && i%3 == 0 {
				it.MostShare = 0.5
			}
			if i%10 == 0 {
				it.AnyReach, it.Reach = false, AtSeat
			}
		}
		p.Items = append(p.Items, it)
	}
	p.Trip = Trip{Days: days, Rest: []Load{{Mass: 450, Moment: r3.Vec{X: 450 * 3.4, Z: 450 * 0.4}}}}
	masses, err := Masses(p)
	if err != nil {
		panic(err)
	}
	for _, m := range masses {
		p.Trip.Limits = append(p.Trip.Limits, Limits{XMin: 3.38 * m, XMax: 3.52 * m, YMax: 0.012 * m, ZMax: 0.36 * m})
	}
	return p
}

// BenchmarkVoyage is the case: 120 items, 14 places, 90 days, ten seconds.
func BenchmarkVoyage(b *testing.B) {
	p := voyage(120, 90, 1)
	seconds := 10.0
	if testing.Short() {
		seconds = 1
	}
	for b.Loop() {
		began, first := time.Now(), 0.0
		s, err := Solve(context.Background(), p, Options{Seconds: seconds, Progress: func(p Progress) {
			if first == 0 && !math.IsNaN(p.Objective) {
				first = time.Since(began).Seconds()
			}
			b.Logf("%6.2f s: %.4f, bound %.4f, gap %.2f %%", time.Since(began).Seconds(), p.Objective, p.Bound, 100*p.Gap)
		}})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(100*s.Gap, "gap%")
		b.ReportMetric(first, "s-first")
		b.Logf("objective %.4f = handling %.4f + price %.4f; %d wishes, %d rules broken: %v", s.Objective, s.Handling, s.Price, len(s.Broken), len(s.Rules), s.Broken)
	}
}

// BenchmarkEvaluate is one look at a dragged item.
func BenchmarkEvaluate(b *testing.B) {
	p := voyage(120, 90, 1)
	s, err := Solve(context.Background(), p, Options{Seconds: 0.5})
	if err != nil {
		b.Fatal(err)
	}
	e, err := NewEvaluator(p)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	var f Figures
	for b.Loop() {
		e.Evaluate(s.Layout, &f)
	}
}
