package rowing_test

import (
	"fmt"
	"math"

	"thole/internal/rowing"
)

// A rower of 1.75 m on a sliding seat, and what the set-up lacks.
func ExampleSetup_Mends() {
	body, err := rowing.OfStature("rower", 1.75)
	if err != nil {
		fmt.Println(err)
		return
	}
	s := rowing.Setup{
		Body: body, Habits: rowing.Sliding(),
		Seat:      rowing.Seat{Fore: 2.75, Aft: 3.45, Height: 0.62},
		Stretcher: rowing.Stretcher{X: 3.75, Z: 0.47, Angle: 42 * math.Pi / 180},
		Gate:      rowing.Gate{X: 3.30, Half: 0.80, Z: 0.74},
		Oar:       rowing.Oar{Length: 3.04, Inboard: 0.85, Blade: 0.50, Width: 0.20, Swivel: 0.04},
	}
	waters := []rowing.Water{{Name: "level, deep", Level: 0.34}, {Name: "level, light", Level: 0.30}}
	fit, err := s.Fit(waters)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f + %.0f degrees\n", fit.Stroke.CatchAngle*180/math.Pi, fit.Stroke.FinishAngle*180/math.Pi)
	for _, c := range fit.Misfits() {
		fmt.Println(c)
	}
	mends, err := s.Mends(waters)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range mends {
		fmt.Println(m.Changes, m.Fits)
	}
	// Output:
	// 70 + 21 degrees
	// the handles are apart at the finish: misses by 53 ± 53 mm, level, deep
	// [the inboard 30 mm shorter] true
	// [each gate 30 mm further out] true
	// [the stretcher 60 mm forward] true
	// [the gate 60 mm aft] true
	// [the oar 360 mm shorter outboard] true
}
