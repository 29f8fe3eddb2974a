package passage

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/climate"
	"thole/internal/coast"
	"thole/internal/crossing"
	"thole/internal/model"
)

func demo(t testing.TB, name string) *model.Folder {
	t.Helper()
	f, faults := boatfolder.Read("../../../demo/" + name)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return f
}

func asked(t testing.TB, c *answer.Case, o answer.Options) (answer.Answer, Figures) {
	t.Helper()
	a, err := Ask(context.Background(), c, o)
	if err != nil {
		t.Fatal(err)
	}
	f, ok := a.Figures.(Figures)
	if !ok && !o.Bare {
		t.Fatal(a.Sentence)
	}
	return a, f
}

// TestDemos: both invented boats take about as long as boats of their crews have, and what stands in the answer agrees with itself.
//
// Source: checks-voyage 5.3, published crossings: solo from the Canaries to the Lesser Antilles, 2,540 nm, 46 to 96 days, so 1.1 to 2.3 kn
// all day; the Indian Ocean 56 to 154 days over about 3,100 nm, 0.84 to 2.3 kn; the record of a day 116.8 nm. They are other boats: a band of sanity and no more.
func TestDemos(t *testing.T) {
	for _, c := range []struct {
		name       string
		slow, fast float64 // knots made good
	}{{"sanderling", 1.1, 2.3}, {"turnstone", 0.84, 2.3}} {
		if testing.Short() && c.name != "sanderling" {
			continue
		}
		a, f := asked(t, answer.NewCase(demo(t, c.name)), answer.Options{Brief: true})
		t.Log(a.Sentence, a.Margin.Shown)
		if f.Median == nil {
			t.Fatalf("%s: %s", c.name, a.Sentence)
		}
		if least, longest := f.Distance/c.fast/24, f.Distance/c.slow/24; *f.Median < least || *f.Median > longest {
			t.Errorf("%s: half take %.0f days, published boats %.0f to %.0f for %.0f nm", c.name, *f.Median, least, longest, f.Distance)
		}
		if f.Run.Quarter >= f.Run.Median || f.Run.Median >= f.Run.ThreeQuarters || f.Run.ThreeQuarters > 116.8 {
			t.Errorf("%s: a day's gain %+v", c.name, f.Run)
		}
		m := a.Margin
		if m.Value != float64(f.Planned)-*f.Median || m.Confidence != f.ByPlanned.Value || m.Judge() != a.Verdict || !(m.Spread > 0) {
			t.Errorf("%s: %+v and %s beside %+v", c.name, m, a.Verdict, f.ByPlanned)
		}
		if f.Twentieth != nil && math.Abs(m.Asked-(*f.Twentieth-*f.Median)) > 1e-9 {
			t.Errorf("%s: asked %g", c.name, m.Asked)
		}
		last := 0.0
		for i, d := range f.Arrived {
			if d.Share < last || i > 0 && d.Day != f.Arrived[i-1].Day+1 {
				t.Fatalf("%s: the curve falls or jumps at day %d", c.name, d.Day)
			}
			last = d.Share
			if float64(d.Day) < *f.Median && d.Share > 0.5 || float64(d.Day) > *f.Median+1 && d.Share < 0.5 {
				t.Errorf("%s: %.2f have arrived by day %d, half by day %.1f", c.name, d.Share, d.Day, *f.Median)
			}
		}
		ends := last + f.Missed.Value + f.Ashore.Value + f.OutOfTime.Value
		if math.Abs(ends-1) > 1e-9 {
			t.Errorf("%s: the ends come to %g", c.name, ends)
		}
		for _, x := range []Chance{f.ByPlanned, f.Missed, f.Ashore, f.OutOfTime, f.Storms.Chance} {
			if x.Low > x.Value || x.High < x.Value || x.Low < 0 || x.High > 1 {
				t.Errorf("%s: %+v", c.name, x)
			}
		}
		for i, p := range f.Points {
			if p.Name == "" || i > 0 && p.Median != nil && *p.Median <= *f.Points[i-1].Median {
				t.Errorf("%s: %+v after %+v", c.name, p, f.Points[i-1])
			}
		}
	}
}

