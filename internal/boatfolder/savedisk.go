package boatfolder

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"time"
)

// disk is what saving needs of a folder on a disk; names are with slashes and lie in the folder.
type disk interface {
	// open reads a plain file; fs.ErrNotExist when there is none.
	open(name string) ([]byte, fs.FileMode, error)
	// create makes a file that is not there.
	create(name string, mode fs.FileMode) (diskFile, error)
	rename(from, to string) error
	remove(name string) error
	list(dir string) ([]string, error)
	// mkdir makes a folder and those above it, where they are not there.
	mkdir(dir string) error
	// sync makes sure that the names in a folder are on the disk.
	sync(dir string) error
}

type diskFile interface {
	io.Writer
	Sync() error
	Close() error
}

// rootDisk is a folder on a real disk, which no link leads out of.
type rootDisk struct{ root *os.Root }

func (d rootDisk) open(name string) ([]byte, fs.FileMode, error) {
	info, err := d.root.Lstat(filepath.FromSlash(name))
	if err != nil {
		return nil, 0, err
	}
	if info.Mode()&fs.ModeSymlink != 0 {
		return nil, 0, errors.New("is a link (change the file that it leads to)")
	}
	data, err := rooted(d).read(name)
	var no absent
	if errors.As(err, &no) {
		return nil, 0, fs.ErrNotExist
	}
	var why refusal
	if errors.As(err, &why) {
		return nil, 0, fmt.Errorf("%s (%s)", why.say, why.mend)
	}
	return data, info.Mode(), err
}

func (d rootDisk) create(name string, mode fs.FileMode) (diskFile, error) {
	f, err := d.root.OpenFile(filepath.FromSlash(name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return nil, err
	}
	if runtime.GOOS != "windows" { // what the umask took away
		if err := f.Chmod(mode); err != nil {
			return nil, errors.Join(err, f.Close(), d.root.Remove(filepath.FromSlash(name)))
		}
	}
	return f, nil
}

func (d rootDisk) rename(from, to string) error {
	return d.root.Rename(filepath.FromSlash(from), filepath.FromSlash(to))
}

func (d rootDisk) remove(name string) error { return d.root.Remove(filepath.FromSlash(name)) }

func (d rootDisk) list(dir string) ([]string, error) {
	f, err := d.root.Open(filepath.FromSlash(dir))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return f.Readdirnames(-1)
}

func (d rootDisk) mkdir(dir string) error {
	if info, err := d.root.Stat(filepath.FromSlash(dir)); err == nil && !info.IsDir() {
		return fmt.Errorf("%s is not a folder (move it away: earlier versions are kept in a folder of that name)", dir)
	}
	return d.root.MkdirAll(filepath.FromSlash(dir), 0o755)
}

func (d rootDisk) sync(dir string) error {
	if runtime.GOOS == "windows" {
		return nil // folders cannot be synced there
	}
	f, err := d.root.Open(filepath.FromSlash(dir))
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// locked is a folder that nobody else of ours writes in.
type locked struct {
	root *os.Root
	file *os.File
}

var writing sync.Mutex

// patience is how long one writer waits for another.
const patience = 5 * time.Second

// lockFolder opens a folder for writing, one program at a time.
func lockFolder(dir string) (*locked, error) {
	root, faults := openFolder(dir)
	if faults != nil {
		return nil, faults
	}
	file, err := root.Open(".")
	if err != nil {
		return nil, errors.Join(err, root.Close())
	}
	writing.Lock()
	l := &locked{root, file}
	for since := time.Now(); !lockFile(file); time.Sleep(5 * time.Millisecond) {
		if time.Since(since) > patience {
			l.unlock()
			return nil, fmt.Errorf("another program is writing in %s (try again)", dir)
		}
	}
	return l, nil
}

func (l *locked) unlock() {
	l.file.Close() // and with it the lock
	l.root.Close()
	writing.Unlock()
}
