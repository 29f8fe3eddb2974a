package voyages

import (
	"context"
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"thole/internal/weather"
)

const nm = 1852.0

type check struct {
	name           string
	got, want, tol float64
	source         string
}

func run(t *testing.T, rows []check) {
	t.Helper()
	for _, c := range rows {
		if c.source == "" {
			t.Errorf("%s: no source", c.name)
		}
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s: got %.10g, want %.10g within %.3g (%s)", c.name, c.got, c.want, c.tol, c.source)
		}
	}
}

func one(t *testing.T, s Spec) Passage {
	t.Helper()
	r, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	p, err := r.Passage(0)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestConstant: in constant conditions she arrives when way over speed says.
func TestConstant(t *testing.T) {
	way := 10*deg*Radius - 1000 // to within 1000 m
	p := one(t, plain())
	s := plain()
	s.Currents = flow{-0.3, 0}
	with := one(t, s)
	s.Currents = flow{0, 0.3}
	s.Rules.Allow = true
	s.Step = 600
	across := one(t, s)
	s = plain()
	s.Step = 6 * 3600
	coarse := one(t, s)
	s = plain()
	s.Wear.Fouling, s.Wear.Foulest = 0.06, 0.9
	foul := one(t, s)
	run(t, []check{
		{"days", p.Days, way / 86400, 1e-6, "way over speed, closed form"},
		{"gone", p.Gone, way, 0.05, "the way"},
		{"days, steps of 6 h", coarse.Days, way / 86400, 1e-5, "way over speed: the step must not matter"},
		{"with the current", with.Days, way / 1.3 / 86400, 1e-6, "way over the sum of speeds"},
		{"current across, allowed for", across.Days, way / math.Sqrt(1-0.09) / 86400, 2e-3, "current triangle, closed form"},
		// v (t - f t2/60) = way, by days
		{"fouling", foul.Days, (1 - math.Sqrt(1-4*0.001*way/86400)) / 0.002, 0.002, "integral of a falling speed, closed form; steps take their start's"},
	})
	if p.End != Arrived || across.End != Arrived {
		t.Errorf("ends %v, %v", p.End, across.End)
	}
	// Published: JFK to LHR 5540 km on a sphere (from memory, high), and a quarter of the sphere.
	run(t, []check{
		{"a quarter", Distance(Place{0, 0}, Place{0, 90 * deg}), Radius * math.Pi / 2, 1e-3, "closed form"},
		{"one minute of latitude", Distance(Place{0, 0}, Place{deg / 60, 0}), 1853.25, 0.01, "mean radius times a minute"},
	})
}

// TestCannotHold: a current across that is faster than she is sets her past her landfall.
func TestCannotHold(t *testing.T) {
	s := plain()
	s.Rules.Allow = true
	s.Currents = flow{0, 1.2}
	s.Most = 30
	if p := one(t, s); p.End == Arrived {
		t.Errorf("1 m/s against 1.2 m/s across: %v after %v days", p.End, p.Days)
	}
	s.Currents = flow{-2, 0.25}
	s.Boat = easy(0.01)
	if p := one(t, s); p.End != Missed || p.Last.Lon > -10*deg {
		t.Errorf("carried by: %v at %v", p.End, p.Last)
	}
	s.Currents = nil
	if p := one(t, s); p.End != OutOfTime || p.Days != 30 {
		t.Errorf("too slow: %v after %v", p.End, p.Days)
	}
	s = plain()
	s.Land, s.Offing = disk{Place{0, -5 * deg}, 50e3}, 10e3
	p := one(t, s)
	run(t, []check{{"ashore", p.Days, (5*deg*Radius - 50e3) / 86400, 1.01 / 24, "way over speed; found at the end of the step"}})
	if p.End != Ashore {
		t.Errorf("through an island: %v", p.End)
	}
}

// turning is the whole sea turning about a point like a plate: speeds m/s at its rim.
type turning struct {
	pole vector
	rate float64 // radians a second
}

func (c turning) Current(lat, lon, _ float64) (float64, float64) {
	p := toVector(Place{lat, lon})
	w, e, n := c.pole, vector{}, vector{}
	e, n = p.axes()
	v := vector{w.y*p.z - w.z*p.y, w.z*p.x - w.x*p.z, w.x*p.y - w.y*p.x}.times(c.rate * Radius)
	return v.dot(e), v.dot(n)
}

// TestOrder: carried by a sea that turns like a plate she goes round; the error falls with the
// square of the step.
func TestOrder(t *testing.T) {
	s := plain()
	s.Boat, s.Most = easy(0), 10
	s.Start = Place{30 * deg, -40 * deg}
	c := turning{toVector(Place{33 * deg, -37 * deg}), 2 * math.Pi / (8 * 86400)}
	s.Currents = c
	// Exactly: turned about the pole by ten days' angle (Rodrigues).
	p, a := toVector(s.Start), c.rate*10*86400
	cross := vector{c.pole.y*p.z - c.pole.z*p.y, c.pole.z*p.x - c.pole.x*p.z, c.pole.x*p.y - c.pole.y*p.x}
	want := p.times(math.Cos(a)).plus(cross.times(math.Sin(a))).plus(c.pole.times(c.pole.dot(p) * (1 - math.Cos(a)))).place()
	var errs []float64
	for _, step := range []float64{7200, 3600, 1800} {
		s.Step = step
		errs = append(errs, Distance(one(t, s).Last, want))
	}
	t.Logf("errors %.1f %.1f %.1f m after 10 days at %.2f m/s", errs[0], errs[1], errs[2], c.rate*Distance(s.Start, c.pole.place()))
	for i := range 2 {
		if order := math.Log2(errs[i] / errs[i+1]); order < 1.8 || order > 3.2 {
			t.Errorf("order %.2f, want 2", order)
		}
	}
}

// TestSpread: what wanders with the wind spreads as the integral of an autoregression does, and
// its arrivals with it.
func TestSpread(t *testing.T) {
	const share, u = 0.1, 9.0
	speed := weather.RiceMean(u, 3)
	s := plain()
	s.Boat, s.Climate = cork(share), steady{-u, 0, speed}
	s.Weather = weather.Model{East: 36, North: 36, Reach: 1e12, Season: 45, Spread: 1}
	s.Route = []Point{{Place{0, -60 * deg}, 1000}}
	s.Most, s.Past = 25, 1e6
	r, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	const n = 3000
	var xs []float64
	for i := range uint64(n) {
		p, err := r.Passage(i)
		if err != nil {
			t.Fatal(err)
		}
		xs = append(xs, -p.Last.Lon*Radius)
	}
	m, v := moments(xs)
	phi, steps, sum := math.Exp(-1.0/36), 600.0, 0.0
	for k := 1.0; k < steps; k++ {
		sum += (steps - k) * math.Pow(phi, k)
	}
	want := share * 3 * 3600 * math.Sqrt(steps+2*sum)
	tau, T := 36*3600.0, 25*86400.0
	ou := share * 3 * math.Sqrt(2*tau*(T-tau*(1-math.Exp(-T/tau))))
	run(t, []check{
		{"mean way", m, share * u * T, 3.5 * want / math.Sqrt(n), "mean wind by time"},
		{"spread of the way", math.Sqrt(v), want, 0.05 * want, "sum of an AR(1), closed form; 3000 passages tell it to 1.3 %"},
		{"the two closed forms", want, ou, 0.002 * ou, "integral of an Ornstein-Uhlenbeck process (Gardiner, Handbook of Stochastic Methods)"},
	})

	// Arrival: a line across her way at a distance. The landfall counts from far off to either
	// side, so that nearly all come in; the wander north and south is allowed for in the tolerance.
	s.Route = []Point{{Place{0, -30 * deg}, 15 * deg * Radius}}
	s.Most = 60
	if r, err = New(s); err != nil {
		t.Fatal(err)
	}
	tally, err := r.Run(context.Background(), 0, n, 2, nil)
	if err != nil {
		t.Fatal(err)
	}
	xs = xs[:0]
	for k, c := range tally.Arrival {
		for range c {
			xs = append(xs, (float64(k)+0.5)/24)
		}
	}
	m, v = moments(xs)
	D, U := 15*deg*Radius, share*u
	days := math.Sqrt(2*tau*share*share*9*D/(U*U*U)) / 86400
	run(t, []check{
		{"arrived", float64(tally.Ends[Arrived]), n, 0, "the landfall is half an ocean wide"},
		{"mean arrival", m, D / U / 86400, 0.02 * D / U / 86400, "way over mean speed"},
		{"spread of arrival", math.Sqrt(v), days, 0.06 * days, "first passage of a drifting diffusion: variance 2 s2 tau D/U3, closed form"},
	})
	med, ok := tally.ArrivalBy(0.5)
	late, ok2 := tally.ArrivalBy(0.95)
	if !ok || !ok2 {
		t.Fatal("no median, or no nineteen in twenty")
	}
	run(t, []check{
		{"nineteen in twenty less one in two", late - med, 1.645 * days, 0.1 * 1.645 * days, "normal quantile; the diffusion's skew is small"},
		{"arrived before the median", tally.ArrivedBefore(med), 0.5, 0.02, "what a median is"},
	})
}

func moments(x []float64) (mean, variance float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		variance += (v - mean) * (v - mean) / float64(len(x)-1)
	}
	return
}

