package spare

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"thole/internal/answer"
)

// sort puts what was found in order, the worst first.
func (q *ask) sort(by map[int]*Function, singles map[string]*Single, pairs map[string]*Pair, order []string) {
	for _, i := range slices.Sorted(maps.Keys(by)) {
		q.f.Functions = append(q.f.Functions, *by[i])
	}
	slices.SortStableFunc(q.f.Functions, func(a, b Function) int { return cmp.Compare(b.Rank, a.Rank) })
	for _, k := range slices.Sorted(maps.Keys(singles)) {
		q.f.Singles = append(q.f.Singles, *singles[k])
	}
	slices.SortStableFunc(q.f.Singles, func(a, b Single) int {
		return cmp.Or(cmp.Compare(b.Rank, a.Rank), cmp.Compare(a.function, b.function), cmp.Compare(a.Loss.Kind, b.Loss.Kind), cmp.Compare(a.Loss.What, b.Loss.What))
	})
	for _, k := range order {
		q.f.Pairs = append(q.f.Pairs, *pairs[k])
	}
	slices.SortStableFunc(q.f.Pairs, func(a, b Pair) int {
		return cmp.Or(cmp.Compare(b.Rank, a.Rank), cmp.Compare(b.Harm, a.Harm), cmp.Compare(len(b.Ends), len(a.Ends)), cmp.Compare(a.key, b.key))
	})
	lacks := map[string][]string{}
	for _, g := range q.looks[:1] { // what is used up by the last day is told by its singles
		for name, by := range g.lacks {
			lacks[name] = nil
			for _, i := range by {
				if i >= 0 {
					lacks[name] = append(lacks[name], q.c.Folder.Needs.Functions[i].Name)
				}
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(lacks)) {
		slices.Sort(lacks[name])
		q.f.Lacks = append(q.f.Lacks, Lack{name, lacks[name]})
	}
}

// judge gives verdict, margin and sentence.
func (q *ask) judge(a *answer.Answer) {
	top := q.f.Functions[0].Rank
	least := furthest + 1
	for _, fn := range q.f.Functions {
		if fn.Rank == top {
			least = min(least, fn.Least)
		}
	}
	m := answer.Margin{Value: float64(least - 1), Unit: "losses", Asked: 1, What: fmt.Sprintf("least number of losses that ends a function of rank %d, less one (counted, so without a spread)", top)}
	if least > 1 {
		m.Confidence = 1
	}
	switch least {
	case 0:
		m.Shown = "ended already"
	case 1:
		m.Shown = "1 loss ends it"
	case furthest + 1:
		m.Shown = "3 losses or more"
	default:
		m.Shown = fmt.Sprintf("%d losses end it", least)
	}
	a.Margin, a.Verdict = &m, m.Judge()
	var why []string
	graves := q.count(func(s *Single) bool { return s.Rank >= grave && s.Rank < top })
	if graves > 0 {
		s := q.f.Singles[slices.IndexFunc(q.f.Singles, func(s Single) bool { return s.Rank >= grave && s.Rank < top })]
		one := fmt.Sprintf("%d single losses end a function of rank %d, as when %s: no more %s", graves, grave, s.Loss.What, quote(s.Function))
		if graves == 1 {
			one = fmt.Sprintf("one loss ends a function of rank %d: when %s, no more %s", grave, s.Loss.What, quote(s.Function))
		}
		why = append(why, one)
	}
	for _, fn := range q.f.Functions {
		if fn.Least == 0 && fn.Rank >= grave && fn.Rank < top {
			why = append(why, fmt.Sprintf("nothing aboard provides %s", quote(fn.Name)))
			break
		}
	}
	if len(q.late) > 0 {
		why = append(why, fmt.Sprintf("%s, which %s rests on, is out of date %s", q.late[0].What, quote(q.late[0].For), q.late[0].Standing))
	}
	if a.Verdict == answer.Yes && len(why) > 0 {
		a.Verdict = answer.Close
	}
	a.Sentence = q.sentence(a.Verdict, top, least, why)
}

func (q *ask) sentence(v answer.Verdict, top, least int, why []string) string {
	harm := map[int]string{5: "costs a life", 4: "costs the boat or the voyage", 3: "costs weeks", 2: "costs days", 1: "is a nuisance"}[top]
	switch {
	case v == answer.No && least == 0:
		for _, fn := range q.f.Functions {
			if fn.Least == 0 && fn.Rank == top {
				return fmt.Sprintf("No: nothing aboard provides %s, and its loss %s.", quote(fn.Name), harm)
			}
		}
	case v == answer.No:
		s := q.f.Singles[0]
		n := q.count(func(s *Single) bool { return s.Rank == top })
		text := fmt.Sprintf("No: one loss is enough. When %s, there is no more %s, and that %s", s.Loss.What, quote(s.Function), harm)
		if n > 1 {
			text += fmt.Sprintf("; there are %d such losses", n)
		}
		return text + "."
	case v == answer.Close:
		return fmt.Sprintf("Close: no single loss that was looked at %s, but %s.", harm, strings.Join(why, "; and "))
	}
	pairs := 0
	for _, p := range q.f.Pairs {
		if p.Rank == top {
			pairs++
		}
	}
	if pairs == 0 {
		return fmt.Sprintf("Yes, she stands it: no loss that was looked at, and no two together, %s.", harm)
	}
	return fmt.Sprintf("Yes, she stands one: no single loss that was looked at %s; %d pairs of them do.", harm, pairs)
}

// quote marks a function's name off from the sentence.
func quote(name string) string { return `"` + name + `"` }

func (q *ask) count(is func(*Single) bool) int {
	n := 0
	for i := range q.f.Singles {
		if is(&q.f.Singles[i]) {
			n++
		}
	}
	return n
}
