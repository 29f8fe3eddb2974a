// Package stow answers "Where does everything go?": the stowage as the folder has it, judged: whether what lies in each compartment fits
// in by volume, through the openings on the way and by what the compartment bears; whether what must be dry is, what must lie apart does, no
// more of a thing lies in one place than asked, and all is reached as well as asked.
//
// The margin is the room left in the compartment that is fullest for its size, in cubic metres; negative is what does
// not fit. Its spread is that of the packing: how much of a compartment can be filled is known to a tenth of it. Any other rule
// that is broken makes the verdict no, whatever room there is. Where the room that some things take is not known the margin is of those of
// which it is, and the answer is close at best.
//
// Trim, heel and the height left are told on a few days, but judged by the questions that are about them.
package stow

import (
	"context"
	"fmt"
	"strings"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/lists"
	"thole/internal/model"
	"thole/internal/stowage"
	"thole/internal/units"
)

// Question is this question's row of the table.
var Question = answer.Question{ID: id, Title: title, Group: answer.Aboard, Quick: true, Ask: Ask}

const (
	id    = "stow"
	title = "Where does everything go?"
)

// Figures are how everything lies.
type Figures struct {
	Places []Place `json:"places"` // in the order of boat.yaml
	// Broken are rules that are not kept, the worst first.
	Broken []Broken `json:"broken"`
	// Handling is the work of getting at things: 1 is one compartment at the seat opened on every day of the trip, 2 one
	// reached from the cabin, 4 one only in calm.
	Handling float64 `json:"handling"`
	States   []State `json:"states"`        // of a few days, at the worst of all crew places
	Opened   []Day   `json:"opened_by_day"` // day 1 first; what is taken out of which compartment
	// Unknown are things that do not say how much room they take; they count as taking none.
	Unknown []string `json:"volume_not_known"`
}

// Place is a compartment and how full it is on leaving.
type Place struct {
	Number  int      `json:"number"` // 0 when not numbered
	Name    string   `json:"name"`
	Side    string   `json:"side"` // port, starboard, or empty for both
	Reach   string   `json:"reach"`
	Wet     bool     `json:"wet"`
	Hatches []string `json:"hatches"` // the openings on the way in, the last one first
	Volume  float64  `json:"volume_m3"`
	Packing float64  `json:"packing"`     // the share of it that can be filled
	Kept    float64  `json:"kept_m3"`     // kept free for what is put there underway
	Usable  float64  `json:"usable_m3"`   // that share, less what is kept free
	Filled  float64  `json:"filled_m3"`   // of what says how much room it takes
	Mass    float64  `json:"mass_kg"`     // of the stores in it
	Limit   float64  `json:"limit_kg"`    // 0 when none is given
	Days    int      `json:"days_opened"` // on which something is taken out of it
}

// Broken is a rule that is not kept.
type Broken struct {
	Rule  string  `json:"rule"`     // way in, opening, dry, apart, reach, split, limit, volume, pinned
	What  string  `json:"what"`     // the thing; empty for a place by itself
	With  string  `json:"with"`     // what it may not lie with; else empty
	Place string  `json:"place"`    // the compartment
	Units int     `json:"units"`    // pieces at fault; 0 for a place by itself
	By    float64 `json:"too_much"` // m3 for volume, kg for limit; else 0
	Said  string  `json:"said"`     // in words
	Mend  *Mend   `json:"mend"`     // nil when no single move helps, or was not looked for
	left  int     // rules broken after the mend
}

// Mend is the least single move that takes a broken rule away and breaks no other; it was tried.
type Mend struct {
	What  string `json:"what"`
	Units int    `json:"units"`
	From  string `json:"from"`
	To    string `json:"to"`
	Said  string `json:"said"`

	move stowage.Move
}

// State is how she lies on a day.
type State struct {
	Day  int     `json:"day"`
	Trim float64 `json:"trim_deg"` // by the stern positive; of all crew places the most either way
	Heel float64 `json:"heel_deg"` // to starboard positive; likewise
	// Height is how much higher her centre of gravity could lie before she would stay over; nil where it was not found.
	Height *float64 `json:"height_left_m"`
}

// Day is what is taken out on a day.
type Day struct {
	Day  int    `json:"day"`
	Take []Take `json:"take"`
}

// Take is what is taken out of one compartment.
type Take struct {
	What  string `json:"what"`
	Units int    `json:"units"`
	Place string `json:"place"`
}

