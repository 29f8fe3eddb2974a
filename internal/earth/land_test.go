package earth

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// islands draws land of a few rings on a lattice of hundredths of a degree: stars
// about some middles, which neither cross themselves nor reach one another's seas by
// rule, so that odd rings round a point are land.
func islands(t *rapid.T) Rings {
	r := Rings{StepLon: 0.01, StepLat: 0.01}
	for i := range rapid.IntRange(1, 4).Draw(t, "islands") {
		lon, lat := rapid.IntRange(-150, 150).Draw(t, "lon")*100, rapid.IntRange(-70, 70).Draw(t, "lat")*100
		if i == 0 { // corners of cells are where care is due
			lon, lat = lon/25*25, lat/25*25
		}
		n := rapid.IntRange(3, 12).Draw(t, "points")
		var ring [][2]int32
		for k := range n {
			s, c := math.Sincos(2 * math.Pi * float64(k) / float64(n))
			d := float64(rapid.IntRange(5, 900).Draw(t, "reach"))
			ring = append(ring, [2]int32{int32(lon + int(d*c)), int32(lat + int(d*s))})
		}
		r.Rings = append(r.Rings, ring)
	}
	return r
}

// slowInside is the obvious twin of OnLand: a ray to the west over every edge, the
// point moved a little to the north-east as the fast one takes it.
func slowInside(l *Land, px, py int32) bool {
	in := false
	l.everyEdge(func(e int32) {
		x1, y1, x2, y2 := float64(l.x[e]), float64(l.y[e]), float64(l.x[e+1]), float64(l.y[e+1])
		x, y := float64(px)+1e-3, float64(py)+1e-6
		if (y1 > y) != (y2 > y) && x1+(x2-x1)*(y-y1)/(y2-y1) < x {
			in = !in
		}
	})
	return in
}

// TestOnLandAgainstTwin: points everywhere, and points that lie on the coast, on its corners
// and on the corners of cells.
func TestOnLandAgainstTwin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := must(NewLand(islands(t), nil))
		for range 60 {
			var x, y int32
			k := rapid.IntRange(0, len(l.x)-1).Draw(t, "point")
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				x, y = int32(rapid.IntRange(-half, half-1).Draw(t, "x")), int32(rapid.IntRange(-pole, pole).Draw(t, "y"))
			case 1:
				x, y = l.x[k], l.y[k]
			case 2:
				x, y = l.x[k]+int32(rapid.IntRange(-4*cell, 4*cell).Draw(t, "x")), l.y[k]+int32(rapid.IntRange(-4*cell, 4*cell).Draw(t, "y"))
			case 3:
				x, y = (l.x[k]/cell+int32(rapid.IntRange(-3, 3).Draw(t, "i")))*cell, (l.y[k]/cell+int32(rapid.IntRange(-3, 3).Draw(t, "j")))*cell
			}
			if got, want := l.inside(x, y), slowInside(l, x, y); got != want {
				t.Fatalf("at %d, %d: %v, by every edge %v", x, y, got, want)
			}
		}
	})
}

// square is a square island of half a side in degrees.
func square(lat, lon, half float64) [][2]int32 {
	a := func(v float64) int32 { return int32(math.Round(v * 100)) }
	return [][2]int32{{a(lon - half), a(lat - half)}, {a(lon + half), a(lat - half)}, {a(lon + half), a(lat + half)}, {a(lon - half), a(lat + half)}}
}

// world is squares where the answers are plain: one on the equator, one up to the 180th meridian
// from each side, and the south pole's cap.
func world(hazards ...Hazard) *Land {
	r := Rings{StepLon: 0.01, StepLat: 0.01}
	r.Rings = append(r.Rings, square(0, 0, 1), square(10, 179, 1), square(10, -179, 1), square(30, -178, 1), square(-30, 178, 1),
		[][2]int32{{-18000, -9000}, {18000, -9000}, {18000, -8000}, {-18000, -8000}}, [][2]int32{{4000, 4000}})
	return must(NewLand(r, hazards))
}

