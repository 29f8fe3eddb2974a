package flood

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/internal/answer"
	"thole/internal/hydro"
	"thole/internal/units"
)

// judge sets verdict, sentence, margin and worst; it tells whether there is anything to lay out.
func (q *ask) judge(a *answer.Answer) bool {
	if s := q.sunk(); s != nil {
		a.Worst = &answer.Worst{Day: s.day, Condition: q.t.Conditions[s.cond].Name}
		spare := q.t.Ship.Body.Volume()*q.t.Sea.Density - s.dry.State.Mass
		if spare > 0 {
			a.Verdict, a.Sentence = answer.CannotTell, fmt.Sprintf("Cannot tell: with nothing holed no balance was found %s (%v).", q.t.When(s.day, s.cond), s.dry.Err)
			a.Needs = append(a.Needs, answer.Need{File: "boat.yaml", Key: "weights", Why: "a centre of gravity within the boat's length; look for a weight in the wrong place"})
			return false
		}
		a.Verdict, a.Sentence = answer.No, fmt.Sprintf("No: %s she sinks with nothing holed.", q.t.When(s.day, s.cond))
		a.Margin = &answer.Margin{Value: spare, Unit: "kg", What: "buoyancy in reserve", Shown: q.sys.Mass(units.Mass(spare))}
		return false
	}
	w := &q.worst
	a.Worst = &answer.Worst{Day: w.state.day, Condition: q.t.Conditions[w.state.cond].Name}
	fine := q.sys.Fine()
	m := q.margin()
	a.Margin = m
	name := q.rooms[w.holed[0]].name
	a.Verdict = m.Judge()
	if a.Verdict == answer.No {
		a.Sentence = fmt.Sprintf("No: %s %s.", q.t.When(w.state.day, w.state.cond), q.ruin(w, name))
		return true
	}
	held := fmt.Sprintf("with any one compartment holed she floats, the deck's edge never less than %s above still water (%s, %s)", fine.Show(w.score), name, q.t.When(w.state.day, w.state.cond))
	worries := q.worries(m, fine)
	if len(worries) > 0 {
		a.Verdict = answer.Close
		a.Sentence = fmt.Sprintf("Close: %s; but %s.", held, strings.Join(worries, ", and "))
		return true
	}
	a.Sentence = fmt.Sprintf("Yes: %s; turned over so, she still comes back up, and no two together sink her.", held)
	return true
}

// margin is that of the worst single loss.
func (q *ask) margin() *answer.Margin {
	w, fine := &q.worst, q.sys.Fine()
	m := &answer.Margin{Value: w.score, Unit: "m", Asked: askedFreeboard, What: "least freeboard with one compartment holed"}
	if w.rest.Err == nil {
		deviation := q.t.FreeboardDoubt(w.body, &w.rest)
		m.Spread, m.Confidence = 1.96*deviation, answer.Chance(w.score, deviation)
	}
	m.Shown = fmt.Sprintf("%s ± %s", fine.Show(m.Value), fine.Show(m.Spread))
	switch w.outcome {
	case Sinks:
		m.Confidence, m.Spread, m.Shown = 0, 0, "sinks"
	case Over:
		m.Confidence, m.Spread, m.Shown = 0, 0, "lies over"
	}
	return m
}

// ruin says how a single compartment loses her.
func (q *ask) ruin(w *result, name string) string {
	with := "with " + name + " holed"
	if n := len(w.flooded) - len(w.holed); n > 0 {
		with += " and through an open hatch " + q.names(w.flooded[len(w.holed):])
	}
	switch {
	case w.outcome == Sinks:
		return with + " she sinks"
	case w.outcome == Over && w.rest.Err == nil:
		side := "starboard"
		if w.rest.Rest.Heel < 0 {
			side = "port"
		}
		return fmt.Sprintf("%s she lies over %.0f degrees to %s", with, math.Abs(w.rest.Rest.Heel)/deg, side)
	case w.outcome == Over:
		return with + " no rest was found upright"
	}
	return with + " the deck's edge is under water"
}

