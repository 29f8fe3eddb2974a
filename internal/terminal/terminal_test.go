package terminal

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"thole/internal/answer"
	"thole/internal/house/gallery"
	"thole/internal/house/golden"
	"thole/internal/levers"
	"thole/internal/model"
	"thole/internal/sheet"
)

// tools are wired to the gallery's invented answers.
func tools(env map[string]string, table []answer.Question) Tools {
	return Tools{
		Table: table, Version: "test",
		Read:  func(string) (*model.Folder, error) { return gallery.Folder(), nil },
		Stamp: func(string) (string, error) { return "3f9a1c", nil },
		Start: func(string) error { return nil },
		Schema: func(name string) []byte {
			if name == "oar" {
				return nil
			}
			return []byte(`{"title":"` + name + `"}`)
		},
		Levers: startersLevers,
		Print: func(w io.Writer, _ *answer.Case, all []answer.Answer, _ levers.Result, stamp string) error {
			_, err := fmt.Fprintf(w, "%d %s", len(all), stamp)
			return err
		},
		Env: func(k string) string { return env[k] },
	}
}

var unicodeEnv = map[string]string{"LANG": "en_GB.UTF-8"}

func run(t *testing.T, tl Tools, args ...string) (code int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	code = Run(context.Background(), tl, args, &o, &e)
	return code, o.String(), e.String()
}

func TestGoldenText(t *testing.T) {
	for _, c := range []struct {
		name string
		env  map[string]string
		args []string
	}{
		{"check-80", unicodeEnv, []string{"check", "x"}},
		{"check-ascii-80", map[string]string{"LC_ALL": "C"}, []string{"check", "x"}},
		{"check-40", map[string]string{"LANG": "C.utf8", "COLUMNS": "40"}, []string{"check", "x"}},
		{"check-120", map[string]string{"LANG": "C.utf8", "COLUMNS": "120"}, []string{"check", "x"}},
		{"ask-80", unicodeEnv, []string{"ask", "upright", "x"}},
		{"ask-ascii-80", nil, []string{"upright", "x"}},
		{"ask-40", map[string]string{"LANG": "C.utf8", "COLUMNS": "40"}, []string{"marks", "x"}},
		{"help", unicodeEnv, []string{"--help"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, out, _ := run(t, tools(c.env, gallery.Table()), c.args...)
			if strings.Contains(out, "\x1b") {
				t.Error("escape codes in a pipe")
			}
			golden.Check(t, c.name+".golden", []byte(out))
		})
	}
}

// TestFitsWidth: no line is wider than the terminal, at any width, and ASCII stays ASCII.
func TestFitsWidth(t *testing.T) {
	for width := 40; width <= 120; width += 5 {
		for _, lang := range []string{"C", "C.UTF-8"} {
			env := map[string]string{"LANG": lang, "COLUMNS": fmt.Sprint(width)}
			for _, args := range [][]string{{"check", "x"}, {"ask", "upright", "x"}} {
				_, out, _ := run(t, tools(env, gallery.Table()), args...)
				for _, l := range strings.Split(out, "\n") {
					if n := columns(l); n > width {
						t.Errorf("%v at %d (%s): %d columns: %q", args, width, lang, n, l)
					}
				}
				for _, r := range out {
					if lang == "C" && r > 126 {
						t.Errorf("%v: %q in a terminal without it", args, r)
						break
					}
				}
			}
		}
	}
}

// TestEveryBlock walks sheet.Block by reflection: a kind the terminal does not
// draw writes nothing and fails here.
func TestEveryBlock(t *testing.T) {
	kind := reflect.TypeFor[sheet.Block]()
	all := gallery.Blocks()
	for i := range kind.NumField() {
		name, _, _ := strings.Cut(kind.Field(i).Tag.Get("json"), ",")
		var b bytes.Buffer
		p := &page{w: &b, look: Look{Width: 80, Unicode: true}}
		p.block(all[name])
		if len(strings.TrimSpace(b.String())) < 20 {
			t.Errorf("the terminal does not draw a %s: %q", name, b.String())
		}
	}
}

