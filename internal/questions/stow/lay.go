package stow

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/sheet"
	"thole/internal/stowage"
	"thole/internal/units"
)

const deg = 180 / math.Pi

const (
	judged   = "judgement, no source"
	practice = "common practice, no source"
	closed   = "closed form"
)

var method = []answer.Method{
	{What: "the volume of a compartment is that of its cuts; so much of it can be filled as the packing says, less the room kept for what is put there underway", Source: "Green's theorem; the packing is common practice, no source"},
	{What: "a thing goes through an opening when its two smaller sides do, whichever way round, and through every opening on the way", Source: closed},
	{What: "rows alike in everything but number, place and days count as one kind when it makes no difference which is used when", Source: "definition, in the package stowage"},
	{What: "each mend is a single move, made in memory and judged again; the one that leaves fewest rules broken and then least to do is told", Source: "direct trial; no source needed"},
	{What: "handling counts each compartment on each day of a week in which it is opened: 1 at the seat, 2 from the cabin, 4 in calm", Source: judged},
	{What: "trim, heel and height left are worked out afloat, as for the questions about them", Source: "Rawson & Tupper, Basic Ship Theory, ch. 3"},
}

var notLookedAt = []string{
	"the shape of what is left between things: a long box may not find its place though there is room enough; the packing is to allow for it",
	"room that is taken by fixed weights and by stores placed at a point: the packing is to allow for that too",
	"boxes put through a hatch cornerwise; a round hatch lets less through than the square around it: write the square that fits into it",
	"what lies over what in one compartment, and whether it is lashed",
	"the wet, sweat and heat of a locker beyond wet: yes",
	"room for what is put back into a compartment after leaving, but for what the stores' own into says",
}

// taken lists what is taken for granted.
func (q *ask) taken() []answer.Assumption {
	var out []answer.Assumption
	put := func(what, value, why, file string) {
		out = append(out, answer.Assumption{What: what, Value: value, Why: why, File: file})
	}
	var guessed []string
	by := map[model.Reach][]string{}
	for k, p := range q.s.Places {
		name := q.short(k)
		if p.Guessed {
			guessed = append(guessed, name)
		}
		if !p.ReachGiven {
			by[p.Reach] = append(by[p.Reach], name)
		}
	}
	if len(guessed) > 0 {
		put("packing of "+strings.Join(guessed, ", "), fmt.Sprintf("%.0f %%", 100*stowage.UsualPacking), "boxes and bags in a curved locker ("+practice+")", "boat.yaml: compartments")
	}
	put("how well a packing is known", fmt.Sprintf("± %.0f %% of it", 100*stowage.PackingDoubt), "the half width of the 19-in-20 range ("+practice+")", "boat.yaml: compartments")
	for _, r := range []model.Reach{model.AtTheSeat, model.FromTheCabin, model.InCalm} {
		if len(by[r]) > 0 {
			put(r.String(), strings.Join(by[r], ", "), "as their hatches lie; say otherwise with reach", "boat.yaml: compartments")
		}
	}
	var open []string
	for k, p := range q.s.Places {
		if len(p.Doors) == 0 && !p.Shut && q.was.Figures.Fill[k].Mass > 0 {
			open = append(open, q.short(k))
		}
	}
	if len(open) > 0 {
		put("hatches of "+strings.Join(open, ", "), "everything goes through", "no opening is named that leads there", "boat.yaml: openings")
	}
	var sizeless []string
	for i := range q.s.Items {
		if q.s.Store(i).Size == [3]units.Length{} {
			sizeless = append(sizeless, q.s.Store(i).What)
		}
	}
	if len(sizeless) > 0 {
		put(fmt.Sprintf("size of %d things: %s", len(sizeless), listed(sizeless)), "goes through every hatch", "no size given", "stores.csv: size")
	}
	if len(q.f.Unknown) > 0 {
		put("room that is taken by "+listed(q.f.Unknown), "none", "no volume given", "stores.csv: volume")
	}
	var kept []string
	for k, p := range q.s.Places {
		if p.Kept > 0 {
			kept = append(kept, fmt.Sprintf("%s in %s", q.sys.Volume(units.Volume(p.Kept)), q.short(k)))
		}
	}
	if len(kept) > 0 {
		put("room kept free from the start", strings.Join(kept, ", "), "for all that is put there underway, at its full volume", "stores.csv: used")
	}
	return out
}

// short is a compartment's number, or its name.
func (q *ask) short(k int) string {
	if c := q.s.Places[k].Compartment; c.Number > 0 {
		return fmt.Sprint(c.Number)
	} else {
		return c.Name
	}
}

