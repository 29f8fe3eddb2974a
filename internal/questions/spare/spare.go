// Package spare answers "Which failure ends the trip?": for each function that needs.yaml ranks, the single
// losses that end it and the pairs of which neither does alone, by how much harm they do; the cheapest spare or move that takes each
// single one away; dates of expiry and inspection against the voyage's; the person's own checklist.
//
// A loss is a thing that fails, a compartment or a cabin that floods, the battery lost, one of the crew hurt, or that it never
// falls calm. Losses are looked at leaving and on the last day, when most of what is used up is gone; while a finger moves,
// on the day that is shown.
//
// The margin is counted, not measured: the least number of losses that ends a function of the highest rank written, less one. At
// nothing a single loss ends one: the verdict is no. It is close when none does, but a single loss ends a function of rank 4, or
// something that a function of rank 4 or 5 rests on goes out of date before the voyage ends, or a function of rank 4 is provided
// by nothing. There is no spread, and the confidence is 1 or 0: how likely a loss is, nobody knows, and it is not guessed.
package spare

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/faulttree"
	"thole/internal/model"
)

// Question is this question's row of the table.
var Question = answer.Question{ID: id, Title: title, Group: answer.Aboard, Quick: true, Ask: Ask}

const (
	id    = "spare"
	title = "Which failure ends the trip?"
)

// grave is the rank from which a loss costs the boat or the voyage.
const grave = 4

// furthest is how many losses together are looked at.
const furthest = 2

// mostPairs bounds the pairs that are kept of one function.
const mostPairs = 2000

// Figures are the losses that end a function, and what may be done.
type Figures struct {
	Days      []int      `json:"days"`      // looked at: what is aboard on the evening of each
	Functions []Function `json:"functions"` // by rank, worst first
	Singles   []Single   `json:"singles"`   // by rank, worst first
	Pairs     []Pair     `json:"pairs"`     // by harm, worst first
	// Best is the one spare or move that takes away most singles; nil when none does.
	Best  *Mend   `json:"best"`
	Lacks []Lack  `json:"nothing_provides"`
	Dates []Date  `json:"dates"` // the most pressing first
	Check []Check `json:"checklist"`
}

// Function is a function that needs.yaml ranks.
type Function struct {
	Name string `json:"name"`
	Rank int    `json:"rank"`
	// Least is how many losses end it: 0 when nothing aboard provides it, 3 when no two end it.
	Least   int `json:"least_losses"`
	Singles int `json:"singles"`
	Pairs   int `json:"pairs"`
	// Whole is false when not all pairs could be looked at.
	Whole bool `json:"whole"`
}

// Loss is something that is lost.
type Loss struct {
	What string `json:"what"`
	Kind string `json:"kind"` // thing, compartment, cabin, battery, person, weather
}

// Single is one loss that ends one function alone.
type Single struct {
	Loss     Loss   `json:"loss"`
	Function string `json:"function"`
	Rank     int    `json:"rank"`
	Days     []int  `json:"days"` // of those looked at
	Mend     *Mend  `json:"mend"` // nil when nothing tried takes it away, or when answered bare

	key      string
	function int
	try      *try // that Mend is of
}

// Pair is two losses that end what neither ends alone.
type Pair struct {
	Losses []Loss   `json:"losses"`
	Ends   []string `json:"ends"` // functions, by rank
	Rank   int      `json:"rank"` // the highest of theirs
	Harm   int      `json:"harm"` // their ranks together
	Days   []int    `json:"days"`

	key string
}

// Lack is a name in the folder that nothing aboard provides.
type Lack struct {
	Name string   `json:"name"`
	By   []string `json:"named_by"` // functions; empty when only a thing needs it
}

