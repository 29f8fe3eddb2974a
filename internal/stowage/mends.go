package stowage

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/model"
	"thole/internal/stowing"
)

// Move is so many pieces of an item carried from one place to another.
type Move struct {
	Item, From, To, Units int
}

// MoveSaid is a move in words: 4 of rice from 202 fore bin port to 301 well locker.
func (s *Stowage) MoveSaid(m Move) string {
	what := s.Name(m.Item)
	if m.Units < s.Problem.Items[m.Item].Units || m.Units > 1 {
		what = fmt.Sprintf("%d of %s", m.Units, what)
	}
	return fmt.Sprintf("%s from %s to %s", what, s.Problem.Places[m.From].Name, s.Problem.Places[m.To].Name)
}

// Acts are a move as acts on the folder: a row after another of those that are the item, as a layout's Move takes them (the latest used first). It
// is nil where other rows of the same name in the same place are another item, so that a name does not tell them apart.
func (s *Stowage) Acts(m Move) []model.Act {
	name := s.Store(m.Item).What
	for k := range s.Items {
		if k != m.Item && s.Written.Where[k][m.From] > 0 && model.PlainName(s.Store(k).What) == model.PlainName(name) {
			return nil
		}
	}
	b := &s.Trip.Folder.Boat
	act := model.Act{Do: model.Put, What: []string{name}, From: b.Compartments[m.From].Name, To: b.Compartments[m.To].Name}
	if m.Units < s.Written.Where[m.Item][m.From] {
		act.Count = m.Units
	}
	return []model.Act{act}
}

// Mended is a move that was tried, and how the layout then lies.
type Mended struct {
	Move
	After  *Judgement
	harder int     // steps of reach that it is harder to get at than before
	mass   float64 // kg
	way    float64 // m
}

// Mend is the least single move that takes a broken rule away and breaks no other any further: the one that leaves fewest rules
// broken, then the one that leaves least to do underway, then that to a place no harder to reach, then that of least mass and shortest way. Nil when no single move does. Every one that could is really tried.
//
// Error: as Judge.Of
func (s *Stowage) Mend(j *Judge, l stowing.Layout, was *Judgement, b Broken) (*Mended, error) {
	var best *Mended
	for _, item := range s.behind(l, b) {
		for to := range s.Places {
			if to == b.Place {
				continue
			}
			n := s.enough(item, l.Where[item][b.Place], b)
			if n == 0 {
				continue
			}
			next := l.Clone()
			next.Move(item, b.Place, to, n)
			after, err := j.Of(next)
			if err != nil {
				return nil, err
			}
			if after.has(b) || after.worse(was) {
				continue
			}
			from, there := &s.Problem.Places[b.Place], &s.Problem.Places[to]
			m := &Mended{Move{item, b.Place, to, n}, after, max(0, int(there.Reach-from.Reach)), float64(n) * s.Problem.Items[item].Mass, r3.Norm(r3.Sub(there.At, from.At))}
			if best == nil || m.before(best) {
				best = m
			}
		}
	}
	return best, nil
}

// before tells whether a mend is the lesser of two.
func (m *Mended) before(o *Mended) bool {
	return cmp.Or(cmp.Compare(len(m.After.Broken), len(o.After.Broken)), closely(m.After.Figures.Handling, o.After.Figures.Handling),
		cmp.Compare(m.harder, o.harder), closely(m.mass, o.mass), closely(m.way, o.way)) < 0
}

// closely compares two figures that rounding may part.
func closely(a, b float64) int {
	if math.Abs(a-b) < 1e-9 {
		return 0
	}
	return cmp.Compare(a, b)
}

// behind are the items by whose moving a rule may be kept.
func (s *Stowage) behind(l stowing.Layout, b Broken) []int {
	switch b.Rule {
	case Unpinned:
		return nil // it is not where the move would begin
	case Apart:
		return []int{b.Item, b.Other}
	case Volume, Limit:
		var out []int
		for i := range s.Items {
			if l.Where[i][b.Place] > 0 && len(s.Problem.Items[i].Pins) == 0 {
				out = append(out, i)
			}
		}
		return out
	}
	return []int{b.Item}
}

// enough is how many pieces of an item, of those that lie in the place, must leave it; 0 when all of them are not enough.
func (s *Stowage) enough(item, there int, b Broken) int {
	it := &s.Problem.Items[item]
	each := 0.0
	switch b.Rule {
	case Split:
		return min(b.Units, there)
	case Volume:
		each = it.Volume
	case Limit:
		each = it.Mass
	default:
		return there
	}
	n := int(math.Ceil(b.By/math.Max(each, 1e-12) - 1e-9))
	if each <= 0 || n > there {
		return 0
	}
	return max(1, n)
}

// has tells whether a rule is still broken in the same place.
func (j *Judgement) has(b Broken) bool {
	return slices.ContainsFunc(j.Broken, func(o Broken) bool {
		return o.Rule == b.Rule && o.Item == b.Item && o.Place == b.Place && o.Keep == b.Keep
	})
}

// worse tells whether a rule is broken that was not, or further than it was.
func (j *Judgement) worse(was *Judgement) bool {
	for _, o := range j.Broken {
		k := slices.IndexFunc(was.Broken, func(b Broken) bool {
			return b.Rule == o.Rule && b.Item == o.Item && b.Place == o.Place && b.Keep == o.Keep
		})
		if k < 0 || was.Broken[k].By < o.By-1e-9 || was.Broken[k].Units < o.Units {
			return true
		}
	}
	return false
}
