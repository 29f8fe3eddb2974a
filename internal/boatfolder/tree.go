package boatfolder

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"thole/internal/model"
)

// Bounds on a yaml file. An honest one has some hundred lines and is four deep;
// the parser calls itself for every level.
const (
	largestYaml = 1 << 20
	deepest     = 30
	widest      = 200   // columns of indentation
	mostKeys    = 200   // of one mapping
	mostValues  = 12000 // of the file; the parser's time grows with their square
)

type form int

const (
	nothing form = iota // a key without a value
	scalar
	list
	mapping
)

// node is one value of a yaml file with its place, before and after it has been
// read as a quantity. Methods work on a nil node as on one left out.
type node struct {
	form   form
	text   string
	quoted bool
	at     model.Source
	items  []*node
	pairs  []pair

	// How it is written, for edits.
	flow        bool // in brackets
	block       bool // text on lines of its own, behind | or >
	open, close spot // of the brackets
	dash        spot // of the hyphen, for a list's item that has one

	// What the check against its shape found.
	number, half float64
	given        bool // half was given
	bad          bool // a fault has been told; do not use
}

// spot is a place in a text: line and column from 1, columns in letters; nothing where there is none.
type spot struct{ line, column int }

func spotOf(t *token.Token) spot {
	if t == nil || t.Position == nil {
		return spot{}
	}
	return spot{t.Position.Line, t.Position.Column}
}

type pair struct {
	key   string
	keyAt model.Source
	value *node
}

// get gives the value of a key, or nil when it is left out or at fault.
func (n *node) get(key string) *node {
	if n == nil || n.form != mapping {
		return nil
	}
	for _, p := range n.pairs {
		if p.key == key {
			if p.value.bad {
				return nil
			}
			return p.value
		}
	}
	return nil
}

// has tells whether a key is written, right or wrong.
func (n *node) has(key string) bool {
	if n != nil {
		for _, p := range n.pairs {
			if p.key == key {
				return true
			}
		}
	}
	return false
}

// all gives the items of a list that are not at fault themselves.
func (n *node) all() []*node {
	if n == nil {
		return nil
	}
	var out []*node
	for _, item := range n.items {
		if !item.bad {
			out = append(out, item)
		}
	}
	return out
}

func (n *node) str() string {
	if n == nil {
		return ""
	}
	return n.text
}

func (n *node) value() float64 {
	if n == nil {
		return 0
	}
	return n.number
}

func (n *node) yes() bool { return n.value() != 0 }

func (n *node) source() model.Source {
	if n == nil {
		return model.Source{}
	}
	return n.at
}

// clone copies a value and all below it, for one who changes it.
func (n *node) clone() *node {
	if n == nil {
		return nil
	}
	out := *n
	if n.items != nil {
		out.items = make([]*node, len(n.items))
		for i, item := range n.items {
			out.items[i] = item.clone()
		}
	}
	if n.pairs != nil {
		out.pairs = make([]pair, len(n.pairs))
		for i, p := range n.pairs {
			out.pairs[i] = pair{p.key, p.keyAt, p.value.clone()}
		}
	}
	return &out
}

// readable refuses bytes that are no text and gives the text with plain line
// ends and without a byte order mark.
func (r *reader) readable(file string, data []byte) (string, bool) {
	if !utf8.Valid(data) || bytes.IndexByte(data, 0) >= 0 {
		line, column := 1, 1
		for rest := data; len(rest) > 0; {
			c, size := utf8.DecodeRune(rest)
			if c == 0 || c == utf8.RuneError && size == 1 {
				break
			}
			column++
			if c == '\n' {
				line, column = line+1, 1
			}
			rest = rest[size:]
		}
		r.fault(model.Source{File: file, Line: line, Column: column}, "", "save it as plain text in UTF-8", "bytes that are not text")
		return "", false
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	text = strings.ReplaceAll(text, "\r\n", "\n")
	return strings.ReplaceAll(text, "\r", "\n"), true
}

// tree reads a yaml file into nodes; nil when it cannot be read at all.
func (r *reader) tree(file string, data []byte) *node {
	if len(data) > largestYaml {
		r.fault(model.Source{File: file}, "", "keep long tables in csv files", "larger than 1 MB")
		return nil
	}
	text, ok := r.readable(file, data)
	if !ok || !r.noTabs(file, text) {
		return nil
	}
	tokens := lexer.Tokenize(text)
	if !r.tame(file, tokens) {
		return nil
	}
	parsed, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		r.syntax(file, err)
		return nil
	}
	var docs []ast.Node
	for _, d := range parsed.Docs {
		if d.Body != nil {
			docs = append(docs, d.Body)
		}
	}
	if len(docs) == 0 {
		r.fault(model.Source{File: file, Line: 1, Column: 1}, "", "docs/boat-folder.md shows the smallest one", "the file is empty")
		return nil
	}
	if len(docs) > 1 {
		r.fault(place(file, "", docs[1]), "---", "keep one part and drop the line ---", "the file has more than one part")
		return nil
	}
	return r.node(file, "", docs[0])
}

