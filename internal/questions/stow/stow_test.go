package stow

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/levers"
	"thole/internal/sheet"
)

const box = "station,distance_mm,height_mm,halfbreadth_mm\n0,0,0,0\n0,0,0,500\n0,0,0,500\n0,0,600,500\n1,6000,0,0\n1,6000,0,500\n1,6000,0,500\n1,6000,600,500\n"

// Two lockers of half a metre by half a metre by 0.4 m, 60 L of which can be filled, one of them wet.
const barge = `boat: Barge
hull: {offsets: offsets.csv}
compartments:
  - {number: 201, name: dry locker, from: 2.0 m, to: 2.5 m, side: starboard, top: 0.4 m, packing: 60%}
  - {number: 202, name: wet locker, from: 2.0 m, to: 2.5 m, side: port, top: 0.4 m, wet: yes, packing: 60%}
  - {number: 900, name: sealed space, from: 5.0 m, to: 5.5 m, top: 0.4 m, packing: 60%}
openings:
  - {name: hatch 201, at: [2.2 m, 0.2 m, 0.6 m], size: [200 mm, 300 mm], into: 201, closed: yes}
  - {name: hatch 202, at: [2.2 m, -0.2 m, 0.6 m], size: [200 mm, 300 mm], into: 202, closed: yes}
weights:
  - {what: hull, mass: 300 kg, at: [3 m, 0 m, 0.1 m]}
`

