package right

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"thole/internal/answer"
	"thole/internal/hydro"
	"thole/internal/model"
)

// leftOpen judges what the folder leaves open at sea: turned over, she fills through it, and it is asked whether she
// comes back with the spaces behind it full. It is looked at leaving, half way, arriving and where she is tightest
// shut, with the crew in every place; a lid that shuts by itself counts as shut.
func (q *ask) leftOpen(a *answer.Answer) {
	if q.worstCurve == nil || a.Margin == nil { // she does not even float shut
		return
	}
	names, rooms := q.admitting()
	if len(rooms) == 0 {
		return
	}
	a.Assumptions = append(a.Assumptions, answer.Assumption{What: "share of a space behind an open hatch that water can fill", Value: fmt.Sprintf("%.0f %%", 100*permeable),
		Why: "bunks and gear take the rest (common practice, no source)", File: "no key of the folder"})
	var flooded []hydro.Flooded
	for _, r := range rooms {
		flooded = append(flooded, hydro.Flooded{Stack: q.t.Ship.Rooms[r].Stack, Share: permeable})
	}
	body := q.t.Ship.Body.With(flooded, nil)
	least, worst := math.Inf(1), model.State{}
	var near *hydro.Curve
	for _, s := range q.open() {
		h, _, c, err := height(body, &s, q.t.Sea, near)
		if near = c; err != nil {
			h = math.Inf(-1)
		}
		if h < least {
			least, worst = h, s
		}
	}
	m, fine := a.Margin, q.sys.Fine()
	if least >= m.Value {
		return
	}
	shut := m.Value
	with := strings.Join(names, ", ")
	when := q.t.When(worst.Day, q.t.Condition(worst.Condition.Name))
	a.Worst = &answer.Worst{Day: worst.Day, Condition: worst.Condition.Name}
	if math.IsInf(least, -1) {
		*m = answer.Margin{Value: -1, Unit: "m", Asked: m.Asked, What: m.What, Shown: "sinks"}
		a.Verdict = answer.No
		a.Sentence = fmt.Sprintf("No: %s, with %s left open at sea, she fills and sinks, or lies no way that could be found.", when, with)
		return
	}
	m.Value, m.Confidence = least, answer.Chance(least, m.Spread/1.96)
	m.Shown = fmt.Sprintf("%s ± %s", fine.Show(least), fine.Show(m.Spread))
	a.Verdict = m.Judge()
	switch {
	case a.Verdict == answer.No && shut > 0:
		a.Sentence = fmt.Sprintf("No: %s, with %s left open at sea, she fills and stays over; her centre of gravity would have to come down by %s. Shut, it could lie %s higher.",
			when, with, fine.Show(-least), fine.Show(shut))
	case a.Verdict == answer.No:
		a.Sentence = fmt.Sprintf("No: %s, with %s left open at sea, she fills and stays over; even shut, her centre of gravity would have to come down by %s.", when, with, fine.Show(-shut))
	default:
		word := map[answer.Verdict]string{answer.Yes: "Yes", answer.Close: "Close"}[a.Verdict]
		a.Sentence = fmt.Sprintf("%s: with %s left open at sea she fills, and comes back up all the same; closest %s, where her centre of gravity could lie %s higher. Shut, %s.",
			word, with, when, fine.Show(least), fine.Show(shut))
	}
}

// admitting are the openings that stand open at sea, and the rooms behind them, with those under a cabin that have no lid of their own. One that stays clear of still water at every heel
// does not in the sea that turned her over.
func (q *ask) admitting() (names []string, rooms []int) {
	for i := range q.c.Folder.Boat.Openings {
		o := &q.c.Folder.Boat.Openings[i]
		room := q.behind(o.Into)
		if !o.Admits() || room < 0 {
			continue
		}
		names = append(names, o.Name)
		for _, r := range append([]int{room}, q.c.Folder.Boat.Below(room)...) {
			if !slices.Contains(rooms, r) {
				rooms = append(rooms, r)
			}
		}
	}
	return names, rooms
}

// behind is the compartment that an opening leads into, by name, number or cabin; -1 for none.
func (q *ask) behind(into string) int {
	for i, c := range q.c.Folder.Boat.Compartments {
		if c.Number > 0 && strconv.Itoa(c.Number) == into {
			return i
		}
	}
	return q.room(into)
}

// open are the states that leftOpen looks at.
func (q *ask) open() []model.State {
	if q.moment {
		return []model.State{q.worst.State}
	}
	days := []int{0, q.t.Days / 2, q.t.Days, q.worst.State.Day}
	slices.Sort(days)
	var out []model.State
	for c := range q.t.Conditions {
		for _, d := range slices.Compact(slices.Clone(days)) {
			out = append(out, q.t.State(d, c))
		}
	}
	return out
}
