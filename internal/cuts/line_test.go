package cuts

import "testing"

// TestTangle: lines that run on, fold back, cross and touch.
//
// Source: drawn by hand; plane geometry
func TestTangle(t *testing.T) {
	for _, c := range []struct {
		name  string
		line  []Point
		at    int
		folds bool
	}{
		{"none", nil, -1, false},
		{"a bilge", []Point{{0, 0}, {0.5, 0.1}, {0.8, 0.5}, {0.82, 0.9}}, -1, false},
		{"a doubled corner", []Point{{0, 0}, {1, 0}, {1, 0}, {1, 1}}, -1, false},
		{"straight back", []Point{{0, 0}, {1, 0}, {0.5, 0}}, 2, true},
		{"a loop", []Point{{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, -1}}, 4, false},
		{"touching from inside", []Point{{0, 0}, {2, 0}, {2, 1}, {1, 0}}, 3, false},
		{"a loop behind a doubled corner", []Point{{0, 0}, {2, 0}, {2, 0}, {2, 1}, {1, 1}, {1, -1}}, 5, false},
	} {
		if at, folds := Tangle(c.line); at != c.at || folds != c.folds {
			t.Errorf("%s: %d, %v; want %d, %v", c.name, at, folds, c.at, c.folds)
		}
	}
}
