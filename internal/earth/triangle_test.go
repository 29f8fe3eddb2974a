package earth

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestTriangle: right triangles, whose sides are known, and a printed one.
func TestTriangle(t *testing.T) {
	const source = "closed form: right triangle 3-4-5"
	across := must(Steer(rad(90), 5, Current{rad(0), 3}))
	ahead := must(Steer(rad(270), 2, Current{rad(270), 0.5}))
	astern := must(Steer(rad(270), 2, Current{rad(90), 0.5}))
	track, ground := MadeGood(rad(90), 4, Current{rad(0), 3})
	run(t, []check{
		{"heading", deg(across.Heading), 90 + deg(math.Asin(0.6)), 1e-9, source},
		{"over the ground", across.Ground, 4, 1e-12, source},
		{"needs", across.Needs, 3, 1e-12, source},
		{"with it", ahead.Ground, 2.5, 1e-12, "sum of speeds along one line"},
		{"against it", astern.Ground, 1.5, 1e-12, "difference of speeds along one line"},
		{"against it needs", astern.Needs, 0.5, 1e-12, "she must outrun what sets her back"},
		{"made good", ground, 5, 1e-12, source},
		{"track made good", deg(track), 90 - deg(math.Atan(0.75)), 1e-9, source},
	})
}

// TestCannotHold: a current that outruns the boat.
func TestCannotHold(t *testing.T) {
	for _, r := range []struct {
		name         string
		track, speed float64
		c            Current
		made, ground float64
		needs        float64
	}{
		{"set off it: west at 1.0 with 1.3 setting north", 270, 1.0, Current{rad(0), 1.3}, 360 - deg(math.Asin(1/1.3)), math.Sqrt(0.69), 1.3},
		{"set back: straight into it", 90, 0.8, Current{rad(270), 1.0}, 270 - deg(math.Asin(0.8)), 0.6, 1.0},
		{"at rest in a cross current", 0, 0, Current{rad(90), 0.2}, 90, 0.2, 0.2},
	} {
		got, err := Steer(rad(r.track), r.speed, r.c)
		if !errors.Is(err, ErrCannotHold) {
			t.Errorf("%s: %v", r.name, err)
			continue
		}
		made := deg(got.Track)
		if r.track == 90 { // dead against it either side is as near
			made = 180 - math.Abs(made-180)
			r.made = 180 - math.Abs(r.made-180)
		}
		const source = "closed form: tracks within asin(speed/rate) of the set can be made good, the outermost at sqrt(rate^2-speed^2)"
		run(t, []check{{r.name, made, r.made, 1e-6, source}, {r.name, got.Ground, r.ground, 1e-12, source}, {r.name, got.Needs, r.needs, 1e-12, source}})
	}
	for _, bad := range []struct{ track, speed, set, rate float64 }{{math.NaN(), 1, 0, 0}, {0, -1, 0, 0}, {0, 1, 0, math.Inf(1)}} {
		if _, err := Steer(bad.track, bad.speed, Current{bad.set, bad.rate}); !errors.Is(err, ErrInput) {
			t.Errorf("%v was taken: %v", bad, err)
		}
	}
}

// TestSteerMakesGood: what is steered makes good what was promised; and where the track
// cannot be held, no heading does better, and a little more than Needs does hold it.
func TestSteerMakesGood(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		track := rapid.Float64Range(0, 2*math.Pi).Draw(t, "track")
		speed := rapid.Float64Range(0, 3).Draw(t, "speed")
		c := Current{rapid.Float64Range(0, 2*math.Pi).Draw(t, "set"), rapid.Float64Range(0, 3).Draw(t, "rate")}
		got, err := Steer(track, speed, c)
		if err == nil || got.Ground > 1e-9 {
			made, ground := MadeGood(got.Heading, speed, c)
			if math.Abs(Half(made-got.Track))*ground > 1e-7 || math.Abs(ground-got.Ground) > 1e-7 {
				t.Fatalf("promised %g at %g, made %g at %g", got.Track, got.Ground, made, ground)
			}
		}
		if err == nil {
			return
		}
		off := math.Abs(Half(got.Track - track))
		for h := 0.; h < 2*math.Pi; h += 0.02 {
			made, ground := MadeGood(h, speed, c)
			if ground > 1e-6 && math.Abs(Half(made-track)) < off-1e-6 {
				t.Fatalf("heading %g makes a nearer track", h)
			}
		}
		if _, err := Steer(track, got.Needs+1e-6, c); err != nil {
			t.Fatalf("a little over what it needs does not hold it: %v", err)
		}
	})
}
