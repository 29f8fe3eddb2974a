//go:build unix

package boatfolder

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// soon is the time within which any folder must be read or refused.
const soon = 60 * time.Second

func readSoon(t *testing.T, dir string) Faults {
	t.Helper()
	done := make(chan Faults, 1)
	go func() {
		_, faults := Read(dir)
		if _, err := Stamp(dir); err != nil {
			t.Error(err)
		}
		done <- faults
	}()
	select {
	case faults := <-done:
		return faults
	case <-time.After(soon):
		t.Fatal("not read in time")
		return nil
	}
}

func lines(n int, line func(i int) string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(line(i))
	}
	return b.String()
}

func TestHostileFolders(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	header := "station,distance_mm,height_mm,halfbreadth_mm\n"
	for _, c := range []struct {
		name  string
		files map[string]string
		want  string
	}{
		{"a million rows", offsets(header + strings.Repeat("0,0,0,0\n", 1000000)), "offsets.csv:20001:1: more than 20000 rows"},
		{"a hundred thousand rows", offsets(header + strings.Repeat("0,0,0,0\n", 100000)), "offsets.csv:20001:1: more than 20000 rows"},
		{"one long line", offsets(strings.Repeat("0,", 1000000)), "a line longer than 65536 letters"},
		{"nine megabytes", offsets(strings.Repeat("x", 9<<20)), "is larger than 8 MB"},
		{"a station of 15000 points", offsets(header + lines(15000, func(i int) string { return fmt.Sprintf("0,0,%d,%d\n", i/9, i%7) }) + "1,6000,0,0\n1,6000,500,500\n"), "station 0 has more than 300 points"},
		{"stations without end", offsets(header + lines(15000, func(i int) string { return fmt.Sprintf("s%d,%d,0,9\n", i, i) })), "more than 500 stations"},
		{"faults without end", offsets(header + strings.Repeat("0,x,y,z\n", 15000)), "more faults in this file"},
		{"columns without end", offsets(strings.Repeat("halfbreathe_mm,", 4000) + "\n1\n"), "more faults in this file"},
		{"deep brackets", more("about: " + strings.Repeat("[", 200000)), "nested too deep"},
		{"deep braces", more("about: " + strings.Repeat("{a: ", 100000)), "nested too deep"},
		{"deep hyphens", more("about:\n  " + strings.Repeat("- ", 100000) + "x"), "nested too deep"},
		{"deep questions", map[string]string{"boat.yaml": strings.Repeat("? ", 100000) + "x"}, "nested too deep"},
		{"deep indents", map[string]string{"boat.yaml": lines(900, func(i int) string { return strings.Repeat(" ", i) + "a:\n" })}, "indented too far"},
		{"alias bomb", more("a: &a [x, x]\n" + lines(25, func(i int) string { return fmt.Sprintf("%c: &%c [*%c, *%c]\n", 'b'+i%24, 'b'+i%24, 'a'+i%24, 'a'+i%24) })), "references to other values are not read"},
		{"keys without end", map[string]string{"boat.yaml": lines(60000, func(i int) string { return fmt.Sprintf("boaat%d: 1\n", i) })}, "more than 12000 values"},
		{"many keys", map[string]string{"boat.yaml": lines(10000, func(i int) string { return fmt.Sprintf("boaat%d: 1\n", i) })}, "more faults in this file"},
		{"weights without end", map[string]string{"boat.yaml": smallest + "marks:\n" + strings.Repeat(" - {nam: a}\n", 11000)}, "more than 1000 items"},
		{"boat.yaml of two megabytes", more("about: " + strings.Repeat("x", 2<<20)), "larger than 1 MB"},
		{"one word of a megabyte", more("about: " + strings.Repeat("x", 1000000)), "longer than 4000 letters"},
		{"bytes that are not text", map[string]string{"boat.yaml": "boat: a\n\xfe\xff\n"}, "boat.yaml:2:1: bytes that are not text"},
		{"zero bytes", offsets("station\x00"), "offsets.csv:1:8: bytes that are not text"},
		{"rowing places without end", more("rowing:\n" + strings.Repeat("  - {name: a, seat: [3 m, 0, 0.6 m]}\n", 900)), "rowing has more than 12 items"},
		{"places of a gate without end", more("rowing:\n  - {name: a, seat: [3 m, 0, 0.6 m], gates: {at: [3.4 m, 0.8 m, 0.9 m], places: [" + strings.Repeat("1 mm, ", 5000) + "]}}\n"), "places has more than 20 items"},
		{"windage without end", more("windage:\n" + strings.Repeat("  - {name: a}\n", 1000)), "windage has more than 200 items"},
		{"unknown places without end", map[string]string{
			"boat.yaml":  smallest + "compartments:\n" + lines(1000, func(i int) string { return fmt.Sprintf("  - {name: some locker number %d, from: 1 m, to: 2 m}\n", i) }),
			"stores.csv": "what,mass,where\n" + lines(19000, func(i int) string { return fmt.Sprintf("a,1 kg,sum lockers numbered %d\n", i) }),
		}, "more faults in this file"},
		{"twenty cabins of a crooked table", map[string]string{
			"boat.yaml": smallest + "cabins:\n" + lines(20, func(i int) string { return fmt.Sprintf("  - {name: c%d, offsets: c.csv}\n", i) }),
			"c.csv": header + lines(19000, func(i int) string {
				return fmt.Sprintf("%d,%d,%d,%g\n", i/300, i/300*100, i%300, 100+float64(i%300*i%300)/1e6)
			}),
		}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			faults := readSoon(t, onDisk(t, c.files))
			if c.want != "" && !strings.Contains(faults.Error(), c.want) {
				t.Errorf("want %q in:\n%.2000s", c.want, faults.Error())
			}
			if len(faults) > 3*(mostFaults+1) {
				t.Errorf("%d faults are too many to read", len(faults))
			}
		})
	}
}

