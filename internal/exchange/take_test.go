package exchange

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"thole/internal/boatfolder"
	"thole/internal/lists"
)

const small = `# what goes aboard
what,count,mass,where,used,expires,notes
rope,1,1 kg,1.20 m; 0 m; 0.30 m,,,blue
# eaten
bags,10,1.15 kg,1.00 m; 0.10 m; 0.20 m,days 1-20,2027-06-30,
bags,10,1.15 kg,1.00 m; -0.10 m; 0.20 m,days 1-20,2027-06-30,
gas,4,0.4 kg,1.20 m; 0 m; 0.30 m,days 1-20,,
`

// taken is what the folder has after a table is taken and kept.
func kept(t *testing.T, stores, table string, day int) (string, *Taking) {
	t.Helper()
	dir := starter(t, stores)
	took, err := Take(dir, day, "back.csv", []byte(table))
	if err != nil {
		t.Fatal(err)
	}
	if now, _ := os.ReadFile(filepath.Join(dir, storesFile)); string(now) != stores {
		t.Fatal("it was written before it was kept")
	}
	if err := took.Keep(); err != nil {
		t.Fatal(err)
	}
	now, err := os.ReadFile(filepath.Join(dir, storesFile))
	if err != nil {
		t.Fatal(err)
	}
	return string(now), took
}

// TestTakeStores: cells set, rows put in and taken out; all else stays to the byte.
func TestTakeStores(t *testing.T) {
	for _, c := range []struct{ name, table, want string }{
		{"one figure, with semicolons and a decimal comma", "what;where;used;mass\nrope;1,20 m; 0 m; 0,30 m;;1,5 kg\n", ""},
		{"one figure", "what,count,mass,where,used\nrope,1,1 kg,1.20 m; 0 m; 0.30 m,\nbags,10,1.15 kg,1.00 m; 0.10 m; 0.20 m,days 1-20\nbags,10,1.25 kg,1.00 m; -0.10 m; 0.20 m,days 1-20\ngas,4,0.4 kg,1.20 m; 0 m; 0.30 m,days 1-20\n",
			strings.Replace(small, "bags,10,1.15 kg,1.00 m; -", "bags,10,1.25 kg,1.00 m; -", 1)},
		{"semicolons, decimal commas, a date turned round", "what;count;mass;where;used;expires\nrope;1;1,5 kg;\"1,20 m; 0 m; 0,30 m\";;\nbags;10;1,15 kg;\"1,00 m; 0,10 m; 0,20 m\";days 1-20;31.07.2027\nbags;10;1,15 kg;\"1,00 m; -0,10 m; 0,20 m\";days 1-20;30.06.2027\ngas;4;0,4 kg;\"1,20 m; 0 m; 0,30 m\";days 1-20;\n",
			strings.Replace(strings.Replace(small, "rope,1,1 kg", "rope,1,1.5 kg", 1), "days 1-20,2027-06-30", "days 1-20,2027-07-31", 1)},
		{"moved, and used later", "what,count,mass,where,used\nrope,1,1 kg,1.20 m; 0 m; 0.30 m,\nbags,10,1.15 kg,1.00 m; 0.10 m; 0.20 m,days 1-20\nbags,10,1.15 kg,1.00 m; -0.10 m; 0.20 m,days 1-20\ngas,4,0.4 kg,1.40 m; 0 m; 0.30 m,days 3-20\n",
			strings.Replace(small, "gas,4,0.4 kg,1.20 m; 0 m; 0.30 m,days 1-20", "gas,4,0.4 kg,1.40 m; 0 m; 0.30 m,days 3-20", 1)},
		{"a new name", "what,count,mass,where,used,expires,notes\nrope,1,1 kg,1.20 m; 0 m; 0.30 m,,,blue\nbags,10,1.15 kg,1.00 m; 0.10 m; 0.20 m,days 1-20,2027-06-30,\nbags,10,1.15 kg,1.00 m; -0.10 m; 0.20 m,days 1-20,2027-06-30,\nstove gas,4,0.4 kg,1.20 m; 0 m; 0.30 m,days 1-20,,\n",
			strings.Replace(small, "gas,4", "stove gas,4", 1)},
		{"one goes, one comes in its place", "what,count,mass,where,used,notes\nrope,1,1 kg,1.20 m; 0 m; 0.30 m,,blue\nbags,10,1.15 kg,1.00 m; 0.10 m; 0.20 m,days 1-20,\nlamp,2,0.3 kg,1.30 m; 0 m; 0.30 m,,\"red, '=new\"\ngas,4,0.4 kg,1.20 m; 0 m; 0.30 m,days 1-20,\n",
			strings.Replace(small, "bags,10,1.15 kg,1.00 m; -0.10 m; 0.20 m,days 1-20,2027-06-30,", `lamp,2,0.3 kg,1.30 m; 0 m; 0.30 m,,,"red, '=new"`, 1)},
		{"sorted otherwise", "what,count,mass,where,used\ngas,4,0.4 kg,1.20 m; 0 m; 0.30 m,days 1-20\nbags,10,1.15 kg,1.00 m; -0.10 m; 0.20 m,days 1-20\nrope,1,1 kg,1.20 m; 0 m; 0.30 m,\nbags,10,1.15 kg,1.00 m; 0.10 m; 0.20 m,days 1-20\n", small},
	} {
		if c.want == "" {
			if _, err := Take(starter(t, small), 0, "back.csv", []byte(c.table)); err == nil || !strings.Contains(err.Error(), "back.csv:2: ") {
				t.Errorf("%s: cells beyond the last column: %v", c.name, err)
			}
			continue
		}
		if got, took := kept(t, small, c.table, 0); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s\n%+v", c.name, got, c.want, took.Edits)
		}
	}
}

