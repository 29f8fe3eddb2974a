package climate_test

import (
	"fmt"
	"math"
	"time"

	"thole/internal/climate"
)

// The trade wind in the middle of the Atlantic, and whether storms are about.
func Example() {
	lat, lon := 15*math.Pi/180, -40*math.Pi/180
	when := climate.MonthOf(time.Date(2027, time.January, 16, 12, 0, 0, 0, time.UTC))
	u, v, scalar := climate.StandardWind().Wind(lat, lon, when)
	from := math.Mod(math.Atan2(-u, -v)*180/math.Pi+360, 360)
	fmt.Printf("from %03.0f, steadiness %.2f, %s\n", from, climate.Steadiness(u, v, scalar), climate.StandardWind().Origin(lat, lon, when))
	fmt.Printf("force of the mean %.0f kn, each part strays by %.1f m/s\n", scalar/climate.Knot, climate.StandardWind().Sigma(lat, lon, when))
	basin := climate.Storms(lat, lon)
	fmt.Printf("%s: %s, opens in %.1f months\n", basin.Name, basin.Season(when), basin.Until(when))
	// Output:
	// from 068, steadiness 0.91, ships' reports
	// force of the mean 15 kn, each part strays by 3.0 m/s
	// North Atlantic, Caribbean Sea and Gulf of Mexico: out of the season, opens in 4.5 months
}
