package faulttree

import (
	"context"
	"math/bits"
)

// wide is how many words of 64 combinations go through the tree together: enough that the
// walk over the nodes is paid for, few enough that it all stays near the processor.
const wide = 16

// tester sends combinations of failures through the tree, one bit for each.
//
// Source: Vesely and Narum, IN-1349 (1970), combination testing: fail the atoms one, two,
// three at a time and see whether the top does. What is ours is that 64 go at once.
type tester struct {
	l     *Logic
	cone  []int32
	row   []int32  // by node, its place in bits, or -1 outside the cone
	bits  []uint64 // wide words for each node of the cone
	live  []int32  // atoms in the cone that have not failed yet
	place []int32  // by atom, its place in live; set by prune
	sets  [64 * wide][3]int32
	count int
	order int
}

// newTester makes ready to test the cone of the tops.
func newTester(l *Logic, tops []int32) *tester {
	t := &tester{l: l, cone: l.cone(tops), row: make([]int32, len(l.nodes))}
	for i := range t.row {
		t.row[i] = -1
	}
	for i, n := range t.cone {
		t.row[n] = int32(i)
	}
	t.bits = make([]uint64, len(t.cone)*wide)
	for a := range int32(l.atoms) {
		if t.row[a] < 0 {
			continue
		}
		switch l.fixed[a] {
		case 0:
			t.live = append(t.live, a)
		case +1:
			row := t.words(a)
			for i := range row {
				row[i] = ^uint64(0)
			}
		}
	}
	return t
}

// words are the bits of a node.
func (t *tester) words(n int32) []uint64 {
	at := int(t.row[n]) * wide
	return t.bits[at : at+wide : at+wide]
}

// edges is how many words are read for one word of combinations.
func (t *tester) edges() float64 {
	sum := len(t.live)
	for _, n := range t.cone {
		sum += len(t.l.nodes[n].in) + 1
	}
	return float64(sum)
}

// add lines up one combination for the next run; true says that no more go in.
func (t *tester) add(set [3]int32, order int) bool {
	at, bit := t.count/64, uint64(1)<<(t.count%64)
	for _, a := range set[:order] {
		t.words(a)[at] |= bit
	}
	t.sets[t.count], t.order = set, order
	t.count++
	return t.count == len(t.sets)
}

// run finds which nodes fail under the combinations lined up.
func (t *tester) run() {
	n := (t.count + 63) / 64
	for _, at := range t.cone {
		node := &t.l.nodes[at]
		if node.in == nil {
			continue
		}
		out := t.words(at)[:n]
		switch {
		case node.least == 1:
			copy(out, t.words(node.in[0]))
			for _, in := range node.in[1:] {
				for i, w := range t.words(in)[:len(out)] {
					out[i] |= w
				}
			}
		case int(node.least) == len(node.in):
			copy(out, t.words(node.in[0]))
			for _, in := range node.in[1:] {
				for i, w := range t.words(in)[:len(out)] {
					out[i] &= w
				}
			}
		default:
			for i := range out {
				out[i] = t.votes(node, i)
			}
		}
	}
}

// votes says for one word in which combinations at least so many inputs fail: the inputs
// are counted in binary, each digit a word, and the count less the least is carried
// through; what carries out is where the count suffices.
func (t *tester) votes(n *node, word int) uint64 {
	var digits [32]uint64
	for _, in := range n.in {
		carry := t.words(in)[word]
		for d := 0; carry != 0; d++ {
			digits[d], carry = digits[d]^carry, digits[d]&carry
		}
	}
	enough := ^uint64(0)
	for d := range bits.Len(uint(len(n.in))) {
		if uint(n.least)>>d&1 == 1 {
			enough &= digits[d]
		} else {
			enough |= digits[d]
		}
	}
	return enough
}

// clear takes the combinations out again.
func (t *tester) clear() {
	for i, set := range t.sets[:t.count] {
		for _, a := range set[:t.order] {
			t.words(a)[i/64] = 0
		}
	}
	t.count = 0
}

// each calls found with the place in t.sets of every combination under which a top fails.
func (t *tester) each(top int32, found func(i int)) {
	for w, word := range t.words(top)[:(t.count+63)/64] {
		if left := t.count - 64*w; left < 64 {
			word &= 1<<left - 1
		}
		for ; word != 0; word &= word - 1 {
			found(64*w + bits.TrailingZeros64(word))
		}
	}
}

// cost is the least number of words read to test all combinations of an order.
func (t *tester) cost(live, order int) float64 {
	sets := float64(1)
	for i := range order {
		sets *= float64(live-i) / float64(i+1)
	}
	return (max(sets, 0)/64 + 1) * t.edges()
}

