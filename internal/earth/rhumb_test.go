package earth

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

const rhumbSolve = "GeographicLib 2.1.2 (Debian geographiclib-tools), RhumbSolve -p 9"

// TestRhumbAgainstGeographicLib: long, short, along a parallel, near a pole, over the
// 180th meridian, and on both sides of the step at which the method changes.
func TestRhumbAgainstGeographicLib(t *testing.T) {
	for _, r := range []struct{ lat1, lon1, lat2, lon2, course, far float64 }{
		{40, -74, 40, 5, 90, 6746114.699730856},
		{40, -74, 40.0000001, 5, 89.99999990569658, 6746114.694810458},
		{-33.3, 18.2, -33.4, 18.3, 139.99474374995921, 14479.478473200},
		{0, 0, 0, 100, 90, 11131949.079327356},
		{1e-7, 0, -1e-7, 30, 90.00000037941480, 3339584.723798207},
		{28.09, -17.11, 13.1, -59.62, -110.60017360954541, 4716975.077541824},
		{48.37, -124.62, -16.92, 145.8, -128.86300163538144, 11524270.235898649},
		{89.9, 0, -89.9, 170, 168.09572207180736, 20420770.193593293},
		{-89.99, 20, -89.98, -100, -71.68786260415671, 3554.941575102},
		{12.5, 179.9, 12.6, -179.8, 71.25721044281917, 34428.800083111},
		{60, 10, 62.8647, 10.5, 4.77452284889027, 320342.731834474},
		{60, 10, 62.8649, 10.5, 4.77417523298122, 320364.939020681},
		{-5, 100, 45, -80, -72.95085435869549, 18888074.277157042},
	} {
		line := must(WGS84.Rhumb(Degrees(r.lat1, r.lon1), Degrees(r.lat2, r.lon2)))
		run(t, []check{
			{"distance", line.Distance, r.far, 1e-6, rhumbSolve + " -i"},
			{"course", deg(line.Start), bearing(r.course), 1e-9, rhumbSolve + " -i"},
		})
	}
	for _, r := range []struct{ lat, lon, course, far, lat2, lon2 float64 }{
		{28.09, -17.11, 250, 2e6, 21.91488100129482, -35.74029212155783},
		{-45, 170, 100, 3e6, -49.68570190225376, -150.86704435908410},
		{60, 0, 90, 1e6, 60, 17.92114644838964},
		{0, -30, 270, 5e6, 0, -74.91576420597607},
		{10, 20, 359.9, 8e6, 81.97645147545278, 19.75235468930074},
		{-80, 0, 93, 5e5, -80.23435257454237, 26.04985217148674},
		{28.09, -17.11, 250, 1e4, 28.05913750908909, -17.20560013164620},
	} {
		lat, lon := must(WGS84.RhumbDirect(Degrees(r.lat, r.lon), rad(r.course), r.far)).Degrees()
		run(t, []check{
			{"latitude", lat, r.lat2, 1e-11, rhumbSolve},
			{"longitude", lon, r.lon2, 1e-10, rhumbSolve},
		})
	}
}

