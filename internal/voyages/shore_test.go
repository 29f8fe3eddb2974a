package voyages

import (
	"context"
	"math"
	"testing"

	"thole/internal/weather"
)

// wrong is a current that may be wrong by as much everywhere.
type wrong float64

func (w wrong) Error(_, _, _ float64) float64 { return float64(w) }

// swept is a sea that goes with a share of what the wind is off its mean.
type swept float64

func (s swept) Drag(_, e, n float64) (float64, float64) { return float64(s) * e, float64(s) * n }

// TestDays: a load and a growth by day are those that she has.
func TestDays(t *testing.T) {
	s := plain()
	way := 10*deg*Radius - 1000
	s.Wear.Days = []Day{{600, 0.1}}
	foul := one(t, s)
	s.Wear.Days = []Day{{600, 0}, {600, 0}, {600, 0.2}} // the last goes on
	later := one(t, s)
	s.Wear.Days = []Day{{600, -0.25}}
	clean := one(t, s)
	run(t, []check{
		{"a tenth slower", foul.Days, way / 0.9 / 86400, 1e-6, "way over speed"},
		{"slower from the third day", later.Days, 2 + (way-2*86400)/0.8/86400, 1e-6, "two days whole, the rest at 0.8"},
		{"a quarter faster", clean.Days, way / 1.25 / 86400, 1e-6, "way over speed"},
	})
	s.Wear.Days = []Day{{600, 1}}
	if _, err := New(s); err == nil {
		t.Error("a boat that growth has stopped is no fault")
	}
}

// TestDoubt: what the current is wrong by is drawn once a passage, as wide as said, and carries her for as long as she is out.
func TestDoubt(t *testing.T) {
	const doubt, days, n = 0.1, 5.0, 1500
	s := plain()
	s.Boat, s.Most, s.Past, s.Doubts = cork(0), days, 1e6, wrong(doubt)
	s.Route[0].Place = Place{0, -60 * deg}
	r, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	east, square := 0.0, 0.0
	for i := range uint64(n) {
		p, err := r.Passage(i)
		if err != nil {
			t.Fatal(err)
		}
		d := Distance(s.Start, p.Last)
		square += d * d / n
		east += p.Last.Lon * Radius / n
	}
	far := doubt * days * 86400
	run(t, []check{
		{"the drift's root mean square", math.Sqrt(square), far, 4 * far / math.Sqrt(4*n), "doubt times time; of so many the square root of the mean of chi-square strays by 1/sqrt(4n)"},
		{"on the mean", east, 0, 4 * far / math.Sqrt(2*n), "no way more than the other"},
	})
}

// TestDragged: where no wind blows on the mean, a sea that goes with what the wind is off it carries as leeway of that share does.
func TestDragged(t *testing.T) {
	s := plain()
	s.Most, s.Climate, s.Rules.Habit.Watches = 20, steady{0, 0, 5}, nil
	s.Route[0].Place = Place{0, -60 * deg}
	s.Boat = cork(0.01)
	leeway := one(t, s)
	s.Boat, s.Dragged = cork(0), swept(0.01)
	run(t, []check{{"metres apart", Distance(one(t, s).Last, leeway.Last), 0, 100, "the same velocity either way, but for the half step's turn of the axes"},
		{"kilometres of drift", math.Min(1, Distance(s.Start, leeway.Last)/10e3), 1, 0, "else there is nothing to compare"}})
}

// TestRoundAnIsland: close to land she is rowed on, and steers clear; far from it she does neither.
func TestRoundAnIsland(t *testing.T) {
	s := plain()
	s.Land, s.Rules.Habit.Watches = disk{Place{0, -5 * deg}, 50e3}, []Watch{{6, 18}}
	s.Step = 1800
	if p := one(t, s); p.End != Ashore {
		t.Fatalf("straight at an island: %v", p.End)
	}
	s.Rules.Close = 37e3
	p := one(t, s)
	if p.End != Arrived {
		t.Fatalf("round an island: %v at %v after %.1f days", p.End, p.Last, p.Days)
	}
	d := 5 * deg * Radius
	round := 2*math.Sqrt(d*d-50e3*50e3) + 2*50e3*math.Asin(50e3/d) - 1000
	if p.Gone < round-1000 || p.Gone > 1.1*round {
		t.Errorf("%.1f km round an island; the shortest way is %.1f (tangents and arc)", p.Gone/1e3, round/1e3)
	}
	if share := p.Rowed / p.Days / 24; !(share > 0.51 && share < 0.8) {
		t.Errorf("%.2f of the time rowed; half by habit, and all close to land", share)
	}
}

