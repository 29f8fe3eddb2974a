package flood

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/internal/answer"
	"thole/internal/hydro"
	"thole/internal/portrait"
	"thole/internal/sheet"
	"thole/internal/units"
)

// lay lays the answer out for the faces.
func (q *ask) lay(a *answer.Answer, f Figures) {
	put := func(b sheet.Block) { a.Sheet.Blocks = append(a.Sheet.Blocks, b) }
	put(sheet.Block{Warning: &sheet.Warning{Text: answer.NotWithHatchOpen}})
	d := q.drawing()
	put(sheet.Block{Drawing: &d})
	put(sheet.Block{Figures: q.worstFigures(f.Singles[0])})
	put(sheet.Block{Table: q.singleTable(f)})
	if len(q.pairs) > 0 {
		put(sheet.Block{Table: q.pairTable()})
	}
	if len(f.Hatches) > 0 {
		put(sheet.Block{Table: q.hatchTable(f)})
	}
	put(sheet.Block{Table: q.wetTable(f)})
	put(sheet.Block{Table: q.pumpTable(f)})
}

// drawing is the worst single loss, cut open.
func (q *ask) drawing() sheet.Drawing {
	w := &q.worst
	var at *hydro.Attitude
	if w.rest.Err == nil {
		at = &w.rest.Rest.Attitude
	}
	d := portrait.Flooded(q.t, at, w.flooded)
	name := q.rooms[w.holed[0]].name
	d.Heading = "Worst alone: " + name
	d.Alt = fmt.Sprintf("%s cut open along her length, bow to the left, %s, with %s open to the sea: ", q.c.Folder.Boat.Name, q.t.When(w.state.day, w.state.cond), q.names(w.flooded))
	if at == nil {
		d.Alt += "she does not float."
	} else {
		d.Alt += fmt.Sprintf("heel %.1f degrees to starboard, trim %.1f by the stern, least freeboard %s.", at.Heel/deg, at.Trim()/deg, q.sys.Fine().Show(w.rest.Freeboard))
	}
	return d
}

func (q *ask) worstFigures(l Loss) *sheet.Figures {
	fine := q.sys.Fine()
	w := &q.worst
	out := &sheet.Figures{Heading: fmt.Sprintf("With %s holed, day %d, %s", l.Holed[0], l.Day, l.Condition)}
	row := func(name string, v float64, sc units.Scale, why string) {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Value: v * sc.Factor, Unit: sc.Unit, Places: sc.Places, Why: why})
	}
	turn := units.Scale{Unit: "deg", Factor: 1, Places: 1}
	if w.rest.Err != nil {
		out.Rows = append(out.Rows, sheet.Figure{Name: "rest", Text: string(l.Outcome), Why: "there is no draft, trim or heel to tell"})
		out.Explain(q.account)
		return out
	}
	row("water in her", l.Water*q.t.Sea.Density, q.sys.Heavy(), "once she is at rest")
	row("draft", l.Draft, fine, "of her lowest point")
	row("trim, by the stern", l.Trim, turn, "")
	row("heel, to starboard", l.Heel, turn, "")
	row("least freeboard", l.Freeboard, fine, q.sys.Length(units.Length(l.FreeboardAt))+" aft of station 0")
	row("stiffness GM", l.GM, fine, "the slope of her arms where she lies, the sea free to come and go")
	if w.arms != nil {
		when := q.t.When(q.states[q.light].day, q.states[q.light].cond)
		row("range of her arms", l.Range, turn, "from where she lies, to the worse side; "+when)
		row("height of gravity left", l.HeightLeft, fine, "below nothing she would stay over somewhere with this compartment open to the sea; "+when)
	}
	out.Rows = append(out.Rows, sheet.Figure{Name: "two methods apart by", Value: l.Disagree, Text: fmt.Sprintf("%.0e m or rad", l.Disagree), Why: "lost buoyancy against added water: rounding if both are right"})
	out.Explain(q.account)
	return out
}

// state of a loss in a word.
func word(o Outcome) string {
	if o == Over {
		return "lies over"
	}
	return string(o)
}

