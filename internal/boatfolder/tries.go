package boatfolder

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"
	"unicode"
	"unicode/utf8"
)

// triesFile holds what a person tries out; it is no part of the boat, and not of the folder's stamp.
const triesFile = "tries.json"

// Bounds on tries.
const (
	mostTries     = 40
	longestTrying = 80 // letters of a name
)

// Tries are the changes that a person tries out, not kept yet.
type Tries struct {
	// Version is counted up at each writing, so that two pages on one folder do not write over each other.
	Version int   `json:"version"`
	Tries   []Try `json:"tries"`
}

// Try is a named list of edits.
type Try struct {
	Name  string `json:"name"`
	Edits []Edit `json:"edits"`
}

// ReadTries reads tries.json; a folder without one has no tries.
//
// Error: when it cannot be read. One that is broken is moved into earlier/, and the error says where to
func ReadTries(dir string) (Tries, error) {
	done, err := lockFolder(dir)
	if err != nil {
		return Tries{}, err
	}
	defer done.unlock()
	return readTries(rootDisk{done.root})
}

func readTries(k disk) (Tries, error) {
	none := Tries{Tries: []Try{}}
	data, mode, err := k.open(triesFile)
	if errors.Is(err, fs.ErrNotExist) {
		return none, nil
	}
	if err != nil {
		return none, fmt.Errorf("%s: %w", triesFile, err)
	}
	var t Tries
	in := json.NewDecoder(bytes.NewReader(data))
	in.DisallowUnknownFields()
	err = in.Decode(&t)
	if err == nil {
		if _, more := in.Token(); !errors.Is(more, io.EOF) {
			err = errors.New("something stands behind its end")
		}
	}
	if err == nil && t.Version < 1 {
		err = fmt.Errorf("its version is %d, not 1 or more", t.Version)
	}
	if err == nil {
		err = t.check()
	}
	if err == nil {
		if t.Tries == nil {
			t.Tries = []Try{}
		}
		return t, nil
	}
	where, moving := keep(k, triesFile, data, mode)
	if moving == nil {
		thin(k, triesFile)
		if moving = k.remove(triesFile); moving == nil {
			moving = k.sync(".")
		}
	}
	if moving != nil {
		return none, fmt.Errorf("%s cannot be read: %w; nor can it be moved away: %w", triesFile, err, moving)
	}
	return none, fmt.Errorf("%s cannot be read: %w (it is now %s: mend it and put it back, or begin anew)", triesFile, err, where)
}

// WriteTries writes tries.json, with the version counted up, as Save writes a file.
//
// Error: ErrMoved when the version on the disk is another; nothing is written then
func WriteTries(dir string, t Tries) error {
	if err := t.check(); err != nil {
		return err
	}
	done, err := lockFolder(dir)
	if err != nil {
		return err
	}
	defer done.unlock()
	return writeTries(rootDisk{done.root}, t)
}

func writeTries(k disk, t Tries) error {
	stored, err := readTries(k)
	if err != nil {
		return err
	}
	if stored.Version != t.Version {
		return fmt.Errorf("%s: %w: its version is %d, not %d", triesFile, ErrMoved, stored.Version, t.Version)
	}
	t.Version++
	if t.Tries == nil {
		t.Tries = []Try{}
	}
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(t); err != nil {
		return err
	}
	if err := tooLarge(triesFile, out.Bytes()); err != nil {
		return fmt.Errorf("%s: %w", triesFile, err)
	}
	mode := fs.FileMode(0o644)
	if _, is, err := k.open(triesFile); err == nil {
		mode = is
	}
	err = put(k, fresh(triesFile), out.Bytes(), mode)
	if err == nil {
		if err = k.rename(fresh(triesFile), triesFile); err == nil {
			err = k.sync(".")
		} else {
			_ = k.remove(fresh(triesFile)) // it is made anew next time if it stays
		}
	}
	if err != nil {
		return fmt.Errorf("%s: %w", triesFile, err)
	}
	return nil
}

// check refuses what nobody could have meant to keep.
func (t Tries) check() error {
	if len(t.Tries) > mostTries {
		return fmt.Errorf("%d tries (keep %d at most)", len(t.Tries), mostTries)
	}
	seen := map[string]bool{}
	for _, one := range t.Tries {
		switch {
		case strings.TrimSpace(one.Name) == "" || strings.TrimSpace(one.Name) != one.Name:
			return fmt.Errorf("a try called %q (give it a name)", one.Name)
		case utf8.RuneCountInString(one.Name) > longestTrying || !utf8.ValidString(one.Name) || strings.ContainsFunc(one.Name, unicode.IsControl):
			return fmt.Errorf("a try called %q (write up to %d plain letters)", shorten(one.Name), longestTrying)
		case seen[one.Name]:
			return fmt.Errorf("two tries called %q (give each its own name)", one.Name)
		case len(one.Edits) > mostEdits:
			return fmt.Errorf("the try %q has %d edits (%d at most)", one.Name, len(one.Edits), mostEdits)
		}
		seen[one.Name] = true
	}
	return nil
}

// AddTry puts a try behind those that a folder has.
//
// Error: tries.json cannot be read, or not be written; nothing is changed then
func AddTry(dir string, t Try) error {
	all, err := ReadTries(dir)
	if err != nil {
		return err
	}
	all.Tries = append(all.Tries, t)
	return WriteTries(dir, all)
}
