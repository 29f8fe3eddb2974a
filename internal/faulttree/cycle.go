package faulttree

import (
	"fmt"
	"slices"
	"strings"
)

// sort puts inputs before what they feed, and finds every group of nodes that feed each
// other.
func (l *Logic) sort() Faults {
	var faults Faults
	l.order = make([]int32, 0, len(l.nodes))
	components(l.nodes, func(group []int32) {
		l.order = append(l.order, group...)
		if v := group[0]; len(group) > 1 || slices.Contains(l.nodes[v].in, v) {
			faults = append(faults, l.cycle(slices.Min(group), group))
		}
	})
	return faults
}

// components calls found with every group of nodes that feed each other, mostly of one,
// those that feed it before it. It walks with a stack of its own, so that no depth of
// tree can exhaust it.
//
// Source: Tarjan, "Depth-first search and linear graph algorithms", SIAM Journal on
// Computing 1 (1972)
func components(nodes []node, found func(group []int32)) {
	n := len(nodes)
	number := make([]int32, n) // in order of visit, from 1; 0 is not visited
	low := make([]int32, n)
	open := make([]bool, n) // on the stack of nodes without a component
	type place struct{ node, next int32 }
	var walk []place
	var stack []int32
	count := int32(0)
	visit := func(v int32) {
		count++
		number[v], low[v] = count, count
		open[v] = true
		stack = append(stack, v)
		walk = append(walk, place{v, 0})
	}
	for root := range nodes {
		if number[root] != 0 {
			continue
		}
		visit(int32(root))
		for len(walk) > 0 {
			p := &walk[len(walk)-1]
			v := p.node
			if in := nodes[v].in; int(p.next) < len(in) {
				w := in[p.next]
				p.next++
				if number[w] == 0 {
					visit(w)
				} else if open[w] {
					low[v] = min(low[v], number[w])
				}
				continue
			}
			walk = walk[:len(walk)-1]
			if len(walk) > 0 {
				u := walk[len(walk)-1].node
				low[u] = min(low[u], low[v])
			}
			if low[v] != number[v] {
				continue
			}
			at := len(stack) - 1
			for stack[at] != v {
				at--
			}
			group := stack[at:]
			stack = stack[:at]
			for _, w := range group {
				open[w] = false
			}
			found(group)
		}
	}
}

// cycle is the shortest way round from a node to itself, inside its group.
func (l *Logic) cycle(from int32, group []int32) Fault {
	inside := make(map[int32]bool, len(group))
	for _, n := range group {
		inside[n] = true
	}
	came := map[int32]int32{}
	queue := []int32{from}
	for i := 0; i < len(queue); i++ {
		for _, w := range l.nodes[queue[i]].in {
			if !inside[w] {
				continue
			}
			if _, seen := came[w]; !seen {
				came[w] = queue[i]
				queue = append(queue, w)
			}
		}
		if _, round := came[from]; round {
			break
		}
	}
	way := []string{fmt.Sprintf("%q", l.title(from))}
	for n := came[from]; ; n = came[n] {
		way = append(way, fmt.Sprintf("%q", l.title(n)))
		if n == from {
			break
		}
	}
	slices.Reverse(way)
	const most = 12
	if len(way) > most {
		way = append(append(way[:most/2:most/2], fmt.Sprintf("%d more", len(way)-most)), way[len(way)-most/2:]...)
	}
	return Fault{l.title(from), "needs itself: " + strings.Join(way, " needs "), "take one of these needs out"}
}
