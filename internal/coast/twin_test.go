package coast

import (
	"math"
	"math/rand/v2"
	"testing"

	"thole/internal/earth"
)

// rings are the embedded rings in degrees, for the obvious twins of what Land does.
func rings(t *testing.T) [][][2]float64 {
	t.Helper()
	b, err := unpacked()
	if err != nil {
		t.Fatal(err)
	}
	r, err := earth.Unpack(b)
	if err != nil {
		t.Fatal(err)
	}
	out := make([][][2]float64, len(r.Rings))
	for i, ring := range r.Rings {
		for _, p := range ring {
			out[i] = append(out[i], [2]float64{r.West + float64(p[0])*r.StepLon, r.South + float64(p[1])*r.StepLat})
		}
	}
	return out
}

// TestOnLandAgainstEveryEdge: half the places close to a coast, half anywhere. Source:
// odd crossings of a ray (any textbook of computational geometry), every edge looked at.
func TestOnLandAgainstEveryEdge(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	all, l, r := rings(t), World(), rand.New(rand.NewPCG(5, 6))
	for i := range 300 {
		lat, lon := deg(math.Asin(2*r.Float64()-1)), 360*r.Float64()-180
		if i%2 == 0 {
			ring := all[r.IntN(len(all))]
			p := ring[r.IntN(len(ring))]
			lat, lon = p[1]+0.02*r.NormFloat64(), p[0]+0.02*r.NormFloat64()
			if math.Abs(lat) > 90 || math.Abs(lon) > 180 {
				continue
			}
		}
		in := false
		for _, ring := range all {
			for k, p := range ring {
				q := ring[(k+1)%len(ring)]
				if (p[1] > lat) != (q[1] > lat) && p[0]+(q[0]-p[0])*(lat-p[1])/(q[1]-p[1]) < lon {
					in = !in
				}
			}
		}
		if got := l.OnLand(earth.Degrees(lat, lon)); got != in {
			t.Errorf("at %.6f, %.6f: %v, by every edge %v", lat, lon, got, in)
		}
	}
}

// TestNearestAgainstEveryPoint: no point of the coast is nearer than the nearest, and
// the nearest is hardly nearer than the nearest point, an edge's length off at most.
func TestNearestAgainstEveryPoint(t *testing.T) {
	all, l, r := rings(t), World(), rand.New(rand.NewPCG(7, 8))
	for range 25 {
		p := earth.Place{Lat: math.Asin(2*r.Float64() - 1), Lon: (2*r.Float64() - 1) * math.Pi}
		sin, cos := math.Sincos(p.Lat)
		best := -1.
		var at earth.Place
		for _, ring := range all {
			for _, v := range ring {
				q := earth.Degrees(v[1], v[0])
				s, c := math.Sincos(q.Lat)
				if near := sin*s + cos*c*math.Cos(q.Lon-p.Lon); near > best && math.Abs(v[0]) < 180 {
					best, at = near, q
				}
			}
		}
		line, err := earth.WGS84.Inverse(p, at)
		if err != nil {
			t.Fatal(err)
		}
		got := l.Distance(p, math.Inf(1))
		if got > line.Distance*1.004 || got < line.Distance*0.99-20e3 {
			t.Errorf("from %v the coast is %.0f m off, its nearest point %.0f", p, got, line.Distance)
		}
	}
}

func deg(r float64) float64 { return r * 180 / math.Pi }
