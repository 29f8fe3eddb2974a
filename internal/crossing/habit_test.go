package crossing

import (
	"math"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/underway"
	"thole/internal/voyages"
)

// TestWatches: the crew's hours lie about the sun's noon.
func TestWatches(t *testing.T) {
	c := &Crossing{}
	alone := c.watches([]underway.Turn{{Who: []string{"a"}, Hours: 10}})
	hours, middle := 0.0, 0.0
	for _, w := range alone {
		hours += w.To - w.From
		middle += (w.To*w.To - w.From*w.From) / 2
	}
	run(t, []check{
		{"watches of one", float64(len(alone)), 3, 0, "three, with two meals between"},
		{"hours of one", hours, 10, 1e-9, "the crew's"},
		{"middle", middle / hours, 12, 1e-9, "the sun's noon"},
		{"from", alone[0].From, 6, 1e-9, "ten hours and two of meals about noon"},
	})
	turns := c.watches([]underway.Turn{{Who: []string{"a"}, Hours: 11}, {Who: []string{"b"}, Hours: 11}})
	if len(turns) != 1 || turns[0] != (voyages.Watch{From: 1, To: 23}) {
		t.Errorf("two in turn, eleven hours each: %v", turns)
	}
	if all := c.watches([]underway.Turn{{Hours: 16}, {Hours: 16}}); all[0] != (voyages.Watch{From: 0, To: 24}) {
		t.Errorf("more than there are: %v", all)
	}
	if long := c.watches([]underway.Turn{{Hours: 23}}); long[0].From < 0 || math.Abs(long[2].To-24) > 1e-9 {
		t.Errorf("23 hours: %v", long)
	}
	if len(c.Assumed) != 4 {
		t.Errorf("%d of 4 are listed", len(c.Assumed))
	}
}

// TestWear: load and growth by day are the folder's.
func TestWear(t *testing.T) {
	c := demo(t, "sanderling", Quick)
	days := c.Spec.Wear.Days
	if len(days) != int(c.Spec.Most) {
		t.Fatalf("%d days", len(days))
	}
	for d := range c.Trip.Days {
		want := (c.Trip.State(d, 0).Mass + c.Trip.State(d+1, 0).Mass) / 2
		if math.Abs(days[d].Load-want) > 1e-9 {
			t.Fatalf("day %d: %.3f kg, want %.3f", d, days[d].Load, want)
		}
	}
	if last := days[len(days)-1].Load; last != days[c.Trip.Days].Load || last > days[0].Load-50 {
		t.Errorf("%.1f kg at the end, %.1f at the start", last, days[0].Load)
	}
	// She is scraped every fourteenth day in the evening.
	for _, d := range []int{13, 27, 97} {
		if !(days[d].Foul > days[d-5].Foul && days[d].Foul > days[d+1].Foul+0.005) || days[d+1].Foul != days[1+(d+1)/14*14-1].Foul {
			t.Errorf("growth takes %.4f, %.4f and then %.4f on days %d to %d", days[d-5].Foul, days[d].Foul, days[d+1].Foul, d-5, d+1)
		}
	}
	if off := days[14].Foul - days[28].Foul; math.Abs(off) > 1e-12 {
		t.Errorf("growth of one age takes another share on another day: %g", off)
	}
}

// TestNoSeaAnchor: without one she lies adrift, and that is listed.
func TestNoSeaAnchor(t *testing.T) {
	with := demo(t, "sanderling", Quick)
	f := *folder(t, "sanderling")
	f.Boat.SeaAnchors = nil
	c := of(t, answer.NewCase(&f), Quick)
	d, a := c.Spec.Boat.Adrift(12, 830)
	e, b := c.Spec.Boat.Anchored(12, 830)
	held, _ := with.Spec.Boat.Anchored(12, 830)
	if d != e || a != b || held > 0.6*d {
		t.Errorf("adrift %.3f m/s, without a sea anchor %.3f, with one %.3f", d, e, held)
	}
	listed := false
	for _, x := range c.Assumed {
		listed = listed || x.File == "boat.yaml: sea anchors"
	}
	if !listed {
		t.Error("that she has none is not listed")
	}
}

// TestRouteOverLand: a leg over an island is named, with the mend.
func TestRouteOverLand(t *testing.T) {
	f := *folder(t, "sanderling")
	v := *f.Voyage
	v.By = []model.Waypoint{{Name: "beyond Martinique", Lat: 14.6 * deg, Lon: -62 * deg, Given: true}}
	f.Voyage = &v
	c := of(t, answer.NewCase(&f), Quick)
	if len(c.Notes) != 2 || !strings.Contains(c.Notes[0], "Mindelo to beyond Martinique runs over land at [14.") || !strings.Contains(c.Notes[0], "put a point between") ||
		!strings.Contains(c.Notes[1], "beyond Martinique to Bridgetown") { // over St Lucia
		t.Errorf("notes %q", c.Notes)
	}
	if w := c.Spec.Route[0].Within; w < closest || w > loose {
		t.Errorf("%.1f miles count as passed", w/mile)
	}
}
