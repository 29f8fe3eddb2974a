package fleet

import (
	"bytes"
	"encoding/csv"
	"math"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	"thole/internal/voyages"
)

// TestDates: days of leaving, listed or in steps.
func TestDates(t *testing.T) {
	const calendar = "the calendar"
	own := time.Date(2027, 1, 31, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		dates  Dates
		want   string // with blanks between
		says   string
		source string
	}{
		{Dates{}, "", "", "nothing asked is the folder's own"},
		{Dates{Leave: "2027-01-12, 2027-02-12"}, "2027-01-12 2027-02-12", "", calendar},
		{Dates{Every: "month", To: "2027-06-01"}, "2027-01-31 2027-02-28 2027-03-31 2027-04-30 2027-05-31", "", calendar},
		{Dates{Every: "months", From: "2027-11-30", To: "2028-03-30"}, "2027-11-30 2027-12-30 2028-01-30 2028-02-29 2028-03-30", "", calendar + ": 2028 is a leap year"},
		{Dates{Every: "2 weeks", From: "2027-02-15", To: "2027-03-15"}, "2027-02-15 2027-03-01 2027-03-15", "", calendar},
		{Dates{Every: "10 days", From: "2027-12-25", To: "2028-01-05"}, "2027-12-25 2028-01-04", "", calendar},
		{Dates{Leave: "2027-02-30"}, "", "not a day", calendar},
		{Dates{Leave: "2027-01-12,2027-01-12"}, "", "twice", "a row is shown once"},
		{Dates{Leave: "2027-01-12", Every: "month"}, "", "not both", "one or the other"},
		{Dates{From: "2027-01-12"}, "", "step", "one or the other"},
		{Dates{Every: "moon"}, "", "not a step", "months, weeks and days only"},
		{Dates{Every: "0 days"}, "", "not a step", "it would never end"},
		{Dates{Every: "-1 month"}, "", "not a step", "it would never end"},
		{Dates{Every: "day", To: "2026-01-01"}, "", "before the first", calendar},
		{Dates{Every: "day", To: "2030-01-01"}, "", "more than 400", "the bound"},
	} {
		got, err := c.dates.days(own)
		if c.says != "" {
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%+v: %v", c.dates, err)
			}
			continue
		}
		if err != nil || strings.Join(got, " ") != c.want {
			t.Errorf("%+v: %v (%v), want %s", c.dates, got, err, c.want)
		}
	}
	if got, err := (Dates{Every: "month"}).days(own); err != nil || len(got) != 12 {
		t.Errorf("every month of a year: %v (%v)", got, err)
	}
	if _, err := (Dates{Every: "month"}).days(time.Time{}); err == nil {
		t.Error("steps from no day")
	}
}

// TestRow: the figures of a tally in which one passage arrives in each hour, and some never do.
func TestRow(t *testing.T) {
	tally := &voyages.Tally{Passages: 1000, Arrival: voyages.Counts{}, Slowest: 900. / 24}
	for h := range int32(900) {
		tally.Arrival[h] = 1
	}
	tally.Ends[voyages.Arrived], tally.Ends[voyages.Missed], tally.Ends[voyages.Ashore] = 900, 80, 20
	tally.Stormy = 10
	r, err := row(done{Leave: "2027-01-12", Planned: 20}, tally)
	if err != nil {
		t.Fatal(err)
	}
	z := 1.959963984540054
	for _, c := range []struct {
		name            string
		got, want, good float64
		source          string
	}{
		{"median", r.Median.Value, 500. / 24, 1e-9, "by counting: the 500th of 1000 has arrived when 500 hours are over"},
		{"its low end", r.Median.Low, 1000 * (0.5 - z*math.Sqrt(0.25/1000)) / 24, 1e-9, "binomial counts, normal: David & Nagaraja (2003), section 7.1"},
		{"its high end", r.Median.High, 1000 * (0.5 + z*math.Sqrt(0.25/1000)) / 24, 1e-9, "the same"},
		{"nine in ten", r.OneInTen.Value, 900. / 24, 1e-9, "by counting: the last that arrives"},
		{"its high end, never reached", r.OneInTen.High, 900. / 24, 1e-9, "the last arrival, as documented"},
		{"arrived by day 20", r.ByPlanned.Value, 0.48, 1e-12, "by counting: 480 hours"},
		{"missed", r.Missed.Value, 0.08, 1e-12, "by counting"},
		{"missed, low", r.Missed.Low, 0.0647, 1e-4, "Wilson's formula by hand: (0.08 + 0.0019207 - 1.96 sqrt(0.0000736 + 9.604e-7)) / 1.0038415"},
		{"ashore", r.Ashore.Value, 0.02, 1e-12, "by counting"},
		{"stormy", r.Stormy.Value, 0.01, 1e-12, "by counting"},
		{"by day 10", r.ByDay[10], 0.24, 1e-12, "by counting: 240 hours"},
	} {
		if math.Abs(c.got-c.want) > c.good {
			t.Errorf("%s: %v, want %v (%s)", c.name, c.got, c.want, c.source)
		}
	}
	if r.OneInTwenty != nil {
		t.Errorf("of nine in ten that arrive, 19 in 20 do on day %v", r.OneInTwenty.Value)
	}
}

