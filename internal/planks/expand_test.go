package planks

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
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

func laid(t testing.TB, grid [][]r3.Vec) Flat {
	t.Helper()
	f, err := Expand(grid)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// strip makes a grid of n rows of m points between two curves over 0 to 1.
func strip(n, m int, lower, upper func(f float64) r3.Vec) [][]r3.Vec {
	g := make([][]r3.Vec, n)
	for i := range g {
		f := float64(i) / float64(n-1)
		for j := range m {
			g[i] = append(g[i], mix(lower(f), upper(f), float64(j)/float64(m-1)))
		}
	}
	return g
}

// on a circle about the z axis.
func ring(r, z, x0 float64) func(f float64) r3.Vec {
	return func(f float64) r3.Vec {
		s, c := math.Sincos(2 * math.Pi * f)
		return r3.Vec{X: x0 + r*c, Y: r * s, Z: z}
	}
}

func still(p r3.Vec) func(float64) r3.Vec { return func(float64) r3.Vec { return p } }

// opened is the sum of the angles at p between neighbouring rows' points.
func opened(f Flat, from, to, apex, rim int) float64 {
	var s float64
	for i := from; i < to; i++ {
		a, b, c := f.Points[i][apex], f.Points[i][rim], f.Points[i+1][rim]
		ux, uy, vx, vy := b[0]-a[0], b[1]-a[1], c[0]-a[0], c[1]-a[1]
		s += math.Abs(math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy))
	}
	return s
}

func flatLength(points [][2]float64) float64 {
	var s float64
	for i := 1; i < len(points); i++ {
		s += math.Hypot(points[i][0]-points[i-1][0], points[i][1]-points[i-1][1])
	}
	return s
}

func TestDevelopables(t *testing.T) {
	const deg = 180 / math.Pi
	const n = 20001
	const src = "development of cones and cylinders, closed form"
	cone := laid(t, strip(n, 2, ring(1, 0, 0), still(r3.Vec{Z: 2.4})))
	frustum := laid(t, strip(n, 3, ring(1, 0, 0), ring(0.4, 1.5, 0)))
	oblique := laid(t, strip(n, 2, ring(1, 0, 0.8), still(r3.Vec{Z: 2})))
	cylinder := laid(t, strip(n, 2, ring(1, 0, 0), func(f float64) r3.Vec {
		p := ring(1, 0, 0)(f)
		p.Z = 2 + math.Cos(2*math.Pi*f)
		return p
	}))
	run(t, []check{
		{"cone: angle", opened(cone, 0, n-1, 1, 0) * deg, 138.461538462, 1e-6, src},
		{"cone: area", cone.AreaFlat, 8.168140899, 1e-6, src},
		{"cone: true area", cone.AreaTrue, 8.168140899, 1e-6, src},
		{"cone: stretch", cone.Stretch.Max, 0, 1e-7, "isometry"},
		{"frustum: area", frustum.AreaFlat, 7.105557563, 1e-6, src},
		{"frustum: slant", math.Hypot(frustum.Points[5][2][0]-frustum.Points[5][0][0], frustum.Points[5][2][1]-frustum.Points[5][0][1]), 1.615549442, 1e-9, src},
		{"frustum: lower edge", flatLength(frustum.Edges[0].Points), 2 * math.Pi, 1e-6, src},
		{"frustum: hardest bend, at the small end", frustum.Hardest.Curvature, 1.5 / 1.615549442 / 0.4, 1e-6, "curvature of a cone, slant height over height and radius, closed form"},
		{"frustum: bend up the slant", frustum.Across.Curvature, 0, 1e-6, src},
		{"oblique cone: 0 to 90", opened(oblique, 0, (n-1)/4, 1, 0) * deg, 34.018872, 1e-6, src},
		{"oblique cone: 90 to 180", opened(oblique, (n-1)/4, (n-1)/2, 1, 0) * deg, 40.684848, 1e-6, src},
		{"oblique cone: all", opened(oblique, 0, n-1, 1, 0) * deg, 149.407440, 2e-6, src},
		{"oblique cone: area", oblique.AreaFlat, 7.204446597, 1e-6, src},
		{"cut cylinder: edge", flatLength(cylinder.Edges[2].Points), 7.640395578, 1e-6, "perimeter of the ellipse 1 × √2, closed form"},
		{"cut cylinder: radius", cylinder.Along.Radius(), 1, 1e-6, src},
	})
	for _, i := range []int{0, n / 4, n / 3, n - 1} { // the edge is y = cos u
		u := 2 * math.Pi * float64(i) / (n - 1)
		run(t, []check{
			{"cut cylinder: height of the edge", cylinder.Points[i][1][1], 2 + math.Cos(u), 1e-6, src},
			{"cut cylinder: place along", cylinder.Points[i][1][0], u, 1e-6, src},
		})
	}
}

