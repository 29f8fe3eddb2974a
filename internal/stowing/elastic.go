package stowing

import (
	"context"
	"errors"
	"math"
	"slices"

	"thole/internal/highs"
)

// pile is the stowage at departure alone, which is all that rules look at.
type pile struct {
	m     highs.Model
	where [][]int // item → place: units
	give  []give
}

// give is a column that says how much of a rule is conceded.
type give struct {
	col   int
	b     Breach
	scale float64 // from the column's unit to the breach's
}

// rules lists every rule that forbids something.
func (j *job) rules() []Rule {
	var out []Rule
	for k := range j.Places {
		out = append(out, Rule{NoRoom, -1, -1, k})
		if j.Places[k].MassLimit > 0 {
			out = append(out, Rule{TooHeavy, -1, -1, k})
		}
	}
	for i := range j.Items {
		it := &j.Items[i]
		if it.Units == 0 {
			continue
		}
		large, wet := false, false
		for k := range j.Places {
			large = large || !passes(it.Size, j.Places[k].Opening)
			wet = wet || it.Dry && j.Places[k].Wet
			if it.Pins[k] > 0 {
				out = append(out, Rule{Unpinned, i, -1, k})
			}
		}
		for _, r := range [...]struct {
			kind Kind
			is   bool
		}{{TooLarge, large}, {GetsWet, wet}, {IsBanned, len(it.Banned) > 0}} {
			if r.is {
				out = append(out, Rule{r.kind, i, -1, -1})
			}
		}
	}
	for n := range j.Keeps {
		out = append(out, Rule{TooFew, -1, n, -1})
	}
	sorts, _ := j.sorts()
	for a := range sorts {
		for b := a + 1; b < len(sorts); b++ {
			if j.apart[sorts[a][0]][sorts[b][0]] {
				out = append(out, Rule{Together, sorts[a][0], sorts[b][0], -1})
			}
		}
	}
	return out
}

// hold tells whether rules hold together, and whether that is sure.
func (j *job) hold(ctx context.Context, rules []Rule, seconds float64) (bool, bool, error) {
	p := j.heap(rules, nil)
	return feasible(ctx, &p.m, seconds)
}

// concede finds the least concession of the kinds allowed; nil where they do not suffice, or
// where none was found in time.
func (j *job) concede(ctx context.Context, kinds []Kind, seconds float64) (*Concession, error) {
	p := j.heap(j.rules(), kinds)
	s, err := highs.Solve(ctx, &p.m, highs.Options{Seconds: seconds})
	if errors.Is(err, highs.ErrInfeasible) {
		return nil, nil
	}
	if err != nil || s.X == nil {
		return nil, err
	}
	c := &Concession{Kinds: kinds, Where: zeros(len(j.Items), len(j.Places)), Price: s.Objective, Proved: s.Status == highs.Optimal}
	for i := range p.where {
		for k, col := range p.where[i] {
			if col >= 0 {
				c.Where[i][k] = int(math.Round(s.X[col]))
			}
		}
	}
	for _, g := range p.give {
		if v := s.X[g.col]; v > 1e-6 {
			b := g.b
			b.By = v * g.scale
			c.Breaches = append(c.Breaches, b)
		}
	}
	return c, nil
}

// heap writes the program of departure with the rules given, those of the kinds given
// conceded at a price.
func (j *job) heap(rules []Rule, kinds []Kind) *pile {
	p := &pile{where: table(len(j.Items), len(j.Places))}
	for i := range j.Items {
		n := float64(j.Items[i].Units)
		if n == 0 {
			continue
		}
		r := p.m.Row(n, n)
		for k := range j.Places {
			p.where[i][k] = p.m.Whole(0, n, 0)
			p.m.Term(r, p.where[i][k], 1)
		}
		if slices.Contains(kinds, Ashore) {
			col := p.m.Whole(0, n, perLeft+perLitre*1000*j.Items[i].Volume)
			p.m.Term(r, col, 1)
			b := breach(Ashore)
			b.Item = i
			p.give = append(p.give, give{col, b, 1})
		}
	}
	for _, r := range rules {
		j.enforce(p, r, slices.Contains(kinds, r.Kind))
	}
	return p
}

// enforce adds one rule, or its elastic form.
func (j *job) enforce(p *pile, r Rule, gives bool) {
	b := Breach{Kind: r.Kind, Item: r.Item, Other: r.Other, Place: r.Place, Day: -1}
	concede := func(b Breach, row int, upper, price, sign, scale float64, whole bool) {
		if !gives {
			return
		}
		col := p.m.Column(0, upper, price)
		p.m.Columns[col].Integer = whole
		p.m.Term(row, col, sign)
		p.give = append(p.give, give{col, b, scale})
	}
	switch r.Kind {
	case NoRoom, TooHeavy:
		most, price, scale := 1000*j.Places[r.Place].Volume, perLitre, 1e-3
		if r.Kind == TooHeavy {
			most, price, scale = j.Places[r.Place].MassLimit, perKilo, 1
		}
		row := p.m.Row(math.Inf(-1), most)
		for i := range j.Items {
			each := 1000 * j.Items[i].Volume
			if r.Kind == TooHeavy {
				each = j.Items[i].Mass
			}
			if p.where[i][r.Place] >= 0 && each > 0 {
				p.m.Term(row, p.where[i][r.Place], each)
			}
		}
		concede(b, row, math.Inf(1), price, -1, scale, false)
	case Unpinned:
		pinned := float64(j.Items[r.Item].Pins[r.Place])
		row := p.m.Row(pinned, math.Inf(1))
		p.m.Term(row, p.where[r.Item][r.Place], 1)
		concede(b, row, pinned, perPin, 1, 1, true)
	case TooLarge, GetsWet, IsBanned:
		it := &j.Items[r.Item]
		for k := range j.Places {
			if r.Kind == TooLarge && passes(it.Size, j.Places[k].Opening) || r.Kind == GetsWet && !j.Places[k].Wet || r.Kind == IsBanned && !it.Banned[k] {
				continue
			}
			b.Place = k
			row := p.m.Row(math.Inf(-1), 0)
			p.m.Term(row, p.where[r.Item][k], 1)
			price := perWet
			if r.Kind == IsBanned {
				price = perBan
			}
			concede(b, row, float64(it.Units), price, -1, 1, true)
		}
	case TooFew:
		concede(b, p.keep(&j.Keeps[r.Other]), float64(j.Keeps[r.Other].Least), perMixed, 1, 1, true)
	case Together:
		j.keepApart(p, r, b, concede)
	}
}

// keepApart adds the rule that two sorts of items do not share a place.
func (j *job) keepApart(p *pile, r Rule, b Breach, concede func(b Breach, row int, upper, price, sign, scale float64, whole bool)) {
	sorts, of := j.sorts()
	for k := range j.Places {
		row := p.m.Row(math.Inf(-1), 1)
		for _, side := range [...]int{r.Item, r.Other} {
			holds := p.m.Whole(0, 1, 0)
			p.m.Term(row, holds, 1)
			for _, i := range sorts[of[side]] {
				if p.where[i][k] < 0 {
					continue
				}
				q := p.m.Row(math.Inf(-1), 0)
				p.m.Term(q, p.where[i][k], 1)
				p.m.Term(q, holds, -float64(j.Items[i].Units))
			}
		}
		b.Place = k
		concede(b, row, 1, perMixed, -1, 1, true)
	}
}
