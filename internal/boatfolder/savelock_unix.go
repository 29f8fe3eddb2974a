//go:build unix && !solaris && !aix

package boatfolder

import (
	"errors"
	"os"
	"syscall"
)

// lockFile locks an open folder against other programs of ours; it goes with the file's closing. A file system that
// knows no locks has none.
func lockFile(f *os.File) bool {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	return !errors.Is(err, syscall.EWOULDBLOCK) && !errors.Is(err, syscall.EINTR)
}