func TestFrustumSector(t *testing.T) {
	const n = 20001
	f := laid(t, strip(n, 2, ring(1, 0, 0), ring(0.4, 1.5, 0)))
	// where the two end rulings meet, and at what angle
	a, b, c, d := f.Points[0][0], f.Points[0][1], f.Points[n-1][0], f.Points[n-1][1]
	ux, uy, vx, vy := b[0]-a[0], b[1]-a[1], d[0]-c[0], d[1]-c[1]
	s := ((c[0]-a[0])*vy - (c[1]-a[1])*vx) / (ux*vy - uy*vx)
	apex := [2]float64{a[0] + s*ux, a[1] + s*uy}
	turned := 2*math.Pi - math.Abs(math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy))
	if turned > math.Pi {
		turned = 2*math.Pi - turned
	}
	const src = "development of a frustum, closed form"
	run(t, []check{
		{"outer radius", math.Hypot(apex[0]-a[0], apex[1]-a[1]), 2.692582404, 1e-6, src},
		{"inner radius", math.Hypot(apex[0]-b[0], apex[1]-b[1]), 1.077032961, 1e-6, src},
		{"angle", turned * 180 / math.Pi, 133.700643, 1e-6, src},
	})
}

// saddle is z = .1xy over the unit square.
func saddle(n, m int) [][]r3.Vec {
	return strip(n, m, func(f float64) r3.Vec { return r3.Vec{X: f} }, func(f float64) r3.Vec { return r3.Vec{X: f, Y: 1, Z: 0.1 * f} })
}

func TestSaddle(t *testing.T) {
	two, many := laid(t, saddle(21, 2)), laid(t, saddle(21, 21))
	const src = "normals of z = xy/10, closed form"
	// Gauss's curvature is -1/100 near the corner; a square of side 1 with constant curvature
	// K strains by the order of K/24
	run(t, []check{
		{"twist of the first ruling", two.Rulings[0] * 180 / math.Pi, 5.710593, 1e-6, src},
		{"the same from many points", many.Rulings[0] * 180 / math.Pi, 5.710593, 1e-6, src},
		{"twist per metre at the corner's neighbour", many.Twist.Rate, 0.1, 1e-3, "mixed second derivative, closed form"},
		{"true area", many.AreaTrue, 1.0033256, 1e-5, "∫∫√(1+(x²+y²)/100) = 1 + (2/3)/200 - (28/45)/80000, its series; the step's square over the radius is 3e-6"},
	})
	for _, f := range []Flat{two, many} {
		if s := math.Abs(f.Stretch.Max); s < 1e-5 || s > 0.01/4 {
			t.Errorf("a saddle of curvature -0.01 stretches by the order of 0.01/24, not by %g", s)
		}
		if math.Abs(f.AreaFlat/f.AreaTrue-1) > 1e-4 {
			t.Errorf("flat area %g, true %g", f.AreaFlat, f.AreaTrue)
		}
	}
}

