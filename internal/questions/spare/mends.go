package spare

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"thole/internal/faulttree"
	"thole/internal/model"
)

// mostTried bounds the spares and moves that are tried.
const mostTried = 3000

// Mend is a spare or a move that takes a single loss away.
type Mend struct {
	Do   string  `json:"do"`                // spare, move, or another battery
	What string  `json:"what"`              // the thing
	To   string  `json:"to"`                // where it goes; empty for anywhere
	Mass float64 `json:"mass_kg"`           // added; a move adds none
	Adds int     `json:"new_singles"`       // single losses that it makes where there was none
	Ends int     `json:"singles_taken_off"` // single losses that it takes away, all functions together
}

// Said is the mend in words.
func (m *Mend) Said() string {
	to := ""
	if m.To != "" {
		to = " in " + m.To
	}
	switch m.Do {
	case "move":
		return fmt.Sprintf("move %s to %s", m.What, m.To)
	case "another battery":
		return "a second battery, wired apart," + to
	}
	return "a spare: " + m.What + to
}

// try is a mend that is tried, and what it did on each day.
type try struct {
	mend    Mend
	part    int     // the thing that is moved, or of which there is one more; -1 for a battery wired apart
	room    int     // where it goes
	moved   float64 // kilograms shifted, to choose between two that add as much
	off     int     // by how much the place is reached otherwise than where it lies now
	change  func(g *grown) (faulttree.Change, bool)
	removed map[string]map[int]bool // days on which it takes a single away
	adds    map[string]bool
}

// single is how a function's single loss is told from others, whatever the day.
func single(function int, key string) string { return fmt.Sprintf("%d by %s", function, key) }

// mend tries spares and moves, and gives each single loss the cheapest that takes it away on every day that it is one.
func (q *ask) mend(ctx context.Context, progress func(done, total int)) error {
	tries := q.tries()
	for i, g := range q.looks {
		if progress != nil {
			progress(i, len(q.looks))
		}
		var candidates []faulttree.Candidate
		var of []*try
		for _, t := range tries {
			if change, ok := t.change(g); ok {
				candidates = append(candidates, faulttree.Candidate{Name: t.mend.Said(), Change: change, Cost: t.mend.Mass, Mass: t.moved})
				of = append(of, t)
			}
		}
		mends, err := faulttree.FindMends(ctx, g.tree, candidates)
		if err != nil {
			return fault(err)
		}
		for _, e := range mends.Effects {
			t := of[e.Candidate]
			for _, s := range e.Removed {
				k := single(g.tops[s.Function], g.atoms[s.Name].key)
				if t.removed[k] == nil {
					t.removed[k] = map[int]bool{}
				}
				t.removed[k][g.day] = true
			}
			for _, s := range e.Added {
				t.adds[single(g.tops[s.Function], g.keyOf(s.Name))] = true
			}
		}
	}
	q.choose(tries)
	return nil
}

// keyOf is the key of an atom, or the name of one that a mend has made.
func (g *grown) keyOf(name string) string {
	if a, ok := g.atoms[name]; ok {
		return a.key
	}
	return name
}

// choose gives each single its mend, and finds the best of all.
func (q *ask) choose(tries []*try) {
	full := func(t *try, s *Single) bool { return len(t.removed[single(s.function, s.key)]) == len(s.Days) }
	for _, t := range tries {
		t.mend.Adds = len(t.adds)
		for i := range q.f.Singles {
			if full(t, &q.f.Singles[i]) {
				t.mend.Ends++
			}
		}
	}
	cheaper := func(a, b *try) bool {
		return cmp.Or(cmp.Compare(a.mend.Mass, b.mend.Mass), cmp.Compare(b.mend.Ends, a.mend.Ends), cmp.Compare(a.moved, b.moved), cmp.Compare(a.off, b.off)) < 0
	}
	for i := range q.f.Singles {
		s := &q.f.Singles[i]
		var best *try
		for _, t := range tries {
			if !full(t, s) {
				continue
			}
			harmless, was := len(t.adds) == 0, best == nil || len(best.adds) == 0
			if best == nil || harmless && !was || harmless == was && cheaper(t, best) {
				best = t
			}
		}
		if best != nil {
			m := best.mend
			s.Mend, s.try = &m, best
		}
	}
	var best *try
	gain := func(t *try) int { return t.mend.Ends - t.mend.Adds }
	for _, t := range tries {
		if gain(t) > 0 && (best == nil || gain(t) > gain(best) || gain(t) == gain(best) && cheaper(t, best)) {
			best = t
		}
	}
	if best != nil {
		m := best.mend
		q.f.Best, q.best = &m, best
	}
}

// tries are the spares and moves worth trying: of what fails alone, and of what a compartment or a cabin takes away alone.
func (q *ask) tries() []*try {
	var out []*try
	seen := map[string]bool{}
	put := func(key string, t try) {
		if !seen[key] && len(out) < mostTried {
			seen[key] = true
			t.removed, t.adds = map[string]map[int]bool{}, map[string]bool{}
			out = append(out, &t)
		}
	}
	for i := range q.f.Singles {
		s := &q.f.Singles[i]
		if s.Loss.Kind == "battery" {
			q.batteries(put)
			continue
		}
		for _, p := range q.behind(s) {
			q.spares(p, put)
			if s.Loss.Kind != "thing" {
				q.moves(p, put)
			}
		}
	}
	return out
}

// putter puts a try among those to be made, unless its key is known.
type putter func(key string, t try)

