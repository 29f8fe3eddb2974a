package oars

import (
	"context"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/sheet"
	"thole/internal/units"
)

func folder(t testing.TB, name string, change func(f *model.Folder)) *answer.Case {
	t.Helper()
	f, faults := boatfolder.Read("../../../demo/" + name)
	if f == nil || len(faults) > 0 {
		t.Fatal(faults)
	}
	if change != nil {
		change(f)
	}
	return answer.NewCase(f)
}

func ask1(t testing.TB, c *answer.Case, o answer.Options) answer.Answer {
	t.Helper()
	a, err := Ask(context.Background(), c, o)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// TestDemos: each demonstration boat has a whole answer, with every block that the sheet is to have.
func TestDemos(t *testing.T) {
	for name, want := range map[string]answer.Verdict{"sanderling": answer.Yes, "turnstone": answer.Close} {
		a := ask1(t, folder(t, name, nil), answer.Options{})
		if a.Verdict != want || a.Margin == nil || !(a.Margin.Spread > 0) || a.Worst == nil {
			t.Errorf("%s: %s %+v", name, a.Verdict, a.Margin)
		}
		for _, word := range []string{" W of ", " kn on day ", "head wind of"} {
			if !strings.Contains(a.Sentence, word) {
				t.Errorf("%s: no %q in %q", name, word, a.Sentence)
			}
		}
		drawings, charts, matrices := 0, 0, 0
		for _, b := range a.Sheet.Blocks {
			switch {
			case b.Drawing != nil:
				drawings++
				for _, p := range b.Drawing.Paths {
					for _, q := range p.Points {
						if math.IsNaN(q[0] + q[1]) {
							t.Errorf("%s: %s, %s is drawn nowhere", name, b.Drawing.Heading, p.Name)
						}
					}
				}
			case b.Chart != nil:
				charts++
				for _, s := range b.Chart.Series {
					if len(s.X) < 2 || len(s.X) != len(s.Y) {
						t.Errorf("%s: %s has %d and %d points of %s", name, b.Chart.Heading, len(s.X), len(s.Y), s.Name)
					}
				}
			case b.Matrix != nil:
				matrices++
				for _, row := range b.Matrix.Cells {
					if len(row) != len(b.Matrix.Columns) {
						t.Errorf("%s: %d cells, %d columns", name, len(row), len(b.Matrix.Columns))
					}
				}
			}
		}
		if drawings != 4 || charts != 4 || matrices != 1 {
			t.Errorf("%s: %d drawings, %d charts, %d matrices", name, drawings, charts, matrices)
		}
		if _, err := json.Marshal(a.Figures); err != nil {
			t.Error(err)
		}
	}
}

// TestRaisedSeat: by geometry, where the handles are too high, a seat so much higher gives so much more room, and gates so much lower
// a little more than that, by the ratio of the oar's arms.
// Source: closed form of a straight bar on a pin
func TestRaisedSeat(t *testing.T) {
	base := ask1(t, folder(t, "turnstone", nil), answer.Options{Bare: true})
	const by = 0.003
	seat := ask1(t, folder(t, "turnstone", func(f *model.Folder) {
		for i := range f.Boat.Rowing {
			f.Boat.Rowing[i].Seat.Z += by
		}
	}), answer.Options{Bare: true})
	gates := ask1(t, folder(t, "turnstone", func(f *model.Folder) {
		for i := range f.Boat.Rowing {
			f.Boat.Rowing[i].Gates.At.Z -= by
		}
	}), answer.Options{Bare: true})
	// The blade's level stays in the water, so the hand falls by the gate's way and by that times hand's arm over blade's arm.
	o := folder(t, "turnstone", nil).Folder.Boat.Rowing[1].Oars
	hand, blade := float64(o.Inboard)-0.06, float64(o.Length-o.Inboard-o.BladeLength/2)
	if got := seat.Margin.Value - base.Margin.Value; math.Abs(got-by) > 0.0005 {
		t.Errorf("a seat 3 mm higher gives %g m", got)
	}
	if got := gates.Margin.Value - base.Margin.Value; math.Abs(got-by*(1+hand/blade)) > 0.0005 {
		t.Errorf("gates 3 mm lower give %g m, want %g", got, by*(1+hand/blade))
	}
}

// TestOffers: what is offered does in a folder what is said; its text is that of a value in boat.yaml.
func TestOffers(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	c := folder(t, "turnstone", nil)
	a := ask1(t, c, answer.Options{})
	if len(a.Offers) < 1 {
		t.Fatalf("%d offers", len(a.Offers))
	}
	for _, o := range a.Offers {
		if len(o.Acts) != 1 || o.Acts[0].Do != model.SetValue || !strings.HasPrefix(o.Acts[0].Key, "rowing[") {
			t.Errorf("%s: %+v", o.Name, o.Acts)
		}
		d, faults := boatfolder.Open("../../../demo/turnstone")
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		if d, faults = d.With(boatfolder.Edit{File: "boat.yaml", Key: o.Acts[0].Key, Text: o.Acts[0].Text}); len(faults) > 0 {
			t.Fatalf("%s: %v", o.Name, faults)
		}
		f, faults := d.Read()
		if f == nil || len(faults) > 0 {
			t.Fatalf("%s: %v", o.Name, faults)
		}
		now := ask1(t, answer.NewCase(f), answer.Options{Bare: true})
		if !(now.Margin.Value > a.Margin.Value) || !strings.Contains(o.Why, now.Margin.Shown) {
			t.Errorf("%s says %q and makes %s", o.Name, o.Why, now.Margin.Shown)
		}
	}
}

// TestCannotTell: a folder that does not say enough names what is missing, and who would fit is still told.
func TestCannotTell(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(f *model.Folder)
		key    string
		matrix bool
	}{
		{"no stature", func(f *model.Folder) { f.Voyage.Crew[0].Stature = 0 }, "crew[0].stature", true},
		{"no rowing place", func(f *model.Folder) { f.Boat.Rowing = nil }, "rowing", false},
		{"no gates", func(f *model.Folder) { f.Boat.Rowing[0].Gates = nil }, "rowing[0].gates", false},
		{"no weights", func(f *model.Folder) { f.Boat.Weights, f.Stores = nil, nil }, "weights", false},
	} {
		a := ask1(t, folder(t, "sanderling", c.change), answer.Options{})
		told := slices.ContainsFunc(a.Sheet.Blocks, func(b sheet.Block) bool { return b.Matrix != nil })
		if a.Verdict != answer.CannotTell || len(a.Needs) == 0 || a.Needs[0].Key != c.key || a.Margin != nil || told != c.matrix {
			t.Errorf("%s: %s, %+v, matrix %t", c.name, a.Verdict, a.Needs, told)
		}
	}
}

