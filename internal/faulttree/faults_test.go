package faulttree

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestFaults(t *testing.T) {
	two := events("a b")
	one := func(g Gate) Tree { return Tree{Events: two, Functions: []Function{{Gate: g}}} }
	for _, c := range []struct {
		name string
		tree Tree
		want []string // a piece of each fault, in order; all there are
	}{
		{"empty gate", one(Gate{Name: "f"}), []string{`"f" has nothing that provides it`}},
		{"unknown", one(Gate{Name: "f", Of: []string{"A", "zz"}}), []string{`names "A"`, `names "zz"`}},
		{"hint", one(Gate{Name: "f", Of: []string{"A"}}), []string{`there is "a"`}},
		{"twice", one(Gate{Name: "f", Of: []string{"a", "a"}}), []string{`names "a" twice`}},
		{"too many", one(Gate{Name: "f", Rule: AtLeast, Least: 3, Of: []string{"a", "b"}}), []string{"at least 3 of 2"}},
		{"none", one(Gate{Name: "f", Rule: AtLeast, Of: []string{"a", "b"}}), []string{"at least 0 of 2"}},
		{"two rules", one(Gate{Name: "f", Least: 1, Of: []string{"a"}}), []string{"any of and a least number"}},
		{"no rule", one(Gate{Name: "f", Rule: 9, Of: []string{"a"}}), []string{"no rule"}},
		{"one name", one(Gate{Name: "a", Of: []string{"b"}}), []string{`"a" is the name of two`}},
		{"no name", one(Gate{Of: []string{"b"}}), []string{"function number 3 has no name"}},
		{"no names, and named", Tree{Events: events("a a a b"), Functions: []Function{{Gate: Gate{Name: "f", Of: []string{"b", "g"}}}, {Gate: Gate{Name: "g", Of: []string{"b"}}}}}, []string{"two nodes", "two nodes"}},
		{"weight", Tree{Events: two, Functions: []Function{{Gate{Name: "f", Of: []string{"a"}}, math.NaN()}}}, []string{"weight NaN"}},
		{"cause fails gate", Tree{Events: two, Causes: []Cause{{Name: "c", Fails: []string{"f"}}}, Functions: []Function{{Gate: Gate{Name: "f", Of: []string{"a"}}}}}, []string{`fails "f", which is not an event or a cause`}},
		{"all at once", Tree{Events: []Event{{Name: "a", Needs: []string{"x"}}}, Gates: []Gate{{Name: "g"}}, Functions: []Function{{Gate: Gate{Name: "f", Of: []string{"y"}}}}}, []string{`names "x" in its needs`, `"g" has nothing`, `names "y"`}},
		{"cycle of needs", Tree{Events: []Event{{Name: "desalinator", Needs: []string{"battery"}}, {Name: "battery", Needs: []string{"charge"}}}, Gates: []Gate{{Name: "charge", Of: []string{"desalinator"}}}}, []string{`"desalinator" needs "battery" needs "charge" needs "desalinator"`}},
		{"needs itself", one(Gate{Name: "f", Of: []string{"f"}}), []string{`"f" needs "f"`}},
		{"two cycles", Tree{Events: two, Gates: []Gate{{Name: "g", Of: []string{"h", "a"}}, {Name: "h", Of: []string{"g"}}, {Name: "i", Of: []string{"i"}}}}, []string{`"g" needs "h" needs "g"`, `"i" needs "i"`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := New(c.tree)
			var faults Faults
			if !errors.As(err, &faults) || len(faults) != len(c.want) {
				t.Fatalf("%d faults wanted: %v", len(c.want), err)
			}
			for i, want := range c.want {
				if got := faults[i].Error(); !strings.Contains(got, want) || faults[i].Mend == "" {
					t.Errorf("%s\nwants %s, and a mend", got, want)
				}
			}
		})
	}
	l := ready(t, known[0].tree)
	if _, err := l.After("K2", "E2", "k2"); err == nil || strings.Count(err.Error(), "\n") != 1 {
		t.Errorf("two faults wanted: %v", err)
	}
	if _, err := l.Cuts(t.Context(), Options{}, "E2", "nothing"); err == nil || strings.Count(err.Error(), "\n") != 1 {
		t.Errorf("two faults wanted: %v", err)
	}
	if _, err := l.Cuts(t.Context(), Options{Order: -1}); err == nil {
		t.Error("an order below 0 is refused")
	}
	if _, err := l.Weigh(t.Context(), Options{}, "E1", map[string]float64{"T": 2, "K2": .1, "S": .1, "S1": .1, "K1": .1, "E2": 1}); err == nil || strings.Count(err.Error(), "\n") != 2 {
		t.Errorf("three faults wanted (R has none, T is 2, E2 is a gate): %v", err)
	}
}

// TestJoinedCompartments: two compartments with a hole between them flood each other, and
// this is no cycle.
func TestJoinedCompartments(t *testing.T) {
	l := ready(t, Tree{
		Events:    events("pump bucket"),
		Causes:    []Cause{{Name: "301", Kind: Compartment, Fails: []string{"pump", "302"}}, {Name: "302", Kind: Compartment, Fails: []string{"bucket", "301"}}},
		Functions: []Function{{Gate: Gate{Name: "bail", Of: []string{"pump", "bucket"}}}},
	})
	if got := written(ask(t, l, Options{Order: 2}, "bail").Cuts); got != "301; 302; pump bucket" {
		t.Error(got)
	}
}
