package faulttree

import (
	"fmt"
	"slices"
)

// Logic is a tree that was found sound, ready to be asked. It does not change, and may be
// asked by several at once.
type Logic struct {
	tree  Tree
	index map[string]int32
	nodes []node
	order []int32 // all nodes, inputs before what they feed
	atoms int     // the first so many nodes of tree are atoms: events by themselves, then causes
	fixed []int8  // by atom: +1 has failed already, -1 never fails, 0 may
}

// node fails when so many of its inputs fail. Nodes are numbered: what may fail by itself
// first (an event's own failure, a cause's own happening), then the tree's nodes in the
// order of names.
type node struct {
	least int32
	in    []int32
}

// New checks a tree and makes it ready.
//
// Error: Faults, all there are: names that are missing, double or unknown, gates without
// providers or asking for more than they have, cycles with the names round them
func New(t Tree) (*Logic, error) {
	index, faults := t.names()
	faults = append(faults, t.check(index)...)
	if len(faults) > 0 {
		return nil, faults
	}
	l := &Logic{tree: t, index: index, atoms: len(t.Events) + len(t.Causes)}
	l.connect()
	if faults := l.sort(); len(faults) > 0 {
		return nil, faults
	}
	l.fixed = make([]int8, l.atoms)
	return l, nil
}

// After is the same logic once the named events and causes have happened: what ends each
// function from here on.
func (l *Logic) After(lost ...string) (*Logic, error) {
	after := *l
	after.fixed = slices.Clone(l.fixed)
	var faults Faults
	for _, name := range lost {
		at, ok := l.index[name]
		if !ok || int(at) >= l.atoms {
			faults = append(faults, Fault{name, "is not an event or a cause of the tree", "name what has failed" + near(name, l.index)})
			continue
		}
		after.fixed[at] = +1
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return &after, nil
}

// dual is the logic of what must hold for a function to be provided: its cut sets are the
// path sets of this one.
//
// Source: NUREG-0492, ch. VII: the dual changes every "and" for an "or" and back
func (l *Logic) dual() *Logic {
	dual := *l
	dual.nodes = slices.Clone(l.nodes)
	for i := range dual.nodes {
		if n := &dual.nodes[i]; len(n.in) > 0 {
			n.least = int32(len(n.in)) - n.least + 1
		}
	}
	dual.fixed = slices.Clone(l.fixed)
	for i := range dual.fixed {
		dual.fixed[i] = -dual.fixed[i]
	}
	return &dual
}

// Kind is the kind of an event or a cause, Other for any other name.
func (l *Logic) Kind(name string) Kind {
	at, ok := l.index[name]
	switch {
	case !ok || int(at) >= l.atoms:
		return Other
	case int(at) < len(l.tree.Events):
		return l.tree.Events[at].Kind
	}
	return l.tree.Causes[int(at)-len(l.tree.Events)].Kind
}

// name of an atom.
func (l *Logic) name(atom int32) string {
	if int(atom) < len(l.tree.Events) {
		return l.tree.Events[atom].Name
	}
	return l.tree.Causes[int(atom)-len(l.tree.Events)].Name
}

// title of any node, atoms by the name of what they are.
func (l *Logic) title(n int32) string {
	n -= int32(l.atoms)
	if n < 0 {
		return l.name(n + int32(l.atoms))
	}
	if int(n) < l.atoms {
		return l.name(n)
	}
	n -= int32(l.atoms)
	if int(n) < len(l.tree.Gates) {
		return l.tree.Gates[n].Name
	}
	return l.tree.Functions[int(n)-len(l.tree.Gates)].Name
}

// connect turns what provides what into what fails when.
func (l *Logic) connect() {
	t := &l.tree
	first := int32(l.atoms)
	events := int32(len(t.Events))
	l.nodes = make([]node, l.atoms+l.atoms+len(t.Gates)+len(t.Functions))
	for i := range t.Events {
		needs := t.Events[i].Needs
		in := make([]int32, 1, 2+len(needs))
		in[0] = int32(i)
		for _, name := range needs {
			in = append(in, first+l.index[name])
		}
		l.nodes[first+int32(i)] = node{1, in}
	}
	l.happen()
	for c := range t.Causes {
		for _, name := range t.Causes[c].Fails {
			if e := l.index[name]; e < events {
				n := &l.nodes[first+e]
				n.in = append(n.in, first+events+int32(c))
			}
		}
	}
	gate := func(at int, g *Gate) {
		in := make([]int32, len(g.Of))
		for i, name := range g.Of {
			in[i] = first + l.index[name]
		}
		least := 1
		switch g.Rule {
		case AnyOf:
			least = len(in)
		case AtLeast:
			least = len(in) - g.Least + 1
		}
		l.nodes[at] = node{int32(least), in}
	}
	at := 2 * l.atoms
	for i := range t.Gates {
		gate(at, &t.Gates[i])
		at++
	}
	for i := range t.Functions {
		gate(at, &t.Functions[i].Gate)
		at++
	}
}

// happen connects the causes: each happens by itself or by those that bring it. Causes that
// bring each other happen together, so one of them stands for all.
func (l *Logic) happen() {
	t := &l.tree
	events := int32(len(t.Events))
	first := int32(l.atoms) + events
	by := make([]node, len(t.Causes)) // what brings each directly
	for c := range t.Causes {
		for _, name := range t.Causes[c].Fails {
			if to := l.index[name] - events; to >= 0 && to != int32(c) {
				by[to].in = append(by[to].in, int32(c))
			}
		}
	}
	stands := make([]int32, len(t.Causes)) // those that bring are found first, so theirs is known
	components(by, func(group []int32) {
		one := group[0]
		for _, c := range group {
			stands[c] = one
		}
		var in []int32
		for _, c := range group {
			in = append(in, events+c)
			for _, from := range by[c].in {
				if stands[from] != one {
					in = append(in, first+stands[from])
				}
			}
			l.nodes[first+c] = node{1, []int32{first + one}}
		}
		l.nodes[first+one] = node{1, in}
	})
}

// functions gives the node of each named function, or of all when none is named.
func (l *Logic) functions(names []string) ([]int, error) {
	if len(names) == 0 {
		all := make([]int, len(l.tree.Functions))
		for i := range all {
			all[i] = i
		}
		return all, nil
	}
	first := int32(l.atoms + len(l.tree.Gates))
	var faults Faults
	var at []int
	for _, name := range names {
		n, ok := l.index[name]
		if !ok || n < first {
			faults = append(faults, Fault{name, "is not a function of the tree", fmt.Sprintf("ask for one of its %d functions%s", len(l.tree.Functions), near(name, l.index))})
			continue
		}
		at = append(at, int(n-first))
	}
	return at, faults.err()
}

// top is the node of a function.
func (l *Logic) top(function int) int32 {
	return int32(2*l.atoms + len(l.tree.Gates) + function)
}

// cone is what the tops depend on, inputs before what they feed.
func (l *Logic) cone(tops []int32) []int32 {
	in := make([]bool, len(l.nodes))
	for _, n := range tops {
		in[n] = true
	}
	count := 0
	for i := len(l.order) - 1; i >= 0; i-- {
		if n := l.order[i]; in[n] {
			count++
			for _, m := range l.nodes[n].in {
				in[m] = true
			}
		}
	}
	cone := make([]int32, 0, count)
	for _, n := range l.order {
		if in[n] {
			cone = append(cone, n)
		}
	}
	return cone
}
