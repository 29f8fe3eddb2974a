package resistance

import (
	"cmp"
	"fmt"
	"math"
	"sort"
)

// Point is one point of a half section: half-breadth and depth below the water, metres.
type Point struct{ Y, Depth float64 }

// Station is a half section at one place along the water, from the keel up to the water or beyond it.
// What stands above the water is cut off. Depths may go up and down (a hollow by the keel, a tumblehome).
type Station struct {
	X      float64
	Points []Point
}

// Hull is the shape below the water at one draft and trim. It does not change once made.
type Hull struct {
	Length       float64 // of the waterline, m
	WettedLength float64 // between the foremost and the aftermost wet place, m: the length of the friction line
	Beam         float64 // of the waterline, greatest, m
	Draft        float64 // greatest depth, m
	Wetted       float64 // skin of both sides, an immersed transom left out, m²
	Volume       float64 // displaced, m³
	Midship      float64 // greatest immersed section, m²
	Waterplane   float64 // m²
	Centre       float64 // x of the centre of volume
	Transom      float64 // immersed area of a flat stern, m²; 0 where she runs to nothing
	From, To     float64 // the wet ends
	// RunIn is from the foremost place of the waterline to where it reaches 95 % of the beam, m.
	RunIn float64

	waves *kernel
}

// Cb is the block coefficient on the waterline's length and beam and the draft.
func (h *Hull) Cb() float64 { return h.Volume / (h.Length * h.Beam * h.Draft) }

// Cp is the prismatic coefficient.
func (h *Hull) Cp() float64 { return h.Volume / (h.Midship * h.Length) }

// limits of what is taken for a boat; beyond them a unit was mistaken.
const (
	longest  = 1000.0 // m
	thinnest = 1e-9   // m² of section, m³ of volume: nothing
)

// NewHull makes a hull of stations.
//
// In:     three stations or more, x rising; an odd number of evenly spaced ones is best (parabolas run through
// threes). The first and last say how she ends: no breadth for a stem, breadth for a flat end
// Error:  ErrInput: too few stations, not rising, not numbers, nothing under water
// Good to: second order in the spacing of a station's points (wetted area and volume of the Wigley hull to 0.1 %
// from 41 points by 41 stations), third in that of the stations
func NewHull(stations []Station) (*Hull, error) {
	if len(stations) < 3 {
		return nil, fmt.Errorf("%w: %d stations; give 3 or more", ErrInput, len(stations))
	}
	h := &Hull{}
	wet := make([]Station, len(stations))
	for i, s := range stations {
		if i > 0 && !(s.X > stations[i-1].X) {
			return nil, fmt.Errorf("%w: station %d stands at x %g m, not aft of the one before at %g m", ErrInput, i, s.X, stations[i-1].X)
		}
		if err := within(fmt.Sprintf("x of station %d", i), s.X, -longest, longest, "m"); err != nil {
			return nil, err
		}
		for _, p := range s.Points {
			if !(math.Abs(p.Y) <= longest && math.Abs(p.Depth) <= longest) {
				return nil, fmt.Errorf("%w: station %d at x %g m has a point at half-breadth %g m, depth %g m", ErrInput, i, s.X, p.Y, p.Depth)
			}
		}
		wet[i] = Station{X: s.X, Points: submerged(s.Points)}
		for _, p := range wet[i].Points {
			h.Draft = math.Max(h.Draft, p.Depth)
		}
	}
	h.measure(wet)
	if !(h.Volume > thinnest) || h.Length <= 0 || h.Beam <= 0 || h.Draft <= 0 {
		return nil, fmt.Errorf("%w: nothing of the hull lies under the water", ErrInput)
	}
	h.waves = newKernel(wet, h.Draft)
	return h, nil
}

// HullOf makes a hull of a half-breadth by x (aft) and depth, on a grid of stations and depths.
//
// In:     f in metres for from <= x <= to, 0 <= depth <= draft; stations and depths 3 or more
// Error:  ErrInput, as NewHull
func HullOf(f func(x, depth float64) float64, from, to, draft float64, stations, depths int) (*Hull, error) {
	if err := cmp.Or(within("the number of stations", float64(stations), 3, 10001, ""), within("the number of depths", float64(depths), 3, 10001, ""),
		within("the draft", draft, 1e-6, longest, "m")); err != nil {
		return nil, err
	}
	out := make([]Station, stations)
	for i := range out {
		out[i].X = from + (to-from)*float64(i)/float64(stations-1)
		for j := depths - 1; j >= 0; j-- {
			z := draft * float64(j) / float64(depths-1)
			out[i].Points = append(out[i].Points, Point{f(out[i].X, z), z})
		}
	}
	return NewHull(out)
}

// submerged is a half section up to where it leaves the water for good.
func submerged(in []Point) []Point {
	last := -1 // the last point under water
	for i, p := range in {
		if p.Depth >= 0 {
			last = i
		}
	}
	var out []Point
	for i := 0; i <= last; i++ {
		p := in[i]
		if i > 0 && (p.Depth < 0) != (in[i-1].Depth < 0) {
			out = append(out, crossing(in[i-1], p))
		}
		if p.Depth >= 0 {
			out = append(out, p)
		}
	}
	if last >= 0 && last+1 < len(in) && in[last].Depth > 0 {
		out = append(out, crossing(in[last], in[last+1]))
	}
	return out
}