// dome is a square patch of a sphere about its pole.
func dome(n int, radius, half float64) [][]r3.Vec {
	g := make([][]r3.Vec, n)
	for i := range g {
		for j := range n {
			x := radius * math.Tan(half*(2*float64(i)/float64(n-1)-1))
			y := radius * math.Tan(half*(2*float64(j)/float64(n-1)-1))
			g[i] = append(g[i], r3.Scale(radius, unit(r3.Vec{X: x, Y: y, Z: radius})))
		}
	}
	return g
}

func TestDome(t *testing.T) {
	one, big := laid(t, dome(21, 1, 0.1)), laid(t, dome(21, 3, 0.1))
	turned := make([][]r3.Vec, 21)
	mirror := make([][]r3.Vec, 21)
	for i, row := range dome(21, 1, 0.1) {
		for j, p := range row {
			turned[j] = append(turned[j], r3.Vec{X: p.X, Y: p.Y, Z: p.Z})
			mirror[i] = append(mirror[i], r3.Vec{X: p.X, Y: -p.Y, Z: p.Z})
		}
	}
	across, other := laid(t, turned), laid(t, mirror)
	run(t, []check{
		{"sphere: bend along", one.Along.Curvature, 1, 5e-3, "a sphere's curvature; the step is a hundredth of the radius and the rows of the grid are great circles"},
		{"sphere: bend across", one.Across.Curvature, 1, 5e-3, "a sphere's curvature"},
		{"sphere: twist", one.Twist.Rate, 0, 5e-3, "a sphere does not twist"},
		{"three times as large: stretch", big.Stretch.Max, one.Stretch.Max, 1e-7, "scaling"},
		{"three times as large: length", big.Length, 3 * one.Length, 1e-7, "scaling"},
		{"three times as large: bend", big.Hardest.Curvature, one.Hardest.Curvature / 3, 1e-9, "scaling"},
		{"rows for columns: stretch", across.Stretch.Max, one.Stretch.Max, 1e-7, "symmetry"},
		{"mirrored: stretch", other.Stretch.Max, one.Stretch.Max, 1e-7, "symmetry"},
		{"mirrored: width", other.Width, one.Width, 1e-7, "symmetry"},
	})
	// shrunk at the rim and stretched in the middle, by the order of K·r²/8
	if s := math.Abs(one.Stretch.Max); s < 0.0005 || s > 0.01 {
		t.Errorf("stretch %g", s)
	}
	if one.Stretch.Mean > math.Abs(one.Stretch.Max) {
		t.Errorf("the mean stretch %g is more than the greatest %g", one.Stretch.Mean, one.Stretch.Max)
	}
}

// TestIsometry: no length of a developable changes, wherever the grid lies on it.
func TestIsometry(t *testing.T) {
	// a cylinder's patch whose rows are helices, not rulings
	g := make([][]r3.Vec, 200)
	for i := range g {
		for j := range 9 {
			u := 0.01*float64(i) + 0.02*float64(j)
			s, c := math.Sincos(u)
			g[i] = append(g[i], r3.Vec{X: 0.02 * float64(j), Y: c, Z: s})
		}
	}
	f := laid(t, g)
	run(t, []check{
		{"stretch", f.Stretch.Max, 0, 2e-4, "isometry; a mesh turns by 0.03 and so falls short of the skin by the order of 0.03²/24 on one diagonal, not on the other"},
		{"area", f.AreaFlat, 0.16 * 1.99, 1e-5, "parallelogram, closed form"},
		{"bend", f.Hardest.Radius(), 1, 1e-3, "a cylinder's radius"},
	})
	for i := 1; i < len(g); i++ {
		for j := range g[i] {
			l := math.Hypot(f.Points[i][j][0]-f.Points[i-1][j][0], f.Points[i][j][1]-f.Points[i-1][j][1])
			if math.Abs(l-dist(g[i][j], g[i-1][j])) > 1e-7 {
				t.Fatalf("the side at %d %d is %g, on the flat %g", i, j, dist(g[i][j], g[i-1][j]), l)
			}
		}
	}
}

