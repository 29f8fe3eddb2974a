package faulttree

import (
	"context"
	"fmt"
	"math/bits"
	"testing"

	"pgregory.net/rapid"
)

// made draws a small tree: events that need what stands before them, causes that may bring
// each other, gates of every rule.
func made(t *rapid.T) Tree {
	var tree Tree
	nCauses := rapid.IntRange(0, 3).Draw(t, "causes")
	var before []string
	for i := range nCauses {
		before = append(before, fmt.Sprintf("c%d", i))
	}
	some := func(label string, from []string, least, most int) []string {
		if len(from) == 0 {
			return nil
		}
		most = min(most, len(from))
		return rapid.SliceOfNDistinct(rapid.SampledFrom(from), min(least, most), most, rapid.ID).Draw(t, label)
	}
	gate := func(name string) Gate {
		g := Gate{Name: name, Of: some(name, before, 1, 5)}
		g.Rule = Rule(rapid.IntRange(0, 2).Draw(t, "rule"))
		if g.Rule == AtLeast {
			g.Least = rapid.IntRange(1, len(g.Of)).Draw(t, "least")
		}
		return g
	}
	var names []string
	for i := range rapid.IntRange(1, 8).Draw(t, "events") {
		name := fmt.Sprintf("e%d", i)
		e := Event{Name: name}
		if rapid.IntRange(0, 2).Draw(t, "needy") == 0 {
			e.Needs = some(name, before, 0, 2)
		}
		tree.Events = append(tree.Events, e)
		before, names = append(before, name), append(names, name)
		if rapid.Bool().Draw(t, "gate") {
			g := gate(fmt.Sprintf("g%d", i))
			tree.Gates = append(tree.Gates, g)
			before = append(before, g.Name)
		}
	}
	for i := range nCauses {
		names = append(names, fmt.Sprintf("c%d", i))
	}
	for i := range nCauses {
		name := fmt.Sprintf("c%d", i)
		tree.Causes = append(tree.Causes, Cause{Name: name, Kind: Compartment, Fails: some(name, names, 0, 4)})
	}
	for i := range rapid.IntRange(1, 3).Draw(t, "functions") {
		g := gate(fmt.Sprintf("f%d", i))
		tree.Functions = append(tree.Functions, Function{Gate: g, Weight: float64(i)})
		before = append(before, g.Name)
	}
	return tree
}

// works is the obvious twin: whether a node works when the atoms of down have failed.
// Nothing in it is shared with the package but the tree.
func works(tree *Tree, name string, down map[string]bool) bool {
	happened := func(cause string) bool {
		// Causes that bring this one, however far round, by repeated passes.
		on := map[string]bool{}
		for range len(tree.Causes) + 1 {
			for _, c := range tree.Causes {
				if down[c.Name] || on[c.Name] {
					on[c.Name] = true
					for _, f := range c.Fails {
						on[f] = true
					}
				}
			}
		}
		return on[cause]
	}
	for _, e := range tree.Events {
		if e.Name != name {
			continue
		}
		if down[name] || happened(name) {
			return false
		}
		for _, n := range e.Needs {
			if !works(tree, n, down) {
				return false
			}
		}
		return true
	}
	for _, c := range tree.Causes {
		if c.Name == name {
			return !happened(name)
		}
	}
	gate := func(g Gate) bool {
		n := 0
		for _, of := range g.Of {
			if works(tree, of, down) {
				n++
			}
		}
		switch g.Rule {
		case AnyOf:
			return n > 0
		case AllOf:
			return n == len(g.Of)
		}
		return n >= g.Least
	}
	for _, g := range tree.Gates {
		if g.Name == name {
			return gate(g)
		}
	}
	for _, f := range tree.Functions {
		if f.Name == name {
			return gate(f.Gate)
		}
	}
	panic("no node " + name)
}

// atomsOf are the names of events, then causes.
func atomsOf(tree *Tree) []string {
	var names []string
	for _, e := range tree.Events {
		names = append(names, e.Name)
	}
	for _, c := range tree.Causes {
		names = append(names, c.Name)
	}
	return names
}