func TestOnLandPlain(t *testing.T) {
	l := world()
	for _, r := range []struct {
		lat, lon float64
		want     bool
	}{
		{0, 0, true}, {0.99, 0.99, true}, {1.01, 0, false}, {0, -1.01, false}, {-0.5, 0.25, true},
		{10, 180, true}, {10, -180, true}, {10, 179.5, true}, {10, 540, true}, {10, 179.9999999, true}, {10, -180.0000001, true}, {10, -178.5, true}, {10, -177.9, false}, {10, 177.9, false}, {12, 180, false},
		{-90, 0, true}, {-90, 123, true}, {-85, -180, true}, {-79.9, 0, false}, {90, 0, false}, {90, -180, false}, {40, 40, false},
	} {
		if got := l.OnLand(Degrees(r.lat, r.lon)); got != r.want {
			t.Errorf("%g, %g: %v", r.lat, r.lon, got)
		}
	}
}

func TestStrikes(t *testing.T) {
	reef := Hazard{Name: "reef", At: Degrees(-5, 179.9), Radius: 20e3, What: "reef", Source: "invented"}
	l := world(reef)
	const source = "closed form: squares, and a circle of 20 km"
	for _, r := range []struct {
		name                   string
		lat1, lon1, lat2, lon2 float64
		share                  float64 // -1: none
		hazard                 int
	}{
		{"straight at it", 0, -5, 0, 5, 0.4, -1},
		{"clear of it", 2, -5, 2, 5, -1, -1},
		{"over its corner", 1.5, 0, 0.5, 1, 0.5, -1},
		{"ashore already", 0, 0.5, 0, 9, 0, -1},
		{"over the 180th meridian, from the west", 10, 176, 10, -176, 0.25, -1},
		{"over the 180th meridian, from the east", 10, -170, 10, 170, 0.4, -1},
		{"over the 180th meridian, clear", 12, 170, 12, -170, -1, -1},
		{"beyond the 180th meridian, from the west", 30, 175, 30, -175, 0.6, -1},
		{"beyond the 180th meridian, from the east", -30, -175, -30, 175, 0.6, -1},
		{"as far short of it there is nothing, from the west", -30, -178, -30, -170, -1, -1},
		{"as far short of it there is nothing, from the east", 30, 178, 30, 170, -1, -1},
		{"a reef by the 180th meridian, from beyond it", -5, -179.1, -5, 179.1, 0.5, 0},
		{"into the far south", -70, 20, -82, 20, 10. / 12, -1},
		{"no way at all", 5, 5, 5, 5, -1, -1},
	} {
		got, ok := l.Strikes(Degrees(r.lat1, r.lon1), Degrees(r.lat2, r.lon2))
		if ok != (r.share >= 0) {
			t.Errorf("%s: %v %+v", r.name, ok, got)
			continue
		}
		if !ok {
			continue
		}
		want, tol := r.share, 1e-6
		if r.hazard >= 0 {
			want = (1. - 20e3/(rad(1)*WGS84.series[0]*math.Cos(rad(5)))) / 1.8
			tol = 0.001
		}
		run(t, []check{{r.name, got.Share, want, tol, source}, {r.name, float64(got.Hazard), float64(r.hazard), 0, source}})
	}
	if l.InHazard(Degrees(-5, -179.95)) != 0 || l.InHazard(Degrees(-5, 179)) != -1 {
		t.Error("the reef is not where it is")
	}
}

// TestStrikesAgainstTwin: a straight way is struck when one of a thousand points of it is on land.
func TestStrikesAgainstTwin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := must(NewLand(islands(t), nil))
		k := rapid.IntRange(0, len(l.x)-1).Draw(t, "point")
		near := func(name string) Place {
			return Degrees(float64(l.y[k])/micro+rapid.Float64Range(-12, 12).Draw(t, name), float64(l.x[k])/micro+rapid.Float64Range(-12, 12).Draw(t, name))
		}
		a, b := near("from"), near("to")
		got, ok := l.Strikes(a, b)
		for i := range 1001 {
			s := float64(i) / 1000
			p := Place{a.Lat + s*(b.Lat-a.Lat), a.Lon + s*(b.Lon-a.Lon)}
			if x, y := whole(p); slowInside(l, x, y) && (!ok || got.Share > s+1e-6) {
				t.Fatalf("at %g of the way there is land; strikes says %v %g", s, ok, got.Share)
			}
		}
		if ok { // and there is land beside where it strikes
			if d := l.Distance(got.At, 1e5); d > 2000 && !l.OnLand(got.At) {
				t.Fatalf("it strikes %g m from any coast", d)
			}
		}
	})
}

