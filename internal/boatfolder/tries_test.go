package boatfolder

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestTries(t *testing.T) {
	dir := savable(t)
	stamp, _ := Stamp(dir)
	got, err := ReadTries(dir)
	if diff := cmp.Diff(Tries{Tries: []Try{}}, got); err != nil || diff != "" {
		t.Fatal(err, diff)
	}
	want := Tries{Tries: []Try{{Name: "fuller stern <&>", Edits: []Edit{
		{File: "boat.yaml", Key: "weights[3].mass", Of: "é", Was: "1 kg", Text: "2 kg"}, {File: "stores.csv", Key: "rows[2]", Do: Remove},
	}}, {Name: "b"}}}
	for range 3 {
		if err := WriteTries(dir, want); err != nil {
			t.Fatal(err)
		}
		if err := WriteTries(dir, want); !errors.Is(err, ErrMoved) || !strings.Contains(err.Error(), "tries.json") {
			t.Errorf("written twice: %v", err)
		}
		want.Version++
		got, err := ReadTries(dir)
		if diff := cmp.Diff(want, got); err != nil || diff != "" {
			t.Fatal(err, diff)
		}
	}
	text := contents(t, dir)["tries.json"]
	if !strings.HasPrefix(text, "{\n  \"version\": 3,\n  \"tries\": [\n    {\n      \"name\": \"fuller stern <&>\",\n      \"edits\": [\n        {\n          \"file\": \"boat.yaml\",\n") {
		t.Errorf("written as %s", text)
	}
	after, _ := Stamp(dir)
	d, faults := Open(dir)
	if faults != nil || after != stamp || d.Stamp() != stamp || strings.Contains(fmt.Sprint(d.Files()), "tries") {
		t.Errorf("the folder's stamp %s was %s; files %v", after, stamp, d.Files())
	}
}

// What is broken is moved away and told, not written over.
func TestBrokenTries(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "tries.json cannot be read: EOF (it is now earlier/tries.json.0001: mend it and put it back, or begin anew)"},
		{"{", "unexpected EOF"},
		{`{"version": 1, "tries": []} {`, "something stands behind its end"},
		{`{"version": 0, "tries": []}`, "its version is 0, not 1 or more"},
		{`{"version": 1, "tries": [{"name": ""}]}`, `a try called "" (give it a name)`},
		{`{"version": 1, "tires": []}`, `unknown field "tires"`},
	} {
		for _, do := range []func(dir string) error{
			func(dir string) error { _, err := ReadTries(dir); return err },
			func(dir string) error { return WriteTries(dir, Tries{}) },
		} {
			dir := t.TempDir()
			if err := os.WriteFile(filepath.Join(dir, "tries.json"), []byte(c.text), 0o600); err != nil {
				t.Fatal(err)
			}
			if err := do(dir); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%q: %v", c.text, err)
			}
			got := contents(t, dir)
			if kept, ok := got["earlier/tries.json.0001"]; !ok || kept != c.text || len(got) != 1 {
				t.Errorf("%q: %v", c.text, got)
			}
			if err := WriteTries(dir, Tries{}); err != nil {
				t.Errorf("%q: begun anew: %v", c.text, err)
			}
		}
	}
}

func TestTooManyTries(t *testing.T) {
	many := Tries{}
	for i := range mostTries + 1 {
		many.Tries = append(many.Tries, Try{Name: fmt.Sprint(i)})
	}
	for _, c := range []struct {
		tries Tries
		want  string
	}{
		{many, "41 tries (keep 40 at most)"},
		{Tries{Tries: []Try{{Name: "a"}, {Name: "a"}}}, `two tries called "a" (give each its own name)`},
		{Tries{Tries: []Try{{Name: " a"}}}, `a try called " a" (give it a name)`},
		{Tries{Tries: []Try{{Name: strings.Repeat("é", 81)}}}, "(write up to 80 plain letters)"},
		{Tries{Tries: []Try{{Name: "a\nb"}}}, "(write up to 80 plain letters)"},
		{Tries{Tries: []Try{{Name: "a", Edits: make([]Edit, 2001)}}}, `the try "a" has 2001 edits (2000 at most)`},
	} {
		dir := t.TempDir()
		if err := WriteTries(dir, c.tries); err == nil || !strings.Contains(err.Error(), c.want) || len(contents(t, dir)) > 0 {
			t.Errorf("%v, want %s", err, c.want)
		}
	}
	if err := WriteTries(filepath.Join(t.TempDir(), "none"), Tries{}); err == nil {
		t.Error("written into a folder that is not there")
	}
}

// Of many who write at once, each version has one.
func TestTriesAtOnce(t *testing.T) {
	dir := t.TempDir()
	var wait sync.WaitGroup
	for i := range 8 {
		wait.Go(func() {
			for {
				tries, err := ReadTries(dir)
				if err != nil {
					t.Error(err)
					return
				}
				tries.Tries = append(tries.Tries, Try{Name: fmt.Sprint(i)})
				if err = WriteTries(dir, tries); err == nil {
					return
				}
				if !errors.Is(err, ErrMoved) {
					t.Error(err)
					return
				}
			}
		})
	}
	wait.Wait()
	if tries, err := ReadTries(dir); err != nil || tries.Version != 8 || len(tries.Tries) != 8 {
		t.Errorf("%+v, %v", tries, err)
	}
}

// A draft may be asked by several at once.
func TestDraftAtOnce(t *testing.T) {
	d := demo(t, "sanderling")
	var wait sync.WaitGroup
	for i := range 8 {
		wait.Go(func() {
			e, faults := d.With(Edit{File: "boat.yaml", Key: fmt.Sprintf("weights[%d].mass", i), Text: "3 kg"})
			if faults != nil {
				t.Error(faults)
				return
			}
			for range 3 {
				_, faults = e.Read()
				_, base := d.Read()
				if faults != nil || base != nil || len(e.Values("boat.yaml")) != len(d.Values("boat.yaml")) || e.Stamp() == d.Stamp() || len(e.Changes()) != 1 {
					t.Error(faults, base)
				}
			}
		})
	}
	wait.Wait()
}
