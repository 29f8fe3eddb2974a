package terminal

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"thole/internal/boatfolder"
	"thole/internal/exchange"
	"thole/internal/house/gallery"
	"thole/internal/house/golden"
	"thole/internal/lists"
	"thole/internal/model"
)

// listTools show the lists of an invented boat.
func listTools(env map[string]string) Tools {
	tl := tools(env, gallery.Table())
	tl.Read = func(string) (*model.Folder, error) { return gallery.Stowed(), nil }
	tl.Lists, tl.Take = exchange.Lists, exchange.Take
	return tl
}

func TestGoldenLists(t *testing.T) {
	for _, c := range []struct {
		name string
		env  map[string]string
	}{
		{"lists-80", unicodeEnv},
		{"lists-ascii-40", map[string]string{"LC_ALL": "C", "COLUMNS": "40"}},
	} {
		_, out, _ := run(t, listTools(c.env), "lists", "x", "--day", "3")
		golden.Check(t, c.name+".golden", []byte(out))
	}
}

// The lists fit every width, and ASCII stays ASCII.
func TestListsFit(t *testing.T) {
	for _, width := range []string{"40", "55", "80", "120"} {
		for _, lang := range []string{"C", "C.UTF-8"} {
			_, out, errs := run(t, listTools(map[string]string{"LANG": lang, "COLUMNS": width}), "lists", "x")
			if errs != "" {
				t.Fatal(errs)
			}
			for _, l := range strings.Split(out, "\n") {
				if n := columns(l); n > map[string]int{"40": 40, "55": 55, "80": 80, "120": 120}[width] {
					t.Errorf("at %s (%s): %d columns: %q", width, lang, n, l)
				}
				for _, r := range l {
					if lang == "C" && r > 126 {
						t.Errorf("%q in a terminal without it: %q", r, l)
						break
					}
				}
			}
		}
	}
}

// One list by its name, all of them for machines, and a name that is none's.
func TestListKinds(t *testing.T) {
	for _, l := range lists.All {
		if code, out, errs := run(t, listTools(unicodeEnv), "lists", "x", "--kind", l.Kind); code != 0 || !strings.Contains(out, strings.ToUpper(l.Title)) {
			t.Errorf("%s: %d %s%s", l.Kind, code, out, errs)
		}
	}
	_, out, _ := run(t, listTools(unicodeEnv), "lists", "x", "--json")
	var all map[string]json.RawMessage
	if err := json.Unmarshal([]byte(out), &all); err != nil || len(all) != len(lists.All) {
		t.Errorf("%v, %d lists", err, len(all))
	}
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"lists", "x", "--kind", "knots"}, `there is no list "knots" (one of: compartments, names, weeks, shopping, weighing, inventory)`},
		{[]string{"lists", "x", "--keep"}, "go with --take FILE"},
		{[]string{"lists", "x", "--over"}, "goes with --csv FOLDER"},
		{[]string{"lists", "x", "--take", "y", "--csv", "z"}, "one thing at a time"},
		{[]string{"lists", "x", "--day", "17"}, "outside the trip (day 0 to day 16)"},
		{[]string{"lists", "x", "--take", "/nowhere/y.csv"}, "y.csv"},
	} {
		if code, _, errs := run(t, listTools(unicodeEnv), c.args...); code != Unread || !strings.Contains(errs, c.says) {
			t.Errorf("%v: %d %s", c.args, code, errs)
		}
	}
}

// Out to a spreadsheet and back: files are not written over unsaid, and nothing of the folder is written without --keep.
func TestListsOutAndBack(t *testing.T) {
	dir, to := filepath.Join(t.TempDir(), "boat"), t.TempDir()
	if err := boatfolder.Starter(dir); err != nil {
		t.Fatal(err)
	}
	tl := listTools(unicodeEnv)
	code, out, errs := run(t, tl, "lists", dir, "--csv", to)
	if code != 0 || !strings.Contains(out, "9 files written") {
		t.Fatalf("%d %s%s", code, out, errs)
	}
	stores := filepath.Join(to, "stores.csv")
	text, err := os.ReadFile(stores)
	if err != nil {
		t.Fatal(err)
	}
	changed := strings.Replace(string(text), "day bag of food,30,", "day bag of food,31,", 1)
	if changed == string(text) {
		t.Fatalf("the starter's stores are others: %s", text)
	}
	if err := os.WriteFile(stores, []byte(changed), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := run(t, tl, "lists", dir, "--csv", to); code != Unread || !strings.Contains(errs, "stores.csv") || !strings.Contains(errs, "nothing is written") {
		t.Errorf("%d %s", code, errs)
	}
	own := filepath.Join(dir, "stores.csv")
	was, err := os.ReadFile(own)
	if err != nil {
		t.Fatal(err)
	}
	_, out, errs = run(t, tl, "lists", dir, "--take", stores)
	if !strings.Contains(out, "\n- day bag of food,30,") || !strings.Contains(out, "\n+ day bag of food,31,") || !strings.Contains(out, "Nothing is written") {
		t.Errorf("%s%s", out, errs)
	}
	if now, _ := os.ReadFile(own); string(now) != string(was) {
		t.Error("the folder was written without --keep")
	}
	if _, out, _ := run(t, tl, "lists", dir, "--take", stores, "--try", "one bag more"); !strings.Contains(out, "the folder is as it was") {
		t.Error(out)
	}
	_, out, _ = run(t, tl, "lists", dir, "--take", stores, "--keep", "--json")
	var took struct {
		Written bool
		Edits   []boatfolder.Edit
	}
	if err := json.Unmarshal([]byte(out), &took); err != nil || !took.Written || len(took.Edits) != 1 {
		t.Errorf("%v %s", err, out)
	}
	if now, _ := os.ReadFile(own); string(now) == string(was) {
		t.Error("the folder was not written with --keep")
	}
	if _, out, _ := run(t, tl, "lists", dir, "--take", stores); !strings.Contains(out, "Nothing would change.") {
		t.Error(out)
	}
}
