package terminal

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/house/gallery"
	"thole/internal/sheet"
)

// cutter is wired to a question that has parts.
func cutter() Tools { return tools(unicodeEnv, append(gallery.Table(), gallery.Cutting())) }

// holds reads a folder.
func holds(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	all, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range all {
		b, err := os.ReadFile(filepath.Join(dir, f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		out[f.Name()] = string(b)
	}
	return out
}

func names(files map[string]string) string {
	var out []string
	for n := range files {
		out = append(out, n)
	}
	sort.Strings(out)
	return strings.Join(out, " ")
}

func TestWritesParts(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "parts")
	code, out, errs := run(t, cutter(), "ask", "cutting", "x", "--to", dir)
	if code != 0 || errs != "" || !strings.Contains(out, "15 files of 3 parts") {
		t.Fatalf("%d %s %s", code, out, errs)
	}
	files := holds(t, dir)
	if got, want := names(files), "index.txt lines.dxf lines.pdf lines.svg mould-5-wall.pdf mould-5.csv mould-5.dxf mould-5.pdf mould-5.svg "+
		"plank-3-wall.pdf plank-3.csv plank-3.dxf plank-3.pdf plank-3.svg written.sha256"; got != want {
		t.Errorf("wrote %s\nwant %s", got, want)
	}
	for name, begins := range map[string]string{"mould-5.pdf": "%PDF-", "mould-5-wall.pdf": "%PDF-", "mould-5.svg": "<svg ", "mould-5.dxf": "999\r\nmillimetres", "mould-5.csv": "name,x mm"} {
		if !strings.HasPrefix(files[name], begins) {
			t.Errorf("%s begins with %.20q", name, files[name])
		}
	}
	for _, want := range []string{"Gallery, folder 3f9a1c", "mould-5: Mould 5, at 2.20 m", "face: seen from astern; its body stands ahead of the line",
		"size: 18 mm thick, cut 1, printed at 1:1, 20 sheets of a4", "cut 2", "printed at 1:50, 1 sheet of a4", "check: p1 – p9, 1200.0 mm",
		"note: Mark the centre line", "files: plank-3.pdf, plank-3.svg, plank-3.dxf, plank-3.csv, plank-3-wall.pdf", answer.CalculatedNotTested[:30]} {
		if !strings.Contains(strings.Join(strings.Fields(files["index.txt"]), " "), want) {
			t.Errorf("index.txt does not say %q:\n%s", want, files["index.txt"])
		}
	}
	for _, name := range []string{"mould-5.dxf", "mould-5.svg", "plank-3.dxf"} {
		if !strings.Contains(files[name], "folder 3f9a1c") {
			t.Errorf("%s does not bear the folder's stamp", name)
		}
	}
	rows, err := csv.NewReader(strings.NewReader(files["plank-3.csv"])).ReadAll()
	if err != nil || len(rows) != 29 {
		t.Errorf("%d rows, %v", len(rows), err)
	}
	// An independent program agrees with the list of what was written.
	if check, err := exec.LookPath("sha256sum"); err == nil {
		c := exec.Command(check, "-c", ledgerName)
		c.Dir = dir
		if said, err := c.CombinedOutput(); err != nil || strings.Count(string(said), ": OK") != 14 {
			t.Errorf("%v\n%s", err, said)
		}
	}
	// The question's own verb, on a roll, over what it wrote itself.
	code, _, errs = run(t, cutter(), "cutting", "x", "--to", dir, "--paper", "roll", "--roll-width", "36 in", "--json")
	again := holds(t, dir)
	if code != 0 || again["mould-5.pdf"] == files["mould-5.pdf"] || again["mould-5.dxf"] != files["mould-5.dxf"] || names(again) != names(files) {
		t.Errorf("%d %s: %s", code, errs, names(again))
	}
}

func TestOverwritesOnlyItsOwn(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	dir := t.TempDir()
	own := filepath.Join(dir, "mould-5.dxf")
	if err := os.WriteFile(own, []byte("a person's"), 0o644); err != nil {
		t.Fatal(err)
	}
	code, _, errs := run(t, cutter(), "cutting", "x", "--to", dir)
	if code != 2 || !strings.Contains(errs, "mould-5.dxf") || names(holds(t, dir)) != "mould-5.dxf" {
		t.Errorf("%d %s: %s", code, errs, names(holds(t, dir)))
	}
	if code, _, errs = run(t, cutter(), "cutting", "x", "--to", dir, "--over"); code != 0 {
		t.Errorf("--over: %d %s", code, errs)
	}
	// Ours, changed by a person, is a person's.
	if err := os.WriteFile(filepath.Join(dir, "index.txt"), []byte("my notes"), 0o644); err != nil {
		t.Fatal(err)
	}
	before := holds(t, dir)
	code, _, errs = run(t, cutter(), "cutting", "x", "--to", dir, "--paper", "a3")
	if after := holds(t, dir); code != 2 || !strings.Contains(errs, "index.txt") || strings.Contains(errs, "plank") || fmt.Sprint(before) != fmt.Sprint(after) {
		t.Errorf("%d %s", code, errs)
	}
	// What an earlier writing left stays, and is named.
	os.Remove(filepath.Join(dir, "index.txt"))
	fewer := cutter()
	fewer.Table = []answer.Question{having(gallery.Mould())}
	code, out, errs := run(t, fewer, "cutting", "x", "--to", dir)
	if code != 0 || !strings.Contains(strings.Join(strings.Fields(out), " "), "no part of this answer any more: lines.dxf") || !strings.Contains(holds(t, dir)["index.txt"], "plank-3.pdf") {
		t.Errorf("%d %s %s", code, out, errs)
	}
	if err := os.WriteFile(filepath.Join(dir, ledgerName), []byte("my own list\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, _, errs = run(t, fewer, "cutting", "x", "--to", dir); code != 2 || !strings.Contains(errs, ledgerName+":1:") {
		t.Errorf("%d %s", code, errs)
	}
}

// having is a question with these parts.
func having(p ...sheet.Pattern) answer.Question {
	q := gallery.Cutting()
	q.Ask = func(context.Context, *answer.Case, answer.Options) (answer.Answer, error) {
		return answer.Answer{Title: q.Title, Verdict: answer.Yes, Patterns: p}, nil
	}
	return q
}

func TestPartsRefused(t *testing.T) {
	upper := gallery.Mould()
	upper.Name = "MOULD-5"
	for _, c := range []struct {
		name  string
		table []answer.Question
		args  []string
		says  string
	}{
		{"no parts", gallery.Table(), []string{"upright"}, `the answer to "`},
		{"no parts and untold", gallery.Table(), []string{"clears"}, "holds no parts to cut; nothing is written\n"},
		{"outside the folder", []answer.Question{having(sheet.Pattern{Name: "../x"})}, []string{"cutting"}, `"../x"`},
		{"one name twice", []answer.Question{having(gallery.Mould(), upper)}, []string{"cutting"}, "two parts"},
		{"nothing in it", []answer.Question{having(sheet.Pattern{Name: "x", Thickness: 1})}, []string{"cutting"}, "no line and no point"},
		{"paper", cutter().Table, []string{"cutting", "--paper", "a2"}, `no paper "a2"`},
		{"bare width", cutter().Table, []string{"cutting", "--paper", "roll", "--roll-width", "914"}, "--roll-width"},
		{"narrow", cutter().Table, []string{"cutting", "--paper", "roll", "--roll-width", "5 cm"}, "50 mm wide"},
		{"width of a sheet", cutter().Table, []string{"cutting", "--roll-width", "610 mm"}, "goes with --paper roll"},
		{"scale", cutter().Table, []string{"cutting", "--scale", "0.1"}, "1:0.1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "parts")
			args := append([]string{c.args[0], "x", "--to", dir}, c.args[1:]...)
			code, _, errs := run(t, tools(nil, c.table), args...)
			if code != 2 || !strings.Contains(errs, c.says) {
				t.Errorf("%d %q does not say %q", code, errs, c.says)
			}
			if _, err := os.Stat(dir); err == nil {
				t.Errorf("something is written: %s", names(holds(t, dir)))
			}
		})
	}
	if code, _, errs := run(t, cutter(), "cutting", "x", "--paper", "a3"); code != 2 || !strings.Contains(errs, "--paper goes with --to") {
		t.Errorf("%d %s", code, errs)
	}
}

// failing is the machine's disk, of which the n-th operation fails.
type failing struct {
	machine
	left *int
}

var errFull = errors.New("no space left on the disk")

func (f failing) step() error {
	if *f.left--; *f.left == 0 {
		return errFull
	}
	return nil
}

func (f failing) MkdirAll(dir string) error {
	return errors.Join(f.step(), f.machine.MkdirAll(dir))
}
func (f failing) Rename(from, to string) error {
	if err := f.step(); err != nil {
		return err
	}
	return f.machine.Rename(from, to)
}
func (f failing) SyncDir(dir string) error { return f.step() }
func (f failing) Create(dir string) (newFile, error) {
	if err := f.step(); err != nil {
		return nil, err
	}
	n, err := f.machine.Create(dir)
	return failingFile{n, f}, err
}

type failingFile struct {
	newFile
	disk failing
}

// Write writes half before it fails, as a full disk does.
func (f failingFile) Write(b []byte) (int, error) {
	if err := f.disk.step(); err != nil {
		n, _ := f.newFile.Write(b[:len(b)/2])
		return n, err
	}
	return f.newFile.Write(b)
}
func (f failingFile) Chmod(m os.FileMode) error {
	return errors.Join(f.disk.step(), f.newFile.Chmod(m))
}
func (f failingFile) Sync() error  { return f.disk.step() }
func (f failingFile) Close() error { return errors.Join(f.newFile.Close(), f.disk.step()) }

// TestEveryFailureLeavesWholeFiles: whichever operation fails, every file is
// either the old one or the new one, whole; nothing half is left, the person is
// told, and the next run mends it without being forced.
func TestEveryFailureLeavesWholeFiles(t *testing.T) {
	write := func(d disk, dir, version string) error {
		all := []output{{"a.pdf", []byte("first " + version)}, {"a.dxf", []byte("second " + version)}, {"a.csv", []byte("the same")}}
		_, _, err := put(context.Background(), d, parts{dir: dir}, all,
			func([]string) ([]byte, error) { return []byte("list " + version), nil }, func(int, int) {})
		return err
	}
	old, fresh := t.TempDir(), t.TempDir()
	if err := errors.Join(write(machine{}, old, "old"), write(machine{}, fresh, "new")); err != nil {
		t.Fatal(err)
	}
	before, after := holds(t, old), holds(t, fresh)
	failed := 0
	for n := 1; ; n++ {
		dir := t.TempDir()
		for name, text := range before {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		left := n
		err := write(failing{left: &left}, dir, "new")
		for name, text := range holds(t, dir) {
			if name != ledgerName && text != before[name] && text != after[name] || strings.HasPrefix(name, ".") {
				t.Errorf("operation %d: %s is neither the old nor the new file", n, name)
			}
		}
		if err == nil {
			if left > 0 {
				break // there is no n-th operation
			}
			t.Errorf("operation %d failed and nobody was told", n)
		}
		failed++
		if !errors.Is(err, errFull) || !strings.Contains(err.Error(), "each of them whole") {
			t.Errorf("operation %d: %v", n, err)
		}
		if err := write(machine{}, dir, "new"); err != nil || fmt.Sprint(holds(t, dir)) != fmt.Sprint(after) {
			t.Errorf("operation %d: the next run does not mend it: %v", n, err)
		}
	}
	// Four files and the list of sums twice with six operations each, and the folder's three.
	if failed != 39 {
		t.Errorf("%d operations were made to fail", failed)
	}
}

// TestFullDisk goes the whole way from the command line.
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	plain := gallery.Mould()
	plain.Points = nil // fewer files, sooner done
	tl := tools(nil, []answer.Question{having(plain)})
	left := 12 // in the midst of the first file
	tl.disk = failing{left: &left}
	code, out, errs := run(t, tl, "cutting", "x", "--to", dir)
	if code != 2 || strings.Contains(out, "Written to") || !strings.Contains(errs, errFull.Error()+"\n0 of 4 files are written") || names(holds(t, dir)) != ledgerName {
		t.Errorf("%d %s%s: %s", code, out, errs, names(holds(t, dir)))
	}
}

func TestPartsStop(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	q := having(gallery.Mould())
	ask := q.Ask
	q.Ask = func(c context.Context, a *answer.Case, o answer.Options) (answer.Answer, error) {
		defer cancel()
		return ask(c, a, o)
	}
	dir := filepath.Join(t.TempDir(), "parts")
	var o, e bytes.Buffer
	if code := Run(ctx, tools(nil, []answer.Question{q}), []string{"cutting", "x", "--to", dir}, &o, &e); code != Stopped {
		t.Errorf("%d %s", code, e.String())
	}
	if _, err := os.Stat(dir); err == nil {
		t.Error("something is written")
	}
}
