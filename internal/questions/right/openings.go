package right

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/hydro"
	"thole/internal/sheet"
)

// Opening is when a hatch, vent or hole goes under as she is heeled slowly, dry.
type Opening struct {
	Name   string `json:"name"`
	Into   string `json:"into"`
	Closed bool   `json:"closed"`
	// NonReturn: it shuts by itself when it goes under, if it works.
	NonReturn bool    `json:"non_return"`
	Heel      float64 `json:"under_at_deg"` // to the side on which it goes under first; 180 if it never does before
}

// openings finds the downflooding heel of each opening on the curve shown.
func (q *ask) openings() []Opening {
	out := []Opening{}
	c := q.curve
	zero := len(c.Heels) - 37
	for _, o := range q.c.Folder.Boat.Openings {
		first := math.Pi
		for _, side := range [2]float64{1, -1} {
			first = math.Min(first, under(c, zero, r3.Vec{X: o.At.X, Y: side * o.At.Y, Z: o.At.Z}))
		}
		out = append(out, Opening{Name: o.Name, Into: o.Into, Closed: o.Closed, NonReturn: o.NonReturn, Heel: first / deg})
	}
	return out
}

// under is the first heel at which a point goes under, between points of the curve by a straight line.
func under(c *hydro.Curve, zero int, p r3.Vec) float64 {
	prev := 0.0
	for i := zero; i < len(c.Heels); i++ {
		h := c.Holds[i].Above(p)
		if h <= 0 {
			if i == zero {
				return 0
			}
			return c.Heels[i-1] + (c.Heels[i]-c.Heels[i-1])*prev/(prev-h)
		}
		prev = h
	}
	return math.Pi
}

func (q *ask) openingTable(f *Figures) *sheet.Table {
	if len(f.Openings) == 0 {
		return nil
	}
	t := &sheet.Table{Heading: "When openings go under", Columns: []sheet.Column{{Name: "opening", Text: true}, {Name: "into", Text: true}, {Name: "said to be", Text: true}, {Name: "under at", Unit: "deg"}},
		Note: "Heeled slowly on the day shown, still dry inside; a boat that rolls through in a second or two takes in less than one that lies there. An open one lets the sea in from that heel on."}
	for _, o := range f.Openings {
		state := "open"
		switch {
		case o.Closed:
			state = "shut"
		case o.NonReturn:
			state = "shuts by itself"
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: o.Name}, {Text: o.Into}, {Text: state}, {Value: o.Heel, Loud: state == "open" && o.Heel < 180}})
	}
	return t
}

// key is a row of the matrix.
type key struct{ hatches, water, ballast, crew string }

