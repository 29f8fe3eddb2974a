package boatfolder

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"path"
	"slices"
	"strings"
	"testing"
)

// memDisk is a disk in memory that knows what is safe from a power cut: a file's content once it is synced, a name
// once its folder is.
type memDisk struct {
	now, safe           map[string]*memFile
	folders, safeFolder map[string]bool
}

type memFile struct {
	data, safe []byte
	mode       fs.FileMode
}

func newMemDisk(files map[string]string) *memDisk {
	d := &memDisk{map[string]*memFile{}, map[string]*memFile{}, map[string]bool{".": true}, map[string]bool{".": true}}
	for name, text := range files {
		d.folders[path.Dir(name)], d.safeFolder[path.Dir(name)] = true, true
		d.now[name] = &memFile{[]byte(text), []byte(text), 0o640}
		d.safe[name] = d.now[name]
	}
	return d
}

func (d *memDisk) open(name string) ([]byte, fs.FileMode, error) {
	f := d.now[name]
	if f == nil {
		return nil, 0, fs.ErrNotExist
	}
	return slices.Clone(f.data), f.mode, nil
}

func (d *memDisk) create(name string, mode fs.FileMode) (diskFile, error) {
	if d.now[name] != nil || !d.folders[path.Dir(name)] {
		return nil, fs.ErrExist
	}
	f := &memFile{mode: mode}
	d.now[name] = f
	return f, nil
}

func (f *memFile) Write(data []byte) (int, error) {
	f.data = append(f.data, data...)
	return len(data), nil
}

func (f *memFile) Sync() error {
	f.safe = slices.Clone(f.data)
	return nil
}

func (f *memFile) Close() error { return nil }

func (d *memDisk) rename(from, to string) error {
	f := d.now[from]
	if f == nil {
		return fs.ErrNotExist
	}
	delete(d.now, from)
	d.now[to] = f
	return nil
}

func (d *memDisk) remove(name string) error {
	if d.now[name] == nil {
		return fs.ErrNotExist
	}
	delete(d.now, name)
	return nil
}

func (d *memDisk) list(dir string) ([]string, error) {
	var out []string
	for name := range d.now {
		if path.Dir(name) == dir {
			out = append(out, path.Base(name))
		}
	}
	return out, nil
}

func (d *memDisk) mkdir(dir string) error {
	for ; dir != "."; dir = path.Dir(dir) {
		d.folders[dir] = true
	}
	return nil
}

func (d *memDisk) sync(dir string) error {
	if !d.folders[dir] {
		return fs.ErrNotExist
	}
	for name := range d.folders {
		if path.Dir(name) == dir {
			d.safeFolder[name] = true
		}
	}
	for name := range d.safe {
		if path.Dir(name) == dir && d.now[name] == nil {
			delete(d.safe, name)
		}
	}
	for name, f := range d.now {
		if path.Dir(name) == dir {
			d.safe[name] = f
		}
	}
	return nil
}

// crashed is what may be found after the power has gone: what was not synced is there, or not, or in part.
func (d *memDisk) crashed(r *rand.Rand) *memDisk {
	out := newMemDisk(nil)
	for name := range d.folders {
		if d.safeFolder[name] || r.IntN(2) == 0 {
			out.folders[name], out.safeFolder[name] = true, true
		}
	}
	names := maps.Clone(d.now)
	maps.Copy(names, d.safe)
	for _, name := range slices.Sorted(keysOf(names)) {
		f := d.safe[name]
		if d.now[name] != f && r.IntN(2) == 0 {
			f = d.now[name]
		}
		if f == nil || !out.folders[path.Dir(name)] {
			continue
		}
		data := f.safe
		if !bytes.Equal(data, f.data) && r.IntN(2) == 0 {
			data = f.data[:r.IntN(len(f.data)+1)]
		}
		out.now[name] = &memFile{data, data, f.mode}
		out.safe[name] = out.now[name]
	}
	return out
}

func (d *memDisk) contents() map[string]string {
	out := map[string]string{}
	for name, f := range d.now {
		out[name] = string(f.data)
	}
	return out
}

func savedInMemory(t testing.TB) *Draft {
	t.Helper()
	d, faults := openWith("nowhere", memory(savedFolder)).With(
		Edit{File: "boat.yaml", Key: "boat", Text: "Wren"}, Edit{File: "tables/o.csv", Key: "rows[0].station", Text: "a"}, Edit{File: "voyage.yaml", Key: "days", Text: "9"},
	)
	if faults != nil {
		t.Fatal(faults)
	}
	return d
}

