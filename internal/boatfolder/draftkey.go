package boatfolder

import (
	"fmt"
	"strconv"
	"strings"
)

// step is one part of a key: into a pair or into a list.
type step struct {
	name string // of the pair, for a key
	at   int    // of the pair or the item
	list bool
	from int // where it starts in the key's text
}

// way is how far a key leads into a tree.
type way struct {
	nodes []*node // the tree first, then what each step leads to
	steps []step
	rest  string // what could not be followed: "" when the key leads to a value
}

func (w way) end() *node { return w.nodes[len(w.nodes)-1] }

// follow follows a key as far as the tree goes. A person's own names may hold points and brackets; the longest that
// is there is meant.
func follow(tree *node, key string) way {
	w := way{nodes: []*node{tree}, rest: key}
	for w.rest != "" {
		n := w.end()
		from := len(key) - len(w.rest)
		if i, size, ok := indexed(w.rest); ok && n.form == list {
			if i >= len(n.items) {
				return w
			}
			w.steps = append(w.steps, step{at: i, list: true, from: from})
			w.nodes, w.rest = append(w.nodes, n.items[i]), w.rest[size:]
			continue
		}
		rest := w.rest
		if len(w.steps) > 0 {
			var dotted bool
			if rest, dotted = strings.CutPrefix(rest, "."); !dotted {
				return w
			}
		}
		best := -1
		for i, p := range n.pairs {
			after, ok := strings.CutPrefix(rest, p.key)
			if ok && (after == "" || after[0] == '.' || after[0] == '[') && (best < 0 || len(p.key) > len(n.pairs[best].key)) {
				best = i
			}
		}
		if n.form != mapping || best < 0 {
			return w
		}
		p := n.pairs[best]
		w.steps = append(w.steps, step{name: p.key, at: best, from: from})
		w.nodes, w.rest = append(w.nodes, p.value), rest[len(p.key):]
	}
	return w
}

// indexed reads [3] at the start of a key, and how long it is.
func indexed(rest string) (index, size int, ok bool) {
	end := strings.IndexByte(rest, ']')
	if end < 2 || end > 8 || rest[0] != '[' {
		return 0, 0, false
	}
	i, err := strconv.Atoi(rest[1:end])
	return i, end + 1, err == nil && i >= 0 && rest[1] != '+'
}

// reach finds what the same steps lead to in a copy of the tree.
func reach(n *node, steps []step) *node {
	for _, s := range steps {
		if s.list {
			n = n.items[s.at]
		} else {
			n = n.pairs[s.at].value
		}
	}
	return n
}

// nameKeys are the keys by which a list's item is known.
var nameKeys = []string{"what", "name", "number", "station"}

// called gives the names of an item, the usual one first.
func (n *node) called() []string {
	var out []string
	for _, key := range nameKeys {
		for _, p := range n.pairs {
			if p.key == key && p.value.form == scalar && strings.TrimSpace(p.value.text) != "" {
				out = append(out, strings.TrimSpace(p.value.text))
			}
		}
	}
	return out
}

func (n *node) isCalled(name string) bool {
	for _, c := range n.called() {
		if c == name {
			return true
		}
	}
	return false
}

// bound is the place in a key that the name of an item belongs to: the innermost list of things that have names.
type bound struct {
	list       *node
	at         int // the index that the key gives
	start, end int // of the brackets in the key
	outer      []step
}

func binding(tree *node, key string) (bound, bool) {
	w := follow(tree, key)
	named := func(n *node) bool {
		for _, item := range n.items {
			if len(item.called()) > 0 {
				return true
			}
		}
		return false
	}
	if i, size, ok := indexed(w.rest); ok && w.end().form == list && named(w.end()) {
		from := len(key) - len(w.rest)
		return bound{w.end(), i, from, from + size, w.steps}, true
	}
	for i := len(w.steps) - 1; i >= 0; i-- {
		if s := w.steps[i]; s.list && named(w.nodes[i]) {
			return bound{w.nodes[i], s.at, s.from, s.from + strings.IndexByte(key[s.from:], ']') + 1, w.steps[:i]}, true
		}
	}
	return bound{}, false
}

