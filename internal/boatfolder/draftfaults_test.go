package boatfolder

import (
	"strings"
	"testing"
)

const crewed = `from: {name: Mindelo, at: [16.886 N, 24.988 W]}
crew:
  - name: rower
    mass: 76 kg
    places:
      at the no. 2 oars [aft]: [3.42 m, 0 m, 0.78 m]
      outside: none
`

const welled = smallest + `wells:
  - {name: well, from: 1 m, to: 2 m, half-breadth: 0.3 m, sole: 0.3 m, drains: [{name: a, at: [1 m, 0 m, 0.3 m], diameter: 5 mm}]}
  - {name: footwell, from: 3 m, to: 4 m, half-breadth: 0.3 m, sole: 0.3 m, drains: [{name: b, at: [3 m, 0 m, 0.3 m], diameter: 5 mm}, {name: c, at: [3 m, 0 m, 0.3 m], diameter: 5 mm}]}
`

// Every edit that cannot be made is told at once, with its place and the mend.
func TestRefusedEdits(t *testing.T) {
	d := draftOf(map[string]string{
		"voyage.yaml": crewed, "boat.yaml": welled, "trials.yaml": "floated: [", "notes.yaml": "a: 1\n",
		"stores.csv": "what,mass,where\nbags,1 kg,3\nbags,2 kg,3\nrope,2 kg,3\n",
	})
	for _, c := range []struct {
		edit Edit
		want string
	}{
		{Edit{File: "boat.yaml", Key: "weights[0].mass", Was: "42 kg", Text: "50 kg"}, `boat.yaml:5:26: weights[0].mass is "620 kg", not "42 kg" (look again: it has been changed since)`},
		{Edit{File: "boat.yaml", Key: "weights[3].mass", Text: "50 kg"}, `boat.yaml:5:3: weights[3].mass: the list has 1 of them (look again, or insert a new one)`},
		{Edit{File: "boat.yaml", Key: "weights[0].mass", Of: "anchor", Text: "50 kg"}, `boat.yaml:5:5: weights[0].mass is "all up", not "anchor", and none is called so (look again: the list has changed)`},
		{Edit{File: "boat.yaml", Key: "weights[0].masss", Text: "50 kg"}, `boat.yaml:5:5: unknown key "weights[0].masss" (docs/boat-folder.md says which keys there are)`},
		{Edit{File: "boat.yaml", Key: "hull.offsets.x", Text: "1"}, `boat.yaml:3:12: hull.offsets.x leads to nothing (docs/boat-folder.md says which keys there are)`},
		{Edit{File: "boat.yaml", Key: "limits.heel", Was: "1 deg", Text: "2 deg"}, `boat.yaml:1:1: limits.heel is not there, and was "1 deg" (look again: it has been taken out since)`},
		{Edit{File: "boat.yaml", Key: "weights[0].at", Text: "[1 m"}, `boat.yaml:5:38: "[1 m" for weights[0].at cannot be read: sequence end token ']' not found (write it as in docs/boat-folder.md: [3.1 m, 0 m, 0.4 m], {in: 203})`},
		{Edit{File: "boat.yaml", Key: "boat", Text: ""}, `boat.yaml:1:7: boat would be empty (write a value, or take the key out)`},
		{Edit{File: "boat.yaml", Key: "marks[1]", Do: Insert, Text: "{name: a}"}, `boat.yaml:1:1: marks is not there (look again: it has been taken out since)`},
		{Edit{File: "boat.yaml", Key: "weights[2]", Do: Insert, Text: "{name: a}"}, `boat.yaml:5:3: weights[2]: the list has 1 of them (look again: the list has changed)`},
		{Edit{File: "boat.yaml", Key: "deck", Do: Remove}, `boat.yaml:1:1: deck is not there (look again: it may have been taken out already)`},
		{Edit{File: "boat.yaml", Key: "weights[0]", Do: Remove, Was: "{what: x}"}, `boat.yaml:5:5: weights[0] is "{what: all up, mass: 620 kg, at: [3.10 m…", not "{what: x}" (look again: it has been changed since)`},
		{Edit{File: "boat.yaml", Key: "boat", Do: "turn"}, `boat.yaml:1:7: "turn" is nothing that can be done (write insert, remove, or nothing to set a value)`},
		{Edit{File: "trials.yaml", Key: "floated[0].day", Text: "1"}, `trials.yaml:1:10: before anything can be set here: sequence end token ']' not found (look at the brackets, colons and indentation here and on the line before)`},
		{Edit{File: "stores.csv", Key: "rows[2].mass", Was: "3 kg", Text: "1 kg"}, `stores.csv:4:6: rows[2].mass is "2 kg", not "3 kg" (look again: it has been changed since)`},
		{Edit{File: "stores.csv", Key: "rows[2].mas", Text: "1 kg"}, `stores.csv:4:1: the table has no column "mas" (did you mean mass?)`},
		{Edit{File: "stores.csv", Key: "rows[3].mass", Text: "1 kg"}, `stores.csv:1:1: row 3 is not there: the table has 3 (look again: the table has changed)`},
		{Edit{File: "stores.csv", Key: "rows[2].mass", Of: "bags", Text: "1 kg"}, `stores.csv:4:1: row 2 is "rope", not "bags", and 2 are called so (look again: the table has changed)`},
		{Edit{File: "stores.csv", Key: "rows[2].mass", Do: Remove}, `stores.csv:4:1: only a row can be put in or taken out, not rows[2].mass (name the row, as rows[2])`},
		{Edit{File: "stores.csv", Key: "mass", Text: "1 kg"}, `stores.csv: "mass" is no place in a table (write rows[7].mass, or rows[7] for a row)`},
		{Edit{File: "stores.csv", Key: "rows[1]", Do: Insert, Text: "a\nb"}, `stores.csv:3:1: a row that runs over several lines (write its cells in one line, with , between)`},
		{Edit{File: "../boat.yaml", Key: "boat", Text: "x"}, `../boat.yaml: does not lie inside the folder (copy it into the folder and name it without .. or a leading /)`},
		{Edit{File: "earlier/a.csv", Key: "rows[0].x", Text: "x"}, `earlier/a.csv: is not a file of the boat folder (name boat.yaml, a table that it names, stores.csv, voyage.yaml, needs.yaml, trials.yaml or whatif.yaml)`},
		{Edit{File: "tries.json", Key: "version", Text: "1"}, `tries.json: is not a file of the boat folder (name boat.yaml, a table that it names, stores.csv, voyage.yaml, needs.yaml, trials.yaml or whatif.yaml)`},
		{Edit{File: "other.csv", Key: "rows[0].x", Text: "x"}, `other.csv: is not in the folder (write it first, or mend the name)`},
	} {
		got, faults := d.With(c.edit)
		if got != nil || faults.Error() != c.want {
			t.Errorf("%+v:\n%v\nwant\n%s", c.edit, faults, c.want)
		}
		if len(faults) == 1 && (faults[0].Key == "" || faults[0].Mend == "") {
			t.Errorf("poor fault %+v", faults)
		}
	}
	_, faults := d.With(
		Edit{File: "boat.yaml", Key: "nothing", Text: "1"}, Edit{File: "boat.yaml", Key: "boat", Text: "Wren"},
		Edit{File: "stores.csv", Key: "rows[9].mass", Text: "1 kg"}, Edit{File: "boat.yaml", Key: "wells[7].sole", Text: "1 m"},
	)
	if len(faults) != 3 || faults[0].File != "boat.yaml" || faults[2].File != "stores.csv" {
		t.Errorf("all faults at once: %v", faults)
	}
	var many []Edit
	for range mostRebuilt + 20 {
		many = append(many, Edit{File: "boat.yaml", Key: "weights[0]", Do: Insert, Text: "{what: a}"})
	}
	if _, faults := d.With(many...); len(faults) != 1 || faults[0].Say != "more than 300 keys and items put in or taken out at once" {
		t.Errorf("more keys than are put in at once: %v", faults)
	}
	if many, faults := d.With(make([]Edit, mostEdits+1)...); many != nil || len(faults) != 1 {
		t.Error("more edits than are made at once")
	}
}

