package crossing

import (
	"context"
	"errors"
	"math"
	"strings"
	"sync"
	"testing"
	"time"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/climate"
	"thole/internal/earth"
	"thole/internal/model"
	"thole/internal/voyages"
)

const deg = math.Pi / 180

type check struct {
	name           string
	got, want, tol float64
	source         string
}

func run(t *testing.T, all []check) {
	t.Helper()
	for _, c := range all {
		if c.source == "" {
			t.Errorf("%s has no source", c.name)
		}
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s: %g, want %g ± %g (%s)", c.name, c.got, c.want, c.tol, c.source)
		}
	}
}

// folder reads a demonstration boat.
func folder(t testing.TB, name string) *model.Folder {
	t.Helper()
	f, faults := boatfolder.Read("../../demo/" + name)
	if f == nil || len(faults) > 0 {
		t.Fatal(faults)
	}
	return f
}

// demos are cases of the demonstration boats, shared by tests.
var demos sync.Map

// demo is a demonstration boat's passage.
func demo(t testing.TB, name string, d Detail) *Crossing {
	t.Helper()
	k, ok := demos.Load(name)
	if !ok {
		k, _ = demos.LoadOrStore(name, answer.NewCase(folder(t, name)))
	}
	return of(t, k.(*answer.Case), d)
}

