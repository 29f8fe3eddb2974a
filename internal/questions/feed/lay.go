package feed

import (
	"fmt"
	"math"

	"thole/internal/answer"
	"thole/internal/sheet"
	"thole/internal/sustenance"
	"thole/internal/units"
)

// lay lays the answer out for the faces.
func (q *ask) lay(a *answer.Answer) {
	f, ok := a.Figures.(Figures)
	if !ok {
		return
	}
	put := func(b sheet.Block) { a.Sheet.Blocks = append(a.Sheet.Blocks, b) }
	put(sheet.Block{Figures: q.enough(&f)})
	put(sheet.Block{Chart: q.foodLeft()})
	put(sheet.Block{Table: q.phases(&f)})
	put(sheet.Block{Table: q.calendar()})
	for i := range q.p.Plan.Rowers {
		put(sheet.Block{Chart: q.energy(i)})
	}
	put(sheet.Block{Table: q.estimates(&f)})
	for i := range q.p.Plan.Rowers {
		put(sheet.Block{Chart: q.body(i)})
	}
	if len(f.Ladder) > 0 {
		put(sheet.Block{Table: ladderTable(&f)})
	}
	if len(f.Cuts) > 0 {
		put(sheet.Block{Table: q.cutTable(&f)})
	}
	if f.Ten != nil {
		put(sheet.Block{Table: q.tenTable(f.Ten)})
	}
	put(sheet.Block{Figures: q.drinking(&f)})
	put(sheet.Block{Chart: q.waterByDay()})
	if c := q.drinkingLeft(); c != nil {
		put(sheet.Block{Chart: c})
	}
	put(sheet.Block{Table: q.failureTable(&f)})
	put(sheet.Block{Table: q.apart(&f)})
	put(sheet.Block{Warning: &sheet.Warning{Text: "The sealed reserve and the ballast water are not counted among the drinking water. Ballast water is drunk only against as much sea water let in, into jugs that cannot be taken for fresh, and only after it has been asked again whether she comes back up."}})
	put(sheet.Block{Text: &sheet.Text{Heading: "What is least sure", Paragraphs: []string{
		"What is eaten. Crews packed 19 MJ (4,560 kcal) a day and ate half to three quarters of it; what they could not bear went over the side or came home. Eat from the packed bags for a week ashore, tired, before they are sealed.",
		"What is spent: the measured rowers differ from each other by a third. Sums of activities by tables come out 40 to 70 % above what was measured for such long days, so they are shown and not used.",
		"Sweat, by a third from one person to the next; and the makers of water, which age.",
		"All bodies are told by formulas made on other people. Weigh yourselves before leaving, and keep the clothes' fit in the log: it is the scale that is aboard.",
	}}})
}

// enough is how long it lasts against how long she takes.
func (q *ask) enough(f *Figures) *sheet.Figures {
	out := &sheet.Figures{Heading: "Enough?"}
	row := func(name string, v, spread float64, unit string, places int, why string) {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Value: v, Unit: unit, Places: places, Spread: spread, Why: why})
	}
	say := func(name, text, why string) {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Text: text, Why: why})
	}
	if f.Food.Ends {
		row("food lasts", f.Food.Lasts, f.Food.Spread, "days", 0, "leftovers that keep are eaten on later days, so that it lasts longer than the calendar")
	} else {
		say("food lasts", "longer than is counted", "more is packed than is ever opened")
	}
	if f.Water.Ends {
		row("water lasts", f.Water.Lasts, f.Water.Spread, "days", 0, "until a day's water cannot be had in full, hands pumping too; reserve and ballast apart")
	} else {
		say("water lasts", fmt.Sprintf("past day %.0f", f.Water.Lasts), "while what makes it works; see what follows when it does not")
	}
	if f.Arrival.Passages > 0 {
		row("half are in by day", math.Ceil(f.Arrival.Median), 0, "", 0, fmt.Sprintf("of %d simulated passages, those left out that miss the landfall or end on land, %.0f in 100", f.Arrival.Passages, 100*(1-f.Arrival.Helped)))
		row("nine in ten by day", math.Ceil(f.Arrival.Tenth), 0, "", 0, "")
		row("nineteen in twenty by day", math.Ceil(f.Arrival.Twentieth), 0, "", 0, "what is asked for")
	} else {
		row("taken to be in by day", f.Arrival.Median, 0, "", 0, q.why)
	}
	row("chance that the food is enough", 100*f.Food.Chance, 0, "%", 0, "over what is not known of bodies and bags, and over the passages")
	row("chance that the water is enough", 100*f.Water.Chance, 0, "%", 0, "while what makes it works")
	row("days of bags packed", float64(f.Wanted.Packed), 0, "", 0, "by the stores' calendar, for everybody")
	if f.Arrival.Passages > 0 {
		row("days of bags for 19 in 20", float64(f.Wanted.Days), 0, "", 0, "without counting on leftovers")
	}
	if f.Wanted.Missing > 0 {
		heavy := q.sys.Heavy()
		row("the missing days' food", f.Wanted.Food*heavy.Factor, 0, heavy.Unit, heavy.Places, fmt.Sprintf("%d more days by the last bag packed", f.Wanted.Missing))
		row("their water", f.Wanted.Water*heavy.Factor, 0, heavy.Unit, heavy.Places, "what the makers do not make")
	}
	d := q.shown()
	sc := q.sys.Food()
	for i, r := range d.Each {
		name := q.p.Plan.Rowers[i].Person.Name
		row(fmt.Sprintf("%s spends, day %d", name, d.Day+1), round(r.Spent.Value*sc.Factor, -1), round(r.Spent.Spread*sc.Factor, -1), sc.Unit, sc.Places, "")
		row(fmt.Sprintf("%s eats, day %d", name, d.Day+1), round(r.Eaten.Value*sc.Factor, -1), round(r.Eaten.Spread*sc.Factor, -1), sc.Unit, sc.Places, fmt.Sprintf("of %s packed", q.food(r.Offered.Value)))
	}
	out.Explain(q.account)
	return out
}