// TestCores: the same digits with any number of workers, and from parts added in any order.
func TestCores(t *testing.T) {
	r, err := New(atlantic())
	if err != nil {
		t.Fatal(err)
	}
	const n = 200
	whole, err := r.Run(context.Background(), 0, n, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []int{2, 3, 16} {
		other, err := r.Run(context.Background(), 0, n, w, nil)
		if err != nil || !reflect.DeepEqual(whole, other) {
			t.Errorf("%d workers give another tally (%v)", w, err)
		}
	}
	var parts []*Tally
	for from := uint64(0); from < n; from += 40 {
		p, err := r.Run(context.Background(), from, 40, 2, nil)
		if err != nil {
			t.Fatal(err)
		}
		parts = append(parts, p)
	}
	rapid.Check(t, func(t *rapid.T) {
		sum := r.NewTally()
		for _, i := range rapid.Permutation([]int{0, 1, 2, 3, 4}).Draw(t, "order") {
			// By way of their bytes, as from another machine.
			b, err := parts[i].MarshalBinary()
			if err != nil {
				t.Fatal(err)
			}
			var p Tally
			if err := p.UnmarshalBinary(b); err != nil {
				t.Fatal(err)
			}
			if err := sum.Add(&p); err != nil {
				t.Fatal(err)
			}
		}
		if !reflect.DeepEqual(sum, whole) {
			t.Fatal("the parts do not add up to the whole")
		}
	})
	if whole.Passages != n || whole.Ends[0]+whole.Ends[1]+whole.Ends[2]+whole.Ends[3] != n {
		t.Errorf("counts %v of %v", whole.Ends, whole.Passages)
	}
	if got := whole.Arrival.Total(); got != whole.Ends[Arrived] || got != whole.Points[1].Total() {
		t.Errorf("%d arrivals in the histogram, %d counted, %d at the last point", got, whole.Ends[Arrived], whole.Points[1].Total())
	}
	for day := range whole.Left {
		at := uint64(0)
		for b, c := range whole.Where {
			if int(b.Day) == day {
				at += c
			}
		}
		if at != whole.Left[day].Total() {
			t.Fatalf("day %d: %d boats on the map, %d with a way left", day, at, whole.Left[day].Total())
		}
	}
}

// TestReplay: one passage again, with every step; the steps add up to it.
func TestReplay(t *testing.T) {
	r, err := New(atlantic())
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []uint64{0, 7, 1 << 40} {
		p, err := r.Passage(n)
		q, steps, err2 := r.Replay(n)
		if err != nil || err2 != nil || p != q {
			t.Fatalf("replay of %d: %+v, first %+v (%v, %v)", n, q, p, err, err2)
		}
		gone, rowed := 0.0, 0.0
		for _, m := range steps {
			gone += math.Hypot(m.TrackEast, m.TrackNorth) * 3600
			rowed += m.Share
		}
		run(t, []check{
			{"gone", gone, p.Gone, 8000, "sum of the steps; the last is cut short on arrival"},
			{"rowed", rowed, p.Rowed, 1, "sum of the steps; the last is cut short on arrival"},
			{"hours", p.Rowed + p.Drifted + p.Lay, p.Days * 24, 1e-6, "every hour is one of three"},
			{"load on the last day", steps[len(steps)-1].Load, math.Max(400, 650-2.5*steps[len(steps)-1].Day), 1e-9, "what is eaten"},
		})
		if p.Gone < Distance(steps[0].Where, p.Last) {
			t.Error("went less than the straight way")
		}
	}
}

// TestHabit: hours rowed are the habit's, less what is lost.
func TestHabit(t *testing.T) {
	s := plain()
	s.Boat, s.Most = easy(0.0001), 40
	s.Rules.Habit = Habit{Watches: []Watch{{5.25, 9}, {20, 23.5}}, Breaks: 0.2}
	p := one(t, s)
	run(t, []check{{"hours", p.Rowed, 40 * 7.25 * 0.8, 1e-3, "watches by days, closed form; she goes 300 m west meanwhile"}})
	s.Wear.Sick, s.Wear.SickDays, s.Wear.Lost, s.Wear.Every = 0.4, 7, 0.1, 10
	r, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	tally, err := r.Run(context.Background(), 0, 2000, 2, nil)
	if err != nil {
		t.Fatal(err)
	}
	got := float64(tally.RowedS) / 3600 / 2000
	// Of 40 days, 4 are rest by rule and one in ten of the others is lost; 7 days, all before
	// the first rest, lose 0.4 falling evenly to 0. Watches fall late in the day: 0.5 to 0.6 of it.
	full := 7.25 * 0.8 * 0.9
	want := full * (36 - 0.4*3.5)
	run(t, []check{{"with sickness, lost days and rest", got, want, 0.01 * want, "expected shares, closed form; 2000 passages"}})

	h := Habit{Watches: []Watch{{0, 24}}, Daylight: true}
	run(t, []check{{"daylight", h.share(0, 24, 6.2, 18.9), 12.7 / 24, 1e-12, "sunset less sunrise"},
		{"an hour with the sunrise", h.share(6, 1, 6.2, 18.9), 0.8, 1e-12, "closed form"},
		{"sun past midnight by mean time", h.share(0, 24, 3, 25), 22.0 / 24, 1e-12, "closed form"}})
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0, 12).Draw(t, "a")
		b := rapid.Float64Range(0.1, 12).Draw(t, "b")
		h := Habit{Watches: []Watch{{a, a + b}}}
		sum, from := 0.0, rapid.Float64Range(0, 1).Draw(t, "from")
		for k := range 24 {
			x := h.share(from+float64(k), 1, 0, 24)
			if x < 0 || x > 1+1e-12 {
				t.Fatalf("share %v", x)
			}
			sum += x
		}
		if math.Abs(sum-b) > 1e-9 {
			t.Fatalf("%v h rowed of a watch of %v", sum, b)
		}
	})
}

