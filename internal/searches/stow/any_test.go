package stow

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/house/patience"
	"thole/internal/model"
	question "thole/internal/questions/stow"
	"thole/internal/units"
)

// odd makes a folder that nobody would write, but that the reader would let through.
func odd(f *model.Folder, r *rand.Rand) {
	b := &f.Boat
	for i := range b.Compartments {
		c := &b.Compartments[i]
		c.Packing = []float64{0, 0.01, 0.5, 1}[r.IntN(4)]
		c.Wet = r.IntN(3) == 0
		c.Limit = units.Mass([]float64{0, 0.5, 20}[r.IntN(3)])
		c.Reach = model.Reach(r.IntN(4))
	}
	if r.IntN(3) == 0 {
		b.Openings = b.Openings[:r.IntN(len(b.Openings))]
	}
	for i := range f.Stores {
		s := &f.Stores[i]
		if r.IntN(3) > 0 {
			s.Where = model.Place{Compartment: r.IntN(len(b.Compartments))}
		}
		s.Count = r.IntN(12)
		s.Volume = units.Volume([]float64{0, 0.0001, 0.002, 0.3}[r.IntN(4)])
		s.Size = [3]units.Length{}
		if r.IntN(3) == 0 {
			s.Size = [3]units.Length{units.Length(r.Float64()), units.Length(r.Float64() / 2), units.Length(r.Float64() / 4)}
		}
		s.Most, s.Pinned, s.Reach, s.Dry = []float64{0, 0.01, 0.5, 1}[r.IntN(4)], r.IntN(5) == 0, model.Reach(r.IntN(4)), model.Dryness(r.IntN(3))
		s.Use = model.Use{}
		if r.IntN(2) == 0 {
			s.Use.First = 1 + r.IntN(80)
			s.Use.Last = s.Use.First + r.IntN(30)
			if r.IntN(3) == 0 {
				s.Use.Into = &model.Place{Compartment: r.IntN(len(b.Compartments))}
			}
		}
		if r.IntN(4) == 0 && i > 0 { // a second row of one kind
			was := s.Where
			*s = f.Stores[i-1]
			s.Where = was
		}
	}
	if r.IntN(4) == 0 {
		f.Voyage = nil
	}
}

// TestAny: whatever the stowage, an answer, and a plan that never breaks more rules than what is written, whose acts move what they name and lose nothing.
func TestAny(t *testing.T) {
	rounds := patience.Rounds(4, 20)
	if testing.Short() {
		rounds = 1
	}
	for seed := range uint64(rounds) {
		f, faults := boatfolder.Read("../../../demo/sanderling")
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		odd(f, rand.New(rand.NewPCG(seed, 1)))
		c := answer.NewCase(f)
		a, err := question.Ask(context.Background(), c, answer.Options{})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for _, v := range []any{a, a.Sheet} {
			if _, err := json.Marshal(v); err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
		}
		found, err := Run(context.Background(), c, 0.4, nil)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for _, v := range []any{found, found.Sheet} {
			if _, err := json.Marshal(v); err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
		}
		for _, o := range found.Offers {
			for _, act := range o.Acts {
				have, want := 0, 0
				for _, s := range f.Stores {
					if model.PlainName(s.What) == model.PlainName(act.What[0]) {
						have += max(1, s.Count)
					}
				}
				for _, p := range act.Portions {
					want += p.Count
				}
				if have != want {
					t.Errorf("seed %d: %d of %s are laid somewhere, and there are %d", seed, want, fmt.Sprint(act.What), have)
				}
			}
		}
	}
}
