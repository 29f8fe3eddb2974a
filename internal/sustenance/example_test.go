package sustenance_test

import (
	"fmt"

	"thole/internal/sustenance"
)

// One rower with bags for 70 days, and a passage that half the time takes 70: what to carry, and when to cut.
func ExamplePlan_Choices() {
	rower := sustenance.Person{Name: "rower", Sex: sustenance.Man, Mass: 76, Stature: 1.78, Age: 41}
	plan := &sustenance.Plan{
		Rowers:  []sustenance.Rower{sustenance.Usual(rower, sustenance.Habit{Hours: 10, Power: 75})},
		Rations: sustenance.Rations{sustenance.Dried("full", 50, 19e6), sustenance.Dried("short", 20, 14e6)},
		Diet:    sustenance.SeaDiet(),
		Stock:   sustenance.Stock{Drinking: 30, Reserve: 20, Ballast: 60},
		Makers:  []sustenance.Maker{sustenance.Electric(3), sustenance.HandPump(4)},
		Days:    70,
	}
	arrival := sustenance.Normal{Mean: 70, Deviation: 12}
	days, err := sustenance.DaysFor(arrival, sustenance.NineteenIn20)
	if err != nil {
		fmt.Println(err)
		return
	}
	lasts, err := plan.Lasts()
	if err != nil {
		fmt.Println(err)
		return
	}
	chance, err := sustenance.Chance(arrival, lasts.Food)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("food for %.0f +- %.0f days, enough with a chance of %.2f; 19 in 20 asks for %d\n", lasts.Food.Value, lasts.Food.Spread, chance, days)
	choices, err := plan.Choices(30, float64(days))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range choices {
		fmt.Printf("%.0f %% from day %d, %s: %.0f %% of the body gone on day %d\n", 100*c.Share, c.From, c.Starts, 100*c.Lost[0].Value, days)
	}
	// Output:
	// food for 83 +- 14 days, enough with a chance of 0.83; 19 in 20 asks for 90
	// 81 % from day 30, now: 17 % of the body gone on day 90
	// 75 % from day 44, as late as may be: 17 % of the body gone on day 90
	// 60 % from day 67, as late as may be: 19 % of the body gone on day 90
	// 50 % from day 73, as late as may be: 20 % of the body gone on day 90
}
