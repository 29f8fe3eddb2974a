package resistance

import (
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/boatfolder"
	"thole/internal/cuts"
	"thole/internal/hydro"
	"thole/internal/shape"
)

// TestDemos: both invented boats, afloat at several loads: the hull's figures are those of the hydrostatics, which are
// worked out another way, and the resistance lies in its band.
func TestDemos(t *testing.T) {
	for _, name := range []string{"turnstone", "sanderling"} {
		f, faults := boatfolder.Read("../../demo/" + name)
		if f == nil || len(faults) > 0 {
			t.Fatalf("%s: %v", name, faults)
		}
		ship := must(shape.Build(&f.Boat))
		x, z := ship.Hull.From+(ship.Hull.To-ship.Hull.From)*.5, .4
		last := 0.0
		// Loads at which no well open to the sea is under water: hydro takes what floods it off, the water outside does not.
		for _, kg := range []float64{600, 750, 900} {
			body := &hydro.Body{Envelope: ship.Body.Envelope, Pockets: ship.Body.Pockets}
			u, err := hydro.Upright(body, hydro.Load{Mass: kg, G: r3.Vec{X: x, Z: z}}, hydro.Sea{Density: 1025})
			if err != nil {
				t.Fatal(name, err)
			}
			start := time.Now()
			h := must(FromSections(func(x float64) cuts.Section { return ship.Hull.Section(x, 0) }, ship.Hull.From, ship.Hull.To, u.Rest.Attitude))
			built := time.Since(start)
			start = time.Now()
			h.Waves(1.5, 1025)
			once := time.Since(start)
			start = time.Now()
			b := must(NewBoat(h, Skin{Paint: 30e-6}, nil, nil))
			p := must(b.Parts(1, calm(), Wind{}))
			k, _ := h.Form()
			t.Logf("%s %.0f kg: L %.2f (%.2f) B %.2f T %.3f S %.2f (%.2f) k %.2f trim %.2f°: friction %.1f form %.1f waves %.2f total %.1f ± %.1f N; 1.5 m/s waves %.1f, 2 m/s %.1f N; hull %v, one speed %v, boat %v",
				name, kg, h.Length, u.Length, h.Beam, h.Draft, h.Wetted, u.Wetted, k, u.Rest.Trim()*180/math.Pi, p.Friction.Value, p.Form.Value, p.Waves.Value, p.Total.Value, p.Total.Spread,
				h.Waves(1.5, 1025), h.Waves(2, 1025), built, once, time.Since(start))
			const source = "internal/hydro on the stack of cuts, another quadrature of the same surface"
			run(t, []check{
				{"volume", h.Volume, u.Volume, .003 * u.Volume, source}, {"centre", h.Centre, u.LCB, .005, source}, {"waterplane", h.Waterplane, u.Waterplane, .006 * u.Waterplane, source},
				{"wetted", h.Wetted, u.Wetted, .01 * u.Wetted, source}, {"length", h.Length, u.Length, .05, source}, {"beam", h.Beam, u.Beam, .005, source},
				{"midship", h.Midship, u.Midship, .01 * u.Midship, source},
				{"resistance at 1 m/s", p.Total.Value, 20, 10, "10 to 30 N bare, 600 to 900 kg: common practice, no source"},
			})
			if p.Total.Value < last {
				t.Errorf("%s: less resistance at %.0f kg", name, kg)
			}
			last = p.Total.Value
		}
	}
}
