package boatfolder

import (
	"fmt"
	"strings"
	"testing"

	"thole/internal/house/golden"
)

// swap gives the smallest boat.yaml with one part changed.
func swap(old, new string) map[string]string {
	text := strings.Replace(smallest, old, new, 1)
	if text == smallest {
		panic("not in the smallest folder: " + old)
	}
	return map[string]string{"boat.yaml": text}
}

func more(text string) map[string]string { return map[string]string{"boat.yaml": smallest + text} }

func offsets(text string) map[string]string { return map[string]string{"offsets.csv": text} }

// row changes the box's table.
func boxed(old, new string) map[string]string {
	text := strings.Replace(box, old, new, 1)
	if text == box {
		panic("not in the box: " + old)
	}
	return offsets(text)
}

const lockers = "compartments:\n  - {number: 203, name: port locker, from: 1 m, to: 2 m}\n"

// bad are folders with something wrong in each; what is told of them is in
// testdata/faults.golden.
var bad = []struct {
	name  string
	files map[string]string
}{
	{"mass without a unit", swap("620 kg", "620")},
	{"point without units", swap("3.10 m, 0 m, 0.42 m", "3.10, 0, 0.42")},
	{"wrong unit", swap("620 kg", "620 mm")},
	{"nothing heavy", swap("620 kg", "0 kg")},
	{"negative mass", swap("620 kg", "-3 kg")},
	{"poor tolerance", swap("620 kg", "620 kg +- 3")},
	{"slip of a key", swap("mass:", "mas:")},
	{"unknown key", more("engine: 3 hp\n")},
	{"key twice", more("boat: Other\n")},
	{"no name, no hull", map[string]string{"boat.yaml": "units: metric\n"}},
	{"empty value", swap("Test hull", "")},
	{"list for a value", swap("620 kg", "[620 kg]")},
	{"value for a list", more("marks: bow\n")},
	{"two values for a point", swap(", 0.42 m]", "]")},
	{"both places", swap("at: [", "in: 203, at: [")},
	{"outside the boat", swap("[3.10 m, 0 m, 0.42 m]", "[9 m, 3 m, 5 m]")},
	{"hull of two tables", swap("offsets: offsets.csv ", "offsets: offsets.csv\n  cuts: cuts.csv\n  scale: 8 ")},
	{"cuts without a scale", swap("offsets: offsets.csv ", "cuts: offsets.csv ")},
	{"scale that is none", swap("offsets: offsets.csv ", "cuts: offsets.csv\n  scale: 1:8 ")},
	{"inside without planking", swap("offsets: offsets.csv ", "offsets: offsets.csv\n  to: inside ")},
	{"table not there", swap("offsets.csv ", "ofsets.csv ")},
	{"table outside", swap("offsets.csv ", "../offsets.csv ")},
	{"table at the root", swap("offsets.csv ", "/etc/hostname ")},
	{"water like mercury", swap("1025 kg/m3", "13600 kg/m3")},
	{"unknown words", more("units: feets\n")},
	{"anchor and alias", more("about: &a text\nlimits: *a\n")},
	{"merge key and tag", more("limits: !!map\n  <<: *a\n")},
	{"tabs", more("limits:\n\tfreeboard: 250 mm\n\theel: 1 deg\n")},
	{"broken brackets", more("limits: {freeboard: 250 mm\n")},
	{"two parts", more("---\nboat: Other\n")},
	{"empty boat.yaml", map[string]string{"boat.yaml": "# nothing\n"}},
	{"a list for a boat", map[string]string{"boat.yaml": "- a\n"}},
	{"not text", map[string]string{"boat.yaml": "boat: \xff\n", "offsets.csv": "a\x00"}},
	{"compartments", more("compartments:\n" +
		"  - {number: 203, name: port locker, from: 2 m, to: 1 m, sole: 0.5 m, top: 0.2 m}\n" +
		"  - {number: 203, name: Port Locker, from: 1 m, to: 2 m, in: aft cabin, packing: 60, side: left}\n" +
		"  - {number: 0, name: far, from: 8 m, to: 9 m, inboard: -1 m, wet: maybe}\n")},
	{"cabin's name misspelt", map[string]string{"boat.yaml": smallest + "cabins:\n  - {name: aft cabin, offsets: c.csv}\ncompartments:\n  - {name: berth, from: 1 m, to: 2 m, in: aft cabn}\n", "c.csv": box}},
	{"two cabins of a name", map[string]string{"boat.yaml": smallest + "cabins:\n  - {name: aft cabin, offsets: c.csv}\n  - {name: Aft Cabin, offsets: c.csv}\n", "c.csv": box}},
	{"wells", more("wells:\n  - {name: a, from: 2 m, to: 1 m, half-breadth: 0, sole: 0.2 m}\n  - {name: b, from: 1 m}\n  - {name: c}\n  - {name: d, offsets: offsets.csv, from: 1 m, to: 2 m, half-breadth: 10 mm, sole: 0}\n")},
	{"drains", more("wells:\n  - name: a\n    from: 1 m\n    to: 2 m\n    half-breadth: 0.3 m\n    sole: 0.2 m\n    drains:\n      - {name: out, at: [3 m, 0, 0.2 m], diameter: 50 mm}\n      - {name: no size, at: [1.5 m, 0, 0.2 m]}\n      - {name: both, at: [1.5 m, 0, 0.2 m], diameter: 50 mm, size: [0.1 m, 0.1 m]}\n      - {name: nothing, at: [1.5 m, 0, 0.2 m], size: [0, 0.1 m], coefficient: 2, kind: hose}\n      - {name: nothing, at: [1.5 m, 0, 0.2 m], diameter: -5 mm, count: 1000, fall: -1 mm}\n")},
	{"openings", more("openings:\n  - {name: lid, at: [2 m, 0, 1 m], size: [0, 1 m], into: hold}\n  - {at: [2 m, 0, 1 m]}\n")},
	{"negative limits", more("limits: {freeboard: -1 mm, heel: 3}\n")},
	{"empty table", offsets("")},
	{"header only", offsets("station,distance_mm,height_mm,halfbreadth_mm\n")},
	{"header misspelt", boxed("halfbreadth_mm", "halfbreath_mm")},
	{"header without units", boxed("distance_mm,height_mm", "distance,height")},
	{"column missing", boxed(",halfbreadth_mm", "")},
	{"column twice", boxed("height_mm", "distance_mm")},
	{"one station", boxed("1,6000,0,0\n1,6000,0,750\n1,6000,800,750\n", "")},
	{"station with two distances", boxed("0,0,800,750", "0,10,800,750")},
	{"stations forward", offsets("station,distance_mm,height_mm,halfbreadth_mm\n0,6000,0,0\n0,6000,800,750\n1,3000,0,0\n1,3000,800,750\n2,0,0,0\n2,0,800,750\n")},
	{"stations out of order", offsets("station,distance_mm,height_mm,halfbreadth_mm\n0,0,0,0\n0,0,800,750\n1,3000,0,0\n1,3000,800,750\n2,2000,0,0\n2,2000,800,750\n3,2000,800,750\n")},
	{"negative half-breadth", boxed("0,0,0,750", "0,0,0,-750")},
	{"no number", boxed("0,0,0,750", "0,0,NaN,Inf")},
	{"huge number", boxed("0,0,0,750", "0,0,0,1e999")},
	{"station crossing itself", offsets("station,distance_mm,height_mm,halfbreadth_mm\n0,0,0,0\n0,0,800,750\n1,3000,0,0\n1,3000,800,750\n1,3000,800,100\n1,3000,0,700\n")},
	{"station folding back", offsets("station,distance_mm,height_mm,halfbreadth_mm\n0,0,0,0\n0,0,800,750\n1,3000,0,0\n1,3000,0,750\n1,3000,0,300\n")},
	{"station from the sheer down", boxed("1,6000,0,0\n1,6000,0,750\n1,6000,800,750\n", "1,6000,800,750\n1,6000,0,750\n1,6000,0,0\n")},
	{"no width", offsets("station,distance_mm,height_mm,halfbreadth_mm\n0,0,0,0\n0,0,800,0\n1,3000,0,0\n1,3000,800,0\n")},
	{"no reading left", boxed("1,6000,0,0\n1,6000,0,750\n1,6000,800,750\n", "1,6000,0,\n")},
	{"too long", boxed("1,6000,0,0\n1,6000,0,750\n1,6000,800,750\n", "1,600000,0,0\n1,600000,800,750\n")},
	{"too short", boxed("1,6000,0,0\n1,6000,0,750\n1,6000,800,750\n", "1,60,0,0\n1,60,800,750\n")},
	{"too high", boxed("0,0,800,750", "0,0,80000,750")},
	{"knuckles crossed", offsets("station,distance_mm,height_mm,halfbreadth_mm,knuckle\n0,0,0,0,\n0,0,400,600,a\n0,0,500,700,b\n0,0,800,750,\n1,3000,0,0,\n1,3000,400,600,b\n1,3000,500,700,a\n1,3000,800,750,\n")},
	{"knuckle twice", offsets("station,distance_mm,height_mm,halfbreadth_mm,knuckle\n0,0,0,0,\n0,0,400,600,a\n0,0,500,700,a\n1,3000,0,0,\n1,3000,800,750,\n")},
	{"stem off the centre line", boxed("1,6000,0,0\n", "1,6000,0,0\nstem,0,0,10\n")},
	{"row without a station", boxed("0,0,0,750", ",0,0,750")},
	{"cells beyond the header", boxed("0,0,0,750", "0,0,0,750,,7")},
	{"quote left open", boxed("0,0,0,750", "0,0,0,\"750")},
	{"classic table", offsets("measure,line,0,1,1\ndistance,,0,1-0-8\nheigth,keel,0,0\nheight,chine,1-0-0,12\nheight,sheer,2-12-0,2-0-0\nhalf-breadth,sheer,1-0-0,-1-0-0\nhalf-breadth,sheer,1-0-0,1-0-0\nhalf-breadth,waterline,0-1-0\nheight,waterline 1-0-0,0-1-0\nhalf-breadth,waterline 3,0-1-0\n")},
	{"classic table without distances", offsets("measure,line,0,1\nheight,keel,0,0\nheight,sheer,2-0-0,2-0-0\nhalf-breadth,sheer,1-0-0,1-0-0\n")},
	{"waterline above the sheer", offsets("measure,line,0,1\ndistance,,0,10-0-0\nheight,keel,0,0\nheight,sheer,2-0-0,2-0-0\nhalf-breadth,sheer,1-0-0,1-0-0\nhalf-breadth,waterline 2-6-0,-,1-2-0\n")},
	{"stores", map[string]string{"boat.yaml": smallest + lockers, "stores.csv": "what,count,mass,where,used,known\n" +
		"beans,0,2 kg,203,,\n" + "rice,1,2,port loker,,\n" + ",1,2 kg,203,,\n" + "tea,1,2 kg,1 m; 2 m,,\n" + "oil,1,2 kg,1 m; 0 m; 9 m,,\n" +
		"nuts,1,2 kg,203,days 9-3,\n" + "figs,1,2 kg,203,sometimes,\n" + "jam,1,2 kg,203,days 1-9 into 301,weighted\n" + "egg,1,2 kg,203,day 0,\n"}},
	{"stores' new columns", map[string]string{"boat.yaml": smallest + lockers, "stores.csv": "what,mass,where,volume,size,dry,most,reach,pinned,expires,inspect,provides,needs\n" +
		"a,1 kg,203,1.2,300 x 200 mm,maybe,50,by hand,often,2027-02-30,soon,; ;,\n" + "b,1 kg,203,-1 L,300 x 0 x 150 mm,,,,,,,,\n" + "c,1 kg,203,,300 x 200 x 150,,,,,,,,\n" + "d,1 kg,203,1 L,30 cm x 8 in x 150 mm,no,50%,in calm,yes,2027-02-28,2027-02-27,a; b ;a,c\n"}},
	{"compartments for stowing, weights that serve", more("compartments:\n  - {name: a, from: 1 m, to: 2 m, reach: far, limit: 60}\nweights2: 1\n")},
	{"needs", map[string]string{"needs.yaml": "functions:\n" +
		"  - {name: steer, rank: 6, any of: [rudder], all of: [crew]}\n" + "  - {name: Steer, rank: 5, any of: []}\n" + "  - {name: battery}\n" +
		"  - {name: a, any of: [b]}\n" + "  - {name: b, all of: [c, c]}\n" + "  - {name: c, of: 1, from: [a]}\n" + "  - {name: d, any of: [d], rank: 0}\n" + "  - {name: e, of: 2}\n" + "  - {rank: 1}\n" + "  - {name: f, anyof: [x]}\n" +
		"checklist:\n  - {what: flares, by: soon, done: maybe}\n  - {asks: nobody}\n"}},
	{"stores' header", map[string]string{"stores.csv": "what,mas,place\n"}},
	{"voyage", map[string]string{"voyage.yaml": "from: {name: A, at: [16.886, 24.988 W]}\nto: {name: B, at: [95 N, 190 W]}\nleave: 2027-02-30\ndays: 0\n" +
		"crew:\n  - name: rower\n    mass: heavy\n    places:\n      at the oars: [3.42 m, 0 m]\n      below: {in: cabin}\n      out: nowhere\n  - name: rower\n    mass: 70 kg\n    places: {}\n"}},
	{"trials", map[string]string{"trials.yaml": "floated:\n  - {date: 2026-13-14, day: 3, crew: below, freeboards: [{at: 9 m, side: left, height: 412}, {at: 9 m, side: both, height: 4 mm}, {at: 1 m, side: both, height: 4 m}]}\n" +
		"inclined:\n  - {day: -1, moves: [{mass: 25 kg, across: 0 m, pendulum: -1 m, deflection: 83 mm}, {mass: 25 kg, across: 12 m, angle: 100 deg}, {mass: 25 kg, across: 1 m, pendulum: 1 m}, {mass: 2, across: 1 m, angle: 1 deg, deflection: 3 mm}]}\n" +
		"rolled:\n  - {date: 2026-09-14, rolls: 0.5, seconds: -3}\n  - {date: 2026-09-14, rolls: 10}\n" +
		"turned over:\n  - {date: 2026-09-14, righted: perhaps, hight of gravity: 4 mm}\nflaoted: []\n"}},
	{"trials with a voyage", map[string]string{"voyage.yaml": "days: 10\ncrew:\n  - name: rower\n    mass: 70 kg\n    places:\n      at the oars: [3.42 m, 0 m, 0.4 m]\n      outside: none\n",
		"trials.yaml": "rolled:\n  - {date: 2026-09-14, day: 11, crew: outsid, rolls: 10, seconds: 20}\n"}},
	{"rowing", more("rowing:\n" +
		"  - {name: a, seat: [3.1 m, 0 m, 0.6 m], travel: 5 m, stretcher: {at: [2.4 m, 0, 0.4 m], angle: 130 deg, places: [3.9 m, 0, 0]}, gates: {at: [2.9 m, -0.8 m, 0.2 m], above: 0.9 m}, oars: {length: 0.9 m, inboard: 2 m, count: 4, grip: 40}}\n" +
		"  - {name: A, seat: [3.1 m, 0 m], gates: {at: [3.5 m, 0, 0.83 m]}, oars: {length: 3.05 m, blade: [5 m, 17 m], inboard: 3.05 m}}\n" +
		"  - {name: b, seat: [3.1 m, 0 m, 0.6 m], oars one side: yes, gates: {at: [3.5 m, 0, 1.9 m]}, oars: {length: 3.05 m, inboard: 0.8 m, count: 2}}\n" +
		"  - {name: c, seat: [0.1 m, 0 m, 0.6 m], stretcher: {at: [0.6 m, 0, 0.4 m]}, gates: {at: [0.7 m, 0.8 m, 0.83 m]}, oars: {inboard: 1 m}}\n" +
		"  - {name: d, seat: [20 m, 0 m, 0.6 m], streatcher: {angle: 42}, gates: [3 m, 0, 1 m], oars: {length: 2 m, inboard: 0.7 m, blade: [1.4 m, 0.2 m]}}\n  - {seat: low}\n")},
	{"steering", more("rudder: {at: [9 m, 0, 0.3 m], chord: 280 m, depth: 620 mm, below: 700 mm, turns: 120 deg, balance: 60%, raised: up}\n" +
		"boards:\n  - {name: a, at: [2 m, 0, 0], chord: -1 m, depth: 0}\n  - {name: a, at: [2 m, 0, 0]}\n" +
		"windage:\n  - {name: mast, at: [2 m, 0, 9 m], size: [40 mm, 0, 90 m], kind: stick}\n  - {name: wire, at: [2 m, 0, 1 m], size: [1 m, 1 m]}\n" +
		"limits: {clearance: -1 mm, wind: 20, sector: 270 deg}\n")},
	{"a rudder that has nothing", more("rudder: {below: -3 mm}\nboards: {name: a}\n")},
	{"sea anchors and anchors", more("sea anchors:\n" +
		"  - {name: a, kind: parachute, diameter: 30 m, cones: 3, from: side, line: {diameter: 12 m, strength: 22 N}, fitting: 18 kn}\n" +
		"  - {name: A, kind: series drogue, diameter: 3 m, line: {length: 0 m}}\n  - {name: b, kind: series drogue, diameter: 130 mm, cones: 1}\n  - {kind: bucket}\n" +
		"  - {name: c, kind: cone, diameter: 0, line: 70 m, fitting: -3 kN}\n" +
		"anchors:\n  - {name: a, kind: fluke, mass: 6 t, chain: {length: 6 km}}\n  - {name: a, kind: stone, mass: 6}\n  - {name: b, line: {lenght: 60 m}}\n")},
	{"bodies", map[string]string{"voyage.yaml": "scrape: often\nwater temperature: 300 C\ncrew:\n" +
		"  - {name: a, mass: 70 kg, places: {out: none}, stature: 178 m, inside leg: 1.7 m, body: tall, age: 410, power: 75, hours: 30 h}\n" +
		"  - {name: b, mass: 70 kg, places: {out: none}, stature: 1.78 m, inside leg: 0.3 m, age: 4.5, power: 75 W +- 3, hours: 12}\n" +
		"  - {name: c, mass: 70 kg, places: {out: none}, inside leg: 2 m, power: 1 MW}\n" +
		"  - {name: d, mass: 70 kg, places: {out: none}, inside leg: 0, hours: 12 kn}\n"}},
	{"a scrape of nothing", map[string]string{"voyage.yaml": "scrape: every 0 days\nwater temperature: 26 C +- 1 C\n"}},
	{"makers and jugs", more("water makers:\n" +
		"  - {name: a, kind: hand, an hour: 5.5, draws: 50 W}\n  - {name: A, kind: hand, an hour: 5.5 L +- 6 L, draws: 50 W, hours: 30 h}\n" +
		"  - {name: b, kind: steam, an hour: 55 m3, from: day 9, until: day 3}\n  - {kind: electric, from: soon, until: day 0}\n" +
		"weights2: 1\n")},
	{"weights that hold water", map[string]string{"boat.yaml": strings.Replace(smallest, "weights:\n", "weights:\n  - {what: jug, mass: 1 kg, at: [1 m, 0, 0.2 m], drink: 10 L, kept: safe}\n  - {what: can, mass: 6 kg, at: [1 m, 0, 0.2 m], drink: 5 gal}\n", 1)}},
	{"stores for eating and drinking", map[string]string{"boat.yaml": smallest + lockers, "stores.csv": "what,mass,where,energy,soaks,drink,kept\n" +
		"a,1 kg,203,4800,1.5,0,locked\n" + "b,1 kg,203,90 MJ,100 L,2 L,\n" + "c,1 kg,203,-5 kcal,1 kg,half,reserve\n"}},
	{"the passage", map[string]string{"voyage.yaml": "from: {name: A, at: [16 N, 24 W], within: 8 nmi}\nto: {name: B, at: [13 N, 59 W], within: 8 NM}\nby: [{at: [13 N, 58 W], within: 9000 km}, {at: [13 N, 58 W], within: 8}]\n" +
		"wind: ../winds.nc\ncurrent: drifters.nc\nsets: [sets.csv]\n" +
		"habits: {watches: [\"06:00-10:00\", \"09:30-11:00\", \"22:00-02:00\", \"25:00-26:00\", morning, \"8:00-8:00\"], daylight: maybe, breaks: 100 %, rest: every 1 day, lost: 3, allow: yes}\n" +
		"rules: {stop: 20 kn, against: 30 kn, ahead: 270 deg, in again: 0 %, when idle: often}\n" +
		"weather: {east: 60, north: 1 min, reach: 5 miles, year: -1 m/s, season: 0 days, spread: 600 %, current doubt: 9 m/s}\n" +
		"diet: {fat: 60 %, protein: 50 %}\n" +
		"crew:\n  - {name: a, mass: 70 kg, places: {out: none}, body fat: 18, eats: 120 %, seasick: never}\n" +
		"  - {name: b, mass: 70 kg, places: {out: none}, body fat: 90 % +- 4 kg, eats: 1 % +- 120 %, seasick: 90 days}\n"}},
	{"hours that cannot be changed", map[string]string{"whatif.yaml": "levers:\n  - {name: a, hours: 1}\n  - {name: b, hours: 0 h}\n  - {name: c, hours: -30 h}\n  - {name: d, hours: +10 s}\n  - {name: e, hours: [1 h]}\n"}},
	{"no watches", map[string]string{"voyage.yaml": "habits: {watches: []}\n"}},
	{"ten at once", map[string]string{
		"boat.yaml":   "boat: Ten\nhul: {}\nunits: stone\nwater: 1025\nhull:\n  offsets: offsets.csv\n  tolerance: 2\nweights:\n  - {what: a, mass: 42, at: [1 m, 0, 0.2 m]}\n  - {what: b, mass: 2 kg}\n",
		"offsets.csv": strings.Replace(box, "1,6000,0,750", "1,6000,x,-750", 1),
		"stores.csv":  "what,mass,where\nrice,2,\n",
		"voyage.yaml": "days: many\n",
	}},
}

