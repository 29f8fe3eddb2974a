//go:build !unix || solaris || aix

package hands

import "os"

// lockFile does nothing where files cannot be locked.
func lockFile(*os.File) bool { return true }
