package stow

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/internal/answer"
	"thole/internal/lists"
	"thole/internal/model"
	"thole/internal/sheet"
	"thole/internal/stowage"
	"thole/internal/units"
)

const deg = 180 / math.Pi

func volume(v float64) units.Volume { return units.Volume(v) }
func mass(v float64) units.Mass     { return units.Mass(v) }

// ctxLast is the context without its end.
func (r *run) ctxLast() context.Context { return context.WithoutCancel(r.ctx) }

// low is the least height of some states; NaN where one is not known.
func low(states []stowage.State) float64 {
	out := math.Inf(1)
	for _, s := range states {
		if s.Err != nil || math.IsNaN(s.Height) {
			return math.NaN()
		}
		out = math.Min(out, s.Height)
	}
	if math.IsInf(out, 1) {
		return math.NaN()
	}
	return out
}

// steepest are the most trim and the most heel of some states, whichever way.
func steepest(states []stowage.State) (trim, heel float64) {
	for _, s := range states {
		trim, heel = math.Max(trim, math.Abs(s.Trim)), math.Max(heel, math.Abs(s.Heel))
	}
	return trim, heel
}

// lay lays the finding out for the faces.
func (r *run) lay(f *answer.Finding) {
	put := func(b sheet.Block) { f.Sheet.Blocks = append(f.Sheet.Blocks, b) }
	put(sheet.Block{Table: r.beforeAfter()})
	if len(r.no) > 0 {
		put(sheet.Block{Text: &sheet.Text{Heading: "What cannot be had", Paragraphs: r.no}})
	}
	put(sheet.Block{Table: r.states()})
	if m := r.moves(); len(m.Rows) > 0 {
		put(sheet.Block{Table: m})
	}
	if m := r.calendar(); m != nil {
		put(sheet.Block{Matrix: m})
	}
	put(sheet.Block{Table: r.labels()})
	if len(r.pins) > 0 {
		put(sheet.Block{Table: r.pinTable()})
	}
	w := &r.p.Weights
	put(sheet.Block{Text: &sheet.Text{Heading: "What this rests on", Paragraphs: []string{
		fmt.Sprintf("Handling is 1 for one compartment at the seat opened on every day, 2 for one reached from the cabin, 4 for one only in calm. What is outside of the trim, heel or height wished is priced so that it is dearer than any saving of work. People forget moves and labels: each further place of what is used up counts %.2f, each thing in a place new to it %.2f, so that a plan changes nothing for nothing. These prices are judgement, no source.", w.Part, w.Move),
		"A plan is wished to lie no further over or out of trim than the stowage as written, or than half of what boat.yaml asks, whichever is more. Trim and heel are priced leaving and at the end of each week; the table above was worked out afloat.",
		r.spared(),
		"What several things provide and needs.yaml rests on is not brought together: what outlives a compartment or a cabin flooding as written does so as planned, leaving and to the end, and things that stand in for each other do not come to lie in one.",
		"Not looked at: the shape of what is left between things, and how they are lashed.",
	}}})
}

// spared says what room a plan leaves.
func (r *run) spared() string {
	if r.room {
		return fmt.Sprintf("Every compartment is filled only so far that it is sure to hold what lies in it, its packing being known to %.0f %% of it; no plan that leaves as much room is better than the bound.", 100*stowage.PackingDoubt)
	}
	return "No plan was found that leaves room to spare for what the packing is not known by: compartments are filled to the last litre that the packing allows."
}

