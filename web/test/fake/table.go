package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/sheet"
)

// invented is what one made-up question says.
type invented struct {
	id, title string
	group     answer.Group
	verdict   answer.Verdict
	sentence  string
	margin    *answer.Margin
	blocks    func(day int, condition string) []sheet.Block
	patterns  func() []sheet.Pattern
	offers    []answer.Offer
	slow      time.Duration
	fails     bool
	// moved is by how much the margin moves for every kilogram that the folder's weights are more
	// than weighed, and worded how it is then written.
	moved  float64
	worded string
}

// weighed is what the weights of the invented folder come to, kilograms.
const weighed = 420

// table is one question of every verdict, with every kind of block among them,
// one that takes its time and, unless it is to be sound, one that cannot be worked out.
func table(sound bool) []answer.Question {
	var rows []answer.Question
	for _, q := range questions {
		if q.fails && sound {
			continue
		}
		rows = append(rows, answer.Question{ID: q.id, Title: q.title, Group: q.group, Ask: q.ask})
	}
	return rows
}

var questions = []invented{
	{
		id: "loft", title: "What shape do I cut?", group: answer.Shape, verdict: answer.Yes,
		sentence: "Yes: the cuts make a fair surface within 0.5 mm of the model; two readings stand out and should be measured again.",
		margin:   &answer.Margin{Value: 1.8e-3, Unit: "m", Asked: 2e-3, Spread: 0.7e-3, Confidence: 0.998, Shown: "1.8 mm ± 0.7", What: "left of the fairing allowance"},
		blocks:   loftBlocks,
		patterns: parts,
	},
	{
		id: "float", title: "Will she float on her marks?", group: answer.Afloat, verdict: answer.Yes,
		sentence: "Yes: she floats 22 mm above her marks on leaving, trimmed half a degree by the stern, and never shows less than 312 mm of side.",
		margin:   &answer.Margin{Value: 0.212, Unit: "m", Asked: 0.1, Spread: 0.018, Confidence: 1, Shown: "212 mm ± 18", What: "of freeboard more than was asked for"},
		blocks:   floatBlocks,
		moved:    -0.001, worded: "%.0f mm ± 18",
	},
	{
		id: "right", title: "Will she come back up?", group: answer.Afloat, verdict: answer.Close,
		sentence: "Yes, but not for sure: she comes back up from any heel on every day of the trip with the aft hatch shut; closest on day 61 with the rower in the cabin, 38 mm of arm at 148 degrees.",
		margin:   &answer.Margin{Value: 0.014, Unit: "m", Asked: 0.02, Spread: 0.017, Confidence: 0.94, Shown: "14 mm ± 17", What: "that the centre of gravity could rise"},
		blocks:   rightBlocks,
		moved:    0.0005, worded: "%.0f mm ± 17",
	},
	{
		id: "flood", title: "What can she lose and still float?", group: answer.Afloat, verdict: answer.No,
		sentence: "No: with the fore cabin and locker 301 both open to the sea her stern stays dry but the fore hatch goes under.",
		margin:   &answer.Margin{Value: -0.046, Unit: "m", Asked: 0.05, Spread: 0.02, Confidence: 0, Shown: "−46 mm ± 20", What: "of hatch coaming above the water"},
		blocks:   floodBlocks,
		offers: []answer.Offer{
			{Name: "the flare left ashore", Why: "Then there is one thing less to lose.", Acts: []model.Act{{Do: model.LeaveOut, What: []string{"spare flare"}}}},
			{Name: "a mast left ashore", Why: "There is none.", Acts: []model.Act{{Do: model.LeaveOut, What: []string{"mast"}}}},
		},
	},
	{
		id: "stow", title: "Where does everything go?", group: answer.Aboard, verdict: answer.CannotTell,
		sentence: "It cannot be told: 14 lines of the stores have no place.",
		slow:     1200 * time.Millisecond,
	},
	{
		id: "passage", title: "How long will it take?", group: answer.UnderWay, verdict: answer.Yes,
		sentence: "Between 52 and 71 days, nine times in ten; food for 80 is enough.",
		margin:   &answer.Margin{Value: 9, Unit: "d", Asked: 5, Spread: 4, Confidence: 0.99, Shown: "9 days ± 4", What: "of food left on arrival"},
	},
	{id: "today", title: "Am I still all right?", group: answer.UnderWay, fails: true},
}

func (q invented) ask(ctx context.Context, c *answer.Case, o answer.Options) (answer.Answer, error) {
	slow := q.slow
	if o.Bare {
		slow /= 6
	}
	const steps = 12
	for done := range steps {
		if slow > 0 && o.Progress != nil {
			o.Progress(done, steps)
		}
		select {
		case <-time.After(slow / steps):
		case <-ctx.Done():
			return answer.Answer{}, ctx.Err()
		}
	}
	if q.fails {
		return answer.Answer{}, errors.New("log.db: the log was begun by a newer program (bring this one up to date)")
	}
	a := answer.Answer{
		Question: q.id, Title: q.title, Verdict: q.verdict, Sentence: q.sentence, Margin: q.margin,
		Worst:       &answer.Worst{Day: 61, Condition: "in the cabin"},
		Figures:     map[string]float64{"invented": 1},
		Method:      []answer.Method{{What: "Nothing was worked out: this answer is invented to test the page.", Source: "no source"}},
		NotLookedAt: []string{"Waves: still water only.", "Gear that breaks loose."},
		Cautions: []string{
			"Prove it: heel her in harbour with the stores aboard, and roll her right over with a crane, hatches shut, before she goes to sea.",
			"Ask the harbour office and the organiser; their rules stand before this answer.",
		},
		Assumptions: []answer.Assumption{{What: "Density of the sea", Value: "1025 kg/m3", Why: "the folder does not say.", File: "boat.yaml: water"}},
	}
	if q.moved != 0 {
		q.weigh(c, &a)
	}
	if c.Folder.Boat.Water != 0 {
		a.Assumptions = nil
	}
	if q.verdict == answer.CannotTell {
		a.Needs = []answer.Need{{File: "stores.csv", Key: "where (rows 14-27)", Why: "a thing without a place has no weight in the trim."}}
		a.Worst = nil
	}
	if q.blocks != nil {
		a.Sheet.Blocks = q.blocks(o.Day, o.Condition)
	}
	a.Offers = q.offers
	if q.patterns != nil {
		a.Patterns = q.patterns()
	}
	a.Sheet.Blocks = append(a.Sheet.Blocks, sheet.Block{Text: &sheet.Text{Paragraphs: []string{
		fmt.Sprintf("These figures are for day %d, the crew %s.", o.Day, o.Condition),
	}}})
	return a, nil
}

// weigh moves the margin with the folder's weights, so that a try and a lever have something to show.
func (q invented) weigh(c *answer.Case, a *answer.Answer) {
	more := -float64(weighed)
	for _, w := range c.Folder.Boat.Weights {
		more += float64(max(w.Count, 1)) * float64(w.Mass.Value)
	}
	if more == 0 {
		return
	}
	m := *q.margin
	m.Value += q.moved * more
	m.Shown = fmt.Sprintf(q.worded, 1000*m.Value)
	a.Margin = &m
	switch {
	case m.Value >= m.Asked:
		a.Verdict = answer.Yes
	case m.Value > 0:
		a.Verdict = answer.Close
	default:
		a.Verdict = answer.No
	}
	a.Sentence = fmt.Sprintf("With %.0f kg more than she was weighed at, there is %s %s.", more, m.Shown, m.What)
}
