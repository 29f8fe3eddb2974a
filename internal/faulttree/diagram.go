package faulttree

import (
	"context"
	"errors"
)

// ErrTooLarge says that a diagram met its bound, so that nothing exact can be said.
var ErrTooLarge = errors.New("the diagram of this function grew past its bound")

// The two ends of a diagram: of a function, false and true; of a family of sets, no set
// at all and the empty set.
const (
	never  int32 = 0
	always int32 = 1
)

// last stands below every variable.
const last = int32(1<<31 - 1)

// vertex asks of one variable: hi when it is so, lo when not. In a family of sets, hi are
// the sets that hold it, without it.
type vertex struct{ level, lo, hi int32 }

// diagram holds shared vertices; those below come before those above, so that a sum over
// a diagram is one sweep over the list.
//
// Source: Bryant, "Graph-based algorithms for Boolean function manipulation", IEEE
// Transactions on Computers C-35 (1986)
type diagram struct {
	ctx    context.Context
	at     []vertex
	unique hashed
	done   hashed // results of what was asked before
	most   int
	err    error
	work   int
}

// What done keeps results of.
const (
	opAnd int32 = iota
	opOr
	opMinimal
	opWithout
)

// newDiagram is one with the two ends alone, to grow to so many vertices at most.
func newDiagram(ctx context.Context, most int) *diagram {
	return &diagram{ctx: ctx, at: []vertex{{level: last}, {level: last}}, most: most}
}

// vertex is the one vertex of its kind. After an error it is an end, so that whoever
// recurses comes out soon.
func (d *diagram) vertex(level, lo, hi int32) int32 {
	if d.err != nil {
		return never
	}
	if n, ok := d.unique.get(level, lo, hi); ok {
		return n
	}
	if len(d.at) >= d.most {
		d.err = ErrTooLarge
		return never
	}
	n := int32(len(d.at))
	d.at = append(d.at, vertex{level, lo, hi})
	d.unique.put(level, lo, hi, n)
	return n
}

// keep remembers a result, and now and then asks whether to go on. The number kept is
// bounded too: a diagram may take long without growing.
func (d *diagram) keep(op, a, b, result int32) int32 {
	if d.err != nil {
		return never
	}
	d.done.put(op, a, b, result)
	d.work++
	if d.work > 6*d.most {
		d.err = ErrTooLarge
	} else if d.work%4096 == 0 {
		d.err = d.ctx.Err()
	}
	return result
}

// choose is "hi when the variable is so, else lo".
func (d *diagram) choose(level, lo, hi int32) int32 {
	if lo == hi {
		return lo
	}
	return d.vertex(level, lo, hi)
}

// and is where both are so.
func (d *diagram) and(a, b int32) int32 { return d.both(opAnd, a, b, never, always) }

// or is where either is so.
func (d *diagram) or(a, b int32) int32 { return d.both(opOr, a, b, always, never) }

// both joins two functions; full is the end that decides, idle the one that leaves the
// other as it is.
func (d *diagram) both(op, a, b, full, idle int32) int32 {
	switch {
	case d.err != nil || a == full || b == full:
		return full
	case a == idle || a == b:
		return b
	case b == idle:
		return a
	}
	if a > b {
		a, b = b, a
	}
	if n, ok := d.done.get(op, a, b); ok {
		return n
	}
	x, y := d.at[a], d.at[b]
	level := min(x.level, y.level)
	xlo, xhi, ylo, yhi := a, a, b, b
	if x.level == level {
		xlo, xhi = x.lo, x.hi
	}
	if y.level == level {
		ylo, yhi = y.lo, y.hi
	}
	lo := d.both(op, xlo, ylo, full, idle)
	hi := d.both(op, xhi, yhi, full, idle)
	return d.keep(op, a, b, d.choose(level, lo, hi))
}

// atLeast is where so many of the functions are so: row by row, how many of those seen
// are so, from the last one up.
func (d *diagram) atLeast(least int, of []int32) int32 {
	row := make([]int32, least+1)
	row[0] = always
	for i := len(of) - 1; i >= 0; i-- {
		for k := min(least, len(of)-i); k > 0; k-- {
			if d.err != nil {
				return never
			}
			row[k] = d.or(row[k], d.and(of[i], row[k-1]))
		}
	}
	return row[least]
}

// hashed maps three numbers to one. It only grows.
type hashed struct {
	keys  [][3]int32
	value []int32 // -1 where nothing is
	count int
}

// spot is where a key is, or would be.
func (h *hashed) spot(key [3]int32) int {
	x := uint64(uint32(key[0]))*0x9e3779b97f4a7c15 ^ uint64(uint32(key[1]))*0xc2b2ae3d27d4eb4f ^ uint64(uint32(key[2]))*0x165667b19e3779f9
	x ^= x >> 29
	x *= 0xbf58476d1ce4e5b9
	x ^= x >> 32
	mask := len(h.keys) - 1
	i := int(x & uint64(mask))
	for h.value[i] >= 0 && h.keys[i] != key {
		i = (i + 1) & mask
	}
	return i
}

// get is what was put, if anything.
func (h *hashed) get(a, b, c int32) (int32, bool) {
	if h.count == 0 {
		return 0, false
	}
	v := h.value[h.spot([3]int32{a, b, c})]
	return v, v >= 0
}

// put keeps a value that is not negative.
func (h *hashed) put(a, b, c, value int32) {
	if 4*(h.count+1) > 3*len(h.keys) {
		old := *h
		n := max(1024, 2*len(h.keys))
		h.keys, h.value = make([][3]int32, n), make([]int32, n)
		for i := range h.value {
			h.value[i] = -1
		}
		for i, v := range old.value {
			if v >= 0 {
				at := h.spot(old.keys[i])
				h.keys[at], h.value[at] = old.keys[i], v
			}
		}
	}
	at := h.spot([3]int32{a, b, c})
	if h.value[at] < 0 {
		h.count++
	}
	h.keys[at], h.value[at] = [3]int32{a, b, c}, value
}
