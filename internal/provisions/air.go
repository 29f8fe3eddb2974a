package provisions

import (
	"math"

	"thole/internal/model"
	"thole/internal/sustenance"
)

// Air is what is known of the air where she is on a day.
type Air struct {
	Celsius float64
	Sun     float64 // W/m2 on the level, mean of day and night
	Wind    float64 // m/s, mean speed at 10 m
}

// felt is the wind on a rower over the wind at 10 m: seated at 1.5 m, running before most of it. It is Trades' own ratio, 3 to 7.
const felt = 3.0 / 7

// On are the conditions of a day at sea: at the oars in the sun of the hours that are rowed, and in the cabin.
//
// In:     hours of the day that are rowed, empty for any; rows, hours rowed over the usual
// Good to: the humidity is the trades' everywhere, and the cabin 2 C warmer than the air, as Trades has them: modelling choices
// Source: the sun over a day is half a sine from six to eighteen with the day's mean: on the sea's surface at the latitudes of ocean rows
// the mean over hours about noon is good to a tenth (geometry); modelling choice
func (a Air) On(watches []model.Hours, rows float64) sustenance.Conditions {
	c := sustenance.Trades()
	c.In.Celsius += a.Celsius - c.Out.Celsius
	c.Out.Celsius = a.Celsius
	c.Out.Wind = math.Max(c.In.Wind, felt*a.Wind)
	c.Out.Sun = a.Sun * sunned(watches)
	c.Rows = rows
	return c
}

// sunned is the mean sun of the hours over the mean of day and night.
func sunned(watches []model.Hours) float64 {
	hours, sun := 0.0, 0.0
	angle := func(h float64) float64 { return math.Pi * (math.Min(math.Max(h, 6), 18) - 6) / 12 }
	for _, w := range watches {
		hours += w.To - w.From
		sun += 12 * (math.Cos(angle(w.From)) - math.Cos(angle(w.To)))
	}
	if hours <= 0 {
		return 1
	}
	return sun / hours
}
