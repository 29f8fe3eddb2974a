package climate

import (
	"bytes"
	"compress/gzip"
	"embed"
	"fmt"
	"io"
	"math"
	"sync"

	"thole/internal/climate/layout"
)

// data are the files that the recipe makes; see its command's documentation.
//
//go:embed data
var data embed.FS

// Notice is what must go with the embedded climate: where it comes from, what was done to it, and
// that nobody answers for it.
//
//go:embed data/NOTICE.txt
var Notice string

// unpacked is an embedded file as the recipe wrote it. A broken one is a broken program.
func unpacked(name string) []byte {
	packed, err := data.ReadFile("data/" + name + ".gz")
	if err != nil {
		panic(fmt.Sprintf("climate: %v", err))
	}
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		panic(fmt.Sprintf("climate: %s: %v", name, err))
	}
	raw, err := io.ReadAll(z)
	if err != nil {
		panic(fmt.Sprintf("climate: %s: %v", name, err))
	}
	return raw
}

// embedded reads a file into a grid with as many quantities as it has and returns the origins.
func embedded(name string, channels []layout.Channel) (*grid, []byte) {
	raw := unpacked(name)
	const size = layout.Months * layout.Cells
	if len(raw) != (len(channels)+1)*size {
		panic(fmt.Sprintf("climate: %s holds %d bytes, not %d", name, len(raw), (len(channels)+1)*size))
	}
	rad := math.Pi / 180
	g := newGrid(layout.South*rad, layout.West*rad, layout.Step*rad, layout.Step*rad, layout.Rows, layout.Cols, len(channels))
	g.fill = true
	origin := raw[len(channels)*size:]
	var means [12]float64
	for cell := range layout.Cells {
		g.valid[cell] = origin[cell] != layout.Land
		for q, c := range channels {
			for m := range means {
				means[m] = c.Unpack(int8(raw[q*size+m*layout.Cells+cell]))
			}
			g.set(cell, q, &means)
		}
	}
	return g, origin
}

// StandardWind is the embedded wind.
var StandardWind = sync.OnceValue(func() *WindField {
	g, origin := embedded("wind.bin", layout.Wind)
	f := &WindField{grid: g, origin: origin, Name: "mean wind, ships 1946-1989 and analyses",
		Source: "COADS; FNOC analyses 1982-1992; Esbensen & Kushnir 1981; from NOAA/PMEL FerretDatasets 7.6"}
	f.settle()
	return f
})

// years are the embedded differences between years.
var years = sync.OnceValue(func() *grid {
	g, _ := embedded("years.bin", layout.Years)
	return g
})

// StandardSpread is how much the mean wind of a month differs from one year to another: the standard
// deviation of its east and of its north part, m/s; zero where the place is no number.
//
// Good to: a fifth of it (eleven years, 1982-1992)
func StandardSpread(lat, lon float64, m Month) (east, north float64) {
	var out [2]float64
	if !years().value(lat, lon, m, out[:]) {
		return 0, 0
	}
	return math.Max(0, out[0]), math.Max(0, out[1])
}

// StandardCurrent is the embedded current.
var StandardCurrent = sync.OnceValue(func() *CurrentField {
	g, origin := embedded("current.bin", layout.Current)
	dragged(g, StandardWind().grid)
	return &CurrentField{grid: g, origin: origin,
		Name:   "mean drift estimated from hydrography and wind; not measured; poor within 5 degrees of the equator and near coasts",
		Source: "Levitus climatology and World Ocean Atlas subset, from NOAA/PMEL FerretDatasets 7.6; worked out by this program's recipe"}
})

// StandardSky is the embedded air, sea temperature, pressure, cloud and sun.
var StandardSky = sync.OnceValue(func() *SkyField {
	g, origin := embedded("weather.bin", layout.Weather)
	return &SkyField{grid: g, origin: origin}
})
