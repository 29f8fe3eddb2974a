package stowage

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"thole/internal/model"
	"thole/internal/stowing"
	"thole/internal/units"
)

// Rule is what a layout may break.
type Rule string

// The rules, the worst broken first.
const (
	NoWayIn  Rule = "way in"  // no opening leads to the place
	Opening  Rule = "opening" // larger than an opening on the way in
	Dry      Rule = "dry"     // must lie dry, and the place is wet
	Apart    Rule = "apart"   // lies with a group that it may not lie with
	Reach    Rule = "reach"   // harder to get at than asked
	Split    Rule = "split"   // more of it in one place than asked
	Limit    Rule = "limit"   // the place bears no more
	Volume   Rule = "volume"  // the place holds no more
	Unpinned Rule = "pinned"  // not where it is to stay
	Spare    Rule = "spare"   // one flooding would take away what it does not as written
)

var order = []Rule{NoWayIn, Opening, Dry, Apart, Reach, Split, Limit, Volume, Spare, Unpinned}

// Broken is one rule that a layout breaks in one place.
type Broken struct {
	Rule  Rule
	Item  int // -1 for a place by itself
	Other int // Apart: an item of the other group; else -1
	Place int
	Units int     // pieces at fault
	By    float64 // m³ too much (Volume), kg too much (Limit), else 0
	Keep  int     // Spare: which of Problem.Keeps; else 0
}

// Judgement is how a layout keeps the rules.
type Judgement struct {
	Figures stowing.Figures
	Broken  []Broken
	// Fullest is the place with least room for its size, -1 where nothing lies in any; Room is what is left in it, m³, and
	// Doubt the standard deviation of that.
	Fullest     int
	Room, Doubt float64
}

// Judge tells how layouts keep the rules, and is made once for many of them. It is for one goroutine at a time.
type Judge struct {
	s *Stowage
	e *stowing.Evaluator
}

// NewJudge makes ready to judge layouts of a problem, with its rest and limits or without.
func (s *Stowage) NewJudge(p *stowing.Problem) (*Judge, error) {
	e, err := stowing.NewEvaluator(p)
	if err != nil {
		return nil, err
	}
	return &Judge{s, e}, nil
}

// Of judges one layout.
//
// Error: it is none of this problem
func (j *Judge) Of(l stowing.Layout) (*Judgement, error) {
	if err := j.e.Check(l); err != nil {
		return nil, err
	}
	out := &Judgement{}
	j.e.Evaluate(l, &out.Figures)
	j.s.rules(l, out)
	j.s.fullest(out)
	return out, nil
}

// rules turns what the solver calls broken into rules of the folder.
func (s *Stowage) rules(l stowing.Layout, out *Judgement) {
	for _, list := range [][]stowing.Breach{out.Figures.Rules, out.Figures.Broken} {
		for _, b := range list {
			r := Broken{Item: b.Item, Other: -1, Place: b.Place, Units: int(math.Round(b.By))}
			switch b.Kind {
			case stowing.NoRoom:
				r.Rule, r.By, r.Units = Volume, b.By, 0
			case stowing.TooHeavy:
				r.Rule, r.By, r.Units = Limit, b.By, 0
			case stowing.TooLarge:
				r.Rule = Opening
			case stowing.IsBanned:
				r.Rule = Opening
				if s.Places[b.Place].Shut {
					r.Rule = NoWayIn
				} else if !stowing.Passes(s.Problem.Items[b.Item].Size, s.Problem.Places[b.Place].Opening) {
					continue // told already by the last of its openings
				}
			case stowing.GetsWet:
				r.Rule = Dry
			case stowing.Together:
				r.Rule, r.Other, r.Units = Apart, b.Other, l.Where[b.Item][b.Place]
			case stowing.TooFar:
				r.Rule, r.Units = Reach, l.Where[b.Item][b.Place]
			case stowing.Unpinned:
				r.Rule = Unpinned
			case stowing.TooFew:
				r.Rule, r.Keep, r.Place = Spare, b.Other, s.held[b.Other]
			default:
				continue // shares are asked of kinds, below; trim, heel and height are told elsewhere
			}
			out.Broken = append(out.Broken, r)
		}
	}
	s.shares(l, out)
	slices.SortStableFunc(out.Broken, func(a, b Broken) int {
		return cmp.Or(cmp.Compare(slices.Index(order, a.Rule), slices.Index(order, b.Rule)), cmp.Compare(a.Place, b.Place), cmp.Compare(a.Item, b.Item))
	})
}

