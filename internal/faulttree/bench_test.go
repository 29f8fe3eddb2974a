package faulttree

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"
)

// outfit is a large boat's worth: 200 items in 14 compartments and two cabins, a battery
// and two people, 40 functions; each function has a few ways, each of a few things.
func outfit() Tree {
	random := rand.New(rand.NewPCG(3, 4))
	var tree Tree
	for i := range 197 {
		e := Event{Name: fmt.Sprintf("item %03d", i)}
		if i%9 == 0 {
			e.Needs = []string{"battery"}
		} else if i%13 == 0 {
			e.Needs = []string{"crew"}
		}
		tree.Events = append(tree.Events, e)
	}
	tree.Events = append(tree.Events, Event{Name: "battery", Kind: Battery}, Event{Name: "Ann", Kind: Person}, Event{Name: "Ben", Kind: Person})
	for i := range 14 {
		c := Cause{Name: fmt.Sprint("locker ", 101+i), Kind: Compartment}
		for j := i; j < 197; j += 14 {
			c.Fails = append(c.Fails, fmt.Sprintf("item %03d", j))
		}
		tree.Causes = append(tree.Causes, c)
	}
	tree.Causes = append(tree.Causes,
		Cause{Name: "fore cabin", Kind: Cabin, Fails: []string{"locker 101", "locker 102"}},
		Cause{Name: "aft cabin", Kind: Cabin, Fails: []string{"locker 113", "locker 114", "battery"}})
	tree.Gates = append(tree.Gates, Gate{Name: "crew", Of: []string{"Ann", "Ben"}})
	for f := range 40 {
		var ways []string
		for w := range 2 + random.IntN(2) {
			g := Gate{Name: fmt.Sprintf("way %d of %d", w, f), Rule: AllOf}
			for _, i := range random.Perm(197)[:1+random.IntN(3)] {
				g.Of = append(g.Of, tree.Events[i].Name)
			}
			if f > 0 && random.IntN(3) == 0 {
				g.Of = append(g.Of, fmt.Sprint("function ", random.IntN(f)))
			}
			tree.Gates = append(tree.Gates, g)
			ways = append(ways, g.Name)
		}
		tree.Functions = append(tree.Functions, Function{Gate{Name: fmt.Sprint("function ", f), Of: ways}, float64(f)})
	}
	return tree
}

func benchmarkCuts(b *testing.B, order int) {
	l, err := New(outfit())
	if err != nil {
		b.Fatal(err)
	}
	sets := 0
	for b.Loop() {
		found, err := l.Cuts(context.Background(), Options{Order: order, Limit: 1e6})
		if err != nil {
			b.Fatal(err)
		}
		sets = 0
		for _, f := range found {
			if f.CutOff != "" {
				b.Fatal(f.Function, f.CutOff)
			}
			sets += len(f.Cuts)
		}
	}
	b.ReportMetric(float64(sets), "sets")
}

// BenchmarkSingles, BenchmarkPairs and BenchmarkThrees are of all 40 functions.
func BenchmarkSingles(b *testing.B) { benchmarkCuts(b, 1) }
func BenchmarkPairs(b *testing.B)   { benchmarkCuts(b, 2) }
func BenchmarkThrees(b *testing.B)  { benchmarkCuts(b, 3) }

// BenchmarkAll is every cut set of 40 functions, by diagrams.
func BenchmarkAll(b *testing.B) { benchmarkCuts(b, 0) }

func BenchmarkNew(b *testing.B) {
	tree := outfit()
	for b.Loop() {
		if _, err := New(tree); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkMends tries a spare of each item in two places, and each item in every locker.
func BenchmarkMends(b *testing.B) {
	tree := outfit()
	var candidates []Candidate
	for i, e := range tree.Events[:197] {
		for _, c := range tree.Causes[:14] {
			candidates = append(candidates, Candidate{Name: e.Name, Change: Move{Item: e.Name, To: []string{c.Name}}})
		}
		for _, c := range tree.Causes[:2] {
			candidates = append(candidates, Candidate{Name: e.Name, Change: Spare{Of: e.Name, In: []string{c.Name}}, Cost: float64(i)})
		}
	}
	b.ReportMetric(float64(len(candidates)), "candidates")
	for b.Loop() {
		if _, err := FindMends(context.Background(), tree, candidates); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWeigh(b *testing.B) {
	tree := outfit()
	l, err := New(tree)
	if err != nil {
		b.Fatal(err)
	}
	p := map[string]float64{}
	for _, name := range atomsOf(&tree) {
		p[name] = 0.01
	}
	for b.Loop() {
		for _, f := range tree.Functions {
			if _, err := l.Weigh(context.Background(), Options{}, f.Name, p); err != nil {
				b.Fatal(err)
			}
		}
	}
}
