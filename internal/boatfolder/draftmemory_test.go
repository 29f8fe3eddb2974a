package boatfolder

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// TestFromFiles: what a reading opened is all that a reading elsewhere needs, and gives the same folder.
func TestFromFiles(t *testing.T) {
	for _, demo := range []string{"sanderling", "turnstone"} {
		dir := filepath.Join("..", "..", "demo", demo)
		here, faults := Open(dir)
		if faults != nil {
			t.Fatal(faults)
		}
		files := here.Opened()
		if len(files) < 4 {
			t.Errorf("%s: only %d files", demo, len(files))
		}
		for name := range files {
			if strings.HasSuffix(name, ".md") || name == triesFile {
				t.Errorf("%s: %s goes with it, and is not read", demo, name)
			}
		}
		away := FromFiles(dir, files)
		want, f1 := here.Read()
		got, f2 := away.Read()
		if f1 != nil || f2 != nil {
			t.Fatalf("%s: %v %v", demo, f1, f2)
		}
		if away.Stamp() != here.Stamp() || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: the folder is not the same from its files", demo)
		}
		edit := Edit{File: boatFile, Key: "boat", Text: "Another"}
		one, f1 := here.With(edit)
		two, f2 := away.With(edit)
		if f1 != nil || f2 != nil || one.Stamp() != two.Stamp() || one.Stamp() == here.Stamp() {
			t.Errorf("%s: an edit gives %v and %v", demo, f1, f2)
		}
		if again := FromFiles(dir, one.Opened()); again.Stamp() != here.Stamp() {
			t.Errorf("%s: the files of an edited draft are not those of the folder", demo)
		}
	}
}

// TestFromFilesLooksAtNoDisk: a file that did not come along is not there, whatever lies on the disk.
func TestFromFilesLooksAtNoDisk(t *testing.T) {
	dir := t.TempDir()
	table := "station,distance_mm,height_mm,halfbreadth_mm\n0,0,0,0\n0,0,500,300\n1,2000,0,0\n1,2000,500,300\n"
	for name, text := range map[string]string{"boat.yaml": "boat: On the disk\nhull: {offsets: offsets.csv}\n", "offsets.csv": table} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if _, faults := Read(dir); faults != nil {
		t.Fatal(faults)
	}
	d := FromFiles(dir, map[string][]byte{"boat.yaml": []byte("boat: Carried\nhull: {offsets: offsets.csv}\n")})
	if _, faults := d.Read(); !strings.Contains(faults.Error(), "offsets.csv") {
		t.Errorf("a table that did not come along: %v", faults)
	}
	d = FromFiles(dir, map[string][]byte{"boat.yaml": []byte("boat: Carried\nhull: {offsets: ../offsets.csv}\n"), "../offsets.csv": []byte(table)})
	if _, faults := d.Read(); !strings.Contains(faults.Error(), "does not lie inside the folder") {
		t.Errorf("a name that leads out: %v", faults)
	}
}

// TestFromFilesOwnSea: a person's own winds, currents and sets go with the folder.
func TestFromFilesOwnSea(t *testing.T) {
	all := crossedFiles()
	all["notes.txt"] = "nobody's business"
	here := openWith("nowhere", with(all))
	files := here.Opened()
	for _, name := range []string{"wind.csv", "current.csv", "sets.csv"} {
		if string(files[name]) != all[name] {
			t.Errorf("%s does not go with the folder", name)
		}
	}
	if _, goes := files["notes.txt"]; goes {
		t.Error("a file that nothing reads goes with the folder")
	}
	f, faults := FromFiles("away", files).Read()
	if faults != nil || f.Voyage.Wind == nil || string(f.Voyage.Wind.Data) != windTable {
		t.Errorf("its own wind does not arrive: %v", faults)
	}
}
