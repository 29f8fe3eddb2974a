package exchange

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"thole/internal/boatfolder"
	"thole/internal/lists"
	"thole/internal/sheet"
)

// TestGuard: no cell of words that is given out begins with what OWASP's page on CSV injection lists (from memory: = + - @, tab,
// carriage return, line feed), and each comes back as it was.
func TestGuard(t *testing.T) {
	texts := []string{"=1+1", "+49 30 1234", "-5 m; 0 m; 0 m", "@home", "\t=1", "\r=1", "\n=1", "'", "''", "'=1", "''=1", "'tis", "＝1", "", "food", "=", "it's = 3", "=HYPERLINK(\"http://x\",\"y\")", "=cmd|' /C calc'!A0"}
	for _, s := range texts {
		g := guard(s)
		if g != "" && strings.ContainsAny(g[:1], "=+-@\t\r\n") || unguard(g) != s {
			t.Errorf("%q goes out as %q and comes back as %q", s, g, unguard(g))
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.OneOf(rapid.String(), rapid.StringMatching(`'{0,3}[=+@\t\r\n'-]{0,2}[a-z0-9(),;"]{0,5}`)).Draw(t, "cell")
		if g := guard(s); unguard(g) != s || g != "" && strings.ContainsAny(g[:1], "=+-@\t\r\n") {
			t.Fatalf("%q goes out as %q and comes back as %q", s, g, unguard(g))
		}
	})
}

// cellText is any text, and often such as csv and spreadsheets trip over.
func cellText() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.String().Filter(func(s string) bool { return !strings.ContainsRune(s, 0) }),
		rapid.SampledFrom([]string{"", "a,b", "a;b", `say "oar"`, `"`, `""`, "a\nb", "a\r\nb", "\r", " a ", "#a", "=1", "'=1", "-", "1,5", "ß", byteMark, "\t", "'"}))
}

// TestAnyTable: any table of any words comes back as it went out, however its columns are separated; and encoding/csv of the standard library,
// which knows nothing of this package, reads the same cells behind the guard.
func TestAnyTable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(1, 5).Draw(t, "columns")
		row := rapid.SliceOfN(cellText(), width, width)
		head := rapid.SliceOfN(rapid.StringMatching(`[a-z]{1,6}`), width, width).Draw(t, "header")
		rows := append([][]string{head}, rapid.SliceOfN(row.Filter(func(r []string) bool { return strings.TrimSpace(strings.Join(r, "")) != "" }), 0, 6).Draw(t, "rows")...)
		d := dialect{semicolons: rapid.Bool().Draw(t, "semicolons")}
		out := write(guarded(rows), d)
		back, err := read(out)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.EqualFunc(rows, back.rows, slices.Equal[[]string]) {
			t.Fatalf("%q came back as %q\n%s", rows, back.rows, out)
		}
		in := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(out, []byte(byteMark))))
		in.Comma = rune(d.separator()[0])
		other, err := in.ReadAll()
		if err != nil {
			t.Fatalf("encoding/csv: %v\n%s", err, out)
		}
		for i, r := range guarded(rows) {
			for k, c := range r {
				// encoding/csv makes one line end of CR LF inside a cell.
				if c = strings.ReplaceAll(c, "\r\n", "\n"); other[i][k] != c {
					t.Fatalf("encoding/csv reads %q where %q was written", other[i][k], c)
				}
			}
		}
	})
}

// TestLineEnds: the form of RFC 4180, section 2: CR LF behind every row, marks doubled; a byte order mark only where it tells something.
func TestLineEnds(t *testing.T) {
	table := sheet.Table{Columns: []sheet.Column{{Name: "what", Text: true}, {Name: "mass", Unit: "kg", Places: 2}}, Rows: [][]sheet.Cell{{{Text: `the "big" bag, red`}, {Value: 1.5}}, {{Text: "=x"}, {Empty: true}}, {{Text: "-"}, {Value: -0.001}}}}
	if got, want := string(Table(table)), "what,mass (kg)\r\n\"the \"\"big\"\" bag, red\",1.50\r\n'=x,\r\n'-,0.00\r\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := string(write(flat(table, dialect{semicolons: true}), dialect{semicolons: true})); !strings.Contains(got, ";1,50\r\n") {
		t.Errorf("%q has no decimal comma", got)
	}
	table.Rows[0][0].Text = "süß"
	if got := Table(table); !bytes.HasPrefix(got, []byte(byteMark)) {
		t.Errorf("%q has no byte order mark", got)
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"what,count\r\nrope,1\r\n", "\ufeffa;b\n\"x;\"\"y\";1,5", "#r\n\n\"a", "a\tb\n1\t2", "\"a\"b,c\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		in, err := read(data)
		if err != nil || len(in.rows) == 0 {
			return
		}
		again, err := read(write(guarded(in.rows), in.dialect))
		if err != nil || len(again.rows) != len(in.rows) && len(in.rows[0]) > 1 {
			t.Fatalf("%q: %q then %v (%v)", data, in.rows, again, err)
		}
	})
}

// starter is a small boat with the stores given, as boatfolder's starter has it otherwise.
func starter(t testing.TB, stores string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "boat")
	if err := boatfolder.Starter(dir); err != nil {
		t.Fatal(err)
	}
	if stores != "" {
		put(t, dir, stores)
	}
	return dir
}

func put(t testing.TB, dir, stores string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, storesFile), []byte(stores), 0o644); err != nil {
		t.Fatal(err)
	}
}

