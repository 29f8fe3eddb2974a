// Package head answers "Will she hold her head to the wind?": the courses either side of dead downwind that she can be
// steered on when rowed in the wind of boat.yaml: limits.wind, by rudder, board up or down and uneven oars; where she
// lies when nobody rows, and how she drifts, left alone, to a sea anchor, behind a drogue; what line and fittings
// must bear; and her anchor.
//
// The margin is in radians: half of the sector that she can be steered on, less limits.sector. It is worked out on
// the lightest and on the heaviest day with the crew at the oars, and the smaller counts. Its spread is that of the
// coefficients of wind and water, each moved to its ends by itself, and of the crew's thrust. It is the least certain
// answer of all.
package head

import (
	"context"
	"fmt"
	"math"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/heading"
	"thole/internal/underway"
	"thole/internal/units"
)

// Question is this question's row of the table.
var Question = answer.Question{ID: id, Title: title, Group: answer.UnderWay, Ask: Ask}

const (
	id    = "head"
	title = "Will she hold her head to the wind?"

	deg  = math.Pi / 180
	knot = 1852.0 / 3600
)

// What is taken where the folder asks for nothing: the wind of a fresh trade, in which she is to run off as far as to
// have it on her quarter. Common practice, no source.
const (
	usualWind   = 20 * knot
	usualSector = 60 * deg
)

// Ask answers the question.
//
// Error: the shape could not be built, no such day or condition, or the context's
func Ask(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
	a := answer.Answer{Question: id, Title: title, Figures: struct{}{}, Method: method,
		NotLookedAt: []string{
			"waves: they push her downwind, yaw her to and fro, turn her beam-on, lift the rudder out, broach her and make her surf; in a seaway she holds less than this",
			"heel, a list, and the lee behind a crest; gusts and shifts of the wind",
			"yawing about an angle at which she lies: it is found as if she turned slowly",
			"oars left in the water, a steering foot or a helmsman's skill, and how tired they are",
			"current: every speed and course is through the water",
			"what an anchor of its kind holds in a ground, and the deck under a fitting",
		},
		Cautions: []string{
			"The least certain answer of all: the wind's moment and the water's nearly cancel, and neither is known to better than a quarter. Try her in open water in a rising wind, light and loaded, before you trust it.",
			"Sea anchor: rig line, fittings and chafing gear before you need them, and tend the chafe: it parts more lines than load. Keep hands and feet clear of the line while it runs out.",
			"A lee shore: a rowing boat cannot be counted on to claw off. Keep sea room by the drift told here, doubled.",
			answer.OtherBoats, answer.LocalRules},
	}
	t, err := c.Trip()
	if err != nil {
		return a, err
	}
	if c.Weightless() {
		return c.NeedWeight(a), nil
	}
	q := &ask{c: c, t: t, sys: c.Folder.Boat.Units, way: underway.New(c, t)}
	if q.day, q.cond, err = o.Pick(t); err != nil {
		return a, err
	}
	a.Assumptions = c.Taken(t)
	if !q.ready(&a) {
		return a, nil
	}
	q.wanted(&a)
	if err := q.tightest(ctx); err != nil {
		if ctx.Err() != nil {
			return a, ctx.Err()
		}
		a.Verdict = answer.CannotTell
		a.Sentence = fmt.Sprintf("Cannot tell: %v.", err)
		a.Needs = append(a.Needs, answer.Need{File: "boat.yaml", Key: "weights", Why: "where wind and water take hold of her hangs on how she floats, and here no such place was found"})
		return a, nil
	}
	q.taken(&a)
	if err := q.doubt(); err != nil {
		return a, err
	}
	q.judge(&a)
	if o.Bare {
		a.Sentence = q.short
		return a, ctx.Err()
	}
	f, err := q.figures(ctx, o.Brief)
	if err != nil {
		return a, err
	}
	a.Figures = *f
	q.say(&a, f)
	q.warn(&a, f)
	if !o.Brief {
		q.lay(&a, f)
	}
	return a, ctx.Err()
}

var method = []answer.Method{
	{What: "what stands in the wind: hull and cabins from the cuts, and what the folder names, each with its height; shape coefficients, oblique winds, the wind's growth with height",
		Source: "IMO MODU Code, table 3-1, from memory; Blendermann (1994), from memory; logarithmic wind over the open sea, WMO Guide ch. 5"},
	{What: "what is under water: the profile of every cut at the day's draft and trim, rudder and boards; cross-flow drag by Hoerner's curve, the flow past the forebody by slender-body theory, cut off where it leaves the hull",
		Source: "Hoerner, Fluid-Dynamic Drag (1965); Munk, NACA 184 (1924); Jones, NACA 835 (1946); Hopkins, NACA RM A51C14"},
	{What: "rudder and board: lift and drag up to the stall, a flat plate beyond it", Source: "Whicker and Fehlner, DTMB 933 (1958), from memory"},
	{What: "the three balances (along, across, turning) solved at once for speed, leeway and helm; from dead downwind brought up to the wind little by little until helm, flow or headway gives out",
		Source: "Newton's method with continuation"},
	{What: "the helm: rudder first, to its stops, then the oars unevenly; the board up or down, whichever keeps more courses", Source: "modelling choice"},
	{What: "resistance and the crew's thrust: as in the speed for a power", Source: "ITTC 1957; Michell (1898); a blade that slips"},
	{What: "the lightest and the heaviest day with somebody at the oars; at rest, with the crew in the cabin", Source: "the boat folder"},
	{What: "spread: each doubtful coefficient to its two ends by itself, the crew's thrust, and a quarter of the sector for waves, yawing and all that a steady balance leaves out; put together as the root of the squares", Source: "JCGM 100:2008, 5.1; the ends are published where they could be found and judged where not; the quarter is a judgement"},
	{What: "sea anchors and drogues: drag coefficients of cloth on the area as cut; the load for which gear is made, the boat struck by a breaking crest",
		Source: "Knacke (1992), from memory; Jordan, USCG CG-D-20-87 (1987)"},
	{What: "drift beside that of other things adrift", Source: "Allen and Plourde, USCG CG-D-08-99 (1999), as adapted in a search and rescue manual"},
	{What: "anchors: the load by length and wind, scope and swing by the line pulled straight", Source: "ABYC H-40, as copied; geometry"},
}

