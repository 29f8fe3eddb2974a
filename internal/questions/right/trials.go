package right

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"thole/internal/answer"
	"thole/internal/sheet"
	"thole/internal/trials"
	"thole/internal/units"
)

// sure turns a standard deviation into the half width of a 19-in-20 range.
const sure = 1.96

// trials sets what was measured afloat against the book, and says what has changed since she
// was last turned over.
func (q *ask) trials(a *answer.Answer) {
	if q.c.Folder.Trials == nil {
		return
	}
	kept, _ := q.c.Keep("trials", func() (any, error) { return trials.Work(q.t), nil })
	report, _ := kept.(trials.Report)
	put := func(b sheet.Block) { a.Sheet.Blocks = append(a.Sheet.Blocks, b) }
	caution := func(text string) { a.Cautions = append(slices.Clip(a.Cautions), text) }
	if len(report.Inclined) > 0 {
		a.Method = append(slices.Clip(a.Method), answer.Method{
			What:   "inclining: the height of gravity at which a weight moved across heels her as read, on her own curve, not by the formula for small heels",
			Source: "Barrass & Derrett, Ship Stability for Masters and Mates, the inclining test; balance before and after"})
		put(sheet.Block{Table: q.inclined(report.Inclined, caution)})
		for i := range report.Inclined {
			if in := &report.Inclined[i]; len(in.Moves) > 0 {
				put(sheet.Block{Table: q.moves(in)})
			}
		}
	}
	if len(report.Rolled) > 0 {
		a.Method = append(slices.Clip(a.Method), answer.Method{What: "rolls counted: the rule GM = (f B / T)², f 0.73 to 0.88, or her own f once she was inclined with the same load",
			Source: "IMO 2008 IS Code part B; national fishing-vessel rules"})
		put(sheet.Block{Table: q.rolled(report.Rolled)})
	}
	if len(report.Turned) > 0 {
		put(sheet.Block{Table: q.turned(report.Turned, func(text string) {
			caution(text)
			put(sheet.Block{Warning: &sheet.Warning{Text: text}})
		})})
	}
	put(sheet.Block{Text: q.record()})
}

func dated(t time.Time) string { return t.Format(time.DateOnly) }

// inclined is the height of gravity, measured and by the book, a row for each trial.
func (q *ask) inclined(all []trials.Inclined, caution func(string)) *sheet.Table {
	fine := q.sys.Fine()
	col := func(name string) sheet.Column { return sheet.Column{Name: name, Unit: fine.Unit, Places: fine.Places} }
	t := &sheet.Table{Heading: "Height of gravity, inclined against the book", Columns: []sheet.Column{{Name: "inclined", Text: true},
		col("measured"), col("give or take"), col("by the book"), col("give or take"), col("higher than the book"), col("GM"), {Name: "", Text: true}},
		Note: "Heights above the base line, of her with the load of that day and what the folder has aboard; GM with all that was aboard. Not looked at: loose water, wind, and a hull not built to her lines."}
	for i := range all {
		in := &all[i]
		row := []sheet.Cell{{Text: dated(in.Trial.Date)}}
		if in.Err != nil {
			t.Rows = append(t.Rows, append(row, sheet.Cell{Empty: true}, sheet.Cell{Empty: true}, sheet.Cell{Empty: true}, sheet.Cell{Empty: true}, sheet.Cell{Empty: true}, sheet.Cell{Empty: true},
				sheet.Cell{Text: "tells nothing: " + in.Err.Error(), Loud: true}))
			continue
		}
		more := in.Height - in.Book
		doubt := sure * math.Hypot(in.Deviation, in.BookDoubt)
		says := "within what is known"
		if math.Abs(more) > doubt {
			says = "more than the doubts: the book's heights are off"
		}
		if in.Loose {
			says += "; the moves scatter more than their readings should"
		}
		if in.Measured {
			says += "; weight from her freeboards"
		} else {
			says += "; weight from the book"
		}
		t.Rows = append(t.Rows, append(row, sheet.Cell{Value: in.Height * fine.Factor}, sheet.Cell{Value: sure * in.Deviation * fine.Factor}, sheet.Cell{Value: in.Book * fine.Factor},
			sheet.Cell{Value: sure * in.BookDoubt * fine.Factor}, sheet.Cell{Value: more * fine.Factor, Loud: math.Abs(more) > doubt}, sheet.Cell{Value: in.GM * fine.Factor}, sheet.Cell{Text: says}))
		if more > doubt {
			caution(fmt.Sprintf("Inclined on %s her centre of gravity lay %s higher than the book has it. What is answered here is by the book: take that off the height left.", dated(in.Trial.Date), fine.Show(more)))
		}
	}
	return t
}

