package feed

import (
	"fmt"
	"math"

	"thole/internal/sheet"
	"thole/internal/sustenance"
)

const (
	less = "less by what is not known"
	more = "more by what is not known"
)

// line is a series with its range by day; pick takes a day's value.
func (q *ask) line(name string, role sheet.Role, ranged bool, factor float64, pick func(d *sustenance.OfDay) sustenance.Value) []sheet.Series {
	out := []sheet.Series{{Name: name, Role: role}}
	if ranged {
		out = append(out, sheet.Series{Name: name + ", " + less, Role: sheet.Other}, sheet.Series{Name: name + ", " + more, Role: sheet.Other})
	}
	for i := range q.ledger.Days {
		d := &q.ledger.Days[i]
		v := pick(d)
		for k, y := range []float64{v.Value, math.Max(0, v.Value-v.Spread), v.Value + v.Spread} {
			if k < len(out) {
				out[k].X, out[k].Y = append(out[k].X, float64(d.Day+1)), append(out[k].Y, round(y*factor, 3))
			}
		}
	}
	return out
}

// chart is a chart by day of some series, from nothing up.
func (q *ask) chart(heading, name, unit string, places int, series ...[]sheet.Series) *sheet.Chart {
	x0, x1, xt := sheet.Ticks(0, float64(q.days))
	c := &sheet.Chart{Heading: heading, X: sheet.Axis{Name: "day", Min: x0, Max: x1, Ticks: xt}}
	top := 0.0
	for _, list := range series {
		c.Series = append(c.Series, list...)
		for _, s := range list {
			for _, y := range s.Y {
				top = math.Max(top, y)
			}
		}
	}
	y0, y1, yt := sheet.Ticks(0, math.Max(top, 1e-3))
	c.Y = sheet.Axis{Name: name, Unit: unit, Min: y0, Max: y1, Ticks: yt, Places: places}
	return c
}

// energy is a rower's energy by day.
func (q *ask) energy(i int) *sheet.Chart {
	sc, name := q.sys.Food(), q.p.Plan.Rowers[i].Person.Name
	pick := func(f func(r *sustenance.OfRower) sustenance.Value) func(d *sustenance.OfDay) sustenance.Value {
		return func(d *sustenance.OfDay) sustenance.Value { return f(&d.Each[i]) }
	}
	c := q.chart("Energy by day, "+name, "energy", sc.Unit, sc.Places,
		q.line("eaten", sheet.Main, false, sc.Factor, pick(func(r *sustenance.OfRower) sustenance.Value { return r.Eaten })),
		q.line("packed", sheet.Other, false, sc.Factor, pick(func(r *sustenance.OfRower) sustenance.Value { return r.Offered })),
		q.line("spent", sheet.Limit, true, sc.Factor, pick(func(r *sustenance.OfRower) sustenance.Value { return r.Spent })))
	mid := q.ledger.Days[q.at(q.arrival.median/2)].Each[i]
	c.Alt = fmt.Sprintf("Energy of %s by day: of %s packed %s are eaten in the middle of the passage, and %s ± %s are spent; in the first days less is eaten.", name,
		q.food(mid.Offered.Value), q.food(mid.Eaten.Value), q.food(mid.Spent.Value), q.food(mid.Spent.Spread))
	return c
}

// body is a rower's mass by day.
func (q *ask) body(i int) *sheet.Chart {
	heavy, p := q.sys.Heavy(), q.p.Plan.Rowers[i].Person
	lines := q.line(p.Name, sheet.Main, true, heavy.Factor, func(d *sustenance.OfDay) sustenance.Value { return d.Each[i].Mass })
	c := q.chart("Body mass by day, "+p.Name, "mass", heavy.Unit, 0, lines)
	low := math.Inf(1)
	for _, y := range lines[1].Y {
		low = math.Min(low, y)
	}
	most := p.Mass * heavy.Factor
	for _, y := range lines[2].Y {
		most = math.Max(most, y)
	}
	for _, lost := range []float64{0.10, 0.25} {
		y := p.Mass * (1 - lost) * heavy.Factor
		if lost > 0.1 && low > y { // nowhere near it
			continue
		}
		low = math.Min(low, y)
		c.Series = append(c.Series, sheet.Series{Name: fmt.Sprintf("%.0f %% lost: %s", 100*lost, sustenance.Wasting(lost)), Role: sheet.Limit, X: []float64{c.X.Min, c.X.Max}, Y: []float64{round(y, 2), round(y, 2)}})
	}
	c.Y.Min, c.Y.Max, c.Y.Ticks = sheet.Ticks(math.Max(0, low), most)
	for _, a := range q.arrivals() {
		e := q.ledger.Days[q.at(a.day)].Each[i]
		c.Marks = append(c.Marks, sheet.Mark{X: float64(q.at(a.day) + 1), Y: round(e.Mass.Value*heavy.Factor, 1), Text: a.name + ": " + loss(e.Lost.Value), Role: sheet.Main})
	}
	e := q.ledger.Days[q.at(q.arrival.median)].Each[i]
	c.Alt = fmt.Sprintf("Body mass of %s by day: %s on leaving, %s ± %s on day %d, %.0f %% of it gone: %s.", p.Name, heavy.Show(p.Mass), heavy.Show(e.Mass.Value), heavy.Show(e.Mass.Spread), q.at(q.arrival.median)+1, 100*math.Max(0, e.Lost.Value), sustenance.Wasting(e.Lost.Value))
	return c
}

