package float

import (
	"fmt"
	"math"
	"slices"
	"time"

	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/sheet"
	"thole/internal/trials"
	"thole/internal/units"
)

// sure turns a standard deviation into the half width of a 19-in-20 range.
const sure = 1.96

// trials sets the freeboards of trials.yaml against the weights book.
func (q *ask) trials(a *answer.Answer) {
	if q.c.Folder.Trials == nil || len(q.c.Folder.Trials.Floated) == 0 {
		return
	}
	kept, _ := q.c.Keep("trials", func() (any, error) { return trials.Work(q.t), nil })
	report, _ := kept.(trials.Report)
	a.Method = append(slices.Clip(a.Method), answer.Method{
		What:   "freeboards read afloat are fitted by least squares for sinkage, trim and heel; what she pushes aside there is her weight, and its middle the weight's place",
		Source: "Archimedes; JCGM 100:2008 for what the readings' doubts do; Pearson's chi-squared test for what they cannot explain"})
	a.NotLookedAt = append(slices.Clip(a.NotLookedAt), "whether she was built to her lines: a hull fuller or leaner than measured looks like a weight when her freeboards are read")
	for _, f := range q.c.Folder.Trials.Floated {
		if slices.ContainsFunc(f.Freeboards, func(b model.Freeboard) bool { return b.Tolerance == 0 }) {
			a.Assumptions = append(a.Assumptions, answer.Assumption{What: "freeboards read without +-", Value: "good to 3 mm", Why: "common practice, no source", File: "trials.yaml: floated"})
			break
		}
	}
	for i := range report.Floated {
		q.floated(a, &report.Floated[i])
	}
}

func (q *ask) floated(a *answer.Answer, f *trials.Floated) {
	put := func(b sheet.Block) { a.Sheet.Blocks = append(a.Sheet.Blocks, b) }
	day := f.Trial.Date.Format(time.DateOnly)
	if f.Err != nil {
		put(sheet.Block{Text: &sheet.Text{Heading: "Measured afloat on " + day, Paragraphs: []string{fmt.Sprintf("These freeboards tell nothing: %v.", f.Err)}}})
		return
	}
	put(sheet.Block{Table: q.against(f, day)})
	put(sheet.Block{Table: q.freeboards(f, day)})
	text := q.explained(f)
	put(sheet.Block{Text: &sheet.Text{Heading: "What explains it", Paragraphs: text}})
	if f.Unexplained.Cause >= trials.Weight && f.Unexplained.Cause != trials.Disagreement {
		a.Cautions = append(slices.Clip(a.Cautions), fmt.Sprintf("Measured afloat on %s she is not as the book has her: %s What is answered here is by the book.", day, text[0]))
	}
}

// against is weight and place, measured and by the book.
func (q *ask) against(f *trials.Floated, day string) *sheet.Table {
	t := &sheet.Table{Heading: "Measured afloat against the book, " + day, Columns: []sheet.Column{{Name: "what", Text: true},
		{Name: "measured", Text: true}, {Name: "by the book", Text: true}, {Name: "difference", Text: true}},
		Note: fmt.Sprintf("With the load of day %d, crew %s. Behind ± is the half width within which the truth lies nineteen times in twenty.", f.Trial.Day, q.crew(f.Trial.Crew))}
	row := func(what string, sc units.Scale, measured, spread, book, doubt float64) {
		show := func(v, s float64) string { return fmt.Sprintf("%s ± %s", sc.Show(v), sc.Show(sure*s)) }
		t.Rows = append(t.Rows, []sheet.Cell{{Text: what}, {Text: show(measured, spread)}, {Text: show(book, doubt)},
			{Text: show(measured-book, math.Hypot(spread, doubt)), Loud: math.Abs(measured-book) > sure*math.Hypot(spread, doubt)}})
	}
	fine := q.sys.Fine()
	row("weight", q.sys.Heavy(), f.Mass, f.Deviation, f.Book.Mass, f.Book.Doubt)
	row("centre of gravity, aft of station 0", q.sys.Coarse(), f.G.X, f.DeviationG.X, f.Book.G.X, f.Book.DoubtG.X)
	row("centre of gravity, to starboard", fine, f.G.Y, f.DeviationG.Y, f.Book.G.Y, f.Book.DoubtG.Y)
	return t
}