// intact checks that every file holds the old text or the new one, and that of one with the new text the old is kept.
func intact(t testing.TB, when string, got map[string]string) (written int) {
	t.Helper()
	for name, now := range savedTexts {
		old, was := savedFolder[name]
		is, there := got[name]
		switch {
		case there && is == now:
			written++
			if was && got["earlier/"+name+".0001"] != old {
				t.Errorf("%s: %s is new, and its old text %q", when, name, got["earlier/"+name+".0001"])
			}
		case there != was || is != old:
			t.Errorf("%s: %s is %q", when, name, is)
		}
	}
	for name, text := range got {
		if old, ok := strings.CutPrefix(name, "earlier/"); ok && !strings.HasSuffix(name, ".new") && text != savedFolder[strings.TrimSuffix(old, path.Ext(old))] {
			t.Errorf("%s: %s is %q", when, name, text)
		}
	}
	return written
}

// Whatever operation fails, each file is whole, the error tells which were written, and saving again takes it up.
func TestSaveWithAFailingDisk(t *testing.T) {
	for _, forever := range []bool{false, true} {
		reached, half := 0, 0
		for n := 0; ; n++ {
			d, k := savedInMemory(t), newMemDisk(savedFolder)
			f := &failing{disk: k, at: n, forever: forever}
			err := d.saveTo(f)
			if f.count <= n {
				break
			}
			reached++
			when := fmt.Sprintf("operation %d fails, forever %v", n, forever)
			written := intact(t, when, k.contents())
			switch {
			case err == nil && written != len(savedTexts):
				t.Errorf("%s: no error, and %d files written", when, written)
			case err != nil && !errors.Is(err, errDisk):
				t.Errorf("%s: %v", when, err)
			case written > 0 && written < len(savedTexts):
				half++
				for name := range savedTexts {
					if !strings.Contains(err.Error(), name) {
						t.Errorf("%s: the error does not tell of %s: %v", when, name, err)
					}
				}
			case strings.HasPrefix(fmt.Sprint(err), "nothing was written") && written > 0:
				t.Errorf("%s: %d written: %v", when, written, err)
			}
			if err := d.saveTo(k); err != nil {
				t.Errorf("%s: saved again: %v", when, err)
			}
			if intact(t, when+", saved again", k.contents()) != len(savedTexts) {
				t.Errorf("%s: saved again, and not all is there", when)
			}
			for name := range k.now {
				if strings.HasSuffix(name, ".new") {
					t.Errorf("%s: %s was left", when, name)
				}
			}
		}
		if reached < 40 || half == 0 {
			t.Errorf("%d operations, %d savings broken off half-way", reached, half)
		}
	}
}

// Whenever the power goes, each file is whole afterwards, its old text kept, and saving again takes it up.
func TestSaveAndThePowerGoes(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := 0; ; n++ {
		count := 0
		for range 40 { // what is found differs
			d, k := savedInMemory(t), newMemDisk(savedFolder)
			f := &failing{disk: k, at: n, forever: true}
			err := d.saveTo(f)
			count = f.count
			after := k.crashed(r)
			when := fmt.Sprintf("the power goes at operation %d", n)
			written := intact(t, when, after.contents())
			if err == nil && written != len(savedTexts) {
				t.Errorf("%s: saved without an error, and %d files written", when, written)
			}
			if err := d.saveTo(after); err != nil {
				t.Errorf("%s: saved again: %v", when, err)
			}
			if again := after.crashed(r); intact(t, when+", saved again", again.contents()) != len(savedTexts) {
				t.Errorf("%s: saved again, and not all is safe", when)
			}
			if t.Failed() {
				return
			}
		}
		if count <= n {
			if n < 40 {
				t.Errorf("%d operations only", n)
			}
			return
		}
	}
}

// The tries are either the old or the new ones, too.
func TestTriesAndThePowerGoes(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	first := newMemDisk(nil)
	if err := writeTries(first, Tries{Tries: []Try{{Name: "a"}}}); err != nil {
		t.Fatal(err)
	}
	for n := 0; n < 12; n++ {
		for range 20 {
			k := newMemDisk(first.contents())
			err := writeTries(&failing{disk: k, at: n, forever: true}, Tries{Version: 1, Tries: []Try{{Name: "b"}}})
			got, broken := readTries(k.crashed(r))
			if broken != nil || len(got.Tries) != 1 || got.Version != map[string]int{"a": 1, "b": 2}[got.Tries[0].Name] || err == nil && got.Version != 2 {
				t.Fatalf("operation %d: %+v, %v, %v", n, got, err, broken)
			}
		}
	}
}
