package afloat_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"thole/internal/afloat"
	"thole/internal/boatfolder"
	"thole/internal/house/patience"
	"thole/internal/model"
	"thole/internal/units"
)

// changed is a folder with every weight's and store's mass and height moved at random, and some moved along the boat.
func changed(t testing.TB, dir string, by *rand.Rand) *model.Folder {
	f, faults := boatfolder.Read(dir)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if by == nil {
		return f
	}
	for i := range f.Boat.Weights {
		w := &f.Boat.Weights[i]
		w.Mass.Value *= units.Mass(0.8 + 0.4*by.Float64())
		w.Where.At.X += 0.3 * (by.Float64() - 0.5)
		w.Where.At.Z += 0.1 * (by.Float64() - 0.5)
		w.Where.At.Y += 0.05 * (by.Float64() - 0.5)
	}
	for i := range f.Stores {
		f.Stores[i].Mass.Value *= units.Mass(0.5 + by.Float64())
	}
	return f
}

// TestTightestAgainstAll: the search finds what working out every state finds.
//
// Source: property; the slow twin is Rightings
func TestTightestAgainstAll(t *testing.T) {
	rounds := patience.Rounds(4, 12)
	if testing.Short() {
		rounds = 1
	}
	for _, dir := range []string{"../../demo/sanderling", "../../demo/turnstone"} {
		by := rand.New(rand.NewPCG(7, 7))
		tried, states := 0, 0
		var was *afloat.Trip
		for round := range rounds {
			var f *model.Folder
			if round == 0 {
				f = changed(t, dir, nil)
			} else {
				f = changed(t, dir, by)
			}
			quick, err := afloat.NewFrom(f, was)
			if err != nil {
				t.Fatal(err)
			}
			was = quick
			got, cond, err := quick.Tightest(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			slow, _ := afloat.NewFrom(f, was)
			all, err := slow.Rightings(context.Background(), nil)
			if err != nil {
				t.Fatal(err)
			}
			least, at, day := math.Inf(1), 0, 0
			for c := range all {
				for d, r := range all[c] {
					if r.Err == nil && r.Headroom < least {
						least, at, day = r.Headroom, c, d
					}
				}
			}
			tried, states = tried+quick.SearchCount(), states+len(all)*len(all[0])
			if math.Abs(got.Headroom-least) > 1e-4 {
				t.Errorf("%s, round %d: found %.6f m on day %d in %d, but the least is %.6f m on day %d in %d", dir, round, got.Headroom, got.State.Day, cond, least, day, at)
			}
		}
		t.Logf("%s: %.1f of %d states worked out", dir, float64(tried)/float64(rounds), states/rounds)
	}
}

func BenchmarkTightest(b *testing.B) {
	f := changed(b, "../../demo/sanderling", nil)
	was, err := afloat.New(f)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		t, _ := afloat.NewFrom(f, was)
		if _, _, err := t.Tightest(context.Background()); err != nil {
			b.Fatal(err)
		}
	}
}
