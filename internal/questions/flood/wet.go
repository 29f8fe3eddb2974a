package flood

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
)

// Wet is what gets wet in a compartment, and what goes with it.
type Wet struct {
	Compartment string   `json:"compartment"`
	Items       []string `json:"items"` // heaviest first
	Mass        float64  `json:"mass_kg"`
	// Fixed are weights placed by a point that lies in it; the boat's own wood may be among them.
	Fixed []string `json:"fixed"`
	// Lost is what nothing outside the compartment provides; what begins with a figure is an amount, and stands in Amounts.
	Lost    []string `json:"lost"`
	Amounts []string `json:"amounts"`
}

type thing struct {
	what string
	mass float64
}

// wet lists what lies in each compartment at the end of a day.
func (q *ask) wet(day int) []Wet {
	f := q.c.Folder
	homes := map[string]map[int]bool{} // where each thing provided lies; -1 outside every compartment
	home := func(i int, s string) {
		if homes[s] == nil {
			homes[s] = map[int]bool{}
		}
		homes[s][i] = true
	}
	loose, fixed := make([][]thing, len(q.rooms)), make([][]thing, len(q.rooms))
	words := make([][]string, len(q.rooms))
	for _, s := range f.Stores {
		whole, left := float64(s.Mass.Value)*float64(max(1, s.Count)), s.Use.Left(day)
		in := false
		for i := range q.rooms {
			if left > 0 && q.within(s.Where, i) {
				in = true
				loose[i] = append(loose[i], thing{s.What, whole * left})
				for _, w := range provided(s.Provides) {
					home(i, strings.ToLower(w))
					words[i] = append(words[i], w)
				}
			}
			if s.Use.Into != nil && left < 1 && q.within(*s.Use.Into, i) {
				loose[i] = append(loose[i], thing{s.What + " (used)", whole * (1 - left)})
			}
		}
		if left > 0 && !in {
			for _, w := range provided(s.Provides) {
				home(-1, strings.ToLower(w))
			}
		}
	}
	for _, w := range f.Boat.Weights {
		for i := range q.rooms {
			if !q.within(w.Where, i) {
				continue
			}
			t := thing{w.What, float64(w.Mass.Value) * float64(max(1, w.Count))}
			if w.Where.Compartment >= 0 {
				loose[i] = append(loose[i], t)
			} else {
				fixed[i] = append(fixed[i], t)
			}
		}
	}
	var out []Wet
	for i := range q.rooms {
		one := Wet{Compartment: q.rooms[i].name, Items: names(loose[i]), Fixed: names(fixed[i])}
		for _, t := range loose[i] {
			one.Mass += t.mass
		}
		slices.Sort(words[i])
		for _, w := range slices.Compact(words[i]) {
			switch {
			case unicode.IsDigit([]rune(w)[0]):
				one.Amounts = append(one.Amounts, w)
			case len(homes[strings.ToLower(w)]) == 1:
				one.Lost = append(one.Lost, w)
			}
		}
		out = append(out, one)
	}
	return out
}

// provided splits what a store provides into its words: between commas and semicolons.
func provided(text string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' }) {
		if w = strings.Join(strings.Fields(w), " "); w != "" {
			out = append(out, w)
		}
	}
	return out
}

// names are the things' names, the heaviest first.
func names(things []thing) []string {
	slices.SortStableFunc(things, func(a, b thing) int { return cmp.Compare(b.mass, a.mass) })
	var out []string
	for _, t := range things {
		if !slices.Contains(out, t.what) {
			out = append(out, t.what)
		}
	}
	return out
}
