// Package climate is what wind, current, air and sky are by place and time of year, on the
// average of many years: not a forecast, and not a year that ever was.
//
// Wind: the mean east and north part and the scalar mean, by month and cell of two degrees, from
// ships' reports 1946-1989 (COADS); where those are missing or too few (south of 35 to 41 S),
// from a weather centre's analyses 1982-1992 and the charts of Esbensen and Kushnir (1981).
// Current: what temperature and salinity of the sea imply, and a part that the wind drags;
// not measured, see CurrentField. A person's own wind or current takes its place (ReadWind,
// ReadCurrent), and the embedded one fills what that does not reach.
//
// What is not looked at: eddies and tides (both stronger than the mean in many places), the
// differences between years (StandardSpread says how large), land and sea breezes, the wind in the
// lee of islands, squalls, ice.
//
// Latitudes and longitudes are radians, north and east positive, longitudes of any turn. Winds
// and currents are where they go TO, m/s. Everything may be asked from many goroutines at once.
package climate

import (
	"fmt"
	"math"
	"time"
)

// Month is a time of the year in months: 0 is the start of January, 0.5 its middle, and 12 is 0
// again. Within a month it is proportional to time.
type Month float64

// MonthOf is the time of the year of a moment, in that moment's own calendar.
func MonthOf(t time.Time) Month {
	start := time.Date(t.Year(), t.Month(), 1, 0, 0, 0, 0, t.Location())
	end := time.Date(t.Year(), t.Month()+1, 1, 0, 0, 0, 0, t.Location())
	return Month(float64(t.Month()-time.January) + float64(t.Sub(start))/float64(end.Sub(start)))
}

// split is the knot at or before a time of the year and how far it is to the next; a knot stands
// at the middle of each month. A time that is no number counts as the middle of January.
func (m Month) split() (before, after int, share float64) {
	x := float64(m) - .5
	if !(x >= 0 && x < 12) {
		x -= 12 * math.Floor(x/12)
		if !(x >= 0 && x < 12) {
			return 0, 1, 0
		}
	}
	before = int(x)
	after = before + 1
	if after == 12 {
		after = 0
	}
	return before, after, x - float64(before)
}

// Origin tells where the value of a cell comes from.
type Origin uint8

// The origins, from the surest to the least.
const (
	Land    Origin = iota // no sea here: spread from the nearest sea, only so that there is a value
	Ships                 // ships' reports, smoothed
	Blended               // ships' reports and analyses, weighted by latitude
	Charts                // analyses and objective charts; ships are missing or too few
	Spread                // sea without data of its own: spread from its neighbours
	Section               // current worked out from the sea's temperature and salinity
	Own                   // the person's own file
)

var origins = [...]string{
	Land: "spread from the nearest sea", Ships: "ships' reports", Blended: "ships' reports and analyses",
	Charts: "analyses and charts", Spread: "spread from neighbouring sea", Section: "from temperature and salinity of the sea", Own: "own file",
}

// String is the origin in words.
func (o Origin) String() string {
	if int(o) >= len(origins) {
		return fmt.Sprintf("unknown origin %d", int(o))
	}
	return origins[o]
}

// Knot is a nautical mile an hour, m/s, exact.
const Knot = 1852.0 / 3600
