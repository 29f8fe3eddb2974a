package climate

import (
	"fmt"
	"math"
	"testing"
)

// TestCurrentSamples: the embedded field against the same method worked out apart with numpy.
func TestCurrentSamples(t *testing.T) {
	const source = "the method, written apart with numpy"
	f := StandardCurrent()
	var rows []check
	for _, s := range []struct {
		lat, lon float64
		month    int
		kn, to   float64
	}{{15, -40, 1, .20, 257}, {12, -50, 1, .19, 251}, {-10, -100, 6, .19, 295}, {-15, -160, 9, .15, 267}, {-12, 80, 7, .29, 265}} {
		u, v := f.Mean(s.lat*deg, s.lon*deg, s.month-1)
		name := fmt.Sprintf("%g %g month %d", s.lat, s.lon, s.month)
		rows = append(rows, check{name, math.Hypot(u, v) / Knot, s.kn, .03, source},
			check{name + " toward", math.Mod(math.Atan2(u, v)/deg+360, 360), s.to, 8, source})
	}
	// the Atlantic counter-current vanishes in spring and is strong from July to November
	for m, want := range []float64{.08, .03, .01, -.02, 0, .07, .19, .21, .26, .17, .20, .13} {
		u, _ := f.Mean(6.5*deg, -35*deg, m)
		wu, wv, _ := StandardWind().Mean(6.5*deg, -35*deg, m)
		e, _ := WindDriven(6.5*deg, wu, wv)
		rows = append(rows, check{fmt.Sprintf("counter-current, month %d", m+1), u - e, want, .04, source})
	}
	run(t, rows)
}

func TestWindDriven(t *testing.T) {
	const source = "Poulain et al. 2009: 1 % of the wind, 28 degrees off it"
	toward := func(lat float64) (speed, degrees float64) {
		e, n := WindDriven(lat*deg, 0, 10) // blowing to the north
		return math.Hypot(e, n), math.Atan2(e, n) / deg
	}
	for _, lat := range []float64{-40, -5, 0, 2.5, 5, 40} {
		speed, got := toward(lat)
		want := 28 * math.Max(-1, math.Min(1, lat/5))
		run(t, []check{{"speed", speed, .1, 1e-12, source}, {fmt.Sprintf("turn at %g", lat), got, want, 1e-9, source}})
	}
}

func TestCurrentError(t *testing.T) {
	f := StandardCurrent()
	const source = "difference from ECCO v4, see Bands"
	run(t, []check{
		{"5-15", bandError(10), .065, 1e-12, source}, {"15-30", bandError(22.5), .024, 1e-12, source}, {"45-60", bandError(52.5), .049, 1e-12, source},
		{"equator", bandError(0), .165, 1e-12, source}, {"between", bandError(6.25), .115, 1e-12, "straight between the middles"},
		{"pole", bandError(90), .1, 1e-12, "modelling choice"},
	})
	wu, wv, _ := StandardWind().Wind(22.5*deg, -40*deg, 6)
	run(t, []check{{"with the wind's part", f.Error(22.5*deg, -40*deg, 6), math.Hypot(.024, .005*math.Hypot(wu, wv)), 1e-12, "two independent errors, half of 1 % of the wind"}})
	if e := f.Error(15*deg, -40*deg, .5); e < .03 || e > .08 {
		t.Errorf("the error in the open Atlantic is %g m/s, not 0.03 to 0.08", e)
	}
	if e := f.Error(28.2*deg, -16.5*deg, .5); e < .1 && f.Origin(28.2*deg, -16.5*deg, .5) != Section {
		t.Errorf("the error among the islands is %g m/s", e)
	}
	for i, b := range Bands {
		if i > 0 && b.From != Bands[i-1].To {
			t.Errorf("band %d starts at %g", i, b.From)
		}
	}
}

