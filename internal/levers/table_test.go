package levers

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/house/patience"
	"thole/internal/model"
	"thole/internal/questions"
	"thole/internal/units"
)

// longWay asks every question in full of a folder on disk.
func longWay(t testing.TB, dir string, o answer.Options) []answer.Answer {
	t.Helper()
	f, faults := boatfolder.Read(dir)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c := answer.NewCase(f)
	var out []answer.Answer
	for _, q := range questions.Table {
		o.Bare = q.Draws != "" // few draws are set beside few
		a, err := q.Ask(context.Background(), c, o)
		if err != nil {
			t.Error(err)
		}
		out = append(out, a)
	}
	return out
}

// sameMargin tells whether two margins are one within 1e-6 of their size.
func sameMargin(a, b *answer.Margin) bool {
	if a == nil || b == nil {
		return a == b
	}
	near := func(x, y, size float64) bool { return math.Abs(x-y) <= 1e-6*math.Max(size, 1e-3) }
	size := math.Max(math.Abs(a.Value), math.Abs(a.Spread))
	return near(a.Value, b.Value, size) && near(a.Spread, b.Spread, size) && near(a.Confidence, b.Confidence, 1) && a.Unit == b.Unit && a.What == b.What && a.Asked == b.Asked
}

// Every row is what the questions say, asked in full, of a folder in which the lever's text is saved. This guards
// what is left out for a row (Options.Bare) and what is taken over from the folder as it stands (NewCaseFrom).
//
// Few levers in every run, one of each kind of change: load, shape, compartments, days. The others with THOLE_LONG=1.
//
// Source: the same questions, asked the slow and plain way.
func TestRowsAreWhatTheFolderWouldSay(t *testing.T) {
	if testing.Short() {
		t.Skip("asks whole boats in full; left out with -short")
	}
	for _, c := range []struct {
		demo  string
		day   int
		words []string
		few   int // how many of them in every run
	}{
		{"sanderling", 0, []string{"wind generator", "stern 5 % fuller", "a week more", "sole 20 mm lower", "cabins as low", "fresh"}, 2},
		{"turnstone", 40, []string{"drains a size", "aft cabin's crown 2 in higher", "six jugs", "a week fewer"}, 1},
	} {
		c.words = c.words[:patience.Rounds(c.few, len(c.words))]
		desk, err := Open("../../demo/" + c.demo)
		if err != nil {
			t.Fatal(err)
		}
		var some []Lever
		for _, w := range c.words {
			for _, l := range desk.Levers {
				if strings.Contains(l.Name, w) {
					some = append(some, l)
					break
				}
			}
		}
		if len(some) != len(c.words) {
			t.Fatalf("%s: %d levers of %d", c.demo, len(some), len(c.words))
		}
		o := answer.Options{Day: c.day}
		r, err := Table(context.Background(), desk.draft, desk.base, questions.Table, some, o, nil)
		if err != nil {
			t.Fatal(err)
		}
		was := longWay(t, "../../demo/"+c.demo, o)
		// With sheets and parts to cut only for the first: these take most of the time.
		each(len(r.Rows), func(i int) {
			row := r.Rows[i]
			l := some[row.Lever]
			dir := copied(t, "../../demo/"+c.demo)
			d, _ := opened(t, dir)
			d, faults := d.With(l.Edits...)
			if len(faults) > 0 {
				t.Error(faults)
				return
			}
			for _, file := range d.Files() {
				text, _ := d.Text(file)
				if err := os.WriteFile(filepath.Join(dir, file), []byte(text), 0o600); err != nil {
					t.Error(err)
				}
			}
			slow := o
			slow.Brief = row.Lever > 0
			now := longWay(t, dir, slow)
			for i, cell := range row.Cells {
				if questions.Table[i].Draws != "" && was[i].Verdict == now[i].Verdict { // told as all draws have it
					was[i].Verdict, now[i].Verdict = cell.Was, cell.Verdict
				}
				if cell.Verdict != now[i].Verdict || cell.Was != was[i].Verdict || !sameMargin(cell.Margin, now[i].Margin) {
					t.Errorf("%s, %s, %s: the row has %s %+v, the folder %s %+v", c.demo, l.Name, cell.Question, cell.Verdict, cell.Margin, now[i].Verdict, now[i].Margin)
				}
				if a, b := was[i].Margin, now[i].Margin; cell.Known && math.Abs(cell.Change-(b.Value-a.Value)) > 1e-6*math.Max(1e-3, math.Abs(a.Value)) {
					t.Errorf("%s, %s, %s: change %v, want %v", c.demo, l.Name, cell.Question, cell.Change, b.Value-a.Value)
				}
			}
		})
	}
}

