package drift

import (
	"cmp"
	"math"
	"slices"
)

// Leeway is how one kind of thing drifts: speed = Share of the wind + Extra, to either side of
// dead downwind by no more than Divergence.
type Leeway struct {
	Object     string
	Share      float64 // of the wind at 10 m
	Extra      float64 // m/s
	Divergence float64 // radians; NaN where none is given
	Craft      bool    // a boat or board, not a raft or a person
	Source     string
}

// Sources of the leeway table.
const (
	searchManual = "Australian National SAR Manual 2023, table D-5, adapted from Allen and Plourde, USCG report CG-D-08-99 (1999); a public transcription"
	brushett     = "Brushett et al., J. Marine Systems (2014), downwind slopes, from the abstract"
)

// leeways are the table as printed: object, multiplier, modifier in knots, divergence in degrees.
//
// TRAP: the table has no standard errors; those of single drift runs are in the original report
// and are of the order of 0.1 knot.
var leeways = []struct {
	object             string
	share, knots, side float64
	craft              bool
	source             string
}{
	{"person in the water, state unknown", .011, .07, 30, false, searchManual},
	{"person in the water, upright", .005, .07, 18, false, searchManual},
	{"person in the water, sitting", .012, 0, 18, false, searchManual},
	{"person in the water, survival suit", .014, .10, 30, false, searchManual},
	{"person in the water, scuba suit", .007, .08, 30, false, searchManual},
	{"person in the water, deceased", .015, .08, 30, false, searchManual},
	{"raft without ballast", .042, .03, 28, false, searchManual},
	{"raft without ballast, no canopy, no drogue", .057, .21, 24, false, searchManual},
	{"raft without ballast, no canopy, drogue", .044, -.20, 28, false, searchManual},
	{"raft without ballast, canopy, no drogue", .037, .11, 24, false, searchManual},
	{"raft without ballast, canopy, drogue", .030, 0, 28, false, searchManual},
	{"raft with shallow ballast and canopy, no drogue", .032, -.02, 22, false, searchManual},
	{"raft with shallow ballast and canopy, drogue", .025, .01, 22, false, searchManual},
	{"raft with shallow ballast and canopy, capsized", .017, -.10, 8, false, searchManual},
	{"raft with deep ballast and canopy", .030, .02, 13, false, searchManual},
	{"raft with deep ballast, 4 to 6 persons", .029, .04, 15, false, searchManual},
	{"raft with deep ballast, 4 to 6 persons, no drogue, light", .038, -.04, 15, false, searchManual},
	{"raft with deep ballast, 4 to 6 persons, no drogue, heavy", .036, -.03, 15, false, searchManual},
	{"raft with deep ballast, 4 to 6 persons, drogue, light", .018, .03, 12, false, searchManual},
	{"raft with deep ballast, 4 to 6 persons, drogue, heavy", .016, .05, 24, false, searchManual},
	{"raft with deep ballast, 15 to 25 persons, no drogue, light", .036, -.09, 10, false, searchManual},
	{"raft with deep ballast, 15 to 25 persons, drogue, heavy", .031, -.07, 9, false, searchManual},
	{"raft with deep ballast, 15 to 25 persons, capsized", .009, 0, 12, false, searchManual},
	{"raft with deep ballast, 15 to 25 persons, swamped", .010, -.04, 8, false, searchManual},
	{"sea kayak with a person on its aft deck", .011, .24, 15, true, searchManual},
	{"surfboard with a person", .020, 0, 15, true, searchManual},
	{"windsurfer with mast and sail in the water", .023, .10, 12, true, searchManual},
	{"open skiff, flat bottom", .034, .04, 22, true, searchManual},
	{"open skiff, V hull", .030, .08, 15, true, searchManual},
	{"open skiff, V hull, swamped", .017, 0, 15, true, searchManual},
	{"sailing monohull, full keel", .030, 0, 48, true, searchManual},
	{"sailing monohull, fin keel", .040, 0, 48, true, searchManual},
	{"sport boat with a cuddy", .069, -.08, 19, true, searchManual},
	{"sport fisher", .060, -.09, 22, true, searchManual},
	{"outrigger canoe of 6 m", .0240, 0, math.NaN(), true, brushett},
	{"personal water craft", .0424, 0, math.NaN(), true, brushett},
	{"skiff of 5.8 m, one person", .0771, 0, math.NaN(), true, brushett},
	{"skiff of 5.8 m, thirteen persons", .0440, 0, math.NaN(), true, brushett},
}

// Leeways is the published table, in its own order.
func Leeways() []Leeway {
	out := make([]Leeway, len(leeways))
	for i, l := range leeways {
		out[i] = Leeway{l.object, l.share, l.knots * Knot, l.side * math.Pi / 180, l.craft, l.source}
	}
	return out
}

// Speed is the drift in a wind, m/s; none where the table's line falls below nothing.
//
// In:     wind in m/s at 10 m; the tests behind the table were in 3 to 20 m/s
func (l Leeway) Speed(wind float64) float64 { return math.Max(0, l.Share*wind+l.Extra) }

// Standing is where a drift falls among the published ones.
type Standing struct {
	Speed, Share   float64 // m/s, and as a share of the wind
	Rank, Of       int     // 1 is the slowest of all of them and this one
	Slower, Faster *Leeway // the nearest on either side; nil past the end
	// Craft is the range of all boats of the table in this wind, m/s.
	CraftLow, CraftHigh float64
}

// Among sets a drift beside the boats of the published table.
//
// In:     drift and wind in m/s, wind above 0
// Error:  ErrInput
func Among(speed, wind float64) (Standing, error) {
	if err := cmp.Or(need("the drift", speed, 0, 50, "give 0 m/s or more"),
		need("the wind", wind, 0.1, 100, "give 0.1 to 100 m/s")); err != nil {
		return Standing{}, err
	}
	var boats []Leeway
	for _, l := range Leeways() {
		if l.Craft {
			boats = append(boats, l)
		}
	}
	slices.SortStableFunc(boats, func(a, b Leeway) int { return cmp.Compare(a.Speed(wind), b.Speed(wind)) })
	s := Standing{Speed: speed, Share: speed / wind, Rank: 1, Of: len(boats) + 1,
		CraftLow: boats[0].Speed(wind), CraftHigh: boats[len(boats)-1].Speed(wind)}
	for i := range boats {
		if boats[i].Speed(wind) <= speed {
			s.Rank = i + 2
			s.Slower = &boats[i]
		} else if s.Faster == nil {
			s.Faster = &boats[i]
		}
	}
	return s, nil
}
