package nesting

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// whole checks what must hold of every layout, by means of its own: random points of the
// sheets lie in one piece at most, every copy is there once, and the areas add up.
func whole(t interface{ Errorf(string, ...any) }, parts []Part, stock Stock, r Result) {
	if faults := Check(parts, stock, r.Placements); len(faults) > 0 {
		t.Errorf("%v", faults)
	}
	unfit := map[int]bool{}
	for _, m := range r.Unfit {
		unfit[m.Part] = true
	}
	seen := map[[2]int]int{}
	bySheet := map[int][][][]point{}
	for _, p := range r.Placements {
		seen[[2]int{p.Part, p.Copy}]++
		rings := [][]point{p.lay(parts[p.Part].Outline)}
		for _, h := range parts[p.Part].Holes {
			rings = append(rings, p.lay(h))
		}
		bySheet[p.Sheet] = append(bySheet[p.Sheet], rings)
	}
	var used float64
	for i, part := range parts {
		for c := range part.Count {
			n := seen[[2]int{i, c}]
			if n > 1 || n == 0 && !unfit[i] {
				t.Errorf("%q copy %d lies there %d times", part.Name, c, n)
			}
			if n == 1 {
				for k, raw := range append([][][2]float64{part.Outline}, part.Holes...) {
					a := math.Abs(area(Placement{}.lay(raw)))
					if k > 0 {
						a = -a
					}
					used += a
				}
			}
		}
	}
	if whole := float64(r.Sheets) * stock.Length * stock.Width; math.Abs(used-r.Used) > 1e-9 || whole > 0 && math.Abs(used+r.Waste*whole-whole) > 1e-9 {
		t.Errorf("parts of %g m2, used %g, waste %g of %d sheets", used, r.Used, r.Waste, r.Sheets)
	}
	if r.Sheets != len(bySheet) || r.Sheets < r.Bound.Sheets {
		t.Errorf("%d sheets said, %d used, bound %d", r.Sheets, len(bySheet), r.Bound.Sheets)
	}
	dice := rand.New(rand.NewPCG(5, 5))
	for s, pieces := range bySheet {
		for range 300 {
			v, in := point{dice.Float64() * stock.Length, dice.Float64() * stock.Width}, 0
			for _, rings := range pieces {
				odd := false
				for _, ring := range rings {
					odd = odd != inside(ring, v)
				}
				if odd {
					in++
				}
			}
			if in > 1 {
				t.Errorf("%v on sheet %d lies in %d pieces", v, s, in)
			}
		}
	}
}

// TestBoat: the outfit of the benchmark.
func TestBoat(t *testing.T) {
	parts := boat()
	r, err := Pack(context.Background(), parts, ply, nil, Options{Seed: 2, Effort: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	whole(t, parts, ply, r)
	if r.Sheets > 5 || r.Bound.Sheets != 3 {
		t.Errorf("%d sheets, bound %+v", r.Sheets, r.Bound)
	}
	for _, p := range r.Placements {
		if q, _ := quarters(p.Angle); parts[p.Part].Grain == Along && q%2 == 1 {
			t.Errorf("%q lies across the grain", parts[p.Part].Name)
		}
	}
}

// TestAnyParts: properties of layouts of anything.
func TestAnyParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		stock := Stock{Length: 1 + r.Float64(), Width: 0.5 + r.Float64(), Margin: 0.02 * r.Float64()}
		if r.IntN(3) > 0 {
			stock.Gap = 0.02 * r.Float64()
		}
		var parts []Part
		for range 1 + r.IntN(6) {
			p := blob(r, "blob", 0.03+0.4*r.Float64(), 3+r.IntN(20), r.IntN(4))
			switch r.IntN(3) {
			case 0:
				p = rect("rect", 0.02+r.Float64(), 0.02+r.Float64()*0.5, r.IntN(4))
				if w, h := p.Outline[2][0], p.Outline[2][1]; r.IntN(2) == 0 {
					p.Holes = [][][2]float64{{{w / 4, h / 4}, {w / 4, h * 3 / 4}, {w * 3 / 4, h * 3 / 4}, {w * 3 / 4, h / 4}}}
				}
			case 1:
				p = crescent("plank", 0.2+r.Float64(), 0.3*r.Float64(), 0.03+0.1*r.Float64(), 0.02, 8+r.IntN(20), r.IntN(4))
			}
			p.MayFlip, p.Grain = r.IntN(2) == 0, Grain(r.IntN(2))
			if _, err := p.shape(stock); err == nil {
				parts = append(parts, p)
			}
		}
		got, err := Pack(context.Background(), parts, stock, nil, Options{Seed: 1, Effort: 0.002})
		if err != nil {
			t.Fatal(err)
		}
		whole(t, parts, stock, got)
	})
}