// lay lays the answer out for the faces.
func (q *ask) lay() {
	put := func(b sheet.Block) { q.a.Sheet.Blocks = append(q.a.Sheet.Blocks, b) }
	put(sheet.Block{Figures: q.counts()})
	if len(q.f.Broken) > 0 {
		put(sheet.Block{Table: q.brokenTable()})
	}
	put(sheet.Block{Drawing: q.plan()})
	put(sheet.Block{Table: q.placeTable()})
	if m := q.calendar(); m != nil {
		put(sheet.Block{Matrix: m})
	}
	if len(q.f.States) > 0 {
		put(sheet.Block{Table: q.stateTable()})
	}
}

// room is the scale for room.
func (q *ask) room() (unit string, factor float64, places int) {
	r := stowage.Room(q.sys)
	return r.Unit, r.Factor, r.Places
}

func (q *ask) counts() *sheet.Figures {
	unit, factor, places := q.room()
	heavy := q.sys.Heavy()
	var volume, usable, mass float64
	for _, p := range q.f.Places {
		volume, usable, mass = volume+p.Filled, usable+math.Max(0, p.Usable), mass+p.Mass
	}
	out := &sheet.Figures{Heading: "Stowed"}
	row := func(name string, v float64, unit string, places int, why string) *sheet.Figure {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Value: v, Unit: unit, Places: places, Why: why})
		return &out.Rows[len(out.Rows)-1]
	}
	m := q.a.Margin
	row("room left in the fullest", m.Value*factor, unit, max(1, places), m.What).Spread = m.Spread * factor
	row("filled, of all compartments", volume*factor, unit, places, fmt.Sprintf("of %.*f %s that can be filled", places, usable*factor, unit))
	row("mass of what is stowed in compartments", mass*heavy.Factor, heavy.Unit, heavy.Places, "stores in compartments, on leaving")
	row("rules broken", float64(len(q.f.Broken)), "", 0, "each in one compartment")
	row("handling", q.f.Handling, "", 2, "1 is one compartment at the seat opened on every day")
	out.Explain(func(name string) sheet.Account {
		acc := sheet.Account{Method: "volume of the cuts times packing, less what lies there", Source: "Green's theorem; " + practice,
			Inputs: q.c.Inputs("boat.yaml: compartments", "stores.csv", "hull")}
		switch name {
		case "handling":
			acc.Method, acc.Source = "each compartment on each day of a week in which something is taken out of it: 1 at the seat, 2 from the cabin, 4 in calm; and 0.05 for each further place of what is kept in several", judged
			acc.Inputs = q.c.Inputs("stores.csv", "boat.yaml: compartments", "boat.yaml: openings")
		case "rules broken":
			acc.Method, acc.Source = "each rule asked of each thing where it lies", closed
			acc.Inputs = q.c.Inputs("stores.csv", "boat.yaml: compartments", "boat.yaml: openings")
		case "mass of what is stowed in compartments":
			acc.Method, acc.Source, acc.Inputs = "added up", closed, q.c.Inputs("stores.csv")
		}
		return acc
	})
	return out
}

func (q *ask) brokenTable() *sheet.Table {
	t := &sheet.Table{Heading: "Rules that are broken, the worst first", Columns: []sheet.Column{{Name: "rule", Text: true}, {Name: "where", Text: true}, {Name: "what", Text: true}, {Name: "least move that mends it", Text: true}},
		Note: "Each move was tried: it takes this rule away and breaks no other."}
	for _, b := range q.f.Broken {
		mend := sheet.Cell{Text: "no single move does"}
		if b.Mend != nil {
			mend.Text = b.Mend.Said
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: b.Rule, Loud: true}, {Text: b.Place}, {Text: b.Said}, mend})
	}
	return t
}

