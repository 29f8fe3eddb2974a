package fleet

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"thole/internal/model"
	"thole/internal/sweep"
	"thole/internal/voyages"
	"thole/internal/weather"
)

// raft goes with the wind and is rowed a little, the faster the lighter her crew: a boat that needs no working out.
type raft struct{ crew float64 }

func (raft) Wind(lat, _, when float64) (float64, float64, float64) {
	return -5 - math.Cos(lat) - math.Sin(when/2e6), 1, 7
}
func (r raft) Rowed(w, off, _ float64) (float64, float64, bool) {
	return off, 70/r.crew - 0.03*w*math.Cos(off), true
}
func (raft) Adrift(w, _ float64) (float64, float64)   { return 0.03 * w, 0 }
func (raft) Anchored(w, _ float64) (float64, float64) { return 0.01 * w, 0 }

func (r raft) on(day time.Time) (*departure, error) {
	const degree = math.Pi / 180
	if day.IsZero() {
		day = time.Date(2027, 1, 12, 0, 0, 0, 0, time.UTC)
	}
	if day.Month() == time.August {
		return nil, errors.New("nobody leaves in August")
	}
	return &departure{leave: day, planned: 30, assumed: []Assumed{{What: "the sea", Value: "wet"}}, notes: []string{"a raft"},
		spec: voyages.Spec{Seed: 5, Start: voyages.Place{Lat: 20 * degree, Lon: -20 * degree}, Depart: float64(day.Unix()),
			Route:   []voyages.Point{{Place: voyages.Place{Lat: 18 * degree, Lon: -30 * degree}, Within: 50e3}},
			Climate: r, Boat: r, Weather: weather.Usual(),
			Rules: voyages.Rules{Habit: voyages.Habit{Watches: []voyages.Watch{{From: 6, To: 18}}}, Storm: 15, Ease: 0.8},
			Wear:  voyages.Wear{Load: 500, Least: 400, Eaten: 1, Pace: 0.1}, Most: 60, Past: 50e3}}, nil
}

// afloat stands in for the crossing of a folder.
func afloat(f *model.Folder, _ bool) (sailing, error) {
	return raft{float64(f.Voyage.Crew[0].Mass.Value)}, nil
}

// folder is a boat folder with levers of its own.
func folder(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"boat.yaml": "boat: Raft\nhull: {offsets: offsets.csv}\nweights:\n  - {what: all up, mass: 620 kg, at: [1 m, 0 m, 0.2 m]}\n",
		"offsets.csv": "station,distance_mm,height_mm,halfbreadth_mm\n0,0,0,0\n0,0,0,500\n0,0,0,500\n0,0,800,500\n" +
			"1,2000,0,0\n1,2000,0,500\n1,2000,0,500\n1,2000,800,500\n",
		"voyage.yaml": "leave: 2027-01-12\ndays: 30\ncrew:\n  - {name: rower, mass: 70 kg, places: {at the oars: [1 m, 0 m, 0.5 m]}}\n",
		"whatif.yaml": "levers:\n" +
			"  - {name: heavier, heavier: {what: rower, by: +10 kg}}\n" +
			"  - {name: heavier still, heavier: {what: rower, by: +10 %}}\n" +
			"  - {name: a month later, leave: +1 month}\n" +
			"  - {name: no such thing, leave out: [piano]}\n",
		"secret.txt": "not the boat's",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func planned(t testing.TB, w Wish) *Plan {
	t.Helper()
	w.Folder = folder(t)
	p, err := NewPlan(w)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// by does a plan with some workers of some cores each, over a queue in memory.
func by(t testing.TB, p *Plan, workers, cores int) (Result, error) {
	t.Helper()
	q, err := sweep.NewMemory(time.Minute, nil)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	var all sync.WaitGroup
	defer all.Wait()
	defer stop()
	for range workers {
		all.Go(func() {
			w := Worker{Queue: q, Cores: cores, ready: afloat}
			if err := w.Work(ctx); !errors.Is(err, context.Canceled) {
				t.Errorf("a worker ends with %v", err)
			}
		})
	}
	return Run(ctx, q, "raft", p, nil)
}

// TestWhoever: the result is the same bytes whoever does the parts, and its figures are those of passages made without any queue.
func TestWhoever(t *testing.T) {
	p := planned(t, Wish{Passages: 230, Dates: Dates{Leave: "2027-01-12,2027-03-01"}, Tries: []string{"as she is|heavier", "AS SHE IS|heavier still"}})
	if p.Variants() != 8 || p.Parts() != 24 {
		t.Fatalf("%d variants, %d parts", p.Variants(), p.Parts())
	}
	var first []byte
	hands := [][2]int{{1, 1}, {3, 1}, {1, 3}} // workers, and cores of each
	if testing.Short() {
		hands = hands[:2]
	}
	for _, c := range hands {
		r, err := by(t, p, c[0], c[1])
		if err != nil {
			t.Fatal(err)
		}
		b, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = b
		}
		if !bytes.Equal(b, first) {
			t.Errorf("%d workers of %d cores:\n%s\nand one of one:\n%s", c[0], c[1], b, first)
		}
		// Both changes of the last row, the second upon the first: 70 kg + 10 kg, and a tenth more.
		d, _ := raft{88}.on(time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC))
		runner, err := voyages.New(d.spec)
		if err != nil {
			t.Fatal(err)
		}
		want, err := runner.Run(context.Background(), 0, 230, 2, nil)
		if err != nil {
			t.Fatal(err)
		}
		last := r.Rows[7]
		median, _ := want.ArrivalBy(0.5)
		if last.Name() != "1 Mar 2027, heavier, heavier still" || last.Median == nil || last.Median.Value != median ||
			last.ByPlanned.Value != want.ArrivedBefore(30) || last.Missed.Value != float64(want.Ends[voyages.Missed])/230 {
			t.Errorf("the last row is %+v; its passages made at once have the median %v", last, median)
		}
		if !(r.Rows[6].Median.Value > r.Rows[0].Median.Value) || r.Rows[0].Sum == r.Rows[1].Sum {
			t.Errorf("a slower boat is no slower, or another day is the same day: %+v %+v", r.Rows[0], r.Rows[6])
		}
	}
}

