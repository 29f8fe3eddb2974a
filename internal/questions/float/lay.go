package float

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/portrait"
	"thole/internal/sheet"
	"thole/internal/units"
)

// lay lays the answer out for the faces.
func (q *ask) lay(a *answer.Answer, f Figures) {
	put := func(b sheet.Block) { a.Sheet.Blocks = append(a.Sheet.Blocks, b) }
	put(sheet.Block{Figures: q.figures(f)})
	d := portrait.Sections(q.t, q.all[q.cond][q.day].Rest.Attitude)
	put(sheet.Block{Drawing: &d})
	put(sheet.Block{Chart: q.weights()})
	if q.t.Days > 0 {
		put(sheet.Block{Chart: q.byDay()})
		if ch := q.edges(); ch != nil {
			put(sheet.Block{Chart: ch})
		}
		if len(q.c.Folder.Boat.Marks) > 0 {
			put(sheet.Block{Chart: q.marksByDay()})
		}
	}
	put(sheet.Block{Table: q.states()})
	if len(q.c.Folder.Boat.Marks) > 0 {
		put(sheet.Block{Table: q.markTable()})
	}
	put(sheet.Block{Table: q.heaviest()})
	q.trials(a)
	s := portrait.Round(q.t, q.all[q.cond][q.day].Rest.Attitude, 40)
	s.Heading = "The hull in the round"
	s.Alt = fmt.Sprintf("%s in three dimensions, afloat on day %d: %s long, %s on the water line.", q.c.Folder.Boat.Name, q.day,
		q.sys.Length(units.Length(q.t.Ship.Hull.To-q.t.Ship.Hull.From)), q.sys.Length(units.Length(f.WaterlineLength)))
	put(sheet.Block{Solid: &s})
}

func (q *ask) figures(f Figures) *sheet.Figures {
	fine, coarse, heavy := q.sys.Fine(), q.sys.Coarse(), q.sys.Heavy()
	s := q.all[q.cond][q.day].State
	out := &sheet.Figures{Heading: fmt.Sprintf("Afloat on day %d, %s", q.day, f.Condition)}
	row := func(name string, v float64, sc units.Scale, spread float64, why string) {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Value: v * sc.Factor, Unit: sc.Unit, Places: sc.Places, Spread: spread * sc.Factor, Why: why})
	}
	deg := units.Scale{Unit: "deg", Factor: 1, Places: 2}
	none := units.Scale{Factor: 1, Places: 3}
	row("displacement", f.Displacement, heavy, 1.96*s.Doubt, "all that is aboard on this day, and she herself")
	row("draft", f.Draft, fine, 0, "of her lowest point, square to the water")
	row("least freeboard", f.Freeboard, fine, 0, "of the deck's edge, "+q.sys.Length(units.Length(f.FreeboardAt))+" aft of station 0")
	row("trim, by the stern", f.Trim, deg, 0, "minus is by the bow")
	row("heel, to starboard", f.Heel, deg, 0, "minus is to port")
	row("metacentric height GM", f.GM, fine, 1.96*s.DoubtG.Z, "how stiff she is upright: KB + BM - KG")
	row("KB", f.KB, fine, 0, "centre of buoyancy above her lowest point")
	row("BM", f.BM, fine, 0, "the waterplane's second moment over the volume")
	row("KG", f.KG, fine, 1.96*s.DoubtG.Z, "centre of gravity above her lowest point")
	row("centre of gravity aft of station 0", f.LCG, coarse, 1.96*s.DoubtG.X, "")
	row("centre of buoyancy aft of station 0", f.LCB, coarse, 0, "")
	row("centre of flotation aft of station 0", f.LCF, coarse, 0, "she trims about it")
	row("lengthwise metacentric height GML", f.GML, coarse, 0, "")
	row("water line, length", f.WaterlineLength, coarse, 0, "")
	row("water line, breadth", f.WaterlineBeam, coarse, 0, "")
	area := units.Scale{Unit: "m²", Factor: 1, Places: 2}
	if q.sys == units.Feet {
		area = units.Scale{Unit: "ft²", Factor: coarse.Factor * coarse.Factor, Places: 1}
	}
	row("waterplane", f.Waterplane, area, 0, "")
	row("wetted skin", f.Wetted, area, 0, "what is fouled, and what rubs")
	row("block coefficient", f.Cb, none, 0, "volume over water line length, breadth and draft")
	row("prismatic coefficient", f.Cp, none, 0, "volume over length and greatest section")
	row("waterplane coefficient", f.Cwp, none, 0, "")
	perFine := fine
	perFine.Unit, perFine.Places = heavy.Unit+" a cm", 1
	perFine.Factor = heavy.Factor
	row("to sink her one centimetre", f.Immersion, perFine, 0, "")
	out.Explain(q.account)
	return out
}

