package cuts

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

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
		if r.source == "" {
			t.Errorf("%s: no source", r.name)
		}
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s: got %.12g, want %.12g within %g (%s)", r.name, r.got, r.want, r.tol, r.source)
		}
	}
}

func TestMoments(t *testing.T) {
	trapezoid := Outline([]Point{{0, 0}, {6, 0.3}, {6, 0.7}, {0, 1}})
	a, my, _ := trapezoid.Moments()
	turned := Outline([]Point{{6, 0.7}, {6, 0.3}, {0, 0}, {0, 1}})
	b, ty, _ := turned.Moments()
	const src = "centroid of a trapezoid, h(a + 2b) / 3(a + b), closed form"
	run(t, []check{
		{"area", a, 4.2, 1e-12, src},
		{"centroid", my / a, 2.571428571, 1e-9, src},
		{"the same, started elsewhere and run the other way", ty / b, my / a, 1e-12, "property: the start and the sense do not matter"},
	})
}

func TestJoining(t *testing.T) {
	a := Rectangle(0, 0, 2, 1)
	const src = "rectangles, arithmetic"
	for _, c := range []struct {
		name              string
		b                 Section
		union, both, less float64
	}{
		{"across a corner", Rectangle(1, 0.5, 3, 2), 4.5, 0.5, 1.5},
		{"standing on it", Rectangle(0.5, 1, 1.5, 2), 3, 0, 2},
		{"standing on it, flush", Rectangle(0, 1, 2, 2), 4, 0, 2},
		{"within", Rectangle(0.5, 0.25, 1.5, 0.75), 2, 0.5, 1.5},
		{"within, a side shared", Rectangle(0.5, 0.5, 1.5, 1), 2, 0.5, 1.5},
		{"about it", Rectangle(-1, -1, 3, 3), 16, 2, 0},
		{"the same", Rectangle(0, 0, 2, 1), 2, 2, 0},
		{"apart", Rectangle(5, 5, 6, 6), 3, 0, 2},
		{"touching at a corner", Rectangle(2, 1, 3, 2), 3, 0, 2},
		{"nothing", nil, 2, 0, 2},
	} {
		run(t, []check{
			{c.name + ": union", Union(a, c.b).Area(), c.union, 1e-12, src},
			{c.name + ": union, the other way", Union(c.b, a).Area(), c.union, 1e-12, src},
			{c.name + ": intersection", Intersection(a, c.b).Area(), c.both, 1e-12, src},
			{c.name + ": difference", Difference(a, c.b).Area(), c.less, 1e-12, src},
		})
	}
}

// blob draws a star-shaped outline about a centre.
func blob(t *rapid.T, name string) Section {
	n := rapid.IntRange(3, 14).Draw(t, name)
	cy, cz := rapid.Float64Range(-1, 1).Draw(t, name+"y"), rapid.Float64Range(-1, 1).Draw(t, name+"z")
	var loop []Point
	for i := range n {
		r := rapid.Float64Range(0.2, 1.5).Draw(t, name+"r")
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		loop = append(loop, Point{cy + r*c, cz + r*s})
	}
	return Outline(loop)
}

// TestJoiningAddsUp is the rule of inclusion and exclusion on any two outlines.
func TestJoiningAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := blob(t, "a"), blob(t, "b")
		both := Intersection(a, b).Area()
		if got, want := Union(a, b).Area(), a.Area()+b.Area()-both; math.Abs(got-want) > 1e-7 {
			t.Fatalf("union %.9f, want %.9f", got, want)
		}
		if got, want := Difference(a, b).Area(), a.Area()-both; math.Abs(got-want) > 1e-7 {
			t.Fatalf("difference %.9f, want %.9f", got, want)
		}
	})
}

