package faulttree

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
)

// Candidate is a change that could be made, and what it costs.
type Candidate struct {
	Name   string
	Change Change
	Cost   float64 // in any one measure for all candidates, 0 or more
	Mass   float64 // kilograms added, to choose between two of one cost
}

// Single is one failure that ends one function alone.
type Single struct {
	Function string
	Name     string // the event or cause
	Kind     Kind
	Weight   float64 // the function's
}

// Effect is what a candidate does to the single failures of the whole tree.
type Effect struct {
	Candidate int // its place among the candidates
	Removed   []Single
	Added     []Single // that were none before: a move can put two of a thing together
}

// Mend is a single failure, and what takes it away.
type Mend struct {
	Single
	// Candidate is the place of the cheapest one that takes it away: of those which add no
	// single of any function, or, where Adds, of those that do; -1 when none takes it away.
	Candidate int
	Adds      bool
}

// Mends are the single failures of a tree and what each candidate does about them.
type Mends struct {
	Singles []Mend   // worst function first
	Effects []Effect // one for each candidate
	// Best takes away most singles, less those it adds; of several, the cheapest. -1 when
	// none leaves fewer than there were.
	Best int
}

// FindMends makes each change in turn, computes the changed tree again, and compares its
// single failures with those of the tree as it is.
//
// Error: Faults, all there are: of the tree, or of candidates that do not fit it; that of
// the context; ErrTooLarge for a tree of millions of nodes
func FindMends(ctx context.Context, t Tree, candidates []Candidate) (Mends, error) {
	now, err := singles(ctx, t)
	if err != nil {
		return Mends{}, err
	}
	index, _ := t.names()
	m := Mends{Best: -1, Effects: make([]Effect, len(candidates))}
	var faults Faults
	for i, c := range candidates {
		then, err := c.try(ctx, t, index)
		var wrong Faults
		if errors.As(err, &wrong) {
			for _, f := range wrong {
				faults = append(faults, Fault{c.Name, "as a mend: " + f.Error(), ""})
			}
			continue
		}
		if err != nil {
			return Mends{}, err
		}
		m.Effects[i] = Effect{i, less(now, then), less(then, now)}
	}
	if err := faults.err(); err != nil {
		return Mends{}, err
	}
	m.choose(now, candidates)
	return m, nil
}

// try gives the singles of the tree with the candidate.
func (c *Candidate) try(ctx context.Context, t Tree, index map[string]int32) ([]Single, error) {
	var faults Faults
	for _, v := range []struct {
		what  string
		value float64
	}{{"cost", c.Cost}, {"mass", c.Mass}} {
		if math.IsNaN(v.value) || math.IsInf(v.value, 0) || v.value < 0 {
			faults = append(faults, Fault{What: fmt.Sprintf("its %s is %v", v.what, v.value), Mend: "give a number, 0 or more"})
		}
	}
	if c.Change == nil {
		faults = append(faults, Fault{What: "it changes nothing", Mend: "give a spare, a move or another provider"})
	}
	if len(faults) > 0 {
		return nil, faults
	}
	changed, faults := c.Change.apply(t, index)
	if len(faults) > 0 {
		return nil, faults
	}
	return singles(ctx, changed)
}

// singles of every function, worst function first, then as in the tree.
func singles(ctx context.Context, t Tree) ([]Single, error) {
	l, err := New(t)
	if err != nil {
		return nil, err
	}
	if len(t.Functions) == 0 {
		return nil, nil
	}
	tops := make([]int32, len(t.Functions))
	for i := range tops {
		tops[i] = l.top(i)
	}
	o := Options{}.filled()
	found, enough, err := l.combinations(ctx, tops, 1, math.MaxInt, o.Work)
	if err != nil {
		return nil, err
	}
	if !enough {
		return nil, fmt.Errorf("%w: even single failures would take too long (ask about fewer functions or events)", ErrTooLarge)
	}
	var list []Single
	for i := range found {
		for _, s := range found[i].sets {
			list = append(list, Single{t.Functions[i].Name, l.name(s[0]), l.Kind(l.name(s[0])), t.Functions[i].Weight})
		}
	}
	slices.SortStableFunc(list, func(a, b Single) int { return cmp.Compare(b.Weight, a.Weight) })
	return list, nil
}

// less is what is in a and not in b.
func less(a, b []Single) []Single {
	type pair struct{ function, name string }
	in := make(map[pair]bool, len(b))
	for _, s := range b {
		in[pair{s.Function, s.Name}] = true
	}
	var only []Single
	for _, s := range a {
		if !in[pair{s.Function, s.Name}] {
			only = append(only, s)
		}
	}
	return only
}

// choose finds the cheapest mend of each single, and the best of all.
func (m *Mends) choose(now []Single, candidates []Candidate) {
	cheaper := func(a, b int) bool {
		x, y := candidates[a], candidates[b]
		return cmp.Or(cmp.Compare(x.Cost, y.Cost), cmp.Compare(x.Mass, y.Mass), cmp.Compare(a, b)) < 0
	}
	m.Singles = make([]Mend, len(now))
	at := make(map[Single]int, len(now))
	for i, s := range now {
		m.Singles[i] = Mend{Single: s, Candidate: -1}
		at[s] = i
	}
	gain := func(e *Effect) int { return len(e.Removed) - len(e.Added) }
	for i := range m.Effects {
		e := &m.Effects[i]
		adds := len(e.Added) > 0
		for _, s := range e.Removed {
			mend := &m.Singles[at[s]]
			if mend.Candidate < 0 || mend.Adds && !adds || mend.Adds == adds && cheaper(i, mend.Candidate) {
				mend.Candidate, mend.Adds = i, adds
			}
		}
		if gain(e) <= 0 {
			continue
		}
		if m.Best < 0 || gain(e) > gain(&m.Effects[m.Best]) || gain(e) == gain(&m.Effects[m.Best]) && cheaper(i, m.Best) {
			m.Best = i
		}
	}
}
