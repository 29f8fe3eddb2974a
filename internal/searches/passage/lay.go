package passage

import (
	"fmt"
	"math"

	"thole/internal/answer"
	"thole/internal/sheet"
	"thole/internal/voyages"
)

// sentence tells the best date beside the folder's own.
func (r *run) sentence(best, own *date) string {
	switch {
	case best == nil:
		return "No passage has been made yet."
	case best.later == 0:
		return fmt.Sprintf("The folder's own date is as good as any looked at: %s.", r.of(best))
	case own == nil:
		return fmt.Sprintf("Best so far, leaving on %s: %s.", best.Leave.Format("2 January 2006"), r.of(best))
	}
	return fmt.Sprintf("Leaving on %s: %s; on %s as written: %s.", best.Leave.Format("2 January 2006"), r.of(best), own.Leave.Format("2 January 2006"), r.of(own))
}

// of is what comes of a date, in words.
func (r *run) of(d *date) string {
	n := d.Tally.Passages
	s := fmt.Sprintf("%.0f of %d passages arrive by day %d", math.Round(d.By(r.x.Planned)*float64(n)), n, r.x.Planned)
	if m, ok := d.Tally.ArrivalBy(0.5); ok {
		s += fmt.Sprintf(", half by day %.0f", math.Ceil(m))
	}
	if bad := d.Tally.Ends[voyages.Missed] + d.Tally.Ends[voyages.Ashore]; bad > 0 {
		s += fmt.Sprintf(", %d miss the landfall or are set ashore", bad)
	}
	if d.Tally.Stormy > 0 {
		s += fmt.Sprintf(", %d meet a season of tropical storms", d.Tally.Stormy)
	}
	return s
}

// because is why a date is offered.
func (r *run) because(best, own *date) string {
	return fmt.Sprintf("%.0f %% arrive by day %d instead of %.0f %%; %.0f %% miss or are set ashore instead of %.0f %%; %.0f %% meet a season of tropical storms instead of %.0f %%",
		100*best.By(r.x.Planned), r.x.Planned, 100*own.By(r.x.Planned), 100*best.Bad(), 100*own.Bad(), 100*best.Stormy(), 100*own.Stormy())
}

// lay lays the finding out for the faces.
func (r *run) lay(f *answer.Finding, best *date) {
	put := func(b sheet.Block) { f.Sheet.Blocks = append(f.Sheet.Blocks, b) }
	put(sheet.Block{Table: r.table(best)})
	if len(r.dates) > 2 {
		put(sheet.Block{Chart: r.chart(best)})
	}
	how := "It had time to look as closely as it would: to dates two days apart about the best."
	if !r.ended {
		how = "It was stopped before it had looked as closely as it would: more time may find a better date, and the ranges narrow."
	}
	put(sheet.Block{Text: &sheet.Text{Heading: "What this rests on", Paragraphs: []string{
		fmt.Sprintf("Better is the date from which most arrive by day %d without having met a season of tropical storms, then from which most arrive by then at all, then from which fewest miss the landfall or are set ashore, each to one passage in twenty. A date is offered when it is better by as much, or sooner there by two days in the middle.", r.x.Planned),
		how,
		"The same draws of weather are made from every date, so that dates are told apart more sharply than their ranges say. What was found of the best date was found again in a folder changed in memory.",
		"Simulated, not forecast: the year she leaves in is one of many. What keeps a date open besides the sea (harbours, permits, helpers, work) is not looked at.",
	}}})
	put(sheet.Block{Warning: &sheet.Warning{Text: "A date that is best on the average may be the wrong one this year. Look at the weather before leaving, and at local rules."}})
}

// table is every date looked at.
func (r *run) table(best *date) *sheet.Table {
	t := &sheet.Table{Heading: "Dates looked at", Columns: []sheet.Column{{Name: "leaving", Text: true}, {Name: "passages"}, {Name: "half by day"}, {Name: "19 in 20 by day"},
		{Name: fmt.Sprintf("by day %d", r.x.Planned), Unit: "%"}, {Name: "range", Text: true}, {Name: "miss or ashore", Unit: "%"}, {Name: "in storm season", Unit: "%"}},
		Note: "Range: what as many other passages, drawn anew, would give 19 times in 20. A day is left out that fewer ever reach."}
	cell := func(v float64, ok bool) sheet.Cell {
		if !ok {
			return sheet.Cell{Empty: true}
		}
		return sheet.Cell{Value: math.Ceil(v)}
	}
	for i := range r.dates {
		d := &r.dates[i]
		name := d.Leave.Format("2 Jan 2006")
		if d.later == 0 {
			name += ", as written"
		}
		loud := d.later == best.later
		n := d.Tally.Passages
		_, low, high := voyages.Wilson(uint64(math.Round(d.By(r.x.Planned)*float64(n))), n)
		t.Rows = append(t.Rows, []sheet.Cell{{Text: name, Loud: loud}, {Value: float64(n)}, cell(d.Tally.ArrivalBy(0.5)), cell(d.Tally.ArrivalBy(0.95)),
			{Value: 100 * d.By(r.x.Planned), Loud: loud}, {Text: fmt.Sprintf("%.0f to %.0f", 100*low, 100*high)}, {Value: 100 * d.Bad()}, {Value: 100 * d.Stormy()}})
	}
	return t
}

// chart is the share that arrives in time by the day of leaving.
func (r *run) chart(best *date) *sheet.Chart {
	in := sheet.Series{Name: fmt.Sprintf("arrive by day %d", r.x.Planned), Role: sheet.Main}
	storm := sheet.Series{Name: "meet a season of storms", Role: sheet.Other}
	for _, d := range r.dates {
		in.X, in.Y = append(in.X, float64(d.later)), append(in.Y, 100*d.By(r.x.Planned))
		storm.X, storm.Y = append(storm.X, float64(d.later)), append(storm.Y, 100*d.Stormy())
	}
	c := &sheet.Chart{Heading: "Arriving in time, by the day of leaving", Series: []sheet.Series{in, storm}, X: sheet.Axis{Name: "days after the folder's own date", Unit: "days"},
		Y:     sheet.Axis{Name: "of the passages", Unit: "%", Max: 100, Ticks: []float64{0, 25, 50, 75, 100}},
		Marks: []sheet.Mark{{X: float64(best.later), Y: 100 * best.By(r.x.Planned), Text: best.Leave.Format("2 Jan"), Role: sheet.Main}},
		Alt:   fmt.Sprintf("Over %d dates the share that arrives by day %d is greatest leaving on %s: %.0f %%.", len(r.dates), r.x.Planned, best.Leave.Format("2 January 2006"), 100*best.By(r.x.Planned))}
	c.X.Min, c.X.Max, c.X.Ticks = sheet.Ticks(0, float64(r.dates[len(r.dates)-1].later))
	return c
}
