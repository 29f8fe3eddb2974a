package stowing

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/house/patience"
)

// best solves a small problem to the end.
func best(t *testing.T, p *Problem) *Plan {
	t.Helper()
	s, err := Solve(context.Background(), p, Options{Seconds: 300}) // a guard: it ends long before
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestAgainstEveryLayout: source: every layout of the problem, tried by the slow twin.
func TestAgainstEveryLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	solved, none := 0, 0
	all := fewer(30)
	for solved+none < all {
		p := tiny(r)
		if every(p, nil) > 20000 {
			continue
		}
		want := math.Inf(1)
		every(p, func(l Layout) {
			v, _ := slow(p, l)
			want = min(want, v)
		})
		s := best(t, p)
		if math.IsInf(want, 1) {
			none++
			if !s.Impossible || len(s.Rules) == 0 {
				t.Errorf("no layout keeps the rules, and the plan says %+v", s)
			}
			continue
		}
		solved++
		if !s.Proved || math.Abs(s.Objective-want) > 1e-5 || s.Bound > want+1e-6 {
			t.Errorf("problem %d: objective %v, bound %v, proved %v; the best of all layouts is %v", solved, s.Objective, s.Bound, s.Proved, want)
		}
	}
	if none < all/10 || solved < all/3 {
		t.Errorf("%d problems with and %d without a plan: the trial is lopsided", solved, none)
	}
}

// bins is bin packing as stowing: one day, everything used on it, so that the places opened
// are the bins.
func bins(capacity float64, n int, sizes ...float64) *Problem {
	p := &Problem{Trip: Trip{Days: 1}, Weights: Weights{Open: [3]float64{1, 1, 1}}}
	for k := range n {
		p.Places = append(p.Places, Place{Volume: capacity, At: r3.Vec{X: float64(k)}})
	}
	for _, s := range sizes {
		p.Items = append(p.Items, Item{Units: 1, Volume: s, AnyReach: true, First: 1, Last: 1})
	}
	return p
}

func TestBins(t *testing.T) {
	for _, c := range []struct {
		name   string
		p      *Problem
		want   float64
		source string
	}{
		{"nine", bins(1, 6, 0.70, 0.60, 0.50, 0.33, 0.33, 0.33, 0.11, 0.07, 0.03), 4,
			"Martello & Toth, Knapsack Problems (1990), ch. 8, the example (from memory); by hand: three full bins are needed for 3, and no part of 33, 33, 33, 11, 7, 3 adds up to the 30 beside 70"},
		{"triplets", bins(1, 5, 0.26, 0.27, 0.47, 0.31, 0.33, 0.36, 0.252, 0.253, 0.495, 0.34, 0.28, 0.38), 4,
			"Falkenauer, A hybrid grouping genetic algorithm for bin packing (1996): each bin filled by three, so the number of triplets is the optimum by construction"},
		{"halves", bins(1, 8, 0.51, 0.52, 0.53, 0.54, 0.55, 0.2, 0.3), 5, "closed form: no two things above half a bin share one"},
	} {
		s := best(t, c.p)
		if !s.Proved || math.Abs(s.Objective-c.want) > 1e-5 {
			t.Errorf("%s: %v bins, bound %v, proved %v; want %v (%s)", c.name, s.Objective, s.Bound, s.Proved, c.want, c.source)
		}
	}
}

// fewer is how many trials are made: with -short, as under the race detector, a few.
func fewer(n int) int {
	if testing.Short() {
		return max(2, n/4)
	}
	return n
}

// small is a made-up voyage with few layouts, of which at least one keeps the rules.
func small(r *rand.Rand) *Problem {
	for {
		p := tiny(r)
		if len(p.Items) < 3 || every(p, nil) > 4000 {
			continue
		}
		can := false
		every(p, func(l Layout) {
			if !can {
				v, _ := slow(p, l)
				can = !math.IsInf(v, 1)
			}
		})
		if can {
			return p
		}
	}
}

