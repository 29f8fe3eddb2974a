package head

import (
	"fmt"
	"math"

	"thole/internal/answer"
	"thole/internal/sheet"
	"thole/internal/underway"
	"thole/internal/units"
)

// say adds to the sentence where she lies and how she drifts.
func (q *ask) say(a *answer.Answer, f *Figures) {
	s := q.short
	if l := nearBeam(f); l != nil {
		way := "beam-on"
		switch {
		case l.From.Value < 45:
			way = "head to wind"
		case l.From.Value < 75:
			way = "with the wind before the beam"
		case l.From.Value > 135:
			way = "stern to the wind"
		case l.From.Value > 105:
			way = "with the wind abaft the beam"
		}
		s += fmt.Sprintf(" Left alone she lies %s, the wind %.0f° (%.0f° to %.0f°) off the bow", way, l.From.Value, l.From.Low, l.From.High)
		for _, d := range f.Drifts {
			if d.To == "" && d.Wind == f.Wind {
				s += fmt.Sprintf(", and drifts at %s", kn(d.Speed.Value))
				if f.Among != nil {
					s += fmt.Sprintf(", %.1f %% of the wind", 100*f.Among.Share)
				}
			}
		}
		for _, d := range f.Drifts {
			if d.To != "" && d.Wind == f.Wind {
				s += fmt.Sprintf("; to the %s at %s", d.To, kn(d.Speed.Value))
			}
		}
		s += "."
	}
	a.Sentence = s + " This is the least certain answer of all."
}

// warn adds what of her gear is weaker than the load to build for.
func (q *ask) warn(a *answer.Answer, f *Figures) {
	weak := func(name, what string, b *Bears, load float64) {
		if b != nil && b.Factor < 1 {
			a.Cautions = append(a.Cautions, fmt.Sprintf("The %s of the %s bears %s; the boat struck by a breaking crest pulls %s (Jordan, USCG CG-D-20-87, for heavier boats).", what, name, q.force(b.Left), q.force(load)))
		}
	}
	for _, d := range f.Devices {
		weak(d.Name, "line, spliced and wet,", d.Line, d.Design.Value)
		weak(d.Name, "fitting", d.Fit, d.Design.Value)
	}
	if f.Among != nil && f.Among.Faster == "" {
		a.Cautions = append(a.Cautions, fmt.Sprintf("Left alone she drifts faster here than any boat in the published table (up to %s): she forges ahead across the wind while she lies so. Doubt it, and measure it.", kn(f.Among.High)))
	}
}

// nearBeam is the rest nearest beam-on, where she comes to lie first.
func nearBeam(f *Figures) *Lie {
	var out *Lie
	for i := range f.Lies {
		if out == nil || math.Abs(f.Lies[i].From.Value-90) < math.Abs(out.From.Value-90) {
			out = &f.Lies[i]
		}
	}
	return out
}

// kn is a speed in knots.
func kn(v float64) string { return fmt.Sprintf("%.1f kn", v/knot) }

// lay lays the answer out for the faces.
func (q *ask) lay(a *answer.Answer, f *Figures) {
	put := func(b sheet.Block) { a.Sheet.Blocks = append(a.Sheet.Blocks, b) }
	y, err := q.way.Yaw(f.Day, q.rowed)
	if err != nil {
		y = q.worst
	}
	put(sheet.Block{Drawing: q.profiles(y, f)})
	put(sheet.Block{Figures: q.summary(f)})
	put(sheet.Block{Drawing: q.compass(f)})
	put(sheet.Block{Table: q.sectorTable(y, f)})
	if len(f.Courses) > 0 {
		put(sheet.Block{Table: q.courseTable(f)})
	}
	put(sheet.Block{Chart: q.momentChart(f)})
	put(sheet.Block{Table: q.driftTable(f)})
	if len(f.Devices) > 0 {
		put(sheet.Block{Table: q.deviceTable(f)})
	}
	put(sheet.Block{Table: q.amongTable(f)})
	if len(f.Anchors) > 0 {
		put(sheet.Block{Table: q.anchorTable(f)})
	}
	put(sheet.Block{Table: q.doubtTable(f)})
	put(sheet.Block{Table: q.partTable(f)})
}

