package earth

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestSnyder: the worked examples of the working manual, and the register's.
func TestSnyder(t *testing.T) {
	const snyder = "Snyder, USGS PP 1395 (1987), numerical examples, Clarke 1866 ellipsoid; from memory, "
	clarke := NewEllipsoid(6378206.4, 1-math.Sqrt(1-0.00676866))
	mx, my, _ := clarke.Mercator(rad(-180), rad(85)).To(Degrees(35, -75))
	lx, ly, _ := clarke.EqualArea(Degrees(40, -100)).To(Degrees(30, -110))
	sx, sy, _ := NewEllipsoid(3, 0).EqualArea(Degrees(40, -100)).To(Degrees(-20, 100))
	grs := NewEllipsoid(6378137, 1/298.257222101)
	ex, ey, _ := grs.EqualArea(Degrees(52, 10)).To(Degrees(50, 5))
	run(t, []check{
		{"Mercator x", mx, 11688673.7, 0.05, snyder + "p. 268"},
		{"Mercator y", my, 4139145.6, 0.1, snyder + "p. 268"},
		{"equal-area x", lx, -965932.1, 0.1, snyder + "p. 333"},
		{"equal-area y", ly, -1056814.9, 0.1, snyder + "p. 333"},
		{"on a sphere of 3, x", sx, -4.2339303, 1e-6, snyder + "p. 332"},
		{"on a sphere of 3, y", sy, 4.0257775, 1e-6, snyder + "p. 332"},
		{"easting", 4321000 + ex, 3962799.45, 0.01, "EPSG Guidance Note 7-2, method 9820, ETRS89 example; from memory"},
		{"northing", 3210000 + ey, 2999718.85, 0.01, "EPSG Guidance Note 7-2, method 9820, ETRS89 example; from memory"},
	})
}

// TestProjectionsTurnRound: there and back, and courses straight or areas equal.
func TestProjectionsTurnRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, centre := anywhere(t, "place"), anywhere(t, "centre")
		for _, m := range []Projection{WGS84.Mercator(centre.Lon, rad(85)), WGS84.EqualArea(centre)} {
			x, y, ok := m.To(p)
			if !ok {
				continue
			}
			q, ok := m.From(x, y)
			tol := 1e-3
			if math.Abs(p.Lat) > rad(89.9) { // sines of latitudes near a pole are all 1
				tol = 0.5
			}
			if miss := WGS84.inverse(p, q).Distance; (!ok || miss > tol) && WGS84.inverse(p, centre).Distance < 1.8e7 {
				t.Fatalf("%v comes back as %v (%v), %g m off", p, q, ok, miss)
			}
		}
	})
	// A small square's area on the map is its area on the ellipsoid.
	m := WGS84.EqualArea(Degrees(20, -40))
	for _, at := range []Place{Degrees(20, -40), Degrees(28, -17), Degrees(-40, 30), Degrees(60, 100)} {
		const h = 1e-4
		north, east := WGS84.Scale(at.Lat)
		x0, y0, _ := m.To(Place{at.Lat - h, at.Lon})
		x1, y1, _ := m.To(Place{at.Lat + h, at.Lon})
		x2, y2, _ := m.To(Place{at.Lat, at.Lon - h})
		x3, y3, _ := m.To(Place{at.Lat, at.Lon + h})
		area := math.Abs((x1-x0)*(y3-y2) - (x3-x2)*(y1-y0))
		run(t, []check{{"area", area / (4 * h * h * north * east), 1, 1e-6, "definition of an equal-area map, by differences"}})
	}
	if _, _, ok := WGS84.Mercator(0, rad(80)).To(Degrees(90, 0)); ok {
		t.Error("the pole is on a Mercator map")
	}
	if _, _, ok := WGS84.EqualArea(Degrees(10, 20)).To(Degrees(-10, -160)); ok {
		t.Log("the place opposite was given a point of the rim")
	}
	nan := math.NaN()
	for _, m := range []Projection{WGS84.Mercator(0, 1), WGS84.EqualArea(Place{})} {
		if _, _, ok := m.To(Place{nan, nan}); ok {
			t.Error("no place was mapped")
		}
		if _, ok := m.From(nan, 1); ok {
			t.Error("no point was mapped back")
		}
		if _, ok := m.From(1e9, 1e9); ok {
			t.Error("a point off the map was mapped back")
		}
	}
}
