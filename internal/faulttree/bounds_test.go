package faulttree

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"
)

// hard is a tree whose diagram grows without end: a square of events, of which every row
// and every column, and many random threes, must keep one.
func hard(side int) Tree {
	list, names := numbered(side * side)
	tree := Tree{Events: list}
	var all []string
	add := func(of []string) {
		g := Gate{Name: fmt.Sprintf("g%d", len(tree.Gates)), Rule: AnyOf, Of: of}
		tree.Gates = append(tree.Gates, g)
		all = append(all, g.Name)
	}
	random := rand.New(rand.NewPCG(1, 2))
	for range 3 * len(names) {
		p := random.Perm(len(names))
		add([]string{names[p[0]], names[p[1]], names[p[2]]})
	}
	tree.Functions = []Function{{Gate: Gate{Name: "f", Rule: AllOf, Of: all}}}
	return tree
}

// TestHard: where no diagram fits, the short sets are still all there, and what is missing
// is said.
func TestHard(t *testing.T) {
	l := ready(t, hard(14))
	start := time.Now()
	found := ask(t, l, Options{}, "f")
	if found.CutOff == "" || found.UpTo != 3 || found.Whole || found.Sets != 0 || len(found.Cuts) == 0 {
		t.Errorf("up to %d, cut off %q, %d sets", found.UpTo, found.CutOff, len(found.Cuts))
	}
	if _, err := l.Weigh(context.Background(), Options{}, "f", nil); !errors.Is(err, ErrTooLarge) {
		t.Errorf("too large: %v", err)
	}
	// Generous: about a second here, several when all is watched for races.
	if took := time.Since(start); took > 60*time.Second {
		t.Errorf("took %v", took)
	}
	few := ask(t, l, Options{Order: 3, Limit: 5}, "f")
	if len(few.Cuts) != 5 || few.UpTo != 2 || few.CutOff == "" {
		t.Errorf("up to %d, cut off %q, %d sets", few.UpTo, few.CutOff, len(few.Cuts))
	}
	none := ask(t, l, Options{Order: 3, Work: 1, Vertices: 100}, "f")
	if len(none.Cuts) != 0 || none.UpTo != -1 || none.CutOff == "" {
		t.Errorf("up to %d, cut off %q, %d sets", none.UpTo, none.CutOff, len(none.Cuts))
	}
}

// TestDeep: a chain far deeper than any stack of calls should be asked to go.
func TestDeep(t *testing.T) {
	const n = 200_000
	tree := Tree{Events: events("a b")}
	tree.Gates = append(tree.Gates, Gate{Name: "g0", Of: []string{"a", "b"}})
	for i := 1; i < n; i++ {
		tree.Gates = append(tree.Gates, Gate{Name: fmt.Sprint("g", i), Rule: Rule(i % 2), Of: []string{fmt.Sprint("g", i-1), "a"}})
	}
	tree.Functions = []Function{{Gate: Gate{Name: "f", Of: []string{fmt.Sprint("g", n-1)}}}}
	l := ready(t, tree)
	for _, o := range []Options{{Order: 2}, {}} {
		if got := written(ask(t, l, o, "f").Cuts); got != "a" {
			t.Errorf("%+v: %s, want a", o, got)
		}
	}
	tree.Gates[0].Of = []string{"a", fmt.Sprint("g", n-1)}
	if _, err := New(tree); err == nil || len(err.Error()) > 1000 {
		t.Errorf("a cycle of %d is refused, in few words", n)
	}
}

// TestWide: as many singles as events.
func TestWide(t *testing.T) {
	list, names := numbered(20_000)
	l := ready(t, Tree{Events: list, Functions: []Function{{Gate: Gate{Name: "f", Rule: AllOf, Of: names}}}})
	for _, o := range []Options{{Order: 2, Limit: 1e6}, {Limit: 1e6}} {
		if found := ask(t, l, o, "f"); len(found.Singles()) != len(names) || found.CutOff != "" {
			t.Errorf("%+v: %d singles, %s", o, len(found.Singles()), found.CutOff)
		}
	}
}

// TestManyCauses: causes that bring each other, in one ring and in one chain.
func TestManyCauses(t *testing.T) {
	const n = 50_000
	tree := Tree{Events: events("a"), Functions: []Function{{Gate: Gate{Name: "f", Of: []string{"a"}}}}}
	for i := range n {
		tree.Causes = append(tree.Causes, Cause{Name: fmt.Sprint("c", i), Fails: []string{fmt.Sprint("c", (i+1)%n)}})
	}
	tree.Causes[n-1].Fails = append(tree.Causes[n-1].Fails, "a")
	for range 2 {
		found := ask(t, ready(t, tree), Options{Order: 1, Limit: 1e6}, "f")
		if len(found.Cuts) != n+1 {
			t.Errorf("%d singles, want %d", len(found.Cuts), n+1)
		}
		tree.Causes[n-1].Fails = []string{"a"}
	}
}

func TestStopped(t *testing.T) {
	l := ready(t, hard(14))
	ctx, stop := context.WithCancel(context.Background())
	stop()
	for _, o := range []Options{{}, {Order: 1}, {Order: 3}, {Order: 5}} {
		if _, err := l.Cuts(ctx, o); !errors.Is(err, context.Canceled) {
			t.Errorf("%+v: %v", o, err)
		}
	}
	if _, err := l.Weigh(ctx, Options{}, "f", nil); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	if _, err := FindMends(ctx, boat(), nil); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	late, done := context.WithTimeout(context.Background(), 20*time.Millisecond)
	defer done()
	start := time.Now()
	if _, err := l.Cuts(late, Options{Vertices: 1 << 24}); !errors.Is(err, context.DeadlineExceeded) {
		t.Error(err)
	}
	if took := time.Since(start); took > 5*time.Second {
		t.Errorf("stopped only after %v", took)
	}
}
