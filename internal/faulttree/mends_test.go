package faulttree

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
)

// boat is an invented one: two lockers, a cabin, two people.
func boat() Tree {
	return Tree{
		Events: []Event{
			{Name: "desalinator", Needs: []string{"battery"}},
			{Name: "hand pump"},
			{Name: "battery", Kind: Battery},
			{Name: "rudder"},
			{Name: "lines"},
			{Name: "stern oar", Needs: []string{"two hands"}},
			{Name: "Ann", Kind: Person},
			{Name: "Ben", Kind: Person},
			{Name: "radio", Needs: []string{"battery"}},
			{Name: "flares"},
		},
		Causes: []Cause{
			{Name: "301", Kind: Compartment, Fails: []string{"desalinator", "hand pump"}},
			{Name: "302", Kind: Compartment, Fails: []string{"flares"}},
			{Name: "cabin", Kind: Cabin, Fails: []string{"battery", "radio", "302"}},
		},
		Gates: []Gate{
			{Name: "two hands", Rule: AtLeast, Least: 1, Of: []string{"Ann", "Ben"}},
			{Name: "rudder gear", Rule: AllOf, Of: []string{"rudder", "lines"}},
		},
		Functions: []Function{
			{Gate{Name: "make water", Rule: AnyOf, Of: []string{"desalinator", "hand pump"}}, 5},
			{Gate{Name: "steer", Rule: AnyOf, Of: []string{"rudder gear", "stern oar"}}, 3},
			{Gate{Name: "signal", Rule: AnyOf, Of: []string{"radio", "flares"}}, 4},
		},
	}
}

// Source: by hand, from the tree above.
func TestBoat(t *testing.T) {
	found, err := ready(t, boat()).Cuts(context.Background(), Options{Order: 3})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{
		"301; desalinator hand pump; hand pump battery; hand pump cabin",
		"rudder stern oar; lines stern oar; rudder Ann Ben; lines Ann Ben",
		"cabin; battery flares; battery 302; radio flares; radio 302",
	} {
		if got := written(found[i].Cuts); got != want {
			t.Errorf("%s: %s, want %s", found[i].Function, got, want)
		}
	}
	rank := Rank(found)
	if rank[0].Cut[0] != "301" || rank[0].Ends[0] != "make water" || rank[1].Cut[0] != "cabin" {
		t.Errorf("%+v", rank[:2])
	}
	for i := 1; i < len(rank); i++ {
		a, b := rank[i-1], rank[i]
		if len(a.Cut) > len(b.Cut) || len(a.Cut) == len(b.Cut) && a.Weight < b.Weight {
			t.Errorf("%+v before %+v", a, b)
		}
	}
}

func TestRankJoins(t *testing.T) {
	rank := Rank([]Found{
		{Function: "a", Weight: 2, Cuts: []Cut{{"x"}, {"y"}, {"x2", "y2"}}},
		{Function: "b", Weight: 3, Cuts: []Cut{{"y"}, {"z"}}},
	})
	if len(rank) != 4 || rank[0].Cut[0] != "y" || rank[0].Weight != 5 || len(rank[0].Ends) != 2 || rank[1].Cut[0] != "z" || rank[2].Cut[0] != "x" {
		t.Errorf("%+v", rank)
	}
}

// Source: by hand, from the tree above.
func TestFindMends(t *testing.T) {
	candidates := []Candidate{
		0: {Name: "second desalinator in 302", Change: Spare{Of: "desalinator", In: []string{"302"}}, Cost: 900},
		1: {Name: "hand pump to 302", Change: Move{Item: "hand pump", To: []string{"302"}}, Cost: 0},
		2: {Name: "desalinator to the cabin", Change: Move{Item: "desalinator", To: []string{"cabin"}}, Cost: 0, Mass: 1},
		3: {Name: "flares to deck", Change: Move{Item: "flares"}, Cost: 1},
		4: {Name: "flares to 301", Change: Move{Item: "flares", To: []string{"301"}}, Cost: 1},
		5: {Name: "rudder and lines spare", Change: Spare{Of: "rudder"}, Cost: 50},
		6: {Name: "mirror", Change: Another{For: "signal", Name: "mirror"}, Cost: 2},
		7: {Name: "hand pump to cabin", Change: Move{Item: "hand pump", To: []string{"cabin"}}, Cost: 0},
	}
	tree := boat()
	before := fmt.Sprint(tree)
	m, err := FindMends(context.Background(), tree, candidates)
	if err != nil {
		t.Fatal(err)
	}
	if fmt.Sprint(tree) != before {
		t.Error("the tree asked about has changed")
	}
	if len(m.Singles) != 2 || m.Singles[0].Name != "301" || m.Singles[1].Name != "cabin" {
		t.Fatalf("%+v", m.Singles)
	}
	// 302 floods with the cabin, which takes the battery too: so not the hand pump to 302.
	if e := m.Effects[1]; len(e.Removed) != 1 || len(e.Added) != 1 || e.Added[0].Name != "cabin" || e.Added[0].Function != "make water" {
		t.Errorf("in 302 the hand pump is lost with the cabin: %+v", e)
	}
	if m.Singles[0].Candidate != 2 || m.Singles[0].Adds {
		t.Errorf("301 is taken away by %d", m.Singles[0].Candidate)
	}
	if m.Singles[1].Candidate != 3 {
		t.Errorf("the cabin is taken away by %d", m.Singles[1].Candidate)
	}
	if e := m.Effects[7]; len(e.Removed) != 1 || len(e.Added) != 1 || e.Added[0].Name != "cabin" || e.Added[0].Function != "make water" {
		t.Errorf("in the cabin the hand pump is lost with the battery: %+v", e)
	}
	if e := m.Effects[0]; len(e.Removed) != 1 || len(e.Added) != 0 {
		t.Errorf("%+v", e)
	}
	if e := m.Effects[5]; len(e.Removed)+len(e.Added) != 0 {
		t.Errorf("%+v", e)
	}
	if m.Best != 2 {
		t.Errorf("best is %d", m.Best)
	}
}

