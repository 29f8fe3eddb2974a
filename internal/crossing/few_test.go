package crossing

import (
	"crypto/sha256"
	"errors"
	"testing"
)

// TestFew: what was asked for last is kept, what was asked for longest ago goes, and what fails is tried again.
func TestFew(t *testing.T) {
	f := few[int]{most: 2}
	made := 0
	ask := func(name string) {
		t.Helper()
		if _, err := f.get(sha256.Sum256([]byte(name)), func() (int, error) { made++; return made, nil }); err != nil {
			t.Fatal(err)
		}
	}
	for i, c := range []struct {
		name string
		made int // so far
	}{{"a", 1}, {"b", 2}, {"a", 2}, {"c", 3}, {"a", 3}, {"b", 4}} {
		if ask(c.name); made != c.made {
			t.Errorf("ask %d, of %s: %d made, want %d", i, c.name, made, c.made)
		}
	}
	no := errors.New("no")
	for range 2 {
		if _, err := f.get(sha256.Sum256([]byte("d")), func() (int, error) { made++; return 0, no }); err != no {
			t.Error(err)
		}
	}
	if made != 6 || len(f.by) != 2 {
		t.Errorf("%d made, %d kept", made, len(f.by))
	}
}
