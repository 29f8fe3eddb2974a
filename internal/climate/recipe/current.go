package main

import (
	"math"

	"thole/internal/climate/layout"
)

const (
	earthRate   = 7.292115e-5 // rad/s, WGS 84
	earthRadius = 6371000.0   // m, mean
	reference   = 1000.0      // m, taken as a depth at rest; modelling choice
	// equatorBand is the width of the blend between the two balances, degrees: Lagerloef et al.
	// 1999, J. Geophys. Res. 104(C10) 23313, from memory.
	equatorBand = 2.2
)

// current makes the part of the surface current that the sea's density carries, m/s toward, by
// month: the year's mean from temperature and salinity at one degree, the seasons from monthly
// temperature at two.
func current(dir string, sea []bool) ([][]float64, []byte, error) {
	var cubes [3]*cube
	for i, f := range [3][2]string{{"levitus_climatology.cdf", "TEMP"}, {"levitus_climatology.cdf", "SALT"}, {"ocean_atlas_subset.nc", "TEMP"}} {
		c, err := read(dir, f[0], f[1])
		if err != nil {
			return nil, nil, err
		}
		cubes[i] = c
	}
	temp, salt, season := cubes[0], cubes[1], cubes[2]
	year := heights(temp, salt, 0)
	months := make([]*cube, layout.Months)
	for m := range months {
		months[m] = heights(season, salt, m)
	}
	mean := &cube{lat: season.lat, lon: season.lon, layers: 1, data: make([]float64, len(months[0].data))}
	for i := range mean.data {
		for _, m := range months {
			mean.data[i] += m.data[i] / layout.Months
		}
	}
	for _, m := range months {
		for i := range m.data {
			m.data[i] -= mean.data[i]
		}
	}
	origin := make([]byte, layout.Months*layout.Cells)
	out := [][]float64{make([]float64, len(origin)), make([]float64, len(origin))}
	for m := range months {
		whole := &cube{lat: year.lat, lon: year.lon, layers: 1, data: append([]float64(nil), year.data...)}
		for j, lat := range whole.lat {
			for i, lon := range whole.lon {
				if d := months[m].sample(0, lat, lon); !math.IsNaN(d) {
					whole.data[j*len(whole.lon)+i] += d
				}
			}
		}
		u, v := balance(ninePoint(whole))
		for r := range layout.Rows {
			for c := range layout.Cols {
				at := layout.Index(m, r, c)
				out[0][at], out[1][at] = four(u, r, c), four(v, r, c)
				switch {
				case !sea[r*layout.Cols+c]:
					origin[at] = layout.Land
				case math.IsNaN(out[0][at]) || math.IsNaN(out[1][at]):
					origin[at] = layout.Spread
				default:
					origin[at] = layout.Section
				}
				if origin[at] != layout.Section {
					out[0][at], out[1][at] = math.NaN(), math.NaN()
				}
			}
		}
	}
	spread(out[0])
	spread(out[1])
	return out, origin, nil
}

// heights is the dynamic height of the surface, J/kg, where the sea reaches the reference depth.
// The salt is brought to the temperature's depths by straight lines.
func heights(temp, salt *cube, month int) *cube {
	out := &cube{lat: temp.lat, lon: temp.lon, layers: 1, data: make([]float64, len(temp.lat)*len(temp.lon))}
	var depths []float64
	for _, d := range temp.depth {
		if d <= reference {
			depths = append(depths, d)
		}
	}
	t, s := make([]float64, len(depths)), make([]float64, len(depths))
	for j, lat := range temp.lat {
		row := int(math.Round(lat - salt.lat[0]))
		for i, lon := range temp.lon {
			col := int(math.Round(lon - salt.lon[0]))
			for k, d := range depths {
				t[k] = temp.at(month*len(temp.depth)+k, j, i)
				s[k] = salt.between(d, row, col)
			}
			out.data[j*len(temp.lon)+i] = height(depths, t, s, lat)
		}
	}
	return out
}

