package passage

import (
	"fmt"
	"math"
	"strings"

	"thole/internal/answer"
	"thole/internal/climate"
	"thole/internal/coast"
	"thole/internal/crossing"
	"thole/internal/sheet"
	"thole/internal/weather"
)

// coastDoubt is the sea room for the coast's own error, nm.
const coastDoubt = coast.StandOff / mile

// lay lays the answer out for the faces.
func (q *ask) lay(a *answer.Answer, f *Figures) {
	put := func(b sheet.Block) { a.Sheet.Blocks = append(a.Sheet.Blocks, b) }
	put(sheet.Block{Map: q.chart()})
	put(sheet.Block{Chart: q.arrivals(f)})
	if c := q.runs(f); c != nil {
		put(sheet.Block{Chart: c})
	}
	put(sheet.Block{Table: q.ends(f)})
	put(sheet.Block{Figures: q.summary(f)})
	put(sheet.Block{Table: q.between(f)})
	put(sheet.Block{Table: q.compared(f)})
	if s := q.season(f); s != nil {
		put(sheet.Block{Text: s})
	}
	if m := q.approach(); m != nil {
		put(sheet.Block{Map: m})
	}
	if t := q.lost(f); t != nil {
		put(sheet.Block{Table: t})
	} else if q.deep.noLine != "" {
		put(sheet.Block{Text: &sheet.Text{Heading: "How far off the route she may stand and still arrive", Paragraphs: []string{q.deep.noLine}}})
	}
	if t := q.tonight(f); t != nil {
		put(sheet.Block{Text: t})
	}
	if t := q.shown(); t != nil {
		put(sheet.Block{Table: q.days(t)})
	}
	put(sheet.Block{Text: q.drawnFrom()})
	put(sheet.Block{Warning: &sheet.Warning{Text: "Simulated, not forecast. A chart, a look-out and the weather as it is come before any of this."}})
}

// summary is the figures of the mean passage.
func (q *ask) summary(f *Figures) *sheet.Figures {
	out := &sheet.Figures{Heading: "On the way"}
	row := func(name string, v float64, unit string, places int, why string) {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Value: v, Unit: unit, Places: places, Why: why})
	}
	maybe := func(name string, v *float64, why string) {
		if v == nil {
			out.Rows = append(out.Rows, sheet.Figure{Name: name, Text: "never", Why: why})
			return
		}
		row(name, math.Ceil(*v), "", 0, why)
	}
	row("way by the points given", f.Distance, "nm", 0, "along the route")
	maybe("half have arrived by day", f.Median, "of all passages; a coin toss")
	maybe("nine in ten by day", f.Tenth, "one in ten comes later or not at all")
	maybe("nineteen in twenty by day", f.Twentieth, "one in twenty comes later or not at all: pack for this one")
	if f.Fastest != nil {
		row("the fastest on day", math.Ceil(*f.Fastest), "", 0, fmt.Sprintf("of %d", q.n))
	}
	row("a day's gain, in the middle", f.Run.Median, "nm", 0, fmt.Sprintf("nearer to the landfall; half of all days lie between %.0f and %.0f", f.Run.Quarter, f.Run.ThreeQuarters))
	row("hours rowed", f.Rowed, "h", 0, "of the mean passage, breaks, rest and sickness taken off")
	row("days to the sea anchor", f.SeaAnchor, "days", 1, "of the mean passage, "+q.anchorSaid())
	row("hours adrift", f.Drifted, "h", 0, "of the mean passage")
	row("hours in a gale", f.Gale, "h", 1, "of the mean passage, force 8 and more; the normal's tail, so if anything too few")
	worst := weather.Beaufort(f.MostWind * knot)
	row("most wind met", f.MostWind, "kn", 0, fmt.Sprintf("in any hour of any passage: force %d, %s; gusts and squalls are not in it", worst.Number, worst.Name))
	row("highest sea met", f.Highest, "m", 1, fmt.Sprintf("significant height, in any passage: %s; single waves are up to twice as high", weather.StateOf(f.Highest).Name))
	out.Explain(q.account)
	return out
}

