package terminal

import (
	"math"
	"strings"

	"thole/internal/answer"
	"thole/internal/draw"
)

// markColumns is how long a margin mark is; short enough for 40 columns.
const markColumns = 13

// mark draws an answer's margin mark in one line of text: the limit as an
// upright stroke, the margin as a dot, its spread as a bar. Right of the stroke
// it holds, across it is close, left of it is short; a hollow dot on the stroke
// cannot be told.
func (l Look) mark(a answer.Answer) string {
	line, stroke, bar, dot, hollow := "-", "|", "=", "*", "o"
	if l.Unicode {
		line, stroke, bar, dot, hollow = "─", "│", "━", "●", "○"
	}
	m := draw.NoMark()
	if a.Margin != nil && a.Verdict != answer.CannotTell {
		m = draw.MarkOf(a.Margin.Value, a.Margin.Asked, a.Margin.Spread)
	}
	limit := place(m.Limit)
	cells := strings.Split(strings.Repeat(line, markColumns), "")
	if m.Told {
		low, high := a.Margin.Value-a.Margin.Spread, a.Margin.Value+a.Margin.Spread
		for i := beside(m.Low, low, limit); i <= beside(m.High, high, limit); i++ {
			cells[i] = bar
		}
	}
	cells[limit] = stroke
	if m.Told {
		cells[beside(m.Dot, a.Margin.Value, limit)] = dot
	} else {
		cells[limit] = hollow
	}
	return strings.Join(cells, "")
}

// place is the cell of a share of the scale.
func place(share float64) int {
	return min(max(int(math.Floor(share*markColumns)), 0), markColumns-1)
}

// beside is the cell of a share, kept on the side of the limit that its value's
// sign says, however small: a mark must not show a margin that holds as one that
// does not.
func beside(share, value float64, limit int) int {
	i := place(share)
	switch {
	case value > 0 && i <= limit:
		return limit + 1
	case value < 0 && i >= limit:
		return limit - 1
	}
	return i
}
