package climate

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"sort"
	"strings"

	"thole/internal/weather"
)

// faultsShown is how many faults of a file are told before the rest is only counted.
const faultsShown = 20

// ReadWind reads a person's own wind by month: netCDF (the classic formats, by the CF conventions) or csv.
//
// In:     the file's name, for the faults, and its bytes
// Out:    the wind; where it has nothing the embedded one is asked. Where it has no scalar mean,
// that is what the embedded wind's spread gives with its vector; Notes says so.
// Error:  every fault joined, each with file, line or variable, the offending text and the mend
//
// The csv: a header line with month,lat,lon,east,north and optionally scalar; east, north and
// scalar may end in _ms (the default) or _kn. Month 1 to 12, or 0 for all the year; places on a
// regular lattice, gaps allowed; winds are where they blow to.
func ReadWind(name string, file []byte) (*WindField, error) {
	r, err := readOwn(name, file, windWords)
	if err != nil {
		return nil, err
	}
	f := &WindField{Name: name, Source: "the person's own file " + name, under: StandardWind()}
	scalar := len(r.values) > 2
	f.grid = r.grid(3, func(cell, month int, out []float64) {
		if scalar {
			return // settle sees to it that it is not under the vector
		}
		lat, lon := r.place(cell)
		u, v, s := f.under.Mean(lat, lon, month)
		out[2] = weather.RiceMean(math.Hypot(out[0], out[1]), Sigma(math.Hypot(u, v), s))
	})
	f.settle()
	f.Notes = r.notes
	if !scalar {
		f.Notes = append(f.Notes, "it has no scalar mean: taken from its vector and the spread of the embedded wind")
	}
	return f, nil
}

// ReadCurrent reads a person's own current by month, such as the climatology of surface drifters that
// NOAA/AOML publishes (drifter_monthlymeans.nc; cite doi:10.1016/j.dsr.2017.04.009): netCDF or csv as
// for ReadWind, without a scalar mean; where it sets to. Where it has nothing the embedded one is asked.
// Every fourth place of that climatology, one degree, is enough; the whole takes some 400 MB to read.
//
// A measured mean holds what the wind drags already: add WindDriven only for what the wind differs
// from its own mean. A drifter with a drogue at 15 m goes with 0.7 % of the wind, the top metre with 1 %.
func ReadCurrent(name string, file []byte) (*CurrentField, error) {
	r, err := readOwn(name, file, currentWords)
	if err != nil {
		return nil, err
	}
	f := &CurrentField{Name: name, Source: "the person's own file " + name, under: StandardCurrent()}
	f.grid = r.grid(2, func(int, int, []float64) {})
	f.Notes = r.notes
	return f, nil
}

// words are what a kind of file calls its quantities: east, north and, of wind, the scalar mean.
type words struct {
	what     string
	limit    float64 // m/s; more is a fault
	standard []string
	names    [][]string
}

var windWords = words{"wind", 60, []string{"eastward_wind", "northward_wind", "wind_speed"},
	[][]string{{"u", "u10", "uwnd", "u_wind", "east"}, {"v", "v10", "vwnd", "v_wind", "north"}, {"wspd", "si10", "ws", "speed", "scalar"}}}

var currentWords = words{"current", 4, []string{"eastward_sea_water_velocity", "northward_sea_water_velocity"},
	[][]string{{"u", "uo", "ugos", "east"}, {"v", "vo", "vgos", "north"}}}

// table is a file's content: by quantity, [row][column][month], NaN where missing.
type table struct {
	lat, lon []float64 // degrees, rising, evenly spaced
	values   [][]float64
	notes    []string
}

// readOwn reads either kind of file.
func readOwn(name string, file []byte, w words) (*table, error) {
	var t *table
	var err error
	switch {
	case len(file) == 0:
		return nil, fmt.Errorf("%s: the file is empty: give a netCDF or csv file of %s by month", name, w.what)
	case bytes.HasPrefix(file, []byte("CDF")) || bytes.HasPrefix(file, []byte("\x89HDF")):
		t, err = readNetCDF(name, file, w)
	default:
		t, err = readCSV(name, file, w)
	}
	if err != nil {
		return nil, err
	}
	if err := t.judge(name, w); err != nil {
		return nil, err
	}
	return t, nil
}

// judge looks at what was read: its range, and that something was.
func (t *table) judge(name string, w words) error {
	any := false
	for q, values := range t.values {
		for at, x := range values {
			if math.IsNaN(x) {
				continue
			}
			any = true
			if math.Abs(x) > w.limit {
				row := at / 12 / len(t.lon)
				return fmt.Errorf("%s: month %d, %g, %g: %s is %.4g m/s: a mean %s is never more than %g m/s; look at the unit", name,
					at%12+1, t.lat[row], t.lon[at/12%len(t.lon)], []string{"east", "north", "scalar"}[q], x, w.what, w.limit)
			}
		}
	}
	if !any {
		return fmt.Errorf("%s: every value is missing: look at the file's fill value", name)
	}
	return nil
}

