package highs

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// glpsol solves a program with GLPK's command (Debian package glpk-utils; tried with 5.0).
//
// Out: the optimum; NaN where it says that there is none
func glpsol(t *testing.T, m *Model) float64 {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "m.lp"), filepath.Join(dir, "m.txt")
	if err := os.WriteFile(in, []byte(lp(m)), 0o600); err != nil {
		t.Fatal(err)
	}
	said, err := exec.Command("glpsol", "--lp", in, "-o", out).CombinedOutput()
	if err != nil {
		t.Fatalf("glpsol: %v\n%s", err, said)
	}
	b, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(said, []byte("NO ")) && bytes.Contains(said, []byte("FEASIBLE SOLUTION")) {
		return math.NaN()
	}
	status := regexp.MustCompile(`(?m)^Status:\s+(.*)$`).FindSubmatch(b)
	value := regexp.MustCompile(`(?m)^Objective:\s+\S+ = (\S+)`).FindSubmatch(b)
	if status == nil || value == nil || !strings.Contains(string(status[1]), "OPTIMAL") {
		t.Fatalf("glpsol ends without an optimum:\n%s\n%s", said, b)
	}
	v, err := strconv.ParseFloat(string(value[1]), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v + m.Offset
}

// lp writes a program in the text form that GLPK reads (without its offset).
func lp(m *Model) string {
	var s strings.Builder
	if m.Maximise {
		s.WriteString("Maximize\n obj:")
	} else {
		s.WriteString("Minimize\n obj:")
	}
	for j, c := range m.Columns {
		fmt.Fprintf(&s, " %+.17g x%d", c.Cost, j)
	}
	s.WriteString("\nSubject To\n none: +0 x0 <= 1\n") // GLPK asks for at least one row
	for i, r := range m.Rows {
		row := ""
		for _, t := range m.Terms {
			if t.Row == i {
				row += fmt.Sprintf(" %+.17g x%d", t.Value, t.Column)
			}
		}
		if row == "" {
			row = " +0 x0"
		}
		if !math.IsInf(r.Upper, 1) {
			fmt.Fprintf(&s, " u%d:%s <= %.17g\n", i, row, r.Upper)
		}
		if !math.IsInf(r.Lower, -1) {
			fmt.Fprintf(&s, " l%d:%s >= %.17g\n", i, row, r.Lower)
		}
	}
	s.WriteString("Bounds\n")
	for j, c := range m.Columns {
		fmt.Fprintf(&s, " %s <= x%d <= %s\n", bound(c.Lower), j, bound(c.Upper))
	}
	s.WriteString("General\n")
	for j, c := range m.Columns {
		if c.Integer {
			fmt.Fprintf(&s, " x%d\n", j)
		}
	}
	return s.String() + "End\n"
}

// bound is a bound as GLPK reads it.
func bound(v float64) string {
	switch {
	case math.IsInf(v, 1):
		return "+inf"
	case math.IsInf(v, -1):
		return "-inf"
	}
	return fmt.Sprintf("%.17g", v)
}

// assignment is a made-up generalised assignment: jobs to agents of limited capacity.
func assignment(r *rand.Rand, agents, jobs int) *Model {
	m := &Model{}
	cap := make([]int, agents)
	for a := range agents {
		sum := 0
		weights := make([]int, jobs)
		for j := range jobs {
			weights[j] = 5 + r.IntN(21)
			sum += weights[j]
		}
		cap[a] = sum * 8 / (10 * agents)
		row := m.Row(math.Inf(-1), float64(cap[a]))
		for j := range jobs {
			m.Term(row, m.Whole(0, 1, float64(10+r.IntN(41))), float64(weights[j]))
		}
	}
	for j := range jobs {
		row := m.Row(1, 1)
		for a := range agents {
			m.Term(row, a*jobs+j, 1)
		}
	}
	return m
}

// TestAgainstGLPK: source: GLPK's glpsol, an independent solver.
func TestAgainstGLPK(t *testing.T) {
	if _, err := exec.LookPath("glpsol"); err != nil {
		t.Skip("glpsol (Debian: glpk-utils) is not here: the comparison with an independent solver is left out")
	}
	r := rand.New(rand.NewPCG(5, 5))
	var all []*Model
	for range 25 {
		all = append(all, random(r))
	}
	for range 10 {
		all = append(all, assignment(r, 3, 8))
	}
	for range 10 { // linear ones
		m := assignment(r, 4, 10)
		for j := range m.Columns {
			m.Columns[j].Integer = false
		}
		all = append(all, m)
	}
	for n, m := range all {
		want := glpsol(t, m)
		s, err := Solve(context.Background(), m, Options{})
		if math.IsNaN(want) {
			if !errors.Is(err, ErrInfeasible) {
				t.Errorf("program %d: %v, %v; glpsol finds no solution", n, s, err)
			}
			continue
		}
		// glpsol prints nine figures.
		if err != nil || math.Abs(s.Objective-want) > 1e-6*max(1, math.Abs(want)) {
			t.Errorf("program %d: %v, %v; glpsol finds %v", n, s, err, want)
		}
	}
}
