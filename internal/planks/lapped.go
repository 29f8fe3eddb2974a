package planks

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Laps are the measures of lapped planking.
type Laps struct {
	Width     float64 // of the land where two planks lie on each other, metres along the skin
	Thickness float64 // of the plank
	// Gain is the length from either end over which the lap is let in until the planks
	// are flush; nothing for none.
	Gain float64
	// Rows is how many places along a plank are laid out; 61 where it is nothing.
	Rows int
}

// Plank is one lapped plank.
type Plank struct {
	Strake int // 1 is the lowest
	// Flat is the plank laid flat with its lap on: its upper edge is its line, its lower
	// edge lies the lap's width under the line below (but for the lowest).
	Flat     Flat
	Stations []PlankAt
	Fore     Gain
	Aft      Gain
}

// PlankAt is a plank at a station.
type PlankAt struct {
	X     float64 // metres aft of station 0
	Width float64 // between its lines, straight across in the section
	Whole float64 // with the lap
	// Bevel is the angle between this plank and the one below it, square to the
	// line: what is planed off the lower one's land so that this one lies down. Positive where the skin is
	// round, negative where it is hollow; nothing for the lowest plank.
	Bevel float64
	// Deep is how deep either plank's land is cut away for the gain.
	Deep float64
}

// Gain is where a lap runs out to flush at a plank's end.
type Gain struct {
	Length float64 // along the line from the end, at most half the line
	X      float64 // where it begins
	// Deep is how deep each of the two planks is cut away at the very end: half the thickness.
	Deep float64
}

// rows of a plank where none are asked for.
const plankRows = 61

// Lapped takes lapped planks off a half skin that has been lined off. Across, a plank is straight from line
// to line, as a plank is that bends along its length only; each but the lowest reaches down
// past its lower line by the width of the lap, outside the plank below. A line is thus the
// upper edge of the plank below it: the corner that touches a mould. At a stem an end is cut straight
// from line to line; where the stem is curved between them, leave wood on and fit it.
//
// Error:  laps that are not positive numbers, or wider than half a plank; what Expand returns, with the plank's number
// Good to: the lines' own places; bevels and widths are exact between the lines (TestLappedOnCylinder)
// Source: geometry; gains and bevels as in lapped boat building, common practice, no source
func Lapped(s *Strakes, laps Laps) ([]Plank, error) {
	if !(laps.Width > 0 && laps.Thickness > 0 && laps.Gain >= 0) || math.IsInf(laps.Width+laps.Thickness+laps.Gain, 0) {
		return nil, fmt.Errorf("a lap of %g m on planks of %g m with gains of %g m: give lengths above nothing", laps.Width, laps.Thickness, laps.Gain)
	}
	rows := laps.Rows
	if rows == 0 {
		rows = plankRows
	}
	if rows < 3 {
		return nil, ErrFew
	}
	edges := s.edges(rows)
	var out []Plank
	for n := range s.Count() {
		p := Plank{Strake: n + 1}
		grid := make([][]r3.Vec, rows)
		widest := 0.0
		for i := range grid {
			a, b := edges[i][n], edges[i][n+1]
			widest = math.Max(widest, dist(a, b))
			if n > 0 {
				a = lapped(edges, i, n, laps.Width)
			}
			grid[i] = []r3.Vec{a, b}
		}
		if n > 0 && laps.Width > widest/2 {
			return nil, fmt.Errorf("strake %d: a lap of %.0f mm is more than half of its %.0f mm: line off fewer strakes or make the lap narrower", n+1, 1000*laps.Width, 1000*widest)
		}
		f, err := Expand(grid)
		if err != nil {
			return nil, fmt.Errorf("strake %d: %w", n+1, err)
		}
		p.Flat = f
		p.Fore, p.Aft = s.gains(edges, n, laps)
		for _, x := range s.skin.stops {
			if at, ok := s.plankAt(n, x, laps); ok {
				if n > 0 {
					at.Deep = math.Max(p.Fore.deep(edges, n, x, false), p.Aft.deep(edges, n, x, true))
				}
				p.Stations = append(p.Stations, at)
			}
		}
		out = append(out, p)
	}
	return out, nil
}

