package stowing

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// breaks tells by how much a stowage at departure breaks a rule: litres, kilograms, units, places.
func breaks(p *Problem, r Rule, where [][]int) float64 {
	sum := 0.0
	if r.Kind == TooFew {
		units := 0
		for _, o := range p.Keeps[r.Other].Of {
			units += where[o.Item][o.Place]
		}
		return float64(max(0, p.Keeps[r.Other].Least-units))
	}
	for k, pl := range p.Places {
		if r.Place >= 0 && r.Place != k {
			continue
		}
		litres, kilos, a, b := 0.0, 0.0, false, false
		for i, it := range p.Items {
			n := float64(where[i][k])
			litres += 1000 * n * it.Volume
			kilos += n * it.Mass
			if r.Kind == Together && n > 0 {
				a = a || it.Group == p.Items[r.Item].Group
				b = b || it.Group == p.Items[r.Other].Group
			}
			if i != r.Item {
				continue
			}
			switch {
			case r.Kind == TooLarge && !slowPasses(it.Size, pl.Opening), r.Kind == GetsWet && it.Dry && pl.Wet, r.Kind == IsBanned && it.Banned[k]:
				sum += n
			case r.Kind == Unpinned:
				sum += math.Max(0, float64(it.Pins[k])-n)
			}
		}
		switch {
		case r.Kind == NoRoom:
			sum += math.Max(0, litres-1000*pl.Volume)
		case r.Kind == TooHeavy && pl.MassLimit > 0:
			sum += math.Max(0, kilos-pl.MassLimit)
		case r.Kind == Together && a && b:
			sum++
		}
	}
	return sum
}

// stowages calls f with every way to stow a problem at departure.
func stowages(p *Problem, f func(where [][]int)) {
	q := *p
	q.Items = append([]Item(nil), p.Items...)
	for i := range q.Items {
		q.Items[i].First, q.Items[i].Last = 0, 0
	}
	every(&q, func(l Layout) { f(l.Where) })
}

// together tells whether rules hold together: every stowage, tried.
func together(p *Problem, rules []Rule) bool {
	ok := false
	stowages(p, func(w [][]int) {
		for _, r := range rules {
			if ok || breaks(p, r, w) > 1e-6 {
				return
			}
		}
		ok = true
	})
	return ok
}

// TestExplain: what collides, in cases that can be seen at a glance. Source: by hand.
func TestExplain(t *testing.T) {
	place := func(litres float64) Place { return Place{Volume: litres / 1000} }
	wet := func(p Place) Place { p.Wet = true; return p }
	thing := func(n int, litres float64) Item {
		return Item{Units: n, Volume: litres / 1000, Mass: 1, AnyReach: true}
	}
	dry := func(i Item) Item { i.Dry = true; return i }
	pinned := func(i Item, k, n int) Item { i.Pins = map[int]int{k: n}; return i }
	food, fuel := thing(1, 2), thing(1, 2)
	food.Group, fuel.Group, fuel.Apart = "food", "fuel", []string{"food"}
	long := thing(1, 2)
	long.Size = [3]float64{0.5, 0.6, 0.7}
	hatch := place(100)
	hatch.Opening = [2]float64{0.4, 0.9}
	for _, c := range []struct {
		name    string
		p       *Problem
		collide string
		least   string
		source  string
	}{
		{"one place for food and fuel", &Problem{Places: []Place{place(9)}, Items: []Item{food, fuel}},
			"[{11 0 1 -1}]", "[{11 0 1 0 -1 0 1}]", "by hand: 3 for sharing the place, against 5.2 ashore"},
		{"three dry bags, room for two", &Problem{Places: []Place{place(20), wet(place(100))}, Items: []Item{dry(thing(3, 10))}},
			"[{7 -1 -1 0} {10 0 -1 -1}]", "[{7 -1 -1 0 -1 0 0.01}]", "by hand: ten litres more, at 1, against 3 for one wet bag"},
		{"through no hatch", &Problem{Places: []Place{hatch}, Items: []Item{long, thing(2, 3)}},
			"[{9 0 -1 -1}]", "[{14 0 -1 -1 -1 0 1}]", "by hand: 0.5 by 0.6 does not go through 0.4 by 0.9"},
		{"pinned where it does not fit", &Problem{Places: []Place{place(10), place(100)}, Items: []Item{pinned(thing(2, 30), 0, 2)}},
			"[{7 -1 -1 0} {13 0 -1 0}]", "[{13 0 -1 0 -1 0 2}]", "by hand: two pins at 1, against 50 litres at 0.1"},
	} {
		a, err := Explain(context.Background(), c.p, Options{Seconds: 300})
		if err != nil {
			t.Fatal(err)
		}
		if fmt.Sprint(a.Collide) != c.collide || !a.Minimal {
			t.Errorf("%s: %v collide (minimal %v), want %s (%s)", c.name, a.Collide, a.Minimal, c.collide, c.source)
		}
		if a.Least == nil || fmt.Sprint(a.Least.Breaches) != c.least || !a.Least.Proved {
			t.Errorf("%s: least concession %+v, want %s (%s)", c.name, a.Least, c.least, c.source)
		}
	}
}

