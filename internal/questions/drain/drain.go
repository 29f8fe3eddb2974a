// Package drain answers "Will the deck clear?": a sea has filled every well to its brim; how she lies
// with that water in her, and how long her drains take to let it go, on days early, midway and late in the
// trip, on the day on which her sole lies lowest, and with the crew in every place.
//
// The margin is in seconds: what is left of five minutes when no more than 20 mm stands on the sole. It is
// something else where no time can be given: the stiffness with the well full, the height of the sole
// above the sea, or the water that never leaves.
package drain

import (
	"context"
	"math"
	"slices"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/hydro"
	"thole/internal/units"
)

// Question is this question's row of the table.
var Question = answer.Question{ID: id, Title: title, Group: answer.Afloat, Ask: Ask}

const (
	id    = "drain"
	title = "Will the deck clear?"
)

const deg = math.Pi / 180

// limit is the longest that a well may take to clear, and asked how much sooner it is wanted: an
// offshore rule of thumb is three minutes, and the standard for quick-draining wells stops at five.
//
// Source: Offshore Special Regulations and ISO 11812, from memory; neither was made for rowing boats
const (
	limit = 300.0
	asked = 120.0
)

// ingress is how deep the sea may stand on the sole through open drains before that is a no.
const ingress = 0.010

// Ask answers the question.
//
// Error: the shape could not be built, no such day or condition, or the context's
func Ask(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
	a := answer.Answer{Question: id, Title: title, Figures: struct{}{}, Method: method,
		NotLookedAt: []string{
			"water that surges to and fro in the well, and seas that top it up again while it drains",
			"weed, rope or clothing in a drain",
			"water on the side decks, in side lockers and in the cabins; every hatch is taken as shut",
			"wind, and the way on her: still water",
		},
		Cautions: []string{answer.CalculatedNotTested, answer.HatchesShut, answer.OtherBoats, answer.LocalRules},
	}
	t, err := c.Trip()
	if err != nil {
		return a, err
	}
	q := &ask{c: c, t: t, sys: c.Folder.Boat.Units}
	q.all = q.pools()
	if len(q.all) == 0 {
		return noWell(a, c, t), nil
	}
	if c.Weightless() {
		return c.NeedWeight(a), nil
	}
	if q.day, q.cond, err = o.Pick(t); err != nil {
		return a, err
	}
	a.Assumptions = append(c.Taken(t), answer.Assumption{What: "the longest it may take", Value: "300 s, 180 s wanted",
		Why: "offshore rules of thumb for other boats", File: "no key of the folder"})
	q.taken(&a)
	if q.floats, err = t.Floats(ctx, nil); err != nil {
		return a, err
	}
	if err := q.load(ctx, o.Progress); err != nil {
		return a, err
	}
	q.tightest()
	q.judge(ctx, &a)
	if s := q.find(q.day, q.cond); s != nil && s.dry.Err == nil && s.full.err == nil {
		f := q.figures(ctx, s)
		a.Figures = f
		if !o.Brief {
			q.lay(&a, s, f)
		}
	}
	return a, ctx.Err()
}

var method = []answer.Method{
	{What: "each well is filled to the lowest place of its rim as she lies with that water in her; it is carried as loose water that keeps its level",
		Source: "Barrass & Derrett, Ship Stability for Masters and Mates, effect of slack tanks; Archimedes"},
	{What: "where the sea stands over the rim the well is counted as flooded: water stands in it as outside", Source: "lost buoyancy, Barrass & Derrett, bilging"},
	{What: "on the curve with the wells full, what stands above the rim at a heel has spilled", Source: "geometry; a boat that rolls back does not get it again"},
	{What: "drains as holes and sills: Q = Cd A sqrt(2 g h), and 2/3 Cd b sqrt(2 g) h^1.5 where they are part full; the sea outside as she rises, a balance at each of eleven volumes",
		Source: "Torricelli; Poleni; textbook discharge coefficients, from memory"},
	{What: "with several wells each is timed with the others still full", Source: "the slower case"},
	{What: "looked at in full: leaving, midway, arriving, the day on which the sole lies lowest, and the day shown; the sole's height on every day",
		Source: "the boat folder"},
	{What: "bailing: 12 L a bucket, eight loads a minute", Source: "common practice, no source"},
	{What: "spread: the weights' tolerances by the time worked out again, and 15 % of the time for the coefficients", Source: "JCGM 100:2008, 5.1; the 15 % is common practice, no source"},
}

// noWell is the answer of a boat without wells.
func noWell(a answer.Answer, c *answer.Case, t *afloat.Trip) answer.Answer {
	a.Assumptions = c.Taken(t)
	a.Verdict = answer.Yes
	a.Sentence = "Yes: she has no well that a sea could fill; how water leaves the open deck was not looked at."
	a.NotLookedAt = append(a.NotLookedAt, "the deck itself, its bulwarks and their openings")
	a.Margin = &answer.Margin{Value: limit, Unit: "s", Asked: asked, Confidence: 1, Shown: "nothing to clear", What: "time left of five minutes"}
	return a
}

