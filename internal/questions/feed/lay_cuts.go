package feed

import (
	"fmt"
	"math"

	"thole/internal/sheet"
)

// ladderTable is by when to cut if food must last until a day: the card that is printed.
func ladderTable(f *Figures) *sheet.Table {
	t := &sheet.Table{Heading: "If food must last until a later day", Columns: []sheet.Column{{Name: "until day"}},
		Note: "For when you come to reckon on a later day. First what to give out of each day's bag, if it is settled on such a day and begun at once; then the last day on which a cut to so much may begin. Reckon from a week of daily runs, not from one. The middle case: bodies and bags differ, so cut for a later day than you reckon on. It is settled by everybody together."}
	for _, s := range f.Ladder[0].Shares {
		t.Columns = append(t.Columns, sheet.Column{Name: fmt.Sprintf("on day %d", s.From), Unit: "%"})
	}
	for _, l := range f.Ladder[0].Latest {
		t.Columns = append(t.Columns, sheet.Column{Name: fmt.Sprintf("%.0f %% by", 100*l.Share)})
	}
	late := int(math.Ceil(f.Arrival.Twentieth))
	for _, r := range f.Ladder {
		row := []sheet.Cell{{Value: float64(r.Until), Loud: r.Until == late}}
		for _, s := range r.Shares {
			c := sheet.Cell{Value: math.Floor(100 * s.Share)}
			if s.Share == 0 {
				c = sheet.Cell{Text: "too late"}
			}
			row = append(row, c)
		}
		for _, l := range r.Latest {
			c := sheet.Cell{Value: float64(l.Day)}
			if l.Day == 0 {
				c = sheet.Cell{Text: "too little"}
			}
			row = append(row, c)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// calendar is the passage in tens of days: what the log is held against.
func (q *ask) calendar() *sheet.Table {
	sc, heavy := q.sys.Food(), q.sys.Heavy()
	t := &sheet.Table{Heading: "Ten days at a time", Columns: []sheet.Column{{Name: "days", Text: true}, {Name: "eaten", Unit: sc.Unit}, {Name: "spent", Unit: sc.Unit}, {Name: "bags left"}, {Name: "water", Unit: "L", Places: 1}},
		Note: "Eaten and spent for one rower and day, water for all and a day, bags left and bodies at the end of the days: the middle case, to hold the log against. More bags left than here is food that nobody can eat; fewer, and the ladder below is near."}
	for _, r := range q.p.Plan.Rowers {
		t.Columns = append(t.Columns, sheet.Column{Name: r.Person.Name, Unit: heavy.Unit, Places: 0})
	}
	p := q.plan(q.days)
	const step = 10
	for from := 0; from < len(q.ledger.Days); from += step {
		days := q.ledger.Days[from:min(len(q.ledger.Days), from+step)]
		eaten, spent, water := 0.0, 0.0, 0.0
		for _, d := range days {
			water += d.Water.Value / float64(len(days))
			for _, e := range d.Each {
				n := float64(len(days) * len(d.Each))
				eaten, spent = eaten+e.Eaten.Value/n, spent+e.Spent.Value/n
			}
		}
		last := days[len(days)-1]
		row := []sheet.Cell{{Text: span(days[0].Day+1, last.Day+1)}, {Value: round(eaten*sc.Factor, -1)}, {Value: round(spent*sc.Factor, -1)}, {Value: bags(p, last.FoodLeft.Value)}, {Value: water}}
		for _, e := range last.Each {
			row = append(row, sheet.Cell{Value: e.Mass.Value * heavy.Factor})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// cutTable is what each way to make the food last costs.
func (q *ask) cutTable(f *Figures) *sheet.Table {
	until := f.Cuts[0].Until
	why := fmt.Sprintf("a fifth past the day on which it ends, since it lasts past the day of nineteen in twenty, %.0f, as it is", math.Ceil(f.Arrival.Twentieth))
	if float64(until) <= math.Ceil(f.Arrival.Twentieth) {
		why = "by which nineteen in twenty are in"
		if f.Arrival.Passages == 0 {
			why = "the last of the passage"
		}
	}
	t := &sheet.Table{Heading: fmt.Sprintf("Cuts that make the food last until day %d, and what they cost", until),
		Columns: []sheet.Column{{Name: "settled on day"}, {Name: "give out", Unit: "%"}, {Name: "from day"}, {Name: "body lost by then", Unit: "%"}, {Name: "±", Unit: "%"}},
		Note:    "Day " + fmt.Sprint(until) + " is " + why + ". The first row of each day is the least cut that does, begun at once; the others wait as long as may be. The body is that of the rower who loses most: ocean rowers lost a tenth in 46 days; past 12 % a body is weaker, colder and slower to heal, past 18 % hard work fails, past 25 % life is in danger. Early and little costs less than late and much."}
	for _, c := range f.Cuts {
		t.Rows = append(t.Rows, []sheet.Cell{{Value: float64(c.Decided)}, {Value: math.Floor(100 * c.Share), Loud: c.Starts == "now"}, {Value: float64(c.From)}, {Value: 100 * c.Lost}, {Value: 100 * c.Spread}})
	}
	return t
}

// tenTable is what ten more days of food cost.
func (q *ask) tenTable(x *TenFigures) *sheet.Table {
	heavy, fine := q.sys.Heavy(), q.sys.Fine()
	t := &sheet.Table{Heading: fmt.Sprintf("What %d more days of food cost", x.Days), Columns: []sheet.Column{{Name: "asked again", Text: true}, {Name: "as she is", Text: true}, {Name: "with them", Text: true}, {Name: "change", Text: true}},
		Note: "The folder was changed and asked again: all that is eaten until the last day lasts so much longer, and lies where it lies now. Whether it finds room there is asked by where everything goes."}
	row := func(name, was, now, by string) {
		t.Rows = append(t.Rows, []sheet.Cell{{Text: name}, words(was), words(now), words(by)})
	}
	row("food lasts", fmt.Sprintf("%.0f days", x.Was), fmt.Sprintf("%.0f days", x.Lasts), signed(x.Lasts-x.Was, "days", 0))
	row("mass on leaving", "", "", signed(x.Mass*heavy.Factor, heavy.Unit, heavy.Places))
	if x.Speed > 0 && x.SpeedWas > 0 {
		row("speed in a calm, leaving", fmt.Sprintf("%.2f kn", x.SpeedWas), fmt.Sprintf("%.2f kn", x.Speed), signed(x.Speed-x.SpeedWas, "kn", 3))
	}
	if x.LeavingKnown {
		row("height of gravity left, leaving", fine.Show(x.LeavingWas), fine.Show(x.Leaving), signed((x.Leaving-x.LeavingWas)*fine.Factor, fine.Unit, fine.Places))
	}
	if x.HeightKnown {
		row("height of gravity left, on the tightest day", fine.Show(x.HeightWas), fine.Show(x.Height), signed((x.Height-x.HeightWas)*fine.Factor, fine.Unit, fine.Places))
	}
	return t
}

// words is a cell of words, or an empty one.
func words(s string) sheet.Cell { return sheet.Cell{Text: s, Empty: s == ""} }

// signed is a change with its sign; none for one too small to be written.
func signed(v float64, unit string, places int) string {
	if math.Abs(v) < 0.5*math.Pow(10, -float64(places)) {
		return "0 " + unit
	}
	sign := "+"
	if v < 0 {
		sign = "−"
	}
	return fmt.Sprintf("%s%.*f %s", sign, places, math.Abs(v), unit)
}

// failureTable is the water with makers lost.
func (q *ask) failureTable(f *Figures) *sheet.Table {
	t := &sheet.Table{Heading: "Water, when more is drunk or a maker fails", Columns: []sheet.Column{{Name: "left with", Text: true}, {Name: "from day", Text: true}, {Name: "enough until day", Text: true}, {Name: "pumped", Unit: "h", Places: 1}, {Name: "then each drinks", Unit: "L", Places: 1}, {Name: "and lacks", Unit: "L", Places: 1}, {Name: "after a week", Unit: "%"}},
		Note: "Reserve and ballast untouched. Ten litres are what trainers plan; what is told here is less, and sweat differs by a third. Pumped is hours a day by all hands together, the mean of the ten days after: it comes off rowing and sleep, which is not counted, and hours that nobody gives for weeks are no plan. The last column is what a body lacks of its mass a week after the tank is empty: from 2 % on it rows badly, to 10 % speech and walking fail, then comes delirium; 15 % in heat, 25 % anywhere is the end (Adolph 1947)."}
	for _, x := range f.Failures {
		from, until := "", fmt.Sprintf("past %.0f", x.Lasts)
		if x.From > 0 {
			from = fmt.Sprint(x.From)
		}
		drinks, lacks, dry := sheet.Cell{Empty: true}, sheet.Cell{Empty: true}, sheet.Cell{Empty: true}
		if x.Ends {
			until, drinks, lacks, dry = fmt.Sprintf("%.0f", math.Floor(x.Lasts)), sheet.Cell{Value: x.Drunk}, sheet.Cell{Value: x.Short}, sheet.Cell{Value: math.Min(25, 100*x.Lacks), Loud: true}
		}
		t.Rows = append(t.Rows, []sheet.Cell{words(x.What), words(from), words(until), {Value: x.Pumped}, drinks, lacks, dry})
	}
	return t
}
