package boatfolder

import (
	"slices"
	"strings"
)

// insert puts a new item into a list.
func (s *setting) insert() (plan, *Fault) {
	e := s.e
	open := strings.LastIndexByte(e.Key, '[')
	index, size, ok := 0, 0, false
	if open > 0 {
		index, size, ok = indexed(e.Key[open:])
	}
	if !ok || open+size != len(e.Key) {
		return plan{}, faultAt(e, s.at, e.Key, "write weights[3] to put one before the fourth weight", "%s is no place in a list", e.Key)
	}
	s.w = follow(s.tree, e.Key[:open])
	n, depth := s.w.end(), len(s.w.steps)
	s.at = spot{n.at.Line, n.at.Column}
	if s.w.rest != "" {
		return s.firstOf(e.Key[:open], index)
	}
	if n.form != list && n.form != nothing {
		return plan{}, faultAt(e, s.at, n.text, "name a list", "%s is not a list", e.Key[:open])
	}
	if index > len(n.items) {
		return plan{}, faultAt(e, s.at, "", "look again: the list has changed", "%s: the list has %d of them", e.Key, len(n.items))
	}
	if index < len(n.items) {
		item := n.items[index]
		s.at = spot{item.at.Line, item.at.Column}
		sp, ok := s.itemSpan(n, index)
		if !ok {
			return plan{}, s.unfound()
		}
		if fault := s.was(item, s.y.text[sp.start:sp.end]); fault != nil {
			return plan{}, fault
		}
	}
	flow := n.flow || s.inFlow(depth)
	want, texts, fault := s.item(flow)
	if fault != nil {
		return plan{}, fault
	}
	p, fault := s.roomFor(n, index, depth, texts)
	steps := s.w.steps
	p.expect = func(tree *node) {
		to := reach(tree, steps)
		to.form = list
		to.items = slices.Insert(to.items, index, want)
	}
	return p, fault
}

// firstOf makes a list that is not there, with its first item.
func (s *setting) firstOf(name string, index int) (plan, *Fault) {
	if index > 0 || s.w.end().form == scalar {
		return plan{}, faultAt(s.e, s.at, "", "look again: it has been taken out since", "%s is not there", name)
	}
	if s.w.end().flow || s.inFlow(len(s.w.steps)) || strings.Contains(strings.TrimPrefix(s.w.rest, "."), ".") {
		one := *s
		one.e.Key, one.e.Text, one.e.Was = name, "["+strings.TrimSpace(s.e.Text)+"]", ""
		if _, texts, fault := s.item(true); fault == nil {
			one.e.Text = "[" + texts[0] + "]"
		}
		return one.add()
	}
	want, texts, fault := s.item(false)
	if fault != nil {
		return plan{}, fault
	}
	one := *s
	one.e.Key = name
	names, fault := one.missing()
	if fault != nil || len(names) != 1 {
		return plan{}, fault
	}
	n, depth := s.w.end(), len(s.w.steps)
	if n.form == nothing {
		return plan{}, s.unfound()
	}
	in := "  "
	if len(n.pairs) > 0 {
		in += strings.Repeat(" ", n.pairs[0].keyAt.Column-1)
	}
	for i := range texts {
		texts[i] = written(names[0], "", true)[0] + ":" + s.y.lineEnd() + in + "- " + s.indented(texts[i], in)
	}
	p, fault := s.room(n, depth, texts)
	steps := s.w.steps
	p.expect = func(tree *node) {
		to := reach(tree, steps)
		to.pairs = append(to.pairs, pair{key: names[0], value: &node{form: list, items: []*node{want}}})
	}
	return p, fault
}

