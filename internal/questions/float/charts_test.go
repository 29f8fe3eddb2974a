package float

import (
	"math"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
)

// TestBarsWeighWhatSheWeighs: piled up along her the weights are all there and about their own centre of
// gravity, and what the water bears along her is what she weighs.
// Source: a sum of parts is the whole; Archimedes
func TestBarsWeighWhatSheWeighs(t *testing.T) {
	f, faults := boatfolder.Read("../../../demo/sanderling")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c := answer.NewCase(f)
	trip, err := c.Trip()
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range []answer.Options{{}, {Day: 61, Condition: "in the cabin"}, {Day: 80, Condition: "outside"}} {
		day, cond, err := o.Pick(trip)
		if err != nil {
			t.Fatal(err)
		}
		all, err := trip.Floats(t.Context(), nil)
		if err != nil {
			t.Fatal(err)
		}
		q := ask{c: c, t: trip, all: all, day: day, cond: cond}
		var mass, moment float64
		for _, b := range q.bars() {
			for h, v := range b.load {
				if v < 0 {
					t.Errorf("%v: %s weighs less than nothing at %g m", o, heapNames[h], b.x)
				}
				mass += v * q.wide()
				moment += v * q.wide() * b.x
			}
		}
		s := all[cond][day].State
		if math.Abs(mass-s.Mass) > 1e-6 {
			t.Errorf("%v: the bars weigh %g kg, she %g", o, mass, s.Mass)
		}
		// Within a bar a weight moves to its middle, by no more than half its length and mostly far less.
		if math.Abs(moment/mass-s.G.X) > 0.02 {
			t.Errorf("%v: the bars' centre is at %g m, hers at %g", o, moment/mass, s.G.X)
		}
		x, a := trip.Ship.Body.Areas(all[cond][day].Rest.Plane())
		var borne float64
		for i := 1; i < len(x); i++ { // the trapezium rule, which is rougher than the quadrature behind her balance
			borne += (x[i] - x[i-1]) * (a[i] + a[i-1]) / 2 * trip.Sea.Density
		}
		if math.Abs(borne/s.Mass-1) > 0.01 {
			t.Errorf("%v: the water bears %g kg along her, she weighs %g", o, borne, s.Mass)
		}
	}
}
