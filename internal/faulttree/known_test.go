package faulttree

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// known are trees with answers from outside.
var known = []struct {
	name    string
	tree    Tree
	cuts    string // "a b; c": sets of one function, by order, then as in the tree
	paths   string
	p       map[string]float64
	exact   float64
	rare    float64
	tol     float64 // relative, for both
	parts   map[string]Importance
	partTol float64
	source  string
}{
	{
		name: "pressure tank",
		// E1 = T + E2, E2 = K2 + E3, E3 = S·E4, E4 = S1 + E5, E5 = K1 + R
		tree: Tree{
			Events: events("T K2 S S1 K1 R"),
			Gates: []Gate{
				{Name: "E2", Rule: AllOf, Of: []string{"K2", "E3"}},
				{Name: "E3", Rule: AnyOf, Of: []string{"S", "E4"}},
				{Name: "E4", Rule: AllOf, Of: []string{"S1", "E5"}},
				{Name: "E5", Rule: AllOf, Of: []string{"K1", "R"}},
			},
			Functions: []Function{{Gate: Gate{Name: "E1", Rule: AllOf, Of: []string{"T", "E2"}}}},
		},
		cuts:  "T; K2; S S1; S K1; S R",
		paths: "T K2 S; T K2 S1 K1 R",
		p:     map[string]float64{"T": 5e-6, "K2": 3e-5, "S": 1e-4, "S1": 3e-5, "K1": 3e-5, "R": 1e-4},
		rare:  5e-6 + 3e-5 + 1e-4*(3e-5+3e-5+1e-4),
		exact: 1 - (1-5e-6)*(1-3e-5)*(1-1e-4*(1-(1-3e-5)*(1-3e-5)*(1-1e-4))),
		tol:   1e-10, // 1 - (1-x) loses about 1e-16 of 3.5e-5
		parts: map[string]Importance{
			// The handbook gives the share of the cut set K2 as 86 % and of T as 14 %.
			"K2": {FussellVesely: 0.86},
			"T":  {FussellVesely: 0.14},
		},
		partTol: 0.005,
		source:  "NUREG-0492 (1981), ch. VIII, pressure tank, reduced tree of primary failures, its cut sets and component values: from memory; the sums are written out here",
	},
	{
		name: "top-down substitution",
		// T = E1·E2, E1 = A + E3, E3 = B + C, E2 = C + E4, E4 = A·B
		tree: Tree{
			Events: events("A B C"),
			Gates: []Gate{
				{Name: "E1", Rule: AllOf, Of: []string{"A", "E3"}},
				{Name: "E2", Rule: AllOf, Of: []string{"C", "E4"}},
				{Name: "E3", Rule: AllOf, Of: []string{"B", "C"}},
				{Name: "E4", Rule: AnyOf, Of: []string{"A", "B"}},
			},
			Functions: []Function{{Gate: Gate{Name: "T", Rule: AnyOf, Of: []string{"E1", "E2"}}}},
		},
		cuts:   "C; A B",
		paths:  "A C; B C",
		source: "NUREG-0492 (1981), ch. VII, the example of top-down and bottom-up substitution, T = C + A·B: from memory",
	},
	{
		name: "three cut sets, three path sets",
		tree: Tree{
			Events: events("1 2 3 4"),
			Gates: []Gate{
				{Name: "12", Rule: AnyOf, Of: []string{"1", "2"}},
				{Name: "23", Rule: AnyOf, Of: []string{"2", "3"}},
				{Name: "14", Rule: AnyOf, Of: []string{"1", "4"}},
			},
			Functions: []Function{{Gate: Gate{Name: "top", Rule: AllOf, Of: []string{"12", "23", "14"}}}},
		},
		cuts:   "1 2; 1 4; 2 3",
		paths:  "1 2; 1 3; 2 4",
		source: "Fussell, Henry and Marshall, MOCUS, ANCR-1156 (1974), figure 1: its cut and path sets as quoted in a public abstract; the tree here is written from the cut sets, so the check is of the path sets",
	},
	{
		name: "bridge",
		// From s to t over 1-4 and 2-5, with 3 across.
		tree: Tree{
			Events: events("1 2 3 4 5"),
			Gates: []Gate{
				{Name: "14", Rule: AllOf, Of: []string{"1", "4"}},
				{Name: "25", Rule: AllOf, Of: []string{"2", "5"}},
				{Name: "135", Rule: AllOf, Of: []string{"1", "3", "5"}},
				{Name: "234", Rule: AllOf, Of: []string{"2", "3", "4"}},
			},
			Functions: []Function{{Gate: Gate{Name: "bridge", Rule: AnyOf, Of: []string{"14", "25", "135", "234"}}}},
		},
		cuts:  "1 2; 4 5; 1 3 5; 2 3 4",
		paths: "1 4; 2 5; 1 3 5; 2 3 4",
		p:     map[string]float64{"1": .1, "2": .1, "3": .1, "4": .1, "5": .1},
		// h(r) = 2r² + 2r³ - 5r⁴ + 2r⁵ at r = 0.9
		exact: 1 - (2*.81 + 2*.729 - 5*.6561 + 2*.59049),
		rare:  2*.01 + 2*.001,
		tol:   1e-13,
		parts: map[string]Importance{
			"1": {Structural: 3. / 8}, "2": {Structural: 3. / 8}, "4": {Structural: 3. / 8}, "5": {Structural: 3. / 8},
			"3": {Structural: 1. / 8},
		},
		partTol: 1e-15,
		source:  "Barlow and Proschan, Statistical Theory of Reliability and Life Testing (1975), ch. 1 and 2, the bridge: from memory; h'(1/2) = 13/8 = 4·3/8 + 1/8 agrees",
	},
}

