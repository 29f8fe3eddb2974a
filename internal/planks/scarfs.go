package planks

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Joint is how a piece that is longer than a sheet is joined.
type Joint struct {
	Sheet     float64 // usable length of a sheet
	Across    float64 // usable width of a sheet, nothing if it is not to be looked at
	Thickness float64
	Ratio     float64 // length of a scarf over the thickness; 8 where it is nothing (common practice, no source)
	// Stagger is how far a scarf keeps from those of Beside, along the plank.
	Stagger float64
	Beside  []Scarf // the scarfs of the neighbours, laid out on as many rows
	// Hard is the curvature in 1/m from which on a scarf is kept away; where it is nothing,
	// that of a hundred thicknesses' radius (twice the rule of thumb; common practice, no source).
	Hard float64
}

// Scarf is one joint, square across the flat piece.
type Scarf struct {
	X         float64 // its middle on the flat
	From, To  float64
	Row       float64 // its middle in rows of the grid, for staggering the neighbour's
	Place     r3.Vec  // its middle on the boat
	Curvature float64 // hardest bend within it
}

// Length is one piece of sheet, its scarfs' lengths counted.
type Length struct {
	From, To float64 // along the flat
	Outline  [][2]float64
}

// Cutting is a piece cut into lengths.
type Cutting struct {
	Lengths []Length
	Scarfs  []Scarf
	// Faults says in words what could not be had: a scarf in a hard bend, too near a neighbour's,
	// a piece wider than the sheet.
	Faults []string
}

// scarfStep is how closely places for a scarf are tried, metres.
const scarfStep = 0.01

// Prices by which places are chosen: a scarf more is cheaper than one in a hard bend or beside a
// neighbour's; among good places the straighter is taken.
const (
	priceScarf = 1
	priceFault = 3
	priceBend  = 0.5
)

// Scarfs cuts a flat piece into lengths that the sheet can give, each scarf off the hard bends and
// away from the neighbour's. It takes one more scarf rather than a bad one, and says where it cannot help it.
//
// Error:  ErrNotLaid; lengths that are not positive numbers; a sheet not longer than two scarfs
// Good to: places are tried every 10 mm; among those the choice is the best (dynamic programming)
// Source: scarfs of 8 to 1 in plywood, staggered, kept out of the hard bend: common practice, no source
func Scarfs(f *Flat, j Joint) (Cutting, error) {
	if !f.laid() {
		return Cutting{}, ErrNotLaid
	}
	if j.Ratio == 0 {
		j.Ratio = 8
	}
	if !(j.Sheet > 0 && j.Thickness > 0 && j.Ratio > 0 && j.Stagger >= 0) || math.IsInf(j.Sheet+j.Thickness+j.Ratio+j.Stagger, 0) {
		return Cutting{}, fmt.Errorf("a sheet of %g × %g m, scarfs of %g to 1, %g m apart: give lengths above nothing", j.Sheet, j.Thickness, j.Ratio, j.Stagger)
	}
	scarf := j.Ratio * j.Thickness
	if j.Sheet <= 2*scarf {
		return Cutting{}, fmt.Errorf("a sheet of %.0f mm is all scarf: each is %.0f mm", 1000*j.Sheet, 1000*scarf)
	}
	if j.Hard == 0 {
		j.Hard = 1 / (100 * j.Thickness)
	}
	var c Cutting
	if j.Across > 0 && f.Width > j.Across {
		c.Faults = append(c.Faults, fmt.Sprintf("the piece spreads over %.0f mm and the sheet is %.0f mm wide: lay its lengths out one by one", 1000*f.Width, 1000*j.Across))
	}
	l := &joiner{f: f, joint: j, scarf: scarf}
	for _, x := range l.choose() {
		s := l.at(x)
		if s.Curvature > j.Hard {
			c.Faults = append(c.Faults, fmt.Sprintf("the scarf at %.2f m stands in a bend of %.2f m radius", s.X, 1/s.Curvature))
		}
		if d := l.beside(x); d < j.Stagger {
			c.Faults = append(c.Faults, fmt.Sprintf("the scarf at %.2f m stands %.2f m from the neighbour's, not %.2f m", s.X, d, j.Stagger))
		}
		c.Scarfs = append(c.Scarfs, s)
	}
	from := 0.0
	for i := 0; i <= len(c.Scarfs); i++ {
		to := f.Length
		if i < len(c.Scarfs) {
			to = c.Scarfs[i].To
		}
		c.Lengths = append(c.Lengths, Length{From: from, To: to, Outline: clipped(f.Outline, from, to)})
		if i < len(c.Scarfs) {
			from = c.Scarfs[i].From
		}
	}
	return c, nil
}

