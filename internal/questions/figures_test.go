package questions

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestFiguresExplainThemselves: every figure of every question says how it was worked out, where that is printed
// and from what; the files are there and hold the keys.
func TestFiguresExplainThemselves(t *testing.T) {
	if testing.Short() {
		t.Skip("every question in full of two whole boats; left out with -short")
	}
	for _, name := range demos {
		all := inFull(t, name)
		seen := 0
		for i, q := range Table {
			a := all[i]
			for _, b := range a.Sheet.Blocks {
				if b.Figures == nil {
					continue
				}
				for _, f := range b.Figures.Rows {
					seen++
					if f.Method == "" || f.Source == "" || len(f.Inputs) == 0 {
						t.Errorf("%s, %s: %q does not explain itself: %+v", name, q.ID, f.Name, f)
					}
					for _, in := range f.Inputs {
						file, key, keyed := strings.Cut(in, ": ")
						text, err := os.ReadFile(filepath.Join("../../demo", name, file))
						if err != nil {
							t.Errorf("%s, %s: %q names a file that is not there: %v", name, q.ID, f.Name, err)
						}
						if keyed && !strings.Contains("\n"+string(text), "\n"+key+":") {
							t.Errorf("%s, %s: %q names %s, and there is no such key", name, q.ID, f.Name, in)
						}
					}
				}
			}
		}
		if seen < 40 {
			t.Errorf("%s: only %d figures were looked at", name, seen)
		}
	}
}