// TestStorms: who lies where, and the published dates.
func TestStorms(t *testing.T) {
	for _, r := range []struct {
		name     string
		lat, lon float64
		basin    string
	}{
		{"Barbados", 13, -59.5, "North Atlantic, Caribbean Sea and Gulf of Mexico"}, {"mid Atlantic", 28, -30, "North Atlantic, Caribbean Sea and Gulf of Mexico"},
		{"Gulf of Mexico", 25, -92, "North Atlantic, Caribbean Sea and Gulf of Mexico"}, {"off Colon", 10, -80, "North Atlantic, Caribbean Sea and Gulf of Mexico"},
		{"off Panama's south", 7, -80, "eastern North Pacific"}, {"off Acapulco", 16, -101, "eastern North Pacific"}, {"Hawaii", 21, -157, "central North Pacific"},
		{"Guam", 13, 145, "north-west Pacific and China Sea"}, {"Bay of Bengal", 15, 88, "North Indian"}, {"Mauritius", -20, 57, "South-west Indian"},
		{"Cocos", -12, 97, "Australian"}, {"Fiji", -18, 178, "South-west Pacific"}, {"Tahiti", -17.5, -149.5, "South-west Pacific"},
		{"equator", 1, -30, ""}, {"South Atlantic", -20, -20, ""}, {"Marquesas to Peru", -10, -100, ""}, {"Southern Ocean", -55, 100, ""},
	} {
		for turn := -1.0; turn <= 1; turn++ {
			got := ""
			if b := Storms(r.lat*deg, (r.lon+360*turn)*deg); b != nil {
				got = b.Name
			}
			if got != r.basin {
				t.Errorf("%s: %q, want %q", r.name, got, r.basin)
			}
		}
	}
	at := func(lat, lon float64) *Basin { return Storms(lat*deg, lon*deg) }
	for _, r := range []struct {
		basin  *Basin
		m      Month
		want   Season
		source string
	}{
		{at(13, -50), 4.99, Quiet, "NHC: 1 June"}, {at(13, -50), 5, Open, "NHC: 1 June"}, {at(13, -50), 8, Peak, "JetStream: 78 % of storm days August to October"},
		{at(13, -50), 10.9, Open, "NHC: 30 November"}, {at(13, -50), 11, Quiet, "NHC: 30 November"}, {at(13, -50), 12 + 8, Peak, "next year"},
		{at(15, -110), 4.6, Open, "NHC: 15 May"}, {at(15, -110), 4.4, Quiet, "NHC: 15 May"},
		{at(13, 145), 1, Open, "JetStream: all year"}, {at(13, 145), 8, Peak, "JetStream: July to November"},
		{at(15, 88), 10.5, Peak, "JetStream: November"}, {at(15, 88), 4.5, Peak, "JetStream: May"}, {at(15, 88), 1, Quiet, "JetStream: April to December"}, {at(15, 88), 11.9, Open, "JetStream: December"},
		{at(-20, 57), 0.5, Peak, "over the new year"}, {at(-20, 57), 4.5, Open, "JetStream: late October to May"}, {at(-20, 57), 7, Quiet, "JetStream: late October to May"},
		{at(-18, 178), 4.1, Open, "JetStream: early May"}, {at(-18, 178), 4.5, Quiet, "JetStream: early May"},
	} {
		if got := r.basin.Season(r.m); got != r.want {
			t.Errorf("%s at %g: %v, want %v (%s)", r.basin.Name, float64(r.m), got, r.want, r.source)
		}
	}
	run(t, []check{
		{"from December to June", at(13, -50).Until(11), 6, 1e-12, "arithmetic"}, {"in the season", at(13, -50).Until(8), 0, 0, "definition"},
		{"South-west Indian from July", at(-20, 57).Until(6), 3.75, 1e-12, "arithmetic"},
	})
	for _, b := range Basins {
		if b.Name == "" || b.Source == "" || len(b.Corners) < 4 {
			t.Errorf("basin %+v", b)
		}
	}
}