func TestFaults(t *testing.T) {
	var b strings.Builder
	for _, c := range bad {
		_, faults := inMemory(with(c.files))
		if len(faults) == 0 {
			t.Errorf("%s: no fault found", c.name)
		}
		fmt.Fprintf(&b, "# %s\n%v\n\n", c.name, faults)
	}
	golden.Check(t, "faults.golden", []byte(b.String()))
}

// Every fault points at a line that is there, and has a key's path where there
// is a key, so that an editor can be led to it.
func TestFaultsPoint(t *testing.T) {
	for _, c := range bad {
		files := with(c.files)
		_, faults := inMemory(files)
		for _, f := range faults {
			lines := strings.Split(files[f.File], "\n")
			if f.Line > len(lines) || f.Line < 1 || f.Column < 1 || f.Column > len([]rune(lines[f.Line-1]))+1 {
				t.Errorf("%s: %v points nowhere", c.name, f)
			}
			if f.Mend == "" || f.Say == "" {
				t.Errorf("%s: %v has no mend", c.name, f)
			}
		}
	}
}

// A folder with ten faults in four files tells ten, or more, in one go.
func TestTenAtOnce(t *testing.T) {
	last := bad[len(bad)-1]
	_, faults := inMemory(with(last.files))
	files := map[string]bool{}
	for _, f := range faults {
		files[f.File] = true
	}
	if len(faults) < 10 || len(files) != 4 {
		t.Errorf("%d faults in %d files:\n%v", len(faults), len(files), faults)
	}
}

// A slip in the hull's table is one fault: what lies beyond a sound cabin is not
// called outside the boat, since nobody knows how far she reaches.
func TestOneSlipOneFault(t *testing.T) {
	files := boxed("1,6000,0,0\n", "1,6000,x,0\n")
	files["boat.yaml"] = smallest + "cabins:\n  - {name: fore cabin, offsets: cabin.csv}\n" + lockers
	files["cabin.csv"] = "station,distance_mm,height_mm,halfbreadth_mm\n0,200,700,300\n0,200,1100,0\n1,900,700,300\n1,900,1100,0\n"
	_, faults := inMemory(with(files))
	if len(faults) != 1 || faults[0].File != "offsets.csv" {
		t.Errorf("%d faults:\n%v", len(faults), faults)
	}
}
