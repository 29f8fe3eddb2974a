package model

import (
	"errors"
	"fmt"
	"math"

	"thole/internal/units"
)

// Rowed is how long the crew row in a day: each in the order of the crew, 0 where it is not said, and the watches, if there are any.
type Rowed struct {
	Crew    []units.Duration
	Watches []Hours
}

// leastRowed is the least that counts as rowing in a day, and longestDay the most.
const (
	leastRowed = units.Duration(600)
	longestDay = units.Duration(24 * 3600)
)

// WithHours is the crew's day with so much more or less time at the oars for everybody whose hours are given. Watches change in the
// proportion in which the crew's hours change together, or by so much together where nobody's are given: each at its end; what is
// longer goes before its beginning where the next one follows at once. Nothing of the voyage is changed.
//
// Error:  nothing is said of hours, nobody would be left rowing, or the day has no room for it
func (v *Voyage) WithHours(by units.Duration) (Rowed, error) {
	if v == nil {
		return Rowed{}, errors.New("voyage.yaml does not say how long anybody rows")
	}
	out := Rowed{Crew: make([]units.Duration, len(v.Crew))}
	var was, is units.Duration
	for i, p := range v.Crew {
		if p.Hours == 0 {
			continue
		}
		out.Crew[i] = p.Hours + by
		if out.Crew[i] < leastRowed || out.Crew[i] > longestDay {
			return Rowed{}, fmt.Errorf("%s rows %s a day, and cannot row %s", p.Name, units.Metric.Duration(p.Hours), units.Metric.Duration(out.Crew[i]))
		}
		was, is = was+p.Hours, is+out.Crew[i]
	}
	if was == 0 {
		for _, w := range v.Habits.Watches {
			was += units.Duration((w.To - w.From) * 3600)
		}
		if is = was + by; was == 0 || is < leastRowed {
			return Rowed{}, errors.New("voyage.yaml does not say how long anybody rows, or not so long")
		}
	}
	var fits bool
	if out.Watches, fits = stretched(v.Habits.Watches, float64(is/was)); !fits {
		return Rowed{}, errors.New("the watches leave no room in the day for more")
	}
	return out, nil
}

// stretched are watches so many times as long, to the minute and never less than one; false where they do not fit into the day.
func stretched(watches []Hours, times float64) ([]Hours, bool) {
	minute := func(hours float64) int { return int(math.Round(hours * 60)) }
	type span struct{ from, to int }
	spans := make([]span, len(watches))
	wanted, got := 0.0, 0
	for i, w := range watches {
		from, to := minute(w.From), minute(w.To)
		wanted += float64(to-from) * times
		end := 24 * 60
		if i+1 < len(watches) {
			end = minute(watches[i+1].From)
		}
		spans[i] = span{from, min(end, from+max(1, int(math.Round(float64(to-from)*times))))}
		got += spans[i].to - spans[i].from
	}
	missing := int(math.Round(wanted)) - got
	begin := 0
	for i := range spans {
		if room := min(spans[i].from-begin, missing); room > 0 && times > 1 {
			spans[i].from -= room
			missing -= room
		}
		begin = spans[i].to
	}
	if times > 1 && missing > len(spans) { // a minute each may be lost by rounding
		return nil, false
	}
	var out []Hours
	for _, s := range spans {
		out = append(out, Hours{From: float64(s.from) / 60, To: float64(s.to) / 60})
	}
	return out, true
}
