package climate

import "math"

// CurrentField is a monthly surface current.
//
// The embedded one is not measured. It is the flow that the slope of the sea surface, worked out
// from temperature and salinity down to 1000 m, holds up against the earth's turning, and a part
// that the mean wind drags along. Boundary currents (Gulf Stream, North Brazil, Agulhas, Kuroshio)
// are 3 to 5 times too weak in it or missing, open-ocean trade-wind currents probably 30-60 %
// too weak, and there are no eddies, tides or years in it.
type CurrentField struct {
	Name   string
	Source string
	Notes  []string // what was assumed in reading it
	// Doubt is what a person's own current is taken to be wrong by, m/s; 0 takes OwnDoubt.
	Doubt float64

	grid   *grid
	origin []byte
	under  *CurrentField
	zones  []Zone
}

// What the wind drags: a drifter of the top metre went with 1 % of the wind, 28 degrees to the
// right of it in the north and to the left in the south.
// Source: Poulain, Gerin, Mauri & Pennel 2009, J. Atmos. Oceanic Technol. 26, 1144 (in the
// Mediterranean). It must not be added again to a boat's leeway.
const (
	dragShare = .01
	dragTurn  = 28 * math.Pi / 180
	// dragFade is the latitude over which the turn sinks to none at the equator, where left
	// and right meet; modelling choice.
	dragFade = 5 * math.Pi / 180
)

// WindDriven is the part of the surface current that a wind drags along, m/s.
//
// In:     latitude radians; the wind's east and north part at 10 m, m/s toward
// Because it is linear, a wind that strays from its mean by some vector adds to the mean current
// what WindDriven gives for that vector.
func WindDriven(lat, u, v float64) (east, north float64) {
	turn := dragTurn * math.Max(-1, math.Min(1, lat/dragFade))
	sin, cos := math.Sincos(turn)
	return dragShare * (u*cos + v*sin), dragShare * (v*cos - u*sin)
}

// dragged adds to a grid of currents what the mean wind on the same lattice drags along.
func dragged(current, wind *grid) {
	for cell := range wind.rows * wind.cols {
		lat := wind.south + float64(cell/wind.cols)*wind.step
		for m := range 12 {
			w := wind.knots[(cell*12+m)*wind.n:]
			e, n := WindDriven(lat, float64(w[0]), float64(w[1]))
			c := current.knots[(cell*12+m)*current.n:]
			c[0] += float32(e)
			c[1] += float32(n)
		}
	}
}

// Current is the mean current at a place and a time of the year, m/s, where it sets to; zero
// where the place is no number. How far it may be wrong, Error says.
func (f *CurrentField) Current(lat, lon float64, m Month) (u, v float64) {
	var out [2]float64
	for ; f != nil; f = f.under {
		if z := f.zone(lat, lon, m); z != nil {
			return z.U, z.V
		}
		if f.grid.value(lat, lon, m, out[:]) {
			break
		}
	}
	return out[0], out[1]
}

// Mean is the mean over one whole month, 0 for January, without the person's zones.
func (f *CurrentField) Mean(lat, lon float64, month int) (u, v float64) {
	month = ((month % 12) + 12) % 12
	for ; f != nil; f = f.under {
		if x, ok := f.grid.mean(lat, lon, month, 0); ok {
			v, _ = f.grid.mean(lat, lon, month, 1)
			return x, v
		}
	}
	return 0, 0
}

// Origin tells where the value comes from.
func (f *CurrentField) Origin(lat, lon float64, m Month) Origin {
	for ; f != nil; f = f.under {
		if f.zone(lat, lon, m) != nil {
			return Own
		}
		if cell := f.grid.nearest(lat, lon); cell >= 0 {
			return from(f.origin, f.grid, cell, m)
		}
	}
	return Land
}

// Band is a belt of latitude, of both hemispheres, with the error of the embedded current in it.
type Band struct {
	From, To float64 // degrees of latitude
	RMS      float64 // m/s, of the difference of the two vectors
	Likeness float64 // vector correlation
}

// Bands are how far the method of the embedded current was from another's.
//
// Source: the method's annual mean against the flow from the sea surface height of the ECCO v4
// ocean state estimate, January to March 1992, 0.5 degrees; run once before this recipe was
// written. Poleward of 60 nothing was compared: modelling choice.
var Bands = [...]Band{{0, 5, .165, .39}, {5, 15, .065, .72}, {15, 30, .024, .79}, {30, 45, .033, .84}, {45, 60, .049, .90}, {60, 90, .1, 0}}

const (
	// dragDoubt is the error of the wind-driven part, as a share of it: between 0.7 % and 2 % of
	// the wind were measured for other drifters (Poulain et al. 2009). Modelling choice.
	dragDoubt = .5
	// coastDoubt is the error where the embedded current has nothing of its own: shelves, island
	// arcs, boundary currents, m/s. Modelling choice, from currents of 0.5-1 m/s that it lacks.
	coastDoubt = .3
	// OwnDoubt is what a person's current is taken to be wrong by, m/s, where they say nothing:
	// modelling choice, about the standard error of a drifter mean in the open ocean.
	OwnDoubt = .05
)

// Error is how far the current of a place is likely to be wrong, m/s, one standard deviation of the
// vector's length: of the mean, without the eddies.
func (f *CurrentField) Error(lat, lon float64, m Month) float64 {
	for ; f != nil; f = f.under {
		if z := f.zone(lat, lon, m); z != nil {
			if z.Doubt > 0 {
				return z.Doubt
			}
			return OwnDoubt
		}
		cell := f.grid.nearest(lat, lon)
		if cell < 0 {
			continue
		}
		if f.origin == nil {
			if f.Doubt > 0 {
				return f.Doubt
			}
			return OwnDoubt
		}
		if from(f.origin, f.grid, cell, m) != Section {
			return coastDoubt
		}
		u, v, _ := StandardWind().Wind(lat, lon, m)
		return math.Hypot(bandError(math.Abs(lat)*180/math.Pi), dragDoubt*dragShare*math.Hypot(u, v))
	}
	return coastDoubt
}

// bandError runs straight from the middle of one belt to the middle of the next.
func bandError(lat float64) float64 {
	last := Bands[0]
	for _, b := range Bands {
		if mid := (b.From + b.To) / 2; lat < mid {
			if b == last {
				return b.RMS
			}
			before := (last.From + last.To) / 2
			f := (lat - before) / (mid - before)
			return last.RMS*(1-f) + b.RMS*f
		}
		last = b
	}
	return last.RMS
}
