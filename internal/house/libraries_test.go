package house

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestLibrariesAreExplained: docs/dependencies.md says why each library that we
// import is there.
func TestLibrariesAreExplained(t *testing.T) {
	b, err := os.ReadFile(filepath.Join(root, "docs", "dependencies.md"))
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]bool{}
	for _, word := range strings.FieldsFunc(string(b), func(r rune) bool { return strings.ContainsRune(" |,\n`()", r) }) {
		said[word] = true
	}
	for _, f := range files(t) {
		for _, path := range f.imports() {
			host, _, _ := strings.Cut(path, "/")
			if !strings.Contains(host, ".") {
				continue
			}
			known := false
			for p := path; p != "." && !known; p = parent(p) {
				known = said[p]
			}
			if !known {
				t.Errorf("%s imports %s, and docs/dependencies.md does not say why", f.name, path)
			}
		}
	}
}

// parent is the path above, or "." at the top.
func parent(p string) string {
	i := strings.LastIndexByte(p, '/')
	if i < 0 {
		return "."
	}
	return p[:i]
}
