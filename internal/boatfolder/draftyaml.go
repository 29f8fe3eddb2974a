package boatfolder

import (
	"slices"
	"strings"
)

// setting is what an edit of a yaml file is planned on.
type setting struct {
	y    *layout
	tree *node
	w    way
	e    Edit
	at   spot
}

// planKey plans an edit of a yaml file.
func planKey(l *leaf, e Edit) (plan, *Fault) {
	tree, _ := l.yaml()
	if tree == nil {
		tree = &node{form: mapping}
	}
	if strings.TrimSpace(e.Key) == "" {
		return plan{}, faultAt(e, spot{}, "", "write weights[3].mass, or the like", "an edit without a key")
	}
	key, fault := sought(tree, e)
	if fault != nil {
		return plan{}, fault
	}
	e.Key = key
	s := &setting{y: l.layout(), tree: tree, w: follow(tree, key), e: e}
	end := s.w.end()
	s.at = spot{end.at.Line, end.at.Column}
	if end.form == nothing && len(s.w.steps) > 0 {
		if sp, ok := s.span(len(s.w.steps)); ok {
			s.at = s.y.spot(sp.start)
		}
	}
	switch e.Do {
	case Set:
		if s.w.rest == "" {
			return s.set()
		}
		return s.add()
	case Insert:
		return s.insert()
	case Remove:
		return s.remove()
	}
	return plan{}, faultAt(e, s.at, string(e.Do), "write insert, remove, or nothing to set a value", "%q is nothing that can be done", shorten(string(e.Do)))
}

// span is of what the first so many steps lead to.
func (s *setting) span(steps int) (span, bool) {
	if steps == 0 {
		return s.y.span(s.tree, -1)
	}
	last := s.w.steps[steps-1]
	parent := s.w.nodes[steps-1]
	if !last.list {
		return s.y.pairSpan(parent.pairs[last.at])
	}
	if parent.flow {
		return s.y.span(parent.items[last.at], 0)
	}
	return s.y.itemSpan(parent.items[last.at])
}

// inFlow tells whether what the first so many steps lead to stands in brackets.
func (s *setting) inFlow(steps int) bool {
	return slices.ContainsFunc(s.w.nodes[:steps], func(n *node) bool { return n.flow })
}

func (s *setting) unfound() *Fault {
	return faultAt(s.e, s.at, "", "change it in the file itself", "%s is written in a way that is not edited here", s.e.Key)
}

// was checks what stands there against what the edit was made for.
func (s *setting) was(n *node, written string) *Fault {
	if s.e.Was == "" || n.form == scalar && s.e.Was == n.text || s.e.Was == written {
		return nil
	}
	is := written
	if n.form == scalar {
		is = n.text
	}
	return faultAt(s.e, s.at, is, "look again: it has been changed since", "%s is %q, not %q", s.e.Key, shorten(is), shorten(s.e.Was))
}

// set replaces a value that is there.
func (s *setting) set() (plan, *Fault) {
	depth := len(s.w.steps)
	if depth == 0 {
		return plan{}, faultAt(s.e, s.at, "", "write weights[3].mass, or the like", "an edit without a key")
	}
	n := s.w.end()
	sp, ok := s.span(depth)
	if !ok {
		return plan{}, s.unfound()
	}
	old := s.y.text[sp.start:sp.end]
	if fault := s.was(n, old); fault != nil {
		return plan{}, fault
	}
	if n.form <= scalar && s.e.Text == n.text || n.form > scalar && strings.TrimSpace(s.e.Text) == old {
		return plan{at: s.at, start: sp.start, end: sp.end}, nil // no text: it stands there already
	}
	want, texts, fault := s.value(n, old, s.inFlow(depth), depth)
	if fault != nil {
		return plan{}, fault
	}
	if n.form == nothing && s.y.text[sp.start-1] != ' ' {
		for i := range texts {
			texts[i] = " " + texts[i]
		}
	}
	last := s.w.steps[depth-1]
	steps := s.w.steps
	return plan{at: s.at, start: sp.start, end: sp.end, texts: texts, alone: n.form != scalar || slices.Contains(nameKeys, last.name), expect: func(tree *node) {
		*reach(tree, steps) = *want
	}}, nil
}

