package hydraulics

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

// TestKronrodIsExact: the weights as remembered sum polynomials as they should.
func TestKronrodIsExact(t *testing.T) {
	for n := 0; n <= 22; n++ {
		f := func(x float64) float64 { return float64(n+1) * math.Pow(x, float64(n)) }
		sum, miss := kronrod(f, 0, 1)
		run(t, []check{{"power", sum, 1, 1e-14, "closed form: integral of (n+1) x^n over 0 to 1; the rule is exact to 22"}})
		if n <= 13 && miss > 1e-13 {
			t.Errorf("the seven points miss x^%d by %g", n, miss)
		}
	}
}

// TestRoundAgainstQuadrature: a part-full, part-drowned circle by 14 nodes against 2000
// of an independent library on the plain integral.
func TestRoundAgainstQuadrature(t *testing.T) {
	o := Opening{Diameter: 0.05, Coefficient: 1, Level: 0.1}
	for _, up := range []float64{0.1001, 0.103, 0.12, 0.125, 0.149, 0.15, 0.1501, 0.16, 0.3, 2} {
		for _, down := range []float64{-1, 0.1, 0.11, 0.125, 0.14, 0.155} {
			if down >= up {
				continue
			}
			// z = 0.125 - 0.025 cos t, summed up to the water
			last := math.Pi
			if up < 0.15 {
				last = math.Acos((0.125 - up) / 0.025)
			}
			cut := 0.0
			if down > 0.1 {
				cut = math.Min(last, math.Acos(math.Max(-1, (0.125-down)/0.025)))
			}
			strip := func(t float64) float64 {
				z := 0.125 - 0.025*math.Cos(t)
				return 2 * 0.025 * 0.025 * math.Sin(t) * math.Sin(t) * math.Sqrt(2*G*math.Max(0, up-math.Max(z, down)))
			}
			want := quad.Fixed(strip, 0, cut, 200, nil, 0) + quad.Fixed(strip, cut, last, 2000, nil, 0)
			run(t, []check{{"circle", o.Flow(up, down), want, 1e-7 * want, "speed by head over a circle, Gauss-Legendre of gonum v0.17"}})
		}
	}
	// Far under water it is an orifice with the head to its middle.
	far := o.Flow(20, -1)
	run(t, []check{{"deep", far, must(Orifice(1, disc(0.05), 20-0.125, 0)), 1e-6 * far, torricelli}})
}

// height draws a height to a tenth of a millimetre: nobody builds a sill a hair off
// another, and Run does not promise its error bound there.
func height(r *rapid.T, low, high float64, name string) float64 {
	return math.Round(rapid.Float64Range(low, high).Draw(r, name)*1e4) / 1e4
}

// drawn is a random opening.
func drawn(r *rapid.T) Opening {
	o := Opening{Level: height(r, -0.1, 0.35, "level"), Coefficient: rapid.Float64Range(0.3, 1).Draw(r, "Cd"),
		Face: Face(rapid.IntRange(0, 1).Draw(r, "face")), Flap: rapid.Bool().Draw(r, "flap"), Full: rapid.Bool().Draw(r, "full")}
	if rapid.Bool().Draw(r, "round") {
		o.Diameter = height(r, 0.005, 0.1, "diameter")
	} else {
		o.Width = height(r, 0.005, 0.3, "width")
		o.Height = height(r, 0.005, 0.1, "height")
	}
	if rapid.Bool().Draw(r, "tube") {
		o.Fall = height(r, 0.01, 0.3, "fall")
	}
	return o
}

func TestFlowProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		o := drawn(r)
		in, out := height(r, -0.1, 0.5, "in"), height(r, -0.3, 0.5, "out")
		q := o.Flow(in, out)
		if math.IsNaN(q) || q > 0 && in <= out || q < 0 && (out <= in || o.Flap) {
			r.Fatalf("flow %g from %g to %g", q, in, out)
		}
		if up := o.Flow(in+0.003, out); up < q-1e-7*math.Abs(q)-1e-15 {
			r.Fatalf("more water inside, less flow: %g, %g", q, up)
		}
		if down := o.Flow(in, out+0.003); down > q+1e-7*math.Abs(q)+1e-15 {
			r.Fatalf("more sea, more flow: %g, %g", q, down)
		}
		if q > o.Coefficient*o.Area()*root2G*math.Sqrt(in-math.Max(out, o.Level-o.Fall))*(1+1e-7) && q > 0 {
			r.Fatalf("more than Torricelli allows: %g", q)
		}
		// Scaling by Froude: lengths by s, flow by s^2.5.
		const s = 4.0
		b := o
		b.Level, b.Width, b.Height, b.Diameter, b.Fall = s*o.Level, s*o.Width, s*o.Height, s*o.Diameter, s*o.Fall
		if big := b.Flow(s*in, s*out); math.Abs(big-32*q) > 1e-9*math.Abs(big)+1e-15 {
			r.Fatalf("scaled by 4: %g, not 32 times %g", big, q)
		}
		if !o.Flap && o.Fall == 0 && o.Face == Upright {
			if back := o.Flow(out, in); math.Abs(back+q) > 1e-12*math.Abs(q) {
				r.Fatalf("not the same both ways: %g, %g", q, back)
			}
		}
	})
}

func TestRunProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		b := must(Areas([]float64{0, 0.15, 0.4}, []float64{height(r, 0, 1, "a"), 0.8, 1.1}))
		d := drain(b, height(r, -0.5, 0.5, "sea"), drawn(r), drawn(r))
		from, to := height(r, 0.01, 0.4, "from"), height(r, 0, 0.4, "to")
		whole, err := d.Run(from, to)
		if err != nil {
			r.Fatal(err)
		}
		if !(whole.Time >= 0) || whole.Error > 1e-8*whole.Time || whole.Reached && math.Abs(whole.To-to) > 1e-9 {
			r.Fatalf("%+v", whole)
		}
		if q := d.Flow(whole.Rest.Level); !whole.Rest.Brim && whole.Rest.Level > b.Bottom()+1e-12 && math.Abs(q) > 0 {
			// At a rest the flow is nothing, or turns there.
			side := math.Copysign(1e-9, whole.Rest.Level-from)
			if d.Flow(math.Max(0, math.Min(0.4, whole.Rest.Level+side)))*d.Flow(from) > 0 {
				r.Fatalf("still running at rest %+v: %g", whole.Rest, q)
			}
		}
		// Additive: half way and on is the whole way.
		half := (from + whole.To) / 2
		one, err1 := d.Run(from, half)
		two, err2 := d.Run(half, whole.To)
		if err1 != nil || err2 != nil || math.Abs(one.Time+two.Time-whole.Time) > 1e-7*whole.Time+1e-12 {
			r.Fatalf("%g + %g is not %g (%v, %v)", one.Time, two.Time, whole.Time, err1, err2)
		}
		// Two outlets alike are one counted twice, and take half the time.
		twice, again := d, d
		twice.Openings = append(append([]Opening(nil), d.Openings...), d.Openings...)
		again.Openings = append([]Opening(nil), d.Openings...)
		for i := range again.Openings {
			again.Openings[i].Count = 2
		}
		a, c := must(twice.Run(from, whole.To)), must(again.Run(from, whole.To))
		if math.Abs(a.Time-whole.Time/2) > 1e-8*whole.Time+1e-12 || math.Abs(a.Time-c.Time) > 1e-8*whole.Time+1e-12 {
			r.Fatalf("twice the drains: %g, %g, not half of %g", a.Time, c.Time, whole.Time)
		}
	})
}

// TestTrackAgainstSteps follows a well with a slot, two drains and a drowned pipe by
// small steps in time (the slow obvious twin), and keeps the account of the water.
func TestTrackAgainstSteps(t *testing.T) {
	b := must(Volumes([]float64{0, 0.1, 0.25, 0.4}, []float64{0, 0.08, 0.24, 0.45}))
	d := drain(b, 0.06,
		Opening{Level: 0.2, Width: 0.12, Height: 0.06, Coefficient: 0.6},
		Opening{Face: Flat, Level: 0, Diameter: 0.05, Coefficient: 0.7, Count: 2},
		Opening{Level: 0.05, Diameter: 0.04, Coefficient: 0.6, Fall: 0.1})
	got, track, err := d.Track(0.4, 0.08, 40)
	if err != nil {
		t.Fatal(err)
	}
	const dt = 2e-4
	level, time := 0.4, 0.0
	for level > 0.08 {
		half := level - dt/2*d.Flow(level)/b.Area(level)
		level -= dt * d.Flow(half) / b.Area(half)
		time += dt
	}
	sum := 0.0
	for i := 1; i < len(track); i++ {
		sum += (track[i].Time - track[i-1].Time) * (track[i].Flow + track[i-1].Flow) / 2
	}
	last := track[len(track)-1]
	run(t, []check{
		{"time by small steps", got.Time, time, 3 * dt, "midpoint rule in steps of 0.2 ms"},
		{"the track's end", last.Time, got.Time, 1e-7 * got.Time, "additivity"},
		{"volume kept", sum, got.Volume, 2e-3 * got.Volume, "conservation: flow over time is the water gone; trapezoids in 40 steps"},
		{"volume of the run", got.Volume, b.Volume(0.4) - b.Volume(0.08), 1e-15, "conservation"},
		{"rest at the sea", must(d.Rest(0.4)).Level, 0.06, 1e-10, "level with the sea"},
	})
}

