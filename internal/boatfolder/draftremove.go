package boatfolder

import (
	"slices"
	"strings"
)

// remove takes out a key or an item.
func (s *setting) remove() (plan, *Fault) {
	e := s.e
	depth := len(s.w.steps)
	if s.w.rest != "" || depth == 0 {
		return plan{}, faultAt(e, s.at, "", "look again: it may have been taken out already", "%s is not there", e.Key)
	}
	n, parent, last := s.w.end(), s.w.nodes[depth-1], s.w.steps[depth-1]
	sp, ok := s.span(depth)
	if !ok {
		return plan{}, s.unfound()
	}
	if fault := s.was(n, s.y.text[sp.start:sp.end]); fault != nil {
		return plan{}, fault
	}
	p := plan{at: s.at, alone: true, texts: []string{""}}
	steps, only := s.w.steps[:depth-1], len(parent.items)+len(parent.pairs) == 1
	p.expect = func(tree *node) {
		from := reach(tree, steps)
		if last.list {
			from.items = slices.Delete(from.items, last.at, last.at+1)
		} else {
			from.pairs = slices.Delete(from.pairs, last.at, last.at+1)
		}
	}
	all, ok := s.wholly(depth)
	if !ok {
		return plan{}, s.unfound()
	}
	var fault *Fault
	switch {
	case parent.flow:
		p.start, p.end, ok = s.cutOut(parent, last, all)
	case only:
		p, fault = s.emptied(p, depth, all)
	default:
		p, ok = s.cutLines(p, parent, last, all)
	}
	if !ok {
		fault = s.unfound()
	}
	return p, fault
}

// wholly is the span of a value with its key or hyphen.
func (s *setting) wholly(depth int) (span, bool) {
	last, parent := s.w.steps[depth-1], s.w.nodes[depth-1]
	return s.whole(parent, last.at)
}

// whole is the span of one pair or item of a value, with its key or hyphen.
func (s *setting) whole(parent *node, i int) (span, bool) {
	if parent.form == list {
		sp, ok := s.itemSpan(parent, i)
		if !parent.flow && ok {
			sp.start, ok = s.y.offset(parent.items[i].dash)
		}
		return sp, ok
	}
	p := parent.pairs[i]
	sp, ok := s.y.pairSpan(p)
	if !ok {
		return sp, false
	}
	sp.start, ok = s.y.offset(spot{p.keyAt.Line, p.keyAt.Column})
	return sp, ok
}

// cutOut is what goes with an item or a pair in brackets: it and one comma.
func (s *setting) cutOut(parent *node, last step, all span) (start, end int, ok bool) {
	text, i := s.y.text, last.at
	count := len(parent.items) + len(parent.pairs)
	if count == 1 {
		return all.start, all.end, true
	}
	if i+1 < count {
		next, ok := s.whole(parent, i+1)
		if !ok {
			return 0, 0, false
		}
		if !strings.ContainsAny(text[all.end:next.start], "\r\n") {
			return all.start, next.start, true
		}
	}
	if i > 0 {
		before, ok := s.whole(parent, i-1)
		if !ok {
			return 0, 0, false
		}
		if !strings.ContainsAny(text[before.end:all.start], "\r\n") {
			return before.end, all.end, true
		}
	}
	y := s.y
	a, b := y.line(all.start), y.line(all.end)
	behind := strings.TrimLeft(strings.TrimPrefix(strings.TrimLeft(text[all.end:y.ends[b]], " "), ","), " ")
	if strings.TrimSpace(text[y.starts[a]:all.start]) != "" || behind != "" && behind[0] != '#' {
		return 0, 0, false
	}
	return y.starts[a], y.next(b), true
}

// emptied takes out the only item or pair: brackets with nothing in them are left.
func (s *setting) emptied(p plan, depth int, all span) (plan, *Fault) {
	y := s.y
	brackets := "{}"
	if s.w.steps[depth-1].list {
		brackets = "[]"
	}
	if depth == 1 {
		return p, faultAt(s.e, s.at, s.e.Key, "take the file away, or write another key first", "%s is the only key of the file", s.e.Key)
	}
	var start int
	if up, parent := s.w.steps[depth-2], s.w.nodes[depth-2]; up.list {
		at, ok := y.offset(parent.items[up.at].dash)
		if !ok {
			return p, s.unfound()
		}
		start = at + 1
	} else if colon, ok := y.colon(parent.pairs[up.at]); ok {
		start = colon + 1
	} else {
		return p, s.unfound()
	}
	// A remark behind the key stays; the lines below it go.
	first, last := y.line(start), y.line(all.end)
	between := y.text[start:all.start]
	if first == y.line(all.start) {
		p.start, p.end, p.texts = start, all.end, []string{" " + brackets}
		return p, nil
	}
	if line := strings.TrimLeft(y.text[start:y.ends[first]], " "); line != "" && line[0] != '#' {
		return p, s.unfound()
	}
	rest := between[y.ends[first]-start:]
	kept := rest[:strings.LastIndexAny(rest, "\r\n")+1]
	behind := ""
	if y.next(last) == y.ends[last] { // the file has no last line end
		kept = strings.TrimSuffix(kept, y.lineEnd())
	} else {
		behind = ""
	}
	p.start, p.end = start, y.next(last)
	p.texts = []string{" " + brackets + y.text[start:y.ends[first]] + kept + behind}
	return p, nil
}

// cutLines takes out the lines of a pair or an item.
func (s *setting) cutLines(p plan, parent *node, last step, all span) (plan, bool) {
	y := s.y
	first := y.line(all.start)
	if before := y.text[y.starts[first]:all.start]; strings.Trim(before, " ") != "" {
		// The first key on its item's line of the hyphen: the next one takes its place.
		if parent.form != mapping || last.at > 0 {
			return p, false
		}
		next, ok := s.whole(parent, 1)
		between := y.text[all.end:max(all.end, next.start)]
		if gap := strings.TrimLeft(between, " "); !ok || strings.Count(between, "#") > 1 || gap != "" && !strings.ContainsAny(gap[:1], "#\r\n") {
			return p, false
		}
		p.start, p.end = all.start, next.start
		return p, true
	}
	end := y.behind(all.end, all.start-y.starts[first])
	p.start, p.end = y.starts[first], end
	if end == len(y.text) && y.starts[len(y.starts)-1] != end && first > 0 {
		p.start, p.end = y.ends[first-1], end // the file has no last line end; nor will it
	}
	return p, true
}