// value is what an edit's text is to be read as, and the ways to write it. n and old are what it stands in place of.
func (s *setting) value(n *node, old string, flow bool, depth int) (*node, []string, *Fault) {
	file, known := shapeOf(s.e.File)
	k := key{}
	if known {
		k, known = keyAt(file, nil, s.e.Key)
	}
	if s.raw(k.shape, known, n) {
		want, fault := s.parse(s.e.Text)
		return want, []string{strings.TrimSpace(s.e.Text)}, fault
	}
	want := &node{form: scalar, text: s.e.Text}
	if s.e.Text == "" {
		return nil, nil, faultAt(s.e, s.at, "", "write a value, or take the key out", "%s would be empty", s.e.Key)
	}
	if n != nil && n.block {
		indent := 0
		if depth > 0 {
			indent = s.indentOf(depth)
		}
		return want, append(inBlock(s.e.Text, old, indent, s.y.lineEnd()), doubleQuoted(s.e.Text)), nil
	}
	if n == nil || n.form != scalar {
		old = ""
	}
	return want, written(s.e.Text, old, flow), nil
}

// indentOf is the indentation of the key or hyphen that leads to a value.
func (s *setting) indentOf(depth int) int {
	last, parent := s.w.steps[depth-1], s.w.nodes[depth-1]
	if last.list {
		return parent.items[last.at].dash.column - 1
	}
	return parent.pairs[last.at].keyAt.Column - 1
}

// raw tells whether an edit's text is yaml (a list, a set of keys) and not the words to be read.
func (s *setting) raw(is shape, known bool, n *node) bool {
	text := strings.TrimSpace(s.e.Text)
	brackets := strings.HasPrefix(text, "[") || strings.HasPrefix(text, "{")
	switch {
	case !known:
		return brackets && (n == nil || n.form != scalar) || n != nil && (n.form == list || n.form == mapping)
	case is.kind == crewPlace:
		return brackets
	case is.kind == oneOrMore:
		return brackets || is.item.kind == keyed || n != nil && n.form == list
	}
	return is.kind == tuple || is.kind == listOf || is.kind == keyed || is.kind == namedPlace
}

