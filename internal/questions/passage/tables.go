package passage

import (
	"fmt"
	"math"
	"time"

	"thole/internal/crossing"
	"thole/internal/earth"
	"thole/internal/sheet"
	"thole/internal/voyages"
)

// percent is a share as a cell.
func percent(share float64) sheet.Cell { return sheet.Cell{Value: 100 * share} }

// dayCell is a day that may never come.
func dayCell(v *float64) sheet.Cell {
	if v == nil {
		return sheet.Cell{Empty: true}
	}
	return sheet.Cell{Value: math.Ceil(*v)}
}

// ends is how the passages end.
func (q *ask) ends(f *Figures) *sheet.Table {
	t := &sheet.Table{Heading: fmt.Sprintf("How %d passages end", q.n), Columns: []sheet.Column{{Name: "end", Text: true}, {Name: "of all", Unit: "%", Places: 1}, {Name: "at least", Unit: "%", Places: 1}, {Name: "at most", Unit: "%", Places: 1}},
		Note: "At least and at most: what as many other passages, drawn anew, would give 19 times in 20. That the model is right is not in it."}
	row := func(name string, c Chance, loud bool) {
		t.Rows = append(t.Rows, []sheet.Cell{{Text: name}, {Value: 100 * c.Value, Loud: loud}, percent(c.Low), percent(c.High)})
	}
	row(fmt.Sprintf("arrived by day %d, as planned", f.Planned), f.ByPlanned, true)
	row("arrived", chance(q.tally.Ends[voyages.Arrived], q.tally.Passages), false)
	row("passed the landfall and could not come back", f.Missed, false)
	row("set ashore elsewhere", f.Ashore, false)
	row(fmt.Sprintf("still at sea after %.0f days", f.Longest), f.OutOfTime, false)
	row("at sea within a season of tropical storms", f.Storms.Chance, false)
	return t
}

// between is when the points are passed.
func (q *ask) between(f *Figures) *sheet.Table {
	t := &sheet.Table{Heading: "The points on the way", Columns: []sheet.Column{{Name: "point", Text: true}, {Name: "half by day"}, {Name: "19 in 20 by day"}, {Name: "ever pass it", Unit: "%"}},
		Note: "Of all passages; a day is left out that fewer ever reach."}
	for _, p := range f.Points {
		t.Rows = append(t.Rows, []sheet.Cell{{Text: p.Name}, dayCell(p.Median), dayCell(p.Late), percent(p.Share)})
	}
	return t
}