// Ask answers the question.
//
// Error: the shape could not be built, no such day or condition, or the context's
func Ask(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
	a := answer.Answer{Question: id, Title: title, Figures: struct{}{}, Method: method,
		NotLookedAt: []string{
			"how likely a loss is: every loss counts alike, the common and the rare",
			"amounts: one thing of several that provide a function is taken to provide all of it; how far the food or the water that is left goes, it does not say",
			"whether a spare or a moved thing finds room: that is for the stowage",
			"three losses at once, and what one loss does to the next but for what the folder names",
			"repairs at sea, but for spares that provide a function by name; skill, and whether a tired hand finds the thing in the dark",
			"what needs.yaml does not name: a function left out is never lost",
		},
		Cautions: []string{answer.LocalRules, answer.NotWithHatchOpen, "The checklist is a starting list; ask the organiser and the authority what they ask for."},
	}
	t, err := c.Trip()
	if err != nil {
		return a, err
	}
	if _, _, err := o.Pick(t); err != nil {
		return a, err
	}
	cannot := func(sentence, file, key, why string) (answer.Answer, error) {
		a.Verdict, a.Sentence = answer.CannotTell, "Cannot tell: "+sentence
		a.Needs = append(a.Needs, answer.Need{File: file, Key: key, Why: why})
		return a, nil
	}
	n := c.Folder.Needs
	const line = "- {name: steer, rank: 4, any of: [rudder, oars]}, and in stores.csv or at the weight, provides: rudder"
	if n == nil {
		return cannot("the folder has no needs.yaml, which says what the trip needs.", "needs.yaml", "functions", "a function a line is enough to begin: functions: "+line)
	}
	if !slices.ContainsFunc(n.Functions, func(f model.Function) bool { return f.Rank > 0 }) {
		return cannot("needs.yaml ranks no function.", "needs.yaml", "functions", "a function that the trip needs has a rank from 1 to 5: "+line)
	}
	q := &ask{c: c, t: t, bare: o.Bare || o.Moment, days: slices.Compact([]int{0, max(0, t.Days-1)})}
	if o.Moment {
		q.days = []int{o.Day}
	}
	for _, day := range q.days {
		q.looks = append(q.looks, grow(t, day))
		if round := q.looks[len(q.looks)-1].round; len(round) > 0 {
			return cannot("something needs itself: "+strings.Join(circle(round), ", ")+".", "needs.yaml", "functions", "take one of these names out, there or from needs of stores.csv or of a weight")
		}
		if many := q.looks[len(q.looks)-1].many; len(many) > 0 {
			return cannot(fmt.Sprintf("there are too many pieces of %s to count.", many[0]), "needs.yaml", "functions", fmt.Sprintf("of and from count %d pieces of a row at most: write the row as so many packs", mostCounted))
		}
	}
	if err := q.find(ctx); err != nil {
		return a, err
	}
	q.dates()
	q.judge(&a)
	if q.bare {
		return a, ctx.Err()
	}
	a.Assumptions = q.taken()
	if err := q.mend(ctx, o.Progress); err != nil {
		return a, err
	}
	if err := q.offer(ctx, &a); err != nil {
		return a, err
	}
	q.f.Check = q.checks()
	a.Figures = q.f
	if !o.Brief {
		if err := q.lay(ctx, &a); err != nil {
			return a, err
		}
	}
	return a, ctx.Err()
}

// circle is a path that ends on a name it holds, from that name on.
func circle(path []string) []string {
	last := path[len(path)-1]
	return path[max(0, slices.Index(path, last)):]
}

const handbook = "Vesely and others, Fault Tree Handbook, NUREG-0492 (1981)"

var method = []answer.Method{
	{What: "what provides what, from needs.yaml, stores and weights, turned into what fails when; minimal sets of losses that end a function", Source: handbook},
	{What: "all single losses and all pairs are tried, many at a time", Source: "Vesely & Narum, PREP and KITT, IN-1349 (1970) (combination testing)"},
	{What: "a compartment that floods, a cabin, the battery and a hurt rower each take away several things at once (common causes)", Source: handbook + ", ch. VIII"},
	{What: "each spare and each move is made in memory, and the single losses found again", Source: "direct trial; no source needed"},
	{What: "ranks of harm from 1 to 5; functions of a higher rank come first", Source: "common practice, no source"},
}

