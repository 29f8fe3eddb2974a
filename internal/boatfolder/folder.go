// Package boatfolder reads a boat folder into the model, edits its text and saves it.
//
// The format is docs/boat-folder.md. All that is wrong in a folder is told at
// once, each fault with its file, line, column and mend. A folder comes from
// people and from other machines: sizes, depths and counts are bounded, no file
// outside the folder is ever opened, and nothing that a folder holds may hang
// or stop the program.
//
// A Draft is a folder in memory. Its edits replace the bytes of single values; it is read, and told line by line, as
// the folder would be that has them, and written so that nothing is lost on the way.
package boatfolder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"thole/internal/model"
)

// The files of a folder that have fixed names.
const (
	boatFile   = "boat.yaml"
	storesFile = "stores.csv"
	voyageFile = "voyage.yaml"
	trialsFile = "trials.yaml"
	whatifFile = "whatif.yaml"
	needsFile  = "needs.yaml"
)

// reader reads one folder.
type reader struct {
	files  files
	opened map[string][]byte // what was read, for the stamp
	total  int               // bytes of tables read
	faults Faults
	notes  []model.Note

	boat   model.Boat
	extent extent
	// compartments finds one by its name or its number.
	compartments map[string]int
	named        bool // all compartments are known, so that an unknown name is a fault
}

// Read reads the boat folder dir.
//
// Out: the folder, or nil and all that is wrong with it
func Read(dir string) (*model.Folder, Faults) {
	root, faults := openFolder(dir)
	if faults != nil {
		return nil, faults
	}
	defer root.Close()
	r := newReader(rooted{root})
	return r.folder(dir)
}

func openFolder(dir string) (*os.Root, Faults) {
	root, err := os.OpenRoot(dir)
	if err == nil {
		return root, nil
	}
	say, mend := "cannot be opened", "name the folder that holds boat.yaml"
	var path *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		say = "is not there"
	case errors.Is(err, fs.ErrPermission):
		say = "may not be read"
	case errors.As(err, &path):
		say = fmt.Sprintf("cannot be opened: %v", path.Err)
	}
	return nil, Faults{{File: dir, Say: "the folder " + say, Mend: mend}}
}

func newReader(f files) *reader {
	return &reader{files: f, opened: map[string][]byte{}, compartments: map[string]int{}}
}

// folder reads all files; one that cannot be read does not keep the others
// from being looked at.
func (r *reader) folder(dir string) (*model.Folder, Faults) {
	out := &model.Folder{Dir: dir}
	if tree := r.yaml(boatFile, boatShape, true); tree != nil {
		r.readBoat(tree)
	}
	if data, ok := r.optional(storesFile); ok {
		out.Stores = r.stores(data)
	}
	if tree := r.yaml(voyageFile, voyageShape, false); tree != nil {
		out.Voyage = r.voyage(tree)
	}
	if tree := r.yaml(needsFile, needsShape, false); tree != nil {
		out.Needs = r.needs(tree)
	}
	if tree := r.yaml(trialsFile, trialsShape, false); tree != nil {
		out.Trials = r.trials(tree, out)
	}
	if tree := r.yaml(whatifFile, whatifShape, false); tree != nil {
		out.Boat = r.boat
		out.Levers = r.whatif(tree, out)
	}
	if len(r.faults) > 0 {
		return nil, r.faults.finish()
	}
	out.Boat, out.Notes = r.boat, r.notes
	out.Stamp = r.stamp(trialsFile, whatifFile)
	return out, nil
}

// yaml reads and checks a yaml file; nil when there is nothing to go on with.
func (r *reader) yaml(name string, s shape, need bool) *node {
	data, ok := r.optional(name)
	if !ok {
		if need && !slices.ContainsFunc(r.faults, func(f Fault) bool { return f.File == name }) {
			r.fault(model.Source{File: name}, "", "every boat folder has one; docs/boat-folder.md shows the smallest", "is not in the folder")
		}
		return nil
	}
	tree := r.parsed(name, data)
	if tree == nil {
		return nil
	}
	r.check(tree, "", s, "")
	if tree.form != mapping {
		return nil
	}
	return tree
}

// parsed gives a file's tree: a draft has kept it.
func (r *reader) parsed(name string, data []byte) *node {
	kept, ok := r.files.(pages)
	if !ok {
		return r.tree(name, data)
	}
	tree, faults := kept.draft.leaf(name).yaml()
	r.faults = append(r.faults, faults...)
	return tree.clone()
}

// split gives a table's cells: a draft has kept them.
func (r *reader) split(name string, data []byte) *table {
	kept, ok := r.files.(pages)
	if !ok {
		return r.cells(name, data)
	}
	t, faults := kept.draft.leaf(name).cells()
	r.faults = append(r.faults, faults...)
	return t
}

// optional reads a file that may be left out.
func (r *reader) optional(name string) ([]byte, bool) {
	data, err := r.files.read(name)
	var no absent
	var why refusal
	switch {
	case errors.As(err, &no):
		return nil, false
	case errors.As(err, &why):
		r.fault(model.Source{File: name}, "", why.mend, "%s", why.say)
		return nil, false
	}
	r.opened[name] = data
	return data, true
}

// open reads the file that a key names.
func (r *reader) open(n *node) ([]byte, bool) {
	name := n.text
	if data, ok := r.opened[name]; ok {
		return data, true
	}
	data, err := r.files.read(name)
	var no absent
	var why refusal
	switch {
	case errors.As(err, &no):
		mend := "put it beside boat.yaml, or mend the name"
		if near := nearest(name, r.tables()); near != "" {
			mend = fmt.Sprintf("did you mean %s?", near)
		}
		r.fault(n.at, name, mend, "the file %q %s", shorten(name), no.say)
		return nil, false
	case errors.As(err, &why):
		r.fault(n.at, name, why.mend, "the file %q %s", shorten(name), why.say)
		return nil, false
	}
	if r.total += len(data); r.total > largestFolder {
		r.fault(n.at, name, "a boat's tables are some kilobytes", "the folder's tables are larger than %d MB together", largestFolder>>20)
		return nil, false
	}
	r.opened[name] = data
	return data, true
}

// tables names the folder's csv files.
func (r *reader) tables() []string {
	var out []string
	for _, name := range r.files.names() {
		if strings.HasSuffix(strings.ToLower(name), ".csv") && name != storesFile {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}
