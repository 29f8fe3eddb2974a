package climate

import "math"

// WindField is a monthly wind.
type WindField struct {
	Name   string
	Source string
	Notes  []string // what was assumed in reading it; empty for the embedded one

	grid   *grid
	origin []byte     // [month][cell]; nil where all of it is the person's own
	under  *WindField // asked where this one has nothing
}

// settle keeps the scalar mean from falling under the vector's length at the knots; between them
// it then cannot either, because a straight line between two vectors is never longer than the
// straight line between their lengths.
func (f *WindField) settle() {
	k := f.grid.knots
	for i := 0; i < len(k); i += 3 {
		length := float32(math.Hypot(float64(k[i]), float64(k[i+1])))
		k[i+2] = max(k[i+2], length)
	}
}

// Wind is the mean wind at a place and a time of the year.
//
// In:     latitude and longitude radians; time of the year
// Out:    where it blows to, east and north, m/s, and the mean of its speed, m/s, never less than
// the vector's length; zero where the place is no number
// Good to: 0.4 m/s against the ships' own means in the trades, 1.7 m/s south of 40 S (scatter of
// neighbouring cells); the smoothing takes 1 to 2 % off the mean vector, less than 0.5 % off the
// scalar mean; the analyses are 5-13 % weaker than ships in the tropics
func (f *WindField) Wind(lat, lon float64, m Month) (u, v, scalar float64) {
	var out [3]float64
	for ; f != nil; f = f.under {
		if f.grid.value(lat, lon, m, out[:]) {
			break
		}
	}
	return out[0], out[1], out[2]
}

// Mean is the mean over one whole month, 0 for January, in the units of Wind.
func (f *WindField) Mean(lat, lon float64, month int) (u, v, scalar float64) {
	month = ((month % 12) + 12) % 12
	for ; f != nil; f = f.under {
		if x, ok := f.grid.mean(lat, lon, month, 0); ok {
			v, _ = f.grid.mean(lat, lon, month, 1)
			scalar, _ = f.grid.mean(lat, lon, month, 2)
			return x, v, scalar
		}
	}
	return 0, 0, 0
}

// Sigma is the spread of the wind's east and of its north part about the mean, m/s; see Sigma.
func (f *WindField) Sigma(lat, lon float64, m Month) float64 {
	u, v, s := f.Wind(lat, lon, m)
	return Sigma(math.Hypot(u, v), s)
}

// Origin tells where the value comes from; Land where the place is no number.
func (f *WindField) Origin(lat, lon float64, m Month) Origin {
	for ; f != nil; f = f.under {
		if cell := f.grid.nearest(lat, lon); cell >= 0 {
			return from(f.origin, f.grid, cell, m)
		}
	}
	return Land
}

// from looks an origin up.
func from(origin []byte, g *grid, cell int, m Month) Origin {
	if origin == nil {
		return Own
	}
	a, b, share := m.split()
	if share >= .5 {
		a = b
	}
	return Origin(origin[a*g.rows*g.cols+cell])
}

// Sky is the mean of what is above and around the boat at a place and time.
type Sky struct {
	AirC     float64 // air temperature, degrees Celsius
	SeaC     float64 // sea surface temperature, degrees Celsius
	Pressure float64 // Pa at sea level
	Cloud    float64 // share of the sky covered, 0 to 1
	Sun      float64 // W/m2 on a level surface, mean of day and night
}

// SkyField is a monthly sky.
type SkyField struct {
	grid   *grid
	origin []byte
}

// At is the sky at a place and time; zero where the place is no number.
//
// The sun is the heat budget's "available solar radiation", probably net of the few percent that
// the sea throws back (not confirmed).
// Good to: 1 degree, 150 Pa, 0.1 of the sky, 20 W/m2 (modelling choice; the sources give no error)
func (f *SkyField) At(lat, lon float64, m Month) Sky {
	var o [5]float64
	if !f.grid.value(lat, lon, m, o[:]) {
		return Sky{}
	}
	return Sky{AirC: o[0], SeaC: o[1], Pressure: o[2], Cloud: math.Max(0, math.Min(1, o[3])), Sun: math.Max(0, o[4])}
}

// Origin tells where the temperatures come from; cloud and sun are from charts everywhere.
func (f *SkyField) Origin(lat, lon float64, m Month) Origin {
	cell := f.grid.nearest(lat, lon)
	if cell < 0 {
		return Land
	}
	return from(f.origin, f.grid, cell, m)
}