// shown is the day whose figures are shown: the one asked for, or on leaving, when nothing is eaten yet, one in the middle of the passage.
func (q *ask) shown() *sustenance.OfDay {
	if q.day == 0 {
		return &q.ledger.Days[q.at(q.arrival.median/2)]
	}
	return &q.ledger.Days[q.at(float64(q.day))]
}

// drinking is the water of a day and where it comes from.
func (q *ask) drinking(f *Figures) *sheet.Figures {
	d := q.shown()
	out := &sheet.Figures{Heading: fmt.Sprintf("Water on day %d", d.Day+1)}
	row := func(name string, v, spread float64, unit string, places int, why string) {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Value: v, Unit: unit, Places: places, Spread: spread, Why: why})
	}
	for i, r := range d.Each {
		row(q.p.Plan.Rowers[i].Person.Name+" needs", r.Needs.Value, r.Needs.Spread, "L", 1, fmt.Sprintf("food's water with it; %.1f L of it is sweat. Trainers plan 10 L, and a diary tells of 8", r.Sweat.Value))
	}
	row("into dried food", d.ForFood.Value, d.ForFood.Spread, "L", 1, "of all; a part of what is needed, not more than it")
	row("made by machine", d.Made.Value, d.Made.Spread, "L", 1, "fills up what was drunk")
	row("pumped by hand", d.ByHand.Value, d.ByHand.Spread, "L", 1, fmt.Sprintf("only what is missing once the tank is empty: %.1f h of hands", d.HandHours.Value))
	row("drinking water left", d.DrinkingLeft.Value, d.DrinkingLeft.Spread, "L", 0, "at the day's end, reserve and ballast apart")
	row("to carry, if nothing but machines made any", f.Wanted.Carry, f.Wanted.CarrySpread, "L", 0, fmt.Sprintf("so that nobody is short on %d days; hands not counted on", q.days))
	for _, m := range q.p.Plan.Makers {
		if h, err := m.HoursFor(d.Water.Value); err == nil {
			row("hours a day of the "+m.Name+" for all of it", h.Value, h.Spread, "h", 1, fmt.Sprintf("it may run %.1f h a day", m.Hours))
		}
	}
	out.Explain(q.account)
	return out
}

// phases is the ration calendar: what was packed against what is spent and eaten.
func (q *ask) phases(f *Figures) *sheet.Table {
	sc, heavy := q.sys.Food(), q.sys.Heavy()
	heavy.Places = 2
	t := &sheet.Table{Heading: "Rations: what can really be eaten", Columns: []sheet.Column{{Name: "bags for", Text: true}, {Name: "opened on days", Text: true}, {Name: "a bag", Unit: heavy.Unit, Places: heavy.Places}, {Name: "packed", Unit: sc.Unit}, {Name: "eaten", Unit: sc.Unit}, {Name: "±", Unit: sc.Unit}, {Name: "spent", Unit: sc.Unit}, {Name: "±", Unit: sc.Unit}},
		Note: "For one rower and day, the mean of the days; a bag is all that the calendar opens for a rower on a day. Bags last longer than they were packed for, since what is not eaten and keeps is eaten later."}
	p := q.plan(q.days)
	for i, x := range q.ledger.Phases(p) {
		bag := sheet.Cell{Empty: true}
		for _, r := range p.Rations {
			if r.Name == x.Name {
				bag = sheet.Cell{Value: r.Mass * heavy.Factor}
			}
		}
		ten := func(v float64) sheet.Cell { return sheet.Cell{Value: round(v*sc.Factor, -1)} }
		t.Rows = append(t.Rows, []sheet.Cell{{Text: x.Name}, {Text: span(f.Phases[i].First, f.Phases[i].Last)}, bag, ten(x.Offered.Value), {Value: round(x.Eaten.Value*sc.Factor, -1), Loud: true}, ten(x.Eaten.Spread), ten(x.Spent.Value), ten(x.Spent.Spread)})
	}
	return t
}

