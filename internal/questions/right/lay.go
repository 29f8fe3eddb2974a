package right

import (
	"context"
	"fmt"
	"math"

	"thole/internal/answer"
	"thole/internal/hydro"
	"thole/internal/sheet"
)

// figuresOf works out the figures of the curve shown. heels may be nil for the usual ones.
func (q *ask) figuresOf(heels []float64) Figures {
	c := q.curve
	f := Figures{Day: q.day, Condition: q.t.Conditions[q.cond].Name}
	f.Curve = q.points(heels)
	f.Vanishing = c.Vanishing() / deg
	for _, l := range c.Rests() {
		f.Rests = append(f.Rests, Rest{Heel: l.Heel / deg, Stable: l.Stable})
	}
	f.Area30, f.Area40 = c.Area(0, 30*deg), c.Area(0, 40*deg)
	least := c.Least(20*deg, 160*deg)
	f.LeastArm, f.LeastArmHeel = least.Arm, least.Heel/deg
	most := c.Most(0, 180*deg)
	f.MostArm, f.MostArmHeel = most.Arm, most.Heel/deg
	h, at := c.Headroom()
	f.HeightLeft, f.HeightLeftAt = h, at/deg
	zero := c.Holds[len(c.Holds)-37]
	l := c.Load()
	f.GM = zero.Stiffness(l)
	_, hi := q.t.Ship.Body.Envelope.Box()
	if beam := 2 * hi[1]; f.GM > 0 {
		f.RollPeriod = (RollPeriod(leastRoll, beam, f.GM) + RollPeriod(mostRoll, beam, f.GM)) / 2
	}
	f.Screening = Screening(2*hi[1], l.Mass)
	return f
}

func (q *ask) points(heels []float64) []Point {
	var out []Point
	put := func(heel, arm, trim float64) {
		out = append(out, Point{Heel: math.Round(heel/deg*1e9) / 1e9, Arm: arm, Trim: trim / deg})
	}
	if heels == nil {
		zero := len(q.curve.Heels) - 37
		for i := zero; i < len(q.curve.Heels); i++ {
			put(q.curve.Heels[i], q.curve.Arms[i], q.curve.Holds[i].Trim())
		}
		return out
	}
	for _, h := range heels {
		if p, err := q.curve.At(h); err == nil {
			put(h, p.Arm, p.Rest.Trim())
		}
	}
	return out
}

// RollPeriod is the period of small rolls by the rule of thumb of the regulations, in seconds:
// the beam over the root of the metacentric height, times a factor of 0.73 to 0.88 that was fitted to coasters and
// fishing boats. Inclining her once gives her own factor.
//
// Source: GM = (f B / T)², IMO 2008 IS Code part B and national fishing-vessel rules
func RollPeriod(f, beam, gm float64) float64 { return f * beam / math.Sqrt(gm) }

// The least and greatest factor of the rule.
const leastRoll, mostRoll = 0.73, 0.88

// Screening is the capsize screening figure: the beam in feet over the cube root of the displacement
// in pounds over 64. It was made for offshore sailing yachts, where 2 or less was wanted.
//
// Source: Joint Committee on Safety from Capsizing (1985), as quoted
func Screening(beam, mass float64) float64 {
	return beam / 0.3048 / math.Cbrt(mass/0.45359237/64)
}

func (q *ask) lay(ctx context.Context, a *answer.Answer, f Figures) {
	put := func(b sheet.Block) { a.Sheet.Blocks = append(a.Sheet.Blocks, b) }
	put(sheet.Block{Warning: &sheet.Warning{Text: answer.NotWithHatchOpen}})
	put(sheet.Block{Chart: q.curveChart(f)})
	if field := q.field(ctx, f); field != nil {
		put(sheet.Block{Field: field})
	}
	put(sheet.Block{Figures: q.figures(f)})
	if q.t.Days > 0 {
		put(sheet.Block{Chart: q.byDay()})
	}
	if t := q.limitsTable(&f); t != nil {
		put(sheet.Block{Table: t})
	}
	if len(f.States) > 1 {
		put(sheet.Block{Matrix: q.matrixOf(f.States)})
		put(sheet.Block{Table: q.matrixTable(f.States)})
	}
	if t := q.surfaceTable(); t != nil {
		put(sheet.Block{Table: t})
	}
	if t := q.openingTable(&f); t != nil {
		put(sheet.Block{Table: t})
	}
	put(sheet.Block{Table: q.restTable(f)})
	put(sheet.Block{Table: q.states()})
	put(sheet.Block{Table: q.references(f, q.curve)})
	q.trials(a)
}

