package model

import (
	"slices"
	"testing"
)

// What floods with a cabin: what takes it in, and what lies under it without a lid that is shut at sea.
//
// Source: docs/boat-folder.md, compartments
func TestFloodsWith(t *testing.T) {
	sole := 0.4
	b := &Boat{Cabins: []Cabin{{Name: "fore cabin"}, {Name: "aft cabin"}}, Compartments: []Compartment{
		{Name: "aft cabin", From: 4, To: 6, Cabin: "aft cabin", Sole: &sole},
		{Name: "bin", From: 4, To: 6, Top: &sole},
		{Name: "hold", From: 2, To: 4, Top: &sole},
		{Name: "peak", From: 6, To: 7},
	}}
	check := func(name string, cabin int, same bool, below ...int) {
		t.Helper()
		if got, is := b.FloodsWith(1); got != cabin || is != same {
			t.Errorf("%s: %d %v", name, got, is)
		}
		if got := b.Below(0); !slices.Equal(got, below) {
			t.Errorf("%s: below lie %v", name, got)
		}
	}
	check("no lid", 1, false, 1)
	for i, want := range []struct {
		cabin int
		same  bool
	}{{1, true}, {1, false}, {-1, false}, {-1, false}} {
		if got, is := b.FloodsWith(i); got != want.cabin || is != want.same {
			t.Errorf("%s: %d %v", b.Compartments[i].Name, got, is)
		}
	}
	b.Openings = []Opening{{Name: "hatch", Into: "aft cabin", Closed: true}, {Name: "lid", Into: "bin", Closed: true}}
	check("a lid", -1, false)
	b.Openings[1].Closed = false
	check("a lid left open", 1, false, 1)
	b.Openings = append(b.Openings, Opening{Name: "other lid", Into: "bin", Closed: true})
	check("one of two left open", 1, false, 1)
}