func (q *ask) placeTable() *sheet.Table {
	unit, _, places := q.room()
	heavy := q.sys.Heavy()
	t := &sheet.Table{Heading: "Compartments, on leaving", Columns: []sheet.Column{{Name: "compartment", Text: true}, {Name: "side", Text: true}, {Name: "reached", Text: true}, {Name: "", Text: true},
		{Name: "can be filled", Unit: unit, Places: places}, {Name: "filled", Unit: unit, Places: places}, {Name: "left", Unit: unit, Places: places}, {Name: "holds", Unit: heavy.Unit, Places: heavy.Places},
		{Name: "bears", Unit: heavy.Unit, Places: heavy.Places}, {Name: "days opened"}},
		Note: "What can be filled is the packing's share of the volume, less what is kept free for what is put there underway."}
	_, factor, _ := q.room()
	for k, p := range q.f.Places {
		wet := ""
		if p.Wet {
			wet = "wet"
		}
		left := p.Usable - p.Filled
		t.Rows = append(t.Rows, []sheet.Cell{{Text: q.s.Problem.Places[k].Name}, {Text: p.Side, Empty: p.Side == ""}, {Text: p.Reach}, {Text: wet, Empty: wet == ""},
			{Value: p.Usable * factor}, {Value: p.Filled * factor}, {Value: left * factor, Loud: left < 0 || k == q.was.Fullest}, {Value: p.Mass * heavy.Factor},
			{Value: p.Limit * heavy.Factor, Empty: p.Limit == 0, Loud: p.Limit > 0 && p.Mass > p.Limit}, {Value: float64(p.Days), Empty: p.Days == 0}})
	}
	return t
}

func (q *ask) stateTable() *sheet.Table {
	fine := q.sys.Fine()
	t := &sheet.Table{Heading: "How she lies with it, at the worst of all crew places", Columns: []sheet.Column{{Name: "day"}, {Name: "trim by the stern", Unit: "deg", Places: 1}, {Name: "heel to starboard", Unit: "deg", Places: 1}, {Name: "height left", Unit: fine.Unit, Places: fine.Places}},
		Note: "Told here, judged elsewhere: by the questions how she floats and whether she comes back up."}
	for _, s := range q.f.States {
		row := []sheet.Cell{{Value: float64(s.Day)}, {Value: s.Trim}, {Value: s.Heel}, {Empty: true}}
		if s.Height != nil {
			row[3] = sheet.Cell{Value: *s.Height * fine.Factor}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// calendar is which compartments are opened in which week; nil where nothing is used up.
func (q *ask) calendar() *sheet.Matrix {
	var rows []int
	for k := range q.f.Places {
		if q.f.Places[k].Days > 0 {
			rows = append(rows, k)
		}
	}
	if len(rows) == 0 {
		return nil
	}
	side := func(k int) int {
		return map[model.Side]int{model.Port: 0, model.Both: 1, model.Starboard: 2}[q.s.Places[k].Compartment.Side]
	}
	slices.SortStableFunc(rows, func(a, b int) int { return side(a) - side(b) })
	m := &sheet.Matrix{Heading: "Which compartment to open, by week", Across: "week", Down: "side, and compartment", Unit: "days",
		Key:  []sheet.Word{{Standing: sheet.Holds, Letter: "o", Text: "opened"}, {Standing: sheet.Tight, Letter: "c", Text: "opened, and only reached in calm"}, {Standing: sheet.Absent, Letter: "·", Text: "left shut"}},
		Note: "The number is on how many days of the week something that is used up is taken out. The lists by day go with the lists of the stores."}
	weeks := (len(q.f.Opened) + 6) / 7
	for w := range weeks {
		m.Columns = append(m.Columns, sheet.Line{Name: fmt.Sprint(w + 1)})
	}
	opened := 0
	for _, k := range rows {
		name := q.s.Problem.Places[k].Name
		m.Rows = append(m.Rows, sheet.Line{Group: []string{"port", "across", "starboard"}[side(k)], Name: name})
		var cells []sheet.Spot
		for w := range weeks {
			var days []string
			pieces := 0
			for d := 7 * w; d < min(len(q.f.Opened), 7*w+7); d++ {
				n := 0
				for _, t := range q.f.Opened[d].Take {
					if t.Place == name {
						n += t.Units
					}
				}
				if n > 0 {
					days = append(days, fmt.Sprint(d+1))
					pieces += n
				}
			}
			spot := sheet.Spot{Standing: sheet.Absent, Untold: true, Said: fmt.Sprintf("%s is left shut in week %d", name, w+1)}
			if len(days) > 0 {
				opened++
				spot = sheet.Spot{Standing: sheet.Holds, Value: float64(len(days)), Said: fmt.Sprintf("week %d, %s: %s, on day %s", w+1, name, things(pieces), strings.Join(days, ", "))}
				if q.s.Places[k].Reach == model.InCalm {
					spot.Standing = sheet.Tight
				}
			}
			cells = append(cells, spot)
		}
		m.Cells = append(m.Cells, cells)
	}
	m.Alt = fmt.Sprintf("%d compartments are opened over %d weeks, %.1f of them in a week on the average.", len(rows), weeks, float64(opened)/float64(weeks))
	return m
}

func things(n int) string {
	if n == 1 {
		return "1 thing"
	}
	return fmt.Sprintf("%d things", n)
}
