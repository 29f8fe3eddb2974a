package stowage

import (
	"fmt"
	"math"
	"slices"

	"thole/internal/model"
	"thole/internal/stowing"
)

// A plan may not make a single loss of what was none. What one flooding takes away hangs on where things lie, and on nothing else of
// the stowage; so it is enough that of every word that a ranked function rests on, by way of others too, there outlives each flooding in
// the plan what outlived it as written:
//
//   - of the things that need no more than some set of names, at least one piece (or as many as a function counts) outlives it, for
//     each such set that occurs. As these sets hold words again, and no word needs itself, it follows word by word that whatever could be had
//     with a compartment flooded as written can be had so as planned.
//   - Things that provide one word and do not all lie within one flooding as written do not come to do so, whatever water does to
//     them: a locker that has jammed or is under water gives nothing out. Those that are stowed are asked so by themselves too, as a fixed
//     thing that fails leaves only them.
//
// Both are asked leaving and, where it holds as written, to the end, when only what is used last is left.

// flood is a compartment or a cabin with what floods with it.
type flood struct {
	name  string
	rooms []int
}

// floods are all of them.
func (s *Stowage) floods() []flood {
	b := &s.Trip.Folder.Boat
	cabins := make([]flood, len(b.Cabins))
	var out []flood
	for i := range b.Compartments {
		cabin, same := b.FloodsWith(i)
		if cabin >= 0 {
			cabins[cabin].name = b.Cabins[cabin].Name
			cabins[cabin].rooms = append(cabins[cabin].rooms, i)
		}
		if !same {
			out = append(out, flood{model.RoomName(b, i), []int{i}})
		}
	}
	for _, c := range cabins {
		if len(c.rooms) > 0 {
			out = append(out, c)
		}
	}
	return out
}

// provider is an item, or a thing that is not stowed.
type provider struct {
	item   int // -1: not stowed
	words  []string
	needs  []string
	dry    model.Dryness
	rooms  []int  // not stowed: the compartments in which it stands
	pieces [2]int // not stowed: leaving, and at the end
	ends   bool   // an item that is used up before the end
}

// providers are all things that provide anything, and all that may be named.
func (s *Stowage) providers() []provider {
	f := s.Trip.Folder
	plain := func(names []string) []string {
		var out []string
		for _, n := range names {
			if k := model.PlainName(n); !slices.Contains(out, k) {
				out = append(out, k)
			}
		}
		slices.Sort(out)
		return out
	}
	var out []provider
	add := func(p provider, what string, provides, needs []string) {
		p.words, p.needs = plain(append(slices.Clone(provides), what)), plain(needs)
		if slices.Contains(p.words, model.PlainName("battery apart")) {
			p.words = append(p.words, "battery")
		}
		out = append(out, p)
	}
	stowed := map[int]bool{}
	for i := range s.Items {
		for _, r := range s.Items[i].Rows {
			stowed[r] = true
		}
		st := s.Store(i)
		last := s.Problem.Items[i].Last
		add(provider{item: i, dry: st.Dry, ends: last > 0 && last < s.Trip.Days}, st.What, st.Provides, st.Needs)
	}
	fixed := func(w model.Place, dry model.Dryness, count int, left float64) provider {
		p := provider{item: -1, dry: dry, pieces: [2]int{count, int(math.Ceil(float64(count)*left - 1e-9))}}
		for k := range s.Places {
			if s.Trip.Ship.Within(&f.Boat, w, k) {
				p.rooms = append(p.rooms, k)
			}
		}
		return p
	}
	for r := range f.Stores {
		if st := &f.Stores[r]; !stowed[r] {
			add(fixed(st.Where, st.Dry, pieces(st), st.Use.Left(max(0, s.Trip.Days-1))), st.What, st.Provides, st.Needs)
		}
	}
	for i := range f.Boat.Weights {
		w := &f.Boat.Weights[i]
		add(fixed(w.Where, w.Dry, max(1, w.Count), 1), w.What, w.Provides, w.Needs)
	}
	return out
}

// words are those on which ranked functions rest, as the folder spells them, and by plain name how many pieces a function counts of each: one where none
// counts.
func words(f *model.Folder, all []provider) (order []string, most map[string]int) {
	most = map[string]int{}
	if f.Needs == nil {
		return nil, most
	}
	functions := map[string]int{}
	for i := range f.Needs.Functions {
		functions[model.PlainName(f.Needs.Functions[i].Name)] = i
	}
	seen := map[int]bool{}
	var visit func(name string, n int)
	function := func(i int) {
		if seen[i] {
			return
		}
		seen[i] = true
		fn := &f.Needs.Functions[i]
		visit(fn.Name, 1)
		for _, list := range [][]string{fn.AnyOf, fn.AllOf} {
			for _, name := range list {
				visit(name, 1)
			}
		}
		for _, name := range fn.From {
			visit(name, fn.Least)
		}
	}
	visit = func(name string, n int) {
		key := model.PlainName(name)
		if i, is := functions[key]; is {
			function(i)
		}
		if was, known := most[key]; known {
			most[key] = max(was, n)
			return
		}
		most[key] = max(1, n)
		order = append(order, name)
		for _, p := range all {
			if slices.Contains(p.words, key) {
				for _, need := range p.needs {
					visit(need, 1)
				}
			}
		}
	}
	for i := range f.Needs.Functions {
		if f.Needs.Functions[i].Rank > 0 {
			function(i)
		}
	}
	return order, most
}

