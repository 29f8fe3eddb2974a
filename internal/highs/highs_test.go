package highs

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"thole/internal/house/patience"
)

func TestPinned(t *testing.T) {
	if _, err := unpack(); err != nil {
		t.Error(err)
	}
	was := packed
	defer func() { packed = was }()
	packed = append([]byte(nil), was[:len(was)-20]...)
	if _, err := unpack(); !errors.Is(err, ErrSolver) {
		t.Errorf("a damaged file: %v", err)
	}
}

// TestHostile: what cannot be solved is an error with words, never a number.
func TestHostile(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		name string
		make func(*Model)
		is   error
		says string
	}{
		{"empty", func(*Model) {}, ErrEmpty, "nothing is to be decided"},
		{"NaN cost", func(m *Model) { m.Column(0, 1, nan) }, nil, "x0 has the cost NaN"},
		{"NaN bound", func(m *Model) { m.Column(nan, 1, 1) }, nil, "x0 has the bounds NaN"},
		{"infinite cost", func(m *Model) { m.Column(0, 1, inf) }, nil, "x0 has the cost +Inf"},
		{"lower bound infinite", func(m *Model) { m.Column(inf, inf, 1) }, nil, "x0 has the bounds"},
		{"NaN row", func(m *Model) { m.Column(0, 1, 1); m.Row(nan, 0) }, nil, "r0 has the bounds"},
		{"NaN term", func(m *Model) { m.Term(m.Row(0, 1), m.Column(0, 1, 1), nan) }, nil, "r0 and column x0"},
		{"NaN offset", func(m *Model) { m.Column(0, 1, 1); m.Offset = nan }, nil, "offset"},
		{"no such row", func(m *Model) { m.Term(3, m.Column(0, 1, 1), 1) }, nil, "row r3"},
		{"no such column", func(m *Model) { m.Column(0, 1, 1); m.Term(m.Row(0, 1), -1, 1) }, nil, "column x-1"},
		{"twice", func(m *Model) { r, c := m.Row(0, 1), m.Column(0, 1, 1); m.Term(r, c, 1); m.Term(r, c, 1) }, nil, "two terms"},
		{"bounds crossed", func(m *Model) { m.Column(2, 1, 1) }, ErrInfeasible, "x0"},
		{"row crossed", func(m *Model) { m.Column(0, 1, 1); m.Row(2, 1) }, ErrInfeasible, "r0"},
		{"infeasible", func(m *Model) { m.Term(m.Row(2, inf), m.Column(0, 1, 1), 1) }, ErrInfeasible, "contradict"},
		{"infeasible in whole numbers", func(m *Model) { m.Term(m.Row(1, 1), m.Whole(0, 9, 1), 2) }, ErrInfeasible, "contradict"},
		{"unbounded", func(m *Model) { m.Column(0, inf, -1) }, ErrUnbounded, "without end"},
		{"unbounded in whole numbers", func(m *Model) { m.Term(m.Row(0, inf), m.Whole(0, inf, -1), 1) }, ErrUnbounded, "without end"},
	} {
		var m Model
		c.make(&m)
		s, err := Solve(context.Background(), &m, Options{})
		if err == nil || s != nil || c.is != nil && !errors.Is(err, c.is) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, %v; want an error that says %q", c.name, s, err, c.says)
		}
	}
	var m Model
	m.Column(0, 1, 1)
	if _, err := Solve(context.Background(), &m, Options{Seconds: math.NaN()}); err == nil {
		t.Error("NaN seconds: no error")
	}
	s, err := Solve(context.Background(), &m, Options{})
	if err != nil || s.Objective != 0 || s.Status != Optimal {
		t.Errorf("one column and no row: %v, %v", s, err)
	}
}

// random is a small program in whole numbers 0..4 with rows of both kinds.
func random(r *rand.Rand) *Model {
	m := &Model{Maximise: r.IntN(2) == 0, Offset: float64(r.IntN(9) - 4)}
	n := 1 + r.IntN(5)
	for range n {
		m.Whole(0, float64(1+r.IntN(4)), float64(r.IntN(21)-10))
	}
	for range r.IntN(4) {
		row := m.Row(math.Inf(-1), float64(r.IntN(20)))
		if r.IntN(3) == 0 {
			m.Rows[row].Lower = m.Rows[row].Upper - float64(r.IntN(6))
		}
		for j := range n {
			if v := r.IntN(13) - 4; v != 0 {
				m.Term(row, j, float64(v))
			}
		}
	}
	return m
}

// brute tries every point of a small program; NaN where none keeps the rows.
func brute(m *Model) float64 {
	best := math.NaN()
	x := make([]float64, len(m.Columns))
	var walk func(int)
	walk = func(j int) {
		if j == len(x) {
			for i, r := range m.Rows {
				s := 0.0
				for _, t := range m.Terms {
					if t.Row == i {
						s += t.Value * x[t.Column]
					}
				}
				if s < r.Lower || s > r.Upper {
					return
				}
			}
			v := m.Offset
			for j, c := range m.Columns {
				v += c.Cost * x[j]
			}
			if math.IsNaN(best) || m.Maximise && v > best || !m.Maximise && v < best {
				best = v
			}
			return
		}
		for v := m.Columns[j].Lower; v <= m.Columns[j].Upper; v++ {
			x[j] = v
			walk(j + 1)
		}
	}
	walk(0)
	return best
}

