package fleet

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"thole/internal/answer"
	"thole/internal/sheet"
)

// cautions go with every sweep.
var cautions = []string{
	"Simulated passages, in weather made up from the means of many years: a year is not its mean, and no storm, squall or breakage is met but the chance of days lost that the folder gives.",
	"The ranges are those of the counting alone: what other seeds might have given. How well the climate, the boat's speed and the crew are known is not in them, and is mostly wider.",
	"Rows differ by less chance than their ranges say, since all meet the same draws; how much less is not worked out.",
	"The best rows look at the day of arrival alone: read the shares set ashore, past the landfall and in a season of storms beside them.",
	answer.LocalRules,
}

// shown is how many curves a chart may hold before none can be told from the next.
const shown = 5

// Sheet lays a result out.
func (r Result) Sheet() sheet.Sheet {
	t := sheet.Table{Heading: r.heading(), Note: r.note(), Columns: []sheet.Column{{Name: "variant", Text: true},
		{Name: "1 in 2 later than", Unit: "days", Text: true}, {Name: "1 in 10 later than", Unit: "days", Text: true}, {Name: "1 in 20 later than", Unit: "days", Text: true},
		{Name: "arrive by the day planned", Unit: "%", Text: true}, {Name: "past the landfall", Unit: "%", Text: true}, {Name: "set ashore", Unit: "%", Text: true},
		{Name: "still at sea at the end", Unit: "%", Text: true}, {Name: "in a storm season", Unit: "%", Text: true}}}
	for _, row := range r.Rows {
		cells := []sheet.Cell{{Text: r.name(row), Loud: row.Best}}
		if row.Fault != "" {
			t.Rows = append(t.Rows, append(cells, sheet.Cell{Text: "cannot be sailed"}))
			continue
		}
		for _, f := range []*Figure{row.Median, row.OneInTen, row.OneInTwenty} {
			cells = append(cells, sheet.Cell{Text: f.days()})
		}
		by := row.ByPlanned.percent()
		if r.planned() == 0 {
			by += fmt.Sprintf(", day %d", row.Planned)
		}
		cells = append(cells, sheet.Cell{Text: by, Loud: row.Best})
		for _, f := range []Figure{row.Missed, row.Ashore, row.OutOfTime, row.Stormy} {
			cells = append(cells, sheet.Cell{Text: f.percent()})
		}
		t.Rows = append(t.Rows, cells)
	}
	out := sheet.Sheet{Blocks: []sheet.Block{{Table: &t}}}
	if c := r.chart(); c != nil {
		out.Blocks = append(out.Blocks, sheet.Block{Chart: c})
	}
	if faults := r.faults(); len(faults) > 0 {
		out.Blocks = append(out.Blocks, sheet.Block{Text: &sheet.Text{Heading: "Cannot be sailed", Paragraphs: faults}})
	}
	if len(r.Notes) > 0 {
		out.Blocks = append(out.Blocks, sheet.Block{Text: &sheet.Text{Heading: "Of the voyage", Paragraphs: r.Notes}})
	}
	if len(r.Assumed) > 0 {
		var all []string
		for _, a := range r.Assumed {
			said := fmt.Sprintf("%s: %s (%s).", a.What, a.Value, a.Why)
			if a.File != "" {
				said += " Say otherwise in " + a.File + "."
			}
			all = append(all, said)
		}
		out.Blocks = append(out.Blocks, sheet.Block{Text: &sheet.Text{Heading: "What was taken for granted", Paragraphs: all}})
	}
	out.Blocks = append(out.Blocks, sheet.Block{Sources: &sheet.Sources{Rows: []sheet.Source{
		{What: "ranges of shares", Source: "Wilson, Journal of the American Statistical Association 22 (1927) 209"},
		{What: "ranges of days", Source: "David & Nagaraja, Order Statistics, 3rd edition (2003), section 7.1"},
	}}})
	for _, c := range r.Cautions {
		out.Blocks = append(out.Blocks, sheet.Block{Warning: &sheet.Warning{Text: c}})
	}
	return out
}

// heading says what was swept.
func (r Result) heading() string {
	if len(r.Rows) == 1 {
		return fmt.Sprintf("%d passages", r.Passages)
	}
	return fmt.Sprintf("%d passages of each of %d variants", r.Passages, len(r.Rows))
}

// note says how the table is read.
func (r Result) note() string {
	seed := "the folder's own seed"
	if r.Seed != 0 {
		seed = fmt.Sprintf("seed %d", r.Seed)
	}
	by := "The day planned is the last that the stores are meant for"
	if n := r.planned(); n > 0 {
		by += fmt.Sprintf(", day %d", n)
	}
	return by + ". Shares are of all passages, with 95 % ranges; a day is – where more than that share never arrives. Starred: the most arrive by the day planned; where that cannot be " +
		"told apart, one in twenty is late the soonest. All rows meet the same weather of their days, " + seed + ". Folder " + r.Stamp + ", " + r.Build.Said + "."
}

// planned is the day planned when it is one for all rows, else 0.
func (r Result) planned() int {
	n := 0
	for _, row := range r.Rows {
		if row.Fault != "" {
			continue
		}
		if n != 0 && n != row.Planned {
			return 0
		}
		n = row.Planned
	}
	return n
}

