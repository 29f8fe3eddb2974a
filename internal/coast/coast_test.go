package coast

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"thole/internal/earth"
)

// TestEmbeddedIsWhatTheRecipeMakes: the hash that the recipe checks before it writes.
func TestEmbeddedIsWhatTheRecipeMakes(t *testing.T) {
	b, err := unpacked()
	if err != nil {
		t.Fatal(err)
	}
	const want = "a7694e3d8fe3aff1e4a35ab44e87fff3a4cfc7a3a5e0d5e3d7de266703992d64"
	h := sha256.Sum256(b)
	if got := hex.EncodeToString(h[:]); got != want {
		t.Errorf("the embedded land has sha256 %s, the recipe's is %s", got, want)
	}
}

// TestPlaces: what anybody can look up on a globe.
func TestPlaces(t *testing.T) {
	l := World()
	for _, r := range []struct {
		name     string
		lat, lon float64
		land     bool
	}{
		{"Paris", 48.857, 2.352, true}, {"Denver", 39.74, -104.99, true}, {"Ulaanbaatar", 47.9, 106.9, true},
		{"Alice Springs", -23.7, 133.9, true}, {"Lhasa", 29.65, 91.1, true}, {"Manaus, inland of it", -3.3, -60.2, true},
		{"Tenerife, its peak", 28.27, -16.64, true}, {"Barbados, its middle", 13.18, -59.55, true}, {"Antigua", 17.07, -61.8, true},
		{"Chukotka beyond the 180th meridian", 67, -175, true}, {"Chukotka before it", 67, 178, true}, {"Chukotka on it", 67.5, 180, true},
		{"Taveuni, Fiji, its middle", -16.85, -179.97, true},
		{"the south pole", -90, 0, true}, {"inland Antarctica", -87, 180, true}, {"inland Antarctica", -86, -60, true},
		{"the north pole", 90, 0, false}, {"mid-Atlantic", 20, -40, false}, {"mid-Pacific", 0, -180, false}, {"off Bathurst", -60, 180, false},
		{"between Gran Canaria and Tenerife", 28.1, -16.1, false}, {"Strait of Gibraltar", 35.95, -5.6, false}, {"English Channel", 50.2, -1, false},
		{"Caspian Sea", 41, 51, false},
	} {
		if got := l.OnLand(earth.Degrees(r.lat, r.lon)); got != r.land {
			t.Errorf("%s: land is %v (source: any atlas)", r.name, got)
		}
	}
}

// TestIslandsAreThere: landfalls and hazards of ocean rowers have a coast within 15 miles, except Rocas, which
// is why there is a list of hazards. Places from any gazetteer, to a tenth of a degree.
func TestIslandsAreThere(t *testing.T) {
	l := World()
	for _, r := range []struct {
		name     string
		lat, lon float64
	}{
		{"La Gomera", 28.1, -17.2}, {"Antigua", 17.0, -61.8}, {"Barbados", 13.1, -59.5}, {"Sal", 16.7, -22.9}, {"Flores", 39.4, -31.2},
		{"Bermuda", 32.3, -64.8}, {"Ascension", -7.9, -14.4}, {"St Helena", -16.0, -5.7}, {"Fernando de Noronha", -3.85, -32.4},
		{"Trindade", -20.5, -29.3}, {"Tristan da Cunha", -37.1, -12.3}, {"Pitcairn", -25.1, -130.1}, {"Clipperton", 10.3, -109.2},
		{"Midway", 28.2, -177.4}, {"Johnston", 16.7, -169.5}, {"Palmyra", 5.9, -162.1}, {"Rodrigues", -19.7, 63.4}, {"Cocos", -12.2, 96.8},
		{"St Paul", -38.7, 77.5}, {"Norfolk", -29.0, 167.95}, {"Lord Howe", -31.55, 159.1}, {"Selvagens", 30.1, -15.9}, {"Kauai", 22.0, -159.5},
		{"Easter", -27.1, -109.4}, {"Kiritimati", 1.9, -157.4}, {"Niue", -19.05, -169.9}, {"Rarotonga", -21.2, -159.8}, {"Nuku Hiva", -8.9, -140.1},
	} {
		if d := l.Distance(earth.Degrees(r.lat, r.lon), 15*mile); d >= 15*mile {
			t.Errorf("%s has no coast within 15 miles", r.name)
		}
	}
	rocas := earth.Degrees(-3.867, -33.817)
	if d := l.Distance(rocas, 15*mile); d < 15*mile {
		t.Error("the coast has Rocas now: take it from the list of hazards")
	}
	if l.InHazard(rocas) < 0 {
		t.Error("Rocas is neither on the coast nor in the list")
	}
}

// TestHazardsAreMarked: every one says that it is from memory, and is asked about where it lies.
func TestHazardsAreMarked(t *testing.T) {
	l := World()
	for i, h := range Hazards() {
		if !strings.Contains(h.Source, "from memory") || h.What == "" || h.Name == "" {
			t.Errorf("%+v does not say where it is from", h)
		}
		if got := l.InHazard(h.At); got != i {
			t.Errorf("%s: in its middle the hazard is number %d", h.Name, got)
		}
	}
}

