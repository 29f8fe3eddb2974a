package boatfolder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// saved makes two edits of a folder on the disk.
func saved(t testing.TB, dir string) *Draft {
	t.Helper()
	d, faults := Open(dir)
	if faults != nil {
		t.Fatal(faults)
	}
	d, faults = d.With(Edit{File: "boat.yaml", Key: "boat", Text: "Wren"}, Edit{File: "tables/o.csv", Key: "rows[0].station", Text: "a"}, Edit{File: "voyage.yaml", Key: "days", Text: "9"})
	if faults != nil {
		t.Fatal(faults)
	}
	return d
}

var (
	savedFolder = map[string]string{"boat.yaml": strings.Replace(smallest, "offsets.csv", "tables/o.csv", 1), "tables/o.csv": box}
	savedTexts  = map[string]string{
		"boat.yaml":    strings.Replace(savedFolder["boat.yaml"], "Test hull", "Wren", 1),
		"tables/o.csv": strings.Replace(box, "\n0,", "\na,", 1),
		"voyage.yaml":  "days: 9\n",
	}
)

func savable(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "tables"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range savedFolder {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o640); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func contents(t testing.TB, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || e.Type()&fs.ModeSymlink != 0 {
			return err
		}
		data, err := os.ReadFile(name)
		rel, _ := filepath.Rel(dir, name)
		out[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestSave(t *testing.T) {
	dir := savable(t)
	if err := os.Chmod(filepath.Join(dir, "boat.yaml"), 0o604); err != nil {
		t.Fatal(err)
	}
	d := saved(t, dir)
	for range 2 { // once written it is written
		if err := d.Save(); err != nil {
			t.Fatal(err)
		}
		got := contents(t, dir)
		want := map[string]string{"earlier/boat.yaml.0001": savedFolder["boat.yaml"], "earlier/tables/o.csv.0001": box}
		for name, text := range savedTexts {
			want[name] = text
		}
		if len(got) != len(want) {
			t.Errorf("files %v", slices.Sorted(keysOf(got)))
		}
		for name, text := range want {
			if got[name] != text {
				t.Errorf("%s is %q, want %q", name, got[name], text)
			}
		}
	}
	if info, err := os.Stat(filepath.Join(dir, "boat.yaml")); err != nil || info.Mode().Perm() != 0o604 {
		t.Errorf("permissions %v, %v", info.Mode(), err)
	}
	again, faults := Open(dir)
	if faults != nil || again.Stamp() != d.Stamp() {
		t.Errorf("the stamp of what was written is %s, of the draft %s", again.Stamp(), d.Stamp())
	}
	for i := range mostEarlier + 5 {
		d, faults := Open(dir)
		if faults != nil {
			t.Fatal(faults)
		}
		if d, faults = d.With(Edit{File: "boat.yaml", Key: "boat", Text: fmt.Sprint("Wren ", i)}); faults != nil {
			t.Fatal(faults)
		}
		if err := d.Save(); err != nil {
			t.Fatal(err)
		}
	}
	numbers, err := versions(realDisk(t, dir), "boat.yaml")
	if err != nil || len(numbers) != mostEarlier || numbers[mostEarlier-1] != mostEarlier+6 {
		t.Errorf("versions %v, %v", numbers, err)
	}
	if text := contents(t, dir)[version("boat.yaml", mostEarlier+6)]; !strings.Contains(text, fmt.Sprint("Wren ", mostEarlier+3)) {
		t.Errorf("the last version is %q", text)
	}
}

func realDisk(t testing.TB, dir string) rootDisk {
	t.Helper()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { root.Close() })
	return rootDisk{root}
}

// A file that somebody else has changed is not written over.
func TestSaveRefuses(t *testing.T) {
	outside := t.TempDir()
	for _, c := range []struct {
		name string
		do   func(dir string) error
		want string
		also error
	}{
		{"changed", func(dir string) error { return os.WriteFile(filepath.Join(dir, "tables/o.csv"), []byte("x"), 0o644) },
			"tables/o.csv: the file has been changed since (read the folder again)", ErrMoved},
		{"gone", func(dir string) error { return os.Remove(filepath.Join(dir, "boat.yaml")) },
			"boat.yaml: the file has been changed since (read the folder again)", ErrMoved},
		{"come", func(dir string) error {
			return os.WriteFile(filepath.Join(dir, "voyage.yaml"), []byte("days: 8"), 0o644)
		},
			"voyage.yaml: the file has been changed since (read the folder again)", ErrMoved},
		{"not to be written", func(dir string) error { return os.Chmod(filepath.Join(dir, "boat.yaml"), 0o444) },
			"boat.yaml: permission denied: it is marked as not to be written (change its permissions)", fs.ErrPermission},
		{"a link", func(dir string) error {
			return errors.Join(os.Rename(filepath.Join(dir, "boat.yaml"), filepath.Join(dir, "b")), os.Symlink("b", filepath.Join(dir, "boat.yaml")))
		}, "boat.yaml: is a link (change the file that it leads to)", nil},
		{"a folder that leads out", func(dir string) error {
			return errors.Join(os.RemoveAll(filepath.Join(dir, "tables")), os.Symlink(outside, filepath.Join(dir, "tables")))
		}, "tables/o.csv: ", nil},
		{"earlier leads out", func(dir string) error { return os.Symlink(outside, filepath.Join(dir, "earlier")) },
			"nothing was written: boat.yaml: ", nil},
		{"earlier is a file", func(dir string) error { return os.WriteFile(filepath.Join(dir, "earlier"), nil, 0o644) },
			"nothing was written: boat.yaml: earlier is not a folder (move it away: earlier versions are kept in a folder of that name)", nil},
	} {
		dir := savable(t)
		d := saved(t, dir)
		if err := c.do(dir); err != nil {
			t.Fatal(err)
		}
		before := contents(t, dir)
		err := d.Save()
		if err == nil || !strings.HasPrefix(err.Error(), c.want) || c.also != nil && !errors.Is(err, c.also) {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
		if len(contents(t, outside)) > 0 {
			t.Errorf("%s: written outside the folder", c.name)
		}
		if after := contents(t, dir); fmt.Sprint(after) != fmt.Sprint(before) {
			t.Errorf("%s: changed from\n%v\nto\n%v", c.name, before, after)
		}
	}
}

// failing makes the n-th operation fail: that one only, or all from it on, as when the disk is full or the power goes.
type failing struct {
	disk
	at, count int
	forever   bool
}

var errDisk = errors.New("the disk fails")

func (f *failing) fails() error {
	f.count++
	if f.count-1 == f.at || f.forever && f.count-1 > f.at {
		return errDisk
	}
	return nil
}

func (f *failing) open(name string) ([]byte, fs.FileMode, error) {
	if err := f.fails(); err != nil {
		return nil, 0, err
	}
	return f.disk.open(name)
}

func (f *failing) create(name string, mode fs.FileMode) (diskFile, error) {
	if err := f.fails(); err != nil {
		return nil, err
	}
	file, err := f.disk.create(name, mode)
	return &failingFile{file, f}, err
}

func (f *failing) rename(from, to string) error {
	if err := f.fails(); err != nil {
		return err
	}
	return f.disk.rename(from, to)
}

func (f *failing) remove(name string) error {
	if err := f.fails(); err != nil {
		return err
	}
	return f.disk.remove(name)
}

func (f *failing) list(dir string) ([]string, error) {
	if err := f.fails(); err != nil {
		return nil, err
	}
	return f.disk.list(dir)
}

func (f *failing) mkdir(dir string) error {
	if err := f.fails(); err != nil {
		return err
	}
	return f.disk.mkdir(dir)
}

func (f *failing) sync(dir string) error {
	if err := f.fails(); err != nil {
		return err
	}
	return f.disk.sync(dir)
}

type failingFile struct {
	diskFile
	of *failing
}

// Write that fails has written half.
func (f *failingFile) Write(data []byte) (int, error) {
	if err := f.of.fails(); err != nil {
		n, _ := f.diskFile.Write(data[:len(data)/2])
		return n, err
	}
	return f.diskFile.Write(data)
}

func (f *failingFile) Sync() error {
	if err := f.of.fails(); err != nil {
		return err
	}
	return f.diskFile.Sync()
}

func (f *failingFile) Close() error {
	return errors.Join(f.of.fails(), f.diskFile.Close())
}
