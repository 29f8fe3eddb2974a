package boatfolder

import (
	"fmt"
	"strconv"
	"strings"

	"thole/internal/model"
)

// lotsOf are the lots of a stow, one or a list.
func lotsOf(n *node) []*node { return each(list0(n.get("lots")), model.Stow) }

// portions takes the lots of a stow into the model.
func (r *reader) portions(n *node) []model.Portion {
	var out []model.Portion
	for _, k := range lotsOf(n) {
		p := model.Portion{In: k.get("in").str(), Count: 1}
		if c := k.get("count"); c != nil {
			if p.Count = int(c.value()); p.Count < 1 {
				r.fault(c.at, c.text, "write 1 or more, or leave the lot out", "a lot of %q pieces", shorten(c.text))
			}
		}
		if u := k.get("used"); u != nil {
			m := usedForm.FindStringSubmatch(u.text)
			if m == nil || m[3] != "" {
				r.fault(u.at, u.text, "write days 1-21, or day 12; where it goes to is said by the row", "used %q is not understood", shorten(u.text))
				continue
			}
			p.First, _ = strconv.Atoi(m[1])
			if p.Last = p.First; m[2] != "" {
				p.Last, _ = strconv.Atoi(m[2])
			}
			if p.First < 1 || p.Last < p.First {
				r.fault(u.at, u.text, "the first day is day 1, and the earlier day stands first", "used %q has no days", shorten(u.text))
			}
		}
		out = append(out, p)
	}
	return out
}

// portionsText writes lots as a stow has them.
func portionsText(portions []model.Portion) string {
	var out []string
	for _, p := range portions {
		text := fmt.Sprintf("{in: %s, count: %d", Flow(p.In), p.Count)
		if p.Last > 0 {
			text += ", used: " + p.Used()
		}
		out = append(out, text+"}")
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// stowNames tells what a lever's stows name that the folder does not hold.
func (r *reader) stowNames(n *node, f *model.Folder) {
	for _, k := range each(list0(n.get(string(model.Stow))), model.Stow) {
		for _, lot := range lotsOf(k) {
			if in := lot.get("in"); in != nil {
				r.compartmentPlace(in.at, in.text)
			}
		}
		what := k.get("what")
		found := false
		var known []string
		for _, s := range f.Stores {
			known = append(known, s.What)
			found = found || model.PlainName(s.What) == model.PlainName(what.str())
		}
		if what != nil && !found {
			r.fault(what.at, what.text, meant(what.text, known, "stores"), "nothing in stores.csv is called %q", shorten(what.text))
		}
	}
}