// noTabs finds lines indented with tabs, all of them, before the parser stops
// at the first.
func (r *reader) noTabs(file, text string) bool {
	good := true
	for i, line := range strings.Split(text, "\n") {
		indent := line[:len(line)-len(strings.TrimLeft(line, " \t"))]
		if tab := strings.IndexByte(indent, '\t'); tab >= 0 && len(indent) < len(line) && line[len(indent)] != '#' {
			r.fault(model.Source{File: file, Line: i + 1, Column: tab + 1}, "", "indent with spaces", "a tab where spaces are due")
			good = false
		}
	}
	return good
}

// tame refuses what no boat folder needs and what could tie up the parser.
func (r *reader) tame(file string, tokens token.Tokens) bool {
	depth, run, line, values := 0, 0, 0, 0
	good := true
	for _, t := range tokens {
		at := model.Source{File: file, Line: t.Position.Line, Column: t.Position.Column}
		if t.Position.Line != line {
			line, run = t.Position.Line, 0
			if t.Position.Column > widest {
				r.fault(at, "", "indent each level by two spaces", "indented too far")
				return false
			}
		}
		switch t.Type {
		case token.MappingStartType, token.SequenceStartType:
			depth++
		case token.MappingEndType, token.SequenceEndType:
			depth--
		case token.MappingValueType:
			values++
		case token.SequenceEntryType, token.MappingKeyType:
			run++
		case token.AnchorType, token.AliasType, token.MergeKeyType:
			name := t.Value
			if t.Next != nil && t.Type != token.MergeKeyType {
				name += t.Next.Value
			}
			r.fault(at, name, "write the value out", "%q: references to other values are not read", shorten(name))
			good = false
		case token.TagType, token.DirectiveType:
			r.fault(at, t.Value, "leave it out", "%q: tags and directives are not read", shorten(t.Value))
			good = false
		}
		if depth > deepest || run > deepest {
			r.fault(at, "", "a boat folder is four deep at most", "nested too deep")
			return false
		}
		if values > mostValues {
			r.fault(at, "", "is it the right file?", "more than %d values", mostValues)
			return false
		}
		if len(r.faults) > enoughFaults {
			return false
		}
	}
	return good
}

func (r *reader) syntax(file string, err error) {
	var s *yaml.SyntaxError
	at := model.Source{File: file, Line: 1, Column: 1}
	say := "cannot be read as yaml"
	if errors.As(err, &s) {
		say = s.GetMessage()
		if t := s.GetToken(); t != nil && t.Position != nil {
			at.Line, at.Column = t.Position.Line, t.Position.Column
		}
	}
	r.fault(at, "", "look at the brackets, colons and indentation here and on the line before", "%s", say)
}

func place(file, key string, n ast.Node) model.Source {
	t := n.GetToken()
	if m, ok := n.(*ast.MappingNode); ok && !m.IsFlowStyle && len(m.Values) > 0 {
		t = m.Values[0].Key.GetToken()
	}
	if v, ok := n.(*ast.MappingValueNode); ok {
		t = v.Key.GetToken()
	}
	return model.Source{File: file, Line: t.Position.Line, Column: t.Position.Column, Key: key}
}

// node turns one yaml node and all below it into ours.
func (r *reader) node(file, key string, n ast.Node) *node {
	out := &node{at: place(file, key, n)}
	switch v := n.(type) {
	case *ast.NullNode:
		return out
	case *ast.MappingNode:
		out.form = mapping
		if out.flow = v.IsFlowStyle; out.flow {
			out.open, out.close = spotOf(v.Start), spotOf(v.End)
		}
		for i, p := range v.Values {
			if i == mostKeys {
				r.fault(place(file, key, p), "", "is it the right file?", "more than %d keys in one place", mostKeys)
				break
			}
			r.pair(out, file, key, p)
		}
	case *ast.MappingValueNode:
		out.form = mapping
		r.pair(out, file, key, v)
	case *ast.SequenceNode:
		out.form = list
		if out.flow = v.IsFlowStyle; out.flow {
			out.open, out.close = spotOf(v.Start), spotOf(v.End)
		}
		for i, item := range v.Values {
			n := r.node(file, fmt.Sprintf("%s[%d]", key, i), item)
			if !out.flow && i < len(v.Entries) {
				n.dash = spotOf(v.Entries[i].Start)
			}
			out.items = append(out.items, n)
		}
	case *ast.LiteralNode:
		out.form, out.quoted, out.block = scalar, true, true
		out.text = v.Value.GetValue().(string)
	default:
		out.form = scalar
		t := n.GetToken()
		out.text = t.Value
		out.quoted = t.Type == token.SingleQuoteType || t.Type == token.DoubleQuoteType
	}
	return out
}

func (r *reader) pair(out *node, file, path string, p *ast.MappingValueNode) {
	name := p.Key.GetToken().Value
	key := name
	if path != "" {
		key = path + "." + name
	}
	at := place(file, key, p)
	if _, ok := p.Key.(*ast.MappingKeyNode); ok {
		r.fault(at, "?", "write key: value", "a key written with a question mark")
		return
	}
	for _, other := range out.pairs {
		if other.key == name {
			r.fault(at, name, fmt.Sprintf("keep one of them; the first is on line %d", other.keyAt.Line), "key %q is given twice", shorten(name))
			return
		}
	}
	out.pairs = append(out.pairs, pair{key: name, keyAt: at, value: r.node(file, key, p.Value)})
}