func (q *ask) summary(f *Figures) *sheet.Figures {
	out := &sheet.Figures{Heading: fmt.Sprintf("On day %d, the crew %s, in %.0f kn of wind", f.Day, f.Condition, f.Wind/knot)}
	coarse := q.scale()
	row := func(name string, v, spread float64, unit string, places int, why string) {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Value: v, Spread: spread, Unit: unit, Places: places, Why: why})
	}
	length := func(name string, v float64, why string) {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Value: v * coarse.Factor, Unit: coarse.Unit, Places: coarse.Places, Why: why})
	}
	row("half of the sector she can be steered on", f.Sector.Value, (f.Sector.High-f.Sector.Low)/2, "deg", 0, "either side of dead downwind, on the tightest day; 180 is every course")
	row("half of the sector wanted", f.Asked, 0, "deg", 0, "limits.sector")
	for _, l := range f.Lateral {
		row("under water, "+l.Setting, l.Area.Area, 0, "m²", 2, "the profile seen from the side")
		length("its centre, "+l.Setting, l.X, "aft of station 0")
		row("lead, "+l.Setting, 100*l.Lead, 0, "% of length", 1, "how far the windage's centre lies ahead of the water's; ahead, the wind turns her off")
	}
	row("in the wind, from the side", f.Windage.Area, 0, "m²", 2, "hull, cabins, what stands on deck and the crew")
	length("its centre", f.Windage.X, "aft of station 0")
	length("its height", f.Windage.Height, "above the water")
	if l := nearBeam(f); l != nil {
		row("left alone, the wind off the bow", l.From.Value, (l.From.High-l.From.Low)/2, "deg", 0, "where she lies by herself, the crew "+f.Left)
		row("left alone, drift", l.Speed.Value/knot, (l.Speed.High-l.Speed.Low)/2/knot, "kn", 2, "through the water; the skin of the sea, driven by the wind, adds to it")
		row("left alone, off downwind", math.Abs(l.Off.Value), (l.Off.High-l.Off.Low)/2, "deg", 0, "to one side or the other, as the wind is to port or starboard")
	}
	out.Explain(q.account)
	return out
}

// account says how a figure was worked out.
func (q *ask) account(name string) sheet.Account {
	has := append(q.c.Afloat(), "boat.yaml: rudder")
	b := &q.c.Folder.Boat
	if len(b.Boards) > 0 {
		has = append(has, "boat.yaml: boards")
	}
	wind := has
	if len(b.Windage) > 0 {
		wind = append(wind[:len(wind):len(wind)], "boat.yaml: windage")
	}
	under := func(p string) bool { return len(name) >= len(p) && name[:len(p)] == p }
	switch {
	case under("half of the sector wanted"):
		in := []string{"boat.yaml: hull"}
		if b.Limits.Sector != nil {
			in = []string{"boat.yaml: limits"}
		}
		return sheet.Account{Method: "as asked, or the usual", Source: "common practice, no source", Inputs: in}
	case under("half of the sector"):
		return sheet.Account{Method: "surge, sway and yaw balanced with the crew's thrust, from dead downwind up to the wind until helm, flow or headway gives out; each coefficient moved to its ends",
			Source: "cross-flow drag, Hoerner (1965); Munk, NACA 184; Whicker and Fehlner, DTMB 933; JCGM 100:2008, 5.1", Inputs: append(wind[:len(wind):len(wind)], "boat.yaml: rowing", "voyage.yaml: crew")}
	case under("under water"), under("its centre, "):
		return sheet.Account{Method: "profile of every cut below the water at the day's draft and trim, with the blades that are down", Source: "trapezoidal rule on the cuts", Inputs: has}
	case under("lead"):
		return sheet.Account{Method: "centre of the windage ahead of that of the profile under water, over the length afloat", Source: "geometry; no rule for rowing boats was found", Inputs: wind}
	case under("left alone"):
		return sheet.Account{Method: "the angle at which the wind's and the water's moments cancel, nobody rowing, and the drift there", Source: "as the sector; wind by the IMO MODU Code's shapes and Blendermann (1994)", Inputs: wind}
	}
	return sheet.Account{Method: "silhouette of the cuts above the water, the boxes that the folder names and the crew at the oars", Source: "trapezoidal rule on the cuts; Drillis and Contini (1966) for the crew", Inputs: wind}
}