// anchorSaid is how the days to the sea anchor are shared out.
func (q *ask) anchorSaid() string {
	none, many := uint64(0), uint64(0)
	for d, n := range q.tally.LayDays {
		switch {
		case d == 0:
			none += n
		case d >= 7:
			many += n
		}
	}
	n := math.Max(1, float64(q.tally.Passages))
	return fmt.Sprintf("less than a day in all in %s, a week or more in %s", inHundred(float64(none)/n), inHundred(float64(many)/n))
}

// season says what of the seasons of tropical storms she meets; nil where no season is published on the way.
func (q *ask) season(f *Figures) *sheet.Text {
	s := f.Storms
	if s.Basin == "" && s.Chance.Value == 0 {
		return nil
	}
	out := &sheet.Text{Heading: "Seasons of tropical storms"}
	if s.Basin != "" && s.Opens != nil {
		b := climate.Storms(q.landfall().Lat, q.landfall().Lon)
		switch {
		case b.Season(climate.MonthOf(q.x.Leave)) != climate.Quiet:
			out.Paragraphs = append(out.Paragraphs, fmt.Sprintf("The landfall lies in the basin %q, whose season is open on the day of leaving.", s.Basin))
		default:
			out.Paragraphs = append(out.Paragraphs, fmt.Sprintf("The landfall lies in the basin %q, whose season opens on day %.0f, %s.", s.Basin, *s.Opens, q.x.Leave.AddDate(0, 0, int(math.Round(*s.Opens))).Format("2 January")))
		}
	}
	if s.Chance.Value > 0 {
		out.Paragraphs = append(out.Paragraphs, fmt.Sprintf("%s of the passages are at sea within a season, for %.0f days on the average.", capital(inHundred(s.Chance.Value)), s.Days))
	} else {
		out.Paragraphs = append(out.Paragraphs, "None of the passages is at sea within a season.")
	}
	out.Paragraphs = append(out.Paragraphs, "Storms out of season are known from every basin. No storm is simulated: a season is a warning on dates, from what the services publish.")
	return out
}

// shown is the passage shown day by day: the one asked for by its number, or the middle one.
func (q *ask) shown() *crossing.Track {
	if q.o.Again == nil {
		return q.middle()
	}
	p, moments, err := q.x.Runner.Replay(*q.o.Again)
	if err != nil {
		return nil
	}
	return &crossing.Track{Number: *q.o.Again, Name: fmt.Sprintf("%s after %.0f days", p.End, p.Days), Passage: p, Moments: moments}
}

// drawnFrom names what the weather, the current and the coast are from, as they must be named.
func (q *ask) drawnFrom() *sheet.Text {
	out := &sheet.Text{Heading: "What it is drawn from"}
	out.Paragraphs = append(out.Paragraphs, paragraphs(climate.Notice)...)
	out.Paragraphs = append(out.Paragraphs, coast.Notice)
	out.Paragraphs = append(out.Paragraphs, q.x.Notes...)
	out.Paragraphs = append(out.Paragraphs, fmt.Sprintf("Each passage is a number: seed %d, passages 0 to %d. The same folder gives the same passages to the last digit on any machine of one kind.", q.x.Spec.Seed, q.n-1))
	return out
}

// capital begins a sentence.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// paragraphs are those of a text broken into lines; a line that is set in begins one of its own, and lines set in further go on with it.
func paragraphs(text string) []string {
	var out []string
	fresh := true
	for _, line := range strings.Split(text, "\n") {
		words := strings.Join(strings.Fields(line), " ")
		in := len(line) - len(strings.TrimLeft(line, " "))
		switch {
		case words == "":
			fresh = true
		case fresh || in > 0 && in < 4:
			out = append(out, words)
			fresh = false
		default:
			out[len(out)-1] += " " + words
		}
	}
	return out
}
