package spare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/internal/afloat"
	"thole/internal/faulttree"
	"thole/internal/model"
)

// Pieces of a row that are told apart. Where one of several serves, three alike end nothing that two losses could, so that more need not be looked at.
const (
	enoughPieces = 3
	mostCounted  = 200 // of a row of which so many are needed
)

// part is a thing aboard: a row of the stores or a fixed weight.
type part struct {
	what            string
	store           bool
	row             int // its place among the stores or the weights
	count           int // pieces on the day looked at
	mass            float64
	provides, needs []string
	dry             model.Dryness
	group           string
	apart           []string
	pinned          bool
	reach           model.Reach // the least convenient place allowed
	where           model.Place
	rooms           []int // compartments that it lies in
}

// partsOf are the things aboard on the morning after a day, by their places in the folder, whatever the day.
func partsOf(t *afloat.Trip, day int) []part {
	f := t.Folder
	var out []part
	add := func(p part, left float64) {
		p.count = int(math.Ceil(float64(max(1, p.count))*left - 1e-9))
		for i := range t.Ship.Rooms {
			if t.Ship.Within(&f.Boat, p.where, i) {
				p.rooms = append(p.rooms, i)
			}
		}
		out = append(out, p)
	}
	for i, s := range f.Stores {
		add(part{what: s.What, store: true, row: i, count: s.Count, mass: float64(s.Mass.Value), provides: s.Provides, needs: s.Needs, dry: s.Dry,
			group: s.Group, apart: s.Apart, pinned: s.Pinned, reach: s.Reach, where: s.Where}, s.Use.Left(day))
	}
	for i, w := range f.Boat.Weights {
		add(part{what: w.What, row: i, count: w.Count, mass: float64(w.Mass.Value), provides: w.Provides, needs: w.Needs, dry: w.Dry, where: w.Where}, 1)
	}
	return out
}

// atom is what can be lost.
type atom struct {
	key  string // the same for all pieces of a row, and on every day
	what string
	kind string
	part int // the thing of which it is a piece; -1 for anything else
}

// grown is the tree of one day with what its names stand for.
type grown struct {
	day   int
	tree  faulttree.Tree
	parts []part
	atoms map[string]atom  // by the tree's names
	tops  map[string]int   // functions of the folder by the tree's names
	ended []int            // functions that nothing aboard provides
	round []string         // names that come round to themselves, if any
	lacks map[string][]int // names that nothing aboard provides, and the functions that name them; -1 for a thing
	many  []string         // rows of which too many are counted
}

// grower makes a tree.
type grower struct {
	*grown
	f         *model.Folder
	functions map[string]int   // by plain name
	words     map[string][]int // parts that provide a word or bear it as their name
	counted   map[int]bool     // parts whose pieces are counted in full
	state     map[string]int   // of what is being made: open or done
	possible  map[string]bool
	path      []string
	spoilt    []spoilt
	used      map[int]bool // parts with events
}

// spoilt is a piece and what spoils it.
type spoilt struct {
	piece string
	part  int
}

const (
	open = 1
	done = 2
)

// plain is a name as it is looked up.
func plain(name string) string { return model.PlainName(name) }

// grow makes the tree of a day.
func grow(t *afloat.Trip, day int) *grown {
	g := &grower{grown: &grown{day: day, parts: partsOf(t, day), atoms: map[string]atom{}, tops: map[string]int{}, lacks: map[string][]int{}},
		f: t.Folder, functions: map[string]int{}, words: map[string][]int{}, counted: map[int]bool{}, state: map[string]int{}, possible: map[string]bool{}, used: map[int]bool{}}
	for i, fn := range g.f.Needs.Functions {
		g.functions[plain(fn.Name)] = i
	}
	for i, p := range g.parts {
		if p.count < 1 {
			continue
		}
		for _, w := range append(slices.Clone(p.provides), p.what) {
			if k, n := plain(w), len(g.words[plain(w)]); n == 0 || g.words[k][n-1] != i {
				g.words[k] = append(g.words[k], i)
			}
		}
	}
	for _, fn := range g.f.Needs.Functions {
		for _, w := range fn.From {
			for _, p := range g.words[plain(w)] {
				g.counted[p] = true
			}
		}
	}
	g.places()
	for i := range g.f.Needs.Functions {
		if g.f.Needs.Functions[i].Rank > 0 && !g.function(i) {
			g.ended = append(g.ended, i)
		}
	}
	g.stow()
	return g.grown
}

// function makes the gate of a function, and of all it needs; false when nothing can provide it.
func (g *grower) function(i int) bool {
	fn := &g.f.Needs.Functions[i]
	id := functionID(i)
	if ok, known := g.enter(id, fn.Name); known {
		return ok
	}
	gate := faulttree.Gate{Name: id}
	own, _ := g.word(plain(fn.Name), -1)
	ok := false
	switch {
	case len(fn.AllOf) > 0:
		gate.Rule, ok = faulttree.AllOf, true
		for _, w := range fn.AllOf {
			n, there := g.node(w, i)
			ok = ok && there
			gate.Of = add(gate.Of, n)
		}
	case len(fn.From) > 0:
		gate.Rule, gate.Least = faulttree.AtLeast, fn.Least
		for _, w := range fn.From {
			gate.Of = add(gate.Of, g.pieces(w, i)...)
		}
		ok = len(gate.Of) >= gate.Least && gate.Least > 0
	default:
		for _, w := range fn.AnyOf {
			if n, there := g.node(w, i); there {
				gate.Of = add(gate.Of, n)
			}
		}
		gate.Of = add(gate.Of, own)
		ok = len(gate.Of) > 0
		if !ok && len(fn.AnyOf) == 0 {
			g.lack(fn.Name, i)
		}
	}
	if gate.Rule != faulttree.AnyOf && own != "" { // what provides it by name serves beside its rule
		if ok {
			rule := gate
			rule.Name = id + " rule"
			g.tree.Gates = append(g.tree.Gates, rule)
			own = rule.Name + "\x00" + own
		}
		gate = faulttree.Gate{Name: id, Of: strings.Split(own, "\x00")}
		ok = true
	}
	if ok && fn.Rank > 0 {
		g.tops[id] = i
		g.tree.Functions = append(g.tree.Functions, faulttree.Function{Gate: gate, Weight: math.Pow(10, float64(fn.Rank))})
	} else if ok {
		g.tree.Gates = append(g.tree.Gates, gate)
	}
	return g.leave(id, ok)
}

