package spare

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
)

// twin works out what is provided when some things are lost, straight from the folder, with no tree: the slow, plain way.
type twin struct {
	f     *model.Folder
	parts []part
	lost  map[string]bool // keys of atoms; a piece by its key and number
	words map[string][]int
	kept  map[string]int // what was found of a name since something was last lost
}

func newTwin(f *model.Folder, parts []part) *twin {
	w := &twin{f: f, parts: parts, lost: map[string]bool{}, words: map[string][]int{}, kept: map[string]int{}}
	for i, p := range parts {
		for _, n := range append(slices.Clone(p.provides), p.what) {
			if k := plain(n); !slices.Contains(w.words[k], i) {
				w.words[k] = append(w.words[k], i)
			}
		}
	}
	return w
}

func (w *twin) flooded(room int) bool {
	b := &w.f.Boat
	cabin, _ := b.FloodsWith(room)
	return w.lost[roomID(room)] || cabin >= 0 && w.lost[cabinID(cabin)]
}

// left are the pieces of a thing that still serve.
func (w *twin) left(i int) int {
	p := &w.parts[i]
	for _, n := range p.needs {
		if w.have(n) == 0 {
			return 0
		}
	}
	for _, r := range p.rooms {
		if !p.hardy(&w.f.Boat.Compartments[r]) && w.flooded(r) {
			return 0
		}
	}
	if w.lost[batteryLost] && slices.Contains(w.words["battery"], i) {
		return 0
	}
	n := 0
	for k := range p.count {
		if !w.lost[fmt.Sprintf("thing %d piece %d", i, k)] {
			n++
		}
	}
	return n
}

func (w *twin) pieces(name string) (n int) {
	for _, i := range w.words[plain(name)] {
		n += w.left(i)
	}
	return n
}

// have is how many there are of a name: 0 when it is not provided.
func (w *twin) have(name string) int {
	n, known := w.kept[name]
	if !known {
		n = w.count(name)
		w.kept[name] = n
	}
	return n
}

func (w *twin) count(name string) int {
	for i := range w.f.Needs.Functions {
		if plain(w.f.Needs.Functions[i].Name) == plain(name) {
			if w.provided(i) {
				return 1
			}
			return 0
		}
	}
	sound := 0
	for i := range crew(w.f) {
		if !w.lost[personID(i)] {
			sound++
		}
	}
	switch plain(name) {
	case "calm":
		return one(!w.lost[noCalm])
	case "crew":
		return one(sound >= 1)
	case plain("crew of two"):
		return one(sound >= 2)
	case "battery":
		return one(w.pieces(name)+w.pieces(apart) > 0)
	}
	for i, c := range w.f.Boat.Cabins {
		if plain("dry "+c.Name) == plain(name) || plain(name) == plain("dry cabin") && !w.lost[cabinID(i)] {
			return one(!w.lost[cabinID(i)])
		}
	}
	return w.pieces(name)
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

func (w *twin) provided(i int) bool {
	fn := &w.f.Needs.Functions[i]
	if w.pieces(fn.Name) > 0 {
		return true
	}
	all, any, n := len(fn.AllOf) > 0, false, 0
	for _, name := range fn.AllOf {
		all = all && w.have(name) > 0
	}
	for _, name := range fn.AnyOf {
		any = any || w.have(name) > 0
	}
	for _, name := range fn.From {
		n += w.have(name)
	}
	return all || any || fn.Least > 0 && n >= fn.Least
}

// TestAgainstTwin: the single losses and the pairs of both demo boats are those that the plain way finds by losing
// each thing, and each two, in turn.
//
// Source: a twin that knows no tree and no cut set
func TestAgainstTwin(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another, many times over: nothing for the race detector")
	}
	for _, name := range []string{"sanderling", "turnstone"} {
		f, faults := boatfolder.Read("../../../demo/" + name)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		c := answer.NewCase(f)
		trip, err := c.Trip()
		if err != nil {
			t.Fatal(err)
		}
		q := &ask{c: c, t: trip, days: []int{0, trip.Days - 1}}
		for _, day := range q.days {
			q.looks = append(q.looks, grow(trip, day))
		}
		if err := q.find(context.Background()); err != nil {
			t.Fatal(err)
		}
		want := map[string]bool{}
		for _, g := range q.looks {
			w := newTwin(f, g.parts)
			atoms := make([]string, 0, len(g.atoms))
			for id := range g.atoms {
				atoms = append(atoms, id)
			}
			slices.Sort(atoms)
			ends := func(lost ...string) map[int]bool {
				clear(w.lost)
				clear(w.kept)
				for _, x := range lost {
					w.lost[x] = true
				}
				out := map[int]bool{}
				for i, fn := range f.Needs.Functions {
					if fn.Rank > 0 && !w.provided(i) {
						out[i] = true
					}
				}
				return out
			}
			tell := func(i int, lost ...string) {
				key, _ := g.losses(lost)
				want[fmt.Sprintf("%s: %s on %d", f.Needs.Functions[i].Name, key, g.day)] = true
			}
			if gone := ends(); len(gone) > 0 {
				t.Errorf("%s: not provided on day %d: %v", name, g.day, gone)
			}
			alone := map[string]map[int]bool{}
			for _, x := range atoms {
				alone[x] = ends(x)
				for i := range alone[x] {
					tell(i, x)
				}
			}
			for k, x := range atoms {
				for _, y := range atoms[k+1:] {
					for i := range ends(x, y) {
						if !alone[x][i] && !alone[y][i] {
							tell(i, x, y)
						}
					}
				}
			}
		}
		got := map[string]bool{}
		for _, s := range q.f.Singles {
			for _, d := range s.Days {
				got[fmt.Sprintf("%s: %s on %d", s.Function, s.key, d)] = true
			}
		}
		for _, g := range q.looks { // pairs by day, from the tree itself: the figures join their days
			found, err := q.cuts(context.Background(), g)
			if err != nil {
				t.Fatal(err)
			}
			for _, one := range found {
				for _, cut := range one.Cuts {
					key, _ := g.losses(cut)
					got[fmt.Sprintf("%s: %s on %d", f.Needs.Functions[g.tops[one.Function]].Name, key, g.day)] = true
				}
			}
		}
		for k := range want {
			if !got[k] {
				t.Errorf("%s: the plain way finds %s", name, k)
			}
		}
		for k := range got {
			if !want[k] {
				t.Errorf("%s: the plain way does not find %s", name, k)
			}
		}
		if len(want) < 40 {
			t.Errorf("%s: only %d losses", name, len(want))
		}
	}
}
