package stowing

import (
	"context"
	"math"
	"math/rand/v2"
	"sort"
	"time"
)

// lot is what the search moves: the kept units of an item, or what is used of it in one block.
type lot struct {
	item, block int // block -1: kept
	units       int
}

// change is one addition to the state, to be undone.
type change struct{ item, block, place, units int }

// search looks for a good plan by simulated annealing: a random change is kept when it is
// better, and with a falling chance when it is worse.
//
// Source: Kirkpatrick, Gelatt & Vecchi, "Optimization by simulated annealing", Science 220
// (1983) 671-680
type search struct {
	*state
	r     *rand.Rand
	lots  []lot
	done  []change // of the change under trial
	best  Layout   // the best that keeps the rules, or the best of all before there is one
	value float64  // of the best
	keep  bool     // the best keeps the rules
	goes  [][]int  // item: the places into which it may go
}

// newSearch makes a search with nothing aboard.
func (j *job) newSearch(seed uint64) *search {
	s := &search{state: j.newState(), r: rand.New(rand.NewPCG(seed, 6)), value: math.Inf(1)}
	for i := range j.Items {
		var goes []int
		for k := range j.Places {
			if j.goes[i][k] && j.most[i][k] > 0 {
				goes = append(goes, k)
			}
		}
		s.goes = append(s.goes, goes)
		if j.need[i] == nil && j.Items[i].Units > 0 {
			s.lots = append(s.lots, lot{i, -1, j.Items[i].Units})
		}
		for b, n := range j.need[i] {
			if n > 0 {
				s.lots = append(s.lots, lot{i, b, n})
			}
		}
	}
	return s
}

// units is what of a lot lies in a place.
func (s *search) units(l lot, k int) int {
	if l.block < 0 {
		return s.l.Where[l.item][k]
	}
	return s.l.Take[l.item][l.block][k]
}

// shift is an add that can be undone.
func (s *search) shift(i, b, k, n int) {
	if n != 0 {
		s.add(i, b, k, n)
		s.done = append(s.done, change{i, b, k, n})
	}
}

// carry moves n units of a lot.
func (s *search) carry(l lot, from, to, n int) {
	s.shift(l.item, l.block, from, -n)
	s.shift(l.item, l.block, to, n)
}

// undo takes the change under trial back.
func (s *search) undo() {
	for n := len(s.done) - 1; n >= 0; n-- {
		c := s.done[n]
		s.add(c.item, c.block, c.place, -c.units)
	}
	s.done = s.done[:0]
}

// note keeps the state when it is the best so far.
func (s *search) note() {
	v := s.price()
	if s.keep && v >= s.value-1e-9 {
		return
	}
	if keeps := s.keeps(); keeps && !s.keep || keeps == s.keep && v < s.value-1e-9 {
		s.best, s.value, s.keep = s.l.Clone(), v, keeps
	}
}

// greedy puts everything aboard: pins first, then the large things, each where it is
// cheapest as the boat then is; what is used early last, as it soon gives room again.
func (s *search) greedy() {
	left := make(map[lot]int, len(s.lots))
	byItem := map[int][]lot{}
	for _, l := range s.lots {
		left[l] = l.units
		byItem[l.item] = append(byItem[l.item], l)
	}
	for i := range s.j.Items {
		for k := range s.j.Places {
			pin := s.j.Items[i].Pins[k]
			for _, l := range byItem[i] {
				n := min(pin, left[l])
				s.add(l.item, l.block, k, n)
				left[l] -= n
				pin -= n
			}
		}
	}
	order := append([]lot(nil), s.lots...)
	bulk := func(l lot) float64 { return float64(l.units) * s.j.Items[l.item].Volume }
	sort.SliceStable(order, func(a, b int) bool {
		if order[a].block != order[b].block {
			return order[a].block < order[b].block
		}
		return bulk(order[a]) > bulk(order[b])
	})
	for _, l := range order {
		for left[l] > 0 {
			left[l] -= s.cheapest(l, left[l])
		}
	}
	s.note()
}

// cheapest puts units of a lot where it costs least by unit, all or as many as have room,
// and tells how many.
func (s *search) cheapest(l lot, n int) int {
	goes := s.goes[l.item]
	if len(goes) == 0 { // the rules leave no place: anywhere, and the plan says so
		s.add(l.item, l.block, 0, n)
		return n
	}
	place, units, least := goes[0], n, math.Inf(1)
	was := s.price()
	for _, k := range goes {
		room := n
		if v := s.j.Items[l.item].Volume; v > 0 && !s.j.Lies {
			room = int((s.j.Places[k].Volume - s.vol[k] + slack/2) / v)
		}
		for _, u := range [...]int{n, max(1, min(n, room)), max(1, n/2)} {
			s.shift(l.item, l.block, k, u)
			if c := (s.price() - was) / float64(u); c < least {
				place, units, least = k, u, c
			}
			s.undo()
		}
	}
	s.add(l.item, l.block, place, units)
	return units
}

