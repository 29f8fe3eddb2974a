package planks_test

import (
	"math"
	"testing"

	"thole/internal/planks"
)

func TestStripsOnCylinder(t *testing.T) {
	const radius, length, width = 0.8, 6.0, 0.1
	hull := pipe(t, radius, length)
	const src = "a helix on a cylinder, closed form; a mesh of 32 chords is short by (π/64)²/24 = 1e-4 and its slope good to half of it"
	for _, deg := range []float64{45, 60, 90, 135} {
		angle := deg * math.Pi / 180
		l, err := planks.Strips(hull, width, angle)
		if err != nil {
			t.Fatal(err)
		}
		whole := 0
		var area float64
		for _, s := range l.Strips {
			area += s.Flat.AreaTrue
			if s.Offcut || math.Abs(s.Length-radius*math.Pi/2/math.Sin(angle)) > 0.01 {
				continue // cut short by the end of the cylinder
			}
			whole++
			want := radius * math.Pi / 2 / math.Sin(angle)
			lower, upper := s.Flat.Edges[0].Points, s.Flat.Edges[2].Points
			if s.Flat.Length < want/2 {
				t.Fatal(s.Flat.Length)
			}
			run(t, []check{
				{"length", s.Length, want, 1e-3, src},
				{"widest", s.Widest, width, 2e-4, src},
				{"narrowest", s.Narrowest, width, 1e-3, src},
				{"lower edge off straight", bow(lower), 0, 5e-4, src},
				{"upper edge off straight", bow(upper), 0, 5e-4, src},
				{"angle", s.Angle, math.Min(angle, math.Pi-angle), 2e-3, src},
				{"stretch", s.Flat.Stretch.Max, 0, 2e-3, "isometry; the mesh's facets are 0.037 m wide and a strip's rows fall among them"},
			})
		}
		across := width / math.Sin(angle)
		full := (length - radius*math.Pi/2/math.Abs(math.Tan(angle))) / across
		run(t, []check{
			{"whole strips", float64(whole), full, 2, "length less one strip's run, over the strip's width along the keel"},
			{"area", area, radius * math.Pi / 2 * length, 0.02 * radius * math.Pi / 2 * length, "the cylinder's area; the corners between the ends of short strips are left out"},
		})
	}
}

// bow is how far a line stands off its chord at most.
func bow(p [][2]float64) float64 {
	a, b := p[0], p[len(p)-1]
	l := math.Hypot(b[0]-a[0], b[1]-a[1])
	var most float64
	for _, q := range p {
		most = math.Max(most, math.Abs((b[0]-a[0])*(q[1]-a[1])-(b[1]-a[1])*(q[0]-a[0]))/l)
	}
	return most
}

func TestStripsOfDemo(t *testing.T) {
	l, err := planks.Strips(demo(t), 0.1, math.Pi/4)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d strips, %.1f m of stock, %.1f to %.1f mm, fanned %.1f° at %d", len(l.Strips), l.Stock, 1000*l.Narrowest, 1000*l.Widest, l.Fanned*180/math.Pi, l.FannedAt)
	var area float64
	for _, s := range l.Strips {
		area += s.Flat.AreaTrue
		if s.Widest > 0.1*(1+2e-3) {
			t.Errorf("strip %d is %.1f mm wide", s.Number, 1000*s.Widest)
		}
	}
	// the half skin's area by the middle rule over its girths, with fairing's own slant of the skin
	hull := demo(t)
	from, to := hull.Ends()
	var skin float64
	const steps = 400
	for i := range steps {
		x := from + (to-from)*(float64(i)+0.5)/steps
		rib := hull.Rib(x, 0)
		for k, slant := range rib.Slant {
			a, b := rib.Points[k], rib.Points[k+1]
			skin += slant * math.Hypot(b.Y-a.Y, b.Z-a.Z) * (to - from) / steps
		}
	}
	run(t, []check{{"area covered", area, skin, 0.02 * skin, "the half skin's own area, summed over its ribs; corners between the ends of short strips are left out"}})
}

func TestStripsRefused(t *testing.T) {
	hull := pipe(t, 0.8, 3)
	for _, bad := range [][2]float64{{0, 1}, {math.NaN(), 1}, {math.Inf(1), 1}, {0.1, 0}, {0.1, 4}, {0.1, math.NaN()}} {
		if _, err := planks.Strips(hull, bad[0], bad[1]); err == nil {
			t.Errorf("%v: taken", bad)
		}
	}
}
