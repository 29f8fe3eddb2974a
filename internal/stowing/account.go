package stowing

import (
	"context"
	"errors"
	"time"

	"thole/internal/highs"
)

// Rule is one rule or wish by itself. Numbers that do not apply are -1.
type Rule struct {
	Kind  Kind // of the breach it forbids; TrimByBow stands for trim both ways, HeelToPort for heel both ways
	Item  int
	Other int // Together: an item of the other group; TooFew: which of the Keeps
	Place int
}

// Concession is a set of breaches that would let everything else be kept.
type Concession struct {
	Kinds    []Kind   // the kinds that were allowed
	Breaches []Breach // what is to be conceded, and how much
	Where    [][]int  // item → place → units, as it would then lie
	Price    float64  // by the account's prices
	Proved   bool     // none is cheaper
}

// Account says why a problem cannot be had as asked.
type Account struct {
	Collide       []Rule       // rules that cannot hold together, none of which can be left out when Minimal; nil: the rules can be kept, or it is not known
	Minimal       bool         // every smaller part of Collide was shown to hold together
	Least         *Concession  // the least concession of all kinds together
	Only          []Concession // the least of one kind alone, for each kind that is enough by itself
	Wishes        []Rule       // where the rules can be kept: wishes that cannot be had together
	WishesMinimal bool
}

// What a concession costs in the account. No source: judgement of what a person would
// rather do: find ten litres, or carry ten kilograms more in a place, before moving what was
// pinned, before wetting or mixing things, before leaving anything ashore.
const (
	perLitre = 0.1
	perKilo  = 0.1
	perPin   = 1.0
	perBan   = 1.0
	perWet   = 3.0
	perMixed = 3.0
	perLeft  = 5.0
)

// pieces is by how many the time is divided for each thing that is decided on the way.
const pieces = 5

// Explain finds which rules collide and what the least concession is; where the rules can
// be kept, which wishes collide. Sizes and openings are never conceded: what does not go
// through an opening stays ashore.
//
// The colliding set is found by deletion: a rule is left out for good when the others still
// collide. What time does not suffice to decide stays in, and the set is then not Minimal.
//
// Source: Chinneck, Feasibility and Infeasibility in Optimization (2008), sections 6.2 and 7.2
func Explain(ctx context.Context, p *Problem, opt Options) (*Account, error) {
	j, err := prepare(p)
	if err != nil {
		return nil, err
	}
	if opt.Seconds <= 0 {
		opt.Seconds = 10
	}
	ctx, cancel := context.WithTimeout(ctx, time.Duration(opt.Seconds*float64(time.Second)))
	defer cancel()
	piece := opt.Seconds / pieces
	a := &Account{}
	if j.Lies {
		a.Wishes, a.WishesMinimal, err = j.wishes(ctx, 1.5*piece)
		return a, err
	}
	all := j.rules()
	hold, sure, err := j.hold(ctx, all, piece)
	if err != nil || !sure {
		return a, err
	}
	if hold {
		a.Wishes, a.WishesMinimal, err = j.wishes(ctx, 1.5*piece)
		return a, err
	}
	kinds := []Kind{NoRoom, TooHeavy, GetsWet, Together, TooFew, IsBanned, Unpinned, Ashore}
	if a.Least, err = j.concede(ctx, kinds, 1.5*piece); err != nil {
		return a, err
	}
	for _, k := range kinds {
		c, err := j.concede(ctx, []Kind{k}, 1.5*piece)
		if err != nil {
			return a, err
		}
		if c != nil {
			a.Only = append(a.Only, *c)
		}
	}
	a.Collide, a.Minimal, err = deletion(all, func(rest []Rule) (bool, bool, error) { return j.hold(ctx, rest, piece) })
	return a, err
}