// TestJoiningAtTheLastDigit: wells that share a height are taken out of one another and cut along that
// height, where every corner is off by some rounding of its own. What comes out adds up, and nothing is turned inside out.
//
// Source: rectangles, closed form
func TestJoiningAtTheLastDigit(t *testing.T) {
	for _, z := range []float64{0.42, 0.43, 0.44, 0.45, 0.1, 0.7} {
		for i := range 200 {
			off := func(k int) float64 { return float64((i>>(2*k))%4-1) * 6e-17 }
			hull := Rectangle(-1, 0, 1, 1)
			well := Rectangle(-0.6, z+off(0), 0.6, 2)
			foot := Rectangle(-0.18+off(1), z-0.08, 0.18, z+off(2))
			left := Difference(Difference(hull, well), foot)
			if got, want := left.Area(), 2-1.2*(1-z)-0.36*0.08; math.Abs(got-want) > 1e-9 {
				t.Fatalf("at %g, %d: %.12f left, want %.12f", z, i, got, want)
			}
			pocket := Intersection(left, Rectangle(-50, z+off(3), -0.6, 50))
			if got, want := pocket.Area(), 0.4*(1-z); math.Abs(got-want) > 1e-9 {
				t.Fatalf("at %g, %d: a pocket of %.12f, want %.12f", z, i, got, want)
			}
		}
	}
}

// TestJoiningAgainstDots counts dots, slowly and obviously.
func TestJoiningAgainstDots(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 12 {
		var loops [2][]Point
		for k := range loops {
			cy, cz := r.Float64()*0.6, r.Float64()*0.6
			for i := range 9 {
				s, c := math.Sincos(2 * math.Pi * float64(i) / 9)
				d := 0.3 + 0.7*r.Float64()
				loops[k] = append(loops[k], Point{cy + d*c, cz + d*s})
			}
		}
		a, b := Outline(loops[0]), Outline(loops[1])
		const n = 300
		var union, both, less float64
		for i := range n {
			for j := range n {
				p := Point{-1.2 + 3*(float64(i)+0.5)/n, -1.2 + 3*(float64(j)+0.5)/n}
				dot := Edge{A: p, B: Point{p.Y + 1e-7, p.Z + 1.3e-7}}
				ina, inb := a.lies(dot) == inside, b.lies(dot) == inside
				area := 9.0 / (n * n)
				if ina || inb {
					union += area
				}
				if ina && inb {
					both += area
				}
				if ina && !inb {
					less += area
				}
			}
		}
		const src = "counting dots, own slow twin"
		run(t, []check{
			{"union", Union(a, b).Area(), union, 0.02, src},
			{"intersection", Intersection(a, b).Area(), both, 0.02, src},
			{"difference", Difference(a, b).Area(), less, 0.02, src},
		})
	}
}

// hull is an arbitrary solid of changing outline.
func hull() *Stack {
	var nodes []Node
	for _, s := range Along([]float64{0, 2, 5}, 0.5, 3, true, false) {
		k := math.Sqrt(s.X / 5)
		nodes = append(nodes, Node{s.X, s.Weight, Outline([]Point{{0, 0.1}, {0.6 * k, 0.3}, {0.8 * k, 0.9}, {0.2 * k, 1.2}, {-0.2 * k, 1.2}, {-0.8 * k, 0.9}, {-0.6 * k, 0.3}})})
	}
	return NewStack(nodes)
}

// clipped is the slow obvious twin of Below's area: cut the loop, close it, take the shoelace sum.
func clipped(loop []Point, p Plane, x float64) (area, my, mz float64) {
	h := p.Level + p.Slope*x
	height := func(q Point) float64 { return q.Z*p.Cos - q.Y*p.Sin - h }
	var out []Point
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		ha, hb := height(a), height(b)
		if ha < 0 {
			out = append(out, a)
		}
		if (ha < 0) != (hb < 0) {
			f := ha / (ha - hb)
			out = append(out, Point{a.Y + f*(b.Y-a.Y), a.Z + f*(b.Z-a.Z)})
		}
	}
	for i, a := range out {
		b := out[(i+1)%len(out)]
		c := a.Y*b.Z - b.Y*a.Z
		area += c / 2
		my += c * (a.Y + b.Y) / 6
		mz += c * (a.Z + b.Z) / 6
	}
	return area, my, mz
}

