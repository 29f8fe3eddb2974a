// Package oars answers "Do the oars fit the rower?": the body of each of the crew at each rowing place, with the boat level on
// her heaviest and her lightest day; what the crew's power makes of her, and the head wind that stops her.
//
// The margin is the least room, in metres, of the tightest rower in the best setting of gates and stretcher, against
// limits.clearance. An angle of the oar that is short counts as the way of the hands.
package oars

import (
	"context"
	"errors"
	"fmt"
	"math"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/hydro"
	"thole/internal/resistance"
	"thole/internal/rowing"
	"thole/internal/underway"
	"thole/internal/units"
)

// Question is this question's row of the table.
var Question = answer.Question{ID: id, Title: title, Group: answer.UnderWay, Ask: Ask}

const (
	id    = "oars"
	title = "Do the oars fit the rower?"
)

// usualClearance is the room asked for where boat.yaml names none, m. Common practice, no source: a cold hand in a seaway.
const usualClearance = 0.020

const (
	knot = 1852.0 / 3600
	deg  = 180 / math.Pi
)

// Ask answers the question.
//
// Error: the shape could not be built, no such day or condition, or the context's
func Ask(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
	a := answer.Answer{Question: id, Title: title, Figures: struct{}{}, Method: method,
		NotLookedAt: []string{
			"waves: blades that miss the water, knuckles on the gunwale as she rolls, and the drag of a sea",
			"spray, cold, blisters and pain; shoes, gloves and clothing",
			"the strength of oars, gates and stretcher",
			"current, and whether she can be held on her course at that speed",
		},
		Cautions: []string{"Measured on paper, not in the boat. Sit in her, afloat and loaded, and row an hour before the holes are drilled.", answer.LocalRules},
	}
	t, err := c.Trip()
	if err != nil {
		return a, err
	}
	if c.Weightless() {
		return c.NeedWeight(a), nil
	}
	day, cond, err := o.Pick(t)
	if err != nil {
		return a, err
	}
	if err := ctx.Err(); err != nil {
		return a, err
	}
	q := ask{c: c, t: t, sys: c.Folder.Boat.Units, way: underway.New(c, t), day: day, cond: cond, bare: o.Bare}
	if l := c.Folder.Boat.Limits.Clearance; l != nil {
		q.asked = float64(*l)
	} else {
		q.asked = usualClearance
		a.Assumptions = append(a.Assumptions, answer.Assumption{What: "least room asked for", Value: q.sys.Length(usualClearance), Why: "no limit in the folder", File: "boat.yaml: limits.clearance"})
	}
	if !o.Bare {
		a.Assumptions = append(a.Assumptions, c.Taken(t)...)
		for _, list := range [][]underway.Assumed{q.way.RigTaken(), q.way.CrewTaken(), q.way.Assumed} {
			for _, w := range list {
				a.Assumptions = append(a.Assumptions, answer.Assumption(w))
			}
		}
	}
	if q.crew, err = q.way.Crew(); err != nil {
		return sunk(a, err)
	}
	if len(q.crew.Lacks) > 0 {
		q.lacks(&a, o)
		return a, nil
	}
	q.tightest()
	q.judge(&a)
	if o.Bare {
		return a, nil
	}
	if err := q.work(ctx, o); err != nil {
		if ctx.Err() != nil {
			return a, ctx.Err()
		}
		return sunk(a, err)
	}
	a.Sentence += " " + q.moves()
	a.Figures = q.figures()
	if o.Brief {
		return a, nil
	}
	q.offer(ctx, &a)
	return a, q.lay(&a)
}

// sunk is the answer for a boat that does not float, or whose measures cannot be.
func sunk(a answer.Answer, err error) (answer.Answer, error) {
	key, file := "rowing", "boat.yaml"
	if errors.Is(err, hydro.ErrSinks) {
		key = "weights"
	}
	a.Verdict, a.Sentence = answer.CannotTell, fmt.Sprintf("Cannot tell: %v.", err)
	a.Needs = append(a.Needs, answer.Need{File: file, Key: key, Why: err.Error()})
	return a, nil
}

var method = []answer.Method{
	{What: "the body is a chain of segments, foot, shank, thigh, trunk and arms, by the published shares of stature; the legs by the inside leg where it is given",
		Source: "Drillis and Contini (1966), as printed by Winter, Biomechanics and Motor Control of Human Movement, fig. 4.1"},
	{What: "the oar is a straight bar on its pin, from just covered to clear of the water of each day, from catch to finish; every setting of gates and stretcher is tried and the one with most room taken",
		Source: "geometry; postures: Agius et al., Bioengineering 10 (2023) 774; Kleshnev (2024)"},
	{What: "each thing not known of a body is moved to its ends, one at a time", Source: "JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.1"},
	{What: "the stroke: an even pull through the drive, blades that slip as plates square to the flow; slower and harder strokes where the boat goes slowly, up to 250 N at the handles",
		Source: "Hoerner, Fluid-Dynamic Drag (1965); Caplan and Gardner (2007); Rohmert (1960) for the pull kept for hours"},
	{What: "resistance: friction by the ITTC-57 line with form, paint and growth; waves by Michell's integral on the hull at the day's draft and trim; rudder and boards; air on all that stands above the water",
		Source: "ITTC-57; Holtrop & Mennen (1982); Granville (1958) with Schultz (2007); Michell (1898); Hoerner (1965)"},
}

type ask struct {
	c     *answer.Case
	t     *afloat.Trip
	sys   units.System
	way   *underway.Way
	crew  underway.Crew
	asked float64
	bare  bool
	day   int
	cond  int

	tight  *underway.Rower
	waters []rowing.Water // deep, light, and the same heeled
	rowed  int            // the condition in which she is rowed
	days   []int          // the heaviest and the lightest
	at     map[int]*sea   // by day
	byDay  []*sea         // every day that the charts show
}

