package head

import (
	"context"
	"errors"
	"fmt"
	"math"

	"thole/internal/answer"
	"thole/internal/heading"
	"thole/internal/underway"
)

// settings are what may be up or down while she is rowed.
func settings(y *underway.Yaw) []underway.Setting {
	out := []underway.Setting{{Rudder: true, Boards: true}}
	if y.Lifted() {
		out = append(out, underway.Setting{Rudder: true})
	}
	return out
}

// best is the setting that keeps most courses in a wind, and those.
func best(y *underway.Yaw, wind float64, h heading.Helm) (underway.Setting, heading.Sweep, error) {
	var set underway.Setting
	var sweep heading.Sweep
	found := false
	for _, s := range settings(y) {
		got, err := before(y.Boat(s), wind, y.Thrust, h)
		if err != nil {
			return set, sweep, err
		}
		if !found || got.Half > sweep.Half+1e-9 {
			set, sweep, found = s, got, true
		}
	}
	return set, sweep, nil
}

func before(b heading.Boat, wind float64, thrust func(float64) float64, h heading.Helm) (heading.Sweep, error) {
	m, err := heading.New(b)
	if err != nil {
		return heading.Sweep{}, err
	}
	return m.Before(wind, thrust, h)
}

// tightest finds the day, heaviest or lightest, on which she keeps fewest courses.
func (q *ask) tightest(ctx context.Context) error {
	days := q.way.Spread(q.rowed)
	if n := len(days); n > 2 {
		days = []int{days[0], days[n-1]}
	}
	for _, d := range days {
		if err := ctx.Err(); err != nil {
			return err
		}
		y, err := q.way.Yaw(d, q.rowed)
		if err != nil {
			return fmt.Errorf("%s %w", q.t.When(d, q.rowed), err)
		}
		set, sweep, err := best(y, q.wind, helm)
		if err != nil {
			return fmt.Errorf("%s %w", q.t.When(d, q.rowed), err)
		}
		if q.worst == nil || sweep.Half < q.sweep.Half-1e-9 {
			q.worst, q.setting, q.sweep = y, set, sweep
		}
	}
	return nil
}

// leftOut is what the steady balance leaves out, waves and yawing above all, as a share of the sector: a judgement, for
// nothing published holds such a balance against a rowing boat in a seaway.
const leftOut = 0.25

// least is the smallest spread that is told: how finely the end of the sector is looked for, and the wind's own angle,
// which nobody knows to better than a degree.
const least = 1 * deg

// doubt is the sector with what is not known about it.
//
// Source: JCGM 100:2008, 5.1, by heading.Vary; the thrust, and what the balance leaves out, as two doubts more
func (q *ask) doubt() error {
	b := q.worst.Boat(q.setting)
	r, err := heading.Vary(b.Coefficients, heading.Doubts(), func(k heading.Coefficients) ([]float64, error) {
		c := b
		c.Coefficients = k
		s, err := before(c, q.wind, q.worst.Thrust, helm)
		return []float64{s.Half}, err
	})
	if err != nil {
		return err
	}
	q.half = r[0]
	push := q.worst.Rowed.Thrust(1)
	share := 0.0
	if push.Value > 0 {
		share = math.Min(0.9, push.Spread/push.Value)
	}
	ends := [2]float64{math.NaN(), math.NaN()}
	for i, f := range [2]float64{1 - share, 1 + share} {
		s, err := before(b, q.wind, func(v float64) float64 { return f * q.worst.Thrust(v) }, helm)
		if err != nil && !errors.Is(err, heading.ErrUnconverged) {
			return err
		}
		if err == nil {
			ends[i] = s.Half
		}
	}
	h := &q.half
	h.Shares = append(h.Shares, heading.Share{Name: "the crew's thrust", Low: ends[0], High: ends[1]})
	h.Shares = append(h.Shares, heading.Share{Name: "waves, yawing and all that is left out", Low: (1 - leftOut) * h.Value, High: math.Min(math.Pi, (1+leftOut)*h.Value)})
	down, up := 0.0, 0.0
	for _, e := range ends {
		if !math.IsNaN(e) {
			down, up = math.Max(down, h.Value-e), math.Max(up, e-h.Value)
		}
	}
	h.Low = math.Max(0, h.Value-math.Hypot(math.Hypot(h.Value-h.Low, down), math.Hypot(leftOut*h.Value, least)))
	h.High = math.Min(math.Pi, h.Value+math.Hypot(math.Hypot(h.High-h.Value, up), math.Hypot(leftOut*h.Value, least)))
	return nil
}

// judge sets verdict, margin, worst and the short sentence.
func (q *ask) judge(a *answer.Answer) {
	value := q.half.Value - q.sector
	spread := q.half.Value - q.half.Low // what is between her and the limit
	if value <= 0 {
		spread = q.half.High - q.half.Value
	}
	spread = math.Max(spread, least)
	m := &answer.Margin{Value: value, Unit: "rad", What: "half of the sector that she can be steered on, less the one wanted", Spread: spread,
		Confidence: answer.Chance(value, spread/1.96), Shown: fmt.Sprintf("%.0f° ± %.0f°", value/deg, spread/deg)}
	a.Margin, a.Verdict = m, m.Judge()
	day := q.worst.State.Day
	a.Worst = &answer.Worst{Day: day, Condition: q.t.Conditions[q.rowed].Name}
	lead := map[answer.Verdict]string{answer.Yes: "Yes", answer.Close: "Close", answer.No: "No"}[a.Verdict]
	up := ""
	if q.worst.Lifted() {
		up = ", board up"
		if q.setting.Boards {
			up = ", board down"
		}
	}
	reach := fmt.Sprintf("she can be steered up to %.0f° (%.0f° to %.0f°) either side of dead downwind", q.half.Value/deg, q.half.Low/deg, q.half.High/deg)
	switch {
	case q.half.Value >= math.Pi:
		reach = fmt.Sprintf("she can be steered on any course, or, if what is not known is against her, only %.0f° either side of dead downwind", q.half.Low/deg)
	}
	q.short = fmt.Sprintf("%s: rowed in %.0f kn of wind%s, %s, fewest %s; %.0f° is wanted.", lead, q.wind/knot, up, reach, q.t.When(day, q.rowed), q.sector/deg)
}
