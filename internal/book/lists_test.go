package book

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/house/gallery"
	"thole/internal/levers"
	"thole/internal/lists"
	"thole/internal/model"
)

// texts are the pages of the lists of a folder, read back by an independent program (poppler's pdftotext).
func texts(t *testing.T, f *model.Folder) []string {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext is not on this machine")
	}
	var b bytes.Buffer
	if err := Print(&b, answer.NewCase(f), nil, levers.Result{}, "3f9a1c"); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "book.pdf")
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(string(out), "\f")
}

// TestListPages: the book says all that the lists say, each on its page.
func TestListPages(t *testing.T) {
	f := gallery.Stowed()
	pages := texts(t, f)
	find := func(title string) string {
		for _, p := range pages {
			if strings.HasPrefix(strings.TrimSpace(p), title) {
				return strings.Join(strings.Fields(p), " ")
			}
		}
		t.Fatalf("no page begins with %q", title)
		return ""
	}
	plan, labels := find("What lies where"), find("Labels to cut out")
	for _, l := range lists.Compartments(f, 0) {
		for _, w := range strings.Fields(l.Name) { // a name may stand on two lines, beside another's
			if l.Compartment >= 0 && !strings.Contains(labels, w) {
				t.Errorf("no label for %s", l.Name)
			}
		}
		if l.Number > 0 && !strings.Contains(labels, fmt.Sprint(l.Number)) {
			t.Errorf("no label bears %d", l.Number)
		}
		for _, th := range l.Things {
			if !strings.Contains(plan, th.What) || l.Compartment >= 0 && !strings.Contains(labels, th.What) {
				t.Errorf("%s is not in the load plan, or on no label", th.What)
			}
		}
	}
	for _, want := range []string{"Week 1, days 1 to 7, from 12 January", "Week 3, days 15 to 16", "Open to port 202; to starboard 201; in the middle 300.", "day bags port"} {
		if !strings.Contains(find("What is taken when"), want) {
			t.Errorf("the calendar does not say %q", want)
		}
	}
	for title, want := range map[string]string{"Where to find it": "timber repair timber, glue and cloth 1 lazarette", "What should be left": "201 day bags starboard 8 6 4 2 0", "Before leaving": "flares in date race organisers commonly 2027-01-01"} {
		if got := find(title); !strings.Contains(got, want) {
			t.Errorf("%s: %q does not say %q", title, got, want)
		}
	}
	if len(pages) < 8 {
		t.Errorf("%d pages", len(pages))
	}
}

// TestNothingAboard: a folder without stores or a checklist has no such pages.
func TestNothingAboard(t *testing.T) {
	p := newPaper(gallery.Folder(), "x")
	p.doc.AddPage()
	p.lists(gallery.Folder())
	if p.doc.PageCount() != 1 || p.doc.Err() {
		t.Errorf("%d pages, %v", p.doc.PageCount(), p.doc.Error())
	}
}

// TestCrowded: a locker of a hundred things has a label that stays on its page, names of any length, and a grid goes on over pages.
func TestCrowded(t *testing.T) {
	f := gallery.Stowed()
	for i := range 100 {
		s := f.Stores[0]
		s.What = fmt.Sprintf("thing %d with quite a long name that does not fit on one line of a label", i)
		s.Count = 40
		f.Stores = append(f.Stores, s)
	}
	f.Boat.Compartments[1].Name = "the bin under the starboard side of the bunk in the fore cabin"
	p := newPaper(f, "x")
	p.doc.AddPage()
	p.lists(f)
	if p.doc.Err() || p.doc.PageCount() < 10 {
		t.Errorf("%d pages, %v", p.doc.PageCount(), p.doc.Error())
	}
	crowded := lists.Compartments(f, 0)[1]
	if crowded.Number != 202 || p.labelDepth(&crowded) <= height {
		t.Fatalf("%d is not crowded", crowded.Number)
	}
	if pages := texts(t, f); !strings.Contains(strings.Join(pages, " "), "and more: the load plan has them all") {
		t.Error("a label that cannot hold its list does not say so")
	}
}