// TestAgainstEveryPoint: source: every point of the program, tried.
func TestAgainstEveryPoint(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	none := 0
	all := 150
	if testing.Short() {
		all = 40
	}
	for n := range all {
		m := random(r)
		want := brute(m)
		s, err := Solve(context.Background(), m, Options{})
		if math.IsNaN(want) {
			none++
			if !errors.Is(err, ErrInfeasible) {
				t.Errorf("program %d has no solution: %v, %v", n, s, err)
			}
			continue
		}
		if err != nil || s.Objective != want || s.Bound != want || m.Breach(s.X) != 0 || m.Value(s.X) != want {
			t.Errorf("program %d: %+v, %v; want %v", n, s, err, want)
		}
	}
	if none == 0 || none > all/2 {
		t.Errorf("%d of %d programs without a solution: the trial is lopsided", none, all)
	}
}

// hard is a market-split program: small, and far from solved in a minute.
//
// Source: Cornuéjols & Dawande, "A class of hard small 0-1 programs", INFORMS Journal on
// Computing 11 (1999) 205-210 (with slacks, so that every point is a solution)
func hard() *Model {
	r := rand.New(rand.NewPCG(4, 4))
	m := &Model{}
	const rows, cols = 5, 40
	for range cols {
		m.Whole(0, 1, 0)
	}
	for i := range rows {
		row, sum := m.Row(0, 0), 0
		for j := range cols {
			v := r.IntN(100)
			sum += v
			m.Term(row, j, float64(v))
		}
		m.Term(row, m.Column(0, math.Inf(1), 1), 1)
		m.Term(row, m.Column(0, math.Inf(1), 1), -1)
		m.Rows[i] = Row{float64(sum / 2), float64(sum / 2)}
	}
	return m
}

// TestStopped: cancelled at any time the best so far comes back, soon.
func TestStopped(t *testing.T) {
	m := hard()
	start := make([]float64, len(m.Columns)) // nothing sold: the slacks carry all
	for i := range m.Rows {
		start[40+2*i] = m.Rows[i].Lower
	}
	if err := Warm(); err != nil {
		t.Fatal(err)
	}
	// At once, before anything is found; some time on the way; and when the first better solution has come.
	for _, after := range []time.Duration{0, 30 * time.Millisecond, time.Hour} {
		ctx, cancel := context.WithTimeout(context.Background(), after)
		began, found, last := time.Now(), 0, math.Inf(-1)
		told := began.Add(after)
		s, err := Solve(ctx, m, Options{Start: start, Found: func(x []float64) {
			found++
			if m.Breach(x) > feasible {
				t.Error("a solution that breaks a row")
			}
			if m.Value(x) < m.Value(start) && ctx.Err() == nil {
				told = time.Now()
				cancel()
			}
		}, Progress: func(best, bound, gap float64) {
			if bound < last || bound > best {
				t.Errorf("bound %v after %v, best %v", bound, last, best)
			}
			last = bound
		}})
		took := time.Since(told)
		cancel()
		if err != nil || s.Status != Stopped || s.X == nil || m.Breach(s.X) > feasible || s.Objective > m.Value(start) || s.Bound > s.Objective {
			t.Errorf("after %v: %+v, %v", after, s, err)
		}
		if patience.Over(took, grace+time.Second) {
			t.Errorf("after %v: came back only %v after it was told to", after, took)
		}
		if after == time.Hour && (found == 0 || s.Objective >= m.Value(start)) {
			t.Errorf("nothing better than the start: %+v", s)
		}
	}
	s, err := Solve(context.Background(), m, Options{Seconds: 0.5})
	if err != nil || s.Status != Stopped || s.X == nil || s.Gap <= 0 {
		t.Errorf("half a second: %+v, %v", s, err)
	}
}

// TestTogether: solves at the same time do not disturb each other.
func TestTogether(t *testing.T) {
	errs := make(chan error)
	for n := range 4 {
		go func() {
			r := rand.New(rand.NewPCG(9, uint64(n)))
			for range 8 {
				m := random(r)
				want := brute(m)
				s, err := Solve(context.Background(), m, Options{})
				if math.IsNaN(want) != (err != nil) || err == nil && s.Objective != want {
					errs <- errors.New("a wrong answer")
					return
				}
			}
			errs <- nil
		}()
	}
	for range 4 {
		if err := <-errs; err != nil {
			t.Error(err)
		}
	}
}

func BenchmarkSmall(b *testing.B) {
	m := textbooks()[8].model()
	for b.Loop() {
		if _, err := Solve(context.Background(), m, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