// TestSeed: another seed gives other passages; none gives the folder's own.
func TestSeed(t *testing.T) {
	sums := map[string]bool{}
	for _, seed := range []uint64{0, 5, 6} {
		r, err := by(t, planned(t, Wish{Passages: 100, Seed: seed}), 1, 2)
		if err != nil {
			t.Fatal(err)
		}
		sums[r.Rows[0].Sum] = true
	}
	if len(sums) != 2 { // 5 is the raft's own
		t.Errorf("three seeds, of which two are one, give %d results", len(sums))
	}
}

// TestCannotBeSailed: a variant that cannot be is a row that says so; where none can, the sweep says why.
func TestCannotBeSailed(t *testing.T) {
	r, err := by(t, planned(t, Wish{Passages: 150, Dates: Dates{Leave: "2027-07-01,2027-08-01"}}), 2, 1)
	if err != nil {
		t.Fatal(err)
	}
	if r.Rows[0].Fault != "" || r.Rows[1].Fault != "nobody leaves in August" || r.Rows[1].Best || r.Rows[1].Leave != "2027-08-01" {
		t.Errorf("the rows are %+v", r.Rows)
	}
	said, _ := json.Marshal(r.Sheet())
	if !strings.Contains(string(said), "1 Aug 2027: nobody leaves in August") {
		t.Errorf("the sheet does not say why: %s", said)
	}
	if _, err := by(t, planned(t, Wish{Passages: 150, Dates: Dates{Leave: "2027-08-01"}}), 1, 1); err == nil || err.Error() != "nobody leaves in August" {
		t.Errorf("where none can be sailed: %v", err)
	}
}

// TestPlan: what goes to other machines is what the folder's reading needs; what cannot be is refused before anything is done.
func TestPlan(t *testing.T) {
	p := planned(t, Wish{Passages: 1000, Tries: []string{"heavier still"}})
	var names []string
	for _, f := range p.Files {
		names = append(names, f.Name)
	}
	if want := []string{"boat.yaml", "offsets.csv", "voyage.yaml", "whatif.yaml"}; !slices.Equal(names, want) {
		t.Errorf("the files %v go out, not %v", names, want)
	}
	a, _ := p.bytes()
	again := planned(t, Wish{Passages: 1000, Tries: []string{"heavier still"}})
	if b, _ := again.bytes(); !bytes.Equal(a, b) {
		t.Error("the same wish gives two plans")
	}
	dir := folder(t)
	for _, c := range []struct {
		wish Wish
		says string
	}{
		{Wish{Passages: 0}, "passages"},
		{Wish{Passages: 1 << 40}, "passages"},
		{Wish{Passages: 10, Tries: []string{"piano"}}, "no lever of whatif.yaml"},
		{Wish{Passages: 10, Tries: []string{"heav"}}, "may be"},
		{Wish{Passages: 10, Tries: []string{"heavier|heavier"}}, "twice"},
		{Wish{Passages: 10, Tries: []string{"no such thing"}}, "piano"},
		{Wish{Passages: 10, Tries: []string{"a month later"}, Dates: Dates{Leave: "2027-05-01"}}, "changes the day of leaving"},
		{Wish{Passages: 10, Dates: Dates{Leave: "soon"}}, "not a day"},
		{Wish{Passages: 1 << 20, Dates: Dates{Every: "day"}}, ""},
		{Wish{Passages: 1e8, Dates: Dates{Every: "day"}}, "parts"},
		{Wish{Passages: 10, Tries: slices.Repeat([]string{"as she is|heavier"}, 20)}, "combinations"},
	} {
		c.wish.Folder = dir
		_, err := NewPlan(c.wish)
		if c.says == "" && err == nil {
			continue
		}
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v", c.wish, err)
		}
	}
	if _, err := NewPlan(Wish{Folder: filepath.Join(dir, "none"), Passages: 1}); err == nil {
		t.Error("a folder that is not there")
	}
}