// slowDistance is the obvious twin: every edge, at every hundredth of it, by geodesics.
func slowDistance(l *Land, p Place) float64 {
	best := math.Inf(1)
	for i := range len(l.rings) - 1 {
		for e := l.rings[i]; e < l.rings[i+1]-1; e++ {
			x, y := float64(l.x[e])/micro, float64(l.y[e])/micro
			dx, dy := float64(l.x[e+1])/micro-x, float64(l.y[e+1])/micro-y
			far := func(s float64) float64 { return WGS84.inverse(p, Degrees(y+s*dy, x+s*dx)).Distance }
			at := 0.
			for k := range 11 {
				if s := float64(k) / 10; far(s) < far(at) {
					at = s
				}
			}
			_, d := least(math.Max(0, at-0.1), math.Min(1, at+0.1), far)
			best = math.Min(best, math.Min(d, far(at)))
		}
	}
	return best
}

func TestDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := must(NewLand(islands(t), nil))
		k := rapid.IntRange(0, len(l.x)-1).Draw(t, "point")
		p := Degrees(math.Max(-90, math.Min(90, float64(l.y[k])/micro+rapid.Float64Range(-15, 15).Draw(t, "lat"))), float64(l.x[k])/micro+rapid.Float64Range(-25, 25).Draw(t, "lon"))
		want := slowDistance(l, p)
		tol := 3 + 1e-5*want
		if want > 1e6 {
			tol = 1e-3 * want
		}
		if got := l.Distance(p, math.Inf(1)); math.Abs(got-want) > tol {
			t.Fatalf("%g m, by every edge %g", got, want)
		}
		near, ok, err := l.Nearest(p)
		if !ok || err != nil || math.Abs(near.Distance-want) > tol {
			t.Fatalf("%+v %v %v, by every edge %g", near, ok, err, want)
		}
		clear := l.Clear(p.Lat, p.Lon)
		if l.OnLand(p) && clear != 0 || clear > want || !l.OnLand(p) && clear < math.Min(want, sureTo)*(1-3e-5)-10 {
			t.Fatalf("clear for %g m, by every edge %g", clear, want)
		}
		if got := l.Distance(p, want/2); math.Abs(got-want/2) > 1e-6 {
			t.Fatalf("with a limit of %g it gives %g", want/2, got)
		}
	})
}

// TestNearestPlain: squares, poles and the 180th meridian.
func TestNearestPlain(t *testing.T) {
	l := world(Hazard{Name: "reef", At: Degrees(0, 3), Radius: 10e3, What: "reef", Source: "invented"})
	const source = "closed form: meridian arcs and the equator of WGS 84"
	for _, r := range []struct {
		name             string
		lat, lon         float64
		distance, course float64
		hazard           int
	}{
		{"north of the square", 3, 0, WGS84.meridian(rad(3)) - WGS84.meridian(rad(1)), 180, -1},
		{"west of it", 0, -4, 6378137 * rad(3), 90, -1},
		{"by the reef", 0, 4, 6378137*rad(1) - 10e3, 270, 0},
		{"the north pole: the rock at 40 N", 90, 0, WGS84.quarter - WGS84.meridian(rad(40)), math.NaN(), -1},
		{"north of what the 180th meridian cuts", 13, -180, WGS84.meridian(rad(13)) - WGS84.meridian(rad(11)), 180, -1},
		{"the south pole, ashore: its coast is far", -90, 0, WGS84.quarter - WGS84.meridian(rad(80)), math.NaN(), -1},
	} {
		near, ok, err := l.Nearest(Degrees(r.lat, r.lon))
		if err != nil || !ok {
			t.Fatal(r.name, ok, err)
		}
		rows := []check{{r.name, near.Distance, r.distance, 3, source}, {r.name, float64(near.Hazard), float64(r.hazard), 0, source}}
		if !math.IsNaN(r.course) {
			rows = append(rows, check{r.name + ", bearing", deg(near.Bearing), r.course, 0.05, source})
		}
		run(t, rows)
	}
	empty := must(NewLand(Rings{}, nil))
	if _, ok, err := empty.Nearest(Place{}); ok || err != nil {
		t.Error("land was found where there is none")
	}
	if d := empty.Distance(Place{}, 5e6); d != 5e6 {
		t.Error("a distance to no land:", d)
	}
	if _, _, err := l.Nearest(Place{math.NaN(), 0}); !errors.Is(err, ErrInput) {
		t.Error("no place was answered")
	}
}

