package stowing

import (
	"context"
	"errors"
	"math"

	"thole/internal/highs"
)

// Ease is how much of one wish must at least be given up whatever the other wishes: with trim, heel or height outside its limit by no more than
// so many times the scale on every check day. Kind is TrimByBow for trim both ways, HeelToPort for heel both ways, or TooHigh; scale is by state,
// or one for all.
//
// Out: no plan that keeps the rules has it for less; 0 where none must be given up, or where that was not decided in time
//
// Error: words about the problem, or a failure of the solver
func Ease(ctx context.Context, p *Problem, kind Kind, scale []float64, seconds float64) (float64, error) {
	j, err := prepare(p)
	if err != nil {
		return 0, err
	}
	if scale, err = spread(scale, j.Trip.Days, "scales"); err != nil {
		return 0, err
	}
	q := map[Kind]int{TrimByBow: 0, HeelToPort: 1, TooHigh: 2}[kind]
	full := j.build()
	m, over := full.m, full.over[q]
	if len(m.Columns) > fullSize {
		c := j.coarsen()
		m, over = c.m, c.full.over[q]
	}
	for n := range m.Columns {
		m.Columns[n].Cost = 0
	}
	m.Offset = 0
	give := m.Column(0, math.Inf(1), 1)
	for c, col := range over {
		r := m.Row(0, math.Inf(1))
		m.Term(r, give, scale[j.ends[c]])
		m.Term(r, col, -1)
	}
	s, err := highs.Solve(ctx, &m, highs.Options{Seconds: seconds})
	if errors.Is(err, highs.ErrInfeasible) {
		return 0, nil
	}
	if err != nil || math.IsNaN(s.Bound) || math.IsInf(s.Bound, 0) {
		return 0, err
	}
	return max(0, s.Bound-rounding), nil
}
