package boatfolder

import (
	"bytes"
	"slices"
	"sort"
	"strings"
	"sync"
	"unicode/utf8"
)

// leaf is one file as it stands in a draft. It does not change; what has been worked out of it is kept.
type leaf struct {
	name string
	data []byte
	err  error // why it could not be read
	// origin gives for each line the line of the opened file that it was, from 1; 0 for a new one. Nil before any edit.
	origin []int

	parse, split, measure sync.Once
	tree                  *node
	treeFaults            Faults
	table                 *table
	tableFaults           Faults
	lines                 *layout
	sea                   seaFile
}

// yaml gives the file's tree, which nobody may change, and what is wrong with it.
func (l *leaf) yaml() (*node, Faults) {
	l.parse.Do(func() {
		if l.err == nil {
			r := newReader(nil)
			l.tree = r.tree(l.name, l.data)
			l.treeFaults = r.faults
		}
	})
	return l.tree, l.treeFaults
}

// cells gives the file's table, which nobody may change, and what is wrong with it.
func (l *leaf) cells() (*table, Faults) {
	l.split.Do(func() {
		if l.err == nil {
			r := newReader(nil)
			l.table = r.cells(l.name, l.data)
			l.tableFaults = r.faults
		}
	})
	return l.table, l.tableFaults
}

func (l *leaf) layout() *layout {
	l.measure.Do(func() { l.lines = newLayout(string(l.data)) })
	return l.lines
}

// text tells whether the file is text at all.
func (l *leaf) text() bool { return utf8.Valid(l.data) && bytes.IndexByte(l.data, 0) < 0 }

func (l *leaf) isTable() bool { return strings.HasSuffix(strings.ToLower(l.name), ".csv") }

// layout finds places in a text as it is written, with whatever line ends it has.
type layout struct {
	text   string
	starts []int // of each line
	ends   []int // of each line, without its line end
}

const byteMark = "\ufeff" // that some editors put before a text

func newLayout(text string) *layout {
	y := &layout{text: text}
	start := 0
	if strings.HasPrefix(text, byteMark) {
		start = len(byteMark)
	}
	for i := start; i < len(text); i++ {
		if text[i] != '\n' && text[i] != '\r' {
			continue
		}
		y.starts, y.ends = append(y.starts, start), append(y.ends, i)
		if text[i] == '\r' && i+1 < len(text) && text[i+1] == '\n' {
			i++
		}
		start = i + 1
	}
	y.starts, y.ends = append(y.starts, start), append(y.ends, len(text))
	return y
}

// lineEnd is what ends the lines of the text.
func (y *layout) lineEnd() string {
	if len(y.starts) < 2 {
		return "\n"
	}
	return y.text[y.ends[0]:y.starts[1]]
}

// offset gives the byte at a place; false for a place outside the text.
func (y *layout) offset(at spot) (int, bool) {
	if at.line < 1 || at.line > len(y.starts) || at.column < 1 {
		return 0, false
	}
	i, end := y.starts[at.line-1], y.ends[at.line-1]
	for range at.column - 1 {
		if i >= end {
			return 0, false
		}
		_, size := utf8.DecodeRuneInString(y.text[i:end])
		i += size
	}
	return i, true
}

// line gives the index of the line that a byte stands on.
func (y *layout) line(offset int) int {
	return max(0, sort.SearchInts(y.starts, offset+1)-1)
}

// spot gives the place of a byte.
func (y *layout) spot(offset int) spot {
	i := y.line(offset)
	return spot{i + 1, 1 + utf8.RuneCountInString(y.text[y.starts[i]:max(y.starts[i], offset)])}
}

// next gives where the line behind line i starts, or the text's end.
func (y *layout) next(i int) int {
	if i+1 < len(y.starts) {
		return y.starts[i+1]
	}
	return len(y.text)
}

// content is a line without its end.
func (y *layout) content(i int) string { return y.text[y.starts[i]:y.ends[i]] }

// indent is the number of spaces that a line starts with; -1 for a blank one.
func (y *layout) indent(i int) int {
	line := y.content(i)
	rest := strings.TrimLeft(line, " \t")
	if rest == "" {
		return -1
	}
	return len(line) - len(rest)
}

// remark tells whether a line holds nothing but a remark.
func (y *layout) remark(i int) bool {
	return strings.HasPrefix(strings.TrimLeft(y.content(i), " \t"), "#")
}

// bare tells whether there is nothing but blank lines and remarks.
func (y *layout) bare() bool {
	for i := range y.starts {
		if y.indent(i) >= 0 && !y.remark(i) {
			return false
		}
	}
	return true
}

// splice is one replacement of bytes.
type splice struct {
	start, end int
	text       string
}

// spliced is the file with places replaced, which are given in their order and do not meet. Lines keep the memory of
// where they came from.
func (l *leaf) spliced(all []splice) *leaf {
	y := l.layout()
	if l.err != nil || slices.ContainsFunc(all, func(s splice) bool {
		return strings.ContainsAny(s.text, "\r\n") || strings.ContainsAny(y.text[s.start:s.end], "\r\n")
	}) {
		next := l
		for _, s := range slices.Backward(all) {
			next = next.splicedOnce(s)
		}
		return next
	}
	var b bytes.Buffer
	at := 0
	for _, s := range all {
		b.WriteString(y.text[at:s.start])
		b.WriteString(s.text)
		at = s.end
	}
	b.WriteString(y.text[at:])
	out := &leaf{name: l.name, data: b.Bytes(), origin: l.origin}
	if out.origin == nil {
		out.origin = make([]int, len(y.starts))
		for i := range out.origin {
			out.origin[i] = i + 1
		}
	}
	return out
}

// splicedOnce is the file with one place replaced, which may hold line ends.
func (l *leaf) splicedOnce(s splice) *leaf {
	y := l.layout()
	out := &leaf{name: l.name, data: []byte(y.text[:s.start] + s.text + y.text[s.end:])}
	if l.err != nil {
		out.origin = make([]int, len(out.layout().starts))
		return out
	}
	first, last := y.line(s.start), y.line(s.end)
	old := make([]int, len(y.starts))
	for i := range old {
		if old[i] = i + 1; l.origin != nil {
			old[i] = l.origin[i]
		}
	}
	z := out.layout()
	fresh := len(z.starts) - len(y.starts) + last - first + 1 // lines that stand in place of first to last
	block := make([]int, max(0, fresh))
	whole := s.start == y.starts[first] && s.end == y.starts[last] && (s.text == "" || strings.HasSuffix(s.text, y.lineEnd()))
	from := old[first : last+1]
	if len(block) > 0 && (whole || len(from) > 1 && len(block) > 1) {
		block[len(block)-1] = from[len(from)-1]
		copy(block[:len(block)-1], from[:len(from)-1])
	} else {
		copy(block, from)
	}
	out.origin = append(append(append(out.origin, old[:first]...), block...), old[last+1:]...)
	return out
}
