package boatfolder

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"thole/internal/model"
	"thole/internal/units"
)

// withJugs is the smallest boat with fresh water aboard.
var withJugs = strings.Replace(smallest, "weights:\n", "weights:\n"+jugs, 1)

// makers, crossed and fed are all that can be said of the passage: in boat.yaml, voyage.yaml and stores.csv.
const (
	makers = `water makers:
  - {name: desalinator, kind: electric, an hour: 5.5 L +- 1 L, hours: 90 min, draws: 50 W, from: day 3, until: 40, provides: make water}
  - {name: hand pump, kind: hand, an hour: 900 mL}
`
	jugs    = "  - {what: jugs, mass: 10.4 kg, count: 3, at: [3.1 m, 0 m, 0.2 m], ballast: yes, drink: 10 L}\n  - {what: can, mass: 6 kg, at: [3.1 m, 0 m, 0.2 m], drink: 5 L, kept: reserve}\n"
	crossed = `from: {name: A, at: [16.886 N, 24.988 W]}
to: {name: B, at: [13.10 N, 59.63 W], within: 8 nmi}
by:
  - {name: C, at: [15 N, 30 W], within: 60 sea miles}
  - {name: D, at: [14 N, 50 W], within: 100 km}
sets: sets.csv
wind: wind.csv
current: current.csv
habits: {watches: ["11:00-14:30", "06:00-10:00", "20:15 to 24:00"], daylight: no, breaks: 10 %, rest: every 10 days, lost: 3 %, allow for the set: yes}
rules: {stop: 28 kn, against: 12 kn, ahead: 70 deg, in again: 80 %, when idle: yes}
weather: {east: 60 h, north: 42 h, reach: 500 nmi, year: 1 m/s, season: 60 days, spread: 120 %, current doubt: 0.2 kn}
diet: {fat: 29 %, protein: 16 %}
crew:
  - {name: rower, mass: 76 kg, places: {out: none}, hours: 10 h, body fat: 18 % +- 4 %, eats: 80 %, seasick: 0 days}
  - {name: mate, mass: 70 kg, places: {out: none}, body fat: 25%, eats: 80 % +- 10 %, seasick: 5}
`
	setsTable = "what,south,north,west,east,from,to,set_deg,rate_kn,doubt_kn\nring,8,12,-58,-50,1,6,315,1.2,0.5\n"
	windTable = "month,lat,lon,east_kn,north_kn\n0,10,-60,-14,-3\n0,10,-55,-14,-3\n0,15,-60,-13,-2\n0,15,-55,-13,-2\n"
	seaTable  = "month,lat,lon,east,north\n0,10,-60,-0.3,0\n0,10,-55,-0.3,0\n0,15,-60,-0.2,0.1\n0,15,-55,-0.2,0\n"
	fedTable  = "what,count,mass,where,energy,soaks,drink,kept\nbag,60,1.15 kg,203,4800 kcal,1.4 L,,\nwet,14,480 g,203,2.5 MJ,,,reserve\npouch,20,510 g,203,,,0.5 L,reserve\nsea jug,2,10.5 kg,203,,,10 L,ballast\nsack,1,3 kg,203,,,,\n"
)

func crossedFiles() map[string]string {
	return map[string]string{"boat.yaml": withJugs + lockers + makers, "voyage.yaml": crossed, "stores.csv": fedTable,
		"sets.csv": setsTable, "wind.csv": windTable, "current.csv": seaTable}
}

