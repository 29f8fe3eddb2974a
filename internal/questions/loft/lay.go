package loft

import (
	"fmt"
	"math"

	"thole/internal/answer"
	"thole/internal/lines"
	"thole/internal/sheet"
	"thole/internal/units"
)

// lay lays the answer out for the faces.
func (q *ask) lay(a *answer.Answer) {
	put := func(b sheet.Block) { a.Sheet.Blocks = append(a.Sheet.Blocks, b) }
	draw := func(d sheet.Drawing) { put(sheet.Block{Drawing: &d}) }
	draw(q.sections())
	put(sheet.Block{Text: q.places()})
	draw(q.profile())
	draw(q.plan())
	draw(q.diagonals())
	put(sheet.Block{Figures: q.numbers()})
	put(sheet.Block{Chart: q.combs()})
	put(sheet.Block{Table: q.movedTable()})
	put(sheet.Block{Table: q.offsets()})
	put(sheet.Block{Table: q.schedule()})
	for _, t := range q.partTables() {
		put(sheet.Block{Table: t})
	}
	for _, t := range []*sheet.Table{q.widths, q.bevels, q.stripTable(), q.sheetTable(), q.bought} {
		if t != nil {
			put(sheet.Block{Table: t})
		}
	}
	if q.bought != nil {
		put(sheet.Block{Text: q.toWeights()})
	}
	for _, d := range q.drawn {
		draw(d)
	}
	if len(q.warnings) > 0 {
		put(sheet.Block{Text: &sheet.Text{Heading: "What will not go round", Paragraphs: q.warnings}})
	}
}

// places are the worst five in words.
func (q *ask) places() *sheet.Text {
	t := &sheet.Text{Heading: "Where to look first"}
	for i, w := range q.figures.Worst {
		side := "proud of"
		if w.Off < 0 {
			side = "inside"
		}
		text := fmt.Sprintf("%d. %s: %s %s the fair surface.", i+1, capital(q.words(w)), q.onThing(math.Abs(w.Off)), side)
		for _, m := range q.figures.Misread {
			if m == w {
				text += " Probably misread; it was left out of the fairing."
			}
		}
		t.Paragraphs = append(t.Paragraphs, text)
	}
	if len(t.Paragraphs) == 0 {
		t.Paragraphs = []string{"Every reading lies on the fair surface."}
	}
	if q.trialled {
		t.Paragraphs = append(t.Paragraphs, fmt.Sprintf("The offsets are taken as exact and nothing was moved; this is what fairing them within %s would ask.", q.sys.Length(trial)))
	}
	return t
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}

func (q *ask) numbers() *sheet.Figures {
	f := &q.figures
	coarse, fine := q.sys.Coarse(), q.sys.Fine()
	out := &sheet.Figures{Heading: "The shape, " + q.toWhat()}
	row := func(name string, v float64, s units.Scale, why string) {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Value: v * s.Factor, Unit: s.Unit, Places: s.Places, Why: why})
	}
	row("length", f.Length, coarse, "")
	row("breadth", f.Breadth, coarse, "")
	row("depth", f.Depth, coarse, "from the keel's lowest point to the highest sheer")
	area := units.Scale{Unit: "m²", Factor: 1, Places: 2}
	if q.sys == units.Feet {
		area = units.Scale{Unit: "ft²", Factor: coarse.Factor * coarse.Factor, Places: 1}
	}
	row("skin, both sides", f.Skin, area, "keel to sheer, without the deck")
	row("most that a reading was moved", f.Most, units.Scale{Unit: fine.Unit, Factor: fine.Factor, Places: max(1, fine.Places)}, "full size, square to the section; misread ones left out")
	out.Rows = append(out.Rows, sheet.Figure{Name: "readings", Value: float64(f.Readings)}, sheet.Figure{Name: "moved by more than half a millimetre", Value: float64(f.Moved)})
	out.Explain(q.account)
	return out
}

// combs chart the curvature of the diagonals and the middle waterline: where a batten would be
// hard or flat shows as a bump.
func (q *ask) combs() *sheet.Chart {
	scale := q.sys.Coarse()
	ch := &sheet.Chart{Heading: "Curvature along the boat", X: sheet.Axis{Name: "aft of station 0", Unit: scale.Unit, Places: 1}, Y: sheet.Axis{Name: "curvature", Unit: "1/" + scale.Unit, Places: 2}}
	low, high := 0.0, 0.0
	mid := q.middleWaterline()
	for i, l := range q.traced {
		if l.Plane.Kind != lines.Diagonal && i != mid || len(l.X) < 5 {
			continue
		}
		role := sheet.Main
		if l.Plane.Kind != lines.Diagonal {
			role = sheet.Other
		}
		s := sheet.Series{Name: l.Plane.Name, Role: role}
		k := lines.Curvature(l.X, l.V)
		for j := 2; j+2 < len(k); j++ {
			s.X, s.Y = append(s.X, l.X[j]*scale.Factor), append(s.Y, -k[j]/scale.Factor)
			low, high = math.Min(low, -k[j]), math.Max(high, -k[j])
		}
		ch.Series = append(ch.Series, s)
	}
	low, high = math.Max(low, -1), math.Min(high, 1.5)
	ch.X.Min, ch.X.Max, ch.X.Ticks = sheet.Ticks(math.Min(0, q.hull.From)*scale.Factor, q.hull.To*scale.Factor)
	ch.Y.Min, ch.Y.Max, ch.Y.Ticks = sheet.Ticks(low/scale.Factor, high/scale.Factor)
	for i := range ch.Series { // what a square end throws beyond the scale
		for j, v := range ch.Series[i].Y {
			ch.Series[i].Y[j] = math.Max(ch.Y.Min, math.Min(ch.Y.Max, v))
		}
	}
	ch.Alt = "Curvature of the diagonals and of a waterline along the boat: a fair line has a smooth curve here, without bumps between stations."
	return ch
}

