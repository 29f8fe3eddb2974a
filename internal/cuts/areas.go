package cuts

import "math"

// Areas is where the cuts stand and how much of each lies below a plane, m²: the displaced water along the
// length.
//
// Good to: as Below, whose volume is the sum of these with the quadrature's weights (TestAreasSumToBelow)
func (s *Stack) Areas(p Plane) (x, area []float64) {
	for i := range s.cuts {
		c := &s.cuts[i]
		h := p.Level + p.Slope*c.x
		centre := c.cz*p.Cos - c.cy*p.Sin - h
		reach := c.hz*math.Abs(p.Cos) + c.hy*math.Abs(p.Sin)
		a := 0.0
		switch {
		case centre >= reach:
		case centre <= -reach:
			a = c.a
		default:
			a, _, _, _, _, _ = s.clip(c, p.Sin, p.Cos, h)
		}
		x, area = append(x, c.x), append(area, a)
	}
	return x, area
}
