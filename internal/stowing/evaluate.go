package stowing

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Evaluator works out what a layout does, fast enough to follow a dragged item. It is
// made once for a problem and is for one goroutine at a time.
type Evaluator struct {
	j    *job
	dm   []float64 // what leaves the boat on each day
	dx   []r3.Vec
	turn []int // units taken so far, by place, inside one block
}

// Fill is how full a place is at departure.
type Fill struct {
	Volume float64 // m³
	Mass   float64 // kg
}

// Figures are what a layout does. Evaluate writes into them and keeps their memory.
type Figures struct {
	Objective float64  // Handling + Labels + Price
	Handling  float64  // opening, and spreading of what is kept
	Labels    float64  // what is used up in several places, and what goes to a place new to it
	Price     float64  // of the wishes broken
	Days      []Load   // the whole boat, by state
	Fill      []Fill   // by place, at departure
	Broken    []Breach // wishes, with the worst day of each
	Rules     []Breach // rules broken: a plan with any is not usable
}

// NewEvaluator checks the problem and makes ready.
func NewEvaluator(p *Problem) (*Evaluator, error) {
	j, err := prepare(p)
	if err != nil {
		return nil, err
	}
	return j.evaluator(), nil
}

// evaluator makes ready for a problem already worked out.
func (j *job) evaluator() *Evaluator {
	return &Evaluator{j: j, dm: make([]float64, j.Trip.Days+1), dx: make([]r3.Vec, j.Trip.Days+1), turn: make([]int, len(j.Places))}
}

// errShape is a layout that does not belong to the problem.
var errShape = errors.New("the layout is not one of this problem: it needs a row of places for every item, and for every used item one for each block that adds up to what is used")

// Check tells whether a layout belongs to the problem: sizes, no negative number, units
// used in each block, and departure equal to what is taken over the trip.
func (e *Evaluator) Check(l Layout) error {
	j := e.j
	if len(l.Where) != len(j.Items) || len(l.Take) != len(j.Items) {
		return errShape
	}
	for i := range j.Items {
		if len(l.Where[i]) != len(j.Places) || (j.need[i] == nil) != (len(l.Take[i]) == 0) || j.need[i] != nil && len(l.Take[i]) != len(j.span) {
			return errShape
		}
		clear(e.turn)
		for b, take := range l.Take[i] {
			sum := 0
			if len(take) != len(j.Places) {
				return errShape
			}
			for k, n := range take {
				if n < 0 {
					return errShape
				}
				sum += n
				e.turn[k] += n
			}
			if sum != j.need[i][b] {
				return errShape
			}
		}
		for k, n := range l.Where[i] {
			if n < 0 || j.need[i] != nil && n != e.turn[k] {
				return errShape
			}
		}
	}
	return nil
}

// Evaluate works out a layout that Check accepts. After the first call with the same
// Figures it allocates nothing.
func (e *Evaluator) Evaluate(l Layout, out *Figures) {
	j := e.j
	out.Broken, out.Rules = out.Broken[:0], out.Rules[:0]
	out.Handling, out.Labels, out.Price = 0, 0, 0
	e.moments(l, out)
	for b := range j.span {
		for k := range j.Places {
			if opened(l, b, k) {
				out.Handling += j.span[b] * j.w.Open[j.Places[k].Reach]
			}
		}
	}
	for i := range j.Items {
		n := 0
		for k, u := range l.Where[i] {
			if u > 0 {
				n++
				out.Labels += j.fresh[i][k]
			}
			if over := u - j.share[i]; over > 0 {
				out.Price += j.w.Share * float64(over)
				out.Broken = append(out.Broken, Breach{TooMuch, i, -1, k, -1, 0, float64(over)})
			}
			if far := float64(u) * j.far[i][k]; far > 0 {
				out.Price += j.w.Reach * far
				out.Broken = append(out.Broken, Breach{TooFar, i, -1, k, -1, 0, far})
			}
		}
		if more := j.each[i] * float64(n-1); n > 1 && j.need[i] == nil {
			out.Handling += more
		} else if n > 1 {
			out.Labels += more
		}
	}
	e.limits(out)
	e.rules(l, out)
	out.Objective = out.Handling + out.Labels + out.Price
}

// opened tells whether anything is taken out of a place in a block.
func opened(l Layout, b, place int) bool {
	for _, t := range l.Take {
		if len(t) > 0 && t[b][place] > 0 {
			return true
		}
	}
	return false
}

