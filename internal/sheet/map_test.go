package sheet

import (
	"math"
	"reflect"
	"testing"
)

// TestFinish: what is rounded is not seen to move, a track keeps its point a day, and nothing is left of a ring of one place.
func TestFinish(t *testing.T) {
	speck := [][2]float64{{5, 5}, {5.0000001, 5}, {5, 5.0000001}}
	m := Map{MinX: 0, MaxX: 40, MinY: 0, MaxY: 20, Land: [][][2]float64{{{1, 1}, {1.000001, 1}, {2.00012345, 1}, {2, 2}}, speck},
		Lines:  []Path{{Points: [][2]float64{{0, 0}, {0, 1e-9}, {40, 20}}}},
		Tracks: []Track{{Points: [][2]float64{{3, 3}, {3, 3}, {3.00049, 3}}}},
		All:    []Box{{Share: 0.123456}}, Days: []MapOn{{Day: 1, Boxes: []Box{{Share: 1e-9}}}}}
	m.Finish()
	if len(m.Land) != 1 || len(m.Land[0]) != 3 || len(m.Lines[0].Points) != 2 || len(m.Tracks[0].Points) != 3 {
		t.Fatalf("%+v", m)
	}
	if d := math.Abs(m.Land[0][1][0] - 2.00012345); d > 40.0/20000 {
		t.Errorf("a point moved by %g of 40", d)
	}
	if m.All[0].Share != 0.1235 || m.Days[0].Boxes[0].Share != 1e-4 {
		t.Errorf("shares %g %g", m.All[0].Share, m.Days[0].Boxes[0].Share)
	}
	if len(m.Steps) != len(steps) {
		t.Errorf("%d steps", len(m.Steps))
	}
	own := Map{MaxX: 1, Steps: []Step{{Text: "any"}}, All: []Box{{}}}
	own.Finish()
	if len(own.Steps) != 1 {
		t.Error("a map's own steps were taken from it")
	}
}

// TestMapReads holds what a face reads off a map against the contract's words.
func TestMapReads(t *testing.T) {
	m := Map{X: []float64{0, 1, 2}, Y: []float64{0, 3}, Steps: steps, Days: []MapOn{{Day: 2}, {Day: 5}, {Day: 9}}}
	for _, c := range []struct {
		day  int
		want *MapOn
	}{{0, nil}, {2, &m.Days[0]}, {4, &m.Days[0]}, {5, &m.Days[1]}, {99, &m.Days[2]}} {
		if got := m.On(c.day); got != c.want {
			t.Errorf("day %d: %+v", c.day, got)
		}
	}
	for share, want := range map[float64]int{0: 0, 0.0099: 0, 0.01: 1, 0.029: 1, 0.03: 2, 0.1: 3, 0.3: 4, 1: 4} {
		if got := m.Step(share); got != want {
			t.Errorf("share %g is step %d, want %d", share, got, want)
		}
	}
	if _, _, _, _, ok := m.Corners(Box{I: 2}); ok {
		t.Error("a box beyond the grid has corners")
	}
	if a, b, c, d, ok := m.Corners(Box{I: 1}); !ok || [4]float64{a, b, c, d} != [4]float64{1, 0, 2, 3} {
		t.Error(a, b, c, d, ok)
	}
	tr := Track{First: 3, Points: [][2]float64{{1, 0}, {2, 0}}}
	for _, c := range []struct {
		day       int
		x         float64
		ended, ok bool
	}{{2, 0, false, false}, {3, 1, false, true}, {4, 2, true, true}, {80, 2, true, true}} {
		if at, ended, ok := tr.At(c.day); at[0] != c.x || ended != c.ended || ok != c.ok {
			t.Errorf("day %d: %v %v %v", c.day, at, ended, ok)
		}
	}
	if _, _, ok := (Track{}).At(0); ok {
		t.Error("a track without points is somewhere")
	}
}

// TestParts: 84 days in four are parted near every 17th, at days that end in 0 or 5.
func TestParts(t *testing.T) {
	var m Map
	for d := range 85 {
		m.Days = append(m.Days, MapOn{Day: d})
	}
	days := func() (out []int) {
		for _, on := range m.Parts(4) {
			out = append(out, on.Day)
		}
		return out
	}
	if got, want := days(), []int{15, 35, 50, 65}; !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	// From day 51 on fewer than half are at sea: stragglers do not stretch the trip.
	for d := range m.Days {
		m.Days[d].Boxes = []Box{{Share: 0.4}, {I: 1, Share: 0.2}}
		if d > 50 {
			m.Days[d].Boxes = m.Days[d].Boxes[:1]
		}
	}
	if got, want := days(), []int{10, 20, 30, 40}; !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if few := (&Map{Days: []MapOn{{Day: 7}}}).Parts(4); len(few) != 1 || few[0].Day != 7 {
		t.Errorf("%+v", few)
	}
	if none := (&Map{}).Parts(4); none != nil {
		t.Error(none)
	}
}