func (q *ask) middleWaterline() int {
	var at []int
	for i, l := range q.traced {
		if l.Plane.Kind == lines.Waterline {
			at = append(at, i)
		}
	}
	if len(at) == 0 {
		return -1
	}
	return at[len(at)/2]
}

// movedTable lists the readings moved most, on the model and full size.
func (q *ask) movedTable() *sheet.Table {
	t := &sheet.Table{Heading: "Readings moved most", Columns: []sheet.Column{{Name: "station", Text: true}, {Name: "point"},
		{Name: "up, read", Unit: "mm", Places: 1}, {Name: "out, read", Unit: "mm", Places: 1}, {Name: "up, fair", Unit: "mm", Places: 1}, {Name: "out, fair", Unit: "mm", Places: 1},
		{Name: "moved", Unit: "mm", Places: 2}, {Name: "full size", Unit: "mm", Places: 1}},
		Note: "Millimetres of the thing measured, as in " + q.c.Folder.Boat.Hull.File + "; the last column full size. No point was moved that is not counted here or above."}
	s := 1000 / q.figures.Scale
	all := make([]Place, len(q.tried.Moves))
	for i, m := range q.tried.Moves {
		all[i] = q.place(m)
	}
	for _, p := range worst(all, q.tried.Moves, 12) {
		t.Rows = append(t.Rows, []sheet.Cell{{Text: p.Station}, {Value: float64(p.Point)}, {Value: p.Height * s}, {Value: p.HalfBreadth * s},
			{Value: p.FairHeight * s}, {Value: p.FairBreadth * s}, {Value: p.Off * s, Loud: math.Abs(p.Off) > q.tolerance}, {Value: p.Off * 1000}})
	}
	return t
}

