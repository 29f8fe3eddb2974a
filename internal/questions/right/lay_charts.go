package right

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"

	"thole/internal/hydro"
	"thole/internal/sheet"
)

// mostRows is how many days of a trip the field of arms shows; a longer trip shows every second day, or third.
const mostRows = 45

// row is the arms from upright to upside down at the end of a day, starboard down.
type row struct {
	day  int
	arms []float64
}

// days are every so many days of the trip, and its last.
func (q *ask) days() (out []int, every int) {
	every = (q.t.Days + mostRows - 1) / mostRows
	every = max(every, 1)
	for d := 0; d < q.t.Days; d += every {
		out = append(out, d)
	}
	return append(out, q.t.Days), every
}

// rows are the arms through the trip in the crew place shown. They do not hang on the day shown, and are kept.
func (q *ask) rows(ctx context.Context) ([]row, error) {
	made, err := q.c.Keep(fmt.Sprintf("%s: arms by day: %d", id, q.cond), func() (any, error) {
		days, _ := q.days()
		out := make([]row, len(days))
		workers := max(1, min(runtime.GOMAXPROCS(0), len(days)/4))
		var wg sync.WaitGroup
		for w := range workers {
			wg.Go(func() { // each a run of days, every one started from the one before
				var near, before *hydro.Curve
				for i := w * len(days) / workers; i < (w+1)*len(days)/workers && ctx.Err() == nil; i++ {
					s := q.t.State(days[i], q.cond)
					c, err := hydro.NewCurveNear(q.t.Ship.Body, hydro.Load{Mass: s.Mass, G: s.G}, q.t.Sea, near, before)
					out[i].day = days[i]
					if err == nil {
						out[i].arms = slices.Clone(c.Arms[len(c.Arms)-37:])
					}
					near, before = c, near
				}
			})
		}
		wg.Wait()
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return slices.DeleteFunc(out, func(r row) bool { return r.arms == nil }), nil
	})
	if err != nil {
		return nil, err
	}
	return made.([]row), nil
}

// field is the righting arms by heel and day; nil where there is no trip to speak of.
func (q *ask) field(ctx context.Context, f Figures) *sheet.Field {
	if q.t.Days == 0 {
		return nil
	}
	all, err := q.rows(ctx)
	if err != nil {
		return nil
	}
	all = slices.Clone(all) // what is kept stays as it is
	if i, there := slices.BinarySearchFunc(all, q.day, func(r row, d int) int { return r.day - d }); !there {
		all = slices.Insert(all, i, row{q.day, q.curve.Arms[len(q.curve.Arms)-37:]})
	}
	if len(all) < 2 {
		return nil
	}
	fine := q.sys.Fine()
	out := &sheet.Field{Heading: "Arms by heel and day, " + f.Condition,
		X:         sheet.Axis{Name: "heel to starboard", Unit: "deg", Max: 180, Ticks: []float64{0, 30, 60, 90, 120, 150, 180}},
		Y:         sheet.Axis{Name: "day", Max: float64(q.t.Days)},
		LimitName: "no arm", Under: "the arm heels her further",
		ShownName: fmt.Sprintf("day %d, the day shown", q.day)}
	_, _, ticks := sheet.Ticks(0, float64(q.t.Days))
	for _, v := range ticks {
		if v <= float64(q.t.Days) {
			out.Y.Ticks = append(out.Y.Ticks, v)
		}
	}
	for h := 0; h <= 180; h += 5 {
		out.Xs = append(out.Xs, float64(h))
	}
	low, high := math.Inf(1), math.Inf(-1)
	at := all[0]
	least := math.Inf(1)
	leastHeel := 0
	for i, r := range all {
		out.Ys = append(out.Ys, float64(r.day))
		values := make([]float64, len(r.arms))
		for k, v := range r.arms {
			values[k] = v * fine.Factor
			low, high = math.Min(low, values[k]), math.Max(high, values[k])
			if k >= 4 && k <= 32 && v < least { // 20 to 160 degrees, as for the least arm
				least, leastHeel, at = v, 5*k, r
			}
		}
		out.Values = append(out.Values, values)
		if r.day == q.day {
			out.Shown = i
		}
	}
	out.Z = sheet.Axis{Name: "righting arm", Unit: fine.Unit, Places: fine.Places}
	out.Z.Min, out.Z.Max, out.Z.Ticks = sheet.Ticks(math.Min(low, 0), math.Max(high, 0))
	out.Begin = leastHeel / 5
	out.Contour(sheet.Levels(low, high))
	out.Round(fine.Places + 1)
	if _, every := q.days(); every > 1 {
		out.Note = fmt.Sprintf("Every %s day is worked out, the last, and the one shown.", ordinal(every))
	}
	out.Alt = fmt.Sprintf("From 20 to 160 degrees the arm is least on day %d at %d degrees: %s.", at.day, leastHeel, fine.Show(least))
	if least < 0 {
		out.Alt += " Hatched: there is no arm to right her."
	}
	return out
}

