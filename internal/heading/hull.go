package heading

import (
	"cmp"
	"fmt"
	"math"
	"sort"
)

// Station is the hull under water at one place along her.
type Station struct {
	X     float64 // m aft of station 0
	Depth float64 // m from the water to the keel
	Beam  float64 // m at the water
	// Drag is the cross-flow drag coefficient on the depth; 0 takes Hoerner's curve.
	Drag float64
}

// Hull is what of the boat is under water, rudder and board left out.
type Hull struct {
	// Stations run from the bow aft; between two the depth runs straight. A plumb end, a
	// transom or a step of the keel is two stations at one place.
	Stations []Station
	Volume   float64 // m3 displaced
}

// check refuses hulls that mean nothing.
func (h Hull) check() error {
	if len(h.Stations) < 2 {
		return fmt.Errorf("%w: a hull of %d stations; give two or more", ErrInput, len(h.Stations))
	}
	deep := false
	for i, s := range h.Stations {
		name := fmt.Sprintf("station %d", i+1)
		if err := cmp.Or(
			need("the place of "+name, s.X, -1e3, 1e3, "give metres aft of station 0"),
			need("the depth of "+name, s.Depth, 0, 100, "give 0 m or more"),
			need("the beam of "+name, s.Beam, 0, 100, "give 0 m or more"),
			need("the drag coefficient of "+name, s.Drag, 0, 5, "give 0 to 5; 0 takes the curve")); err != nil {
			return err
		}
		if i > 0 && s.X < h.Stations[i-1].X {
			return fmt.Errorf("%w: station %d stands at %g m, ahead of the one before it; give them from the bow aft", ErrInput, i+1, s.X)
		}
		deep = deep || s.Depth > 0
	}
	if !deep || h.Stations[len(h.Stations)-1].X <= h.Stations[0].X {
		return fmt.Errorf("%w: nothing of the hull is under water; check the day's draft", ErrInput)
	}
	return need("the displaced volume", h.Volume, 0, 1e6, "give m3; 0 if it is not known")
}

// Lateral is the area of the underwater profile, and its centre's place and depth below the
// water.
//
// Out:    m2, m aft of station 0, m
// Good to: rounding for a profile of straight lines
func (h Hull) Lateral() (area, x, depth float64) {
	for i := 1; i < len(h.Stations); i++ {
		a, b := h.Stations[i-1], h.Stations[i]
		d := b.X - a.X
		area += d * (a.Depth + b.Depth) / 2
		x += d * (a.X*(2*a.Depth+b.Depth) + b.X*(a.Depth+2*b.Depth)) / 6
		depth += d * (a.Depth*a.Depth + a.Depth*b.Depth + b.Depth*b.Depth) / 6
	}
	if area > 0 {
		x, depth = x/area, depth/area
	}
	return area, x, depth
}

// crossFlow is Hoerner's drag coefficient of a two-dimensional section in a beam current,
// on its depth, against half its beam over depth. Source: Hoerner, Fluid-Dynamic Drag
// (1965), as drawn by Faltinsen, Sea Loads on Ships and Offshore Structures (1990), ch. 6,
// and by Leite et al., Applied Ocean Research 20 (1998); read off and rounded, good to a tenth
// of itself; bilge radius, bilge keels and Reynolds number move it by a third.
var crossFlow = [...][2]float64{
	{0, 1.97}, {0.18, 1.96}, {0.35, 1.9}, {0.5, 1.2}, {0.65, 1.0}, {0.85, 0.87}, {1, 0.83},
	{1.3, 0.76}, {1.65, 0.69}, {2, 0.65}, {2.5, 0.61}, {3, 0.59}, {4, 0.56},
}

// CrossFlow is the cross-flow drag coefficient of a section, on its depth.
//
// In:     beam and depth in m
// Source: Hoerner's curve, see crossFlow; past its last point, that there
func CrossFlow(beam, depth float64) float64 {
	if depth <= 0 {
		return 0
	}
	at := beam / (2 * depth)
	i := sort.Search(len(crossFlow), func(i int) bool { return crossFlow[i][0] >= at })
	switch {
	case i == 0:
		return crossFlow[0][1]
	case i == len(crossFlow):
		return crossFlow[i-1][1]
	}
	a, b := crossFlow[i-1], crossFlow[i]
	return a[1] + (b[1]-a[1])*(at-a[0])/(b[0]-a[0])
}

// slender is the sway force and yaw moment per product of surge and sway, kg and kg m, about
// the middle between the ends.
type slender struct{ y, n float64 }