// The item of a name is found again when it has moved.
func TestEditsFindTheirItem(t *testing.T) {
	for _, c := range []struct {
		edit Edit
		want string // what the text then holds
	}{
		{Edit{File: "boat.yaml", Key: "wells[0].sole", Of: "footwell", Text: "0.31 m"}, "{name: footwell, from: 3 m, to: 4 m, half-breadth: 0.3 m, sole: 0.31 m"},
		{Edit{File: "boat.yaml", Key: "wells[5].sole", Of: "footwell", Text: "0.31 m"}, "half-breadth: 0.3 m, sole: 0.31 m, drains: [{name: b"},
		{Edit{File: "boat.yaml", Key: "wells[1].drains[0].diameter", Of: "c", Text: "6 mm"}, "{name: c, at: [3 m, 0 m, 0.3 m], diameter: 6 mm}"},
		{Edit{File: "boat.yaml", Key: "wells[0].drains[0].at[2]", Of: "b", Text: "0.2 m"}, "{name: b, at: [3 m, 0 m, 0.2 m], diameter: 5 mm}"},
		{Edit{File: "boat.yaml", Key: "wells[0].drains[3]", Of: "c", Do: Remove}, "diameter: 5 mm}]}\n"},
		{Edit{File: "voyage.yaml", Key: "crew[4].places.at the no. 2 oars [aft][1]", Of: "rower", Text: "0.1 m"}, "at the no. 2 oars [aft]: [3.42 m, 0.1 m, 0.78 m]"},
		{Edit{File: "voyage.yaml", Key: "crew[0].places.outside", Text: "{in: locker 3}"}, "outside: {in: locker 3}\n"},
		{Edit{File: "voyage.yaml", Key: "crew[0].places.on the bow: asleep", Text: "[1 m, 0 m, 1 m]"}, `      "on the bow: asleep": [1 m, 0 m, 1 m]` + "\n"},
		{Edit{File: "whatif.yaml", Key: "levers[0].shift.by", Text: "[0 m, 0 m, 1 m]"}, "shift: {what: b, by: [0 m, 0 m, 1 m]}"},
		{Edit{File: "whatif.yaml", Key: "levers[0].set.boat.yaml: deck.camber", Of: "a", Text: "1 mm"}, `{"boat.yaml: deck.camber": 1 mm}`},
		{Edit{File: "stores.csv", Key: "rows[0].mass", Of: "rope", Text: "3 kg"}, "rope,3 kg,3\n"},
		{Edit{File: "stores.csv", Key: "rows[7]", Of: "rope", Do: Remove}, "what,mass,where\nbags,1 kg,3\n"},
	} {
		d, faults := draftOf(map[string]string{"voyage.yaml": crewed, "boat.yaml": welled,
			"whatif.yaml": "levers:\n  - {name: a, shift: {what: b}, set: {\"boat.yaml: deck.camber\": 0}}\n", "stores.csv": "what,mass,where\nbags,1 kg,3\nrope,2 kg,3\n"}).With(c.edit)
		if faults != nil {
			t.Errorf("%+v: %v", c.edit, faults)
			continue
		}
		if text, _ := d.Text(c.edit.File); !strings.Contains(text, c.want) || len(d.Changes()) != 1 {
			t.Errorf("%+v: %+v\n%s", c.edit, d.Changes(), text)
		}
	}
}