// TestExplainAgainstEveryStowage: the set collides, no part of it does, and the concessions
// are the least. Source: every stowage, tried.
func TestExplainAgainstEveryStowage(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 4))
	for n := 0; n < fewer(8); {
		p := tiny(r)
		j, err := prepare(p)
		if err != nil {
			t.Fatal(err)
		}
		q := *p
		q.Items = append([]Item(nil), p.Items...)
		for i := range q.Items {
			q.Items[i].First, q.Items[i].Last = 0, 0
		}
		all := j.rules()
		if every(&q, nil) > 3000 || together(p, all) {
			continue
		}
		n++
		a, err := Explain(context.Background(), p, Options{Seconds: 300})
		if err != nil {
			t.Fatal(err)
		}
		if together(p, a.Collide) || !a.Minimal || len(a.Collide) == 0 {
			t.Errorf("problem %d: %v hold together (minimal %v)", n, a.Collide, a.Minimal)
		}
		for k := range a.Collide {
			if !together(p, append(append([]Rule(nil), a.Collide[:k]...), a.Collide[k+1:]...)) {
				t.Errorf("problem %d: %v still collide without number %d", n, a.Collide, k)
			}
		}
		for _, c := range []struct {
			kind  Kind
			price float64
		}{{NoRoom, perLitre}, {GetsWet, perWet}, {Together, perMixed}, {Unpinned, perPin}, {TooFew, perMixed}} {
			want := math.Inf(1)
			stowages(p, func(w [][]int) {
				sum := 0.0
				for _, r := range all {
					b := breaks(p, r, w)
					if b > 1e-6 && r.Kind != c.kind {
						return
					}
					sum += b
				}
				want = min(want, sum*c.price)
			})
			got := math.Inf(1)
			for _, o := range a.Only {
				if o.Kinds[0] == c.kind {
					got = o.Price
				}
			}
			if math.Abs(got-want) > 1e-4 && got != want {
				t.Errorf("problem %d: conceding kind %d alone costs %v, want %v", n, c.kind, got, want)
			}
			if a.Least == nil || a.Least.Price > want+1e-4 {
				t.Errorf("problem %d: the least concession %+v is dearer than %v", n, a.Least, want)
			}
		}
	}
}

// TestWishesCollide. Source: by hand.
func TestWishesCollide(t *testing.T) {
	p := &Problem{Places: []Place{{Volume: 1, At: r3.Vec{X: 1}}, {Volume: 1, At: r3.Vec{X: 5, Y: 0.2}, Reach: InCalm}},
		Items: []Item{{Units: 2, Mass: 10, Reach: AtSeat}, {Units: 1, Mass: 1, AnyReach: true}},
		Trip:  Trip{Limits: []Limits{{XMin: 60, XMax: math.Inf(1), YMax: 100, ZMax: 100}}}}
	a, err := Explain(context.Background(), p, Options{Seconds: 300})
	if err != nil {
		t.Fatal(err)
	}
	if want := "[{0 -1 -1 -1} {6 0 -1 -1}]"; fmt.Sprint(a.Wishes) != want || !a.WishesMinimal || a.Collide != nil {
		t.Errorf("%+v, want the wishes %s: 60 kg m need a heavy thing in the place that is only reached in calm", a, want)
	}
	p.Trip.Limits[0].XMin = 20
	if a, err = Explain(context.Background(), p, Options{Seconds: 300}); err != nil || a.Wishes != nil {
		t.Errorf("wishes that can be had: %+v, %v", a, err)
	}
}

