package boatfolder

import "slices"

// Changes are the lines that the edits change, by file and line.
func (d *Draft) Changes() []Change {
	var out []Change
	for _, name := range d.Files() {
		if l := d.changed[name]; l != nil {
			out = append(out, changes(d.opened.leaf(name), l)...)
		}
	}
	return out
}

// changes compares a file with what it was, line by line as the edits went.
func changes(old, now *leaf) []Change {
	a, b := old.layout(), now.layout()
	var out []Change
	stays := make([]bool, len(a.starts))
	before := 0 // the old line before
	for i := range b.starts {
		from := 0
		if i < len(now.origin) {
			from = now.origin[i]
		}
		text := b.content(i)
		switch {
		case from > 0:
			stays[from-1] = true
			before = from
			if was := a.content(from - 1); was != text {
				out = append(out, Change{File: now.name, Line: from, Before: was, After: text})
			}
		case text != "" || i+1 < len(b.starts): // what follows the last line end is no line
			out = append(out, Change{File: now.name, Line: before, After: text, New: true})
		}
	}
	for i, stayed := range stays {
		if text := a.content(i); !stayed && (text != "" || i+1 < len(a.starts)) {
			out = append(out, Change{File: now.name, Line: i + 1, Before: text, Gone: true})
		}
	}
	slices.SortStableFunc(out, func(a, b Change) int { return a.Line - b.Line })
	return out
}