// beforeAfter sets the plan beside the stowage as written.
func (r *run) beforeAfter() *sheet.Table {
	fine := r.c.Folder.Boat.Units.Fine()
	t := &sheet.Table{Heading: "As written, and as planned", Columns: []sheet.Column{{Name: "", Text: true}, {Name: "as written", Places: 2}, {Name: "as planned", Places: 2}, {Name: "asked", Places: 2}, {Name: "", Text: true}}}
	nan := math.NaN()
	row := func(name string, was, now, asked float64, unit string) {
		cell := func(v float64) sheet.Cell {
			if math.IsNaN(v) {
				return sheet.Cell{Empty: true}
			}
			return sheet.Cell{Value: v}
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: name}, cell(was), cell(now), cell(asked), {Text: unit, Empty: unit == ""}})
	}
	row("rules broken", float64(r.was.rules()), float64(r.now.rules()), 0, "")
	row("handling", r.was.judged.Figures.Handling, r.now.judged.Figures.Handling, nan, "")
	trim, heel := steepest(r.was.states)
	trimNow, heelNow := steepest(r.now.states)
	row("most trim, either way", trim*deg, trimNow*deg, r.b.Asked.Trim*deg, "deg")
	row("most heel, either way", heel*deg, heelNow*deg, r.b.Asked.Heel*deg, "deg")
	row("least height left", low(r.was.states)*fine.Factor, low(r.now.states)*fine.Factor, r.b.Asked.Height*fine.Factor, fine.Unit)
	room := stowage.Room(r.c.Folder.Boat.Units)
	row("room left in the fullest", r.was.judged.Room*room.Factor, r.now.judged.Room*room.Factor, nan, room.Unit)
	row("all prices together", r.was.judged.Figures.Objective, r.plan.Objective, nan, "")
	if r.plan.Bound > 0 && len(r.plan.Rules) == 0 {
		row("no plan can have less than", nan, r.plan.Bound, nan, "")
	}
	return t
}

// states are a few days, worked out afloat.
func (r *run) states() *sheet.Table {
	fine := r.c.Folder.Boat.Units.Fine()
	t := &sheet.Table{Heading: "How she lies, as written and as planned, at the worst of all crew places", Columns: []sheet.Column{{Name: "day"},
		{Name: "trim by the stern", Unit: "deg", Places: 1}, {Name: "planned", Unit: "deg", Places: 1}, {Name: "heel to starboard", Unit: "deg", Places: 1}, {Name: "planned", Unit: "deg", Places: 1},
		{Name: "height left", Unit: fine.Unit, Places: fine.Places}, {Name: "planned", Unit: fine.Unit, Places: fine.Places}}}
	for i, a := range r.was.states {
		if i >= len(r.now.states) || a.Err != nil || r.now.states[i].Err != nil {
			continue
		}
		b := r.now.states[i]
		height := func(v float64) sheet.Cell {
			if math.IsNaN(v) {
				return sheet.Cell{Empty: true}
			}
			return sheet.Cell{Value: v * fine.Factor}
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Value: float64(a.Day)}, {Value: a.Trim * deg}, {Value: b.Trim * deg}, {Value: a.Heel * deg}, {Value: b.Heel * deg}, height(a.Height), height(b.Height)})
	}
	return t
}

// moves are what lies elsewhere or is used otherwise.
func (r *run) moves() *sheet.Table {
	t := &sheet.Table{Heading: "What changes its place or its days", Columns: []sheet.Column{{Name: "what", Text: true}, {Name: "lay in", Text: true}, {Name: "goes to", Text: true}}}
	changed := r.s.Changed(r.reachable(r.left))
	for i := range r.s.Items {
		portions, ok := changed[i]
		if !ok {
			continue
		}
		var from, to []string
		for k, n := range r.s.Written.Where[i] {
			if n > 0 {
				from = append(from, r.short(k, n, r.s.Problem.Items[i].Units))
			}
		}
		for _, p := range portions {
			one := p.In
			if p.Count < r.s.Problem.Items[i].Units {
				one = fmt.Sprintf("%d in %s", p.Count, p.In)
			}
			if p.Last > 0 && len(portions) > 1 {
				one += ", " + p.Used()
			}
			to = append(to, one)
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: r.s.Name(i)}, {Text: strings.Join(from, "; ")}, {Text: strings.Join(to, "; ")}})
	}
	return t
}

