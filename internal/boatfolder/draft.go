package boatfolder

import (
	"errors"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"sync"

	"thole/internal/model"
)

// Edit is one change of a folder's text. It replaces bytes where they stand, so that
// remarks, order and everything else in the file stay as they were.
type Edit struct {
	File string `json:"file"`
	// Key says where: weights[3].mass in a yaml file; rows[7].mass in a table, 0 the first row below the header.
	Key string `json:"key"`
	Do  Act    `json:"do,omitempty"`
	// Of is the name of the list item or row that Key goes into (its what, name, number or station). Where the item of
	// that index bears another name, the one so named is meant, if there is just one.
	Of string `json:"of,omitempty"`
	// Was is the text that stands there, without its remark. An edit whose Was is given and differs is refused.
	Was string `json:"was,omitempty"`
	// Text is the value to be read there: where the file needs quotation marks they are put round it. A value that is a
	// list or a set of keys, and a table's row, is written as the file has it: [3.1 m, 0 m, 0.4 m], {in: 203}.
	Text string `json:"text,omitempty"`
}

// Act is what an edit does.
type Act string

// What an edit may do.
const (
	// Set replaces a value, or adds the key to a mapping that is there.
	Set Act = ""
	// Insert puts a new list item or row before the one that Key names; behind the last when Key is one past the end.
	Insert Act = "insert"
	// Remove takes a key, a list item or a row out, with the remark behind it.
	Remove Act = "remove"
)

// Value is one value of a folder's files that an Edit may set.
type Value struct {
	File    string   `json:"file"`
	Key     string   `json:"key"`
	Of      string   `json:"of"`                // the name of the item or row that it belongs to; may be empty
	Line    int      `json:"line"`              // 1 is the first
	Column  int      `json:"column"`            // 1 is the first, counted in letters
	Width   int      `json:"width"`             // letters that it takes up on its line, quotes included; 0 for a blank cell
	Text    string   `json:"text"`              // as Edit.Was has it
	Kind    string   `json:"kind"`              // mass, length, ..., number, words, choice, yes or no, date; what may be written there
	Choices []string `json:"choices,omitempty"` // the words to choose from
	What    string   `json:"what"`              // what the key is for, from the documentation; may be empty
}

// Change is one line before and after; Before is empty for a new line, After for one that went.
type Change struct {
	File   string `json:"file"`
	Line   int    `json:"line"` // in the old file; of the line before for a new one
	Before string `json:"before"`
	After  string `json:"after"`
	New    bool   `json:"new"`
	Gone   bool   `json:"gone"`
}

// ErrMoved: a file on the disk is no longer what the draft was made from.
var ErrMoved = errors.New("the file has been changed since")

// mostEdits bounds the edits of one call.
const mostEdits = 2000

// Draft is a folder's files in memory, with edits that are not yet written. It does not change once made, and may be
// used by several goroutines at once.
type Draft struct {
	dir     string
	opened  *shelf           // as the folder was when it was opened
	changed map[string]*leaf // by name; only files whose text differs

	once   sync.Once
	folder *model.Folder
	faults Faults
	mark   string
	needed []string // the files that the reader read
}

// Open reads all files of a folder into memory, valid or not.
//
// Out: the draft, or nil and the fault when the folder cannot be opened; what is wrong with its files Read tells
func Open(dir string) (*Draft, Faults) {
	root, faults := openFolder(dir)
	if faults != nil {
		return nil, faults
	}
	defer root.Close()
	return openWith(dir, rooted{root}), nil
}

// openWith makes a draft of files that may go away.
func openWith(dir string, from files) *Draft {
	s := &shelf{dir: dir, leaves: map[string]*leaf{}, from: from}
	s.listed = from.names()
	slices.Sort(s.listed)
	d := &Draft{dir: dir, opened: s}
	for _, name := range s.listed {
		if readable(name) {
			s.leaf(name)
		}
	}
	for _, name := range fixedFiles {
		s.leaf(name)
	}
	d.Stamp() // reads the tables in folders below
	s.mu.Lock()
	s.from = nil
	s.mu.Unlock()
	return d
}

// With is the draft with more edits made, in their order; all that cannot be made are told at once.
//
// Out: the new draft, or nil and all edits that cannot be made
func (d *Draft) With(edits ...Edit) (*Draft, Faults) {
	if len(edits) > mostEdits {
		return nil, Faults{{File: boatFile, Say: fmt.Sprintf("%d edits at once", len(edits)), Mend: fmt.Sprintf("make %d at most", mostEdits)}}
	}
	work := &Draft{dir: d.dir, opened: d.opened, changed: maps.Clone(d.changed)}
	if work.changed == nil {
		work.changed = map[string]*leaf{}
	}
	var faults Faults
	hands := map[string]*hand{}
	for _, e := range edits {
		h := hands[e.File]
		if h == nil {
			h = &hand{leaf: work.leaf(e.File)}
			hands[e.File] = h
			if fault := mayEdit(h.leaf, e); fault != nil {
				h.refused = true
				faults = append(faults, *fault)
			}
		}
		if !h.refused {
			h.edit(e)
		}
	}
	for _, name := range slices.Sorted(keysOf(hands)) {
		h := hands[name]
		h.flush()
		faults = append(faults, h.faults...)
		if same := d.opened.leaf(name); h.leaf.err == nil && same.err == nil && string(same.data) == string(h.leaf.data) {
			delete(work.changed, name)
		} else if h.leaf != work.leaf(name) {
			work.changed[name] = h.leaf
		}
	}
	if len(faults) > 0 {
		return nil, faults.finish()
	}
	return work, nil
}