// TestSun against sunrises and sunsets that were derived with general libraries.
func TestSun(t *testing.T) {
	for _, c := range []struct {
		lat, lon float64
		noon     float64 // seconds since 1970 of 12 h UT of the day
		up, down float64 // UT hours
	}{ // source: checks-voyage.md 1.4, rule of the centre at -50'
		{28.09, -17.11, 1797076800, 7 + 50.0/60 + 26.0/3600, 18 + 13.0/60 + 48.0/3600},
		{13.10, -59.62, 1805544000, 10 + 2.0/60 + 46.0/3600, 22 + 9.0/60 + 20.0/3600},
		{-12.05, -77.15, 1872331200, 11 + 15.0/60 + 17.0/3600, 22 + 55.0/60 + 40.0/3600},
		{48, -30, 1908273600, 6 + 26.0/3600, 22 + 3.0/60 + 16.0/3600},
		{0, 0, 1884859200, 5 + 49.0/60, 17 + 56.0/60 + 10.0/3600},
	} {
		up, down := Sun(c.lat*deg, c.noon-c.lon/15*3600)
		run(t, []check{
			{"rise", up - c.lon/15, c.up, 2.0 / 60, "checks-voyage.md 1.4"},
			{"set", down - c.lon/15, c.down, 2.0 / 60, "checks-voyage.md 1.4"},
		})
	}
	if up, down := Sun(80*deg, 1813320000); up != 0 || down != 24 { // June 2027
		t.Errorf("midnight sun: %v to %v", up, down)
	}
	if up, down := Sun(80*deg, 1829131200); up != 12 || down != 12 { // December 2027
		t.Errorf("polar night: %v to %v", up, down)
	}
}

