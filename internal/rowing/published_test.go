package rowing

import (
	"math"
	"testing"
)

// check is one number against where it comes from.
type check struct {
	name   string
	got    float64
	want   float64
	tol    float64
	source string
}

func run(t *testing.T, rows []check) {
	t.Helper()
	for _, r := range rows {
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s: got %.9g, want %.9g within %g (%s)", r.name, r.got, r.want, r.tol, r.source)
		}
	}
}

// must gives a value or fails.
func must[T any](t *testing.T) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

const huston = "Huston, Principles of Biomechanics (2009), table of standing and sitting dimensions"

// TestStatures: one survey's normal curve against another's percentiles; they are different people, so 11 mm.
func TestStatures(t *testing.T) {
	at := func(s Sex, p float64) float64 { return must[Body](t)(Percentile(s, p)).Stature }
	run(t, []check{
		{"man 5th", at(Man, 5), 1.649, 0.006, huston},
		{"man 50th", at(Man, 50), 1.759, 0.006, huston},
		{"man 95th", at(Man, 95), 1.869, 0.006, huston},
		{"woman 5th", at(Woman, 5), 1.518, 0.006, huston},
		{"woman 50th", at(Woman, 50), 1.618, 0.0115, huston},
		{"woman 95th", at(Woman, 95), 1.724, 0.0115, huston},
	})
	if n := len(Bodies()); n != 6 {
		t.Errorf("%d bodies to try a boat on, want 6", n)
	}
}

// TestSegments: joint-to-joint shares of stature, with the flesh over the joint added, against lengths measured over the skin.
func TestSegments(t *testing.T) {
	b := must[Body](t)(OfStature("", 1.759))
	w := must[Body](t)(OfStature("", 1.618))
	const elbow, behind = 0.035, 0.115 // flesh behind the elbow's and behind the hip's joint, metres: from memory
	run(t, []check{
		{"knee's height, man", b.Ankle + b.Shank + b.KneeHalf, 0.553, 0.010, huston},
		{"knee's height, woman", w.Ankle + w.Shank + w.KneeHalf, 0.502, 0.010, huston},
		{"shoulder to elbow, man", b.UpperArm + elbow, 0.361, 0.010, huston},
		{"shoulder to elbow, woman", w.UpperArm + elbow, 0.332, 0.010, huston},
		{"elbow to fingertip, man", (forearm+hand)*b.Stature + elbow, 0.483, 0.010, huston},
		{"elbow to fingertip, woman", (forearm+hand)*w.Stature + elbow, 0.428, 0.020, huston},
		{"buttock to knee, man", b.Thigh + b.KneeHalf + behind, 0.605, 0.010, huston},
		{"buttock to knee, woman", w.Thigh + w.KneeHalf + behind, 0.578, 0.025, huston},
		{"sitting height, man", b.HipHeight + b.Trunk + b.Head, 0.927, 0.005, huston},
		{"sitting height, woman", w.HipHeight + w.Trunk + w.Head, 0.853, 0.005, huston},
		{"shoulder standing, man", b.Ankle + b.Shank + b.Thigh + b.Trunk, 1.444, 0.010, huston},
	})
}

// TestHabits: the postures taken for granted lie where people were measured.
func TestHabits(t *testing.T) {
	s, f := Sliding(), FixedSeat()
	const agius = "Agius et al., Bioengineering 10 (2023) 774, abstract"
	run(t, []check{
		{"trunk's swing, sliding", (s.TrunkFore + s.TrunkAft) / degree, 48, 4, agius + ": 44 to 52 degrees"},
		{"trunk's swing, fixed, gentler than racers'", (f.TrunkFore + f.TrunkAft) / degree, 64, 13, agius + ": 75 to 77 racing, and no less than 52"},
		{"shin at the catch", s.Shin / degree, 91.6, 1e-9, "Kleshnev 2024: 91.6 ± 6.7 degrees"},
	})
	st := must[Stroke](t)(racing(1.90).Stroke(flat, Starboard))
	shin := math.Atan2(st.Catch.Knee.Z-st.Catch.Ankle.Z, st.Catch.Knee.X-st.Catch.Ankle.X)
	run(t, []check{
		{"shin in the pose", shin / degree, 91.6, 1e-6, "Kleshnev 2024, as asked of the pose"},
		{"arc of a racing scull, tall man", st.Arc() / degree, 107, 12, "racing scullers 65 to 70 and 40 to 45 degrees (Kleshnev, from memory); a rower at ease does less"},
		{"legs straight at the finish", st.Finish.KneeAngle / degree, 172, 1e-6, "as asked of the pose"},
	})
}

