package faulttree

import (
	"fmt"
	"slices"
)

// Change is something done to the boat so that less ends her functions.
type Change interface {
	// apply gives the changed tree and leaves the old one as it is. The index is that of
	// the old tree.
	apply(t Tree, index map[string]int32) (Tree, Faults)
}

// Spare puts a second one of an item aboard: wherever the item serves, the spare does. It
// needs what the item needs.
type Spare struct {
	Of   string
	Name string   // what to call it; left out, "spare" and the item's name
	In   []string // causes that fail the spare: where it is stowed
}

// Move stows an item elsewhere.
type Move struct {
	Item string
	From []string // causes that it gets away from; none named is every compartment and cabin that fails it now
	To   []string // causes that fail it then; none for a place that nothing reaches
}

// Another gives a gate or a function one more provider, of another sort.
type Another struct {
	For   string // with the rule any of, or at least
	Name  string
	Kind  Kind
	Needs []string
	In    []string // causes that fail it
}

// Apply gives the tree as it is after a change; the tree itself stays as it is.
//
// Error: Faults when the change names what is not in the tree, or does not fit it
func Apply(t Tree, c Change) (Tree, error) {
	index, faults := t.names()
	if len(faults) > 0 {
		return Tree{}, faults
	}
	if c == nil {
		return Tree{}, Faults{{What: "no change is given", Mend: "give a spare, a move or another provider"}}
	}
	changed, faults := c.apply(t, index)
	return changed, faults.err()
}

func (s Spare) apply(t Tree, index map[string]int32) (Tree, Faults) {
	at, ok := index[s.Of]
	if !ok || int(at) >= len(t.Events) {
		return t, Faults{{s.Of, "is not an event of the tree, so it can have no spare", "name an item" + near(s.Of, index)}}
	}
	old := t.Events[at]
	name := s.Name
	if name == "" {
		name = free("spare "+s.Of, index)
	}
	faults := t.mayAdd(name, s.In, index)
	if len(faults) > 0 {
		return t, faults
	}
	either := free(s.Of+" or "+name, index)
	swap := func(names []string) []string {
		i := slices.Index(names, s.Of)
		if i < 0 {
			return names
		}
		names = slices.Clone(names)
		names[i] = either
		return names
	}
	t.Events = slices.Clone(t.Events)
	for i := range t.Events {
		t.Events[i].Needs = swap(t.Events[i].Needs)
	}
	t.Events = append(t.Events, Event{Name: name, Kind: old.Kind, Needs: slices.Clone(old.Needs)})
	t.Gates = slices.Clone(t.Gates)
	for i := range t.Gates {
		t.Gates[i].Of = swap(t.Gates[i].Of)
	}
	t.Functions = slices.Clone(t.Functions)
	for i := range t.Functions {
		t.Functions[i].Of = swap(t.Functions[i].Of)
	}
	t.Gates = append(t.Gates, Gate{Name: either, Rule: AnyOf, Of: []string{s.Of, name}})
	return t.stow(name, s.In), nil
}

func (m Move) apply(t Tree, index map[string]int32) (Tree, Faults) {
	if at, ok := index[m.Item]; !ok || int(at) >= len(t.Events) {
		return t, Faults{{m.Item, "is not an event of the tree, so it cannot be moved", "name an item" + near(m.Item, index)}}
	}
	faults := t.causes(m.Item, m.To, index)
	faults = append(faults, t.causes(m.Item, m.From, index)...)
	for _, name := range m.From {
		at := int(index[name]) - len(t.Events)
		if at >= 0 && at < len(t.Causes) && !slices.Contains(t.Causes[at].Fails, m.Item) {
			faults = append(faults, Fault{m.Item, fmt.Sprintf("is to leave %q, which does not fail it", name), "name where it is now, or nothing"})
		}
	}
	if len(faults) > 0 {
		return t, faults
	}
	t.Causes = slices.Clone(t.Causes)
	for i := range t.Causes {
		c := &t.Causes[i]
		away := slices.Contains(m.From, c.Name) || len(m.From) == 0 && c.Kind.place()
		if at := slices.Index(c.Fails, m.Item); away && at >= 0 {
			c.Fails = slices.Delete(slices.Clone(c.Fails), at, at+1)
		}
	}
	return t.stow(m.Item, m.To), nil
}

func (a Another) apply(t Tree, index map[string]int32) (Tree, Faults) {
	at, ok := index[a.For]
	gate := int(at) - len(t.Events) - len(t.Causes)
	if !ok || gate < 0 {
		return t, Faults{{a.For, "is not a gate or a function of the tree, so nothing more can provide it", "name one; an item can have a spare" + near(a.For, index)}}
	}
	faults := t.mayAdd(a.Name, a.In, index)
	var to *Gate
	if t.Gates = slices.Clone(t.Gates); gate < len(t.Gates) {
		to = &t.Gates[gate]
	} else {
		t.Functions = slices.Clone(t.Functions)
		to = &t.Functions[gate-len(t.Gates)].Gate
	}
	if to.Rule == AllOf {
		faults = append(faults, Fault{a.For, "needs all of what provides it: one more would be one more that can fail", "add it to a gate with any of, or give one of its items a spare"})
	}
	if len(faults) > 0 {
		return t, faults
	}
	to.Of = append(slices.Clone(to.Of), a.Name)
	t.Events = append(slices.Clone(t.Events), Event{Name: a.Name, Kind: a.Kind, Needs: slices.Clone(a.Needs)})
	return t.stow(a.Name, a.In), nil
}

// mayAdd checks the name of a new event and where it is to lie.
func (t *Tree) mayAdd(name string, in []string, index map[string]int32) Faults {
	var faults Faults
	if name == "" {
		faults = append(faults, Fault{What: "what is to be added has no name", Mend: "give it one"})
	} else if _, taken := index[name]; taken {
		faults = append(faults, Fault{name, "is in the tree already", "give what is to be added another name"})
	}
	return append(faults, t.causes(name, in, index)...)
}

// causes checks that all names are those of causes.
func (t *Tree) causes(node string, names []string, index map[string]int32) Faults {
	var faults Faults
	for _, name := range names {
		at, ok := index[name]
		if cause := int(at) - len(t.Events); !ok || cause < 0 || cause >= len(t.Causes) {
			faults = append(faults, Fault{node, fmt.Sprintf("names %q as a cause, which it is not", name), "name a cause of the tree" + near(name, index)})
		}
	}
	return faults
}

// stow adds an event to what causes fail. The causes' list may be shared with another
// tree, so it is copied.
func (t Tree) stow(name string, in []string) Tree {
	if len(in) == 0 {
		return t
	}
	t.Causes = slices.Clone(t.Causes)
	for i := range t.Causes {
		c := &t.Causes[i]
		if slices.Contains(in, c.Name) && !slices.Contains(c.Fails, name) {
			c.Fails = append(slices.Clone(c.Fails), name)
		}
	}
	return t
}

// free is a name that no node has, with a number behind it where it must.
func free(name string, index map[string]int32) string {
	if _, taken := index[name]; !taken {
		return name
	}
	for n := 2; ; n++ {
		next := fmt.Sprintf("%s %d", name, n)
		if _, taken := index[next]; !taken {
			return next
		}
	}
}
