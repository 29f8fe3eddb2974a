// Package right answers "Will she come back up?": righting arms from 0 to 180
// degrees free to trim, and every heel at which she would lie, on every day of the trip with
// the crew in every place, all hatches shut but those that the folder leaves open at sea.
//
// The margin is the height of gravity left: how much higher, in metres, her
// centre of gravity could lie before there is a heel other than upright at which
// she would stay; negative, how far it would have to come down.
package right

import (
	"context"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/hydro"
	"thole/internal/units"
)

// Question is this question's row of the table.
var Question = answer.Question{ID: id, Title: title, Group: answer.Afloat, Quick: true, Ask: Ask}

const (
	id    = "right"
	title = "Will she come back up?"
)

// Point is one point of the curve.
type Point struct {
	Heel float64 `json:"heel_deg"`
	Arm  float64 `json:"arm_m"` // positive turns her upright from starboard
	Trim float64 `json:"trim_deg"`
}

// Rest is a heel at which she would lie.
type Rest struct {
	Heel   float64 `json:"heel_deg"` // to port negative, and given only where the sides differ
	Stable bool    `json:"stable"`
}

// Figures are for the day and the condition asked for, heeled to starboard.
type Figures struct {
	Day       int     `json:"day"`
	Condition string  `json:"condition"`
	Curve     []Point `json:"curve"`
	// Vanishing is the first heel at which the arm falls to nothing; 180 if it never does.
	Vanishing float64 `json:"vanishing_deg"`
	Rests     []Rest  `json:"rests"`
	Area30    float64 `json:"area_0_30_mrad"`
	Area40    float64 `json:"area_0_40_mrad"`
	// LeastArm is the least arm between 20 and 160 degrees: nearer to upright and to upside down
	// every boat's arm runs out to nothing.
	LeastArm     float64 `json:"least_arm_m"`
	LeastArmHeel float64 `json:"least_arm_deg"`
	MostArm      float64 `json:"most_arm_m"`
	MostArmHeel  float64 `json:"most_arm_deg"`
	GM           float64 `json:"gm_m"`
	HeightLeft   float64 `json:"height_left_m"`      // on this day in this condition
	HeightLeftAt float64 `json:"height_left_at_deg"` // the heel where it runs out first
	RollPeriod   float64 `json:"roll_period_s"`      // of small rolls, by the rule of thumb; 0 when she has no stiffness
	Screening    float64 `json:"capsize_screening"`
	// What follows is left out where only a verdict is wanted.
	Openings     []Opening `json:"openings,omitempty"`
	States       []Cell    `json:"states,omitempty"`
	LeastBallast []Ballast `json:"least_ballast,omitempty"`
	MostWater    float64   `json:"most_cabin_water_m3"` // with which she still comes back on the last day; negative where there is no cabin
}

// usualHeight is the height of gravity that is asked to be left when boat.yaml names none.
const usualHeight = 0.02

const deg = math.Pi / 180

