package crossing

import (
	"fmt"
	"math"

	"thole/internal/underway"
	"thole/internal/voyages"
)

// ages are those of growth at which her speed is worked out, days; between them it runs straight. The quick ones are fewer.
var (
	ages      = []float64{0, 3, 7, 14, 21, 31, 42, 65, 90, 130, 180}
	quickAges = []float64{0, 7, 21, 42, 90, 180}
)

// middling is the age of growth for which her motion is tabled: half of the oldest that there will be. How much faster she is on a
// cleaner day, and slower on a fouler, is worked out in a calm and taken as the same share in any wind (modelling choice).
func (c *Crossing) middling() float64 {
	oldest := float64(c.Trip.Days)
	if n := c.Trip.Folder.Voyage.Scrape; n > 0 {
		oldest = math.Min(oldest, float64(n))
	}
	return math.Round(oldest / 2)
}

// wear is how boat and bodies change on the way.
func (c *Crossing) wear(turns []underway.Turn, d Detail) (voyages.Wear, error) {
	v := c.Trip.Folder.Voyage
	var w voyages.Wear
	var err error
	if w.Days, err = c.days(turns[0].Condition, d); err != nil {
		return w, err
	}
	longest, sick := 0, 0
	for i := range v.Crew {
		days := usualSickDays
		if s := v.Crew[i].Seasick; s != nil {
			days = *s
		} else {
			c.take("seasickness of "+v.Crew[i].Name, fmt.Sprintf("%d days", usualSickDays), "rowers write of one to two weeks; common practice, no source", fmt.Sprintf("voyage.yaml: crew[%d].seasick", i))
		}
		if days > 0 {
			sick++
		}
		longest = max(longest, days)
	}
	if sick > 0 {
		w.Sick, w.SickDays = usualSick*float64(sick)/float64(len(v.Crew)), float64(longest)
		c.take("what seasickness takes of the rowing", fmt.Sprintf("%.0f %% on the first day on the mean, falling to nothing by day %d", 100*w.Sick, longest), "drawn for each passage from nothing to twice that; modelling choice", "")
	}
	w.Every = v.Habits.Rest
	w.Lost = usualLost
	if v.Habits.Lost != nil {
		w.Lost = *v.Habits.Lost
	} else {
		c.take("days lost to injury and repair", fmt.Sprintf("%.0f %%", 100*usualLost), "modelling choice", "voyage.yaml: habits.lost")
	}
	return w, nil
}

// days are her load and the growth, at the middle of each day of the longest passage. After the last day of the stores she stays as
// light as then; she is scraped on as before.
func (c *Crossing) days(condition int, d Detail) ([]voyages.Day, error) {
	n := int(math.Ceil(c.Spec.Most))
	loads := make([]float64, c.Trip.Days+1)
	for i := range loads {
		loads[i] = c.Trip.State(i, condition).Mass
	}
	grown := make([]float64, n)
	oldest := 0.0
	for i := range grown {
		grown[i] = 0.5 + float64(c.Way.Scraped(i))
		oldest = math.Max(oldest, grown[i])
	}
	at := ages
	if d == Quick {
		at = quickAges
	}
	last := 1
	for last < len(at)-1 && at[last] < oldest {
		last++
	}
	at = at[:last+1]
	faster, err := c.Way.Grown(c.Way.Midway(), at, c.middling())
	if err != nil {
		return nil, err
	}
	out := make([]voyages.Day, n)
	for i := range out {
		j, k := min(i, len(loads)-1), min(i+1, len(loads)-1)
		out[i] = voyages.Day{Load: (loads[j] + loads[k]) / 2, Foul: -straight(at, faster, grown[i])}
	}
	return out, nil
}

// straight is a row of figures at a value: straight between its points, past them as at the end.
func straight(x, y []float64, at float64) float64 {
	for i := 1; i < len(x); i++ {
		if at < x[i] {
			return y[i-1] + (y[i]-y[i-1])*math.Max(0, at-x[i-1])/(x[i]-x[i-1])
		}
	}
	return y[len(y)-1]
}
