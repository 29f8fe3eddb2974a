package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"thole/internal/house/patience"
	"thole/internal/questions"
)

// TestPartsToCut asks every question about a demo boat for its parts: what has
// none says so and writes nothing, what has some writes them all, each with the
// stamp of the folder.
func TestPartsToCut(t *testing.T) {
	if testing.Short() {
		t.Skip("a whole boat; left out with -short")
	}
	wrote, none := 0, 0
	for _, q := range questions.Table {
		if none > 0 && wrote > 0 && !patience.Long() {
			break // one with parts and one without are enough in every run
		}
		t.Run(q.ID, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "parts")
			var out, errs bytes.Buffer
			code := run(context.Background(), []string{"ask", q.ID, "../../demo/sanderling", "--to", dir, "--paper", "roll"}, &out, &errs)
			index, err := os.ReadFile(filepath.Join(dir, "index.txt"))
			if err != nil {
				if _, err := os.Stat(dir); code != 2 || err == nil || !strings.Contains(errs.String(), "no parts to cut; nothing is written") {
					t.Fatalf("exit %d, %s", code, errs.String())
				}
				none++
				return
			}
			wrote++
			if code == 2 || errs.Len() > 0 {
				t.Fatalf("exit %d, %s", code, errs.String())
			}
			_, stamp, _ := strings.Cut(strings.SplitN(string(index), "\n", 2)[0], "folder ")
			drawn, err := filepath.Glob(filepath.Join(dir, "*.dxf"))
			if err != nil || len(drawn) == 0 || len(stamp) != 16 {
				t.Fatalf("%d parts, stamp %q, %v", len(drawn), stamp, err)
			}
			for _, file := range drawn {
				b, err := os.ReadFile(file)
				if err != nil || !bytes.Contains(b, []byte("folder "+stamp)) {
					t.Errorf("%s does not bear the stamp %s (%v)", filepath.Base(file), stamp, err)
				}
				name := strings.TrimSuffix(filepath.Base(file), ".dxf")
				for _, ext := range []string{".pdf", ".svg"} {
					if _, err := os.Stat(filepath.Join(dir, name+ext)); err != nil {
						t.Error(err)
					}
				}
				if !bytes.Contains(index, []byte(name+": ")) {
					t.Errorf("index.txt does not list %s", name)
				}
			}
		})
	}
	if wrote == 0 {
		t.Error("no question wrote parts")
	}
}
