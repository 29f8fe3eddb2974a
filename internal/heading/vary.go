package heading

import (
	"errors"
	"fmt"
	"math"
	"sync"
)

// Range is an answer with what is not known about it.
type Range struct {
	Value float64
	// Low and High are the ends when every doubt is put together, the shares on each side as
	// the root of the sum of their squares.
	Low, High float64
	Shares    []Share
	// Lost names the doubts at one of whose ends there was no such answer: she cannot be kept, or
	// lies there no more.
	Lost []string
}

// Share is what one doubt does to an answer: the values at its two ends, and NaN where there
// was none.
type Share struct {
	Name      string
	Low, High float64
}

// Half is half the width of a range, the doubts' 19-in-20 spread.
func (r Range) Half() float64 { return (r.High - r.Low) / 2 }

// Worst is the doubt that matters most.
func (r Range) Worst() string {
	name, most := "", 0.0
	for _, s := range r.Shares {
		for _, v := range []float64{s.Low, s.High} {
			if d := math.Abs(v - r.Value); d > most {
				name, most = s.Name, d
			}
		}
	}
	return name
}

// Vary runs a question with the coefficients as given, and again with each doubtful one at
// either end, one at a time.
//
// In:     f gives as many answers each time (angles unwrapped, so that they may be subtracted), or an error
// Out:    as many ranges; the same whatever the machine
// Error:  that of f with the coefficients as given
// Source: JCGM 100:2008, 5.1.2 and 5.1.3: the law of propagation with finite differences, the
// doubts taken as independent; the sides are kept apart as the answers bend
func Vary(c Coefficients, doubts []Doubt, f func(Coefficients) ([]float64, error)) ([]Range, error) {
	base, err := f(c)
	if err != nil {
		return nil, err
	}
	got := make([][]float64, 2*len(doubts))
	faults := make([]error, 2*len(doubts))
	var next sync.WaitGroup
	lanes := make(chan struct{}, 2)
	for i := range got {
		next.Add(1)
		lanes <- struct{}{}
		go func() {
			defer func() { <-lanes; next.Done() }()
			changed := c
			if i%2 == 0 {
				doubts[i/2].Low(&changed)
			} else {
				doubts[i/2].High(&changed)
			}
			got[i], faults[i] = f(changed)
		}()
	}
	next.Wait()
	out := make([]Range, len(base))
	for k, value := range base {
		r := Range{Value: value}
		var down, up float64
		for j, d := range doubts {
			s := Share{Name: d.Name, Low: math.NaN(), High: math.NaN()}
			least, most := 0.0, 0.0
			lost := false
			for end := range 2 {
				i := 2*j + end
				if faults[i] != nil || k >= len(got[i]) || math.IsNaN(got[i][k]) {
					if faults[i] != nil && errors.Is(faults[i], ErrInput) {
						return nil, fmt.Errorf("%s at an end: %w", d.Name, faults[i])
					}
					lost = true
					continue
				}
				if end == 0 {
					s.Low = got[i][k]
				} else {
					s.High = got[i][k]
				}
				least, most = math.Min(least, got[i][k]-value), math.Max(most, got[i][k]-value)
			}
			if lost {
				r.Lost = append(r.Lost, d.Name)
			}
			down, up = down+least*least, up+most*most
			r.Shares = append(r.Shares, s)
		}
		r.Low, r.High = value-math.Sqrt(down), value+math.Sqrt(up)
		out[k] = r
	}
	return out, nil
}

// LieRange is a stable rest with its doubts.
type LieRange struct {
	From       Range // where the wind comes from off the bow, radians, 0 to half a turn
	Speed      Range // of the drift, m/s
	Divergence Range // of the drift off dead downwind, radians; to port or starboard as the wind is on one side or the other
}

