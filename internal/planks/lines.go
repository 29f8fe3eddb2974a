package planks

import (
	"fmt"
	"math"
	"slices"

	"thole/internal/fairing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Mark is the builder's move of one strake line at one place.
type Mark struct {
	X    float64 // metres aft of station 0
	Line int     // 1 is the upper edge of the lowest strake
	By   float64 // metres along the girth, towards the sheer positive
}

// Line is one strake line on the skin.
type Line struct {
	Name     string // keel, sheer, a knuckle's name, or nothing
	Fixed    bool   // keel, sheer or knuckle: it cannot be moved
	From, To float64
	stretch  int // whose girth it is measured on, downwards
	share    float64
	down     fairing.Spline // girth from the stretch's upper corner, over x
	ends     [2]r3.Vec      // on the stem and the stern, where they were measured
	ended    [2]bool
}

// Strakes is a half skin lined off.
type Strakes struct {
	Lines     []Line // from keel to sheer, one more than there are strakes
	skin      *skin
	fore, aft *post
}

// Count is how many strakes there are.
func (s *Strakes) Count() int { return len(s.Lines) - 1 }

// LineOff divides a half skin into n strakes by equal shares of the girth at every station and
// half way between. Where a stem or stern has been measured, the ends of the planks stand at equal spaces
// along it, from where the keel line turns up at 45 degrees to the sheer, and each line runs fair from
// its last station there. Where the skin has knuckles a line lies on each of them, and
// the strakes are shared out between them by their girth.
//
// A mark moves its line by so much at its place, and the rest of the line as a batten that the
// other nails still hold a little: the move dies away within a quarter of the boat's length to either side
// (and passes nothing by a twenty-fifth of itself there). A mark of nothing holds a line where it is.
//
// In:     n at least one for each stretch between knuckles; marks in any order
// Error:  too few strakes; a mark on a line that is fixed or not there, or off its line; lines that cross
// Good to: a line stands within a millimetre of its share of the girth (TestLineOffShares)
// Source: girths divided in a table and battens moved by eye (boat loft practice, common
// practice, no source); the beam on an elastic foundation, Hetényi (1946), closed form
func LineOff(surface *fairing.Surface, n int, moved []Mark) (*Strakes, error) {
	k, err := newSkin(surface)
	if err != nil {
		return nil, err
	}
	per, err := k.shareOut(n)
	if err != nil {
		return nil, err
	}
	s := &Strakes{skin: k, fore: k.newPost(true), aft: k.newPost(false)}
	for c, count := range per {
		for i := range count {
			l := Line{Fixed: i == 0, stretch: c, share: float64(i) / float64(count), Name: "keel"}
			if i > 0 {
				l.Name = ""
			} else if c > 0 {
				l.Name = surface.Knuckles[c-1]
			}
			s.Lines = append(s.Lines, l)
		}
	}
	s.Lines = append(s.Lines, Line{Name: "sheer", Fixed: true, stretch: len(per) - 1, share: 1})
	sections := s.sections()
	for i := range s.Lines {
		s.lay(&s.Lines[i], sections, nil)
	}
	shifts, err := s.shifts(moved)
	if err != nil {
		return nil, err
	}
	for i := range s.Lines {
		if len(shifts[i].x) > 0 {
			s.lay(&s.Lines[i], sections, &shifts[i])
		}
	}
	return s, s.ordered(moved)
}

// shareOut gives each stretch between knuckles its number of strakes.
func (k *skin) shareOut(n int) ([]int, error) {
	stretches := len(k.corners) - 1
	if n < stretches || n < 1 {
		return nil, fmt.Errorf("%d strakes for %d stretches between keel, knuckles and sheer: a plank does not bend over a knuckle, so each needs one at least", n, stretches)
	}
	total := make([]float64, stretches)
	for _, x := range k.stops {
		for c, g := range k.section(x).stretch {
			total[c] += g.length
		}
	}
	per := make([]int, stretches)
	for c := range per {
		per[c] = 1
	}
	for range n - stretches { // each next one where planks would be widest
		widest := 0
		for c := range per {
			if total[c]/float64(per[c]) > total[widest]/float64(per[widest]) {
				widest = c
			}
		}
		per[widest]++
	}
	return per, nil
}

// sections are the skin at the stations and half way between.
func (s *Strakes) sections() []*section {
	var out []*section
	stops := s.skin.stops
	for i, x := range stops {
		if i > 0 {
			out = append(out, s.skin.section((stops[i-1]+x)/2))
		}
		out = append(out, s.skin.section(x))
	}
	return out
}

// lay draws a line through its shares of the girth and out to its ends. With a shift it is
// drawn again from where it was.
func (s *Strakes) lay(l *Line, sections []*section, by *shift) {
	c := l.stretch
	was := *l
	fore, aft := s.skin.surface.Ends()
	move := func(x float64) float64 {
		if by == nil {
			return 0
		}
		return by.at(x)
	}
	end := func(p *post, side int, station, was float64) (x, down, full float64) {
		if p == nil {
			sec := s.skin.section(station)
			return station, sec.stretch[c].length*(1-l.share) - move(station), station
		}
		run := p.stops[c] + l.share*(p.stops[c+1]-p.stops[c])
		if by != nil {
			run = math.Min(math.Max(run+move(was), p.stops[c]), p.stops[c+1])
		}
		q := p.at(run)
		q.X = math.Min(math.Max(q.X, fore), aft)
		l.ends[side], l.ended[side] = q, true
		return q.X, s.skin.section(s.skin.whole(c, q, side == 0)).depth(c, q), p.at(p.stops[c]).X
	}
	stops := s.skin.stops
	from, d0, full0 := end(s.fore, 0, stops[0], was.From)
	to, d1, full1 := end(s.aft, 1, stops[len(stops)-1], was.To)
	l.From, l.To = from, to
	gap := 0.01 * (to - from) // a station closer than this to the end is the end's
	x, d := []float64{from}, []float64{d0}
	for _, sec := range sections {
		if sec.x > math.Max(full0, from+gap) && sec.x < math.Min(full1, to-gap) {
			x, d = append(x, sec.x), append(d, sec.stretch[c].length*(1-l.share)-move(sec.x))
		}
	}
	if by != nil {
		for _, m := range by.x {
			i, found := slices.BinarySearchFunc(x, m, func(a, b float64) int {
				if math.Abs(a-b) < 1e-6 {
					return 0
				}
				return int(math.Copysign(1, a-b))
			})
			if !found && m > from && m < to {
				x, d = slices.Insert(x, i, m), slices.Insert(d, i, was.down.At(m)-move(m))
			}
		}
	}
	x, d = append(x, to), append(d, d1)
	l.down = fairing.NewSpline(x, d)
}

// ordered refuses lines that meet.
func (s *Strakes) ordered(moved []Mark) error {
	const steps = 120
	for i := 1; i < len(s.Lines); i++ {
		a, b := &s.Lines[i-1], &s.Lines[i]
		if a.stretch != b.stretch || len(moved) == 0 {
			continue
		}
		for j := 1; j < steps; j++ {
			x := b.From + (b.To-b.From)*float64(j)/steps
			if x <= a.From || x >= a.To {
				continue
			}
			whole := s.skin.section(x).stretch[b.stretch].length
			if over := b.down.At(x); over < 0 || over > whole || !a.Fixed && a.down.At(x) <= over {
				return fmt.Errorf("line %d meets the one below or above it at %.3f m: move its marks by less, or its neighbour's with it", i, x)
			}
		}
	}
	return nil
}

// shift is how far a line is moved along the boat.
type shift struct {
	x, c  []float64
	reach float64
}

// ripple is the deflection of a long beam on an elastic foundation under a load at 0,
// as a share of that under the load; it is first nothing at r = 1.
func ripple(r float64) float64 {
	r = 3 * math.Pi / 4 * math.Abs(r)
	s, c := math.Sincos(r)
	return math.Exp(-r) * (c + s)
}

func (d *shift) at(x float64) float64 {
	var v float64
	for i := range d.x {
		v += d.c[i] * ripple((x-d.x[i])/d.reach)
	}
	return v
}

// shifts solves for the loads that move each line to its marks.
func (s *Strakes) shifts(moved []Mark) ([]shift, error) {
	out := make([]shift, len(s.Lines))
	from, to := s.skin.surface.Ends()
	by := make([][]float64, len(s.Lines))
	for _, m := range moved {
		switch {
		case math.IsNaN(m.X+m.By) || math.IsInf(m.X+m.By, 0):
			return nil, fmt.Errorf("a mark on line %d is not a number", m.Line)
		case m.Line < 1 || m.Line >= len(s.Lines)-1:
			return nil, fmt.Errorf("a mark moves line %d; lines 1 to %d can be moved", m.Line, len(s.Lines)-2)
		}
		l := &s.Lines[m.Line]
		if l.Fixed {
			return nil, fmt.Errorf("a mark moves line %d, which lies on the knuckle %s: move the knuckle instead", m.Line, l.Name)
		}
		if m.X < l.From-1e-9 || m.X > l.To+1e-9 {
			return nil, fmt.Errorf("a mark on line %d stands at %.3f m; the line runs from %.3f to %.3f m", m.Line, m.X, l.From, l.To)
		}
		for _, was := range out[m.Line].x {
			if math.Abs(was-m.X) < 1e-3 {
				return nil, fmt.Errorf("two marks move line %d at %.3f m", m.Line, m.X)
			}
		}
		out[m.Line].x = append(out[m.Line].x, m.X)
		by[m.Line] = append(by[m.Line], m.By)
	}
	for l := range out {
		d := &out[l]
		d.reach = (to - from) / 4
		n := len(d.x)
		if n == 0 {
			continue
		}
		a := mat.NewDense(n, n, nil)
		for i := range n {
			for j := range n {
				a.Set(i, j, ripple((d.x[i]-d.x[j])/d.reach))
			}
		}
		var c mat.VecDense
		if err := c.SolveVec(a, mat.NewVecDense(n, by[l])); err != nil {
			return nil, fmt.Errorf("the marks on line %d stand too close together to bend a line through", l)
		}
		d.c = c.RawVector().Data
	}
	return out, nil
}

// at is a line's place at a share of its own run along the boat.
func (s *Strakes) at(line int, u float64) r3.Vec {
	l := &s.Lines[line]
	return s.here(l, l.From+u*(l.To-l.From))
}

func (s *Strakes) here(l *Line, x float64) r3.Vec {
	if l.ended[0] && x <= l.From {
		return l.ends[0]
	}
	if l.ended[1] && x >= l.To {
		return l.ends[1]
	}
	sec := s.skin.section(x)
	d := l.down.At(x)
	if l.share == 0 {
		d = sec.stretch[l.stretch].length
	}
	return sec.down(l.stretch, d)
}

// Curve is a line as n points from fore to aft, evenly along the boat.
func (s *Strakes) Curve(line, n int) []r3.Vec {
	out := make([]r3.Vec, n)
	for i := range out {
		out[i] = s.at(line, float64(i)/float64(max(1, n-1)))
	}
	return out
}

// At is a line's place at x; not ok beyond the line's ends.
func (s *Strakes) At(line int, x float64) (r3.Vec, bool) {
	if line < 0 || line >= len(s.Lines) || x < s.Lines[line].From-1e-9 || x > s.Lines[line].To+1e-9 {
		return r3.Vec{}, false
	}
	return s.here(&s.Lines[line], x), true
}

// Stations are the places at which the boat was measured, metres aft of station 0.
func (s *Strakes) Stations() []float64 { return s.skin.stops }