// behind are the things by whose loss a single loss ends its function: the thing itself, or what lies where it floods.
func (q *ask) behind(s *Single) []int {
	var out []int
	for _, g := range q.looks {
		uses := g.uses()[s.function]
		fails := map[string]bool{}
		queue := []string{s.key}
		for len(queue) > 0 {
			name := queue[0]
			queue = queue[1:]
			for _, c := range g.tree.Causes {
				if c.Name != name {
					continue
				}
				for _, f := range c.Fails {
					if !fails[f] {
						fails[f] = true
						queue = append(queue, f)
					}
				}
			}
		}
		for _, e := range g.tree.Events {
			a := g.atoms[e.Name]
			if a.part >= 0 && (a.key == s.key || fails[e.Name]) && slices.Contains(uses, a.part) && !slices.Contains(out, a.part) {
				out = append(out, a.part)
			}
		}
	}
	return out
}

// first is a part's first piece in a tree; ok is false when there is none that day.
func (g *grown) first(part int) (string, bool) {
	name := fmt.Sprintf("thing %d piece 0", part)
	_, ok := g.atoms[name]
	return name, ok
}

// spares puts a spare of a part in every place that it may lie in.
func (q *ask) spares(part int, put putter) {
	p := &q.looks[0].parts[part]
	for _, to := range q.homes(p) {
		if len(to.in) == 0 {
			to.name = "" // one place is as good as another
		}
		in := to.in
		if q.looks[0].isBattery(part) {
			in = append(slices.Clone(in), batteryLost) // wired to those that there are
		}
		t := try{mend: Mend{Do: "spare", What: p.what, To: to.name, Mass: p.mass}, part: part, room: to.room, off: to.off}
		t.change = func(g *grown) (faulttree.Change, bool) {
			name, ok := g.first(part)
			return faulttree.Spare{Of: name, In: in}, ok
		}
		put(fmt.Sprint("spare ", part, to.in), t)
	}
}

// moves puts a part, one piece of it, into every place that it may lie in.
func (q *ask) moves(part int, put putter) {
	p := &q.looks[0].parts[part]
	if !p.store || p.pinned {
		return
	}
	what := p.what
	if p.count > 1 {
		what = "one of " + what
	}
	for _, to := range q.homes(p) {
		if slices.Contains(p.rooms, to.room) {
			continue
		}
		in := to.in
		if q.looks[0].isBattery(part) {
			in = append(slices.Clone(in), batteryLost)
		}
		t := try{mend: Mend{Do: "move", What: what, To: to.name}, part: part, room: to.room, off: to.off, moved: p.mass}
		t.change = func(g *grown) (faulttree.Change, bool) {
			name, ok := g.first(part)
			return faulttree.Move{Item: name, To: in}, ok
		}
		put(fmt.Sprint("move ", part, to.in, to.room), t)
	}
}

// batteries puts a second battery that is lost by itself only.
func (q *ask) batteries(put putter) {
	p := part{dry: model.KeepDry}
	for _, have := range q.looks[0].parts {
		if slices.ContainsFunc(have.provides, isBattery) || isBattery(have.what) {
			p.mass = have.mass
		}
	}
	if p.mass == 0 {
		return // what it would weigh is not known
	}
	for _, to := range q.homes(&p) {
		t := try{mend: Mend{Do: "another battery", What: "battery", To: to.name, Mass: p.mass}, part: -1, room: to.room, off: to.off}
		t.change = func(g *grown) (faulttree.Change, bool) {
			const gate = "condition battery"
			there := slices.ContainsFunc(g.tree.Gates, func(f faulttree.Gate) bool { return f.Name == gate })
			return faulttree.Another{For: gate, Name: "another battery", Kind: faulttree.Battery, In: to.in}, there
		}
		put(fmt.Sprint("battery ", to.in), t)
	}
}

// home is a place that a thing may be put into, and what spoils it there.
type home struct {
	room int
	off  int // as of a try
	name string
	in   []string
}

// homes are the compartments that a thing may lie in: dry where it must, bearing it, reached as well as it asks, and without a group
// that it may not lie with.
func (q *ask) homes(p *part) []home {
	b := &q.c.Folder.Boat
	now := model.FromTheCabin
	if len(p.rooms) > 0 {
		now, _ = b.ReachOf(p.rooms[0])
	}
	var out []home
	for i := range b.Compartments {
		c := &b.Compartments[i]
		if p.dry == model.KeepDry && c.Wet || !q.bears(i, p.mass) || q.clash(i, p) {
			continue
		}
		reach, _ := b.ReachOf(i)
		if p.reach != model.ReachUnsaid && reach > p.reach {
			continue
		}
		h := home{room: i, name: model.RoomName(b, i)}
		h.off = int(max(reach, now) - min(reach, now))
		if !p.hardy(c) {
			h.in = []string{floodID(b, i)}
		}
		out = append(out, h)
	}
	slices.SortStableFunc(out, func(a, b home) int { return cmp.Compare(a.off, b.off) }) // reached most as now first
	return out
}

// bears tells whether a compartment with a limit may take so much more on leaving.
func (q *ask) bears(room int, mass float64) bool {
	limit := float64(q.c.Folder.Boat.Compartments[room].Limit)
	if limit == 0 {
		return true
	}
	for _, p := range q.looks[0].parts {
		if p.where.Compartment == room {
			mass += p.mass * float64(p.count)
		}
	}
	return mass <= limit
}

// clash tells whether a thing may not lie with something that is in a compartment.
func (q *ask) clash(room int, p *part) bool {
	apart := func(a, b *part) bool {
		return b.group != "" && slices.ContainsFunc(a.apart, func(g string) bool { return plain(g) == plain(b.group) })
	}
	for i := range q.looks[0].parts {
		o := &q.looks[0].parts[i]
		if slices.Contains(o.rooms, room) && (apart(p, o) || apart(o, p)) {
			return true
		}
	}
	return false
}
