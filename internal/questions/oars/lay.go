package oars

import (
	"fmt"
	"math"
	"strings"

	"thole/internal/answer"
	"thole/internal/rowing"
	"thole/internal/sheet"
	"thole/internal/underway"
	"thole/internal/units"
)

// lay lays the answer out for the faces.
func (q *ask) lay(a *answer.Answer) error {
	put := func(b sheet.Block) { a.Sheet.Blocks = append(a.Sheet.Blocks, b) }
	put(sheet.Block{Figures: q.rig()})
	for _, d := range q.drawings() {
		put(sheet.Block{Drawing: d})
	}
	put(sheet.Block{Table: q.looked()})
	if m := q.matrix(); m != nil {
		put(sheet.Block{Matrix: m})
	}
	put(sheet.Block{Table: q.gears()})
	if t := q.customs(); t != nil {
		put(sheet.Block{Table: t})
	}
	if len(q.at[q.days[0]].r.Crew.Rowers) == 0 {
		return nil
	}
	put(sheet.Block{Figures: q.speeds()})
	if t := q.crews(); t != nil {
		put(sheet.Block{Table: t})
	}
	for _, c := range q.charts() {
		put(sheet.Block{Chart: c})
	}
	put(sheet.Block{Text: &sheet.Text{Heading: "What is least sure", Paragraphs: []string{
		"Of the fit: how far a person swings and crouches hour after hour, and how high they bear the handles. The ± is the root of the sum of squares of eleven things not known of a body; somebody who has been measured in the boat is known better than any of this.",
		"Of the speed: growth on the bottom, which may come in half the days or in twice as many; the power that is kept for weeks; and the blades, whose force is that of a plate in a free stream. Racing shells' blades lose a quarter to a third of the power; these, moving a heavy boat slowly, lose about half.",
		"The head wind that stops her leaves its sea out: a head sea of that wind stops her sooner. Read it as the most she could stand.",
	}}})
	return nil
}

// rig is the figures of the tightest rower.
func (q *ask) rig() *sheet.Figures {
	r := q.tight
	out := &sheet.Figures{Heading: fmt.Sprintf("%s: gates %s, stretcher %s", q.named(r), q.shift(r.Gates[r.Gate]), q.shift(r.Holes[r.Hole]))}
	fine := q.sys.Fine()
	row := func(name string, v, spread float64, sc units.Scale, why string) {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Value: v * sc.Factor, Unit: sc.Unit, Places: sc.Places, Spread: spread * sc.Factor, Why: why})
	}
	angle := units.Scale{Unit: "deg", Factor: deg}
	f := r.Fit
	row("least room", r.Left, r.Spread, fine, called(r.Tightest))
	row("oar at the catch", f.CatchAngle.Value, f.CatchAngle.Spread, angle, "forward of square, blade in the water; 40 is wanted on a sliding seat, 30 on a fixed one")
	row("oar at the finish", f.FinishAngle.Value, f.FinishAngle.Spread, angle, "past square; 20 is wanted on a sliding seat, 15 on a fixed one")
	row("way of the hands", f.Run.Value, f.Run.Spread, fine, "along their arc, the length of the stroke")
	row("seat slides", f.Stroke.Slide, 0, fine, "of the travel that there is; it ends at "+string(f.Stroke.SlideEnd))
	row("hands above the seat at the catch", f.HandCatch.Value, f.HandCatch.Spread, fine, "blade just covered")
	row("hands above the seat at the finish", f.HandFinish.Value, f.HandFinish.Spread, fine, "blade just covered")
	row("hands above the seat, blade out", f.Clear.Value, f.Clear.Spread, fine, "at the finish, blade clear of the water")
	heeled := rowing.Check{Margin: math.Inf(1)}
	for _, c := range q.checks(r) {
		if c.Noted && c.Margin < heeled.Margin {
			heeled = c
		}
	}
	if !math.IsInf(heeled.Margin, 1) {
		row("least room, heeled 10 degrees", heeled.Margin, heeled.Spread, fine, called(heeled)+"; told, and does not count: a rower eases that oar")
	}
	out.Explain(q.account)
	return out
}

// shift says where a gate or stretcher stands among its places.
func (q *ask) shift(by float64) string {
	switch {
	case math.Abs(by) < 0.0005:
		return "as written"
	case by < 0:
		return q.sys.Length(units.Length(-by)) + " forward"
	}
	return q.sys.Length(units.Length(by)) + " aft"
}

