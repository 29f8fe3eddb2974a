package planks

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestTables(t *testing.T) {
	least := func(b BendTable, mm, deg float64) float64 {
		r, _ := b.Least(mm/1000, deg*math.Pi/180)
		return r
	}
	run(t, []check{
		{"quarter inch, across", least(APADry, 6.35, 90), 2 * 0.3048, 1e-9, APADry.Source},
		{"quarter inch, along", least(APADry, 6.35, 0), 5 * 0.3048, 1e-9, APADry.Source},
		{"three quarters, along", least(APADry, 19.05, 0), 20 * 0.3048, 1e-9, APADry.Source},
		{"between half and five eighths", least(APADry, 0.5625*25.4, 90), 7 * 0.3048, 1e-9, "half way between two printed rows"},
		{"aircraft, quarter inch", least(FAACold, 6.35, 0), 31 * 0.0254, 1e-9, FAACold.Source},
		{"aircraft, quarter inch, across", least(FAACold, 6.35, 45), 20 * 0.0254, 1e-9, FAACold.Source},
		{"soaked, three eighths", least(FAASoaked, 9.525, 0), 21 * 0.0254, 1e-9, FAASoaked.Source},
		{"soaked, an eighth, across", least(FAASoaked, 3.175, 90), 1.2 * 0.0254, 1e-9, FAASoaked.Source},
		{"rule of thumb, 9 mm", least(FiftyThick, 9, 30), 0.45, 1e-9, FiftyThick.Source},
		{"beyond: half an inch of aircraft plywood", least(FAACold, 12.7, 0), 54 * 0.0254 * 4 / 3, 1e-9, "in proportion to the last row"},
	})
	if _, beyond := APADry.Least(0.004, 0); !beyond {
		t.Error("4 mm stands in no table of construction plywood, and that is not said")
	}
	for _, b := range []BendTable{APADry, FAACold, FAASoaked, FiftyThick} {
		for i, r := range b.Rows {
			if r.Along < r.Across || i > 0 && (r.Thickness <= b.Rows[i-1].Thickness) {
				t.Errorf("%s: row %d", b.Name, i)
			}
		}
	}
}

// bentPlate is straight up to half its length and goes on round an arc.
func bentPlate(radius float64, n int) [][]r3.Vec {
	return strip(n, 3, func(f float64) r3.Vec { return arc(radius, f) }, func(f float64) r3.Vec { p := arc(radius, f); p.Y = 0.2; return p })
}

func arc(radius, f float64) r3.Vec {
	if f < 0.5 {
		return r3.Vec{X: 4 * f}
	}
	s, c := math.Sincos((4*f - 2) / radius)
	return r3.Vec{X: 2 + radius*s, Z: radius * (1 - c)}
}

func TestWarnings(t *testing.T) {
	for _, row := range []struct {
		radius, thickness float64
		want              int
		source            string
	}{
		{1.0, 0.00635, 1, "APA: 5 ft along the grain is 1.52 m"},
		{1.6, 0.00635, 0, "APA: 5 ft along the grain is 1.52 m"},
	} {
		f := laid(t, bentPlate(row.radius, 201))
		ws, err := Warnings(&f, Sheet{Thickness: row.thickness, Tables: []BendTable{APADry}})
		if err != nil || len(ws) != row.want {
			t.Errorf("radius %g: %v, %v (%s)", row.radius, ws, err, row.source)
			continue
		}
		if row.want == 1 {
			run(t, []check{{"radius", ws[0].Value, row.radius, 1e-3, "the arc's own"}, {"allowed", ws[0].Allowed, 5 * 0.3048, 1e-9, row.source}})
			if ws[0].Kind != TooTight || ws[0].Point.X < 2-0.03 {
				t.Errorf("%v", ws[0])
			}
		}
	}
	f := laid(t, strip(41, 2, func(f float64) r3.Vec { return r3.Vec{X: f} }, func(f float64) r3.Vec {
		s, c := math.Sincos(f)
		return r3.Vec{X: f, Y: 0.1 * c, Z: 0.1 * s}
	}))
	ws, err := Warnings(&f, Sheet{Thickness: 0.009})
	if err != nil || len(ws) == 0 || ws[0].Kind != TooTwisted {
		t.Fatalf("%v %v", ws, err)
	}
	run(t, []check{
		{"twist of a helicoid about its axis", ws[0].Value, 1, 0.01, "a radian a metre, closed form; rows 25 mm apart"},
		{"allowed", ws[0].Allowed, 0.005 / 0.009, 1e-12, "the rule as written, common practice, no source"},
	})
	if _, err := Warnings(&Flat{}, Sheet{Thickness: 1}); err != ErrNotLaid {
		t.Error(err)
	}
	if _, err := Scarfs(&Flat{}, Joint{}); err != ErrNotLaid {
		t.Error(err)
	}
	if _, err := Warnings(&f, Sheet{Thickness: math.NaN()}); err == nil {
		t.Error("a thickness that is no number: taken")
	}
}