// parse reads a text as yaml.
func (s *setting) parse(text string) (*node, *Fault) {
	text = strings.TrimSpace(text)
	r := newReader(nil)
	tree := r.tree(s.e.File, []byte("- "+strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\n", "\n  ")+"\n"))
	if tree != nil && tree.form == list && len(tree.items) == 1 && len(r.faults) == 0 && tree.items[0].form != nothing {
		return tree.items[0], nil
	}
	say := "cannot be read"
	if len(r.faults) > 0 {
		say += ": " + r.faults[0].Say
	}
	return nil, faultAt(s.e, s.at, text, "write it as in docs/boat-folder.md: [3.1 m, 0 m, 0.4 m], {in: 203}", "%q for %s %s", shorten(text), s.e.Key, say)
}

// add puts a key in that is not there yet.
func (s *setting) add() (plan, *Fault) {
	e, n := s.e, s.w.end()
	if e.Was != "" {
		return plan{}, faultAt(e, s.at, e.Was, "look again: it has been taken out since", "%s is not there, and was %q", e.Key, shorten(e.Was))
	}
	if n.form == list {
		return plan{}, faultAt(e, s.at, "", "look again, or insert a new one", "%s: the list has %d of them", e.Key, len(n.items))
	}
	names, fault := s.missing()
	if fault != nil {
		return plan{}, fault
	}
	depth := len(s.w.steps)
	want, texts, fault := s.value(nil, "", true, 0)
	if fault != nil {
		return plan{}, fault
	}
	if len(names) == 1 && !s.inFlow(depth) && !n.flow && n.form == mapping {
		// On a line of its own the looser rules of a block hold.
		if _, block, _ := s.value(nil, "", false, 0); block != nil {
			texts = block
		}
	}
	for i := len(names) - 1; i > 0; i-- {
		want = &node{form: mapping, pairs: []pair{{key: names[i], value: want}}}
		for j := range texts {
			texts[j] = "{" + written(names[i], "", true)[0] + ": " + texts[j] + "}"
		}
	}
	for j := range texts {
		texts[j] = written(names[0], "", true)[0] + ": " + texts[j]
	}
	p, fault := s.room(n, depth, texts)
	steps := s.w.steps
	p.expect = func(tree *node) {
		to := reach(tree, steps)
		if to.form == nothing {
			*to = node{form: mapping}
		}
		to.pairs = append(to.pairs, pair{key: names[0], value: want})
	}
	return p, fault
}

// missing are the names of the keys that are not there: the last is the one to set.
func (s *setting) missing() ([]string, *Fault) {
	e, n := s.e, s.w.end()
	if n.form == scalar || strings.HasPrefix(s.w.rest, "[") {
		return nil, faultAt(e, s.at, n.text, "docs/boat-folder.md says which keys there are", "%s leads to nothing", e.Key)
	}
	rest := strings.TrimPrefix(s.w.rest, ".")
	file, known := shapeOf(e.File)
	if !known {
		return strings.Split(rest, "."), nil
	}
	k, ok := keyAt(file, s.w.steps, "")
	var names []string
	for ok && rest != "" {
		name := k.shape.keyIn(rest)
		if k, ok = below(k, step{name: name}); ok {
			names = append(names, name)
			rest = strings.TrimPrefix(rest[len(name):], ".")
		}
	}
	if !ok || len(names) == 0 {
		return nil, faultAt(e, s.at, rest, "docs/boat-folder.md says which keys there are", "unknown key %q", shorten(e.Key))
	}
	return names, nil
}

// room is where a new pair of a mapping goes.
func (s *setting) room(n *node, depth int, texts []string) (plan, *Fault) {
	y := s.y
	p := plan{at: s.at, texts: texts, alone: true}
	surround := func(before, behind string) {
		for i := range p.texts {
			p.texts[i] = before + p.texts[i] + behind
		}
	}
	switch {
	case n.form == nothing && depth > 0:
		sp, ok := s.span(depth)
		if !ok {
			return p, s.unfound()
		}
		p.start, p.end = sp.start, sp.end
		before := "{"
		if sp.start > 0 && y.text[sp.start-1] != ' ' {
			before = " {"
		}
		surround(before, "}")
	case n.flow && len(n.pairs) == 0:
		sp, ok := y.span(n, 0)
		if !ok {
			return p, s.unfound()
		}
		p.start, p.end = sp.start+1, sp.start+1
	case n.flow:
		sp, ok := y.pairSpan(n.pairs[len(n.pairs)-1])
		if !ok {
			return p, s.unfound()
		}
		p.start, p.end = sp.end, sp.end
		surround(", ", "")
	case len(n.pairs) == 0: // an empty file
		p.start = len(y.text)
		p.end = p.start
		before := ""
		if y.starts[len(y.starts)-1] != len(y.text) {
			before = y.lineEnd()
		}
		surround(before, y.lineEnd())
	default:
		sp, ok := y.pairSpan(n.pairs[len(n.pairs)-1])
		if !ok {
			return p, s.unfound()
		}
		in := n.pairs[0].keyAt.Column - 1
		p.start = s.y.behind(sp.end, in)
		p.end = p.start
		surround(s.y.ownLine(p.start, strings.Repeat(" ", in)))
	}
	return p, nil
}

// behind gives where a new line goes behind what ends at a byte: below that line and the remarks below it that are
// indented further than what is put in.
func (y *layout) behind(end, indent int) int {
	i := y.line(end)
	for j := i + 1; j < len(y.starts) && y.remark(j) && y.indent(j) > indent; j++ {
		i = j
	}
	return y.next(i)
}

// ownLine gives what to put before and behind a text that takes a line of its own at a byte.
func (y *layout) ownLine(at int, indent string) (before, behind string) {
	if at == len(y.text) && y.starts[len(y.starts)-1] != len(y.text) {
		return y.lineEnd() + indent, ""
	}
	return indent, y.lineEnd()
}
