// Package loft answers "What shape do I cut?": whether the measurements are
// fair, the lines and offsets that they make, and the parts to saw at their true size.
//
// The margin is the room left for reading error, in metres full size: twice the
// tolerance less what the fairing had to move the worst reading by, the tolerance itself being asked
// for. A reading that looks misread makes it negative.
package loft

import (
	"context"
	"fmt"
	"math"
	"strings"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/fairing"
	"thole/internal/shape"
	"thole/internal/units"
)

// Question is this question's row of the table.
var Question = answer.Question{ID: id, Title: title, Group: answer.Shape, Ask: Ask}

const (
	id    = "loft"
	title = "What shape do I cut?"
)

// trial is the tolerance by which exact offsets are tried for fairness, metres: a table to
// the eighth of an inch is good to a sixteenth, and a batten takes up as much again.
// Common practice, no source.
const trial = 0.003

// Figures are the shape's figures, metres and kilograms, full size.
type Figures struct {
	Length    float64 `json:"length_m"`
	Breadth   float64 `json:"breadth_m"`
	Depth     float64 `json:"depth_m"` // from the keel's lowest point to the highest sheer
	Scale     float64 `json:"scale"`   // full size over model; 1 for full-size offsets
	Readings  int     `json:"readings"`
	Tolerance float64 `json:"tolerance_m"` // of a reading, full size
	Moved     int     `json:"moved"`       // readings moved by more than half a millimetre
	Most      float64 `json:"most_moved_m"`
	Misread   []Place `json:"misread"`
	Worst     []Place `json:"worst"`    // the five readings moved most, misread ones first
	Skin      float64 `json:"skin_m2"`  // both sides, keel to sheer
	SkinX     float64 `json:"skin_x_m"` // its centre
	SkinZ     float64 `json:"skin_z_m"`
	Moulds    int     `json:"moulds"`
	Parts     []Part  `json:"parts"`
	Sheets    []Sheet `json:"sheets"`
	// SkinMass is what the skin weighs by published rates, coats counted in, and its standard deviation; 0 when its thickness is not known.
	SkinMass      float64 `json:"skin_kg"`
	SkinMassDoubt float64 `json:"skin_doubt_kg"`
}

// Place is one reading and what would be fair there, metres full size.
type Place struct {
	Station     string  `json:"station"`
	Point       int     `json:"point"` // counted from the keel, 1 the first
	Height      float64 `json:"height_m"`
	HalfBreadth float64 `json:"halfbreadth_m"`
	FairHeight  float64 `json:"fair_height_m"`
	FairBreadth float64 `json:"fair_halfbreadth_m"`
	Off         float64 `json:"off_m"` // square to the section, positive when the reading stands proud
	X           float64 `json:"x_m"`
	File        string  `json:"file"`
	Line        int     `json:"line"`
}

// Part is one thing to saw.
type Part struct {
	Name      string  `json:"name"`
	Count     int     `json:"count"`
	Thickness float64 `json:"thickness_m"`
	Length    float64 `json:"length_m"`
	Width     float64 `json:"width_m"`
	Area      float64 `json:"area_m2"`
	Warning   string  `json:"warning,omitempty"`
}

// Sheet is how many sheets of one thickness are needed.
type Sheet struct {
	Thickness float64 `json:"thickness_m"`
	Count     int     `json:"count"`
	AtLeast   int     `json:"at_least"` // no packing needs fewer
	Waste     float64 `json:"waste"`    // share
}

// Ask answers the question.
//
// Error: the shape could not be built, or the context's
func Ask(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
	keep, key := c.Keep, id
	switch {
	case o.Bare: // verdict and margin hang on the hull's readings alone
		keep, key = c.KeepShape, fmt.Sprintf("%s, bare, units %v", id, c.Folder.Boat.Units)
	case o.Brief:
		key += ", in brief"
	}
	// The shape does not change with the day: it is worked out once for a folder.
	made, err := keep(key, func() (any, error) { return work(ctx, c, o) })
	if err != nil {
		return answer.Answer{}, err
	}
	return made.(answer.Answer), nil
}

