package nesting

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// squares are parts of the given sides.
func squares(sides ...float64) []Part {
	var parts []Part
	for _, s := range sides {
		parts = append(parts, rect(fmt.Sprintf("square %g", s), s, s, 1))
	}
	return parts
}

// grained is a part that must lie along the sheet.
func grained(p Part) Part {
	p.Grain = Along
	return p
}

// TestKnownBest: layouts whose least number of sheets is known.
func TestKnownBest(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	for _, r := range []struct {
		name   string
		parts  []Part
		stock  Stock
		bound  int // what the bound must at least prove
		sheets int
		source string
	}{
		{"eight squares fill a sheet", []Part{rect("a", 0.61, 0.61, 8)}, bare(2.44, 1.22), 1, 1, "4 x 2 squares of 610 mm"},
		{"nine do not", []Part{rect("a", 0.61, 0.61, 9)}, bare(2.44, 1.22), 2, 2, "nine eighths of a sheet"},
		{"strips fill a sheet", []Part{grained(rect("a", 2.44, 0.305, 4))}, bare(2.44, 1.22), 1, 1, "4 x 305 = 1220"},
		{"a kerf costs a strip", []Part{grained(rect("a", 2.44, 0.305, 4))}, Stock{Length: 2.44, Width: 1.22, Gap: 0.003}, 2, 2,
			"4 x 305 + 3 x 3 = 1229 mm"},
		{"strips with their kerfs", []Part{grained(rect("a", 2.4, 0.299, 4))}, Stock{Length: 2.44, Width: 1.22, Gap: 0.003, Margin: 0.0075}, 1, 1,
			"4 x 299 + 3 x 3 = 1205 = 1220 - 2 x 7.5 mm"},
		{"long parts keep apart", []Part{grained(rect("a", 1.3, 0.5, 5))}, bare(2.44, 1.22), 3, 3,
			"two at most cross the middle line of 1.22 m; by area two sheets would do"},
		{"tall parts keep apart", []Part{grained(rect("a", 0.9, 0.7, 5))}, bare(2.44, 1.22), 3, 3,
			"two at most cross the middle line of 2.44 m; by area two sheets would do"},
		{"turned to fit", []Part{rect("a", 1.2, 2.4, 2)}, bare(2.44, 1.22), 2, 2, "each is nearly a sheet"},
		{"two wedges make a square", []Part{{Name: "wedge", Count: 2, Outline: [][2]float64{{0, 0}, {1, 0}, {0, 1}}}}, bare(1, 1), 1, 1,
			"cut along the diagonal"},
		{"nine squares fill a rectangle", squares(18, 15, 14, 10, 9, 8, 7, 4, 1), bare(33, 32), 1, 1,
			"Moron's squared rectangle, Przeglad Matematyczno-Fizyczny 3 (1925); from memory, the areas add up to 33 x 32"},
		{"a piece from a hole", []Part{{Name: "ring", Count: 1, Outline: [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}},
			Holes: [][][2]float64{{{0.2, 0.2}, {0.8, 0.2}, {0.8, 0.8}, {0.2, 0.8}}}}, rect("lid", 0.559, 0.559, 1)},
			Stock{Length: 1, Width: 1, Gap: 0.02}, 1, 1, "559 + 2 x 20 = 599 mm, the hole has 600"},
		{"a piece that the hole is too small for", []Part{{Name: "ring", Count: 1, Outline: [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}},
			Holes: [][][2]float64{{{0.2, 0.2}, {0.8, 0.2}, {0.8, 0.8}, {0.2, 0.8}}}}, rect("lid", 0.562, 0.562, 1)},
			Stock{Length: 1, Width: 1, Gap: 0.02}, 1, 2, "562 + 2 x 20 = 602 mm, the hole has 600"},
	} {
		got, err := Pack(context.Background(), r.parts, r.stock, nil, Options{Seed: 1, Effort: 0.2})
		if err != nil {
			t.Errorf("%s: %v", r.name, err)
			continue
		}
		if got.Sheets != r.sheets || got.Bound.Sheets < r.bound || got.Bound.Sheets > r.sheets {
			t.Errorf("%s: %d sheets, bound %+v; want %d, bound %d (%s)", r.name, got.Sheets, got.Bound, r.sheets, r.bound, r.source)
		}
	}
}

