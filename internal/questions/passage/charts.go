package passage

import (
	"fmt"
	"math"

	"thole/internal/sheet"
)

// upright is a line at a day, as high as the chart.
func upright(name string, role sheet.Role, day float64) sheet.Series {
	return sheet.Series{Name: name, Role: role, X: []float64{day, day}, Y: []float64{0, 100}}
}

// arrivals is the share that has arrived by each day, against what limits the days.
func (q *ask) arrivals(f *Figures) *sheet.Chart {
	c := &sheet.Chart{Heading: "Arrived by day"}
	main := sheet.Series{Name: "arrived", Role: sheet.Main}
	low, high := float64(q.x.Planned), float64(q.x.Planned)
	if len(f.Arrived) > 0 {
		first := float64(f.Arrived[0].Day)
		main.X, main.Y = append(main.X, first), append(main.Y, 0)
		for _, d := range f.Arrived {
			main.X, main.Y = append(main.X, float64(d.Day)), append(main.Y, 100*d.Share)
		}
		low, high = math.Min(low, first), math.Max(high, float64(f.Arrived[len(f.Arrived)-1].Day))
	}
	said := ""
	c.Series = append(c.Series, main, upright("days planned", sheet.Limit, float64(q.x.Planned)))
	if end := q.foodEnds(); end > 0 {
		c.Series = append(c.Series, upright("last day with food by stores.csv", sheet.Other, float64(end)))
		low, high = math.Min(low, float64(end)), math.Max(high, float64(end))
		said += fmt.Sprintf(" The food by stores.csv ends on day %d.", end)
	}
	if o := f.Storms.Opens; o != nil && *o > 0 && *o < 1.5*high {
		c.Series = append(c.Series, upright("season of storms opens at the landfall", sheet.Other, *o))
		high = math.Max(high, *o)
		said += fmt.Sprintf(" The season of tropical storms opens at the landfall on day %.0f.", *o)
	}
	if len(f.Arrived) > 0 && high > main.X[len(main.X)-1] { // what has arrived has arrived
		main.X, main.Y = append(main.X, high), append(main.Y, main.Y[len(main.Y)-1])
		c.Series[0] = main
	}
	c.X = sheet.Axis{Name: "after leaving", Unit: "days"}
	c.X.Min, c.X.Max, c.X.Ticks = sheet.Ticks(low, high)
	c.Y = sheet.Axis{Name: "arrived", Unit: "%", Max: 100, Ticks: []float64{0, 25, 50, 75, 100}}
	c.Alt = fmt.Sprintf("By day %d, as planned, %.0f %% of the passages have arrived", q.x.Planned, 100*f.ByPlanned.Value)
	if f.Median != nil {
		c.Alt += fmt.Sprintf("; half by day %.0f", math.Ceil(*f.Median))
	}
	if f.Twentieth != nil {
		c.Alt += fmt.Sprintf(", nineteen in twenty by day %.0f", math.Ceil(*f.Twentieth))
	}
	c.Alt += "." + said
	return c
}

// foodEnds is the last day on which some food of the stores is used; 0 where none is.
func (q *ask) foodEnds() int {
	last := 0
	for _, s := range q.c.Folder.Stores {
		if s.Energy > 0 || s.Group == "food" {
			last = max(last, s.Use.Last)
		}
	}
	return last
}

// binMiles is how wide a bar of the daily runs is.
const binMiles = 5

// runs is how often she gains how much in a day; nil where no day is over.
func (q *ask) runs(f *Figures) *sheet.Chart {
	bins := map[int]float64{}
	total := float64(q.tally.Runs.Total())
	if total == 0 {
		return nil
	}
	low, high := math.MaxInt, math.MinInt
	for k, n := range q.tally.Runs {
		b := int(math.Floor(float64(k) / binMiles))
		bins[b] += 100 * float64(n) / total
	}
	// One day in a thousand further off is not drawn.
	for b, share := range bins {
		if share >= 0.1 {
			low, high = min(low, b), max(high, b)
		}
	}
	s := sheet.Series{Name: "days", Role: sheet.Main, Width: binMiles}
	most, back := 0.0, 0.0
	for b := low; b <= high; b++ {
		s.X, s.Y, s.Base = append(s.X, (float64(b)+0.5)*binMiles), append(s.Y, bins[b]), append(s.Base, 0)
		most = math.Max(most, bins[b])
	}
	for b, share := range bins {
		if b < 0 {
			back += share
		}
	}
	c := &sheet.Chart{Heading: "Sea miles nearer to the landfall in a day", Series: []sheet.Series{s}, X: sheet.Axis{Name: "a day's gain", Unit: "nm"}, Y: sheet.Axis{Name: "share of days", Unit: "%"},
		Alt: fmt.Sprintf("A day gains %.0f nm in the middle, %.0f to %.0f nm on half of all days; on %.0f %% of days she loses ground.", f.Run.Median, f.Run.Quarter, f.Run.ThreeQuarters, back)}
	c.X.Min, c.X.Max, c.X.Ticks = sheet.Ticks(float64(low*binMiles), float64((high+1)*binMiles))
	c.Y.Min, c.Y.Max, c.Y.Ticks = sheet.Ticks(0, most)
	return c
}
