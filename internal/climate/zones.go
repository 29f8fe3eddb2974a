package climate

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Zone is a current that a person knows of a patch of sea, from a chart or a pilot book: it takes
// the place of the field there.
type Zone struct {
	What                     string
	South, North, West, East float64 // radians; West to East may run over 180 degrees
	From, To                 Month   // the part of the year; From after To runs over the new year
	U, V                     float64 // m/s, where it sets to
	Doubt                    float64 // m/s, how far it may be wrong; 0 takes OwnDoubt
}

// holds tells whether a place and time are in the zone.
func (z *Zone) holds(lat, lon float64, m Month) bool {
	if !(lat >= z.South && lat <= z.North) {
		return false
	}
	x := lon - z.West
	x -= 2 * math.Pi * math.Floor(x/(2*math.Pi))
	if !(x <= z.East-z.West) {
		return false
	}
	m -= Month(12 * math.Floor(float64(m)/12))
	return span{z.From, z.To}.holds(m)
}

// With is the field with a person's zones laid over it, the first that holds before the others. A
// zone's edge is sharp.
func (f *CurrentField) With(zones ...Zone) *CurrentField {
	g := *f
	g.zones = append(append([]Zone(nil), zones...), f.zones...)
	return &g
}

// zone is the first zone that holds a place and time, or nil.
func (f *CurrentField) zone(lat, lon float64, m Month) *Zone {
	for i := range f.zones {
		if f.zones[i].holds(lat, lon, m) {
			return &f.zones[i]
		}
	}
	return nil
}

// ReadZones reads a table of zones: csv with the header
// what,south,north,west,east,from,to,set_deg,rate_kn and optionally doubt_kn.
//
// Places are degrees, north and east positive; from and to are months 1 to 12, both included; set_deg is
// the true course to which the current sets.
// Error:  every fault joined, each with file, line, the offending text and the mend
func ReadZones(name string, file []byte) ([]Zone, error) {
	wanted := []string{"what", "south", "north", "west", "east", "from", "to", "set_deg", "rate_kn", "doubt_kn"}
	ranges := [][2]float64{{}, {-90, 90}, {-90, 90}, {-180, 360}, {-180, 360}, {1, 12}, {1, 12}, {0, 360}, {0, 8}, {0, 8}}
	records, err := scan(name, file)
	if err != nil {
		return nil, err
	}
	cols := map[string]int{}
	for i, h := range records[0].fields {
		cols[strings.ToLower(strings.TrimSpace(h))] = i
	}
	for _, w := range wanted[:9] {
		if _, ok := cols[w]; !ok {
			return nil, fmt.Errorf("%s:%d: the header has no column %q: write %s", name, records[0].line, w, strings.Join(wanted, ","))
		}
	}
	var zones []Zone
	var faults []error
	for _, r := range records[1:] {
		bad := func(format string, args ...any) {
			faults = append(faults, fmt.Errorf("%s:%d: "+format, append([]any{name, r.line}, args...)...))
		}
		var x [10]float64
		for i, w := range wanted[1:] {
			c, ok := cols[w]
			if !ok || w == "doubt_kn" && (c >= len(r.fields) || strings.TrimSpace(r.fields[c]) == "") {
				continue
			}
			if c >= len(r.fields) {
				bad("there are %d columns, %s is missing: write as many as the header has", len(r.fields), w)
				continue
			}
			text, limit := strings.TrimSpace(r.fields[c]), ranges[i+1]
			v, err := strconv.ParseFloat(text, 64)
			if err != nil || !(v >= limit[0] && v <= limit[1]) {
				bad("%s %q: write a number from %g to %g", w, text, limit[0], limit[1])
				continue
			}
			x[i+1] = v
		}
		if x[2] <= x[1] {
			bad("north %g is not north of south %g: exchange them", x[2], x[1])
		}
		written := x[4]
		for x[4] <= x[3] { // over 180 degrees, or the two in different turns
			x[4] += 360
		}
		if x[4]-x[3] > 180 {
			bad("from west %g to east %g it is %g degrees wide, more than 180: exchange them, or make two zones", x[3], written, x[4]-x[3])
		}
		if x[5] != math.Trunc(x[5]) || x[6] != math.Trunc(x[6]) {
			bad("months %g and %g: write whole numbers, 1 to 12", x[5], x[6])
		}
		what := ""
		if c := cols["what"]; c < len(r.fields) {
			what = strings.TrimSpace(r.fields[c])
		}
		sin, cos := math.Sincos(x[7] * math.Pi / 180)
		rad := math.Pi / 180
		zones = append(zones, Zone{What: what, South: x[1] * rad, North: x[2] * rad, West: x[3] * rad, East: x[4] * rad,
			From: Month(x[5] - 1), To: Month(x[6]), U: x[8] * Knot * sin, V: x[8] * Knot * cos, Doubt: x[9] * Knot})
	}
	if len(faults) > 0 {
		return nil, join(faults)
	}
	return zones, nil
}
