package shape

import (
	"fmt"
	"math"

	"thole/internal/cuts"
	"thole/internal/fairing"
	"thole/internal/model"
)

// Solid is one measured body: the hull, a cabin or a well, symmetrical about
// the centre line and closed between its uppermost points.
type Solid struct {
	Name     string
	From, To float64
	Surface  *fairing.Surface
	camber   float64 // crown of the top at the widest place
	widest   float64 // half-breadth of the top there
	skin     float64 // thickness added outside the measured surface
}

// crownSteps is how many sides the cambered deck's half arc is given.
const crownSteps = 4

// Fair lays a surface over readings; tolerance is the half width of a reading's error, full size.
//
// Error: as fairing.Fit
func Fair(r model.Readings, tolerance float64) (*fairing.Surface, error) {
	cs := make([]fairing.Cut, len(r.Stations))
	for i, st := range r.Stations {
		cs[i].X = st.X
		for _, p := range st.Points {
			cs[i].Points = append(cs[i].Points, fairing.Point{Point: cuts.Point{Y: p.Y, Z: p.Z}, Corner: p.Corner, Knuckle: p.Knuckle})
		}
	}
	var stem, stern fairing.Profile
	for _, p := range r.Stem {
		stem = append(stem, fairing.ProfilePoint{X: p.X, Z: p.Z})
	}
	for _, p := range r.Stern {
		stern = append(stern, fairing.ProfilePoint{X: p.X, Z: p.Z})
	}
	return fairing.Fit(cs, stem, stern, tolerance)
}

// newSolid fairs readings into a solid.
func newSolid(name string, r model.Readings, tolerance float64) (*Solid, error) {
	f, err := Fair(r, tolerance)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	s := &Solid{Name: name, Surface: f}
	s.From, s.To = f.Ends()
	for i := 0; i <= 100; i++ {
		s.widest = math.Max(s.widest, f.Top(s.From+float64(i)/100*(s.To-s.From)).Y)
	}
	return s, nil
}

// bare is the same solid before a deck's crown and a skin are put on it.
func (s *Solid) bare() *Solid {
	out := *s
	out.camber, out.skin = 0, 0
	return &out
}

// Section is the outline at x with the skin moved out by extra (inwards when
// negative); empty beyond the ends.
func (s *Solid) Section(x, extra float64) cuts.Section {
	if x < s.From || x > s.To {
		return nil
	}
	rib := s.Surface.Rib(x, s.skin+extra)
	half := rib.Points
	top := half[len(half)-1]
	if c := s.crown(top.Y); c > 0 {
		arc := make([]cuts.Point, crownSteps+1)
		for i := range arc {
			f := 1 - float64(i)/crownSteps
			arc[i] = cuts.Point{Y: top.Y * f, Z: top.Z + c*(1-f*f)}
		}
		half = append(half, fairing.Swell(arc)[1:]...)
	}
	out := make(cuts.Section, 0, 2*len(half)+2)
	side := func(a, b cuts.Point, slant, bulge float64) {
		if a != b {
			out = append(out, cuts.Edge{A: a, B: b, Slant: slant, Bulge: bulge})
		}
	}
	mirror := func(p cuts.Point) cuts.Point { return cuts.Point{Y: -p.Y, Z: p.Z} }
	at := func(i int) (slant, bulge float64) {
		if i < len(rib.Slant) {
			return rib.Slant[i], rib.Bulge[i]
		}
		return 1, 0
	}
	side(mirror(half[0]), half[0], 1, 0)
	for i := 0; i+1 < len(half); i++ {
		slant, bulge := at(i)
		side(half[i], half[i+1], slant, bulge)
	}
	last := len(half) - 1
	side(half[last], mirror(half[last]), 1, 0)
	for i := last; i > 0; i-- {
		slant, bulge := at(i - 1)
		side(mirror(half[i]), mirror(half[i-1]), slant, bulge)
	}
	return out
}

// crown is how much higher than its edge the top's centre is where the edge stands y out:
// one round of beam for the whole boat, so it falls with the square of the breadth.
func (s *Solid) crown(y float64) float64 {
	if s.camber == 0 || s.widest == 0 {
		return 0
	}
	return s.camber * (y / s.widest) * (y / s.widest)
}

// Skin is the area of both sides from keel to sheer, ends left out, and its centre's x and z.
//
// Good to: second order in 400 steps along the length
func (s *Solid) Skin() (area, x, z float64) {
	const steps = 400
	h := (s.To - s.From) / steps
	for i := range steps {
		at := s.From + (float64(i)+0.5)*h
		r := s.Surface.Rib(at, 0)
		for k, slant := range r.Slant {
			a, b := r.Points[k], r.Points[k+1]
			d := 2 * h * slant * math.Hypot(b.Y-a.Y, b.Z-a.Z)
			area += d
			x += d * at
			z += d * (a.Z + b.Z) / 2
		}
	}
	if area == 0 {
		return 0, 0, 0
	}
	return area, x / area, z / area
}

// Edge is the upper edge of the solid's side at x (the sheer of a hull),
// half-breadth and height.
func (s *Solid) Edge(x float64) cuts.Point {
	return s.Surface.Top(x)
}

// Span is the least and greatest height on the centre line at x.
func (s *Solid) Span(x float64) (foot, head float64) {
	top := s.Surface.Top(x)
	return s.Surface.Foot(x).Z, top.Z + s.crown(top.Y)
}