// Ask answers the question.
//
// Error: the shape could not be built, no such day or condition, or the context's
func Ask(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
	a := answer.Answer{Question: id, Title: title, Figures: struct{}{}, Method: method,
		NotLookedAt: []string{
			"how fast an open hatch floods: the matrix shows the space full, the end of it",
			"water in the well while she rolls, and a holed locker",
			"things that shift or fall when she is over: all but an unstrapped crew is taken as lashed where it lies",
			"the roller that turns her: still water, and no turning speed",
		},
		Cautions: []string{answer.NotWithHatchOpen, answer.CalculatedNotTested, answer.HatchesShut, answer.OtherBoats, answer.LocalRules},
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
	q := ask{c: c, t: t, sys: c.Folder.Boat.Units, day: day, cond: cond, asked: usualHeight, moment: o.Moment}
	if err := q.find(ctx, o); err != nil {
		return a, err
	}
	if !o.Bare {
		a.Assumptions = c.Taken(t)
	}
	if h := c.Folder.Boat.Limits.HeightLeft; h != nil {
		q.asked = float64(*h)
	} else {
		a.Assumptions = append(a.Assumptions, answer.Assumption{What: "height of gravity asked to be left", Value: q.sys.Length(units.Length(q.asked)),
			Why: "no limit in the folder", File: "boat.yaml: limits.height left"})
	}
	q.judge(&a)
	q.leftOpen(&a)
	if o.Bare || o.Moment {
		return a, ctx.Err()
	}
	state := t.State(day, cond)
	curve, err := t.Curve(&state, nil)
	if err == nil {
		q.curve = curve
		figures := q.figuresOf(o.Heels)
		if !o.Brief {
			if err := q.more(ctx, &figures); err != nil {
				return a, err
			}
		}
		a.Figures = figures
		if !o.Brief {
			q.lay(ctx, &a, figures)
		}
	}
	return a, ctx.Err()
}

// find finds the state with the least height left: by all of them where they are shown, by a search where only
// the answer is wanted, and just the one asked for while a finger moves.
func (q *ask) find(ctx context.Context, o answer.Options) (err error) {
	var r afloat.Righting
	if o.Moment {
		r, q.worstCond = q.t.Righting(q.t.State(q.day, q.cond), nil, nil), q.cond
		q.worst = &r
		return nil
	}
	if !o.Bare && !o.Brief {
		if q.all, err = q.t.Rightings(ctx, o.Progress); err != nil {
			return err
		}
	}
	r, q.worstCond, err = q.t.Tightest(ctx)
	q.worst = &r
	return err
}

// more works out the states beside the one asked for: openings, the matrix, the limits. They do not hang on
// the day shown, but for the openings, and are kept.
func (q *ask) more(ctx context.Context, f *Figures) error {
	f.Openings = q.openings()
	type kept struct {
		cells []Cell
		least []Ballast
		water float64
	}
	made, err := q.c.Keep(id+": matrix", func() (any, error) {
		cells, err := q.matrix(ctx)
		if err != nil {
			return nil, err
		}
		return kept{cells, q.leastBallast(), q.mostWater()}, nil
	})
	if err != nil {
		return err
	}
	k := made.(kept)
	f.States, f.LeastBallast, f.MostWater = k.cells, k.least, k.water
	return nil
}

var method = []answer.Method{
	{What: "at each heel she is free to sink and to trim; the arm is the distance across between weight and buoyancy",
		Source: "Barrass & Derrett, Ship Stability for Masters and Mates, stability at large angles"},
	{What: "cabins and deck count as watertight, wells open to the sea do not", Source: "the boat folder"},
	{What: "the height left is the least of arm over the sine of heel: a rise of gravity by d takes d sin(heel) off every arm",
		Source: "Barrass & Derrett, KN curves"},
	{What: "areas by Simpson's rule on the curve", Source: "closed form for a cubic"},
}

type ask struct {
	c         *answer.Case
	t         *afloat.Trip
	sys       units.System
	all       [][]afloat.Righting
	day, cond int
	asked     float64
	moment    bool
	curve     *hydro.Curve // of the day and the condition shown

	worst      *afloat.Righting
	worstCond  int
	worstCurve *hydro.Curve
}

func (q *ask) judge(a *answer.Answer) {
	w, fault := q.worst, q.worst.Err
	a.Worst = &answer.Worst{Day: w.State.Day, Condition: q.t.Conditions[q.worstCond].Name}
	when := q.t.When(w.State.Day, q.worstCond)
	if errors.Is(fault, hydro.ErrSinks) {
		a.Verdict = answer.No
		short := q.t.Ship.Body.Volume()*q.t.Sea.Density - w.State.Mass
		a.Margin = &answer.Margin{Value: short, Unit: "kg", What: "buoyancy in reserve", Shown: q.sys.Mass(units.Mass(short))}
		a.Sentence = fmt.Sprintf("No: %s she sinks.", when)
		return
	}
	if fault == nil {
		q.worstCurve, fault = q.t.Curve(&w.State, nil)
	}
	if fault != nil {
		a.Verdict = answer.CannotTell
		a.Sentence = fmt.Sprintf("Cannot tell: %s no balance was found (%v).", when, fault)
		a.Needs = append(a.Needs, answer.Need{File: "boat.yaml", Key: "weights", Why: "a centre of gravity that the hull can carry at every heel; look for a weight in the wrong place"})
		return
	}
	fine := q.sys.Fine()
	deviation := q.doubt()
	m := &answer.Margin{Value: w.Headroom, Unit: "m", Asked: q.asked, Spread: 1.96 * deviation, What: "height of gravity left",
		Confidence: answer.Chance(w.Headroom, deviation)}
	a.Verdict = m.Judge()
	lies := q.lies()
	if len(lies) > 0 && a.Verdict != answer.No {
		// The scan and the list of rests must agree; the list goes by the curve itself.
		m.Value = math.Min(m.Value, 0)
		m.Confidence = answer.Chance(m.Value, deviation)
		a.Verdict = answer.No
	}
	m.Shown = fmt.Sprintf("%s ± %s", fine.Show(m.Value), fine.Show(m.Spread))
	a.Margin = m
	least := q.worstCurve.Least(20*deg, 160*deg)
	tight := fmt.Sprintf("closest %s: %s of arm at %.0f degrees, and her centre of gravity could lie %s higher before she would stay over",
		when, fine.Show(least.Arm), least.Heel/deg, fine.Show(w.Headroom))
	switch a.Verdict {
	case answer.No:
		a.Sentence = q.refusal(when, lies, fine)
	case answer.Close:
		reason := fmt.Sprintf("less than the %s asked for", fine.Show(q.asked))
		if m.Value >= m.Asked {
			reason = fmt.Sprintf("which is not sure, ± %s", fine.Show(m.Spread))
		}
		a.Sentence = fmt.Sprintf("Close: with every hatch shut she comes back up, but %s, %s.", tight, reason)
	default:
		a.Sentence = fmt.Sprintf("Yes: with every hatch shut she comes back up from any heel%s; %s.", q.always(), tight)
	}
}

// always says over what the answer holds.
func (q *ask) always() string {
	if q.t.Days == 0 || q.moment {
		return ""
	}
	return " on every day of the trip"
}

func (q *ask) refusal(when string, lies []hydro.Lie, fine units.Scale) string {
	if len(lies) == 0 {
		return fmt.Sprintf("No: %s she has no height of gravity left (%s).", when, fine.Show(q.worst.Headroom))
	}
	l := lies[len(lies)-1]
	where := "lies at " + degrees(lies)
	if len(lies) == 1 && math.Abs(l.Heel) > 175*deg {
		where = "stays upside down"
	} else if len(lies) == 1 && math.Abs(l.Heel) < 40*deg {
		where = "is not stable upright and lolls to " + degrees(lies)
	}
	return fmt.Sprintf("No: %s she %s, hatches shut; her centre of gravity would have to come down by %s.", when, where, fine.Show(math.Max(0, -q.worst.Headroom)))
}

// degrees lists the heels at which she would lie.
func degrees(lies []hydro.Lie) string {
	text := ""
	for i, l := range lies {
		switch {
		case i > 0 && i == len(lies)-1:
			text += " or "
		case i > 0:
			text += ", "
		}
		text += fmt.Sprintf("%.0f degrees", math.Abs(l.Heel)/deg)
		if l.Heel < 0 {
			text += " to port"
		}
	}
	return text
}

// upright is the heel within which a rest counts as her own list.
const upright = 10 * deg

// lies are the stable rests other than upright in the worst state.
func (q *ask) lies() []hydro.Lie {
	var out []hydro.Lie
	for _, l := range q.worstCurve.Rests() {
		if l.Stable && !q.isUpright(l) {
			out = append(out, l)
		}
	}
	return out
}

// isUpright: a boat alike on both sides is upright at nothing but nothing; one with a list, near it.
func (q *ask) isUpright(l hydro.Lie) bool {
	if q.worstCurve.Even {
		return math.Abs(l.Heel) < 1e-6
	}
	return math.Abs(l.Heel) < upright
}

// doubt is the standard deviation of the height left, each tolerance tried by itself on the curve.
func (q *ask) doubt() float64 {
	w := q.worst
	s := w.State
	skin := q.t.Ship.Tolerance / 3
	rest := q.worstCurve.Holds[len(q.worstCurve.Holds)-37]
	mass := math.Hypot(s.Doubt, skin*q.t.Ship.Body.Envelope.Wetted(rest.Plane())*q.t.Sea.Density)
	change := func(mass float64, by r3.Vec) float64 {
		k := s
		k.Mass += mass
		k.G = r3.Add(k.G, by)
		r := q.t.Righting(k, q.worst.Curve, nil)
		if r.Err != nil {
			return 0
		}
		return r.Headroom - w.Headroom
	}
	sum := sq(change(mass, r3.Vec{})) + sq(change(0, r3.Vec{X: s.DoubtG.X})) + sq(s.DoubtG.Z)
	if s.DoubtG.Y > 1e-6 {
		if d := change(0, r3.Vec{Y: s.DoubtG.Y}); !math.IsInf(d, 0) {
			sum += sq(d)
		}
	}
	return math.Sqrt(sum)
}

func sq(v float64) float64 { return v * v }