// sea is what the crew make of her on a day.
type sea struct {
	day        int
	r          *underway.Rowed
	calm       resistance.Made
	stop       float64 // m/s
	stopSpread float64
	stopErr    error
}

// tightest finds the rower with least room.
func (q *ask) tightest() {
	for i := range q.crew.Rowers {
		if r := &q.crew.Rowers[i]; q.tight == nil || r.Left < q.tight.Left {
			q.tight = r
		}
	}
}

// judge sets verdict, margin and the first part of the sentence.
func (q *ask) judge(a *answer.Answer) {
	r := q.tight
	m := &answer.Margin{Value: r.Left, Unit: "m", Asked: q.asked, Spread: r.Spread, What: "least room at the oars", Confidence: answer.Chance(r.Left, r.Spread/1.96)}
	fine := q.sys.Fine()
	m.Shown = fmt.Sprintf("%s ± %s", fine.Show(m.Value), fine.Show(m.Spread))
	a.Margin, a.Verdict = m, m.Judge()
	rowed, _ := underway.Conditions(q.t)
	day := 0
	if _, err := fmt.Sscanf(r.Tightest.Water, "on day %d", &day); err != nil {
		day = 0
	}
	a.Worst = &answer.Worst{Day: day, Condition: q.t.Conditions[max(0, rowed)].Name}
	when := ""
	if r.Tightest.Water != "" && q.t.Days > 0 {
		when = ", " + r.Tightest.Water
	}
	who := q.named(r)
	switch a.Verdict {
	case answer.No:
		a.Sentence = fmt.Sprintf("No: they do not fit %s in any setting; in the best, %s%s.", who, short(r.Tightest, fine, r.Left), when)
	case answer.Close:
		a.Sentence = fmt.Sprintf("Close: they fit %s by %s; tightest is %s%s, and %s.", who, fine.Show(r.Left), called(r.Tightest), when, why(m, fine))
	default:
		a.Sentence = fmt.Sprintf("Yes: the oars fit, with %s to spare or more; tightest is %s, for %s%s.", fine.Show(r.Left), called(r.Tightest), who, when)
	}
}

// named is a rower, with the place where there is a choice and its name says more.
func (q *ask) named(r *underway.Rower) string {
	if p := q.place(r).Name; len(q.c.Folder.Boat.Rowing) > 1 && p != r.Name {
		return r.Name + " at " + p
	}
	return r.Name
}

func why(m *answer.Margin, fine units.Scale) string {
	if m.Value < m.Asked {
		return fmt.Sprintf("that is less than the %s asked for", fine.Show(m.Asked))
	}
	return fmt.Sprintf("bodies differ by more: ± %s", fine.Show(m.Spread))
}

// names are the things looked at, in a word or two, and what is said where they are short.
var names = map[rowing.Kind][2]string{
	rowing.LegsReach: {"the reach of the legs to the stretcher", "the stretcher is %s out of reach"}, rowing.LegsRoom: {"the room for the legs", "the legs want %s more room"},
	rowing.CatchAngle: {"the reach at the catch", "the hands stop %s short at the catch"}, rowing.FinishAngle: {"the finish", "the hands stop %s short at the finish"},
	rowing.Arc: {"the length of the stroke", "the stroke is %s short"}, rowing.HandlesApart: {"the room between the handles at the finish", "the handles come %s too near each other at the finish"},
	rowing.Overlap: {"the overlap of the handles", "the handles overlap by %s too much"}, rowing.OverThighs: {"the handle over the thighs", "the handle meets the thighs by %s with the blade out"},
	rowing.OverKnees: {"the handle by the knees at the catch", "the handle meets the knees by %s at the catch"}, rowing.NotTooHigh: {"the height of the handles in the drive", "the handles go %s too high in the drive"},
	rowing.DriveEdge: {"the oar over the boat with the blade in", "the oar strikes the boat by %s with the blade in"}, rowing.ClearEdge: {"the oar over the boat with the blade out", "the oar strikes the boat by %s with the blade out"},
	rowing.HighSide: {"the high side's blade in the water", "the high side's hand goes %s above the shoulder"}, rowing.LowSide: {"the low side's blade out of the water", "the low side's hand meets the thigh by %s"},
	rowing.HeeledEdge: {"the oars over the boat", "an oar strikes the boat by %s"},
}

// called is a check in a word or two, with the edge that it is about.
func called(c rowing.Check) string {
	s := names[c.Kind][0]
	if c.Edge != "" {
		s += " (" + c.Edge + ")"
	}
	return s
}

// short says by how much a check misses.
func short(c rowing.Check, fine units.Scale, left float64) string {
	s := fmt.Sprintf(names[c.Kind][1], fine.Show(math.Abs(left)))
	if c.Edge != "" {
		s += " (" + c.Edge + ")"
	}
	return s
}

// lacks is the answer for a folder that does not tell enough.
func (q *ask) lacks(a *answer.Answer, o answer.Options) {
	a.Verdict = answer.CannotTell
	first := q.crew.Lacks[0]
	a.Sentence = fmt.Sprintf("Cannot tell: %s says nothing of %s.", first.File, first.Key)
	for _, l := range q.crew.Lacks {
		a.Needs = append(a.Needs, answer.Need(l))
	}
	if o.Bare || o.Brief {
		return
	}
	var err error
	if q.waters, err = q.way.Waters(false); err != nil {
		return // she does not float, which float and right say
	}
	q.whoever(a)
}