// A file that is not there is made by what is set in it.
func TestEditsMakeFiles(t *testing.T) {
	d, faults := draftOf(nil).With(
		Edit{File: "voyage.yaml", Key: "days", Text: "80"},
		Edit{File: "voyage.yaml", Key: "from.at", Text: "[16.886 N, 24.988 W]"},
		Edit{File: "voyage.yaml", Key: "crew[0]", Do: Insert, Text: "name: rower\nmass: 76 kg\nplaces:\n  outside: none"},
		Edit{File: "stores.csv", Key: "rows[0]", Do: Insert, Text: "gel,2,1 kg,\"3.1 m; 0 m; 0.4 m\""},
		Edit{File: "stores.csv", Key: "rows[0].used", Of: "gel", Text: "days 1-80"},
		Edit{File: "whatif.yaml", Key: "levers[0]", Do: Insert, Text: "{name: longer, days: +7}"},
		Edit{File: "boat.yaml", Key: "limits.height left", Text: "20 mm"},
	)
	if faults != nil {
		t.Fatal(faults)
	}
	for file, want := range map[string]string{
		"voyage.yaml": "days: 80\nfrom: {at: [16.886 N, 24.988 W]}\ncrew:\n  - name: rower\n    mass: 76 kg\n    places:\n      outside: none\n",
		"stores.csv":  "what,count,mass,where,used,known,provides,notes\ngel,2,1 kg,\"3.1 m; 0 m; 0.4 m\",days 1-80\n",
		"whatif.yaml": "levers:\n  - {name: longer, days: +7}\n",
		"boat.yaml":   smallest + "limits: {height left: 20 mm}\n",
	} {
		if got, ok := d.Text(file); !ok || got != want {
			t.Errorf("%s is\n%s\nwant\n%s", file, got, want)
		}
	}
	f, faults := d.Read()
	if faults != nil || f.Voyage.Days != 80 || len(f.Stores) != 1 || f.Boat.Limits.HeightLeft == nil {
		t.Errorf("read as %+v, %v", f, faults)
	}
	d, faults = draftOf(map[string]string{"voyage.yaml": "# nothing yet\n", "stores.csv": "# nor here"}).With(
		Edit{File: "voyage.yaml", Key: "days", Text: "80"}, Edit{File: "stores.csv", Key: "rows[0]", Do: Insert, Text: "gel,2,1 kg,203"},
	)
	if faults != nil {
		t.Fatal(faults)
	}
	if text, _ := d.Text("voyage.yaml"); text != "# nothing yet\ndays: 80\n" {
		t.Errorf("%q", text)
	}
	if text, _ := d.Text("stores.csv"); text != "# nor here\nwhat,count,mass,where,used,known,provides,notes\ngel,2,1 kg,203" {
		t.Errorf("%q", text)
	}
}

