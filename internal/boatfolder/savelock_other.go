//go:build !unix || solaris || aix

package boatfolder

import "os"

// lockFile does nothing where folders cannot be locked.
func lockFile(*os.File) bool { return true }