// byDay charts the least freeboard over the trip, a curve for each condition.
func (q *ask) byDay() *sheet.Chart {
	fine := q.sys.Fine()
	ch := &sheet.Chart{Heading: "Least freeboard by day", X: days(q.t.Days), Y: sheet.Axis{Name: "freeboard", Unit: fine.Unit}}
	low, high := 0.0, q.freeboard
	for c := range q.all {
		s := sheet.Series{Name: q.t.Conditions[c].Name, Role: sheet.Other}
		if c == q.cond {
			s.Role = sheet.Main
		}
		for d, f := range q.all[c] {
			if f.Err == nil {
				s.X, s.Y = append(s.X, float64(d)), append(s.Y, f.Freeboard*fine.Factor)
				low, high = math.Min(low, f.Freeboard), math.Max(high, f.Freeboard)
			}
		}
		ch.Series = append(ch.Series, s)
	}
	ch.Series = append(ch.Series, sheet.Series{Name: "asked for", Role: sheet.Limit, X: []float64{0, float64(q.t.Days)}, Y: []float64{q.freeboard * fine.Factor, q.freeboard * fine.Factor}})
	ch.Y.Min, ch.Y.Max, ch.Y.Ticks = sheet.Ticks(low*fine.Factor, high*fine.Factor)
	if f := q.all[q.cond][q.day]; f.Err == nil {
		ch.Marks = append(ch.Marks, sheet.Mark{X: float64(q.day), Y: f.Freeboard * fine.Factor, Text: fmt.Sprintf("day %d", q.day), Role: sheet.Main})
	}
	first, last := q.all[q.cond][0], q.all[q.cond][q.t.Days]
	ch.Alt = fmt.Sprintf("Least freeboard goes from %s leaving to %s on day %d.", fine.Show(first.Freeboard), fine.Show(last.Freeboard), q.t.Days)
	return ch
}

func days(last int) sheet.Axis {
	x := sheet.Axis{Name: "day", Min: 0, Max: float64(last)}
	_, _, x.Ticks = sheet.Ticks(0, float64(last))
	for len(x.Ticks) > 0 && x.Ticks[len(x.Ticks)-1] > float64(last) {
		x.Ticks = x.Ticks[:len(x.Ticks)-1]
	}
	return x
}

// states is a table of leaving, half way and arriving in each condition.
func (q *ask) states() *sheet.Table {
	fine, heavy := q.sys.Fine(), q.sys.Heavy()
	t := &sheet.Table{Heading: "Leaving, on the way, arriving", Columns: []sheet.Column{
		{Name: "day"}, {Name: "crew", Text: true}, {Name: "weight", Unit: heavy.Unit, Places: heavy.Places},
		{Name: "draft", Unit: fine.Unit, Places: fine.Places}, {Name: "trim", Unit: "deg", Places: 2}, {Name: "heel", Unit: "deg", Places: 2},
		{Name: "freeboard", Unit: fine.Unit, Places: fine.Places}, {Name: "GM", Unit: fine.Unit, Places: fine.Places}}}
	for _, d := range slices.Compact([]int{0, q.t.Days / 2, q.t.Days}) {
		for c := range q.all {
			f := q.all[c][d]
			row := []sheet.Cell{{Value: float64(d)}, {Text: q.t.Conditions[c].Name}, {Value: f.State.Mass * heavy.Factor}}
			if f.Err != nil {
				row = append(row, sheet.Cell{Text: "sinks"}, sheet.Cell{Empty: true}, sheet.Cell{Empty: true}, sheet.Cell{Empty: true}, sheet.Cell{Empty: true})
			} else {
				g := figuresOf(q.t, f)
				loud := c == q.worstCond && d == q.worst.State.Day
				row = append(row, sheet.Cell{Value: g.Draft * fine.Factor}, sheet.Cell{Value: g.Trim}, sheet.Cell{Value: g.Heel},
					sheet.Cell{Value: g.Freeboard * fine.Factor, Loud: loud}, sheet.Cell{Value: g.GM * fine.Factor})
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

func (q *ask) markTable() *sheet.Table {
	fine := q.sys.Fine()
	t := &sheet.Table{Heading: "The water against her marks, leaving", Note: "Plus: the water stands above the mark.",
		Columns: []sheet.Column{{Name: "mark", Text: true}, {Name: "aft of station 0", Unit: q.sys.Coarse().Unit, Places: q.sys.Coarse().Places},
			{Name: "water above mark", Unit: fine.Unit, Places: fine.Places}}}
	f := q.all[q.cond][0]
	if f.Err != nil {
		return t
	}
	for _, m := range q.c.Folder.Boat.Marks {
		d := -f.Rest.Above(r3.Vec{X: m.X, Z: m.Z})
		t.Rows = append(t.Rows, []sheet.Cell{{Text: m.Name}, {Value: m.X * q.sys.Coarse().Factor}, {Value: d * fine.Factor}})
	}
	return t
}

// heaviest lists the ten weights that matter most and what each is known by.
func (q *ask) heaviest() *sheet.Table {
	heavy, coarse := q.sys.Heavy(), q.sys.Coarse()
	s := q.all[q.cond][q.day].State
	items := slices.Clone(s.Items)
	slices.SortStableFunc(items, func(a, b model.Item) int {
		switch {
		case a.Mass > b.Mass:
			return -1
		case a.Mass < b.Mass:
			return 1
		}
		return 0
	})
	t := &sheet.Table{Heading: "The ten heaviest", Note: fmt.Sprintf("%d things aboard; %.0f %% of the weight was guessed.", len(items), 100*s.Guessed()),
		Columns: []sheet.Column{{Name: "what", Text: true}, {Name: "weight", Unit: heavy.Unit, Places: 1}, {Name: "give or take", Unit: heavy.Unit, Places: 1},
			{Name: "aft", Unit: coarse.Unit, Places: 2}, {Name: "up", Unit: coarse.Unit, Places: 2}, {Name: "known by", Text: true}}}
	for _, it := range items[:min(10, len(items))] {
		t.Rows = append(t.Rows, []sheet.Cell{{Text: it.What}, {Value: it.Mass * heavy.Factor}, {Value: 1.96 * it.Doubt * heavy.Factor},
			{Value: it.At.X * coarse.Factor}, {Value: it.At.Z * coarse.Factor}, {Text: it.Known.String()}})
	}
	return t
}
