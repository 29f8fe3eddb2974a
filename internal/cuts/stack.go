package cuts

import (
	"math"
	"sort"
)

// Plane is a tilted plane in the boat's frame: a point (x, y, z) lies below it
// when -y sin(heel) + z cos(heel) < Level + Slope x. Heel may be any angle; Slope is
// the tangent of the trim angle, positive by the stern.
type Plane struct {
	Sin, Cos float64 // of the heel
	Level    float64 // metres
	Slope    float64
}

// Sums is what lies below a plane. Across is the coordinate y cos + z sin in the
// plane of a cut, along the water and to the low side; Up is z cos - y sin, square to it.
type Sums struct {
	Volume        float64 // m³
	X, Across, Up float64 // first moments of the volume, m⁴
	Breadth       float64 // ∫ b dx of the cut surface, m² before dividing by the cosine of trim
	BreadthX      float64 // ∫ x b dx
	BreadthXX     float64 // ∫ x² b dx
	Offset        float64 // ∫∫ across, over the cut surface
	OffsetX       float64 // ∫ x ∫ across
	OffsetOffset  float64 // ∫∫ across²
}

// Add puts another body's sums to these.
func (s *Sums) Add(o *Sums) { s.AddShare(o, 1) }

// AddShare puts a share of another body's sums to these; a negative one takes it out.
func (s *Sums) AddShare(o *Sums, share float64) {
	s.Volume += share * o.Volume
	s.X += share * o.X
	s.Across += share * o.Across
	s.Up += share * o.Up
	s.Breadth += share * o.Breadth
	s.BreadthX += share * o.BreadthX
	s.BreadthXX += share * o.BreadthXX
	s.Offset += share * o.Offset
	s.OffsetX += share * o.OffsetX
	s.OffsetOffset += share * o.OffsetOffset
}

// Node is one cut of a stack before it is laid down: where, with what weight
// of the quadrature (metres), and its outline.
type Node struct {
	X, Weight float64
	Section   Section
}

// Stack is a solid as cuts at quadrature nodes, laid out for speed. It does
// not change once made and may be used by many goroutines.
type Stack struct {
	cuts   []cut
	points []Point   // runs of joined vertices, cut by cut
	slant  []float64 // of the edge that ends at the point of the same index
	bulge  []float64 // likewise
	breaks []int32   // index behind the last point of each run
	sums   []sums    // of the run's edges up to the point of the same index
	blocks []block   // of every run's edges, run by run
	ends   []int32   // index behind the last block of each run
	faces  []face
	total  Sums // of the whole solid, plane far above: Volume, and moments in y, z
	lo, hi [3]float64
}

type cut struct {
	x, weight float64
	run, end  int32 // runs [run, end) in breaks
	first     int32 // first point
	block     int32 // first block
	cy, cz    float64
	hy, hz    float64 // half extents of the box about the outline
	a, my, mz float64 // of the whole outline
}

type face struct {
	x       float64
	section Section
}

// NewStack lays cuts down as a stack. Faces are flat ends (a transom, a
// cabin's front) that count for the wetted surface only.
func NewStack(nodes []Node, faces ...Node) *Stack {
	sort.SliceStable(nodes, func(i, j int) bool { return nodes[i].X < nodes[j].X })
	s := &Stack{}
	for i := range s.lo {
		s.lo[i], s.hi[i] = math.Inf(1), math.Inf(-1)
	}
	for _, n := range nodes {
		if len(n.Section) == 0 || n.Weight == 0 {
			continue
		}
		s.lay(n)
	}
	for _, f := range faces {
		if len(f.Section) > 0 {
			s.faces = append(s.faces, face{x: f.X, section: f.Section})
		}
	}
	return s
}

// lay appends one cut, joining edges that follow one another into runs so that
// each vertex is turned once.
func (s *Stack) lay(n Node) {
	c := cut{x: n.X, weight: n.Weight, run: int32(len(s.breaks)), first: int32(len(s.points)), block: int32(len(s.blocks))}
	c.a, c.my, c.mz = n.Section.Moments()
	min, max := n.Section.Bounds()
	c.cy, c.cz = (min.Y+max.Y)/2, (min.Z+max.Z)/2
	c.hy, c.hz = (max.Y-min.Y)/2, (max.Z-min.Z)/2
	for i, e := range n.Section {
		if i == 0 || s.points[len(s.points)-1] != e.A {
			if i > 0 {
				s.breaks = append(s.breaks, int32(len(s.points)))
			}
			s.points = append(s.points, e.A)
			s.slant = append(s.slant, 0)
			s.bulge = append(s.bulge, 0)
		}
		s.points = append(s.points, e.B)
		s.slant = append(s.slant, e.Slant)
		s.bulge = append(s.bulge, e.Bulge)
	}
	s.breaks = append(s.breaks, int32(len(s.points)))
	c.end = int32(len(s.breaks))
	s.add(&c)
	s.cuts = append(s.cuts, c)
	s.total.Volume += c.weight * c.a
	s.total.X += c.weight * c.a * c.x
	s.total.Across += c.weight * c.my
	s.total.Up += c.weight * c.mz
	s.lo = [3]float64{math.Min(s.lo[0], n.X), math.Min(s.lo[1], min.Y), math.Min(s.lo[2], min.Z)}
	s.hi = [3]float64{math.Max(s.hi[0], n.X), math.Max(s.hi[1], max.Y), math.Max(s.hi[2], max.Z)}
}

// Volume is the whole solid's volume in cubic metres.
func (s *Stack) Volume() float64 { return s.total.Volume }

// Centroid is the whole solid's centre of volume; zero when it has none.
func (s *Stack) Centroid() (x, y, z float64) {
	if s.total.Volume == 0 {
		return 0, 0, 0
	}
	v := s.total.Volume
	return s.total.X / v, s.total.Across / v, s.total.Up / v
}

// Box is the least and greatest x, y and z of the cuts.
func (s *Stack) Box() (lo, hi [3]float64) { return s.lo, s.hi }

// Size is the number of cuts and of vertices that Below has to turn.
func (s *Stack) Size() (cuts, points int) { return len(s.cuts), len(s.points) }

// Each calls f with every cut's place and runs of points, from the bow aft.
func (s *Stack) Each(f func(x float64, runs [][]Point)) {
	for i := range s.cuts {
		c := &s.cuts[i]
		var runs [][]Point
		p := c.first
		for r := c.run; r < c.end; r++ {
			runs = append(runs, s.points[p:s.breaks[r]])
			p = s.breaks[r]
		}
		f(c.x, runs)
	}
}