// TestReplan: eaten differently, the order is found anew from what is left, and is the best.
// Source: every order, tried by the slow twin.
func TestReplan(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 1))
	tried := 0
	for tried < fewer(4) {
		p := small(r)
		s := best(t, p)
		stock := s.Layout.Clone().Where
		used := false
		for i, it := range p.Items {
			for k := range stock[i] {
				if it.Last > 0 && stock[i][k] > 0 && !used { // one unit more is gone than planned
					stock[i][k]--
					used = true
				}
			}
		}
		left, err := Left(p, 1, stock)
		if err != nil {
			t.Fatal(err)
		}
		if every(left, nil) > 20000 || !used {
			continue
		}
		tried++
		got, err := Replan(context.Background(), p, 1, stock, Options{Seconds: 300})
		if err != nil {
			t.Fatal(err)
		}
		want := math.Inf(1)
		every(left, func(l Layout) { v, _ := slow(left, l); want = min(want, v) })
		if !got.Proved || math.Abs(got.Objective-want) > 1e-5 || fmt.Sprint(got.Where) != fmt.Sprint(stock) || len(got.Use) != p.Trip.Days-1 {
			t.Errorf("objective %v (proved %v), want %v; it lies %v, want %v", got.Objective, got.Proved, want, got.Where, stock)
		}
	}
	if _, err := Left(tiny(r), 99, nil); err == nil {
		t.Error("a day after the trip: no error")
	}
}

// TestPinCost. Source: every layout, tried by the slow twin, with and without the pin.
func TestPinCost(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 3))
	tried, dear := 0, 0
	for tried < fewer(6) {
		p := small(r)
		item, place := r.IntN(len(p.Items)), r.IntN(len(p.Places))
		if every(p, nil) > 20000 || len(p.Items[item].Pins) > 0 {
			continue
		}
		without, with := math.Inf(1), math.Inf(1)
		every(p, func(l Layout) {
			v, _ := slow(p, l)
			without = min(without, v)
			if l.Where[item][place] > 0 {
				with = min(with, v)
			}
		})
		c, err := PinCost(context.Background(), p, item, place, 1, Options{Seconds: 300})
		if err != nil {
			t.Fatal(err)
		}
		tried++
		if math.IsInf(with, 1) {
			if !c.With.Impossible {
				t.Errorf("the pin cannot be had, and the plan says %+v", c.With)
			}
			continue
		}
		if with > without+1e-6 {
			dear++
		}
		if want := with - without; math.Abs(c.Objective-want) > 1e-5 || c.Range[0] > want+1e-5 || c.Range[1] < want-1e-5 {
			t.Errorf("the pin costs %v in %v, want %v", c.Objective, c.Range, want)
		}
		if len(p.Items[item].Pins) > 0 {
			t.Error("the caller's problem was changed")
		}
	}
	if dear == 0 && !testing.Short() {
		t.Error("no pin cost anything: the trial is lopsided")
	}
}

// TestMove: a dragged item keeps the layout one of the problem.
func TestMove(t *testing.T) {
	p := voyage(40, 30, 5)
	e, err := NewEvaluator(p)
	if err != nil {
		t.Fatal(err)
	}
	s := e.j.newSearch(1)
	s.greedy()
	l, r := s.best.Clone(), rand.New(rand.NewPCG(1, 1))
	for range 500 {
		l.Move(r.IntN(len(p.Items)), r.IntN(len(p.Places)), r.IntN(len(p.Places)), r.IntN(40))
		if err := e.Check(l); err != nil {
			t.Fatal(err)
		}
	}
}

// TestEase: how much of one wish no stowage has. Source: by hand.
func TestEase(t *testing.T) {
	p := &Problem{Places: []Place{{Volume: 0.015, At: r3.Vec{X: 1, Z: 0.1}}, {Volume: 1, At: r3.Vec{X: 5, Y: 0.2, Z: 0.5}}},
		Items: []Item{{Units: 3, Mass: 10, Volume: 0.01, AnyReach: true}},
		Trip:  Trip{Days: 2, Rest: []Load{{Mass: 100, Moment: r3.Vec{Z: 20}}}, Limits: []Limits{{XMin: 0, XMax: 90, YMax: 3, ZMax: 25}}}}
	for _, c := range []struct {
		kind   Kind
		scale  []float64
		want   float64
		source string
	}{
		{TooHigh, []float64{130}, (20 + 1 + 10 - 25) / 130.0, "one of three has room below: 20 + 10·0.1 + 20·0.5 kg m, of 130 kg"},
		{HeelToPort, []float64{1}, 20*0.2 - 3, "two of three lie 0.2 m off"},
		{TrimByBow, []float64{1}, 110 - 90, "10·1 + 20·5 kg m, and 90 are allowed"},
	} {
		got, err := Ease(context.Background(), p, c.kind, c.scale, 100)
		if err != nil || math.Abs(got-c.want) > 1e-5 {
			t.Errorf("kind %d: %v (%v), want %v (%s)", c.kind, got, err, c.want, c.source)
		}
	}
	p.Trip.Limits[0] = Limits{XMin: 0, XMax: 200, YMax: 30, ZMax: 250}
	if got, err := Ease(context.Background(), p, TooHigh, []float64{130}, 100); err != nil || got != 0 {
		t.Errorf("a wish that can be had: %v, %v", got, err)
	}
}
