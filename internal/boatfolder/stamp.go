package boatfolder

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
)

// Stamp gives a short mark of a folder's content: it changes when a file that
// the reader reads changes, and stands on prints so that two can be told apart.
// A folder with faults has a stamp too.
//
// Out: 16 hexadecimal figures of a SHA-256 over names, sizes and contents
// Error: when the folder cannot be opened
func Stamp(dir string) (string, error) {
	root, faults := openFolder(dir)
	if faults != nil {
		return "", faults
	}
	defer root.Close()
	r := newReader(rooted{root})
	r.folder(dir)
	return r.stamp(), nil
}

// stamp is of all files read but some.
func (r *reader) stamp(but ...string) string {
	sum := sha256.New()
	for _, name := range slices.Sorted(keysOf(r.opened)) {
		if slices.Contains(but, name) {
			continue
		}
		fmt.Fprintf(sum, "%q %d\n", name, len(r.opened[name]))
		sum.Write(r.opened[name])
	}
	return hex.EncodeToString(sum.Sum(nil))[:16]
}
