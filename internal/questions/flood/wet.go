package flood

import (
	"cmp"
	"slices"

	"thole/internal/model"
)

// Wet is what gets wet in a compartment, and what goes with it.
type Wet struct {
	Compartment string   `json:"compartment"`
	Items       []string `json:"items"` // heaviest first
	Mass        float64  `json:"mass_kg"`
	// Fixed are weights placed by a point that lies in it; the boat's own wood may be among them.
	Fixed []string `json:"fixed"`
	// Lost is what nothing outside the compartment provides, stores and weights together.
	Lost []string `json:"lost"`
}

type thing struct {
	what string
	mass float64
}

// wet lists what lies in each compartment at the end of a day.
func (q *ask) wet(day int) []Wet {
	f := q.c.Folder
	homes := map[string]map[int]bool{} // where each thing provided lies; -1 where no water reaches it
	words := make([][]string, len(q.rooms))
	serve := func(i int, provides []string, hardy bool) {
		if hardy {
			i = -1
		}
		for _, w := range provides {
			plain := model.PlainName(w)
			if homes[plain] == nil {
				homes[plain] = map[int]bool{}
			}
			homes[plain][i] = true
			if i >= 0 && !slices.ContainsFunc(words[i], func(o string) bool { return model.PlainName(o) == plain }) {
				words[i] = append(words[i], w)
			}
		}
	}
	loose, fixed := make([][]thing, len(q.rooms)), make([][]thing, len(q.rooms))
	for _, s := range f.Stores {
		whole, left := float64(s.Mass.Value)*float64(max(1, s.Count)), s.Use.Left(day)
		in := false
		for i := range q.rooms {
			if left > 0 && q.within(s.Where, i) {
				in = true
				loose[i] = append(loose[i], thing{s.What, whole * left})
				serve(i, s.Provides, s.Dry == model.MayBeWet)
			}
			if s.Use.Into != nil && left < 1 && q.within(*s.Use.Into, i) {
				loose[i] = append(loose[i], thing{s.What + " (used)", whole * (1 - left)})
			}
		}
		if left > 0 && !in {
			serve(-1, s.Provides, false)
		}
	}
	for _, w := range f.Boat.Weights {
		in := false
		for i := range q.rooms {
			if !q.within(w.Where, i) {
				continue
			}
			in = true
			serve(i, w.Provides, w.Dry == model.MayBeWet)
			t := thing{w.What, float64(w.Mass.Value) * float64(max(1, w.Count))}
			if w.Where.Compartment >= 0 {
				loose[i] = append(loose[i], t)
			} else {
				fixed[i] = append(fixed[i], t)
			}
		}
		if !in {
			serve(-1, w.Provides, false)
		}
	}
	var out []Wet
	for i := range q.rooms {
		one := Wet{Compartment: q.rooms[i].name, Items: names(loose[i]), Fixed: names(fixed[i])}
		for _, t := range loose[i] {
			one.Mass += t.mass
		}
		slices.Sort(words[i])
		for _, w := range words[i] {
			if len(homes[model.PlainName(w)]) == 1 {
				one.Lost = append(one.Lost, w)
			}
		}
		out = append(out, one)
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
