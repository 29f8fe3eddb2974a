package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"thole/internal/climate/layout"
)

func TestDensity(t *testing.T) {
	for _, r := range []struct{ s, t, p, want, tol float64 }{
		{0, 5, 0, 999.96675, 1e-5}, {35, 5, 0, 1027.67547, 1e-5}, {35, 25, 0, 1023.34306, 1e-5},
		{0, 5, 10000, 1044.12802, 1e-5}, {35, 5, 10000, 1069.48914, 1e-5}, {35, 25, 10000, 1062.53817, 1e-5},
	} {
		if got := density(r.s, r.t, r.p); math.Abs(got-r.want) > r.tol {
			t.Errorf("density(%g, %g, %g) = %.5f, want %.5f (UNESCO 44, check values)", r.s, r.t, r.p, got, r.want)
		}
	}
	if got := pressure(7321.45, 30); math.Abs(got-7500) > .01 {
		t.Errorf("pressure at 7321.45 m in 30 N is %.3f dbar, want 7500 (Saunders 1981, from memory)", got)
	}
}

// TestBalance: on a made-up slope the flow is the one written out by hand.
func TestBalance(t *testing.T) {
	c := &cube{layers: 1}
	for j := range 21 {
		c.lat = append(c.lat, 20+float64(j)) // 20 to 40 N
	}
	for i := range 360 {
		c.lon = append(c.lon, .5+float64(i))
	}
	const slope = 1e-6 // J/kg a metre northward
	for _, lat := range c.lat {
		for range c.lon {
			c.data = append(c.data, slope*lat*math.Pi/180*earthRadius)
		}
	}
	u, v := balance(c)
	want := -slope / (2 * earthRate * math.Sin(30*math.Pi/180))
	if got := u.at(0, 10, 5); math.Abs(got-want) > 1e-9 || math.Abs(v.at(0, 10, 5)) > 1e-12 {
		t.Errorf("u %g v %g, want %g 0 (closed form)", got, v.at(0, 10, 5), want)
	}
}

// TestBalanceAtTheEquator: a parabola across it makes -1/beta times its second derivative.
func TestBalanceAtTheEquator(t *testing.T) {
	c := &cube{layers: 1}
	for j := range 11 {
		c.lat = append(c.lat, float64(j)-5)
	}
	for i := range 360 {
		c.lon = append(c.lon, .5+float64(i))
	}
	const bend = -4e-12 // J/kg/m2: high at the equator, the flow to the east
	for _, lat := range c.lat {
		y := lat * math.Pi / 180 * earthRadius
		for range c.lon {
			c.data = append(c.data, bend*y*y/2)
		}
	}
	u, _ := balance(c)
	want := -bend / (2 * earthRate / earthRadius)
	for j := 1; j < 10; j++ { // on a parabola both balances agree, but for the cosine of the latitude
		if got := u.at(0, j, 3); math.Abs(got-want) > .006*want || math.IsNaN(got) && c.lat[j] != 0 {
			t.Errorf("u at %g is %g, want %g (closed form)", c.lat[j], got, want)
		}
	}
}

func TestSpreadAndSmooth(t *testing.T) {
	f := make([]float64, layout.Months*layout.Cells)
	for i := range f {
		f[i] = 7
		if i%3 == 0 {
			f[i] = math.NaN()
		}
	}
	smooth(f)
	spread(f)
	for i, x := range f {
		if math.Abs(x-7) > 1e-12 {
			t.Fatalf("cell %d is %g: an even field must stay even", i, x)
		}
	}
}

// TestInputsAreNamed: a folder with other bytes is refused.
func TestInputsAreNamed(t *testing.T) {
	dir := t.TempDir()
	for name := range inputs {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("other"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := check(dir); err == nil || !strings.Contains(err.Error(), "the recipe is written for") {
		t.Errorf("other inputs: %v", err)
	}
}

// TestSameBytes makes the files again from the package and compares them; only where
// CLIMATE_PACKAGE names it, because the package is not in the repository.
func TestSameBytes(t *testing.T) {
	deb := os.Getenv("CLIMATE_PACKAGE")
	if deb == "" {
		t.Skip("CLIMATE_PACKAGE does not name the package ferret-datasets_7.6.0-5_all.deb")
	}
	out := t.TempDir()
	if err := run(deb, out); err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(filepath.Join(out, "SHA256SUMS"))
	if err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile("../data/SHA256SUMS")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("the recipe makes\n%swhere the repository has\n%s", got, want)
	}
}