// crossing is where a side passes the water.
func crossing(a, b Point) Point {
	f := a.Depth / (a.Depth - b.Depth)
	return Point{Y: a.Y + f*(b.Y-a.Y)}
}

// measure fills in the hull's figures.
func (h *Hull) measure(st []Station) {
	n := len(st)
	x, area, beam := make([]float64, n), make([]float64, n), make([]float64, n)
	deep := make([]bool, n)
	for i, s := range st {
		x[i] = s.X
		for k := 1; k < len(s.Points); k++ {
			a, b := s.Points[k-1], s.Points[k]
			area[i] += (a.Y + b.Y) * (a.Depth - b.Depth) // both sides; from the keel up
		}
		if k := len(s.Points); k > 0 {
			beam[i] = 2 * s.Points[k-1].Y
			deep[i] = true
		}
		h.Midship, h.Beam = math.Max(h.Midship, area[i]), math.Max(h.Beam, beam[i])
	}
	h.From, h.To = ends(x, deep)
	h.WettedLength = h.To - h.From
	broad := make([]bool, n)
	for i := range broad { // the waterline reaches on to the neighbour where its breadth runs out
		broad[i] = beam[i] > 0 || i > 0 && beam[i-1] > 0 || i+1 < n && beam[i+1] > 0
	}
	from, to := ends(x, broad)
	h.Length = to - from
	h.Volume = integral(x, area)
	h.Waterplane = integral(x, beam)
	moment := make([]float64, n)
	for i := range moment {
		moment[i] = area[i] * x[i]
	}
	if h.Volume > 0 {
		h.Centre = integral(x, moment) / h.Volume
	}
	if area[n-1] > thinnest {
		h.Transom = area[n-1]
	}
	for i := range beam {
		if beam[i] >= 0.95*h.Beam {
			h.RunIn = math.Max(x[i]-from, 0)
			break
		}
	}
	h.Wetted = skinOf(st)
}

// ends are the places of the first and last that hold.
func ends(x []float64, ok []bool) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for i := range x {
		if ok[i] {
			from, to = math.Min(from, x[i]), math.Max(to, x[i])
		}
	}
	if from > to {
		return 0, 0
	}
	return from, to
}

// integral is by parabolas through threes (Simpson's rule for any spacing), the last span by a trapezium.
func integral(x, y []float64) float64 {
	var sum float64
	i := 0
	for ; i+2 < len(x); i += 2 {
		a, b := x[i+1]-x[i], x[i+2]-x[i+1]
		s := a + b
		sum += s / 6 * ((2-b/a)*y[i] + s*s/(a*b)*y[i+1] + (2-a/b)*y[i+2])
	}
	for ; i+1 < len(x); i++ {
		sum += (x[i+1] - x[i]) * (y[i] + y[i+1]) / 2
	}
	return sum
}

// facets is into how many parts a half girth is cut to measure the skin.
const facets = 32

// skinOf is the area of both sides: equal shares of the girths of neighbouring stations joined by triangles, and what
// the shares cut off at corners put back in proportion.
func skinOf(st []Station) float64 {
	var a, b [facets + 1]Point
	trueA, cutA, okA := shares(st[0].Points, &a)
	var sum float64
	for i := 1; i < len(st); i++ {
		trueB, cutB, okB := shares(st[i].Points, &b)
		dx := st[i].X - st[i-1].X
		if okA && okB && cutA+cutB > 0 {
			var span float64
			for k := range facets {
				span += triangle(dx, a[k], b[k], a[k+1], false) + triangle(dx, a[k+1], b[k], b[k+1], true)
			}
			sum += span * (trueA + trueB) / (cutA + cutB)
		}
		a, trueA, cutA, okA = b, trueB, cutB, okB
	}
	return 2 * sum
}

// triangle is the area of p on the fore station, q on the aft, and r on the fore or (aft) the aft one.
func triangle(dx float64, p, q, r Point, aft bool) float64 {
	ux, uy, uz := dx, q.Y-p.Y, q.Depth-p.Depth
	vx, vy, vz := 0.0, r.Y-p.Y, r.Depth-p.Depth
	if aft {
		vx = dx
	}
	cx, cy, cz := uy*vz-uz*vy, uz*vx-ux*vz, ux*vy-uy*vx
	return math.Sqrt(cx*cx+cy*cy+cz*cz) / 2
}

// shares are places at equal shares of a half section's girth, with the girth and the run of chords through them; false
// where there is no section.
func shares(p []Point, out *[facets + 1]Point) (girth, chords float64, ok bool) {
	if len(p) == 0 {
		return 0, 0, false
	}
	run := make([]float64, len(p))
	for i := 1; i < len(p); i++ {
		run[i] = run[i-1] + math.Hypot(p[i].Y-p[i-1].Y, p[i].Depth-p[i-1].Depth)
	}
	girth = run[len(p)-1]
	for k := range out {
		g := girth * float64(k) / facets
		i := sort.SearchFloat64s(run, g)
		switch {
		case i == 0 || girth == 0:
			out[k] = p[0]
		case i >= len(p):
			out[k] = p[len(p)-1]
		default:
			f := (g - run[i-1]) / (run[i] - run[i-1])
			out[k] = Point{p[i-1].Y + f*(p[i].Y-p[i-1].Y), p[i-1].Depth + f*(p[i].Depth-p[i-1].Depth)}
		}
		if k > 0 {
			chords += math.Hypot(out[k].Y-out[k-1].Y, out[k].Depth-out[k-1].Depth)
		}
	}
	return girth, chords, true
}
