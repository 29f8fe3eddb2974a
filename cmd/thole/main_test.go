package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"thole/internal/house/patience"
)

// asked runs one command line and reads the JSON it prints into v.
func asked(t *testing.T, v any, args ...string) int {
	t.Helper()
	var out, errs bytes.Buffer
	code := run(context.Background(), args, &out, &errs)
	if errs.Len() > 0 {
		t.Fatalf("%v: exit %d, %s", args, code, errs.String())
	}
	if err := json.Unmarshal(out.Bytes(), v); err != nil {
		t.Fatalf("%v: %v\n%s", args, err, out.String())
	}
	return code
}

// folder writes a boat folder of two files.
func folder(t *testing.T, boat, offsets string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"boat.yaml": boat, "offsets.csv": offsets} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// result is what every answer holds, whatever the question.
type result struct {
	Question string `json:"question"`
	Verdict  string `json:"verdict"`
	Sentence string `json:"sentence"`
	Margin   *struct {
		Value, Asked, Confidence float64
		Unit                     string
	} `json:"margin"`
	Figures  map[string]any `json:"figures"`
	Cautions []string       `json:"cautions"`
}

// whole fails where an answer lacks what every answer must have.
func whole(t *testing.T, r result) {
	t.Helper()
	switch r.Verdict {
	case "yes", "close", "no":
		if r.Margin == nil || r.Margin.Unit == "" || r.Margin.Confidence < 0 || r.Margin.Confidence > 1 {
			t.Errorf("%s: verdict %s with margin %+v", r.Question, r.Verdict, r.Margin)
		}
	case "cannot tell":
	default:
		t.Errorf("%s: verdict %q", r.Question, r.Verdict)
	}
	if r.Sentence == "" || len(r.Cautions) == 0 {
		t.Errorf("%s: sentence %q, %d cautions", r.Question, r.Sentence, len(r.Cautions))
	}
}

// TestReadMe: the smallest folder works as the README prints it.
func TestReadMe(t *testing.T) {
	b, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	fence := func(begins string) string {
		_, rest, ok := strings.Cut(string(b), "```"+begins)
		text, _, closed := strings.Cut(rest, "```")
		if !ok || !closed {
			t.Fatalf("README.md has no block that begins with %q", begins)
		}
		return text
	}
	dir := folder(t, fence("yaml\n"), "station,"+fence("\nstation,"))
	var all []result
	code := asked(t, &all, "check", dir, "--json")
	if code == 2 || len(all) < 2 {
		t.Errorf("exit %d with %d answers", code, len(all))
	}
	for _, r := range all {
		whole(t, r)
	}
}

// TestBox goes the whole way, from text files to JSON, for a box whose figures
// are closed forms: 4 m long, 1 m broad, 1 m deep, 620 kg in sea water.
func TestBox(t *testing.T) {
	dir := folder(t, `boat: Box
hull:
  offsets: offsets.csv
weights:
  - {what: all up, mass: 620 kg, at: [2 m, 0 m, 0.2 m]}
water: 1025 kg/m3
`, "station,distance_mm,height_mm,halfbreadth_mm\n"+
		"0,0,0,0\n0,0,0,500\n0,0,0,500\n0,0,1000,500\n"+
		"1,2000,0,0\n1,2000,0,500\n1,2000,0,500\n1,2000,1000,500\n"+
		"2,4000,0,0\n2,4000,0,500\n2,4000,0,500\n2,4000,1000,500\n")
	var r result
	asked(t, &r, "ask", "float", dir, "--json")
	whole(t, r)
	volume := 620.0 / 1025
	draft := volume / 4
	for _, c := range []struct {
		key    string
		want   float64
		source string
	}{
		{"displacement_kg", 620, "the weight itself (Archimedes)"},
		{"volume_m3", volume, "weight over density (Archimedes)"},
		{"draft_m", draft, "volume over length times breadth"},
		{"kb_m", draft / 2, "centroid of a rectangle"},
		{"bm_m", 1 / (12 * draft), "breadth squared over 12 drafts: I/V of a rectangle"},
		{"gm_m", draft/2 + 1/(12*draft) - 0.2, "KB + BM - KG"},
		{"waterplane_m2", 4, "length times breadth"},
		{"lcb_m", 2, "symmetry"},
		{"freeboard_min_m", 1 - draft, "depth less draft"},
		{"trim_deg", 0, "symmetry"},
	} {
		got, ok := r.Figures[c.key].(float64)
		// 1e-6 of a metre is a thousandth of what can be measured on a boat.
		if !ok || math.Abs(got-c.want) > 1e-6*math.Max(1, c.want) {
			t.Errorf("%s = %v, want %.7f (%s)", c.key, r.Figures[c.key], c.want, c.source)
		}
	}
}

