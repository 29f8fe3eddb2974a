package faulttree

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
)

// Fault is one thing wrong with a tree, or with what was asked of it.
type Fault struct {
	Node string // where: an event, a cause, a gate, a function, or a candidate
	What string // what is wrong
	Mend string // what to write instead
}

// Error is the fault in one line.
func (f Fault) Error() string {
	s := f.What
	if f.Node != "" {
		s = fmt.Sprintf("%q %s", f.Node, f.What)
	}
	if f.Mend != "" {
		s += " (" + f.Mend + ")"
	}
	return s
}

// Faults are all things wrong, in the order of the tree.
type Faults []Fault

// Error is a line for each fault.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i := range f {
		lines[i] = f[i].Error()
	}
	return strings.Join(lines, "\n")
}

// err is nil when there are none.
func (f Faults) err() error {
	if len(f) == 0 {
		return nil
	}
	return f
}

// names gives every node its number: events, causes, gates, functions, in turn.
func (t *Tree) names() (map[string]int32, Faults) {
	index := make(map[string]int32, len(t.Events)+len(t.Causes)+len(t.Gates)+len(t.Functions))
	var faults Faults
	next := int32(0)
	add := func(name, what string) {
		if strings.TrimSpace(name) == "" {
			faults = append(faults, Fault{What: fmt.Sprintf("%s number %d has no name", what, next+1), Mend: "give it one"})
		} else if _, taken := index[name]; taken {
			faults = append(faults, Fault{name, "is the name of two nodes", "rename one: each event, cause, gate and function has a name of its own"})
		} else {
			index[name] = next
		}
		next++
	}
	for _, e := range t.Events {
		add(e.Name, "event")
	}
	for _, c := range t.Causes {
		add(c.Name, "cause")
	}
	for _, g := range t.Gates {
		add(g.Name, "gate")
	}
	for _, f := range t.Functions {
		add(f.Name, "function")
	}
	return index, faults
}

// check finds what is wrong with each node by itself; cycles come after.
func (t *Tree) check(index map[string]int32) Faults {
	var faults Faults
	causes := int32(len(t.Events) + len(t.Causes))
	seen := make([]int, len(t.Events)+len(t.Causes)+len(t.Gates)+len(t.Functions)) // by node, the last list that named it
	lists := 0
	var hints map[string]string // only made when there is something to hint at
	list := func(node, field string, of []string, until int32, what string) {
		lists++
		for _, name := range of {
			at, ok := index[name]
			if !ok {
				if hints == nil {
					hints = plainly(index)
				}
				mend := "add it, or correct the name"
				if other, ok := hints[plain(name)]; ok {
					mend += fmt.Sprintf(": there is %q", other)
				}
				faults = append(faults, Fault{node, fmt.Sprintf("names %q in its %s, which is not in the tree", name, field), mend})
				continue
			}
			if at >= until {
				faults = append(faults, Fault{node, fmt.Sprintf("fails %q, which is not an event or a cause", name), "name the events that fail; " + what})
			} else if seen[at] == lists {
				faults = append(faults, Fault{node, fmt.Sprintf("names %q twice in its %s", name, field), "name it once; two of a thing are two events"})
			}
			seen[at] = lists
		}
	}
	all := causes + int32(len(t.Gates)+len(t.Functions))
	for _, e := range t.Events {
		list(e.Name, "needs", e.Needs, all, "")
	}
	for _, c := range t.Causes {
		list(c.Name, "list of what it fails", c.Fails, causes, "a gate fails by what provides it")
	}
	gate := func(g Gate) {
		list(g.Name, "list of what provides it", g.Of, all, "")
		switch {
		case len(g.Of) == 0:
			faults = append(faults, Fault{g.Name, "has nothing that provides it", "name at least one provider"})
		case g.Rule < AnyOf || g.Rule > AtLeast:
			faults = append(faults, Fault{g.Name, "has no rule", "say any of, all of, or at least how many"})
		case g.Rule == AtLeast && (g.Least < 1 || g.Least > len(g.Of)):
			faults = append(faults, Fault{g.Name, fmt.Sprintf("needs at least %d of %d", g.Least, len(g.Of)), fmt.Sprintf("ask for 1 to %d", len(g.Of))})
		case g.Rule != AtLeast && g.Least != 0:
			faults = append(faults, Fault{g.Name, fmt.Sprintf("says %s and a least number, %d", g.Rule, g.Least), "leave the number out, or say at least"})
		}
	}
	for _, g := range t.Gates {
		gate(g)
	}
	for _, f := range t.Functions {
		gate(f.Gate)
		if math.IsNaN(f.Weight) || math.IsInf(f.Weight, 0) || f.Weight < 0 {
			faults = append(faults, Fault{f.Name, fmt.Sprintf("has the weight %v", f.Weight), "give a number, 0 or more"})
		}
	}
	return faults
}

// near is a name that differs from this one in case or spaces only, as a hint.
func near(name string, index map[string]int32) string {
	if best, ok := plainly(index)[plain(name)]; ok {
		return fmt.Sprintf(": there is %q", best)
	}
	return ""
}

// plain is a name without what is easily mistyped.
func plain(name string) string {
	return strings.ToLower(strings.Join(strings.Fields(name), " "))
}

// plainly finds names by their plain form; of several, the first in the tree.
func plainly(index map[string]int32) map[string]string {
	by := make(map[string]string, len(index))
	for name, at := range index {
		if other, ok := by[plain(name)]; !ok || at < index[other] {
			by[plain(name)] = name
		}
	}
	return by
}

// sorted are the names of a map in order, so that what is said does not change from one
// time to the next.
func sorted[V any](m map[string]V) []string {
	return slices.Sorted(maps.Keys(m))
}