// Ask answers the question.
//
// Error: the shape could not be built, no such day or condition, or the context's
func Ask(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
	a := answer.Answer{Question: id, Title: title, Figures: struct{}{}, Method: method, NotLookedAt: notLookedAt,
		Cautions: []string{"Packing is a guess until it is done: stow her once on dry land, all of it, and write down what went where.", answer.HatchesShut, answer.LocalRules}}
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
	if len(c.Folder.Boat.Compartments) == 0 {
		return cannot("the boat has no compartments to stow anything in.", "boat.yaml", "compartments", "one a line is enough to begin: - {number: 301, name: fore locker, from: 2.0 m, to: 2.6 m, top: 0.4 m, packing: 60%}")
	}
	q := &ask{c: c, t: t, sys: c.Folder.Boat.Units}
	if err := q.ready(); err != nil {
		return a, err
	}
	if len(q.s.Items) == 0 {
		return cannot("no row of stores.csv lies in a compartment.", "stores.csv", "where", "a compartment's number or name: rice,10,1.0 kg,301")
	}
	q.figures()
	q.judge(&a)
	if o.Bare || o.Moment {
		return a, ctx.Err()
	}
	if err := q.mend(ctx, &a); err != nil {
		return a, err
	}
	q.a, a.Assumptions = &a, append(c.Taken(t), q.taken()...)
	if err := q.afloat(ctx); err != nil {
		return a, err
	}
	q.eaten()
	a.Figures = q.f
	if !o.Brief {
		q.lay()
	}
	return a, ctx.Err()
}

// ask is one asking.
type ask struct {
	c   *answer.Case
	t   *afloat.Trip
	sys units.System
	s   *stowage.Stowage
	was *stowage.Judgement
	f   Figures
	a   *answer.Answer
}

// kept is what hangs on the folder alone.
type kept struct {
	s   *stowage.Stowage
	was *stowage.Judgement
}

// ready judges the layout as written, once for a case.
func (q *ask) ready() error {
	made, err := q.c.Keep(id+": written", func() (any, error) {
		s, err := stowage.New(q.t)
		if err != nil || len(s.Items) == 0 {
			return kept{s: s}, err
		}
		j, err := s.NewJudge(&s.Problem)
		if err != nil {
			return nil, err
		}
		was, err := j.Of(s.Written)
		return kept{s, was}, err
	})
	if err != nil {
		return err
	}
	q.s, q.was = made.(kept).s, made.(kept).was
	return nil
}

// figures are those that the judging gives.
func (q *ask) figures() {
	sides := map[model.Side]string{model.Port: "port", model.Starboard: "starboard"}
	for k, p := range q.s.Places {
		c := p.Compartment
		out := Place{Number: c.Number, Name: c.Name, Side: sides[c.Side], Reach: p.Reach.String(), Wet: c.Wet, Volume: p.Volume, Packing: p.Packing, Kept: p.Kept,
			Usable: q.s.Usable(k), Filled: q.was.Figures.Fill[k].Volume, Mass: q.was.Figures.Fill[k].Mass, Limit: float64(c.Limit)}
		for _, o := range p.Doors {
			out.Hatches = append(out.Hatches, o.Name)
		}
		q.f.Places = append(q.f.Places, out)
	}
	for _, b := range q.was.Broken {
		out := Broken{Rule: string(b.Rule), Place: q.s.Problem.Places[b.Place].Name, Units: b.Units, By: b.By, Said: q.s.Said(b)}
		if b.Item >= 0 {
			out.What = q.s.Name(b.Item)
		}
		if b.Other >= 0 {
			out.With = q.s.Name(b.Other)
		}
		q.f.Broken = append(q.f.Broken, out)
	}
	q.f.Handling = q.was.Figures.Handling
	for _, r := range q.s.Unknown {
		q.f.Unknown = append(q.f.Unknown, q.c.Folder.Stores[r].What)
	}
}

// judge gives margin, verdict and sentence.
func (q *ask) judge(a *answer.Answer) {
	w := q.was
	place := q.s.Problem.Places[w.Fullest].Name
	m := &answer.Margin{Value: w.Room, Unit: "m3", Spread: 1.96 * w.Doubt, Confidence: answer.Chance(w.Room, w.Doubt), What: "room left in " + place + ", the fullest for its size"}
	m.Shown = fmt.Sprintf("%s ± %s", q.sys.Volume(units.Volume(m.Value)), q.sys.Volume(units.Volume(m.Spread)))
	a.Margin, a.Verdict = m, m.Judge()
	a.Worst = &answer.Worst{Day: 0, Condition: q.t.Conditions[0].Name}
	if len(w.Broken) > 0 {
		a.Verdict = answer.No
	}
	if len(q.f.Unknown) > 0 {
		a.Needs = append(a.Needs, answer.Need{File: "stores.csv", Key: "volume", Why: "how much room one of them takes, as it is packed: " + listed(q.f.Unknown)})
		if a.Verdict == answer.Yes {
			a.Verdict = answer.Close
		}
	}
	a.Sentence = q.sentence(a, "")
}