func functionID(i int) string { return fmt.Sprintf("function %d", i) }

// enter begins making a node; known when it was made before, or is being made: then it comes round to itself.
func (g *grower) enter(id, name string) (ok, known bool) {
	switch g.state[id] {
	case done:
		return g.possible[id], true
	case open:
		if len(g.round) == 0 {
			g.round = append(slices.Clone(g.path), name)
		}
		return false, true
	}
	g.state[id] = open
	g.path = append(g.path, name)
	return false, false
}

func (g *grower) leave(id string, ok bool) bool {
	g.state[id], g.possible[id] = done, ok
	g.path = g.path[:len(g.path)-1]
	return ok
}

// node is what a name in the folder stands for: a function, a condition, or what things provide. By is the function that
// names it, -1 for a thing.
func (g *grower) node(name string, by int) (id string, ok bool) {
	key := plain(name)
	if i, is := g.functions[key]; is {
		return functionID(i), g.function(i)
	}
	if id, is, ok := g.condition(key); is {
		if !ok {
			g.lack(name, by)
		}
		return id, ok
	}
	if id, ok := g.word(key, by); ok {
		return id, true
	}
	g.lack(name, by)
	return "", false
}

func (g *grower) lack(name string, by int) {
	if !slices.Contains(g.lacks[name], by) {
		g.lacks[name] = append(g.lacks[name], by)
	}
}

// word is the gate of all that provides a word.
func (g *grower) word(key string, by int) (id string, ok bool) {
	id = "word " + key
	if g.state[id] == done {
		return orNothing(id, g.possible[id])
	}
	var of []string
	for _, p := range g.words[key] {
		of = append(of, g.things(p)...)
	}
	// Its things may have asked for the word themselves; then the round has been told.
	if g.state[id] == done {
		return orNothing(id, g.possible[id])
	}
	g.state[id], g.possible[id] = done, len(of) > 0
	if len(of) > 0 {
		g.tree.Gates = append(g.tree.Gates, faulttree.Gate{Name: id, Of: of})
	}
	return orNothing(id, len(of) > 0)
}

func orNothing(id string, ok bool) (string, bool) {
	if !ok {
		return "", false
	}
	return id, true
}

// pieces are the nodes that a count is taken of: every piece of what provides a word, one for a function or a condition.
func (g *grower) pieces(name string, by int) []string {
	key := plain(name)
	if _, is := g.functions[key]; !is && len(g.words[key]) > 0 {
		var of []string
		for _, p := range g.words[key] {
			of = append(of, g.things(p)...)
		}
		return of
	}
	if id, ok := g.node(name, by); ok {
		return []string{id}
	}
	return nil
}

// things are the events of a part's pieces; none when it is of no use from the start.
func (g *grower) things(i int) []string {
	p := &g.parts[i]
	id := fmt.Sprintf("thing %d", i)
	n := min(p.count, enoughPieces)
	if g.counted[i] {
		if n = p.count; n > mostCounted {
			n = mostCounted
			if !slices.Contains(g.many, p.what) {
				g.many = append(g.many, p.what)
			}
		}
	}
	names := make([]string, n)
	for k := range names {
		names[k] = fmt.Sprintf("%s piece %d", id, k)
	}
	ok, known := g.enter(id, p.what)
	if known {
		if !ok {
			return nil
		}
		return names
	}
	var needs []string
	ok = true
	for _, w := range p.needs {
		n, there := g.node(w, -1)
		ok = ok && there
		needs = add(needs, n)
	}
	if !g.leave(id, ok) {
		return nil
	}
	kind := faulttree.Item
	if g.isBattery(i) {
		kind = faulttree.Battery
	}
	for _, name := range names {
		g.tree.Events = append(g.tree.Events, faulttree.Event{Name: name, Kind: kind, Needs: needs})
		g.atoms[name] = atom{id, p.what + " fails", "thing", i}
		g.spoilt = append(g.spoilt, spoilt{name, i})
	}
	g.used[i] = true
	return names
}

// isBattery tells whether a part is one of those that are lost together with the battery: by name, or by what it provides.
func (g *grown) isBattery(i int) bool {
	p := &g.parts[i]
	return slices.ContainsFunc(p.provides, isBattery) || isBattery(p.what)
}

func isBattery(word string) bool { return plain(word) == "battery" }

// add puts names behind a list, each once, blank ones left out.
func add(to []string, names ...string) []string {
	for _, n := range names {
		if n != "" && !slices.Contains(to, n) {
			to = append(to, n)
		}
	}
	return to
}