// shares asks of every kind, all items of a name together, whether too much of it lies in one place.
func (s *Stowage) shares(l stowing.Layout, out *Judgement) {
	seen := make([]bool, len(s.Items))
	for i := range s.Items {
		most := s.Store(i).Most
		if seen[i] || most <= 0 {
			continue
		}
		total, in := 0, make([]int, len(s.Places))
		for k := i; k < len(s.Items); k++ {
			if model.PlainName(s.Store(k).What) != model.PlainName(s.Store(i).What) {
				continue
			}
			seen[k] = true
			total += s.Problem.Items[k].Units
			for p, n := range l.Where[k] {
				in[p] += n
			}
		}
		allowed := max(1, int(math.Floor(most*float64(total)+1e-9)))
		for p, n := range in {
			if n > allowed {
				out.Broken = append(out.Broken, Broken{Rule: Split, Item: i, Other: -1, Place: p, Units: n - allowed})
			}
		}
	}
}

// fullest finds the place that is fullest for its size.
func (s *Stowage) fullest(out *Judgement) {
	out.Fullest = -1
	most := math.Inf(-1)
	for k, f := range out.Figures.Fill {
		usable := s.Usable(k)
		if f.Mass <= 0 && f.Volume <= 0 && usable >= 0 {
			continue
		}
		// A place that is kept wholly free for what comes later has no size by which to be full.
		if full := f.Volume / math.Max(usable, 1e-4); full > most {
			most, out.Fullest, out.Room = full, k, usable-f.Volume
			out.Doubt = s.doubt(k)
		}
	}
}

// doubt is the standard deviation of what can be filled of a place, m³.
func (s *Stowage) doubt(k int) float64 {
	return PackingDoubt * s.Places[k].Volume * s.Places[k].Packing / 1.96
}

// sureOf is how many standard deviations of room are kept free so that a place is sure to hold what lies in it: 19 in 20, and a little.
const sureOf = 1.7

// WithRoom is a problem like another whose places are filled only so far that they are sure to hold what lies in them.
func (s *Stowage) WithRoom(p *stowing.Problem) *stowing.Problem {
	out := *p
	out.Places = slices.Clone(p.Places)
	for k := range out.Places {
		out.Places[k].Volume = math.Max(0, out.Places[k].Volume-sureOf*s.doubt(k))
	}
	return &out
}

// Said is a broken rule in words, as the end of a sentence.
func (s *Stowage) Said(b Broken) string {
	sys := s.Trip.Folder.Boat.Units
	place := s.Problem.Places[b.Place].Name
	name, are, it := "", "is", "it"
	if b.Item >= 0 {
		name = s.Name(b.Item)
		if b.Units > 1 {
			name, are, it = fmt.Sprintf("%d of %s", b.Units, name), "are", "they"
		}
	}
	lies := map[string]string{"is": "lies", "are": "lie"}[are]
	switch b.Rule {
	case NoWayIn:
		return fmt.Sprintf("%s %s in %s, into which no opening leads", name, lies, place)
	case Opening:
		at := s.Places[b.Place].Doors[0]
		if o := s.barred(&s.Problem.Items[b.Item], b.Place); o != nil && stowing.Passes(s.Problem.Items[b.Item].Size, size(at)) {
			at = o
		}
		return fmt.Sprintf("%s (%s) %s too large for %s (%s by %s) on the way into %s", name, s.sizes(b.Item), are, at.Name, sys.Length(at.Width), sys.Length(at.Height), place)
	case Dry:
		return fmt.Sprintf("%s must lie dry and %s in %s, which is wet", name, lies, place)
	case Apart:
		return fmt.Sprintf("%s %s with %s in %s, which it may not", name, lies, s.Name(b.Other), place)
	case Reach:
		return fmt.Sprintf("%s %s in %s, reached %s, and %s to be reached %s", name, lies, place, s.Places[b.Place].Reach, it+" "+map[string]string{"is": "is", "are": "are"}[are], s.Store(b.Item).Reach)
	case Split:
		return fmt.Sprintf("%s too many %s in %s: no more than %.0f %% of them may lie in one place", name, lies, place, 100*s.Store(b.Item).Most)
	case Limit:
		return fmt.Sprintf("%s bears %s and holds %s more", place, sys.Mass(s.Places[b.Place].Compartment.Limit), sys.Mass(units.Mass(b.By)))
	case Spare:
		return s.Problem.Keeps[b.Keep].Name + ": so it is as written, and would be no longer"
	case Volume:
		return fmt.Sprintf("%s is overfull by %s", place, sys.Volume(units.Volume(b.By)))
	}
	return fmt.Sprintf("%s %s to stay in %s", name, are, place)
}

func (s *Stowage) sizes(item int) string {
	sys := s.Trip.Folder.Boat.Units
	out := ""
	for k, l := range s.Store(item).Size {
		if k > 0 {
			out += " by "
		}
		out += sys.Length(l)
	}
	return out
}