func TestRefused(t *testing.T) {
	p := func(x, y float64) r3.Vec { return r3.Vec{X: x, Y: y} }
	for name, bad := range map[string]struct {
		grid [][]r3.Vec
		want error
	}{
		"nothing":   {nil, ErrFew},
		"one row":   {[][]r3.Vec{{p(0, 0), p(1, 0)}}, ErrFew},
		"one point": {[][]r3.Vec{{p(0, 0)}, {p(1, 0)}}, ErrFew},
		"ragged":    {[][]r3.Vec{{p(0, 0), p(0, 1)}, {p(1, 0)}}, ErrFew},
		"NaN":       {[][]r3.Vec{{p(0, 0), p(0, 1)}, {p(1, 0), p(1, math.NaN())}}, ErrNumber},
		"infinite":  {[][]r3.Vec{{p(0, 0), p(0, 1)}, {p(1, 0), p(1, math.Inf(1))}}, ErrNumber},
		"a point":   {[][]r3.Vec{{p(1, 1), p(1, 1)}, {p(1, 1), p(1, 1)}}, ErrNothing},
		"a line":    {[][]r3.Vec{{p(0, 0), p(0, 0)}, {p(1, 0), p(1, 0)}}, ErrNothing},
	} {
		if _, err := Expand(bad.grid); err != bad.want {
			t.Errorf("%s: %v, want %v", name, err, bad.want)
		}
	}
	// sides of no length: a triangle, and a row given twice
	f := laid(t, [][]r3.Vec{{p(0, 0), p(0, 0)}, {p(0, 0), p(0, 0)}, {p(1, 0), p(1, 2)}, {p(1, 0), p(1, 2)}, {p(2, 0), p(2, 2)}})
	run(t, []check{{"a pointed end and a row twice: area", f.AreaFlat, 3, 1e-9, "closed form"}})
}

// TestBand: a narrow band about a sphere's equator, laid flat. Its edges are shorter than its middle by
// b²/2R²; free to shrink across, it takes the mean length, L(1 - b²/6R²).
func TestBand(t *testing.T) {
	const half, rows, points = 0.1, 81, 21
	g := make([][]r3.Vec, rows)
	for i := range g {
		s, c := math.Sincos(1.2 * float64(i) / (rows - 1))
		for j := range points {
			sl, cl := math.Sincos(half * (2*float64(j)/(points-1) - 1))
			g[i] = append(g[i], r3.Vec{X: s * cl, Y: sl, Z: c * cl})
		}
	}
	f := laid(t, g)
	const src = "longitudinal strain of a flattened equatorial band, closed form to b²; b⁴ is 1e-4"
	mid := rows / 2
	strain := func(j int) float64 {
		l := math.Hypot(f.Points[mid+1][j][0]-f.Points[mid][j][0], f.Points[mid+1][j][1]-f.Points[mid][j][1])
		return dist(g[mid+1][j], g[mid][j])/l - 1
	}
	run(t, []check{
		{"greatest change, at the edges", f.Stretch.Max, -half * half / 3, 1e-4, src},
		{"along the edge", strain(0), -half * half / 3, 1e-4, src},
		{"along the middle", strain(points / 2), half * half / 6, 1e-4, src},
		{"straight", f.Width, 2 * half, 1e-3, "symmetry: the band's flat shape is straight, its ends bow a little"},
	})
}

// TestOrder: twice the points, a quarter of the error.
func TestOrder(t *testing.T) {
	miss := func(n int) float64 {
		return math.Abs(laid(t, strip(n+1, 2, ring(1, 0, 0), still(r3.Vec{Z: 2.4}))).AreaFlat - 8.168140899333462)
	}
	run(t, []check{{"error at 200 over error at 400", miss(200) / miss(400), 4, 0.01, "second order; cone's sector π·1·2.6, closed form"}})
}
