// Package float answers "Will she float on her marks?": weights, draft, trim, heel
// and freeboard on every day of the trip, in every place that the crew may be in.
//
// The margin is the least height of the deck's edge above still water over all
// days and places, in metres, against the freeboard asked for in boat.yaml (limits).
package float

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
	id    = "float"
	title = "Will she float on her marks?"
)

// Figures are the hydrostatics on the day and in the condition asked for. Lengths
// are metres in the boat's frame (x aft of station 0, z above the base line).
type Figures struct {
	Day             int     `json:"day"`
	Condition       string  `json:"condition"`
	Displacement    float64 `json:"displacement_kg"`
	Volume          float64 `json:"volume_m3"`
	Draft           float64 `json:"draft_m"` // of the lowest point, square to the water
	Trim            float64 `json:"trim_deg"`
	Heel            float64 `json:"heel_deg"`
	LCB             float64 `json:"lcb_m"`
	VCB             float64 `json:"vcb_m"` // above the base line
	KB              float64 `json:"kb_m"`  // above the lowest point
	BM              float64 `json:"bm_m"`
	GM              float64 `json:"gm_m"`
	BML             float64 `json:"bml_m"`
	GML             float64 `json:"gml_m"`
	KG              float64 `json:"kg_m"` // above the lowest point
	LCG             float64 `json:"lcg_m"`
	TCG             float64 `json:"tcg_m"`
	VCG             float64 `json:"vcg_m"` // above the base line
	Waterplane      float64 `json:"waterplane_m2"`
	LCF             float64 `json:"lcf_m"`
	Wetted          float64 `json:"wetted_m2"`
	WaterlineLength float64 `json:"waterline_length_m"`
	WaterlineBeam   float64 `json:"waterline_beam_m"`
	Cb              float64 `json:"cb"`
	Cp              float64 `json:"cp"`
	Cwp             float64 `json:"cwp"`
	Freeboard       float64 `json:"freeboard_min_m"`
	FreeboardAt     float64 `json:"freeboard_min_at_m"` // x of it
	Immersion       float64 `json:"kg_per_cm"`
	TrimMoment      float64 `json:"kg_m_per_cm_trim"` // over the waterline's length
	Residual        float64 `json:"residual"`         // of the balance, as a share
}

// The limits where boat.yaml names none.
const (
	usualFreeboard = 0.10
	usualHeel      = 2 * math.Pi / 180
	usualTrim      = 3 * math.Pi / 180
)

// lolls is the heel at rest from which she is said to lie over rather than to list.
const lolls = 10 * math.Pi / 180