// TestSlidingSea: a compartment that fills while the boat sinks, and a pump that holds it.
func TestSlidingSea(t *testing.T) {
	b := must(must(Box(0, 1, 2)).Permeable(0.5)) // 1 m2 open to water
	hole := Opening{Face: Flat, Level: 0, Diameter: 0.05, Coefficient: 0.6, Full: true}
	// She sinks 0.3 m a m3: the head 0.4 + 0.3 h - h closes at h = 4/7, as if by 0.7 of the area's rate.
	d := Draining{Basin: b, Openings: []Opening{hole}, Sea: Sinking(b, func(v float64) float64 { return 0.4 + 0.3*v })}
	fill := must(d.Run(0, 0.5))
	k := 0.6 * disc(0.05) * root2G
	held := d
	held.Sea = Still(0.5)
	held.Pump = func(float64) float64 { return k * math.Sqrt(0.2) }
	rest := must(held.Run(0, 0.5))
	beaten := held
	beaten.Pump = func(float64) float64 { return 2 * k }
	over := d
	over.Sea = Still(3)
	line := ElectricPump{{0, 2e-3}, {4, 0}}
	hose := Hose{Bore: 0.025, Length: 3, Losses: 2, Viscosity: SeaWater15}
	bail := Draining{Basin: b, Sea: Dry(), Pump: must(line.Lifting(hose, 1.2, 0.05))}
	out := must(bail.Run(0.6, 0))
	mean := must(line.Operate(hose, 1.2-0.325)).Flow
	run(t, []check{
		{"filling as she sinks", fill.Time, 2 / 0.7 * (math.Sqrt(0.4) - math.Sqrt(0.05)) / k, 1e-6, "closed form: head falls from 0.4 to 0.05 at 0.7 Q / A"},
		{"her rest", fill.Rest.Level, 0.4 / 0.7, 1e-9, "closed form: 0.4 + 0.3 h = h"},
		{"a pump holds", rest.Rest.Level, 0.3, 1e-9, "closed form: head 0.2 at equal flows"},
		{"a pump empties", must(beaten.Run(0.4, 0)).Rest.Level, 0, 0, "two k beats k sqrt(0.5)"},
		{"sunk to the brim", must(over.Run(0, 1)).Time, 2 * (math.Sqrt(3) - math.Sqrt(2)) / k, 1e-6, tank},
		{"pumped to the strainer", out.To, 0.05, 1e-9, "no water at the strainer"},
		{"time to pump", out.Time, 0.55 / mean, 0.003 * out.Time, "volume over the flow at the mean lift"},
	})
	if rest.Reached || rest.Rest.InTime || !must(over.Run(0, 1)).Rest.Brim || !fill.Reached {
		t.Error("wrong ends", rest, fill)
	}
	if flap := (Opening{Face: Flat, Diameter: 0.05, Coefficient: 0.6, Flap: true}); must(drain(b, 0.5, flap).Run(0.2, 0)).Time != 0 {
		t.Error("a flap lets the sea in, or water out against it")
	}
}

// TestBiggerIsFaster: time falls with every size, and a drowned drain is slower.
func TestBiggerIsFaster(t *testing.T) {
	last := math.Inf(1)
	for _, size := range []float64{0.02, 0.03, 0.05, 0.08, 0.12} {
		now := must(drain(well(), -1, Opening{Face: Flat, Diameter: size, Coefficient: 0.6}).Run(0.4, 0.02)).Time
		if now >= last {
			t.Errorf("%g m takes %g s, no less than %g s", size, now, last)
		}
		last = now
	}
	last = 0
	for _, sea := range []float64{-0.3, 0.005, 0.01, 0.019} {
		now := must(drain(well(), sea, Opening{Face: Flat, Diameter: 0.05, Coefficient: 0.6}).Run(0.4, 0.02)).Time
		if now <= last {
			t.Errorf("sea at %g m: %g s, no more than %g s", sea, now, last)
		}
		last = now
	}
}

func TestLevelOfVolume(t *testing.T) {
	for _, b := range []Basin{well(), must(Areas([]float64{0, 1, 2}, []float64{0, 3, 0.1})), must(Volumes([]float64{-1, 0, 2, 2.1}, []float64{5, 6, 6.5, 9}))} {
		for s := 0.0; s <= 1; s += 1.0 / 64 {
			v := s * b.Volume(b.Top())
			run(t, []check{{"round trip", b.Volume(must(b.Level(v))), v, 1e-13 * b.Volume(b.Top()), "round trip: the volume at the level of a volume"}})
		}
		if b.Volume(b.Bottom()-1) != 0 || b.Volume(b.Top()+1) != b.Volume(b.Top()) {
			t.Error("water outside the basin")
		}
	}
}

func BenchmarkDrainDown(b *testing.B) {
	basin := must(Areas([]float64{0, 0.1, 0.4}, []float64{0.5, 0.9, 1.1}))
	d := drain(basin, -0.05,
		Opening{Face: Flat, Diameter: 0.038, Coefficient: 0.6, Count: 2},
		Opening{Level: 0, Width: 0.12, Height: 0.06, Coefficient: 0.6, Count: 4})
	b.ReportAllocs()
	for b.Loop() {
		if _, err := d.Run(0.4, 0.01); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDrainDownRound(b *testing.B) {
	d := drain(well(), -0.05, Opening{Diameter: 0.05, Coefficient: 0.6, Count: 4})
	for b.Loop() {
		if _, err := d.Run(0.4, 0.01); err != nil {
			b.Fatal(err)
		}
	}
}
