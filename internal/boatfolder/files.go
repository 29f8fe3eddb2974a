package boatfolder

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// largestFile bounds what is read of one file, in bytes.
const largestFile = 8 << 20

// largestLattice bounds a netCDF file: winds of half an ocean by month at a quarter of a degree. A table of such is a csv like any other.
const largestLattice = 32 << 20

// lattice tells whether a file is netCDF, by its name.
func lattice(name string) bool {
	name = strings.ToLower(name)
	return strings.HasSuffix(name, ".nc") || strings.HasSuffix(name, ".cdf")
}

// largestOf is the most that is read of a file, in bytes.
func largestOf(name string) int64 {
	if lattice(name) {
		return largestLattice
	}
	return largestFile
}

// largestFolder bounds what is read of all files together.
const largestFolder = 64 << 20

// files is where a folder's files come from. An error of read is fit to stand
// behind the file's name in a fault.
type files interface {
	read(name string) ([]byte, error)
	names() []string
}

// refusal is why a file is not read, and the mend.
type refusal struct{ say, mend string }

func (r refusal) Error() string { return r.say }

// absent is a file that is not there.
type absent struct{ refusal }

// rooted reads a folder on disk and never leaves it, whatever links it holds.
type rooted struct{ root *os.Root }

func (d rooted) names() []string {
	dir, err := d.root.Open(".")
	if err != nil {
		return nil
	}
	defer dir.Close()
	names, err := dir.Readdirnames(1000)
	if err != nil {
		return nil
	}
	return names
}

// read reads one regular file.
//
// Error: absent, or a refusal that says why
func (d rooted) read(name string) ([]byte, error) {
	if err := inside(name); err != nil {
		return nil, err
	}
	// A FIFO opened in the ordinary way waits for a writer for ever.
	f, err := d.root.OpenFile(filepath.FromSlash(name), os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, d.why(name, err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, d.why(name, err)
	}
	if !info.Mode().IsRegular() {
		return nil, refusal{"is " + standIn(info.Mode()) + ", not a file", "put a plain file in its place"}
	}
	data, err := io.ReadAll(io.LimitReader(f, largestOf(name)+1))
	if err != nil {
		return nil, d.why(name, err)
	}
	return data, tooLarge(name, data)
}

func tooLarge(name string, data []byte) error {
	most := largestOf(name)
	switch {
	case int64(len(data)) <= most:
		return nil
	case lattice(name):
		return refusal{fmt.Sprintf("is larger than %d MB", most>>20), "cut it to the sea that she crosses, or take every second or fourth place"}
	}
	return refusal{fmt.Sprintf("is larger than %d MB", most>>20), "a boat's tables are some kilobytes: is it the right file?"}
}

// inside refuses names that would lead out of the folder.
func inside(name string) error {
	if strings.ContainsAny(name, "\x00\\") || !filepath.IsLocal(filepath.FromSlash(name)) || filepath.IsAbs(name) {
		return refusal{"does not lie inside the folder", "copy it into the folder and name it without .. or a leading /"}
	}
	return nil
}

func (d rooted) why(name string, err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if info, err := d.root.Lstat(filepath.FromSlash(name)); err == nil && info.Mode()&fs.ModeSymlink != 0 {
			return refusal{"is a link to nothing", "copy the file itself into the folder"}
		}
		return absent{refusal{"is not in the folder", ""}}
	case errors.Is(err, fs.ErrPermission):
		return refusal{"may not be read", "change its permissions"}
	case strings.Contains(err.Error(), "escapes"):
		return refusal{"is a link that leads out of the folder", "copy the file itself into the folder"}
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return refusal{fmt.Sprintf("cannot be read: %v", err), "put a plain file in its place"}
}

// standIn names what stands in place of a file.
func standIn(m fs.FileMode) string {
	switch {
	case m.IsDir():
		return "a folder"
	case m&fs.ModeNamedPipe != 0:
		return "a pipe"
	case m&fs.ModeSocket != 0:
		return "a socket"
	}
	return "a device"
}