// TestSeesTheWay: a loose point is not passed while land lies between her and the next.
func TestSeesTheWay(t *testing.T) {
	s := plain()
	s.Land = disk{Place{0.3 * deg, -6 * deg}, 60e3}
	s.Route = []Point{{Place{1.5 * deg, -6 * deg}, 400e3}, {Place{0, -10 * deg}, 1000}}
	p := one(t, s)
	if p.End != Arrived {
		t.Errorf("%v at %v", p.End, p.Last)
	}
	s.Land = nil
	if free := one(t, s); free.Gone > p.Gone-5e3 {
		t.Errorf("%.1f km with no land, %.1f with: a loose point is cut where nothing lies between", free.Gone/1e3, p.Gone/1e3)
	}
}

// turnsFair blows from ahead until a time.
type turnsFair float64

func (f turnsFair) Wind(_, _, when float64) (float64, float64, float64) {
	if when < float64(f) {
		return 6, 0, 6
	}
	return -6, 0, 6
}

// TestWait: she leaves when the wind has turned, and her days count from then.
func TestWait(t *testing.T) {
	s := plain()
	s.Climate, s.Weather.Spread, s.Rules.Wait = turnsFair(4.5*86400), 0, 10
	r, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	p, m, err := r.Replay(0)
	if err != nil {
		t.Fatal(err)
	}
	run(t, []check{
		{"wind on leaving, m/s east", m[0].East, -6, 1e-9, "fair"},
		{"days", p.Days, (10*deg*Radius - 1000) / 86400, 1e-6, "way over speed from leaving"},
	})
	s.Climate = turnsFair(1e9)
	if p := one(t, s); p.End != Arrived { // in the end she goes in any
		t.Errorf("%v", p.End)
	}
	s.Weather = weather.Usual()
	s.Climate, s.Wear.Pace = steady{1, 0, 5}, 0
	again, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	for i := range uint64(40) {
		_, m, err := again.Replay(i)
		if err != nil {
			t.Fatal(err)
		}
		if w := math.Hypot(m[0].East, m[0].North); w > calm && -m[0].East < abaft*w {
			t.Errorf("passage %d leaves in a wind of %.1f, %.1f m/s, bound west", i, m[0].East, m[0].North)
		}
	}
}

// TestFirst: the numbers kept are the lowest of their kind.
//
// Source: all of them made one by one
func TestFirst(t *testing.T) {
	r, err := New(atlantic())
	if err != nil {
		t.Fatal(err)
	}
	const n = 60
	tally, err := r.Run(context.Background(), 0, n, 2, nil)
	if err != nil {
		t.Fatal(err)
	}
	first, others := map[int32]uint64{}, map[End]uint64{}
	for i := uint64(n); i > 0; i-- {
		p, err := r.Passage(i - 1)
		if err != nil {
			t.Fatal(err)
		}
		if p.End == Arrived {
			first[int32(p.Days*24)] = i - 1
		} else {
			others[p.End] = i - 1
		}
	}
	if len(first) == 0 || len(first) != len(tally.First) || len(others) != len(tally.Others) {
		t.Fatalf("%d and %d kinds, one by one %d and %d", len(tally.First), len(tally.Others), len(first), len(others))
	}
	for k, v := range first {
		if tally.First[k] != v {
			t.Errorf("hour %d: %d, one by one %d", k, tally.First[k], v)
		}
	}
}

// TestWithinBy: at an even speed the day by which half have so much left follows from the speed.
func TestWithinBy(t *testing.T) {
	r, err := New(plain())
	if err != nil {
		t.Fatal(err)
	}
	tally, err := r.Run(context.Background(), 0, 20, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	const left = 500e3
	day, ok := tally.WithinBy(left, 0.5)
	last, also := tally.WithinBy(0, 0.5)
	way := 10 * deg * Radius
	run(t, []check{
		{"day with 500 km left", day, math.Ceil((way - left) / 86400), 1, "way over speed, at the midnight after; a bin of 18.5 km is 0.2 days"},
		{"day of arrival", last, math.Ceil((way - 1000) / 86400), 0, "way over speed"},
	})
	if _, never := tally.WithinBy(-1, 1.1); !ok || !also || never {
		t.Error("more than all are never there")
	}
}