// curveChart draws the arms of the day shown and of the tightest day.
func (q *ask) curveChart(f Figures) *sheet.Chart {
	fine := q.sys.Fine()
	ch := &sheet.Chart{Heading: "Righting arm by heel", X: sheet.Axis{Name: "heel to starboard", Unit: "deg", Max: 180, Ticks: []float64{0, 30, 60, 90, 120, 150, 180}},
		Y: sheet.Axis{Name: "arm", Unit: fine.Unit, Places: fine.Places}}
	low, high := 0.0, 0.0
	curve := func(c *hydro.Curve, name string, role sheet.Role) {
		s := sheet.Series{Name: name, Role: role}
		for i := len(c.Heels) - 37; i < len(c.Heels); i++ {
			s.X, s.Y = append(s.X, math.Round(c.Heels[i]/deg)), append(s.Y, c.Arms[i]*fine.Factor)
			low, high = math.Min(low, c.Arms[i]), math.Max(high, c.Arms[i])
		}
		ch.Series = append(ch.Series, s)
	}
	curve(q.curve, fmt.Sprintf("day %d, %s", q.day, f.Condition), sheet.Main)
	if q.worstCurve != nil && (q.worst.State.Day != q.day || q.worstCond != q.cond) {
		curve(q.worstCurve, fmt.Sprintf("closest: day %d, %s", q.worst.State.Day, q.t.Conditions[q.worstCond].Name), sheet.Other)
	}
	ch.Series = append(ch.Series, sheet.Series{Name: "no arm: she lies there", Role: sheet.Limit, X: []float64{0, 180}, Y: []float64{0, 0}})
	ch.Y.Min, ch.Y.Max, ch.Y.Ticks = sheet.Ticks(low*fine.Factor, high*fine.Factor)
	ch.Marks = append(ch.Marks,
		sheet.Mark{X: f.MostArmHeel, Y: f.MostArm * fine.Factor, Text: fmt.Sprintf("most, %s at %.0f°", fine.Show(f.MostArm), f.MostArmHeel), Role: sheet.Main},
		sheet.Mark{X: f.LeastArmHeel, Y: f.LeastArm * fine.Factor, Text: fmt.Sprintf("%s at %.0f°", fine.Show(f.LeastArm), f.LeastArmHeel), Role: sheet.Main})
	ch.Alt = fmt.Sprintf("On day %d, %s, the arm rises to %s at %.0f degrees; ", q.day, f.Condition, fine.Show(f.MostArm), f.MostArmHeel)
	if f.Vanishing >= 180-1e-6 {
		ch.Alt += fmt.Sprintf("it stays positive to 180 degrees, least %s at %.0f.", fine.Show(f.LeastArm), f.LeastArmHeel)
	} else {
		ch.Alt += fmt.Sprintf("it falls to nothing at %.0f degrees.", f.Vanishing)
	}
	return ch
}