// brief is shift with few letters, for the head of a column: plus is aft.
func (q *ask) brief(by float64) string {
	switch {
	case math.Abs(by) < 0.0005:
		return "0"
	case by < 0:
		return "−" + q.sys.Length(units.Length(-by))
	}
	return "+" + q.sys.Length(units.Length(by))
}

// looked is everything looked at, for each of the crew.
func (q *ask) looked() *sheet.Table {
	fine := q.sys.Fine()
	t := &sheet.Table{Heading: "What hits, and what does not", Columns: []sheet.Column{{Name: "looked at", Text: true}}}
	lists := make([][]rowing.Check, len(q.crew.Rowers))
	var kinds []rowing.Kind
	for i := range q.crew.Rowers {
		r := &q.crew.Rowers[i]
		lists[i] = q.checks(r)
		t.Columns = append(t.Columns, sheet.Column{Name: r.Name, Unit: fine.Unit, Places: fine.Places}, sheet.Column{Name: "±", Unit: fine.Unit, Places: fine.Places}, sheet.Column{Name: "where it is least", Text: true})
		for _, c := range lists[i] {
			if !has(kinds, c.Kind) {
				kinds = append(kinds, c.Kind)
			}
		}
	}
	for _, k := range kinds {
		row := []sheet.Cell{{Text: string(k)}}
		for i := range lists {
			r := &q.crew.Rowers[i]
			cells := []sheet.Cell{{Empty: true}, {Empty: true}, {Empty: true}}
			for _, c := range lists[i] {
				if c.Kind != k {
					continue
				}
				left, spread := underway.Left(c, &r.Setup)
				where := strings.TrimPrefix(c.Water, "on ")
				if c.Edge != "" {
					where = c.Edge + ", " + where
				}
				cells = []sheet.Cell{{Value: left * fine.Factor, Loud: c.Kind == r.Tightest.Kind}, {Value: spread * fine.Factor}, {Text: where}}
			}
			row = append(row, cells...)
		}
		t.Rows = append(t.Rows, row)
	}
	t.Note = "Room beyond what is wanted; minus is by how much it misses. An angle is shown as the way of the hands. What is heeled 10 degrees is told and does not count: on the high side a rower reaches up or eases that oar."
	return t
}

func has(list []rowing.Kind, k rowing.Kind) bool {
	for _, x := range list {
		if x == k {
			return true
		}
	}
	return false
}

// gears is the gearing by each convention.
func (q *ask) gears() *sheet.Table {
	fine := q.sys.Fine()
	t := &sheet.Table{Heading: "Gearing, by each convention", Columns: []sheet.Column{{Name: "place", Text: true}, {Name: "outboard over half the span", Places: 2}, {Name: "blade's arm over hand's arm", Places: 2},
		{Name: "overlap of the handles", Unit: fine.Unit, Places: fine.Places}, {Name: "oar by the old rule", Text: true}},
		Note: "Outboard over half the span is from the pin to the blade's tip, as racing notes have it (2.4 to 2.6 there; a heavy boat wants less). The arms are from the pin to the middle of blade and hand: what the hands feel. The old rule: inboard half the span and 50 mm, length 25/7 of that."}
	seen := map[int]bool{}
	for i := range q.crew.Rowers {
		r := &q.crew.Rowers[i]
		if seen[r.Place] {
			continue
		}
		seen[r.Place] = true
		g, err := r.Setup.Oar.Gears(r.Setup.Gate.Half)
		if err != nil {
			continue
		}
		rule := sheet.Cell{Empty: true}
		if in, long, err := rowing.RuleOar(2 * r.Setup.Gate.Half); err == nil && !r.Setup.Oar.Sweep {
			rule = sheet.Cell{Text: q.sys.Length(units.Length(in)) + " of " + q.sys.Length(units.Length(long))}
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: q.place(r).Name}, {Value: g.Plain}, {Value: g.Lever}, {Value: g.Overlap * fine.Factor}, rule})
	}
	return t
}

// customs lays the measures beside what is customary.
func (q *ask) customs() *sheet.Table {
	r := q.tight
	list, err := r.Setup.Customs(q.waters[0])
	if err != nil {
		return nil
	}
	t := &sheet.Table{Heading: "Beside what is customary, " + q.place(r).Name, Columns: []sheet.Column{{Name: "measure", Text: true}, {Name: "here", Text: true}, {Name: "customary", Text: true}, {Name: "source", Text: true}},
		Note: "The customs are those of racing shells and open fixed-seat boats. To stand outside them is no fault by itself: an ocean boat's gates stand higher above the water."}
	for _, c := range list {
		show := func(v float64) string { return q.sys.Length(units.Length(v)) }
		if c.Unit == "rad" {
			show = func(v float64) string { return q.sys.Angle(units.Angle(v)) }
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: c.What}, {Text: show(c.Value), Loud: !c.Usual()}, {Text: show(c.Low) + " to " + show(c.High)}, {Text: c.Source}})
	}
	return t
}

