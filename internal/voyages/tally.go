package voyages

import (
	"fmt"
	"math"
	"sort"
)

// Shape is what two tallies must share to be added.
type Shape struct {
	Most   float64 `json:"most_days"`
	Step   float64 `json:"step_s"`
	Cell   float64 `json:"cell_rad"`
	Points int     `json:"points"`
}

// Bins of the histograms.
const (
	binHours = 1.0     // of arrival
	binLeft  = 18520.0 // m, of the way left: ten nautical miles
	binRun   = 1852.0  // m, of a day's gain on the landfall
)

// Counts are how often each bin was hit.
type Counts map[int32]uint64

// Box is a cell of the map on a day.
type Box struct{ Day, Lat, Lon int32 }

// Tally is what is known of many passages: whole counts and extremes, so that adding is exact and
// its order does not matter.
type Tally struct {
	Shape
	Passages uint64
	Ends     [ends]uint64
	Arrival  Counts   // by hour from departure
	Points   []Counts // the same, of each point of the route; the last is the landfall
	Left     []Counts // by day, of those still under way: the way left
	Runs     Counts   // gains of a day on the landfall
	Where    map[Box]uint64
	// Sums in whole seconds, so that they are exact.
	RowedS, DriftedS, LayS, GaleS, AtSeaS int64
	// How many passages met a season of storms, and the days that they were in it.
	Stormy, StormyDays uint64
	// LayDays and NearMiles are how many passages lay so many whole days to the sea anchor,
	// and came so many whole nautical miles to land.
	LayDays, NearMiles Counts
	// First is the lowest number of those that arrived in an hour, and Others of those that ended otherwise, by End: one of each kind
	// can so be made again.
	First                map[int32]uint64
	Others               map[End]uint64
	Fastest, Slowest     float64 // days, of those that arrived; 0 if none did
	MostWind, HighestSea float64 // m/s, m
}

// NewTally is an empty one for a runner's passages.
func (r *Runner) NewTally() *Tally {
	t := &Tally{Shape: Shape{r.s.Most, r.s.Step, r.s.Cell, len(r.points)}, Arrival: Counts{}, Runs: Counts{}, Where: map[Box]uint64{},
		LayDays: Counts{}, NearMiles: Counts{}, First: map[int32]uint64{}, Others: map[End]uint64{}}
	t.Points = make([]Counts, len(r.points))
	for i := range t.Points {
		t.Points[i] = Counts{}
	}
	t.Left = make([]Counts, int(math.Ceil(r.s.Most))+1)
	for i := range t.Left {
		t.Left[i] = Counts{}
	}
	return t
}

// counter fills a tally as a passage goes.
type counter struct {
	t    *Tally
	last float64 // the way left at the last midnight
}

func (c *counter) midnight(day int, at vector, left float64) {
	t := c.t
	t.Where[Box{int32(day), int32(math.Floor(at.lat() / t.Cell)), int32(math.Floor(at.lon() / t.Cell))}]++
	t.Left[day][int32(left/binLeft)]++
	if day > 0 {
		t.Runs[int32(math.Floor((c.last-left)/binRun))]++
	}
	c.last = left
}

func (c *counter) passed(point int, days float64) {
	c.t.Points[point][int32(days*24/binHours)]++
}

func (c *counter) moment(Moment) {}

// add counts a passage that is over.
func (t *Tally) add(p Passage) {
	seconds := func(hours float64) int64 { return int64(math.Round(hours * 3600)) }
	t.Passages++
	t.Ends[p.End]++
	t.RowedS += seconds(p.Rowed)
	t.DriftedS += seconds(p.Drifted)
	t.LayS += seconds(p.Lay)
	t.GaleS += seconds(p.Gale)
	t.AtSeaS += seconds(p.Days * 24)
	t.LayDays[int32(p.Lay/24)]++
	if p.Near > 0 {
		t.NearMiles[int32(math.Min(p.Near/1852, 1e6))]++
	}
	if p.Stormy > 0 {
		t.Stormy++
		t.StormyDays += uint64(p.Stormy)
	}
	if p.End == Arrived {
		hour := int32(p.Days * 24 / binHours)
		t.Arrival[hour]++
		lowest(t.First, hour, p.Number)
		if t.Fastest == 0 || p.Days < t.Fastest {
			t.Fastest = p.Days
		}
		t.Slowest = math.Max(t.Slowest, p.Days)
	} else {
		lowest(t.Others, p.End, p.Number)
	}
	t.MostWind, t.HighestSea = math.Max(t.MostWind, p.Wind), math.Max(t.HighestSea, p.Sea)
}

// lowest keeps the lowest number under a key.
func lowest[K comparable](m map[K]uint64, k K, n uint64) {
	if was, ok := m[k]; !ok || n < was {
		m[k] = n
	}
}