// Lies are the stable rests with the wind on the starboard side, each with its doubts; she is
// taken as alike on both sides, the rudder amidships.
//
// Error:  as New and Rests
func Lies(b Boat, wind float64, c Control, doubts []Doubt) ([]LieRange, error) {
	if b.Coefficients == (Coefficients{}) {
		b.Coefficients = Usual()
	}
	rests, err := stable(b, wind, c)
	if err != nil {
		return nil, err
	}
	var out []LieRange
	for _, at := range rests {
		r, err := Vary(b.Coefficients, doubts, func(k Coefficients) ([]float64, error) {
			b := b
			b.Coefficients = k
			all, err := stable(b, wind, c)
			if err != nil {
				return nil, err
			}
			// The rest is followed to the nearest one; the next of two belongs to the next of two.
			best := math.Inf(1)
			var near Rest
			for _, r := range all {
				if d := math.Abs(r.From - at.From); d < best {
					best, near = d, r
				}
			}
			if math.IsInf(best, 1) {
				return nil, ErrNotKept
			}
			return []float64{near.From, near.Speed(), near.Divergence()}, nil
		})
		if err != nil {
			return nil, err
		}
		out = append(out, LieRange{r[0], r[1], r[2]})
	}
	return out, nil
}

// stable are the stable rests with the wind to starboard, or dead ahead or astern.
func stable(b Boat, wind float64, c Control) ([]Rest, error) {
	m, err := New(b)
	if err != nil {
		return nil, err
	}
	all, err := m.Rests(wind, c)
	var out []Rest
	for _, r := range all {
		if r.Stable && r.From > -1e-6 {
			r.From = math.Max(0, r.From)
			out = append(out, r)
		}
	}
	return out, err
}

// WayRange is a course kept, with its doubts.
type WayRange struct {
	Way    Way
	Rudder Range // radians
	Uneven Range
	Leeway Range // radians
	Speed  Range // along the track, m/s
	Margin Range
}

// Kept is Keep with its doubts. Where some doubt at an end makes the course one that she
// cannot be kept on, the ranges name it as lost.
//
// Error:  as New and Keep
func Kept(b Boat, wind, want float64, thrust func(float64) float64, h Helm, doubts []Doubt) (WayRange, error) {
	if b.Coefficients == (Coefficients{}) {
		b.Coefficients = Usual()
	}
	keep := func(c Coefficients) (Way, error) {
		b := b
		b.Coefficients = c
		m, err := New(b)
		if err != nil {
			return Way{}, err
		}
		return m.Keep(wind, want, thrust, h)
	}
	way, err := keep(b.Coefficients)
	if err != nil {
		return WayRange{}, err
	}
	r, err := Vary(b.Coefficients, doubts, func(c Coefficients) ([]float64, error) {
		w, err := keep(c)
		return []float64{w.Rudder, w.Uneven, w.Leeway(), w.Speed(), w.Margin}, err
	})
	if err != nil {
		return WayRange{}, err
	}
	return WayRange{way, r[0], r[1], r[2], r[3], r[4]}, nil
}

// ArcRange is an arc of courses with its doubts, radians off the wind.
type ArcRange struct {
	Arc      Arc
	From, To Range
}

// Arcs is Sector with its doubts.
//
// Error:  as New and Sector
func Arcs(b Boat, wind float64, thrust func(float64) float64, h Helm, doubts []Doubt) ([]ArcRange, error) {
	if b.Coefficients == (Coefficients{}) {
		b.Coefficients = Usual()
	}
	sector := func(c Coefficients) ([]Arc, error) {
		b := b
		b.Coefficients = c
		m, err := New(b)
		if err != nil {
			return nil, err
		}
		return m.Sector(wind, thrust, h)
	}
	arcs, err := sector(b.Coefficients)
	if err != nil || len(arcs) == 0 {
		return nil, err
	}
	r, err := Vary(b.Coefficients, doubts, func(c Coefficients) ([]float64, error) {
		got, err := sector(c)
		out := make([]float64, 0, 2*len(arcs))
		for _, a := range arcs {
			from, to, most := math.NaN(), math.NaN(), 0.0
			for _, g := range got {
				// The same arc is the one that it shares most with.
				if s := math.Min(a.Course[1], g.Course[1]) - math.Max(a.Course[0], g.Course[0]); s > most {
					from, to, most = g.Course[0], g.Course[1], s
				}
			}
			out = append(out, from, to)
		}
		return out, err
	})
	if err != nil {
		return nil, err
	}
	var out []ArcRange
	for i, a := range arcs {
		out = append(out, ArcRange{a, r[2*i], r[2*i+1]})
	}
	return out, nil
}