// box is 4 m by 1 m by 1 m, 620 kg in sea water, with a weight of ballast at the middle of her waterplane.
func box(t testing.TB, whatif string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"boat.yaml": `boat: Box
water: 1025 kg/m3
hull:
  offsets: offsets.csv
weights:
  - {what: all up, mass: 600 kg +- 1 kg, at: [2 m, 0 m, 0.2 m]}
  - {what: stone, mass: 20 kg +- 1 kg, at: [2 m, 0 m, 0.15 m], ballast: yes}
`,
		"offsets.csv": "station,distance_mm,height_mm,halfbreadth_mm\n" +
			"0,0,0,0\n0,0,0,500\n0,0,0,500\n0,0,1000,500\n1,2000,0,0\n1,2000,0,500\n1,2000,0,500\n1,2000,1000,500\n" +
			"2,4000,0,0\n2,4000,0,500\n2,4000,0,500\n2,4000,1000,500\n",
		"whatif.yaml": whatif,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// cellOf finds a lever's cell.
func cellOf(t testing.TB, r Result, lever, question string) Cell {
	t.Helper()
	for _, row := range r.Rows {
		if r.Levers[row.Lever].Name != lever {
			continue
		}
		if row.Trouble != "" {
			t.Fatalf("%s: %s", lever, row.Trouble)
		}
		for _, c := range row.Cells {
			if c.Question == question {
				return c
			}
		}
	}
	t.Fatalf("there is no lever %q", lever)
	return Cell{}
}

// Weight put at the middle of a wall-sided waterplane sinks her by its mass over water's density and the waterplane's area.
//
// Source: Archimedes; 10 kg / (1025 kg/m³ · 4 m²)
func TestBox(t *testing.T) {
	desk, err := Open(box(t, `levers:
  - {name: ten, ballast: +10 kg}
  - {name: five off, ballast: -25 %}
  - {name: another, add: {what: lead, mass: 10 kg, at: [2 m, 0 m, 0.15 m]}}
  - {name: same, set: {"boat.yaml: weights[1].mass": 30 kg +- 1 kg}}
  - {name: less, set: [{"boat.yaml: weights[1].mass": 30 kg +- 1 kg}, {"boat.yaml: weights[0].mass": 590 kg +- 1 kg}]}
`))
	if err != nil {
		t.Fatal(err)
	}
	r, err := desk.Table(context.Background(), questions.Table, answer.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	const sink = 10 / (1025 * 4.0)
	for lever, want := range map[string]float64{"ten": -sink, "five off": sink / 2, "another": -sink, "same": -sink, "less": 0} {
		if c := cellOf(t, r, lever, "float"); !c.Known || math.Abs(c.Change-want) > 1e-6 { // what can be measured is a thousand times more
			t.Errorf("%s: %+v, want %v", lever, c, want)
		}
	}
	// One act, and the same written by hand as a value.
	a, b := cellOf(t, r, "ten", "right"), cellOf(t, r, "same", "right")
	if a.Change != b.Change || a.Verdict != b.Verdict {
		t.Errorf("%+v and %+v", a, b)
	}
}

// made is a question that answers from the folder by a rule of the test.
func made(id string, ask func(f *model.Folder, o answer.Options) (answer.Answer, error)) answer.Question {
	return answer.Question{ID: id, Title: id + "?", Ask: func(_ context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
		a, err := ask(c.Folder, o)
		a.Question = id
		return a, err
	}}
}

// margin is an answer with one, judged as every answer is.
func margin(v, asked float64) answer.Answer {
	m := answer.Margin{Value: v, Unit: "kg", Asked: asked, Confidence: 1, What: "mass"}
	return answer.Answer{Margin: &m, Verdict: m.Judge()}
}

func stone(f *model.Folder) float64 { return float64(f.Boat.Weights[1].Mass.Value) }

// A question that breaks down or fails with a lever is that row's trouble; the others come, and the rows are sorted as promised.
func TestTable(t *testing.T) {
	desk, err := Open(box(t, `levers:
  - {name: worse, ballast: +10 kg}
  - {name: water, set: {"boat.yaml: water": 1000 kg/m3}}
  - {name: better, ballast: -15 kg}
  - {name: broken, ballast: +80 kg}
  - {name: failing, ballast: +90 kg}
  - {name: no boat, set: {"boat.yaml: weights[1].mass": heavy}}
  - {name: nothing there, leave out: anchor}
  - {name: a little better, ballast: -5 kg}
`))
	if err != nil {
		t.Fatal(err)
	}
	desk.Levers = desk.Levers[:8]
	table := []answer.Question{
		made("wide", func(*model.Folder, answer.Options) (answer.Answer, error) { return margin(5, 1), nil }),
		made("light", func(f *model.Folder, o answer.Options) (answer.Answer, error) {
			switch {
			case stone(f) > 105:
				return answer.Answer{}, errors.New("too heavy to ask")
			case stone(f) > 95:
				panic("no such weight")
			}
			return margin(25-stone(f), 10), nil
		}),
	}
	var came []Row
	r, err := desk.Table(context.Background(), table, answer.Options{}, func(row Row) { came = append(came, row) })
	if err != nil || len(came) != 8 || r.Tightest != "light" {
		t.Fatalf("%d rows, tightest %s, %v", len(came), r.Tightest, err)
	}
	var order []string
	for _, row := range r.Rows {
		order = append(order, desk.Levers[row.Lever].Name)
	}
	if got := strings.Join(order, "; "); got != "better; a little better; worse; water; broken; failing; no boat; nothing there" {
		t.Errorf("order: %s", got)
	}
	if r.Rows[0].Cells[1].Verdict != answer.Yes || r.Rows[0].Cells[1].Was != answer.Close || r.Rows[0].Cells[1].Shown != "+15 kg" {
		t.Errorf("%+v", r.Rows[0])
	}
	if !r.Rows[3].Nothing || r.Rows[0].Nothing || r.Rows[3].Cells[0].Shown != "0" {
		t.Errorf("%+v", r.Rows[3])
	}
	for i, want := range map[int]string{4: "broke down: no such weight", 5: "too heavy to ask", 6: "boat.yaml:7:", 7: `nothing aboard is called "anchor"`} {
		if !strings.Contains(r.Rows[i].Trouble, want) {
			t.Errorf("row %d: %q", i, r.Rows[i].Trouble)
		}
	}
}

// A question that cannot be asked of the folder as it stands says so in its cells; the others go on, and sort the rows.
func TestOneThatCannotBeAsked(t *testing.T) {
	desk, err := Open(box(t, "levers: [{name: worse, ballast: +10 kg}, {name: better, ballast: -15 kg}]\n"))
	if err != nil {
		t.Fatal(err)
	}
	desk.Levers = desk.Levers[:2]
	asked := 0
	table := []answer.Question{
		made("log", func(*model.Folder, answer.Options) (answer.Answer, error) {
			asked++
			return answer.Answer{}, errors.New("the log is torn")
		}),
		made("light", func(f *model.Folder, _ answer.Options) (answer.Answer, error) { return margin(25-stone(f), 10), nil }),
		made("broken", func(*model.Folder, answer.Options) (answer.Answer, error) { panic("no such page") }),
	}
	for range 2 { // the second time from what is kept
		r, err := desk.Table(context.Background(), table, answer.Options{}, nil)
		if err != nil || r.Tightest != "light" || len(r.Rows) != 2 || asked != 1 {
			t.Fatalf("%d rows, tightest %q, asked %d times, %v", len(r.Rows), r.Tightest, asked, err)
		}
		if first := desk.Levers[r.Rows[0].Lever].Name; first != "better" {
			t.Errorf("%s helps most", first)
		}
		for _, row := range r.Rows {
			if row.Trouble != "" || row.Nothing {
				t.Errorf("%+v", row)
			}
			for i, why := range []string{"the log is torn", "", "broke down: no such page"} {
				c := row.Cells[i]
				if c.Question != table[i].ID || (c.Verdict == "") != (why != "") || (c.Trouble == "") != (why == "") || !strings.Contains(c.Trouble, why) {
					t.Errorf("%+v", c)
				}
			}
			if said := row.Cells[0].Said(true); len(said) != 1 || said[0] != "not asked" {
				t.Errorf("%q", said)
			}
		}
		if r.Base[0].Verdict != "" || r.Base[0].Title != "log?" || r.Standing(true)[0] != "not asked" || !strings.Contains(r.Note(), "log? could not be asked: the log is torn.") {
			t.Errorf("%+v; %s", r.Base[0], r.Note())
		}
	}
}

// The work ends soon after it is called off, with what was done.
func TestCalledOff(t *testing.T) {
	desk, err := Open(box(t, "levers: [{name: a, ballast: +1 kg}, {name: b, ballast: +2 kg}, {name: c, ballast: +3 kg}, {name: d, ballast: +4 kg}]\n"))
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	table := []answer.Question{made("slow", func(f *model.Folder, _ answer.Options) (answer.Answer, error) {
		if stone(f) != 20 {
			cancel()
		}
		return margin(1, 2), nil
	})}
	r, err := desk.Table(ctx, table, answer.Options{}, nil)
	if !errors.Is(err, context.Canceled) || len(r.Rows) == len(desk.Levers) || len(r.Base) != 1 {
		t.Errorf("%d rows, %v", len(r.Rows), err)
	}
}

// Margins of another kind are not taken from one another.
func TestCompare(t *testing.T) {
	was := margin(25, 50)
	other := margin(40, 50)
	other.Margin.What, other.Margin.Shown = "height", "40 mm"
	unsure := margin(25, 50)
	unsure.Margin.Spread = 3
	for _, c := range []struct {
		name  string
		now   answer.Answer
		want  string
		known bool
		same  bool
	}{
		{"the same", margin(25, 50), "0", true, true},
		{"rounding", margin(25*(1+1e-13), 50), "0", true, true},
		{"more", margin(27.25, 50), "+2.2 kg", true, false},
		{"less", margin(-75, 50), "−100 kg", true, false},
		{"another kind", other, "now 40 mm", false, false},
		{"less sure", unsure, "less sure", true, false},
		{"untold", answer.Answer{Verdict: answer.CannotTell}, "cannot tell", false, false},
	} {
		cell, same := compare("q", was, c.now, units.Metric)
		if cell.Shown != c.want || cell.Known != c.known || same != c.same || cell.Verdict != c.now.Verdict {
			t.Errorf("%s: %+v, %v", c.name, cell, same)
		}
	}
}

// The tightest answer is the worst verdict, then the least margin for what is asked.
func TestTightest(t *testing.T) {
	for _, c := range []struct {
		all  []answer.Answer
		want int
	}{
		{[]answer.Answer{margin(10, 5), margin(3, 4), margin(7, 8)}, 1},
		{[]answer.Answer{margin(10, 5), margin(-1, 4), margin(1, 80)}, 1},
		{[]answer.Answer{{Verdict: answer.CannotTell}, margin(10, 5), margin(10, 6)}, 2},
		{[]answer.Answer{{Verdict: answer.CannotTell}}, -1},
	} {
		if got := tightest(c.all); got != c.want {
			t.Errorf("%+v: %d, want %d", c.all, got, c.want)
		}
	}
}