// work makes the answer.
func work(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
	a := answer.Answer{Question: id, Title: title, Figures: struct{}{}, Method: method,
		NotLookedAt: []string{
			"whether the wood will bear it: scantlings, fastenings and glue",
			"sheets that are not square or not to size: measure from the centre line, not from the edge",
			"the springing back of bent planks",
		},
		Cautions: []string{
			"Before cutting, measure the check bars on every print, and the check distances on every mould.",
			"A paper pattern stretches by half to one part in a hundred: plot the listed points where it matters.",
			answer.NotStructure, answer.LocalRules},
	}
	t, err := c.Trip()
	if err != nil {
		return a, err
	}
	q := &ask{c: c, t: t, sys: c.Folder.Boat.Units, hull: t.Ship.Hull, surface: t.Ship.Hull.Surface, tolerance: t.Ship.Tolerance}
	if err := q.fairness(); err != nil {
		return a, err
	}
	q.figures.Misread, q.figures.Worst, q.figures.Parts, q.figures.Sheets = []Place{}, []Place{}, []Part{}, []Sheet{}
	q.fair()
	if o.Bare {
		q.judge(&a)
		return a, ctx.Err()
	}
	q.assume(&a)
	q.measure()
	if !o.Brief {
		if err := q.build(ctx, o.Progress); err != nil {
			return a, err
		}
	}
	q.judge(&a)
	a.Figures = q.figures
	if o.Brief {
		return a, ctx.Err()
	}
	q.lay(&a)
	a.Patterns = q.patterns
	return a, ctx.Err()
}

var method = []answer.Method{
	{What: "readings are faired like a batten in all directions at once: least bending, within the reading error; knuckles stay sharp",
		Source: "Reinsch, Smoothing by spline functions, Numer. Math. 10 (1967); Tukey, Exploratory Data Analysis (1977), ch. 16"},
	{What: "lines, sections and patterns are read off one surface, so that the views agree by construction", Source: "property, checked to a ten-thousandth of a millimetre"},
	{What: "planking and stringers are taken off square to the skin in three dimensions", Source: "the parallel surface, closed form"},
	{What: "a batten is taken as a beam of small slopes; where a line turns by more than about 20 degrees between ducks a real batten lies fuller", Source: "de Boor, A Practical Guide to Splines; the elastica, closed form"},
}

type ask struct {
	c         *answer.Case
	t         *afloat.Trip
	sys       units.System
	hull      *shape.Solid
	surface   *fairing.Surface
	tolerance float64
	trialled  bool // offsets taken as exact, tried with a tolerance
	tried     *fairing.Surface

	figures Figures
	yard
}

// fairness takes the moves of the fairing, or tries exact offsets with one.
func (q *ask) fairness() error {
	q.tried = q.surface
	if q.tolerance == 0 && q.surface.Unfaired == 0 {
		f, err := shape.Fair(q.c.Folder.Boat.Hull.Readings, trial)
		if err != nil {
			return err
		}
		q.tried, q.trialled, q.tolerance = f, true, trial
	}
	return nil
}

// measure fills the figures of the shape.
func (q *ask) measure() {
	f := &q.figures
	f.Length = q.hull.To - q.hull.From
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range q.t.Ship.Sheer {
		foot, _ := q.hull.Span(p.X)
		low, high = math.Min(low, foot), math.Max(high, p.Z)
		for _, s := range q.surface.Half(p.X) {
			f.Breadth = math.Max(f.Breadth, 2*s.Y)
		}
	}
	f.Depth = high - low
	f.Skin, f.SkinX, f.SkinZ = q.hull.Skin()
}

// fair fills the figures of the fairing.
func (q *ask) fair() {
	f := &q.figures
	f.Scale, f.Tolerance = q.c.Folder.Boat.Hull.Scale, q.tolerance
	moves := q.tried.Moves
	f.Readings = len(moves)
	places := make([]Place, len(moves))
	for i, m := range moves {
		places[i] = q.place(m)
		if m.Suspect {
			f.Misread = append(f.Misread, places[i])
			continue
		}
		if math.Abs(m.Normal) > 0.0005 {
			f.Moved++
		}
		f.Most = math.Max(f.Most, math.Abs(m.Normal))
	}
	f.Worst = append(f.Worst, worst(places, moves, 5)...)
}

