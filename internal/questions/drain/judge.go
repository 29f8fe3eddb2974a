package drain

import (
	"context"
	"errors"
	"fmt"
	"math"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/hydro"
	"thole/internal/units"
)

// judge sets verdict, sentence, margin and worst.
func (q *ask) judge(ctx context.Context, a *answer.Answer) {
	s := q.worst
	kind, size, well := q.rank(s)
	a.Worst = &answer.Worst{Day: s.day, Condition: q.t.Conditions[s.cond].Name}
	when := q.t.When(s.day, s.cond)
	fine := q.sys.Fine()
	name := q.all[well].Name
	no := func(m answer.Margin, format string, args ...any) {
		a.Verdict, a.Margin = answer.No, &m
		a.Sentence = "No: " + fmt.Sprintf(format, args...)
	}
	switch kind {
	case 6, 5:
		q.unfloated(a, s, when)
		return
	case 4:
		no(answer.Margin{Value: s.full.gm, Unit: "m", What: "metacentric height with the wells full", Shown: fine.Show(s.full.gm)},
			"%s, with %s of water in her, she is not stable upright: her metacentric height is %s.", when, q.sys.Mass(units.Mass(q.loose(&s.full))), fine.Show(s.full.gm))
		return
	case 3:
		no(answer.Margin{Value: math.Min(0, s.full.gm), Unit: "m", What: "metacentric height while a well empties", Shown: "falls over"},
			"%s she does not stay upright while the %s empties.", when, name)
		return
	case 2:
		no(answer.Margin{Value: -size, Unit: "m", What: "rim above the sea with the wells full", Shown: fine.Show(-size)},
			"%s the sea stands %s over the rim of the %s once it is full, and it does not clear by itself.", when, fine.Show(size), name)
		return
	}
	if q.inDepth > ingress {
		a.Worst = &answer.Worst{Day: q.in.State.Day, Condition: q.t.Conditions[q.inCond].Name}
		no(answer.Margin{Value: ingress - q.inDepth, Unit: "m", What: "sole above the sea, less the 10 mm let pass", Shown: fine.Show(-q.inDepth)},
			"%s the sole of the %s lies %s below the sea at its lowest, and its open drains let the sea in.", q.t.When(q.in.State.Day, q.inCond), q.all[q.inWell].Name, fine.Show(q.inDepth))
		return
	}
	if kind == 1 {
		why := "its drains stand too high"
		if low, _ := q.all[well].soleAbove(s.dry.Rest.Attitude); low < 0 {
			why = "the sea stands above its sole"
		}
		no(answer.Margin{Value: -size, Unit: "m3", What: "water that does not leave, beyond 20 mm on the sole", Shown: q.sys.Volume(units.Volume(size)) + " stay"},
			"%s %s stay in the %s for good, for %s.", when, q.sys.Volume(units.Volume(s.pools[well].rest)), name, why)
		return
	}
	q.timed(ctx, a, s, well, when)
}

// unfloated is the answer of a boat that cannot carry the water, or whose balance was not found.
func (q *ask) unfloated(a *answer.Answer, s *loaded, when string) {
	err, b, with := s.full.err, q.body(s.full.orNone(q)), "with the wells full "
	if s.dry.Err != nil {
		err, b, with = s.dry.Err, q.t.Ship.Body, ""
	}
	if errors.Is(err, hydro.ErrSinks) || isSinking(b, s.dry.State.Mass, q.t.Sea.Density) {
		short := b.Volume()*q.t.Sea.Density - s.dry.State.Mass
		a.Verdict, a.Sentence = answer.No, fmt.Sprintf("No: %s %sshe sinks.", when, with)
		a.Margin = &answer.Margin{Value: short, Unit: "kg", What: "buoyancy in reserve", Shown: q.sys.Mass(units.Mass(short))}
		return
	}
	a.Verdict = answer.CannotTell
	a.Sentence = fmt.Sprintf("Cannot tell: %s %sno balance was found (%v).", when, with, err)
	a.Needs = append(a.Needs, answer.Need{File: "boat.yaml", Key: "weights", Why: "a centre of gravity that the hull can carry; look for a weight in the wrong place"})
}

func (f *filled) orNone(q *ask) water {
	if f.water.volume == nil {
		return q.none()
	}
	return f.water
}

