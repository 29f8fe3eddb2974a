package boatfolder

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"pgregory.net/rapid"
)

// nasty are letters that yaml and csv make something of.
var nasty = []rune("ab1 .,;:#'\"\\{}[]-+|>&*!%@`?~=<é😀²\t")

// Set, then set back gives the same bytes, and in between nothing else has another value; whatever the text is.
func TestSetAndSetBack(t *testing.T) {
	var drafts []*Draft
	var values [][]Value
	for _, name := range demos {
		d := demo(t, name)
		drafts = append(drafts, d)
		var all []Value
		for _, file := range d.Files() {
			for _, v := range d.Values(file) {
				if v.Kind != "" && v.Kind != "place" {
					all = append(all, v)
				}
			}
		}
		values = append(values, all)
	}
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(0, len(drafts)-1).Draw(t, "boat")
		d, v := drafts[i], rapid.SampledFrom(values[i]).Draw(t, "value")
		text := rapid.OneOf(
			rapid.StringOfN(rapid.RuneFrom(nasty), 1, 12, -1),
			rapid.SampledFrom([]string{"null", "~", "yes", "0x1f", "1e3", "-", "---", "- x", "a: b", "x #y", "2027-01-12", ".inf", "+7", "''", `""`, "0-1-2+", "=", "<<", "a\nb", "a\n\nb\n", "\u0085", "\u2028", "\ufeff"}),
		).Draw(t, "text")
		want := text
		if strings.HasSuffix(v.File, ".csv") {
			if want = strings.TrimSpace(text); strings.ContainsAny(text, "\n") {
				return
			}
		}
		e, faults := d.With(Edit{File: v.File, Key: v.Key, Was: v.Text, Text: text})
		if faults != nil {
			t.Fatalf("refused: %v", faults)
		}
		before, after := d.Values(v.File), e.Values(v.File)
		if len(before) != len(after) {
			t.Fatalf("%d values were %d", len(after), len(before))
		}
		for k, w := range after {
			switch {
			case w.Key == v.Key:
				if w.Text != want {
					t.Fatalf("%s is %q, not %q", w.Key, w.Text, want)
				}
			case w.Key != before[k].Key || w.Text != before[k].Text:
				t.Fatalf("%+v was %+v", w, before[k])
			}
		}
		if len(e.Changes()) > 1 || len(e.changed) > 1 {
			t.Fatalf("changes %+v", e.Changes())
		}
		back, faults := e.With(Edit{File: v.File, Key: v.Key, Was: want, Text: v.Text})
		if faults != nil {
			t.Fatalf("set back: %v", faults)
		}
		// Quotation marks that the text needed stay.
		for _, c := range back.Changes() {
			if plain := strings.NewReplacer(`"`, "", "'", ""); plain.Replace(c.Before) != plain.Replace(c.After) {
				t.Fatalf("set back: %+v", c)
			}
		}
	})
}

// plainText is for values that need no quotation marks anywhere.
var plainText = rapid.StringMatching(`[a-z][a-z0-9]{0,8}( [a-z0-9]{1,5})?`)

// Edits of different values may be made in any order, and together or one by one; made backwards they leave no trace.
func TestEditsCommute(t *testing.T) {
	for _, name := range demos {
		d := demo(t, name)
		var all []Value
		for _, file := range d.Files() {
			for _, v := range d.Values(file) {
				if v.Kind != "" && v.Kind != "place" && v.Text != "" {
					all = append(all, v)
				}
			}
		}
		rapid.Check(t, func(t *rapid.T) {
			chosen := rapid.SliceOfNDistinct(rapid.SampledFrom(all), 1, 5, func(v Value) string { return v.File + v.Key }).Draw(t, "values")
			var edits, back []Edit
			for _, v := range chosen {
				text := plainText.Draw(t, "text")
				edits = append(edits, Edit{File: v.File, Key: v.Key, Text: text})
				back = append(back, Edit{File: v.File, Key: v.Key, Was: text, Text: v.Text})
			}
			one, faults := d.With(edits...)
			if faults != nil {
				t.Fatal(faults)
			}
			other := d
			for _, i := range rapid.Permutation(seq(len(edits))).Draw(t, "order") {
				if other, faults = other.With(edits[i]); faults != nil {
					t.Fatal(faults)
				}
			}
			if !alike(one, other) {
				t.Fatal("the order matters")
			}
			again, faults := one.With(back...)
			if faults != nil || len(again.changed) > 0 {
				t.Fatalf("made backwards: %v %+v", faults, again.Changes())
			}
		})
	}
}