// keeps puts into the problem what a plan may not lose.
func (s *Stowage) keeps() {
	all := s.providers()
	order, most := words(s.Trip.Folder, all)
	floods := s.floods()
	seen := map[string]bool{}
	for _, name := range order {
		word := model.PlainName(name)
		var of, stowed []provider
		for _, p := range all {
			if !slices.Contains(p.words, word) {
				continue
			}
			if of = append(of, p); p.item >= 0 {
				stowed = append(stowed, p)
			}
		}
		if len(stowed) == 0 {
			continue
		}
		for _, need := range sets(of, most[word] > 1) {
			within := slices.DeleteFunc(slices.Clone(of), func(p provider) bool {
				return slices.ContainsFunc(p.needs, func(n string) bool { return !slices.Contains(need, n) })
			})
			for _, fl := range floods {
				s.keep(seen, fmt.Sprintf("%s left if %s floods", name, fl.name), within, fl, most[word], true)
			}
		}
		for _, list := range [][]provider{of, stowed} {
			for end := range 2 {
				if !slices.ContainsFunc(floods, func(fl flood) bool { return s.outside(list, fl, end, false) == 0 }) {
					for _, fl := range floods {
						s.keep(seen, fmt.Sprintf("%s not all in %s", name, fl.name), list, fl, 1, false)
					}
				}
			}
		}
	}
}

// sets are the sets of names that things need; where pieces are counted, with what any of them need together.
func sets(of []provider, together bool) [][]string {
	var out [][]string
	add := func(names []string) {
		if !slices.ContainsFunc(out, func(o []string) bool { return slices.Equal(o, names) }) {
			out = append(out, names)
		}
	}
	for _, p := range of {
		for n := len(out); n > 0 && together; n-- {
			both := slices.Concat(out[n-1], p.needs)
			slices.Sort(both)
			add(slices.Compact(both))
		}
		add(p.needs)
	}
	return out
}

// outlives tells whether a thing in a compartment is there when it is flooded; by water, if it does it no harm.
func (s *Stowage) outlives(p *provider, room int, fl flood, water bool) bool {
	return !slices.Contains(fl.rooms, room) || water && (p.dry == model.MayBeWet || p.dry == model.DryUnsaid && s.Places[room].Compartment.Wet)
}

// fixed is how many pieces of things that are not stowed outlive a flooding.
func (s *Stowage) fixed(of []provider, fl flood, end int, water bool) int {
	sum := 0
	for i := range of {
		if of[i].item < 0 && !slices.ContainsFunc(of[i].rooms, func(r int) bool { return !s.outlives(&of[i], r, fl, water) }) {
			sum += of[i].pieces[end]
		}
	}
	return sum
}

// outside is how many pieces outlive a flooding as written.
func (s *Stowage) outside(of []provider, fl flood, end int, water bool) int {
	sum := s.fixed(of, fl, end, water)
	for _, o := range s.parts(of, fl, end, water) {
		if take := s.Written.Take[o.Item]; end == 1 && take != nil {
			sum += take[s.lastUse(take)][o.Place]
		} else {
			sum += s.Written.Where[o.Item][o.Place]
		}
	}
	return sum
}

// lastUse is the last block in which anything is used.
func (s *Stowage) lastUse(take [][]int) int {
	for b := len(take) - 1; b > 0; b-- {
		if slices.ContainsFunc(take[b], func(n int) bool { return n > 0 }) {
			return b
		}
	}
	return 0
}

// parts are the items in the places in which they outlive a flooding.
func (s *Stowage) parts(of []provider, fl flood, end int, water bool) []stowing.Part {
	var out []stowing.Part
	for i := range of {
		p := &of[i]
		if p.item < 0 || end == 1 && p.ends {
			continue
		}
		for k := range s.Places {
			if s.outlives(p, k, fl, water) {
				out = append(out, stowing.Part{Item: p.item, Place: k})
			}
		}
	}
	return out
}

// keep asks of a plan that as many pieces outlive a flooding as do as written, or as many as are counted.
func (s *Stowage) keep(seen map[string]bool, name string, of []provider, fl flood, most int, water bool) {
	asked := 0
	for end := 1; end >= 0; end-- {
		least := min(most, s.outside(of, fl, end, water)) - s.fixed(of, fl, end, water)
		if least <= asked { // what is there at the end is there from the start
			continue
		}
		asked = least
		k := stowing.Keep{Name: name, Of: s.parts(of, fl, end, water), Least: least, ToEnd: end == 1}
		if key := fmt.Sprint(k.Of, k.Least, k.ToEnd); !seen[key] && len(k.Of) < len(s.parts(of, flood{}, end, water)) { // else it holds wherever they lie
			seen[key] = true
			s.Problem.Keeps = append(s.Problem.Keeps, k)
			s.held = append(s.held, fl.rooms[0])
		}
	}
}
