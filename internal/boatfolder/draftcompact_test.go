package boatfolder

import (
	"fmt"
	"reflect"
	"testing"
)

// What is put together, and what must not be.
func TestCompact(t *testing.T) {
	set := func(key, was, text string) Edit { return Edit{File: "boat.yaml", Key: key, Was: was, Text: text} }
	named := func(of string, e Edit) Edit { e.Of = of; return e }
	in := func(file string, e Edit) Edit { e.File = file; return e }
	remove := Edit{File: "boat.yaml", Key: "weights[0]", Do: Remove}
	insert := Edit{File: "boat.yaml", Key: "weights[1]", Do: Insert, Text: "{what: lead, mass: 1 kg}"}
	for _, c := range []struct {
		name     string
		of, want []Edit
	}{
		{"nothing", nil, []Edit{}},
		{"twice", []Edit{set("a", "1", "2"), set("a", "2", "3")}, []Edit{set("a", "1", "3")}},
		{"without was", []Edit{set("a", "1", "2"), set("a", "", "3")}, []Edit{set("a", "1", "3")}},
		{"others between", []Edit{set("a", "1", "2"), set("b", "1", "2"), in("x.csv", set("a", "5", "6")), set("a", "2", "3")}, []Edit{set("a", "1", "3"), set("b", "1", "2"), in("x.csv", set("a", "5", "6"))}},
		{"a row between, of another file", []Edit{set("a", "1", "2"), in("x.csv", remove), set("a", "2", "3")}, []Edit{set("a", "1", "3"), in("x.csv", remove)}},
		{"moved by a removal", []Edit{set("weights[1].mass", "1", "2"), remove, set("weights[1].mass", "2", "3")}, []Edit{set("weights[1].mass", "1", "2"), remove, set("weights[1].mass", "2", "3")}},
		{"moved by an insert", []Edit{set("weights[1].mass", "1", "2"), insert, set("weights[1].mass", "2", "3")}, []Edit{set("weights[1].mass", "1", "2"), insert, set("weights[1].mass", "2", "3")}},
		{"the whole between", []Edit{set("a.b", "1", "2"), set("a", "{b: 2}", "{b: 4}"), set("a.b", "4", "5")}, []Edit{set("a.b", "1", "2"), set("a", "{b: 2}", "{b: 4}"), set("a.b", "4", "5")}},
		{"a part between", []Edit{set("at", "[1, 2]", "[1, 3]"), set("at[0]", "1", "4"), set("at", "[4, 3]", "[5, 3]")}, []Edit{set("at", "[1, 2]", "[1, 3]"), set("at[0]", "1", "4"), set("at", "[4, 3]", "[5, 3]")}},
		{"a name that begins so", []Edit{set("a", "1", "2"), set("ab", "1", "2"), set("a", "2", "3")}, []Edit{set("a", "1", "3"), set("ab", "1", "2")}},
		{"of another item", []Edit{named("x", set("a", "1", "2")), named("y", set("a", "2", "3"))}, []Edit{named("x", set("a", "1", "2")), named("y", set("a", "2", "3"))}},
		{"not what stands there", []Edit{set("a", "1", "2"), set("a", "9", "3")}, []Edit{set("a", "1", "2"), set("a", "9", "3")}},
	} {
		if got := Compact(c.of); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// The folder with the edits put together is the folder with all of them one after the other.
func TestCompactIsTheSameFolder(t *testing.T) {
	d, faults := Open("../../demo/sanderling")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	masses, now := []Value{}, map[string]string{}
	for _, v := range d.Values("boat.yaml") {
		if v.Kind == "mass" {
			masses = append(masses, v)
			now[v.Key] = v.Text
		}
	}
	if len(masses) < 3 {
		t.Fatalf("%d masses", len(masses))
	}
	var all []Edit
	for i := range 200 {
		v := masses[i%3]
		text := fmt.Sprintf("%d kg", 10+i)
		all = append(all, Edit{File: "boat.yaml", Key: v.Key, Of: v.Of, Was: now[v.Key], Text: text})
		now[v.Key] = text
	}
	few := Compact(all)
	if len(few) != 3 || few[0].Was != masses[0].Text {
		t.Fatalf("%d edits: %+v", len(few), few)
	}
	a, faultsA := d.With(all...)
	b, faultsB := d.With(few...)
	if len(faultsA)+len(faultsB) > 0 {
		t.Fatal(faultsA, faultsB)
	}
	one, _ := a.Text("boat.yaml")
	other, _ := b.Text("boat.yaml")
	if one != other || a.Stamp() != b.Stamp() {
		t.Errorf("%s\n\n%s", one, other)
	}
}
