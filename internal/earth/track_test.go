package earth

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestOffTrackExact: lines whose feet have closed forms.
func TestOffTrackExact(t *testing.T) {
	const source = "closed form: from the equator the nearest point is down the meridian, and the equator's length is a times the longitude"
	off := must(WGS84.OffTrack(Degrees(0, -30), Degrees(0, -10), Degrees(20, 5)))
	run(t, []check{
		{"across", off.Across, -WGS84.meridian(rad(20)), 1e-6, source},
		{"along", off.Along, 6378137 * rad(35), 1e-6, source},
		{"course", deg(off.Course), 90, 1e-9, source},
	})
	off = must(WGS84.OffTrack(Degrees(0, -10), Degrees(0, -30), Degrees(20, 5)))
	run(t, []check{
		{"across, the other way", off.Across, WGS84.meridian(rad(20)), 1e-6, source},
		{"along, behind the start", off.Along, -6378137 * rad(15), 1e-6, source},
	})
	off = must(WGS84.OffTrack(Degrees(28, -17), Degrees(13, -59), Degrees(28, -17)))
	run(t, []check{{"at the start", off.Across, 0, 1e-5, "definition"}, {"at the start, along", off.Along, 0, 1e-5, "definition"}})
	if _, err := WGS84.OffTrack(Degrees(0, 0), Degrees(0, 0), Degrees(1, 1)); !errors.Is(err, ErrInput) {
		t.Error("a line from a place to itself was taken")
	}
	if _, err := WGS84.OffTrack(Degrees(0, 0), Degrees(0, 10), Degrees(90, 0)); err == nil {
		// The pole is equally far from the whole equator: any foot is right, none is an error too.
		t.Log("a foot was met for the pole")
	}
}

// least seeks the least distance from a place to a line by golden section.
func least(from, to float64, distance func(along float64) float64) (along, far float64) {
	g := (math.Sqrt(5) - 1) / 2
	for range 60 {
		a, b := to-g*(to-from), from+g*(to-from)
		if distance(a) < distance(b) {
			to = b
		} else {
			from = a
		}
	}
	return (from + to) / 2, distance((from + to) / 2)
}

// TestOffTrackIsLeast: against a search for the least distance.
func TestOffTrackIsLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := Degrees(rapid.Float64Range(-80, 80).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lon"))
		course := rapid.Float64Range(0, 2*math.Pi).Draw(t, "course")
		to, _ := WGS84.direct(from, course, 4e6)
		near, _ := WGS84.direct(from, course, rapid.Float64Range(-1e6, 5e6).Draw(t, "along"))
		at, _ := WGS84.direct(near, rapid.Float64Range(0, 2*math.Pi).Draw(t, "bearing"), rapid.Float64Range(0, 2e6).Draw(t, "off"))
		off, err := WGS84.OffTrack(from, to, at)
		if err != nil {
			t.Fatal(err)
		}
		start := must(WGS84.Inverse(from, to)).Start
		_, far := least(off.Along-1e5, off.Along+1e5, func(s float64) float64 {
			p, _ := WGS84.direct(from, start, s)
			return WGS84.inverse(p, at).Distance
		})
		if math.Abs(math.Abs(off.Across)-far) > 1e-4 {
			t.Fatalf("%g m across, but %g m by search", off.Across, far)
		}
	})
}

// TestOffRhumbIsLeast: the same for a line of one course.
func TestOffRhumbIsLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := Degrees(rapid.Float64Range(-55, 55).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lon"))
		course := rapid.Float64Range(0, 2*math.Pi).Draw(t, "course")
		to, err := WGS84.RhumbDirect(from, course, 3e6)
		if err != nil {
			t.Skip("over a pole")
		}
		near, err := WGS84.RhumbDirect(from, course, rapid.Float64Range(-2e5, 3e6).Draw(t, "along"))
		if err != nil || math.Abs(near.Lat) > rad(70) {
			t.Skip("over a pole")
		}
		side := rapid.SampledFrom([]float64{-math.Pi / 2, math.Pi / 2}).Draw(t, "side")
		at, _ := WGS84.direct(near, course+side, rapid.Float64Range(0, 6e5).Draw(t, "off"))
		off, err := WGS84.OffRhumb(from, to, at)
		if err != nil {
			t.Fatal(err)
		}
		_, far := least(off.Along-3e4, off.Along+3e4, func(s float64) float64 {
			p, err := WGS84.RhumbDirect(from, course, s)
			if err != nil {
				return math.Inf(1)
			}
			return WGS84.inverse(p, at).Distance
		})
		if math.Abs(math.Abs(off.Across)-far) > 1e-3 {
			t.Fatalf("%g m across, but %g m by search", off.Across, far)
		}
	})
}

func TestRoute(t *testing.T) {
	canaries, south, barbados := Degrees(28.09, -17.11), Degrees(18, -25), Degrees(13.10, -59.62)
	straight := must(WGS84.Route(GreatCircle, canaries, barbados))
	rhumb := must(WGS84.Route(RhumbLine, canaries, barbados))
	run(t, []check{
		{"great circle", straight.Length() / mile, 2539.240, 1e-3, "GeodSolve 2.1.2 -i"},
		{"rhumb", rhumb.Length() / mile, 2546.963, 1e-3, "RhumbSolve 2.1.2 -i"},
	})
	bent := must(WGS84.Route(GreatCircle, canaries, south))
	bent = must(bent.Then(RhumbLine, Place{}, barbados))
	for _, r := range []Route{straight, rhumb, bent} {
		points := must(r.Points(50e3))
		var sum float64
		for i := 1; i < len(points); i++ {
			d := WGS84.inverse(points[i-1], points[i]).Distance
			if d > 50e3+1e-3 {
				t.Errorf("two points lie %g m apart", d)
			}
			sum += d
		}
		if sum > r.Length()+1e-3 || sum < r.Length()*(1-1e-5) {
			t.Errorf("the points are %g m long, the route %g", sum, r.Length())
		}
		for _, along := range []float64{1e5, 1.3e6, 3e6} {
			p, course := r.At(along)
			at, _ := WGS84.direct(p, course+math.Pi/2, 20e3)
			got := must(r.Progress(at))
			run(t, []check{
				{"along", got.Along, along, 30, "definition: 20 km square off the line; the line bends by 30 m at most in that width"},
				{"across", got.Across, 20e3, 5, "definition"},
				{"left", got.Left, r.Length() - along, 30, "definition"},
			})
		}
	}
	if got := must(bent.Progress(barbados)); got.Leg != 1 || got.Left > 1e-3 {
		t.Errorf("at the end: %+v", got)
	}
	if p, _ := bent.At(-5); p != canaries {
		t.Error("before the start is not the start")
	}
	if p, _ := bent.At(1e9); p != barbados {
		t.Error("past the end is not the end")
	}
	if _, err := WGS84.Route(RhumbLine, canaries, canaries); !errors.Is(err, ErrInput) {
		t.Error("a leg that goes nowhere was taken")
	}
	if _, err := WGS84.Route(RhumbLine, canaries); !errors.Is(err, ErrInput) {
		t.Error("a route of one place was taken")
	}
	if _, err := straight.Points(1e-3); !errors.Is(err, ErrInput) {
		t.Error("points every millimetre were made")
	}
}