// matrixTable shows the least height left over the crew places, a row for each state and a column for each day.
func (q *ask) matrixTable(cells []Cell) *sheet.Table {
	fine := q.sys.Fine()
	t := &sheet.Table{Heading: "The state matrix: height of gravity left", Columns: []sheet.Column{{Name: "hatches", Text: true}, {Name: "water and crew", Text: true}, {Name: "ballast", Text: true}},
		Note: fmt.Sprintf("The least over the places of the crew, in %s; below nothing she stays over. A hatch that is open stands for its end: the space full of sea to %.0f %%. Still water, turned slowly; the roller is not modelled.", fine.Unit, 100*permeable)}
	rows, days := []key{}, []int{}
	least := map[key]map[int]Cell{}
	for _, c := range cells {
		k := key{hatches: c.Hatches, water: c.Water, ballast: c.Ballast}
		if len(c.Crew) > 13 && c.Crew[len(c.Crew)-13:] == ", not strapped" {
			k.crew = ", crew not strapped"
		}
		if !slices.Contains(rows, k) {
			rows = append(rows, k)
			least[k] = map[int]Cell{}
		}
		if !slices.Contains(days, c.Day) {
			days = append(days, c.Day)
		}
		if o, ok := least[k][c.Day]; !ok || c.Height < o.Height {
			least[k][c.Day] = c
		}
	}
	for _, d := range days {
		t.Columns = append(t.Columns, sheet.Column{Name: fmt.Sprintf("day %d", d), Unit: fine.Unit, Places: fine.Places})
	}
	for _, k := range rows {
		row := []sheet.Cell{{Text: k.hatches}, {Text: k.water + k.crew}, {Text: k.ballast}}
		for _, d := range days {
			c := least[k][d]
			cell := sheet.Cell{Value: c.Height * fine.Factor, Loud: c.Height <= 0}
			if c.Verdict == "sinks or cannot be balanced" {
				cell = sheet.Cell{Text: "sinks", Loud: true}
			}
			row = append(row, cell)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// limitsTable is the least ballast by day and the most water in the cabin.
func (q *ask) limitsTable(f *Figures) *sheet.Table {
	if len(f.LeastBallast) == 0 && f.MostWater < 0 {
		return nil
	}
	heavy := q.sys.Heavy()
	t := &sheet.Table{Heading: "The limits in plain words", Columns: []sheet.Column{{Name: "what", Text: true}, {Name: "limit", Unit: heavy.Unit, Places: heavy.Places}, {Name: "aboard", Unit: heavy.Unit, Places: heavy.Places}, {Name: "", Text: true}}}
	for _, b := range f.LeastBallast {
		words := "below this she is expected to stay over: do not drink past it without filling up with sea water"
		limit := sheet.Cell{Value: b.Least * heavy.Factor}
		if b.Never {
			words, limit = "not even with all of it does she come back", sheet.Cell{Empty: true}
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: fmt.Sprintf("least ballast on day %d, crew %s", b.Day, b.Crew)}, limit, {Value: b.Has * heavy.Factor}, {Text: words}})
	}
	if f.MostWater >= 0 {
		t.Rows = append(t.Rows, []sheet.Cell{{Text: fmt.Sprintf("most loose water in the cabin on day %d", q.t.Days)}, {Value: f.MostWater * q.t.Sea.Density * heavy.Factor}, {Empty: true},
			{Text: "with more she stays over; hatches shut again"}})
	}
	return t
}

// surfaceTable sets what loose water in the largest cabin takes off her stiffness, worked out exactly,
// beside the rule of thumb for small heels.
//
// Source: loss i rho / displacement; Barrass & Derrett, Ship Stability for Masters and Mates, "Effect of free surface"
func (q *ask) surfaceTable() *sheet.Table {
	room := q.bunk()
	zero := q.curve.Holds[len(q.curve.Holds)-37]
	l := q.curve.Load()
	if room < 0 || zero.Stiffness(l) <= 0 {
		return nil
	}
	fine := q.sys.Fine()
	t := &sheet.Table{Heading: "Loose water on the cabin's floor, upright", Columns: []sheet.Column{{Name: "water", Unit: "L"}, {Name: "GM left", Unit: fine.Unit, Places: fine.Places},
		{Name: "lost by its moving", Unit: fine.Unit, Places: fine.Places}, {Name: "by the rule", Unit: fine.Unit, Places: fine.Places}},
		Note: "The rule takes the surface's breadth as it lies upright and holds for small heels only; all other answers here go by the water as it moves."}
	r := &q.t.Ship.Rooms[room]
	for _, litres := range []float64{20, 50, 100, 200} {
		v := litres / 1000
		if v > r.Volume/2 {
			break
		}
		water := hydro.Loose{Stack: r.Stack, Volume: v, Ratio: 1}
		body := q.t.Ship.Body.With(nil, []hydro.Loose{water})
		at, err := hydro.Hold(body, l, q.t.Sea, 0, &zero.Attitude)
		if err != nil {
			return nil
		}
		// the same water frozen where it lies
		x, y, z, second := water.Upright()
		total := l.Mass + v*q.t.Sea.Density
		frozen := hydro.Load{Mass: total, G: r3.Scale(1/total, r3.Add(r3.Scale(l.Mass, l.G), r3.Scale(v*q.t.Sea.Density, r3.Vec{X: x, Y: y, Z: z})))}
		ice, err := hydro.Hold(q.t.Ship.Body, frozen, q.t.Sea, 0, &zero.Attitude)
		if err != nil {
			return nil
		}
		gm := at.Stiffness(l)
		t.Rows = append(t.Rows, []sheet.Cell{{Value: litres}, {Value: gm * fine.Factor, Loud: gm <= 0}, {Value: (ice.Stiffness(frozen) - gm) * fine.Factor},
			{Value: second * q.t.Sea.Density / total * fine.Factor}})
	}
	return t
}