// TestAgainstEverySubset sets cut sets, path sets, probability and importances against the
// whole truth table. Source: the definitions.
func TestAgainstEverySubset(t *testing.T) {
	ctx := context.Background()
	rapid.Check(t, func(t *rapid.T) {
		tree := made(t)
		l, err := New(tree)
		if err != nil {
			t.Fatal(err)
		}
		atoms := atomsOf(&tree)
		n := len(atoms)
		p := map[string]float64{}
		q := make([]float64, n)
		for i, name := range atoms {
			q[i] = rapid.Float64Range(0, 1).Draw(t, "p")
			p[name] = q[i]
		}
		for _, f := range tree.Functions {
			ended := make([]bool, 1<<n)
			down := make(map[string]bool, n)
			for m := range ended {
				for i, name := range atoms {
					down[name] = m>>i&1 == 1
				}
				ended[m] = !works(&tree, f.Name, down)
			}
			minimal := func(is func(m int) bool) map[string]int {
				sets := map[string]int{}
				for m := range 1 << n {
					least := is(m)
					for i := range n {
						least = least && (m>>i&1 == 0 || !is(m&^(1<<i)))
					}
					if least {
						var c Cut
						for i, name := range atoms {
							if m>>i&1 == 1 {
								c = append(c, name)
							}
						}
						sets[written([]Cut{c})] = bits.OnesCount(uint(m))
					}
				}
				return sets
			}
			same := func(what string, found Found, want map[string]int, order int) {
				count := 0
				for _, size := range want {
					if order == 0 || size <= order {
						count++
					}
				}
				for _, c := range found.Cuts {
					if size, ok := want[written([]Cut{c})]; !ok || size != len(c) {
						t.Fatalf("%s %s up to %d: %v is not minimal, of %v", f.Name, what, order, c, want)
					}
				}
				if len(found.Cuts) != count || found.CutOff != "" {
					t.Fatalf("%s %s up to %d: %v, want %v; %s", f.Name, what, order, found.Cuts, want, found.CutOff)
				}
			}
			cuts := minimal(func(m int) bool { return ended[m] })
			paths := minimal(func(m int) bool { return !ended[(1<<n-1)&^m] })
			for order := range 5 {
				found, err := l.Cuts(ctx, Options{Order: order}, f.Name)
				if err != nil {
					t.Fatal(err)
				}
				same("cut sets", found[0], cuts, order)
				held, err := l.Paths(ctx, Options{Order: order}, f.Name)
				if err != nil {
					t.Fatal(err)
				}
				same("path sets", held[0], paths, order)
			}
			w, err := l.Weigh(ctx, Options{}, f.Name, p)
			if err != nil {
				t.Fatal(err)
			}
			chance := func(m int) float64 {
				x := 1.0
				for i := range n {
					if m>>i&1 == 1 {
						x *= q[i]
					} else {
						x *= 1 - q[i]
					}
				}
				return x
			}
			exact := 0.0
			for m, end := range ended {
				if end {
					exact += chance(m)
				}
			}
			if !near64(w.Exact, exact, 1e-12) || w.RareEvent < w.Exact-1e-12 || int(w.Sets) != len(cuts) {
				t.Fatalf("%s: %v, rare event %v, %v sets; want %v, %d", f.Name, w.Exact, w.RareEvent, w.Sets, exact, len(cuts))
			}
			for _, part := range w.Parts {
				var i int
				for atoms[i] != part.Name {
					i++
				}
				decides, likely := 0, 0.0
				for m := range ended {
					if m>>i&1 == 0 && ended[m|1<<i] && !ended[m] {
						decides++
						likely += chance(m) + chance(m|1<<i)
					}
				}
				if !near64(part.Structural, float64(decides)/float64(int(1)<<(n-1)), 1e-12) || !near64(part.Birnbaum, likely, 1e-12) {
					t.Fatalf("%s: %+v, want %d of %d and %v", f.Name, part, decides, 1<<(n-1), likely)
				}
			}
		}
	})
}

// TestAfter: once some have failed, what ends a function is what ends it together with
// them. Source: the definition.
func TestAfter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tree := made(t)
		l, err := New(tree)
		if err != nil {
			t.Fatal(err)
		}
		atoms := atomsOf(&tree)
		lost := rapid.SliceOfNDistinct(rapid.SampledFrom(atoms), 1, 2, rapid.ID).Draw(t, "lost")
		after, err := l.After(lost...)
		if err != nil {
			t.Fatal(err)
		}
		down := map[string]bool{}
		for _, name := range lost {
			down[name] = true
		}
		for order := range 2 {
			found, err := after.Cuts(context.Background(), Options{Order: order})
			if err != nil {
				t.Fatal(err)
			}
			for i, f := range tree.Functions {
				if found[i].Ended == works(&tree, f.Name, down) {
					t.Fatalf("%s after %v: ended %v", f.Name, lost, found[i].Ended)
				}
				single := map[string]bool{}
				for _, name := range found[i].Singles() {
					single[name] = true
				}
				for _, name := range atoms {
					if down[name] || found[i].Ended {
						continue
					}
					down[name] = true
					if works(&tree, f.Name, down) == single[name] {
						t.Fatalf("%s after %v: single %s is %v", f.Name, lost, name, single[name])
					}
					delete(down, name)
				}
			}
		}
	})
}

// TestSpareNeverAdds: a spare adds no single failure, wherever it lies. Source: the logic
// has no "not", and the spare serves only where the item did.
func TestSpareNeverAdds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tree := made(t)
		var candidates []Candidate
		for _, e := range tree.Events {
			s := Spare{Of: e.Name}
			for _, c := range tree.Causes {
				if rapid.Bool().Draw(t, "in") {
					s.In = append(s.In, c.Name)
				}
			}
			candidates = append(candidates, Candidate{Name: "spare " + e.Name, Change: s, Cost: 1})
		}
		m, err := FindMends(context.Background(), tree, candidates)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range m.Effects {
			if len(e.Added) > 0 {
				t.Fatalf("%s adds %v", candidates[e.Candidate].Name, e.Added)
			}
		}
	})
}