func (r *run) short(k, n, of int) string {
	name := r.s.Places[k].Compartment.Name
	if num := r.s.Places[k].Compartment.Number; num > 0 {
		name = fmt.Sprint(num)
	}
	if n < of {
		return fmt.Sprintf("%d in %s", n, name)
	}
	return name
}

// calendar is which compartment is opened in which week, as planned.
func (r *run) calendar() *sheet.Matrix {
	f := r.now.s.Trip.Folder
	days := lists.Calendar(f)
	var rooms []int
	used := map[int]map[int]int{} // room → week → days
	for d, takes := range days {
		seen := map[int]bool{}
		for _, k := range takes {
			if k.Compartment < 0 || seen[k.Compartment] {
				continue
			}
			seen[k.Compartment] = true
			if used[k.Compartment] == nil {
				used[k.Compartment] = map[int]int{}
				rooms = append(rooms, k.Compartment)
			}
			used[k.Compartment][d/7]++
		}
	}
	if len(rooms) == 0 {
		return nil
	}
	side := func(k int) int {
		return map[model.Side]int{model.Port: 0, model.Both: 1, model.Starboard: 2}[f.Boat.Compartments[k].Side]
	}
	slices.SortFunc(rooms, func(a, b int) int {
		if s := side(a) - side(b); s != 0 {
			return s
		}
		return a - b
	})
	m := &sheet.Matrix{Heading: "Which compartment to open, as planned, by week", Across: "week", Down: "side, and compartment", Unit: "days",
		Key: []sheet.Word{{Standing: sheet.Holds, Letter: "o", Text: "opened"}, {Standing: sheet.Absent, Letter: "·", Text: "left shut"}}, Note: "The number is on how many days of the week something that is used up is taken out."}
	weeks, opened := (len(days)+6)/7, 0
	for w := range weeks {
		m.Columns = append(m.Columns, sheet.Line{Name: fmt.Sprint(w + 1)})
	}
	for _, k := range rooms {
		name := model.RoomName(&f.Boat, k)
		m.Rows = append(m.Rows, sheet.Line{Group: []string{"port", "across", "starboard"}[side(k)], Name: name})
		var cells []sheet.Spot
		for w := range weeks {
			n := used[k][w]
			spot := sheet.Spot{Standing: sheet.Absent, Untold: true, Said: fmt.Sprintf("%s is left shut in week %d", name, w+1)}
			if n > 0 {
				opened++
				spot = sheet.Spot{Standing: sheet.Holds, Value: float64(n), Said: fmt.Sprintf("%s is opened on %d days of week %d", name, n, w+1)}
			}
			cells = append(cells, spot)
		}
		m.Cells = append(m.Cells, cells)
	}
	m.Alt = fmt.Sprintf("As planned %d compartments are opened over %d weeks, %.1f of them in a week on the average.", len(rooms), weeks, float64(opened)/float64(weeks))
	return m
}

// labels are what lies in each compartment on leaving, as planned.
func (r *run) labels() *sheet.Table {
	room := stowage.Room(r.c.Folder.Boat.Units)
	t := &sheet.Table{Heading: "Labels: what lies where on leaving, as planned", Columns: []sheet.Column{{Name: "compartment", Text: true}, {Name: "what", Text: true}, {Name: "room left", Unit: room.Unit, Places: room.Places}}}
	s := r.now.s
	for k := range s.Places {
		var what []string
		for i := range s.Items {
			n := s.Written.Where[i][k]
			switch {
			case n == 0:
			case n == 1:
				what = append(what, s.Store(i).What)
			default:
				what = append(what, fmt.Sprintf("%d %s", n, s.Store(i).What))
			}
		}
		if len(what) == 0 {
			continue
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: s.Problem.Places[k].Name}, {Text: strings.Join(what, "; ")}, {Value: (s.Usable(k) - r.now.judged.Figures.Fill[k].Volume) * room.Factor}})
	}
	return t
}