// sought gives the key with the index of the item that is called so, where the one at the index given is not. It looks
// in the same list, then in those beside it.
func sought(tree *node, e Edit) (string, *Fault) {
	of := strings.TrimSpace(e.Of)
	if of == "" {
		return e.Key, nil
	}
	b, ok := binding(tree, e.Key)
	if !ok {
		return e.Key, faultAt(e, spot{}, e.Of, "look again: it may have been taken out", "%s: there is nothing here that is called %q", e.Key, shorten(of))
	}
	if b.at < len(b.list.items) && b.list.items[b.at].isCalled(of) {
		return e.Key, nil
	}
	var found []string
	for i, item := range b.list.items {
		if item.isCalled(of) {
			found = append(found, fmt.Sprintf("%s[%d]%s", e.Key[:b.start], i, e.Key[b.end:]))
		}
	}
	for i := len(b.outer) - 1; i >= 0 && len(found) == 0; i-- {
		if !b.outer[i].list {
			continue
		}
		s := b.outer[i]
		close := s.from + strings.IndexByte(e.Key[s.from:], ']') + 1
		for j, beside := range reach(tree, b.outer[:i]).items {
			below := follow(beside, strings.TrimPrefix(e.Key[close:b.start], "."))
			if below.rest != "" {
				continue
			}
			for k, item := range below.end().items {
				if item.isCalled(of) {
					found = append(found, fmt.Sprintf("%s[%d]%s[%d]%s", e.Key[:s.from], j, e.Key[close:b.start], k, e.Key[b.end:]))
				}
			}
		}
	}
	if len(found) == 1 {
		return found[0], nil
	}
	at, is := b.list.at, "nothing"
	if b.at < len(b.list.items) {
		item := b.list.items[b.at]
		at = item.at
		if is = "without a name"; len(item.called()) > 0 {
			is = fmt.Sprintf("%q", shorten(item.called()[0]))
		}
	}
	none := "none is called so"
	if len(found) > 1 {
		none = fmt.Sprintf("%d are called so", len(found))
	}
	return e.Key, faultAt(e, spot{at.Line, at.Column}, e.Of, "look again: the list has changed", "%s is %s, not %q, and %s", e.Key, is, shorten(of), none)
}

// shapeOf is the shape of a file; a word's where nothing is known of it.
func shapeOf(file string) (shape, bool) {
	s, ok := shapes[file]
	return s, ok
}

// shapes are those of the files of keys.
var shapes = map[string]shape{boatFile: boatShape, voyageFile: voyageShape, needsFile: needsShape, trialsFile: trialsShape, whatifFile: whatifShape}

// keyAt finds what a key is for: its shape, and the key of the table of keys. It needs no tree, so that it serves keys
// that are not written yet.
func keyAt(s shape, steps []step, rest string) (key, bool) {
	k := key{shape: s}
	for _, st := range steps {
		var ok bool
		if k, ok = below(k, st); !ok {
			return key{}, false
		}
	}
	for rest != "" {
		var st step
		if i, size, ok := indexed(rest); ok {
			st, rest = step{at: i, list: true}, rest[size:]
		} else {
			name := strings.TrimPrefix(rest, ".")
			if st.name = k.shape.keyIn(name); st.name == "" {
				return key{}, false
			}
			rest = strings.TrimPrefix(rest, ".")[len(st.name):]
		}
		var ok bool
		if k, ok = below(k, st); !ok {
			return key{}, false
		}
	}
	return k, true
}

// keyIn gives the key that the rest of a key begins with; the whole rest among a person's own names.
func (s shape) keyIn(rest string) string {
	if s.kind == oneOrMore {
		s = *s.item
	}
	if s.kind == namedPlace {
		return rest
	}
	name := ""
	for _, known := range s.keys {
		after, ok := strings.CutPrefix(rest, known.name)
		if ok && (after == "" || after[0] == '.' || after[0] == '[') && len(known.name) > len(name) {
			name = known.name
		}
	}
	return name
}

// below is the key that a step leads to.
func below(k key, st step) (key, bool) {
	s := k.shape
	if s.kind == oneOrMore {
		one := key{name: k.name, shape: *s.item, about: k.about}
		if st.list {
			return one, true
		}
		return below(one, st)
	}
	if st.list {
		switch {
		case (s.kind == tuple || s.kind == crewPlace) && st.at < len(s.parts):
			return s.parts[st.at], true
		case s.kind == listOf:
			return key{name: one(k.name), shape: *s.item, about: k.about}, true
		}
		return key{}, false
	}
	if s.kind == namedPlace {
		return key{name: st.name, shape: *s.item, about: k.about}, true
	}
	for _, known := range s.keys {
		if known.name == st.name {
			return known, true
		}
	}
	return key{}, false
}