// What is written is in the model, in SI: the sea mile is 1852 m and the thermochemical kilocalorie 4184 J (NIST SP 811, B.8).
func TestPassage(t *testing.T) {
	f := mustRead(t, crossedFiles())
	yes, no := true, false
	share := func(v float64) *float64 { return &v }
	count := func(v int) *int { return &v }
	same := cmp.Options{
		cmp.FilterPath(func(p cmp.Path) bool { return p.Last().Type() == sourceOf }, cmp.Ignore()),
		cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(1, math.Abs(a)) }),
	}
	v, w := f.Voyage, f.Boat.Weights
	doubt := units.Speed(0.2) // not a constant: it is rounded as the reader rounds
	doubt = doubt * 1852 / 3600
	var kept []model.Keeping
	var fed []float64
	for _, s := range f.Stores {
		kept = append(kept, s.Kept)
		fed = append(fed, float64(s.Energy), float64(s.Soaks), float64(s.Drink))
	}
	for _, c := range []struct {
		name      string
		got, want any
	}{
		{"makers", f.Boat.Makers, []model.WaterMaker{
			{Name: "desalinator", AnHour: 0.0055, Spread: 0.001, Hours: 5400, Draws: 50, From: 3, Until: 40, Service: "make water"},
			{Name: "hand pump", Hand: true, AnHour: 0.0009}}},
		{"habits", v.Habits, model.Habits{Watches: []model.Hours{{From: 6, To: 10}, {From: 11, To: 14.5}, {From: 20.25, To: 24}},
			Daylight: &no, Breaks: share(0.1), Rest: 10, Lost: share(0.03), Allow: &yes}},
		{"rules", v.Rules, model.Rules{Stop: 28 * 1852 / 3600.0, Against: 12 * 1852 / 3600.0, Ahead: units.Angle(radians(70)), In: share(0.8), Idle: &yes}},
		{"weather", v.Weather, model.Weather{East: 60 * 3600, North: 42 * 3600, Reach: 500 * 1852, Year: 1, Season: 60, Spread: share(1.2),
			YearGiven: true, SeasonGiven: true, CurrentDoubt: doubt}},
		{"diet", v.Diet, model.Diet{Fat: share(0.29), Protein: share(0.16)}},
		{"within", []units.Length{v.From.Within, v.To.Within, v.By[0].Within, v.By[1].Within}, []units.Length{0, 8 * 1852, 60 * 1852, 100000}},
		{"fat", []model.Range{v.Crew[0].Fat, v.Crew[1].Fat}, []model.Range{{Value: 0.18, Tolerance: 0.04, Given: true}, {Value: 0.25, Given: true}}},
		{"eats", []model.Range{v.Crew[0].Eats, v.Crew[1].Eats}, []model.Range{{Value: 0.8, Given: true}, {Value: 0.8, Tolerance: 0.1, Given: true}}},
		{"seasick", []*int{v.Crew[0].Seasick, v.Crew[1].Seasick}, []*int{count(0), count(5)}},
		{"the files", []string{v.Sets.Name, string(v.Sets.Data), v.Wind.Name, v.Current.Name}, []string{"sets.csv", setsTable, "wind.csv", "current.csv"}},
		{"water in weights", []units.Volume{w[0].Drink, w[1].Drink, w[2].Drink}, []units.Volume{0.01, 0.005, 0}},
		{"weights kept", []model.Keeping{w[0].Kept, w[1].Kept, w[2].Kept}, []model.Keeping{model.KeptBallast, model.KeptReserve, ""}},
		{"stores kept", kept, []model.Keeping{"", model.KeptReserve, model.KeptReserve, model.KeptBallast, ""}},
		{"food and water in stores", fed, []float64{4800 * 4184, 0.0014, 0, 2.5e6, 0, 0, 0, 0, 0.0005, 0, 0, 0.01, 0, 0, 0}},
	} {
		if diff := cmp.Diff(c.want, c.got, same); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
	// Nothing is made of what is not said.
	bare := mustRead(t, map[string]string{"boat.yaml": smallest, "voyage.yaml": "days: 3\ncrew: [{name: a, mass: 70 kg, places: {out: none}}]\n"})
	if v := bare.Voyage; !model.Alike(v.Habits, model.Habits{}) || !model.Alike(v.Weather, model.Weather{}) || v.Wind != nil || v.Crew[0].Seasick != nil || v.Crew[0].Fat.Given || bare.Boat.Makers != nil {
		t.Errorf("something from nothing: %+v", v)
	}
}

// Remarks say what is passed over, rare or taken for granted.
func TestPassageNotes(t *testing.T) {
	files := crossedFiles()
	files["voyage.yaml"] = "weather: {current doubt: 0.2 kn}\nrules: {stop: 55 kn}\nwind: wind.csv\ncrew: [{name: a, mass: 70 kg, places: {out: none}, body fat: 3 %}]\n"
	files["stores.csv"] = "what,mass,where,energy\nbag,1 kg,203,50 kcal +- 5 kcal\n"
	var got []string
	for _, n := range mustRead(t, files).Notes {
		got = append(got, n.What)
	}
	for _, want := range []string{"current doubt passed over", `stop "55 kn" is rare`, `body fat "3 %" is rare`,
		`energy "50 kcal +- 5 kcal" is little for 1.0 kg of food`, "wind.csv: it has no scalar mean: taken from its vector and the spread of the embedded wind"} {
		if !slices.Contains(got, want) {
			t.Errorf("%q is not among %q", want, got)
		}
	}
}