// speeds is what the crew make of her on the day shown.
func (q *ask) speeds() *sheet.Figures {
	s := q.at[q.day]
	f := dayOf(s)
	crew := s.r.Crew
	out := &sheet.Figures{Heading: fmt.Sprintf("Under oars on day %d, %s", q.day, q.t.Conditions[q.rowed].Name)}
	row := func(name string, v, spread float64, unit string, places int, why string) {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Value: v, Unit: unit, Places: places, Spread: spread, Why: why})
	}
	p, force := crew.Power(), q.sys.Pull()
	row("power at the handles", p.Value, p.Spread, "W", 0, "of all who are at the oars, kept up for the hours of the day")
	row("speed in a calm", f.Calm, f.CalmSpread, "kn", 2, "through the water, in a flat sea")
	hours, food := 0.0, 0.0
	for _, r := range crew.Rowers {
		hours = math.Max(hours, r.Hours)
		if e, err := rowing.Burnt(r.Power.Value, r.Hours, rowing.Weeks().Efficiency.Value); err == nil {
			food += e / 4184
		}
	}
	row("sea miles in a calm day", f.Calm*hours, f.CalmSpread*hours, "nm", 0, fmt.Sprintf("in the %.0f hours of those at the oars; drift and current left out", hours))
	row("food burnt at the oars", food, 0, "kcal", 0, "a day, beyond what a body burns at rest; 20 % of it becomes work, 16 to 24 measured")
	row("thrust", f.Thrust*force.Factor, s.calm.Thrust.Spread*force.Factor, force.Unit, force.Places, "mean over the stroke, at that speed")
	row("strokes a minute", f.Rate, 0, "", 0, "20 where she moves freely; fewer and harder where the blades would be in the water for more than 45 % of the time")
	row("pull at the handles", f.Pull*force.Factor, 0, force.Unit, force.Places, "mean through the drive, both hands, of "+crew.Rowers[0].Name)
	row("blade's efficiency", 100*f.Efficiency, 0, "%", 0, "share of the power that drives her; 67 to 82 % is published for racing shells, which run three times as fast")
	if s.stopErr == nil {
		row("head wind that stops her", f.StopWind, f.StopWindSpread, "kn", 0, "at 10 m, its sea left out: the most she could stand")
	}
	if w, spread, err := s.r.Power(2*knot, calm); err == nil {
		row("power for 2 kn", w, spread, "W", 0, "at the handles of all, in a calm")
	}
	out.Explain(q.account)
	return out
}

// crews is what each party at the oars makes of her; nil where there is only one.
func (q *ask) crews() *sheet.Table {
	t := &sheet.Table{Heading: "Who rows, and how fast", Columns: []sheet.Column{{Name: "at the oars", Text: true}, {Name: "power", Unit: "W"}, {Name: fmt.Sprintf("calm, day %d", q.days[0]), Unit: "kn", Places: 2}, {Name: fmt.Sprintf("calm, day %d", q.days[1]), Unit: "kn", Places: 2}, {Name: "stopped by", Unit: "kn"}},
		Note: fmt.Sprintf("The head wind is for day %d, its sea left out.", q.days[0])}
	seen := map[string]bool{}
	for cond := range q.t.Conditions {
		sits := underway.AtOars(q.c.Folder, q.t.Conditions[cond])
		name := ""
		for i, at := range sits {
			if at >= 0 {
				if name != "" {
					name += " and "
				}
				name += q.c.Folder.Voyage.Crew[i].Name
			}
		}
		if name == "" || seen[name] {
			continue
		}
		seen[name] = true
		deep, err := q.seaIn(q.days[0], cond)
		light, also := q.seaIn(q.days[1], cond)
		if err != nil || also != nil {
			continue
		}
		stop := sheet.Cell{Empty: true}
		if deep.stopErr == nil {
			stop = sheet.Cell{Value: deep.stop / knot}
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: name}, {Value: deep.r.Crew.Power().Value}, {Value: deep.calm.Speed / knot}, {Value: light.calm.Speed / knot}, stop})
	}
	if len(t.Rows) < 2 {
		return nil
	}
	return t
}
