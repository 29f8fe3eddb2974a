package oars

import (
	"fmt"
	"math"

	"thole/internal/resistance"
	"thole/internal/sheet"
)

// calm is no wind.
var calm = resistance.Wind{}

// charts are speed by power, resistance by speed, and both speeds by day.
func (q *ask) charts() []*sheet.Chart {
	out := []*sheet.Chart{q.byPower(), q.parts()}
	if len(q.byDay) > 2 {
		out = append(out, q.speedByDay())
		if c := q.stopByDay(); c != nil {
			out = append(out, c)
		}
	}
	return out
}

// byPower is the speed for a power, heavy and light, in a calm and against a wind.
func (q *ask) byPower() *sheet.Chart {
	deep, light := q.at[q.days[0]], q.at[q.days[1]]
	most := 2.2 * deep.r.Crew.Power().Value
	x0, x1, xt := sheet.Ticks(0, most)
	c := &sheet.Chart{Heading: "Speed by power", X: sheet.Axis{Name: "power at the handles", Unit: "W", Min: x0, Max: x1, Ticks: xt}}
	high := 0.0
	curve := func(name string, s *sea, w resistance.Wind, role sheet.Role) {
		line := sheet.Series{Name: name, Role: role}
		for v := 0.4; v < 8; v += 0.2 {
			p, _, err := s.r.Power(v*knot, w)
			if err != nil || p > x1 {
				break
			}
			line.X, line.Y = append(line.X, round(p, 1)), append(line.Y, round(v, 2))
			high = math.Max(high, v)
		}
		if len(line.X) > 1 {
			c.Series = append(c.Series, line)
		}
	}
	curve(fmt.Sprintf("day %d, heaviest", deep.day), deep, calm, sheet.Main)
	if light.day != deep.day {
		curve(fmt.Sprintf("day %d, lightest", light.day), light, calm, sheet.Other)
	}
	curve(fmt.Sprintf("day %d, 8 kn of wind ahead", deep.day), deep, resistance.Wind{Speed: 8 * knot}, sheet.Limit)
	y0, y1, yt := sheet.Ticks(0, math.Max(high, 1))
	c.Y = sheet.Axis{Name: "speed", Unit: "kn", Min: y0, Max: y1, Ticks: yt, Places: 1}
	p := deep.r.Crew.Power().Value
	c.Marks = []sheet.Mark{{X: p, Y: round(deep.calm.Speed/knot, 2), Text: fmt.Sprintf("%.0f W", p), Role: sheet.Main}}
	c.Alt = fmt.Sprintf("Speed by power on the heaviest and the lightest day: %.0f W make %.1f kn on day %d and %.1f kn on day %d.", p, deep.calm.Speed/knot, deep.day, light.calm.Speed/knot, light.day)
	return c
}

// parts is the resistance taken apart, on the day shown.
func (q *ask) parts() *sheet.Chart {
	s := q.at[q.day]
	top := math.Max(3, math.Ceil(1.5*s.calm.Speed/knot))
	x0, x1, xt := sheet.Ticks(0, top)
	c := &sheet.Chart{Heading: fmt.Sprintf("What holds her back, day %d, in a calm", q.day), X: sheet.Axis{Name: "speed", Unit: "kn", Min: x0, Max: x1, Ticks: xt, Places: 1}}
	names := []string{"all", "friction and form", "growth", "waves", "rudder and boards", "air", "thrust of the crew"}
	lines := make([]sheet.Series, len(names))
	for i := range lines {
		lines[i] = sheet.Series{Name: names[i], Role: sheet.Other}
	}
	lines[0].Role, lines[6].Role = sheet.Main, sheet.Limit
	day := resistance.Condition{Water: q.way.Water, Days: s.r.Scraped}
	force, high := q.sys.Pull(), 0.0
	for k := 0; k <= 30; k++ {
		v := x1 * float64(k) / 30
		p, err := s.r.Boat.Parts(v*knot, day, calm)
		if err != nil {
			break
		}
		t := s.r.Thrust(v * knot).Value
		for i, y := range []float64{p.Total.Value, p.Friction.Value + p.Form.Value + p.Transom.Value, p.Growth.Value, p.Waves.Value, p.Appendages.Value, p.Air.Value, t} {
			lines[i].X, lines[i].Y = append(lines[i].X, round(v, 3)), append(lines[i].Y, round(y*force.Factor, 2))
			high = math.Max(high, y*force.Factor)
		}
	}
	for _, l := range lines {
		if most(l.Y) > 0.005*high {
			c.Series = append(c.Series, l)
		}
	}
	y0, y1, yt := sheet.Ticks(0, high)
	c.Y = sheet.Axis{Name: "force", Unit: force.Unit, Min: y0, Max: y1, Ticks: yt}
	c.Marks = []sheet.Mark{{X: round(s.calm.Speed/knot, 2), Y: round(s.calm.Resistance.Value, 1), Text: fmt.Sprintf("%.1f kn", s.calm.Speed/knot), Role: sheet.Main}}
	c.Alt = fmt.Sprintf("Resistance by speed, part by part; it meets the crew's thrust at %.1f kn with %.0f N.", s.calm.Speed/knot, s.calm.Resistance.Value)
	return c
}

