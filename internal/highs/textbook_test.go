package highs

import (
	"context"
	"math"
	"testing"
)

// book is a program written as in a book: rows a·x <= (-1), = (0), >= (1) b, x >= 0.
type book struct {
	name     string
	maximise bool
	cost     []float64
	rows     [][]float64
	sense    []int
	rhs      []float64
	whole    bool
	upper    float64
	want     float64
	x        []float64 // the only optimum, where the book has one
	source   string
}

// model is the book's program for the solver.
func (b book) model() *Model {
	m := &Model{Maximise: b.maximise}
	upper := math.Inf(1)
	if b.upper > 0 {
		upper = b.upper
	}
	for _, c := range b.cost {
		j := m.Column(0, upper, c)
		m.Columns[j].Integer = b.whole
	}
	for i, a := range b.rows {
		lo, hi := math.Inf(-1), math.Inf(1)
		if b.sense[i] <= 0 {
			hi = b.rhs[i]
		}
		if b.sense[i] >= 0 {
			lo = b.rhs[i]
		}
		r := m.Row(lo, hi)
		for j, v := range a {
			if v != 0 {
				m.Term(r, j, v)
			}
		}
	}
	return m
}

// transport is the program of shipping from plants to customers.
func transport(supply, demand []float64, cost [][]float64) (c []float64, rows [][]float64, sense []int, rhs []float64) {
	n := len(supply) * len(demand)
	for i := range supply {
		c = append(c, cost[i]...)
		row := make([]float64, n)
		for j := range demand {
			row[i*len(demand)+j] = 1
		}
		rows, sense, rhs = append(rows, row), append(sense, -1), append(rhs, supply[i])
	}
	for j := range demand {
		row := make([]float64, n)
		for i := range supply {
			row[i*len(demand)+j] = 1
		}
		rows, sense, rhs = append(rows, row), append(sense, 1), append(rhs, demand[j])
	}
	return c, rows, sense, rhs
}

// textbooks are programs with published optima. The figures are from memory of the books;
// each also agrees with its optimum by hand (weak duality or counting).
func textbooks() []book {
	var canning, power book
	canning.cost, canning.rows, canning.sense, canning.rhs = transport([]float64{350, 600}, []float64{325, 300, 275},
		[][]float64{{0.225, 0.153, 0.162}, {0.225, 0.162, 0.126}})
	canning.name, canning.want, canning.source = "canning plants", 153.675, "Dantzig, Linear Programming and Extensions (1963), ch. 3-3: 153.675 thousand dollars"
	power.cost, power.rows, power.sense, power.rhs = transport([]float64{35, 50, 40}, []float64{45, 20, 30, 30},
		[][]float64{{8, 6, 10, 9}, {9, 12, 13, 7}, {14, 9, 16, 5}})
	power.name, power.want, power.source = "power stations", 1020, "Winston, Operations Research, 4th ed., section 7.1 (Powerco)"
	return []book{
		canning, power,
		{name: "windows", maximise: true, cost: []float64{3, 5}, rows: [][]float64{{1, 0}, {0, 2}, {3, 2}}, sense: []int{-1, -1, -1},
			rhs: []float64{4, 12, 18}, want: 36, x: []float64{2, 6}, source: "Hillier & Lieberman, Introduction to Operations Research, section 3.1"},
		{name: "toys", maximise: true, cost: []float64{3, 2}, rows: [][]float64{{2, 1}, {1, 1}, {1, 0}}, sense: []int{-1, -1, -1},
			rhs: []float64{100, 80, 40}, want: 180, x: []float64{20, 60}, source: "Winston, section 3.1 (Giapetto)"},
		{name: "furniture", maximise: true, cost: []float64{60, 30, 20}, rows: [][]float64{{8, 6, 1}, {4, 2, 1.5}, {2, 1.5, 0.5}, {0, 1, 0}}, sense: []int{-1, -1, -1, -1},
			rhs: []float64{48, 20, 8, 5}, want: 280, x: []float64{2, 0, 8}, source: "Winston, section 4.3 (Dakota)"},
		{name: "diet", cost: []float64{50, 20, 30, 80}, rows: [][]float64{{400, 200, 150, 500}, {3, 2, 0, 0}, {2, 2, 4, 4}, {2, 4, 1, 5}}, sense: []int{1, 1, 1, 1},
			rhs: []float64{500, 6, 10, 8}, want: 90, x: []float64{0, 3, 1, 0}, source: "Winston, section 3.4 (diet)"},
		{name: "tables and chairs", maximise: true, cost: []float64{8, 5}, rows: [][]float64{{1, 1}, {9, 5}}, sense: []int{-1, -1},
			rhs: []float64{6, 45}, whole: true, want: 40, x: []float64{5, 0}, source: "Winston, section 9.3 (Telfa)"},
		{name: "tables and chairs, relaxed", maximise: true, cost: []float64{8, 5}, rows: [][]float64{{1, 1}, {9, 5}}, sense: []int{-1, -1},
			rhs: []float64{6, 45}, want: 41.25, x: []float64{3.75, 2.25}, source: "Winston, section 9.3 (Telfa, relaxation)"},
		{name: "investments", maximise: true, cost: []float64{16, 22, 12, 8}, rows: [][]float64{{5, 7, 4, 3}}, sense: []int{-1},
			rhs: []float64{14}, whole: true, upper: 1, want: 42, x: []float64{0, 1, 1, 1}, source: "Winston, section 9.2 (Stockco)"},
		{name: "factories", maximise: true, cost: []float64{9, 5, 6, 4}, rows: [][]float64{{6, 3, 5, 2}, {0, 0, 1, 1}, {-1, 0, 1, 0}, {0, -1, 0, 1}}, sense: []int{-1, -1, -1, -1},
			rhs: []float64{10, 1, 0, 0}, whole: true, upper: 1, want: 14, x: []float64{1, 1, 0, 0}, source: "Hillier & Lieberman, section on binary programming (California Manufacturing)"},
		{name: "knapsack", maximise: true, cost: []float64{70, 20, 39, 37, 7, 5, 10}, rows: [][]float64{{31, 10, 20, 19, 4, 3, 6}}, sense: []int{-1},
			rhs: []float64{50}, whole: true, upper: 1, want: 107, x: []float64{1, 0, 0, 1, 0, 0, 0}, source: "Martello & Toth, Knapsack Problems (1990), example 2.1"},
	}
}

func TestTextbooks(t *testing.T) {
	for _, b := range textbooks() {
		t.Run(b.name, func(t *testing.T) {
			s, err := Solve(context.Background(), b.model(), Options{})
			if err != nil {
				t.Fatal(err)
			}
			if s.Status != Optimal || math.Abs(s.Objective-b.want) > 1e-6*b.want || math.Abs(s.Bound-b.want) > 2e-6*b.want {
				t.Errorf("status %v, objective %v, bound %v: want %v (%s)", s.Status, s.Objective, s.Bound, b.want, b.source)
			}
			for j, want := range b.x {
				if math.Abs(s.X[j]-want) > 1e-6 {
					t.Errorf("x = %v, want %v (%s)", s.X, b.x, b.source)
					break
				}
			}
		})
	}
}
