package drain

import (
	"fmt"
	"math"
	"slices"

	"thole/internal/answer"
	"thole/internal/sheet"
	"thole/internal/units"
)

// lay lays the answer out for the faces.
func (q *ask) lay(a *answer.Answer, s *loaded, f Figures) {
	put := func(b sheet.Block) { a.Sheet.Blocks = append(a.Sheet.Blocks, b) }
	put(sheet.Block{Figures: q.summary(f)})
	for i := range q.all {
		put(sheet.Block{Drawing: q.across(s, i)})
		if len(f.Wells[i].Track) > 1 {
			put(sheet.Block{Chart: q.emptyingChart(f, i)})
		}
	}
	put(sheet.Block{Table: q.byDay()})
	if len(f.Drains) > 0 {
		put(sheet.Block{Table: q.drainTable(f)})
	}
	if len(f.Arms) > 1 {
		put(sheet.Block{Chart: q.armChart(f)})
	}
	if len(f.References) > 0 {
		put(sheet.Block{Table: q.referenceTable(f)})
	}
}

func (q *ask) summary(f Figures) *sheet.Figures {
	fine, heavy := q.sys.Fine(), q.sys.Heavy()
	out := &sheet.Figures{Heading: fmt.Sprintf("On day %d, %s, every well full", f.Day, f.Condition)}
	row := func(name string, v float64, sc units.Scale, why string) {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Value: v * sc.Factor, Unit: sc.Unit, Places: sc.Places, Why: why})
	}
	angle := units.Scale{Unit: "deg", Factor: 1, Places: 1}
	row("water in her", f.Full.Water, heavy, "to the lowest place of the rim, as she then lies")
	row("draft", f.Full.Draft, fine, "of her lowest point")
	row("least freeboard", f.Full.Freeboard, fine, "of the deck's edge")
	row("trim, by the stern", f.Full.Trim, angle, "minus is by the bow")
	row("heel, to starboard", f.Full.Heel, angle, "minus is to port")
	row("metacentric height, full", f.Full.GM, fine, "the water keeps its level as she heels")
	row("metacentric height, empty", f.Full.GMDry, fine, "")
	for _, w := range f.Wells {
		out.Rows = append(out.Rows, sheet.Figure{Name: w.Name + ", volume to the brim", Value: w.Volume, Unit: "m³", Places: 3, Text: q.sys.Volume(units.Volume(w.Volume))})
		row(w.Name+", sole above the sea, empty", w.SoleAbove, fine, "at its lowest place")
		row(w.Name+", sole above the sea, full", w.SoleAboveFull, fine, "minus is below: the water outside holds the drains up")
		for _, t := range []struct {
			name string
			at   *float64
			why  string
		}{{"half empty after", w.Half, ""}, {"clear after", w.Clear, "no more than 20 mm over the whole sole"}, {"down to the sole after", w.Sole, "the last of it over a sill takes for ever"}} {
			g := sheet.Figure{Name: w.Name + ", " + t.name, Unit: "s", Why: t.why}
			if t.at != nil {
				g.Value = *t.at
			} else {
				g.Text = "never"
			}
			out.Rows = append(out.Rows, g)
		}
		if w.Buckets > 0 {
			row(w.Name+", what stays in", w.Stays, heavy, fmt.Sprintf("%.0f bucket loads of 12 L, %s at eight a minute; or %s with the least pump that is asked of her length", w.Buckets, span(w.Bailing), span(w.Pumping)))
		}
	}
	out.Explain(q.account)
	return out
}