// Read reads the draft as Read does a folder, once: what is in the folder is shared by all who read it, and not to be changed.
func (d *Draft) Read() (*model.Folder, Faults) {
	d.parse()
	if d.folder == nil {
		return nil, slices.Clone(d.faults)
	}
	own := *d.folder
	return &own, slices.Clone(d.faults)
}

func (d *Draft) parse() {
	d.once.Do(func() {
		r := newReader(pages{d})
		d.folder, d.faults = r.folder(d.dir)
		d.mark, d.needed = r.stamp(), slices.Sorted(keysOf(r.opened))
	})
}

// Stamp marks the draft's content, as the function Stamp does a folder's.
func (d *Draft) Stamp() string {
	d.parse()
	return d.mark
}

// Files names the text files that a person may read, boat.yaml first: those that the reader reads, then the
// others. The tries are no text of the boat, and change under the draft.
func (d *Draft) Files() []string {
	var out []string
	add := func(names ...string) {
		for _, name := range names {
			if l := d.leaf(name); name != triesFile && l.err == nil && l.text() && !slices.Contains(out, name) {
				out = append(out, name)
			}
		}
	}
	add(boatFile)
	add(d.tables()...)
	add(fixedFiles...)
	for _, name := range d.opened.listed {
		if readable(name) {
			add(name)
		}
	}
	add(slices.Sorted(keysOf(d.changed))...)
	return out
}

// Text is a file's content with the edits made.
func (d *Draft) Text(file string) (string, bool) {
	if !slices.Contains(d.Files(), file) {
		return "", false
	}
	return string(d.leaf(file).data), true
}

// leaf is a file as it stands in the draft.
func (d *Draft) leaf(name string) *leaf {
	if l := d.changed[name]; l != nil {
		return l
	}
	return d.opened.leaf(name)
}

// tables are the tables that boat.yaml and voyage.yaml name, in their order.
func (d *Draft) tables() []string {
	var out []string
	var walk func(n *node, s shape)
	walk = func(n *node, s shape) {
		for _, p := range n.pairs {
			for _, k := range s.keys {
				if k.name == p.key {
					walk(p.value, k.shape)
				}
			}
		}
		for _, item := range n.items {
			if s.item != nil {
				walk(item, *s.item)
			}
		}
		if s.kind == filename && n.form == scalar {
			out = append(out, n.text)
		}
	}
	if tree, _ := d.leaf(boatFile).yaml(); tree != nil {
		walk(tree, boatShape)
	}
	if tree, _ := d.leaf(voyageFile).yaml(); tree != nil {
		walk(tree, voyageShape)
	}
	return out
}

// fixedFiles are the files of fixed names behind boat.yaml and its tables.
var fixedFiles = []string{storesFile, voyageFile, needsFile, trialsFile, whatifFile}

// readable tells whether a file of the folder is one that a person may read, by its name.
func readable(name string) bool {
	for _, end := range []string{".yaml", ".yml", ".csv", ".md", ".txt"} {
		if strings.HasSuffix(strings.ToLower(name), end) {
			return !strings.HasPrefix(name, ".")
		}
	}
	return false
}

// pages hands a draft's files to the reader.
type pages struct{ draft *Draft }

func (p pages) read(name string) ([]byte, error) {
	l := p.draft.leaf(name)
	return l.data, l.err
}

func (p pages) names() []string {
	out := slices.Clone(p.draft.opened.listed)
	for name := range p.draft.changed {
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// shelf keeps a folder's files as they were when it was opened.
type shelf struct {
	dir    string
	listed []string

	mu     sync.Mutex
	leaves map[string]*leaf
	from   files // while it is being opened
	total  int
}

// leaf gives a file, reading it when it is first asked for: a table that no key named until an edit did.
func (s *shelf) leaf(name string) *leaf {
	s.mu.Lock()
	defer s.mu.Unlock()
	if l := s.leaves[name]; l != nil {
		return l
	}
	l := &leaf{name: name}
	if s.total > largestFolder {
		l.err = refusal{"is too much to read", "a boat's tables are some kilobytes"}
	} else if s.from != nil {
		l.data, l.err = s.from.read(name)
	} else if root, err := os.OpenRoot(s.dir); err != nil {
		l.err = absent{refusal{"is not in the folder", ""}}
	} else {
		l.data, l.err = rooted{root}.read(name)
		root.Close()
	}
	s.total += len(l.data)
	s.leaves[name] = l
	return l
}