// worries are the reasons for a close.
func (q *ask) worries(m *answer.Margin, fine units.Scale) []string {
	var out []string
	if m.Value < m.Asked {
		out = append(out, "that is less than the "+fine.Show(m.Asked)+" asked for")
	} else if m.Confidence < answer.Sure {
		out = append(out, "that is not sure: ± "+fine.Show(m.Spread))
	}
	var stay []int
	for i := range q.singles {
		if r := &q.singles[i]; r.arms != nil && len(r.arms.stays) > 0 {
			stay = append(stay, r.holed[0])
		}
	}
	slices.Sort(stay)
	if len(stay) > 0 {
		out = append(out, "turned over with "+strings.Replace(q.names(stay), " and ", " or ", 1)+" open to the sea she would not come back up")
	}
	lost := 0
	for i := range q.pairs {
		if q.pairs[i].outcome != Floats {
			lost++
		}
	}
	if lost > 0 {
		p := &q.pairs[0]
		word := map[Outcome]string{Sinks: "sink her", Over: "lay her over", Under: "put her deck's edge under"}[p.outcome]
		out = append(out, fmt.Sprintf("of %d pairs %d would cost her, worst %s, which together %s", len(q.pairs), lost, q.names(p.holed), word))
	}
	for _, h := range q.hatches {
		if h.Closed && h.Outcome != Floats {
			out = append(out, fmt.Sprintf("with %s holed and %s left open the sea goes on into %s", h.Holed, h.Name, h.Into))
			break
		}
	}
	return out
}

// names lists rooms, the first few by name.
func (q *ask) names(rooms []int) string {
	const few = 4
	var out []string
	for _, i := range rooms[:min(few, len(rooms))] {
		out = append(out, q.rooms[i].name)
	}
	text := strings.Join(out, ", ")
	if n := len(rooms) - few; n > 0 {
		return fmt.Sprintf("%s and %d more", text, n)
	}
	if i := strings.LastIndex(text, ", "); i >= 0 {
		text = text[:i] + " and " + text[i+2:]
	}
	return text
}

// figures are the losses as the JSON has them.
func (q *ask) figures() Figures {
	f := Figures{Day: q.day, Condition: q.t.Conditions[q.cond].Name, Days: q.days, Hole: holeSize, Hatches: q.hatches}
	light := q.states[q.light]
	f.ArmsDay, f.ArmsCondition = light.day, q.t.Conditions[light.cond].Name
	for _, c := range q.conds {
		f.Conditions = append(f.Conditions, q.t.Conditions[c].Name)
	}
	for i := range q.singles {
		f.Singles = append(f.Singles, q.loss(&q.singles[i]))
	}
	for i := range q.pairs {
		f.Pairs = append(f.Pairs, q.loss(&q.pairs[i]))
	}
	f.Wet = q.wet(q.day)
	q.fill(&f)
	return f
}

func (q *ask) loss(r *result) Loss {
	out := Loss{Outcome: r.outcome, Day: r.state.day, Condition: q.t.Conditions[r.state.cond].Name, Permeability: r.state.shares[r.holed[0]], Score: r.score}
	for _, i := range r.holed {
		out.Holed = append(out.Holed, q.rooms[i].name)
	}
	for _, i := range r.flooded[len(r.holed):] {
		out.AlsoFlooded = append(out.AlsoFlooded, q.rooms[i].name)
	}
	if r.rest.Err != nil {
		return out
	}
	p := r.rest.Rest.Plane()
	for _, i := range r.flooded {
		out.Water += r.state.shares[i] * q.rooms[i].stack.Below(p).Volume
	}
	h := hydro.Measure(q.t.Ship.Body, r.load, r.rest.Rest)
	out.Draft, out.Trim, out.Heel = h.Draft, r.rest.Rest.Trim()/deg, r.rest.Rest.Heel/deg
	out.Freeboard, out.FreeboardAt = r.rest.Freeboard, r.rest.At.X
	out.GM = r.rest.Rest.Stiffness(r.load)
	out.Disagree = r.disagree
	if r.arms != nil {
		out.Range, out.HeightLeft = r.arms.reach/deg, r.arms.height
		for _, s := range r.arms.stays {
			out.StaysAt = append(out.StaysAt, s/deg)
		}
	}
	least := math.Inf(1)
	for _, o := range q.c.Folder.Boat.Openings {
		if above := r.rest.Rest.Above(o.At); above < least {
			least = above
			out.Nearest, out.NearestOver = o.Name, above
		}
	}
	return out
}