// TestRhumbPublished: worked examples in print, and where their miles differ from ours.
func TestRhumbPublished(t *testing.T) {
	const man = "man RhumbSolve, example New York to Singapore"
	jfk, changi := Degrees(40+38./60+23./3600, -73-46./60-44./3600), Degrees(1+21./60+33./3600, 103+59./60+22./3600)
	line := must(WGS84.Rhumb(jfk, changi))
	lat2, lon2 := must(WGS84.RhumbDirect(jfk, line.Start, 2e6)).Degrees()
	lat4, lon4 := must(WGS84.RhumbDirect(jfk, line.Start, 4e6)).Degrees()
	const second = 1. / 3600
	up := must(WGS84.Rhumb(Place{}, Degrees(90, 0)))
	draper := must(WGS84.Rhumb(Degrees(40+28./60, -73-50./60), Degrees(39+51./60, -72-45./60)))
	bowditch := must(WGS84.Rhumb(Degrees(32+14.7/60, -66-28.9/60), Degrees(36+58.7/60, -75-42.2/60)))
	north, _ := WGS84.Scale(rad(40.2))
	run(t, []check{
		{"course", deg(line.Start), 103 + 34./60 + 58.2*second, 0.05 * second, man},
		{"distance", line.Distance, 18523563, 0.5, man},
		{"latitude after 2000 km", lat2, 36 + 24./60 + 30.3*second, 0.05 * second, man},
		{"longitude after 2000 km", lon2, -51 - 28./60 - 26.4*second, 0.05 * second, man},
		{"latitude after 4000 km", lat4, 32 + 10./60 + 26.8*second, 0.05 * second, man},
		{"longitude after 4000 km", lon4, -30 - 20./60 - 57.3*second, 0.05 * second, man},
		{"equator to pole", up.Distance, 10001965.729, 5e-4, "C. Karney, GeographicLib, RhumbSolve test; quarter meridian of WGS 84"},
		{"Draper's course", 180 - deg(draper.Start), 53 + 26./60, 0.5 / 60, "Draper, worked example of Mercator sailing, S 53 26 E (meridional parts of an ellipsoid)"},
		{"Draper's miles", draper.Distance / (north * rad(1./60)), 62.11, 0.02, "Draper, 62.11, in minutes of latitude (1850.4 m there; of 1852 m it is 62.05); his meridional parts have one decimal, 0.02 mile here"},
		{"Bowditch's course", deg(bowditch.Start), 301.85, 0.05, "Bowditch (2002) ch. 24, Mercator sailing, N 58.15 W; from memory, recomputed"},
		{"Bowditch's miles", bowditch.Distance / mile, 538.2, 0.002 * 538, "Bowditch (2002) ch. 24; his mile is a minute of latitude, 0.2 % longer there"},
	})
	for _, r := range []struct{ lat1, lon1, lat2, lon2, miles, course float64 }{
		{37.08, -8.67, 4.95, -52.33, 3081.059, 231.424},
		{14.67, -17.43, 4.95, -52.33, 2144.731, 254.296},
		{40.70, -74.02, 49.87, -6.45, 2905.648, 79.083},
		{-12.05, -77.15, -9.80, -139.04, 3655.304, 272.107},
		{-28.78, 114.60, -20.15, 57.48, 3165.068, 279.386},
	} {
		line := must(WGS84.Rhumb(Degrees(r.lat1, r.lon1), Degrees(r.lat2, r.lon2)))
		run(t, []check{{"miles", line.Distance / mile, r.miles, 6e-4, rhumbSolve + " -i"}, {"course", deg(line.Start), r.course, 6e-4, rhumbSolve + " -i"}})
	}
}

// TestRhumbOnASphere: the same code on a sphere, against the sphere's worked example.
func TestRhumbOnASphere(t *testing.T) {
	const source = "E. Williams, Aviation Formulary, worked example Los Angeles to New York (from memory, recomputed)"
	s := NewEllipsoid(mile*60*180/math.Pi, 0)
	lax, jfk := Degrees(33+57./60, -118-24./60), Degrees(40+38./60, -73-47./60)
	circle, line := must(s.Inverse(lax, jfk)), must(s.Rhumb(lax, jfk))
	off := must(s.OffTrack(lax, jfk, Degrees(34.5, -116.5)))
	run(t, []check{
		{"great circle", circle.Distance / mile, 2143.73, 0.01, source},
		{"course", deg(circle.Start), 65.89, 0.005, source},
		{"rhumb", line.Distance / mile, 2164.6, 0.05, source},
		{"rhumb's course", deg(line.Start), 79.3, 0.05, source},
		{"cross-track", off.Across / mile, 7.4512, 0.002, source + "; its inputs are rounded"},
		{"along-track", off.Along / mile, 99.588, 0.002, source},
	})
	d := must(s.Inverse(Degrees(-32, 116), Degrees(-30, 31)))
	run(t, []check{{"Fremantle to Durban", d.Distance / mile, 4247.6, 0.05, "great circle on the sphere, closed form with numpy"}})
}

func TestRhumbTurnsRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := anywhere(t, "from"), anywhere(t, "to")
		line := must(WGS84.Rhumb(p, q))
		short := must(WGS84.Inverse(p, q))
		if line.Distance < short.Distance*(1-1e-12)-1e-6 && !polar(p.Lat) && !polar(q.Lat) {
			t.Fatalf("a rhumb of %g m is shorter than the geodesic's %g", line.Distance, short.Distance)
		}
		to, err := WGS84.RhumbDirect(p, line.Start, line.Distance)
		if err != nil {
			t.Fatal(err)
		}
		if miss := must(WGS84.Inverse(to, q)).Distance; miss > 1e-5 && !polar(p.Lat) && math.Abs(math.Abs(Half(q.Lon-p.Lon))-math.Pi) > 1e-9 {
			t.Fatalf("it misses by %g m", miss)
		}
	})
}

func TestRhumbOverAPole(t *testing.T) {
	_, err := WGS84.RhumbDirect(Degrees(89, 0), rad(10), 200e3)
	if !errors.Is(err, ErrPole) {
		t.Error(err)
	}
	p, err := WGS84.RhumbDirect(Degrees(89, 0), 0, must(WGS84.Rhumb(Degrees(89, 0), Degrees(90, 50))).Distance)
	if err != nil || p.Lat < math.Pi/2-1e-12 {
		t.Error(p, err)
	}
}

func BenchmarkRhumb(b *testing.B) {
	p, q := Degrees(28, -17), Degrees(13, -59)
	b.ReportAllocs()
	for b.Loop() {
		_, _ = WGS84.Rhumb(p, q)
	}
}