// place is where a cell lies, radians.
func (t *table) place(cell int) (lat, lon float64) {
	return t.lat[cell/len(t.lon)] * math.Pi / 180, t.lon[cell%len(t.lon)] * math.Pi / 180
}

// monthsNeeded is how many months a cell must have for the others to be bridged; modelling choice.
const monthsNeeded = 6

// grid makes the lattice with n quantities; finish may mend or add to those of a cell's month.
func (t *table) grid(n int, finish func(cell, month int, out []float64)) *grid {
	rad := math.Pi / 180
	g := newGrid(t.lat[0]*rad, t.lon[0]*rad, pitch(t.lat)*rad, pitch(t.lon)*rad, len(t.lat), len(t.lon), n)
	bridged, dropped := 0, 0
	months, out := make([][12]float64, n), make([]float64, n)
	for cell := range g.valid {
		for q, values := range t.values {
			copy(months[q][:], values[cell*12:cell*12+12])
		}
		known := 0
		for m := range 12 {
			sum := 0.0
			for q := range t.values {
				sum += months[q][m]
			}
			if !math.IsNaN(sum) {
				known++
				continue
			}
			for q := range t.values {
				months[q][m] = math.NaN()
			}
		}
		switch {
		case known == 0:
			continue
		case known < monthsNeeded:
			dropped++
			continue
		case known < 12:
			bridged++
			for q := range t.values {
				bridge(&months[q])
			}
		}
		for m := range 12 {
			for q := range t.values {
				out[q] = months[q][m]
			}
			finish(cell, m, out)
			for q := range out {
				months[q][m] = out[q]
			}
		}
		for q := range months {
			g.set(cell, q, &months[q])
		}
		g.valid[cell] = true
	}
	if bridged > 0 {
		t.notes = append(t.notes, fmt.Sprintf("%d cells lack some months: bridged by straight lines", bridged))
	}
	if dropped > 0 {
		t.notes = append(t.notes, fmt.Sprintf("%d cells have fewer than %d months: left out", dropped, monthsNeeded))
	}
	return g
}

// pitch is the distance between neighbours of an axis; one alone stands for a degree.
func pitch(axis []float64) float64 {
	if len(axis) < 2 {
		return 1
	}
	return (axis[len(axis)-1] - axis[0]) / float64(len(axis)-1)
}

// bridge fills the missing months of a year by straight lines, the year going round.
func bridge(f *[12]float64) {
	from := *f
	for m := range f {
		if !math.IsNaN(from[m]) {
			continue
		}
		a, b := 1, 1
		for math.IsNaN(from[(m+12-a)%12]) {
			a++
		}
		for math.IsNaN(from[(m+b)%12]) {
			b++
		}
		f[m] = (from[(m+12-a)%12]*float64(b) + from[(m+b)%12]*float64(a)) / float64(a+b)
	}
}

// join makes one error of many faults, the first of them in full.
func join(faults []error) error {
	if n := len(faults) - faultsShown; n > 0 {
		faults = append(faults[:faultsShown:faultsShown], fmt.Errorf("and %d more", n))
	}
	return errors.Join(faults...)
}

// oneOf tells whether a name is in a list, capitals aside.
func oneOf(name string, list []string) bool {
	for _, x := range list {
		if strings.EqualFold(name, x) {
			return true
		}
	}
	return false
}

// factor is what a unit of speed is in m/s; false if it is none that is known.
func factor(unit string) (float64, bool) {
	u := strings.ToLower(strings.NewReplacer(" ", "", ".", "", "*", "", "^", "").Replace(unit))
	switch u {
	case "m/s", "ms-1", "ms", "meter/second", "meters/second", "metersecond-1", "meterssecond-1":
		return 1, true
	case "cm/s", "cms-1":
		return .01, true
	case "kn", "knot", "knots", "kt", "kts":
		return Knot, true
	}
	return 0, false
}

// axis sorts numbers, drops repeats and tells whether they are evenly spaced, gaps allowed; it
// returns all places of the lattice.
func axis(all map[float64]bool, what string) ([]float64, error) {
	var xs []float64
	for x := range all {
		xs = append(xs, x)
	}
	sort.Float64s(xs)
	step := math.Inf(1)
	for i := 1; i < len(xs); i++ {
		step = math.Min(step, xs[i]-xs[i-1])
	}
	if len(xs) < 2 {
		return xs, nil
	}
	if step < .02 {
		return nil, fmt.Errorf("%s: the nearest two are %.3g apart: give a lattice of at least 0.02 degrees", what, step)
	}
	for _, x := range xs {
		if k := (x - xs[0]) / step; math.Abs(k-math.Round(k)) > .02 {
			return nil, fmt.Errorf("%s: %g is off the lattice of %.4g degrees that the others make: give evenly spaced places", what, x, step)
		}
	}
	n := int(math.Round((xs[len(xs)-1] - xs[0]) / step))
	step = (xs[len(xs)-1] - xs[0]) / float64(n)
	out := make([]float64, n+1)
	for i := range out {
		out[i] = xs[0] + step*float64(i)
	}
	return out, nil
}
