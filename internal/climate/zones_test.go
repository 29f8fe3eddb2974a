package climate

import (
	"math"
	"strings"
	"testing"
)

const zoneHead = "what,south,north,west,east,from,to,set_deg,rate_kn,doubt_kn\n"

func TestZones(t *testing.T) {
	zones, err := ReadZones("zones.csv", []byte(zoneHead+`off Guiana,4,8,-52,-46,1,12,300,1,.4
over the date line,-20,-10,170,-170,11,2,90,.5,
`))
	if err != nil {
		t.Fatal(err)
	}
	f := StandardCurrent().With(zones...)
	u, v := f.Current(6*deg, -50*deg, 3)
	const source = "the table itself: 1 kn toward 300, half a knot toward 090"
	run(t, []check{
		{"rate", math.Hypot(u, v) / Knot, 1, 1e-12, source}, {"set", math.Mod(math.Atan2(u, v)/deg+360, 360), 300, 1e-9, source},
		{"doubt", f.Error(6*deg, -50*deg, 3) / Knot, .4, 1e-12, source},
	})
	for _, r := range []struct {
		lat, lon float64
		m        Month
		in       bool
	}{
		{-15, 175, 0, true}, {-15, -175, 1.9, true}, {-15, 185, 10, true}, {-15, 165, 0, false}, {-15, -165, 0, false}, {-15, 175, 2, false}, {-15, 175, 9.9, false},
		{-9, 175, 0, false}, {-15, 175, 12 + 11, true}, {6, 310, 5, true}, {8.1, -50, 5, false},
	} {
		if got := f.Origin(r.lat*deg, r.lon*deg, r.m) == Own; got != r.in {
			t.Errorf("%g %g month %g: in a zone %v, want %v", r.lat, r.lon, float64(r.m), got, r.in)
		}
	}
	if e := f.Error(-15*deg, 175*deg, 0); e != OwnDoubt {
		t.Errorf("without a doubt of its own the zone has %g", e)
	}
	a, b := f.Current(30*deg, -40*deg, 3)
	if c, d := StandardCurrent().Current(30*deg, -40*deg, 3); a != c || b != d {
		t.Error("outside the zones the field has changed")
	}
	if len(StandardCurrent().zones) != 0 {
		t.Error("the embedded field itself has changed")
	}
	if n := testing.AllocsPerRun(50, func() { f.Current(6*deg, -50*deg, 3); f.Error(6*deg, -50*deg, 3) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func TestZoneFaults(t *testing.T) {
	for _, r := range []struct{ file, want string }{
		{"", "z.csv: the file is empty"}, {"what,south\n", `z.csv:1: the header has no column "north"`},
		{zoneHead + "a,1,2,3,4,1,12,400,1,\n", `z.csv:2: set_deg "400": write a number from 0 to 360`},
		{zoneHead + "a,1,2,3,4,1,12,NaN,1,\n", `z.csv:2: set_deg "NaN": write a number`},
		{zoneHead + "a,1,2,3,4,1,12,x\n", `z.csv:2: set_deg "x": write a number`},
		{zoneHead + "a,1,2,3,4,1,12\n", "z.csv:2: there are 7 columns, set_deg is missing"},
		{zoneHead + "a,2,1,3,4,1,12,0,1,\n", "z.csv:2: north 1 is not north of south 2"},
		{zoneHead + "a,1,2,300,-50,1,12,0,1,\n", ""},
		{zoneHead + "a,1,2,300,-100,1,12,0,1,\n", "z.csv:2: from west 300 to east -100 it is 320 degrees wide"},
		{zoneHead + "a,1,2,3,4,1.5,12,0,1,\n", "z.csv:2: months 1.5 and 12"},
	} {
		_, err := ReadZones("z.csv", []byte(r.file))
		if r.want == "" && err != nil || r.want != "" && (err == nil || !strings.Contains(err.Error(), r.want)) {
			t.Errorf("%q:\n got %v\nwant %s", r.file, err, r.want)
		}
	}
}
