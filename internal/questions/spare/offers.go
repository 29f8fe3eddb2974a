package spare

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/units"
)

// Bounds on what is offered.
const (
	mostOffers  = 8
	mostNamed   = 3  // single losses named with an offer
	longestName = 80 // letters
)

// offer makes offers of the mends: the best of all, and the one chosen for each single loss, worst first. Each is made in a copy of the
// folder, whose losses are found again from the beginning; one that does not do there what it did in the tree is not offered.
func (q *ask) offer(ctx context.Context, a *answer.Answer) error {
	was, err := q.singlesOf(ctx, q.c.Folder)
	if err != nil {
		return err
	}
	var tried []*try
	for i := range q.f.Singles {
		if t := q.f.Singles[i].try; t != nil && !slices.Contains(tried, t) {
			tried = append(tried, t)
		}
	}
	if q.best != nil && !slices.Contains(tried, q.best) {
		tried = append(tried, q.best)
	}
	type made struct {
		answer.Offer
		*try
		rank, off int // the worst single that it takes away, and how many
	}
	var all []made
	for _, t := range tried {
		if err := ctx.Err(); err != nil {
			return err
		}
		for _, way := range q.ways(t) {
			now, err := q.singlesOf(ctx, way.folder)
			if err != nil {
				continue // it cannot be made so
			}
			gone, come := lacking(was, now), lacking(now, was)
			if len(gone) <= len(come) {
				continue
			}
			o := made{answer.Offer{Name: q.named(t), Why: q.why(t, gone, come), Acts: way.acts}, t, gone[0].Rank, len(gone)}
			if !slices.ContainsFunc(all, func(m made) bool { return m.Name == o.Name }) {
				all = append(all, o)
			}
			break
		}
	}
	slices.SortStableFunc(all, func(a, b made) int {
		return cmp.Or(cmp.Compare(b.rank, a.rank), cmp.Compare(a.mend.Mass, b.mend.Mass), cmp.Compare(b.off, a.off), cmp.Compare(a.moved, b.moved))
	})
	for _, m := range all[:min(mostOffers, len(all))] {
		a.Offers = append(a.Offers, m.Offer)
	}
	return nil
}

// way is a change of the folder that makes a mend.
type way struct {
	acts   []model.Act
	folder *model.Folder
}

// ways are the changes that may make a mend, the plainest first.
func (q *ask) ways(t *try) []way {
	f := q.c.Folder
	b := &f.Boat
	to := b.Compartments[t.room].Name
	if n := b.Compartments[t.room].Number; n > 0 {
		to = strconv.Itoa(n)
	}
	if t.part < 0 {
		return q.secondBattery(t, to)
	}
	p := &q.looks[0].parts[t.part]
	from, at := "", -1
	if p.where.Compartment >= 0 {
		at = p.where.Compartment
		if from = b.Compartments[at].Name; b.Compartments[at].Number > 0 {
			from = strconv.Itoa(b.Compartments[at].Number)
		}
	}
	if t.mend.Do == "spare" {
		return q.another(p, at, from, to, t.room)
	}
	act := model.Act{Do: model.Put, What: []string{p.what}, From: from, To: to}
	n := 0
	if p.count > 1 {
		act.Count, n = 1, 1
	}
	var out []way
	lots := model.LotsOf(f.Stores)
	if _, err := lots.Put(f, p.what, at, t.room, n); err == nil {
		g := *f
		g.Stores = lots.Stores(f.Stores)
		out = append(out, way{[]model.Act{act}, &g})
	}
	if p.count == 1 { // of several rows of one name the very one
		g := *f
		g.Stores = slices.Clone(f.Stores)
		g.Stores[p.row].Where = model.Place{Compartment: t.room}
		out = append(out, way{[]model.Act{{Do: model.SetValue, File: "stores.csv", Key: fmt.Sprintf("rows[%d].where", p.row), Text: to}}, &g})
	}
	return out
}

// another is a spare of a thing: one like it, that is kept.
func (q *ask) another(p *part, at int, from, to string, room int) []way {
	f := q.c.Folder
	thing, err := model.LotsOf(f.Stores).Another(f, p.what, at)
	if err != nil || p.store != (thing.Store >= 0) {
		return nil
	}
	g := *f
	act := model.Act{Do: model.Another, What: []string{p.what}, To: to}
	if thing.Store >= 0 {
		act.From = from
		s := f.Stores[thing.Store]
		s.Count, s.Where, s.Use, s.Pinned, s.Notes = 1, model.Place{Compartment: room}, model.Use{}, false, ""
		g.Stores = slices.Insert(slices.Clone(f.Stores), thing.Store+1, s)
	} else {
		w := f.Boat.Weights[thing.Weight]
		w.Count, w.Where, w.Ballast = 1, model.Place{Compartment: room}, false
		g.Boat.Weights = slices.Insert(slices.Clone(f.Boat.Weights), thing.Weight+1, w)
	}
	return []way{{[]model.Act{act}, &g}}
}