const coaching = "published coaching notes, conventions and worked value"

func TestGearing(t *testing.T) {
	g := must[float64](t)
	scull := Oar{Length: 2.88, Inboard: 0.88, Blade: 0.44, Width: 0.21, Swivel: 0.04}
	sweep := Oar{Length: 3.74, Inboard: 1.14, Blade: 0.55, Width: 0.25, Swivel: 0.04, Sweep: true, Grip: 0.15}
	a, b := must[Gears](t)(scull.Gears(0.80)), must[Gears](t)(sweep.Gears(0.85))
	in16, long16, err := RuleOar(1.6)
	in17, long17, err2 := RuleOar(1.7)
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	run(t, []check{
		{"scull 288/88, span 160", g(ScullGear(2.00, 1.60, 0)), 2.5, 1e-12, coaching},
		{"with a swivel of 4 cm", g(ScullGear(2.00, 1.60, 0.04)), 2.564103, 5e-7, coaching},
		{"sweep 374/114, spread 85", g(SweepGear(2.60, 0.85, 0)), 3.058824, 5e-7, coaching},
		{"sweep with a swivel", g(SweepGear(2.60, 0.85, 0.04)), 2.60 / 0.83, 1e-12, "outboard / (spread - ½ swivel)"},
		{"overlap", HandleOverlap(0.88, 1.60, 0), 0.16, 1e-12, coaching},
		{"overlap with a swivel", HandleOverlap(0.88, 1.60, 0.04), 0.20, 1e-12, coaching},
		{"the oar's own: plain", a.Plain, 2.5, 1e-12, coaching},
		{"the oar's own: swivel", a.Swivel, 2.564103, 5e-7, coaching},
		{"the oar's own: overlap", a.Overlap, 0.20, 1e-12, coaching},
		{"lever", a.Lever, (2.88 - 0.90 - 0.22) / 0.84, 1e-12, "arms from the pin, arithmetic"},
		{"sweep's own", b.Plain, 3.058824, 5e-7, coaching},
		{"sweep's overhang", b.Overhang, 0.31, 1e-12, "inboard + half swivel - spread: 30 to 40 cm customary"},
		{"rule, span 1.6: inboard", in16, 0.85, 1e-12, "half span + 50 mm, published rule of thumb"},
		{"rule, span 1.6: length", long16, 3.04, 0.005, "7:18, printed to the centimetre"},
		{"rule, span 1.7: inboard", in17, 0.90, 1e-12, "half span + 50 mm"},
		{"rule, span 1.7: length", long17, 3.21, 0.005, "7:18, printed to the centimetre"},
	})
}

func TestErgometer(t *testing.T) {
	p := must[float64](t)
	const formula = "P = 2.80 / pace³, worked"
	run(t, []check{
		{"2:00", p(ErgometerPower(120.0 / 500)), 202.546, 5e-4, formula},
		{"2:30", p(ErgometerPower(150.0 / 500)), 103.704, 5e-4, formula},
		{"3:00", p(ErgometerPower(180.0 / 500)), 60.0137, 5e-5, formula},
		{"1:45", p(ErgometerPower(105.0 / 500)), 302.343, 5e-4, formula},
		{"and back", 500 * p(ErgometerPace(202.546)), 120, 1e-4, "round trip"},
	})
}

