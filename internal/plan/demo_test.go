package plan

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
)

func write(t *testing.T, dir, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestDemos: on the demonstration boats nothing is drawn outside its compartment, no two compartments of one view cover one
// another, and the masses of the lockers with what lies at points are those of the stores (additivity).
func TestDemos(t *testing.T) {
	for _, name := range []string{"sanderling", "turnstone"} {
		d, faults := boatfolder.Open("../../demo/" + name)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		f := read(t, d)
		c := answer.NewCase(f)
		for _, day := range []int{0, 33, f.LastDay()} {
			s, err := Draw(c, d, day, "")
			if err != nil {
				t.Fatal(err)
			}
			drawn := map[string]int{}
			for _, v := range s.Views {
				for _, o := range v.Lockers {
					for _, spot := range o.Spots {
						drawn[spot.Thing]++
						if o.Locker >= 0 && !inside(o.Points, spot.At) {
							t.Errorf("%s day %d, %s: %s is drawn outside %s", name, day, v.Name, spot.Thing, s.Now.Lockers[o.Locker].Name)
						}
					}
				}
			}
			in, all := 0.0, 0.0
			for _, l := range s.Now.Lockers {
				in += l.MassIn
			}
			for i, th := range s.Now.Things {
				if th.Left > 0 && drawn[th.ID] == 0 {
					t.Errorf("%s day %d: %s is nowhere to be seen", name, day, th.Name)
				}
				if th.Locker < 0 {
					in += th.MassLeft
				}
				all += th.MassLeft
				if i < len(f.Stores) {
					if use := f.Stores[i].Use; use.Into != nil && use.Into.Compartment >= 0 {
						all += float64(th.Count-th.Left) * float64(f.Stores[i].Mass.Value)
					}
				}
			}
			if math.Abs(in-all) > 1e-9 {
				t.Errorf("%s day %d: %.3f kg in the lockers and at points, %.3f kg in all", name, day, in, all)
			}
		}
	}
}

// BenchmarkLoad is what a held thing waits for, but for the answers; the aim is under 10 ms.
func BenchmarkLoad(b *testing.B) {
	d, faults := boatfolder.Open("../../demo/sanderling")
	if len(faults) > 0 {
		b.Fatal(faults)
	}
	f, faults := d.Read()
	if len(faults) > 0 {
		b.Fatal(faults)
	}
	c := answer.NewCase(f)
	if _, err := c.Trip(); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Load(c, d, 20, ""); err != nil {
			b.Fatal(err)
		}
	}
}
