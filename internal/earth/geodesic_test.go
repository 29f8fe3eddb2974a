package earth

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestGeodesicAgainstGeographicLib: published values of the library's author.
func TestGeodesicAgainstGeographicLib(t *testing.T) {
	const geod = "C. Karney, GeographicLib, tests/geodtest.cpp"
	const cmake = "C. Karney, GeographicLib, tests/CMakeLists.txt, "
	const derived = "GeodSolve 2.1.2 (Debian geographiclib-tools), GeodSolve -i"
	for _, r := range []struct {
		lat1, lon1, lat2, lon2 float64
		start, end, far        float64
		tolCourse, tolFar      float64
		source                 string
	}{
		{35.60777, -139.44815, -11.17491, -69.95921, 111.098748429560326, 129.289270889708762, 8935244.5604818305, 1e-10, 1e-6, geod},
		{55.52454, 106.05087, 77.03196, 197.18234, 22.020059880982801, 109.112041110671519, 4105086.1713924406, 1e-10, 1e-6, geod},
		{-21.97856, 142.59065, 41.84138, 98.56635, -32.44456876433189, -41.84359951440466, 8394328.894657671, 1e-10, 1e-6, geod},
		{-66.99028, 112.2363, -12.70631, 285.90344, 173.73491240878403, 2.512956620913668, 11150344.2312080241, 1e-10, 1e-6, geod},
		{-17.42761, 173.34268, -15.84784, 5.93557, -159.033557661192928, -20.787484651536988, 16076603.1631180673, 1e-10, 1e-6, geod},
		{-50.56724, -16.30485, -33.56571, -94.97412, -105.439679907590164, -47.348547835650331, 6455670.5118668696, 1e-10, 1e-6, geod},
		{40.6, -73.8, 49 + 1./60, 2.55, 53.47022, 111.59367, 5853226, 5e-6, 0.5, cmake + "GeodSolve0"},
		{0, 0, 0, 179, 90, 90, 19926189, 1e-5, 0.5, cmake + "GeodSolve33"},
		{88.202499451857, 0, -88.202499451857, 179.981022032992859592, math.NaN(), math.NaN(), 20003898.214, 0, 1e-3, cmake + "GeodSolve6, nearly opposite"},
		{40 + 38./60 + 23./3600, -73 - 46./60 - 44./3600, 1 + 21./60 + 33./3600, 103 + 59./60 + 22./3600, 3 + 18./60 + 29.9/3600, 177 + 29./60 + 9.2/3600, 15347628, 2e-5, 0.5, "man GeodSolve, example"},
		{-30, 0, 29.9, 179.8, 161.89052, 18.09074, 19989832.828, 5e-6, 1e-3, derived},
		{28.09, -17.11, 13.10, -59.62, 258.260, 242.541, 2539.240 * mile, 5e-4, 1, derived},
		{48.37, -124.62, -16.92, 145.80, 258.451, 222.953, 6137.275 * mile, 5e-4, 1, derived + ", over the 180th meridian"},
		{36.62, -121.90, 21.30, -157.87, 253.988, 235.961, 2086.898 * mile, 5e-4, 1, derived},
	} {
		line, err := WGS84.Inverse(Degrees(r.lat1, r.lon1), Degrees(r.lat2, r.lon2))
		if err != nil {
			t.Fatal(err)
		}
		rows := []check{{"distance", line.Distance, r.far, r.tolFar, r.source}}
		if !math.IsNaN(r.end) {
			rows = append(rows, check{"course at the start", deg(line.Start), bearing(r.start), r.tolCourse, r.source},
				check{"course at the end", deg(line.End), bearing(r.end), r.tolCourse, r.source})
		}
		run(t, rows)
	}
	to, end, err := WGS84.Direct(Degrees(40+38./60+23./3600, -73-46./60-44./3600), rad(53.5), 5850e3)
	if err != nil {
		t.Fatal(err)
	}
	lat, lon := to.Degrees()
	run(t, []check{
		{"latitude reached", lat, 49.01467, 5e-6, cmake + "GeodSolve1"},
		{"longitude reached", lon, 2.56106, 5e-6, cmake + "GeodSolve1"},
		{"course there", deg(end), 111.62947, 5e-6, cmake + "GeodSolve1"},
	})
}

// TestLengthOfAMinute: the scales of latitude and longitude.
func TestLengthOfAMinute(t *testing.T) {
	const source = "closed forms of the radii of curvature on WGS 84, evaluated with numpy; Bowditch's table of degree lengths rounds to the same"
	for _, r := range []struct{ lat, north, east float64 }{
		{0, 1842.90, 1855.32}, {28, 1846.99, 1639.36}, {45, 1852.20, 1314.11}, {60, 1856.87, 930.00}, {90, 1861.57, 0},
	} {
		north, east := WGS84.Scale(rad(r.lat))
		run(t, []check{{"latitude", north * rad(1./60), r.north, 0.005, source}, {"longitude", east * rad(1./60), r.east, 0.005, source}})
	}
}