// out gives one file of a folder's lists.
func out(t testing.TB, dir, name string, day int) []byte {
	t.Helper()
	files, err := Lists(dir, day)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if f.Name == name {
			return f.Content
		}
	}
	t.Fatalf("there is no %s", name)
	return nil
}

// demos are the folders that come with the program.
var demos = []string{"../../demo/sanderling", "../../demo/turnstone"}

// TestNoEdits: what went out and comes back unchanged changes nothing, also when a spreadsheet has written it again with semicolons,
// decimal commas and its own way of dates.
func TestNoEdits(t *testing.T) {
	for _, dir := range demos {
		for _, name := range []string{storesFile, "inventory.csv"} {
			data := out(t, dir, name, 30)
			in, err := read(data)
			if err != nil {
				t.Fatal(err)
			}
			for i, row := range in.rows {
				for k := range row {
					h := in.rows[0][k]
					if quantities[h] {
						row[k] = decimalPoint.ReplaceAllString(row[k], "$1,$2")
					}
					if d := datesWritten(row[k]); i > 0 && (h == "expires" || h == "inspect") {
						row[k] = d
					}
				}
			}
			for _, form := range [][]byte{data, bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n")), write(guarded(in.rows), dialect{semicolons: true})} {
				took, err := Take(dir, 0, name, form)
				if err != nil {
					t.Fatal(err)
				}
				if len(took.Edits)+len(took.Notes)+len(took.Lines) > 0 {
					t.Errorf("%s %s: %+v %v", dir, name, took.Edits, took.Notes)
				}
			}
		}
		whole, err := os.ReadFile(filepath.Join(dir, storesFile))
		if err != nil {
			t.Fatal(err)
		}
		if took, err := Take(dir, 0, storesFile, whole); err != nil || len(took.Edits) > 0 {
			t.Errorf("%s: the folder's own file, remarks and all: %v %+v", dir, err, took)
		}
	}
}

// datesWritten is a date as much of Europe writes it.
func datesWritten(s string) string {
	if p := strings.Split(s, "-"); len(p) == 3 {
		return p[2] + "." + p[1] + "." + p[0]
	}
	return s
}

// plainText is what a person may write in a cell of the folder.
func plainText() *rapid.Generator[string] {
	return rapid.OneOf(rapid.StringMatching(`[=+@'"#a-zäöü0-9;,.() -]{0,14}`), rapid.SampledFrom([]string{"", "=SUM(A1)", "@x", "+1", "'=1", `"q"`, "a,b;c", "1,5", "1.5"}))
}

// TestAnyStores: any stores with any words, with columns of a person's own, come back without an edit.
func TestAnyStores(t *testing.T) {
	dir := starter(t, "")
	checked := 0
	rapid.Check(t, func(r *rapid.T) {
		d := dialect{semicolons: rapid.Bool().Draw(r, "semicolons")}
		rows := [][]string{{"what", "count", "mass", "where", "used", "bought at", "notes", "price"}}
		for range rapid.IntRange(1, 6).Draw(r, "rows") {
			rows = append(rows, []string{
				strings.TrimSpace("x" + plainText().Draw(r, "what")), rapid.SampledFrom([]string{"", "1", "40"}).Draw(r, "count"), rapid.SampledFrom([]string{"1.15 kg", "3 oz", "2 kg +- 10%"}).Draw(r, "mass"),
				rapid.SampledFrom([]string{"1.20 m; 0 m; 0.30 m", "1.00 m; 0.10 m; 0.20 m"}).Draw(r, "where"), rapid.SampledFrom([]string{"", "days 1-20", "day 3"}).Draw(r, "used"),
				plainText().Draw(r, "bought at"), plainText().Draw(r, "notes"), plainText().Draw(r, "price"),
			})
		}
		put(t, dir, string(write(rows, d)))
		if _, faults := boatfolder.Read(dir); len(faults) > 0 {
			r.Skip(faults.Error())
		}
		checked++
		took, err := Take(dir, 0, storesFile, out(t, dir, storesFile, 0))
		if err != nil || len(took.Edits)+len(took.Notes) > 0 {
			r.Fatalf("%v %+v", err, took)
		}
	})
	if checked < 20 {
		t.Errorf("only %d of the made-up folders could be read", checked)
	}
}

// TestOwnColumns: what a person put beside the known columns goes out with the rest.
func TestOwnColumns(t *testing.T) {
	dir := starter(t, "what,mass,where,bought at,notes\nrope,1 kg,1.20 m; 0 m; 0.30 m,=chandler,-\n")
	if got, want := string(out(t, dir, storesFile, 0)), "what,mass,where,bought at,notes\r\nrope,1 kg,\"1.20 m; 0 m; 0.30 m\",'=chandler,'-\r\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestEveryListGoesOut: each list is a file with as many rows as it has, and each row as wide as the header.
func TestEveryListGoesOut(t *testing.T) {
	for _, dir := range demos {
		_, f, err := open(dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range lists.All {
			in, err := read(out(t, dir, l.Kind+".csv", 10))
			if err != nil || len(in.rows) != len(l.Flat(f, 10).Rows)+1 {
				t.Fatalf("%s: %d rows, %v", l.Kind, len(in.rows), err)
			}
			for _, r := range in.rows {
				if len(r) != len(in.rows[0]) {
					t.Errorf("%s: %q under %q", l.Kind, r, in.rows[0])
				}
			}
		}
	}
}