// name is what a row is called. Where other rows try something, one that tries nothing says so.
func (r Result) name(row Row) string {
	if len(row.Tries) == 0 && slices.ContainsFunc(r.Rows, func(o Row) bool { return len(o.Tries) > 0 }) {
		row.Tries = []string{AsSheIs}
	}
	return row.Name()
}

// Name is what a row is called by itself.
func (r Row) Name() string {
	var words []string
	if on, err := time.Parse(time.DateOnly, r.Leave); err == nil {
		words = append(words, on.Format("2 Jan 2006"))
	}
	if len(r.Tries) > 0 {
		words = append(words, strings.Join(r.Tries, ", "))
	}
	if len(words) == 0 {
		return AsSheIs
	}
	return strings.Join(words, ", ")
}

// faults are why rows cannot be sailed, each reason once.
func (r Result) faults() []string {
	var out []string
	at := map[string]int{}
	for _, row := range r.Rows {
		if row.Fault == "" {
			continue
		}
		if i, had := at[row.Fault]; had {
			out[i] = r.name(row) + "; " + out[i]
			continue
		}
		at[row.Fault] = len(out)
		out = append(out, r.name(row)+": "+row.Fault)
	}
	return out
}

// chart is the arrivals day by day of the best rows and of the first, for comparison; nil where there are too many.
func (r Result) chart() *sheet.Chart {
	c := &sheet.Chart{Heading: "Arrived by day", X: sheet.Axis{Name: "days after leaving"}, Y: sheet.Axis{Name: "arrived", Unit: "%", Max: 100, Ticks: []float64{0, 25, 50, 75, 100}}}
	first, last := math.Inf(1), 0.0
	var names []string
	for _, row := range r.Rows {
		if row.Fault != "" || len(r.Rows) > shown && !row.Best || len(row.ByDay) == 0 {
			continue
		}
		s := sheet.Series{Name: r.name(row), Role: sheet.Other}
		if row.Best {
			s.Role = sheet.Main
		}
		for day, share := range row.ByDay {
			s.X, s.Y = append(s.X, float64(day)), append(s.Y, 100*share)
			if share > 0 {
				first = math.Min(first, float64(day-1))
			}
		}
		last = math.Max(last, float64(len(row.ByDay)-1))
		names = append(names, s.Name)
		c.Series = append(c.Series, s)
	}
	if len(c.Series) == 0 || len(c.Series) > shown || !(first < last) {
		return nil
	}
	c.X.Min, c.X.Max, c.X.Ticks = sheet.Ticks(math.Max(0, first), last)
	for i, s := range c.Series { // what lies left of the axis is nothing but zeros
		from := min(len(s.X), int(c.X.Min))
		c.Series[i].X, c.Series[i].Y = s.X[from:], s.Y[from:]
	}
	if n := r.planned(); n > 0 && float64(n) >= c.X.Min && float64(n) <= c.X.Max {
		c.Series = append(c.Series, sheet.Series{Name: "the day planned", Role: sheet.Limit, X: []float64{float64(n), float64(n)}, Y: []float64{0, 100}})
	}
	c.Alt = "The share of all passages that has arrived by each day, of " + strings.Join(names, "; of ") + "."
	return c
}

// days writes a day with its range.
func (f *Figure) days() string {
	if f == nil {
		return "–"
	}
	return fmt.Sprintf("%.1f (%.1f to %.1f)", f.Value, f.Low, f.High)
}

// percent writes a share with its range, with as many places as the range can bear.
func (f Figure) percent() string {
	places := 1
	if f.High-f.Low < 0.001 {
		places = 2
	}
	return fmt.Sprintf("%.*f (%.*f to %.*f)", places, 100*f.Value, places, 100*f.Low, places, 100*f.High)
}

// CSV writes the rows as a table for a spreadsheet.
func (r Result) CSV(w io.Writer) error {
	c := csv.NewWriter(w)
	c.UseCRLF = true // RFC 4180
	head := []string{"leave", "tries", "planned_days"}
	for _, name := range []string{"median_days", "one_in_ten_days", "one_in_twenty_days", "arrived_by_planned", "missed", "ashore", "out_of_time", "storm_season"} {
		head = append(head, name, name+"_low", name+"_high")
	}
	rows := [][]string{append(head, "best", "fault")}
	for _, row := range r.Rows {
		cells := []string{row.Leave, harmless(strings.Join(row.Tries, "; ")), strconv.Itoa(row.Planned)}
		for _, f := range []*Figure{row.Median, row.OneInTen, row.OneInTwenty, &row.ByPlanned, &row.Missed, &row.Ashore, &row.OutOfTime, &row.Stormy} {
			if f == nil || row.Fault != "" {
				cells = append(cells, "", "", "")
				continue
			}
			for _, x := range []float64{f.Value, f.Low, f.High} {
				cells = append(cells, strconv.FormatFloat(x, 'f', 6, 64))
			}
		}
		rows = append(rows, append(cells, strconv.FormatBool(row.Best), harmless(row.Fault)))
	}
	return c.WriteAll(rows)
}

// harmless keeps a spreadsheet from taking words for a formula.
func harmless(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}