// TestDirectTurnsInverseRound: there and back, anywhere.
func TestDirectTurnsInverseRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := anywhere(t, "from"), anywhere(t, "to")
		line := must(WGS84.Inverse(p, q))
		back := must(WGS84.Inverse(q, p))
		if math.Abs(line.Distance-back.Distance) > 1e-6 {
			t.Fatalf("%g m there and %g m back", line.Distance, back.Distance)
		}
		to, _, err := WGS84.Direct(p, line.Start, line.Distance)
		if err != nil {
			t.Fatal(err)
		}
		if miss := must(WGS84.Inverse(to, q)).Distance; miss > 1e-5 {
			t.Fatalf("direct misses by %g m", miss)
		}
	})
}

// anywhere draws a place, the poles and the 180th meridian among them.
func anywhere(t *rapid.T, name string) Place {
	lat := rapid.OneOf(rapid.Float64Range(-90, 90), rapid.SampledFrom([]float64{-90, 90, 0, 89.999999})).Draw(t, name+" lat")
	lon := rapid.OneOf(rapid.Float64Range(-180, 180), rapid.SampledFrom([]float64{-180, 180, 0, 179.999999, 540})).Draw(t, name+" lon")
	return Degrees(lat, lon)
}

// TestHostile: what is no place is refused, and places that lie awkwardly are answered.
func TestHostile(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, p := range []Place{{nan, 0}, {0, nan}, {inf, 0}, {0, inf}, {2, 0}, {0, 1e9}} {
		_, e1 := WGS84.Inverse(p, Place{})
		_, e2 := WGS84.Rhumb(Place{}, p)
		_, _, e3 := WGS84.Direct(p, 0, 1)
		_, e4 := WGS84.RhumbDirect(p, 0, 1)
		_, e5 := WGS84.OffTrack(Place{}, Place{1, 1}, p)
		_, e6 := WGS84.Route(GreatCircle, Place{}, p)
		for i, err := range []error{e1, e2, e3, e4, e5, e6} {
			if !errors.Is(err, ErrInput) {
				t.Errorf("%v: call %d: %v", p, i+1, err)
			}
		}
	}
	if _, _, err := WGS84.Direct(Place{}, nan, 1); !errors.Is(err, ErrInput) {
		t.Error("a course that is no number was taken")
	}
	if _, err := WGS84.RhumbDirect(Place{}, 0, inf); !errors.Is(err, ErrInput) {
		t.Error("an infinite distance was taken")
	}
	// Exactly opposite: the shortest line runs over a pole (closed form: half a meridian's round).
	const half = 20003931.458625446
	line := must(WGS84.Inverse(Degrees(30, 10), Degrees(-30, -170)))
	run(t, []check{{"opposite", line.Distance, half, 1e-6, "half the meridian ellipse of WGS 84, 2 a E(e2) by mpmath 1.2"}})
	if line := must(WGS84.Inverse(Place{math.Pi/2 + 5e-13, 0}, Place{})); math.Abs(line.Distance-half/2) > 1e-5 {
		t.Errorf("a pole that rounding has put past itself is %g m from the equator", line.Distance)
	}
	for _, p := range []Place{Degrees(90, 0), Degrees(-90, 77), Degrees(0, 180), Degrees(0, -180), Degrees(12, 540)} {
		line := must(WGS84.Inverse(p, p))
		if line.Distance > 1e-8 || math.IsNaN(line.Start) {
			t.Errorf("%v to itself: %+v", p, line)
		}
	}
}

func TestTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.OneOf(rapid.Float64Range(-1e5, 1e5), rapid.SampledFrom([]float64{-1e-300, math.Pi, -math.Pi, 2 * math.Pi})).Draw(t, "angle")
		turn, half := Turn(a), Half(a)
		if turn < 0 || turn >= 2*math.Pi || half < -math.Pi || half >= math.Pi {
			t.Fatalf("%g: %g and %g", a, turn, half)
		}
		if math.Abs(math.Sin(turn)-math.Sin(a)) > 1e-9 || math.Abs(math.Cos(half)-math.Cos(a)) > 1e-9 {
			t.Fatalf("%g turned into %g and %g", a, turn, half)
		}
	})
}

func BenchmarkInverse(b *testing.B) {
	p, q := Degrees(28, -17), Degrees(13, -59)
	b.ReportAllocs()
	for b.Loop() {
		WGS84.inverse(p, q)
	}
}
