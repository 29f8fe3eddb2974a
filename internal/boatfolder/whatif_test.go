package boatfolder

import (
	"math"
	"strings"
	"testing"

	"thole/internal/model"
)

// The starter's levers and the demos' can all be made, and say what is written.
func TestLevers(t *testing.T) {
	dir := t.TempDir() + "/new"
	if err := Starter(dir); err != nil {
		t.Fatal(err)
	}
	for _, d := range []string{dir, "../../demo/sanderling", "../../demo/turnstone"} {
		f, faults := Read(d)
		if len(faults) > 0 {
			t.Fatalf("%v", faults)
		}
		if len(f.Levers) < 10 {
			t.Errorf("%s: %d levers", d, len(f.Levers))
		}
		for _, l := range f.Levers {
			if l.Fault != "" || len(l.Acts) == 0 || l.Source.Line == 0 {
				t.Errorf("%s: %+v", d, l)
			}
		}
	}
}

const levers = `levers:
  - {name: a, shift: {what: all up, by: [10 cm, 0 m, -1 in]}, ballast: -5 lb, days: -2 weeks}
  - name: b
    heavier: [{what: [all up, rower], by: 10 %}, {what: all up, by: +3 kg}]
    fuller: {from: 1 m, to: 2 m, by: -2.5 %}
    leave: -1 month
  - {name: c, set: {"boat.yaml: water": 1000 kg/m3}, add: {what: "a, b", mass: 2 kg, at: [1 m, 0 m, 1 ft]}}
`

const oneVoyage = "leave: 2027-01-12\ndays: 80\ncrew: [{name: rower, mass: 76 kg, places: {outside: none}}]\n"

// Source: docs/boat-folder.md, whatif.yaml; NIST SP 811 for pound and inch.
func TestLeversAreRead(t *testing.T) {
	boat := strings.Replace(smallest, "0.42 m]}", "0.42 m], ballast: yes}", 1)
	f := mustRead(t, map[string]string{"boat.yaml": boat, "whatif.yaml": levers, "voyage.yaml": oneVoyage})
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	act := func(lever int, do model.Doing, n int) model.Act {
		t.Helper()
		for _, a := range f.Levers[lever].Acts {
			if a.Do == do {
				if n == 0 {
					return a
				}
				n--
			}
		}
		t.Fatalf("lever %d has no %s", lever, do)
		return model.Act{}
	}
	near("shift aft", act(0, model.Shift, 0).By.X, 0.1)
	near("shift up", act(0, model.Shift, 0).By.Z, -0.0254)
	near("ballast", float64(act(0, model.MoreBallast, 0).Change.Mass), -5*0.45359237)
	near("days", float64(act(0, model.Days, 0).Days), -14)
	near("share", act(1, model.Heavier, 0).Change.Share, 0.1)
	near("mass", float64(act(1, model.Heavier, 1).Change.Mass), 3)
	near("finer", act(1, model.Fuller, 0).Change.Share, -0.025)
	near("months", float64(act(1, model.Leave, 0).Months), -1)
	if a := act(1, model.Heavier, 0); len(a.What) != 2 || a.What[1] != "rower" {
		t.Errorf("names %q", a.What)
	}
	if a := act(2, model.SetValue, 0); a.File != "boat.yaml" || a.Key != "water" || a.Text != "1000 kg/m3" {
		t.Errorf("set %+v", a)
	}
	if a := act(2, model.Add, 0); a.Item != `{what: "a, b", mass: 2 kg, at: [1 m, 0 m, 1 ft]}` {
		t.Errorf("added %s", a.Item)
	}
	for _, l := range f.Levers {
		if l.Fault != "" {
			t.Error(l.Fault)
		}
	}
}

// What is written wrongly is a fault of the folder, all of it at once, with its place.
func TestLeverFaults(t *testing.T) {
	text := `levers:
  - {name: a, shift: {what: all up, by: [10, 0 m, 0 m]}}
  - {name: b}
  - {name: c, ballast: 0 kg}
  - {name: d, days: soon}
  - {name: e, fuller: {from: 2 m, to: 1 m, by: 5 kg}}
  - {name: f, raise: {cabin: x, well: y, by: 1 cm}}
  - {name: a, opens: hatch}
  - {name: g, set: {camber: 1}}
`
	_, faults := inMemory(with(map[string]string{"whatif.yaml": text}))
	got := faults.Error()
	for _, want := range []string{
		"whatif.yaml:2:42: ", "whatif.yaml:3:5: lever \"b\" does nothing", "whatif.yaml:4:24: ", "whatif.yaml:5:21: days \"soon\" is not understood (write +7, or -7 days)",
		"whatif.yaml:6:39: ", "whatif.yaml:6:48: ", "whatif.yaml:7:22: ", "whatif.yaml:8:", "did you mean open?", "the name is taken", "whatif.yaml:9:21: \"camber\" does not say where",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("not told: %s\nin\n%s", want, got)
		}
	}
}