// TestPower: the curve goes through what is printed.
func TestPower(t *testing.T) {
	at := func(f Fitness, h float64) float64 { return must[Value](t)(f.Lasts(h)).Value }
	const wilkie = "Wilkie, Ergonomics 3 (1960) 1-8, abstract"
	v := must[Value](t)(Healthy.Lasts(1))
	run(t, []check{
		{"champion, 5 min", at(Champion, 5.0/60), 0.5 * 745.7, 1e-6, wilkie},
		{"champion, 150 min", at(Champion, 2.5), 0.4 * 745.7, 1e-6, wilkie},
		{"champion, all day", at(Champion, 8), 0.2 * 745.7, 1e-6, wilkie},
		{"ordinary at their best, all day", at(Trained, 8), 0.75 * 0.2 * 745.7, 0.05 * 149.14, wilkie + ": less than 70-80 per cent"},
		{"labourer, 8 h", at(Healthy, 8), 75, 1e-9, "75 W for 8 h, published summaries; 0.1 hp"},
		{"healthy, 1 h", v.Value, 100, 1e-9, "50 to 150 W for 1 h"},
		{"healthy, 1 h, spread", v.Spread, 50, 1e-9, "50 to 150 W for 1 h"},
	})
	last := math.Inf(1)
	for h := 0.1; h <= 24; h += 0.1 {
		v := must[Value](t)(Champion.Lasts(h))
		if v.Value > last || v.Spread <= 0 || v.Spread >= v.Value {
			t.Fatalf("champion %.1f h: %+v after %g", h, v, last)
		}
		last = v.Value
	}
}

// TestDay: energy by the definition and by what crews burnt.
func TestDay(t *testing.T) {
	r := Rower{Name: "invented", Mass: 80, Stature: 1.80, Age: 35, Fitness: Trained}
	rest := must[float64](t)(r.RestingPower())
	plan := Plan{{Hours: 12, On: 2, Off: 2}, {Hours: 12, On: 3, Off: 1}}
	d := must[Day](t)(r.Day(Plan{{Hours: 24, On: 2, Off: 2}}, 30, Weeks()))
	const mifflin = "Mifflin and St Jeor 1990: 800 + 1125 - 175 + 5 kcal, arithmetic"
	woman := r
	woman.Sex = Woman
	run(t, []check{
		{"100 W, 12 h, 20 %", must[float64](t)(Burnt(100, 12, 0.2)) / 4184, 5162.52, 0.005, "definition, worked"},
		{"resting rate, man", rest * 86400 / 4184, 1755, 1e-9, mifflin},
		{"resting rate, woman", must[float64](t)(woman.RestingPower()) * 86400 / 4184, 1589, 1e-9, "the same with - 161"},
		{"2/2 by night and 3/1 by day", must[float64](t)(plan.Hours()), 15, 1e-12, "about 15 h each, published accounts"},
		{"2/2", d.Hours, 12, 1e-12, "half the day"},
		{"a day's energy at sea", d.Energy.Value / 1e6, 15.3, 2.5, "Reid et al. 2017: 15.3 MJ a day over 50 days, 14.9 and 16.4"},
		{"in resting rates", d.Energy.Value / (rest * 86400), 2.5, 1.0, "2.5 ± 1.0 (men), 49 Atlantic rowers"},
	})
	if w := d.Power.Value; w < 35 || w > 75 || d.Power.Spread < 10 {
		t.Errorf("12 h a day for weeks: %.0f ± %.0f W; crews' 40 to 60 N at 1 m/s and an efficiency of a half to 0.7 are 55 to 120 W at most and the labourer's day is 75", w, d.Power.Spread)
	}
	c := must[Crew](t)(Together([]Rower{r, r}, plan, 0, Weeks()))
	alone := must[Crew](t)(Together([]Rower{r}, plan, 0, Weeks()))
	run(t, []check{
		{"two on 2/2 and 3/1: somebody rows", c.Rowed, 24, 1e-12, "half and three quarters of the time, shifted: all of it"},
		{"both", c.All, 6, 1e-12, "12 h × (2 × 3/4 - 1)"},
		{"alone", alone.Rowed, 15, 1e-12, "his own hours"},
		{"two give twice one", c.Mean.Value, 2 * alone.Mean.Value, 1e-9, "additivity"},
	})
}

