// Package feed answers "Will food and water last?": what the crew spend, can eat and must drink on each day of the passage, how long the
// food, and the water with what makes it, last, and how likely that is enough for the days that simulated passages take.
//
// The margin is in days: how long the tighter of food and water lasts, less the day by which half of the simulated passages have arrived.
// Asked is the day of nineteen in twenty less that one; the confidence is the chance that what is carried outlasts a passage. Passages that
// miss the landfall or end on land are left out of all three, since no food mends them. Without a route or a date the days of voyage.yaml stand for the
// arrival, which is listed. Energies are joules, water kilograms, times days; spreads are half the width of the 19-in-20 range.
package feed

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/crossing"
	"thole/internal/provisions"
	"thole/internal/sustenance"
	"thole/internal/units"
)

// Question is this question's row of the table.
var Question = answer.Question{ID: id, Title: title, Group: answer.Aboard, Draws: "passages", Ask: Ask}

const (
	id    = "feed"
	title = "Will food and water last?"
)

// Ask answers the question.
//
// Error: the shape could not be built, no such day or condition, or the context's
func Ask(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
	a := answer.Answer{Question: id, Title: title, Figures: struct{}{}, Method: method, NotLookedAt: notLookedAt, Cautions: cautions}
	t, err := c.Trip()
	if err != nil {
		return a, err
	}
	q := &ask{c: c, t: t, sys: c.Folder.Boat.Units, full: !o.Bare && !o.Brief}
	if q.day, _, err = o.Pick(t); err != nil {
		return a, err
	}
	if err := ctx.Err(); err != nil {
		return a, err
	}
	// What is lacking is told before passages are made, which take their time.
	if p, err := provisions.Of(t, nil); err != nil || len(p.Lacks) > 0 {
		return q.lacks(a, p, err)
	}
	if err := q.voyage(ctx, o); err != nil {
		return a, err
	}
	p, err := provisions.Of(t, q.on)
	if err != nil {
		return q.lacks(a, p, err)
	}
	q.p = p
	if err := q.last(); err != nil {
		return q.lacks(a, p, err)
	}
	q.judge(&a)
	if o.Bare {
		return a, ctx.Err()
	}
	q.taken(&a)
	if err := q.keep(); err != nil {
		return a, err
	}
	q.say(&a)
	if q.full {
		if q.more, err = q.ten(ctx); err != nil {
			return a, err
		}
	}
	if a.Figures, err = q.figures(); err != nil {
		return a, err
	}
	if !q.full {
		return a, ctx.Err()
	}
	q.offer(ctx, &a)
	q.lay(&a)
	return a, ctx.Err()
}

type ask struct {
	c    *answer.Case
	t    *afloat.Trip
	sys  units.System
	day  int
	full bool

	way     *crossing.Crossing // nil where no passage could be made
	why     string             // why not
	arrival arrival
	on      func(day int) sustenance.Conditions // nil: the trades'
	rows    float64                             // hours rowed over the usual hours
	p       *provisions.Provisions
	lasts   sustenance.Lasts
	chance  struct{ food, water float64 }
	water   bool // the water is the tighter

	days   int // of the ledger
	ledger *sustenance.Ledger
	more   *TenFigures
}

// plan is the folder's plan for so many days.
func (q *ask) plan(days int) *sustenance.Plan {
	p := q.p.Plan
	p.Days = max(1, days)
	return &p
}

// lacks is the answer of a folder that tells too little, or figures that cannot be.
func (q *ask) lacks(a answer.Answer, p *provisions.Provisions, err error) (answer.Answer, error) {
	a.Verdict = answer.CannotTell
	if err != nil {
		if !errors.Is(err, sustenance.ErrInput) {
			return a, err
		}
		a.Sentence = fmt.Sprintf("Cannot tell: %v.", err)
		a.Needs = append(a.Needs, answer.Need{File: "voyage.yaml", Key: "crew", Why: err.Error()})
		return a, nil
	}
	first := p.Lacks[0]
	a.Sentence = fmt.Sprintf("Cannot tell: %s says nothing of %s.", first.File, first.Key)
	for _, l := range p.Lacks {
		a.Needs = append(a.Needs, answer.Need(l))
	}
	return a, nil
}

