package feed

import (
	"fmt"
	"math"

	"thole/internal/answer"
	"thole/internal/sustenance"
	"thole/internal/underway"
)

// last works out how long food and water last and how likely that is enough.
func (q *ask) last() error {
	var err error
	// The same days for every answer, so that a bare one and a full one count the water alike far.
	if q.lasts, err = q.plan(q.planned()).Lasts(); err != nil {
		return err
	}
	if q.chance.food, err = sustenance.Chance(&q.arrival, q.lasts.Food); err != nil {
		return err
	}
	if q.chance.water, err = sustenance.Chance(&q.arrival, q.lasts.Water); err != nil {
		return err
	}
	q.water = q.lasts.Water.Value < q.lasts.Food.Value
	return nil
}

// judge sets verdict, margin and the first part of the sentence.
func (q *ask) judge(a *answer.Answer) {
	lasts := q.lasts.Food
	if q.water {
		lasts = q.lasts.Water
	}
	r := &q.arrival
	m := &answer.Margin{Value: lasts.Value - r.median, Unit: "d", Asked: r.twentieth - r.median, Spread: math.Hypot(lasts.Spread, r.half),
		Confidence: math.Min(q.chance.food, q.chance.water), What: "food and water beyond the middle passage"}
	m.Shown = fmt.Sprintf("%s ± %.0f", days(m.Value), m.Spread)
	a.Margin, a.Verdict = m, m.Judge()
	rowed, _ := underway.Conditions(q.t)
	a.Worst = &answer.Worst{Day: min(q.t.Days, int(lasts.Value)), Condition: q.t.Conditions[max(0, rowed)].Name}
	head := map[answer.Verdict]string{answer.Yes: "Yes", answer.Close: "Close", answer.No: "No"}[a.Verdict]
	a.Sentence = fmt.Sprintf("%s: %s; %s.", head, q.howLong(), q.when())
}

// howLong says how long food and water last.
func (q *ask) howLong() string {
	food, water := fmt.Sprintf("the food lasts %s", about(q.lasts.Food)), fmt.Sprintf("the water %s", about(q.lasts.Water))
	if !q.lasts.FoodEnds {
		food = "the food outlasts what is counted"
	}
	switch {
	case !q.lasts.WaterEnds:
		water = "the water does not run out while its makers work"
		if len(q.p.Plan.Makers) == 0 {
			water = "the water outlasts what is counted"
		} else if q.lasts.Water.Spread > 1 {
			water = "the water does not run out unless bodies need more or makers make less than told"
		}
	case !q.lasts.FoodEnds:
		water = fmt.Sprintf("the water lasts %s", about(q.lasts.Water))
	}
	if q.water {
		return water + " and " + food
	}
	return food + " and " + water
}

// when says when she comes in.
func (q *ask) when() string {
	r := &q.arrival
	if r.tally == nil {
		return fmt.Sprintf("she is taken to be in on day %.0f, since %s", r.median, q.why)
	}
	of := ""
	if r.helped() < 1 {
		of = " that food can help"
	}
	return fmt.Sprintf("half of %d simulated passages%s are in by day %.0f, nineteen in twenty by day %.0f", r.tally.Passages, of, math.Ceil(r.median), math.Ceil(r.twentieth))
}

// say adds what is eaten, and what it costs.
func (q *ask) say(a *answer.Answer) {
	end := q.ledger.Days[q.at(q.arrival.median)]
	spent, offered, eaten, worst, whose := 0.0, 0.0, 0.0, -1.0, ""
	n := 0.0
	for _, d := range q.ledger.Days[:end.Day+1] {
		for _, r := range d.Each {
			spent, offered, eaten, n = spent+r.Spent.Value, offered+r.Offered.Value, eaten+r.Eaten.Value, n+1
		}
	}
	for i, r := range end.Each {
		if r.Lost.Value > worst {
			worst, whose = r.Lost.Value, q.p.Plan.Rowers[i].Person.Name
		}
	}
	if n == 0 {
		return
	}
	a.Sentence += fmt.Sprintf(" Of %s packed for a rower's day about %s are eaten and %s spent; ", q.food(offered/n), q.food(eaten/n), q.food(spent/n))
	if worst < 0.005 {
		a.Sentence += "nobody comes in lighter in the middle case."
	} else {
		a.Sentence += fmt.Sprintf("%s comes in some %.0f %% lighter: %s.", whose, 100*worst, sustenance.Wasting(worst))
	}
	if r := &q.arrival; r.tally != nil && r.helped() < 0.98 {
		a.Cautions = append([]string{fmt.Sprintf("%.0f in 100 of the simulated passages miss the landfall or end on land. They are left out here, since no food mends that. See how long it will take.", 100*(1-r.helped()))}, a.Cautions...)
	}
}

// at is the index of the ledger's day in which a time falls.
func (q *ask) at(days float64) int {
	return min(len(q.ledger.Days)-1, max(0, int(math.Ceil(days))-1))
}

// food is an energy of a day in words, to the nearest ten.
func (q *ask) food(joules float64) string {
	sc := q.sys.Food()
	v := int(math.Round(joules*sc.Factor/10) * 10)
	if v >= 1000 {
		return fmt.Sprintf("%d,%03d %s", v/1000, v%1000, sc.Unit)
	}
	return fmt.Sprintf("%d %s", v, sc.Unit)
}

// about is a number of days with its spread.
func about(v sustenance.Value) string {
	if v.Spread < 0.5 {
		return days(v.Value)
	}
	return fmt.Sprintf("%.0f ± %.0f days", v.Value, v.Spread)
}

// days counts days in words.
func days(v float64) string {
	if math.Round(v) == 1 {
		return "1 day"
	}
	if v = math.Round(v); v < 0 {
		return fmt.Sprintf("−%.0f days", -v)
	}
	return fmt.Sprintf("%.0f days", v)
}