func (q *ask) singleTable(f Figures) *sheet.Table {
	fine, heavy := q.sys.Fine(), q.sys.Heavy()
	t := &sheet.Table{Heading: "One compartment holed, worst first", Columns: []sheet.Column{
		{Name: "holed", Text: true}, {Name: "", Text: true}, {Name: "day"}, {Name: "crew", Text: true}, {Name: "water in her", Unit: heavy.Unit, Places: heavy.Places},
		{Name: "draft", Unit: fine.Unit, Places: fine.Places}, {Name: "trim", Unit: "deg", Places: 1}, {Name: "heel", Unit: "deg", Places: 1},
		{Name: "freeboard", Unit: fine.Unit, Places: fine.Places}, {Name: "GM", Unit: fine.Unit, Places: fine.Places},
		{Name: "range", Unit: "deg"}, {Name: "height left", Unit: fine.Unit, Places: fine.Places}, {Name: "turned over", Text: true}},
		Note: fmt.Sprintf("Each on the worst of days %s and of %d crew places. Range, height left and turned over: her arms with that compartment open to the sea, on day %d with the crew %s, when she has least height to spare with nothing holed.",
			join(q.days), len(q.conds), f.ArmsDay, f.ArmsCondition)}
	on := slices.ContainsFunc(f.Singles, func(l Loss) bool { return len(l.AlsoFlooded) > 0 })
	if on {
		t.Columns = append(t.Columns, sheet.Column{Name: "also floods", Text: true})
	}
	for i, l := range f.Singles {
		row := []sheet.Cell{{Text: l.Holed[0], Loud: l.Outcome != Floats}, {Text: word(l.Outcome), Loud: l.Outcome != Floats}, {Value: float64(l.Day)}, {Text: l.Condition}}
		if q.singles[i].rest.Err != nil {
			for range 9 {
				row = append(row, sheet.Cell{Empty: true})
			}
		} else {
			row = append(row, sheet.Cell{Value: l.Water * q.t.Sea.Density * heavy.Factor}, sheet.Cell{Value: l.Draft * fine.Factor}, sheet.Cell{Value: l.Trim}, sheet.Cell{Value: l.Heel},
				sheet.Cell{Value: l.Freeboard * fine.Factor, Loud: l.Freeboard < askedFreeboard}, sheet.Cell{Value: l.GM * fine.Factor})
			if q.singles[i].arms == nil {
				row = append(row, sheet.Cell{Empty: true}, sheet.Cell{Empty: true}, sheet.Cell{Text: "no balance"})
			} else {
				row = append(row, sheet.Cell{Value: l.Range}, sheet.Cell{Value: l.HeightLeft * fine.Factor, Loud: l.HeightLeft < 0}, sheet.Cell{Text: turned(l), Loud: len(l.StaysAt) > 0})
			}
		}
		if on {
			row = append(row, sheet.Cell{Text: strings.Join(l.AlsoFlooded, ", "), Empty: len(l.AlsoFlooded) == 0})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func turned(l Loss) string {
	if len(l.StaysAt) == 0 {
		return "comes back"
	}
	var at []string
	for _, s := range l.StaysAt {
		if text := fmt.Sprintf("%.0f", math.Abs(s)); !slices.Contains(at, text) {
			at = append(at, text)
		}
	}
	return "stays at " + strings.Join(at, ", ")
}

// pairTable is the matrix: the freeboard with both holed, or what becomes of her.
func (q *ask) pairTable() *sheet.Table {
	fine := q.sys.Fine()
	t := &sheet.Table{Heading: "Two compartments holed: least freeboard, " + fine.Unit, Columns: []sheet.Column{{Name: "", Text: true}},
		Note: "On the diagonal one alone. The worst of the days and crew places looked at."}
	cells := map[[2]int]*result{}
	for i := range q.singles {
		h := q.singles[i].holed[0]
		cells[[2]int{h, h}] = &q.singles[i]
	}
	for i := range q.pairs {
		h := q.pairs[i].holed
		cells[[2]int{h[0], h[1]}], cells[[2]int{h[1], h[0]}] = &q.pairs[i], &q.pairs[i]
	}
	for _, i := range q.paired {
		t.Columns = append(t.Columns, sheet.Column{Name: q.short(i), Unit: fine.Unit, Places: fine.Places})
		row := []sheet.Cell{{Text: q.short(i)}}
		for _, j := range q.paired {
			r := cells[[2]int{i, j}]
			switch {
			case r.outcome == Sinks || r.outcome == Over:
				row = append(row, sheet.Cell{Text: string(r.outcome), Loud: true})
			default:
				row = append(row, sheet.Cell{Value: r.rest.Freeboard * fine.Factor, Loud: r.rest.Freeboard < askedFreeboard})
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func (q *ask) hatchTable(f Figures) *sheet.Table {
	fine := q.sys.Fine()
	t := &sheet.Table{Heading: "Her openings", Columns: []sheet.Column{{Name: "opening", Text: true}, {Name: "into", Text: true}, {Name: "at sea", Text: true},
		{Name: "above the water", Unit: fine.Unit, Places: fine.Places}, {Name: "goes under at", Unit: "deg", Places: 0},
		{Name: "one holed, least", Unit: fine.Unit, Places: fine.Places}, {Name: "with", Text: true}, {Name: "if left open then", Text: true}},
		Note: "Their lowest points, above still water. Goes under at: heeled with nothing holed; 180 if it never does. A wave does not wait for that."}
	for _, h := range f.Hatches {
		shut := "open"
		if h.Closed {
			shut = "shut"
		}
		then := "nothing more floods"
		if h.Least <= 0 {
			then = word(h.Outcome)
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: h.Name}, {Text: h.Into, Empty: h.Into == ""}, {Text: shut}, {Value: h.Above * fine.Factor, Loud: h.Above <= 0}, {Value: h.Under},
			{Value: h.Least * fine.Factor, Loud: h.Least <= 0}, {Text: h.Holed, Empty: h.Holed == ""}, {Text: then, Loud: h.Outcome != Floats}})
	}
	return t
}

func (q *ask) wetTable(f Figures) *sheet.Table {
	heavy := q.sys.Heavy()
	t := &sheet.Table{Heading: fmt.Sprintf("What gets wet, day %d", f.Day), Columns: []sheet.Column{{Name: "holed", Text: true}, {Name: "stores", Unit: heavy.Unit, Places: 1},
		{Name: "what", Text: true}, {Name: "loses your only", Text: true}, {Name: "fixed there", Text: true}},
		Note: "Your only: what nothing outside that compartment provides (provides, of stores.csv and of the weights), but what water does no harm (dry: no). Fixed there: weights whose centre lies in it, the boat's own wood among them."}
	for _, w := range f.Wet {
		t.Rows = append(t.Rows, []sheet.Cell{{Text: w.Compartment}, {Value: w.Mass * heavy.Factor}, some(w.Items), {Text: strings.Join(w.Lost, ", "), Empty: len(w.Lost) == 0, Loud: len(w.Lost) > 0}, some(w.Fixed)})
	}
	return t
}

// some lists the first few.
func some(list []string) sheet.Cell {
	const few = 6
	if len(list) == 0 {
		return sheet.Cell{Empty: true}
	}
	text := strings.Join(list[:min(few, len(list))], "; ")
	if n := len(list) - few; n > 0 {
		text = fmt.Sprintf("%s; and %d more", text, n)
	}
	return sheet.Cell{Text: text}
}

func (q *ask) pumpTable(f Figures) *sheet.Table {
	coarse, fine := q.sys.Coarse(), q.sys.Fine()
	t := &sheet.Table{Heading: fmt.Sprintf("Filling through a hole of %s and pumping out, day %d", fine.Show(f.Hole), f.Day), Columns: []sheet.Column{
		{Name: "holed", Text: true}, {Name: "water", Unit: "L"}, {Name: "comes in", Unit: "L a minute"}, {Name: "full in", Unit: "minutes", Places: 1},
		{Name: "pump", Text: true}, {Name: "lift", Unit: coarse.Unit, Places: 2}, {Name: "hose costs", Unit: coarse.Unit, Places: 2}, {Name: "goes out", Unit: "L a minute"},
		{Name: "strokes"}, {Name: "empty in", Unit: "minutes", Places: 1}, {Name: "against the hole", Text: true}},
		Note: "The hole's upper edge at the water line; nineteen twentieths of the water she ends with count as full. Empty in: with the hole stopped. Nobody keeps up a pump's best rate for long."}
	const litre, minute = 1000, 60
	for _, one := range f.Filling {
		head := []sheet.Cell{{Text: one.Compartment}, {Value: one.Water * litre}, {Value: one.First * litre * minute}, {Value: one.Minutes, Empty: one.Minutes == 0}}
		if one.Dry {
			head = []sheet.Cell{{Text: one.Compartment}, {Text: "stands above the water"}, {Empty: true}, {Empty: true}}
		}
		first := true
		for _, p := range f.Pumping {
			if p.Compartment != one.Compartment {
				continue
			}
			if !first {
				head = []sheet.Cell{{Text: one.Compartment}, {Empty: true}, {Empty: true}, {Empty: true}}
			}
			first = false
			beats := "the hole wins"
			switch {
			case one.Dry:
				beats = ""
			case p.Beats:
				beats = "keeps up"
			}
			t.Rows = append(t.Rows, append(slices.Clone(head), sheet.Cell{Text: p.Pump}, sheet.Cell{Value: p.Lift * coarse.Factor}, sheet.Cell{Value: p.Loss * coarse.Factor}, sheet.Cell{Value: p.Flow * litre * minute, Loud: p.Flow == 0},
				sheet.Cell{Value: float64(p.Strokes), Empty: p.Strokes == 0}, sheet.Cell{Value: p.Minutes, Empty: p.Minutes == 0}, sheet.Cell{Text: beats, Empty: beats == ""}))
		}
		if first {
			row := append(head, sheet.Cell{Text: "none reaches it", Loud: true})
			for len(row) < len(t.Columns) {
				row = append(row, sheet.Cell{Empty: true})
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}