// TestWhole: the sheet of a demo boat has all that it is to have, in its order, and agrees with the figures.
//
// Source: property; counting
func TestWhole(t *testing.T) {
	if testing.Short() {
		t.Skip("two thousand passages; left out with -short")
	}
	var done []int
	c := answer.NewCase(demo(t, "sanderling"))
	a, f := asked(t, c, answer.Options{Day: 20, Progress: func(d, total int) {
		if d > total {
			t.Errorf("%d of %d done", d, total)
		}
		done = append(done, d)
		if d == total {
			done = append(done, -total)
		}
	}})
	if len(done) == 0 || !slices.Contains(done, -slices.Max(done)) {
		t.Errorf("progress ends at %v", done[max(0, len(done)-3):])
	}
	for _, v := range []any{a, a.Sheet} {
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		if len(text) > 1500e3 {
			t.Errorf("%d kB", len(text)/1000)
		}
	}
	_, brief := asked(t, c, answer.Options{Brief: true})
	if *f.Median != *brief.Median || f.ByPlanned != brief.ByPlanned || brief.Months != nil {
		t.Errorf("brief %+v, whole %+v", brief.ByPlanned, f.ByPlanned)
	}

	m := a.Sheet.Blocks[0].Map
	if m == nil || len(m.Land) == 0 || len(m.Tracks) < 3 || len(m.All) < 20 || len(m.Days) < 30 || !strings.Contains(m.Notice, coast.Notice) {
		t.Fatalf("the sheet begins with %+v", a.Sheet.Blocks[0])
	}
	for _, d := range m.Days {
		sum := 0.0
		for _, b := range d.Boxes {
			if _, _, _, _, ok := m.Corners(b); !ok {
				t.Fatalf("day %d: a box off the grid: %+v", d.Day, b)
			}
			sum += b.Share
		}
		if at := float64(0); sum > 1.001 || sum < at || d.Said == "" {
			t.Errorf("day %d: shares come to %.3f; %q", d.Day, sum, d.Said)
		}
	}
	if d := m.Days[0]; d.Day != 0 || len(d.Boxes) != 1 || d.Boxes[0].Share != 1 {
		t.Errorf("on day 0 they are not all at the start: %+v", d)
	}
	for _, tr := range m.Tracks {
		if tr.First != 0 || math.Abs(float64(len(tr.Points))-lengthOf(f, tr.Name)) > 2 {
			t.Errorf("%s: %d points", tr.Name, len(tr.Points))
		}
	}

	if len(f.Months) != dates || f.Months[0].Leave != f.Leave {
		t.Fatalf("months %+v", f.Months)
	}
	best, stormy := 0, 0
	for _, x := range f.Months {
		if x.Best {
			best++
		}
		when, err := time.Parse(time.DateOnly, x.Leave)
		if err != nil {
			t.Fatal(err)
		}
		// The Atlantic season is June to November (NOAA): who leaves in July or August for two months is in it, whoever leaves in December is not.
		switch when.Month() {
		case time.July, time.August:
			if x.Stormy < 0.9 {
				t.Errorf("leaving on %s %.0f %% meet the season", x.Leave, 100*x.Stormy)
			}
			stormy++
		case time.December:
			if x.Stormy > 0.1 {
				t.Errorf("leaving on %s %.0f %% meet the season", x.Leave, 100*x.Stormy)
			}
		}
	}
	if best != 1 || stormy != 2 {
		t.Errorf("%d best months, %d in the season", best, stormy)
	}
	fastest, slowest := math.Inf(1), 0.0
	for _, x := range f.Months {
		fastest, slowest = math.Min(fastest, x.ByPlanned), math.Max(slowest, x.ByPlanned)
	}
	if slowest-fastest < 0.02 {
		t.Errorf("the month of leaving makes no difference: %.2f to %.2f in time", fastest, slowest)
	}

	if len(f.Tonight) < 2 || f.Tonight[1].Day != 20 {
		t.Fatalf("nights %+v", f.Tonight)
	}
	for _, n := range f.Tonight {
		if n.Hours <= 0 || n.Adrift.Far < n.Adrift.Middle || n.Adrift.Keep < n.Adrift.Far || n.Anchored.Far > n.Adrift.Far || n.Anchored.Keep <= 0 {
			t.Errorf("%+v", n)
		}
	}
	if f.Reach == nil || len(f.Reach.Lines) < 2 {
		t.Fatalf("reach %+v", f.Reach)
	}
	for _, l := range f.Reach.Lines {
		if l.Left < 0 || l.Right < 0 || l.Share < 0 || l.Share > 1 || l.Before <= 0 {
			t.Errorf("%+v", l)
		}
	}

	all := ""
	for _, b := range a.Sheet.Blocks {
		if b.Text != nil {
			all += strings.Join(b.Text.Paragraphs, "\n") + "\n"
		}
	}
	if first := strings.Fields(climate.Notice); !strings.Contains(strings.Join(strings.Fields(all), " "), strings.Join(first[:8], " ")) || !strings.Contains(all, coast.Notice) {
		t.Error("the sheet leaves out where climate and coast come from")
	}

	// One of them again, by its number.
	n := uint64(7)
	again, _ := asked(t, c, answer.Options{Again: &n})
	found := false
	if tracks := again.Sheet.Blocks[0].Map.Tracks; !strings.HasSuffix(tracks[len(tracks)-1].Name, ", passage 7") {
		t.Errorf("passage 7 is not drawn: %+v", tracks)
	}
	for _, b := range again.Sheet.Blocks {
		found = found || b.Table != nil && strings.HasPrefix(b.Table.Heading, "Passage 7 day by day") && len(b.Table.Rows) > 20
	}
	if !found {
		t.Error("passage 7 is not shown day by day")
	}
	n = whole
	if _, err := Ask(context.Background(), c, answer.Options{Again: &n}); err == nil || !strings.Contains(err.Error(), "0 to 499") {
		t.Errorf("passage %d: %v", n, err)
	}
}

