package crossing

import (
	"math"
	"testing"

	"thole/internal/climate"
	"thole/internal/voyages"
	"thole/internal/weather"
)

// TestGales: hove to in the North Atlantic in winter she meets as many gales as the climatology's tail says.
//
// Source: weather.Over (Marcum's Q) of the embedded mean and spread at the place, hour by hour. The ships' own count of gales is not at hand:
// the normal's tail may be too thin (package weather says so), and this test does not tell
func TestGales(t *testing.T) {
	const days, n = 30, 150
	s := steady(still{}, flow{}, raft{})
	s.Climate = winds{climate.StandardWind()}
	s.Start, s.Depart, s.Most, s.Weather = voyages.Place{Lat: 50 * deg, Lon: -30 * deg}, 1.8e9, days, weather.Usual()
	s.Route = []voyages.Point{{Place: voyages.Place{Lat: 20 * deg, Lon: -30 * deg}, Within: 1}}
	s.Rules.Habit.Watches = nil
	r, err := voyages.New(s)
	if err != nil {
		t.Fatal(err)
	}
	hours, square := 0.0, 0.0
	for i := range uint64(n) {
		p, err := r.Passage(i)
		if err != nil {
			t.Fatal(err)
		}
		hours += p.Gale / n
		square += p.Gale * p.Gale / n
	}
	want := 0.0
	for h := range days * 24 {
		u, v, speed := s.Climate.Wind(s.Start.Lat, s.Start.Lon, s.Depart+float64(h)*3600)
		mean := math.Hypot(u, v)
		want += weather.Over(mean, weather.Sigma(mean, speed), weather.Gale)
	}
	strays := math.Sqrt((square - hours*hours) / n)
	run(t, []check{{"hours of gale in a month", hours, want, 4 * strays, "Marcum's Q; four standard errors of the mean"}})
	if want < 10 || strays > 0.2*want {
		t.Errorf("%.1f hours, known to %.1f: nothing is tested", want, strays)
	}
}