// Two folders are alike whatever line a thing stands on, and no longer so when any figure of it differs.
func TestPassageAlike(t *testing.T) {
	was := mustRead(t, crossedFiles())
	moved := crossedFiles()
	moved["voyage.yaml"] = "# one line down\n" + moved["voyage.yaml"]
	if !model.Alike(was.Voyage, mustRead(t, moved).Voyage) {
		t.Error("a remark makes another voyage")
	}
	for _, c := range []struct{ file, old, new string }{
		{"voyage.yaml", "within: 8 nmi", "within: 9 nmi"}, {"voyage.yaml", "14:30", "14:31"}, {"voyage.yaml", "daylight: no", "daylight: yes"},
		{"voyage.yaml", ", daylight: no", ""}, {"voyage.yaml", "in again: 80 %", "in again: 81 %"}, {"voyage.yaml", "year: 1 m/s", "year: 0 m/s"},
		{"voyage.yaml", "year: 1 m/s, ", ""}, {"voyage.yaml", "+- 4 %", "+- 5 %"}, {"voyage.yaml", "seasick: 0 days", "seasick: 1 day"},
		{"voyage.yaml", ", seasick: 0 days", ""}, {"sets.csv", "315", "316"}, {"wind.csv", "-13", "-12"},
	} {
		files := crossedFiles()
		if files[c.file] = strings.Replace(files[c.file], c.old, c.new, 1); files[c.file] == crossedFiles()[c.file] {
			t.Fatalf("%q is not there", c.old)
		}
		if now := mustRead(t, files); model.Alike(was.Voyage, now.Voyage) || was.Stamp == now.Stamp {
			t.Errorf("%s for %s: still the same voyage", c.new, c.old)
		}
	}
}

// The files of the sea are told of like any other: by their own lines, or at the key where the whole file is meant.
func TestSeaFaults(t *testing.T) {
	for _, c := range []struct{ name, file, text, want string }{
		{"a number that is none", "wind.csv", strings.Replace(windTable, "-13", "strong", 1), `wind.csv:4:1: east "strong" is no number (write one, or leave a missing wind or current empty)`},
		{"a zone upside down", "sets.csv", strings.Replace(setsTable, "8,12", "12,8", 1), `sets.csv:2:1: north 8 is not north of south 12 (exchange them)`},
		{"not netCDF", "wind.csv", "CDF\x07", `voyage.yaml:7:7: wind.csv: it is not a sound netCDF file (version 7 is not known) (get it again)`},
		{"a file of nothing", "current.csv", "", `voyage.yaml:8:10: current.csv: the file is empty (give a netCDF or csv file of current by month)`},
	} {
		files := crossedFiles()
		files[c.file] = c.text
		_, faults := inMemory(with(files))
		if len(faults) != 1 || faults[0].String() != c.want {
			t.Errorf("%s:\n got %v\nwant %s", c.name, faults, c.want)
		}
	}
	for name, want := range map[string]string{"../wind.csv": "does not lie inside the folder", "/etc/wind.csv": "does not lie inside the folder", "gone.csv": "is not in the folder (did you mean"} {
		files := crossedFiles()
		files["voyage.yaml"] = strings.Replace(crossed, "wind: wind.csv", "wind: "+name, 1)
		if _, faults := inMemory(with(files)); len(faults) != 1 || !strings.Contains(faults[0].String(), want) || faults[0].Line != 7 {
			t.Errorf("%s: %v", name, faults)
		}
	}
	// A netCDF file may be larger than a table, but not without end.
	if tooLarge("w.nc", make([]byte, largestFile+1)) != nil || tooLarge("w.csv", make([]byte, largestFile+1)) == nil || tooLarge("w.NC", make([]byte, largestLattice+1)) == nil {
		t.Error("the bounds of files")
	}
}