// lengthOf is how many days a track has.
func lengthOf(f Figures, name string) float64 {
	for _, tr := range f.Tracks {
		if strings.HasPrefix(name, tr.Name+",") {
			return math.Floor(tr.Days) + 2
		}
	}
	return math.NaN()
}

// TestChanges: what ought to make her slower does; the draws are common, so that hours tell.
//
// Source: property; the day by which half have passed the point before the landfall, which chance at the landfall does not bear on
func TestChanges(t *testing.T) {
	as := answer.NewCase(demo(t, "sanderling"))
	half := func(change func(f *model.Folder)) float64 {
		f := demo(t, "sanderling")
		f.Voyage.Habits.Watches = nil // from the hours
		change(f)
		c := answer.NewCaseFrom(f, as)
		trip, err := c.Trip()
		if err != nil {
			t.Fatal(err)
		}
		x, err := crossing.New(c, trip, crossing.Quick)
		if err != nil {
			t.Fatal(err)
		}
		tally, err := x.Many(context.Background(), bare, nil)
		if err != nil {
			t.Fatal(err)
		}
		days, ok := tally.PointBy(1, 0.5)
		if !ok {
			t.Fatal("half never pass the point")
		}
		return days
	}
	base := half(func(*model.Folder) {})
	for _, c := range []struct {
		name      string
		low, high float64 // days more
		change    func(f *model.Folder)
		source    string
	}{
		{"an hour less of ten at the oars", 0.5, 8, func(f *model.Folder) { f.Voyage.Crew[0].Hours -= 3600 }, "at most a tenth less of the way that is rowed"},
		{"a tenth lighter", -6, 0.3, func(f *model.Folder) {
			for i := range f.Boat.Weights {
				f.Boat.Weights[i].Mass.Value *= 0.85
			}
		}, "less wetted skin and wave making; a lighter boat may drift faster, too"},
		{"ten watts less", 0.1, 10, func(f *model.Folder) { f.Voyage.Crew[0].Power.Value -= 10 }, "speed goes with about the cube root of power: 5 % less"},
		{"leaving in July", -40, 40, func(f *model.Folder) { f.Voyage.Leave = f.Voyage.Leave.AddDate(0, 6, 0) }, "another season's wind; either way"},
	} {
		by := half(c.change) - base
		t.Logf("%s: %+.1f days of %.1f", c.name, by, base)
		if by < c.low || by > c.high || by == 0 {
			t.Errorf("%s: %+.2f days, %g to %g looked for (%s)", c.name, by, c.low, c.high, c.source)
		}
		if testing.Short() {
			return
		}
	}
}

// TestCannotTell: what is missing is named with its file, its key and why; the smallest folder is answered so too.
func TestCannotTell(t *testing.T) {
	for _, c := range []struct {
		name, key string
		change    func(f *model.Folder)
	}{
		{"no voyage", "from", func(f *model.Folder) { f.Voyage = nil }},
		{"no date", "leave", func(f *model.Folder) { f.Voyage.Leave = time.Time{} }},
		{"nowhere to go", "to", func(f *model.Folder) { f.Voyage.To = model.Waypoint{} }},
		{"nobody rows", "crew", func(f *model.Folder) { f.Voyage.Crew = nil }},
		{"no oars", "rowing", func(f *model.Folder) { f.Boat.Rowing = nil }},
		{"sinks", "", func(f *model.Folder) { f.Boat.Weights[0].Mass.Value += 9000 }},
	} {
		f := demo(t, "sanderling")
		c.change(f)
		a, err := Ask(context.Background(), answer.NewCase(f), answer.Options{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		named := slices.ContainsFunc(a.Needs, func(n answer.Need) bool { return strings.Contains(n.Key, c.key) && n.File != "" && n.Why != "" })
		if a.Verdict != answer.CannotTell || !named || a.Margin != nil || !strings.HasPrefix(a.Sentence, "Cannot tell") {
			t.Errorf("%s: %s %q %+v", c.name, a.Verdict, a.Sentence, a.Needs)
		}
	}
}

// TestStops: a context that is done ends it, and the next who asks is answered.
func TestStops(t *testing.T) {
	c := answer.NewCase(demo(t, "turnstone"))
	ctx, cancel := context.WithCancel(context.Background())
	_, err := Ask(ctx, c, answer.Options{Progress: func(done, _ int) {
		if done > whole/4 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	if a, err := Ask(context.Background(), c, answer.Options{Bare: true}); err != nil || a.Margin == nil {
		t.Errorf("then %+v, %v", a, err)
	}
}