// coming is a day by which so many are in.
type coming struct {
	name string
	day  float64
}

// arrivals are the days by which half, nine in ten and nineteen in twenty are in; the planned day where no passages were made.
func (q *ask) arrivals() []coming {
	r := &q.arrival
	if r.tally == nil {
		return []coming{{"planned", r.median}}
	}
	return []coming{{"half are in", r.median}, {"19 in 20", r.twentieth}}
}

// foodLeft is the days of food left by day, against the days of arrival.
func (q *ask) foodLeft() *sheet.Chart {
	p := q.plan(q.days)
	left := q.line("left", sheet.Main, true, 1, func(d *sustenance.OfDay) sustenance.Value {
		v, low, high := bags(p, d.FoodLeft.Value), bags(p, d.FoodLeft.Value-d.FoodLeft.Spread), bags(p, d.FoodLeft.Value+d.FoodLeft.Spread)
		return sustenance.Value{Value: v, Spread: (high - low) / 2}
	})
	calendar := sheet.Series{Name: "by the calendar, everything eaten", Role: sheet.Other}
	packed := p.Rations.Days()
	for _, d := range q.ledger.Days {
		calendar.X, calendar.Y = append(calendar.X, float64(d.Day+1)), append(calendar.Y, float64(max(0, packed-d.Day-1)))
	}
	c := q.chart("Food left, and who is in by when", "full day bags", "", 0, left, []sheet.Series{calendar})
	for _, a := range q.arrivals() {
		i := q.at(a.day)
		c.Marks = append(c.Marks, sheet.Mark{X: float64(i + 1), Y: left[0].Y[i], Text: fmt.Sprintf("%s, day %d", a.name, i+1), Role: sheet.Main})
	}
	mid, late := q.at(q.arrival.median), q.at(q.arrival.twentieth)
	c.Alt = fmt.Sprintf("Food left by day, in full day bags: %d on leaving, %.0f on day %d and %.0f on day %d.", packed, left[0].Y[mid], mid+1, left[0].Y[late], late+1)
	return c
}

// bags is how many full day bags an energy for all is, the last ones packed.
func bags(p *sustenance.Plan, joules float64) float64 {
	n, people := 0.0, float64(len(p.Rowers))
	for i := len(p.Rations) - 1; i >= 0 && joules > 0; i-- {
		r := p.Rations[i]
		if r.Energy <= 0 {
			continue
		}
		k := math.Min(float64(r.Days), joules/r.Energy/people)
		n, joules = n+k, joules-k*r.Energy*people
	}
	return n
}

// waterByDay is the water needed, and made.
func (q *ask) waterByDay() *sheet.Chart {
	c := q.chart("Water by day", "water", "L", 0,
		q.line("needed", sheet.Main, true, 1, func(d *sustenance.OfDay) sustenance.Value { return d.Water }),
		q.line("made by machine", sheet.Other, false, 1, func(d *sustenance.OfDay) sustenance.Value { return d.Made }),
		q.line("pumped by hand", sheet.Limit, false, 1, func(d *sustenance.OfDay) sustenance.Value { return d.ByHand }))
	d := q.ledger.Days[q.at(q.arrival.median/2)]
	c.Alt = fmt.Sprintf("Water by day for all: on day %d %.1f ± %.1f L are needed, %.1f L made by machine and %.1f L pumped by hand.", d.Day+1, d.Water.Value, d.Water.Spread, d.Made.Value, d.ByHand.Value)
	return c
}

// drinkingLeft is the drinking water left; nil where there is hardly any, or it stays as it is.
func (q *ask) drinkingLeft() *sheet.Chart {
	least, most := math.Inf(1), 0.0
	for _, d := range q.ledger.Days {
		least, most = math.Min(least, d.DrinkingLeft.Value-d.DrinkingLeft.Spread), math.Max(most, d.DrinkingLeft.Value)
	}
	if most < 1 || most-least < 0.05*most {
		return nil
	}
	c := q.chart("Drinking water left", "reserve and ballast apart", "L", 0, q.line("left", sheet.Main, true, 1, func(d *sustenance.OfDay) sustenance.Value { return d.DrinkingLeft }))
	last := q.ledger.Days[len(q.ledger.Days)-1]
	c.Alt = fmt.Sprintf("Drinking water left by day: %.0f L on leaving, %.0f ± %.0f L on day %d.", q.p.Plan.Stock.Drinking, last.DrinkingLeft.Value, last.DrinkingLeft.Spread, last.Day+1)
	return c
}

// loss is the share of a body's mass that is gone, in words.
func loss(share float64) string {
	if percent := math.Round(100 * share); percent < 0 {
		return fmt.Sprintf("%.0f %% gained", -percent)
	}
	return fmt.Sprintf("%.0f %% lost", math.Abs(100*share))
}