// timed is the answer where there is a time.
func (q *ask) timed(ctx context.Context, a *answer.Answer, s *loaded, well int, when string) {
	p := q.all[well]
	t := q.time(s, well)
	deviation := q.doubt(ctx, s, well, t)
	m := &answer.Margin{Value: limit - t, Unit: "s", Asked: asked, Spread: 1.96 * deviation, What: "time left of five minutes when the well is clear",
		Confidence: answer.Chance(limit-t, deviation), Shown: fmt.Sprintf("%.0f s ± %.0f s", limit-t, 1.96*deviation)}
	a.Margin, a.Verdict = m, m.Judge()
	weight := q.sys.Mass(units.Mass(q.loose(&s.full)))
	if len(p.outlets) == 0 {
		loads := math.Ceil(s.pools[well].full / loadOf)
		if a.Verdict == answer.Yes {
			a.Verdict = answer.Close
		}
		head := "Close"
		if a.Verdict == answer.No {
			head = "No"
		}
		a.Sentence = fmt.Sprintf("%s: the %s has no drain; %s it holds %s of water, %.0f bucket loads, about %s of bailing.",
			head, p.Name, when, q.sys.Mass(units.Mass(s.pools[well].full*q.t.Sea.Density)), loads, span(t))
		return
	}
	fact := fmt.Sprintf("filled to the brim with %s of water she stays upright and the %s clears in %s, slowest %s", weight, p.Name, span(t), when)
	if q.t.Days == 0 && len(q.t.Conditions) == 1 {
		fact = fmt.Sprintf("filled to the brim with %s of water she stays upright and the %s clears in %s", weight, p.Name, span(t))
	}
	shut := q.behindFlaps()
	switch {
	case a.Verdict == answer.No:
		a.Sentence = fmt.Sprintf("No: the %s takes %s to clear %s, longer than five minutes.", p.Name, span(t), when)
	case shut != "":
		a.Verdict = answer.Close
		a.Sentence = fmt.Sprintf("Close: %s; but %s.", fact, shut)
	case q.inDepth > 0:
		a.Verdict = answer.Close
		a.Sentence = fmt.Sprintf("Close: %s; but %s the sea stands %s on the lowest of the sole.", fact, q.t.When(q.in.State.Day, q.inCond), q.sys.Fine().Show(q.inDepth))
	case a.Verdict == answer.Close && m.Value < m.Asked:
		a.Sentence = fmt.Sprintf("Close: %s, more than the %s wanted.", fact, span(limit-asked))
	case a.Verdict == answer.Close:
		a.Sentence = fmt.Sprintf("Close: %s, and that is not sure: ± %.0f s.", fact, m.Spread)
	default:
		a.Sentence = fmt.Sprintf("Yes: %s.", fact)
	}
}

// behindFlaps says where a sole lies below the sea and only flaps keep it out.
func (q *ask) behindFlaps() string {
	deepest, text := 0.0, ""
	for c := range q.floats {
		for d := range q.floats[c] {
			f := &q.floats[c][d]
			for _, p := range q.all {
				low, _ := p.soleAbove(f.Rest.Attitude)
				for _, o := range p.outlets {
					if o.opening.Flap && f.Rest.Above(o.at) < 0 && low < deepest {
						deepest = low
						text = fmt.Sprintf("%s the sole of the %s lies %s below the sea, and only flaps keep it out", q.t.When(d, c), p.Name, q.sys.Fine().Show(-low))
					}
				}
			}
		}
	}
	return text
}

// span writes a time for people.
func span(s float64) string {
	switch {
	case math.IsInf(s, 1):
		return "never"
	case s < 99.5:
		return fmt.Sprintf("%.0f seconds", s)
	case s < 5400:
		return fmt.Sprintf("%.0f min %02.0f s", math.Floor(math.Round(s)/60), math.Mod(math.Round(s), 60))
	}
	return fmt.Sprintf("%.1f hours", s/3600)
}

// coefficients is the standard deviation that the discharge coefficients put on a time, as a share of it:
// 15 % nineteen times in twenty. Common practice, no source.
const coefficients = 0.15 / 1.96

// doubt is the standard deviation of a time: the tolerances of mass and place, which put the sole higher
// or lower, and the coefficients.
func (q *ask) doubt(ctx context.Context, s *loaded, well int, t float64) float64 {
	sum := sq(coefficients * t)
	l := afloat.Load(&s.dry.State)
	st := s.dry.State
	skin := q.t.Ship.Tolerance / 3
	mass := math.Hypot(st.Doubt, skin*q.t.Ship.Body.Envelope.Wetted(s.dry.Rest.Plane())*q.t.Sea.Density)
	change := func(mass, x float64) {
		if mass == 0 && x == 0 {
			return
		}
		k := l
		k.Mass += mass
		k.G.X += x
		f := q.fill(k, &s.dry.Rest.Attitude)
		if f.err != nil || f.gm <= 0 || f.water.open[well] {
			sum += sq(math.Max(limit, t)) // she may not clear at all
			return
		}
		other := loaded{full: f, pools: make([]pouring, len(q.all))}
		other.pools[well] = q.pour(ctx, well, k, f)
		v := q.time(&other, well)
		if math.IsInf(v, 1) {
			v = 2 * math.Max(limit, t)
		}
		sum += sq(v - t)
	}
	change(mass, 0)
	change(0, st.DoubtG.X)
	return math.Sqrt(sum)
}

func sq(v float64) float64 { return v * v }