// minimal are the short cut sets of one top, as far as they were found.
type minimal struct {
	ended bool     // nothing more need fail
	one   []bool   // by atom: it alone
	pairs []uint64 // by pair of places in live: the two end the top; only for order 3
	sets  [][3]int32
	size  []int8 // of each of sets
	by    [4]int // how many of each order
	upTo  int    // all of this order or less are in sets
	tried int    // all of this order or less are in by
	full  bool   // sets met the limit
}

// take keeps a set that ends the top, when no part of it does.
func (m *minimal) take(t *tester, set [3]int32, order, limit int) {
	if order > 1 && (m.one[set[0]] || m.one[set[1]]) {
		return
	}
	// Sets come with the later atom last, so that b > a.
	pair := func(a, b int32) (int, uint64) {
		a, b = t.place[a], t.place[b]
		at := int(b)*(int(b)-1)/2 + int(a)
		return at / 64, 1 << (at % 64)
	}
	switch order {
	case 1:
		m.one[set[0]] = true
	case 2:
		if m.pairs != nil {
			at, bit := pair(set[0], set[1])
			m.pairs[at] |= bit
		}
	case 3:
		if m.one[set[2]] {
			return
		}
		for _, p := range [3][2]int32{{set[0], set[1]}, {set[0], set[2]}, {set[1], set[2]}} {
			if at, bit := pair(p[0], p[1]); m.pairs[at]&bit != 0 {
				return
			}
		}
	}
	m.by[order]++
	if len(m.sets) >= limit {
		m.full = true
		return
	}
	m.sets = append(m.sets, set)
	m.size = append(m.size, int8(order))
}

// combinations finds the minimal cut sets of every top up to an order of 3 at most.
//
// Out: work is false where the words to read would have passed the budget; the orders
// before that are whole
// Error: that of the context
func (l *Logic) combinations(ctx context.Context, tops []int32, order, limit int, budget float64) (found []minimal, work bool, err error) {
	t := newTester(l, tops)
	found = make([]minimal, len(tops))
	if budget -= t.cost(len(t.live), 1); budget < 0 {
		for i := range found {
			found[i].upTo, found[i].tried = -1, -1
		}
		return found, false, ctx.Err()
	}
	t.add([3]int32{}, 0)
	t.run()
	for i, top := range tops {
		found[i].ended = t.words(top)[0]&1 == 1
		found[i].one = make([]bool, l.atoms)
	}
	t.clear()
	for k := 1; k <= order; k++ {
		if k > 1 {
			t.prune(found)
			if budget -= t.cost(len(t.live), k); budget < 0 {
				return found, false, ctx.Err()
			}
		}
		if order == 3 && k == 2 {
			for i := range found {
				found[i].pairs = make([]uint64, len(t.live)*len(t.live)/128+1)
			}
		}
		if err := t.every(ctx, k, func() {
			for i, top := range tops {
				if !found[i].ended {
					t.each(top, func(at int) { found[i].take(t, t.sets[at], k, limit) })
				}
			}
		}); err != nil {
			return nil, false, err
		}
		for i := range found {
			found[i].tried = k
			if !found[i].full {
				found[i].upTo = k
			}
		}
	}
	return found, true, ctx.Err()
}

// prune drops from the live atoms those that end every top alone: they are in no larger
// minimal set.
func (t *tester) prune(found []minimal) {
	live := t.live[:0]
	for _, a := range t.live {
		for i := range found {
			if !found[i].ended && !found[i].one[a] {
				live = append(live, a)
				break
			}
		}
	}
	t.live = live
	t.place = make([]int32, t.l.atoms)
	for i, a := range live {
		t.place[a] = int32(i)
	}
}

// every lines up all combinations of an order, and calls done after each run.
func (t *tester) every(ctx context.Context, order int, done func()) error {
	flush := func() error {
		t.run()
		done()
		t.clear()
		return ctx.Err()
	}
	n := int32(len(t.live))
	put := func(set [3]int32) error {
		if t.add(set, order) {
			return flush()
		}
		return nil
	}
	for k := range n {
		if order == 1 {
			if err := put([3]int32{t.live[k]}); err != nil {
				return err
			}
			continue
		}
		for j := range k {
			if order == 2 {
				if err := put([3]int32{t.live[j], t.live[k]}); err != nil {
					return err
				}
				continue
			}
			for i := range j {
				if err := put([3]int32{t.live[i], t.live[j], t.live[k]}); err != nil {
					return err
				}
			}
		}
	}
	if t.count > 0 {
		return flush()
	}
	return ctx.Err()
}
