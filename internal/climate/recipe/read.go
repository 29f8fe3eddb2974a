package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"

	"github.com/batchatco/go-native-netcdf/netcdf"
	"github.com/batchatco/go-native-netcdf/netcdf/api"

	"thole/internal/climate/layout"
)

// inputs are the files read, with their hashes: other bytes would make another climate.
var inputs = map[string]string{
	"coads_climatology.cdf":   "b94f55034d13d63f33e2153afddc0c5e00347076c35ab3e34937aec38ce9c4c1",
	"monthly_navy_winds.cdf":  "225a9e4fed7bb1a7b558afb662abbe2dc5e3d3db4100fa019cb994f10b115faa",
	"esku_heat_budget.cdf":    "42e9a5d26ba36a7ef92d381ac12fdf30c74883ea7fde6830ba4899df2dc75600",
	"levitus_climatology.cdf": "6cf0c43e2b5b790a25547eb90194c0468ab508a40636c1e67b42e892c3b7596b",
	"ocean_atlas_subset.nc":   "598e82c3689272fdd1eff7a9e9d5706f4c08b5841dc028fbbc5c49374c81c8ff",
	"etopo20.cdf":             "ba27cb2fa5f2f2b2c76e5a576f0a291fd11ebb3da99ed9b466150c0a064a1db4",
}

// check refuses a folder whose files are not the ones named.
func check(dir string) error {
	for name, want := range inputs {
		b, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			return err
		}
		sum := sha256.Sum256(b)
		if got := hex.EncodeToString(sum[:]); got != want {
			return fmt.Errorf("%s: sha256 is %s, the recipe is written for %s", name, got, want)
		}
	}
	return nil
}

// cube is one variable of a file, its last two axes latitude and longitude; missing is NaN.
type cube struct {
	lat, lon []float64
	depth    []float64 // m, where the axis before latitude is one
	layers   int       // all axes before latitude, in one
	data     []float64
}

// at is the value of a layer at a row and a column; columns go round.
func (c *cube) at(layer, row, col int) float64 {
	n := len(c.lon)
	return c.data[(layer*len(c.lat)+row)*n+((col%n)+n)%n]
}

// read takes one variable out of a file.
func read(dir, file, name string) (*cube, error) {
	g, err := netcdf.Open(filepath.Join(dir, file))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	defer g.Close()
	v, err := g.GetVariable(name)
	if err != nil {
		return nil, fmt.Errorf("%s: %s: %w", file, name, err)
	}
	c := &cube{data: flatten(nil, reflect.ValueOf(v.Values))}
	axes := v.Dimensions
	for i, into := range []*[]float64{&c.lat, &c.lon} {
		axis, err := g.GetVariable(axes[len(axes)-2+i])
		if err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		*into = flatten(nil, reflect.ValueOf(axis.Values))
	}
	if len(axes) > 2 && strings.HasPrefix(axes[len(axes)-3], "ZAX") {
		axis, err := g.GetVariable(axes[len(axes)-3])
		if err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		c.depth = flatten(nil, reflect.ValueOf(axis.Values))
	}
	c.layers = len(c.data) / (len(c.lat) * len(c.lon))
	gap := missing(v)
	for i, x := range c.data {
		if x == gap || math.Abs(x) > 1e9 {
			c.data[i] = math.NaN()
		}
	}
	return c, nil
}

// missing is the value that stands for none, or NaN.
func missing(v *api.Variable) float64 {
	if a, ok := v.Attributes.Get("missing_value"); ok {
		if f := flatten(nil, reflect.ValueOf(a)); len(f) == 1 {
			return f[0]
		}
	}
	return math.NaN()
}

// flatten writes nested slices of numbers behind one another.
func flatten(out []float64, v reflect.Value) []float64 {
	if v.Kind() == reflect.Slice {
		for i := range v.Len() {
			out = flatten(out, v.Index(i))
		}
		return out
	}
	if v.CanFloat() {
		return append(out, v.Float())
	}
	return append(out, float64(v.Int()))
}

// sample interpolates a layer at a place, over the corners that have a value; NaN where none has.
func (c *cube) sample(layer int, lat, lon float64) float64 {
	n := len(c.lon)
	dy, dx := c.lat[1]-c.lat[0], c.lon[1]-c.lon[0]
	y := math.Max(0, math.Min((lat-c.lat[0])/dy, float64(len(c.lat)-1)))
	x := math.Mod((lon-c.lon[0])/dx+2*float64(n), float64(n))
	j, i := int(math.Min(y, float64(len(c.lat)-2))), int(x)
	fy, fx := y-float64(j), x-float64(i)
	sum, weight := 0.0, 0.0
	for k, w := range [4]float64{(1 - fy) * (1 - fx), (1 - fy) * fx, fy * (1 - fx), fy * fx} {
		if v := c.at(layer, j+k/2, i+k%2); w > 0 && !math.IsNaN(v) {
			sum, weight = sum+w*v, weight+w
		}
	}
	if weight < .25 { // less than a quarter of the cell: an outside value, not one in between
		return math.NaN()
	}
	return sum / weight
}

// twelve brings a cube of 12 months, or of whole years of them, to the lattice.
func (c *cube) twelve() []float64 {
	out := make([]float64, layout.Months*layout.Cells)
	for m := range layout.Months {
		for r := range layout.Rows {
			for k := range layout.Cols {
				sum, n := 0.0, 0.0
				for l := m; l < c.layers; l += layout.Months {
					if v := c.sample(l, layout.Lat(r), layout.Lon(k)); !math.IsNaN(v) {
						sum, n = sum+v, n+1
					}
				}
				out[layout.Index(m, r, k)] = sum / n
			}
		}
	}
	return out
}