// emptyingChart is the water in a well over time, and the sea outside.
func (q *ask) emptyingChart(f Figures, i int) *sheet.Chart {
	fine := q.sys.Fine()
	w := f.Wells[i]
	ch := &sheet.Chart{Heading: "The " + w.Name + " emptying", Y: sheet.Axis{Name: "above the middle of the sole", Unit: fine.Unit}}
	in := sheet.Series{Name: "water in the well", Role: sheet.Main}
	out := sheet.Series{Name: "the sea outside", Role: sheet.Water}
	last := w.Track[len(w.Track)-1].Time
	end := last
	if w.Clear != nil { // the last trickle would squeeze the rest
		end = math.Min(last, math.Max(1.6**w.Clear, 10))
	}
	low, high := 0.0, 0.0
	for _, m := range w.Track {
		if m.Time > end {
			break
		}
		in.X, in.Y = append(in.X, m.Time), append(in.Y, m.Depth*fine.Factor)
		out.X, out.Y = append(out.X, m.Time), append(out.Y, m.Sea*fine.Factor)
		low, high = math.Min(low, math.Min(m.Depth, m.Sea)), math.Max(high, math.Max(m.Depth, m.Sea))
	}
	ch.Series = []sheet.Series{in, out, {Name: "sole", Role: sheet.Limit, X: []float64{0, end}, Y: []float64{0, 0}}}
	_, most, ticks := sheet.Ticks(0, end)
	ch.X = sheet.Axis{Name: "time", Unit: "s", Max: most, Ticks: ticks}
	ch.Y.Min, ch.Y.Max, ch.Y.Ticks = sheet.Ticks(low*fine.Factor, high*fine.Factor)
	ch.Alt = fmt.Sprintf("From full the water falls; the %s never clears to 20 mm.", w.Name)
	if w.Clear != nil {
		ch.Alt = fmt.Sprintf("From full the water falls to 20 mm over the sole in %s.", span(*w.Clear))
		ch.Marks = append(ch.Marks, sheet.Mark{X: *w.Clear, Y: left * fine.Factor, Text: "clear", Role: sheet.Main})
	}
	return ch
}

// byDay is every state that was looked at.
func (q *ask) byDay() *sheet.Table {
	fine, heavy := q.sys.Fine(), q.sys.Heavy()
	t := &sheet.Table{Heading: "Leaving, on the way, arriving", Columns: []sheet.Column{{Name: "day"}, {Name: "crew", Text: true}, {Name: "well", Text: true},
		{Name: "sole above the sea", Unit: fine.Unit, Places: fine.Places}, {Name: "the same, full", Unit: fine.Unit, Places: fine.Places},
		{Name: "water", Unit: heavy.Unit, Places: heavy.Places}, {Name: "GM, full", Unit: fine.Unit, Places: fine.Places}, {Name: "clear after", Unit: "s"}},
		Note: "Clear: no more than 20 mm over the whole sole."}
	days := []int{}
	for _, s := range q.states {
		if !slices.Contains(days, s.day) {
			days = append(days, s.day)
		}
	}
	slices.Sort(days)
	for _, d := range days {
		for c := range q.floats {
			s := q.find(d, c)
			for i, p := range q.all {
				t.Rows = append(t.Rows, q.dayRow(s, i, p, fine, heavy))
			}
		}
	}
	return t
}

func (q *ask) dayRow(s *loaded, i int, p *pool, fine, heavy units.Scale) []sheet.Cell {
	row := []sheet.Cell{{Value: float64(s.day)}, {Text: q.t.Conditions[s.cond].Name}, {Text: p.Name}}
	empty := sheet.Cell{Empty: true}
	if s.dry.Err != nil {
		return append(row, sheet.Cell{Text: "no balance", Loud: true}, empty, empty, empty, empty)
	}
	low, _ := p.soleAbove(s.dry.Rest.Attitude)
	row = append(row, sheet.Cell{Value: low * fine.Factor, Loud: low < 0})
	if s.full.err != nil {
		return append(row, sheet.Cell{Text: "no balance", Loud: true}, empty, empty, empty)
	}
	under, _ := p.soleAbove(s.full.rest.Attitude)
	row = append(row, sheet.Cell{Value: under * fine.Factor}, sheet.Cell{Value: q.loose(&s.full) * heavy.Factor}, sheet.Cell{Value: s.full.gm * fine.Factor, Loud: s.full.gm <= 0})
	switch {
	case s.pools == nil:
		return append(row, sheet.Cell{Text: "not stable", Loud: true})
	case len(p.outlets) == 0:
		return append(row, sheet.Cell{Text: "no drain"})
	case math.IsInf(s.pools[i].clear, 1):
		return append(row, sheet.Cell{Text: "never", Loud: true})
	}
	return append(row, sheet.Cell{Value: s.pools[i].clear, Loud: s == q.worst && i == q.well})
}