// TestAnchor: a wind from ahead over the rule's puts the sea anchor out, one from astern does not.
func TestAnchor(t *testing.T) {
	s := plain()
	s.Boat, s.Most = dory{}, 10
	s.Weather.Spread = 0
	s.Rules.Against, s.Rules.Ahead, s.Rules.Storm = 8, 60*deg, 15
	s.Climate = steady{9, 0, 9} // blows to the east; she wants west
	p := one(t, s)
	run(t, []check{
		{"hours at sea anchor", p.Lay, 240, 1e-9, "the rule"},
		{"set back", p.Last.Lon * Radius, 0.012 * 9 * 864000, 5, "drift by time, closed form"},
	})
	s.Climate = steady{-9, 0, 9}
	if p := one(t, s); p.Lay != 0 || math.Abs(p.Rowed-p.Days*24) > 1e-9 {
		t.Errorf("a fair wind: %v h at sea anchor, %v rowed", p.Lay, p.Rowed)
	}
	s.Climate = steady{-16, 0, 16}
	if p := one(t, s); p.Rowed != 0 || math.Abs(p.Lay-p.Days*24) > 1e-9 {
		t.Errorf("a storm from astern: %v h rowed, %v at sea anchor", p.Rowed, p.Lay)
	}
	// Nobody rows, and she would drift back: by the idle rule the anchor slows that.
	s.Climate, s.Rules.Against, s.Rules.Habit.Watches = steady{5, 0, 5}, 0, nil
	s.Rules.Idle = true
	run(t, []check{{"idle", one(t, s).Last.Lon * Radius, 0.012 * 5 * 864000, 5, "drift by time, closed form"}})
	s.Rules.Idle = false
	if p := one(t, s); p.Drifted != 240 || p.Lay != 0 {
		t.Errorf("left adrift: %v h, at sea anchor %v", p.Drifted, p.Lay)
	}
}