func seq(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

func alike(a, b *Draft) bool {
	if !reflect.DeepEqual(a.Changes(), b.Changes()) {
		return false
	}
	for _, name := range a.Files() {
		if x, _ := a.Text(name); x != string(b.leaf(name).data) {
			return false
		}
	}
	return true
}

// What is put in and taken out again leaves no trace.
func TestInsertAndRemove(t *testing.T) {
	for _, name := range demos {
		d := demo(t, name)
		tree, _ := d.leaf("boat.yaml").yaml()
		table, _ := d.leaf("stores.csv").cells()
		rapid.Check(t, func(t *rapid.T) {
			list := rapid.SampledFrom([]string{"weights", "compartments", "openings", "wells", "cabins", "wells[0].drains", "pumps[0].reaches", "weights[2].at", "rows"}).Draw(t, "list")
			e := Edit{File: "boat.yaml", Text: "{what: gel, name: gel, mass: 1 kg}"}
			count := len(table.body)
			if list == "rows" {
				e.File, e.Text = "stores.csv", "gel,1,1 kg,100"
			} else {
				n := follow(tree, list).end()
				if count = len(n.items); n.flow {
					e.Text = "gel"
				}
			}
			e.Do, e.Key = Insert, fmt.Sprintf("%s[%d]", list, rapid.IntRange(0, count).Draw(t, "index"))
			in, faults := d.With(e)
			if faults != nil {
				t.Fatal(faults)
			}
			if c := in.Changes(); len(c) != 1 || !c[0].New && e.Text != "gel" || !strings.Contains(c[0].After, e.Text) {
				t.Fatalf("changes %+v", c)
			}
			e.Do, e.Was = Remove, e.Text
			out, faults := in.With(e)
			if faults != nil || len(out.changed) > 0 {
				t.Fatalf("%v %+v", faults, out.Changes())
			}
		})
	}
}

// flat gives every value of a yaml text by its path, as the library itself decodes it.
func flatYaml(text string) (map[string]string, bool) {
	var v any
	if yaml.Unmarshal([]byte(text), &v) != nil {
		return nil, false
	}
	out := map[string]string{}
	var walk func(path string, v any)
	walk = func(path string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, w := range v {
				walk(path+"."+k, w)
			}
		case []any:
			for i, w := range v {
				walk(fmt.Sprintf("%s[%d]", path, i), w)
			}
		default:
			out[strings.TrimPrefix(path, ".")] = fmt.Sprintf("%T %v", v, v)
		}
	}
	walk("", v)
	return out, true
}

// common are the bytes that two texts have in common at their starts and ends.
func common(a, b string) int {
	n := min(len(a), len(b))
	i := 0
	for i < n && a[i] == b[i] {
		i++
	}
	j := 0
	for j < n-i && a[len(a)-1-j] == b[len(b)-1-j] {
		j++
	}
	return i + j
}

// checkEdit makes an edit of a text that may be anything, and checks that it does what it says or is refused.
func checkEdit(t *testing.T, file, text string, e Edit) {
	e.File = file
	d := draftOf(map[string]string{file: text})
	got, faults := d.With(e)
	if (got == nil) != (len(faults) > 0) {
		t.Fatalf("%v and %v", got, faults)
	}
	for _, f := range faults {
		if f.Say == "" || f.Mend == "" {
			t.Fatalf("poor fault %+v", f)
		}
	}
	for _, v := range d.Values(file) {
		same, faults := d.With(Edit{File: file, Key: v.Key, Was: v.Text, Text: v.Text})
		if len(faults) > 0 {
			t.Fatalf("%+v: %v", v, faults)
		}
		if same != nil && len(same.changed) > 0 {
			t.Fatalf("%+v: %+v", v, same.Changes())
		}
	}
	if got == nil {
		return
	}
	got.Read()
	got.Changes()
	after := string(got.leaf(file).data)
	for name := range got.changed {
		if name != file {
			t.Fatalf("%s changed", name)
		}
	}
	switch e.Do {
	case Insert:
		if common(text, after) != len(text) && len(text) > 0 {
			t.Fatalf("inserting took something away:\n%q\n%q", text, after)
		}
	case Remove:
		if common(text, after) < len(after)-3 {
			t.Fatalf("removing put something in:\n%q\n%q", text, after)
		}
	case Set:
		if strings.HasSuffix(file, ".csv") {
			break
		}
		a, ok := flatYaml(text)
		b, good := flatYaml(after)
		if ok && !good {
			t.Fatalf("no longer read: %q", after)
		}
		for path, v := range a {
			if ok && !strings.HasPrefix(path, e.Key) && !strings.HasPrefix(e.Key, path) && b[path] != v {
				t.Fatalf("%s was %s and is %s\n%q\n%q", path, v, b[path], text, after)
			}
		}
	}
}

func FuzzEditKeys(f *testing.F) {
	starterBoat, _ := starter.ReadFile("starter/boat.yaml")
	for _, text := range []string{string(starterBoat), smallest, welled, "a:\n  - - x\n    - y\n  -\n  - |\n    z\nb: {}\nc: []\nd: [a, 'b', {e: \"f\"}]\n"} {
		for _, key := range []string{"boat", "weights[0].mass", "weights[0].at[1]", "wells[0]", "limits.heel", "a[0][1]", "d[2].e"} {
			f.Add(text, key, "", "", "1.5 kg")
			f.Add(text, key, "insert", "", "{a: b}")
			f.Add(text, key, "remove", "x", "")
		}
	}
	f.Add("t: x\nhull:\n  offsets\\ offsets.csv     \f", "hull", "", "", "offsets")
	f.Fuzz(func(t *testing.T, text, key, do, of, now string) {
		if len(text) > 4000 {
			return
		}
		checkEdit(t, "boat.yaml", text, Edit{Key: key, Do: Act(do), Of: of, Text: now})
		checkEdit(t, "voyage.yaml", text, Edit{Key: key, Do: Act(do), Of: of, Text: now})
	})
}

func FuzzEditCells(f *testing.F) {
	starterStores, _ := starter.ReadFile("starter/stores.csv")
	for _, text := range []string{string(starterStores), "what;mass\n# x\n\"a;b\" ;1,5 kg\n\n c,d;\"e\"\"f\"\n", "what,mass\r\na,b"} {
		for _, key := range []string{"rows[0].mass", "rows[1].what", "rows[0]", "rows[2]"} {
			f.Add(text, key, "", "", "1.5 kg")
			f.Add(text, key, "insert", "", "a,b")
			f.Add(text, key, "remove", "x", "")
		}
	}
	f.Add("what;mass;mass\nc;1 kg;", "rows[0].mass", "", "", "")
	f.Fuzz(func(t *testing.T, text, key, do, of, now string) {
		if len(text) > 4000 {
			return
		}
		checkEdit(t, "stores.csv", text, Edit{Key: key, Do: Act(do), Of: of, Text: now})
	})
}
