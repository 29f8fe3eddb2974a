package heading

import (
	"math"
	"testing"
)

// TestBefore: within the sector every heading is kept when it is looked for by itself, without the one beside
// it, on the same course; and just beyond its end it is not, or on another course altogether.
//
// Source: Row, which tries all of rudder and oars at one heading
func TestBefore(t *testing.T) {
	thrust := even(40)
	ends, looked, missed := 0, 0, 0
	for _, wind := range []float64{5, 8, 10, 12.5, 15, 20} {
		for _, x := range []float64{2.4, 2.8, 3.2} {
			b := rower()
			b.Foils[1].X = x
			m := must(New(b))
			for _, h := range []Helm{{Rudder: true}, {Rudder: true, Oars: true}} {
				got := must(m.Before(wind, thrust, h))
				half, bow := got.Half, got.Bow
				if half < 20*deg || half > math.Pi {
					t.Errorf("wind %.1f m/s, board at %.1f m, %+v: a sector of %.1f degrees", wind, x, h, half/deg)
				}
				for from := 174 * deg; from > bow+0.2*deg; from -= 6 * deg {
					looked++
					if w := must(m.Row(wind, from, thrust, h)); !w.Held || w.Ahead <= 0 || math.Pi-course(w) > half+0.1*deg {
						missed++ // begun from straight on or from rest it may come to another state
					}
				}
				if bow == 0 {
					continue
				}
				ends++
				if w := must(m.Row(wind, bow-0.5*deg, thrust, h)); w.Held && w.Ahead > 0 && math.Abs(math.Pi-course(w)-half) < 2*deg {
					t.Errorf("wind %.1f m/s, board at %.1f m, %+v: the end at %.1f degrees off the wind is none: %+v", wind, x, h, bow/deg, w)
				}
			}
		}
	}
	if missed*100 > looked {
		t.Errorf("%d of %d headings within the sectors are not kept when looked for by themselves", missed, looked)
	}
	if ends < 10 {
		t.Errorf("only %d of the sectors have an end to find", ends)
	}
}

func BenchmarkBefore(b *testing.B) {
	m := must(New(rower()))
	thrust := even(40)
	for b.Loop() {
		must(m.Before(12.5, thrust, Helm{Rudder: true, Oars: true}))
	}
}