// TestSameSeed: the same layout on one core and on several, and another for another seed.
func TestSameSeed(t *testing.T) {
	parts := jigsaw(rand.New(rand.NewPCG(1, 1)), 2.44, 1.22, 14, 0.5)
	pack := func(cores int, seed uint64) []Placement {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		r, err := Pack(context.Background(), parts, bare(2.44, 1.22), nil, Options{Seed: seed, Effort: 0.1})
		if err != nil {
			t.Fatal(err)
		}
		return r.Placements
	}
	one := pack(1, 4)
	for _, cores := range []int{2, 7} {
		if !reflect.DeepEqual(one, pack(cores, 4)) {
			t.Errorf("%d cores give another layout", cores)
		}
	}
	if reflect.DeepEqual(one, pack(1, 5)) {
		t.Error("the seed changes nothing")
	}
}

// TestFixed: what the person laid stays, and the rest goes about it.
func TestFixed(t *testing.T) {
	parts := []Part{rect("hatch", 0.6, 0.4, 2), grained(rect("plank", 2, 0.2, 4))}
	fixed := []Placement{{Part: 0, Copy: 1, X: 1.2, Y: 0.3, Angle: 0.3}, {Part: 1, Copy: 0, X: 0.3, Y: 0.01, Angle: math.Pi / 2, Sheet: 1}}
	fixed[1].X = 1
	parts[1].Outline = [][2]float64{{0, 0}, {1.1, 0}, {1.1, 0.2}, {0, 0.2}}
	r, err := Pack(context.Background(), parts, ply, fixed, Options{Effort: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	whole(t, parts, ply, r)
	kept := 0
	for _, p := range r.Placements {
		for _, f := range fixed {
			if f.Fixed = true; p == f {
				kept++
			}
		}
	}
	if kept != 2 || len(r.Notes) != 1 || !strings.Contains(r.Notes[0], `"plank" (1 of 4) is fixed across the grain`) {
		t.Errorf("%d kept, notes %q", kept, r.Notes)
	}
	for _, c := range []struct {
		name  string
		fixed []Placement
		says  []string
	}{
		{"overlap", []Placement{{Part: 0, X: 0.1, Y: 0.1}, {Part: 1, Copy: 2, X: 0.2, Y: 0.2}}, []string{`"hatch" (1 of 2)`, `"plank" (3 of 4)`, "overlap"}},
		{"too near", []Placement{{Part: 0, X: 0.1, Y: 0.1}, {Part: 0, Copy: 1, X: 0.702, Y: 0.1}}, []string{"2.00 mm nearer than the gap"}},
		{"off the sheet", []Placement{{Part: 0, X: 2.0, Y: 0.1}}, []string{`"hatch"`, "165.0 mm beyond"}},
		{"twice", []Placement{{Part: 0, X: 0.1, Y: 0.1}, {Part: 0, X: 1.1, Y: 0.1}}, []string{"twice"}},
		{"no such part", []Placement{{Part: 7}}, []string{"part 8 of 2"}},
		{"no such copy", []Placement{{Part: 0, Copy: 2}}, []string{"copy 3 of 2"}},
		{"nowhere", []Placement{{Part: 0, X: math.NaN()}}, []string{"not a place"}},
		{"too many sheets", []Placement{{Part: 0, Sheet: 1 << 40}}, []string{"not a place"}},
	} {
		_, err := Pack(context.Background(), parts, ply, c.fixed, Options{Effort: 0.01})
		for _, s := range c.says {
			if err == nil || !strings.Contains(err.Error(), s) {
				t.Errorf("%s: %v does not say %q", c.name, err, s)
			}
		}
	}
}

// TestUnfit: a part too large is named with by how much, and the others are laid.
func TestUnfit(t *testing.T) {
	parts := []Part{rect("keel", 3, 0.1, 2), rect("fits", 1, 1, 1), grained(rect("floor", 1.2, 1.5, 1)), rect("deck", 1.3, 2.5, 1)}
	r, err := Pack(context.Background(), parts, bare(2.44, 1.22), nil, Options{Effort: 0.01})
	if err != nil {
		t.Fatal(err)
	}
	whole(t, parts, bare(2.44, 1.22), r)
	want := []Misfit{{0, 0.56, 0}, {2, 0, 0.28}, {3, 0.06, 0.08}} // 3 - 2.44, 1.5 - 1.22, 2.5 - 2.44 and 1.3 - 1.22
	if len(r.Unfit) != len(want) {
		t.Fatalf("unfit: %+v", r.Unfit)
	}
	for i, m := range r.Unfit {
		w := want[i]
		if m.Part != w.Part || math.Abs(m.OverLength-w.OverLength) > 1e-9 || math.Abs(m.OverWide-w.OverWide) > 1e-9 {
			t.Errorf("%+v, want %+v", m, w)
		}
	}
}

// TestHostile: what makes no sense is refused with a word on where.
func TestHostile(t *testing.T) {
	good := rect("good", 0.5, 0.5, 1)
	shaped := func(pts ...[2]float64) Part { return Part{Name: "bad", Count: 1, Outline: pts} }
	holed := func(hole ...[2]float64) Part {
		p := rect("bad", 1, 1, 1)
		p.Holes = [][][2]float64{hole}
		return p
	}
	many := make([][2]float64, maxPoints+1)
	for _, c := range []struct {
		name  string
		part  Part
		stock Stock
		says  string
	}{
		{"bow tie", shaped([2]float64{0, 0}, [2]float64{1, 1}, [2]float64{1, 0}, [2]float64{0, 1}), ply, "crosses or touches itself"},
		{"spike", shaped([2]float64{0, 0}, [2]float64{1, 0}, [2]float64{2, 0}, [2]float64{1, 0}, [2]float64{1, 1}), ply, "crosses or touches itself"},
		{"not a number", shaped([2]float64{0, 0}, [2]float64{math.NaN(), 0}, [2]float64{0, 1}), ply, "point 2"},
		{"infinite", shaped([2]float64{0, 0}, [2]float64{math.Inf(1), 0}, [2]float64{0, 1}), ply, "point 2"},
		{"two points", shaped([2]float64{0, 0}, [2]float64{1, 0}), ply, "needs three"},
		{"no points", shaped(), ply, "needs three"},
		{"one point thrice", shaped([2]float64{1, 1}, [2]float64{1, 1}, [2]float64{1, 1}), ply, "needs three"},
		{"flat", shaped([2]float64{0, 0}, [2]float64{1, 1}, [2]float64{2, 2}), ply, "itself"},
		{"hairline", shaped([2]float64{0, 0}, [2]float64{1, 0}, [2]float64{0.5, 1e-10}), ply, "no area"},
		{"too many points", shaped(many...), ply, "thin them out"},
		{"hole outside", holed([2]float64{2, 2}, [2]float64{3, 2}, [2]float64{3, 3}), ply, "outside the outline"},
		{"hole across the edge", holed([2]float64{0.5, 0.5}, [2]float64{2, 0.5}, [2]float64{0.5, 0.8}), ply, "meets the outline"},
		{"negative count", Part{Name: "bad", Count: -1, Outline: good.Outline}, ply, "count -1"},
		{"huge count", Part{Name: "bad", Count: 1 << 40, Outline: good.Outline}, ply, "count"},
		{"thicker", Part{Name: "bad", Count: 1, Outline: good.Outline, Thickness: 0.009}, Stock{Length: 2, Width: 1, Thickness: 0.006}, "9 mm thick and the sheet 6 mm"},
		{"no grain", Part{Name: "bad", Count: 1, Outline: good.Outline, Grain: 9}, ply, "grain 9"},
		{"no sheet", good, Stock{}, "length 0 m is not a size"},
		{"negative gap", good, Stock{Length: 2, Width: 1, Gap: -1}, "gap -1 m"},
		{"sheet not a number", good, Stock{Length: math.NaN(), Width: 1}, "length"},
		{"all margin", good, Stock{Length: 2, Width: 1, Margin: 0.5}, "leaves nothing"},
	} {
		_, err := Pack(context.Background(), []Part{good, c.part}, c.stock, nil, Options{Effort: 0.01})
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v does not say %q", c.name, err, c.says)
		}
	}
	for _, parts := range [][]Part{nil, {rect("none", 1, 1, 0)}} {
		if r, err := Pack(context.Background(), parts, ply, nil, Options{}); err != nil || r.Sheets != 0 || r.Waste != 0 {
			t.Errorf("nothing to lay: %+v, %v", r, err)
		}
	}
}

// TestStopping: cancelling is an error, a deadline gives the best so far, progress grows.
func TestStopping(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	ctx, cancel := context.WithCancel(context.Background())
	last := 0.0
	_, err := Pack(ctx, boat(), ply, nil, Options{Progress: func(share float64, sheets int) {
		if share < last || share > 1 || sheets < 3 {
			t.Errorf("progress went from %g to %g, %d sheets", last, share, sheets)
		}
		if last = share; share > 0.05 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) || last == 0 {
		t.Errorf("cancelled at %g: %v", last, err)
	}
	// A deadline after the first layout, however slow the machine is, and long before so much work is done.
	parts := boat()
	start := time.Now()
	if _, err := Pack(context.Background(), parts, ply, nil, Options{Effort: 1e-3}); err != nil {
		t.Fatal(err)
	}
	late, done := context.WithTimeout(context.Background(), 3*time.Since(start)+time.Second)
	defer done()
	r, err := Pack(late, parts, ply, nil, Options{Effort: 1e6})
	if err != nil || !r.Stopped {
		t.Fatalf("stopped %v, %v", r.Stopped, err)
	}
	whole(t, parts, ply, r)
}