// Ask answers the question.
//
// Error: the shape could not be built, no such day or condition, or the context's
func Ask(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
	a := answer.Answer{Question: id, Title: title, Figures: struct{}{},
		NotLookedAt: []string{
			"loose water in the compartments and open hatches",
			"waves, wind and spray: the freeboard is in still water",
			"the strength of anything",
		},
		Cautions: []string{answer.CalculatedNotTested, answer.LocalRules, answer.NotStructure},
		Method:   method,
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
	q := ask{c: c, t: t, sys: c.Folder.Boat.Units, day: day, cond: cond}
	if o.Moment { // while a finger moves: the state shown, and no other
		q.all = make([][]afloat.Floating, len(t.Conditions))
		q.all[cond] = []afloat.Floating{t.Float(t.State(day, cond), nil)}
	} else if q.all, err = t.Floats(ctx, o.Progress); err != nil {
		return a, err
	}
	if !o.Bare {
		a.Assumptions = c.Taken(t)
	}
	q.limits(&a)
	q.tightest()
	q.judge(&a, o)
	if o.Bare || o.Moment {
		return a, nil
	}
	if f := q.all[cond][day]; f.Err == nil {
		figures := figuresOf(t, f)
		a.Figures = figures
		if !o.Brief {
			q.lay(&a, figures)
		}
	}
	return a, nil
}

var method = []answer.Method{
	{What: "the hull is a fair surface through the readings, cut into sections; areas and moments below the water are exact on each, summed by Gauss-Legendre along the length",
		Source: "Green's theorem; Davis & Rabinowitz, Methods of Numerical Integration"},
	{What: "sinkage, trim and heel are balanced together by Newton's method to a residual of 1e-10", Source: "Rawson & Tupper, Basic Ship Theory, ch. 3"},
	{What: "weights, stores and crew add up to mass and centre of gravity on each day; tolerances as independent, 19 in 20",
		Source: "JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.1"},
}

type ask struct {
	c    *answer.Case
	t    *afloat.Trip
	sys  units.System
	all  [][]afloat.Floating
	day  int
	cond int

	freeboard, heel, trim  float64 // asked for
	worst                  afloat.Floating
	worstCond              int
	mostHeel, mostTrim     afloat.Floating
	mostHeelAt, mostTrimAt int
}

// limits takes what is asked for, listing each default.
func (q *ask) limits(a *answer.Answer) {
	l := q.c.Folder.Boat.Limits
	q.freeboard, q.heel, q.trim = usualFreeboard, usualHeel, usualTrim
	take := func(what, value, key string) {
		a.Assumptions = append(a.Assumptions, answer.Assumption{What: what, Value: value, Why: "no limit in the folder", File: "boat.yaml: limits." + key})
	}
	if l.Freeboard != nil {
		q.freeboard = float64(*l.Freeboard)
	} else {
		take("least freeboard asked for", q.sys.Length(units.Length(q.freeboard)), "freeboard")
	}
	if l.Heel != nil {
		q.heel = float64(*l.Heel)
	} else {
		take("most heel at rest", q.sys.Angle(units.Angle(q.heel)), "heel")
	}
	if l.Trim != nil {
		q.trim = float64(*l.Trim)
	} else {
		take("most trim at rest", q.sys.Angle(units.Angle(q.trim)), "trim")
	}
}

// tightest finds the worst of all days and conditions.
func (q *ask) tightest() {
	q.worst.Freeboard = math.Inf(1)
	for c := range q.all {
		for _, f := range q.all[c] {
			if f.Err != nil {
				if q.worst.Err == nil || errors.Is(f.Err, hydro.ErrSinks) && !errors.Is(q.worst.Err, hydro.ErrSinks) {
					q.worst, q.worstCond = f, c
				}
				continue
			}
			if q.worst.Err == nil && f.Freeboard < q.worst.Freeboard {
				q.worst, q.worstCond = f, c
			}
			if math.Abs(f.Rest.Heel) > math.Abs(q.mostHeel.Rest.Heel) {
				q.mostHeel, q.mostHeelAt = f, c
			}
			if math.Abs(f.Rest.Slope) > math.Abs(q.mostTrim.Rest.Slope) {
				q.mostTrim, q.mostTrimAt = f, c
			}
		}
	}
}

// judge sets verdict, sentence, margin and worst.
func (q *ask) judge(a *answer.Answer, o answer.Options) {
	w := &q.worst
	a.Worst = &answer.Worst{Day: w.State.Day, Condition: q.t.Conditions[q.worstCond].Name}
	when := q.t.When(w.State.Day, q.worstCond)
	switch {
	case errors.Is(w.Err, hydro.ErrSinks):
		spare := q.t.Ship.Body.Volume()*q.t.Sea.Density - w.State.Mass
		a.Verdict, a.Sentence = answer.No, fmt.Sprintf("No: %s she sinks: all of her pushes aside %s less than she weighs.", when, q.sys.Mass(units.Mass(-spare)))
		a.Margin = &answer.Margin{Value: spare, Unit: "kg", What: "buoyancy in reserve", Shown: q.sys.Mass(units.Mass(spare))}
		return
	case w.Err != nil:
		a.Verdict, a.Sentence = answer.CannotTell, fmt.Sprintf("Cannot tell: %s no balance was found (%v).", when, w.Err)
		a.Needs = append(a.Needs, answer.Need{File: "boat.yaml", Key: "weights", Why: "a centre of gravity within the boat's length; look for a weight in the wrong place"})
		return
	}
	deviation := q.t.FreeboardDoubt(q.t.Ship.Body, w)
	m := &answer.Margin{Value: w.Freeboard, Unit: "m", Asked: q.freeboard, Spread: 1.96 * deviation, What: "least freeboard",
		Confidence: answer.Chance(w.Freeboard, deviation)}
	fine := q.sys.Fine()
	m.Shown = fmt.Sprintf("%s ± %s", fine.Show(m.Value), fine.Show(m.Spread))
	a.Margin, a.Verdict = m, m.Judge()
	h, tr := q.mostHeel.Rest.Heel, q.mostTrim.Rest.Trim()
	switch {
	case math.Abs(h) > lolls:
		a.Verdict = answer.No
		a.Worst = &answer.Worst{Day: q.mostHeel.State.Day, Condition: q.t.Conditions[q.mostHeelAt].Name}
		// How far the heel overshoots is no freeboard; but a boat that lies over has none to count on.
		m.Value = math.Min(m.Value, -(math.Abs(h)-lolls)*q.halfBeam())
		m.Confidence, m.Spread, m.Shown = 0, 0, "lies over"
		a.Sentence = fmt.Sprintf("No: %s she does not float upright but lies over %.0f degrees to %s.", q.t.When(q.mostHeel.State.Day, q.mostHeelAt), math.Abs(h)*180/math.Pi, side(h))
	case a.Verdict == answer.No:
		a.Sentence = fmt.Sprintf("No: %s the deck's edge is under water.", when)
	case math.Abs(h) > q.heel:
		a.Verdict = answer.Close
		a.Sentence = fmt.Sprintf("Close: she floats, but %s she lists %.1f degrees to %s, more than the %.1f asked for; least freeboard %s %s.",
			q.t.When(q.mostHeel.State.Day, q.mostHeelAt), math.Abs(h)*180/math.Pi, side(h), q.heel*180/math.Pi, fine.Show(w.Freeboard), when)
	case math.Abs(tr) > q.trim:
		a.Verdict = answer.Close
		a.Sentence = fmt.Sprintf("Close: she floats, but %s she trims %.1f degrees by the %s, more than the %.1f asked for; least freeboard %s %s.",
			q.t.When(q.mostTrim.State.Day, q.mostTrimAt), math.Abs(tr)*180/math.Pi, end(tr), q.trim*180/math.Pi, fine.Show(w.Freeboard), when)
	case a.Verdict == answer.Close:
		a.Sentence = fmt.Sprintf("Close: she floats, but with %s of freeboard %s, %s.", fine.Show(w.Freeboard), when, why(m, fine))
	default:
		a.Sentence = fmt.Sprintf("Yes: she floats upright; her deck's edge is never less than %s above still water%s.", fine.Show(w.Freeboard), q.least(when))
		if len(q.c.Folder.Boat.Marks) > 0 && !o.Moment {
			a.Sentence += " " + q.marks()
		}
	}
}

func why(m *answer.Margin, fine units.Scale) string {
	if m.Value < m.Asked {
		return fmt.Sprintf("less than the %s asked for", fine.Show(m.Asked))
	}
	return fmt.Sprintf("and that is not sure: ± %s", fine.Show(m.Spread))
}

func side(heel float64) string {
	if heel < 0 {
		return "port"
	}
	return "starboard"
}

func end(trim float64) string {
	if trim < 0 {
		return "bow"
	}
	return "stern"
}

// least names the tightest state, where there is more than one.
func (q *ask) least(when string) string {
	if q.t.Days == 0 && len(q.t.Conditions) == 1 {
		return ""
	}
	return ", least " + when
}

func (q *ask) halfBeam() float64 {
	_, hi := q.t.Ship.Body.Envelope.Box()
	return hi[1]
}

// marks says how far the water stands from the marks on the day she leaves.
func (q *ask) marks() string {
	f := q.all[0][0]
	most, name := 0.0, ""
	for _, m := range q.c.Folder.Boat.Marks {
		if d := -f.Rest.Above(r3.Vec{X: m.X, Z: m.Z}); math.Abs(d) >= math.Abs(most) {
			most, name = d, m.Name
		}
	}
	where := "above"
	if most < 0 {
		where = "below"
	}
	return fmt.Sprintf("Leaving, the water stands at most %s %s her marks (%s).", q.sys.Fine().Show(math.Abs(most)), where, name)
}

func figuresOf(t *afloat.Trip, f afloat.Floating) Figures {
	l := afloat.Load(&f.State)
	h := hydro.Measure(t.Ship.Body, l, f.Rest)
	const deg = 180 / math.Pi
	return Figures{
		Day: f.State.Day, Condition: f.State.Condition.Name,
		Displacement: f.State.Mass, Volume: h.Volume, Draft: h.Draft, Trim: f.Rest.Trim() * deg, Heel: f.Rest.Heel * deg,
		LCB: h.LCB, VCB: h.VCB, KB: h.KB, BM: h.BM, GM: h.GM, BML: h.BML, GML: h.GML,
		KG: h.KB + h.BM - h.GM, LCG: l.G.X, TCG: l.G.Y, VCG: l.G.Z,
		Waterplane: h.Waterplane, LCF: h.LCF, Wetted: h.Wetted, WaterlineLength: h.Length, WaterlineBeam: h.Beam,
		Cb: h.Cb, Cp: h.Cp, Cwp: h.Cwp, Freeboard: f.Freeboard, FreeboardAt: f.At.X,
		Immersion:  h.Waterplane * t.Sea.Density / 100,
		TrimMoment: f.State.Mass * h.GML / (100 * math.Max(h.Length, 1e-9)),
		Residual:   f.Rest.Residual,
	}
}
