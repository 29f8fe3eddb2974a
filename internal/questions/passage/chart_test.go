package passage

import (
	"math"
	"testing"

	"thole/internal/earth"
	"thole/internal/voyages"
)

// TestFrame: a frame holds its places, is about twice as wide as high, and runs over the 180th meridian.
//
// Source: Snyder, USGS PP 1395, eq. 7-7 on the sphere's equator: x is the radius times the longitude
func TestFrame(t *testing.T) {
	for name, places := range map[string][]earth.Place{
		"atlantic":    {earth.Degrees(28, -17), earth.Degrees(13, -59)},
		"date line":   {earth.Degrees(-10, 170), earth.Degrees(-18, -175), earth.Degrees(-12, -150)},
		"north-south": {earth.Degrees(-35, 20), earth.Degrees(10, 22)},
		"one place":   {earth.Degrees(5, 5), earth.Degrees(5, 5)},
		"far north":   {earth.Degrees(62, 5), earth.Degrees(70, -20)},
	} {
		f := frameOf(places, 0.01)
		for _, p := range places {
			if _, ok := f.at(p); !ok {
				t.Errorf("%s: %v lies outside", name, p)
			}
		}
		m := f.begin(name)
		if ratio := (m.MaxX - m.MinX) / (m.MaxY - m.MinY); ratio < 1.2 || ratio > 3 {
			t.Errorf("%s: %.2f times as wide as high", name, ratio)
		}
		if want := earth.WGS84.Radius() * (f.east - f.west); math.Abs(m.MaxX-m.MinX-want) > 1e-6*want {
			t.Errorf("%s: %g m wide, want %g", name, m.MaxX-m.MinX, want)
		}
		points := 0
		for _, ring := range m.Land {
			for _, p := range ring {
				points++
				if p[0] < m.MinX-1 || p[0] > m.MaxX+1 || p[1] < m.MinY-1 || p[1] > m.MaxY+1 {
					t.Fatalf("%s: land at %v is off the map", name, p)
				}
			}
		}
		if points > 12000 {
			t.Errorf("%s: %d points of land", name, points)
		}
		grid := 0
		for _, l := range m.Lines {
			if l.Name == "" || len(l.Points) != 2 {
				t.Errorf("%s: a line of the grid %+v", name, l)
			}
			grid++
		}
		if grid < 4 || grid > 24 {
			t.Errorf("%s: %d lines in the grid", name, grid)
		}
		middle := (f.south + f.north) / 2
		if want := mile / math.Cos(middle); math.Abs(m.Mile-want) > 0.01*want { // the scale of Mercator's map, to the ellipsoid's flattening
			t.Errorf("%s: a mile is %g long on the map, want %g", name, m.Mile, want)
		}
	}
}

// TestPlaces: places are written as sailors do. Source: sixty minutes to the degree
func TestPlaces(t *testing.T) {
	for want, p := range map[string][2]float64{"13° 20′ N 50° 05′ W": {13 + 1.0/3, -50 - 5.0/60}, "0° 00′ N 180° 00′ E": {0, 180}, "28° 46′ S 114° 36′ E": {-28.77, 114.6}, "14° 00′ N 1° 00′ E": {13.9999, 0.9999}} {
		if got := place(earth.Place{Lat: p[0] * math.Pi / 180, Lon: p[1] * math.Pi / 180}); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	for want, v := range map[string]float64{"30° W": -30, "0°": 0, "180°": 180, "12° 30′ E": 12.5} {
		if got := meridian(v * math.Pi / 180); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// TestIdle: the longest time in which nobody rows. Source: counting hours
func TestIdle(t *testing.T) {
	for _, c := range []struct {
		watches []voyages.Watch
		want    float64
	}{{nil, 24}, {[]voyages.Watch{{From: 6, To: 12}, {From: 13, To: 18}}, 12}, {[]voyages.Watch{{From: 0, To: 4}, {From: 12, To: 24}}, 8}, {[]voyages.Watch{{From: 0, To: 24}}, 0}} {
		if got := idle(c.watches); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v: %g h, want %g", c.watches, got, c.want)
		}
	}
}
