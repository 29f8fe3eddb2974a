package questions

import (
	"context"
	"fmt"
	"math"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/units"
)

func demo(t testing.TB, name string) *model.Folder {
	f, faults := boatfolder.Read("../../demo/" + name)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return f
}

// changes are folders made from a demonstration boat, some of which she does not survive.
var changes = map[string]func(f *model.Folder){
	"as she stands": func(*model.Folder) {},
	"all weights 60 mm higher": func(f *model.Folder) {
		for i := range f.Boat.Weights {
			f.Boat.Weights[i].Where.At.Z += 0.06
		}
	},
	"the heaviest weight to port": func(f *model.Folder) {
		heaviest := 0
		for i, w := range f.Boat.Weights {
			if w.Mass.Value > f.Boat.Weights[heaviest].Mass.Value {
				heaviest = i
			}
		}
		f.Boat.Weights[heaviest].Where.At.Y = -0.2
	},
	"a lower camber":        func(f *model.Folder) { f.Boat.Camber /= 2 },
	"the well shut or open": func(f *model.Folder) { f.Boat.Wells[0].OpenToTheSea = !f.Boat.Wells[0].OpenToTheSea },
	"sinks":                 func(f *model.Folder) { f.Boat.Weights[0].Mass.Value += 9000 },
	"ballast gone":          func(f *model.Folder) { lose(f) },
	"five times lighter": func(f *model.Folder) {
		for i := range f.Boat.Weights {
			f.Boat.Weights[i].Mass.Value /= 5
		}
	},
}

func lose(f *model.Folder) {
	for i := range f.Boat.Weights {
		if f.Boat.Weights[i].Ballast {
			f.Boat.Weights[i].Mass.Value = units.Mass(0.001)
		}
	}
}

// TestBareAgreesWithFull: an answer asked for bare, of a case made from another, has the verdict and the margin
// of a brief one of a case of its own. The lever table lives on that.
//
// Source: property; that a brief answer's search finds what all states give is TestTightestAgainstAll's
func TestBareAgreesWithFull(t *testing.T) {
	for n, name := range demos {
		base := answer.NewCase(demo(t, name))
		for what, change := range changes {
			if testing.Short() && (n > 0 || what != "a lower camber") {
				continue
			}
			f, g := demo(t, name), demo(t, name)
			change(f)
			change(g)
			// One case for all questions, as the lever table and every face have it.
			changed, own := answer.NewCaseFrom(f, base), answer.NewCase(g)
			for _, q := range Table {
				t.Run(fmt.Sprintf("%s/%s/%s", name, what, q.ID), func(t *testing.T) {
					bare, err := q.Ask(context.Background(), changed, answer.Options{Bare: true})
					if err != nil {
						t.Fatal(err)
					}
					full, err := q.Ask(context.Background(), own, answer.Options{Brief: true}) // what it leaves out does not bear on them
					if err != nil {
						t.Fatal(err)
					}
					if q.Draws != "" {
						drawn(t, bare, full)
						return
					}
					if bare.Verdict != full.Verdict || (bare.Margin == nil) != (full.Margin == nil) {
						t.Fatalf("%s with %+v, in full %s with %+v (%s)", bare.Verdict, bare.Margin, full.Verdict, full.Margin, full.Sentence)
					}
					if bare.Margin == nil {
						return
					}
					a, b := bare.Margin, full.Margin
					off := func(x, y float64) float64 { return math.Abs(x-y) / math.Max(1e-2, math.Abs(y)) }
					if a.Unit != b.Unit || a.What != b.What || a.Asked != b.Asked || off(a.Value, b.Value) > 1e-4 || off(a.Spread, b.Spread) > 2e-2 {
						t.Errorf("margin %+v, in full %+v", *a, *b)
					}
				})
			}
		}
	}
}

// few and many are how many draws a bare answer makes and a full one, where a question draws by chance.
const few, many = 120, 500

// drawn holds a bare answer that makes fewer draws to the full one, of which they are a part: what chance lets them differ by, and
// a tenth of a hundred or a tenth of the spread for the coarser motion. Where fewer than half ever come through, a margin says no more than that.
//
// Source: the share of few drawn from many without laying back (hypergeometric) has the variance p(1-p)(1/few - 1/many); the middle one
// of a normal spread of s has 1.57 s2 times that bracket (order statistics); four deviations of a share, six of the middle one, since arrivals are skewed
func drawn(t *testing.T, bare, full answer.Answer) {
	t.Helper()
	if (bare.Margin == nil) != (full.Margin == nil) || bare.Margin == nil && bare.Verdict != full.Verdict {
		t.Fatalf("%s with %+v, in full %s with %+v (%s)", bare.Verdict, bare.Margin, full.Verdict, full.Margin, full.Sentence)
	}
	if bare.Margin == nil {
		return
	}
	a, b := bare.Margin, full.Margin
	part := 1.0/few - 1.0/many
	chance := 4*math.Sqrt(math.Max(b.Confidence*(1-b.Confidence), 1.0/many)*part) + 0.1
	if a.Unit != b.Unit || a.What != b.What || math.Abs(a.Confidence-b.Confidence) > chance {
		t.Errorf("margin %+v, in full %+v: the chance differs by more than %.2f", *a, *b, chance)
	}
	half := math.Min(a.Confidence, b.Confidence) > 0.6 // else the middle one may lie in a thin tail, or nowhere
	if off := 6*math.Sqrt(1.57*part)*b.Spread/2 + 0.1*b.Spread; half && math.Abs(a.Value-b.Value) > off {
		t.Errorf("margin %+v, in full %+v: more than %.2f off", *a, *b, off)
	}
	near := func(limit float64) bool { return math.Abs(b.Confidence-limit) <= chance }
	if bare.Verdict != full.Verdict && !near(0.5) && !near(answer.Sure) {
		t.Errorf("%s, in full %s, with a confidence of %.2f", bare.Verdict, full.Verdict, b.Confidence)
	}
}

// BenchmarkBare is what a lever costs, by question: another load of the same shape.
func BenchmarkBare(b *testing.B) {
	for _, name := range demos {
		base := answer.NewCase(demo(b, name))
		if _, err := base.Trip(); err != nil {
			b.Fatal(err)
		}
		for _, q := range Table {
			b.Run(name+"/"+q.ID, func(b *testing.B) {
				for b.Loop() {
					if _, err := q.Ask(context.Background(), answer.NewCaseFrom(base.Folder, base), answer.Options{Bare: true}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
