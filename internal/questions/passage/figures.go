package passage

import (
	"math"
	"time"

	"thole/internal/climate"
	"thole/internal/crossing"
	"thole/internal/voyages"
)

// Figures are the numbers of the answer. Days are counted from leaving; a day that is never reached is left out. Chances are shares
// of all passages, with the ends of the range in which 19 in 20 other draws would find them.
//
// From Months on they are worked out for a whole answer only, and left out of a brief one; all that stands before is the same in both.
type Figures struct {
	Passages  int      `json:"passages"`
	Seed      uint64   `json:"seed"`
	Leave     string   `json:"leave"` // the date
	Planned   int      `json:"planned_days"`
	Distance  float64  `json:"distance_nmi"`             // along the route
	Median    *float64 `json:"median_days,omitempty"`    // by which half have arrived
	Tenth     *float64 `json:"tenth_days,omitempty"`     // one in ten comes later, or never
	Twentieth *float64 `json:"twentieth_days,omitempty"` // one in twenty
	Fastest   *float64 `json:"fastest_days,omitempty"`

	ByPlanned Chance  `json:"chance_by_planned"` // arrived within the planned days
	Missed    Chance  `json:"chance_missed"`
	Ashore    Chance  `json:"chance_ashore"`
	OutOfTime Chance  `json:"chance_out_of_time"`
	Longest   float64 `json:"simulated_days"` // a passage longer than that is out of time

	Run       Quartiles `json:"daily_run_nmi"` // nearer to the landfall from one midnight to the next
	Rowed     float64   `json:"rowed_hours"`   // of the mean passage, as are those that follow
	Drifted   float64   `json:"drifted_hours"`
	SeaAnchor float64   `json:"sea_anchor_days"`
	Gale      float64   `json:"gale_hours"` // force 8 and more
	MostWind  float64   `json:"most_wind_kn"`
	Highest   float64   `json:"highest_sea_m"`

	Storms Storms  `json:"storms"`
	Points []Point `json:"points"`
	// Arrived is the share of all that have arrived by a day, every day from the first arrival to the last.
	Arrived []ByDay `json:"arrived"`

	Months  []Month `json:"months,omitempty"`
	Reach   *Reach  `json:"reach,omitempty"`
	Tonight []Night `json:"tonight,omitempty"`
	Tracks  []Track `json:"tracks,omitempty"` // passages drawn, to be had again by their number
}

// Chance is a share with its range.
type Chance struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// Quartiles are what a quarter, a half and three quarters stay under.
type Quartiles struct {
	Quarter       float64 `json:"quarter"`
	Median        float64 `json:"median"`
	ThreeQuarters float64 `json:"three_quarters"`
}

// Storms are the seasons of tropical storms.
type Storms struct {
	Chance Chance  `json:"chance"` // of being at sea within one
	Days   float64 `json:"days"`   // of those that are, on the average
	Basin  string  `json:"basin,omitempty"`
	// Opens is the day after leaving on which the season opens at the landfall; 0 when it is open already. Left out where no season is published.
	Opens *float64 `json:"opens_days,omitempty"`
}

// Point is a point of the route, the landfall last.
type Point struct {
	Name   string   `json:"name"`
	Median *float64 `json:"median_days,omitempty"`
	Late   *float64 `json:"late_days,omitempty"` // by which nineteen in twenty have passed it
	Share  float64  `json:"share"`               // that ever pass it
}

// ByDay is a share by a day.
type ByDay struct {
	Day   int     `json:"day"`
	Share float64 `json:"share"`
}

// Month is what comes of leaving on a date.
type Month struct {
	Leave     string   `json:"leave"`
	Passages  int      `json:"passages"`
	Median    *float64 `json:"median_days,omitempty"`
	Twentieth *float64 `json:"twentieth_days,omitempty"`
	ByPlanned float64  `json:"arrived_by_planned"`
	Ashore    float64  `json:"ashore"`
	Missed    float64  `json:"missed"`
	OutOfTime float64  `json:"out_of_time"`
	Stormy    float64  `json:"stormy"`
	Best      bool     `json:"best,omitempty"`
}

// Reach is the line beyond which the landfall is lost.
type Reach struct {
	Asked float64     `json:"asked"` // the share that is still to arrive
	Lines []ReachLine `json:"lines"`
}

// ReachLine is how far off the route she may stand at a distance before the landfall.
type ReachLine struct {
	Before    float64 `json:"before_nmi"`
	Share     float64 `json:"share"` // of those that start on the route there and arrive
	Left      float64 `json:"left_nmi"`
	LeftOpen  bool    `json:"left_open"` // so far was looked, and it still holds
	Right     float64 `json:"right_nmi"`
	RightOpen bool    `json:"right_open"`
}