func (q *ask) drainTable(f Figures) *sheet.Table {
	fine := q.sys.Fine()
	t := &sheet.Table{Heading: fmt.Sprintf("Drains on day %d, %s", f.Day, f.Condition), Columns: []sheet.Column{{Name: "drain", Text: true}, {Name: "how many"}, {Name: "size", Text: true},
		{Name: "lies in", Text: true}, {Name: "flap", Text: true}, {Name: "coefficient", Places: 2}, {Name: "above the sea, empty", Unit: fine.Unit, Places: fine.Places},
		{Name: "above the sea, full", Unit: fine.Unit, Places: fine.Places}, {Name: "flow, full", Unit: "L/s", Places: 1}},
		Note: "Minus is under water. A flap keeps the sea out and helps nothing else: under water a drain works on what the well stands above the sea."}
	k := 0
	for _, p := range q.all {
		for i := range p.drains {
			d, g := &p.drains[i], f.Drains[k]
			k++
			where, flap := "the side", "no"
			if d.face != 0 {
				where = "the sole"
			}
			if d.Flap {
				flap = "yes"
			}
			t.Rows = append(t.Rows, []sheet.Cell{{Text: d.Name}, {Value: float64(d.Count)}, {Text: d.size(q.sys)}, {Text: where}, {Text: flap}, {Value: d.Coefficient},
				{Value: g.Above * fine.Factor, Loud: g.Above < 0}, {Value: g.AboveFull * fine.Factor, Loud: g.AboveFull < 0}, {Value: g.Flow * 1000}})
		}
	}
	return t
}

func (q *ask) armChart(f Figures) *sheet.Chart {
	fine := q.sys.Fine()
	ch := &sheet.Chart{Heading: "Righting arm, the wells full and empty", X: sheet.Axis{Name: "heel", Unit: "deg", Max: mostHeel, Ticks: []float64{0, 15, 30, 45, 60}},
		Y: sheet.Axis{Name: "arm", Unit: fine.Unit, Places: fine.Places}}
	full := sheet.Series{Name: "full; what stands above the rim spills", Role: sheet.Main}
	dry := sheet.Series{Name: "empty", Role: sheet.Other}
	low, high := 0.0, 0.0
	for _, p := range f.Arms {
		full.X, full.Y = append(full.X, p.Heel), append(full.Y, p.Arm*fine.Factor)
		dry.X, dry.Y = append(dry.X, p.Heel), append(dry.Y, p.Dry*fine.Factor)
		low, high = math.Min(low, math.Min(p.Arm, p.Dry)), math.Max(high, math.Max(p.Arm, p.Dry))
	}
	ch.Series = []sheet.Series{full, dry, {Name: "no arm", Role: sheet.Limit, X: []float64{0, mostHeel}, Y: []float64{0, 0}}}
	ch.Y.Min, ch.Y.Max, ch.Y.Ticks = sheet.Ticks(low*fine.Factor, high*fine.Factor)
	mid := f.Arms[len(f.Arms)/2]
	ch.Alt = fmt.Sprintf("At %.0f degrees of heel the arm is %s with the wells full and %s empty.", mid.Heel, fine.Show(mid.Arm), fine.Show(mid.Dry))
	return ch
}

func (q *ask) referenceTable(f Figures) *sheet.Table {
	t := &sheet.Table{Heading: "Beside published rules", Columns: []sheet.Column{{Name: "well", Text: true}, {Name: "what", Text: true}, {Name: "hers", Places: 3}, {Name: "asked there", Places: 3},
		{Name: "unit", Text: true}, {Name: "source", Text: true}},
		Note: "Borrowed from other kinds of boat: references, not certificates. Check your own copy of each."}
	for _, r := range f.References {
		hers := sheet.Cell{Value: r.Hers}
		if r.Never {
			hers = sheet.Cell{Text: "never"}
		}
		what := r.What + ", at least"
		if r.Most {
			what = r.What + ", at most"
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: r.Well}, {Text: what}, hers, {Value: r.Asked}, {Text: r.Unit}, {Text: r.Source}})
	}
	return t
}
