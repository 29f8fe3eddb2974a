package stow

import (
	"fmt"
	"strings"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/stowage"
	"thole/internal/stowing"
)

// finding is what the search ends with: the plan made in memory, judged and floated.
func (r *run) finding() (answer.Finding, error) {
	acts, left := r.s.ActsOf(r.plan.Layout)
	r.left = left
	layout := r.reachable(left)
	t, err := afloat.NewFrom(r.s.Applied(layout), r.t)
	if err != nil {
		return answer.Finding{}, err
	}
	s, err := stowage.New(t)
	if err != nil {
		return answer.Finding{}, err
	}
	r.now = &side{s: s, figure: &r.plan.Figures}
	j, err := s.NewJudge(&s.Problem)
	if err != nil {
		return answer.Finding{}, err
	}
	if r.now.judged, err = j.Of(s.Written); err != nil {
		return answer.Finding{}, err
	}
	// The last word is had whether or not the person has stopped the search.
	if r.now.states, err = stowage.Worst(r.ctxLast(), t, stowage.Days(t)); err != nil {
		return answer.Finding{}, err
	}
	f := answer.Finding{Done: true, Sentence: r.ending(), Gap: gap(r.plan.Objective, r.plan.Bound)}
	if len(r.plan.Rules) > 0 {
		f.Gap = nil
	}
	better := r.now.rules() < r.was.rules() || r.now.rules() == r.was.rules() && r.plan.Objective < r.was.judged.Figures.Objective*(1-least)
	if better && len(acts) > 0 {
		f.Offers = []answer.Offer{{Name: "the stowage found", Why: r.reason(), Acts: acts}}
	}
	r.lay(&f)
	return f, nil
}

// reachable is the plan with what no act can tell apart left where it lies.
func (r *run) reachable(left []string) stowing.Layout {
	if len(left) == 0 {
		return r.plan.Layout
	}
	l := r.plan.Layout.Clone()
	for i := range r.s.Items {
		for _, name := range left {
			if r.s.Name(i) == name {
				l.Where[i], l.Take[i] = r.s.Written.Where[i], r.s.Written.Take[i]
			}
		}
	}
	return l
}

// ending is the last sentence.
func (r *run) ending() string {
	text := r.final()
	if len(r.left) > 0 {
		text += fmt.Sprintf(" %s lie as written, since other rows are called the same: give them names of their own.", strings.Join(r.left, ", "))
	}
	if len(r.plan.Rules) == 0 || r.why == nil {
		return text
	}
	if len(r.why.Collide) > 0 {
		text += fmt.Sprintf(" These cannot be had together: %s.", r.colliding(r.why.Collide))
	}
	if r.why.Least != nil && len(r.why.Least.Breaches) > 0 {
		text += fmt.Sprintf(" The least that would have to give: %s.", r.conceded(r.why.Least.Breaches))
	}
	return text
}

// final is the sentence about the plan as it was made and floated.
func (r *run) final() string {
	was, now := r.was, r.now
	if now.rules() == was.rules() && r.plan.Objective >= was.judged.Figures.Objective*(1-least) {
		return r.sentence(&stowage.Judgement{Figures: r.plan.Figures, Broken: now.judged.Broken}, r.plan.Bound)
	}
	text := fmt.Sprintf("Found a stowage with %s", r.handling(now.judged.Figures.Handling))
	switch n, m := was.rules(), now.rules(); {
	case m > 0:
		text += fmt.Sprintf(", but %s broken (as written %d): %s", rules(m), n, now.s.Said(now.judged.Broken[0]))
	case n > 0:
		text += fmt.Sprintf(", and every rule is kept (as written %s broken)", count(n, "is", "are"))
	}
	fine := r.c.Folder.Boat.Units.Fine()
	if a, b := low(was.states), low(now.states); a == a && b == b {
		text += fmt.Sprintf("; least height left %s, as written %s", fine.Show(b), fine.Show(a))
		if asked := r.b.Asked.Height; b < asked {
			text += fmt.Sprintf(", and %s is asked", fine.Show(asked))
			if r.best < asked {
				text += fmt.Sprintf(": no stowage can leave more than about %s", fine.Show(r.best))
			}
		}
	}
	return text + r.atBest(r.plan.Objective, r.plan.Bound)
}

