package heading

import (
	"context"
	"fmt"
	"math"
	"os"
	"testing"

	"thole/internal/afloat"
	"thole/internal/boatfolder"
)

// TestDemoProfiles measures the two invented boats as they leave, and again the slow way:
// section by section of the ship itself, a thousand of them, each by its own box.
func TestDemoProfiles(t *testing.T) {
	for _, name := range []string{"sanderling", "turnstone"} {
		f, faults := boatfolder.Read("../../demo/" + name)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		trip := must(afloat.New(f))
		rest := must(trip.Floats(context.Background(), nil))[0][0].Rest
		a := rest.Attitude
		a.Heel = 0
		s := must(Profile(trip.Ship.Body.Envelope, a))
		from, to := trip.Ship.Hull.From, trip.Ship.Hull.To
		var under, above, ux, ax float64
		const count = 1000
		for i := range count {
			x := from + (to-from)*(float64(i)+0.5)/count
			lo, hi := trip.Ship.Section(x).Bounds()
			water := a.Level + a.Slope*x
			d, h := math.Max(0, water-lo.Z), math.Max(0, hi.Z-water)
			under, above, ux, ax = under+d, above+h, ux+d*x, ax+h*x
		}
		step := (to - from) / count
		const twin = "a thousand sections of the ship, by midpoints"
		run(t, []check{
			{name + ": underwater profile", s.Under.Area, under * step, 0.005 * under * step, twin},
			{name + ": its centre", s.Under.X, ux / under, 0.01, twin},
			{name + ": above", s.Above.Area, above * step, 0.005 * above * step, twin},
			{name + ": its centre above", s.Above.X, ax / above, 0.01, twin},
			{name + ": volume", s.Hull.Volume, rest.Sums.Volume, 0.02 * rest.Sums.Volume, "what she displaces at rest, her little heel left out"},
		})
		b := Boat{Hull: s.Hull, Parts: []Part{s.Part("hull and cabins", ShapeFlat)}, Resistance: Quadratic(30)}
		for _, l := range must(Lies(b, 10, Control{}, Doubts())) {
			if os.Getenv("SHOW") != "" {
				fmt.Printf("%s: lateral %.2f at %.2f, above %.2f at %.2f (%.2f up); lies %.0f (%.0f to %.0f) at %.2f m/s, %.0f off downwind (%.0f to %.0f); most by %s\n", name, s.Under.Area, s.Under.X, s.Above.Area, s.Above.X, s.Above.Height,
					l.From.Value/deg, l.From.Low/deg, l.From.High/deg, l.Speed.Value, l.Divergence.Value/deg, l.Divergence.Low/deg, l.Divergence.High/deg, l.From.Worst())
			}
			if l.From.Half() < 2*deg {
				t.Errorf("%s lies from %.1f degrees, as sure as %.1f: nobody knows that so well", name, l.From.Value/deg, l.From.Half()/deg)
			}
		}
	}
}

func BenchmarkProfile(b *testing.B) {
	f, faults := boatfolder.Read("../../demo/sanderling")
	if len(faults) > 0 {
		b.Fatal(faults)
	}
	trip := must(afloat.New(f))
	for b.Loop() {
		must(Profile(trip.Ship.Body.Envelope, attitude(0.3)))
	}
}