// TestSlipIntegral: the efficiency's integral in closed form, by the half-angle substitution.
func TestSlipIntegral(t *testing.T) {
	b := Blades{HandArm: 0.8, BladeArm: 2, Catch: 1.0, Finish: 0.6, Area: 0.16}
	antiderivative := func(v, s, a float64) float64 { // of 1 / (v cos a + s)
		u := math.Tan(a / 2)
		if s > v {
			q := math.Sqrt((s - v) * (s + v))
			return 2 / q * math.Atan((s-v)*u/q)
		}
		q := math.Sqrt((v - s) * (v + s))
		return 1 / q * math.Log(math.Abs((q+(v-s)*u)/(q-(v-s)*u)))
	}
	for _, c := range []struct{ v, s float64 }{{1, 1.5}, {1, 0.6}, {4.7, 1.4}, {0.2, 1}, {2, 0.3}} {
		i := antiderivative(c.v, c.s, 1.0) - antiderivative(c.v, c.s, -0.6)
		eff, drive := b.drive(c.v, c.s)
		run(t, []check{
			{"drive's time", drive, 2 * i, 2e-7 * i, "closed form, tangent of the half angle; Simpson's rule of 64 parts"},
			{"efficiency", eff, 1 - c.s*i/1.6, 2e-7, "closed form: mean of 1 - slip / (V cos a + slip)"},
		})
	}
}

// TestStroke: a racing stroke, a made-fast boat, and the books balance.
func TestStroke(t *testing.T) {
	racer := Blades{HandArm: 0.84, BladeArm: 1.76, Catch: 66 * degree, Finish: 43 * degree, Area: 0.163, Density: 1000}
	p := must[Pull](t)(racer.Pull(350, 32, 4.7))
	ocean := Blades{HandArm: 0.81, BladeArm: 1.95, Catch: 55 * degree, Finish: 30 * degree, Area: 0.16}
	q := must[Pull](t)(ocean.Pull(75, 18, 1.03))
	held := must[Pull](t)(ocean.Bollard(200, 18))
	run(t, []check{
		{"racing efficiency", p.Efficiency.Value, 0.745, 0.075, "a quarter to a third lost at the blade (Affeld et al. 1993), 0.75 to 0.82 usual: 0.67 to 0.82"},
		{"racing force, both hands", p.Handle, 400, 80, "means of 150 to 220 N a hand through the drive (Kleshnev, from memory)"},
		{"racing drive's share of the cycle", p.Share, 0.36, 0.10, "0.45 to 0.5 measured at racing rates (from memory), of which entry and release of the blade and the hull's slowing in the drive, both left out, are a quarter"},
		{"racing thrust", p.Thrust.Value, p.Efficiency.Value * 350 / 4.7, 1e-6, "thrust × speed = efficiency × power"},
		{"ocean thrust", q.Thrust.Value, q.Efficiency.Value * 75 / 1.03, 1e-6, "thrust × speed = efficiency × power"},
		{"ocean thrust, about what is said", q.Thrust.Value, 45, 15, "a steady rower makes some 40 to 60 N, from memory"},
		{"held: no work on the boat", held.Efficiency.Value, 0, 0, "nothing moves"},
		{"held: thrust", held.Thrust.Value, 200 * 0.81 / 1.95 * (math.Sin(55*degree) + math.Sin(30*degree)) / (85 * degree) * held.Share, 1e-6, "mean of cosine over the arc, times the share of the cycle"},
		{"held: slip", held.Slip, math.Sqrt(200 * 0.81 / 1.95 / (0.5 * 1025 * 1.2 * 0.16)), 1e-12, "½ ρ C A slip² = force"},
		{"power from force", must[Pull](t)(ocean.PullOf(q.Handle, 18, 1.03)).Power, 75, 1e-9, "round trip"},
	})
	light := ocean
	light.HandArm, light.BladeArm = 0.87, 1.89
	l := must[Pull](t)(light.Pull(75, 18, 1.03))
	if !(l.Handle < q.Handle && l.Hand > q.Hand) {
		t.Errorf("a lighter gear must ask less force of faster hands at the same power and rate: %+v against %+v", l, q)
	}
	run(t, []check{{"force at the blade by its arm alone", l.Blade / q.Blade, 1.95 / 1.89, 1e-12, "work a stroke = blade's force × blade's arm × arc"}})
	if hard := must[Pull](t)(ocean.PullOf(600, 30, 0.1)); len(hard.Cautions) == 0 {
		t.Error("600 N for hours goes without a caution")
	}
}
