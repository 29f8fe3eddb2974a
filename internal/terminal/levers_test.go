package terminal

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/house/gallery"
	"thole/internal/house/golden"
	"thole/internal/levers"
)

// startersLevers are those of a new folder, whatever folder is asked for.
func startersLevers(string) (*levers.Desk, error) {
	dir, err := os.MkdirTemp("", "thole")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	if err := boatfolder.Starter(filepath.Join(dir, "new")); err != nil {
		return nil, err
	}
	return levers.Open(filepath.Join(dir, "new"))
}

// pulled is an invented table: a verdict that changes, a margin of another kind, nothing, and trouble.
func pulled(questions int) levers.Result {
	var r levers.Result
	for i := range questions {
		m := answer.Margin{Value: 0.062, Unit: "m", Asked: 0.05, Shown: "62 mm ± 20 mm", What: "height left"}
		r.Base = append(r.Base, answer.Answer{Question: []string{"upright", "marks", "weather", "food", "port", "oars", "night"}[i], Title: "Will she?", Verdict: answer.Close, Margin: &m})
	}
	r.Tightest = "upright"
	for i, name := range []string{"stern 5 % fuller", "the heaviest things of all aboard 100 mm lower down in her", "leave a month later", "no anchor"} {
		r.Levers = append(r.Levers, levers.Lever{Name: name, Group: "hatches"})
		row := levers.Row{Lever: i, Nothing: i == 2}
		for k, a := range r.Base {
			c := levers.Cell{Question: a.Question, Was: answer.Close, Verdict: answer.Close, Margin: a.Margin, Known: true, Shown: "0"}
			switch {
			case i == 0 && k == 0:
				c.Shown, c.Verdict = "−112 mm", answer.No
			case i == 0 && k == 1:
				c.Shown, c.Verdict, c.Known = "cannot tell", answer.CannotTell, false
			case i == 1 && k == 2:
				c.Shown, c.Known = "now 40 mm ± 2 mm", false
			case i == 1 && k == 0:
				c.Shown, c.Verdict = "+8.2 mm", answer.Yes
			case i == 1:
				c.Shown = "less sure"
			}
			row.Cells = append(row.Cells, c)
		}
		if i == 3 {
			row.Trouble = "whatif.yaml:3:5: nothing aboard is called \"anchor\""
		}
		r.Rows = append(r.Rows, row)
	}
	return r
}

func TestGoldenLevers(t *testing.T) {
	for _, c := range []struct {
		name      string
		look      Look
		questions int
	}{
		{"levers-80", Look{Width: 80, Unicode: true}, 5},
		{"levers-120", Look{Width: 120, Unicode: true}, 5},
		{"levers-ascii-40", Look{Width: 40}, 3},
	} {
		var b bytes.Buffer
		p := &page{w: &b, look: c.look}
		p.levers(pulled(c.questions))
		golden.Check(t, c.name+".golden", b.Bytes())
	}
}

// The table fits every width with any number of questions, and ASCII stays ASCII.
func TestLeversFit(t *testing.T) {
	for width := 40; width <= 120; width += 5 {
		for questions := 1; questions <= 7; questions++ {
			for _, unicode := range []bool{false, true} {
				var b bytes.Buffer
				p := &page{w: &b, look: Look{Width: width, Unicode: unicode}}
				p.levers(pulled(questions))
				for _, l := range strings.Split(b.String(), "\n") {
					if columns(l) > width {
						t.Errorf("%d wide, %d questions: %q", width, questions, l)
					}
					for _, r := range l {
						if !unicode && r > 126 {
							t.Errorf("%q in a terminal without it: %q", r, l)
							break
						}
					}
				}
			}
		}
	}
}

// The verb writes the table, or the lines of one lever.
func TestLevers(t *testing.T) {
	tl := tools(unicodeEnv, gallery.Table())
	code, out, errs := run(t, tl, "levers", "x", "--json")
	var r levers.Result
	if err := json.Unmarshal([]byte(out), &r); code != 0 || err != nil || len(r.Rows) != len(r.Levers) || len(r.Base) != len(gallery.Table()) {
		t.Fatalf("%d, %d rows, %v, %s", code, len(r.Rows), err, errs)
	}
	code, out, _ = run(t, tl, "levers", "x", "--show", "1")
	if code != 0 || !strings.Contains(out, "stores.csv:") || !strings.Contains(out, "\n- day bag of food,30,1.05 kg,201") || !strings.Contains(out, "\n+ day bag of food,") {
		t.Errorf("%d, %s", code, out)
	}
	code, out, _ = run(t, tl, "levers", "x", "--show", "a flat deck")
	if want := "\n- deck: {camber: 50 mm}             # how"; code != 0 || !strings.Contains(out, want) {
		t.Errorf("%d, %s", code, out)
	}
	for _, wrong := range []string{"0", "900", "no such lever", "a"} {
		if code, _, errs := run(t, tl, "levers", "x", "--show", wrong); code != Unread || errs == "" {
			t.Errorf("--show %s: %d, %s", wrong, code, errs)
		}
	}
	if _, out, _ := run(t, tl, "levers", "x"); !strings.Contains(out, "as she is") || !strings.Contains(out, "--show NUMBER") {
		t.Error(out)
	}
}