func TestStrangeFiles(t *testing.T) {
	other := filepath.Join(t.TempDir(), "secret.csv")
	if err := os.WriteFile(other, []byte(box), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		make func(path string) error
		want string
	}{
		{"pipe", func(p string) error { return syscall.Mkfifo(p, 0o600) }, `boat.yaml:3:12: the file "offsets.csv" is a pipe, not a file (put a plain file in its place)`},
		{"folder", func(p string) error { return os.Mkdir(p, 0o700) }, `boat.yaml:3:12: the file "offsets.csv" is a folder, not a file (put a plain file in its place)`},
		{"link out", func(p string) error { return os.Symlink(other, p) }, `boat.yaml:3:12: the file "offsets.csv" is a link that leads out of the folder (copy the file itself into the folder)`},
		{"link up and out", func(p string) error { return os.Symlink("../../../../../../../../../etc/passwd", p) }, `boat.yaml:3:12: the file "offsets.csv" is a link that leads out of the folder (copy the file itself into the folder)`},
		{"link to a device", func(p string) error { return os.Symlink("/dev/zero", p) }, `boat.yaml:3:12: the file "offsets.csv" is a link that leads out of the folder (copy the file itself into the folder)`},
		{"link to itself", func(p string) error { return os.Symlink("offsets.csv", p) }, `boat.yaml:3:12: the file "offsets.csv" cannot be read: too many levels of symbolic links (put a plain file in its place)`},
		{"link to nothing", func(p string) error { return os.Symlink("gone.csv", p) }, `boat.yaml:3:12: the file "offsets.csv" is a link to nothing (copy the file itself into the folder)`},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := onDisk(t, nil)
			path := filepath.Join(dir, "offsets.csv")
			if err := os.Remove(path); err != nil {
				t.Fatal(err)
			}
			if err := c.make(path); err != nil {
				t.Skip(err)
			}
			if got := readSoon(t, dir).Error(); got != c.want {
				t.Errorf("%s\nwant %s", got, c.want)
			}
		})
	}
	t.Run("link inside", func(t *testing.T) {
		dir := onDisk(t, nil)
		if err := os.Rename(filepath.Join(dir, "offsets.csv"), filepath.Join(dir, "real.csv")); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink("real.csv", filepath.Join(dir, "offsets.csv")); err != nil {
			t.Skip(err)
		}
		if faults := readSoon(t, dir); len(faults) > 0 {
			t.Error(faults)
		}
	})
	t.Run("boat.yaml is a pipe", func(t *testing.T) {
		dir := t.TempDir()
		if err := syscall.Mkfifo(filepath.Join(dir, "boat.yaml"), 0o600); err != nil {
			t.Skip(err)
		}
		if got := readSoon(t, dir).Error(); got != "boat.yaml: is a pipe, not a file (put a plain file in its place)" {
			t.Error(got)
		}
	})
}
