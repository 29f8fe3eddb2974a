package faulttree

import (
	"context"
	"slices"
)

// solver keeps the diagrams of one question: of the functions, and of their minimal sets.
type solver struct {
	l     *Logic
	fails *diagram // when each node fails
	sets  *diagram // families of sets; a vertex whose hi is never is left out
	level []int32  // by atom
	atom  []int32  // by level
	of    []int32  // by node, its vertex in fails, or -1
}

// newSolver orders the variables of the tops as they are met from the top, left to right:
// what stands together in the tree stands together in the diagram.
//
// Source: Rauzy (1993), section 5, the depth-first left-most order
func newSolver(ctx context.Context, l *Logic, tops []int32, most int) *solver {
	s := &solver{l: l, fails: newDiagram(ctx, most), sets: newDiagram(ctx, most)}
	s.level = make([]int32, l.atoms)
	s.of = make([]int32, len(l.nodes))
	for i := range s.of {
		s.of[i] = -1
	}
	seen := make([]bool, len(l.nodes))
	stack := slices.Clone(tops)
	slices.Reverse(stack)
	for len(stack) > 0 {
		n := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if seen[n] {
			continue
		}
		seen[n] = true
		if int(n) < l.atoms {
			s.level[n] = int32(len(s.atom))
			s.atom = append(s.atom, n)
		}
		in := l.nodes[n].in
		for i := len(in) - 1; i >= 0; i-- {
			stack = append(stack, in[i])
		}
	}
	return s
}

// function is the diagram of when a node fails.
func (s *solver) function(top int32) (int32, error) {
	for _, n := range s.l.cone([]int32{top}) {
		if s.of[n] >= 0 {
			continue
		}
		s.of[n] = s.node(n)
		if s.fails.err != nil {
			err := s.fails.err
			s.of[n] = -1
			return never, err
		}
	}
	return s.of[top], nil
}

// node is the diagram of one node whose inputs are there.
func (s *solver) node(n int32) int32 {
	d := s.fails
	if int(n) < s.l.atoms {
		switch s.l.fixed[n] {
		case +1:
			return always
		case -1:
			return never
		}
		return d.vertex(s.level[n], never, always)
	}
	at := &s.l.nodes[n]
	in := make([]int32, len(at.in))
	for i, m := range at.in {
		in[i] = s.of[m]
	}
	// Joined from the last variable up: each join then only adds above what is there.
	slices.SortFunc(in, func(a, b int32) int { return int(d.at[b].level) - int(d.at[a].level) })
	switch {
	case at.least == 1:
		f := never
		for _, m := range in {
			f = d.or(m, f)
		}
		return f
	case int(at.least) == len(in):
		f := always
		for _, m := range in {
			f = d.and(m, f)
		}
		return f
	}
	slices.Reverse(in)
	return d.atLeast(int(at.least), in)
}

// minimal is the family of the minimal sets of a function.
//
// Source: Rauzy (1993), minimal solutions: those of lo, and with the variable those of
// hi that are not solutions of lo already
func (s *solver) minimal(f int32) int32 {
	if f <= always {
		return f
	}
	d := s.sets
	if n, ok := d.done.get(opMinimal, f, 0); ok || d.err != nil {
		return n
	}
	v := s.fails.at[f]
	lo := s.minimal(v.lo)
	hi := s.without(s.minimal(v.hi), v.lo)
	return d.keep(opMinimal, f, 0, s.set(v.level, lo, hi))
}

// without is a family less the sets that are solutions of a function.
//
// Source: Rauzy (1993), the operator "without"
func (s *solver) without(family, f int32) int32 {
	d := s.sets
	switch {
	case f == always || family == never || d.err != nil:
		return never
	case f == never || family == always:
		return family
	}
	if n, ok := d.done.get(opWithout, family, f); ok {
		return n
	}
	k, v := d.at[family], s.fails.at[f]
	var result int32
	switch {
	case k.level == v.level:
		result = s.set(k.level, s.without(k.lo, v.lo), s.without(k.hi, v.hi))
	case k.level < v.level:
		result = s.set(k.level, s.without(k.lo, f), s.without(k.hi, f))
	default:
		result = s.without(family, v.lo)
	}
	return d.keep(opWithout, family, f, result)
}

// set is the family lo, and hi with the variable added.
func (s *solver) set(level, lo, hi int32) int32 {
	if hi == never {
		return lo
	}
	return s.sets.vertex(level, lo, hi)
}

// under lists the vertices of a diagram, those below first, without the ends.
func (d *diagram) under(top int32) []int32 {
	if top <= always {
		return nil
	}
	in := make([]bool, top+1)
	in[top] = true
	count := 0
	for n := top; n > always; n-- {
		if in[n] {
			in[d.at[n].lo], in[d.at[n].hi] = true, true
			count++
		}
	}
	list := make([]int32, 0, count)
	for n := always + 1; n <= top; n++ {
		if in[n] {
			list = append(list, n)
		}
	}
	return list
}

// counts is how many sets a family has of each size up to most, and in all.
func (d *diagram) counts(family int32, most int) (by []float64, all float64) {
	under := d.under(family)
	total := make([]float64, family+2)
	total[always] = 1
	now, before := make([]float64, family+2), make([]float64, family+2)
	for _, n := range under {
		total[n] = total[d.at[n].lo] + total[d.at[n].hi]
	}
	for k := 0; k <= most; k++ {
		clear(now)
		if k == 0 {
			now[always] = 1
		}
		for _, n := range under {
			now[n] = now[d.at[n].lo] + before[d.at[n].hi]
		}
		by = append(by, now[family])
		now, before = before, now
	}
	return by, total[family]
}

// longest is the largest set that is listed: a size for each bit of a word but one.
const longest = 62

// list calls take with the levels of each set of exactly so many, until it says no. Every
// step leads to a set, so that time goes with what is listed.
func (d *diagram) list(ctx context.Context, family int32, size int, take func(levels []int32) bool) error {
	sizes := make([]uint64, family+2) // a bit for each size of set under the vertex
	sizes[always] = 1
	for _, n := range d.under(family) {
		sizes[n] = sizes[d.at[n].lo] | sizes[d.at[n].hi]<<1
	}
	held := make([]int32, 0, size)
	steps := 0
	var walk func(n int32, left int) bool
	walk = func(n int32, left int) bool {
		if left < 0 || sizes[n]>>left&1 == 0 {
			return true
		}
		if steps++; steps%4096 == 0 && ctx.Err() != nil {
			return false
		}
		if n == always {
			return take(held)
		}
		v := d.at[n]
		held = append(held, v.level)
		more := walk(v.hi, left-1)
		held = held[:len(held)-1]
		return more && walk(v.lo, left)
	}
	walk(family, size)
	return ctx.Err()
}