// taken lists what was taken for granted.
func (q *ask) taken(a *answer.Answer) {
	for _, w := range q.p.Assumed {
		a.Assumptions = append(a.Assumptions, answer.Assumption(w))
	}
	add := func(what, value, why, file string) {
		a.Assumptions = append(a.Assumptions, answer.Assumption{What: what, Value: value, Why: why, File: file})
	}
	add("how freely they drink", "1.5 L of urine a day, nothing for washing", "a body well watered passes 1 to 2 (physiology textbooks)", "voyage.yaml: crew")
	add("dress", "light cotton and a hat, used to the heat", "0.4 clo, light summer clothes (ISO 9920 lists, from memory)", "voyage.yaml: crew")
	add("what is left of a bag", "half of it keeps for another day", "modelling choice; the other half is thrown away", "stores.csv: energy")
	if len(q.p.Plan.Makers) > 0 {
		add("power for the makers of water", "enough for their hours on every day", "batteries, panels and cloud are not looked at here", "boat.yaml: water makers")
	}
	if q.way == nil {
		add("days of the passage", fmt.Sprintf("%.0f, for certain", q.arrival.median), q.why, "voyage.yaml: days")
		return
	}
	add("humidity", "80 %, and the cabin 2 C warmer than the air", "the trades' usual air; by day the air and the sun of the middle passage's place, the embedded climate's", "voyage.yaml: leave")
	add("days without rowing", fmt.Sprintf("%.0f %% of the usual hours are rowed, every day alike", 100*q.rows), "the mean of the simulated passages, sea anchor and breaks with it", "voyage.yaml: rules")
	told := map[string]bool{} // what a body gives and does is listed once, though both hang on it
	for _, w := range q.p.Assumed {
		told[w.File] = true
	}
	for _, w := range q.way.Assumed {
		if !told[w.File] || !strings.Contains(w.File, "crew[") {
			a.Assumptions = append(a.Assumptions, answer.Assumption(w))
		}
	}
}

var notLookedAt = []string{
	"illness other than seasickness in the first days; salt, vitamins, and what a body needs that is not energy",
	"who of the crew eats more; hidden food; fish and rain",
	"spoilt, wet or lost bags: a flooded locker takes a part of the calendar (see what failure ends the trip)",
	"electricity for the makers of water: cloud, batteries, corrosion",
	"that lighter and hungrier rowers are slower: the passages are those of fed ones",
	"other cabins' heat, cold water on the skin, and the will to eat",
}

var cautions = []string{
	"A doctor who knows the crew comes before every figure here: mass lost, thirst and heat are medicine. People differ more than formulas.",
	"Never plan on thirst: a plan that holds only if everybody drinks less does not hold. Drink to the colour of the urine, not to a table.",
	"The sealed reserve is for when something has gone wrong. Ballast water is drunk only against as much sea water let in, and whether she still comes back up is asked again first.",
	answer.LocalRules,
}

var method = []answer.Method{
	{What: "resting rate from mass, stature, age and sex", Source: "Mifflin and St Jeor (1990); beside it Schofield (1985), Harris and Benedict (1919), Roza and Shizgal (1984)"},
	{What: "a day at sea costs what was measured on ocean rowers, 2.3 to 2.5 times resting at 8 hours and more at the oars, in a straight line down to a day without rowing; the sum by activity tables is shown beside it as the over-estimate that it is",
		Source: "49 Atlantic rowers, 46 ± 7 days, doubly labelled water (abstract, 2020 and 2021 crossings); Reid et al., IJSPP 12 (2017) 1012; 2011 Compendium of Physical Activities"},
	{What: "what is eaten is the least of what the day's bag holds, the share of it that is liked, what a stomach takes, and what sickness leaves in the first days",
		Source: "intake of 2.5 (men) and 2.3 (women) resting rates, the same 49 rowers; Reid et al. 2017; sickness: crews' logs"},
	{What: "what is missing comes off fat and lean in the shares that dieters showed, with glycogen and its water first", Source: "Hall, Int J Obesity 32 (2008) 573; Forbes (2000); Hall et al., Lancet 378 (2011) 826"},
	{What: "water: sweat by the heat balance of a clothed body at the oars and in the cabin, breath, skin and urine, less what burning makes; dried food's water is part of it",
		Source: "ISO 7933:2004; Fanger (1970); in the range of crews' diaries (8 L) and trainers' plans (10 L)"},
	{What: "desalinators fill up what was drunk; the tank serves what they do not make; hands pump what is then missing. Reserve and ballast are not touched", Source: "conservation of mass"},
	{What: "the days of the passage: simulated passages through a climatology's winds and currents, as in how long it will take", Source: "see that question"},
	{What: "the chance that stores outlast a passage: the mean, over how long the stores may last, of the share that has arrived by then", Source: "P(arrival < lasts) = E[By(lasts)]"},
	{What: "each spread is the root of the sum of squares of what it moves by when eleven things not known of a body, the labels and the makers are moved to their ends", Source: "JCGM 100:2008, 5.1"},
	{What: "cuts: the least share with which the food lasts until the day of nineteen in twenty, from a day on; or a customary step begun as late as may be", Source: "bisection on the ledger; steps of three quarters and three fifths are crews' custom, no source"},
}