// TestDemos: the demo boats read and every question answers, in a book or in JSON;
// the book prints the same bytes twice.
func TestDemos(t *testing.T) {
	if testing.Short() {
		t.Skip("whole boats; left out with -short")
	}
	demos, err := filepath.Glob("../../demo/*/boat.yaml")
	if err != nil || len(demos) == 0 {
		t.Fatalf("no demo boats: %v", err)
	}
	for i, d := range demos {
		dir := filepath.Dir(d)
		t.Run(filepath.Base(dir), func(t *testing.T) {
			var all []result
			if code := asked(t, &all, "check", dir, "--json"); code == 2 {
				t.Fatal("cannot be read")
			}
			for _, r := range all {
				whole(t, r)
			}
			if i > 0 || !patience.Long() { // one book is enough to see that nothing hangs on chance or on the clock, and takes half a minute
				return
			}
			var books [2]bytes.Buffer
			for k := range books {
				var errs bytes.Buffer
				if code := run(context.Background(), []string{"book", dir, "-o", "-"}, &books[k], &errs); code != 0 {
					t.Fatalf("book: exit %d, %s", code, errs.String())
				}
			}
			if !bytes.Equal(books[0].Bytes(), books[1].Bytes()) || !bytes.HasPrefix(books[0].Bytes(), []byte("%PDF")) {
				t.Error("two printings of one folder differ")
			}
		})
	}
}

// TestFaultsAreTold: a folder that cannot be read ends with 2 and every fault on
// a line with its place.
func TestFaultsAreTold(t *testing.T) {
	dir := folder(t, "boat: Bad\nhull:\n  offsets: offsets.csv\nweights:\n  - {what: all up, mass: 620, at: [3.10, 0 m, 0.42 m]}\n",
		"station,distance_mm,height_mm,halfbreadth_mm\n0,0,0,0\n")
	var out, errs bytes.Buffer
	if code := run(context.Background(), []string{"check", dir}, &out, &errs); code != 2 || out.Len() > 0 {
		t.Errorf("exit %d, %q", code, out.String())
	}
	if !strings.Contains(errs.String(), "boat.yaml:5:") || strings.Count(strings.TrimSpace(errs.String()), "\n") < 1 {
		t.Errorf("not every fault is told with its place:\n%s", errs.String())
	}
}

// BenchmarkCheck is the main job: every question on a whole boat, from her files.
func BenchmarkCheck(b *testing.B) {
	for b.Loop() {
		if code := run(context.Background(), []string{"check", "../../demo/sanderling", "--json"}, io.Discard, io.Discard); code == 2 {
			b.Fatal("cannot be read")
		}
	}
}

// TestLevers: the table of a whole boat, from her files to JSON, and the lines of one lever.
func TestLevers(t *testing.T) {
	if testing.Short() {
		t.Skip("a whole boat; left out with -short")
	}
	var r struct {
		Levers []struct {
			Name  string
			Own   bool
			Edits []struct{ File, Key, Text string }
		}
		Base []result
		Rows []struct {
			Lever int
			Cells []struct{ Question, Verdict, Shown string }
		}
		Tightest string
	}
	if code := asked(t, &r, "levers", "../../demo/sanderling", "--json"); code != 0 {
		t.Fatalf("exit %d", code)
	}
	if len(r.Levers) < 40 || len(r.Rows) != len(r.Levers) || r.Tightest == "" {
		t.Errorf("%d levers, %d rows, tightest %q", len(r.Levers), len(r.Rows), r.Tightest)
	}
	seen := map[int]bool{}
	for _, row := range r.Rows {
		if seen[row.Lever] || len(row.Cells) != len(r.Base) || len(r.Levers[row.Lever].Edits) == 0 {
			t.Errorf("row %+v", row)
		}
		seen[row.Lever] = true
		for i, c := range row.Cells {
			if c.Question != r.Base[i].Question {
				t.Errorf("lever %d: %s stands where %s is due", row.Lever, c.Question, r.Base[i].Question)
			}
		}
	}
	var one struct {
		Name  string
		Lines []struct{ File, Before, After string }
	}
	asked(t, &one, "levers", "../../demo/sanderling", "--show", "wind generator", "--json")
	if len(one.Lines) != 1 || one.Lines[0].File != "boat.yaml" || !strings.Contains(one.Lines[0].After, "{what: wind generator, mass: 9 kg, at: [6.20 m, 0 m, 2.10 m], known: weighed}") {
		t.Errorf("%+v", one)
	}
}

// TestLists: the lists of the demo boats, to the terminal, to a spreadsheet and back without a change.
func TestLists(t *testing.T) {
	for _, boat := range []string{"../../demo/sanderling", "../../demo/turnstone"} {
		to := t.TempDir()
		var out, errs bytes.Buffer
		if code := run(context.Background(), []string{"lists", boat, "--day", "20"}, &out, &errs); code != 0 || errs.Len() > 0 || out.Len() < 4000 {
			t.Errorf("%s: exit %d, %d bytes, %s", boat, code, out.Len(), errs.String())
		}
		if code := run(context.Background(), []string{"lists", boat, "--day", "20", "--csv", to}, &out, &errs); code != 0 {
			t.Fatalf("%s: exit %d, %s", boat, code, errs.String())
		}
		for _, file := range []string{"stores.csv", "inventory.csv"} {
			var took struct {
				Edits   []any
				Written bool
			}
			if asked(t, &took, "lists", boat, "--take", filepath.Join(to, file), "--json"); len(took.Edits) > 0 || took.Written {
				t.Errorf("%s: %s changes %v", boat, file, took)
			}
		}
	}
}