// anneal searches until the time is over. told is called when the best has become better,
// at most some times a second.
//
// The temperatures are parts of what it costs to open one easy place in one block, the step
// in which the objective mostly changes; they were found by trial on made-up voyages.
func (s *search) anneal(ctx context.Context, d time.Duration, told func()) {
	if len(s.lots) == 0 {
		return
	}
	step := 0.1
	for _, v := range s.j.span {
		step = max(v, s.j.w.Spread)
	}
	hot, cold := 0.2*step, 0.03*step
	const every = 256
	from, spoken, value := time.Now(), time.Now(), s.value
	t, now := hot, s.price()
	for n := 0; ; n++ {
		if n%every == 0 {
			part := float64(time.Since(from)) / float64(max(1, d))
			if part >= 1 || ctx.Err() != nil {
				return
			}
			t = hot * math.Pow(cold/hot, part)
			if s.value < value && time.Since(spoken) > 200*time.Millisecond {
				value, spoken = s.value, time.Now()
				told()
			}
		}
		s.done = s.done[:0]
		s.try()
		if len(s.done) == 0 {
			continue
		}
		v := s.price()
		if v > now && s.r.Float64() >= math.Exp((now-v)/t) {
			s.undo()
			s.stale = true
			continue
		}
		now = v
		s.note()
	}
}

// try makes one random change.
func (s *search) try() {
	l := s.lots[s.r.IntN(len(s.lots))]
	if s.j.Lies {
		s.exchange(l)
		return
	}
	switch n := s.r.IntN(100); {
	case n < 40:
		s.elsewhere(l)
	case n < 65:
		s.trade(l)
	case n < 80:
		s.exchange(l)
	case n < 91:
		s.shut(l)
	case n < 94:
		s.squeeze(l)
	default:
		s.whole(l)
	}
}

// lying is a random place in which some of a lot lies.
func (s *search) lying(l lot) int {
	k := s.r.IntN(len(s.j.Places))
	for range s.j.Places {
		if s.units(l, k) > 0 {
			return k
		}
		k = (k + 1) % len(s.j.Places)
	}
	return k
}

// place is a random place into which an item may go.
func (s *search) place(item int) int {
	g := s.goes[item]
	if len(g) == 0 {
		return -1
	}
	return g[s.r.IntN(len(g))]
}

// elsewhere carries some or all of a lot to another place.
func (s *search) elsewhere(l lot) {
	from, to := s.lying(l), s.place(l.item)
	if to < 0 || from == to {
		return
	}
	n := s.units(l, from)
	if n > 1 && s.r.IntN(3) == 0 {
		n = 1 + s.r.IntN(n)
	}
	s.carry(l, from, to, n)
}

// trade exchanges the places of two lots.
func (s *search) trade(l lot) {
	o := s.lots[s.r.IntN(len(s.lots))]
	a, b := s.lying(l), s.lying(o)
	if a == b || !s.j.goes[l.item][b] || !s.j.goes[o.item][a] {
		return
	}
	n, m := s.units(l, a), s.units(o, b)
	s.carry(l, a, b, n)
	s.carry(o, b, a, m)
}

// exchange lets two blocks change places in what they use of an item, or of all items: what
// lies where at departure stays.
func (s *search) exchange(l lot) {
	if l.block < 0 {
		return
	}
	b := s.r.IntN(len(s.j.span))
	from, to := s.lying(l), s.place(l.item)
	if b == l.block || to < 0 || from == to {
		return
	}
	all := s.r.IntN(2) == 0
	for i := range s.l.Take {
		if s.l.Take[i] == nil || !all && i != l.item {
			continue
		}
		n := min(s.l.Take[i][l.block][from], s.l.Take[i][b][to])
		if n > 0 {
			s.carry(lot{item: i, block: l.block}, from, to, n)
			s.carry(lot{item: i, block: b}, to, from, n)
		}
	}
}

// shut takes all that a block uses out of one place from another instead; half the time
// with what another block uses there in exchange.
func (s *search) shut(l lot) {
	if l.block < 0 {
		return
	}
	from, to, other := s.lying(l), s.place(l.item), s.r.IntN(len(s.j.span))
	if to < 0 || from == to {
		return
	}
	back := s.r.IntN(2) == 0 && other != l.block
	for i := range s.l.Take {
		if s.l.Take[i] == nil {
			continue
		}
		n, m := s.l.Take[i][l.block][from], 0
		if back {
			m = s.l.Take[i][other][to]
		}
		if n > 0 && s.j.goes[i][to] {
			s.carry(lot{item: i, block: l.block}, from, to, n)
		}
		if m > 0 && s.j.goes[i][from] {
			s.carry(lot{item: i, block: other}, to, from, m)
		}
	}
}

// squeeze takes all that a block uses out of one place from another, and puts out of the
// other what then has no room there.
func (s *search) squeeze(l lot) {
	if l.block < 0 {
		return
	}
	from, to := s.lying(l), s.place(l.item)
	if to < 0 || from == to {
		return
	}
	for i := range s.l.Take {
		if s.l.Take[i] != nil && s.j.goes[i][to] {
			s.carry(lot{item: i, block: l.block}, from, to, s.l.Take[i][l.block][from])
		}
	}
	for n := 0; n < 200 && s.vol[to] > s.j.Places[to].Volume; n++ {
		o := s.lots[s.r.IntN(len(s.lots))]
		if o.block == l.block || s.units(o, to) == 0 {
			continue
		}
		out := from
		if s.r.IntN(3) == 0 || !s.j.goes[o.item][from] {
			out = s.place(o.item)
		}
		if out >= 0 && out != to {
			s.carry(o, to, out, s.units(o, to))
		}
	}
}

// whole carries all of an item that lies in one place to another.
func (s *search) whole(l lot) {
	from, to := s.lying(l), s.place(l.item)
	if to < 0 || from == to {
		return
	}
	if l.block < 0 {
		s.carry(l, from, to, s.units(l, from))
		return
	}
	for b := range s.l.Take[l.item] {
		s.carry(lot{item: l.item, block: b}, from, to, s.l.Take[l.item][b][from])
	}
}