// TestChoose: the best rows by their rule.
func TestChoose(t *testing.T) {
	by := func(low, value, high float64) Figure { return Figure{value, low, high} }
	late := func(low, value, high float64) *Figure { return &Figure{value, low, high} }
	r := Result{Rows: []Row{
		{ByPlanned: by(0.80, 0.82, 0.84), OneInTwenty: late(60, 61, 62)},  // soonest, but fewer arrive
		{ByPlanned: by(0.95, 0.96, 0.97), OneInTwenty: late(80, 81, 82)},  // most arrive
		{ByPlanned: by(0.94, 0.95, 0.96), OneInTwenty: late(77, 78, 79)},  // cannot be told from it, and sooner
		{ByPlanned: by(0.94, 0.95, 0.96), OneInTwenty: late(78, 79, 80)},  // cannot be told from that
		{ByPlanned: by(0.94, 0.955, 0.97), OneInTwenty: nil},              // one in twenty never arrives
		{ByPlanned: by(1, 1, 1), OneInTwenty: late(1, 1, 1), Fault: "no"}, // cannot be sailed
	}}
	r.choose()
	for i, want := range []bool{false, false, true, true, false, false} {
		if r.Rows[i].Best != want {
			t.Errorf("row %d is best: %v", i, r.Rows[i].Best)
		}
	}
}

// TestCSV: what a spreadsheet reads, with nothing that it would carry out.
func TestCSV(t *testing.T) {
	r := Result{Rows: []Row{
		{Leave: "2027-01-12", Tries: []string{"=1+1", "b"}, Planned: 80, Median: &Figure{60, 59, 61}},
		{Tries: []string{}, Fault: "no wind, \"none\""},
	}}
	var b bytes.Buffer
	if err := r.CSV(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatalf("%d rows (%v)", len(rows), err)
	}
	at := map[string]int{}
	for i, name := range rows[0] {
		at[name] = i
	}
	if rows[1][at["tries"]] != "'=1+1; b" || rows[1][at["median_days"]] != "60.000000" || rows[1][at["one_in_ten_days"]] != "" || rows[2][at["fault"]] != "no wind, \"none\"" || rows[2][at["arrived_by_planned"]] != "" {
		t.Errorf("the rows are %q", rows)
	}
}

// TestOwn: this program can tell which build it is.
func TestOwn(t *testing.T) {
	a, err := own()
	if err != nil || a.Mark == "" || len(a.Climate) != 16 || a.Said == "" {
		t.Fatalf("this build is %+v (%v)", a, err)
	}
	if b := a; !a.Same(b) {
		t.Error("a build is not like itself")
	}
}

// TestCommitted: what of a build counts for its digits.
func TestCommitted(t *testing.T) {
	info := func(change ...string) *debug.BuildInfo {
		b := &debug.BuildInfo{GoVersion: "go1.26.8", Deps: []*debug.Module{{Path: "example.org/x", Version: "v1.0.0", Sum: "h1:x"}}}
		set := map[string]string{"GOARCH": "amd64", "GOOS": "linux", "vcs.revision": "0123456789abcdef", "vcs.modified": "false", "-trimpath": "true"}
		for i := 0; i < len(change); i += 2 {
			set[change[i]] = change[i+1]
		}
		for k, v := range set {
			b.Settings = append(b.Settings, debug.BuildSetting{Key: k, Value: v})
		}
		return b
	}
	mark, said := committed(info())
	if mark == "" || !strings.Contains(said, "0123456789ab") {
		t.Fatalf("%q, %q", mark, said)
	}
	for _, c := range []struct {
		key, value string
		same       bool
	}{{"GOOS", "windows", true}, {"vcs.time", "now", true}, {"GOARCH", "arm64", false}, {"GOAMD64", "v3", false}, {"vcs.revision", "f123456789abcdef", false}} {
		if m, _ := committed(info(c.key, c.value)); (m == mark) != c.same {
			t.Errorf("%s=%s gives the mark %q beside %q", c.key, c.value, m, mark)
		}
	}
	for _, change := range [][]string{{"vcs.modified", "true"}, {"vcs.revision", ""}} {
		if m, _ := committed(info(change...)); m != "" {
			t.Errorf("%v has the mark %q", change, m)
		}
	}
	other := info()
	other.Deps[0].Version = "v1.0.1"
	if m, _ := committed(other); m == mark {
		t.Error("another library gives the same mark")
	}
}