// estimates is a usual day's energy, several ways.
func (q *ask) estimates(f *Figures) *sheet.Table {
	sc := q.sys.Food()
	t := &sheet.Table{Heading: "What a usual day costs, and what plans are usually made with", Columns: []sheet.Column{{Name: "reckoned", Text: true}},
		Note: fmt.Sprintf("Counted with: as measured. The sum by activity tables (rowing at %.1f kcal a kilogram and hour) is what most plans are made with; it is an over-estimate for long days, since nobody keeps that up for weeks. It is no reason to pack more than can be eaten.", sustenance.RowingWork)}
	rows := [][]sheet.Cell{{{Text: "lying still"}}, {{Text: "as measured on ocean rowers"}}, {{Text: "±"}}, {{Text: "power over its efficiency"}}, {{Text: "activity tables"}}, {{Text: "tables over measured"}}}
	for i, r := range f.Rowers {
		t.Columns = append(t.Columns, sheet.Column{Name: r.Name, Unit: sc.Unit})
		per := mega * sc.Factor
		for k, v := range []float64{r.Resting * sustenance.Day / mega, r.Spends, r.Spread, r.ByWork, r.ByTable} {
			rows[k] = append(rows[k], sheet.Cell{Value: round(v*per, -1), Loud: k == 1})
		}
		rows[5] = append(rows[5], sheet.Cell{Text: fmt.Sprintf("%.0f %% more", 100*(f.Rowers[i].OverTable-1))})
	}
	t.Rows = rows
	return t
}

// apart is the water and the food that are not counted on.
func (q *ask) apart(f *Figures) *sheet.Table {
	t := &sheet.Table{Heading: "Kept apart, and not counted on", Columns: []sheet.Column{{Name: "what", Text: true}, {Name: "there is", Text: true}, {Name: "it gives", Text: true}, {Name: "when", Text: true}}}
	litres := func(kg float64) string { return fmt.Sprintf("%.0f L", kg) }
	people := len(q.p.Plan.Rowers)
	add := func(what, there, gives, when string) {
		t.Rows = append(t.Rows, []sheet.Cell{words(what), words(there), words(gives), words(when)})
	}
	s := f.Stock
	if s.Reserve > 0 {
		add("sealed water", litres(s.Reserve), fmt.Sprintf("%.0f days at a raft's %.1f L each, the first day dry", s.RaftDays, sustenance.RaftRation), "something has gone wrong, and it has been said aloud")
	} else {
		add("sealed water", "none", fmt.Sprintf("life-rafts carry %.1f L a person", sustenance.RaftWater), "")
	}
	if s.Ballast > 0 {
		add("ballast water", litres(s.Ballast), fmt.Sprintf("%.0f days at a camp's %.1f L each", s.Ballast/sustenance.CampRation/float64(people), sustenance.CampRation), "against as much sea water let in, righting asked again first")
	}
	if s.SpareMJ > 0 {
		add("emergency food", q.sys.Energy(units.Energy(s.SpareMJ*mega)), fmt.Sprintf("%.0f ± %.0f days for %d who lie and wait", s.SpareDays, s.SpareRange, people), "the bags are gone or cannot be cooked")
	} else {
		add("emergency food", "none", fmt.Sprintf("life-rafts carry %s a person", q.sys.Energy(sustenance.RaftFood)), "")
	}
	on := sustenance.Trades()
	if q.on != nil {
		on = q.on(q.planned() / 2)
	}
	for _, r := range q.p.Plan.Rowers {
		if d, err := r.Person.WithoutWater(on.In, r.Cabin, 0); err == nil && !math.IsInf(d.Days.Value, 1) {
			add("no water at all, "+r.Person.Name, "none", fmt.Sprintf("%.0f days in the shade at rest, on the safe side", math.Floor(math.Min(longestDry, d.Days.Low()))), "never planned on")
		}
	}
	t.Note = "Nothing on the first day and then 0.4 to 0.5 L a day is what life-raft manuals give; 2.5 to 3 L is for a settled camp (WHO). Without water: Adolph (1947); nobody in the wars' boats lasted longer than 11 days."
	return t
}

// longestDry is the most days that anybody lived without water in the wars' boats.
//
// Source: Critchley, as told in Natural History
const longestDry = 11

// span is a run of days in a cell.
func span(from, to int) string {
	if from == to {
		return fmt.Sprint(from)
	}
	return fmt.Sprintf("%d–%d", from, to)
}

// round is a number to so many places; fewer than none for tens.
func round(v float64, places int) float64 {
	k := math.Pow(10, float64(places))
	return math.Round(v*k) / k
}
