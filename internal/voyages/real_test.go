package voyages

import (
	"context"
	"math"
	"testing"
	"time"

	"thole/internal/climate"
	"thole/internal/coast"
)

// sea is the embedded wind and current.
type sea struct {
	wind    *climate.WindField
	current *climate.CurrentField
}

// month is near enough the month: years of the mean length.
func month(when float64) climate.Month {
	y := when / (365.2425 * 86400)
	return climate.Month(12 * (y - math.Floor(y)))
}

func (s sea) Wind(lat, lon, when float64) (float64, float64, float64) {
	return s.wind.Wind(lat, lon, month(when))
}

func (s sea) Current(lat, lon, when float64) (float64, float64) {
	return s.current.Current(lat, lon, month(when))
}

// canaries is from La Gomera to Antigua in the middle of December, one rower in an invented boat that
// does 0.9 m/s in a calm, a little more with the wind behind.
func canaries() Spec {
	s := atlantic()
	f := sea{climate.StandardWind(), climate.StandardCurrent()}
	s.Start = Place{28.05 * deg, -17.15 * deg}
	s.Depart = float64(time.Date(2026, 12, 12, 9, 0, 0, 0, time.UTC).Unix())
	// South past El Hierro first: she steers for the next point and round nothing.
	s.Route = []Point{{Place{26.5 * deg, -17.6 * deg}, 30e3}, {Place{22 * deg, -25 * deg}, 200e3}, {Place{17.0 * deg, -61.6 * deg}, 20e3}}
	s.Climate, s.Currents, s.Land = f, f, coast.World()
	s.Offing, s.Past, s.Most = 20e3, 40e3, 150
	s.Rules.Against, s.Rules.Ahead = 6, 90*deg
	s.Rules.Habit.Watches = []Watch{{6, 10}, {11, 14.5}, {15.5, 19}} // ten hours and more, as one rower does (checks-voyage.md 5.3)
	return s
}

// TestCanaries: in the embedded climate she takes about as long as boats with one rower have.
func TestCanaries(t *testing.T) {
	r, err := New(canaries())
	if err != nil {
		t.Fatal(err)
	}
	n := uint64(400)
	if testing.Short() {
		n = 50
	}
	began := time.Now()
	tally, err := r.Run(context.Background(), 0, n, 2, nil)
	if err != nil {
		t.Fatal(err)
	}
	took := time.Since(began)
	med, ok := tally.ArrivalBy(0.5)
	if !ok {
		t.Fatalf("fewer than half arrive: %v", tally.Ends)
	}
	late, _ := tally.ArrivalBy(0.9)
	run(t, []check{{"days, one in two", med, 71, 26, "solo rows from the Canaries to the Lesser Antilles: 46, 56, 60, 81 and 96 days (checks-voyage.md 5.3): 45 to 97"}})
	slow, _ := tally.RunBy(0.1)
	mid, _ := tally.RunBy(0.5)
	fast, _ := tally.RunBy(0.9)
	t.Logf("days: one in two %.1f, nine in ten %.1f, fastest %.1f; ends %v; a day's gain %.0f, %.0f, %.0f nm; wind to %.1f m/s, sea to %.1f m; %.0f h rowed, %.0f h at sea anchor; %v a passage",
		med, late, tally.Fastest, tally.Ends, slow/nm, mid/nm, fast/nm, tally.MostWind, tally.HighestSea,
		float64(tally.RowedS)/3600/float64(n), float64(tally.LayS)/3600/float64(n), took/time.Duration(n))
	if !(slow < mid && mid < fast && fast/nm < 117) { // the record of 24 hours, a pair in the Gulf Stream
		t.Errorf("gains of a day of %.0f, %.0f, %.0f nm", slow/nm, mid/nm, fast/nm)
	}
}

func BenchmarkCanaries(b *testing.B) {
	r, err := New(canaries())
	if err != nil {
		b.Fatal(err)
	}
	c := counter{t: r.NewTally()}
	b.ReportAllocs()
	days := 0.0
	for i := 0; b.Loop(); i++ {
		p, err := r.passage(uint64(i), &c, false)
		if err != nil {
			b.Fatal(err)
		}
		days += p.Days
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/days/24, "ns/step")
}
