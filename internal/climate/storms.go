package climate

import "math"

// Season is where a date stands in a basin's year of tropical storms.
type Season uint8

// The seasons, by rising risk. Storms out of season are known from every basin.
const (
	Quiet Season = iota
	Open         // within the published season
	Peak         // within the months that bring most of the storms
)

// String is the season in words.
func (s Season) String() string {
	return [...]string{"out of the season", "in the season", "in the height of the season"}[min(s, Peak)]
}

// span is a part of the year, from the first to the last; it may run over the new year.
type span struct{ from, to Month }

// holds tells whether a time of the year is in it.
func (s span) holds(m Month) bool {
	if s.from <= s.to {
		return m >= s.from && m < s.to
	}
	return m >= s.from || m < s.to
}

// Basin is a sea in which tropical storms are counted together.
type Basin struct {
	Name   string
	Source string
	// Corners of its area: latitude and longitude in degrees, north and east positive; it may
	// run over 180.
	Corners [][2]float64

	season      span
	peaks       []span
	south, west float64 // its box
	north, east float64
}

// nearEquator is the latitude, degrees, nearer than which storms hardly form: 500 km.
// Source: NOAA/AOML tropical cyclone questions and answers, from memory
const nearEquator = 4.5

// isthmus runs along the American land from south to north and parts Atlantic from Pacific.
var isthmus = [][2]float64{{nearEquator, -75}, {7.5, -77.3}, {9.1, -79.6}, {8.5, -81.2}, {8.8, -82.6}, {10, -84}, {11.5, -85.2},
	{13.5, -86.3}, {14.8, -88.5}, {15.5, -91.5}, {16.7, -93.8}, {17.3, -96}, {20, -100}, {26, -106}, {32, -114}, {50, -118}}

const (
	jetStream = "NOAA JetStream, tropical cyclone basins; NHC climatology"
	areas     = "; area: WMO tropical cyclone programme's regions, from memory, to 50 degrees"
)

// Basins are the published seasons. In the South Atlantic storms are rare and no season is published;
// the eastern South Pacific has none.
//
// Seasons: Atlantic 1 June to 30 November (more than 97 % of the storms; 78 % of the storm days
// August to October); eastern North Pacific 15 May to 30 November; north-west Pacific all the year,
// most July to November; North Indian April to December, most in May and November; South-west
// Indian and Australian late October to May; South-west Pacific November to early May. Found in
// NOAA JetStream and NHC's pages; the heights of the southern and Pacific seasons and the central
// Pacific's season from memory.
var Basins = func() []Basin {
	chain := func(more ...[2]float64) [][2]float64 { return append(append([][2]float64(nil), isthmus...), more...) }
	all := []Basin{
		{Name: "North Atlantic, Caribbean Sea and Gulf of Mexico", Source: jetStream + areas, season: span{5, 11}, peaks: []span{{7, 10}},
			Corners: chain([2]float64{50, 0}, [2]float64{44, -1}, [2]float64{36, -5.6}, [2]float64{30, -6}, [2]float64{nearEquator, -5})},
		{Name: "eastern North Pacific", Source: jetStream + areas, season: span{4.5, 11}, peaks: []span{{6, 9}},
			Corners: chain([2]float64{50, -140}, [2]float64{nearEquator, -140})},
		{Name: "central North Pacific", Source: jetStream + areas, season: span{5, 11}, peaks: []span{{6, 9}}, Corners: box(nearEquator, 50, 180, 220)},
		{Name: "north-west Pacific and China Sea", Source: jetStream + areas, season: span{0, 12}, peaks: []span{{6, 11}}, Corners: box(nearEquator, 50, 99, 180)},
		{Name: "North Indian", Source: jetStream + areas, season: span{3, 12}, peaks: []span{{4, 5}, {10, 11}}, Corners: box(nearEquator, 30, 43, 99)},
		{Name: "South-west Indian", Source: jetStream + areas, season: span{9.75, 5}, peaks: []span{{0, 3}}, Corners: box(-50, -nearEquator, 25, 90)},
		{Name: "Australian", Source: jetStream + areas, season: span{9.75, 5}, peaks: []span{{0, 3}}, Corners: box(-50, -nearEquator, 90, 160)},
		{Name: "South-west Pacific", Source: jetStream + areas, season: span{10, 4.25}, peaks: []span{{1, 3}}, Corners: box(-50, -nearEquator, 160, 240)},
	}
	for i := range all {
		b := &all[i]
		b.south, b.west, b.north, b.east = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
		for _, c := range b.Corners {
			b.south, b.north = math.Min(b.south, c[0]), math.Max(b.north, c[0])
			b.west, b.east = math.Min(b.west, c[1]), math.Max(b.east, c[1])
		}
	}
	return all
}()

// box is an area between two latitudes and two longitudes.
func box(south, north, west, east float64) [][2]float64 {
	return [][2]float64{{south, west}, {south, east}, {north, east}, {north, west}}
}

// Storms is the basin of tropical storms in which a place lies, or nil.
//
// In:     latitude and longitude radians
func Storms(lat, lon float64) *Basin {
	la, lo := lat*180/math.Pi, lon*180/math.Pi
	if !(math.Abs(la) <= 90) || math.IsInf(lo, 0) || math.IsNaN(lo) {
		return nil
	}
	for i := range Basins {
		b := &Basins[i]
		x := lo - 360*math.Floor((lo-b.west)/360)
		if la >= b.south && la <= b.north && x <= b.east && within(b.Corners, la, x) {
			return b
		}
	}
	return nil
}

// within counts how often a ray to the east crosses the area's edge.
func within(corners [][2]float64, lat, lon float64) bool {
	in := false
	for i, c := range corners {
		d := corners[(i+len(corners)-1)%len(corners)]
		if (c[0] > lat) != (d[0] > lat) && lon < c[1]+(lat-c[0])*(d[1]-c[1])/(d[0]-c[0]) {
			in = !in
		}
	}
	return in
}

// Season is where a time of the year stands in the basin's season.
func (b *Basin) Season(m Month) Season {
	m -= Month(12 * math.Floor(float64(m)/12))
	for _, p := range b.peaks {
		if p.holds(m) {
			return Peak
		}
	}
	if b.season.holds(m) {
		return Open
	}
	return Quiet
}

// Until is how many months there are until the season opens; 0 in the season.
func (b *Basin) Until(m Month) float64 {
	if b.Season(m) != Quiet {
		return 0
	}
	d := float64(b.season.from - m)
	return d - 12*math.Floor(d/12)
}