func TestScarfs(t *testing.T) {
	f := laid(t, bentPlate(0.7, 201)) // 4 m, hard from 2 m on
	c, err := Scarfs(&f, Joint{Sheet: 2.44, Thickness: 0.009})
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Scarfs) != 1 || len(c.Lengths) != 2 || len(c.Faults) != 0 {
		t.Fatalf("%+v", c)
	}
	s := c.Scarfs[0]
	var area float64
	for _, l := range c.Lengths {
		area += shoelace(l.Outline)
		if l.To-l.From > 2.44+1e-9 {
			t.Errorf("a length of %g m", l.To-l.From)
		}
	}
	run(t, []check{
		{"length of the scarf", s.To - s.From, 0.072, 1e-12, "8 × 9 mm"},
		{"off the bend", math.Max(0, s.To-2), 0, 0, "the bend begins at 2 m"},
		{"area of the lengths", area, f.AreaFlat + 0.2*0.072, 1e-9, "the scarf is cut twice"},
		{"no bend in it", s.Curvature, 0, 1e-9, "a plane"},
	})
	// the neighbour's scarf stands where this one would
	beside, err := Scarfs(&f, Joint{Sheet: 2.44, Thickness: 0.009, Stagger: 0.3, Beside: c.Scarfs})
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range beside.Scarfs {
		if math.Abs(q.X-s.X) < 0.3 {
			t.Errorf("scarfs at %.2f and %.2f m", q.X, s.X)
		}
	}
	// round all along: it cannot be helped, and is said
	g := laid(t, strip(201, 3, func(f float64) r3.Vec { s, c := math.Sincos(4 * f / 0.7); return r3.Vec{X: 0.7 * s, Z: 0.7 * c} },
		func(f float64) r3.Vec {
			s, c := math.Sincos(4 * f / 0.7)
			return r3.Vec{X: 0.7 * s, Y: 0.2, Z: 0.7 * c}
		}))
	round, err := Scarfs(&g, Joint{Sheet: 2.44, Thickness: 0.009})
	if err != nil || len(round.Scarfs) != 1 || len(round.Faults) != 1 {
		t.Errorf("%+v %v", round, err)
	}
	crowded, err := Scarfs(&f, Joint{Sheet: 2.44, Thickness: 0.009, Stagger: 3, Beside: c.Scarfs})
	if err != nil || len(crowded.Faults) == 0 {
		t.Errorf("scarfs 3 m from the middle of 4 m: %+v %v", crowded, err)
	}
	if whole, err := Scarfs(&f, Joint{Sheet: 4.5, Thickness: 0.009}); err != nil || len(whole.Scarfs) != 0 || len(whole.Lengths) != 1 {
		t.Errorf("%+v %v", whole, err)
	}
	for _, bad := range []Joint{{}, {Sheet: 0.1, Thickness: 0.009}, {Sheet: math.NaN(), Thickness: 1}} {
		if _, err := Scarfs(&f, bad); err == nil {
			t.Errorf("%+v: taken", bad)
		}
	}
	narrow, err := Scarfs(&f, Joint{Sheet: 2.44, Across: 0.15, Thickness: 0.009})
	if err != nil || len(narrow.Faults) != 1 {
		t.Errorf("%+v %v", narrow, err)
	}
}
