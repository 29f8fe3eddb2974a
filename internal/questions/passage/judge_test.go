package passage

import (
	"math"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/crossing"
	"thole/internal/voyages"
)

// tallyOf is passages that arrive one a day from a day on, and others that end otherwise.
func tallyOf(from, arrive, miss, ashore, late int) *voyages.Tally {
	t := &voyages.Tally{Shape: voyages.Shape{Most: 200}, Arrival: voyages.Counts{}, Passages: uint64(arrive + miss + ashore + late)}
	for i := range arrive {
		t.Arrival[int32((from+i)*24)]++
	}
	t.Ends[voyages.Arrived], t.Ends[voyages.Missed], t.Ends[voyages.Ashore], t.Ends[voyages.OutOfTime] = uint64(arrive), uint64(miss), uint64(ashore), uint64(late)
	if arrive > 0 {
		t.Fastest, t.Slowest = float64(from), float64(from+arrive-1)
	}
	return t
}

// TestMargin: margin, what is asked, confidence and verdict of tallies that can be counted by hand. One passage arrives in the first hour of
// each day, so that the day by which n have arrived is the n-th's, to the hour of its bin.
//
// Source of each row: counting
func TestMargin(t *testing.T) {
	for _, c := range []struct {
		name                     string
		tally                    *voyages.Tally
		planned                  int
		value, asked, confidence float64
		verdict                  answer.Verdict
		says                     string
		source                   string
	}{
		{"all, days 1 to 100, 120 planned", tallyOf(1, 100, 0, 0, 0), 120, 70, 45, 1, answer.Yes, "Yes: half of 100 simulated passages arrive by day 51, nineteen in twenty by day 96; her stores are meant for 120 days.", "the 50th comes on day 50, the 95th on day 95"},
		{"all, 90 planned", tallyOf(1, 100, 0, 0, 0), 90, 40, 45, 0.89, answer.Close, "Close: half", "89 have arrived when day 90 begins"},
		{"all, 40 planned", tallyOf(1, 100, 0, 0, 0), 40, -10, 45, 0.39, answer.No, "No: half", "39 have arrived when day 40 begins"},
		{"six in a hundred miss", tallyOf(1, 94, 6, 0, 0), 120, 70, 40, 0.94, answer.Close, "and 94 in 100 ever do; 6 in 100 pass the landfall; her", "nineteen in twenty never arrive: of the 94 the 89.3th comes on day 90"},
		{"four in a hundred ashore", tallyOf(1, 96, 0, 4, 0), 120, 70, 45, 0.96, answer.Yes, "4 in 100 are set ashore", "the 95th of all comes on day 95"},
		{"most miss", tallyOf(1, 40, 50, 0, 10), 120, -80, 0, 0.40, answer.No, "No: only 40 in 100 of 100 simulated passages arrive within 200 days; 50 in 100 pass the landfall, 10 in 100 are still at sea when the time is out", "the middle one takes more than the 200 days simulated, 120 of them planned"},
		{"none arrives", tallyOf(1, 0, 0, 0, 50), 300, -1, 0, 0, answer.No, "No: none of 50 simulated passages arrives within 200 days", "nothing more is known than that it is a no"},
	} {
		m := marginOf(c.tally, c.planned)
		hour := 1.01 / 24
		if math.Abs(m.Value-c.value) > hour || math.Abs(m.Asked-c.asked) > hour || math.Abs(m.Confidence-c.confidence) > 1e-9 || m.Judge() != c.verdict || m.Unit != "d" {
			t.Errorf("%s: %+v, %s; want %g of %g, %g, %s (%s)", c.name, m, m.Judge(), c.value, c.asked, c.confidence, c.verdict, c.source)
		}
		q := &ask{tally: c.tally, n: int(c.tally.Passages), x: &crossing.Crossing{Planned: c.planned}}
		if s := q.sentence(m.Judge()); !strings.Contains(s, c.says) {
			t.Errorf("%s: %q does not say %q", c.name, s, c.says)
		}
	}
}

// TestInHundred: a share is never told as all or nothing where it is not. Source: arithmetic
func TestInHundred(t *testing.T) {
	for share, want := range map[float64]string{0: "none", 0.001: "fewer than 1 in 100", 0.05: "5 in 100", 0.994: "99 in 100", 0.999: "more than 99 in 100", 1: "all"} {
		if got := inHundred(share); got != want {
			t.Errorf("%g: %q, want %q", share, got, want)
		}
	}
}