// reason says what the offer does.
func (r *run) reason() string {
	n := len(r.s.Changed(r.plan.Layout))
	return fmt.Sprintf("%s lie elsewhere or are used in another order: %s", count(n, "thing", "things"), strings.TrimSuffix(r.final(), "."))
}

// most bounds how many rules and concessions are told in a sentence.
const most = 6

// colliding are rules in words.
func (r *run) colliding(list []stowing.Rule) string {
	var out []string
	for n, c := range list {
		if n == most {
			out = append(out, fmt.Sprintf("%d more", len(list)-most))
			break
		}
		item, place := "", ""
		if c.Item >= 0 {
			item = r.s.Name(c.Item)
		}
		if c.Place >= 0 {
			place = r.s.Problem.Places[c.Place].Name
		}
		switch c.Kind {
		case stowing.NoRoom:
			out = append(out, "the room in "+place)
		case stowing.TooHeavy:
			out = append(out, "what "+place+" bears")
		case stowing.TooLarge:
			out = append(out, item+" through an opening")
		case stowing.GetsWet:
			out = append(out, item+" dry")
		case stowing.Together:
			out = append(out, item+" apart from "+r.s.Name(c.Other))
		case stowing.IsBanned:
			out = append(out, item+" not where there is no way in for it")
		case stowing.Unpinned:
			out = append(out, item+" pinned in "+place)
		case stowing.Ashore:
			out = append(out, "all of "+item+" aboard")
		case stowing.TooFew:
			out = append(out, r.s.Problem.Keeps[c.Other].Name)
		case stowing.TrimByBow, stowing.TrimByStern:
			out = append(out, "the trim")
		case stowing.HeelToPort, stowing.HeelToStarboard:
			out = append(out, "the heel")
		case stowing.TooHigh:
			out = append(out, "the height left")
		case stowing.TooMuch:
			out = append(out, "the share of "+item+" in one place")
		case stowing.TooFar:
			out = append(out, item+" within reach")
		}
	}
	return strings.Join(out, "; ")
}

// conceded are breaches in words.
func (r *run) conceded(list []stowing.Breach) string {
	var out []string
	sys := r.c.Folder.Boat.Units
	for n, b := range list {
		if n == most {
			out = append(out, fmt.Sprintf("%d more", len(list)-most))
			break
		}
		item, place := "", ""
		if b.Item >= 0 {
			item = r.s.Name(b.Item)
		}
		if b.Place >= 0 {
			place = r.s.Problem.Places[b.Place].Name
		}
		units := fmt.Sprintf("%.0f of %s", b.By, item)
		switch b.Kind {
		case stowing.NoRoom:
			out = append(out, fmt.Sprintf("%s more room in %s", sys.Volume(volume(b.By)), place))
		case stowing.TooHeavy:
			out = append(out, fmt.Sprintf("%s more in %s", sys.Mass(mass(b.By)), place))
		case stowing.GetsWet:
			out = append(out, units+" in the wet of "+place)
		case stowing.Together:
			out = append(out, fmt.Sprintf("%s with %s", item, r.s.Name(b.Other)))
		case stowing.Unpinned:
			out = append(out, units+" moved from "+place)
		case stowing.Ashore:
			out = append(out, units+" left ashore")
		case stowing.TooFew:
			out = append(out, "no longer: "+r.s.Problem.Keeps[b.Other].Name)
		default:
			out = append(out, units+" where it may not lie")
		}
	}
	return strings.Join(out, "; ")
}
