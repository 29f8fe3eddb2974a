package resistance

import (
	"errors"
	"math"
	"testing"
)

// TestBetween: the waves of a hull between two others near it, against those of itself.
func TestBetween(t *testing.T) {
	at := func(draft float64) *Hull {
		return must(HullOf(func(x, z float64) float64 {
			s := x/3.4 - 1
			return .56 * (1 - s*s) * math.Sqrt(math.Max(0, 1-z*z/(draft*draft)))
		}, 0, 6.8, draft, 41, 41))
	}
	a, b, mid := at(.25).Wavemaking(), at(.28).Wavemaking(), at(.262).Wavemaking()
	got := must(Between([]*Wavemaking{a, b}, []float64{.6, .4}))
	for _, v := range []float64{.8, 1.2, 1.6, 2.2, 3} {
		run(t, []check{{"between", got.at(v), mid.at(v), .01 * mid.at(v), "the hull itself, worked out in full"}})
	}
	if must(Between([]*Wavemaking{a, b}, []float64{0, 1})) != b {
		t.Error("all of one hull is not that hull")
	}
	for _, bad := range [][]float64{{1}, {.5, .6}, {-.1, 1.1}, {math.NaN(), 1}} {
		if _, err := Between([]*Wavemaking{a, b}, bad); !errors.Is(err, ErrInput) {
			t.Errorf("%v passes: %v", bad, err)
		}
	}
	if _, err := NewBoatMaking(at(.25), nil, Skin{}, nil, nil); !errors.Is(err, ErrInput) {
		t.Error("no waves pass")
	}
}
