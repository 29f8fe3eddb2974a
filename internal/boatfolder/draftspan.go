package boatfolder

import (
	"strings"
	"unicode/utf8"
)

// span is the bytes that a value takes up, its quotation marks or brackets included.
type span struct{ start, end int }

// span finds the bytes of a value. indent is that of the line or key that a block of text belongs to.
//
// Out: false where it is not found for certain; such a value is not edited
func (y *layout) span(n *node, indent int) (span, bool) {
	switch {
	case n.flow:
		start, a := y.offset(n.open)
		end, b := y.offset(n.close)
		if !a || !b || end < start || !strings.ContainsRune("[{", rune(y.text[start])) || end >= len(y.text) || !strings.ContainsRune("]}", rune(y.text[end])) {
			return span{}, false
		}
		return span{start, end + 1}, true
	case n.form == mapping && len(n.pairs) > 0:
		start, ok := y.offset(spot{n.pairs[0].keyAt.Line, n.pairs[0].keyAt.Column})
		last := n.pairs[len(n.pairs)-1]
		v, good := y.pairSpan(last)
		return span{start, v.end}, ok && good
	case n.form == list && len(n.items) > 0:
		start, ok := y.offset(n.items[0].dash)
		last, good := y.itemSpan(n.items[len(n.items)-1])
		return span{start, last.end}, ok && good && start < len(y.text) && y.text[start] == '-'
	case n.form == scalar:
		start, ok := y.offset(spot{n.at.Line, n.at.Column})
		if !ok || start >= len(y.text) {
			return span{}, false
		}
		if n.block {
			return y.blockSpan(start, indent)
		}
		end, ok := y.scalarEnd(start, n)
		return span{start, end}, ok
	}
	return span{}, false
}

// itemSpan is of a list's item, from its value's start; for one with a hyphen and no value, behind the hyphen.
func (y *layout) itemSpan(n *node) (span, bool) {
	if n.form == nothing {
		at, ok := y.offset(n.dash)
		if !ok || at >= len(y.text) || y.text[at] != '-' {
			return span{}, false
		}
		return y.blank(at + 1), true
	}
	return y.span(n, n.dash.column-1)
}

// pairSpan is of a key's value. For a key without one it is empty and stands behind the colon.
func (y *layout) pairSpan(p pair) (span, bool) {
	if p.value.form != nothing {
		return y.span(p.value, p.keyAt.Column-1)
	}
	colon, ok := y.colon(p)
	if !ok {
		return span{}, false
	}
	return y.blank(colon + 1), true
}

// blank is where nothing is written, or null is.
func (y *layout) blank(at int) span {
	rest := strings.TrimLeft(y.text[at:], " ")
	start := len(y.text) - len(rest)
	for _, word := range []string{"null", "Null", "NULL", "~"} {
		if after, ok := strings.CutPrefix(rest, word); ok && (after == "" || strings.ContainsRune(" ,]}\r\n", rune(after[0]))) {
			return span{start, start + len(word)}
		}
	}
	return span{at, at}
}

// colon finds the colon behind a key.
func (y *layout) colon(p pair) (int, bool) {
	at, ok := y.offset(spot{p.keyAt.Line, p.keyAt.Column})
	if !ok || at >= len(y.text) {
		return 0, false
	}
	key := &node{form: scalar, text: p.key, quoted: y.text[at] == '"' || y.text[at] == '\''}
	end, ok := y.scalarEnd(at, key)
	if !ok {
		return 0, false
	}
	for end < len(y.text) && y.text[end] == ' ' {
		end++
	}
	return end, end < len(y.text) && y.text[end] == ':'
}

// scalarEnd finds the end of a value on its own line, or folded over several.
func (y *layout) scalarEnd(start int, n *node) (int, bool) {
	if n.quoted {
		return closing(y.text, start)
	}
	if strings.HasPrefix(y.text[start:], n.text) && n.text != "" {
		return start + len(n.text), true
	}
	at := start
	for rest := n.text; rest != ""; {
		c, size := utf8.DecodeRuneInString(rest)
		if c != ' ' && c != '\n' {
			if !strings.HasPrefix(y.text[at:], rest[:size]) {
				return 0, false
			}
			rest, at = rest[size:], at+size
			continue
		}
		rest = strings.TrimLeft(rest, " \n")
		skipped := at
		for at < len(y.text) && strings.IndexByte(" \t\r\n", y.text[at]) >= 0 {
			at++
		}
		if at == skipped {
			return 0, false
		}
	}
	return at, at > start
}

// closing finds the end of a quoted value.
func closing(text string, start int) (int, bool) {
	quote := text[start]
	if quote != '"' && quote != '\'' {
		return 0, false
	}
	for i := start + 1; i < len(text); i++ {
		switch {
		case text[i] == '\\' && quote == '"':
			i++
		case text[i] == quote && quote == '\'' && i+1 < len(text) && text[i+1] == quote:
			i++
		case text[i] == quote:
			return i + 1, true
		}
	}
	return 0, false
}

// blockSpan is of text behind | or >: its first line and those indented further than what it belongs to.
func (y *layout) blockSpan(start, indent int) (span, bool) {
	if c := y.text[start]; c != '|' && c != '>' {
		return span{}, false
	}
	first := y.line(start)
	end := y.ends[first]
	for i := first + 1; i < len(y.starts); i++ {
		in := y.indent(i)
		if in < 0 {
			continue
		}
		if in <= indent {
			break
		}
		end = y.ends[i]
	}
	return span{start, end}, true
}