func of(t testing.TB, k *answer.Case, d Detail) *Crossing {
	t.Helper()
	trip, err := k.Trip()
	if err != nil {
		t.Fatal(err)
	}
	c, err := New(k, trip, d)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// many makes passages.
func many(t testing.TB, c *Crossing, n int) *voyages.Tally {
	t.Helper()
	tally, err := c.Many(context.Background(), n, nil)
	if err != nil {
		t.Fatal(err)
	}
	return tally
}

// TestDemos: the demonstration boats arrive, in about the time that others have taken.
func TestDemos(t *testing.T) {
	n, detail := 300, Whole
	if testing.Short() {
		n, detail = 60, Quick
	}
	for _, b := range []struct {
		name        string
		median, tol float64
		arrive      float64 // at least
		source      string
	}{
		{"sanderling", 62, 20, 0.9, "solo rows from the Canaries to the Antilles took 46 to 97 days for 2540 sea miles (checks-voyage.md 5.3); 2020 from Mindelo in the same trades: 37 to 77, the slower half for a heavy boat at ten hours a day"},
		{"turnstone", 75, 30, 0.7, "rows across the Indian Ocean took 56 to 154 days, half of 42 attempts arriving (checks-voyage.md 5.3), most of them to Mauritius, 300 sea miles further"},
	} {
		c := demo(t, b.name, detail)
		tally := many(t, c, n)
		med, ok := tally.ArrivalBy(0.5)
		if !ok {
			t.Fatalf("%s: fewer than half arrive: %v", b.name, tally.Ends)
		}
		run(t, []check{{b.name + ": days, one in two", med, b.median, b.tol, b.source}})
		share := float64(tally.Ends[voyages.Arrived]) / float64(tally.Passages)
		if share < b.arrive {
			t.Errorf("%s: %.2f arrive; ends %v", b.name, share, tally.Ends)
		}
		late, _ := tally.ArrivalBy(0.9)
		later, _ := tally.ArrivalBy(0.95)
		t.Logf("%s: one in two %.1f, nine in ten %.1f, nineteen in twenty %.1f days; ends %v; %.1f h a day rowed; notes %q", b.name, med, late, later, tally.Ends,
			float64(tally.RowedS)/float64(tally.AtSeaS)*24, c.Notes)
		for _, a := range c.Assumed {
			if a.What == "" || a.Value == "" || a.Why == "" {
				t.Errorf("%s: taken without a word: %+v", b.name, a)
			}
		}
	}
}

// TestLacking: a folder that lacks its passage says all that it lacks.
func TestLacking(t *testing.T) {
	f := *folder(t, "sanderling")
	v := *f.Voyage
	v.From.Given, v.Leave = false, time.Time{}
	f.Voyage = &v
	k := answer.NewCase(&f)
	trip, err := k.Trip()
	if err != nil {
		t.Fatal(err)
	}
	_, err = New(k, trip, Whole)
	var l *Lacking
	if !errors.As(err, &l) || len(l.Lacks) != 2 || l.Lacks[0].Key != "from" || l.Lacks[1].Key != "leave" || !strings.Contains(l.Error(), "voyage.yaml: from") {
		t.Errorf("no start and no date: %v", err)
	}
	g := *folder(t, "sanderling")
	g.Boat.Rowing = nil
	k = answer.NewCase(&g)
	if trip, err = k.Trip(); err != nil {
		t.Fatal(err)
	}
	if _, err = New(k, trip, Whole); !errors.As(err, &l) || l.Lacks[0].File != "boat.yaml" {
		t.Errorf("no rowing place: %v", err)
	}
}

// TestOwnFiles: a person's wind, current and sets take the place of the embedded ones, read once by their content.
func TestOwnFiles(t *testing.T) {
	f := *folder(t, "sanderling")
	v := *f.Voyage
	var wind, current strings.Builder
	wind.WriteString("month,lat,lon,east,north,scalar\n")
	current.WriteString("month,lat,lon,east,north\n")
	for _, at := range []string{"10,-60", "10,-20", "20,-60", "20,-20"} {
		wind.WriteString("0," + at + ",-5,0,6\n")
		current.WriteString("0," + at + ",-0.2,0\n")
	}
	v.Wind = &model.File{Name: "w.csv", Data: []byte(wind.String())}
	v.Current = &model.File{Name: "c.csv", Data: []byte(current.String())}
	v.Sets = &model.File{Name: "s.csv", Data: []byte("what,south,north,west,east,from,to,set_deg,rate_kn\nset,12,14,-55,-50,1,12,0,1\n")}
	v.Weather.CurrentDoubt = 0.07
	f.Voyage = &v
	c := of(t, answer.NewCase(&f), Quick)
	u, n, s := c.Spec.Climate.Wind(15*deg, -40*deg, c.Spec.Depart)
	cu, cn := c.Spec.Currents.Current(15*deg, -40*deg, c.Spec.Depart)
	zu, zn := c.Spec.Currents.Current(13*deg, -52*deg, c.Spec.Depart)
	run(t, []check{
		{"own wind east", u, -5, 1e-6, "the file"}, {"own wind north", n, 0, 1e-6, "the file"}, {"own mean speed", s, 6, 1e-6, "the file"},
		{"own current east", cu, -0.2, 1e-6, "the file"}, {"own current north", cn, 0, 1e-6, "the file"},
		{"a set of the sea, east", zu, 0, 1e-9, "the table"}, {"a set of the sea, north", zn, 1852.0 / 3600, 1e-9, "the table: a knot to the north"},
		{"doubt of the current", c.Spec.Doubts.Error(15*deg, -40*deg, c.Spec.Depart), 0.07, 1e-9, "voyage.yaml"},
		{"doubt of the set", c.Spec.Doubts.Error(13*deg, -52*deg, c.Spec.Depart), 0.07, 1e-9, "voyage.yaml"},
	})
	if len(c.Notes) < 3 {
		t.Errorf("notes %q", c.Notes)
	}
	reads := 0
	for range 2 {
		if _, err := once("wind", &model.File{Name: "once.csv", Data: []byte("x")}, func(string, []byte) (int, error) { reads++; return 7, nil }); err != nil {
			t.Fatal(err)
		}
	}
	if reads != 1 {
		t.Errorf("read %d times", reads)
	}
	bad := v
	bad.Wind = &model.File{Name: "w.csv", Data: []byte("nothing")}
	f.Voyage = &bad
	k := answer.NewCase(&f)
	trip, err := k.Trip()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := New(k, trip, Quick); err == nil || !strings.Contains(err.Error(), "w.csv") {
		t.Errorf("a file that is no wind: %v", err)
	}
}

// TestLeaving: the same date is the same passage; another has its own wind and season.
func TestLeaving(t *testing.T) {
	c := demo(t, "sanderling", Quick)
	same, err := c.Leaving(c.Leave)
	if err != nil {
		t.Fatal(err)
	}
	if a, b := many(t, c, 20), many(t, same, 20); a.Slowest != b.Slowest || a.RowedS != b.RowedS {
		t.Error("another tally from the same date")
	}
	july, err := c.Leaving(time.Date(2027, 7, 15, 0, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	if july.Leave.Month() != time.July || july.Spec.Wear.Days[40] != c.Spec.Wear.Days[40] {
		t.Errorf("leaving %v", july.Leave)
	}
	s, w := many(t, july, 20), many(t, c, 20)
	if s.Stormy < 18 || w.Stormy > 2 {
		t.Errorf("%d of 20 passages from July are out in the Atlantic's season, June to November (NHC), and %d from January", s.Stormy, w.Stormy)
	}
}

// bare is a passage put together by hand, along places.
func bare(t *testing.T, s voyages.Spec, places ...earth.Place) *Crossing {
	t.Helper()
	f := &model.Folder{Voyage: &model.Voyage{}}
	c := &Crossing{Spec: s, Places: places, keep: answer.NewCase(f), Trip: &afloat.Trip{Folder: f}, Planned: 100}
	var err error
	if c.Route, err = earth.WGS84.Route(earth.GreatCircle, places...); err != nil {
		t.Fatal(err)
	}
	c.Spec.Start = voyages.Place(places[0])
	if err := c.ready(); err != nil {
		t.Fatal(err)
	}
	return c
}

// TestMonth: the fast month is the calendar's within two days.
//
// Source: climate.MonthOf, by the calendar
func TestMonth(t *testing.T) {
	for d := range 4 * 365 {
		at := time.Date(2026, 1, 1, 6, 0, 0, 0, time.UTC).AddDate(0, 0, d)
		off := math.Remainder(float64(month(float64(at.Unix()))-climate.MonthOf(at)), 12)
		if math.Abs(off) > 2.0/30 {
			t.Fatalf("%v: %.3f months off", at, off)
		}
	}
}