// TestSides: which way she goes when the wind has a side.
func TestSides(t *testing.T) {
	s := plain()
	s.Boat, s.Most, s.Weather.Spread = dory{}, 1, 0
	s.Rules.Habit.Watches = nil
	s.Climate = steady{0, -6, 6} // from the north, left with the wind on her starboard side
	p := one(t, s)
	run(t, []check{
		{"south", -p.Last.Lat * Radius, 0.035 * 6 * 86400, 1, "drift by time, closed form"},
		{"west: starboard of one who looks south", -p.Last.Lon * Radius, 0.01 * 6 * 86400, 1, "drift by time, closed form"},
	})
	s.Rules.Habit.Watches = []Watch{{0, 24}}
	s.Climate = steady{9, 0, 9} // from right ahead: she can be kept 50 degrees off it, wind to starboard
	s.Route[0].Lon = -40 * deg
	p = one(t, s)
	speed := (0.9 - 0.54*math.Cos(50*deg)) // by dory, at 600 kg
	run(t, []check{
		{"west", -p.Last.Lon * Radius / 86400, speed * math.Cos(50*deg), 1e-3, "track 50 degrees off, closed form"},
		{"north or south", p.Last.Lat * Radius, 0, speed * 3600, "the nearer side is now one, now the other: within one board of an hour"},
	})
	s.Route[0].Place = Place{-10 * deg, -40 * deg} // a little to the left: always the same side
	p = one(t, s)
	run(t, []check{
		{"to the left of the wind, south", -p.Last.Lat * Radius / 86400, speed * math.Sin(50*deg), 1e-3, "track 50 degrees off, closed form"},
		{"west", -p.Last.Lon * Radius / 86400, speed * math.Cos(50*deg), 1e-3, "the same"},
	})
	s.Route[0].Place = Place{0, -40 * deg}
	s.Climate = steady{0, -6, 6} // from the north, abeam on the way west: on her starboard side
	r, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	_, steps, err := r.Replay(0)
	if err != nil || !steps[5].Kept || math.Abs(steps[5].TrackNorth) > 0.01 || steps[5].TrackEast > -0.8 {
		t.Errorf("abeam she goes %+v (%v)", steps[5], err)
	}
}