// TestSemicolonFolder: a folder that is written with semicolons and decimal commas stays so.
func TestSemicolonFolder(t *testing.T) {
	stores := "what;count;mass;where\nrope;1;1,5 kg;\"1,20 m; 0 m; 0,30 m\"\n"
	got, _ := kept(t, stores, "what,count,mass,where\nrope,1,2.5 kg,1.20 m; 0 m; 0.30 m\nlamp,1,0.5 kg,1.30 m; 0 m; 0.30 m\n", 0)
	if want := "what;count;mass;where\nrope;1;2,5 kg;\"1,20 m; 0 m; 0,30 m\"\nlamp;1;0,5 kg;\"1,30 m; 0 m; 0,30 m\"\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestAnyChange: whatever is changed, put in or taken out of a table, keeping it gives the table.
func TestAnyChange(t *testing.T) {
	dir := starter(t, "")
	rapid.Check(t, func(r *rapid.T) {
		put(t, dir, small)
		in, err := read(out(t, dir, storesFile, 0))
		if err != nil {
			r.Fatal(err)
		}
		header, rows := in.rows[0], in.rows[1:]
		for range rapid.IntRange(0, 6).Draw(r, "changes") {
			i := rapid.IntRange(0, len(rows)-1).Draw(r, "row")
			switch rapid.SampledFrom([]string{"set", "set", "in", "out"}).Draw(r, "act") {
			case "in":
				name := rapid.SampledFrom([]string{"lamp", "bags", "knife, \"new\""}).Draw(r, "name")
				row := []string{name, "2", "0.25 kg", "1.10 m; 0 m; 0.20 m", "", "", "=x"}
				rows = append(rows[:i:i], append([][]string{row}, rows[i:]...)...)
			case "out":
				if len(rows) > 1 {
					rows = append(rows[:i:i], rows[i+1:]...)
				}
			default:
				k := rapid.SampledFrom([]int{0, 1, 4, 6}).Draw(r, "column")
				row := append([]string{}, rows[i]...)
				row[k] = map[int][]string{0: {"rope", "bags", "tin"}, 1: {"1", "7", ""}, 4: {"", "day 3", "days 2-9"}, 6: {"", "@a", "b, c", `"d"`}}[k][rapid.IntRange(0, 2).Draw(r, "text")]
				rows[i] = row
			}
		}
		took, err := Take(dir, 0, storesFile, write(guarded(append([][]string{header}, rows...)), dialect{}))
		if err != nil {
			r.Fatal(err)
		}
		if err := took.Keep(); err != nil {
			r.Fatal(err)
		}
		d, _, err := open(dir)
		if err != nil {
			r.Fatal(err)
		}
		s, err := storesOf(d)
		if err != nil {
			r.Fatal(err)
		}
		// The order may be the old one: the rows are compared as a heap.
		want, got := map[string]int{}, map[string]int{}
		for _, row := range rows {
			want[strings.Join(row, "\x00")]++
		}
		for _, row := range s.rows {
			got[strings.Join(row, "\x00")]++
		}
		if fmt.Sprint(want) != fmt.Sprint(got) {
			r.Fatalf("%v, want %v (%+v)", got, want, took.Edits)
		}
	})
}

// TestTold: what cannot be taken is said with its place, and nothing is written.
func TestTold(t *testing.T) {
	dir := starter(t, small)
	for _, c := range []struct{ name, table, says string }{
		{"no text", "what\xff,mass\nrope,1 kg\n", "UTF-8"},
		{"no row", "what,mass,where\n", "no row below a header"},
		{"no names", "thing,mass\nrope,1 kg\n", "back.csv:1: the header names no column what"},
		{"a mark left open", "what,mass\n\"rope,1 kg\n", "line 2: a quotation mark is not closed"},
		{"a cell of two lines", "what,notes\nrope,\"a\nb\"\n", "back.csv:2: a cell runs over the end of its line"},
		{"a fault of the folder", "what,count,mass,where,used\nrope,1,heavy,1.20 m; 0 m; 0.30 m,\n", "heavy"},
		{"no count", "what,where,used,there are\nrope,1.20 m; 0 m; 0.30 m,,some\n", `back.csv:2: "some" is no count`},
		{"two days", "what,day,there are\nrope,3,1\ngas,4,1\n", "back.csv:3: day 4 stands below day 3"},
		{"a day after the trip", "what,day,there are\nrope,999,1\n", "outside the trip"},
	} {
		if _, err := Take(dir, 0, "back.csv", []byte(c.table)); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q in it", c.name, err, c.says)
		}
	}
	took, err := Take(dir, 0, "back.csv", []byte("what,count,mass,where,used,colour\nrope,1,1 kg,1.20 m; 0 m; 0.30 m,,red\n"))
	if err != nil || len(took.Notes) != 1 || !strings.Contains(took.Notes[0], `"colour" is not taken`) {
		t.Errorf("%v %+v", err, took)
	}
}