func (q *ask) figures(f Figures) *sheet.Figures {
	fine := q.sys.Fine()
	s := q.all[q.cond][q.day].State
	out := &sheet.Figures{Heading: fmt.Sprintf("On day %d, %s", q.day, f.Condition)}
	row := func(name string, v float64, unit string, places int, spread float64, why string) {
		out.Rows = append(out.Rows, sheet.Figure{Name: name, Value: v, Unit: unit, Places: places, Spread: spread, Why: why})
	}
	small := func(name string, v, spread float64, why string) {
		row(name, v*fine.Factor, fine.Unit, fine.Places, spread*fine.Factor, why)
	}
	small("height of gravity left", f.HeightLeft, 1.96*s.DoubtG.Z, fmt.Sprintf("how much higher the centre of gravity could lie; it runs out first at %.0f degrees", f.HeightLeftAt))
	small("least arm", f.LeastArm, 0, fmt.Sprintf("between 20 and 160 degrees: at %.0f", f.LeastArmHeel))
	small("greatest arm", f.MostArm, 0, fmt.Sprintf("at %.0f degrees", f.MostArmHeel))
	row("arms vanish at", f.Vanishing, "deg", 1, 0, "the first heel at which the arm falls to nothing; 180 if it never does")
	small("metacentric height GM", f.GM, 1.96*s.DoubtG.Z, "the slope of the curve upright")
	row("area under the curve to 30 degrees", f.Area30, "m rad", 4, 0, "")
	row("area under the curve to 40 degrees", f.Area40, "m rad", 4, 0, "")
	if f.RollPeriod > 0 {
		row("roll period", f.RollPeriod, "s", 1, f.RollPeriod*(mostRoll-leastRoll)/(mostRoll+leastRoll),
			"of small rolls, by a rule fitted to coasters and fishing boats: time ten of hers and compare")
	}
	heavy := q.sys.Heavy()
	row("weight", s.Mass*heavy.Factor, heavy.Unit, heavy.Places, 1.96*s.Doubt*heavy.Factor, "")
	out.Explain(q.account)
	return out
}

// byDay charts the height of gravity left over the trip.
func (q *ask) byDay() *sheet.Chart {
	fine := q.sys.Fine()
	ch := &sheet.Chart{Heading: "Height of gravity left by day", X: sheet.Axis{Name: "day", Max: float64(q.t.Days)}, Y: sheet.Axis{Name: "height left", Unit: fine.Unit, Places: fine.Places}}
	_, _, ticks := sheet.Ticks(0, float64(q.t.Days))
	for _, v := range ticks {
		if v <= float64(q.t.Days) {
			ch.X.Ticks = append(ch.X.Ticks, v)
		}
	}
	low, high := 0.0, q.asked
	for c := range q.all {
		s := sheet.Series{Name: q.t.Conditions[c].Name, Role: sheet.Other}
		if c == q.cond {
			s.Role = sheet.Main
		}
		for d := range q.all[c] {
			if r := &q.all[c][d]; r.Err == nil {
				s.X, s.Y = append(s.X, float64(d)), append(s.Y, r.Headroom*fine.Factor)
				low, high = math.Min(low, r.Headroom), math.Max(high, r.Headroom)
			}
		}
		ch.Series = append(ch.Series, s)
	}
	ends := []float64{0, float64(q.t.Days)}
	ch.Series = append(ch.Series, sheet.Series{Name: "asked for", Role: sheet.Limit, X: ends, Y: []float64{q.asked * fine.Factor, q.asked * fine.Factor}})
	ch.Y.Min, ch.Y.Max, ch.Y.Ticks = sheet.Ticks(low*fine.Factor, high*fine.Factor)
	if q.worst.Err == nil {
		ch.Marks = append(ch.Marks, sheet.Mark{X: float64(q.worst.State.Day), Y: q.worst.Headroom * fine.Factor, Text: "closest", Role: sheet.Main})
	}
	ch.Alt = fmt.Sprintf("The height of gravity left is least on day %d with the crew %s: %s.", q.worst.State.Day, q.t.Conditions[q.worstCond].Name, fine.Show(q.worst.Headroom))
	return ch
}

func (q *ask) restTable(f Figures) *sheet.Table {
	t := &sheet.Table{Heading: "Where she would lie", Columns: []sheet.Column{{Name: "heel", Unit: "deg", Places: 1}, {Name: "", Text: true}},
		Note: "Stable: pushed a little, she comes back to it. Any stable heel other than upright is a place to drown."}
	for _, r := range f.Rests {
		word := "balances, falls away at a touch"
		if r.Stable {
			word = "stable"
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Value: r.Heel}, {Text: word, Loud: r.Stable && math.Abs(r.Heel) > 10}})
	}
	return t
}