// TestMirror: the same boat seen from the other side has the same best plan. Source: property.
func TestMirror(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 1))
	for range fewer(4) {
		p := small(r)
		q := *p
		q.Places = append([]Place(nil), p.Places...)
		for k := range q.Places {
			q.Places[k].At.Y = -q.Places[k].At.Y
		}
		rest := p.Trip.Rest[0]
		rest.Moment.Y = -rest.Moment.Y
		q.Trip.Rest = []Load{rest}
		a, b := best(t, p), best(t, &q)
		if math.Abs(a.Objective-b.Objective) > 1e-5 {
			t.Errorf("%v, and in the mirror %v", a.Objective, b.Objective)
		}
	}
	// A boat that is her own mirror image: the rows that take away half of the plans must
	// leave a best one. Source: every layout, tried.
	p := &Problem{Weights: UsualWeights(), Trip: Trip{Days: 2, Block: 1, Rest: []Load{{}}, Limits: []Limits{{XMin: math.Inf(-1), XMax: math.Inf(1), YMax: 1, ZMax: math.Inf(1)}}}}
	for _, y := range []float64{-0.5, 0.5, 0} {
		p.Places = append(p.Places, Place{Volume: 0.02, At: r3.Vec{X: 2, Y: y}, Reach: Reach(1 + y*y*4), Wet: y == 0})
	}
	p.Items = []Item{{Units: 2, Mass: 3, Volume: 0.006, First: 1, Last: 2, AnyReach: true}, {Units: 1, Mass: 5, Volume: 0.006, AnyReach: true, Dry: true},
		{Units: 1, Mass: 5, Volume: 0.006, AnyReach: true, Dry: true}, {Units: 2, Mass: 2, Volume: 0.004, AnyReach: true, MostShare: 0.5}}
	want := math.Inf(1)
	every(p, func(l Layout) { v, _ := slow(p, l); want = min(want, v) })
	if j, err := prepare(p); err != nil || j.mirror() == nil || len(j.build().order) == 0 || j.build().side < 0 {
		t.Error("the boat is not seen to be her own mirror image, or her two alike things not to be alike")
	}
	if s := best(t, p); !s.Proved || math.Abs(s.Objective-want) > 1e-5 {
		t.Errorf("her own mirror image: %v, want %v", s.Objective, want)
	}
}

// TestMorePlaces: another place never makes the best plan worse. Source: property.
func TestMorePlaces(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 1))
	for range fewer(4) {
		p := small(r)
		q := *p
		q.Places = append(append([]Place(nil), p.Places...), Place{Volume: 0.03, At: r3.Vec{X: 3.3, Z: 0.2}})
		a, b := best(t, p), best(t, &q)
		if b.Objective > a.Objective+1e-5 {
			t.Errorf("%v, and with a place more %v", a.Objective, b.Objective)
		}
	}
}

// TestScaling: all masses, moments and bounds ten times as large, at a tenth of the price,
// are the same problem. Source: property.
func TestScaling(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 1))
	const by = 10
	for range fewer(4) {
		p := small(r)
		q := *p
		q.Places, q.Items, q.Trip.Limits = append([]Place(nil), p.Places...), append([]Item(nil), p.Items...), nil
		for k := range q.Places {
			q.Places[k].MassLimit *= by
		}
		for i := range q.Items {
			q.Items[i].Mass *= by
		}
		for _, l := range p.Trip.Limits {
			q.Trip.Limits = append(q.Trip.Limits, Limits{by * l.XMin, by * l.XMax, by * l.YMax, by * l.ZMax})
		}
		q.Trip.Rest = []Load{{by * p.Trip.Rest[0].Mass, r3.Scale(by, p.Trip.Rest[0].Moment)}}
		q.Weights.Trim, q.Weights.Heel, q.Weights.Height = p.Weights.Trim/by, p.Weights.Heel/by, p.Weights.Height/by
		a, b := best(t, p), best(t, &q)
		if math.Abs(a.Objective-b.Objective) > 1e-5 {
			t.Errorf("%v, and ten times as heavy %v", a.Objective, b.Objective)
		}
	}
}

