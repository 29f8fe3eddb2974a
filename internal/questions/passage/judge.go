package passage

import (
	"fmt"
	"math"
	"strings"

	"thole/internal/answer"
	"thole/internal/voyages"
)

// late is the share that the late day stands for: nineteen in twenty.
const late = 0.95

// arrivals are the days on which a tally's passages arrive.
type arrivals struct {
	share        float64 // of all that ever arrive
	median, late float64 // by which half and nineteen in twenty of all have arrived
	half, most   bool    // they ever do
	spread       float64 // half of what nineteen in twenty of those that arrive lie within
	lateAmong    float64 // by which nineteen in twenty of those that ever arrive have
	limit        float64 // days after which a passage is out of time
}

// arrivalsOf reads a tally.
func arrivalsOf(t *voyages.Tally) arrivals {
	a := arrivals{limit: t.Most}
	a.share, _, _ = t.Chance(voyages.Arrived)
	a.median, a.half = t.ArrivalBy(0.5)
	a.late, a.most = t.ArrivalBy(late)
	if a.share > 0 {
		low, _ := t.ArrivalBy(0.025 * a.share)
		high, _ := t.ArrivalBy(0.975 * a.share)
		a.lateAmong, _ = t.ArrivalBy(late * a.share)
		a.spread = (high - low) / 2
	}
	return a
}

// judge sets verdict, margin and sentence.
func (q *ask) judge(a *answer.Answer) {
	m := marginOf(q.tally, q.x.Planned)
	a.Margin, a.Verdict = &m, m.Judge()
	a.Sentence = q.sentence(a.Verdict)
}

// marginOf is the margin of a tally in days. Where half never arrive it is what is sure: that the middle one takes longer than the
// planned days and than all the days that were simulated.
func marginOf(t *voyages.Tally, planned int) answer.Margin {
	r := arrivalsOf(t)
	m := answer.Margin{Unit: "d", Spread: r.spread, Confidence: t.ArrivedBefore(float64(planned)), What: "days to spare on the middle passage"}
	if !r.half {
		m.Value = math.Min(float64(planned)-t.Most, -1)
		m.Shown = fmt.Sprintf("below −%.0f days", -m.Value)
		return m
	}
	m.Value = float64(planned) - r.median
	m.Asked = r.late - r.median
	if !r.most { // the chance is below what makes it sure whatever is asked: what is asked tells how late those come that come
		m.Asked = r.lateAmong - r.median
	}
	m.Asked = math.Max(m.Asked, 0)
	m.Shown = fmt.Sprintf("%s ± %.0f days", signed(m.Value), m.Spread)
	return m
}

// signed is a whole number with a minus that is one.
func signed(v float64) string {
	text := fmt.Sprintf("%.0f", math.Abs(v))
	if v < 0 && text != "0" {
		return "−" + text
	}
	return text
}

// sentence is the answer in plain words.
func (q *ask) sentence(v answer.Verdict) string {
	r := arrivalsOf(q.tally)
	word := map[answer.Verdict]string{answer.Yes: "Yes", answer.Close: "Close", answer.No: "No"}[v]
	planned := fmt.Sprintf("her stores are meant for %d days", q.x.Planned)
	if q.x.Planned == 1 {
		planned = "her stores are meant for 1 day"
	}
	if !r.half {
		s := fmt.Sprintf("%s: only %s of %d simulated passages arrive within %.0f days", word, inHundred(r.share), q.n, r.limit)
		if r.share == 0 {
			s = fmt.Sprintf("%s: none of %d simulated passages arrives within %.0f days", word, q.n, r.limit)
		}
		return s + q.elsewhere("; ") + "; " + planned + "."
	}
	s := fmt.Sprintf("%s: half of %d simulated passages arrive by day %.0f", word, q.n, math.Ceil(r.median))
	if r.most {
		return s + fmt.Sprintf(", nineteen in twenty by day %.0f", math.Ceil(r.late)) + q.elsewhere("; ") + "; " + planned + "."
	}
	return s + fmt.Sprintf(", and %s ever do", inHundred(r.share)) + q.elsewhere("; ") + "; " + planned + "."
}

// endings are the ends other than arriving, in words behind one and behind several.
var endings = map[voyages.End][2]string{voyages.Missed: {"passes the landfall", "pass the landfall"}, voyages.Ashore: {"is set ashore", "are set ashore"},
	voyages.OutOfTime: {"is still at sea when the time is out", "are still at sea when the time is out"}}

// elsewhere says what becomes of those that do not arrive, where that is one in a hundred or more.
func (q *ask) elsewhere(before string) string {
	var out []string
	for _, e := range []voyages.End{voyages.Missed, voyages.Ashore, voyages.OutOfTime} {
		if share, _, _ := q.tally.Chance(e); share >= 0.01 {
			words, many := inHundred(share), 1
			if words == "1 in 100" {
				many = 0
			}
			out = append(out, words+" "+endings[e][many])
		}
	}
	if len(out) == 0 {
		return ""
	}
	return before + strings.Join(out, ", ")
}

// inHundred is a share as so many in a hundred; the ends are kept for what is all or nothing.
func inHundred(share float64) string {
	n := math.Round(100 * share)
	switch {
	case share <= 0:
		return "none"
	case n < 1:
		return "fewer than 1 in 100"
	case n >= 100 && share < 1:
		return "more than 99 in 100"
	case share >= 1:
		return "all"
	}
	return fmt.Sprintf("%.0f in 100", n)
}