// states is the height left and the least arm on a few days with the crew in each place.
func (q *ask) states() *sheet.Table {
	fine, heavy := q.sys.Fine(), q.sys.Heavy()
	t := &sheet.Table{Heading: "Height of gravity left, leaving, on the way, arriving", Columns: []sheet.Column{{Name: "crew", Text: true}},
		Note: "In " + fine.Unit + ". Below nothing she stays over somewhere."}
	var at []int
	for i := 0; i <= 4; i++ {
		if d := q.t.Days * i / 4; len(at) == 0 || at[len(at)-1] != d {
			at = append(at, d)
			t.Columns = append(t.Columns, sheet.Column{Name: fmt.Sprintf("day %d", d), Unit: fine.Unit, Places: fine.Places})
		}
	}
	for c := range q.all {
		row := []sheet.Cell{{Text: q.t.Conditions[c].Name}}
		for _, d := range at {
			r := &q.all[c][d]
			if r.Err != nil {
				row = append(row, sheet.Cell{Text: "no balance", Loud: true})
				continue
			}
			row = append(row, sheet.Cell{Value: r.Headroom * fine.Factor, Loud: r.Headroom <= 0 || c == q.worstCond && d == q.worst.State.Day})
		}
		t.Rows = append(t.Rows, row)
	}
	weight := []sheet.Cell{{Text: "weight, " + heavy.Unit + ", " + q.t.Conditions[0].Name}}
	for _, d := range at {
		weight = append(weight, sheet.Cell{Value: q.all[0][d].State.Mass * heavy.Factor})
	}
	t.Rows = append(t.Rows, weight)
	return t
}

// references sets her figures beside the published criteria. They were made for
// other craft, so none is a verdict.
//
// Source: IMO 2008 IS Code (MSC.267(85)) part A 2.2
func (q *ask) references(f Figures, c *hydro.Curve) *sheet.Table {
	t := &sheet.Table{Heading: "Beside published criteria", Columns: []sheet.Column{{Name: "what", Text: true}, {Name: "hers", Places: 3}, {Name: "asked there", Places: 3}, {Name: "unit", Text: true}},
		Note: "IMO 2008 IS Code, part A 2.2 and 2.3 (weather): ships of 24 m and over. Capsize screening: offshore sailing yachts. Wind and roll: ISO 12217-1, from printed worksheets. References made for other craft, not certificates; some tables are from memory: check your own copy."}
	row := func(what string, hers, asked float64, unit string) {
		there := sheet.Cell{Value: asked}
		if math.IsNaN(asked) {
			there = sheet.Cell{Empty: true}
		}
		t.Rows = append(t.Rows, []sheet.Cell{{Text: what}, {Value: hers}, there, {Text: unit}})
	}
	most30 := c.Most(30*deg, 180*deg)
	row("area under the arms to 30 degrees", f.Area30, 0.055, "m rad")
	row("area to 40 degrees", f.Area40, 0.090, "m rad")
	row("area from 30 to 40 degrees", f.Area40-f.Area30, 0.030, "m rad")
	row("greatest arm at 30 degrees or more", most30.Arm, 0.20, "m")
	row("heel of the greatest arm", f.MostArmHeel, 25, "deg")
	row("metacentric height", f.GM, 0.15, "m")
	row("capsize screening, at most", f.Screening, 2, "")
	zero := c.Holds[len(c.Holds)-37]
	h := hydro.Measure(q.t.Ship.Body, c.Load(), zero)
	if w, ok := q.weather(h); ok {
		t.Rows = append(t.Rows, []sheet.Cell{{Text: "side above water"}, {Value: w.Area}, {Empty: true}, {Text: "m²"}})
		row("heel under a steady wind of 26 m/s, at most", w.Heel/deg, 16, "deg")
		row("area left after the gust, against the roll's", w.B, w.A, "m rad")
		const gale = 21 // m/s, the standard's wind for offshore waters
		heeled := q.meets(SmallCraftWind(w.Area, h.Length, h.Draft, gale)/(gravity*h.Mass), 0)
		row("heel under 21 m/s by the small-craft standard", heeled/deg, math.NaN(), "deg")
		row("roll that it assumes", SmallCraftRoll(h.Volume)/deg, math.NaN(), "deg")
	}
	return t
}