func (q *ask) sectorTable(y *underway.Yaw, f *Figures) *sheet.Table {
	t := &sheet.Table{Heading: "Courses kept either side of dead downwind, by wind",
		Columns: []sheet.Column{{Name: "wind", Unit: "kn"}, {Name: "rudder alone", Unit: "deg"}, {Name: "rudder and oars", Unit: "deg"}},
		Note:    "180 is every course. Beyond, rudder and uneven oars cannot hold her, the flow over the blades lets go, or she makes no headway."}
	if y.Lifted() {
		t.Columns = append(t.Columns, sheet.Column{Name: "board up", Unit: "deg"}, sheet.Column{Name: "board down", Unit: "deg"})
	}
	for _, s := range f.Sectors {
		loud := math.Abs(s.Wind-f.Wind) < 1e-6
		row := []sheet.Cell{{Value: math.Round(s.Wind / knot)}, {Value: s.Rudder}, {Value: s.Half, Loud: loud}}
		if y.Lifted() {
			row = append(row, sheet.Cell{Value: s.Up}, sheet.Cell{Value: s.Down})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func (q *ask) courseTable(f *Figures) *sheet.Table {
	t := &sheet.Table{Heading: fmt.Sprintf("How she goes, rowed in %.0f kn, by the wind's angle", f.Wind/knot),
		Columns: []sheet.Column{{Name: "wind off the track", Unit: "deg"}, {Name: "wind off the bow", Unit: "deg"}, {Name: "leeway", Unit: "deg"}, {Name: "rudder", Unit: "deg"}, {Name: "oars uneven", Unit: "%"}, {Name: "speed", Unit: "kn", Places: 1}, {Name: "made downwind", Unit: "kn", Places: 1}},
		Note:    "180 is dead downwind. Rudder and oars: plus turns her off the wind. 100 % is one side alone."}
	for _, c := range f.Courses {
		t.Rows = append(t.Rows, []sheet.Cell{{Value: c.Course}, {Value: c.Bow}, {Value: c.Leeway}, {Value: c.Rudder}, {Value: 100 * c.Uneven}, {Value: c.Speed / knot}, {Value: c.Made / knot}})
	}
	return t
}

// momentChart is what turns her with the bow held at an angle.
func (q *ask) momentChart(f *Figures) *sheet.Chart {
	turning := q.sys.Turning()
	ch := &sheet.Chart{Heading: fmt.Sprintf("What turns her in %.0f kn, nobody rowing", f.Wind/knot), Y: sheet.Axis{Name: "towards the wind", Unit: turning.Unit}}
	s := sheet.Series{Name: "moment with the bow held", Role: sheet.Main}
	low, high := 0.0, 0.0
	for _, m := range f.Moments {
		y := m.Value * turning.Factor
		s.X, s.Y = append(s.X, m.From), append(s.Y, y)
		low, high = math.Min(low, y), math.Max(high, y)
	}
	ch.Series = []sheet.Series{s, {Name: "no moment", Role: sheet.Limit, X: []float64{0, 180}, Y: []float64{0, 0}}}
	ch.X = sheet.Axis{Name: "wind off the bow", Unit: "deg", Max: 180, Ticks: []float64{0, 30, 60, 90, 120, 150, 180}}
	ch.Y.Min, ch.Y.Max, ch.Y.Ticks = sheet.Ticks(low, high)
	ch.Alt = "She has no angle of rest in this wind."
	for i, l := range f.Lies {
		ch.Marks = append(ch.Marks, sheet.Mark{X: l.From.Value, Text: "she lies", Role: sheet.Main})
		if l.From.High-l.From.Low > 0.5 { // the range as a bar on the axis
			ch.Series = append(ch.Series, sheet.Series{Name: "where she may lie", Role: sheet.Other, X: []float64{math.Max(0, l.From.Low), math.Min(180, l.From.High)}, Y: []float64{0, 0}})
		}
		if i == 0 {
			ch.Alt = ""
		}
		ch.Alt += fmt.Sprintf("She lies with the wind %.0f degrees off the bow, somewhere from %.0f to %.0f. ", l.From.Value, l.From.Low, l.From.High)
	}
	return ch
}

func (q *ask) driftTable(f *Figures) *sheet.Table {
	force := q.sys.Pull()
	t := &sheet.Table{Heading: "Drift with nobody rowing, the crew " + f.Left,
		Columns: []sheet.Column{{Name: "lying", Text: true}, {Name: "wind", Unit: "kn"}, {Name: "wind off the bow", Unit: "deg"}, {Name: "drift", Unit: "kn", Places: 2}, {Name: "from", Unit: "kn", Places: 2}, {Name: "to", Unit: "kn", Places: 2}, {Name: "miles a day", Places: 0}, {Name: "off downwind", Unit: "deg"}, {Name: "pull on the line", Unit: force.Unit}},
		Note:    "Through the water, in a steady wind and no sea. Waves, and the skin of the sea driven by the wind, add to it."}
	for _, to := range q.lyings() {
		for _, d := range f.Drifts {
			if d.To != to {
				continue
			}
			name := "left alone"
			pull := sheet.Cell{Empty: true}
			if to != "" {
				name, pull = "to the "+to, sheet.Cell{Value: d.Pull.Value * force.Factor}
			}
			t.Rows = append(t.Rows, []sheet.Cell{{Text: name}, {Value: math.Round(d.Wind / knot)}, {Value: d.From}, {Value: d.Speed.Value / knot, Loud: d.Wind == f.Wind}, {Value: d.Speed.Low / knot}, {Value: d.Speed.High / knot},
				{Value: d.Speed.Value / knot * 24}, {Value: math.Abs(d.Off)}, pull})
		}
	}
	sortByWind(t.Rows)
	return t
}

// lyings are the ways of lying, left alone first.
func (q *ask) lyings() []string {
	out := []string{""}
	for _, s := range q.c.Folder.Boat.SeaAnchors {
		out = append(out, s.Name)
	}
	return out
}

// sortByWind puts the rows of each way of lying in the order of the wind.
func sortByWind(rows [][]sheet.Cell) {
	for i := 1; i < len(rows); i++ {
		for k := i; k > 0 && rows[k][0].Text == rows[k-1][0].Text && rows[k][1].Value < rows[k-1][1].Value; k-- {
			rows[k], rows[k-1] = rows[k-1], rows[k]
		}
	}
}

// scale is that of places along her: to a centimetre, for nobody knows a centre to a millimetre.
func (q *ask) scale() units.Scale {
	s := q.sys.Coarse()
	s.Places = 2
	return s
}

func (q *ask) coarse(v float64) string { return q.scale().Show(v) }

func (q *ask) force(v float64) string { return q.sys.Force(units.Force(v)) }