// A name that the folder does not hold spoils its lever and nothing else.
func TestLeversThatCannotBeMade(t *testing.T) {
	for _, c := range []struct{ act, want string }{
		{"move: {mass: 2 kg, from: 201, to: 202}", `no compartment is called "201"`},
		{"shift: {what: al up, by: [1 m, 0 m, 0 m]}", `nothing aboard is called "al up" (did you mean all up?)`},
		{"heavier: {what: all up, by: -700 kg}", "that is all of 620 kg"},
		{"leave out: oars", `nothing aboard is called "oars"`},
		{"leave out: rower", `"rower" is one of the crew`},
		{"open: hatch", `no opening is called "hatch"`},
		{"raise: {well: x, by: 1 cm}", `no well is called "x"`},
		{"fuller: {from: 70 m, to: 80 m, by: 5 %}", "beyond her ends"},
		{"food: {days: +7}", "nothing in stores.csv is used up"},
		{"ballast: +10 kg", "nothing is marked ballast"},
		{"days: -80", "that leaves 0 days"},
	} {
		f := mustRead(t, map[string]string{"whatif.yaml": "levers: [{name: x, " + c.act + "}]\n", "voyage.yaml": oneVoyage})
		if len(f.Levers) != 1 || !strings.Contains(f.Levers[0].Fault, c.want) || !strings.HasPrefix(f.Levers[0].Fault, "whatif.yaml:1:") {
			t.Errorf("%s: %+v", c.act, f.Levers)
		}
	}
}

const putBoat = `compartments:
  - {number: 201, name: fore bin, from: 0.5 m, to: 1.5 m}
  - {number: 202, name: aft bin, from: 1.5 m, to: 2.5 m}
  - {name: hold, from: 2.5 m, to: 3.5 m}
`

const putStores = `what,count,mass,where
tins,10,1 kg,201
pans,1,2 kg,201
day bags,5,1 kg,201
day bags,5,1 kg,202
flag,1,0.1 kg,1 m; 0 m; 0.5 m
`

// Stores are put elsewhere by their names; what cannot be done is told at its part.
//
// Source: docs/boat-folder.md, whatif.yaml
func TestPut(t *testing.T) {
	read := func(put string) *model.Folder {
		t.Helper()
		return mustRead(t, map[string]string{"boat.yaml": smallest + putBoat, "stores.csv": putStores, "whatif.yaml": "levers: [{name: x, " + put + "}]\n"})
	}
	f := read("put: [{what: Day Bags, from: locker 201, to: hold, count: 2}, {what: [pans, flag], to: 202}]")
	if l := f.Levers[0]; l.Fault != "" || len(l.Acts) != 2 || l.Acts[0].Do != model.Put || l.Acts[0].Count != 2 || l.Acts[0].From != "locker 201" || l.Acts[0].To != "hold" || len(l.Acts[1].What) != 2 {
		t.Errorf("%+v", l)
	}
	for _, c := range []struct{ put, want string }{
		{"put: {what: tin, to: hold}", `whatif.yaml:1:32: nothing in stores.csv is called "tin" (did you mean tins?)`},
		{"put: {what: all up, to: hold}", `"all up" is a weight in boat.yaml, not a row of stores.csv`},
		{"put: {what: tins, to: 203}", `no compartment is called "203"`},
		{"put: {what: tins, from: 203, to: hold}", `no compartment is called "203"`},
		{"put: {what: tins, from: 202, to: hold}", `no tins lie in 202 aft bin (they lie in 201 fore bin)`},
		{"put: {what: day bags, to: hold}", `several rows are called day bags: they lie in 201 fore bin and 202 aft bin (say which: from)`},
		{"put: {what: day bags, from: 201, to: hold, count: 6}", `whatif.yaml:1:70: there are 5 of day bags there, not 6 (write count: 5, or leave it out for all)`},
		{"put: {what: tins, from: 201, to: fore bin}", "the stores are there already"},
		{"put: {what: tins, to: 201}", `"tins" lies there already`},
		// One after the other: what has been taken is no longer there, and what was laid down may be taken up.
		{"put: [{what: tins, to: hold, count: 6}, {what: tins, from: 201, to: 202, count: 5}]", "there are 4 of tins there, not 5"},
		{"put: [{what: tins, to: hold, count: 6}, {what: tins, from: hold, to: 202, count: 6}]", ""},
		{"put: [{what: tins, to: hold}, {what: tins, to: 202}]", ""},
		{"move: {mass: 10 kg, from: 201, to: 202}, put: {what: tins, from: 202, to: hold}", ""},
		{"another: {what: flag, to: hold, count: 2}", ""},
		{"another: {what: day bags, to: hold}", "several rows are called day bags"},
		{"put: {what: day bags, from: 201, to: hold}, another: {what: day bags, from: hold}", ""},
		{"another: {what: flags}", `nothing in stores.csv is called "flags" (did you mean flag?)`},
		{"another: {what: flag, to: 7}", `no compartment is called "7"`},
		{"another: {what: tins, from: 202}", "no tins lie in 202 aft bin"},
	} {
		got := read(c.put).Levers[0].Fault
		if c.want == "" && got != "" || !strings.Contains(got, c.want) || c.want != "" && got == "" {
			t.Errorf("%s: %q, want %q", c.put, got, c.want)
		}
	}
	// What no folder could do is a fault of the file.
	_, faults := inMemory(with(map[string]string{"boat.yaml": smallest + putBoat, "stores.csv": putStores, "whatif.yaml": `levers:
  - {name: a, put: {what: [tins, pans], to: hold, count: 1}}
  - {name: b, put: {to: hold}}
  - {name: c, put: {what: tins, to: hold, count: 0}}
`}))
	for _, want := range []string{"whatif.yaml:2:58: count is of one name, and here are 2", "whatif.yaml:3:", "what", `count "0" is not a whole number`} {
		if !strings.Contains(faults.Error(), want) {
			t.Errorf("not told: %s\nin\n%v", want, faults)
		}
	}
}
