package terminal

import (
	"io"
	"os"
	"path/filepath"
	"runtime"
)

// disk is what writing needs of a machine's files. It is there so that a test
// can make any step of the writing fail.
type disk interface {
	MkdirAll(dir string) error
	Read(name string) ([]byte, error)
	Create(dir string) (newFile, error)
	Rename(from, to string) error
	Remove(name string) error
	SyncDir(dir string) error
}

// newFile is a file being written under a name of its own.
type newFile interface {
	io.WriteCloser
	Name() string
	Chmod(os.FileMode) error
	Sync() error
}

// files is where the tools write.
func (t Tools) files() disk {
	if t.disk != nil {
		return t.disk
	}
	return machine{}
}

// machine is the disk of the machine itself.
type machine struct{}

func (machine) MkdirAll(dir string) error          { return os.MkdirAll(dir, 0o755) }
func (machine) Read(name string) ([]byte, error)   { return os.ReadFile(name) }
func (machine) Rename(from, to string) error       { return os.Rename(from, to) }
func (machine) Remove(name string) error           { return os.Remove(name) }
func (machine) Create(dir string) (newFile, error) { return os.CreateTemp(dir, ".thole-*") }

// SyncDir makes new names in a folder last through a loss of power, where the
// system lets a folder be synced.
func (machine) SyncDir(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}

// writeFile writes a file whole or not at all.
func writeFile(d disk, name string, fill func(io.Writer) error) (err error) {
	f, err := d.Create(filepath.Dir(name))
	if err != nil {
		return err
	}
	closed := false
	defer func() {
		if err != nil {
			if !closed {
				f.Close()
			}
			d.Remove(f.Name())
		}
	}()
	if err = fill(f); err != nil {
		return err
	}
	if err = f.Chmod(0o644); err != nil {
		return err
	}
	if err = f.Sync(); err != nil {
		return err
	}
	closed = true
	if err = f.Close(); err != nil {
		return err
	}
	return d.Rename(f.Name(), name)
}