func open(t testing.TB, boat, stores string) (*boatfolder.Draft, *answer.Case) {
	t.Helper()
	dir := t.TempDir()
	files := map[string]string{"offsets.csv": box, "boat.yaml": boat, "voyage.yaml": "days: 10\n"}
	if stores != "" {
		files["stores.csv"] = "what,count,mass,where,used,volume,size,group,apart,dry,most,reach,pinned\n" + stores
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	d, faults := boatfolder.Open(dir)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	f, faults := d.Read()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return d, answer.NewCase(f)
}

func asked(t testing.TB, c *answer.Case, o answer.Options) answer.Answer {
	t.Helper()
	a, err := Ask(context.Background(), c, o)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// TestVerdicts: what is said of small stowages.
func TestVerdicts(t *testing.T) {
	for _, row := range []struct {
		what, stores, source string
		verdict              answer.Verdict
		room                 float64 // m³
		says                 []string
	}{
		{"half full", "rice,30,1 kg,201,days 1-10,1 L,,food,,yes,,,\n", "60 L less 30 L", answer.Yes, 0.030, []string{"everything has its place", "201 dry locker"}},
		{"nearly full", "rice,58,1 kg,201,days 1-10,1 L,,food,,yes,,,\n", "60 L less 58 L, the 60 known to 6", answer.Close, 0.002, []string{"not sure"}},
		{"overfull", "rice,70,1 kg,201,days 1-10,1 L,,food,,no,,,\n", "60 L less 70 L", answer.No, -0.010, []string{"201 dry locker is overfull by 10 L", "10 of rice from 201 dry locker to 202 wet locker"}},
		{"overfull, with nowhere to go", "rice,70,1 kg,201,days 1-10,1 L,,food,,yes,,,\n", "60 L less 70 L", answer.No, -0.010, []string{"No single move"}},
		{"wet", "rice,30,1 kg,202,days 1-10,1 L,,food,,yes,,,\n", "60 L less 30 L; the rule", answer.No, 0.030, []string{"30 of rice must lie dry", "to 201 dry locker"}},
		{"room not known", "rice,30,1 kg,201,days 1-10,1 L,,food,,yes,,,\nlamp,1,1 kg,201,,,,,,,,,\n", "60 L less 30 L, and the lamp", answer.Close, 0.030, []string{"lamp does not"}},
		{"no way in", "rope,1,1 kg,900,,1 L,,,,,,,\n", "120 L less 1 L", answer.No, 0.119, []string{"into which no opening leads"}},
		{"two rules", "rice,1,1 kg,202,,1 L,,food,,yes,,,\ntube,1,1 kg,201,,2 L,900 x 250 x 250 mm,,,,,,\n", "60 L less 2 L", answer.No, 0.058, []string{"too large for hatch 201", "one more rule is broken"}},
	} {
		_, c := open(t, barge, row.stores)
		a := asked(t, c, answer.Options{})
		if row.source == "" {
			t.Errorf("%s has no source", row.what)
		}
		if a.Verdict != row.verdict || a.Margin == nil || math.Abs(a.Margin.Value-row.room) > 1e-6 {
			t.Errorf("%s: %s with %+v, want %s with %g (%s): %s", row.what, a.Verdict, a.Margin, row.verdict, row.room, row.source, a.Sentence)
		}
		for _, word := range row.says {
			if !strings.Contains(a.Sentence, word) {
				t.Errorf("%s: %q is not said: %s", row.what, word, a.Sentence)
			}
		}
		if _, err := json.Marshal(a); err != nil {
			t.Error(err)
		}
		moment := asked(t, c, answer.Options{Moment: true})
		if moment.Verdict != a.Verdict || *moment.Margin != *a.Margin {
			t.Errorf("%s: while a thing is dragged %s, else %s", row.what, moment.Verdict, a.Verdict)
		}
	}
}

// TestOffers: each mend offered, written into the folder's own text, takes its rule away.
//
// Source: the folder read again and asked
func TestOffers(t *testing.T) {
	d, c := open(t, barge, "rice,20,1 kg,202,days 1-10,1 L,,food,,yes,,,\nfuel,5,1 kg,201,,1 L,,fuel,food,,,,\nlamps,4,1 kg,202,,1 L,,,,,50%,,\n")
	a := asked(t, c, answer.Options{Brief: true})
	was := a.Figures.(Figures)
	if len(a.Offers) == 0 || a.Verdict != answer.No {
		t.Fatalf("%s; offers %+v", a.Sentence, a.Offers)
	}
	for _, o := range a.Offers {
		edits, err := levers.Edits(c.Folder, d, o.Acts)
		if err != nil {
			t.Fatalf("%s: %v", o.Name, err)
		}
		next, faults := d.With(edits...)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		f, faults := next.Read()
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		now := asked(t, answer.NewCaseFrom(f, c), answer.Options{Brief: true}).Figures.(Figures)
		if len(now.Broken) >= len(was.Broken) {
			t.Errorf("%s (%s): %d rules are broken, before %d", o.Name, o.Why, len(now.Broken), len(was.Broken))
		}
	}
}

// TestCannotTell: what is missing is named.
func TestCannotTell(t *testing.T) {
	for _, row := range []struct{ what, boat, stores, key string }{
		{"no compartments", "boat: Barge\nhull: {offsets: offsets.csv}\nweights:\n  - {what: hull, mass: 300 kg, at: [3 m, 0 m, 0.1 m]}\n", "", "compartments"},
		{"no stores", barge, "", "where"},
		{"stores at points", barge, "rope,1,1 kg,3 m; 0 m; 0.1 m,,1 L,,,,,,,\n", "where"},
	} {
		_, c := open(t, row.boat, row.stores)
		a := asked(t, c, answer.Options{})
		if a.Verdict != answer.CannotTell || len(a.Needs) != 1 || a.Needs[0].Key != row.key || a.Margin != nil {
			t.Errorf("%s: %+v", row.what, a)
		}
	}
}

// TestCalendar: on each day of the sheet's weeks that is opened which is opened.
func TestCalendar(t *testing.T) {
	_, c := open(t, barge, "rice,10,1 kg,201,days 1-10,1 L,,food,,yes,,,\nbiscuit,2,1 kg,202,days 6-7,1 L,,food,,,,,\n")
	a := asked(t, c, answer.Options{})
	var m *sheet.Matrix
	for _, b := range a.Sheet.Blocks {
		if b.Matrix != nil {
			m = b.Matrix
		}
	}
	if m == nil || len(m.Rows) != 2 || len(m.Columns) != 2 {
		t.Fatalf("calendar %+v", m)
	}
	// Port stands first.
	for y, want := range [][]float64{{2, 0}, {7, 3}} {
		for x, days := range want {
			if got := m.Cells[y][x]; got.Value != days || (days == 0) != (got.Standing == sheet.Absent) {
				t.Errorf("%s, week %d: %+v, want %g days", m.Rows[y].Name, x+1, got, days)
			}
		}
	}
	if f := a.Figures.(Figures); f.Places[0].Days != 10 || f.Places[1].Days != 2 || len(f.Opened) != 10 {
		t.Errorf("opened on %d and %d days of %d", f.Places[0].Days, f.Places[1].Days, len(f.Opened))
	}
}

// BenchmarkMoment is what a dragged thing costs.
func BenchmarkMoment(b *testing.B) {
	f, faults := boatfolder.Read("../../../demo/sanderling")
	if len(faults) > 0 {
		b.Fatal(faults)
	}
	c := answer.NewCase(f)
	if _, err := c.Trip(); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Ask(context.Background(), answer.NewCaseFrom(f, c), answer.Options{Moment: true}); err != nil {
			b.Fatal(err)
		}
	}
}