// item is what a new item's text is to be read as, and the ways to write it.
func (s *setting) item(flow bool) (*node, []string, *Fault) {
	file, known := shapeOf(s.e.File)
	k := key{}
	if known {
		k, known = keyAt(file, nil, s.e.Key)
	}
	text := strings.TrimSpace(s.e.Text)
	if text == "" {
		return nil, nil, faultAt(s.e, s.at, "", "write the new item", "an empty item for %s", s.e.Key)
	}
	raw := s.raw(k.shape, known, nil)
	if !known {
		raw = raw || strings.Contains(text, ": ") || strings.Contains(text, "\n")
	}
	if !raw {
		return &node{form: scalar, text: s.e.Text}, written(s.e.Text, "", flow), nil
	}
	want, fault := s.parse(text)
	if fault == nil && flow && !want.flow && want.form != scalar {
		fault = faultAt(s.e, s.at, text, "write it in brackets, on one line", "%q cannot stand in a list in brackets", shorten(text))
	}
	return want, []string{text}, fault
}

// indented gives a text of several lines its indentation behind a hyphen.
func (s *setting) indented(text, in string) string {
	return strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\n", s.y.lineEnd()+in+"  ")
}

func (s *setting) itemSpan(n *node, i int) (span, bool) {
	if n.flow {
		return s.y.span(n.items[i], 0)
	}
	return s.y.itemSpan(n.items[i])
}

// roomFor is where a new item of a list goes.
func (s *setting) roomFor(n *node, index, depth int, texts []string) (plan, *Fault) {
	y := s.y
	p := plan{at: s.at, alone: true, texts: slices.Clone(texts)}
	surround := func(before, behind string) {
		for i := range p.texts {
			p.texts[i] = before + p.texts[i] + behind
		}
	}
	switch {
	case n.form == nothing, n.flow && len(n.items) == 0 && !s.inFlow(depth):
		sp, ok := s.span(depth)
		if !ok || s.inFlow(depth) {
			return p, s.unfound()
		}
		if n.flow { // [] becomes [item]
			p.start, p.end = sp.start+1, sp.start+1
			break
		}
		in := strings.Repeat(" ", s.indentOf(depth)+2)
		p.start = y.next(y.line(sp.end))
		p.end = p.start
		for i := range p.texts {
			p.texts[i] = s.indented(p.texts[i], in)
		}
		surround(y.ownLine(p.start, in+"- "))
	case n.flow && len(n.items) == 0:
		sp, ok := y.span(n, 0)
		if !ok {
			return p, s.unfound()
		}
		p.start, p.end = sp.start+1, sp.start+1
	case n.flow && index < len(n.items):
		sp, ok := y.span(n.items[index], 0)
		if !ok {
			return p, s.unfound()
		}
		p.start, p.end = sp.start, sp.start
		surround("", ", ")
	case n.flow:
		sp, ok := y.span(n.items[index-1], 0)
		if !ok {
			return p, s.unfound()
		}
		p.start, p.end = sp.end, sp.end
		surround(", ", "")
	default:
		return s.lineFor(p, n, index)
	}
	return p, nil
}

// lineFor is the line of its own on which a new item goes.
func (s *setting) lineFor(p plan, n *node, index int) (plan, *Fault) {
	y := s.y
	dash := n.items[min(index, len(n.items)-1)].dash
	at, ok := y.offset(dash)
	if !ok {
		return p, s.unfound()
	}
	in := y.text[y.starts[dash.line-1]:at]
	if strings.Trim(in, " ") != "" {
		return p, s.unfound() // a list on the line of another's hyphen
	}
	if index == len(n.items) {
		last, ok := y.itemSpan(n.items[index-1])
		if !ok {
			return p, s.unfound()
		}
		p.start = y.behind(last.end, len(in))
	} else {
		first := dash.line - 1
		for first > 0 && y.remark(first-1) && y.indent(first-1) >= len(in) {
			first-- // a remark above an item belongs to it
		}
		p.start = y.starts[first]
	}
	p.end = p.start
	before, behind := y.ownLine(p.start, in+"- ")
	for i := range p.texts {
		p.texts[i] = before + s.indented(p.texts[i], in) + behind
	}
	return p, nil
}
