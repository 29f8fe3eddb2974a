package boatfolder

import (
	"bytes"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"thole/internal/house/golden"
)

var published = []struct {
	name, title string
	shape       shape
}{
	{"boat", "boat.yaml of a Thole boat folder", boatShape},
	{"voyage", "voyage.yaml of a Thole boat folder", voyageShape},
	{"needs", "needs.yaml of a Thole boat folder", needsShape},
	{"trials", "trials.yaml of a Thole boat folder", trialsShape},
	{"whatif", "whatif.yaml of a Thole boat folder", whatifShape},
}

// The published schemas are what the reader's tables say.
func TestSchemas(t *testing.T) {
	for _, p := range published {
		want, err := generate(p.title, p.shape)
		if err != nil {
			t.Fatal(err)
		}
		golden.Check(t, "../../../schema/"+p.name+".schema.json", want)
		if len(Schema(p.name)) == 0 {
			t.Errorf("no schema of %s.yaml is embedded", p.name)
		}
	}
	if Schema("other") != nil {
		t.Error("a schema of no known name")
	}
}

func compiled(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema(name)))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(name, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// decoded reads yaml as JSON's kinds of values, by a general library.
func decoded(t *testing.T, text []byte) any {
	t.Helper()
	data, err := yaml.YAMLToJSON(text)
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Source: JSON Schema draft 2020-12 as carried out by santhosh-tekuri/jsonschema v6.
func TestSchemaTakesWhatTheReaderTakes(t *testing.T) {
	boat, voyage, needs, trials, whatif := compiled(t, "boat"), compiled(t, "voyage"), compiled(t, "needs"), compiled(t, "trials"), compiled(t, "whatif")
	for file, s := range map[string]*jsonschema.Schema{"boat.yaml": boat, "voyage.yaml": voyage, "needs.yaml": needs, "trials.yaml": trials, "whatif.yaml": whatif} {
		text, err := starter.ReadFile("starter/" + file)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(decoded(t, text)); err != nil {
			t.Errorf("the starter's %s: %v", file, err)
		}
	}
	if err := boat.Validate(decoded(t, []byte(smallest+rowed))); err != nil {
		t.Errorf("a boat under way: %v", err)
	}
	if err := voyage.Validate(decoded(t, []byte(bodied))); err != nil {
		t.Errorf("a voyage with a body: %v", err)
	}
	for _, bad := range []string{"scrape: weekly", "scrape: every 2.5 days", "water temperature: 26", "water temperature: 26 C +- 1 C"} {
		if voyage.Validate(decoded(t, []byte(bad))) == nil {
			t.Errorf("the schema takes %q", bad)
		}
	}
	if err := boat.Validate(decoded(t, []byte(smallest))); err != nil {
		t.Errorf("the smallest folder: %v", err)
	}
	for _, bad := range []struct{ old, new string }{
		{"mass: 620 kg", "mass: 620"},
		{"mass: 620 kg", "mass: 620 m"},
		{"mass: 620 kg", "mess: 620 kg"},
		{"boat: Test hull", "about: no name"},
		{"offsets: offsets.csv", "cuts: cuts.csv"},
		{"offsets: offsets.csv", "offsets: ../offsets.csv"},
		{"offsets: offsets.csv", "offsets: o.csv\n  cuts: cuts.csv\n  scale: 8"},
		{"0.42 m]", "0.42]"},
		{", 0.42 m]", "]"},
		{"at: [", "in: locker, at: ["},
		{"water: 1025 kg/m3", "water: 1025"},
		{"water: 1025 kg/m3", "units: stones"},
		{"water: 1025 kg/m3", "compartments: [{name: a, from: 1 m, to: 2 m, packing: 60}]"},
		{"water: 1025 kg/m3", "limits: {wind: 20}"},
		{"water: 1025 kg/m3", "rudder: {at: [1 m, 0 m, 0 m], chord: 280 mm}"},
		{"water: 1025 kg/m3", "anchors: [{name: a, kind: stone, mass: 6 kg}]"},
		{"water: 1025 kg/m3", "rowing: [{name: a, seat: [3 m, 0 m, 0.6 m], oars: {length: 3 m}}]"},
	} {
		text := strings.Replace(smallest, bad.old, bad.new, 1)
		if text == smallest {
			t.Fatalf("%q is not in the smallest folder", bad.old)
		}
		if boat.Validate(decoded(t, []byte(text))) == nil {
			t.Errorf("the schema takes %q", bad.new)
		}
		if _, faults := inMemory(map[string]string{"boat.yaml": text, "offsets.csv": box}); len(faults) == 0 {
			t.Errorf("the reader takes %q", bad.new)
		}
	}
	if err := trials.Validate(decoded(t, []byte(allTrials))); err != nil {
		t.Errorf("trials: %v", err)
	}
	if needs.Validate(decoded(t, []byte("functions: [{name: row, of: 2}]"))) == nil {
		t.Error("the schema takes a count of nothing")
	}
	if trials.Validate(decoded(t, []byte("rolled: [{date: 2026-09-14, rolls: 10, seconds: 21 s}]"))) == nil {
		t.Error("the schema takes seconds with a unit")
	}
	if whatif.Validate(decoded(t, []byte("levers: [{name: a, ballast: 10}]"))) == nil {
		t.Error("the schema takes ballast without a unit")
	}
	if voyage.Validate(decoded(t, []byte("from: {name: A, at: [16.886, 24.988 W]}"))) == nil {
		t.Error("the schema takes a latitude without N or S")
	}
}
