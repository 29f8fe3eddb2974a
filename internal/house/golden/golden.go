// Package golden compares what a test made with a file kept beside it.
//
// Run a test with -update to write the files again, then read the difference as
// you would read code. In CI -update is refused: a golden that writes itself
// checks nothing.
package golden

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files again (refused when CI is set)")

// Check compares got with testdata/name.
func Check(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if ci := os.Getenv("CI"); ci != "" && ci != "false" {
			t.Fatal("-update is refused in CI")
		}
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v (run the test with -update to write it)", err)
	}
	if bytes.Equal(got, want) {
		return
	}
	g, w := bytes.Split(got, []byte("\n")), bytes.Split(want, []byte("\n"))
	for i := 0; i < len(g) || i < len(w); i++ {
		a, b := line(g, i), line(w, i)
		if a != b {
			t.Errorf("%s:%d differs (run with -update if that is meant)\n got: %s\nwant: %s", file, i+1, a, b)
			return
		}
	}
}

// line is a line of a text, or a word for its end.
func line(lines [][]byte, i int) string {
	if i >= len(lines) {
		return "(no such line)"
	}
	if len(lines[i]) > 300 {
		return string(lines[i][:300]) + "…"
	}
	return string(lines[i])
}