// sentence is the answer in words; mend is what would take the first broken rule away.
func (q *ask) sentence(a *answer.Answer, mend string) string {
	w := q.was
	room := fmt.Sprintf("%s has %s of room left of %s", q.s.Problem.Places[w.Fullest].Name, a.Margin.Shown, q.sys.Volume(units.Volume(q.s.Usable(w.Fullest))))
	switch {
	case len(q.f.Broken) > 0:
		text := "No: " + q.f.Broken[0].Said
		if n := len(q.f.Broken) - 1; n == 1 {
			text += "; and one more rule is broken"
		} else if n > 1 {
			text += fmt.Sprintf("; and %d more rules are broken", n)
		}
		return text + "." + mend
	case a.Verdict == answer.No: // to rounding
		return "No: " + room + "."
	case len(q.f.Unknown) > 0:
		return fmt.Sprintf("Close: every rule is kept by what says how much room it takes, but %s; of the rest %s, the fullest.", unknown(q.f.Unknown), room)
	case a.Verdict == answer.Close:
		return fmt.Sprintf("Close: every rule is kept, but %s, and that is not sure.", room)
	}
	return fmt.Sprintf("Yes: everything has its place and every rule is kept; %s, the fullest.", room)
}

func unknown(names []string) string {
	if len(names) == 1 {
		return names[0] + " does not"
	}
	return fmt.Sprintf("%s and %d more do not", names[0], len(names)-1)
}

// listed are the first few of many names.
func listed(names []string) string {
	const few = 6
	if len(names) <= few {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:few], ", "), len(names)-few)
}

// mend looks for the least move that takes each broken rule away, and offers it.
func (q *ask) mend(ctx context.Context, a *answer.Answer) error {
	if len(q.was.Broken) == 0 {
		return nil
	}
	j, err := q.s.NewJudge(&q.s.Problem)
	if err != nil {
		return err
	}
	offered := map[stowage.Move]bool{}
	for i, b := range q.was.Broken {
		if err := ctx.Err(); err != nil {
			return err
		}
		m, err := q.s.Mend(j, q.s.Written, q.was, b)
		if err != nil {
			return err
		}
		if m == nil {
			continue
		}
		f := &q.f.Broken[i]
		f.left = len(m.After.Broken)
		f.Mend = &Mend{What: q.s.Name(m.Item), Units: m.Units, From: q.s.Problem.Places[m.From].Name, To: q.s.Problem.Places[m.To].Name, Said: q.s.MoveSaid(m.Move), move: m.Move}
		if acts := q.s.Acts(m.Move); acts != nil && !offered[m.Move] {
			offered[m.Move] = true
			a.Offers = append(a.Offers, answer.Offer{Name: f.Mend.Said, Why: q.why(m), Acts: acts})
		}
	}
	mend := " No single move takes it away."
	if first := q.f.Broken[0].Mend; first != nil {
		mend = fmt.Sprintf(" The least move that takes it away: %s.", first.Said)
	}
	a.Sentence = q.sentence(a, mend)
	return nil
}

// why says what a mend did when it was tried.
func (q *ask) why(m *stowage.Mended) string {
	off, left := len(q.was.Broken)-len(m.After.Broken), "and every rule is kept then"
	if n := len(m.After.Broken); n == 1 {
		left = "and one is still broken then"
	} else if n > 1 {
		left = fmt.Sprintf("and %d are still broken then", n)
	}
	rules := "a broken rule"
	if off != 1 {
		rules = fmt.Sprintf("%d broken rules", off)
	}
	text := fmt.Sprintf("it takes away %s, %s", rules, left)
	switch more := m.After.Figures.Handling - q.was.Figures.Handling; {
	case more > 0.005:
		text += fmt.Sprintf("; %.2f more handling", more)
	case more < -0.005:
		text += fmt.Sprintf("; %.2f less handling", -more)
	}
	return text
}

// afloat works out how she lies on a few days.
func (q *ask) afloat(ctx context.Context) error {
	if q.c.Weightless() {
		return nil
	}
	made, err := q.c.Keep(id+": afloat", func() (any, error) { return stowage.Worst(ctx, q.t, stowage.Days(q.t)) })
	if err != nil {
		return err
	}
	for _, s := range made.([]stowage.State) {
		if s.Err != nil {
			continue
		}
		out := State{Day: s.Day, Trim: s.Trim * deg, Heel: s.Heel * deg}
		if h := s.Height; h == h {
			out.Height = &h
		}
		q.f.States = append(q.f.States, out)
	}
	return nil
}

// eaten is what is taken out on each day.
func (q *ask) eaten() {
	b := &q.c.Folder.Boat
	for d, takes := range lists.Calendar(q.c.Folder) {
		day := Day{Day: d + 1, Take: []Take{}}
		seen := map[int]bool{}
		for _, k := range takes {
			if k.Compartment < 0 {
				continue
			}
			day.Take = append(day.Take, Take{What: q.c.Folder.Stores[k.Store].What, Units: k.Units, Place: model.RoomName(b, k.Compartment)})
			if !seen[k.Compartment] {
				seen[k.Compartment] = true
				q.f.Places[k.Compartment].Days++
			}
		}
		q.f.Opened = append(q.f.Opened, day)
	}
}
