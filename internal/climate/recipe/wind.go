package main

import (
	"math"

	"thole/internal/climate/layout"
)

// Between these latitudes ships give way to the weather centre's analyses: south of them the
// ships are so few that neighbouring cells differ by 1.7 m/s. Modelling choice, from the noise.
const (
	shipsTo  = -35.0
	chartsTo = -41.0
)

// wind makes the wind's east and north part and its scalar mean, m/s toward, with their origin.
func wind(dir string, sea []bool) ([][]float64, []byte, error) {
	var ship, chart [3][]float64
	for i, v := range []struct {
		file, name string
		into       *[]float64
	}{
		{"coads_climatology.cdf", "UWND", &ship[0]}, {"coads_climatology.cdf", "VWND", &ship[1]}, {"coads_climatology.cdf", "WSPD", &ship[2]},
		{"monthly_navy_winds.cdf", "UWND", &chart[0]}, {"monthly_navy_winds.cdf", "VWND", &chart[1]}, {"esku_heat_budget.cdf", "SPD", &chart[2]},
	} {
		c, err := read(dir, v.file, v.name)
		if err != nil {
			return nil, nil, err
		}
		*v.into = c.twelve()
		if i < 3 {
			smooth(*v.into)
		}
	}
	spread(chart[2]) // the heat budget ends at the ice
	origin := make([]byte, layout.Months*layout.Cells)
	out := [][]float64{make([]float64, len(origin)), make([]float64, len(origin)), make([]float64, len(origin))}
	for at := range origin {
		row := at / layout.Cols % layout.Rows
		share := math.Max(0, math.Min(1, (layout.Lat(row)-chartsTo)/(shipsTo-chartsTo)))
		switch {
		case !sea[at%layout.Cells]:
			share, origin[at] = math.NaN(), layout.Land
		case math.IsNaN(ship[0][at] + ship[1][at] + ship[2][at]):
			share, origin[at] = 0, layout.Charts
		case share == 0:
			origin[at] = layout.Charts
		case share < 1:
			origin[at] = layout.Blended
		default:
			origin[at] = layout.Ships
		}
		for i := range out {
			out[i][at] = share*ship[i][at] + (1-share)*chart[i][at]
			if share == 0 {
				out[i][at] = chart[i][at]
			}
		}
	}
	for i := range out {
		spread(out[i])
	}
	for at := range origin { // the scalar mean cannot be less than the vector mean
		out[2][at] = math.Max(out[2][at], math.Hypot(out[0][at], out[1][at]))
	}
	return out, origin, nil
}

// weather makes air and sea temperature, pressure, cloud and sun, in the units of the layout.
func weather(dir string, sea []bool) ([][]float64, []byte, error) {
	take := func(file, name string, factor float64) ([]float64, error) {
		c, err := read(dir, file, name)
		if err != nil {
			return nil, err
		}
		f := c.twelve()
		for i := range f {
			f[i] *= factor
		}
		return f, nil
	}
	var out [][]float64
	origin := make([]byte, layout.Months*layout.Cells)
	for i, v := range []struct {
		ship, chart string
		factor      float64
	}{{"AIRT", "AT", 1}, {"SST", "SST", 1}, {"SLP", "SLP", 100}, {"", "CLD", 1}, {"", "FSR", 1}} {
		f, err := take("esku_heat_budget.cdf", v.chart, v.factor)
		if err != nil {
			return nil, nil, err
		}
		if v.ship != "" {
			ship, err := take("coads_climatology.cdf", v.ship, v.factor)
			if err != nil {
				return nil, nil, err
			}
			smooth(ship)
			for at, x := range ship {
				known := !math.IsNaN(x)
				if known {
					f[at] = x
				}
				if i == 0 && known {
					origin[at] = layout.Ships
				}
			}
		}
		for at := range f {
			dry := !sea[at%layout.Cells]
			if i == 0 {
				switch {
				case dry:
					origin[at] = layout.Land
				case math.IsNaN(f[at]):
					origin[at] = layout.Spread
				case origin[at] != layout.Ships:
					origin[at] = layout.Charts
				}
			}
			if dry {
				f[at] = math.NaN()
			}
		}
		spread(f)
		out = append(out, f)
	}
	return out, origin, nil
}
