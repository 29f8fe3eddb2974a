// Package cuts is the stack of cuts: a solid seen as outlines in planes square
// to the boat's length, and what a half space cuts off it.
//
// A Section is the outline at one place along the length, a set of directed
// edges with the solid on their left hand (y to the right, z up). Sections are
// joined, taken from one another and cut in the plane (Union, Difference,
// Intersection). A Stack is sections at quadrature nodes along the length;
// Stack.Below gives the volume, moments and waterplane of what lies under a
// tilted plane. Areas and moments of a clipped outline are exact (Green's
// theorem); along the length the sum is Gauss-Legendre between breaks.
//
// Everything is in metres. The package imports nothing of Thole's.
package cuts

import "math"

// Point is a place in the plane of a cut: Y to starboard, Z up, metres.
type Point struct{ Y, Z float64 }

// Edge is one directed side of an outline, the solid on its left hand.
type Edge struct {
	A, B Point
	// Slant is how much larger the skin's area is than the edge's length times
	// the step along the boat: 1 for a prism, more where the skin runs in.
	Slant float64
	// Bulge is set on a side of a smooth curve's swelled polygon: a twelfth of the
	// curve's sagitta times eight, times the side's length (curvature × length³ / 12, m²). The curve
	// stands inside the side at its ends and outside it in the middle, with no area between.
	Bulge float64
}

// Section is an outline as directed edges. Their order does not matter and
// several loops, holes among them, may stand in one section.
type Section []Edge

// Outline makes a section of a closed loop of points. A loop that runs the
// wrong way round (the solid on its right) is turned; edges of no length are
// left out.
func Outline(loop []Point) Section {
	s := make(Section, 0, len(loop))
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if a != b {
			s = append(s, Edge{A: a, B: b, Slant: 1})
		}
	}
	if s.Area() < 0 {
		s.Turn()
	}
	return s
}

// Rectangle is the section between two breadths and two heights.
func Rectangle(y0, z0, y1, z1 float64) Section {
	return Outline([]Point{{y0, z0}, {y1, z0}, {y1, z1}, {y0, z1}})
}

// Turn reverses every edge: the solid becomes its hole.
func (s Section) Turn() {
	for i, e := range s {
		s[i].A, s[i].B = e.B, e.A
	}
}

// Area is the enclosed area in square metres.
func (s Section) Area() float64 {
	var a float64
	for _, e := range s {
		a += (e.A.Y - e.B.Y) * (e.A.Z + e.B.Z) / 2
	}
	return a
}

// Moments are the area and its first moments: ∫dA, ∫y dA, ∫z dA.
//
// Source: Green's theorem on straight edges, closed form.
func (s Section) Moments() (area, my, mz float64) {
	for _, e := range s {
		y0, z0, y1, z1 := e.A.Y, e.A.Z, e.B.Y, e.B.Z
		dy := y1 - y0
		area -= dy * (z0 + z1) / 2
		my -= dy * (2*y0*z0 + y0*z1 + y1*z0 + 2*y1*z1) / 6
		mz -= dy * (z0*z0 + z0*z1 + z1*z1) / 6
	}
	return area, my, mz
}

// Bounds are the least and greatest y and z; all zero for an empty section.
func (s Section) Bounds() (min, max Point) {
	if len(s) == 0 {
		return Point{}, Point{}
	}
	min, max = s[0].A, s[0].A
	for _, e := range s {
		for _, p := range [2]Point{e.A, e.B} {
			min.Y, max.Y = math.Min(min.Y, p.Y), math.Max(max.Y, p.Y)
			min.Z, max.Z = math.Min(min.Z, p.Z), math.Max(max.Z, p.Z)
		}
	}
	return min, max
}
