package feed

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"thole/internal/sustenance"
)

// failures are the water with makers lost: each electric one and all of them, from the first day and from later ones, and all that there are.
func (q *ask) failures() ([]FailureFigures, error) {
	all := q.p.Plan.Makers
	electric, hand := 0, 0
	for _, m := range all {
		if m.Hand {
			hand++
		} else {
			electric++
		}
	}
	var out []FailureFigures
	try := func(what string, from int, gone func(m sustenance.Maker) bool) error {
		f, err := q.without(what, from, gone)
		if err == nil {
			out = append(out, f)
		}
		return err
	}
	errs := []error{try("all", 0, func(sustenance.Maker) bool { return false })}
	if f, err := q.trained(); err != nil {
		errs = append(errs, err)
	} else {
		out = append(out, f)
	}
	if electric > 1 {
		for _, m := range all {
			if !m.Hand {
				errs = append(errs, try("without "+m.Name, 1, func(o sustenance.Maker) bool { return o.Name == m.Name }))
			}
		}
	}
	if electric > 0 {
		what := "by hand only"
		if hand == 0 {
			what = "without a maker"
		}
		for _, from := range []int{1, 20, 40} {
			if from < q.days {
				errs = append(errs, try(what, from, func(o sustenance.Maker) bool { return !o.Hand }))
			}
		}
	}
	if hand > 0 {
		errs = append(errs, try("without any maker", 1, func(sustenance.Maker) bool { return true }))
	}
	return out, errors.Join(errs...)
}

// without is the water with some makers lost from a day on, the first being 1.
func (q *ask) without(what string, from int, gone func(m sustenance.Maker) bool) (FailureFigures, error) {
	f := FailureFigures{What: what, From: from}
	p := q.plan(q.days)
	p.Makers = nil
	for _, m := range q.p.Plan.Makers {
		switch {
		case from > 0 && gone(m) && from <= m.From+1:
			continue
		case from > 0 && gone(m) && (m.Breaks == 0 || m.Breaks > from-1):
			m.Breaks = from - 1
			if m.Breaks == 0 {
				continue
			}
		}
		p.Makers = append(p.Makers, m)
	}
	return dry(f, p)
}

// trained is the water if each drinks what trainers plan instead of what the balance tells: the difference as if it were washed with.
func (q *ask) trained() (FailureFigures, error) {
	f := FailureFigures{What: fmt.Sprintf("all, but %.0f L each", trainers)}
	p := q.plan(q.days)
	p.Rowers = slices.Clone(p.Rowers)
	for i := range p.Rowers {
		p.Rowers[i].Thirst.Wash += math.Max(0, trainers-q.ledger.Days[q.at(q.arrival.median/2)].Each[i].Needs.Value)
	}
	return dry(f, p)
}

// trainers is what trainers plan for a rower and day, L.
//
// Source: race advice of 10 L a day; one crew's diary has 8, of which 1 in food (crews' pages)
const trainers = 10.0

// dry is how long the water of a plan lasts, what is pumped, and what becomes of the crew for a week once the tank is empty.
func dry(f FailureFigures, p *sustenance.Plan) (FailureFigures, error) {
	from := f.From
	lasts, err := p.Lasts()
	if err != nil {
		return f, err
	}
	f.Lasts, f.Ends = lasts.Water.Value, lasts.WaterEnds
	// Once the tank is empty a week shows what hands make and bodies lack.
	empty := min(longest, max(from, int(lasts.Water.Value)+1))
	p.Days = empty + 8
	l, err := p.Ledger()
	if err != nil {
		return f, err
	}
	people := float64(len(p.Rowers))
	start := max(1, from)
	after := l.Days[start-1 : min(len(l.Days), start+9)]
	for _, d := range after {
		f.Pumped += d.HandHours.Value / float64(len(after))
	}
	if !f.Ends {
		f.Says = "it does not run out"
		if f.Pumped > 1 {
			f.Says = fmt.Sprintf("it does not run out while hands pump %.1f h every day", f.Pumped)
		}
		return f, nil
	}
	week := l.Days[empty : empty+7]
	for _, d := range week {
		f.Short += d.Missing.Value / people / float64(len(week))
		for _, e := range d.Each {
			f.Drunk += e.Drunk.Value / people / float64(len(week))
		}
	}
	for i, e := range l.Days[len(l.Days)-1].Each {
		f.Lacks = math.Max(f.Lacks, e.Lacks.Value/p.Rowers[i].Person.Mass)
	}
	f.Says = sustenance.Dryness(f.Lacks)
	return f, nil
}
