package rowing

import (
	"fmt"
	"math"
	"runtime"
	"sync"
)

// Place is one rowing place of the boat: a seat, its gates and the holes of its stretcher.
type Place struct {
	Name       string
	Seat       Seat
	Gate       Gate
	Stretchers []Stretcher
}

// Cell is one person at one place in one hole.
type Cell struct {
	Body, Place, Stretcher int // indices into what was given
	Fit                    Fit
}

// Best is, for one person at one place, the hole to use, or how far from fitting the best hole is.
type Best struct {
	Body, Place int
	Cell        int // index into Matrix.Cells
	Fits, Sure  bool
	Mends       []Mend // where it does not fit
}

// Matrix is what fits whom.
type Matrix struct {
	Cells []Cell // bodies outermost, then places, then holes
	Best  []Best // bodies outermost, then places
}

// Fits tries every body at every place in every hole.
//
// In:     common holds oar, edges and habits; its body, seat, gate and stretcher are not looked at
// Out:    the best hole of a person at a place is the one that fits with the largest least margin (in spreads),
// or else misses least; for a best that does not fit, the least change that mends it
// Error:  ErrInput, naming body, place and hole
func Fits(bodies []Body, places []Place, common Setup, waters []Water) (Matrix, error) {
	var out Matrix
	var setups []Setup
	for i, b := range bodies {
		for j, p := range places {
			if len(p.Stretchers) == 0 {
				return Matrix{}, fmt.Errorf("%w: place %q has no stretcher; give at least one hole", ErrInput, p.Name)
			}
			for k, hole := range p.Stretchers {
				s := common
				s.Body, s.Seat, s.Gate, s.Stretcher = b, p.Seat, p.Gate, hole
				if err := s.valid(waters); err != nil {
					return Matrix{}, fmt.Errorf("%s at %q, hole %q: %w", b.Name, p.Name, hole.Name, err)
				}
				out.Cells, setups = append(out.Cells, Cell{Body: i, Place: j, Stretcher: k}), append(setups, s)
			}
		}
	}
	shared(len(setups), func(i int) { out.Cells[i].Fit = setups[i].fit(waters) })
	for at := 0; at < len(out.Cells); {
		c := out.Cells[at]
		holes := len(places[c.Place].Stretchers)
		out.Best = append(out.Best, best(out.Cells, at, holes))
		at += holes
	}
	var failed error
	var once sync.Mutex
	shared(len(out.Best), func(i int) {
		b := &out.Best[i]
		if b.Fits {
			return
		}
		mends, err := setups[b.Cell].Mends(waters)
		if err != nil {
			once.Lock()
			failed = err
			once.Unlock()
		}
		b.Mends = mends
	})
	return out, failed
}

// best chooses among the holes of one person at one place.
func best(cells []Cell, at, holes int) Best {
	pick, score := at, math.Inf(-1)
	for i := at; i < at+holes; i++ {
		least, missed := math.Inf(1), 0.0
		for _, c := range cells[i].Fit.Checks {
			if !c.counts() {
				continue
			}
			least = math.Min(least, c.Margin/(c.Spread+1e-3))
			missed += math.Max(0, -c.Margin/(c.Spread+1e-3))
		}
		v := least
		if missed > 0 {
			v = -1e6 - missed
		}
		if v > score {
			pick, score = i, v
		}
	}
	f := cells[pick].Fit
	return Best{Body: cells[pick].Body, Place: cells[pick].Place, Cell: pick, Fits: f.Fits(), Sure: f.Sure()}
}

// shared does n pieces of work, two at a time; each writes only its own place, so the result is the same in any order.
func shared(n int, work func(i int)) {
	workers := min(2, runtime.GOMAXPROCS(0), n)
	var wg sync.WaitGroup
	for w := range workers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := w; i < n; i += workers {
				work(i)
			}
		}()
	}
	wg.Wait()
}