func ordinal(n int) string {
	switch n {
	case 2:
		return "second"
	case 3:
		return "third"
	}
	return fmt.Sprintf("%dth", n)
}

// matrixOf is the states as a matrix: crew place and day across, what is open, wet and drunk down.
func (q *ask) matrixOf(cells []Cell) *sheet.Matrix {
	fine := q.sys.Fine()
	m := &sheet.Matrix{Heading: "The matrix at a glance", Across: "crew place, and day", Down: "hatches and loose water, and ballast",
		Unit: fine.Unit, Places: fine.Places,
		Key: []sheet.Word{{Standing: sheet.Holds, Letter: "·", Text: "comes back"},
			{Standing: sheet.Tight, Letter: "o", Text: "comes back, by less than the " + fine.Show(q.asked) + " asked for"},
			{Standing: sheet.Short, Letter: "X", Text: "stays over"}, {Standing: sheet.Lost, Letter: "S", Text: "sinks or cannot be balanced"}},
		Note: fmt.Sprintf("Height of gravity left, %s. A hatch that is open stands for its end: the space full of sea to %.0f %%.", fine.Unit, 100*permeable)}
	index := func(list *[]sheet.Line, l sheet.Line) int {
		if i := slices.Index(*list, l); i >= 0 {
			return i
		}
		*list = append(*list, l)
		return len(*list) - 1
	}
	over := 0
	for _, c := range cells {
		x := index(&m.Columns, sheet.Line{Group: c.Crew + ", day", Name: fmt.Sprint(c.Day)})
		hatches := "hatches shut"
		if c.Hatches != "shut" {
			hatches = c.Hatches
		}
		if c.Water != "dry" {
			hatches += "; " + c.Water
		}
		y := index(&m.Rows, sheet.Line{Group: hatches, Name: "ballast " + strings.TrimSuffix(c.Ballast, " with sea water")})
		for len(m.Cells) <= y {
			m.Cells = append(m.Cells, nil)
		}
		for len(m.Cells[y]) <= x {
			m.Cells[y] = append(m.Cells[y], sheet.Spot{Standing: sheet.Absent, Untold: true})
		}
		s := sheet.Spot{Value: c.Height * fine.Factor}
		switch {
		case c.Verdict == "sinks or cannot be balanced":
			s.Standing, s.Untold, s.Value = sheet.Lost, true, 0
		case c.Height <= 0:
			s.Standing = sheet.Short
		case c.Height < q.asked:
			s.Standing = sheet.Tight
		default:
			s.Standing = sheet.Holds
		}
		if c.Height <= 0 {
			over++
		}
		s.Said = fmt.Sprintf("Day %d, %s; %s; ballast %s: %s", c.Day, c.Crew, hatches, c.Ballast, c.Verdict)
		if !s.Untold {
			word, side := "left", ""
			if c.Height <= 0 {
				word = "short"
			}
			if c.At < 0 {
				side = " to port"
			}
			s.Said += fmt.Sprintf(", %s %s at %.0f degrees%s", fine.Show(math.Abs(c.Height)), word, math.Abs(c.At), side)
		}
		m.Cells[y][x] = s
	}
	for y := range m.Cells {
		for len(m.Cells[y]) < len(m.Columns) {
			m.Cells[y] = append(m.Cells[y], sheet.Spot{Standing: sheet.Absent, Untold: true})
		}
	}
	m.Alt = fmt.Sprintf("%d states; in %d of them she stays over.", len(cells), over)
	return m
}