// TestPlanksLieInEachOther: planks whose edges are the same curve, shifted square to the
// sheet's length by the plank's width, stack at that width; their boxes would not.
func TestPlanksLieInEachOther(t *testing.T) {
	const rise, width = 0.2, 0.12
	n := int(math.Floor((1.22 - rise) / width)) // closed form: rise + n widths go into the sheet
	boxes := int(math.Floor(1.22 / (rise + width)))
	p := crescent("plank", 2.4, rise, width, width, 60, n)
	r, err := Pack(context.Background(), []Part{p}, bare(2.44, 1.22), nil, Options{Effort: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	if n <= boxes || r.Sheets != 1 {
		t.Errorf("%d planks take %d sheets; by their boxes only %d go on one", n, r.Sheets, boxes)
	}
	p.Count++
	if r, err = Pack(context.Background(), []Part{p}, bare(2.44, 1.22), nil, Options{Effort: 0.05}); err != nil || r.Sheets != 2 {
		t.Errorf("one more plank: %d sheets, %v; want 2", r.Sheets, err)
	}
}

// jigsaw cuts a sheet into n pieces by straight cuts; slant lets them lie askew.
func jigsaw(r *rand.Rand, length, width float64, n int, slant float64) []Part {
	pieces := [][]point{{{0, 0}, {length, 0}, {length, width}, {0, width}}}
	for len(pieces) < n {
		big := 0
		for i, p := range pieces {
			if area(p) > area(pieces[big]) {
				big = i
			}
		}
		b := around(pieces[big])
		mid := point{b.x0 + (b.x1-b.x0)*(0.35+0.3*r.Float64()), b.y0 + (b.y1-b.y0)*(0.35+0.3*r.Float64())}
		normal := point{1, slant * (r.Float64() - 0.5)}
		if b.y1-b.y0 > b.x1-b.x0 {
			normal = point{normal.y, 1}
		}
		left, right := split(pieces[big], mid, normal)
		pieces[big] = left
		pieces = append(pieces, right)
	}
	var parts []Part
	for i, p := range pieces {
		raw := make([][2]float64, len(p))
		for k, v := range p {
			raw[k] = [2]float64{v.x, v.y}
		}
		parts = append(parts, Part{Name: fmt.Sprint("piece ", i+1), Count: 1, Grain: Along, Outline: raw})
	}
	return parts
}

// split cuts a convex ring along a line.
func split(ring []point, on, normal point) (left, right []point) {
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		a, b := p.sub(on).dot(normal), q.sub(on).dot(normal)
		if a <= 0 {
			left = append(left, p)
		} else {
			right = append(right, p)
		}
		if a < 0 != (b < 0) {
			t := a / (a - b)
			cut := point{p.x + t*(q.x-p.x), p.y + t*(q.y-p.y)}
			left, right = append(left, cut), append(right, cut)
		}
	}
	return left, right
}

// TestJigsaws: pieces cut from whole sheets go back on as many, or on one more where
// nothing at all may be wasted; on a sheet larger by a twentieth each way they go back.
func TestJigsaws(t *testing.T) {
	if testing.Short() {
		t.Skip("one thing after another: nothing for the race detector")
	}
	for _, c := range []struct {
		name          string
		sheets, parts int
		slant, room   float64
		most          int
		source        string
	}{
		{"straight, exact", 1, 6, 0, 1, 1, "cut from one sheet"},
		{"slanted, exact", 1, 5, 0.5, 1, 2, "cut from one sheet; one more allowed"},
		{"slanted, roomy", 1, 8, 0.5, 1.05, 1, "cut from one sheet, laid on one larger by 5 %"},
		{"two sheets, exact", 2, 6, 0, 1, 3, "cut from two sheets; one more allowed"},
		{"three sheets, roomy", 3, 7, 0.4, 1.08, 3, "cut from three sheets, laid on larger ones"},
	} {
		r := rand.New(rand.NewPCG(3, 9))
		var parts []Part
		for range c.sheets {
			parts = append(parts, jigsaw(r, 2.44, 1.22, c.parts, c.slant)...)
		}
		got, err := Pack(context.Background(), parts, bare(2.44*c.room, 1.22*c.room), nil, Options{Effort: 0.4})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got.Sheets > c.most || got.Bound.Sheets > c.sheets {
			t.Errorf("%s: %d sheets, bound %d; want %d at most (%s)", c.name, got.Sheets, got.Bound.Sheets, c.most, c.source)
		}
		if used := 2.44 * 1.22 * float64(c.sheets); math.Abs(got.Used-used) > 1e-9 {
			t.Errorf("%s: %g m2 used of %g", c.name, got.Used, used)
		}
	}
}

// TestBins: the one-dimensional bound.
func TestBins(t *testing.T) {
	for _, r := range []struct {
		name   string
		items  []float64
		bin    float64
		want   int
		source string
	}{
		{"nothing", nil, 1, 0, "no items"},
		{"halves", []float64{0.5, 0.5, 0.5}, 1, 2, "two to a bin"},
		{"more than halves", []float64{0.6, 0.6, 0.6}, 1, 3, "no two go together; the sum alone says two"},
		{"large and small", []float64{7, 7, 7, 4, 4, 4}, 10, 5, "no 4 goes with a 7; 4 + 4 + 4 > 10: by hand"},
		{"more than thirds", []float64{0.4, 0.4, 0.4, 0.4, 0.4}, 1, 3, "two to a bin; the sum alone says two"},
		{"sum", []float64{3, 3, 3, 3, 3, 3}, 10, 2, "18 of 10; three to a bin"},
	} {
		if got := bins(r.items, r.bin); got != r.want {
			t.Errorf("%s: %d, want %d (%s)", r.name, got, r.want, r.source)
		}
	}
}