// TestVoyage: on a load of middling size the bound only rises, the plan only gets better and
// keeps the rules; stopping gives back what was told last, at once.
func TestVoyage(t *testing.T) {
	p := voyage(60, 45, 3)
	bound, objective := math.Inf(-1), math.Inf(1)
	var told Layout
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	var stopped time.Time
	s, err := Solve(ctx, p, Options{Seconds: 600, Progress: func(g Progress) {
		if g.Bound < bound || g.Objective > objective+1e-9 || g.Bound > g.Objective {
			t.Errorf("bound %v after %v, objective %v after %v", g.Bound, bound, g.Objective, objective)
		}
		bound = g.Bound
		if !math.IsNaN(g.Objective) {
			objective, told = g.Objective, g.Layout
		}
		if bound > 1.5 && stopped.IsZero() {
			stopped = time.Now()
			cancel()
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	if took := time.Since(stopped); stopped.IsZero() || patience.Over(took, 3*time.Second) {
		t.Errorf("the bound reached %v; it stopped %v after it was told to", bound, took)
	}
	if len(s.Rules) > 0 || s.Objective != objective || fmt.Sprint(s.Where) != fmt.Sprint(told.Where) || s.Bound > s.Objective || math.Abs(s.Gap-(s.Objective-s.Bound)/s.Objective) > 1e-9 {
		t.Errorf("objective %v, told %v, bound %v, gap %v, rules %v", s.Objective, objective, s.Bound, s.Gap, s.Rules)
	}
	for i, it := range p.Items {
		n := 0
		for _, day := range s.Use {
			for _, u := range day {
				if u.Item == i {
					n += u.Units
				}
			}
		}
		if it.Last > 0 && n != it.Units || it.Last == 0 && n != 0 {
			t.Errorf("item %d: %d of %d units are used", i, n, it.Units)
		}
	}
}

// TestRefused: numbers that mean nothing are an error that says which.
func TestRefused(t *testing.T) {
	for name, spoil := range map[string]func(*Problem){
		"no place":        func(p *Problem) { p.Places = nil },
		"volume":          func(p *Problem) { p.Places[0].Volume = math.NaN() },
		"place's centre":  func(p *Problem) { p.Places[0].At.X = math.Inf(1) },
		"half an opening": func(p *Problem) { p.Places[0].Opening = [2]float64{0, 0.3} },
		"mass":            func(p *Problem) { p.Items[0].Mass = -1 },
		"units":           func(p *Problem) { p.Items[0].Units = -1 },
		"day":             func(p *Problem) { p.Items[0].First, p.Items[0].Last = 2, 99 },
		"pin":             func(p *Problem) { p.Items[0].Pins = map[int]int{0: 99} },
		"pin nowhere":     func(p *Problem) { p.Items[0].Pins = map[int]int{99: 0} },
		"ban nowhere":     func(p *Problem) { p.Items[0].Banned = map[int]bool{-1: true} },
		"limits":          func(p *Problem) { p.Trip.Limits = make([]Limits, 2) },
		"crossed limits":  func(p *Problem) { p.Trip.Limits = []Limits{{XMin: 2, XMax: 1}} },
		"weight":          func(p *Problem) { p.Weights.Trim = math.NaN() },
		"rest":            func(p *Problem) { p.Trip.Rest = []Load{{Mass: math.NaN()}} },
	} {
		p := tiny(rand.New(rand.NewPCG(1, 1)))
		spoil(p)
		if s, err := Solve(context.Background(), p, Options{Seconds: 1}); err == nil {
			t.Errorf("%s: no error, %v", name, s)
		}
	}
	empty := &Problem{Places: []Place{{Volume: 1}}}
	if s, err := Solve(context.Background(), empty, Options{Seconds: 1}); err != nil || s.Objective != 0 || !s.Proved {
		t.Errorf("nothing to stow: %v, %v", s, err)
	}
}