// edges are all lines' places at even shares of their runs.
func (s *Strakes) edges(rows int) [][]r3.Vec {
	out := make([][]r3.Vec, rows)
	for i := range out {
		for l := range s.Lines {
			out[i] = append(out[i], s.at(l, float64(i)/float64(rows-1)))
		}
	}
	return out
}

// lapped is the lower edge of a plank: its lower line carried on straight by the lap,
// measured square to the line.
func lapped(edges [][]r3.Vec, i, line int, width float64) r3.Vec {
	a, b := edges[i][line], edges[i][line+1]
	along := r3.Sub(edges[min(i+1, len(edges)-1)][line], edges[max(i-1, 0)][line])
	over := r3.Sub(b, a)
	if r3.Norm(over) < 1e-9 { // a plank run out to nothing carries its neighbour's slope
		over = r3.Sub(a, edges[i][line-1])
	}
	sin := math.Sin(between(along, over))
	return r3.Sub(a, r3.Scale(width/math.Max(sin, 0.3), unit(over)))
}

// plankAt measures a plank at a station.
func (s *Strakes) plankAt(n int, x float64, laps Laps) (PlankAt, bool) {
	a, ok := s.At(n, x)
	b, also := s.At(n+1, x)
	if !ok || !also {
		return PlankAt{}, false
	}
	at := PlankAt{X: x, Width: dist(a, b), Whole: dist(a, b)}
	if n == 0 {
		return at, true
	}
	at.Whole += laps.Width
	if below, ok := s.At(n-1, x); ok && dist(below, a) > 1e-6 && at.Width > 1e-6 {
		d := 1e-3
		p, _ := s.At(n, math.Max(x-d, s.Lines[n].From))
		q, _ := s.At(n, math.Min(x+d, s.Lines[n].To))
		along := unit(r3.Sub(q, p))
		low, up := r3.Cross(along, r3.Sub(a, below)), r3.Cross(along, r3.Sub(b, a))
		// both normals point inwards to starboard; round where the upper plank turns up and in
		at.Bevel = math.Atan2(r3.Dot(along, r3.Cross(low, up)), r3.Dot(low, up))
	}
	return at, true
}

// gains are where the lap of plank n over the one below runs out at either end.
func (s *Strakes) gains(edges [][]r3.Vec, n int, laps Laps) (fore, aft Gain) {
	if n == 0 || laps.Gain == 0 {
		return Gain{}, Gain{}
	}
	var whole float64
	for i := 1; i < len(edges); i++ {
		whole += dist(edges[i][n], edges[i-1][n])
	}
	length := math.Min(laps.Gain, whole/2)
	fore = Gain{Length: length, Deep: laps.Thickness / 2, X: reached(edges, n, length)}
	aft = Gain{Length: length, Deep: laps.Thickness / 2, X: reached(edges, n, whole-length)}
	return fore, aft
}

// reached is the x at a length along a line.
func reached(edges [][]r3.Vec, line int, length float64) float64 {
	for i := 1; i < len(edges); i++ {
		a, b := edges[i-1][line], edges[i][line]
		d := dist(a, b)
		if d >= length && d > 0 {
			return mix(a, b, length/d).X
		}
		length -= d
	}
	return edges[len(edges)-1][line].X
}

// deep is how deep the gain has got at x: in a straight run from its beginning to the end.
func (g Gain) deep(edges [][]r3.Vec, line int, x float64, aft bool) float64 {
	if g.Length == 0 || aft && x < g.X || !aft && x > g.X {
		return 0
	}
	// length of line between x and the gain's beginning
	var run float64
	lo, hi := math.Min(x, g.X), math.Max(x, g.X)
	for i := 1; i < len(edges); i++ {
		a, b := edges[i-1][line], edges[i][line]
		if over := math.Min(hi, b.X) - math.Max(lo, a.X); over > 0 && b.X > a.X {
			run += dist(a, b) * over / (b.X - a.X)
		}
	}
	return g.Deep * math.Min(1, run/g.Length)
}