// TestAreaOfLand: the share of the globe that is land, counted by throwing darts.
func TestAreaOfLand(t *testing.T) {
	l, r, n, in := World(), rand.New(rand.NewPCG(1, 2)), 400000, 0
	for range n {
		if l.OnLand(earth.Place{Lat: math.Asin(2*r.Float64() - 1), Lon: (2*r.Float64() - 1) * math.Pi}) {
			in++
		}
	}
	// Source: land is 148.94e6 of 510.07e6 km2 = 29.2 % (CIA World Factbook); the coast
	// here leaves out the ice shelves, 1.6e6, and the Caspian, 0.37e6 (both from memory):
	// 28.8. The darts' own error is 0.07 at one sigma.
	if got := 100 * float64(in) / float64(n); math.Abs(got-28.8) > 0.3 {
		t.Errorf("%.2f %% of the globe is land", got)
	}
}

// TestLeeOfBarbados: drifting down the trades on to Barbados from 20 miles to windward.
func TestLeeOfBarbados(t *testing.T) {
	near, ok, err := World().Lee(earth.Degrees(13.15, -59.08), 255*math.Pi/180, 30*math.Pi/180, 60*mile)
	// Source: Ragged Point, the island's easternmost, lies at 13.16 N 59.43 W: 20.4 miles off.
	if err != nil || !ok || math.Abs(near.Distance/mile-19.5) > 2.5 || math.Abs(near.Bearing*180/math.Pi-270) > 16 {
		t.Errorf("%v %v: %.1f miles at %.0f", ok, err, near.Distance/mile, near.Bearing*180/math.Pi)
	}
}

// TestCrossings: ways from island to island strike nothing else.
func TestCrossings(t *testing.T) {
	l := World()
	at := earth.Degrees
	for _, r := range []struct {
		name     string
		from, to earth.Place
		strikes  bool
	}{
		{"south of El Hierro to ten miles east of Barbados", at(27.4, -18), at(13.1, -59.25), false},
		{"the same on through Barbados", at(27.4, -18), at(13.15, -59.8), true},
		{"across Africa", at(10, -30), at(10, 60), true},
		{"Hawaii to Tonga, over the 180th meridian's sea", at(19, -170), at(19, 175), false},
		{"into Rocas", at(-3.87, -33), at(-3.87, -35), true},
	} {
		if got, ok := l.Strikes(r.from, r.to); ok != r.strikes {
			t.Errorf("%s: %v at %v", r.name, ok, got)
		}
	}
}

func ExampleWorld() {
	near, _, _ := World().Nearest(earth.Degrees(20, -40))
	lat, lon := near.At.Degrees()
	fmt.Printf("%.0f miles to %.0f N %.0f W\n", near.Distance/1852, lat, -lon)
	// Output: 853 miles to 17 N 25 W
}

// darts are sea and land as a voyage meets them: the open Atlantic, and close to coasts.
func darts(near bool) []earth.Place {
	r := rand.New(rand.NewPCG(3, 4))
	l := World()
	var out []earth.Place
	for len(out) < 4096 {
		p := earth.Place{Lat: (2*r.Float64() - 1) * 1.1, Lon: -1.4 + 1.5*r.Float64()}
		if !near || l.Distance(p, 20e3) < 20e3 {
			out = append(out, p)
		}
	}
	return out
}

func bench(b *testing.B, near bool, f func(p earth.Place)) {
	places := darts(near)
	World().Distance(places[0], 1)
	b.ReportAllocs()
	b.ResetTimer()
	for i := 0; b.Loop(); i++ {
		f(places[i%len(places)])
	}
}

func BenchmarkOnLandAnywhere(b *testing.B) {
	l := World()
	bench(b, false, func(p earth.Place) { l.OnLand(p) })
}

func BenchmarkOnLandByTheCoast(b *testing.B) {
	l := World()
	bench(b, true, func(p earth.Place) { l.OnLand(p) })
}

func BenchmarkStrikes(b *testing.B) {
	l := World()
	bench(b, false, func(p earth.Place) { l.Strikes(p, earth.Place{Lat: p.Lat + 0.0005, Lon: p.Lon - 0.001}) })
}

func BenchmarkStrikesByTheCoast(b *testing.B) {
	l := World()
	bench(b, true, func(p earth.Place) { l.Strikes(p, earth.Place{Lat: p.Lat + 0.0005, Lon: p.Lon - 0.001}) })
}

func BenchmarkDistance(b *testing.B) {
	l := World()
	bench(b, false, func(p earth.Place) { l.Distance(p, math.Inf(1)) })
}

func BenchmarkDistanceWithin50km(b *testing.B) {
	l := World()
	bench(b, false, func(p earth.Place) { l.Distance(p, 50e3) })
}

func BenchmarkLee(b *testing.B) {
	l := World()
	bench(b, false, func(p earth.Place) { _, _, _ = l.Lee(p, 4.5, 0.5, 300e3) })
}

func BenchmarkOpen(b *testing.B) {
	for b.Loop() {
		raw, err := unpacked()
		if err != nil {
			b.Fatal(err)
		}
		rings, err := earth.Unpack(raw)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := earth.NewLand(rings, Hazards()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkOutlineAtlantic(b *testing.B) {
	l := World()
	w := earth.Window{South: -0.3, North: 1, West: -1.6, East: 0.2}
	b.ReportAllocs()
	for b.Loop() {
		l.Outline(w, 5000, 10000)
	}
}