// offsets is the table of offsets, corrected, in millimetres or feet-inches-eighths, with running totals.
func (q *ask) offsets() *sheet.Table {
	var labels []string
	var xs []float64
	for _, s := range q.c.Folder.Boat.Hull.Readings.Stations {
		labels, xs = append(labels, s.Label), append(xs, s.X)
	}
	o := lines.Tabulate(q.surface, labels, xs, q.planes)
	feet := q.sys == units.Feet
	cell := func(v float64) sheet.Cell {
		switch {
		case math.IsNaN(v):
			return sheet.Cell{Empty: true}
		case feet:
			return sheet.Cell{Text: units.FeetInchesEighths(units.Length(v))}
		}
		return sheet.Cell{Value: v * 1000}
	}
	t := &sheet.Table{Heading: "Table of offsets, " + q.toWhat(), Note: "Faired and corrected. Lay the stations off from one end with one tape: the running totals are from station 0."}
	unit := "mm"
	if feet {
		unit = ""
		t.Note += " Feet-inches-eighths; + and - are a sixteenth."
	}
	t.Columns = []sheet.Column{{Name: "line", Text: true}}
	for _, s := range o.Stations {
		t.Columns = append(t.Columns, sheet.Column{Name: s.Label, Unit: unit, Text: feet})
	}
	total, gap := []sheet.Cell{{Text: "from station 0"}}, []sheet.Cell{{Text: "from the one before"}}
	for i, s := range o.Stations {
		total = append(total, cell(s.X))
		if i == 0 {
			gap = append(gap, sheet.Cell{Empty: true})
		} else {
			gap = append(gap, cell(s.Gap))
		}
	}
	t.Rows = append(t.Rows, total, gap)
	for _, r := range o.Rows {
		kind := "half-breadth, "
		if r.Height {
			kind = "height, "
		}
		row := []sheet.Cell{{Text: kind + r.Name}}
		for _, v := range r.Values {
			row = append(row, cell(v))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// schedule is the mould schedule: where each stands, on which side of its line, how high, at what bevels.
func (q *ask) schedule() *sheet.Table {
	fine := units.Scale{Unit: "mm", Factor: 1000}
	if q.sys == units.Feet {
		fine = q.sys.Fine()
	}
	len1 := func(name string) sheet.Column { return sheet.Column{Name: name, Unit: fine.Unit, Places: fine.Places} }
	t := &sheet.Table{Heading: "Moulds", Columns: []sheet.Column{{Name: "mould"}, len1("from station 0"), {Name: "body", Text: true}, len1("set-up line to keel"),
		len1("across at the sheer"), {Name: "bevel at the keel", Unit: "deg", Places: 1}, {Name: "half way", Unit: "deg", Places: 1}, {Name: "at the sheer", Unit: "deg", Places: 1}},
		Note: q.deduction() + " Bodies stand towards amidships, so the edges can be left square. A bevel is plus where the skin runs in towards the stern."}
	const deg = 180 / math.Pi
	for i := range q.moulds {
		m := &q.moulds[i]
		foot, top, mid := m.Edge[0], m.Edge[len(m.Edge)-1], m.Edge[len(m.Edge)/2]
		body := "astern of the line"
		if m.Ahead {
			body = "ahead of the line"
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Value: float64(i + 1)}, {Value: m.X * fine.Factor}, {Text: body}, {Value: (q.loft.setUp - foot.Z) * fine.Factor},
			{Value: 2 * top.Y * fine.Factor}, {Value: foot.Bevel * deg}, {Value: mid.Bevel * deg}, {Value: top.Bevel * deg}})
	}
	return t
}

// partTables list what is sawn.
func (q *ask) partTables() []*sheet.Table {
	fine := q.sys.Fine()
	t := &sheet.Table{Heading: "Parts", Columns: []sheet.Column{{Name: "part", Text: true}, {Name: "how many"}, {Name: "thick", Unit: "mm", Places: 1},
		{Name: "long", Unit: fine.Unit, Places: fine.Places}, {Name: "wide", Unit: fine.Unit, Places: fine.Places}},
		Note: "Each is a drawing at its true size."}
	for _, p := range q.patterns {
		if p.Thickness == 0 {
			continue
		}
		w, h := p.Drawing.MaxX-p.Drawing.MinX, p.Drawing.MaxY-p.Drawing.MinY
		t.Rows = append(t.Rows, []sheet.Cell{{Text: p.Title}, {Value: float64(p.Count)}, {Value: p.Thickness * 1000},
			{Value: math.Max(w, h) * fine.Factor}, {Value: math.Min(w, h) * fine.Factor}})
	}
	return []*sheet.Table{t}
}

// stripTable lists the strips of each layer in short: how many, how long, how they taper.
func (q *ask) stripTable() *sheet.Table {
	if len(q.layers) == 0 {
		return nil
	}
	coarse, fine := q.sys.Coarse(), q.sys.Fine()
	t := &sheet.Table{Heading: "Diagonal strips, one side", Columns: []sheet.Column{{Name: "layer"}, {Name: "strip"}, {Name: "long", Unit: coarse.Unit, Places: coarse.Places},
		{Name: "widest", Unit: fine.Unit, Places: fine.Places}, {Name: "narrowest", Unit: fine.Unit, Places: fine.Places}, {Name: "angle", Unit: "deg", Places: 1}},
		Note: "One edge of each strip is straight; the other is spiled to its neighbour. Cut as many again for the other side."}
	for k, l := range q.layers {
		for _, s := range l.Strips {
			if !s.Offcut {
				t.Rows = append(t.Rows, []sheet.Cell{{Value: float64(k + 1)}, {Value: float64(s.Number)}, {Value: s.Length * coarse.Factor},
					{Value: s.Widest * fine.Factor}, {Value: s.Narrowest * fine.Factor}, {Value: s.Angle * 180 / math.Pi}})
			}
		}
	}
	return t
}

// sheetTable counts the sheets of each thickness.
func (q *ask) sheetTable() *sheet.Table {
	if len(q.figures.Sheets) == 0 {
		return nil
	}
	t := &sheet.Table{Heading: "Sheets", Columns: []sheet.Column{{Name: "thick", Unit: "mm", Places: 1}, {Name: "sheets"}, {Name: "not fewer than"}, {Name: "waste", Unit: "%"}},
		Note: fmt.Sprintf("Of %s by %s, the outer %.0f mm not used, %.0f mm left between parts; scarfs counted, both sides of the boat.",
			q.sys.Length(units.Length(q.loft.long)), q.sys.Length(units.Length(q.loft.wide)), 1000*margin, 1000*gap)}
	for _, s := range q.figures.Sheets {
		t.Rows = append(t.Rows, []sheet.Cell{{Value: 1000 * s.Thickness}, {Value: float64(s.Count)}, {Value: float64(s.AtLeast)}, {Value: 100 * s.Waste}})
	}
	return t
}

// toWeights is the skin as a line for the weights, for the builder who wants it there: nothing is put
// into the folder unasked.
func (q *ask) toWeights() *sheet.Text {
	f := &q.figures
	return &sheet.Text{Heading: "For the weights", Paragraphs: []string{
		"To float her with this skin, put it among the weights of boat.yaml, in place of your own line for the planking:",
		fmt.Sprintf("- {what: planking as lofted, mass: %.1f kg +- %.0f%%, at: [%.2f m, 0 m, %.2f m], known: calculated}", f.SkinMass, math.Ceil(196*f.SkinMassDoubt/f.SkinMass), f.SkinX, f.SkinZ),
	}}
}