// TestCounted: after what was counted is kept, that is left on the day, by the lists; and it is used up evenly until its last day.
func TestCounted(t *testing.T) {
	dir := starter(t, small)
	table := string(out(t, dir, "inventory.csv", 8))
	if !strings.Contains(table, ",8,6,") { // 10 bags over 20 days: 4 are gone on day 8
		t.Fatal(table)
	}
	// One more of the bags to port is left than should be, and no gas.
	lines := strings.Split(table, "\r\n")
	for i, l := range lines {
		if strings.Contains(l, "-0.10 m") {
			lines[i] = l + "7"
		} else if strings.Contains(l, "gas") {
			lines[i] = l + "0"
		} else if strings.Contains(l, "rope") {
			lines[i] = l + "1"
		}
	}
	got, took := kept(t, small, strings.Join(lines, "\r\n"), 0)
	want := strings.Replace(strings.Replace(small, "bags,10,1.15 kg,1.00 m; -0.10 m; 0.20 m,days 1-20", "bags,7,1.15 kg,1.00 m; -0.10 m; 0.20 m,days 9-20", 1), "gas,4,0.4 kg,1.20 m; 0 m; 0.30 m,days 1-20,,\n", "", 1)
	if got != want || took.Day != 8 || len(took.Stock) != 3 {
		t.Errorf("%s\nwant\n%s\n%+v", got, want, took)
	}
	f, faults := boatfolder.Read(took.dir)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if s := &f.Stores[2]; lists.Left(s, 8) != 7 || lists.Left(s, 20) != 0 {
		t.Errorf("%d left on day 8 and %d on day 20", lists.Left(s, 8), lists.Left(s, 20))
	}
	// When its days are over, what is left is kept.
	got, _ = kept(t, small, "what,where,used,there are\ngas,1.20 m; 0 m; 0.30 m,days 1-20,2\n", 20)
	if want := strings.Replace(small, "gas,4,0.4 kg,1.20 m; 0 m; 0.30 m,days 1-20", "gas,2,0.4 kg,1.20 m; 0 m; 0.30 m,", 1); got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

// TestCountedAsPlanned: on any day, what was counted as it should be changes nothing.
func TestCountedAsPlanned(t *testing.T) {
	for _, dir := range demos {
		for _, day := range []int{0, 1, 33, 80} {
			in, err := read(out(t, dir, "inventory.csv", day))
			if err != nil {
				t.Fatal(err)
			}
			for _, row := range in.rows[1:] {
				row[find(in.rows[0], counted)] = row[find(in.rows[0], "left")]
			}
			took, err := Take(dir, 0, "inventory.csv", write(guarded(in.rows), dialect{}))
			if err != nil || len(took.Edits) > 0 || len(took.Stock) != len(in.rows)-1 || took.Day != day {
				t.Errorf("%s day %d: %v %+v", dir, day, err, took)
			}
		}
	}
}

// TestCountedInto: what was used and went elsewhere is still aboard after a count.
func TestCountedInto(t *testing.T) {
	stores := "what,count,mass,where,used\nempties,20,0.1 kg,1.00 m; 0.10 m; 0.20 m,days 1-20 into 1.50 m; 0 m; 0.20 m\n"
	got, _ := kept(t, stores, "what,day,there are\nempties,10,12\n", 0)
	want := "what,count,mass,where,used\nempties,12,0.1 kg,1.00 m; 0.10 m; 0.20 m,days 11-20 into 1.50 m; 0 m; 0.20 m\nempties (used),8,0.1 kg,1.50 m; 0 m; 0.20 m,\n"
	if got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

// TestTry: the edits can be kept as a try instead.
func TestTry(t *testing.T) {
	dir := starter(t, small)
	took, err := Take(dir, 0, "back.csv", []byte(strings.Replace(small, "rope,1,1 kg", "rope,2,1 kg", 1)))
	if err != nil {
		t.Fatal(err)
	}
	if err := took.Try("more rope"); err != nil {
		t.Fatal(err)
	}
	all, err := boatfolder.ReadTries(dir)
	if err != nil || len(all.Tries) != 1 || all.Tries[0].Name != "more rope" || len(all.Tries[0].Edits) != 1 {
		t.Errorf("%v %+v", err, all)
	}
	if err := took.Try("more rope"); err == nil {
		t.Error("two tries of one name")
	}
}