// speedByDay is the calm-day speed over the trip.
func (q *ask) speedByDay() *sheet.Chart {
	x0, x1, xt := sheet.Ticks(0, float64(q.t.Days))
	line := sheet.Series{Name: "in a calm", Role: sheet.Main}
	low, high := sheet.Series{Name: "less by what is not known", Role: sheet.Other}, sheet.Series{Name: "more by what is not known", Role: sheet.Other}
	top := 0.0
	for _, s := range q.byDay {
		d := float64(s.day)
		v, w := s.calm.Speed/knot, s.calm.Spread/knot
		line.X, line.Y = append(line.X, d), append(line.Y, round(v, 3))
		low.X, low.Y = append(low.X, d), append(low.Y, round(v-w, 3))
		high.X, high.Y = append(high.X, d), append(high.Y, round(v+w, 3))
		top = math.Max(top, v+w)
	}
	y0, y1, yt := sheet.Ticks(0, top)
	a, z := q.byDay[0], q.byDay[len(q.byDay)-1]
	return &sheet.Chart{Heading: "Speed in a calm by day", X: sheet.Axis{Name: "day", Min: x0, Max: x1, Ticks: xt}, Y: sheet.Axis{Name: "speed", Unit: "kn", Min: y0, Max: y1, Ticks: yt, Places: 1},
		Series: []sheet.Series{line, low, high},
		Alt:    fmt.Sprintf("Speed in a calm by day, with its range: %.2f kn on day %d, %.2f kn on day %d; growth slows her between two scrapings.", a.calm.Speed/knot, a.day, z.calm.Speed/knot, z.day)}
}

// stopByDay is the head wind that stops her over the trip.
func (q *ask) stopByDay() *sheet.Chart {
	x0, x1, xt := sheet.Ticks(0, float64(q.t.Days))
	line := sheet.Series{Name: "head wind that stops her", Role: sheet.Main}
	low, high := sheet.Series{Name: "less by what is not known", Role: sheet.Other}, sheet.Series{Name: "more by what is not known", Role: sheet.Other}
	top := 0.0
	for _, s := range q.byDay {
		if s.stopErr != nil {
			return nil
		}
		d := float64(s.day)
		v, w := s.stop/knot, s.stopSpread/knot
		line.X, line.Y = append(line.X, d), append(line.Y, round(v, 2))
		low.X, low.Y = append(low.X, d), append(low.Y, round(v-w, 2))
		high.X, high.Y = append(high.X, d), append(high.Y, round(v+w, 2))
		top = math.Max(top, v+w)
	}
	y0, y1, yt := sheet.Ticks(0, top)
	a, z := q.byDay[0], q.byDay[len(q.byDay)-1]
	return &sheet.Chart{Heading: "Head wind that stops her, by day", X: sheet.Axis{Name: "day", Min: x0, Max: x1, Ticks: xt}, Y: sheet.Axis{Name: "wind at 10 m", Unit: "kn", Min: y0, Max: y1, Ticks: yt},
		Series: []sheet.Series{line, low, high},
		Alt:    fmt.Sprintf("Head wind that stops her by day, with its range, the sea left out: %.1f kn on day %d, %.1f kn on day %d; a lighter boat stands higher in the wind.", a.stop/knot, a.day, z.stop/knot, z.day)}
}

func most(y []float64) float64 {
	m := 0.0
	for _, v := range y {
		m = math.Max(m, v)
	}
	return m
}

// round is a number to so many places.
func round(v float64, places int) float64 {
	k := math.Pow(10, float64(places))
	return math.Round(v*k) / k
}