// secondBattery is one more that is not lost with the others.
func (q *ask) secondBattery(t *try, to string) []way {
	f := q.c.Folder
	name := "second battery"
	for n := 2; len(f.Things(name)) > 0; n++ {
		name = fmt.Sprintf("second battery %d", n)
	}
	g := *f
	w := model.Weight{What: name, Count: 1, Mass: model.Mass{Value: 1}, Where: model.Place{Compartment: t.room}, Provides: []string{apart}}
	g.Boat.Weights = append(slices.Clone(f.Boat.Weights), w)
	item := fmt.Sprintf("{what: %s, mass: %s kg, in: %s, known: estimated, provides: [%s]}", name, strconv.FormatFloat(t.mend.Mass, 'f', -1, 64), inYaml(to), apart)
	return []way{{[]model.Act{{Do: model.Add, What: []string{name}, Item: item}}, &g}}
}

// inYaml is a name as yaml takes it: in quotation marks unless it is of letters, digits and blanks alone.
func inYaml(name string) string {
	odd := func(r rune) bool { return r != ' ' && !unicode.IsLetter(r) && !unicode.IsDigit(r) }
	if name == strings.TrimSpace(name) && !strings.ContainsFunc(name, odd) {
		return name
	}
	return strconv.Quote(name)
}

// named is the mend as a person would call it.
func (q *ask) named(t *try) string {
	b := &q.c.Folder.Boat
	to := model.RoomName(b, t.room)
	name := ""
	switch {
	case t.part < 0:
		name = "a second battery, wired apart, in " + to
	case t.mend.Do == "spare":
		name = "a spare of " + t.mend.What + " in " + to
	default:
		p := &q.looks[0].parts[t.part]
		name = t.mend.What
		if p.where.Compartment >= 0 {
			name += " from " + model.RoomName(b, p.where.Compartment)
		}
		name += " to " + to
	}
	if letters := []rune(name); len(letters) > longestName {
		name = string(letters[:longestName-1]) + "…"
	}
	return name
}

// why says what an offer does.
func (q *ask) why(t *try, gone, come []Single) string {
	say := func(all []Single) string {
		var out []string
		for _, s := range all[:min(mostNamed, len(all))] {
			out = append(out, fmt.Sprintf("%s when %s", quote(s.Function), s.Loss.What))
		}
		if n := len(all) - mostNamed; n > 0 {
			out = append(out, fmt.Sprintf("%d more", n))
		}
		return strings.Join(out, "; ")
	}
	losses := func(n int) string {
		if n == 1 {
			return "1 single loss"
		}
		return fmt.Sprintf("%d single losses", n)
	}
	text := fmt.Sprintf("Takes away %s: %s.", losses(len(gone)), say(gone))
	if len(come) > 0 {
		text += fmt.Sprintf(" Makes %s: %s.", losses(len(come)), say(come))
	}
	if t.mend.Mass > 0 {
		text += " Adds " + q.c.Folder.Boat.Units.Mass(units.Mass(t.mend.Mass)) + "."
	}
	return text
}

// singlesOf are the single losses of a folder, worst first, whatever the days.
func (q *ask) singlesOf(ctx context.Context, f *model.Folder) ([]Single, error) {
	t, err := afloat.NewFrom(f, q.t)
	if err != nil {
		return nil, err
	}
	one := &ask{c: q.c, t: t, bare: true, days: q.days, order: 1}
	for _, day := range q.days {
		one.looks = append(one.looks, grow(t, day))
	}
	if err := one.find(ctx); err != nil {
		return nil, err
	}
	return one.f.Singles, nil
}

// lacking are the single losses of one folder that another has not, each once; things are told by their names, since rows may stand elsewhere.
func lacking(all, in []Single) []Single {
	key := func(s *Single) string {
		return fmt.Sprint(s.function, " ", s.Loss.Kind, " ", strings.TrimPrefix(s.Loss.What, "one of "))
	}
	has := map[string]bool{}
	for i := range in {
		has[key(&in[i])] = true
	}
	var out []Single
	for i := range all {
		if k := key(&all[i]); !has[k] {
			has[k] = true
			out = append(out, all[i])
		}
	}
	return out
}