// A draft knows the new keys by the same tables: their kinds, and edits of every depth.
func TestPassageEdits(t *testing.T) {
	d := draftOf(with(crossedFiles()))
	kinds := map[string]string{}
	for _, file := range []string{"voyage.yaml", "boat.yaml", "stores.csv"} {
		for _, v := range d.Values(file) {
			kinds[v.Key] = v.Kind
		}
	}
	for key, want := range map[string]string{"to.within": "way", "habits.watches[1]": "part of the day", "habits.rest": "days", "weather.spread": "share", "crew[0].body fat": "share",
		"crew[0].seasick": "days", "water makers[0].from": "day of the trip", "water makers[1].an hour": "volume", "rows[0].energy": "energy", "rows[1].kept": "choice", "weights[1].drink": "volume"} {
		if kinds[key] != want {
			t.Errorf("%s is %q, want %q", key, kinds[key], want)
		}
	}
	after, faults := d.With(
		Edit{File: "voyage.yaml", Key: "habits.watches[1]", Was: "06:00-10:00", Text: "05:30-10:00"},
		Edit{File: "voyage.yaml", Key: "habits.daylight", Text: "yes"}, Edit{File: "voyage.yaml", Key: "to.within", Text: "12 nmi"},
		Edit{File: "voyage.yaml", Key: "crew[1].seasick", Of: "mate", Text: "0 days"},
		Edit{File: "boat.yaml", Key: "water makers[0].until", Of: "desalinator", Text: "day 20"},
		Edit{File: "boat.yaml", Key: "water makers[2]", Do: Insert, Text: "{name: spare, kind: hand, an hour: 2 L}"},
		Edit{File: "boat.yaml", Key: "weights[0].kept", Of: "jugs", Text: "reserve"},
		Edit{File: "stores.csv", Key: "rows[4].energy", Of: "sack", Text: "9 MJ"}, Edit{File: "sets.csv", Key: "rows[0].rate_kn", Of: "ring", Text: "0.8"},
	)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	f, faults := after.Read()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if v := f.Voyage; v.Habits.Watches[0].From != 5.5 || !*v.Habits.Daylight || v.To.Within != 12*1852 || *v.Crew[1].Seasick != 0 || !strings.Contains(string(v.Sets.Data), ",0.8,") {
		t.Errorf("read as %+v", v)
	}
	if b := f.Boat; b.Makers[0].Until != 20 || len(b.Makers) != 3 || !b.Makers[2].Hand || b.Weights[0].Kept != model.KeptReserve || f.Stores[4].Energy != 9e6 {
		t.Errorf("read as %+v", b.Makers)
	}
	if !slices.Contains(d.Files(), "sets.csv") {
		t.Errorf("the sets are not among %q", d.Files())
	}
}

// The schemas take what the reader takes and refuse what it refuses. Source: JSON Schema draft 2020-12 by santhosh-tekuri/jsonschema v6.
func TestPassageSchema(t *testing.T) {
	boat, voyage := compiled(t, "boat"), compiled(t, "voyage")
	if err := boat.Validate(decoded(t, []byte(withJugs+makers))); err != nil {
		t.Error(err)
	}
	if err := voyage.Validate(decoded(t, []byte(crossed))); err != nil {
		t.Error(err)
	}
	for _, bad := range []string{"to: {name: B, at: [13 N, 59 W], within: 8 nm}", "from: {name: B, at: [13 N, 59 W], within: 8 nmi}", "habits: {watches: [\"6-10\"]}", "habits: {breaks: 10}",
		"rules: {stop: 28}", "weather: {reach: 500 miles}", "diet: {fat: 29}", "wind: ../w.nc", "crew: [{name: a, mass: 70 kg, places: {out: none}, seasick: never}]"} {
		if voyage.Validate(decoded(t, []byte(bad))) == nil {
			t.Errorf("the schema takes %q", bad)
		}
		if _, faults := inMemory(with(map[string]string{"voyage.yaml": bad})); len(faults) == 0 {
			t.Errorf("the reader takes %q", bad)
		}
	}
}

func FuzzSets(f *testing.F) {
	f.Add(setsTable)
	f.Add("")
	f.Add(setsTable + "ring,8,12,-58,-50,1,6,315,x,\n")
	f.Fuzz(func(t *testing.T, text string) {
		files := crossedFiles()
		files["sets.csv"] = text
		got, faults := inMemory(with(files))
		if (got == nil) != (len(faults) > 0) {
			t.Fatalf("a folder %v and %d faults", got, len(faults))
		}
		for _, fault := range faults {
			if fault.Say == "" || fault.Mend == "" || fault.Line < 1 {
				t.Fatalf("poor fault %+v", fault)
			}
		}
	})
}
