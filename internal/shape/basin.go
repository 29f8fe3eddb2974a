package shape

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/cuts"
)

// Basin is what water can stand in when it is filled from above: a well, with those that open into it
// (a footwell in the sole of a rowing well).
type Basin struct {
	Name  string
	Wells []int // indices into Ship.Wells; the first is the largest
	Stack *cuts.Stack
	// Rim is the lowest places at which it spills, two or more at each cut.
	Rim []r3.Vec
	// Sole is the bottom of the largest of its wells: points on the centre line and on both sides.
	Sole     []r3.Vec
	From, To float64
}

// basinStep is the longest panel along a basin, metres.
const basinStep = 0.25

// Basins are the wells as they hold water, those that overlap taken as one.
func (s *Ship) Basins() []Basin {
	group := make([]int, len(s.Wells))
	for i := range group {
		group[i] = i
	}
	for i := range s.Wells {
		for j := range i {
			if s.overlap(i, j) {
				old := group[i]
				for k := range group {
					if group[k] == old {
						group[k] = group[j]
					}
				}
			}
		}
	}
	var out []Basin
	for g := range s.Wells {
		var wells []int
		for i := range group {
			if group[i] == g {
				wells = append(wells, i)
			}
		}
		if len(wells) == 0 {
			continue
		}
		if b := s.basin(wells); b.Stack.Volume() > 1e-6 && len(b.Rim) > 0 {
			out = append(out, b)
		}
	}
	return out
}

// overlap tells whether two wells have room in common.
func (s *Ship) overlap(i, j int) bool {
	a, b := s.Wells[i], s.Wells[j]
	from, to := math.Max(a.From, b.From), math.Min(a.To, b.To)
	if to-from < 1e-6 {
		return false
	}
	x := (from + to) / 2
	return cuts.Intersection(a.Section(x, 0), b.Section(x, 0)).Area() > 1e-9
}

func (s *Ship) basin(wells []int) Basin {
	b := Basin{From: math.Inf(1), To: math.Inf(-1)}
	lengths := append([]float64(nil), s.Hull.Surface.Stations()...)
	var breaks []float64
	for _, i := range wells {
		w := s.Wells[i]
		b.From, b.To = math.Min(b.From, w.From), math.Max(b.To, w.To)
		breaks = append(breaks, w.From, w.To)
	}
	for _, c := range s.Cabins {
		lengths = append(lengths, c.From, c.To)
	}
	for _, x := range lengths {
		if x > b.From && x < b.To {
			breaks = append(breaks, x)
		}
	}
	at := cuts.Along(breaks, basinStep, order, false, false)
	var nodes []cuts.Node
	for _, a := range at {
		deck := s.closed(a.X, 0, nil)
		var open cuts.Section
		for _, i := range wells {
			if w := s.Wells[i].Section(a.X, 0); len(open) == 0 {
				open = w
			} else if len(w) > 0 {
				open = cuts.Union(open, w)
			}
		}
		room := cuts.Intersection(open, deck)
		nodes = append(nodes, cuts.Node{X: a.X, Weight: a.Weight, Section: room})
		b.Rim = append(b.Rim, brim(a.X, room)...)
	}
	b.Stack = cuts.NewStack(nodes)
	largest, best := 0, -1.0
	for k, i := range wells {
		var own []cuts.Node
		for _, a := range at {
			own = append(own, cuts.Node{X: a.X, Weight: a.Weight, Section: cuts.Intersection(s.Wells[i].Section(a.X, 0), s.closed(a.X, 0, nil))})
		}
		if v := cuts.NewStack(own).Volume(); v > best {
			best, largest = v, k
		}
	}
	wells[0], wells[largest] = wells[largest], wells[0]
	b.Name, b.Wells = s.Wells[wells[0]].Name, wells
	b.Sole = s.Wells[wells[0]].sole()
	return b
}

// brim is the ends of the edges that face up more than sideways: over the lowest of them it spills.
func brim(x float64, room cuts.Section) []r3.Vec {
	var out []r3.Vec
	for _, e := range room {
		dy, dz := e.B.Y-e.A.Y, e.B.Z-e.A.Z
		if dy < 0 && math.Abs(dz) < -dy {
			out = append(out, r3.Vec{X: x, Y: e.A.Y, Z: e.A.Z}, r3.Vec{X: x, Y: e.B.Y, Z: e.B.Z})
		}
	}
	return out
}

// flatFloor is how much higher than its middle a point of a well's bottom still counts as sole.
const flatFloor = 2e-3

// sole samples a well's bottom.
func (w Well) sole() []r3.Vec {
	const steps = 12
	var out []r3.Vec
	for i := 0; i <= steps; i++ {
		x := w.From + (w.To-w.From)*float64(i)/steps
		half := w.Surface.Half(x)
		for _, p := range half {
			if p.Z > half[0].Z+flatFloor {
				break
			}
			out = append(out, r3.Vec{X: x, Y: p.Y, Z: p.Z})
			if p.Y > 0 {
				out = append(out, r3.Vec{X: x, Y: -p.Y, Z: p.Z})
			}
		}
	}
	return out
}
