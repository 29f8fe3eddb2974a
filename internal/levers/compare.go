package levers

import (
	"cmp"
	"math"
	"slices"

	"thole/internal/answer"
	"thole/internal/units"
)

// still is how little a margin may differ, of its own size, and be the same: what is left of rounding.
const still = 1e-9

// Compare sets an answer beside what it was before something was changed.
func Compare(was, now answer.Answer, sys units.System) Cell {
	c, _ := compare(now.Question, was, now, sys)
	return c
}

// compare sets an answer with a lever beside the one without.
//
// Out: the cell, and whether nothing at all has moved
func compare(id string, was, now answer.Answer, sys units.System) (Cell, bool) {
	c := Cell{Question: id, Was: was.Verdict, Verdict: now.Verdict, Margin: now.Margin, Shown: "0"}
	same := was.Verdict == now.Verdict
	a, b := was.Margin, now.Margin
	switch {
	case a == nil && b == nil:
		return c, same
	case b == nil:
		c.Shown = string(now.Verdict)
		return c, false
	case a == nil || a.Unit != b.Unit || a.What != b.What:
		c.Shown = "now " + b.Shown
		return c, false
	}
	c.Known = true
	size := math.Max(math.Max(math.Abs(a.Value), math.Abs(b.Value)), math.Max(math.Abs(a.Asked), math.Abs(a.Spread)))
	moved := func(x, y, size float64) bool { return math.Abs(x-y) > still*math.Max(size, 1e-6) }
	if moved(a.Value, b.Value, size) {
		c.Change = b.Value - a.Value
		c.Shown = answer.ShownChange(c.Change, b.Unit, sys)
		return c, false
	}
	if moved(a.Spread, b.Spread, size) || moved(a.Confidence, b.Confidence, 1) {
		if math.Abs(b.Spread-a.Spread) > 0.01*math.Abs(a.Spread) {
			c.Shown = "surer"
			if b.Spread > a.Spread {
				c.Shown = "less sure"
			}
		}
		return c, false
	}
	return c, same
}

// rank orders verdicts from the worst; what cannot be told has no margin that a lever could move.
var rank = map[answer.Verdict]int{answer.No: 0, answer.Close: 1, answer.Yes: 2, answer.CannotTell: 3}

// relative is a margin over what was asked of it; over its own doubt where nothing was.
func relative(m *answer.Margin) float64 {
	switch {
	case m == nil:
		return math.Inf(1)
	case m.Asked > 0:
		return m.Value / m.Asked
	case m.Spread > 0:
		return m.Value / m.Spread
	case m.Value == 0:
		return 0
	}
	return math.Copysign(math.Inf(1), m.Value)
}

// tightest is the answer that holds least: the worst verdict first (no, close, yes), then the least margin
// relative to what was asked, then the least sure. What cannot be told has no margin and is passed over.
//
// Out: -1 when nothing can be told
func tightest(all []answer.Answer) int {
	best := -1
	for i, a := range all {
		if a.Margin == nil || a.Verdict == answer.CannotTell {
			continue
		}
		if best < 0 {
			best = i
			continue
		}
		b := all[best]
		if cmp.Or(cmp.Compare(rank[a.Verdict], rank[b.Verdict]), cmp.Compare(relative(a.Margin), relative(b.Margin)),
			cmp.Compare(a.Margin.Confidence, b.Margin.Confidence)) < 0 {
			best = i
		}
	}
	return best
}

// sortRows puts what helps the tightest answer most first: by the change of its margin, then by verdicts mended less
// broken over all questions, then as they were listed. Where that margin is of another kind with a lever, how much it has
// grown relative to what is asked stands for its change. Levers that change nothing come last but those in trouble.
func sortRows(rows []Row, base []answer.Answer, tight int) {
	class := func(r Row) int {
		switch {
		case r.Trouble != "":
			return 2
		case r.Nothing:
			return 1
		}
		return 0
	}
	help := func(r Row) float64 {
		if tight < 0 || tight >= len(r.Cells) || r.Trouble != "" {
			return 0
		}
		c, was := r.Cells[tight], base[tight].Margin
		switch {
		case c.Known:
			return c.Change
		case c.Margin == nil || math.IsInf(relative(c.Margin), 0) || math.IsInf(relative(was), 0):
			return float64(better(c)) * math.MaxFloat64
		}
		return (relative(c.Margin) - relative(was)) * math.Max(was.Asked, was.Spread)
	}
	mended := func(r Row) int {
		n := 0
		for _, c := range r.Cells {
			n += better(c)
		}
		return n
	}
	slices.SortFunc(rows, func(a, b Row) int {
		return cmp.Or(cmp.Compare(class(a), class(b)), cmp.Compare(help(b), help(a)), cmp.Compare(mended(b), mended(a)), cmp.Compare(a.Lever, b.Lever))
	})
}

// better is 1 where a verdict is mended, -1 where it is broken or can no longer be told.
func better(c Cell) int {
	if c.Verdict == answer.CannotTell || c.Was == answer.CannotTell {
		return cmp.Compare(boolInt(c.Verdict != answer.CannotTell), boolInt(c.Was != answer.CannotTell))
	}
	return cmp.Compare(rank[c.Verdict], rank[c.Was])
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}