// ask is one asking.
type ask struct {
	c     *answer.Case
	t     *afloat.Trip
	bare  bool
	days  []int
	looks []*grown
	order int // how many losses together; furthest when 0
	f     Figures
	best  *try
	late  []Date // those that go out of date and that a grave function rests on
}

// find looks for the losses on every day.
func (q *ask) find(ctx context.Context) error {
	n := q.c.Folder.Needs
	q.f.Days = q.days
	by := map[int]*Function{}
	for i, fn := range n.Functions {
		if fn.Rank > 0 {
			by[i] = &Function{Name: fn.Name, Rank: fn.Rank, Least: furthest + 1, Whole: true}
		}
	}
	singles, pairs := map[string]*Single{}, map[string]*Pair{}
	var order []string // of pairs, so that what is alike stands as it was found
	counted := map[string]bool{}
	for _, g := range q.looks {
		for _, i := range g.ended {
			by[i].Least = 0
		}
		found, err := q.cuts(ctx, g)
		if err != nil {
			return err
		}
		for _, one := range found {
			i := g.tops[one.Function]
			fn := by[i]
			fn.Whole = fn.Whole && one.UpTo >= furthest && one.CutOff == ""
			for _, cut := range one.Cuts {
				fn.Least = min(fn.Least, len(cut))
				key, losses := g.losses(cut)
				if len(cut) == 1 {
					s := singles[key+fmt.Sprint(" ends ", i)]
					if s == nil {
						s = &Single{Loss: losses[0], Function: fn.Name, Rank: fn.Rank, key: key, function: i}
						singles[key+fmt.Sprint(" ends ", i)] = s
						fn.Singles++
					}
					s.Days = addDay(s.Days, g.day)
					continue
				}
				if !counted[key+fmt.Sprint(" ends ", i)] {
					counted[key+fmt.Sprint(" ends ", i)] = true
					fn.Pairs++
				}
				p := pairs[key]
				if p == nil {
					p = &Pair{Losses: losses, key: key}
					pairs[key] = p
					order = append(order, key)
				}
				p.Days = addDay(p.Days, g.day)
				if !slices.Contains(p.Ends, fn.Name) {
					p.Ends, p.Harm, p.Rank = append(p.Ends, fn.Name), p.Harm+fn.Rank, max(p.Rank, fn.Rank)
				}
			}
		}
	}
	q.sort(by, singles, pairs, order)
	return nil
}

// cuts are the losses of one day.
func (q *ask) cuts(ctx context.Context, g *grown) ([]faulttree.Found, error) {
	if len(g.tree.Functions) == 0 {
		return nil, nil
	}
	l, err := faulttree.New(g.tree)
	if err != nil {
		return nil, fault(err)
	}
	return l.Cuts(ctx, faulttree.Options{Order: cmp.Or(q.order, furthest), Limit: mostPairs})
}

// fault says that the tree made here is at fault: that is ours, not the person's.
func fault(err error) error {
	var wrong faulttree.Faults
	if errors.As(err, &wrong) {
		return fmt.Errorf("the tree of what provides what is at fault (a mistake in the program: please tell): %w", err)
	}
	return err
}

// losses are a set's in words, with a key by which alike sets are one.
func (g *grown) losses(cut faulttree.Cut) (string, []Loss) {
	atoms := make([]atom, len(cut))
	for i, name := range cut {
		atoms[i] = g.atoms[name]
	}
	slices.SortStableFunc(atoms, func(a, b atom) int { return strings.Compare(a.key, b.key) })
	var keys []string
	var out []Loss
	for _, a := range atoms {
		keys = append(keys, a.key)
		what := a.what
		if a.part >= 0 && g.parts[a.part].count > 1 {
			what = "one of " + what
		}
		out = append(out, Loss{what, a.kind})
	}
	return strings.Join(keys, " and "), out
}

func addDay(days []int, day int) []int {
	if slices.Contains(days, day) {
		return days
	}
	return append(days, day)
}