// Night is how far she may be set while nobody rows.
type Night struct {
	When     string  `json:"when"` // in words
	Day      int     `json:"day"`
	Lat      float64 `json:"lat_deg"`
	Lon      float64 `json:"lon_deg"`
	Hours    float64 `json:"hours"`
	Adrift   Set     `json:"adrift"`
	Anchored Set     `json:"sea_anchor"`
	// Land is how far the nearest land or danger known here lies, on whatever side: the wind may turn. Left out where there is none.
	Land    *float64 `json:"land_nmi,omitempty"`
	Bearing float64  `json:"land_bearing_deg"`
}

// Set is a night's drift.
type Set struct {
	Toward float64 `json:"toward_deg"`
	Middle float64 `json:"middle_nmi"`
	Far    float64 `json:"far_nmi"`  // one night in twenty is further
	Keep   float64 `json:"keep_nmi"` // from anything to leeward
}

// Track is one passage.
type Track struct {
	Number uint64  `json:"number"`
	Name   string  `json:"name"`
	End    string  `json:"end"`
	Days   float64 `json:"days"`
}

// day is a day that may never come.
func day(v float64, ok bool) *float64 {
	if !ok || math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// chance is a share with its range.
func chance(some, all uint64) Chance {
	if all == 0 {
		return Chance{High: 1}
	}
	var c Chance
	c.Value, c.Low, c.High = voyages.Wilson(some, all)
	return c
}

// figures are those that a brief answer has too.
func (q *ask) figures() *Figures {
	t := q.tally
	n := math.Max(1, float64(t.Passages))
	f := &Figures{Passages: int(t.Passages), Seed: q.x.Spec.Seed, Leave: q.c.Folder.Voyage.Leave.Format(time.DateOnly), Planned: q.x.Planned, Distance: q.x.Route.Length() / mile,
		Median: day(t.ArrivalBy(0.5)), Tenth: day(t.ArrivalBy(0.9)), Twentieth: day(t.ArrivalBy(late)), Fastest: day(t.Fastest, t.Fastest > 0),
		Missed: chance(t.Ends[voyages.Missed], t.Passages), Ashore: chance(t.Ends[voyages.Ashore], t.Passages), OutOfTime: chance(t.Ends[voyages.OutOfTime], t.Passages), Longest: t.Most,
		Rowed: float64(t.RowedS) / 3600 / n, Drifted: float64(t.DriftedS) / 3600 / n, SeaAnchor: float64(t.LayS) / 86400 / n, Gale: float64(t.GaleS) / 3600 / n,
		MostWind: t.MostWind / knot, Highest: t.HighestSea}
	f.ByPlanned = chance(uint64(math.Round(t.ArrivedBefore(float64(q.x.Planned))*n)), t.Passages)
	for share, to := range map[float64]*float64{0.25: &f.Run.Quarter, 0.5: &f.Run.Median, 0.75: &f.Run.ThreeQuarters} {
		if run, ok := t.RunBy(share); ok {
			*to = run / mile
		}
	}
	f.Storms = q.storms()
	for i := range t.Points {
		p := Point{Name: q.pointName(i), Median: day(t.PointBy(i, 0.5)), Late: day(t.PointBy(i, late)), Share: float64(t.Points[i].Total()) / n}
		f.Points = append(f.Points, p)
	}
	f.Arrived = []ByDay{}
	if t.Fastest > 0 {
		for d := int(t.Fastest); d <= int(math.Ceil(t.Slowest)); d++ {
			f.Arrived = append(f.Arrived, ByDay{d, t.ArrivedBefore(float64(d))})
		}
	}
	return f
}

// pointName is what a point of the route is called, the first after the start being 0.
func (q *ask) pointName(i int) string {
	v := q.c.Folder.Voyage
	name := ""
	switch {
	case i < len(v.By):
		name = v.By[i].Name
	default:
		name = v.To.Name
	}
	if name == "" && i+1 < len(q.x.Places) {
		name = place(q.x.Places[i+1])
	}
	return name
}

// monthDays is the mean length of a month.
const monthDays = 365.2425 / 12

// storms are the seasons met, and when that of the landfall opens.
func (q *ask) storms() Storms {
	t := q.tally
	s := Storms{Chance: chance(t.Stormy, t.Passages)}
	if t.Stormy > 0 {
		s.Days = float64(t.StormyDays) / float64(t.Stormy)
	}
	to := q.landfall()
	if b := climate.Storms(to.Lat, to.Lon); b != nil {
		s.Basin = b.Name
		opens := b.Until(climate.MonthOf(q.x.Leave)) * monthDays
		s.Opens = &opens
	}
	return s
}

// monthOf is a departure in figures.
func (q *ask) monthOf(d crossing.Departure) Month {
	t := d.Tally
	n := math.Max(1, float64(t.Passages))
	return Month{Leave: d.Leave.Format(time.DateOnly), Passages: int(t.Passages), Median: day(t.ArrivalBy(0.5)), Twentieth: day(t.ArrivalBy(late)), ByPlanned: d.By(q.x.Planned),
		Ashore: float64(t.Ends[voyages.Ashore]) / n, Missed: float64(t.Ends[voyages.Missed]) / n, OutOfTime: float64(t.Ends[voyages.OutOfTime]) / n, Stormy: d.Stormy()}
}