func TestExitStatus(t *testing.T) {
	all := gallery.Table() // yes, close, no, cannot tell
	cannotRead := tools(nil, all)
	cannotRead.Read = func(string) (*model.Folder, error) {
		return nil, errors.New("boat.yaml:14:11: mass \"42\" has no unit (write 42 kg)\nboat.yaml:15:3: second fault")
	}
	broken := []answer.Question{{ID: "broken", Group: answer.Shape, Ask: func(context.Context, *answer.Case, answer.Options) (answer.Answer, error) {
		return answer.Answer{}, errors.New("no draft carries the mass")
	}}}
	for _, c := range []struct {
		name  string
		tools Tools
		args  []string
		want  int
		says  string // on standard error
	}{
		{"yes and close", tools(nil, all[:2]), []string{"check", "x"}, 0, ""},
		{"a no", tools(nil, all), []string{"check", "x"}, 1, ""},
		{"cannot tell, no no", tools(nil, append(all[:2:2], all[3])), []string{"check", "x"}, 3, ""},
		{"one verb", tools(nil, all), []string{"clears", "x"}, 3, ""},
		{"cannot be read", cannotRead, []string{"check", "x"}, 2, "boat.yaml:14:11: mass \"42\" has no unit (write 42 kg)\nboat.yaml:15:3: second fault\n"},
		{"no folder named", tools(nil, all), []string{"check"}, 2, "thole check needs a FOLDER\nhow to write it: thole check FOLDER"},
		{"a folder too many", tools(nil, all), []string{"check", "x", "y"}, 2, `takes nothing more: "y"`},
		{"no such flag", tools(nil, all), []string{"check", "x", "--fast"}, 2, "unknown flag: --fast"},
		{"no such verb", tools(nil, all), []string{"chekc"}, 2, `there is no verb "chekc" (did you mean check?)`},
		{"no such question", tools(nil, all), []string{"ask", "rigth", "x"}, 2, "ask one of: shape, marks, upright, clears"},
		{"day after the trip", tools(nil, all), []string{"check", "x", "--day", "81"}, 2, "--day 81 is outside the trip (day 0 to day 80)"},
		{"day before", tools(nil, all), []string{"check", "x", "--day", "-1"}, 2, "outside the trip"},
		{"no such condition", tools(nil, all), []string{"check", "x", "--condition", "aloft"}, 2, "(at the oars, in the cabin)"},
		{"a number where nothing is drawn", tools(nil, all), []string{"ask", "upright", "x", "--number", "3"}, 2, "upright draws nothing by chance"},
		{"bad heel", tools(nil, all), []string{"upright", "x", "--heels", "0,ten"}, 2, `"ten" is not a heel`},
		{"question breaks", tools(nil, broken), []string{"check", "x"}, 2, "no draft carries the mass (asking broken)"},
		{"schema", tools(nil, all), []string{"schema", "boat"}, 0, ""},
		{"no such schema", tools(nil, all), []string{"schema", "oar"}, 2, "oar"},
		{"version", tools(nil, all), []string{"version"}, 0, ""},
		{"verb taken", tools(nil, []answer.Question{{ID: "check"}}), []string{"version"}, 2, "bears the name of another verb"},
	} {
		t.Run(c.name, func(t *testing.T) {
			code, _, errs := run(t, c.tools, c.args...)
			if code != c.want {
				t.Errorf("exit %d, want %d; %s", code, c.want, errs)
			}
			if !strings.Contains(errs, c.says) {
				t.Errorf("stderr %q does not say %q", errs, c.says)
			}
		})
	}
}

// TestJSON: what machines read is the answer itself, one object or an array.
func TestJSON(t *testing.T) {
	_, out, errs := run(t, tools(nil, gallery.Table()), "check", "x", "--json")
	var all []map[string]any
	if err := json.Unmarshal([]byte(out), &all); err != nil || len(all) != 4 || errs != "" {
		t.Fatalf("%v, %d answers, stderr %q", err, len(all), errs)
	}
	want, err := json.MarshalIndent(gallery.Answers()[2], "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	_, out, _ = run(t, tools(nil, gallery.Table()), "upright", "x", "--json")
	if strings.TrimSpace(out) != string(want) {
		t.Errorf("ask --json is not the answer:\n%s", out)
	}
}

func TestOptionsReachTheQuestion(t *testing.T) {
	var got answer.Options
	table := []answer.Question{{ID: "probe", Group: answer.Afloat, Draws: "lots", Numbered: true, Ask: func(_ context.Context, _ *answer.Case, o answer.Options) (answer.Answer, error) {
		got = o
		return answer.Answer{Verdict: answer.Yes}, nil
	}}}
	code, _, errs := run(t, tools(nil, table), "probe", "x", "--day", "12", "--condition", "in the cabin", "--heels", "0, 90", "--number", "17")
	if got.Again == nil || *got.Again != 17 {
		t.Errorf("number %v", got.Again)
	}
	if code != 0 || got.Day != 12 || got.Condition != "in the cabin" || len(got.Heels) != 2 {
		t.Fatalf("%d %+v %s", code, got, errs)
	}
	// 90 degrees is a quarter of a turn: pi/2, by definition.
	if d := got.Heels[1] - 1.5707963267948966; d > 1e-15 || d < -1e-15 {
		t.Errorf("heel %v rad", got.Heels[1])
	}
}

func TestStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	table := []answer.Question{{ID: "long", Group: answer.Afloat, Ask: func(c context.Context, _ *answer.Case, _ answer.Options) (answer.Answer, error) {
		cancel()
		<-c.Done()
		return answer.Answer{}, c.Err()
	}}}
	var o, e bytes.Buffer
	if code := Run(ctx, tools(nil, table), []string{"check", "x"}, &o, &e); code != Stopped || !strings.Contains(e.String(), "stopped") {
		t.Errorf("%d %s", code, e.String())
	}
}

