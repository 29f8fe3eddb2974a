package main

import (
	"math"

	"thole/internal/climate/layout"
)

// years makes the standard deviation of a month's mean wind from one year to another, m/s, from
// the weather centre's eleven years 1982-1992.
func years(dir string, sea []bool) ([][]float64, []byte, error) {
	origin := make([]byte, layout.Months*layout.Cells)
	for at := range origin {
		if sea[at%layout.Cells] {
			origin[at] = layout.Charts
		}
	}
	var out [][]float64
	for _, name := range []string{"UWND", "VWND"} {
		c, err := read(dir, "monthly_navy_winds.cdf", name)
		if err != nil {
			return nil, nil, err
		}
		f := make([]float64, len(origin))
		for at := range f {
			lat, lon := layout.Lat(at/layout.Cols%layout.Rows), layout.Lon(at%layout.Cols)
			sum, squares, n := 0.0, 0.0, 0.0
			for l := at / layout.Cells; l < c.layers; l += layout.Months {
				if x := c.sample(l, lat, lon); !math.IsNaN(x) {
					sum, squares, n = sum+x, squares+x*x, n+1
				}
			}
			f[at] = math.Sqrt(math.Max(0, squares-sum*sum/n) / (n - 1))
		}
		spread(f)
		out = append(out, f)
	}
	return out, origin, nil
}
