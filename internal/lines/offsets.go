package lines

import (
	"fmt"
	"math"

	"thole/internal/cuts"
	"thole/internal/fairing"
)

// Offsets is the table of offsets: every line at every station.
type Offsets struct {
	Stations []Station
	Rows     []Row
}

// Station is a column of the table.
type Station struct {
	Label string
	X     float64 // from station 0: the running total, from one end with one tape
	Gap   float64 // from the station before
}

// Row is a line of the table; a value is NaN where the line does not cross the station.
type Row struct {
	Name   string
	Height bool // heights above the base line; half-breadths otherwise
	Values []float64
}

// Tabulate makes the table of offsets of a surface at its stations (labels as measured) and on the
// given planes, knuckles by name.
func Tabulate(s *fairing.Surface, labels []string, xs []float64, planes []Plane) Offsets {
	t := Offsets{}
	for i, x := range xs {
		st := Station{Label: labels[i], X: x}
		if i > 0 {
			st.Gap = x - xs[i-1]
		}
		t.Stations = append(t.Stations, st)
	}
	names := append(append([]string{"keel"}, s.Knuckles...), "sheer")
	corner := s.Corners()
	line := func(name string, height bool, of func(x float64) float64) {
		r := Row{Name: name, Height: height}
		for _, x := range xs {
			r.Values = append(r.Values, of(x))
		}
		t.Rows = append(t.Rows, r)
	}
	for k, name := range names {
		line(name, true, func(x float64) float64 { return s.Half(x)[corner[k]].Z })
	}
	for k, name := range names {
		if k > 0 {
			line(name, false, func(x float64) float64 { return s.Half(x)[corner[k]].Y })
		}
	}
	for _, p := range planes {
		line(p.Name, p.Kind == Buttock, func(x float64) float64 { return offset(s, x, p) })
	}
	return t
}

// offset is one line's value at a station, NaN where it does not cross.
func offset(s *fairing.Surface, x float64, p Plane) float64 {
	g := s.Girth(x)
	hits := Cross(&g, p)
	if len(hits) == 0 {
		return math.NaN()
	}
	if p.Kind == Buttock {
		return hits[0].Z
	}
	return p.along(hits[len(hits)-1])
}

// Usual chooses the planes that a builder of a boat this size lays down: waterlines and buttocks
// on round spacings, and three diagonals that cross the skin amidships nearly square.
func Usual(s *fairing.Surface) []Plane {
	from, to := s.Ends()
	mid := s.Half((from + to) / 2)
	keel, sheer := mid[0], mid[len(mid)-1]
	widest := 0.0
	for _, p := range mid {
		widest = math.Max(widest, p.Y)
	}
	var out []Plane
	step := roundStep((sheer.Z - keel.Z) / 6)
	for z := math.Ceil((keel.Z+0.02)/step) * step; z < sheer.Z; z += step {
		out = append(out, Plane{Name: "waterline " + mm(z), Kind: Waterline, At: z})
	}
	step = roundStep(widest / 4)
	for y := step; y < 0.95*widest; y += step {
		out = append(out, Plane{Name: "buttock " + mm(y), Kind: Buttock, At: y})
	}
	g := s.Girth((from + to) / 2)
	for i := 1; i <= 3; i++ {
		q, ty, tz := g.At(g.Length * float64(i) / 4)
		out = append(out, diagonal(i, q, ty, tz))
	}
	return out
}

// diagonal stands square to the skin amidships, sloping down from the centre line by 15 to 75 degrees.
func diagonal(i int, q cuts.Point, ty, tz float64) Plane {
	slope := math.Max(15*math.Pi/180, math.Min(75*math.Pi/180, math.Atan2(ty, tz)))
	return Plane{Name: "diagonal " + string(rune('A'+i-1)), Kind: Diagonal, At: q.Z + q.Y*math.Tan(slope), Slope: slope}
}

func roundStep(v float64) float64 {
	for _, s := range []float64{0.02, 0.025, 0.05, 0.1, 0.15, 0.2, 0.25, 0.5, 1} {
		if v <= s {
			return s
		}
	}
	return 2
}

func mm(v float64) string { return fmt.Sprintf("%.0f", 1000*v) }
