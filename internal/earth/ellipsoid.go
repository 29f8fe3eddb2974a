package earth

import (
	"errors"
	"fmt"
	"math"

	"github.com/tidwall/geodesic"
)

// ErrInput is an input that cannot be: a latitude past a pole, or not a number.
var ErrInput = errors.New("earth: input")

// ErrPole is a line of constant course that would run over a pole, where it ends.
var ErrPole = errors.New("earth: the line runs over a pole")

// Place is a point of the surface: latitude and longitude in radians.
type Place struct {
	Lat, Lon float64
}

// Degrees is a place from degrees, north and east positive.
func Degrees(lat, lon float64) Place {
	return Place{lat * (math.Pi / 180), lon * (math.Pi / 180)}
}

// Degrees gives latitude and longitude in degrees.
func (p Place) Degrees() (lat, lon float64) {
	return p.Lat * (180 / math.Pi), p.Lon * (180 / math.Pi)
}

// Check says what is wrong with a place, if anything.
//
// Error:  ErrInput, naming the value: not a number, or a latitude past a pole
func (p Place) Check() error {
	if !(math.Abs(p.Lat) <= math.Pi/2+1e-12) { // so much is rounding from degrees
		return fmt.Errorf("%w: latitude %g degrees (give -90 to 90, north positive)", ErrInput, p.Lat*180/math.Pi)
	}
	if math.IsNaN(p.Lon) || math.Abs(p.Lon) > 1e6 {
		return fmt.Errorf("%w: longitude %g degrees (give -180 to 180, east positive)", ErrInput, p.Lon*180/math.Pi)
	}
	return nil
}

// finite says which of some named values is not a number.
func finite(what string, v float64) error {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Errorf("%w: %s is %g", ErrInput, what, v)
	}
	return nil
}

// Turn brings an angle into 0 up to, not including, 2 pi.
func Turn(a float64) float64 {
	if a >= 0 && a < 2*math.Pi {
		return a
	}
	a = math.Mod(a, 2*math.Pi)
	if a < 0 {
		a += 2 * math.Pi
	}
	if a >= 2*math.Pi { // a tiny negative angle rounds up
		a = 0
	}
	return a
}

// Half brings an angle into -pi up to, not including, pi.
func Half(a float64) float64 {
	if a >= -math.Pi && a < math.Pi {
		return a
	}
	return Turn(a+math.Pi) - math.Pi
}

// Ellipsoid is the earth's figure.
type Ellipsoid struct {
	a, f, e2, e, n float64
	quarter        float64    // equator to pole along a meridian, m
	series         [7]float64 // of the meridian's length; series[0] is its scale in m
	back           [6]float64 // of its inverse
	g              *geodesic.Ellipsoid
}

// WGS84 is the ellipsoid of the satellite fix.
//
// Source: NIMA TR8350.2, a = 6378137 m, 1/f = 298.257223563
var WGS84 = NewEllipsoid(6378137, 1/298.257223563)

// NewEllipsoid is an ellipsoid of equatorial radius a in m and flattening f, which is 0
// for a sphere. It is meant for figures like the earth's: 0 <= f <= 1/100.
//
// Good to: the series of the meridian's length stop at the sixth power of the third
// flattening, which on the earth is 1e-16 of the length
// Source: Karney, "Transverse Mercator with an accuracy of a few nanometers", J. Geodesy
// 85 (2011), and "On auxiliary latitudes", Survey Review 56 (2024): rectifying latitude
func NewEllipsoid(a, f float64) *Ellipsoid {
	n := f / (2 - f)
	n2 := n * n
	e := &Ellipsoid{a: a, f: f, e2: f * (2 - f), n: n, g: geodesic.NewEllipsoid(a, f)}
	e.e = math.Sqrt(e.e2)
	scale := a / (1 + n) * (1 + n2/4 + n2*n2/64 + n2*n2*n2/256)
	e.quarter = scale * math.Pi / 2
	e.series = [7]float64{scale,
		-3./2*n + 9./16*n*n2 - 3./32*n*n2*n2,
		15./16*n2 - 15./32*n2*n2 + 135./2048*n2*n2*n2,
		-35./48*n*n2 + 105./256*n*n2*n2,
		315./512*n2*n2 - 189./512*n2*n2*n2,
		-693. / 1280 * n * n2 * n2,
		1001. / 2048 * n2 * n2 * n2,
	}
	e.back = [6]float64{
		3./2*n - 27./32*n*n2 + 269./512*n*n2*n2,
		21./16*n2 - 55./32*n2*n2 + 6759./4096*n2*n2*n2,
		151./96*n*n2 - 417./128*n*n2*n2,
		1097./512*n2*n2 - 15543./2560*n2*n2*n2,
		8011. / 2560 * n * n2 * n2,
		293393. / 61440 * n2 * n2 * n2,
	}
	return e
}

// Radius is the equatorial radius in m.
func (e *Ellipsoid) Radius() float64 { return e.a }

// Scale is the length in m of a radian of latitude and of a radian of longitude at a
// latitude in radians: the meridian's radius of curvature, and the parallel's radius.
//
// Source: closed form, textbook (Bomford, Geodesy)
func (e *Ellipsoid) Scale(lat float64) (north, east float64) {
	s, c := math.Sincos(lat)
	w := 1 - e.e2*s*s
	v := e.a / math.Sqrt(w)
	return v * (1 - e.e2) / w, v * c
}

// meridian is the length along a meridian from the equator, north positive, in m.
func (e *Ellipsoid) meridian(lat float64) float64 {
	return e.series[0] * (lat + sines(2*lat, e.series[1:]))
}

// latitude turns meridian round.
func (e *Ellipsoid) latitude(m float64) float64 {
	mu := m / e.series[0]
	return mu + sines(2*mu, e.back[:])
}

// sines sums c[k] sin((k+1) x) by Clenshaw's rule.
func sines(x float64, c []float64) float64 {
	s, cos := math.Sincos(x)
	var b1, b2 float64
	for k := len(c) - 1; k >= 0; k-- {
		b1, b2 = c[k]+2*cos*b1-b2, b1
	}
	return b1 * s
}

// stretched is the isometric latitude: how far up a Mercator map a latitude lies, in
// radians of longitude; infinite at the poles.
func (e *Ellipsoid) stretched(lat float64) float64 {
	if math.Abs(lat) >= math.Pi/2-1e-15 {
		return math.Copysign(math.Inf(1), lat)
	}
	return math.Asinh(math.Tan(lat)) - e.e*math.Atanh(e.e*math.Sin(lat))
}