// events of the given names.
func events(names string) []Event {
	var list []Event
	for _, name := range strings.Fields(names) {
		list = append(list, Event{Name: name})
	}
	return list
}

// written is cut sets as in the table above.
func written(cuts []Cut) string {
	var sets []string
	for _, c := range cuts {
		sets = append(sets, strings.Join(c, " "))
	}
	return strings.Join(sets, "; ")
}

// ready is a tree that must be sound.
func ready(t testing.TB, tree Tree) *Logic {
	t.Helper()
	l, err := New(tree)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// ask gives what was found for one function.
func ask(t testing.TB, l *Logic, o Options, function string) Found {
	t.Helper()
	found, err := l.Cuts(context.Background(), o, function)
	if err != nil {
		t.Fatal(err)
	}
	return found[0]
}

func near64(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

func TestKnown(t *testing.T) {
	ctx := context.Background()
	for _, k := range known {
		t.Run(k.name, func(t *testing.T) {
			if k.source == "" {
				t.Fatal("no source")
			}
			l := ready(t, k.tree)
			function := k.tree.Functions[0].Name
			for _, o := range []Options{{}, {Order: 3}, {Order: 4}} {
				found := ask(t, l, o, function)
				if got := written(found.Cuts); got != k.cuts {
					t.Errorf("%+v: cut sets %s, want %s", o, got, k.cuts)
				}
				if found.CutOff != "" {
					t.Errorf("%+v: cut off: %s", o, found.CutOff)
				}
			}
			paths, err := l.Paths(ctx, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if got := written(paths[0].Cuts); got != k.paths {
				t.Errorf("path sets %s, want %s", got, k.paths)
			}
			w, err := l.Weigh(ctx, Options{}, function, k.p)
			if err != nil {
				t.Fatal(err)
			}
			if k.p != nil && (!near64(w.Exact, k.exact, k.tol*k.exact) || !near64(w.RareEvent, k.rare, k.tol*k.rare)) {
				t.Errorf("exact %v, rare event %v, want %v, %v", w.Exact, w.RareEvent, k.exact, k.rare)
			}
			for _, part := range w.Parts {
				want := k.parts[part.Name]
				if want.FussellVesely != 0 && !near64(part.FussellVesely, want.FussellVesely, k.partTol) {
					t.Errorf("%s: share %v, want %v", part.Name, part.FussellVesely, want.FussellVesely)
				}
				if want.Structural != 0 && !near64(part.Structural, want.Structural, k.partTol) {
					t.Errorf("%s: structural %v, want %v", part.Name, part.Structural, want.Structural)
				}
			}
		})
	}
}

// choose is the binomial coefficient.
func choose(n, k int) float64 {
	if k < 0 || k > n {
		return 0
	}
	c := 1.0
	for i := range k {
		c = c * float64(n-i) / float64(i+1)
	}
	return math.Round(c)
}

// numbered events and their names.
func numbered(n int) ([]Event, []string) {
	list, names := make([]Event, n), make([]string, n)
	for i := range list {
		names[i] = fmt.Sprintf("e%03d", i)
		list[i].Name = names[i]
	}
	return list, names
}

// Source: closed form. k of n works while n-k or fewer fail; each set of n-k+1 is a
// minimal cut set, each set of k a path set; P and the importances are binomial.
func TestAtLeast(t *testing.T) {
	ctx := context.Background()
	for _, c := range []struct{ k, n int }{{1, 1}, {1, 4}, {4, 4}, {2, 3}, {3, 7}, {5, 9}, {10, 20}} {
		list, names := numbered(c.n)
		l := ready(t, Tree{Events: list, Functions: []Function{{Gate: Gate{Name: "f", Rule: AtLeast, Least: c.k, Of: names}}}})
		fail := c.n - c.k + 1
		found := ask(t, l, Options{Limit: 1 << 20}, "f")
		if found.Sets != choose(c.n, fail) || len(found.Cuts) != int(found.Sets) || len(found.Cuts[0]) != fail || !found.Whole {
			t.Errorf("%d of %d: %v cut sets (%d listed), want %v of %d", c.k, c.n, found.Sets, len(found.Cuts), choose(c.n, fail), fail)
		}
		for order := 1; order <= 3; order++ {
			want := 0.0
			if fail <= order {
				want = choose(c.n, fail)
			}
			if got := len(ask(t, l, Options{Order: order, Limit: 1 << 20}, "f").Cuts); got != int(want) {
				t.Errorf("%d of %d up to %d: %d cut sets, want %v", c.k, c.n, order, got, want)
			}
		}
		paths, err := l.Paths(ctx, Options{Limit: 1 << 20})
		if err != nil || paths[0].Sets != choose(c.n, c.k) {
			t.Errorf("%d of %d: %v path sets, want %v (%v)", c.k, c.n, paths[0].Sets, choose(c.n, c.k), err)
		}
		const q = 0.3
		p := map[string]float64{}
		for _, name := range names {
			p[name] = q
		}
		w, err := l.Weigh(ctx, Options{}, "f", p)
		if err != nil {
			t.Fatal(err)
		}
		exact := 0.0
		for i := fail; i <= c.n; i++ {
			exact += choose(c.n, i) * math.Pow(q, float64(i)) * math.Pow(1-q, float64(c.n-i))
		}
		rare := choose(c.n, fail) * math.Pow(q, float64(fail))
		if !near64(w.Exact, exact, 1e-13) || !near64(w.RareEvent, rare, 1e-12*rare) {
			t.Errorf("%d of %d: %v and %v, want %v and %v", c.k, c.n, w.Exact, w.RareEvent, exact, rare)
		}
		for _, part := range w.Parts {
			others := choose(c.n-1, fail-1)
			birnbaum := others * math.Pow(q, float64(fail-1)) * math.Pow(1-q, float64(c.n-fail))
			if !near64(part.Structural, others/math.Exp2(float64(c.n-1)), 1e-13) || !near64(part.Birnbaum, birnbaum, 1e-13) || !near64(part.FussellVesely, float64(fail)/float64(c.n), 1e-13) {
				t.Errorf("%d of %d: %+v", c.k, c.n, part)
			}
		}
	}
}

// Source: closed form. Two neighbours in a row of n end it: the row holds in Fibonacci(n+2)
// of its 2ⁿ states, so at one half it fails with 1 - F(n+2)/2ⁿ. Its n-1 cut sets share
// every event but the ends'.
func TestNeighbours(t *testing.T) {
	const n = 60
	list, names := numbered(n)
	tree := Tree{Events: list}
	var pairs []string
	for i := range n - 1 {
		name := fmt.Sprintf("pair %d", i)
		tree.Gates = append(tree.Gates, Gate{Name: name, Rule: AnyOf, Of: names[i : i+2]})
		pairs = append(pairs, name)
	}
	tree.Functions = []Function{{Gate: Gate{Name: "row", Rule: AllOf, Of: pairs}}}
	l := ready(t, tree)
	p := map[string]float64{}
	for _, name := range names {
		p[name] = 0.5
	}
	w, err := l.Weigh(context.Background(), Options{}, "row", p)
	if err != nil {
		t.Fatal(err)
	}
	a, b := 1.0, 1.0
	for range n {
		a, b = b, a+b
	}
	if want := 1 - b/math.Exp2(n); !near64(w.Exact, want, 1e-14) || w.Sets != n-1 || w.RareEvent != (n-1)/4. {
		t.Errorf("%v, %v sets, sum %v; want %v, %d, %v", w.Exact, w.Sets, w.RareEvent, want, n-1, (n-1)/4.)
	}
}

// Source: closed form. Where each of n pairs must lose one, there are 2ⁿ cut sets of n,
// and it ends with (1-(1-q)²)ⁿ. All are counted; only so many are listed.
func TestMoreThanCanBeListed(t *testing.T) {
	const n = 100
	list, names := numbered(2 * n)
	tree := Tree{Events: list}
	var pairs []string
	for i := range n {
		name := fmt.Sprintf("pair %d", i)
		tree.Gates = append(tree.Gates, Gate{Name: name, Rule: AllOf, Of: names[2*i : 2*i+2]})
		pairs = append(pairs, name)
	}
	tree.Functions = []Function{{Gate: Gate{Name: "all", Rule: AnyOf, Of: pairs[:40]}}, {Gate: Gate{Name: "long", Rule: AnyOf, Of: pairs}}}
	l := ready(t, tree)
	found := ask(t, l, Options{Limit: 50}, "all")
	if found.Sets != math.Exp2(40) || len(found.Cuts) != 50 || found.Whole || found.CutOff == "" || found.UpTo != 39 {
		t.Errorf("%v sets, %d listed, up to %d, cut off %q", found.Sets, len(found.Cuts), found.UpTo, found.CutOff)
	}
	long := ask(t, l, Options{}, "long")
	if long.Sets != math.Exp2(n) || len(long.Cuts) != 0 || long.UpTo != longest || long.CutOff == "" || long.Whole {
		t.Errorf("%v sets, %d listed, up to %d, cut off %q", long.Sets, len(long.Cuts), long.UpTo, long.CutOff)
	}
	p := map[string]float64{}
	for _, name := range names {
		p[name] = 0.2
	}
	w, err := l.Weigh(context.Background(), Options{}, "long", p)
	if want := math.Pow(0.36, n); err != nil || !near64(w.Exact, want, 1e-12*want) {
		t.Errorf("%v, want %v (%v)", w.Exact, want, err)
	}
}

func TestDualOfDual(t *testing.T) {
	g := Gate{Name: "g", Rule: AtLeast, Least: 2, Of: []string{"a", "b", "c", "d", "e"}}
	if d := g.Dual(); d.Least != 4 || d.Dual().Least != 2 {
		t.Errorf("dual of 2 of 5 is %d of 5, and back %d", d.Least, d.Dual().Least)
	}
	for _, k := range known {
		l := ready(t, k.tree)
		twice := l.dual().dual()
		found, err := twice.Cuts(context.Background(), Options{})
		if err != nil || written(found[0].Cuts) != k.cuts {
			t.Errorf("%s: %s, want %s (%v)", k.name, written(found[0].Cuts), k.cuts, err)
		}
	}
	if (Gate{Rule: AllOf}).Dual().Rule != AnyOf || (Gate{Rule: AnyOf}).Dual().Rule != AllOf {
		t.Error("all of and any of are each other's dual")
	}
}

// Inclusion and exclusion over the pressure tank's five cut sets must give the diagram's
// figure. Source: NUREG-0492, ch. VI, the general addition rule.
func TestInclusionExclusion(t *testing.T) {
	k := known[0]
	l := ready(t, k.tree)
	p := map[string]float64{"T": .1, "K2": .2, "S": .3, "S1": .4, "K1": .5, "R": .6}
	w, err := l.Weigh(context.Background(), Options{}, "E1", p)
	if err != nil {
		t.Fatal(err)
	}
	cuts := ask(t, l, Options{}, "E1").Cuts
	sum := 0.0
	for m := 1; m < 1<<len(cuts); m++ {
		var union []string
		sign := -1.0
		for i, c := range cuts {
			if m>>i&1 == 1 {
				union = append(union, c...)
				sign = -sign
			}
		}
		slices.Sort(union)
		product := 1.0
		for _, name := range slices.Compact(union) {
			product *= p[name]
		}
		sum += sign * product
	}
	if !near64(w.Exact, sum, 1e-14) {
		t.Errorf("diagram %v, inclusion and exclusion %v", w.Exact, sum)
	}
}