// What is new is told as new.
func TestChangesOfANewFile(t *testing.T) {
	d, faults := draftOf(nil).With(
		Edit{File: "voyage.yaml", Key: "days", Text: "80"},
		Edit{File: "stores.csv", Key: "rows[0]", Do: Insert, Text: "gel,2,1 kg,203"},
	)
	if faults != nil {
		t.Fatal(faults)
	}
	news := 0
	for _, c := range d.Changes() {
		if c.New {
			news++
		}
	}
	if news != 1+2 || len(d.Changes()) != news {
		t.Errorf("changes %+v", d.Changes())
	}
}

// What an edit does to a line is told line by line, whatever stands above it by then.
func TestChanges(t *testing.T) {
	d, faults := draftOf(map[string]string{"stores.csv": "what,mass,where\na,1 kg,3\nb,2 kg,3\nc,3 kg,3\n"}).With(
		Edit{File: "stores.csv", Key: "rows[1].mass", Text: "5 kg"},
		Edit{File: "stores.csv", Key: "rows[1]", Do: Insert, Text: "x,9 kg,3"},
		Edit{File: "stores.csv", Key: "rows[0]", Do: Remove},
		Edit{File: "stores.csv", Key: "rows[2].what", Text: "d"},
		Edit{File: "boat.yaml", Key: "boat", Text: "Wren"},
		Edit{File: "boat.yaml", Key: "water", Text: "1000 kg/m3"},
		Edit{File: "boat.yaml", Key: "water", Text: "1025 kg/m3"},
	)
	if faults != nil {
		t.Fatal(faults)
	}
	want := []Change{
		{File: "boat.yaml", Line: 1, Before: "boat: Test hull", After: "boat: Wren"},
		{File: "stores.csv", Line: 1, After: "x,9 kg,3", New: true},
		{File: "stores.csv", Line: 2, Before: "a,1 kg,3", Gone: true},
		{File: "stores.csv", Line: 3, Before: "b,2 kg,3", After: "b,5 kg,3"},
		{File: "stores.csv", Line: 4, Before: "c,3 kg,3", After: "d,3 kg,3"},
	}
	got := d.Changes()
	for i := range max(len(got), len(want)) {
		if i >= len(got) || i >= len(want) || got[i] != want[i] {
			t.Fatalf("changes\n%+v\nwant\n%+v", got, want)
		}
	}
	back, faults := d.With(Edit{File: "boat.yaml", Key: "boat", Text: "Test hull"})
	if faults != nil || len(back.Changes()) != len(want)-1 || back.changed["boat.yaml"] != nil {
		t.Errorf("set back: %v %v", faults, back.Changes())
	}
}