func TestBook(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "out.pdf")
	code, out, errs := run(t, tools(nil, gallery.Table()), "book", "x", "-o", file)
	b, err := os.ReadFile(file)
	if code != 0 || err != nil || string(b) != "4 3f9a1c" || strings.TrimSpace(out) != file {
		t.Errorf("%d %v %q %q %s", code, err, b, out, errs)
	}
	tl := tools(nil, gallery.Table())
	tl.Print = func(io.Writer, *answer.Case, []answer.Answer, levers.Result, string) error {
		return errors.New("paper out")
	}
	code, _, _ = run(t, tl, "book", "x", "-o", file)
	left, err := os.ReadDir(dir)
	if err != nil || code != 2 || len(left) != 1 {
		t.Errorf("a failed book left %v (exit %d)", left, code)
	}
}

func TestServe(t *testing.T) {
	tl := tools(nil, gallery.Table())
	var addr string
	tl.Serve = func(_ context.Context, _ string, _ []answer.Question, a string, ready func(string)) error {
		addr = a
		ready("http://127.0.0.1:9/")
		return nil
	}
	code, out, _ := run(t, tl, "serve", "x", "--no-open", "--port", "9")
	if code != 0 || addr != "127.0.0.1:9" || !strings.HasPrefix(out, "http://127.0.0.1:9/") {
		t.Errorf("%d %q %q", code, addr, out)
	}
}

// TestServeBeyond: only who asks for a network gets one, and is cautioned.
func TestServeBeyond(t *testing.T) {
	tl := tools(nil, gallery.Table())
	var addr string
	tl.ServeBeyond = func(_ context.Context, _ string, _ []answer.Question, a string, _ func(string)) error {
		addr = a
		return nil
	}
	code, _, errs := run(t, tl, "serve", "x", "--no-open", "--listen", "192.0.2.7")
	if code != 0 || addr != "192.0.2.7:8137" || !strings.Contains(errs, "may read this folder and change it") {
		t.Errorf("%d %q %q", code, addr, errs)
	}
}

// TestMark: the places worked out by hand from distance v/(1+v), the stroke at
// 0.35 of 13 columns; what holds by a hair never shows as short, nor the other way.
func TestMark(t *testing.T) {
	margin := func(v, asked, spread float64, verdict answer.Verdict) answer.Answer {
		return answer.Answer{Verdict: verdict, Margin: &answer.Margin{Value: v, Asked: asked, Spread: spread}}
	}
	for _, c := range []struct {
		name string
		a    answer.Answer
		want string
	}{
		{"holds", margin(0.2, 0.1, 0.02, answer.Yes), "----|----=*--"},
		{"close", margin(0.01, 0.1, 0.05, answer.Close), "---=|*==-----"},
		{"short", margin(-0.1, 0.1, 0.01, answer.No), "--*-|--------"},
		{"cannot tell", answer.Answer{Verdict: answer.CannotTell}, "----o--------"},
		{"just holds", margin(1e-9, 0.1, 0, answer.Close), "----|*-------"},
		{"just short", margin(-1e-9, 0.1, 0, answer.No), "---*|--------"},
	} {
		if got := (Look{Width: 80}).mark(c.a); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestMarkKeepsItsSide: wherever the margin is, the dot is on its own side of the stroke.
func TestMarkKeepsItsSide(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		a := answer.Answer{Verdict: answer.Close, Margin: &answer.Margin{
			Value: rapid.Float64Range(-1e6, 1e6).Draw(r, "value"), Asked: rapid.Float64Range(0, 10).Draw(r, "asked"),
			Spread: rapid.Float64Range(0, 1e3).Draw(r, "spread")}}
		m := (Look{Width: 80}).mark(a)
		dot, stroke := strings.Index(m, "*"), strings.Index(m, "|")
		if len(m) != markColumns || a.Margin.Value > 0 && dot < stroke || a.Margin.Value < 0 && dot > stroke {
			r.Errorf("%+v: %s", a.Margin, m)
		}
	})
}

func TestLook(t *testing.T) {
	env := func(m map[string]string) func(string) string { return func(k string) string { return m[k] } }
	for _, c := range []struct {
		env     map[string]string
		width   int
		unicode bool
	}{
		{nil, 80, false},
		{map[string]string{"LANG": "de_DE.utf8", "COLUMNS": "100"}, 100, true},
		{map[string]string{"LANG": "en_GB.UTF-8", "LC_ALL": "C"}, 80, false},
		{map[string]string{"COLUMNS": "20"}, 40, false},
		{map[string]string{"COLUMNS": "400"}, 120, false},
	} {
		l := LookOf(&bytes.Buffer{}, env(c.env))
		if l.Width != c.width || l.Unicode != c.unicode || l.Colour {
			t.Errorf("%v: %+v", c.env, l)
		}
	}
	if s := (Look{Colour: true}).bold("x"); s != "\x1b[1mx\x1b[0m" {
		t.Errorf("%q", s)
	}
}
