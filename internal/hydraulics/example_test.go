package hydraulics_test

import (
	"fmt"

	"thole/internal/hydraulics"
)

// A well of 645 L, its sole 100 mm above the sea, with two drains through the sole and
// a slot in each side that opens 150 mm up.
func ExampleDraining_Run() {
	well, err := hydraulics.Areas([]float64{0, 0.05, 0.4}, []float64{1.2, 1.5, 1.8})
	if err != nil {
		fmt.Println(err)
		return
	}
	d := hydraulics.Draining{
		Basin: well,
		Openings: []hydraulics.Opening{
			{Name: "sole drains", Face: hydraulics.Flat, Diameter: 0.038, Coefficient: hydraulics.Sharp, Fall: 0.1, Count: 2},
			{Name: "side slots", Level: 0.15, Width: 0.12, Height: 0.06, Coefficient: hydraulics.Sharp, Count: 2},
		},
		Sea: hydraulics.Still(-0.1),
	}
	run, err := d.Run(0.4, 0.02)
	fmt.Printf("%.0f s to 20 mm, %.0f L left; %v\n", run.Time, 1000*well.Volume(run.To), err)
	d.Openings = d.Openings[1:]
	run, err = d.Run(0.4, 0.02)
	fmt.Printf("drains plugged: rests at %.0f mm with %.0f L aboard, reached %v; %v\n", 1000*run.Rest.Level, 1000*run.Rest.Volume, run.Reached, err)
	// Output:
	// 116 s to 20 mm, 25 L left; <nil>
	// drains plugged: rests at 150 mm with 222 L aboard, reached false; <nil>
}
