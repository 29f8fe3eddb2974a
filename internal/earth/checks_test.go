package earth

import (
	"math"
	"testing"
)

const mile = 1852.0 // international nautical mile, m (exact)

// check is one number against where it comes from.
type check struct {
	name   string
	got    float64
	want   float64
	tol    float64
	source string
}

func run(t *testing.T, rows []check) {
	t.Helper()
	for _, r := range rows {
		if r.source == "" {
			t.Errorf("%s: no source", r.name)
		}
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s: got %.12g, want %.12g within %g (%s)", r.name, r.got, r.want, r.tol, r.source)
		}
	}
}

// must is a value that came without an error.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func deg(r float64) float64 { return r * 180 / math.Pi }
func rad(d float64) float64 { return d * math.Pi / 180 }

// bearing is degrees from -180 to 180 as GeographicLib prints them, as ours.
func bearing(d float64) float64 { return deg(Turn(rad(d))) }
