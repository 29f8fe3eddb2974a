package boatfolder

import (
	"fmt"
	"slices"
	"strings"

	"thole/internal/model"
)

// worstRank is that of a function whose loss costs a life.
const worstRank = 5

// needs takes needs.yaml into the model. Whether something aboard provides what a function names is told with the
// answer: a thing left ashore does not make the file wrong.
func (r *reader) needs(n *node) *model.Needs {
	out := &model.Needs{Source: n.at}
	taken := map[string]model.Source{}
	for _, name := range model.Conditions {
		taken[plainName(name)] = model.Source{}
	}
	for _, k := range n.get("functions").all() {
		f := r.function(k)
		if name := k.get("name"); name != nil {
			r.ownName(taken, name)
		}
		out.Functions = append(out.Functions, f)
	}
	for _, k := range n.get("checklist").all() {
		out.Checklist = append(out.Checklist, model.Check{
			What: k.get("what").str(), Asks: k.get("asks").str(), By: dateOf(k.get("by")), Done: k.get("done").yes(), Source: k.at,
		})
	}
	r.uncircled(out.Functions)
	return out
}

func (r *reader) ownName(taken map[string]model.Source, name *node) {
	plain := plainName(name.text)
	first, is := taken[plain]
	switch {
	case !is:
		taken[plain] = name.at
	case first.File == "":
		r.fault(name.at, name.text, "give the function another name; "+strings.Join(model.Conditions, ", ")+" are known by themselves",
			"function %q has the name of a condition", shorten(name.text))
	default:
		r.fault(name.at, name.text, fmt.Sprintf("give each its own name; the first is on line %d", first.Line), "function %q: the name is taken", shorten(name.text))
	}
}

func (r *reader) function(n *node) model.Function {
	f := model.Function{Name: strings.Join(strings.Fields(n.get("name").str()), " "), Rank: int(n.get("rank").value()), Source: n.at}
	if f.Rank > worstRank {
		k := n.get("rank")
		r.fault(k.at, k.text, "write a rank from 1, a nuisance, to 5, a life", "rank %q is above %d", shorten(k.text), worstRank)
	}
	if count := n.get("of"); count != nil {
		f.Least = int(count.number)
	}
	var rules []string
	for _, rule := range []struct {
		key string
		to  *[]string
	}{{"any of", &f.AnyOf}, {"all of", &f.AllOf}, {"from", &f.From}} {
		if n.has(rule.key) {
			rules = append(rules, rule.key)
		}
		k := n.get(rule.key)
		if k == nil {
			continue
		}
		*rule.to = namesIn(k)
		if len(k.items) == 0 {
			r.fault(k.at, "", "name one, or leave the key out", "%s of function %q is empty", rule.key, shorten(f.Name))
		}
		var seen []string
		for _, item := range k.all() {
			plain := plainName(item.text)
			switch {
			case plain == plainName(f.Name):
				r.fault(item.at, item.text, "name what provides it", "function %q names itself", shorten(f.Name))
			case slices.Contains(seen, plain):
				r.fault(item.at, item.text, "name it once", "%q stands twice in one list", shorten(item.text))
			}
			seen = append(seen, plain)
		}
	}
	if len(rules) > 1 {
		r.fault(n.at, "", "keep one of them, and put the others into functions of their own", "function %q has both %s", shorten(f.Name), strings.Join(rules, " and "))
	}
	return f
}

// uncircled checks that no function needs itself by way of others.
func (r *reader) uncircled(all []model.Function) {
	at := map[string]int{}
	for i, f := range all {
		at[plainName(f.Name)] = i
	}
	const unseen, open, done = 0, 1, 2
	state := make([]int, len(all))
	var path []int
	var walk func(i int)
	walk = func(i int) {
		state[i] = open
		path = append(path, i)
		for _, name := range slices.Concat(all[i].AnyOf, all[i].AllOf, all[i].From) {
			next, is := at[plainName(name)]
			if !is || next == i {
				continue
			}
			if state[next] == open {
				var round []string
				for _, k := range path[slices.Index(path, next):] {
					round = append(round, shorten(all[k].Name))
				}
				r.fault(all[next].Source, all[next].Name, "take one of the names out", "function %q needs itself: %s, %s", shorten(all[next].Name), strings.Join(round, ", "), shorten(all[next].Name))
				continue
			}
			if state[next] == unseen {
				walk(next)
			}
		}
		path = path[:len(path)-1]
		state[i] = done
	}
	for i := range all {
		if state[i] == unseen {
			walk(i)
		}
	}
}