type ask struct {
	c         *answer.Case
	t         *afloat.Trip
	sys       units.System
	way       *underway.Way
	day, cond int

	wind, sector float64
	rowed, left  int // conditions

	worst   *underway.Yaw
	setting underway.Setting
	sweep   heading.Sweep
	half    heading.Range
	short   string
}

// helm is what holds her.
var helm = heading.Helm{Rudder: true, Oars: true}

// ready tells whether there is enough to go by.
func (q *ask) ready(a *answer.Answer) bool {
	b := &q.c.Folder.Boat
	need := func(file, key, why string) {
		a.Needs = append(a.Needs, answer.Need{File: file, Key: key, Why: why})
	}
	if b.Rudder == nil {
		need("boat.yaml", "rudder", "what holds her on a course: rudder: {at: [6.72 m, 0 m, 0.30 m], chord: 280 mm, depth: 620 mm}")
	}
	if len(b.Rowing) == 0 {
		need("boat.yaml", "rowing", "where the oars push, and so how they can hold her: seat, gates and oars of each rowing place")
	}
	q.rowed, q.left = underway.Conditions(q.t)
	if len(b.Rowing) > 0 && q.rowed < 0 {
		need("voyage.yaml", "crew", "somebody with a place within 0.5 m of a seat of boat.yaml: rowing; nobody rows her as it stands")
	}
	if len(a.Needs) == 0 {
		if q.left < 0 {
			q.left = q.rowed
		}
		return true
	}
	a.Verdict = answer.CannotTell
	missing := ""
	for i, n := range a.Needs {
		if i > 0 {
			missing += " and "
		}
		missing += n.File + ": " + n.Key
	}
	a.Sentence = "Cannot tell: " + missing + " must say what steers and drives her."
	return false
}

// wanted reads what is asked of her.
func (q *ask) wanted(a *answer.Answer) {
	l := &q.c.Folder.Boat.Limits
	q.wind, q.sector = usualWind, usualSector
	if l.Wind != nil && *l.Wind > 0 {
		q.wind = float64(*l.Wind)
	} else {
		a.Assumptions = append(a.Assumptions, answer.Assumption{What: "the wind in which she is to keep her courses", Value: q.sys.Speed(units.Speed(q.wind)), Why: "a fresh trade wind; common practice, no source", File: "boat.yaml: limits.wind"})
	}
	if l.Sector != nil {
		q.sector = float64(*l.Sector)
	} else {
		a.Assumptions = append(a.Assumptions, answer.Assumption{What: "courses wanted either side of dead downwind", Value: "60°", Why: "from a quartering wind on one side to that on the other; common practice, no source", File: "boat.yaml: limits.sector"})
	}
}

// taken lists what the folder did not give.
func (q *ask) taken(a *answer.Answer) {
	b := &q.c.Folder.Boat
	put := func(what, value, why, file string) {
		a.Assumptions = append(a.Assumptions, answer.Assumption{What: what, Value: value, Why: why, File: file})
	}
	for _, s := range q.way.Assumed {
		put(s.What, s.Value, s.Why, s.File)
	}
	if len(b.Windage) == 0 {
		put("what stands above the deck", "nothing but hull, cabins and the rower", "rails, panels, masts and boxes on deck take hold of the wind too: name them", "boat.yaml: windage")
	}
	if b.Rudder.Turns == 0 {
		put("how far the rudder turns", "35° each way", "common practice, no source", "boat.yaml: rudder.turns")
	}
	if b.Rudder.Raised {
		put("the rudder", "down while she is rowed", "the folder has it lifted; it is down for the courses and up for the drift", "boat.yaml: rudder.raised")
	}
	for _, n := range q.worst.Taken {
		put("the stature of "+n, q.sys.Length(1.75), "how much of a rower stands in the wind", "voyage.yaml: crew")
	}
	for i := range b.SeaAnchors {
		s := &b.SeaAnchors[i]
		if s.From == "" {
			put("the end from which the "+s.Name+" is streamed", string(underway.End(s)), "a sea anchor from the bow, a drogue from the stern", "boat.yaml: sea anchors")
		}
	}
}
