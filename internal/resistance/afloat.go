package resistance

import (
	"fmt"
	"math"

	"thole/internal/cuts"
	"thole/internal/fairing"
	"thole/internal/hydro"
)

// panels is how many spans of the length, each with a parabola, a floating hull is given; crowded is how much of
// their spacing follows a circle, which puts more of them to the ends.
const (
	panels  = 26
	crowded = 0.6
)

// FromSurface is the faired surface below the water in which she lies.
//
// Heel is left out: she is taken upright with the water where it meets the centre plane. Trim is followed by the
// water's slope; that the sections stand square to the keel and not to the water (a shear of slope times depth,
// under 1 cm) is left out. Cabins, rudder and board are no part of it.
//
// In:     skin, m, moves the surface out (planking over a surface measured to the inside); attitude
// Error:  ErrInput where she lies clear of the water
// Good to: 0.2 % of volume and wetted area on the spindle in TestFromSurface
func FromSurface(s *fairing.Surface, skin float64, a hydro.Attitude) (*Hull, error) {
	from, to := s.Ends()
	return float(func(x float64) []cuts.Point { return s.Rib(x, skin).Points }, from, to, a)
}

// FromSections is a solid's outlines below the water in which she lies; of each outline the starboard side from the
// keel up is followed as far as it runs on unbroken. Give the hull alone: water in a well open to the sea goes with her,
// and what flows past is the hull.
//
// In:     section, the closed outline at x between from and to
// Error:  as FromSurface
func FromSections(section func(x float64) cuts.Section, from, to float64, a hydro.Attitude) (*Hull, error) {
	return float(func(x float64) []cuts.Point { return starboard(section(x)) }, from, to, a)
}

// starboard is the longest unbroken run of an outline on the starboard side, from its lowest end.
func starboard(s cuts.Section) []cuts.Point {
	var best, run []cuts.Point
	keep := func() {
		if len(run) > len(best) {
			best = run
		}
		run = nil
	}
	for _, e := range s {
		if e.A.Y+e.B.Y <= 0 {
			keep()
			continue
		}
		if len(run) == 0 || run[len(run)-1] != e.A {
			keep()
			run = append(run, e.A)
		}
		run = append(run, e.B)
	}
	keep()
	if n := len(best); n > 0 && best[0].Z > best[n-1].Z {
		for i := 0; i < n/2; i++ {
			best[i], best[n-1-i] = best[n-1-i], best[i]
		}
	}
	return best
}

// float puts a half section's shape into the water.
func float(half func(x float64) []cuts.Point, from, to float64, a hydro.Attitude) (*Hull, error) {
	if math.IsNaN(a.Level+a.Slope+a.Heel) || math.Abs(a.Heel) > math.Pi/3 || math.Abs(a.Slope) > 0.5 {
		return nil, fmt.Errorf("%w: heel %g, level %g m, slope %g; give how she lies on an ordinary day", ErrInput, a.Heel, a.Level, a.Slope)
	}
	up := 1 / math.Cos(a.Heel) // the water at the centre plane stands level / cos(heel) high
	tilt := 1 / math.Sqrt(1+a.Slope*a.Slope)
	depth := func(x, z float64) float64 { return (up*(a.Level+a.Slope*x) - z) * tilt }
	keel := func(x float64) float64 {
		p := half(x)
		deepest := math.Inf(-1)
		for _, q := range p {
			deepest = math.Max(deepest, depth(x, q.Z))
		}
		return deepest
	}
	fore, aft, ok := wet(keel, from, to)
	if !ok {
		return nil, fmt.Errorf("%w: the hull lies clear of the water", ErrInput)
	}
	st := make([]Station, 0, 2*panels+1)
	add := func(x float64) {
		var s Station
		s.X = x / tilt
		for _, q := range half(x) {
			s.Points = append(s.Points, Point{math.Max(0, q.Y), depth(x, q.Z)})
		}
		st = append(st, s)
	}
	for i := range panels + 1 {
		at := func(i int) float64 {
			f := float64(i) / panels
			return fore + (aft-fore)*(crowded*(1-math.Cos(math.Pi*f))/2+(1-crowded)*f)
		}
		if i > 0 {
			add((at(i-1) + at(i)) / 2)
		}
		add(at(i))
	}
	return NewHull(st)
}

// wet is where the keel goes under and comes up again; ends that stay under are the solid's own.
func wet(keel func(x float64) float64, from, to float64) (fore, aft float64, ok bool) {
	const steps = 100
	at := func(i int) float64 { return from + (to-from)*float64(i)/steps }
	first, last := -1, -1
	for i := 0; i <= steps; i++ {
		if keel(at(i)) > 0 {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 || first == last {
		return 0, 0, false
	}
	closing := func(dry, wet float64) float64 {
		for range 40 {
			if mid := (dry + wet) / 2; keel(mid) > 0 {
				wet = mid
			} else {
				dry = mid
			}
		}
		return wet
	}
	fore, aft = at(first), at(last)
	if first > 0 {
		fore = closing(at(first-1), fore)
	}
	if last < steps {
		aft = closing(at(last+1), aft)
	}
	return fore, aft, true
}