// moments works out the whole boat's load in every state.
func (e *Evaluator) moments(l Layout, out *Figures) {
	j := e.j
	if cap(out.Days) < j.Trip.Days+1 {
		out.Days = make([]Load, j.Trip.Days+1)
	}
	if cap(out.Fill) < len(j.Places) {
		out.Fill = make([]Fill, len(j.Places))
	}
	out.Days, out.Fill = out.Days[:j.Trip.Days+1], out.Fill[:len(j.Places)]
	clear(out.Fill)
	clear(e.dm)
	clear(e.dx)
	var now Load
	for i := range j.Items {
		it := &j.Items[i]
		for k, u := range l.Where[i] {
			m := float64(u) * it.Mass
			out.Fill[k].Volume += float64(u) * it.Volume
			out.Fill[k].Mass += m
		}
		for b := range l.Take[i] {
			e.inTurn(i, b, l.Take[i][b])
		}
	}
	for k, f := range out.Fill {
		now.Mass += f.Mass
		now.Moment = r3.Add(now.Moment, r3.Scale(f.Mass, j.Places[k].At))
	}
	for d := range out.Days {
		now.Mass -= e.dm[d]
		now.Moment = r3.Sub(now.Moment, e.dx[d])
		out.Days[d] = Load{now.Mass + j.rest[d].Mass, r3.Add(now.Moment, j.rest[d].Moment)}
	}
}

// inTurn takes an item's units of one block out of its places in turn, day by day.
func (e *Evaluator) inTurn(i, b int, take []int) {
	j := e.j
	m, total := j.Items[i].Mass, j.need[i][b]
	if total == 0 || m == 0 {
		return
	}
	clear(e.turn)
	done := 0
	for d := j.ends[b] + 1; d <= j.ends[b+1]; d++ {
		for range j.daily[i][d-1] {
			k := next(take, e.turn, done, total)
			e.turn[k]++
			done++
			e.dm[d] += m
			e.dx[d] = r3.Add(e.dx[d], r3.Scale(m, j.Places[k].At))
		}
	}
}

// next is the place out of which the next unit is taken: the one furthest behind its even
// share, the first of several.
func next(take, taken []int, done, total int) int {
	best, lag := -1, math.MinInt
	for k, n := range take {
		if taken[k] < n {
			if l := n*(done+1) - taken[k]*total; l > lag {
				best, lag = k, l
			}
		}
	}
	return best
}

// limits prices and reports trim, heel and height.
func (e *Evaluator) limits(out *Figures) {
	j := e.j
	for _, k := range [...]Kind{TrimByBow, TrimByStern, HeelToPort, HeelToStarboard, TooHigh} {
		br := breach(k)
		for d := range out.Days {
			if over := j.outside(k, d, out.Days[d].Moment); over > slack {
				br.Days++
				if over > br.By {
					br.By, br.Day = over, d
				}
			}
		}
		if br.Days > 0 {
			out.Broken = append(out.Broken, br)
		}
	}
	for _, pair := range [...][2]Kind{{TrimByBow, TrimByStern}, {HeelToPort, HeelToStarboard}, {TooHigh, TooHigh}} {
		worst, sum := 0.0, 0.0
		for _, d := range j.ends {
			over := max(0, j.outside(pair[0], d, out.Days[d].Moment), j.outside(pair[1], d, out.Days[d].Moment))
			worst, sum = max(worst, over), sum+over
		}
		out.Price += j.w.of(pair[0]) * (worst + sum/float64(len(j.ends)))
	}
}

// of is the price of a kg m outside a limit.
func (w *Weights) of(k Kind) float64 {
	switch k {
	case TrimByBow, TrimByStern:
		return w.Trim
	case HeelToPort, HeelToStarboard:
		return w.Heel
	}
	return w.Height
}

// outside is by how much a moment is outside a limit, kg m; negative inside.
func (j *job) outside(k Kind, state int, m r3.Vec) float64 {
	l := &j.limits[state]
	switch k {
	case TrimByBow:
		return l.XMin - m.X
	case TrimByStern:
		return m.X - l.XMax
	case HeelToPort:
		return -m.Y - l.YMax
	case HeelToStarboard:
		return m.Y - l.YMax
	}
	return m.Z - l.ZMax
}