func (q *ask) freeboards(f *trials.Floated, day string) *sheet.Table {
	fine, coarse := q.sys.Fine(), q.sys.Coarse()
	t := &sheet.Table{Heading: "Her freeboards, " + day, Columns: []sheet.Column{{Name: "aft of station 0", Unit: coarse.Unit, Places: coarse.Places}, {Name: "side", Text: true},
		{Name: "read", Unit: fine.Unit, Places: fine.Places}, {Name: "give or take", Unit: fine.Unit, Places: fine.Places},
		{Name: "by the book", Unit: fine.Unit, Places: fine.Places}, {Name: "read less fitted", Unit: fine.Unit, Places: fine.Places + 1}},
		Note: "Fitted is how she lay by all readings together; a reading far off it is the one to look at again."}
	for _, r := range f.Readings {
		on := "starboard"
		if r.At.Y < 0 {
			on = "port"
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Value: r.At.X * coarse.Factor}, {Text: on}, {Value: r.Height * fine.Factor}, {Value: sure * r.Deviation * fine.Factor},
			{Value: r.Book * fine.Factor}, {Value: (r.Height - r.Fitted) * fine.Factor, Loud: math.Abs(r.Height-r.Fitted) > sure*r.Deviation}})
	}
	return t
}

func (q *ask) crew(name string) string {
	return q.t.Conditions[max(0, q.t.Condition(name))].Name
}

// explained says what the difference is, what explains it best, and the line to take it into the book.
func (q *ask) explained(f *trials.Floated) []string {
	u := &f.Unexplained
	amount := fmt.Sprintf("%s ± %s", q.sys.Mass(units.Mass(math.Abs(u.Mass))), q.sys.Mass(units.Mass(sure*u.Deviation)))
	heavier := "heavier"
	if u.Mass < 0 {
		heavier = "lighter"
	}
	along := q.sys.Length(units.Length(math.Abs(u.Shift.X)))
	aft := "aft"
	if u.Shift.X < 0 {
		aft = "forward"
	}
	at := fmt.Sprintf("%s aft of station 0", q.sys.Length(units.Length(u.At.X)))
	out := []string{}
	switch u.Cause {
	case trials.ReadingError:
		return append(out, fmt.Sprintf("Nothing is left to explain: the book's own freeboards lie within the error of the readings. (The best fit is %s %s.)", amount, heavier))
	case trials.Disagreement:
		return append(out, "The readings do not agree with one another by more than their error: a slip, a swell, a line that held her, or a hull not built to her lines. Read them again before the book is changed.")
	case trials.Within:
		out = append(out, fmt.Sprintf("She is %s %s than the book: more than an error of these readings, and within what the book and her measured shape are not sure of (± %s together).", amount, heavier, q.sys.Mass(units.Mass(sure*u.Doubt))))
	case trials.Position:
		return append(out, fmt.Sprintf("A wrong place explains it best: the weight agrees, and her centre of gravity lies %s further %s and %s from side to side of where the book has it.", along, aft, q.sys.Length(units.Length(math.Abs(u.Shift.Y)))),
			fmt.Sprintf("As if %s stood %s further %s than written: look at the places of the heaviest things.", q.sys.Mass(units.Mass(f.Mass/10)), q.sys.Length(units.Length(10*math.Abs(u.Shift.X))), aft))
	case trials.Weight:
		out = append(out, fmt.Sprintf("A weight explains it best: she is %s %s than the book.", amount, heavier))
	case trials.Both:
		return append(out, fmt.Sprintf("No one weight explains it: she is %s %s, and it would have to stand %s. Weight and places are both off; weigh the largest estimates first.", amount, heavier, at))
	}
	if u.Mass < 0 {
		return append(out, "The book is too heavy: look for what is counted twice, left ashore, or estimated too high. A weight of less than nothing is not taken into it.")
	}
	if !u.Aboard {
		return append(out, fmt.Sprintf("As one weight it would stand %s, which is not aboard: nothing to take into the book.", at))
	}
	return append(out, q.adopt(f)...)
}

// adopt is the line for boat.yaml.
func (q *ask) adopt(f *trials.Floated) []string {
	u := &f.Unexplained
	low, high := q.t.Ship.Body.Envelope.Box()
	z, spread := f.Book.G.Z, (high[2]-low[2])/2
	why := "Freeboards do not tell how high it stands: the book's height of gravity is written, and incline her to know better."
	switch {
	case u.Height && u.At.Z > low[2] && u.At.Z < high[2]:
		z, spread = u.At.Z, math.Min(spread, sure*u.Spread.Z)
		why = "Its height is from inclining her with the same load."
	case u.Height:
		why = fmt.Sprintf("To agree with the inclining too it would have to stand %.2f m above the base line, which is not aboard: the heights of other things are off as well. The book's height of gravity is written.", u.At.Z)
	}
	line := fmt.Sprintf("- {what: unexplained, mass: %.1f kg +- %.1f kg, at: [%.2f m +- %.0f mm, %.3f m +- %.0f mm, %.2f m +- %.0f mm], known: calculated}",
		u.Mass, sure*u.Deviation, u.At.X, 1000*math.Min(high[0]-low[0], sure*u.Spread.X), u.At.Y, 1000*math.Min(high[1], sure*u.Spread.Y), z, 1000*spread)
	return []string{"To take it into the book, add this line once under weights in boat.yaml. " + why, line}
}