// between is a value at a depth, by a straight line between the depths above and below.
func (c *cube) between(depth float64, row, col int) float64 {
	k := 0
	for k+2 < len(c.depth) && c.depth[k+1] <= depth {
		k++
	}
	f := (depth - c.depth[k]) / (c.depth[k+1] - c.depth[k])
	if f == 0 { // the layer below may be under the ground
		return c.at(k, row, col)
	}
	return (1-f)*c.at(k, row, col) + f*c.at(k+1, row, col)
}

// ninePoint is one pass of a 1-2-1 by 1-2-1 mean over the known cells.
func ninePoint(c *cube) *cube {
	out := &cube{lat: c.lat, lon: c.lon, layers: 1, data: make([]float64, len(c.data))}
	for j := range c.lat {
		for i := range c.lon {
			at := j*len(c.lon) + i
			out.data[at] = math.NaN()
			if math.IsNaN(c.data[at]) {
				continue
			}
			sum, weight := 0.0, 0.0
			for dj := -1; dj <= 1; dj++ {
				if j+dj < 0 || j+dj >= len(c.lat) {
					continue
				}
				for di := -1; di <= 1; di++ {
					if v := c.at(0, j+dj, i+di); !math.IsNaN(v) {
						w := float64((2 - abs(dj)) * (2 - abs(di)))
						sum, weight = sum+w*v, weight+w
					}
				}
			}
			out.data[at] = sum / weight
		}
	}
	return out
}

// abs is a whole number without its sign.
func abs(i int) int { return max(i, -i) }

// balance is the flow that the slope of the surface holds up against the earth's turning:
// f u = -dD/dy, f v = dD/dx, and at the equator, where f vanishes, the derivative of both.
func balance(d *cube) (u, v *cube) {
	n := len(d.lon)
	u = &cube{lat: d.lat, lon: d.lon, layers: 1, data: make([]float64, len(d.data))}
	v = &cube{lat: d.lat, lon: d.lon, layers: 1, data: make([]float64, len(d.data))}
	rad := math.Pi / 180
	dy := (d.lat[1] - d.lat[0]) * rad * earthRadius
	for j, lat := range d.lat {
		for i := range d.lon {
			at := j*n + i
			u.data[at], v.data[at] = math.NaN(), math.NaN()
			if j == 0 || j == len(d.lat)-1 {
				continue
			}
			dx := dy * math.Cos(lat*rad)
			f := 2 * earthRate * math.Sin(lat*rad)
			beta := 2 * earthRate * math.Cos(lat*rad) / earthRadius
			north := (d.at(0, j+1, i) - d.at(0, j-1, i)) / (2 * dy)
			east := (d.at(0, j, i+1) - d.at(0, j, i-1)) / (2 * dx)
			bend := (d.at(0, j+1, i) - 2*d.at(0, j, i) + d.at(0, j-1, i)) / (dy * dy)
			cross := (d.at(0, j+1, i+1) - d.at(0, j+1, i-1) - d.at(0, j-1, i+1) + d.at(0, j-1, i-1)) / (4 * dx * dy)
			w := math.Exp(-lat * lat / (equatorBand * equatorBand))
			u.data[at] = -(1-w)*north/f - w*bend/beta
			v.data[at] = (1-w)*east/f + w*cross/beta
		}
	}
	return u, v
}

// four is the mean of the known ones of the four one-degree cells in a cell of the lattice.
func four(c *cube, row, col int) float64 {
	sum, n := 0.0, 0.0
	for k := range 4 {
		lat, lon := layout.Lat(row)-.5+float64(k/2), layout.Lon(col)-.5+float64(k%2)
		j := int(math.Round(lat - c.lat[0]))
		i := int(math.Round(lon - c.lon[0] + 360))
		if x := c.at(0, j, i); !math.IsNaN(x) {
			sum, n = sum+x, n+1
		}
	}
	return sum / n
}