// place puts a move into words that lead to the reading.
func (q *ask) place(m fairing.Move) Place {
	faired := q.tried.Faired()[m.Station]
	p := Place{Point: m.Point + 1, X: faired.X, Off: -m.Normal}
	if m.Suspect {
		p.Off = m.Off
	}
	for _, s := range q.c.Folder.Boat.Hull.Readings.Stations {
		if s.X == faired.X && m.Point < len(s.Points) {
			r := s.Points[m.Point]
			p.Station, p.Height, p.HalfBreadth = s.Label, r.Z, r.Y
			p.FairHeight, p.FairBreadth = r.Z+m.DZ, math.Max(0, r.Y+m.DY)
			p.File, p.Line = q.c.Folder.Boat.Hull.File, r.Source.Line
		}
	}
	return p
}

// worst picks the places that stand out most, misread ones first.
func worst(places []Place, moves []fairing.Move, n int) []Place {
	taken := make([]bool, len(places))
	var out []Place
	for range min(n, len(places)) {
		best := -1
		for i := range places {
			if taken[i] || math.Abs(places[i].Off) < 1e-6 {
				continue
			}
			if best < 0 || moves[i].Suspect && !moves[best].Suspect ||
				moves[i].Suspect == moves[best].Suspect && math.Abs(places[i].Off) > math.Abs(places[best].Off) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		taken[best] = true
		out = append(out, places[best])
	}
	return out
}

// judge sets verdict, sentence and margin.
func (q *ask) judge(a *answer.Answer) {
	f := &q.figures
	fine := q.sys.Fine()
	// A move within the tolerance is reading error; past twice that it is another shape.
	m := &answer.Margin{Unit: "m", What: "room left for reading error", Asked: q.tolerance, Spread: q.tolerance / 3 * 1.96, Value: 2*q.tolerance - f.Most}
	if len(f.Misread) > 0 {
		m.Value = math.Min(0, 2*q.tolerance-math.Abs(f.Worst[0].Off))
	}
	m.Confidence = answer.Chance(m.Value, m.Spread/1.96)
	m.Shown = fmt.Sprintf("%s ± %s", fine.Show(m.Value), fine.Show(m.Spread))
	a.Margin, a.Verdict = m, m.Judge()
	what := fmt.Sprintf("the %d readings are fair within %s", f.Readings, q.onThing(q.tolerance))
	made := q.made()
	if q.patterns == nil {
		made = ""
	}
	switch {
	case len(f.Misread) > 0:
		a.Verdict = answer.No
		w := f.Worst[0]
		more := ""
		if n := len(f.Misread); n > 1 {
			more = fmt.Sprintf(" (and %d more)", n-1)
		}
		a.Sentence = fmt.Sprintf("No: %s looks misread%s: it stands %s full size from the fair surface of the others. Measure it again before you cut.", q.words(w), more, q.sys.Length(units.Length(math.Abs(w.Off))))
	case a.Verdict != answer.Yes:
		a.Verdict = answer.Close
		a.Sentence = fmt.Sprintf("Close: no reading looks misread, but %s had to be moved %s, more than the %s allowed. %s", q.words(f.Worst[0]), q.onThing(f.Most), q.onThing(q.tolerance), made)
	case q.trialled:
		a.Sentence = fmt.Sprintf("Yes: %s, and are used as they stand. %s", what, made)
	default:
		a.Sentence = fmt.Sprintf("Yes: %s; the one moved most was moved %s. %s", what, q.onThing(f.Most), made)
	}
	a.Sentence = strings.TrimSpace(a.Sentence)
}

// onThing says a length full size and, for a half model, on the model.
func (q *ask) onThing(v float64) string {
	text := q.sys.Length(units.Length(v))
	if s := q.figures.Scale; s != 1 {
		return fmt.Sprintf("%.2f mm on the model (%s full size)", 1000*v/s, text)
	}
	return text
}

// words name a reading.
func (q *ask) words(p Place) string {
	s := q.figures.Scale
	where := ""
	if s != 1 {
		where = fmt.Sprintf(", read %.1f mm out and %.1f mm up on the model, fair at %.1f out and %.1f up", 1000*p.HalfBreadth/s, 1000*p.Height/s, 1000*p.FairBreadth/s, 1000*p.FairHeight/s)
	} else {
		where = fmt.Sprintf(", read %s out and %s up, fair at %s and %s", q.sys.Length(units.Length(p.HalfBreadth)), q.sys.Length(units.Length(p.Height)),
			q.sys.Length(units.Length(p.FairBreadth)), q.sys.Length(units.Length(p.FairHeight)))
	}
	return fmt.Sprintf("station %s, point %d from the keel (%s:%d)%s", p.Station, p.Point, p.File, p.Line, where)
}