// TestClearOfHazards: circles count too, and from within one is clear of nothing.
func TestClearOfHazards(t *testing.T) {
	reef := Hazard{Name: "reef", At: Degrees(30, -40), Radius: 15e3, What: "reef", Source: "invented"}
	l := world(reef)
	rapid.Check(t, func(t *rapid.T) {
		p, _ := WGS84.direct(reef.At, rapid.Float64Range(0, 7).Draw(t, "bearing"), rapid.Float64Range(0, 8e5).Draw(t, "distance"))
		want := WGS84.inverse(p, reef.At).Distance - reef.Radius
		got := l.Clear(p.Lat, p.Lon)
		if got > math.Max(0, want) || got < math.Min(sureTo, want)*0.98-400 {
			t.Fatalf("clear for %g m, the reef is at %g", got, want)
		}
	})
	if got := l.Clear(0, 0); got != 0 {
		t.Error("ashore she is clear for", got)
	}
}

// TestManyAtOnce: the same answers from many at a time, the first of whom plant the tree.
func TestManyAtOnce(t *testing.T) {
	l, alone := world(), world()
	done := make(chan [2]float64)
	places := []Place{Degrees(3, 4), Degrees(12, 178), Degrees(-60, -30), Degrees(45, 41)}
	for i := range 16 {
		go func() {
			p := places[i%len(places)]
			rings := l.Outline(everywhere, 1000, 0)
			done <- [2]float64{float64(i%len(places)) + float64(len(rings)-7), l.Distance(p, math.Inf(1))}
		}()
	}
	for range 16 {
		got := <-done
		if want := alone.Distance(places[int(got[0])], math.Inf(1)); got[1] != want {
			t.Errorf("%g m, alone %g", got[1], want)
		}
	}
}

// TestUnpack: there and back; damage is named, not taken.
func TestUnpack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := islands(t)
		b := r.Pack()
		back := must(Unpack(b))
		if !bytes.Equal(back.Pack(), b) || len(back.Rings) != len(r.Rings) {
			t.Fatal("packed land comes back other than it was")
		}
		cut := rapid.IntRange(0, len(b)-1).Draw(t, "cut")
		if _, err := Unpack(b[:cut]); !errors.Is(err, ErrRings) || !strings.Contains(err.Error(), "packed land") {
			t.Fatalf("cut at %d of %d: %v", cut, len(b), err)
		}
	})
	if _, err := NewLand(Rings{StepLon: math.NaN(), Rings: [][][2]int32{{{1, 1}}}}, nil); !errors.Is(err, ErrInput) {
		t.Error(err)
	}
	if _, err := NewLand(Rings{Rings: [][][2]int32{{}}}, nil); !errors.Is(err, ErrInput) {
		t.Error(err)
	}
	if _, err := NewLand(Rings{}, []Hazard{{Name: "x", Radius: -1}}); !errors.Is(err, ErrInput) {
		t.Error(err)
	}
}

// FuzzUnpack: whatever the bytes, an error or rings that pack again.
func FuzzUnpack(f *testing.F) {
	f.Add(Rings{StepLon: 1, StepLat: 1, Rings: [][][2]int32{square(0, 0, 1)}}.Pack())
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := Unpack(b)
		if err == nil {
			_ = must(Unpack(r.Pack()))
		}
	})
}
