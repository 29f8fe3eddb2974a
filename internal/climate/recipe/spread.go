package main

import (
	"math"

	"thole/internal/climate/layout"
)

// spread fills the holes of every month from the cells beside them, ring after ring: each hole
// becomes the mean of those of its four neighbours that are known.
func spread(f []float64) {
	for m := range layout.Months {
		month := f[m*layout.Cells : (m+1)*layout.Cells]
		for {
			next, holes := append([]float64(nil), month...), 0
			for r := range layout.Rows {
				for c := range layout.Cols {
					if !math.IsNaN(month[r*layout.Cols+c]) {
						continue
					}
					sum, n := around(month, r, c)
					if n == 0 {
						holes++
						continue
					}
					next[r*layout.Cols+c] = sum / n
				}
			}
			copy(month, next)
			if holes == 0 {
				break
			}
		}
	}
}

// around adds up the known neighbours of a cell and counts them.
func around(month []float64, r, c int) (sum, n float64) {
	add := func(r, c int) {
		if r < 0 || r >= layout.Rows {
			return
		}
		if v := month[r*layout.Cols+(c+layout.Cols)%layout.Cols]; !math.IsNaN(v) {
			sum, n = sum+v, n+1
		}
	}
	add(r-1, c)
	add(r+1, c)
	add(r, c-1)
	add(r, c+1)
	return sum, n
}

// smooth weighs every known cell with its known neighbours, 1-2-1 along each axis.
func smooth(f []float64) {
	for m := range layout.Months {
		month := f[m*layout.Cells : (m+1)*layout.Cells]
		for axis := range 2 {
			from := append([]float64(nil), month...)
			for r := range layout.Rows {
				for c := range layout.Cols {
					at := r*layout.Cols + c
					if math.IsNaN(from[at]) {
						continue
					}
					before, after := r*layout.Cols+(c+layout.Cols-1)%layout.Cols, r*layout.Cols+(c+1)%layout.Cols
					if axis == 1 {
						before, after = max(r-1, 0)*layout.Cols+c, min(r+1, layout.Rows-1)*layout.Cols+c
					}
					sum, weight := 2*from[at], 2.0
					for _, k := range [2]int{before, after} {
						if !math.IsNaN(from[k]) {
							sum, weight = sum+from[k], weight+1
						}
					}
					// a lone side would pull the value toward it: smooth only between two
					if weight == 4 {
						month[at] = sum / weight
					}
				}
			}
		}
	}
}

// wet tells for each cell whether enough of it is sea to carry a value of its own.
//
// A third of its 20-minute relief points under the sea: a modelling choice, so that cells
// round islands and along coasts, which ships report from, count.
func wet(relief *cube) []bool {
	out := make([]bool, layout.Cells)
	for r := range layout.Rows {
		for c := range layout.Cols {
			under, all := 0, 0
			for j, lat := range relief.lat {
				if math.Abs(lat-layout.Lat(r)) >= 1 {
					continue
				}
				for i, lon := range relief.lon[:1080] {
					if d := math.Mod(lon-layout.Lon(c)+540, 360) - 180; math.Abs(d) < 1 {
						all++
						if relief.at(0, j, i) < 0 {
							under++
						}
					}
				}
			}
			out[r*layout.Cols+c] = 3*under >= all
		}
	}
	return out
}
