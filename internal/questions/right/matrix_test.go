package right

import (
	"context"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/units"
)

// TestUnderAt: the edge of an opening in a box goes under where the wall-sided water reaches it.
func TestUnderAt(t *testing.T) {
	f := prism(6, [][2]float64{{0, 0}, {1, 0}, {1, 0.9}}, 6*2*0.3*1025, r3.Vec{X: 3, Z: 0.25})
	f.Boat.Openings = []model.Opening{
		{Name: "side port", At: r3.Vec{X: 3, Y: -0.9, Z: 0.5}, Into: "inside"},
		{Name: "hole in the bottom", At: r3.Vec{X: 3, Z: 0.1}},
		{Name: "hatch on deck", At: r3.Vec{X: 3, Z: 0.9}, Closed: true},
	}
	_, fig := answered(t, f, answer.Options{})
	const src = "wall-sided box at constant draft: tan(heel) = height over the water / distance out, closed form"
	run(t, []check{
		{"side port", fig.Openings[0].Heel, math.Atan(0.2/0.9) / deg, 0.05, src},
		{"hole in the bottom", fig.Openings[1].Heel, 0, 0, "it lies under water"},
		// the corner goes under first; then the box lies with its deck's middle above until it is on its side: by
		// symmetry about the half-full state at 90 degrees the water stands 0.3/0.9 of the way up
		{"hatch on deck", boolean(fig.Openings[2].Heel > 45 && fig.Openings[2].Heel < 135), 1, 0, "a middle hatch outlives the deck's edge and goes under before she is over"},
	})
}

func boolean(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func demo(t testing.TB, name string) *model.Folder {
	t.Helper()
	f, faults := boatfolder.Read("../../../demo/" + name)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return f
}

// TestMatrix: what must be so in any boat with ballast on her keel and a cabin at her end.
func TestMatrix(t *testing.T) {
	if testing.Short() {
		t.Skip("all states of a whole boat; left out with -short")
	}
	f := demo(t, "sanderling")
	_, fig := answered(t, f, answer.Options{})
	if len(fig.States) < 400 {
		t.Errorf("%d states, want 400 or more", len(fig.States))
	}
	at := map[Cell]float64{}
	for _, c := range fig.States {
		k := c
		k.Height, k.At, k.Verdict = 0, 0, ""
		at[k] = c.Height
	}
	for _, c := range fig.States {
		k := c
		k.Height, k.At, k.Verdict = 0, 0, ""
		if c.Ballast == "drunk" && c.Hatches == "shut" {
			k.Ballast = "full"
			if full, ok := at[k]; ok && full <= c.Height {
				t.Errorf("%+v: no worse than with full ballast (%.3f)", c, full)
			}
		}
		if strings.Contains(c.Hatches, "aft") && c.Height > 0 {
			t.Errorf("%+v: comes back with the large cabin full of sea; if that is true it is worth a look", c)
		}
		if c.Height > 0 != (c.Verdict == "comes back") {
			t.Errorf("%+v: verdict and height differ", c)
		}
	}
}

// TestLeastBallast: a little more than the least and she comes back, a little less and she does not.
func TestLeastBallast(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another, many times over: nothing for the race detector")
	}
	f := demo(t, "sanderling")
	_, fig := answered(t, f, answer.Options{})
	if len(fig.LeastBallast) != 3 {
		t.Fatalf("%+v", fig.LeastBallast)
	}
	last := fig.LeastBallast[2]
	if fig.LeastBallast[0].Least >= last.Least {
		t.Errorf("she needs %.0f kg leaving and %.0f arriving: lighter she should need more", fig.LeastBallast[0].Least, last.Least)
	}
	for _, c := range []struct {
		by   float64
		want bool
	}{{3, true}, {-3, false}} {
		g := demo(t, "sanderling")
		for i := range g.Boat.Weights {
			if w := &g.Boat.Weights[i]; w.Ballast {
				w.Mass.Value = units.Mass((last.Least + c.by) / float64(max(1, w.Count)))
			}
		}
		a, err := Ask(context.Background(), answer.NewCase(g), answer.Options{Brief: true})
		if err != nil {
			t.Fatal(err)
		}
		if (a.Verdict != answer.No) != c.want {
			t.Errorf("least ballast %.0f kg, %+.0f: %s", last.Least, c.by, a.Sentence)
		}
	}
	if !(fig.MostWater > 0.05) {
		t.Errorf("most water in the cabin %.3f m³", fig.MostWater)
	}
}

// TestHatchStates: with a cabin's hatch open its bins fill with it, unless each has a lid of its own that is shut.
//
// Source: the folder: bins 401 and 402 lie under the aft cabin, 400
func TestHatchStates(t *testing.T) {
	f := demo(t, "sanderling")
	for _, lids := range []bool{false, true} {
		if lids {
			f.Boat.Openings = append(f.Boat.Openings, model.Opening{Name: "lid", Into: "bunk bin starboard", Closed: true}, model.Opening{Name: "other lid", Into: "bunk bin port", Closed: true})
		}
		c := answer.NewCase(f)
		trip, err := c.Trip()
		if err != nil {
			t.Fatal(err)
		}
		q := &ask{c: c, t: trip}
		var full []int
		for _, h := range q.hatchStates() {
			if h.name == "aft cabin hatch open" {
				for _, r := range h.rooms {
					full = append(full, f.Boat.Compartments[r].Number)
				}
			}
		}
		want := []int{400, 401, 402}
		if lids {
			want = want[:1]
		}
		if !slices.Equal(full, want) {
			t.Errorf("lids %v: %v fill, want %v", lids, full, want)
		}
	}
}

func BenchmarkMatrix(b *testing.B) {
	f := demo(b, "sanderling")
	for b.Loop() {
		c := answer.NewCase(f)
		t, err := c.Trip()
		if err != nil {
			b.Fatal(err)
		}
		q := &ask{c: c, t: t}
		cells, err := q.matrix(context.Background())
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(cells)), "states")
	}
}

// TestAskedByMany: one case asked for several days at once, as a page does; what is shared is only read
// (the race detector watches).
func TestAskedByMany(t *testing.T) {
	c := answer.NewCase(demo(t, "sanderling"))
	sentences := make([]string, 4)
	var wait sync.WaitGroup
	for i := range sentences {
		wait.Go(func() {
			a, err := Ask(context.Background(), c, answer.Options{Day: 20 * i, Brief: true})
			if err != nil {
				t.Error(err)
			}
			sentences[i] = a.Sentence
		})
	}
	wait.Wait()
	for _, s := range sentences {
		if s != sentences[0] || s == "" {
			t.Errorf("the trip's answer hangs on the day shown: %q, %q", sentences[0], s)
		}
	}
}