func TestBelowAgainstClipping(t *testing.T) {
	s := hull()
	rapid.Check(t, func(rt *rapid.T) {
		p := Plane{Level: rapid.Float64Range(-1, 2).Draw(rt, "level"), Slope: rapid.Float64Range(-0.4, 0.4).Draw(rt, "slope")}
		p.Sin, p.Cos = math.Sincos(rapid.Float64Range(-4, 4).Draw(rt, "heel"))
		var v, vx, across, up float64
		i := 0
		s.Each(func(x float64, runs [][]Point) {
			a, my, mz := clipped(runs[0][:len(runs[0])-1], p, x)
			w := s.cuts[i].weight
			i++
			v += w * a
			vx += w * a * x
			across += w * (my*p.Cos + mz*p.Sin)
			up += w * (mz*p.Cos - my*p.Sin)
		})
		m := s.Below(p)
		for _, d := range []float64{m.Volume - v, m.X - vx, m.Across - across, m.Up - up} {
			if math.Abs(d) > 1e-9 {
				rt.Fatalf("%+v: off by %g", p, d)
			}
		}
		// What lies below a plane and below the same plane turned over make the whole.
		o := s.Below(Plane{Sin: -p.Sin, Cos: -p.Cos, Level: -p.Level, Slope: -p.Slope})
		if d := m.Volume + o.Volume - s.Volume(); math.Abs(d) > 1e-9 {
			rt.Fatalf("%+v: both sides miss the whole by %g", p, d)
		}
	})
}

// TestSlopesOfBelow checks the waterplane's figures against differences.
func TestSlopesOfBelow(t *testing.T) {
	s := hull()
	const d = 1e-6
	for _, heel := range []float64{0, 0.4, 1.9} {
		at := func(level, slope float64) Sums {
			p := Plane{Level: level, Slope: slope}
			p.Sin, p.Cos = math.Sincos(heel)
			return s.Below(p)
		}
		m := at(0.31, 0.03)
		a, b := at(0.31+d, 0.03), at(0.31-d, 0.03)
		e, f := at(0.31, 0.03+d), at(0.31, 0.03-d)
		const src = "central difference of the volumes; the waterplane's area is dV/dlevel, closed form"
		run(t, []check{
			{"dV/dlevel", (a.Volume - b.Volume) / (2 * d), m.Breadth, 1e-7, src},
			{"dX/dlevel", (a.X - b.X) / (2 * d), m.BreadthX, 1e-6, src},
			{"dAcross/dlevel", (a.Across - b.Across) / (2 * d), m.Offset, 1e-7, src},
			{"dV/dslope", (e.Volume - f.Volume) / (2 * d), m.BreadthX, 1e-6, src},
			{"dX/dslope", (e.X - f.X) / (2 * d), m.BreadthXX, 1e-6, src},
		})
	}
}

func TestAlong(t *testing.T) {
	integral := func(at []Station, f func(x float64) float64) (sum float64) {
		for _, s := range at {
			sum += s.Weight * f(s.X)
		}
		return sum
	}
	const src = "integral of a power and of a root, closed form"
	quintic := func(x float64) float64 { return math.Pow(x, 5) }
	root := math.Sqrt
	both := func(x float64) float64 { return math.Sqrt(x * (4 - x)) }
	run(t, []check{
		{"fifth power", integral(Along([]float64{0, 1, 4}, 3, 3, false, false), quintic), math.Pow(4, 6) / 6, 1e-9, src},
		{"breaks out of order and doubled", integral(Along([]float64{4, 1, 0, 4, 1}, 3, 3, false, false), quintic), math.Pow(4, 6) / 6, 1e-9, src},
		{"a root, end closed", integral(Along([]float64{0, 4}, 1, 3, true, false), root), 16.0 / 3, 2e-5, src},
		{"a half circle, ends closed", integral(Along([]float64{0, 4}, 0.25, 3, true, true), both), 2 * math.Pi, 1e-5, src},
	})
	if Along([]float64{1}, 1, 3, false, false) != nil {
		t.Error("one break gave nodes")
	}
}

func BenchmarkUnion(b *testing.B) {
	p, q := Rectangle(0, 0, 2, 1), Rectangle(1, 0.5, 3, 2)
	b.ReportAllocs()
	for b.Loop() {
		Union(p, q)
	}
}

func BenchmarkBelow(b *testing.B) {
	s := hull()
	p := Plane{Cos: 1, Level: 0.5}
	b.ReportAllocs()
	for b.Loop() {
		s.Below(p)
	}
}
