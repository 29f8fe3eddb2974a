package boatfolder

import (
	"path"
	"slices"
	"strings"

	"thole/internal/model"
)

// hand makes edits in one file. Values that are only set again are gathered and made together, since every splice
// costs a reading of the file to see what came of it.
type hand struct {
	leaf    *leaf
	refused bool // nothing can be edited in this file
	faults  Faults

	pending []pended
	rebuilt int // edits that were made alone
}

// mostRebuilt bounds the edits of one call that are made one by one in a yaml file: each costs a reading of it, some
// milliseconds.
const mostRebuilt = 300

type pended struct {
	edit Edit
	plan plan
}

// plan is how one edit is made.
type plan struct {
	at spot
	// start and end are the bytes replaced. They may be replaced by any of texts; the first that is read as it should be is taken.
	start, end int
	texts      []string
	// expect makes the edit on what was read, a copy of the file's tree or table.
	expect func(*node)
	rows   func(*table)
	// alone: later edits of the same call may depend on what this one does.
	alone bool
}

// mayEdit refuses the files that are not a boat folder's own, and those that cannot be read.
func mayEdit(l *leaf, e Edit) *Fault {
	known := e.File == boatFile || slices.Contains(fixedFiles, e.File) || l.isTable()
	top, _, _ := strings.Cut(e.File, "/")
	refuse := func(say, mend string) *Fault {
		return &Fault{File: e.File, Key: e.Key, Text: e.Text, Say: say, Mend: mend}
	}
	switch why := inside(e.File).(type) {
	case refusal:
		return refuse(why.say, why.mend)
	}
	if !known || path.Clean(e.File) != e.File || top == earlierDir || strings.HasPrefix(path.Base(e.File), ".") {
		return refuse("is not a file of the boat folder", "name boat.yaml, a table that it names, stores.csv, voyage.yaml, needs.yaml, trials.yaml or whatif.yaml")
	}
	switch why := l.err.(type) {
	case absent:
		if !slices.Contains(fixedFiles, e.File) {
			return refuse(why.say, "write it first, or mend the name")
		}
		return nil
	case refusal:
		return refuse(why.say, why.mend)
	case nil:
	default:
		return refuse(why.Error(), "look at the file")
	}
	var faults Faults
	whole := false
	if l.isTable() {
		t, why := l.cells()
		whole, faults = t != nil, why
	} else {
		t, why := l.yaml()
		whole, faults = t != nil && t.form == mapping, why
	}
	if whole || l.layout().bare() {
		return nil
	}
	if len(faults) > 0 {
		f := faults[0]
		f.Key = e.Key
		f.Say = "before anything can be set here: " + f.Say
		return &f
	}
	return refuse("is not a set of keys", "docs/boat-folder.md shows one")
}

// edit makes one edit, or gathers it.
func (h *hand) edit(e Edit) {
	p, fault := h.plan(e)
	if len(h.pending) > 0 && (fault != nil || p.alone || h.touches(p)) {
		h.flush()
		p, fault = h.plan(e)
	}
	if fault != nil {
		h.faults = append(h.faults, *fault)
		return
	}
	if len(p.texts) == 0 {
		return // it stands there already
	}
	if h.rebuilt == mostRebuilt && p.alone && !h.leaf.isTable() {
		h.refused = true
		h.faults = append(h.faults, *faultAt(e, p.at, e.Text, "keep some of them first", "more than %d keys and items put in or taken out at once", mostRebuilt))
		return
	}
	h.pending = append(h.pending, pended{e, p})
	if p.alone {
		h.rebuilt++
		h.flush()
	}
}

func (h *hand) plan(e Edit) (plan, *Fault) {
	if h.leaf.isTable() {
		return planRow(h.leaf, e)
	}
	return planKey(h.leaf, e)
}

// touches tells whether a plan meets one that waits.
func (h *hand) touches(p plan) bool {
	for _, other := range h.pending {
		if p.start <= other.plan.end && other.plan.start <= p.end {
			return true
		}
	}
	return false
}

// flush makes the edits that wait, all at once; when that does not come out as it should, one by one.
func (h *hand) flush() {
	waiting := h.pending
	h.pending = nil
	if len(waiting) == 0 {
		return
	}
	if h.make(waiting, 0) {
		return
	}
	for _, w := range waiting {
		p, fault := w.plan, (*Fault)(nil)
		if len(waiting) > 1 {
			p, fault = h.plan(w.edit)
		}
		made := false
		for i := range p.texts {
			if fault == nil && !made {
				made = h.make([]pended{{w.edit, p}}, i)
			}
		}
		if !made && fault == nil && len(p.texts) > 0 {
			fault = faultAt(w.edit, p.at, w.edit.Text, "look at how it is written there, and change it in the file itself",
				"%s cannot be changed here without changing something else", w.edit.Key)
		}
		if fault != nil {
			h.faults = append(h.faults, *fault)
		}
	}
}

// make makes edits of the file at once, each with its text of that index, and tells whether the file then reads as it
// did but for them.
func (h *hand) make(edits []pended, text int) bool {
	var all []splice
	for _, w := range edits {
		all = append(all, splice{w.plan.start, w.plan.end, w.plan.texts[min(text, len(w.plan.texts)-1)]})
	}
	slices.SortFunc(all, func(a, b splice) int { return a.start - b.start })
	next := h.leaf.spliced(all)
	if len(next.data) > largestFile || !h.reads(next, edits) {
		return false
	}
	h.leaf = next
	return true
}

// reads tells whether the file after the edits reads as it should.
func (h *hand) reads(next *leaf, edits []pended) bool {
	if h.leaf.isTable() {
		before, _ := h.leaf.cells()
		after, faults := next.cells()
		want := before.clone()
		for _, w := range edits {
			w.plan.rows(want)
		}
		return after != nil && want.same(after) && !newFaults(h.leaf.tableFaults, faults)
	}
	before, _ := h.leaf.yaml()
	after, faults := next.yaml()
	want := before.clone()
	if want == nil {
		want = &node{form: mapping}
	}
	for _, w := range edits {
		w.plan.expect(want)
	}
	return after != nil && same(want, after) && !newFaults(h.leaf.treeFaults, faults)
}

// newFaults tells whether there are more faults than before, an empty file or table aside.
func newFaults(before, after Faults) bool {
	count := func(fs Faults) int {
		n := 0
		for _, f := range fs {
			if !strings.Contains(f.Say, "a header and no rows") {
				n++
			}
		}
		return n
	}
	return count(after) > count(before)
}

// same tells whether two trees read alike.
func same(a, b *node) bool {
	if a.form != b.form || a.form == scalar && a.text != b.text || len(a.items) != len(b.items) || len(a.pairs) != len(b.pairs) {
		return false
	}
	for i := range a.items {
		if !same(a.items[i], b.items[i]) {
			return false
		}
	}
	for i := range a.pairs {
		if a.pairs[i].key != b.pairs[i].key || !same(a.pairs[i].value, b.pairs[i].value) {
			return false
		}
	}
	return true
}

// faultAt is a fault of an edit at a place of its file.
func faultAt(e Edit, at spot, text, mend, say string, args ...any) *Fault {
	where := model.Source{File: e.File, Line: at.line, Column: at.column, Key: e.Key}
	r := newReader(nil)
	r.fault(where, text, mend, say, args...)
	return &r.faults[0]
}
