package web

import (
	"context"
	"fmt"

	"thole/internal/answer"
	"thole/internal/levers"
	"thole/internal/units"
)

// keptMoments is how many days and places are kept with what is answered of the folder as it stands while a finger moves.
const keptMoments = 12

// Moved is how far an answer's margin is from that of the folder as it stands.
type Moved struct {
	Value float64 `json:"value" doc:"in the unit; meaningless where it is not known"`
	Unit  string  `json:"unit" doc:"SI, the margin's own; empty without a margin"`
	Shown string  `json:"shown" doc:"for people: +12 mm; 0 where it does not move; surer or less sure where only its spread does; now and the margin where that is of another kind"`
	Known bool    `json:"known" doc:"false when there is no margin to compare, or one of another kind"`
}

// movedFrom sets an answer beside that of the folder as it stands, in the words of the lever table.
func movedFrom(was, now answer.Answer, sys units.System) *Moved {
	if was.Verdict == "" || now.Verdict == "" {
		return nil
	}
	c := levers.Compare(was, now, sys)
	m := &Moved{Value: c.Change, Shown: c.Shown, Known: c.Known}
	if c.Margin != nil {
		m.Unit = c.Margin.Unit
	}
	return m
}

// stands is the folder as it stands, in the units wanted, at a moment that it has too.
func (s *service) stands(w Which, m Moment) (edition, bool) {
	w.Try = ""
	now, err := s.place(w, &m)
	return now, err == nil
}

// before is a question's answer about the folder as it stands; without a verdict where there is none.
func (s *service) before(ctx context.Context, stands edition, question string, m Moment) answer.Answer {
	was, err := s.asking.ask(ctx, stands.boat, wish{stands.key(), question, m.Day, m.Condition, true})
	if err != nil {
		return answer.Answer{}
	}
	return was
}

// beforeTheFinger is what the quick questions answer about the folder as it stands, in their order.
func (s *service) beforeTheFinger(stands edition, quick []answer.Question, m Moment) []answer.Answer {
	return s.moments.get(fmt.Sprintf("%s %d %q", stands.key(), m.Day, m.Condition), func() []answer.Answer {
		out := make([]answer.Answer, len(quick))
		for i, q := range quick {
			o := answer.Options{Day: m.Day, Condition: m.Condition, Brief: true, Moment: true}
			if got, err := askSafely(s.asking.open, q, stands.boat, o); err == nil { // not the page's: it is kept for the next
				out[i] = got
			}
		}
		return out
	})
}
