// Package highs solves linear and mixed-integer programs with HiGHS, a solver kept by
// the University of Edinburgh, compiled to WebAssembly and run inside this process: no
// C compiler, no separate program, no file.
//
// The solver is the file highs.wasm of the npm package highs 1.15.3 (MIT; its licence
// stands beside it as highs.LICENSE.txt), kept compressed and checked against its hash
// before it is used, because the names of its exports change from one build to the next.
//
// A model has columns (what is decided) and rows (what must hold) known by number only:
// no text of a person's reaches the solver.
//
// Source: Q. Huangfu and J. A. J. Hall, "Parallelizing the dual revised simplex method",
// Mathematical Programming Computation 10 (2018) 119-142
package highs

import (
	"errors"
	"math"
)

// Column is one decision.
type Column struct {
	Lower, Upper float64 // ±Inf where it has no bound
	Cost         float64 // in the objective
	Integer      bool    // whole numbers only
}

// Row is one condition: Lower <= sum of the row's terms <= Upper.
type Row struct {
	Lower, Upper float64 // ±Inf where it has no bound
}

// Term is one coefficient of the matrix.
type Term struct {
	Row, Column int
	Value       float64
}

// Model is a program to solve: find the columns that make Offset + sum Cost·x least (or
// greatest) while every row and bound holds. The zero Model is empty and ready to build.
type Model struct {
	Columns  []Column
	Rows     []Row
	Terms    []Term // in any order, each pair of row and column at most once
	Offset   float64
	Maximise bool
}

// Column adds a decision and returns its number.
func (m *Model) Column(lower, upper, cost float64) int {
	m.Columns = append(m.Columns, Column{Lower: lower, Upper: upper, Cost: cost})
	return len(m.Columns) - 1
}

// Whole adds a decision in whole numbers and returns its number.
func (m *Model) Whole(lower, upper, cost float64) int {
	j := m.Column(lower, upper, cost)
	m.Columns[j].Integer = true
	return j
}

// Row adds a condition without terms and returns its number.
func (m *Model) Row(lower, upper float64) int {
	m.Rows = append(m.Rows, Row{lower, upper})
	return len(m.Rows) - 1
}

// Term puts a coefficient into a row.
func (m *Model) Term(row, column int, value float64) {
	m.Terms = append(m.Terms, Term{row, column, value})
}

// Value is the objective of x.
func (m *Model) Value(x []float64) float64 {
	v := m.Offset
	for j, c := range m.Columns {
		v += c.Cost * x[j]
	}
	return v
}

// Breach is the most by which x breaks a bound, a row (relative to the row's own size,
// where that is above one) or wholeness; 0 for a solution.
func (m *Model) Breach(x []float64) float64 {
	if len(x) != len(m.Columns) {
		return math.Inf(1)
	}
	worst := 0.0
	for j, c := range m.Columns {
		if math.IsNaN(x[j]) {
			return math.Inf(1)
		}
		worst = max(worst, c.Lower-x[j], x[j]-c.Upper)
		if c.Integer {
			worst = max(worst, math.Abs(x[j]-math.Round(x[j])))
		}
	}
	sum, size := make([]float64, len(m.Rows)), make([]float64, len(m.Rows))
	for _, t := range m.Terms {
		v := t.Value * x[t.Column]
		sum[t.Row] += v
		size[t.Row] = max(size[t.Row], math.Abs(v))
	}
	for i, r := range m.Rows {
		worst = max(worst, (r.Lower-sum[i])/max(1, size[i]), (sum[i]-r.Upper)/max(1, size[i]))
	}
	return worst
}

// Options say how long to look and from where. The zero Options look until it is proved.
type Options struct {
	Seconds  float64                        // stop after this long; 0: no limit
	Gap      float64                        // stop once the gap is at most this; 0: 1e-6
	Start    []float64                      // a solution to begin with (not used when it breaks a rule)
	Progress func(best, bound, gap float64) // called from the solver's thread when something changed; best is NaN before the first solution
	Found    func(x []float64)              // called with each better solution of a whole-number program; x is the callee's to keep
	Seed     int                            // another order of the solver's ties
}

// Status says how a solve ended.
type Status int

// How a solve ended.
const (
	Optimal Status = iota // proved, within the gap asked for
	Stopped               // out of time, or told to stop; X is the best found, or nil
)

// Solution is what was found.
type Solution struct {
	Status    Status
	X         []float64 // nil when nothing was found before the end
	Objective float64   // NaN without X
	Bound     float64   // no solution is better; ±Inf when nothing is known
	Gap       float64   // |Objective - Bound| / |Objective| (0 when they agree, +Inf when one is missing)
}

// Why a program has no answer.
var (
	ErrEmpty      = errors.New("the program has no columns: nothing is to be decided")
	ErrInfeasible = errors.New("no solution exists: the rules contradict each other")
	ErrUnbounded  = errors.New("no best solution exists: the objective can be improved without end (a bound is missing)")
	ErrSolver     = errors.New("the solver failed")
)

// gapOf is the relative distance between a solution's value and a bound.
func gapOf(objective, bound float64) float64 {
	d := math.Abs(objective - bound)
	switch {
	case math.IsNaN(d) || math.IsInf(d, 0):
		return math.Inf(1)
	case d <= 1e-9:
		return 0
	}
	return d / max(math.Abs(objective), 1e-9)
}