// TestOtherBuild: a worker that may give other digits does no part, says why and ends; the part is left for the right one.
func TestOtherBuild(t *testing.T) {
	for _, change := range []func(b *Build){func(b *Build) { b.Mark = "revision 0" }, func(b *Build) { b.Climate = "another" }} {
		p := planned(t, Wish{Passages: 100})
		change(&p.Build)
		q, _ := sweep.NewMemory(time.Hour, nil)
		ctx := context.Background()
		if err := p.send(ctx, q, "old"); err != nil {
			t.Fatal(err)
		}
		w := Worker{Queue: q, Cores: 1, ready: afloat}
		if err := w.Work(ctx); !errors.Is(err, sweep.ErrRefused) || !strings.Contains(err.Error(), "another build") {
			t.Errorf("a worker of another build ends with %v", err)
		}
		short, stop := context.WithTimeout(ctx, time.Second)
		defer stop()
		if _, err := q.Take(short); err != nil {
			t.Errorf("the part is not left for others: %v", err)
		}
	}
}

// TestSameName: a plan under the name of another is refused.
func TestSameName(t *testing.T) {
	q, _ := sweep.NewMemory(time.Hour, nil)
	ctx := context.Background()
	if err := planned(t, Wish{Passages: 100}).send(ctx, q, "one"); err != nil {
		t.Fatal(err)
	}
	if err := planned(t, Wish{Passages: 100}).send(ctx, q, "one"); err != nil {
		t.Errorf("the same again: %v", err)
	}
	if err := planned(t, Wish{Passages: 200}).send(ctx, q, "one"); err == nil || !strings.Contains(err.Error(), "another one") {
		t.Errorf("another under its name: %v", err)
	}
}

// TestHostile: what comes from a queue may be anything.
func TestHostile(t *testing.T) {
	p := planned(t, Wish{Passages: 100})
	ctx := context.Background()
	q, _ := sweep.NewMemory(time.Hour, nil)
	if err := p.send(ctx, q, "good"); err != nil {
		t.Fatal(err)
	}
	text, _ := p.bytes()
	plan, _ := json.Marshal(order{Plan: sum(text), Build: p.Build})
	swapped, _ := json.Marshal(order{Plan: sum([]byte("other")), Build: p.Build})
	bomb := packed(make([]byte, mostPlan+1))
	if err := q.Keep(ctx, "bomb", planName, bomb); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		part sweep.Part
		says string
	}{
		{"good", sweep.Part{Job: "good", Count: 100, Plan: plan}, ""},
		{"no plan", sweep.Part{Job: "good", Count: 100, Plan: []byte("{")}, "does not say"},
		{"another plan's sum", sweep.Part{Job: "good", Count: 100, Plan: swapped}, "not what was sent"},
		{"a job that is not there", sweep.Part{Job: "none", Count: 100, Plan: plan}, "nothing is kept"},
		{"too many passages", sweep.Part{Job: "good", Count: 101, Plan: plan}, "no passages"},
		{"a variant that is not", sweep.Part{Job: "good", First: 100, Count: 1, Plan: plan}, "no passages"},
		{"the last number there is", sweep.Part{Job: "good", First: math.MaxUint64, Count: 1, Plan: plan}, "no passages"},
		{"too much when unpacked", sweep.Part{Job: "bomb", Count: 1, Plan: plan}, "more than 67108864 bytes"},
	} {
		w := Worker{Queue: q, Cores: 1, ready: afloat}
		_, err := w.do(ctx, c.part)
		if c.says == "" && err != nil || c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	for _, b := range [][]byte{nil, {0xff}, {5, '{'}, {2, '{', '}'}, {1, '{'}} {
		if _, _, err := unwrapped(b); err == nil {
			t.Errorf("%v is taken for a result", b)
		}
	}
}

// TestRecent keeps the last few, and what is asked stays longest.
func TestRecent(t *testing.T) {
	var r recent[int, int]
	made := 0
	ask := func(k int) { _, _ = r.get(k, 2, func() (int, error) { made++; return k, nil }) }
	for _, k := range []int{1, 2, 1, 3, 1, 2} {
		ask(k)
	}
	if made != 4 { // 1, 2, 3 and 2 again
		t.Errorf("made %d times", made)
	}
	if _, err := r.get(9, 2, func() (int, error) { return 0, errors.New("no") }); err == nil || len(r.keys) != 2 || len(r.made) != 2 {
		t.Errorf("a failure is kept: %v", r.keys)
	}
}