func (q *ask) moves(in *trials.Inclined) *sheet.Table {
	fine, heavy, coarse := q.sys.Fine(), q.sys.Heavy(), q.sys.Coarse()
	t := &sheet.Table{Heading: "The moves, " + dated(in.Trial.Date), Columns: []sheet.Column{{Name: "moment to starboard", Unit: heavy.Unit + " " + coarse.Unit, Places: 1},
		{Name: "heel", Unit: "deg", Places: 2}, {Name: "GM, small heels", Unit: fine.Unit, Places: fine.Places}, {Name: "height of gravity", Unit: fine.Unit, Places: fine.Places},
		{Name: "give or take", Unit: fine.Unit, Places: fine.Places}, {Name: "", Text: true}},
		Note: fmt.Sprintf("%s was aboard. Minus is to port. The height of gravity is on her exact curve.", q.sys.Mass(units.Mass(in.Mass)))}
	for _, m := range in.Moves {
		row := []sheet.Cell{{Value: m.Moment * heavy.Factor * coarse.Factor}, {Value: m.Heel / deg}}
		if m.Left != "" || m.GM == 0 {
			row = append(row, sheet.Cell{Empty: true}, sheet.Cell{Empty: true}, sheet.Cell{Empty: true}, sheet.Cell{Text: strings.TrimPrefix(m.Left+"; left out", "; "), Loud: true})
		} else {
			row = append(row, sheet.Cell{Value: m.GM * fine.Factor}, sheet.Cell{Value: m.Height * fine.Factor}, sheet.Cell{Value: sure * m.Deviation * fine.Factor}, sheet.Cell{Empty: true})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func (q *ask) rolled(all []trials.Rolled) *sheet.Table {
	fine := q.sys.Fine()
	t := &sheet.Table{Heading: "Rolls counted", Columns: []sheet.Column{{Name: "rolled", Text: true}, {Name: "one roll", Unit: "s", Places: 2}, {Name: "GM by the rule", Text: true},
		{Name: "GM by the book", Unit: fine.Unit, Places: fine.Places}, {Name: "her own f", Places: 3}, {Name: "GM by her own f", Text: true}},
		Note: "The rule was fitted to coasters and fishing boats: its range is wide. Her own f comes from a roll and an inclining with the same load, and then serves for her other loads. Any swell spoils the count."}
	for i := range all {
		r := &all[i]
		row := []sheet.Cell{{Text: dated(r.Trial.Date)}}
		if r.Err != nil {
			t.Rows = append(t.Rows, append(row, sheet.Cell{Empty: true}, sheet.Cell{Text: "tells nothing: " + r.Err.Error(), Loud: true}, sheet.Cell{Empty: true}, sheet.Cell{Empty: true}, sheet.Cell{Empty: true}))
			continue
		}
		row = append(row, sheet.Cell{Value: r.Period}, sheet.Cell{Text: fine.Show(r.Low) + " to " + fine.Show(r.High)}, sheet.Cell{Value: r.Book * fine.Factor, Loud: r.Book < r.Low || r.Book > r.High})
		if r.Own > 0 {
			row = append(row, sheet.Cell{Value: r.Own})
		} else {
			row = append(row, sheet.Cell{Empty: true})
		}
		if r.ByOwn > 0 {
			row = append(row, sheet.Cell{Text: fine.Show(r.ByOwn) + " ± " + fine.Show(sure*r.ByOwnDeviation)})
		} else {
			row = append(row, sheet.Cell{Empty: true})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// turned lists the capsize tests and what has changed since. Only the latest of a load is warned about: it is
// the one that is trusted.
func (q *ask) turned(all []trials.Turned, warn func(string)) *sheet.Table {
	t := &sheet.Table{Heading: "Turned over in harbour", Columns: []sheet.Column{{Name: "on", Text: true}, {Name: "load of day"}, {Name: "crew", Text: true}, {Name: "came back", Text: true},
		{Name: "ballast and hatches", Text: true}, {Name: "in the folder since", Text: true}},
		Note: "Today's figures are the folder's for the same day and crew place. A test covers the load, the gear and the hatches that it was made with, and no others."}
	for i := range all {
		r := &all[i]
		back := "no"
		if r.Trial.Righted {
			back = "yes"
		}
		if r.Trial.Seconds > 0 {
			back += fmt.Sprintf(", %.3g s", r.Trial.Seconds)
		}
		with := strings.Trim(r.Trial.Ballast+"; "+r.Trial.Hatches, "; ")
		since, changed := q.since(r)
		t.Rows = append(t.Rows, []sheet.Cell{{Text: dated(r.Trial.Date)}, {Value: float64(r.Trial.Day)}, {Text: q.t.Conditions[max(0, q.t.Condition(r.Trial.Crew))].Name}, {Text: back, Loud: !r.Trial.Righted},
			{Text: with}, {Text: since, Loud: changed}})
		later := slices.ContainsFunc(all, func(o trials.Turned) bool {
			return o.Trial.Date.After(r.Trial.Date) && o.Trial.Day == r.Trial.Day && q.t.Condition(o.Trial.Crew) == q.t.Condition(r.Trial.Crew)
		})
		switch {
		case later:
		case !r.Trial.Righted:
			warn(fmt.Sprintf("Turned over on %s she did not come back by herself. A test is believed before any calculation.", dated(r.Trial.Date)))
		case r.Err != nil:
			warn(fmt.Sprintf("The folder no longer has the load that she was turned over with on %s. Your last test no longer covers her.", dated(r.Trial.Date)))
		case r.Beyond && r.Heavier >= 0 && r.Higher > 0:
			warn(fmt.Sprintf("You changed something above deck since %s: %s. Your last test no longer covers her.", dated(r.Trial.Date), since))
		case r.Beyond:
			warn(fmt.Sprintf("You changed something aboard since %s: %s. Your last test no longer covers her.", dated(r.Trial.Date), since))
		case r.Changed:
			warn(fmt.Sprintf("The folder has been changed since she was turned over on %s. If you changed something above deck, your last test no longer covers her.", dated(r.Trial.Date)))
		}
	}
	return t
}

// since says in words what differs from the test, and whether that matters.
func (q *ask) since(r *trials.Turned) (string, bool) {
	if r.Err != nil {
		return r.Err.Error(), true
	}
	if r.Silent {
		return "not known: the test has no mass, height of gravity or stamp beside it", false
	}
	var parts []string
	if r.Trial.Mass != nil {
		word := "heavier"
		if r.Heavier < 0 {
			word = "lighter"
		}
		parts = append(parts, fmt.Sprintf("%s %s", q.sys.Mass(units.Mass(math.Abs(r.Heavier))), word))
	}
	if r.Trial.Height != nil {
		word := "higher"
		if r.Higher < 0 {
			word = "lower"
		}
		parts = append(parts, fmt.Sprintf("centre of gravity %s %s", q.sys.Fine().Show(math.Abs(r.Higher)), word))
	}
	switch {
	case r.Beyond:
	case r.Changed:
		parts = append([]string{"files changed"}, parts...)
	case r.Trial.Stamp != "":
		return "the same folder", false
	default:
		return "the same weight and height of gravity", false
	}
	return strings.Join(parts, ", "), true
}

// record is what to write down with a test of the load shown, so that a change can be told later.
func (q *ask) record() *sheet.Text {
	s := q.t.State(q.day, q.cond)
	return &sheet.Text{Heading: "To write down with a test of this load", Paragraphs: []string{fmt.Sprintf(
		"In trials.yaml, under turned over: - {date: (the day), day: %d, crew: %q, righted: (yes or no), mass: %.1f kg, height of gravity: %.1f mm, stamp: %q}",
		q.day, q.t.Conditions[q.cond].Name, s.Mass, s.G.Z*1000, q.c.Folder.Stamp)}}
}