// joiner is a piece being cut.
type joiner struct {
	f     *Flat
	joint Joint
	scarf float64
}

// middle is the x of a row's middle on the flat.
func (r *joiner) middle(i int) float64 {
	row := r.f.Points[i]
	return (row[0][0] + row[len(row)-1][0]) / 2
}

// row is where x lies among the rows.
func (r *joiner) row(x float64) float64 {
	n := len(r.f.Points)
	for i := 1; i < n; i++ {
		a, b := r.middle(i-1), r.middle(i)
		if x <= b || i == n-1 {
			if b == a {
				return float64(i)
			}
			return math.Min(math.Max(float64(i-1)+(x-a)/(b-a), 0), float64(n-1))
		}
	}
	return 0
}

// along is the x of a place among the rows.
func (r *joiner) along(row float64) float64 {
	i := min(max(int(row), 0), len(r.f.Points)-2)
	a, b := r.middle(i), r.middle(i+1)
	return a + (row-float64(i))*(b-a)
}

// beside is the distance along the plank from the nearest scarf of a neighbour.
func (r *joiner) beside(x float64) float64 {
	d := math.Inf(1)
	for _, s := range r.joint.Beside {
		d = math.Min(d, math.Abs(x-r.along(s.Row)))
	}
	return d
}

// at is a scarf with its middle at x.
func (r *joiner) at(x float64) Scarf {
	s := Scarf{X: x, From: x - r.scarf/2, To: x + r.scarf/2, Row: r.row(x)}
	from, to := int(r.row(s.From)), int(math.Ceil(r.row(s.To)))
	for i := from; i <= to; i++ {
		for _, c := range r.f.bends[i] {
			k, _ := c.hardest()
			s.Curvature = math.Max(s.Curvature, k)
		}
	}
	i := min(int(s.Row), len(r.f.True)-2)
	m := len(r.f.True[0]) - 1
	g := s.Row - float64(i)
	s.Place = mix(mix(r.f.True[i][0], r.f.True[i][m], 0.5), mix(r.f.True[i+1][0], r.f.True[i+1][m], 0.5), g)
	return s
}

// choose finds the cheapest places for the scarfs.
func (r *joiner) choose() []float64 {
	whole := r.f.Length
	if whole <= r.joint.Sheet {
		return nil
	}
	n := int(math.Ceil(whole / scarfStep))
	step := whole / float64(n)
	best, from := make([]float64, n+1), make([]int, n+1)
	for i := 1; i <= n; i++ {
		best[i] = math.Inf(1)
		x := float64(i) * step
		price, tail := 0.0, 0.0
		if i < n {
			if x < r.scarf || whole-x < r.scarf {
				continue // no room for a whole scarf
			}
			price, tail = r.price(x), r.scarf/2
		}
		for k := i - 1; k >= 0; k-- {
			length := x + tail - float64(k)*step
			if k > 0 {
				length += r.scarf / 2
			}
			if length > r.joint.Sheet+1e-9 {
				break
			}
			if k > 0 && i < n && float64(i-k)*step < r.scarf {
				continue
			}
			if c := best[k] + price; c < best[i] {
				best[i], from[i] = c, k
			}
		}
	}
	var out []float64
	for i := from[n]; i > 0; i = from[i] {
		out = append([]float64{float64(i) * step}, out...)
	}
	return out
}

func (r *joiner) price(x float64) float64 {
	k := r.at(x).Curvature
	p := priceScarf + priceBend*math.Min(1, k/r.joint.Hard)
	if k > r.joint.Hard {
		p += priceFault
	}
	if r.beside(x) < r.joint.Stagger {
		p += priceFault
	}
	return p
}

// clipped is the part of an outline between two x.
func clipped(outline [][2]float64, from, to float64) [][2]float64 {
	for _, side := range [2]struct{ at, hand float64 }{{from, 1}, {to, -1}} {
		var out [][2]float64
		in := func(p [2]float64) bool { return side.hand*(p[0]-side.at) >= 0 }
		for i, a := range outline {
			b := outline[(i+1)%len(outline)]
			if in(a) {
				out = append(out, a)
			}
			if in(a) != in(b) {
				f := (side.at - a[0]) / (b[0] - a[0])
				out = append(out, [2]float64{side.at, a[1] + f*(b[1]-a[1])})
			}
		}
		outline = out
	}
	return outline
}
