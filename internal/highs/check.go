package highs

import (
	"fmt"
	"math"
	"sort"
)

// matrix is a checked model laid out as the solver takes it: row by row.
type matrix struct {
	start, index []int32
	value        []float64
	whole        bool // some column is integer
}

// huge is the size from which the solver takes a number for infinite.
const huge = 1e20

// lay checks a model and lays out its matrix.
//
// Error: words that name the column x<n>, row r<n> or term at fault
func (m *Model) lay() (*matrix, error) {
	if len(m.Columns) == 0 {
		return nil, ErrEmpty
	}
	if !finite(m.Offset) {
		return nil, fmt.Errorf("the objective's offset is %v: give a number", m.Offset)
	}
	var out matrix
	for j, c := range m.Columns {
		switch {
		case math.IsNaN(c.Lower) || math.IsNaN(c.Upper) || c.Lower >= huge || c.Upper <= -huge:
			return nil, fmt.Errorf("column x%d has the bounds %v and %v: give numbers, or -Inf below and +Inf above", j, c.Lower, c.Upper)
		case !finite(c.Cost):
			return nil, fmt.Errorf("column x%d has the cost %v: give a number", j, c.Cost)
		case c.Lower > c.Upper:
			return nil, fmt.Errorf("column x%d: %w (its lower bound %v is above its upper bound %v)", j, ErrInfeasible, c.Lower, c.Upper)
		}
		out.whole = out.whole || c.Integer
	}
	for i, r := range m.Rows {
		switch {
		case math.IsNaN(r.Lower) || math.IsNaN(r.Upper) || r.Lower >= huge || r.Upper <= -huge:
			return nil, fmt.Errorf("row r%d has the bounds %v and %v: give numbers, or -Inf below and +Inf above", i, r.Lower, r.Upper)
		case r.Lower > r.Upper:
			return nil, fmt.Errorf("row r%d: %w (its lower bound %v is above its upper bound %v)", i, ErrInfeasible, r.Lower, r.Upper)
		}
	}
	count := make([]int32, len(m.Rows)+1)
	for k, t := range m.Terms {
		switch {
		case t.Row < 0 || t.Row >= len(m.Rows):
			return nil, fmt.Errorf("term %d stands in row r%d, and there are %d rows", k, t.Row, len(m.Rows))
		case t.Column < 0 || t.Column >= len(m.Columns):
			return nil, fmt.Errorf("term %d stands in column x%d, and there are %d columns", k, t.Column, len(m.Columns))
		case !finite(t.Value):
			return nil, fmt.Errorf("the term of row r%d and column x%d is %v: give a number", t.Row, t.Column, t.Value)
		}
		count[t.Row+1]++
	}
	for i := range m.Rows {
		count[i+1] += count[i]
	}
	out.start = append([]int32(nil), count...)
	out.index = make([]int32, len(m.Terms))
	out.value = make([]float64, len(m.Terms))
	for _, t := range m.Terms {
		at := count[t.Row]
		count[t.Row]++
		out.index[at], out.value[at] = int32(t.Column), t.Value
	}
	for i := range m.Rows {
		if err := out.order(i); err != nil {
			return nil, err
		}
	}
	return &out, nil
}

// order sorts a row by column and refuses a column named twice.
func (m *matrix) order(i int) error {
	a, b := m.start[i], m.start[i+1]
	row := pairs{m.index[a:b], m.value[a:b]}
	if !sort.IsSorted(row) {
		sort.Sort(row)
	}
	for k := 1; k < len(row.index); k++ {
		if row.index[k] == row.index[k-1] {
			return fmt.Errorf("row r%d has two terms in column x%d: add them up", i, row.index[k])
		}
	}
	return nil
}

// pairs sorts a row's columns along with their values.
type pairs struct {
	index []int32
	value []float64
}

func (p pairs) Len() int           { return len(p.index) }
func (p pairs) Less(a, b int) bool { return p.index[a] < p.index[b] }
func (p pairs) Swap(a, b int) {
	p.index[a], p.index[b] = p.index[b], p.index[a]
	p.value[a], p.value[b] = p.value[b], p.value[a]
}

// finite tells whether a number is one, and not as large as the solver's infinity.
func finite(v float64) bool { return math.Abs(v) < huge }