// deletion takes rules out, many at a time and then one by one, as long as the rest still
// collide. holds tells whether rules hold together, and whether it is sure.
func deletion(set []Rule, holds func([]Rule) (bool, bool, error)) ([]Rule, bool, error) {
	minimal := true
	for size := (len(set) + 1) / 2; size >= 1; size /= 2 {
		minimal = true
		for from := 0; from < len(set); {
			to := min(len(set), from+size)
			rest := append(append([]Rule(nil), set[:from]...), set[to:]...)
			hold, sure, err := holds(rest)
			if err != nil {
				return set, false, err
			}
			if sure && !hold {
				set = rest
				continue
			}
			minimal = minimal && sure
			from = to
		}
	}
	return set, minimal, nil
}

// feasible asks the solver whether a program has a solution: (has, sure).
func feasible(ctx context.Context, m *highs.Model, seconds float64) (bool, bool, error) {
	if len(m.Columns) == 0 {
		return true, true, nil
	}
	s, err := highs.Solve(ctx, m, highs.Options{Seconds: seconds, Gap: 1})
	switch {
	case errors.Is(err, highs.ErrInfeasible):
		return false, true, nil
	case err != nil:
		return false, false, err
	}
	return s.X != nil, s.X != nil, nil
}

// wishes is a set of wishes that cannot be had together, while every rule holds: nil when
// all can be had, or when that was not decided. Blocks are made long, at most four: what
// cannot be had on fewer check days cannot be had on more.
func (j *job) wishes(ctx context.Context, seconds float64) ([]Rule, bool, error) {
	short := *j.Problem
	const most = 4
	parts := (len(j.span) + most - 1) / most
	short.Trip.Block = max(1, j.block*parts)
	c, err := prepare(&short)
	if err != nil {
		return nil, false, err
	}
	p := c.build()
	for n := range p.m.Columns {
		p.m.Columns[n].Cost = 0
	}
	p.m.Offset = 0
	for _, row := range p.open {
		for _, col := range row {
			if col >= 0 {
				p.m.Columns[col].Lower = 1
			}
		}
	}
	hold := func(asked []Rule) (bool, bool, error) {
		m := p.m
		m.Columns = append([]highs.Column(nil), p.m.Columns...)
		for _, w := range asked {
			p.insist(&m, w)
		}
		return feasible(ctx, &m, seconds)
	}
	all := p.asked()
	if ok, sure, err := hold(all); err != nil || !sure || ok {
		return nil, false, err
	}
	return deletion(all, hold)
}

// asked lists the wishes of a program.
func (p *program) asked() []Rule {
	var out []Rule
	for q, k := range [...]Kind{TrimByBow, HeelToPort, TooHigh} {
		if p.worst[q] >= 0 {
			out = append(out, Rule{k, -1, -1, -1})
		}
	}
	for i := range p.j.Items {
		much, far := false, false
		for k := range p.j.Places {
			much = much || p.much[i][k] >= 0
			far = far || p.j.far[i][k] > 0 && p.j.Items[i].Units > 0
		}
		if much {
			out = append(out, Rule{TooMuch, i, -1, -1})
		}
		if far {
			out = append(out, Rule{TooFar, i, -1, -1})
		}
	}
	return out
}

// insist makes a wish a rule of the program.
func (p *program) insist(m *highs.Model, w Rule) {
	zero := func(col int) {
		if col >= 0 {
			m.Columns[col].Upper = 0
		}
	}
	switch w.Kind {
	case TrimByBow:
		zero(p.worst[0])
	case HeelToPort:
		zero(p.worst[1])
	case TooHigh:
		zero(p.worst[2])
	}
	if w.Item < 0 {
		return
	}
	for k := range p.j.Places {
		switch {
		case w.Kind == TooMuch:
			zero(p.much[w.Item][k])
		case p.j.far[w.Item][k] > 0:
			zero(p.where[w.Item][k])
			for b := range p.take[w.Item] {
				zero(p.take[w.Item][b][k])
			}
		}
	}
}