// compared is the dates of departure.
func (q *ask) compared(f *Figures) *sheet.Table {
	t := &sheet.Table{Heading: "Leaving on another date", Columns: []sheet.Column{{Name: "leaving", Text: true}, {Name: "half by day"}, {Name: "19 in 20 by day"}, {Name: fmt.Sprintf("by day %d", f.Planned), Unit: "%"},
		{Name: "miss", Unit: "%"}, {Name: "ashore", Unit: "%"}, {Name: "in storm season", Unit: "%"}},
		Note: fmt.Sprintf("%d passages from each date, in the same draws of weather; a share is good to about ten in a hundred by itself, to less against its neighbours. Marked: from it most arrive by day %d without meeting a season of tropical storms, then most arrive at all, then fewest miss or strand.", perDate, f.Planned)}
	for i, m := range f.Months {
		when, err := time.Parse(time.DateOnly, m.Leave)
		if err != nil {
			continue
		}
		name := when.Format("2 Jan 2006")
		if i == 0 {
			name += ", as written"
		}
		cells := []sheet.Cell{{Text: name, Loud: m.Best}, dayCell(m.Median), dayCell(m.Twentieth), {Value: 100 * m.ByPlanned, Loud: m.Best}, percent(m.Missed), percent(m.Ashore), percent(m.Stormy)}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// lost is the line from which the landfall is lost.
func (q *ask) lost(f *Figures) *sheet.Table {
	if f.Reach == nil {
		return nil
	}
	t := &sheet.Table{Heading: "How far off the route she may stand and still arrive", Columns: []sheet.Column{{Name: "to go", Unit: "nm"}, {Name: "left of the way as far as", Text: true}, {Name: "right of the way as far as", Text: true}, {Name: "from the route", Unit: "%"}},
		Note: fmt.Sprintf("Beyond it fewer than %s still reach the landfall, in the weather of the season at which she comes there and with the rules as written. From the route: how many arrive that stand on it there. A line is drawn from few passages: take a quarter off it.", inHundred(f.Reach.Asked))}
	side := func(v float64, open bool, at earth.Place) sheet.Cell {
		over := ""
		if open {
			over = "over "
		}
		return sheet.Cell{Text: fmt.Sprintf("%s%.0f nm, %s", over, v, place(at))}
	}
	for i, r := range f.Reach.Lines {
		d := q.deep.reach[i]
		t.Rows = append(t.Rows, []sheet.Cell{{Value: r.Before}, side(r.Left, r.LeftOpen, d.Left), side(r.Right, r.RightOpen, d.Right), percent(r.Share)})
	}
	return t
}

// tonight says in plain words how far she may be set.
func (q *ask) tonight(f *Figures) *sheet.Text {
	if len(f.Tonight) == 0 {
		return nil
	}
	out := &sheet.Text{Heading: "How near to land one may drift tonight"}
	for _, n := range f.Tonight {
		at := place(earth.Degrees(n.Lat, n.Lon))
		s := fmt.Sprintf("%s of the middle passage, at %s: in the %.1f hours that nobody rows she is set %.0f nm toward %03.0f° in the middle, one night in twenty over %.0f nm; to the sea anchor %.0f nm, over %.0f nm.",
			capital(n.When), at, n.Hours, n.Adrift.Middle, n.Adrift.Toward, n.Adrift.Far, n.Anchored.Middle, n.Anchored.Far)
		s += fmt.Sprintf(" With her own place doubtful by %.0f nm and the coast by %.0f, do not sleep with anything to leeward within %.0f nm adrift, within %.0f nm to the sea anchor.", placeDoubt/mile, coastDoubt, n.Adrift.Keep, n.Anchored.Keep)
		if n.Land != nil {
			s += fmt.Sprintf(" The nearest land or danger known here is %.0f nm off, on %03.0f°", *n.Land, n.Bearing)
			switch {
			case *n.Land < n.Anchored.Keep:
				s += ": too near to sleep while it lies to leeward or the wind may turn, sea anchor or not."
			case *n.Land < n.Adrift.Keep:
				s += ": too near to sleep adrift while it lies to leeward or the wind may turn."
			default:
				s += "."
			}
		}
		out.Paragraphs = append(out.Paragraphs, s)
	}
	out.Paragraphs = append(out.Paragraphs, "That no danger is known here says nothing: this coast has few reefs and no shoals. A sea anchor that drags or chafes through is a boat adrift. Note the place at dusk and at dawn: the difference is the drift, and better than any of this.")
	return out
}

// days is how the days of one passage went, one by one.
func (q *ask) days(t *crossing.Track) *sheet.Table {
	out := &sheet.Table{Heading: fmt.Sprintf("Passage %d day by day (%s)", t.Number, t.Name),
		Columns: []sheet.Column{{Name: "day"}, {Name: "at the start of it", Text: true}, {Name: "to go", Unit: "nm"}, {Name: "rowed", Unit: "h", Places: 1}, {Name: "at anchor", Unit: "h"}, {Name: "wind", Unit: "kn"}, {Name: "from", Unit: "deg"}, {Name: "sea", Unit: "m", Places: 1}},
		Note:    fmt.Sprintf("Wind and sea are means of the day; at anchor is to the sea anchor. Any other is shown so by its number, 0 to %d, on the terminal with --number N.", q.n-1)}
	step := q.tally.Step / 3600
	for i := 0; i < len(t.Moments); {
		first := t.Moments[i]
		d := math.Floor(first.Day + 1e-9)
		var rowed, lay, sea, east, north, speed, n float64
		for ; i < len(t.Moments) && t.Moments[i].Day < d+1-1e-9; i++ {
			m := t.Moments[i]
			rowed += m.Share * step
			if m.Mode == voyages.Anchored {
				lay += step
			}
			sea += m.Sea
			east, north, speed, n = east+m.East, north+m.North, speed+math.Hypot(m.East, m.North), n+1
		}
		at := earth.Place{Lat: first.Where.Lat, Lon: first.Where.Lon}
		left := sheet.Cell{Empty: true}
		if p, err := q.x.Route.Progress(at); err == nil {
			left = sheet.Cell{Value: p.Left / mile}
		}
		out.Rows = append(out.Rows, []sheet.Cell{{Value: d}, {Text: place(at)}, left, {Value: rowed}, {Value: lay}, {Value: speed / n / knot}, {Value: math.Mod(math.Round(earth.Turn(math.Atan2(-east, -north))*180/math.Pi), 360)}, {Value: sea / n}})
	}
	at := earth.Place{Lat: t.Passage.Last.Lat, Lon: t.Passage.Last.Lon}
	empty := sheet.Cell{Empty: true}
	out.Rows = append(out.Rows, []sheet.Cell{{Value: math.Floor(t.Passage.Days), Loud: true}, {Text: place(at) + ": " + t.Passage.End.String(), Loud: true}, empty, empty, empty, empty, empty, empty})
	return out
}