type ask struct {
	c         *answer.Case
	t         *afloat.Trip
	sys       units.System
	all       []*pool
	floats    [][]afloat.Floating
	day, cond int
	states    []*loaded

	worst *loaded
	well  int // the slowest of the worst state
	// in is the day on which the sea stands deepest on a sole through open drains.
	in      *afloat.Floating
	inCond  int
	inWell  int
	inDepth float64
}

// days are those looked at in full.
func (q *ask) days() []int {
	out := []int{0, q.t.Days / 2, q.t.Days, q.day}
	lowest, at := math.Inf(1), 0
	for c := range q.floats {
		for d := range q.floats[c] {
			f := &q.floats[c][d]
			if f.Err != nil {
				out = append(out, d)
				return sorted(out)
			}
			for _, p := range q.all {
				if low, _ := p.soleAbove(f.Rest.Attitude); low < lowest {
					lowest, at = low, d
				}
			}
		}
	}
	return sorted(append(out, at))
}

func sorted(days []int) []int {
	slices.Sort(days)
	return slices.Compact(days)
}

// load works out every state that is looked at, and the sole's height on all days.
func (q *ask) load(ctx context.Context, progress func(done, total int)) error {
	days := q.days()
	total := len(days) * len(q.floats)
	for c := range q.floats {
		for _, d := range days {
			if err := ctx.Err(); err != nil {
				return err
			}
			s := q.state(ctx, q.floats[c][d], c)
			q.states = append(q.states, s)
			if progress != nil {
				progress(len(q.states), total)
			}
		}
		for d := range q.floats[c] {
			q.enters(&q.floats[c][d], c)
		}
	}
	return ctx.Err()
}

// state fills and empties her on a day.
func (q *ask) state(ctx context.Context, dry afloat.Floating, cond int) *loaded {
	s := &loaded{day: dry.State.Day, cond: cond, dry: dry}
	if dry.Err != nil {
		return s
	}
	l := afloat.Load(&dry.State)
	s.full = q.fill(l, &dry.Rest.Attitude)
	if s.full.err != nil || s.full.gm <= 0 {
		return s
	}
	for i := range q.all {
		s.pools = append(s.pools, q.pour(ctx, i, l, s.full))
	}
	return s
}

// enters notes how deep the sea stands on a sole that open drains let it onto.
func (q *ask) enters(f *afloat.Floating, cond int) {
	if f.Err != nil {
		return
	}
	for i, p := range q.all {
		low, _ := p.soleAbove(f.Rest.Attitude)
		for _, o := range p.outlets {
			if !o.opening.Flap && f.Rest.Above(o.at) < 0 && -low > q.inDepth {
				q.in, q.inCond, q.inWell, q.inDepth = f, cond, i, -low
			}
		}
	}
}

func (q *ask) find(day, cond int) *loaded {
	for _, s := range q.states {
		if s.day == day && s.cond == cond {
			return s
		}
	}
	return nil
}

// loadOf is a bucket, m³, and paceOf how many are thrown in a second.
const (
	loadOf = 0.012
	paceOf = 8.0 / 60
)

// time is how long a well takes to clear: through its drains, or with a bucket if it has none.
func (q *ask) time(s *loaded, i int) float64 {
	if len(q.all[i].outlets) == 0 {
		return s.pools[i].full / loadOf / paceOf
	}
	return s.pools[i].clear
}

// rank says how bad a state is, the kind of fault first and its size second.
func (q *ask) rank(s *loaded) (kind int, size float64, well int) {
	switch {
	case s.dry.Err != nil:
		return 6, 0, 0
	case s.full.err != nil:
		return 5, 0, 0
	case s.full.gm <= 0:
		return 4, -s.full.gm, 0
	}
	size = -1
	for i := range s.pools {
		p := &s.pools[i]
		k, z := 0, q.time(s, i)
		switch {
		case p.err != nil || p.heaved:
			k, z = 3, 0
		case s.full.water.open[i]:
			k, z = 2, -q.all[i].spill(s.full.rest.Attitude)
		case math.IsInf(z, 1):
			k, z = 1, p.rest-q.all[i].clear
		}
		if k > kind || k == kind && z > size {
			kind, size, well = k, z, i
		}
	}
	return kind, size, well
}

func (q *ask) tightest() {
	kind, size := -1, 0.0
	for _, s := range q.states {
		if k, z, w := q.rank(s); k > kind || k == kind && z > size {
			kind, size, q.worst, q.well = k, z, s, w
		}
	}
}

// loose is the water in all wells of a state, kg.
func (q *ask) loose(f *filled) float64 {
	v := 0.0
	for i, p := range q.all {
		if f.water.open[i] {
			v += p.Stack.Below(f.rest.Plane()).Volume
		} else {
			v += f.water.volume[i]
		}
	}
	return v * q.t.Sea.Density
}

// isSinking tells a boat that cannot carry the water from one whose balance was not found.
func isSinking(b *hydro.Body, mass, density float64) bool { return mass/density >= b.Volume() }