// Add takes another tally in.
//
// Error:  ErrInput where they are not of the same shape
// Good to: exactly, in any order and grouping (TestMergeAnyOrder)
func (t *Tally) Add(o *Tally) error {
	if t.Shape != o.Shape || len(t.Left) != len(o.Left) || len(t.Points) != len(o.Points) {
		return fmt.Errorf("voyages: %w: tallies of %+v and of %+v do not add up; add those of one plan", ErrInput, t.Shape, o.Shape)
	}
	t.Passages += o.Passages
	for i, n := range o.Ends {
		t.Ends[i] += n
	}
	t.Arrival.add(o.Arrival)
	t.Runs.add(o.Runs)
	t.LayDays.add(o.LayDays)
	t.NearMiles.add(o.NearMiles)
	for i := range o.Points {
		t.Points[i].add(o.Points[i])
	}
	for i := range o.Left {
		t.Left[i].add(o.Left[i])
	}
	for k, n := range o.Where {
		t.Where[k] += n
	}
	for k, n := range o.First {
		lowest(t.First, k, n)
	}
	for k, n := range o.Others {
		lowest(t.Others, k, n)
	}
	t.RowedS += o.RowedS
	t.DriftedS += o.DriftedS
	t.LayS += o.LayS
	t.GaleS += o.GaleS
	t.AtSeaS += o.AtSeaS
	t.Stormy += o.Stormy
	t.StormyDays += o.StormyDays
	if o.Fastest > 0 && (t.Fastest == 0 || o.Fastest < t.Fastest) {
		t.Fastest = o.Fastest
	}
	t.Slowest = math.Max(t.Slowest, o.Slowest)
	t.MostWind, t.HighestSea = math.Max(t.MostWind, o.MostWind), math.Max(t.HighestSea, o.HighestSea)
	return nil
}

func (c Counts) add(o Counts) {
	for k, n := range o {
		c[k] += n
	}
}

// Total is how many were counted.
func (c Counts) Total() uint64 {
	var n uint64
	for _, x := range c {
		n += x
	}
	return n
}

// Bins are those hit, rising.
func (c Counts) Bins() []int32 {
	out := make([]int32, 0, len(c))
	for k := range c {
		out = append(out, k)
	}
	sort.Slice(out, func(i, j int) bool { return out[i] < out[j] })
	return out
}

// quantile is where a share of so many lies, in bins; false where fewer were counted.
func (c Counts) quantile(share float64, of uint64) (float64, bool) {
	want := share * float64(of)
	sum := 0.0
	for _, k := range c.Bins() {
		n := float64(c[k])
		if sum+n >= want && n > 0 {
			return float64(k) + (want-sum)/n, true
		}
		sum += n
	}
	return 0, false
}

// Chance is the share of passages that ended so, with the ends of its 95 % range: what other
// seeds might have given.
//
// Source: Wilson 1927, Journal of the American Statistical Association 22
func (t *Tally) Chance(e End) (share, low, high float64) {
	if t.Passages == 0 {
		return 0, 0, 1
	}
	return Wilson(t.Ends[e], t.Passages)
}

// Wilson is the share of some in all, with the 95 % range of what it is drawn from.
func Wilson(some, all uint64) (share, low, high float64) {
	const z = 1.959963984540054 // normal quantile at 0.975
	n, p := float64(all), float64(some)/float64(all)
	mid, half := (p+z*z/(2*n))/(1+z*z/n), z/(1+z*z/n)*math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	return p, math.Max(0, mid-half), math.Min(1, mid+half)
}

// ArrivalBy is the day by which a share of all passages has arrived; false where fewer ever do.
//
// Good to: an hour, the bin
func (t *Tally) ArrivalBy(share float64) (days float64, ok bool) {
	h, ok := t.Arrival.quantile(share, t.Passages)
	return h * binHours / 24, ok
}

// ArrivedBefore is the share of all passages that have arrived by a day.
func (t *Tally) ArrivedBefore(days float64) float64 {
	if t.Passages == 0 {
		return 0
	}
	var n uint64
	for k, c := range t.Arrival {
		if float64(k+1)*binHours/24 <= days+1e-9 {
			n += c
		}
	}
	return float64(n) / float64(t.Passages)
}

// PointBy is the day by which a share of all passages has passed a point of the route.
func (t *Tally) PointBy(point int, share float64) (days float64, ok bool) {
	h, ok := t.Points[point].quantile(share, t.Passages)
	return h * binHours / 24, ok
}

// LeftAt is the way left, m, at the start of a day that a share of those still under way have less
// than; false where none are.
func (t *Tally) LeftAt(day int, share float64) (left float64, ok bool) {
	if day < 0 || day >= len(t.Left) {
		return 0, false
	}
	b, ok := t.Left[day].quantile(share, t.Left[day].Total())
	return b * binLeft, ok
}

// WithinBy is the day at whose start a share of all passages has so much of the way left, in m, or less, or has arrived; false
// where fewer ever come so near.
//
// Good to: a day, and the ten sea miles of a bin
func (t *Tally) WithinBy(left, share float64) (day float64, ok bool) {
	for d, c := range t.Left {
		n := t.ArrivedBefore(float64(d)) * float64(t.Passages)
		for k, v := range c {
			if float64(k)*binLeft < left {
				n += float64(v)
			}
		}
		if t.Passages > 0 && n >= share*float64(t.Passages) {
			return float64(d), true
		}
	}
	return 0, false
}

// RunBy is the gain of a day on the landfall, m, that a share of days stay under.
func (t *Tally) RunBy(share float64) (run float64, ok bool) {
	b, ok := t.Runs.quantile(share, t.Runs.Total())
	return b * binRun, ok
}