// TestAssumed: the limit and what the oars lack have defaults, and each is listed.
func TestAssumed(t *testing.T) {
	a := ask1(t, folder(t, "sanderling", func(f *model.Folder) {
		f.Boat.Limits.Clearance = nil
		f.Boat.Rowing[0].Oars.BladeLength = 0
		f.Boat.Rowing[0].Stretcher.Angle = 0
		f.Voyage.WaterTemperature = nil
		f.Voyage.Scrape = 0
		f.Voyage.Crew[0].Hours = 0
	}), answer.Options{Brief: true})
	for _, file := range []string{"boat.yaml: limits.clearance", "boat.yaml: rowing[0].oars.blade", "boat.yaml: rowing[0].stretcher.angle", "voyage.yaml: water temperature", "voyage.yaml: scrape", "voyage.yaml: crew[0].hours"} {
		if !slices.ContainsFunc(a.Assumptions, func(x answer.Assumption) bool { return x.File == file && x.Value != "" }) {
			t.Errorf("%s is not listed", file)
		}
	}
	if a.Margin.Asked != usualClearance || len(a.Sheet.Blocks) > 0 {
		t.Errorf("asked %g, %d blocks", a.Margin.Asked, len(a.Sheet.Blocks))
	}
}

// TestHostile: measures that cannot be give an answer or an error that can be read, and never a number out of nothing.
func TestHostile(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another, many times over: nothing for the race detector")
	}
	for name, change := range map[string]func(f *model.Folder){
		"gates on the centre line": func(f *model.Folder) { f.Boat.Rowing[0].Gates.At.Y = 0 },
		"all inboard":              func(f *model.Folder) { f.Boat.Rowing[0].Oars.Inboard = f.Boat.Rowing[0].Oars.Length },
		"seat above the mast":      func(f *model.Folder) { f.Boat.Rowing[0].Seat.Z = 30 },
		"stretcher under the bow":  func(f *model.Folder) { f.Boat.Rowing[0].Stretcher.At.X = -2 },
		"no power":                 func(f *model.Folder) { f.Voyage.Crew[0].Power.Value = units.Power(1e-9) },
		"sinks":                    func(f *model.Folder) { f.Boat.Weights[0].Mass.Value = 9e5 },
	} {
		a, err := Ask(context.Background(), folder(t, "sanderling", change), answer.Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if a.Sentence == "" || strings.Contains(a.Sentence, "NaN") || a.Verdict == answer.CannotTell && len(a.Needs) == 0 {
			t.Errorf("%s: %s %q", name, a.Verdict, a.Sentence)
		}
	}
}