// TestOnlyMendThatAdds: where the only change that takes a single away brings another, it
// is given and said so.
func TestOnlyMendThatAdds(t *testing.T) {
	tree := boat()
	m, err := FindMends(context.Background(), tree, []Candidate{{Name: "hand pump to cabin", Change: Move{Item: "hand pump", To: []string{"cabin"}}}})
	if err != nil {
		t.Fatal(err)
	}
	if s := m.Singles[0]; s.Candidate != 0 || !s.Adds || m.Best != -1 || m.Singles[1].Candidate != -1 {
		t.Errorf("%+v, best %d", m.Singles, m.Best)
	}
}

func TestApply(t *testing.T) {
	tree, err := Apply(boat(), Spare{Of: "rudder"})
	if err != nil {
		t.Fatal(err)
	}
	if tree, err = Apply(tree, Spare{Of: "rudder"}); err != nil {
		t.Fatal(err)
	}
	if got := written(ask(t, ready(t, tree), Options{Order: 2}, "steer").Cuts); got != "lines stern oar" {
		t.Error(got)
	}
	got := written(ask(t, ready(t, tree), Options{}, "steer").Cuts)
	if want := "rudder stern oar spare rudder spare rudder 2"; !strings.Contains(got, want) {
		t.Errorf("%s, want %s in it", got, want)
	}
}

// TestMoveFrom: only the places named are left.
func TestMoveFrom(t *testing.T) {
	tree := boat()
	tree.Causes[2].Fails = append(tree.Causes[2].Fails, "hand pump")
	for _, c := range []struct {
		from []string
		want string
	}{
		{nil, "desalinator hand pump; hand pump battery; hand pump 301; hand pump cabin"},
		{[]string{"301"}, "cabin; desalinator hand pump; hand pump battery; hand pump 301"},
	} {
		moved, err := Apply(tree, Move{Item: "hand pump", From: c.from})
		if err != nil {
			t.Fatal(err)
		}
		if got := written(ask(t, ready(t, moved), Options{Order: 2}, "make water").Cuts); got != c.want {
			t.Errorf("from %v: %s, want %s", c.from, got, c.want)
		}
	}
}

func TestChangeFaults(t *testing.T) {
	_, err := FindMends(context.Background(), boat(), []Candidate{
		{Name: "a", Change: Spare{Of: "cabin"}},
		{Name: "b", Change: Spare{Of: "rudder", Name: "radio", In: []string{"999"}}},
		{Name: "c", Change: Move{Item: "steer"}},
		{Name: "d", Change: Move{Item: "radio", From: []string{"301"}, To: []string{"rudder"}}},
		{Name: "e", Change: Another{For: "rudder gear", Name: "tape"}},
		{Name: "f", Change: Another{For: "nothing", Name: "tape"}},
		{Name: "g"},
		{Name: "h", Change: Move{Item: "radio"}, Cost: -1},
		{Name: "i", Change: Another{For: "signal", Name: "mirror", Needs: []string{"sun"}}},
		{Name: "j", Change: Another{For: "signal", Name: "mirror", Needs: []string{"signal"}}},
	})
	var faults Faults
	if !errors.As(err, &faults) || len(faults) != 12 {
		t.Fatalf("%d faults, want 12:\n%v", len(faults), err)
	}
}
