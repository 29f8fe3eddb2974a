package book

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"thole/internal/answer"
	"thole/internal/house/gallery"
	"thole/internal/levers"
	"thole/internal/model"
	"thole/internal/sheet"
)

// folder is the gallery's, with a voyage that leaves on a day.
func folder() *model.Folder {
	f := gallery.Folder()
	f.Boat.About = "An invented boat, for the tests of the book."
	f.Voyage.From.Name, f.Voyage.To.Name = "Mindelo", "Bridgetown"
	f.Voyage.Leave = time.Date(2027, 1, 12, 0, 0, 0, 0, time.UTC)
	return f
}

// changes is a table of three levers: one that tells, one that does not and one that cannot be asked.
func changes() levers.Result {
	all := gallery.Answers()
	r := levers.Result{Levers: []levers.Lever{{Name: "stern 5 % fuller"}, {Name: "leave a month later"}, {Name: "no anchor"}}, Base: all, Tightest: all[0].Question}
	row := levers.Row{Lever: 0}
	for _, a := range all {
		row.Cells = append(row.Cells, levers.Cell{Question: a.Question, Was: a.Verdict, Verdict: answer.No, Shown: "−12 mm"})
	}
	r.Rows = []levers.Row{row, {Lever: 1, Nothing: true}, {Lever: 2, Trouble: "nothing aboard is called anchor"}}
	return r
}

func printed(t *testing.T, f *model.Folder) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Print(&b, answer.NewCase(f), gallery.Answers(), changes(), "3f9a1c"); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestSameBytes: the same folder prints the same book, today and tomorrow.
func TestSameBytes(t *testing.T) {
	a := printed(t, folder())
	time.Sleep(1100 * time.Millisecond) // a PDF's dates are good to a second
	if !bytes.Equal(a, printed(t, folder())) {
		t.Error("two printings of one folder differ")
	}
	if !bytes.Contains(a, []byte("D:20270112")) {
		t.Error("the book does not bear the voyage's date")
	}
	bare := gallery.Folder()
	bare.Voyage = nil
	if b := printed(t, bare); bytes.Contains(b, []byte("D:"+time.Now().Format("2006"))) {
		t.Error("the book took its date from the clock")
	}
}

// TestEveryBlock walks sheet.Block by reflection: a kind the book does not print
// leaves the page as it was.
func TestEveryBlock(t *testing.T) {
	kind := reflect.TypeFor[sheet.Block]()
	all := gallery.Blocks()
	for i := range kind.NumField() {
		name, _, _ := strings.Cut(kind.Field(i).Tag.Get("json"), ",")
		p := newPaper(folder(), "x")
		p.doc.AddPage()
		before := p.doc.GetY()
		p.block(all[name])
		if p.doc.Err() || p.doc.GetY() < before+5 {
			t.Errorf("the book does not print a %s (%v)", name, p.doc.Error())
		}
	}
}

// TestWords reads the book back with an independent program (poppler's pdftotext).
func TestWords(t *testing.T) {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext is not on this machine")
	}
	file := filepath.Join(t.TempDir(), "book.pdf")
	if err := os.WriteFile(file, printed(t, folder()), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	pages := strings.Split(string(out), "\f")
	for _, want := range []string{"Gallery", "Mindelo to Bridgetown, leaving 12 January 2027", "aid to judgement", "folder 3f9a1c"} {
		if !strings.Contains(pages[0], want) {
			t.Errorf("the title page does not say %q", want)
		}
	}
	all := strings.Join(strings.Fields(string(out)), " ")
	for _, a := range gallery.Answers() {
		wants := append([]string{a.Title, a.Sentence, string(a.Verdict)}, a.NotLookedAt...)
		for _, o := range a.Offers {
			wants = append(wants, o.Name+". "+o.Why)
		}
		for _, want := range wants {
			if !strings.Contains(all, want) {
				t.Errorf("the book does not say %q", want)
			}
		}
	}
	for _, sign := range []string{"151°", "−8 mm ± 12", "stern – as drawn", "1025 kg/m³", "cabin’s", "624.3 ± 18.2 kg", "least arm, 0.05 m", "fore locker"} {
		if !strings.Contains(all, sign) {
			t.Errorf("%q does not print", sign)
		}
	}
	n := len(pages) - 1
	for i, p := range pages[:n] {
		if !strings.Contains(p, "folder 3f9a1c") || !strings.Contains(strings.Join(strings.Fields(p), " "), strings.Join([]string{itoa(i + 1), "of", itoa(n)}, " ")) {
			t.Errorf("page %d of %d has no foot", i+1, n)
		}
	}
}

func itoa(n int) string {
	if n < 10 {
		return string(rune('0' + n))
	}
	return itoa(n/10) + itoa(n%10)
}

// TestWideTable: columns that do not fit stand under one another, none off the paper.
func TestWideTable(t *testing.T) {
	wide := &sheet.Table{Columns: []sheet.Column{{Name: "place", Text: true}}}
	row := []sheet.Cell{{Text: "a locker with a long name, forward of the mast step"}}
	for range 12 {
		wide.Columns = append(wide.Columns, sheet.Column{Name: "displacement", Unit: "kg"})
		row = append(row, sheet.Cell{Value: 1234})
	}
	for range 90 {
		wide.Rows = append(wide.Rows, row)
	}
	p := newPaper(folder(), "x")
	p.doc.AddPage()
	for _, g := range p.split(wide) {
		sum := -between
		for _, c := range g {
			sum += p.least(wide, c) + between
		}
		if sum > width+0.01 || g[0] != 0 {
			t.Errorf("a group of columns is %.0f mm wide on %.0f", sum, width)
		}
	}
	p.table(wide)
	if p.doc.PageCount() < 2 || p.doc.Err() {
		t.Errorf("%d pages, %v", p.doc.PageCount(), p.doc.Error())
	}
}
