package boatfolder

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
)

// earlierDir holds what the files were before they were written.
const earlierDir = "earlier"

// mostEarlier bounds the earlier versions kept of one file.
const mostEarlier = 20

// Save writes the changed files: each to a new file, synced, then renamed over the old one, whose
// content is kept in the folder earlier/.
//
// All new files and all earlier versions are on the disk before the first file is renamed: whatever stops it, each file
// holds the old text or the new one, whole. Calling it again takes up what was left; a file that has the new text
// already is passed over.
//
// Error: ErrMoved, with the file's name, when a file is not what the draft was made from: nothing is written then.
// Any other error names what was written and what was not
func (d *Draft) Save() error {
	if len(d.changed) == 0 {
		return nil
	}
	done, err := lockFolder(d.dir)
	if err != nil {
		return err
	}
	defer done.unlock()
	return d.saveTo(rootDisk{done.root})
}

// saving is one file on its way.
type saving struct {
	name    string
	old     *leaf
	data    []byte
	mode    fs.FileMode
	there   bool   // it has the new text already
	earlier string // where its old text is kept; empty for a new file
}

// fresh is the name of the file that is to become another.
func fresh(name string) string { return path.Join(path.Dir(name), "."+path.Base(name)+".new") }

func (d *Draft) saveTo(k disk) error {
	var all []*saving
	var refused []error
	for _, name := range slices.Sorted(keysOf(d.changed)) {
		s := &saving{name: name, old: d.opened.leaf(name), data: d.changed[name].data}
		if err := s.look(k); err != nil {
			refused = append(refused, err)
		}
		all = append(all, s)
	}
	if len(refused) > 0 {
		return errors.Join(refused...)
	}
	for _, s := range all {
		err := s.prepare(k)
		if err != nil {
			for _, other := range all {
				if !other.there {
					_ = k.remove(fresh(other.name)) // it is made anew next time if it stays
				}
			}
			return fmt.Errorf("nothing was written: %s: %w", s.name, err)
		}
	}
	var written []string
	for _, s := range all {
		if err := s.replace(k); err != nil {
			return told(err, s, written, all)
		}
		written = append(written, s.name)
	}
	for _, s := range all {
		thin(k, s.name)
	}
	return nil
}

// look compares the file on the disk with what the draft was made from.
func (s *saving) look(k disk) error {
	data, mode, err := k.open(s.name)
	gone := errors.Is(err, fs.ErrNotExist)
	if err != nil && !gone {
		return fmt.Errorf("%s: %w", s.name, err)
	}
	wasGone := s.old.err != nil
	s.there, s.mode = !gone && bytes.Equal(data, s.data), mode
	switch {
	case s.there:
	case gone != wasGone, !gone && !bytes.Equal(data, s.old.data):
		return fmt.Errorf("%s: %w (read the folder again)", s.name, ErrMoved)
	case gone:
		s.mode = 0o644
	case mode&0o200 == 0:
		return fmt.Errorf("%s: %w: it is marked as not to be written (change its permissions)", s.name, fs.ErrPermission)
	}
	return nil
}

// prepare puts the new text beside the file and keeps the old one.
func (s *saving) prepare(k disk) error {
	if s.there {
		return nil
	}
	if err := put(k, fresh(s.name), s.data, s.mode); err != nil {
		return err
	}
	if s.old.err != nil {
		return nil
	}
	var err error
	s.earlier, err = keep(k, s.name, s.old.data, s.mode)
	return err
}

// replace puts the new text in the file's place.
func (s *saving) replace(k disk) error {
	if !s.there {
		if err := s.look(k); err != nil {
			return err
		}
		if err := k.rename(fresh(s.name), s.name); err != nil {
			return err
		}
		s.there = true
	}
	if err := k.sync(path.Dir(s.name)); err != nil {
		return fmt.Errorf("written, but not yet safe from a power cut: %w", err)
	}
	return nil
}

// told is the error of a saving that stopped on its way.
func told(err error, at *saving, written []string, all []*saving) error {
	var parts []string
	for _, s := range all {
		if slices.Contains(written, s.name) {
			part := s.name + " was written"
			if s.earlier != "" {
				part += " (what it was before is " + s.earlier + ")"
			}
			parts = append(parts, part)
		}
	}
	var left []string
	for _, s := range all {
		if s != at && !slices.Contains(written, s.name) {
			left = append(left, s.name)
		}
	}
	if len(left) > 0 {
		parts = append(parts, strings.Join(left, ", ")+" not")
	}
	behind := ""
	if len(parts) > 0 {
		behind = "; " + strings.Join(parts, "; ")
	}
	return fmt.Errorf("%s: %w%s", at.name, err, behind)
}

// put writes a new file and syncs it.
func put(k disk, name string, data []byte, mode fs.FileMode) error {
	// One that a broken-off saving left; the folder is locked, so nobody else is at work on it.
	if err := k.remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	f, err := k.create(name, mode.Perm())
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		_ = k.remove(name) // it is made anew next time if it stays
	}
	return err
}

// keep keeps a file's text in earlier/, unless the last version kept is the same.
//
// Out: the name under which it is kept
func keep(k disk, name string, data []byte, mode fs.FileMode) (string, error) {
	dir := path.Join(earlierDir, path.Dir(name))
	if err := k.mkdir(dir); err != nil {
		return "", err
	}
	// Each time: a saving that was broken off may have left them unsynced.
	for up := dir; up != "."; {
		up = path.Dir(up)
		if err := k.sync(up); err != nil {
			return "", err
		}
	}
	numbers, err := versions(k, name)
	if err != nil {
		return "", err
	}
	next := 1
	if n := len(numbers); n > 0 {
		last := version(name, numbers[n-1])
		if same, _, err := k.open(last); err == nil && bytes.Equal(same, data) {
			return last, k.sync(dir)
		}
		next = numbers[n-1] + 1
	}
	to := version(name, next)
	if err := put(k, fresh(to), data, mode); err != nil {
		return "", err
	}
	if err := k.rename(fresh(to), to); err != nil {
		_ = k.remove(fresh(to))
		return "", err
	}
	return to, k.sync(dir)
}

// version is the name of an earlier version: earlier/boat.yaml.0007.
func version(name string, number int) string {
	return path.Join(earlierDir, fmt.Sprintf("%s.%04d", name, number))
}

// versions gives the numbers of a file's earlier versions, ascending.
func versions(k disk, name string) ([]int, error) {
	names, err := k.list(path.Join(earlierDir, path.Dir(name)))
	if err != nil {
		return nil, err
	}
	var out []int
	for _, n := range names {
		digits, ok := strings.CutPrefix(n, path.Base(name)+".")
		if i, err := strconv.Atoi(digits); ok && err == nil && i > 0 && path.Base(version(name, i)) == n {
			out = append(out, i)
		}
	}
	slices.Sort(out)
	return out, nil
}

// thin takes the oldest versions away. One that stays does no harm.
func thin(k disk, name string) {
	numbers, err := versions(k, name)
	if err != nil {
		return
	}
	for _, i := range numbers[:max(0, len(numbers)-mostEarlier)] {
		_ = k.remove(version(name, i))
	}
}