// flow is a hull made ready.
type flow struct {
	drag, dragArm float64 // half rho times the integral of Cd depth, and of its moment ahead of the middle
	ahead, astern slender
	length, depth float64
}

// ready sums a hull's stations about a place.
func (h Hull) ready(ref, density float64, c *Coefficients) flow {
	n := len(h.Stations)
	f := flow{length: h.Stations[n-1].X - h.Stations[0].X}
	cd := make([]float64, n)
	for i, s := range h.Stations {
		f.depth = math.Max(f.depth, s.Depth)
		cd[i] = s.Drag
		if cd[i] == 0 {
			cd[i] = CrossFlow(s.Beam, s.Depth)
		}
	}
	for i := 1; i < n; i++ {
		a, b := h.Stations[i-1], h.Stations[i]
		d, p, q := b.X-a.X, cd[i-1]*a.Depth, cd[i]*b.Depth
		f.drag += d * (p + q) / 2
		f.dragArm += d * ((ref-a.X)*(2*p+q) + (ref-b.X)*(p+2*q)) / 6
	}
	f.drag *= density / 2 * c.CrossFlow
	f.dragArm = f.dragArm*density/2*c.CrossFlow + f.drag*c.Lead*f.length
	k := 1.0
	if a, err := Spheroid(math.Max(1, f.length/(2*f.depth))); err == nil {
		k = a.Side - a.End
	}
	at := make([]float64, n)
	m := make([]float64, n)
	for i, s := range h.Stations {
		at[i] = ref - s.X // ahead of the middle
		m[i] = c.Forebody * k * density * math.Pi / 2 * s.Depth * s.Depth
	}
	f.ahead = strip(at, m, c.Cut)
	// Going astern is going ahead in a boat turned end for end: the force's sign turns with
	// her, the moment's does not.
	for i := range n / 2 {
		j := n - 1 - i
		at[i], at[j] = at[j], at[i]
		m[i], m[j] = m[j], m[i]
	}
	for i := range at {
		at[i] = -at[i]
	}
	back := strip(at, m, c.Cut)
	f.astern = slender{y: -back.y, n: back.n}
	return f
}

// strip is slender-body theory with the afterbody left out: each slice of water beside the
// hull is given sideways momentum as the section grows, and is taken none away from behind the
// place where the flow leaves the hull.
//
// In:     places ahead of the middle, falling; added mass of the section there, kg/m; shift of the cut
// Source: Munk, NACA report 184; Jones, NACA report 835; cut after Hopkins, NACA RM A51C14:
// x0/L = 0.378 + 0.527 x1/L with x1 where the section falls away fastest (from memory)
func strip(at, m []float64, shift float64) slender {
	n := len(at)
	length := at[0] - at[n-1]
	steep, worst := 1.0, 0.0
	for i := 1; i < n; i++ {
		d := at[i-1] - at[i]
		if d <= 1e-9*length {
			continue
		}
		if fall := (m[i-1] - m[i]) / d; fall > worst*(1+1e-9) {
			worst, steep = fall, (at[0]-(at[i]+at[i-1])/2)/length
		}
	}
	cut := at[0] - length*clamp(0.378+0.527*steep+shift, 0.3, 1)
	var sum, here float64
	last := n - 1
	here = m[last]
	end := at[last]
	for i := 1; i < n; i++ {
		d := at[i-1] - at[i]
		if at[i] >= cut || i == last && at[i] > cut-1e-12 {
			// Simpson's rule is exact here if the depth runs straight: the section's mass is its square.
			mid := (math.Sqrt(m[i-1]) + math.Sqrt(m[i])) / 2
			sum += d * (m[i-1] + 4*mid*mid + m[i]) / 6
			continue
		}
		g := (at[i-1] - cut) / d
		root := math.Sqrt(m[i-1]) + g*(math.Sqrt(m[i])-math.Sqrt(m[i-1]))
		mid := (math.Sqrt(m[i-1]) + root) / 2
		sum += (at[i-1] - cut) * (m[i-1] + 4*mid*mid + root*root) / 6
		here, end = root*root, cut
		break
	}
	return slender{y: -here, n: -(end*here + sum)}
}

// force is the water's sway force and yaw moment on the hull at a speed ahead and to
// starboard.
func (f *flow) force(u, v float64) (y, n float64) {
	s := &f.ahead
	if u < 0 {
		s = &f.astern
	}
	cross := -v * math.Abs(v)
	return s.y*u*v + f.drag*cross, s.n*u*v + f.dragArm*cross
}
