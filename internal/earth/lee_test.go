package earth

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// slowLee is the obvious twin of Lee: every edge in small pieces, each point's bearing
// and distance by geodesics.
func slowLee(l *Land, p Place, toward, width float64) float64 {
	best := math.Inf(1)
	l.everyEdge(func(e int32) {
		x, y := float64(l.x[e])/micro, float64(l.y[e])/micro
		dx, dy := float64(l.x[e+1])/micro-x, float64(l.y[e+1])/micro-y
		const n = 400
		for k := range n + 1 {
			v := WGS84.inverse(p, Degrees(y+float64(k)/n*dy, x+float64(k)/n*dx))
			if math.Abs(Half(v.Start-toward)) <= width {
				best = math.Min(best, v.Distance)
			}
		}
	})
	return best
}

func TestLee(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	rapid.Check(t, func(t *rapid.T) {
		r := islands(t)
		r.StepLon, r.StepLat = 0.001, 0.001
		l := must(NewLand(r, nil))
		k := rapid.IntRange(0, len(l.x)-1).Draw(t, "point")
		p := Degrees(math.Max(-80, math.Min(80, float64(l.y[k])/micro+rapid.Float64Range(-2, 2).Draw(t, "lat"))), float64(l.x[k])/micro+rapid.Float64Range(-2, 2).Draw(t, "lon"))
		if l.Distance(p, 5000) < 5000 {
			t.Skip("on the beach any bearing is right")
		}
		toward := rapid.Float64Range(0, 2*math.Pi).Draw(t, "toward")
		width := rapid.Float64Range(0.2, math.Pi/2).Draw(t, "width")
		near, ok, err := l.Lee(p, toward, width, 5e5)
		if err != nil {
			t.Fatal(err)
		}
		if ok && near.Distance > 100 && math.Abs(Half(near.Bearing-toward)) > width+rad(0.1) {
			t.Fatalf("found at %g, off the sector", deg(near.Bearing))
		}
		// A sector a little narrower finds no nearer, one a little wider no further.
		narrow, wide := slowLee(l, p, toward, width-rad(0.1)), slowLee(l, p, toward, math.Min(math.Pi, width+rad(0.1)))
		far := math.Inf(1)
		if ok {
			far = near.Distance
		}
		if narrow < 4.99e5 && far > narrow*(1+1e-3)+600 || wide > 5.01e5 && ok || far < wide*(1-1e-3)-600 {
			t.Fatalf("%g m; by every edge %g in a narrower sector and %g in a wider", far, narrow, wide)
		}
	})
}

func TestLeePlain(t *testing.T) {
	l := world(Hazard{Name: "reef", At: Degrees(2, 4), Radius: 10e3, What: "reef", Source: "invented"})
	const source = "closed form: the equator of WGS 84, and a circle abeam of a line (flat)"
	// At 2 E on the equator, drifting west: the square's side, a degree off.
	near, ok, err := l.Lee(Degrees(0, 2), rad(270), rad(20), 3e5)
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	run(t, []check{{"distance", near.Distance, 6378137 * rad(1), 10, source}, {"bearing", deg(near.Bearing), 270, 0.1, source}})
	// Drifting east there is nothing; the reef lies north-east.
	if _, ok, _ := l.Lee(Degrees(0, 2), rad(100), rad(20), 3e5); ok {
		t.Error("a shore was found to the east")
	}
	near, ok, _ = l.Lee(Degrees(0, 2), rad(40), rad(20), 4e5)
	v := WGS84.inverse(Degrees(0, 2), Degrees(2, 4))
	if !ok || near.Hazard != 0 {
		t.Fatalf("the reef was not found: %+v", near)
	}
	run(t, []check{{"reef", near.Distance, v.Distance - 10e3, 1, source}})
	// Its middle a degree off the sector, its edge within.
	near, ok, _ = l.Lee(Degrees(0, 2), v.Start-rad(21), rad(20), 4e5)
	if !ok || near.Hazard != 0 {
		t.Fatalf("the reef's edge was not found: %+v", near)
	}
	across := v.Distance * math.Sin(rad(1))
	run(t, []check{
		{"reef's edge", near.Distance, v.Distance*math.Cos(rad(1)) - math.Sqrt(1e8-across*across), 1, source},
		{"its bearing", deg(near.Bearing), deg(v.Start) - 1, 1e-9, source},
	})
	// Over the 180th meridian.
	near, ok, _ = l.Lee(Degrees(10, 177), rad(90), rad(5), 3e5)
	if !ok {
		t.Fatal("nothing to the east")
	}
	_, east := WGS84.Scale(rad(10))
	run(t, []check{{"east", near.Distance, east * rad(1), 100, "length of the parallel; the sector lets it lie a little nearer"}})
	for _, bad := range [][3]float64{{math.NaN(), 1, 1}, {0, -1, 1}, {0, 2, 1}, {0, 1, 0}, {0, 1, math.NaN()}, {0, 1, 1e9}} {
		if _, _, err := l.Lee(Place{}, bad[0], bad[1], bad[2]); !errors.Is(err, ErrInput) {
			t.Errorf("%v was taken", bad)
		}
	}
}
