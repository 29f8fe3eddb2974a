//go:build unix && !solaris && !aix

package hands

import (
	"errors"
	"os"
	"syscall"
)

// lockFile holds an open file against other processes until it is closed. A file system that knows no locks has none.
func lockFile(f *os.File) bool {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	return !errors.Is(err, syscall.EWOULDBLOCK) && !errors.Is(err, syscall.EINTR)
}
