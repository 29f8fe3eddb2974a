package afloat

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/hydro"
)

// FreeboardDoubt is the standard deviation of the least freeboard of a body at rest, she herself or she with
// spaces flooded: what the tolerances of mass, centre and readings do to it, each tried by itself.
//
// Out:    metres
// Source: JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.1 (independent inputs,
// each change as its tolerance makes it)
func (t *Trip) FreeboardDoubt(b *hydro.Body, f *Floating) float64 {
	s := &f.State
	l := Load(s)
	change := func(mass float64, by r3.Vec) float64 {
		k := l.Raised(by)
		k.Mass += mass
		r, err := hydro.Float(b, k, t.Sea, &f.Rest.Attitude)
		if err != nil {
			return 0
		}
		h, _ := t.Freeboard(r.Attitude)
		return h - f.Freeboard
	}
	skin := t.Ship.Tolerance / 3 // a hull proud or lean all over by one deviation of a reading
	mass := math.Hypot(s.Doubt, skin*b.Envelope.Wetted(f.Rest.Plane())*t.Sea.Density)
	var sum float64
	for _, d := range []float64{change(mass, r3.Vec{}), change(0, r3.Vec{X: s.DoubtG.X}), change(0, r3.Vec{Y: s.DoubtG.Y}), change(0, r3.Vec{Z: s.DoubtG.Z}), skin} {
		sum += d * d
	}
	return math.Sqrt(sum)
}
